//! The tightening sheet of a joint of the job: a typed name and a few options into the
//! question for the judge.

use book::JointId;
use job::Named;
use judge::tighten_joint::order::Layout;
use judge::tighten_list;
use judge::tighten_sheet::{Question, judge};
use report::{Finding, Report};

use crate::folder::Folder;
use crate::option::Options;
use crate::torque::rack;

const COMMAND: &str = "tighten";
const TITLE: &str = "Tightening";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// The joint, or a part with one joint. Left out: the joints are listed.
    pub joint: Option<String>,
    /// List joints nobody has touched as well.
    pub all: bool,
    /// Wrenches instead of the shop's: `click 20..200 lbf·in 4 %`.
    pub wrenches: Vec<String>,
    /// In how many rows the holes lie.
    pub rows: Option<usize>,
    /// Whether the holes lie on a ring.
    pub ring: bool,
    /// Whether the figures behind the advice are wanted.
    pub why: bool,
}

/// Writes the sheet. `now` is in microseconds since 1970-01-01T00:00Z and ages the checks of
/// the wrenches.
#[must_use]
pub fn tighten(folder: &Folder, asked: &Asked, now: i64) -> Report {
    let Some(name) = &asked.joint else {
        return tighten_list::list(&folder.state, asked.all);
    };
    let joint = match joint(folder, name) {
        Ok(joint) => joint,
        Err(finding) => return Report::refusal(COMMAND, TITLE, *finding),
    };
    let mut options = Options::of(COMMAND);
    let layout = layout(asked, &mut options);
    let rack = rack(&mut options, folder.shop.as_ref(), now, &asked.wrenches);
    if !options.clean() {
        return options.refusal(TITLE);
    }
    judge(&Question {
        state: &folder.state,
        shop: folder.shop.as_ref(),
        joint,
        rack,
        layout,
        why: asked.why,
    })
}

fn layout(asked: &Asked, options: &mut Options) -> Layout {
    match (asked.rows, asked.ring) {
        (Some(_), true) => {
            options.fault("--rows", "rows and a ring at once", "give one of them");
            Layout::NotSaid
        }
        (Some(0), false) => {
            options.fault("--rows", "no rows", "give 1 or more");
            Layout::NotSaid
        }
        (Some(rows), false) => Layout::Rows(rows),
        (None, true) => Layout::Ring,
        (None, false) => Layout::NotSaid,
    }
}

/// The joint a name means: a joint, or the one joint of a part.
pub(crate) fn joint(folder: &Folder, name: &str) -> Result<JointId, Box<Finding>> {
    let state = &folder.state;
    let mut parts = Vec::new();
    for named in state.names.all(name) {
        match named {
            Named::Joint(joint) => return Ok(joint.clone()),
            Named::Part(part) => parts.push(part),
            Named::Line(_) | Named::End(..) | Named::Circuit(_) => {}
        }
    }
    let joints: Vec<&JointId> = parts
        .iter()
        .flat_map(|part| state.known.joints_of(part))
        .map(|joint| &joint.id)
        .collect();
    match joints.as_slice() {
        [only] => Ok((*only).clone()),
        [] => {
            let near = near(folder, name);
            let finding =
                Finding::new("name-unknown", name, format!("no joint is called `{name}`"));
            Err(Box::new(if near.is_empty() {
                finding.next("write the joint as the book has it")
            } else {
                finding.next(format!("did you mean {}?", near.join(", ")))
            }))
        }
        several => {
            let names: Vec<&str> = several.iter().map(|joint| joint.as_str()).collect();
            Err(Box::new(
                Finding::new("name-unknown", name, format!("{name} has several joints"))
                    .next(format!("name one: {}", names.join(", "))),
            ))
        }
    }
}

/// Joints most like a name.
fn near(folder: &Folder, name: &str) -> Vec<String> {
    let found = folder.state.known.resolve(name);
    let mut near = found.err().unwrap_or_default();
    near.retain(|near| {
        folder
            .state
            .names
            .all(near)
            .iter()
            .any(|named| matches!(named, Named::Joint(_) | Named::Part(_)))
    });
    near
}
