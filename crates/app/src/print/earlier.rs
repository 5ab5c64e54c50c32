//! A paper there is nothing to print on today: the job as it stood when somebody last began
//! work and there was, so that all the papers of a finished job can be printed.

use std::collections::BTreeSet;

use job::EntryId;
use report::{Finding, Weight};
use sheet::paper::{Block, Body, Paper};

use crate::paper::{self, What, Wish};
use crate::{sitting, torque};

/// The papers of a kind as they last were, and the note that says so; nothing where there
/// never was anything to print on them.
pub(super) fn papers(what: What, wish: &Wish<'_>) -> Option<(Vec<Paper>, Finding)> {
    let entries = &wish.folder.entries;
    let begun: BTreeSet<EntryId> = sitting::sittings(entries)
        .iter()
        .filter_map(|sitting| sitting.entries.first().map(|(entry, _)| *entry))
        .collect();
    begun.iter().rev().find_map(|&first| {
        let at = entries.iter().find(|entry| entry.id == first)?.at;
        let mut folder = wish.folder.clone();
        folder.entries.retain(|entry| entry.id < first);
        folder.state = job::replay(folder.book.as_ref(), &folder.entries);
        let wish = Wish {
            folder: &folder,
            now_micros: at,
            day: torque::day(at)?,
            ..wish.clone()
        };
        let mut papers = paper::papers(what, &wish).ok()?;
        let stood = format!("as the job stood on {}, before entry {first}", wish.day);
        for paper in &mut papers {
            if let Body::Pages(_, blocks) = &mut paper.body {
                let says = format!("Nothing is left for this paper today; it is printed {stood}.");
                blocks.insert(0, Block::Small(says));
            }
        }
        let says = format!("nothing is left for it today; printed {stood}");
        let note = Finding::new("printed-as-it-was", what.word(), says).weight(Weight::Note);
        Some((papers, note))
    })
}
