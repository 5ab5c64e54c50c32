//! The book of one vehicle: what the chosen variants leave of it.

use std::collections::{BTreeMap, BTreeSet};

use book::{Book, VariantId, When};

/// Which value each variant has on this vehicle, as far as it was chosen.
pub type Choices = BTreeMap<VariantId, String>;

/// A book without the nodes that do not exist on this vehicle.
///
/// A node that hangs on a variant nobody has chosen stays: leaving out a part that may be
/// there is the worse mistake. Whoever finds such a node in an answer asks for the choice.
#[must_use]
pub fn chosen(book: &Book, choices: &Choices) -> Book {
    let exists = |when: &When| {
        let fits = |(variant, value): &(VariantId, String)| {
            choices.get(variant).is_none_or(|chosen| chosen == value)
        };
        when.all.iter().all(fits)
    };
    let mut left = book.clone();
    left.parts.retain(|part| exists(&part.when));
    for part in &mut left.parts {
        part.ports.retain(|port| exists(&port.when));
    }
    left.joints.retain(|joint| exists(&joint.when));
    for joint in &mut left.joints {
        joint.holes.retain(|hole| exists(&hole.when));
    }
    left.lines.retain(|line| exists(&line.when));
    left.circuits.retain(|circuit| exists(&circuit.when));
    left.shafts.retain(|shaft| exists(&shaft.when));
    left.limits.retain(|limit| exists(&limit.when));
    left.checks.retain(|check| exists(&check.when));
    left.temporaries.retain(|item| exists(&item.when));
    left.rules.retain(|rule| exists(&rule.when));
    left.gates.retain(|gate| exists(&gate.when));
    for gate in &mut left.gates {
        gate.needs.retain(|need| exists(&need.when));
    }
    left
}

/// The variants a node hangs on that nobody has chosen.
pub(crate) fn unchosen<'a>(
    when: &'a When,
    choices: &'a Choices,
) -> impl Iterator<Item = &'a VariantId> {
    let open = |variant: &&VariantId| !choices.contains_key(*variant);
    when.all.iter().map(|(variant, _)| variant).filter(open)
}

/// Every variant of the book that some part or line hangs on and nobody has chosen.
#[must_use]
pub fn open_variants(book: &Book, choices: &Choices) -> BTreeSet<VariantId> {
    let parts = book.parts.iter().map(|part| &part.when);
    let lines = book.lines.iter().map(|line| &line.when);
    parts
        .chain(lines)
        .flat_map(|when| unchosen(when, choices))
        .cloned()
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example;

    #[test]
    fn another_value_takes_the_node_away_and_no_choice_keeps_it() {
        let mut book = example::stack(&["cover", "cable"]);
        let variant = VariantId::from("throttle");
        book.parts[2].when.all = vec![(variant.clone(), "cable".to_owned())];
        let with = |value: &str| {
            let choices = Choices::from([(variant.clone(), value.to_owned())]);
            chosen(&book, &choices).parts.len()
        };
        assert_eq!((with("cable"), with("electronic")), (3, 2));
        assert_eq!(chosen(&book, &Choices::new()).parts.len(), 3);
        let open = open_variants(&book, &Choices::new());
        assert_eq!(open, BTreeSet::from([variant]));
    }
}
