//! Leak-down: air through a known orifice into a cylinder, and out by a leak of unknown size.
//!
//! Two testers with other orifices show other percentages for one leak. The size of an
//! equivalent hole makes them comparable. Where the air comes out is `judge`'s matter.

use libm::{pow, sqrt};
use quantity::{
    AbsolutePressure, Angle, Force, GaugePressure, Length, NotFinite, Quantity, Ratio, Torque,
};
use thiserror::Error;

use crate::crank::{CrankError, Cylinder};

/// Ratio of specific heats of air.
const GAMMA: f64 = 1.4;

/// Why a leak-down reading gives no answer.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LeakdownError {
    /// The supply must push air in.
    #[error("a supply of {pascals} Pa is not above zero")]
    Supply {
        /// The supply, gauge pascals.
        pascals: f64,
    },
    /// The cylinder cannot hold more than the supply gives, nor less than nothing.
    #[error("{held} Pa held lies outside zero to the supply of {supply} Pa")]
    Held {
        /// What the cylinder gauge shows, pascals.
        held: f64,
        /// The supply, pascals.
        supply: f64,
    },
    /// A loss lies between nothing and all.
    #[error("a loss of {percent} % is outside 0 % to 100 %")]
    Loss {
        /// The loss, per cent.
        percent: f64,
    },
    /// A hole has a size.
    #[error("an orifice of {mm} mm is not above zero")]
    Orifice {
        /// The diameter, millimetres.
        mm: f64,
    },
    /// The geometry gives no answer.
    #[error(transparent)]
    Crank(#[from] CrankError),
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// A leak-down tester: its supply and the orifice between its two gauges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tester {
    /// The supply, above the air around.
    pub supply: GaugePressure,
    /// Diameter of the orifice.
    pub orifice: Length,
    /// The air around.
    pub air: AbsolutePressure,
}

/// The share of the supply a cylinder loses.
///
/// # Formula
/// loss = (p_supply − p_held)/p_supply, gauge pressures
/// # Units
/// Gauge pressures; returns a fraction.
/// # Range
/// 0 ≤ held ≤ supply, supply above zero.
/// # Source
/// Definition.
/// # Errors
/// [`LeakdownError`] names the pressure.
/// # Example
/// ```
/// use quantity::GaugePressure;
/// let loss = calc::leakdown::loss(GaugePressure::psi(80.0)?, GaugePressure::psi(60.0)?)?;
/// assert!((loss.in_percent() - 25.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn loss(supply: GaugePressure, held: GaugePressure) -> Result<Ratio, LeakdownError> {
    if supply.si() <= 0.0 {
        return Err(LeakdownError::Supply {
            pascals: supply.si(),
        });
    }
    if held.si() < 0.0 || held > supply {
        return Err(LeakdownError::Held {
            held: held.si(),
            supply: supply.si(),
        });
    }
    Ok(Ratio::fraction((supply.si() - held.si()) / supply.si())?)
}

/// The pressure ratio at which air through a hole reaches the speed of sound.
///
/// # Formula
/// (2/(γ + 1))^(γ/(γ − 1)), γ = 1.4
/// # Units
/// Returns downstream over upstream absolute pressure.
/// # Range
/// Dry air at workshop temperatures.
/// # Source
/// Isentropic flow of a perfect gas.
/// # Errors
/// None in range; [`NotFinite`] by type.
/// # Example
/// ```
/// let ratio = calc::leakdown::critical_ratio()?;
/// assert!((ratio.in_fraction() - 0.528282).abs() < 1e-6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn critical_ratio() -> Result<Ratio, NotFinite> {
    Ratio::fraction(pow(2.0 / (GAMMA + 1.0), GAMMA / (GAMMA - 1.0)))
}

/// Area of the leak over area of the orifice, from what the two gauges show.
///
/// # Formula
/// A₂/A₁ = f(p₁, p₂)/f(p₂, p_air), f the isentropic flow through unit area, choked below the
/// critical ratio; both holes flow alike, so their coefficients cancel
/// # Units
/// `loss` a fraction of the supply; returns a plain ratio.
/// # Range
/// Loss from 0 up to, not including, 1.
/// # Source
/// Isentropic orifice flow. *Computed: float64.*
/// # Errors
/// [`LeakdownError`] names the loss or the supply.
/// # Example
/// ```
/// use quantity::{AbsolutePressure, GaugePressure, Length, Ratio};
/// let tester = calc::leakdown::Tester {
///     supply: GaugePressure::psi(80.0)?,
///     orifice: Length::inches(0.040)?,
///     air: AbsolutePressure::psi(14.696)?,
/// };
/// let areas = calc::leakdown::area_ratio(&tester, Ratio::percent(25.0)?)?;
/// assert!((areas.in_fraction() - 1.0586).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn area_ratio(tester: &Tester, loss: Ratio) -> Result<Ratio, LeakdownError> {
    check(tester)?;
    let share = loss.in_fraction();
    if !(0.0..1.0).contains(&share) {
        return Err(LeakdownError::Loss {
            percent: loss.in_percent(),
        });
    }
    let air = tester.air.in_pascals();
    let supply = air + tester.supply.si();
    let held = air + tester.supply.si() * (1.0 - share);
    Ok(Ratio::fraction(
        unit_flow(supply, held) / unit_flow(held, air),
    )?)
}

