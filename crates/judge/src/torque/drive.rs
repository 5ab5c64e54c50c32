//! What else stands between wrench and bolt: a universal joint that pulses, an extension that
//! winds up.

use calc::adapter::{extension_twist, universal_joint};
use quantity::{Angle, Length, Quantity, Stress, Torque, show, unit};
use report::{Figure, Finding, Report, Source, SourceKind, Weight};

use super::{Seen, unstated};
use crate::tightening::StageFault;

/// Beyond this bend no joint that must hold is tightened through a universal joint.
/// *Common practice, no source.*
const BEND_DEGREES: f64 = 15.0;
/// Shear modulus of tool steel in N/mm². *Published in handbooks of elasticity, 79.3 GPa.*
const SHEAR_MEGAPASCALS: f64 = 79_300.0;

/// Parts of the drive beside an adapter.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Drive {
    /// Bend of a universal joint.
    pub bend: Option<Angle>,
    /// A straight extension.
    pub extension: Option<Extension>,
}

/// A straight round extension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extension {
    /// Its length.
    pub length: Length,
    /// The diameter of its bar.
    pub diameter: Length,
}

pub(super) fn findings(report: &mut Report, seen: &Seen<'_>) -> Result<(), StageFault> {
    let Some((_, torque)) = seen.last_torque() else {
        return Ok(());
    };
    if let Some(bend) = seen.asked.drive.bend {
        universal(report, seen, torque, bend)?;
    }
    if let Some(extension) = seen.asked.drive.extension {
        winding(report, seen, torque, extension)?;
    }
    Ok(())
}

fn universal(
    report: &mut Report,
    seen: &Seen<'_>,
    torque: Torque,
    bend: Angle,
) -> Result<(), StageFault> {
    let share = universal_joint(bend)?;
    let end = |share: quantity::Ratio| Torque::newton_metres(torque.si() * share.in_fraction());
    let (Ok(low), Ok(high)) = (end(share.low), end(share.high)) else {
        return Ok(());
    };
    let between = format!("{} to {}", seen.show(low), seen.show(high));
    report.figures.push(
        Figure::new("delivered", "through the joint", torque, between.clone()).between(low, high),
    );
    let bent = show::show(bend, &unit::DEGREE);
    let critical = seen
        .asked
        .joint
        .as_deref()
        .is_some_and(unstated::is_critical);
    let too_bent = bend.in_degrees().abs() > BEND_DEGREES;
    let mut finding = Finding::new(
        "universal-joint",
        bent,
        format!(
            "the bolt gets {between}; which of them holds at the click depends on how the yokes stand"
        ),
    );
    finding = match (too_bent, critical) {
        (true, true) => finding
            .points_to("a joint that must hold, bent by more than 15°")
            .next("do not tighten it so: straighten the drive, or take an adapter in the plane of the wrench")
            .weight(Weight::Stop),
        (true, false) => finding
            .next("straighten the drive below 15°; a joint that must hold is not tightened so")
            .weight(Weight::Look),
        (false, _) => finding
            .next("straighten the drive as far as it goes")
            .weight(Weight::Note),
    };
    report.findings.push(finding);
    report.cite(Source::new(
        SourceKind::PublicData,
        "reference text on the kinematics of a single universal joint",
    ));
    Ok(())
}

fn winding(
    report: &mut Report,
    seen: &Seen<'_>,
    torque: Torque,
    extension: Extension,
) -> Result<(), StageFault> {
    let Ok(shear) = Stress::megapascals(SHEAR_MEGAPASCALS) else {
        return Ok(());
    };
    let twist = extension_twist(torque, extension.length, extension.diameter, shear)?;
    let shown = show::show_fixed(twist, &unit::DEGREE, 1);
    report.figures.push(Figure::new(
        "twist",
        "extension winds up",
        twist,
        shown.clone(),
    ));
    let finding = if seen.ends_in_angle() {
        Finding::new(
            "extension-twist",
            "extension",
            format!(
                "it winds up by {shown} for every {} on the bolt, and the torque grows while you turn: an angle read at the handle comes out too small on the bolt",
                seen.show(torque)
            ),
        )
        .next("read the angle at the socket, or mark the head with paint")
    } else {
        Finding::new(
            "extension-twist",
            "extension",
            format!("it winds up by {shown}; the torque on the bolt is what the wrench shows"),
        )
        .weight(Weight::Note)
    };
    report.findings.push(finding);
    Ok(())
}
