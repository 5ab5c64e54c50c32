//! The order of work keeps every wait.

use super::*;
use crate::example::{self, part_ref};
use crate::graph::Choices;
use book::{Book, CheckId, PartId, TemporaryId};
use job::plan::StepAct;
use proptest::prelude::*;

fn plan_of(
    book: &Book,
    standing: &Standing,
    targets: &[Ref],
    legs: Legs,
) -> Result<Plan, SequenceFault> {
    let graph = Graph::new(book, &Choices::new());
    let wish = Wish {
        targets: targets.to_vec(),
        legs,
    };
    sequence(
        &graph,
        standing,
        &wish,
        None,
        &Budget::moves(100_000),
        &Stop::new(),
        &mut |_| {},
    )
}

fn names(plan: &Plan) -> Vec<String> {
    plan.steps
        .iter()
        .map(|step| step.name.to_string())
        .collect()
}

fn place(plan: &Plan, name: &str) -> usize {
    let found = names(plan).iter().position(|other| other == name);
    found.unwrap_or_else(|| panic!("no step {name} in {:?}", names(plan)))
}

#[test]
fn the_head_comes_off_and_goes_back_in_an_order_that_works() {
    let plan = plan_of(
        &example::head(),
        &Standing::default(),
        &[part_ref("head")],
        Legs::Both,
    )
    .unwrap();
    let order = [
        "gate before-opening",
        "drain coolant",
        "undo head-block",
        "off head",
        "gate before-head-on",
        "on head",
        "do-up head-block",
        "on cover",
        "do-up cover-head",
        "on duct",
        "gate fire",
        "gate drive",
    ];
    let places: Vec<usize> = order.iter().map(|name| place(&plan, name)).collect();
    assert!(places.is_sorted(), "{:?}", names(&plan));
    assert!(place(&plan, "off cover") < place(&plan, "undo head-block"));
    assert!(place(&plan, "off cover") < place(&plan, "in wedge"));
    assert!(place(&plan, "out wedge") < place(&plan, "on cover"));
    assert!(place(&plan, "off head.heater") < place(&plan, "off head"));
    assert!(place(&plan, "on head.heater") < place(&plan, "fill coolant"));
    assert!(place(&plan, "fill coolant") < place(&plan, "gate fire"));
}

#[test]
fn followers_are_tried_before_the_one_use_bolts() {
    let plan = plan_of(
        &example::head(),
        &Standing::default(),
        &[part_ref("head")],
        Legs::Both,
    )
    .unwrap();
    assert!(place(&plan, "check followers-free") < place(&plan, "on head"));
    let head = &plan.steps[place(&plan, "on head")];
    let because = |wait: &&Wait| wait.because == Because::BeforeOneUse;
    assert_eq!(
        head.waits.iter().find(because).unwrap().first.to_string(),
        "check followers-free"
    );
}

#[test]
fn the_minutes_of_a_part_are_shared_out_and_not_lost() {
    let plan = plan_of(
        &example::head(),
        &Standing::default(),
        &[part_ref("head")],
        Legs::Both,
    )
    .unwrap();
    let sum: f64 = plan
        .steps
        .iter()
        .filter_map(|step| step.takes)
        .map(|takes| takes.likely.in_minutes())
        .sum();
    assert!((sum - (60.0 + 90.0 + 20.0 + 30.0 + 5.0 + 5.0)).abs() < 1e-6);
}

#[test]
fn a_rule_wins_over_the_reversal_it_contradicts() {
    let mut book = example::stack(&["pipe", "head"]);
    let free = plan_of(&book, &Standing::default(), &[part_ref("head")], Legs::Both).unwrap();
    assert!(place(&free, "do-up head-block") < place(&free, "on pipe"));
    let rule = example::rule(
        "pipe-first",
        book::OrderAct::Refit,
        part_ref("pipe"),
        part_ref("head"),
    );
    book.rules.push(rule);
    let ruled = plan_of(&book, &Standing::default(), &[part_ref("head")], Legs::Both).unwrap();
    assert!(place(&ruled, "do-up pipe-block") < place(&ruled, "on head"));
    let head = &ruled.steps[place(&ruled, "on head")];
    assert!(
        head.waits
            .iter()
            .any(|wait| wait.because.words() == "because of pipe-first")
    );
}

#[test]
fn rules_that_go_round_in_a_circle_are_named_with_their_reasons() {
    let mut book = example::stack(&["pipe", "head"]);
    for (id, first, then) in [("one", "pipe", "head"), ("two", "head", "pipe")] {
        let rule = example::rule(id, book::OrderAct::Refit, part_ref(first), part_ref(then));
        book.rules.push(rule);
    }
    let fault = plan_of(&book, &Standing::default(), &[part_ref("head")], Legs::Both).unwrap_err();
    let SequenceFault::Circle(waits, _) = &fault else {
        panic!("{fault}");
    };
    let reasons: Vec<String> = waits.iter().map(|wait| wait.because.words()).collect();
    assert!(
        reasons.contains(&"because of one".to_owned())
            && reasons.contains(&"because of two".to_owned())
    );
}

