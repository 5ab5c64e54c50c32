//! Oil pressure on a mechanical gauge, warm: the figure at idle decides.

use quantity::{GaugePressure, NotFinite, Quantity, RotationalSpeed, Unit, show, show_fixed};
use report::{Ask, Caution, Figure, Finding, Report, Source, SourceKind, Verdict, Weight};

/// Lowest pressure at warm idle where the maker is silent. *Common practice, no source*: 10 to
/// 15 psi.
const IDLE_PSI: (f64, f64) = (10.0, 15.0);
/// Pressure a thousand turns where the maker is silent. *Common practice, no source.*
const PSI_PER_1000: f64 = 10.0;

/// The question.
#[derive(Clone, Debug)]
pub struct OilPressure {
    /// At warm idle.
    pub idle: Option<GaugePressure>,
    /// At a speed, warm.
    pub fast: Option<(GaugePressure, RotationalSpeed)>,
    /// The maker's lowest at idle.
    pub limit: Option<GaugePressure>,
    /// The oil was fully warm.
    pub warm: bool,
    /// A mechanical gauge was used, not the one in the dash.
    pub mechanical: bool,
    /// The unit readings were typed in.
    pub unit: Unit,
}

/// Judges oil pressure.
#[must_use]
pub fn judge(asked: &OilPressure) -> Report {
    let title = "Oil pressure, warm idle decides";
    answer(asked, title).unwrap_or_else(|fault| {
        Report::refusal(
            "oil-pressure",
            title,
            Finding::new("figures", "oil pressure", fault.to_string())
                .next("check the figure and its unit"),
        )
    })
}

fn answer(asked: &OilPressure, title: &str) -> Result<Report, NotFinite> {
    let mut report = Report::new("oil-pressure", title);
    let show = |p| show(p, &asked.unit);
    if let Some((fast, speed)) = asked.fast {
        let usual = GaugePressure::psi(PSI_PER_1000 * speed.in_rpm() / 1000.0)?;
        report.figures.push(
            Figure::new("fast", "at speed", fast, show(fast)).note(format!(
                "the rule of 10 psi a 1000 rpm asks {} at {:.0} rpm",
                show_fixed(usual, &asked.unit, 0),
                speed.in_rpm()
            )),
        );
        if fast < usual {
            report.findings.push(
                Finding::new("low-at-speed", "at speed", "under the rule of thumb")
                    .weight(Weight::Note),
            );
        }
    }
    let Some(idle) = asked.idle else {
        report.verdict = Some(Verdict::NotMeasured);
        report.headline = Some("Without the figure at warm idle nothing is decided.".to_owned());
        report.asks.push(Ask::new(
            "oil pressure at warm idle",
            "worn bearings show there first.",
            "Mechanical gauge, oil fully warm, idle speed set right.",
        ));
        return Ok(report);
    };
    report
        .figures
        .insert(0, Figure::new("idle", "warm idle", idle, show(idle)));
    report.verdict = Some(verdict(asked, idle)?);
    report.headline = Some(match report.verdict {
        Some(Verdict::Within) => format!("{} at warm idle is enough.", show(idle)),
        Some(Verdict::Outside) => format!("{} at warm idle is too little.", show(idle)),
        _ => format!("{} at warm idle is not decided.", show(idle)),
    });
    if report.verdict == Some(Verdict::Outside) {
        report.findings.push(
            Finding::new("low-idle", "warm idle", format!("{}, limit {}", show(idle), limit_words(asked)))
                .points_to("thin or fuel-diluted oil, a stuck relief valve, a blocked pick-up, worn bearings")
                .next("stop the engine; level and smell of the oil, second gauge, relief valve, pick-up screen, bearings in that order")
                .weight(Weight::Stop),
        );
    }
    conditions(asked, &mut report);
    report.because.push(format!(
        "Limit at idle: {}. A good figure at speed does not outweigh a bad one at idle.",
        limit_words(asked)
    ));
    report.cautions.push(Caution::new("no pressure", "5 to 10 s after the start without pressure: stop. Hot oil burns; keep the gauge line off the exhaust."));
    report.cite(match asked.limit {
        Some(_) => Source::new(SourceKind::Maker, "lowest oil pressure, as typed"),
        None => Source::common_practice("10 to 15 psi at warm idle, 10 psi a 1000 rpm"),
    });
    Ok(report)
}

fn verdict(asked: &OilPressure, idle: GaugePressure) -> Result<Verdict, NotFinite> {
    if !asked.warm {
        return Ok(Verdict::Undecided);
    }
    let (low, high) = match asked.limit {
        Some(limit) => (limit, limit),
        None => (
            GaugePressure::psi(IDLE_PSI.0)?,
            GaugePressure::psi(IDLE_PSI.1)?,
        ),
    };
    Ok(if idle.si() < low.si() {
        Verdict::Outside
    } else if idle.si() < high.si() || !asked.mechanical {
        Verdict::Undecided
    } else {
        Verdict::Within
    })
}

fn limit_words(asked: &OilPressure) -> String {
    match asked.limit {
        Some(limit) => format!("{} (maker)", show(limit, &asked.unit)),
        None => "10 to 15 psi (common practice)".to_owned(),
    }
}

fn conditions(asked: &OilPressure, report: &mut Report) {
    if !asked.warm {
        report.asks.push(Ask::new(
            "the same with warm oil",
            "cold oil flatters.",
            "Drive until the oil, not only the water, is warm.",
        ));
    }
    if !asked.mechanical {
        report.asks.push(Ask::new(
            "a mechanical gauge",
            "a dash gauge or lamp is no measurement.",
            "Screw one in at the sender's hole and repeat.",
        ));
    }
    if asked.limit.is_none() {
        report.asks.push(Ask::new(
            "the maker's lowest at idle",
            "the fallback is a rule of thumb.",
            "Give --limit from the book.",
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::unit::POUND_PER_SQUARE_INCH;

    fn asked(idle: Option<f64>) -> OilPressure {
        OilPressure {
            idle: idle.map(|psi| GaugePressure::psi(psi).unwrap()),
            fast: Some((
                GaugePressure::psi(50.0).unwrap(),
                RotationalSpeed::rpm(3000.0).unwrap(),
            )),
            limit: None,
            warm: true,
            mechanical: true,
            unit: POUND_PER_SQUARE_INCH,
        }
    }

    /// Source: *common practice, no source*: 10 to 15 psi at warm idle, 10 psi a 1000 rpm.
    #[test]
    fn the_idle_figure_decides_whatever_speed_shows() {
        for (psi, verdict) in [
            (8.0, Verdict::Outside),
            (12.0, Verdict::Undecided),
            (18.0, Verdict::Within),
        ] {
            assert_eq!(judge(&asked(Some(psi))).verdict, Some(verdict), "{psi}");
        }
        let report = judge(&asked(None));
        assert_eq!(report.verdict, Some(Verdict::NotMeasured));
        assert!(report.asks[0].what.contains("warm idle"));
    }

    #[test]
    fn the_makers_limit_wins_and_conditions_count() {
        let mut asked = asked(Some(8.0));
        asked.limit = Some(GaugePressure::psi(7.0).unwrap());
        assert_eq!(judge(&asked).verdict, Some(Verdict::Within));
        asked.mechanical = false;
        assert_eq!(judge(&asked).verdict, Some(Verdict::Undecided));
        asked.mechanical = true;
        asked.warm = false;
        assert_eq!(judge(&asked).verdict, Some(Verdict::Undecided));
    }
}
