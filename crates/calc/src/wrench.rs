//! Torque wrenches: what they promise, where they may be used, which one to take and what
//! to set.

use quantity::{Duration, Range, Ratio, Torque, Unit};

use crate::tightening::{SCATTER, TORQUE, TighteningError};

/// How a wrench shows or signals torque.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WrenchKind {
    /// Clicks at a set value.
    Click,
    /// A needle on a dial.
    Dial,
    /// A bending beam and a pointer.
    Beam,
    /// A display.
    Digital,
}

/// What an accuracy is a percentage of. The two are never mixed: 2 % of full scale on a
/// 100 lbf·ft wrench is 10 % at 20 lbf·ft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Accuracy {
    /// Plus or minus this share of what it reads.
    OfReading(Ratio),
    /// Plus or minus this share of its highest value, everywhere.
    OfFullScale(Ratio),
}

/// A wrench of the shop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wrench {
    /// How it signals.
    pub kind: WrenchKind,
    /// Lowest and highest marked value.
    pub range: Range<Torque>,
    /// The unit of its scale.
    pub unit: Unit,
    /// What it promises.
    pub accuracy: Accuracy,
    /// Step of its scale, if it has one.
    pub graduation: Option<Torque>,
}

/// Where a torque lies in a wrench's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// Below the lowest mark: the wrench cannot do it.
    BelowMarks,
    /// Marked, yet below a fifth of the highest value: nothing is promised there.
    BelowFifth,
    /// A fifth to three tenths: usable, low.
    Low,
    /// Three tenths to eight tenths: where it reads best.
    Best,
    /// Eight tenths to full scale: usable, high.
    High,
    /// Above full scale.
    AboveMarks,
}

impl Place {
    /// Whether the wrench may be used there.
    #[must_use]
    pub const fn is_usable(self) -> bool {
        matches!(self, Self::Low | Self::Best | Self::High)
    }
}

/// A setting on the scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// What was wanted.
    pub wanted: Torque,
    /// The nearest step of the scale, or the wanted torque on a scale without steps.
    pub mark: Torque,
    /// (mark − wanted)/wanted.
    pub off: Ratio,
}

