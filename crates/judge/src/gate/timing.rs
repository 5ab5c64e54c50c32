//! The cam drive before the crank turns: whether it is on, and the two turns by hand that follow
//! any work on it.
//!
//! What may be turned shaft by shaft is the matter of planning; this knows only what was touched.

use book::{Part, PartId, ShaftKind};
use job::{EntryId, State, Where};
use report::Finding;

use super::act::{TURNED, said, stop};

/// The finding no reason opens a gate for: the marks were not proved by hand.
pub(super) const NOT_TURNED: &str = "turns-not-made";

/// What such parts are called where the book names no shafts.
const NAMES: [&str; 5] = [
    "timing chain",
    "timing belt",
    "cam chain",
    "cam belt",
    "cambelt",
];

/// A cam drive that is off: the crank would turn without its cams.
pub(super) fn drive_off(state: &State) -> Vec<Finding> {
    state
        .known
        .shafts
        .iter()
        .filter(|shaft| shaft.kind == ShaftKind::Cam && state.applies(&shaft.when))
        .filter(|shaft| {
            // A head that is off has its valves with it.
            shaft
                .sits_in
                .as_ref()
                .is_none_or(|part| state.whereabouts(&part.id) != Where::Off)
        })
        .filter_map(|shaft| shaft.drive_part.as_ref())
        .filter(|part| state.whereabouts(&part.id) == Where::Off)
        .map(|part| {
            let label = state.part_label(&part.id);
            stop(
                "cam-drive-off",
                &label.clone(),
                &format!("{label}: off while the cams are in their place"),
                "the crank turns and the cams stand still: pistons meet open valves",
                "fit it by the maker's marks; `matchmark turn` says what may be turned meanwhile",
            )
        })
        .collect()
}

/// A cam drive that was open, and nobody has turned the crank by hand since it was closed.
pub(super) fn not_turned(state: &State) -> Option<Finding> {
    let since = touched(state)?;
    (!said(state, since, &TURNED)).then(|| {
        stop(
            NOT_TURNED,
            "cam drive",
            &format!("the cam drive was open (last by entry {since}), and no entry since says that the crank was turned by hand"),
            "a tooth out bends valves on the starter; by hand it is only felt",
            "plugs out, two crank turns in running direction, stop at any hard spot, look at the marks again, then write `note two turns by hand, marks agree`",
        )
    })
}

/// The last entry that moved a part of a cam drive; `None` where none was touched.
pub(crate) fn touched(state: &State) -> Option<EntryId> {
    drive_parts(state)
        .filter_map(|part| state.parts.get(part))
        .map(|held| held.since)
        .filter(|since| *since > EntryId::default())
        .max()
}

/// Chains and belts of the cams and what tensions them; by their names where the book has no
/// shafts.
fn drive_parts(state: &State) -> impl Iterator<Item = &PartId> {
    let drives: Vec<&PartId> = state
        .known
        .shafts
        .iter()
        .filter(|shaft| shaft.kind == ShaftKind::Cam && state.applies(&shaft.when))
        .filter_map(|shaft| shaft.drive_part.as_ref())
        .map(|part| &part.id)
        .collect();
    state
        .known
        .parts
        .iter()
        .filter(move |part| {
            drives.contains(&&part.id)
                || drives
                    .iter()
                    .any(|drive| tensions(state.known.part(drive), part))
                || (drives.is_empty() && is_named_so(part))
        })
        .map(|part| &part.id)
}

/// Whether a drive only comes off once this tensioner is off.
fn tensions(drive: Option<&Part>, part: &Part) -> bool {
    part.id.as_str().contains("tensioner")
        && drive.is_some_and(|drive| drive.needs_off.iter().any(|need| need.id == part.id))
}

fn is_named_so(part: &Part) -> bool {
    let name = part.id.as_str().replace('-', " ");
    let label = part.label.as_deref().unwrap_or_default().to_lowercase();
    !name.contains("cover")
        && NAMES
            .iter()
            .any(|word| name.contains(word) || label.contains(word))
}
