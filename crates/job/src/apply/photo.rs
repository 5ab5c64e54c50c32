//! Photos: taken, told about later, shown to others or not; and places on a film.

use super::{Applied, contradiction};
use crate::act::Details;
use crate::entry::EntryId;
use crate::names::Named;
use crate::shot::{Film, Shot, Spotted};
use crate::state::{Photo, State};

impl State {
    pub(super) fn photographed(&mut self, entry: EntryId, shot: &Shot) {
        self.photos.push(Photo {
            entry,
            photo: shot.photo.clone(),
            file: shot.file.clone(),
            of: shot.of.clone(),
            hole: shot.hole.clone(),
            of_entry: shot.entry,
            place: shot.place.clone(),
            note: shot.note.clone(),
            show: shot.show,
            looked: None,
            spots: Vec::new(),
        });
        self.hole_not_there(entry, shot.of.as_deref(), shot.hole.as_deref());
    }

    pub(super) fn photographed_with(&mut self, entry: EntryId, of: &str, details: &Details) {
        if details.photo.is_some() {
            let shot = Shot {
                photo: details.photo.clone(),
                of: Some(of.to_owned()),
                place: details.place.clone(),
                ..Shot::default()
            };
            self.photographed(entry, &shot);
        }
    }

    /// What was said later replaces what it speaks of; the rest stays.
    pub(super) fn captioned(&mut self, id: EntryId, photo: EntryId, shot: &Shot) -> Applied {
        let held = self.photos.iter_mut().find(|held| held.entry == photo);
        let held = held.ok_or_else(|| no_photo(photo))?;
        let of_entry_now = shot.entry.is_some();
        for (slot, said) in [
            (&mut held.photo, &shot.photo),
            (&mut held.of, &shot.of),
            (&mut held.hole, &shot.hole),
            (&mut held.place, &shot.place),
            (&mut held.note, &shot.note),
        ] {
            if said.is_some() {
                slot.clone_from(said);
            }
        }
        if of_entry_now {
            held.of_entry = shot.entry;
        }
        held.show |= shot.show;
        let (of, hole) = (held.of.clone(), held.hole.clone());
        self.hole_not_there(id, of.as_deref(), hole.as_deref());
        Ok(())
    }

    pub(super) fn shown(
        &mut self,
        photos: &[EntryId],
        show: bool,
        looked: Option<&String>,
    ) -> Applied {
        let has = |id: &EntryId| self.photos.iter().any(|held| held.entry == *id);
        if let Some(missing) = photos.iter().find(|id| !has(id)) {
            return Err(no_photo(*missing));
        }
        for held in self
            .photos
            .iter_mut()
            .filter(|held| photos.contains(&held.entry))
        {
            held.show = show;
            if looked.is_some() {
                held.looked = looked.cloned();
            }
        }
        Ok(())
    }

    /// Places are added to those that were pointed out before.
    pub(super) fn marked(&mut self, photo: EntryId, spots: &[Spotted]) -> Applied {
        let held = self.photos.iter_mut().find(|held| held.entry == photo);
        let held = held.ok_or_else(|| no_photo(photo))?;
        held.spots.extend_from_slice(spots);
        Ok(())
    }

    pub(super) fn filmed(&mut self, id: EntryId, seen: EntryId, film: &Film) -> Applied {
        if seen >= id {
            let says = format!("there is no entry {seen} before it");
            let next = "matchmark record lists the entries";
            return Err(contradiction(format!("entry {seen}"), says, next));
        }
        self.films.insert(seen, film.clone());
        Ok(())
    }

    /// What a photo shows, where its words name something.
    #[must_use]
    pub fn seen_on(&self, photo: &Photo) -> Option<&Named> {
        let all = self.names.all(photo.of.as_deref()?);
        let hand = |what: &&Named| !matches!(what, Named::Joint(_));
        all.iter().find(hand).or_else(|| all.first())
    }

    /// A photo of a hole that is not there is kept, and the slip is said.
    fn hole_not_there(&mut self, entry: EntryId, of: Option<&str>, hole: Option<&str>) {
        let (Some(of), Some(hole)) = (of, hole) else {
            return;
        };
        let named = self.names.all(of);
        let mut joints = self.known.joints.iter().filter(|joint| {
            named.contains(&Named::Joint(joint.id.clone()))
                || named.contains(&Named::Part(joint.of.clone()))
        });
        let known = joints.any(|joint| {
            let mut names = joint.holes.iter().map(|known| known.name.as_str());
            names.any(|name| name.eq_ignore_ascii_case(hole))
        });
        if !known {
            let says = format!("{of} has no hole {hole}");
            let finding = report::Finding::new("hole-unknown", of, says)
                .next("correct the entry if the letter slipped; the photo is kept");
            self.note_finding(entry, finding);
        }
    }
}

fn no_photo(entry: EntryId) -> Box<report::Finding> {
    let says = format!("entry {entry} is no photo, or was taken back");
    let next = "matchmark record lists the entries";
    contradiction(format!("entry {entry}"), says, next)
}
