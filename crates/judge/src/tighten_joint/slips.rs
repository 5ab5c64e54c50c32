//! What the record shows to have gone wrong on a joint: a stage skipped, doubled or taken out
//! of turn, a figure on the wrong scale, threads in another condition, a wrench that cannot
//! do it, a used bolt where a new one belongs.
//!
//! The record is never changed here; each slip says how to put joint or record right.

use std::collections::BTreeMap;

use book::Condition;
use calc::torque::lookalike::on_other_scale;
use job::{EntryId, TightDone};
use quantity::{Bound, Kind, Quantity, Spec, Step, Torque, Unit, show, spec, unit};
use report::{Finding, Weight};

mod far;

use self::far::{far_off, loosened};
use super::{Course, Pass};
use crate::tightening::typed_unit;

/// Everything that went wrong, gravest first.
#[must_use]
pub fn slips(course: &Course<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    skipped(course, &mut found);
    doubled(course, &mut found);
    ahead(course, &mut found);
    out_of_turn(course, &mut found);
    figures(course, None, &mut found);
    far_off(course, None, &mut found);
    conditions(course, &mut found);
    loosened(course, &mut found);
    found.sort_by_key(|finding| std::cmp::Reverse(finding.weight));
    found
}

/// What one entry gives rise to, for the moment it is written: a figure that is not the
/// book's, or one no such bolt ever gets.
#[must_use]
pub fn of_entry(course: &Course<'_>, entry: EntryId) -> Vec<Finding> {
    let mut found = Vec::new();
    figures(course, Some(entry), &mut found);
    far_off(course, Some(entry), &mut found);
    found
}

/// A stage on a bolt that lacks the stage below it.
fn skipped(course: &Course<'_>, found: &mut Vec<Finding>) {
    let mut by_entry: BTreeMap<(EntryId, u32), Vec<usize>> = BTreeMap::new();
    for (at, seat) in course.seats.iter().enumerate() {
        for done in seat.tightened() {
            if done.stage > 1 && !seat.has(done.stage - 1) {
                by_entry
                    .entry((done.entry, done.stage))
                    .or_default()
                    .push(at);
            }
        }
    }
    for ((entry, stage), seats) in by_entry {
        found.push(
            Finding::new(
                "stage-skipped",
                course.runs(&seats),
                format!("entry {entry} is stage {stage}, and stage {} was never done", stage - 1),
            )
            .next("loosen them and begin again at stage 1; if it was only not written down, `undo` and enter both")
            .weight(Weight::Stop),
        );
    }
}

/// A stage twice on one bolt. A torque again does no harm; an angle again stretches it.
fn doubled(course: &Course<'_>, found: &mut Vec<Finding>) {
    let rounds = course
        .joint
        .pattern
        .as_ref()
        .map_or(1, |pattern| pattern.rounds.max(1));
    for pass in first_rounds(course) {
        let mut turned = Vec::new();
        let mut pulled = Vec::new();
        for &at in &pass.seats {
            let (Some(seat), Some(stage)) = (course.seats.get(at), course.stage(at, pass.stage))
            else {
                continue;
            };
            let times = seat
                .tightened()
                .iter()
                .filter(|done| done.stage == pass.stage)
                .count();
            if times > usize::try_from(rounds).unwrap_or(usize::MAX) {
                let list = if stage.spec.value.turns_by_angle() {
                    &mut turned
                } else {
                    &mut pulled
                };
                list.push(at);
            }
        }
        if !turned.is_empty() {
            found.push(
                Finding::new(
                    "stage-doubled",
                    course.runs(&turned),
                    format!("stage {} is an angle and was done twice", pass.stage),
                )
                .points_to("these bolts are turned too far and may be past use")
                .next("loosen in the reverse order, put new bolts in and begin again; if it is only written twice, `undo` one")
                .weight(Weight::Stop),
            );
        }
        if !pulled.is_empty() {
            found.push(
                Finding::new(
                    "stage-doubled",
                    course.runs(&pulled),
                    format!(
                        "stage {} was done twice; a torque again does no harm",
                        pass.stage
                    ),
                )
                .weight(Weight::Note),
            );
        }
    }
}

