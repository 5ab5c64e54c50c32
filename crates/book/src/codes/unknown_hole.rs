//! `book/unknown-hole`: a hole is named that the joint does not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A hole is named that the joint does not have.
pub static CODE: Code = Code {
    name: "unknown-hole",
    full: "book/unknown-hole",
    summary: "a hole is named that the joint does not have",
    explains: "`tighten`, `washer`, `seal` and `pattern` name holes of their own joint.",
    example: Example::Book(include_str!("../../faulty/unknown-hole.kdl")),
};

pub(crate) fn fault(span: Span, hole: &str, joint: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("`{joint}` has no hole `{hole}`"))
        .maybe_hint(did_you_mean(near))
}
