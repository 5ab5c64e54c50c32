//! What stands between wrench and fastener: levers that change the torque, extensions that
//! twist, joints that pulse.

use std::f64::consts::PI;

use quantity::{Angle, Length, NotFinite, Range, Ratio, Stress, Torque};

use crate::tightening::{BOLT_LENGTH, LEVER, MODULUS, TORQUE, TighteningError};

/// Why an adapter cannot be reckoned with.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum AdapterFault {
    /// The adapter folds back over the grip: the lever is gone.
    #[error(
        "folded back by {adapter_mm} mm on a handle of {handle_mm} mm no lever is left; turn the adapter or take a longer wrench"
    )]
    NoLever {
        /// Handle length in mm.
        handle_mm: f64,
        /// Adapter length in mm.
        adapter_mm: f64,
    },
    /// A joint bent too far.
    #[error("a universal joint bent by {degrees}° is beyond 45°; straighten the drive")]
    TooBent {
        /// The bend in degrees.
        degrees: f64,
    },
    /// An input is out of its range.
    #[error(transparent)]
    Input(#[from] TighteningError),
}

impl From<NotFinite> for AdapterFault {
    fn from(fault: NotFinite) -> Self {
        Self::Input(fault.into())
    }
}

/// An adapter in the plane of rotation, as a crowfoot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Adapter {
    /// L: centre of the wrench's drive to the centre of its grip.
    pub handle: Length,
    /// E: centre of the wrench's drive to the centre of the fastener.
    pub length: Length,
    /// θ: 0° straight out, 90° across, 180° folded back.
    pub angle: Angle,
}

impl Adapter {
    /// (L + E·cos θ)/L: what the adapter multiplies the set torque by.
    fn gain(&self) -> Result<f64, AdapterFault> {
        let handle = LEVER.check(self.handle)?;
        let adapter = LEVER.check(self.length)?;
        let lever = handle + adapter * libm::cos(self.angle.in_radians());
        // Below a tenth of the handle the hand no longer pulls on the wrench but beside it.
        if handle <= 0.0 || lever < 0.1 * handle {
            return Err(AdapterFault::NoLever {
                handle_mm: (handle * 1e6).round() / 1e3,
                adapter_mm: (adapter * 1e6).round() / 1e3,
            });
        }
        Ok(lever / handle)
    }

    /// The adapter as a share of the handle. Above about a tenth, try the pair on a tester.
    ///
    /// # Formula
    /// E/L
    /// # Units
    /// Lengths; returns a ratio.
    /// # Range
    /// A handle longer than nothing.
    /// # Source
    /// The tenth is common practice, no source.
    /// # Errors
    /// [`AdapterFault::Input`] for a length out of range.
    /// # Example
    /// ```
    /// use calc::adapter::Adapter;
    /// use quantity::{Angle, Length};
    ///
    /// let crowfoot = Adapter { handle: Length::mm(400.0)?, length: Length::mm(50.0)?,
    ///     angle: Angle::degrees(0.0)? };
    /// assert_eq!(crowfoot.share_of_handle()?.in_percent(), 12.5);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn share_of_handle(&self) -> Result<Ratio, AdapterFault> {
        Ok(Ratio::fraction(
            LEVER.check(self.length)? / LEVER.check(self.handle)?,
        )?)
    }

    /// What to set on the wrench so that the fastener gets a torque.
    ///
    /// # Formula
    /// T_set = T·L/(L + E·cos θ)
    /// # Units
    /// Torque; returns a torque.
    /// # Range
    /// The hand pulls at the grip's centre; the adapter lies in the plane of rotation. A
    /// straight socket extension needs no correction. A wrench told about its adapter must
    /// not be corrected twice.
    /// # Source
    /// US Navy training course 14315; US Army TM 1-1500-204-23-9; US Army TM 9-254 (in line).
    /// *Published.* The cosine is lever arithmetic.
    /// # Errors
    /// [`AdapterFault::NoLever`] when the adapter folds back over the grip.
    /// # Example
    /// ```
    /// use calc::adapter::Adapter;
    /// use quantity::{Angle, Length, Torque};
    ///
    /// let crowfoot = Adapter { handle: Length::inches(12.0)?, length: Length::inches(6.0)?,
    ///     angle: Angle::degrees(0.0)? };
    /// let set = crowfoot.setting(Torque::pound_force_inches(100.0)?)?;
    /// assert!((set.in_pound_force_inches() - 66.7).abs() < 0.05);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn setting(&self, torque: Torque) -> Result<Torque, AdapterFault> {
        Ok(Torque::newton_metres(TORQUE.check(torque)? / self.gain()?)?)
    }

    /// What the fastener gets at a setting.
    ///
    /// # Formula
    /// T = T_set·(L + E·cos θ)/L
    /// # Units
    /// Torque; returns a torque.
    /// # Range
    /// As [`Adapter::setting`].
    /// # Source
    /// US Army TM 9-254. *Published.*
    /// # Errors
    /// As [`Adapter::setting`].
    /// # Example
    /// ```
    /// use calc::adapter::Adapter;
    /// use quantity::{Angle, Length, Torque};
    ///
    /// let crowfoot = Adapter { handle: Length::inches(12.0)?, length: Length::inches(2.0)?,
    ///     angle: Angle::degrees(0.0)? };
    /// let torque = crowfoot.delivered(Torque::pound_force_inches(60.0)?)?;
    /// assert!((torque.in_pound_force_inches() - 70.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn delivered(&self, setting: Torque) -> Result<Torque, AdapterFault> {
        Ok(Torque::newton_metres(
            TORQUE.check(setting)? * self.gain()?,
        )?)
    }
}

