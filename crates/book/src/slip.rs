//! Slips of the keyboard that a KDL reader stumbles over: values without quotes, a lost quote,
//! `true` without `#`, a lost brace.
//!
//! The reader of the language gives up at the first of them and hides everything behind it. So
//! the text is scanned once before: every slip becomes a fault of its own, is painted over with
//! letters of the same length (so that all later places stay true) and remembered as spoilt, and
//! the text is cut into its top-level nodes, each of which is then read alone.

mod scan;
mod token;

use std::collections::BTreeSet;
use std::ops::Range;

use crate::codes;
use crate::fault::Faults;
use crate::span::Span;
use scan::Scan;
pub(crate) use token::is_number;

/// A text made safe to read node by node.
#[derive(Debug)]
pub(crate) struct Cut {
    /// The text with every slip painted over; as long as the original, byte for byte.
    pub(crate) painted: String,
    /// Where painted values begin.
    pub(crate) spoilt: BTreeSet<usize>,
    /// The top-level nodes.
    pub(crate) pieces: Vec<Piece>,
}

/// The text of one top-level node.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Piece {
    /// Where it stands.
    pub(crate) bytes: Range<usize>,
    /// Braces that were opened in it and never closed.
    pub(crate) unclosed: usize,
    /// Blocks in it are nested deeper than any book needs; it is not read.
    pub(crate) too_deep: bool,
}

/// Nodes that only ever stand at the top: what a text whose braces do not pair is cut at.
const TOP_WORDS: [&str; 16] = [
    "book",
    "engine",
    "variant",
    "part",
    "hose",
    "pipe",
    "cable",
    "connector",
    "circuit",
    "shaft",
    "temporary",
    "rule",
    "gate",
    "if-crossed",
    "wrench",
    "person",
];

/// Finds the slips of a text and cuts it into top-level nodes.
pub(crate) fn cut(text: &str, faults: &mut Faults) -> Cut {
    let trusting = Scan::new(text, &[]).run();
    let scan = if trusting.open_blocks() == 0 {
        trusting
    } else {
        // Some block is never closed. A top-level word at the very start of a line shows where
        // the next node begins, so only the one with the lost brace suffers.
        Scan::new(text, &TOP_WORDS).run()
    };
    scan.finish(faults)
}

/// A slip the scan met, painted over where it is a value.
#[derive(Clone, Debug)]
pub(crate) enum Slip {
    /// A value that must stand in quotes.
    Unquoted(Span),
    /// `true`, `false` or `null` without `#`.
    BareWord(Span),
    /// A quote that is never closed, or closed in the wrong place; up to where the paint goes.
    LostQuote(Span),
    /// A comment that is never closed.
    OpenComment(Span),
    /// A block that is never closed; then where the next node begins.
    OpenBrace(Span, Option<Span>),
    /// A closing brace too many.
    StrayBrace(Span),
    /// Blocks nested too deep.
    TooDeep(Span),
}

impl Slip {
    fn report(&self, text: &str, faults: &mut Faults) {
        let word = |span: &Span| text.get(span.start..span.end).unwrap_or_default();
        faults.add(match self {
            Self::Unquoted(span) => codes::unquoted_value::fault(*span, word(span)),
            Self::BareWord(span) => codes::bare_yes_no::fault(*span, word(span)),
            Self::LostQuote(span) => codes::lost_quote::fault(*span),
            Self::OpenComment(span) => codes::text_not_kdl::open_comment(*span),
            Self::OpenBrace(span, next) => codes::open_brace::fault(*span, *next),
            Self::StrayBrace(span) => codes::stray_brace::fault(*span),
            Self::TooDeep(span) => codes::text_not_kdl::too_deep(*span),
        });
    }
}

#[cfg(test)]
mod tests;
