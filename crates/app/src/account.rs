//! The report of the whole job: before and after, every reading with its limit, what was not
//! measured, what was passed over and why, costs, hours, photographs.
//!
//! It is for the people of this job: it names who did what. What others may read is the
//! how-to.

use std::collections::BTreeMap;

use book::Money;
use job::{Act, Entry, EntryId, State};
use report::{Align, Cell, Figure, Finding, Report, Table, Verdict, Weight};
use sheet::paper::{self, Block, Body, Paper, Reading, answer};

use crate::calendar::day_of;
use crate::document::Told;
use crate::folder::Folder;
use crate::lines::when;
use crate::photo::on_paper;
use crate::sitting::{self, Sitting};

const COMMAND: &str = "account";
const TITLE: &str = "The whole job";

/// Makes the report of the job. The short answer has the sums and one row a chapter.
#[must_use]
pub fn account(folder: &Folder, now_micros: i64) -> Told {
    let Some(day) = day_of(now_micros).and_then(|day| book::Date::read(&day.to_string())) else {
        let finding = Finding::new("clock", "", "the clock shows no day of the calendar");
        return Told {
            report: Report::refusal(COMMAND, TITLE, finding.next("set the clock")),
            paper: None,
        };
    };
    let chapters = chapters(folder);
    let report = short(folder, &chapters);
    let known = &folder.state.known;
    let mut blocks = vec![Block::Figures(
        report.figures.iter().map(paper::Shown::from).collect(),
    )];
    blocks.push(Block::Contents);
    for (chapter, _) in chapters {
        blocks.push(Block::Heading(1, chapter.title.clone()));
        blocks.extend(answer(&chapter, 2));
    }
    let (photos, missing) = photos(folder);
    if !photos.is_empty() {
        blocks.push(Block::Heading(1, "Photographs".to_owned()));
        blocks.extend(photos);
    }
    let mut report = report;
    report.findings.extend(missing);
    let paper = Paper {
        name: COMMAND.to_owned(),
        title: known.title.clone().unwrap_or_else(|| TITLE.to_owned()),
        job: TITLE.to_owned(),
        day,
        warning: known
            .invented
            .then(|| "The vehicle and every figure here are invented.".to_owned()),
        body: Body::Pages(Reading::Desk, blocks),
    };
    Told {
        report,
        paper: Some(paper),
    }
}

/// The chapters, each an answer of its own, with how many rows it has to tell.
fn chapters(folder: &Folder) -> Vec<(Report, usize)> {
    let state = &folder.state;
    let entries = job::effective(&folder.entries).entries;
    let all = [
        crate::proof::of_job(folder),
        judge::found::found(state, folder.shop.as_ref()),
        not_measured(state),
        overrides(folder, state),
        job::outstanding::report(state),
        costs(state, folder),
        hours(&sitting::sittings(&entries)),
        remarks(&entries),
    ];
    all.into_iter()
        .map(|chapter| {
            let rows = chapter.rows.rows.len();
            (chapter, rows)
        })
        .collect()
}

fn short(folder: &Folder, chapters: &[(Report, usize)]) -> Report {
    let state = &folder.state;
    let mut report = Report::new(COMMAND, TITLE);
    let mut table = Table::new(&[
        ("chapter", "chapter", Align::Left),
        ("says", "says", Align::Left),
        ("rows", "", Align::Right),
        ("verdict", "verdict", Align::Left),
    ]);
    for (chapter, rows) in chapters {
        table.push(vec![
            Cell::from(chapter.title.clone()),
            Cell::from(chapter.headline.clone()),
            Cell::from(*rows),
            Cell::from(chapter.verdict),
        ]);
    }
    let entries = job::effective(&folder.entries).entries;
    let sittings = sitting::sittings(&entries);
    let minutes: i64 = sittings.iter().map(Sitting::minutes).sum();
    let days: std::collections::BTreeSet<_> = entries
        .iter()
        .filter_map(|entry| day_of(entry.at))
        .collect();
    report.figures = vec![
        Figure::count("entries", "entries that count", entries.len()),
        Figure::count("days", "days with an entry", days.len()),
        hours_figure(minutes),
        Figure::count("photos", "photographs", state.photos.len()),
        Figure::count("overrides", "gates passed while closed", state.passed.len()),
    ];
    report
        .figures
        .extend(paid(state, folder).0.iter().map(money_figure));
    report.verdict = chapters
        .iter()
        .map(|(chapter, _)| chapter.verdict)
        .find(|verdict| *verdict == Some(Verdict::Outside))
        .flatten();
    report.headline = Some(
        match chapters
            .first()
            .and_then(|(proof, _)| proof.headline.clone())
        {
            Some(proof) => format!("Before and after: {proof}"),
            None => "Nothing was tested before and after.".to_owned(),
        },
    );
    report.rows = table;
    report
}

