//! One reading against one limit: the verdict, a sentence, and the cheapest act that settles
//! an open case.
//!
//! Every question that judges a number comes here, so that *within*, *outside* and
//! *undecided* mean the same everywhere, and a limit always says whose it is.

mod decide;
mod whose;

#[cfg(test)]
mod tests;

use quantity::{Bound, Kind, Quantity, Range, Unit, show, show_bound, show_fixed, show_range};
use report::{Ask, Source};

pub(crate) use decide::gravity;
pub use decide::{Act, Decision, decide};
pub use whose::Whose;

/// A number to judge by, with its owner.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit<Q> {
    /// The least allowed.
    pub low: Option<Q>,
    /// The most allowed.
    pub high: Option<Q>,
    /// Whose number it is.
    pub whose: Whose,
    /// Where it stands: page, section, table.
    pub at: Option<String>,
    /// Nobody gave this limit for this engine; it is our fallback and is shown as one.
    pub default: bool,
    /// The unit its source writes it in; it is shown in that one first.
    pub stated: Option<Unit>,
}

impl<Q: Quantity> Limit<Q> {
    /// At most so much; whose it is was not said.
    #[must_use]
    pub const fn most(high: Q) -> Self {
        Self {
            low: None,
            high: Some(high),
            whose: Whose::Unsaid,
            at: None,
            default: false,
            stated: None,
        }
    }

    /// At least so much; whose it is was not said.
    #[must_use]
    pub const fn least(low: Q) -> Self {
        Self {
            low: Some(low),
            high: None,
            whose: Whose::Unsaid,
            at: None,
            default: false,
            stated: None,
        }
    }

    /// Between two ends; whose it is was not said.
    #[must_use]
    pub const fn between(range: Range<Q>) -> Self {
        Self {
            low: Some(range.low),
            high: Some(range.high),
            whose: Whose::Unsaid,
            at: None,
            default: false,
            stated: None,
        }
    }

    /// An owner and a place as a book states them, without numbers yet.
    #[must_use]
    pub fn of_book(origin: &book::Origin) -> Self {
        let whose = match origin.kind {
            Some(book::OriginKind::Maker) => Whose::Maker,
            Some(book::OriginKind::Shop) => Whose::Shop,
            Some(book::OriginKind::Published) => Whose::Published,
            Some(book::OriginKind::CommonPractice) => Whose::CommonPractice,
            Some(book::OriginKind::Invented) => Whose::Invented,
            Some(book::OriginKind::None) | None => Whose::Unsaid,
        };
        Self {
            low: None,
            high: None,
            whose,
            at: origin.at.clone(),
            default: false,
            stated: None,
        }
    }

    /// The same limit with its owner.
    #[must_use]
    pub const fn of(mut self, whose: Whose) -> Self {
        self.whose = whose;
        self
    }

    /// The same limit with its place in a book.
    #[must_use]
    pub fn at(mut self, place: impl Into<String>) -> Self {
        self.at = Some(place.into());
        self
    }

    /// The same limit as a fallback of ours, with where it comes from.
    #[must_use]
    pub fn by_default(mut self, whose: Whose, place: impl Into<String>) -> Self {
        self.whose = whose;
        self.at = Some(place.into());
        self.default = true;
        self
    }

    /// The same limit with the unit its source writes it in.
    #[must_use]
    pub const fn stated_in(mut self, unit: Unit) -> Self {
        self.stated = Some(unit);
        self
    }

    /// The same limit with the owner and place a person typed: `maker, head section`.
    #[must_use]
    pub fn sourced(mut self, typed: &str) -> Self {
        let (whose, at) = Whose::read(typed);
        self.whose = whose;
        self.at = at;
        self
    }

    /// The bare numbers: `at most 0.05 mm`; `at most 0.008 in (0.2032 mm)` where its source
    /// writes another unit than the reader's.
    #[must_use]
    pub fn numbers(&self, unit: &Unit) -> String {
        match self.as_stated(unit) {
            Some((stated, here)) => format!("{stated} ({here})"),
            None => self.in_words(unit),
        }
    }

    /// The numbers with their owner: `at most 0.05 mm (maker's limit: head section)`.
    #[must_use]
    pub fn words(&self, unit: &Unit) -> String {
        match self.as_stated(unit) {
            Some((stated, here)) => format!("{stated} ({here}; {})", self.owner()),
            None => format!("{} ({})", self.in_words(unit), self.owner()),
        }
    }

    /// The limit as its source writes it and its ends in the reader's unit, where the two differ.
    fn as_stated(&self, unit: &Unit) -> Option<(String, String)> {
        let stated = self
            .stated
            .filter(|stated| stated.kind == unit.kind && stated.symbol != unit.symbol)?;
        self.low.or(self.high)?;
        Some((self.in_words(&stated), self.ends(unit)))
    }

