//! `book/unknown-name`: something is named that the book does not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// Something is named that the book does not have.
pub static CODE: Code = Code {
    name: "unknown-name",
    full: "book/unknown-name",
    summary: "something is named that the book does not have",
    explains: "The name is no id and no old id of any node of the kind that belongs here.",
    example: Example::Book(include_str!("../../faulty/unknown-name.kdl")),
};

pub(crate) fn fault(span: Span, name: &str, noun: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("there is no {noun} `{name}`"))
        .hint(did_you_mean(near).unwrap_or_else(|| "add it, or correct the name".to_owned()))
}
