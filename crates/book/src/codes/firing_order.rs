//! `book/firing-order`: the firing order does not match the cylinders.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// The firing order does not match the cylinders.
pub static CODE: Code = Code {
    name: "firing-order",
    full: "book/firing-order",
    summary: "the firing order does not match the cylinders",
    explains: "Each cylinder of the banks fires once. A wrong firing order puts every ignition \
        lead in the wrong place.",
    example: Example::Book(include_str!("../../faulty/firing-order.kdl")),
};

pub(crate) fn fault(span: Span, says: &str) -> Fault {
    CODE.at(span, says.to_owned())
        .hint("the firing order names every cylinder of the banks exactly once")
}
