//! The calendar: a plan laid over the hours of the shop, with what the record says of orders and
//! parts that are away.

mod appointments;

use std::collections::BTreeSet;

use book::Critical;
use jiff::civil::Date;
use job::plan::{Basis, Plan};
use job::{Entry, EntryId, State};
use planning::answer::{self, Job};
use planning::calendar::{Calendar, Done, Ordered, again, calendar as lay, change};
use planning::sequence::{Legs, Wish};
use planning::{Budget, Graph, Standing};
use report::{Ask, Finding, Report};

use crate::folder::Folder;
use crate::reach::{refused, targets};
use crate::sequence::order;

pub use appointments::save as save_appointments;

const COMMAND: &str = "calendar";
const TITLE: &str = "The calendar";

/// Moves of the search for the order of work; walking matters less here than evenings.
const MOVES: u64 = 60_000;

/// Orders of the tasks tried where nobody says.
const ORDERS: u64 = 80;

/// What was asked.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The first day, as typed; the day of asking where nobody says.
    pub from: Option<String>,
    /// Now, in microseconds since 1970-01-01T00:00Z.
    pub now_micros: i64,
    /// What is to be got at; none: the way back of what is off.
    pub targets: Vec<String>,
    /// The entry since which changes are to be told.
    pub since: Option<u64>,
    /// Orders of the tasks tried.
    pub moves: Option<u64>,
    /// Where the drawing of lots begins.
    pub seed: Option<u64>,
}

/// When each step can be done, when the job is finished, and what to buy by when.
#[must_use]
pub fn calendar(folder: &Folder, asked: &Asked) -> Report {
    let state = &folder.state;
    let first = match first_day(asked) {
        Ok(first) => first,
        Err(finding) => return refused(COMMAND, TITLE, vec![finding]),
    };
    let targets = match targets(state, &asked.targets) {
        Ok(targets) => targets,
        Err(findings) => return refused(COMMAND, TITLE, findings),
    };
    let Some(shop) = &folder.shop else {
        return no_shop();
    };
    if let Some(report) = nothing_asked(state, asked) {
        return report;
    }
    let legs = if targets.is_empty() {
        Legs::Together
    } else {
        Legs::Both
    };
    let wish = Wish { targets, legs };
    let seed = asked.seed.unwrap_or(1);
    let graph = Graph::new(&state.known, &Standing::from(state).choices);
    let job = Job::of(state);
    let search = Budget::moves(MOVES).seed(seed);
    let found = order(state, Some(shop), &graph, &wish, &search);
    let Ok(plan) = &found else {
        let mut report = answer::sequence(&job, legs, Some(shop), &found);
        report.command = COMMAND;
        return report;
    };
    let budget = Budget::moves(asked.moves.unwrap_or(ORDERS)).seed(seed);
    let before = asked
        .since
        .and_then(|since| before(folder, &wish, first, since, (&search, &budget)));
    let kept = before
        .as_ref()
        .map(|(calendar, plan)| calendar.order(plan))
        .unwrap_or_default();
    let found = again(
        &graph,
        plan,
        shop,
        first,
        &done(folder, state, first),
        &kept,
        &budget,
    );
    let mut report = answer::calendar(&job, plan, shop, &found);
    if let (Some((old, old_plan)), Ok(new)) = (&before, &found)
        && let Some(says) = change((old, old_plan), (new, plan))
    {
        report
            .findings
            .insert(0, Finding::new("plan-changed", "", says));
    }
    // The record reversed is no claim on the book, and there is none to hold it against.
    let mut refusals = match plan.basis {
        Basis::Book => verify::check(&state.known, state, plan),
        Basis::RecordReversed => Vec::new(),
    };
    refusals.extend(verify::walking(Some(shop), plan));
    if let Ok(calendar) = &found {
        let dated = calendar.dated(shop, plan);
        refusals.extend(verify::calendar(&state.known, shop, plan, &dated));
    }
    report.findings.extend(verify::report(&refusals).findings);
    report
}

/// The calendar as it was after an entry; nothing where none could be made then.
fn before(
    folder: &Folder,
    wish: &Wish,
    first: Date,
    since: u64,
    (search, budget): (&Budget, &Budget),
) -> Option<(Calendar, Plan)> {
    let shop = folder.shop.as_ref()?;
    let entries: Vec<Entry> = folder
        .entries
        .iter()
        .filter(|entry| entry.id.0 <= since)
        .cloned()
        .collect();
    let state = job::replay(folder.book.as_ref(), &entries);
    let graph = Graph::new(&state.known, &Standing::from(&state).choices);
    let plan = order(&state, Some(shop), &graph, wish, search).ok()?;
    let calendar = lay(
        &graph,
        &plan,
        shop,
        first,
        &done(folder, &state, first),
        budget,
    )
    .ok()?;
    Some((calendar, plan))
}

