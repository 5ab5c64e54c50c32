//! `book/unknown-port`: a port is named that the part does not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A port is named that the part does not have.
pub static CODE: Code = Code {
    name: "unknown-port",
    full: "book/unknown-port",
    summary: "a port is named that the part does not have",
    explains: "An end belongs on a port, written `part.port`. The port is a node inside its \
        part.",
    example: Example::Book(include_str!("../../faulty/unknown-port.kdl")),
};

pub(crate) fn fault(span: Span, port: &str, part: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("`{part}` has no port `{port}`"))
        .hint(did_you_mean(near).unwrap_or_else(|| format!("add `port {port}` to `{part}`")))
}

pub(crate) fn no_port(span: Span, text: &str) -> Fault {
    CODE.at(span, format!("`{text}` names no port"))
        .hint("write `part.port`")
}
