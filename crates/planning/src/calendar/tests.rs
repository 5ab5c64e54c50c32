//! Calendars worked out by hand, and random ones looked through by a checker of its own.

use book::{Book, CircuitId, JointId, PartId, Ref, Shop};
use job::plan::{Basis, Because, Leg, Plan, Step, StepAct, StepName, Takes, Wait};
use proptest::prelude::*;
use quantity::Duration;

use super::*;
use crate::graph::Choices;

const HOUR: Seconds = 3_600;

/// A Monday.
fn monday() -> Date {
    Date::constant(2026, 3, 2)
}

fn shop(text: &str) -> Shop {
    let (shop, faults) = book::read_shop(&format!("shop \"Test bay\"\n{text}\n"));
    assert!(faults.is_empty(), "{faults:?}");
    shop
}

fn graph(text: &str) -> Graph {
    let (book, faults): (Book, _) = book::read(&format!("book \"Test\" units=metric\n{text}\n"));
    assert!(faults.is_empty(), "{faults:?}");
    Graph::new(&book, &Choices::default())
}

fn part(id: &str) -> Ref {
    Ref::Part(PartId::from(id))
}

fn step(act: StepAct, target: Ref, minutes: f64) -> Step {
    let time = Duration::minutes(minutes).unwrap();
    let leg = match act {
        StepAct::Off | StepAct::Undo | StepAct::Drain => Leg::Apart,
        _ => Leg::Together,
    };
    Step {
        name: StepName { act, target },
        leg,
        with: Vec::new(),
        zone: None,
        tools: Vec::new(),
        takes: Some(Takes {
            low: time,
            likely: time,
            high: time,
        }),
        hands: 1,
        hoist: false,
        cures: None,
        waits: Vec::new(),
    }
}

fn after(mut step: Step, first: &Step) -> Step {
    step.waits.push(Wait {
        first: first.name.clone(),
        because: Because::InTheWay,
    });
    step
}

fn plan(steps: Vec<Step>) -> Plan {
    Plan {
        steps,
        ways: Vec::new(),
        basis: Basis::Book,
        between: Duration::default(),
        bound: Duration::default(),
    }
}

fn lay(graph: &Graph, steps: Vec<Step>, shop: &Shop) -> Result<Calendar, CalendarFault> {
    calendar(
        graph,
        &plan(steps),
        shop,
        monday(),
        &Done::default(),
        &Budget::moves(20),
    )
}

/// `(day, from, to)` of a task, the times in hours of that day.
fn stands(calendar: &Calendar, task: usize) -> (i64, f64, f64) {
    let placed = &calendar.placing.tasks[task];
    let day = day_of(placed.start());
    let hours = |at: Seconds| (at - day * DAY) as f64 / HOUR as f64;
    (day, hours(placed.start()), hours(placed.end()))
}

#[test]
fn what_does_not_fit_one_evening_waits_for_the_other_person() {
    let shop =
        shop("person ana { hours mon=\"2 h\" wed=\"2 h\" }\nperson rui { hours tue=\"3 h\" }");
    let graph = graph("part a\npart b");
    let first = step(StepAct::Off, part("a"), 90.0);
    let then = after(step(StepAct::Off, part("b"), 60.0), &first);
    let found = lay(&graph, vec![first, then], &shop).unwrap();
    // Ana has half an hour left on Monday, too little for an hour; Rui has Tuesday.
    assert_eq!(stands(&found, 0), (0, 18.0, 19.5));
    assert_eq!(stands(&found, 1), (1, 18.0, 19.0));
    assert_eq!(found.likely, DAY + 19 * HOUR);
}

#[test]
fn two_hands_meet_only_on_saturday() {
    let shop = shop(
        "person ana { hours mon=\"2 h\" tue=\"2 h\" sat=\"3 h\" }\nperson rui { hours sat=\"4 h\" }",
    );
    let graph = graph("part a");
    let mut lift = step(StepAct::Off, part("a"), 30.0);
    lift.hands = 2;
    let found = lay(&graph, vec![lift], &shop).unwrap();
    assert_eq!(stands(&found, 0), (5, 9.0, 9.5));
    assert_eq!(found.placing.tasks[0].people, [0, 1]);
}

