//! What a drawing shows, as plain data. Drawing it is the sheet's work.

use crate::verdict::Verdict;

/// A drawing that belongs to an answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Picture {
    /// The holes of a joint, seen square-on, with the order of tightening.
    Holes(Holes),
    /// One bar per cylinder, in the engine's own layout.
    Bars(Bars),
    /// Heights over a face, with contour lines.
    Contour(Contour),
    /// Work over days, one lane a person.
    Days(Days),
    /// Things and what joins them: what blocks what.
    Net(Net),
    /// Ends and their ports, a row a line.
    Board(Board),
    /// The engine bay from above: where the people stand and what is under their hands.
    Bay(Bay),
}

/// The engine bay from above, the bulkhead at the top.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bay {
    /// What the drawing is called.
    pub title: String,
    /// Whether the engine sits across: its drive end then lies to the left, else at the
    /// bottom, towards the radiator.
    pub across: bool,
    /// The banks of cylinders from the bulkhead forward, or from left to right.
    pub banks: Vec<String>,
    /// Who stands where.
    pub people: Vec<Stand>,
}

/// One of the people in the bay.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stand {
    /// The person.
    pub who: String,
    /// The zone as the book names it: `above`, `drive-end`, `under`, …
    pub zone: String,
    /// What is under the hands.
    pub has: String,
    /// The one who asks, drawn in paint.
    pub asks: bool,
}

/// The holes of a joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Holes {
    /// What the drawing is called.
    pub title: String,
    /// The holes.
    pub holes: Vec<HoleMark>,
    /// Whether the positions are measured; without that the drawing says *not to scale*.
    pub to_scale: bool,
    /// What lies to the left, with an arrow: `drive end`.
    pub left: String,
    /// What lies to the right.
    pub right: String,
}

/// One hole on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleMark {
    /// The name of the hole in the book.
    pub name: String,
    /// Position along the face in millimetres.
    pub x_mm: f64,
    /// Position across the face in millimetres, upward.
    pub y_mm: f64,
    /// Its number in the order of tightening, from 1.
    pub number: Option<usize>,
    /// Words beside it: the length and the thread.
    pub label: String,
    /// Already done in this stage.
    pub done: bool,
    /// The one in hand.
    pub in_hand: bool,
}

/// Bars in the engine's layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bars {
    /// What the drawing is called.
    pub title: String,
    /// Banks from the bulkhead forward; an inline engine has one.
    pub banks: Vec<BarBank>,
    /// The unit of the values, as written under the bars.
    pub unit: String,
    /// The limit line and whose it is.
    pub limit: Option<(f64, String)>,
}

/// One bank of cylinders.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BarBank {
    /// The bank's name.
    pub name: String,
    /// The bars, from the drive end.
    pub bars: Vec<Bar>,
}

/// One cylinder.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// The cylinder's name.
    pub name: String,
    /// The reading, in the unit of the drawing.
    pub value: Option<f64>,
    /// A second reading drawn as an open bar behind the first: wet, or before.
    pub other: Option<f64>,
    /// How the reading is written.
    pub shown: String,
    /// Its verdict.
    pub verdict: Option<Verdict>,
}

/// Heights over a face.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Contour {
    /// What the drawing is called.
    pub title: String,
    /// Measured points: x and y in millimetres, height above the lowest in micrometres.
    pub points: Vec<(f64, f64, f64)>,
    /// The step between contour lines in micrometres.
    pub step_um: f64,
}

/// Work over days.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Days {
    /// What the drawing is called.
    pub title: String,
    /// The days in order, as written: `Mon 2 Mar`.
    pub days: Vec<String>,
    /// One lane a person, bench or supplier.
    pub lanes: Vec<Lane>,
}

/// One lane of a day plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lane {
    /// Whose lane.
    pub name: String,
    /// What is done when.
    pub spans: Vec<DaySpan>,
}

/// One stretch of work or waiting.
#[derive(Clone, Debug, PartialEq)]
pub struct DaySpan {
    /// Start in days from the first midnight.
    pub from: f64,
    /// End in days from the first midnight.
    pub to: f64,
    /// What it is.
    pub label: String,
    /// Waiting (parts, machine shop, curing), drawn hatched.
    pub waiting: bool,
    /// Part of the chain that sets the finish, drawn heavy.
    pub sets_finish: bool,
}

/// Things and what joins them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Net {
    /// What the drawing is called.
    pub title: String,
    /// The columns things stand in, left to right: zones, or layers uncovered.
    pub columns: Vec<String>,
    /// The things.
    pub things: Vec<Thing>,
    /// What joins them.
    pub joins: Vec<Join>,
}

/// One thing on a net.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    /// Its id, unique on the drawing.
    pub id: String,
    /// Its words.
    pub label: String,
    /// Which column it stands in.
    pub column: usize,
    /// Drawn dashed: taken off, cut away, unknown.
    pub off: bool,
    /// Drawn in paint: the one that matters now.
    pub in_hand: bool,
}

/// One line between two things.
#[derive(Clone, Debug, PartialEq)]
pub struct Join {
    /// Its id, unique on the drawing.
    pub id: String,
    /// From which thing.
    pub from: String,
    /// To which thing.
    pub to: String,
    /// How it is drawn.
    pub stroke: Stroke,
    /// Words or a letter on it.
    pub label: String,
    /// An arrow at the far end.
    pub arrow: bool,
    /// Drawn in paint with a cross: a suspected exchange, a loose end.
    pub suspect: bool,
}

/// Line patterns by what runs in the line, readable without colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stroke {
    /// A plain line.
    Plain,
    /// Long dashes: coolant, letter C.
    LongDash,
    /// Dots: vacuum, letter V.
    Dots,
    /// Dash, dot: fuel, letter F.
    DashDot,
    /// Two lines: oil, letter O.
    Double,
    /// A thin line: signal wire, letter S.
    Thin,
    /// A thick line: ground or heavy current, letter G.
    Thick,
    /// Dash, dot, dot: crankcase, letter K.
    DashDotDot,
    /// Short dashes: purge vapour, letter P.
    ShortDash,
    /// A zigzag: ignition, letter I.
    Zigzag,
}

/// Ends and their ports, a row a line, gathered by what runs in them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Board {
    /// What the drawing is called.
    pub title: String,
    /// The rows, gathered.
    pub groups: Vec<BoardGroup>,
    /// Words to the ring letters, one line each.
    pub notes: Vec<String>,
}

/// The lines one medium runs in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BoardGroup {
    /// Its letter and name.
    pub name: String,
    /// The lines.
    pub rows: Vec<BoardRow>,
}

/// One line with its two ends.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardRow {
    /// Its id, unique on the drawing.
    pub id: String,
    /// Its letter and name.
    pub label: String,
    /// How it is drawn.
    pub stroke: Stroke,
    /// Its ends, left and right.
    pub ends: [BoardEnd; 2],
}

/// One end on a board.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardEnd {
    /// The end as the record writes it.
    pub name: String,
    /// The port it belongs on.
    pub port: String,
    /// Where that is.
    pub zone: String,
    /// What is written on its tag.
    pub tag: Option<String>,
    /// It hangs off its port: drawn short of it, in paint.
    pub loose: bool,
    /// Letters of the pairs it could change places in.
    pub rings: Vec<String>,
}
