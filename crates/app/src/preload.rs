//! Torque and preload: option text into a question for the judge.

use calc::fastener::Head;
use judge::preload::{Given, Question, judge};
use quantity::{Force, Range, Ratio, Torque, read_range, unit};
use report::Report;

use crate::option::Options;
use crate::torque::{class, thread};
use crate::typed::unit_of;

const COMMAND: &str = "preload";
const TITLE: &str = "Preload";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Thread designation.
    pub thread: String,
    /// Strength mark.
    pub class: String,
    /// Friction: `0.12` or `0.10..0.16`.
    pub friction: String,
    /// Tightening torque.
    pub torque: Option<String>,
    /// Preload wanted.
    pub preload: Option<String>,
    /// Socket head instead of hexagon.
    pub socket_head: bool,
}

/// Answers what preload a torque gives, or what torque a preload takes.
#[must_use]
pub fn preload(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Question> {
    let thread = thread(options, "THREAD", &asked.thread);
    let class = class(options, &asked.class);
    let friction = friction(options, &asked.friction);
    let torque = options.maybe::<Torque>("--torque", asked.torque.as_deref());
    let force = options.maybe::<Force>("--preload", asked.preload.as_deref());
    match (&asked.torque, &asked.preload) {
        (Some(_), Some(_)) => options.fault(
            "--torque",
            "torque and preload are both given",
            "give the one you know",
        ),
        (None, None) => options.fault(
            "--torque",
            "neither torque nor preload is given",
            "give --torque \"25 N·m\" or --preload \"18 kN\"",
        ),
        (Some(_), None) | (None, Some(_)) => {}
    }
    let given = match (torque, force) {
        (Some(torque), _) => Given::Torque(torque.value),
        (None, Some(force)) => Given::Preload(force.value),
        (None, None) => return None,
    };
    Some(Question {
        thread: thread?,
        class: class?,
        head: if asked.socket_head {
            Head::Socket
        } else {
            Head::Hexagon
        },
        friction: friction?,
        given,
        unit: asked
            .torque
            .as_deref()
            .map_or(unit::NEWTON_METRE, unit_of::<Torque>),
    })
}

/// One number or a range.
fn friction(options: &mut Options, text: &str) -> Option<Range<Ratio>> {
    if let Ok(range) = read_range::<Ratio>(text) {
        return Some(range.value);
    }
    let one = options.quantity::<Ratio>("--friction", text)?.value;
    Some(Range {
        low: one,
        high: one,
    })
}
