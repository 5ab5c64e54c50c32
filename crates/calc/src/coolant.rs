//! What to pour so that a partly drained system ends at the strength wanted.
//!
//! Strength is a volume fraction of concentrate, volumes before mixing. Freezing and boiling
//! stand in [`crate::coolant_freezing`] and [`crate::coolant_boiling`].

use libm::{ceil, log, pow};
use quantity::{NotFinite, Ratio, Volume};
use thiserror::Error;

/// Why a mixture gives no answer.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum CoolantError {
    /// A volume must be above zero.
    #[error("{what} of {litres} L is not above zero")]
    NotPositive {
        /// Which volume.
        what: &'static str,
        /// Its value, litres.
        litres: f64,
    },
    /// More came out than the system holds.
    #[error("{drained} L drained is more than the capacity of {capacity} L")]
    DrainedTooMuch {
        /// What came out, litres.
        drained: f64,
        /// What the system holds, litres.
        capacity: f64,
    },
    /// A strength lies between water and concentrate.
    #[error("{what} of {percent} % is outside 0 % to 100 %")]
    Strength {
        /// Which strength.
        what: &'static str,
        /// Its value, per cent.
        percent: f64,
    },
    /// A result was no finite number.
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// A system that was drained as far as it will.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drained {
    capacity: Volume,
    drained: Volume,
    inside: Ratio,
}

/// What to pour, and what comes of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pour {
    /// Concentrate to pour.
    pub concentrate: Volume,
    /// Water to pour.
    pub water: Volume,
    /// The strength then reached.
    pub reached: Ratio,
    /// Whether that is the strength wanted.
    pub reachable: bool,
}

impl Drained {
    /// A drained system: what it holds, what came out, how strong the rest is.
    ///
    /// # Errors
    /// [`CoolantError`] names the figure.
    pub fn new(capacity: Volume, drained: Volume, inside: Ratio) -> Result<Self, CoolantError> {
        for (what, volume) in [("a capacity", capacity), ("a drained volume", drained)] {
            if volume.in_litres() <= 0.0 {
                return Err(CoolantError::NotPositive {
                    what,
                    litres: volume.in_litres(),
                });
            }
        }
        if drained > capacity {
            return Err(CoolantError::DrainedTooMuch {
                drained: drained.in_litres(),
                capacity: capacity.in_litres(),
            });
        }
        strength("the strength inside", inside)?;
        Ok(Self {
            capacity,
            drained,
            inside,
        })
    }

    /// What stays inside.
    #[must_use]
    pub fn left(&self) -> Volume {
        self.capacity - self.drained
    }

    /// The share of the capacity that drains.
    ///
    /// # Errors
    /// None in range; [`CoolantError::NotFinite`] by type.
    pub fn share(&self) -> Result<Ratio, CoolantError> {
        Ok(Ratio::fraction(
            self.drained.in_litres() / self.capacity.in_litres(),
        )?)
    }

