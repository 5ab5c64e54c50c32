//! The order of steps for one person, measured.

use std::path::{Path, PathBuf};
use std::time::Duration;

use anyhow::{Context as _, Result, ensure};
use planning::{Stop, order};
use serde_json::json;

use crate::clock::{Alarm, Watch};
use crate::{Run, draw, published};

/// Instances known to be hard beyond what a second of search settles; they are shown but
/// stay out of the mean.
const HARD: [&str; 2] = ["kro124p.3", "prob.100"];

/// One instance: its name, the problem and the best value known.
type Instance = (String, order::Problem, Option<u64>);

/// What only the orders can be told.
#[derive(Debug, clap::Args)]
pub struct Wishes {
    /// Search each instance for this many seconds as well, from another seed, and measure the
    /// gap against the better of both: for made-up orders, of which nobody knows the best.
    #[arg(long, value_name = "SECONDS")]
    beside: Option<f64>,
    /// Write the instances into this folder, in the form of the published ones.
    #[arg(long, value_name = "DIR")]
    write: Option<PathBuf>,
}

/// One search, timed.
struct Timed {
    found: order::Solution,
    /// Seconds until the first order, and in all.
    first: f64,
    took: f64,
    trace: Vec<serde_json::Value>,
}

/// Runs all instances and prints a line for each.
pub fn bench(run: &Run, wishes: &Wishes) -> Result<()> {
    let instances = if run.generated {
        draw::orders()?
    } else {
        from_files()?
    };
    if let Some(folder) = &wishes.write {
        return write(folder, &instances);
    }
    println!(
        "{:<12} {:>5} {:>9} {:>9} {:>9} {:>8} {:>8} {:>8}",
        "instance", "steps", "value", "best", "bound", "gap", "first", "time"
    );
    let mut rows = Vec::new();
    let (mut sum, mut counted) = (0.0, 0);
    let (mut first, mut late) = (0.0_f64, 0.0_f64);
    for (name, problem, best) in instances.iter().filter(|(name, ..)| run.wants(name)) {
        let timed = searched(name, problem, run, run.seconds, run.seed)?;
        let best = match wishes.beside {
            Some(seconds) => {
                let long = searched(name, problem, run, seconds, run.seed + 1)?;
                Some(
                    long.found
                        .value
                        .min(timed.found.value)
                        .min(best.unwrap_or(u64::MAX)),
                )
            }
            None => *best,
        };
        first = first.max(timed.first);
        late = late.max(timed.took - run.seconds);
        let value = timed.found.value;
        let gap = best.map(|best| 100.0 * (value as f64 - best as f64) / best as f64);
        if let Some(gap) = gap.filter(|_| !HARD.contains(&name.as_str())) {
            sum += gap;
            counted += 1;
        }
        show(name, problem, best, gap, &timed);
        rows.push(json!({
            "instance": name, "value": value, "best": best, "gap": gap, "bound": timed.found.bound,
            "moves": timed.found.moves, "seconds": timed.took, "trace": timed.trace,
            "solution": timed.found.order,
        }));
    }
    run.write(&rows)?;
    println!(
        "first order after at most {:.0} ms; at most {:.0} ms over the time",
        first * 1e3,
        late * 1e3
    );
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

fn show(name: &str, problem: &order::Problem, best: Option<u64>, gap: Option<f64>, timed: &Timed) {
    let shown = |v: Option<u64>| v.map_or("-".to_owned(), |v| v.to_string());
    let percent = gap.map_or("-".to_owned(), |gap| format!("{gap:.2} %"));
    println!(
        "{name:<12} {:>5} {:>9} {:>9} {:>9} {percent:>8} {:>5.0} ms {:>6.2} s{}",
        problem.len(),
        timed.found.value,
        shown(best),
        timed.found.bound,
        timed.first * 1e3,
        timed.took,
        if timed.found.proved() { " proved" } else { "" },
    );
}

/// Searches one instance until the clock stops it, and looks the order through.
fn searched(
    name: &str,
    problem: &order::Problem,
    run: &Run,
    seconds: f64,
    seed: u64,
) -> Result<Timed> {
    let stop = Stop::new();
    let watch = Watch::start();
    let alarm = Alarm::after(Duration::from_secs_f64(seconds), &stop);
    let mut first = None;
    let mut trace = Vec::new();
    let mut hear = |_: &[usize], value: u64| {
        let now = watch.seconds();
        first.get_or_insert(now);
        trace.push(json!([now, value]));
    };
    let budget = run.budget().seed(seed);
    let found = order::search(problem, &budget, &stop, &mut hear);
    drop(alarm);
    ensure!(
        problem.value(&found.order) == Some(found.value),
        "{name}: the order does not cost what was said"
    );
    Ok(Timed {
        found,
        first: first.unwrap_or(0.0),
        took: watch.seconds(),
        trace,
    })
}

/// Writes instances as files in the form of the published ones.
fn write(folder: &Path, instances: &[Instance]) -> Result<()> {
    std::fs::create_dir_all(folder)?;
    for (name, problem, _) in instances {
        let file = folder.join(format!("{name}.sop"));
        std::fs::write(&file, published::as_ordering(name, problem))
            .with_context(|| format!("cannot write {}", file.display()))?;
    }
    println!("{} instances in {}", instances.len(), folder.display());
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
