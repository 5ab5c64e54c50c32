//! The limit for a short stretch: a step or hollow that a long limit forgives and a gasket
//! does not.

use calc::flatness::Point;
use calc::straightness::{Station, straightness};
use quantity::{Length, Quantity, show};
use report::{Figure, Report};

use super::direction::lines_of;
use super::{Flatness, Unanswerable, acts, shown};
use crate::limit::{Decision, Limit, Reading, decide};

/// A limit and the length it holds over: 0.05 mm in any 150 mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Local {
    /// The most any stretch may be out.
    pub limit: Limit<Length>,
    /// How long a stretch is.
    pub stretch: Length,
}

impl Local {
    /// Judges every stretch of the lines along and across; a grid too wide for three places
    /// in one stretch has measured none.
    pub(super) fn judge(
        &self,
        report: &mut Report,
        asked: &Flatness,
        points: &[Point],
        expanded: Option<Length>,
    ) -> Result<Decision, Unanswerable> {
        let along = lines_of(points, |point| (point.y, point.x));
        let across = lines_of(points, |point| (point.x, point.y));
        let mut worst: Option<Length> = None;
        for line in along.iter().chain(&across) {
            for stretch in self.stretches(line) {
                let zone = straightness(stretch)?.minimum_zone;
                worst = Some(worst.map_or(zone, |held| if zone > held { zone } else { held }));
            }
        }
        let over = show(self.stretch, &asked.plan);
        let label = format!("worst stretch of {over}");
        if let Some(worst) = worst {
            report.figures.push(Figure::new(
                "local",
                &label,
                worst,
                shown(worst, &asked.unit),
            ));
        }
        let reading = worst.map(|worst| Reading::exactly(worst).with(expanded));
        let mut decision = decide(
            &label,
            reading.as_ref(),
            &self.limit,
            &acts(expanded)?,
            &asked.unit,
        )?;
        if worst.is_none() {
            let half = Length::from_si(self.stretch.si() / 2.0)?;
            decision.settle = Some(format!(
                "lay a {over} straightedge along each line and step it on by half its length, or measure every {} and closer",
                show(half, &asked.plan)
            ));
        }
        Ok(decision)
    }

    /// The longest stretch from each station on that has three stations and more: a shorter
    /// one inside it is never worse.
    fn stretches<'a>(&self, line: &'a [Station]) -> impl Iterator<Item = &'a [Station]> {
        // A grid pitch that divides the stretch must not fall out by a rounding.
        let reach = self.stretch.si() * (1.0 + 1e-9);
        (0..line.len()).filter_map(move |from| {
            let start = line[from].along.si();
            let count = line[from..].partition_point(|station| station.along.si() - start <= reach);
            (count >= 3).then(|| &line[from..from + count])
        })
    }
}

#[cfg(test)]
mod tests {
    use quantity::Bound;
    use quantity::unit::MILLIMETRE;
    use report::Verdict;

    use super::*;
    use crate::flatness::{Height, judge};

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    /// A long shallow bow of 0.06 with a step of 0.06 at one place, every `pitch`.
    fn asked(pitch: f64, hollow_mm: f64) -> Flatness {
        let mut heights = Vec::new();
        for y in [0.0, 75.0, 150.0] {
            for at in 0..=(450.0 / pitch) as u32 {
                let x = f64::from(at) * pitch;
                let hollow = if (x, y) == (225.0, 75.0) {
                    hollow_mm
                } else {
                    0.0
                };
                heights.push(Height {
                    x: mm(x),
                    y: mm(y),
                    z: Bound::Exactly(mm(-hollow)),
                });
            }
        }
        let mut asked = Flatness::of(heights, MILLIMETRE);
        asked.limit = Some(Limit::most(mm(0.10)));
        asked.local = Some(Local {
            limit: Limit::most(mm(0.05)),
            stretch: mm(150.0),
        });
        asked
    }

    /// Source: one hollow of 0.06 between flat neighbours. *Computed: geometry.*
    #[test]
    fn a_short_hollow_breaks_the_local_limit_though_the_face_keeps_its_own() {
        let report = judge(&asked(75.0, 0.06));
        assert_eq!(report.verdict, Some(Verdict::Outside));
        assert!((report.figure("local").unwrap().value - 0.06e-3).abs() < 1e-9);
        assert_eq!(judge(&asked(75.0, 0.04)).verdict, Some(Verdict::Within));
    }

    #[test]
    fn a_grid_too_wide_for_the_stretch_has_not_measured_it_along() {
        let mut wide = asked(225.0, 0.0);
        wide.local.as_mut().unwrap().stretch = mm(100.0);
        let report = judge(&wide);
        assert_eq!(report.verdict, Some(Verdict::NotMeasured));
        let finding = report
            .findings
            .iter()
            .find(|found| found.concerns == "local");
        assert!(
            finding
                .unwrap()
                .next
                .as_ref()
                .unwrap()
                .contains("straightedge")
        );
    }
}
