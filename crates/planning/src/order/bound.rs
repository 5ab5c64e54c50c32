//! How low no order can go: the cheapest out-tree with prices on branching, and the
//! cheapest assignment of followers.
//!
//! An order is a tree in which every step has one follower, and it is an assignment of
//! followers without circles. Dropping one of the two demands leaves a problem that is
//! solved exactly and quickly; its value cannot exceed the best order's. For the tree,
//! prices on having other than one follower bring the dropped demand back in part
//! (Held and Karp 1970, here on the directed tree).

use super::Problem;
use crate::Stop;

/// Prices are whole numbers of `1 / GRAIN` of a cost unit, so the bound is exact.
const GRAIN: i64 = 1 << 10;

/// Stands for a link that cannot be; larger than any sum of real ones.
const NEVER: i64 = i64::MAX / 1024;

/// Shortening of the price step after rounds without gain.
const TIRED_AFTER: u32 = 20;

/// A value no order can go below, from `rounds` rounds of price setting; `known` is the
/// value of some order and guides the prices.
#[must_use]
pub fn lower_bound(problem: &Problem, known: u64, rounds: u64, stop: &Stop) -> u64 {
    let mut prices = Prices::new(problem);
    prices.assign(stop);
    prices.improve(rounds, known, stop);
    prices.bound()
}

/// Prices in the making; they can be improved a few rounds at a time.
#[derive(Debug)]
pub(super) struct Prices {
    /// Nodes: the steps and the two doors.
    size: usize,
    /// Links that may stand in an order, in grains; the others [`NEVER`].
    link: Vec<i64>,
    price: Vec<i64>,
    best: i64,
    factor: f64,
    idle: u32,
    exhausted: bool,
}

impl Prices {
    pub(super) fn new(problem: &Problem) -> Self {
        let n = problem.len();
        let size = n + 2;
        let mut link = vec![NEVER; size * size];
        for i in 0..n {
            for j in (0..n).filter(|&j| problem.may_follow(i, j)) {
                link[i * size + j] = i64::from(problem.link(i, j)) * GRAIN;
            }
            if problem.before(i).is_empty() {
                link[n * size + i] = 0;
            }
            if problem.after(i).is_empty() {
                link[i * size + n + 1] = 0;
            }
        }
        Self {
            size,
            link,
            price: vec![0; size],
            best: 0,
            factor: 2.0,
            idle: 0,
            exhausted: n < 2,
        }
    }

    /// The best bound so far, in cost units.
    pub(super) fn bound(&self) -> u64 {
        // Costs are whole numbers, so a part of a unit rounds up.
        u64::try_from(self.best).unwrap_or(0).div_ceil(GRAIN as u64)
    }

    /// Whether more rounds would change nothing any more.
    pub(super) fn exhausted(&self) -> bool {
        self.exhausted
    }

    /// Takes in the cheapest assignment of followers: every node but the door out gets
    /// one, every node but the door in is one. Stopped early, what is proved so far
    /// still counts.
    pub(super) fn assign(&mut self, stop: &Stop) {
        let (m, out) = (self.size - 1, self.size - 1);
        // Rows: steps and the door in (its number is already m - 1). Columns: steps and
        // the door out, which takes the place of the door in.
        let column = |c: usize| if c == m - 1 { out } else { c };
        let cost = |r: usize, c: usize| self.link[r * self.size + column(c)];
        let (mut row_dual, mut column_dual) = (vec![0; m + 1], vec![0; m + 1]);
        let mut row_of = vec![m; m + 1];
        for row in 0..m {
            if stop.raised() {
                break;
            }
            grow_assignment(m, row, &cost, &mut row_dual, &mut column_dual, &mut row_of);
        }
        let proved: i64 = row_dual[..m].iter().sum::<i64>() + column_dual[..m].iter().sum::<i64>();
        if proved < NEVER {
            self.best = self.best.max(proved);
        }
    }

