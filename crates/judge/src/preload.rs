//! From torque to preload and back, with the range it really has and how far the bolt is
//! used.

use calc::fastener::{self, BearingFrom, Class, Head, Strength};
use calc::preload::standard::{Twist, utilisation};
use calc::preload::{self, Friction, scatter::Method};
use calc::thread::{Series, Thread};
use calc::tightening::TighteningError;
use quantity::{Force, Quantity, Range, Ratio, Torque, Unit, show, unit};
use report::{Align, Caution, Cell, Figure, Finding, Report, Source, SourceKind, Table, Weight};

const COMMAND: &str = "preload";

/// What is given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Given {
    /// The tightening torque.
    Torque(Torque),
    /// The preload wanted.
    Preload(Force),
}

/// The question.
#[derive(Clone, Debug)]
pub struct Question {
    /// The thread.
    pub thread: Thread,
    /// The strength mark.
    pub class: Class,
    /// The head.
    pub head: Head,
    /// Friction in the thread and under the head; both ends equal for a single number.
    pub friction: Range<Ratio>,
    /// Torque or preload.
    pub given: Given,
    /// The unit torques are shown in.
    pub unit: Unit,
}

/// Answers the question.
#[must_use]
pub fn judge(asked: &Question) -> Report {
    let title = format!("Preload, {} {}", asked.thread, asked.class);
    match Found::of(asked).and_then(|found| found.report(&title)) {
        Ok(report) => report,
        Err(fault) => Report::refusal(
            COMMAND,
            title,
            Finding::new("input", "", fault.to_string()).next("check the figure and its unit"),
        ),
    }
}

/// Everything worked out.
struct Found<'a> {
    asked: &'a Question,
    bearing: fastener::Bearing,
    strength: Strength,
    friction: Ratio,
    torque: Torque,
    preload: Force,
    range: Range<Force>,
    used: Ratio,
    used_range: Range<Ratio>,
    breaks: Force,
    scatter: Ratio,
}

impl<'a> Found<'a> {
    fn of(asked: &'a Question) -> Result<Self, TighteningError> {
        let thread = &asked.thread;
        let strength = fastener::strength(thread, asked.class)?;
        let bearing = fastener::bearing(thread, asked.head)?;
        let face = bearing.mean_diameter;
        let Range { low, high } = asked.friction;
        let friction = Ratio::fraction(0.5 * (low.in_fraction() + high.in_fraction()))?;
        let everywhere = Friction::everywhere(friction);
        let (torque, preload) = match asked.given {
            Given::Torque(torque) => (
                torque,
                preload::preload_from(torque, thread, face, everywhere)?,
            ),
            Given::Preload(force) => (preload::torque_for(force, thread, face, everywhere)?, force),
        };
        let scatter = scatter_beside(asked.friction)?;
        let range = preload::range(torque, thread, face, asked.friction, scatter)?;
        let used = |force: Force, friction: Ratio| {
            utilisation(
                force,
                thread,
                friction,
                strength.yield_point,
                Twist::Plastic,
            )
        };
        Ok(Self {
            asked,
            bearing,
            strength,
            friction,
            torque,
            preload,
            range,
            used: used(preload, friction)?,
            used_range: Range {
                low: used(range.low, high)?,
                high: used(range.high, low)?,
            },
            breaks: fastener::breaking_load(thread, asked.class)?,
            scatter,
        })
    }

    fn report(&self, title: &str) -> Result<Report, TighteningError> {
        let mut report = Report::new(COMMAND, title);
        report.headline = Some(format!(
            "{} gives about {}; expect {} to {}.",
            show::show(self.torque, &self.asked.unit),
            about(self.preload),
            about(self.range.low),
            about(self.range.high),
        ));
        report.figures = vec![
            Figure::new("preload", "preload", self.preload, about(self.preload))
                .between(self.range.low, self.range.high)
                .note(format!(
                    "{} to {}",
                    about(self.range.low),
                    about(self.range.high)
                )),
            Figure::new(
                "torque",
                "torque",
                self.torque,
                show::show(self.torque, &self.asked.unit),
            )
            .note(self.friction_words()),
            Figure::new(
                "utilisation",
                "use of the yield point",
                self.used,
                percent(self.used),
            )
            .between(self.used_range.low, self.used_range.high)
            .note(format!(
                "{} to {}; stretch and twist together",
                percent(self.used_range.low),
                percent(self.used_range.high)
            )),
        ];
        report.rows = self.shares()?;
        self.use_of_the_bolt(&mut report)?;
        self.doubts(&mut report);
        self.because(&mut report);
        if self.asked.class.is_stainless() {
            report.cautions.push(Caution::new(
                "tightening stainless on stainless",
                "It can gall and seize without warning. Use the lubricant the maker names and turn slowly.",
            ));
        }
        report.cautions.push(Caution::new(
            "using this figure",
            "A maker's torque for the joint always stands before a reckoned one. Head, rod, main, flywheel, cam, brake, steering and suspension bolts get the maker's figure or none.",
        ));
        Ok(report)
    }

