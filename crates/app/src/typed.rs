//! The unit a person typed, so that the answer comes back in it.

use quantity::{Quantity, Unit, unit};

/// The unit at the end of a typed quantity or list; the first unit of the kind where none
/// stands there.
#[must_use]
pub fn unit_of<Q: Quantity>(text: &str) -> Unit {
    let after_number = text
        .rfind(|sign: char| sign.is_ascii_digit())
        .and_then(|at| text.get(at + 1..))
        .unwrap_or(text);
    let spelled = after_number.trim_start_matches(|sign: char| {
        sign.is_whitespace() || matches!(sign, '-' | '–' | '−' | ',' | '.')
    });
    unit::find(Q::KIND, spelled.trim())
        .ok()
        .or_else(|| unit::of_kind(Q::KIND).next())
        .copied()
        .unwrap_or(unit::FRACTION)
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::{GaugePressure, Volume};

    #[test]
    fn the_unit_stands_behind_the_last_number() {
        assert_eq!(unit_of::<GaugePressure>("107 60 - 105 psi").symbol, "psi");
        assert_eq!(unit_of::<GaugePressure>("9.1 - - bar").symbol, "bar");
        assert_eq!(unit_of::<Volume>("8 qt").symbol, "US qt");
        assert_eq!(unit_of::<Volume>("12cc").symbol, "cm³");
    }
}
