//! `book/key-mismatch`: a plug does not fit its socket.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A plug does not fit its socket.
pub static CODE: Code = Code {
    name: "key-mismatch",
    full: "book/key-mismatch",
    summary: "a plug does not fit its socket",
    explains: "The connector has another key than the port it is on, so it could not be pushed \
        in.",
    example: Example::Book(include_str!("../../faulty/key-mismatch.kdl")),
};

pub(crate) fn fault(span: Span, end: &str, port: &str, key: &str, there: Span) -> Fault {
    CODE.at(
        span,
        format!("a plug `{end}` is on `{port}`, which takes `{key}`"),
    )
    .also(there, "the port stands here")
    .hint("write both keys the same way, or correct the port")
}
