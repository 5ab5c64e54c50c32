//! The state as a build book the next person can start from: the book this job began with,
//! and what it learnt, each difference shown.
//!
//! What was never said is filled in; where the record and the book differ, the book stands and
//! the difference is asked about.

mod learnt;
mod ways;

use report::{Align, Ask, Cell, Figure, Report, Table};
use similar::{ChangeTag, TextDiff};

use crate::folder::Folder;

/// Writes the book back. The text is the answer; beside it stand the lines that are new or
/// changed against the book started from, and what must be asked.
#[must_use]
pub fn write_back(folder: &Folder) -> Report {
    let written = job::write_back(&folder.state);
    let mut book = written.book;
    let mut report = Report::new("write-back", "");
    report.asks = written.asks;
    let learnt = learnt::add(&mut book, folder);
    report.asks.extend(learnt.asks);
    report.because = learnt.because;
    report.asks.extend(ways::bores(&mut book, folder));
    report.asks.extend(ways::past(folder));
    let text = book::write(&book);
    if let Some(started) = &folder.book {
        differences(&book::write(started), &text, &mut report);
    }
    report.text = Some(text);
    report
}

/// Writes the shop file anew, and asks about people and gauges that only the record knows.
#[must_use]
pub fn shop(folder: &Folder) -> Report {
    let shop = folder.shop.clone().unwrap_or_default();
    let mut report = Report::new("write-back", "");
    let mut asked: Vec<String> = Vec::new();
    for (_, found) in &folder.state.readings {
        let Some(gauge) = &found.instrument else {
            continue;
        };
        let known = shop
            .gauges
            .iter()
            .any(|one| job::same_name(one.id.as_str(), gauge));
        if !known && !asked.contains(gauge) {
            asked.push(gauge.clone());
            report.asks.push(Ask::new(
                format!("gauge {gauge}"),
                "readings were taken with it, and nobody wrote down how far it can be trusted",
                format!(
                    "gauge {} kind=… resolution=\"…\" uncertainty=\"…\"",
                    gauge.replace(' ', "-")
                ),
            ));
        }
    }
    for entry in &folder.entries {
        let known = shop.people.iter().any(|one| {
            let label = one.label.as_deref().unwrap_or_default();
            job::same_name(one.id.as_str(), &entry.author) || job::same_name(label, &entry.author)
        });
        if !known && !asked.contains(&entry.author) {
            asked.push(entry.author.clone());
            report.asks.push(Ask::new(
                format!("person {}", entry.author),
                "entries are theirs, and the calendar does not know when they are here",
                format!("person {} {{ hours sat=\"6 h\" }}", entry.author),
            ));
        }
    }
    report.text = Some(book::write_shop(&shop));
    report
}

