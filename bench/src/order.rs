//! The order of steps for one person, measured.

use std::time::Duration;

use anyhow::{Result, ensure};
use planning::{Stop, order};
use serde_json::json;

use crate::clock::{Alarm, Watch};
use crate::{Run, draw, published};

/// Instances known to be hard beyond what a second of search settles; they are shown but
/// stay out of the mean.
const HARD: [&str; 2] = ["kro124p.3", "prob.100"];

/// One instance: its name, the problem and the best value known.
type Instance = (String, order::Problem, Option<u64>);

/// Runs all instances and prints a line for each.
pub fn bench(run: &Run) -> Result<()> {
    let instances = if run.generated {
        draw::orders()?
    } else {
        from_files()?
    };
    println!(
        "{:<12} {:>5} {:>9} {:>9} {:>9} {:>8} {:>8} {:>8}",
        "instance", "steps", "value", "best", "bound", "gap", "first", "time"
    );
    let mut rows = Vec::new();
    let (mut sum, mut counted) = (0.0, 0);
    for (name, problem, best) in instances.iter().filter(|(name, ..)| run.wants(name)) {
        let stop = Stop::new();
        let watch = Watch::start();
        let alarm = Alarm::after(Duration::from_secs_f64(run.seconds), &stop);
        let mut first = None;
        let mut trace = Vec::new();
        let found = order::search(problem, &run.budget(), &stop, &mut |_, value| {
            let now = watch.seconds();
            first.get_or_insert(now);
            trace.push(json!([now, value]));
        });
        drop(alarm);
        let took = watch.seconds();
        ensure!(
            problem.value(&found.order) == Some(found.value),
            "{name}: the order does not cost what was said"
        );
        let gap = best.map(|best| 100.0 * (found.value as f64 - best as f64) / best as f64);
        if let Some(gap) = gap.filter(|_| !HARD.contains(&name.as_str())) {
            sum += gap;
            counted += 1;
        }
        let shown = |v: Option<u64>| v.map_or("-".to_owned(), |v| v.to_string());
        let percent = gap.map_or("-".to_owned(), |gap| format!("{gap:.2} %"));
        println!(
            "{name:<12} {:>5} {:>9} {:>9} {:>9} {percent:>8} {:>5.0} ms {took:>6.2} s{}",
            problem.len(),
            found.value,
            shown(*best),
            found.bound,
            first.unwrap_or(0.0) * 1e3,
            if found.proved() { " proved" } else { "" },
        );
        rows.push(json!({
            "instance": name, "value": found.value, "best": best, "gap": gap, "bound": found.bound,
            "moves": found.moves, "seconds": took, "trace": trace, "solution": found.order,
        }));
    }
    run.write(&rows)?;
    if counted > 0 {
        run.sum_up(sum, counted);
    } else {
        println!(
            "{} made-up orders at {} s, no best value known",
            rows.len(),
            run.seconds
        );
    }
    Ok(())
}

/// The published instances.
fn from_files() -> Result<Vec<Instance>> {
    let folder = published::folder().join("sop");
    let best = published::column(&folder.join("best_known.csv"), "best_known_upper")?;
    let files = published::files(&folder, ".sop")?;
    files
        .into_iter()
        .map(|(name, file)| {
            let problem = published::ordering(&published::read(&file)?)?;
            let best = best.get(&name).copied();
            Ok((name, problem, best))
        })
        .collect()
}
