//! Finds what a person means by a name: an id, a label or an old id, however it is typed.

use crate::book::Book;
use crate::gate::GATES;
use crate::id::{GateId, HoleRef, PortRef, Ref};
use crate::near::{folded, near};

/// One name of one thing, as a person may type it.
struct Name {
    text: String,
    means: Ref,
}

impl Book {
    /// What a typed name means: it matches an id, label or old id, ignoring case, spaces, hyphens
    /// and underscores. `part.port` and `joint.hole` are understood too.
    ///
    /// # Errors
    /// The names most like it, nearest first, when nothing matches; empty when nothing is like it.
    /// When one text is the label of two things, their ids.
    ///
    /// # Example
    /// ```
    /// let (book, _) = book::read("part air-duct \"Inlet duct\" zone=above\n");
    /// assert_eq!(book.resolve("Air Duct").unwrap().to_string(), "air-duct");
    /// assert_eq!(book.resolve("inlet duct").unwrap().to_string(), "air-duct");
    /// assert_eq!(book.resolve("air-dukt").unwrap_err(), ["air-duct"]);
    /// ```
    pub fn resolve(&self, name: &str) -> Result<Ref, Vec<String>> {
        let wanted = folded(name);
        if let Some(reference) = self.inner(name) {
            return Ok(reference);
        }
        let ids = self.id_names();
        let exact: Vec<&Name> = ids.iter().filter(|known| known.text == name).collect();
        let loose = |names: &[Name]| -> Vec<Ref> {
            let mut found: Vec<Ref> = names
                .iter()
                .filter(|known| folded(&known.text) == wanted)
                .map(|known| known.means.clone())
                .collect();
            found.sort();
            found.dedup();
            found
        };
        if let [only] = exact.as_slice() {
            return Ok(only.means.clone());
        }
        let labels = self.label_names();
        // An id counts before an old id or a label: it is what the book itself uses.
        for found in [loose(&ids), loose(&labels)] {
            match found.as_slice() {
                [] => {}
                [only] => return Ok(only.clone()),
                several => return Err(several.iter().map(ToString::to_string).collect()),
            }
        }
        let known = ids.iter().chain(&labels).map(|known| known.text.as_str());
        Err(near(name, known))
    }

    /// `part.port` or `joint.hole`.
    fn inner(&self, name: &str) -> Option<Ref> {
        let (owner, inner) = name.split_once('.')?;
        let (owner, inner) = (folded(owner), folded(inner));
        for joint in &self.joints {
            if folded(joint.id.as_str()) == owner {
                let hole = joint
                    .holes
                    .iter()
                    .find(|hole| folded(hole.name.as_str()) == inner)?;
                return Some(Ref::Hole(HoleRef {
                    joint: joint.id.clone(),
                    hole: hole.name.clone(),
                }));
            }
        }
        let part = self
            .parts
            .iter()
            .find(|part| folded(part.id.as_str()) == owner)?;
        let port = part
            .ports
            .iter()
            .find(|port| folded(port.name.as_str()) == inner)?;
        Some(Ref::Port(PortRef {
            part: part.id.clone(),
            port: port.name.clone(),
        }))
    }

    fn id_names(&self) -> Vec<Name> {
        let mut names = Vec::new();
        self.each(|means, _, _| {
            names.push(Name {
                text: means.to_string(),
                means: means.clone(),
            });
        });
        names
    }

    fn label_names(&self) -> Vec<Name> {
        let mut names = Vec::new();
        self.each(|means, label, was| {
            let texts = label
                .into_iter()
                .map(str::to_owned)
                .chain(was.iter().cloned());
            names.extend(texts.map(|text| Name {
                text,
                means: means.clone(),
            }));
        });
        names
    }

    /// Visits everything that has an id: what it is, its label, its old ids.
    fn each(&self, mut visit: impl FnMut(&Ref, Option<&str>, &[String])) {
        for part in &self.parts {
            visit(
                &Ref::Part(part.id.clone()),
                part.label.as_deref(),
                &part.was,
            );
        }
        for joint in &self.joints {
            visit(
                &Ref::Joint(joint.id.clone()),
                joint.label.as_deref(),
                &joint.was,
            );
        }
        for line in &self.lines {
            visit(
                &Ref::Line(line.id.clone()),
                line.label.as_deref(),
                &line.was,
            );
        }
        for circuit in &self.circuits {
            visit(
                &Ref::Circuit(circuit.id.clone()),
                circuit.label.as_deref(),
                &[],
            );
        }
        for shaft in &self.shafts {
            visit(&Ref::Shaft(shaft.id.clone()), shaft.label.as_deref(), &[]);
        }
        for limit in &self.limits {
            visit(
                &Ref::Limit(limit.id.clone()),
                limit.label.as_deref(),
                &limit.was,
            );
        }
        for check in &self.checks {
            visit(
                &Ref::Check(check.id.clone()),
                check.label.as_deref(),
                &check.was,
            );
        }
        for item in &self.temporaries {
            visit(
                &Ref::Temporary(item.id.clone()),
                item.label.as_deref(),
                &item.was,
            );
        }
        for gate in &self.gates {
            visit(&Ref::Gate(gate.id.clone()), gate.label.as_deref(), &[]);
        }
        for name in GATES {
            let id = GateId::from(name);
            if self.gate(&id).is_none() {
                visit(&Ref::Gate(id), None, &[]);
            }
        }
    }
}
