//! Reads a written calendar: a written plan, the workshop, and who does which step when.
//!
//! ```text
//! shop:        KDL until the next heading
//! from:        YYYY-MM-DD
//! finish:      DAY HH:MM
//! dated:       ACT TARGET | PERSON,PERSON | DAY HH:MM-HH:MM, DAY HH:MM-HH:MM
//! elsewhere:   away PART | DAY HH:MM .. DAY HH:MM | ACT TARGET, ACT TARGET
//!              comes     | DAY HH:MM .. DAY HH:MM | ACT TARGET
//! ```
//! Days are counted from the first, which is 0.

use book::{Book, Date, PartId, PersonId, Shop};
use job::dated::{Dated, DatedStep, Elsewhere, Stretch};
use job::plan::StepName;

use super::{Case, name, section, value};

/// One written calendar.
pub struct DatedCase {
    pub case: Case,
    pub shop: Shop,
    pub dated: Dated,
}

impl DatedCase {
    pub fn read(text: &str) -> Self {
        let case = Case::read(text);
        let written = format!("shop \"Test bay\"\n{}\n", section(text, "shop:").join("\n"));
        let (shop, faults) = book::read_shop(&written);
        assert!(faults.is_empty(), "{faults:?}");
        let steps = section(text, "dated:").into_iter();
        let elsewhere = section(text, "elsewhere:").into_iter();
        let dated = Dated {
            first: Date::read(&value(text, "from:").expect("from:")).expect("a day"),
            steps: steps.map(|line| step(&case.book, line)).collect(),
            elsewhere: elsewhere.map(|line| away(&case.book, line)).collect(),
            finish: moment(&value(text, "finish:").expect("finish:")),
        };
        Self { case, shop, dated }
    }
}

fn columns(line: &str) -> [&str; 3] {
    let columns: Vec<&str> = line.split('|').map(str::trim).collect();
    columns
        .try_into()
        .unwrap_or_else(|_| panic!("{line}: three columns"))
}

fn step(book: &Book, line: &str) -> DatedStep {
    let [what, people, times] = columns(line);
    DatedStep {
        name: step_name(book, what),
        people: people.split(',').map(PersonId::from).collect(),
        stretches: times.split(", ").map(stretch).collect(),
    }
}

fn away(book: &Book, line: &str) -> Elsewhere {
    let [what, times, wanted] = columns(line);
    let (from, to) = times.split_once("..").expect("from .. to");
    Elsewhere {
        part: what.strip_prefix("away ").map(PartId::from),
        lasts: (moment(from.trim()), moment(to.trim())),
        wanted_by: wanted
            .split(", ")
            .map(|name| step_name(book, name))
            .collect(),
    }
}

fn step_name(book: &Book, text: &str) -> StepName {
    let (act, target) = text.split_once(' ').expect("an act and a target");
    name(book, act, target)
}

/// `0 18:00-19:30`.
fn stretch(text: &str) -> Stretch {
    let (from, to) = text.split_once('-').expect("from-to");
    let (day, _) = from.split_once(' ').expect("a day");
    (moment(from), moment(&format!("{day} {to}")))
}

/// `0 18:00`, in seconds.
fn moment(text: &str) -> i64 {
    let (day, clock) = text.split_once(' ').expect("a day and a time");
    let (hour, minute) = clock.split_once(':').expect("hours:minutes");
    let number = |text: &str| text.parse::<i64>().expect("a whole number");
    (number(day) * 24 + number(hour)) * 3_600 + number(minute) * 60
}
