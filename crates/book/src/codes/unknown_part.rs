//! `book/unknown-part`: a part is named that the book does not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A part is named that the book does not have.
pub static CODE: Code = Code {
    name: "unknown-part",
    full: "book/unknown-part",
    summary: "a part is named that the book does not have",
    explains: "Every part that is named must be a node of its own, for every variant it is \
        named in.",
    example: Example::Book(include_str!("../../faulty/unknown-part.kdl")),
};

pub(crate) fn fault(span: Span, name: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("there is no part `{name}`"))
        .hint(did_you_mean(near).unwrap_or_else(|| format!("add it: `part {name}`")))
}
