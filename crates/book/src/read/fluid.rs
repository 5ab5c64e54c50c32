//! Reads `circuit` and `if-crossed`.

use crate::book::Book;
use crate::circuit::Circuit;
use crate::codes;
use crate::id::{CircuitId, PortRef};
use crate::medium::{Crossing, CrossingGrade, Medium};
use crate::read::Reader;
use crate::read::fields::Fields;
use crate::read::part::{self, medium_of};
use crate::span::Mention;
use crate::tree::Node;

pub(super) fn read_circuit(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "a circuit");
    let Some(id) = fields.id(reader).map(CircuitId::new) else {
        return;
    };
    let label = fields.label(reader);
    let medium = part::medium(reader, &mut fields)
        .known()
        .cloned()
        .unwrap_or_else(|| Medium::of_word(id.as_str()));
    book.circuits.push(Circuit {
        label,
        when: fields.when(reader),
        span: node.span,
        medium,
        capacity: fields.quantity(reader, "capacity"),
        target: fields.quantity(reader, "target"),
        fluid: fields.words_fact(reader, "fluid"),
        cap: fields.quantity(reader, "cap"),
        price: fields.price(reader, "price"),
        line_volume: fields.quantity(reader, "line-volume"),
        pump_per_turn: fields.quantity(reader, "pump-per-turn"),
        pump_efficiency: fields.quantity(reader, "pump-efficiency"),
        pump_flow: fields.quantity(reader, "pump-flow"),
        draining: fields.estimate(reader, "draining"),
        filling: fields.estimate(reader, "filling"),
        drains: ports(reader, &mut fields, "drain"),
        bleeds: ports(reader, &mut fields, "bleed"),
        fills: ports(reader, &mut fields, "fill"),
        through: fields.mentions(reader, "through"),
        id,
    });
    fields.finish(reader);
}

fn ports(
    reader: &mut Reader,
    fields: &mut Fields<'_>,
    name: &'static str,
) -> Vec<Mention<PortRef>> {
    let words = fields.list(reader, name);
    words.iter().filter_map(|word| reader.port(word)).collect()
}

pub(super) fn read_crossing(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "`if-crossed`");
    let media: Vec<Medium> = (0..2)
        .filter_map(|_| fields.argument())
        .map(|value| medium_of(reader, &value.text, value.span, "if-crossed"))
        .collect();
    let says = fields.text(reader, "says");
    let grade = fields.choice::<CrossingGrade>(reader, "grade");
    fields.finish(reader);
    match (media.as_slice(), says, grade.known()) {
        ([a, b], Some(says), Some(grade)) => book.crossings.push(Crossing {
            a: a.clone(),
            b: b.clone(),
            says,
            grade: *grade,
            span: node.span,
        }),
        _ => reader.faults.add(codes::missing_fact::fault(
            node.span,
            "`if-crossed`",
            "two media, `says=` and `grade=`",
            "if-crossed coolant crankcase says=\"coolant in the sump\" grade=ruin",
        )),
    }
}
