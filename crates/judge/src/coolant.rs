//! Coolant: what to pour over what stayed inside, what it protects from, and what it does not
//! mix with.
//!
//! Percentages are volume fractions of concentrate unless said otherwise.

use calc::altitude::{AltitudeError, standard_pressure};
use calc::coolant::{CoolantError, Drained, Pour, fills_for};
use calc::coolant_boiling::{BoilingError, boils_at};
use calc::coolant_freezing::{Basis, FreezingError, Glycol, freezes_at};
use quantity::unit::{DEGREE_CELSIUS, PERCENT};
use quantity::{
    AbsolutePressure, GaugePressure, Length, NotFinite, Quantity, Ratio, Temperature, Unit, Volume,
    show, show_fixed,
};
use report::{Ask, Caution, Figure, Finding, Report, Source, SourceKind, Verdict, Weight};
use thiserror::Error;

mod family;
#[cfg(test)]
mod tests;

pub use family::Family;

/// Ready-mixed coolant as sold.
const READY_MIX: f64 = 0.5;
/// Pure glycol in concentrate as sold: 50 % of concentrate freezes as 48.1 % pure does.
/// *Computed by a general library (CoolProp 8.0.0).*
const PURE_IN_CONCENTRATE: f64 = 0.962;
/// The band coolants are made for. *Published: ASTM D3306, 40 to 60 % by volume.*
const BAND: (f64, f64) = (0.40, 0.60);

/// The question: what came out, what is inside, what is wanted.
#[derive(Clone, Debug)]
pub struct Coolant {
    /// What the system holds.
    pub capacity: Option<Volume>,
    /// What came out.
    pub drained: Volume,
    /// Strength of what stayed inside; 0 after a flush with water.
    pub inside: Ratio,
    /// Strength wanted.
    pub target: Ratio,
    /// The unit volumes were typed in.
    pub unit: Unit,
    /// Which glycol.
    pub glycol: Glycol,
    /// What the percentages are of.
    pub basis: Basis,
    /// Pressure of the cap.
    pub cap: Option<GaugePressure>,
    /// Height of the workshop or of the road.
    pub height: Option<Length>,
    /// What really went in, for the air that is trapped.
    pub filled: Option<Volume>,
    /// The lowest temperature expected.
    pub coldest: Option<Temperature>,
    /// Scale of the refractometer the inside strength was read on, where it was one.
    pub scale: Option<Glycol>,
    /// The family of what stayed inside, where it is known.
    pub inside_family: Option<Family>,
    /// The family of what is poured, where it is known.
    pub poured_family: Option<Family>,
    /// The glycol of what stayed inside, where it is not the one that is poured.
    pub inside_glycol: Option<Glycol>,
}

