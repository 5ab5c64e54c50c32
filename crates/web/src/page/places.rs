//! Places on photos: holes tapped on a square-on picture, with one known distance.
//!
//! The picture is an image button: a browser sends where it was tapped, with or without script.
//! It is always shown equally wide, so that a phone turned between two taps changes nothing.

use app::tapping::{Asked as Question, tapping};
use job::FileHash;
use maud::{Markup, html};
use sheet::hypertext;

use crate::asked::Asked;
use crate::page::{Frame, address, key, photos};

/// How wide the picture is drawn, in pixels of the page.
const WIDE: u32 = 1000;

/// A name and where it was tapped.
type Spot = (String, f64, f64);

/// The page.
#[must_use]
pub fn page(asked: &Asked<'_>) -> Frame {
    let of = asked.query.get("of");
    let file = asked.query.get("photo").and_then(FileHash::read);
    Frame {
        title: "Places on photos".to_owned(),
        place: "/places",
        body: match (of, file) {
            (Some(of), Some(file)) => taps(asked, of, &file),
            (Some(of), None) => choose_photo(asked, of),
            (None, _) => choose_joint(asked),
        },
    }
}

fn choose_joint(asked: &Asked<'_>) -> Markup {
    let book = &asked.folder.state.known;
    html! {
        h1 { "Places on photos" }
        p { "Tap holes or ports on a square-on photo, give one distance between two of them, and the drawing follows." }
        ul.ways {
            @for joint in book.joints.iter().filter(|joint| joint.holes.len() > 1) {
                @let placed = joint.holes.iter().filter(|hole| hole.position.is_some()).count();
                (way(joint.id.as_str(), &asked.folder.state.joint_label(&joint.id), placed, joint.holes.len(), "holes"))
            }
        }
        h2 { "Ports" }
        ul.ways {
            @for part in book.parts.iter().filter(|part| part.ports.len() > 1) {
                @let placed = part.ports.iter().filter(|port| port.position.is_some()).count();
                (way(part.id.as_str(), &asked.folder.state.part_label(&part.id), placed, part.ports.len(), "ports"))
            }
        }
    }
}

/// One thing to place, and how much of it is placed already.
fn way(of: &str, label: &str, placed: usize, all: usize, what: &str) -> Markup {
    html! {
        li {
            a href=(address("/places", &[("of", of)])) {
                b { (label) }
                span { (placed) " of " (all) " " (what) " placed" }
            }
        }
    }
}

fn choose_photo(asked: &Asked<'_>, of: &str) -> Markup {
    let here = address("/places", &[("of", of)]);
    let known = asked.folder.state.photos.iter().rev();
    let files = known
        .filter(|photo| photos::may_see(asked, photo))
        .filter_map(|photo| Some((photo, photo.file.as_ref()?)));
    html! {
        h1 { "Places of " (of) }
        p { "Which photo? Square-on, the whole face, no wide lens near the edge." }
        div.strip {
            @for (photo, file) in files.take(40) {
                a.photo href=(format!("{here}&photo={file}")) {
                    img src=(format!("/photo/{file}")) loading="lazy" width="240"
                        alt=(photos::says(photo));
                }
            }
        }
        (photos::upload(asked, &format!("of {of}"), "A new photo of the face"))
        p { a href="/places" { "Another joint" } }
    }
}