    /// Sets prices for some rounds (subgradient steps aimed at `known`).
    pub(super) fn improve(&mut self, rounds: u64, known: u64, stop: &Stop) {
        let goal = i64::try_from(known).map_or(NEVER, |k| k.saturating_mul(GRAIN));
        let mut tree = Tree::new(self.size);
        for _ in 0..rounds {
            if self.exhausted || stop.raised() {
                return;
            }
            let root = self.size - 2;
            let Some(total) = tree.grow(&self.link, &self.price, root) else {
                self.exhausted = true;
                return;
            };
            let paid: i64 = self.price.iter().sum();
            let value = total - paid;
            if value > self.best {
                self.best = value;
                self.idle = 0;
            } else {
                self.idle += 1;
            }
            if self.idle > TIRED_AFTER {
                self.factor *= 0.7;
                self.idle = 0;
            }
            let off: i64 = (0..=root).map(|i| (tree.followers[i] - 1).pow(2)).sum();
            // No branching means the tree is an order, and the bound its value.
            if off == 0 || goal <= self.best || self.factor < 1e-3 {
                self.exhausted = true;
                return;
            }
            let step = self.factor * (goal - value) as f64 / off as f64;
            for i in 0..=root {
                self.price[i] += (step * (tree.followers[i] - 1) as f64) as i64;
            }
        }
    }
}

/// Adds one row to a cheapest assignment by a shortest augmenting path (Kuhn 1955,
/// Munkres 1957; the dual form). Column `m` is where the path begins.
fn grow_assignment(
    m: usize,
    row: usize,
    cost: &impl Fn(usize, usize) -> i64,
    row_dual: &mut [i64],
    column_dual: &mut [i64],
    row_of: &mut [usize],
) {
    let mut slack = vec![i64::MAX; m];
    let mut came_from = vec![m; m];
    let mut done = vec![false; m + 1];
    row_of[m] = row;
    let mut at = m;
    while row_of[at] < m {
        done[at] = true;
        let r = row_of[at];
        let (mut least, mut next) = (i64::MAX, m);
        for c in (0..m).filter(|&c| !done[c]) {
            let reduced = cost(r, c) - row_dual[r] - column_dual[c];
            if reduced < slack[c] {
                slack[c] = reduced;
                came_from[c] = at;
            }
            if slack[c] < least {
                (least, next) = (slack[c], c);
            }
        }
        for c in 0..m {
            if done[c] {
                row_dual[row_of[c]] += least;
                column_dual[c] -= least;
            } else {
                slack[c] -= least;
            }
        }
        row_dual[row] += least;
        at = next;
    }
    while at != m {
        let from = came_from[at];
        row_of[at] = row_of[from];
        at = from;
    }
}

/// The cheapest out-tree from a root in a dense graph, found by contracting circles
/// (Chu and Liu 1965, Edmonds 1967).
#[derive(Debug)]
struct Tree {
    size: usize,
    /// Followers of each node in the tree last grown.
    followers: Vec<i64>,
    weight: Vec<i64>,
    /// For each entry of `weight`, the real link it stands for.
    real: Vec<(u32, u32)>,
}

/// A level of contraction: which circle each node went into and the links chosen.
#[derive(Debug)]
struct Level {
    /// The node of the next level that each node became.
    became: Vec<usize>,
    /// The real link chosen into each node.
    into: Vec<(u32, u32)>,
}

impl Tree {
    fn new(size: usize) -> Self {
        Self {
            size,
            followers: vec![0; size],
            weight: Vec::new(),
            real: Vec::new(),
        }
    }

