//! A line: hose, pipe, lead, cable, connector or ground, with exactly two ends.

use quantity::Length;

use crate::effort::Effort;
use crate::fact::Fact;
use crate::id::{JointId, LineId, PortRef};
use crate::medium::Medium;
use crate::money::Price;
use crate::span::{Mention, Span};
use crate::variant::When;
use crate::word::words;

/// Something with two ends, each of which belongs on one port or terminal.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its name in the book.
    pub id: LineId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// Older ids that still mean this line.
    pub was: Vec<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// What it is.
    pub kind: LineKind,
    /// What flows through it; where left out, the ports say it.
    pub medium: Fact<Medium>,
    /// Its bore, for both ends unless an end says otherwise.
    pub bore: Fact<Length>,
    /// Its length.
    pub length: Fact<Length>,
    /// A restrictor or valve is hidden in it, and which way it faces.
    pub restrictor: Fact<String>,
    /// The end written `from`, then the end written `to`.
    pub ends: [End; 2],
    /// It can only be used once.
    pub one_use: Fact<bool>,
    /// It wears and is best renewed while it is off.
    pub wearing: Fact<bool>,
    /// What a new one costs.
    pub price: Fact<Price>,
    /// Time to take off and put back both ends, where it comes off wholly.
    pub effort: Effort,
    /// Where it runs: `behind the bulkhead-side head`.
    pub route: Option<String>,
    /// Anything worth saying.
    pub note: Option<String>,
}

/// One end of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// The port or terminal it belongs on.
    pub port: Mention<PortRef>,
    /// What holds it there.
    pub clamp: Fact<Clamp>,
    /// The bore of this end, where it differs from the line's.
    pub bore: Fact<Length>,
    /// The shape of the connector.
    pub key: Fact<String>,
    /// How far from its place this end can be bent or pulled.
    pub reach: Fact<Length>,
    /// The joint whose bolt or nut holds it, for banjos and ground eyes.
    pub held_by: Option<Mention<JointId>>,
    /// A mark already on it: tag, paint, colour of the plug.
    pub mark: Option<String>,
    /// Where the node stands.
    pub span: Span,
}

impl End {
    /// An end on a port, of which nothing else is known.
    #[must_use]
    pub const fn at(port: Mention<PortRef>) -> Self {
        let span = port.span;
        Self {
            port,
            clamp: Fact::NeverAsked,
            bore: Fact::NeverAsked,
            key: Fact::NeverAsked,
            reach: Fact::NeverAsked,
            held_by: None,
            mark: None,
            span,
        }
    }
}

impl Line {
    /// The bore at one end (0 `from`, 1 `to`): the end's own, else the line's.
    #[must_use]
    pub fn bore_at(&self, end: usize) -> &Fact<Length> {
        match self.ends.get(end).map(|end| &end.bore) {
            Some(bore) if *bore != Fact::NeverAsked => bore,
            _ => &self.bore,
        }
    }
}

/// What a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineKind {
    /// A flexible hose.
    Hose,
    /// A pipe that is not a part of its own.
    Pipe,
    /// An ignition lead or single wire.
    Lead,
    /// A pull cable or battery cable.
    Cable,
    /// A plug of the loom on its socket; the loom is a part.
    Connector,
    /// A ground strap.
    Ground,
}

words! {
    LineKind {
        Hose "hose",
        Pipe "pipe",
        Lead "lead",
        Cable "cable",
        Connector "connector",
        Ground "ground",
    }
}

/// What holds an end on its port.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Clamp {
    /// A spring band.
    Spring,
    /// A worm-drive band.
    Worm,
    /// A pressed band, cut to take off.
    Crimped,
    /// A quick connector.
    Quick,
    /// A union nut.
    Union,
    /// A banjo bolt.
    Banjo,
    /// A bolt or nut through an eye.
    Eye,
    /// A latch of a plug.
    Latch,
    /// Pushed on, nothing more.
    Push,
    /// Something else, in the book's own word.
    Other(String),
}

impl Clamp {
    /// Every clamp with a name of its own.
    pub const NAMED: [Self; 9] = [
        Self::Spring,
        Self::Worm,
        Self::Crimped,
        Self::Quick,
        Self::Union,
        Self::Banjo,
        Self::Eye,
        Self::Latch,
        Self::Push,
    ];

    /// The word in the book.
    #[must_use]
    pub fn word(&self) -> &str {
        match self {
            Self::Spring => "spring",
            Self::Worm => "worm",
            Self::Crimped => "crimped",
            Self::Quick => "quick",
            Self::Union => "union",
            Self::Banjo => "banjo",
            Self::Eye => "eye",
            Self::Latch => "latch",
            Self::Push => "push",
            Self::Other(word) => word,
        }
    }
}
