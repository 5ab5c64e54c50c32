//! The pages, asked in-process. The book is the demo's, which is invented.

use app::demo::{BOOK, LIFE};
use axum::body::Body;
use axum::http::{StatusCode, header};

use crate::routes::PAGES;
use crate::trial::{Answer, HOST, Trial, request};

/// A picture of 2 × 2 pixels, as PNG.
const PICTURE: [u8; 73] = [
    137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13, 73, 72, 68, 82, 0, 0, 0, 2, 0, 0, 0, 2, 8, 2, 0,
    0, 0, 253, 212, 154, 115, 0, 0, 0, 16, 73, 68, 65, 84, 120, 218, 99, 56, 81, 161, 1, 68, 12,
    16, 10, 0, 41, 238, 5, 161, 100, 8, 97, 7, 0, 0, 0, 0, 73, 69, 78, 68, 174, 66, 96, 130,
];

/// The demo's job after so many chapters of its life.
async fn demo(chapters: usize) -> Trial {
    let trial = Trial::open(false, Some(BOOK));
    for chapter in LIFE.iter().take(chapters) {
        let rows = chapter.entries().unwrap_or_else(|fault| panic!("{fault}"));
        trial
            .bench
            .write(move |folder| {
                folder.append(&rows).expect("it is kept");
                report::Report::new("log", "")
            })
            .await;
    }
    trial
}

async fn page(trial: &Trial, path: &str) -> String {
    let answer = trial.get(path).await;
    assert_eq!(answer.status, StatusCode::OK, "{path}: {}", answer.text);
    answer.text
}

/// What stands in the page between two pieces of it.
fn between<'a>(page: &'a str, before: &str, after: &str) -> Option<&'a str> {
    let (_, rest) = page.split_once(before)?;
    rest.split_once(after).map(|(found, _)| found)
}

/// The words of an attribute as a browser reads them.
fn read(attribute: &str) -> String {
    attribute
        .replace("&quot;", "\"")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
}

/// Sends words as a form does.
async fn write(trial: &Trial, pairs: &[(&str, &str)]) -> Answer {
    let mut form = form_urlencoded::Serializer::new(String::new());
    form.extend_pairs(pairs);
    trial.post("/entry", &form.finish()).await
}

async fn send_photo(trial: &Trial, words: &str) -> Answer {
    let mut body = Vec::new();
    for (name, value) in [
        ("id", format!("photo-{}", words.len())),
        ("words", words.to_owned()),
    ] {
        body.extend(
            format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n")
                .bytes(),
        );
    }
    body.extend(b"--edge\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"a.png\"\r\nContent-Type: image/png\r\n\r\n");
    body.extend(PICTURE);
    body.extend(b"\r\n--edge--\r\n");
    let request = request("POST", "/photo")
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge")
        .header(header::ACCEPT, "application/json");
    trial
        .ask(request.body(Body::from(body)).expect("a request"))
        .await
}

/// Every page has one heading of its own, in every state a job can be in, and nothing that the
/// policy of the house forbids.
#[tokio::test]
async fn every_page_is_drawn_in_every_state_of_a_job() {
    let trials = [
        Trial::here(),
        Trial::open(false, Some(BOOK)),
        demo(1).await,
        demo(3).await,
    ];
    for trial in &trials {
        for (path, _) in PAGES {
            let page = page(trial, path).await;
            assert_eq!(page.matches("<h1").count(), 1, "{path}: one first heading");
            assert!(!page.contains(" style=\""), "{path}: style in a tag");
            assert!(!page.contains(" onclick"), "{path}: script in a tag");
            for input in page.split("<input").skip(1) {
                let tag = input.split('>').next().unwrap_or_default();
                assert!(
                    tag.contains(" name=\"") || tag.contains("type=\"hidden\""),
                    "{path}: {tag}"
                );
            }
        }
    }
}

#[tokio::test]
async fn who_only_looks_sees_no_form_that_writes() {
    let trial = Trial::on_the_network();
    let cookie = trial.cookie(crate::door::Key::Look);
    for (path, _) in PAGES {
        let answer = trial.get_with(path, &cookie).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}");
        assert!(!answer.text.contains("method=\"post\""), "{path}");
    }
}

/// Tapping the key writes the line that stands under it, and the next act has its turn.
#[tokio::test]
async fn its_on_writes_the_line_and_brings_the_next_act() {
    let trial = demo(2).await;
    let before = page(&trial, "/vehicle").await;
    let keys = between(&before, "<nav class=\"keys\"", "</nav>").expect("keys");
    let line = read(between(keys, "name=\"line\" value=\"", "\"").expect("a line"));
    assert!(keys.contains("it fights me") && keys.contains("show it"));
    let answer = write(
        &trial,
        &[("line", &line), ("back", "/vehicle"), ("form", "1")],
    )
    .await;
    assert_eq!(
        answer.status,
        StatusCode::SEE_OTHER,
        "{line}: {}",
        answer.text
    );
    assert_eq!(answer.headers[header::LOCATION], "/vehicle");
    let after = page(&trial, "/vehicle").await;
    let heading = |page: &str| between(page, "<h1>", "</h1>").map(str::to_owned);
    assert_ne!(heading(&before), heading(&after));
}