/// Every stage over its bolts once, however often it is gone over.
fn first_rounds<'c>(course: &'c Course<'_>) -> impl Iterator<Item = &'c Pass> {
    course.passes.iter().filter(|pass| pass.round == 1)
}

/// The entry that gave a bolt a stage first.
fn first(course: &Course<'_>, seat: usize, stage: u32) -> Option<EntryId> {
    let seat = course.seats.get(seat)?;
    let done = seat.tightened().iter().find(|done| done.stage == stage)?;
    Some(done.entry)
}

/// A stage begun while bolts still lacked the one below.
fn ahead(course: &Course<'_>, found: &mut Vec<Finding>) {
    let redone = course.redone();
    for pass in first_rounds(course).filter(|pass| pass.stage > 1) {
        let Some(begun) = pass
            .seats
            .iter()
            .filter_map(|&seat| first(course, seat, pass.stage))
            .min()
        else {
            continue;
        };
        let below = pass.stage - 1;
        let late: Vec<usize> = (0..course.seats.len())
            .filter(|&seat| course.stage(seat, below).is_some() && !redone.contains(&seat))
            // A bolt that skipped the stage is told of already.
            .filter(|&seat| {
                first(course, seat, pass.stage).is_none() || first(course, seat, below).is_some()
            })
            .filter(|&seat| first(course, seat, below).is_none_or(|entry| entry > begun))
            .collect();
        if !late.is_empty() {
            found.push(
                Finding::new(
                    "out-of-order",
                    course.runs(&late),
                    format!(
                        "stage {} was begun (entry {begun}) before these had stage {below}",
                        pass.stage
                    ),
                )
                .points_to("the joint is drawn down crooked")
                .next("loosen all in the reverse order and begin again at stage 1")
                .weight(Weight::Stop),
            );
        }
    }
}

/// Bolts of one stage in another turn than the order. Whole stages are one act and keep it.
fn out_of_turn(course: &Course<'_>, found: &mut Vec<Finding>) {
    let redone = course.redone();
    for pass in first_rounds(course) {
        let mut early = Vec::new();
        for (turn, &seat) in pass.seats.iter().enumerate() {
            let Some(own) = first(course, seat, pass.stage) else {
                continue;
            };
            // A bolt done again on its own has lost its turn, and takes it from nobody.
            let before_its_turn = !redone.contains(&seat)
                && pass.seats[..turn]
                    .iter()
                    .filter(|seat| !redone.contains(seat))
                    .any(|&other| first(course, other, pass.stage).is_none_or(|entry| entry > own));
            if before_its_turn {
                early.push(seat);
            }
        }
        if !early.is_empty() {
            found.push(
                Finding::new(
                    "out-of-order",
                    course.runs(&early),
                    format!("stage {}: pulled before their turn", pass.stage),
                )
                .next(format!("the order is {}", course.names(&pass.seats)))
                .weight(
                    if pass.seats.len() > 2 && course.joint.critical.is_some() {
                        Weight::Stop
                    } else {
                        Weight::Look
                    },
                ),
            );
        }
    }
}

/// The tightenings of a pass by entry, one of each and the bolts it was for.
fn by_entry<'c>(course: &Course<'c>, pass: &Pass) -> BTreeMap<EntryId, (TightDone, Vec<usize>)> {
    let mut entries: BTreeMap<EntryId, (TightDone, Vec<usize>)> = BTreeMap::new();
    for &at in &pass.seats {
        let done = course
            .seats
            .get(at)
            .into_iter()
            .flat_map(|seat| seat.tightened())
            .filter(|done| done.stage == pass.stage);
        for done in done {
            let (_, seats) = entries
                .entry(done.entry)
                .or_insert_with(|| (done.clone(), Vec::new()));
            seats.push(at);
        }
    }
    entries
}

