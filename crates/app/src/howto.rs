//! The how-to: this job as the next person can follow it, told by the layers uncovered.
//!
//! It tells what came off and what holds it, the figures with their sources, what was met on
//! the way, and the way taken beside the good way. Who did it, whom to call, and where the
//! pictures were taken stays in the house; only photographs marked *show* and looked through
//! for plates and faces are in it.

mod discreet;
mod layer;
mod shots;
mod way;
#[cfg(test)]
mod tests;

use book::{Joint, Stages};
use job::{Act, Entry, EntryId, Named};
use report::{Align, Ask, Caution, Cell, Figure, Finding, Report, Table, Weight};
use sheet::paper::{Block, Body, Margin, Paper, Reading, Shown, answer};

use crate::calendar::day_of;
use crate::document::Told;
use crate::folder::Folder;
use crate::sitting;

use discreet::Discreet;
use layer::{Layer, Removal};

const COMMAND: &str = "how-to";
const TITLE: &str = "How it was done";

/// Makes the how-to. The report lists its chapters with their places on the film, and asks
/// for what is missing before it is given to others.
#[must_use]
pub fn howto(folder: &Folder, now_micros: i64) -> Told {
    let Some(day) = day_of(now_micros).and_then(|day| book::Date::read(&day.to_string())) else {
        let finding = Finding::new("clock", "", "the clock shows no day of the calendar");
        return Told {
            report: Report::refusal(COMMAND, TITLE, finding.next("set the clock")),
            paper: None,
        };
    };
    let entries = job::effective(&folder.entries).entries;
    let (removals, again) = layer::removals(&folder.state, &entries);
    if removals.is_empty() {
        let finding = Finding::new("nothing-off", "", "nothing came off in this job yet");
        let next = "a how-to is written from a record: log what comes off, then ask again";
        return Told {
            report: Report::refusal(COMMAND, TITLE, finding.next(next)),
            paper: None,
        };
    }
    let mut teller = Teller {
        folder,
        discreet: Discreet::of(&folder.entries, folder.shop.as_ref()),
        entries,
        again,
        report: Report::new(COMMAND, TITLE),
        blocks: Vec::new(),
        chapters: chapters(),
    };
    teller.tell(&removals);
    let known = &folder.state.known;
    let title = known.title.clone().unwrap_or_else(|| TITLE.to_owned());
    let warning = known
        .invented
        .then(|| "The vehicle and every figure here are invented.".to_owned());
    let paper = Paper {
        name: COMMAND.to_owned(),
        title,
        job: TITLE.to_owned(),
        day,
        warning,
        body: Body::Pages(Reading::Desk, teller.blocks),
    };
    Told {
        report: teller.report,
        paper: Some(paper),
    }
}

fn chapters() -> Table {
    Table::new(&[
        ("chapter", "chapter", Align::Left),
        ("film", "film", Align::Left),
        ("parts", "parts", Align::Right),
        ("photos", "photos", Align::Right),
        ("met", "met", Align::Right),
    ])
}

/// The how-to while it is told.
struct Teller<'a> {
    folder: &'a Folder,
    discreet: Discreet,
    entries: Vec<Entry>,
    again: Vec<(EntryId, book::PartId)>,
    report: Report,
    blocks: Vec<Block>,
    chapters: Table,
}

