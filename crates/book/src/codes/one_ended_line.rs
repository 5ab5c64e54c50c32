//! `book/one-ended-line`: a hose or lead does not have two ends.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A hose or lead does not have two ends.
pub static CODE: Code = Code {
    name: "one-ended-line",
    full: "book/one-ended-line",
    summary: "a hose or lead does not have two ends",
    explains: "A hose, pipe, lead, cable, connector or ground has exactly two ends, `from` and \
        `to`, each on one port. A branch is a part with three ports.",
    example: Example::Book(include_str!("../../faulty/one-ended-line.kdl")),
};

pub(crate) fn fault(span: Span, noun: &str, missing: &str) -> Fault {
    CODE.at(span, format!("this {noun} has no `{missing}` end"))
        .hint(format!("write `{missing} part.port`"))
}
