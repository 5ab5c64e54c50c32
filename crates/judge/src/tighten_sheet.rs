//! The tightening sheet of a joint: what to set, in which turn, what is done, what comes next
//! and what went wrong on the way.
//!
//! It reads the book's joint, the state of the job and the wrenches of the shop. The figure
//! is the book's and is never changed here, only questioned.

mod bolts;
mod effect;
pub mod rack;
mod practice;
mod reach;
mod rows;
mod turns;
mod unstated;

#[cfg(test)]
mod tests;

use book::{Condition, JointId};
use calc::pattern::PatternFault;
use job::State;
use quantity::{Kind, Quantity, Spec, Step, show, unit};
use report::{Caution, Figure, Finding, Report, Weight};

use self::rack::Rack;
use crate::tighten_joint::order::Layout;
use crate::tighten_joint::{Course, Group, Next, slips};
use crate::tightening::{self, Lever, Pull, typed_unit};

const COMMAND: &str = "tighten";

/// The question.
#[derive(Clone, Debug)]
pub struct Question<'a> {
    /// The job.
    pub state: &'a State,
    /// The shop, for its gauges.
    pub shop: Option<&'a book::Shop>,
    /// The joint.
    pub joint: JointId,
    /// The wrenches at hand.
    pub rack: Rack,
    /// How the holes lie, where nobody measured them.
    pub layout: Layout,
    /// Whether the figures behind the advice are wanted.
    pub why: bool,
}

/// One stage at one group of bolts, as it is done.
#[derive(Clone, Debug)]
struct Line<'a> {
    pass: usize,
    group: usize,
    stage: &'a book::Stage,
    /// The steps of the stage, repeats written out.
    steps: Vec<tightening::Stage>,
    /// What sits between wrench and bolt.
    between: Between<'a>,
}

/// What sits between wrench and bolt.
#[derive(Clone, Copy, Debug)]
enum Between<'a> {
    /// A socket.
    Socket,
    /// An adapter of the shop, reckoned in.
    Adapter(&'a rack::Crowfoot),
    /// An adapter the shop does not have, or not its length: nothing can be set.
    Unknown(&'a str),
}

impl<'a> Between<'a> {
    fn of(asked: &'a Question<'_>, group: &Group<'a>, head: Option<&book::Head>) -> Self {
        match group.adapter {
            None => Self::Socket,
            Some(word) => match asked.rack.adapter(word, head) {
                Some(found) if found.length.is_some() => Self::Adapter(found),
                _ => Self::Unknown(word),
            },
        }
    }

    fn lever(self) -> Lever {
        match self {
            Self::Adapter(rack::Crowfoot {
                length: Some(length),
                angle,
                ..
            }) => Lever::Under {
                length: *length,
                angle: *angle,
            },
            Self::Socket | Self::Adapter(_) | Self::Unknown(_) => Lever::Straight,
        }
    }
}

impl Line<'_> {
    /// The last pull of the stage that takes a wrench.
    fn pull(&self) -> Option<Pull> {
        self.steps.iter().rev().find_map(|step| step.pull)
    }

    /// Whether what to set cannot be said, because what is between is not known.
    fn is_unreckoned(&self) -> bool {
        matches!(self.between, Between::Unknown(_))
    }

    /// The angle of the stage, if it turns by one.
    fn turns(&self) -> Option<quantity::Angle> {
        let spec = &self.stage.spec.value;
        spec.turns_by_angle().then(|| spec.total_angle())
    }
}

/// The sheet while it is written.
struct Sheet<'a> {
    asked: &'a Question<'a>,
    course: &'a Course<'a>,
    lines: Vec<Line<'a>>,
    next: Option<Next>,
}

/// Writes the sheet.
#[must_use]
pub fn judge(asked: &Question<'_>) -> Report {
    match Course::of(asked.state, &asked.joint, asked.layout) {
        Ok(Some(course)) => sheet(asked, &course),
        Ok(None) => Report::refusal(
            COMMAND,
            "Tightening",
            Finding::new(
                "name-unknown",
                asked.joint.to_string(),
                "there is no such joint",
            )
            .next("write the joint as the book has it"),
        ),
        Err(fault) => Report::refusal(COMMAND, "Tightening", no_order(&asked.joint, &fault)),
    }
}