#[test]
fn the_first_time_takes_longer_and_the_slower_sets_the_pace_of_two() {
    let shop =
        shop("person ana first-time=1.5 { hours sat=\"4 h\" }\nperson rui { hours sat=\"4 h\" }");
    let graph = graph("part a\npart b");
    let mut both = step(StepAct::Off, part("a"), 60.0);
    both.hands = 2;
    let alone = after(step(StepAct::Off, part("b"), 60.0), &both);
    let found = lay(&graph, vec![both, alone], &shop).unwrap();
    assert_eq!(stands(&found, 0), (5, 9.0, 10.5));
    // Rui alone does it in the plain hour.
    assert_eq!(stands(&found, 1), (5, 10.5, 11.5));
    assert_eq!(found.placing.tasks[1].people, [1]);
}

#[test]
fn sealant_cures_over_night_before_the_coolant_goes_in() {
    let shop = shop("person ana { hours mon=\"2 h\" tue=\"2 h\" wed=\"2 h\" }");
    let graph = graph("part pump {\n joint pump-joint to=pump2 {\n hole A\n }\n}\npart pump2");
    let sealed = |cures: f64| {
        let mut sealed = step(StepAct::DoUp, Ref::Joint(JointId::from("pump-joint")), 60.0);
        sealed.cures = Some(Duration::hours(cures).unwrap());
        let fill = after(
            step(
                StepAct::Fill,
                Ref::Circuit(CircuitId::from("coolant")),
                20.0,
            ),
            &sealed,
        );
        vec![sealed, fill]
    };
    // Done at 19:00 on Monday. Twelve hours later is Tuesday morning, so it waits for the evening.
    let over_night = lay(&graph, sealed(12.0), &shop).unwrap();
    assert_eq!(stands(&over_night, 1), (1, 18.0, 18.0 + 1.0 / 3.0));
    // Twenty-four hours end at 19:00 on Tuesday: 40 minutes of that evening are left to begin in.
    let a_day = lay(&graph, sealed(24.0), &shop).unwrap();
    assert_eq!(stands(&a_day, 1), (1, 19.0, 19.0 + 1.0 / 3.0));
    let longer = lay(&graph, sealed(25.0), &shop).unwrap();
    assert_eq!(stands(&longer, 1).0, 2);
    assert!(
        longer.chain.iter().any(|link| link.kind == Held::Curing(0)),
        "{:?}",
        longer.chain
    );
}

#[test]
fn a_part_on_order_holds_the_step_and_says_by_when_to_order() {
    let shop =
        shop("person ana { hours mon=\"2 h\" tue=\"2 h\" wed=\"2 h\" thu=\"2 h\" fri=\"2 h\" }");
    let lay_with = |lead: &str, minutes: f64| {
        let graph = graph(&format!(
            "part ring one-use=#true lead=\"{lead}\"\npart cover"
        ));
        let first = step(StepAct::On, part("cover"), minutes);
        let ring = after(step(StepAct::On, part("ring"), 30.0), &first);
        lay(&graph, vec![first, ring], &shop).unwrap()
    };
    // Ordered on Monday, three days: Thursday at 17:00.
    let holds = lay_with("3 d", 30.0);
    assert_eq!(stands(&holds, 1), (3, 18.0, 18.5));
    assert_eq!(holds.buys[0].order_by, Some(0));
    // Five days end on a Saturday, so it comes on the Monday after.
    assert_eq!(stands(&lay_with("5 d", 30.0), 1), (7, 18.0, 18.5));
    // It comes on Tuesday whenever it is ordered by Monday, and the cover fills Monday evening:
    // nothing is lost by ordering on the first day, everything by ordering on the second.
    let free = lay_with("1 d", 120.0);
    assert_eq!(stands(&free, 1), (1, 18.0, 18.5));
    assert_eq!(free.buys[0].order_by, Some(0));
}

