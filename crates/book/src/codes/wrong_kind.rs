//! `book/wrong-kind`: a quantity is of the wrong kind.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A quantity is of the wrong kind.
pub static CODE: Code = Code {
    name: "wrong-kind",
    full: "book/wrong-kind",
    summary: "a quantity is of the wrong kind",
    explains: "The unit measures something else than this fact: a length in newton metres, a \
        torque in bar.",
    example: Example::Book(include_str!("../../faulty/wrong-kind.kdl")),
};

pub(crate) fn fault(span: Span, text: &str, wanted: &str, got: &str, example: &str) -> Fault {
    CODE.at(
        span,
        format!("`{text}` is {got}, but {wanted} belongs here"),
    )
    .hint(format!("for example `{example}`"))
}
