//! Several people, tools and a calendar, measured.

use std::time::Duration;

use anyhow::{Context, Result, ensure};
use planning::{Stop, crew};
use serde_json::json;

use crate::clock::{Alarm, Watch};
use crate::{Run, draw, published};

/// The published sets.
const SETS: [&str; 3] = ["j30", "j60", "j120"];

/// One instance: its name, the problem and the earliest finish known.
type Instance = (String, crew::Problem, Option<u64>);

/// Runs all instances, or those of one set, and prints a line for each.
pub fn bench(run: &Run, set: Option<&str>) -> Result<()> {
    let instances = if run.generated {
        draw::jobs()?
    } else {
        from_files(set)?
    };
    println!(
        "{:<12} {:>5} {:>7} {:>7} {:>7} {:>8} {:>8} {:>8}",
        "instance", "steps", "finish", "best", "bound", "gap", "first", "time"
    );
    let mut rows = Vec::new();
    let (mut sum, mut counted) = (0.0, 0);
    for (name, problem, best) in instances.iter().filter(|(name, ..)| run.wants(name)) {
        let stop = Stop::new();
        let watch = Watch::start();
        let alarm = Alarm::after(Duration::from_secs_f64(run.seconds), &stop);
        let mut first = None;
        let mut trace = Vec::new();
        let found = crew::search(problem, &run.budget(), &stop, &mut |plan| {
            let now = watch.seconds();
            first.get_or_insert(now);
            trace.push(json!([now, plan.finish]));
        })
        .with_context(|| name.clone())?;
        drop(alarm);
        let took = watch.seconds();
        let finish = found.schedule.finish;
        ensure!(
            problem.obeys(&found.schedule),
            "{name}: the plan breaks the problem"
        );
        let gap = best.map(|best| 100.0 * (f64::from(finish) - best as f64) / best as f64);
        if let Some(gap) = gap {
            sum += gap;
            counted += 1;
        }
        let shown = best.map_or("-".to_owned(), |v| v.to_string());
        let percent = gap.map_or("-".to_owned(), |gap| format!("{gap:.2} %"));
        println!(
            "{name:<12} {:>5} {finish:>7} {shown:>7} {:>7} {percent:>8} {:>5.0} ms {took:>6.2} s{} {}",
            problem.steps().len(),
            found.bound,
            first.unwrap_or(0.0) * 1e3,
            if found.proved() { " proved" } else { "" },
            found.moves
        );
        rows.push(json!({
            "instance": name, "value": finish, "best": best, "gap": gap, "bound": found.bound,
            "moves": found.moves, "seconds": took, "trace": trace,
            "solution": found.schedule.start, "people": found.schedule.people,
        }));
    }
    run.write(&rows)?;
    if counted > 0 {
        run.sum_up(sum, counted);
    } else {
        println!(
            "{} made-up jobs at {} s, no best value known",
            rows.len(),
            run.seconds
        );
    }
    Ok(())
}

/// The published instances of one set or of all.
fn from_files(set: Option<&str>) -> Result<Vec<Instance>> {
    let folder = published::folder().join("rcpsp");
    let best = published::column(&folder.join("best_known.csv"), "upper")?;
    if let Some(set) = set {
        ensure!(
            SETS.contains(&set),
            "there is no set {set:?}; write one of {}",
            SETS.join(", ")
        );
    }
    let mut instances = Vec::new();
    for set in SETS
        .iter()
        .filter(|&&s| set.is_none_or(|wanted| wanted == s))
    {
        for (name, file) in published::files(&folder.join(set), ".rcp")? {
            let problem =
                published::project(&published::read(&file)?).with_context(|| name.clone())?;
            let best = best.get(&name).copied();
            instances.push((name, problem, best));
        }
    }
    Ok(instances)
}
