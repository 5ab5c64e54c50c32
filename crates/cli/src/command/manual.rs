//! `matchmark completions SHELL` and `matchmark man DIR`, hidden: for whoever packs the
//! program.

use std::path::PathBuf;

use clap::Args;
use clap_complete::Shell;
use report::{Align, Cell, Finding, Report, Table};

use crate::help::command_line;

/// Print the completions for a shell.
#[derive(Debug, Args)]
pub struct Completions {
    /// The shell.
    shell: Shell,
}

impl Completions {
    /// Writes the script; it is the answer.
    pub fn ask(&self) -> Report {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut command_line(), "matchmark", &mut script);
        let mut report = Report::new("completions", "");
        report.text = Some(String::from_utf8_lossy(&script).into_owned());
        report
    }
}

/// Write the manual pages into a folder.
#[derive(Debug, Args)]
pub struct Man {
    /// The folder; it is made if it is not there.
    dir: PathBuf,
}

impl Man {
    /// Writes the pages.
    pub fn ask(&self) -> Report {
        let written = std::fs::create_dir_all(&self.dir)
            .and_then(|()| clap_mangen::generate_to(command_line(), &self.dir))
            .and_then(|()| pages(&self.dir));
        let names = match written {
            Ok(names) => names,
            Err(why) => {
                let finding = Finding::new(
                    "man-not-written",
                    self.dir.display().to_string(),
                    format!("the pages could not be written: {why}"),
                )
                .next("name a folder that may be written to");
                return Report::refusal("man", "Manual pages", finding);
            }
        };
        let mut report = Report::new("man", "Manual pages");
        report.headline = Some(format!("{} pages in {}.", names.len(), self.dir.display()));
        let mut table = Table::new(&[("page", "", Align::Left)]);
        for name in names {
            table.push(vec![Cell::from(name)]);
        }
        report.rows = table;
        report
    }
}

/// The manual pages in a folder, by name.
fn pages(dir: &std::path::Path) -> std::io::Result<Vec<String>> {
    let mut names = Vec::new();
    for file in std::fs::read_dir(dir)? {
        let name = file?.file_name().to_string_lossy().into_owned();
        if name.ends_with(".1") {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}
