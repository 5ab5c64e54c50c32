//! What flows through a port, and what happens when two are crossed.

use std::fmt;

use crate::span::Span;
use crate::word::words;

/// What flows through a port or line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Medium {
    /// Engine coolant.
    Coolant,
    /// Engine oil.
    Oil,
    /// Liquid fuel.
    Fuel,
    /// Manifold vacuum.
    Vacuum,
    /// Crankcase gas.
    Crankcase,
    /// Fuel vapour to the purge valve.
    Purge,
    /// Intake air.
    Air,
    /// Exhaust gas.
    Exhaust,
    /// A sensor or actuator wire.
    Signal,
    /// Fused or unfused supply.
    Power,
    /// Ground return.
    Ground,
    /// High-voltage ignition.
    Ignition,
    /// Brake, clutch or steering fluid.
    Hydraulic,
    /// Gearbox oil.
    GearOil,
    /// Air-conditioning refrigerant: a licensed trade opens it.
    Refrigerant,
    /// A mechanical pull, such as a throttle cable.
    Pull,
    /// Something else, in the book's own word.
    Other(String),
}

impl Medium {
    /// Every medium with a name of its own.
    pub const NAMED: [Self; 16] = [
        Self::Coolant,
        Self::Oil,
        Self::Fuel,
        Self::Vacuum,
        Self::Crankcase,
        Self::Purge,
        Self::Air,
        Self::Exhaust,
        Self::Signal,
        Self::Power,
        Self::Ground,
        Self::Ignition,
        Self::Hydraulic,
        Self::GearOil,
        Self::Refrigerant,
        Self::Pull,
    ];

    /// The word in the book.
    #[must_use]
    pub fn word(&self) -> &str {
        match self {
            Self::Coolant => "coolant",
            Self::Oil => "oil",
            Self::Fuel => "fuel",
            Self::Vacuum => "vacuum",
            Self::Crankcase => "crankcase",
            Self::Purge => "purge",
            Self::Air => "air",
            Self::Exhaust => "exhaust",
            Self::Signal => "signal",
            Self::Power => "power",
            Self::Ground => "ground",
            Self::Ignition => "ignition",
            Self::Hydraulic => "hydraulic",
            Self::GearOil => "gear-oil",
            Self::Refrigerant => "refrigerant",
            Self::Pull => "pull",
            Self::Other(word) => word,
        }
    }

    /// The medium a word names; any word that is not known becomes the book's own.
    #[must_use]
    pub fn of_word(word: &str) -> Self {
        Self::NAMED
            .into_iter()
            .find(|medium| medium.word() == word)
            .unwrap_or_else(|| Self::Other(word.to_owned()))
    }

    /// True for liquids that must be drained before a port of them is opened.
    #[must_use]
    pub const fn is_liquid(&self) -> bool {
        matches!(
            self,
            Self::Coolant | Self::Oil | Self::Fuel | Self::Hydraulic | Self::GearOil
        )
    }

    /// True for wires.
    #[must_use]
    pub const fn is_electric(&self) -> bool {
        matches!(
            self,
            Self::Signal | Self::Power | Self::Ground | Self::Ignition
        )
    }
}

impl fmt::Display for Medium {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// What happens when ends of two media are crossed: the book's own word, over the built-in table.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossing {
    /// One medium.
    pub a: Medium,
    /// The other; may be the same.
    pub b: Medium,
    /// What happens, in one sentence.
    pub says: String,
    /// How bad it is.
    pub grade: CrossingGrade,
    /// Where the node stands.
    pub span: Span,
}

/// How bad a mix-up is, from harmless to worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CrossingGrade {
    /// It shows at once and harms nothing.
    Harmless,
    /// The engine runs badly or a job has to be done again.
    Nuisance,
    /// Something is damaged.
    Damage,
    /// The engine is lost.
    Ruin,
    /// Somebody can be hurt.
    Danger,
}

words! {
    CrossingGrade {
        Harmless "harmless",
        Nuisance "nuisance",
        Damage "damage",
        Ruin "ruin",
        Danger "danger",
    }
}