    fn in_words(&self, unit: &Unit) -> String {
        let way = match (self.low, self.high) {
            (Some(_), Some(_)) => "",
            (Some(_), None) => "at least ",
            (None, Some(_)) => "at most ",
            (None, None) => return "no limit".to_owned(),
        };
        way.to_owned() + &self.ends(unit)
    }

    fn ends(&self, unit: &Unit) -> String {
        match (self.low, self.high) {
            (Some(low), Some(high)) if is_long(high, unit) => {
                format!("{} to {}", shown(low, unit), shown(high, unit))
            }
            (Some(low), Some(high)) => show_range(Range { low, high }, unit),
            (Some(end), None) | (None, Some(end)) => shown(end, unit),
            (None, None) => String::new(),
        }
    }

    /// Whose it is: `maker's limit, head section`; `default limit, common practice, no source`.
    #[must_use]
    pub fn owner(&self) -> String {
        let mut words = String::new();
        if self.default {
            words.push_str("default limit, ");
        }
        words.push_str(self.whose.words());
        if let Some(at) = &self.at {
            words.push_str(": ");
            words.push_str(at);
        }
        words
    }

    /// Asks for the maker's limit, where this one is our fallback. `option` is what takes it.
    #[must_use]
    pub fn ask_for_makers(&self, option: &str) -> Option<Ask> {
        self.default.then(|| {
            Ask::new(
                "the maker's limit",
                "the one used is a default, and the maker's always wins.",
                format!("Look in the maker's book; then give {option} and --limit-source maker."),
            )
        })
    }

    /// The limit as a source of the answer.
    #[must_use]
    pub fn source(&self) -> Option<Source> {
        let title = self
            .at
            .clone()
            .unwrap_or_else(|| "limit as given".to_owned());
        self.whose.kind().map(|kind| Source::new(kind, title))
    }
}

/// A number found, with what its instrument leaves open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading<Q> {
    /// What was read; a blade set gives a bound.
    pub value: Bound<Q>,
    /// Expanded uncertainty U = 2u of the instrument and its use, where it is known.
    pub expanded: Option<Q>,
}

impl<Q: Quantity> Reading<Q> {
    /// A plain value from an instrument nothing is known of.
    #[must_use]
    pub const fn exactly(value: Q) -> Self {
        Self {
            value: Bound::Exactly(value),
            expanded: None,
        }
    }

    /// A reading that may be a bound.
    #[must_use]
    pub const fn bound(value: Bound<Q>) -> Self {
        Self {
            value,
            expanded: None,
        }
    }

    /// The same reading with its expanded uncertainty.
    #[must_use]
    pub const fn with(mut self, expanded: Option<Q>) -> Self {
        self.expanded = expanded;
        self
    }

    /// As a person reads it: `0.044 mm ± 0.01 mm`.
    #[must_use]
    pub fn words(&self, unit: &Unit) -> String {
        let value = match self.value {
            Bound::Exactly(value) => shown(value, unit),
            bound => show_bound(bound, unit),
        };
        match self.expanded {
            Some(expanded) if expanded.si() > 0.0 => {
                format!("{value} ± {}", show(expanded, unit))
            }
            _ => value,
        }
    }
}

/// Whether a length is so long that four digits lose the hundredths a judgement hangs on.
fn is_long<Q: Quantity>(value: Q, unit: &Unit) -> bool {
    Q::KIND == Kind::Length && unit.kind == Kind::Length && unit.of_si(value.si()).abs() >= 10.0
}

/// A judged number: as [`show()`], but a bore, a bolt or a head keeps its thousandths.
///
/// ```
/// use quantity::{Length, unit::MILLIMETRE};
/// assert_eq!(judge::limit::shown(Length::mm(101.01)?, &MILLIMETRE), "101.01 mm");
/// assert_eq!(judge::limit::shown(Length::mm(0.05)?, &MILLIMETRE), "0.05 mm");
/// # Ok::<(), quantity::NotFinite>(())
/// ```
#[must_use]
pub fn shown<Q: Quantity>(value: Q, unit: &Unit) -> String {
    if !is_long(value, unit) {
        return show(value, unit);
    }
    let text = show_fixed(value, unit, 3);
    match text.split_once(' ') {
        Some((number, symbol)) => {
            let number = number.trim_end_matches('0').trim_end_matches('.');
            format!("{number} {symbol}")
        }
        None => text,
    }
}

/// A sentence with its first letter large.
pub(crate) fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