    /// The strength after filling up with a mix.
    ///
    /// # Formula
    /// c = (c₀·(V − D) + m·D)/V
    /// # Units
    /// `mix` a volume fraction of concentrate; returns one.
    /// # Range
    /// Mix from 0 to 1.
    /// # Source
    /// Volume balance.
    /// # Errors
    /// [`CoolantError::Strength`] names the mix.
    /// # Example
    /// ```
    /// use quantity::{Ratio, Volume};
    /// let system = calc::coolant::Drained::new(Volume::litres(8.0)?, Volume::litres(5.0)?, Ratio::percent(0.0)?)?;
    /// let reached = system.filled_with(Ratio::percent(50.0)?)?;
    /// assert!((reached.in_percent() - 31.25).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn filled_with(&self, mix: Ratio) -> Result<Ratio, CoolantError> {
        strength("a mix", mix)?;
        let held = self.inside.in_fraction() * self.left().in_litres();
        let poured = mix.in_fraction() * self.drained.in_litres();
        Ok(Ratio::fraction(
            (held + poured) / self.capacity.in_litres(),
        )?)
    }

    /// What to pour to come as near to a strength as one fill can.
    ///
    /// # Formula
    /// concentrate = t·V − c₀·(V − D), kept between 0 and D; water = D − concentrate
    /// # Units
    /// `target` a volume fraction of concentrate; returns volumes.
    /// # Range
    /// Target from 0 to 1.
    /// # Source
    /// Volume balance.
    /// # Errors
    /// [`CoolantError::Strength`] names the target.
    /// # Example
    /// ```
    /// use quantity::{Ratio, Volume};
    /// let system = calc::coolant::Drained::new(Volume::litres(8.0)?, Volume::litres(5.0)?, Ratio::percent(0.0)?)?;
    /// let pour = system.pour_for(Ratio::percent(50.0)?)?;
    /// assert!((pour.concentrate.in_litres() - 4.0).abs() < 1e-9 && pour.reachable);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn pour_for(&self, target: Ratio) -> Result<Pour, CoolantError> {
        strength("a target", target)?;
        let room = self.drained.in_cubic_metres();
        let wanted = target.in_fraction() * self.capacity.in_cubic_metres()
            - self.inside.in_fraction() * self.left().in_cubic_metres();
        let concentrate = wanted.clamp(0.0, room);
        // The ends of what one fill can do count as reached; rounding must not say otherwise.
        let rounding = 1e-9 * self.capacity.in_cubic_metres();
        Ok(Pour {
            concentrate: Volume::cubic_metres(concentrate)?,
            water: Volume::cubic_metres(room - concentrate)?,
            reached: self.filled_with(Ratio::fraction(concentrate / room)?)?,
            reachable: (concentrate - wanted).abs() <= rounding,
        })
    }

    /// The mix a second drain and fill needs after a first that fell short.
    ///
    /// # Formula
    /// m = (t − (1 − f)·c₁)/f, f = D/V; the same share drains again, well mixed
    /// # Units
    /// `after_first` and `target` volume fractions; returns one, which may lie outside 0 to 1.
    /// # Range
    /// Well mixed: the thermostat must have opened between the two.
    /// # Source
    /// Volume balance.
    /// # Errors
    /// [`CoolantError::Strength`] names the strength.
    /// # Example
    /// ```
    /// use quantity::{Ratio, Volume};
    /// let system = calc::coolant::Drained::new(Volume::litres(10.0)?, Volume::litres(4.5)?, Ratio::percent(0.0)?)?;
    /// let mix = system.second_mix(Ratio::percent(45.0)?, Ratio::percent(50.0)?)?;
    /// assert!((mix.in_fraction() - 0.5611).abs() < 1e-4);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn second_mix(&self, after_first: Ratio, target: Ratio) -> Result<Ratio, CoolantError> {
        strength("the strength after the first fill", after_first)?;
        strength("a target", target)?;
        let f = self.share()?.in_fraction();
        let mix = (target.in_fraction() - (1.0 - f) * after_first.in_fraction()) / f;
        Ok(Ratio::fraction(mix)?)
    }
}

/// How much of a weak full system to drain and replace with concentrate.
///
/// # Formula
/// V·(t − c₀)/(1 − c₀)
/// # Units
/// `capacity` a volume; strengths as volume fractions; returns a volume.
/// # Range
/// Inside below target, target up to 1.
/// # Source
/// Volume balance.
/// # Errors
/// [`CoolantError::Strength`] when the system is not weaker than wanted.
/// # Example
/// ```
/// use quantity::{Ratio, Volume};
/// let swap = calc::coolant::swap(Volume::litres(10.0)?, Ratio::percent(35.0)?, Ratio::percent(50.0)?)?;
/// assert!((swap.in_litres() - 2.308).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn swap(capacity: Volume, inside: Ratio, target: Ratio) -> Result<Volume, CoolantError> {
    strength("a target", target)?;
    strength("the strength inside", inside)?;
    if inside >= target {
        return Err(CoolantError::Strength {
            what: "a strength inside that is to be raised",
            percent: inside.in_percent(),
        });
    }
    let share = (target.in_fraction() - inside.in_fraction()) / (1.0 - inside.in_fraction());
    Ok(Volume::cubic_metres(capacity.in_cubic_metres() * share)?)
}

