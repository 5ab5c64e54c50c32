//! Loose fasteners and empty holes: which of the holes each could belong to, and which of the
//! fasteners could serve each hole. The surest stands first.

use std::collections::BTreeMap;

use book::{HoleName, JointId};
use job::{Item, Sort, State, same_length};
use report::{Align, Cell, Figure, Finding, Report, Table, Weight};

use crate::answer::counted;

/// Some fasteners alike that lie about.
pub(crate) struct Loose {
    pub(crate) item: Item,
    /// The joint they came out of, where that is known.
    pub(crate) from: Option<JointId>,
    pub(crate) place: Option<String>,
    /// Their own hole, where another one sits in it.
    taken: Option<String>,
}

/// Some empty holes of one joint that want the same.
struct Empty {
    joint: JointId,
    holes: Vec<HoleName>,
    wants: Item,
    /// The part is on: the hole should not be empty.
    closed: bool,
}

/// How well a fastener suits a hole, best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Suits {
    /// It came from this joint and agrees in all that is known.
    Own,
    /// It agrees in all that is known.
    Size,
    /// Thread and head agree, the length does not.
    OtherLength,
}

/// Every loose fastener with the empty holes it could belong to, then every empty hole with
/// the loose fasteners that serve it.
#[must_use]
pub fn loose(state: &State) -> Report {
    let (things, holes) = (things(state), holes(state));
    let mut report = Report::new("loose", "Loose fasteners and empty holes");
    let mut table = Table::new(&[
        ("what", "this", Align::Left),
        ("place", "lies in", Align::Left),
        ("fits", "could belong to, surest first", Align::Left),
        ("kind", "", Align::Left),
        ("best", "", Align::Left),
    ]);
    for thing in &things {
        table.push(thing_row(thing, &holes));
    }
    for hole in &holes {
        let row = hole_row(hole, &things);
        if hole.closed && row[4] == Cell::None {
            let says = format!(
                "empty, wants {}, and nothing loose fits it",
                hole.wants.shown()
            );
            report.findings.push(
                Finding::new("nothing-fits", hole_name(hole), says)
                    .next("look where the part was laid down; log it as lost if it is")
                    .weight(Weight::Look),
            );
        }
        table.push(row);
    }
    let count = |items: u32| usize::try_from(items).unwrap_or(usize::MAX);
    let loose = count(things.iter().map(|thing| thing.item.count).sum());
    let empty: usize = holes.iter().map(|hole| hole.holes.len()).sum();
    report.headline = Some(match (loose, empty) {
        (0, 0) => "No fastener is loose and no hole is empty.".to_owned(),
        _ => format!(
            "{} loose, {} empty.",
            counted(loose, "fastener"),
            counted(empty, "hole")
        ),
    });
    report
        .figures
        .push(Figure::count("loose", "loose fasteners", loose));
    report
        .figures
        .push(Figure::count("empty", "empty holes", empty));
    report.rows = table;
    report
}

fn thing_row(thing: &Loose, holes: &[Empty]) -> Vec<Cell> {
    let mut fits = ranked(holes.iter().filter_map(|hole| {
        Some((
            suits(thing, hole)?,
            hole_name(hole),
            length_note(thing, hole),
        ))
    }));
    fits.extend(thing.taken.clone());
    vec![
        Cell::from(thing.item.shown()),
        Cell::from(thing.place.clone()),
        Cell::List(fits.clone()),
        Cell::from("fastener"),
        Cell::from(fits.into_iter().next()),
    ]
}

fn hole_row(hole: &Empty, things: &[Loose]) -> Vec<Cell> {
    let serve = ranked(things.iter().filter_map(|thing| {
        Some((
            suits(thing, hole)?,
            thing.item.shown(),
            length_note(thing, hole),
        ))
    }));
    vec![
        Cell::from(format!("empty: {}", hole_name(hole))),
        Cell::from(if hole.closed { "part is on" } else { "" }),
        Cell::List(serve.clone()),
        Cell::from("hole"),
        Cell::from(serve.into_iter().next()),
    ]
}

fn hole_name(hole: &Empty) -> String {
    let names: Vec<&str> = hole.holes.iter().map(HoleName::as_str).collect();
    match names.as_slice() {
        [first, .., last] if names.len() > 3 => format!("{} {first}…{last}", hole.joint),
        _ => format!("{} {}", hole.joint, names.join(" ")),
    }
}

