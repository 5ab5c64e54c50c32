//! What is in the way of what, on small books.

use super::*;
use crate::example::{self, fixed, joint, needs, part, port};
use crate::standing::Standing;
use book::{Medium, Rule};

fn graph(book: &Book) -> Graph {
    Graph::new(book, &Choices::new())
}

fn names(graph: &Graph, parts: &BTreeSet<At>) -> Vec<String> {
    parts
        .iter()
        .map(|&at| graph.part(at).id.to_string())
        .collect()
}

#[test]
fn a_part_fastened_onto_another_comes_off_first() {
    let graph = graph(&example::head());
    let head = graph.at(&PartId::from("head")).unwrap();
    assert_eq!(names(&graph, &graph.blockers(head).all), ["cover"]);
    let block = graph.at(&PartId::from("block")).unwrap();
    assert!(graph.nodes[block].fixed);
}

#[test]
fn a_part_that_comes_with_it_stays_on_and_its_outer_joints_are_undone() {
    let mut book = example::head();
    book.parts[3].comes_with = vec![example::at(PartId::from("cover"))];
    book.joints.push(joint("cover", "block", 1));
    let graph = graph(&book);
    let head = graph.at(&PartId::from("head")).unwrap();
    // The duct is fastened onto the cover, which is now part of the unit.
    assert_eq!(names(&graph, &graph.blockers(head).all), ["duct"]);
    let undone: Vec<_> = graph.nodes[head]
        .joints
        .iter()
        .map(|&j| graph.book().joints[j].id.to_string())
        .collect();
    assert_eq!(undone, ["head-block", "cover-block"]);
}

#[test]
fn the_book_can_say_that_the_lower_of_two_fastened_parts_leaves_first() {
    let base = || Book {
        parts: vec![
            fixed("block"),
            part("upper", 1.0, 1.0),
            part("lower", 1.0, 1.0),
        ],
        joints: vec![joint("upper", "lower", 3)],
        ..Book::default()
    };
    let blocked = |book: &Book| {
        let graph = graph(book);
        let lower = graph.at(&PartId::from("lower")).unwrap();
        (
            !graph.nodes[lower].mounted.is_empty(),
            graph.nodes[lower].joints.len(),
        )
    };
    assert_eq!(blocked(&base()), (true, 0));
    let mut by_need = base();
    by_need.parts[1] = needs(part("upper", 1.0, 1.0), &["lower"]);
    assert_eq!(blocked(&by_need), (false, 1));
    let mut both_ways = base();
    both_ways.joints.push(joint("lower", "upper", 1));
    assert_eq!(blocked(&both_ways), (false, 2));
    let mut by_rule = base();
    let rule: Rule = example::rule(
        "r",
        OrderAct::TakeOff,
        example::part_ref("lower"),
        example::part_ref("upper"),
    );
    by_rule.rules.push(rule);
    assert_eq!(blocked(&by_rule), (false, 1));
}

#[test]
fn an_end_comes_off_unless_both_ends_leave_together() {
    let mut book = example::head();
    book.parts[2]
        .ports
        .push(port("breather", Medium::Crankcase));
    book.parts[3]
        .ports
        .push(port("breather", Medium::Crankcase));
    book.lines.push(example::line(
        "breather",
        ("cover", "breather"),
        ("head", "breather"),
    ));
    let apart = graph(&book);
    let head = apart.at(&PartId::from("head")).unwrap();
    assert_eq!(apart.nodes[head].ends, [(0, 0), (1, 1)]);
    book.parts[3].comes_with = vec![example::at(PartId::from("cover"))];
    let together = graph(&book);
    assert_eq!(together.nodes[head].ends, [(0, 0)]);
}

#[test]
fn a_part_with_a_wet_port_wants_its_circuit_drained() {
    let graph = graph(&example::head());
    let circuits = |id: &str| {
        graph.nodes[graph.at(&PartId::from(id)).unwrap()]
            .circuits
            .clone()
    };
    assert_eq!(circuits("head"), [0]);
    assert!(circuits("cover").is_empty());
}

#[test]
fn a_part_taken_off_leaves_its_joints_open_its_ends_off_and_its_circuit_dry() {
    let graph = graph(&example::head());
    let head = graph.at(&PartId::from("head")).unwrap();
    let mut standing = Standing::default();
    standing.take_off(&graph, head);
    assert!(!standing.in_place(&PartId::from("head")));
    assert_eq!(standing.opened.len(), 8);
    assert_eq!(standing.ends_off.len(), 1);
    assert_eq!(standing.drained.len(), 1);
    standing.put_on(&graph, head);
    assert!(standing.in_place(&PartId::from("head")));
    assert_eq!(
        standing.opened.len(),
        8,
        "bolts are not tight because the head lies in place"
    );
}

#[test]
fn a_filler_lets_nothing_run_and_a_drain_does() {
    let mut book = example::head();
    let mut cap = port("filler", Medium::Oil);
    cap.open = true;
    book.parts[2].ports.push(cap.clone());
    let mut oil = example::circuit("oil", Medium::Oil);
    oil.fills
        .push(example::at(example::port_ref("cover", "filler")));
    book.circuits.push(oil);
    let cover = |book: &Book| {
        let graph = graph(book);
        let at = graph.at(&PartId::from("cover")).unwrap();
        (graph.nodes[at].circuits.clone(), graph.is_of_circuit(at, 1))
    };
    assert_eq!(cover(&book), (vec![], true));
    book.circuits[1]
        .drains
        .push(example::at(example::port_ref("cover", "filler")));
    assert_eq!(cover(&book), (vec![1], true));
}
