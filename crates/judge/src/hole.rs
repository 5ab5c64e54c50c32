//! A bolt over its blind hole: does it bottom, how much thread meets, what to do about it.

use calc::fastener::Class;
use calc::hole::{Clearance, Fit, clearance};
use calc::strip::{HoleMaterial, engagement_for};
use calc::thread::{Thread, limits};
use calc::tightening::TighteningError;
use quantity::{Length, Quantity, Said, Unit, show, unit};
use report::{Ask, Caution, Figure, Finding, Report, Source, SourceKind, Verdict, Weight};

const COMMAND: &str = "hole";
const TITLE: &str = "Bolt in a blind hole";

/// Room below which the bolt may still bottom: bolts of one nominal length part by about
/// half a millimetre either way (ISO 4759-1, js15, *from memory*), and the probe adds its own.
const TOO_CLOSE_MM: f64 = 1.0;

/// The question.
#[derive(Clone, Debug)]
pub struct Question {
    /// Length of the bolt under its head.
    pub bolt: Said<Length>,
    /// Depth of the hole; see [`Fit::depth`].
    pub depth: Said<Length>,
    /// Each washer's thickness.
    pub washers: Vec<Said<Length>>,
    /// Thickness clamped.
    pub grip: Option<Said<Length>>,
    /// The thread, for the engagement.
    pub thread: Option<Thread>,
    /// The bolt's strength mark.
    pub class: Option<Class>,
    /// What the hole is cut into.
    pub material: Option<HoleMaterial>,
}

/// Answers the question.
#[must_use]
pub fn judge(asked: &Question) -> Report {
    let fit = Fit {
        bolt: asked.bolt.value,
        depth: asked.depth.value,
        washers: asked.washers.iter().map(|washer| washer.value).collect(),
        grip: asked.grip.as_ref().map(|grip| grip.value),
    };
    match clearance(&fit).and_then(|found| answer(asked, &found)) {
        Ok(report) => report,
        Err(fault) => Report::refusal(
            COMMAND,
            TITLE,
            Finding::new("length", "", fault.to_string()).next("measure again and check the unit"),
        ),
    }
}

fn answer(asked: &Question, found: &Clearance) -> Result<Report, TighteningError> {
    let write = Written::of(&asked.bolt);
    let mut report = Report::new(COMMAND, TITLE);
    let room = found.clearance.in_mm();
    report.verdict = Some(if room <= 0.0 {
        Verdict::Outside
    } else if room < TOO_CLOSE_MM {
        Verdict::Undecided
    } else {
        Verdict::Within
    });
    report.headline = Some(headline(found, &write)?);
    report.figures.push(Figure::new(
        "clearance",
        "room at the bottom",
        found.clearance,
        write.length(found.clearance),
    ));
    report.figures.push(
        Figure::new(
            "longest",
            "bolt that just touches",
            found.longest,
            write.length(found.longest),
        )
        .note("shorter than this clamps"),
    );
    bottoming(&mut report, asked, found, &write)?;
    engagement(&mut report, asked, found, &write)?;
    too_little_thread(&mut report, found, &write);
    report.because.push(match asked.grip {
        Some(_) => "Depth was taken from the joint face with the part off; grip and washers add to it.".to_owned(),
        None => "Depth was taken from where the head or its washer sits; give --grip if it was measured from the joint face.".to_owned(),
    });
    report.asks.push(Ask::new(
        "depth by a probe",
        "Dirt, sealer or liquid at the bottom takes the same room and feels the same.",
        "Clean and dry the hole, drop a rod in and measure again.",
    ));
    report.cautions.push(Caution::new(
        "driving a bolt into a blind hole",
        "Liquid trapped under the bolt can split the casting. Blow the hole out with the eyes covered; never force a bolt that stops early.",
    ));
    Ok(report)
}

fn headline(found: &Clearance, write: &Written) -> Result<String, TighteningError> {
    let room = found.clearance.in_mm();
    Ok(if room < 0.0 {
        let short = Length::mm(-room)?;
        format!(
            "The bolt bottoms {} before it clamps: the wrench goes tight and the part stays loose.",
            write.length(short)
        )
    } else if room < 1e-9 {
        "The bolt just touches the bottom: it may clamp or not.".to_owned()
    } else if room < TOO_CLOSE_MM {
        format!(
            "Only {} of room: another bolt of the same length may bottom.",
            write.length(found.clearance)
        )
    } else {
        format!(
            "The bolt clamps with {} of room below it.",
            write.length(found.clearance)
        )
    })
}