/// The first day as typed, or today.
fn first_day(asked: &Asked) -> Result<Date, Finding> {
    let known = match &asked.from {
        Some(typed) => book::Date::read(typed).and_then(|_| typed.parse::<Date>().ok()),
        None => day_of(asked.now_micros),
    };
    known.ok_or_else(|| {
        let says = format!(
            "`{}` is no day of the calendar",
            asked.from.as_deref().unwrap_or("now")
        );
        Finding::new("date", "--from", says).next("write year, month and day: --from 2026-03-02")
    })
}

fn no_shop() -> Report {
    let says = "this job has no shop file, so nobody knows who works when";
    let finding =
        Finding::new("no-shop", "", says).next("write shop.kdl in the job folder, then ask again");
    let mut report = Report::refusal(COMMAND, TITLE, finding);
    report.asks.push(Ask::new(
        "who works here, and how long on which days",
        "every date hangs on it",
        "shop.kdl: person me { hours tue=\"3 h\" sat=\"7 h\" }",
    ));
    report
}

/// Asks what the job is for, when nobody said and nothing is off.
fn nothing_asked(state: &State, asked: &Asked) -> Option<Report> {
    if !asked.targets.is_empty() || state.taken_apart() {
        return None;
    }
    let heads = state
        .known
        .joints
        .iter()
        .filter(|joint| joint.critical == Some(Critical::Head));
    let heads: BTreeSet<&str> = heads.map(|joint| joint.of.as_str()).collect();
    let example = if heads.is_empty() {
        "PART…".to_owned()
    } else {
        heads.into_iter().collect::<Vec<_>>().join(" ")
    };
    let says = if state.parts.is_empty() {
        "nothing is off yet, and nobody said what is to come apart"
    } else {
        "everything is on again, and nobody said what else is to come apart"
    };
    let finding = Finding::new("no-target", "", says);
    let mut report = Report::refusal(
        COMMAND,
        TITLE,
        finding.next(format!("matchmark calendar {example}")),
    );
    report.asks.push(Ask::new(
        "what the job is for",
        "the work hangs on it",
        format!("matchmark calendar {example}"),
    ));
    Some(report)
}

/// What the record says was ordered, came, went out and came back.
pub(crate) fn done(folder: &Folder, state: &State, first: Date) -> Done {
    let mut done = Done::default();
    let day = |entry: EntryId| {
        let entry = folder.entries.iter().find(|other| other.id == entry);
        let date = entry.and_then(|entry| day_of(entry.at));
        // Nothing happened in the future of the first day: a later entry counts as of that day.
        date.map_or(0, |date| i64::from((date - first).get_days()))
            .min(0)
    };
    for errand in &state.errands {
        let Some(part) = &errand.part else { continue };
        if errand.back.is_some() {
            done.sent.remove(part);
            done.back.insert(part.clone());
        } else {
            done.back.remove(part);
            done.sent.insert(part.clone(), day(errand.since));
        }
    }
    let renewed = state.parts.iter().filter(|(_, part)| part.renewed);
    done.renewed = renewed.map(|(id, _)| id.clone()).collect();
    for (id, held) in &state.joints {
        let Some(joint) = state.known.joint(id) else {
            continue;
        };
        for seal in &joint.seals {
            let of_joint = (id.clone(), seal.what.clone());
            done.seals.insert(of_joint, held.new_seals(joint, seal));
        }
        let fresh = held.holes.values().filter(|hole| hole.renewed()).count();
        done.fasteners.insert(id.clone(), fresh);
    }
    done.orders = state
        .orders
        .iter()
        .map(|ordered| Ordered {
            what: ordered.order.what.name.clone(),
            count: ordered.order.what.count,
            day: day(ordered.since),
            here: ordered.arrived >= ordered.order.what.count,
        })
        .collect();
    done
}

/// The day of a moment. Days of the record are told in UTC, as the rest of the program does.
pub(crate) fn day_of(micros: i64) -> Option<Date> {
    let moment = jiff::Timestamp::from_microsecond(micros).ok()?;
    Some(jiff::tz::Offset::UTC.to_datetime(moment).date())
}
