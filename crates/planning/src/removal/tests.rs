//! What must come off, against brute force.

use super::*;
use crate::example::{self, any, fixed, needs, part};
use crate::graph::Choices;
use book::{Book, PartId};
use proptest::prelude::*;

fn clearing_of(book: &Book, gone: &[&str], target: &str) -> (Result<Removal, Held>, Graph) {
    let graph = Graph::new(book, &Choices::new());
    let mut standing = Standing::default();
    for part in gone {
        standing.off.insert(PartId::from(*part));
    }
    let at = graph.at(&PartId::from(target)).unwrap();
    let found = Clearing::new(&graph, &standing).cheapest(&Clear::part(at));
    (found, graph)
}

fn names(graph: &Graph, removal: &Removal) -> Vec<String> {
    removal
        .lifts
        .iter()
        .map(|lift| graph.part(lift.part).id.to_string())
        .collect()
}

#[test]
fn what_lies_over_a_part_comes_off_first_and_is_paid_once() {
    let (found, graph) = clearing_of(&example::stack(&["duct", "cover", "head"]), &[], "head");
    let found = found.unwrap();
    assert_eq!(names(&graph, &found), ["duct", "cover", "head"]);
    assert_eq!(
        (found.value.work, found.bound.work),
        (3 * 30 * 60, 3 * 30 * 60)
    );
}

#[test]
fn what_is_off_already_costs_nothing() {
    let (found, graph) = clearing_of(
        &example::stack(&["duct", "cover", "head"]),
        &["duct", "cover"],
        "head",
    );
    assert_eq!(names(&graph, &found.unwrap()), ["head"]);
}

#[test]
fn the_cheaper_way_is_taken_even_when_it_loops_back() {
    // By the liner: 40 min. By the duct: 10, but the duct sits under the battery, which is
    // out of the way once the tray or the duct itself is off.
    let book = Book {
        parts: vec![
            any(part("pipe", 1.0, 1.0), &[&["liner"], &["duct"]]),
            part("liner", 20.0, 20.0),
            needs(part("duct", 5.0, 5.0), &["battery"]),
            any(part("battery", 2.0, 2.0), &[&["duct"], &["tray"]]),
            part("tray", 3.0, 3.0),
        ],
        ..Book::default()
    };
    let (found, graph) = clearing_of(&book, &[], "pipe");
    let found = found.unwrap();
    assert_eq!(names(&graph, &found), ["tray", "battery", "duct", "pipe"]);
    assert_eq!(found.value.work, (6 + 4 + 10 + 2) * 60);
    let at = |id: &str| graph.at(&PartId::from(id)).unwrap();
    let clearing = Clearing::new(&graph, &Standing::default());
    let other = clearing
        .without(&Clear::part(at("pipe")), (at("pipe"), 0, 1))
        .unwrap();
    assert_eq!(other.value.work, (40 + 2) * 60);
}

#[test]
fn equal_minutes_are_decided_by_money() {
    let mut dear_part = part("seal-plate", 5.0, 5.0);
    dear_part.one_use = book::Fact::said(true, "#true");
    dear_part.price = example::seal("", 900).price;
    let book = Book {
        parts: vec![
            any(part("pump", 1.0, 1.0), &[&["seal-plate"], &["shield"]]),
            dear_part,
            part("shield", 5.0, 5.0),
        ],
        ..Book::default()
    };
    let (found, graph) = clearing_of(&book, &[], "pump");
    assert_eq!(names(&graph, &found.unwrap()), ["shield", "pump"]);
}

#[test]
fn parts_that_hold_each_other_up_are_named() {
    let book = Book {
        parts: vec![
            needs(part("a", 1.0, 1.0), &["b"]),
            needs(part("b", 1.0, 1.0), &["a"]),
            needs(part("c", 1.0, 1.0), &["a"]),
        ],
        ..Book::default()
    };
    let (found, _) = clearing_of(&book, &[], "c");
    assert_eq!(found, Err(Held::By(vec![0, 1])));
    let under_block = Book {
        parts: vec![fixed("block"), needs(part("liner", 1.0, 1.0), &["block"])],
        ..Book::default()
    };
    assert!(matches!(
        clearing_of(&under_block, &[], "liner").0,
        Err(Held::By(_))
    ));
}

/// The cheapest cost over every set of parts that comes off one after another.
fn brute(graph: &Graph, target: At) -> Option<u64> {
    let count = graph.nodes.len();
    (0_u32..1 << count)
        .filter(|set| set >> target & 1 == 1)
        .filter_map(|set| {
            let mut gone: BTreeSet<At> = BTreeSet::new();
            loop {
                let free = |at: &At| {
                    set >> at & 1 == 1
                        && !gone.contains(at)
                        && !graph.nodes[*at].fixed
                        && graph.blockers(*at).holds(&gone)
                };
                match (0..count).find(free) {
                    Some(next) => gone.insert(next),
                    None => break,
                };
            }
            let all = gone.len() == set.count_ones() as usize;
            all.then(|| {
                gone.iter()
                    .map(|&at| seconds(graph.minutes_off(at)) + seconds(graph.minutes_on(at)))
                    .sum()
            })
        })
        .min()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn small_books_agree_with_trying_every_set(seed in 0_u64..10_000) {
        let book = example::random(seed, 10);
        let graph = Graph::new(&book, &Choices::new());
        let mut clearing = Clearing::new(&graph, &Standing::default());
        for at in [9, 10] {
            let found = clearing.cheapest(&Clear::part(at)).ok().map(|found| (found.value.work, found.bound.work));
            let best = brute(&graph, at).map(|best| (best, best));
            prop_assert_eq!(found, best);
        }
    }

    #[test]
    fn every_part_is_free_at_its_turn(seed in 0_u64..10_000) {
        let book = example::random(seed, 40);
        let graph = Graph::new(&book, &Choices::new());
        let found = Clearing::new(&graph, &Standing::default()).cheapest(&Clear::part(40)).unwrap();
        let mut gone = BTreeSet::new();
        for lift in &found.lifts {
            prop_assert!(graph.blockers(lift.part).holds(&gone));
            gone.insert(lift.part);
            gone.extend(&lift.with);
        }
        prop_assert!(gone.contains(&40));
    }

    #[test]
    fn one_more_thing_in_the_way_never_makes_it_cheaper(seed in 0_u64..10_000, upper in 1_usize..20, lower in 21_usize..40) {
        let mut book = example::random(seed, 40);
        let cost = |book: &Book| {
            let graph = Graph::new(book, &Choices::new());
            let found = Clearing::new(&graph, &Standing::default()).cheapest(&Clear::part(40));
            found.map(|found| found.value.work).ok()
        };
        let before = cost(&book);
        let upper = PartId::new(format!("p{}", upper - 1));
        book.parts[lower].needs_off.push(example::at(upper));
        // `None`: no way at all, which is dearer than any.
        let after = cost(&book).map_or(u64::MAX, |cost| cost);
        prop_assert!(before.is_none_or(|before| after >= before));
    }
}
