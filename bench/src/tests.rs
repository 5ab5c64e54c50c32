//! Published optima with move budgets, and faults of the readers.

use planning::{Budget, Stop, crew, order};

use crate::{draw, published};

/// Reads a published ordering instance.
fn ordering(name: &str) -> order::Problem {
    let file = published::folder().join("sop").join(format!("{name}.sop"));
    published::ordering(&published::read(&file).unwrap()).unwrap()
}

/// Reads a published scheduling instance.
fn project(name: &str) -> crew::Problem {
    let set = name.split('_').next().unwrap();
    let file = published::folder()
        .join("rcpsp")
        .join(set)
        .join(format!("{name}.rcp"));
    published::project(&published::read(&file).unwrap()).unwrap()
}

/// Source: TSPLIB 95, best known values as listed with the instances
/// (`testdata/published/sop/best_known.csv`, column `best_known_upper`).
/// Kind: public data, exact whole numbers.
#[test]
fn published_orders_reach_their_best_known_value() {
    let known = [
        ("ESC07", 2_125),
        ("ESC12", 1_675),
        ("ESC25", 1_681),
        ("br17.10", 55),
        ("br17.12", 55),
        ("ft53.3", 10_262),
        ("ft53.4", 14_425),
        ("p43.4", 83_005),
        ("ry48p.4", 31_446),
    ];
    let csv = published::folder().join("sop/best_known.csv");
    let listed = published::column(&csv, "best_known_upper").unwrap();
    for (name, best) in known {
        assert_eq!(
            listed[name], best,
            "{name}: the file and this test disagree"
        );
        let problem = ordering(name);
        let budget = Budget::moves(10_000_000).threads(2);
        let found = order::search(&problem, &budget, &Stop::new(), &mut |_, _| ());
        assert_eq!(found.value, best, "{name}");
        assert_eq!(problem.value(&found.order), Some(best), "{name}");
        assert!(found.bound <= best, "{name}: bound {}", found.bound);
    }
}

/// Source: PSPLIB sets j30 and j60, makespans proved best as listed with the instances
/// (`testdata/published/rcpsp/best_known.csv`, `lower` equal to `upper`).
/// Kind: public data, exact whole numbers.
#[test]
fn published_projects_reach_their_proved_makespan() {
    let known = [
        ("j30_1_3", 47),
        ("j30_1_2", 47),
        ("j30_2_5", 51),
        ("j30_29_7", 73),
        ("j30_41_5", 99),
    ];
    let csv = published::folder().join("rcpsp/best_known.csv");
    let (lower, upper) = (
        published::column(&csv, "lower").unwrap(),
        published::column(&csv, "upper").unwrap(),
    );
    for (name, best) in known {
        assert_eq!(
            (lower[name], upper[name]),
            (u64::from(best), u64::from(best)),
            "{name}"
        );
        let problem = project(name);
        let budget = Budget::moves(60_000).threads(2);
        let found = crew::search(&problem, &budget, &Stop::new(), &mut |_| ()).unwrap();
        assert_eq!(found.schedule.finish, best, "{name}");
        assert!(problem.obeys(&found.schedule), "{name}");
        assert!(found.bound <= best, "{name}: bound {}", found.bound);
    }
}

/// No bound lies above a value somebody reached. Source: both `best_known.csv` files.
/// Kind: public data.
#[test]
fn bounds_stay_below_every_best_known_value() {
    let folder = published::folder();
    let orders = published::column(&folder.join("sop/best_known.csv"), "best_known_upper").unwrap();
    let mut looked_at = 0;
    for (name, &best) in orders.iter().filter(|(name, _)| !name.starts_with("rbg")) {
        let bound = order::lower_bound(&ordering(name), best, 30, &Stop::new());
        assert!(bound <= best, "{name}: bound {bound} above {best}");
        assert!(bound > 0, "{name}: the bound says nothing");
        looked_at += 1;
    }
    let projects = published::column(&folder.join("rcpsp/best_known.csv"), "upper").unwrap();
    for (name, &best) in &projects {
        let bound = crew::lower_bound(&project(name)).unwrap();
        assert!(
            u64::from(bound) <= best,
            "{name}: bound {bound} above {best}"
        );
        looked_at += 1;
    }
    assert!(looked_at > 120, "only {looked_at} instances were found");
}

/// What was written is read again as the same problem: every pair, every cost that can occur.
#[test]
fn a_written_order_is_read_again() {
    let (name, problem, _) = draw::orders().unwrap().swap_remove(0);
    let again = published::ordering(&published::as_ordering(&name, &problem)).unwrap();
    assert_eq!(again.len(), problem.len());
    for from in 0..problem.len() {
        for to in (0..problem.len()).filter(|&to| to != from) {
            let held = problem.must_precede(to, from);
            assert_eq!(again.must_precede(to, from), held, "{to} before {from}");
            assert!(held || again.cost(from, to) == problem.cost(from, to));
        }
    }
}

#[test]
fn faults_of_ordering_files_are_named() {
    let said = |text: &str| format!("{:#}", published::ordering(text).unwrap_err());
    assert!(said("NAME: x").contains("ends before the number of steps"));
    assert!(said("EDGE_WEIGHT_SECTION\n2\n0 1\nEOF").contains("ends before the cost table"));
    assert!(said("EDGE_WEIGHT_SECTION\n2\n0 1\n1 x\nEOF").contains("line 4: \"x\""));
    assert!(said("EDGE_WEIGHT_SECTION\n2\n0 1\n-2 0\nEOF").contains("row 1, column 0: -2"));
    assert!(said("EDGE_WEIGHT_SECTION\n2\n0 -1\n-1 0\nEOF").contains("must come before the next"));
    assert!(said("EDGE_WEIGHT_SECTION\n1\n0\n7\nEOF").contains("after the cost table"));
}

#[test]
fn faults_of_project_files_are_named() {
    let said = |text: &str| format!("{:#}", published::project(text).unwrap_err());
    assert!(said("2").contains("ends before the number of resources"));
    assert!(said("1 1\n4\n3 2").contains("ends before the number of followers"));
    assert!(said("1 1\n4\n3 two 0").contains("line 3: \"two\""));
    assert!(said("1 1\n4\n3 2 1 0").contains("counted from 1"));
    assert!(said("1 1\n4\n3 2 1 9").contains("only 1 steps"));
    assert!(said("1 1\n4\n3 2 0 8").contains("after the last activity"));
}

#[test]
fn made_up_work_is_the_same_every_time_and_can_be_done() {
    let orders = draw::orders().unwrap();
    assert_eq!(orders.len(), 9);
    for ((name, first, _), (_, again, _)) in orders.iter().zip(&draw::orders().unwrap()) {
        let quick = |p| order::search(p, &Budget::moves(0), &Stop::new(), &mut |_, _| ());
        assert_eq!(quick(first).order, quick(again).order, "{name}");
        assert_eq!(name.contains("400"), first.len() == 400, "{name}");
    }
    for (name, job, _) in draw::jobs().unwrap() {
        let plan = crew::search(&job, &Budget::moves(0), &Stop::new(), &mut |_| ()).unwrap();
        assert!(plan.schedule.finish > 0, "{name}");
    }
    assert_eq!(draw::graphs().unwrap().len(), 24);
}
