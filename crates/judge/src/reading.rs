//! The readings of a job against a limit of its book: the last one judged, with the act that
//! settles an open case. Gates and the machine-shop sheet ask here.

use book::{Amount, Limit, Shop};
use job::{Measured, State};
use quantity::{GaugePressure, Length, Quantity, Ratio, Torque, Unit, Volume, read, unit};
use report::Verdict;

use crate::limit::{self, Reading};
use crate::tightening::typed_unit;

/// How the last reading stands to a limit.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// There is none.
    NotMeasured,
    /// It was judged.
    Judged(Held),
    /// It is no number of the limit's kind, and why.
    Unreadable(String),
}

/// A reading that was judged; of several values the worst speaks.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// The word.
    pub verdict: Verdict,
    /// The verdict in a sentence.
    pub says: String,
    /// The cheapest act that settles it, where it is open.
    pub settle: Option<String>,
}

/// What a reader calls a limit.
#[must_use]
pub fn label(limit: &Limit) -> String {
    limit.label.clone().unwrap_or_else(|| limit.id.to_string())
}

/// The readings of a limit, first to last. A limit of compression is one of cranking dry: oil
/// in the bores is there to find rings, not to pass a limit.
pub fn all<'s>(state: &'s State, limit: &Limit) -> impl Iterator<Item = &'s Measured> {
    let (id, label) = (limit.id.to_string(), label(limit));
    let compression = id.contains("compression");
    state
        .readings
        .iter()
        .map(|(_, measured)| measured)
        .filter(move |measured| {
            job::same_name(&measured.of, &id)
                || job::same_name(&measured.of, &label)
                || compression && job::same_name(&measured.of, "cranking dry")
        })
}

/// Judges the last reading of a limit. `None`: the book states no number to judge by.
#[must_use]
pub fn judge(state: &State, shop: Option<&Shop>, limit: &Limit) -> Option<Standing> {
    let bound = limit.min.known().or(limit.max.known())?;
    let Some(found) = all(state, limit).last() else {
        return Some(Standing::NotMeasured);
    };
    let gauge = found
        .instrument
        .as_deref()
        .zip(shop)
        .and_then(|(name, shop)| {
            shop.gauges
                .iter()
                .find(|gauge| job::same_name(gauge.id.as_str(), name))
        });
    let label = label(limit);
    let asked = Asked {
        label: &label,
        limit,
        values: &found.values,
        uncertainty: gauge.and_then(|gauge| gauge.uncertainty.known().copied()),
    };
    Some(match asked.of_kind(bound) {
        Ok(held) => Standing::Judged(held),
        Err(why) => Standing::Unreadable(why),
    })
}

/// A limit of lengths as judges take it. `None`: it is of another kind.
#[must_use]
pub fn length_limit(limit: &Limit) -> Option<limit::Limit<Length>> {
    let pick = |amount: &Amount| match amount {
        Amount::Length(length) => Some(*length),
        _ => None,
    };
    let judged = limit::Limit {
        low: limit.min.known().and_then(pick),
        high: limit.max.known().and_then(pick),
        ..limit::Limit::of_book(&limit.source)
    };
    (judged.low.is_some() || judged.high.is_some()).then_some(judged)
}

/// A reading on its way to a verdict.
struct Asked<'a> {
    label: &'a str,
    limit: &'a Limit,
    values: &'a str,
    uncertainty: Option<Amount>,
}

impl Asked<'_> {
    /// Judges the values in the kind the limit is written in.
    fn of_kind(&self, bound: &Amount) -> Result<Held, String> {
        macro_rules! only {
            ($kind:path) => {
                |amount| match amount {
                    $kind(value) => Some(value),
                    _ => None,
                }
            };
        }
        match bound {
            Amount::Length(_) => self.worst::<Length>(&unit::MILLIMETRE, only!(Amount::Length)),
            Amount::Pressure(_) => {
                self.worst::<GaugePressure>(&unit::POUND_PER_SQUARE_INCH, only!(Amount::Pressure))
            }
            Amount::Ratio(_) => self.worst::<Ratio>(&unit::PERCENT, only!(Amount::Ratio)),
            Amount::Torque(_) => self.worst::<Torque>(&unit::NEWTON_METRE, only!(Amount::Torque)),
            Amount::Volume(_) => self.worst::<Volume>(&unit::MILLILITRE, only!(Amount::Volume)),
            Amount::Angle(_)
            | Amount::Voltage(_)
            | Amount::Current(_)
            | Amount::Resistance(_)
            | Amount::Temperature(_)
            | Amount::Flow(_)
            | Amount::Mass(_)
            | Amount::Force(_)
            | Amount::Duration(_)
            | Amount::Speed(_) => {
                Err("this program does not judge readings of that kind for a gate yet".to_owned())
            }
        }
    }

    /// The unit the book writes the limit in, which is the one its readers think in.
    fn written_in<Q: Quantity>(&self) -> Option<&'static Unit> {
        [&self.limit.max, &self.limit.min]
            .into_iter()
            .find_map(|end| typed_unit(Q::KIND, end.typed()?))
    }

    /// The worst verdict over all values, with its sentence, in the unit of the limit or else
    /// in `unit`.
    fn worst<Q: Quantity>(
        &self,
        unit: &Unit,
        pick: fn(Amount) -> Option<Q>,
    ) -> Result<Held, String> {
        let unit = self.written_in::<Q>().unwrap_or(unit);
        let values = read::read_bound_list::<Q>(self.values)
            .map_err(|fault| fault.to_string())?
            .value;
        let whole = self
            .limit
            .readings
            .known()
            .is_none_or(|&wanted| values.iter().flatten().count() >= wanted as usize);
        let mut worst = Held {
            verdict: Verdict::NotMeasured,
            says: if whole {
                format!("{}: no reading", self.label)
            } else {
                format!("{}: not all readings are there", self.label)
            },
            settle: Some(format!("measure {}", self.label)),
        };
        if !whole {
            return Ok(worst);
        }
        let judged = limit::Limit {
            low: self.limit.min.known().copied().and_then(pick),
            high: self.limit.max.known().copied().and_then(pick),
            ..limit::Limit::of_book(&self.limit.source)
        };
        let mut rank = 0;
        for value in values.into_iter().flatten() {
            let reading = Reading::bound(value).with(self.uncertainty.and_then(pick));
            let seen = limit::decide(self.label, Some(&reading), &judged, &[], unit)
                .map_err(|fault| fault.to_string())?;
            let grave = limit::gravity(seen.verdict);
            if grave > rank {
                rank = grave;
                worst = Held {
                    verdict: seen.verdict,
                    says: seen.says,
                    settle: seen.settle,
                };
            }
        }
        Ok(worst)
    }
}
