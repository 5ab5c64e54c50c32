//! The skeleton book: sound, and without a single figure.

use book::{Fact, Stages, read, show_faults};

const TEXT: &str = include_str!("../skeleton/across.kdl");

#[test]
fn it_has_no_fault() {
    let (book, faults) = read(TEXT);
    assert!(
        faults.is_empty(),
        "{}",
        show_faults(&faults, "across.kdl", TEXT)
    );
    assert!(book.parts.len() > 40 && book.joints.len() > 25 && book.lines.len() > 30);
}

/// Nobody's engine: every length, torque, time, price and capacity is left to the reader.
#[test]
fn it_states_no_figure() {
    let (book, _) = read(TEXT);
    for joint in &book.joints {
        assert!(joint.holes.is_empty(), "{}", joint.id);
        for tighten in &joint.tighten {
            assert_eq!(tighten.stages, Stages::Unknown, "{}", joint.id);
        }
    }
    for part in &book.parts {
        assert_eq!(part.effort.off, Fact::NeverAsked, "{}", part.id);
        assert_eq!(part.price, Fact::NeverAsked, "{}", part.id);
        for port in &part.ports {
            assert_eq!(port.bore, Fact::NeverAsked, "{}.{}", part.id, port.name);
        }
    }
    for limit in &book.limits {
        assert!(limit.min.is_open() && limit.max.is_open(), "{}", limit.id);
    }
    for circuit in &book.circuits {
        assert_eq!(circuit.capacity, Fact::NeverAsked, "{}", circuit.id);
    }
    let engine = book.engine.unwrap();
    assert!(engine.firing_order.is_empty() && engine.bore.is_open() && engine.ratio.is_open());
}

#[test]
fn it_reads_back_as_written() {
    let (book, _) = read(TEXT);
    let (again, faults) = read(&book::write(&book));
    assert!(faults.is_empty());
    assert_eq!(again, book);
}
