//! Loops in a small graph whose edges know where they are written.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::span::Span;

/// Who must wait for whom, with the place that says so.
#[derive(Debug, Default)]
pub(super) struct Graph {
    edges: BTreeMap<String, Vec<(String, Span)>>,
}

/// A loop: each name with the place that leads to the next.
pub(super) type Loop = Vec<(String, Span)>;

impl Graph {
    pub(super) fn add(&mut self, from: &str, to: &str, span: Span) {
        let edges = self.edges.entry(from.to_owned()).or_default();
        if !edges.iter().any(|(known, _)| known == to) {
            edges.push((to.to_owned(), span));
        }
        self.edges.entry(to.to_owned()).or_default();
    }

    fn next(&self, from: &str) -> &[(String, Span)] {
        self.edges.get(from).map_or(&[], Vec::as_slice)
    }

    /// The shortest way from one name to another, as the steps on it; nothing when there is none.
    pub(super) fn way(&self, from: &str, to: &str) -> Option<Loop> {
        let mut came: BTreeMap<&str, (&str, Span)> = BTreeMap::new();
        let mut queue = VecDeque::from([from]);
        while let Some(at) = queue.pop_front() {
            for (next, span) in self.next(at) {
                if came.contains_key(next.as_str()) {
                    continue;
                }
                came.insert(next, (at, *span));
                if next == to {
                    return Some(unwind(&came, from, to));
                }
                queue.push_back(next);
            }
        }
        None
    }

    /// One loop for every group of names that wait for each other, shortest first name first.
    pub(super) fn loops(&self) -> Vec<Loop> {
        let mut found: Vec<Loop> = Vec::new();
        let mut covered: BTreeSet<String> = BTreeSet::new();
        for name in self.edges.keys() {
            if covered.contains(name) {
                continue;
            }
            let Some(way) = self.way(name, name) else {
                continue;
            };
            // All that can be reached and reach back belongs to the same group.
            for other in self.edges.keys() {
                if self.way(name, other).is_some() && self.way(other, name).is_some() {
                    covered.insert(other.clone());
                }
            }
            found.push(way);
        }
        found
    }
}

fn unwind(came: &BTreeMap<&str, (&str, Span)>, from: &str, to: &str) -> Loop {
    let mut steps = Vec::new();
    let mut at = to;
    while let Some((before, span)) = came.get(at) {
        steps.push(((*before).to_owned(), *span));
        at = before;
        if at == from {
            break;
        }
    }
    steps.reverse();
    steps
}

#[cfg(test)]
mod tests {
    use super::Graph;
    use crate::span::Span;

    fn graph(edges: &[(&str, &str)]) -> Graph {
        let mut graph = Graph::default();
        for (from, to) in edges {
            graph.add(from, to, Span::default());
        }
        graph
    }

    fn names(graph: &Graph) -> Vec<Vec<String>> {
        let loops = graph.loops();
        loops
            .into_iter()
            .map(|steps| steps.into_iter().map(|(name, _)| name).collect())
            .collect()
    }

    #[test]
    fn every_group_gives_one_loop() {
        let graph = graph(&[
            ("a", "b"),
            ("b", "a"),
            ("b", "c"),
            ("c", "d"),
            ("d", "c"),
            ("e", "e"),
            ("f", "a"),
        ]);
        assert_eq!(names(&graph), [vec!["a", "b"], vec!["c", "d"], vec!["e"]]);
    }

    #[test]
    fn no_loop_where_there_is_none() {
        assert!(names(&graph(&[("a", "b"), ("b", "c"), ("a", "c")])).is_empty());
    }
}