impl Wrench {
    /// The accuracy a setting wrench must keep when its own is not known.
    ///
    /// # Formula
    /// ±4 % of reading above a highest value of 10 N·m, ±6 % at or below
    /// # Units
    /// Torque; returns an accuracy.
    /// # Range
    /// Setting tools, type II class A, from a fifth of the highest value up.
    /// # Source
    /// ISO 6789 (2003), as reviewed. *Published.*
    /// # Errors
    /// [`TighteningError::OutOfRange`] for the torque.
    /// # Example
    /// ```
    /// use calc::wrench::{Accuracy, Wrench};
    /// use quantity::{Ratio, Torque};
    ///
    /// let usual = Wrench::usual_accuracy(Torque::newton_metres(60.0)?)?;
    /// assert_eq!(usual, Accuracy::OfReading(Ratio::percent(4.0)?));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn usual_accuracy(highest: Torque) -> Result<Accuracy, TighteningError> {
        let percent = if TORQUE.check(highest)? > 10.0 {
            4.0
        } else {
            6.0
        };
        Ok(Accuracy::OfReading(Ratio::percent(percent)?))
    }

    /// Where a torque lies in the range.
    ///
    /// # Formula
    /// share = T/T_max against 20, 30, 80 and 100 %, and T against the lowest mark
    /// # Units
    /// Torque.
    /// # Range
    /// After any adapter correction, because the setting moves.
    /// # Source
    /// US Army TM 1-1500-204-23-9: nothing promised below 20 %, best between 30 and 80 %.
    /// *Published.* Lowest mark: ISO 6789 (2017), changes as summarised. *Published.*
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use calc::wrench::{Place, Wrench, WrenchKind};
    /// use quantity::{Range, Torque, unit};
    ///
    /// let range = Range { low: Torque::pound_force_feet(10.0)?, high: Torque::pound_force_feet(150.0)? };
    /// let wrench = Wrench { kind: WrenchKind::Click, range, unit: unit::POUND_FORCE_FOOT,
    ///     accuracy: Wrench::usual_accuracy(range.high)?, graduation: None };
    /// assert_eq!(wrench.place(Torque::newton_metres(8.0)?), Place::BelowMarks);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn place(&self, torque: Torque) -> Place {
        // A hair of slack, so that 20 lbf·ft typed on a 100 lbf·ft wrench is a fifth.
        const SLACK: f64 = 1e-9;
        let share = self.share(torque);
        let at_least = |limit: f64| share >= limit - SLACK;
        if torque.in_newton_metres() < self.range.low.in_newton_metres() * (1.0 - SLACK) {
            Place::BelowMarks
        } else if !at_least(0.2) {
            Place::BelowFifth
        } else if !at_least(0.3) {
            Place::Low
        } else if share <= 0.8 + SLACK {
            Place::Best
        } else if share <= 1.0 + SLACK {
            Place::High
        } else {
            Place::AboveMarks
        }
    }

    /// The torque as a share of the highest value.
    fn share(&self, torque: Torque) -> f64 {
        torque.in_newton_metres() / self.range.high.in_newton_metres()
    }

    /// What the wrench may be off by at a torque, plus or minus.
    ///
    /// # Formula
    /// of reading: a·T; of full scale: a·T_max
    /// # Units
    /// Torque; returns a torque.
    /// # Range
    /// Within the usable part of the range.
    /// # Source
    /// The two ways makers state accuracy.
    /// # Errors
    /// [`TighteningError::OutOfRange`] for the torque or an accuracy beyond 95 %.
    /// # Example
    /// ```
    /// use calc::wrench::{Accuracy, Wrench, WrenchKind};
    /// use quantity::{Range, Ratio, Torque, unit};
    ///
    /// let range = Range { low: Torque::pound_force_feet(10.0)?, high: Torque::pound_force_feet(100.0)? };
    /// let wrench = Wrench { kind: WrenchKind::Dial, range, unit: unit::POUND_FORCE_FOOT,
    ///     accuracy: Accuracy::OfFullScale(Ratio::percent(2.0)?), graduation: None };
    /// let off = wrench.may_be_off(Torque::pound_force_feet(20.0)?)?;
    /// assert!((off.in_pound_force_feet() - 2.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn may_be_off(&self, torque: Torque) -> Result<Torque, TighteningError> {
        let reading = TORQUE.check(torque)?;
        let (share, of) = match self.accuracy {
            Accuracy::OfReading(share) => (share, reading),
            Accuracy::OfFullScale(share) => (share, TORQUE.check(self.range.high)?),
        };
        Ok(Torque::newton_metres(SCATTER.check(share)? * of)?)
    }

    /// What to set: the nearest step of the scale.
    ///
    /// # Formula
    /// mark = g·round(T/g) with the graduation g, held within the marks
    /// # Units
    /// Torque.
    /// # Range
    /// A graduation should not exceed a tenth of the value (US Army TM 1-1500-204-23-9).
    /// # Source
    /// Rounding.
    /// # Errors
    /// [`TighteningError::OutOfRange`] for a torque of nothing or less.
    /// # Example
    /// ```
    /// use calc::wrench::{Wrench, WrenchKind};
    /// use quantity::{Range, Torque, unit};
    ///
    /// let range = Range { low: Torque::newton_metres(10.0)?, high: Torque::newton_metres(60.0)? };
    /// let wrench = Wrench { kind: WrenchKind::Click, range, unit: unit::NEWTON_METRE,
    ///     accuracy: Wrench::usual_accuracy(range.high)?,
    ///     graduation: Some(Torque::newton_metres(0.5)?) };
    /// assert_eq!(wrench.setting(Torque::newton_metres(21.3)?)?.mark, Torque::newton_metres(21.5)?);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn setting(&self, wanted: Torque) -> Result<Setting, TighteningError> {
        let torque = TORQUE.check(wanted)?;
        if torque <= 0.0 {
            return Err(TighteningError::NotCovered {
                what: "a setting of nothing",
                why: "a wrench is set to a torque above zero",
            });
        }
        let mark = match self.graduation.map(|step| step.in_newton_metres()) {
            Some(step) if step > 0.0 => {
                let mark = step * (torque / step).round();
                mark.clamp(
                    self.range.low.in_newton_metres(),
                    self.range.high.in_newton_metres(),
                )
            }
            Some(_) | None => torque,
        };
        Ok(Setting {
            wanted,
            mark: Torque::newton_metres(mark)?,
            off: Ratio::fraction((mark - torque) / torque)?,
        })
    }
}

/// Which wrench to take for a setting: the best place in the range, then the least doubt,
/// then the first named. `None`: no wrench of these may be used.
#[must_use]
pub fn choose(wrenches: &[Wrench], setting: Torque) -> Option<usize> {
    let same: Vec<(Wrench, Torque)> = wrenches.iter().map(|&wrench| (wrench, setting)).collect();
    choose_each(&same)
}

