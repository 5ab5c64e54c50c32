//! What is to be ordered: steps, the cost of following one with another, and pairs that
//! must keep their order.

/// The largest cost one step may have after another.
const MAX_COST: u32 = 100_000_000;

/// The most steps one problem may have; the cost table grows with the square.
const MAX_STEPS: usize = 5_000;

/// Steps `0..n`, what it costs to do one straight after another, and which must come
/// before which.
///
/// A step that must be first (or last) of all is said by pairs; without such pairs
/// every step may begin and beginning costs nothing. Where the place a person starts
/// from matters, add a first step of no duration that stands for it.
#[derive(Debug, Clone)]
pub struct Problem {
    n: usize,
    /// Row-major with two more rows and columns: `n` is the door in, `n + 1` the door
    /// out. Both cost nothing, so that moves need no case for the two ends of the path.
    cost: Vec<i32>,
    /// Pairs nothing else implies, by step: what directly follows and what directly
    /// precedes.
    after: Vec<Vec<u32>>,
    before: Vec<Vec<u32>>,
    /// Bit `j` of row `i`: `i` must come somewhere before `j`.
    reach: Vec<u64>,
    words: usize,
}

/// Why steps cannot be ordered.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// The cost table is not `n` times `n`.
    #[error("the cost table has {found} entries; {steps} steps need {}", steps * steps)]
    TableSize {
        /// Entries found.
        found: usize,
        /// Steps announced.
        steps: usize,
    },
    /// More steps than a table can hold in reasonable memory.
    #[error("{steps} steps are too many to order at once; split them (limit {MAX_STEPS})")]
    TooMany {
        /// Steps announced.
        steps: usize,
    },
    /// A cost so large that sums would lose their meaning.
    #[error("step {to} after step {from} costs {cost}, more than {MAX_COST}")]
    Cost {
        /// The earlier step.
        from: usize,
        /// The later step.
        to: usize,
        /// The cost given.
        cost: u32,
    },
    /// A pair names a step that does not exist.
    #[error("step {before} before step {after}: there are only steps 0 to {last}")]
    NoSuchStep {
        /// The earlier step of the pair.
        before: usize,
        /// The later step of the pair.
        after: usize,
        /// The last step there is.
        last: usize,
    },
    /// The pairs go round in a circle, so no order obeys them all.
    #[error("each of these steps must come before the next, and the last before the first: {0:?}")]
    Loop(
        /// The steps of one circle, in order.
        Vec<usize>,
    ),
}

impl Problem {
    /// Builds a problem from a row-major cost table (`costs[i * n + j]`: doing `j`
    /// straight after `i`) and pairs `(before, after)`. The diagonal is not read.
    ///
    /// # Errors
    /// [`Fault`] names the first entry or pair that makes no sense, or one whole circle.
    pub fn new(n: usize, costs: &[u32], pairs: &[(usize, usize)]) -> Result<Self, Fault> {
        if n > MAX_STEPS {
            return Err(Fault::TooMany { steps: n });
        }
        if costs.len() != n * n {
            return Err(Fault::TableSize {
                found: costs.len(),
                steps: n,
            });
        }
        let mut cost = vec![0; (n + 2) * (n + 2)];
        for from in 0..n {
            for to in (0..n).filter(|&to| to != from) {
                let given = costs[from * n + to];
                cost[from * (n + 2) + to] = i32::try_from(given)
                    .ok()
                    .filter(|_| given <= MAX_COST)
                    .ok_or(Fault::Cost {
                        from,
                        to,
                        cost: given,
                    })?;
            }
        }
        for &(before, after) in pairs {
            if before >= n || after >= n {
                return Err(Fault::NoSuchStep {
                    before,
                    after,
                    last: n.saturating_sub(1),
                });
            }
        }
        let order = order_of_pairs(n, pairs)?;
        let (reach, words) = close(n, pairs, &order);
        let (after, before) = reduce(n, &reach, words, &order);
        Ok(Self {
            n,
            cost,
            after,
            before,
            reach,
            words,
        })
    }

