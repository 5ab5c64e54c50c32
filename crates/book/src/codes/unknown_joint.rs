//! `book/unknown-joint`: a joint is named that the book does not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A joint is named that the book does not have.
pub static CODE: Code = Code {
    name: "unknown-joint",
    full: "book/unknown-joint",
    summary: "a joint is named that the book does not have",
    explains: "Joints are nodes inside the part that comes off with them; their ids are unique \
        in the whole book.",
    example: Example::Book(include_str!("../../faulty/unknown-joint.kdl")),
};

pub(crate) fn fault(span: Span, name: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("there is no joint `{name}`")).hint(
        did_you_mean(near)
            .unwrap_or_else(|| format!("add `joint {name}` to the part that comes off with it")),
    )
}
