//! The one table of units. Every factor is worked out from the exact definitions in `constant.rs`.
//!
//! A `·` in a spelling stands for any joiner or none, so `ft·lb` is `ft-lb`, `ft.lb`, `ft lb` and `ftlb`.
//! Spellings behind `doubtful` are read, but the answer says how they were taken.

use super::Unit;
use crate::constant::{FOOT, INCH, POUND, POUND_FORCE, STANDARD_GRAVITY};
use crate::kind::Kind;

macro_rules! units {
    ($($name:ident = $kind:ident $symbol:literal, $factor:expr, [$($spelling:literal),* $(,)?]
        $(, $how:ident($($given:expr),*))* ;)*) => {
        $(
            #[doc = concat!("`", $symbol, "`, a unit of [`Kind::", stringify!($kind), "`].")]
            pub const $name: Unit = Unit::new(Kind::$kind, $symbol, $factor, &[$($spelling),*])$(.$how($($given),*))*;
        )*

        /// Every unit this house reads and writes.
        pub const UNITS: &[Unit] = &[$($name),*];
    };
}

/// One degree in radians.
const DEGREE_IN_RADIANS: f64 = std::f64::consts::PI / 180.0;

/// One US gallon: 231 cubic inches, exactly.
const US_GALLON_IN_CUBIC_METRES: f64 = 231.0 * INCH * INCH * INCH;

/// One imperial gallon: 4.546 09 litres, exactly.
///
/// # Source
/// Weights and Measures Act 1985 (United Kingdom), schedule 1. *From memory.*
const IMPERIAL_GALLON_IN_CUBIC_METRES: f64 = 4.546_09e-3;

/// The conventional inch of mercury in pascals.
///
/// # Source
/// NIST SP 811 (2008), B.8, prints 3.386 389 E+03. *Published.*
const INCH_OF_MERCURY_IN_PASCALS: f64 = 3_386.389;

/// The conventional millimetre of mercury in pascals.
///
/// # Source
/// NIST SP 811 (2008), B.8, prints 1.333 224 E+02. *Published.*
const MILLIMETRE_OF_MERCURY_IN_PASCALS: f64 = 133.322_4;

