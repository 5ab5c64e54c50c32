//! The one table of units: it drives the reader, the writer, the help text and the tests.

use crate::constant::{FOOT, INCH, POUND, POUND_FORCE, STANDARD_GRAVITY};
use crate::kind::Kind;

/// One unit of one kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// What it measures.
    pub kind: Kind,
    /// How this house writes it: `N·m`, `mm`, `lbf·in`.
    pub symbol: &'static str,
    /// Every other spelling that is accepted, already folded (see the reader).
    pub spellings: &'static [&'static str],
    /// SI units in one of these.
    pub factor: f64,
    /// SI value of this unit's zero (temperature scales only).
    pub offset: f64,
    /// What an answer must say when this unit was read from a doubtful spelling.
    pub note: Option<&'static str>,
}

impl Unit {
    const fn new(
        kind: Kind,
        symbol: &'static str,
        factor: f64,
        spellings: &'static [&'static str],
    ) -> Self {
        Self {
            kind,
            symbol,
            spellings,
            factor,
            offset: 0.0,
            note: None,
        }
    }

    const fn offset(mut self, offset: f64) -> Self {
        self.offset = offset;
        self
    }

    const fn note(mut self, note: &'static str) -> Self {
        self.note = Some(note);
        self
    }

    /// Turns a value in this unit into SI.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// Turns an SI value into this unit.
    #[must_use]
    pub fn of_si(&self, si: f64) -> f64 {
        (si - self.offset) / self.factor
    }
}

/// `m`, a unit of Length.
pub const METRE: Unit = Unit::new(
    Kind::Length,
    "m",
    1.0,
    &["metre", "metres", "meter", "meters"],
);

/// `cm`, a unit of Length.
pub const CENTIMETRE: Unit = Unit::new(Kind::Length, "cm", 0.01, &["centimetre", "centimetres"]);

/// `mm`, a unit of Length.
pub const MILLIMETRE: Unit = Unit::new(
    Kind::Length,
    "mm",
    0.001,
    &["millimetre", "millimetres", "millimeter", "millimeters"],
);

/// `µm`, a unit of Length.
pub const MICROMETRE: Unit = Unit::new(
    Kind::Length,
    "µm",
    1e-6,
    &["μm", "um", "micron", "microns", "micrometre", "micrometres"],
);

/// `km`, a unit of Length.
pub const KILOMETRE: Unit = Unit::new(Kind::Length, "km", 1000.0, &["kilometre", "kilometres"]);

/// `in`, a unit of Length.
pub const INCH_UNIT: Unit = Unit::new(Kind::Length, "in", INCH, &["inch", "inches", "\"", "″"]);

/// `thou`, a unit of Length.
pub const THOU: Unit = Unit::new(Kind::Length, "thou", INCH / 1000.0, &["mil", "mils"]);

/// `µin`, a unit of Length.
pub const MICROINCH: Unit = Unit::new(
    Kind::Length,
    "µin",
    INCH / 1e6,
    &[
        "μin",
        "uin",
        "microinch",
        "microinches",
        "micro-inch",
        "micro inch",
    ],
);

/// `ft`, a unit of Length.
pub const FOOT_UNIT: Unit = Unit::new(Kind::Length, "ft", FOOT, &["foot", "feet"]);

/// `mi`, a unit of Length.
pub const MILE: Unit = Unit::new(Kind::Length, "mi", 5280.0 * FOOT, &["mile", "miles"]);

/// `m²`, a unit of Area.
pub const SQUARE_METRE: Unit = Unit::new(Kind::Area, "m²", 1.0, &["m2"]);

/// `mm²`, a unit of Area.
pub const SQUARE_MILLIMETRE: Unit = Unit::new(Kind::Area, "mm²", 1e-6, &["mm2", "sqmm"]);

/// `cm²`, a unit of Area.
pub const SQUARE_CENTIMETRE: Unit = Unit::new(Kind::Area, "cm²", 1e-4, &["cm2", "sqcm"]);

/// `in²`, a unit of Area.
pub const SQUARE_INCH: Unit = Unit::new(Kind::Area, "in²", INCH * INCH, &["in2", "sqin"]);

/// `m³`, a unit of Volume.
pub const CUBIC_METRE: Unit = Unit::new(Kind::Volume, "m³", 1.0, &["m3"]);

/// `cm³`, a unit of Volume.
pub const CUBIC_CENTIMETRE: Unit = Unit::new(Kind::Volume, "cm³", 1e-6, &["cc", "cm3", "ccm"]);

