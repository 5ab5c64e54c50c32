//! The level a reading is held against, and the height of the workshop, corrected once.
//!
//! The limit is brought to the workshop, so that the readings stay as they were typed. A set
//! that was corrected already is compared with the limit as printed.

use calc::altitude::{density_ratio, one_per_cent_rule, pressure_ratio, standard_pressure};
use calc::compression::{EXPONENT_HIGH, EXPONENT_LOW, gauge_reading, trapped_ratio};
use quantity::{AbsolutePressure, GaugePressure, Length, Quantity, Ratio, Volume, show_fixed};
use report::{Ask, Figure, Finding, Report, Weight};

use super::answer::{Seen, percent, percent_whole};
use super::{Cranking, Lighting, Unanswerable};
use crate::layout::named;
use crate::limit::Whose;

/// Too low to start well, at ratios of 7.5 to 9 and below 5000 ft. *Common practice, no source.*
const FLOOR_PSI: f64 = 100.0;
/// The ceiling of ordinary petrol engines. *Common practice, no source.*
const HIGH_PSI: f64 = 200.0;
/// How far a gauge of a 300 psi scale nobody compared may be off: 2 % of the scale. *From
/// memory: ASME B40.100, grade A in the end quarters.*
const UNCHECKED_PSI: f64 = 6.0;
/// Where only the reading of a new engine is known: the share rule, applied to it.
const SHARE_OF_NEW: f64 = 0.75;

/// The air at the workshop, by three ways of correcting.
pub(super) struct Height {
    typed: String,
    metres: Length,
    pressure: f64,
    density: f64,
    one_per_cent: f64,
}

impl Height {
    pub(super) fn of((metres, typed): &(Length, String)) -> Result<Self, Unanswerable> {
        Ok(Self {
            typed: typed.clone(),
            metres: *metres,
            pressure: pressure_ratio(*metres)?.in_fraction(),
            density: density_ratio(*metres)?.in_fraction(),
            one_per_cent: one_per_cent_rule(*metres)?.in_fraction(),
        })
    }
}

/// The lowest level a reading may have at this workshop.
pub(super) struct Level {
    /// The level where the workshop stands, or at sea level for corrected readings.
    pub(super) here: GaugePressure,
    /// The short name for rows: `limit`, `floor-100`, `75 % of new`.
    pub(super) key: &'static str,
    /// Whose level it is.
    pub(super) words: String,
}

impl Level {
    pub(super) fn of(asked: &Cranking, height: Option<&Height>) -> Result<Self, Unanswerable> {
        let (sea_level, key, words) = match (asked.limit, asked.new) {
            (Some(limit), _) => (limit, "limit", whose(asked.whose)),
            (None, Some(new)) => (
                GaugePressure::from_si(new.si() * SHARE_OF_NEW)?,
                "75 % of new",
                "75 % of a new engine, common practice",
            ),
            (None, None) => (
                GaugePressure::psi(FLOOR_PSI)?,
                "floor-100",
                "the 100 psi floor, common practice for ratios of 7.5 to 9",
            ),
        };
        let scale = scale(asked, height);
        let words = match height.filter(|_| !asked.already_corrected) {
            Some(height) => format!("{words}, brought to {} by the pressure ratio", height.typed),
            None => words.to_owned(),
        };
        Ok(Self {
            here: GaugePressure::from_si(sea_level.si() * scale)?,
            key,
            words,
        })
    }
}

impl Level {
    /// How near to this level a reading is too near to call, in pascals: how true the gauge is
    /// and how well it repeats, which are independent of each other.
    pub(super) fn margin(&self, accuracy: Option<GaugePressure>, repeatability: f64) -> f64 {
        let scatter = self.here.si() * repeatability;
        let off = accuracy.map_or(0.0, GaugePressure::si);
        libm::hypot(off, scatter)
    }
}

/// Asks how true the gauge is, where a limit somebody set is so near that it decides.
pub(super) fn true_ask(seen: &Seen<'_>) -> Option<Ask> {
    if seen.asked.accuracy.is_some() || (seen.asked.limit.is_none() && seen.asked.new.is_none()) {
        return None;
    }
    let unchecked = GaugePressure::psi(UNCHECKED_PSI).ok()?;
    let told = seen.level.margin(None, seen.repeatability);
    let margin = seen.level.margin(Some(unchecked), seen.repeatability);
    let near = |cylinder: &u8| {
        let mark = seen.mark(*cylinder);
        let gap = mark.map(|mark| (mark.reading.si() - seen.level.here.si()).abs());
        gap.is_some_and(|gap| gap > told && gap <= margin)
    };
    let near: Vec<u8> = seen.cylinders(|_| true).into_iter().filter(near).collect();
    (!near.is_empty()).then(|| {
        Ask::new(
            "how true the gauge is",
            format!(
                "{} is nearer to {} than a gauge that was never compared can tell ({} on a scale of 300 psi).",
                named(&near),
                seen.level.words,
                seen.round(unchecked)
            ),
            "Compare it with a second gauge and give --accuracy, or judge by the spread alone.",
        )
    })
}

