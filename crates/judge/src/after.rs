//! What is planned for the time after a first start: two turns before it, the oil that is thrown
//! away, levels over three warm-ups and the first 1,000 km, bolts that are tightened once more.
//!
//! The record says which of it is done. All of it is *common practice, no source*, and the
//! maker's own list wins.

use book::Medium;
use job::{EntryId, State, Where};
use quantity::{Length, Quantity, read};
use report::{Finding, Weight};

use crate::gate::act::{TURNED, heads, said};
use crate::gate::timing;

/// The distance levels are watched over, in metres.
const WATCHED: f64 = 1_000_000.0;
/// Warm-ups after which a steady level counts.
const WARM_UPS: usize = 3;
/// Words of an entry that say the engine ran.
const RAN: [&str; 5] = ["started", "first start", "it runs", "it ran", "fired"];

/// One task.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task {
    /// Its name.
    pub name: String,
    /// When it is due.
    pub when: String,
    /// The entry that did it.
    pub done: Option<EntryId>,
    /// How far it is, where it is not done.
    pub stands: String,
    /// The line that would say it is done.
    pub write: String,
}

/// Every task of a job, in the order they fall due. A job in which neither a head nor a cam
/// drive nor the oil was touched has none of its own.
#[must_use]
pub fn tasks(state: &State) -> Vec<Task> {
    let oil_was_out = circuits(state, &Medium::Oil).any(|held| !held.drains.is_empty());
    if inside(state).is_none() && !oil_was_out {
        return retighten(state, ran(state));
    }
    let ran = ran(state);
    let mut tasks = vec![turns(state)];
    tasks.extend(oil(state, ran));
    tasks.push(levels(state, ran));
    tasks.push(distance(state, ran));
    tasks.extend(retighten(state, ran));
    tasks
}

/// The tasks that are open, as remarks.
#[must_use]
pub fn open(state: &State) -> Vec<Finding> {
    tasks(state)
        .into_iter()
        .filter(|task| task.done.is_none())
        .map(|task| {
            Finding::new(
                "task-open",
                task.name.clone(),
                format!("{}: {} ({})", task.name, task.stands, task.when),
            )
            .next(format!("write `{}` when it is done", task.write))
            .weight(Weight::Note)
        })
        .collect()
}

/// The entry that says the engine ran after it was closed; `None` where none does.
#[must_use]
pub fn ran(state: &State) -> Option<EntryId> {
    let since = closed(state);
    let tells = |text: &str| {
        let text = text.to_lowercase();
        RAN.iter().any(|word| text.contains(word))
    };
    let noted = state
        .notes
        .iter()
        .filter(|(_, _, text)| tells(text))
        .map(|(entry, ..)| *entry);
    let read = state
        .readings
        .iter()
        .filter(|(_, found)| found.conditions.iter().any(|word| tells(word)))
        .map(|(entry, _)| *entry);
    noted.chain(read).filter(|entry| *entry > since).min()
}

/// The entry that closed the engine: the last one about a head or a cam drive, else about any
/// part that was off.
fn closed(state: &State) -> EntryId {
    let any = state
        .parts
        .values()
        .filter(|held| held.was_off && held.state == Where::Fitted)
        .map(|held| held.since)
        .max();
    inside(state).or(any).unwrap_or_default()
}

/// The last entry about a head that was off, or about a cam drive.
fn inside(state: &State) -> Option<EntryId> {
    let heads = heads(state)
        .filter_map(|head| state.parts.get(&head.id))
        .filter(|held| held.was_off)
        .map(|held| held.since)
        .max();
    heads.max(timing::touched(state))
}

/// The circuits of a medium that were drained or filled.
fn circuits<'a>(
    state: &'a State,
    medium: &'a Medium,
) -> impl Iterator<Item = &'a job::CircuitState> {
    state
        .known
        .circuits
        .iter()
        .filter(move |circuit| circuit.medium == *medium)
        .filter_map(|circuit| state.circuits.get(&circuit.id))
}

