//! Parts that can never come off: in each other's way, or waiting for one that stays.

use std::collections::BTreeSet;

use super::way_round::Graph;
use crate::book::Book;
use crate::codes;
use crate::id::PartId;
use crate::part::{NeedsOffAny, Part};
use crate::read::Reader;
use crate::span::Mention;

pub(super) fn check(book: &Book, reader: &mut Reader) {
    let off = what_comes_off(book);
    let stuck =
        |mention: &Mention<PartId>| book.part(&mention.id).is_some() && !off.contains(&mention.id);
    for part in &book.parts {
        for mention in &part.needs_off {
            if let Some(fixed) = book.part(&mention.id).filter(|other| other.fixed) {
                reader.faults.add(codes::fixed_in_the_way::fault(
                    mention.span,
                    part.id.as_str(),
                    fixed.id.as_str(),
                    fixed.span,
                ));
            }
        }
    }
    let mut graph = Graph::default();
    for part in book.parts.iter().filter(|part| !off.contains(&part.id)) {
        for mention in part.needs_off.iter().filter(|mention| stuck(mention)) {
            graph.add(part.id.as_str(), mention.id.as_str(), mention.span);
        }
        for choice in part
            .needs_off_any
            .iter()
            .filter(|choice| !is_open(choice, &off))
        {
            let blockers = choice
                .ways
                .iter()
                .flat_map(|way| way.parts.iter().find(|part| stuck(part)));
            for mention in blockers {
                graph.add(part.id.as_str(), mention.id.as_str(), mention.span);
            }
        }
    }
    for found in graph.loops() {
        reader.faults.add(codes::needs_off_loop::fault(&found));
    }
}

/// All parts that can come off one after another, whatever else holds them.
fn what_comes_off(book: &Book) -> BTreeSet<PartId> {
    let mut off = BTreeSet::new();
    loop {
        let before = off.len();
        for part in &book.parts {
            if !off.contains(&part.id) && is_free(part, &off) {
                off.insert(part.id.clone());
            }
        }
        if off.len() == before {
            return off;
        }
    }
}

fn is_free(part: &Part, off: &BTreeSet<PartId>) -> bool {
    part.needs_off
        .iter()
        .all(|mention| off.contains(&mention.id))
        && part.needs_off_any.iter().all(|choice| is_open(choice, off))
}

fn is_open(choice: &NeedsOffAny, off: &BTreeSet<PartId>) -> bool {
    choice
        .ways
        .iter()
        .any(|way| way.parts.iter().all(|part| off.contains(&part.id)))
}
