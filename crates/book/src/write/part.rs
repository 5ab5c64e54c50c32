//! Parts with ports, ways and outside work.

use crate::book::Book;
use crate::effort::Effort;
use crate::part::Part;
use crate::port::Port;
use crate::write::joint;
use crate::write::page::{Entry, Page};

pub(super) fn write(page: &mut Page, part: &Part, book: &Book) {
    let mut entry = Entry::new("part");
    entry
        .arg(part.id.as_str())
        .label(part.label.as_deref())
        .names("was", &part.was)
        .when(&part.when)
        .mention("zone", part.zone.as_ref())
        .effort(&part.effort)
        .yes_or_no("one-use", &part.one_use)
        .yes_or_no("wearing", &part.wearing)
        .price("price", &part.price, &page.currency)
        .range("lead", &part.lead)
        .choice("pieces", &part.pieces)
        .words("material", &part.material)
        .quantity("thickness", &part.thickness)
        .flag("fixed", part.fixed)
        .maybe("note", part.note.as_deref());
    page.put_block(&entry, |page| {
        mentions(page, "needs-off", &part.needs_off);
        for choice in &part.needs_off_any {
            page.put_block(&Entry::new("needs-off-any"), |page| {
                for way in &choice.ways {
                    mentions(page, "way", &way.parts);
                }
            });
        }
        mentions(page, "comes-with", &part.comes_with);
        mentions(page, "needs-drained", &part.needs_drained);
        tools(page, &part.effort);
        if let Some(pair) = &part.pair {
            let mut entry = Entry::new("pair");
            entry
                .arg(pair.with.id.as_str())
                .say("kind", pair.kind.word());
            page.put(&entry);
        }
        outside(page, part);
        for port in &part.ports {
            write_port(page, port);
        }
        // Where two parts share an id for two variants, the joints stand in the one they came with.
        let owner = |joint: &&crate::joint::Joint| {
            let parts = book.parts.iter().filter(|other| other.id == joint.of);
            parts
                .filter(|other| !other.when.excludes(&joint.when))
                .map(|other| other.span.start)
                .filter(|start| *start <= joint.span.start)
                .max()
        };
        for joint in book.joints_of(&part.id) {
            let at_home = owner(&joint).is_none_or(|start| start == part.span.start);
            if at_home {
                joint::write(page, joint);
            }
        }
    });
}

pub(super) fn mentions<I: ToString>(
    page: &mut Page,
    word: &str,
    mentions: &[crate::span::Mention<I>],
) {
    let ids: Vec<String> = mentions
        .iter()
        .map(|mention| mention.id.to_string())
        .collect();
    page.list(word, &ids);
}

pub(super) fn tools(page: &mut Page, effort: &Effort) {
    mentions(page, "tools", &effort.tools);
}

fn outside(page: &mut Page, part: &Part) {
    for work in &part.outside {
        let mut entry = Entry::new("outside");
        entry.label(Some(&work.what));
        page.put_block(&entry, |page| {
            for outcome in &work.outcomes {
                let mut entry = Entry::new(outcome.kind.word());
                entry
                    .range("takes", &outcome.takes)
                    .price("price", &outcome.price, &page.currency);
                page.put(&entry);
            }
        });
    }
}

fn write_port(page: &mut Page, port: &Port) {
    let mut entry = Entry::new("port");
    entry
        .arg(port.name.as_str())
        .label(port.label.as_deref())
        .fact("medium", &port.medium, |said| said.value.word().to_owned())
        .quantity("bore", &port.bore)
        .words("key", &port.key)
        .mention("zone", port.zone.as_ref())
        .flag("open", port.open)
        .position(port.position)
        .when(&port.when);
    page.put(&entry);
}

impl Entry {
    /// Times, hands and hoist; tools stand on a line of their own.
    pub(super) fn effort(&mut self, effort: &Effort) -> &mut Self {
        self.estimate("off", &effort.off)
            .estimate("on", &effort.on)
            .count("hands", &effort.hands)
            .yes_or_no("hoist", &effort.hoist)
    }
}
