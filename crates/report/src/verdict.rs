//! The six words a question can end in.

/// How a question came out. Words and shapes differ, never colour alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// The reading keeps its limit.
    Within,
    /// The reading breaks its limit.
    Outside,
    /// The reading is too close to its limit for the instrument.
    Undecided,
    /// There is no reading.
    NotMeasured,
    /// A gate may be passed.
    Open,
    /// A gate must not be passed.
    Closed,
}

impl Verdict {
    /// The word, as people and JSON read it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Outside => "outside",
            Self::Undecided => "undecided",
            Self::NotMeasured => "not measured",
            Self::Open => "open",
            Self::Closed => "closed",
        }
    }

    /// The shape: a dot between two bars, beyond them, on one, or bars with nothing in them.
    /// Always four columns wide.
    #[must_use]
    pub const fn shape(self) -> &'static str {
        match self {
            Self::Within => "[· ]",
            Self::Outside => "[ ]·",
            Self::Undecided => "[ ~ ",
            Self::NotMeasured => "[ ] ",
            Self::Open => "-  -",
            Self::Closed => "-/-",
        }
    }
}
