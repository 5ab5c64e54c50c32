//! `book/torque-as-energy`: torque is given in a unit of energy.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// Torque is given in a unit of energy.
pub static CODE: Code = Code {
    name: "torque-as-energy",
    full: "book/torque-as-energy",
    summary: "torque is given in a unit of energy",
    explains: "Torque and energy share a dimension but are kept apart: one turns a bolt, the \
        other is used up.",
    example: Example::Book(include_str!("../../faulty/torque-as-energy.kdl")),
};

pub(crate) fn fault(span: Span, text: &str) -> Fault {
    let hint = match text.trim().strip_suffix('J') {
        Some(number) => format!(
            "torque and energy share a dimension but are kept apart; write `{} N·m`",
            number.trim()
        ),
        None => {
            "torque and energy share a dimension but are kept apart; write it in N·m".to_owned()
        }
    };
    CODE.at(span, "torque is given in a unit of energy")
        .hint(hint)
}