    fn friction_words(&self) -> String {
        let Range { low, high } = self.asked.friction;
        if low == high {
            format!("friction {}", show::show(self.friction, &unit::FRACTION))
        } else {
            format!(
                "friction {} to {}, middle {}",
                show::show(low, &unit::FRACTION),
                show::show(high, &unit::FRACTION),
                show::show(self.friction, &unit::FRACTION)
            )
        }
    }

    fn shares(&self) -> Result<Table, TighteningError> {
        let shares = preload::shares(
            self.preload,
            &self.asked.thread,
            self.bearing.mean_diameter,
            Friction::everywhere(self.friction),
        )?;
        let mut table = Table::new(&[
            ("what", "the torque goes into", Align::Left),
            ("torque", "torque", Align::Right),
            ("share", "share", Align::Right),
        ]);
        for (what, torque) in [
            ("clamping", shares.pitch),
            ("friction in the thread", shares.thread),
            ("friction under the head", shares.head),
        ] {
            let share = if self.torque.si() > 0.0 {
                torque.si() / self.torque.si()
            } else {
                0.0
            };
            table.push(vec![
                Cell::from(what),
                Figure::new("torque", what, torque, show::show(torque, &self.asked.unit)).into(),
                Cell::Number(share, format!("{:.0} %", share * 100.0)),
            ]);
        }
        Ok(table)
    }

    /// What the preload does to the bolt.
    fn use_of_the_bolt(&self, report: &mut Report) -> Result<(), TighteningError> {
        let used = self.used.in_fraction();
        let bolt = self.asked.thread.to_string();
        let check = "check thread, class, friction and the unit of the torque";
        if self.preload >= self.breaks {
            let says = format!(
                "the preload is beyond the breaking load of {}",
                about(self.breaks)
            );
            report.findings.push(
                Finding::new("breaks", &bolt, says)
                    .next(check)
                    .weight(Weight::Stop),
            );
        } else if used > 1.0 {
            let says = format!("the bolt yields: {} of its yield point", percent(self.used));
            report.findings.push(
                Finding::new("past-yield", &bolt, says)
                    .points_to("past yield the preload no longer follows the torque, and the figure above is too high")
                    .next(check)
                    .weight(Weight::Stop),
            );
        } else if self.used_range.high.in_fraction() > 1.0 {
            let says = format!(
                "where friction is lowest the bolt may reach {} of its yield point",
                percent(self.used_range.high)
            );
            report.findings.push(
                Finding::new("may-yield", &bolt, says)
                    .next("keep the threads as the figure means them; better lubrication raises the preload")
                    .weight(Weight::Note),
            );
        }
        if self.strength.proof.is_some() && used <= 1.0 {
            let proof = fastener::proof_load(&self.asked.thread, self.asked.class)?;
            if self.preload > proof {
                let says = format!("the preload is above the proof load of {}", about(proof));
                report
                    .findings
                    .push(Finding::new("past-proof", &bolt, says));
            }
        }
        Ok(())
    }

