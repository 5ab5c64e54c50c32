//! Tables as people write them, and every way they go wrong.

use quantity::{Bound, Length, Range};
use report::Finding;

use crate::Csv;

fn mm(value: f64) -> Length {
    Length::mm(value).unwrap()
}

#[test]
fn units_stand_in_the_heading_and_cells_may_be_bounds() {
    let mut csv = Csv::read(
        "lash.csv",
        "valve,clearance [mm]\nI1,0.14\nI2,<0.04\nI3,0.05..0.06\nI4,-\n",
    );
    assert_eq!(csv.words("valve")[0].as_deref(), Some("I1"));
    let seen = csv.bounds::<Length>("clearance");
    assert_eq!(seen[0], Some(Bound::Exactly(mm(0.14))));
    assert_eq!(seen[1], Some(Bound::Below(mm(0.04))));
    assert_eq!(
        seen[2],
        Some(Bound::Between(Range {
            low: mm(0.05),
            high: mm(0.06)
        }))
    );
    assert_eq!(seen[3], None);
    assert!(csv.faults().is_empty());
}

#[test]
fn every_fault_comes_in_one_go_with_line_and_column() {
    let text = "µ-name,x [mm],z [J]\nfirst,1.0,0.1\nsecond,abc,0.2\nthird,2.0\n";
    let mut csv = Csv::read("face.csv", text);
    let _ = csv.quantities::<Length>("x");
    let _ = csv.quantities::<Length>("z");
    let _ = csv.quantities::<Length>("y");
    let faults = csv.faults();
    let places: Vec<_> = faults
        .iter()
        .map(|fault| (fault.line, fault.column))
        .collect();
    assert_eq!(places, [(1, 1), (1, 15), (3, 8), (4, 1)]);
    assert!(faults[0].reason.contains("no column `y`"));
    assert!(faults.iter().all(|fault| !fault.hint.is_empty()));
    let finding = Finding::from(&faults[2]);
    assert_eq!(finding.detail[1], "       ^^^");
}

#[test]
fn a_column_without_a_unit_is_one_fault_and_not_a_hundred() {
    let mut csv = Csv::read("face.csv", "x\n1\n2\n3\n");
    let _ = csv.quantities::<Length>("x");
    assert_eq!(csv.faults().len(), 1);
    assert!(csv.faults()[0].hint.contains("[mm]"));
}

#[test]
fn a_cell_may_bring_its_own_unit() {
    let mut csv = Csv::read("face.csv", "x,y [mm]\n1 in,2 in\n2 mm,3\n");
    let x = csv.quantities::<Length>("x");
    assert_eq!(x[0], Some(Length::inches(1.0).unwrap()));
    assert_eq!(
        csv.quantities::<Length>("y")[0],
        Some(Length::inches(2.0).unwrap())
    );
    assert!(csv.faults().is_empty());
}

#[test]
fn semicolons_remarks_a_byte_order_mark_and_line_ends_of_another_system() {
    let mut csv = Csv::read(
        "face.csv",
        "\u{feff}# head, invented\r\nX [mm];Z [mm]\r\n1,5;0,05\r\n",
    );
    assert_eq!(csv.quantities::<Length>("x"), [Some(mm(1.5))]);
    assert_eq!(csv.quantities::<Length>("z"), [Some(mm(0.05))]);
    assert!(csv.faults().is_empty(), "{:?}", csv.faults());
}

#[test]
fn an_empty_table_and_a_doubled_heading_are_faults() {
    assert_eq!(Csv::read("a.csv", "\n").faults().len(), 1);
    let csv = Csv::read("a.csv", "x [mm],X [mm]\n1,2\n");
    assert!(csv.faults()[0].reason.contains("twice"));
}

#[test]
fn columns_nobody_asked_for_are_named() {
    let mut csv = Csv::read("a.csv", "x [mm],remark\n1,good\n");
    let _ = csv.quantities::<Length>("x");
    assert_eq!(csv.unused(), ["remark"]);
}
