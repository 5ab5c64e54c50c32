//! Ends of hoses, pipes, leads, cables, plugs and ground straps on ports that are not theirs.
//!
//! Two lines are one row, by the two ends that get at each other most surely; a family of
//! lines alike with one consequence (six injector plugs) is one row too.

mod rotations;

use std::collections::{BTreeMap, BTreeSet};

use book::{Book, CrossingGrade, LineId, LineKind, Medium, Part, PartId};
use job::State;

use super::arrange::Fits;
use super::consequence::{Consequence, Shows, crossing, left_off};
use super::fit::{Fit, Missing, Plug, Seat};
use super::leads::share_a_coil;
use super::{How, Mixup, Mixups, Open};
use crate::graph::Graph;

/// All mix-ups of ends.
pub(super) fn find(graph: &Graph, state: &State) -> Mixups {
    let table = Table::of(graph.book(), state);
    let mut all = Mixups {
        open: table.open(),
        ..Mixups::default()
    };
    let pairs = table.pairs();
    all.found = table.families(&pairs);
    let (rows, rotations) = table.one_way_and_rotations();
    all.found.extend(rows);
    all.rotations = rotations;
    all.found.extend(table.turned());
    all.found.extend(table.unused());
    all.left_off = table.left_off();
    all
}

/// Every end against every seat.
struct Table<'a> {
    book: &'a Book,
    state: &'a State,
    plugs: Vec<Plug>,
    spare: Vec<Seat>,
    /// A row a plug, a column a plug's home and then the spare seats.
    fits: Vec<Vec<Fit>>,
}

/// Two ends of two lines that can change places.
#[derive(Clone, Copy, Debug)]
struct Pair {
    /// Places among the plugs, the lower line first.
    plugs: [usize; 2],
    nearness: u32,
}

/// The ends by which one line gets onto a place of another, by the two lines.
type Onto = BTreeMap<[usize; 2], [usize; 2]>;

/// What pairs of one family share: what happens, and the two media.
type Family<'b> = (Consequence2, Option<&'b Medium>, Option<&'b Medium>);

impl<'a> Table<'a> {
    fn of(book: &'a Book, state: &'a State) -> Self {
        let ends = (0..book.lines.len()).flat_map(|line| [(line, 0), (line, 1)]);
        let plugs: Vec<Plug> = ends.map(|(line, end)| Plug::of(book, line, end)).collect();
        let taken: BTreeSet<_> = plugs.iter().map(|plug| &plug.home.port).collect();
        let ports = book
            .parts
            .iter()
            .flat_map(|part| part.ports.iter().map(|port| (&part.id, port)));
        let spare = ports.map(|(part, port)| Seat::unused(book, part, port));
        let spare: Vec<Seat> = spare
            .filter(|seat| !seat.open && !taken.contains(&seat.port))
            .collect();
        let row = |plug: &Plug| {
            let seats = plugs.iter().map(|other| &other.home).chain(&spare);
            seats.map(|seat| plug.onto(seat)).collect()
        };
        Self {
            fits: plugs.iter().map(row).collect(),
            book,
            state,
            plugs,
            spare,
        }
    }

    fn fits(&self, plug: usize, seat: usize) -> bool {
        matches!(self.fits[plug][seat], Fit::Yes { .. })
    }

    /// The best pair of ends of any two lines that can change places; the ends without a tag
    /// first, so that what is left to do shows.
    fn pairs(&self) -> BTreeMap<[usize; 2], Pair> {
        let mut best: BTreeMap<[usize; 2], Pair> = BTreeMap::new();
        for one in 0..self.plugs.len() {
            for other in one + 1..self.plugs.len() {
                let lines = [self.plugs[one].line, self.plugs[other].line];
                if lines[0] == lines[1] || !self.fits(one, other) || !self.fits(other, one) {
                    continue;
                }
                let pair = Pair {
                    plugs: [one, other],
                    nearness: self.nearness(one, other),
                };
                let rank = |pair: &Pair| (self.secured(&pair.plugs).is_none(), pair.nearness);
                let held = best.entry(lines).or_insert(pair);
                if rank(&pair) > rank(held) {
                    *held = pair;
                }
            }
        }
        best
    }

    /// Stated reach counts two for each end, parts that lie on each other one.
    fn nearness(&self, one: usize, other: usize) -> u32 {
        let stated = |plug: usize, seat: usize| {
            u32::from(self.fits[plug][seat] == Fit::Yes { measured: true })
        };
        let [here, there] =
            [one, other].map(|plug| self.book.part(&self.plugs[plug].home.port.part));
        2 * (stated(one, other) + stated(other, one)) + u32::from(touch(here, there))
    }

