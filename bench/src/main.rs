//! Benchmarks of the three searches, of flatness, of replay, of the pages and of the press: published instances with
//! their best known values, and made-up jobs of the size of an engine.
//!
//! Run them with `cargo run --release -p bench -- order|crew|reach|flatness|replay|mixups|pages`, and
//! with `--features press` also `press`. The last line of each run sums it up. This is one of the
//! few crates that reads the clock.
#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

mod clock;
mod published;
mod draw;

mod order;
mod crew;
mod reach;
mod flatness;
mod replay;
mod pages;
mod mixups;
#[cfg(feature = "press")]
mod press;

#[cfg(test)]
mod tests;

use std::path::PathBuf;

use clap::{Parser, Subcommand};

/// Measures the searches of the `planning` crate.
#[derive(Debug, Parser)]
#[command(name = "bench")]
struct Arguments {
    #[command(subcommand)]
    what: What,
}

/// Which search.
#[derive(Debug, Subcommand)]
enum What {
    /// The order of steps for one person.
    Order {
        #[command(flatten)]
        run: Run,
        #[command(flatten)]
        wishes: order::Wishes,
    },
    /// Several people, tools and a calendar.
    Crew {
        #[command(flatten)]
        run: Run,
        /// Only one published set: j30, j60 or j120.
        #[arg(long)]
        set: Option<String>,
    },
    /// The cheapest set of parts to take off; all instances are made up.
    Reach {
        #[command(flatten)]
        run: Run,
    },
    /// A large record into a state, beside the reading of its lines.
    Replay {
        /// Entries of the made-up record.
        #[arg(long, default_value_t = 20_000)]
        entries: usize,
    },
    /// What could go back in the wrong place, on the demo and on a made-up vehicle.
    Mixups {
        /// Ends of the made-up vehicle.
        #[arg(long, default_value_t = 400)]
        ends: usize,
        /// Holes of the made-up vehicle.
        #[arg(long, default_value_t = 1_500)]
        holes: usize,
    },
    /// A report with photos to PDF, beside the decoding of its photos.
    #[cfg(feature = "press")]
    Press {
        /// Pages of the made-up report.
        #[arg(long, default_value_t = 50)]
        pages: usize,
        /// Pages with a photo.
        #[arg(long, default_value_t = 40)]
        photos: usize,
    },
    /// Minimum zone of a scanned face, beside a least-squares plane and a linear programme.
    Flatness {
        /// Points of the made-up face.
        #[arg(long, default_value_t = 1_000_000)]
        points: usize,
        /// Where the drawing of points begins.
        #[arg(long, default_value_t = 1)]
        seed: u64,
    },
    /// The bench pages with many people writing at once.
    Pages {
        #[command(flatten)]
        load: pages::Load,
    },
    /// Serves a job; `pages` starts this in a process of its own.
    #[command(hide = true)]
    ServePages {
        /// The folder of the job.
        job: PathBuf,
    },
}

/// What every benchmark can be told.
#[derive(Debug, clap::Args)]
struct Run {
    /// Seconds for each instance.
    #[arg(long, default_value_t = 1.0)]
    seconds: f64,
    /// Threads to search with.
    #[arg(long, default_value_t = 2)]
    threads: usize,
    /// Where the drawing of lots begins.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Stop after this many moves, not by the clock alone.
    #[arg(long)]
    moves: Option<u64>,
    /// Made-up jobs of the size of an engine instead of published instances.
    #[arg(long)]
    generated: bool,
    /// Only instances whose name contains this.
    #[arg(long)]
    only: Option<String>,
    /// Write instance, value, best known value, gap and the solution here.
    #[arg(long)]
    json: Option<PathBuf>,
}

impl Run {
    /// The budget these arguments ask for.
    fn budget(&self) -> planning::Budget {
        planning::Budget::moves(self.moves.unwrap_or(u64::MAX))
            .threads(self.threads)
            .seed(self.seed)
    }

    /// Writes the rows where they were asked for.
    fn write(&self, rows: &[serde_json::Value]) -> anyhow::Result<()> {
        if let Some(file) = &self.json {
            std::fs::write(file, serde_json::to_string_pretty(rows)?)?;
        }
        Ok(())
    }

    /// The last line of a run.
    fn sum_up(&self, sum: f64, counted: u32) {
        println!(
            "mean gap {:.2} % over {counted} instances at {} s",
            sum / f64::from(counted),
            self.seconds
        );
    }

    /// Whether an instance is wanted.
    fn wants(&self, name: &str) -> bool {
        self.only.as_ref().is_none_or(|part| name.contains(part))
    }
}

fn main() -> anyhow::Result<()> {
    match Arguments::parse().what {
        What::Order { run, wishes } => order::bench(&run, &wishes),
        What::Crew { run, set } => crew::bench(&run, set.as_deref()),
        What::Reach { run } => reach::bench(&run),
        What::Replay { entries } => replay::bench(entries),
        What::Mixups { ends, holes } => mixups::bench(ends, holes),
        #[cfg(feature = "press")]
        What::Press { pages, photos } => press::bench(pages, photos),
        What::Flatness { points, seed } => flatness::bench(points, seed),
        What::Pages { load } => pages::bench(&load),
        What::ServePages { job } => pages::serve(&job),
    }
}
