//! What is written reads back to the same book.

use proptest::prelude::*;

use crate::{Book, read, show_faults, write};

/// Reads, writes, reads again: no faults, and the same book.
fn round(text: &str) -> Book {
    let (book, faults) = read(text);
    assert!(
        faults.is_empty(),
        "{}",
        show_faults(&faults, "first.kdl", text)
    );
    let written = write(&book);
    let (again, faults) = read(&written);
    assert!(
        faults.is_empty(),
        "{written}\n{}",
        show_faults(&faults, "again.kdl", &written)
    );
    assert_eq!(again, book, "{written}");
    assert_eq!(write(&again), written);
    book
}

#[test]
fn the_book_of_the_manual_comes_back() {
    let page = include_str!("../../../../docs/format.md");
    let mut text = String::new();
    let mut inside = false;
    for line in page.lines() {
        match line {
            "```kdl" => inside = true,
            "```" => inside = false,
            _ if inside => {
                text.push_str(line);
                text.push('\n');
            }
            _ => {}
        }
    }
    assert!(round(&text).parts.len() > 10);
}

#[test]
fn an_empty_book_writes_nothing() {
    assert_eq!(write(&Book::default()), "");
}

#[test]
fn words_that_no_longer_say_the_value_are_spelt_anew() {
    let (mut book, _) = read(
        "part block fixed=#true\npart c {\n joint j to=block {\n hole A thread=M8 length=\"40 mm\"\n }\n}\n",
    );
    let hole = &mut book.joints[0].holes[0];
    hole.length = crate::Fact::said(quantity::Length::mm(65.0).unwrap(), "M8x65");
    hole.thread = crate::Fact::said(crate::Thread::read("M8").unwrap(), "M8x65");
    let written = write(&book);
    assert!(written.contains("thread=M8 length=\"65 mm\""), "{written}");
}

#[test]
fn two_parts_of_one_id_keep_their_own_joints() {
    round(
        "variant throttle cable electronic\npart block fixed=#true\n\
         part body when=\"throttle=cable\" {\n joint body-nuts to=block {\n holes A..C holds=nut\n }\n}\n\
         part body when=\"throttle=electronic\" {\n joint body-bolts to=block {\n holes A..D\n }\n}\n",
    );
}

fn label() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        "[a-zA-Z µ°·\"\\\\#{};=/-]{0,12}".prop_map(|text| format!(" {text:?}")),
    ]
}

fn fact(name: &'static str, values: &'static [&'static str]) -> impl Strategy<Value = String> {
    prop_oneof![
        2 => Just(String::new()),
        1 => Just(format!(" {name}=\"?\"")),
        1 => Just(format!(" {name}=none")),
        3 => proptest::sample::select(values).prop_map(move |value| format!(" {name}={value}")),
    ]
}

prop_compose! {
    fn hole()(
        thread in fact("thread", &["M8", "M8x1.25", "M10x1-LH", "\"1/4-20\""]),
        length in fact("length", &["\"40 mm\"", "\"2-1/2 in\"", "\"1.5 in\""]),
        head in fact("head", &["\"13 mm\"", "T40", "\"hex 6 mm\"", "slot", "\"cross 2\"", "\"12-point 14 mm\""]),
        grade in fact("grade", &["8.8", "\"grade 5\""]),
        washer in fact("washer", &["plain", "copper"]),
        one_use in fact("one-use", &["#true", "#false"]),
        opens in fact("opens-to", &["coolant", "oil"]),
        holds in proptest::sample::select(&["", " holds=stud", " holds=plug", " holds=rivet"][..]),
    ) -> String {
        format!("{holds}{thread}{length}{head}{grade}{washer}{one_use}{opens}")
    }
}

prop_compose! {
    fn part(index: usize)(
        label in label(),
        off in fact("off", &["\"25 min\"", "\"25 min, 15..60 min\"", "\"1..2 h\""]),
        price in fact("price", &["18.50", "\"40..60\"", "\"9 GBP\""]),
        lead in fact("lead", &["\"3 d\"", "\"10..20 d\""]),
        zone in proptest::sample::select(&["", " zone=above", " zone=under"][..]),
        needs in prop::option::of(0..index.max(1)),
        holes in prop::collection::vec(hole(), 0..4),
        tighten in prop::option::of(proptest::sample::select(
            &["\"12 N·m\" \"21 N·m\" condition=dry source=maker at=\"page 3\"", "\"?\"", "none", "\"30 N·m + 90°\""][..],
        )),
        critical in any::<bool>(),
    ) -> String {
        let mut text = format!("part p{index}{label}{zone}{off}{price}{lead} {{\n");
        if let Some(other) = needs.filter(|_| index > 0) {
            text.push_str(&format!("needs-off p{other}\n"));
        }
        let critical = if critical { " critical=head" } else { "" };
        text.push_str(&format!("port a medium=coolant\nport b\njoint j{index} to=block{critical} {{\n"));
        for (number, hole) in holes.iter().enumerate() {
            text.push_str(&format!("hole h{number}{hole}\n"));
        }
        if let Some(tighten) = tighten {
            text.push_str(&format!("tighten {tighten}\n"));
        }
        text.push_str("}\n}\n");
        text
    }
}

fn book() -> impl Strategy<Value = String> {
    let parts = (1_usize..6).prop_flat_map(|count| (0..count).map(part).collect::<Vec<_>>());
    (parts, any::<bool>()).prop_map(|(parts, hose)| {
        let mut text = String::from("book \"B\" currency=EUR\npart block fixed=#true\n");
        for part in &parts {
            text.push_str(part);
        }
        if hose {
            text.push_str("hose hh clamp=spring bore=\"10 mm\" from=p0.a to=p0.b\n");
        }
        text
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn any_book_comes_back(text in book()) {
        round(&text);
    }
}
