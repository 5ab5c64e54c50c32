//! Bolts of several lengths: in one joint, in the joints of one part, and in one bag.

use std::collections::{BTreeMap, BTreeSet};

use book::{Book, CrossingGrade, Hole, HoleName, Joint, PartId};
use job::State;
use quantity::Length;

use super::consequence::{Consequence, Shows};
use super::{How, Mixup};
use crate::graph::Graph;

/// Nobody tells bolt lengths apart closer than this by eye.
const SAME_MM: f64 = 0.3;

/// Threads of a fastener in a hole below this many diameters strip; common practice.
const LEAST_THREAD: f64 = 1.0;

/// Bolts of one joint with one thread, head and length.
struct Group<'a> {
    joint: &'a Joint,
    holes: Vec<&'a Hole>,
    length: Length,
}

/// All mix-ups of fasteners.
pub(super) fn find(graph: &Graph, state: &State) -> Vec<Mixup> {
    let book = graph.book();
    let mut rows = Vec::new();
    let mut by_part: BTreeMap<(&PartId, &PartId, String), Vec<Group<'_>>> = BTreeMap::new();
    for joint in &book.joints {
        for (like, group) in groups(joint) {
            by_part
                .entry((&joint.of, &joint.to.id, like))
                .or_default()
                .push(group);
        }
    }
    for groups in by_part.values() {
        for (at, one) in groups.iter().enumerate() {
            for other in &groups[at + 1..] {
                let same_joint = one.joint.id == other.joint.id;
                if apart_mm(one.length, other.length).abs() > SAME_MM {
                    rows.push(row(state, one, other, same_joint));
                }
            }
        }
    }
    rows.extend(buckets(book, state));
    rows
}

/// What makes two fasteners of a joint look alike: sort, thread and head.
fn likeness(hole: &Hole) -> Option<String> {
    let thread = hole.thread.typed()?;
    let head = hole.head.typed().unwrap_or_default();
    Some(format!("{} {thread} {head}", hole.holds.word()))
}

fn groups(joint: &Joint) -> Vec<(String, Group<'_>)> {
    let mut found: Vec<(String, Group<'_>)> = Vec::new();
    for hole in &joint.holes {
        let (Some(like), Some(&length)) = (likeness(hole), hole.length.known()) else {
            continue;
        };
        let held = found.iter_mut().find(|(other, group)| {
            *other == like && apart_mm(group.length, length).abs() <= SAME_MM
        });
        match held {
            Some((_, group)) => group.holes.push(hole),
            None => found.push((
                like,
                Group {
                    joint,
                    holes: vec![hole],
                    length,
                },
            )),
        }
    }
    found
}

fn apart_mm(one: Length, other: Length) -> f64 {
    one.in_mm() - other.in_mm()
}

fn row(state: &State, one: &Group<'_>, other: &Group<'_>, same_joint: bool) -> Mixup {
    let (long, short) = if one.length.in_mm() >= other.length.in_mm() {
        (one, other)
    } else {
        (other, one)
    };
    let critical = one.joint.critical.is_some() || other.joint.critical.is_some();
    Mixup {
        how: How::Swap,
        a: group_name(long),
        b: group_name(short),
        homes: [long, short].map(|group| group.joint.id.to_string()),
        others: Vec::new(),
        ways: None,
        medium_a: None,
        medium_b: None,
        does: does(long, short, critical),
        act: if same_joint {
            format!("one bag, the {} wired together", bolts(long))
        } else {
            "a bag for each joint".to_owned()
        },
        secured: secured(state, long, short, same_joint),
        ends: BTreeSet::new(),
        parts: [&one.joint.of, &other.joint.of].map(PartId::clone).into(),
        nearness: u32::from(same_joint),
    }
}

fn bolts(group: &Group<'_>) -> String {
    let count = group.holes.len();
    let word = if count == 1 { "one" } else { "ones" };
    format!("{} mm {word}", job::mm(group.length))
}

fn group_name(group: &Group<'_>) -> String {
    let names: Vec<&str> = group.holes.iter().map(|hole| hole.name.as_str()).collect();
    let names = match names.as_slice() {
        [first, .., last] if names.len() > 3 => format!("{first}…{last}"),
        _ => names.join(" "),
    };
    let thread = group
        .holes
        .first()
        .and_then(|hole| hole.thread.typed())
        .unwrap_or_default();
    format!(
        "{} {names}: {} {thread}x{}",
        group.joint.id,
        group.holes.len(),
        job::mm(group.length)
    )
}

/// What the long one does in a hole of the short one, as far as the book knows the hole; and
/// the short one in a hole of the long one.
fn does(long: &Group<'_>, short: &Group<'_>, critical: bool) -> Consequence {
    let bottoms = short.holes.iter().any(|hole| {
        let known = hole.grip.known().zip(hole.thread_depth.known());
        known.is_some_and(|(grip, depth)| long.length.in_mm() > grip.in_mm() + depth.in_mm())
    });
    let strips = long.holes.iter().any(|hole| {
        let size = hole.thread.known().map(|thread| thread.diameter.in_mm());
        let left = hole
            .grip
            .known()
            .map(|grip| short.length.in_mm() - grip.in_mm());
        left.zip(size)
            .is_some_and(|(left, size)| left < size * LEAST_THREAD)
    });
    let apart = mm_apart(long.length, short.length);
    let grade = if critical || bottoms {
        CrossingGrade::Damage
    } else {
        CrossingGrade::Nuisance
    };
    let (long_does, shows) = if bottoms {
        (
            format!(
                "the long one bottoms, {apart} mm too long: tight and yet loose, or a cracked casting"
            ),
            Shows::ByDamage,
        )
    } else {
        (
            format!("the long one stands {apart} mm out, or bottoms (depth not written down)"),
            Shows::AtOnce,
        )
    };
    let short_does = if strips {
        "the short one hangs by a few turns and strips"
    } else {
        "the short one holds by less thread"
    };
    Consequence::new(grade, shows, format!("{long_does}; {short_does}"))
}

/// Bags of their own and a count hole by hole make it visible.
fn secured(state: &State, one: &Group<'_>, other: &Group<'_>, same_joint: bool) -> Option<String> {
    let held = [one, other].map(|group| state.joints.get(&group.joint.id));
    if let ([Some(one), Some(other)], false) = (held, same_joint)
        && let (Some(here), Some(there)) = (&one.place, &other.place)
        && here != there
    {
        return Some(format!("{here}, {there}"));
    }
    let told = |group: &Group<'_>, name: &HoleName| {
        let hole = state.joints.get(&group.joint.id)?.holes.get(name)?;
        // What went in was said with its length: the ledger compares it with the hole's own.
        hole.inside.as_ref()?.length
    };
    let all = [one, other].into_iter().all(|group| {
        group
            .holes
            .iter()
            .all(|hole| told(group, &hole.name).is_some())
    });
    all.then(|| "each length was said as it went in".to_owned())
}