    /// What makes an exchange of some ends safe: a tag or a mark on all of them but one.
    fn secured(&self, plugs: &[usize]) -> Option<String> {
        let marks: Vec<Option<String>> = plugs.iter().map(|&plug| self.mark(plug)).collect();
        let bare = marks.iter().filter(|mark| mark.is_none()).count();
        if bare > 1 {
            return None;
        }
        let words: Vec<String> = marks.into_iter().flatten().collect();
        Some(words.join(", "))
    }

    /// The tag or mark on an end. A plug and its socket part in one act, so either side counts.
    fn mark(&self, plug: usize) -> Option<String> {
        let Plug { line, end, .. } = self.plugs[plug];
        let line = &self.book.lines[line];
        let ends: &[usize] = if line.kind == LineKind::Connector {
            &[0, 1]
        } else {
            &[end]
        };
        let on = |end: &usize| {
            let mine = |tag: &&job::Tag| {
                tag.end
                    .as_ref()
                    .is_some_and(|(id, side)| *id == line.id && side == end)
            };
            let tag = self
                .state
                .tags
                .iter()
                .find(mine)
                .map(|tag| format!("tag {}", tag.tag));
            tag.or_else(|| line.ends[*end].mark.clone())
        };
        ends.iter().find_map(on)
    }

    fn name(&self, plug: usize) -> String {
        let Plug { line, end, .. } = self.plugs[plug];
        format!(
            "{}.{}",
            self.book.lines[line].id,
            if end == 0 { "from" } else { "to" }
        )
    }

    fn medium(&self, plug: usize) -> Option<&Medium> {
        self.plugs[plug].home.medium.as_ref()
    }

    /// What an exchange of two ends does.
    fn does(&self, one: usize, other: usize) -> Consequence {
        let [first, second] = [one, other].map(|plug| &self.book.lines[self.plugs[plug].line]);
        let words = |line: &book::Line| {
            format!("{} {}", line.id, line.label.as_deref().unwrap_or_default())
        };
        match (self.medium(one), self.medium(other)) {
            (Some(Medium::Ignition), Some(Medium::Ignition))
                if share_a_coil(self.book, first, second) =>
            {
                Consequence::new(
                    CrossingGrade::Harmless,
                    Shows::FirstStart,
                    "nothing: both ends of one coil fire at the same moment, if this pack pairs cylinders half the order apart",
                )
            }
            (Some(a), Some(b)) => crossing(self.book, [&words(first), &words(second)], [a, b]),
            (None, _) | (_, None) => Consequence::new(
                CrossingGrade::Nuisance,
                Shows::FirstStart,
                "not told: the book does not say what runs through them",
            ),
        }
    }

    fn row(&self, how: How, plugs: [usize; 2], does: Consequence) -> Mixup {
        let id = |plug: usize| {
            (
                self.book.lines[self.plugs[plug].line].id.clone(),
                self.plugs[plug].end,
            )
        };
        Mixup {
            how,
            a: self.name(plugs[0]),
            b: self.name(plugs[1]),
            homes: plugs.map(|plug| self.plugs[plug].home.port.to_string()),
            others: Vec::new(),
            ways: None,
            medium_a: self.medium(plugs[0]).cloned(),
            medium_b: self.medium(plugs[1]).cloned(),
            does,
            act: self.act(&plugs),
            secured: self.secured(&plugs),
            ends: plugs.map(id).into(),
            parts: plugs
                .map(|plug| self.plugs[plug].home.port.part.clone())
                .into(),
            nearness: 0,
        }
    }

    /// The cheapest act: a mark while the end still sits where it belongs, a test once it is off.
    fn act(&self, plugs: &[usize]) -> String {
        let off = |plug: &&usize| {
            let Plug { line, end, .. } = self.plugs[**plug];
            let held = self.state.lines.get(&self.book.lines[line].id);
            held.is_some_and(|ends| ends[end].off) && self.mark(**plug).is_none()
        };
        let loose = plugs.iter().find(off).map(|&plug| self.name(plug));
        let kind = plugs
            .first()
            .map(|&plug| self.book.lines[self.plugs[plug].line].kind);
        let wet = plugs
            .iter()
            .any(|&plug| self.medium(plug) == Some(&Medium::Fuel));
        match (kind, loose) {
            (Some(LineKind::Connector), Some(loose)) => {
                format!("continuity test along {loose}, tag it")
            }
            (Some(LineKind::Connector), None) => "paint across plug and socket".to_owned(),
            (Some(LineKind::Lead), Some(loose)) if self.on_distributor(plugs[0]) => {
                format!("cylinder 1 on compression, look at the rotor, number {loose}")
            }
            (Some(LineKind::Lead), Some(loose)) => {
                format!("continuity test along {loose}, number it")
            }
            (Some(LineKind::Lead), None) => "number both ends".to_owned(),
            (Some(LineKind::Ground | LineKind::Cable), Some(loose)) => {
                format!("continuity test along {loose}, tag it")
            }
            (Some(LineKind::Hose | LineKind::Pipe), Some(loose)) if !wet => {
                format!("low-pressure air through {loose}, then tag it")
            }
            (_, Some(loose)) => format!("follow {loose} by hand, tag it"),
            (_, None) => "tag each with its port, as a pair".to_owned(),
        }
    }

