//! From torque to preload and back, with the range it really has and how far the bolt is
//! used. What a turn by angle adds after the torque is [`turned`]'s.

pub mod turned;

#[cfg(test)]
mod tests;

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
    /// A turn after the torque, with the joint it works on.
    pub turned: Option<turned::Turned>,
}

/// Answers the question.
#[must_use]
pub fn judge(asked: &Question) -> Report {
    let title = format!("Preload, {} {}", asked.thread, asked.class);
    let answer = Found::of(asked).and_then(|found| match &asked.turned {
        Some(turn) => turned::report(&found, turn, &title),
        None => found.report(&title),
    });
    match answer {
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
        self.common(&mut report);
        Ok(report)
    }

    /// What stands under every answer, with a turn or without.
    fn common(&self, report: &mut Report) {
        self.doubts(report);
        self.because(report);
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
    format!("{} kN", two_digits(force.in_kilonewtons()))
}

/// Two digits are all that friction leaves of a force: 4.5, 18, 240.
pub(crate) fn two_digits(value: f64) -> String {
    if value.abs() < 9.95 {
        return format!("{value:.1}");
    }
    let step = libm::pow(10.0, libm::floor(libm::log10(value.abs())) - 1.0);
    format!("{:.0}", (value / step).round() * step)
}

fn percent(ratio: Ratio) -> String {
    show::show_fixed(ratio, &unit::PERCENT, 0)
}
