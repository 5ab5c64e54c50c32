//! What the act behind a gate asks for on any engine, whatever the book says.
//!
//! The record answers: readings, checks, what was cleaned, and notes in plain words. What only
//! eyes can tell is asked. A book's own gate says the details for its engine.

use book::{Holds, Part};
use job::{EntryId, State, Where};
use report::{Ask, Finding, Weight};

use super::timing;

/// What an act asks for.
#[derive(Debug, Default)]
pub(super) struct Wanted {
    /// What stands against it.
    pub(super) found: Vec<Finding>,
    /// What only a person can say.
    pub(super) asks: Vec<Ask>,
}

/// Judges what a gate asks for on any engine. `own` says that the book has this gate itself.
pub(super) fn wanted(state: &State, gate: &str, own: bool) -> Wanted {
    let mut wanted = Wanted::default();
    match gate {
        "before-opening" => before_opening(state, &mut wanted),
        "before-head-on" => {
            if !own {
                before_head_on(state, &mut wanted);
            }
            wanted.found.extend(grit(state));
        }
        "turn-by-hand" => wanted.found.extend(timing::drive_off(state)),
        "spin" => {
            wanted.found.extend(timing::not_turned(state));
            spin(state, &mut wanted);
        }
        "fire" => {
            wanted.found.extend(timing::not_turned(state));
            fire(state, &mut wanted);
        }
        "drive" => drive(state, &mut wanted),
        _ => {}
    }
    wanted
}

fn before_opening(state: &State, wanted: &mut Wanted) {
    let baseline = state.readings.iter().any(|(_, found)| {
        ["cranking", "compression", "leak"]
            .iter()
            .any(|word| found.of.to_lowercase().contains(word))
    });
    if !baseline {
        wanted.found.push(stop(
            "no-baseline",
            "baseline readings",
            "no cranking or leak-down reading from before",
            "without one nobody can say afterwards whether the work helped",
            "measure on the gauge you will use afterwards, then write `read cranking dry: …`; if it cannot crank, pass the gate with that as the reason",
        ));
    }
    if state.photos.is_empty() {
        wanted.found.push(stop(
            "no-photos",
            "photos",
            "no photo of the untouched engine",
            "hoses and leads look alike once they hang loose",
            "take them from every side, then write `photo 1: …`",
        ));
    }
    if !said(state, EntryId(0), &["coolant", "oil"]) {
        wanted.asks.push(Ask::new(
            "how oil and coolant look",
            "what runs out first is gone after it.",
            "Look at both and write `note oil: …` and `note coolant: …`.",
        ));
    }
}

/// What only has to be seen before a head goes on: code, words of an entry that tell it, what
/// is said of it, and why.
const SEEN: [(&str, &[&str], &str, &str); 5] = [
    (
        "holes-not-dry",
        &["dry"],
        "blind holes dry",
        "liquid in a blind hole splits the casting",
    ),
    (
        "dowels",
        &["dowel"],
        "dowels in",
        "without them the gasket shifts",
    ),
    (
        "gasket-side",
        &["gasket"],
        "gasket side and hand",
        "turned round it closes the water holes",
    ),
    (
        "followers",
        &["follower", "lifter", "tappet"],
        "followers free",
        "found late, it costs bolts and gasket",
    ),
    (
        "pistons-parked",
        &["parked", "pistons"],
        "pistons parked",
        "an open valve meets a piston at the top",
    ),
];

/// The seven things that are cheap to see while the head is in the hand.
fn before_head_on(state: &State, wanted: &mut Wanted) {
    let Some(since) = first_head_off(state) else {
        return;
    };
    faces(state, since, wanted);
    for (code, words, what, why) in SEEN {
        if !said(state, since, words) {
            wanted.found.push(stop(
                code,
                what,
                &format!("{what}: no entry since the head came off"),
                why,
                &format!("look, then write `note {what}: …`"),
            ));
        }
    }
}

/// The entry that took the first of the heads off that are off now.
fn first_head_off(state: &State) -> Option<EntryId> {
    heads(state)
        .map(|head| &head.id)
        .filter(|id| state.whereabouts(id) == Where::Off)
        .filter_map(|id| state.parts.get(id).map(|held| held.since))
        .min()
}

