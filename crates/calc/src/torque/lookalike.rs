//! Look-alike figures: lbf·in for lbf·ft (12 times), lbf·ft for N·m (1.36 times), kgf·m for
//! N·m (9.8 times).
//!
//! A figure is held against what the bolt can take. A low seating stage before an angle is
//! as it should be and raises nothing. Whether a suspected slip could have done what was
//! found is asked separately, because a slip has a sign.

use quantity::{NotFinite, Quantity, Ratio, Stress, Torque, Unit, unit};

use crate::fastener::{self, Class, Head};
use crate::preload::Friction;
use crate::preload::standard::{Twist, tightening};
use crate::thread::{Series, Thread};
use crate::tightening::{TORQUE, TighteningError};

/// What is odd about a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Oddity {
    /// More than the bolt can take without yielding, even with rough threads.
    TooMuch,
    /// More than the bolt takes without yielding at the friction tables go by, while the same
    /// number in another unit is just what it usually gets. A question, not an alarm.
    Much,
    /// So little that hardly any clamping is left.
    TooLittle,
}

/// One odd figure and the units it may have been meant in.
#[derive(Clone, Debug, PartialEq)]
pub struct LookAlike {
    /// Which of the torques, from 0.
    pub stage: usize,
    /// What is odd.
    pub oddity: Oddity,
    /// The figure over the usual torque of this bolt.
    pub of_usual: Ratio,
    /// The same number in other units that would fit the bolt, with the torque it would be.
    pub would_fit: Vec<(Unit, Torque)>,
}

/// What a bolt usually gets and what it can take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// Standard value at 90 % of yield and friction 0.12.
    pub usual: Torque,
    /// Torque at full yield with friction 0.14, the highest that tightening tables print.
    pub strained: Torque,
    /// Torque at full yield with friction 0.20: nothing sensible lies above.
    pub most: Torque,
}

/// Below this share of the usual torque a last stage is odd. Pan and cover bolts on soft
/// gaskets run down to three tenths; a slip by twelve lands below a tenth.
const ODDLY_LITTLE: f64 = 0.2;

/// The lowest share at which a guessed unit is called a fit.
const FITS_FROM: f64 = 0.3;

/// How near the usual torque another unit must bring a number that is merely high.
const NEAR_USUAL: [f64; 2] = [0.75, 1.1];

/// The usual torque of a bolt and the most it can take.
///
/// # Formula
/// [`tightening`] at ν = 0.9, µ = 0.12; at ν = 1, µ = 0.14; and at ν = 1, µ = 0.20. Without a class the usual one
/// is of 8.8 (grade 5) and the most of 12.9 (grade 8), so that a missing mark raises no alarm.
/// # Units
/// Thread and class; returns torques.
/// # Range
/// As the class.
/// # Source
/// VDI 2230 type standard values, *from memory*; friction 0.20 lies in the upper half of
/// class C (0.14–0.24), VDI 2230, *published*.
/// # Errors
/// [`TighteningError::NotCovered`] for a class that does not reach the diameter.
/// # Example
/// ```
/// use calc::{fastener::Class, thread::Thread, torque::lookalike};
///
/// let m6 = lookalike::usual(&Thread::parse("M6")?, Some(Class::C8_8))?;
/// assert!((m6.usual.in_newton_metres() - 10.15).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn usual(thread: &Thread, class: Option<Class>) -> Result<Usual, TighteningError> {
    let (plain, strong) = match (class, thread.series()) {
        (Some(class), _) => (class, class),
        (None, Series::Metric) => (Class::C8_8, Class::C12_9),
        (None, Series::Unified) => (Class::Grade5, Class::Grade8),
    };
    let face = fastener::bearing(thread, Head::Hexagon)?.mean_diameter;
    let at = |yield_point: Stress, friction: f64, share: f64| {
        let friction = Friction::everywhere(Ratio::fraction(friction)?);
        let share = Ratio::fraction(share)?;
        tightening(thread, face, yield_point, friction, Twist::Plastic, share)
    };
    let plain = fastener::strength(thread, plain)?.yield_point;
    let strong = fastener::strength(thread, strong)?.yield_point;
    Ok(Usual {
        usual: at(plain, 0.12, 0.9)?.torque,
        strained: at(strong, 0.14, 1.0)?.torque,
        most: at(strong, 0.20, 1.0)?.torque,
    })
}

