//! Tightening sheets: the drawing with numbers at the holes, a box for each bolt and stage.

use book::JointId;
use judge::tighten_joint::Course;
use judge::tighten_joint::order::Layout;
use report::{Finding, Picture, Report};
use sheet::paper::{Block, Paper, PullBolt, PullStage, Pulls, Reading, told};

use super::{What, Wish, nothing, text};
use crate::tighten::{Asked, tighten};

/// Stages side by side on a sheet; more than these go into a table below.
const ABREAST: usize = 4;

/// One chapter for each joint asked for; without a wish, for every joint that was opened.
pub(super) fn of(wish: &Wish<'_>) -> Result<Paper, Box<Finding>> {
    let state = &wish.folder.state;
    let joints = wish.joints(|joint| {
        let held = state.joints.get(&joint.id);
        !joint.tighten.is_empty() && held.is_some_and(|held| held.was_open)
    });
    let mut sheets: Vec<(String, Vec<Block>)> = joints
        .into_iter()
        .filter_map(|joint| Some((state.joint_label(&joint.id), sheet(wish, &joint.id)?)))
        .collect();
    match sheets.len() {
        0 => Err(nothing(
            What::Tightening,
            "no joint with a figure was opened",
            "name one: --of JOINT",
        )),
        1 => {
            let (label, blocks) = sheets.remove(0);
            let title = format!("Tightening, {label}");
            let mut paper = wish.pages(What::Tightening, title, Reading::Fender, blocks);
            if let [joint] = wish.joints.as_slice() {
                paper.name = format!("{}-{joint}", What::Tightening.word());
            }
            Ok(paper)
        }
        _ => {
            let chapters = sheets.into_iter();
            let chapters = chapters.map(|(label, blocks)| Block::Chapter(label, blocks));
            let chapters = chapters.collect();
            Ok(wish.pages(What::Tightening, "Tightening", Reading::Fender, chapters))
        }
    }
}

/// The sheet of one joint; nothing where nothing is tightened.
fn sheet(wish: &Wish<'_>, joint: &JointId) -> Option<Vec<Block>> {
    let asked = Asked {
        joint: Some(joint.to_string()),
        ..Asked::default()
    };
    let report = tighten(wish.folder, &asked, wish.now_micros);
    let course = Course::of(&wish.folder.state, joint, Layout::NotSaid).ok()??;
    if report.refused || course.seats.is_empty() {
        return None;
    }
    let mut blocks = vec![Block::Words(conditions(&report, &course))];
    let findings = report.findings.iter().cloned().map(Block::Noticed);
    blocks.extend(findings);
    if course.seats.len() > 2 {
        blocks.extend(report.pictures.iter().map(drawing));
    }
    let pulls = pulls(&report, &course);
    if pulls.is_empty() {
        blocks.extend(
            report
                .asks
                .iter()
                .map(|ask| Block::Words(format!("{}: {} {}", ask.what, ask.why, ask.how))),
        );
    }
    blocks.extend(pulls.into_iter().map(Block::Pulls));
    blocks.extend(report.cautions.iter().cloned().map(Block::Care));
    Some(blocks)
}

/// The drawing with a number and a name at each hole; thread and length stand in the table,
/// where they can be read.
fn drawing(picture: &Picture) -> Block {
    let mut picture = picture.clone();
    if let Picture::Holes(holes) = &mut picture {
        for hole in &mut holes.holes {
            hole.label = String::new();
        }
    }
    Block::Drawing {
        told: told(&picture),
        picture,
    }
}

/// The condition of the threads and whose order it is, before anything is set.
fn conditions(report: &Report, course: &Course<'_>) -> String {
    let mut words: Vec<String> = Vec::new();
    for row in &report.rows.rows {
        let said = text(report, row, "condition");
        let said = format!(
            "threads {}",
            if said.is_empty() { "not stated" } else { &said }
        );
        if !words.contains(&said) {
            words.push(said);
        }
    }
    if course.seats.len() > 2 {
        words.push(course.order.words().trim().to_owned());
    }
    if course.rounds() > 1 {
        words.push(format!(
            "{} times over the bolts at each torque",
            course.rounds()
        ));
    }
    words.retain(|word| !word.is_empty());
    words.join(" · ")
}

/// One stage with the bolts that get it, by place among the seats, and those that had it.
struct Column {
    stage: PullStage,
    seats: Vec<usize>,
    had: Vec<usize>,
}

/// Tables of boxes: as many stages side by side as a sheet has room for, each table with the
/// bolts that have one of its stages.
fn pulls(report: &Report, course: &Course<'_>) -> Vec<Pulls> {
    let columns = columns(report, course);
    columns
        .chunks(ABREAST)
        .map(|some| table(some, course))
        .collect()
}

fn columns(report: &Report, course: &Course<'_>) -> Vec<Column> {
    let mut columns = Vec::new();
    for pass in &course.passes {
        for group in 0..course.groups.len() {
            let own = |seat: &usize| {
                let seat = course.seats.get(*seat);
                seat.is_some_and(|seat| seat.group == Some(group))
            };
            let seats: Vec<usize> = pass.seats.iter().copied().filter(own).collect();
            let holes = course.runs(&seats);
            let row = report.rows.rows.iter().find(|row| {
                text(report, row, "stage") == pass.stage.to_string()
                    && text(report, row, "round") == pass.round.to_string()
                    && text(report, row, "holes") == holes
            });
            let Some(row) = row.filter(|_| !seats.is_empty()) else {
                continue;
            };
            let mut name = format!("stage {}", pass.stage);
            if course.rounds() > 1 {
                name = format!("{name}, round {}", pass.round);
            }
            let set = text(report, row, "setting");
            let figure = text(report, row, "figure");
            let had = seats.iter().copied().filter(|&seat| {
                let seat = course.seats.get(seat);
                seat.is_some_and(|seat| seat.has_had(pass.stage, pass.round))
            });
            columns.push(Column {
                stage: PullStage {
                    name,
                    // An angle is turned, not set; what cannot be set is said as the book has it.
                    setting: if set.is_empty() {
                        figure.clone()
                    } else {
                        set.clone()
                    },
                    figure: if set.is_empty() || set == figure {
                        String::new()
                    } else {
                        figure
                    },
                    wrench: text(report, row, "wrench"),
                },
                had: had.collect(),
                seats,
            });
        }
    }
    columns
}

fn table(columns: &[Column], course: &Course<'_>) -> Pulls {
    let bolts = course.seats.iter().enumerate().filter_map(|(at, seat)| {
        let had: Vec<Option<bool>> = columns
            .iter()
            .map(|column| column.seats.contains(&at).then(|| column.had.contains(&at)))
            .collect();
        let thread = seat
            .hole
            .thread
            .typed()
            .unwrap_or_default()
            .replace('x', "×");
        let length = seat.hole.length.typed().unwrap_or_default();
        let label = [thread.as_str(), length];
        let label: Vec<&str> = label.into_iter().filter(|word| !word.is_empty()).collect();
        had.iter().any(Option::is_some).then(|| PullBolt {
            number: at + 1,
            hole: seat.hole.name.to_string(),
            label: label.join(" × "),
            had,
        })
    });
    Pulls {
        stages: columns.iter().map(|column| column.stage.clone()).collect(),
        bolts: bolts.collect(),
    }
}