/// Both faces, head and block, clean and measured: one of them alone is half a joint.
fn faces(state: &State, since: EntryId, wanted: &mut Wanted) {
    let cleaned = |word: &str| {
        state
            .cleaned
            .iter()
            .any(|(entry, what, _)| *entry > since && what.to_lowercase().contains(word))
    };
    if !(cleaned("head") && cleaned("block")) {
        wanted.found.push(stop(
            "faces-not-clean",
            "faces",
            "no entry says that both faces are clean",
            "what lies under a gasket is a leak path",
            "clean both, then write `clean head` and `clean block`",
        ));
    }
    let missing: Vec<&str> = [("head", &["head"][..]), ("block", &["block", "deck"])]
        .into_iter()
        .filter(|(_, words)| !flatness_read(state, since, words))
        .map(|(face, _)| face)
        .collect();
    if missing.is_empty() {
        return;
    }
    let next: Vec<String> = missing
        .iter()
        .map(|face| format!("`read {face} flatness: …`"))
        .collect();
    wanted.found.push(stop(
        "faces-not-measured",
        "faces",
        &format!(
            "no flatness reading of the {} since the head came off",
            missing.join(" and the ")
        ),
        "a warped face leaks within months, and either of the two can be the warped one",
        &format!("measure, then write {}", next.join(" and ")),
    ));
}

/// Whether a flatness was read of a face called by one of the words, after an entry.
fn flatness_read(state: &State, since: EntryId, words: &[&str]) -> bool {
    state.readings.iter().any(|(entry, found)| {
        let of = found.of.to_lowercase();
        *entry > since && of.contains("flat") && words.iter().any(|word| of.contains(word))
    })
}

/// Words that say a face was cleaned with grit.
const GRIT: [&str; 7] = [
    "abrasive",
    "pad",
    "emery",
    "sandpaper",
    "sanded",
    "wire wheel",
    "grinding disc",
];

/// A face that was cleaned with grit and not flushed since: it rides in the oil to the bearings.
fn grit(state: &State) -> Vec<Finding> {
    let gritty = |how: &str| {
        let how = how.to_lowercase();
        let denied = ["no abrasive", "without abrasive", "no pad", "not abrasive"];
        !denied.iter().any(|word| how.contains(word)) && GRIT.iter().any(|word| how.contains(word))
    };
    let flushed = |since: EntryId| {
        let by_cleaning = state.cleaned.iter().any(|(entry, _, how)| {
            *entry > since
                && how
                    .as_deref()
                    .is_some_and(|how| how.to_lowercase().contains("flush"))
        });
        by_cleaning || said(state, since, &["flushed"])
    };
    state
        .cleaned
        .iter()
        .filter(|(entry, _, how)| how.as_deref().is_some_and(gritty) && !flushed(*entry))
        .map(|(entry, what, how)| {
            stop(
                "grit",
                what,
                &format!(
                    "{what}: cleaned with grit (entry {entry}: {})",
                    how.as_deref().unwrap_or_default()
                ),
                "grit from pads and discs reaches the bearings with the oil, and a bad disc drags grooves across the seal",
                "blow out and flush ways and holes, look along the face in low light, then write `note flushed: …`",
            )
        })
        .collect()
}

fn spin(state: &State, wanted: &mut Wanted) {
    if spun(state) {
        return;
    }
    let plugs: Vec<&Part> = plugs(state).collect();
    let last = plugs
        .iter()
        .filter_map(|part| state.parts.get(&part.id).map(|held| held.since))
        .max()
        .unwrap_or_default();
    let fitted: Vec<String> = plugs
        .iter()
        .filter(|part| matches!(state.whereabouts(&part.id), Where::Fitted | Where::Loosened))
        .map(|part| state.part_label(&part.id))
        .collect();
    let told = said(state, last, &["plugs out", "plugs are out"]);
    if plugs.is_empty() && !told {
        wanted.asks.push(Ask::new(
            "all plugs out",
            "with plugs in, the starter works against compression and against any liquid.",
            "Take them out and write `note plugs out`.",
        ));
    } else if !fitted.is_empty() && !told {
        wanted.found.push(stop(
            "plugs-in",
            &fitted.join(", "),
            &format!("in their holes: {}", fitted.join(", ")),
            "the starter should work against neither compression nor liquid",
            "take them out and write it, or write `note plugs out`",
        ));
    }
    if let Some(since) = opened_to_liquid(state)
        && !said(state, since, &TURNED)
    {
        wanted.found.push(stop(
            LIQUID,
            "cylinders",
            "a head was off, and nobody has turned the engine by hand since it was closed and filled",
            "liquid above a piston bends the rod: the starter does not feel it",
            "all plugs out, turn by hand two turns in running direction, look at the bores, then write `note two turns by hand, bores dry`",
        ));
    }
}

/// Words of an entry that say the crank was turned by hand.
pub(crate) const TURNED: [&str; 3] = ["two turns", "turned by hand", "turns by hand"];

/// The finding no reason opens a gate for: liquid in a cylinder is not ruled out.
pub(super) const LIQUID: &str = "liquid-not-ruled-out";