impl Teller<'_> {
    fn tell(&mut self, removals: &[Removal]) {
        let layers = layer::layers(&self.folder.state, &self.entries, removals);
        let mut shots = shots::of(self.folder, &mut self.discreet);
        let shown = shots.all.len();
        self.begin(removals, layers.len());
        for (number, layer) in (1..).zip(&layers) {
            let photos = shots.take(layer);
            self.layer(number, layer, photos);
        }
        self.found();
        self.together(removals, shots.take_rest());
        if let Some(blocks) = way::beside(self.folder, removals) {
            self.chapter("The way taken, and the good way", None, [0; 3]);
            self.blocks.extend(blocks);
        }
        self.held();
        self.report.asks.extend(shots.asks);
        self.report.findings.extend(shots.findings);
        self.end(layers.len(), shown);
    }

    /// A chapter: its heading in the paper, its row in the list.
    fn chapter(&mut self, heading: &str, film: Option<String>, [parts, photos, met]: [usize; 3]) {
        let told = match &film {
            Some(film) => format!("{heading} (film {film})"),
            None => heading.to_owned(),
        };
        self.blocks.push(Block::Heading(1, told));
        let count = |count: usize| Some(count).filter(|count| *count > 0);
        self.chapters.push(vec![
            Cell::from(heading),
            Cell::from(film),
            Cell::from(count(parts)),
            Cell::from(count(photos)),
            Cell::from(count(met)),
        ]);
    }

    fn begin(&mut self, removals: &[Removal], layers: usize) {
        let state = &self.folder.state;
        let basis = if state.has_book {
            "A layer is what comes free once the layer above it is off, by the build book."
        } else {
            "There was no build book: a layer is what came off in one day, in the order of that \
             day. What came off later was not always in the way."
        };
        let causes: Vec<(EntryId, String)> = state
            .causes
            .iter()
            .map(|(entry, of, found)| (*entry, format!("{of}: {found}")))
            .collect();
        let cause = causes
            .iter()
            .filter_map(|(entry, cause)| self.discreet.pass(*entry, cause))
            .next_back();
        let took: i64 = sitting::sittings(&self.entries)
            .iter()
            .map(sitting::Sitting::minutes)
            .sum();
        let mut figures = vec![
            Shown::new("parts that came off", removals.len().to_string()),
            Shown::new("layers", layers.to_string()),
        ];
        if took > 0 {
            figures.push(Shown {
                note: Some("by the times of the entries, all hands together".to_owned()),
                ..Shown::new("it took at least", sitting::shown(took))
            });
        }
        self.blocks.push(Block::Words(basis.to_owned()));
        if let Some(cause) = cause {
            self.blocks
                .push(Block::Words(format!("The cause: {cause}.")));
        }
        self.blocks.push(Block::Figures(figures));
        self.blocks.push(Block::Care(Caution::new(
            "using this",
            "it tells how one job went. The maker's instructions for your vehicle come first; \
             work on fuel, air conditioning and airbags is for licensed trades where the law \
             says so.",
        )));
        self.blocks.push(Block::Contents);
    }

    fn layer(&mut self, number: usize, layer: &Layer, photos: Vec<sheet::paper::Photo>) {
        let met = self.met(layer);
        let heading = format!("Layer {number}: {}", self.few(layer));
        let film = layer
            .entries
            .iter()
            .find_map(|entry| self.folder.state.films.get(entry).map(job::Film::shown));
        let counts = [layer.removals.len(), photos.len(), met.len()];
        self.chapter(&heading, film, counts);
        if !met.is_empty() {
            self.blocks.push(Block::Margin(Margin {
                heading: "Met here".to_owned(),
                lines: met,
            }));
        }
        self.blocks.push(Block::Rows(self.removed(layer)));
        let ends = self.ends(layer);
        if !ends.is_empty() {
            let words = format!("Ends that came off for it: {}.", ends.join("; "));
            self.blocks.push(Block::Words(words));
        }
        self.blocks.extend(photos.into_iter().map(Block::Photo));
        self.back(layer);
    }

    /// The first parts of a layer, by name.
    fn few(&self, layer: &Layer) -> String {
        let labels: Vec<String> = layer
            .removals
            .iter()
            .take(3)
            .map(|removal| self.folder.state.part_label(&removal.part))
            .collect();
        match layer.removals.len().saturating_sub(labels.len()) {
            // Labels have commas of their own.
            0 => labels.join("; "),
            more => format!("{}; and {more} more", labels.join("; ")),
        }
    }

    /// What came off: where one stands, what holds it, how long it took.
    fn removed(&self, layer: &Layer) -> Table {
        let state = &self.folder.state;
        let took = sitting::took(&sitting::sittings(&self.entries));
        let mut table = Table::new(&[
            ("part", "part", Align::Left),
            ("zone", "where", Align::Left),
            ("held", "held by", Align::Left),
            ("took", "took", Align::Right),
        ]);
        for removal in &layer.removals {
            let known = state.known.part(&removal.part);
            let zone = known.and_then(|part| part.zone.as_ref().map(|zone| zone.id.to_string()));
            let label = state.part_label(&removal.part);
            let aside = if removal.aside {
                " (moved aside, still connected)"
            } else {
                ""
            };
            let items = removal.details.as_ref().map(|details| &details.items);
            let held: Vec<String> = items.into_iter().flatten().map(job::Item::shown).collect();
            let took = took
                .get(&removal.entry)
                .copied()
                .filter(|_| removal.details.is_some());
            table.push(vec![
                Cell::from(format!("{label}{aside}")),
                Cell::from(zone),
                Cell::from((!held.is_empty()).then(|| held.join(", "))),
                Cell::from(took.map(sitting::shown)),
            ]);
        }
        table
    }

    fn ends(&self, layer: &Layer) -> Vec<String> {
        let state = &self.folder.state;
        let mut told = Vec::new();
        for (line, side) in &layer.ends {
            let label = state.line_label(line);
            let port = side.and_then(|side| state.known.line(line).map(|line| &line.ends[side]));
            let words = match port {
                Some(end) => format!("{label} from {}", end.port.id),
                None => label,
            };
            if !told.contains(&words) {
                told.push(words);
            }
        }
        told
    }

    /// Pitfalls and remarks that belong to a layer, without whoever they name.
    fn met(&mut self, layer: &Layer) -> Vec<String> {
        let state = &self.folder.state;
        let mut said: Vec<(EntryId, String)> = Vec::new();
        for entry in &self.entries {
            let within = layer.entries.contains(&entry.id);
            match &entry.act {
                Act::Noted { about, text } => {
                    let part = about.as_deref().and_then(|about| self.part_of(about));
                    let here = part.as_ref().map_or(within, |part| layer.has(part));
                    if here {
                        let label = part.map(|part| state.part_label(&part));
                        let about = label.as_ref().or(about.as_ref());
                        said.push((entry.id, whole(about.map(String::as_str), text)));
                    }
                }
                Act::Lost { items, .. } if within => {
                    let items: Vec<String> = items.iter().map(job::Item::shown).collect();
                    said.push((entry.id, format!("lost here: {}", items.join(", "))));
                }
                _ => {}
            }
        }
        for (entry, part) in self.again.iter().filter(|(_, part)| layer.has(part)) {
            let label = state.part_label(part);
            said.push((*entry, format!("{label} had to come off a second time")));
        }
        let found = state.findings.iter();
        let found = found.filter(|found| layer.entries.contains(&found.entry));
        said.extend(found.map(|found| (found.entry, found.finding.says.clone())));
        said.sort();
        said.dedup();
        said.iter()
            .filter_map(|(entry, text)| self.discreet.pass(*entry, text))
            .collect()
    }

    fn part_of(&self, name: &str) -> Option<book::PartId> {
        let known = &self.folder.state.known;
        let mut means = self.folder.state.names.all(name).iter();
        means.find_map(|named| match named {
            Named::Part(part) => Some(part.clone()),
            Named::Joint(joint) => known.joint(joint).map(|joint| joint.of.clone()),
            _ => None,
        })
    }

    /// The figures for the way back of a layer, each with whose it is.
    fn back(&mut self, layer: &Layer) {
        let known = &self.folder.state.known;
        let mut table = Table::new(&[
            ("joint", "on the way back", Align::Left),
            ("figure", "tighten", Align::Left),
            ("condition", "threads", Align::Left),
            ("whose", "whose figure", Align::Left),
        ]);
        let mut critical = Vec::new();
        for removal in &layer.removals {
            for joint in known.joints_of(&removal.part) {
                figures(&self.folder.state.joint_label(&joint.id), joint, &mut table);
                if joint.critical.is_some() {
                    critical.push(self.folder.state.joint_label(&joint.id));
                }
            }
        }
        if !table.rows.is_empty() {
            self.blocks.push(Block::Rows(table));
        }
        if !critical.is_empty() {
            self.blocks.push(Block::Care(Caution::new(
                critical.join(", "),
                "a failure here wrecks the engine or hurts someone: tighten by the maker's book \
                 for your engine, with new bolts where it says so.",
            )));
        }
    }

    /// Readings before and after, with limits and whose they are.
    fn found(&mut self) {
        let state = &self.folder.state;
        let judged = judge::found::found(state, self.folder.shop.as_ref());
        let proof = crate::proof::of_job(self.folder);
        if judged.rows.rows.is_empty() && proof.rows.rows.is_empty() {
            return;
        }
        self.chapter("What was measured", None, [0; 3]);
        self.report.sources.clone_from(&judged.sources);
        if !judged.rows.rows.is_empty() {
            self.blocks.extend(answer(&judged, 2));
        }
        if !proof.rows.rows.is_empty() {
            self.blocks.push(Block::Heading(2, proof.title.clone()));
            let says = proof.headline.clone().unwrap_or_default();
            self.blocks.push(Block::Outcome(proof.verdict, says));
            self.blocks.push(Block::Rows(proof.rows));
        }
    }

    /// What was met on the way back, after the last part was off.
    fn together(&mut self, removals: &[Removal], photos: Vec<sheet::paper::Photo>) {
        let last = removals.last().map_or(EntryId(0), |removal| removal.entry);
        let mut said = Vec::new();
        for entry in self.entries.iter().filter(|entry| entry.id > last) {
            match &entry.act {
                // A remark about a part stands in the layer of that part.
                Act::Noted { about, text } => {
                    let part = about.as_deref().and_then(|about| self.part_of(about));
                    let words = whole(about.as_deref(), text);
                    if part.is_none() && !after_distance(&words) {
                        said.push((entry.id, words));
                    }
                }
                Act::GatePassed { gate, reason } => {
                    let says = format!("gate {gate} was passed while closed: {reason}");
                    said.push((entry.id, says));
                }
                _ => {}
            }
        }
        let found = self.folder.state.findings.iter();
        let found = found.filter(|found| found.entry > last);
        said.extend(found.map(|found| (found.entry, found.finding.says.clone())));
        said.sort();
        said.dedup();
        let met: Vec<String> = said
            .iter()
            .filter_map(|(entry, text)| self.discreet.pass(*entry, text))
            .collect();
        if met.is_empty() && photos.is_empty() {
            return;
        }
        self.chapter("Putting together", None, [0, photos.len(), met.len()]);
        self.blocks.push(Block::Words(
            "It goes back from the deepest layer to the first, each joint with the figures of \
             its layer. What was met on that way:"
                .to_owned(),
        ));
        self.blocks.push(Block::List(met));
        self.blocks.extend(photos.into_iter().map(Block::Photo));
    }

    /// How it held: what was written after a distance driven.
    fn held(&mut self) {
        let mut said = Vec::new();
        for entry in &self.entries {
            let words = match &entry.act {
                Act::Noted { about, text } => whole(about.as_deref(), text),
                Act::Measured(found) => {
                    format!(
                        "{}: {}, {}",
                        found.of,
                        found.values,
                        found.conditions.join(", ")
                    )
                }
                Act::Checked { check, result } => {
                    format!("{check}: {}", result.clone().unwrap_or_default())
                }
                _ => continue,
            };
            if after_distance(&words) {
                said.extend(self.discreet.pass(entry.id, &words));
            }
        }
        if said.is_empty() {
            self.report.asks.push(Ask::new(
                "how it held",
                "the next person wants to know whether it lasted",
                "matchmark log \"note after 1000 km: dry, no coolant lost\"",
            ));
            return;
        }
        self.chapter("How it held", None, [0, 0, said.len()]);
        self.blocks.push(Block::List(said));
    }

    fn end(&mut self, layers: usize, photos: usize) {
        let left_out = self.discreet.left_out();
        if !left_out.is_empty() {
            let numbers: Vec<String> = left_out.iter().map(ToString::to_string).collect();
            self.report.findings.push(
                Finding::new(
                    "left-out",
                    format!("entries {}", numbers.join(", ")),
                    "their words name a person, a number to call or a vehicle, and are not in it",
                )
                .next("correct the entry if the words should be told without the name")
                .weight(Weight::Note),
            );
        }
        if photos == 0 {
            self.report.findings.push(
                Finding::new("no-photos", "", "no photograph may be shown yet")
                    .next("matchmark photo lists them; matchmark log \"show ENTRY: no plate, no face\"")
                    .weight(Weight::Note),
            );
        }
        self.report.figures = vec![
            Figure::count("layers", "layers", layers),
            Figure::count("photos", "photographs in it", photos),
        ];
        self.report.headline = Some(format!("{} chapters.", self.chapters.rows.len()));
        self.report.rows = std::mem::take(&mut self.chapters);
    }
}

