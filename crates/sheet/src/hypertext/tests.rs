//! A fragment is well-formed, says all that the report says and repeats no id.

use std::collections::BTreeSet;

use report::{
    Align, Ask, Caution, Cell, Figure, Finding, HoleMark, Holes, Picture, Report, Source, Table,
    Verdict, Weight,
};

use super::write;

/// A report with something in every field, and with signs that mean something in HTML.
fn full() -> Report {
    let mut report = Report::new("flatness", "Flatness, <bulkhead> & radiator");
    report.verdict = Some(Verdict::Outside);
    report.headline = Some("0.074 mm, limit 0.050 mm (maker).".into());
    report.figures.push(
        Figure::number("minimum_zone", "flatness", 7.4e-5, "0.074 mm")
            .note("limit 0.050 mm (maker)"),
    );
    report.rows = Table::new(&[
        ("point", "point", Align::Left),
        ("hidden", "", Align::Left),
        ("height", "height", Align::Right),
        ("verdict", "verdict", Align::Left),
        ("next", "next", Align::Left),
    ]);
    report.rows.push(vec![
        Cell::from("A1"),
        Cell::from("not shown"),
        Cell::Number(7.4e-5, "74 µm".into()),
        Cell::from(Verdict::Undecided),
        Cell::Flag(true),
    ]);
    report.findings.push(
        Finding::new("high", "between 3 and 5", "the face is high")
            .points_to("heat")
            .next("skim it")
            .weight(Weight::Stop)
            .detail("a  line with places"),
    );
    report
        .asks
        .push(Ask::new("the limit", "nobody wrote it", "limit head-flat"));
    report
        .cautions
        .push(Caution::new("scraping", "aluminium is soft"));
    report.because.push("The least zone decides.".into());
    report
        .sources
        .push(Source::common_practice("flatness of heads"));
    report.text = Some("  as it stands".into());
    let hole = HoleMark {
        name: "A".into(),
        x_mm: 0.0,
        y_mm: 0.0,
        number: Some(1),
        label: "M8".into(),
        done: false,
        in_hand: true,
    };
    for _ in 0..2 {
        report.pictures.push(Picture::Holes(Holes {
            title: "Face".into(),
            holes: vec![hole.clone()],
            ..Holes::default()
        }));
    }
    report
}

#[test]
fn everything_a_report_says_stands_in_the_fragment() {
    let text = write(&full(), "face").into_string();
    for said in [
        "Flatness, &lt;bulkhead&gt; &amp; radiator",
        "outside",
        "0.074 mm, limit 0.050 mm (maker).",
        "limit 0.050 mm (maker)",
        "74 µm",
        "undecided",
        "between 3 and 5",
        "points to",
        "skim it",
        "a  line with places",
        "Still to know",
        "limit head-flat",
        "aluminium is soft",
        "The least zone decides.",
        "common practice, no source",
        "  as it stands",
    ] {
        assert!(text.contains(said), "{said} is missing in {text}");
    }
    assert!(
        !text.contains("not shown"),
        "a column without a heading is for scripts"
    );
}

#[test]
fn a_fragment_is_well_formed_and_names_things_once() {
    let text = format!(
        "<main>{}{}</main>",
        write(&full(), "one").into_string(),
        write(&full(), "two").into_string()
    );
    let document =
        roxmltree::Document::parse(&text).unwrap_or_else(|fault| panic!("{fault}: {text}"));
    let mut seen = BTreeSet::new();
    for id in document
        .descendants()
        .filter_map(|node| node.attribute("id"))
    {
        assert!(seen.insert(id), "id {id} stands twice");
    }
    assert!(
        seen.contains("one-1-hole-A") && seen.contains("two-2-hole-A"),
        "{seen:?}"
    );
}

#[test]
fn every_verdict_has_its_own_sign() {
    let all = [
        Verdict::Within,
        Verdict::Outside,
        Verdict::Undecided,
        Verdict::NotMeasured,
        Verdict::Open,
        Verdict::Closed,
    ];
    let drawn: BTreeSet<String> = all
        .iter()
        .map(|&one| super::sign(one).into_string())
        .collect();
    assert_eq!(drawn.len(), all.len(), "no two verdicts look alike");
}

#[test]
fn an_empty_report_is_an_empty_section() {
    let text = write(&Report::default(), "x").into_string();
    assert_eq!(text, r#"<section class="report"></section>"#);
}
