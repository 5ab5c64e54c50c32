//! Whatever is asked, an answer that cannot decide names an act that would: in a finding or
//! among what is still to know. One case for every question that can end undecided.

#![expect(clippy::unwrap_used, reason = "a test that cannot run has failed")]

mod program;

use program::ask;

/// Tables the cases read, by name.
const TABLES: &[(&str, &str)] = &[
    (
        "bore.csv",
        "depth,direction,diameter [mm]\ntop,thrust,86.046\ntop,axial,86.000\nbottom,thrust,86.010\nbottom,axial,86.008\n",
    ),
    (
        "lash.csv",
        "valve,kind,clearance [mm],shim [mm]\nI1,inlet,0.12..0.17,2.70\nE1,exhaust,0.30,2.50\n",
    ),
    (
        "lines.csv",
        "line,x [mm],y [mm],gap [mm]\na,0,0,<0.02\na,210,0,<0.02\na,420,0,<0.02\nb,0,150,<0.02\nb,210,150,<0.02\nb,420,150,<0.02\n",
    ),
    (
        "wide.csv",
        "line,x [mm],y [mm],gap [mm]\na,0,0,0\na,210,0,>0.3\na,420,0,0\n",
    ),
    (
        "grid.csv",
        "x [mm],y [mm],z [mm]\n0,0,0\n210,0,0\n420,0,0\n0,75,0\n210,75,0.044\n420,75,0\n0,150,0\n210,150,0\n420,150,0\n",
    ),
];

/// One question that ends undecided, a word an option; `@` names a table.
const CASES: &[&[&str]] = &[
    &[
        "bore",
        "@bore.csv",
        "--limit-round",
        "0.05 mm",
        "--uncertainty",
        "0.01 mm",
    ],
    &[
        "lash",
        "@lash.csv",
        "--inlet",
        "0.15..0.25 mm",
        "--exhaust",
        "0.25..0.35 mm",
    ],
    &["flatness", "@lines.csv"],
    &["flatness", "@lines.csv", "--limit", "0.05 mm"],
    &["flatness", "@wide.csv", "--limit", "0.5 mm"],
    &[
        "flatness",
        "@grid.csv",
        "--limit",
        "0.05 mm",
        "--uncertainty",
        "0.0116 mm",
    ],
    &[
        "flatness",
        "@grid.csv",
        "--limit-along",
        "0.05 mm",
        "--uncertainty",
        "0.0116 mm",
    ],
    &[
        "clearance",
        "bearing",
        "<0.06 mm",
        "--limit",
        "0.02..0.05 mm",
    ],
    &[
        "clearance",
        "guide-inlet",
        "0.07 mm",
        "--limit",
        "max 0.075 mm",
        "--uncertainty",
        "0.01 mm",
    ],
    &[
        "stretch",
        "101.01 mm",
        "--limit",
        "101 mm",
        "--uncertainty",
        "0.02 mm",
    ],
    &["hole", "--bolt", "39.5 mm", "--depth", "40 mm"],
    &["leakdown", "--layout", "I4", "--loss", "20 5 5 5 %"],
    &["leakdown", "--layout", "I4", "--loss", "60 55 70 58 %"],
    &["cranking", "--layout", "I4", "--dry", "170 172 128 171 psi"],
    &[
        "proof",
        "--layout",
        "I4",
        "--before",
        "170 172 168 120 psi",
        "--after",
        "171 172 168 121 psi",
        "--alike",
    ],
    &["trims", "--idle", "12 12 %", "--fast", "12 12 %"],
    &[
        "cooling-pressure",
        "--start",
        "15 psi",
        "--end",
        "13 psi",
        "--time",
        "2 h",
        "--cap",
        "15 psi",
        "--allowed",
        "2 psi",
    ],
    &["oil-pressure", "--idle", "12 psi"],
    &["next-test", "--seen", "coolant-loss"],
];

#[test]
fn every_undecided_answer_names_an_act_that_decides_it() {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in TABLES {
        std::fs::write(folder.path().join(name), text).unwrap();
    }
    for case in CASES {
        let words: Vec<String> = case
            .iter()
            .map(|word| match word.strip_prefix('@') {
                Some(name) => folder.path().join(name).to_str().unwrap().to_owned(),
                None => (*word).to_owned(),
            })
            .collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let (_, answer) = ask(&words);
        assert_eq!(answer["verdict"], "undecided", "{case:?}: {answer:#}");
        let named = |list: &str, key: &str| {
            answer[list]
                .as_array()
                .unwrap()
                .iter()
                .any(|one| one[key].as_str().is_some_and(|act| !act.is_empty()))
        };
        assert!(
            named("findings", "next") || named("asks", "how"),
            "{case:?} names no act: {answer:#}"
        );
    }
}
