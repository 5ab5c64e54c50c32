//! A line that could not be understood.

use std::fmt;

use report::{Finding, Place, Weight};

/// The longest stretch of a line that is shown with a mark under it, in characters.
const EXCERPT: usize = 70;

/// What was understood of a line, where reading stopped, and how to go on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineFault {
    /// The line.
    pub line: String,
    /// What was understood up to there, in words: `off · runners · 2 nuts 13 mm`.
    pub understood: Vec<String>,
    /// Where reading stopped: a byte offset, at a character, at most the length of the line.
    pub stopped_at: usize,
    /// What was expected there.
    pub expected: String,
    /// Why what stands there will not do, if that is not plain.
    pub reason: Option<String>,
    /// Lines that would be understood.
    pub examples: Vec<&'static str>,
}

impl LineFault {
    /// A fault at a byte of a line. An offset inside a character moves to its start.
    pub(super) fn at(line: &str, byte: usize, expected: impl Into<String>) -> Self {
        let mut stopped_at = byte.min(line.len());
        while !line.is_char_boundary(stopped_at) {
            stopped_at -= 1;
        }
        Self {
            line: line.to_owned(),
            understood: Vec::new(),
            stopped_at,
            expected: expected.into(),
            reason: None,
            examples: Vec::new(),
        }
    }

    pub(super) fn because(mut self, reason: impl Into<String>) -> Self {
        self.reason = Some(reason.into());
        self
    }

    pub(super) fn examples(mut self, examples: &[&'static str]) -> Self {
        if self.examples.is_empty() {
            self.examples = examples.to_vec();
        }
        self
    }

    /// The column where reading stopped: characters, from 1.
    #[must_use]
    pub fn column(&self) -> usize {
        self.line[..self.stopped_at].chars().count() + 1
    }

    /// The fault as a report shows it, with the line and a mark under the place.
    #[must_use]
    pub fn finding(&self) -> Finding {
        let (excerpt, before) = self.excerpt();
        let mut finding = Finding::new("line-not-understood", "the line", self.to_string())
            .weight(Weight::Stop)
            .at(Place {
                file: "line".to_owned(),
                line: 1,
                column: self.column(),
            })
            .detail(excerpt)
            .detail(format!("{}^", " ".repeat(before)));
        if !self.understood.is_empty() {
            finding = finding.detail(format!("understood: {}", self.understood.join(" · ")));
        }
        for example in &self.examples {
            finding = finding.detail(format!("for example: {example}"));
        }
        finding.next("nothing was stored; put the line right and send it again")
    }

    /// The stretch of the line around the place, at most [`EXCERPT`] characters, and how many
    /// of them stand before the place. A mark under a longer line would be out of sight.
    fn excerpt(&self) -> (String, usize) {
        let letters: Vec<char> = self
            .line
            .chars()
            .map(|letter| if letter.is_control() { ' ' } else { letter })
            .collect();
        let place = self.column() - 1;
        let skip = if letters.len() <= EXCERPT {
            0
        } else {
            place.saturating_sub(EXCERPT * 3 / 4)
        };
        let shown = letters.iter().skip(skip).take(EXCERPT).collect();
        (shown, place - skip)
    }
}

impl fmt::Display for LineFault {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "stopped at column {}", self.column())?;
        if let Some(reason) = &self.reason {
            write!(to, ": {reason}")?;
        }
        write!(to, "; expected {}", self.expected)
    }
}

impl std::error::Error for LineFault {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mark_stands_under_the_letter_of_a_long_line() {
        let line = format!("{}\t!{}", "a".repeat(200), "b".repeat(200));
        let fault = LineFault::at(&line, 201, "a name");
        let finding = fault.finding();
        let [shown, mark] = &finding.detail[..] else {
            panic!("an excerpt and a mark, not {:?}", finding.detail);
        };
        assert_eq!(shown.chars().count(), EXCERPT);
        assert_eq!(shown.chars().nth(mark.chars().count() - 1), Some('!'));
        assert!(!shown.contains('\t'));
    }

    #[test]
    fn a_short_line_is_shown_whole() {
        let (shown, before) = LineFault::at("off runners 3", 12, "a colon").excerpt();
        assert_eq!((shown.as_str(), before), ("off runners 3", 12));
    }
}
