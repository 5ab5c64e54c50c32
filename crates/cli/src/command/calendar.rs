//! `matchmark calendar`: who does what on which evening, and when the job is finished.

use app::calendar::Asked;
use clap::Args;
use report::Report;

use crate::context::Context;

/// Lay the work over the hours of the shop: the finish, what sets it, what to buy by when.
#[derive(Debug, Args)]
pub struct Calendar {
    /// What is to be got at, off and back; without it, the way back of what is off.
    #[arg(value_name = "PART")]
    targets: Vec<String>,

    /// The first day; without it, today.
    #[arg(long, value_name = "YYYY-MM-DD")]
    from: Option<String>,

    /// The same, as `print` takes it.
    #[arg(long = "for", value_name = "PART", num_args = 1..)]
    also: Vec<String>,

    /// Say in one line what changed since this entry: the next act, a purchase.
    #[arg(long, value_name = "ENTRY")]
    since: Option<u64>,

    /// Orders of the tasks tried; more may end a day earlier.
    #[arg(long, value_name = "COUNT")]
    moves: Option<u64>,

    /// Where the drawing of lots begins; the same seed gives the same calendar.
    #[arg(long)]
    seed: Option<u64>,

    /// Write it as appointments into this file, for any calendar program.
    #[arg(long, value_name = "FILE.ics")]
    ics: Option<std::path::PathBuf>,
}

impl Calendar {
    /// Asks for the calendar.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            from: self.from.clone(),
            now_micros: context.now_micros,
            targets: [self.targets.as_slice(), &self.also].concat(),
            since: self.since,
            moves: self.moves,
            seed: self.seed,
        };
        context.with_job("calendar", |folder| {
            let mut report = app::calendar::calendar(folder, &asked);
            if let Some(file) = self.ics.as_deref().filter(|_| !report.refused) {
                app::calendar::save_appointments(&mut report, &asked, file);
            }
            report
        })
    }
}
