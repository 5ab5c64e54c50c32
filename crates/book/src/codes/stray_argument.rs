//! `book/stray-argument`: a value stands where none belongs.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A value stands where none belongs.
pub static CODE: Code = Code {
    name: "stray-argument",
    full: "book/stray-argument",
    summary: "a value stands where none belongs",
    explains: "The node takes fewer values than stand here. Often a fact lost its name, or a \
        quantity its quotes.",
    example: Example::Book(include_str!("../../faulty/stray-argument.kdl")),
};

pub(crate) fn fault(span: Span, text: &str, noun: &str) -> Fault {
    CODE.at(span, format!("`{text}` is one value too many for {noun}"))
        .hint("give it a name (`name=value`), or take it away")
}

pub(crate) fn block(span: Span, noun: &str) -> Fault {
    CODE.at(span, format!("nothing belongs inside {noun}"))
        .hint("a fact is one word and one value on a line of its own")
}

pub(crate) fn annotation(span: Span) -> Fault {
    CODE.at(span, "the book has no use for type annotations")
        .hint("take the brackets and the word in them away")
}
