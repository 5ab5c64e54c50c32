//! All faults come out in one go, each with its place, whatever the text is.

use book::{Fault, Lines, read, read_shop, show_faults};
use proptest::prelude::*;

fn codes(text: &str) -> Vec<&'static str> {
    read(text).1.iter().map(|fault| fault.code.name).collect()
}

fn shown(text: &str) -> String {
    show_faults(&read(text).1, "van.kdl", text)
}

/// The document reader gives up at the first slip; here each of five is its own fault, and the
/// rest of the book is still understood.
#[test]
fn five_slips_are_five_faults() {
    let text = r#"
part block fixed=#true
part cover "Timing cover zone=drive-end
part runners zone=above {
    joint runners-to-head to=block {
        holes A..D thread=M8x1.25 length=40mm grip=22 mm
        hole E length="65 mm head="13 mm"
        tighten 21 N·m
    }
}
part plenum zone=above off=15min
"#;
    let (book, faults) = read(text);
    let found: Vec<&str> = faults.iter().map(|fault| fault.code.name).collect();
    assert_eq!(
        found,
        [
            "lost-quote",
            "unquoted-value",
            "unquoted-value",
            "lost-quote",
            "unquoted-value",
            "unquoted-value"
        ],
        "{}",
        shown(text)
    );
    assert_eq!(book.parts.len(), 4);
    assert_eq!(book.joints[0].holes.len(), 5);
    let lines = Lines::new(text);
    let places: Vec<usize> = faults
        .iter()
        .map(|fault| lines.place(fault.span.start).line)
        .collect();
    assert_eq!(places, [3, 6, 6, 7, 8, 11]);
}

#[test]
fn a_slip_in_one_line_hides_no_fault_in_another() {
    let text = "part a length=40mm\npart b zome=above\npart b zone=abve\nhose h from=a.x\n";
    assert_eq!(
        codes(text),
        [
            "unknown-property",
            "unquoted-value",
            "unknown-property",
            "duplicate-id",
            "unknown-zone",
            "one-ended-line",
            "unknown-port"
        ]
    );
}

#[test]
fn a_node_that_cannot_be_read_makes_no_others_unknown() {
    let text = "part air-duct zone==above\npart runners {\n    needs-off air-duct\n}\n";
    assert_eq!(codes(text), ["text-not-kdl"]);
}

#[test]
fn a_loop_that_a_way_escapes_is_allowed() {
    let loop_with = |inner: &str| {
        format!(
            "part a {{\n needs-off b\n}}\npart b {{\n needs-off-any {{\n way a\n{inner}\n }}\n}}\npart c\n"
        )
    };
    assert_eq!(codes(&loop_with("way c")), Vec::<&str>::new());
    assert_eq!(codes(&loop_with("")), ["needs-off-loop"]);
    assert_eq!(codes("part a {\n needs-off a\n}\n"), ["needs-off-loop"]);
}

#[test]
fn a_loop_names_every_part_of_it_and_every_place() {
    let text = "part a {\n needs-off b\n}\npart b {\n needs-off c\n}\npart c {\n needs-off a\n}\npart d {\n needs-off a\n}\n";
    let faults = read(text).1;
    assert_eq!(faults.len(), 1, "{}", shown(text));
    assert_eq!(faults[0].also.len(), 2);
    for name in ["`a`", "`b`", "`c`"] {
        assert!(faults[0].message.contains(name), "{}", faults[0].message);
    }
    assert!(!faults[0].message.contains("`d`"), "{}", faults[0].message);
}

