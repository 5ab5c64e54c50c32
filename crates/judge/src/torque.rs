//! A tightening spec at the wrench: each stage in the wrench's own unit, what to set, and
//! what about it looks wrong.
//!
//! Reading the spec is done before; pattern and joint come from elsewhere. The maker's
//! figure is never changed here, only questioned.

mod doubt;
pub mod drive;
mod effect;
mod grip;
pub mod unstated;

use calc::adapter::Adapter;
use calc::fastener::Class;
use calc::thread::Thread;
use quantity::spec::Condition;
use quantity::{Bound, Kind, Said, Spec, Step, Torque, Unit, show, unit};
use report::{Align, Caution, Cell, Figure, Finding, Report, Source, SourceKind, Table};

use self::drive::Drive;
use crate::tighten_sheet::rack::Rack;
use crate::tightening::{self, Lever, Stage, StageFault, typed_unit};
use crate::wrench::Tool;

const COMMAND: &str = "torque";

/// The question.
#[derive(Clone, Debug)]
pub struct Question {
    /// The spec.
    pub spec: Said<Spec>,
    /// The unit asked for.
    pub show_in: Option<Unit>,
    /// The wrenches at hand, and what is known of their checks.
    pub rack: Rack,
    /// What sits between wrench and bolt.
    pub lever: Lever,
    /// Whether it is tightened clockwise, as a right-hand thread is.
    pub clockwise: bool,
    /// The thread, for plausibility.
    pub thread: Option<Thread>,
    /// The strength mark.
    pub class: Option<Class>,
    /// What else stands between wrench and bolt.
    pub drive: Drive,
    /// What the bolt holds, in the words of the person.
    pub joint: Option<String>,
    /// How the threads are now. Not what the spec means: that stands in the spec.
    pub threads_are: Option<Condition>,
}

/// Answers the question.
#[must_use]
pub fn judge(asked: &Question) -> Report {
    let title = format!("Tightening, {}", asked.spec.typed.trim());
    match answer(asked, &title) {
        Ok(report) => report,
        Err(fault) => Report::refusal(COMMAND, title, refusal(&fault)),
    }
}

fn refusal(fault: &StageFault) -> Finding {
    let (code, next) = match fault {
        StageFault::Adapter(_) => (
            "adapter",
            "measure handle and adapter between centres, and the angle between them: 0° straight out, 90° across, 180° folded back",
        ),
        StageFault::Torque(_) => ("torque", "check the figure and its unit"),
        StageFault::RepeatsNothing => ("repeat", "write the spec from its first stage"),
    };
    Finding::new(code, "", fault.to_string()).next(next)
}

/// The question with its stages planned.
struct Seen<'a> {
    asked: &'a Question,
    stages: Vec<Stage>,
    /// The unit the spec was typed in.
    written_in: Option<&'static Unit>,
    /// The unit answers are shown in.
    unit: Unit,
}

impl Seen<'_> {
    /// The torque the answer is about: the last of the spec, which after an angle is only
    /// the seating torque.
    fn last_torque(&self) -> Option<(&Stage, Torque)> {
        self.stages
            .iter()
            .rev()
            .find_map(|stage| stage.pull.map(|pull| (stage, pull.torque)))
    }

    fn torques(&self) -> Vec<Torque> {
        self.stages
            .iter()
            .filter_map(|stage| stage.pull.map(|pull| pull.torque))
            .collect()
    }

    /// The wrench taken for a stage.
    fn taken(&self, stage: &Stage) -> Option<&Tool> {
        self.asked.rack.tools.get(stage.pull?.take?)
    }

    /// The adapter with the handle that counts: the one told, or that of the wrench taken.
    fn adapter(&self) -> Option<Adapter> {
        match self.asked.lever {
            Lever::Straight => None,
            Lever::On(adapter) => Some(adapter),
            Lever::Under { length, angle } => Some(Adapter {
                handle: self.taken(self.last_torque()?.0)?.handle?,
                length,
                angle,
            }),
        }
    }

    fn ends_in_angle(&self) -> bool {
        self.asked.spec.value.final_torque().is_none() && self.asked.spec.value.turns_by_angle()
    }

    fn show(&self, torque: Torque) -> String {
        show::show(torque, &self.unit)
    }
}

