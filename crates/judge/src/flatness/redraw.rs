//! How far the flatness moves when every reading is drawn anew inside its interval.
//!
//! A range only grows with noise, so the interval is not even about the value: what a
//! perfectly flat face would show with the same readings is said beside it.

use calc::flatness::{Point, flatness};
use calc::uncertainty::{Draws, Scatter, combined, redraw};
use quantity::{Bound, Length, Quantity, Range, Unit, show};
use report::{Figure, Finding, Report, Source, SourceKind, Weight};

use super::{Flatness, Unanswerable};

/// Draws; the ends of the interval are then known to about a tenth of its width.
const DRAWS: usize = 400;
/// Points beyond which redrawing would take longer than it is worth.
pub(super) const MOST_POINTS: usize = 5_000;

/// What redrawing showed.
pub(super) struct Redrawn {
    face: Scatter,
    flat: Scatter,
    zone: Length,
}

impl Redrawn {
    /// Redraws the readings that are intervals; nothing where there are none.
    pub(super) fn of(
        asked: &Flatness,
        points: &[Point],
        zone: Length,
    ) -> Result<Option<Self>, Unanswerable> {
        let halves: Vec<f64> = asked
            .heights
            .iter()
            .map(|height| match height.z {
                Bound::Between(Range { low, high }) => (high.si() - low.si()) / 2.0,
                Bound::Exactly(_) | Bound::Below(_) | Bound::Above(_) => 0.0,
            })
            .collect();
        if halves.iter().all(|&half| half == 0.0) || points.len() > MOST_POINTS {
            return Ok(None);
        }
        let once = |draws: &mut Draws, real: bool| {
            let mut drawn = Vec::with_capacity(points.len());
            for (point, half) in points.iter().zip(&halves) {
                let base = if real { point.z.si() } else { 0.0 };
                let z = Length::from_si(base + draws.between(-half, *half))?;
                drawn.push(Point { z, ..*point });
            }
            Ok(flatness(&drawn)?.minimum_zone)
        };
        Self::by(asked.seed, zone, once).map(Some)
    }

    /// Redraws by a rule of the caller's: the zone of one draw, about the readings where
    /// `real`, about a perfectly flat face where not.
    pub(super) fn by(
        seed: u64,
        zone: Length,
        mut once: impl FnMut(&mut Draws, bool) -> Result<Length, Unanswerable>,
    ) -> Result<Self, Unanswerable> {
        let face = redraw(DRAWS, seed, |draws| once(draws, true))?;
        let flat = redraw(DRAWS, seed, |draws| once(draws, false))?;
        Ok(Self { face, flat, zone })
    }

    /// Expanded uncertainty of the flatness: the farther end of the redrawn interval, with
    /// what the instrument adds.
    pub(super) fn expanded(
        &self,
        instrument: Option<Length>,
    ) -> Result<Option<Length>, Unanswerable> {
        let far = (self.face.high.si() - self.zone.si())
            .max(self.zone.si() - self.face.low.si())
            .max(0.0);
        let mut shares = vec![Length::from_si(far)?];
        shares.extend(instrument);
        Ok(Some(combined(&shares)?))
    }

    /// Says what was found.
    pub(super) fn tell(&self, report: &mut Report, unit: &Unit) {
        report.figures.push(
            Figure::new(
                "noise_floor",
                "a perfectly flat face would show",
                self.flat.mean,
                show(self.flat.mean, unit),
            )
            .between(self.flat.low, self.flat.high)
            .note("with these intervals at these places; noise only ever adds"),
        );
        report.findings.push(
            Finding::new(
                "noise-adds",
                "",
                format!(
                    "redrawn inside their intervals, the readings give {} on average and {} to {} in 95 %",
                    show(self.face.mean, unit),
                    show(self.face.low, unit),
                    show(self.face.high, unit)
                ),
            )
            .weight(Weight::Note),
        );
        report.cite(Source::new(
            SourceKind::Published,
            "JCGM 101:2008, propagation by drawing; from memory",
        ));
    }
}
