//! The rules the trade judges a cranking set by. They disagree, so each has a name.

use quantity::{GaugePressure, NotFinite, Quantity};

/// How far below the best a cylinder may be. All of them: *common practice, no source*.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rule {
    /// The lowest at least 75 % of the best.
    #[default]
    Share75,
    /// The lowest at least 70 % of the best.
    Share70,
    /// All within 20 % of the best.
    Within20,
    /// All within 10 % of the best.
    Within10,
    /// All within 1 bar of the best.
    OneBar,
}

impl Rule {
    /// Every rule, widest used first.
    pub const ALL: [Self; 5] = [
        Self::Share75,
        Self::Share70,
        Self::Within20,
        Self::Within10,
        Self::OneBar,
    ];

    /// The name to ask for it by.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Share75 => "share-75",
            Self::Share70 => "share-70",
            Self::Within20 => "within-20",
            Self::Within10 => "within-10",
            Self::OneBar => "one-bar",
        }
    }

    /// What makes a cylinder low by this rule, in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Share75 => "under 75 % of the best",
            Self::Share70 => "under 70 % of the best",
            Self::Within20 => "more than 20 % under the best",
            Self::Within10 => "more than 10 % under the best",
            Self::OneBar => "more than 1 bar under the best",
        }
    }

    /// Finds a rule by its name.
    #[must_use]
    pub fn find(key: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|rule| rule.key().eq_ignore_ascii_case(key.trim()))
    }

    /// The reading below which a cylinder is low, given the best.
    ///
    /// # Errors
    /// [`NotFinite`] for pressures beyond all engines.
    pub fn threshold(self, best: GaugePressure) -> Result<GaugePressure, NotFinite> {
        let share = |share: f64| GaugePressure::from_si(best.si() * share);
        match self {
            Self::Share75 => share(0.75),
            Self::Share70 => share(0.70),
            Self::Within20 => share(0.80),
            Self::Within10 => share(0.90),
            Self::OneBar => GaugePressure::kilopascals(best.in_kilopascals() - 100.0),
        }
    }
}

/// How a reading stands to a threshold, given how well the gauge repeats.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Above it by more than the gauge can be off.
    Sound,
    /// Too close to it for this gauge.
    Borderline,
    /// Below it by more than the gauge can be off.
    Low,
}

impl Standing {
    /// Compares a reading with a threshold; within `margin`, in pascals, nothing is decided.
    #[must_use]
    pub fn of(reading: GaugePressure, threshold: GaugePressure, margin: f64) -> Self {
        let above = reading.si() - threshold.si();
        if above.abs() <= margin {
            Self::Borderline
        } else if above < 0.0 {
            Self::Low
        } else {
            Self::Sound
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_is_found_by_its_name() {
        for rule in Rule::ALL {
            assert_eq!(Rule::find(rule.key()), Some(rule));
        }
        assert_eq!(Rule::find("a-third"), None);
    }

    #[test]
    fn a_reading_at_the_threshold_is_borderline() {
        let psi = |p| GaugePressure::psi(p).unwrap();
        assert_eq!(
            Standing::of(psi(80.0), psi(80.25), psi(1.6).si()),
            Standing::Borderline
        );
        let margin = psi(1.6).si();
        assert_eq!(Standing::of(psi(60.0), psi(80.25), margin), Standing::Low);
        assert_eq!(Standing::of(psi(83.0), psi(80.25), margin), Standing::Sound);
        assert_eq!(Standing::of(psi(80.0), psi(80.25), 0.0), Standing::Low);
    }
}