fn fire(state: &State, wanted: &mut Wanted) {
    if head_back(state).is_some_and(|since| !oil_seen(state, since)) {
        wanted.found.push(stop(
            "no-oil-pressure-yet",
            "oil pressure",
            "the engine was open, and no oil pressure was seen since it was closed",
            "a pump that has run dry delivers nothing, and bearings last seconds without oil",
            "priming by the starter is already spinning: `matchmark gate spin` comes first, then plugs out until a gauge moves, then `read oil pressure: …`",
        ));
    }
    wanted.found.extend(trapped_air(state));
    let overheat = |text: &str| {
        let text = text.to_lowercase();
        ["overheat", "boiled over", "ran hot"]
            .iter()
            .any(|word| text.contains(word))
    };
    let happened = state.notes.iter().any(|(_, _, text)| overheat(text));
    let in_book = state
        .known
        .checks
        .iter()
        .any(|check| overheat(check.id.as_str()) && state.applies(&check.when));
    let cause = state.causes.iter().rev().find(|(_, of, _)| overheat(of));
    match cause {
        Some((entry, _, found)) if found.to_lowercase().contains("not found") => {
            wanted.found.push(
                Finding::new(
                    "cause-not-found",
                    "overheating",
                    format!("entry {entry} marks the cause as not found"),
                )
                .points_to("whatever it was is still there; a new gasket is not a cause")
                .next("watch level and temperature over three warm-ups, stay near home, do not tow")
                .weight(Weight::Look),
            );
        }
        // A check of the book for it stands in the list already.
        Some(_) => {}
        None if happened && !in_book => wanted.found.push(stop(
            "overheating-cause",
            "overheating",
            "it overheated, and the record names no cause",
            "a new gasket is not a cause: the same thing will happen again",
            "write `cause overheating: …`, or `cause overheating: not found` when you looked",
        )),
        None => {}
    }
}

/// Coolant that came out and did not go back in is air until shown otherwise.
fn trapped_air(state: &State) -> Option<Finding> {
    let (id, _) = state.circuits.iter().find(|(id, held)| {
        id.as_str().contains("coolant") && !held.filled.is_empty() && held.is_short()
    })?;
    Some(
        Finding::new(
            "trapped-air",
            id.to_string(),
            format!("{id}: less went in than came out"),
        )
        .points_to("trapped air, until shown otherwise")
        .next("bleed at the high points, heater on hot, and write every further `fill`")
        .weight(Weight::Look),
    )
}

fn drive(state: &State, wanted: &mut Wanted) {
    let filled = state
        .circuits
        .iter()
        .filter(|(id, _)| id.as_str().contains("oil"))
        .flat_map(|(_, held)| held.drained.iter().map(|(entry, _)| *entry))
        .max();
    let seen = |since: EntryId| {
        state
            .readings
            .iter()
            .any(|(entry, found)| *entry > since && is_oil_pressure(&found.of))
    };
    if let Some(since) = filled.filter(|since| !seen(*since)) {
        wanted.found.push(stop(
            "no-oil-pressure",
            "oil pressure",
            &format!("oil was out (entry {since}), and no pressure was read since"),
            "bearings last seconds without it",
            "read it warm at idle, then write `read oil pressure: …`",
        ));
    }
    wanted.asks.push(Ask::new(
        "no drips, brakes firm, level right after a cold night",
        "only you can see it.",
        "Walk round it cold before the first drive.",
    ));
}

/// Whether the starter has turned the engine since it was last closed: a pressure says so.
fn spun(state: &State) -> bool {
    let since = opened_to_liquid(state).unwrap_or_default();
    state.readings.iter().any(|(entry, found)| {
        *entry > since
            && (is_oil_pressure(&found.of) || found.of.to_lowercase().contains("cranking"))
    }) && opened_to_liquid(state).is_some()
}

fn is_oil_pressure(name: &str) -> bool {
    name.to_lowercase()
        .replace('-', " ")
        .contains("oil pressure")
}

/// The entry that brought the last of the heads that were off back on; `None` where none was.
fn head_back(state: &State) -> Option<EntryId> {
    heads(state)
        .filter_map(|head| state.parts.get(&head.id))
        .filter(|held| held.was_off)
        .map(|held| held.since)
        .max()
}

/// Whether oil pressure was read after an entry. A note would do as well for *no pressure yet*.
fn oil_seen(state: &State, since: EntryId) -> bool {
    state
        .readings
        .iter()
        .any(|(entry, found)| *entry > since && is_oil_pressure(&found.of))
}

/// The entry since which liquid may stand above a piston: the head's way back, or the coolant
/// filled after it. `None` where no head was off.
fn opened_to_liquid(state: &State) -> Option<EntryId> {
    let head = head_back(state)?;
    let coolant = state
        .circuits
        .iter()
        .filter(|(id, _)| id.as_str().contains("coolant"))
        .filter_map(|(_, held)| held.filled.first().map(|(entry, _)| *entry))
        .max();
    Some(coolant.map_or(head, |filled| filled.max(head)))
}

