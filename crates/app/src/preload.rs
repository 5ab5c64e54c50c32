//! Torque and preload: option text into a question for the judge.

use calc::fastener::Head;
use calc::stretch::End;
use judge::preload::turned::Turned;
use judge::preload::{Given, Question, judge};
use quantity::{Angle, Force, Length, Quantity, Range, Ratio, Torque, read_range, unit};
use report::Report;

use crate::hole::material;
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
    /// The turn after the torque.
    pub angle: Option<String>,
    /// What lies between head and nut or tapped part.
    pub grip: Option<String>,
    /// Plain shank within it.
    pub shank: Option<String>,
    /// What is clamped.
    pub clamped: Option<String>,
    /// A nut instead of a tapped hole.
    pub nut: bool,
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
    let turned = turned(asked, options);
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
        turned,
    })
}

/// A turn and its joint: all of it or nothing, because none of it can be guessed.
fn turned(asked: &Asked, options: &mut Options) -> Option<Turned> {
    let angle = options.maybe::<Angle>("--angle", asked.angle.as_deref());
    let grip = options.maybe::<Length>("--grip", asked.grip.as_deref());
    let shank = options.maybe::<Length>("--shank", asked.shank.as_deref());
    let clamped = asked
        .clamped
        .as_deref()
        .and_then(|text| material(options, "--clamped", text));
    if asked.angle.is_none() {
        let beside = [&asked.grip, &asked.shank, &asked.clamped];
        if asked.nut || beside.iter().any(|text| text.is_some()) {
            options.fault(
                "--angle",
                "the joint is described but no turn is given",
                "give --angle \"90°\"; without a turn the joint does not matter",
            );
        }
        return None;
    }
    if asked.torque.is_none() {
        options.fault(
            "--angle",
            "a turn counts from a seating torque, and none is given",
            "give --torque with the last torque before the turn",
        );
    }
    for (name, text, says, way_out) in [
        (
            "--grip",
            &asked.grip,
            "how much is clamped is not given",
            "measure from the face under the head to the nut or the tapped part",
        ),
        (
            "--shank",
            &asked.shank,
            "the plain shank within the grip is not given",
            "measure it; 0 mm where the bolt is threaded up to its head",
        ),
        (
            "--clamped",
            &asked.clamped,
            "what is clamped is not given",
            "aluminium, iron or steel",
        ),
    ] {
        if text.is_none() {
            options.fault(name, says, way_out);
        }
    }
    let (grip, shank) = (grip?.value, shank?.value);
    if shank.si() < 0.0 || shank > grip {
        options.fault(
            "--shank",
            "the plain shank within the grip cannot be longer than the grip",
            "count only what lies between head and the nut or tapped part",
        );
        return None;
    }
    Some(Turned {
        angle: angle?.value,
        grip,
        shank,
        clamped: clamped?,
        end: if asked.nut { End::Nut } else { End::Tapped },
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
