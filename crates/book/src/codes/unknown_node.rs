//! `book/unknown-node`: a node has a word the book does not know.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A node has a word the book does not know.
pub static CODE: Code = Code {
    name: "unknown-node",
    full: "book/unknown-node",
    summary: "a node has a word the book does not know",
    explains: "The first word of a line says what the node is. This one is not a word of this \
        place; some words only stand inside a part, a joint or the shop file.",
    example: Example::Book(include_str!("../../faulty/unknown-node.kdl")),
};

pub(crate) fn fault(span: Span, word: &str, place: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("`{word}` is no node of {place}"))
        .hint(
            did_you_mean(near)
                .unwrap_or_else(|| "docs/format.md has all nodes, with examples".to_owned()),
        )
}

pub(crate) fn elsewhere(span: Span, word: &str, place: &str, belongs: &str) -> Fault {
    CODE.at(span, format!("`{word}` is no node of {place}"))
        .hint(format!("it belongs in {belongs}"))
}
