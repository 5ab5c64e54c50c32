//! The lines of a grid by direction: how straight each is along and across, and the limits that
//! hold for one direction only.

use calc::flatness::Point;
use calc::straightness::{Station, straightness};
use quantity::{Length, Quantity};
use report::{Figure, Report};

use super::{Flatness, Unanswerable, acts, shown};
use crate::limit::{Decision, Reading, decide, gravity};

/// Straightness of every line of the grid, by direction.
pub(super) fn judge(
    report: &mut Report,
    asked: &Flatness,
    points: &[Point],
    expanded: Option<Length>,
) -> Result<(), Unanswerable> {
    let along = worst(points, |point| (point.y, point.x))?;
    let across = worst(points, |point| (point.x, point.y))?;
    let found = [
        ("along", "worst line along", along, &asked.along),
        ("across", "worst line across", across, &asked.across),
    ];
    let mut decisions: Vec<(&str, Decision)> = Vec::new();
    if let Some(local) = &asked.local {
        decisions.push(("local", local.judge(report, asked, points, expanded)?));
    }
    for (name, label, worst, limit) in found {
        if let Some(worst) = worst {
            report
                .figures
                .push(Figure::new(name, label, worst, shown(worst, &asked.unit)));
        }
        if let Some(limit) = limit {
            let reading = worst.map(|worst| Reading::exactly(worst).with(expanded));
            decisions.push((
                name,
                decide(
                    label,
                    reading.as_ref(),
                    limit,
                    &acts(expanded)?,
                    &asked.unit,
                )?,
            ));
        }
    }
    for (name, decision) in decisions {
        report.because.push(format!("{name}: {}", decision.says));
        report.findings.extend(decision.finding(name));
        if worse(Some(decision.verdict), report.verdict) {
            report.verdict = Some(decision.verdict);
            report.headline = Some(decision.says);
        }
    }
    Ok(())
}

/// Whether a verdict of one direction overrides the one held so far.
fn worse(new: Option<report::Verdict>, held: Option<report::Verdict>) -> bool {
    new.map(gravity) > held.map(gravity)
}

/// The worst straightness of lines of three and more points that share a coordinate.
fn worst(
    points: &[Point],
    of: impl Fn(&Point) -> (Length, Length),
) -> Result<Option<Length>, Unanswerable> {
    let mut worst: Option<Length> = None;
    for stations in lines_of(points, of) {
        let zone = straightness(&stations)?.minimum_zone;
        worst = Some(worst.map_or(zone, |held| if zone > held { zone } else { held }));
    }
    Ok(worst)
}

/// Lines of three and more points that share a coordinate, each in order along itself.
pub(super) fn lines_of(
    points: &[Point],
    of: impl Fn(&Point) -> (Length, Length),
) -> Vec<Vec<Station>> {
    let mut sorted: Vec<(Length, Length, Length)> = points
        .iter()
        .map(|point| {
            let (line, along) = of(point);
            (line, along, point.z)
        })
        .collect();
    sorted.sort_by(|a, b| {
        a.0.si()
            .total_cmp(&b.0.si())
            .then(a.1.si().total_cmp(&b.1.si()))
    });
    sorted
        .chunk_by(|a, b| a.0 == b.0)
        .filter(|line| line.len() >= 3)
        .map(|line| {
            line.iter()
                .map(|&(_, along, height)| Station { along, height })
                .collect()
        })
        .collect()
}
