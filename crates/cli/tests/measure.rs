//! Measuring, through the command line: what a person types and what JSON a script reads.

#![expect(clippy::unwrap_used, reason = "a test that cannot run has failed")]

mod program;

use std::path::PathBuf;

use program::ask;
use serde_json::Value;

fn figure(answer: &Value, name: &str) -> f64 {
    answer["figures"][name]["value"]
        .as_f64()
        .unwrap_or_else(|| panic!("no {name} in {answer:#}"))
}

fn finds(answer: &Value, code: &str) -> bool {
    answer["findings"]
        .as_array()
        .unwrap()
        .iter()
        .any(|finding| finding["code"] == code)
}

/// A table in a folder that goes away with the guard.
fn table(text: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let path: PathBuf = folder.path().join("readings.csv");
    std::fs::write(&path, text).unwrap();
    let name = path.to_str().unwrap().to_owned();
    (folder, name)
}

/// Source: five points of a reader's worked example. *Public data*; zone *computed by a general
/// library (scipy 1.17.1, linear programme)*.
#[test]
fn e04_flatness_of_five_points() {
    let (_folder, file) = table(
        "x [mm],y [mm],z [mm]\n11.5,7,1.10\n18.5,6.9,1.03\n4.5,13,1.02\n25.5,30,1.03\n11.5,37.5,1.02\n",
    );
    let (status, answer) = ask(&[
        "flatness",
        &file,
        "--limit",
        "0.05 mm",
        "--limit-source",
        "maker, head section",
    ]);
    assert!((figure(&answer, "minimum_zone") * 1000.0 - 0.067_262_1).abs() < 1e-6);
    assert!((figure(&answer, "least_squares") * 1000.0 - 0.072_097_3).abs() < 1e-6);
    assert_eq!((status, answer["verdict"].as_str()), (1, Some("outside")));
    assert!(
        answer["headline"]
            .as_str()
            .unwrap()
            .contains("maker's limit")
    );
}

/// Source: pure twist of four corners. *Computed by a general library (scipy 1.17.1).*
#[test]
fn e06_flatness_of_a_saddle() {
    let (_folder, file) =
        table("x [mm],y [mm],z [mm]\n-200,-75,0.04\n200,75,0.04\n-200,75,-0.04\n200,-75,-0.04\n");
    let (status, answer) = ask(&["flatness", &file]);
    assert!((figure(&answer, "minimum_zone") * 1000.0 - 0.080).abs() < 1e-9);
    assert_eq!((status, &answer["verdict"]), (0, &Value::Null));
}

/// Source: rank of three long and three cross lines. *Computed by a general library (numpy
/// 2.4.6).*
#[test]
fn e13_straightedge_lines_without_diagonals_do_not_show_twist() {
    let mut text = "line,x [mm],y [mm],gap [mm]\n".to_owned();
    for y in [0, 75, 150] {
        for x in [0, 210, 420] {
            text.push_str(&format!("along {y},{x},{y},<0.02\n"));
        }
    }
    for x in [0, 210, 420] {
        for y in [0, 75, 150] {
            text.push_str(&format!("across {x},{x},{y},<0.02\n"));
        }
    }
    let (_folder, file) = table(&text);
    let (status, answer) = ask(&["flatness", &file, "--limit", "0.05 mm"]);
    assert!(finds(&answer, "twist-not-seen"));
    assert_eq!((status, answer["verdict"].as_str()), (0, Some("undecided")));
}

