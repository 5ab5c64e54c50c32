//! The close of a day and the way back into it: what stands open, what must not be turned, what
//! comes first next time; after a gap, where the hand was and what came meanwhile.

use book::LineKind;
use job::outstanding::{Kind, outstanding};
use job::{Entry, State};
use planning::answer::{self, Job};
use report::{Align, Ask, Caution, Cell, Figure, Finding, Report, Table, Weight};

use crate::calendar::day_of;
use crate::folder::Folder;
use crate::reach::{refused, targets};

const COMMAND: &str = "day";
const TITLE: &str = "The day";

/// Entries of the last day that are read back.
const LAST: usize = 5;

/// What was asked.
#[derive(Clone, Debug)]
pub struct Asked {
    /// What the job is for; none: the way back of what is off.
    pub targets: Vec<String>,
    /// Now, in microseconds since 1970-01-01T00:00Z.
    pub now_micros: i64,
}

/// Closes the day, or opens the next one.
#[must_use]
pub fn day(folder: &Folder, asked: &Asked) -> Report {
    if let Err(findings) = targets(&folder.state, &asked.targets) {
        return refused(COMMAND, TITLE, findings);
    }
    let mut report = Report::new(COMMAND, TITLE);
    report.rows = open_things(&folder.state);
    let open = report.rows.rows.len();
    not_turned(&mut report, &folder.state);
    uncovered(&mut report, &folder.state);
    where_the_hand_was(&mut report, folder, asked.now_micros);
    let first = first_act(&mut report, folder, asked);
    report.headline = Some(match (open, first) {
        (0, None) => "Nothing stands open.".to_owned(),
        (0, Some(first)) => format!("Nothing stands loose. First next time: {first}."),
        (_, None) => format!("{} to know of before the light goes out.", counted(open)),
        (_, Some(first)) => format!(
            "{} to know of before the light goes out. First next time: {first}.",
            counted(open)
        ),
    });
    report
}

fn counted(open: usize) -> String {
    format!("{open} {}", if open == 1 { "thing" } else { "things" })
}

/// What somebody who comes in tomorrow could trip over: not every part that is off, but what is
/// loose, put in, lost, half tightened or dry.
fn open_things(state: &State) -> Table {
    let mut table = Table::new(&[
        ("what", "what", Align::Left),
        ("state", "state", Align::Left),
        ("where", "where", Align::Left),
    ]);
    let told = |kind: Kind| match kind {
        Kind::Lost
        | Kind::Broken
        | Kind::PutIn
        | Kind::Aside
        | Kind::Loosened
        | Kind::LeftOver
        | Kind::TooMany
        | Kind::WrongLength
        | Kind::WrongStrength
        | Kind::WrongThread
        | Kind::WasherMissing
        | Kind::SealMissing
        | Kind::NotRenewed
        | Kind::NotTightened
        | Kind::NotFull
        | Kind::Outside
        | Kind::Unlike
        | Kind::NotCompared
        | Kind::OnOrder => true,
        Kind::Off | Kind::EndOff => false,
    };
    for row in outstanding(state).into_iter().filter(|row| told(row.kind)) {
        table.push(vec![
            Cell::from(row.what),
            Cell::from(row.kind.word()),
            Cell::from(row.place),
        ]);
    }
    table
}

/// What may not be turned, with the reason.
fn not_turned(report: &mut Report, state: &State) {
    let turn = answer::turn(&Job::of(state));
    let mut shafts: Vec<&str> = Vec::new();
    let mut because = "";
    for row in &turn.rows.rows {
        let cell = |key: &str| turn.rows.cell(row, key);
        if let (Some(Cell::Text(shaft)), Some(Cell::Flag(false)), Some(why)) =
            (cell("shaft"), cell("may_turn"), cell("why"))
        {
            // The crank stands first, and what holds it holds the most.
            if let (true, Cell::Text(why)) = (shafts.is_empty(), why) {
                because = why;
            }
            shafts.push(shaft);
        }
    }
    if let Some(first) = shafts.first() {
        let says = format!("do not turn {}: {because}", shafts.join(", "));
        let finding = Finding::new("do-not-turn", *first, says);
        report
            .findings
            .push(finding.next("hang a note on the steering wheel and the battery terminal"));
    }
    if report.finds("do-not-turn") {
        report.cautions.push(Caution::new(
            "turning the engine",
            "battery disconnected while anything must not turn; somebody may try the key",
        ));
    }
}

