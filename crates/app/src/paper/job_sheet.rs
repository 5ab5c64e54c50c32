//! Job sheets: the acts of the day with a box each, what to lay out, what to set, care at the
//! act, and what it is about to cover. One sheet for each of the people at work.

mod shift;

use report::{Cell, Finding, Report, Row, Weight};
use sheet::paper::{self, Block, Paper, Reading, Shown, Tick};

use self::shift::Shift;
use super::{What, Wish, nothing, refused, text};
use crate::hand::{Act, Acts, Asked, Stretch, acts};

/// Acts on a sheet where nobody wrote down how long the people are there.
const WITHOUT_HOURS: usize = 12;

/// Settings at one act; a joint with more has its tightening sheet for them.
const MOST_SETTINGS: usize = 6;

/// Lines of what one act covers.
const MOST_COVERED: usize = 6;

/// A sheet for each of the people who are there next, or who were named.
pub(super) fn of(wish: &Wish<'_>) -> Result<Vec<Paper>, Box<Finding>> {
    let shift = Shift::of(wish);
    let asked = Asked {
        targets: wish.targets.clone(),
        people: shift.people.iter().map(|one| one.id.clone()).collect(),
        now_micros: wish.now_micros,
        ..Asked::default()
    };
    let stretch = shift
        .hours
        .map_or(Stretch::Rounds(WITHOUT_HOURS), Stretch::Time);
    let told = acts(wish.folder, &asked, &|who| shift.pace(who), stretch);
    let told = told.map_err(|report| match report.findings.is_empty() {
        true => nothing(
            What::JobSheet,
            report.headline.as_deref().unwrap_or_default(),
            "name what is to be got at: --for PART",
        ),
        false => refused(What::JobSheet, &report),
    })?;
    if told.acts.is_empty() {
        let says = if told.left == 0 {
            "nothing is left to do"
        } else {
            "nothing can be begun: each step waits for another"
        };
        let next = "matchmark outstanding lists what is not as it should be";
        return Err(nothing(What::JobSheet, says, next));
    }
    let mut people: Vec<&str> = Vec::new();
    for act in &told.acts {
        if !people.contains(&act.who.as_str()) {
            people.push(&act.who);
        }
    }
    let alone = people.len() == 1;
    let sheets = people
        .iter()
        .map(|who| sheet(wish, &shift, &told, who, alone));
    Ok(sheets.collect())
}

fn sheet(wish: &Wish<'_>, shift: &Shift, told: &Acts, who: &str, alone: bool) -> Paper {
    let own: Vec<&Act> = told.acts.iter().filter(|act| act.who == who).collect();
    let mut blocks = vec![Block::Words(summary(shift, told, own.len()))];
    if !alone {
        blocks.push(Block::Words(
            "What has the same number on both sheets is done at the same time; nobody begins the \
             next number before everybody has ended this one."
                .to_owned(),
        ));
    }
    let things = lay_out(wish, &own);
    if !things.is_empty() {
        blocks.push(Block::Heading(1, "Lay out".to_owned()));
        blocks.push(Block::Boxes(things));
    }
    blocks.push(Block::Heading(1, "Acts".to_owned()));
    let acts = own.iter().map(|act| written(wish, shift, act)).collect();
    blocks.push(Block::Acts(acts));
    blocks.push(Block::Write(
        "What was different, and where it was left:".to_owned(),
        3,
    ));
    let mut title = format!("Work of {}", shift.day());
    if !alone {
        title = format!("{title}: {}", shift.label(who));
    }
    let mut paper = wish.pages(What::JobSheet, title, Reading::Fender, blocks);
    if !alone {
        paper.name = format!("{}-{}", What::JobSheet.word(), file_word(who));
    }
    paper
}

/// A name as it can stand in the name of a file.
fn file_word(who: &str) -> String {
    let letter = |sign: char| if sign.is_alphanumeric() { sign } else { '-' };
    who.to_lowercase().chars().map(letter).collect()
}

