//! Writing a paper to read into a file: HTML that stands alone, Markdown with its photographs
//! in a folder beside it, or PDF where this program has a press. The ending of the file says
//! which.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use report::{Finding, Report, Weight};
use sheet::paper::{Paper, Size};
use sheet::{hypertext, markdown};

use crate::folder::Folder;
use crate::option::Options;
use crate::print::{self, Press};

/// A question answered twice: in short for the terminal, and in full as a paper.
#[derive(Clone, Debug)]
pub struct Told {
    /// The short answer.
    pub report: Report,
    /// The whole of it; nothing where the question was refused.
    pub paper: Option<Paper>,
}

/// Writes the paper into a file, if one was named, and says so in the answer. `sheet` is the
/// sheet in the printer as it was typed, for a PDF.
#[must_use]
pub fn saved(
    folder: &Folder,
    told: Told,
    to: Option<&Path>,
    sheet: Option<&str>,
    press: Option<Press>,
) -> Report {
    let mut report = told.report;
    let mut options = Options::of(report.command);
    let size = print::size(folder, sheet, &mut options);
    if !options.clean() {
        return options.refusal(report.title);
    }
    match (to, &told.paper) {
        (Some(to), Some(paper)) => match save(paper, to, size, press) {
            Ok(files) => {
                for file in files {
                    let says = format!("written: {}", file.display());
                    report
                        .findings
                        .insert(0, Finding::new("written", "", says).weight(Weight::Note));
                }
            }
            Err(finding) => return Report::refusal(report.command, report.title, *finding),
        },
        (None, Some(_)) => {
            let command = report.command;
            report.findings.push(
                Finding::new("file", "", "this is the list of chapters only")
                    .next(format!(
                        "matchmark {command} --to FILE.html (or .md, .pdf) writes it"
                    ))
                    .weight(Weight::Note),
            );
        }
        (_, None) => {}
    }
    report
}

fn save(
    paper: &Paper,
    to: &Path,
    size: Size,
    press: Option<Press>,
) -> Result<Vec<PathBuf>, Box<Finding>> {
    let ending = to
        .extension()
        .map(|ending| ending.to_string_lossy().to_lowercase());
    let fault = |why: io::Error| {
        let says = format!("could not be written: {why}");
        Box::new(
            Finding::new("file", to.display().to_string(), says)
                .next("name a file in a folder that is there and may be written to"),
        )
    };
    match ending.as_deref() {
        Some("html" | "htm") => {
            let page = hypertext::whole(paper).ok_or_else(|| no_form(to))?;
            whole(to, page.as_bytes()).map_err(fault)?;
            Ok(vec![to.to_owned()])
        }
        Some("md" | "markdown") => {
            let stem = to.file_stem().unwrap_or_default().to_string_lossy();
            let name = format!("{stem}-photos");
            let written = markdown::write(paper, &name).ok_or_else(|| no_form(to))?;
            let folder = to.with_file_name(&name);
            // The folder beside it, and none above: a name typed wrong makes no new places.
            if !written.photos.is_empty() && !folder.is_dir() {
                fs::create_dir(&folder).map_err(fault)?;
            }
            for (name, bytes) in &written.photos {
                whole(&folder.join(name), bytes).map_err(fault)?;
            }
            whole(to, written.text.as_bytes()).map_err(fault)?;
            let photos = (!written.photos.is_empty()).then_some(folder);
            Ok(photos.into_iter().chain([to.to_owned()]).collect())
        }
        Some("pdf") => {
            let press = press.ok_or_else(|| Box::new(print::how_to_get_it()))?;
            let pressed = press(paper, size).map_err(|why| {
                let finding = Finding::new("not-pressed", to.display().to_string(), why);
                Box::new(finding.next("put it right and write it again"))
            })?;
            whole(to, &pressed.pdf).map_err(fault)?;
            Ok(vec![to.to_owned()])
        }
        _ => Err(no_form(to)),
    }
}

fn no_form(to: &Path) -> Box<Finding> {
    let says = "the ending does not say how to write it";
    Box::new(
        Finding::new("file", to.display().to_string(), says).next(
            "end the name in .html (one file, photographs in it), .md (words) or .pdf (paper)",
        ),
    )
}

/// A file that appears whole or stays as it was.
pub(crate) fn whole(to: &Path, bytes: &[u8]) -> io::Result<()> {
    let beside = match to.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        Some(_) | None => Path::new("."),
    };
    // Made as any file is, so that others may read it where the system lets them.
    let mut part = tempfile::Builder::new().make_in(beside, |path| fs::File::create_new(path))?;
    part.write_all(bytes)?;
    part.as_file().sync_all()?;
    part.persist(to).map_err(|fault| fault.error)?;
    Ok(())
}