/// Steps of tilt add up to the face: a ridge of one step across the middle.
#[test]
fn tilt_steps_are_added_up() {
    let mut text = "line,x [mm],y [mm],tilt [rad]\n".to_owned();
    let height = |x: i32, y: i32| if x == 100 && y == 100 { 0.01 } else { 0.0 };
    let mut line = |name: &str, places: [(i32, i32); 3]| {
        for (at, &(x, y)) in places.iter().enumerate() {
            let tilt = if at == 0 {
                "-".to_owned()
            } else {
                let (px, py) = places[at - 1];
                let run = f64::from((x - px) * (x - px) + (y - py) * (y - py)).sqrt();
                format!("{:.12}", (height(x, y) - height(px, py)) / run)
            };
            text.push_str(&format!("{name},{x},{y},{tilt}\n"));
        }
    };
    line("north", [(0, 200), (100, 200), (200, 200)]);
    line("south", [(0, 0), (100, 0), (200, 0)]);
    line("west", [(0, 0), (0, 100), (0, 200)]);
    line("east", [(200, 0), (200, 100), (200, 200)]);
    line("one", [(0, 0), (100, 100), (200, 200)]);
    line("two", [(0, 200), (100, 100), (200, 0)]);
    let (_folder, file) = table(&text);
    let (_, answer) = ask(&["flatness", &file]);
    assert!((figure(&answer, "minimum_zone") * 1000.0 - 0.01).abs() < 1e-6);
}

