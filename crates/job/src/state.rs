//! Where a job stands: what is off, what is in, what was found. Plain data, worked out by
//! replay and thrown away at will.

use std::collections::BTreeMap;

use book::{Book, CheckId, CircuitId, HoleName, Joint, JointId, LineId, PartId, Seal};
use report::Finding;

use crate::act::{Errand, Measured, Order};
use crate::entry::EntryId;
use crate::item::{Item, same_name};
use crate::names::Names;
use crate::shot::{FileHash, Film, Spotted};

/// The state of one job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    /// The book with everything met since: parts, joints, holes and lines that entries added.
    pub known: Book,
    /// Whether the job began from a book. Without one, new names are taken as they come.
    pub has_book: bool,
    /// Things first met in an entry, by id, with that entry.
    pub met: BTreeMap<String, EntryId>,
    /// Parts that were touched.
    pub parts: BTreeMap<PartId, PartState>,
    /// Joints that were touched.
    pub joints: BTreeMap<JointId, JointState>,
    /// Lines that were touched, with both ends.
    pub lines: BTreeMap<LineId, [EndState; 2]>,
    /// Circuits that were drained or filled.
    pub circuits: BTreeMap<CircuitId, CircuitState>,
    /// Holes with the stump of a broken fastener in them, and what was seen.
    pub broken: BTreeMap<(JointId, HoleName), (EntryId, Option<String>)>,
    /// What was put in for a while.
    pub temporaries: Vec<TemporaryIn>,
    /// What was lost.
    pub lost: Vec<Lost>,
    /// What was found and belongs to nothing that was lost.
    pub strays: Vec<(EntryId, Item, Option<String>)>,
    /// Readings, in order.
    pub readings: Vec<(EntryId, Measured)>,
    /// Orders.
    pub orders: Vec<Ordered>,
    /// Outside work.
    pub errands: Vec<OutsideErrand>,
    /// Payments.
    pub payments: Vec<Payment>,
    /// Photos.
    pub photos: Vec<Photo>,
    /// Where entries are seen on a film.
    pub films: BTreeMap<EntryId, Film>,
    /// Notes, with what they are about.
    pub notes: Vec<(EntryId, Option<String>, String)>,
    /// Tags: the pair number, the end and its port.
    pub tags: Vec<Tag>,
    /// Checks done, with what was seen.
    pub checks: BTreeMap<CheckId, (EntryId, Option<String>)>,
    /// What was cleaned.
    pub cleaned: Vec<(EntryId, String, Option<String>)>,
    /// Trial fits.
    pub trials: Vec<(EntryId, String, Option<String>)>,
    /// What was exchanged for something else.
    pub replacements: Vec<Replacement>,
    /// Closed gates that were passed, with the reason.
    pub passed: BTreeMap<String, (EntryId, String)>,
    /// Variants chosen.
    pub choices: BTreeMap<String, (EntryId, String)>,
    /// Causes found.
    pub causes: Vec<(EntryId, String, String)>,
    /// Entries that contradict the state, and what else entries gave rise to.
    pub findings: Vec<EntryFinding>,
    /// Every name that is known.
    pub names: Names,
    /// Names of two things with a history each that an entry called one thing. Only a replay
    /// from the start can make them one.
    pub(crate) one_thing: Vec<[String; 2]>,
    /// The last entry that was applied.
    pub last: Option<EntryId>,
}

/// A finding with the entry that gave rise to it.
#[derive(Clone, Debug, PartialEq)]
pub struct EntryFinding {
    /// The entry.
    pub entry: EntryId,
    /// Whether the entry contradicts the state and changed nothing.
    pub contradicts: bool,
    /// The finding.
    pub finding: Finding,
}

/// Where a part is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Where {
    /// In its place.
    #[default]
    Fitted,
    /// In its place, its fasteners loosened.
    Loosened,
    /// Out of the way, still connected.
    Aside,
    /// Taken away.
    Off,
}

impl Where {
    /// The word people use.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Fitted => "on",
            Self::Loosened => "loosened",
            Self::Aside => "moved aside",
            Self::Off => "off",
        }
    }
}

/// One part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PartState {
    /// Where it is.
    pub state: Where,
    /// The bag or shelf it lies in.
    pub place: Option<String>,
    /// The entry that brought it there.
    pub since: EntryId,
    /// The part it came away with.
    pub with: Option<PartId>,
    /// Whether it was off at some time in this job.
    pub was_off: bool,
    /// Whether it was exchanged for another one since it came off.
    pub renewed: bool,
    /// The entry in which a new one arrived that has not gone on yet.
    pub arrived: Option<EntryId>,
    /// That the new one was laid beside the old one, and what was seen.
    pub compared: Option<(EntryId, Option<String>)>,
    /// Whether it was then found to be unlike.
    pub unlike: bool,
}

