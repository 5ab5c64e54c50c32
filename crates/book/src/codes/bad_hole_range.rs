//! `book/bad-hole-range`: a hole name or range cannot be read.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A hole name or range cannot be read.
pub static CODE: Code = Code {
    name: "bad-hole-range",
    full: "book/bad-hole-range",
    summary: "a hole name or range cannot be read",
    explains: "Holes are named one by one (`A`, `h1`) or as a range of letters (`A..D`) or of \
        numbers behind the same letters (`h1..h8`), low end first.",
    example: Example::Book(include_str!("../../faulty/bad-hole-range.kdl")),
};

pub(crate) fn fault(span: Span, text: &str) -> Fault {
    CODE.at(span, format!("`{text}` names no holes"))
        .hint("write `A`, `A..D` or `h1..h8`; a hole name begins with a letter")
}

pub(crate) fn too_many(span: Span, text: &str, most: usize) -> Fault {
    CODE.at(span, format!("`{text}` is more than {most} holes"))
        .hint("check the numbers of the range")
}