fn hours_figure(minutes: i64) -> Figure {
    let whole = i32::try_from(minutes).map_or(f64::MAX, f64::from);
    Figure {
        unit: "s",
        ..Figure::number(
            "hours",
            "hours, at least",
            whole * 60.0,
            sitting::shown(minutes),
        )
    }
    .note("from the first to the last entry of each sitting")
}

fn money_figure(money: &Money) -> Figure {
    let amount = i32::try_from(money.hundredths).map_or(f64::MAX, f64::from) / 100.0;
    Figure::number("paid", "paid", amount, shown(money))
}

/// Money as a reader wants it: `372 EUR`, `18.50 EUR`.
fn shown(money: &Money) -> String {
    let (whole, cents) = (money.hundredths / 100, money.hundredths % 100);
    let amount = if cents == 0 {
        whole.to_string()
    } else {
        format!("{whole}.{cents:02}")
    };
    format!("{amount} {}", money.currency).trim_end().to_owned()
}

/// What nobody measured or checked: limits without a reading, checks without an entry.
fn not_measured(state: &State) -> Report {
    let mut report = Report::new(COMMAND, "What was not measured");
    let mut table = Table::new(&[("what", "what", Align::Left), ("kind", "kind", Align::Left)]);
    for limit in state
        .known
        .limits
        .iter()
        .filter(|limit| state.applies(&limit.when))
    {
        let label = limit.label.clone().unwrap_or_else(|| limit.id.to_string());
        if judge::reading::all(state, limit).next().is_none() {
            table.push(vec![Cell::from(label), Cell::from("no reading")]);
        }
    }
    for check in state
        .known
        .checks
        .iter()
        .filter(|check| state.applies(&check.when))
    {
        if !state.checks.contains_key(&check.id) {
            let label = check.label.clone().unwrap_or_else(|| check.id.to_string());
            table.push(vec![Cell::from(label), Cell::from("no check")]);
        }
    }
    let asks_nothing = state.known.limits.is_empty() && state.known.checks.is_empty();
    report.headline = Some(match table.rows.len() {
        0 if asks_nothing => {
            "The book has no limit and no check, so nothing was asked for.".to_owned()
        }
        0 => "Every limit of the book has a reading, every check an entry.".to_owned(),
        1 => "One thing was left out.".to_owned(),
        many => format!("{many} things were left out."),
    });
    report.rows = table;
    report
}

/// What was passed over, contradicted, corrected or taken back, and why.
fn overrides(folder: &Folder, state: &State) -> Report {
    let mut report = Report::new(COMMAND, "Passed over, corrected, taken back");
    let mut table = Table::new(&[
        ("entry", "entry", Align::Right),
        ("what", "what", Align::Left),
        ("why", "why", Align::Left),
    ]);
    let mut rows: Vec<(EntryId, String, Option<String>)> = state
        .passed
        .iter()
        .map(|(gate, (entry, reason))| {
            let what = format!("gate {gate}, passed while closed");
            (*entry, what, Some(reason.clone()))
        })
        .collect();
    for entry in &folder.entries {
        match &entry.act {
            Act::Corrected { entry: was, .. } => {
                rows.push((
                    entry.id,
                    format!("entry {was} corrected"),
                    Some(entry.line.clone()),
                ));
            }
            Act::Undone { entry: Some(was) } => {
                rows.push((entry.id, format!("entry {was} taken back"), None));
            }
            _ => {}
        }
    }
    let contradicting = state.findings.iter().filter(|found| found.contradicts);
    rows.extend(contradicting.map(|found| {
        let why = "it contradicts what stood before, and changed nothing".to_owned();
        (found.entry, found.finding.says.clone(), Some(why))
    }));
    rows.sort();
    report.headline = Some(match state.passed.len() {
        0 => "No gate was passed while closed.".to_owned(),
        1 => "One gate was passed while closed.".to_owned(),
        many => format!("{many} gates were passed while closed."),
    });
    for (entry, what, why) in rows {
        table.push(vec![
            Cell::from(usize::try_from(entry.0).ok()),
            Cell::from(what),
            Cell::from(why),
        ]);
    }
    report.rows = table;
    report
}