/// The hole that would leak as this cylinder does: the same for every tester.
///
/// # Formula
/// d₂ = d₁·√(A₂/A₁)
/// # Units
/// Returns a diameter.
/// # Range
/// As [`area_ratio`].
/// # Source
/// As [`area_ratio`].
/// # Errors
/// As [`area_ratio`].
/// # Example
/// ```
/// use quantity::{AbsolutePressure, GaugePressure, Length, Ratio};
/// let tester = calc::leakdown::Tester {
///     supply: GaugePressure::psi(80.0)?,
///     orifice: Length::inches(0.040)?,
///     air: AbsolutePressure::psi(14.696)?,
/// };
/// let hole = calc::leakdown::equivalent_hole(&tester, Ratio::percent(25.0)?)?;
/// assert!((hole.in_mm() - 1.045).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn equivalent_hole(tester: &Tester, loss: Ratio) -> Result<Length, LeakdownError> {
    let areas = area_ratio(tester, loss)?.in_fraction();
    Ok(Length::metres(tester.orifice.in_metres() * sqrt(areas))?)
}

/// The loss a tester would show for a hole of a size.
///
/// # Formula
/// Root of A₁·f(p₁, p₂) = A₂·f(p₂, p_air) in p₂, by bisection: the left side falls and the
/// right side rises with p₂, so there is exactly one
/// # Units
/// `hole` a diameter of zero and up; returns a fraction of the supply.
/// # Range
/// Any hole; 100 halvings, so exact to rounding.
/// # Source
/// As [`area_ratio`].
/// # Errors
/// [`LeakdownError`] names the orifice or the supply.
/// # Example
/// ```
/// use quantity::{AbsolutePressure, GaugePressure, Length};
/// let tester = calc::leakdown::Tester {
///     supply: GaugePressure::psi(80.0)?,
///     orifice: Length::inches(0.060)?,
///     air: AbsolutePressure::psi(14.696)?,
/// };
/// let loss = calc::leakdown::loss_through(&tester, Length::mm(1.0454)?)?;
/// assert!((80.0 * (1.0 - loss.in_fraction()) - 75.31).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn loss_through(tester: &Tester, hole: Length) -> Result<Ratio, LeakdownError> {
    check(tester)?;
    if hole.in_metres() < 0.0 {
        return Err(LeakdownError::Orifice { mm: hole.in_mm() });
    }
    let areas = {
        let share = hole.in_metres() / tester.orifice.in_metres();
        share * share
    };
    let air = tester.air.in_pascals();
    let supply = air + tester.supply.si();
    let (mut low, mut high) = (air, supply);
    for _ in 0..100 {
        let held = f64::midpoint(low, high);
        if unit_flow(supply, held) > areas * unit_flow(held, air) {
            low = held;
        } else {
            high = held;
        }
    }
    Ok(Ratio::fraction(
        (supply - f64::midpoint(low, high)) / tester.supply.si(),
    )?)
}

/// The force of the test air on the piston.
///
/// # Formula
/// F = p·π/4·B²
/// # Units
/// Gauge pressure; returns a force.
/// # Range
/// Any pressure.
/// # Source
/// Definition of pressure.
/// # Errors
/// [`LeakdownError::Crank`] for impossible geometry.
/// # Example
/// ```
/// use quantity::{GaugePressure, Length, Ratio};
/// let cylinder = calc::crank::Cylinder::new(
///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
/// let force = calc::leakdown::piston_force(&cylinder, GaugePressure::psi(80.0)?)?;
/// assert!((force.in_newtons() - 3204.0).abs() < 1.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn piston_force(cylinder: &Cylinder, held: GaugePressure) -> Result<Force, LeakdownError> {
    Ok(Force::newtons(
        held.si() * cylinder.area()?.in_square_metres(),
    )?)
}

/// The turning moment of the test air when the piston is not exactly at the top.
///
/// # Formula
/// T = F·dx/dθ
/// # Units
/// `off_top` a crank angle; returns a torque.
/// # Range
/// Any angle.
/// # Source
/// Virtual work on the slider-crank.
/// # Errors
/// As [`piston_force`].
/// # Example
/// ```
/// use quantity::{Angle, GaugePressure, Length, Ratio};
/// let cylinder = calc::crank::Cylinder::new(
///     Length::mm(86.0)?, Length::mm(86.0)?, Length::mm(143.0)?, Ratio::fraction(10.5)?)?;
/// let turning = calc::leakdown::crank_torque(&cylinder, GaugePressure::psi(80.0)?, Angle::degrees(5.0)?)?;
/// assert!((turning.in_newton_metres() - 15.6).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn crank_torque(
    cylinder: &Cylinder,
    held: GaugePressure,
    off_top: Angle,
) -> Result<Torque, LeakdownError> {
    let force = piston_force(cylinder, held)?.in_newtons();
    Ok(Torque::newton_metres(
        force * cylinder.lever(off_top)?.in_metres(),
    )?)
}

