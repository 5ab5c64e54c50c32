//! `book/unknown-property`: a fact has a name this node does not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A fact has a name this node does not have.
pub static CODE: Code = Code {
    name: "unknown-property",
    full: "book/unknown-property",
    summary: "a fact has a name this node does not have",
    explains: "Every noun has its list of facts; docs/format.md has them all. A fact that no \
        noun has would be lost in silence, so it is refused.",
    example: Example::Book(include_str!("../../faulty/unknown-property.kdl")),
};

pub(crate) fn fault(span: Span, word: &str, noun: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("{noun} has no fact called `{word}`"))
        .hint(did_you_mean(near).unwrap_or_else(|| "docs/format.md lists its facts".to_owned()))
}
