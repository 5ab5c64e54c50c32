//! The texts of the demo's life: days, hours, people and typed lines.

use job::Act;
use record::NewEntry;

/// One part of the life, as it is told.
#[derive(Clone, Copy, Debug)]
pub struct Chapter {
    /// Its file name in the repository and in the job folder.
    pub name: &'static str,
    text: &'static str,
}

/// The life in its order.
pub const LIFE: [Chapter; 8] = [
    Chapter {
        name: "1-apart.txt",
        text: include_str!("../../demo/1-apart.txt"),
    },
    Chapter {
        name: "2-measured.txt",
        text: include_str!("../../demo/2-measured.txt"),
    },
    Chapter {
        name: "3-heads-on.txt",
        text: include_str!("../../demo/3-heads-on.txt"),
    },
    Chapter {
        name: "4-cover-again.txt",
        text: include_str!("../../demo/4-cover-again.txt"),
    },
    Chapter {
        name: "5-together.txt",
        text: include_str!("../../demo/5-together.txt"),
    },
    Chapter {
        name: "6-put-right.txt",
        text: include_str!("../../demo/6-put-right.txt"),
    },
    Chapter {
        name: "7-first-start.txt",
        text: include_str!("../../demo/7-first-start.txt"),
    },
    Chapter {
        name: "8-written-up.txt",
        text: include_str!("../../demo/8-written-up.txt"),
    },
];

/// A line of a life that cannot be read.
#[derive(Debug, thiserror::Error)]
#[error("{file}:{line}: {why}")]
pub struct LifeFault {
    /// The file.
    pub file: String,
    /// The line in it, from 1.
    pub line: usize,
    /// What is wrong.
    pub why: String,
}

impl Chapter {
    /// The text as it stands in the repository.
    #[must_use]
    pub const fn text(&self) -> &'static str {
        self.text
    }

    /// The entries of the chapter, with times from its own days and hours.
    ///
    /// # Errors
    /// [`LifeFault`] for the first line that is no day, no entry and no comment.
    pub fn entries(&self) -> Result<Vec<NewEntry>, LifeFault> {
        read(self.name, self.text)
    }
}

/// Reads a life: `## 2026-03-02 …` begins a day, `18:40 ana | off runners: …` is an entry,
/// `# …` is a remark.
///
/// # Errors
/// [`LifeFault`] for the first line that is none of these.
pub fn read(file: &str, text: &str) -> Result<Vec<NewEntry>, LifeFault> {
    let mut day = None;
    let mut entries = Vec::new();
    for (at, line) in text.lines().enumerate() {
        let fault = |why: String| LifeFault {
            file: file.to_owned(),
            line: at + 1,
            why,
        };
        if let Some(heading) = line.strip_prefix("## ") {
            let date = heading.split_whitespace().next().unwrap_or_default();
            day = Some(
                date.parse::<jiff::civil::Date>()
                    .map_err(|why| fault(why.to_string()))?,
            );
        } else if !line.trim().is_empty() && !line.starts_with('#') {
            let day =
                day.ok_or_else(|| fault("an entry stands before the first day".to_owned()))?;
            entries.push(entry(file, at, line, day).map_err(fault)?);
        }
    }
    Ok(entries)
}

fn entry(file: &str, at: usize, line: &str, day: jiff::civil::Date) -> Result<NewEntry, String> {
    let (head, typed) = line
        .split_once('|')
        .ok_or("a line is `HH:MM who | what was typed`")?;
    let (clock, author) = head
        .trim()
        .split_once(' ')
        .ok_or("the hour and the person stand before the bar")?;
    let time: jiff::civil::Time = clock.parse().map_err(|why: jiff::Error| why.to_string())?;
    let moment = jiff::tz::Offset::UTC
        .to_timestamp(day.to_datetime(time))
        .map_err(|why| why.to_string())?;
    let typed = typed.trim();
    let act: Act = job::line::read_line(typed).map_err(|fault| fault.to_string())?;
    Ok(NewEntry {
        client_id: format!("{}-{}", file.trim_end_matches(".txt"), at + 1),
        author: author.trim().to_owned(),
        time_micros: moment.as_microsecond(),
        zone: Some("UTC".to_owned()),
        kind: act.kind().to_owned(),
        format_version: job::line::GRAMMAR,
        line: typed.to_owned(),
    })
}
