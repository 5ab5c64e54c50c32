//! Chance in a set of readings: whether one stands apart from its fellows, and how often the
//! rule that decided would call a sound engine uneven.
//!
//! Both are remarks beside the verdict and decide nothing: with few cylinders Grubbs' limit
//! nearly touches its ceiling, and two low cylinders hide each other.

use calc::outlier::{grubbs_figure, grubbs_limit};
use calc::repeatability::false_alarm;
use quantity::{Quantity, Ratio};

use super::Rule;
use super::answer::{Seen, percent};
use crate::layout::named;

/// The level both remarks are made at. *Common practice, no source.*
const LEVEL: f64 = 0.05;

/// What chance alone would do with this set.
pub(super) fn remarks(seen: &Seen<'_>) -> Vec<String> {
    [apart(seen), alarm(seen)].into_iter().flatten().collect()
}

/// Grubbs' test, where there are readings enough and they differ.
fn apart(seen: &Seen<'_>) -> Option<String> {
    let read: Vec<(u8, f64)> = (1u8..)
        .zip(&seen.marks)
        .filter_map(|(cylinder, mark)| Some((cylinder, mark.as_ref()?.reading.si())))
        .collect();
    let values: Vec<f64> = read.iter().map(|(_, value)| *value).collect();
    let (at, figure) = grubbs_figure(&values).ok()?;
    let limit = grubbs_limit(values.len(), LEVEL).ok()?;
    let (cylinder, _) = read.get(at)?;
    let who = named(&[*cylinder]);
    Some(if figure > limit {
        format!(
            "{who} stands apart from the rest (Grubbs {figure:.3} over {limit:.3}, 5 % level); two low ones would hide each other from this test."
        )
    } else {
        format!(
            "None stands apart by Grubbs' test (farthest: {who}, {figure:.3} under {limit:.3}); two low ones hide each other from it."
        )
    })
}

/// How often the deciding spread rule would be broken by a sound engine on this gauge.
fn alarm(seen: &Seen<'_>) -> Option<String> {
    let allowed = match seen.asked.rule {
        Rule::Share75 => 0.25,
        Rule::Share70 => 0.30,
        Rule::Within20 => 0.20,
        Rule::Within10 => 0.10,
        Rule::OneBar => 100_000.0 / seen.shares.best.si(),
    };
    let cylinders = u32::try_from(seen.read_count()).ok()?;
    let scatter = Ratio::fraction(seen.repeatability).ok()?;
    let chance = false_alarm(cylinders, Ratio::fraction(allowed).ok()?, scatter).ok()?;
    let often = if chance.in_fraction() < 0.001 {
        "less than once in a thousand tests".to_owned()
    } else {
        format!("in {} of tests", percent(chance))
    };
    Some(format!(
        "An engine with nothing wrong would break {} {often}, on a gauge that repeats to {}.",
        seen.asked.rule.key(),
        percent(scatter)
    ))
}
