//! `book/pattern-hole`: a pattern does not name every hole once.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A pattern does not name every hole once.
pub static CODE: Code = Code {
    name: "pattern-hole",
    full: "book/pattern-hole",
    summary: "a pattern does not name every hole once",
    explains: "A pattern written hole by hole is the order of tightening. A hole that is \
        missing stays loose, one that is named twice is pulled twice.",
    example: Example::Book(include_str!("../../faulty/pattern-hole.kdl")),
};

pub(crate) fn missing(span: Span, holes: &str) -> Fault {
    CODE.at(span, format!("the pattern leaves out {holes}"))
        .hint("name every hole that is tightened exactly once, in the order of work")
}

pub(crate) fn twice(span: Span, hole: &str) -> Fault {
    CODE.at(span, format!("the pattern names `{hole}` twice"))
        .hint("name every hole that is tightened exactly once, in the order of work")
}
