//! A fastener that broke off in its hole, and the hole made good again.

use super::fasteners::At;
use super::{Applied, contradiction};
use crate::entry::EntryId;
use crate::names::Named;
use crate::state::State;

impl State {
    pub(super) fn broke(
        &mut self,
        entry: EntryId,
        what: &str,
        holes: &[String],
        left: Option<&String>,
    ) -> Applied {
        for at in self.holes_said(what, holes)? {
            let hole = self.hole_mut(&at);
            hole.broke = true;
            hole.since = entry;
            self.broken.insert(at, (entry, left.cloned()));
        }
        Ok(())
    }

    pub(super) fn cleared(&mut self, what: &str, holes: &[String]) -> Applied {
        let at = self.holes_said(what, holes)?;
        if let Some((_, hole)) = at.iter().find(|at| !self.broken.contains_key(*at)) {
            return Err(contradiction(
                what,
                format!("no line says that anything broke off in hole {hole}"),
                "correct the hole, or write `broke NAME hole C` first",
            ));
        }
        for at in &at {
            self.broken.remove(at);
        }
        Ok(())
    }

    /// The holes of a part or joint that were named, all of them or a contradiction.
    fn holes_said(&self, what: &str, holes: &[String]) -> Result<Vec<At>, Box<report::Finding>> {
        let joints = match self.in_hand(what, None, false)? {
            Some(Named::Part(part)) => {
                let own = self.known.joints_of(&part);
                own.map(|joint| joint.id.clone()).collect()
            }
            Some(Named::Joint(joint)) => vec![joint],
            Some(Named::Line(_) | Named::End(..) | Named::Circuit(_)) | None => Vec::new(),
        };
        let find = |name: &String| {
            self.hole_named(&joints, name).ok_or_else(|| {
                let says = format!("{what} has no hole {name}");
                let next = "correct its name; on a job without a book log the fasteners first: `off NAME: 3 bolts M8x40 holes A..C`";
                contradiction(what, says, next)
            })
        };
        holes.iter().map(find).collect()
    }
}
