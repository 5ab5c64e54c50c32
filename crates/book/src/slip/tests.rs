//! Slips are found one by one, and everything around them stays readable.

use super::cut;
use crate::fault::Faults;

fn codes(text: &str) -> Vec<(&'static str, String)> {
    let mut faults = Faults::default();
    let cut = cut(text, &mut faults);
    assert_eq!(cut.painted.len(), text.len(), "places must stay true");
    faults
        .in_order()
        .into_iter()
        .map(|fault| {
            (
                fault.code.name,
                text[fault.span.start..fault.span.end].to_owned(),
            )
        })
        .collect()
}

fn one(text: &str) -> (&'static str, String) {
    let mut found = codes(text);
    assert_eq!(found.len(), 1, "{text}: {found:?}");
    found.remove(0)
}

#[test]
fn a_good_text_has_none() {
    let text = "// µ \"\npart a \"L\" x=1 y=\"5 mm\" z=#\"a\"b\"# { b 90 ; /* } */ c\\\n d=?\n}\n/- gone {\n}\nq \"\"\"\n \"\n \"\"\"\n";
    assert_eq!(codes(text), []);
}

#[test]
fn values_without_quotes_are_marked_whole() {
    assert_eq!(
        one("hole A length=40mm head=x"),
        ("unquoted-value", "40mm".into())
    );
    assert_eq!(
        one("hole A length=40 mm head=x"),
        ("unquoted-value", "40 mm".into())
    );
    assert_eq!(one("tighten 21 N·m"), ("unquoted-value", "21 N·m".into()));
    assert_eq!(one("x angle=90°"), ("unquoted-value", "90°".into()));
    assert_eq!(
        one("x day=2026-03-14"),
        ("unquoted-value", "2026-03-14".into())
    );
    assert_eq!(one("x thread=1/4-20"), ("unquoted-value", "1/4-20".into()));
}

#[test]
fn a_lost_quote_costs_its_line_only() {
    let text = "part a note=\"through the eye {\n  hole A length=40mm\n}\n";
    assert_eq!(
        codes(text),
        [
            ("lost-quote", "\"through the eye".to_owned()),
            ("unquoted-value", "40mm".to_owned())
        ]
    );
    assert_eq!(one("x a=\"40 mm b=\"22 mm\"").0, "lost-quote");
    assert_eq!(
        one("x a=40 mm\" b=\"22 mm\""),
        ("lost-quote", "40 mm\"".into())
    );
}

#[test]
fn yes_and_no_need_their_sign() {
    assert_eq!(one("engine V6 across=true"), ("bare-yes-no", "true".into()));
}

#[test]
fn braces_that_do_not_pair() {
    let mut faults = Faults::default();
    let text = "part a {\n  joint b to=c {\n}\npart d\n";
    let cut = cut(text, &mut faults);
    assert_eq!(cut.pieces.len(), 2);
    assert_eq!(cut.pieces[0].unclosed, 1);
    assert_eq!(faults.in_order()[0].code.name, "open-brace");
    assert_eq!(one("part a\n}\npart b\n"), ("stray-brace", "}".into()));
}

#[test]
fn a_tower_of_blocks_is_refused_not_climbed() {
    let text = "a {".repeat(5000);
    assert!(codes(&text).iter().any(|(code, _)| *code == "text-not-kdl"));
}
