//! A bolt or stud broken off in its hole: the ways to get it out, the one that spoils least
//! first, and drilling held back until something guides the drill.
//!
//! All ways are common practice, without a source to cite.

use calc::strip::HoleMaterial;
use calc::thread::Thread;
use quantity::{Length, Said, show, unit};
use report::{Align, Ask, Caution, Cell, Figure, Finding, Report, Source, Table, Weight};

const COMMAND: &str = "broken";
const TITLE: &str = "Broken off in its hole";

/// Two nuts locked against each other need so much stud, in diameters. *Common practice, no
/// source.*
const TWO_NUTS: f64 = 1.5;
/// What must stand out for them where the thread is not known, in mm. *Common practice, no
/// source.*
const LEAST_OUT: f64 = 10.0;

/// A first drill is about half the core of the thread: what is left round it still holds the
/// flanks together. *Common practice, no source.*
const PILOT_SHARE: f64 = 0.5;

/// The question.
#[derive(Clone, Debug)]
pub struct Question {
    /// The thread, where it is known.
    pub thread: Option<Thread>,
    /// What the hole is cut into.
    pub material: Option<HoleMaterial>,
    /// How far the stump stands out of the face; nothing said is flush or below.
    pub stands_out: Option<Said<Length>>,
    /// Whether a bush, plate or machine is there that guides the drill.
    pub guide: bool,
}

/// One way.
struct Way {
    key: &'static str,
    does: &'static str,
    wants: &'static str,
    takes: &'static str,
    spoils: &'static str,
    stands: Stands,
}

