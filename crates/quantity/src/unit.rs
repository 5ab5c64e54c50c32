//! Units: what one is, and how a typed spelling finds it.
//!
//! The table itself stands in `unit/table.rs`. It drives the reader, the writer, the help
//! text and the tests. Numbers and their signs are the reader's business, not this file's.

mod table;

use crate::kind::Kind;
use crate::read::ReadFault;

pub use table::*;

/// One unit of one kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// What it measures.
    pub kind: Kind,
    /// How this house writes it: `N·m`, `mm`, `lbf·in`.
    pub symbol: &'static str,
    /// Every other spelling that is accepted without a word. A `·` stands for any joiner or none.
    pub spellings: &'static [&'static str],
    /// SI units in one of these.
    pub factor: f64,
    /// SI value of this unit's zero (temperature scales only).
    pub offset: f64,
    /// Spellings that are accepted, but not without saying how they were taken.
    pub doubtful: &'static [&'static str],
    /// What an answer must say when one of the `doubtful` spellings was read.
    pub note: Option<&'static str>,
    /// Whether upper and lower case carry meaning, as in `mN·m` and `MN·m`.
    pub letters_kept: bool,
}

impl Unit {
    const fn new(
        kind: Kind,
        symbol: &'static str,
        factor: f64,
        spellings: &'static [&'static str],
    ) -> Self {
        Self {
            kind,
            symbol,
            spellings,
            factor,
            offset: 0.0,
            doubtful: &[],
            note: None,
            letters_kept: false,
        }
    }

    const fn offset(mut self, offset: f64) -> Self {
        self.offset = offset;
        self
    }

    const fn doubtful(mut self, spellings: &'static [&'static str], note: &'static str) -> Self {
        self.doubtful = spellings;
        self.note = Some(note);
        self
    }

    const fn letters_kept(mut self) -> Self {
        self.letters_kept = true;
        self
    }

    /// Turns a value in this unit into SI.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// Turns an SI value into this unit.
    #[must_use]
    pub fn of_si(&self, si: f64) -> f64 {
        (si - self.offset) / self.factor
    }

    /// The longest start of `text` that spells this unit, and how well it does.
    fn spelled_at(&self, text: &str) -> Option<Spelled> {
        let plain = std::iter::once(&self.symbol)
            .chain(self.spellings)
            .map(|spelling| (spelling, false));
        let doubtful = self.doubtful.iter().map(|spelling| (spelling, true));
        plain
            .chain(doubtful)
            .filter_map(|(spelling, doubtful)| {
                let length = spelling_length(spelling, text, Letters::Free)?;
                let as_listed = spelling_length(spelling, text, Letters::Kept) == Some(length);
                let rank = match (as_listed, doubtful) {
                    (true, true) => Rank::DoubtfulAsListed,
                    (true, false) => Rank::AsListed,
                    (false, true) => Rank::Doubtful,
                    (false, false) => Rank::CaseAside,
                };
                (as_listed || !self.letters_kept).then_some(Spelled { length, rank })
            })
            .max_by_key(|found| (found.length, found.rank))
    }
}

/// How well a spelling met the table, worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    CaseAside,
    Doubtful,
    AsListed,
    DoubtfulAsListed,
}

#[derive(Clone, Copy, Debug)]
struct Spelled {
    length: usize,
    rank: Rank,
}

/// A unit found at the start of a text.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Match {
    pub(crate) unit: &'static Unit,
    /// Bytes of the text that spell it.
    pub(crate) length: usize,
    /// What must be said about the spelling.
    pub(crate) note: Option<&'static str>,
}

/// Every unit that spells the longest start of `text`; the best spelling of each.
///
/// More than one comes back where kinds share a symbol (`MPa`, `K`).
pub(crate) fn longest(text: &str) -> Vec<Match> {
    let mut longest = 0;
    let mut held = Vec::new();
    for unit in UNITS {
        let Some(Spelled { length, rank }) = unit.spelled_at(text) else {
            continue;
        };
        if length < longest {
            continue;
        }
        if length > longest {
            longest = length;
            held.clear();
        }
        let note = matches!(rank, Rank::Doubtful | Rank::DoubtfulAsListed)
            .then_some(unit.note)
            .flatten();
        held.push(Match { unit, length, note });
    }
    held
}

