//! `book/fixed-in-the-way`: a part waits for one that never comes off.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A part waits for one that never comes off.
pub static CODE: Code = Code {
    name: "fixed-in-the-way",
    full: "book/fixed-in-the-way",
    summary: "a part waits for one that never comes off",
    explains: "A part with `fixed=#true` stays where it is in this book. A part that needs it \
        off could never come off itself.",
    example: Example::Book(include_str!("../../faulty/fixed-in-the-way.kdl")),
};

pub(crate) fn fault(span: Span, part: &str, fixed: &str, there: Span) -> Fault {
    CODE.at(
        span,
        format!("`{part}` waits for `{fixed}`, which never comes off"),
    )
    .also(there, "it says `fixed` here")
    .hint("take it out of `needs-off`, or `fixed=#true` away")
}
