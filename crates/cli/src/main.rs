//! The program `matchmark`: reads the command line, asks the use case, prints the answer.
//!
//! Nothing is computed here. Exit status: 0 answered; 1 answered and not clean; 2 could not
//! answer or could not understand.

mod command;
mod context;

use std::io::{IsTerminal, Write};
use std::process::ExitCode;

use clap::Parser;
use report::{Finding, Report};

use crate::command::Command;
use crate::context::Context;

/// For people who open an engine and must get it back together right.
#[derive(Debug, Parser)]
#[command(
    name = "matchmark",
    version,
    max_term_width = 80,
    disable_help_subcommand = true
)]
struct Program {
    /// Print one JSON object instead of text.
    #[arg(long, global = true)]
    json: bool,

    /// The folder of the job; without it, the folder you stand in.
    #[arg(long, global = true, value_name = "DIR")]
    job: Option<std::path::PathBuf>,

    #[command(subcommand)]
    command: Command,
}

fn main() -> ExitCode {
    let program = match Program::try_parse() {
        Ok(program) => program,
        Err(fault) => return misread(&fault),
    };
    let context = Context::from_surroundings(program.job);
    let report = program.command.ask(&context);
    print(&report, program.json)
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

/// Prints an answer. Where a text is itself the answer (a build book), it alone goes to
/// standard output, so that it can be sent into a file; what is said beside it goes to
/// standard error, as refusals do.
fn print(report: &Report, json: bool) -> ExitCode {
    let written = match (json, &report.text) {
        (true, _) => write(&mut std::io::stdout(), &wire::json(report)),
        (false, Some(text)) => {
            let beside = Report {
                text: None,
                ..report.clone()
            };
            write(&mut std::io::stdout(), &format!("{}\n", text.trim_end())).and_then(|()| {
                write(
                    &mut std::io::stderr(),
                    terminal().write(&beside).trim_start(),
                )
            })
        }
        (false, None) if report.refused => write(&mut std::io::stderr(), &terminal().write(report)),
        (false, None) => write(&mut std::io::stdout(), &terminal().write(report)),
    };
    match written {
        Ok(()) => ExitCode::from(report.exit_status()),
        Err(_) => ExitCode::from(2),
    }
}

fn write(to: &mut dyn Write, text: &str) -> std::io::Result<()> {
    to.write_all(text.as_bytes())
}

fn terminal() -> sheet::terminal::Terminal {
    let wide = textwrap_width();
    let paint = std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    sheet::terminal::Terminal { width: wide, paint }
}

/// The honest width: what the terminal says, at most 100, 80 when nobody is looking.
fn textwrap_width() -> usize {
    if std::io::stdout().is_terminal() {
        terminal_size::terminal_size()
            .map_or(80, |(width, _)| usize::from(width.0))
            .clamp(40, 100)
    } else {
        80
    }
}
