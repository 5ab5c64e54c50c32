//! `book/bare-yes-no`: yes and no are written #true and #false.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// Yes and no are written #true and #false.
pub static CODE: Code = Code {
    name: "bare-yes-no",
    full: "book/bare-yes-no",
    summary: "yes and no are written #true and #false",
    explains: "A bare `true` would be a word like any other. The sign `#` makes it a yes or no.",
    example: Example::Book(include_str!("../../faulty/bare-yes-no.kdl")),
};

pub(crate) fn fault(span: Span, word: &str) -> Fault {
    let hint = match word {
        "true" | "false" => format!("write `#{word}`"),
        _ => "write a value, `\"?\"` for asked and unknown, or `none`".to_owned(),
    };
    CODE.at(span, format!("`{word}` means nothing without its sign"))
        .hint(hint)
}
