//! What else lies open meanwhile.

use super::*;
use crate::example::{self, needs, part, part_ref};
use crate::graph::Choices;
use book::{Book, Fact};

#[test]
fn wearing_parts_come_first_and_what_is_off_anyway_costs_nothing_now() {
    let mut belt = needs(part("belt", 30.0, 40.0), &["cover"]);
    belt.wearing = Fact::said(true, "#true");
    let mut book = Book {
        parts: vec![
            part("cover", 20.0, 30.0),
            belt,
            needs(part("pump", 25.0, 35.0), &["belt"]),
            needs(part("tensioner", 5.0, 5.0), &["cover"]),
            part("horn", 5.0, 5.0),
        ],
        ..Book::default()
    };
    book.checks
        .push(example::check("seal-dry", None, &[part_ref("cover")], &[]));
    let graph = Graph::new(&book, &Choices::new());
    let rows = while_open(&graph, &Standing::default(), &[part_ref("pump")]).unwrap();
    let seen: Vec<(String, f64, f64)> = rows
        .iter()
        .map(|row| {
            (
                graph.item_name(&row.item),
                row.now.likely.in_minutes(),
                row.later.takes.likely.in_minutes(),
            )
        })
        .collect();
    // The cover is off anyway and does not wear; the horn saves nothing.
    let expected = [
        ("belt", 0.0, 120.0),
        ("tensioner", 10.0, 60.0),
        ("seal-dry", 0.0, 50.0),
    ];
    assert_eq!(
        seen,
        expected.map(|(name, now, later)| (name.to_owned(), now, later))
    );
    assert!(rows[0].wears && !rows[1].wears);
}

#[test]
fn a_target_that_is_none_is_refused() {
    let graph = Graph::new(&example::head(), &Choices::new());
    let fault = while_open(&graph, &Standing::default(), &[part_ref("wing")]).unwrap_err();
    assert_eq!(fault.to_string(), "wing is not in the book of this vehicle");
}
