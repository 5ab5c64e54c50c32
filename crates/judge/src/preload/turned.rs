//! What a turn by angle adds after the seating torque: bolt and clamped parts share it as two
//! springs, until the bolt yields. Past that point no preload is guessed.

use calc::angle::{self, Turn, TurnedJoint};
use calc::preload::Friction;
use calc::preload::standard::{self, Twist, utilisation};
use calc::stretch::{BoltSpring, End, bolt_stiffness, clamped_stiffness};
use calc::strip::HoleMaterial;
use calc::tightening::TighteningError;
use quantity::{Angle, Force, Length, Quantity, Ratio, Stiffness, Stress, show, unit};
use report::{Align, Cell, Figure, Finding, Report, Source, SourceKind, Table, Weight};

use super::{COMMAND, Found, about, percent};

/// Modulus of steel in MPa. *From memory*: handbook value.
const STEEL_MPA: f64 = 205_000.0;
/// A lasting stretch beyond this share of the grip is taken for a slip: no fastener of an
/// engine is meant to grow so far in one tightening. *Common practice, no source.*
const ABSURD_SHARE: f64 = 0.01;

/// The turn, and the joint it works on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turned {
    /// All turns after the torque together.
    pub angle: Angle,
    /// What lies between the face under the head and the nut or the tapped part.
    pub grip: Length,
    /// Plain shank within the grip; none where the bolt is threaded up to its head.
    pub shank: Length,
    /// What is clamped.
    pub clamped: HoleMaterial,
    /// What the threaded end sits in.
    pub end: End,
}

/// Where one bolt ends up.
#[derive(Clone, Copy, Debug)]
struct Reached {
    force: Force,
    /// How far of the turn it stays elastic; nothing where it does to the end.
    yields_after: Option<Angle>,
    lasting: Length,
}

/// The turn worked out for the middle and both ends of the preload range.
struct Seen<'a> {
    found: &'a Found<'a>,
    turned: &'a Turned,
    joint: TurnedJoint,
    middle: Reached,
    least: Reached,
    most: Reached,
}

/// Answers.
pub(super) fn report(
    found: &Found<'_>,
    turned: &Turned,
    title: &str,
) -> Result<Report, TighteningError> {
    let seen = Seen::of(found, turned)?;
    let mut report = Report::new(COMMAND, format!("{title}, torque and angle"));
    report.headline = Some(seen.headline());
    seen.figures(&mut report)?;
    report.rows = seen.shares();
    seen.findings(&mut report);
    seen.because(&mut report);
    found.common(&mut report);
    Ok(report)
}

impl<'a> Seen<'a> {
    fn of(found: &'a Found<'a>, turned: &'a Turned) -> Result<Self, TighteningError> {
        let thread = found.asked.thread;
        let steel = Stress::megapascals(STEEL_MPA)?;
        let free_thread = Length::from_si(turned.grip.si() - turned.shank.si())?;
        let joint = TurnedJoint {
            thread,
            bolt: bolt_stiffness(&BoltSpring {
                thread,
                shank: turned.shank,
                free_thread,
                end: turned.end,
                modulus: steel,
            })?,
            clamped: clamped_stiffness(thread.diameter(), turned.grip, modulus(turned.clamped)?)?,
        };
        let range = found.asked.friction;
        let middle = reached(found, &joint, turned.angle, found.preload, found.friction)?;
        Ok(Self {
            found,
            turned,
            joint,
            middle,
            // Least force goes with most friction, and the other way about.
            least: reached(found, &joint, turned.angle, found.range.low, range.high)?,
            most: reached(found, &joint, turned.angle, found.range.high, range.low)?,
        })
    }

    fn headline(&self) -> String {
        let turn = degrees(self.turned.angle);
        match self.middle.yields_after {
            None => format!(
                "{} and {turn} give about {}; expect {} to {}.",
                show::show(self.found.torque, &self.found.asked.unit),
                about(self.middle.force),
                about(self.least.force),
                about(self.most.force),
            ),
            Some(after) => format!(
                "The bolt yields after about {} of the {turn}, near {}.",
                degrees(after),
                about(self.middle.force),
            ),
        }
    }

