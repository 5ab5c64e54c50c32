//! The way home of the starter current: from engine to battery, over straps that are on and
//! metal that is bolted together.

use std::collections::BTreeSet;

use book::{LineKind, Medium, Part, PartId};
use job::{State, Where};
use report::{Finding, Weight};

/// What is missing, where the book names battery, starter and ground straps and no way home is
/// left. A book without them says nothing, and so does this.
pub(super) fn no_return(state: &State) -> Option<Finding> {
    let book = &state.known;
    let battery = book
        .parts
        .iter()
        .find(|part| named(part, "battery") && carries(part, &Medium::Ground))?;
    let starter = book.parts.iter().find(|part| named(part, "starter"))?;
    let straps: Vec<_> = book
        .lines
        .iter()
        .filter(|line| is_heavy(state, line))
        .collect();
    // Without any strap in the book there is nothing to judge.
    straps.first()?;
    let mut reached: BTreeSet<&PartId> = BTreeSet::from([&battery.id]);
    loop {
        let before = reached.len();
        for line in &straps {
            let held = state.lines.get(&line.id);
            if held.is_some_and(|ends| ends.iter().any(|end| end.off)) {
                continue;
            }
            join(
                &mut reached,
                [&line.ends[0].port.id.part, &line.ends[1].port.id.part],
            );
        }
        for joint in &book.joints {
            let rubber = ["mount", "bush"].iter().any(|word| {
                joint.of.as_str().contains(word) || joint.to.id.as_str().contains(word)
            });
            let off = state.whereabouts(&joint.of) == Where::Off;
            if !rubber && !off && !on_body(book.part(&joint.of), book.part(&joint.to.id)) {
                join(&mut reached, [&joint.of, &joint.to.id]);
            }
        }
        if reached.len() == before {
            break;
        }
    }
    if reached.contains(&starter.id)
        || book
            .joints_of(&starter.id)
            .any(|joint| reached.contains(&joint.to.id))
    {
        return None;
    }
    let off: Vec<&str> = straps
        .iter()
        .filter(|line| {
            state
                .lines
                .get(&line.id)
                .is_some_and(|ends| ends.iter().any(|end| end.off))
        })
        .map(|line| line.id.as_str())
        .collect();
    let says = if off.is_empty() {
        "no ground strap of the book leads from the engine back to the battery".to_owned()
    } else {
        format!(
            "no way back to the battery for the starter current; off: {}",
            off.join(", ")
        )
    };
    let finding = Finding::new("no-ground-return", "ground", says)
        .points_to("the current looks for a thinner way: a cable, a bearing, the dash")
        .next("put the straps on bare metal and log them on before the battery is connected");
    Some(finding.weight(Weight::Stop))
}

/// The battery step: its last lead went back on between two states, and no way home is there
/// for the starter current.
#[must_use]
pub fn battery_step(before: &State, after: &State) -> Option<Finding> {
    let battery = after
        .known
        .parts
        .iter()
        .find(|part| named(part, "battery"))?;
    let off = |state: &State| {
        let leads = after.known.lines.iter().flat_map(|line| {
            let ends = line.ends.iter().enumerate();
            ends.filter(|(_, end)| end.port.id.part == battery.id)
                .map(move |(end, _)| (&line.id, end))
        });
        leads
            .filter(|(line, end)| state.lines.get(*line).is_some_and(|ends| ends[*end].off))
            .count()
    };
    if off(before) == 0 || off(after) > 0 {
        return None;
    }
    let missing = no_return(after)?;
    Some(Finding {
        concerns: "battery".to_owned(),
        weight: Weight::Look,
        next: Some(
            "take its earth lead off again, put the straps on bare metal and log them on first"
                .to_owned(),
        ),
        ..missing
    })
}

fn named(part: &Part, word: &str) -> bool {
    part.id.as_str() == word
        || part
            .label
            .as_deref()
            .is_some_and(|label| label.to_lowercase() == word)
}

fn carries(part: &Part, medium: &Medium) -> bool {
    part.ports
        .iter()
        .any(|port| port.medium.known() == Some(medium))
}

