//! What an entry says was done: one kind for everything that can happen on a job.
//!
//! Names stand here as they were typed. What they mean is settled in replay, where the book
//! and everything met so far are known.

use crate::entry::EntryId;
use crate::item::Item;
use crate::shot::{Film, Shot, Spotted};

/// A name as it was typed.
pub type Name = String;

/// Where something lies: `bag 14`, `shelf over the bench`.
pub type Place = String;

/// What was said about a hose, lead or part beside its fasteners. All of it may be missing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Details {
    /// Counted things.
    pub items: Vec<Item>,
    /// The bag, tray or shelf it lies in.
    pub place: Option<Place>,
    /// A photo of it.
    pub photo: Option<String>,
    /// The part it was held to, or for a hose or lead the port of its first end.
    pub from: Option<Name>,
    /// The port of its second end.
    pub to: Option<Name>,
    /// What runs through it: `coolant`.
    pub medium: Option<String>,
    /// Its inside bore as typed: `10 mm`.
    pub bore: Option<String>,
    /// The sort of clamp: `spring`.
    pub clamp: Option<String>,
    /// Where one must stand to reach it: `above`.
    pub zone: Option<String>,
    /// What else was said.
    pub note: Option<String>,
}

/// What kind of thing a new name was said to be: `off hose bypass: …`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Run {
    /// A hose.
    Hose,
    /// A rigid pipe.
    Pipe,
    /// An ignition lead.
    Lead,
    /// A cable, bowden or electric.
    Cable,
    /// An electrical connector.
    Connector,
    /// A ground strap.
    Ground,
}

impl Run {
    /// The word a book and a line use for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hose => "hose",
            Self::Pipe => "pipe",
            Self::Lead => "lead",
            Self::Cable => "cable",
            Self::Connector => "connector",
            Self::Ground => "ground",
        }
    }
}

/// One tightening: a bolt, some bolts or a whole stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Tightening {
    /// The part or joint.
    pub joint: Name,
    /// The holes; none said means all of the joint.
    pub holes: Vec<String>,
    /// The stage, from 1. None said means the next one.
    pub stage: Option<u32>,
    /// The figure as typed: `12 Nm`, `30 N·m + 90°`.
    pub figure: Option<String>,
    /// The wrench.
    pub wrench: Option<Name>,
    /// The condition of the threads: `dry`, `oiled`.
    pub condition: Option<String>,
}

/// One measurement.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// What was measured, as typed: `cranking dry`.
    pub of: Name,
    /// The numbers with their unit as typed (`205 210 208 psi`), or words for what has none.
    pub values: String,
    /// Whether `values` are numbers with a unit.
    pub numbers: bool,
    /// The gauge.
    pub instrument: Option<Name>,
    /// The conditions: `warm`, `throttle open`.
    pub conditions: Vec<String>,
}

/// An amount that went out of or into a circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Flow {
    /// The circuit.
    pub circuit: Name,
    /// How much, as typed: `3.2 L`. Not said: all of it.
    pub amount: Option<String>,
    /// What else was said: the look of it, the mix.
    pub note: Option<String>,
}

/// An order, as far as it was said.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// What was ordered.
    pub what: Item,
    /// From whom.
    pub from: Option<String>,
    /// The price as typed.
    pub price: Option<String>,
    /// When it is due, as typed.
    pub due: Option<String>,
}

/// Work given out of the house.
#[derive(Clone, Debug, PartialEq)]
pub struct Errand {
    /// The part.
    pub part: Name,
    /// To whom.
    pub to: Option<String>,
    /// What is to be done.
    pub work: Option<String>,
    /// When it is due back, as typed.
    pub due: Option<String>,
}

/// Where one hole or port sits on the face it is in.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// The hole or port.
    pub name: String,
    /// To the right, from the corner the line was measured from.
    pub x: quantity::Length,
    /// Up, from the same corner.
    pub y: quantity::Length,
}

