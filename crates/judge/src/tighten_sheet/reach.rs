//! Whether the wrenches at hand reach the figures: those still to be pulled, and those the
//! record says were used.

use quantity::spec;
use quantity::{Kind, show, unit};
use report::{Ask, Finding, Report, Source, SourceKind, Weight};

use super::rack::Crowfoot;
use super::{Between, Line, Sheet, percent};
use crate::tightening::{Pull, typed_unit};
use crate::wrench::{that_would_do, words};

/// Share of the range and accuracy at the setting: `22 % of its scale, good to ±0.9 lbf·ft`.
pub(super) fn note(sheet: &Sheet<'_>, line: &Line<'_>, pull: &Pull) -> Option<String> {
    let tool = sheet.asked.rack.tools.get(pull.take?)?;
    let off = tool.wrench.may_be_off(pull.setting).ok()?;
    let own = tool.wrench.unit;
    // One digit says all an accuracy has to say.
    let decimals = if own.of_si(quantity::Quantity::si(off)) < 10.0 {
        1
    } else {
        0
    };
    let usual = if tool.accuracy_told {
        ""
    } else {
        ", as is usual"
    };
    let between = match line.between {
        Between::Adapter(adapter) => format!(" with {}", adapter.name),
        Between::Socket | Between::Unknown(_) => String::new(),
    };
    Some(format!(
        "{}{between}, {} of its scale, good to ±{}{usual}",
        tool.name,
        percent(pull.setting, tool.wrench.range.high),
        quantity::show_fixed(off, &own, decimals),
    ))
}

/// The pulls still to come: wrenches that cannot do them, and wrenches to be doubted.
pub(super) fn ahead(sheet: &Sheet<'_>, report: &mut Report) {
    let Some(next) = sheet.next else { return };
    let rack = &sheet.asked.rack;
    if rack.tools.is_empty() {
        report.asks.push(Ask::new(
            "your wrenches",
            "No wrench is known, so no setting is given.",
            "Describe them in shop.kdl, or give --wrench \"click 20..200 lbf·in 4 %\".",
        ));
        return;
    }
    let clockwise = !sheet.course.seats.iter().any(|seat| {
        seat.hole
            .thread
            .known()
            .is_some_and(|thread| thread.left_hand)
    });
    let mut doubted = Vec::new();
    let mut unreckoned = false;
    for line in sheet.lines.iter().filter(|line| line.pass >= next.pass) {
        let concern = format!("stage {}", sheet.stage_of(line));
        if sheet.round_of(line) > 1 && line.pass != next.pass {
            continue;
        }
        if let (Between::Unknown(word), Some(_)) = (line.between, line.pull()) {
            if !unreckoned {
                report.findings.push(adapter_unknown(sheet, line, word));
            }
            unreckoned = true;
            continue;
        }
        if let Between::Adapter(adapter) = line.between
            && line.pass == next.pass
        {
            report.findings.extend(behind(sheet, line, adapter));
        }
        for pull in line.steps.iter().filter_map(|step| step.pull) {
            let Some(take) = pull.take else {
                report.findings.push(none_will_do(
                    sheet,
                    concern.clone(),
                    &line.stage.spec.typed,
                    &pull,
                ));
                continue;
            };
            report
                .findings
                .extend(between_marks(sheet, &concern, &pull));
            if !doubted.contains(&take) {
                doubted.push(take);
                report
                    .findings
                    .extend(sheet.asked.rack.check(take, clockwise));
            }
        }
    }
    report.cite(Source::new(
        SourceKind::Published,
        "US Army TM 1-1500-204-23-9: nothing promised below 20 % of scale, best between 30 and 80 %",
    ));
}

/// Bolts a wrench only gets at with an adapter nobody has described.
fn adapter_unknown(sheet: &Sheet<'_>, line: &Line<'_>, word: &str) -> Finding {
    Finding::new(
        "adapter-unknown",
        sheet.course.runs(&sheet.seats_of(line)),
        format!("only to be reached with a {word}, which changes what is set"),
    )
    .next(format!(
        "measure it and write it into shop.kdl: adapter {word}-1 kind={word} length=\"45 mm\""
    ))
    .weight(Weight::Stop)
}

