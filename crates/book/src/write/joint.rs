//! Joints: holes that are alike stand on one line.

use crate::fact::Fact;
use crate::hole::{Hole, Washer};
use crate::id::HoleName;
use crate::joint::Joint;
use crate::limit::Origin;
use crate::tighten::{Pattern, PatternKind, Stages, Tighten};
use crate::write::page::{Entry, Page};
use crate::write::values::{head, stage, thread};

pub(super) fn write(page: &mut Page, joint: &Joint) {
    let mut entry = Entry::new("joint");
    entry
        .arg(joint.id.as_str())
        .label(joint.label.as_deref())
        .say("to", joint.to.id.as_str())
        .names("was", &joint.was)
        .when(&joint.when)
        .mention("zone", joint.zone.as_ref())
        .yes_or_no("seizes", &joint.seizes)
        .choice("caps", &joint.caps);
    if let Some(critical) = joint.critical {
        entry.say("critical", critical.word());
    }
    if let Some(end) = joint.from {
        entry.say("from", end.word());
    }
    entry.maybe("note", joint.note.as_deref());
    page.put_block(&entry, |page| {
        for group in joint.holes.chunk_by(alike) {
            write_holes(page, group);
        }
        washers(page, joint);
        for tighten in &joint.tighten {
            write_tighten(page, tighten);
        }
        if let Some(pattern) = &joint.pattern {
            write_pattern(page, pattern);
        }
        for seal in &joint.seals {
            let mut entry = Entry::new("seal");
            entry
                .label(Some(&seal.what))
                .yes_or_no("new", &seal.new)
                .say("count", &seal.count.to_string())
                .holes(seal.holes.as_deref())
                .maybe("side", seal.side.as_deref())
                .quantity("thickness", &seal.thickness)
                .price("price", &seal.price, &page.currency);
            page.put(&entry);
        }
        if let Some(sealant) = &joint.sealant {
            let mut entry = Entry::new("sealant");
            entry
                .label(sealant.what.as_deref())
                .quantity("within", &sealant.within)
                .range("cures", &sealant.cures);
            page.put(&entry);
        }
        if let Some(again) = &joint.retighten {
            let mut entry = Entry::new("retighten");
            entry
                .count("warm-ups", &again.warm_ups)
                .quantity("after", &again.after)
                .yes_or_no("cold", &again.cold)
                .origin(&again.source);
            page.put(&entry);
        }
    });
}

/// Whether two holes differ in nothing but their name.
fn alike(a: &Hole, b: &Hole) -> bool {
    let renamed = Hole {
        name: a.name.clone(),
        ..b.clone()
    };
    *a == renamed
}

fn write_holes(page: &mut Page, group: &[Hole]) {
    let Some(first) = group.first() else {
        return;
    };
    let mut entry = Entry::new(if group.len() == 1 { "hole" } else { "holes" });
    for name in ranges(group.iter().map(|hole| &hole.name)) {
        entry.arg(&name);
    }
    if first.holds.word() != "bolt" {
        entry.say("holds", first.holds.word());
    }
    entry
        .when(&first.when)
        .fact("thread", &first.thread, thread)
        .quantity("length", &first.length)
        .quantity("grip", &first.grip)
        .quantity("thread-depth", &first.thread_depth)
        .choice("bottom", &first.bottom)
        .fact("opens-to", &first.opens_to, |said| {
            said.value.word().to_owned()
        })
        .fact("head", &first.head, head)
        .fact("nut", &first.nut, head)
        .words("grade", &first.grade);
    if !needs_a_node(&first.washer) {
        entry.fact("washer", &first.washer, |said| said.value.what.clone());
    }
    entry
        .words("sleeve", &first.sleeve)
        .words("sealant", &first.sealant)
        .yes_or_no("one-use", &first.one_use)
        .words("adapter", &first.adapter)
        .position(first.position)
        .maybe("note", first.note.as_deref());
    page.put(&entry);
}

/// Whether a washer says more than one word on its hole can.
fn needs_a_node(washer: &Fact<Washer>) -> bool {
    washer.known().is_some_and(|washer| {
        washer.thickness != Fact::NeverAsked
            || washer.count != 1
            || washer.one_use
            || matches!(washer.what.as_str(), "?" | "none")
    })
}

