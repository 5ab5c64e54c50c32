//! `book/bad-price`: a price cannot be read.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A price cannot be read.
pub static CODE: Code = Code {
    name: "bad-price",
    full: "book/bad-price",
    summary: "a price cannot be read",
    explains: "A price is a number with at most two decimals, a range of two such numbers, and \
        a currency word where it is not the one of the book.",
    example: Example::Book(include_str!("../../faulty/bad-price.kdl")),
};

pub(crate) fn fault(span: Span, text: &str) -> Fault {
    CODE.at(span, format!("`{text}` is no price"))
        .hint("write `18.50`, `\"18.50 EUR\"` or `\"40..60\"`")
}
