//! A fastener broken off in its hole: option text into a question for the judge.

use judge::broken::{Question, judge};
use quantity::Length;
use report::Report;

use crate::hole::material;
use crate::option::Options;
use crate::torque::thread;

const COMMAND: &str = "broken";
const TITLE: &str = "Broken off in its hole";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Thread designation.
    pub thread: Option<String>,
    /// What the hole is cut into.
    pub into: Option<String>,
    /// How far the stump stands out.
    pub stands_out: Option<String>,
    /// Whether something guides the drill.
    pub guide: bool,
}

/// Answers with the ways to get it out.
#[must_use]
pub fn broken(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    let thread = asked
        .thread
        .as_deref()
        .and_then(|text| thread(&mut options, "--thread", text));
    let material = asked
        .into
        .as_deref()
        .and_then(|text| material(&mut options, "--into", text));
    let stands_out = options.maybe::<Length>("--stands-out", asked.stands_out.as_deref());
    if let Some(out) = stands_out.as_ref().filter(|out| out.value.in_mm() < 0.0) {
        options.fault(
            "--stands-out",
            format!("“{}” is below the face", out.typed),
            "leave it out for a stump that is flush or below",
        );
    }
    if !options.clean() {
        return options.refusal(TITLE);
    }
    judge(&Question {
        thread,
        material,
        stands_out,
        guide: asked.guide,
    })
}