    fn figures(&self, report: &mut Report) -> Result<(), TighteningError> {
        let found = self.found;
        let to = |low: Force, high: Force| format!("{} to {}", about(low), about(high));
        let (low, high) = (self.least.force, self.most.force);
        let past = self.middle.yields_after.is_some();
        report.figures.push(
            Figure::new(
                "seated",
                "after the torque",
                found.preload,
                about(found.preload),
            )
            .between(found.range.low, found.range.high)
            .note(format!(
                "{}; {}",
                to(found.range.low, found.range.high),
                found.friction_words()
            )),
        );
        report.figures.push(
            Figure::new(
                "preload",
                "after the turn",
                self.middle.force,
                about(self.middle.force),
            )
            .between(low, high)
            .note(if past {
                "where it yields; from there it hardly grows and is not known".to_owned()
            } else {
                to(low, high)
            }),
        );
        report.figures.push(
            Figure::new(
                "torque",
                "seating torque",
                found.torque,
                show::show(found.torque, &found.asked.unit),
            )
            .note("after the angle the torque is not known"),
        );
        let one = angle::gain(&self.joint, Angle::degrees(1.0)?)?;
        report.figures.push(Figure::new(
            "per_degree",
            "each degree adds",
            one,
            show::show_fixed(one, &unit::NEWTON, 0),
        ));
        self.use_of_the_bolt(report)?;
        if let Some(after) = self.middle.yields_after {
            report.figures.push(Figure::new(
                "yields_after",
                "elastic for",
                after,
                degrees(after),
            ));
            report.figures.push(
                Figure::new(
                    "lasting_stretch",
                    "stays longer by up to",
                    self.middle.lasting,
                    show::show_fixed(self.middle.lasting, &unit::MILLIMETRE, 2),
                )
                .note("if all of the rest goes into the bolt"),
            );
        }
        Ok(())
    }

    fn use_of_the_bolt(&self, report: &mut Report) -> Result<(), TighteningError> {
        let found = self.found;
        let range = found.asked.friction;
        let used = |reached: &Reached, friction: Ratio| {
            utilisation(
                reached.force,
                &found.asked.thread,
                friction,
                found.strength.yield_point,
                Twist::Plastic,
            )
        };
        let (low, high) = (used(&self.least, range.high)?, used(&self.most, range.low)?);
        let middle = used(&self.middle, found.friction)?;
        report.figures.push(
            Figure::new(
                "utilisation",
                "use of the yield point",
                middle,
                percent(middle),
            )
            .between(low, high)
            .note(if percent(low) == percent(high) {
                "stretch and twist together".to_owned()
            } else {
                format!("{} to {}", percent(low), percent(high))
            }),
        );
        Ok(())
    }

    /// Who gives way, and how much of the turn each takes.
    fn shares(&self) -> Table {
        let mut table = Table::new(&[
            ("what", "what gives way", Align::Left),
            ("stiffness", "stiffness", Align::Right),
            ("share", "of the turn", Align::Right),
        ]);
        let (bolt, clamped) = (self.joint.bolt, self.joint.clamped);
        let all = 1.0 / bolt.si() + 1.0 / clamped.si();
        for (what, stiffness) in [("bolt", bolt), ("clamped parts", clamped)] {
            let share = 1.0 / stiffness.si() / all;
            table.push(vec![
                Cell::from(what),
                Figure::new("stiffness", what, stiffness, per_millimetre(stiffness)).into(),
                Cell::Number(share, format!("{:.0} %", share * 100.0)),
            ]);
        }
        table
    }

    fn findings(&self, report: &mut Report) {
        let bolt = self.found.asked.thread.to_string();
        let lasting = show::show_fixed(self.middle.lasting, &unit::MILLIMETRE, 2);
        if self.middle.lasting.si() > ABSURD_SHARE * self.turned.grip.si() {
            report.findings.push(
                Finding::new(
                    "angle-too-far",
                    bolt,
                    format!(
                        "{lasting} of lasting stretch in a grip of {}: this angle cannot belong to this bolt",
                        show::show(self.turned.grip, &unit::MILLIMETRE)
                    ),
                )
                .points_to("an angle meant for a longer bolt, or a slip of the pen")
                .next("read the angle in the maker's book again, and which bolts it is for")
                .weight(Weight::Stop),
            );
        } else if self.middle.yields_after.is_some() {
            report.findings.push(
                Finding::new(
                    "yields",
                    bolt,
                    format!("the turn takes it past its yield point; up to {lasting} of stretch stays"),
                )
                .points_to("a stretch bolt that is meant to yield, or a figure of another bolt")
                .next("see whether the maker means it so; such bolts are used once unless the maker gives a length limit (`matchmark stretch`)"),
            );
        } else if self.most.yields_after.is_some() {
            report.findings.push(
                Finding::new(
                    "may-yield",
                    bolt,
                    "where friction is lowest the bolt yields before the turn is done",
                )
                .next("keep the threads as the figure means them")
                .weight(Weight::Note),
            );
        }
    }

