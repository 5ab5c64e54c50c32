//! `book/unquoted-value`: a value must stand in quotes.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A value must stand in quotes.
pub static CODE: Code = Code {
    name: "unquoted-value",
    full: "book/unquoted-value",
    summary: "a value must stand in quotes",
    explains: "Words may stand bare, but whatever begins with a digit and is not a plain \
        number, and whatever holds a space or one of / \\ # [ ], stands in quotes.",
    example: Example::Book(include_str!("../../faulty/unquoted-value.kdl")),
};

pub(crate) fn fault(span: Span, word: &str) -> Fault {
    CODE.at(span, format!("`{word}` must stand in quotes"))
        .hint(format!("put it in quotes: `\"{word}\"`"))
}
