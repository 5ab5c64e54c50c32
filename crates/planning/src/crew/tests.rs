//! Plans against brute force and against the rules they must keep.

use proptest::prelude::*;

use super::*;
use crate::chance::Chance;
use crate::{Budget, Stop};

fn step(duration: u32) -> Step {
    Step {
        duration,
        ..Step::default()
    }
}

fn by_hand(duration: u32, hands: u32) -> Step {
    Step {
        duration,
        hands,
        ..Step::default()
    }
}

fn link(before: usize, after: usize, wait: u32) -> Link {
    Link {
        before,
        after,
        wait,
    }
}

fn found(problem: &Problem, moves: u64) -> Solution {
    search(problem, &Budget::moves(moves), &Stop::new(), &mut |_| ()).unwrap()
}

/// A small random problem; with people of different hours when the seed is odd.
fn drawn(n: usize, seed: u64) -> Problem {
    let mut chance = Chance::new(seed, 3);
    let windowed = seed % 2 == 1;
    let hours = |chance: &mut Chance| {
        if !windowed {
            return Hours::Always;
        }
        let days = 0..30;
        Hours::Windows(
            days.map(|d| {
                (
                    d * 10 + chance.below(3) as u32,
                    d * 10 + 6 + chance.below(4) as u32,
                )
            })
            .collect(),
        )
    };
    let people = vec![hours(&mut chance), hours(&mut chance)];
    let resources = vec![
        Resource {
            amount: 3,
            hours: Hours::Always,
        },
        Resource {
            amount: 1,
            hours: Hours::Always,
        },
    ];
    let steps = (0..n).map(|_| Step {
        duration: chance.below(4) as u32,
        hands: chance.below(3) as u32,
        needs: vec![(0, chance.below(3) as u32), (1, chance.below(2) as u32)],
        release: if chance.below(4) == 0 {
            chance.below(15) as u32
        } else {
            0
        },
    });
    let steps: Vec<Step> = steps.collect();
    let mut links = Vec::new();
    for j in 1..n {
        if chance.below(3) == 0 {
            links.push(link(chance.below(j), j, chance.below(3) as u32));
        }
    }
    Problem::new(steps, &links, people, resources, 300).unwrap()
}

/// The earliest finish over every order of the steps, each step at its earliest place.
/// One of these plans is best when people are alike, for shifting every step of a best
/// plan to the left ends in one of them.
fn earliest(problem: &Problem) -> u32 {
    fn go(problem: &Problem, list: &mut Vec<usize>, best: &mut u32) {
        let n = problem.steps().len();
        if list.len() == n {
            if let Ok(plan) = schedule(problem, list) {
                *best = (*best).min(plan.finish);
            }
            return;
        }
        for s in 0..n {
            if !list.contains(&s) {
                list.push(s);
                go(problem, list, best);
                list.pop();
            }
        }
    }
    let mut best = u32::MAX;
    go(problem, &mut Vec::new(), &mut best);
    best
}

/// Source: every list of up to six steps, tried one by one.
/// Kind: brute force in this test.
#[test]
fn small_problems_are_solved_best_and_the_bound_stays_below() {
    for seed in 0..40 {
        let problem = drawn(2 + seed as usize % 5, seed);
        let best = earliest(&problem);
        let solution = found(&problem, 2_000);
        assert_eq!(solution.schedule.finish, best, "seed {seed}");
        assert!(
            solution.bound <= best,
            "seed {seed}: bound {} above {best}",
            solution.bound
        );
        assert!(problem.obeys(&solution.schedule), "seed {seed}");
    }
}

/// Worked by hand: one person, evenings of four slots, three steps of three slots. Each
/// takes an evening of its own, so the third ends in slot 2 · 24 + 20 + 3.
#[test]
fn a_step_is_not_broken_off_at_the_end_of_an_evening() {
    let evenings = Hours::Windows((0..9).map(|d| (d * 24 + 20, d * 24 + 24)).collect());
    let steps = vec![by_hand(3, 1); 3];
    let problem = Problem::new(steps, &[], vec![evenings], Vec::new(), 240).unwrap();
    assert_eq!(found(&problem, 1_000).schedule.finish, 71);
}

/// Worked by hand: the second person is there in slots 10 to 20 only, so the step for
/// two waits for slot 10 although the first is free before, and both work on it.
#[test]
fn a_step_for_two_waits_for_both() {
    let people = vec![Hours::Always, Hours::Windows(vec![(10, 20)])];
    let steps = vec![by_hand(4, 1), by_hand(5, 2)];
    let problem = Problem::new(steps, &[link(0, 1, 0)], people, Vec::new(), 100).unwrap();
    let solution = found(&problem, 1_000);
    assert_eq!(solution.schedule.start, [0, 10]);
    assert_eq!(solution.schedule.people, [vec![0], vec![0, 1]]);
    assert_eq!((solution.schedule.finish, solution.proved()), (15, true));
}

