//! Papers are set, exported and read back.

mod read_back;
mod samples;

use sheet::paper::{Body, Paper, Size, Stock};

use self::read_back::{crosses, pages_of, squares, words};
use crate::{PressFault, pdf, set};

/// Every sample, on both sizes of paper, becomes a PDF that keeps PDF/UA-1: the export
/// refuses a picture without words, a skipped heading, a letter without a shape.
#[test]
fn every_paper_is_printed_on_both_sizes() {
    for paper in samples::all() {
        for size in [Size::A4, Size::Letter] {
            let bytes = pdf(&paper, size).unwrap_or_else(|fault| panic!("{}: {fault}", paper.name));
            let bytes = bytes.pdf;
            let text = String::from_utf8_lossy(&bytes);
            assert!(text.starts_with("%PDF-1."), "{}", paper.name);
            assert!(
                text.contains("<pdfuaid:part>1</pdfuaid:part>"),
                "{} does not say that it keeps PDF/UA-1",
                paper.name
            );
            assert!(text.contains("/MarkInfo"), "{} is not tagged", paper.name);
            assert!(text.contains("/Lang"), "{} has no language", paper.name);
        }
    }
}

#[test]
fn headings_become_bookmarks() {
    let bytes = pdf(&samples::job_sheet(), Size::A4).unwrap();
    assert!(String::from_utf8_lossy(&bytes.pdf).contains("/Outlines"));
}

#[test]
fn the_same_paper_gives_the_same_bytes() {
    for paper in samples::all() {
        let first = pdf(&paper, Size::A4).unwrap();
        assert!(first == pdf(&paper, Size::A4).unwrap(), "{}", paper.name);
    }
}

#[test]
fn a_job_sheet_says_all_it_was_given() {
    let document = set(&samples::job_sheet(), Size::A4).unwrap();
    assert_eq!(pages_of(&document), 1);
    let said = words(&document);
    for word in [
        "Work of the evening",
        "Invented for a demonstration",
        "undo runners-to-head",
        "13 mm, long extension",
        "22 lbf·ft",
        "Last chance",
        "knock sensor plug, bulkhead side: not logged",
        "Take care, opening the fuel rail:",
        "page 1 of 1",
    ] {
        assert!(said.contains(word), "`{word}` is missing in:\n{said}");
    }
}

#[test]
fn a_tightening_sheet_has_a_box_for_each_bolt_and_stage() {
    let document = set(&samples::tightening(), Size::Letter).unwrap();
    assert_eq!(pages_of(&document), 1);
    // Seven millimetres each way: eight bolts, three stages.
    assert_eq!(read_back::boxes(&document, 7.0), 24);
    let said = words(&document);
    for word in ["stage 3", "90°", "M11 × 98 mm", "threads oiled", "turn"] {
        assert!(said.contains(word), "`{word}` is missing in:\n{said}");
    }
}

#[test]
fn the_square_on_every_label_is_read_back_from_the_page() {
    let paper = samples::labels(Stock::read("38.1 × 21.2 mm").unwrap());
    let Body::Labels(labels) = &paper.body else {
        panic!("labels");
    };
    let document = set(&paper, Size::A4).unwrap();
    assert_eq!(pages_of(&document), 2);
    let mut wanted: Vec<String> = labels
        .labels
        .iter()
        .filter_map(|label| label.address.clone())
        .collect();
    wanted.sort();
    assert_eq!(squares(&document, &labels.stock), wanted);
}

#[test]
fn labels_used_up_are_left_out() {
    let mut paper = samples::labels(Stock::read("21.2x38.1").unwrap());
    let Body::Labels(labels) = &mut paper.body else {
        panic!("labels");
    };
    labels.skip = 64;
    labels.labels.truncate(2);
    let document = set(&paper, Size::A4).unwrap();
    // The last place of a sheet of 65, and the first of the next.
    assert_eq!(pages_of(&document), 2);
}

