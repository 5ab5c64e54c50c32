//! What is to be reached: parts with costs, what each needs off, and the targets.

/// The largest work or money one part or way may cost.
const MAX_COST: u64 = 1_000_000_000;

/// Work and money. Less work is cheaper; money decides between equal work.
///
/// The units are the caller's, as long as all costs of a problem share them (seconds,
/// say, and cents).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cost {
    /// Work, compared first.
    pub work: u64,
    /// Money, compared where the work is equal.
    pub money: u64,
}

impl std::ops::Add for Cost {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self {
            work: self.work + other.work,
            money: self.money + other.money,
        }
    }
}

impl std::iter::Sum for Cost {
    fn sum<I: Iterator<Item = Self>>(costs: I) -> Self {
        costs.fold(Self::default(), |a, b| a + b)
    }
}

/// One way to free a part: these must be off, and taking this way costs extra.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Way {
    /// Parts in the way, by number.
    pub blockers: Vec<usize>,
    /// What this way costs beyond taking off what is in it.
    pub extra: Cost,
}

/// One part.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Part {
    /// What taking it off (and putting it on) costs.
    pub cost: Cost,
    /// Parts that must be off before it can come off.
    pub needs: Vec<usize>,
    /// Choices: of each, one way must be wholly off before it can come off. A choice
    /// without ways means that the part cannot come off at all.
    pub choices: Vec<Vec<Way>>,
    /// Parts that come off with it at no cost of their own, free or not.
    pub brings: Vec<usize>,
}

/// Parts and targets, checked.
#[derive(Debug, Clone)]
pub struct Problem {
    pub(super) parts: Vec<Part>,
    pub(super) targets: Vec<usize>,
    /// By part: who takes it off, itself first.
    pub(super) takers: Vec<Vec<usize>>,
}

/// One part taken off, with the way taken for each of its choices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Removal {
    /// The part.
    pub part: usize,
    /// For each choice of the part, the number of the way taken.
    pub ways: Vec<usize>,
}

/// Why nothing can be reached.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// A part names a part that does not exist.
    #[error("part {part} names part {names}, but there are only {parts}, counted from 0")]
    NoSuchPart {
        /// The part that names it.
        part: usize,
        /// The number it gives.
        names: usize,
        /// How many parts there are.
        parts: usize,
    },
    /// A target that does not exist.
    #[error("target {target} does not exist; there are only {parts} parts, counted from 0")]
    NoSuchTarget {
        /// The target.
        target: usize,
        /// How many parts there are.
        parts: usize,
    },
    /// A cost so large that sums would lose their meaning.
    #[error("part {part} costs {cost}, more than {MAX_COST}")]
    Cost {
        /// The part, or the part whose way it is.
        part: usize,
        /// The cost given.
        cost: u64,
    },
    /// The target can never come off: these parts hold each other up, or wait for one
    /// that does.
    #[error("part {target} cannot come off: these hold each other up, with no way out: {held:?}")]
    Stuck {
        /// The target.
        target: usize,
        /// Parts that hold each other up, each held by another of them.
        held: Vec<usize>,
    },
    /// The numbers of the linear programme went bad.
    #[error("the solver of linear programmes failed: {0}")]
    Solver(String),
}

impl Problem {
    /// Checks and takes in parts and targets. Parts already off are left out by the
    /// caller, also among needs and blockers.
    ///
    /// # Errors
    /// [`Fault`] names the first number that makes no sense.
    pub fn new(mut parts: Vec<Part>, targets: &[usize]) -> Result<Self, Fault> {
        let count = parts.len();
        for part in &mut parts {
            let ways = part.choices.iter_mut().flatten();
            let blockers = ways.map(|way| &mut way.blockers);
            for named in blockers.chain([&mut part.needs, &mut part.brings]) {
                named.sort_unstable();
                named.dedup();
            }
        }
        let mut takers: Vec<Vec<usize>> = (0..count).map(|p| vec![p]).collect();
        for (p, part) in parts.iter().enumerate() {
            let ways = || part.choices.iter().flatten();
            let blockers = ways().flat_map(|way| &way.blockers);
            let named = part.needs.iter().chain(blockers).chain(&part.brings);
            if let Some(&names) = named.into_iter().find(|&&names| names >= count) {
                return Err(Fault::NoSuchPart {
                    part: p,
                    names,
                    parts: count,
                });
            }
            let costs = ways().map(|way| way.extra).chain([part.cost]);
            let highest = costs.map(|c| c.work.max(c.money)).max().unwrap_or(0);
            if highest > MAX_COST {
                return Err(Fault::Cost {
                    part: p,
                    cost: highest,
                });
            }
            for &brought in part.brings.iter().filter(|&&b| b != p) {
                takers[brought].push(p);
            }
        }
        if let Some(&target) = targets.iter().find(|&&t| t >= count) {
            return Err(Fault::NoSuchTarget {
                target,
                parts: count,
            });
        }
        let mut targets = targets.to_vec();
        targets.sort_unstable();
        targets.dedup();
        Ok(Self {
            parts,
            targets,
            takers,
        })
    }

    /// The parts, in the order given.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// What a row of removals costs; `None` when some part is not free at its turn, is
    /// taken twice, or a target is not off at the end.
    #[must_use]
    pub fn value(&self, removals: &[Removal]) -> Option<Cost> {
        let mut off = vec![false; self.parts.len()];
        let mut taken = vec![false; self.parts.len()];
        let mut sum = Cost::default();
        for removal in removals {
            let part = self.parts.get(removal.part)?;
            let needs = part.needs.iter().all(|&n| off[n]);
            if taken[removal.part] || !needs || removal.ways.len() != part.choices.len() {
                return None;
            }
            sum = sum + part.cost;
            for (choice, &way) in part.choices.iter().zip(&removal.ways) {
                let way = choice.get(way)?;
                if !way.blockers.iter().all(|&b| off[b]) {
                    return None;
                }
                sum = sum + way.extra;
            }
            taken[removal.part] = true;
            off[removal.part] = true;
            for &brought in &part.brings {
                off[brought] = true;
            }
        }
        self.targets.iter().all(|&t| off[t]).then_some(sum)
    }
}
