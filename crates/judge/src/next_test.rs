//! The next test: from what was seen, which explanations remain and which test parts them.
//!
//! Evidence is listed for and against; nothing is given a probability and nothing is a tree of
//! yes and no. One observation rarely clears anything, and the answer says so.

mod evidence;

use report::{Align, Ask, Caution, Cell, Finding, Report, Source, Table, Verdict, Weight};

pub use evidence::{Cause, Seen, Test};

/// The question.
#[derive(Clone, Debug, Default)]
pub struct NextTest {
    /// What was seen.
    pub seen: Vec<Seen>,
    /// What made it overheat, once found; needed where it overheated.
    pub overheat_cause: Option<Found>,
    /// Two-stroke engines have no valves.
    pub two_stroke: bool,
}

/// Whether the cause of an overheating is known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    /// Named.
    Named(String),
    /// Looked for and marked as not found.
    NotFound,
}

/// A cause with its evidence.
struct Weighed {
    cause: Cause,
    speaks_for: Vec<Seen>,
    speaks_against: Vec<Seen>,
}

/// Names the tests that part what remains.
#[must_use]
pub fn judge(asked: &NextTest) -> Report {
    let mut report = Report::new("next-test", "What remains, and the test that parts it");
    if asked.seen.is_empty() {
        let names: Vec<&str> = Seen::ALL.iter().map(|seen| seen.key()).collect();
        let finding = Finding::new("nothing-seen", "seen", "nothing was seen yet")
            .next(format!("name what was seen, from: {}", names.join(", ")));
        return Report::refusal(
            "next-test",
            "What remains, and the test that parts it",
            finding,
        );
    }
    let weighed = weigh(asked);
    let open: Vec<&Weighed> = weighed
        .iter()
        .filter(|weighed| !weighed.speaks_for.is_empty())
        .collect();
    rows(&weighed, &mut report);
    tests(asked, &open, &mut report);
    cautionary(asked, &mut report);
    overheated(asked, &mut report);
    report.verdict = Some(match open.len() {
        0 => Verdict::NotMeasured,
        _ => Verdict::Undecided,
    });
    report.headline = Some(headline(&open, &report));
    report.because.push("Evidence for and against, not odds. A cause with evidence against it stays until a test that can see it has spoken.".to_owned());
    report.cite(Source::common_practice("what each test can and cannot see"));
    report
}

fn weigh(asked: &NextTest) -> Vec<Weighed> {
    Cause::ALL
        .into_iter()
        .filter(|cause| !(asked.two_stroke && cause.needs_valves()))
        .map(|cause| {
            let by = |wanted: fn(Seen, Cause) -> bool| {
                asked
                    .seen
                    .iter()
                    .copied()
                    .filter(|&seen| wanted(seen, cause))
                    .collect()
            };
            Weighed {
                cause,
                speaks_for: by(Seen::speaks_for),
                speaks_against: by(Seen::speaks_against),
            }
        })
        .collect()
}

fn rows(weighed: &[Weighed], report: &mut Report) {
    let mut table = Table::new(&[
        ("cause", "explanation", Align::Left),
        ("for", "for", Align::Left),
        ("against", "against", Align::Left),
    ]);
    let list = |seen: &[Seen]| Cell::List(seen.iter().map(|seen| seen.key().to_owned()).collect());
    for weighed in weighed
        .iter()
        .filter(|weighed| !(weighed.speaks_for.is_empty() && weighed.speaks_against.is_empty()))
    {
        table.push(vec![
            weighed.cause.words().into(),
            list(&weighed.speaks_for),
            list(&weighed.speaks_against),
        ]);
    }
    report.rows = table;
}

/// How many tests are named.
const NAMED: usize = 3;

/// A test is worth naming when it can see something that is open and has not been made. The one
/// that parts most pairs of open causes comes first; the cheaper one on a tie.
fn tests(asked: &NextTest, open: &[&Weighed], report: &mut Report) {
    let mut worth: Vec<(usize, Test)> = Test::ALL
        .into_iter()
        .filter(|test| !asked.seen.iter().any(|seen| seen.made() == Some(*test)))
        .filter(|test| !(asked.two_stroke && test.needs_valves()))
        .filter(|test| open.iter().any(|weighed| test.sees(weighed.cause)))
        .map(|test| (parted(test, open), test))
        .collect();
    worth.sort_by_key(|(parts, test)| (std::cmp::Reverse(*parts), test.order()));
    for (_, test) in worth.into_iter().take(NAMED) {
        report.findings.push(named(test, open, asked.two_stroke));
    }
}

