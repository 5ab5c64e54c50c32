//! The story of the demo, told from the reports of the commands.

use std::fs;

use book::{PartId, Ref};
use planning::answer::{self, Job};
use planning::sequence::{Legs, Wish, sequence};
use planning::{Budget, Graph, Standing, Stop};
use report::{Cell, Finding, Report, Verdict, Weight};

use super::{BOOK, DemoFault, LIFE};
use crate::cranking;
use crate::folder::{Folder, FolderFault};
use crate::paper::What;

const WIDTH: usize = 78;
/// Moves of the search for the order of work: enough for a good order, little enough to wait for.
const MOVES: u64 = 400_000;

/// Lives through the life and tells it.
pub(super) fn tell(mut folder: Folder, prints: bool) -> Result<Report, DemoFault> {
    let mut story = Story::default();
    before(&mut story, &folder)?;
    apart(&mut story, &mut folder)?;
    measured(&mut story, &mut folder)?;
    together(&mut story, &mut folder)?;
    proof(&mut story, &mut folder)?;
    written(&mut story, &folder)?;
    paper(&mut story, &folder, prints);
    let mut report = Report::new("demo", "");
    report.text = Some(story.text);
    Ok(report)
}

/// The text as it grows.
#[derive(Default)]
struct Story {
    text: String,
}

impl Story {
    fn head(&mut self, words: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.text.push_str(words);
        self.text.push('\n');
    }

    fn say(&mut self, words: &str) {
        self.hang("  ", words, "  ");
    }

    /// A line from the book of answers: set in under a mark.
    fn mark(&mut self, mark: &str, words: &str) {
        self.hang(&format!("  {mark} "), words, "     ");
    }

    fn hang(&mut self, first: &str, words: &str, rest: &str) {
        let options = textwrap::Options::new(WIDTH)
            .initial_indent(first)
            .subsequent_indent(rest)
            .break_words(false);
        self.text.push_str(&textwrap::fill(words, options));
        self.text.push('\n');
    }

    /// A verdict with its shape and sentence.
    fn verdict(&mut self, report: &Report) {
        let shape = report.verdict.map_or("     ", Verdict::shape);
        let word = report.verdict.map_or("", Verdict::word);
        let says = report.headline.clone().unwrap_or_default();
        self.hang("  ", &format!("{shape} {word}  {says}"), "        ");
    }

    fn findings<'a>(&mut self, findings: impl Iterator<Item = &'a Finding>) {
        for finding in findings {
            self.mark("//", &finding.says);
        }
    }
}

fn stops(report: &Report) -> impl Iterator<Item = &Finding> {
    report
        .findings
        .iter()
        .filter(|finding| finding.weight == Weight::Stop)
}

fn heads() -> Vec<Ref> {
    ["bulkhead-head", "radiator-head"]
        .iter()
        .map(|id| Ref::Part(PartId::new(*id)))
        .collect()
}

/// The book, what must come off, the order of work.
fn before(story: &mut Story, folder: &Folder) -> Result<(), DemoFault> {
    story.head("The island post van: invented from bumper to bumper, worked out for real");
    let checked = crate::check::check_text("book.kdl", BOOK);
    let counts: Vec<String> = checked
        .figures
        .iter()
        .map(|figure| format!("{} {}", figure.shown, figure.label))
        .collect();
    story.say(&format!(
        "The book: {}: {}.",
        checked.headline.unwrap_or_default().trim_end_matches('.'),
        counts.join(", ")
    ));
    let job = Job::of(&folder.state);
    let reach = answer::reach(&job, &heads());
    story.head("What must come off for both heads");
    story.say(&reach.headline.clone().unwrap_or_default());
    for figure in reach.figures.iter().take(2) {
        story.say(&format!("{}: {}", figure.label, figure.shown));
    }
    let standing = Standing::from(&folder.state);
    let graph = Graph::new(&folder.state.known, &standing.choices);
    let wish = Wish {
        targets: heads(),
        legs: Legs::Both,
    };
    let budget = Budget::moves(MOVES);
    let plan = sequence(
        &graph,
        &standing,
        &wish,
        folder.shop.as_ref(),
        &budget,
        &Stop::new(),
        &mut |_| {},
    )
    .map_err(|fault| DemoFault::Plan(fault.to_string()))?;
    let refused = verify::check(graph.book(), &folder.state, &plan);
    let first: Vec<String> = plan
        .steps
        .iter()
        .take(4)
        .map(|step| step.name.to_string())
        .collect();
    story.say(&format!(
        "The order: {} steps there and back, {} by the checker that shares no code with the planner. It begins: {}.",
        plan.steps.len(),
        if refused.is_empty() { "found sound".to_owned() } else { format!("{} faults found", refused.len()) },
        first.join(", ")
    ));
    Ok(())
}

