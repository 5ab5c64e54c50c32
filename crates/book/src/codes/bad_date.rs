//! `book/bad-date`: a day cannot be read.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A day cannot be read.
pub static CODE: Code = Code {
    name: "bad-date",
    full: "book/bad-date",
    summary: "a day cannot be read",
    explains: "Days are written year, month, day, so that nobody reads the month for the day.",
    example: Example::Shop(include_str!("../../faulty/bad-date.kdl")),
};

pub(crate) fn fault(span: Span, text: &str) -> Fault {
    CODE.at(span, format!("`{text}` is no day"))
        .hint("write `\"2026-03-14\"`: year, month, day")
}
