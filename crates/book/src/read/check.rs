//! Reads `check` and `temporary`.

use crate::book::Book;
use crate::check::Check;
use crate::id::{CheckId, TemporaryId};
use crate::names::Noun;
use crate::read::Reader;
use crate::read::fields::Fields;
use crate::temporary::Temporary;
use crate::tree::Node;

/// What a check or item can be bound to: a part going back on or coming off, a joint, a gate.
const BOUND_TO: [Noun; 3] = [Noun::Part, Noun::Joint, Noun::Gate];

pub(super) fn read(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a check");
    let Some(id) = fields.id(reader).map(CheckId::new) else {
        return;
    };
    let label = fields.label(reader);
    let of = fields.one_word(reader, "of");
    book.checks.push(Check {
        label,
        was: fields.was(reader),
        when: fields.when(reader),
        span: node.span,
        of: of.and_then(|word| reader.subject(&word)),
        before: fields.references(reader, "before", &BOUND_TO),
        after_off: fields.references(reader, "after-off", &[Noun::Part]),
        takes: fields.estimate(reader, "takes"),
        limit: fields.mention(reader, "limit"),
        photo: fields.yes(reader, "photo"),
        says: fields.text(reader, "says"),
        id,
    });
    fields.finish(reader);
}

pub(super) fn read_temporary(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a temporary item");
    let Some(id) = fields.id(reader).map(TemporaryId::new) else {
        return;
    };
    book.temporaries.push(Temporary {
        label: fields.label(reader),
        was: fields.was(reader),
        when: fields.when(reader),
        span: node.span,
        sits_in: fields.mention(reader, "in"),
        out_before: fields.references(reader, "out-before", &BOUND_TO),
        in_before: fields.references(reader, "in-before", &BOUND_TO),
        count: fields
            .count(reader, "count", 1, 99)
            .known()
            .copied()
            .unwrap_or(1),
        id,
    });
    fields.finish(reader);
}