fn live(folder: &mut Folder, chapters: std::ops::Range<usize>) -> Result<usize, DemoFault> {
    let mut rows = Vec::new();
    for chapter in &LIFE[chapters] {
        rows.extend(chapter.entries()?);
    }
    Ok(folder.append(&rows)?.len())
}

fn apart(story: &mut Story, folder: &mut Folder) -> Result<(), DemoFault> {
    let count = live(folder, 0..1)?;
    story.head("Taken apart, seven evenings");
    story.say(&format!("{count} typed lines, such as:"));
    for entry in folder
        .entries
        .iter()
        .filter(|entry| entry.line.starts_with("off runners-to") || entry.line.starts_with("tag 9"))
    {
        story.mark(">", &entry.line);
    }
    let off = folder
        .state
        .known
        .parts
        .iter()
        .filter(|part| folder.state.is_away(&part.id))
        .count();
    let out: usize = folder
        .state
        .joints
        .values()
        .map(|joint| joint.holes.values().filter(|hole| hole.empty).count())
        .sum();
    story.say(&format!(
        "{off} parts off, {out} fasteners out of their holes and in bags, {} tags on ends.",
        folder.state.tags.len()
    ));
    let turn = answer::turn(&Job::of(&folder.state));
    story.say(&format!(
        "May it turn? {}",
        turn.headline.unwrap_or_default()
    ));
    Ok(())
}

/// The latest cranking readings of a kind, as typed.
fn cranking_of(folder: &Folder, of: &str) -> Option<String> {
    let found = folder
        .state
        .readings
        .iter()
        .rev()
        .find(|(_, measured)| measured.of == of)?;
    Some(found.1.values.clone())
}

fn compression(dry: String, wet: Option<String>) -> Report {
    cranking::cranking(&cranking::Asked {
        layout: "V6".to_owned(),
        dry,
        wet,
        ..cranking::Asked::default()
    })
}

fn measured(story: &mut Story, folder: &mut Folder) -> Result<(), DemoFault> {
    story.head("Measured");
    if let Some(dry) = cranking_of(folder, "cranking dry") {
        let report = compression(dry, cranking_of(folder, "cranking wet"));
        story.verdict(&report);
        if let Some(points) = report
            .findings
            .iter()
            .find_map(|finding| finding.points_to.as_ref())
        {
            story.mark(">", points);
        }
    }
    let rows = LIFE[1].entries()?;
    let (faces, rest): (Vec<_>, Vec<_>) = rows
        .into_iter()
        .partition(|row| row.line.starts_with("clean") || row.line.contains("gauge feeler"));
    folder.append(&faces)?;
    let gate = judge::gate::gate(&folder.state, folder.shop.as_ref(), "before-head-on");
    story.findings(
        gate.findings
            .iter()
            .filter(|finding| finding.code == "outside"),
    );
    folder.append(&rest)?;
    let gate = judge::gate::gate(&folder.state, folder.shop.as_ref(), "before-head-on");
    let face = gate
        .findings
        .iter()
        .any(|finding| finding.code == "outside");
    story.say(if face {
        "The shop's cut did not settle it."
    } else {
        "Back from the machine shop: every face keeps its limit."
    });
    Ok(())
}

