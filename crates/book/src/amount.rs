//! An amount whose kind is only known once it is read: what a limit or a check may be about.

use quantity::{
    Angle, Current, Duration, Flow, Force, GaugePressure, Kind, Length, Mass, Quantity, Ratio,
    Resistance, RotationalSpeed, Temperature, Torque, Voltage, Volume,
};

/// A quantity of any kind that can be measured on an engine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// A size, a clearance, a flatness.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// A torque, such as the drag of a bearing.
    Torque(Torque),
    /// A pressure: compression, oil, fuel, cap.
    Pressure(GaugePressure),
    /// A share: leakage, difference between cylinders.
    Ratio(Ratio),
    /// A voltage.
    Voltage(Voltage),
    /// A current.
    Current(Current),
    /// A resistance.
    Resistance(Resistance),
    /// A temperature.
    Temperature(Temperature),
    /// A volume.
    Volume(Volume),
    /// A flow.
    Flow(Flow),
    /// A mass.
    Mass(Mass),
    /// A force, such as a spring load.
    Force(Force),
    /// A span of time.
    Duration(Duration),
    /// A speed of a shaft.
    Speed(RotationalSpeed),
}

impl Amount {
    /// What it measures.
    #[must_use]
    pub const fn kind(self) -> Kind {
        match self {
            Self::Length(_) => Kind::Length,
            Self::Angle(_) => Kind::Angle,
            Self::Torque(_) => Kind::Torque,
            Self::Pressure(_) => Kind::GaugePressure,
            Self::Ratio(_) => Kind::Ratio,
            Self::Voltage(_) => Kind::Voltage,
            Self::Current(_) => Kind::Current,
            Self::Resistance(_) => Kind::Resistance,
            Self::Temperature(_) => Kind::Temperature,
            Self::Volume(_) => Kind::Volume,
            Self::Flow(_) => Kind::Flow,
            Self::Mass(_) => Kind::Mass,
            Self::Force(_) => Kind::Force,
            Self::Duration(_) => Kind::Duration,
            Self::Speed(_) => Kind::RotationalSpeed,
        }
    }

    /// The value in the SI unit of its kind.
    #[must_use]
    pub fn si(self) -> f64 {
        match self {
            Self::Length(value) => value.si(),
            Self::Angle(value) => value.si(),
            Self::Torque(value) => value.si(),
            Self::Pressure(value) => value.si(),
            Self::Ratio(value) => value.si(),
            Self::Voltage(value) => value.si(),
            Self::Current(value) => value.si(),
            Self::Resistance(value) => value.si(),
            Self::Temperature(value) => value.si(),
            Self::Volume(value) => value.si(),
            Self::Flow(value) => value.si(),
            Self::Mass(value) => value.si(),
            Self::Force(value) => value.si(),
            Self::Duration(value) => value.si(),
            Self::Speed(value) => value.si(),
        }
    }
}