fn bottoming(
    report: &mut Report,
    asked: &Question,
    found: &Clearance,
    write: &Written,
) -> Result<(), TighteningError> {
    let room = found.clearance.in_mm();
    if room <= 0.0 {
        let shorter = Length::mm(found.longest.in_mm() - TOO_CLOSE_MM)?;
        let lift = Length::mm(TOO_CLOSE_MM - room)?;
        report.findings.push(
            Finding::new(
                "bottoms",
                "bolt",
                "it meets the bottom of the hole before the head clamps, so any torque read on it says nothing about clamping",
            )
            .points_to("a bolt from another hole, a missing washer or part under the head, or something in the hole")
            .next(format!(
                "fit a bolt no longer than {}, or the washer that belongs there (at least {} thick); never pull it down by force",
                write.length(shorter),
                write.length(lift)
            ))
            .weight(Weight::Stop),
        );
    } else if room < TOO_CLOSE_MM {
        report.findings.push(
            Finding::new(
                "bottoms-nearly",
                "bolt",
                "the room is less than bolts of one nominal length differ by",
            )
            .next("measure this very bolt, and the hole with a probe"),
        );
    }
    if asked.grip.is_none() && asked.thread.is_some() {
        report.asks.push(Ask::new(
            "grip",
            "Without it the length of thread that meets cannot be told.",
            "Measure the clamped thickness and give --grip, with the depth from the joint face.",
        ));
    }
    Ok(())
}

fn engagement(
    report: &mut Report,
    asked: &Question,
    found: &Clearance,
    write: &Written,
) -> Result<(), TighteningError> {
    let Some(engaged) = found.engagement else {
        return Ok(());
    };
    let mut figure = Figure::new(
        "engagement",
        "thread that meets, at most",
        engaged,
        write.length(engaged),
    );
    if let Some(thread) = &asked.thread {
        let diameters = engaged.si() / thread.diameter().si();
        figure = figure.note(format!("{diameters:.1} diameters of {thread}"));
    }
    report.figures.push(figure);
    if engaged.si() <= 0.0 {
        report.findings.push(
            Finding::new("does-not-reach", "bolt", "it does not reach the thread")
                .next("fit a longer bolt or find the washer that does not belong there")
                .weight(Weight::Stop),
        );
        return Ok(());
    }
    let (Some(thread), Some(material)) = (&asked.thread, asked.material) else {
        return Ok(());
    };
    let wanted = material.engagement_in_diameters()?;
    let diameters = engaged.si() / thread.diameter().si();
    report.cite(Source::new(
        SourceKind::PublicData,
        "fastener catalogue, trial-based engagement table, class 8.8 coarse",
    ));
    if diameters < wanted.low.in_fraction() - 1e-9 {
        report.findings.push(
            Finding::new(
                "short-engagement",
                "thread",
                format!(
                    "{diameters:.1} diameters of thread meet, where {:.1} to {:.1} are usual",
                    wanted.low.in_fraction(),
                    wanted.high.in_fraction()
                ),
            )
            .points_to("the thread in the hole tears out before the bolt is tight")
            .next("find the bolt that belongs here; count threads before pulling")
            .weight(Weight::Stop),
        );
    }
    strip(report, asked, thread, material, engaged, write)
}

/// Room below the bolt is no good news where too little thread meets above it.
fn too_little_thread(report: &mut Report, found: &Clearance, write: &Written) {
    let says = match found.engagement {
        Some(_) if report.finds("does-not-reach") => {
            "The bolt does not reach the thread.".to_owned()
        }
        Some(engaged) if report.finds("short-engagement") => format!(
            "Only {} of thread meets: it tears out before the bolt is tight.",
            write.length(engaged)
        ),
        Some(_) | None => return,
    };
    // A bolt that bottoms is told first; both keep it outside.
    if found.clearance.in_mm() > 0.0 {
        report.headline = Some(says);
    }
    report.verdict = Some(Verdict::Outside);
}

