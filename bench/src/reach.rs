//! The cheapest set of parts to take off, measured on made-up graphs.

use std::time::Duration;

use anyhow::{Context, Result, ensure};
use planning::{Stop, reach};
use serde_json::json;

use crate::clock::{Alarm, Watch};
use crate::{Run, draw};

/// Runs all graphs and prints a line for each.
pub fn bench(run: &Run) -> Result<()> {
    println!(
        "{:<12} {:>5} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8}",
        "graph", "parts", "first", "work", "bound", "gap", "solved", "time"
    );
    let mut rows = Vec::new();
    let (mut sum, mut counted, mut proved) = (0.0, 0, 0);
    for (name, problem) in draw::graphs()?.iter().filter(|(name, _)| run.wants(name)) {
        let stop = Stop::new();
        let watch = Watch::start();
        let alarm = Alarm::after(Duration::from_secs_f64(run.seconds), &stop);
        let mut first = None;
        let found = reach::solve(problem, &run.budget(), &stop, &mut |_, value| {
            first.get_or_insert(value.work);
        })
        .with_context(|| name.clone())?;
        drop(alarm);
        let took = watch.seconds();
        ensure!(
            problem.value(&found.removals) == Some(found.value),
            "{name}: the removals do not cost what was said"
        );
        let gap = 100.0 * (found.value.work as f64 / found.bound.work.max(1) as f64 - 1.0);
        sum += gap;
        counted += 1;
        proved += u32::from(found.proved());
        println!(
            "{name:<12} {:>5} {:>8} {:>8} {:>8} {gap:>6.2} % {:>8} {took:>6.2} s{}",
            problem.parts().len(),
            first.unwrap_or(0),
            found.value.work,
            found.bound.work,
            found.moves,
            if found.proved() { " proved" } else { "" },
        );
        let solution: Vec<_> = found
            .removals
            .iter()
            .map(|r| json!({"part": r.part, "ways": r.ways}))
            .collect();
        rows.push(json!({
            "instance": name, "value": found.value.work, "money": found.value.money,
            "best": found.bound.work, "gap": gap, "moves": found.moves, "seconds": took,
            "solution": solution,
        }));
    }
    run.write(&rows)?;
    println!("{proved} of {counted} proved");
    run.sum_up(sum, counted);
    Ok(())
}