fn washers(page: &mut Page, joint: &Joint) {
    let mut left: Vec<&Hole> = joint
        .holes
        .iter()
        .filter(|hole| needs_a_node(&hole.washer))
        .collect();
    while let Some(first) = left.first().copied() {
        let (same, others): (Vec<&Hole>, Vec<&Hole>) =
            left.iter().partition(|hole| hole.washer == first.washer);
        left = others;
        let Some(washer) = first.washer.known() else {
            continue;
        };
        let names: Vec<HoleName> = same.iter().map(|hole| hole.name.clone()).collect();
        let mut entry = Entry::new("washer");
        entry
            .label(Some(&washer.what))
            .quantity("thickness", &washer.thickness)
            .say("count", &washer.count.to_string())
            .flag("one-use", washer.one_use)
            .holes(Some(&names));
        page.put(&entry);
    }
}

fn write_tighten(page: &mut Page, tighten: &Tighten) {
    let mut entry = Entry::new("tighten");
    match &tighten.stages {
        Stages::Unknown => {
            entry.arg("?");
        }
        Stages::DoesNotApply => {
            entry.arg("none");
        }
        Stages::Known(stages) => {
            for one in stages {
                entry.arg(&stage(&one.spec));
            }
        }
    }
    entry
        .choice("condition", &tighten.condition)
        .maybe("lubricant", tighten.lubricant.as_deref())
        .origin(&tighten.source)
        .holes(tighten.holes.as_deref());
    page.put(&entry);
}

fn write_pattern(page: &mut Page, pattern: &Pattern) {
    let mut entry = Entry::new("pattern");
    match &pattern.kind {
        PatternKind::InsideOut => {
            entry.arg("inside-out");
        }
        PatternKind::OutsideIn => {
            entry.arg("outside-in");
        }
        PatternKind::Cross => {
            entry.arg("cross");
        }
        PatternKind::Around => {
            entry.arg("around");
        }
        PatternKind::Order(order) => {
            for hole in order {
                entry.arg(hole.as_str());
            }
        }
    }
    if pattern.rounds != 1 {
        entry.say("rounds", &pattern.rounds.to_string());
    }
    page.put(&entry);
}

impl Entry {
    /// `holes="A..D F"`, when not all are meant.
    fn holes(&mut self, holes: Option<&[HoleName]>) -> &mut Self {
        match holes {
            Some(holes) => {
                let names: Vec<String> = ranges(holes.iter());
                self.names("holes", &names)
            }
            None => self,
        }
    }

    /// Where a figure comes from.
    pub(super) fn origin(&mut self, origin: &Origin) -> &mut Self {
        if let Some(kind) = origin.kind {
            self.say("source", kind.word());
        }
        self.maybe("at", origin.at.as_deref())
    }
}

/// Names with runs of three and more written as ranges.
fn ranges<'n>(names: impl Iterator<Item = &'n HoleName>) -> Vec<String> {
    let names: Vec<&str> = names.map(HoleName::as_str).collect();
    let mut written = Vec::new();
    for run in names.chunk_by(|a, b| next(a).as_deref() == Some(*b)) {
        match run {
            [first, .., last] if run.len() > 2 => written.push(format!("{first}..{last}")),
            _ => written.extend(run.iter().map(|name| (*name).to_owned())),
        }
    }
    written
}

/// The name that follows in a range: `B` after `A`, `h2` after `h1`.
fn next(name: &str) -> Option<String> {
    let digits = name.bytes().rev().take_while(u8::is_ascii_digit).count();
    let (prefix, number) = name.split_at_checked(name.len() - digits)?;
    if number.is_empty() {
        let mut letters = name.chars();
        let letter = letters.next().filter(char::is_ascii_alphabetic)?;
        let next = char::from(u8::try_from(letter).ok()? + 1);
        let single = letters.next().is_none() && next.is_ascii_alphabetic();
        return single.then(|| next.to_string());
    }
    // `h01` is no number of a range: it would come back as `h1`.
    let plain = !number.starts_with('0');
    let value: u32 = number.parse().ok().filter(|_| plain)?;
    Some(format!("{prefix}{}", value.checked_add(1)?))
}