/// A strap or cable on the ground side; the thin ones of a loom carry no starter current.
fn is_heavy(state: &State, line: &book::Line) -> bool {
    let port = |end: usize| {
        state
            .known
            .port(&line.ends[end].port.id)
            .and_then(|port| port.medium.known())
    };
    let ground = line.medium.known().or_else(|| port(0)) == Some(&Medium::Ground)
        || line.kind == LineKind::Ground;
    let loom = line
        .ends
        .iter()
        .any(|end| end.port.id.part.as_str().contains("loom"));
    matches!(line.kind, LineKind::Ground | LineKind::Cable) && ground && !loom
}

/// The engine stands on rubber: bolts between it and the body are not counted on.
fn on_body(one: Option<&Part>, other: Option<&Part>) -> bool {
    [one, other]
        .into_iter()
        .flatten()
        .any(|part| part.id.as_str().contains("body"))
}

fn join<'b>(reached: &mut BTreeSet<&'b PartId>, ends: [&'b PartId; 2]) {
    if ends.iter().any(|part| reached.contains(part)) {
        reached.extend(ends);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::{ClientId, Entry, EntryId};

    const BOOK: &str = r#"
part body fixed=#true {
    port earth medium=ground
    port battery-earth medium=ground
}
part block fixed=#true { port earth medium=ground; }
part battery {
    port negative medium=ground
    port positive medium=power
}
part starter {
    port main medium=power
    joint starter-bolts to=block { holes A B; }
}
part loom { port earth medium=ground; }
ground battery-earth medium=ground from=battery.negative to=body.battery-earth
ground engine-earth medium=ground from=body.earth to=block.earth
cable starter-cable medium=power from=battery.positive to=starter.main
"#;

    fn found(lines: &[&str]) -> Option<Finding> {
        no_return(&state(lines))
    }

    fn state(lines: &[&str]) -> State {
        let (book, faults) = book::read(BOOK);
        assert!(faults.is_empty(), "{faults:?}");
        let entry = |(line, number): (&&str, u64)| Entry {
            id: EntryId(number),
            client: ClientId(number.to_string()),
            author: "me".to_owned(),
            at: 0,
            line: (*line).to_owned(),
            act: job::line::read_line(line).unwrap(),
        };
        let entries: Vec<Entry> = lines.iter().zip(1..).map(entry).collect();
        job::replay(Some(&book), &entries)
    }

    /// Source: trap 56, *common practice, no source*: the engine's strap left off, and the dash
    /// dies on cranking. It is said as the battery goes on, not only when the starter turns.
    #[test]
    fn the_battery_goes_on_after_the_way_home_is_there() {
        let step = |lines: &[&str]| {
            let (_, before) = lines.split_last().unwrap();
            battery_step(&state(before), &state(lines))
        };
        let apart = ["off battery-earth.from", "off engine-earth.to"];
        let early = step(&[apart[0], apart[1], "on battery-earth.from"]).unwrap();
        assert_eq!(
            (early.code, early.concerns.as_str()),
            ("no-ground-return", "battery")
        );
        let right = [
            apart[0],
            apart[1],
            "on engine-earth.to",
            "on battery-earth.from",
        ];
        assert_eq!(step(&right), None);
        assert_eq!(step(&right[..3]), None, "the battery is still off");
        assert_eq!(step(&["off engine-earth.to"]), None);
    }

    #[test]
    fn the_engine_strap_left_off_leaves_no_way_home() {
        assert_eq!(found(&[]), None);
        let finding = found(&["off engine-earth.to"]).unwrap();
        assert_eq!(finding.code, "no-ground-return");
        assert!(finding.says.contains("engine-earth"));
        assert_eq!(found(&["off engine-earth.to", "on engine-earth.to"]), None);
    }

    #[test]
    fn the_supply_cable_is_no_way_home_and_a_book_without_straps_says_nothing() {
        assert_eq!(found(&["off starter-cable.to"]), None);
        let (book, _) = book::read("part battery { port negative medium=ground; }\npart starter\n");
        assert_eq!(no_return(&job::replay(Some(&book), &[])), None);
    }
}
