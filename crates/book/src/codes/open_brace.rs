//! `book/open-brace`: a block is never closed.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A block is never closed.
pub static CODE: Code = Code {
    name: "open-brace",
    full: "book/open-brace",
    summary: "a block is never closed",
    explains: "Every `{` needs its `}`. The block that begins at the mark runs into the next \
        top-level node, or to the end of the text.",
    example: Example::Book(include_str!("../../faulty/open-brace.kdl")),
};

pub(crate) fn fault(span: Span, next: Option<Span>) -> Fault {
    let fault = CODE.at(span, "this block is never closed");
    match next {
        Some(next) => fault
            .also(next, "it must end before this node begins")
            .hint("write the missing `}` before the next node"),
        None => fault.hint("write the missing `}`"),
    }
}