/// Looks through the torques of a spec for slips of unit.
///
/// # Formula
/// too much: T > most; much: T > strained, the mark is known and the same number in another unit
/// lies within 0.75 to 1.1·usual; too little: the last torque < 0.2·usual, unless an angle follows
/// # Units
/// Torques in the order of the stages, the unit they were written in.
/// # Range
/// Hexagon bolts. Plugs, banjo bolts and self-locking nuts have torques of their own.
/// # Source
/// Factors 12, 1.36 and 9.8: exact unit factors. Thresholds: chosen between the lowest pan
/// bolts in use (about 0.3) and a slip by twelve (below 0.1), and so that no printed table is
/// asked about. *Common practice, no source.*
/// # Errors
/// As [`usual`], and [`TighteningError::OutOfRange`] for a torque.
/// # Example
/// ```
/// use calc::{fastener::Class, thread::Thread, torque::lookalike};
/// use quantity::{Torque, unit};
///
/// let odd = lookalike::odd_torques(&Thread::parse("M6")?, Some(Class::C8_8),
///     &[Torque::pound_force_feet(80.0)?], false, Some(&unit::POUND_FORCE_FOOT))?;
/// assert_eq!(odd[0].would_fit[0].0.symbol, "lbf·in");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn odd_torques(
    thread: &Thread,
    class: Option<Class>,
    torques: &[Torque],
    angle_follows: bool,
    written_in: Option<&Unit>,
) -> Result<Vec<LookAlike>, TighteningError> {
    let usual = usual(thread, class)?;
    let mut odd = Vec::new();
    for (stage, &torque) in torques.iter().enumerate() {
        let newton_metres = TORQUE.check(torque)?;
        let of_usual = newton_metres / usual.usual.in_newton_metres();
        let last = stage + 1 == torques.len() && !angle_follows;
        let mut would_fit = match written_in {
            Some(unit) => would_fit(torque, unit, usual)?,
            None => Vec::new(),
        };
        let near_usual = |meant: &Torque| {
            let share = meant.si() / usual.usual.si();
            (NEAR_USUAL[0]..=NEAR_USUAL[1]).contains(&share)
        };
        let oddity = if torque > usual.most {
            Oddity::TooMuch
        } else if class.is_some()
            && torque > usual.strained
            && would_fit.iter().any(|(_, meant)| near_usual(meant))
        {
            would_fit.retain(|(_, meant)| near_usual(meant));
            Oddity::Much
        } else if last && of_usual < ODDLY_LITTLE {
            Oddity::TooLittle
        } else {
            continue;
        };
        odd.push(LookAlike {
            stage,
            oddity,
            of_usual: Ratio::fraction(of_usual)?,
            would_fit,
        });
    }
    Ok(odd)
}

/// The units workshop figures come in.
const SCALES: [Unit; 5] = [
    unit::NEWTON_METRE,
    unit::POUND_FORCE_FOOT,
    unit::POUND_FORCE_INCH,
    unit::KILOGRAM_FORCE_METRE,
    unit::KILOGRAM_FORCE_CENTIMETRE,
];

fn would_fit(
    torque: Torque,
    written_in: &Unit,
    usual: Usual,
) -> Result<Vec<(Unit, Torque)>, NotFinite> {
    let number = written_in.of_si(torque.si());
    let mut fits = Vec::new();
    for scale in SCALES
        .iter()
        .filter(|scale| scale.symbol != written_in.symbol)
    {
        let meant = Torque::from_si(scale.to_si(number))?;
        if meant.si() >= FITS_FROM * usual.usual.si() && meant <= usual.most {
            fits.push((*scale, meant));
        }
    }
    // The likeliest first: nearest to the usual torque by ratio.
    fits.sort_by(|a, b| {
        let far = |torque: Torque| libm::log(torque.si() / usual.usual.si()).abs();
        far(a.1).total_cmp(&far(b.1))
    });
    Ok(fits)
}

