//! `book/unknown-zone`: a zone is named that the book does not have.

use super::{Code, Example};
use crate::fault::Fault;
use crate::near::did_you_mean;
use crate::span::Span;
use crate::zone::ZONES;

/// A zone is named that the book does not have.
pub static CODE: Code = Code {
    name: "unknown-zone",
    full: "book/unknown-zone",
    summary: "a zone is named that the book does not have",
    explains: "Zones are above, drive-end, flywheel-end, radiator-side, bulkhead-side, under, \
        cabin and bench, and those the book adds with `zone`.",
    example: Example::Book(include_str!("../../faulty/unknown-zone.kdl")),
};

pub(crate) fn fault(span: Span, name: &str, near: &[String]) -> Fault {
    CODE.at(span, format!("there is no zone `{name}`"))
        .maybe_hint(did_you_mean(near))
        .hint(format!(
            "it is one of {}, or a `zone` node of the book",
            ZONES.join(", ")
        ))
}
