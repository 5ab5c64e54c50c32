//! Random books: whatever the planner makes of them, there and back and over the days of a shop,
//! is put before this crate. The two share no code.

use book::{Book, PartId, Ref, Severity};
use jiff::civil::Date;
use job::State;
use planning::calendar::{Done, calendar};
use planning::sequence::{Legs, Wish, sequence};
use planning::{Budget, Graph, Standing, Stop};
use proptest::prelude::*;

const ZONES: [&str; 4] = ["above", "under", "radiator-side", "bench"];

/// One part in the making; numbers are taken modulo what there is.
#[derive(Clone, Debug)]
struct Drawn {
    seat: usize,
    blockers: Vec<usize>,
    ways: Vec<usize>,
    zone: usize,
    minutes: u32,
    hands: u32,
    one_use: bool,
    wet: bool,
    sealed: bool,
    checked: bool,
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let numbers = || prop::collection::vec(0_usize..100, 0..3);
    let flags = (any::<bool>(), any::<bool>(), any::<bool>(), any::<bool>());
    (
        0_usize..100,
        numbers(),
        numbers(),
        0..ZONES.len(),
        3_u32..50,
        0_u32..8,
        flags,
    )
        .prop_map(
            |(seat, blockers, ways, zone, minutes, hands, (one_use, wet, sealed, checked))| Drawn {
                seat,
                blockers,
                ways,
                zone,
                minutes,
                hands: if hands == 0 { 2 } else { 1 },
                one_use,
                wet,
                sealed,
                checked,
            },
        )
}

/// The book: what is in the way of a part has a higher number, so that no circle arises; what a
/// part sits on has a lower one.
fn text(parts: &[Drawn]) -> String {
    let mut text = "book \"Random\" units=metric invented=#true\n\
        circuit coolant capacity=\"6 L\" { drain block.drain; fill block.fill }\n\
        part block fixed=#true {\n\
        port drain medium=coolant open=#true\n\
        port fill medium=coolant open=#true\n"
        .to_owned();
    for at in (0..parts.len()).filter(|&at| parts[at].wet) {
        text += &format!("port out{at} medium=coolant\n");
    }
    text += "}\n";
    for (at, part) in parts.iter().enumerate() {
        let above = |number: usize| at + 1 + number % (parts.len() - at - 1).max(1);
        let names = |numbers: &[usize]| -> Vec<String> {
            let mut all: Vec<usize> = numbers.iter().map(|&number| above(number)).collect();
            all.retain(|&other| other < parts.len());
            all.sort_unstable();
            all.dedup();
            all.iter().map(|other| format!("p{other}")).collect()
        };
        let seat = match part.seat % (at + 1) {
            0 => "block".to_owned(),
            other => format!("p{}", other - 1),
        };
        text += &format!(
            "part p{at} zone={} off=\"{m}..{} min\" on=\"{m}..{} min\" hands={} {{\n",
            ZONES[part.zone],
            part.minutes * 2,
            part.minutes * 3,
            part.hands,
            m = part.minutes
        );
        let blockers = names(&part.blockers);
        if !blockers.is_empty() {
            text += &format!(" needs-off {}\n", blockers.join(" "));
        }
        let ways = names(&part.ways);
        if ways.len() > 1 {
            text += &format!(" needs-off-any {{ way {}; way {} }}\n", ways[0], ways[1]);
        }
        if part.wet {
            text += " port in medium=coolant\n";
        }
        let once = if part.one_use { " one-use=#true" } else { "" };
        let seals = if part.sealed {
            "\n  sealant \"grey\" cures=\"2..6 h\""
        } else {
            ""
        };
        text +=
            &format!(" joint j{at} to={seat} {{\n  holes A..C thread=M6{once}{seals}\n }}\n}}\n");
        if part.wet {
            text += &format!("hose h{at} medium=coolant {{ from block.out{at}; to p{at}.in }}\n");
        }
        if part.checked {
            text += &format!("check c{at} of=p{at} before=p{at} takes=\"5 min\"\n");
        }
    }
    text
}

fn read(text: &str) -> Book {
    let (book, faults) = book::read(text);
    let faults: Vec<_> = faults
        .iter()
        .filter(|fault| fault.severity == Severity::Error)
        .collect();
    assert!(faults.is_empty(), "{text}\n{faults:#?}");
    book
}

const SHOP: &str = "shop \"Random\"
person ana first-time=1.5 { hours mon=\"3 h\" tue=\"2 h\" thu=\"3 h\" sat=\"7 h\" }
person rui { hours wed=\"3 h\" sat=\"5 h\" sun=\"4 h\" }
walk above under \"90 s\"
";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn plans_and_calendars_of_random_books_pass(
        parts in prop::collection::vec(drawn(), 2..14),
        wanted in prop::collection::vec(0_usize..100, 1..3),
        seed in 0_u64..1_000,
    ) {
        let book = read(&text(&parts));
        let (shop, faults) = book::read_shop(SHOP);
        prop_assert!(faults.is_empty(), "{:?}", faults);
        let state = State::new(Some(&book));
        let standing = Standing::from(&state);
        let graph = Graph::new(&book, &standing.choices);
        let target = |number: &usize| Ref::Part(PartId::new(format!("p{}", number % parts.len())));
        let wish = Wish { targets: wanted.iter().map(target).collect(), legs: Legs::Both };
        let budget = Budget::moves(3_000).seed(seed);
        let plan = sequence(&graph, &standing, &wish, Some(&shop), &budget, &Stop::new(), &mut |_| {});
        let plan = match plan {
            Ok(plan) => plan,
            Err(fault) => return Err(TestCaseError::fail(format!("{fault}\n{}", text(&parts)))),
        };
        let mut refusals = verify::check(&book, &state, &plan);
        refusals.extend(verify::walking(Some(&shop), &plan));
        let monday = Date::constant(2026, 3, 2);
        let laid = calendar(&graph, &plan, &shop, monday, &Done::default(), &Budget::moves(5).seed(seed));
        match laid {
            Ok(laid) => {
                let dated = laid.dated(&shop, &plan);
                prop_assert_eq!(dated.steps.len(), plan.steps.len());
                refusals.extend(verify::calendar(&book, &shop, &plan, &dated));
            }
            Err(fault) => return Err(TestCaseError::fail(fault.to_string())),
        }
        prop_assert!(refusals.is_empty(), "{:#?}\n{}", refusals, text(&parts));
    }
}
