//! Reads `shaft`.

use crate::book::Book;
use crate::id::ShaftId;
use crate::read::Reader;
use crate::read::fields::Fields;
use crate::shaft::{Shaft, ShaftKind};
use crate::tree::Node;

/// Teeth of the largest wheel of a cam drive.
const MOST_TEETH: u32 = 400;

pub(super) fn read(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a shaft");
    let Some(id) = fields.id(reader).map(ShaftId::new) else {
        return;
    };
    book.shafts.push(Shaft {
        label: fields.label(reader),
        when: fields.when(reader),
        span: node.span,
        kind: fields
            .choice(reader, "kind")
            .known()
            .copied()
            .unwrap_or(ShaftKind::Cam),
        sense: fields.choice(reader, "sense"),
        driven_by: fields.mention(reader, "driven-by"),
        drive: fields.choice(reader, "drive"),
        drive_part: fields.mention(reader, "drive-part"),
        teeth: fields.count(reader, "teeth", 1, MOST_TEETH),
        pin: fields.mention(reader, "pin"),
        sits_in: fields.mention(reader, "sits-in"),
        interference: fields.flag(reader, "interference"),
        parked: fields.signed(reader, "parked"),
        id,
    });
    fields.finish(reader);
}
