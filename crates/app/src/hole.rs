//! A bolt in a blind hole: option text into a question for the judge.

use calc::strip::HoleMaterial;
use judge::hole::{Question, judge};
use quantity::Length;
use report::Report;

use crate::folder::Folder;
use crate::option::Options;
use crate::torque::{class, thread};

const COMMAND: &str = "hole";
const TITLE: &str = "Bolt in a blind hole";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Length of the bolt under its head.
    pub bolt: String,
    /// Depth of the hole.
    pub depth: String,
    /// Thickness of each washer.
    pub washers: Vec<String>,
    /// Thickness clamped; the depth then counts from the joint face.
    pub grip: Option<String>,
    /// Thread designation.
    pub thread: Option<String>,
    /// Strength mark.
    pub class: Option<String>,
    /// What the hole is cut into.
    pub into: Option<String>,
}

/// The same in a job: a bolt that is too long by so much may stand on a part of that thickness
/// that was forgotten.
#[must_use]
pub fn of_job(folder: Option<&Folder>, asked: &Asked) -> Report {
    let mut report = hole(asked);
    let too_long = report.figure("clearance").map(|room| room.value * -1e3);
    let (Some(folder), Some(by_mm)) = (folder, too_long.filter(|by_mm| *by_mm > 0.0)) else {
        return report;
    };
    let missing = job::outstanding::thick_as(&folder.state, by_mm, None);
    if let Some(finding) = report.findings.iter_mut().find(|it| it.code == "bottoms") {
        finding.detail.extend(missing);
    }
    report
}

/// Answers whether the bolt bottoms and how much thread meets.
#[must_use]
pub fn hole(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Question> {
    let bolt = options.quantity::<Length>("--bolt", &asked.bolt);
    let depth = options.quantity::<Length>("--depth", &asked.depth);
    let washers = asked
        .washers
        .iter()
        .filter_map(|text| options.quantity::<Length>("--washer", text))
        .collect();
    let grip = options.maybe::<Length>("--grip", asked.grip.as_deref());
    let thread = asked
        .thread
        .as_deref()
        .and_then(|text| thread(options, "--thread", text));
    let class = asked.class.as_deref().and_then(|text| class(options, text));
    let material = asked
        .into
        .as_deref()
        .and_then(|text| material(options, "--into", text));
    Some(Question {
        bolt: bolt?,
        depth: depth?,
        washers,
        grip,
        thread,
        class,
        material,
    })
}

/// Reads what a hole is cut into or what is clamped; a fault is kept and `None` returned.
pub(crate) fn material(options: &mut Options, name: &str, text: &str) -> Option<HoleMaterial> {
    match text.trim().to_lowercase().as_str() {
        "aluminium" | "aluminum" | "cast aluminium" | "cast aluminum" => {
            Some(HoleMaterial::CastAluminium)
        }
        "iron" | "cast iron" | "grey iron" | "gray iron" => Some(HoleMaterial::GreyIron),
        "steel" => Some(HoleMaterial::Steel),
        _ => {
            options.fault(
                name,
                format!("“{text}” is no material held here"),
                "aluminium, iron or steel",
            );
            None
        }
    }
}