/// Everything an entry can say.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// A part taken off, a joint undone, a hose or one of its ends taken off.
    Off {
        /// What came off.
        what: Vec<Name>,
        /// The kind of hose or lead, if it was said.
        run: Option<Run>,
        /// Fasteners, bag and the rest.
        details: Box<Details>,
        /// Whether the line began `new`.
        new: bool,
    },
    /// A part put back, a joint closed, a hose or end put on.
    On {
        /// What went back.
        what: Vec<Name>,
        /// The kind of hose or lead, if it was said.
        run: Option<Run>,
        /// Fasteners, seals and the rest.
        details: Box<Details>,
        /// Whether the line began `new`.
        new: bool,
    },
    /// Loosened, not off.
    Loosened {
        /// The part or joint.
        what: Name,
        /// The holes; none said means all.
        holes: Vec<String>,
        /// Whether the line began `new`.
        new: bool,
    },
    /// Moved aside, still connected.
    Aside {
        /// The parts.
        what: Vec<Name>,
        /// Where it rests and what is still on.
        note: Option<String>,
        /// Whether the line began `new`.
        new: bool,
    },
    /// Lifted away together.
    Lifted {
        /// The parts, the one that carries the others first.
        what: Vec<Name>,
        /// Where they lie.
        place: Option<Place>,
        /// Whether the line began `new`.
        new: bool,
    },
    /// Tightened.
    Tightened(Box<Tightening>),
    /// Measured.
    Measured(Measured),
    /// Drained.
    Drained(Flow),
    /// Filled.
    Filled(Flow),
    /// Cleaned.
    Cleaned {
        /// The part, face or hole.
        what: Name,
        /// How.
        note: Option<String>,
    },
    /// Fitted on trial, without counting as put back.
    TrialFitted {
        /// The part.
        what: Name,
        /// How it went.
        result: Option<String>,
    },
    /// Found again, or found where it should not be.
    Found {
        /// What was found.
        items: Vec<Item>,
        /// Where.
        place: Option<Place>,
    },
    /// Dropped, gone, not found.
    Lost {
        /// What is lost.
        items: Vec<Item>,
        /// Where it was last heard to fall.
        place: Option<Place>,
    },
    /// A part or fasteners exchanged for others.
    Replaced {
        /// The part or joint, where one was named.
        what: Option<Name>,
        /// The fasteners or seals, where they were named.
        items: Vec<Item>,
        /// What came in their place.
        with: Option<String>,
    },
    /// Ordered.
    Ordered(Box<Order>),
    /// Arrived.
    Arrived {
        /// What arrived.
        what: Item,
        /// What is to be said of it.
        note: Option<String>,
    },
    /// A new part laid beside the old one.
    Compared {
        /// The part.
        what: Name,
        /// Whether the two are alike in all that matters.
        alike: bool,
        /// What was seen.
        seen: Option<String>,
    },
    /// A fastener broke off in its hole.
    Broke {
        /// The part or joint.
        what: Name,
        /// The holes.
        holes: Vec<String>,
        /// What is left in there.
        left: Option<String>,
    },
    /// The stump of a broken fastener is out and the hole good again.
    Cleared {
        /// The part or joint.
        what: Name,
        /// The holes.
        holes: Vec<String>,
        /// How.
        how: Option<String>,
    },
    /// Sent out for work.
    SentOut(Errand),
    /// Back from work outside.
    Back {
        /// The part.
        what: Name,
        /// What was done or found.
        result: Option<String>,
    },
    /// Paid.
    Paid {
        /// The amount as typed: `140 EUR`.
        amount: String,
        /// To whom.
        to: Option<String>,
        /// For what.
        what: Option<String>,
    },
    /// Put in for the time being: rags, plugs, locking pins.
    PutIn {
        /// Where.
        place: Place,
        /// What.
        items: Vec<Item>,
    },
    /// Taken out again.
    TakenOut {
        /// Where.
        place: Place,
        /// What; nothing said means all that is in there.
        items: Vec<Item>,
    },
    /// Laid somewhere else.
    Stowed {
        /// The part.
        what: Name,
        /// Where it lies now.
        place: Place,
    },
    /// Photographed.
    Photographed(Box<Shot>),
    /// What a photo shows, said later.
    Captioned {
        /// The entry of the photo.
        photo: EntryId,
        /// What was said; the rest stays as it was.
        shot: Box<Shot>,
    },
    /// Photos that others may see, or may not.
    Shown {
        /// The entries of the photos.
        photos: Vec<EntryId>,
        /// Whether others may see them.
        show: bool,
        /// That they were looked through for plates and faces, and what was seen.
        looked: Option<String>,
    },
    /// Places pointed out on a photo.
    Marked {
        /// The entry of the photo.
        photo: EntryId,
        /// The places, in the order of their numbers.
        spots: Vec<Spotted>,
    },
    /// Where an earlier entry is seen on a film.
    Filmed {
        /// The entry.
        entry: EntryId,
        /// Where on the film.
        film: Film,
    },
    /// Where the holes of a joint or the ports of a part sit.
    Placed {
        /// The joint or part.
        what: Name,
        /// The holes or ports.
        spots: Vec<Spot>,
    },
    /// Noted.
    Noted {
        /// What it is about, if a known name stood before the colon.
        about: Option<Name>,
        /// The words.
        text: String,
    },
    /// A pair number put on an end and on the port it belongs to.
    Tagged {
        /// The number or letters on the tag.
        tag: String,
        /// The end.
        end: Name,
        /// The port, if it was said.
        port: Option<Name>,
    },
    /// A check done.
    Checked {
        /// The check.
        check: Name,
        /// What was seen.
        result: Option<String>,
    },
    /// Called something else from now on.
    Renamed {
        /// The old name.
        from: Name,
        /// The new name.
        to: Name,
    },
    /// Two names, one thing.
    SameAs {
        /// One name.
        one: Name,
        /// The other.
        other: Name,
    },
    /// An earlier entry said it wrong; this is what it should say.
    Corrected {
        /// The entry that is corrected.
        entry: EntryId,
        /// What it says now.
        act: Box<Act>,
    },
    /// An earlier entry is taken back.
    Undone {
        /// The entry; none said means the last of this person that is not taken back yet.
        entry: Option<EntryId>,
    },
    /// A closed gate passed all the same.
    GatePassed {
        /// The gate.
        gate: Name,
        /// Why.
        reason: String,
    },
    /// A variant chosen.
    Chosen {
        /// The variant.
        variant: Name,
        /// Its value.
        value: String,
    },
    /// The cause of a fault, found.
    Cause {
        /// The fault: `overheating`.
        of: Name,
        /// What caused it.
        found: String,
    },
}

