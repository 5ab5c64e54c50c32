//! The page `matchmark --help`: the commands under headings, in the order of a job.
//!
//! The words beside a command are its own; only the headings stand here.

use clap::{ColorChoice, Command, CommandFactory};
use sheet::terminal::Terminal;

use crate::Program;

/// How wide a help page is.
const WIDTH: usize = 80;

const PAGE: Terminal = Terminal {
    width: WIDTH,
    paint: false,
};

/// Headings in the order of a job, with the commands under them.
const GROUPS: &[(&str, &[&str])] = &[
    (
        "A job, line by line",
        &[
            "demo",
            "new",
            "serve",
            "check",
            "log",
            "undo",
            "record",
            "photo",
            "captions",
            "outstanding",
            "gate",
            "write-back",
            "account",
            "how-to",
            "print",
            "copy",
        ],
    ),
    (
        "What comes off, and in what order",
        &[
            "reach",
            "while-open",
            "sequence",
            "calendar",
            "day",
            "hand",
            "turn",
            "last-chance",
            "comeback",
        ],
    ),
    (
        "What goes back where",
        &["mixups", "ends", "tags", "where", "loose", "turned"],
    ),
    (
        "Bolts and figures",
        &[
            "tighten", "torque", "preload", "stretch", "hole", "broken", "convert",
        ],
    ),
    (
        "How the engine runs",
        &[
            "cranking",
            "leakdown",
            "cooling-pressure",
            "gas-test",
            "oil-pressure",
            "trims",
            "vacuum",
            "next-test",
            "options",
        ],
    ),
    (
        "What was measured, and the machine shop",
        &[
            "flatness",
            "finish",
            "bore",
            "clearance",
            "lash",
            "spring",
            "ratio",
            "cut",
            "table",
            "shop-sheet",
        ],
    ),
    (
        "Filling up, first start, proof",
        &[
            "coolant",
            "hydraulic-lock",
            "prime",
            "leads",
            "start",
            "proof",
        ],
    ),
];

/// The command line with its grouped help page.
pub fn command_line() -> Command {
    let plain = Program::command();
    let page = format!(
        "{{about}}\n\n{{usage-heading}} {{usage}}\n\n{}\n\nOptions\n{{options}}\n\n{}",
        grouped(&plain),
        "matchmark COMMAND --help tells more about a command. `matchmark demo` shows a\n\
         whole job; `matchmark new DIR` begins yours."
    );
    plain
        .help_template(page)
        .color(ColorChoice::Auto)
        .mut_subcommands(fitting)
}

/// A command whose usage line fits the page; clap wraps descriptions, not that line.
fn fitting(command: Command) -> Command {
    // Rendering finishes a command, and a finished one takes no global options any more.
    let usage = command.clone().render_usage().to_string();
    let line = format!("matchmark {}", usage.trim_start_matches("Usage:").trim());
    let begin = "Usage: ";
    if begin.len() + line.chars().count() <= WIDTH {
        return command;
    }
    let filled = PAGE.fill(&line, begin, begin.len() + 2);
    command.override_usage(filled.trim_start_matches(begin).to_owned())
}

/// The commands under their headings; what no heading claims stands under the last one.
fn grouped(program: &Command) -> String {
    let known: Vec<&Command> = program
        .get_subcommands()
        .filter(|command| !command.is_hide_set())
        .collect();
    let column = known
        .iter()
        .map(|command| command.get_name().len())
        .max()
        .unwrap_or(0);
    let claimed = |name: &str| GROUPS.iter().any(|(_, names)| names.contains(&name));
    let block = |heading: &str, commands: &[&Command]| {
        let lines: Vec<String> = commands
            .iter()
            .map(|command| line(command, column))
            .collect();
        (!lines.is_empty()).then(|| format!("{heading}\n{}", lines.join("\n")))
    };
    let mut blocks: Vec<String> = GROUPS
        .iter()
        .filter_map(|(heading, names)| {
            let under: Vec<&Command> = names
                .iter()
                .filter_map(|name| known.iter().find(|command| command.get_name() == *name))
                .copied()
                .collect();
            block(heading, &under)
        })
        .collect();
    let rest: Vec<&Command> = known
        .iter()
        .filter(|command| !claimed(command.get_name()))
        .copied()
        .collect();
    blocks.extend(block("More", &rest));
    blocks.join("\n\n")
}

fn line(command: &Command, column: usize) -> String {
    let says = command
        .get_about()
        .map(ToString::to_string)
        .unwrap_or_default();
    let first = format!("  {:column$}  ", command.get_name());
    PAGE.fill(&says, &first, column + 4)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A new command without a heading would sink to the bottom of the page.
    #[test]
    fn every_command_stands_under_one_heading() {
        let program = Program::command();
        for command in program
            .get_subcommands()
            .filter(|command| !command.is_hide_set())
        {
            let times = GROUPS
                .iter()
                .flat_map(|(_, names)| *names)
                .filter(|name| **name == command.get_name())
                .count();
            assert_eq!(
                times,
                1,
                "{} stands under {times} headings",
                command.get_name()
            );
        }
    }
}
