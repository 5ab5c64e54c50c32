//! What the figure does: the preload it brings, in one line with no more digits than are true,
//! and what a second pass does to the evenness of the bolts.

use book::Condition;
use calc::fastener::{Head, bearing, proof_load};
use calc::interaction::Interaction;
use calc::preload::{self, friction::FrictionClass};
use quantity::{Force, Quantity, Range, Ratio};
use report::{Figure, Report, Source, SourceKind};

use super::Sheet;
use crate::fastener;
use crate::preload::two_digits;
use crate::tighten_joint::order::Shape;

/// Adds both lines.
pub(super) fn add(sheet: &Sheet<'_>, report: &mut Report) {
    preload_line(sheet, report);
    second_pass(sheet, report);
}

fn friction(condition: Option<Condition>) -> Option<Range<Ratio>> {
    let of = |low: FrictionClass, high: FrictionClass| {
        Some(Range {
            low: low.range().ok()?.low,
            high: high.range().ok()?.high,
        })
    };
    match condition {
        Some(Condition::Oiled | Condition::Lubricated) => of(FrictionClass::B, FrictionClass::B),
        Some(Condition::Sealed | Condition::Locked) => of(FrictionClass::C, FrictionClass::C),
        Some(Condition::Dry) => of(FrictionClass::C, FrictionClass::D),
        None => of(FrictionClass::B, FrictionClass::D),
    }
}

/// The preload of a joint that ends in a torque. After an angle the torque says nothing of it.
fn preload_line(sheet: &Sheet<'_>, report: &mut Report) {
    let last = sheet.stages();
    let line = sheet
        .lines
        .iter()
        .find(|line| usize::try_from(sheet.stage_of(line)) == Ok(last) && line.turns().is_none());
    let Some((line, pull)) = line.and_then(|line| Some((line, line.pull()?))) else {
        return;
    };
    let Some(seat) = sheet
        .seats_of(line)
        .first()
        .and_then(|&at| sheet.course.seats.get(at))
    else {
        return;
    };
    let Some(thread) = fastener::thread(&seat.hole.thread) else {
        return;
    };
    let scatter = Ratio::percent(4.0);
    let reckoned = (|| {
        let face = bearing(&thread, Head::Hexagon).ok()?.mean_diameter;
        let friction = friction(sheet.condition(line.group))?;
        preload::range(pull.torque, &thread, face, friction, scatter.ok()?).ok()
    })();
    let Some(range) = reckoned else { return };
    let mut says = format!(
        "{} pulls each bolt to about {} to {}; friction decides where in between.",
        line.stage.spec.typed,
        two_digits(range.low.in_kilonewtons()),
        kilonewtons(range.high),
    );
    let proof = fastener::class(&seat.hole.grade).and_then(|class| proof_load(&thread, class).ok());
    if let Some(proof) = proof {
        let share = |force: Force| 5.0 * (20.0 * force.si() / proof.si()).round();
        says.push_str(&format!(
            " That is {:.0} to {:.0} % of what a {} bolt is proved to.",
            share(range.low),
            share(range.high),
            seat.hole.grade.known().map_or("", String::as_str)
        ));
    }
    report.because.push(says);
    report.cite(Source::new(
        SourceKind::Published,
        "VDI 2230, friction classes; torque from preload, long form",
    ));
    if sheet.asked.why {
        let middle = Force::from_si(0.5 * (range.low.si() + range.high.si()));
        if let Ok(middle) = middle {
            report.figures.push(
                Figure::new(
                    "preload",
                    "preload",
                    middle,
                    format!(
                        "{} to {}",
                        two_digits(range.low.in_kilonewtons()),
                        kilonewtons(range.high)
                    ),
                )
                .between(range.low, range.high),
            );
        }
    }
}

fn kilonewtons(force: Force) -> String {
    format!("{} kN", two_digits(force.in_kilonewtons()))
}

/// How much of its load a neighbour takes from a bolt in the demonstration, and the next but one.
const NEIGHBOURS: [f64; 2] = [-0.15, -0.05];

/// The spread of clamp force after each of four passes, as shares of the force aimed at.
fn spread(sheet: &Sheet<'_>) -> Option<Vec<f64>> {
    let count = sheet.course.seats.len();
    let holes: Vec<&book::Hole> = sheet.course.seats.iter().map(|seat| seat.hole).collect();
    // Where each bolt stands along the joint, counted by name.
    let mut along = vec![0; count];
    for (stands, at) in crate::tighten_joint::order::by_name(&holes)
        .into_iter()
        .enumerate()
    {
        *along.get_mut(at)? = stands;
    }
    let ring = sheet.course.order.shape == Shape::Ring;
    let coefficient = |one: usize, two: usize| {
        let apart = along[one].abs_diff(along[two]);
        let apart = if ring {
            apart.min(count - apart)
        } else {
            apart
        };
        let value = match apart {
            0 => 1.0,
            near => NEIGHBOURS.get(near - 1).copied().unwrap_or(0.0),
        };
        Ratio::fraction(value).ok()
    };
    let rows: Option<Vec<Vec<Ratio>>> = (0..count)
        .map(|one| (0..count).map(|two| coefficient(one, two)).collect())
        .collect();
    let model = Interaction::new(&rows?).ok()?;
    let order: Vec<usize> = (0..count).collect();
    let aim = Force::kilonewtons(1.0).ok()?;
    let passes = model.passes(&order, &[aim; 4]).ok()?;
    let spreads = passes.iter().map(|loads| {
        let most = loads
            .iter()
            .map(|load| load.si())
            .fold(f64::NEG_INFINITY, f64::max);
        let least = loads
            .iter()
            .map(|load| load.si())
            .fold(f64::INFINITY, f64::min);
        (most - least) / aim.si()
    });
    Some(spreads.collect())
}

fn second_pass(sheet: &Sheet<'_>, report: &mut Report) {
    if sheet.course.seats.len() < 3 {
        return;
    }
    let last = sheet.stages();
    let ends_in_angle = sheet
        .lines
        .iter()
        .any(|line| usize::try_from(sheet.stage_of(line)) == Ok(last) && line.turns().is_some());
    if ends_in_angle {
        report.because.push(
            "No second pass at the end: an angle turned twice stretches the bolt. A pull at the first torque before turning evens the bolts out.".to_owned(),
        );
    }
    let Some(spread) = spread(sheet) else { return };
    let (Some(first), Some(second)) = (spread.first(), spread.get(1)) else {
        return;
    };
    if !ends_in_angle {
        report.because.push(format!(
            "A second full pass evens the clamp force: in a linear model the bolts differ by {:.0} % after one, by {:.0} % after two.",
            100.0 * first,
            100.0 * second
        ));
    }
    if sheet.asked.why {
        let names = [
            "spread_first",
            "spread_second",
            "spread_third",
            "spread_fourth",
        ];
        let labels = [
            "spread, one pass",
            "spread, two passes",
            "spread, three",
            "spread, four",
        ];
        for ((name, label), share) in names.into_iter().zip(labels).zip(&spread) {
            report.figures.push(Figure::number(
                name,
                label,
                *share,
                format!("{:.1} %", 100.0 * share),
            ));
        }
        report.because.push(
            "Model: a bolt tightened takes 15 % of its gain from each neighbour, 5 % from the next but one. A gasket is not linear: a demonstration, not a list of torques.".to_owned(),
        );
        report.cite(Source::new(
            SourceKind::Published,
            "elastic interaction method, US patent 5,278,775, abstract; coefficients chosen to show it",
        ));
    }
}
