//! `book/needs-off-loop`: parts are in each other's way in a loop.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// Parts are in each other's way in a loop.
pub static CODE: Code = Code {
    name: "needs-off-loop",
    full: "book/needs-off-loop",
    summary: "parts are in each other's way in a loop",
    explains: "Each of these parts waits for the next, so none of them can ever come off. A \
        loop that one `way` of a `needs-off-any` escapes is allowed; this one has no \
        such way.",
    example: Example::Book(include_str!("../../faulty/needs-off-loop.kdl")),
};

pub(crate) fn fault(loop_of: &[(String, Span)]) -> Fault {
    let names: Vec<String> = loop_of
        .iter()
        .map(|(name, _)| format!("`{name}`"))
        .collect();
    let (first, place) = loop_of
        .first()
        .map_or((String::new(), Span::default()), |(name, span)| {
            (format!("`{name}`"), *span)
        });
    let message = if names.len() == 1 {
        format!("{first} is in its own way")
    } else {
        format!(
            "{} waits for {first}: none of them can come off",
            names.join(" waits for ")
        )
    };
    let mut fault = CODE.at(place, message);
    for (name, span) in loop_of.iter().skip(1) {
        fault = fault.also(*span, format!("`{name}` waits here"));
    }
    fault.hint("take one of them out, or give one part another way with `needs-off-any`")
}