    fn because(&self, report: &mut Report) {
        let found = self.found;
        if self.most.yields_after.is_none() && found.range.low.si() > 0.0 {
            report.because.push(format!(
                "The turn evens the bolts out: the tightest holds {:.2} times the loosest, after the torque alone {:.2} times.",
                self.most.force.si() / self.least.force.si(),
                found.range.high.si() / found.range.low.si(),
            ));
        }
        report.because.push(
            "Pitch times angle is shared by bolt and clamped parts as springs; head and engaged thread count, a gasket does not: it settles rather than springs.".to_owned(),
        );
        report.because.push(
            "The angle counts from a seated joint: parts drawn together first, then turned."
                .to_owned(),
        );
        report.cite(Source::new(
            SourceKind::FromMemory,
            "VDI 2230, substitute lengths of a bolt; Shigley, Mechanical Engineering Design, cones under the head",
        ));
        report.cite(Source::new(
            SourceKind::FromMemory,
            "handbook moduli: steel 205 GPa, grey iron 110 GPa, aluminium 70 GPa",
        ));
        if self.middle.yields_after.is_some() {
            report.cite(Source::common_practice(
                "a lasting stretch above 1 % of the grip is questioned",
            ));
        }
    }
}

/// Turns one bolt. One that yields at the seating torque already is refused for the middle of
/// the range; at its ends it simply has nothing left to turn.
fn reached(
    found: &Found<'_>,
    joint: &TurnedJoint,
    turn: Angle,
    start: Force,
    friction: Ratio,
) -> Result<Reached, TighteningError> {
    let at_yield = standard::tightening(
        &found.asked.thread,
        found.bearing.mean_diameter,
        found.strength.yield_point,
        Friction::everywhere(friction),
        Twist::Plastic,
        Ratio::percent(100.0)?,
    )?
    .preload;
    let is_middle = start == found.preload;
    let start = if is_middle || start <= at_yield {
        start
    } else {
        at_yield
    };
    Ok(match angle::turn(joint, start, turn, at_yield)? {
        Turn::Elastic(force) => Reached {
            force,
            yields_after: None,
            lasting: Length::from_si(0.0)?,
        },
        Turn::PastYield {
            yields_after,
            lasting_stretch,
        } => Reached {
            force: at_yield,
            yields_after: Some(yields_after),
            lasting: lasting_stretch,
        },
    })
}

/// How far a material gives way. *From memory*: handbook moduli.
fn modulus(material: HoleMaterial) -> Result<Stress, TighteningError> {
    let megapascals = match material {
        HoleMaterial::CastAluminium => 70_000.0,
        HoleMaterial::GreyIron => 110_000.0,
        HoleMaterial::Steel => STEEL_MPA,
    };
    Ok(Stress::megapascals(megapascals)?)
}

fn degrees(angle: Angle) -> String {
    show::show_fixed(angle, &unit::DEGREE, 0)
}

fn per_millimetre(stiffness: Stiffness) -> String {
    format!("{:.0} kN/mm", stiffness.in_newtons_per_mm() / 1000.0)
}

#[cfg(test)]
mod tests {
    use calc::fastener::{Class, Head};
    use calc::thread::Thread;
    use quantity::{Range, Torque};

    use super::super::{Given, Question, judge};
    use super::*;

    fn mm(value: f64) -> Length {
        Length::mm(value).unwrap()
    }

    fn asked(class: Class, friction: (f64, f64), torque: f64, turned: Turned) -> Question {
        Question {
            thread: Thread::parse("M10").unwrap(),
            class,
            head: Head::Hexagon,
            friction: Range {
                low: Ratio::fraction(friction.0).unwrap(),
                high: Ratio::fraction(friction.1).unwrap(),
            },
            given: Given::Torque(Torque::newton_metres(torque).unwrap()),
            unit: unit::NEWTON_METRE,
            turned: Some(turned),
        }
    }

