//! Verbs for taking apart and putting together.

use super::detail;
use super::fault::LineFault;
use super::item::{holes, is_hole};
use super::subject::subject;
use super::verb::Sentence;
use super::words::Walk;
use crate::act::{Act, Details, Run, Tightening};

/// What came off or went on: names, the kind of hose, and the details behind them.
type InHand = (Vec<String>, Option<Run>, Box<Details>);

fn with_details(said: &Sentence<'_, '_>) -> Result<InHand, LineFault> {
    let mut details = Box::<Details>::default();
    let subject = subject(said.words, said.first, &mut details)?;
    let clauses: Vec<_> = subject
        .details
        .iter()
        .map(|clause| clause.to_vec())
        .collect();
    detail::details(said.words, &clauses, &mut details)?;
    Ok((subject.names, subject.run, details))
}

pub(super) fn off(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let (what, run, details) = with_details(said)?;
    Ok(Act::Off {
        what,
        run,
        details,
        new: said.new,
    })
}

pub(super) fn on(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let (what, run, details) = with_details(said)?;
    Ok(Act::On {
        what,
        run,
        details,
        new: said.new,
    })
}

/// A name up to the end of the first clause. Nothing but a name may stand there.
pub(super) fn name(
    said: &Sentence<'_, '_>,
    walk: &mut Walk<'_, '_>,
    stops: &[&str],
) -> Result<String, LineFault> {
    let at = walk.place();
    let words = walk.until(stops);
    let name = said.words.text(words);
    if name.chars().any(char::is_alphanumeric) {
        return Ok(name.to_owned());
    }
    Err(said.fault(at, "a name"))
}

/// Refuses what is left over in a clause that should be at its end.
pub(super) fn done(
    said: &Sentence<'_, '_>,
    walk: &Walk<'_, '_>,
    expected: &str,
) -> Result<(), LineFault> {
    if walk.is_done() {
        return Ok(());
    }
    Err(said.fault(walk.place(), expected))
}

pub(super) fn loose(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let what = name(said, &mut walk, &["hole", "holes", "all"])?;
    let mut at = Vec::new();
    if walk.take(&["hole", "holes"]).is_some() {
        at = holes(said.words, &mut walk)?;
    }
    walk.take(&["all"]);
    done(said, &walk, "the end of the line, or `hole C`")?;
    for clause in said.words.head.iter().skip(1).chain(&said.words.tail) {
        let mut walk = Walk::over(clause, said.after_verb);
        walk.take(&["hole", "holes"]);
        at.extend(holes(said.words, &mut walk)?);
        done(said, &walk, "a hole by its name")?;
    }
    Ok(Act::Loosened {
        what,
        holes: at,
        new: said.new,
    })
}

pub(super) fn broke(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let (what, holes) = part_and_holes(said)?;
    Ok(Act::Broke {
        what,
        holes,
        left: said.after_colon().map(str::to_owned),
    })
}

pub(super) fn cleared(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let (what, holes) = part_and_holes(said)?;
    Ok(Act::Cleared {
        what,
        holes,
        how: said.after_colon().map(str::to_owned),
    })
}

/// A name and the holes of it, at least one.
fn part_and_holes(said: &Sentence<'_, '_>) -> Result<(String, Vec<String>), LineFault> {
    let mut walk = said.walk();
    let what = name(said, &mut walk, &["hole", "holes"])?;
    if walk.take(&["hole", "holes"]).is_none() {
        return Err(said.fault(walk.place(), "the hole: `hole C`"));
    }
    let at = holes(said.words, &mut walk)?;
    done(
        said,
        &walk,
        "a colon and what is seen, or the end of the line",
    )?;
    Ok((what, at))
}

/// Every name in front of the colon.
fn names(said: &Sentence<'_, '_>) -> Result<Vec<String>, LineFault> {
    let mut names = Vec::new();
    let others = said.words.head.iter().skip(1).map(Vec::as_slice);
    for clause in std::iter::once(said.first).chain(others) {
        let mut walk = Walk::over(clause, said.after_verb);
        loop {
            names.push(name(said, &mut walk, &["and", "+"])?);
            if walk.take(&["and", "+"]).is_none() {
                break;
            }
        }
    }
    Ok(names)
}

pub(super) fn aside(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    Ok(Act::Aside {
        what: names(said)?,
        note: said.after_colon().map(str::to_owned),
        new: said.new,
    })
}

pub(super) fn lift(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let what = names(said)?;
    if what.len() < 2 {
        let expected = "at least two names: `lift plenum, runners` (for one part write `off`)";
        return Err(said.fault(
            said.walk()
                .left()
                .last()
                .map_or(said.after_verb, |word| word.end()),
            expected,
        ));
    }
    Ok(Act::Lifted {
        what,
        place: said.after_colon().map(str::to_owned),
        new: said.new,
    })
}

pub(super) fn clean(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let what = name(said, &mut said.walk(), &[])?;
    Ok(Act::Cleaned {
        what,
        note: rest(said),
    })
}