    /// What about thread, mark and head was assumed or looks odd.
    fn doubts(&self, report: &mut Report) {
        let thread = &self.asked.thread;
        let bolt = thread.to_string();
        if !thread.is_common() {
            report.findings.push(
                Finding::new(
                    "uncommon-thread",
                    &bolt,
                    "the pitch is not one this diameter is commonly made with",
                )
                .next("check it with a thread gauge"),
            );
        }
        let inch_grade = matches!(
            self.asked.class,
            Class::Grade2 | Class::Grade5 | Class::Grade8
        );
        let inch_thread = thread.series() == Series::Unified;
        if inch_grade != inch_thread && !self.asked.class.is_stainless() {
            let says = format!(
                "{} is a mark of the other family of threads",
                self.asked.class
            );
            report.findings.push(
                Finding::new("class-of-other-family", &bolt, says)
                    .next("look at the head again: numbers are metric, radial lines are inch"),
            );
        }
        if self.bearing.from == BearingFrom::Rule {
            let mean = show::show(self.bearing.mean_diameter, &unit::MILLIMETRE);
            report.findings.push(
                Finding::new(
                    "bearing-by-rule",
                    &bolt,
                    format!("the face under the head was taken as {mean} across its middle"),
                )
                .weight(Weight::Note),
            );
        }
    }

    fn because(&self, report: &mut Report) {
        let Range { low, high } = self.asked.friction;
        report.because.push(if low == high {
            format!(
                "The range is ±{} for a torque wrench with friction estimated.",
                percent(self.scatter)
            )
        } else {
            format!(
                "The range is the friction range and ±{} for the wrench.",
                percent(self.scatter)
            )
        });
        report.because.push(
            "Twist counts as plastic over the section (κ 1.5, editions since 2001); older tables (κ 2.0) allow 9 to 10 % less torque for the same 90 %.".to_owned(),
        );
        report.cite(Source::new(
            SourceKind::FromMemory,
            "VDI 2230 (2001) and ISO 16047, torque and preload; agrees with the published tightening tables",
        ));
        report.cite(Source::new(
            SourceKind::Published,
            if low == high {
                "VDI 2230 (1986), tightening-factor table"
            } else {
                "ISO 6789 (2003), as reviewed"
            },
        ));
        report.cite(Source::new(
            SourceKind::Published,
            match self.asked.class {
                Class::Grade2 | Class::Grade5 | Class::Grade8 => {
                    "SAE J429, property table, reproduced"
                }
                Class::Stainless70 => "VDI 2230 type tightening table, stainless class 70",
                Class::C8_8 | Class::C9_8 | Class::C10_9 | Class::C12_9 => {
                    "ISO 898-1, property-class table"
                }
            },
        ));
    }
}

/// A single friction is a guess, and the method's scatter carries that guess. A range carries
/// it itself, and only the wrench is left.
fn scatter_beside(friction: Range<Ratio>) -> Result<Ratio, TighteningError> {
    if friction.low == friction.high {
        Ok(Method::WrenchEstimated.scatter()?.high)
    } else {
        Ok(Ratio::percent(4.0)?)
    }
}

/// A force to two digits: more would be false.
fn about(force: Force) -> String {
    let kilonewtons = force.in_kilonewtons();
    let decimals = if kilonewtons.abs() >= 9.95 { 0 } else { 1 };
    show::show_fixed(two_digits(force), &unit::KILONEWTON, decimals)
}

fn two_digits(force: Force) -> Force {
    let newtons = force.in_newtons();
    if newtons.abs() < 1.0 {
        return force;
    }
    let step = libm::pow(10.0, libm::floor(libm::log10(newtons.abs())) - 1.0);
    Force::newtons((newtons / step).round() * step).unwrap_or(force)
}

