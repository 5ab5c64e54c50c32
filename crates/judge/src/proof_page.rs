//! The page of proof: every test of a job before and after, and what was not tested.
//!
//! One test alone proves little; two that can see different things do. Cylinder by cylinder is
//! the work of `proof`.

use report::{Align, Ask, Cell, Finding, Report, Table, Verdict, Weight};

/// One test, done at least once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Test {
    /// What was measured.
    pub name: String,
    /// The first time.
    pub before: Done,
    /// The last time, where it was done again.
    pub after: Option<Done>,
    /// How the numbers moved, where they were compared.
    pub moved: Option<Verdict>,
}

/// A test done once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// What was read, as typed.
    pub values: String,
    /// The gauge.
    pub gauge: Option<String>,
    /// The conditions as typed.
    pub conditions: Vec<String>,
}

impl Done {
    /// Same gauge, same conditions. A gauge named once only is not the same.
    #[must_use]
    pub fn is_like(&self, other: &Self) -> bool {
        let sorted = |done: &Self| {
            let mut words: Vec<String> = done
                .conditions
                .iter()
                .map(|word| word.to_lowercase())
                .collect();
            words.sort();
            words
        };
        self.gauge == other.gauge && sorted(self) == sorted(other)
    }
}

/// Tests that see what others do not; those without a reading are named.
const USUAL: [(&str, &str); 4] = [
    ("cranking", "rings, valves and gasket under the starter"),
    ("leak", "where it leaks, by the ear"),
    ("coolant", "whether coolant still goes missing"),
    ("oil pressure", "bearings and pump"),
];

/// The page of proof. `cause` is the cause of the trouble as the record names it.
#[must_use]
pub fn page(tests: &[Test], cause: Option<&str>) -> Report {
    let mut report = Report::new("proof", "Before and after");
    let mut table = Table::new(&[
        ("test", "test", Align::Left),
        ("before", "before", Align::Left),
        ("after", "after", Align::Left),
        ("alike", "alike", Align::Left),
        ("verdict", "verdict", Align::Left),
    ]);
    for test in tests {
        let alike = test.after.as_ref().map(|after| after.is_like(&test.before));
        table.push(vec![
            Cell::from(test.name.clone()),
            Cell::from(test.before.values.clone()),
            Cell::from(test.after.as_ref().map(|after| after.values.clone())),
            Cell::from(alike.map(|alike| if alike { "yes" } else { "no" })),
            Cell::from(test.moved),
        ]);
        if alike == Some(false) {
            report.findings.push(
                Finding::new(
                    "not-alike",
                    test.name.clone(),
                    "gauge or conditions differ between before and after",
                )
                .next("repeat it as it was done before"),
            );
        }
    }
    report.rows = table;
    let twice: Vec<&Test> = tests
        .iter()
        .filter(|test| {
            test.after
                .as_ref()
                .is_some_and(|after| after.is_like(&test.before))
        })
        .collect();
    untested(tests, &mut report);
    verdict(&twice, &mut report);
    report.because.push(cause.map_or_else(
        || "The record names no cause.".to_owned(),
        |cause| format!("The cause, as the record has it: {cause}."),
    ));
    report
}

fn untested(tests: &[Test], report: &mut Report) {
    for (word, sees) in USUAL {
        let done = tests
            .iter()
            .any(|test| test.after.is_some() && test.name.to_lowercase().contains(word));
        if !done {
            report.findings.push(
                Finding::new("not-tested", word, format!("not tested twice ({sees})"))
                    .weight(Weight::Note),
            );
        }
    }
}

fn verdict(twice: &[&Test], report: &mut Report) {
    let worse = twice
        .iter()
        .any(|test| test.moved == Some(Verdict::Outside));
    let better = twice.iter().any(|test| test.moved == Some(Verdict::Within));
    let (verdict, headline) = match (twice.len(), worse, better) {
        (_, true, _) => (Verdict::Outside, "A test got worse.".to_owned()),
        (0 | 1, false, _) => (
            Verdict::NotMeasured,
            format!(
                "{} done alike before and after; proof takes two tests.",
                if twice.is_empty() {
                    "No test was"
                } else {
                    "One test was"
                }
            ),
        ),
        (count, false, true) => (
            Verdict::Within,
            format!("Better, by more than the gauge scatters; {count} tests done alike."),
        ),
        (count, false, false) => (
            Verdict::Undecided,
            format!("{count} tests done alike, and no number moved by more than scatter."),
        ),
    };
    if twice.len() < 2 {
        report.asks.push(Ask::new(
            "a second test, done as before",
            "one test sees one side only.",
            "Same gauge, same warmth: leak-down, coolant level after three cold mornings, cooling pressure.",
        ));
    }
    report.verdict = Some(verdict);
    report.headline = Some(headline);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn test(name: &str, moved: Option<Verdict>, again: &str) -> Test {
        let done = |condition: &str| Done {
            values: "180 psi".to_owned(),
            gauge: Some("dial".to_owned()),
            conditions: vec![condition.to_owned()],
        };
        Test {
            name: name.to_owned(),
            before: done("cold"),
            after: Some(done(again)),
            moved,
        }
    }

    #[test]
    fn one_test_is_no_proof_and_two_are() {
        let cranking = test("cranking dry", Some(Verdict::Within), "cold");
        let alone = page(std::slice::from_ref(&cranking), None);
        assert_eq!(alone.verdict, Some(Verdict::NotMeasured));
        let two = [cranking, test("coolant level", None, "cold")];
        let both = page(&two, Some("pump"));
        assert_eq!(both.verdict, Some(Verdict::Within));
        let open: Vec<&str> = both.findings.iter().map(|f| f.concerns.as_str()).collect();
        assert_eq!(open, ["leak", "oil pressure"]);
    }

    #[test]
    fn a_warm_reading_says_nothing_about_a_cold_one() {
        let two = [
            test("cranking dry", Some(Verdict::Within), "warm"),
            test("coolant level", None, "cold"),
        ];
        let report = page(&two, None);
        assert!(report.finds("not-alike"));
        assert_eq!(report.verdict, Some(Verdict::NotMeasured));
    }
}
