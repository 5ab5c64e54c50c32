//! `book/unreadable-quantity`: a quantity cannot be read.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A quantity cannot be read.
pub static CODE: Code = Code {
    name: "unreadable-quantity",
    full: "book/unreadable-quantity",
    summary: "a quantity cannot be read",
    explains: "What stands here is no number with a unit, or could mean two things. The hint \
        says how to write it so that it means one.",
    example: Example::Book(include_str!("../../faulty/unreadable-quantity.kdl")),
};

pub(crate) fn fault(span: Span, reason: &str, hint: &str) -> Fault {
    CODE.at(span, reason.to_owned()).hint(hint.to_owned())
}
