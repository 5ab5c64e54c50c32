//! Care at the act that is in hand.

use std::collections::BTreeSet;

use book::{PartId, Ref};
use job::plan::{Leg, Step, StepAct};
use report::{Caution, Report};

use crate::answer::caution_parts;
use crate::graph::Graph;

/// Adds what can hurt somebody in this act.
pub(super) fn add(graph: &Graph, step: &Step, report: &mut Report) {
    let mut parts: BTreeSet<PartId> = BTreeSet::new();
    let mut media = BTreeSet::new();
    match (&step.name.target, step.name.act) {
        (Ref::Part(part), StepAct::Off | StepAct::On) => {
            parts.insert(part.clone());
            parts.extend(step.with.iter().cloned());
        }
        (Ref::Port(port), StepAct::Off) => {
            let medium = graph.book().port(port).and_then(|port| port.medium.known());
            media.extend(medium);
        }
        (Ref::Circuit(id), StepAct::Drain | StepAct::Fill) => {
            media.extend(graph.book().circuit(id).map(|circuit| &circuit.medium));
        }
        _ => {}
    }
    let mut told = Report::new("hand", "");
    caution_parts(&mut told, graph, &parts, &media);
    // Refrigerant and open lines matter when something comes off, the hoist both ways.
    let matters = |caution: &Caution| step.leg == Leg::Apart || caution.act == "lifting";
    let mut cautions: Vec<Caution> = told.cautions.into_iter().filter(matters).collect();
    if step
        .zone
        .as_ref()
        .is_some_and(|zone| zone.as_str() == "under")
    {
        cautions.push(Caution::new(
            "under the vehicle",
            "firm level ground, stands at the maker's points, wheels blocked; never on a jack alone; push it before going under",
        ));
    }
    if step.name.act == StepAct::Pass {
        cautions.push(Caution::new(
            "turning or starting the engine",
            "every hand, sleeve and tool out of belts, fans and chains; say it aloud before",
        ));
    }
    for caution in cautions {
        if !report.cautions.contains(&caution) {
            report.cautions.push(caution);
        }
    }
}