#[test]
fn what_two_variants_share_is_no_fault() {
    let text = r#"
variant throttle cable electronic
part block fixed=#true
part body "Cable body" when="throttle=cable" {
    needs-off cable
    port pull medium=pull
}
part body "Electronic body" when="throttle=electronic" {
    port plug medium=signal
}
part cable when="throttle=cable" {
    port end medium=pull
}
cable pull-wire when="throttle=cable" from=cable.end to=body.pull
"#;
    assert_eq!(codes(text), Vec::<&str>::new(), "{}", shown(text));
    let (book, _) = read(text);
    let chosen = [("throttle".into(), "electronic".to_owned())].into();
    let electronic = book.under(&chosen);
    let labels: Vec<_> = electronic
        .parts
        .iter()
        .filter_map(|part| part.label.as_deref())
        .collect();
    assert_eq!(labels, ["Electronic body"]);
    assert!(electronic.lines.is_empty());
}

#[test]
fn a_loop_in_one_variant_only_is_found() {
    let text = "variant v x y\npart a {\n needs-off b\n}\npart b when=\"v=x\" {\n needs-off a\n}\n";
    assert_eq!(codes(text), ["needs-off-loop"]);
    let kept_apart = "variant v x y\npart a when=\"v=y\" {\n needs-off b\n}\npart b when=\"v=x\" {\n needs-off a\n}\n";
    assert_eq!(codes(kept_apart), Vec::<&str>::new());
}

#[test]
fn a_way_whose_parts_do_not_exist_is_open() {
    let text = "variant v x y\npart a {\n needs-off-any {\n way b\n way c\n }\n}\npart b when=\"v=x\"\npart c\n";
    let (book, faults) = read(text);
    assert!(faults.is_empty());
    let view = book.under(&[("v".into(), "y".to_owned())].into());
    assert!(view.parts[0].needs_off_any.is_empty());
    let other = book.under(&[("v".into(), "x".to_owned())].into());
    assert_eq!(other.parts[0].needs_off_any[0].ways.len(), 2);
}

#[test]
fn names_are_found_however_they_are_typed() {
    let (book, faults) = read(
        "part air-duct \"Inlet duct\" was=snorkel {\n port outlet medium=air\n}\npart block\n\
         part pump \"Water pump\" {\n joint pump-bolts to=block {\n hole A\n }\n}\npart pump-2 \"Water pump\"\n",
    );
    assert!(faults.is_empty());
    let found = |name: &str| book.resolve(name).map(|found| found.to_string());
    for name in ["air-duct", "Air Duct", "AIRDUCT", "inlet duct", "snorkel"] {
        assert_eq!(found(name).unwrap(), "air-duct", "{name}");
    }
    assert_eq!(found("air duct.outlet").unwrap(), "air-duct.outlet");
    assert_eq!(found("pump-bolts.a").unwrap(), "pump-bolts.A");
    assert_eq!(found("water pump").unwrap_err(), ["pump", "pump-2"]);
    assert_eq!(found("ar-duct").unwrap_err(), ["air-duct"]);
    assert!(found("gearbox").unwrap_err().is_empty());
    assert_eq!(found("turn by hand").unwrap(), "turn-by-hand");
}

#[test]
fn an_old_id_leads_to_the_new_one() {
    let (book, faults) =
        read("part throttle-cable was=gas-cable\npart a {\n needs-off gas-cable\n}\n");
    assert!(faults.is_empty());
    assert_eq!(book.parts[1].needs_off[0].id.as_str(), "throttle-cable");
}

#[test]
fn facts_keep_the_three_ways_of_missing() {
    let (book, faults) = read(
        "part b\npart a {\n joint j to=b {\n hole A length=\"?\" grip=none head=\"13 mm\"\n }\n}\n",
    );
    assert!(faults.is_empty());
    let hole = &book.joints[0].holes[0];
    assert_eq!(hole.length, book::Fact::Unknown);
    assert_eq!(hole.grip, book::Fact::DoesNotApply);
    assert_eq!(hole.thread_depth, book::Fact::NeverAsked);
    assert_eq!(hole.head.typed(), Some("13 mm"));
}

