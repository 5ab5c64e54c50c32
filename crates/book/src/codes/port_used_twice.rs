//! `book/port-used-twice`: two ends are on one port.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// Two ends are on one port.
pub static CODE: Code = Code {
    name: "port-used-twice",
    full: "book/port-used-twice",
    summary: "two ends are on one port",
    explains: "Each port takes one end. Two ends on one port mean that one of them belongs \
        somewhere else, or that a port is missing.",
    example: Example::Book(include_str!("../../faulty/port-used-twice.kdl")),
};

pub(crate) fn fault(span: Span, port: &str, first: Span) -> Fault {
    CODE.at(span, format!("`{port}` already has an end on it"))
        .also(first, "this end is on it")
        .hint("give one of the two its own port")
}

pub(crate) fn open(span: Span, port: &str, there: Span) -> Fault {
    CODE.at(
        span,
        format!("`{port}` is open by design, but an end is on it"),
    )
    .also(there, "it says `open` here")
    .hint("take `open=#true` away, or name the port this end belongs on")
}