#[test]
fn every_fault_of_a_table_comes_with_line_column_and_way_out() {
    let (_folder, file) = table("x [mm],y [mm],z [mm]\n1,2,abc\n4,y,6\n");
    let (status, answer) = ask(&["flatness", &file, "--limit", "5"]);
    assert_eq!(status, 2);
    let places: Vec<(i64, i64)> = answer["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|finding| Some((finding["line"].as_i64()?, finding["column"].as_i64()?)))
        .collect();
    assert_eq!(places, [(2, 5), (3, 3)]);
    assert!(
        answer["findings"]
            .as_array()
            .unwrap()
            .iter()
            .all(|finding| finding["next"].is_string())
    );
}

/// Source: worked example of eight valves. *Computed by a general library (scipy 1.17.1,
/// linear_sum_assignment).*
#[test]
fn e32_lash_buys_one() {
    let (_folder, file) = table(
        "valve,kind,clearance [mm],shim [mm]\nI1,inlet,0.14,2.70\nI2,inlet,0.17,2.60\nI3,inlet,0.20,2.65\n\
         I4,inlet,0.12,2.75\nE1,exhaust,0.22,2.50\nE2,exhaust,0.30,2.55\nE3,exhaust,0.26,2.65\nE4,exhaust,0.35,2.60\n",
    );
    let windows = [
        "--inlet",
        "0.15..0.25 mm",
        "--exhaust",
        "0.25..0.35 mm",
        "--step",
        "0.05 mm",
    ];
    let (_, answer) = ask(&[&["lash", &file], &windows[..]].concat());
    assert_eq!(figure(&answer, "to_buy"), 1.0);
    let (_, answer) = ask(&[&["lash", &file, "--adjuster", "under"], &windows[..]].concat());
    assert_eq!(
        (figure(&answer, "to_buy"), figure(&answer, "changed")),
        (2.0, 3.0)
    );
    let (_, answer) = ask(&[&["lash", &file, "--stock", "2.40 2.60 mm"], &windows[..]].concat());
    assert_eq!(figure(&answer, "to_buy"), 0.0);
}

/// One valve takes each shim of the box: 2.55 + 0.18 − 0.13 and 2.55 + 0.33 − 0.23. Source: new
/// shim = old shim + found − wanted, *common practice, no source*.
#[test]
fn lash_out_of_the_box_buys_nothing() {
    let (_folder, file) =
        table("valve,kind,clearance [mm],shim [mm]\nI1,inlet,0.18,2.55\nE1,exhaust,0.33,2.55\n");
    let (_, answer) = ask(&[
        "lash",
        &file,
        "--inlet",
        "0.11..0.15 mm",
        "--exhaust",
        "0.21..0.25 mm",
        "--stock",
        "2.60 2.65 mm",
        "--step",
        "0.05 mm",
    ]);
    assert_eq!(
        (figure(&answer, "to_buy"), figure(&answer, "changed")),
        (0.0, 2.0)
    );
    for (row, fitted, gives) in [(0, "2.60 mm", 0.13), (1, "2.65 mm", 0.23)] {
        assert_eq!(answer["rows"][row]["fitted"]["shown"], fitted);
        let result = answer["rows"][row]["result"]["value"].as_f64().unwrap();
        assert!((result * 1000.0 - gives).abs() < 1e-9);
    }
}

/// A limit nobody gave is shown as its source writes it, and called a default.
#[test]
fn a_default_limit_stands_in_the_unit_of_its_source() {
    let (status, answer) = ask(&["cut", "0.25 mm"]);
    assert_eq!((status, answer["verdict"].as_str()), (1, Some("outside")));
    let headline = answer["headline"].as_str().unwrap();
    assert!(
        headline.contains("at most 0.008 in (0.2032 mm; default limit, common practice, no source"),
        "{headline}"
    );
    let asks = answer["asks"].as_array().unwrap();
    assert!(asks.iter().any(|ask| ask["what"] == "the maker's limit"));
}

/// Source: a reader's worked example, window 0.006 to 0.010 in. *Public data; computed:
/// arithmetic.*
#[test]
fn o08_lash_with_a_bound() {
    let (_folder, file) = table("valve,kind,clearance [mm],shim [mm]\nI1,inlet,<0.04,3.02\n");
    let (_, answer) = ask(&[
        "lash",
        &file,
        "--inlet",
        "0.152..0.254 mm",
        "--exhaust",
        "0.25..0.35 mm",
        "--step",
        "0.05 mm",
    ]);
    let fitted = answer["rows"][0]["fitted"]["value"].as_f64().unwrap();
    assert!((fitted * 1000.0 - 2.85).abs() < 1e-9);
    assert!(finds(&answer, "measure-again"));
}

#[test]
fn a_sheet_with_a_valve_twice_and_a_kind_that_is_none_is_refused() {
    let (_folder, file) = table(
        "valve,kind,clearance [mm],shim [mm]\nI1,inlet,0.1,2.7\ni1,inlet,0.1,2.7\nI2,side,0.1,2.7\n",
    );
    let (status, answer) = ask(&[
        "lash",
        &file,
        "--inlet",
        "0.15..0.25 mm",
        "--exhaust",
        "0.25..0.35 mm",
    ]);
    assert_eq!(status, 2);
    assert_eq!(answer["findings"].as_array().unwrap().len(), 2);
}

/// Source: 86 × 86, chamber 45 cc; 0.25 mm off a mouth of 4900 mm². *Computed by a general library
/// (Python 3.11 floats): geometry.*
#[test]
fn e23_ratio_after_cut() {
    let pieces = [
        "ratio",
        "--bore",
        "86 mm",
        "--stroke",
        "86 mm",
        "--chamber",
        "45 cc",
        "--gasket-bore",
        "87.5 mm",
        "--gasket",
        "1.2 mm",
        "--deck",
        "0.4 mm",
        "--dish",
        "3 cc",
    ];
    let (status, answer) = ask(&pieces);
    assert!((figure(&answer, "ratio") - 9.68201).abs() < 1e-5);
    assert!((figure(&answer, "swept") * 1e6 - 499.557).abs() < 1e-3);
    assert!((figure(&answer, "clearance_volume") * 1e6 - 57.5394).abs() < 1e-4);
    assert_eq!(status, 0);
    let (_, answer) = ask(&[
        &pieces[..],
        &["--cut", "0.25 mm", "--chamber-area", "4900 mm²"],
    ]
    .concat());
    assert!((figure(&answer, "ratio") - 9.87087).abs() < 1e-5);
}

/// Source: straight drive C 300, R 60, r 30. *Computed by a general library (scipy 1.17.1): exact
/// belt length.*
#[test]
fn e27_cut_and_cam_timing() {
    let (_, answer) = ask(&[
        "cut",
        "0.25 mm",
        "--before",
        "0 mm",
        "--cam-radius",
        "60 mm",
        "--crank-radius",
        "30 mm",
        "--centres",
        "300 mm",
    ]);
    assert!((figure(&answer, "retard_crank").to_degrees() - 0.47507).abs() < 2e-5);
}

/// Source: 30 Ra is 30 µin, not 0.030 in. *Public data; computed: exact unit factors.*
#[test]
fn o05_roughness_needs_its_unit() {
    assert_eq!(ask(&["finish", "Ra 30"]).0, 2);
    let (status, answer) = ask(&["finish", "0.030 in"]);
    assert!(finds(&answer, "unit-slip"));
    assert_eq!(status, 1);
    let (_, answer) = ask(&["finish", "30 µin", "--gasket", "steel"]);
    assert_eq!(answer["verdict"], "within");
}

/// Source: grid of six diameters. *Computed: arithmetic.*
#[test]
fn bore_of_six_diameters() {
    let (_folder, file) = table(
        "depth,direction,diameter [mm]\ntop,thrust,86.062\ntop,axial,86.031\nmiddle,thrust,86.034\n\
         middle,axial,86.020\nbottom,thrust,86.012\nbottom,axial,86.008\n",
    );
    let (_, answer) = ask(&[
        "bore",
        &file,
        "--nominal",
        "86 mm",
        "--limit-taper",
        "0.04 mm",
        "--limit-source",
        "maker",
    ]);
    assert!((figure(&answer, "out_of_round") * 1000.0 - 0.031).abs() < 1e-9);
    assert!((figure(&answer, "taper") * 1000.0 - 0.050).abs() < 1e-9);
    assert_eq!(answer["verdict"], "outside");
}

/// Source: journal 2.5 in, 0.0020 to 0.0030 in. *Common practice, no source.*
#[test]
fn e36_bearing_clearance() {
    let (_, answer) = ask(&[
        "clearance",
        "bearing",
        "0.0025 0.0028 - in",
        "--of",
        "2.5 in",
    ]);
    assert_eq!(answer["verdict"], "not measured");
    let (status, answer) = ask(&["clearance", "bearing", "0.0035 in", "--of", "2.5 in"]);
    assert_eq!((status, answer["verdict"].as_str()), (1, Some("outside")));
    assert_eq!(ask(&["clearance", "blinker", "1 mm"]).0, 2);
}

/// Source: 13 lbf·ft = 17.6 N·m. *Published: exact factors.*
#[test]
fn a_copied_table_names_the_row_that_slipped() {
    let (_folder, file) =
        table("bolt,torque [N·m],again [lbf·ft]\nrunner,17.6,13\ncam cap,13,13\n");
    let (status, answer) = ask(&["table", &file]);
    assert_eq!(status, 1);
    assert_eq!(answer["findings"][0]["concerns"], "cam cap");
}

#[test]
fn the_shop_sheet_compares_before_and_after() {
    let (status, answer) = ask(&[
        "shop-sheet",
        "head",
        "--overhead-cam",
        "--before",
        "128.00 128.00 128.00 128.00 mm",
        "--after",
        "127.90 127.90 127.40 127.40 mm",
        "--least",
        "127.5 mm",
    ]);
    assert_eq!(status, 1);
    assert!(finds(&answer, "tapered") && finds(&answer, "too-thin"));
    assert!((figure(&answer, "uneven") * 1000.0 - 0.5).abs() < 1e-9);
}

/// A job's book knows that cams run in the head: the sheet asks for the line of their bores unasked,
/// straightening before facing. Source: order of work, *common practice, no source*.
#[test]
fn the_sheet_of_a_jobs_head_asks_for_its_cam_bores() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job");
    app::folder::Folder::begin(&job, Some(app::demo::BOOK), None).unwrap();
    let job = job.to_str().unwrap();
    let (status, answer) = ask(&["shop-sheet", "bulkhead-head", "--job", job]);
    assert_eq!(status, 0, "{answer:#}");
    let asked: Vec<&str> = answer["rows"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|row| row["ask_for"].as_str())
        .collect();
    let place = |word: &str| asked.iter().position(|line| line.contains(word));
    assert!(
        place("crack test").unwrap() < place("cam bores").unwrap(),
        "{asked:?}"
    );
    assert!(place("cam bores").unwrap() < place("gasket face").unwrap());
}

