//! Ignition leads on a distributor: is the whole set some towers out?
//!
//! With cylinder 1 at the top of its compression stroke the rotor must point at lead 1. Where
//! it points instead tells how far out the set, or the drive below it, is.

use quantity::unit::DEGREE;
use quantity::{Angle, NotFinite, show};
use report::{Align, Ask, Caution, Cell, Figure, Finding, Report, Source, Table, Verdict, Weight};

/// Which way the rotor turns, seen from above the cap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// Clockwise.
    Clockwise,
    /// Anticlockwise.
    Anticlockwise,
}

impl Turn {
    const fn words(self) -> &'static str {
        match self {
            Self::Clockwise => "clockwise",
            Self::Anticlockwise => "anticlockwise",
        }
    }
}

/// The question.
#[derive(Clone, Debug)]
pub struct Leads {
    /// The firing order, from the maker's book or the casting.
    pub firing_order: Vec<u8>,
    /// Which way the rotor turns.
    pub turn: Turn,
    /// The lead the rotor points at with cylinder 1 at the top.
    pub rotor_at: u8,
    /// Both valves of cylinder 1 were felt shut: it is the compression stroke.
    pub on_compression: bool,
}

/// Says how far out the leads are.
#[must_use]
pub fn judge(asked: &Leads) -> Report {
    let title = "Ignition leads, cylinder 1 at the top";
    let refuse = |says: String, next: &str| {
        Report::refusal(
            "leads",
            title,
            Finding::new("firing-order", "firing order", says).next(next),
        )
    };
    let mut sorted = asked.firing_order.clone();
    sorted.sort_unstable();
    let count = u8::try_from(sorted.len()).unwrap_or(u8::MAX);
    if count < 2 || sorted != (1..=count).collect::<Vec<_>>() {
        return refuse(
            "it must name every cylinder once".to_owned(),
            "write it as it stands in the book or on the casting: 1 3 4 2",
        );
    }
    let Some(towers) = asked
        .firing_order
        .iter()
        .position(|&lead| lead == asked.rotor_at)
    else {
        return refuse(
            format!("there is no lead {}", asked.rotor_at),
            "name the lead the rotor points at",
        );
    };
    // The order is a ring; it is counted from cylinder 1 wherever it was begun.
    let first = asked
        .firing_order
        .iter()
        .position(|&lead| lead == 1)
        .unwrap_or(0);
    let towers = (towers + asked.firing_order.len() - first) % asked.firing_order.len();
    answer(asked, title, first, towers)
        .unwrap_or_else(|fault| refuse(fault.to_string(), "check the figures"))
}

fn answer(asked: &Leads, title: &str, first: usize, towers: usize) -> Result<Report, NotFinite> {
    let mut report = Report::new("leads", title);
    let count = asked.firing_order.len();
    let share = f64::from(u32::try_from(towers).unwrap_or(0))
        / f64::from(u32::try_from(count).unwrap_or(1));
    let rotor = Angle::degrees(360.0 * share)?;
    let crank = Angle::degrees(720.0 * share)?;
    report
        .figures
        .push(Figure::count("towers", "towers out", towers));
    report.figures.push(Figure::new(
        "at_distributor",
        "at the distributor",
        rotor,
        show(rotor, &DEGREE),
    ));
    report.figures.push(
        Figure::new("at_crank", "at the crank", crank, show(crank, &DEGREE))
            .note("\"180 out\" can mean either; say which"),
    );
    rows(asked, first, towers, &mut report);
    if !asked.on_compression {
        report.verdict = Some(Verdict::NotMeasured);
        report.headline = Some(
            "Not told: cylinder 1 comes to the top twice, and only one of them is compression."
                .to_owned(),
        );
        report.asks.push(Ask::new("both valves of cylinder 1 shut", "on the other stroke the rotor points half a turn away and all looks wrong.", "Plug out, thumb on the hole or rockers felt loose, turn to the top, look again; then say --on-compression."));
    } else if towers == 0 {
        report.verdict = Some(Verdict::Within);
        report.headline = Some("The rotor points at lead 1, as it should.".to_owned());
    } else {
        report.verdict = Some(Verdict::Outside);
        report.headline = Some(format!("Every lead is {towers} of {count} towers out."));
        report.findings.push(
            Finding::new("leads-out", "all leads", format!("at the top of compression of cylinder 1 the rotor points at lead {}", asked.rotor_at))
                .points_to("the distributor drive meshed at another reference than the leads were put on by; not a worn part")
                .next(format!("move every lead to the tower in the last column, or mesh the drive anew; rotor turns {}", asked.turn.words()))
                .weight(Weight::Stop),
        );
    }
    report.because.push(format!(
        "One tower is {} at the distributor and twice that at the crank.",
        show(
            Angle::degrees(360.0 / f64::from(u32::try_from(count).unwrap_or(1)))?,
            &DEGREE
        )
    ));
    report.cautions.push(Caution::new("cranking to hunt for spark", "check this before the first cranking: a new flat-tappet cam loses its run-in while the starter hunts. Ignition off, hands clear while turning."));
    report.cite(Source::common_practice(
        "rotor at lead 1 with cylinder 1 at the top of compression",
    ));
    Ok(report)
}