fn turns(state: &State) -> Task {
    let since = closed(state);
    let done = state
        .notes
        .iter()
        .map(|(entry, ..)| *entry)
        .chain(state.checks.values().map(|(entry, _)| *entry))
        .filter(|entry| *entry > since)
        .filter(|entry| {
            let before = EntryId(entry.0.saturating_sub(1));
            said(state, before, &TURNED)
        })
        .max();
    Task {
        name: "two turns by hand".to_owned(),
        when: "before the starter, plugs out".to_owned(),
        done,
        stands: "no entry says it since the engine was closed".to_owned(),
        write: "note two turns by hand, marks agree, bores dry".to_owned(),
    }
}

/// The oil that carries out what was left inside, and the change after it.
fn oil(state: &State, ran: Option<EntryId>) -> [Task; 2] {
    let drained: Vec<EntryId> = ran.map_or_else(Vec::new, |ran| {
        circuits(state, &Medium::Oil)
            .flat_map(|held| held.drains.iter().copied())
            .filter(|entry| *entry > ran)
            .collect()
    });
    let task = |name: &str, when: &str, at: usize| Task {
        name: name.to_owned(),
        when: when.to_owned(),
        done: drained.get(at).copied(),
        stands: match ran {
            None => "planned".to_owned(),
            Some(ran) => format!("it ran at entry {ran}, and no oil was drained since"),
        },
        write: "drain oil".to_owned(),
    };
    [
        task(
            "throw-away oil out",
            "warm, the same day, with a new filter",
            0,
        ),
        Task {
            stands: match drained.len() {
                0 => "planned".to_owned(),
                _ => "the first one is out, this one is to come".to_owned(),
            },
            ..task(
                "oil and filter once more",
                "at the maker's figure, else by 1,000 km",
                1,
            )
        },
    ]
}

fn levels(state: &State, ran: Option<EntryId>) -> Task {
    let seen: Vec<EntryId> = state
        .readings
        .iter()
        .filter(|(entry, found)| {
            ran.is_some_and(|ran| *entry > ran)
                && found
                    .of
                    .to_lowercase()
                    .replace('-', " ")
                    .contains("coolant level")
        })
        .map(|(entry, _)| *entry)
        .collect();
    Task {
        name: "coolant level, cold".to_owned(),
        when: format!("after each of {WARM_UPS} warm-ups"),
        done: seen.get(WARM_UPS - 1).copied(),
        stands: format!("{} of {WARM_UPS} in the record", seen.len()),
        write: "read coolant level: at the mark, cold".to_owned(),
    }
}

/// How far it went since it ran, by readings of the odometer.
fn distance(state: &State, ran: Option<EntryId>) -> Task {
    let metres = |values: &str| -> Option<f64> {
        let list = read::read_list::<Length>(values).ok()?.value;
        list.into_iter().flatten().next().map(Length::si)
    };
    let shown: Vec<(EntryId, f64)> = state
        .readings
        .iter()
        .filter(|(_, found)| {
            let of = found.of.to_lowercase();
            ["odometer", "mileage", "distance"]
                .iter()
                .any(|word| of.contains(word))
        })
        .filter_map(|(entry, found)| Some((*entry, metres(&found.values)?)))
        .collect();
    let start = ran.and_then(|ran| {
        let before = shown.iter().rev().find(|(entry, _)| *entry < ran);
        before.or_else(|| shown.iter().find(|(entry, _)| *entry > ran))
    });
    let gone = |now: f64| start.map_or(0.0, |(_, first)| now - first);
    let done = shown
        .iter()
        .find(|(entry, now)| ran.is_some_and(|ran| *entry > ran) && gone(*now) >= WATCHED)
        .map(|(entry, _)| *entry);
    let last = shown.last().map_or(0.0, |(_, now)| gone(*now));
    Task {
        name: "the first 1,000 km".to_owned(),
        when: "levels and leaks each 100 km, no towing, no full throttle".to_owned(),
        done,
        stands: match start {
            None => "no reading of the odometer".to_owned(),
            Some(_) => format!("{:.0} km of 1,000", last / 1_000.0),
        },
        write: "read odometer: 184300 km".to_owned(),
    }
}