/// The drawing comes before the words, and the figure is the sheet's, in the wrench's unit.
#[tokio::test]
async fn at_the_vehicle_leads_with_the_drawing() {
    let trial = demo(2).await;
    let page = page(&trial, "/vehicle").await;
    let drawing = page.find("<figure class=\"drawing\"").expect("a drawing");
    assert!(drawing < page.find("<h1>").expect("a heading"));
    assert!(page.contains("Where you stand"));
}

#[tokio::test]
async fn two_people_see_each_others_hands() {
    let trial = demo(2).await;
    let mine = page(&trial, "/vehicle").await;
    let step = read(between(&mine, "data-take=\"", "\"").expect("a step to take"));
    assert_eq!(trial.bench.hands.take("rui", &step, ""), Ok(()));
    let now = page(&trial, "/vehicle").await;
    assert!(now.contains("In other hands"), "{now}");
    let keys = between(&now, "<nav class=\"keys\"", "</nav>").expect("keys");
    assert!(!keys.contains(&format!("step={}", step.replace(' ', "+"))));
}

/// Photo first, words later: the list holds it until something is said of it.
#[tokio::test]
async fn a_photo_waits_on_the_evening_list_for_its_words() {
    let trial = Trial::here();
    trial.log("off cover: 4 bolts M6x20, bag 3").await;
    let answer = send_photo(&trial, "bag 3").await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text);
    assert_eq!(trial.entries(), 2);
    let again = send_photo(&trial, "bag 3").await;
    assert_eq!(again.status, StatusCode::OK, "{}", again.text);
    assert_eq!(trial.entries(), 2, "the same picture is kept once");
    let list = page(&trial, "/evening").await;
    let file = between(&list, "src=\"/photo/", "\"").expect("the picture");
    let picture = trial.get(&format!("/photo/{file}")).await;
    assert_eq!(picture.headers[header::CONTENT_TYPE], "image/jpeg");
    let line = read(between(&list, "name=\"line\" value=\"", "\"").expect("a line"));
    let said = [
        ("line", line.as_str()),
        ("of", "cover"),
        ("words", "the long bolt at the back"),
        ("form", "9"),
    ];
    assert_eq!(write(&trial, &said).await.status, StatusCode::SEE_OTHER);
    let list = page(&trial, "/evening").await;
    assert!(list.contains("Every photo says what it shows."), "{list}");
    assert!(page(&trial, "/show?what=cover").await.contains(file));
}

