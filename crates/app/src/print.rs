//! Printing: which papers were asked for, each pressed and written into a file.
//!
//! What stands on a paper is [`crate::paper`]'s business. The press is handed in: a program
//! built without one knows the papers by name and says how to come by it.

mod earlier;

use std::fs;
use std::path::{Path, PathBuf};

use book::{Date, JointId, Units};
use quantity::Duration;
use report::{Align, Cell, Figure, Finding, Report, Table, Weight};
use sheet::paper::{Paper, Size, Stock};

use crate::folder::Folder;
use crate::option::Options;
use crate::paper::{What, Wish, papers};
use crate::{tighten, torque};

#[cfg(test)]
mod tests;

const COMMAND: &str = "print";
const TITLE: &str = "Papers";

/// The folder papers are written into where nobody says, inside the folder of the job.
const PAPERS: &str = "papers";

/// By this a file is known as one of ours: it stands in every PDF we write.
const OURS: &[u8] = b"<xmp:CreatorTool>matchmark";

/// A paper as it came from the press.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pressed {
    /// The file.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
}

/// Makes a PDF of a paper, or says in one sentence why not.
pub type Press = fn(&Paper, Size) -> Result<Pressed, String>;

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Which papers.
    pub what: Vec<String>,
    /// Every paper.
    pub all: bool,
    /// The folder to write into.
    pub out: Option<PathBuf>,
    /// The sheet in the printer: `a4`, `letter`.
    pub paper: Option<String>,
    /// Joints, for cards and tightening sheets.
    pub of: Vec<String>,
    /// What is to be got at, where nothing is off yet.
    pub targets: Vec<String>,
    /// The labels, by their measures: `63.5x38.1`; `plain` is paper to be cut.
    pub labels: Option<String>,
    /// Labels used up already on the first sheet.
    pub skip: usize,
    /// Where the pages of this job are served.
    pub address: Option<String>,
    /// The scale of a card: `1:2`.
    pub scale: Option<String>,
    /// Who is at work, for job sheets.
    pub at_work: Vec<String>,
    /// How long they are there: `3 h`.
    pub hours: Option<String>,
    /// The entry after which the job is looked at.
    pub at: Option<u64>,
    /// Now, in microseconds since 1970-01-01T00:00Z.
    pub now_micros: i64,
}

/// Prints what was asked for; asked for nothing, lists what there is.
#[must_use]
pub fn print(folder: &mut Folder, asked: &Asked, press: Option<Press>) -> Report {
    let mut options = Options::of(COMMAND);
    let which = which(asked, &mut options);
    let joints = joints(folder, asked, &mut options);
    let size = size(folder, asked.paper.as_deref(), &mut options);
    let stock = stock(asked, size, &mut options);
    let scale = scale(asked, &mut options);
    let hours = hours(asked, &mut options);
    let now_micros = match asked.at {
        Some(entry) => look_back(folder, entry, &mut options).unwrap_or(asked.now_micros),
        None => asked.now_micros,
    };
    let day = day(now_micros, &mut options);
    let Some(day) = day.filter(|_| options.clean()) else {
        return options.refusal(TITLE);
    };
    if which.is_empty() {
        return listed(press.is_some());
    }
    let Some(press) = press else {
        return no_press();
    };
    let wish = Wish {
        folder,
        now_micros,
        day,
        size,
        joints,
        targets: asked.targets.clone(),
        stock,
        skip: asked.skip,
        address: asked.address.clone(),
        scale,
        at_work: asked.at_work.clone(),
        hours,
    };
    let out = asked
        .out
        .clone()
        .unwrap_or_else(|| wish.folder.path().join(PAPERS));
    let mut report = Report::new(COMMAND, TITLE);
    let mut ready = Vec::new();
    for what in which {
        match papers(what, &wish) {
            Ok(papers) => ready.extend(papers),
            Err(finding) => match earlier::papers(what, &wish).filter(|_| asked.all) {
                Some((papers, says)) => {
                    ready.extend(papers);
                    report.findings.push(says);
                }
                None => report.findings.push(*finding),
            },
        }
    }
    written(report, &ready, size, &out, press)
}

