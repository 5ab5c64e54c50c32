//! A report as terminal text: at most as wide as asked, readable without colour.
//!
//! One blank line stands between thoughts. Paint is the single accent and is spent only on
//! what must not be missed.

use report::{Align, Cell, Column, Figure, Finding, Report, Row, Verdict, Weight};
use unicode_width::UnicodeWidthStr;

/// How wide to write and whether the terminal shows colour.
#[derive(Clone, Copy, Debug)]
pub struct Terminal {
    /// Columns to stay within; never less than 40.
    pub width: usize,
    /// Whether the accent may be written as colour.
    pub paint: bool,
}

/// The paint pot: bold orange, the one accent.
const PAINT: &str = "\u{1b}[1;38;5;166m";
const DRY: &str = "\u{1b}[0m";

impl Terminal {
    /// Writes a report.
    #[must_use]
    pub fn write(&self, report: &Report) -> String {
        let mut thoughts = vec![self.head(report)];
        if let Some(text) = &report.text {
            thoughts.push(text.trim_end().to_owned());
        }
        thoughts.push(self.figures(&report.figures));
        thoughts.push(self.rows(&report.rows.columns, &report.rows.rows));
        thoughts.push(self.findings(&report.findings));
        thoughts.push(self.asks(report));
        thoughts.push(self.list("Because", report.because.iter().cloned()));
        thoughts.push(
            self.list(
                "Take care",
                report
                    .cautions
                    .iter()
                    .map(|caution| format!("{}: {}", caution.act, caution.says)),
            ),
        );
        thoughts.push(
            self.list(
                "Sources",
                report
                    .sources
                    .iter()
                    .map(|source| format!("{} ({})", source.title, source.kind.word())),
            ),
        );
        thoughts.retain(|thought| !thought.trim().is_empty());
        let mut text = thoughts.join("\n\n");
        text.push('\n');
        text
    }

    /// Writes one line in paint, where there is colour.
    #[must_use]
    pub fn painted(&self, line: &str) -> String {
        if self.paint {
            format!("{PAINT}{line}{DRY}")
        } else {
            line.to_owned()
        }
    }

    /// Fills text into the width, every further line set in by `hang` columns.
    #[must_use]
    pub fn fill(&self, text: &str, first: &str, hang: usize) -> String {
        let rest = " ".repeat(hang);
        let options = textwrap::Options::new(self.width.max(40))
            .initial_indent(first)
            .subsequent_indent(&rest)
            .word_splitter(textwrap::WordSplitter::NoHyphenation)
            .break_words(false);
        textwrap::fill(text, options)
    }

    fn head(&self, report: &Report) -> String {
        let mut lines = Vec::new();
        if !report.title.is_empty() {
            lines.push(self.fill(&report.title, "", 0));
        }
        match (report.verdict, &report.headline) {
            (Some(verdict), headline) => {
                let word = format!("{} {}", verdict.shape(), verdict.word());
                let hang = word.width() + 2;
                let line = match headline {
                    Some(says) => self.fill(says, &format!("{word}  "), hang.min(20)),
                    None => word.clone(),
                };
                lines.push(if loud(verdict) {
                    line.replacen(&word, &self.painted(&word), 1)
                } else {
                    line
                });
            }
            (None, Some(says)) => lines.push(self.fill(says, "", 0)),
            (None, None) => {}
        }
        lines.join("\n")
    }

    fn figures(&self, figures: &[Figure]) -> String {
        let label = figures
            .iter()
            .map(|figure| figure.label.width())
            .max()
            .unwrap_or(0);
        let shown = figures
            .iter()
            .map(|figure| figure.shown.width())
            .max()
            .unwrap_or(0);
        let lines = figures.iter().map(|figure| {
            let start = format!(
                "  {}  {}",
                pad(&figure.label, label, Align::Left),
                pad(&figure.shown, shown, Align::Right)
            );
            match &figure.note {
                Some(note) if label + shown + 8 < self.width / 2 + 20 => {
                    self.fill(note, &format!("{start}  "), label + shown + 6)
                }
                Some(note) => format!("{start}\n{}", self.fill(note, "      ", 6)),
                None => start,
            }
        });
        lines.collect::<Vec<_>>().join("\n")
    }

    /// Writes rows under their headings; the widest column of words gives way when the
    /// rows would not fit.
    #[must_use]
    pub fn rows(&self, columns: &[Column], rows: &[Row]) -> String {
        let shown: Vec<usize> = (0..columns.len())
            .filter(|&at| {
                columns
                    .get(at)
                    .is_some_and(|column| !column.heading.is_empty())
            })
            .collect();
        if rows.is_empty() || shown.is_empty() {
            return String::new();
        }
        let words: Vec<Vec<String>> = std::iter::once(
            shown
                .iter()
                .map(|&at| columns[at].heading.to_owned())
                .collect(),
        )
        .chain(rows.iter().map(|row| {
            shown
                .iter()
                .map(|&at| row.get(at).map(word).unwrap_or_default())
                .collect()
        }))
        .collect();
        let aligns: Vec<Align> = shown.iter().map(|&at| columns[at].align).collect();
        let widths = self.widths(&words, &aligns);
        let lines = words.iter().map(|row| line_of(row, &widths, &aligns));
        lines.collect::<Vec<_>>().join("\n")
    }

