//! `book/said-twice`: a fact is said twice.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A fact is said twice.
pub static CODE: Code = Code {
    name: "said-twice",
    full: "book/said-twice",
    summary: "a fact is said twice",
    explains: "One fact has two values in one node. Even when both are the same, the next \
        change would forget one of them.",
    example: Example::Book(include_str!("../../faulty/said-twice.kdl")),
};

pub(crate) fn fault(span: Span, word: &str, first: Span) -> Fault {
    CODE.at(span, format!("`{word}` is said twice"))
        .also(first, "it was said here first")
        .hint("keep the one that is true")
}