units! {
    METRE = Length "m", 1.0, ["metre", "metres", "meter", "meters"], letters_kept();
    CENTIMETRE = Length "cm", 0.01, ["centimetre", "centimetres", "centimeter", "centimeters"];
    MILLIMETRE = Length "mm", 0.001, ["millimetre", "millimetres", "millimeter", "millimeters"];
    MICROMETRE = Length "µm", 1e-6, ["um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"];
    KILOMETRE = Length "km", 1000.0, ["kilometre", "kilometres", "kilometer", "kilometers"];
    INCH_UNIT = Length "in", INCH, ["inch", "inches", "\""];
    THOU = Length "thou", INCH / 1000.0, ["mil", "mils"];
    MICROINCH = Length "µin", INCH / 1e6, ["uin", "micro·inch", "micro·inches", "µ·inch"];
    FOOT_UNIT = Length "ft", FOOT, ["foot", "feet"];
    MILE = Length "mi", 5280.0 * FOOT, ["mile", "miles"];

    SQUARE_METRE = Area "m²", 1.0, ["sq·m", "square·metre", "square·metres"];
    SQUARE_MILLIMETRE = Area "mm²", 1e-6, ["sq·mm", "square·millimetre", "square·millimetres"];
    SQUARE_CENTIMETRE = Area "cm²", 1e-4, ["sq·cm", "square·centimetre", "square·centimetres"];
    SQUARE_INCH = Area "in²", INCH * INCH, ["sq·in", "square·inch", "square·inches"];

    CUBIC_METRE = Volume "m³", 1.0, ["cubic·metre", "cubic·metres"];
    CUBIC_CENTIMETRE = Volume "cm³", 1e-6, ["cc", "ccm", "ccs", "cubic·centimetre", "cubic·centimetres"];
    MILLILITRE = Volume "mL", 1e-6, ["ml", "millilitre", "millilitres", "milliliter", "milliliters"];
    LITRE = Volume "L", 1e-3, ["l", "litre", "litres", "liter", "liters", "ltr"];
    CUBIC_INCH = Volume "in³", INCH * INCH * INCH, ["cu·in", "cubic·inch", "cubic·inches", "cid"];
    US_QUART = Volume "US qt", US_GALLON_IN_CUBIC_METRES / 4.0, ["us·qt", "us·qts", "us·quart", "us·quarts"],
        doubtful(&["qt", "qts", "quart", "quarts"],
            "a bare quart was taken as the US quart, 0.946 L; the imperial one is 1.137 L");
    US_GALLON = Volume "US gal", US_GALLON_IN_CUBIC_METRES, ["us·gal", "us·gals", "us·gallon", "us·gallons"],
        doubtful(&["gal", "gals", "gallon", "gallons"],
            "a bare gallon was taken as the US gallon, 3.785 L; the imperial one is 4.546 L");
    US_PINT = Volume "US pt", US_GALLON_IN_CUBIC_METRES / 8.0, ["us·pt", "us·pint", "us·pints"],
        doubtful(&["pt", "pts", "pint", "pints"],
            "a bare pint was taken as the US pint, 0.473 L; the imperial one is 0.568 L");
    US_FLUID_OUNCE = Volume "US fl oz", US_GALLON_IN_CUBIC_METRES / 128.0, ["us·fl·oz"],
        doubtful(&["fl·oz", "fluid·ounce", "fluid·ounces"],
            "a bare fluid ounce was taken as the US one, 29.57 mL; the imperial one is 28.41 mL");
    IMPERIAL_GALLON = Volume "imp gal", IMPERIAL_GALLON_IN_CUBIC_METRES, ["imp·gal", "imp·gallon", "imperial·gallon", "imperial·gallons", "uk·gal", "uk·gallon"];
    IMPERIAL_QUART = Volume "imp qt", IMPERIAL_GALLON_IN_CUBIC_METRES / 4.0, ["imp·qt", "imperial·quart", "imperial·quarts", "uk·qt"];
    IMPERIAL_PINT = Volume "imp pt", IMPERIAL_GALLON_IN_CUBIC_METRES / 8.0, ["imp·pt", "imperial·pint", "imperial·pints", "uk·pt"];

    KILOGRAM = Mass "kg", 1.0, ["kgs", "kilo", "kilos", "kilogram", "kilograms"];
    GRAM = Mass "g", 0.001, ["gram", "grams"];
    POUND_MASS = Mass "lb", POUND, ["lbs", "pound", "pounds", "lbm"];
    OUNCE_MASS = Mass "oz", POUND / 16.0, ["ounce", "ounces"];

    NEWTON = Force "N", 1.0, ["newton", "newtons", "Newton", "Newtons"], letters_kept();
    KILONEWTON = Force "kN", 1000.0, ["kilonewton", "kilonewtons"], letters_kept();
    POUND_FORCE_UNIT = Force "lbf", POUND_FORCE, ["pound·force", "pounds·force", "lb·force"];
    KILOGRAM_FORCE = Force "kgf", STANDARD_GRAVITY, ["kp", "kg·force", "kilogram·force"];
    KIP = Force "kip", 1000.0 * POUND_FORCE, ["kips"];

    NEWTON_METRE = Torque "N·m", 1.0,
        ["newton·metre", "newton·metres", "newton·meter", "newton·meters", "newtons·metres", "newtons·meters"],
        doubtful(&["N·M", "n·m"], "taken as newton metres, not as a nanometre or a nautical mile");
    NEWTON_CENTIMETRE = Torque "N·cm", 0.01, ["newton·centimetre", "newton·centimetres"], letters_kept();
    NEWTON_MILLIMETRE = Torque "N·mm", 0.001, ["newton·millimetre", "newton·millimetres"], letters_kept();
    DECANEWTON_METRE = Torque "daN·m", 10.0, [], letters_kept();
    MILLINEWTON_METRE = Torque "mN·m", 0.001, [], letters_kept(),
        doubtful(&["mN·m"], "taken as millinewton metres, a thousandth of a newton metre each");
    KILONEWTON_METRE = Torque "kN·m", 1000.0, [], letters_kept();
    POUND_FORCE_FOOT = Torque "lbf·ft", POUND_FORCE * FOOT,
        ["lb·ft", "lbs·ft", "lbsf·ft", "ft·lb", "ft·lbs", "ft·lbf", "ft·lbsf", "foot·pound", "foot·pounds", "foot·lb", "foot·lbs",
            "feet·pounds", "ft·pound", "ft·pounds", "pound·foot", "pounds·foot", "pound·feet", "pounds·feet", "lb·foot",
            "lbs·foot", "lb·feet", "lbs·feet", "pound·force·foot", "pound·force·feet", "foot·pound·force", "foot·pounds·force"],
        doubtful(&["ft/lb", "ft/lbs", "ft/lbf", "lb/ft", "lbs/ft", "lbf/ft"],
            "the slash was taken as a joiner, pounds times feet, not as a division");
    POUND_FORCE_INCH = Torque "lbf·in", POUND_FORCE * INCH,
        ["lb·in", "lbs·in", "lbsf·in", "in·lb", "in·lbs", "in·lbf", "inch·pound", "inch·pounds", "inch·lb", "inch·lbs",
            "in·pound", "in·pounds", "pound·inch", "pounds·inch", "pound·inches", "pounds·inches", "lb·inch", "lbs·inch",
            "pound·force·inch", "pound·force·inches", "inch·pound·force", "inch·pounds·force"],
        doubtful(&["in/lb", "in/lbs", "in/lbf", "lb/in", "lbs/in"],
            "the slash was taken as a joiner, pounds times inches, not as a division");
    OUNCE_FORCE_INCH = Torque "ozf·in", POUND_FORCE / 16.0 * INCH,
        ["oz·in", "in·oz", "in·ozf", "inch·ounce", "inch·ounces", "ounce·inch", "ounce·inches"];
    OUNCE_FORCE_FOOT = Torque "ozf·ft", POUND_FORCE / 16.0 * FOOT, ["oz·ft", "ft·oz", "ft·ozf", "foot·ounce", "foot·ounces"];
    KILOGRAM_FORCE_METRE = Torque "kgf·m", STANDARD_GRAVITY,
        ["kg·m", "m·kg", "m·kgf", "m·kp", "kp·m", "kilogram·metre", "kilogram·metres", "kilogram·force·metre"],
        doubtful(&["kgf/m", "m/kgf"], "the slash was taken as a joiner, kilograms-force times metres, not as a division");
    KILOGRAM_FORCE_CENTIMETRE = Torque "kgf·cm", STANDARD_GRAVITY / 100.0, ["kg·cm", "cm·kg", "cm·kgf", "kp·cm"];

    JOULE = Energy "J", 1.0, ["joule", "joules", "Joule", "Joules"], letters_kept();
    KILOJOULE = Energy "kJ", 1000.0, ["kilojoule", "kilojoules"];

    PASCAL = GaugePressure "Pa", 1.0, ["pascal", "pascals"];
    KILOPASCAL = GaugePressure "kPa", 1000.0, ["kilopascal", "kilopascals", "kPa·g"];
    MEGAPASCAL_GAUGE = GaugePressure "MPa", 1e6, ["MPA", "megapascal", "megapascals"], letters_kept();
    BAR = GaugePressure "bar", 1e5, ["bars", "bar·g", "bar(g)", "bar·gauge"];
    MILLIBAR = GaugePressure "mbar", 100.0, ["millibar", "millibars", "mbar·g"];
    POUND_PER_SQUARE_INCH = GaugePressure "psi", POUND_FORCE / (INCH * INCH),
        ["psi·g", "psi·gauge", "lb/in2", "lbs/in2", "lbf/in2", "lb/sq·in", "lbs/sq·in", "lbf/sq·in", "pounds·per·square·inch"];
    KGF_PER_SQUARE_CENTIMETRE = GaugePressure "kgf/cm²", STANDARD_GRAVITY * 1e4, ["kg/cm2", "kp/cm2", "kg/sq·cm", "kgf/sq·cm"];
    INCH_OF_MERCURY = GaugePressure "inHg", INCH_OF_MERCURY_IN_PASCALS, ["in·Hg", "\"Hg", "\" Hg"];
    MILLIMETRE_OF_MERCURY = GaugePressure "mmHg", MILLIMETRE_OF_MERCURY_IN_PASCALS, ["mm·Hg"];

    PASCAL_ABSOLUTE = AbsolutePressure "Pa abs", 1.0, ["Pa·abs", "Pa·absolute"];
    HECTOPASCAL_ABSOLUTE = AbsolutePressure "hPa abs", 100.0, ["hPa·abs", "hPa·absolute", "hPa"];
    KILOPASCAL_ABSOLUTE = AbsolutePressure "kPa abs", 1000.0, ["kPa·abs", "kPa·a", "kPa(a)", "kPa·absolute"];
    MILLIBAR_ABSOLUTE = AbsolutePressure "mbar abs", 100.0, ["mbar·abs", "mbar·a", "mbar·absolute"];
    BAR_ABSOLUTE = AbsolutePressure "bar abs", 1e5, ["bar·abs", "bar·a", "bar(a)", "bar·absolute"];
    POUND_PER_SQUARE_INCH_ABSOLUTE = AbsolutePressure "psia", POUND_FORCE / (INCH * INCH),
        ["psi·abs", "psi·a", "psi(a)", "psi·absolute"];
    INCH_OF_MERCURY_ABSOLUTE = AbsolutePressure "inHg abs", INCH_OF_MERCURY_IN_PASCALS, ["in·Hg·abs", "in·Hg·absolute"];

    PASCAL_STRESS = Stress "Pa", 1.0, ["pascal", "pascals"];
    MEGAPASCAL = Stress "MPa", 1e6, ["MPA", "megapascal", "megapascals", "N/mm2"], letters_kept();
    GIGAPASCAL = Stress "GPa", 1e9, ["GPA"], letters_kept();
    POUND_PER_SQUARE_INCH_STRESS = Stress "psi", POUND_FORCE / (INCH * INCH), ["lb/in2", "lbf/in2"];
    KIP_PER_SQUARE_INCH = Stress "ksi", 1000.0 * POUND_FORCE / (INCH * INCH), ["kpsi"];

    KELVIN = Temperature "K", 1.0, ["kelvin", "kelvins"], letters_kept();
    DEGREE_CELSIUS = Temperature "°C", 1.0, ["C", "℃", "deg·C", "degree·C", "degrees·C", "celsius", "degree·celsius", "degrees·celsius"], offset(273.15);
    DEGREE_FAHRENHEIT = Temperature "°F", 5.0 / 9.0,
        ["F", "℉", "deg·F", "degree·F", "degrees·F", "fahrenheit", "degree·fahrenheit", "degrees·fahrenheit"],
        offset(273.15 - 32.0 * 5.0 / 9.0);

    KELVIN_DIFFERENCE = TemperatureDifference "K", 1.0, ["kelvin", "kelvins", "°C·(difference)", "°C·difference"],
        doubtful(&["°C", "C", "deg·C"], "taken as a difference between two temperatures, not as a point on a scale");
    FAHRENHEIT_DIFFERENCE = TemperatureDifference "°F (difference)", 5.0 / 9.0, ["°F·(difference)", "°F·difference"],
        doubtful(&["°F", "F", "deg·F"], "taken as a difference between two temperatures, not as a point on a scale");

    RADIAN = Angle "rad", 1.0, ["radian", "radians"];
    DEGREE = Angle "°", DEGREE_IN_RADIANS, ["deg", "degs", "degree", "degrees"];
    ARC_MINUTE = Angle "′", DEGREE_IN_RADIANS / 60.0, ["arcmin", "arc·minute", "arc·minutes"];
    ARC_SECOND = Angle "arcsec", DEGREE_IN_RADIANS / 3600.0, ["arc·second", "arc·seconds"];
    TURN = Angle "turn", 2.0 * std::f64::consts::PI, ["turns", "revolution", "revolutions"];

    FRACTION = Ratio "", 1.0, [":1", ": 1", " : 1", " :1"];
    PERCENT = Ratio "%", 0.01, ["percent", "per·cent", "pct"];

    RADIAN_PER_SECOND = RotationalSpeed "rad/s", 1.0, [];
    REVOLUTION_PER_MINUTE = RotationalSpeed "rpm", std::f64::consts::PI / 30.0, ["1/min", "r/min", "rev/min", "revs", "min⁻¹", "min-1", "r.p.m."];

    METRE_PER_SECOND = Speed "m/s", 1.0, [];
    KILOMETRE_PER_HOUR = Speed "km/h", 1.0 / 3.6, ["kph", "kmh"];
    MILE_PER_HOUR = Speed "mph", 5280.0 * FOOT / 3600.0, ["mi/h"];

    SECOND = Duration "s", 1.0, ["sec", "secs", "second", "seconds"];
    MINUTE = Duration "min", 60.0, ["mins", "minute", "minutes"];
    HOUR = Duration "h", 3600.0, ["hr", "hrs", "hour", "hours"];
    DAY = Duration "d", 86_400.0, ["day", "days"];

    CUBIC_METRE_PER_SECOND = Flow "m³/s", 1.0, [];
    LITRE_PER_SECOND = Flow "L/s", 1e-3, ["l/sec"];
    LITRE_PER_MINUTE = Flow "L/min", 1e-3 / 60.0, ["lpm"];
    LITRE_PER_HOUR = Flow "L/h", 1e-3 / 3600.0, ["l/hr", "lph"];
    CUBIC_CENTIMETRE_PER_MINUTE = Flow "cm³/min", 1e-6 / 60.0, ["cc/min", "ml/min"];
    US_GALLON_PER_HOUR = Flow "US gal/h", US_GALLON_IN_CUBIC_METRES / 3600.0, ["us·gal/h", "us·gal/hr"],
        doubtful(&["gal/h", "gal/hr", "gph"], "a bare gallon was taken as the US gallon, 3.785 L; the imperial one is 4.546 L");

    KILOGRAM_PER_CUBIC_METRE = Density "kg/m³", 1.0, [];
    GRAM_PER_CUBIC_CENTIMETRE = Density "g/cm³", 1000.0, ["g/cc", "g/ml", "kg/l"];

    NEWTON_PER_METRE = Stiffness "N/m", 1.0, [], letters_kept();
    NEWTON_PER_MILLIMETRE = Stiffness "N/mm", 1000.0, [], letters_kept();
    KILONEWTON_PER_MILLIMETRE = Stiffness "kN/mm", 1e6, [], letters_kept();
    POUND_FORCE_PER_INCH = Stiffness "lbf/in", POUND_FORCE / INCH, ["lb/in", "lbs/in"];

    VOLT = Voltage "V", 1.0, ["volt", "volts"];
    MILLIVOLT = Voltage "mV", 0.001, ["millivolt", "millivolts"], letters_kept();
    AMPERE = Current "A", 1.0, ["amp", "amps", "ampere", "amperes"];
    MILLIAMPERE = Current "mA", 0.001, ["milliamp", "milliamps"], letters_kept();
    OHM = Resistance "Ω", 1.0, ["ohm", "ohms"];
    MILLIOHM = Resistance "mΩ", 0.001, ["mohm", "mOhm", "milliohm", "milliohms"], letters_kept();
    KILOOHM = Resistance "kΩ", 1000.0, ["kohm", "kOhm", "kilohm", "kilohms"], letters_kept();
}
