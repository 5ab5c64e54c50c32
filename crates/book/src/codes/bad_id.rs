//! `book/bad-id`: an id has a letter that ids do not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// An id has a letter that ids do not have.
pub static CODE: Code = Code {
    name: "bad-id",
    full: "book/bad-id",
    summary: "an id has a letter that ids do not have",
    explains: "An id is made of letters, digits, `-` and `_` and begins with a letter. A dot \
        parts the name of a part from the name of its port, so it cannot be inside an \
        id.",
    example: Example::Book(include_str!("../../faulty/bad-id.kdl")),
};

pub(crate) fn fault(span: Span, id: &str) -> Fault {
    CODE.at(span, format!("`{id}` cannot be an id"))
        .hint("ids are letters, digits, `-` and `_`, beginning with a letter; the words for readers go in quotes behind it")
}
