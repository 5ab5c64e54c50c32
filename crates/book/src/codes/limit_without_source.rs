//! `book/limit-without-source`: a limit does not say where it comes from.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A limit does not say where it comes from.
pub static CODE: Code = Code {
    name: "limit-without-source",
    full: "book/limit-without-source",
    summary: "a limit does not say where it comes from",
    explains: "A number without a source looks like the maker's word. Say who says it, or say \
        that nobody knows.",
    example: Example::Book(include_str!("../../faulty/limit-without-source.kdl")),
};

pub(crate) fn fault(span: Span, id: &str) -> Fault {
    CODE.at(span, format!("the limit `{id}` has no source"))
        .hint("add `source=` maker, shop, published, common-practice, invented or none")
}
