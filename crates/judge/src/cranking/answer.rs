//! From readings to the answer: marks for every cylinder, figures, rows, reasons, questions.

use calc::cranking::{Shares, shares};
use calc::repeatability::real_difference;
use quantity::{GaugePressure, Quantity, Ratio, show, show_fixed};
use report::{
    Align, Ask, Caution, Cell, Figure, Finding, Report, Source, SourceKind, Table, Verdict, Weight,
};

use super::bars;
use super::height::{self, Height, Level};
use super::pattern::Pattern;
use super::wet::Wet;
use super::{Cranking, Lighting, Rule, Standing, Unanswerable, condition, note, scatter};
use crate::layout::named;

/// The scatter of a gauge nobody measured. *Common practice, no source.*
const REPEATABILITY: f64 = 0.02;
/// Share of the last reading the first stroke of a sound cylinder reaches at least. *Common
/// practice, no source.*
const FIRST_SHARE: f64 = 0.5;

/// What the readings come to, before anything is said about it.
pub(super) struct Seen<'a> {
    pub(super) asked: &'a Cranking,
    pub(super) shares: Shares,
    pub(super) repeatability: f64,
    pub(super) height: Option<Height>,
    pub(super) level: Level,
    pub(super) marks: Vec<Option<Mark>>,
}

/// One cylinder's standing by the two kinds of rule.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mark {
    pub(super) reading: GaugePressure,
    pub(super) by_spread: Standing,
    pub(super) by_level: Standing,
}

impl Mark {
    pub(super) fn verdict(self) -> Verdict {
        match (self.by_spread, self.by_level) {
            (Standing::Low, _) | (_, Standing::Low) => Verdict::Outside,
            (Standing::Borderline, _) | (_, Standing::Borderline) => Verdict::Undecided,
            (Standing::Sound, Standing::Sound) => Verdict::Within,
        }
    }
}

impl<'a> Seen<'a> {
    pub(super) fn of(asked: &'a Cranking) -> Result<Self, Unanswerable> {
        let shares = shares(&asked.dry)?;
        let repeatability = asked
            .repeatability
            .map_or(REPEATABILITY, Ratio::in_fraction);
        let height = asked.height.as_ref().map(Height::of).transpose()?;
        let level = Level::of(asked, height.as_ref())?;
        let threshold = asked.rule.threshold(shares.best)?;
        let spread_margin = threshold.si().abs() * repeatability;
        let level_margin = level.margin(asked.accuracy, repeatability);
        let mark = |reading: GaugePressure| Mark {
            reading,
            by_spread: Standing::of(reading, threshold, spread_margin),
            by_level: if condition::limit_holds(&asked.conditions) {
                Standing::of(reading, level.here, level_margin)
            } else {
                Standing::Sound
            },
        };
        let marks = asked.dry.iter().map(|reading| reading.map(mark)).collect();
        Ok(Self {
            asked,
            shares,
            repeatability,
            height,
            level,
            marks,
        })
    }

    pub(super) fn report(&self, title: String) -> Result<Report, Unanswerable> {
        let mut report = Report::new("cranking", title);
        self.figures(&mut report)?;
        let pattern = Pattern::of(self);
        let wet = Wet::of(self)?;
        pattern.findings(self, &wet, &mut report);
        wet.findings(self, &pattern, &mut report);
        self.note(&pattern, &mut report);
        self.first_strokes(&mut report);
        height::findings(self, &mut report)?;
        condition::findings(self, &mut report);
        self.rows(&wet, &mut report);
        report.pictures.push(bars::bars(self, &wet));
        report.verdict = Some(self.verdict());
        report.headline = Some(pattern.headline(self));
        self.because(&wet, &mut report)?;
        self.asks(&pattern, &mut report);
        self.cautions_and_sources(&mut report);
        Ok(report)
    }

    /// Cylinder numbers whose mark answers a question.
    pub(super) fn cylinders(&self, wanted: impl Fn(Mark) -> bool) -> Vec<u8> {
        (1u8..)
            .zip(&self.marks)
            .filter(|(_, mark)| mark.is_some_and(&wanted))
            .map(|(cylinder, _)| cylinder)
            .collect()
    }

