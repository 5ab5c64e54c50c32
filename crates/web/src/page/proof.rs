//! Proof: the first and the last reading of every test, side by side.

use maud::html;
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::Frame;

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let report = asked.answer("proof", app::proof::of_job);
    Frame {
        title: "Proof".to_owned(),
        place: "/proof",
        body: html! {
            h1 { "Proof" }
            (hypertext::write(&report, "proof"))
            p { a href="/readings" { "To the readings" } }
        },
    }
}