/// Whose limit it is, as it stands in a sentence.
const fn whose(whose: Whose) -> &'static str {
    match whose {
        Whose::Maker => "the maker's limit",
        Whose::Shop => "the shop's limit",
        Whose::Published => "the published limit",
        Whose::CommonPractice => "a limit of common practice",
        Whose::FromMemory => "a limit from memory",
        Whose::Invented => "a limit invented for a demonstration",
        Whose::Unsaid => "the limit as given",
    }
}

/// What a sea-level figure is multiplied by before a reading is held against it.
fn scale(asked: &Cranking, height: Option<&Height>) -> f64 {
    height
        .filter(|_| !asked.already_corrected)
        .map_or(1.0, |height| height.pressure)
}

/// Figures and findings about height, newness and the sanity band.
pub(super) fn findings(seen: &Seen<'_>, report: &mut Report) -> Result<(), Unanswerable> {
    let shown = |p: GaugePressure| show_fixed(p, &seen.asked.unit, 1);
    let scale = scale(seen.asked, seen.height.as_ref());
    if seen.asked.limit.is_some() {
        report.figures.push(
            Figure::new(
                "limit_here",
                "limit here",
                seen.level.here,
                shown(seen.level.here),
            )
            .note(seen.level.words.clone()),
        );
    }
    if let Some(new) = seen.asked.new {
        let here = GaugePressure::from_si(new.si() * scale)?;
        let share = Ratio::fraction(seen.shares.lowest.si() / here.si())?;
        report.figures.push(
            Figure::new("of_new", "lowest of new", share, percent(share))
                .note(format!("a new engine reads {} here", shown(here))),
        );
        wear(seen, here, report)?;
        corrected_twice(seen, here, report);
    }
    if let Some(height) = &seen.height {
        ways(seen, height, report)?;
    }
    above_the_band(seen, report)?;
    band(seen, report)
}

/// How far the lowest has come from new towards the limit.
fn wear(seen: &Seen<'_>, new_here: GaugePressure, report: &mut Report) -> Result<(), Unanswerable> {
    let limit = seen.level.here;
    if seen.asked.limit.is_none() || new_here <= limit {
        return Ok(());
    }
    let used = (new_here.si() - seen.shares.lowest.si()) / (new_here.si() - limit.si());
    if (0.5..1.0).contains(&used) {
        let used = percent_whole(Ratio::fraction(used)?);
        report.findings.push(
            Finding::new("worn", "lowest reading", format!("{used} of the way from new to the limit is used up, and the limit is not reached"))
                .points_to("wear, without saying where")
                .next("test again warm, throttle open, all plugs out, charged battery; decide on that set"),
        );
    }
    Ok(())
}

/// A reading above what a new engine can show up here was probably corrected already.
fn corrected_twice(seen: &Seen<'_>, new_here: GaugePressure, report: &mut Report) {
    let scatter = new_here.si() * seen.repeatability;
    let far_above = seen.shares.best.si() > new_here.si() + scatter;
    if seen.height.is_some() && !seen.asked.already_corrected && far_above {
        report.findings.push(
            Finding::new(
                "corrected-already",
                "readings",
                format!(
                    "{} is more than a new engine can show at this height",
                    seen.show(seen.shares.best)
                ),
            )
            .points_to("readings that were brought to sea level before they were typed")
            .next("say --already-corrected if they were; a correction is made once"),
        );
    }
}

