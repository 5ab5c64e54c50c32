//! What a number is about, and the one fault a number itself can have.

use std::fmt;

/// What a quantity measures. Two kinds may share a dimension and still be kept apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A distance, a size, a clearance, a roughness.
    Length,
    /// A surface.
    Area,
    /// A volume of a chamber, of oil, of coolant.
    Volume,
    /// A mass.
    Mass,
    /// A force, such as a preload.
    Force,
    /// A turning moment. Shares its dimension with energy and is kept apart.
    Torque,
    /// Work or heat. Shares its dimension with torque and is kept apart.
    Energy,
    /// Pressure above the air around.
    GaugePressure,
    /// Pressure above nothing.
    AbsolutePressure,
    /// Force per area inside a material.
    Stress,
    /// A temperature on a scale.
    Temperature,
    /// A difference between two temperatures.
    TemperatureDifference,
    /// A turning or tilting angle.
    Angle,
    /// A pure ratio: a fraction, a percentage, a compression ratio.
    Ratio,
    /// Turns per time.
    RotationalSpeed,
    /// Distance per time.
    Speed,
    /// A span of time.
    Duration,
    /// Volume per time.
    Flow,
    /// Mass per volume.
    Density,
    /// Force per length, such as a spring rate.
    Stiffness,
    /// Electric potential.
    Voltage,
    /// Electric current.
    Current,
    /// Electric resistance.
    Resistance,
}

/// The largest size a quantity may have in its SI unit.
///
/// Far beyond anything that can be measured, and far enough below the largest float that sums
/// of quantities stay finite: adding never needs to be checked or cut short.
pub const LARGEST: f64 = 1e150;

/// A typed number with one [`Kind`], finite, in SI inside.
pub trait Quantity: Copy + PartialEq + PartialOrd + fmt::Debug + Send + Sync + 'static {
    /// The kind of this type.
    const KIND: Kind;

    /// The value in the SI unit of the kind.
    fn si(self) -> f64;

    /// Makes a quantity from a value in the SI unit of the kind.
    ///
    /// # Errors
    /// [`NotFinite`] when the value is not a number, infinite, or beyond [`LARGEST`] either way.
    fn from_si(value: f64) -> Result<Self, NotFinite>;
}

/// A value that is not a number, infinite, or beyond [`LARGEST`]. It never becomes a quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotFinite {
    /// The kind it was meant to be.
    pub kind: Kind,
}

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} came out as no number that can be measured",
            self.kind.name()
        )
    }
}

impl std::error::Error for NotFinite {}

impl Kind {
    /// Every kind, in the order of the table of units.
    pub const ALL: &[Self] = &[
        Self::Length,
        Self::Area,
        Self::Volume,
        Self::Mass,
        Self::Force,
        Self::Torque,
        Self::Energy,
        Self::GaugePressure,
        Self::AbsolutePressure,
        Self::Stress,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Angle,
        Self::Ratio,
        Self::RotationalSpeed,
        Self::Speed,
        Self::Duration,
        Self::Flow,
        Self::Density,
        Self::Stiffness,
        Self::Voltage,
        Self::Current,
        Self::Resistance,
    ];

    /// Finds the kind a word names, ignoring case, spaces and hyphens: what stands behind `--as`.
    ///
    /// `pressure` alone is gauge pressure, as on every gauge in the shop.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        let folded = |text: &str| -> String {
            text.chars()
                .filter(|sign| !sign.is_whitespace() && !matches!(sign, '-' | '_'))
                .flat_map(char::to_lowercase)
                .collect()
        };
        let wanted = folded(word);
        if wanted == "pressure" {
            return Some(Self::GaugePressure);
        }
        Self::ALL
            .iter()
            .copied()
            .find(|kind| folded(kind.name()) == wanted)
    }

    /// The word for the kind, as it stands in messages and behind `--as`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Area => "area",
            Self::Volume => "volume",
            Self::Mass => "mass",
            Self::Force => "force",
            Self::Torque => "torque",
            Self::Energy => "energy",
            Self::GaugePressure => "gauge pressure",
            Self::AbsolutePressure => "absolute pressure",
            Self::Stress => "stress",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Angle => "angle",
            Self::Ratio => "ratio",
            Self::RotationalSpeed => "rotational speed",
            Self::Speed => "speed",
            Self::Duration => "duration",
            Self::Flow => "flow",
            Self::Density => "density",
            Self::Stiffness => "stiffness",
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Resistance => "resistance",
        }
    }

    /// The word with its article, for sentences: `a torque`, `an angle`.
    #[must_use]
    pub fn with_article(self) -> String {
        let name = self.name();
        let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) {
            "an"
        } else {
            "a"
        };
        format!("{article} {name}")
    }

    /// The symbol of the SI unit in which values of this kind are kept. Empty for ratios.
    #[must_use]
    pub const fn si_symbol(self) -> &'static str {
        match self {
            Self::Length => "m",
            Self::Area => "m²",
            Self::Volume => "m³",
            Self::Mass => "kg",
            Self::Force => "N",
            Self::Torque => "N·m",
            Self::Energy => "J",
            Self::GaugePressure | Self::AbsolutePressure | Self::Stress => "Pa",
            Self::Temperature | Self::TemperatureDifference => "K",
            Self::Angle => "rad",
            Self::Ratio => "",
            Self::RotationalSpeed => "rad/s",
            Self::Speed => "m/s",
            Self::Duration => "s",
            Self::Flow => "m³/s",
            Self::Density => "kg/m³",
            Self::Stiffness => "N/m",
            Self::Voltage => "V",
            Self::Current => "A",
            Self::Resistance => "Ω",
        }
    }
}
