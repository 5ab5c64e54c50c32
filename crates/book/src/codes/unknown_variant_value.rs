//! `book/unknown-variant-value`: a variant or its value does not exist.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;

/// A variant or its value does not exist.
pub static CODE: Code = Code {
    name: "unknown-variant-value",
    full: "book/unknown-variant-value",
    summary: "a variant or its value does not exist",
    explains: "`when=` names a variant of the book and one of its values. A condition that can \
        never hold would make the node vanish.",
    example: Example::Book(include_str!("../../faulty/unknown-variant-value.kdl")),
};

pub(crate) fn variant(span: Span, name: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("there is no variant `{name}`")).hint(
        did_you_mean(near).unwrap_or_else(|| format!("add it: `variant {name} one-value another`")),
    )
}

pub(crate) fn value(span: Span, variant: &str, value: &str, values: &[String]) -> Fault {
    CODE.at(
        span,
        format!("the variant `{variant}` has no value `{value}`"),
    )
    .hint(format!("its values are {}", values.join(", ")))
}

pub(crate) fn unreadable(span: Span, text: &str) -> Fault {
    CODE.at(span, format!("`{text}` is no condition"))
        .hint("write `when=\"variant=value\"`, several with a space between")
}

pub(crate) fn too_few(span: Span, name: &str) -> Fault {
    CODE.at(span, format!("the variant `{name}` leaves no choice"))
        .hint("write at least two values, each once: `variant throttle cable electronic`")
}
