//! What is still to be done before the job is whole, and why a gate is closed for it.

mod kind;
mod joint;
mod unlike;

pub use kind::Kind;
pub use unlike::thick_as;

use report::{Align, Finding, Report, Table, Weight};

use crate::entry::EntryId;
use crate::state::{PartState, State, Where};

/// One thing outstanding.
#[derive(Clone, Debug, PartialEq)]
pub struct Outstanding {
    /// What it is: `runners`, `1 bolt M8x40 of runners`.
    pub what: String,
    /// Of what sort.
    pub kind: Kind,
    /// Where it lies or is.
    pub place: Option<String>,
    /// One more word: by how much a bolt is too long, to whom a part was sent.
    pub note: Option<String>,
    /// What it points to, where something can be told from the job.
    pub points_to: Option<String>,
    /// The entry it goes back to.
    pub since: EntryId,
}

/// Everything that is outstanding, the gravest sort first, then in record order.
#[must_use]
pub fn outstanding(state: &State) -> Vec<Outstanding> {
    let mut rows = Vec::new();
    loose_things(state, &mut rows);
    parts(state, &mut rows);
    ends(state, &mut rows);
    for (joint, held) in &state.joints {
        joint::rows(state, joint, held, &mut rows);
    }
    circuits(state, &mut rows);
    errands(state, &mut rows);
    rows.sort_by(|one, other| {
        (one.kind, one.since, &one.what).cmp(&(other.kind, other.since, &other.what))
    });
    rows
}

fn row(what: impl Into<String>, kind: Kind, place: Option<String>, since: EntryId) -> Outstanding {
    Outstanding {
        what: what.into(),
        kind,
        place,
        note: None,
        points_to: None,
        since,
    }
}

fn loose_things(state: &State, rows: &mut Vec<Outstanding>) {
    for lost in &state.lost {
        rows.push(row(
            lost.item.shown(),
            Kind::Lost,
            lost.place.clone(),
            lost.since,
        ));
    }
    for held in &state.temporaries {
        rows.push(row(
            held.item.shown(),
            Kind::PutIn,
            Some(held.place.clone()),
            held.since,
        ));
    }
    for ((joint, hole), (since, left)) in &state.broken {
        let label = state.joint_label(joint);
        let mut row = row(
            format!("fastener of {label}, hole {hole}"),
            Kind::Broken,
            Some(format!("hole {hole}")),
            *since,
        );
        row.note.clone_from(left);
        rows.push(row);
    }
    for (entry, item, place) in &state.strays {
        rows.push(row(
            format!("{}, found", item.shown()),
            Kind::TooMany,
            place.clone(),
            *entry,
        ));
    }
}

fn parts(state: &State, rows: &mut Vec<Outstanding>) {
    for (id, held) in &state.parts {
        new_one(state, id, held, rows);
        let kind = match held.state {
            Where::Fitted => {
                not_renewed(state, id, rows);
                continue;
            }
            Where::Loosened => Kind::Loosened,
            Where::Aside => Kind::Aside,
            Where::Off => Kind::Off,
        };
        let mut row = row(state.part_label(id), kind, held.place.clone(), held.since);
        let outside = state
            .errands
            .iter()
            .find(|it| it.part.as_ref() == Some(id) && it.back.is_none());
        if let Some(outside) = outside {
            row.place = outside.errand.to.clone().or(row.place);
            row.note = Some("sent out".to_owned());
        } else if let Some(with) = &held.with {
            row.note = Some(format!("with {}", state.part_label(with)));
        }
        rows.push(row);
    }
}

/// A new part that came: it is laid beside the old one before it goes on.
fn new_one(state: &State, id: &book::PartId, held: &PartState, rows: &mut Vec<Outstanding>) {
    let Some(arrived) = held.arrived.filter(|_| !held.renewed) else {
        return;
    };
    let what = format!("{}, new", state.part_label(id));
    match &held.compared {
        None => rows.push(row(what, Kind::NotCompared, None, arrived)),
        Some((since, seen)) if held.unlike => {
            let mut row = row(what, Kind::Unlike, None, *since);
            row.note.clone_from(seen);
            rows.push(row);
        }
        Some(_) => {}
    }
}

