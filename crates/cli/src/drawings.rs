//! `--draw FILE.svg`: the pictures of an answer, written as files.
//!
//! Drawing is the sheet's work; this names the files and says what was written.

use std::path::{Path, PathBuf};

use report::{Finding, Report, Weight};

/// Writes the pictures of an answer: the first into the file named, further ones beside it
/// with `-2`, `-3` behind the name. Gives a line for each file, or one that says there was
/// nothing to draw. A file that cannot be written becomes a finding of the answer.
pub fn write(report: &mut Report, file: &Path) -> Vec<String> {
    if report.pictures.is_empty() {
        return vec!["Nothing to draw: this answer has no picture.".to_owned()];
    }
    let mut said = Vec::new();
    for (at, picture) in report.pictures.iter().enumerate() {
        let file = numbered(file, at + 1);
        match std::fs::write(&file, sheet::drawing::svg(picture)) {
            Ok(()) => said.push(format!("Drawn: {}", file.display())),
            Err(why) => report.findings.push(
                Finding::new(
                    "drawing-not-written",
                    file.display().to_string(),
                    format!("the drawing could not be written: {why}"),
                )
                .next("name a file in a folder that is there and may be written to")
                .weight(Weight::Stop),
            ),
        }
    }
    said
}

/// The name of the drawing with this number, counted from 1.
fn numbered(file: &Path, number: usize) -> PathBuf {
    if number == 1 {
        return file.to_owned();
    }
    let mut name = file.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{number}"));
    if let Some(ending) = file.extension() {
        name.push(".");
        name.push(ending);
    }
    file.with_file_name(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn further_drawings_are_numbered_before_the_ending() {
        let file = Path::new("out/head.v2.svg");
        assert_eq!(numbered(file, 1), file);
        assert_eq!(numbered(file, 3), Path::new("out/head.v2-3.svg"));
        assert_eq!(numbered(Path::new("face"), 2), Path::new("face-2"));
    }

    #[test]
    fn an_answer_without_a_picture_says_so() {
        let mut report = Report::new("convert", "");
        let said = write(&mut report, Path::new("never-written.svg"));
        assert_eq!(said, ["Nothing to draw: this answer has no picture."]);
        assert!(report.findings.is_empty());
    }
}
