//! The calendar as appointments for any calendar program: one for each stretch of work of a
//! person, one for each wait.

use std::path::Path;

use files::{Event, When, ical};
use jiff::civil::{Date, DateTime};
use report::{DaySpan, Finding, Picture, Report, Weight};

use super::{Asked, first_day};

const MINUTES: f64 = 24.0 * 60.0;

/// Writes the appointments of a calendar that was answered into a file (`.ics`). What was
/// written, or why not, stands in the answer afterwards.
pub fn save(report: &mut Report, asked: &Asked, file: &Path) {
    let shown = file.display().to_string();
    let events = first_day(asked).ok().map(|first| events(report, first));
    let Some(events) = events.filter(|events| !events.is_empty()) else {
        let says = "there is nothing to be done, and no file was written";
        report
            .findings
            .push(Finding::new("no-appointments", shown, says).weight(Weight::Note));
        return;
    };
    let written = jiff::Timestamp::from_microsecond(asked.now_micros)
        .map_err(|why| why.to_string())
        .map(|stamp| ical(&report.title, &events, stamp))
        .and_then(|text| {
            crate::document::whole(file, text.as_bytes()).map_err(|why| why.to_string())
        });
    report.findings.push(match written {
        Ok(()) => {
            let says = format!("{} appointments written: {shown}", events.len());
            Finding::new("written", "", says).weight(Weight::Note)
        }
        Err(why) => Finding::new("appointments-not-written", shown, why)
            .next("name a file in a folder that is there and may be written to")
            .weight(Weight::Stop),
    });
}

fn events(report: &Report, first: Date) -> Vec<Event> {
    let mut events = Vec::new();
    for picture in &report.pictures {
        let Picture::Days(days) = picture else {
            continue;
        };
        for lane in &days.lanes {
            for (number, span) in (1..).zip(&lane.spans) {
                let Some((from, to)) = ends(span, first) else {
                    continue;
                };
                events.push(Event {
                    uid: format!("{first}-{}-{number}@matchmark", job::folded(&lane.name)),
                    from,
                    to,
                    summary: format!("{}: {}", lane.name, span.label),
                    detail: span
                        .sets_finish
                        .then(|| "the finish hangs on it".to_owned()),
                });
            }
        }
    }
    events
}

/// Work has its hours; a wait takes whole days.
fn ends(span: &DaySpan, first: Date) -> Option<(When, When)> {
    if span.waiting {
        let to = span.to.ceil().max(span.from.floor() + 1.0);
        let from = moment(first, span.from.floor())?.date();
        return Some((When::Day(from), When::Day(moment(first, to)?.date())));
    }
    Some((
        When::At(moment(first, span.from)?),
        When::At(moment(first, span.to)?),
    ))
}

fn moment(first: Date, days: f64) -> Option<DateTime> {
    let minutes = (days * MINUTES).round();
    // More than a lifetime of minutes is no calendar.
    if !(0.0..5e7).contains(&minutes) {
        return None;
    }
    let minutes: i64 = format!("{minutes:.0}").parse().ok()?;
    let begin = first.to_datetime(jiff::civil::Time::midnight());
    begin.checked_add(jiff::Span::new().minutes(minutes)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_days_become_hours_and_waits_whole_days() {
        let first: Date = "2026-03-02".parse().unwrap();
        let span = |from, to, waiting| DaySpan {
            from,
            to,
            label: String::new(),
            waiting,
            sets_finish: false,
        };
        let (from, to) = ends(&span(1.75, 1.875, false), first).unwrap();
        assert_eq!(from, When::At("2026-03-03T18:00:00".parse().unwrap()));
        assert_eq!(to, When::At("2026-03-03T21:00:00".parse().unwrap()));
        let (from, to) = ends(&span(2.5, 4.0, true), first).unwrap();
        assert_eq!(from, When::Day("2026-03-04".parse().unwrap()));
        assert_eq!(to, When::Day("2026-03-06".parse().unwrap()));
        assert!(ends(&span(f64::NAN, 1.0, false), first).is_none());
    }
}
