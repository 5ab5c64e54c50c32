//! `book/medium-mismatch`: a line carries something else than its port.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A line carries something else than its port.
pub static CODE: Code = Code {
    name: "medium-mismatch",
    full: "book/medium-mismatch",
    summary: "a line carries something else than its port",
    explains: "What flows through a hose or wire must be what its ports carry. A line between \
        two media is a mix-up in the book itself.",
    example: Example::Book(include_str!("../../faulty/medium-mismatch.kdl")),
};

pub(crate) fn fault(span: Span, line: &str, port: &str, carries: &str, there: Span) -> Fault {
    CODE.at(
        span,
        format!("this carries {line}, but `{port}` carries {carries}"),
    )
    .also(there, "the port stands here")
    .hint("correct the medium of one of them, or the port the end is on")
}
