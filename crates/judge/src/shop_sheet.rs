//! The sheet that goes to the machine shop with a head or block, and what is measured when it
//! comes back: what to ask for, in the order in which an answer can make the rest needless.

use calc::decision::DecisionError;
use quantity::{Length, NotFinite, Quantity, Unit, show};
use report::{Align, Ask, Caution, Cell, Figure, Finding, Report, Source, Table, Verdict, Weight};
use thiserror::Error;

use crate::limit::Limit;
use crate::reading::Standing;

/// What goes out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Part {
    /// A head.
    #[default]
    Head,
    /// A block.
    Block,
}

/// The question.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// What goes out.
    pub part: Part,
    /// Cams run in bores of this head.
    pub overhead_cam: bool,
    /// Flatness as measured here.
    pub flatness: Option<Length>,
    /// The limit for it.
    pub limit: Option<Limit<Length>>,
    /// Thickness at the corners before it goes out.
    pub before: Vec<Option<Length>>,
    /// Thickness at the corners when it is back, in the same order.
    pub after: Vec<Option<Length>>,
    /// The least thickness allowed.
    pub least: Option<Length>,
    /// The unit to show.
    pub unit: Unit,
    /// What a job's record and book say of the part beside flatness and thickness.
    pub job: Vec<FromJob>,
}

/// One limit of the book with the readings of the job.
#[derive(Clone, Debug, PartialEq)]
pub struct FromJob {
    /// What is measured.
    pub what: String,
    /// The readings as typed, first to last.
    pub readings: Vec<String>,
    /// The limit in words.
    pub limit: String,
    /// How the last reading stands, where the book has a number.
    pub standing: Option<Standing>,
}

