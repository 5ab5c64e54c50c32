//! What taking a part off implies whatever way is chosen, and what follows from it: ways
//! that can never be taken, ways never worth taking, parts that must come off.

use super::greedy::peel;
use super::{Fault, Problem};

/// A set of parts as bits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Set(Vec<u64>);

impl Set {
    fn empty(count: usize) -> Self {
        Self(vec![0; count.div_ceil(64)])
    }

    fn full(count: usize) -> Self {
        let mut set = Self::empty(count);
        (0..count).for_each(|p| set.insert(p));
        set
    }

    pub(super) fn insert(&mut self, p: usize) {
        self.0[p / 64] |= 1 << (p % 64);
    }

    pub(super) fn contains(&self, p: usize) -> bool {
        self.0[p / 64] >> (p % 64) & 1 == 1
    }

    fn unite(&mut self, other: &Self) {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a |= b);
    }

    fn meet(&mut self, other: &Self) {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a &= b);
    }
}

/// What is implied.
#[derive(Debug)]
pub(super) struct Implied {
    /// By part: every part taken before or with it, itself included.
    pub(super) taken: Vec<Set>,
    /// By part and choice: the ways worth thinking about.
    pub(super) ways: Vec<Vec<Vec<usize>>>,
    /// Parts that can come off at all.
    pub(super) loose: Vec<bool>,
    /// Parts taken in every answer.
    pub(super) forced: Vec<usize>,
    /// Parts that some sensible answer may take.
    pub(super) useful: Vec<bool>,
}

impl Implied {
    /// Works all of it out.
    ///
    /// # Errors
    /// [`Fault::Stuck`] when a target cannot come off.
    pub(super) fn of(problem: &Problem) -> Result<Self, Fault> {
        let (_, held) = peel(problem, &vec![true; problem.parts.len()], &|_, _, _| true);
        let mut loose = vec![true; problem.parts.len()];
        for p in held {
            loose[p] = false;
        }
        if let Some(&target) = problem
            .targets
            .iter()
            .find(|&&t| !off_possible(problem, &loose, t))
        {
            return Err(stuck(problem, &loose, target));
        }
        let mut ways: Vec<Vec<Vec<usize>>> = problem
            .parts
            .iter()
            .map(|part| {
                part.choices
                    .iter()
                    .map(|c| (0..c.len()).collect())
                    .collect()
            })
            .collect();
        let mut taken = fixpoint(problem, &ways, &loose);
        while drop_ways(problem, &mut ways, &loose, &taken) {
            taken = fixpoint(problem, &ways, &loose);
        }
        let mut forced = Set::empty(problem.parts.len());
        for &t in &problem.targets {
            forced.unite(&off(problem, &loose, &taken, t));
        }
        let forced = (0..problem.parts.len())
            .filter(|&p| forced.contains(p))
            .collect();
        let useful = useful(problem, &ways, &loose);
        Ok(Self {
            taken,
            ways,
            loose,
            forced,
            useful,
        })
    }

    /// Parts taken whenever `way` of a choice of `p` is, not counting `p`.
    pub(super) fn by_way(&self, problem: &Problem, p: usize, choice: usize, way: usize) -> Set {
        union(
            problem,
            &self.loose,
            &self.taken,
            &problem.parts[p].choices[choice][way].blockers,
        )
    }
}

/// Whether a part can be off: taken off itself, or brought by one that can.
fn off_possible(problem: &Problem, loose: &[bool], p: usize) -> bool {
    problem.takers[p].iter().any(|&t| loose[t])
}

/// Names the parts that keep a target from coming off: from the target along what holds
/// it until the walk comes round.
fn stuck(problem: &Problem, loose: &[bool], target: usize) -> Fault {
    let holds = |p: usize| {
        let part = &problem.parts[p];
        let closed = |b: &&usize| !off_possible(problem, loose, **b);
        let by_need = part.needs.iter().find(closed);
        let choices = part.choices.iter();
        let mut shut =
            choices.filter(|c| c.iter().all(|way| way.blockers.iter().any(|b| closed(&b))));
        let by_way = || shut.find_map(|c| c.first()?.blockers.iter().find(closed));
        by_need.or_else(by_way).copied()
    };
    let mut walk = vec![target];
    while let Some(next) = holds(walk[walk.len() - 1]) {
        if let Some(begin) = walk.iter().position(|&p| p == next) {
            walk.drain(..begin);
            break;
        }
        walk.push(next);
    }
    Fault::Stuck { target, held: walk }
}

