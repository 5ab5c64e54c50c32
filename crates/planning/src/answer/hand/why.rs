//! Why an act comes now: the strongest of the reasons for which others wait for it.

use job::plan::{Because, Step, StepAct};

use super::Question;
use crate::answer::target_name;

/// The reason in a short line.
pub(super) fn why(asked: &Question<'_>, step: &Step) -> String {
    let waits = asked.plan.steps.iter().flat_map(|other| {
        let own = other.waits.iter().filter(|wait| wait.first == step.name);
        own.map(move |wait| (other, &wait.because))
    });
    let strongest = waits
        .filter(|(_, because)| rank(because) < u8::MAX)
        .min_by_key(|(_, because)| rank(because));
    match strongest {
        Some((other, because)) => words(asked, step, other, because),
        None => "nothing waits for it; here it costs the least walking".to_owned(),
    }
}

/// Lower is stronger: what is lost for good comes before what is merely in the way.
const fn rank(because: &Because) -> u8 {
    match because {
        Because::Rule(..) => 0,
        Because::Gate(_) => 1,
        Because::NotTurned | Because::CheckFirst => 2,
        Because::BeforeOneUse | Because::Wet | Because::Temporary => 3,
        Because::Covers | Because::InTheWay => 4,
        Because::MountedOn => 5,
        Because::Connected | Because::Fastened => 6,
        Because::Whole => 7,
        Because::RecordReversed => 8,
        Because::ApartFirst => u8::MAX,
    }
}

fn words(asked: &Question<'_>, step: &Step, other: &Step, because: &Because) -> String {
    let name = target_name(&asked.job.graph, &other.name.target);
    let loosens = matches!(step.name.act, StepAct::Undo | StepAct::Off);
    match because {
        Because::Rule(_, reason) => format!("before {name}: {reason}"),
        Because::Gate(gate) => format!("gate {gate} asks for it"),
        Because::NotTurned => format!("before {name}: nothing may be turned until then"),
        Because::CheckFirst => format!("{name} hides it"),
        Because::BeforeOneUse => format!("free to look at before {name}, which is used once"),
        Because::Wet => format!("before {name}: fluid would run out"),
        Because::Temporary => format!("it belongs there before {name}"),
        Because::Covers => format!("{name} goes over it"),
        Because::InTheWay => format!("it is in the way of {name}"),
        Because::MountedOn if loosens => format!("it is fastened onto {name}"),
        Because::MountedOn => format!("{name} is fastened onto it"),
        Because::Connected if loosens => format!("it still holds on to {name}"),
        Because::Fastened if loosens => format!("it holds {name}"),
        Because::Connected | Because::Fastened => format!("{name} comes after it"),
        Because::Whole => format!("{name} waits until all is closed"),
        Because::RecordReversed => format!("{name} came off before it (record, not book)"),
        Because::ApartFirst => String::new(),
    }
}
