//! One broken rule: where, which, what, and the way out.

use std::fmt;

/// A broken rule at a place in the repository. Ordered by place, so that a list reads from top to bottom.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Fault {
    /// Path from the top of the repository, with `/` on every system.
    pub(crate) path: String,
    /// Line, counted from one.
    pub(crate) line: usize,
    /// The chore that found it, `tidy` or `licences`.
    pub(crate) chore: &'static str,
    /// Name of the rule, one word.
    pub(crate) rule: &'static str,
    /// What is wrong.
    pub(crate) what: String,
    /// What to do about it.
    pub(crate) way_out: String,
}

impl Fault {
    /// A fault found by `tidy`.
    pub(crate) fn tidy(
        rule: &'static str,
        path: &str,
        line: usize,
        what: impl Into<String>,
        way_out: impl Into<String>,
    ) -> Self {
        Self {
            path: path.to_owned(),
            line,
            chore: "tidy",
            rule,
            what: what.into(),
            way_out: way_out.into(),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            path,
            line,
            chore,
            rule,
            what,
            way_out,
        } = self;
        write!(f, "{path}:{line}: {chore}[{rule}]: {what}; {way_out}")
    }
}