/// What an adapter does to the setting, and what is missing to say it.
fn behind(sheet: &Sheet<'_>, line: &Line<'_>, adapter: &Crowfoot) -> Option<Finding> {
    let pull = line.pull()?;
    let concern = sheet.course.runs(&sheet.seats_of(line));
    if sheet
        .asked
        .rack
        .tools
        .iter()
        .all(|tool| tool.handle.is_none())
    {
        return Some(
            Finding::new(
                "handle-unknown",
                concern,
                format!("behind {} the handle decides what is set, and none is known", adapter.name),
            )
            .next("measure from the centre of the drive to the centre of the grip and write handle=\"…\" at the wrench in shop.kdl")
            .weight(Weight::Stop),
        );
    }
    pull.take?;
    let own = typed_unit(Kind::Torque, &line.stage.spec.typed).unwrap_or(&unit::NEWTON_METRE);
    Some(
        Finding::new(
            "behind-adapter",
            concern,
            format!(
                "through {}: set lower on the wrench, the bolt gets {}",
                adapter.name,
                show(pull.torque, own)
            ),
        )
        .next("pull at the centre of the grip, adapter held as the shop file says; enter the torque of the bolt, not the setting")
        .weight(Weight::Note),
    )
}

/// A mark too far from the setting.
fn between_marks(sheet: &Sheet<'_>, concern: &str, pull: &Pull) -> Option<Finding> {
    let mark = pull.mark?;
    let missed = mark.off.in_fraction().abs();
    let tool = sheet.asked.rack.tools.get(pull.take?)?;
    (missed > 0.02).then(|| {
        let nearest = show(mark.mark, &tool.wrench.unit);
        let says = format!("the nearest mark is {nearest}, {:.0} % off", 100.0 * missed);
        Finding::new("between-marks", concern, says).next("take a wrench with a finer scale")
    })
}

fn none_will_do(sheet: &Sheet<'_>, concern: String, typed: &str, pull: &Pull) -> Finding {
    let own = typed_unit(Kind::Torque, typed).unwrap_or(&unit::NEWTON_METRE);
    let mut finding = Finding::new(
        "out-of-range",
        concern,
        format!("none of yours can do {}", show(pull.setting, own)),
    )
    .next(that_would_do(pull.setting, own))
    .weight(Weight::Stop);
    for tool in &sheet.asked.rack.tools {
        finding = finding.detail(format!(
            "{}: {} is {}",
            tool.name,
            show(pull.setting, &tool.wrench.unit),
            words(tool.wrench.place(pull.setting))
        ));
    }
    finding
}

/// Wrenches named in the record that cannot do the figure they are said to have done.
pub(super) fn used(sheet: &Sheet<'_>, report: &mut Report) {
    let mut told = Vec::new();
    for line in &sheet.lines {
        let Some(pull) = line.pull() else { continue };
        let stage = sheet.stage_of(line);
        for seat in sheet.seats_of(line) {
            let Some(seat) = sheet.course.seats.get(seat) else {
                continue;
            };
            for done in seat.tightened().iter().filter(|done| done.stage == stage) {
                let Some(name) = done.wrench.as_deref() else {
                    continue;
                };
                let Some(tool) = sheet.asked.rack.named(name) else {
                    continue;
                };
                // What was pulled may be another figure than the book's; it has a finding of its own.
                let torque = done
                    .figure
                    .as_deref()
                    .and_then(|typed| spec::read(typed).ok())
                    .and_then(|said| said.value.largest_torque())
                    .unwrap_or(pull.torque);
                let place = tool.wrench.place(torque);
                if place.is_usable() || told.contains(&done.entry) {
                    continue;
                }
                told.push(done.entry);
                report.findings.push(
                    Finding::new(
                        "wrench-cannot",
                        format!("stage {stage}"),
                        format!(
                            "entry {}: on {}, {} is {}",
                            done.entry,
                            tool.name,
                            show(torque, &tool.wrench.unit),
                            words(place)
                        ),
                    )
                    .next(format!(
                        "pull again with a wrench that can; if another was used, `correct {}: …`",
                        done.entry
                    ))
                    .weight(Weight::Stop),
                );
            }
        }
    }
}