/// For cast aluminium the length at which the bolt breaks before the hole tears.
fn strip(
    report: &mut Report,
    asked: &Question,
    thread: &Thread,
    material: HoleMaterial,
    engaged: Length,
    write: &Written,
) -> Result<(), TighteningError> {
    let (Some(class), Some(shear)) = (asked.class, material.usual_shear_strength()?) else {
        return Ok(());
    };
    let Ok(limits) = limits::medium_fit(thread) else {
        return Ok(());
    };
    let breaks = calc::fastener::breaking_load(thread, class)?;
    let needed = engagement_for(breaks, thread, &limits, shear)?;
    report.figures.push(
        Figure::new(
            "engagement_needed",
            "for the bolt to break first",
            needed,
            write.length(needed),
        )
        .note("cast aluminium of 120 MPa in shear reckoned with; castings run from 100 to 150"),
    );
    report.cite(Source::new(
        SourceKind::FromMemory,
        "FED-STD-H28 / Alexander shear areas with ISO 965 limits",
    ));
    if engaged < needed {
        report.findings.push(
            Finding::new(
                "strips-first",
                "thread",
                "overtightened, the hole tears out before the bolt breaks",
            )
            .next("keep to the maker's torque and check the wrench's unit before pulling"),
        );
    }
    Ok(())
}

/// Lengths written in millimetres, and beside it in the unit they were typed in.
struct Written {
    typed: Option<&'static Unit>,
}

impl Written {
    fn of(said: &Said<Length>) -> Self {
        let typed = crate::tightening::typed_unit(quantity::Kind::Length, &said.typed);
        Self {
            typed: typed.filter(|unit| unit.symbol != "mm"),
        }
    }

    fn length(&self, length: Length) -> String {
        let mm = show::show_fixed(length, &unit::MILLIMETRE, 2);
        match self.typed {
            Some(unit) => format!("{mm} ({})", show::show(length, unit)),
            None => mm,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::read::read;

    fn asked(bolt: &str, depth: &str) -> Question {
        Question {
            bolt: read(bolt).unwrap(),
            depth: read(depth).unwrap(),
            washers: Vec::new(),
            grip: None,
            thread: None,
            class: None,
            material: None,
        }
    }

    /// Case: bolt 2-1/2 in, hole 2-7/16 in: bottoms by 1/16 in. Source: reader's worked
    /// example, *public data*; subtraction.
    #[test]
    fn o11_bolt_longer_than_its_hole() {
        let report = judge(&asked("2-1/2 in", "2-7/16 in"));
        let room = report.figure("clearance").unwrap();
        assert!((room.value * 1000.0 + 1.5875).abs() < 1e-6);
        assert_eq!(report.verdict, Some(Verdict::Outside));
        assert!(report.finds("bottoms"));
        assert_eq!(report.exit_status(), 1);
        // The trap: dirt or liquid in the hole does the same, so a probe is asked for.
        assert!(report.asks.iter().any(|ask| ask.what.contains("probe")));
    }

    #[test]
    fn room_enough_is_within_and_little_room_is_undecided() {
        assert_eq!(
            judge(&asked("40 mm", "45 mm")).verdict,
            Some(Verdict::Within)
        );
        let near = judge(&asked("40 mm", "40.5 mm"));
        assert_eq!(near.verdict, Some(Verdict::Undecided));
        assert!(near.finds("bottoms-nearly"));
        assert_eq!(near.exit_status(), 0);
        assert_eq!(
            judge(&asked("40 mm", "40 mm")).verdict,
            Some(Verdict::Outside)
        );
    }

    #[test]
    fn engagement_is_held_against_the_material() {
        let mut question = asked("30 mm", "24 mm");
        question.grip = Some(read("22 mm").unwrap());
        question.thread = Some(Thread::parse("M8").unwrap());
        question.class = Some(Class::C8_8);
        question.material = Some(HoleMaterial::CastAluminium);
        let report = judge(&question);
        assert_eq!(
            report.verdict,
            Some(Verdict::Outside),
            "it has room, and strips"
        );
        assert!(report.headline.as_deref().unwrap().contains("tears out"));
        assert!((report.figure("engagement").unwrap().value - 0.008).abs() < 1e-9);
        assert!(report.finds("short-engagement"));
        assert!(report.finds("strips-first"));
        question.bolt = read("20 mm").unwrap();
        let short = judge(&question);
        assert!(short.finds("does-not-reach"));
        assert_eq!(short.verdict, Some(Verdict::Outside));
        question.bolt = read("42 mm").unwrap();
        assert_eq!(judge(&question).verdict, Some(Verdict::Within));
    }

    #[test]
    fn a_negative_depth_is_refused() {
        let mut question = asked("40 mm", "45 mm");
        question.depth.value = Length::mm(-1.0).unwrap();
        assert!(judge(&question).refused);
    }
}
