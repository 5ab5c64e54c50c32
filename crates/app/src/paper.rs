//! The papers of a job: which there are, and each as plain data for the press.
//!
//! A paper reads the report of its question, as every surface does, and computes nothing.
//! Making a PDF of it is the press's business, writing it into a file [`crate::print`]'s.

mod tags;
mod tightening;
mod bolt_card;
mod ends;
mod buying;
mod job_sheet;
mod machine_shop;
mod start;
mod proof;

#[cfg(test)]
mod tests;

use book::{Date, Joint, JointId};
use quantity::Duration;
use report::{Cell, Finding, Report, Row, Weight};
use sheet::paper::{Block, Body, Paper, Reading, Size, Stock};

use crate::document::Told;
use crate::folder::Folder;

/// A paper that can be printed, in the order of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// Tags in pairs and bag labels.
    Tags,
    /// What to order, and by when.
    Buying,
    /// The acts of the day.
    JobSheet,
    /// Every end with its port.
    Ends,
    /// The holes of a joint by measure.
    BoltCard,
    /// What goes to the machine shop.
    MachineShop,
    /// A box for each bolt and stage.
    Tightening,
    /// The first start, by the clock.
    Start,
    /// Before and after.
    Proof,
    /// The whole job, for its own people.
    Account,
    /// The whole job, for the next person.
    HowTo,
}

impl What {
    /// Every paper.
    pub const ALL: [Self; 11] = [
        Self::Tags,
        Self::Buying,
        Self::JobSheet,
        Self::Ends,
        Self::BoltCard,
        Self::MachineShop,
        Self::Tightening,
        Self::Start,
        Self::Proof,
        Self::Account,
        Self::HowTo,
    ];

    /// The word a person types.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tags => "tags",
            Self::Buying => "buying",
            Self::JobSheet => "job-sheet",
            Self::Ends => "ends",
            Self::BoltCard => "bolt-card",
            Self::MachineShop => "machine-shop",
            Self::Tightening => "tightening",
            Self::Start => "start",
            Self::Proof => "proof",
            Self::Account => "account",
            Self::HowTo => "how-to",
        }
    }

    /// What it is, in one line.
    #[must_use]
    pub const fn says(self) -> &'static str {
        match self {
            Self::Tags => "tags in pairs and bag labels, to be stuck on before anything comes off",
            Self::Buying => "what to buy, with a box for each and the day it is needed",
            Self::JobSheet => {
                "the acts of the day with a box each, what to lay out and what to set"
            }
            Self::Ends => "every hose, lead and plug with the port it belongs on",
            Self::BoltCard => "the holes of a joint at full scale, to push its bolts through",
            Self::MachineShop => "what goes out with a head or block, with room for the answers",
            Self::Tightening => "what to set, and a box for each bolt and stage",
            Self::Start => "the first start by the clock, and when to stop at once",
            Self::Proof => "every test before and after",
            Self::Account => {
                "the whole job with photos, verdicts, costs and hours, for its own people"
            }
            Self::HowTo => {
                "the job told by its layers for the next person, without names and places"
            }
        }
    }

    /// Reads the word.
    #[must_use]
    pub fn read(word: &str) -> Option<Self> {
        let typed = word.trim().to_lowercase().replace([' ', '_'], "-");
        Self::ALL.into_iter().find(|what| what.word() == typed)
    }
}

/// What every paper is made from.
#[derive(Clone, Debug)]
pub struct Wish<'a> {
    /// The job.
    pub folder: &'a Folder,
    /// Now, in microseconds since 1970-01-01T00:00Z: ages wrenches, begins calendars.
    pub now_micros: i64,
    /// The day that stands on the paper.
    pub day: Date,
    /// The sheet in the printer.
    pub size: Size,
    /// Joints to print a card or a tightening sheet of; none: those of the job.
    pub joints: Vec<JointId>,
    /// What is to be got at, where nothing is off yet.
    pub targets: Vec<String>,
    /// The sheet the labels come on; none: plain paper to be cut.
    pub stock: Option<Stock>,
    /// Labels used up already on the first sheet.
    pub skip: usize,
    /// Where the pages of this job are served, for the square of dots on a label.
    pub address: Option<String>,
    /// Millimetres on paper for a millimetre on the part.
    pub scale: f64,
    /// Who is at work, for job sheets; nobody: those who are there next by the shop file.
    pub at_work: Vec<String>,
    /// How long they are there; nothing: as the shop file has it.
    pub hours: Option<Duration>,
}