/// All bolts of one thread and head over the whole book: what one bucket would do.
fn buckets(book: &Book, state: &State) -> Vec<Mixup> {
    let mut like: BTreeMap<String, Vec<Group<'_>>> = BTreeMap::new();
    for joint in &book.joints {
        for (likeness, group) in groups(joint) {
            like.entry(likeness).or_default().push(group);
        }
    }
    let mut rows = Vec::new();
    for (likeness, groups) in like {
        let joints: BTreeSet<_> = groups.iter().map(|group| &group.joint.id).collect();
        let longest = groups
            .iter()
            .max_by(|one, other| one.length.in_mm().total_cmp(&other.length.in_mm()));
        let shortest = groups
            .iter()
            .min_by(|one, other| one.length.in_mm().total_cmp(&other.length.in_mm()));
        let (Some(longest), Some(shortest)) = (longest, shortest) else {
            continue;
        };
        if joints.len() < 2 || apart_mm(longest.length, shortest.length) <= SAME_MM {
            continue;
        }
        let mut row = row(state, longest, shortest, false);
        let range = format!(
            "{} to {} mm",
            job::mm(shortest.length),
            job::mm(longest.length)
        );
        row.does = Consequence::new(
            CrossingGrade::Damage,
            Shows::ByDamage,
            format!(
                "{} joints share {likeness}, {range}: from one bucket a long bolt finds a short hole and bottoms",
                joints.len()
            ),
        );
        row.act = "a bag for each joint".to_owned();
        let held: Vec<_> = joints
            .iter()
            .filter_map(|id| state.joints.get(*id))
            .collect();
        let loose = held
            .iter()
            .any(|held| held.was_open && held.place.is_none());
        row.secured =
            (!held.is_empty() && !loose).then(|| "every open joint has its bag".to_owned());
        row.parts = groups.iter().map(|group| group.joint.of.clone()).collect();
        rows.push(row);
    }
    rows
}

fn mm_apart(long: Length, short: Length) -> String {
    let tenths = (apart_mm(long, short) * 10.0).round() / 10.0;
    tenths.to_string()
}
