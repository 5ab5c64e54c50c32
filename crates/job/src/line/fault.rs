//! A line that could not be understood.

use std::fmt;

use report::{Finding, Place, Weight};

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
        let mut finding = Finding::new("line-not-understood", "the line", self.to_string())
            .weight(Weight::Stop)
            .at(Place {
                file: "line".to_owned(),
                line: 1,
                column: self.column(),
            })
            .detail(self.line.clone())
            .detail(format!("{}^", " ".repeat(self.column() - 1)));
        if !self.understood.is_empty() {
            finding = finding.detail(format!("understood: {}", self.understood.join(" · ")));
        }
        for example in &self.examples {
            finding = finding.detail(format!("for example: {example}"));
        }
        finding.next("nothing was stored; put the line right and send it again")
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
