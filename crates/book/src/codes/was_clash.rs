//! `book/was-clash`: an old id is the id of something else.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// An old id is the id of something else.
pub static CODE: Code = Code {
    name: "was-clash",
    full: "book/was-clash",
    summary: "an old id is the id of something else",
    explains: "`was=` keeps old records readable. When the old id is also the id, or an old id, \
        of another node, an old record could mean either.",
    example: Example::Book(include_str!("../../faulty/was-clash.kdl")),
};

pub(crate) fn fault(span: Span, was: &str, other: Span) -> Fault {
    CODE.at(span, format!("`{was}` also names another node"))
        .also(other, "it stands here")
        .hint("an old id must lead to one node only; take it away in one of the two")
}