/// Worked out by hand: two hours an evening; X fills Monday, A and B take an hour and a half
/// each, so one of them has Tuesday and the other Wednesday. Each alone could come on Wednesday;
/// both cannot.
#[test]
fn orders_on_their_last_days_all_together_leave_the_finish() {
    let shop =
        shop("person ana { hours mon=\"2 h\" tue=\"2 h\" wed=\"2 h\" thu=\"2 h\" fri=\"2 h\" }");
    let graph =
        graph("part x\npart a one-use=#true lead=\"1 d\"\npart b one-use=#true lead=\"1 d\"");
    let on = |id: &str, minutes: f64| step(StepAct::On, part(id), minutes);
    let found = lay(
        &graph,
        vec![on("x", 120.0), on("a", 90.0), on("b", 90.0)],
        &shop,
    )
    .unwrap();
    assert_eq!(day_of(found.likely), 2);
    let days: Vec<Option<i64>> = found.buys.iter().map(|buy| buy.order_by).collect();
    assert_eq!(days, [Some(0), Some(1)]);
}

/// Worked out by hand: done up at 19:00 on Monday, cured a day later, one more hour to fire.
#[test]
fn sealant_cures_before_the_engine_is_spun_or_fired() {
    let shop = shop("person ana { hours mon=\"2 h\" tue=\"3 h\" wed=\"2 h\" }");
    let graph = graph("part a");
    let mut seal = step(StepAct::DoUp, Ref::Joint(JointId::from("cover")), 60.0);
    seal.cures = Some(Duration::hours(24.0).unwrap());
    let spin = after(
        step(StepAct::Pass, Ref::Gate(book::GateId::from("spin")), 60.0),
        &seal,
    );
    let found = lay(&graph, vec![seal, spin], &shop).unwrap();
    assert_eq!(stands(&found, 1), (1, 19.0, 20.0));
}

#[test]
fn what_is_ordered_or_here_already_is_not_bought_again() {
    let shop = shop("person ana { hours mon=\"2 h\" tue=\"2 h\" wed=\"2 h\" thu=\"2 h\" }");
    let graph = graph("part ring \"Oil ring\" one-use=#true lead=\"3 d\"");
    let steps = plan(vec![step(StepAct::On, part("ring"), 30.0)]);
    let order = |day, here| Done {
        orders: vec![Ordered {
            what: "oil ring".to_owned(),
            count: 1,
            day,
            here,
        }],
        ..Done::default()
    };
    let lay = |done| calendar(&graph, &steps, &shop, monday(), &done, &Budget::moves(1)).unwrap();
    let here = lay(order(-5, true));
    assert_eq!((stands(&here, 0).0, here.buys.len()), (0, 0));
    // Ordered on the Friday before: three days end on Monday.
    let coming = lay(order(-3, false));
    assert_eq!((stands(&coming, 0).0, coming.buys.len()), (0, 0));
    assert_eq!(stands(&lay(Done::default()), 0).0, 3);
}

/// Two joints with a gasket each, one of them with two one-use bolts.
fn gaskets(done: &Done) -> Vec<String> {
    let shop = shop("person ana { hours mon=\"2 h\" }");
    let graph = graph(
        "part block fixed=#true\npart a {\n joint a-bolts \"Bolts of a\" to=block {\n holes A B one-use=#true\n seal \"left head gasket\" new=#true\n }\n}\npart b {\n joint b-bolts to=block {\n holes A\n seal \"right head gasket\" new=#true count=2\n }\n}",
    );
    let do_up = |id| step(StepAct::DoUp, Ref::Joint(JointId::from(id)), 10.0);
    let steps = plan(vec![do_up("a-bolts"), do_up("b-bolts")]);
    let found = calendar(&graph, &steps, &shop, monday(), done, &Budget::moves(1)).unwrap();
    let mut names: Vec<String> = found
        .buys
        .iter()
        .map(|buy| buy.purchase.what.clone())
        .collect();
    names.sort();
    names
}