/// Which wrench to take where each would be set differently, as behind an adapter: handles
/// differ. As [`choose`].
#[must_use]
pub fn choose_each(settings: &[(Wrench, Torque)]) -> Option<usize> {
    let rank = |place: Place| match place {
        Place::Best => Some(0_u8),
        Place::Low | Place::High => Some(1),
        Place::BelowMarks | Place::BelowFifth | Place::AboveMarks => None,
    };
    settings
        .iter()
        .enumerate()
        .filter_map(|(index, (wrench, setting))| {
            let off = wrench.may_be_off(*setting).ok()?;
            Some((rank(wrench.place(*setting))?, off.in_newton_metres(), index))
        })
        .min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)))
        .map(|(.., index)| index)
}

/// The deviation of a wrench found on a tester.
///
/// # Formula
/// a = (X_set − X_measured)/X_measured
/// # Units
/// Torques; returns a ratio, positive when the wrench delivers too little.
/// # Range
/// The measured value is the reference, so ±4 N·m at 100 N·m is not symmetric.
/// # Source
/// ISO 6789-1, clause 7, *from memory*.
/// # Errors
/// [`TighteningError::OutOfRange`] for a torque; [`TighteningError::NotCovered`] when nothing
/// was delivered.
/// # Example
/// ```
/// use calc::wrench;
/// use quantity::Torque;
///
/// let off = wrench::deviation(Torque::newton_metres(100.0)?, Torque::newton_metres(96.0)?)?;
/// assert!((off.in_percent() - 4.1667).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn deviation(set: Torque, measured: Torque) -> Result<Ratio, TighteningError> {
    let set = TORQUE.check(set)?;
    let measured = TORQUE.check(measured)?;
    if measured <= 0.0 {
        return Err(TighteningError::NotCovered {
            what: "the deviation of a wrench that delivered nothing",
            why: "measure again; a wrench that delivers nothing is broken",
        });
    }
    Ok(Ratio::fraction((set - measured) / measured)?)
}

/// The last check of a wrench.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LastCheck {
    /// How long ago.
    pub ago: Duration,
    /// Dropped since.
    pub dropped: bool,
    /// Checked clockwise.
    pub clockwise: bool,
    /// Checked anticlockwise.
    pub anticlockwise: bool,
}

/// Why a wrench should be checked before it is trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CheckDue {
    /// No check is known.
    NeverChecked,
    /// More than a year ago.
    Overdue,
    /// It fell since.
    Dropped,
    /// Never checked in the direction of this work.
    OtherDirection,
}