    fn turned(angle: f64, shank: f64, clamped: HoleMaterial) -> Turned {
        Turned {
            angle: Angle::degrees(angle).unwrap(),
            grip: mm(shank + 25.0),
            shank: mm(shank),
            clamped,
            end: End::Nut,
        }
    }

    /// Source: M10, 85 + 25 mm, aluminium, 10.9, snug 20 N·m at 0.12: 12.25 kN, 387 N a degree,
    /// 35.5 kN after 60°; 0.10 to 0.14: 37.5 and 33.9 kN, ratio 1.10 against 1.33 by torque
    /// alone. *Computed by a general library (Python 3.11 floats).* The wrench's ±4 % comes
    /// on top here.
    #[test]
    fn a_long_bolt_ends_where_the_spring_model_says_and_evens_out() {
        let long = turned(60.0, 85.0, HoleMaterial::CastAluminium);
        let report = judge(&asked(Class::C10_9, (0.10, 0.14), 20.0, long));
        let figure = |name: &str| report.figure(name).unwrap();
        assert!((figure("preload").value / 1000.0 - 35.5).abs() < 0.1);
        assert!((figure("per_degree").value - 387.0).abs() < 1.0);
        assert!((figure("seated").value / 1000.0 - 12.25).abs() < 0.05);
        let (low, high) = (
            figure("preload").low.unwrap(),
            figure("preload").high.unwrap(),
        );
        let gain = 60.0 * 387.0;
        assert!((low - (10_730.0 * 0.96 + gain)).abs() < 150.0, "{low}");
        assert!((high - (14_290.0 * 1.04 + gain)).abs() < 150.0, "{high}");
        assert!(report.because[0].contains("evens"), "{:?}", report.because);
        assert_eq!(report.exit_status(), 0);
    }

    /// T-P11 at the surface. Source: short M10 8.8 in steel, snug 20 N·m at 0.12: yields near
    /// 32.9 kN after 30.6° of 90°; +90° +90° would leave about 0.62 mm. *Computed by a general
    /// library (Python 3.11 floats).*
    #[test]
    fn a_short_bolt_yields_and_a_doubled_angle_cannot_be_meant() {
        let short = |angle| turned(angle, 35.0, HoleMaterial::Steel);
        let once = judge(&asked(Class::C8_8, (0.12, 0.12), 20.0, short(90.0)));
        let after = once.figure("yields_after").unwrap().value.to_degrees();
        assert!((after - 30.6).abs() < 0.2, "{after}");
        assert!((once.figure("preload").unwrap().value / 1000.0 - 32.9).abs() < 0.1);
        assert!(once.finds("yields") && once.exit_status() == 0);
        let twice = judge(&asked(Class::C8_8, (0.12, 0.12), 20.0, short(180.0)));
        let stays = twice.figure("lasting_stretch").unwrap().value * 1000.0;
        assert!((stays - 0.62).abs() < 0.01, "{stays}");
        assert!(twice.finds("angle-too-far") && twice.exit_status() == 1);
    }

    /// Source: 60 mm grip: 674.5 N a degree in steel, 561.3 in aluminium. *Computed by a
    /// general library (Python 3.11 floats).* T-31.
    #[test]
    fn t31_a_soft_stack_takes_part_of_the_turn() {
        for (material, expected) in [
            (HoleMaterial::Steel, 674.5),
            (HoleMaterial::CastAluminium, 561.3),
        ] {
            let report = judge(&asked(
                Class::C8_8,
                (0.12, 0.12),
                20.0,
                turned(10.0, 35.0, material),
            ));
            let one = report.figure("per_degree").unwrap().value;
            assert!((one - expected).abs() < 1.0, "{one}");
        }
    }

    #[test]
    fn a_seating_torque_that_yields_already_is_refused() {
        let turned = turned(90.0, 35.0, HoleMaterial::Steel);
        let report = judge(&asked(Class::C8_8, (0.12, 0.12), 90.0, turned));
        assert!(report.refused);
        assert!(report.findings[0].says.contains("yields"));
    }
}