    /// Of a family that is still on, one at a time is cheaper than a number for each.
    fn one_at_a_time(&self, plugs: &[usize]) -> Option<String> {
        let lines = plugs
            .iter()
            .map(|&plug| &self.book.lines[self.plugs[plug].line]);
        let on = lines.clone().all(|line| {
            let held = self.state.lines.get(&line.id);
            held.is_none_or(|ends| ends.iter().all(|end| !end.off))
        });
        let by_hand = |kind| matches!(kind, LineKind::Lead | LineKind::Hose | LineKind::Pipe);
        (on && lines.clone().all(|line| by_hand(line.kind)))
            .then(|| "one at a time, or number both ends".to_owned())
    }

    /// Whether a lead goes to a cap with a rotor under it: then the rotor tells its tower.
    fn on_distributor(&self, plug: usize) -> bool {
        let line = &self.book.lines[self.plugs[plug].line];
        line.ends.iter().any(|end| {
            let part = &end.port.id.part;
            let label = self.book.part(part).and_then(|part| part.label.as_deref());
            format!("{part} {}", label.unwrap_or_default())
                .to_lowercase()
                .contains("distributor")
        })
    }

    /// Pairs as rows, families alike gathered.
    fn families(&self, pairs: &BTreeMap<[usize; 2], Pair>) -> Vec<Mixup> {
        let mut groups: BTreeMap<Family<'_>, Vec<Pair>> = BTreeMap::new();
        let mut rows = Vec::new();
        for pair in pairs.values() {
            let [one, other] = pair.plugs;
            let does = self.does(one, other);
            if self.medium(one) == self.medium(other) && does.grade > CrossingGrade::Harmless {
                let key = (
                    (does.grade, does.shows, does.says),
                    self.medium(one),
                    self.medium(other),
                );
                groups.entry(key).or_default().push(*pair);
            } else {
                rows.push(self.pair_row(pair, does));
            }
        }
        for (((grade, shows, says), ..), pairs) in groups {
            let does = Consequence::new(grade, shows, says);
            for family in connected(self, &pairs) {
                rows.extend(self.family_rows(&family, &does));
            }
        }
        rows
    }

    fn pair_row(&self, pair: &Pair, does: Consequence) -> Mixup {
        Mixup {
            nearness: pair.nearness,
            ..self.row(How::Swap, pair.plugs, does)
        }
    }

    /// One row for a family; two where some of it is safe already.
    fn family_rows(&self, pairs: &[Pair], does: &Consequence) -> Vec<Mixup> {
        let safe = |pair: &&Pair| self.secured(&pair.plugs).is_some();
        let (safe, open): (Vec<&Pair>, Vec<&Pair>) = pairs.iter().partition(|pair| safe(pair));
        let sides = [open, safe].into_iter().filter(|side| !side.is_empty());
        sides
            .filter_map(|side| self.family_row(&side, does))
            .collect()
    }

    fn family_row(&self, pairs: &[&Pair], does: &Consequence) -> Option<Mixup> {
        let surest = pairs.iter().rev().max_by_key(|pair| pair.nearness)?;
        let mut row = self.pair_row(surest, does.clone());
        let mut lines: BTreeMap<usize, usize> = BTreeMap::new();
        for &plug in pairs.iter().flat_map(|pair| &pair.plugs) {
            lines.entry(self.plugs[plug].line).or_insert(plug);
        }
        if lines.len() < 3 {
            return Some(row);
        }
        let members: Vec<usize> = lines.values().copied().collect();
        let taken = surest.plugs.map(|plug| self.plugs[plug].line);
        let rest = members
            .iter()
            .filter(|&&plug| !taken.contains(&self.plugs[plug].line));
        row.others = rest.map(|&plug| self.name(plug)).collect();
        if let Some(act) = self.one_at_a_time(&members) {
            row.act = act;
        }
        let apart: BTreeSet<[usize; 2]> = pairs
            .iter()
            .map(|pair| pair.plugs.map(|plug| self.plugs[plug].line))
            .collect();
        let fits = Fits::ask(members.len(), members.len(), |one, other| {
            let mut lines = [one, other].map(|at| self.plugs[members[at]].line);
            lines.sort_unstable();
            apart.contains(&lines)
        });
        row.ways = fits.arrangements().map(|all| all - 1);
        for &plug in &members {
            let home = &self.plugs[plug];
            row.ends
                .insert((self.book.lines[home.line].id.clone(), home.end));
            row.parts.insert(home.home.port.part.clone());
        }
        Some(row)
    }

