//! The drawings of ends: a row a line, gathered by what runs in it, loose ends apart from their
//! ports, and a ring letter at both ends of every pair that could change places with damage.

use std::collections::BTreeMap;

use book::{CrossingGrade, Line, LineId, Medium};
use job::State;
use report::{Board, BoardEnd, BoardGroup, BoardRow, Picture, Stroke};

use super::map::{end_name, is_off, medium_of, tag};
use super::{How, Mixup, find};
use crate::answer::Job;

/// As many rows fit a sheet of A4 and can still be read.
const ROWS: usize = 24;

/// Letters for pairs; what comes behind them is told in words.
const LETTERS: &str = "abcdefghijklmnopqrstuvwxyz";

/// What is drawn together: a title, and the media in their order.
const SHEETS: [(&str, &[Medium]); 3] = [
    (
        "Liquids: what joins what",
        &[
            Medium::Coolant,
            Medium::Oil,
            Medium::Fuel,
            Medium::Hydraulic,
            Medium::GearOil,
            Medium::Refrigerant,
        ],
    ),
    (
        "Air, vacuum and vapour: what joins what",
        &[
            Medium::Vacuum,
            Medium::Crankcase,
            Medium::Purge,
            Medium::Air,
            Medium::Exhaust,
        ],
    ),
    (
        "Wires and leads: what joins what",
        &[
            Medium::Ignition,
            Medium::Signal,
            Medium::Power,
            Medium::Ground,
        ],
    ),
];

/// The pairs under suspicion, each with its letter and its words; and the letters of each end.
#[derive(Default)]
struct Rings {
    notes: BTreeMap<String, String>,
    ends: BTreeMap<(LineId, usize), Vec<String>>,
    left_out: usize,
}

