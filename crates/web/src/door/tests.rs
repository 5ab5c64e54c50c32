//! One test for each of the door's manners.

use axum::body::Body;
use axum::http::{Request, StatusCode, header};

use super::*;
use crate::routes::{FORM_LIMIT, PAGES};
use crate::trial::{HOST, Trial, request};

const LINE: &str = "line=note+the+lamp+is+weak&id=a1";

fn from(host: &str) -> Request<Body> {
    let request = Request::builder().uri("/").header(header::HOST, host);
    request.body(Body::empty()).expect("a request")
}

#[tokio::test]
async fn only_own_names_are_answered() {
    let trial = Trial::here();
    for own in [
        "bench.test:7470",
        "BENCH.test",
        "localhost:7470",
        "127.0.0.1:7470",
        "[::1]:7470",
    ] {
        assert_eq!(trial.ask(from(own)).await.status, StatusCode::OK, "{own}");
    }
    let strange = [
        "evil.test",
        "bench.test.evil.test",
        "192.0.2.7",
        "[2001:db8::1]",
        "127.0.0.1.evil.test",
        "",
    ];
    for host in strange {
        let status = trial.ask(from(host)).await.status;
        assert_eq!(status, StatusCode::MISDIRECTED_REQUEST, "{host}");
    }
    let none = Request::builder()
        .uri("/")
        .body(Body::empty())
        .expect("a request");
    assert_eq!(
        trial.ask(none).await.status,
        StatusCode::MISDIRECTED_REQUEST
    );
    let twice = request("GET", "/").header(header::HOST, "evil.test");
    let twice = twice.body(Body::empty()).expect("a request");
    assert_eq!(
        trial.ask(twice).await.status,
        StatusCode::MISDIRECTED_REQUEST
    );
    let elsewhere = request("GET", "http://evil.test/")
        .body(Body::empty())
        .expect("a request");
    assert_eq!(
        trial.ask(elsewhere).await.status,
        StatusCode::MISDIRECTED_REQUEST
    );
}

#[tokio::test]
async fn on_the_network_an_address_of_digits_is_answered() {
    let trial = Trial::on_the_network();
    assert_eq!(
        trial.ask(from("192.0.2.7:7470")).await.status,
        StatusCode::UNAUTHORIZED
    );
    assert_eq!(
        trial.ask(from("evil.test")).await.status,
        StatusCode::MISDIRECTED_REQUEST
    );
}

#[tokio::test]
async fn nothing_is_written_for_a_page_of_another_site() {
    let trial = Trial::here();
    for origin in [
        None,
        Some("null"),
        Some("http://evil.test"),
        Some("https://bench.test:7470"),
        Some("http://bench.test"),
    ] {
        let mut request = request("POST", "/entry");
        if let Some(origin) = origin {
            request = request.header(header::ORIGIN, origin);
        }
        let answer = trial
            .ask(request.body(Body::from(LINE)).expect("a request"))
            .await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{origin:?}");
    }
    assert_eq!(trial.entries(), 0);
    assert_eq!(
        trial.post("/entry", LINE).await.status,
        StatusCode::SEE_OTHER
    );
    assert_eq!(trial.entries(), 1);
}

#[tokio::test]
async fn a_stranger_on_the_network_sees_nothing() {
    let trial = Trial::on_the_network();
    trial.log("note the lamp is weak").await;
    let pages = PAGES.iter().map(|(path, _)| *path);
    for path in pages.chain(["/news"]) {
        let forged = format!(
            "{}=0123456789abcdef0123456789abcdef",
            trial.bench.door.keys.cookie_name()
        );
        for cookie in ["", &forged, "matchmark-who=ann"] {
            let answer = trial.get_with(path, cookie).await;
            assert_eq!(answer.status, StatusCode::UNAUTHORIZED, "{path} {cookie}");
            assert!(!answer.text.contains("lamp"), "{path}");
        }
    }
    assert_eq!(
        trial.post("/entry", LINE).await.status,
        StatusCode::UNAUTHORIZED
    );
    assert_eq!(trial.entries(), 1);
}