    /// Ends that take the place of another which cannot take theirs, and rotations of three: all
    /// that no exchange hints at, and of the others the worst; with how many there are in all.
    fn one_way_and_rotations(&self) -> (Vec<Mixup>, usize) {
        let count = self.book.lines.len();
        let mut onto: Onto = BTreeMap::new();
        for one in 0..self.plugs.len() {
            for other in 0..self.plugs.len() {
                let lines = [self.plugs[one].line, self.plugs[other].line];
                if lines[0] != lines[1] && self.fits(one, other) {
                    onto.entry(lines).or_insert([one, other]);
                }
            }
        }
        let lines = Fits::ask(count, count, |one, other| onto.contains_key(&[one, other]));
        let mut rows: Vec<Mixup> = Vec::new();
        for [one, other] in lines.takes() {
            let plugs = onto[&[one, other]];
            rows.push(self.row(How::Takes, plugs, self.does(plugs[0], plugs[1])));
        }
        let (rotations, all) = self.rotations(&lines, &onto);
        rows.extend(rotations.into_iter().map(|three| self.rotation_row(three)));
        (rows, all)
    }

    /// Lines with a hidden restrictor or valve, turned end for end.
    fn turned(&self) -> Vec<Mixup> {
        let mut rows = Vec::new();
        for one in (0..self.plugs.len()).step_by(2) {
            let line = &self.book.lines[self.plugs[one].line];
            let Some(restrictor) = line.restrictor.known() else {
                continue;
            };
            // The ports of one hose may lie far apart: turned round it still reaches both.
            let [from, to] = [0, 1].map(|end| line.bore_at(end).known().map(|bore| bore.in_mm()));
            if from
                .zip(to)
                .is_none_or(|(from, to)| (from - to).abs() <= 1.0)
            {
                let says = format!(
                    "the restrictor or valve in it ({restrictor}) faces the wrong way or sits at the wrong end"
                );
                let does = Consequence::new(CrossingGrade::Nuisance, Shows::FirstStart, says);
                let mut row = self.row(How::Turned, [one, one + 1], does);
                row.act = "paint an arrow on it and tag one end".to_owned();
                rows.push(row);
            }
        }
        rows
    }

    fn unused(&self) -> Vec<Mixup> {
        let mut rows = Vec::new();
        let mut seen = BTreeSet::new();
        for plug in 0..self.plugs.len() {
            for (at, seat) in self.spare.iter().enumerate() {
                let fresh = self.fits(plug, self.plugs.len() + at)
                    && seen.insert((self.plugs[plug].line, at));
                if !fresh {
                    continue;
                }
                let line = &self.book.lines[self.plugs[plug].line];
                let does = match (self.medium(plug), &seat.medium) {
                    (Some(a), Some(b)) => crossing(
                        self.book,
                        [line.id.as_str(), &seat.port.to_string()],
                        [a, b],
                    ),
                    (a, _) => left_off(a),
                };
                let mut row = self.row(How::Unused, [plug, plug], does);
                row.b = seat.port.to_string();
                row.homes[1] = "nothing belongs there".to_owned();
                row.medium_b.clone_from(&seat.medium);
                row.secured = self.mark(plug);
                row.parts.insert(seat.port.part.clone());
                row.act = "cap the unused port".to_owned();
                rows.push(row);
            }
        }
        rows
    }