/// One joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JointState {
    /// Whether its fasteners were taken out and the joint not closed since.
    pub open: bool,
    /// Whether it was opened at some time in this job.
    pub was_open: bool,
    /// The bag its fasteners lie in.
    pub place: Option<String>,
    /// Its holes that were touched.
    pub holes: BTreeMap<HoleName, HoleState>,
    /// What came out and cannot be told hole by hole.
    pub unplaced_out: Vec<Item>,
    /// What went back and cannot be told hole by hole.
    pub unplaced_back: Vec<Item>,
    /// Seals put in since it was last opened, new ones counted.
    pub seals: Vec<Item>,
    /// The entry that opened or closed it last.
    pub since: EntryId,
}

/// One hole.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HoleState {
    /// Whether nothing is in it now.
    pub empty: bool,
    /// What came out of it last, as it was said or as the book has it.
    pub came_out: Option<Item>,
    /// Whether an entry counted what came out, rather than the book alone.
    pub counted: bool,
    /// What was put into it since, as it was said.
    pub inside: Option<Item>,
    /// Whether what was in it broke: it cannot go back.
    pub broke: bool,
    /// A new one in place of what came out, not put in yet.
    pub ready: Option<Item>,
    /// Washers, sleeves and spacers that came out of it and are not back.
    pub out_with: Vec<Item>,
    /// Washers, sleeves and spacers that went in and did not come out of it.
    pub in_with: Vec<Item>,
    /// Tightenings since it was filled.
    pub tightened: Vec<TightDone>,
    /// Whether it was loosened since it was last tightened.
    pub loosened: bool,
    /// The entry that loosened it after it had been tightened, since it was filled.
    pub loosened_by: Option<EntryId>,
    /// The entry that changed it last.
    pub since: EntryId,
}

impl JointState {
    /// How many new seals of a kind were put in since it was last opened. Where the joint has
    /// one kind only, any name will do.
    #[must_use]
    pub fn new_seals(&self, joint: &Joint, seal: &Seal) -> u32 {
        let only_one = joint.seals.len() == 1;
        self.seals
            .iter()
            .filter(|item| item.new != Some(false))
            .filter(|item| only_one || same_name(&item.name, &seal.what))
            .map(|item| item.count)
            .sum()
    }
}

impl HoleState {
    /// Whether a new fastener is in it.
    #[must_use]
    pub fn holds_new(&self) -> bool {
        let inside = self.inside.as_ref().or(self.came_out.as_ref());
        !self.empty && inside.is_some_and(|item| item.new == Some(true))
    }

    /// Whether a new fastener is in it, or lies ready for it.
    #[must_use]
    pub fn renewed(&self) -> bool {
        self.ready.is_some() || self.holds_new()
    }

    /// Whether something that came out of it is not back: its fastener, or what goes with it.
    #[must_use]
    pub fn lacks(&self) -> bool {
        self.empty || !self.out_with.is_empty()
    }

    /// The highest stage reached since it was filled, 0 for none.
    #[must_use]
    pub fn stage(&self) -> u32 {
        self.tightened
            .iter()
            .map(|done| done.stage)
            .max()
            .unwrap_or(0)
    }
}

/// One tightening of one hole.
#[derive(Clone, Debug, PartialEq)]
pub struct TightDone {
    /// The stage, from 1.
    pub stage: u32,
    /// The figure as typed.
    pub figure: Option<String>,
    /// The wrench.
    pub wrench: Option<String>,
    /// The condition of the threads as said.
    pub condition: Option<String>,
    /// Who did it.
    pub by: String,
    /// When, in microseconds since 1970-01-01T00:00Z.
    pub at: i64,
    /// The entry.
    pub entry: EntryId,
}

/// One end of a line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EndState {
    /// Whether it is off its port.
    pub off: bool,
    /// The entry that changed it last.
    pub since: EntryId,
}

/// One circuit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CircuitState {
    /// Every entry that drained it, since the job began.
    pub drains: Vec<EntryId>,
    /// What was drained, in cubic metres where it was said, with the entry.
    pub drained: Vec<(EntryId, Option<quantity::Volume>)>,
    /// What was filled since it was last drained.
    pub filled: Vec<(EntryId, Option<quantity::Volume>)>,
}

impl CircuitState {
    /// Whether liquid is out. It is full again when something was filled without an amount,
    /// or at least as much as came out.
    #[must_use]
    pub fn is_short(&self) -> bool {
        if self.drained.is_empty() {
            return false;
        }
        let sum = |flows: &[(EntryId, Option<quantity::Volume>)]| -> Option<f64> {
            use quantity::Quantity as _;
            flows
                .iter()
                .map(|(_, amount)| amount.map(quantity::Volume::si))
                .sum()
        };
        match (sum(&self.drained), sum(&self.filled)) {
            _ if self.filled.is_empty() => true,
            // A tenth of a litre is within what a measuring jug tells apart.
            (Some(out), Some(back)) => back < out - 1e-4,
            // Drained without an amount and filled with one: full only when that was said.
            (None, Some(_)) => true,
            (_, None) => false,
        }
    }
}

/// Something put in for a while.
#[derive(Clone, Debug, PartialEq)]
pub struct TemporaryIn {
    /// What, and how many are still in.
    pub item: Item,
    /// Where.
    pub place: String,
    /// The entry that put it in.
    pub since: EntryId,
}

