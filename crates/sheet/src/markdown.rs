//! A paper as Markdown (CommonMark with tables), its photographs beside it.
//!
//! For a reader who wants to change the words, or put them where Markdown is read. What it
//! says is what the other forms say; drawings are left out and told in words.

use report::{Align, Cell, Table};

use crate::paper::{Act, Block, Body, Margin, Paper, Photo, Pulls, Shown, Tick, with_boxes};

/// A paper in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Markdown {
    /// The text.
    pub text: String,
    /// The photographs, by the names the text has for them, below the folder it was given.
    pub photos: Vec<(String, Vec<u8>)>,
}

/// Writes a paper that flows; `folder` is where the photographs will lie, as seen from the
/// text. Labels and bolt cards are measured in millimetres: for them there is nothing to write.
#[must_use]
pub fn write(paper: &Paper, folder: &str) -> Option<Markdown> {
    let Body::Pages(_, blocks) = &paper.body else {
        return None;
    };
    let chapters = blocks.iter().filter_map(|block| match block {
        Block::Heading(1, text) | Block::Chapter(text, _) => Some(plain(text)),
        _ => None,
    });
    let mut page = Page {
        folder: folder.to_owned(),
        chapters: chapters.collect(),
        ..Page::default()
    };
    page.put(&format!("# {}", plain(&paper.title)));
    page.put(&format!("{}, {}", plain(&paper.job), paper.day));
    if let Some(warning) = &paper.warning {
        page.put(&format!("**{}**", plain(warning)));
    }
    page.blocks(blocks);
    Some(Markdown {
        text: page.text,
        photos: page.photos,
    })
}

#[derive(Debug, Default)]
struct Page {
    text: String,
    folder: String,
    /// The highest headings, in their order.
    chapters: Vec<String>,
    photos: Vec<(String, Vec<u8>)>,
}

impl Page {
    /// A paragraph, an empty line before it.
    fn put(&mut self, text: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.text.push_str(text.trim_end());
        self.text.push('\n');
    }

    fn list(&mut self, lines: impl IntoIterator<Item = String>) {
        let lines: Vec<String> = lines.into_iter().map(|line| format!("* {line}")).collect();
        if !lines.is_empty() {
            self.put(&lines.join("\n"));
        }
    }

    fn blocks(&mut self, blocks: &[Block]) {
        for block in blocks {
            self.block(block);
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Heading(level, text) => {
                let signs = "#".repeat(usize::from(*level) + 1);
                self.put(&format!("{signs} {}", plain(text)));
            }
            Block::Chapter(text, blocks) => {
                self.put(&format!("## {}", plain(text)));
                self.blocks(blocks);
            }
            Block::Words(text) | Block::Small(text) => self.put(&plain(text)),
            Block::Outcome(verdict, says) => {
                let word = verdict.map(|verdict| format!("**{}** ", verdict.word()));
                self.put(&format!("{}{}", word.unwrap_or_default(), plain(says)));
            }
            Block::Figures(figures) => self.list(figures.iter().map(shown)),
            Block::Rows(table) => self.put(&rows(table)),
            Block::TickRows(table) => self.put(&rows(&with_boxes(table))),
            Block::List(lines) => self.list(lines.iter().map(|line| plain(line))),
            Block::Boxes(ticks) => self.list(ticks.iter().map(tick)),
            Block::Acts(acts) => self.list(acts.iter().map(act)),
            Block::Pulls(pulls) => self.put(&pulled(pulls)),
            Block::Drawing { told, .. } => self.put(&format!("*{}*", plain(told))),
            Block::Photo(photo) => self.photo(photo),
            Block::Noticed(finding) => {
                let next = finding.next.as_ref().map(|next| format!(" Next: {next}"));
                let next = next.unwrap_or_default();
                self.put(&plain(&format!(
                    "{}: {}.{next}",
                    finding.concerns, finding.says
                )));
            }
            Block::Care(caution) => self.put(&format!(
                "> **{}**: {}",
                plain(&caution.act),
                plain(&caution.says)
            )),
            Block::Margin(margin) => self.margin(margin),
            Block::Beside(left, right) => {
                self.blocks(left);
                self.blocks(right);
            }
            Block::Contents => self.list(self.chapters.clone()),
            Block::Write(..) | Block::NewPage => {}
        }
    }

    fn margin(&mut self, margin: &Margin) {
        let lines: Vec<String> = margin
            .lines
            .iter()
            .map(|line| format!("> * {}", plain(line)))
            .collect();
        self.put(&format!(
            "> **{}**\n>\n{}",
            plain(&margin.heading),
            lines.join("\n")
        ));
    }

    fn photo(&mut self, photo: &Photo) {
        let ending = if photo.bytes.starts_with(b"\x89PNG") {
            "png"
        } else {
            "jpg"
        };
        let name = format!("{}.{ending}", self.photos.len() + 1);
        self.put(&format!(
            "![{}](<{}/{name}>)",
            plain(&photo.told),
            self.folder
        ));
        self.put(&format!("*{}*", plain(&photo.caption)));
        self.list(
            (1..)
                .zip(&photo.marks)
                .map(|(number, mark)| format!("{number}: {}", plain(&mark.says))),
        );
        self.photos.push((name, photo.bytes.clone()));
    }
}

fn shown(figure: &Shown) -> String {
    let note = figure
        .note
        .as_ref()
        .map(|note| format!(" ({})", plain(note)));
    format!(
        "{}: **{}**{}",
        plain(&figure.label),
        plain(&figure.shown),
        note.unwrap_or_default()
    )
}