/// What must be taken for `p` to be off: what all its takers imply.
fn off(problem: &Problem, loose: &[bool], taken: &[Set], p: usize) -> Set {
    let mut all = Set::full(taken.len());
    for &t in problem.takers[p].iter().filter(|&&t| loose[t]) {
        all.meet(&taken[t]);
    }
    all
}

fn union(problem: &Problem, loose: &[bool], taken: &[Set], parts: &[usize]) -> Set {
    let mut all = Set::empty(taken.len());
    for &p in parts {
        all.unite(&off(problem, loose, taken, p));
    }
    all
}

/// The largest sets that imply themselves: begun from everything, each round keeps only
/// what needs, and all ways of some choice, still imply.
fn fixpoint(problem: &Problem, ways: &[Vec<Vec<usize>>], loose: &[bool]) -> Vec<Set> {
    let count = problem.parts.len();
    let mut taken = vec![Set::full(count); count];
    loop {
        let mut changed = false;
        for p in (0..count).filter(|&p| loose[p]) {
            let part = &problem.parts[p];
            let mut set = union(problem, loose, &taken, &part.needs);
            for (choice, open) in part.choices.iter().zip(&ways[p]) {
                let mut common = Set::full(count);
                for &way in open {
                    common.meet(&union(problem, loose, &taken, &choice[way].blockers));
                }
                set.unite(&common);
            }
            set.insert(p);
            if set != taken[p] {
                taken[p] = set;
                changed = true;
            }
        }
        if !changed {
            return taken;
        }
    }
}

/// Drops ways that cannot be taken and ways that another way beats. True when some went.
fn drop_ways(
    problem: &Problem,
    ways: &mut [Vec<Vec<usize>>],
    loose: &[bool],
    taken: &[Set],
) -> bool {
    let mut dropped = false;
    for p in (0..problem.parts.len()).filter(|&p| loose[p]) {
        for (choice, open) in problem.parts[p].choices.iter().zip(&mut ways[p]) {
            let implied: Vec<Set> = choice
                .iter()
                .map(|way| union(problem, loose, taken, &way.blockers))
                .collect();
            let before = open.len();
            // A way that takes the part itself first, or a part that never comes off.
            open.retain(|&w| {
                let possible = choice[w]
                    .blockers
                    .iter()
                    .all(|&b| off_possible(problem, loose, b));
                possible && !implied[w].contains(p)
            });
            // Whoever takes way b has by then taken what way a wants.
            let beats = |a: usize, b: usize| {
                choice[a].extra.work <= choice[b].extra.work
                    && choice[a].extra.money <= choice[b].extra.money
                    && choice[a].blockers.iter().all(|&u| {
                        choice[b].blockers.contains(&u)
                            || problem.takers[u].iter().any(|&t| implied[b].contains(t))
                    })
            };
            let mut kept: Vec<usize> = Vec::new();
            for &w in open.iter() {
                if !kept.iter().any(|&k| beats(k, w)) {
                    kept.retain(|&k| !beats(w, k));
                    kept.push(w);
                }
            }
            *open = kept;
            dropped |= open.len() < before;
        }
    }
    dropped
}

/// Parts that can be met walking from the targets along needs and ways.
fn useful(problem: &Problem, ways: &[Vec<Vec<usize>>], loose: &[bool]) -> Vec<bool> {
    let mut useful = vec![false; problem.parts.len()];
    let mut stack: Vec<usize> = problem.targets.clone();
    let mut seen = vec![false; problem.parts.len()];
    while let Some(off) = stack.pop() {
        if std::mem::replace(&mut seen[off], true) {
            continue;
        }
        for &t in problem.takers[off].iter().filter(|&&t| loose[t]) {
            useful[t] = true;
            let part = &problem.parts[t];
            stack.extend(&part.needs);
            for (choice, open) in part.choices.iter().zip(&ways[t]) {
                stack.extend(open.iter().flat_map(|&w| &choice[w].blockers));
            }
        }
    }
    useful
}