    pub(super) fn mark(&self, cylinder: u8) -> Option<Mark> {
        let at = usize::from(cylinder).checked_sub(1)?;
        self.marks.get(at).copied().flatten()
    }

    pub(super) fn read_count(&self) -> usize {
        self.marks.iter().flatten().count()
    }

    pub(super) fn show(&self, pressure: GaugePressure) -> String {
        show(pressure, &self.asked.unit)
    }

    pub(super) fn share(&self, cylinder: u8) -> String {
        let at = usize::from(cylinder).saturating_sub(1);
        self.shares
            .of_best
            .get(at)
            .copied()
            .flatten()
            .map_or_else(|| "-".to_owned(), percent)
    }

    fn verdict(&self) -> Verdict {
        let verdicts = || self.marks.iter().flatten().map(|mark| mark.verdict());
        if verdicts().any(|verdict| verdict == Verdict::Outside) {
            Verdict::Outside
        } else if verdicts().any(|verdict| verdict == Verdict::Undecided) {
            Verdict::Undecided
        } else {
            Verdict::Within
        }
    }

    fn figures(&self, report: &mut Report) -> Result<(), Unanswerable> {
        let best = self.shares.best;
        report
            .figures
            .push(Figure::new("best", "best", best, self.show(best)));
        if self.read_count() > 1 {
            let lowest = self.shares.lowest_of_best;
            report.figures.push(
                Figure::new("lowest_of_best", "lowest of best", lowest, percent(lowest))
                    .note(self.show(self.shares.lowest)),
            );
            let spread = self.shares.spread;
            report.figures.push(
                Figure::new("spread", "spread", spread, percent(spread))
                    .note("best less lowest, over the best"),
            );
            let real = self.real_difference()?;
            report.figures.push(
                Figure::new("real_difference", "real difference", real, self.round(real))
                    .note("two single readings closer than this may be the same"),
            );
        }
        Ok(())
    }

    fn real_difference(&self) -> Result<GaugePressure, Unanswerable> {
        let scatter = Ratio::fraction(self.repeatability)?;
        let share = real_difference(scatter, 1)?;
        Ok(GaugePressure::from_si(self.shares.best.si() * share.si())?)
    }

    fn rows(&self, wet: &Wet, report: &mut Report) {
        let mut table = Table::new(&[
            ("cylinder", "cylinder", Align::Right),
            ("dry", "dry", Align::Right),
            ("wet", if wet.tested() { "wet" } else { "" }, Align::Right),
            ("share_of_best", "of best", Align::Right),
            (
                "gap_closed",
                if wet.tested() { "gap closed" } else { "" },
                Align::Right,
            ),
            ("verdict", "verdict", Align::Left),
            ("low_by", "low by", Align::Left),
        ]);
        for (at, (cylinder, mark)) in (1u8..).zip(&self.marks).enumerate() {
            let share = self.shares.of_best.get(at).copied().flatten();
            table.push(vec![
                Cell::from(usize::from(cylinder)),
                mark.map(|mark| Figure::new("dry", "dry", mark.reading, self.show(mark.reading)))
                    .into(),
                wet.reading(cylinder)
                    .map(|wet| Figure::new("wet", "wet", wet, self.show(wet)))
                    .into(),
                share
                    .map(|share| Figure::new("share_of_best", "of best", share, percent(share)))
                    .into(),
                wet.gap_closed(cylinder)
                    .map(|gap| Figure::new("gap_closed", "gap closed", gap, percent_whole(gap)))
                    .into(),
                mark.map_or(Verdict::NotMeasured, Mark::verdict).into(),
                mark.map(|mark| self.low_by(mark)).into(),
            ]);
        }
        report.rows = table;
    }

    fn low_by(&self, mark: Mark) -> String {
        let word = |standing: Standing, rule: &str| match standing {
            Standing::Low => Some(rule.to_owned()),
            Standing::Borderline => Some(format!("{rule} (borderline)")),
            Standing::Sound => None,
        };
        let words: Vec<String> = [
            word(mark.by_spread, self.asked.rule.key()),
            word(mark.by_level, self.level.key),
        ]
        .into_iter()
        .flatten()
        .collect();
        words.join(", ")
    }

