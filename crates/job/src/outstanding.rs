//! What is still to be done before the job is whole, and why a gate is closed for it.

use book::{HoleName, JointId};
use report::{Align, Finding, Report, Table, Weight};

use crate::entry::EntryId;
use crate::item::{Item, Sort, mm, same_length, same_name};
use crate::state::{HoleState, JointState, State, Where};

/// What sort of thing is outstanding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Lost and not found.
    Lost,
    /// Put in for a while and not taken out.
    PutIn,
    /// A part or joint off or open.
    Off,
    /// An end of a hose or lead off.
    EndOff,
    /// Moved aside.
    Aside,
    /// Loosened and not tightened again.
    Loosened,
    /// Came out and did not go back, though the part is on.
    LeftOver,
    /// Went in and is more than came out, or found without being lost.
    TooMany,
    /// In a hole that wants another length.
    WrongLength,
    /// A seal that must be new and was not put in new.
    SealMissing,
    /// A one-use fastener or part that was not renewed.
    NotRenewed,
    /// Closed, but not through its last stage.
    NotTightened,
    /// A circuit that is not full.
    NotFull,
    /// Sent out and not back.
    Outside,
    /// Ordered and not arrived.
    OnOrder,
}

impl Kind {
    /// The word a reader sees as the state of a row.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Lost => "lost",
            Self::PutIn => "put in",
            Self::Off | Self::EndOff => "off",
            Self::Aside => "moved aside",
            Self::Loosened => "loosened",
            Self::LeftOver => "left over",
            Self::TooMany => "too many",
            Self::WrongLength => "wrong length",
            Self::SealMissing => "seal missing",
            Self::NotRenewed => "not renewed",
            Self::NotTightened => "not tightened",
            Self::NotFull => "not full",
            Self::Outside => "sent out",
            Self::OnOrder => "on order",
        }
    }

    /// The stable name of the finding.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Lost => "lost",
            Self::PutIn => "put-in-not-out",
            Self::Off => "still-off",
            Self::EndOff => "end-off",
            Self::Aside => "moved-aside",
            Self::Loosened => "loosened",
            Self::LeftOver => "left-over",
            Self::TooMany => "too-many",
            Self::WrongLength => "wrong-length",
            Self::SealMissing => "seal-missing",
            Self::NotRenewed => "not-renewed",
            Self::NotTightened => "not-tightened",
            Self::NotFull => "not-full",
            Self::Outside => "sent-out",
            Self::OnOrder => "on-order",
        }
    }
}

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
        joint_rows(state, joint, held, &mut rows);
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

