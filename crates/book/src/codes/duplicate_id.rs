//! `book/duplicate-id`: two nodes have the same id.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// Two nodes have the same id.
pub static CODE: Code = Code {
    name: "duplicate-id",
    full: "book/duplicate-id",
    summary: "two nodes have the same id",
    explains: "An id names one thing. Two nodes may share it only when their `when=` can never \
        both hold.",
    example: Example::Book(include_str!("../../faulty/duplicate-id.kdl")),
};

pub(crate) fn fault(span: Span, id: &str, first: Span, noun: &str) -> Fault {
    CODE.at(span, format!("`{id}` is already the id of {noun}"))
        .also(first, "it stands here")
        .hint("give one of the two another id, or a `when=` that keeps them apart")
}
