//! `book/missing-fact`: a fact that must be there is missing.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A fact that must be there is missing.
pub static CODE: Code = Code {
    name: "missing-fact",
    full: "book/missing-fact",
    summary: "a fact that must be there is missing",
    explains: "A few facts cannot be left out because nothing can be worked out without them: \
        the id of a node, the part a joint goes to, the two zones of a walk.",
    example: Example::Book(include_str!("../../faulty/missing-fact.kdl")),
};

pub(crate) fn fault(span: Span, noun: &str, what: &str, example: &str) -> Fault {
    CODE.at(span, format!("{noun} needs {what}"))
        .hint(format!("for example `{example}`"))
}