/// The pairs of open causes a test would tell apart.
fn parted(test: Test, open: &[&Weighed]) -> usize {
    let mut pairs = 0;
    for (at, one) in open.iter().enumerate() {
        pairs += open
            .iter()
            .skip(at + 1)
            .filter(|other| test.outcome(one.cause) != test.outcome(other.cause))
            .count();
    }
    pairs
}

/// A test with what each of its outcomes would mean.
fn named(test: Test, open: &[&Weighed], two_stroke: bool) -> Finding {
    let mut outcomes: Vec<(&str, Vec<&str>)> = Vec::new();
    for weighed in open {
        let Some(shows) = test.outcome(weighed.cause) else {
            continue;
        };
        match outcomes.iter_mut().find(|(known, _)| *known == shows) {
            Some((_, causes)) => causes.push(weighed.cause.words()),
            None => outcomes.push((shows, vec![weighed.cause.words()])),
        }
    }
    let unseen: Vec<&str> = open
        .iter()
        .filter(|weighed| !test.sees(weighed.cause))
        .map(|weighed| weighed.cause.words())
        .collect();
    let mut finding =
        Finding::new("next-test", test.words(), test.blind_to(two_stroke)).weight(Weight::Look);
    for (shows, causes) in outcomes {
        finding = finding.detail(format!("{shows}: {}", causes.join(" or ")));
    }
    finding
        .detail(if unseen.is_empty() {
            "nothing: nothing is cleared; repeat it under its conditions".to_owned()
        } else {
            format!("nothing: it leans to {}", unseen.join(", "))
        })
        .next(test.how())
}

/// The combination that misleads most people.
fn cautionary(asked: &NextTest, report: &mut Report) {
    let has = |seen| asked.seen.contains(&seen);
    if has(Seen::EvenCompression) && (has(Seen::CoolantLoss) || has(Seen::MisfireCold)) {
        report.findings.insert(
            0,
            Finding::new("even-clears-nothing", "gasket and crack", "even compression does not clear a gasket or a crack that leaks only into or out of the water")
                .next("cold pressure overnight at the cap's rating, plugs out in the morning, look into each bore, then turn by hand before the starter is touched"),
        );
    }
    if has(Seen::CoolantLoss) || has(Seen::WhiteSmoke) {
        report.cautions.push(Caution::new("starting it", "coolant may stand in a cylinder: all plugs out, two turns by hand, never forced; cap opened only cold."));
    }
}

/// Before the engine fires again the cause of an overheating is named, or marked not found.
fn overheated(asked: &NextTest, report: &mut Report) {
    if !asked.seen.contains(&Seen::Overheated) {
        return;
    }
    match &asked.overheat_cause {
        Some(Found::Named(cause)) => report
            .because
            .push(format!("It overheated because of: {cause}.")),
        Some(Found::NotFound) => report.findings.push(
            Finding::new(
                "overheat-cause-not-found",
                "overheating",
                "its cause was looked for and not found",
            )
            .next("watch temperature and level from the first minute; stop at the first rise"),
        ),
        None => {
            report.findings.push(
                Finding::new("overheat-cause-open", "overheating", "what made it overheat is not named, and a new gasket does not cure it")
                    .next("name the cause (fan, thermostat, pump, radiator, air, leak) or mark it not found before it fires")
                    .weight(Weight::Stop),
            );
            report.asks.push(Ask::new(
                "what made it overheat",
                "the repair fails again if it stays.",
                "Give --overheat-cause, or --overheat-cause \"not found\".",
            ));
        }
    }
}

fn headline(open: &[&Weighed], report: &Report) -> String {
    let next = report
        .findings
        .iter()
        .find(|finding| finding.code == "next-test");
    match (open, next) {
        ([], _) => "Nothing seen so far speaks for any explanation kept here.".to_owned(),
        ([only], _) => format!(
            "What is left is {}; confirm it before anything comes off.",
            only.cause.words()
        ),
        (open, Some(next)) => format!(
            "{} explanations remain; next: {}.",
            open.len(),
            next.concerns
        ),
        (open, None) => format!(
            "{} explanations remain, and no test kept here parts them.",
            open.len()
        ),
    }
}

#[cfg(test)]
mod cases {
    use super::*;

    fn asked(seen: &[Seen]) -> NextTest {
        NextTest {
            seen: seen.to_vec(),
            ..NextTest::default()
        }
    }

