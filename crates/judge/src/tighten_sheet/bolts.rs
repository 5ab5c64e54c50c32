//! The bolts themselves: used ones where new ones belong, and figures no such bolt ever gets.

use book::{Amount, Holds, Limit, OriginKind, Ref};
use calc::stretch::{LengthVerdict, against_limit};
use calc::torque::lookalike::{LookAlike, Oddity, odd_torques};
use quantity::{Kind, Length, Torque, read_list, show, unit};
use report::{Ask, Finding, Report, Weight};

use super::Sheet;
use crate::fastener::{class, thread};
use crate::tightening::{falls, typed_unit};

/// The used bolts in holes that want new ones, by place.
fn used(sheet: &Sheet<'_>) -> Vec<usize> {
    used_where(sheet, |one_use| one_use.known() == Some(&true))
}

fn used_where(sheet: &Sheet<'_>, wants_new: impl Fn(&book::Fact<bool>) -> bool) -> Vec<usize> {
    let seats = sheet.course.seats.iter().enumerate();
    seats
        .filter(|(_, seat)| wants_new(&seat.hole.one_use) && seat.holds_a_used_one())
        .map(|(at, _)| at)
        .collect()
}

/// Why the next act must not be done: it would take a used bolt to its last stage against
/// the maker.
pub(super) fn must_not_finish(sheet: &Sheet<'_>) -> Option<String> {
    let next = sheet.next?;
    let stage = sheet.course.passes.get(next.pass)?.stage;
    let is_last = stage == sheet.course.last_stage(next.seat);
    (is_last && !used(sheet).is_empty() && !length_clears(sheet)).then(|| {
        format!("Stop before stage {stage}: used bolts may be trial-fitted, not finished.")
    })
}

/// Bolts turned by angle that were in before, where nobody said whether they may be used again.
pub(super) fn perhaps_stretched(sheet: &Sheet<'_>, report: &mut Report) {
    let turned = sheet.lines.iter().any(|line| line.turns().is_some());
    let open = used_where(sheet, book::Fact::is_open);
    if turned && sheet.next.is_some() && !open.is_empty() {
        report.asks.push(Ask::new(
            format!("whether {} may be used twice", sheet.course.runs(&open)),
            "Bolts turned by angle are mostly stretched for good, and these were in before.",
            "Look in the maker's book and write one-use=#true or #false at the holes.",
        ));
    }
}

/// Used bolts in holes that want new ones: fitted on trial, or finished already.
pub(super) fn used_again(sheet: &Sheet<'_>, report: &mut Report) {
    let used = used(sheet);
    if used.is_empty() || length_clears(sheet) {
        return;
    }
    let finished: Vec<usize> = used
        .iter()
        .copied()
        .filter(|&seat| {
            let last = sheet.course.last_stage(seat);
            last > 0
                && sheet
                    .course
                    .seats
                    .get(seat)
                    .is_some_and(|seat| seat.has(last))
        })
        .collect();
    if finished.is_empty() {
        let last = used
            .iter()
            .map(|&seat| sheet.course.last_stage(seat))
            .max()
            .unwrap_or(0);
        report.findings.push(
            Finding::new(
                "used-bolt",
                sheet.course.runs(&used),
                format!("not said to be new; for a trial fit only, never to stage {last}"),
            )
            .next(how_to_clear(sheet)),
        );
    } else {
        report.findings.push(
            Finding::new(
                "used-bolt-finished",
                sheet.course.runs(&finished),
                "used bolts were taken to the last stage; the book wants new ones",
            )
            .points_to("a bolt that yields a second time may break or let go")
            .next(how_to_clear(sheet))
            .weight(Weight::Stop),
        );
    }
}

fn how_to_clear(sheet: &Sheet<'_>) -> String {
    match length_limit(sheet) {
        Some(limit) => format!(
            "put new ones in, or measure every one free: `read {}: …`",
            limit.id
        ),
        None => format!(
            "put new ones in: `replaced {}: new bolts`; if they are new, correct the entry and say so",
            sheet.asked.joint
        ),
    }
}

/// The maker's limit on the free length of these bolts, where the book has one.
fn length_limit<'s>(sheet: &'s Sheet<'_>) -> Option<&'s Limit> {
    sheet.asked.state.known.limits.iter().find(|limit| {
        let ours = match limit.of.as_ref().map(|of| &of.id) {
            Some(Ref::Joint(joint)) => *joint == sheet.asked.joint,
            Some(Ref::Hole(hole)) => hole.joint == sheet.asked.joint,
            _ => false,
        };
        ours && limit.source.kind == Some(OriginKind::Maker)
            && matches!(limit.max.known(), Some(Amount::Length(_)))
    })
}

