//! The map of ends: where each belongs, what runs through it, its tag, on or off; drawn with
//! zones as columns.

use std::collections::{BTreeMap, BTreeSet};

use book::{CrossingGrade, Line, LineKind, Medium, PartId};
use job::State;
use report::{Align, Cell, Figure, Join, Net, Picture, Report, Stroke, Table, Thing};

use super::{How, find};
use crate::answer::{Job, counted};

/// Every end with its port, and the drawing of what joins what.
#[must_use]
pub fn ends(job: &Job, state: &State) -> Report {
    let book = job.graph.book();
    let mut report = Report::new("ends", "Ends and where they belong");
    let mut table = Table::new(&[
        ("end", "end", Align::Left),
        ("port", "belongs on", Align::Left),
        ("medium", "medium", Align::Left),
        ("bore", "bore", Align::Right),
        ("tag", "tag", Align::Left),
        ("state", "", Align::Left),
        ("key", "", Align::Left),
        ("clamp", "", Align::Left),
    ]);
    let mut off = 0;
    for line in &book.lines {
        for (end, own) in line.ends.iter().enumerate() {
            let loose = is_off(state, line, end);
            off += usize::from(loose);
            let port = book.port(&own.port.id);
            let medium = port
                .and_then(|port| port.medium.known())
                .or_else(|| line.medium.known());
            let bore = line
                .bore_at(end)
                .typed()
                .or_else(|| port.and_then(|port| port.bore.typed()));
            let tag = tag(state, line, end);
            let key = own
                .key
                .typed()
                .or_else(|| port.and_then(|port| port.key.typed()));
            table.push(vec![
                Cell::from(format!(
                    "{}{}",
                    end_name(line, end),
                    if loose { " (off)" } else { "" }
                )),
                Cell::from(own.port.id.to_string()),
                Cell::from(medium.map(ToString::to_string)),
                Cell::from(bore.map(str::to_owned)),
                Cell::from(tag),
                Cell::from(if loose { "off" } else { "on" }),
                Cell::from(key.map(str::to_owned)),
                Cell::from(own.clamp.known().map(|clamp| clamp.word().to_owned())),
            ]);
        }
    }
    let all = table.rows.len();
    report.headline = Some(match off {
        0 => format!("{}, all on their ports.", counted(all, "end")),
        _ => format!("{}, {off} of them off.", counted(all, "end")),
    });
    report.figures.push(Figure::count("ends", "ends", all));
    report.figures.push(Figure::count("off", "off", off));
    report.rows = table;
    report.pictures.push(picture(job, state));
    report
}

/// An end as the record writes it.
pub(super) fn end_name(line: &Line, end: usize) -> String {
    format!("{}.{}", line.id, if end == 0 { "from" } else { "to" })
}

pub(super) fn is_off(state: &State, line: &Line, end: usize) -> bool {
    state.lines.get(&line.id).is_some_and(|ends| ends[end].off)
}

/// The tag or mark on an end.
pub(crate) fn tag(state: &State, line: &Line, end: usize) -> Option<String> {
    let mine = |tag: &&job::Tag| {
        tag.end
            .as_ref()
            .is_some_and(|(id, side)| *id == line.id && *side == end)
    };
    let tag = state.tags.iter().find(mine).map(|tag| tag.tag.clone());
    tag.or_else(|| line.ends[end].mark.clone())
}

/// Zones as columns, parts as things, a stroke for each line; loose ends hang dashed, and ends
/// that could be exchanged with damage are in paint.
#[expect(
    clippy::too_many_lines,
    reason = "one answer, read from the top; its parts have no name of their own yet"
)]
fn picture(job: &Job, state: &State) -> Picture {
    let book = job.graph.book();
    let suspects: BTreeSet<_> = find(&job.graph, state)
        .found
        .into_iter()
        .filter(|mixup| mixup.secured.is_none() && mixup.does.grade >= CrossingGrade::Damage)
        .filter(|mixup| matches!(mixup.how, How::Swap | How::Rotation | How::Takes))
        .flat_map(|mixup| mixup.ends.into_iter().map(|(line, _)| line))
        .collect();
    let mut net = Net {
        title: "What joins what".to_owned(),
        ..Net::default()
    };
    let mut columns: BTreeMap<String, usize> = BTreeMap::new();
    let mut column = |net: &mut Net, zone: String| {
        *columns.entry(zone.clone()).or_insert_with(|| {
            net.columns.push(zone);
            net.columns.len() - 1
        })
    };
    let on: BTreeSet<&PartId> = book
        .lines
        .iter()
        .flat_map(|line| &line.ends)
        .map(|end| &end.port.id.part)
        .collect();
    for part in book.parts.iter().filter(|part| on.contains(&part.id)) {
        let zone = part
            .zone
            .as_ref()
            .map_or("on the vehicle", |zone| zone.id.as_str());
        let column = column(&mut net, zone.to_owned());
        net.things.push(Thing {
            id: part.id.to_string(),
            label: job.graph.part_name(&part.id),
            column,
            off: !crate::Standing::from(state).in_place(&part.id),
            in_hand: false,
        });
    }
    for line in &book.lines {
        let medium = line
            .medium
            .known()
            .or_else(|| book.port(&line.ends[0].port.id)?.medium.known());
        let (stroke, letter) = stroke(line.kind, medium);
        let mut seats = line.ends.each_ref().map(|end| end.port.id.part.to_string());
        for end in [0, 1] {
            if !is_off(state, line, end) {
                continue;
            }
            let loose = end_name(line, end);
            let column = column(&mut net, "loose".to_owned());
            net.things.push(Thing {
                id: loose.clone(),
                label: format!("{loose}, belongs on {}", line.ends[end].port.id),
                column,
                off: true,
                in_hand: true,
            });
            seats[end] = loose;
        }
        let [from, to] = seats;
        net.joins.push(Join {
            id: line.id.to_string(),
            from,
            to,
            stroke,
            label: format!("{letter} {}", line.id),
            arrow: false,
            suspect: suspects.contains(&line.id),
        });
    }
    Picture::Net(net)
}

/// How a line is drawn, with its letter, so that a grey print still reads.
fn stroke(kind: LineKind, medium: Option<&Medium>) -> (Stroke, &'static str) {
    match medium {
        Some(Medium::Coolant) => (Stroke::LongDash, "C"),
        Some(Medium::Vacuum) => (Stroke::Dots, "V"),
        Some(Medium::Fuel) => (Stroke::DashDot, "F"),
        Some(Medium::Oil) => (Stroke::Double, "O"),
        Some(Medium::Signal) => (Stroke::Thin, "S"),
        Some(Medium::Ground | Medium::Power) => (Stroke::Thick, "G"),
        Some(Medium::Crankcase) => (Stroke::DashDotDot, "K"),
        Some(Medium::Purge) => (Stroke::ShortDash, "P"),
        Some(Medium::Ignition) => (Stroke::Zigzag, "I"),
        Some(_) | None if kind == LineKind::Ground => (Stroke::Thick, "G"),
        Some(_) | None => (Stroke::Plain, "·"),
    }
}
