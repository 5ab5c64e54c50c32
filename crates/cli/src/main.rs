//! The program `matchmark`: reads the command line, asks the use case, prints the answer.
//!
//! Nothing is computed here. Exit status: 0 answered; 1 answered and not clean; 2 could not
//! answer or could not understand.

mod command;
mod context;
mod drawings;
mod help;

use std::io::{IsTerminal, Write};
use std::process::ExitCode;

use clap::{FromArgMatches, Parser};
use report::{Finding, Report};
use sheet::terminal::Terminal;

use crate::command::Command;
use crate::context::Context;

/// The heading over what every command takes.
const EVERYWHERE: &str = "For every command";

/// For people who open an engine and must get it back together right.
#[derive(Debug, Parser)]
#[command(name = "matchmark", version, max_term_width = 80)]
struct Program {
    // Under a heading of their own they do not stand between the options of a command.
    /// Print one JSON object instead of text.
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    json: bool,

    /// The folder of the job; without it, the folder you stand in.
    #[arg(long, global = true, help_heading = EVERYWHERE, value_name = "DIR")]
    job: Option<std::path::PathBuf>,

    /// Write the drawings of the answer, where it has some, into this file.
    #[arg(long, global = true, help_heading = EVERYWHERE, value_name = "FILE.svg")]
    draw: Option<std::path::PathBuf>,

    /// Write the rows of the answer into this file, for other programs.
    #[arg(long, global = true, help_heading = EVERYWHERE, value_name = "FILE.csv|FILE.xlsx")]
    table: Option<std::path::PathBuf>,

    #[command(subcommand)]
    command: Command,
}

fn main() -> ExitCode {
    let read = help::command_line()
        .try_get_matches()
        .and_then(|matches| Program::from_arg_matches(&matches));
    let program = match read {
        Ok(program) => program,
        Err(fault) => return misread(&fault),
    };
    let context = Context::from_surroundings(program.job);
    let mut report = program.command.ask(&context);
    let drawn = match &program.draw {
        Some(file) if !report.refused => drawings::write(&mut report, file),
        Some(_) | None => Vec::new(),
    };
    if let Some(file) = program.table.as_deref().filter(|_| !report.refused) {
        app::rows::save(&mut report, file);
    }
    let status = print(&report, program.json);
    for line in drawn {
        // Whoever closed standard error does not want to know.
        let _ = write(&mut std::io::stderr(), &format!("{line}\n"));
    }
    status
}

/// What clap could not read: its own words on a terminal, one JSON object when asked.
fn misread(fault: &clap::Error) -> ExitCode {
    let wants_json = std::env::args_os().any(|argument| argument == "--json");
    if !fault.use_stderr() || !wants_json {
        // A closed pipe is the reader's choice, not a fault of ours.
        let _ = fault.print();
        return ExitCode::from(if fault.use_stderr() { 2 } else { 0 });
    }
    let says = fault.render().to_string();
    let finding = Finding::new("command-line", "", says.trim()).next("matchmark --help");
    print(
        &Report::refusal("matchmark", "The command line was not understood", finding),
        true,
    )
}

/// Commands whose text is one part of their answer and is read in its place: the turn of the
/// bolts between what to set and what is done.
const TEXT_IN_PLACE: [&str; 1] = ["tighten"];

/// Prints an answer. Where a text is itself the answer (a build book), it alone goes to
/// standard output, so that it can be sent into a file; what is said beside it goes to
/// standard error, as refusals do.
fn print(report: &Report, json: bool) -> ExitCode {
    let written = match (json, &report.text) {
        (true, _) => write(&mut std::io::stdout(), &wire::json(report)),
        (false, Some(_)) if TEXT_IN_PLACE.contains(&report.command) => {
            write(&mut std::io::stdout(), &on_stdout().write(report))
        }
        (false, Some(text)) => {
            let beside = Report {
                text: None,
                ..report.clone()
            };
            write(&mut std::io::stdout(), &format!("{}\n", text.trim_end())).and_then(|()| {
                write(
                    &mut std::io::stderr(),
                    on_stderr().write(&beside).trim_start(),
                )
            })
        }
        (false, None) if report.refused => {
            write(&mut std::io::stderr(), &on_stderr().write(report))
        }
        (false, None) => write(&mut std::io::stdout(), &on_stdout().write(report)),
    };
    match written {
        Ok(()) => ExitCode::from(report.exit_status()),
        Err(_) => ExitCode::from(2),
    }
}

fn write(to: &mut dyn Write, text: &str) -> std::io::Result<()> {
    to.write_all(text.as_bytes())
}

fn on_stdout() -> Terminal {
    screen(std::io::stdout().is_terminal())
}

fn on_stderr() -> Terminal {
    screen(std::io::stderr().is_terminal())
}

/// The honest width: what the terminal says, at most 100, and 80 where none is looking, as
/// in a file or a pipe. Paint goes only where it is seen and wanted.
fn screen(seen: bool) -> Terminal {
    let width = if seen {
        terminal_size::terminal_size()
            .map_or(80, |(width, _)| usize::from(width.0))
            .clamp(40, 100)
    } else {
        80
    };
    let paint = seen && std::env::var_os("NO_COLOR").is_none();
    Terminal { width, paint }
}
