//! Papers as plain data: what is to be printed, before anyone says how.
//!
//! Whoever has something to say fills a [`Paper`]; the press makes a PDF of it. Nothing here
//! knows a page break or a typeface, and nothing here computes an answer.

mod answer;
mod card;
mod label;

pub use answer::{answer, told};
pub use card::{Card, CardHole, Towards};
pub use label::{Label, Labels, Stock, StockFault};

use book::Date;
use job::Sign;
use report::{Align, Caution, Cell, Column, Finding, Picture, Table, Verdict};

/// The sheet the printer holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Size {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8½ × 11 in, which is 215.9 × 279.4 mm.
    Letter,
}

impl Size {
    /// Width and height in millimetres, upright.
    #[must_use]
    pub const fn mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    /// The word a person types.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }

    /// Reads the word.
    #[must_use]
    pub fn read(word: &str) -> Option<Self> {
        [Self::A4, Self::Letter]
            .into_iter()
            .find(|size| size.word().eq_ignore_ascii_case(word.trim()))
    }
}

/// One thing to print.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// What its file is called, without ending: `tightening-head-bolts`.
    pub name: String,
    /// What it is, for a person: `Tightening, head bolts`.
    pub title: String,
    /// Which job it belongs to; stands at the foot of every page.
    pub job: String,
    /// The day it was written; stands at the foot and in the file's own record.
    pub day: Date,
    /// What must stand at the head of every page: that the book is invented.
    pub warning: Option<String>,
    /// What is on it.
    pub body: Body,
}

/// The three ways a paper is laid.
#[derive(Clone, Debug, PartialEq)]
pub enum Body {
    /// Text that flows over pages, large enough for a fender or for a desk.
    Pages(Reading, Vec<Block>),
    /// Labels on a sheet of them, or to be cut out.
    Labels(Labels),
    /// The holes of a joint by measure.
    Card(Card),
}

/// From how far a paper is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reading {
    /// At arm's length, through a film of oil.
    Fender,
    /// At a desk.
    #[default]
    Desk,
}

/// One block of a flowing paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading, which is also a bookmark; 1 is the highest. None is skipped on the way down.
    Heading(u8, String),
    /// A heading of the highest level and what belongs under it, kept together on a page where
    /// one page holds it.
    Chapter(String, Vec<Block>),
    /// The chapters with their pages. Forms without pages have their own list of chapters.
    Contents,
    /// A paragraph.
    Words(String),
    /// A paragraph in small print.
    Small(String),
    /// How it came out, and the sentence that says so.
    Outcome(Option<Verdict>, String),
    /// Figures between rules, read at a glance.
    Figures(Vec<Shown>),
    /// Rows under headings.
    Rows(Table),
    /// Rows under headings, each with a box to tick before it.
    TickRows(Table),
    /// Lines with a point before them.
    List(Vec<String>),
    /// Lines with a box to tick before them.
    Boxes(Vec<Tick>),
    /// Acts in their order, each with a box.
    Acts(Vec<Act>),
    /// A box for each bolt and stage.
    Pulls(Pulls),
    /// A drawing, and words that tell it to someone who does not see it.
    Drawing {
        /// What is drawn.
        picture: Picture,
        /// What it shows, in words.
        told: String,
    },
    /// A photograph.
    Photo(Photo),
    /// Something noticed.
    Noticed(Finding),
    /// Care to take.
    Care(Caution),
    /// Lines in a margin of paint: a last chance, a pitfall.
    Margin(Margin),
    /// Two things side by side: the way taken and the good way.
    Beside(Vec<Block>, Vec<Block>),
    /// Empty lines to write on, after a word for what belongs there.
    Write(String, u8),
    /// What follows begins on a new page.
    NewPage,
}

/// The rows of a table with an empty box before each, for forms that draw no boxes themselves.
pub(crate) fn with_boxes(table: &Table) -> Table {
    let mut boxed = table.clone();
    boxed.columns.insert(
        0,
        Column {
            key: "done",
            heading: "done",
            align: Align::Left,
        },
    );
    for row in &mut boxed.rows {
        row.insert(0, Cell::Text("☐".to_owned()));
    }
    boxed
}