/// The papers named, in the order of a job, each once.
fn which(asked: &Asked, options: &mut Options) -> Vec<What> {
    let mut which = Vec::new();
    for word in &asked.what {
        match What::read(word) {
            Some(what) => which.push(what),
            None => {
                let known: Vec<&str> = What::ALL.iter().map(|what| what.word()).collect();
                options.fault(
                    "WHAT",
                    format!("there is no paper called `{word}`"),
                    format!("one of {}; or --all", known.join(", ")),
                );
            }
        }
    }
    if asked.all {
        return What::ALL.to_vec();
    }
    which.sort_unstable();
    which.dedup();
    which
}

fn day(now_micros: i64, options: &mut Options) -> Option<Date> {
    let day = torque::day(now_micros);
    if day.is_none() {
        options.fault("clock", "the clock is outside the calendar", "set it");
    }
    day
}

fn joints(folder: &Folder, asked: &Asked, options: &mut Options) -> Vec<JointId> {
    let mut joints = Vec::new();
    for name in &asked.of {
        match tighten::joint(folder, name) {
            Ok(joint) => joints.push(joint),
            Err(finding) => options.fault(
                "--of",
                finding.says.clone(),
                finding.next.clone().unwrap_or_default(),
            ),
        }
    }
    joints
}

/// The sheet asked for; else the one that goes with the units of the book.
pub(crate) fn size(folder: &Folder, typed: Option<&str>, options: &mut Options) -> Size {
    let Some(typed) = typed else {
        return match folder.state.known.units {
            Units::Metric => Size::A4,
            Units::Inch => Size::Letter,
        };
    };
    Size::read(typed).unwrap_or_else(|| {
        let says = format!("`{typed}` is no sheet this can print on");
        options.fault("--paper", says, "a4 or letter");
        Size::A4
    })
}

fn stock(asked: &Asked, size: Size, options: &mut Options) -> Option<Stock> {
    let typed = asked.labels.as_deref()?;
    let stock = if typed.eq_ignore_ascii_case("plain") {
        Stock::plain(size)
    } else {
        match Stock::read(typed) {
            Ok(stock) => stock,
            Err(fault) => {
                let known = Stock::known().join(", ");
                options.fault("--labels", fault.to_string(), format!("plain, {known}"));
                return None;
            }
        }
    };
    if asked.skip >= stock.count() {
        options.fault(
            "--skip",
            format!("a sheet has {} labels", stock.count()),
            "say how many of them are gone, from the top left",
        );
    }
    Some(stock)
}

/// `1`, `1:2`, `2:1`: paper to part.
fn scale(asked: &Asked, options: &mut Options) -> f64 {
    let Some(typed) = &asked.scale else {
        return 1.0;
    };
    let number = |text: &str| text.trim().parse::<f64>().ok().filter(|it| *it > 0.0);
    let scale = match typed.split_once(':') {
        Some((paper, part)) => number(paper).zip(number(part)).map(|(it, of)| it / of),
        None => number(typed),
    };
    scale
        .filter(|scale| (0.05..=4.0).contains(scale))
        .unwrap_or_else(|| {
            let says = format!("`{typed}` is no scale between 1:20 and 4:1");
            options.fault("--scale", says, "such as 1:1, 1:2 or 0.5");
            1.0
        })
}

/// How long the people at work are there.
fn hours(asked: &Asked, options: &mut Options) -> Option<Duration> {
    let said = options.maybe::<Duration>("--hours", asked.hours.as_deref())?;
    let hours = said.value.in_hours();
    if !(hours > 0.0 && hours <= 24.0) {
        let says = format!("{} is no stretch of work on one day", said.typed);
        options.fault("--hours", says, "such as 3 h");
    }
    Some(said.value)
}

