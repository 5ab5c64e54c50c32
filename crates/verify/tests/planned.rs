//! What the planning crate hands out is put before this one, from the fresh engine
//! and from the middle of a job. The two share no code, so a plan that passes has been understood twice.

use book::{Book, PartId, Ref, Severity};
use job::plan::{Leg, Plan, StepAct};
use job::{ClientId, Entry, EntryId, State};
use planning::sequence::{Legs, Wish, sequence};
use planning::{Budget, Graph, Standing, Stop};

/// The invented engine of the manual: every example of the page on the format, joined.
fn manual() -> Book {
    let page = include_str!("../../../docs/format.md");
    let mut text = String::new();
    let mut inside = false;
    for line in page.lines() {
        match line {
            "```kdl" => inside = true,
            "```" => inside = false,
            _ if inside => text += &format!("{line}\n"),
            _ => {}
        }
    }
    read(&text)
}

fn post_van() -> Book {
    read(include_str!("../../app/demo/post-van.kdl"))
}

fn read(text: &str) -> Book {
    let (book, faults) = book::read(text);
    let faults: Vec<_> = faults
        .iter()
        .filter(|fault| fault.severity == Severity::Error)
        .collect();
    assert!(faults.is_empty(), "{faults:?}");
    book
}

fn planned(book: &Book, state: &State, targets: &[Ref], legs: Legs) -> Result<Plan, String> {
    let standing = Standing::from(state);
    let graph = Graph::new(book, &standing.choices);
    let wish = Wish {
        targets: targets.to_vec(),
        legs,
    };
    let budget = Budget::moves(2_000);
    sequence(
        &graph,
        &standing,
        &wish,
        None,
        &budget,
        &Stop::new(),
        &mut |_| {},
    )
    .map_err(|fault| fault.to_string())
}

fn refused(book: &Book, state: &State, plan: &Plan) -> String {
    let line = |refusal: &verify::Refusal| format!("{}: {}\n", refusal.reason.name(), refusal.says);
    verify::check(book, state, plan).iter().map(line).collect()
}

/// Every part of a book as the target, one at a time, there and back.
fn each_part_there_and_back(book: &Book) {
    let state = State::new(Some(book));
    let mut failed = String::new();
    let mut ran = 0;
    for part in book.parts.iter().filter(|part| !part.fixed) {
        let target = Ref::Part(part.id.clone());
        let plan = match planned(book, &state, &[target], Legs::Both) {
            Ok(plan) => plan,
            Err(fault) => {
                failed += &format!("== {}: no plan: {fault}\n", part.id);
                continue;
            }
        };
        ran += 1;
        let found = refused(book, &state, &plan);
        if !found.is_empty() {
            failed += &format!("== {}\n{found}", part.id);
        }
    }
    assert!(ran > 0, "nothing was planned");
    assert!(failed.is_empty(), "\n{failed}");
}

#[test]
fn both_heads_of_the_post_van_there_and_back() {
    let book = post_van();
    let heads = ["bulkhead-head", "radiator-head"].map(|head| Ref::Part(PartId::from(head)));
    let state = State::new(Some(&book));
    let plan = planned(&book, &state, &heads, Legs::Both).unwrap();
    assert_eq!(refused(&book, &state, &plan), "");
}

#[test]
fn every_part_of_the_post_van_there_and_back() {
    each_part_there_and_back(&post_van());
}

#[test]
fn every_part_of_the_manual_there_and_back() {
    each_part_there_and_back(&manual());
}

/// The entries of the demo while the van is taken apart.
fn entries() -> Vec<Entry> {
    let life = include_str!("../../app/demo/1-apart.txt");
    let lines = life.lines().filter(|line| !line.starts_with('#'));
    let typed = lines.filter_map(|line| line.split_once(" | "));
    typed
        .zip(1..)
        .map(|((_, line), number)| Entry {
            id: EntryId(number),
            client: ClientId(number.to_string()),
            author: "ana".to_owned(),
            at: 0,
            line: line.to_owned(),
            act: job::line::read_line(line).expect(line),
        })
        .collect()
}

#[test]
fn the_way_back_from_every_evening_of_the_post_van() {
    let book = post_van();
    let entries = entries();
    assert!(entries.len() > 20, "the life of the demo was not read");
    let mut failed = String::new();
    for count in (10..=entries.len()).step_by(10).chain([entries.len()]) {
        let state = job::replay(Some(&book), &entries[..count]);
        match planned(&state.known, &state, &[], Legs::Together) {
            Ok(plan) => {
                let found = refused(&state.known, &state, &plan);
                if !found.is_empty() {
                    failed += &format!("== after {count} entries\n{found}");
                }
            }
            Err(fault) => failed += &format!("== after {count} entries: no plan: {fault}\n"),
        }
    }
    assert!(failed.is_empty(), "\n{failed}");
}

#[test]
fn a_planned_step_moved_up_is_refused() {
    let book = post_van();
    let state = State::new(Some(&book));
    let deepest = |part: &&book::Part| {
        let target = [Ref::Part(part.id.clone())];
        planned(&book, &state, &target, Legs::Both).map_or(0, |plan| plan.steps.len())
    };
    let target = book
        .parts
        .iter()
        .filter(|part| !part.fixed)
        .max_by_key(deepest);
    let target = Ref::Part(
        target
            .map(|part| part.id.clone())
            .unwrap_or(PartId::from("")),
    );
    let mut plan = planned(&book, &state, std::slice::from_ref(&target), Legs::Both).unwrap();
    // The part that everything else was taken off for goes first, with no reasons given.
    for step in &mut plan.steps {
        step.waits.clear();
    }
    let off = |step: &job::plan::Step| {
        step.name.act == StepAct::Off && step.name.target == target && step.leg == Leg::Apart
    };
    let at = plan.steps.iter().position(off).unwrap();
    assert!(at > 1, "something stands before it");
    let step = plan.steps.remove(at);
    plan.steps.insert(1, step);
    assert_ne!(refused(&book, &state, &plan), "");
}
