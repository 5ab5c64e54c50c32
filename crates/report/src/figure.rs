//! A number with everything a reader needs to trust it.

use quantity::Quantity;

/// A named figure: the unrounded SI value, and the words a reader wants.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The name in JSON and in tests: `preload`, `minimum_zone`.
    pub name: &'static str,
    /// What a person calls it: `preload`, `flatness, minimum zone`.
    pub label: String,
    /// The unrounded value in SI (fractions for percentages, counts as counts), always finite.
    pub value: f64,
    /// The SI unit of `value`: `N`, `m`, `rad`, `K`, empty for counts and fractions.
    pub unit: &'static str,
    /// The value as the reader wants it, with its unit: `18.6 kN`.
    pub shown: String,
    /// The low end in SI, where the figure is a range.
    pub low: Option<f64>,
    /// The high end in SI, where the figure is a range.
    pub high: Option<f64>,
    /// One short line beside the figure: its condition, whose limit it is.
    pub note: Option<String>,
}

impl Figure {
    /// A figure from a quantity. `shown` carries the reader's unit.
    #[must_use]
    pub fn new<Q: Quantity>(
        name: &'static str,
        label: impl Into<String>,
        value: Q,
        shown: impl Into<String>,
    ) -> Self {
        Self {
            name,
            label: label.into(),
            value: value.si(),
            unit: Q::KIND.si_symbol(),
            shown: shown.into(),
            low: None,
            high: None,
            note: None,
        }
    }

    /// A figure that is a count of things.
    #[must_use]
    pub fn count(name: &'static str, label: impl Into<String>, count: usize) -> Self {
        Self::number(
            name,
            label,
            u32::try_from(count).map_or(f64::MAX, f64::from),
            count.to_string(),
        )
    }

    /// A figure without a unit. A value that is not finite is a fault of the caller and is
    /// refused before it gets here.
    #[must_use]
    pub fn number(
        name: &'static str,
        label: impl Into<String>,
        value: f64,
        shown: impl Into<String>,
    ) -> Self {
        debug_assert!(value.is_finite(), "{name} is not finite");
        Self {
            name,
            label: label.into(),
            value,
            unit: "",
            shown: shown.into(),
            low: None,
            high: None,
            note: None,
        }
    }

    /// The same figure with the ends of its range.
    #[must_use]
    pub fn between<Q: Quantity>(mut self, low: Q, high: Q) -> Self {
        self.low = Some(low.si());
        self.high = Some(high.si());
        self
    }

    /// The same figure with a short line beside it.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.note = Some(note.into());
        self
    }
}
