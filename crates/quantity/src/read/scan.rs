//! A place in a text, and the small moves over it.

use std::ops::Range;

use super::expression::{plus_of_two_meanings, take_range_sign};
use super::fault::ReadFault;
use super::hint;
use crate::kind::Kind;

/// Walks over a text. `at` is always a character border.
#[derive(Clone, Debug)]
pub(crate) struct Scan<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Scan<'t> {
    /// Starts at the first written sign.
    ///
    /// Refuses an empty text and a damaged one at once, because no later rule can make sense of either.
    pub(crate) fn new(text: &'t str) -> Result<Self, ReadFault> {
        if let Some(place) = text.find('\u{FFFD}') {
            let number_before = text[..place]
                .trim_end()
                .ends_with(|sign: char| sign.is_ascii_digit());
            let hint = if number_before {
                "look at the original: it was probably a degree sign; write `°` or `deg`"
            } else {
                "look at the original and write the sign that stood there"
            };
            let at = place..place + '\u{FFFD}'.len_utf8();
            return Err(ReadFault::new(
                text,
                at,
                "a sign was damaged on the way here and cannot be read",
                hint,
            ));
        }
        let mut scan = Self { text, at: 0 };
        scan.skip_space();
        if scan.is_done() {
            return Err(ReadFault::new(
                text,
                text.len()..text.len(),
                "nothing is written here",
                "write a number and its unit",
            ));
        }
        Ok(scan)
    }

    pub(crate) fn text(&self) -> &'t str {
        self.text
    }

    pub(crate) fn at(&self) -> usize {
        self.at
    }

    pub(crate) fn go_to(&mut self, at: usize) {
        self.at = at;
    }

    pub(crate) fn rest(&self) -> &'t str {
        &self.text[self.at..]
    }

    pub(crate) fn is_done(&self) -> bool {
        self.at == self.text.len()
    }

    pub(crate) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    pub(crate) fn step(&mut self) -> Option<char> {
        let sign = self.peek()?;
        self.at += sign.len_utf8();
        Some(sign)
    }

    pub(crate) fn advance(&mut self, bytes: usize) {
        self.at += bytes;
    }

    /// Skips spaces of any width; says whether there were any.
    pub(crate) fn skip_space(&mut self) -> bool {
        let trimmed = self.rest().trim_start();
        let skipped = self.rest().len() - trimmed.len();
        self.at += skipped;
        skipped > 0
    }

    /// Takes `sign` if it comes next.
    pub(crate) fn take(&mut self, sign: char) -> bool {
        let met = self.peek() == Some(sign);
        if met {
            self.at += sign.len_utf8();
        }
        met
    }

    /// Takes the first of `texts` that comes next, ignoring ASCII case.
    pub(crate) fn take_any(&mut self, texts: &[&str]) -> bool {
        for wanted in texts {
            if self
                .rest()
                .get(..wanted.len())
                .is_some_and(|start| start.eq_ignore_ascii_case(wanted))
            {
                self.at += wanted.len();
                return true;
            }
        }
        false
    }

    /// Takes the first of `words` that comes next as a whole word, ignoring ASCII case.
    ///
    /// A space in a word stands for any run of spaces and hyphens, or none: `hand tight`, `hand-tight`.
    pub(crate) fn take_word(&mut self, words: &[&str]) -> bool {
        words.iter().any(|word| {
            let mut ahead = self.clone();
            ahead.skip_space();
            let met = word.split(' ').enumerate().all(|(index, part)| {
                if index > 0 {
                    ahead.skip_space_and_hyphen();
                }
                ahead.take_any(&[part])
            });
            let ends = !ahead.peek().is_some_and(char::is_alphabetic);
            if met && ends {
                self.at = ahead.at;
            }
            met && ends
        })
    }

    fn skip_space_and_hyphen(&mut self) {
        self.skip_space();
        if self.take('-') {
            self.skip_space();
        }
    }

    /// The bytes of the word that starts here: up to a space or a sign that parts things.
    pub(crate) fn word(&self) -> Range<usize> {
        let rest = self.rest();
        let length = rest
            .find(|sign: char| sign.is_whitespace() || matches!(sign, ',' | ';' | '(' | ')' | '+'))
            .unwrap_or(rest.len());
        let length = if length == 0 {
            self.peek().map_or(0, char::len_utf8)
        } else {
            length
        };
        self.at..self.at + length
    }

    /// Refuses whatever is left over.
    pub(crate) fn finish(&mut self, has_unit: bool) -> Result<(), ReadFault> {
        self.finish_with(None, has_unit)
    }

    /// Refuses whatever is left over; the hint names the units of `kind` where one is missing.
    pub(crate) fn finish_for(&mut self, kind: Kind, has_unit: bool) -> Result<(), ReadFault> {
        self.finish_with(Some(kind), has_unit)
    }

    fn finish_with(&mut self, kind: Option<Kind>, has_unit: bool) -> Result<(), ReadFault> {
        self.skip_space();
        if self.is_done() {
            return Ok(());
        }
        if self.peek() == Some('+') {
            return Err(plus_of_two_meanings(self));
        }
        let starts_unit = self
            .peek()
            .is_some_and(|sign| sign.is_alphabetic() || matches!(sign, '"' | '°' | '/' | '%'));
        if !has_unit && starts_unit {
            return Err(kind.map_or_else(
                || self.unknown_unit_of_any_kind(),
                |kind| self.unknown_unit(kind),
            ));
        }
        let mut ahead = self.clone();
        if take_range_sign(&mut ahead) {
            return Err(ReadFault::new(
                self.text,
                self.at..ahead.at,
                "a range or a second value begins here, and one value is asked for",
                "write one value",
            ));
        }
        let at = self.word();
        let left = &self.text[at.clone()];
        let (reason, hint) = if left.starts_with(|sign: char| sign.is_ascii_digit()) {
            (
                format!("a second number `{left}` stands beside the first"),
                "write one value here, without spaces inside a number",
            )
        } else {
            (
                format!("`{left}` is left over after the value"),
                "take it away, or write it as a note of its own",
            )
        };
        Err(ReadFault::new(self.text, at, reason, hint))
    }

    /// The fault for a word that spells no unit.
    pub(crate) fn unknown_unit(&self, kind: Kind) -> ReadFault {
        let at = self.word();
        let reason = format!(
            "`{}` is no unit of {} this program knows",
            &self.text[at.clone()],
            kind.name()
        );
        ReadFault::new(
            self.text,
            at,
            reason,
            format!("units of {}: {}", kind.name(), hint::symbols(kind)),
        )
    }

    fn unknown_unit_of_any_kind(&self) -> ReadFault {
        let at = self.word();
        let reason = format!("`{}` is no unit this program knows", &self.text[at.clone()]);
        ReadFault::new(
            self.text,
            at,
            reason,
            "check the spelling, or say what kind of quantity it is",
        )
    }
}
