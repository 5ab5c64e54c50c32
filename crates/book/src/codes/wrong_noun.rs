//! `book/wrong-noun`: a name is of the wrong noun.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;

/// A name is of the wrong noun.
pub static CODE: Code = Code {
    name: "wrong-noun",
    full: "book/wrong-noun",
    summary: "a name is of the wrong noun",
    explains: "The name exists, but it is a hose where a part belongs, or a part where a joint \
        belongs.",
    example: Example::Book(include_str!("../../faulty/wrong-noun.kdl")),
};

pub(crate) fn fault(span: Span, name: &str, is: &str, wanted: &str, there: Span) -> Fault {
    CODE.at(span, format!("`{name}` is {is}, but {wanted} belongs here"))
        .also(there, "it stands here")
        .hint(if wanted == "a part" {
            "the ends on a part's own ports are off before it anyway; name the part that is in the way".to_owned()
        } else {
            format!("name {wanted}")
        })
}
