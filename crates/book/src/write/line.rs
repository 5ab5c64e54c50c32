//! Hoses and their like, circuits, crossings.

use crate::circuit::Circuit;
use crate::line::{End, Line};
use crate::medium::{Crossing, Medium};
use crate::write::page::{Entry, Page};
use crate::write::part::{mentions, tools};

pub(super) fn write(page: &mut Page, line: &Line) {
    let mut entry = Entry::new(line.kind.word());
    entry
        .arg(line.id.as_str())
        .label(line.label.as_deref())
        .names("was", &line.was)
        .when(&line.when)
        .fact("medium", &line.medium, |said| said.value.word().to_owned())
        .quantity("bore", &line.bore)
        .quantity("length", &line.length)
        .words("restrictor", &line.restrictor)
        .effort(&line.effort)
        .yes_or_no("one-use", &line.one_use)
        .yes_or_no("wearing", &line.wearing)
        .price("price", &line.price, &page.currency)
        .maybe("route", line.route.as_deref())
        .maybe("note", line.note.as_deref());
    page.put_block(&entry, |page| {
        for (side, end) in ["from", "to"].into_iter().zip(&line.ends) {
            write_end(page, side, end);
        }
        tools(page, &line.effort);
    });
}

fn write_end(page: &mut Page, side: &str, end: &End) {
    let mut entry = Entry::new(side);
    entry
        .arg(&end.port.id.to_string())
        .fact("clamp", &end.clamp, |said| said.value.word().to_owned())
        .quantity("bore", &end.bore)
        .words("key", &end.key)
        .quantity("reach", &end.reach)
        .mention("held-by", end.held_by.as_ref())
        .maybe("mark", end.mark.as_deref());
    page.put(&entry);
}

pub(super) fn write_circuit(page: &mut Page, circuit: &Circuit) {
    let mut entry = Entry::new("circuit");
    entry
        .arg(circuit.id.as_str())
        .label(circuit.label.as_deref())
        .when(&circuit.when);
    if Medium::of_word(circuit.id.as_str()) != circuit.medium {
        entry.say("medium", circuit.medium.word());
    }
    entry
        .quantity("capacity", &circuit.capacity)
        .quantity("target", &circuit.target)
        .words("fluid", &circuit.fluid)
        .quantity("cap", &circuit.cap)
        .quantity("line-volume", &circuit.line_volume)
        .quantity("pump-per-turn", &circuit.pump_per_turn)
        .quantity("pump-efficiency", &circuit.pump_efficiency)
        .quantity("pump-flow", &circuit.pump_flow)
        .estimate("draining", &circuit.draining)
        .estimate("filling", &circuit.filling)
        .price("price", &circuit.price, &page.currency);
    page.put_block(&entry, |page| {
        mentions(page, "drain", &circuit.drains);
        mentions(page, "bleed", &circuit.bleeds);
        mentions(page, "fill", &circuit.fills);
        mentions(page, "through", &circuit.through);
    });
}

pub(super) fn write_crossing(page: &mut Page, crossing: &Crossing) {
    let mut entry = Entry::new("if-crossed");
    entry
        .arg(crossing.a.word())
        .arg(crossing.b.word())
        .maybe("says", Some(&crossing.says))
        .say("grade", crossing.grade.word());
    page.put(&entry);
}