/// A one-use part that was off and is on again without having been exchanged.
fn not_renewed(state: &State, id: &book::PartId, rows: &mut Vec<Outstanding>) {
    let Some(held) = state.parts.get(id) else {
        return;
    };
    let one_use = state
        .known
        .part(id)
        .and_then(|part| part.one_use.known())
        .copied();
    if held.was_off && !held.renewed && one_use == Some(true) {
        let mut row = row(state.part_label(id), Kind::NotRenewed, None, held.since);
        row.note = Some("can be used once only".to_owned());
        rows.push(row);
    }
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

fn joint_rows(state: &State, id: &JointId, held: &JointState, rows: &mut Vec<Outstanding>) {
    let label = state.joint_label(id);
    let part_away = state
        .known
        .joint(id)
        .is_some_and(|joint| state.is_away(&joint.of));
    if held.open && !part_away {
        rows.push(row(
            label.clone(),
            Kind::Off,
            held.place.clone(),
            held.since,
        ));
    }
    if held.open || part_away {
        return;
    }
    left_over(state, id, held, &label, rows);
    let mut loosened = Vec::new();
    for (name, hole) in &held.holes {
        wrong_length(state, id, name, hole, &label, rows);
        let one_use = state
            .known
            .joint(id)
            .and_then(|joint| joint.hole(name))
            .and_then(|hole| hole.one_use.known().copied());
        let is_new = hole
            .inside
            .as_ref()
            .or(hole.came_out.as_ref())
            .is_some_and(|item| item.new == Some(true));
        if held.was_open
            && one_use == Some(true)
            && !hole.empty
            && hole.came_out.is_some()
            && !is_new
        {
            rows.push(row(
                format!("fastener of {label}, hole {name}"),
                Kind::NotRenewed,
                None,
                hole.since,
            ));
        }
        if hole.loosened && !hole.empty {
            loosened.push((hole.since, name));
        }
    }
    if let Some((since, _)) = loosened.first() {
        let names: Vec<&str> = loosened.iter().map(|(_, name)| name.as_str()).collect();
        rows.push(row(
            format!("{label}, hole {}", names.join(", ")),
            Kind::Loosened,
            None,
            *since,
        ));
    }
    if held.was_open {
        seals(state, id, held, &label, rows);
        stages(state, id, held, &label, rows);
    }
}

/// What came out and did not go back, like things in one row.
fn left_over(
    state: &State,
    id: &JointId,
    held: &JointState,
    label: &str,
    rows: &mut Vec<Outstanding>,
) {
    let mut over: Vec<(Item, Vec<String>)> = Vec::new();
    let empty = held.holes.iter().filter(|(_, hole)| hole.empty);
    for (name, item) in empty.filter_map(|(name, _)| Some((name, state.wanted_in(id, name)?))) {
        match over.iter_mut().find(|(had, _)| had.may_be(&item)) {
            Some((had, holes)) => {
                had.count += 1;
                holes.push(name.to_string());
            }
            None => over.push((item, vec![name.to_string()])),
        }
    }
    // A count that went back but fits no hole for sure is not left over; it is not placed.
    let mut waiting: Vec<Item> = held.unplaced_back.clone();
    for (item, _) in &mut over {
        for back in &mut waiting {
            let both = if back.may_be(item) {
                back.count.min(item.count)
            } else {
                0
            };
            item.count -= both;
            back.count -= both;
        }
    }
    for (item, holes) in over.into_iter().filter(|(item, _)| item.count > 0) {
        let mut row = row(
            format!("{} of {label}", item.shown()),
            Kind::LeftOver,
            held.place.clone(),
            held.since,
        );
        row.note = Some(format!("empty: {}", holes.join(", ")));
        rows.push(row);
    }
    for item in &held.unplaced_out {
        rows.push(row(
            format!("{} of {label}", item.shown()),
            Kind::LeftOver,
            held.place.clone(),
            held.since,
        ));
    }
    for item in waiting.iter().filter(|item| item.count > 0) {
        rows.push(row(
            format!("{} put into {label}", item.shown()),
            Kind::TooMany,
            None,
            held.since,
        ));
    }
}

/// The length a hole wants: the book's, else that of what came out of it.
fn wrong_length(
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
        .and_then(|hole| hole.length.known().copied());
    let came_out = hole.came_out.as_ref().and_then(|item| item.length);
    let (Some(has), Some(wants)) = (inside.length, from_book.or(came_out)) else {
        return;
    };
    if inside.sort == Sort::Nut || same_length(&has, &wants) {
        return;
    }
    let by = has.in_mm() - wants.in_mm();
    let word = if by > 0.0 { "long" } else { "short" };
    let by = (by.abs() * 10.0).round() / 10.0;
    let mut row = row(
        format!("{} in {label}, hole {name}", inside.shown()),
        Kind::WrongLength,
        Some(format!("hole {name}")),
        hole.since,
    );
    row.note = Some(format!("wants {} mm: {by} mm too {word}", mm(wants)));
    rows.push(row);
}

fn seals(state: &State, id: &JointId, held: &JointState, label: &str, rows: &mut Vec<Outstanding>) {
    let Some(joint) = state.known.joint(id) else {
        return;
    };
    let only_one = joint.seals.len() == 1;
    for seal in joint
        .seals
        .iter()
        .filter(|seal| seal.new.known() == Some(&true))
    {
        let generic = |item: &&Item| same_name(&item.name, &seal.what) || only_one;
        let put = held
            .seals
            .iter()
            .filter(|item| item.new != Some(false))
            .filter(generic);
        let put: u32 = put.map(|item| item.count).sum();
        if put < seal.count {
            let what = Item::plain(seal.count - put, Sort::Seal, seal.what.clone());
            let mut row = row(
                format!("{} of {label}", what.shown()),
                Kind::SealMissing,
                None,
                held.since,
            );
            row.note = Some(format!("{} new wanted, {put} put in", seal.count));
            rows.push(row);
        }
    }
}

/// A joint whose book has stages must have reached the last one in every hole.
fn stages(
    state: &State,
    id: &JointId,
    held: &JointState,
    label: &str,
    rows: &mut Vec<Outstanding>,
) {
    let Some(joint) = state.known.joint(id) else {
        return;
    };
    let mut behind: Vec<String> = Vec::new();
    for hole in &joint.holes {
        let wanted = match joint.tighten_of(&hole.name).map(|tighten| &tighten.stages) {
            Some(book::Stages::Known(stages)) => u32::try_from(stages.len()).unwrap_or(u32::MAX),
            Some(book::Stages::Unknown | book::Stages::DoesNotApply) | None => continue,
        };
        let Some(state) = held.holes.get(&hole.name).filter(|state| !state.empty) else {
            continue;
        };
        if state.stage() < wanted {
            behind.push(format!("{} ({} of {wanted})", hole.name, state.stage()));
        }
    }
    if !behind.is_empty() {
        let mut row = row(label, Kind::NotTightened, None, held.since);
        row.note = Some(format!("stages done: {}", behind.join(", ")));
        rows.push(row);
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
                Kind::OnOrder => Weight::Note,
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
        let too_long = self
            .note
            .as_ref()
            .is_some_and(|note| note.ends_with("too long"));
        let finding = match self.kind {
            Kind::WrongLength if too_long => finding.points_to(
                "two bolts exchanged, or a bracket or spacer of that thickness forgotten",
            ),
            Kind::LeftOver => finding
                .points_to("a hole that was forgotten, or a bolt that belongs to another job"),
            _ => finding,
        };
        match self.kind {
            Kind::OnOrder => finding.weight(Weight::Note),
            _ => finding.weight(Weight::Stop),
        }
    }
}

impl Kind {
    const fn next(self) -> &'static str {
        match self {
            Self::Lost => "find it before anything turns; then write `found …`",
            Self::PutIn => "take it out and write `out PLACE: …`",
            Self::Off | Self::EndOff | Self::Aside => "put it back and write `on NAME`",
            Self::Loosened | Self::NotTightened => "tighten it and write `tight NAME stage …`",
            Self::LeftOver => "find the empty hole, or write what became of it",
            Self::TooMany => "find where it came from",
            Self::WrongLength => "take it out before it bottoms or strips; put the right one in",
            Self::SealMissing => {
                "open the joint and put new seals in, or write `replaced …` if they are in"
            }
            Self::NotRenewed => "renew it, or write `replaced …` if it is new",
            Self::NotFull => "fill it and write `fill CIRCUIT AMOUNT`",
            Self::Outside => "fetch it and write `back NAME`",
            Self::OnOrder => "write `arrived …` when it comes",
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
        "fire" | "drive" => kind != Kind::OnOrder,
        "spin" => matches!(
            kind,
            Kind::Lost
                | Kind::PutIn
                | Kind::TooMany
                | Kind::WrongLength
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
