//! Mix-ups as a report: rows worst first, what could not be told, and care for the tests.

use book::{CrossingGrade, PartId};
use job::State;
use report::{Align, Ask, Caution, Cell, Figure, Finding, Report, Source, Table, Weight};

use super::{Mixup, Mixups, Open, find};
use crate::answer::{Job, counted, refused};
use crate::item::Item;

const COMMAND: &str = "mixups";

/// What could go back wrong, worst first: everything not made safe yet, or all of it; of a
/// part, only what putting it on would hide.
#[must_use]
pub fn mixups(job: &Job, state: &State, before: Option<&PartId>, all: bool) -> Report {
    let graph = &job.graph;
    if let Some(part) = before.filter(|part| graph.at(part).is_none()) {
        let says = format!("{part} is not in the book of this vehicle");
        return refused(
            COMMAND,
            "Mix-ups",
            "not-a-part",
            says,
            "name a part of the book",
        );
    }
    let title = match before {
        Some(part) => format!(
            "Mix-ups to rule out before {} goes on",
            graph.part_name(part)
        ),
        None => "What could go back in the wrong place".to_owned(),
    };
    let mut report = Report::new(COMMAND, title);
    let mut found = find(graph, state);
    found
        .found
        .retain(|mixup| before.is_none_or(|part| hides(job, part, mixup)));
    let safe = found
        .found
        .iter()
        .filter(|mixup| mixup.secured.is_some())
        .count();
    let open = found.found.len() - safe;
    if !all {
        found.found.retain(|mixup| mixup.secured.is_none());
    }
    report.headline = Some(headline(&found, open, safe));
    report
        .figures
        .push(Figure::count("open", "not made safe", open));
    report
        .figures
        .push(Figure::count("secured", "made safe", safe));
    if found.rotations > 0 {
        let note = "the worst are listed; of the others every step is an exchange, and the same tags end them";
        report
            .figures
            .push(Figure::count("rotations", "rotations of three", found.rotations).note(note));
    }
    report.rows = table(&found.found);
    worst(&mut report, &found.found);
    left_off(&mut report, &found.left_off);
    report.asks.extend(found.open.iter().map(ask));
    if !found.found.is_empty() {
        report.because.push("Listed is what goes on by sort, key, bore (1 mm of stretch), clamp, side of the engine and length; what happens is the table's word, or the book's where it has an `if-crossed`.".to_owned());
        cautions(&mut report, &found.found);
        report.cite(Source::common_practice(
            "what crossed media and parts do; how far a hose stretches and reaches",
        ));
    }
    report
}

/// Whether putting a part on would hide something of a mix-up, or is part of it.
fn hides(job: &Job, part: &PartId, mixup: &Mixup) -> bool {
    let Some(at) = job.graph.at(part) else {
        return false;
    };
    let covered = |(line, end): &(book::LineId, usize)| {
        job.graph
            .item_access(&Item::End(line.clone(), *end))
            .all
            .contains(&at)
    };
    let under = |other: &PartId| {
        job.graph
            .at(other)
            .is_some_and(|other| job.graph.nodes[other].needs.all.contains(&at))
    };
    let by_part = mixup.ends.is_empty()
        && mixup
            .parts
            .iter()
            .any(|other| other == part || under(other));
    by_part || mixup.parts.contains(part) || mixup.ends.iter().any(covered)
}

fn headline(found: &Mixups, open: usize, safe: usize) -> String {
    let worst = found.found.iter().find(|mixup| mixup.secured.is_none());
    match (open, worst) {
        (0, _) if safe > 0 => format!(
            "Nothing left: all {} are made safe.",
            counted(safe, "mix-up")
        ),
        (0, _) => "Nothing here can be taken for something else.".to_owned(),
        (_, Some(worst)) => format!(
            "{} not made safe; the worst: {} with {}.",
            counted(open, "mix-up"),
            worst.a,
            worst.b
        ),
        (_, None) => format!("{} not made safe.", counted(open, "mix-up")),
    }
}