/// Whether a way is open here.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stands {
    Open,
    /// Not before something is there.
    HeldBack(&'static str),
    /// Not on this stump.
    Not(&'static str),
}

/// Answers the question.
#[must_use]
pub fn judge(asked: &Question) -> Report {
    let mut report = Report::new(COMMAND, TITLE);
    let ways = ways(asked);
    let first = ways.iter().find(|way| way.stands == Stands::Open);
    report.headline = first.map(|way| format!("First: {}.", way.does));
    report.rows = table(&ways);
    let held = ways
        .iter()
        .any(|way| matches!(way.stands, Stands::HeldBack(_)));
    if held {
        let into = match asked.material {
            Some(HoleMaterial::CastAluminium) => {
                "a drill runs off the hard steel into the soft alloy beside it, and the hole is gone"
            }
            Some(HoleMaterial::GreyIron | HoleMaterial::Steel) | None => {
                "a drill held by hand runs off the broken face"
            }
        };
        report.findings.push(
            Finding::new("drilling-held-back", "stump", "no drilling by hand")
                .points_to(into)
                .next("get a guide bush that screws or clamps over the hole, or take the part to a machine; then ask again with --guide")
                .weight(Weight::Look),
        );
    }
    pilot(asked, &mut report);
    asks(asked, &mut report);
    report.because.push(
        "Order: what leaves the hole as it was comes first, what makes a new hole last.".to_owned(),
    );
    report.because.push("In the record: `broke NAME hole C`, then `cleared NAME hole C: how`; until then the gates know of it.".to_owned());
    report.cautions.push(Caution::new(
        "heat and welding",
        "battery disconnected, control units unplugged, no flame near fuel, oil, hoses or airbags; an extinguisher at hand. Hot wax and penetrant burn.",
    ));
    report.cautions.push(Caution::new(
        "drilling and chips",
        "eyes covered; ports, bores and ways stuffed and counted in the record, so that no chip stays inside.",
    ));
    report.cite(Source::common_practice(
        "ways to draw a broken bolt, and their order",
    ));
    report
}

/// Whether two nuts find enough thread on what stands out.
fn gripped(asked: &Question) -> Stands {
    let out_mm = asked
        .stands_out
        .as_ref()
        .map_or(0.0, |out| out.value.in_mm());
    let least = asked
        .thread
        .as_ref()
        .map_or(LEAST_OUT, |thread| TWO_NUTS * thread.diameter().in_mm());
    if out_mm >= least {
        Stands::Open
    } else {
        Stands::Not("too little stands out")
    }
}

fn ways(asked: &Question) -> Vec<Way> {
    let drilled = if asked.guide {
        Stands::Open
    } else {
        Stands::HeldBack("a guide for the drill")
    };
    let way = |key, does, wants, takes, spoils, stands| Way {
        key,
        does,
        wants,
        takes,
        spoils,
        stands,
    };
    vec![
        way(
            "soak",
            "soak it overnight, warm the metal round it, let wax run in while it is hot, and again",
            "penetrant, heat gun or flame, wax",
            "a night, then half an hour",
            "nothing",
            Stands::Open,
        ),
        way(
            "two-nuts",
            "two nuts locked on what stands out, or a stud puller, turned back and forth",
            "two nuts or a puller",
            "a quarter of an hour",
            "nothing",
            gripped(asked),
        ),
        way(
            "weld-nut",
            "a washer and a nut welded to the stump, turned while it still is warm",
            "somebody who welds well",
            "half an hour a try, several tries",
            "little: the heat frees it, the hole stays",
            Stands::Open,
        ),
        way(
            "left-hand",
            "a left-hand drill down the middle through a guide bush; it often bites and turns it out",
            "guide bush, left-hand drill",
            "an hour",
            "nothing, as long as it stays in the middle",
            drilled,
        ),
        way(
            "machine",
            "the part to a machine shop: spark erosion, or milled out on the table",
            "the part off; a price from the shop",
            "a day to a week",
            "nothing",
            Stands::Open,
        ),
        way(
            "insert",
            "drilled out, the thread picked out or a thread insert put in",
            "guide, drill and tap of the insert, its depth in the hole",
            "two hours",
            "the old thread; the wall of the hole gets thinner",
            drilled,
        ),
    ]
}

fn table(ways: &[Way]) -> Table {
    let mut table = Table::new(&[
        ("number", "", Align::Right),
        ("does", "way", Align::Left),
        ("wants", "wants", Align::Left),
        ("takes", "takes", Align::Left),
        ("stands", "here", Align::Left),
        ("spoils", "", Align::Left),
        ("way", "", Align::Left),
    ]);
    for (way, number) in ways.iter().zip(1_usize..) {
        let stands = match way.stands {
            Stands::Open => "open".to_owned(),
            Stands::HeldBack(what) => format!("held back: {what}"),
            Stands::Not(why) => format!("no: {why}"),
        };
        table.push(vec![
            Cell::from(number),
            Cell::from(way.does),
            Cell::from(way.wants),
            Cell::from(way.takes),
            Cell::from(stands),
            Cell::from(way.spoils),
            Cell::from(way.key),
        ]);
    }
    table
}

/// The first drill, from the core of the thread.
fn pilot(asked: &Question, report: &mut Report) {
    let Some(thread) = asked.thread.as_ref() else {
        return;
    };
    let core = thread.root_diameter().in_mm();
    let Ok(pilot) = Length::mm(core * PILOT_SHARE) else {
        return;
    };
    let shown = show::show_fixed(pilot, &unit::MILLIMETRE, 1);
    report.figures.push(
        Figure::new("pilot", "first drill, at most", pilot, shown)
            .note(format!("half the core of {thread}, which is {core:.1} mm")),
    );
}

fn asks(asked: &Question, report: &mut Report) {
    if asked.material.is_none() {
        report.asks.push(Ask::new(
            "what the hole is cut into",
            "in light alloy a drill runs off the steel, in iron the stump is as hard as what is round it.",
            "give --into aluminium, iron or steel",
        ));
    }
    if asked.thread.is_none() {
        report.asks.push(Ask::new(
            "the thread",
            "the first drill follows from it.",
            "give --thread M8x1.25; measure another bolt of that joint",
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::read::read;

    fn asked(guide: bool) -> Question {
        Question {
            thread: Thread::parse("M8x1.25").ok(),
            material: Some(HoleMaterial::CastAluminium),
            stands_out: None,
            guide,
        }
    }

    fn stands(report: &Report, way: &str) -> String {
        let row = report
            .rows
            .rows
            .iter()
            .find(|row| row[6] == Cell::from(way));
        match row.map(|row| &row[4]) {
            Some(Cell::Text(text)) => text.clone(),
            other => panic!("{way}: {other:?}"),
        }
    }

    /// Source: trap 29, *common practice, no source*: a stud broken flush, the drill wanders.
    #[test]
    fn drilling_is_held_back_until_something_guides_the_drill() {
        let bare = judge(&asked(false));
        assert!(bare.finds("drilling-held-back"));
        for way in ["left-hand", "insert"] {
            assert_eq!(stands(&bare, way), "held back: a guide for the drill");
        }
        let guided = judge(&asked(true));
        assert!(!guided.finds("drilling-held-back"));
        assert_eq!(stands(&guided, "insert"), "open");
        // What spoils least comes first, what makes a new hole last, guide or no guide.
        assert_eq!(guided.rows.rows[0][6], Cell::from("soak"));
        assert_eq!(guided.rows.rows.last().unwrap()[6], Cell::from("insert"));
    }

    #[test]
    fn two_nuts_want_a_diameter_and_a_half_of_stud() {
        let mut question = asked(false);
        assert!(stands(&judge(&question), "two-nuts").starts_with("no"));
        question.stands_out = read("11 mm").ok();
        assert!(stands(&judge(&question), "two-nuts").starts_with("no"));
        question.stands_out = read("12 mm").ok();
        assert_eq!(stands(&judge(&question), "two-nuts"), "open");
    }

    /// Source: ISO 724 core diameter of M8x1.25, 6.466 mm; *published*, checked by hand:
    /// 8 - 1.226 869 * 1.25; half of it is 3.23 mm.
    #[test]
    fn the_first_drill_is_half_the_core() {
        let pilot = judge(&asked(true)).figure("pilot").unwrap().value;
        assert!((pilot * 1000.0 - 3.233).abs() < 0.001, "{pilot}");
    }
}
