//! Joints the book wants tightened once more before the vehicle is driven hard.

use book::Joint;
use job::{EntryId, HoleState, JointState, State};
use report::{Finding, Weight};

/// Joints opened in this job that were not tightened again. What is due after warm-ups alone
/// is done in the yard and keeps the gate shut; what is due after a distance cannot be, and is
/// only said.
pub(super) fn not_tightened_again(state: &State) -> Vec<Finding> {
    let joints = state
        .known
        .joints
        .iter()
        .filter(|joint| joint.retighten.is_some() && state.applies(&joint.when));
    joints.filter_map(|joint| finding(state, joint)).collect()
}

fn finding(state: &State, joint: &Joint) -> Option<Finding> {
    let again = joint.retighten.as_ref()?;
    let held = state.joints.get(&joint.id).filter(|held| held.was_open)?;
    if held.open || is_done(state, joint, held) {
        return None;
    }
    let label = state.joint_label(&joint.id);
    let cold = match again.cold.known() {
        Some(true) => ", cold",
        Some(false) => ", warm",
        None => "",
    };
    let warm_ups = again.warm_ups.known().map(|count| match count {
        1 => "after 1 warm-up".to_owned(),
        count => format!("after {count} warm-ups"),
    });
    let (code, when, weight) = match (warm_ups, again.after.typed()) {
        (Some(warm_ups), _) => ("not-tightened-again", warm_ups, Weight::Stop),
        (None, Some(after)) => (
            "tighten-again-later",
            format!("after {after}"),
            Weight::Look,
        ),
        (None, None) => (
            "not-tightened-again",
            "before hard driving".to_owned(),
            Weight::Stop,
        ),
    };
    let says = format!("{label}: the book has it tightened again {when}{cold}");
    Some(
        Finding::new(code, joint.id.to_string(), says)
            .points_to("driven hard before it, the gasket goes on the first trip")
            .next(format!(
                "tighten it as the book says and write `tight {} all …` once more",
                joint.id
            ))
            .weight(weight),
    )
}

/// Whether every bolt has had its last stage twice, or an entry since says that it was done.
fn is_done(state: &State, joint: &Joint, held: &JointState) -> bool {
    let stages = |hole: &book::HoleName| match joint.tighten_of(hole).map(|it| &it.stages) {
        Some(book::Stages::Known(stages)) => u32::try_from(stages.len()).unwrap_or(u32::MAX),
        Some(book::Stages::Unknown | book::Stages::DoesNotApply) | None => 1,
    };
    let twice = |name: &book::HoleName, hole: &HoleState| {
        let last = stages(name);
        let times = hole.tightened.iter().filter(|done| done.stage >= last);
        times.count() >= 2
    };
    let mut filled = held.holes.iter().filter(|(_, hole)| !hole.empty).peekable();
    let some = filled.peek().is_some();
    if some && filled.all(|(name, hole)| twice(name, hole)) {
        return true;
    }
    let first_done = held
        .holes
        .values()
        .filter_map(|hole| hole.tightened.first())
        .map(|done| done.entry)
        .max()
        .unwrap_or(EntryId(u64::MAX));
    said_again(state, joint, first_done)
}

/// A check or note after the tightening that says it was done once more.
fn said_again(state: &State, joint: &Joint, since: EntryId) -> bool {
    let tells = |text: &str| {
        let text = text.to_lowercase().replace('-', " ");
        text.contains("retighten") || text.contains("tightened again")
    };
    let label = state.joint_label(&joint.id);
    let mine = |name: &str| job::same_name(name, joint.id.as_str()) || job::same_name(name, &label);
    let noted = state.notes.iter().any(|(entry, about, text)| {
        *entry > since && tells(text) && about.as_deref().is_some_and(mine)
    });
    let checked = state.checks.iter().any(|(id, (entry, _))| {
        let of = state.known.check(id).and_then(|check| check.of.as_ref());
        let here = match of.map(|of| &of.id) {
            Some(book::Ref::Joint(of)) => *of == joint.id,
            Some(book::Ref::Part(of)) => *of == joint.of,
            Some(_) | None => false,
        };
        *entry > since && here && tells(id.as_str())
    });
    noted || checked
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::{ClientId, Entry};

    const BOOK: &str = r#"
part block fixed=#true
part head {
    joint head-bolts to=block critical=head {
        holes A..D thread=M10x1.5 length="100 mm"
        tighten "20 N·m" "40 N·m" source=invented
        retighten RULE source=invented
    }
}
"#;

    fn codes(rule: &str, more: &[&str]) -> Vec<(&'static str, Weight)> {
        let text = BOOK.replace("RULE", rule);
        let (book, faults) = book::read(&text);
        assert!(
            faults.is_empty(),
            "{}",
            book::show_faults(&faults, "test.kdl", &text)
        );
        let lines = [
            "off head",
            "on head",
            "tight head stage 1",
            "tight head stage 2",
        ];
        let entry = |(line, number): (&&str, u64)| Entry {
            id: EntryId(number),
            client: ClientId(number.to_string()),
            author: "me".to_owned(),
            at: 0,
            line: (*line).to_owned(),
            act: job::line::read_line(line).unwrap(),
        };
        let entries: Vec<Entry> = lines.iter().chain(more).zip(1..).map(entry).collect();
        let state = job::replay(Some(&book), &entries);
        not_tightened_again(&state)
            .into_iter()
            .map(|finding| (finding.code, finding.weight))
            .collect()
    }

    /// Source: trap 63, *common practice, no source*: a new gasket driven hard before it was
    /// tightened again.
    #[test]
    fn driving_waits_for_the_retightening_that_can_be_done_in_the_yard() {
        let rule = "warm-ups=1 cold=#true";
        assert_eq!(codes(rule, &[]), [("not-tightened-again", Weight::Stop)]);
        assert!(codes(rule, &["tight head all stage 2"]).is_empty());
        assert!(codes(rule, &["note head: retightened cold, half a flat"]).is_empty());
        // Opened once more, it begins again.
        let again = [
            "tight head all stage 2",
            "off head",
            "on head",
            "tight head stage 1",
            "tight head stage 2",
        ];
        assert_eq!(codes(rule, &again).len(), 1);
    }

    #[test]
    fn what_is_due_after_a_distance_is_said_and_shuts_nothing() {
        assert_eq!(
            codes("after=\"500 km\"", &[]),
            [("tighten-again-later", Weight::Look)]
        );
    }
}
