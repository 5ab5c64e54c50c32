//! `book/empty-book`: the file holds nothing.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// The file holds nothing.
pub static CODE: Code = Code {
    name: "empty-book",
    full: "book/empty-book",
    summary: "the file holds nothing",
    explains: "A build book describes at least one part, hose, limit or other node; a shop file \
        at least its `shop` node. This file has none, or only comments.",
    example: Example::Book(include_str!("../../faulty/empty-book.kdl")),
};

pub(crate) fn fault(span: Span) -> Fault {
    CODE.at(span, "there is nothing in this file")
        .hint("begin with `book \"…\"` and one `part`, or start from the skeleton book")
}