impl Rings {
    fn of(found: &[Mixup]) -> Self {
        let suspected = found.iter().filter(|mixup| {
            mixup.secured.is_none()
                && mixup.does.grade >= CrossingGrade::Damage
                && !mixup.ends.is_empty()
                && matches!(mixup.how, How::Swap | How::Takes)
        });
        let mut rings = Self::default();
        let mut letters = LETTERS.chars();
        for mixup in suspected {
            let Some(letter) = letters.next() else {
                rings.left_out += 1;
                continue;
            };
            let more = match mixup.others.len() {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
            let note = format!(
                "{letter}  {}: {} with {}{more}",
                mixup.does.grade.word(),
                mixup.a,
                mixup.b
            );
            rings.notes.insert(letter.to_string(), note);
            for end in &mixup.ends {
                rings
                    .ends
                    .entry(end.clone())
                    .or_default()
                    .push(letter.to_string());
            }
        }
        rings
    }
}

/// The drawings, none with more rows than can be read.
pub(super) fn boards(job: &Job, state: &State) -> Vec<Picture> {
    let book = job.graph.book();
    let rings = Rings::of(&find(&job.graph, state).found);
    let mut rest: Vec<&Line> = book.lines.iter().collect();
    let mut boards = Vec::new();
    for (title, media) in SHEETS {
        let mut groups = Vec::new();
        for medium in media {
            let (mine, others): (Vec<&Line>, Vec<&Line>) = rest
                .into_iter()
                .partition(|line| medium_of(book, line) == Some(medium));
            rest = others;
            groups.push(group(job, state, &rings, Some(medium), &mine));
        }
        boards.extend(sheets(title, groups, &rings));
    }
    let group = group(job, state, &rings, None, &rest);
    boards.extend(sheets(
        "Everything else: what joins what",
        vec![group],
        &rings,
    ));
    boards.into_iter().map(Picture::Board).collect()
}

fn group(
    job: &Job,
    state: &State,
    rings: &Rings,
    medium: Option<&Medium>,
    lines: &[&Line],
) -> BoardGroup {
    let book = job.graph.book();
    let mut rows: Vec<(String, BoardRow)> = lines
        .iter()
        .map(|line| {
            let (stroke, letter) = stroke(medium.or_else(|| medium_of(book, line)));
            let row = BoardRow {
                id: line.id.to_string(),
                label: format!("{letter} {}", line.id),
                stroke,
                ends: [0, 1].map(|end| seat(job, state, rings, line, end)),
            };
            (row.ends[0].zone.clone(), row)
        })
        .collect();
    // Stable: within a side of the engine the order of the book.
    rows.sort_by(|one, other| one.0.cmp(&other.0));
    let name = medium.map_or_else(
        || "cables and what nobody named".to_owned(),
        ToString::to_string,
    );
    let (_, letter) = stroke(medium);
    BoardGroup {
        name: format!("{letter}  {name}"),
        rows: rows.into_iter().map(|(_, row)| row).collect(),
    }
}

fn seat(job: &Job, state: &State, rings: &Rings, line: &Line, end: usize) -> BoardEnd {
    let book = job.graph.book();
    let port = &line.ends[end].port.id;
    let own = book.port(port);
    let zone = own
        .and_then(|port| port.zone.as_ref())
        .or_else(|| book.part(&port.part)?.zone.as_ref());
    let zone = match (own, zone) {
        (None, _) => "home not known".to_owned(),
        (Some(_), Some(zone)) => zone.id.to_string(),
        (Some(_), None) => "on the vehicle".to_owned(),
    };
    BoardEnd {
        port: port.to_string(),
        zone,
        tag: tag(state, line, end).map(|tag| format!("tag {}", tag.trim_start_matches("tag "))),
        loose: is_off(state, line, end),
        name: end_name(line, end),
        rings: rings
            .ends
            .get(&(line.id.clone(), end))
            .cloned()
            .unwrap_or_default(),
    }
}

/// Groups spread over as many drawings as it takes.
fn sheets(title: &str, groups: Vec<BoardGroup>, rings: &Rings) -> Vec<Board> {
    let mut boards: Vec<Board> = Vec::new();
    let mut room = 0;
    for group in groups.into_iter().filter(|group| !group.rows.is_empty()) {
        let mut rows = group.rows.as_slice();
        while !rows.is_empty() {
            if room == 0 {
                room = ROWS;
                boards.push(Board {
                    title: title.to_owned(),
                    ..Board::default()
                });
            }
            let taken = rows.len().min(room);
            if let Some(board) = boards.last_mut() {
                board.groups.push(BoardGroup {
                    name: group.name.clone(),
                    rows: rows[..taken].to_vec(),
                });
            }
            rows = &rows[taken..];
            room -= taken;
        }
    }
    let several = boards.len() > 1;
    for (at, board) in boards.iter_mut().enumerate() {
        if several {
            board.title = format!("{title}, sheet {}", at + 1);
        }
        board.notes = notes(board, rings);
    }
    boards
}

/// The words to the letters on one drawing.
fn notes(board: &Board, rings: &Rings) -> Vec<String> {
    let ends = board
        .groups
        .iter()
        .flat_map(|group| &group.rows)
        .flat_map(|row| &row.ends);
    let letters: std::collections::BTreeSet<&String> = ends.flat_map(|end| &end.rings).collect();
    let mut notes: Vec<String> = letters
        .into_iter()
        .filter_map(|letter| rings.notes.get(letter).cloned())
        .collect();
    if !notes.is_empty() {
        notes.insert(0, "Ends with one letter can change places:".to_owned());
    }
    if rings.left_out > 0 {
        notes.push(format!("{} more pairs: matchmark mixups", rings.left_out));
    }
    notes
}

/// How a line is drawn, with its letter, so that a grey print still reads.
fn stroke(medium: Option<&Medium>) -> (Stroke, &'static str) {
    match medium {
        Some(Medium::Coolant) => (Stroke::LongDash, "C"),
        Some(Medium::Oil) => (Stroke::Double, "O"),
        Some(Medium::Fuel) => (Stroke::DashDot, "F"),
        Some(Medium::Hydraulic) => (Stroke::Double, "H"),
        Some(Medium::GearOil) => (Stroke::Double, "T"),
        Some(Medium::Refrigerant) => (Stroke::LongDash, "R"),
        Some(Medium::Vacuum) => (Stroke::Dots, "V"),
        Some(Medium::Crankcase) => (Stroke::DashDotDot, "K"),
        Some(Medium::Purge) => (Stroke::ShortDash, "P"),
        Some(Medium::Air) => (Stroke::Plain, "A"),
        Some(Medium::Exhaust) => (Stroke::Plain, "E"),
        Some(Medium::Ignition) => (Stroke::Zigzag, "I"),
        Some(Medium::Signal) => (Stroke::Thin, "S"),
        Some(Medium::Power) => (Stroke::Thick, "+"),
        Some(Medium::Ground) => (Stroke::Thick, "G"),
        Some(Medium::Pull) => (Stroke::Plain, "B"),
        Some(Medium::Other(_)) | None => (Stroke::Plain, "·"),
    }
}
