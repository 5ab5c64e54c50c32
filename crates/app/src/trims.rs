//! Fuel trims: option text into a question for the judge.

use judge::trims::{Bank, judge};
use quantity::Ratio;
use report::Report;

use crate::option::Options;

/// Reads trims, one figure a bank: `18 3 %` at idle, `2 1 %` at 2500 rpm.
#[must_use]
pub fn trims(idle: &str, fast: Option<&str>) -> Report {
    let mut options = Options::of("trims");
    let idle = options.list::<Ratio>("--idle", idle).map(|said| said.value);
    let fast = fast
        .and_then(|text| options.list::<Ratio>("--fast", text))
        .map(|said| said.value);
    let idle = match (idle, &fast) {
        (Some(idle), Some(fast)) if idle.len() != fast.len() => {
            options.fault(
                "--fast",
                format!("{} banks at idle and {} at speed", idle.len(), fast.len()),
                "one figure a bank both times, - where there is none",
            );
            None
        }
        (idle, _) => idle,
    };
    match idle {
        Some(idle) if options.clean() => {
            let at_speed = |at: usize| {
                fast.as_ref()
                    .and_then(|fast| fast.get(at).copied().flatten())
            };
            let banks: Vec<Bank> = idle
                .into_iter()
                .enumerate()
                .map(|(at, idle)| Bank {
                    idle,
                    fast: at_speed(at),
                })
                .collect();
            judge(&banks)
        }
        _ => options.refusal("Fuel trims"),
    }
}
