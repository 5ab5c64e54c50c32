//! An order being worked on: where each step stands, and the one move that is made, the
//! swap of two neighbouring blocks.

use super::Problem;

/// An order with the doors at both ends, so that step positions run from 1 to n.
#[derive(Debug, Clone)]
pub(super) struct Path {
    steps: Vec<u32>,
    place: Vec<u32>,
    value: i64,
}

/// Swap the blocks `a..=b` and `b + 1..=c` of a path, `1 <= a <= b < c <= n`.
///
/// ```text
///   p [ A ........ ] [ B ........ ] s      p [ B ] [ A ] s
///      a          b   b+1        c
/// ```
/// Every exchange of three links that reverses nothing is such a swap, and so is moving
/// one block elsewhere.
#[derive(Debug, Clone, Copy)]
pub(super) struct Swap {
    pub(super) a: usize,
    pub(super) b: usize,
    pub(super) c: usize,
}

impl Path {
    /// A path through all steps in this order, which must obey the pairs.
    pub(super) fn new(problem: &Problem, order: &[usize]) -> Self {
        let n = problem.len();
        let mut steps = Vec::with_capacity(n + 2);
        steps.push(n as u32);
        steps.extend(order.iter().map(|&s| s as u32));
        steps.push(n as u32 + 1);
        let mut place = vec![0; n + 2];
        for (i, &s) in steps.iter().enumerate() {
            place[s as usize] = i as u32;
        }
        let links = steps.windows(2);
        let value = links
            .map(|w| i64::from(problem.link(w[0] as usize, w[1] as usize)))
            .sum();
        Self {
            steps,
            place,
            value,
        }
    }

    pub(super) fn value(&self) -> i64 {
        self.value
    }

    /// The step at position `i`.
    pub(super) fn at(&self, i: usize) -> usize {
        self.steps[i] as usize
    }

    /// The position of `step`.
    pub(super) fn place(&self, step: usize) -> usize {
        self.place[step] as usize
    }

    /// The order without the doors.
    pub(super) fn order(&self) -> Vec<usize> {
        let inner = &self.steps[1..self.steps.len() - 1];
        inner.iter().map(|&s| s as usize).collect()
    }

    /// Takes over another path of the same problem.
    pub(super) fn copy_from(&mut self, other: &Self) {
        self.steps.copy_from_slice(&other.steps);
        self.place.copy_from_slice(&other.place);
        self.value = other.value;
    }

    /// What the swap would add to the value.
    pub(super) fn delta(&self, problem: &Problem, swap: Swap) -> i32 {
        let Swap { a, b, c } = swap;
        let (p, s) = (self.at(a - 1), self.at(c + 1));
        let (a_first, a_last) = (self.at(a), self.at(b));
        let (b_first, b_last) = (self.at(b + 1), self.at(c));
        problem.link(p, b_first) + problem.link(b_last, a_first) + problem.link(a_last, s)
            - problem.link(p, a_first)
            - problem.link(a_last, b_first)
            - problem.link(b_last, s)
    }

    /// Whether nothing in the first block must precede anything in the second.
    ///
    /// Direct pairs are enough: a longer chain from one block to the other stays inside
    /// the two and crosses somewhere by a direct pair.
    pub(super) fn allows(&self, problem: &Problem, swap: Swap) -> bool {
        let Swap { a, b, c } = swap;
        if b - a < c - b {
            self.steps[a..=b].iter().all(|&x| {
                let after = problem.after(x as usize);
                after.iter().all(|&y| {
                    let at = self.place(y as usize);
                    at <= b || at > c
                })
            })
        } else {
            self.steps[b + 1..=c].iter().all(|&y| {
                let before = problem.before(y as usize);
                before.iter().all(|&x| {
                    let at = self.place(x as usize);
                    at < a || at > b
                })
            })
        }
    }

    /// Makes the swap, whose delta the caller knows.
    pub(super) fn make(&mut self, swap: Swap, delta: i32) {
        let Swap { a, b, c } = swap;
        self.steps[a..=c].rotate_left(b + 1 - a);
        for i in a..=c {
            self.place[self.steps[i] as usize] = i as u32;
        }
        self.value += i64::from(delta);
    }
}
