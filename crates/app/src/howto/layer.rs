//! The layers of an engine as they were uncovered: what came off, in what depth, and what was
//! met on the way.

use std::collections::{BTreeMap, BTreeSet};

use book::{LineId, PartId};
use job::{Act, Details, Entry, EntryId, Named, State};

/// A part that came off or was moved aside, the first time it was.
#[derive(Clone, Debug)]
pub(super) struct Removal {
    pub part: PartId,
    pub entry: EntryId,
    /// Moved aside, still connected.
    pub aside: bool,
    /// What was said of it; nothing where several came off in one line.
    pub details: Option<Details>,
}

/// What came off once what lay above it was off.
#[derive(Clone, Debug, Default)]
pub(super) struct Layer {
    pub removals: Vec<Removal>,
    /// Ends of hoses, leads and plugs that came off for it.
    pub ends: Vec<(LineId, Option<usize>)>,
    /// The entries that belong to it: its removals, and what was written between them.
    pub entries: BTreeSet<EntryId>,
}

impl Layer {
    pub(super) fn has(&self, part: &PartId) -> bool {
        self.removals.iter().any(|removal| removal.part == *part)
    }
}

/// Every first removal, in the order of the record, and the parts that came off again later.
pub(super) fn removals(state: &State, entries: &[Entry]) -> (Vec<Removal>, Vec<(EntryId, PartId)>) {
    let mut first: Vec<Removal> = Vec::new();
    let mut again = Vec::new();
    for entry in entries {
        let (names, details, aside) = match &entry.act {
            Act::Off { what, details, .. } => (what, Some(&**details), false),
            Act::Lifted { what, .. } => (what, None, false),
            Act::Aside { what, .. } => (what, None, true),
            _ => continue,
        };
        for name in names {
            let Some(part) = part(state, name) else {
                continue;
            };
            match first.iter_mut().find(|removal| removal.part == part) {
                // What was moved aside and then taken away came off once.
                Some(removal) if removal.aside && !aside => removal.aside = false,
                Some(_) => again.push((entry.id, part)),
                None => first.push(Removal {
                    part,
                    entry: entry.id,
                    aside,
                    details: details.filter(|_| names.len() == 1).cloned(),
                }),
            }
        }
    }
    (first, again)
}

fn part(state: &State, name: &str) -> Option<PartId> {
    state.names.all(name).iter().find_map(|named| match named {
        Named::Part(id) => Some(id.clone()),
        _ => None,
    })
}

/// Sorts removals into layers. With a book, a part lies under everything that was in its way
/// and came off before it; without one, nobody knows that, and each day is a layer.
pub(super) fn layers(state: &State, entries: &[Entry], removals: &[Removal]) -> Vec<Layer> {
    let depths = if state.has_book {
        by_book(state, removals)
    } else {
        by_day(entries, removals)
    };
    let count = depths.iter().max().map_or(0, |deepest| deepest + 1);
    let mut layers = vec![Layer::default(); count];
    for (removal, depth) in removals.iter().zip(&depths) {
        layers[*depth].removals.push(removal.clone());
        layers[*depth].entries.insert(removal.entry);
    }
    beside(state, entries, removals, &depths, &mut layers);
    layers
}

/// 0 for what had nothing over it, else one more than the deepest thing that was over it.
fn by_book(state: &State, removals: &[Removal]) -> Vec<usize> {
    let mut depth: BTreeMap<&PartId, usize> = BTreeMap::new();
    let mut depths = Vec::new();
    for removal in removals {
        let over = over(state, &removal.part);
        // Only what came off before counts, so that no loop of the book can go round here.
        let deepest = over.iter().filter_map(|part| depth.get(part)).max();
        let own = deepest.map_or(0, |deepest| deepest + 1);
        depth.insert(&removal.part, own);
        depths.push(own);
    }
    depths
}

/// What lies over a part by the book: what is in its way, and what is fastened onto it.
fn over(state: &State, part: &PartId) -> BTreeSet<PartId> {
    let Some(known) = state.known.part(part) else {
        return BTreeSet::new();
    };
    let ways = known.needs_off_any.iter().flat_map(|any| &any.ways);
    let ways = ways.flat_map(|way| &way.parts);
    let needed = known.needs_off.iter().chain(ways);
    let mounted = state.known.joints_to(part).map(|joint| joint.of.clone());
    needed
        .map(|mention| mention.id.clone())
        .chain(mounted)
        .filter(|over| over != part)
        .collect()
}

fn by_day(entries: &[Entry], removals: &[Removal]) -> Vec<usize> {
    let day = |id: EntryId| {
        let entry = entries.iter().find(|entry| entry.id == id);
        entry.map_or(0, |entry| entry.at.div_euclid(86_400_000_000))
    };
    let days: BTreeSet<i64> = removals.iter().map(|one| day(one.entry)).collect();
    removals
        .iter()
        .map(|one| days.range(..day(one.entry)).count())
        .collect()
}

/// Ends that came off, and words that were written, go to the layer of the part that came off
/// next, or last where none followed.
fn beside(
    state: &State,
    entries: &[Entry],
    removals: &[Removal],
    depths: &[usize],
    layers: &mut [Layer],
) {
    let Some(last) = removals.last().map(|removal| removal.entry) else {
        return;
    };
    for entry in entries.iter().filter(|entry| entry.id <= last) {
        let next = removals
            .iter()
            .position(|removal| removal.entry >= entry.id);
        let Some(depth) = next.and_then(|next| depths.get(next)) else {
            continue;
        };
        let layer = &mut layers[*depth];
        layer.entries.insert(entry.id);
        if let Act::Off { what, .. } = &entry.act {
            let ends = what.iter().filter_map(|name| end(state, name));
            layer.ends.extend(ends);
        }
    }
}

fn end(state: &State, name: &str) -> Option<(LineId, Option<usize>)> {
    let mut means = state.names.all(name).iter();
    means.find_map(|named| match named {
        Named::Line(id) => Some((id.clone(), None)),
        Named::End(id, side) => Some((id.clone(), Some(*side))),
        _ => None,
    })
}
