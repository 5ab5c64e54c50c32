//! `book/bore-mismatch`: an end does not fit its port.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// An end does not fit its port.
pub static CODE: Code = Code {
    name: "bore-mismatch",
    full: "book/bore-mismatch",
    summary: "an end does not fit its port",
    explains: "The bore of the end and the bore of the port differ by more than half a \
        millimetre. One of the figures is wrong, or the end belongs on another port.",
    example: Example::Book(include_str!("../../faulty/bore-mismatch.kdl")),
};

pub(crate) fn fault(span: Span, end: &str, port: &str, size: &str, there: Span) -> Fault {
    CODE.at(
        span,
        format!("an end of {end} is on `{port}`, which takes {size}"),
    )
    .also(there, "the port stands here")
    .hint("measure both, or write `bore=` on the end that differs")
}
