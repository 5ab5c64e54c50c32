//! Bolt cards: one a joint, its holes by measure or, where nobody measured, in rows.

use book::{EngineEnd, Holds, Hole, Joint};
use judge::tighten_joint::Course;
use judge::tighten_joint::order::Layout;
use report::Finding;
use sheet::paper::{Body, Card, CardHole, Paper, Towards};

use super::{What, Wish, nothing};

/// A card for each joint asked for; without a wish, for every joint of the job whose bolts
/// could be taken for one another or whose holes were measured.
pub(super) fn of(wish: &Wish<'_>) -> Result<Vec<Paper>, Box<Finding>> {
    let joints = wish.joints(|joint| {
        let held = wish.folder.state.joints.get(&joint.id);
        held.is_some_and(|held| held.was_open)
            && (unlike(&holes(wish, joint)) || is_measured(&holes(wish, joint)))
    });
    let cards: Vec<Paper> = joints
        .into_iter()
        .filter(|joint| !holes(wish, joint).is_empty())
        .map(|joint| card(wish, joint))
        .collect();
    if cards.is_empty() {
        return Err(nothing(
            What::BoltCard,
            "no joint was opened whose bolts differ",
            "name a joint: --of JOINT; a bag and a count will do where all bolts are alike",
        ));
    }
    Ok(cards)
}

/// The holes whose bolts come out: a dowel stays, a clip is no bolt.
fn holes<'a>(wish: &Wish<'_>, joint: &'a Joint) -> Vec<&'a Hole> {
    joint
        .holes
        .iter()
        .filter(|hole| wish.folder.state.applies(&hole.when))
        .filter(|hole| !matches!(hole.holds, Holds::Nothing | Holds::Dowel | Holds::Clip))
        .collect()
}

/// Whether the bolts differ among themselves.
fn unlike(holes: &[&Hole]) -> bool {
    let kind = |hole: &Hole| {
        let (thread, length) = (hole.thread.typed(), hole.length.typed());
        (thread.map(str::to_owned), length.map(str::to_owned))
    };
    holes
        .windows(2)
        .any(|pair| matches!(pair, [one, other] if kind(one) != kind(other)))
}

fn is_measured(holes: &[&Hole]) -> bool {
    holes.len() > 1 && holes.iter().all(|hole| hole.position.is_some())
}

fn card(wish: &Wish<'_>, joint: &Joint) -> Paper {
    let label = wish.folder.state.joint_label(&joint.id);
    let holes = holes(wish, joint);
    let measured = is_measured(&holes);
    let course = Course::of(&wish.folder.state, &joint.id, Layout::NotSaid);
    // A turn is shown only where the order is one: three bolts or more.
    let turns: Vec<&str> = match &course {
        Ok(Some(course)) if course.seats.len() > 2 => {
            let seats = course.seats.iter();
            seats.map(|seat| seat.hole.name.as_str()).collect()
        }
        Ok(_) | Err(_) => Vec::new(),
    };
    let turn = |hole: &Hole| {
        let at = turns.iter().position(|name| *name == hole.name.as_str());
        at.map(|at| at + 1)
    };
    let holes = holes
        .iter()
        .map(|hole| {
            let (x_mm, y_mm) = hole
                .position
                .map_or((0.0, 0.0), |place| (place.x.in_mm(), place.y.in_mm()));
            CardHole {
                name: hole.name.to_string(),
                x_mm,
                y_mm,
                thread_mm: hole.thread.known().map(|thread| thread.diameter.in_mm()),
                number: turn(hole),
                lines: lines(hole),
            }
        })
        .collect();
    let body = Body::Card(Card {
        joint: label.clone(),
        holes,
        measured,
        scale: wish.scale,
        // Holes are counted from the lowest `x=`, which lies to the left.
        drive_end: joint.from.filter(|_| measured).map(|from| match from {
            EngineEnd::Drive => Towards::Left,
            EngineEnd::Flywheel => Towards::Right,
        }),
    });
    wish.paper(
        format!("{}-{}", What::BoltCard.word(), joint.id),
        format!("Bolt card, {label}"),
        body,
    )
}

/// What stands beside a hole: what sits in it, and what it must not be without.
fn lines(hole: &Hole) -> Vec<String> {
    let thread = hole.thread.typed().map(|typed| typed.replace('x', "×"));
    let length = hole.length.typed().map(str::to_owned);
    let mut lines = Vec::new();
    match (thread, length) {
        (Some(thread), Some(length)) => lines.push(format!("{thread} × {length}")),
        (Some(thread), None) => lines.push(thread),
        (None, Some(length)) => lines.push(length),
        (None, None) => {}
    }
    if hole.holds != Holds::Bolt {
        lines.push(hole.holds.word().to_owned());
    }
    if let Some(washer) = hole.washer.known() {
        lines.push(format!("washer {}", washer.what));
    }
    if let Some(sleeve) = hole.sleeve.known() {
        lines.push(sleeve.clone());
    }
    if hole.one_use.known() == Some(&true) {
        lines.push("one use: renew".to_owned());
    }
    if let Some(note) = &hole.note {
        lines.push(note.clone());
    }
    lines
}
