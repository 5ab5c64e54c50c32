//! For whom and for which day a job sheet is: whoever was named, else those who are there
//! next by the shop file.

use jiff::ToSpan;
use jiff::civil::Date;
use quantity::{Duration, Quantity};

use crate::paper::Wish;

/// Days looked ahead for one on which somebody is there.
const AHEAD: i64 = 28;

/// One of the people.
#[derive(Clone, Debug)]
pub(super) struct Worker {
    pub id: String,
    label: String,
    /// How much longer than the book it takes them.
    pace: f64,
}

/// A stretch of work on one day.
#[derive(Clone, Debug)]
pub(super) struct Shift {
    /// Nothing where the day of the paper is none of the calendar.
    day: Option<Date>,
    /// Nobody: one person without a name.
    pub people: Vec<Worker>,
    /// How long all of them are there; nothing where nobody wrote it down.
    pub hours: Option<Duration>,
}

impl Shift {
    pub fn of(wish: &Wish<'_>) -> Self {
        let today = wish.day.to_string().parse::<Date>().ok();
        let people = wish.folder.shop.as_ref().map_or(&[][..], |it| &it.people);
        if !wish.at_work.is_empty() {
            let named = wish.at_work.iter().map(|typed| {
                let known = people.iter().find(|one| {
                    let label = one.label.as_deref().unwrap_or_default();
                    job::same_name(one.id.as_str(), typed) || job::same_name(label, typed)
                });
                (known, typed)
            });
            let (known, typed): (Vec<_>, Vec<_>) = named.unzip();
            let there = known.iter().map(|one| Some(on(today?, (*one)?)));
            let there: Option<Vec<Duration>> = there.collect();
            return Self {
                day: today,
                people: known
                    .iter()
                    .zip(typed)
                    .map(|(one, typed)| one.map_or_else(|| stranger(typed), worker))
                    .collect(),
                hours: wish.hours.or_else(|| shortest(&there?)),
            };
        }
        let next = today.and_then(|today| {
            (0..AHEAD).find_map(|days| {
                let day = today.checked_add(days.days()).ok()?;
                let there = people.iter().filter(|one| on(day, one).in_minutes() > 0.0);
                let there: Vec<&book::Person> = there.collect();
                (!there.is_empty()).then_some((day, there))
            })
        });
        let Some((day, there)) = next else {
            return Self {
                day: today,
                people: Vec::new(),
                hours: wish.hours,
            };
        };
        let hours: Vec<Duration> = there.iter().map(|one| on(day, one)).collect();
        Self {
            day: Some(day),
            hours: wish.hours.or_else(|| shortest(&hours)),
            people: there.into_iter().map(worker).collect(),
        }
    }

    /// The day in words: `Saturday 11 April`.
    pub fn day(&self) -> String {
        self.day.map_or_else(
            || "the day".to_owned(),
            |day| day.strftime("%A %-d %B").to_string(),
        )
    }

    /// What a reader calls a person.
    pub fn label(&self, who: &str) -> String {
        self.one(who)
            .map_or_else(|| who.to_owned(), |one| one.label.clone())
    }

    /// How much longer than the book it takes a person.
    pub fn pace(&self, who: &str) -> f64 {
        self.one(who).map_or(1.0, |one| one.pace)
    }

    fn one(&self, who: &str) -> Option<&Worker> {
        self.people.iter().find(|one| one.id == who)
    }
}

fn on(day: Date, person: &book::Person) -> Duration {
    planning::calendar::on_day(person, day)
}

fn worker(person: &book::Person) -> Worker {
    let id = person.id.to_string();
    let factor: f64 = person.first_time.known().map_or(1.0, |factor| factor.si());
    Worker {
        label: person.label.clone().unwrap_or_else(|| id.clone()),
        id,
        pace: factor.max(1.0),
    }
}

/// Somebody the shop file does not know.
fn stranger(typed: &str) -> Worker {
    Worker {
        id: typed.to_owned(),
        label: typed.to_owned(),
        pace: 1.0,
    }
}

/// The time all of them are there; nothing where one of them is not there at all.
fn shortest(hours: &[Duration]) -> Option<Duration> {
    let least = hours
        .iter()
        .copied()
        .min_by(|one, other| one.in_minutes().total_cmp(&other.in_minutes()))?;
    (least.in_minutes() > 0.0).then_some(least)
}