fn table(found: &[Mixup]) -> Table {
    let mut table = Table::new(&[
        ("grade", "grade", Align::Left),
        ("a", "this", Align::Left),
        ("b", "with this", Align::Left),
        ("act", "the cheapest act", Align::Left),
        ("how", "", Align::Left),
        ("medium_a", "", Align::Left),
        ("medium_b", "", Align::Left),
        ("home_a", "", Align::Left),
        ("home_b", "", Align::Left),
        ("others", "", Align::Left),
        ("ways", "", Align::Right),
        ("says", "", Align::Left),
        ("shows", "", Align::Left),
        ("secured", "", Align::Left),
    ]);
    for mixup in found {
        let medium =
            |medium: &Option<book::Medium>| Cell::from(medium.as_ref().map(ToString::to_string));
        let b = match mixup.others.len() {
            0 => mixup.b.clone(),
            more => format!("{} +{more}", mixup.b),
        };
        table.push(vec![
            Cell::from(mixup.does.grade.word()),
            Cell::from(mixup.a.as_str()),
            Cell::from(b),
            Cell::from(
                mixup
                    .secured
                    .as_ref()
                    .map_or_else(|| mixup.act.clone(), |how| format!("safe: {how}")),
            ),
            Cell::from(mixup.how.words()),
            medium(&mixup.medium_a),
            medium(&mixup.medium_b),
            Cell::from(mixup.homes[0].as_str()),
            Cell::from(mixup.homes[1].as_str()),
            Cell::List(mixup.others.clone()),
            mixup.ways.map_or(Cell::None, |ways| {
                Cell::Number(ways as f64, ways.to_string())
            }),
            Cell::from(mixup.does.says.as_str()),
            Cell::from(mixup.does.shows.words()),
            Cell::from(mixup.secured.clone()),
        ]);
    }
    table
}

/// The three worst in full sentences: what happens, when it shows, what to do.
fn worst(report: &mut Report, found: &[Mixup]) {
    for mixup in found.iter().filter(|mixup| mixup.secured.is_none()).take(3) {
        if mixup.does.grade == CrossingGrade::Harmless {
            continue;
        }
        let homes = match &mixup.homes {
            [a, b] if !a.is_empty() && !b.is_empty() => format!(" (on {a} and {b})"),
            [a, _] if !a.is_empty() => format!(" (on {a})"),
            _ => String::new(),
        };
        let says = format!(
            "{}{homes}, {}: {}",
            mixup.b,
            mixup.how.words(),
            mixup.does.says
        );
        report.findings.push(
            Finding::new(
                "mix-up",
                mixup.a.clone(),
                format!("{says}. It shows {}", mixup.does.shows.words()),
            )
            .next(mixup.act.clone())
            .weight(Weight::Look),
        );
    }
    let harmless = found
        .iter()
        .filter(|mixup| mixup.does.grade == CrossingGrade::Harmless)
        .count();
    if harmless > 0 {
        let says = format!(
            "{} harmless: listed last, so that nobody hunts for them",
            counted(harmless, "exchange")
        );
        report
            .findings
            .push(Finding::new("harmless", "", says).weight(Weight::Note));
    }
}

/// Ends left off, worst first, in one finding: the ledger counts each of them.
fn left_off(report: &mut Report, rows: &[Mixup]) {
    let mut open: Vec<&Mixup> = rows.iter().filter(|row| row.secured.is_none()).collect();
    open.sort_by_key(|row| std::cmp::Reverse(row.does.grade));
    if open.is_empty() {
        return;
    }
    let line = |row: &&Mixup| {
        let medium = row
            .medium_a
            .as_ref()
            .map_or_else(|| "not told".to_owned(), ToString::to_string);
        format!(
            "{} ({}, {}): {}",
            medium,
            counted(row.ends.len(), "end"),
            row.does.grade.word(),
            row.does.says
        )
    };
    let finding = Finding::new("left-off", "", "any end may also be left off")
        .next("log each end off and on; the gates ask for every one");
    report.findings.push(Finding {
        detail: open.iter().map(line).collect(),
        ..finding.weight(Weight::Note)
    });
}

fn ask(open: &Open) -> Ask {
    let names: Vec<&str> = open.of.iter().map(String::as_str).collect();
    let shown = match names.len() {
        0..=6 => names.join(", "),
        more => format!("{} and {} more", names[..6].join(", "), more - 6),
    };
    let word = open.missing.word();
    Ask::new(
        format!("{word} of {shown}"),
        format!(
            "without it an exchange can be neither told nor ruled out; at worst: {}.",
            open.worst
        ),
        format!("write {word}=\"…\" at the end or port in the book"),
    )
}

fn cautions(report: &mut Report, found: &[Mixup]) {
    let acts = |word: &str| found.iter().any(|mixup| mixup.act.contains(word));
    if acts("low-pressure air") {
        report.cautions.push(Caution::new(
            "blowing through a hose",
            "eyes covered, pressure turned right down, the far end open and pointed away; never into fuel, brake or refrigerant lines, never against skin.",
        ));
    }
    if acts("continuity") {
        report.cautions.push(Caution::new(
            "continuity tests",
            "battery disconnected first; keep off airbag and belt circuits (yellow or marked plugs): those are for licensed people and the maker's own steps.",
        ));
    }
    let media = |wanted: &book::Medium| {
        found.iter().any(|mixup| {
            mixup.medium_a.as_ref() == Some(wanted) || mixup.medium_b.as_ref() == Some(wanted)
        })
    };
    if media(&book::Medium::Fuel) {
        report.cautions.push(Caution::new(
            "fuel lines",
            "pressure let off the way the maker says, no flame or spark, air through the bay.",
        ));
    }
}