#[derive(Debug, Error)]
enum Unanswerable {
    #[error(transparent)]
    Coolant(#[from] CoolantError),
    #[error(transparent)]
    Freezing(#[from] FreezingError),
    #[error(transparent)]
    Boiling(#[from] BoilingError),
    #[error(transparent)]
    Altitude(#[from] AltitudeError),
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
}

/// Works out what to pour.
#[must_use]
pub fn judge(asked: &Coolant) -> Report {
    let title = format!("Coolant, {}", asked.glycol.words());
    match answer(asked, title.clone()) {
        Ok(report) => report,
        Err(fault) => Report::refusal(
            "coolant",
            title,
            Finding::new("coolant", "figures", fault.to_string())
                .next("measure again; what drains is a reading, not a guess"),
        ),
    }
}

fn answer(asked: &Coolant, title: String) -> Result<Report, Unanswerable> {
    let mut report = Report::new("coolant", title);
    // The same strength inside as wanted: the rest does not matter, nor does the capacity.
    let capacity = match asked.capacity {
        Some(capacity) => capacity,
        None if asked.inside == asked.target => asked.drained,
        None => return Ok(ask_capacity(report)),
    };
    let system = Drained::new(capacity, asked.drained, asked.inside)?;
    let pour = system.pour_for(asked.target)?;
    volumes(asked, &pour, &mut report);
    protection(asked, pour.reached, &mut report)?;
    ready_mix(asked, &system, &mut report)?;
    reach(asked, &system, &pour, &mut report)?;
    trapped_air(asked, &mut report);
    scale(asked, &mut report);
    families(asked, &system, capacity, &mut report)?;
    glycols(asked, &mut report);
    report.verdict = Some(if pour.reachable {
        Verdict::Within
    } else {
        Verdict::Outside
    });
    report.headline = Some(headline(asked, &pour));
    manners(asked, &mut report);
    Ok(report)
}

fn ask_capacity(mut report: Report) -> Report {
    report.verdict = Some(Verdict::NotMeasured);
    report.headline =
        Some("How much stayed inside is not known, so neither is what to pour.".to_owned());
    report.asks.push(Ask::new(
        "capacity of the whole system",
        "what stays inside differs in strength from what is wanted.",
        "Give --capacity from the maker's book, or fill from empty and measure.",
    ));
    report
}

fn headline(asked: &Coolant, pour: &Pour) -> String {
    let volume = |v| show(v, &asked.unit);
    if pour.reachable {
        format!(
            "Pour {} of concentrate and {} of water: {} is reached.",
            volume(pour.concentrate),
            volume(pour.water),
            percent(pour.reached)
        )
    } else if pour.concentrate.si() > 0.0 {
        format!(
            "One fill cannot reach {}: {} of concentrate alone gives {}.",
            percent(asked.target),
            volume(pour.concentrate),
            percent(pour.reached)
        )
    } else {
        format!(
            "Water alone still leaves {}: too strong for {}.",
            percent(pour.reached),
            percent(asked.target)
        )
    }
}

fn volumes(asked: &Coolant, pour: &Pour, report: &mut Report) {
    for (name, volume) in [("concentrate", pour.concentrate), ("water", pour.water)] {
        report
            .figures
            .push(Figure::new(name, name, volume, show(volume, &asked.unit)));
    }
    report.figures.push(Figure::new(
        "reached",
        "strength reached",
        pour.reached,
        percent(pour.reached),
    ));
}

fn protection(asked: &Coolant, reached: Ratio, report: &mut Report) -> Result<(), Unanswerable> {
    match freezes_at(asked.glycol, asked.basis, reached) {
        Ok(freezes) => {
            report.figures.push(
                Figure::new(
                    "freezes",
                    "first ice at",
                    freezes,
                    show_fixed(freezes, &DEGREE_CELSIUS, 0),
                )
                .note("the supplier's own table wins"),
            );
            cold_night(asked, freezes, report);
        }
        Err(fault @ FreezingError::Strength { .. }) => report.findings.push(
            Finding::new("past-the-table", "freezing", fault.to_string())
                .next("stay between 40 % and 60 %"),
        ),
        Err(fault) => return Err(fault.into()),
    }
    let air = match asked.height {
        Some(height) => standard_pressure(height)?,
        None => AbsolutePressure::kilopascals(101.325)?,
    };
    let pure = match asked.basis {
        Basis::Concentrate => Ratio::fraction(reached.in_fraction() * PURE_IN_CONCENTRATE)?,
        Basis::Pure => reached,
    };
    let open = GaugePressure::from_si(0.0)?;
    let boils = boils_at(asked.glycol, pure, asked.cap.unwrap_or(open), air)?;
    let under = match asked.cap {
        Some(_) => "under the cap; with the cap off it boils at once well below that",
        None => "open; give --cap for the pressure cap",
    };
    report.figures.push(
        Figure::new(
            "boils",
            "boils at",
            boils,
            show_fixed(boils, &DEGREE_CELSIUS, 0),
        )
        .note(under),
    );
    if reached.in_fraction() < BAND.0 || reached.in_fraction() > BAND.1 {
        report.findings.push(Finding::new(
            "strength-band",
            "strength",
            format!(
                "{} lies outside the 40 % to 60 % coolants are made for",
                percent(reached)
            ),
        ));
    }
    Ok(())
}

fn cold_night(asked: &Coolant, freezes: Temperature, report: &mut Report) {
    if let Some(coldest) = asked.coldest.filter(|coldest| *coldest <= freezes) {
        report.findings.push(
            Finding::new(
                "frost",
                "engine block",
                format!(
                    "ice forms at {}, and {} is expected",
                    show_fixed(freezes, &DEGREE_CELSIUS, 0),
                    show_fixed(coldest, &DEGREE_CELSIUS, 0)
                ),
            )
            .points_to("pushed core plugs or a split block")
            .next("do not leave it out tonight; strengthen it and run until the thermostat opens")
            .weight(Weight::Stop),
        );
    }
}

fn ready_mix(asked: &Coolant, system: &Drained, report: &mut Report) -> Result<(), Unanswerable> {
    let mix = Ratio::fraction(READY_MIX)?;
    let reached = system.filled_with(mix)?;
    if (reached.in_fraction() - asked.target.in_fraction()).abs() < 0.005 {
        return Ok(());
    }
    let mut finding = Finding::new(
        "ready-mix",
        "ready 50/50",
        format!("filling up with it would give {}", percent(reached)),
    )
    .weight(Weight::Note);
    if let Ok(freezes) = freezes_at(asked.glycol, asked.basis, reached) {
        finding = finding.detail(format!(
            "first ice at {}",
            show_fixed(freezes, &DEGREE_CELSIUS, 0)
        ));
    }
    if asked.inside < mix && asked.target >= mix {
        finding = finding.points_to(
            "ready-mixed coolant never reaches its own strength while weaker liquid stays inside",
        );
    }
    report.findings.push(finding);
    Ok(())
}

fn reach(
    asked: &Coolant,
    system: &Drained,
    pour: &Pour,
    report: &mut Report,
) -> Result<(), Unanswerable> {
    let most = system.filled_with(Ratio::fraction(1.0)?)?;
    report
        .figures
        .push(Figure::new("most", "most in one fill", most, percent(most)));
    let share = system.share()?;
    if !pour.reachable {
        let mix = system.second_mix(pour.reached, asked.target)?;
        let next = if (0.0..=1.0).contains(&mix.in_fraction()) {
            format!(
                "run until the thermostat opens, drain again, fill with a mix of {}",
                percent(mix)
            )
        } else {
            "open the block drains or flush; two fills do not reach it".to_owned()
        };
        report.findings.push(
            Finding::new(
                "not-in-one-fill",
                "strength",
                format!("only {} of the capacity drains", percent(share)),
            )
            .next(next),
        );
        if (0.0..=1.0).contains(&mix.in_fraction()) {
            report
                .figures
                .push(Figure::new("second_mix", "second fill", mix, percent(mix)));
        }
    }
    let fills = fills_for(share, Ratio::percent(5.0)?)?;
    let count = usize::try_from(fills).unwrap_or(usize::MAX);
    report.figures.push(
        Figure::count("flushes", "flushes", count)
            .note("drain and fill until under 5 % of the old is left"),
    );
    Ok(())
}

/// What did not go in is air until shown otherwise.
fn trapped_air(asked: &Coolant, report: &mut Report) {
    let Some(filled) = asked.filled else { return };
    let short = asked.drained - filled;
    if short.si() > 0.02 * asked.drained.si() {
        report.findings.push(
            Finding::new("trapped-air", "fill", format!("{} less went in than came out", show(short, &asked.unit)))
                .points_to("trapped air, until shown otherwise")
                .next("bleed at the high points, heater on hot, watch heater outlet and level over three warm-ups"),
        );
    }
}

/// Whether old and new may meet. After a flush with water nothing old is there to meet.
fn families(
    asked: &Coolant,
    system: &Drained,
    capacity: Volume,
    report: &mut Report,
) -> Result<(), Unanswerable> {
    let told = asked.inside_family.is_some() || asked.poured_family.is_some();
    let stays = capacity.si() - asked.drained.si();
    if asked.inside.in_fraction() <= 0.0 || (!told && stays <= 0.0) {
        return Ok(());
    }
    // Where the capacity was not needed it is not known how much of the old one stays.
    let left = asked
        .capacity
        .map(|capacity| Ratio::fraction(stays / capacity.si()))
        .transpose()?;
    let fills = fills_for(system.share()?, Ratio::fraction(family::NO_LONGER_COUNTS)?)?;
    let fills = usize::try_from(fills).unwrap_or(usize::MAX);
    match family::judged(asked.inside_family, asked.poured_family, left, fills) {
        Ok(finding) => report.findings.push(finding),
        Err(ask) => report.asks.push(ask),
    }
    report.cite(family::source());
    Ok(())
}

/// Two glycols in one fill: no table holds for the mixture, and no tester reads it.
fn glycols(asked: &Coolant, report: &mut Report) {
    if let Some(inside) = asked.inside_glycol.filter(|inside| *inside != asked.glycol) {
        report.findings.push(
            Finding::new(
                "glycols-meet",
                "glycols",
                format!("{} inside, {} poured", inside.words(), asked.glycol.words()),
            )
            .points_to("a mixture that reads wrong on both scales; the freezing point here is that of the poured one alone")
            .next("flush with water until under 5 % of the old is left, then fill; until then trust no refractometer")
            .weight(Weight::Stop),
        );
    }
}

fn scale(asked: &Coolant, report: &mut Report) {
    if let Some(scale) = asked.scale.filter(|scale| *scale != asked.glycol) {
        report.findings.push(
            Finding::new(
                "wrong-scale",
                "refractometer",
                format!("the strength inside was read on the scale for {}", scale.words()),
            )
            .points_to("an error of up to 10 °C; the instrument cannot tell which glycol it sees, and a mixture reads wrong on both scales")
            .next("read again on the right scale, or drain and know what is inside"),
        );
    }
}

fn manners(asked: &Coolant, report: &mut Report) {
    let of = match asked.basis {
        Basis::Concentrate => "concentrate as sold",
        Basis::Pure => "pure glycol",
    };
    report.because.push(format!(
        "Strength is volume of {of} over the whole, before mixing."
    ));
    report.because.push("Concentrate = wanted strength × capacity, less what stayed inside; heater and block mix in only once the thermostat has opened.".to_owned());
    report.because.push(
        "A full fill grows by about 4.5 % to 95 °C: leave the room the maker leaves.".to_owned(),
    );
    report.cautions.push(Caution::new(
        "opening the system",
        "only cold: under a hot cap the coolant is above its open boiling point and bursts out.",
    ));
    report.cautions.push(Caution::new(
        "coolant about",
        match asked.glycol {
            Glycol::Ethylene => "ethylene glycol is a sweet poison: less than 10 mL can kill a small child, a teaspoon a cat. Cover pans, wipe spills, label bottles; if swallowed, poison centre at once.",
            Glycol::Propylene => "propylene glycol is far less poisonous, used coolant is not: cover pans, wipe spills, label bottles.",
        },
    ));
    report.cautions.push(Caution::new(
        "used coolant",
        "never on the ground, in a storm drain or a septic tank; take it to the collection site your local rules name.",
    ));
    report.cautions.push(Caution::new(
        "mixing kinds",
        "colour is no specification: go by the maker's number on bottle and book. A mixture lasts as long as its weakest; plan a change. Demineralised water only.",
    ));
    report.cite(Source::new(
        SourceKind::Computed,
        "freezing points: CoolProp 8.0.0",
    ));
    report.cite(Source::new(
        SourceKind::Published,
        "water vapour: IAPWS R7-97 (2012); strength band: ASTM D3306",
    ));
    report.cite(Source::new(
        SourceKind::FromMemory,
        "glycol vapour: Antoine constants of the NIST Chemistry WebBook",
    ));
}

fn percent(ratio: Ratio) -> String {
    show(ratio, &PERCENT)
}
