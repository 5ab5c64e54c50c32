//! No figure in any book: an estimate with its assumptions, or why there is none.
//!
//! Joints that must hold get none. An estimate is called one in its headline, its figure and
//! its source, and never replaces a maker's figure.

use calc::strip::HoleMaterial;
use calc::torque::estimate::{
    Cause, Estimate, EstimateFault, Refusal, Ruling, Unspecified, estimate,
};
use quantity::{Torque, Unit, show, unit};
use report::{Ask, Caution, Figure, Finding, Report, Source, SourceKind, Weight};

use crate::limit::capital;

const COMMAND: &str = "torque";

/// The question.
#[derive(Clone, Debug)]
pub struct Question {
    /// What is known of bolt and hole.
    pub known: Unspecified,
    /// What the bolt holds, in the words of the person.
    pub joint: Option<String>,
    /// The unit to show it in.
    pub unit: Unit,
}

/// What the trade gives a small bolt with a 10 mm head. *Common practice, no source.*
const PRACTICE_POUND_INCHES: f64 = 80.0;

/// Words that name a joint which must hold.
const CRITICAL: [&str; 26] = [
    "head",
    "rod",
    "main",
    "flywheel",
    "flexplate",
    "flex plate",
    "cam",
    "crank",
    "brake",
    "caliper",
    "calliper",
    "steering",
    "suspension",
    "wheel",
    "hub",
    "axle",
    "belt",
    "restraint",
    "airbag",
    "seat",
    "tow",
    "damper",
    "pulley",
    "mount",
    "subframe",
    "timing",
];

/// Words that make a joint harmless whatever it stands beside: a cam cover is a cover.
const HARMLESS: [&str; 4] = ["cover", "shield", "guard", "tray"];

/// Whether the words name a joint that gets the maker's figure or none. Wider than need be:
/// a false alarm costs a look in a book. What is merely bolted *to* a head is no head joint.
#[must_use]
pub fn is_critical(joint: &str) -> bool {
    let joint = joint.to_lowercase();
    let named = words(&joint);
    if named
        .iter()
        .any(|word| HARMLESS.iter().any(|harmless| is_word(word, harmless)))
    {
        return false;
    }
    CRITICAL.iter().any(|critical| {
        let wanted = words(critical);
        named.windows(wanted.len()).enumerate().any(|(at, run)| {
            let to_it = at > 0 && matches!(named[at - 1], "to" | "on" | "onto");
            let names_it = run
                .iter()
                .zip(&wanted)
                .all(|(word, wanted)| is_word(word, wanted));
            names_it && !(to_it && *critical == "head")
        })
    })
}

fn words(text: &str) -> Vec<&str> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect()
}

/// `cams`, `camshaft` and `crankcase` count as `cam` and `crank`; other words only in plural.
fn is_word(word: &str, wanted: &str) -> bool {
    word == wanted
        || word.strip_suffix('s') == Some(wanted)
        || (matches!(wanted, "cam" | "crank") && word.starts_with(wanted))
}

/// Answers the question.
#[must_use]
pub fn judge(asked: &Question) -> Report {
    let title = format!("No figure stated, {}", asked.known.thread);
    let known = &asked.known;
    let critical = known.rulings.contains(&Ruling::CriticalJoint)
        || asked.joint.as_deref().is_some_and(is_critical);
    if critical {
        return must_hold(title);
    }
    let mut report = match (estimate(known), &asked.joint) {
        (Ok(found), Some(joint)) => given(asked, &found, title, joint),
        (Ok(_), None) => refused(title, &[]),
        (Err(EstimateFault::Refused(reasons)), Some(_)) => {
            practised(known, &title, &reasons).unwrap_or_else(|| refused(title, &reasons))
        }
        (Err(EstimateFault::Refused(reasons)), None) => refused(title, &reasons),
        (Err(EstimateFault::Input(fault)), _) => {
            return Report::refusal(
                COMMAND,
                title,
                Finding::new("input", "", fault.to_string()).next("check the figure and its unit"),
            );
        }
    };
    if asked.joint.is_none() {
        report.asks.push(Ask::new(
            "what the bolt holds",
            "A joint that must hold gets the maker's figure or none.",
            "Give --joint, as in --joint \"runner to support\".",
        ));
    }
    report.cautions.push(Caution::new(
        "tightening without a figure",
        "The maker's figure always stands before an estimate. Look for it first, also in the book of a sister engine.",
    ));
    report
}

