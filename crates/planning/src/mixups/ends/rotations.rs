//! Three ends that go round: each on the place of the next, the last on that of the first.

use std::collections::BTreeMap;

use book::CrossingGrade;

use super::super::arrange::Fits;
use super::super::consequence::Shows;
use super::super::fit::Plug;
use super::super::{How, Mixup};
use super::{Onto, Table};

/// How bad an exchange is, in an order that sorts.
type Rank = (CrossingGrade, Shows);

/// By which of its ends each line gets onto which place of another: bit `2 * end + place`.
struct Ways {
    lines: usize,
    bits: Vec<u8>,
}

impl Ways {
    fn of(table: &Table<'_>) -> Self {
        let lines = table.book.lines.len();
        let mut bits = vec![0; lines * lines];
        for one in 0..table.plugs.len() {
            for other in 0..table.plugs.len() {
                if one / 2 != other / 2 && table.fits(one, other) {
                    bits[one / 2 * lines + other / 2] |= 1 << (2 * (one % 2) + other % 2);
                }
            }
        }
        Self { lines, bits }
    }

    /// Whether some end of each of three lines gets onto the place of the next one's, and the
    /// same ends all the way round.
    fn closes(&self, [a, b, c]: [usize; 3]) -> bool {
        let way = |one: usize, other: usize| self.bits[one * self.lines + other];
        let has = |way: u8, end: u8, place: u8| way & (1 << (2 * end + place)) != 0;
        let (ab, bc, ca) = (way(a, b), way(b, c), way(c, a));
        (0..8_u8).any(|ends| {
            let [x, y, z] = [ends & 1, ends >> 1 & 1, ends >> 2 & 1];
            has(ab, x, y) && has(bc, y, z) && has(ca, z, x)
        })
    }
}

/// As many rotations whose every step is an exchange too are listed; the others are counted.
const LISTED: usize = 6;

impl Table<'_> {
    /// Rotations no exchange hints at, then the worst of those whose every step is an exchange
    /// too, as ends; and how many there are. Those within one medium are counted in its row.
    pub(super) fn rotations(&self, lines: &Fits, onto: &Onto) -> (Vec<[usize; 3]>, usize) {
        let rank: BTreeMap<[usize; 2], Rank> = onto
            .iter()
            .map(|(lines, plugs)| (*lines, self.rank(plugs[0], plugs[1])))
            .collect();
        let ways = Ways::of(self);
        let mut unhinted = Vec::new();
        let mut worst: Vec<(Rank, [usize; 3])> = Vec::new();
        let mut all = 0;
        lines.each_rotation(|three| {
            if !ways.closes(three) {
                return;
            }
            all += 1;
            if !lines.swaps_hint_at(three) {
                unhinted.push(three);
                return;
            }
            let medium = |line: usize| self.medium(2 * line);
            if medium(three[0]) == medium(three[1]) && medium(three[1]) == medium(three[2]) {
                return;
            }
            let [a, b, c] = three;
            let steps = [[a, b], [b, c], [c, a]];
            let worth = steps.iter().filter_map(|step| rank.get(step)).max();
            let Some(&worth) = worth.filter(|(grade, _)| *grade >= CrossingGrade::Damage) else {
                return;
            };
            // The first found of equals stays, so that the same book gives the same rows.
            let at = worst.partition_point(|(held, _)| *held >= worth);
            if at < LISTED {
                worst.insert(at, (worth, three));
                worst.truncate(LISTED);
            }
        });
        unhinted.extend(worst.into_iter().map(|(_, three)| three));
        let ends = unhinted.into_iter().filter_map(|three| self.ends_of(three));
        (ends.collect(), all)
    }

    /// The three ends that go round, of three lines that can.
    fn ends_of(&self, [a, b, c]: [usize; 3]) -> Option<[usize; 3]> {
        let ends = |line: usize| [2 * line, 2 * line + 1];
        let all = ends(a).into_iter().flat_map(|one| {
            let seconds = ends(b).into_iter().map(move |two| [one, two]);
            seconds.flat_map(|[one, two]| ends(c).map(|three| [one, two, three]))
        });
        let goes = |&[one, two, three]: &[usize; 3]| {
            self.fits(one, two) && self.fits(two, three) && self.fits(three, one)
        };
        // The worst step decides; of equals the first.
        let worth = |&[one, two, three]: &[usize; 3]| {
            let steps = [[one, two], [two, three], [three, one]];
            steps
                .map(|[here, there]| self.rank(here, there))
                .into_iter()
                .max()
        };
        all.filter(goes).reduce(|held, next| {
            if worth(&next) > worth(&held) {
                next
            } else {
                held
            }
        })
    }

    fn rank(&self, one: usize, other: usize) -> Rank {
        let does = self.does(one, other);
        (does.grade, does.shows)
    }

    /// A rotation as a row: its worst step first, and where each of the three would sit.
    pub(super) fn rotation_row(&self, three: [usize; 3]) -> Mixup {
        let mut ends = three;
        let step = |at: usize| [three[at], three[(at + 1) % 3]];
        let worth = |at: &usize| {
            let [here, there] = step(*at);
            (self.rank(here, there), std::cmp::Reverse(*at))
        };
        ends.rotate_left((0..3).max_by_key(worth).unwrap_or(0));
        let sits: Vec<String> = (0..3)
            .map(|at| {
                let [here, there] = [ends[at], ends[(at + 1) % 3]];
                format!("{} on {}", self.name(here), self.plugs[there].home.port)
            })
            .collect();
        let mut does = self.does(ends[0], ends[1]);
        does.says = format!("{}: {}", sits.join(", "), does.says);
        let mut row = self.row(How::Rotation, [ends[0], ends[1]], does);
        row.others = vec![self.name(ends[2])];
        // One that can only go home breaks the round; the other two are a row of their own.
        row.secured = ends.iter().find_map(|&plug| self.mark(plug));
        row.act = self.act(&ends);
        row.ends = ends
            .map(|plug| {
                let Plug { line, end, .. } = self.plugs[plug];
                (self.book.lines[line].id.clone(), end)
            })
            .into();
        row.parts = ends
            .map(|plug| self.plugs[plug].home.port.part.clone())
            .into();
        row
    }
}
