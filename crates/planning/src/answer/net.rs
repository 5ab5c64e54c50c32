//! What blocks what, as a drawing: a column a layer uncovered.

use std::collections::BTreeMap;

use book::Ref;
use report::{Join, Net, Picture, Stroke, Thing};

use crate::graph::{At, Graph};
use crate::removal::Lift;
use crate::sequence::in_the_way;

/// The parts that come off, each in the column of the layer in which it comes free. What was
/// asked for stands out; where that is no part, what comes off last.
pub(super) fn picture(graph: &Graph, lifts: &[Lift], targets: &[Ref]) -> Picture {
    let mut layer: BTreeMap<At, usize> = BTreeMap::new();
    let mut net = Net {
        title: "What is in the way of what".to_owned(),
        ..Net::default()
    };
    for lift in lifts {
        let over: Vec<At> = in_the_way(graph, lift)
            .into_iter()
            .map(|(at, _)| at)
            .filter(|at| layer.contains_key(at))
            .collect();
        let column = over.iter().map(|at| layer[at] + 1).max().unwrap_or(0);
        for &at in lift.with.iter().chain([&lift.part]) {
            layer.insert(at, column);
        }
        let id = graph.part(lift.part).id.to_string();
        net.things.push(Thing {
            label: graph.part_name(&graph.part(lift.part).id),
            column,
            off: false,
            in_hand: lift.with.iter().chain([&lift.part]).any(|&at| {
                let part = &graph.part(at).id;
                targets
                    .iter()
                    .any(|target| matches!(target, Ref::Part(of) if of == part))
            }),
            id: id.clone(),
        });
        for at in over {
            // What stands further back is in the way through what lies between.
            if layer[&at] + 1 < column {
                continue;
            }
            let carrier = carrier(graph, lifts, at);
            net.joins.push(Join {
                id: format!("{carrier}-{id}"),
                from: carrier,
                to: id.clone(),
                stroke: Stroke::Plain,
                label: String::new(),
                arrow: true,
                suspect: false,
            });
        }
    }
    net.joins.dedup_by(|one, other| one.id == other.id);
    if net.things.iter().all(|thing| !thing.in_hand)
        && let Some(last) = net.things.last_mut()
    {
        last.in_hand = true;
    }
    let layers = layer.values().max().map_or(0, |most| most + 1);
    net.columns = (1..=layers)
        .map(|number| format!("layer {number}"))
        .collect();
    Picture::Net(net)
}

/// The part that stands on the drawing for one that comes off with it.
fn carrier(graph: &Graph, lifts: &[Lift], at: At) -> String {
    let lift = lifts
        .iter()
        .find(|lift| lift.part == at || lift.with.contains(&at));
    graph.part(lift.map_or(at, |lift| lift.part)).id.to_string()
}