/// `mL`, a unit of Volume.
pub const MILLILITRE: Unit = Unit::new(Kind::Volume, "mL", 1e-6, &["ml"]);

/// `L`, a unit of Volume.
pub const LITRE: Unit = Unit::new(
    Kind::Volume,
    "L",
    1e-3,
    &["l", "litre", "litres", "liter", "liters"],
);

/// `in³`, a unit of Volume.
pub const CUBIC_INCH: Unit = Unit::new(
    Kind::Volume,
    "in³",
    INCH * INCH * INCH,
    &["in3", "cuin", "cubic inch", "cubic inches"],
);

/// `US qt`, a unit of Volume.
pub const US_QUART: Unit = Unit::new(
    Kind::Volume,
    "US qt",
    231.0 / 4.0 * INCH * INCH * INCH,
    &["usqt", "us quart", "us quarts"],
);

/// `US gal`, a unit of Volume.
pub const US_GALLON: Unit = Unit::new(
    Kind::Volume,
    "US gal",
    231.0 * INCH * INCH * INCH,
    &["usgal", "us gallon", "us gallons"],
);

/// `US pt`, a unit of Volume.
pub const US_PINT: Unit = Unit::new(
    Kind::Volume,
    "US pt",
    231.0 / 8.0 * INCH * INCH * INCH,
    &["uspt", "us pint", "us pints"],
);

/// `US fl oz`, a unit of Volume.
pub const US_FLUID_OUNCE: Unit = Unit::new(
    Kind::Volume,
    "US fl oz",
    231.0 / 128.0 * INCH * INCH * INCH,
    &["usfloz"],
);

/// `imp gal`, a unit of Volume.
pub const IMPERIAL_GALLON: Unit = Unit::new(
    Kind::Volume,
    "imp gal",
    4.546_09e-3,
    &["impgal", "imperial gallon", "imperial gallons"],
);

/// `imp qt`, a unit of Volume.
pub const IMPERIAL_QUART: Unit = Unit::new(
    Kind::Volume,
    "imp qt",
    4.546_09e-3 / 4.0,
    &["impqt", "imperial quart", "imperial quarts"],
);

/// `imp pt`, a unit of Volume.
pub const IMPERIAL_PINT: Unit = Unit::new(
    Kind::Volume,
    "imp pt",
    4.546_09e-3 / 8.0,
    &["imppt", "imperial pint", "imperial pints"],
);

/// `kg`, a unit of Mass.
pub const KILOGRAM: Unit = Unit::new(Kind::Mass, "kg", 1.0, &["kilogram", "kilograms"]);

/// `g`, a unit of Mass.
pub const GRAM: Unit = Unit::new(Kind::Mass, "g", 0.001, &["gram", "grams"]);

/// `lb`, a unit of Mass.
pub const POUND_MASS: Unit = Unit::new(Kind::Mass, "lb", POUND, &["lbs", "pound", "pounds", "lbm"]);

/// `N`, a unit of Force.
pub const NEWTON: Unit = Unit::new(Kind::Force, "N", 1.0, &["newton", "newtons"]);

/// `kN`, a unit of Force.
pub const KILONEWTON: Unit = Unit::new(Kind::Force, "kN", 1000.0, &["kilonewton", "kilonewtons"]);

/// `lbf`, a unit of Force.
pub const POUND_FORCE_UNIT: Unit = Unit::new(Kind::Force, "lbf", POUND_FORCE, &[]);

/// `kgf`, a unit of Force.
pub const KILOGRAM_FORCE: Unit = Unit::new(Kind::Force, "kgf", STANDARD_GRAVITY, &["kp"]);

/// `kip`, a unit of Force.
pub const KIP: Unit = Unit::new(Kind::Force, "kip", 1000.0 * POUND_FORCE, &["kips"]);

/// `N·m`, a unit of Torque.
pub const NEWTON_METRE: Unit = Unit::new(Kind::Torque, "N·m", 1.0, &[]);

/// `N·cm`, a unit of Torque.
pub const NEWTON_CENTIMETRE: Unit = Unit::new(Kind::Torque, "N·cm", 0.01, &[]);

/// `daN·m`, a unit of Torque.
pub const DECANEWTON_METRE: Unit = Unit::new(Kind::Torque, "daN·m", 10.0, &[]);