#[test]
fn the_tightening_of_a_hole_is_the_one_that_names_it() {
    let (book, faults) = read(
        "part b\npart a {\n joint j to=b {\n holes A..C\n tighten \"10 N·m\"\n tighten \"?\" holes=B\n }\n}\n",
    );
    assert!(faults.is_empty());
    let joint = &book.joints[0];
    assert_eq!(joint.tighten_of(&"A".into()).unwrap().steps().count(), 1);
    assert_eq!(
        joint.tighten_of(&"B".into()).unwrap().stages,
        book::Stages::Unknown
    );
}

#[test]
fn every_end_is_checked_against_its_port() {
    let ports = "part p {\n port a medium=coolant bore=\"10 mm\"\n port b medium=coolant bore=\"10 mm\"\n port c medium=oil\n port d open=#true\n}\n";
    let line = |line: &str| codes(&format!("{ports}{line}\n"));
    assert_eq!(
        line("hose h bore=\"10.4 mm\" from=p.a to=p.b"),
        Vec::<&str>::new()
    );
    assert_eq!(
        line("hose h bore=\"12 mm\" from=p.a to=p.b"),
        ["bore-mismatch", "bore-mismatch"]
    );
    assert_eq!(line("hose h from=p.a to=p.c"), ["medium-mismatch"]);
    assert_eq!(line("hose h from=p.a to=p.d"), ["port-used-twice"]);
    assert_eq!(line("hose h from=p.a to=p.a"), ["port-used-twice"]);
    assert_eq!(line("hose h from=p.a to=p"), ["unknown-port"]);
}

#[test]
fn a_shop_file_is_read_with_its_own_nodes() {
    let faults = read_shop("shop \"Barn\"\nwrench a kind=clik accuracy=\"4 %\"\npart b\n").1;
    let found: Vec<&str> = faults.iter().map(|fault| fault.code.name).collect();
    assert_eq!(found, ["unknown-word", "unknown-node"]);
}

/// A good book with every noun in it, to break.
const GOOD: &str = r#"
book "Van" units=metric currency=EUR
engine V6 angle="90°" bore="88 mm" ratio=9.8 {
    bank bulkhead 1 3 5
    bank radiator 2 4 6
    firing-order 1 2 3 4 5 6
    inlet-closes "54°" after=bdc at-lift="0.2 mm"
}
variant throttle cable electronic
zone hatch "Behind the seats"
part block fixed=#true {
    port drain "Drain" medium=coolant bore="12 mm"
}
part wire when="throttle=cable" was=gas-wire off="5 min, 3..9 min"
part head "Head µ" zone=hatch hands=2 price="40..60" lead="3..5 d" {
    needs-off-any { way wire; way cover }
    outside "skim" { good takes="4 d" price=60; scrap takes="9 d" }
    port out medium=coolant bore="12 mm" key="2-pin"
    joint head-bolts to=block critical=head {
        holes h1..h4 thread=M11x1.5 length="128 mm" grip="94 mm" head=E14
        hole x holds=dowel
        washer "hard" thickness="3 mm"
        tighten "20 N·m" "90°" condition=oiled source=maker at="p. 3"
        pattern h2 h3 h1 h4
        seal "gasket" new=#true side="TOP"
    }
}
part cover { needs-off wire; pair head kind=turned }
hose main medium=coolant clamp=worm from=block.drain to=head.out
circuit coolant capacity="8.6 L" target="50 %" { drain block.drain; through head }
if-crossed coolant oil says="emulsion" grade=ruin
shaft crank kind=crank sits-in=block pin=pin parked="60°"
limit flat of=head max="0.05 mm" per="100 mm" source=maker
check free of=head-bolts.h1 before=head limit=flat
temporary pin in=block out-before=spin
rule order "it cannot be reached later" { refit head before=cover }
gate fire { need check=free; need circuit=coolant state=full; need "nobody near the belt" }
"#;

#[test]
fn the_book_to_break_is_good() {
    assert_eq!(codes(GOOD), Vec::<&str>::new(), "{}", shown(GOOD));
}

