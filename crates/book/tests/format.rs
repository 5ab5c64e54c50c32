//! The manual of the text format: every example on it is read.

use book::{TextKind, kind_of, read, read_shop, show_faults};

const PAGE: &str = include_str!("../../../docs/format.md");

/// The blocks whose fence says exactly this.
fn blocks(page: &str, fence: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut block: Option<String> = None;
    for line in page.lines() {
        match &mut block {
            None if line == fence => block = Some(String::new()),
            None => {}
            Some(text) if line == "```" => {
                found.push(std::mem::take(text));
                block = None;
            }
            Some(text) => {
                text.push_str(line);
                text.push('\n');
            }
        }
    }
    found
}

#[test]
fn the_examples_of_the_manual_are_one_whole_book() {
    let blocks = blocks(PAGE, "```kdl");
    assert!(
        blocks.len() >= 15,
        "only {} examples were found",
        blocks.len()
    );
    let text = blocks.join("\n");
    let (book, faults) = read(&text);
    assert!(
        faults.is_empty(),
        "{}",
        show_faults(&faults, "format.md", &text)
    );
    assert!(book.parts.len() > 10 && book.joints.len() >= 4 && book.lines.len() == 3);
}

/// A single example may name what another one describes, but is sound in itself.
#[test]
fn each_example_of_the_manual_can_be_copied_alone() {
    let elsewhere = [
        "unknown-part",
        "unknown-port",
        "unknown-joint",
        "unknown-name",
        "unknown-variant-value",
    ];
    for text in blocks(PAGE, "```kdl") {
        let (_, mut faults) = read(&text);
        faults.retain(|fault| !elsewhere.contains(&fault.code.name));
        assert!(
            faults.is_empty(),
            "{}",
            show_faults(&faults, "format.md", &text)
        );
    }
}

#[test]
fn the_shop_file_of_the_manual_is_read() {
    let blocks = blocks(PAGE, "```kdl shop");
    assert_eq!(blocks.len(), 1);
    assert_eq!(kind_of(&blocks[0]), TextKind::Shop);
    let (shop, faults) = read_shop(&blocks[0]);
    assert!(
        faults.is_empty(),
        "{}",
        show_faults(&faults, "shop.kdl", &blocks[0])
    );
    assert_eq!(
        (shop.wrenches.len(), shop.gauges.len(), shop.shims.len()),
        (3, 3, 2)
    );
    assert_eq!(
        (shop.people.len(), shop.walks.len(), shop.places.len()),
        (2, 2, 3)
    );
    assert_eq!(shop.people[0].hours[1].in_minutes().round(), 150.0);
    assert_eq!(kind_of("part a\n"), TextKind::Book);
}
