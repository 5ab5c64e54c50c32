//! Ignition leads: option text into a question for the judge.

use judge::leads::{Leads, Turn, judge};
use planning::{Graph, Standing};
use report::Report;

use crate::folder::Folder;
use crate::option::Options;

/// The lead map of the job, from its book.
#[must_use]
pub fn lead_map(folder: &Folder) -> Report {
    let choices = Standing::from(&folder.state).choices;
    planning::mixups::lead_map(&Graph::new(&folder.state.known, &choices))
}

/// Says how far out the leads are.
#[must_use]
pub fn leads(firing_order: &str, rotor_at: u8, turn: &str, on_compression: bool) -> Report {
    let mut options = Options::of("leads");
    let mut order = Vec::new();
    for word in firing_order
        .split([' ', '-', ','])
        .filter(|word| !word.is_empty())
    {
        match word.parse() {
            Ok(cylinder) => order.push(cylinder),
            Err(_) => options.fault(
                "--firing-order",
                format!("{word:?} is no cylinder number"),
                "1 3 4 2",
            ),
        }
    }
    let turn = match turn.trim().to_lowercase().as_str() {
        "clockwise" | "cw" => Some(Turn::Clockwise),
        "anticlockwise" | "counterclockwise" | "ccw" => Some(Turn::Anticlockwise),
        other => {
            options.fault(
                "--turns",
                format!("{other:?} is no way to turn"),
                "clockwise or anticlockwise, seen from above the cap",
            );
            None
        }
    };
    match turn {
        Some(turn) if options.clean() => judge(&Leads {
            firing_order: order,
            turn,
            rotor_at,
            on_compression,
        }),
        _ => options.refusal("Ignition leads, cylinder 1 at the top"),
    }
}