fn figures(course: &Course<'_>, only: Option<EntryId>, found: &mut Vec<Finding>) {
    for pass in first_rounds(course) {
        for (entry, (done, seats)) in by_entry(course, pass) {
            if only.is_some_and(|only| only != entry) {
                continue;
            }
            let Some(typed) = done.figure.as_deref() else {
                continue;
            };
            // Bolts of one entry may have different angles; each is held against its own.
            let mut wrong: Vec<(usize, Finding)> = Vec::new();
            for &seat in &seats {
                if let Some(stage) = course.stage(seat, pass.stage)
                    && let Some(finding) = figure(typed, &stage.spec.value, &stage.spec.typed)
                {
                    wrong.push((seat, finding));
                }
            }
            let Some((_, finding)) = wrong.first().cloned() else {
                continue;
            };
            let wrong: Vec<usize> = wrong.into_iter().map(|(seat, _)| seat).collect();
            let concerns = format!("stage {}, {}", pass.stage, course.runs(&wrong));
            let next = if finding.code == "figure-unread" {
                format!("write the figure with its unit: `correct {entry}: …`")
            } else {
                format!(
                    "if it was pulled so, loosen in the reverse order and begin again at stage 1; if only the line is wrong: `correct {entry}: {}`",
                    as_it_should_be(course, pass, &done, &seats)
                )
            };
            found.push(
                Finding {
                    concerns,
                    ..finding
                }
                .next(next),
            );
        }
    }
}

/// The line of an entry again, with the figure of the book.
fn as_it_should_be(course: &Course<'_>, pass: &Pass, done: &TightDone, seats: &[usize]) -> String {
    let mut words = vec![format!("tight {}", course.joint.id)];
    if seats.len() < course.seats.len() {
        let one = if seats.len() == 1 { "hole" } else { "holes" };
        words.push(format!("{one} {}", course.runs(seats)));
    }
    words.push(format!("stage {}", pass.stage));
    let stage = seats
        .first()
        .and_then(|&seat| course.stage(seat, pass.stage));
    words.extend(stage.map(|stage| stage.spec.typed.trim().to_owned()));
    words.extend(
        done.wrench
            .as_ref()
            .map(|wrench| format!("wrench {wrench}")),
    );
    words.extend(done.condition.clone());
    words.join(" ")
}

/// What is wrong with a figure as typed, held against the stage of the book.
fn figure(typed: &str, stage: &Spec, stage_typed: &str) -> Option<Finding> {
    let Ok(read) = spec::read(typed) else {
        return Some(Finding::new(
            "figure-unread",
            "",
            format!("`{typed}` is no figure with a unit"),
        ));
    };
    let (own, book) = (last_pull(&read.value), last_pull(stage));
    match (own, book) {
        (Some((torque, _)), Some((wanted, allowed))) => {
            let inside = match allowed {
                Bound::Between(range) => torque >= range.low && torque <= range.high,
                Bound::Below(most) => torque <= most,
                Bound::Above(least) => torque >= least,
                // Nobody sets or writes a wrench closer than this.
                Bound::Exactly(wanted) => (torque.si() / wanted.si() - 1.0).abs() <= 0.03,
            };
            (!inside).then(|| other_torque(typed, torque, stage_typed, wanted))
        }
        (Some(_), None) if stage.turns_by_angle() => Some(
            Finding::new(
                "other-figure",
                "",
                format!("entered as {typed}; the book turns by {stage_typed} here"),
            )
            .weight(Weight::Stop),
        ),
        (None, None) if stage.turns_by_angle() && read.value.turns_by_angle() => {
            let off = read.value.total_angle().in_degrees() - stage.total_angle().in_degrees();
            (off.abs() > 5.0).then(|| {
                Finding::new(
                    "other-figure",
                    "",
                    format!("entered as {typed}; the book says {stage_typed}"),
                )
                .weight(Weight::Stop)
            })
        }
        (_, None) => None,
        (None, Some(_)) => Some(
            Finding::new(
                "other-figure",
                "",
                format!("entered as {typed}; the book pulls to {stage_typed} here"),
            )
            .weight(Weight::Stop),
        ),
    }
}