    /// Grows the cheapest tree from `root` under link cost plus the price of the link's
    /// beginning, counts followers and returns its cost. `None`: some node cannot be
    /// reached.
    fn grow(&mut self, link: &[i64], price: &[i64], root: usize) -> Option<i64> {
        let size = self.size;
        self.weight.clear();
        self.real.clear();
        for i in 0..size {
            let row = &link[i * size..(i + 1) * size];
            let priced = |&w: &i64| if w == NEVER { NEVER } else { w + price[i] };
            self.weight.extend(row.iter().map(priced));
            self.real.extend((0..size).map(|j| (i as u32, j as u32)));
        }
        let mut levels = Vec::new();
        let (mut m, mut top) = (size, root);
        let mut total = 0;
        loop {
            let (parent, level, circles) = self.choose(m, top)?;
            total += parent.iter().map(|&(_, w)| w).sum::<i64>();
            let done = circles == 0;
            if !done {
                m = self.contract(m, &parent, &level);
                top = level.became[top];
            }
            levels.push(level);
            if done {
                break;
            }
        }
        self.count(&levels, root);
        Some(total)
    }

    /// The cheapest link into every node, and the circles these make.
    #[expect(clippy::type_complexity, reason = "three results of one pass")]
    fn choose(&self, m: usize, top: usize) -> Option<(Vec<(usize, i64)>, Level, usize)> {
        let mut parent = vec![(top, NEVER); m];
        for i in 0..m {
            for (j, best) in parent.iter_mut().enumerate() {
                let w = self.weight[i * m + j];
                if w < best.1 && i != j {
                    *best = (i, w);
                }
            }
        }
        parent[top] = (top, 0);
        if parent.iter().any(|&(_, w)| w == NEVER) {
            return None;
        }
        let into = (0..m).map(|j| self.real[parent[j].0 * m + j]).collect();
        // Walk back from every node; meeting the walk's own mark closes a circle.
        let mut mark = vec![usize::MAX; m];
        let mut became = vec![usize::MAX; m];
        let mut circles = 0;
        mark[top] = m;
        for start in 0..m {
            let mut at = start;
            while mark[at] == usize::MAX {
                mark[at] = start;
                at = parent[at].0;
            }
            if mark[at] == start {
                let mut round = at;
                loop {
                    became[round] = circles;
                    round = parent[round].0;
                    if round == at {
                        break;
                    }
                }
                circles += 1;
            }
        }
        let rest = became.iter_mut().filter(|b| **b == usize::MAX);
        for (next, node) in (circles..).zip(rest) {
            *node = next;
        }
        Some((parent, Level { became, into }, circles))
    }

    /// Melts every circle into one node. A link into a circle costs what it costs more
    /// than the circle's own link that it would replace.
    fn contract(&mut self, m: usize, parent: &[(usize, i64)], level: &Level) -> usize {
        let next = level.became.iter().max().map_or(0, |&b| b + 1);
        let mut weight = vec![NEVER; next * next];
        let mut real = vec![(0, 0); next * next];
        for i in 0..m {
            let row = level.became[i] * next;
            for (j, &(_, paid)) in parent.iter().enumerate() {
                let w = self.weight[i * m + j];
                let at = row + level.became[j];
                // Every node's cheapest link is already paid for; only the rest of the
                // price is left.
                if w != NEVER && level.became[i] != level.became[j] {
                    let rest = w - paid;
                    if rest < weight[at] {
                        weight[at] = rest;
                        real[at] = self.real[i * m + j];
                    }
                }
            }
        }
        self.weight = weight;
        self.real = real;
        next
    }

    /// Follows the choices back to the real graph, from the last level to the first. A
    /// circle keeps all its own links but the one into the node where a link from
    /// outside enters.
    fn count(&mut self, levels: &[Level], root: usize) {
        let mut image: Vec<Vec<usize>> = vec![(0..self.size).collect()];
        for level in &levels[..levels.len() - 1] {
            let last = &image[image.len() - 1];
            image.push(last.iter().map(|&i| level.became[i]).collect());
        }
        let mut chosen: Vec<(u32, u32)> = Vec::new();
        for (level, image) in levels.iter().zip(&image).rev() {
            let mut here = level.into.clone();
            for &(from, to) in &chosen {
                here[image[to as usize]] = (from, to);
            }
            here[image[root]] = (root as u32, root as u32);
            chosen = here;
        }
        self.followers.fill(0);
        for (from, to) in chosen {
            if from != to {
                self.followers[from as usize] += 1;
            }
        }
    }
}