#[test]
fn one_order_serves_several_joints_where_its_count_is_enough() {
    let order = |what: &str, count| Done {
        orders: vec![Ordered {
            what: what.to_owned(),
            count,
            day: -1,
            here: true,
        }],
        ..Done::default()
    };
    let all = [
        "2 bolts or nuts, Bolts of a",
        "2 right head gaskets",
        "left head gasket",
    ];
    assert_eq!(gaskets(&Done::default()), all);
    assert_eq!(gaskets(&order("head gasket", 3)), all[..1]);
    // Two are not enough for three, and nobody knows whose they are.
    assert_eq!(gaskets(&order("head gasket", 2)), all);
    // One word says too little, whatever the count.
    assert_eq!(gaskets(&order("gasket", 9)), all);
}

#[test]
fn what_is_in_its_place_new_is_not_bought() {
    let (a, b) = (JointId::from("a-bolts"), JointId::from("b-bolts"));
    let done = Done {
        seals: [
            ((a.clone(), "left head gasket".to_owned()), 1),
            ((b, "right head gasket".to_owned()), 1),
        ]
        .into(),
        fasteners: [(a, 1)].into(),
        ..Done::default()
    };
    let left = ["1 bolt or nut, Bolts of a", "right head gasket"];
    assert_eq!(gaskets(&done), left);
}

#[test]
fn outside_work_goes_out_on_a_working_day_and_each_end_has_its_date() {
    let shop = shop("person ana { hours mon=\"2 h\" fri=\"2 h\" sat=\"2 h\" }");
    let graph = graph(
        "part head {\n outside \"skim\" {\n good takes=\"4 d\"\n needs-work takes=\"6..8 d\"\n scrap takes=\"21 d\"\n }\n}\npart cover",
    );
    let cover = step(StepAct::Off, part("cover"), 110.0);
    let off = after(step(StepAct::Off, part("head"), 60.0), &cover);
    let on = after(step(StepAct::On, part("head"), 60.0), &off);
    let found = lay(&graph, vec![cover, off, on], &shop).unwrap();
    // Off on Friday evening (day 4), taken in on Monday (day 7), back on Friday (day 11) at 17:00.
    assert_eq!(stands(&found, 1).0, 4);
    assert_eq!(stands(&found, 2), (11, 18.0, 19.0));
    let back: Vec<i64> = found
        .branches
        .iter()
        .map(|branch| day_of(branch.dated.unwrap().0))
        .collect();
    // Seven days, the mean, end on Monday the 14th; 21 days on Monday the 28th.
    assert_eq!(back, [11, 14, 28]);
    assert_eq!(
        day_of(found.badly),
        18,
        "back on Monday or Tuesday, the next evening at work is Friday or Monday"
    );
}

#[test]
fn one_tool_is_in_one_hand() {
    let shop = shop(
        "person ana { hours sat=\"6 h\" }\nperson rui { hours sat=\"6 h\" }\ntool counterholder count=1",
    );
    let graph = graph("part a\npart b");
    let with_tool = |id: &str| {
        let mut step = step(StepAct::Off, part(id), 60.0);
        step.tools = vec![book::ToolId::from("counterholder")];
        step
    };
    let found = lay(&graph, vec![with_tool("a"), with_tool("b")], &shop).unwrap();
    assert_eq!(found.likely, 5 * DAY + 11 * HOUR);
    let without = lay(
        &graph,
        vec![
            step(StepAct::Off, part("a"), 60.0),
            step(StepAct::Off, part("b"), 60.0),
        ],
        &shop,
    )
    .unwrap();
    assert_eq!(without.likely, 5 * DAY + 10 * HOUR);
}