fn percent(ratio: Ratio) -> String {
    show::show_fixed(ratio, &unit::PERCENT, 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(thread: &str, class: Class, low: f64, high: f64, given: Given) -> Question {
        Question {
            thread: Thread::parse(thread).unwrap(),
            class,
            head: Head::Hexagon,
            friction: Range {
                low: Ratio::fraction(low).unwrap(),
                high: Ratio::fraction(high).unwrap(),
            },
            given,
            unit: unit::NEWTON_METRE,
        }
    }

    fn newton_metres(value: f64) -> Given {
        Given::Torque(Torque::newton_metres(value).unwrap())
    }

    /// Sources: standard values of the VDI 2230 (2001) form, M8 8.8 18.63 kN at 24.57 N·m
    /// (*computed by a general library, Python 3.11 floats*) and M10x1.25 10.9 46.4 kN at
    /// 75 N·m (*published*).
    #[test]
    fn preload_of_standard_torques() {
        for (thread, class, torque, kilonewtons) in [
            ("M8x1.25", Class::C8_8, 24.57, 18.63),
            ("M10x1.25", Class::C10_9, 74.7, 46.46),
        ] {
            let report = judge(&asked(thread, class, 0.12, 0.12, newton_metres(torque)));
            let force = report.figure("preload").unwrap();
            assert!(
                (force.value / 1000.0 / kilonewtons - 1.0).abs() < 0.005,
                "{}",
                force.value
            );
            let used = report.figure("utilisation").unwrap();
            assert!((used.value - 0.9).abs() < 0.006, "{}", used.value);
            assert!(report.finds("may-yield"));
            assert_eq!(report.exit_status(), 0);
        }
    }

    #[test]
    fn no_preload_is_shown_with_three_digits() {
        let report = judge(&asked("M8", Class::C8_8, 0.12, 0.12, newton_metres(24.57)));
        let figure = report.figure("preload").unwrap();
        assert_eq!(figure.shown, "19 kN");
        assert!(figure.low.unwrap() < figure.value && figure.value < figure.high.unwrap());
        assert_eq!(about(Force::newtons(8_740.0).unwrap()), "8.7 kN");
        assert_eq!(about(Force::newtons(128_750.0).unwrap()), "130 kN");
    }

    #[test]
    fn a_preload_asked_for_gives_the_torque_back() {
        let given = Given::Preload(Force::kilonewtons(18.63).unwrap());
        let report = judge(&asked("M8", Class::C8_8, 0.12, 0.12, given));
        assert!((report.figure("torque").unwrap().value - 24.5).abs() < 0.1);
        assert!((report.figure("preload").unwrap().value - 18_630.0).abs() < 1e-6);
    }

    /// The lubrication trap: M8 8.8 at 27.3 N·m with friction 0.08 is at 133 % and near its
    /// breaking load. Source: long form in double precision. *Computed by a general library
    /// (Python 3.11 floats).*
    #[test]
    fn p39_low_friction_yields_the_bolt() {
        let report = judge(&asked("M8", Class::C8_8, 0.08, 0.08, newton_metres(27.3)));
        assert!(report.finds("past-yield"));
        assert!((report.figure("utilisation").unwrap().value - 1.33).abs() < 0.01);
        assert_eq!(report.exit_status(), 1);
    }

    /// A stronger or weaker bolt of the same size changes the use, not the preload.
    #[test]
    fn p40_replacement_hardware_of_another_class() {
        let weak = judge(&asked("M8", Class::C8_8, 0.12, 0.12, newton_metres(36.0)));
        let strong = judge(&asked("M8", Class::C10_9, 0.12, 0.12, newton_metres(36.0)));
        assert!(weak.finds("past-yield"));
        assert!(!strong.finds("past-yield"));
        assert_eq!(
            weak.figure("preload").unwrap().value,
            strong.figure("preload").unwrap().value
        );
    }

    #[test]
    fn a_friction_range_carries_the_range() {
        let report = judge(&asked("M8", Class::C8_8, 0.10, 0.16, newton_metres(24.0)));
        let figure = report.figure("preload").unwrap();
        assert!(figure.high.unwrap() / figure.low.unwrap() > 1.5);
        assert!(report.because[0].contains("±4 %"), "{}", report.because[0]);
    }

    #[test]
    fn friction_as_a_whole_number_is_refused() {
        let report = judge(&asked("M8", Class::C8_8, 12.0, 12.0, newton_metres(24.0)));
        assert!(report.refused);
        assert!(report.findings[0].says.contains("friction"));
    }

    #[test]
    fn a_mark_of_the_other_family_is_pointed_out() {
        let report = judge(&asked(
            "3/8-16",
            Class::C8_8,
            0.12,
            0.12,
            newton_metres(40.0),
        ));
        assert!(report.finds("class-of-other-family"));
        assert!(report.finds("bearing-by-rule"));
        let right = judge(&asked(
            "3/8-16",
            Class::Grade5,
            0.12,
            0.12,
            newton_metres(40.0),
        ));
        assert!(!right.finds("class-of-other-family"));
    }
}