/// Towers in the turning sense, from the one the rotor points at.
fn rows(asked: &Leads, first: usize, towers: usize, report: &mut Report) {
    let count = asked.firing_order.len();
    let lead = |place: usize| {
        asked
            .firing_order
            .get((first + place) % count)
            .copied()
            .map(usize::from)
    };
    let mut table = Table::new(&[
        ("tower", "tower from the rotor", Align::Right),
        ("now", "lead now", Align::Right),
        ("should", "should be", Align::Right),
    ]);
    for place in 0..count {
        table.push(vec![
            Cell::from(place + 1),
            lead(place + towers).into(),
            lead(place).into(),
        ]);
    }
    report.rows = table;
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(order: &[u8], rotor_at: u8) -> Leads {
        Leads {
            firing_order: order.to_vec(),
            turn: Turn::Clockwise,
            rotor_at,
            on_compression: true,
        }
    }

    /// Source: workshop case: every lead moved by one tower, 90° at the distributor and 180° at
    /// the crank, and it started. *Public data: reader's worked example*; firing order assumed.
    #[test]
    fn o14_every_lead_one_tower_out() {
        let report = judge(&asked(&[1, 3, 4, 2], 3));
        assert!((report.figure("towers").unwrap().value - 1.0).abs() < f64::EPSILON);
        assert!((report.figure("at_distributor").unwrap().value.to_degrees() - 90.0).abs() < 1e-9);
        assert!((report.figure("at_crank").unwrap().value.to_degrees() - 180.0).abs() < 1e-9);
        assert_eq!(report.verdict, Some(Verdict::Outside));
        assert!(
            report.findings[0]
                .points_to
                .as_deref()
                .unwrap()
                .contains("meshed")
        );
        assert!(
            report.cautions[0]
                .says
                .contains("before the first cranking")
        );
        let should: Vec<&Cell> = report.rows.rows.iter().map(|row| &row[2]).collect();
        assert_eq!(
            should,
            [1usize, 3, 4, 2].map(Cell::from).iter().collect::<Vec<_>>()
        );
        let now: Vec<&Cell> = report.rows.rows.iter().map(|row| &row[1]).collect();
        assert_eq!(
            now,
            [3usize, 4, 2, 1].map(Cell::from).iter().collect::<Vec<_>>()
        );
    }

    #[test]
    fn the_wrong_stroke_is_asked_about_and_not_judged() {
        let mut half = asked(&[1, 3, 4, 2], 4);
        half.on_compression = false;
        let report = judge(&half);
        assert_eq!(report.verdict, Some(Verdict::NotMeasured));
        assert!(report.asks[0].what.contains("both valves"));
        assert_eq!(
            judge(&asked(&[1, 3, 4, 2], 1)).verdict,
            Some(Verdict::Within)
        );
    }

    #[test]
    fn an_order_begun_elsewhere_is_the_same_ring() {
        let towers = |order: &[u8]| judge(&asked(order, 3)).figure("towers").unwrap().value;
        assert!((towers(&[4, 2, 1, 3]) - towers(&[1, 3, 4, 2])).abs() < f64::EPSILON);
    }

    #[test]
    fn an_order_that_cannot_be_is_refused() {
        assert!(judge(&asked(&[1, 3, 3, 2], 1)).refused);
        assert!(judge(&asked(&[1], 1)).refused);
        assert!(judge(&asked(&[1, 2], 7)).refused);
    }
}