/// Without a figure for a new engine the geometry tells: what no engine of this shape can show
/// at this height was brought to sea level before it was typed.
fn above_the_band(seen: &Seen<'_>, report: &mut Report) -> Result<(), Unanswerable> {
    let (Some(geometry), Some(height)) = (seen.asked.geometry, &seen.height) else {
        return Ok(());
    };
    if seen.asked.already_corrected || seen.asked.new.is_some() {
        return Ok(());
    }
    let none = Volume::cubic_metres(0.0)?;
    let trapped = trapped_ratio(&geometry.cylinder, geometry.inlet_closes, none)?;
    let high = Ratio::fraction(EXPONENT_HIGH)?;
    let here = gauge_reading(trapped, high, standard_pressure(height.metres)?)?;
    let sea = gauge_reading(trapped, high, AbsolutePressure::kilopascals(101.325)?)?;
    // Above what the height allows, and not above what the sea allows: one correction explains it.
    if seen.shares.best > here && seen.shares.best <= sea {
        report.findings.push(
            Finding::new(
                "corrected-already",
                "readings",
                format!(
                    "{} is above the {} this geometry can reach at this height, and not above the {} of sea level",
                    seen.show(seen.shares.best),
                    seen.round(here),
                    seen.round(sea)
                ),
            )
            .points_to("readings that were brought to sea level before they were typed")
            .next("say --already-corrected if they were; a correction is made once"),
        );
    }
    Ok(())
}

/// The three corrections in circulation, side by side; the pressure ratio is the one used.
fn ways(seen: &Seen<'_>, height: &Height, report: &mut Report) -> Result<(), Unanswerable> {
    let lowest = seen.shares.lowest;
    let shown =
        |p: f64| Ok::<_, Unanswerable>(show_fixed(GaugePressure::from_si(p)?, &seen.asked.unit, 1));
    if seen.asked.already_corrected {
        report.findings.push(
            Finding::new("height", height.typed.clone(), "the readings are taken as brought to sea level already, so nothing is corrected a second time")
                .weight(Weight::Note),
        );
        return Ok(());
    }
    let at_sea_level = GaugePressure::from_si(lowest.si() / height.pressure)?;
    report.figures.push(
        Figure::new(
            "lowest_at_sea_level",
            "lowest at sea level",
            at_sea_level,
            shown(at_sea_level.si())?,
        )
        .note("for comparing with a book; not corrected again"),
    );
    let mut finding = Finding::new(
        "height",
        height.typed.clone(),
        format!("readings stay as typed; the level they are held against is multiplied once by the pressure ratio {:.3}", height.pressure),
    )
    .weight(Weight::Note);
    for (name, ratio) in [
        ("pressure ratio", height.pressure),
        ("density ratio (copied)", height.density),
        ("1 % per 250 ft", height.one_per_cent),
    ] {
        let mut line = format!(
            "{name} {ratio:.3}: {} at sea level",
            shown(lowest.si() / ratio)?
        );
        if let Some(limit) = seen.asked.limit {
            line.push_str(&format!(", limit {}", shown(limit.si() * ratio)?));
        }
        finding = finding.detail(line);
    }
    report.findings.push(finding);
    Ok(())
}

/// The band an engine of this geometry may show; it judges nothing.
fn band(seen: &Seen<'_>, report: &mut Report) -> Result<(), Unanswerable> {
    let Some(geometry) = seen.asked.geometry else {
        return Ok(());
    };
    let air = match &seen.height {
        Some(height) if !seen.asked.already_corrected => standard_pressure(height.metres)?,
        _ => AbsolutePressure::kilopascals(101.325)?,
    };
    let none = Volume::cubic_metres(0.0)?;
    let trapped = trapped_ratio(&geometry.cylinder, geometry.inlet_closes, none)?;
    let low = gauge_reading(trapped, Ratio::fraction(EXPONENT_LOW)?, air)?;
    let high = gauge_reading(trapped, Ratio::fraction(EXPONENT_HIGH)?, air)?;
    let middle = GaugePressure::from_si(f64::midpoint(low.si(), high.si()))?;
    let shown = |p: GaugePressure| seen.round(p);
    report.figures.push(
        Figure::new(
            "expected",
            "sanity band",
            middle,
            format!("{} to {}", shown(low), shown(high)),
        )
        .between(low, high)
        .note("from geometry and inlet closing; a band, never a limit"),
    );
    Ok(())
}

/// Readings above the usual ceiling: three dull reasons before a good one.
pub(super) fn high_ask(seen: &Seen<'_>) -> Option<Ask> {
    let ceiling = GaugePressure::psi(HIGH_PSI).ok()?;
    (seen.shares.best > ceiling && seen.asked.new.is_none() && seen.asked.lighting == Lighting::Spark).then(|| {
        Ask::new(
            "why the readings are high-normal",
            format!("{} is above the 200 psi most petrol engines stay under.", seen.show(seen.shares.best)),
            "Was the gauge checked against a second one, is there oil in the bores, has the head been cut or the ratio raised?",
        )
    })
}

/// Whether the best lies above the usual ceiling.
pub(super) fn high_normal(seen: &Seen<'_>) -> bool {
    high_ask(seen).is_some()
}
