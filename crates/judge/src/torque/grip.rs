//! What hand and wrench make of the stages: range, accuracy, marks, adapter, angle.

use calc::wrench::{Accuracy, Place};
use quantity::{Quantity, Torque, show, unit};
use report::{Finding, Report, Source, SourceKind, Weight};

use super::Seen;
use crate::tightening::{Lever, StageFault};
use crate::wrench::{Tool, that_would_do, words};

pub(super) fn findings(report: &mut Report, seen: &Seen<'_>) -> Result<(), StageFault> {
    range(report, seen);
    for (index, stage) in seen.stages.iter().enumerate() {
        let Some(pull) = stage.pull else { continue };
        let Some(tool) = seen.taken(stage) else {
            continue;
        };
        marks(report, seen, index, pull.setting, tool)?;
    }
    checks(report, seen);
    adapter(report, seen)?;
    angle(report, seen);
    Ok(())
}

/// A stage no wrench here may be used for, and one that is usable but low or high.
fn range(report: &mut Report, seen: &Seen<'_>) {
    if seen.asked.rack.tools.is_empty() {
        return;
    }
    report.cite(Source::new(
        SourceKind::Published,
        "US Army TM 1-1500-204-23-9: nothing promised below 20 % of scale, best between 30 and 80 %",
    ));
    for (index, stage) in seen.stages.iter().enumerate() {
        let Some(pull) = stage.pull else { continue };
        let concern = format!("stage {}", index + 1);
        match pull.place {
            None => report
                .findings
                .push(out_of_range(seen, concern, pull.setting)),
            Some(place @ (Place::Low | Place::High)) => report.findings.push(
                Finding::new(
                    "edge-of-range",
                    concern,
                    format!("{} is {}", seen.show(pull.setting), words(place)),
                )
                .weight(Weight::Note),
            ),
            Some(Place::Best | Place::BelowMarks | Place::BelowFifth | Place::AboveMarks) => {}
        }
    }
}

fn out_of_range(seen: &Seen<'_>, concern: String, setting: Torque) -> Finding {
    let mut finding = Finding::new(
        "out-of-range",
        concern,
        format!("no wrench here may be used for {}", seen.show(setting)),
    )
    .next(that_would_do(setting, &seen.unit))
    .weight(Weight::Stop);
    for tool in &seen.asked.rack.tools {
        if tool.handle.is_none() && matches!(seen.asked.lever, Lever::Under { .. }) {
            finding = finding.detail(format!(
                "{}: the length of its handle is not known",
                tool.name
            ));
            continue;
        }
        let place = tool.wrench.place(setting);
        finding = finding.detail(format!(
            "{}: {} is {}",
            tool.name,
            show::show(setting, &tool.wrench.unit),
            words(place)
        ));
    }
    finding
}

/// Every wrench taken whose check is due, or that measures the other way round, once.
fn checks(report: &mut Report, seen: &Seen<'_>) {
    let mut taken: Vec<usize> = seen
        .stages
        .iter()
        .filter_map(|stage| stage.pull?.take)
        .collect();
    taken.sort_unstable();
    taken.dedup();
    let rack = &seen.asked.rack;
    report.findings.extend(
        taken
            .into_iter()
            .filter_map(|tool| rack.check(tool, seen.asked.clockwise)),
    );
}

/// The step of the scale, and an accuracy stated of full scale.
fn marks(
    report: &mut Report,
    seen: &Seen<'_>,
    index: usize,
    setting: Torque,
    tool: &Tool,
) -> Result<(), StageFault> {
    let off = tool.wrench.may_be_off(setting)?;
    let share = off.si() / setting.si();
    report.because.push(format!(
        "Stage {}: the wrench may be off by {} ({:.0} %){}.",
        index + 1,
        seen.show(off),
        share * 100.0,
        if tool.accuracy_told {
            ""
        } else {
            ", by the usual accuracy, since its own was not told"
        },
    ));
    if matches!(tool.wrench.accuracy, Accuracy::OfFullScale(_)) && share > 0.06 {
        report.findings.push(
            Finding::new(
                "full-scale-accuracy",
                format!("stage {}", index + 1),
                format!(
                    "an accuracy of full scale means ±{:.0} % at this setting",
                    share * 100.0
                ),
            )
            .next("take a smaller wrench"),
        );
    }
    let setting = tool.wrench.setting(setting)?;
    let missed = setting.off.in_fraction().abs();
    if missed > 0.02 {
        report.findings.push(
            Finding::new(
                "between-marks",
                format!("stage {}", index + 1),
                format!(
                    "the nearest mark is {}, {:.0} % off",
                    show::show(setting.mark, &tool.wrench.unit),
                    missed * 100.0
                ),
            )
            .next("take a wrench with a finer scale"),
        );
    }
    Ok(())
}

fn adapter(report: &mut Report, seen: &Seen<'_>) -> Result<(), StageFault> {
    let (Some(adapter), Some((_, torque))) = (seen.adapter(), seen.last_torque()) else {
        return Ok(());
    };
    let uncorrected = adapter.delivered(torque)?;
    let wrong = uncorrected.si() / torque.si() - 1.0;
    report.because.push(if wrong.abs() < 0.005 {
        "Across the handle the adapter changes nothing, however long it is.".to_owned()
    } else {
        format!(
            "Set to {} without the correction, the bolt would get {} ({:+.0} %).",
            seen.show(torque),
            seen.show(uncorrected),
            wrong * 100.0
        )
    });
    report.because.push(
        "The handle counts from the drive to the centre of the grip; a hand elsewhere makes another lever. A straight extension needs no correction, and a wrench that was told its adapter must not be corrected twice.".to_owned(),
    );
    let share = adapter.share_of_handle()?;
    if share.in_percent() > 10.0 {
        report.findings.push(
            Finding::new(
                "long-adapter",
                "adapter",
                format!("it is {} of the handle", show::show_fixed(share, &unit::PERCENT, 0)),
            )
            .next("where the joint matters, try wrench and adapter on a tester, or set the adapter across at 90°")
            .weight(Weight::Note),
        );
    }
    report.cite(Source::new(
        SourceKind::Published,
        "US Navy training course 14315; US Army TM 1-1500-204-23-9; TM 9-254: lever correction",
    ));
    Ok(())
}

/// After an angle the torque is not known, and nothing is to be checked by it.
fn angle(report: &mut Report, seen: &Seen<'_>) {
    if !seen.ends_in_angle() {
        return;
    }
    report.findings.push(
        Finding::new(
            "ends-in-angle",
            "",
            "after the angle the torque is not known; no wrench reading confirms it",
        )
        .next("mark each head with paint before turning, or use an angle gauge; ask the maker whether the bolts are used once")
        .weight(Weight::Note),
    );
}