/// What was paid, by currency; and the entries whose amount is no amount of money.
fn paid(state: &State, folder: &Folder) -> (Vec<Money>, Vec<EntryId>) {
    let book = folder.book.as_ref().and_then(|book| book.currency.clone());
    let shop = folder.shop.as_ref().and_then(|shop| shop.currency.clone());
    let usual = book.or(shop).unwrap_or_default();
    let mut sums: BTreeMap<String, Money> = BTreeMap::new();
    let mut odd = Vec::new();
    for payment in &state.payments {
        let Some(money) = Money::read(&payment.amount, &usual) else {
            odd.push(payment.entry);
            continue;
        };
        let sum = match sums.get(&money.currency) {
            None => Some(money.clone()),
            Some(sum) => sum.checked_add(&money),
        };
        match sum {
            Some(sum) => {
                sums.insert(money.currency.clone(), sum);
            }
            None => odd.push(payment.entry),
        }
    }
    (sums.into_values().collect(), odd)
}

fn costs(state: &State, folder: &Folder) -> Report {
    let mut report = Report::new(COMMAND, "Costs");
    let mut table = Table::new(&[
        ("entry", "entry", Align::Right),
        ("amount", "amount", Align::Right),
        ("to", "to", Align::Left),
        ("for", "for", Align::Left),
    ]);
    for payment in &state.payments {
        table.push(vec![
            Cell::from(usize::try_from(payment.entry.0).ok()),
            Cell::from(payment.amount.clone()),
            Cell::from(payment.to.clone()),
            Cell::from(payment.what.clone()),
        ]);
    }
    let (sums, odd) = paid(state, folder);
    let sums: Vec<String> = sums.iter().map(shown).collect();
    report.headline = Some(if sums.is_empty() {
        "No payment was written down.".to_owned()
    } else {
        format!("Paid: {}.", sums.join(" and "))
    });
    for entry in odd {
        report.findings.push(
            Finding::new(
                "not-counted",
                format!("entry {entry}"),
                "its amount could not be added",
            )
            .next(format!("correct {entry}: paid AMOUNT CURRENCY to …")),
        );
    }
    let unpriced = state
        .orders
        .iter()
        .filter(|order| order.order.price.is_none());
    let unpriced: Vec<String> = unpriced.map(|order| order.order.what.shown()).collect();
    if !unpriced.is_empty() {
        report.findings.push(
            Finding::new("no-price", unpriced.join(", "), "ordered without a price")
                .weight(Weight::Note),
        );
    }
    report.rows = table;
    report
}

fn hours(sittings: &[Sitting]) -> Report {
    let mut report = Report::new(COMMAND, "Hours");
    let mut table = Table::new(&[
        ("who", "who", Align::Left),
        ("from", "from (UTC)", Align::Left),
        ("took", "at least", Align::Right),
        ("entries", "entries", Align::Right),
    ]);
    let mut by_person: BTreeMap<&str, i64> = BTreeMap::new();
    for sitting in sittings {
        *by_person.entry(&sitting.who).or_default() += sitting.minutes();
        table.push(vec![
            Cell::from(sitting.who.clone()),
            Cell::from(when(sitting.from)),
            Cell::from(sitting::shown(sitting.minutes())),
            Cell::from(sitting.entries.len()),
        ]);
    }
    let told: Vec<String> = by_person
        .iter()
        .map(|(who, minutes)| format!("{who} {}", sitting::shown(*minutes)))
        .collect();
    report.headline = Some(if told.is_empty() {
        "No entry tells of any work.".to_owned()
    } else {
        format!("{}.", told.join(", "))
    });
    report.because.push(format!(
        "Entries of one person less than {} minutes apart are one sitting; it counts from its \
         first entry to its last.",
        sitting::GAP_MINUTES
    ));
    report.rows = table;
    report
}

