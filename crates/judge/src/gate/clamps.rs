//! Clamps of hose ends that were off in this job: whether anybody felt them since.

use book::{Clamp, LineKind};
use job::{EntryId, State};
use report::{Finding, Weight};

/// Hose ends that went back on and of whose clamps no entry speaks since. A hose that is on
/// and not clamped holds until the first hill.
pub(super) fn not_felt(state: &State) -> Option<Finding> {
    let mut ends = Vec::new();
    let mut last = EntryId(0);
    for (id, held) in &state.lines {
        let Some(line) = state.known.line(id) else {
            continue;
        };
        if !matches!(line.kind, LineKind::Hose | LineKind::Pipe) || !state.applies(&line.when) {
            continue;
        }
        for (end, side) in ["from", "to"].into_iter().enumerate() {
            let clamped = !matches!(
                line.ends[end].clamp.known(),
                Some(Clamp::Quick | Clamp::Push | Clamp::Crimped)
            );
            if held[end].since.0 > 0 && !held[end].off && clamped {
                ends.push(format!("{id}.{side}"));
                last = last.max(held[end].since);
            }
        }
    }
    if ends.is_empty() || felt(state, last) {
        return None;
    }
    let shown = match ends.len() {
        0..=4 => ends.join(", "),
        more => format!("{} and {} more", ends[..4].join(", "), more - 4),
    };
    Some(
        Finding::new(
            "clamps-not-felt",
            shown,
            format!("{} went back on, and no entry says its clamp was felt", counted(ends.len())),
        )
        .points_to("a hose that blows off on the first outing takes the coolant or the oil with it")
        .next("pull at each and feel its clamp, cold and once more warm; then `note clamps: all tight`")
        .weight(Weight::Look),
    )
}

fn counted(ends: usize) -> String {
    match ends {
        1 => "one hose end".to_owned(),
        many => format!("{many} hose ends"),
    }
}

/// A note or check about the clamps after the last of them went on.
fn felt(state: &State, since: EntryId) -> bool {
    let tells = |text: &str| text.to_lowercase().contains("clamp");
    let noted = state.notes.iter().any(|(entry, about, text)| {
        *entry > since && (tells(text) || about.as_deref().is_some_and(tells))
    });
    let checked = state
        .checks
        .iter()
        .any(|(check, (entry, _))| *entry > since && tells(check.as_str()));
    noted || checked
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::{ClientId, Entry};

    fn found(lines: &[&str]) -> Option<Finding> {
        let text = "part a { port x medium=coolant; }\npart b { port y medium=coolant; }\nhose feed medium=coolant clamp=worm from=a.x to=b.y\n";
        let (book, faults) = book::read(text);
        assert!(
            faults.is_empty(),
            "{}",
            book::show_faults(&faults, "test.kdl", text)
        );
        let entry = |(line, number): (&&str, u64)| Entry {
            id: EntryId(number),
            client: ClientId(number.to_string()),
            author: "me".to_owned(),
            at: 0,
            line: (*line).to_owned(),
            act: job::line::read_line(line).unwrap(),
        };
        let entries: Vec<Entry> = lines.iter().zip(1..).map(entry).collect();
        not_felt(&job::replay(Some(&book), &entries))
    }

    /// Source: trap 64, *common practice, no source*: a hose blows off on the first outing.
    #[test]
    fn a_hose_that_was_off_wants_its_clamps_felt_before_driving() {
        assert!(found(&[]).is_none(), "nobody touched it");
        assert!(found(&["off feed"]).is_none(), "off is the ledger's word");
        let bare = found(&["off feed", "on feed"]).unwrap();
        assert_eq!(bare.concerns, "feed.from, feed.to");
        assert!(found(&["off feed", "on feed", "note clamps: all tight"]).is_none());
        let early = ["note clamps: all tight", "off feed.to", "on feed.to"];
        assert_eq!(found(&early).unwrap().concerns, "feed.to");
    }
}
