//! `book/missing-unit`: a number has no unit.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A number has no unit.
pub static CODE: Code = Code {
    name: "missing-unit",
    full: "book/missing-unit",
    summary: "a number has no unit",
    explains: "Nothing is assumed: 21 could be N·m, ft-lb or in-lb, and two of the three break \
        the bolt or leave it loose.",
    example: Example::Book(include_str!("../../faulty/missing-unit.kdl")),
};

pub(crate) fn fault(span: Span, text: &str, kind: &str, example: &str) -> Fault {
    CODE.at(span, format!("`{text}` needs a unit of {kind}"))
        .hint(format!("for example `{example}`"))
}
