//! `book/unknown-word`: a fact has a word that is not one of its list.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A fact has a word that is not one of its list.
pub static CODE: Code = Code {
    name: "unknown-word",
    full: "book/unknown-word",
    summary: "a fact has a word that is not one of its list",
    explains: "Some facts are one word of a fixed list, so that the program can act on them.",
    example: Example::Book(include_str!("../../faulty/unknown-word.kdl")),
};

pub(crate) fn fault(span: Span, text: &str, fact: &str, choices: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("`{text}` is no word for `{fact}`"))
        .maybe_hint(did_you_mean(near))
        .hint(format!("it is one of {choices}"))
}

pub(crate) fn yes_no(span: Span, text: &str, fact: &str) -> Fault {
    CODE.at(span, format!("`{fact}` is yes or no, not `{text}`"))
        .hint("write `#true`, `#false`, `\"?\"` or `none`")
}

pub(crate) fn not_text(span: Span, text: &str, fact: &str) -> Fault {
    CODE.at(span, format!("`{fact}` is a word, not `{text}`"))
        .hint("write it in quotes")
}

/// A word of the reader's own that looks like a slip of a known one.
pub(crate) fn doubtful(span: Span, text: &str, fact: &str, near: &[String]) -> Fault {
    CODE.at(
        span,
        format!("`{text}` is taken as a word of your own for `{fact}`"),
    )
    .maybe_hint(did_you_mean(near))
    .only_warning()
}
