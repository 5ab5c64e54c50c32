//! Where is it: one line for a part, joint, hose, end, tag or bag, and for what is counted (rags,
//! bolts by their size), with the entry, the person and the day.

use book::{JointId, LineId, PartId};
use job::{Entry, EntryId, Item, Named, State, Where, folded, same_name};
use report::{Align, Cell, Finding, Report, Table};

use crate::loose::things;

const COMMAND: &str = "where";
const TITLE: &str = "Where it is";

/// Says where something is. `entries` tell who put it there.
#[must_use]
pub fn whereis(state: &State, entries: &[Entry], name: &str) -> Report {
    let by = |since: EntryId| match entries.iter().find(|entry| entry.id == since) {
        Some(entry) => format!("since entry {since} ({}, {})", entry.author, day(entry.at)),
        None => "not touched in this job".to_owned(),
    };
    let in_bag = contents(state, name);
    let rank = |what: &Named| match what {
        Named::Part(_) => Some(0),
        Named::Line(_) | Named::End(..) => Some(1),
        Named::Joint(_) => Some(2),
        Named::Circuit(_) => None,
    };
    let headline = match state.names.one(name, rank) {
        Ok(Named::Part(part)) => of_part(state, &part, by),
        Ok(Named::Joint(joint)) => of_joint(state, &joint, by),
        Ok(Named::Line(line)) => of_line(state, &line, None, by),
        Ok(Named::End(line, end)) => of_line(state, &line, Some(end), by),
        Ok(Named::Circuit(_)) | Err(_) if !in_bag.is_empty() => {
            format!("{name} holds {}.", in_bag.join("; "))
        }
        Ok(Named::Circuit(_)) | Err(_) if tagged(state, name).is_some() => {
            tagged(state, name).unwrap_or_default()
        }
        Ok(Named::Circuit(circuit)) => {
            format!("{circuit} is a fluid; see `matchmark outstanding`.")
        }
        Err(fault) => match lying(state, name, &by) {
            said if said.is_empty() => return Report::refusal(COMMAND, TITLE, fault.asked()),
            said => format!("{}.", said.join("; ")),
        },
    };
    let mut report = Report::new(COMMAND, TITLE);
    report.headline = Some(headline);
    let photos = state.photos.iter().filter(|photo| {
        photo
            .of
            .as_deref()
            .is_some_and(|of| folded(of) == folded(name))
    });
    let mut table = Table::new(&[
        ("photo", "photo", Align::Left),
        ("entry", "entry", Align::Right),
    ]);
    for photo in photos {
        table.push(vec![
            Cell::from(
                photo
                    .photo
                    .clone()
                    .unwrap_or_else(|| "in the bag".to_owned()),
            ),
            Cell::Number(photo.entry.0 as f64, photo.entry.to_string()),
        ]);
    }
    report.rows = table;
    if state
        .strays
        .iter()
        .any(|(_, item, _)| job::same_name(&item.name, name))
    {
        report.findings.push(Finding::new(
            "stray",
            name,
            "one was found that nobody had missed",
        ));
    }
    report
}

/// The day of an entry by its sender's clock.
fn day(micros: i64) -> String {
    jiff::Timestamp::from_microsecond(micros).map_or_else(
        |_| "no date".to_owned(),
        |at| jiff::tz::Offset::UTC.to_datetime(at).date().to_string(),
    )
}

/// As many of what is called alike as one line still tells.
const TOLD: usize = 6;

/// Counted things by what they are called or how they measure, `rags` or `M8x65`: what was put
/// in for a while, what lies loose and in which bag, what is lost.
fn lying(state: &State, name: &str, by: &impl Fn(EntryId) -> String) -> Vec<String> {
    let typed = folded(name);
    let meant = |item: &Item| {
        let shown = [item.shown(), item.counting(1).shown()];
        let size = typed.chars().any(|letter| letter.is_ascii_digit());
        same_name(&item.name, name) || size && shown.iter().any(|it| folded(it).contains(&typed))
    };
    let put_in = state.temporaries.iter().filter(|held| meant(&held.item));
    let put_in = put_in.map(|held| {
        let what = held.item.shown();
        format!("{what}: put into {}, {}", held.place, by(held.since))
    });
    let lost = state.lost.iter().filter(|lost| meant(&lost.item));
    let lost = lost.map(|lost| {
        let near = lost
            .place
            .as_ref()
            .map(|place| format!(", {place}"))
            .unwrap_or_default();
        format!("{}: lost{near}, {}", lost.item.shown(), by(lost.since))
    });
    let loose = things(state);
    let loose = loose.iter().filter(|thing| meant(&thing.item));
    let loose = loose.map(|thing| {
        let what = thing.item.shown();
        let place = thing.place.as_deref().unwrap_or("place not said");
        match &thing.from {
            Some(joint) => format!("{what}: {place}, out of {}", state.joint_label(joint)),
            None => format!("{what}: {place}, found and belonging nowhere yet"),
        }
    });
    let mut said: Vec<String> = put_in.chain(lost).chain(loose).collect();
    if said.len() > TOLD {
        let more = said.len() - TOLD;
        said.truncate(TOLD);
        said.push(format!("and {more} more, see `matchmark loose`"));
    }
    said
}

