//! Reads a standing off a replayed job.

use book::{GateId, HoleRef, Joint, VariantId};
use job::{EndState, JointState, State, Where};

use super::Standing;

impl From<&State> for Standing {
    fn from(state: &State) -> Self {
        let known = &state.known;
        let off = |wanted: Where| {
            let mine = state
                .parts
                .iter()
                .filter(move |(_, held)| held.state == wanted);
            mine.map(|(part, _)| part.clone()).collect()
        };
        let choices = state.choices.iter();
        let mut standing = Self {
            choices: choices
                .map(|(id, (_, value))| (VariantId::new(id.clone()), value.clone()))
                .collect(),
            off: off(Where::Off),
            aside: off(Where::Aside),
            loosened: off(Where::Loosened),
            checks: state.checks.keys().cloned().collect(),
            gates: state
                .passed
                .keys()
                .map(|gate| GateId::new(gate.clone()))
                .collect(),
            ..Self::default()
        };
        for (line, ends) in &state.lines {
            let off = |(_, end): &(usize, &EndState)| end.off;
            let ends = ends.iter().enumerate().filter(off);
            standing
                .ends_off
                .extend(ends.map(|(end, _)| (line.clone(), end)));
        }
        for (id, held) in &state.joints {
            if let Some(joint) = known.joint(id) {
                standing.read_joint(joint, held);
            }
        }
        let dry = state.circuits.iter().filter(|(_, held)| held.is_short());
        standing.drained = dry.map(|(circuit, _)| circuit.clone()).collect();
        for item in &known.temporaries {
            let label = item.label.as_deref().unwrap_or_default();
            let mut inside = state.temporaries.iter().map(|held| &held.item.name);
            if inside
                .any(|name| job::same_name(name, item.id.as_str()) || job::same_name(name, label))
            {
                standing.temporaries_in.insert(item.id.clone());
            }
        }
        for limit in &known.limits {
            let label = limit.label.as_deref().unwrap_or_default();
            let mut read = state.readings.iter().map(|(_, measured)| &measured.of);
            if read.any(|of| job::same_name(of, limit.id.as_str()) || job::same_name(of, label)) {
                standing.readings.insert(limit.id.clone());
            }
        }
        // Whatever the gate before opening asks for comes too late once something was opened.
        let opened = state.parts.values().any(|held| held.was_off)
            || state.joints.values().any(|held| held.was_open);
        if opened {
            standing.gates.insert(GateId::from("before-opening"));
        }
        if crank_parked(state) {
            let shafts = known.shafts.iter();
            let cranks = shafts.filter(|shaft| shaft.kind == book::ShaftKind::Crank);
            standing.parked = cranks.map(|shaft| shaft.id.clone()).collect();
        }
        standing
    }
}

impl Standing {
    /// The holes and seals of one joint that was touched.
    fn read_joint(&mut self, joint: &Joint, held: &JointState) {
        for hole in &joint.holes {
            let state = held.holes.get(&hole.name);
            let reached = match state {
                _ if held.open => Some(0),
                Some(state) if state.empty || state.loosened => Some(0),
                // Without stages in the book a fastener that went back is done.
                Some(state) => Some(state.stage().max(u32::from(!has_stages(joint, &hole.name)))),
                None => None,
            };
            if let Some(reached) = reached {
                let name = HoleRef {
                    joint: joint.id.clone(),
                    hole: hole.name.clone(),
                };
                self.opened.insert(name, reached);
            }
        }
        if !held.was_open && !held.open {
            return;
        }
        let put = |seal: &book::Seal| {
            if held.open {
                return 0;
            }
            if seal.new.known() != Some(&true) {
                // The record counts new seals; one that may be used again went back with the part.
                return seal.count;
            }
            held.new_seals(joint, seal)
        };
        self.seals
            .insert(joint.id.clone(), joint.seals.iter().map(put).collect());
    }
}

/// Subjects of a note, or names of a check, that say where the crank stands.
const PARKED: [&str; 3] = ["crank parked", "pistons parked", "parked"];

/// Subjects of a note that take it back.
const TURNED: [&str; 2] = ["crank turned", "turned"];

/// Gates behind which the crank turns.
const TURNS: [&str; 3] = ["turn-by-hand", "spin", "fire"];

/// Whether the last word of the record on the crank is that somebody looked and it stands where
/// the book parks it. A note must be about that very thing (`note crank parked: …`): a word in
/// passing is no answer to a question on which valves hang, and a doubt is a no.
fn crank_parked(state: &State) -> bool {
    let about = |name: &str, subjects: &[&str]| {
        subjects.iter().any(|subject| job::same_name(name, subject))
    };
    let sure = |text: &str| {
        let first = text.split_whitespace().next();
        let first = first
            .unwrap_or_default()
            .trim_end_matches([',', '.'])
            .to_lowercase();
        !["no", "not", "never", "unsure"].contains(&first.as_str()) && !text.contains('?')
    };
    // Words before a colon that name nothing of the book stay in the text.
    let notes = || {
        state.notes.iter().filter_map(|(entry, of, text)| {
            let (of, text) = match of {
                Some(of) => (of.as_str(), text.as_str()),
                None => text.split_once(':')?,
            };
            Some((*entry, of, text))
        })
    };
    let noted = notes().filter(|(_, of, _)| about(of, &PARKED));
    let checked = state
        .checks
        .iter()
        .filter(|(check, _)| about(check.as_str(), &PARKED));
    let parked = noted
        .map(|(entry, _, text)| (entry, sure(text)))
        .chain(checked.map(|(_, (entry, seen))| (*entry, seen.as_deref().is_none_or(sure))))
        .max_by_key(|&(entry, _)| entry);
    let turned = notes().filter(|(_, of, _)| about(of, &TURNED));
    let passed = TURNS.iter().filter_map(|gate| state.passed.get(*gate));
    let moved = turned
        .map(|(entry, ..)| entry)
        .chain(passed.map(|(entry, _)| *entry))
        .max();
    parked.is_some_and(|(entry, sure)| sure && moved.is_none_or(|moved| moved < entry))
}

