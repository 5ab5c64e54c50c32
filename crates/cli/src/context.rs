//! What a command knows of its surroundings: the job folder, the person, the clock.

use std::path::PathBuf;

use app::folder::{Folder, FolderFault, Hand};
use report::Report;

/// Surroundings, read once at the start and handed down as values.
#[derive(Debug)]
pub struct Context {
    /// The job folder, as named or the folder one stands in.
    pub job: PathBuf,
    /// Whether the folder was named, and must hold a job.
    pub job_named: bool,
    /// Who is at work, for the record.
    pub author: String,
    /// Now, in microseconds since 1970-01-01 UTC.
    pub now_micros: i64,
}

impl Context {
    /// Reads the surroundings.
    pub fn from_surroundings(job: Option<PathBuf>) -> Self {
        let author = ["MATCHMARK_WHO", "USER", "USERNAME"]
            .iter()
            .find_map(std::env::var_os)
            .map_or_else(
                || "me".to_owned(),
                |name| name.to_string_lossy().into_owned(),
            );
        Self {
            job_named: job.is_some(),
            job: job.unwrap_or_else(|| PathBuf::from(".")),
            author,
            now_micros: jiff::Timestamp::now().as_microsecond(),
        }
    }

    /// Opens the job and asks, or says why it could not be opened.
    pub fn with_job(
        &self,
        command: &'static str,
        ask: impl FnOnce(&mut Folder) -> Report,
    ) -> Report {
        match Folder::open(&self.job) {
            Ok(mut folder) => ask(&mut folder),
            Err(fault) => fault.refusal(command),
        }
    }

    /// Asks with the job, where there is one: a folder that was named must hold a job, the
    /// one stood in need not.
    pub fn with_any_job(
        &self,
        command: &'static str,
        ask: impl FnOnce(Option<&Folder>) -> Report,
    ) -> Report {
        match Folder::open(&self.job) {
            Ok(folder) => ask(Some(&folder)),
            Err(FolderFault::NoJob { .. }) if !self.job_named => ask(None),
            Err(fault) => fault.refusal(command),
        }
    }

    /// Who writes, and when.
    pub fn hand(&self) -> Hand {
        Hand {
            author: self.author.clone(),
            micros: self.now_micros,
            client: format!("cli-{}-{}", self.now_micros, std::process::id()),
        }
    }
}
