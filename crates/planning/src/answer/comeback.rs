//! Where a second look pays: what coming back for each thing costs, worst first.

use report::{Align, Cell, Finding, Report, Source, SourceKind, Table, Weight};

use super::{Job, counted, fluid, minutes, time, whose_times};
use crate::comeback::{Comeback, comeback as rank};

/// Chance that one item is forgotten where each is ticked off on a list. From memory:
/// NUREG/CR-1278, table 20-7, gives about 0.001 for short and 0.003 for long lists.
const WITH_LIST: f64 = 0.003;

/// Chance that one item is forgotten without a list. From memory, same table.
const WITHOUT_LIST: f64 = 0.01;

/// How many items a person is asked to look at twice.
const TWICE: usize = 5;

/// Every item by what coming back for it costs. `rates` adds what an omission costs on average.
#[must_use]
pub fn comeback(job: &Job, rates: bool) -> Report {
    let graph = &job.graph;
    let mut report = Report::new(
        "comeback",
        "What it costs to come back, from the finished engine",
    );
    let (rows, never) = rank(graph, &job.standing);
    report.rows = table(job, &rows, rates);
    let worst: Vec<String> = rows
        .iter()
        .take(TWICE)
        .map(|row| graph.item_name(&row.item))
        .collect();
    report.headline = Some(match worst.len() {
        0 => "The book names nothing that can be forgotten.".to_owned(),
        1 => format!("Look twice at {}.", worst[0]),
        many => format!("Look twice at these {many}: {}.", worst.join("; ")),
    });
    if let Some(first) = rows.first() {
        report.figures.push(minutes(
            "worst",
            "the worst costs",
            first.takes,
            !first.untimed.is_empty(),
        ));
        whose_times(&mut report, graph);
        report.because.push("Order: hours there and back with the thing's own work; then how much must be new or filled again.".to_owned());
    }
    for row in rows.iter().take(TWICE) {
        report.findings.push(look_twice(job, row));
    }
    for item in &never {
        let name = graph.item_name(item);
        let says = format!("{name}: nothing in the book gets back to it");
        let next = "look at needs-off and fixed of what covers it";
        report
            .findings
            .push(Finding::new("no-way-back", name, says).next(next));
    }
    if rates {
        report.because.push(format!(
            "On average: chance of leaving one out times its cost; {WITH_LIST} with a list that is ticked off, {WITHOUT_LIST} without."
        ));
        report.cite(Source::new(
            SourceKind::FromMemory,
            "omission per item, about 0.001 to 0.003 with a list ticked off and 0.01 without: A. D. Swain, H. E. Guttmann, NUREG/CR-1278 (1983), table 20-7",
        ));
    }
    report
}

fn table(job: &Job, rows: &[Comeback], rates: bool) -> Table {
    let heading = |word: &'static str| if rates { word } else { "" };
    let mut columns = vec![
        ("item", "item", Align::Left),
        ("kind", "kind", Align::Left),
        ("minutes", "comes to", Align::Right),
        ("new", "new", Align::Right),
        ("fluids", "fluids", Align::Left),
        ("money", "", Align::Left),
        ("one_use", "", Align::Left),
        ("comes_off", "", Align::Left),
        ("cures", "", Align::Right),
        ("checks", "", Align::Left),
        ("gates", "", Align::Left),
        ("proved", "", Align::Left),
    ];
    if rates {
        columns.push(("expected_with_list", heading("listed"), Align::Right));
        columns.push(("expected_without", heading("unlisted"), Align::Right));
    }
    let mut table = Table::new(&columns);
    for row in rows {
        let least = if row.untimed.is_empty() { "" } else { "≥ " };
        let likely = row.takes.likely.in_minutes();
        let words = |ids: &mut dyn Iterator<Item = String>| Cell::List(ids.collect());
        let fluids = row.spend.fluids.iter().map(|(id, _)| id.to_string());
        let money = row.spend.shown();
        let mut cells = vec![
            Cell::from(job.graph.item_name(&row.item)),
            Cell::from(row.item.kind()),
            Cell::Number(likely, format!("{least}{}", time(row.takes.likely))),
            Cell::from(row.spend.one_use.len()),
            Cell::List(fluids.collect()),
            if money.is_empty() {
                Cell::None
            } else {
                Cell::from(money)
            },
            Cell::List(row.spend.one_use.clone()),
            words(&mut row.parts.iter().map(ToString::to_string)),
            row.spend.cures.map_or(Cell::None, |cures| {
                Cell::Number(cures.in_minutes(), time(cures))
            }),
            words(&mut row.checks.iter().map(ToString::to_string)),
            words(&mut row.gates.iter().map(ToString::to_string)),
            Cell::Flag(row.proved()),
        ];
        if rates {
            let share =
                |rate: f64| Cell::Number(likely * rate, format!("{:.1} min", likely * rate));
            cells.push(share(WITH_LIST));
            cells.push(share(WITHOUT_LIST));
        }
        table.push(cells);
    }
    table
}

fn look_twice(job: &Job, row: &Comeback) -> Finding {
    let mut says = vec![time(row.takes.likely)];
    match row.spend.one_use.len() {
        0 => {}
        new => says.push(format!("{} to be new", counted(new, "thing"))),
    }
    if !row.spend.money.is_empty() {
        says.push(row.spend.shown());
    }
    says.extend(
        row.spend
            .fluids
            .iter()
            .map(|(id, volume)| fluid(&job.graph, id, *volume)),
    );
    if let Some(cures) = row.spend.cures {
        says.push(format!("sealant cures {}", time(cures)));
    }
    Finding::new(
        "look-twice",
        job.graph.item_name(&row.item),
        says.join(", "),
    )
    .weight(Weight::Note)
}
