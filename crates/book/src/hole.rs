//! One hole of a joint and what sits in it.

use quantity::Length;

use crate::fact::Fact;
use crate::id::HoleName;
use crate::medium::Medium;
use crate::span::Span;
use crate::thread::Thread;
use crate::variant::When;
use crate::word::words;

/// One hole of a joint and what sits in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Its name in the joint.
    pub name: HoleName,
    /// Where the node stands; holes of one group share it.
    pub span: Span,
    /// For which variants it exists.
    pub when: When,
    /// What sits in it.
    pub holds: Holds,
    /// The thread.
    pub thread: Fact<Thread>,
    /// Length of the fastener under its head.
    pub length: Fact<Length>,
    /// What the fastener clamps: parts, spacers and gasket, without washers.
    pub grip: Fact<Length>,
    /// Depth of the hole from the face of the base part, thread and drill point to the bottom.
    pub thread_depth: Fact<Length>,
    /// Whether it ends inside the casting.
    pub bottom: Fact<Bottom>,
    /// What a through hole opens to.
    pub opens_to: Fact<Medium>,
    /// What the wrench grips on the bolt or screw.
    pub head: Fact<Head>,
    /// What the wrench grips on the nut, where a nut or a stud with a nut sits here.
    pub nut: Fact<Head>,
    /// Strength marking, such as `8.8` or `grade 5`.
    pub grade: Fact<String>,
    /// The washer under the head or nut.
    pub washer: Fact<Washer>,
    /// A spacer or rubber sleeve that belongs in the hole.
    pub sleeve: Fact<String>,
    /// What goes on the thread: sealer, thread locker.
    pub sealant: Fact<String>,
    /// The fastener can only be used once.
    pub one_use: Fact<bool>,
    /// What a torque wrench needs to get at it, in the word of the shop file: `crowfoot`.
    pub adapter: Fact<String>,
    /// Where it sits on the face, where somebody measured it.
    pub position: Option<Position>,
    /// Anything worth saying.
    pub note: Option<String>,
}

/// What sits in a hole.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Holds {
    /// A bolt.
    #[default]
    Bolt,
    /// A stud that stays, with a nut that comes off.
    Stud,
    /// A nut on a bolt that is part of something.
    Nut,
    /// A screw.
    Screw,
    /// A threaded plug.
    Plug,
    /// A banjo bolt with its two washers.
    Banjo,
    /// A dowel or pin.
    Dowel,
    /// A clip.
    Clip,
    /// Empty by design.
    Nothing,
    /// Something else, in the book's own word.
    Other(String),
}

impl Holds {
    /// The word in the book.
    #[must_use]
    pub fn word(&self) -> &str {
        match self {
            Self::Bolt => "bolt",
            Self::Stud => "stud",
            Self::Nut => "nut",
            Self::Screw => "screw",
            Self::Plug => "plug",
            Self::Banjo => "banjo",
            Self::Dowel => "dowel",
            Self::Clip => "clip",
            Self::Nothing => "nothing",
            Self::Other(word) => word,
        }
    }
}

/// How a hole ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bottom {
    /// It goes through.
    Through,
    /// It ends in the casting; liquid in it can split the casting.
    Blind,
}

words! {
    Bottom {
        Through "through",
        Blind "blind",
    }
}

/// What the wrench grips.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// The shape.
    pub shape: HeadShape,
    /// Across flats, for hexagons, squares and inner hexagons.
    pub across: Option<Length>,
    /// The number of a star: 40 in `T40`.
    pub number: Option<u32>,
}

/// The shape a wrench grips.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HeadShape {
    /// Outer hexagon: `13 mm`.
    Hexagon,
    /// Hexagon socket: `hex 6 mm`.
    InnerHexagon,
    /// Six-lobe socket: `T40`.
    InnerStar,
    /// Six-lobe outside: `E12`.
    OuterStar,
    /// Twelve-point outside: `12-point 14 mm`.
    TwelvePoint,
    /// Square: `square 10 mm`.
    Square,
    /// Cross: `cross 2`.
    Cross,
    /// Slot: `slot`.
    Slot,
}

/// A washer under a head or nut.
#[derive(Clone, Debug, PartialEq)]
pub struct Washer {
    /// What it is: plain, copper, spring, bonded.
    pub what: String,
    /// Thickness.
    pub thickness: Fact<Length>,
    /// How many sit in one hole.
    pub count: u32,
    /// It can only be used once.
    pub one_use: bool,
}

/// A place on the face, from any corner the book likes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
}