/// The papers of a kind, or why there is none.
///
/// # Errors
/// The finding says what is missing and how to come by it.
pub fn papers(what: What, wish: &Wish<'_>) -> Result<Vec<Paper>, Box<Finding>> {
    match what {
        What::Tags => tags::of(wish).map(only),
        What::Buying => buying::of(wish).map(only),
        What::JobSheet => job_sheet::of(wish),
        What::Ends => ends::of(wish).map(only),
        What::BoltCard => bolt_card::of(wish),
        What::MachineShop => machine_shop::of(wish),
        What::Tightening => tightening::of(wish).map(only),
        What::Start => start::of(wish).map(only),
        What::Proof => proof::of(wish).map(only),
        What::Account => told(what, crate::account::account(wish.folder, wish.now_micros)),
        What::HowTo => told(what, crate::howto::howto(wish.folder, wish.now_micros)),
    }
}

/// A question that is answered as a paper already.
fn told(what: What, told: Told) -> Result<Vec<Paper>, Box<Finding>> {
    told.paper
        .map(only)
        .ok_or_else(|| refused(what, &told.report))
}

fn only(paper: Paper) -> Vec<Paper> {
    vec![paper]
}

impl Wish<'_> {
    /// A paper of this job.
    fn paper(&self, name: impl Into<String>, title: impl Into<String>, body: Body) -> Paper {
        let book = &self.folder.state.known;
        Paper {
            name: name.into(),
            title: title.into(),
            job: self.job(),
            day: self.day,
            warning: book.invented.then(|| {
                "Everything in this book is invented. Never work on a real engine by it.".to_owned()
            }),
            body,
        }
    }

    /// A flowing paper of this job.
    fn pages(
        &self,
        what: What,
        title: impl Into<String>,
        reading: Reading,
        blocks: Vec<Block>,
    ) -> Paper {
        self.paper(what.word(), title, Body::Pages(reading, blocks))
    }

    /// What the job is called: the book's title, else its folder.
    fn job(&self) -> String {
        let title = self.folder.state.known.title.clone();
        title.unwrap_or_else(|| {
            let path = self.folder.path();
            let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
            path.file_name().map_or_else(
                || "This job".to_owned(),
                |name| name.to_string_lossy().into_owned(),
            )
        })
    }

    /// The joints asked for, or those of the job that a test lets through, in book order.
    fn joints(&self, or: impl Fn(&Joint) -> bool) -> Vec<&Joint> {
        let joints = self.folder.state.known.joints.iter();
        let state = &self.folder.state;
        joints
            .filter(|joint| state.applies(&joint.when))
            .filter(|joint| {
                if self.joints.is_empty() {
                    or(joint)
                } else {
                    self.joints.contains(&joint.id)
                }
            })
            .collect()
    }
}

/// Why there is no such paper, and what to do about it.
fn nothing(what: What, says: &str, next: &str) -> Box<Finding> {
    Box::new(
        Finding::new("nothing-to-print", what.word(), says)
            .next(next)
            .weight(Weight::Note),
    )
}

/// What a refused report says, as the reason why there is no paper.
fn refused(what: What, report: &Report) -> Box<Finding> {
    let first = report.findings.first();
    let says = first.map_or_else(
        || report.headline.clone().unwrap_or_default(),
        |finding| finding.says.clone(),
    );
    let next = first.and_then(|finding| finding.next.clone());
    nothing(
        what,
        &says,
        next.as_deref().unwrap_or("say what is missing"),
    )
}

/// The words of a cell.
fn text(report: &Report, row: &Row, key: &str) -> String {
    match report.rows.cell(row, key) {
        Some(Cell::Text(text) | Cell::Number(_, text)) => text.clone(),
        Some(Cell::Figure(figure)) => figure.shown.clone(),
        Some(Cell::None | Cell::Verdict(_) | Cell::List(_) | Cell::Flag(_)) | None => String::new(),
    }
}