#[test]
fn a_step_longer_than_any_evening_is_named() {
    let shop = shop("person ana { hours mon=\"2 h\" tue=\"2 h\" }");
    let graph = graph("part a");
    let found = lay(&graph, vec![step(StepAct::Off, part("a"), 150.0)], &shop).unwrap();
    assert_eq!(found.too_long.len(), 1);
    assert_eq!(found.too_long[0].longest, 2 * HOUR);
    assert_eq!(
        found.placing.tasks[0].stretches,
        [
            (18 * HOUR, 20 * HOUR),
            (DAY + 18 * HOUR, DAY + 18 * HOUR + 1_800)
        ]
    );
}

#[test]
fn hands_that_never_meet_are_refused() {
    let graph = graph("part a");
    let mut lift = step(StepAct::Off, part("a"), 30.0);
    lift.hands = 2;
    for text in [
        "person ana { hours mon=\"2 h\" }",
        "person ana { hours mon=\"2 h\" }\nperson rui { hours tue=\"2 h\" }",
    ] {
        let fault = lay(&graph, vec![lift.clone()], &shop(text)).unwrap_err();
        assert!(
            matches!(fault, CalendarFault::Hands { hands: 2, .. }),
            "{fault}"
        );
    }
    let nobody = lay(&graph, vec![lift], &shop("hoist crane")).unwrap_err();
    assert_eq!(nobody, CalendarFault::Nobody);
}

#[test]
fn days_away_are_not_worked() {
    let shop = shop(
        "person ana {\n hours mon=\"2 h\" tue=\"2 h\" wed=\"2 h\"\n away \"2026-03-02\" \"2026-03-03\"\n}",
    );
    let graph = graph("part a");
    let found = lay(&graph, vec![step(StepAct::Off, part("a"), 30.0)], &shop).unwrap();
    assert_eq!(stands(&found, 0), (2, 18.0, 18.5));
}

/// Where a quarter of a triangle lies, by hand: from 0 over 1 to 4 the rise holds a quarter of
/// the area, so the quarter ends at the top.
#[test]
fn draws_follow_a_triangle() {
    let span = work::Span {
        low: 0.0,
        likely: 1.0,
        high: 4.0,
    };
    assert!((span.at(0.25) - 1.0).abs() < 1e-12);
    assert!((span.at(0.0)).abs() < 1e-12);
    assert!((span.at(1.0) - 4.0).abs() < 1e-12);
}

#[test]
fn bad_luck_ends_later_and_the_same_seed_ends_the_same() {
    let shop =
        shop("person ana { hours mon=\"1 h\" tue=\"1 h\" wed=\"1 h\" thu=\"1 h\" fri=\"1 h\" }");
    let graph = graph("part a\npart b\npart c");
    let uncertain = |id: &str| {
        let mut step = step(StepAct::Off, part(id), 40.0);
        step.takes = Some(Takes {
            low: Duration::minutes(30.0).unwrap(),
            likely: Duration::minutes(40.0).unwrap(),
            high: Duration::minutes(160.0).unwrap(),
        });
        step
    };
    let steps = vec![uncertain("a"), uncertain("b"), uncertain("c")];
    let found = lay(&graph, steps.clone(), &shop).unwrap();
    assert!(
        found.early <= found.likely && found.likely < found.badly,
        "{} {} {}",
        found.early,
        found.likely,
        found.badly
    );
    let again = lay(&graph, steps, &shop).unwrap();
    assert_eq!((again.placing, again.badly), (found.placing, found.badly));
}