#[tokio::test]
async fn the_pairing_link_lets_in_and_asks_for_a_name() {
    let trial = Trial::on_the_network();
    let word = trial.bench.door.keys.word(Key::Write).to_owned();
    let paired = trial.get(&format!("/pair/{word}")).await;
    assert_eq!(paired.status, StatusCode::OK);
    let cookie = paired.headers[header::SET_COOKIE].to_str().expect("words");
    for manner in ["HttpOnly", "SameSite=Strict", "Path=/"] {
        assert!(cookie.contains(manner), "{cookie}");
    }
    assert!(!paired.text.contains(&word), "the key stands in the page");
    let key = cookie.split(';').next().expect("a cookie");
    assert_eq!(trial.get_with("/", key).await.status, StatusCode::OK);
    let nameless = trial.post_with("/entry", LINE, key).await;
    assert_eq!(nameless.status, StatusCode::CONFLICT);
    assert!(nameless.text.contains("value=\"note the lamp is weak\""));

    let named = trial.post_with("/who", "name=Zo%C3%AB", key).await;
    assert_eq!(named.status, StatusCode::SEE_OTHER);
    let who = named.headers[header::SET_COOKIE].to_str().expect("words");
    let both = format!("{key}; {}", who.split(';').next().expect("a cookie"));
    assert_eq!(
        trial.post_with("/entry", LINE, &both).await.status,
        StatusCode::SEE_OTHER
    );
    let folder = trial.bench.folder().expect("a job");
    assert_eq!(folder.entries[0].author, "Zoë");

    assert_eq!(
        trial
            .get("/pair/0123456789abcdef0123456789abcdef")
            .await
            .status,
        StatusCode::UNAUTHORIZED
    );
}

#[tokio::test]
async fn a_name_is_short_and_plain() {
    let trial = Trial::here();
    let long = format!("name={}", "x".repeat(LONGEST_NAME + 1));
    for name in ["", "name=", "name=+", "name=a%0ab", &long] {
        let status = trial.post("/who", name).await.status;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
    }
}

#[tokio::test]
async fn the_second_link_only_lets_look() {
    let trial = Trial::on_the_network();
    let look = format!("{}; matchmark-who=ann", trial.cookie(Key::Look));
    for (path, _) in PAGES.iter().filter(|(path, _)| !path.contains('{')) {
        let page = trial.get_with(path, &look).await;
        assert_eq!(page.status, StatusCode::OK, "{path}");
        assert!(
            !page.text.contains("method=\"post\""),
            "{path} offers to write"
        );
    }
    for path in ["/entry", "/who", "/hand"] {
        let status = trial.post_with(path, LINE, &look).await.status;
        assert_eq!(status, StatusCode::FORBIDDEN, "{path}");
    }
    assert_eq!(trial.entries(), 0);
}

#[tokio::test]
async fn a_form_that_is_too_long_is_not_read() {
    let trial = Trial::here();
    let long = format!("line=note+{}&id=a1", "x".repeat(FORM_LIMIT));
    for path in ["/entry", "/who", "/hand"] {
        let status = trial.post(path, &long).await.status;
        assert_eq!(status, StatusCode::PAYLOAD_TOO_LARGE, "{path}");
    }
    assert_eq!(trial.entries(), 0);
}

/// The words of a refusal say what it is and what to do.
#[tokio::test]
async fn what_is_too_long_is_refused_in_words() {
    let trial = Trial::here();
    let answer = trial.post("/who", &"x".repeat(FORM_LIMIT + 1)).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(answer.text.contains("say it shorter"), "{}", answer.text);
    let body = format!(
        "--edge\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"a.jpg\"\r\n\r\n{}\r\n--edge--\r\n",
        "x".repeat(crate::photo::LIMIT + 1)
    );
    let photo = request("POST", "/photo")
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge");
    let answer = trial
        .ask(photo.body(Body::from(body)).expect("a request"))
        .await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(answer.text.contains("40 MB"), "{}", answer.text);
    assert_eq!(trial.entries(), 0);
}