/// Files from other machines: lines that end in CR LF, a byte order mark, tabs.
#[test]
fn line_ends_of_other_machines_change_nothing() {
    let (plain, _) = read(GOOD);
    for text in [
        GOOD.replace('\n', "\r\n"),
        format!("\u{feff}{GOOD}"),
        GOOD.replace("    ", "\t"),
    ] {
        let (book, faults) = read(&text);
        assert!(
            faults.is_empty(),
            "{}",
            show_faults(&faults, "van.kdl", &text)
        );
        assert_eq!(book, plain);
    }
    let broken = "part a\r\npart b zone=abve\r\n";
    let shown = show_faults(&read(broken).1, "van.kdl", broken);
    assert!(shown.starts_with("van.kdl:2:13: "), "{shown}");
    assert!(!shown.contains('\r'), "{shown:?}");
}

#[derive(Clone, Debug)]
enum Slip {
    Drop(usize, usize),
    Insert(usize, String),
    Double(usize, usize),
    Swap(usize, usize),
}

fn slip() -> impl Strategy<Value = Slip> {
    let signs = "\"|\\{|\\}|=|#|\\\\|/\\*|//|/-|\\n|;|\\(|true|40mm|\\?|none|\\.\\.|µ|\\t|\u{85}|\u{feff}|'|#\"|\"\"\"|[a-z0-9 ]{1,4}";
    prop_oneof![
        (any::<usize>(), 1_usize..12).prop_map(|(at, length)| Slip::Drop(at, length)),
        (any::<usize>(), signs).prop_map(|(at, text)| Slip::Insert(at, text)),
        (any::<usize>(), 1_usize..40).prop_map(|(at, length)| Slip::Double(at, length)),
        (any::<usize>(), any::<usize>()).prop_map(|(a, b)| Slip::Swap(a, b)),
    ]
}

fn apply(text: &str, slip: &Slip) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    let count = letters.len().max(1);
    match slip {
        Slip::Drop(at, length) => {
            let at = at % count;
            letters.drain(at..(at + length).min(letters.len()));
        }
        Slip::Insert(at, text) => {
            let at = at % count;
            letters.splice(at..at, text.chars());
        }
        Slip::Double(at, length) => {
            let at = at % count;
            let copy: Vec<char> = letters[at..(at + length).min(letters.len())].to_vec();
            letters.splice(at..at, copy);
        }
        Slip::Swap(a, b) => {
            let (a, b) = (a % count, b % count);
            if a < letters.len() && b < letters.len() {
                letters.swap(a, b);
            }
        }
    }
    letters.into_iter().collect()
}

fn every_fault_has_a_place(faults: &[Fault], text: &str) {
    for fault in faults {
        assert!(
            fault.span.start <= fault.span.end && fault.span.end <= text.len(),
            "{fault:?}"
        );
        assert!(text.is_char_boundary(fault.span.start), "{fault:?}");
        assert!(text.is_char_boundary(fault.span.end), "{fault:?}");
        let place = Lines::new(text).place(fault.span.start);
        assert!(place.line >= 1 && place.column >= 1);
        assert!(!fault.message.is_empty());
        for (span, _) in &fault.also {
            assert!(span.end <= text.len(), "{fault:?}");
        }
    }
    let shown = show_faults(faults, "van.kdl", text);
    assert_eq!(shown.is_empty(), faults.is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// A good book with one to three slips: never a panic, and whatever is wrong has its place.
    #[test]
    fn a_broken_book_is_read_to_its_end(slips in prop::collection::vec(slip(), 1..4)) {
        let broken = slips.iter().fold(GOOD.to_owned(), |text, slip| apply(&text, slip));
        every_fault_has_a_place(&read(&broken).1, &broken);
    }

    /// Text that was never a book.
    #[test]
    fn any_text_is_read_to_its_end(text in "(\\PC|\\n){0,200}") {
        let faults = read(&text).1;
        every_fault_has_a_place(&faults, &text);
        every_fault_has_a_place(&read_shop(&text).1, &text);
    }
}
