//! Handed parts, parts alike, caps with a number and direction, followers with their shims,
//! gaskets with a side.

use std::collections::BTreeSet;

use book::{Book, Critical, CrossingGrade, Joint, JointId, PairKind, Part, PartId, Ref};
use job::State;

use super::consequence::{Consequence, Shows};
use super::{How, Mixup};
use crate::graph::Graph;

/// All mix-ups of parts, caps, followers and gaskets.
pub(super) fn find(graph: &Graph, state: &State) -> Vec<Mixup> {
    let book = graph.book();
    let mut rows = Vec::new();
    for part in &book.parts {
        rows.extend(pair(book, state, part));
        rows.extend(followers(state, part));
    }
    for joint in &book.joints {
        rows.extend(caps(book, state, joint));
        rows.extend(sides(book, state, joint));
    }
    rows
}

fn row(how: How, a: String, b: String, does: Consequence, act: &str, parts: &[&PartId]) -> Mixup {
    Mixup {
        how,
        a,
        b,
        homes: [String::new(), String::new()],
        others: Vec::new(),
        ways: None,
        medium_a: None,
        medium_b: None,
        does,
        act: act.to_owned(),
        secured: None,
        ends: BTreeSet::new(),
        parts: parts.iter().map(|&part| part.clone()).collect(),
        nearness: 0,
    }
}

fn has_word(part: &Part, word: &str) -> bool {
    let label = part.label.as_deref().unwrap_or_default().to_lowercase();
    part.id.as_str().contains(word) || label.contains(word)
}

/// A coil by what is plugged into it: a high-tension way out and a low-tension way in. Where a
/// book draws no ports, its pieces or its name must do.
fn is_coil(part: &Part) -> bool {
    use book::{Alike, Medium};
    let has = |wanted: &[Medium]| {
        part.ports
            .iter()
            .any(|port| port.medium.known().is_some_and(|it| wanted.contains(it)))
    };
    has(&[Medium::Ignition]) && has(&[Medium::Signal, Medium::Power])
        || part.pieces.known() == Some(&Alike::AnyPlace)
        || part.ports.is_empty() && has_word(part, "coil")
}

/// Two parts that could be taken for each other. Coils alike are none: their plugs are.
fn pair(book: &Book, state: &State, part: &Part) -> Option<Mixup> {
    let pair = part.pair.as_ref()?;
    let other = book.part(&pair.with.id)?;
    // Where both name each other the first in the book has the row.
    let again = other
        .pair
        .as_ref()
        .is_some_and(|back| back.with.id == part.id);
    let place = |id: &PartId| book.parts.iter().position(|part| part.id == *id);
    if again && place(&other.id) < place(&part.id) {
        return None;
    }
    let does = match pair.kind {
        _ if is_coil(part) && is_coil(other) => Consequence::new(
            CrossingGrade::Harmless,
            Shows::AtOnce,
            "the units are alike; only the evidence of which cylinder missed moves with them. Their loom plugs are what must not be crossed",
        ),
        PairKind::Handed => Consequence::new(
            CrossingGrade::Damage,
            Shows::AtOnce,
            "the wrong hand sits badly, leaks, or leaves an oil way closed",
        ),
        PairKind::Turned => Consequence::new(
            CrossingGrade::Damage,
            Shows::ByDamage,
            "it goes on turned round; water and oil ways may end on solid metal",
        ),
        PairKind::LookAlike => Consequence::new(
            CrossingGrade::Damage,
            Shows::ByDamage,
            "they look the same and are not: timing or worn-in faces belong to one place",
        ),
    };
    let act = "paint bank and arrow on each first";
    let mut row = row(
        How::Swap,
        part.id.to_string(),
        other.id.to_string(),
        does,
        act,
        &[&part.id, &other.id],
    );
    row.secured = checked(
        book,
        state,
        &[&part.id, &other.id],
        &[],
        &["hand", "mark", "turned"],
    )
    .or_else(|| painted(state, &[part, other]));
    Some(row)
}

/// Followers and shims have no node of their own; the part that stands for them says so by
/// `pieces=own-place`. Only a book that does not say is read by its words.
fn followers(state: &State, part: &Part) -> Option<Mixup> {
    let own_place = match part.pieces.known() {
        Some(pieces) => *pieces == book::Alike::OwnPlace,
        None => has_word(part, "follower") || has_word(part, "shim"),
    };
    if !own_place {
        return None;
    }
    let does = Consequence::new(
        CrossingGrade::Damage,
        Shows::ByDamage,
        "each has worn in with its own lobe and carries its own shim: clearances are wrong, faces wear; never turn the head over with them in it",
    );
    let act = "numbered tray, cam by cam";
    let mut row = row(
        How::Rotation,
        part.id.to_string(),
        "each other".to_owned(),
        does,
        act,
        &[&part.id],
    );
    let held = state.parts.get(&part.id);
    let tray = held.and_then(|held| held.place.as_deref()).filter(|place| {
        let place = place.to_lowercase();
        place.contains("tray") || place.contains("box") || place.starts_with('t')
    });
    row.secured = tray.map(str::to_owned);
    Some(row)
}