fn answer(asked: &Question, title: &str) -> Result<Report, StageFault> {
    let stages = tightening::plan(&asked.spec.value, &asked.rack.tools, asked.lever)?;
    let written_in = typed_unit(Kind::Torque, &asked.spec.typed);
    let taken = stages.iter().rev().find_map(|stage| stage.pull?.take);
    let unit = asked
        .show_in
        .or_else(|| Some(asked.rack.tools.get(taken?)?.wrench.unit))
        .or(written_in.copied())
        .unwrap_or(unit::NEWTON_METRE);
    let seen = Seen {
        asked,
        stages,
        written_in,
        unit,
    };

    let mut report = Report::new(COMMAND, title);
    report.headline = Some(headline(&seen));
    figures(&mut report, &seen);
    report.rows = rows(&seen);
    grip::findings(&mut report, &seen)?;
    drive::findings(&mut report, &seen)?;
    doubt::findings(&mut report, &seen)?;
    effect::tell(&mut report, &seen)?;
    if report.finds("misprint") || report.finds("look-alike") {
        report.headline = Some("Do not pull yet: the figure itself is in doubt.".to_owned());
    }
    report.cautions.push(Caution::new(
        "pulling",
        "Pull slowly at the centre of the grip and stop at the first click: the wrench does not slip. The maker's instructions stand before this sheet.",
    ));
    report.cite(Source::new(
        SourceKind::Published,
        "yard and pound agreement, 1959; 3rd CGPM, 1901: exact unit factors",
    ));
    Ok(report)
}

fn headline(seen: &Seen<'_>) -> String {
    let Some((stage, torque)) = seen.last_torque() else {
        return "No stage of this spec is pulled with a torque wrench.".to_owned();
    };
    let set = stage.pull.map_or(torque, |pull| pull.setting);
    let name = if seen.ends_in_angle() {
        "seating torque"
    } else {
        "torque"
    };
    let blocked = !seen.asked.rack.tools.is_empty()
        && seen
            .stages
            .iter()
            .any(|stage| stage.pull.is_some_and(|pull| pull.take.is_none()));
    if blocked {
        let who = if seen.asked.rack.tools.len() == 1 {
            "This wrench"
        } else {
            "None of these wrenches"
        };
        let can = if seen.asked.rack.tools.len() == 1 {
            "must not be used"
        } else {
            "may be used"
        };
        let whole = if seen.torques().len() > 1 {
            " for every stage"
        } else {
            ""
        };
        return format!("{who} {can}{whole}; the {name} is {}.", seen.show(torque));
    }
    let mut line = if seen.asked.lever != Lever::Straight {
        format!(
            "Set {} to put {} on the bolt",
            seen.show(set),
            seen.show(torque)
        )
    } else {
        format!("Set {}", seen.show(torque))
    };
    if seen.ends_in_angle() {
        let turned = seen.asked.spec.value.total_angle();
        line.push_str(&format!(
            ", then turn {} in all",
            show::show(turned, &unit::DEGREE)
        ));
    }
    line.push('.');
    line
}

fn figures(report: &mut Report, seen: &Seen<'_>) {
    let Some((stage, torque)) = seen.last_torque() else {
        return;
    };
    let label = if seen.ends_in_angle() {
        "seating torque"
    } else {
        "torque on the bolt"
    };
    let mut spec = Figure::new("spec", label, torque, seen.show(torque));
    if let Step::Torque { allowed, .. } = &stage.step
        && let Bound::Between(range) = allowed
    {
        spec = spec.between(range.low, range.high);
        spec.note = Some(format!("allowed {}", show::show_range(*range, &seen.unit)));
    } else if let Some(written) = seen
        .written_in
        .filter(|unit| unit.symbol != seen.unit.symbol)
    {
        spec.note = Some(format!("printed as {}", show::show(torque, written)));
    }
    report.figures.push(spec);
    let Some(pull) = stage.pull else { return };
    let mut setting = Figure::new(
        "setting",
        "set on the wrench",
        pull.setting,
        seen.show(pull.setting),
    );
    if let Some(mark) = pull.mark.filter(|mark| mark.mark != mark.wanted) {
        setting = setting.note(format!("nearest mark {}", seen.show(mark.mark)));
    } else if seen.asked.lever == Lever::Straight {
        setting = setting.note("no adapter");
    }
    report.figures.push(setting);
}

fn rows(seen: &Seen<'_>) -> Table {
    let several = seen.asked.rack.tools.len() > 1;
    let mut table = Table::new(&[
        ("stage", "stage", Align::Right),
        ("what", "what", Align::Left),
        ("in_unit", "torque", Align::Right),
        ("setting", "set", Align::Right),
        ("wrench", if several { "wrench" } else { "" }, Align::Left),
    ]);
    for (index, stage) in seen.stages.iter().enumerate() {
        let as_written = stage.step.shown(seen.written_in.unwrap_or(&seen.unit));
        let (torque, setting, wrench) = match stage.pull {
            Some(pull) => (
                Cell::from(Figure::new(
                    "in_unit",
                    "torque",
                    pull.torque,
                    seen.show(pull.torque),
                )),
                Cell::from(Figure::new(
                    "setting",
                    "set",
                    pull.setting,
                    seen.show(pull.setting),
                )),
                Cell::from(seen.taken(stage).map(|tool| tool.name.clone())),
            ),
            None => (Cell::None, Cell::None, Cell::None),
        };
        table.push(vec![
            Cell::from(index + 1),
            Cell::from(as_written),
            torque,
            setting,
            wrench,
        ]);
    }
    table
}

#[cfg(test)]
mod tests;