fn summary(shift: &Shift, told: &Acts, own: usize) -> String {
    let mut words = Vec::new();
    let s = if own == 1 { "" } else { "s" };
    words.push(format!("{own} act{s} of {} steps that are left", told.left));
    let minutes = told.takes.in_minutes().round();
    if minutes > 0.0 {
        // A day of work is far below the largest whole number of a float.
        let takes = crate::sitting::shown(minutes as i64);
        words.push(format!("about {takes}"));
    }
    words.push(match shift.hours {
        Some(hours) => {
            let hours = crate::sitting::shown(hours.in_minutes().round() as i64);
            format!("{hours} there")
        }
        None => "nobody wrote down for how long you are there".to_owned(),
    });
    words.join(" · ")
}

/// Tools first, each once, then parts, bags and fluids in the order they are needed.
fn lay_out(wish: &Wish<'_>, acts: &[&Act]) -> Vec<Tick> {
    let mut sockets: Vec<String> = Vec::new();
    let mut wrenches: Vec<String> = Vec::new();
    let mut things: Vec<String> = Vec::new();
    for act in acts {
        for tool in tools(act) {
            let (list, word) = match wrench(wish, &tool) {
                Some((label, None)) => (&mut wrenches, label),
                Some((label, Some(range))) => (&mut wrenches, format!("{label}, {range}")),
                None => (&mut sockets, tool),
            };
            if !list.contains(&word) {
                list.push(word);
            }
        }
        for thing in list(&act.report, "lay_out") {
            if !things.contains(&thing) {
                things.push(thing);
            }
        }
    }
    let tools = (!sockets.is_empty()).then(|| sockets.join(", "));
    let all = tools.into_iter().chain(wrenches).chain(things);
    all.map(Tick::new).collect()
}

/// What an act is done with, and what its stages are pulled with.
fn tools(act: &Act) -> Vec<String> {
    let mut tools: Vec<String> = first(&act.report, "tool")
        .split(", ")
        .filter(|tool| !tool.is_empty())
        .map(str::to_owned)
        .collect();
    for (sheet, row) in left(act) {
        let tool = text(sheet, row, "wrench");
        if !tool.is_empty() && !tools.contains(&tool) {
            tools.push(tool);
        }
    }
    tools
}

/// What a reader calls a tool.
fn tool_word(wish: &Wish<'_>, tool: &str) -> String {
    wrench(wish, tool).map_or_else(|| tool.to_owned(), |(label, _)| label)
}

/// A wrench of the shop by the word a sheet has for it, with what its scale covers.
fn wrench(wish: &Wish<'_>, tool: &str) -> Option<(String, Option<String>)> {
    let shop = wish.folder.shop.as_ref()?;
    let one = shop.wrenches.iter().find(|one| one.id.as_str() == tool)?;
    let label = one.label.clone();
    Some((
        label.unwrap_or_else(|| format!("{tool} wrench")),
        one.range.typed().map(str::to_owned),
    ))
}

/// The stages a joint still gets, each with the sheet it stands on.
fn left(act: &Act) -> impl Iterator<Item = (&Report, &Row)> {
    act.pulls.iter().flat_map(|sheet| {
        let rows = sheet.rows.rows.iter();
        rows.filter(move |row| {
            let of = text(sheet, row, "of");
            text(sheet, row, "done") != format!("{of} of {of}")
        })
        .map(move |row| (sheet, row))
    })
}

