//! `book/joint-to-itself`: a joint holds a part to itself.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A joint holds a part to itself.
pub static CODE: Code = Code {
    name: "joint-to-itself",
    full: "book/joint-to-itself",
    summary: "a joint holds a part to itself",
    explains: "A joint holds the part it stands in to another one. Two pieces that never part \
        are one part; two that do are two.",
    example: Example::Book(include_str!("../../faulty/joint-to-itself.kdl")),
};

pub(crate) fn fault(span: Span, joint: &str, part: &str) -> Fault {
    CODE.at(span, format!("`{joint}` holds `{part}` to itself"))
        .hint("name the part on the other side of the joint")
}
