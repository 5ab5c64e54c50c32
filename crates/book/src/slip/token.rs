//! What one bare word of the text is.

use quantity::unit::UNITS;

/// Whether the language takes this word for a number.
pub(crate) fn is_number(word: &str) -> bool {
    let body = word.strip_prefix(['+', '-']).unwrap_or(word);
    if let Some(rest) = body.strip_prefix("0x") {
        return digits(rest, |c| c.is_ascii_hexdigit());
    }
    if let Some(rest) = body.strip_prefix("0o") {
        return digits(rest, |c| matches!(c, '0'..='7'));
    }
    if let Some(rest) = body.strip_prefix("0b") {
        return digits(rest, |c| matches!(c, '0' | '1'));
    }
    let (mantissa, exponent) = match body.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, Some(exponent)),
        None => (body, None),
    };
    let exponent_fits = exponent
        .is_none_or(|exponent| decimal(exponent.strip_prefix(['+', '-']).unwrap_or(exponent)));
    let (whole, part) = match mantissa.split_once('.') {
        Some((whole, part)) => (whole, Some(part)),
        None => (mantissa, None),
    };
    exponent_fits && decimal(whole) && part.is_none_or(decimal)
}

/// Whether a word begins the way only numbers may begin.
pub(super) fn begins_like_a_number(word: &str) -> bool {
    let body = word.strip_prefix(['+', '-']).unwrap_or(word);
    let body = body.strip_prefix('.').unwrap_or(body);
    body.starts_with(|c: char| c.is_ascii_digit())
}

/// Whether a word is a unit that belongs behind a number.
pub(super) fn is_unit(word: &str) -> bool {
    let lower = word.to_lowercase();
    UNITS.iter().any(|unit| {
        !unit.symbol.is_empty()
            && (unit.symbol == word || unit.spellings.iter().any(|other| *other == lower))
    }) || matches!(
        lower.as_str(),
        "nm" | "ft-lb" | "ft-lbs" | "lb-ft" | "in-lb" | "lb-in"
    )
}

fn decimal(text: &str) -> bool {
    digits(text, |c| c.is_ascii_digit())
}

fn digits(text: &str, fits: impl Fn(char) -> bool) -> bool {
    text.starts_with(&fits) && text.chars().all(|c| c == '_' || fits(c))
}

#[cfg(test)]
mod tests {
    use super::{is_number, is_unit};

    #[test]
    fn numbers_are_what_the_language_says() {
        for word in [
            "1", "-3", "+5", "9.8", "1e3", "1.5e-3", "0x1F", "1_000", "0b11",
        ] {
            assert!(is_number(word), "{word}");
        }
        for word in [
            "40mm",
            "1..2",
            "5.",
            ".5",
            "M8",
            "90°",
            "50%",
            "1e",
            "0x",
            "2026-03-14",
            "-",
        ] {
            assert!(!is_number(word), "{word}");
        }
    }

    #[test]
    fn units_are_told_from_other_words() {
        for word in ["mm", "N·m", "L", "min", "psi", "Nm"] {
            assert!(is_unit(word), "{word}");
        }
        for word in ["above", "B", "coolant", ""] {
            assert!(!is_unit(word), "{word}");
        }
    }
}
