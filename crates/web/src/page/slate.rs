//! The slate: step and time, large, to hold before the film camera.

use maud::html;

use crate::asked::Asked;
use crate::page::{Frame, hidden, in_hand, vehicle};

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let report = in_hand::report(asked, 3);
    let act = vehicle::own(asked, &report);
    let last = asked.folder.entries.last();
    let time = jiff::Timestamp::from_microsecond(asked.now_micros).ok();
    let clock = time.map(|time| time.strftime("%H:%M:%S").to_string());
    let day = time.map(|time| time.strftime("%Y-%m-%d").to_string());
    Frame {
        title: "Slate".to_owned(),
        place: "/slate",
        body: html! {
            div.slate {
                h1 { (act.and_then(|act| act.text("act")).unwrap_or("between two acts")) }
                p.after { "after entry " b { (asked.number()) } @if let Some(last) = last { ": " (last.line) } }
                p.clock {
                    time data-clock datetime=[time.map(|time| time.to_string())] { (clock.as_deref().unwrap_or("--:--:--")) }
                    small { (day.as_deref().unwrap_or_default()) " UTC" }
                }
            }
            @if asked.visitor.may_write && last.is_some() {
                details {
                    summary { "Say where an entry is seen on a film" }
                    form data-entry method="post" action="/entry" {
                        (hidden(asked.path))
                        input type="hidden" name="line" value="film {entry}: {tape? tape }{time}";
                        label { span { "Entry" } input name="entry" inputmode="numeric" value=(asked.number()) required; }
                        label { span { "Tape or file number (may stay empty)" } input name="tape" autocomplete="off"; }
                        label { span { "Hours:minutes:seconds from its start" } input name="time" placeholder="00:12:31" autocomplete="off" required; }
                        button { "Write it down" }
                    }
                }
            }
        },
    }
}