/// Worked by hand: two people are there, yet neither for six slots together, and a
/// step is not handed over halfway.
#[test]
fn a_step_is_not_handed_from_one_person_to_the_next() {
    let people = vec![Hours::Windows(vec![(0, 5)]), Hours::Windows(vec![(5, 10)])];
    let problem = Problem::new(vec![by_hand(6, 1)], &[], people, Vec::new(), 50).unwrap();
    let fault = search(&problem, &Budget::moves(10), &Stop::new(), &mut |_| ()).unwrap_err();
    assert!(
        matches!(
            fault,
            Fault::NeverFits {
                step: 0,
                duration: 6,
                ..
            }
        ),
        "{fault}"
    );
}

/// Worked by hand: one hoist, two steps under the vehicle of 4 and 6 slots, a cure of 5
/// slots that takes nobody behind the first, then one slot of work; parts for another
/// step arrive in slot 12. Hoist first for the cured step: 4 + 5 + 1 = 10; the hoist is
/// free again at 10; the late parts keep the end at 12 + 2.
#[test]
fn hoist_cure_and_delivery_are_kept() {
    let hoist = Resource {
        amount: 1,
        hours: Hours::Always,
    };
    let under = |duration| Step {
        duration,
        hands: 1,
        needs: vec![(0, 1)],
        release: 0,
    };
    let late = Step {
        release: 12,
        ..by_hand(2, 1)
    };
    let steps = vec![under(4), under(6), by_hand(1, 1), late];
    let people = vec![Hours::Always, Hours::Always];
    let problem = Problem::new(steps, &[link(0, 2, 5)], people, vec![hoist], 100).unwrap();
    let solution = found(&problem, 1_000);
    assert_eq!(solution.schedule.finish, 14);
    assert!(solution.proved());
    assert!(problem.obeys(&solution.schedule));
}

#[test]
fn the_same_seed_and_budget_give_the_same_plan_also_on_two_threads() {
    let problem = drawn(40, 21);
    for threads in [1, 2] {
        let budget = Budget::moves(4_000).threads(threads).seed(9);
        let run = || search(&problem, &budget, &Stop::new(), &mut |_| ()).unwrap();
        assert_eq!(run(), run());
    }
}

#[test]
fn a_raised_flag_ends_the_search_with_the_first_plan() {
    let problem = drawn(40, 21);
    let stop = Stop::new();
    stop.raise();
    let solution = search(&problem, &Budget::until_stopped(), &stop, &mut |_| ()).unwrap();
    assert!(problem.obeys(&solution.schedule));
}

#[test]
fn a_calendar_that_ends_too_soon_is_told_from_a_step_that_never_fits() {
    let hours = || vec![Hours::Windows(vec![(0, 5), (7, 10)])];
    let full = Problem::new(vec![by_hand(4, 1); 2], &[], hours(), Vec::new(), 10).unwrap();
    let fault = schedule(&full, &[0, 1]).unwrap_err();
    assert_eq!(
        fault,
        Fault::CalendarEnds {
            step: 1,
            horizon: 10
        }
    );
    let long = Problem::new(vec![by_hand(6, 1)], &[], hours(), Vec::new(), 10).unwrap();
    assert!(matches!(
        schedule(&long, &[0]),
        Err(Fault::NeverFits { .. })
    ));
}

#[test]
fn senseless_problems_are_refused() {
    let new = |steps, links: &[Link]| Problem::new(steps, links, Vec::new(), Vec::new(), 10);
    let steps = || vec![step(1); 3];
    assert!(matches!(
        new(steps(), &[link(0, 3, 0)]),
        Err(Fault::NoSuchStep { after: 3, .. })
    ));
    let circle = [link(0, 1, 0), link(1, 2, 0), link(2, 1, 0)];
    assert!(matches!(new(steps(), &circle), Err(Fault::Loop(steps)) if steps.len() == 2));
    let needs = Step {
        needs: vec![(0, 1)],
        ..step(1)
    };
    assert!(matches!(
        new(vec![needs], &[]),
        Err(Fault::NoSuchResource { .. })
    ));
    let people = vec![Hours::Windows(vec![(3, 5), (4, 6)])];
    assert_eq!(
        Problem::new(steps(), &[], people, Vec::new(), 10).unwrap_err(),
        Fault::Window { from: 4, to: 6 }
    );
    let problem = new(steps(), &[link(0, 1, 0)]).unwrap();
    assert_eq!(schedule(&problem, &[1, 0, 2]).unwrap_err(), Fault::List);
    assert_eq!(schedule(&problem, &[0, 1, 1]).unwrap_err(), Fault::List);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Whatever the problem, the plan keeps all its rules, and the bound is not above
    /// its end.
    #[test]
    fn every_plan_obeys_the_problem(n in 1_usize..30, seed in 0_u64..10_000) {
        let problem = drawn(n, seed);
        let solution = found(&problem, 300);
        prop_assert!(problem.obeys(&solution.schedule));
        prop_assert!(solution.bound <= solution.schedule.finish);
    }
}
