//! Things that are counted: bolts, nuts, gaskets, rags, as a line or a book describes them.
//!
//! What fits which hole is decided here by comparing descriptions; nothing here knows a
//! hole, a joint or a book.

use quantity::Length;

/// What sort of thing a counted item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sort {
    /// A bolt or screw.
    Bolt,
    /// A nut.
    Nut,
    /// A stud.
    Stud,
    /// A washer on its own.
    Washer,
    /// A clip, clamp, pin or plug: holds, but has no thread that is counted on.
    Clip,
    /// A dowel: stays in its hole as a rule, and is counted where it came out.
    Dowel,
    /// A gasket, ring or other seal.
    Seal,
    /// Anything else: a rag, a spacer, a sleeve.
    Thing,
}

/// A thread as far as it was told: the size always, the pitch only if it was.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadSize {
    /// The size as it is written: `M8`, `1/4`.
    pub size: String,
    /// The pitch as it is written, if it was told: `1.25`, `20`.
    pub pitch: Option<String>,
}

impl ThreadSize {
    /// The designation: `M8`, `M8x1.25`, `1/4-20`.
    #[must_use]
    pub fn shown(&self) -> String {
        match &self.pitch {
            Some(pitch) if self.is_metric() => format!("{}x{pitch}", self.size),
            Some(pitch) => format!("{}-{pitch}", self.size),
            None => self.size.clone(),
        }
    }

    fn is_metric(&self) -> bool {
        self.size.starts_with('M')
    }

    /// Whether the two may be the same thread. A pitch that was not told agrees with any.
    #[must_use]
    pub fn may_be(&self, other: &Self) -> bool {
        self.size == other.size
            && match (&self.pitch, &other.pitch) {
                (Some(one), Some(two)) => one == two,
                (None, _) | (_, None) => true,
            }
    }
}

/// Some things of one description.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// How many.
    pub count: u32,
    /// What sort of thing.
    pub sort: Sort,
    /// What it is called, in the singular where that is known: `bolt`, `runner gasket`, `rag`.
    pub name: String,
    /// Its thread.
    pub thread: Option<ThreadSize>,
    /// Its length under the head.
    pub length: Option<Length>,
    /// The wrench it takes, across flats.
    pub head: Option<Length>,
    /// Its strength as marked: `8.8`.
    pub grade: Option<String>,
    /// Whether a washer goes with each, as far as that was said.
    pub washer: Option<bool>,
    /// `Some(true)` for a new one, `Some(false)` when it was said to be the old one.
    pub new: Option<bool>,
    /// The holes it is in, if that was said.
    pub holes: Vec<String>,
    /// What else was said of it.
    pub note: Option<String>,
}

impl Item {
    /// A number of things of a sort, nothing else being known.
    #[must_use]
    pub fn plain(count: u32, sort: Sort, name: impl Into<String>) -> Self {
        Self {
            count,
            sort,
            name: name.into(),
            thread: None,
            length: None,
            head: None,
            grade: None,
            washer: None,
            new: None,
            holes: Vec::new(),
            note: None,
        }
    }

    /// Whether it goes into or onto a hole: a bolt, nut, stud, clip, pin or dowel.
    #[must_use]
    pub const fn is_fastener(&self) -> bool {
        matches!(
            self.sort,
            Sort::Bolt | Sort::Nut | Sort::Stud | Sort::Clip | Sort::Dowel
        )
    }

    /// Whether the two descriptions may be of the same thing. What one of them leaves open
    /// agrees with anything; where both say something, they must say the same.
    #[must_use]
    pub fn may_be(&self, other: &Self) -> bool {
        self.is_like(other) && agree(self.length.as_ref(), other.length.as_ref(), same_length)
    }

    /// As [`Item::may_be`], but leaving the length out: the same thread and head.
    #[must_use]
    pub fn is_like(&self, other: &Self) -> bool {
        let named = matches!(self.sort, Sort::Seal | Sort::Thing | Sort::Clip);
        self.sort == other.sort
            && (!named || same_name(&self.name, &other.name))
            && agree(
                self.thread.as_ref(),
                other.thread.as_ref(),
                ThreadSize::may_be,
            )
            && agree(self.head.as_ref(), other.head.as_ref(), same_length)
            && agree(self.grade.as_ref(), other.grade.as_ref(), PartialEq::eq)
    }