/// Whether a wrench is due for a check before work in a direction.
///
/// # Formula
/// a year, or a drop, or an unchecked direction
/// # Units
/// Durations.
/// # Range
/// Hand torque wrenches.
/// # Source
/// FAA AC 43.13-1B (1998), chapter 7: at least yearly or after a drop. *Published.* Direction:
/// common practice, no source.
/// # Errors
/// None.
/// # Example
/// ```
/// use calc::wrench::{self, CheckDue};
///
/// assert_eq!(wrench::check_due(None, true), vec![CheckDue::NeverChecked]);
/// ```
#[must_use]
pub fn check_due(last: Option<LastCheck>, clockwise: bool) -> Vec<CheckDue> {
    const YEAR_HOURS: f64 = 365.25 * 24.0;
    let Some(last) = last else {
        return vec![CheckDue::NeverChecked];
    };
    let mut due = Vec::new();
    if last.ago.in_hours() > YEAR_HOURS {
        due.push(CheckDue::Overdue);
    }
    if last.dropped {
        due.push(CheckDue::Dropped);
    }
    if !(if clockwise {
        last.clockwise
    } else {
        last.anticlockwise
    }) {
        due.push(CheckDue::OtherDirection);
    }
    due
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::unit;

    fn foot_pounds(low: f64, high: f64) -> Wrench {
        let range = Range {
            low: Torque::pound_force_feet(low).unwrap(),
            high: Torque::pound_force_feet(high).unwrap(),
        };
        Wrench {
            kind: WrenchKind::Click,
            range,
            unit: unit::POUND_FORCE_FOOT,
            accuracy: Wrench::usual_accuracy(range.high).unwrap(),
            graduation: None,
        }
    }

    fn inch_pounds(low: f64, high: f64) -> Wrench {
        let range = Range {
            low: Torque::pound_force_inches(low).unwrap(),
            high: Torque::pound_force_inches(high).unwrap(),
        };
        Wrench {
            range,
            unit: unit::POUND_FORCE_INCH,
            ..foot_pounds(1.0, 2.0)
        }
    }

    /// Source: ISO 6789-1, clause 7, *from memory*; division.
    #[test]
    fn t36_deviation_of_a_wrench() {
        let deviation = |delivered| {
            let delivered = Torque::newton_metres(delivered).unwrap();
            deviation(Torque::newton_metres(100.0).unwrap(), delivered)
                .unwrap()
                .in_percent()
        };
        assert!((deviation(96.0) - 4.1667).abs() < 1e-3);
        assert!((deviation(104.0) + 3.85).abs() < 5e-3);
    }

    /// T-P8. Source: exact unit factors; US Army TM 1-1500-204-23-9. *Published.*
    #[test]
    fn tp8_a_large_wrench_is_refused_for_a_small_bolt() {
        let torque = Torque::newton_metres(8.0).unwrap();
        assert_eq!(foot_pounds(10.0, 150.0).place(torque), Place::BelowMarks);
        assert_eq!(inch_pounds(40.0, 250.0).place(torque), Place::Low);
    }

    /// Case: pan bolts of 70 lbf·in and a 10 to 100 lbf·ft wrench. Source: reader's worked
    /// example, *public data*; exact unit factors.
    #[test]
    fn s_o3_pan_bolts() {
        let pan = Torque::pound_force_inches(70.0).unwrap();
        assert!((pan.in_pound_force_feet() - 5.83).abs() < 0.005);
        assert!((pan.in_newton_metres() - 7.9).abs() < 0.05);
        assert_eq!(foot_pounds(10.0, 100.0).place(pan), Place::BelowMarks);
        assert_eq!(choose(&[foot_pounds(10.0, 100.0)], pan), None);
        assert_eq!(
            choose(&[foot_pounds(10.0, 100.0), inch_pounds(20.0, 200.0)], pan),
            Some(1)
        );
    }

    /// Source: training-course example, 2 % of full scale on 100 ft·lb. *Public data.*
    #[test]
    fn full_scale_and_reading_are_kept_apart() {
        let two_percent = Ratio::percent(2.0).unwrap();
        let wrench = |accuracy| Wrench {
            accuracy,
            ..foot_pounds(10.0, 100.0)
        };
        let at_20 = Torque::pound_force_feet(20.0).unwrap();
        let off = |accuracy| {
            wrench(accuracy)
                .may_be_off(at_20)
                .unwrap()
                .in_pound_force_feet()
        };
        assert!((off(Accuracy::OfFullScale(two_percent)) - 2.0).abs() < 1e-9);
        assert!((off(Accuracy::OfReading(two_percent)) - 0.4).abs() < 1e-9);
    }

    #[test]
    fn the_ends_of_the_bands_belong_to_the_better_side() {
        let wrench = foot_pounds(10.0, 100.0);
        for (value, place) in [
            (9.9, Place::BelowMarks),
            (10.0, Place::BelowFifth),
            (19.9, Place::BelowFifth),
            (20.0, Place::Low),
            (30.0, Place::Best),
            (80.0, Place::Best),
            (100.0, Place::High),
            (100.1, Place::AboveMarks),
        ] {
            assert_eq!(
                wrench.place(Torque::pound_force_feet(value).unwrap()),
                place,
                "{value}"
            );
        }
    }

    #[test]
    fn the_best_place_wins_over_the_first_wrench() {
        let low = foot_pounds(10.0, 150.0);
        let best = foot_pounds(10.0, 75.0);
        let torque = Torque::pound_force_feet(40.0).unwrap();
        assert_eq!(choose(&[low, best], torque), Some(1));
        assert_eq!(choose(&[best, best], torque), Some(0));
    }

    #[test]
    fn a_setting_never_leaves_the_marks() {
        let mut wrench = inch_pounds(20.0, 200.0);
        wrench.graduation = Some(Torque::pound_force_inches(15.0).unwrap());
        let setting = wrench
            .setting(Torque::pound_force_inches(21.0).unwrap())
            .unwrap();
        assert!((setting.mark.in_pound_force_inches() - 20.0).abs() < 1e-9);
        assert!((setting.off.in_percent() + 4.76).abs() < 0.01);
        assert!(wrench.setting(Torque::newton_metres(0.0).unwrap()).is_err());
    }

    #[test]
    fn a_check_is_due_for_each_reason() {
        let fine = LastCheck {
            ago: Duration::hours(24.0 * 100.0).unwrap(),
            dropped: false,
            clockwise: true,
            anticlockwise: false,
        };
        assert!(check_due(Some(fine), true).is_empty());
        assert_eq!(check_due(Some(fine), false), vec![CheckDue::OtherDirection]);
        let old = LastCheck {
            ago: Duration::hours(24.0 * 400.0).unwrap(),
            dropped: true,
            ..fine
        };
        assert_eq!(
            check_due(Some(old), true),
            vec![CheckDue::Overdue, CheckDue::Dropped]
        );
    }
}
