//! Rules that cannot be followed: against what is in the way, or in a loop.

use super::way_round::Graph;
use crate::book::Book;
use crate::codes;
use crate::id::PartId;
use crate::read::Reader;
use crate::rule::{Order, OrderAct};

pub(super) fn check(book: &Book, reader: &mut Reader) {
    let blocked_by = blocked_by(book);
    for act in OrderAct::ALL {
        check_act(book, *act, &blocked_by, reader);
    }
}

/// Part to the parts that must be off before it, from `needs-off` alone.
fn blocked_by(book: &Book) -> Graph {
    let mut graph = Graph::default();
    for part in &book.parts {
        for mention in &part.needs_off {
            graph.add(part.id.as_str(), mention.id.as_str(), mention.span);
        }
    }
    graph
}

fn check_act(book: &Book, act: OrderAct, blocked_by: &Graph, reader: &mut Reader) {
    let orders = || {
        let rules = book.rules.iter();
        rules
            .flat_map(|rule| &rule.orders)
            .filter(move |order| order.act == act)
    };
    // What comes first to what comes after it: orders of rules, and what the parts themselves ask.
    let mut graph = Graph::default();
    for order in orders() {
        if !contradicts(act, order, blocked_by, reader) {
            graph.add(
                &order.first.id.to_string(),
                &order.then.id.to_string(),
                order.span,
            );
        }
    }
    if act != OrderAct::Tighten {
        for part in &book.parts {
            for mention in &part.needs_off {
                let (first, then) = in_order(act, &part.id, &mention.id);
                graph.add(first.as_str(), then.as_str(), mention.span);
            }
        }
    }
    let in_rules = |span: crate::span::Span| orders().any(|order| order.span.start == span.start);
    for found in graph.loops() {
        // Loops of `needs-off` alone have a code of their own.
        if found.iter().any(|(_, span)| in_rules(*span)) {
            reader
                .faults
                .add(codes::rule_loop::fault(act.word(), &found));
        }
    }
}

/// A part that must be off before another comes off first and goes back last.
const fn in_order<'p>(
    act: OrderAct,
    part: &'p PartId,
    blocker: &'p PartId,
) -> (&'p PartId, &'p PartId) {
    match act {
        OrderAct::TakeOff => (blocker, part),
        OrderAct::Refit | OrderAct::Tighten => (part, blocker),
    }
}

/// One order against `needs-off`.
fn contradicts(act: OrderAct, order: &Order, blocked_by: &Graph, reader: &mut Reader) -> bool {
    let (first, then) = (order.first.id.to_string(), order.then.id.to_string());
    let (blocked, by) = match act {
        OrderAct::TakeOff => (&first, &then),
        OrderAct::Refit => (&then, &first),
        OrderAct::Tighten => return false,
    };
    let Some(way) = blocked_by.way(blocked, by) else {
        return false;
    };
    let says = format!("{} `{first}` before `{then}`", act.word());
    let there = way.first().map_or(order.span, |(_, span)| *span);
    reader.faults.add(codes::rule_against_needs_off::fault(
        order.span, &says, blocked, by, there,
    ));
    true
}