/// Ports of hoses and pipes that stand open with nothing put in them.
fn uncovered(report: &mut Report, state: &State) {
    let covered = |port: &str, part: &str| {
        state.temporaries.iter().any(|inside| {
            job::same_name(&inside.place, port) || job::same_name(&inside.place, part)
        })
    };
    let mut open = Vec::new();
    for (line, ends) in &state.lines {
        let Some(known) = state.known.line(line) else {
            continue;
        };
        // Dirt in a plug of the loom spoils nothing that runs; what carries a medium, it does.
        if !matches!(known.kind, LineKind::Hose | LineKind::Pipe) {
            continue;
        }
        for (end, held) in known.ends.iter().zip(ends) {
            let port = &end.port.id;
            if held.off && !covered(&port.to_string(), port.part.as_str()) {
                open.push(port.to_string());
            }
        }
    }
    open.sort_unstable();
    open.dedup();
    if open.is_empty() {
        return;
    }
    let says = format!(
        "{} with nothing put in: {}",
        if open.len() == 1 {
            "1 open port".to_owned()
        } else {
            format!("{} open ports", open.len())
        },
        open.join(", ")
    );
    let finding = Finding::new("port-open", "", says);
    report
        .findings
        .push(finding.next("cap or tape each, then log it: put in 1 cap in PORT"));
}

/// The last things done, and what the record says came since.
fn where_the_hand_was(report: &mut Report, folder: &Folder, now_micros: i64) {
    let Some(last) = folder.entries.last() else {
        return;
    };
    let (Some(last_day), Some(today)) = (day_of(last.at), day_of(now_micros)) else {
        return;
    };
    let gap = (today - last_day).get_days().max(0);
    report.figures.push(Figure::count(
        "days_since",
        "days since the last entry",
        gap.unsigned_abs() as usize,
    ));
    let same_day = |entry: &&Entry| day_of(entry.at) == Some(last_day);
    let that_day: Vec<&Entry> = folder.entries.iter().filter(same_day).collect();
    let says = format!(
        "the hand was last at: {} ({last_day}, {})",
        last.line, last.author
    );
    let mut finding = Finding::new("hand", "", says).weight(Weight::Note);
    let skip = that_day.len().saturating_sub(LAST);
    for entry in that_day.iter().skip(skip) {
        finding = finding.detail(entry.line.clone());
    }
    report.findings.push(finding);
    let arrived =
        |entry: &&&Entry| matches!(entry.act, job::Act::Arrived { .. } | job::Act::Back { .. });
    let came: Vec<String> = that_day
        .iter()
        .filter(arrived)
        .map(|entry| entry.line.clone())
        .collect();
    if !came.is_empty() {
        report.findings.push(
            Finding::new("came", "", format!("came that day: {}", came.join("; ")))
                .weight(Weight::Note),
        );
    }
}

/// The first act of the work that is left: the one `hand` puts into the hands.
fn first_act(report: &mut Report, folder: &Folder, asked: &Asked) -> Option<String> {
    let hand = crate::hand::hand(
        folder,
        &crate::hand::Asked {
            targets: asked.targets.clone(),
            now_micros: asked.now_micros,
            ..crate::hand::Asked::default()
        },
    );
    if hand.refused {
        report.asks.push(Ask::new(
            "the order of work",
            hand.findings.first().map_or("", |finding| &finding.says),
            "matchmark sequence says more",
        ));
        return None;
    }
    let said = |key: &str| match hand.rows.cell(hand.rows.rows.first()?, key)? {
        Cell::Text(said) if !said.is_empty() => Some(said.as_str()),
        _ => None,
    };
    let zone = said("zone").map_or_else(String::new, |zone| format!(", {zone}"));
    let tool = said("tool").map_or_else(String::new, |tool| format!(", with {tool}"));
    Some(format!("{}{zone}{tool}", said("act")?))
}
