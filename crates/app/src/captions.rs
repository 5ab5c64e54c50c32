//! What was said on a film, as lines for the record, each with its place on the film.
//!
//! A person who films with greasy hands says the line aloud; the telephone writes captions.
//! Captions that are lines as they stand become those lines, all others become notes.

use std::path::Path;

use report::{Align, Cell, Figure, Finding, Report, Table, Weight};

use crate::folder::{Folder, Hand};
use crate::lines;

const COMMAND: &str = "captions";
const TITLE: &str = "Captions of a film";

/// Reads a file of captions (WebVTT or SubRip). With `keep`, its lines go into the record, all
/// of them or none; without, they are only shown. `tape` tells several films apart.
#[must_use]
pub fn captions(
    folder: &mut Folder,
    hand: &Hand,
    file: &Path,
    tape: Option<&str>,
    keep: bool,
) -> Report {
    let shown = file.display().to_string();
    let text = match std::fs::read_to_string(file) {
        Ok(text) => text,
        Err(why) => {
            let finding = Finding::new("file", shown, format!("could not be read: {why}"));
            let next = "name a file of captions, .vtt or .srt";
            return Report::refusal(COMMAND, TITLE, finding.next(next));
        }
    };
    let cues = match files::captions(&shown, &text) {
        Ok(cues) => cues,
        Err(faults) => {
            let mut report = Report::new(COMMAND, TITLE);
            report.findings = faults.iter().map(Finding::from).collect();
            report.refused = true;
            report.headline = Some("Not understood, nothing was stored.".to_owned());
            return report;
        }
    };
    let mut table = Table::new(&[
        ("time", "time", Align::Left),
        ("line", "line", Align::Left),
        ("as", "as", Align::Left),
    ]);
    let mut typed = Vec::new();
    for cue in cues.iter().filter(|cue| !cue.words.is_empty()) {
        let place = job::Film {
            tape: tape.map(str::to_owned),
            seconds: Some(cue.from),
        }
        .shown();
        let as_said = format!("{}, film {place}", cue.words.trim_end_matches(['.', ',']));
        let own = job::line::read_line(&as_said).is_ok_and(|act| act.kind() != "note");
        let line = if own {
            as_said
        } else {
            format!("note {}, film {place}", cue.words)
        };
        table.push(vec![
            Cell::from(place),
            Cell::from(line.clone()),
            Cell::from(if own { "a line" } else { "a note" }),
        ]);
        typed.push(line);
    }
    let lines = table.rows.len();
    let mut report = if keep {
        lines::log(folder, hand, &typed)
    } else {
        let mut report = Report::new(COMMAND, TITLE);
        report.headline = Some(format!(
            "{lines} captions with words; nothing was stored yet."
        ));
        report.findings.push(
            Finding::new("captions", "", "look them over first")
                .next("add --keep to put them into the record as they stand here")
                .weight(Weight::Note),
        );
        report
    };
    if !report.refused {
        TITLE.clone_into(&mut report.title);
        report.rows = table;
    }
    report.command = COMMAND;
    report.figures = vec![Figure::count("captions", "captions with words", lines)];
    report
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_said_on_a_film_becomes_lines_with_their_place() {
        let at = tempfile::tempdir().unwrap();
        let mut folder = Folder::begin(&at.path().join("job"), None, None).unwrap();
        let film = at.path().join("film.srt");
        let text = "1\n00:12:31,500 --> 00:12:34,000\noff runners: 2 nuts 13 mm, bag 14\n\n\
                    2\n00:13:00,000 --> 00:13:02,000\nthis one was tight\n\n";
        std::fs::write(&film, text).unwrap();
        let hand = Hand {
            author: "me".to_owned(),
            micros: 0,
            client: "one".to_owned(),
        };
        let seen = captions(&mut folder, &hand, &film, Some("2"), false);
        assert!(!seen.refused && folder.entries.is_empty());
        let kept = captions(&mut folder, &hand, &film, Some("2"), true);
        assert!(!kept.refused, "{:?}", kept.findings);
        assert_eq!(folder.entries.len(), 2);
        assert_eq!(folder.entries[0].act.kind(), "off");
        assert_eq!(folder.entries[1].act.kind(), "note");
        let places: Vec<String> = folder.state.films.values().map(job::Film::shown).collect();
        assert_eq!(places, ["tape 2 00:12:31", "tape 2 00:13:00"]);
    }
}
