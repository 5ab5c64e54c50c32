//! Days ahead: who works when, what to buy by when, what waits.

use app::calendar::{Asked as Question, calendar};
use maud::html;
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::{self, Frame, in_hand};

/// Microseconds of a day: tomorrow the same question has another answer.
const DAY: i64 = 24 * 60 * 60 * 1_000_000;

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let targets = in_hand::targets(asked);
    let now_micros = asked.now_micros;
    let today = now_micros.div_euclid(DAY);
    let said = targets.join(", ");
    let ahead = asked.latest(&format!("calendar {today} {said}"), move |folder| {
        let question = Question {
            from: None,
            now_micros,
            targets,
            since: None,
            moves: None,
            seed: None,
        };
        calendar(folder, &question)
    });
    Frame {
        title: "Days ahead".to_owned(),
        place: "/day",
        body: html! {
            h1 { "Days ahead" }
            (page::latest(&ahead, |report| hypertext::write(report, "ahead")))
            form.way method="get" action="/days" {
                label {
                    span { "What the job is for; empty: the way back of what is off" }
                    input name="for" value=(said) autocomplete="off" autocapitalize="off" spellcheck="false";
                }
                button { "Lay it over the days" }
            }
            p { a href="/day" { "Close of the day, and back again" } }
        },
    }
}
