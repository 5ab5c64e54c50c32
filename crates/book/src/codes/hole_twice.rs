//! `book/hole-twice`: a hole is described twice.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A hole is described twice.
pub static CODE: Code = Code {
    name: "hole-twice",
    full: "book/hole-twice",
    summary: "a hole is described twice",
    explains: "Each hole of a joint is described once. Two descriptions would make one bolt too \
        many or too few.",
    example: Example::Book(include_str!("../../faulty/hole-twice.kdl")),
};

pub(crate) fn fault(span: Span, hole: &str, joint: &str, first: Span) -> Fault {
    CODE.at(
        span,
        format!("hole `{hole}` of `{joint}` is described twice"),
    )
    .also(first, "it was described here first")
    .hint("shorten one of the ranges")
}