#[derive(Clone, Debug, PartialEq, Error)]
enum Unanswerable {
    #[error(transparent)]
    NotFinite(#[from] NotFinite),
    #[error(transparent)]
    Decision(#[from] DecisionError),
    #[error("{before} corners were measured before and {after} after")]
    Corners { before: usize, after: usize },
}

const TITLE: &str = "For the machine shop";

/// Writes the sheet.
#[must_use]
pub fn sheet(asked: &Asked) -> Report {
    answer(asked).unwrap_or_else(|fault| {
        let finding = Finding::new("shop-sheet", "", fault.to_string())
            .next("give the same corners in the same order, `-` where one was not measured");
        Report::refusal("shop-sheet", TITLE, finding)
    })
}

fn answer(asked: &Asked) -> Result<Report, Unanswerable> {
    let mut report = Report::new("shop-sheet", TITLE);
    report.rows = orders(asked);
    report.headline = Some(match asked.part {
        Part::Head => {
            "Crack and pressure test first: if it fails, nothing below is paid for.".to_owned()
        }
        Part::Block => "Crack test first: if it fails, nothing below is paid for.".to_owned(),
    });
    if asked.before.iter().flatten().next().is_none() {
        report.asks.push(Ask::new(
            "thickness at four corners, before",
            "without it nobody can say afterwards what was taken off, and where.",
            "Measure drive end left and right, flywheel end left and right; give --before.",
        ));
    }
    of_the_job(&mut report, asked);
    returned(&mut report, asked)?;
    if asked.part == Part::Head {
        report.cautions.push(Caution::new(
            "before the head is bolted down with one-use bolts",
            "fit every follower and turn every cam by hand with the head on the bench: a bore that was machined tight is found then, or with a second set of bolts and gasket.",
        ));
    }
    report.cite(Source::common_practice(
        "order of machine work on a head; straighten before facing above 0.003 in",
    ));
    Ok(report)
}

/// One thing to ask for.
struct Order {
    what: &'static str,
    /// The limit as asked for; the face takes the one that was given.
    limit: &'static str,
    question: &'static str,
    /// The flatness found here belongs beside it.
    face: bool,
    /// Only where cams run in the head.
    overhead_cam: bool,
}

const fn order(what: &'static str, limit: &'static str, question: &'static str) -> Order {
    Order {
        what,
        limit,
        question,
        face: false,
        overhead_cam: false,
    }
}

/// Common practice: what can end the matter first, what moves other faces before them.
const HEAD: &[Order] = &[
    order(
        "clean; crack test and pressure test, hot",
        "none found",
        "Where exactly, and is it worth mending? Stop here and call if it fails.",
    ),
    Order {
        face: true,
        overhead_cam: true,
        ..order(
            "straighten, then check the line of the cam bores",
            "cam turns by hand",
            "How straight were the bores before and after? Facing alone leaves them bent.",
        )
    },
    order(
        "valves: straight, margin, stem; grind or replace",
        "maker's margin",
        "Which were replaced? Keep each with its place.",
    ),
    order(
        "guides: measure, ream or replace",
        "maker's",
        "What clearance is in each, inlet and exhaust?",
    ),
    order(
        "seats: cut, width and place of contact, vacuum test",
        "maker's width",
        "How far did each valve sink? Springs are shimmed and shims chosen after that.",
    ),
    order(
        "stem seals, springs: installed height and load",
        "maker's",
        "Height and load of each?",
    ),
    Order {
        face: true,
        ..order(
            "gasket face: as little as makes it flat, parallel",
            "maker's, to be looked up",
            "How much came off, at which corner? What roughness, in which unit?",
        )
    },
];

const BLOCK: &[Order] = &[
    order(
        "clean; crack test",
        "none found",
        "Where exactly, and is it worth mending? Stop here and call if it fails.",
    ),
    Order {
        face: true,
        ..order(
            "deck: flat, liners' height",
            "maker's, to be looked up",
            "How much came off, and how high does each liner stand?",
        )
    },
    order(
        "bores: size, out-of-round, taper, finish",
        "maker's",
        "Two-point or three-point gauge? Honed with a plate?",
    ),
    order(
        "main bores in line",
        "maker's",
        "Measured with caps on, at what torque?",
    ),
    order(
        "core and gallery plugs: count and kind",
        "as many as came out",
        "Which were replaced, and is each gallery open?",
    ),
];

const LAST: Order = order(
    "wash, oil, wrap",
    "no grit in any hole",
    "When can it be fetched if all is well, and when if it needs more?",
);

/// One row an order: what, the number from here, the limit, the question to ask.
fn orders(asked: &Asked) -> Table {
    let mut table = Table::new(&[
        ("order", "", Align::Right),
        ("ask_for", "ask for", Align::Left),
        ("found", "found here", Align::Left),
        ("limit", "limit", Align::Left),
        ("question", "and ask", Align::Left),
    ]);
    let found = asked
        .flatness
        .map_or_else(|| "not measured".to_owned(), |flat| show(flat, &asked.unit));
    let orders = match asked.part {
        Part::Head => HEAD,
        Part::Block => BLOCK,
    };
    let wanted = orders
        .iter()
        .filter(|order| asked.overhead_cam || !order.overhead_cam)
        .chain([&LAST]);
    for (at, order) in wanted.enumerate() {
        let limit = match &asked.limit {
            Some(limit) if order.face && !order.overhead_cam => limit.words(&asked.unit),
            _ => order.limit.to_owned(),
        };
        let found = if order.face {
            Cell::from(found.clone())
        } else {
            Cell::None
        };
        table.push(vec![
            Cell::from(at + 1),
            Cell::from(order.what),
            found,
            Cell::from(limit),
            Cell::from(order.question),
        ]);
    }
    for held in &asked.job {
        table.push(vec![
            Cell::None,
            Cell::from(held.what.clone()),
            Cell::from(match held.readings[..] {
                [] => "not measured".to_owned(),
                _ => held.readings.join(", then "),
            }),
            Cell::from(held.limit.clone()),
            Cell::from("What is it when it comes back?"),
        ]);
    }
    table
}

/// What the readings of the job leave open or show to be outside: the shop must hear of both.
fn of_the_job(report: &mut Report, asked: &Asked) {
    for held in &asked.job {
        let finding = match &held.standing {
            None => continue,
            Some(Standing::NotMeasured) => {
                Finding::new("not-measured", held.what.clone(), "there is no reading yet")
                    .next("measure it before the part goes out, or have the shop do it")
            }
            Some(Standing::Unreadable(why)) => {
                Finding::new("unreadable", held.what.clone(), why.clone())
                    .next("correct the entry, with numbers and a unit")
            }
            Some(Standing::Judged(seen)) => match seen.verdict {
                Verdict::Within => continue,
                Verdict::Undecided | Verdict::NotMeasured => {
                    Finding::new("undecided", held.what.clone(), seen.says.clone()).next(
                        seen.settle
                            .clone()
                            .unwrap_or_else(|| "measure again, finer".to_owned()),
                    )
                }
                Verdict::Outside | Verdict::Open | Verdict::Closed => {
                    Finding::new("outside", held.what.clone(), seen.says.clone())
                        .next("the shop must put this right; ask how much it takes off")
                }
            },
        };
        report.findings.push(finding);
    }
}

/// What a reader calls a place of the list: the four corners by the engine's ends.
fn corner(at: usize, of: usize) -> String {
    const CORNERS: [&str; 4] = [
        "drive end, left",
        "drive end, right",
        "flywheel end, left",
        "flywheel end, right",
    ];
    match CORNERS.get(at) {
        Some(name) if of == CORNERS.len() => (*name).to_owned(),
        _ => format!("corner {}", at + 1),
    }
}

/// What came off at each corner, and whether it came off evenly.
fn returned(report: &mut Report, asked: &Asked) -> Result<(), Unanswerable> {
    if asked.after.is_empty() {
        return Ok(());
    }
    if asked.before.len() != asked.after.len() {
        return Err(Unanswerable::Corners {
            before: asked.before.len(),
            after: asked.after.len(),
        });
    }
    let mut off: Vec<f64> = Vec::new();
    for (at, (before, after)) in asked.before.iter().zip(&asked.after).enumerate() {
        let (Some(before), Some(after)) = (before, after) else {
            report.findings.push(
                Finding::new(
                    "not-measured",
                    corner(at, asked.after.len()),
                    "not measured on both sides of the work",
                )
                .next("measure it now; the sheet cannot be closed without it"),
            );
            continue;
        };
        let taken = *before - *after;
        off.push(taken.si());
        report.findings.push(
            Finding::new(
                "came-off",
                corner(at, asked.after.len()),
                format!("{} came off", show(taken, &asked.unit)),
            )
            .weight(Weight::Note),
        );
    }
    evenness(report, &off, &asked.unit)?;
    thickness(report, asked);
    Ok(())
}

/// Whether as much came off everywhere.
fn evenness(report: &mut Report, off: &[f64], unit: &Unit) -> Result<(), Unanswerable> {
    if off.is_empty() {
        return Ok(());
    }
    let high = Length::from_si(off.iter().copied().fold(f64::NEG_INFINITY, f64::max))?;
    let low = Length::from_si(off.iter().copied().fold(f64::INFINITY, f64::min))?;
    let uneven = high - low;
    report.figures.push(Figure::new(
        "came_off",
        "most that came off",
        high,
        show(high, unit),
    ));
    report.figures.push(Figure::new(
        "uneven",
        "corners differ by",
        uneven,
        show(uneven, unit),
    ));
    if uneven > Length::inches(0.001)? {
        report.findings.push(
            Finding::new(
                "tapered",
                "",
                format!(
                    "{} more came off at one corner than at another",
                    show(uneven, unit)
                ),
            )
            .points_to("a wedge: chambers, cam height and belt run differ along the head")
            .next("take it back before anything is built on it; `matchmark cut` says what it does")
            .weight(Weight::Stop),
        );
    }
    if low.si() < 0.0 {
        report.findings.push(
            Finding::new("grew", "", "a corner is thicker than before")
                .next("measure again, on the same bosses")
                .weight(Weight::Stop),
        );
    }
    Ok(())
}

/// The thinnest corner against the least thickness.
fn thickness(report: &mut Report, asked: &Asked) {
    let Some(least) = asked.least else {
        report.asks.push(Ask::new(
            "least thickness",
            "a head below it is scrap whatever else is right.",
            "Look it up in the maker's book; give --least.",
        ));
        return;
    };
    for (at, after) in asked.after.iter().enumerate() {
        if let Some(after) = after.filter(|after| *after < least) {
            report.findings.push(
                Finding::new(
                    "too-thin",
                    corner(at, asked.after.len()),
                    format!(
                        "{} is below the least of {}",
                        show(after, &asked.unit),
                        show(least, &asked.unit)
                    ),
                )
                .next("do not fit it; ask the shop and the maker")
                .weight(Weight::Stop),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use quantity::unit::MILLIMETRE;

    use super::*;

    fn corners(values: &[f64]) -> Vec<Option<Length>> {
        values
            .iter()
            .map(|&value| Some(Length::mm(value).unwrap()))
            .collect()
    }

    fn head(before: &[f64], after: &[f64]) -> Asked {
        Asked {
            part: Part::Head,
            overhead_cam: true,
            flatness: Some(Length::mm(0.09).unwrap()),
            limit: None,
            before: corners(before),
            after: corners(after),
            least: Some(Length::mm(127.8).unwrap()),
            unit: MILLIMETRE,
            job: Vec::new(),
        }
    }

    #[test]
    fn crack_test_comes_first_and_straightening_before_facing() {
        let report = sheet(&head(&[128.0; 4], &[]));
        let what = |row: usize| match &report.rows.rows[row][1] {
            Cell::Text(text) => text.clone(),
            other => panic!("{other:?}"),
        };
        assert!(what(0).contains("crack"));
        let place = |word: &str| {
            (0..report.rows.rows.len())
                .position(|row| what(row).contains(word))
                .unwrap()
        };
        assert!(place("straighten") < place("valves"));
        assert!(place("valves") < place("guides") && place("guides") < place("seats"));
        assert!(place("seats") < place("gasket face"));
        assert!(report.cautions[0].says.contains("follower"));
    }

    #[test]
    fn one_end_cut_deeper_is_said_and_too_thin_is_said() {
        let report = sheet(&head(
            &[128.0, 128.0, 128.0, 128.0],
            &[127.9, 127.9, 127.7, 127.7],
        ));
        assert!(report.finds("tapered"));
        assert!(report.finds("too-thin"));
        assert!((report.figure("uneven").unwrap().value * 1000.0 - 0.2).abs() < 1e-9);
        assert_eq!(report.exit_status(), 1);
        assert!(!sheet(&head(&[128.0; 4], &[127.9; 4])).finds("tapered"));
    }

    #[test]
    fn what_the_job_measured_stands_on_the_sheet_with_what_is_still_open() {
        let mut asked = head(&[128.0; 4], &[]);
        let held = |what: &str, readings: &[&str], standing| FromJob {
            what: what.to_owned(),
            readings: readings.iter().map(|&one| one.to_owned()).collect(),
            limit: "at most 0.05 mm".to_owned(),
            standing: Some(standing),
        };
        asked.job = vec![
            held("line of the cam bores", &[], Standing::NotMeasured),
            held(
                "guide, inlet",
                &["0.09 mm", "0.04 mm"],
                Standing::Judged(crate::reading::Held {
                    verdict: Verdict::Within,
                    says: String::new(),
                    settle: None,
                }),
            ),
        ];
        let report = sheet(&asked);
        let rows = &report.rows.rows;
        let last = &rows[rows.len() - 1];
        assert_eq!(last[2], Cell::from("0.09 mm, then 0.04 mm"));
        assert_eq!(rows[rows.len() - 2][2], Cell::from("not measured"));
        let open: Vec<&str> = report.findings.iter().map(|it| it.code).collect();
        assert_eq!(open, ["not-measured"]);
    }

    #[test]
    fn corners_that_do_not_match_are_refused_and_missing_ones_asked_for() {
        assert_eq!(sheet(&head(&[128.0; 4], &[127.9; 3])).exit_status(), 2);
        let report = sheet(&head(&[], &[]));
        assert!(report.asks.iter().any(|ask| ask.what.contains("before")));
    }
}
