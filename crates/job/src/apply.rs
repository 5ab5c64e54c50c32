//! One entry changes the state, or contradicts it and changes nothing.

mod apart;
mod broken;
mod extras;
mod fasteners;
mod goods;
mod lift;
mod meet;
mod photo;
mod place;
mod said;
mod tighten;

use report::Finding;

use crate::act::Act;
use crate::entry::{Entry, EntryId};
use crate::state::{EntryFinding, State};

/// What a handler answers: done, or the contradiction that kept it from doing anything.
type Applied = Result<(), Box<Finding>>;

impl State {
    /// Applies one entry that stands on its own.
    ///
    /// Undo and correction change what *other* entries mean; they are settled by
    /// [`crate::replay()`] before entries get here, and do nothing here. An entry that
    /// contradicts the state becomes a finding and changes nothing else.
    pub fn apply(&mut self, entry: &Entry) {
        self.apply_as(entry, &entry.act);
    }

    /// Applies an entry with what it says now, which a correction may have changed.
    pub(crate) fn apply_as(&mut self, entry: &Entry, act: &Act) {
        self.last = Some(entry.id);
        if let Err(finding) = self.act(entry, act) {
            self.findings.push(EntryFinding {
                entry: entry.id,
                contradicts: true,
                finding: *finding,
            });
        }
    }

    /// Whether a line must be refused before it is stored, because a name in it means
    /// nothing or several things. A mere contradiction is stored and becomes a finding.
    #[must_use]
    pub fn refusal(&self, entry: &Entry) -> Option<Finding> {
        let mut trial = self.clone();
        trial.apply(entry);
        let news = trial.findings.into_iter().skip(self.findings.len());
        news.map(|news| news.finding)
            .find(|finding| matches!(finding.code, "name-unknown" | "name-ambiguous"))
    }

    fn act(&mut self, entry: &Entry, act: &Act) -> Applied {
        match act {
            Act::Off {
                what,
                run,
                details,
                new,
            } => self.off(entry.id, what, *run, details, *new),
            Act::On {
                what,
                run,
                details,
                new,
            } => self.on(entry.id, what, *run, details, *new),
            Act::Loosened { what, holes, new } => self.loosened(entry.id, what, holes, *new),
            Act::Aside { what, note, new } => self.aside(entry.id, what, note.as_ref(), *new),
            Act::Lifted { what, place, new } => self.lifted(entry.id, what, place.as_ref(), *new),
            Act::Stowed { what, place } => self.stowed(what, place),
            Act::Tightened(tightening) => self.tightened(entry, tightening),
            Act::Drained(flow) => self.drained(entry.id, flow),
            Act::Filled(flow) => self.filled(entry.id, flow),
            Act::Found { items, place } => {
                self.found(entry.id, items, place.as_ref());
                Ok(())
            }
            Act::Lost { items, place } => {
                self.lose(entry.id, items, place.as_ref());
                Ok(())
            }
            Act::Replaced { what, items, with } => {
                self.replaced(entry.id, what.as_ref(), items, with.as_ref())
            }
            Act::Ordered(_)
            | Act::Arrived { .. }
            | Act::Compared { .. }
            | Act::SentOut(_)
            | Act::Back { .. } => self.goods(entry.id, act),
            Act::Broke { what, holes, left } => self.broke(entry.id, what, holes, left.as_ref()),
            Act::Cleared { what, holes, .. } => self.cleared(what, holes),
            Act::PutIn { place, items } => {
                self.put_in(entry.id, place, items);
                Ok(())
            }
            Act::TakenOut { place, items } => self.taken_out(place, items),
            Act::Measured(_)
            | Act::Cleaned { .. }
            | Act::TrialFitted { .. }
            | Act::Paid { .. }
            | Act::Photographed(_)
            | Act::Noted { .. }
            | Act::GatePassed { .. }
            | Act::Cause { .. } => {
                self.said(entry.id, act);
                Ok(())
            }
            Act::Captioned { photo, shot } => self.captioned(entry.id, *photo, shot),
            Act::Shown {
                photos,
                show,
                looked,
            } => self.shown(photos, *show, looked.as_ref()),
            Act::Marked { photo, spots } => self.marked(*photo, spots),
            Act::Filmed { entry: seen, film } => self.filmed(entry.id, *seen, film),
            Act::Placed { what, spots } => self.placed(entry.id, what, spots),
            Act::Tagged { tag, end, port } => self.tagged(entry.id, tag, end, port.as_ref()),
            Act::Checked { check, result } => self.checked(entry.id, check, result.as_ref()),
            Act::Renamed { from, to } => self.renamed(from, to),
            Act::SameAs { one, other } => self.same_as(one, other),
            Act::Chosen { variant, value } => self.chosen(entry.id, variant, value),
            Act::Corrected { .. } | Act::Undone { .. } => Ok(()),
        }
    }

    /// Something worth saying about an entry that was applied all the same.
    fn note_finding(&mut self, entry: EntryId, finding: Finding) {
        self.findings.push(EntryFinding {
            entry,
            contradicts: false,
            finding,
        });
    }
}

/// A contradiction, ready to be returned.
fn contradiction(concerns: impl Into<String>, says: impl Into<String>, next: &str) -> Box<Finding> {
    Box::new(Finding::new("contradicts-the-record", concerns, says).next(next))
}