/// Whether the maker's length limit and a reading of every used bolt allow using them again.
fn length_clears(sheet: &Sheet<'_>) -> bool {
    let Some(limit) = length_limit(sheet) else {
        return false;
    };
    let Some(Amount::Length(most)) = limit.max.known() else {
        return false;
    };
    let names = [Some(limit.id.as_str()), limit.label.as_deref()];
    let reading = sheet
        .asked
        .state
        .readings
        .iter()
        .rev()
        .find(|(_, measured)| {
            names
                .iter()
                .flatten()
                .any(|name| job::same_name(&measured.of, name))
        });
    let Some((_, measured)) = reading else {
        return false;
    };
    let Ok(values) = read_list::<Length>(&measured.values) else {
        return false;
    };
    let gauge = measured.instrument.as_deref().and_then(|name| {
        let gauges = &sheet.asked.shop?.gauges;
        gauges
            .iter()
            .find(|gauge| job::same_name(gauge.id.as_str(), name))
    });
    let doubt = match gauge.and_then(|gauge| gauge.uncertainty.known()) {
        Some(Amount::Length(doubt)) => *doubt,
        _ => Length::default(),
    };
    let values: Vec<Length> = values.value.into_iter().flatten().collect();
    values.len() >= used(sheet).len()
        && values
            .iter()
            .all(|&length| against_limit(length, doubt, *most) == Ok(LengthVerdict::Within))
}

/// Figures far from what such a bolt ever gets: most often a slip of unit.
pub(super) fn look_alikes(sheet: &Sheet<'_>, report: &mut Report) {
    for (group, held) in sheet.course.groups.iter().enumerate() {
        let told = sheet.course.groups.iter().take(group);
        if told
            .into_iter()
            .any(|one| std::ptr::eq(one.tighten, held.tighten))
        {
            continue;
        }
        falling(sheet, held.stages, report);
        let Some(seat) = sheet
            .course
            .seats
            .iter()
            .find(|seat| seat.group == Some(group))
        else {
            continue;
        };
        let Some(thread) = thread(&seat.hole.thread) else {
            continue;
        };
        let mut torques: Vec<(&book::Stage, Torque)> = Vec::new();
        for stage in held.stages {
            if let Some(torque) = stage.spec.value.largest_torque() {
                torques.push((stage, torque));
            }
        }
        let angle_follows = held
            .stages
            .last()
            .is_some_and(|stage| stage.spec.value.turns_by_angle());
        let written = torques
            .iter()
            .find_map(|(stage, _)| typed_unit(Kind::Torque, &stage.spec.typed));
        let only: Vec<Torque> = torques.iter().map(|&(_, torque)| torque).collect();
        let class = class(&seat.hole.grade);
        let Ok(odd) = odd_torques(&thread, class, &only, angle_follows, written) else {
            continue;
        };
        for found in odd {
            let Some((stage, _)) = torques.get(found.stage) else {
                continue;
            };
            // A plug or a hollow bolt never gets what a bolt of its thread does: little is right.
            if found.oddity == Oddity::TooLittle
                && matches!(seat.hole.holds, Holds::Plug | Holds::Banjo)
            {
                continue;
            }
            report
                .findings
                .push(look_alike(sheet, &stage.spec.typed, &found, &thread));
        }
    }
}

/// A stage of the book below one before it, with nothing loosened between.
fn falling(sheet: &Sheet<'_>, stages: &[book::Stage], report: &mut Report) {
    let steps = || {
        let numbered = stages.iter().zip(1..);
        numbered.flat_map(|(stage, number): (_, usize)| {
            stage
                .spec
                .value
                .steps
                .iter()
                .map(move |step| (step, number))
        })
    };
    let Some(fall) = falls(steps().map(|(step, _)| step)) else {
        return;
    };
    let stage = steps().nth(fall.step).map_or(0, |(_, number)| number);
    report.findings.push(
        fall.finding(format!("{}, stage {stage}", sheet.course.label), |torque| {
            show(torque, &unit::NEWTON_METRE)
        }),
    );
}

/// A figure that is not what such a bolt gets, and what it may be meant as.
fn look_alike(
    sheet: &Sheet<'_>,
    typed: &str,
    found: &LookAlike,
    thread: &calc::thread::Thread,
) -> Finding {
    let times = found.of_usual.in_fraction();
    let says = match found.oddity {
        Oddity::TooMuch => format!(
            "{typed} is {times:.1} times what an {thread} usually gets, more than it can take"
        ),
        Oddity::Much => format!(
            "{typed} is {times:.1} times what an {thread} usually gets; it yields unless its threads are rough"
        ),
        Oddity::TooLittle => format!(
            "{typed} is only {:.0} % of what an {thread} usually gets",
            100.0 * times
        ),
    };
    let (code, weight) = match found.oddity {
        Oddity::TooMuch | Oddity::TooLittle => ("look-alike", Weight::Stop),
        Oddity::Much => ("perhaps-another-unit", Weight::Look),
    };
    let finding = Finding::new(code, sheet.course.label.clone(), says)
        .next("read figure and unit in the maker's book again before pulling")
        .weight(weight);
    match found.would_fit.first() {
        Some((unit, meant)) => finding.points_to(format!(
            "the number may be meant as {} ({})",
            show(*meant, unit),
            show(*meant, &unit::NEWTON_METRE)
        )),
        None => finding,
    }
}