#[test]
fn the_way_back_begins_with_what_is_off_now_and_finishes_what_is_half_done() {
    let book = example::head();
    let graph = Graph::new(&book, &Choices::new());
    let mut standing = Standing::default();
    for id in ["duct", "cover", "head"] {
        standing.take_off(&graph, graph.at(&PartId::from(id)).unwrap());
    }
    standing.put_on(&graph, graph.at(&PartId::from("head")).unwrap());
    standing.temporaries_in.insert(TemporaryId::from("wedge"));
    standing.checks.insert(CheckId::from("followers-free"));
    let plan = plan_of(&book, &standing, &[], Legs::Together).unwrap();
    assert!(!names(&plan).contains(&"on head".to_owned()));
    assert!(place(&plan, "do-up head-block") < place(&plan, "on cover"));
    assert!(place(&plan, "out wedge") < place(&plan, "on cover"));
    assert!(place(&plan, "on head.heater") < place(&plan, "fill coolant"));
    assert!(!names(&plan).iter().any(|name| name.starts_with("check ")));
}

#[test]
fn nothing_is_turned_by_hand_before_the_pin_is_out_and_the_belt_is_on() {
    let mut book = example::stack(&["cover", "belt"]);
    let mut pin = example::temporary(
        "pin",
        "block",
        &[Ref::Gate("turn-by-hand".into())],
        &[part_ref("belt")],
    );
    pin.count = 2;
    book.temporaries.push(pin);
    let mut cam = example::shaft("cam", book::ShaftKind::Cam);
    cam.drive_part = Some(example::at(PartId::from("belt")));
    cam.pin = Some(example::at(TemporaryId::from("pin")));
    book.shafts.push(cam);
    let plan = plan_of(&book, &Standing::default(), &[part_ref("belt")], Legs::Both).unwrap();
    let order = [
        "off cover",
        "in pin",
        "undo belt-block",
        "off belt",
        "on belt",
        "do-up belt-block",
        "out pin",
        "on cover",
        "gate turn-by-hand",
    ];
    let places: Vec<usize> = order.iter().map(|name| place(&plan, name)).collect();
    assert!(places.is_sorted(), "{:?}", names(&plan));
}

#[test]
fn tools_and_zones_decide_where_nothing_else_does() {
    // Six parts that do not block each other, by turns above and under.
    let mut book = Book::default();
    for number in 0..6 {
        let mut one = example::part(&format!("p{number}"), 5.0, 5.0);
        one.zone = Some(example::at(book::ZoneId::from(
            ["above", "under"][number % 2],
        )));
        book.parts.push(one);
    }
    let plan = plan_of(&book, &Standing::default(), &[], Legs::Apart).unwrap();
    let walks = plan
        .steps
        .windows(2)
        .filter(|pair| pair[0].zone.is_some() && pair[0].zone != pair[1].zone);
    assert_eq!(walks.count(), 1);
    assert_eq!(plan.between.in_seconds(), f64::from(WALK));
    assert!(plan.proved());
}

#[test]
fn the_same_seed_and_budget_give_the_same_plan() {
    let book = example::random(3, 30);
    let once = plan_of(&book, &Standing::default(), &[], Legs::Both).unwrap();
    let again = plan_of(&book, &Standing::default(), &[], Legs::Both).unwrap();
    assert_eq!(once, again);
}

#[test]
fn told_to_stop_it_still_hands_over_a_whole_plan() {
    let graph = Graph::new(&example::random(5, 40), &Choices::new());
    let stop = Stop::new();
    stop.raise();
    let wish = Wish {
        targets: Vec::new(),
        legs: Legs::Both,
    };
    let mut first = None;
    let mut hear = |plan: &Plan| first = first.or(Some(plan.steps.len()));
    let plan = sequence(
        &graph,
        &Standing::default(),
        &wish,
        None,
        &Budget::until_stopped(),
        &stop,
        &mut hear,
    )
    .unwrap();
    assert_eq!(first, Some(plan.steps.len()));
}

/// Whether every wait stands before its step, and every part is free at its turn in both legs.
fn obeys(graph: &Graph, plan: &Plan) -> Result<(), String> {
    for (number, step) in plan.steps.iter().enumerate() {
        for wait in &step.waits {
            let first = plan.place(&wait.first).ok_or("a wait for no step")?;
            if first >= number {
                return Err(format!("{} stands before {}", step.name, wait.first));
            }
        }
    }
    let mut gone: BTreeSet<At> = BTreeSet::new();
    for step in &plan.steps {
        let Ref::Part(part) = &step.name.target else {
            continue;
        };
        let at = graph.at(part).ok_or("no such part")?;
        let unit = step
            .with
            .iter()
            .filter_map(|part| graph.at(part))
            .chain([at]);
        match step.name.act {
            StepAct::Off => {
                if !graph.blockers(at).holds(&gone) {
                    return Err(format!("{} is not free", step.name));
                }
                gone.extend(unit);
            }
            StepAct::On => {
                for at in unit {
                    gone.remove(&at);
                }
                // What is in its way must not be back yet.
                if !graph.blockers(at).holds(&gone) {
                    return Err(format!("{} cannot go in any more", step.name));
                }
            }
            _ => {}
        }
    }
    if gone.is_empty() {
        Ok(())
    } else {
        Err("something stays off".to_owned())
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn every_edge_is_respected_there_and_back(seed in 0_u64..10_000) {
        let book = example::random(seed, 25);
        let graph = Graph::new(&book, &Choices::new());
        let plan = plan_of(&book, &Standing::default(), &[], Legs::Both).unwrap();
        prop_assert_eq!(obeys(&graph, &plan), Ok(()));
    }
}