    fn note(&self, pattern: &Pattern, report: &mut Report) {
        let Some(text) = &self.asked.note else { return };
        let called = note::called_low(text, self.asked.layout.count());
        if called.is_empty() {
            report.findings.push(
                Finding::new("noted", "note", format!("\"{text}\" is kept beside the readings; it is a separate thing to check and decides nothing here"))
                    .weight(Weight::Note),
            );
            return;
        }
        let mut found = [pattern.low(), pattern.borderline()].concat();
        found.sort_unstable();
        if called != found && called != pattern.low() {
            let says = format!(
                "the sentence calls {} low, the numbers say {}",
                named(&called),
                named(&found)
            );
            report.findings.push(
                Finding::new("note-disagrees", "note", says)
                    .next("find out which is right before anything comes off; until then the numbers are followed"),
            );
            report.asks.push(Ask::new(
                "which is right, the sentence or the list",
                "they name different cylinders.",
                "Read the list in cylinder order 1, 2, 3, … from the drive end, or test those cylinders again.",
            ));
        }
    }

    /// A first stroke far below the last means leakage; filling alone is quick.
    fn first_strokes(&self, report: &mut Report) {
        let Some(first) = &self.asked.first else {
            return;
        };
        let slow: Vec<u8> = (1u8..)
            .zip(first.iter().zip(&self.asked.dry))
            .filter_map(|(cylinder, readings)| match readings {
                (Some(first), Some(last)) if first.si() < FIRST_SHARE * last.si() => Some(cylinder),
                _ => None,
            })
            .collect();
        if !slow.is_empty() {
            report.findings.push(
                Finding::new("slow-build", named(&slow), "the first stroke gave less than half of the last reading")
                    .points_to("leakage; a gauge with its check valve at the plug end is filled by 87 % at the first stroke")
                    .next("compare the same stroke on a sound cylinder, then leak-down"),
            );
        }
    }

    fn because(&self, wet: &Wet, report: &mut Report) -> Result<(), Unanswerable> {
        let rule = self.asked.rule;
        report
            .because
            .push(if condition::limit_holds(&self.asked.conditions) {
                format!(
                    "Low means {}, or under {} ({}).",
                    rule.words(),
                    self.round(self.level.here),
                    self.level.words
                )
            } else {
                format!(
                    "Low means {}; no limit holds for a shut throttle.",
                    rule.words()
                )
            });
        if self.read_count() > 1 {
            report.because.push(self.other_rules()?);
            report.because.push(self.is_it_real()?);
            report.because.extend(scatter::remarks(self));
        }
        report.because.extend(wet.bare_rise(self));
        if self.asked.first.is_some() {
            report.because.push("Slow means that the first stroke gives less than half of the last; part of the trade asks for three quarters of it, and 75 psi.".to_owned());
        }
        report.because.push(format!(
            "Neighbours by place on the bank ({}), never by firing order{}.",
            self.asked.layout.words(),
            if self.asked.layout.assumed() {
                "; this numbering is assumed"
            } else {
                ""
            }
        ));
        if let Some(strokes) = self.asked.strokes {
            report.because.push(format!(
                "{strokes} strokes on every cylinder; compare only with sets of as many."
            ));
        }
        report.because.push(self.closeness()?);
        Ok(())
    }

    /// How near to a limit is too near. Between cylinders a gauge that reads wrong reads wrong
    /// alike, so only its scatter counts there; against a limit both do.
    fn closeness(&self) -> Result<String, Unanswerable> {
        let told = if self.asked.repeatability.is_some() {
            "told"
        } else {
            "assumed; five readings of one cylinder measure it"
        };
        let scatter = percent(Ratio::fraction(self.repeatability)?);
        let repeats = format!("how well the gauge repeats ({told})");
        let Some(accuracy) = self.asked.accuracy else {
            return Ok(format!(
                "Within {scatter} of a limit is borderline: {repeats}."
            ));
        };
        let margin = self.level.margin(Some(accuracy), self.repeatability);
        Ok(format!(
            "Between cylinders, within {scatter} is borderline: {repeats}; how true it is cancels there. Against {} it counts: {} for both is borderline.",
            self.level.key,
            show_fixed(GaugePressure::from_si(margin)?, &self.asked.unit, 1)
        ))
    }

