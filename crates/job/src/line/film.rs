//! Where something is seen on a film: the last detail of any line, or a line of its own.

use super::fault::LineFault;
use super::verb::Sentence;
use super::words::Walk;
use crate::act::Act;
use crate::shot::Film;

const EXPECTED: &str =
    "the time on the film as `00:12:31` or `12:31`, the tape as `tape 3`, or both";

/// Parts a line from the film detail at its end: `off cover: 4 bolts, film tape 2 00:12:31`.
/// The line without it is what the verb reads.
///
/// Only words that are a time or a tape are taken, so that a note may end in `, film torn`.
///
/// # Errors
/// [`LineFault`] for a time that is none, such as `12:71`.
pub(super) fn part(line: &str) -> Result<(&str, Option<Film>), LineFault> {
    let Some(at) = last_film(line) else {
        return Ok((line, None));
    };
    let before = line[..at].trim_end();
    let said: Vec<&str> = line[at..].split_whitespace().skip(1).collect();
    let begins = before.ends_with([',', ';', ':']);
    let meant = match said[..] {
        [tape, _] if tape.eq_ignore_ascii_case("tape") => begins,
        [tape, _, time] if tape.eq_ignore_ascii_case("tape") => is_like_a_time(time),
        [time] => is_like_a_time(time),
        _ => false,
    };
    // As the first word it is the verb.
    if !meant || before.is_empty() {
        return Ok((line, None));
    }
    let film = read(&said).ok_or_else(|| LineFault::at(line, at, EXPECTED))?;
    Ok((before.trim_end_matches([',', ';']), Some(film)))
}

/// The byte where the word `film` stands last.
fn last_film(line: &str) -> Option<usize> {
    let at = line.to_ascii_lowercase().rfind("film ")?;
    let apart = line[..at]
        .chars()
        .next_back()
        .is_none_or(|sign| sign.is_whitespace() || matches!(sign, ',' | ';'));
    apart.then_some(at)
}

fn is_like_a_time(word: &str) -> bool {
    word.contains(':') && word.starts_with(|first: char| first.is_ascii_digit())
}

fn read(words: &[&str]) -> Option<Film> {
    let (tape, time) = match words {
        [word, tape, time @ ..] if word.eq_ignore_ascii_case("tape") => (Some(*tape), time),
        time => (None, time),
    };
    let seconds = match time {
        [] => None,
        [time] => Some(seconds(time)?),
        _ => return None,
    };
    (tape.is_some() || seconds.is_some()).then(|| Film {
        tape: tape.map(str::to_owned),
        seconds,
    })
}

/// `1:02:03` or `12:31` in seconds.
fn seconds(typed: &str) -> Option<u32> {
    let mut parts: Vec<u32> = Vec::new();
    for part in typed.split(':') {
        let digits = (1..=3).contains(&part.len()) && part.bytes().all(|one| one.is_ascii_digit());
        parts.push(digits.then(|| part.parse().ok())??);
    }
    match parts[..] {
        [minutes, seconds] if seconds < 60 => Some(minutes * 60 + seconds),
        [hours, minutes, seconds] if minutes < 60 && seconds < 60 => {
            Some(hours * 3600 + minutes * 60 + seconds)
        }
        _ => None,
    }
}

/// `film 14: 00:12:31`: said afterwards, when the film is looked through.
pub(super) fn film(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let entry = super::shot::entry(said, &mut walk)?;
    walk.take(&["at"]);
    let tail = said
        .words
        .tail
        .first()
        .map(Vec::as_slice)
        .unwrap_or_default();
    let behind = Walk::over(tail, said.words.line.len());
    let place = if walk.is_done() {
        behind.place()
    } else {
        walk.place()
    };
    let words: Vec<&str> = walk
        .left()
        .iter()
        .chain(tail)
        .map(|word| word.text)
        .collect();
    let film = read(&words).ok_or_else(|| said.fault(place, EXPECTED))?;
    Ok(Act::Filmed { entry, film })
}
