//! Appointments as an iCalendar file (RFC 5545), for any calendar that reads one.
//!
//! Times are floating: nine in the evening is nine where the reader is, for a workshop does
//! not move. The writer keeps to what the RFC asks of every reader: CRLF, lines folded at 75
//! octets, text with its own signs behind a backslash.

use jiff::Timestamp;
use jiff::civil::{Date, DateTime};

/// When something begins or ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    /// A whole day. As an end, it is the first day that no longer counts.
    Day(Date),
    /// A moment, by the clock on the wall.
    At(DateTime),
}

/// One appointment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// A name that stays the same when the calendar is written again, so that a reader puts
    /// the new one in place of the old.
    pub uid: String,
    /// When it begins.
    pub from: When,
    /// When it ends; of the same sort as the beginning.
    pub to: When,
    /// What it is, in one line.
    pub summary: String,
    /// More about it.
    pub detail: Option<String>,
}

/// Writes a calendar. `stamp` is when it was written.
#[must_use]
pub fn ical(name: &str, events: &[Event], stamp: Timestamp) -> String {
    let mut page = String::new();
    let stamp = stamp.strftime("%Y%m%dT%H%M%SZ").to_string();
    line(&mut page, "BEGIN", "VCALENDAR");
    line(&mut page, "VERSION", "2.0");
    line(&mut page, "PRODID", "-//matchmark//calendar//EN");
    line(&mut page, "X-WR-CALNAME", &escaped(name));
    for event in events {
        line(&mut page, "BEGIN", "VEVENT");
        line(&mut page, "UID", &escaped(&event.uid));
        line(&mut page, "DTSTAMP", &stamp);
        when(&mut page, "DTSTART", event.from);
        when(&mut page, "DTEND", event.to);
        line(&mut page, "SUMMARY", &escaped(&event.summary));
        if let Some(detail) = &event.detail {
            line(&mut page, "DESCRIPTION", &escaped(detail));
        }
        line(&mut page, "END", "VEVENT");
    }
    line(&mut page, "END", "VCALENDAR");
    page
}

fn when(page: &mut String, name: &str, when: When) {
    match when {
        When::Day(day) => line(
            page,
            &format!("{name};VALUE=DATE"),
            &day.strftime("%Y%m%d").to_string(),
        ),
        When::At(at) => line(page, name, &at.strftime("%Y%m%dT%H%M%S").to_string()),
    }
}

/// One content line, folded: no piece is longer than 75 octets, and none begins in the middle
/// of a letter (RFC 5545, 3.1).
fn line(page: &mut String, name: &str, value: &str) {
    const LONGEST: usize = 75;
    let mut length = 0;
    for sign in name.chars().chain([':']).chain(value.chars()) {
        if length + sign.len_utf8() > LONGEST {
            page.push_str("\r\n ");
            length = 1;
        }
        page.push(sign);
        length += sign.len_utf8();
    }
    page.push_str("\r\n");
}

/// Text with the signs that part values put behind a backslash (RFC 5545, 3.3.11).
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '\\' | ';' | ',' => {
                escaped.push('\\');
                escaped.push(sign);
            }
            '\n' => escaped.push_str("\\n"),
            sign if sign.is_control() => {}
            sign => escaped.push(sign),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use icalendar::{Calendar, CalendarComponent, Component};

    use super::*;

    fn events() -> Vec<Event> {
        let day: Date = "2026-03-02".parse().unwrap();
        vec![
            Event {
                uid: "evening-1@matchmark".to_owned(),
                from: When::At(day.at(18, 30, 0, 0)),
                to: When::At(day.at(21, 0, 0, 0)),
                summary: "air duct, battery; then the runners, which µ-metres of paint hold on to \
                          for longer than one line of seventy-five octets"
                    .to_owned(),
                detail: Some("bag 1\nbag 2 \\ tray".to_owned()),
            },
            Event {
                uid: "shop@matchmark".to_owned(),
                from: When::Day(day),
                to: When::Day(day.tomorrow().unwrap()),
                summary: "heads at the machine shop".to_owned(),
                detail: None,
            },
        ]
    }

    /// Source: a general library reads the file back (`icalendar` 0.17, its own parser); the
    /// values are those put in.
    #[test]
    fn another_reader_finds_what_was_written() {
        let text = ical(
            "Island post van",
            &events(),
            "2026-03-01T12:00:00Z".parse().unwrap(),
        );
        let calendar: Calendar = text.parse().unwrap();
        let read: Vec<_> = calendar
            .components
            .iter()
            .filter_map(|component| match component {
                CalendarComponent::Event(event) => Some(event),
                _ => None,
            })
            .collect();
        assert_eq!(read.len(), 2);
        for (event, put) in read.iter().zip(events()) {
            assert_eq!(event.get_uid(), Some(put.uid.as_str()));
            assert_eq!(event.get_summary(), Some(put.summary.as_str()));
            assert_eq!(event.get_description().map(str::to_owned), put.detail);
        }
        assert_eq!(read[0].property_value("DTSTART"), Some("20260302T183000"));
        assert_eq!(read[1].property_value("DTEND"), Some("20260303"));
    }

    #[test]
    fn no_line_is_longer_than_the_rfc_allows_and_all_end_alike() {
        let text = ical("Van", &events(), "2026-03-01T12:00:00Z".parse().unwrap());
        assert!(text.ends_with("END:VCALENDAR\r\n"));
        for line in text.split("\r\n") {
            assert!(line.len() <= 75, "{line}");
            assert!(!line.contains('\n'));
        }
    }
}
