//! `book/text-not-kdl`: the text cannot be read here.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// The text cannot be read here.
pub static CODE: Code = Code {
    name: "text-not-kdl",
    full: "book/text-not-kdl",
    summary: "the text cannot be read here",
    explains: "The book is written in KDL 2: a word, then arguments, then `name=value`, then `{ \
        … }`. At the marked place the text is something else. Only the top-level node \
        around it is lost; all others were read and checked.",
    example: Example::Book(include_str!("../../faulty/text-not-kdl.kdl")),
};

pub(crate) fn fault(span: Span, reader_says: Option<&str>) -> Fault {
    let message = match reader_says {
        Some(says) => format!("the text cannot be read here ({})", says.to_lowercase()),
        None => "the text cannot be read here".to_owned(),
    };
    CODE.at(span, message)
        .hint("a node is a word, then arguments, then `name=value`, then `{ … }`")
}

pub(crate) fn open_comment(span: Span) -> Fault {
    CODE.at(span, "this comment is never closed")
        .hint("write `*/` where it ends")
}

pub(crate) fn too_deep(span: Span) -> Fault {
    CODE.at(span, "blocks stand in blocks deeper than any book needs")
        .hint("a joint stands in a part, a hole in a joint, and nothing deeper")
}
