//! A joint: what holds two parts together, hole by hole.

use quantity::{Duration, Length, Range};

use crate::fact::Fact;
use crate::hole::Hole;
use crate::id::{HoleName, JointId, PartId, ZoneId};
use crate::limit::Origin;
use crate::part::Alike;
use crate::seal::Seal;
use crate::span::{Mention, Span};
use crate::tighten::{Pattern, Tighten};
use crate::variant::When;
use crate::word::words;

/// What holds two parts together: holes, fasteners, washers, seals, stages and pattern.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// Its name in the book.
    pub id: JointId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// Older ids that still mean this joint.
    pub was: Vec<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// The part it belongs to and comes off with.
    pub of: PartId,
    /// The part it is fastened to.
    pub to: Mention<PartId>,
    /// Where a person must be, when it is not where the part says.
    pub zone: Option<Mention<ZoneId>>,
    /// What breaks if it fails; such joints get no figure that the book does not have.
    pub critical: Option<Critical>,
    /// The end of the engine its holes are counted from: the lowest `x=`, or the first name.
    pub from: Option<EngineEnd>,
    /// Every hole, in book order, ranges spelt out.
    pub holes: Vec<Hole>,
    /// Tightening, one entry for each group of holes.
    pub tighten: Vec<Tighten>,
    /// In which order the holes are tightened.
    pub pattern: Option<Pattern>,
    /// What seals it.
    pub seals: Vec<Seal>,
    /// Sealant between the faces, with its times.
    pub sealant: Option<Sealant>,
    /// Steel in light alloy, old and hot: how likely a bolt is to break.
    pub seizes: Fact<bool>,
    /// Tightening it once more after the first start, where somebody asks for it.
    pub retighten: Option<Retighten>,
    /// What its caps are, where it holds caps: bored in line, or alike and free.
    pub caps: Fact<Alike>,
    /// Anything worth saying.
    pub note: Option<String>,
}

impl Joint {
    /// The hole with this name.
    #[must_use]
    pub fn hole(&self, name: &HoleName) -> Option<&Hole> {
        self.holes.iter().find(|hole| hole.name == *name)
    }

    /// The tightening of one hole: the last entry that names it, else the last one for all holes.
    #[must_use]
    pub fn tighten_of(&self, name: &HoleName) -> Option<&Tighten> {
        let named = self.tighten.iter().rfind(|entry| {
            entry
                .holes
                .as_ref()
                .is_some_and(|holes| holes.contains(name))
        });
        named.or_else(|| self.tighten.iter().rfind(|entry| entry.holes.is_none()))
    }
}

/// Joints whose failure hurts people or engines.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Critical {
    /// Cylinder head.
    Head,
    /// Connecting rod.
    Rod,
    /// Main bearing.
    Main,
    /// Flywheel or drive plate.
    Flywheel,
    /// Cam cap, cam wheel, cam drive.
    Cam,
    /// Brakes.
    Brake,
    /// Steering.
    Steering,
    /// Suspension.
    Suspension,
    /// Belts, airbags, seats.
    Restraint,
}

words! {
    Critical {
        Head "head",
        Rod "rod",
        Main "main",
        Flywheel "flywheel",
        Cam "cam",
        Brake "brake",
        Steering "steering",
        Suspension "suspension",
        Restraint "restraint",
    }
}

/// An end of the engine, whichever way it sits in the vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EngineEnd {
    /// Where belt or chain run: the engine's front.
    Drive,
    /// Where the flywheel sits.
    Flywheel,
}

words! {
    EngineEnd {
        Drive "drive-end",
        Flywheel "flywheel-end",
    }
}

/// Sealant between the faces of a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Sealant {
    /// What it is, in plain words.
    pub what: Option<String>,
    /// The parts must be together within this time.
    pub within: Fact<Duration>,
    /// Time until the joint may carry fluid or pressure.
    pub cures: Fact<Range<Duration>>,
    /// Where the node stands.
    pub span: Span,
}

/// Tightening a joint once more after the first start.
#[derive(Clone, Debug, PartialEq)]
pub struct Retighten {
    /// Warm-ups with cooling down in between before it is due.
    pub warm_ups: Fact<u32>,
    /// Distance before it is due.
    pub after: Fact<Length>,
    /// The engine must be cold for it.
    pub cold: Fact<bool>,
    /// Who asks for it.
    pub source: Origin,
    /// Where the node stands.
    pub span: Span,
}
