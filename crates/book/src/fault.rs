//! A fault of a text: what is wrong, where, and the way out.

use crate::codes::Code;
use crate::span::Span;

/// How bad a fault is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Something looks wrong but may be meant so.
    Warning,
    /// The book cannot mean this.
    Error,
}

impl Severity {
    /// The word in messages.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// One fault with its place.
#[derive(Clone, Debug)]
pub struct Fault {
    /// Which kind of fault; its page stands in `docs/faults`.
    pub code: &'static Code,
    /// How bad it is.
    pub severity: Severity,
    /// Where it stands.
    pub span: Span,
    /// What is wrong, as a sentence without a full stop.
    pub message: String,
    /// What to write or do instead.
    pub hints: Vec<String>,
    /// Other places that belong to it, with what they are.
    pub also: Vec<(Span, String)>,
}

impl Fault {
    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }

    pub(crate) fn maybe_hint(mut self, hint: Option<String>) -> Self {
        self.hints.extend(hint);
        self
    }

    pub(crate) fn also(mut self, span: Span, says: impl Into<String>) -> Self {
        self.also.push((span, says.into()));
        self
    }

    pub(crate) fn only_warning(mut self) -> Self {
        self.severity = Severity::Warning;
        self
    }
}

/// Everything found so far; readers and checks add to it and go on.
#[derive(Debug, Default)]
pub(crate) struct Faults {
    found: Vec<Fault>,
}

impl Faults {
    pub(crate) fn add(&mut self, fault: Fault) {
        self.found.push(fault);
    }

    /// All faults in text order, each once.
    pub(crate) fn in_order(mut self) -> Vec<Fault> {
        self.found.sort_by(|a, b| order(a).cmp(&order(b)));
        self.found.dedup_by(|a, b| order(a) == order(b));
        self.found
    }
}

fn order(fault: &Fault) -> (usize, usize, &'static str, &str) {
    (
        fault.span.start,
        fault.span.end,
        fault.code.name,
        &fault.message,
    )
}