fn last_pull(spec: &Spec) -> Option<(Torque, Bound<Torque>)> {
    spec.steps.iter().rev().find_map(|step| match step {
        Step::Torque { value, allowed } if value.si() > 0.0 => Some((*value, *allowed)),
        Step::Torque { .. }
        | Step::Angle { .. }
        | Step::Loosen(_)
        | Step::HandTight
        | Step::Repeat(_)
        | Step::Wait(_) => None,
    })
}

/// A torque that is not the book's: the same number on another scale, or another number.
fn other_torque(typed: &str, torque: Torque, stage_typed: &str, wanted: Torque) -> Finding {
    let unit = typed_unit(Kind::Torque, stage_typed).unwrap_or(&unit::NEWTON_METRE);
    let times = torque.si() / wanted.si();
    let share = if times < 10.0 {
        format!("{:.0} % of", 100.0 * times)
    } else {
        format!("{times:.0} times")
    };
    let says = format!(
        "entered as {typed}, which is {share} the book's {}",
        show(wanted, unit)
    );
    let slip = typed_unit(Kind::Torque, typed)
        .filter(|own| own.symbol != unit.symbol)
        .filter(|own| same_number(own, torque, unit, wanted))
        .and_then(|own| on_other_scale(wanted, unit, own).ok());
    let finding = match slip {
        Some(slip) if slip.overtightens() => Finding::new("other-scale", "", says).points_to(
            "the same number on another scale; the bolts may be stretched: do not use them again where the book wants new ones",
        ),
        Some(_) => Finding::new("other-scale", "", says).points_to(
            "the same number on another scale; too loose, which cannot have stretched a bolt",
        ),
        None => Finding::new("other-figure", "", says),
    };
    finding.weight(Weight::Stop)
}

fn same_number(own: &Unit, torque: Torque, book: &Unit, wanted: Torque) -> bool {
    let (typed, meant) = (own.of_si(torque.si()), book.of_si(wanted.si()));
    (typed - meant).abs() <= 0.01 * meant.abs()
}

/// Threads said to be in another condition than the figure is for.
fn conditions(course: &Course<'_>, found: &mut Vec<Finding>) {
    for pass in first_rounds(course) {
        for (entry, (done, seats)) in by_entry(course, pass) {
            let Some(typed) = done.condition.as_deref() else {
                continue;
            };
            let meant = seats.iter().find_map(|&seat| {
                let group = course.groups.get(course.seats.get(seat)?.group?)?;
                group.tighten.condition.known().copied()
            });
            let Some(meant) = meant.filter(|meant| !is_said(typed, *meant)) else {
                continue;
            };
            let harder = meant == Condition::Dry;
            let says = if harder {
                format!(
                    "entry {entry}: threads {typed}, the figure is for dry ones; oil pulls the bolt harder, by about a quarter"
                )
            } else {
                format!(
                    "entry {entry}: threads {typed}, the figure is for threads {}",
                    meant.word()
                )
            };
            found.push(
                Finding::new(
                    "condition",
                    format!("stage {}, {}", pass.stage, course.runs(&seats)),
                    says,
                )
                .next(
                    "bring the threads to the condition of the figure and begin again at stage 1",
                ),
            );
        }
    }
}

/// Whether the words of an entry mean a condition of the book: `oil`, `with sealer`, …
fn is_said(typed: &str, meant: Condition) -> bool {
    let stems: &[&str] = match meant {
        Condition::Dry => &["dry"],
        Condition::Oiled => &["oil"],
        Condition::Lubricated => &["lubric", "grease", "paste", "oil"],
        Condition::Sealed => &["seal"],
        Condition::Locked => &["lock"],
    };
    let typed = typed.to_lowercase();
    stems.iter().any(|stem| typed.contains(stem))
}