fn together(story: &mut Story, folder: &mut Folder) -> Result<(), DemoFault> {
    live(folder, 2..3)?;
    story.head("Put together, three mistakes planted");
    let rows = job::outstanding::outstanding(&folder.state);
    let seal = rows
        .iter()
        .find(|row| row.kind == job::outstanding::Kind::SealMissing);
    if let Some(seal) = seal {
        story.mark("//", &format!("{} ({})", seal.what, seal.kind.word()));
        if let Some(cost) = comeback_of(folder, "water channel ring") {
            story.say(&format!("Seen while the cover is the last thing on. From a finished engine it would cost {cost}."));
        }
    }
    live(folder, 3..5)?;
    let gate = judge::gate::gate(&folder.state, folder.shop.as_ref(), "fire");
    story.say("Everything on, filled up, key in hand. matchmark gate fire:");
    story.verdict(&gate);
    story.findings(stops(&gate));
    live(folder, 5..6)?;
    let gate = judge::gate::gate(&folder.state, folder.shop.as_ref(), "fire");
    story.say("The plenum comes off once more, both are put right, and:");
    story.verdict(&gate);
    Ok(())
}

/// What coming back for an item costs, from the comeback list.
fn comeback_of(folder: &Folder, words: &str) -> Option<String> {
    let report = answer::comeback(&Job::of(&folder.state), false);
    let cell = |row, key| report.rows.cell(row, key);
    let row =
        report.rows.rows.iter().find(
            |row| matches!(cell(row, "item"), Some(Cell::Text(text)) if text.contains(words)),
        )?;
    match cell(row, "minutes")? {
        Cell::Number(_, shown) => Some(shown.clone()),
        Cell::Figure(figure) => Some(figure.shown.clone()),
        Cell::None | Cell::Text(_) | Cell::Verdict(_) | Cell::List(_) | Cell::Flag(_) => None,
    }
}

fn proof(story: &mut Story, folder: &mut Folder) -> Result<(), DemoFault> {
    let before = cranking_of(folder, "cranking dry").unwrap_or_default();
    live(folder, 6..LIFE.len())?;
    let after = cranking_of(folder, "cranking dry").unwrap_or_default();
    story.head("First start, and the proof by numbers");
    story.say(&format!("before  {before}"));
    story.say(&format!("after   {after}"));
    story.verdict(&compression(after, None));
    let rows = job::outstanding::outstanding(&folder.state);
    story.say(&format!(
        "Outstanding: {}.",
        if rows.is_empty() {
            "nothing".to_owned()
        } else {
            rows.len().to_string()
        }
    ));
    Ok(())
}

fn written(story: &mut Story, folder: &Folder) -> Result<(), DemoFault> {
    let back = crate::write_back::write_back(folder);
    let text = back.text.unwrap_or_default();
    let path = folder.path().join("written-back.kdl");
    fs::write(&path, &text).map_err(|why| FolderFault::File {
        path: path.clone(),
        why,
    })?;
    let checked = crate::check::check_text("written-back.kdl", &text);
    story.head("What is left behind");
    story.say(&format!(
        "{}, for the next person: {}",
        path.display(),
        checked.headline.unwrap_or_default()
    ));
    for (name, what) in [
        ("book.kdl", "the build book"),
        ("shop.kdl", "the workshop"),
        ("record.sqlite", "the record"),
        ("lines/", "what was typed, to read"),
    ] {
        story.say(&format!("{}: {what}", folder.path().join(name).display()));
    }
    Ok(())
}

/// The papers that can be printed of it, and how to go on.
fn paper(story: &mut Story, folder: &Folder, prints: bool) {
    let words: Vec<&str> = What::ALL.iter().map(|what| what.word()).collect();
    story.head("On paper");
    story.say(&format!("{}.", words.join(", ")));
    if !prints {
        story.say("This program was built without its press: cargo build --release --features paper makes one that has it.");
    }
    story.say(&format!(
        "All of them, as PDF: matchmark print --all --job {}",
        folder.path().display()
    ));
    story.say(&format!(
        "Go on with it: matchmark comeback --job {}",
        folder.path().display()
    ));
}
