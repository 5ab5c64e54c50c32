//! `book/rule-loop`: rules ask for a loop.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// Rules ask for a loop.
pub static CODE: Code = Code {
    name: "rule-loop",
    full: "book/rule-loop",
    summary: "rules ask for a loop",
    explains: "Followed together, these orders have no beginning. One of them is wrong, or \
        holds for another variant only.",
    example: Example::Book(include_str!("../../faulty/rule-loop.kdl")),
};

pub(crate) fn fault(act: &str, loop_of: &[(String, Span)]) -> Fault {
    let names: Vec<String> = loop_of
        .iter()
        .map(|(name, _)| format!("`{name}`"))
        .collect();
    let place = loop_of.first().map_or(Span::default(), |(_, span)| *span);
    let first = names.first().cloned().unwrap_or_default();
    let mut fault = CODE.at(
        place,
        format!(
            "{act}: {} before {first} has no beginning",
            names.join(" before ")
        ),
    );
    for (name, span) in loop_of.iter().skip(1) {
        fault = fault.also(*span, format!("`{name}` comes first here"));
    }
    fault.hint("take one of the orders away")
}