/// Source: twelve radii, minimum zone 11.5 µm, two-point spread 23 µm. *Computed by a general
/// library (scipy 1.17.1, linearised circle).*
#[test]
fn e18_a_section_of_twelve_radii() {
    let mut text = "angle [°],radius [µm]\n".to_owned();
    for (at, radius) in [3, 7, 9, 6, 1, -4, -5, -2, 2, 0, -6, -8].iter().enumerate() {
        text.push_str(&format!("{},{radius}\n", 30 * at));
    }
    let (_folder, file) = table(&text);
    let (_, answer) = ask(&["bore", &file]);
    assert!((figure(&answer, "roundness") * 1e6 - 11.5).abs() < 1e-3);
    assert!((figure(&answer, "least_squares") * 1e6 - 14.3094).abs() < 1e-3);
    assert!((figure(&answer, "out_of_round") * 1e6 - 23.0).abs() < 1e-9);
}

/// Source: 0.05 mm of taper opens a ring's gap by 0.157 mm. *Computed: π × 0.05.*
#[test]
fn a_bore_by_the_gap_of_a_ring() {
    let (_folder, file) = table("depth,gap [mm]\ntop,0.507\nbottom,0.350\n");
    let (_, answer) = ask(&["bore", &file, "--nominal", "86 mm"]);
    assert!((figure(&answer, "taper") * 1000.0 - 0.05).abs() < 1e-4);
}

