//! The map of ends: where each belongs, what runs through it, its tag, on or off; drawn a row
//! a line, by what runs in it.

use book::{Line, LineKind, Medium};
use job::State;
use report::{Align, Cell, Figure, Report, Table};

use super::board;
use crate::answer::{Job, counted};

/// Every end with its port, and the drawings of what joins what.
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
        for end in [0, 1] {
            off += usize::from(is_off(state, line, end));
            table.push(row(job, state, line, end));
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
    report.pictures = board::boards(job, state);
    report
}

fn row(job: &Job, state: &State, line: &Line, end: usize) -> Vec<Cell> {
    let book = job.graph.book();
    let own = &line.ends[end];
    let loose = is_off(state, line, end);
    let port = book.port(&own.port.id);
    let medium = port
        .and_then(|port| port.medium.known())
        .or_else(|| line.medium.known());
    let bore = line
        .bore_at(end)
        .typed()
        .or_else(|| port.and_then(|port| port.bore.typed()));
    let key = own
        .key
        .typed()
        .or_else(|| port.and_then(|port| port.key.typed()));
    let shown = format!(
        "{}{}",
        end_name(line, end),
        if loose { " (off)" } else { "" }
    );
    vec![
        Cell::from(shown),
        Cell::from(own.port.id.to_string()),
        Cell::from(medium.map(ToString::to_string)),
        Cell::from(bore.map(str::to_owned)),
        Cell::from(tag(state, line, end)),
        Cell::from(if loose { "off" } else { "on" }),
        Cell::from(key.map(str::to_owned)),
        Cell::from(own.clamp.known().map(|clamp| clamp.word().to_owned())),
    ]
}

/// What runs through a line: its own word, else that of the port it begins on.
pub(super) fn medium_of<'b>(book: &'b book::Book, line: &'b Line) -> Option<&'b Medium> {
    let of_port = || book.port(&line.ends[0].port.id)?.medium.known();
    let of_kind = (line.kind == LineKind::Ground).then_some(&Medium::Ground);
    line.medium.known().or_else(of_port).or(of_kind)
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