/// A remark as it was typed: what stands before its colon is not always a name.
fn whole(about: Option<&str>, text: &str) -> String {
    match about {
        Some(about) => format!("{about}: {text}"),
        None => text.to_owned(),
    }
}

/// The tightening of a joint, group by group.
fn figures(label: &str, joint: &Joint, table: &mut Table) {
    for group in &joint.tighten {
        let figure = match &group.stages {
            Stages::Known(stages) => {
                let typed: Vec<&str> = stages
                    .iter()
                    .map(|stage| stage.spec.typed.as_str())
                    .collect();
                typed.join(", then ")
            }
            Stages::Unknown => "not known; see the maker's book".to_owned(),
            Stages::DoesNotApply => continue,
        };
        let holes = group.holes.as_ref().map(|holes| {
            let names: Vec<&str> = holes.iter().map(book::HoleName::as_str).collect();
            format!(", holes {}", names.join(" "))
        });
        let owner = group
            .source
            .kind
            .map_or("nobody says", book::OriginKind::word);
        let whose = match &group.source.at {
            Some(at) => format!("{owner}, {at}"),
            None => owner.to_owned(),
        };
        table.push(vec![
            Cell::from(format!("{label}{}", holes.unwrap_or_default())),
            Cell::from(figure),
            Cell::from(group.condition.typed().map(str::to_owned)),
            Cell::from(whose),
        ]);
    }
}

/// Whether words tell of a distance driven since: `after 1000 km`, `1,000 km later`, `600 mi`.
fn after_distance(words: &str) -> bool {
    const LEAST: u32 = 100;
    let all: Vec<&str> = words.split_whitespace().collect();
    all.windows(2).any(|pair| {
        let unit = pair[1].trim_end_matches(|sign: char| !sign.is_alphanumeric());
        let number: String = pair[0].chars().filter(char::is_ascii_digit).collect();
        let plain = pair[0]
            .chars()
            .all(|sign| sign.is_ascii_digit() || ",.'".contains(sign));
        let distance = ["km", "mi", "miles"]
            .iter()
            .any(|word| unit.eq_ignore_ascii_case(word));
        distance && plain && number.parse::<u32>().is_ok_and(|number| number >= LEAST)
    })
}
