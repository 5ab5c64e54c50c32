//! Something the program noticed, what it concerns and what to do next.

/// How much a finding asks of the reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// Good to know; changes nothing tonight.
    Note,
    /// Look before going on.
    Look,
    /// Something is missing, left over, faulty or outside: the answer is not clean.
    Stop,
}

/// Where in a text a finding points.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The file as the person named it.
    pub file: String,
    /// 1-based line.
    pub line: usize,
    /// 1-based column in characters.
    pub column: usize,
}

/// One finding. `code` is a word or words joined by hyphens, stable for tests and scripts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The stable name: `neighbours-low`, `book/unknown-part`.
    pub code: &'static str,
    /// What it is about: a part, a hole, a cylinder.
    pub concerns: String,
    /// What was found, one plain sentence.
    pub says: String,
    /// What it points to, where there is something to conclude.
    pub points_to: Option<String>,
    /// What to do next.
    pub next: Option<String>,
    /// How much it asks of the reader.
    pub weight: Weight,
    /// Where in a text, if it is about a text.
    pub place: Option<Place>,
    /// The finding as it is written where a text is at fault: place, excerpt, caret, hint.
    /// A terminal shows this instead of its own form.
    pub written: Option<String>,
    /// Further lines shown under it: an excerpt with a caret, candidates.
    pub detail: Vec<String>,
}

impl Finding {
    /// A finding that asks to look before going on.
    #[must_use]
    pub fn new(code: &'static str, concerns: impl Into<String>, says: impl Into<String>) -> Self {
        Self {
            code,
            concerns: concerns.into(),
            says: says.into(),
            points_to: None,
            next: None,
            weight: Weight::Look,
            place: None,
            written: None,
            detail: Vec::new(),
        }
    }

    /// The same finding with what it points to.
    #[must_use]
    pub fn points_to(mut self, what: impl Into<String>) -> Self {
        self.points_to = Some(what.into());
        self
    }

    /// The same finding with what to do next.
    #[must_use]
    pub fn next(mut self, act: impl Into<String>) -> Self {
        self.next = Some(act.into());
        self
    }

    /// The same finding with another weight.
    #[must_use]
    pub fn weight(mut self, weight: Weight) -> Self {
        self.weight = weight;
        self
    }

    /// The same finding with a place in a text.
    #[must_use]
    pub fn at(mut self, place: Place) -> Self {
        self.place = Some(place);
        self
    }

    /// The same finding as it is written where a text is at fault.
    #[must_use]
    pub fn written(mut self, text: impl Into<String>) -> Self {
        self.written = Some(text.into());
        self
    }

    /// The same finding with one more line under it.
    #[must_use]
    pub fn detail(mut self, line: impl Into<String>) -> Self {
        self.detail.push(line.into());
        self
    }
}
