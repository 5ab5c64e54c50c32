//! When people are there, and which days shops and carriers keep.
//!
//! Times are whole seconds from the midnight before the first day. Nothing here knows a time
//! zone: a working evening does not cross a change of clocks.

use book::{Person, Shop};
use jiff::ToSpan;
use jiff::civil::{Date, Weekday};
use quantity::Duration;

/// Whole seconds from the midnight before the first day.
pub type Seconds = i64;

/// Seconds of a day.
pub const DAY: Seconds = 86_400;

const HOUR: Seconds = 3_600;

/// When a weekday evening begins. The shop file says how long somebody is there, not from when;
/// this is a convention of this program.
pub const EVENING: Seconds = 18 * HOUR;

/// When a Saturday, a Sunday or a whole working day begins. A convention like [`EVENING`].
pub const MORNING: Seconds = 9 * HOUR;

/// More hours than this on a weekday are no evening but a working day.
const LONGEST_EVENING: Seconds = 5 * HOUR;

/// When a shop takes work in, and when it hands work out; carriers come by then too.
/// Conventions of this program.
const TAKES_IN: Seconds = 9 * HOUR;
const HANDS_OUT: Seconds = 17 * HOUR;

/// Stretches of time `(from, to)`, without `to`; sorted, not touching.
pub type Windows = Vec<(Seconds, Seconds)>;

/// Whole seconds of a duration.
pub(crate) fn whole(time: Duration) -> Seconds {
    // Durations of a book are at most some years, far below the largest whole number of a float.
    time.in_seconds().round() as Seconds
}

/// The day a moment falls on, counted from 0.
#[must_use]
pub fn day_of(at: Seconds) -> i64 {
    at.div_euclid(DAY)
}

/// The date so many days after the first one.
pub(crate) fn date(first: Date, days: i64) -> Date {
    // A calendar covers a few years; the last day jiff knows is in the year 9999.
    first.saturating_add(days.days())
}

/// When a person is there, over so many days.
pub(crate) fn of_person(person: &Person, first: Date, days: i64) -> Windows {
    let mut windows: Windows = Vec::new();
    for day in 0..days {
        let date = date(first, day);
        let length = whole(on_day(person, date)).min(DAY);
        if length <= 0 {
            continue;
        }
        let evening = !weekend(date.weekday()) && length <= LONGEST_EVENING;
        let usual = if evening { EVENING } else { MORNING };
        let from = day * DAY + usual.min(DAY - length);
        match windows.last_mut() {
            Some(last) if last.1 == from => last.1 = from + length,
            Some(_) | None => windows.push((from, from + length)),
        }
    }
    windows
}

/// How long a person is there on a day; nothing on days away.
#[must_use]
pub fn on_day(person: &Person, date: Date) -> Duration {
    if away(person, date) {
        return Duration::default();
    }
    let weekday = date.weekday().to_monday_zero_offset();
    person.hours[usize::from(weekday.unsigned_abs())]
}

fn away(person: &Person, date: Date) -> bool {
    let day = date.to_string();
    let within = |(first, last): &(book::Date, book::Date)| {
        first.to_string() <= day && day <= last.to_string()
    };
    person.away.iter().any(within)
}

fn weekend(weekday: Weekday) -> bool {
    matches!(weekday, Weekday::Saturday | Weekday::Sunday)
}

/// The day itself when it is a Monday to Friday, else the Monday after.
fn working_day(first: Date, mut day: i64) -> i64 {
    while weekend(date(first, day).weekday()) {
        day += 1;
    }
    day
}

/// The moment a machine shop takes a part that is ready for it.
pub(crate) fn taken_in(first: Date, ready: Seconds) -> Seconds {
    let today = day_of(ready);
    let day = if ready <= today * DAY + TAKES_IN {
        today
    } else {
        today + 1
    };
    working_day(first, day) * DAY + TAKES_IN
}

/// The moment something is here that takes so many days from a moment: it comes, or can be
/// fetched, on a Monday to Friday.
pub(crate) fn here(first: Date, from: Seconds, days: f64) -> Seconds {
    // Book figures in days are small; a part of a day counts as a day.
    let whole_days = days.ceil().max(0.0) as i64;
    working_day(first, day_of(from) + whole_days) * DAY + HANDS_OUT
}

/// The last day, counted from 0, on which something that takes so many days can be set going
/// to be here by a moment. Before the first day (negative) when it is too late already.
pub(crate) fn latest_start(first: Date, by: Seconds, days: f64) -> i64 {
    let mut day = day_of(by);
    while day > -400 && here(first, day * DAY, days) > by {
        day -= 1;
    }
    day
}

/// When everybody of a shop is there.
pub(crate) fn of_shop(shop: &Shop, first: Date, days: i64) -> Vec<Windows> {
    shop.people
        .iter()
        .map(|person| of_person(person, first, days))
        .collect()
}

/// What several lists of windows have in common.
pub(crate) fn common(lists: &[&Windows]) -> Windows {
    let Some((one, rest)) = lists.split_first() else {
        return Vec::new();
    };
    let mut shared = (*one).clone();
    for other in rest {
        let mut both = Vec::new();
        let (mut i, mut j) = (0, 0);
        while let (Some(&(from, to)), Some(&(other_from, other_to))) = (shared.get(i), other.get(j))
        {
            let (start, end) = (from.max(other_from), to.min(other_to));
            if start < end {
                both.push((start, end));
            }
            if to < other_to { i += 1 } else { j += 1 }
        }
        shared = both;
    }
    shared
}