/// Share of the old fluid left after draining and filling some times.
///
/// # Formula
/// (1 − f)ⁿ: independent of the capacity
/// # Units
/// `share` that drains, a fraction; `fills` a count; returns a fraction.
/// # Range
/// Share above 0 up to 1. Well mixed each time: each run must open the thermostat.
/// # Source
/// Volume balance.
/// # Errors
/// [`CoolantError::Strength`] names the share.
/// # Example
/// ```
/// use quantity::Ratio;
/// let left = calc::coolant::residual(Ratio::percent(60.0)?, 3)?;
/// assert!((left.in_percent() - 6.4).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn residual(share: Ratio, fills: u32) -> Result<Ratio, CoolantError> {
    let f = drains(share)?;
    Ok(Ratio::fraction(pow(1.0 - f, f64::from(fills)))?)
}

/// Fills needed until no more than a share of the old fluid is left.
///
/// # Formula
/// n = ⌈ln r/ln(1 − f)⌉
/// # Units
/// `share` that drains and `allowed` rest, fractions; returns a count.
/// # Range
/// Share above 0 up to 1; allowed above 0 and below 1.
/// # Source
/// Volume balance.
/// # Errors
/// [`CoolantError::Strength`] names the share.
/// # Example
/// ```
/// use quantity::Ratio;
/// assert_eq!(calc::coolant::fills_for(Ratio::percent(60.0)?, Ratio::percent(1.0)?)?, 6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn fills_for(share: Ratio, allowed: Ratio) -> Result<u32, CoolantError> {
    let f = drains(share)?;
    let r = allowed.in_fraction();
    if !(r > 0.0 && r < 1.0) {
        return Err(CoolantError::Strength {
            what: "an allowed rest",
            percent: allowed.in_percent(),
        });
    }
    if f >= 1.0 {
        return Ok(1);
    }
    // A hair is taken off so that an exact power is not rounded up to one fill more.
    let count = ceil(log(r) / log(1.0 - f) - 1e-9);
    Ok(count.clamp(1.0, f64::from(u32::MAX)) as u32)
}

fn drains(share: Ratio) -> Result<f64, CoolantError> {
    let f = share.in_fraction();
    if f > 0.0 && f <= 1.0 {
        Ok(f)
    } else {
        Err(CoolantError::Strength {
            what: "a share that drains",
            percent: share.in_percent(),
        })
    }
}

