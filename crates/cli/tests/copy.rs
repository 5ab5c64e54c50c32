//! A job copied into one file and laid out again, through the program itself.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot go on stops, in its helpers too"
)]

mod program;

use std::fs;

use program::ask;

#[test]
fn a_job_goes_into_one_file_and_comes_back() {
    let at = tempfile::tempdir().unwrap();
    let path = |name: &str| at.path().join(name).to_str().unwrap().to_owned();
    let (van, zip, again) = (path("van"), path("van.zip"), path("again"));
    assert_eq!(ask(&["new", &van]).0, 0);
    assert_eq!(
        ask(&["log", "off cover: 4 bolts M6x20, bag 1", "--job", &van]).0,
        0
    );

    let (status, copied) = ask(&["copy", &zip, "--job", &van]);
    assert_eq!(
        (status, &copied["figures"]["entries"]["value"]),
        (0, &1.0.into())
    );
    let (status, refused) = ask(&["copy", &zip, "--job", &van]);
    assert_eq!(status, 2, "a copy never takes the place of another");
    assert_eq!(refused["findings"][0]["concerns"], zip.as_str());

    assert_eq!(ask(&["new", &again, "--from", &zip]).0, 0);
    let lines = |job: &str| ask(&["record", "--job", job]).1["rows"].clone();
    assert_eq!(lines(&again), lines(&van));
    assert_eq!(ask(&["check", "--job", &again]).0, 0);

    let full = path("full");
    fs::create_dir(&full).unwrap();
    fs::write(at.path().join("full/letter.txt"), "keep me").unwrap();
    assert_eq!(ask(&["new", &full, "--from", &zip]).0, 2);
    assert_eq!(ask(&["new", &again, "--from", &zip]).0, 2);
    fs::write(&zip, "no zip").unwrap();
    assert_eq!(ask(&["new", &path("third"), "--from", &zip]).0, 2);
    assert!(!at.path().join("third").exists());
}