fn remarks(entries: &[Entry]) -> Report {
    let mut report = Report::new(COMMAND, "Remarks");
    let mut table = Table::new(&[
        ("entry", "entry", Align::Right),
        ("when", "when (UTC)", Align::Left),
        ("text", "remark", Align::Left),
    ]);
    for entry in entries {
        if let Act::Noted { about, text } = &entry.act {
            let about = about.as_ref().map(|about| format!("{about}: "));
            table.push(vec![
                Cell::from(usize::try_from(entry.id.0).ok()),
                Cell::from(when(entry.at)),
                Cell::from(format!("{}{text}", about.unwrap_or_default())),
            ]);
        }
    }
    report.headline = Some(match table.rows.len() {
        0 => "No remark was written down.".to_owned(),
        1 => "1 remark.".to_owned(),
        many => format!("{many} remarks."),
    });
    report.rows = table;
    report
}

/// Every photograph that has its file, drawn anew; and those that could not be drawn.
fn photos(folder: &Folder) -> (Vec<Block>, Vec<Finding>) {
    let mut blocks = Vec::new();
    let mut findings = Vec::new();
    for photo in &folder.state.photos {
        let of = photo.of.iter().cloned().chain(photo.note.clone());
        let words: Vec<String> = of.collect();
        let caption = format!("entry {}: {}", photo.entry, words.join(": "));
        let caption = caption.trim_end_matches([':', ' ']).to_owned();
        match on_paper(folder, photo, caption, |_| true) {
            Ok(drawn) => blocks.extend(drawn.map(Block::Photo)),
            Err(fault) => findings.push(
                Finding::new("photo", format!("entry {}", photo.entry), fault.to_string())
                    .next("matchmark check tells which files are missing or damaged"),
            ),
        }
    }
    (blocks, findings)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::folder::Hand;

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
    fn a_job_without_a_book_asked_for_no_reading_and_counts_one_remark() {
        let at = tempfile::tempdir().unwrap();
        let mut folder = Folder::begin(at.path(), None, None).unwrap();
        log(&mut folder, 0, "off head from block: 10 bolts M10x90");
        log(&mut folder, 1, "note gasket burnt between 1 and 2");
        let left_out = not_measured(&folder.state).headline.unwrap();
        assert!(left_out.starts_with("The book has no limit"), "{left_out}");
        let entries = job::effective(&folder.entries).entries;
        assert_eq!(remarks(&entries).headline.as_deref(), Some("1 remark."));
    }

    #[test]
    fn sums_hours_overrides_and_what_is_missing() {
        let at = tempfile::tempdir().unwrap();
        let mut folder = Folder::begin(at.path(), Some(crate::demo::BOOK), None).unwrap();
        log(&mut folder, 0, "read bulkhead-head-flat: 0.02 mm");
        log(&mut folder, 30, "paid 18.50 EUR to counter for plugs");
        log(&mut folder, 60, "paid 100 EUR to counter for gaskets");
        log(&mut folder, 61, "paid 7 USD to counter for a rag");
        log(
            &mut folder,
            62,
            "gate before-opening: no gauge in the house",
        );
        let told = account(&folder, 1_772_452_800_000_000);
        let report = told.report;
        let paid: Vec<(f64, &str)> = report
            .figures
            .iter()
            .filter(|figure| figure.name == "paid")
            .map(|figure| (figure.value, figure.shown.as_str()))
            .collect();
        // 18.50 + 100 by hand; currencies are never added to each other.
        assert_eq!(paid, [(118.5, "118.50 EUR"), (7.0, "7 USD")]);
        assert_eq!(report.figure("hours").map(|it| it.value), Some(62.0 * 60.0));
        assert_eq!(report.figure("overrides").map(|it| it.value), Some(1.0));
        let text = sheet::markdown::write(&told.paper.unwrap(), "photos")
            .unwrap()
            .text;
        assert!(text.contains("no gauge in the house"));
        assert!(text.contains("no reading"));
        assert!(text.contains("invented"));
    }
}
