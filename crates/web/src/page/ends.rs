//! Ends: the map, suspected pairs, tags, and where loose ends could belong.

use app::ends::{ends, tags};
use maud::html;
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::Frame;

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let now = asked.now_micros;
    let day = now / 86_400_000_000;
    let map = asked.answer("ends", |folder| ends(folder, false, now));
    let open = asked.answer(&format!("ends, open, day {day}"), |folder| {
        ends(folder, true, now)
    });
    let pairs = asked.answer("mixups", |folder| app::mixups::mixups(folder, None, false));
    let given = asked.answer("tags", tags);
    Frame {
        title: "Ends".to_owned(),
        place: "/ends",
        body: html! {
            h1 { "Ends" }
            (hypertext::write(&pairs, "pairs"))
            (hypertext::write(&open, "loose"))
            details open { summary { "The map" } (hypertext::write(&map, "map")) }
            details { summary { "Tags in pairs, and bags" } (hypertext::write(&given, "tags")) }
        },
    }
}