/// The job as it stood after an entry, and when that was. The record itself is not touched.
fn look_back(folder: &mut Folder, entry: u64, options: &mut Options) -> Option<i64> {
    if !folder.entries.iter().any(|known| known.id.0 == entry) {
        let last = folder.entries.last().map_or(0, |last| last.id.0);
        options.fault(
            "--at",
            format!("there is no entry {entry}"),
            format!("the record goes from 1 to {last}; matchmark record reads it"),
        );
        return None;
    }
    folder.entries.retain(|known| known.id.0 <= entry);
    folder.state = job::replay(folder.book.as_ref(), &folder.entries);
    folder.entries.last().map(|last| last.at)
}

/// What there is to print.
fn listed(can_press: bool) -> Report {
    let mut report = Report::new(COMMAND, TITLE);
    report.headline = Some("Name the ones you want, or --all.".to_owned());
    let mut table = Table::new(&[
        ("paper", "paper", Align::Left),
        ("says", "what it is", Align::Left),
    ]);
    for what in What::ALL {
        table.push(vec![Cell::from(what.word()), Cell::from(what.says())]);
    }
    report.rows = table;
    if !can_press {
        report.findings.push(how_to_get_it().weight(Weight::Look));
    }
    report
}

fn no_press() -> Report {
    Report::refusal(COMMAND, TITLE, how_to_get_it())
}

/// Paper is left out of the plain build, because typesetting takes minutes to compile.
pub(crate) fn how_to_get_it() -> Finding {
    Finding::new(
        "no-press",
        "",
        "this program was built without its press, so it can print nothing",
    )
    .next("build it with paper, once: cargo build --release --features paper")
}

/// Presses and writes, paper by paper; one that fails does not keep the others back.
fn written(mut report: Report, papers: &[Paper], size: Size, out: &Path, press: Press) -> Report {
    let mut table = Table::new(&[
        ("paper", "paper", Align::Left),
        ("pages", "pages", Align::Right),
        ("file", "file", Align::Left),
    ]);
    let mut pages = 0;
    for paper in papers {
        match write(paper, size, out, press) {
            Ok((file, count)) => {
                pages += count;
                table.push(vec![
                    Cell::from(paper.title.as_str()),
                    Cell::from(count),
                    Cell::from(file.display().to_string()),
                ]);
            }
            Err(finding) => report.findings.push(*finding),
        }
    }
    let count = table.rows.len();
    report.rows = table;
    if count == 0 {
        report.refused = true;
        report.headline = Some("Nothing was printed.".to_owned());
        return report;
    }
    let s = |count: usize| if count == 1 { "" } else { "s" };
    report.headline = Some(format!(
        "{count} paper{} on {pages} page{} in {}.",
        s(count),
        s(pages),
        out.display()
    ));
    report.figures = vec![
        Figure::count("papers", "papers", count),
        Figure::count("pages", "pages", pages),
    ];
    report
}

/// Writes one paper and gives its file and pages.
fn write(
    paper: &Paper,
    size: Size,
    out: &Path,
    press: Press,
) -> Result<(PathBuf, usize), Box<Finding>> {
    let fault = |code, says: String, next: &str| {
        let finding = Finding::new(code, paper.name.clone(), says).next(next);
        Box::new(finding.weight(Weight::Stop))
    };
    let pressed = press(paper, size)
        .map_err(|why| fault("not-pressed", why, "put it right and print again"))?;
    let file = out.join(format!("{}.pdf", paper.name));
    let not_written = |why: std::io::Error| {
        fault(
            "not-written",
            format!("{} could not be written: {why}", file.display()),
            "name a folder that may be written to: --out DIR",
        )
    };
    if let Ok(there) = fs::read(&file)
        && !there.windows(OURS.len()).any(|part| part == OURS)
    {
        return Err(fault(
            "file-there",
            format!("{} was not printed by this program", file.display()),
            "name another folder: --out DIR",
        ));
    }
    fs::create_dir_all(out).map_err(not_written)?;
    fs::write(&file, &pressed.pdf).map_err(not_written)?;
    Ok((file, pressed.pages))
}
