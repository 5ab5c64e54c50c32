//! `book/lost-quote`: a quote is missing.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A quote is missing.
pub static CODE: Code = Code {
    name: "lost-quote",
    full: "book/lost-quote",
    summary: "a quote is missing",
    explains: "A text in quotes begins and ends on one line. One of the two quotes is missing, \
        so the rest of the line could not be read; the lines after it were.",
    example: Example::Book(include_str!("../../faulty/lost-quote.kdl")),
};

pub(crate) fn fault(span: Span) -> Fault {
    CODE.at(span, "a quote is missing").hint(
        "a text in quotes begins and ends with `\"` on the same line; an inch sign is written `in`",
    )
}