    /// Source: *common practice, no source*: where the air of a leak-down comes out parts rings,
    /// either valve and gasket; oil parts the rings alone.
    #[test]
    fn the_test_that_parts_most_comes_first_with_what_each_outcome_means() {
        let report = judge(&asked(&[Seen::OneLow]));
        assert_eq!(next(&report)[0], Test::Leakdown.words());
        let first = report.findings.iter().find(|it| it.code == "next-test");
        let says = first.unwrap().detail.join("\n");
        for line in [
            "air at the throttle: an intake valve",
            "air at the oil filler: rings or bore",
            "bubbles in the coolant: gasket into the water or crack into the water",
            "nothing: it leans to filling",
        ] {
            assert!(says.contains(line), "{line}: {says}");
        }
    }

    fn next(report: &Report) -> Vec<&str> {
        report
            .findings
            .iter()
            .filter(|f| f.code == "next-test")
            .map(|f| f.concerns.as_str())
            .collect()
    }

    /// Source: *common practice, no source*: misfire from cold with coolant loss.
    #[test]
    fn even_compression_does_not_clear_gasket_or_crack() {
        let report = judge(&asked(&[
            Seen::MisfireCold,
            Seen::CoolantLoss,
            Seen::EvenCompression,
        ]));
        assert_eq!(report.findings[0].code, "even-clears-nothing");
        assert!(
            report.findings[0]
                .next
                .as_deref()
                .unwrap()
                .contains("turn by hand")
        );
        assert!(next(&report).contains(&Test::ColdPressure.words()));
        assert_eq!(report.verdict, Some(Verdict::Undecided));
        assert!(!report.cautions.is_empty());
    }

    #[test]
    fn a_wet_gain_leaves_the_rings_and_asks_for_confirmation() {
        let report = judge(&asked(&[Seen::OneLow, Seen::WetGain]));
        let rings = report
            .rows
            .rows
            .iter()
            .find(|row| row[0] == Cell::from("rings or bore"))
            .unwrap();
        assert_eq!(
            rings[1],
            Cell::List(vec!["one-low".to_owned(), "wet-gain".to_owned()])
        );
        assert!(
            !next(&report).contains(&Test::Wet.words()),
            "it was made already"
        );
    }

    #[test]
    fn a_two_stroke_gets_no_valve_advice() {
        let mut two = asked(&[Seen::OneLow, Seen::NoWetGain]);
        two.two_stroke = true;
        let text = format!("{:?}", judge(&two));
        assert!(
            !text.contains("valve") && !text.contains("cam timing"),
            "{text}"
        );
    }

    /// Source: trap 8, *common practice, no source*: driven on while the needle climbs, a small
    /// job becomes a cracked head. Heat keeps gasket and crack open, and every test that is
    /// named sees a crack.
    #[test]
    fn heat_keeps_the_crack_open_until_a_test_that_sees_it_has_spoken() {
        let hot = judge(&asked(&[Seen::Overheated]));
        assert_eq!(hot.verdict, Some(Verdict::Undecided));
        let named: Vec<&Finding> = hot
            .findings
            .iter()
            .filter(|finding| finding.code == "next-test")
            .collect();
        assert!(!named.is_empty());
        for test in named {
            let told = test.detail.join(" ");
            assert!(told.contains(Cause::Crack.words()), "{told}");
        }
        // Even compression beside it clears neither.
        let even = judge(&asked(&[Seen::Overheated, Seen::EvenCompression]));
        assert_eq!(even.verdict, Some(Verdict::Undecided));
        let rows = format!("{:?}", even.rows.rows);
        assert!(rows.contains(Cause::Crack.words()), "{rows}");
    }

    #[test]
    fn an_overheating_needs_its_cause_named_or_marked() {
        let mut hot = asked(&[Seen::Overheated]);
        assert!(judge(&hot).finds("overheat-cause-open"));
        assert_eq!(judge(&hot).exit_status(), 1);
        hot.overheat_cause = Some(Found::NotFound);
        assert!(judge(&hot).finds("overheat-cause-not-found"));
        hot.overheat_cause = Some(Found::Named("fan".to_owned()));
        assert_eq!(judge(&hot).exit_status(), 0);
    }

    #[test]
    fn every_observation_is_found_by_its_name_and_speaks_somewhere() {
        for seen in Seen::ALL {
            assert_eq!(Seen::find(seen.key()), Some(seen));
            let speaks = Cause::ALL
                .into_iter()
                .any(|cause| seen.speaks_for(cause) || seen.speaks_against(cause));
            assert!(speaks, "{seen:?}");
        }
        assert!(judge(&NextTest::default()).refused);
    }
}
