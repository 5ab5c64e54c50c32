//! `book/stray-brace`: a block is closed that was never opened.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A block is closed that was never opened.
pub static CODE: Code = Code {
    name: "stray-brace",
    full: "book/stray-brace",
    summary: "a block is closed that was never opened",
    explains: "There is one `}` more than there are `{`. Often a block before it was closed one \
        line too early.",
    example: Example::Book(include_str!("../../faulty/stray-brace.kdl")),
};

pub(crate) fn fault(span: Span) -> Fault {
    CODE.at(span, "this brace closes nothing")
        .hint("take it away, or look whether a block before it was closed too early")
}