fn taps(asked: &Asked<'_>, of: &str, file: &FileHash) -> Markup {
    let names = names(asked, of);
    let spots = spots(asked, &names);
    let next = names
        .iter()
        .find(|name| spots.iter().all(|(tapped, _, _)| tapped != *name));
    let distance = asked.query.get("distance").unwrap_or_default();
    let photo = file.to_string();
    let back = &spots[..spots.len().saturating_sub(1)];
    html! {
        h1 { "Places of " (of) }
        @match (next, spots.len()) {
            (Some(name), _) => p.headline role="status" { "Now tap the middle of " b { (name) } "." },
            (None, _) => p.headline { "All of them are tapped." },
        }
        form.tapped method="get" action="/places" {
            input type="hidden" name="of" value=(of);
            input type="hidden" name="photo" value=(photo);
            input type="hidden" name="taps" value=(written(&spots));
            input type="hidden" name="hole" value=[next];
            label {
                span { "Distance between the middles of the first two (" (names.first().map_or("", String::as_str)) " and " (names.get(1).map_or("", String::as_str)) ")" }
                input name="distance" value=(distance) placeholder="92.5 mm" autocomplete="off";
            }
            div.frame tabindex="0" role="group" aria-label="the photo, to be tapped" {
                div.stack {
                    @if next.is_some() {
                        input type="image" name="tap" src=(format!("/photo/{file}?size=large")) width=(WIDE)
                            alt=(format!("tap {} on the photo", next.map_or("", String::as_str)));
                    } @else {
                        img src=(format!("/photo/{file}?size=large")) width=(WIDE) alt="the photo with all of them tapped";
                    }
                    (marks(&spots))
                }
            }
            button.plain { "Work it out" }
        }
        p {
            @if !spots.is_empty() {
                a href=(address("/places", &[("of", of), ("photo", &photo), ("taps", &written(back)), ("distance", distance)])) { "Take the last tap back" }
                " · "
            }
            a href=(address("/places", &[("of", of)])) { "Another photo" }
        }
        @if spots.len() > 1 && !distance.is_empty() { (worked_out(asked, of, &spots, distance)) }
    }
}

fn worked_out(asked: &Asked<'_>, of: &str, spots: &[Spot], distance: &str) -> Markup {
    let report = tapping(&Question {
        of: of.to_owned(),
        taps: spots.to_vec(),
        distance: distance.to_owned(),
        ..Question::default()
    });
    html! {
        (hypertext::write(&report, "tapped"))
        @if let Some(line) = report.text.as_deref().filter(|_| !report.refused) {
            (key(asked, "these are the places", line))
        }
    }
}

/// Rings where it was tapped, over the picture.
fn marks(spots: &[Spot]) -> Markup {
    html! {
        svg.marks aria-hidden="true" {
            @for (name, x, y) in spots {
                circle cx=(x) cy=(y) r="14" {}
                text x=(x + 20.0) y=(y + 6.0) { (name) }
            }
        }
    }
}

/// The holes of a joint in their order, or the ports of a part.
fn names(asked: &Asked<'_>, of: &str) -> Vec<String> {
    let book = &asked.folder.state.known;
    let joint = book.joints.iter().find(|joint| joint.id.as_str() == of);
    let part = book.parts.iter().find(|part| part.id.as_str() == of);
    match (joint, part) {
        (Some(joint), _) => joint
            .holes
            .iter()
            .map(|hole| hole.name.to_string())
            .collect(),
        (None, Some(part)) => part
            .ports
            .iter()
            .map(|port| port.name.to_string())
            .collect(),
        (None, None) => Vec::new(),
    }
}

/// What was tapped so far, with the tap that came with this very request.
fn spots(asked: &Asked<'_>, names: &[String]) -> Vec<Spot> {
    let mut spots: Vec<Spot> = asked
        .query
        .get("taps")
        .unwrap_or_default()
        .split(';')
        .filter_map(|spot| {
            let mut words = spot.split(' ');
            let said = words.next()?;
            let name = names.iter().find(|name| *name == said)?;
            let (x, y) = (words.next()?.parse().ok()?, words.next()?.parse().ok()?);
            Some((name.clone(), x, y))
        })
        .collect();
    let number = |key: &str| asked.query.get(key).and_then(|at| at.parse::<f64>().ok());
    let hole = asked
        .query
        .get("hole")
        .filter(|hole| names.iter().any(|name| name == hole));
    if let (Some(hole), Some(x), Some(y)) = (hole, number("tap.x"), number("tap.y"))
        && spots.iter().all(|(name, _, _)| name != hole)
    {
        spots.push((hole.to_owned(), x, y));
    }
    spots.retain(|(_, x, y)| x.is_finite() && y.is_finite());
    spots
}

fn written(spots: &[Spot]) -> String {
    let words: Vec<String> = spots
        .iter()
        .map(|(name, x, y)| format!("{name} {x} {y}"))
        .collect();
    words.join(";")
}