impl Act {
    /// The kind of entry in one word, as the record keeps it.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Off { .. } => "off",
            Self::On { .. } => "on",
            Self::Loosened { .. } => "loose",
            Self::Aside { .. } => "aside",
            Self::Lifted { .. } => "lift",
            Self::Tightened(_) => "tight",
            Self::Measured(_) => "read",
            Self::Drained(_) => "drain",
            Self::Filled(_) => "fill",
            Self::Cleaned { .. } => "clean",
            Self::TrialFitted { .. } => "trial",
            Self::Found { .. } => "found",
            Self::Lost { .. } => "lost",
            Self::Replaced { .. } => "replaced",
            Self::Ordered(_) => "ordered",
            Self::Arrived { .. } => "arrived",
            Self::Compared { .. } => "compare",
            Self::Broke { .. } => "broke",
            Self::Cleared { .. } => "cleared",
            Self::SentOut(_) => "sent",
            Self::Back { .. } => "back",
            Self::Paid { .. } => "paid",
            Self::PutIn { .. } => "in",
            Self::TakenOut { .. } => "out",
            Self::Stowed { .. } => "stow",
            Self::Photographed(_) => "photo",
            Self::Captioned { .. } => "caption",
            Self::Shown { show: true, .. } => "show",
            Self::Shown { show: false, .. } => "hide",
            Self::Marked { .. } => "mark",
            Self::Filmed { .. } => "film",
            Self::Placed { .. } => "place",
            Self::Noted { .. } => "note",
            Self::Tagged { .. } => "tag",
            Self::Checked { .. } => "check",
            Self::Renamed { .. } => "rename",
            Self::SameAs { .. } => "same",
            Self::Corrected { .. } => "correct",
            Self::Undone { .. } => "undo",
            Self::GatePassed { .. } => "gate",
            Self::Chosen { .. } => "choose",
            Self::Cause { .. } => "cause",
        }
    }
}
