//! May it be turned now?

use book::{Sense, ShaftKind};
use report::{Align, Ask, Caution, Cell, Report, Table};

use super::{Job, counted};
use crate::graph::Graph;
use crate::turn::{Turning, Unknown, turn as look};

/// What may be turned now, which way, how far, and why not.
#[must_use]
pub fn turn(job: &Job) -> Report {
    let graph = &job.graph;
    let mut report = Report::new("turn", "What may be turned now");
    let shafts = look(graph, &job.standing);
    report.rows = rows(graph, &shafts);
    let may = shafts.iter().filter(|shaft| shaft.may).count();
    report.headline = Some(match (shafts.len(), may) {
        (0, _) => "The book names no shaft, so nothing may be turned: unknown means no.".to_owned(),
        (all, may) if all == may => format!(
            "All {} may be turned, by hand and slowly.",
            counted(all, "shaft")
        ),
        (_, 0) => "Nothing may be turned now.".to_owned(),
        (all, may) => format!(
            "{may} of {} may be turned, by hand and slowly.",
            counted(all, "shaft")
        ),
    });
    if shafts.is_empty() {
        report.asks.push(Ask::new(
            "crank and cams",
            "unknown means no",
            "write `shaft` nodes in the book",
        ));
    }
    report.asks.extend(asks(&shafts));
    caution(&mut report, &shafts);
    report.because.push("A pin that is in, a drive that is off over a head that is on, or a fact nobody knows: each means no.".to_owned());
    report
}

/// One row a shaft.
fn rows(graph: &Graph, shafts: &[Turning]) -> Table {
    let name = |id: &book::ShaftId| {
        let label = graph.book().shaft(id).and_then(|shaft| shaft.label.clone());
        label.unwrap_or_else(|| id.to_string())
    };
    let mut table = Table::new(&[
        ("shaft", "shaft", Align::Left),
        ("may_turn", "may turn", Align::Left),
        ("how", "how", Align::Left),
        ("why", "why", Align::Left),
        ("way", "", Align::Left),
        ("how_far", "", Align::Left),
        ("by", "", Align::Left),
    ]);
    for shaft in shafts {
        let by = shaft
            .by
            .as_ref()
            .map_or_else(String::new, |by| format!(" by {}", name(by)));
        let far = if shaft.may {
            "any number of turns"
        } else {
            "not at all"
        };
        let way = shaft.may.then(|| format!("{}{by}", sense(shaft)));
        let how = way
            .as_ref()
            .map_or_else(|| far.to_owned(), |way| format!("{way}, {far}"));
        table.push(vec![
            Cell::from(name(&shaft.shaft)),
            Cell::Flag(shaft.may),
            Cell::from(how),
            Cell::from(shaft.why.join("; ")),
            Cell::from(way),
            Cell::from(far),
            Cell::from(shaft.by.as_ref().map(|by| by.to_string())),
        ]);
    }
    table
}

/// What to mind where something may be turned.
fn caution(report: &mut Report, shafts: &[Turning]) {
    if !shafts.iter().any(|shaft| shaft.may) {
        return;
    }
    report.cautions.push(Caution::new(
        "turning by hand",
        "plugs out, nothing lost inside, nobody's fingers in the drive; stop where it resists and find out why, never force it",
    ));
    if shafts
        .iter()
        .any(|shaft| shaft.may && shaft.kind == ShaftKind::Cam && shaft.by.is_none())
    {
        report.cautions.push(Caution::new(
            "turning a cam on its own",
            "valves of two cams in one head can meet each other: turn one at a time, and none against resistance",
        ));
    }
}

/// Every crank that may not be turned now, with why: what a gate before turning asks.
#[must_use]
pub fn stuck_cranks(job: &Job) -> Vec<Turning> {
    look(&job.graph, &job.standing)
        .into_iter()
        .filter(|shaft| !shaft.may && shaft.kind == ShaftKind::Crank)
        .collect()
}

fn sense(shaft: &Turning) -> &'static str {
    match shaft.way {
        Some(Sense::Clockwise) => "clockwise",
        Some(Sense::Anticlockwise) => "anticlockwise",
        None => "either way",
    }
}

/// What is to be looked up or looked at, each once: where the crank stands settles it for every
/// cam parked at the same angle.
fn asks(shafts: &[Turning]) -> Vec<Ask> {
    let mut asks: Vec<Ask> = Vec::new();
    let mut parked: Vec<(String, Vec<&book::ShaftId>)> = Vec::new();
    for unknown in shafts.iter().flat_map(|shaft| &shaft.unknown) {
        if let Unknown::Parked(shaft, Some(angle)) = unknown {
            let angle = quantity::show(*angle, &quantity::unit::DEGREE);
            match parked.iter_mut().find(|(other, _)| *other == angle) {
                Some((_, shafts)) => shafts.push(shaft),
                None => parked.push((angle, vec![shaft])),
            }
        } else if let Some(ask) = ask(unknown)
            && !asks.contains(&ask)
        {
            asks.push(ask);
        }
    }
    asks.extend(parked.into_iter().map(|(angle, shafts)| {
        let shafts: Vec<String> = shafts.into_iter().map(ToString::to_string).collect();
        Ask::new(
            format!("whether the crank stands {angle} before top of cylinder 1"),
            format!("there no piston is near a valve of {}", shafts.join(", ")),
            "look, then log `note crank parked: …`; or ask with matchmark turn --parked",
        )
    }));
    asks
}

fn ask(unknown: &Unknown) -> Option<Ask> {
    Some(match unknown {
        Unknown::Sense(shaft) => Ask::new(
            format!("which way {shaft} may be turned"),
            "turned the wrong way a chain or belt can jump",
            format!(
                "write sense=clockwise or anticlockwise at shaft {shaft} in the book, seen on the drive end"
            ),
        ),
        Unknown::Drive(shaft) => Ask::new(
            format!("what drives {shaft}"),
            "without it nobody knows whether the drive is on",
            format!("write drive= and drive-part= at shaft {shaft} in the book"),
        ),
        Unknown::Seat(shaft) => Ask::new(
            format!("what {shaft} sits in"),
            "its valves are only clear of the pistons while that is off",
            format!("write sits-in= at shaft {shaft} in the book"),
        ),
        Unknown::Interference(shaft) => Ask::new(
            format!("whether valves of {shaft} can meet a piston"),
            "not known counts as yes",
            format!("write interference=#true or #false at shaft {shaft} in the book"),
        ),
        Unknown::Parked(_, Some(_)) => return None,
        Unknown::Parked(shaft, None) => Ask::new(
            "where the crank has to stand so that no piston is near a valve",
            format!("only there may {shaft} be turned with its drive off"),
            format!("write parked= at shaft {shaft} in the book"),
        ),
    })
}
