//! `book/rule-against-needs-off`: a rule asks for what cannot be done.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A rule asks for what cannot be done.
pub static CODE: Code = Code {
    name: "rule-against-needs-off",
    full: "book/rule-against-needs-off",
    summary: "a rule asks for what cannot be done",
    explains: "The parts are in each other's way in such an order that the rule can never be \
        followed: a part that must be off before another one comes off goes back after \
        it.",
    example: Example::Book(include_str!("../../faulty/rule-against-needs-off.kdl")),
};

pub(crate) fn fault(span: Span, says: &str, blocked: &str, by: &str, there: Span) -> Fault {
    CODE.at(
        span,
        format!("{says}, but `{by}` is in the way of `{blocked}`"),
    )
    .also(there, "it is said here")
    .hint("turn the order round, or correct the `needs-off`")
}