/// Source: head cut 0.020 in at one end only; end chambers differ by 1.6 to 2.0 cm³ over bores
/// of 2.9 to 3.2 in. *Public data; computed: geometry.*
#[test]
fn o06_a_head_cut_at_one_end() {
    for (area, spread) in [("6.605 in²", 1.6), ("8.042 in²", 2.0)] {
        let (status, answer) = ask(&[
            "cut",
            "0.020 in",
            "--corners",
            "5.000 5.000 4.980 4.980 in",
            "--chamber-area",
            area,
            "--limit",
            "0.008 in",
        ]);
        assert_eq!((status, answer["verdict"].as_str()), (1, Some("outside")));
        assert!(finds(&answer, "tapered"));
        assert!((figure(&answer, "chamber_spread") * 1e6 - spread).abs() < 0.05);
    }
}

/// Source: swept 44.2 in³, gasket 0.92 in³, pop-up 2.86 in³, six chambers; ratios as printed
/// beside them. *Public data.* The bore, stroke and gasket only make up those volumes.
#[test]
fn o07_ratio_for_six_heads() {
    for (chamber, printed) in [
        ("17.9 in³", 3.77),
        ("15.6 in³", 4.24),
        ("16.6 in³", 4.02),
        ("13.7 in³", 4.76),
        ("12.8 in³", 5.07),
        ("12.2 in³", 5.31),
    ] {
        let (_, answer) = ask(&[
            "ratio",
            "--bore",
            "3.6875 in",
            "--stroke",
            "4.1387 in",
            "--chamber",
            chamber,
            "--gasket-bore",
            "3.6875 in",
            "--gasket",
            "0.086146 in",
            "--dome",
            "2.86 in³",
        ]);
        assert!((figure(&answer, "ratio") - printed).abs() < 0.0055);
    }
}

/// Source: film 0.0005 in under a cam carrier, windows with the film in place. *Public data;
/// computed: subtraction.*
#[test]
fn so2_a_film_under_the_cam_carrier() {
    let (_folder, file) = table(
        "valve,kind,clearance [in],shim [in]\nI1,inlet,0.006,0.105\nE1,exhaust,0.010,0.105\n",
    );
    let (_, answer) = ask(&[
        "lash",
        &file,
        "--inlet",
        "0.005..0.007 in",
        "--exhaust",
        "0.010..0.012 in",
        "--film",
        "0.0005 in",
    ]);
    for (name, low, high) in [
        ("inlet_dry", 0.0045, 0.0065),
        ("exhaust_dry", 0.0095, 0.0115),
    ] {
        let inches = |end: &str| answer["figures"][name][end].as_f64().unwrap() / 0.0254;
        assert!((inches("low") - low).abs() < 1e-9 && (inches("high") - high).abs() < 1e-9);
    }
}

