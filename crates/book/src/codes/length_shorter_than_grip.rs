//! `book/length-shorter-than-grip`: a bolt is shorter than what it clamps.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A bolt is shorter than what it clamps.
pub static CODE: Code = Code {
    name: "length-shorter-than-grip",
    full: "book/length-shorter-than-grip",
    summary: "a bolt is shorter than what it clamps",
    explains: "The length under the head must be more than the grip, or no thread is in the \
        hole. One of the two figures is wrong, or they were exchanged.",
    example: Example::Book(include_str!("../../faulty/length-shorter-than-grip.kdl")),
};

pub(crate) fn fault(span: Span, hole: &str, length: &str, grip: &str) -> Fault {
    CODE.at(
        span,
        format!("hole `{hole}`: a bolt of {length} cannot clamp {grip}"),
    )
    .hint("length is measured under the head; grip is what lies between head and thread")
}
