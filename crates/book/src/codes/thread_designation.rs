//! `book/thread-designation`: a thread designation does not exist.

use super::{Code, Example};
use crate::fault::Fault;
use crate::span::Span;
use crate::thread::ThreadFault;

/// A thread designation does not exist.
pub static CODE: Code = Code {
    name: "thread-designation",
    full: "book/thread-designation",
    summary: "a thread designation does not exist",
    explains: "A metric thread is `M`, the diameter and, where it is not the coarse one, `x` \
        and the pitch. A length does not belong in it: `M8x40` says a length where the \
        pitch stands.",
    example: Example::Book(include_str!("../../faulty/thread-designation.kdl")),
};

pub(crate) fn fault(span: Span, fault: &ThreadFault) -> Fault {
    let hint = match fault {
        ThreadFault::NoThread(_) => {
            "write it as `M8x1.25`, `M8`, `M10x1-LH` or `\"1/4-20\"`".to_owned()
        }
        ThreadFault::NoSize { .. } => {
            "check the diameter; wrench size is not thread size".to_owned()
        }
        ThreadFault::NoPitch {
            diameter,
            pitch,
            made,
            ..
        } => format!(
            "M{diameter} is made with {}; a length goes in `length=\"{pitch} mm\"`",
            made.join(", ")
        ),
    };
    CODE.at(span, fault.to_string()).hint(hint)
}
