//! Verbs about photos: taken, told about later, shown to others or not.

use super::apart::name;
use super::detail::PLACES;
use super::fault::LineFault;
use super::item::holes;
use super::verb::Sentence;
use super::words::{Walk, Word};
use crate::act::Act;
use crate::entry::EntryId;
use crate::shot::{FileHash, Shot};

/// Words that begin something that is said of a photo. Places to lay things follow them.
const KEYS: [&str; 6] = ["of", "hole", "holes", "file", "show", "photo"];

fn keys() -> Vec<&'static str> {
    KEYS.iter().chain(&PLACES).copied().collect()
}

/// Whether a word begins something that is said of a photo: `of`, `hole`, `bag`, `show`, …
/// A surface uses it to tell file names from the words behind them.
#[must_use]
pub fn begins_photo_words(word: &str) -> bool {
    keys().iter().any(|key| word.eq_ignore_ascii_case(key))
}

pub(super) fn photo(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut shot = Shot::default();
    let mut walk = said.walk();
    let number = said.words.text(walk.until(&keys()));
    if !number.is_empty() {
        shot.photo = Some(number.to_owned());
    }
    told(said, walk, &mut shot)?;
    if shot == Shot::default() {
        let expected = "the number of the photo, `file …`, `of NAME` or `bag 14`";
        return Err(said.fault(said.after_verb, expected));
    }
    Ok(Act::Photographed(Box::new(shot)))
}

/// `caption 31 of runners: the long bolt`: words that come later.
pub(super) fn caption(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    walk.take(&["photo"]);
    let photo = entry(said, &mut walk)?;
    let mut shot = Shot::default();
    let at = walk.place();
    told(said, walk, &mut shot)?;
    if shot == Shot::default() {
        return Err(said.fault(at, "`of NAME`, `bag 14`, or a colon and the caption"));
    }
    if shot.file.is_some() {
        let fault = said.fault(at, "what the photo shows");
        return Err(fault.because("the file of a photo is not changed by a caption"));
    }
    Ok(Act::Captioned {
        photo,
        shot: Box::new(shot),
    })
}

/// What is said of a photo behind its number: keys in any order, then the caption.
fn told(said: &Sentence<'_, '_>, walk: Walk<'_, '_>, shot: &mut Shot) -> Result<(), LineFault> {
    facts(said, walk, shot)?;
    for clause in said.words.head.iter().skip(1) {
        let first = clause.first().filter(|word| !word.is(&keys()));
        if let Some(first) = first {
            // Words of no such kind are the caption, to the end of the line.
            shot.note = Some(said.words.rest(first.start).to_owned());
            return Ok(());
        }
        facts(said, Walk::over(clause, said.after_verb), shot)?;
    }
    if let Some(caption) = said.after_colon() {
        shot.note = Some(caption.to_owned());
    }
    Ok(())
}

fn facts(said: &Sentence<'_, '_>, walk: Walk<'_, '_>, shot: &mut Shot) -> Result<(), LineFault> {
    let mut walk = walk;
    while let Some(key) = walk.peek() {
        if key.is(&PLACES) {
            let words = place(&mut walk);
            shot.place = Some(said.words.text(words).to_owned());
            continue;
        }
        walk.next();
        if key.is(&["of"]) {
            of(said, &mut walk, shot)?;
        } else if key.is(&["hole", "holes"]) {
            shot.hole = Some(one_hole(said, &mut walk)?);
        } else if key.is(&["file"]) {
            shot.file = Some(file(said, &mut walk)?);
        } else if key.is(&["show"]) {
            shot.show = true;
        } else if key.is(&["photo"]) {
            shot.photo = Some(name(said, &mut walk, &keys())?);
        } else {
            let expected =
                "`of NAME`, `hole C`, `bag 14`, `file …`, `show`, or a colon and the caption";
            return Err(said.fault(key.start, expected));
        }
    }
    Ok(())
}

/// `bag 14`, `shelf over the bench`: the word and what follows it, up to the next key.
fn place<'a, 'w>(walk: &mut Walk<'a, 'w>) -> &'w [Word<'a>] {
    let all = walk.left();
    walk.next();
    let behind = walk.until(&KEYS).len();
    &all[..=behind]
}

/// `of runners`, `of runners hole F`, `of entry 14`, `of reading 14`.
fn of(said: &Sentence<'_, '_>, walk: &mut Walk<'_, '_>, shot: &mut Shot) -> Result<(), LineFault> {
    let about_entry = walk
        .peek()
        .is_some_and(|word| word.is(&["entry", "reading"]))
        && walk
            .left()
            .get(1)
            .is_some_and(|word| number(word.text).is_some());
    if about_entry {
        walk.next();
        shot.entry = Some(entry(said, walk)?);
    } else {
        shot.of = Some(name(said, walk, &keys())?);
    }
    Ok(())
}

fn one_hole(said: &Sentence<'_, '_>, walk: &mut Walk<'_, '_>) -> Result<String, LineFault> {
    let at = walk.place();
    let mut named = holes(said.words, walk)?;
    match (named.pop(), named.is_empty()) {
        (Some(hole), true) => Ok(hole),
        (Some(_) | None, _) => Err(said.fault(at, "one hole: `hole C`")),
    }
}

fn file(said: &Sentence<'_, '_>, walk: &mut Walk<'_, '_>) -> Result<FileHash, LineFault> {
    let at = walk.place();
    let word = walk.next().and_then(|word| FileHash::read(word.text));
    word.ok_or_else(|| {
        said.fault(
            at,
            "the SHA-256 of a file in `photos`: 64 letters and digits",
        )
    })
}

/// The number of an entry: `14` or `#14`.
pub(super) fn number(word: &str) -> Option<EntryId> {
    let number = word.strip_prefix('#').unwrap_or(word).parse().ok()?;
    (number > 0).then_some(EntryId(number))
}

/// The number of an entry that comes next in a line.
pub(super) fn entry(
    said: &Sentence<'_, '_>,
    walk: &mut Walk<'_, '_>,
) -> Result<EntryId, LineFault> {
    walk.take(&["entry", "number"]);
    let at = walk.place();
    let found = walk.next().and_then(|word| number(word.text));
    found.ok_or_else(|| said.fault(at, "the number of an entry, such as 14"))
}

/// `show 31`: others may see it. Words behind the colon say that it was looked through.
pub(super) fn show(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    shown(said, true)
}

/// `hide 31`: it stays in the house.
pub(super) fn hide(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    shown(said, false)
}

fn shown(said: &Sentence<'_, '_>, show: bool) -> Result<Act, LineFault> {
    let mut photos = Vec::new();
    for (at, clause) in said.words.head.iter().enumerate() {
        let words = if at == 0 { said.first } else { clause };
        let mut walk = Walk::over(words, said.after_verb);
        walk.take(&["photo", "photos"]);
        loop {
            photos.push(entry(said, &mut walk)?);
            walk.take(&["and"]);
            if walk.is_done() {
                break;
            }
        }
    }
    Ok(Act::Shown {
        photos,
        show,
        looked: said.after_colon().map(str::to_owned),
    })
}
