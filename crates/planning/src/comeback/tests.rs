//! What it costs to come back, on small books.

use super::*;
use crate::example::{self, part_ref};
use crate::graph::Choices;
use proptest::prelude::*;

fn rows(book: &book::Book) -> Vec<Comeback> {
    comeback(&Graph::new(book, &Choices::new()), &Standing::default()).0
}

fn minutes<'a>(rows: &'a [Comeback], item: &Item) -> (&'a Comeback, f64) {
    let row = rows.iter().find(|row| row.item == *item).unwrap();
    (row, row.takes.likely.in_minutes())
}

#[test]
fn the_gasket_under_the_head_is_the_dearest_and_says_why() {
    let rows = rows(&example::head());
    let (row, time) = minutes(&rows, &Item::Seal("head-block".into(), 0));
    // Duct, cover and head off and on: 10 + 50 + 150.
    assert!((time - 210.0).abs() < 1e-9);
    let mut one_use = row.spend.one_use.clone();
    one_use.sort();
    assert_eq!(
        one_use,
        [
            "8 fasteners, head-block",
            "cover gasket, cover-head",
            "head gasket, head-block"
        ]
    );
    assert_eq!(row.spend.shown(), "57 EUR");
    assert_eq!(row.spend.unpriced, 1);
    assert_eq!(row.spend.fluids.len(), 1);
    assert!(row.gates.contains(&GateId::from("before-head-on")));
    assert_eq!(row.checks, [CheckId::from("followers-free")]);
    assert!(row.proved());
}

#[test]
fn head_bolts_are_got_at_under_the_cover_and_the_cover_bolts_under_the_duct() {
    let rows = rows(&example::head());
    let holes = |count: usize| {
        (1..=count)
            .map(|hole| book::HoleName::new(format!("h{hole}")))
            .collect()
    };
    let (row, time) = minutes(&rows, &Item::Fasteners("head-block".into(), holes(8)));
    // Duct and cover off and on, and 8 of the head's 10 shares of 90 minutes.
    assert!((time - (10.0 + 50.0 + 72.0)).abs() < 1e-9);
    assert_eq!(row.parts, ["duct", "cover"].map(PartId::from));
    let (_, time) = minutes(&rows, &Item::Fasteners("cover-head".into(), holes(6)));
    assert!((time - (10.0 + 30.0 * 6.0 / 7.0)).abs() < 1e-9);
}

#[test]
fn a_part_without_minutes_is_named_and_the_time_is_at_least() {
    let mut book = example::head();
    book.parts[1].effort = book::Effort::default();
    let rows = rows(&book);
    let (row, _) = minutes(&rows, &Item::Check("followers-free".into()));
    assert_eq!(row.untimed, [PartId::from("duct")]);
}

#[test]
fn what_nothing_gets_at_is_kept_apart() {
    let mut book = example::stack(&["a"]);
    book.parts[1] = example::needs(book.parts[1].clone(), &["block"]);
    book.checks
        .push(example::check("c", None, &[part_ref("a")], &[]));
    let (_, never) = comeback(&Graph::new(&book, &Choices::new()), &Standing::default());
    assert!(never.contains(&Item::Check("c".into())));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(20))]

    #[test]
    fn the_worst_stands_first_and_every_item_is_there(seed in 0_u64..10_000) {
        let book = example::random(seed, 30);
        let graph = Graph::new(&book, &Choices::new());
        let (rows, never) = comeback(&graph, &Standing::default());
        prop_assert_eq!(rows.len() + never.len(), graph.items().len());
        let times: Vec<f64> = rows.iter().map(|row| -row.takes.likely.in_seconds()).collect();
        prop_assert!(times.is_sorted());
    }
}
