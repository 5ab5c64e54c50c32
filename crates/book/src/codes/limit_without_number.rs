//! `book/limit-without-number`: a limit has no number to judge by.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A limit has no number to judge by.
pub static CODE: Code = Code {
    name: "limit-without-number",
    full: "book/limit-without-number",
    summary: "a limit has no number to judge by",
    explains: "A limit needs `min=`, `max=` or both; `\"?\"` is a number nobody has found yet.",
    example: Example::Book(include_str!("../../faulty/limit-without-number.kdl")),
};

pub(crate) fn fault(span: Span, id: &str) -> Fault {
    CODE.at(
        span,
        format!("the limit `{id}` says neither `min=` nor `max=`"),
    )
    .hint("write the number, or `max=\"?\"` while nobody knows it")
}

pub(crate) fn crossed(span: Span, id: &str) -> Fault {
    CODE.at(
        span,
        format!("the limit `{id}` has its `min=` above its `max=`"),
    )
    .hint("exchange the two numbers")
}

pub(crate) fn two_kinds(span: Span, id: &str) -> Fault {
    CODE.at(
        span,
        format!("the numbers of the limit `{id}` measure different things"),
    )
    .hint("`min=`, `max=` and `new=` are of one kind: all lengths, all pressures")
}