/// Finds the unit of one kind that a text spells.
///
/// ```
/// use quantity::{Kind, unit};
/// assert_eq!(unit::find(Kind::Torque, "in-lbs").unwrap().symbol, "lbf·in");
/// assert!(unit::find(Kind::Torque, "J").is_err());
/// ```
///
/// # Errors
/// A [`ReadFault`] when the text spells no unit, or only a unit of another kind.
pub fn find(kind: Kind, text: &str) -> Result<&'static Unit, ReadFault> {
    crate::read::unit_alone(kind, text)
}

/// The units of one kind, in the order of the table.
pub fn of_kind(kind: Kind) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |unit| unit.kind == kind)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Letters {
    Kept,
    Free,
}

/// Signs people put between the parts of a unit: `ft-lb`, `N.m`, `N·m`, `in lb`.
pub(crate) fn is_joiner(sign: char) -> bool {
    sign.is_whitespace()
        || matches!(
            sign,
            '-' | '‐' | '‑' | '.' | '·' | '⋅' | '•' | '∙' | '*' | '×'
        )
}

/// Bytes at the start of `text` that meet `spelling`, ending where a word may end.
pub(crate) fn exact_length(spelling: &str, text: &str) -> Option<usize> {
    spelling_length(spelling, text, Letters::Kept)
}

fn spelling_length(spelling: &str, text: &str, letters: Letters) -> Option<usize> {
    let mut rest = text;
    // Most of the table fails here, at the first letter; an empty spelling spells nothing.
    if lower(spelling.chars().next()?) != lower(text.chars().next()?) {
        return None;
    }
    for sign in spelling.chars() {
        if sign == '·' {
            rest = after_joiner(rest);
            continue;
        }
        let mut signs = rest.chars();
        let mut typed = signs.next()?;
        if typed == '^' && matches!(plain(sign), '2' | '3') {
            typed = signs.next()?;
        }
        let same = match letters {
            Letters::Kept => plain(sign) == plain(typed),
            Letters::Free => lower(sign) == lower(typed),
        };
        if !same {
            return None;
        }
        rest = signs.as_str();
    }
    // `ft.lbs.` and `in.` end in a full stop of their own; `5 mm..6 mm` does not.
    if spelling.ends_with(char::is_alphabetic)
        && let Some(after) = rest.strip_prefix('.')
        && !after.starts_with(|next: char| next == '.' || next.is_alphanumeric())
    {
        rest = after;
    }
    let ends = !rest.starts_with(|next: char| {
        next.is_alphabetic()
            || matches!(
                next,
                '/' | '^' | '²' | '³' | '⁻' | '°' | '%' | '·' | '⋅' | '•' | '∙' | '×'
            )
    }) || !spelling.ends_with(char::is_alphanumeric)
        && !rest.starts_with(char::is_alphabetic);
    ends.then(|| text.len() - rest.len())
}

/// Skips at most a few joining signs, so that `18 N - - - 22` never runs on.
fn after_joiner(text: &str) -> &str {
    let mut rest = text;
    for _ in 0..3 {
        let mut signs = rest.chars();
        match signs.next() {
            Some(sign) if is_joiner(sign) => rest = signs.as_str(),
            _ => break,
        }
    }
    rest
}

/// Folds signs that look alike and mean the same: two micro signs, three degree signs, raised digits.
fn plain(sign: char) -> char {
    match sign {
        'μ' => 'µ',
        'º' | '˚' => '°',
        '²' => '2',
        '³' => '3',
        '″' | '”' => '"',
        '\u{2126}' => 'Ω',
        other => other,
    }
}

fn lower(sign: char) -> char {
    if sign.is_ascii() {
        return sign.to_ascii_lowercase();
    }
    let folded = plain(sign);
    folded.to_lowercase().next().unwrap_or(folded)
}

#[cfg(test)]
mod tests;
