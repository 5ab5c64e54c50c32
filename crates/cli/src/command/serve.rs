//! `matchmark serve`: the job as pages, for a phone at the vehicle.

use std::io::{IsTerminal, Write};
use std::path::Path;

use clap::Args;
use report::{Finding, Report};
use web::serve::{self, Open, ServeFault, Wish};

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
    /// Let others on the network in, by a pairing link.
    #[arg(long)]
    lan: bool,

    /// The port; 0 takes a free one.
    #[arg(long, default_value_t = serve::PORT)]
    port: u16,

    /// A name of this machine on its network, beside its addresses; may be said again.
    #[arg(long = "name", value_name = "NAME")]
    names: Vec<String>,
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
        let wish = Wish {
            job: job.to_owned(),
            port: self.port,
            lan: self.lan,
            names: self.names.clone(),
            keeper: author.to_owned(),
        };
        match serve::serve(&wish, |open| say(open, job)) {
            Ok(()) => {
                let mut report = Report::new(command, "The pages");
                report.headline = Some("Closed. Every entry is in the record.".to_owned());
                report
            }
            Err(ServeFault::Folder(fault)) => fault.refusal(command),
            Err(fault) => {
                let next = match &fault {
                    ServeFault::Listen { .. } => {
                        "end the other program, or name another port: --port 0 takes a free one"
                    }
                    ServeFault::Keys(_) | ServeFault::Folder(_) | ServeFault::System(_) => {
                        "check that the folder is there and may be written to"
                    }
                };
                let finding = Finding::new("serve", "", fault.to_string()).next(next);
                Report::refusal(command, "The pages", finding)
            }
        }
    }
}

/// The address alone on the first line, for people and for programs that start this one.
/// Links with a key go to a terminal only: what is written into a file or a log stays there.
fn say(open: &Open, job: &Path) {
    let mut out = std::io::stdout();
    let mut text = format!("{}\n", open.here);
    if !open.begun {
        text += &format!(
            "No job in {} yet: the pages ask five questions and begin one.\n",
            job.display()
        );
    }
    match &open.pairing {
        None => {}
        Some(links) if out.is_terminal() => {
            text += &format!(
                "\nTo write, point a phone at the square or open\n  {}\n\n{}\nTo look only\n  {}\n\nControl-C closes the pages.\n",
                links.write,
                web::link::square(&links.write).unwrap_or_default(),
                links.look
            );
        }
        Some(_) => {
            text += &format!(
                "On the network too. The keys are in {}: open /pair/KEY to come in.\n",
                job.join(app::folder::KEYS).display()
            );
        }
    }
    // Whoever closed standard output does not want to know.
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}