/// A face crowned along, with its highest and lowest places and a local limit.
#[test]
fn a_face_is_described_in_words_and_by_its_short_stretches() {
    let mut text = "x [mm],y [mm],z [mm]\n".to_owned();
    for (x, z) in [(0, 0.0), (75, 0.03), (150, 0.04), (225, 0.03), (300, 0.0)] {
        for y in [0, 75, 150] {
            text.push_str(&format!("{x},{y},{z}\n"));
        }
    }
    let (_folder, file) = table(&text);
    let (_, answer) = ask(&[
        "flatness",
        &file,
        "--limit",
        "0.1 mm",
        "--limit-local",
        "0.05 mm per 150 mm",
    ]);
    let form = answer["findings"]
        .as_array()
        .unwrap()
        .iter()
        .find(|finding| finding["code"] == "form")
        .unwrap();
    assert!(
        form["says"]
            .as_str()
            .unwrap()
            .contains("crowned along by 0.04")
    );
    // Over half the length a parabola bows a quarter as much.
    assert!((figure(&answer, "local") * 1000.0 - 0.01).abs() < 1e-9);
    assert_eq!(answer["verdict"], "within");
    assert_eq!(ask(&["flatness", &file, "--limit-local", "0.05 mm"]).0, 2);
}

/// Source: rate 35 N/mm, free 48 mm, installed 40 mm, sunk by 0.4 mm: 266 N. *Computed by a general
/// library (Python 3.11 floats): k·(L₀ − H).*
#[test]
fn e34_a_spring_after_its_valve_sank() {
    let pieces = [
        "spring", "--rate", "35 N/mm", "--free", "48 mm", "--height", "40 mm",
    ];
    let (status, answer) = ask(&[&pieces[..], &["--sink", "0.4 mm"]].concat());
    assert_eq!(status, 0);
    assert!((figure(&answer, "load") - 266.0).abs() < 1e-6);
    assert_eq!(ask(&[&pieces[..], &["--lift", "9 mm"]].concat()).0, 2);
}

/// A sheet read before the seats were cut, and a window out of all proportion (0.10 in).
#[test]
fn lash_after_the_seats_were_cut_and_a_slip_in_the_window() {
    let (_folder, file) = table("valve,kind,clearance [mm],shim [mm]\nI1,inlet,0.40,2.70\n");
    let windows = |inlet: &'static str| {
        vec![
            "--inlet",
            inlet,
            "--exhaust",
            "0.25..0.35 mm",
            "--step",
            "0.05 mm",
            "--seats-cut",
            "0.20 mm",
        ]
    };
    let asked = [&["lash", &file], &windows("0.15..0.25 mm")[..]].concat();
    let (_, answer) = ask(&asked);
    let fitted = answer["rows"][0]["fitted"]["value"].as_f64().unwrap();
    assert!((fitted * 1000.0 - 2.70).abs() < 1e-9);
    let asked = [&["lash", &file], &windows("0.006..0.10 in")[..]].concat();
    assert_eq!(ask(&asked).0, 2);
}

/// Moody's survey of a surface plate, read from the published readings. Source: peak over low
/// 17.8411·10⁻⁵ in about Moody's plane, closure E–W −0.345 µm, N–S none; *public data
/// (ballen4705/Moody-Method)*. Minimum zone of the 126 stations 4.15730 µm and least squares
/// 4.45444 µm: *computed by a general library (scipy 1.17.1, linear programme)*.
#[test]
fn e09_e10_e11_moodys_survey_through_the_command() {
    let file = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../testdata/published/surface_plate/moody_1955.csv"
    );
    let (status, answer) = ask(&["flatness", file, "--foot", "4 in"]);
    assert_eq!(status, 0, "{answer:#}");
    let micrometres = |name: &str| figure(&answer, name) * 1e6;
    assert!((micrometres("base_zone") - 4.53165).abs() < 0.0005);
    assert!((micrometres("base_zone") / 25.4 - 0.178_411).abs() < 2e-5);
    assert!((micrometres("closure_east_west") - -0.3448).abs() < 0.001);
    assert!(micrometres("closure_north_south").abs() < 0.01);
    assert!((micrometres("minimum_zone") - 4.15730).abs() < 0.001);
    assert!((micrometres("least_squares") - 4.45444).abs() < 0.001);
    assert!(finds(&answer, "closes"));
    assert_eq!(ask(&["flatness", file]).0, 2);
}