pub(super) fn trial(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let what = name(said, &mut said.walk(), &[])?;
    Ok(Act::TrialFitted {
        what,
        result: rest(said),
    })
}

/// What stands behind the colon, or behind the first comma.
pub(super) fn rest(said: &Sentence<'_, '_>) -> Option<String> {
    let behind = said.words.head.get(1).and_then(|clause| clause.first());
    let text = match (said.after_colon(), behind) {
        (Some(text), _) => text,
        (None, Some(word)) => said.words.rest(word.start),
        (None, None) => return None,
    };
    Some(text.to_owned())
}

pub(super) fn stow(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let stops: Vec<&str> = ["to", "on", "in"]
        .iter()
        .chain(&detail::PLACES)
        .copied()
        .collect();
    let what = name(said, &mut walk, &stops)?;
    walk.take(&["to", "on", "in"]);
    let place = match said.after_colon() {
        Some(text) => text,
        None => said.words.text(walk.rest()),
    };
    if place.is_empty() {
        return Err(said.fault(said.words.line.len(), "where it lies now: `shelf 2`"));
    }
    Ok(Act::Stowed {
        what,
        place: place.to_owned(),
    })
}

const CONDITIONS: [&str; 6] = ["dry", "oiled", "greased", "sealant", "locking", "paste"];
const KEYS: [&str; 13] = [
    "hole", "holes", "all", "stage", "wrench", "with", "dry", "oiled", "greased", "sealant",
    "locking", "paste", "final",
];

pub(super) fn tight(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let begins_figure =
        |text: &str| text.starts_with(|first: char| first.is_ascii_digit() || first == '+');
    let length = walk
        .left()
        .iter()
        .skip(1)
        .position(|word| word.is(&KEYS) || begins_figure(word.text))
        .map_or(walk.left().len(), |at| at + 1);
    let joint = said
        .words
        .text(&walk.left()[..length.min(walk.left().len())]);
    if !joint.chars().any(char::is_alphabetic) || walk.peek().is_none_or(|word| word.is(&KEYS)) {
        return Err(said.fault(walk.place(), "the part or joint that was tightened"));
    }
    walk.skip(length);
    let mut tightening = Tightening {
        joint: joint.to_owned(),
        holes: Vec::new(),
        stage: None,
        figure: None,
        wrench: None,
        condition: None,
    };
    facts(said, &mut walk, &mut tightening)?;
    for clause in said.words.head.iter().skip(1).chain(&said.words.tail) {
        let mut walk = Walk::over(clause, said.after_verb);
        if walk.peek().is_some_and(|word| is_hole(word.text)) && !tightening.holes.is_empty() {
            tightening.holes.extend(holes(said.words, &mut walk)?);
        }
        facts(said, &mut walk, &mut tightening)?;
    }
    Ok(Act::Tightened(Box::new(tightening)))
}

fn facts(
    said: &Sentence<'_, '_>,
    walk: &mut Walk<'_, '_>,
    to: &mut Tightening,
) -> Result<(), LineFault> {
    while let Some(word) = walk.peek() {
        if word.is(&["all"]) {
            walk.next();
        } else if word.is(&["hole", "holes"]) {
            walk.next();
            to.holes.extend(holes(said.words, walk)?);
        } else if word.is(&["stage"]) {
            walk.next();
            to.stage = Some(stage(said, walk)?);
        } else if word.is(&["wrench", "with"]) {
            walk.next();
            walk.take(&["wrench"]);
            to.wrench = Some(name(said, walk, &KEYS)?);
        } else if word.is(&CONDITIONS) {
            walk.next();
            to.condition = Some(word.text.to_lowercase());
        } else if word
            .text
            .starts_with(|first: char| first.is_ascii_digit() || first == '+')
        {
            to.figure = Some(figure(said, walk)?);
        } else {
            let expected =
                "`hole C`, `stage 1`, a figure with its unit, `wrench NAME`, `dry` or `oiled`";
            return Err(said.fault(word.start, expected));
        }
    }
    Ok(())
}

fn stage(said: &Sentence<'_, '_>, walk: &mut Walk<'_, '_>) -> Result<u32, LineFault> {
    let at = walk.place();
    let number = walk.next().and_then(|word| word.text.parse().ok());
    number
        .filter(|stage| (1..=12).contains(stage))
        .ok_or_else(|| said.fault(at, "the number of the stage, from 1"))
}

/// The figure as typed: everything up to the next key word. It must be a tightening figure.
fn figure(said: &Sentence<'_, '_>, walk: &mut Walk<'_, '_>) -> Result<String, LineFault> {
    let words = walk.until(&KEYS);
    let typed = said.words.text(words);
    let start = words.first().map_or(said.after_verb, |word| word.start);
    quantity::spec::read(typed).map_err(|fault| {
        said.fault(
            start + fault.at.start.min(typed.len()),
            "a figure with its unit: `12 Nm`, `30 N·m + 90°`",
        )
        .because(format!("{} ({})", fault.reason, fault.hint))
    })?;
    Ok(typed.to_owned())
}
