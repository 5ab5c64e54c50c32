//! The answer to one question.

use crate::ask::Ask;
use crate::caution::Caution;
use crate::figure::Figure;
use crate::finding::{Finding, Weight};
use crate::picture::Picture;
use crate::source::Source;
use crate::table::Table;
use crate::verdict::Verdict;

/// One answer, for every surface.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Report {
    /// The command that asked: `cranking`.
    pub command: &'static str,
    /// What the answer is about, one line for a person: `Cranking compression, inline four`.
    pub title: String,
    /// How it came out, where that means something.
    pub verdict: Option<Verdict>,
    /// The verdict in one plain sentence, or the answer where there is no verdict.
    pub headline: Option<String>,
    /// Named figures.
    pub figures: Vec<Figure>,
    /// What was noticed.
    pub findings: Vec<Finding>,
    /// The main rows.
    pub rows: Table,
    /// The rules that decided.
    pub because: Vec<String>,
    /// What is missing or contradictory.
    pub asks: Vec<Ask>,
    /// Care to take.
    pub cautions: Vec<Caution>,
    /// Where the numbers come from.
    pub sources: Vec<Source>,
    /// Text that is itself the answer and is printed as it is: a build book, a map.
    pub text: Option<String>,
    /// Drawings that belong to the answer.
    pub pictures: Vec<Picture>,
    /// The question could not be answered or understood (exit status 2).
    pub refused: bool,
}

impl Report {
    /// An empty answer to a command's question.
    #[must_use]
    pub fn new(command: &'static str, title: impl Into<String>) -> Self {
        Self {
            command,
            title: title.into(),
            ..Self::default()
        }
    }

    /// A refusal: the question was not understood or cannot be answered, and why.
    #[must_use]
    pub fn refusal(command: &'static str, title: impl Into<String>, finding: Finding) -> Self {
        Self {
            command,
            title: title.into(),
            findings: vec![finding.weight(Weight::Stop)],
            refused: true,
            ..Self::default()
        }
    }

    /// A figure by name.
    #[must_use]
    pub fn figure(&self, name: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.name == name)
    }

    /// Whether a finding with this code is there.
    #[must_use]
    pub fn finds(&self, code: &str) -> bool {
        self.findings.iter().any(|finding| finding.code == code)
    }

    /// Adds a source unless it is there already.
    pub fn cite(&mut self, source: Source) {
        if !self.sources.contains(&source) {
            self.sources.push(source);
        }
    }

    /// 0: answered (also undecided and not measured). 1: answered, and the answer is
    /// *outside*, a gate is closed, something is missing or left over, a file has faults.
    /// 2: could not answer or could not understand.
    #[must_use]
    pub fn exit_status(&self) -> u8 {
        let unclean = matches!(self.verdict, Some(Verdict::Outside | Verdict::Closed))
            || self
                .findings
                .iter()
                .any(|finding| finding.weight == Weight::Stop);
        match (self.refused, unclean) {
            (true, _) => 2,
            (false, true) => 1,
            (false, false) => 0,
        }
    }
}
