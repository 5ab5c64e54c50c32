//! The quantity types themselves, one per kind, with the constructors the house uses.
//!
//! Constructors and readers are named by the unit: `Length::mm(0.05)?`, `gap.in_mm()`.

use crate::kind::{Kind, LARGEST, NotFinite, Quantity};
use crate::unit;

macro_rules! quantities {
    ($( $(#[$doc:meta])* $name:ident { $( $make:ident, $read:ident => $unit:ident; )* } )*) => { $(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl Quantity for $name {
            const KIND: Kind = Kind::$name;

            fn si(self) -> f64 {
                self.0
            }

            fn from_si(value: f64) -> Result<Self, NotFinite> {
                // A comparison with NaN is false, so this line refuses it too.
                if value.abs() <= LARGEST { Ok(Self(value)) } else { Err(NotFinite { kind: Kind::$name }) }
            }
        }

        impl $name {
            $(
                #[doc = concat!("Makes the quantity from a value in ", stringify!($make), ".")]
                ///
                /// # Errors
                /// [`NotFinite`] when the value is not a number, infinite or too large to measure.
                pub fn $make(value: f64) -> Result<Self, NotFinite> {
                    Self::from_si(unit::$unit.to_si(value))
                }

                #[doc = concat!("The value in ", stringify!($make), ".")]
                #[must_use]
                pub fn $read(self) -> f64 {
                    unit::$unit.of_si(self.0)
                }
            )*
        }
    )* };
}

macro_rules! additive {
    ($($name:ident)*) => { $(
        impl $name {
            /// Keeps a sum. Each term is at most [`LARGEST`], so it would take 10^158 of them to leave the floats.
            fn sum(value: f64) -> Self {
                debug_assert!(value.is_finite(), "a sum of quantities is finite");
                Self(value)
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self::sum(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self::sum(self.0 - other.0)
            }
        }

        impl std::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
    )* };
}

quantities! {
    /// A distance, a size, a clearance, a roughness; metres inside.
    Length { metres, in_metres => METRE; mm, in_mm => MILLIMETRE; inches, in_inches => INCH_UNIT; micrometres, in_micrometres => MICROMETRE; }
    /// A surface; square metres inside.
    Area { square_metres, in_square_metres => SQUARE_METRE; square_mm, in_square_mm => SQUARE_MILLIMETRE; }
    /// A volume; cubic metres inside.
    Volume { cubic_metres, in_cubic_metres => CUBIC_METRE; cc, in_cc => CUBIC_CENTIMETRE; litres, in_litres => LITRE; }
    /// A mass; kilograms inside.
    Mass { kilograms, in_kilograms => KILOGRAM; }
    /// A force; newtons inside.
    Force { newtons, in_newtons => NEWTON; kilonewtons, in_kilonewtons => KILONEWTON; }
    /// A turning moment; newton metres inside. Not an [`Energy`].
    ///
    /// ```compile_fail
    /// use quantity::{Energy, Torque};
    /// let sum = Torque::newton_metres(1.0).unwrap() + Energy::joules(1.0).unwrap();
    /// ```
    Torque { newton_metres, in_newton_metres => NEWTON_METRE; pound_force_feet, in_pound_force_feet => POUND_FORCE_FOOT; pound_force_inches, in_pound_force_inches => POUND_FORCE_INCH; }
    /// Work or heat; joules inside. Not a [`Torque`].
    Energy { joules, in_joules => JOULE; }
    /// Pressure above the air around; pascals inside. Not an [`AbsolutePressure`].
    ///
    /// ```compile_fail
    /// use quantity::{AbsolutePressure, GaugePressure};
    /// let sum = GaugePressure::kilopascals(1.0).unwrap() + AbsolutePressure::kilopascals(1.0).unwrap();
    /// ```
    GaugePressure { pascals, in_pascals => PASCAL; kilopascals, in_kilopascals => KILOPASCAL; psi, in_psi => POUND_PER_SQUARE_INCH; }
    /// Pressure above nothing; pascals inside.
    AbsolutePressure { pascals, in_pascals => PASCAL_ABSOLUTE; kilopascals, in_kilopascals => KILOPASCAL_ABSOLUTE; psi, in_psi => POUND_PER_SQUARE_INCH_ABSOLUTE; }
    /// Force per area inside a material; pascals inside.
    Stress { pascals, in_pascals => PASCAL_STRESS; megapascals, in_megapascals => MEGAPASCAL; }
    /// A temperature on a scale; kelvins inside. Not a [`TemperatureDifference`].
    ///
    /// ```compile_fail
    /// use quantity::{Temperature, TemperatureDifference};
    /// let sum = Temperature::celsius(1.0).unwrap() + TemperatureDifference::kelvins(1.0).unwrap();
    /// ```
    Temperature { kelvins, in_kelvins => KELVIN; celsius, in_celsius => DEGREE_CELSIUS; }
    /// A difference between two temperatures; kelvins inside.
    TemperatureDifference { kelvins, in_kelvins => KELVIN_DIFFERENCE; }
    /// A turning or tilting angle; radians inside. Not a [`Ratio`].
    ///
    /// ```compile_fail
    /// use quantity::{Angle, Ratio};
    /// let sum = Angle::degrees(1.0).unwrap() + Ratio::fraction(1.0).unwrap();
    /// ```
    Angle { radians, in_radians => RADIAN; degrees, in_degrees => DEGREE; }
    /// A pure ratio; a fraction inside (50 % is 0.5).
    Ratio { fraction, in_fraction => FRACTION; percent, in_percent => PERCENT; }
    /// Turns per time; radians per second inside.
    RotationalSpeed { radians_per_second, in_radians_per_second => RADIAN_PER_SECOND; rpm, in_rpm => REVOLUTION_PER_MINUTE; }
    /// Distance per time; metres per second inside.
    Speed { metres_per_second, in_metres_per_second => METRE_PER_SECOND; }
    /// A span of time; seconds inside.
    Duration { seconds, in_seconds => SECOND; minutes, in_minutes => MINUTE; hours, in_hours => HOUR; }
    /// Volume per time; cubic metres per second inside.
    Flow { cubic_metres_per_second, in_cubic_metres_per_second => CUBIC_METRE_PER_SECOND; litres_per_hour, in_litres_per_hour => LITRE_PER_HOUR; }
    /// Mass per volume; kilograms per cubic metre inside.
    Density { kilograms_per_cubic_metre, in_kilograms_per_cubic_metre => KILOGRAM_PER_CUBIC_METRE; }
    /// Force per length; newtons per metre inside.
    Stiffness { newtons_per_metre, in_newtons_per_metre => NEWTON_PER_METRE; newtons_per_mm, in_newtons_per_mm => NEWTON_PER_MILLIMETRE; }
    /// Electric potential; volts inside.
    Voltage { volts, in_volts => VOLT; }
    /// Electric current; amperes inside.
    Current { amperes, in_amperes => AMPERE; }
    /// Electric resistance; ohms inside.
    Resistance { ohms, in_ohms => OHM; }
}

additive! {
    Length Area Volume Mass Force Torque Energy GaugePressure AbsolutePressure Stress
    TemperatureDifference Angle Ratio RotationalSpeed Speed Duration Flow Stiffness Voltage Current Resistance
}