    /// A pressure to the step a gauge shows: about a hundredth of a sound reading.
    pub(super) fn round(&self, pressure: GaugePressure) -> String {
        let units_to_a_bar = self.asked.unit.of_si(100_000.0);
        let decimals = if units_to_a_bar > 10.0 {
            0
        } else if units_to_a_bar > 0.5 {
            1
        } else {
            2
        };
        show_fixed(pressure, &self.asked.unit, decimals)
    }

    /// Whether the widest difference of the set is more than the gauge does on its own.
    fn is_it_real(&self) -> Result<String, Unanswerable> {
        let gap = self.shares.best - self.shares.lowest;
        let real = self.real_difference()?;
        let says = if gap > real {
            "a real difference"
        } else {
            "no more than the gauge may do on its own"
        };
        Ok(format!(
            "Best and lowest are {} apart: {says} (real beyond {}).",
            self.round(gap),
            self.round(real)
        ))
    }

    /// The trade disagrees; every rule is named with what it would say.
    fn other_rules(&self) -> Result<String, Unanswerable> {
        let mut words = Vec::new();
        for rule in Rule::ALL {
            let threshold = rule.threshold(self.shares.best)?;
            let margin = threshold.si().abs() * self.repeatability;
            let verdict = match Standing::of(self.shares.lowest, threshold, margin) {
                Standing::Low => "outside",
                Standing::Borderline => "undecided",
                Standing::Sound => "within",
            };
            let decided = if rule == self.asked.rule {
                " (this one decided)"
            } else {
                ""
            };
            words.push(format!("{}: {verdict}{decided}", rule.key()));
        }
        Ok(format!(
            "The trade's spread rules on this set: {}.",
            words.join(", ")
        ))
    }

    fn asks(&self, pattern: &Pattern, report: &mut Report) {
        let missing: Vec<u8> = (1u8..)
            .zip(&self.marks)
            .filter(|(_, mark)| mark.is_none())
            .map(|(cylinder, _)| cylinder)
            .collect();
        if !missing.is_empty() {
            report.asks.push(Ask::new(
                format!("reading of {}", named(&missing)),
                "a pattern over the layout needs every cylinder.",
                "Test them with the same number of strokes, all plugs out, throttle open.",
            ));
        }
        if self.asked.limit.is_none() && !pattern.any_low() {
            report.asks.push(Ask::new(
                "maker's lowest reading, or an earlier one on this gauge",
                format!("an even set does not say whether {} is right for this engine; worn alike, late cam and a wrong gauge all look even.", self.show(self.shares.best)),
                "Give --limit, or repeat on a second gauge.",
            ));
        }
        report.asks.extend(height::true_ask(self));
        if let Some(ask) = height::high_ask(self) {
            report.asks.push(ask);
        }
        if pattern.needs_wet() && self.asked.lighting == Lighting::Spark && self.asked.wet.is_none()
        {
            report.asks.push(Ask::new(
                "wet readings",
                "oil parts the ring path from valve, gasket and crack.",
                "Put 3 to 5 cm³ of oil into the low cylinder and into a sound one, test both, give --wet.",
            ));
        }
    }

    fn cautions_and_sources(&self, report: &mut Report) {
        report.cautions.push(Caution::new(
            "cranking",
            "fuel and ignition off by the maker's way, plug leads earthed, hands and clothes clear of belts and fans; no flame near the plug holes. If coolant may be in a cylinder: all plugs out and turn by hand first.",
        ));
        report.cite(Source::common_practice(
            "spread rules, the 100 psi floor, what a wet gain points to",
        ));
        if self.height.is_some() {
            report.cite(Source::new(
                SourceKind::Published,
                "US Standard Atmosphere, 1976",
            ));
        }
    }
}

pub(super) fn percent(ratio: Ratio) -> String {
    show_fixed(ratio, &quantity::unit::PERCENT, 1)
}

pub(super) fn percent_whole(ratio: Ratio) -> String {
    show_fixed(ratio, &quantity::unit::PERCENT, 0)
}
