//! Figures no such bolt ever gets where no book has one to hold them against, and bolts that
//! were loosened and count from the first stage again.

use std::collections::BTreeMap;

use calc::torque::lookalike::{Oddity, odd_torques};
use job::EntryId;
use quantity::{Kind, plausible, spec};
use report::{Finding, Weight};

use super::super::Course;
use crate::fastener;
use crate::tightening::typed_unit;

/// Figures entered for bolts the book has none for: more than the thread can take, or no
/// tightening torque at all. The entry is kept and questioned.
pub(super) fn far_off(course: &Course<'_>, only: Option<EntryId>, found: &mut Vec<Finding>) {
    let mut by_entry: BTreeMap<EntryId, (&str, Vec<usize>)> = BTreeMap::new();
    for (at, seat) in course.seats.iter().enumerate() {
        if seat.group.is_some() {
            continue;
        }
        for done in seat.tightened() {
            if only.is_none_or(|only| only == done.entry)
                && let Some(typed) = done.figure.as_deref()
            {
                let (_, seats) = by_entry.entry(done.entry).or_insert((typed, Vec::new()));
                seats.push(at);
            }
        }
    }
    for (entry, (typed, seats)) in by_entry {
        let Some(says) = doubt(course, typed, &seats) else {
            continue;
        };
        found.push(
            Finding::new(
                "figure-doubted",
                course.runs(&seats),
                format!("entry {entry}: {says}"),
            )
            .next(format!(
                "read figure and unit again; if only the line is wrong: `correct {entry}: …`"
            ))
            .weight(Weight::Stop),
        );
    }
}

/// What speaks against a figure.
fn doubt(course: &Course<'_>, typed: &str, seats: &[usize]) -> Option<String> {
    let said = spec::read(typed).ok()?;
    let torque = said.value.largest_torque()?;
    if let Err(fault) = plausible::TIGHTENING_TORQUE.check(torque) {
        return Some(fault.to_string());
    }
    let hole = course.seats.get(*seats.first()?)?.hole;
    let thread = fastener::thread(&hole.thread)?;
    let written = typed_unit(Kind::Torque, typed);
    let odd = odd_torques(
        &thread,
        fastener::class(&hole.grade),
        &[torque],
        false,
        written,
    );
    let odd = odd.ok()?.into_iter().next()?;
    (odd.oddity == Oddity::TooMuch).then(|| {
        format!(
            "{typed} is {:.1} times what an {thread} usually gets, more than it can take",
            odd.of_usual.in_fraction()
        )
    })
}

/// Bolts loosened after they had been tightened: said, because they begin at stage 1 again.
pub(super) fn loosened(course: &Course<'_>, found: &mut Vec<Finding>) {
    let redone = course.redone();
    let mut by_entry: BTreeMap<EntryId, Vec<usize>> = BTreeMap::new();
    for (at, seat) in course.seats.iter().enumerate() {
        if let Some(entry) = seat.loosened_by() {
            by_entry.entry(entry).or_default().push(at);
        }
    }
    for (entry, seats) in by_entry {
        let alone = seats.iter().any(|seat| redone.contains(seat));
        let says = if alone {
            format!("loosened on their own (entry {entry}); these count from stage 1 again")
        } else {
            format!("loosened (entry {entry}); the joint begins at stage 1 again")
        };
        let mut finding =
            Finding::new("begins-again", course.runs(&seats), says).weight(Weight::Note);
        if alone && course.joint.critical.is_some() {
            finding = finding
                .next("on a joint that must hold, makers mostly want all bolts loosened in the reverse order and begun again")
                .weight(Weight::Look);
        }
        found.push(finding);
    }
}