/// A figure as it is shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shown {
    /// What it is.
    pub label: String,
    /// The figure with its unit.
    pub shown: String,
    /// A short line beside it.
    pub note: Option<String>,
}

/// A line with a box.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tick {
    /// What is ticked off.
    pub says: String,
    /// What stands at the end of the line, such as a count or a price.
    pub end: Option<String>,
    /// Ticked already, by the record.
    pub done: bool,
}

/// One act of a job sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Act {
    /// Its number on the sheet or its name: `3`.
    pub number: String,
    /// What is done: `undo runners-to-head, bulkhead bank`.
    pub says: String,
    /// Where one stands: `above`.
    pub place: Option<String>,
    /// What is needed, and how long it takes: `13 mm, long extension`; `25 min`.
    pub with: Vec<String>,
    /// Why it comes now, in one line.
    pub why: Option<String>,
    /// The figures of it: settings, lengths.
    pub figures: Vec<Shown>,
    /// Care to take at this act.
    pub cautions: Vec<Caution>,
    /// What keeps it from being done as it stands: a figure nobody wrote down.
    pub noticed: Vec<Finding>,
    /// What it is about to cover and nobody confirmed.
    pub last_chance: Vec<String>,
    /// Done already, by the record.
    pub done: bool,
}

/// A box for each bolt and stage.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pulls {
    /// The stages, in their order, as columns.
    pub stages: Vec<PullStage>,
    /// The bolts, in their turn, as rows.
    pub bolts: Vec<PullBolt>,
}

/// One stage over the bolts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PullStage {
    /// `stage 1`.
    pub name: String,
    /// What is set or turned: `22 lbf·ft`, `90°`.
    pub setting: String,
    /// The book's own figure where another one is set on the wrench: `30 N·m`.
    pub figure: String,
    /// With what.
    pub wrench: String,
}

/// One bolt over the stages.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PullBolt {
    /// Its turn.
    pub number: usize,
    /// The hole.
    pub hole: String,
    /// Thread and length.
    pub label: String,
    /// For each stage: `None`, it has no such stage; otherwise whether it had it already.
    pub had: Vec<Option<bool>>,
}

/// A photograph with places marked on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Photo {
    /// A JPEG or PNG file, upright.
    pub bytes: Vec<u8>,
    /// How many pixels it is wide.
    pub width: u32,
    /// How many pixels it is high.
    pub height: u32,
    /// What it shows, in words, for someone who does not see it. Never empty.
    pub told: String,
    /// The line under it.
    pub caption: String,
    /// Places on it, numbered in this order.
    pub marks: Vec<Mark>,
}

/// A place on a photograph.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mark {
    /// How it is pointed out.
    pub sign: Sign,
    /// From the left edge, as a share of the width: 0 to 1.
    pub across: f64,
    /// From the top edge, as a share of the height: 0 to 1.
    pub down: f64,
    /// How wide a ring is, as a share of the width.
    pub wide: Option<f64>,
    /// What is there; empty where the sign says all.
    pub says: String,
}

/// Lines in a margin of paint.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Margin {
    /// What it is: `Last chance before the loom tray`.
    pub heading: String,
    /// Its lines.
    pub lines: Vec<String>,
}

impl Tick {
    /// A line to be ticked off.
    #[must_use]
    pub fn new(says: impl Into<String>) -> Self {
        Self {
            says: says.into(),
            ..Self::default()
        }
    }
}

impl Shown {
    /// A figure with its label.
    #[must_use]
    pub fn new(label: impl Into<String>, shown: impl Into<String>) -> Self {
        Self {
            label: label.into(),
            shown: shown.into(),
            note: None,
        }
    }
}

impl From<&report::Figure> for Shown {
    fn from(figure: &report::Figure) -> Self {
        Self {
            label: figure.label.clone(),
            shown: figure.shown.clone(),
            note: figure.note.clone(),
        }
    }
}
