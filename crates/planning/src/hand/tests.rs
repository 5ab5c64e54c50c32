//! Sharing out acts. Stacks are invented; what is expected follows from the words of each test.

use super::*;
use crate::example::{self, part_ref};
use crate::graph::{Choices, Graph};
use crate::sequence::{Legs, Wish, sequence};
use crate::standing::Standing;
use crate::{Budget, Stop};

struct Shop {
    singles: BTreeMap<ToolId, u32>,
    wrenches: BTreeMap<StepName, ToolId>,
    begun: BTreeSet<StepName>,
}

impl Shop {
    fn plain() -> Self {
        Self {
            singles: BTreeMap::new(),
            wrenches: BTreeMap::new(),
            begun: BTreeSet::new(),
        }
    }

    fn turns(&self, book: &Book, plan: &Plan, workers: &[Worker], rounds: usize) -> Vec<Turn> {
        let bench = Bench {
            book,
            plan,
            singles: &self.singles,
            wrenches: &self.wrenches,
            begun: &self.begun,
        };
        turns(&bench, workers, rounds)
    }
}

fn way_off(book: &Book) -> Plan {
    let graph = Graph::new(book, &Choices::new());
    let wish = Wish {
        targets: Vec::new(),
        legs: Legs::Apart,
    };
    let mut standing = Standing::default();
    // The gate before opening is behind us; here only hands matter.
    standing.gates.insert(book::GateId::from("before-opening"));
    sequence(
        &graph,
        &standing,
        &wish,
        None,
        &Budget::moves(500),
        &Stop::new(),
        &mut |_| {},
    )
    .unwrap()
}

fn workers(names: &[&str]) -> Vec<Worker> {
    names
        .iter()
        .map(|name| Worker {
            name: (*name).to_owned(),
            holds: None,
        })
        .collect()
}

fn names(plan: &Plan, turns: &[Turn]) -> Vec<(usize, usize, String)> {
    turns
        .iter()
        .map(|turn| (turn.round, turn.who, plan.steps[turn.step].name.to_string()))
        .collect()
}

/// Two stacks side by side on one block: whoever works on one keeps clear of the other.
fn two_stacks() -> Book {
    let mut book = example::stack(&["lid", "pan"]);
    for part in &mut book.parts {
        part.needs_off.clear();
    }
    book
}

#[test]
fn one_person_gets_the_plan_in_its_order() {
    let book = example::stack(&["top", "middle", "low"]);
    let plan = way_off(&book);
    let shared = Shop::plain().turns(&book, &plan, &workers(&["ana"]), plan.steps.len());
    let order: Vec<usize> = shared.iter().map(|turn| turn.step).collect();
    assert_eq!(order, (0..plan.steps.len()).collect::<Vec<_>>());
}

#[test]
fn two_people_never_have_the_same_part_in_hand() {
    let book = two_stacks();
    let plan = way_off(&book);
    let shared = Shop::plain().turns(&book, &plan, &workers(&["ana", "rui"]), 4);
    for round in 0..4 {
        let parts: Vec<BTreeSet<PartId>> = shared
            .iter()
            .filter(|turn| turn.round == round)
            .map(|turn| touched(&book, &plan.steps[turn.step]))
            .collect();
        if let [one, other] = &parts[..] {
            assert!(one.is_disjoint(other), "{round}: {one:?} {other:?}");
        }
    }
    let first: Vec<_> = shared.iter().filter(|turn| turn.round == 0).collect();
    assert_eq!(first.len(), 2, "{:?}", names(&plan, &shared));
}

#[test]
fn in_one_stack_the_second_person_waits() {
    let book = example::stack(&["top", "middle", "low"]);
    let plan = way_off(&book);
    let shared = Shop::plain().turns(&book, &plan, &workers(&["ana", "rui"]), 3);
    for round in 0..3 {
        let busy = shared.iter().filter(|turn| turn.round == round).count();
        assert_eq!(busy, 1, "{:?}", names(&plan, &shared));
    }
}

#[test]
fn whoever_said_to_hold_a_thing_keeps_it() {
    let book = two_stacks();
    let plan = way_off(&book);
    let undo_pan = StepName {
        act: StepAct::Undo,
        target: Ref::Joint("pan-block".into()),
    };
    let mut people = workers(&["ana", "rui"]);
    people[0].holds = Some(undo_pan.clone());
    let shared = Shop::plain().turns(&book, &plan, &people, 1);
    let of = |who: usize| shared.iter().find(|turn| turn.who == who).unwrap().step;
    assert_eq!(plan.steps[of(0)].name, undo_pan);
    assert_ne!(of(0), of(1));
}

#[test]
fn a_tool_of_which_there_is_one_is_in_one_hand() {
    let book = two_stacks();
    let plan = way_off(&book);
    let mut shop = Shop::plain();
    let puller = ToolId::new("puller");
    for step in &plan.steps {
        if step.name.act == StepAct::Undo {
            shop.wrenches.insert(step.name.clone(), puller.clone());
        }
    }
    shop.singles.insert(puller.clone(), 1);
    let people = workers(&["ana", "rui"]);
    let with_one = shop.turns(&book, &plan, &people, 1);
    assert_eq!(with_one.len(), 1, "{:?}", names(&plan, &with_one));
    shop.singles.insert(puller, 2);
    let with_two = shop.turns(&book, &plan, &people, 1);
    assert_eq!(with_two.len(), 2, "{:?}", names(&plan, &with_two));
}

#[test]
fn an_act_for_two_takes_both_pairs_of_hands() {
    let mut book = two_stacks();
    for part in &mut book.parts {
        part.effort.hands = book::Fact::said(2, "2");
    }
    let plan = way_off(&book);
    let off = plan
        .steps
        .iter()
        .position(|step| step.name.target == part_ref("lid") && step.hands == 2);
    let off = off.expect("lifting the lid takes two");
    let shared = Shop::plain().turns(&book, &plan, &workers(&["ana", "rui"]), plan.steps.len());
    let at_it: Vec<&Turn> = shared.iter().filter(|turn| turn.step == off).collect();
    assert_eq!(at_it.len(), 2, "{:?}", names(&plan, &shared));
    assert_eq!(at_it.iter().filter(|turn| turn.helps).count(), 1);
    assert_eq!(at_it[0].round, at_it[1].round);
}

#[test]
fn what_is_begun_comes_before_what_is_fresh() {
    let book = two_stacks();
    let plan = way_off(&book);
    let fresh = Shop::plain().turns(&book, &plan, &workers(&["ana"]), 1);
    let undo: Vec<&Step> = plan
        .steps
        .iter()
        .filter(|step| step.name.act == StepAct::Undo)
        .collect();
    let other = undo
        .iter()
        .find(|step| step.name != plan.steps[fresh[0].step].name)
        .unwrap();
    let mut shop = Shop::plain();
    shop.begun.insert(other.name.clone());
    let shared = shop.turns(&book, &plan, &workers(&["ana"]), 1);
    assert_eq!(plan.steps[shared[0].step].name, other.name);
}