/// A one-use part that was off and is on again without having been exchanged; and a part for
/// which a new one came that no line says has gone on.
fn not_renewed(state: &State, id: &book::PartId, rows: &mut Vec<Outstanding>) {
    let Some(held) = state.parts.get(id) else {
        return;
    };
    let one_use = state
        .known
        .part(id)
        .and_then(|part| part.one_use.known())
        .copied();
    if !held.was_off || held.renewed {
        return;
    }
    let why = match (one_use, held.arrived) {
        (_, Some(entry)) => format!("a new one came in entry {entry}, this may be the old one"),
        (Some(true), None) => "can be used once only".to_owned(),
        (_, None) => return,
    };
    let mut row = row(state.part_label(id), Kind::NotRenewed, None, held.since);
    row.note = Some(why);
    rows.push(row);
}

fn ends(state: &State, rows: &mut Vec<Outstanding>) {
    for (id, ends) in &state.lines {
        let known = state.known.line(id);
        for (at, end) in ends.iter().enumerate().filter(|(_, end)| end.off) {
            let port = known.map(|line| line.ends[at].port.id.to_string());
            let side = if at == 0 { "from" } else { "to" };
            let tag = state
                .tags
                .iter()
                .find(|tag| tag.end.as_ref() == Some(&(id.clone(), at)));
            let mut row = row(
                format!("{}, end {side}", state.line_label(id)),
                Kind::EndOff,
                port,
                end.since,
            );
            row.note = tag.map(|tag| format!("tag {}", tag.tag));
            rows.push(row);
        }
    }
}

fn circuits(state: &State, rows: &mut Vec<Outstanding>) {
    for (id, held) in state.circuits.iter().filter(|(_, held)| held.is_short()) {
        let since = held
            .drained
            .last()
            .map_or_else(EntryId::default, |(entry, _)| *entry);
        let label = state
            .known
            .circuit(id)
            .and_then(|circuit| circuit.label.clone());
        rows.push(row(
            label.unwrap_or_else(|| id.to_string()),
            Kind::NotFull,
            None,
            since,
        ));
    }
}

fn errands(state: &State, rows: &mut Vec<Outstanding>) {
    // A known part that is out has its row already, as a part that is off.
    let listed =
        |part: &Option<book::PartId>| part.as_ref().is_some_and(|part| state.is_away(part));
    for held in state
        .errands
        .iter()
        .filter(|held| held.back.is_none() && !listed(&held.part))
    {
        rows.push(row(
            held.errand.part.clone(),
            Kind::Outside,
            held.errand.to.clone(),
            held.since,
        ));
    }
    for held in &state.orders {
        let open = held.order.what.count.saturating_sub(held.arrived);
        if open > 0 {
            let mut row = row(
                held.order.what.counting(open).shown(),
                Kind::OnOrder,
                held.order.from.clone(),
                held.since,
            );
            row.note = held.order.due.as_ref().map(|due| format!("due {due}"));
            rows.push(row);
        }
    }
}

/// One finding a sort: how many there are and what to do about them. The rows name them.
fn what_to_do(rows: &[Outstanding]) -> Vec<Finding> {
    let mut sorts: Vec<(Kind, usize)> = Vec::new();
    for row in rows {
        match sorts.iter_mut().find(|(kind, _)| *kind == row.kind) {
            Some((_, count)) => *count += 1,
            None => sorts.push((row.kind, 1)),
        }
    }
    sorts
        .into_iter()
        .map(|(kind, count)| {
            let weight = match kind {
                Kind::OnOrder | Kind::NotCompared => Weight::Note,
                _ => Weight::Stop,
            };
            Finding::new(kind.code(), "", format!("{count} {}", kind.word()))
                .next(kind.next())
                .weight(weight)
        })
        .collect()
}

