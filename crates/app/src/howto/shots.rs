//! Photographs for other people: only those marked *show*, looked through for plates and
//! faces, and drawn anew so that nothing but the picture is in them.

use std::collections::BTreeSet;

use book::PartId;
use job::{EntryId, Named, Photo};
use report::{Ask, Finding};
use sheet::paper;

use super::discreet::Discreet;
use super::layer::Layer;
use crate::folder::Folder;
use crate::photo::on_paper;

/// A photograph that may be shown, and where it belongs.
pub(super) struct Shot {
    pub entry: EntryId,
    pub part: Option<PartId>,
    pub photo: paper::Photo,
}

/// What may be shown, what must be looked through first, and what could not be drawn.
#[derive(Default)]
pub(super) struct Shots {
    pub all: Vec<Shot>,
    pub asks: Vec<Ask>,
    pub findings: Vec<Finding>,
}

pub(super) fn of(folder: &Folder, discreet: &mut Discreet) -> Shots {
    let mut shots = Shots::default();
    for photo in folder.state.photos.iter().filter(|photo| photo.show) {
        if photo.file.is_none() {
            continue;
        }
        if photo.looked.is_none() {
            shots.asks.push(Ask::new(
                format!("whether photo {} shows a plate or a face", photo.entry),
                "it is marked to be shown, and nobody said that it was looked through",
                format!(
                    "look, then: matchmark log \"show {}: no plate, no face\"",
                    photo.entry
                ),
            ));
            continue;
        }
        let caption = caption(folder, photo, discreet);
        let tell = |says: &str| discreet.pass(photo.entry, says).is_some();
        match on_paper(folder, photo, caption, tell) {
            Ok(drawn) => shots.all.extend(drawn.map(|drawn| Shot {
                entry: photo.entry,
                part: part(folder, photo),
                photo: drawn,
            })),
            Err(fault) => shots.findings.push(
                Finding::new("photo", format!("photo {}", photo.entry), fault.to_string())
                    .next("matchmark check tells which files are missing or damaged"),
            ),
        }
    }
    shots
}

/// What it shows, in the words others may read.
fn caption(folder: &Folder, photo: &Photo, discreet: &mut Discreet) -> String {
    let label = match folder.state.seen_on(photo) {
        Some(Named::Part(part)) => Some(folder.state.part_label(part)),
        Some(Named::Joint(joint)) => Some(folder.state.joint_label(joint)),
        Some(Named::Line(line) | Named::End(line, _)) => Some(folder.state.line_label(line)),
        Some(Named::Circuit(_)) | None => photo.of.clone(),
    };
    let hole = photo.hole.as_ref().map(|hole| format!(" hole {hole}"));
    let thing = label.map(|label| format!("{label}{}", hole.unwrap_or_default()));
    let thing = thing.and_then(|thing| discreet.pass(photo.entry, &thing));
    let note = photo
        .note
        .as_ref()
        .and_then(|note| discreet.pass(photo.entry, note));
    match (thing, note) {
        (Some(thing), Some(note)) => format!("{thing}: {note}"),
        (thing, note) => thing.or(note).unwrap_or_default(),
    }
}

/// The part a photograph shows, or the part of the joint or hole it shows.
fn part(folder: &Folder, photo: &Photo) -> Option<PartId> {
    let known = &folder.state.known;
    match folder.state.seen_on(photo)? {
        Named::Part(part) => Some(part.clone()),
        Named::Joint(joint) => known.joint(joint).map(|joint| joint.of.clone()),
        Named::End(line, side) => known
            .line(line)
            .map(|line| line.ends[*side].port.id.part.clone()),
        Named::Line(_) | Named::Circuit(_) => None,
    }
}

impl Shots {
    /// Takes out the photographs of a layer: by the part they show, else by the entry they
    /// show or are.
    pub(super) fn take(&mut self, layer: &Layer) -> Vec<paper::Photo> {
        self.take_if(|shot| match &shot.part {
            Some(part) => layer.has(part),
            None => layer.entries.contains(&shot.entry),
        })
    }

    /// Takes out whatever is left.
    pub(super) fn take_rest(&mut self) -> Vec<paper::Photo> {
        self.take_if(|_| true)
    }

    fn take_if(&mut self, wanted: impl Fn(&Shot) -> bool) -> Vec<paper::Photo> {
        let (taken, left) = std::mem::take(&mut self.all).into_iter().partition(wanted);
        self.all = left;
        let mut seen = BTreeSet::new();
        taken
            .into_iter()
            .filter(|shot: &Shot| seen.insert(shot.entry))
            .map(|shot| shot.photo)
            .collect()
    }
}