fn no_order(joint: &JointId, fault: &PatternFault) -> Finding {
    let next = match fault {
        PatternFault::NotAField { .. } => {
            "give --rows as many rows as the bolts fill, or write the order into the book: pattern A C B D"
        }
        PatternFault::SameSpot { .. } | PatternFault::TooFew { .. } => {
            "correct the positions in the book"
        }
    };
    Finding::new("no-order", joint.to_string(), fault.to_string()).next(next)
}

fn sheet(asked: &Question<'_>, course: &Course<'_>) -> Report {
    let mut report = Report::new(COMMAND, format!("Tightening, {}", course.label));
    if course.seats.is_empty() {
        report.headline = Some("Nothing here is tightened.".to_owned());
        return report;
    }
    let lines = match lines(asked, course) {
        Ok(lines) => lines,
        Err(fault) => {
            let finding = Finding::new("stages", course.label.clone(), fault.to_string())
                .next("correct the stages in the book");
            return Report::refusal(COMMAND, report.title, finding);
        }
    };
    let mut sheet = Sheet {
        asked,
        course,
        lines,
        next: course.next(),
    };
    report.findings = slips::slips(course);
    reach::used(&sheet, &mut report);
    bolts::used_again(&sheet, &mut report);
    report
        .findings
        .sort_by_key(|finding| std::cmp::Reverse(finding.weight));
    let halt = bolts::must_not_finish(&sheet);
    if halt.is_some() || report.findings.iter().any(|it| it.weight == Weight::Stop) {
        // Nothing comes next until this is put right.
        sheet.next = None;
    }
    report.rows = rows::rows(&sheet);
    if course.groups.is_empty() {
        unstated::add(&sheet, &mut report);
    } else {
        unstated::some(&sheet, &mut report);
        reach::ahead(&sheet, &mut report);
        bolts::look_alikes(&sheet, &mut report);
        bolts::perhaps_stretched(&sheet, &mut report);
        rows::figures(&sheet, &mut report);
        effect::add(&sheet, &mut report);
        practice::offer(&sheet, &mut report);
        report.headline = Some(halt.unwrap_or_else(|| headline(&sheet, &report)));
    }
    report.text = turns::text(&sheet);
    report.pictures.push(turns::picture(&sheet));
    cautions(&sheet, &mut report);
    sources(&sheet, &mut report);
    report
}

/// Every stage at every group, planned for the wrenches at hand.
fn lines<'a>(
    asked: &'a Question<'_>,
    course: &'a Course<'a>,
) -> Result<Vec<Line<'a>>, tightening::StageFault> {
    let mut lines = Vec::new();
    for (at, pass) in course.passes.iter().enumerate() {
        for (group, held) in course.groups.iter().enumerate() {
            let Some(seat) = pass.seats.iter().copied().find(|&seat| {
                course
                    .seats
                    .get(seat)
                    .is_some_and(|seat| seat.group == Some(group))
            }) else {
                continue;
            };
            let Some(stage) = course.stage(seat, pass.stage) else {
                continue;
            };
            let spec = whole(held.stages, pass.stage, &stage.spec.value);
            let head = course.seats.get(seat).map(|seat| &seat.hole.head);
            let between = Between::of(asked, held, head.and_then(book::Fact::known));
            lines.push(Line {
                pass: at,
                group,
                stage,
                steps: tightening::plan(&spec, &asked.rack.tools, between.lever())?,
                between,
            });
        }
    }
    Ok(lines)
}

/// A stage that repeats the one before, with the step it repeats in front of it.
fn whole(stages: &[book::Stage], stage: u32, spec: &Spec) -> Spec {
    let Some(Step::Repeat(times)) = spec.steps.first() else {
        return spec.clone();
    };
    let before = usize::try_from(stage)
        .ok()
        .and_then(|stage| stages.get(..stage.checked_sub(1)?))
        .into_iter()
        .flatten()
        .rev()
        .find_map(|stage| stage.spec.value.steps.last().cloned());
    let mut steps = Vec::new();
    if let Some(before) = before {
        steps.push(before);
        if *times > 1 {
            steps.push(Step::Repeat(times - 1));
        }
        steps.extend(spec.steps.iter().skip(1).cloned());
    } else {
        steps.clone_from(&spec.steps);
    }
    Spec {
        steps,
        ..spec.clone()
    }
}