/// Whoever was let in for looking only sees what is marked, and gets nothing else by its name.
#[tokio::test]
async fn only_photos_that_are_marked_leave_the_house() {
    let trial = Trial::on_the_network();
    let write = trial.cookie(crate::door::Key::Write);
    let look = trial.cookie(crate::door::Key::Look);
    trial.log("off cover: 4 bolts M6x20, bag 3").await;
    let sent = [app::photo::Sent {
        name: "a.png",
        bytes: &PICTURE,
    }];
    let hand = app::folder::Hand {
        author: "ann".to_owned(),
        micros: 0,
        client: "photo-1".to_owned(),
    };
    let mut folder = app::folder::Folder::open(trial.dir.path()).expect("a job");
    let kept = app::photo::keep(&mut folder, &hand, &sent, "of cover: the gauge");
    assert!(!kept.refused, "{:?}", kept.findings);
    trial.bench.catch_up().await;
    let gallery = trial.get_with("/photos", &write).await.text;
    let file = between(&gallery, "src=\"/photo/", "\"").expect("the picture");
    let pages = ["/photos", "/show?what=cover", "/story", "/places?of=cover"];
    let status = async |cookie: &str| {
        let picture = trial.get_with(&format!("/photo/{file}"), cookie).await;
        picture.status
    };
    assert_eq!(status(&write).await, StatusCode::OK);
    assert_eq!(status(&look).await, StatusCode::NOT_FOUND);
    for path in pages {
        let page = trial.get_with(path, &look).await.text;
        assert!(!page.contains(&format!("/photo/{file}")), "{path}");
    }
    trial.log("show 2: no plate, no face").await;
    assert_eq!(status(&look).await, StatusCode::OK);
    let gallery = trial.get_with("/photos", &look).await.text;
    assert!(gallery.contains(file), "{gallery}");
    trial.log("hide 2").await;
    assert_eq!(status(&look).await, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_photo_that_is_none_and_a_name_that_is_none_are_refused() {
    let trial = Trial::here();
    let picture = trial.get("/photo/..%2f..%2frecord.sqlite").await;
    assert_eq!(picture.status, StatusCode::NOT_FOUND);
    let unknown = format!("/photo/{}", "a".repeat(64));
    assert_eq!(trial.get(&unknown).await.status, StatusCode::NOT_FOUND);
    let request = request("POST", "/photo")
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge");
    let body = "--edge\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"a\"\r\n\r\nno picture\r\n--edge--\r\n";
    let answer = trial
        .ask(request.body(Body::from(body)).expect("a request"))
        .await;
    assert!(answer.status.is_client_error(), "{}", answer.status);
    assert_eq!(trial.entries(), 0);
}

/// An empty field is no reading, in its place in the list.
#[tokio::test]
async fn a_form_of_cylinders_writes_one_line_in_cylinder_order() {
    let trial = demo(0).await;
    let form = page(&trial, "/readings?of=cylinders").await;
    let line = read(between(&form, "name=\"line\" value=\"", "\"").expect("a line"));
    let mut filled = vec![
        ("line", line.as_str()),
        ("form", "4"),
        ("what", "cranking dry"),
    ];
    filled.extend([
        ("c1", "205"),
        ("c2", "210"),
        ("c3", ""),
        ("c4", "210"),
        ("c5", "212"),
    ]);
    filled.extend([
        ("c6", "208"),
        ("unit", "psi"),
        ("gauge", "compression"),
        ("how", "warm"),
    ]);
    let answer = write(&trial, &filled).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    let folder = trial.bench.folder().expect("a job");
    assert_eq!(
        folder.entries.last().expect("an entry").line,
        "read cranking dry: 205 210 - 210 212 208 psi, gauge compression, warm"
    );
    // The banks stand from the bulkhead forward, with the numbers of the book.
    let bulkhead = form.find("<legend>bulkhead</legend>").expect("a bank");
    assert!(bulkhead < form.find("<legend>radiator</legend>").expect("a bank"));
}

/// Two taps 50 mm apart and 200 pixels give 0.25 mm a pixel.
#[tokio::test]
async fn taps_on_a_photo_become_places_of_holes() {
    let trial = Trial::open(
        false,
        Some(
            "part block fixed=#true\npart cover { joint cover-bolts to=block { holes A..C thread=M6x1 } }\n",
        ),
    );
    send_photo(&trial, "of cover").await;
    let list = page(&trial, "/places?of=cover-bolts").await;
    let file = between(&list, "photo=", "\"").expect("a photo");
    let start = format!("/places?of=cover-bolts&photo={file}&distance=50+mm");
    let first = page(&trial, &format!("{start}&hole=A&taps=&tap.x=100&tap.y=400")).await;
    assert!(first.contains("middle of <b>B</b>"), "{first}");
    let taps = "A+100+400%3BB+300+400";
    let last = page(
        &trial,
        &format!("{start}&hole=C&taps={taps}&tap.x=200&tap.y=480"),
    )
    .await;
    let line = read(between(&last, "name=\"line\" value=\"", "\"").expect("a line"));
    assert_eq!(line, "place cover-bolts: A 0 20, B 50 20, C 25 0 mm");
    write(&trial, &[("line", &line), ("form", "2")]).await;
    let joints = page(&trial, "/places").await;
    assert!(joints.contains("3 of 3 holes placed"), "{joints}");
}

#[tokio::test]
async fn a_line_is_read_while_it_is_typed_and_not_kept() {
    let trial = Trial::here();
    let read = trial
        .get("/reading?line=off+cover:+4+bolts+M6x20,+bag+3")
        .await;
    assert!(read.text.contains("4 bolts M6x20"), "{}", read.text);
    let half = trial.get("/reading?line=off").await;
    assert!(half.text.contains("Not understood yet."), "{}", half.text);
    assert_eq!(trial.entries(), 0);
}

/// The question stands only where it changes the way back, and an answer ends it.
#[tokio::test]
async fn was_it_in_the_way_is_asked_once() {
    let trial = Trial::here();
    for line in [
        "off a: 1 bolt M6x20, zone above",
        "off b: 1 bolt M6x20, zone under",
        "off c: 1 bolt M6x20, zone above",
    ] {
        trial.log(line).await;
    }
    let asked = page(&trial, "/apart").await;
    if let Some(question) = between(&asked, "Was it in the way?", "</section>") {
        let line = read(between(question, "name=\"line\" value=\"", "\"").expect("an answer"));
        assert!(
            line.starts_with("note ") && line.ends_with(": yes"),
            "{line}"
        );
        let answer = write(&trial, &[("line", &line), ("form", "3")]).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER);
        let after = page(&trial, "/apart").await;
        let again = between(&after, "Was it in the way?", "</section>");
        assert!(again.is_none_or(|asked| !asked.contains(&line)), "{line}");
    } else {
        panic!("nothing was asked");
    }
}

#[tokio::test]
async fn the_story_holds_what_was_taken_back_as_such() {
    let trial = Trial::here();
    trial.log("off cover: 4 bolts M6x20").await;
    trial.log("undo 1").await;
    let story = page(&trial, "/story").await;
    assert!(story.contains("<s>off cover: 4 bolts M6x20</s>"), "{story}");
}
