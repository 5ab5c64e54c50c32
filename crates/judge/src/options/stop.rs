//! Stop-points: where a way out is decided again with what is then known.
//!
//! What is spent by then is spent in any case, so only what is still to pay stands against the
//! other ways.

use report::{Finding, Weight};

use super::{Cost, Held, whole};

/// Where a way stops to be decided again.
#[derive(Clone, Debug, PartialEq)]
pub struct StopPoint {
    /// What is then known: `head off: cracked or not`.
    pub says: String,
    /// What is spent by then, and what it costs more if what is found is bad.
    pub figures: Option<StopFigures>,
}

/// The money of a stop-point.
#[derive(Clone, Debug, PartialEq)]
pub struct StopFigures {
    /// Spent by then, whatever is found.
    pub spent: Cost,
    /// More than the way costs otherwise, if what is found is bad.
    pub extra: Cost,
}

/// A range of money.
type Span = (f64, f64);

/// What a stop-point says, and what is decided there against the best other way.
pub(super) fn finding(held: &Held<'_>, stop: &StopPoint, others: &[&Held<'_>]) -> Finding {
    let finding = Finding::new("stop-point", held.choice.name.clone(), stop.says.clone())
        .weight(Weight::Note);
    let Some(figures) = &stop.figures else {
        return finding;
    };
    let spent = span(&figures.spent);
    let extra = span(&figures.extra);
    let whole_way = span(&held.cost);
    // The least still to pay is when the least was asked and the most of it is spent.
    let good = (
        (whole_way.0 - spent.1).max(0.0),
        (whole_way.1 - spent.0).max(0.0),
    );
    let bad = (good.0 + extra.0, good.1 + extra.1);
    let other = others
        .iter()
        .filter(|other| other.choice.name != held.choice.name)
        .min_by(|one, two| span(&one.cost).0.total_cmp(&span(&two.cost).0));
    let line = |word: &str, rest: Span| {
        let against = other.map_or_else(
            || "no other way is known".to_owned(),
            |other| against(rest, other),
        );
        format!("{word}: {} still to pay; {against}", shown(rest))
    };
    finding
        .detail(line("good", good))
        .detail(line("bad", bad))
        .next(format!(
            "decide again there; the {} spent by then count on neither side",
            shown(spent)
        ))
}

/// Going on, turning to the other way, or open.
fn against(rest: Span, other: &Held<'_>) -> String {
    let name = &other.choice.name;
    let cost = span(&other.cost);
    let verdict = if rest.1 < cost.0 {
        "go on"
    } else if rest.0 > cost.1 {
        "turn to it"
    } else {
        "the ranges overlap: hours, skill and risk decide"
    };
    format!("{name} costs {}: {verdict}", shown(cost))
}

/// What the whole way costs if what is found at its stop-point is bad.
pub(super) fn if_bad(held: &Held<'_>) -> Option<Span> {
    let figures = held.choice.stop_point.as_ref()?.figures.as_ref()?;
    let (cost, extra) = (span(&held.cost), span(&figures.extra));
    Some((cost.0 + extra.0, cost.1 + extra.1))
}

fn span(cost: &Cost) -> Span {
    (cost.low.amount(), cost.high.amount())
}

pub(super) fn shown(span: Span) -> String {
    if whole(span.0) == whole(span.1) {
        whole(span.0)
    } else {
        format!("{}–{}", whole(span.0), whole(span.1))
    }
}
