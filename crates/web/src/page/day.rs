//! The close of the day and the way back into it: what stands open, what must not be turned,
//! where the hand was, what comes first next time; and the whole job as one file.

use maud::html;

use crate::asked::Asked;
use crate::page::{self, Frame};

/// Microseconds of a day: what came before today is told differently tomorrow.
const DAY: i64 = 24 * 60 * 60 * 1_000_000;

/// Draws the page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let now_micros = asked.now_micros;
    let today = now_micros.div_euclid(DAY);
    let day = asked.latest(&format!("day {today}"), move |folder| {
        let question = app::day::Asked {
            targets: Vec::new(),
            now_micros,
        };
        app::day::day(folder, &question)
    });
    Frame {
        title: "Day".to_owned(),
        place: "/day",
        body: html! {
            h1 { "Close of the day, and back again" }
            (page::latest(&day, |report| sheet::hypertext::write(report, "day")))
            @if asked.visitor.may_write {
                section {
                    h2 { "A copy of the whole job" }
                    p { "Book, workshop, record and photos in one file. Keep it on another machine than this one." }
                    p { a.go href="/copy" download { "Take a copy" } }
                }
            }
        },
    }
}