/// `mN·m`, a unit of Torque.
pub const MILLINEWTON_METRE: Unit = Unit::new(Kind::Torque, "mN·m", 0.001, &[]);

/// `kN·m`, a unit of Torque.
pub const KILONEWTON_METRE: Unit = Unit::new(Kind::Torque, "kN·m", 1000.0, &[]);

/// `lbf·ft`, a unit of Torque.
pub const POUND_FORCE_FOOT: Unit = Unit::new(Kind::Torque, "lbf·ft", POUND_FORCE * FOOT, &[]);

/// `lbf·in`, a unit of Torque.
pub const POUND_FORCE_INCH: Unit = Unit::new(Kind::Torque, "lbf·in", POUND_FORCE * INCH, &[]);

/// `ozf·in`, a unit of Torque.
pub const OUNCE_FORCE_INCH: Unit =
    Unit::new(Kind::Torque, "ozf·in", POUND_FORCE / 16.0 * INCH, &[]);

/// `ozf·ft`, a unit of Torque.
pub const OUNCE_FORCE_FOOT: Unit =
    Unit::new(Kind::Torque, "ozf·ft", POUND_FORCE / 16.0 * FOOT, &[]);

/// `kgf·m`, a unit of Torque.
pub const KILOGRAM_FORCE_METRE: Unit = Unit::new(Kind::Torque, "kgf·m", STANDARD_GRAVITY, &[]);

/// `kgf·cm`, a unit of Torque.
pub const KILOGRAM_FORCE_CENTIMETRE: Unit =
    Unit::new(Kind::Torque, "kgf·cm", STANDARD_GRAVITY / 100.0, &[]);

/// `J`, a unit of Energy.
pub const JOULE: Unit = Unit::new(Kind::Energy, "J", 1.0, &["joule", "joules"]);

/// `kJ`, a unit of Energy.
pub const KILOJOULE: Unit = Unit::new(Kind::Energy, "kJ", 1000.0, &[]);

/// `Pa`, a unit of GaugePressure.
pub const PASCAL: Unit = Unit::new(Kind::GaugePressure, "Pa", 1.0, &[]);

/// `kPa`, a unit of GaugePressure.
pub const KILOPASCAL: Unit = Unit::new(Kind::GaugePressure, "kPa", 1000.0, &[]);

/// `MPa`, a unit of GaugePressure.
pub const MEGAPASCAL_GAUGE: Unit = Unit::new(Kind::GaugePressure, "MPa", 1e6, &[]);

/// `bar`, a unit of GaugePressure.
pub const BAR: Unit = Unit::new(Kind::GaugePressure, "bar", 1e5, &["barg"]);

/// `psi`, a unit of GaugePressure.
pub const POUND_PER_SQUARE_INCH: Unit = Unit::new(
    Kind::GaugePressure,
    "psi",
    POUND_FORCE / (INCH * INCH),
    &["psig", "lb/in2", "lbf/in²"],
);

/// `kgf/cm²`, a unit of GaugePressure.
pub const KGF_PER_SQUARE_CENTIMETRE: Unit = Unit::new(
    Kind::GaugePressure,
    "kgf/cm²",
    STANDARD_GRAVITY / 1e-4,
    &["kgf/cm2"],
);

/// `inHg`, a unit of GaugePressure.
pub const INCH_OF_MERCURY: Unit = Unit::new(Kind::GaugePressure, "inHg", 3386.389, &["in hg"]);

/// `Pa abs`, a unit of AbsolutePressure.
pub const PASCAL_ABSOLUTE: Unit = Unit::new(Kind::AbsolutePressure, "Pa abs", 1.0, &[]);

/// `kPa abs`, a unit of AbsolutePressure.
pub const KILOPASCAL_ABSOLUTE: Unit = Unit::new(Kind::AbsolutePressure, "kPa abs", 1000.0, &[]);

/// `bar abs`, a unit of AbsolutePressure.
pub const BAR_ABSOLUTE: Unit = Unit::new(Kind::AbsolutePressure, "bar abs", 1e5, &["bara"]);

/// `psia`, a unit of AbsolutePressure.
pub const POUND_PER_SQUARE_INCH_ABSOLUTE: Unit = Unit::new(
    Kind::AbsolutePressure,
    "psia",
    POUND_FORCE / (INCH * INCH),
    &["psi abs"],
);

/// `Pa (stress)`, a unit of Stress.
pub const PASCAL_STRESS: Unit = Unit::new(Kind::Stress, "Pa (stress)", 1.0, &[]);