/// Something lost and not found yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Lost {
    /// What, and how many are still lost.
    pub item: Item,
    /// Where it was heard to fall.
    pub place: Option<String>,
    /// The entry.
    pub since: EntryId,
}

/// An order and whether it came.
#[derive(Clone, Debug, PartialEq)]
pub struct Ordered {
    /// The order.
    pub order: Order,
    /// The entry.
    pub since: EntryId,
    /// How many came.
    pub arrived: u32,
}

/// A part given out, and whether it is back.
#[derive(Clone, Debug, PartialEq)]
pub struct OutsideErrand {
    /// The errand.
    pub errand: Errand,
    /// The part, where the name is known.
    pub part: Option<PartId>,
    /// The entry.
    pub since: EntryId,
    /// The entry that brought it back, with the result.
    pub back: Option<(EntryId, Option<String>)>,
}

/// Money paid.
#[derive(Clone, Debug, PartialEq)]
pub struct Payment {
    /// The entry.
    pub entry: EntryId,
    /// The amount as typed.
    pub amount: String,
    /// To whom.
    pub to: Option<String>,
    /// For what.
    pub what: Option<String>,
}

/// A photo.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// The entry.
    pub entry: EntryId,
    /// The number or name the camera gave it.
    pub photo: Option<String>,
    /// Its bytes in the job folder.
    pub file: Option<FileHash>,
    /// What it shows, as typed.
    pub of: Option<String>,
    /// The hole it shows, as typed.
    pub hole: Option<String>,
    /// The entry it shows, such as a reading.
    pub of_entry: Option<EntryId>,
    /// Its bag.
    pub place: Option<String>,
    /// Its caption.
    pub note: Option<String>,
    /// Whether others may see it.
    pub show: bool,
    /// That it was looked through for plates and faces, and what was seen.
    pub looked: Option<String>,
    /// Places pointed out on it, in the order of their numbers.
    pub spots: Vec<Spotted>,
}

impl Photo {
    /// Whether nothing says what it shows: neither a name nor a caption.
    #[must_use]
    pub fn is_wordless(&self) -> bool {
        self.of.is_none() && self.of_entry.is_none() && self.note.is_none()
    }
}

/// A tag.
#[derive(Clone, Debug, PartialEq)]
pub struct Tag {
    /// The entry.
    pub entry: EntryId,
    /// What is written on it.
    pub tag: String,
    /// The line and which of its ends.
    pub end: Option<(LineId, usize)>,
    /// The end as typed.
    pub end_typed: String,
    /// The port as typed.
    pub port: Option<String>,
}

/// Something exchanged.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    /// The entry.
    pub entry: EntryId,
    /// The part or joint as typed.
    pub what: Option<String>,
    /// The fasteners or seals.
    pub items: Vec<Item>,
    /// What came in its place.
    pub with: Option<String>,
}

impl State {
    /// Whether anything is off or open, so that there is a way back.
    #[must_use]
    pub fn taken_apart(&self) -> bool {
        let off = |part: &PartState| matches!(part.state, Where::Off | Where::Aside);
        self.parts.values().any(off) || self.joints.values().any(|joint| joint.open)
    }

    /// The state before the first entry: everything in its place.
    #[must_use]
    pub fn new(book: Option<&Book>) -> Self {
        let known = book.cloned().unwrap_or_default();
        Self {
            has_book: book.is_some(),
            names: Names::of(&known),
            known,
            ..Self::default()
        }
    }

    /// Whether something exists under the variants chosen. Unchosen counts as existing.
    #[must_use]
    pub fn applies(&self, when: &book::When) -> bool {
        when.all.iter().all(|(variant, value)| {
            self.choices
                .get(variant.as_str())
                .is_none_or(|(_, chosen)| chosen == value)
        })
    }

    /// Where a part is.
    #[must_use]
    pub fn whereabouts(&self, part: &PartId) -> Where {
        self.parts
            .get(part)
            .map_or(Where::Fitted, |held| held.state)
    }

    /// What a reader calls a part: its label, else its id.
    #[must_use]
    pub fn part_label(&self, id: &PartId) -> String {
        let label = self.known.part(id).and_then(|part| part.label.clone());
        label.unwrap_or_else(|| id.to_string())
    }

    /// What a reader calls a joint: its label, else the part it holds.
    #[must_use]
    pub fn joint_label(&self, id: &JointId) -> String {
        match self.known.joint(id) {
            Some(joint) if joint.label.is_some() => joint.label.clone().unwrap_or_default(),
            Some(joint) if self.known.joints_of(&joint.of).count() == 1 => {
                self.part_label(&joint.of)
            }
            Some(_) | None => id.to_string(),
        }
    }

    /// What a reader calls a line.
    #[must_use]
    pub fn line_label(&self, id: &LineId) -> String {
        let label = self.known.line(id).and_then(|line| line.label.clone());
        label.unwrap_or_else(|| id.to_string())
    }
}