fn of_part(state: &State, part: &PartId, by: impl Fn(EntryId) -> String) -> String {
    let label = state.part_label(part);
    let Some(held) = state.parts.get(part) else {
        return format!("{label}: on, not touched in this job.");
    };
    let out = state
        .errands
        .iter()
        .find(|errand| errand.part.as_ref() == Some(part) && errand.back.is_none());
    if let Some(errand) = out {
        return format!("{label}: out of the house, {}.", by(errand.since));
    }
    let place = match (&held.place, held.state) {
        (Some(place), Where::Off) => format!(", {place}"),
        (None, Where::Off) => ", place not said".to_owned(),
        _ => String::new(),
    };
    let with = held
        .with
        .as_ref()
        .map(|with| format!(", with {with}"))
        .unwrap_or_default();
    format!(
        "{label}: {}{place}{with}, {}.",
        held.state.word(),
        by(held.since)
    )
}

fn of_joint(state: &State, joint: &JointId, by: impl Fn(EntryId) -> String) -> String {
    let label = state.joint_label(joint);
    match state.joints.get(joint) {
        None => format!("{label}: closed, not touched in this job."),
        Some(held) if held.open => {
            let place = held
                .place
                .clone()
                .unwrap_or_else(|| "place not said".to_owned());
            format!(
                "{label}: open, its fasteners in {place}, {}.",
                by(held.since)
            )
        }
        Some(held) => format!("{label}: closed again, {}.", by(held.since)),
    }
}

fn of_line(
    state: &State,
    line: &LineId,
    only: Option<usize>,
    by: impl Fn(EntryId) -> String,
) -> String {
    let label = state.line_label(line);
    let Some(known) = state.known.line(line) else {
        return format!("{label}: not known.");
    };
    let ends = [0, 1]
        .into_iter()
        .filter(|end| only.is_none_or(|only| only == *end));
    let said = ends.map(|end| {
        let port = &known.ends[end].port.id;
        let held = state.lines.get(line).map(|ends| &ends[end]);
        let tag = crate::mixups::tag_of(state, known, end)
            .map(|tag| format!(", tag {tag}"))
            .unwrap_or_default();
        match held {
            Some(held) if held.off => format!("off {port}{tag}, {}", by(held.since)),
            Some(held) if held.since.0 > 0 => format!("on {port}{tag}, {}", by(held.since)),
            Some(_) | None => format!("on {port}{tag}, not touched"),
        }
    });
    format!("{label}: {}.", said.collect::<Vec<_>>().join("; "))
}

fn tagged(state: &State, name: &str) -> Option<String> {
    let wanted = folded(name).trim_start_matches("tag").to_owned();
    let tag = state.tags.iter().find(|tag| folded(&tag.tag) == wanted)?;
    let port = tag
        .port
        .as_deref()
        .map(|port| format!(", belongs on {port}"))
        .unwrap_or_default();
    Some(format!(
        "Tag {}: {}{port}, since entry {}.",
        tag.tag, tag.end_typed, tag.entry
    ))
}

/// What lies in a bag, tray or shelf, or was put into a place for a while.
fn contents(state: &State, place: &str) -> Vec<String> {
    let here = |held: &Option<String>| {
        held.as_deref()
            .is_some_and(|held| folded(held) == folded(place))
    };
    let parts = state
        .parts
        .iter()
        .filter(|(_, held)| held.state == Where::Off && here(&held.place));
    let parts = parts.map(|(part, _)| state.part_label(part));
    let joints = state
        .joints
        .iter()
        .filter(|(_, held)| held.open && here(&held.place));
    let joints = joints.map(|(joint, _)| format!("fasteners of {}", state.joint_label(joint)));
    let put_in = state
        .temporaries
        .iter()
        .filter(|held| folded(&held.place) == folded(place))
        .map(|held| held.item.shown());
    parts.chain(joints).chain(put_in).collect()
}
