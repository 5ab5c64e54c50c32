//! The exact definitions every factor is worked out from.

/// One inch in metres, exactly.
///
/// # Source
/// International yard and pound agreement, 1959. *Published.*
pub const INCH: f64 = 0.0254;

/// One foot in metres, exactly twelve inches.
///
/// # Source
/// International yard and pound agreement, 1959. *Published.*
pub const FOOT: f64 = 0.3048;

/// One avoirdupois pound in kilograms, exactly.
///
/// # Source
/// International yard and pound agreement, 1959. *Published.*
pub const POUND: f64 = 0.453_592_37;

/// Standard acceleration of gravity in metres per second squared, exactly.
///
/// # Source
/// 3rd General Conference on Weights and Measures, 1901. *Published.*
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// One pound-force in newtons: the weight of a pound under standard gravity.
///
/// # Source
/// Product of [`POUND`] and [`STANDARD_GRAVITY`]; NIST SP 811 (2008), B.8 prints 4.448 222. *Published.*
pub const POUND_FORCE: f64 = POUND * STANDARD_GRAVITY;
