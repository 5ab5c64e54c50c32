//! A quantity whose kind is known only at run time: what `convert` works on.

use crate::kind::{Kind, NotFinite, Quantity};
use crate::unit::Unit;

/// A value of some kind, in SI, with the unit it was written in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anything {
    /// What it measures.
    pub kind: Kind,
    /// The value in the SI unit of the kind.
    pub si: f64,
    /// The unit it was written in.
    pub unit: &'static Unit,
}

/// Two kinds that cannot be turned into one another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{} cannot be turned into {}: {}", from.with_article(), to.with_article(), why(*from, *to))]
pub struct KindClash {
    /// The kind of the value.
    pub from: Kind,
    /// The kind that was asked for.
    pub to: Kind,
}

/// Why an [`Anything`] did not become a typed quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotThis {
    /// It is of another kind.
    #[error(transparent)]
    Kind(#[from] KindClash),
    /// Its number cannot be kept.
    #[error(transparent)]
    Number(#[from] NotFinite),
}

impl Anything {
    /// The value in `unit`.
    ///
    /// # Errors
    /// [`KindClash`] when the unit measures something else.
    pub fn in_unit(&self, unit: &Unit) -> Result<f64, KindClash> {
        if unit.kind == self.kind {
            Ok(unit.of_si(self.si))
        } else {
            Err(KindClash {
                from: self.kind,
                to: unit.kind,
            })
        }
    }

    /// The same value as a typed quantity.
    ///
    /// # Errors
    /// [`NotThis`] when `Q` is of another kind or the number cannot be kept.
    pub fn typed<Q: Quantity>(&self) -> Result<Q, NotThis> {
        if Q::KIND != self.kind {
            return Err(KindClash {
                from: self.kind,
                to: Q::KIND,
            }
            .into());
        }
        Ok(Q::from_si(self.si)?)
    }
}

/// Why two kinds are kept apart, for the pairs people do mix up.
fn why(from: Kind, to: Kind) -> &'static str {
    match (from, to) {
        (Kind::Torque, Kind::Energy) | (Kind::Energy, Kind::Torque) => {
            "they share a dimension, but one turns a bolt and the other is used up"
        }
        (Kind::GaugePressure, Kind::AbsolutePressure)
        | (Kind::AbsolutePressure, Kind::GaugePressure) => {
            "they differ by the pressure of the air, which changes with height and weather"
        }
        (Kind::Temperature, Kind::TemperatureDifference)
        | (Kind::TemperatureDifference, Kind::Temperature) => {
            "a difference has no place on the scale"
        }
        (Kind::GaugePressure | Kind::AbsolutePressure, Kind::Stress)
        | (Kind::Stress, Kind::GaugePressure | Kind::AbsolutePressure) => {
            "one is in a fluid and the other inside a material"
        }
        (Kind::Mass, Kind::Force) | (Kind::Force, Kind::Mass) => {
            "a mass weighs something only where there is gravity; write lbf or kgf for a force"
        }
        (Kind::Angle, Kind::Ratio) | (Kind::Ratio, Kind::Angle) => "a turn is no share of anything",
        _ => "they measure different things",
    }
}