/// How far a straight extension winds up. The torque is unchanged; an angle read at the
/// handle is too large by what the twist grows during the angle stage.
///
/// # Formula
/// φ = 32·T·L/(π·d⁴·G)
/// # Units
/// Torque, length, diameter, shear modulus; returns an angle.
/// # Range
/// A round solid bar.
/// # Source
/// Elementary torsion.
/// # Errors
/// [`TighteningError::OutOfRange`] for any input.
/// # Example
/// ```
/// use calc::adapter;
/// use quantity::{Length, Stress, Torque};
///
/// let twist = adapter::extension_twist(Torque::newton_metres(50.0)?, Length::mm(250.0)?,
///     Length::mm(10.0)?, Stress::megapascals(79_300.0)?)?;
/// assert!((twist.in_degrees() - 9.2).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn extension_twist(
    torque: Torque,
    length: Length,
    diameter: Length,
    shear_modulus: Stress,
) -> Result<Angle, TighteningError> {
    let moment = TORQUE.check(torque)?;
    let l = BOLT_LENGTH.check(length)?;
    let d = crate::tightening::DIAMETER.check(diameter)?;
    let g = MODULUS.check(shear_modulus)?;
    Ok(Angle::radians(
        32.0 * moment * l / (PI * d * d * d * d * g),
    )?)
}

