//! `book/unknown-hole`: a hole is named that the joint does not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::id::HoleName;
use crate::joint::Joint;
use crate::span::Span;

/// A hole is named that the joint does not have.
pub static CODE: Code = Code {
    name: "unknown-hole",
    full: "book/unknown-hole",
    summary: "a hole is named that the joint does not have",
    explains: "`tighten`, `washer`, `seal` and `pattern` name holes of their own joint.",
    example: Example::Book(include_str!("../../faulty/unknown-hole.kdl")),
};

pub(crate) fn fault(span: Span, hole: &HoleName, joint: &Joint) -> Fault {
    let known: Vec<&str> = joint.holes.iter().map(|hole| hole.name.as_str()).collect();
    let hint = if known.is_empty() {
        format!("describe it first: `hole {hole}`")
    } else {
        format!("its holes are {}", known.join(", "))
    };
    CODE.at(span, format!("`{}` has no hole `{hole}`", joint.id))
        .hint(hint)
}
