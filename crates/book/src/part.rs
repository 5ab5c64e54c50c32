//! A part: anything that comes off in one piece.

use quantity::{Duration, Length, Range};

use crate::effort::{Effort, OutsideWork};
use crate::fact::Fact;
use crate::id::{CircuitId, PartId, ZoneId};
use crate::money::Price;
use crate::port::Port;
use crate::span::{Mention, Span};
use crate::variant::When;
use crate::word::words;

/// Anything that comes off in one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its name in the book.
    pub id: PartId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// Older ids that still mean this part.
    pub was: Vec<String>,
    /// For which variants it exists.
    pub when: When,
    /// Where the node stands.
    pub span: Span,
    /// Where a person must be to work on it.
    pub zone: Option<Mention<ZoneId>>,
    /// Parts that are all in its way.
    pub needs_off: Vec<Mention<PartId>>,
    /// Groups of ways; of each group one way must be wholly off.
    pub needs_off_any: Vec<NeedsOffAny>,
    /// Parts that come off in one piece with it.
    pub comes_with: Vec<Mention<PartId>>,
    /// Circuits that must be drained before it opens, beyond those its ports show.
    pub needs_drained: Vec<Mention<CircuitId>>,
    /// Its ports and terminals.
    pub ports: Vec<Port>,
    /// How long it takes off and on, hands, tools, hoist.
    pub effort: Effort,
    /// It can only be used once.
    pub one_use: Fact<bool>,
    /// It wears and is best renewed while it is out.
    pub wearing: Fact<bool>,
    /// What a new one costs.
    pub price: Fact<Price>,
    /// How long a new one takes to come.
    pub lead: Fact<Range<Duration>>,
    /// The other one of a handed or look-alike pair.
    pub pair: Option<Pair>,
    /// What is sent out of the house, with its outcomes.
    pub outside: Vec<OutsideWork>,
    /// What the pieces it is made up of are to each other, where it is several.
    pub pieces: Fact<Alike>,
    /// What it is made of, such as `aluminium`.
    pub material: Fact<String>,
    /// How thick it is where bolts go through it, for a bracket or spacer under their heads.
    pub thickness: Fact<Length>,
    /// It never comes off in this book (block, body); the graph ends there.
    pub fixed: bool,
    /// Anything worth saying.
    pub note: Option<String>,
}

/// One of several ways must be wholly off before the part is free.
#[derive(Clone, Debug, PartialEq)]
pub struct NeedsOffAny {
    /// The ways; never empty.
    pub ways: Vec<Way>,
    /// Where the node stands.
    pub span: Span,
}

/// One way: the parts that must all be off for it to be open.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The parts; never empty.
    pub parts: Vec<Mention<PartId>>,
    /// Where it stands.
    pub span: Span,
}

/// The part this one could be taken for.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// The other part.
    pub with: Mention<PartId>,
    /// How the two differ.
    pub kind: PairKind,
}

/// How the two parts of a pair differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PairKind {
    /// Mirror images: each fits the wrong side badly or not at all.
    Handed,
    /// Each can be turned into the place of the other.
    Turned,
    /// They look the same and must not change places (run in together, or set up).
    LookAlike,
}

words! {
    PairKind {
        Handed "handed",
        Turned "turned",
        LookAlike "look-alike",
    }
}

/// What several pieces that look alike are to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Alike {
    /// Each belongs in the place it came out of: followers, shims, bearing caps.
    OwnPlace,
    /// They are alike, and any fits any place: coils, injectors of one sort.
    AnyPlace,
}

words! {
    Alike {
        OwnPlace "own-place",
        AnyPlace "any-place",
    }
}
