//! Counted things: `3 bolts M8x40 holes B..D`, `2 nuts 13 mm`, `4 new runner gaskets`, `3 rags`.

use super::fault::LineFault;
use super::size;
use super::words::{Walk, Word, Words};
use crate::item::{Item, Sort, singular};

/// More than this of anything is a slip of the finger.
const MOST: u32 = 2000;

const NUMBER_WORDS: [&str; 13] = [
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

const GRADES: [&str; 11] = [
    "4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9", "A2-70", "A4-80",
];

/// What was expected where an item could not be read.
const ITEM: &str = "a count and what it is: `3 bolts M8x40`, `2 nuts 13 mm`, `1 new gasket`";

/// Whether a clause begins as an item does: a count, `new` or `old`, or a size.
pub(super) fn begins_item(word: Word<'_>) -> bool {
    count_of(word.text).is_some()
        || word.is(&["new", "old"])
        || word.text.starts_with(|first: char| first.is_ascii_digit())
        || size::size(word.text).is_some()
        || sort_of(word.text).is_some_and(|sort| sort != Sort::Thing)
}

/// Whether one of the words names a fastener, a seal or a size.
pub(super) fn names_item(words: &[Word<'_>]) -> bool {
    words
        .iter()
        .any(|word| size::size(word.text).is_some() || sort_of(word.text).is_some())
}

/// Reads one item, which takes all words of the walk.
pub(super) fn item(words: &Words<'_>, mut walk: Walk<'_, '_>) -> Result<Item, LineFault> {
    let begins = walk.place();
    let mut item = Item::plain(1, Sort::Thing, "");
    let mut name: Vec<&str> = Vec::new();
    let mut sized = false;
    if let Some(word) = walk.peek()
        && let Some(count) = count_of(word.text)
        && size::length(word.text, walk.left().get(1).map(|next| next.text)).is_none()
    {
        item.count = counted(words, word, count)?;
        walk.next();
        walk.take(&["x", "×", "of"]);
    }
    while let Some(word) = walk.peek() {
        if let Some(fact) = fact(words, &mut item, &mut walk)? {
            // `new` may stand before the name; every other fact stands behind it.
            sized |= fact == Fact::Measure;
            continue;
        }
        if sized && !is_sort_word(word.text) {
            let expected = "a size, `head 13 mm`, a grade, `hole C`, `with washer`, words in (brackets) or a comma";
            return Err(LineFault::at(words.line, word.start, expected));
        }
        name.push(word.text);
        walk.next();
    }
    settle_sort(words, &mut item, &name, begins)?;
    Ok(item)
}

/// What a fact about an item says of the words to come.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fact {
    /// Whether it is new; a name may still follow.
    Age,
    /// A size, a hole, a grade: the name is over.
    Measure,
}

/// Takes one fact about an item, if one comes.
fn fact(
    words: &Words<'_>,
    item: &mut Item,
    walk: &mut Walk<'_, '_>,
) -> Result<Option<Fact>, LineFault> {
    let Some(word) = walk.peek() else {
        return Ok(None);
    };
    if word.is(&["new", "old"]) {
        item.new = Some(word.is(&["new"]));
        walk.next();
        return Ok(Some(Fact::Age));
    }
    if word.is(&["hole", "holes"]) {
        walk.next();
        item.holes = holes(words, walk)?;
        return Ok(Some(Fact::Measure));
    }
    if word.text.starts_with('(') {
        item.note = Some(bracketed(words, walk)?);
        return Ok(Some(Fact::Measure));
    }
    if word.is(&["with", "without"])
        && walk
            .left()
            .get(1)
            .is_some_and(|next| next.is(&["washer", "washers"]))
    {
        item.washer = Some(word.is(&["with"]));
        walk.skip(2);
        return Ok(Some(Fact::Measure));
    }
    if word.is(&["grade", "class"]) {
        walk.next();
        let grade = walk.next().ok_or_else(|| {
            LineFault::at(
                words.line,
                walk.place(),
                "the strength as it is marked: `grade 8.8`",
            )
        })?;
        item.grade = Some(grade.text.to_owned());
        return Ok(Some(Fact::Measure));
    }
    if GRADES.contains(&word.text) {
        item.grade = Some(word.text.to_owned());
        walk.next();
        return Ok(Some(Fact::Measure));
    }
    if is_star(word.text) {
        item.note = Some(word.text.to_uppercase());
        walk.next();
        return Ok(Some(Fact::Measure));
    }
    sizes(words, item, walk)
}

/// Whether a word is the size of a star drive: `T25`, `E14`.
fn is_star(word: &str) -> bool {
    let mut letters = word.chars();
    let kind = letters
        .next()
        .is_some_and(|first| matches!(first, 'T' | 't' | 'E' | 'e'));
    let digits = letters.as_str();
    kind && (1..=2).contains(&digits.len()) && digits.bytes().all(|digit| digit.is_ascii_digit())
}

/// Takes a thread, a length or a wrench size, if one comes.
fn sizes(
    words: &Words<'_>,
    item: &mut Item,
    walk: &mut Walk<'_, '_>,
) -> Result<Option<Fact>, LineFault> {
    let Some(word) = walk.peek() else {
        return Ok(None);
    };
    if let Some(read) = size::size(word.text) {
        let size = read.map_err(|(offset, reason)| {
            LineFault::at(
                words.line,
                word.start + offset,
                "a size such as M8x40, M8x1.25x40 or 1/4-20x3/4",
            )
            .because(reason)
        })?;
        item.thread = Some(size.thread);
        item.length = size.length.or(item.length);
        walk.next();
        return Ok(Some(Fact::Measure));
    }
    let named = word.is(&["head", "long", "length"]);
    let skip = usize::from(named);
    let second = walk.left().get(skip + 1).map(|next| next.text);
    let first = walk.left().get(skip).map_or("", |first| first.text);
    let stray_x = first
        .strip_prefix(['x', 'X', '×'])
        .filter(|_| item.thread.is_some());
    if let Some(number) = stray_x.and_then(size::plain)
        && let Ok(length) = quantity::Length::mm(number)
        && item.length.is_none()
    {
        // `M8 x40`, with a blank before the length.
        item.length = Some(length);
        walk.next();
        return Ok(Some(Fact::Measure));
    }
    let Some((length, used)) = size::length(first, second) else {
        if named && !word.is(&["head"]) {
            let expected = "a length with its unit: `long 40 mm`";
            return Err(LineFault::at(words.line, word.end(), expected));
        }
        return Ok(None);
    };
    // After a bare thread a length is the bolt's own; otherwise it is the wrench it takes.
    let is_own = word.is(&["long", "length"])
        || !word.is(&["head"])
            && item.thread.is_some()
            && item.length.is_none()
            && length.in_mm() > 20.0;
    if is_own {
        item.length = Some(length);
    } else {
        item.head = Some(length);
    }
    walk.skip(skip + used);
    Ok(Some(Fact::Measure))
}

/// Settles what sort of thing the name means.
fn settle_sort(
    words: &Words<'_>,
    item: &mut Item,
    name: &[&str],
    begins: usize,
) -> Result<(), LineFault> {
    if name.is_empty() {
        if item.thread.is_none() {
            return Err(LineFault::at(words.line, begins, ITEM));
        }
        // A thread with a length and no word is a bolt, as everybody says it.
        item.sort = Sort::Bolt;
        "bolt".clone_into(&mut item.name);
        return Ok(());
    }
    let name = name.join(" ");
    if name.starts_with(|first: char| !first.is_alphanumeric()) {
        return Err(LineFault::at(words.line, begins, ITEM));
    }
    item.sort = sort_of(&name).unwrap_or(Sort::Thing);
    item.name = singular(&name);
    if item.sort == Sort::Thing && item.thread.is_some() {
        let reason = format!("`{name}` is no word for a fastener");
        let expected = "bolt, screw, nut, stud, washer, clip, clamp, pin or plug";
        return Err(LineFault::at(words.line, begins, expected).because(reason));
    }
    Ok(())
}

/// The sort a name ends in. `None`: it is some other thing. Asked of every word of a line,
/// so it compares in place.
fn sort_of(name: &str) -> Option<Sort> {
    let last = name.rsplit(' ').next().unwrap_or(name);
    let stem = last.strip_suffix(['s', 'S']).unwrap_or(last);
    let is = |words: &[&str]| {
        words
            .iter()
            .any(|word| last.eq_ignore_ascii_case(word) || stem.eq_ignore_ascii_case(word))
    };
    let holds = |words: &[&str]| {
        let lower = name.to_lowercase();
        words.iter().any(|word| lower.contains(word))
    };
    if is(&["bolt", "screw", "capscrew", "setscrew"]) {
        Some(Sort::Bolt)
    } else if is(&["nut"]) {
        Some(Sort::Nut)
    } else if is(&["stud"]) {
        Some(Sort::Stud)
    } else if is(&["washer"]) {
        let seals = holds(&["seal", "crush", "copper"]);
        Some(if seals { Sort::Seal } else { Sort::Washer })
    } else if is(&["dowel"]) || is(&["pin", "sleeve"]) && holds(&["dowel", "locating"]) {
        Some(Sort::Dowel)
    } else if is(&["clip", "circlip", "clamp", "pin", "plug", "rivet"]) {
        Some(Sort::Clip)
    } else if is(&["gasket", "seal", "o-ring", "oring"])
        || is(&["ring"]) && holds(&["seal", "o ring", "copper", "crush"])
    {
        Some(Sort::Seal)
    } else {
        None
    }
}

fn is_sort_word(word: &str) -> bool {
    sort_of(word).is_some()
}

fn count_of(word: &str) -> Option<u64> {
    if word.starts_with(|first: char| first.is_ascii_digit()) {
        let digits = word.strip_suffix(['x', 'X', '×']).unwrap_or(word);
        let plain = digits.chars().all(|sign| sign.is_ascii_digit());
        return plain.then(|| digits.parse().unwrap_or(u64::MAX));
    }
    if word.eq_ignore_ascii_case("a") || word.eq_ignore_ascii_case("an") {
        return Some(1);
    }
    let number = NUMBER_WORDS
        .iter()
        .position(|one| one.eq_ignore_ascii_case(word));
    number.and_then(|number| u64::try_from(number).ok())
}

fn counted(words: &Words<'_>, word: Word<'_>, count: u64) -> Result<u32, LineFault> {
    let fault = |reason: &str| LineFault::at(words.line, word.start, "how many").because(reason);
    match u32::try_from(count) {
        Ok(0) => Err(fault("none is not an amount that came off")),
        Ok(count) if count <= MOST => Ok(count),
        Ok(_) | Err(_) => Err(fault("there are not that many of anything here")),
    }
}

/// Whether a word reads as the name of a hole or a run of them: `C`, `A..D`, `h1..h8`.
pub(super) fn is_hole(word: &str) -> bool {
    word.split("..").all(|name| {
        let letters = name.chars().take_while(char::is_ascii_alphabetic).count();
        let digits = name[letters..].chars().all(|sign| sign.is_ascii_digit());
        let short = letters == 1 || (2..=6).contains(&letters) && name.len() > letters;
        short && digits && name.len() <= 10
    }) && size::size(word).is_none_or(|read| read.is_err())
}

/// Reads the hole names that come, at least one.
pub(super) fn holes(words: &Words<'_>, walk: &mut Walk<'_, '_>) -> Result<Vec<String>, LineFault> {
    let mut holes = Vec::new();
    while let Some(word) = walk.peek() {
        if word.is(&["and", "to"])
            && !holes.is_empty()
            && walk.left().get(1).is_some_and(|next| is_hole(next.text))
        {
            walk.next();
            continue;
        }
        // One letter could also begin the next detail, but no detail is one letter long.
        if !is_hole(word.text) {
            break;
        }
        holes.extend(run_of_holes(word.text).ok_or_else(|| {
            LineFault::at(
                words.line,
                word.start,
                "a run such as A..F or h1..h8, first to last",
            )
        })?);
        walk.next();
    }
    if holes.is_empty() {
        let expected = "a hole by its name: `hole C`, `holes A..F`, `holes h1 h3`";
        return Err(LineFault::at(words.line, walk.place(), expected));
    }
    Ok(holes)
}

/// The holes of a run. `None`: it does not run.
fn run_of_holes(text: &str) -> Option<Vec<String>> {
    let Some((first, last)) = text.split_once("..") else {
        return Some(vec![text.to_owned()]);
    };
    let number = |name: &str| -> Option<(String, u32)> {
        let letters = name.trim_end_matches(|sign: char| sign.is_ascii_digit());
        Some((letters.to_owned(), name[letters.len()..].parse().ok()?))
    };
    if let (Some((one, from)), Some((other, to))) = (number(first), number(last)) {
        let runs = one == other && from <= to && to - from < 200;
        return runs.then(|| (from..=to).map(|it| format!("{one}{it}")).collect());
    }
    let (from, to) = (first.chars().next()?, last.chars().next()?);
    let runs = first.len() == 1
        && last.len() == 1
        && from <= to
        && from.is_ascii_uppercase() == to.is_ascii_uppercase();
    runs.then(|| (from..=to).map(String::from).collect())
}

/// Words in brackets, over as many words as it takes.
fn bracketed(words: &Words<'_>, walk: &mut Walk<'_, '_>) -> Result<String, LineFault> {
    let opened = walk.place();
    let mut last = opened;
    while let Some(word) = walk.next() {
        last = word.end();
        if word.text.ends_with(')') {
            return Ok(words.line[opened + 1..last - 1].trim().to_owned());
        }
    }
    Err(LineFault::at(words.line, last, "a closing bracket"))
}
