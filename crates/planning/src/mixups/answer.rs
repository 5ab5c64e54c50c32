//! Mix-ups as a report: rows worst first, what could not be told, and care for the tests.

use book::{CrossingGrade, PartId};
use job::{Named, State};
use report::{Align, Ask, Caution, Cell, Figure, Finding, Report, Source, Table, Weight};

use super::{How, Mixup, Mixups, Open, find};
use crate::answer::{Job, counted, refused};
use crate::item::Item;

const COMMAND: &str = "mixups";

/// As many of the worst stand in full sentences where nobody asked about one thing.
const SENTENCES: usize = 3;

/// How much is told beside the rows.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Telling {
    /// The worst in full sentences, and what goes for all of them.
    Worst,
    /// Every row in full sentences: it was asked about.
    Whole,
}

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
    let keep = |mixup: &Mixup| before.is_none_or(|part| hides(job, part, mixup));
    answer(job, state, title, &keep, all, Telling::Worst)
}

/// Every mix-up these things take part in, each in full sentences.
#[must_use]
pub fn mixups_of(job: &Job, state: &State, things: &[Named], all: bool) -> Report {
    let names: Vec<String> = things.iter().map(Named::shown).collect();
    let title = format!("What could be exchanged with {}", names.join(", "));
    let keep = |mixup: &Mixup| things.iter().any(|thing| mixup.concerns(thing));
    answer(job, state, title, &keep, all, Telling::Whole)
}

fn answer(
    job: &Job,
    state: &State,
    title: String,
    keep: &dyn Fn(&Mixup) -> bool,
    all: bool,
    telling: Telling,
) -> Report {
    let mut report = Report::new(COMMAND, title);
    let mut found = find(&job.graph, state);
    found.found.retain(|mixup| keep(mixup));
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
    // Of one thing every rotation it takes part in is a row already, or a step of one.
    if found.rotations > 0 && telling == Telling::Worst {
        let note = "the worst are listed; of the others every step is an exchange, and the same tags end them";
        report
            .figures
            .push(Figure::count("rotations", "rotations of three", found.rotations).note(note));
    }
    report.rows = table(&found.found);
    worst(&mut report, &found.found, telling);
    if telling == Telling::Worst {
        left_off(&mut report, &found.left_off);
        report.asks.extend(found.open.iter().map(ask));
        report.asks.extend(untold(&found));
    }
    if !found.found.is_empty() {
        report.because.push("Listed is what goes on by sort, key, bore (1 mm of stretch), clamp, side of the engine and length; what happens is the table's word, or the book's where it has an `if-crossed`.".to_owned());
        if telling == Telling::Worst && found.found.len() > SENTENCES {
            report
                .because
                .push("What any other would do: matchmark mixups NAME.".to_owned());
        }
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
        (0, _) if untold_ends(found).count() > 1 => {
            "Nothing known here can be taken for something else; not everything is known."
                .to_owned()
        }
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
        ("with", "with this", Align::Left),
        ("act", "the cheapest act", Align::Left),
        ("b", "", Align::Left),
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
        table.push(vec![
            Cell::from(mixup.does.grade.word()),
            Cell::from(mixup.a.as_str()),
            Cell::from(with(mixup)),
            Cell::from(
                mixup
                    .secured
                    .as_ref()
                    .map_or_else(|| mixup.act.clone(), |how| format!("safe: {how}")),
            ),
            Cell::from(mixup.b.as_str()),
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

/// The other side of a row as a reader sees it. An exchange is the usual case and needs no
/// word; any other way says which it is.
fn with(mixup: &Mixup) -> String {
    let more = mixup.others.len();
    match mixup.how {
        How::Rotation if !mixup.ends.is_empty() => {
            format!("{}, {}: all three round", mixup.b, mixup.others.join(", "))
        }
        How::Takes => format!("{}, which is left over", mixup.b),
        How::Unused => format!("{}, an unused port", mixup.b),
        How::Turned if !mixup.ends.is_empty() => "itself, end for end".to_owned(),
        _ if more > 0 => format!("{} +{more}", mixup.b),
        _ => mixup.b.clone(),
    }
}

/// The worst in full sentences: what happens, when it shows, what to do.
fn worst(report: &mut Report, found: &[Mixup], telling: Telling) {
    if telling == Telling::Whole {
        report.findings.extend(found.iter().map(sentence));
        return;
    }
    let is_harmless = |mixup: &&Mixup| mixup.does.grade == CrossingGrade::Harmless;
    let open = found.iter().filter(|mixup| mixup.secured.is_none());
    let worst = open.take(SENTENCES).filter(|mixup| !is_harmless(mixup));
    report.findings.extend(worst.map(sentence));
    let harmless = found.iter().filter(is_harmless).count();
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

fn sentence(mixup: &Mixup) -> Finding {
    let homes = match (mixup.how, &mixup.homes) {
        // The words of a rotation say where each of the three would sit.
        (How::Rotation, _) => String::new(),
        // The words beside the first home say that nothing belongs on the other.
        (How::Unused, [a, _]) => format!(" (it belongs on {a})"),
        (_, [a, b]) if !a.is_empty() && !b.is_empty() => {
            format!(" (they belong on {a} and {b})")
        }
        (_, [a, _]) if !a.is_empty() => format!(" (it belongs on {a})"),
        _ => String::new(),
    };
    let says = format!(
        "{}{homes}: {}. It shows {}",
        mixup.how.words(),
        mixup.does.says,
        mixup.does.shows.words()
    );
    let concerns = if mixup.how == How::Rotation && !mixup.ends.is_empty() {
        let others = mixup.others.join(", ");
        format!("{}, {} and {others}", mixup.a, mixup.b)
    } else {
        format!("{} with {}", mixup.a, with(mixup))
    };
    let finding = Finding::new("mix-up", concerns, says);
    match &mixup.secured {
        Some(how) => finding
            .next(format!("nothing, it is safe: {how}"))
            .weight(Weight::Note),
        None => finding.next(mixup.act.clone()).weight(Weight::Look),
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
    let names: Vec<String> = open.of.iter().cloned().collect();
    let shown = few(&names);
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

/// The ends of which nobody said what runs through them.
fn untold_ends(found: &Mixups) -> impl Iterator<Item = String> {
    let untold = found
        .left_off
        .iter()
        .filter(|row| row.medium_a.is_none() && row.secured.is_none());
    untold.flat_map(|row| {
        let name = |(line, end): &(book::LineId, usize)| {
            format!("{line}.{}", if *end == 0 { "from" } else { "to" })
        };
        row.ends.iter().map(name)
    })
}

/// Two ends that nobody said anything of could carry anything, plug leads among them.
fn untold(found: &Mixups) -> Option<Ask> {
    let ends: Vec<String> = untold_ends(found).collect();
    (ends.len() > 1).then(|| {
        Ask::new(
            format!("what runs through {}", few(&ends)),
            "without it nobody can say what an exchange of two of them does.",
            "write medium= at the hose or lead in the book; without a book correct its entry: `off NAME: from …, to …, medium fuel`",
        )
    })
}

/// The first names of a list, and how many more there are.
fn few(names: &[String]) -> String {
    match names.len() {
        0..=6 => names.join(", "),
        more => format!("{} and {} more", names[..6].join(", "), more - 6),
    }
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
