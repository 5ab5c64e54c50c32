//! Orders against brute force and against the rules they must keep.

use proptest::prelude::*;

use super::*;
use crate::chance::Chance;
use crate::{Budget, Stop};

/// A small random problem: some pairs, costs with many ties or widely spread.
fn drawn(n: usize, seed: u64) -> (Problem, Vec<u32>) {
    let mut chance = Chance::new(seed, 7);
    let spread = if seed.is_multiple_of(2) { 4 } else { 1_000 };
    let costs: Vec<u32> = (0..n * n).map(|_| chance.below(spread) as u32).collect();
    let mut pairs = Vec::new();
    for j in 1..n {
        if chance.below(3) == 0 {
            pairs.push((chance.below(j), j));
        }
    }
    (Problem::new(n, &costs, &pairs).unwrap(), costs)
}

/// The least value over every order, tried one by one.
fn least(problem: &Problem) -> u64 {
    fn go(problem: &Problem, order: &mut Vec<usize>, least: &mut u64) {
        if order.len() == problem.len() {
            if let Some(value) = problem.value(order) {
                *least = (*least).min(value);
            }
            return;
        }
        for step in 0..problem.len() {
            if !order.contains(&step) {
                order.push(step);
                go(problem, order, least);
                order.pop();
            }
        }
    }
    let mut least_value = u64::MAX;
    go(problem, &mut Vec::new(), &mut least_value);
    least_value
}

fn found(problem: &Problem, budget: Budget) -> Solution {
    search(problem, &budget, &Stop::new(), &mut |_, _| ())
}

/// Source: every order of up to seven steps, tried one by one.
/// Kind: brute force in this test.
#[test]
fn small_problems_are_solved_best_and_the_bound_stays_below() {
    for seed in 0..60 {
        let (problem, _) = drawn(2 + seed as usize % 6, seed);
        let best = least(&problem);
        let solution = found(&problem, Budget::moves(60_000).seed(seed));
        assert_eq!(solution.value, best, "seed {seed}");
        assert!(
            solution.bound <= best,
            "seed {seed}: bound {} above {best}",
            solution.bound
        );
        assert_eq!(problem.value(&solution.order), Some(best));
    }
}

/// The bound alone, with many rounds, also stays below the brute-force value, and comes
/// close on average: a bound of nothing would pass the first demand.
#[test]
fn the_bound_is_valid_and_not_idle() {
    let (mut bounds, mut values) = (0, 0);
    for seed in 0..60 {
        let (problem, _) = drawn(7, 1_000 + seed);
        let best = least(&problem);
        let bound = lower_bound(&problem, best, 200, &Stop::new());
        assert!(bound <= best, "seed {seed}: {bound} above {best}");
        bounds += bound;
        values += best;
    }
    assert!(
        bounds * 10 >= values * 8,
        "bounds add up to {bounds} of {values}"
    );
}

#[test]
fn the_same_seed_and_budget_give_the_same_order_also_on_two_threads() {
    let (problem, _) = drawn(60, 11);
    for threads in [1, 2] {
        let budget = Budget::moves(1_500_000).threads(threads).seed(4);
        assert_eq!(found(&problem, budget), found(&problem, budget));
    }
}

#[test]
fn improvements_are_told_as_they_come_and_the_last_is_the_answer() {
    let (problem, _) = drawn(80, 3);
    let mut told = Vec::new();
    let solution = search(
        &problem,
        &Budget::moves(1_000_000),
        &Stop::new(),
        &mut |order, value| {
            assert_eq!(problem.value(order), Some(value));
            told.push(value);
        },
    );
    assert!(told.windows(2).all(|w| w[1] < w[0]), "{told:?}");
    assert_eq!(told.last(), Some(&solution.value));
    assert!(told.len() > 1, "the first order was never improved");
}

#[test]
fn a_raised_flag_ends_the_search_with_the_first_order() {
    let (problem, _) = drawn(80, 3);
    let stop = Stop::new();
    stop.raise();
    let solution = search(&problem, &Budget::until_stopped(), &stop, &mut |_, _| ());
    assert_eq!(problem.value(&solution.order), Some(solution.value));
    assert_eq!(solution.moves, 0);
}

#[test]
fn a_circle_of_pairs_is_named_whole() {
    let costs = vec![1; 25];
    let pairs = [(0, 1), (1, 2), (2, 3), (3, 1), (3, 4)];
    let fault = Problem::new(5, &costs, &pairs).unwrap_err();
    let Fault::Loop(mut circle) = fault else {
        panic!("{fault}");
    };
    for i in 0..circle.len() {
        let next = circle[(i + 1) % circle.len()];
        assert!(pairs.contains(&(circle[i], next)), "{circle:?}");
    }
    circle.sort_unstable();
    assert_eq!(circle, [1, 2, 3]);
}

#[test]
fn senseless_tables_and_pairs_are_refused() {
    assert_eq!(
        Problem::new(2, &[0; 3], &[]).unwrap_err(),
        Fault::TableSize { found: 3, steps: 2 }
    );
    assert!(matches!(
        Problem::new(2, &[0, u32::MAX, 0, 0], &[]),
        Err(Fault::Cost { from: 0, to: 1, .. })
    ));
    assert!(matches!(
        Problem::new(2, &[0; 4], &[(0, 2)]),
        Err(Fault::NoSuchStep { after: 2, .. })
    ));
    assert!(matches!(
        Problem::new(2, &[0; 4], &[(1, 1)]),
        Err(Fault::Loop(_))
    ));
}

#[test]
fn none_and_one_step_are_orders_too() {
    for n in [0, 1] {
        let problem = Problem::new(n, &vec![5; n * n], &[]).unwrap();
        let solution = found(&problem, Budget::moves(10_000));
        assert_eq!((solution.value, solution.order.len()), (0, n));
        assert!(solution.proved());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Whatever the problem and the seed, the order obeys every pair and costs what it
    /// is said to cost, and the bound is not above it.
    #[test]
    fn every_order_obeys_every_pair(n in 2_usize..40, seed in 0_u64..10_000) {
        let (problem, costs) = drawn(n, seed);
        let solution = found(&problem, Budget::moves(20_000).threads(2).seed(seed));
        let place = |s: usize| solution.order.iter().position(|&t| t == s).unwrap();
        for i in 0..n {
            for j in 0..n {
                if problem.must_precede(i, j) {
                    prop_assert!(place(i) < place(j));
                }
            }
        }
        let sum: u64 = solution.order.windows(2).map(|w| u64::from(costs[w[0] * n + w[1]])).sum();
        prop_assert_eq!(sum, solution.value);
        prop_assert!(solution.bound <= solution.value);
    }
}
