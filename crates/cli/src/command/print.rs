//! `matchmark print`: papers as PDF.

use std::path::PathBuf;

use app::print::{Asked, Press};
use clap::Args;
use report::Report;

use crate::context::Context;

/// Print papers as PDF; without a name, list what there is.
#[derive(Debug, Args)]
pub struct Print {
    /// Which papers: tags, tightening, bolt-card … `matchmark print` lists them.
    what: Vec<String>,
    /// Every paper there is something to print on.
    #[arg(long)]
    all: bool,
    /// The folder to write into; without it, `papers` in the folder of the job.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// The sheet in the printer: a4 or letter.
    #[arg(long, value_name = "SIZE")]
    paper: Option<String>,
    /// Only this joint, for tightening sheets and bolt cards; give it again for another.
    #[arg(long = "of", value_name = "JOINT")]
    of: Vec<String>,
    /// What is to be got at, while nothing is off yet: for what to buy and for job sheets.
    #[arg(long = "for", value_name = "PART", num_args = 1..)]
    targets: Vec<String>,
    /// The labels by their measures, such as 63.5x38.1; without it, plain paper to be cut.
    #[arg(long, value_name = "MEASURES")]
    labels: Option<String>,
    /// Labels gone already from the first sheet, from the top left.
    #[arg(long, value_name = "COUNT", default_value_t = 0)]
    skip: usize,
    /// Where the pages of this job are served; each label gets a square that opens its own.
    #[arg(long, value_name = "http://…")]
    address: Option<String>,
    /// The scale of a bolt card: 1:1, 1:2.
    #[arg(long, value_name = "SCALE")]
    scale: Option<String>,
    /// Who is at work, for job sheets; give it again for a second pair of hands. Without it,
    /// those who are there next by the shop file.
    #[arg(long = "at-work", value_name = "WHO")]
    at_work: Vec<String>,
    /// How long they are there, for job sheets, such as 3h; without it, as the shop file has it.
    #[arg(long, value_name = "TIME")]
    hours: Option<String>,
    /// The job as it stood after this entry.
    #[arg(long, value_name = "ENTRY")]
    at: Option<u64>,
}

impl Print {
    /// Prints them.
    pub fn ask(&self, context: &Context) -> Report {
        let asked = Asked {
            what: self.what.clone(),
            all: self.all,
            out: self.out.clone(),
            paper: self.paper.clone(),
            of: self.of.clone(),
            targets: self.targets.clone(),
            labels: self.labels.clone(),
            skip: self.skip,
            address: self.address.clone(),
            scale: self.scale.clone(),
            at_work: self.at_work.clone(),
            hours: self.hours.clone(),
            at: self.at,
            now_micros: context.now_micros,
        };
        context.with_job("print", |folder| app::print::print(folder, &asked, press()))
    }
}

/// The press of this build, if it has one.
#[cfg(feature = "paper")]
pub fn press() -> Option<Press> {
    Some(|paper, size| {
        let pressed = press::pdf(paper, size).map_err(|fault| fault.to_string())?;
        Ok(app::print::Pressed {
            pdf: pressed.pdf,
            pages: pressed.pages,
        })
    })
}

/// The press of this build, if it has one.
#[cfg(not(feature = "paper"))]
pub fn press() -> Option<Press> {
    None
}
