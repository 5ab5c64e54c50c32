//! Verdicts, sentences and the cheapest act.

use quantity::unit::{INCH_UNIT, MILLIMETRE};
use quantity::{Bound, Length, Range};
use report::{Report, SourceKind, Verdict};

use super::*;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

fn flat(reading: Option<Reading<Length>>, acts: &[Act<Length>]) -> Decision {
    let limit = Limit::most(mm(0.05)).of(Whose::Maker).at("head section");
    decide("flatness", reading.as_ref(), &limit, acts, &MILLIMETRE).unwrap()
}

#[test]
fn a_reading_on_the_limit_is_within_and_says_so() {
    let seen = flat(Some(Reading::exactly(mm(0.05))), &[]);
    assert_eq!(seen.verdict, Verdict::Within);
    assert!(seen.note.unwrap().contains("exactly on the limit"));
    assert_eq!(
        seen.says,
        "Flatness is 0.05 mm: within the limit, at most 0.05 mm (maker's limit: head section)."
    );
}

#[test]
fn no_reading_is_not_measured_and_asks_for_one() {
    let seen = flat(None, &[]);
    assert_eq!(seen.verdict, Verdict::NotMeasured);
    assert_eq!(seen.settle.as_deref(), Some("measure flatness"));
}

/// Source: limit 0.050, u 0.005, y 0.044. *Computed by a general library (Python 3.11 floats):
/// normal distribution.* Rule: ISO 14253-1, summary. *Published.*
#[test]
fn e19_undecided_names_probability_and_the_cheapest_act() {
    let acts = [
        Act {
            says: "send it out".into(),
            minutes: 600,
            leaves: mm(0.002),
        },
        Act {
            says: "use the dial gauge".into(),
            minutes: 20,
            leaves: mm(0.005),
        },
        Act {
            says: "look again".into(),
            minutes: 1,
            leaves: mm(0.009),
        },
    ];
    let reading = Reading::exactly(mm(0.044)).with(Some(mm(0.01)));
    let seen = flat(Some(reading), &acts);
    assert_eq!(seen.verdict, Verdict::Undecided);
    assert!((seen.conformance.unwrap().in_fraction() - 0.88493).abs() < 1e-5);
    assert_eq!(seen.settle.as_deref(), Some("use the dial gauge"));
    let alone = flat(Some(reading), &[]);
    assert!(alone.settle.unwrap().contains("± 0.006 mm"));
}

#[test]
fn a_bound_over_the_limit_is_settled_by_the_blade_of_that_size() {
    let reading = Reading::bound(Bound::Between(Range {
        low: mm(0.04),
        high: mm(0.06),
    }));
    let seen = flat(Some(reading), &[]);
    assert_eq!(seen.verdict, Verdict::Undecided);
    assert!(seen.settle.unwrap().starts_with("try 0.05 mm itself"));
}

#[test]
fn no_blade_is_sent_for_that_nobody_makes() {
    let limit = Limit::most(mm(0.0473));
    let reading = Reading::bound(Bound::Below(mm(0.06)));
    let seen = decide("gap", Some(&reading), &limit, &[], &MILLIMETRE).unwrap();
    assert_eq!(seen.verdict, Verdict::Undecided);
    let act = seen.settle.unwrap();
    assert!(act.starts_with("measure it in figures"), "{act}");
}

#[test]
fn a_default_is_shown_as_one() {
    let limit = Limit::most(mm(0.1)).by_default(Whose::CommonPractice, "four-cylinder head");
    assert_eq!(
        limit.words(&MILLIMETRE),
        "at most 0.1 mm (default limit, common practice, no source: four-cylinder head)"
    );
    assert_eq!(limit.source().unwrap().kind, SourceKind::CommonPractice);
}

#[test]
fn a_limit_stands_as_its_source_writes_it() {
    let limit = Limit::most(Length::inches(0.008).unwrap())
        .by_default(Whose::CommonPractice, "factory books")
        .stated_in(INCH_UNIT);
    assert_eq!(limit.numbers(&MILLIMETRE), "at most 0.008 in (0.2032 mm)");
    assert_eq!(
        limit.words(&MILLIMETRE),
        "at most 0.008 in (0.2032 mm; default limit, common practice, no source: factory books)"
    );
    assert_eq!(limit.numbers(&INCH_UNIT), "at most 0.008 in");
    // Ranges round inward, in either unit.
    let window = Limit::between(Range {
        low: mm(0.025),
        high: mm(0.075),
    })
    .stated_in(MILLIMETRE);
    assert_eq!(
        window.numbers(&INCH_UNIT),
        "0.025–0.075 mm (0.001–0.0029 in)"
    );
}

#[test]
fn an_owner_is_read_and_anything_else_is_kept() {
    assert_eq!(
        Whose::read("maker, head section"),
        (Whose::Maker, Some("head section".into()))
    );
    assert_eq!(Whose::read("Shop"), (Whose::Shop, None));
    assert_eq!(
        Whose::read("shopping list"),
        (Whose::Unsaid, Some("shopping list".into()))
    );
    assert_eq!(
        Whose::read("common practice"),
        (Whose::CommonPractice, None)
    );
}

#[test]
fn the_decision_leads_the_report() {
    let mut report = Report::new("flatness", "Head face");
    flat(Some(Reading::exactly(mm(0.062))), &[]).lead(&mut report);
    assert_eq!(report.verdict, Some(Verdict::Outside));
    assert_eq!(report.exit_status(), 1);
    assert_eq!(report.because.len(), 1);
}