#[tokio::test]
async fn nonsense_that_is_posted_is_refused_and_changes_nothing() {
    let trial = Trial::here();
    for (path, form) in [
        ("/entry", "line=frobnicate"),
        ("/entry", ""),
        ("/entry", "%ff%fe=%00&line=%00"),
        ("/who", "name=a%0d%0aSet-Cookie:x"),
        ("/photo", "photo=none"),
    ] {
        let answer = trial.post(path, form).await;
        assert!(
            answer.status.is_client_error(),
            "{path} {form}: {}",
            answer.status
        );
        assert!(
            !answer.headers.contains_key(header::SET_COOKIE),
            "{path} {form}"
        );
    }
    let long = format!("what={}", "x".repeat(1000));
    assert_eq!(
        trial.post("/hand", &long).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert_eq!(
        trial.post("/vehicle", "").await.status,
        StatusCode::METHOD_NOT_ALLOWED
    );
    assert_eq!(trial.get("/nowhere").await.status, StatusCode::NOT_FOUND);
    assert_eq!(trial.entries(), 0);
    assert_eq!(trial.bench.hands.all(), []);
}

/// A folder may be new; a path that is not there is a slip.
#[test]
fn keys_are_laid_into_a_new_folder_and_not_into_a_new_path() {
    let dir = tempfile::tempdir().expect("a folder");
    assert!(Keys::of(&dir.path().join("job")).is_ok());
    let fault = Keys::of(&dir.path().join("slip/job")).expect_err("no path");
    assert!(fault.to_string().contains("slip"), "{fault}");
    assert!(!dir.path().join("slip").exists());
}

#[tokio::test]
async fn no_address_leads_to_a_file_of_the_machine() {
    let trial = Trial::here();
    let here = trial.dir.path().display().to_string();
    let upward = [
        "..",
        "%2e%2e",
        "..%2f..%2fkeys",
        "%2e%2e%2fkeys",
        "keys",
        "%00",
        "..%5ckeys",
    ];
    for path in upward {
        for front in ["/asset/x/", "/asset/", "/pair/", "/"] {
            let answer = trial.get(&format!("{front}{path}")).await;
            assert!(!answer.status.is_success(), "{front}{path}");
            assert!(!answer.status.is_server_error(), "{front}{path}");
            assert!(!answer.text.contains(&here), "{front}{path}");
        }
    }
}

#[tokio::test]
async fn every_answer_tells_the_browser_the_rules() {
    let trial = Trial::on_the_network();
    let word = trial.bench.door.keys.word(Key::Look).to_owned();
    for path in [
        "/",
        "/nowhere",
        "/asset/x/nothing",
        "/asset/x/base.css",
        &format!("/pair/{word}"),
    ] {
        let answer = trial.get(path).await;
        for (name, _) in RULES {
            assert!(answer.headers.contains_key(&name), "{path}: {name}");
        }
        let csp = answer.headers[header::CONTENT_SECURITY_POLICY]
            .to_str()
            .expect("words");
        assert!(!csp.contains("unsafe"), "{csp}");
    }
}

#[tokio::test]
async fn a_line_for_another_job_is_not_kept() {
    let trial = Trial::here();
    let send = async |job: &str| {
        let request = request("POST", "/entry")
            .header(header::ORIGIN, format!("http://{HOST}"))
            .header("matchmark-job", job);
        trial
            .ask(request.body(Body::from(LINE)).expect("a request"))
            .await
            .status
    };
    assert_eq!(send("0123").await, StatusCode::GONE);
    assert_eq!(trial.entries(), 0);
    let own = trial.bench.door.keys.job().to_owned();
    assert_eq!(send(&own).await, StatusCode::SEE_OTHER);
}

#[test]
fn keys_survive_a_restart_and_are_never_shown() {
    let dir = tempfile::tempdir().expect("a folder");
    let first = Keys::of(dir.path()).expect("new keys");
    assert_eq!(Keys::of(dir.path()).expect("the same"), first);
    assert_eq!(first.fits(first.word(Key::Write)), Some(Key::Write));
    assert_eq!(first.fits(first.word(Key::Look)), Some(Key::Look));
    assert_eq!(first.fits(first.job()), None);
    let shown = format!("{first:?} {:?}", Door::new(first.clone(), true, &[], "ann"));
    for key in [Key::Write, Key::Look] {
        assert!(!shown.contains(first.word(key)), "{shown}");
    }
}

#[test]
fn a_damaged_key_file_is_said_and_not_mended() {
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join(app::folder::KEYS);
    std::fs::write(&path, "job 12\nwrite 34\nlook 56\n").expect("written");
    let fault = Keys::of(dir.path()).expect_err("it is damaged").to_string();
    assert!(fault.contains("delete it"), "{fault}");
    assert!(!fault.contains("34"), "{fault}");
}

#[cfg(unix)]
#[test]
fn only_the_owner_reads_the_keys() {
    use std::os::unix::fs::PermissionsExt;
    let dir = tempfile::tempdir().expect("a folder");
    Keys::of(dir.path()).expect("new keys");
    let file = std::fs::metadata(dir.path().join(app::folder::KEYS)).expect("a file");
    assert_eq!(file.permissions().mode() & 0o777, 0o600);
}
