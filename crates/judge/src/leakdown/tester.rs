//! The tester behind a loss: how true it is, how well it repeats, what hole a loss stands for
//! and what another tester would show for it.

use calc::altitude::standard_pressure;
use calc::leakdown::{LeakdownError, Tester, equivalent_hole, loss_through};
use calc::repeatability::real_difference;
use quantity::unit::PERCENT;
use quantity::{AbsolutePressure, GaugePressure, Length, Ratio, show_fixed};
use report::{Figure, Report, Verdict};

use super::{Leakdown, Unanswerable};

/// Points of loss a reading must lie away from a limit to be told from it, where nothing is
/// known of the tester. *Common practice, no source*: testers are read to about two points.
const READ_TO: f64 = 0.02;
/// Points of loss a reading comes back to when it is repeated, where nobody measured it.
/// *Common practice, no source*: half of what a tester is read to.
const REPEATS_TO: f64 = 0.01;
/// Points between cylinders that the tuning trade lets pass. *Common practice, no source.*
pub(super) const BETWEEN: f64 = 0.05;

/// A tester with another supply or orifice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OtherTester {
    /// Its supply pressure.
    pub supply: GaugePressure,
    /// Its orifice.
    pub orifice: Length,
}

/// How near to a limit a loss is too near to call: how true the tester is and how well it
/// repeats, which are independent of each other.
pub(super) fn margin(asked: &Leakdown) -> f64 {
    match (asked.accuracy, asked.repeatability) {
        (None, None) => READ_TO,
        (accuracy, repeats) => libm::hypot(
            accuracy.map_or(READ_TO, Ratio::in_fraction),
            repeats.map_or(REPEATS_TO, Ratio::in_fraction),
        ),
    }
}

/// The least difference between two cylinders that is likely real on this tester.
fn real(asked: &Leakdown) -> Result<Ratio, Unanswerable> {
    let scatter = match asked.repeatability {
        Some(scatter) => scatter,
        None => Ratio::fraction(REPEATS_TO)?,
    };
    Ok(real_difference(scatter, 1)?)
}

fn air(asked: &Leakdown) -> Result<AbsolutePressure, Unanswerable> {
    Ok(match asked.height {
        Some(height) => standard_pressure(height)?,
        None => AbsolutePressure::kilopascals(101.325)?,
    })
}

pub(super) fn holes(asked: &Leakdown) -> Result<Option<Vec<Option<Length>>>, Unanswerable> {
    for loss in asked.loss.iter().flatten() {
        if !(0.0..=1.0).contains(&loss.in_fraction()) {
            return Err(LeakdownError::Loss {
                percent: loss.in_percent(),
            }
            .into());
        }
    }
    let (Some(supply), Some(orifice)) = (asked.supply, asked.orifice) else {
        return Ok(None);
    };
    let tester = Tester {
        supply,
        orifice,
        air: air(asked)?,
    };
    let hole = |loss: &Option<Ratio>| {
        loss.filter(|loss| loss.in_fraction() < 1.0)
            .map(|loss| equivalent_hole(&tester, loss))
            .transpose()
    };
    Ok(Some(asked.loss.iter().map(hole).collect::<Result<_, _>>()?))
}

/// What another tester would show for the same holes.
pub(super) fn elsewhere(
    asked: &Leakdown,
    holes: Option<&[Option<Length>]>,
) -> Result<Option<Vec<Option<Ratio>>>, Unanswerable> {
    let (Some(other), Some(holes)) = (asked.other, holes) else {
        return Ok(None);
    };
    let tester = Tester {
        supply: other.supply,
        orifice: other.orifice,
        air: air(asked)?,
    };
    let loss = |hole: &Option<Length>| hole.map(|hole| loss_through(&tester, hole)).transpose();
    Ok(Some(holes.iter().map(loss).collect::<Result<_, _>>()?))
}

/// The widest difference between cylinders, which a tester that reads wrong shows all the same.
pub(super) fn figures(asked: &Leakdown, report: &mut Report) -> Result<(), Unanswerable> {
    let read = || asked.loss.iter().flatten().map(|loss| loss.in_fraction());
    let (most, least) = (read().fold(0.0, f64::max), read().fold(1.0, f64::min));
    if read().count() < 2 {
        return Ok(());
    }
    let apart = Ratio::fraction(most - least)?;
    let real = real(asked)?;
    report.figures.push(
        Figure::new("apart", "between cylinders", apart, points(apart)).note(format!(
            "{}; real beyond {}",
            if apart > real {
                "a real difference"
            } else {
                "no more than the tester may do on its own"
            },
            points(real)
        )),
    );
    Ok(())
}

pub(super) fn tenths(ratio: Ratio) -> String {
    show_fixed(ratio, &PERCENT, 1)
}

/// A difference of two losses: points, not per cent of anything.
fn points(ratio: Ratio) -> String {
    points_of(ratio.in_fraction())
}

pub(super) fn points_of(fraction: f64) -> String {
    format!("{:.0} points", fraction * 100.0)
}

/// How the losses moved between two sets on one tester: *outside* where a cylinder loses more,
/// *within* where one loses less and none more, *undecided* where nothing moved by more than
/// the tester scatters.
#[must_use]
pub fn moved(before: &[Option<Ratio>], after: &[Option<Ratio>]) -> Option<Verdict> {
    let scatter = Ratio::fraction(REPEATS_TO).ok()?;
    let real = real_difference(scatter, 1).ok()?.in_fraction();
    let changes: Vec<f64> = before
        .iter()
        .zip(after)
        .filter_map(|(before, after)| Some((*after)?.in_fraction() - (*before)?.in_fraction()))
        .collect();
    if changes.is_empty() {
        return None;
    }
    Some(if changes.iter().any(|change| *change > real) {
        Verdict::Outside
    } else if changes.iter().any(|change| *change < -real) {
        Verdict::Within
    } else {
        Verdict::Undecided
    })
}