/// Cylinder heads, by what they are called.
pub(crate) fn heads(state: &State) -> impl Iterator<Item = &Part> {
    state.known.parts.iter().filter(|part| {
        let id = part.id.as_str();
        let label = part.label.as_deref().unwrap_or_default().to_lowercase();
        id == "head" || id.ends_with("-head") || label.contains("cylinder head")
    })
}

/// Parts that close a combustion chamber with plugs.
fn plugs(state: &State) -> impl Iterator<Item = &Part> {
    state.known.parts.iter().filter(|part| {
        state.known.joints_of(&part.id).any(|joint| {
            joint.holes.iter().any(|hole| {
                hole.opens_to
                    .known()
                    .is_some_and(|opens| opens.word() == "chamber")
                    && hole.holds == Holds::Plug
            })
        })
    })
}

/// Whether a check or a note after an entry says one of the words.
pub(crate) fn said(state: &State, since: EntryId, words: &[&str]) -> bool {
    let tells = |text: &str| {
        let text = text.to_lowercase().replace('-', " ");
        words.iter().any(|word| text.contains(word))
    };
    let noted = state.notes.iter().any(|(entry, about, text)| {
        *entry > since && (tells(text) || about.as_deref().is_some_and(tells))
    });
    let checked = state.checks.iter().any(|(check, (entry, seen))| {
        *entry > since && (tells(check.as_str()) || seen.as_deref().is_some_and(tells))
    });
    noted || checked
}

pub(super) fn stop(
    code: &'static str,
    concerns: &str,
    says: &str,
    why: &str,
    next: &str,
) -> Finding {
    Finding::new(code, concerns, says)
        .points_to(why)
        .next(next)
        .weight(Weight::Stop)
}

#[cfg(test)]
mod tests {
    use book::Book;
    use job::{ClientId, Entry};

    use super::*;

    /// Invented: a head on a block, nothing else.
    const BOOK: &str = r#"
book "Test" invented=#true
part block zone=bench fixed=#true
part head "Cylinder head" zone=bench {
    joint head-bolts to=block critical=head {
        holes A..D thread=M10 length="90 mm"
    }
}
"#;

    fn against(lines: &[&str]) -> Vec<&'static str> {
        against_gate("before-head-on", lines)
    }

    fn against_gate(gate: &str, lines: &[&str]) -> Vec<&'static str> {
        let (book, faults): (Book, _) = book::read(BOOK);
        assert!(faults.is_empty(), "{faults:?}");
        let entries: Vec<Entry> = (1..)
            .zip(lines)
            .map(|(number, line)| Entry {
                id: EntryId(number),
                client: ClientId(number.to_string()),
                author: "ana".to_owned(),
                at: 0,
                line: (*line).to_owned(),
                act: job::line::read_line(line).unwrap_or_else(|fault| panic!("{fault}")),
            })
            .collect();
        let state = job::replay(Some(&book), &entries);
        let wanted = wanted(&state, gate, false);
        wanted.found.iter().map(|finding| finding.code).collect()
    }

    /// Source: trap 60, *common practice, no source*: the pump is dry after a rebuild, and the
    /// engine runs for seconds without pressure.
    #[test]
    fn it_does_not_fire_before_oil_pressure_was_seen() {
        let dry = |lines: &[&str]| against_gate("fire", lines).contains(&"no-oil-pressure-yet");
        let closed = ["off head: 4 bolts M10x90, bag 1", "on head: 4 bolts M10x90"];
        assert!(!dry(&[]), "nobody opened it");
        assert!(dry(&closed));
        let before = [&["read oil pressure: 2 bar"][..], &closed].concat();
        assert!(dry(&before), "read before it was opened");
        let seen = [&closed[..], &["read oil pressure: 2 bar, spinning"]].concat();
        assert!(!dry(&seen));
        let spun = [&closed[..], &["read cranking dry: 170 172 psi"]].concat();
        assert!(
            dry(&spun),
            "it turned, and no gauge of the oil was looked at"
        );
    }

    /// One face blank keeps the gate shut, whichever of the two it is.
    #[test]
    fn a_head_goes_on_only_with_both_faces_measured() {
        let off = "off head: 4 bolts M10x90, bag 1";
        let (head, block) = (
            "read head flatness: 0.03 mm",
            "read block flatness: 0.02 mm",
        );
        let blank = |lines: &[&str]| against(lines).contains(&"faces-not-measured");
        assert!(blank(&[off]));
        assert!(blank(&[off, head]), "the block is blank");
        assert!(blank(&[off, block]), "the head is blank");
        assert!(!blank(&[off, head, block]));
        assert!(
            blank(&[head, block, off]),
            "readings from before do not count"
        );
    }
}
