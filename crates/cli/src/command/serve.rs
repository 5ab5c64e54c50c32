//! `matchmark serve`: the job as pages, for a phone at the vehicle.

use std::io::Write;
use std::path::Path;

use clap::Args;
use report::{Finding, Report};
use web::serve::{self, ServeFault};

use crate::context::Context;

/// Open the job to a phone or tablet at the vehicle.
#[derive(Debug, Args)]
pub struct Serve {
    #[command(flatten)]
    how: How,
}

/// How the pages are served.
#[derive(Debug, Args)]
pub struct How {
    /// The port; 0 takes a free one.
    #[arg(long, default_value_t = serve::PORT)]
    port: u16,
}

impl Serve {
    /// Serves until it is asked to end.
    pub fn ask(&self, context: &Context) -> Report {
        self.how.serve(&context.job, &context.author, "serve")
    }
}

impl How {
    /// Serves the job in a folder until it is asked to end.
    pub fn serve(&self, job: &Path, author: &str, command: &'static str) -> Report {
        let asked = serve::Asked {
            job: job.to_owned(),
            port: self.port,
            keeper: author.to_owned(),
        };
        match serve::serve(&asked, say) {
            Ok(()) => {
                let mut report = Report::new(command, "The pages");
                report.headline = Some("Closed. Every entry is in the record.".to_owned());
                report
            }
            Err(ServeFault::Folder(fault)) => fault.refusal(command),
            Err(fault) => {
                let finding = Finding::new("serve", "", fault.to_string())
                    .next("end the other program, or name another port: --port 0 takes a free one");
                Report::refusal(command, "The pages", finding)
            }
        }
    }
}

/// The first line, for people and for programs that start this one: they read the address.
fn say(address: &str) {
    let mut out = std::io::stdout();
    // Whoever closed standard output does not want to know.
    let _ = writeln!(out, "{address}").and_then(|()| out.flush());
}
