//! The invented job told in every form: report, how-to, table, appointments, captions, book.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

mod program;

use std::fs;

use program::ask;

#[test]
fn the_demo_is_told_in_every_form() {
    let at = tempfile::tempdir().unwrap();
    let path = |name: &str| at.path().join(name).to_str().unwrap().to_owned();
    let job = path("van");
    let within = |arguments: &[&str]| ask(&[arguments, &["--job", &job]].concat());
    assert_eq!(ask(&["demo", "--dir", &job]).0, 0);
    let read = |name: &str| fs::read_to_string(at.path().join(name)).unwrap();

    let (status, told) = within(&["how-to", "--to", &path("how.html")]);
    assert_eq!(status, 0, "{told}");
    let page = read("how.html");
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("Layer 1: "));
    assert!(page.contains("are invented"));
    for name in ["ana", "rui"] {
        let tells = page
            .split(|sign: char| !sign.is_alphanumeric())
            .any(|word| word.eq_ignore_ascii_case(name));
        assert!(!tells, "{name} is named");
    }
    let fetched = ["src=\"http", "href=\"http", "url(http", "<script"];
    assert!(fetched.iter().all(|sign| !page.contains(sign)));
    assert_eq!(within(&["how-to", "--to", &path("how.md")]).0, 0);
    assert!(read("how.md").contains("## The way taken, and the good way"));
    assert_eq!(within(&["how-to", "--to", &path("how.doc")]).0, 2);
    assert_eq!(within(&["how-to", "--to", &path("no/folder.md")]).0, 2);

    let (status, account) = within(&["account", "--to", &path("job.html")]);
    assert_eq!(status, 0, "{account}");
    // 372 EUR for parts and 210 EUR for the machine shop, as the life has it.
    assert_eq!(account["figures"]["paid"]["value"], 582.0);
    assert!(read("job.html").contains("What was not measured"));

    let table = path("record.xlsx");
    assert_eq!(within(&["record", "--table", &table]).0, 0);
    assert!(fs::read(&table).unwrap().starts_with(b"PK"));
    assert_eq!(within(&["record", "--table", &path("record.csv")]).0, 0);
    assert!(read("record.csv").starts_with("entry,when,who,line,now\r\n"));
    assert_eq!(within(&["record", "--table", &path("record.txt")]).0, 1);

    let ics = path("van.ics");
    let days = [
        "calendar",
        "--from",
        "2026-03-02",
        "--for",
        "bulkhead-head",
        "--ics",
        &ics,
    ];
    let fresh = path("fresh");
    let book = path("van/book.kdl");
    assert_eq!(ask(&["new", &fresh, "--from", &book]).0, 0);
    fs::copy(
        at.path().join("van/shop.kdl"),
        at.path().join("fresh/shop.kdl"),
    )
    .unwrap();
    let (status, calendar) = ask(&[&days[..], &["--job", &fresh]].concat());
    assert!(status < 2, "{calendar}");
    assert!(read("van.ics").contains("BEGIN:VEVENT\r\n"));

    let (_, written) = within(&["write-back"]);
    assert!(written["text"].as_str().unwrap().contains("part "));
    assert!(!written["rows"].as_array().unwrap().is_empty());
    assert!(
        within(&["write-back", "--shop"]).1["text"]
            .as_str()
            .unwrap()
            .contains("wrench small")
    );
}

#[test]
fn captions_are_shown_first_and_kept_when_asked() {
    let at = tempfile::tempdir().unwrap();
    let path = |name: &str| at.path().join(name).to_str().unwrap().to_owned();
    let (job, film) = (path("job"), path("film.vtt"));
    assert_eq!(ask(&["new", &job]).0, 0);
    fs::write(
        &film,
        "WEBVTT\n\n00:12:31.000 --> 00:12:33.000\noff cover: 4 bolts M6x20\n",
    )
    .unwrap();
    let (status, seen) = ask(&["captions", &film, "--job", &job]);
    assert_eq!((status, &seen["rows"][0]["as"]), (0, &"a line".into()));
    assert_eq!(
        ask(&["record", "--job", &job]).1["rows"]
            .as_array()
            .unwrap()
            .len(),
        0
    );
    assert_eq!(ask(&["captions", &film, "--keep", "--job", &job]).0, 0);
    assert_eq!(
        ask(&["record", "--job", &job]).1["rows"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    fs::write(&film, "no captions\n").unwrap();
    assert_eq!(ask(&["captions", &film, "--job", &job]).0, 2);
}
