//! What a page hears, and that it hears it once.

use axum::body::{Body, BodyDataStream};
use axum::http::Request;
use futures_util::StreamExt;
use tower::ServiceExt;

use super::*;
use crate::trial::{Trial, request};

/// A stream of news, read event by event.
struct Heard(BodyDataStream);

impl Heard {
    async fn open(trial: &Trial, request: Request<Body>) -> Self {
        let response = trial
            .router
            .clone()
            .oneshot(request)
            .await
            .expect("an answer");
        Self(response.into_body().into_data_stream())
    }

    async fn after(trial: &Trial, number: u64) -> Self {
        let request = request("GET", &format!("/news?after={number}"));
        Self::open(trial, request.body(Body::empty()).expect("a request")).await
    }

    /// The next event of a kind; none when the stream ends.
    async fn next(&mut self, kind: &str) -> Option<String> {
        loop {
            let bytes = self.0.next().await?.expect("a piece");
            let text = String::from_utf8(bytes.to_vec()).expect("words");
            if text.lines().any(|line| line == format!("event: {kind}")) {
                return Some(text);
            }
        }
    }

    /// The number the next entry is told under.
    async fn number(&mut self) -> u64 {
        let event = self.next("entry").await.expect("an entry");
        let id = event.lines().find_map(|line| line.strip_prefix("id: "));
        id.expect("a number").parse().expect("digits")
    }
}

#[tokio::test]
async fn what_was_missed_is_told_first_and_nothing_twice() {
    let trial = Trial::here();
    for line in ["note one", "note two", "note three"] {
        trial.log(line).await;
    }
    let mut heard = Heard::after(&trial, 1).await;
    assert_eq!(heard.number().await, 2);
    trial.log("note four").await;
    assert_eq!(heard.number().await, 3);
    assert_eq!(heard.number().await, 4);
    trial.log("note five").await;
    let event = heard.next("entry").await.expect("an entry");
    assert!(
        event.contains(r#"data: {"number":5,"who":"ann","line":"note five"}"#),
        "{event}"
    );
}

#[tokio::test]
async fn a_browser_that_comes_back_goes_on_after_what_it_heard() {
    let trial = Trial::here();
    for line in ["note one", "note two", "note three"] {
        trial.log(line).await;
    }
    let again = request("GET", "/news?after=0").header("last-event-id", "2");
    let mut heard = Heard::open(&trial, again.body(Body::empty()).expect("a request")).await;
    assert_eq!(heard.number().await, 3);
}

#[tokio::test]
async fn lines_of_another_program_are_told_too() {
    let trial = Trial::here();
    let mut heard = Heard::after(&trial, 0).await;
    let mut other = app::folder::Folder::open(trial.dir.path()).expect("a job");
    let hand = app::folder::Hand {
        author: "ben".to_owned(),
        micros: 0,
        client: "other-1".to_owned(),
    };
    let _ = app::lines::log(&mut other, &hand, &["note from the terminal".to_owned()]);
    trial.bench.catch_up().await;
    assert_eq!(heard.number().await, 1);
}

#[tokio::test]
async fn the_hands_of_the_others_are_told() {
    let trial = Trial::here();
    let mut heard = Heard::after(&trial, 0).await;
    let first = heard.next("hands").await.expect("the hands");
    assert!(first.contains("data: []"), "{first}");
    let taken = trial.post("/hand", "what=runners&back=%2Fvehicle").await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER);
    let second = heard.next("hands").await.expect("the hands");
    assert!(
        second.contains(r#"[{"who":"keeper","what":"runners"}]"#),
        "{second}"
    );
    let cookie = "matchmark-who=ben";
    assert!(trial.get_with("/", cookie).await.text.contains("runners"));
    assert!(!trial.get("/").await.text.contains("runners"), "her own");
    let other = trial.post_with("/hand", "what=runners", cookie).await;
    assert_eq!(other.status, StatusCode::CONFLICT);
    assert!(
        other.text.contains("keeper has it in hand"),
        "{}",
        other.text
    );
    trial.post("/hand", "").await;
    let third = heard.next("hands").await.expect("the hands");
    assert!(third.contains("data: []"), "{third}");
}

#[tokio::test]
async fn the_stream_ends_when_the_pages_close() {
    let trial = Trial::here();
    let mut heard = Heard::after(&trial, 0).await;
    trial.bench.close();
    assert_eq!(heard.next("entry").await, None);
}

/// A record that was begun anew has fewer entries than the page knows; the page hears so at once.
#[tokio::test]
async fn the_first_word_is_the_number_of_the_last_entry() {
    let trial = Trial::here();
    trial.log("note one").await;
    let mut heard = Heard::after(&trial, 40).await;
    let tick = heard.next("tick").await.expect("a tick");
    assert!(tick.contains("data: 1"), "{tick}");
}

#[tokio::test]
async fn a_workshop_that_is_written_anew_is_told() {
    let trial = Trial::here();
    let mut heard = Heard::after(&trial, 0).await;
    let shop = trial.dir.path().join(app::folder::SHOP);
    std::fs::write(shop, "shop\nperson ana\n").expect("written");
    trial.bench.catch_up().await;
    assert!(heard.next("anew").await.is_some());
}
