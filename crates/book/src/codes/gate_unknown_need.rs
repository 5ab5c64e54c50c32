//! `book/gate-unknown-need`: a gate needs something no gate can need.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A gate needs something no gate can need.
pub static CODE: Code = Code {
    name: "gate-unknown-need",
    full: "book/gate-unknown-need",
    summary: "a gate needs something no gate can need",
    explains: "A need is a check, a limit, a circuit with its state, a part with its state, a \
        joint, a line, a temporary item with its state, or plain words in quotes.",
    example: Example::Book(include_str!("../../faulty/gate-unknown-need.kdl")),
};

pub(crate) fn fault(span: Span, near: &[String]) -> Fault {
    CODE.at(span, "this need says nothing a gate knows")
        .maybe_hint(did_you_mean(near))
        .hint("write one of `check=`, `limit=`, `circuit=`, `part=`, `joint=`, `line=`, `temporary=`, or plain words in quotes")
}

pub(crate) fn several(span: Span) -> Fault {
    CODE.at(span, "this need says two things at once")
        .hint("write one `need` for each")
}