/// A joint that must hold: no figure whatever else is known, and where to look for the maker's.
fn must_hold(title: String) -> Report {
    let mut report = refused(title, &[Refusal::Ruled(Ruling::CriticalJoint)]);
    report.headline = Some("No figure is suggested: this joint must hold.".to_owned());
    report
}

fn given(asked: &Question, found: &Estimate, title: String, joint: &str) -> Report {
    let mut report = Report::new(COMMAND, title);
    let range = shown_range(found, &asked.unit);
    report.headline = Some(format!(
        "Estimate for {joint}: {range}, middle {}. Not a maker's value.",
        show::show(found.middle, &asked.unit)
    ));
    report.figures.push(
        Figure::new(
            "estimate",
            "estimate",
            found.middle,
            show::show(found.middle, &asked.unit),
        )
        .between(found.torque.low, found.torque.high)
        .note(format!("{range}, clean and lightly oiled")),
    );
    report.because.push(match found.cause {
        Cause::Proof => "Limited by the bolt: 75 % of its proof load, friction 0.10 to 0.14, hexagon head.".to_owned(),
        Cause::Strip => "Limited by the hole: 75 % of the load at which its thread tears, friction 0.10 to 0.14, hexagon head.".to_owned(),
    });
    if asked.known.hole == Some(HoleMaterial::CastAluminium) {
        report.because.push(
            "Cast aluminium of 120 MPa in shear was reckoned with; castings run from 100 to 150."
                .to_owned(),
        );
    }
    report.cite(Source::new(SourceKind::Published, "75 % of proof load for joints that come apart again: Shigley, Mechanical Engineering Design"));
    report.cite(Source::new(
        SourceKind::FromMemory,
        "VDI 2230 long form, torque from preload",
    ));
    report
}

fn shown_range(found: &Estimate, unit: &Unit) -> String {
    format!(
        "{} to {}",
        show::show(found.torque.low, unit),
        show::show(found.torque.high, unit)
    )
}

fn refused(title: String, reasons: &[Refusal]) -> Report {
    let mut report = Report::new(COMMAND, title);
    report.refused = true;
    report.headline = Some("No estimate.".to_owned());
    report.findings.extend(reasons.iter().map(|reason| {
        Finding::new("no-estimate", "", reason.to_string())
            .next(way_out(*reason))
            .weight(Weight::Stop)
    }));
    report
}

fn way_out(reason: Refusal) -> &'static str {
    match reason {
        Refusal::ClassUnknown => {
            "read the mark on the head and give --class; a bolt without a mark has no known strength"
        }
        Refusal::HoleUnknown => "give --into aluminium, iron or steel",
        Refusal::EngagementUnknown => "measure bolt length less grip and give --engaged",
        Refusal::EngagementShort => "find the bolt that belongs here, a longer one",
        Refusal::Ruled(Ruling::CriticalJoint) => {
            "look in the maker's book for this engine and year, under the part and in its table of bolts; on the sheet that came with new bolts or the gasket; or ask the maker's parts desk with the engine number"
        }
        Refusal::Stainless | Refusal::Size | Refusal::Ruled(_) => "find the maker's figure",
    }
}