fn tick(tick: &Tick) -> String {
    let sign = if tick.done { "[x]" } else { "[ ]" };
    let end = tick.end.as_ref().map(|end| format!(" {}", plain(end)));
    format!("{sign} {}{}", plain(&tick.says), end.unwrap_or_default())
}

fn act(act: &Act) -> String {
    let mut words = vec![format!("**{}** {}", plain(&act.number), plain(&act.says))];
    words.extend(act.place.as_deref().map(plain));
    words.extend(act.with.iter().map(|with| plain(with)));
    words.extend(act.figures.iter().map(shown));
    words.extend(act.noticed.iter().map(|one| plain(&one.says)));
    let cautions = act.cautions.iter();
    words.extend(cautions.map(|one| format!("**{}**: {}", plain(&one.act), plain(&one.says))));
    let last = act.last_chance.iter();
    words.extend(last.map(|line| format!("last chance: {}", plain(line))));
    words.join("; ")
}

fn pulled(pulls: &Pulls) -> String {
    let stages = pulls.stages.iter();
    let head: Vec<String> = ["turn", "hole", "bolt"]
        .map(str::to_owned)
        .into_iter()
        .chain(stages.map(|stage| format!("{}, {}", stage.name, stage.setting)))
        .collect();
    let body = pulls.bolts.iter().map(|bolt| {
        let had = bolt.had.iter().map(|had| match had {
            None => String::new(),
            Some(true) => "done".to_owned(),
            Some(false) => "[ ]".to_owned(),
        });
        let first = [
            bolt.number.to_string(),
            bolt.hole.clone(),
            bolt.label.clone(),
        ];
        first.into_iter().chain(had).collect()
    });
    grid(&head, &vec![":--"; head.len()], body)
}

/// Rows under headings; columns without a heading are for scripts.
fn rows(table: &Table) -> String {
    let shown: Vec<usize> = (0..table.columns.len())
        .filter(|at| !table.columns[*at].heading.is_empty())
        .collect();
    let head: Vec<String> = shown
        .iter()
        .map(|at| table.columns[*at].heading.to_owned())
        .collect();
    let sides: Vec<&str> = shown
        .iter()
        .map(|at| match table.columns[*at].align {
            Align::Left => ":--",
            Align::Right => "--:",
        })
        .collect();
    let body = table.rows.iter().map(|row| {
        let cells = shown
            .iter()
            .map(|at| row.get(*at).map_or(String::new(), cell));
        cells.collect()
    });
    grid(&head, &sides, body)
}

fn grid(head: &[String], sides: &[&str], body: impl Iterator<Item = Vec<String>>) -> String {
    let line = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|cell| plain(cell)).collect();
        format!("| {} |", cells.join(" | "))
    };
    let mut lines = vec![line(head), format!("|{}|", sides.join("|"))];
    lines.extend(body.map(|row| line(&row)));
    lines.join("\n")
}

fn cell(held: &Cell) -> String {
    match held {
        Cell::None => String::new(),
        Cell::Text(text) | Cell::Number(_, text) => text.clone(),
        Cell::Figure(figure) => figure.shown.clone(),
        Cell::Verdict(verdict) => verdict.word().to_owned(),
        Cell::List(words) => words.join(", "),
        Cell::Flag(yes) => if *yes { "yes" } else { "no" }.to_owned(),
    }
}

/// Words with the signs that Markdown would read as its own put behind a backslash.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '*' | '_' | '`' | '[' | ']' | '<' | '|' | '\\' => {
                plain.push('\\');
                plain.push(sign);
            }
            '\n' | '\r' => plain.push(' '),
            _ => plain.push(sign),
        }
    }
    // A line that begins like a heading, quote or list would be read as one.
    if plain.starts_with(['#', '>', '+', '-']) {
        plain.insert(0, '\\');
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_of_markdown_stay_what_was_typed() {
        assert_eq!(
            plain("M8x1.25 *long* | <0.04"),
            "M8x1.25 \\*long\\* \\| \\<0.04"
        );
        assert_eq!(plain("# 3"), "\\# 3");
    }

    #[test]
    fn a_photo_lies_beside_the_text() {
        let paper = Paper {
            name: "how-to".to_owned(),
            title: "Heads off".to_owned(),
            job: "invented".to_owned(),
            day: book::Date::read("2026-03-02").unwrap(),
            warning: None,
            body: Body::Pages(
                crate::paper::Reading::Desk,
                vec![
                    Block::Heading(1, "Layer 1".to_owned()),
                    Block::Photo(Photo {
                        bytes: b"\xFF\xD8\xFF".to_vec(),
                        told: "the cover".to_owned(),
                        caption: "Cover, eight bolts".to_owned(),
                        ..Photo::default()
                    }),
                ],
            ),
        };
        let written = write(&paper, "how-to-photos").unwrap();
        assert!(written.text.contains("## Layer 1\n"));
        assert!(written.text.contains("![the cover](<how-to-photos/1.jpg>)"));
        assert_eq!(written.photos[0].0, "1.jpg");
        let page = crate::hypertext::whole(&paper).unwrap();
        assert!(
            page.contains("data:image/jpeg;base64,/9j/"),
            "RFC 4648 of FF D8 FF"
        );
        assert!(!page.contains("src=\"http"));
    }
}