/// Lines that went and lines that came, as two prints of a book differ: comments and layout
/// of the file itself are no difference.
fn differences(before: &str, after: &str, report: &mut Report) {
    let mut table = Table::new(&[
        ("change", "", Align::Left),
        ("line", "against the book this job began with", Align::Left),
    ]);
    let (mut new, mut gone) = (0_usize, 0_usize);
    for change in TextDiff::from_lines(before, after).iter_all_changes() {
        let (sign, word) = match change.tag() {
            ChangeTag::Equal => continue,
            ChangeTag::Insert => {
                new += 1;
                ("+", "new")
            }
            ChangeTag::Delete => {
                gone += 1;
                ("-", "gone")
            }
        };
        let line = change.value().trim();
        if !line.is_empty() {
            table.push(vec![Cell::from(word), Cell::from(format!("{sign} {line}"))]);
        }
    }
    report.headline = Some(match table.rows.len() {
        0 => "The book says nothing new against the one this job began with.".to_owned(),
        _ => format!(
            "{new} lines are new or changed, {gone} gone, against the book this job began with."
        ),
    });
    report.figures = vec![
        Figure::count("new", "lines new or changed", new),
        Figure::count("gone", "lines gone or as they were", gone),
    ];
    report.rows = table;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::folder::Hand;

    const BOOK: &str = "book \"Test engine\"\n\
        part block fixed=#true\n\
        part cover {\n    joint cover-to-block to=block {\n        holes A B thread=M6\n    }\n}\n\
        part duct off=\"5 min\"\n";

    fn log(folder: &mut Folder, minute: i64, line: &str) {
        let hand = Hand {
            author: "ana".to_owned(),
            micros: 1_772_452_800_000_000 + minute * 60_000_000,
            client: minute.to_string(),
        };
        let report = crate::lines::log(folder, &hand, &[line.to_owned()]);
        assert!(!report.refused, "{line}: {:?}", report.findings);
    }

    #[test]
    fn what_was_learnt_is_filled_in_and_what_differs_is_asked() {
        let at = tempfile::tempdir().unwrap();
        let mut folder = Folder::begin(at.path(), Some(BOOK), None).unwrap();
        log(&mut folder, 0, "note cold");
        log(&mut folder, 12, "off cover: 2 bolts M6x20");
        log(&mut folder, 13, "note cover: snags on the loom");
        log(&mut folder, 60, "off duct");
        let report = write_back(&folder);
        let text = report.text.clone().unwrap();
        let (again, faults) = book::read(&text);
        assert!(faults.is_empty(), "{text}");
        let cover = again.part(&book::PartId::new("cover")).unwrap();
        assert_eq!(cover.effort.off.typed(), Some("12 min"));
        assert_eq!(cover.note.as_deref(), Some("snags on the loom"));
        assert!(text.contains("length=\"20 mm\""), "{text}");
        // The book's own time stands, and the other one is asked about.
        let duct = again.part(&book::PartId::new("duct")).unwrap();
        assert_eq!(duct.effort.off.typed(), Some("5 min"));
        assert!(
            report.asks.iter().any(|ask| ask.what.contains("47 min")),
            "{:?}",
            report.asks
        );
        let new = |row: &Vec<Cell>| matches!(&row[1], Cell::Text(line) if line.contains("snags"));
        assert!(report.rows.rows.iter().any(new));
        // Begun again from what was written, there is nothing more to learn but the same.
        let next = tempfile::tempdir().unwrap();
        let fresh = Folder::begin(next.path(), Some(&text), None).unwrap();
        assert!(write_back(&fresh).rows.rows.is_empty());
    }

    #[test]
    fn a_bore_is_filled_in_and_a_way_past_a_part_is_asked_about() {
        let book = "book \"Test engine\"\n\
            part block fixed=#true {\n    port water medium=coolant\n    port air medium=vacuum\n}\n\
            part duct\npart cover {\n    needs-off duct\n}\n\
            part bottle {\n    port out medium=coolant\n    port up medium=vacuum\n}\n\
            hose bleed {\n    from block.water\n    to bottle.out\n}\n\
            hose breather bore=\"8 mm\" {\n    from block.air\n    to bottle.up\n}\n";
        let at = tempfile::tempdir().unwrap();
        let mut folder = Folder::begin(at.path(), Some(book), None).unwrap();
        log(&mut folder, 0, "off bleed: bore 10 mm");
        log(&mut folder, 1, "off breather: bore 10 mm");
        log(&mut folder, 2, "off cover");
        log(&mut folder, 3, "off duct");
        let report = write_back(&folder);
        let (again, _) = book::read(report.text.as_deref().unwrap());
        let bore = |id: &str| {
            let line = again.line(&book::LineId::new(id)).unwrap();
            line.bore.typed().map(str::to_owned)
        };
        assert_eq!(bore("bleed").as_deref(), Some("10 mm"));
        assert_eq!(bore("breather").as_deref(), Some("8 mm"));
        let asks: Vec<&str> = report.asks.iter().map(|ask| ask.what.as_str()).collect();
        assert_eq!(
            asks,
            [
                "bore of breather: 8 mm in the book, 10 mm in the record",
                "cover came off with duct still on"
            ]
        );
    }

    /// The demo goes by its own book.
    #[test]
    fn the_demo_went_past_nothing() {
        let at = tempfile::tempdir().unwrap();
        let mut folder = Folder::begin(at.path(), Some(crate::demo::BOOK), None).unwrap();
        for chapter in crate::demo::LIFE {
            folder.append(&chapter.entries().unwrap()).unwrap();
        }
        assert_eq!(ways::past(&folder), []);
    }

    #[test]
    fn a_gauge_and_a_person_only_the_record_knows_are_asked_for() {
        let at = tempfile::tempdir().unwrap();
        let text = "shop \"Barn\"\nperson rui\n";
        let mut folder = Folder::begin(at.path(), Some(BOOK), Some(text)).unwrap();
        log(&mut folder, 0, "read oil pressure: 2.1 bar, gauge old dial");
        let report = shop(&folder);
        let asks: Vec<&str> = report.asks.iter().map(|ask| ask.what.as_str()).collect();
        assert_eq!(asks, ["gauge old dial", "person ana"]);
        assert_eq!(
            book::read_shop(report.text.as_deref().unwrap()).0,
            folder.shop.unwrap()
        );
    }
}