impl Sheet<'_> {
    /// The line the next act belongs to.
    fn next_line(&self) -> Option<&Line<'_>> {
        let next = self.next?;
        let group = self.course.seats.get(next.seat)?.group?;
        self.lines
            .iter()
            .find(|line| line.pass == next.pass && line.group == group)
    }

    fn next_hole(&self) -> Option<&str> {
        let seat = self.course.seats.get(self.next?.seat)?;
        Some(seat.hole.name.as_str())
    }

    /// The bolts of a line, by place, in their turn.
    fn seats_of(&self, line: &Line<'_>) -> Vec<usize> {
        let Some(pass) = self.course.passes.get(line.pass) else {
            return Vec::new();
        };
        let own = |seat: &usize| {
            self.course
                .seats
                .get(*seat)
                .is_some_and(|seat| seat.group == Some(line.group))
        };
        pass.seats.iter().copied().filter(own).collect()
    }

    /// Which time over the bolts a line is, from 1.
    fn round_of(&self, line: &Line<'_>) -> u32 {
        let pass = self.course.passes.get(line.pass);
        pass.map_or(1, |pass| pass.round)
    }

    /// Whether a bolt, by place, has had a line.
    fn has_had(&self, seat: usize, line: &Line<'_>) -> bool {
        let (stage, round) = (self.stage_of(line), self.round_of(line));
        let seat = self.course.seats.get(seat);
        seat.is_some_and(|seat| seat.has_had(stage, round))
    }

    fn stage_of(&self, line: &Line<'_>) -> u32 {
        self.course
            .passes
            .get(line.pass)
            .map_or(0, |pass| pass.stage)
    }

    /// How many stages the longest of the groups has.
    fn stages(&self) -> usize {
        self.course
            .groups
            .iter()
            .map(|group| group.stages.len())
            .max()
            .unwrap_or(0)
    }

    fn condition(&self, group: usize) -> Option<Condition> {
        self.course
            .groups
            .get(group)?
            .tighten
            .condition
            .known()
            .copied()
    }

    /// What a tool is called in a table and in a typed line.
    fn tool_word(&self, line: &Line<'_>) -> Option<String> {
        if let Some(pull) = line.pull() {
            if line.is_unreckoned() {
                return None;
            }
            let at = pull.take?;
            let name = self.asked.rack.tools.get(at).map(|tool| tool.name.clone());
            return self.asked.rack.id(at).map(str::to_owned).or(name);
        }
        line.turns()?;
        Some(
            self.asked
                .rack
                .angle_gauge
                .clone()
                .unwrap_or_else(|| "paint marks".to_owned()),
        )
    }

    /// The setting as it stands on the wrench: its nearest mark in its own unit.
    fn setting(&self, line: &Line<'_>) -> Option<Figure> {
        let pull = line.pull()?;
        if line.is_unreckoned() {
            return None;
        }
        match pull.take.and_then(|at| self.asked.rack.tools.get(at)) {
            Some(tool) => {
                let mark = pull.mark.map_or(pull.setting, |mark| mark.mark);
                let shown = show(mark, &tool.wrench.unit);
                Some(Figure::new("setting", "set", mark, shown))
            }
            // Wrenches are told, and none of them will do: nothing is set.
            None if !self.asked.rack.tools.is_empty() => None,
            None => {
                let own =
                    typed_unit(Kind::Torque, &line.stage.spec.typed).unwrap_or(&unit::NEWTON_METRE);
                Some(Figure::new(
                    "setting",
                    "set",
                    pull.setting,
                    show(pull.setting, own),
                ))
            }
        }
    }
}

