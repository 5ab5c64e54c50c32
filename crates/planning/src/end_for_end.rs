//! A map of fasteners for one bank, and the same map for the bank that is turned end for end.
//!
//! Banks of one engine face each other: what stands first on the one stands last on the other,
//! row by row. Turning left for right instead would leave the rows as they are.

use std::collections::BTreeMap;

use report::{Align, Cell, Figure, Finding, Report, Table, Weight};

use crate::answer::counted;

/// One place on a map: a word for its length, and whether it gave trouble.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// The word: `a`, `40`.
    pub word: String,
    /// A star stood behind it.
    pub trouble: bool,
}

/// Reads a row: words with spaces between, a star behind those that gave trouble.
#[must_use]
pub fn read_row(row: &str) -> Vec<Spot> {
    row.split_whitespace()
        .filter(|word| word.chars().any(|letter| letter != '*'))
        .map(|word| Spot {
            word: word.trim_end_matches('*').to_owned(),
            trouble: word.ends_with('*'),
        })
        .collect()
}

/// The row of the bank turned end for end. Trouble stays with the bank where it was met.
#[must_use]
pub fn end_for_end(row: &[Spot]) -> Vec<String> {
    row.iter().rev().map(|spot| spot.word.clone()).collect()
}

/// Both banks, how many of each, and how many a count comes short of both.
#[must_use]
pub fn turned(rows: &[String], on_the_bench: Option<u32>) -> Report {
    const COMMAND: &str = "turned";
    let title = "Two banks, one turned end for end";
    let rows: Vec<Vec<Spot>> = rows.iter().map(|row| read_row(row)).collect();
    if rows.iter().all(Vec::is_empty) {
        let finding = Finding::new("empty-map", "", "there is nothing on the map")
            .next("write each row from the drive end: \"b b* a b\"");
        return Report::refusal(COMMAND, title, finding);
    }
    let mut report = Report::new(COMMAND, title);
    let mut table = Table::new(&[
        ("row", "row", Align::Right),
        ("this_bank", "this bank", Align::Left),
        ("other_bank", "the other, in the same sense", Align::Left),
        ("trouble", "trouble here at", Align::Left),
    ]);
    for (number, row) in (1_usize..).zip(&rows) {
        let starred = |spot: &Spot| format!("{}{}", spot.word, if spot.trouble { "*" } else { "" });
        let here: Vec<String> = row.iter().map(starred).collect();
        let trouble = (1_usize..).zip(row).filter(|(_, spot)| spot.trouble);
        table.push(vec![
            Cell::from(number),
            Cell::from(here.join(" ")),
            Cell::from(end_for_end(row).join(" ")),
            Cell::List(trouble.map(|(place, _)| place.to_string()).collect()),
        ]);
    }
    report.rows = table;
    let spots: Vec<&Spot> = rows.iter().flatten().collect();
    let mut kinds: BTreeMap<&str, usize> = BTreeMap::new();
    for spot in &spots {
        *kinds.entry(&spot.word).or_default() += 1;
    }
    let both = spots.len() * 2;
    report
        .figures
        .push(Figure::count("bank", "on one bank", spots.len()));
    report.figures.push(Figure::count("both", "on both", both));
    report.figures.push(Figure::count(
        "trouble",
        "gave trouble",
        spots.iter().filter(|spot| spot.trouble).count(),
    ));
    let words: Vec<String> = kinds
        .iter()
        .map(|(word, count)| format!("{word}: {count} a bank, {} in all", count * 2))
        .collect();
    report
        .findings
        .push(Finding::new("kinds", "", words.join("; ")).weight(Weight::Note));
    report.headline = Some(format!("{} a bank, {both} in all.", spots.len()));
    if let Some(counted_here) = on_the_bench.map(|count| count as usize)
        && counted_here != both
    {
        let (apart, word) = if counted_here < both {
            (both - counted_here, "not accounted for")
        } else {
            (counted_here - both, "more than the map has")
        };
        let says = format!("{counted_here} were counted, the map has {both}: {apart} {word}");
        report.findings.push(
            Finding::new("count", counted(apart, "fastener"), says)
                .next("count again by length before anything else; log what is lost")
                .weight(Weight::Stop),
        );
    }
    report
}

#[cfg(test)]
mod tests {
    use super::*;

    fn map() -> Vec<String> {
        [
            "b b* a b* b* b* a b b* b* b* b",
            "c* c* c c c c c* c",
            "a b b a a b b a a b* b a",
        ]
        .map(str::to_owned)
        .into()
    }

    /// Source: workshop case of a twelve-cylinder vee, three lengths, one bank written out:
    /// 8, 16 and 8 a bank, 64 on both, 11 gave trouble, a photo shows 62; the inlet row of the
    /// other bank is given with it. *Public data: reader's worked example*.
    #[test]
    fn o12_the_other_bank_is_turned_end_for_end() {
        let report = turned(&map(), Some(62));
        assert_eq!(
            report.rows.rows[0][2],
            Cell::from("b b b b b a b b b a b b")
        );
        let figure = |name: &str| report.figure(name).unwrap().value as i64;
        assert_eq!(
            (figure("bank"), figure("both"), figure("trouble")),
            (32, 64, 11)
        );
        let kinds = &report.findings[0].says;
        assert!(
            kinds.contains("a: 8 a bank, 16 in all")
                && kinds.contains("b: 16 a bank, 32 in all")
                && kinds.contains("c: 8 a bank, 16 in all"),
            "{kinds}"
        );
        let count = report
            .findings
            .iter()
            .find(|finding| finding.code == "count")
            .unwrap();
        assert!(count.says.contains("2 not accounted for"));
        assert_eq!(report.exit_status(), 1);
    }

    #[test]
    fn turning_twice_gives_the_bank_back_and_an_empty_map_is_refused() {
        for row in map() {
            let row = read_row(&row);
            let again = read_row(&end_for_end(&row).join(" "));
            let words: Vec<String> = row.iter().map(|spot| spot.word.clone()).collect();
            assert_eq!(end_for_end(&again), words);
        }
        assert!(turned(&["  * ".to_owned()], None).refused);
        assert_eq!(turned(&map(), Some(64)).exit_status(), 0);
    }
}