    /// How many steps there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.n
    }

    /// Whether there is nothing to order.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.n == 0
    }

    /// Whether `first` must come somewhere before `then`, by the pairs and what follows
    /// from them.
    #[must_use]
    pub fn must_precede(&self, first: usize, then: usize) -> bool {
        self.reach[first * self.words + then / 64] >> (then % 64) & 1 == 1
    }

    /// What an order costs: the sum over neighbouring steps. `None` when it is not an
    /// order of all steps or breaks a pair.
    #[must_use]
    pub fn value(&self, order: &[usize]) -> Option<u64> {
        let mut place = vec![usize::MAX; self.n];
        for (i, &step) in order.iter().enumerate() {
            if step >= self.n || place[step] != usize::MAX {
                return None;
            }
            place[step] = i;
        }
        if order.len() != self.n {
            return None;
        }
        let kept = (0..self.n).all(|i| self.after[i].iter().all(|&j| place[i] < place[j as usize]));
        kept.then(|| {
            let links = order.windows(2).map(|w| self.link(w[0], w[1]));
            links.map(|cost| u64::from(cost.unsigned_abs())).sum()
        })
    }

    /// What it costs to do `to` straight after `from`.
    #[must_use]
    pub fn cost(&self, from: usize, to: usize) -> u32 {
        self.link(from, to).unsigned_abs()
    }

    /// Cost of the link from `from` to `to`; both may be doors.
    pub(super) fn link(&self, from: usize, to: usize) -> i32 {
        self.cost[from * (self.n + 2) + to]
    }

    /// Steps that directly follow by a pair no other pairs imply.
    pub(super) fn after(&self, step: usize) -> &[u32] {
        &self.after[step]
    }

    /// Steps that directly precede by a pair no other pairs imply.
    pub(super) fn before(&self, step: usize) -> &[u32] {
        &self.before[step]
    }

    /// Whether `to` can stand straight after `from` in some order.
    pub(super) fn may_follow(&self, from: usize, to: usize) -> bool {
        from != to
            && !self.must_precede(to, from)
            && (!self.must_precede(from, to) || self.after[from].contains(&(to as u32)))
    }
}

/// One order that obeys all pairs, or the circle that forbids it.
fn order_of_pairs(n: usize, pairs: &[(usize, usize)]) -> Result<Vec<usize>, Fault> {
    let mut follows = vec![Vec::new(); n];
    let mut waiting = vec![0_usize; n];
    for &(before, after) in pairs {
        follows[before].push(after);
        waiting[after] += 1;
    }
    let mut order: Vec<usize> = (0..n).filter(|&i| waiting[i] == 0).collect();
    let mut done = 0;
    while done < order.len() {
        for &j in &follows[order[done]] {
            waiting[j] -= 1;
            if waiting[j] == 0 {
                order.push(j);
            }
        }
        done += 1;
    }
    if order.len() == n {
        return Ok(order);
    }
    // Every step still waiting has a predecessor that waits too: walking back among
    // them must come round.
    let held = |i: usize| waiting[i] > 0;
    let back = |i: usize| {
        let from = pairs.iter().find(|&&(b, a)| a == i && held(b));
        from.map_or(i, |&(b, _)| b)
    };
    let mut seen = vec![false; n];
    let mut at = (0..n).find(|&i| held(i)).unwrap_or(0);
    while !seen[at] {
        seen[at] = true;
        at = back(at);
    }
    let mut circle = vec![at];
    let mut next = back(at);
    while next != at {
        circle.push(next);
        next = back(next);
    }
    circle.reverse();
    Err(Fault::Loop(circle))
}

/// Everything the pairs imply, as rows of bits.
fn close(n: usize, pairs: &[(usize, usize)], order: &[usize]) -> (Vec<u64>, usize) {
    let words = n.div_ceil(64).max(1);
    let mut follows = vec![Vec::new(); n];
    for &(before, after) in pairs {
        follows[before].push(after);
    }
    let mut reach = vec![0_u64; n * words];
    for &i in order.iter().rev() {
        for &j in &follows[i] {
            for w in 0..words {
                reach[i * words + w] |= reach[j * words + w];
            }
            reach[i * words + j / 64] |= 1 << (j % 64);
        }
    }
    (reach, words)
}

/// The pairs that no chain of other pairs implies, both ways round.
fn reduce(
    n: usize,
    reach: &[u64],
    words: usize,
    order: &[usize],
) -> (Vec<Vec<u32>>, Vec<Vec<u32>>) {
    let mut after = vec![Vec::new(); n];
    let mut before = vec![Vec::new(); n];
    let mut implied = vec![0_u64; words];
    for i in 0..n {
        implied.fill(0);
        // In an order that obeys the pairs, whatever implies a pair comes earlier.
        for &j in order {
            let bit = |row: &[u64]| row[j / 64] >> (j % 64) & 1 == 1;
            if bit(&reach[i * words..]) && !bit(&implied) {
                after[i].push(j as u32);
                before[j].push(i as u32);
                for w in 0..words {
                    implied[w] |= reach[j * words + w];
                }
            }
        }
    }
    (after, before)
}