/// `MPa (stress)`, a unit of Stress.
pub const MEGAPASCAL: Unit = Unit::new(Kind::Stress, "MPa (stress)", 1e6, &["n/mm²", "n/mm2"]);

/// `K`, a unit of Temperature.
pub const KELVIN: Unit = Unit::new(Kind::Temperature, "K", 1.0, &["kelvin"]);

/// `°C`, a unit of Temperature.
pub const DEGREE_CELSIUS: Unit =
    Unit::new(Kind::Temperature, "°C", 1.0, &["degc", "c", "celsius"]).offset(273.15);

/// `°F`, a unit of Temperature.
pub const DEGREE_FAHRENHEIT: Unit = Unit::new(
    Kind::Temperature,
    "°F",
    5.0 / 9.0,
    &["degf", "f", "fahrenheit"],
)
.offset(273.15 - 32.0 * 5.0 / 9.0);

/// `K (difference)`, a unit of TemperatureDifference.
pub const KELVIN_DIFFERENCE: Unit =
    Unit::new(Kind::TemperatureDifference, "K (difference)", 1.0, &[]);

/// `°F (difference)`, a unit of TemperatureDifference.
pub const FAHRENHEIT_DIFFERENCE: Unit = Unit::new(
    Kind::TemperatureDifference,
    "°F (difference)",
    5.0 / 9.0,
    &[],
);

/// `rad`, a unit of Angle.
pub const RADIAN: Unit = Unit::new(Kind::Angle, "rad", 1.0, &["radian", "radians"]);

/// `°`, a unit of Angle.
pub const DEGREE: Unit = Unit::new(
    Kind::Angle,
    "°",
    std::f64::consts::PI / 180.0,
    &["º", "deg", "degree", "degrees"],
);

/// `′`, a unit of Angle.
pub const ARC_MINUTE: Unit = Unit::new(
    Kind::Angle,
    "′",
    std::f64::consts::PI / 180.0 / 60.0,
    &["arcmin"],
);

/// `arcsec`, a unit of Angle.
pub const ARC_SECOND: Unit = Unit::new(
    Kind::Angle,
    "arcsec",
    std::f64::consts::PI / 180.0 / 3600.0,
    &["arc second", "arc seconds"],
);

/// `turn`, a unit of Angle.
pub const TURN: Unit = Unit::new(Kind::Angle, "turn", 2.0 * std::f64::consts::PI, &["turns"]);

/// `(fraction)`, a unit of Ratio.
pub const FRACTION: Unit = Unit::new(Kind::Ratio, "", 1.0, &[]);

/// `%`, a unit of Ratio.
pub const PERCENT: Unit = Unit::new(Kind::Ratio, "%", 0.01, &["percent", "pct"]);

/// `rad/s`, a unit of RotationalSpeed.
pub const RADIAN_PER_SECOND: Unit = Unit::new(Kind::RotationalSpeed, "rad/s", 1.0, &[]);

/// `rpm`, a unit of RotationalSpeed.
pub const REVOLUTION_PER_MINUTE: Unit = Unit::new(
    Kind::RotationalSpeed,
    "rpm",
    std::f64::consts::PI / 30.0,
    &["1/min", "r/min", "min⁻¹"],
);

/// `m/s`, a unit of Speed.
pub const METRE_PER_SECOND: Unit = Unit::new(Kind::Speed, "m/s", 1.0, &[]);

/// `km/h`, a unit of Speed.
pub const KILOMETRE_PER_HOUR: Unit = Unit::new(Kind::Speed, "km/h", 1.0 / 3.6, &[]);

/// `s`, a unit of Duration.
pub const SECOND: Unit = Unit::new(Kind::Duration, "s", 1.0, &["sec", "second", "seconds"]);

/// `min`, a unit of Duration.
pub const MINUTE: Unit = Unit::new(Kind::Duration, "min", 60.0, &["minute", "minutes"]);

/// `h`, a unit of Duration.
pub const HOUR: Unit = Unit::new(Kind::Duration, "h", 3600.0, &["hr", "hour", "hours"]);

/// `d`, a unit of Duration.
pub const DAY: Unit = Unit::new(Kind::Duration, "d", 86400.0, &["day", "days"]);

/// `m³/s`, a unit of Flow.
pub const CUBIC_METRE_PER_SECOND: Unit = Unit::new(Kind::Flow, "m³/s", 1.0, &[]);