/// Caps were bored in line: each belongs in its place and faces one way.
fn caps(book: &Book, state: &State, joint: &Joint) -> Option<Mixup> {
    let words = format!(
        "{} {} {}",
        joint.id,
        joint.label.as_deref().unwrap_or_default(),
        notes(joint)
    )
    .to_lowercase();
    let bearing = matches!(
        joint.critical,
        Some(Critical::Cam | Critical::Main | Critical::Rod)
    );
    let spoken = words
        .split(|letter: char| !letter.is_alphabetic())
        .any(|word| word == "caps" || word == "cap");
    // Rods and mains are nothing but caps; elsewhere the book says, or its words must do.
    let bottom_end = matches!(joint.critical, Some(Critical::Main | Critical::Rod));
    let are_caps = match joint.caps.known() {
        Some(caps) => *caps == book::Alike::OwnPlace,
        None => bottom_end || spoken && (bearing || joint.holes.len() >= 4),
    };
    if !are_caps {
        return None;
    }
    let grade = if matches!(joint.critical, Some(Critical::Main | Critical::Rod)) {
        CrossingGrade::Ruin
    } else {
        CrossingGrade::Damage
    };
    let does = Consequence::new(
        grade,
        Shows::ByDamage,
        "caps are bored in line: out of place or turned round one pinches the shaft; it seizes or the cap breaks",
    );
    let act = if notes(joint).is_empty() {
        "number each, arrow to the drive end"
    } else {
        "read numbers and arrows first"
    };
    let mut row = row(
        How::Rotation,
        format!("caps of {}", joint.id),
        "each other, or turned".to_owned(),
        does,
        act,
        &[&joint.of],
    );
    row.secured = checked(book, state, &[&joint.of], &[&joint.id], &["cap"]);
    Some(row)
}

fn notes(joint: &Joint) -> String {
    let mut notes: Vec<&str> = joint
        .holes
        .iter()
        .filter_map(|hole| hole.note.as_deref())
        .filter(|note| note.contains("cap"))
        .collect();
    notes.dedup();
    notes.join("; ")
}

/// Gaskets with a front, a top or a hand.
fn sides(book: &Book, state: &State, joint: &Joint) -> Vec<Mixup> {
    let sided = joint
        .seals
        .iter()
        .filter_map(|seal| Some((seal, seal.side.as_ref()?)));
    let row = |(seal, side): (&book::Seal, &String)| {
        let head = joint.critical == Some(Critical::Head);
        let does = if head {
            Consequence::new(
                CrossingGrade::Ruin,
                Shows::ByDamage,
                "turned round or over it closes water or oil ways: the engine overheats or runs dry",
            )
        } else {
            Consequence::new(
                CrossingGrade::Damage,
                Shows::ByDamage,
                "turned round or over it closes a way or leaks",
            )
        };
        let act = "lay it on dry, hole over hole; photo".to_owned();
        let mut row = row(
            How::Turned,
            seal.what.clone(),
            side.clone(),
            does,
            &act,
            &[&joint.of],
        );
        row.homes = [joint.id.to_string(), String::new()];
        let bank = joint.of.as_str().split('-').next().unwrap_or_default();
        row.secured = side_checked(book, state, joint, bank);
        row
    };
    sided.map(row).collect()
}

/// A check of the gasket: about the joint or its part; or about the face it lies on, where it
/// names the bank, because on one face two heads may sit.
fn side_checked(book: &Book, state: &State, joint: &Joint, bank: &str) -> Option<String> {
    let done = state.checks.keys().filter_map(|id| book.check(id));
    let mut mine = done.filter(|check| {
        let words = format!(
            "{} {}",
            check.id,
            check.label.as_deref().unwrap_or_default()
        )
        .to_lowercase();
        let about = match check.of.as_ref().map(|of| &of.id) {
            Some(Ref::Part(part)) => {
                *part == joint.of || *part == joint.to.id && words.contains(bank)
            }
            Some(Ref::Joint(id)) => *id == joint.id,
            Some(_) | None => false,
        };
        about && words.contains("gasket")
    });
    mine.next().map(|check| format!("check {}", check.id))
}

/// A check that was done on one of these and is named for what it looked at.
fn checked(
    book: &Book,
    state: &State,
    parts: &[&PartId],
    joints: &[&JointId],
    words: &[&str],
) -> Option<String> {
    let done = state.checks.keys().filter_map(|id| book.check(id));
    let mut mine = done.filter(|check| {
        let name = format!(
            "{} {}",
            check.id,
            check.label.as_deref().unwrap_or_default()
        )
        .to_lowercase();
        let about = match check.of.as_ref().map(|of| &of.id) {
            Some(Ref::Part(part)) => parts.contains(&part),
            Some(Ref::Joint(joint)) => joints.contains(&joint),
            Some(_) | None => false,
        };
        about && words.iter().any(|word| name.contains(word))
    });
    mine.next().map(|check| format!("check {}", check.id))
}

/// A note on both parts that says they were marked.
fn painted(state: &State, parts: &[&Part]) -> Option<String> {
    let marked = |part: &&&Part| {
        state.notes.iter().any(|(_, about, text)| {
            let mine = about.as_deref().is_some_and(|about| {
                job::same_name(about, part.id.as_str())
                    || part
                        .label
                        .as_deref()
                        .is_some_and(|label| job::same_name(about, label))
            });
            let text = text.to_lowercase();
            mine && (text.contains("mark") || text.contains("paint"))
        })
    };
    parts
        .iter()
        .all(|part| marked(&part))
        .then(|| "marked, as noted".to_owned())
}
