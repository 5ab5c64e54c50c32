//! A new job from five answers, each of which may be left out.

use std::sync::Arc;

use app::begin::Answers;
use app::folder::Hand;
use axum::Extension;
use axum::body::Bytes;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{AppendHeaders, Html, IntoResponse, Redirect, Response};
use maud::{Markup, html};
use report::Report;

use crate::asked::Visitor;
use crate::bench::Bench;
use crate::door;
use crate::draw::now_micros;
use crate::form::Fields;
use crate::page;
use crate::random;

/// `GET /begin`: the five questions, where no job was begun yet.
pub async fn ask(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
) -> Response {
    if bench.folder().is_some() {
        return Redirect::to("/").into_response();
    }
    Html(questions(&visitor, None, &Fields::default()).into_string()).into_response()
}

/// `POST /begin`: `name`, `engine`, `aim`, `people`, `wrench`.
pub async fn begin(
    State(bench): State<Arc<Bench>>,
    Extension(visitor): Extension<Visitor>,
    body: Bytes,
) -> Response {
    let fields = Fields::read(&body);
    let said = |name: &str| fields.get(name).map(str::to_owned);
    let answers = Answers {
        name: said("name"),
        skeleton: fields.get("engine") == Some("across"),
        aim: said("aim"),
        people: said("people"),
        wrench: said("wrench"),
    };
    // Whoever begins the job is the first who was named.
    let first = fields
        .get("people")
        .and_then(|people| people.split(',').find_map(door::proper_name));
    let Ok(client) = random::digits(16) else {
        return StatusCode::INTERNAL_SERVER_ERROR.into_response();
    };
    let hand = Hand {
        author: first
            .clone()
            .or_else(|| visitor.who.clone())
            .unwrap_or_else(|| "nobody".to_owned()),
        micros: now_micros(),
        client,
    };
    let report = bench
        .begin(move |path| app::begin::five(path, &answers, &hand))
        .await;
    if report.refused && bench.folder().is_none() {
        let page = questions(&visitor, Some(&report), &fields);
        return (StatusCode::UNPROCESSABLE_ENTITY, Html(page.into_string())).into_response();
    }
    match first {
        Some(first) => {
            let keep = [(header::SET_COOKIE, door::keep_name(&first))];
            (AppendHeaders(keep), Redirect::to("/")).into_response()
        }
        None => Redirect::to("/").into_response(),
    }
}

/// The five questions, with what was answered already.
fn questions(visitor: &Visitor, refused: Option<&Report>, said: &Fields) -> Markup {
    let body = html! {
        h1 { "A new job" }
        @if let Some(report) = refused {
            (sheet::hypertext::headline(report))
            (sheet::hypertext::findings(&report.findings))
        }
        @if visitor.may_write {
            p { "Five questions. Leave out what you do not know now: everything can be said later." }
            form.begin method="post" action="/begin" {
                (question(said, "name", "What do you call it?", "the vehicle, or the job", "Island post van"))
                fieldset {
                    legend { "How does the engine sit?" }
                    (choice(said, "", "Not this one, or I do not know", "Begin with an empty book: what comes off becomes the book."))
                    (choice(said, "across", "Two banks, mounted across", "Begin with the parts such an engine has and what is in the way of what. No figures."))
                }
                (question(said, "aim", "What is it for?", "what is wrong, what is to be got at", "loses coolant, both heads off"))
                (question(said, "people", "Who works on it?", "names with commas between; you first", "Ana, Rui"))
                (question(said, "wrench", "What does your torque wrench run from and to?", "as its own scale has it", "20..200 lbf·in"))
                button { "Begin" }
            }
        } @else {
            p { "No job was begun here yet, and this link only lets you look." }
        }
    };
    page::apart("A new job", &body)
}

fn question(said: &Fields, name: &str, asks: &str, more: &str, example: &str) -> Markup {
    html! {
        label {
            span { (asks) " " small { (more) } }
            input name=(name) value=[said.get(name)] placeholder=(example) maxlength="300" autocomplete="off";
        }
    }
}

fn choice(said: &Fields, value: &str, words: &str, more: &str) -> Markup {
    let chosen = said.get("engine").unwrap_or_default() == value;
    html! {
        label.choice {
            input type="radio" name="engine" value=(value) checked[chosen];
            span { (words) " " small { (more) } }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trial::Trial;

    #[tokio::test]
    async fn no_job_leads_to_the_five_questions() {
        let trial = Trial::without_job();
        let home = trial.get("/").await;
        assert_eq!(home.status, StatusCode::SEE_OTHER);
        assert_eq!(home.headers[header::LOCATION], "/begin");
        let asked = trial.get("/begin").await;
        assert_eq!(asked.status, StatusCode::OK);
        // The form itself asks for nothing that must be filled in.
        assert!(!asked.text.contains("required"));
    }

    #[tokio::test]
    async fn nothing_answered_begins_an_empty_job() {
        let trial = Trial::without_job();
        let begun = trial
            .post("/begin", "name=&engine=&aim=&people=&wrench=")
            .await;
        assert_eq!(begun.status, StatusCode::SEE_OTHER);
        assert_eq!(trial.get("/").await.status, StatusCode::OK);
        assert_eq!(trial.entries(), 0);
    }

    #[tokio::test]
    async fn five_answers_begin_a_job_and_name_the_phone() {
        let trial = Trial::without_job();
        let form = "name=Post+van&engine=across&aim=loses+coolant&people=Ana%2C+Rui&wrench=20..200+lbf%C2%B7in";
        let begun = trial.post("/begin", form).await;
        assert_eq!(begun.status, StatusCode::SEE_OTHER, "{}", begun.text);
        let cookie = begun.headers[header::SET_COOKIE].to_str().expect("words");
        assert!(cookie.starts_with("matchmark-who=Ana;"), "{cookie}");
        let folder = trial.bench.folder().expect("a job");
        assert!(folder.book.is_some() && folder.shop.is_some());
        assert_eq!(folder.entries[0].line, "note loses coolant");
        assert_eq!(folder.entries[0].author, "Ana");
        // Begun once: a second form changes nothing.
        assert_eq!(
            trial.post("/begin", "aim=other").await.status,
            StatusCode::SEE_OTHER
        );
        assert_eq!(trial.entries(), 1);
    }

    #[tokio::test]
    async fn what_is_not_understood_is_asked_again_with_the_rest_kept() {
        let trial = Trial::without_job();
        let asked = trial
            .post("/begin", "aim=loses+coolant&wrench=big+one")
            .await;
        assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(asked.text.contains("value=\"loses coolant\""));
        assert!(asked.text.contains("20..200 lbf·in"));
        assert!(trial.bench.folder().is_none());
    }
}