fn check(tester: &Tester) -> Result<(), LeakdownError> {
    if tester.supply.si() <= 0.0 {
        return Err(LeakdownError::Supply {
            pascals: tester.supply.si(),
        });
    }
    if tester.orifice.in_metres() <= 0.0 {
        return Err(LeakdownError::Orifice {
            mm: tester.orifice.in_mm(),
        });
    }
    Ok(())
}

/// Mass flow through unit area, up to a factor that is the same for both holes.
fn unit_flow(upstream: f64, downstream: f64) -> f64 {
    let critical = pow(2.0 / (GAMMA + 1.0), GAMMA / (GAMMA - 1.0));
    let ratio = (downstream / upstream).clamp(critical, 1.0);
    upstream * sqrt(pow(ratio, 2.0 / GAMMA) - pow(ratio, (GAMMA + 1.0) / GAMMA))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn tester(supply: f64, orifice: f64) -> Tester {
        Tester {
            supply: GaugePressure::psi(supply).unwrap(),
            orifice: Length::inches(orifice).unwrap(),
            air: AbsolutePressure::psi(14.696).unwrap(),
        }
    }

    fn held(tester: &Tester, hole: Length) -> f64 {
        tester.supply.in_psi() * (1.0 - loss_through(tester, hole).unwrap().in_fraction())
    }

    /// Source: isentropic orifice flow, supply 80 psi, orifice 0.040 in (FAA AC 43.13-1B, 1998,
    /// paragraph 8-14, *published*). *Computed by a general library (Python 3.11 floats).*
    #[test]
    fn e46_sixty_over_eighty() {
        let tester = tester(80.0, 0.040);
        let loss = Ratio::percent(25.0).unwrap();
        assert!((area_ratio(&tester, loss).unwrap().in_fraction() - 1.0586).abs() < 1e-3);
        assert!((equivalent_hole(&tester, loss).unwrap().in_mm() - 1.045).abs() < 1e-3);
    }

    /// Source: the same table at other readings. *Computed: float64.*
    #[test]
    fn area_ratios_at_other_losses() {
        for (percent, areas) in [
            (2.5, 0.3031),
            (10.0, 0.6253),
            (18.75, 0.8900),
            (50.0, 1.7220),
        ] {
            let loss = Ratio::percent(percent).unwrap();
            let got = area_ratio(&tester(80.0, 0.040), loss)
                .unwrap()
                .in_fraction();
            assert!((got - areas).abs() < 1e-4, "{percent} %: {got}");
        }
    }

    /// Source: the same leak through other testers. *Computed by a general library (scipy 1.17.1):
    /// isentropic orifice flow.*
    #[test]
    fn e47_one_leak_on_other_testers() {
        let hole = equivalent_hole(&tester(80.0, 0.040), Ratio::percent(25.0).unwrap()).unwrap();
        assert!((held(&tester(80.0, 0.060), hole) - 75.31).abs() < 0.05);
        assert!((held(&tester(80.0, 0.030), hole) - 35.6).abs() < 0.05);
        let loss = |supply| {
            loss_through(&tester(supply, 0.040), hole)
                .unwrap()
                .in_percent()
        };
        assert!((loss(100.0) - 24.2).abs() < 0.05);
        assert!((loss(60.0) - 26.3).abs() < 0.05);
    }

    /// Source: (2/(γ+1))^(γ/(γ−1)). *Computed by a general library (Python 3.11 floats):
    /// arithmetic.*
    #[test]
    fn e48_critical_ratio() {
        assert!((critical_ratio().unwrap().in_fraction() - 0.528_282).abs() < 1e-6);
    }

    #[test]
    fn readings_that_cannot_be_are_refused() {
        let psi = |p| GaugePressure::psi(p).unwrap();
        assert!(matches!(
            loss(psi(0.0), psi(0.0)),
            Err(LeakdownError::Supply { .. })
        ));
        assert!(matches!(
            loss(psi(80.0), psi(81.0)),
            Err(LeakdownError::Held { .. })
        ));
        let all = Ratio::percent(100.0).unwrap();
        assert!(matches!(
            area_ratio(&tester(80.0, 0.04), all),
            Err(LeakdownError::Loss { .. })
        ));
        assert!(matches!(
            loss_through(&tester(80.0, 0.0), Length::mm(1.0).unwrap()),
            Err(LeakdownError::Orifice { .. })
        ));
    }

    proptest! {
        /// E-P3: the loss grows with the hole; hole and loss undo each other.
        #[test]
        fn ep3_loss_grows_with_the_hole(mm in 0.05..3.0f64, more in 0.01..1.0f64) {
            let tester = tester(80.0, 0.040);
            let hole = |mm| Length::mm(mm).unwrap();
            let loss = loss_through(&tester, hole(mm)).unwrap();
            prop_assert!(loss_through(&tester, hole(mm + more)).unwrap() > loss);
            let back = equivalent_hole(&tester, loss).unwrap().in_mm();
            prop_assert!((back - mm).abs() < 1e-6 * (1.0 + mm));
        }
    }
}