fn length_note(thing: &Loose, hole: &Empty) -> String {
    match (thing.item.length, hole.wants.length) {
        (Some(has), Some(wants)) if !same_length(&has, &wants) => {
            let by = ((has.in_mm() - wants.in_mm()) * 10.0).round() / 10.0;
            format!(
                " ({} mm too {})",
                by.abs(),
                if by > 0.0 { "long" } else { "short" }
            )
        }
        _ => String::new(),
    }
}

fn suits(thing: &Loose, hole: &Empty) -> Option<Suits> {
    if thing.item.may_be(&hole.wants) {
        let own = thing.from.as_ref() == Some(&hole.joint);
        return Some(if own { Suits::Own } else { Suits::Size });
    }
    thing
        .item
        .is_like(&hole.wants)
        .then_some(Suits::OtherLength)
}

fn ranked(found: impl Iterator<Item = (Suits, String, String)>) -> Vec<String> {
    let mut found: Vec<_> = found.collect();
    found.sort();
    // A wrong length is only of use where nothing else is left.
    if found.iter().any(|(suits, ..)| *suits < Suits::OtherLength) {
        found.retain(|(suits, ..)| *suits < Suits::OtherLength);
    }
    found
        .into_iter()
        .map(|(_, name, note)| format!("{name}{note}"))
        .collect()
}

/// Fasteners whose own hole holds another one that is unlike them, and that sit in no other
/// such hole either. Where a new one went in, the old one is done with.
fn displaced(state: &State) -> Vec<Loose> {
    let holes = state.joints.iter().flat_map(|(joint, held)| {
        let filled = held.holes.iter().filter(|(_, hole)| !hole.empty);
        filled.filter_map(move |(name, hole)| {
            let (was, is) = (hole.came_out.as_ref()?, hole.inside.as_ref()?);
            let other = is.new != Some(true) && !hole.broke && !is.may_be(was);
            other.then_some((joint, held, name, was, is))
        })
    });
    let holes: Vec<_> = holes.collect();
    let mut sitting: Vec<&Item> = holes.iter().map(|(.., is)| *is).collect();
    let mut found = Vec::new();
    for (joint, held, name, was, is) in holes {
        if let Some(at) = sitting.iter().position(|other| other.may_be(was)) {
            sitting.remove(at);
            continue;
        }
        found.push(Loose {
            item: was.counting(1),
            from: Some(joint.clone()),
            place: held.place.clone(),
            taken: Some(format!(
                "{joint} {name}, where {} sits",
                is.counting(1).shown()
            )),
        });
    }
    found
}

/// What came out and is not back, by joint and description; and what was found.
pub(crate) fn things(state: &State) -> Vec<Loose> {
    let mut found: Vec<Loose> = displaced(state);
    for (joint, held) in &state.joints {
        let out = held
            .holes
            .values()
            .filter(|hole| hole.empty && !hole.broke)
            .filter_map(|hole| hole.ready.as_ref().or(hole.came_out.as_ref()));
        let mut back: Vec<Item> = held.unplaced_back.clone();
        let unplaced = held.unplaced_out.iter().filter_map(|item| {
            let mut left = item.count;
            for other in back.iter_mut().filter(|other| other.may_be(item)) {
                let taken = left.min(other.count);
                left -= taken;
                other.count -= taken;
            }
            (left > 0).then(|| item.counting(left))
        });
        let unplaced: Vec<Item> = unplaced.collect();
        // Washers, sleeves and spacers lie in the same bag and belong in the same holes.
        let with = held.holes.values().flat_map(|hole| &hole.out_with);
        for item in out.chain(with).chain(&unplaced) {
            let alike = |thing: &&mut Loose| {
                thing.from.as_ref() == Some(joint)
                    && thing.taken.is_none()
                    && thing.item.counting(0) == item.counting(0)
            };
            match found.iter_mut().find(alike) {
                Some(thing) => thing.item.count += item.count,
                None => found.push(Loose {
                    item: item.clone(),
                    from: Some(joint.clone()),
                    place: held.place.clone(),
                    taken: None,
                }),
            }
        }
    }
    let strays = state
        .strays
        .iter()
        .filter(|(_, item, _)| item.sort != Sort::Seal);
    found.extend(strays.map(|(_, item, place)| Loose {
        item: item.clone(),
        from: None,
        place: place.clone(),
        taken: None,
    }));
    found
}