/// What reading a number on the wrong scale does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScaleSlip {
    /// The torque the bolt got.
    pub given: Torque,
    /// The torque over what was meant.
    pub of_meant: Ratio,
}

impl ScaleSlip {
    /// Whether the slip could have stretched or broken the bolt by torque. One that gives
    /// less than meant never can; what follows from it is a loose joint.
    #[must_use]
    pub fn overtightens(self) -> bool {
        self.of_meant.in_fraction() > 1.0
    }
}

/// The torque given when a figure is set on the scale of another unit.
///
/// # Formula
/// T given = n·u_scale with n = T meant/u_meant
/// # Units
/// Torque and two units; returns a torque and a ratio.
/// # Range
/// Dual-scale wrenches.
/// # Source
/// Exact unit factors.
/// # Errors
/// [`TighteningError::OutOfRange`] for the torque; [`TighteningError::NotCovered`] for none.
/// # Example
/// ```
/// use calc::torque::lookalike;
/// use quantity::{Torque, unit};
///
/// let slip = lookalike::on_other_scale(
///     Torque::pound_force_feet(45.0)?, &unit::POUND_FORCE_FOOT, &unit::NEWTON_METRE)?;
/// assert!(!slip.overtightens());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn on_other_scale(
    meant: Torque,
    meant_in: &Unit,
    scale: &Unit,
) -> Result<ScaleSlip, TighteningError> {
    let torque = TORQUE.check(meant)?;
    if torque <= 0.0 {
        return Err(TighteningError::NotCovered {
            what: "a slip of scale at no torque",
            why: "give the torque that was meant",
        });
    }
    let given = Torque::from_si(scale.to_si(meant_in.of_si(torque)))?;
    Ok(ScaleSlip {
        given,
        of_meant: Ratio::fraction(given.si() / torque)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn odd(size: &str, class: Option<Class>, text: &[(f64, Unit)], angle: bool) -> Vec<LookAlike> {
        let torques: Vec<_> = text
            .iter()
            .map(|(number, unit)| Torque::from_si(unit.to_si(*number)).unwrap())
            .collect();
        let thread = Thread::parse(size).unwrap();
        odd_torques(&thread, class, &torques, angle, Some(&text[0].1)).unwrap()
    }

    /// Case: cam bolt of 45 lbf·ft, perhaps set on the N·m scale: 74 %, so it cannot have
    /// stretched the bolt by torque. Source: reader's worked example, *public data*; exact
    /// unit factors.
    #[test]
    fn o10_a_slip_has_a_sign() {
        let meant = Torque::pound_force_feet(45.0).unwrap();
        let slip = on_other_scale(meant, &unit::POUND_FORCE_FOOT, &unit::NEWTON_METRE).unwrap();
        assert!((slip.given.in_pound_force_feet() - 33.2).abs() < 0.05);
        assert!((slip.of_meant.in_percent() - 74.0).abs() < 0.5);
        assert!(!slip.overtightens());
        let other = Torque::newton_metres(45.0).unwrap();
        let slip = on_other_scale(other, &unit::NEWTON_METRE, &unit::POUND_FORCE_FOOT).unwrap();
        assert!((slip.given.in_newton_metres() - 61.0).abs() < 0.05);
        assert!(slip.overtightens());
    }

    #[test]
    fn inch_pounds_written_as_foot_pounds_are_found() {
        let found = odd(
            "M6",
            Some(Class::C8_8),
            &[(80.0, unit::POUND_FORCE_FOOT)],
            false,
        );
        assert_eq!(found[0].oddity, Oddity::TooMuch);
        assert_eq!(found[0].would_fit[0].0.symbol, "lbf·in");
    }

    #[test]
    fn foot_pounds_written_as_inch_pounds_are_found() {
        let found = odd(
            "M10",
            Some(Class::C8_8),
            &[(35.0, unit::POUND_FORCE_INCH)],
            false,
        );
        assert_eq!(found[0].oddity, Oddity::TooLittle);
        assert_eq!(found[0].would_fit[0].0.symbol, "lbf·ft");
    }

    #[test]
    fn kilogram_metres_written_as_newton_metres_are_found() {
        let found = odd(
            "M10",
            Some(Class::C8_8),
            &[(5.0, unit::NEWTON_METRE)],
            false,
        );
        assert_eq!(found[0].oddity, Oddity::TooLittle);
        assert!(
            found[0]
                .would_fit
                .iter()
                .any(|(unit, _)| unit.symbol == "kgf·m")
        );
    }

    /// Source: exact unit factors, 1.36. *Published (yard and pound agreement, 1959).* 25 N·m is
    /// what an M8 8.8 gets; written as 25 lbf·ft it is asked about, in its own unit it is not, and
    /// neither is a bolt of the next mark.
    #[test]
    fn newton_metres_written_as_foot_pounds_are_asked_about() {
        let feet = [(25.0, unit::POUND_FORCE_FOOT)];
        let found = odd("M8", Some(Class::C8_8), &feet, false);
        assert_eq!(found[0].oddity, Oddity::Much);
        assert_eq!(found[0].would_fit.len(), 1);
        assert_eq!(found[0].would_fit[0].0.symbol, "N·m");
        assert!(odd("M8", Some(Class::C10_9), &feet, false).is_empty());
        assert!(odd("M8", None, &feet, false).is_empty());
        let own = [(33.9, unit::NEWTON_METRE)];
        assert!(odd("M8", Some(Class::C8_8), &own, false).is_empty());
    }

    /// A head bolt seated at 20 N·m and turned by angle, and a staged list: no alarm.
    #[test]
    fn a_low_seating_stage_raises_nothing() {
        let nm = unit::NEWTON_METRE;
        assert!(odd("M11", Some(Class::C10_9), &[(5.0, nm)], true).is_empty());
        assert!(odd("M10", Some(Class::C8_8), &[(5.0, nm), (49.0, nm)], false).is_empty());
        assert!(!odd("M10", Some(Class::C8_8), &[(5.0, nm)], false).is_empty());
    }

    /// Pan bolts of 70 lbf·in on a cork gasket are as the trade has them, M6 or M8.
    #[test]
    fn pan_bolts_raise_nothing() {
        for size in ["M6", "M8", "1/4-20"] {
            assert!(
                odd(size, None, &[(70.0, unit::POUND_FORCE_INCH)], false).is_empty(),
                "{size}"
            );
        }
    }

    #[test]
    fn a_missing_class_raises_no_alarm_over_a_strong_bolt() {
        let strong = [(36.0, unit::NEWTON_METRE)];
        assert!(odd("M8", None, &strong, false).is_empty());
        assert!(odd("M8", Some(Class::C10_9), &strong, false).is_empty());
    }

    /// Published tables never trip the guard. Sources: older bolt table in an equipment
    /// manual appendix, and a machine operator's general table. *Public data.*
    #[test]
    fn printed_tables_raise_nothing() {
        for (size, c8_8, c10_9) in [
            ("M5", 5.9, 8.7),
            ("M6", 10.0, 15.0),
            ("M8", 25.0, 36.0),
            ("M10", 49.0, 72.0),
            ("M12", 85.0, 125.0),
        ] {
            assert!(
                odd(
                    size,
                    Some(Class::C8_8),
                    &[(c8_8, unit::NEWTON_METRE)],
                    false
                )
                .is_empty()
            );
            assert!(
                odd(
                    size,
                    Some(Class::C10_9),
                    &[(c10_9, unit::NEWTON_METRE)],
                    false
                )
                .is_empty()
            );
        }
    }
}