fn strength(what: &'static str, share: Ratio) -> Result<(), CoolantError> {
    if (0.0..=1.0).contains(&share.in_fraction()) {
        Ok(())
    } else {
        Err(CoolantError::Strength {
            what,
            percent: share.in_percent(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn system(capacity: f64, drained: f64, inside: f64) -> Drained {
        let litres = |v| Volume::litres(v).unwrap();
        Drained::new(litres(capacity), litres(drained), percent(inside)).unwrap()
    }

    fn percent(value: f64) -> Ratio {
        Ratio::percent(value).unwrap()
    }

    /// Source: volume balance. *Computed by a general library (Python 3.11 floats): arithmetic.*
    #[test]
    fn e56_five_of_eight_drained() {
        let pour = system(8.0, 5.0, 0.0).pour_for(percent(50.0)).unwrap();
        assert!((pour.concentrate.in_litres() - 4.0).abs() < 1e-9);
        assert!((pour.water.in_litres() - 1.0).abs() < 1e-9);
        assert!(pour.reachable);
        let most = system(8.0, 5.0, 0.0).filled_with(percent(100.0)).unwrap();
        assert!((most.in_percent() - 62.5).abs() < 1e-9);
    }

    /// Source: volume balance. *Computed by a general library (Python 3.11 floats): arithmetic.*
    #[test]
    fn e57_ready_mix_on_trapped_water() {
        let reached = system(8.0, 5.0, 0.0).filled_with(percent(50.0)).unwrap();
        assert!((reached.in_percent() - 31.25).abs() < 1e-9);
    }

    /// Source: volume balance. *Computed by a general library (Python 3.11 floats): arithmetic.*
    #[test]
    fn e58_not_reachable_in_one_fill() {
        let system = system(10.0, 4.5, 0.0);
        let pour = system.pour_for(percent(50.0)).unwrap();
        assert!(!pour.reachable);
        assert!((pour.reached.in_fraction() - 0.45).abs() < 1e-9);
        let mix = system.second_mix(pour.reached, percent(50.0)).unwrap();
        assert!((mix.in_fraction() - 0.5611).abs() < 1e-4);
    }

    /// Source: volume balance. *Computed by a general library (Python 3.11 floats): arithmetic.*
    #[test]
    fn e59_fills_to_one_per_cent() {
        assert_eq!(fills_for(percent(60.0), percent(1.0)).unwrap(), 6);
        for (f, five, one) in [(45.0, 6, 8), (50.0, 5, 7), (60.0, 4, 6), (70.0, 3, 4)] {
            assert_eq!(fills_for(percent(f), percent(5.0)).unwrap(), five);
            assert_eq!(fills_for(percent(f), percent(1.0)).unwrap(), one);
        }
    }

    /// Source: volume balance, old fill of 30 %. *Computed: arithmetic.*
    #[test]
    fn a_weak_rest_counts() {
        let pour = system(10.0, 6.0, 30.0).pour_for(percent(50.0)).unwrap();
        assert!((pour.concentrate.in_litres() - 3.8).abs() < 1e-9);
        assert!((pour.water.in_litres() - 2.2).abs() < 1e-9);
    }

    #[test]
    fn a_rest_too_strong_is_not_reachable_with_water_alone() {
        let pour = system(10.0, 2.0, 70.0).pour_for(percent(50.0)).unwrap();
        assert!(!pour.reachable && pour.concentrate.in_litres() == 0.0);
        assert!((pour.reached.in_percent() - 56.0).abs() < 1e-9);
    }

    #[test]
    fn figures_that_cannot_be_are_refused() {
        let litres = |v| Volume::litres(v).unwrap();
        assert!(matches!(
            Drained::new(litres(8.0), litres(9.0), percent(0.0)),
            Err(CoolantError::DrainedTooMuch { .. })
        ));
        assert!(matches!(
            Drained::new(litres(0.0), litres(0.0), percent(0.0)),
            Err(CoolantError::NotPositive { .. })
        ));
        assert!(system(8.0, 5.0, 0.0).pour_for(percent(101.0)).is_err());
        assert!(residual(percent(0.0), 1).is_err());
        assert!(swap(litres(10.0), percent(50.0), percent(50.0)).is_err());
    }

    proptest! {
        /// E-P4: what is left after n fills does not depend on the capacity.
        #[test]
        fn ep4_the_rest_is_independent_of_capacity(capacity in 1.0..40.0f64, f in 0.1..1.0f64, fills in 1u32..8) {
            let mut old = 1.0;
            for _ in 0..fills {
                let litres = |v| Volume::litres(v).unwrap();
                let system = Drained::new(litres(capacity), litres(capacity * f), Ratio::fraction(old).unwrap()).unwrap();
                old = system.filled_with(percent(0.0)).unwrap().in_fraction();
            }
            let left = residual(Ratio::fraction(f).unwrap(), fills).unwrap().in_fraction();
            prop_assert!((old - left).abs() < 1e-9);
        }
    }
}
