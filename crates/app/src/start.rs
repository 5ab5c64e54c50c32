//! The start sheet of a job: option text and the job's state into the sheet.

use judge::start::{FuelSide, sheet};
use quantity::{Flow, Volume};
use report::Report;

use crate::folder::Folder;
use crate::option::Options;

/// The start sheet, with fuel volume and pump flow where they were given.
#[must_use]
pub fn start(folder: &Folder, volume: Option<&str>, flow: Option<&str>) -> Report {
    let mut options = Options::of("start");
    let volume = options.maybe::<Volume>("--fuel-volume", volume);
    let flow = options.maybe::<Flow>("--fuel-flow", flow);
    if !options.clean() {
        return options.refusal("First start");
    }
    sheet(
        &folder.state,
        FuelSide {
            volume: volume.map(|said| said.value),
            flow: flow.map(|said| said.value),
        },
    )
}