    /// Whether it goes into the hole of the other, whatever its length, head and strength: one
    /// sort and one thread, which both of them tell.
    #[must_use]
    pub fn goes_where(&self, other: &Self) -> bool {
        let threads = self.thread.as_ref().zip(other.thread.as_ref());
        self.sort == other.sort && threads.is_some_and(|(mine, its)| mine.may_be(its))
    }

    /// As [`Item::goes_where`], and of one length, which both of them tell.
    #[must_use]
    pub fn is_size_of(&self, other: &Self) -> bool {
        let lengths = self.length.zip(other.length);
        self.goes_where(other) && lengths.is_some_and(|(mine, its)| same_length(&mine, &its))
    }

    /// The item as it is written back: `3 bolts M8x40`.
    #[must_use]
    pub fn shown(&self) -> String {
        let mut words = vec![self.count.to_string()];
        match self.new {
            Some(true) => words.push("new".to_owned()),
            Some(false) => words.push("old".to_owned()),
            None => {}
        }
        words.push(plural(&self.name, self.count));
        let size = match (&self.thread, self.length) {
            (Some(thread), Some(length)) => Some(format!("{}x{}", thread.shown(), mm(length))),
            (Some(thread), None) => Some(thread.shown()),
            (None, Some(length)) => Some(format!("long {} mm", mm(length))),
            (None, None) => None,
        };
        words.extend(size);
        words.extend(self.head.map(|head| format!("{} mm", mm(head))));
        words.extend(self.grade.clone());
        match self.washer {
            Some(true) => words.push("with washer".to_owned()),
            Some(false) => words.push("without washer".to_owned()),
            None => {}
        }
        words.join(" ")
    }

    /// The same description with another count.
    #[must_use]
    pub fn counting(&self, count: u32) -> Self {
        Self {
            count,
            ..self.clone()
        }
    }
}

fn agree<T>(one: Option<&T>, two: Option<&T>, same: impl Fn(&T, &T) -> bool) -> bool {
    match (one, two) {
        (Some(one), Some(two)) => same(one, two),
        (None, _) | (_, None) => true,
    }
}

/// Whether two lengths of a fastener are the same: nobody tells them apart closer than this.
#[must_use]
pub fn same_length(one: &Length, two: &Length) -> bool {
    (one.in_mm() - two.in_mm()).abs() < 0.3
}

/// A length in millimetres without its unit, as sizes are written: `40`, `12.7`.
#[must_use]
pub fn mm(length: Length) -> String {
    // A tenth of a millimetre is more than a bolt length is ever told in; inch lengths need two digits.
    let hundredths = (length.in_mm() * 100.0).round() / 100.0;
    hundredths.to_string()
}

/// A name with case, spaces, hyphens and underscores taken out, so that `Air duct`,
/// `air-duct` and `AIRDUCT` are one.
#[must_use]
pub fn folded(name: &str) -> String {
    name.chars()
        .filter(|letter| !letter.is_whitespace() && !matches!(letter, '-' | '_' | '‐' | '–'))
        .flat_map(char::to_lowercase)
        .collect()
}

/// Whether two names are the same thing in one or in many: `rag` and `rags`.
#[must_use]
pub fn same_name(one: &str, two: &str) -> bool {
    let (one, two) = (folded(&singular(one)), folded(&singular(two)));
    one == two
}

/// The singular of the last word: `rags` to `rag`, `washers` to `washer`. `brass` stays.
#[must_use]
pub fn singular(name: &str) -> String {
    let lower = name.to_lowercase();
    match lower.strip_suffix('s') {
        Some(stem) if stem.len() >= 3 && !stem.ends_with(['s', 'u', 'i']) => {
            name[..name.len() - 1].to_owned()
        }
        Some(_) | None => name.to_owned(),
    }
}

/// The word with an `s` for more than one.
#[must_use]
pub fn plural(name: &str, count: u32) -> String {
    if count == 1 || name.ends_with('s') {
        name.to_owned()
    } else {
        format!("{name}s")
    }
}
