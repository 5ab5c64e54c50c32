//! A bolt card: the holes of a joint by measure, so that each bolt waits in its own place.

/// The card of one joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Card {
    /// The joint.
    pub joint: String,
    /// Its holes.
    pub holes: Vec<CardHole>,
    /// Whether the positions are measured; without that the card says *not to scale* and its
    /// holes stand in rows.
    pub measured: bool,
    /// Millimetres on paper for a millimetre on the part: 1 is full size.
    pub scale: f64,
    /// Which way the drive end lies, where the book or the record says it.
    pub drive_end: Option<Towards>,
}

/// One hole of a card.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CardHole {
    /// Its name.
    pub name: String,
    /// To the right, in millimetres on the part.
    pub x_mm: f64,
    /// Up, in millimetres on the part.
    pub y_mm: f64,
    /// Width of the thread in millimetres, where it is known: the ring drawn round the cross.
    pub thread_mm: Option<f64>,
    /// Its turn in tightening.
    pub number: Option<usize>,
    /// The lines beside it: length, thread, washer, a note.
    pub lines: Vec<String>,
}

/// A side of the card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Towards {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Upward.
    Up,
    /// Downward.
    Down,
}