fn written(wish: &Wish<'_>, shift: &Shift, act: &Act) -> paper::Act {
    let report = &act.report;
    let mut with: Vec<String> = Vec::new();
    with.extend(tools(act).iter().map(|tool| tool_word(wish, tool)));
    with.extend(report.figure("minutes").map(|takes| {
        let pace = shift.pace(&act.who);
        let whole = takes.value * pace;
        crate::sitting::shown(whole.round() as i64)
    }));
    let hands = first(report, "hands");
    if hands != "1" && !hands.is_empty() {
        with.push(format!("{hands} people"));
    }
    with.extend(list(report, "lay_out"));
    let all: Vec<(&Report, &Row)> = left(act).collect();
    let mut figures: Vec<Shown> = all
        .iter()
        .take(MOST_SETTINGS)
        .map(|(sheet, row)| setting(wish, sheet, row))
        .collect();
    if all.len() > figures.len() {
        let more = all.len() - figures.len();
        figures.push(Shown::new(
            "and more",
            format!("{more} on the tightening sheet"),
        ));
    }
    let mut noticed: Vec<Finding> = Vec::new();
    let mut cautions = report.cautions.clone();
    if let Some(sheet) = &act.pulls {
        let stops = sheet.findings.iter();
        noticed.extend(stops.filter(|it| it.weight == Weight::Stop).cloned());
        for caution in &sheet.cautions {
            // That the book is invented stands at the head of every page.
            if !cautions.contains(caution) && caution.act != "this book" {
                cautions.push(caution.clone());
            }
        }
    }
    let zone = first(report, "zone");
    paper::Act {
        number: (act.round + 1).to_string(),
        says: report.title.clone(),
        place: (!zone.is_empty()).then(|| zone_word(wish, &zone)),
        with,
        why: Some(first(report, "why")).filter(|why| !why.is_empty()),
        figures,
        cautions,
        noticed,
        last_chance: covered(report),
        done: false,
    }
}

/// What a reader calls a place.
fn zone_word(wish: &Wish<'_>, zone: &str) -> String {
    let zones = wish.folder.state.known.zones.iter();
    let label = zones
        .filter(|one| one.id.as_str() == zone)
        .find_map(|one| one.label.clone());
    label.unwrap_or_else(|| zone.to_owned())
}

/// One stage: what is set on the wrench, in the wrench's own unit.
fn setting(wish: &Wish<'_>, sheet: &Report, row: &Row) -> Shown {
    let word = |key: &str| text(sheet, row, key);
    let (set, figure) = (word("setting"), word("figure"));
    let mut label = format!("stage {}", word("stage"));
    if shows(sheet, "round") {
        label = format!("{label}, round {}", word("round"));
    }
    if shows(sheet, "holes") {
        label = format!("{label}, holes {}", word("holes"));
    }
    let mut notes: Vec<String> = Vec::new();
    let wrench = Some(word("wrench")).filter(|wrench| !wrench.is_empty());
    notes.extend(wrench.map(|wrench| tool_word(wish, &wrench)));
    notes.push(format!("threads {}", word("condition")));
    if !set.is_empty() && set != figure {
        notes.push(format!("book {figure}"));
    }
    Shown {
        note: Some(notes.join(", ")),
        ..Shown::new(label, if set.is_empty() { figure } else { set })
    }
}

/// Whether a column is for people.
fn shows(report: &Report, key: &str) -> bool {
    let mut columns = report.rows.columns.iter();
    columns.any(|column| column.key == key && !column.heading.is_empty())
}

/// What the act covers, the dearest first; more lines than these nobody reads.
fn covered(report: &Report) -> Vec<String> {
    let mut lines: Vec<String> = report.findings.iter().filter_map(last_chance).collect();
    if lines.len() > MOST_COVERED {
        let more = lines.split_off(MOST_COVERED).len();
        lines.push(format!(
            "and {more} more that cost less: matchmark last-chance lists them"
        ));
    }
    lines
}

/// What the act covers: the thing, what is missing, and what coming back for it costs.
fn last_chance(finding: &Finding) -> Option<String> {
    (finding.code == "last-chance").then(|| {
        let says = finding.says.as_str();
        let says = says.strip_prefix("before it goes on: ").unwrap_or(says);
        match &finding.points_to {
            Some(cost) => format!("{says} · {cost}"),
            None => says.to_owned(),
        }
    })
}

/// The words of a cell of the only row.
fn first(report: &Report, key: &str) -> String {
    report
        .rows
        .rows
        .first()
        .map_or_else(String::new, |row| text(report, row, key))
}

/// The list in a cell of the only row.
fn list(report: &Report, key: &str) -> Vec<String> {
    let row = report.rows.rows.first();
    match row.and_then(|row| report.rows.cell(row, key)) {
        Some(Cell::List(words)) => words.clone(),
        _ => Vec::new(),
    }
}
