//! The start sheet of a job: option text and the job's state into the sheet.

use judge::start::{FuelSide, sheet};
use quantity::{Flow, Volume};
use report::{Report, Verdict};

use crate::folder::Folder;
use crate::gate;
use crate::option::Options;

/// The gates between a whole engine and its first start.
const GATES: [&str; 3] = ["turn-by-hand", "spin", "fire"];

/// The start sheet, with fuel volume and pump flow where they were given. `now_micros` is the
/// moment of asking, for the gates.
#[must_use]
pub fn start(folder: &Folder, volume: Option<&str>, flow: Option<&str>, now_micros: i64) -> Report {
    let mut options = Options::of("start");
    let volume = options.maybe::<Volume>("--fuel-volume", volume);
    let flow = options.maybe::<Flow>("--fuel-flow", flow);
    if !options.clean() {
        return options.refusal("First start");
    }
    let shut: Vec<&str> = GATES
        .into_iter()
        .filter(|name| gate::one(folder, name, now_micros).verdict == Some(Verdict::Closed))
        .collect();
    sheet(
        &folder.state,
        FuelSide {
            volume: volume.map(|said| said.value),
            flow: flow.map(|said| said.value),
        },
        &shut,
    )
}