fn headline(sheet: &Sheet<'_>, report: &Report) -> String {
    let course = sheet.course;
    if let Some(stop) = report
        .findings
        .iter()
        .find(|finding| finding.weight == Weight::Stop)
    {
        return match stop.code {
            "out-of-range" => "None of your wrenches can do this.".to_owned(),
            "adapter-unknown" => "Nothing can be set: the adapter is not known.".to_owned(),
            "look-alike" => "Do not pull yet: the figure itself is in doubt.".to_owned(),
            _ => "Stop: put right what is marked // before anything else is pulled.".to_owned(),
        };
    }
    let Some(line) = sheet.next_line() else {
        return format!(
            "Done: {} on {}.",
            counted(sheet.stages(), "stage"),
            counted(course.seats.len(), "bolt")
        );
    };
    let hole = sheet.next_hole().unwrap_or_default();
    let stage = sheet.stage_of(line);
    let held = sheet.asked.state.joints.get(&sheet.asked.joint);
    if course.seats.iter().all(|seat| seat.is_empty()) || held.is_some_and(|held| held.open) {
        return format!(
            "Its bolts are out. This is the sheet for when they are in: begin at {hole}."
        );
    }
    let untouched = held.is_none_or(|held| !held.was_open)
        && !course.is_begun()
        && !course
            .seats
            .iter()
            .any(|seat| seat.held.is_some_and(|held| held.loosened));
    if untouched {
        return format!("Not undone in this job. Its sheet, should it be: begin at {hole}.");
    }
    let act = match (sheet.setting(line), line.turns()) {
        (Some(setting), None) => format!(
            "set {}{}",
            setting.shown,
            sheet
                .tool_word(line)
                .map_or_else(String::new, |tool| format!(" on {tool}"))
        ),
        (Some(setting), Some(angle)) => {
            let angle = show(angle, &unit::DEGREE);
            format!("set {}, then turn {angle}", setting.shown)
        }
        (None, None) if line.is_unreckoned() => "the adapter must be known first".to_owned(),
        (None, Some(angle)) => format!("turn {}", show(angle, &unit::DEGREE)),
        (None, None) => line.stage.spec.typed.clone(),
    };
    let again = course.seats.iter().any(|seat| seat.loosened_by().is_some());
    let go = match (course.is_begun(), again) {
        (true, _) => "Go on",
        (false, true) => "Loosened since: begin again",
        (false, false) => "Begin",
    };
    let round = match sheet.round_of(line) {
        1 => String::new(),
        round => format!(", round {round}"),
    };
    format!("{go} at {hole}, stage {stage}{round}: {act}.")
}

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

fn cautions(sheet: &Sheet<'_>, report: &mut Report) {
    if sheet.course.groups.is_empty() || sheet.next.is_none() {
        return;
    }
    if sheet.asked.state.known.invented {
        report.cautions.push(Caution::new(
            "this book",
            "it is invented. Never tighten a real engine by it.",
        ));
    }
    report.cautions.push(Caution::new(
        "pulling",
        "slowly, at the centre of the grip, stop at the first click. The maker's instructions stand before this sheet.",
    ));
    if sheet.lines.iter().any(|line| line.turns().is_some()) {
        report.cautions.push(Caution::new(
            "turning by angle",
            "paint every head first; once each, never again. A slipping socket under this load throws you: brace, and pull towards you.",
        ));
    }
}

fn sources(sheet: &Sheet<'_>, report: &mut Report) {
    for group in &sheet.course.groups {
        let limit = crate::limit::Limit::<quantity::Torque>::of_book(&group.tighten.source);
        match limit.whose {
            crate::limit::Whose::Invented => {}
            crate::limit::Whose::Unsaid => {
                let line = "The book does not say whose figure this is.".to_owned();
                if !report.because.contains(&line) {
                    report.because.push(line);
                }
            }
            _ => {
                if let Some(source) = limit.source() {
                    report.cite(source);
                }
            }
        }
    }
}

/// The share of the whole that a torque is, in words: `22 %`.
fn percent(part: quantity::Torque, whole: quantity::Torque) -> String {
    format!("{:.0} %", 100.0 * part.si() / whole.si())
}