/// Whether the book has stages for a hole.
fn has_stages(joint: &Joint, hole: &book::HoleName) -> bool {
    let entry = joint.tighten_of(hole).map(|entry| &entry.stages);
    matches!(entry, Some(book::Stages::Known(_)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use book::PartId;
    use job::{ClientId, Entry, EntryId};

    const BOOK: &str = r#"
book "Invented" invented=#true
circuit coolant capacity="8 L"
part block fixed=#true
part head off="1 h" on="2 h" {
    port out medium=coolant
    joint head-bolts to=block {
        holes h1..h3 thread=M10 length="100 mm"
        tighten "20 N·m" "40 N·m" source=invented
        seal "head gasket" new=#true
    }
}
part pump off="1 h" on="1 h" {
    port in medium=coolant
    joint pump-bolts to=block {
        hole A
    }
}
hose feed medium=coolant {
    from head.out
    to pump.in
}
limit head-flat of=head max="0.05 mm" source=invented
check looked of=head before=head
temporary wedge "Wood wedge" in=block out-before=head
"#;

    fn standing(lines: &[&str]) -> Standing {
        let (book, faults) = book::read(BOOK);
        assert!(faults.is_empty(), "{faults:?}");
        Standing::from(&job::replay(Some(&book), &entries(lines)))
    }

    fn entries(lines: &[&str]) -> Vec<Entry> {
        let entry = |(line, number): (&&str, u64)| Entry {
            id: EntryId(number),
            client: ClientId(number.to_string()),
            author: "me".to_owned(),
            at: 0,
            line: (*line).to_owned(),
            act: job::line::read_line(line).unwrap(),
        };
        lines.iter().zip(1..).map(entry).collect()
    }

    fn reached(standing: &Standing) -> Vec<u32> {
        standing.opened.values().copied().collect()
    }

    #[test]
    fn an_untouched_job_has_nothing_open() {
        assert_eq!(standing(&[]), Standing::default());
    }

    #[test]
    fn a_head_taken_off_leaves_its_holes_open_and_the_gate_behind() {
        let standing = standing(&["drain coolant 5 L", "off feed.from", "off head"]);
        assert!(standing.off.contains(&PartId::from("head")));
        assert_eq!(reached(&standing), [0, 0, 0]);
        assert_eq!(standing.ends_off.len(), 1);
        assert_eq!(standing.drained.len(), 1);
        assert!(standing.gates.contains(&GateId::from("before-opening")));
    }

    #[test]
    fn a_head_put_back_is_done_only_at_its_last_stage() {
        let off = ["drain coolant", "off head", "on head"];
        let mut lines = off.to_vec();
        assert_eq!(reached(&standing(&lines)), [0, 0, 0]);
        lines.push("tight head stage 1");
        assert_eq!(reached(&standing(&lines)), [1, 1, 1]);
        lines.push("tight head stage 2");
        assert_eq!(reached(&standing(&lines)), [2, 2, 2]);
    }

    #[test]
    fn a_crank_is_parked_when_the_record_says_so_last() {
        let parked = |lines: &[&str]| {
            let text = format!("{BOOK}\nshaft crank kind=crank sits-in=block\n");
            let (book, faults) = book::read(&text);
            assert!(faults.is_empty(), "{faults:?}");
            let state = job::replay(Some(&book), &entries(lines));
            !Standing::from(&state).parked.is_empty()
        };
        assert!(parked(&[
            "note crank parked: 60° before top, looked at the mark"
        ]));
        assert!(parked(&["note pistons parked: by the mark"]));
        assert!(!parked(&["note crank: is it parked?"]));
        assert!(!parked(&["note crank parked: not yet"]));
        let said = "note crank parked: by the mark";
        assert!(!parked(&[said, "note crank turned: a quarter turn"]));
        assert!(!parked(&[said, "note crank parked: not any more"]));
        assert!(parked(&[said, "note crank turned: once round", said]));
    }

    #[test]
    fn readings_checks_and_what_was_put_in_are_known_by_name() {
        let standing = standing(&[
            "read head flat: 0.03 mm",
            "check looked",
            "in case: 1 wood wedge",
        ]);
        assert_eq!(
            (
                standing.readings.len(),
                standing.checks.len(),
                standing.temporaries_in.len()
            ),
            (1, 1, 1)
        );
    }
}