/// Distances between holes on the page against those of the book, also over a join of pages.
#[test]
fn a_card_is_true_to_a_fifth_of_a_millimetre() {
    for (scale, paper) in [(1.0, samples::card(1.0)), (0.5, samples::card(0.5))] {
        let Body::Card(card) = &paper.body else {
            panic!("a card");
        };
        let document = set(&paper, Size::A4).unwrap();
        let found = crosses(&document);
        let mut compared = 0;
        for page in &found {
            for (name, at) in page {
                for (other, there) in page {
                    let hole = |name: &str| card.holes.iter().find(|it| it.name == *name).unwrap();
                    let (one, two) = (hole(name), hole(other));
                    let want = libm::hypot(one.x_mm - two.x_mm, one.y_mm - two.y_mm) * scale;
                    let is = libm::hypot(at.0 - there.0, at.1 - there.1);
                    assert!(
                        (want - is).abs() < 0.2,
                        "{name} to {other}: {is}, not {want}"
                    );
                    compared += usize::from(name < other);
                }
            }
        }
        assert!(compared >= 12, "only {compared} distances were on one page");
        for hole in &card.holes {
            assert!(
                found.iter().any(|page| page.contains_key(&hole.name)),
                "hole {} is on no page",
                hole.name
            );
        }
    }
}

#[test]
fn a_full_card_goes_over_pages_and_they_share_their_marks() {
    let document = set(&samples::card(1.0), Size::A4).unwrap();
    assert!(pages_of(&document) > 1);
    let said = words(&document);
    for word in [
        "page A1",
        "lay on the same crosses of",
        "100 mm",
        "full size, 1 : 1",
        "drive end",
    ] {
        assert!(said.contains(word), "`{word}` is missing in:\n{said}");
    }
}

#[test]
fn a_card_without_places_says_so() {
    let document = set(&samples::unmeasured_card(), Size::A4).unwrap();
    let said = words(&document);
    assert!(said.contains("not to scale"), "{said}");
    assert!(!said.contains("100 mm"), "{said}");
}

#[test]
fn words_are_never_read_as_markup() {
    let mut paper = samples::job_sheet();
    let odd = "#panic() *not bold* $x$ `raw` @ref <label> // no comment [1] \\ #let";
    paper.title = odd.to_owned();
    paper.job = odd.to_owned();
    let said = words(&set(&paper, Size::A4).unwrap());
    assert!(said.contains(odd), "{said}");
}

#[test]
fn names_of_europe_are_printed_and_other_signs_are_owned_up_to() {
    let mut paper = samples::job_sheet();
    paper.job = "Żaneta and Jiří".to_owned();
    let said = words(&set(&paper, Size::A4).unwrap());
    assert!(said.contains("Żaneta and Jiří"), "{said}");
    assert!(!said.contains("does not have"), "{said}");
    paper.job = "車 van".to_owned();
    let said = words(&set(&paper, Size::A4).unwrap());
    assert!(
        said.contains("\u{2610} van") && said.contains("U+8ECA"),
        "{said}"
    );
    pdf(&paper, Size::A4).unwrap();
}

#[test]
fn a_picture_that_cannot_be_printed_is_named() {
    let photo = |bytes: Vec<u8>, told: &str| Paper {
        body: Body::Pages(
            sheet::paper::Reading::Desk,
            vec![sheet::paper::Block::Photo(sheet::paper::Photo {
                bytes,
                told: told.to_owned(),
                caption: "under the plenum".to_owned(),
                ..sheet::paper::Photo::default()
            })],
        ),
        ..samples::job_sheet()
    };
    let fault = |paper: &Paper| pdf(paper, Size::A4).unwrap_err();
    assert_eq!(
        fault(&photo(vec![1, 2, 3], "the vee")),
        PressFault::Picture {
            told: "the vee".to_owned()
        }
    );
    let cut_off = samples::jpeg(40, 30)[..60].to_vec();
    assert!(matches!(
        fault(&photo(cut_off, "the vee")),
        PressFault::Picture { .. }
    ));
    assert!(matches!(
        fault(&photo(samples::jpeg(40, 30), " ")),
        PressFault::Untold { .. }
    ));
}
