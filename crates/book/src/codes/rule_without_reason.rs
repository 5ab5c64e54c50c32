//! `book/rule-without-reason`: a rule does not say why.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A rule does not say why.
pub static CODE: Code = Code {
    name: "rule-without-reason",
    full: "book/rule-without-reason",
    summary: "a rule does not say why",
    explains: "An order without a reason is dropped by the next person in a hurry. One sentence \
        is enough.",
    example: Example::Book(include_str!("../../faulty/rule-without-reason.kdl")),
};

pub(crate) fn fault(span: Span, id: &str) -> Fault {
    CODE.at(span, format!("the rule `{id}` has no reason"))
        .hint(format!("write `rule {id} \"why\" {{ … }}`"))
}