/// The figure the trade uses for small bolts with a 10 mm head, where too little is known for an
/// estimate and nothing rules one out.
fn practised(known: &Unspecified, title: &str, reasons: &[Refusal]) -> Option<Report> {
    let is_m6 = (known.thread.diameter().in_mm() - 6.0).abs() < 1e-6 && known.thread.is_coarse();
    let only_unknown = reasons.iter().all(|reason| {
        matches!(
            reason,
            Refusal::ClassUnknown | Refusal::HoleUnknown | Refusal::EngagementUnknown
        )
    });
    if !is_m6 || !only_unknown {
        return None;
    }
    let practice = Torque::pound_force_inches(PRACTICE_POUND_INCHES).ok()?;
    let shown = format!(
        "about {} ({})",
        show::show(practice, &unit::POUND_FORCE_INCH),
        show::show_fixed(practice, &unit::NEWTON_METRE, 0)
    );
    let mut report = Report::new(COMMAND, title);
    report.headline = Some(format!(
        "Common practice for a small bolt with a 10 mm head is {shown}. Not a maker's value."
    ));
    report.figures.push(
        Figure::new("practice", "common practice", practice, shown)
            .note("steel bolt in metal, threads clean"),
    );
    report.asks.extend(reasons.iter().map(|reason| {
        Ask::new(
            reason.to_string(),
            "with it this bolt could have an estimate of its own.",
            capital(way_out(*reason)),
        )
    }));
    report.cite(Source::common_practice(
        "about 80 lbf·in for small bolts with a 10 mm head",
    ));
    Some(report)
}

#[cfg(test)]
mod tests {
    use super::*;
    use calc::fastener::Class;
    use calc::thread::Thread;
    use quantity::Length;

    fn asked(thread: &str, joint: Option<&str>) -> Question {
        let thread = Thread::parse(thread).unwrap();
        Question {
            known: Unspecified {
                thread,
                class: Some(Class::C8_8),
                hole: Some(HoleMaterial::CastAluminium),
                engagement: Some(Length::mm(1.5 * thread.diameter().in_mm()).unwrap()),
                rulings: Vec::new(),
            },
            joint: joint.map(str::to_owned),
            unit: unit::NEWTON_METRE,
        }
    }

    #[test]
    fn an_estimate_calls_itself_one() {
        let report = judge(&asked("M8", Some("runner to support")));
        let headline = report.headline.clone().unwrap();
        assert!(
            headline.starts_with("Estimate") && headline.contains("Not a maker's value"),
            "{headline}"
        );
        let figure = report.figure("estimate").unwrap();
        assert!((figure.value, figure.low, figure.high) == (20.0, Some(18.0), Some(24.0)));
        assert!(report.figure("spec").is_none());
    }

    #[test]
    fn joints_that_must_hold_get_none() {
        for joint in [
            "cylinder head",
            "big-end rod",
            "main bearing cap",
            "flywheel",
            "camshaft cap",
            "brake caliper",
            "wheel bolts",
        ] {
            let report = judge(&asked("M10", Some(joint)));
            assert!(report.refused, "{joint}");
            assert!(report.figures.is_empty());
            let [finding] = &report.findings[..] else {
                panic!("one reason, and no question that leads nowhere: {report:?}");
            };
            assert!(finding.next.as_deref().unwrap().contains("maker's book"));
        }
        for joint in [
            "heat shield",
            "cam cover",
            "timing covers",
            "runner to head",
        ] {
            assert!(!judge(&asked("M6", Some(joint))).refused, "{joint}");
        }
    }

    #[test]
    fn without_knowing_the_joint_there_is_none() {
        let report = judge(&asked("M8", None));
        assert!(report.refused);
        assert!(report.asks.iter().any(|ask| ask.how.contains("--joint")));
    }

    /// Source: about 80 lbf·in for a small bolt with a 10 mm head, *common practice, no source*.
    #[test]
    fn the_small_bolt_has_a_figure_of_practice() {
        let bare = |thread, joint| {
            let mut asked = asked(thread, joint);
            asked.known.class = None;
            asked.known.hole = None;
            asked
        };
        let report = judge(&bare("M6", Some("oil pan")));
        assert!(!report.refused);
        let practice = report.figure("practice").unwrap();
        assert_eq!(practice.shown, "about 80 lbf·in (9 N·m)");
        assert!((practice.value - 80.0 * 0.112_984_829).abs() < 1e-6);
        assert_eq!(report.sources[0].kind, SourceKind::CommonPractice);
        for (thread, joint) in [
            ("M8", Some("oil pan")),
            ("M6", Some("cam cap")),
            ("M6", None),
        ] {
            let report = judge(&bare(thread, joint));
            assert!(report.refused && report.figures.is_empty(), "{joint:?}");
        }
        let mut stud = bare("M6", Some("oil pan"));
        stud.known.rulings.push(Ruling::Stud);
        assert!(judge(&stud).refused);
    }
}
