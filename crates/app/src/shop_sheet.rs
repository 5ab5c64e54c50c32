//! The sheet for the machine shop: option text into a question for the judge.

use book::{Critical, Limit, PartId, Ref};
use job::{Measured, Named};
use judge::reading;
use judge::shop_sheet::{Asked as Question, FromJob, Part, sheet};
use quantity::{Length, read_list, unit};
use report::{Finding, Report, Weight};

use crate::folder::Folder;
use crate::option::Options;
use crate::{readings, typed};

const COMMAND: &str = "shop-sheet";
const TITLE: &str = "For the machine shop";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// `head`, `block`, or a part of the job that is one.
    pub part: Option<String>,
    /// Cams run in bores of this head.
    pub overhead_cam: bool,
    /// Flatness as measured here.
    pub flatness: Option<String>,
    /// The limit for it.
    pub limit: Option<String>,
    /// Whose limit it is.
    pub limit_source: Option<String>,
    /// Thickness at the corners before.
    pub before: Option<String>,
    /// Thickness at the corners when it is back.
    pub after: Option<String>,
    /// The least thickness allowed.
    pub least: Option<String>,
}

/// Writes the sheet; with a job, readings and limits of the named part stand on it.
#[must_use]
pub fn shop_sheet(asked: &Asked, folder: Option<&Folder>) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, folder, &mut options) {
        Some(question) if options.clean() => {
            let mut report = sheet(&question);
            let word = asked.part.as_deref().unwrap_or("head");
            if let Some(folder) = folder.filter(|folder| part_of(folder, word).is_none()) {
                which(&mut report, folder);
            }
            report
        }
        _ => options.refusal(TITLE),
    }
}

/// Names the heads of the job, where the sheet was asked for without one.
fn which(report: &mut Report, folder: &Folder) {
    let named: Vec<&str> = folder
        .state
        .known
        .parts
        .iter()
        .map(|part| part.id.as_str())
        .filter(|id| id.rsplit('-').next().and_then(kind).is_some())
        .collect();
    if !named.is_empty() {
        report.findings.push(
            Finding::new(
                "part-not-named",
                "",
                "nothing of the job stands on this sheet",
            )
            .next(format!(
                "name the part as the book does: {}",
                named.join(", ")
            ))
            .weight(Weight::Note),
        );
    }
}

/// What a part is by its name: `bulkhead-head` is a head.
fn kind(name: &str) -> Option<Part> {
    name.to_lowercase()
        .split(|sign: char| !sign.is_alphanumeric())
        .find_map(|word| match word {
            "head" => Some(Part::Head),
            "block" => Some(Part::Block),
            _ => None,
        })
}

/// The part of the job a name means.
fn part_of(folder: &Folder, name: &str) -> Option<PartId> {
    folder
        .state
        .names
        .all(name)
        .iter()
        .find_map(|named| match named {
            Named::Part(part) => Some(part.clone()),
            Named::Joint(_) | Named::Line(_) | Named::End(..) | Named::Circuit(_) => None,
        })
}

/// What record and book say of a part.
fn fill(question: &mut Question, folder: &Folder, part: &PartId) {
    let (state, shop) = (&folder.state, folder.shop.as_ref());
    let ours = |limit: &&Limit| match limit.of.as_ref().map(|of| &of.id) {
        Some(Ref::Part(of)) => of == part,
        Some(Ref::Joint(joint)) => state.known.joints_of(part).any(|held| held.id == *joint),
        Some(Ref::Hole(hole)) => state
            .known
            .joints_of(part)
            .any(|held| held.id == hole.joint),
        _ => false,
    };
    // Cams held down on it turn in bores of its own.
    question.overhead_cam |= state
        .known
        .joints_to(part)
        .any(|joint| joint.critical == Some(Critical::Cam));
    for limit in state.known.limits.iter().filter(ours) {
        let name = format!("{} {}", limit.id, reading::label(limit)).to_lowercase();
        let readings: Vec<&Measured> = reading::all(state, limit).collect();
        let lengths = |measured: &Measured| {
            read_list::<Length>(&measured.values).map_or_else(|_| Vec::new(), |said| said.value)
        };
        if name.contains("thick") {
            if question.least.is_none() {
                question.least = reading::length_limit(limit).and_then(|limit| limit.low);
            }
            if question.before.is_empty() {
                question.before = readings.first().map_or_else(Vec::new, |one| lengths(one));
            }
            if question.after.is_empty() && readings.len() > 1 {
                question.after = readings.last().map_or_else(Vec::new, |one| lengths(one));
            }
        } else if name.contains("flat") && question.limit.is_none() {
            question.limit = reading::length_limit(limit);
            if question.flatness.is_none() {
                question.flatness = readings
                    .last()
                    .and_then(|one| lengths(one).into_iter().flatten().next());
            }
        }
        question.job.push(FromJob {
            what: reading::label(limit),
            readings: readings.iter().map(|one| one.values.clone()).collect(),
            limit: reading::length_limit(limit).map_or_else(
                || "see the book".to_owned(),
                |limit| limit.words(&question.unit),
            ),
            standing: reading::judge(state, shop, limit),
        });
    }
}

fn question(asked: &Asked, folder: Option<&Folder>, options: &mut Options) -> Option<Question> {
    let word = asked.part.as_deref().unwrap_or("head");
    let held = folder.and_then(|folder| Some((folder, part_of(folder, word)?)));
    let part = kind(word);
    if part.is_none() {
        options.fault(
            "PART",
            format!("“{word}” does not go to the machine shop by this sheet"),
            "head or block, or the name of one in the job's book",
        );
    } else if held.is_none() && !matches!(word, "head" | "block") {
        options.fault(
            "PART",
            format!("no part is called “{word}” here"),
            "name it as the job's book does, and the job with --job; or write head or block",
        );
    }
    let limit = readings::limit(
        options,
        "--limit",
        asked.limit.as_deref(),
        asked.limit_source.as_deref(),
    );
    let flatness = options.maybe::<Length>("--flatness", asked.flatness.as_deref());
    let least = options.maybe::<Length>("--least", asked.least.as_deref());
    let mut corners = |name, text: &Option<String>| {
        text.as_deref()
            .and_then(|text| options.list::<Length>(name, text))
            .map_or_else(Vec::new, |said| said.value)
    };
    let before = corners("--before", &asked.before);
    let after = corners("--after", &asked.after);
    let typed = [&asked.before, &asked.flatness, &asked.after]
        .into_iter()
        .flatten()
        .next();
    let mut question = Question {
        part: part?,
        overhead_cam: asked.overhead_cam,
        flatness: flatness.map(|said| said.value),
        limit,
        before,
        after,
        least: least.map(|said| said.value),
        unit: typed.map_or(unit::MILLIMETRE, |text| typed::unit_of::<Length>(text)),
        job: Vec::new(),
    };
    if let Some((folder, part)) = held {
        fill(&mut question, folder, &part);
    }
    Some(question)
}