/// Looks a calendar through without any of its own tables. The first day is a Monday.
fn checked(calendar: &Calendar, steps: &[Step], hours: &[[i64; 7]]) -> Result<(), String> {
    let open = |person: usize, from: Seconds, to: Seconds| {
        let day = from / DAY;
        let weekday = (day % 7) as usize;
        let length = hours[person][weekday] * HOUR;
        let begins = if weekday < 5 && length <= 5 * HOUR {
            18
        } else {
            9
        };
        let opens = day * DAY + (begins * HOUR).min(DAY - length);
        opens <= from && to <= opens + length
    };
    let tasks = &calendar.placing.tasks;
    for (one, step) in steps.iter().enumerate() {
        let mine = &tasks[one];
        if mine.people.len() != step.hands as usize {
            return Err(format!("{}: {:?}", step.name, mine.people));
        }
        for &(from, to) in &mine.stretches {
            if mine.people.iter().any(|&person| !open(person, from, to)) {
                return Err(format!("{} {from}..{to} when somebody is away", step.name));
            }
        }
        for wait in &step.waits {
            let before = steps
                .iter()
                .position(|other| other.name == wait.first)
                .unwrap();
            let cures = match (step.name.act, steps[before].cures) {
                (StepAct::Fill, Some(cures)) => cures.in_seconds() as Seconds,
                _ => 0,
            };
            if tasks[before].end() + cures > mine.start() {
                return Err(format!("{} before {}", step.name, wait.first));
            }
        }
        for (other, theirs) in tasks.iter().enumerate().take(steps.len()).skip(one + 1) {
            let shared = mine
                .people
                .iter()
                .any(|person| theirs.people.contains(person));
            let tool = step
                .tools
                .iter()
                .any(|tool| steps[other].tools.contains(tool));
            let overlap = mine
                .stretches
                .iter()
                .any(|&(a, b)| theirs.stretches.iter().any(|&(c, d)| a < d && c < b));
            if overlap && (shared || tool) {
                return Err(format!("{} and {} at once", step.name, steps[other].name));
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn nobody_is_in_two_places_and_nothing_jumps_a_wait(
        hours in prop::collection::vec(prop::array::uniform7(0_i64..8), 2..4),
        drawn in prop::collection::vec((5_u32..400, 1_u32..3, 0_usize..6, any::<bool>()), 1..25),
        seed in 0_u64..1000,
    ) {
        let days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
        let mut text = "tool counterholder count=1".to_owned();
        for (number, week) in hours.iter().enumerate() {
            // A day without hours is left out: none is not written as `0 h`.
            let open = days.iter().zip(week).filter(|(_, hours)| **hours > 0);
            let week: Vec<String> = open.map(|(day, hours)| format!("{day}=\"{hours} h\"")).collect();
            let week = if week.is_empty() { String::new() } else { format!("{{ hours {} }}", week.join(" ")) };
            text = format!("{text}\nperson p{number} first-time=1.{number} {week}");
        }
        let shop = shop(&text);
        let mut steps: Vec<Step> = Vec::new();
        for (number, &(minutes, hands, back, tool)) in drawn.iter().enumerate() {
            let id = format!("p{number}");
            let sealing = back == 5;
            let act = if sealing { StepAct::DoUp } else if back == 4 { StepAct::Fill } else { StepAct::On };
            let target = match act {
                StepAct::Fill => Ref::Circuit(CircuitId::from(id.as_str())),
                StepAct::DoUp => Ref::Joint(JointId::from(id.as_str())),
                _ => part(&id),
            };
            let mut step = step(act, target, f64::from(minutes));
            step.hands = hands;
            if sealing {
                step.cures = Some(Duration::hours(14.0).unwrap());
            }
            if tool {
                step.tools = vec![book::ToolId::from("counterholder")];
            }
            if let Some(before) = number.checked_sub(back + 1) {
                step = after(step, &steps[before].clone());
            }
            steps.push(step);
        }
        let graph = graph("part nothing");
        let budget = Budget::moves(5).seed(seed);
        match calendar(&graph, &plan(steps.clone()), &shop, monday(), &Done::default(), &budget) {
            Ok(found) => prop_assert_eq!(checked(&found, &steps, &hours), Ok(())),
            Err(fault) => prop_assert!(
                matches!(fault, CalendarFault::Nobody | CalendarFault::Hands { .. } | CalendarFault::Ends(_)),
                "{}", fault
            ),
        }
    }
}
