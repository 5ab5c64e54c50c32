//! `book/bad-count`: a count is not a whole number in its range.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A count is not a whole number in its range.
pub static CODE: Code = Code {
    name: "bad-count",
    full: "book/bad-count",
    summary: "a count is not a whole number in its range",
    explains: "Counts of holes, seals, hands, cylinders and teeth are whole numbers, and each \
        has a largest value that keeps slips of the keyboard out.",
    example: Example::Book(include_str!("../../faulty/bad-count.kdl")),
};

pub(crate) fn fault(span: Span, text: &str, fact: &str, low: u32, high: u32) -> Fault {
    CODE.at(span, format!("`{text}` is no count for `{fact}`"))
        .hint(format!("write a whole number from {low} to {high}"))
}