/// Joints the book wants tightened once more: done where a bolt of it was tightened since.
fn retighten(state: &State, ran: Option<EntryId>) -> Vec<Task> {
    state
        .known
        .joints
        .iter()
        .filter(|joint| joint.retighten.is_some() && state.applies(&joint.when))
        .map(|joint| {
            let done = state.joints.get(&joint.id).and_then(|held| {
                held.holes
                    .values()
                    .flat_map(|hole| &hole.tightened)
                    .map(|tight| tight.entry)
                    .filter(|entry| ran.is_some_and(|ran| *entry > ran))
                    .max()
            });
            Task {
                name: format!("retighten {}", state.joint_label(&joint.id)),
                when: "as the book has it, see `matchmark start`".to_owned(),
                done,
                stands: "not tightened since it ran".to_owned(),
                write: format!("tight {} …", joint.id),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use book::Book;
    use job::{ClientId, Entry};

    use super::*;

    const BOOK: &str = r#"
book "Test" invented=#true
part block fixed=#true
part head "Cylinder head" {
    joint head-bolts "Head bolts" to=block {
        holes A..D thread=M10x1.5 length="90 mm"
        retighten warm-ups=1 cold=#true source=maker
    }
}
circuit oil capacity="4.5 L"
"#;

    fn after(lines: &[&str]) -> Vec<(String, Option<u64>, String)> {
        let (book, faults): (Book, _) = book::read(BOOK);
        assert!(faults.is_empty(), "{faults:?}");
        let entries: Vec<Entry> = (1..)
            .zip(lines)
            .map(|(number, line)| Entry {
                id: EntryId(number),
                client: ClientId(number.to_string()),
                author: "ana".to_owned(),
                at: 0,
                line: (*line).to_owned(),
                act: job::line::read_line(line).unwrap_or_else(|fault| panic!("{fault}")),
            })
            .collect();
        tasks(&job::replay(Some(&book), &entries))
            .into_iter()
            .map(|task| (task.name, task.done.map(|entry| entry.0), task.stands))
            .collect()
    }

    const CLOSED: [&str; 5] = [
        "note it started badly for weeks",
        "off head: 4 bolts M10x1.5x90, bag 1",
        "on head: 4 bolts M10x1.5x90",
        "tight head-bolts",
        "fill oil 4.5 L: cheap, to be thrown away",
    ];

    /// Source: *common practice, no source*: two turns by hand, oil changed twice within 1,000
    /// miles, levels watched over three warm-ups.
    #[test]
    fn nothing_is_done_before_it_ran() {
        let tasks = after(&CLOSED);
        assert!(tasks.iter().all(|(_, done, _)| done.is_none()), "{tasks:?}");
        let names: Vec<&str> = tasks.iter().map(|(name, ..)| name.as_str()).collect();
        assert_eq!(
            names,
            [
                "two turns by hand",
                "throw-away oil out",
                "oil and filter once more",
                "coolant level, cold",
                "the first 1,000 km",
                "retighten Head bolts",
            ]
        );
    }

    #[test]
    fn the_record_says_what_is_done() {
        let mut lines = CLOSED.to_vec();
        lines.extend([
            "note plugs out, two turns by hand, bores dry",
            "read odometer: 184000 km",
            "note started after nine seconds",
            "drain oil 4.4 L: grey, no glitter",
            "fill oil 4.5 L",
            "read coolant level: at the mark, cold",
            "read odometer: 184300 km",
            "tight head-bolts",
        ]);
        let tasks = after(&lines);
        let done: Vec<Option<u64>> = tasks.iter().map(|(_, done, _)| *done).collect();
        assert_eq!(done, [Some(6), Some(9), None, None, None, Some(13)]);
        assert_eq!(tasks[3].2, "1 of 3 in the record");
        assert_eq!(tasks[4].2, "300 km of 1,000");
        lines.push("read odometer: 185000 km");
        lines.push("drain oil");
        let done: Vec<Option<u64>> = after(&lines).iter().map(|(_, done, _)| *done).collect();
        assert_eq!(done, [Some(6), Some(9), Some(15), None, Some(14), Some(13)]);
    }
}
