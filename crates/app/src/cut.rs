//! What a cut does: option text into a question for the judge.

use judge::cut::{Asked as Question, CamDrive, Lean, Vee, judge};
use quantity::{Angle, Area, Length, Ratio};
use report::Report;

use crate::option::Options;
use crate::{readings, typed};

const COMMAND: &str = "cut";
const TITLE: &str = "What a cut does";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Metal to come off, at the deepest place.
    pub cut: String,
    /// Metal that came off before.
    pub before: Option<String>,
    /// The most that may be gone in all.
    pub limit: Option<String>,
    /// Whose limit it is.
    pub limit_source: Option<String>,
    /// Pitch radius of the cam wheel.
    pub cam_radius: Option<String>,
    /// Pitch radius of the crank wheel.
    pub crank_radius: Option<String>,
    /// Distance of crank and cam centres.
    pub centres: Option<String>,
    /// Lean of the pulling span, measured.
    pub lean: Option<String>,
    /// Angle of the valves to the bore.
    pub valve_angle: Option<String>,
    /// Angle of the pushrods to the bore.
    pub pushrod_angle: Option<String>,
    /// Angle between the banks.
    pub bank_angle: Option<String>,
    /// Tilt of the manifold flange from square to the deck.
    pub flange_tilt: Option<String>,
    /// Thickness at the corners.
    pub corners: Option<String>,
    /// Mouth of a chamber.
    pub chamber_area: Option<String>,
    /// Share of the head's length between the end cylinders.
    pub end_share: Option<String>,
    /// Distance of the corners across the face.
    pub width: Option<String>,
}

/// Works out what a cut does.
#[must_use]
pub fn cut(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Question> {
    let cut = options.quantity::<Length>("DEPTH", &asked.cut);
    let before = options.maybe::<Length>("--before", asked.before.as_deref());
    let total = readings::limit(
        options,
        "--limit",
        asked.limit.as_deref(),
        asked.limit_source.as_deref(),
    );
    let drive = drive(asked, options);
    let mut angle = |name, text: &Option<String>| {
        options
            .maybe::<Angle>(name, text.as_deref())
            .map(|said| said.value)
    };
    let valve = angle("--valve-angle", &asked.valve_angle);
    let pushrod = angle("--pushrod-angle", &asked.pushrod_angle);
    let bank = angle("--bank-angle", &asked.bank_angle);
    let tilt = angle("--flange-tilt", &asked.flange_tilt);
    let corners = asked
        .corners
        .as_deref()
        .and_then(|text| options.list::<Length>("--corners", text))
        .map_or_else(Vec::new, |said| said.value);
    let mouth = options.maybe::<Area>("--chamber-area", asked.chamber_area.as_deref());
    let share = options.maybe::<Ratio>("--end-share", asked.end_share.as_deref());
    let width = options.maybe::<Length>("--width", asked.width.as_deref());
    let level = Angle::degrees(0.0).ok()?;
    Some(Question {
        cut: cut?.value,
        before: before.map(|said| said.value),
        total,
        drive,
        valve,
        pushrod,
        vee: bank.map(|bank| Vee {
            bank,
            tilt: tilt.unwrap_or(level),
        }),
        corners,
        mouth: mouth.map(|said| said.value),
        end_share: share.map(|said| said.value.in_fraction()),
        width: width.map(|said| said.value),
        unit: typed::unit_of::<Length>(&asked.cut),
    })
}

/// The cam drive: a wheel, and either the other wheel with its distance or a measured lean.
fn drive(asked: &Asked, options: &mut Options) -> Option<CamDrive> {
    let cam = options.maybe::<Length>("--cam-radius", asked.cam_radius.as_deref());
    let crank = options.maybe::<Length>("--crank-radius", asked.crank_radius.as_deref());
    let apart = options.maybe::<Length>("--centres", asked.centres.as_deref());
    let lean = options.maybe::<Angle>("--lean", asked.lean.as_deref());
    let given = [
        &asked.cam_radius,
        &asked.crank_radius,
        &asked.centres,
        &asked.lean,
    ];
    if given.iter().all(|text| text.is_none()) {
        return None;
    }
    let lean = match (lean, crank, apart) {
        (Some(lean), ..) => Some(Lean::Measured(lean.value)),
        (None, Some(crank), Some(apart)) => Some(Lean::Straight {
            crank: crank.value,
            apart: apart.value,
        }),
        _ => None,
    };
    if cam.is_none() || lean.is_none() {
        options.fault(
            "cam drive",
            "only part of the cam drive is given",
            "--cam-radius with --lean, or with --crank-radius and --centres for a straight drive",
        );
        return None;
    }
    Some(CamDrive {
        cam: cam?.value,
        lean: lean?,
    })
}
