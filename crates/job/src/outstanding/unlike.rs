//! A fastener that is not like the one that belongs in its hole: length, strength, thread; and
//! what a bolt that is too long points to.

use book::{HoleName, JointId};

use super::{Kind, Outstanding, row};
use crate::item::{Item, Sort, mm, same_length};
use crate::state::{HoleState, State, Where};

/// Two thicknesses nobody tells apart with a rule.
const SAME_MM: f64 = 0.5;

/// Rows of one hole: the book's word on what belongs there, else what came out of it.
pub(super) fn rows(
    state: &State,
    id: &JointId,
    name: &HoleName,
    hole: &HoleState,
    label: &str,
    rows: &mut Vec<Outstanding>,
) {
    let Some(inside) = hole.inside.as_ref().filter(|_| !hole.empty) else {
        return;
    };
    let from_book = state
        .known
        .joint(id)
        .and_then(|joint| joint.hole(name))
        .and_then(crate::met::fastener);
    let said = |kind: Kind, note: String, points_to: Option<String>| {
        let what = format!("{} in {label}, hole {name}", inside.shown());
        let mut row = row(what, kind, Some(format!("hole {name}")), hole.since);
        row.note = Some(note);
        row.points_to = points_to;
        row
    };
    let old = hole.came_out.as_ref();
    if let Some(wants) = other_thread(inside, from_book.as_ref().or(old)) {
        rows.push(said(Kind::WrongThread, format!("wants {wants}"), None));
        return;
    }
    let wanted = from_book.as_ref().and_then(|wanted| wanted.length);
    let wanted = wanted.or(old.and_then(|old| old.length));
    if let (Some(has), Some(wants)) = (inside.length, wanted)
        && inside.sort != Sort::Nut
        && !same_length(&has, &wants)
    {
        let by = has.in_mm() - wants.in_mm();
        let word = if by > 0.0 { "long" } else { "short" };
        let shown = (by.abs() * 10.0).round() / 10.0;
        let note = format!("wants {} mm: {shown} mm too {word}", mm(wants));
        let points_to = (by > 0.0).then(|| too_long(state, id, by));
        rows.push(said(Kind::WrongLength, note, points_to));
    }
    let grade = from_book.as_ref().and_then(|wanted| wanted.grade.as_ref());
    let grade = grade.or(old.and_then(|old| old.grade.as_ref()));
    if let (Some(has), Some(wants)) = (&inside.grade, grade)
        && has != wants
    {
        rows.push(said(Kind::WrongStrength, format!("wants {wants}"), None));
    }
}

/// The thread that belongs there, where what is in has another.
fn other_thread(inside: &Item, wanted: Option<&Item>) -> Option<String> {
    let (has, wants) = (inside.thread.as_ref()?, wanted?.thread.as_ref()?);
    (!has.may_be(wants)).then(|| wants.shown())
}

/// What a bolt too long by so much points to: a thing of that thickness that is not in its
/// place, else what is usual.
fn too_long(state: &State, joint: &JointId, by_mm: f64) -> String {
    let found = thick_as(state, by_mm, Some(joint));
    if found.is_empty() {
        "two bolts exchanged, or a bracket or spacer of that thickness forgotten".to_owned()
    } else {
        found.join("; ")
    }
}

/// Parts, spacers and washers of a thickness, in millimetres, that are not in their places, in
/// words. A spacer of `joint` itself is named without its joint.
#[must_use]
pub fn thick_as(state: &State, by_mm: f64, joint: Option<&JointId>) -> Vec<String> {
    let mut found = Vec::new();
    for (part, held) in &state.parts {
        let thick = state
            .known
            .part(part)
            .and_then(|known| known.thickness.known());
        if let Some(thick) = thick
            && held.state == Where::Off
            && (thick.in_mm() - by_mm).abs() <= SAME_MM
        {
            let label = state.part_label(part);
            found.push(format!("{label} is {} mm thick and still off", mm(*thick)));
        }
    }
    let out = state.joints.iter().flat_map(|(id, held)| {
        let holes = held.holes.values().flat_map(|hole| &hole.out_with);
        let items = holes.chain(&held.unplaced_out);
        items.map(move |item| (item, Some(id)))
    });
    let strays = state.strays.iter().map(|(_, item, _)| (item, None));
    let lost = state.lost.iter().map(|lost| (&lost.item, None));
    for (item, from) in out.chain(strays).chain(lost) {
        let thick = item.length.filter(|_| !item.is_fastener());
        if let Some(thick) = thick
            && (thick.in_mm() - by_mm).abs() <= SAME_MM
        {
            let of = match from.filter(|id| Some(*id) != joint) {
                Some(id) => format!(" of {}", state.joint_label(id)),
                None => String::new(),
            };
            found.push(format!(
                "{}{of} is not in its place",
                item.counting(1).shown()
            ));
        }
    }
    found.dedup();
    found
}
