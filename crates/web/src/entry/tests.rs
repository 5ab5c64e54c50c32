//! A line on its way, sent once and twice.

use axum::body::Body;
use axum::http::StatusCode;

use super::*;
use crate::trial::{HOST, Trial, request};

/// Sends a form as the script does.
async fn send(trial: &Trial, form: &str) -> (StatusCode, String) {
    let request = request("POST", "/entry")
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::ACCEPT, "application/json");
    let answer = trial
        .ask(
            request
                .body(Body::from(form.to_owned()))
                .expect("a request"),
        )
        .await;
    (answer.status, answer.text)
}

#[tokio::test]
async fn a_line_sent_twice_is_kept_once() {
    let trial = Trial::here();
    let line = "line=note+the+lamp+is+weak&id=a1&who=ann";
    assert_eq!(send(&trial, line).await.0, StatusCode::OK);
    let (status, text) = send(&trial, line).await;
    assert_eq!(status, StatusCode::OK);
    assert!(text.contains("Already had it, as entry 1."), "{text}");
    assert_eq!(trial.entries(), 1);
}

#[tokio::test]
async fn one_id_is_not_lent_to_two_lines() {
    let trial = Trial::here();
    assert_eq!(send(&trial, "line=note+one&id=a1").await.0, StatusCode::OK);
    assert_eq!(
        send(&trial, "line=note+two&id=a1").await.0,
        StatusCode::CONFLICT
    );
    assert_eq!(trial.entries(), 1);
}

#[tokio::test]
async fn the_senders_clock_and_name_are_kept() {
    let trial = Trial::here();
    send(&trial, "line=note+one&id=a1&who=ben&at=1700000000123").await;
    let folder = trial.bench.folder().expect("a job");
    assert_eq!(folder.entries[0].at, 1_700_000_000_123_000);
    assert_eq!(folder.entries[0].author, "ben");
}

#[tokio::test]
async fn a_line_that_is_not_understood_comes_back_to_be_mended() {
    let trial = Trial::here();
    let (status, text) = send(&trial, "line=frobnicate+the+cover&id=a1").await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{text}");
    let page = trial
        .post("/entry", "line=frobnicate+%22%3Cb%3E&form=f1&back=/who")
        .await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.text.contains("value=\"frobnicate &quot;&lt;b&gt;\""),
        "{}",
        page.text
    );
    assert!(page.text.contains("href=\"/who\""), "{}", page.text);
    assert_eq!(trial.entries(), 0);
}

/// Without script a page has one number for all its forms: a double tap is one entry, and two
/// lines from the same page are two.
#[tokio::test]
async fn a_double_tap_without_script_is_one_entry() {
    let trial = Trial::here();
    for line in ["note+one", "note+one", "note+two"] {
        let sent = trial.post("/entry", &format!("line={line}&form=f1")).await;
        assert_eq!(sent.status, StatusCode::SEE_OTHER);
    }
    assert_eq!(trial.entries(), 2);
}

/// Forty at once: every line is in the record, once, in one order for all.
#[tokio::test(flavor = "multi_thread")]
async fn many_writers_lose_nothing() {
    let trial = Trial::here();
    let sent = (0..40).map(|at| {
        let form = format!("line=note+from+{at}&id=w{at}");
        let trial = &trial;
        async move { send(trial, &form).await.0 }
    });
    let all = futures_util::future::join_all(sent).await;
    assert!(
        all.iter().all(|status| *status == StatusCode::OK),
        "{all:?}"
    );
    let folder = trial.bench.folder().expect("a job");
    let numbers: Vec<u64> = folder.entries.iter().map(|entry| entry.id.0).collect();
    assert_eq!(numbers, (1..=40).collect::<Vec<_>>());
}

/// What can never be kept is refused for good, so that it does not hold up the lines behind it.
#[tokio::test]
async fn what_cannot_be_kept_is_refused_for_good() {
    let trial = Trial::here();
    let long = format!("line=note+{}&id=a1", "x".repeat(9_000));
    let (status, text) = send(&trial, &long).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{text}");
    let (status, _) = send(&trial, "line=&id=a1").await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    for id in ["a%20b", "%C3%A9", &"x".repeat(LONGEST_ID + 1)] {
        let (status, _) = send(&trial, &format!("line=note+one&id={id}")).await;
        assert_eq!(status, StatusCode::BAD_REQUEST, "{id}");
    }
    // A name that may not stand in the record is as good as none.
    let name = "x".repeat(500);
    send(&trial, &format!("line=note+one&id=a2&who={name}")).await;
    let folder = trial.bench.folder().expect("a job");
    assert_eq!(folder.entries[0].author, "keeper");
    assert_eq!(folder.entries.len(), 1);
}