impl Outstanding {
    /// The row as a finding, for a report and for a gate.
    #[must_use]
    pub fn finding(&self) -> Finding {
        let place = self
            .place
            .as_ref()
            .map(|place| format!(", {place}"))
            .unwrap_or_default();
        let note = self
            .note
            .as_ref()
            .map(|note| format!(" ({note})"))
            .unwrap_or_default();
        let says = format!(
            "{}: {}{place}{note}, since entry {}",
            self.what,
            self.kind.word(),
            self.since
        );
        let finding =
            Finding::new(self.kind.code(), self.what.clone(), says).next(self.kind.next());
        let finding = match (self.kind, &self.points_to) {
            (_, Some(where_to)) => finding.points_to(where_to.clone()),
            (Kind::LeftOver, None) => finding
                .points_to("a hole that was forgotten, or a bolt that belongs to another job"),
            (_, None) => finding,
        };
        match self.kind {
            Kind::OnOrder | Kind::NotCompared => finding.weight(Weight::Note),
            _ => finding.weight(Weight::Stop),
        }
    }
}

/// The rows as the answer to *what is outstanding*: `what`, `state`, `where`, `note`, `since`.
///
/// The answer is clean when nothing is outstanding but orders. Entries that contradict the
/// record are findings beside the rows.
#[must_use]
pub fn report(state: &State) -> Report {
    let rows = outstanding(state);
    let mut report = Report::new("outstanding", "What is outstanding");
    report.rows = Table::new(&[
        ("what", "what", Align::Left),
        ("state", "state", Align::Left),
        ("where", "where", Align::Left),
        ("note", "note", Align::Left),
        ("since", "entry", Align::Right),
    ]);
    for row in &rows {
        let since = usize::try_from(row.since.0).unwrap_or(usize::MAX);
        report.rows.push(vec![
            row.what.clone().into(),
            row.kind.word().into(),
            row.place.clone().into(),
            row.note.clone().into(),
            since.into(),
        ]);
    }
    report.findings = what_to_do(&rows);
    report.findings.extend(state.findings.iter().map(|it| {
        let says = format!("entry {}: {}", it.entry, it.finding.says);
        Finding {
            says,
            ..it.finding.clone()
        }
    }));
    report.headline = Some(match rows.len() {
        0 => "Nothing is outstanding: what came out is back in, and nothing is left inside."
            .to_owned(),
        1 => "One thing is outstanding.".to_owned(),
        many => format!("{many} things are outstanding."),
    });
    report
}

/// What keeps a gate closed as far as the record alone can say: everything outstanding that
/// matters before the act, and the checks of the book that have no entry.
///
/// `turn-by-hand` minds what is lost or put in; `spin` also open joints; `fire` and `drive`
/// mind everything but orders. For other gates only what is lost or put in counts. What a
/// book's own gate needs beyond that is judged elsewhere.
#[must_use]
pub fn blocks(state: &State, gate: &str) -> Vec<Finding> {
    let minds = |kind: Kind| match gate {
        "fire" | "drive" => !matches!(kind, Kind::OnOrder | Kind::NotCompared),
        "before-head-on" => matches!(kind, Kind::Lost | Kind::PutIn | Kind::Broken),
        "spin" => matches!(
            kind,
            Kind::Lost
                | Kind::Broken
                | Kind::PutIn
                | Kind::TooMany
                | Kind::WrongLength
                | Kind::WrongThread
                | Kind::WrongStrength
                | Kind::LeftOver
                | Kind::NotFull
        ),
        _ => matches!(kind, Kind::Lost | Kind::PutIn),
    };
    let rows = outstanding(state);
    let mut findings: Vec<Finding> = rows
        .iter()
        .filter(|row| minds(row.kind))
        .map(Outstanding::finding)
        .collect();
    if matches!(gate, "fire" | "drive") {
        let undone =
            state.known.checks.iter().filter(|check| {
                !state.checks.contains_key(&check.id) && state.applies(&check.when)
            });
        findings.extend(undone.map(|check| {
            let what = check.label.clone().unwrap_or_else(|| check.id.to_string());
            Finding::new(
                "check-not-done",
                what.clone(),
                format!("{what}: no entry says it was done"),
            )
            .next(format!("write `check {}: …`", check.id))
            .weight(Weight::Stop)
        }));
    }
    findings
}
