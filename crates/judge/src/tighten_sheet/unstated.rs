//! Bolts the book has no figure for: an estimate for small joints nothing hangs on, and none
//! at all where something does.

use book::{Condition, Critical, Holds, Hole};
use calc::strip::HoleMaterial;
use calc::torque::estimate::{Ruling, Unspecified};
use quantity::{Length, unit};
use report::{Finding, Report, Weight};

use super::Sheet;
use crate::fastener;
use crate::torque::unstated;

/// A joint without any figure.
pub(super) fn add(sheet: &Sheet<'_>, report: &mut Report) {
    if let Some(critical) = sheet.course.joint.critical {
        report.headline =
            Some("No figure, and none is suggested: this joint must hold.".to_owned());
        report.findings.push(where_to_look(sheet, critical));
        return;
    }
    let Some(seat) = sheet.course.seats.first() else {
        return;
    };
    let Some(thread) = fastener::thread(&seat.hole.thread) else {
        report.headline = Some("No figure in the book, and the thread is not known.".to_owned());
        report.findings.push(
            Finding::new("no-figure", sheet.course.label.clone(), "the book says nothing of its tightness")
                .next("find the maker's figure; failing that, write thread and strength mark into the book for an estimate"),
        );
        return;
    };
    let question = unstated::Question {
        known: Unspecified {
            thread,
            class: fastener::class(&seat.hole.grade),
            hole: material(sheet),
            engagement: engagement(seat.hole),
            rulings: rulings(sheet, seat.hole),
        },
        joint: Some(sheet.course.label.clone()),
        unit: unit::NEWTON_METRE,
    };
    let found = unstated::judge(&question);
    report.headline = if found.refused {
        Some("No figure in the book, and no estimate.".to_owned())
    } else {
        found.headline
    };
    // Without a figure nothing is refused: the sheet still says which bolts in which turn.
    report
        .findings
        .extend(found.findings.into_iter().map(|finding| Finding {
            weight: finding.weight.min(Weight::Look),
            ..finding
        }));
    report.figures.extend(found.figures);
    report.asks.extend(found.asks);
    report.because.extend(found.because);
    report.cautions.extend(found.cautions);
    for source in found.sources {
        report.cite(source);
    }
}

/// Some bolts of a joint without a figure of their own.
pub(super) fn some(sheet: &Sheet<'_>, report: &mut Report) {
    let without: Vec<usize> = (0..sheet.course.seats.len())
        .filter(|&at| {
            sheet
                .course
                .seats
                .get(at)
                .is_some_and(|seat| seat.group.is_none())
        })
        .collect();
    if !without.is_empty() {
        report.findings.push(
            Finding::new(
                "no-figure",
                sheet.course.runs(&without),
                "the book has no figure for these",
            )
            .next("look in the maker's book; write `tighten \"…\" holes=…`"),
        );
    }
}

fn where_to_look(sheet: &Sheet<'_>, critical: Critical) -> Finding {
    let section = match critical {
        Critical::Head => "the cylinder head section, with the order and whether bolts are new",
        Critical::Rod | Critical::Main => "the short engine section, by engine code",
        Critical::Flywheel => "the clutch or drive plate section",
        Critical::Cam => "the cam drive section",
        Critical::Brake => "the brake section",
        Critical::Steering | Critical::Suspension => {
            "the chassis section, often with new nuts and the car on its wheels"
        }
        Critical::Restraint => "the restraint section; it may be work for a licensed trade",
    };
    Finding::new(
        "no-figure",
        sheet.course.label.clone(),
        format!("critical ({}), and the book states no figure", critical.word()),
    )
    .points_to(format!("the maker's book for this engine and year: {section}"))
    .next("write it into book.kdl: tighten \"…\" condition=… source=maker; do not finish the joint before")
    .weight(Weight::Stop)
}

/// What the base part is made of, where the book says it.
fn material(sheet: &Sheet<'_>) -> Option<HoleMaterial> {
    let base = sheet.asked.state.known.part(&sheet.course.joint.to.id)?;
    match base.material.known()?.as_str() {
        "aluminium" | "aluminum" => Some(HoleMaterial::CastAluminium),
        "iron" => Some(HoleMaterial::GreyIron),
        "steel" => Some(HoleMaterial::Steel),
        _ => None,
    }
}

/// How much thread meets: what stands out below the clamped parts, at most the depth.
fn engagement(hole: &Hole) -> Option<Length> {
    let out = hole.length.known()?.in_mm() - hole.grip.known()?.in_mm();
    let washer = hole.washer.known().map_or(0.0, |washer| {
        let count = f64::from(washer.count);
        washer
            .thickness
            .known()
            .map_or(0.0, |thick| count * thick.in_mm())
    });
    let deep = hole
        .thread_depth
        .known()
        .map_or(f64::INFINITY, |deep| deep.in_mm());
    Length::mm((out - washer).min(deep))
        .ok()
        .filter(|met| met.in_mm() > 0.0)
}

fn rulings(sheet: &Sheet<'_>, hole: &Hole) -> Vec<Ruling> {
    let mut rulings = Vec::new();
    match hole.holds {
        Holds::Stud | Holds::Nut => rulings.push(Ruling::Stud),
        Holds::Plug | Holds::Banjo => rulings.push(Ruling::SpecialScrew),
        Holds::Bolt
        | Holds::Screw
        | Holds::Dowel
        | Holds::Clip
        | Holds::Nothing
        | Holds::Other(_) => {}
    }
    if hole
        .sealant
        .known()
        .is_some_and(|what| what.contains("lock"))
        || sheet
            .course
            .joint
            .tighten
            .iter()
            .any(|held| held.condition.known() == Some(&Condition::Locked))
    {
        rulings.push(Ruling::Threadlocked);
    }
    rulings
}