    /// Ends left off, a row a medium.
    fn left_off(&self) -> Vec<Mixup> {
        let mut media: BTreeMap<Option<&Medium>, Vec<usize>> = BTreeMap::new();
        for plug in 0..self.plugs.len() {
            media.entry(self.medium(plug)).or_default().push(plug);
        }
        let row = |(medium, plugs): (Option<&Medium>, Vec<usize>)| {
            let first = *plugs.first()?;
            let mut row = self.row(How::LeftOff, [first, first], left_off(medium));
            row.b = "left off".to_owned();
            row.homes[1] = String::new();
            row.medium_b = None;
            row.others = plugs[1..].iter().map(|&plug| self.name(plug)).collect();
            for &plug in &plugs {
                let home = &self.plugs[plug];
                row.ends
                    .insert((self.book.lines[home.line].id.clone(), home.end));
                row.parts.insert(home.home.port.part.clone());
            }
            // The record counts ends off and on; the gates ask for every one.
            let off = row
                .ends
                .iter()
                .filter(|(line, end)| self.is_off(line, *end))
                .count();
            let touched = self.state.lines.len();
            row.secured =
                (off == 0 && touched > 0).then(|| "the record has every end on".to_owned());
            row.act = "log each end on; the gates ask for every one".to_owned();
            Some(row)
        };
        media.into_iter().filter_map(row).collect()
    }

    fn is_off(&self, line: &LineId, end: usize) -> bool {
        self.state.lines.get(line).is_some_and(|ends| ends[end].off)
    }

    /// What hangs on a fact nobody wrote down, where something would be damaged.
    fn open(&self) -> Vec<Open> {
        let mut open: BTreeMap<Missing, (BTreeSet<String>, Option<Consequence>)> = BTreeMap::new();
        for one in 0..self.plugs.len() {
            for other in one + 1..self.plugs.len() {
                let Some(missing) = unknown(&self.fits[one][other], &self.fits[other][one]) else {
                    continue;
                };
                let does = self.does(one, other);
                if self.plugs[one].line == self.plugs[other].line
                    || does.grade < CrossingGrade::Damage
                    || self.secured(&[one, other]).is_some()
                {
                    continue;
                }
                let (of, worst) = open.entry(missing).or_default();
                of.extend(
                    [one, other]
                        .into_iter()
                        .filter(|&plug| self.plugs[plug].lacks(missing))
                        .map(|plug| self.name(plug)),
                );
                if worst.as_ref().is_none_or(|worst| worst.grade < does.grade) {
                    *worst = Some(does);
                }
            }
        }
        let open = open.into_iter().filter(|(_, (of, _))| !of.is_empty());
        open.map(|(missing, (of, worst))| Open {
            missing,
            of,
            worst: worst.map(|worst| worst.says).unwrap_or_default(),
        })
        .collect()
    }
}

/// The fact a swap hangs on, where neither way is ruled out.
fn unknown(one: &Fit, other: &Fit) -> Option<Missing> {
    match (one, other) {
        (Fit::No, _) | (_, Fit::No) | (Fit::Yes { .. }, Fit::Yes { .. }) => None,
        (Fit::Unknown(missing), _) | (_, Fit::Unknown(missing)) => Some(*missing),
    }
}

/// The key of a family: what it does, in an order that sorts.
type Consequence2 = (CrossingGrade, Shows, String);

/// Whether two parts are one, or one lies in the way of the other.
fn touch(one: Option<&Part>, other: Option<&Part>) -> bool {
    let (Some(one), Some(other)) = (one, other) else {
        return false;
    };
    let lies_on =
        |upper: &PartId, lower: &Part| lower.needs_off.iter().any(|mention| mention.id == *upper);
    one.id == other.id || lies_on(&one.id, other) || lies_on(&other.id, one)
}

/// Pairs gathered into families of lines that hang together.
fn connected(table: &Table<'_>, pairs: &[Pair]) -> Vec<Vec<Pair>> {
    let line = |plug: usize| table.plugs[plug].line;
    let mut group: BTreeMap<usize, usize> = BTreeMap::new();
    for pair in pairs {
        let [one, other] = pair.plugs.map(line);
        let [to, from] = [one, other].map(|line| *group.entry(line).or_insert(line));
        for held in group.values_mut().filter(|held| **held == from) {
            *held = to;
        }
    }
    let mut families: BTreeMap<usize, Vec<Pair>> = BTreeMap::new();
    for pair in pairs {
        families
            .entry(group[&line(pair.plugs[0])])
            .or_default()
            .push(*pair);
    }
    families.into_values().collect()
}

/// Which lines can change an end with which, for tests against an independent count.
#[cfg(test)]
pub(super) fn exchangeable(graph: &Graph, state: &State) -> BTreeSet<[usize; 2]> {
    Table::of(graph.book(), state).pairs().into_keys().collect()
}

/// Rows and count of rotations, for tests against an independent count.
#[cfg(test)]
pub(super) fn rotating(graph: &Graph, state: &State) -> (Vec<Mixup>, usize) {
    let (rows, all) = Table::of(graph.book(), state).one_way_and_rotations();
    let rows = rows.into_iter().filter(|row| row.how == How::Rotation);
    (rows.collect(), all)
}
