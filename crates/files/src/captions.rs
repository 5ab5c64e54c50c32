//! Captions of a film: WebVTT or SubRip, as a telephone or a computer writes down what was
//! said while filming.
//!
//! Only the times and the words are read; where on the picture they stand is not. What the
//! words mean is the caller's work.

use crate::fault::CellFault;

/// Words on a film, from one time to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cue {
    /// Seconds from the beginning of the film, whole, rounded down.
    pub from: u32,
    /// The end, likewise.
    pub to: u32,
    /// What is said, on one line.
    pub words: String,
}

/// Reads captions of either kind, and lists every fault in one go.
///
/// The two kinds differ in a heading, in the sign before the thousandths, and in notes;
/// nothing is lost by reading them alike.
///
/// # Errors
/// Every line with a time that is none, and a text with no times at all.
pub fn captions(file: &str, text: &str) -> Result<Vec<Cue>, Vec<CellFault>> {
    let mut cues = Vec::new();
    let mut faults = Vec::new();
    let lines: Vec<&str> = text.trim_start_matches('\u{feff}').lines().collect();
    let mut at = 0;
    while at < lines.len() {
        let line = lines[at].trim();
        at += 1;
        if is_note(line) {
            while at < lines.len() && !lines[at].trim().is_empty() {
                at += 1;
            }
            continue;
        }
        let Some((from, to)) = line.split_once("-->") else {
            continue;
        };
        let mut words = Vec::new();
        while at < lines.len() && !lines[at].trim().is_empty() && !lines[at].contains("-->") {
            words.push(bare(lines[at]));
            at += 1;
        }
        let to = to.split_whitespace().next().unwrap_or_default();
        match (seconds(from.trim()), seconds(to)) {
            (Some(from), Some(to)) if from <= to => cues.push(Cue {
                from,
                to,
                words: words.join(" ").trim().to_owned(),
            }),
            (Some(_), Some(_)) => {
                faults.push(fault(
                    file,
                    at - words.len(),
                    line,
                    "it ends before it begins",
                ));
            }
            _ => faults.push(fault(
                file,
                at - words.len(),
                line,
                "this is no time on a film",
            )),
        }
    }
    if cues.is_empty() && faults.is_empty() {
        let first = lines.first().copied().unwrap_or_default();
        faults.push(fault(
            file,
            1,
            first,
            "there is no time in it: these are no captions",
        ));
    }
    if faults.is_empty() {
        Ok(cues)
    } else {
        Err(faults)
    }
}

/// Notes, styles and regions of WebVTT run to the next empty line.
fn is_note(line: &str) -> bool {
    ["NOTE", "STYLE", "REGION"]
        .iter()
        .any(|word| line == *word || line.starts_with(&format!("{word} ")))
}

/// `00:12:31.500`, `12:31.500`, `00:12:31,500`, in whole seconds.
fn seconds(time: &str) -> Option<u32> {
    let (whole, thousandths) = time.split_once(['.', ','])?;
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if thousandths.len() != 3 || !digits(thousandths) {
        return None;
    }
    let parts: Vec<&str> = whole.split(':').collect();
    if !(2..=3).contains(&parts.len()) || !parts.iter().all(|part| digits(part)) {
        return None;
    }
    let mut sum: u32 = 0;
    for (place, part) in parts.iter().rev().enumerate() {
        let number: u32 = part.parse().ok()?;
        if place < 2 && number > 59 {
            return None;
        }
        let times = 60_u32.pow(u32::try_from(place).ok()?);
        sum = sum.checked_add(number.checked_mul(times)?)?;
    }
    Some(sum)
}

/// The words of a line without marks (`<v Ana>`, `<i>`) and with signs written out.
fn bare(line: &str) -> String {
    let mut words = String::new();
    let mut within = false;
    for sign in line.trim().chars() {
        match sign {
            '<' => within = true,
            '>' if within => within = false,
            sign if !within => words.push(sign),
            _ => {}
        }
    }
    words
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&nbsp;", " ")
        .replace("&amp;", "&")
}

fn fault(file: &str, line: usize, text: &str, reason: &str) -> CellFault {
    CellFault {
        file: file.to_owned(),
        line,
        column: 1,
        excerpt: text.to_owned(),
        width: text.chars().count().max(1),
        reason: reason.to_owned(),
        hint: "a caption begins with a line such as `00:12:31.500 --> 00:12:34.000`".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: published. W3C, WebVTT: The Web Video Text Tracks Format, section 1.1, the
    /// example of captions with a note (from memory, shortened); times by hand.
    #[test]
    fn web_video_text_tracks() {
        let text = "WEBVTT\n\nNOTE\n00:00:00.000 --> is no cue here\n\n1\n00:11.000 --> 00:13.000 align:left\n<v Roger Bingham>We are in &lt;New York&gt;\nCity\n\n01:00:13.250 --> 01:00:16.000\nline\n";
        let cues = captions("film.vtt", text).unwrap();
        let told: Vec<(u32, u32, &str)> = cues
            .iter()
            .map(|cue| (cue.from, cue.to, cue.words.as_str()))
            .collect();
        assert_eq!(
            told,
            [(11, 13, "We are in <New York> City"), (3613, 3616, "line")]
        );
    }

    #[test]
    fn subrip_with_commas_and_line_ends_of_another_system() {
        let text = "\u{feff}1\r\n00:12:31,500 --> 00:12:34,000\r\noff runners: 2 nuts\r\n\r\n2\r\n00:13:00,000 --> 00:13:02,000\r\n\r\n";
        let cues = captions("film.srt", text).unwrap();
        assert_eq!(cues[0].words, "off runners: 2 nuts");
        assert_eq!((cues[0].from, cues[1].words.as_str()), (751, ""));
    }

    #[test]
    fn every_odd_time_is_named_with_its_line() {
        let text = "WEBVTT\n\n00:61.000 --> 00:62.000\na\n\n00:10.000 --> 00:05.000\nb\n\n00:10 --> 00:12.000\nc\n";
        let faults = captions("film.vtt", text).unwrap_err();
        let lines: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
        assert_eq!(lines, [3, 6, 9]);
        assert!(captions("letter.txt", "Dear all,\n").is_err());
        assert!(captions("empty", "").is_err());
    }
}
