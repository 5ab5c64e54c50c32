//! Reads `engine`: layout, numbers, banks, firing order.

use std::collections::BTreeSet;

use crate::book::Book;
use crate::codes;
use crate::engine::{Bank, Engine, InletCloses};
use crate::read::Reader;
use crate::read::fields::{Fields, count_of};
use crate::span::Span;
use crate::tree::{Node, Value};

/// Cylinders of the largest engine anyone opens in one bay.
const MOST_CYLINDERS: u32 = 24;

pub(super) fn read(reader: &mut Reader, node: &Node, book: &mut Book) {
    let mut fields = Fields::new(node, "the engine");
    if let Some(first) = &book.engine {
        reader
            .faults
            .add(codes::said_twice::fault(node.span, "engine", first.span));
        return;
    }
    let layout = fields.id(reader).unwrap_or_default();
    let mut engine = Engine {
        layout,
        span: node.span,
        across: fields.flag(reader, "across"),
        angle: fields.signed(reader, "angle"),
        offset_crankpins: fields.signed(reader, "offset-crankpins"),
        bore: fields.quantity(reader, "bore"),
        stroke: fields.quantity(reader, "stroke"),
        rod: fields.quantity(reader, "rod"),
        ratio: fields.quantity(reader, "ratio"),
        displacement: fields.quantity(reader, "displacement"),
        banks: Vec::new(),
        firing_order: Vec::new(),
        rotation: fields.choice(reader, "rotation"),
        inlet_closes: None,
        strokes: fields.count(reader, "strokes", 2, 4),
        valves: fields.count(reader, "valves", 1, 8),
        lights: fields.choice(reader, "lights"),
    };
    for child in fields.children("bank") {
        engine.banks.extend(read_bank(reader, child));
    }
    check_cylinders(reader, &engine);
    for child in fields.children("firing-order") {
        read_firing_order(reader, child, &mut engine);
    }
    for child in fields.children("inlet-closes") {
        engine.inlet_closes = Some(read_inlet_closes(reader, child));
    }
    fields.finish(reader);
    book.engine = Some(engine);
}

fn numbers(reader: &mut Reader, values: &[&Value], name: &str) -> Vec<u32> {
    values
        .iter()
        .filter_map(|value| count_of(reader, value, name, 1, MOST_CYLINDERS))
        .collect()
}

fn read_bank(reader: &mut Reader, node: &Node) -> Option<Bank> {
    let mut fields = Fields::new(node, "a bank");
    let name = fields.id(reader)?;
    let values = fields.rest();
    let cylinders = numbers(reader, &values, "bank");
    fields.finish(reader);
    Some(Bank {
        name,
        cylinders,
        span: node.span,
    })
}

fn check_cylinders(reader: &mut Reader, engine: &Engine) {
    let mut seen = BTreeSet::new();
    for bank in &engine.banks {
        for cylinder in &bank.cylinders {
            if !seen.insert(*cylinder) {
                reader.faults.add(codes::firing_order::fault(
                    bank.span,
                    &format!("cylinder {cylinder} stands in two places of the banks"),
                ));
            }
        }
    }
}

fn read_firing_order(reader: &mut Reader, node: &Node, engine: &mut Engine) {
    let mut fields = Fields::new(node, "the firing order");
    let values = fields.rest();
    let order = numbers(reader, &values, "firing-order");
    fields.finish(reader);
    let whole = order.len() == node.args.len();
    let banks: BTreeSet<u32> = engine.cylinders().collect();
    let span = match (node.args.first(), node.args.last()) {
        (Some(first), Some(last)) => first.span.to(last.span),
        _ => node.span,
    };
    engine.firing_order = order;
    if whole && !banks.is_empty() {
        check_firing_order(reader, span, &banks, &engine.firing_order);
    }
}

fn check_firing_order(reader: &mut Reader, span: Span, banks: &BTreeSet<u32>, order: &[u32]) {
    let mut fired = BTreeSet::new();
    let mut says = Vec::new();
    for cylinder in order {
        if !fired.insert(*cylinder) {
            says.push(format!("cylinder {cylinder} fires twice"));
        } else if !banks.contains(cylinder) {
            says.push(format!("cylinder {cylinder} is in no bank"));
        }
    }
    for cylinder in banks.difference(&fired) {
        says.push(format!("cylinder {cylinder} never fires"));
    }
    if !says.is_empty() {
        reader
            .faults
            .add(codes::firing_order::fault(span, &says.join(", ")));
    }
}

fn read_inlet_closes(reader: &mut Reader, node: &Node) -> InletCloses {
    let mut fields = Fields::new(node, "`inlet-closes`");
    let after_bottom = match fields.argument() {
        Some(value) => super::fields::fact_of(reader, value, super::quantities::quantity_of),
        None => crate::fact::Fact::NeverAsked,
    };
    // The one reference there is; written so that nobody takes the angle for one before top.
    if let Some(after) = fields.one_word(reader, "after")
        && after.text != "bdc"
    {
        reader.faults.add(codes::unknown_word::fault(
            after.span,
            &after.text,
            "after",
            "bdc (bottom dead centre)",
            &[],
        ));
    }
    let at_lift = fields.quantity(reader, "at-lift");
    fields.finish(reader);
    InletCloses {
        after_bottom,
        at_lift,
        span: node.span,
    }
}