/// The torque a single universal joint passes on, least and greatest over a turn. Which of
/// them holds at the last click depends on the unseen yoke, so it counts as uncertainty.
///
/// # Formula
/// cos β … 1/cos β
/// # Units
/// Angle of bend; returns a range of ratios.
/// # Range
/// Up to 45°. Above 15° no critical joint should be tightened through one.
/// # Source
/// Reference text on Hooke-joint kinematics. *Public data.*
/// # Errors
/// [`AdapterFault::TooBent`] beyond 45°.
/// # Example
/// ```
/// use calc::adapter;
/// use quantity::Angle;
///
/// let share = adapter::universal_joint(Angle::degrees(30.0)?)?;
/// assert!((share.low.in_fraction() - 0.866).abs() < 5e-4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn universal_joint(bend: Angle) -> Result<Range<Ratio>, AdapterFault> {
    let degrees = bend.in_degrees().abs();
    if degrees > 45.0 {
        return Err(AdapterFault::TooBent { degrees });
    }
    let cosine = libm::cos(bend.in_radians());
    Ok(Range {
        low: Ratio::fraction(cosine)?,
        high: Ratio::fraction(1.0 / cosine)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn inches(handle: f64, length: f64, degrees: f64) -> Adapter {
        Adapter {
            handle: Length::inches(handle).unwrap(),
            length: Length::inches(length).unwrap(),
            angle: Angle::degrees(degrees).unwrap(),
        }
    }

    fn set_in_lb(adapter: Adapter, torque: f64) -> f64 {
        let torque = Torque::pound_force_inches(torque).unwrap();
        adapter.setting(torque).unwrap().in_pound_force_inches()
    }

    /// Source: US Navy training course 14315. *Published.*
    #[test]
    fn t32_crowfoot_in_line() {
        assert!((set_in_lb(inches(12.0, 6.0, 0.0), 100.0) - 66.7).abs() < 0.05);
    }

    /// Source: US Army TM 1-1500-204-23-9. *Published.*
    #[test]
    fn t33_crowfoot_in_line() {
        assert!((set_in_lb(inches(10.0, 4.0, 0.0), 300.0) - 214.0).abs() < 0.3);
    }

    /// Source: US Army TM 9-254. *Published.*
    #[test]
    fn t34_delivered_torque() {
        let set = Torque::pound_force_inches(60.0).unwrap();
        let torque = inches(12.0, 2.0, 0.0).delivered(set).unwrap();
        assert!((torque.in_pound_force_inches() - 70.0).abs() < 1e-9);
    }

    /// Source: cosine form in double precision. *Computed by a general library (Python 3.11
    /// floats).*
    #[test]
    fn t35_crowfoot_at_an_angle() {
        for (degrees, expected) in [
            (0.0, 88.89),
            (45.0, 91.88),
            (90.0, 100.0),
            (135.0, 109.70),
            (180.0, 114.29),
        ] {
            let adapter = Adapter {
                handle: Length::mm(400.0).unwrap(),
                length: Length::mm(50.0).unwrap(),
                angle: Angle::degrees(degrees).unwrap(),
            };
            let set = adapter
                .setting(Torque::newton_metres(100.0).unwrap())
                .unwrap();
            assert!(
                (set.in_newton_metres() - expected).abs() < 0.01,
                "{degrees}"
            );
        }
    }

    /// Source: worked examples of an aircraft general-practice page. *Public data.*
    #[test]
    fn folded_back_takes_more() {
        assert!((set_in_lb(inches(10.0, 1.5, 0.0), 135.0) - 117.39).abs() < 0.01);
        assert!((set_in_lb(inches(10.0, 1.5, 180.0), 135.0) - 158.82).abs() < 0.01);
    }

    /// Case: 50 lbf·ft, 18 in handle, 6 in adapter. Source: reader's worked example, *public
    /// data*; arithmetic of the lever.
    #[test]
    fn o09_adapter() {
        for (degrees, expected) in [(0.0, 37.5), (45.0, 40.46), (90.0, 50.0), (180.0, 75.0)] {
            let set = inches(18.0, 6.0, degrees)
                .setting(Torque::pound_force_feet(50.0).unwrap())
                .unwrap();
            assert!(
                (set.in_pound_force_feet() - expected).abs() < 0.005,
                "{degrees}"
            );
        }
        let uncorrected = inches(18.0, 6.0, 0.0)
            .delivered(Torque::pound_force_feet(50.0).unwrap())
            .unwrap();
        assert!((uncorrected.in_pound_force_feet() - 66.67).abs() < 0.005);
    }

    /// Source: elementary torsion in double precision, G 79.3 GPa. *Computed by a general
    /// library (Python 3.11 floats).*
    #[test]
    fn extensions_wind_up() {
        let g = Stress::megapascals(79_300.0).unwrap();
        for (mm, newton_metres, degrees) in [(10.0, 50.0, 9.2), (12.5, 100.0, 7.5)] {
            let twist = extension_twist(
                Torque::newton_metres(newton_metres).unwrap(),
                Length::mm(250.0).unwrap(),
                Length::mm(mm).unwrap(),
                g,
            )
            .unwrap();
            assert!((twist.in_degrees() - degrees).abs() < 0.05);
        }
    }

    /// Source: Hooke-joint kinematics. *Public data*; values by double precision.
    #[test]
    fn universal_joints_pulse() {
        for (degrees, low, high) in [
            (15.0, 0.966, 1.035),
            (20.0, 0.940, 1.064),
            (30.0, 0.866, 1.155),
        ] {
            let share = universal_joint(Angle::degrees(degrees).unwrap()).unwrap();
            assert!((share.low.in_fraction() - low).abs() < 6e-4);
            assert!((share.high.in_fraction() - high).abs() < 6e-4);
        }
        assert!(universal_joint(Angle::degrees(60.0).unwrap()).is_err());
    }

    #[test]
    fn no_lever_no_answer() {
        let torque = Torque::newton_metres(10.0).unwrap();
        assert!(matches!(
            inches(6.0, 6.0, 180.0).setting(torque),
            Err(AdapterFault::NoLever { .. })
        ));
        assert!(inches(0.0, 6.0, 0.0).setting(torque).is_err());
        assert!(inches(-12.0, 6.0, 0.0).setting(torque).is_err());
    }

    proptest! {
        /// T-P9: across the handle the adapter changes nothing, however long it is.
        #[test]
        fn tp9_ninety_degrees_changes_nothing(length in 0.0..60.0_f64) {
            let set = set_in_lb(inches(18.0, length, 90.0), 100.0);
            prop_assert!((set - 100.0).abs() < 1e-9);
        }

        /// Setting and delivered torque undo each other.
        #[test]
        fn there_and_back(length in 0.0..10.0_f64, degrees in -180.0..180.0_f64) {
            let adapter = inches(18.0, length, degrees);
            let torque = Torque::newton_metres(40.0).unwrap();
            let back = adapter.delivered(adapter.setting(torque).unwrap()).unwrap();
            prop_assert!((back.in_newton_metres() - 40.0).abs() < 1e-9);
        }
    }
}
