//! The lead map: which tower fires which cylinder, from the firing order.

use book::{Book, Line, LineKind, Medium};
use report::{Align, Ask, Caution, Cell, Finding, Report, Table, Weight};

use crate::graph::Graph;

/// The cylinder a lead belongs to: the number at the end of its plug's port, else of its name.
pub(super) fn cylinder(line: &Line) -> Option<u32> {
    let number = |name: &str| {
        let digits = name.len()
            - name
                .trim_end_matches(|letter: char| letter.is_ascii_digit())
                .len();
        name[name.len() - digits..].parse().ok()
    };
    number(line.ends[1].port.id.port.as_str()).or_else(|| number(line.id.as_str()))
}

/// Whether two leads hang on one coil that fires both ends at once: a pack of coils with a
/// tower for each cylinder, and cylinders half the firing order apart.
pub(super) fn share_a_coil(book: &Book, one: &Line, other: &Line) -> bool {
    let Some(engine) = book.engine.as_ref() else {
        return false;
    };
    let pack = &one.ends[0].port.id.part;
    let coil = book.part(pack).is_some_and(|part| {
        let label = part.label.as_deref().unwrap_or_default().to_lowercase();
        part.id.as_str().contains("coil") || label.contains("coil")
    });
    let order = &engine.firing_order;
    let place = |line: &Line| {
        order
            .iter()
            .position(|&number| Some(number) == cylinder(line))
    };
    let (Some(here), Some(there)) = (place(one), place(other)) else {
        return false;
    };
    coil && *pack == other.ends[0].port.id.part
        && order.len() % 2 == 0
        && here.abs_diff(there) * 2 == order.len()
}

/// The lead map of a job: each cylinder in firing order with its lead, tower, crank angle and
/// the partner on its coil; and what each offset by one tower would come to.
#[must_use]
pub fn lead_map(graph: &Graph) -> Report {
    let book = graph.book();
    let mut report = Report::new("leads", "Lead map");
    let order = book
        .engine
        .as_ref()
        .map(|engine| engine.firing_order.clone())
        .unwrap_or_default();
    if order.is_empty() {
        let finding = Finding::new("no-firing-order", "engine", "the book has no firing order")
            .next(
                "write `firing-order 1 3 4 2` at the engine, from the maker's book or the casting",
            );
        return Report::refusal("leads", "Lead map", finding);
    }
    let ignition = |line: &&Line| {
        let medium = line.medium.known();
        line.kind == LineKind::Lead && medium.is_none_or(|medium| *medium == Medium::Ignition)
    };
    let leads: Vec<&Line> = book.lines.iter().filter(ignition).collect();
    report.rows = table(book, &order, &leads);
    let words: Vec<String> = order.iter().map(ToString::to_string).collect();
    report.headline = Some(format!("Firing order {}.", words.join(" ")));
    sort_of_coils(&mut report, &leads, order.len());
    report.because.push("Angles are even spacing over the cycle; an engine whose banks do not fire evenly keeps the order and not the angles.".to_owned());
    report.cautions.push(Caution::new(
        "looking for spark",
        "ignition off and battery disconnected while leads are moved; the secondary side can kill.",
    ));
    report
}

/// A row a cylinder, in firing order.
fn table(book: &Book, order: &[u32], leads: &[&Line]) -> Table {
    let strokes = book
        .engine
        .as_ref()
        .and_then(|engine| engine.strokes.known());
    let cycle = if strokes == Some(&2) { 360.0 } else { 720.0 };
    let shared = leads.iter().any(|lead| {
        let mut others = leads.iter().filter(|other| other.id != lead.id);
        others.any(|other| share_a_coil(book, lead, other))
    });
    // Only a distributor has a rotor, and only a pack of coils has pairs.
    let has_rotor = !leads.is_empty() && !shared;
    let mut table = Table::new(&[
        ("cylinder", "cylinder", Align::Right),
        ("lead", "lead", Align::Left),
        (
            "tower",
            if leads.is_empty() { "" } else { "on" },
            Align::Left,
        ),
        ("crank", "crank", Align::Right),
        (
            "rotor",
            if has_rotor { "distributor" } else { "" },
            Align::Right,
        ),
        (
            "pair",
            if shared { "same coil as" } else { "" },
            Align::Right,
        ),
    ]);
    for (place, number) in order.iter().enumerate() {
        let lead = leads.iter().find(|line| cylinder(line) == Some(*number));
        let partner = lead.and_then(|lead| {
            let mut others = leads.iter().filter(|other| other.id != lead.id);
            others
                .find(|other| share_a_coil(book, lead, other))
                .and_then(|other| cylinder(other))
        });
        let crank = cycle * place as f64 / order.len() as f64;
        table.push(vec![
            Cell::Number(f64::from(*number), number.to_string()),
            lead.map(|lead| lead.id.to_string()).into(),
            lead.map(|lead| lead.ends[0].port.id.to_string()).into(),
            degrees(crank),
            degrees(crank / 2.0),
            partner.map_or(Cell::None, |partner| {
                Cell::Number(f64::from(partner), partner.to_string())
            }),
        ]);
    }
    table
}

fn degrees(angle: f64) -> Cell {
    let tenths = (angle * 10.0).round() / 10.0;
    Cell::Number(angle.to_radians(), format!("{tenths}°"))
}

/// What sort of coils the engine has decides what can be crossed.
fn sort_of_coils(report: &mut Report, leads: &[&Line], cylinders: usize) {
    if leads.is_empty() {
        report.findings.push(Finding::new("no-leads", "", "the book has no leads: coils sit on the plugs. Units alike are no mix-up, their loom plugs are; exchanging units moves the evidence of a misfire").weight(Weight::Note));
    }
    if report.rows.rows.iter().any(|row| row[5] != Cell::None) {
        report.findings.push(Finding::new("shared-coil", "", "exchanging the two leads of one coil is harmless: both ends fire at the same moment").weight(Weight::Note));
        report.asks.push(Ask::new("how the pack pairs its towers", "pairs are taken as half the firing order apart, as packs with two ends a coil have them", "look at the numbers on the pack, or measure: the two towers of one coil have some kΩ between them"));
    } else if !leads.is_empty() {
        offsets(report, cylinders);
    }
}

/// What each offset of the whole set by one tower comes to. "180 out" means both of two things.
fn offsets(report: &mut Report, count: usize) {
    let tower = 360.0 / count as f64;
    let words: Vec<String> = (1..count)
        .map(|towers| {
            format!(
                "{towers}: {:.0}° at the distributor, {:.0}° at the crank",
                tower * towers as f64,
                2.0 * tower * towers as f64
            )
        })
        .collect();
    report.findings.push(
        Finding::new("offsets", "all leads so many towers out", words.join("; "))
            .next("with cylinder 1 at the top of compression, both valves shut: matchmark leads --firing-order … --rotor-at LEAD --turns WAY --on-compression")
            .weight(Weight::Note),
    );
}
