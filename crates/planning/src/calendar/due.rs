//! By when each thing has to be ordered, so that all of them together leave the finish where it is.

use super::hours::{DAY, Seconds, day_of, here, latest_start};
use super::place::{Lengths, Placing, place};
use super::work::Work;
use super::{Buy, Laid, Purchase};

/// The dates of every purchase that is still open, first due first.
///
/// Two orders may each wait a week and yet not both: what is freed by one is taken by the other.
/// So the days are worked out one after another, each with those before it already as late as they
/// may be; ordering everything on its last day ends on the day of the plan.
pub(super) fn dated(
    laid: &Laid<'_>,
    lengths: &Lengths,
    placing: &Placing,
    buys: &[Purchase],
) -> Vec<Buy> {
    let first = laid.crew.first;
    let needed = |purchase: &Purchase| {
        let starts = purchase
            .wanted_by
            .iter()
            .map(|&step| placing.tasks[step].start());
        starts.min().unwrap_or(0)
    };
    let mut open: Vec<(&Purchase, Seconds)> = buys
        .iter()
        .filter(|purchase| purchase.open())
        .map(|purchase| (purchase, needed(purchase)))
        .collect();
    let sure = |purchase: &Purchase, by: Seconds| {
        purchase.lead.map(|lead| latest_start(first, by, lead.high))
    };
    // Who is pressed most has the first word.
    open.sort_by_key(|&(purchase, by)| (sure(purchase, by).unwrap_or(day_of(by)), by));
    let last = day_of(placing.finish);
    let mut waiting = laid.work.clone();
    let mut all = Vec::new();
    for (purchase, by) in open {
        let order_by = purchase.lead.map(|lead| {
            let from_day = |day: i64| {
                let comes = here(first, day * DAY, lead.high);
                delayed(&waiting, purchase, comes)
            };
            let kept = |day: i64| {
                place(&from_day(day), laid.crew, lengths, laid.list)
                    .is_ok_and(|late| day_of(late.finish) <= last)
            };
            // Before the first day nothing can be ordered; there the answer is *today*.
            let day = latest(-1, last + 1, kept);
            if day >= 0 {
                waiting = from_day(day);
            }
            day
        });
        all.push(Buy {
            purchase: purchase.clone(),
            needed: by,
            order_by,
        });
    }
    all.sort_by_key(|buy| (buy.order_by.unwrap_or(day_of(buy.needed)), buy.needed));
    all
}

/// The tasks when a purchase comes no earlier than this.
fn delayed(work: &Work, purchase: &Purchase, comes: Seconds) -> Work {
    let mut late = work.clone();
    for &step in &purchase.wanted_by {
        let task = &mut late.tasks[step];
        task.not_before = task.not_before.max(comes);
    }
    late
}

/// The last day for which something holds, where it holds at `low` and not at `high`.
fn latest(mut low: i64, mut high: i64, holds: impl Fn(i64) -> bool) -> i64 {
    while high - low > 1 {
        let middle = i64::midpoint(low, high);
        if holds(middle) {
            low = middle
        } else {
            high = middle
        }
    }
    low
}
