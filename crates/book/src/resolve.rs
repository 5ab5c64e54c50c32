//! What only shows when the whole book is read: ends on ports, loops, rules.

mod ends;
mod loops;
mod orders;
mod way_round;

use std::collections::BTreeMap;

use crate::book::Book;
use crate::codes;
use crate::id::{HoleRef, Ref, VariantId};
use crate::read::Reader;
use crate::span::Mention;

/// Above this many combinations of variants only a part of them is looked at: each value of each
/// variant once, the others at their first.
const MOST_COMBINATIONS: usize = 64;

/// Checks a whole book; faults go to the reader.
pub(crate) fn check(book: &Book, reader: &mut Reader) {
    ends::check(book, reader);
    check_holes(book, reader);
    for chosen in combinations(book) {
        let view = book.under(&chosen);
        loops::check(&view, reader);
        orders::check(&view, reader);
    }
}

/// Every set of choices a job can make.
fn combinations(book: &Book) -> Vec<BTreeMap<VariantId, String>> {
    let product: usize = book
        .variants
        .iter()
        .map(|variant| variant.values.len().max(1))
        .fold(1, usize::saturating_mul);
    let firsts: BTreeMap<VariantId, String> = book
        .variants
        .iter()
        .filter_map(|variant| Some((variant.id.clone(), variant.values.first()?.clone())))
        .collect();
    if product > MOST_COMBINATIONS {
        let single = |variant: &crate::variant::Variant, value: &String| {
            let mut chosen = firsts.clone();
            chosen.insert(variant.id.clone(), value.clone());
            chosen
        };
        return book
            .variants
            .iter()
            .flat_map(|variant| {
                variant
                    .values
                    .iter()
                    .map(move |value| single(variant, value))
            })
            .collect();
    }
    let mut all = vec![BTreeMap::new()];
    for variant in &book.variants {
        all = all
            .iter()
            .flat_map(|chosen| {
                variant.values.iter().map(move |value| {
                    let mut chosen = chosen.clone();
                    chosen.insert(variant.id.clone(), value.clone());
                    chosen
                })
            })
            .collect();
    }
    all
}

/// Holes that limits and checks are about must be there.
fn check_holes(book: &Book, reader: &mut Reader) {
    let subjects = book
        .limits
        .iter()
        .filter_map(|limit| limit.of.as_ref())
        .chain(book.checks.iter().filter_map(|check| check.of.as_ref()));
    for Mention { id, span } in subjects {
        let Ref::Hole(HoleRef { joint, hole }) = id else {
            continue;
        };
        let Some(known) = book.joint(joint) else {
            continue;
        };
        if known.hole(hole).is_none() {
            reader
                .faults
                .add(codes::unknown_hole::fault(*span, hole, known));
        }
    }
}