/// `L/min`, a unit of Flow.
pub const LITRE_PER_MINUTE: Unit = Unit::new(Kind::Flow, "L/min", 1e-3 / 60.0, &["l/min"]);

/// `L/h`, a unit of Flow.
pub const LITRE_PER_HOUR: Unit = Unit::new(Kind::Flow, "L/h", 1e-3 / 3600.0, &["l/h"]);

/// `kg/m³`, a unit of Density.
pub const KILOGRAM_PER_CUBIC_METRE: Unit = Unit::new(Kind::Density, "kg/m³", 1.0, &["kg/m3"]);

/// `N/m`, a unit of Stiffness.
pub const NEWTON_PER_METRE: Unit = Unit::new(Kind::Stiffness, "N/m", 1.0, &[]);

/// `N/mm`, a unit of Stiffness.
pub const NEWTON_PER_MILLIMETRE: Unit = Unit::new(Kind::Stiffness, "N/mm", 1000.0, &[]);

/// `V`, a unit of Voltage.
pub const VOLT: Unit = Unit::new(Kind::Voltage, "V", 1.0, &["volt", "volts"]);

/// `A`, a unit of Current.
pub const AMPERE: Unit = Unit::new(
    Kind::Current,
    "A",
    1.0,
    &["amp", "amps", "ampere", "amperes"],
);

/// `Ω`, a unit of Resistance.
pub const OHM: Unit = Unit::new(Kind::Resistance, "Ω", 1.0, &["ohm", "ohms"]);

/// Every unit this house reads and writes.
pub const UNITS: &[Unit] = &[
    METRE,
    CENTIMETRE,
    MILLIMETRE,
    MICROMETRE,
    KILOMETRE,
    INCH_UNIT,
    THOU,
    MICROINCH,
    FOOT_UNIT,
    MILE,
    SQUARE_METRE,
    SQUARE_MILLIMETRE,
    SQUARE_CENTIMETRE,
    SQUARE_INCH,
    CUBIC_METRE,
    CUBIC_CENTIMETRE,
    MILLILITRE,
    LITRE,
    CUBIC_INCH,
    US_QUART,
    US_GALLON,
    US_PINT,
    US_FLUID_OUNCE,
    IMPERIAL_GALLON,
    IMPERIAL_QUART,
    IMPERIAL_PINT,
    KILOGRAM,
    GRAM,
    POUND_MASS,
    NEWTON,
    KILONEWTON,
    POUND_FORCE_UNIT,
    KILOGRAM_FORCE,
    KIP,
    NEWTON_METRE,
    NEWTON_CENTIMETRE,
    DECANEWTON_METRE,
    MILLINEWTON_METRE,
    KILONEWTON_METRE,
    POUND_FORCE_FOOT,
    POUND_FORCE_INCH,
    OUNCE_FORCE_INCH,
    OUNCE_FORCE_FOOT,
    KILOGRAM_FORCE_METRE,
    KILOGRAM_FORCE_CENTIMETRE,
    JOULE,
    KILOJOULE,
    PASCAL,
    KILOPASCAL,
    MEGAPASCAL_GAUGE,
    BAR,
    POUND_PER_SQUARE_INCH,
    KGF_PER_SQUARE_CENTIMETRE,
    INCH_OF_MERCURY,
    PASCAL_ABSOLUTE,
    KILOPASCAL_ABSOLUTE,
    BAR_ABSOLUTE,
    POUND_PER_SQUARE_INCH_ABSOLUTE,
    PASCAL_STRESS,
    MEGAPASCAL,
    KELVIN,
    DEGREE_CELSIUS,
    DEGREE_FAHRENHEIT,
    KELVIN_DIFFERENCE,
    FAHRENHEIT_DIFFERENCE,
    RADIAN,
    DEGREE,
    ARC_MINUTE,
    ARC_SECOND,
    TURN,
    FRACTION,
    PERCENT,
    RADIAN_PER_SECOND,
    REVOLUTION_PER_MINUTE,
    METRE_PER_SECOND,
    KILOMETRE_PER_HOUR,
    SECOND,
    MINUTE,
    HOUR,
    DAY,
    CUBIC_METRE_PER_SECOND,
    LITRE_PER_MINUTE,
    LITRE_PER_HOUR,
    KILOGRAM_PER_CUBIC_METRE,
    NEWTON_PER_METRE,
    NEWTON_PER_MILLIMETRE,
    VOLT,
    AMPERE,
    OHM,
];