fn holes(state: &State) -> Vec<Empty> {
    let mut found: Vec<Empty> = Vec::new();
    for (id, held) in &state.joints {
        let closed = state
            .known
            .joint(id)
            .is_some_and(|joint| !state.is_away(&joint.of));
        let mut groups: BTreeMap<String, (Item, Vec<HoleName>)> = BTreeMap::new();
        for (name, hole) in &held.holes {
            let wanted = state.wanted_in(id, name).filter(|_| hole.empty);
            for wants in wanted.into_iter().chain(hole.out_with.iter().cloned()) {
                groups
                    .entry(wants.shown())
                    .or_insert_with(|| (wants, Vec::new()))
                    .1
                    .push(name.clone());
            }
        }
        found.extend(groups.into_values().map(|(wants, holes)| Empty {
            joint: id.clone(),
            holes,
            wants,
            closed,
        }));
    }
    found.sort_by_key(|hole| !hole.closed);
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::{ClientId, Entry, EntryId};

    const BOOK: &str = r#"
part block fixed=#true
part pump {
    joint pump-bolts to=block {
        holes A B thread=M8x1.25 length="40 mm" head="13 mm"
        hole C thread=M8x1.25 length="65 mm" head="13 mm"
        hole P holds=dowel
    }
}
part cover {
    joint cover-bolts to=block { holes A B thread=M6x1 length="20 mm" head="10 mm"; }
}
"#;

    fn report(lines: &[&str]) -> Report {
        let (book, faults) = book::read(BOOK);
        assert!(faults.is_empty(), "{faults:?}");
        let entry = |(line, number): (&&str, u64)| Entry {
            id: EntryId(number),
            client: ClientId(number.to_string()),
            author: "me".to_owned(),
            at: 0,
            line: (*line).to_owned(),
            act: job::line::read_line(line).unwrap(),
        };
        let entries: Vec<Entry> = lines.iter().zip(1..).map(entry).collect();
        loose(&job::replay(Some(&book), &entries))
    }

    #[test]
    fn each_length_finds_its_holes_and_no_others() {
        let report = report(&["off pump", "off cover"]);
        let row = |what: &str| {
            report
                .rows
                .rows
                .iter()
                .find(|row| matches!(&row[0], Cell::Text(text) if text.contains(what)))
                .unwrap_or_else(|| panic!("{what}: {:#?}", report.rows.rows))
        };
        assert_eq!(
            row("M8x1.25x65")[2],
            Cell::List(vec!["pump-bolts C".to_owned()])
        );
        assert_eq!(
            row("M8x1.25x40")[2],
            Cell::List(vec!["pump-bolts A B".to_owned()])
        );
        assert_eq!(
            row("M6x1x20")[2],
            Cell::List(vec!["cover-bolts A B".to_owned()])
        );
        assert_eq!(report.figure("empty").unwrap().value as i64, 5);
    }

    #[test]
    fn a_spacer_and_a_dowel_are_matched_with_their_own_holes() {
        let report = report(&["off pump: 2 bolts M8x40, 1 bolt M8x65, 1 spacer hole C, 1 dowel"]);
        let fits = |what: &str| {
            let row = report
                .rows
                .rows
                .iter()
                .find(|row| row[0] == Cell::from(what));
            row.unwrap_or_else(|| panic!("{what}: {:#?}", report.rows.rows))[2].clone()
        };
        assert_eq!(
            fits("1 spacer"),
            Cell::List(vec!["pump-bolts C".to_owned()])
        );
        assert_eq!(fits("1 dowel"), Cell::List(vec!["pump-bolts P".to_owned()]));
    }

    #[test]
    fn a_bolt_whose_hole_holds_another_is_still_loose_and_two_exchanged_are_not() {
        let off = "off pump: 2 bolts M8x40, 1 bolt M8x65, bag 3";
        let other = report(&[off, "on pump: 3 bolts M8x40"]);
        assert_eq!(other.rows.rows.len(), 1, "{:#?}", other.rows.rows);
        assert_eq!(other.rows.rows[0][0], Cell::from("1 bolt M8x1.25x65 13 mm"));
        assert_eq!(other.rows.rows[0][1], Cell::from("bag 3"));
        let Cell::List(fits) = &other.rows.rows[0][2] else {
            panic!("no list");
        };
        assert!(fits[0].starts_with("pump-bolts C, where 1 bolt M8x40"));
        let crossed = "on pump: 1 bolt M8x65 hole A, 2 bolts M8x40 holes B C";
        assert!(report(&[off, crossed]).rows.rows.is_empty());
        let renewed = "on pump: 2 bolts M8x40, 1 new bolt M8x40 8.8 hole C";
        assert!(report(&[off, renewed]).rows.rows.is_empty());
    }

    #[test]
    fn an_untouched_job_has_nothing_loose() {
        assert!(report(&[]).rows.rows.is_empty());
    }
}