    fn widths(&self, words: &[Vec<String>], aligns: &[Align]) -> Vec<usize> {
        let mut widths: Vec<usize> = (0..aligns.len())
            .map(|at| words.iter().map(|row| row[at].width()).max().unwrap_or(0))
            .collect();
        let room = self.width.max(40) - 2;
        let gaps = 2 * widths.len().saturating_sub(1);
        while widths.iter().sum::<usize>() + gaps > room {
            let widest = (0..widths.len())
                .filter(|&at| aligns[at] == Align::Left)
                .max_by_key(|&at| widths[at])
                .filter(|&at| widths[at] > 12);
            let Some(at) = widest else { break };
            widths[at] -= 1;
        }
        widths
    }

    fn findings(&self, findings: &[Finding]) -> String {
        findings
            .iter()
            .map(|finding| self.finding(finding))
            .collect::<Vec<_>>()
            .join("\n")
    }

    fn finding(&self, finding: &Finding) -> String {
        if let Some(written) = &finding.written {
            return format!("{}\n", written.trim_end());
        }
        let mark = match finding.weight {
            Weight::Stop => "//",
            Weight::Look => "> ",
            Weight::Note => "- ",
        };
        let said = finding
            .says
            .to_lowercase()
            .starts_with(&finding.concerns.to_lowercase());
        let concern = if finding.concerns.is_empty() || said {
            String::new()
        } else {
            format!("{}: ", finding.concerns)
        };
        let first = self.fill(
            &format!("{concern}{}", finding.says),
            &format!("{mark} "),
            3,
        );
        let mut lines = vec![if finding.weight == Weight::Stop {
            first.replacen(mark, &self.painted(mark), 1)
        } else {
            first
        }];
        lines.extend(finding.detail.iter().map(|line| self.detail(line)));
        if let Some(what) = &finding.points_to {
            lines.push(self.fill(what, "   points to: ", 14));
        }
        if let Some(act) = &finding.next {
            lines.push(self.fill(act, "   next: ", 9));
        }
        lines.join("\n")
    }

    /// A line under a finding. One that fits stays as it is, spaces and all, because a mark
    /// may point into the line above it; only a longer one is filled.
    fn detail(&self, line: &str) -> String {
        let plain = format!("   {line}");
        if plain.width() <= self.width.max(40) {
            return plain;
        }
        self.fill(line.trim_start(), "   ", 7)
    }

    fn asks(&self, report: &Report) -> String {
        self.list(
            "Still to know",
            report
                .asks
                .iter()
                .map(|ask| format!("{}: {} {}", ask.what, ended(&ask.why), ask.how)),
        )
    }

    fn list(&self, heading: &str, lines: impl Iterator<Item = String>) -> String {
        let lines: Vec<String> = lines.map(|line| self.fill(&line, "  ", 4)).collect();
        if lines.is_empty() {
            String::new()
        } else {
            format!("{heading}\n{}", lines.join("\n"))
        }
    }
}

/// A reason with an end to it, so that what follows does not run into it.
fn ended(why: &str) -> String {
    let why = why.trim_end();
    if why.is_empty() || why.ends_with(['.', '?', '!', ';', ':']) {
        why.to_owned()
    } else {
        format!("{why};")
    }
}

fn loud(verdict: Verdict) -> bool {
    match verdict {
        Verdict::Outside | Verdict::Closed => true,
        Verdict::Within | Verdict::Undecided | Verdict::NotMeasured | Verdict::Open => false,
    }
}

fn word(cell: &Cell) -> String {
    match cell {
        Cell::None => String::new(),
        Cell::Text(text) => text.clone(),
        Cell::Figure(figure) => figure.shown.clone(),
        Cell::Number(_, shown) => shown.clone(),
        Cell::Verdict(verdict) => format!("{} {}", verdict.shape(), verdict.word()),
        Cell::List(words) => words.join(", "),
        Cell::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
    }
}

fn pad(text: &str, width: usize, align: Align) -> String {
    let gap = " ".repeat(width.saturating_sub(text.width()));
    match align {
        Align::Left => format!("{text}{gap}"),
        Align::Right => format!("{gap}{text}"),
    }
}

/// One row, its cells wrapped inside their columns.
fn line_of(cells: &[String], widths: &[usize], aligns: &[Align]) -> String {
    let wrapped: Vec<Vec<String>> = cells
        .iter()
        .zip(widths)
        .map(|(cell, &width)| {
            let options = textwrap::Options::new(width.max(1)).break_words(true);
            textwrap::wrap(cell, options)
                .into_iter()
                .map(std::borrow::Cow::into_owned)
                .collect()
        })
        .collect();
    let height = wrapped.iter().map(Vec::len).max().unwrap_or(1);
    let lines = (0..height).map(|line| {
        let cells: Vec<String> = wrapped
            .iter()
            .zip(widths.iter().zip(aligns))
            .map(|(cell, (&width, &align))| {
                pad(cell.get(line).map_or("", String::as_str), width, align)
            })
            .collect();
        format!("  {}", cells.join("  ")).trim_end().to_owned()
    });
    lines.collect::<Vec<_>>().join("\n")
}
