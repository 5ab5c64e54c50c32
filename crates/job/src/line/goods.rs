//! Verbs for things that are lost, found, bought, sent and put in for a while.

use super::apart::{name, rest};
use super::detail::{PLACES, items};
use super::fault::LineFault;
use super::item::{begins_item, item, names_item};
use super::subject::later_clauses;
use super::verb::Sentence;
use super::words::{Walk, Word};
use crate::act::{Act, Errand, Order};
use crate::item::Item;

/// The words of a clause up to `in`, `under`, `behind`, a bag, and the place behind.
fn before_place<'a, 'w>(
    said: &Sentence<'a, 'w>,
    clause: &'w [Word<'a>],
) -> (&'w [Word<'a>], Option<String>) {
    let stops = ["in", "into", "under", "behind", "at", "near"];
    let at = clause
        .iter()
        .position(|word| word.is(&stops) || word.is(&PLACES));
    match at {
        Some(at) if at > 0 => {
            let skip = usize::from(clause[at].is(&["in", "into", "at"]));
            let place = said.words.text(&clause[at + skip..]);
            (&clause[..at], (!place.is_empty()).then(|| place.to_owned()))
        }
        Some(_) | None => (clause, None),
    }
}

fn things_and_place(said: &Sentence<'_, '_>) -> Result<(Vec<Item>, Option<String>), LineFault> {
    let mut things = Vec::new();
    let mut place = None;
    let others = said.words.head.iter().skip(1).map(Vec::as_slice);
    for clause in std::iter::once(said.first).chain(others) {
        let (words, found_place) = before_place(said, clause);
        things.push(item(said.words, Walk::over(words, said.after_verb))?);
        place = found_place.or(place);
    }
    let behind = said.after_colon().map(str::to_owned);
    Ok((things, place.or(behind)))
}

pub(super) fn lost(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let (items, place) = things_and_place(said)?;
    Ok(Act::Lost { items, place })
}

pub(super) fn found(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let (items, place) = things_and_place(said)?;
    Ok(Act::Found { items, place })
}

pub(super) fn replaced(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let counts = walk.peek().is_some_and(begins_item);
    if !counts {
        let what = name(said, &mut walk, &["with", "by"])?;
        walk.take(&["with", "by"]);
        let with = said.words.text(walk.rest());
        let listed = said
            .words
            .tail
            .iter()
            .all(|clause| clause.first().is_some_and(|word| begins_item(*word)));
        let (items, with) = match (listed && !said.words.tail.is_empty(), with) {
            (true, with) => (items(said.words, &said.words.tail)?, with.to_owned()),
            (false, "") => (Vec::new(), rest(said).unwrap_or_default()),
            (false, with) => (Vec::new(), with.to_owned()),
        };
        return Ok(Act::Replaced {
            what: Some(what),
            items,
            with: (!with.is_empty()).then_some(with),
        });
    }
    let (items, place) = things_and_place(said)?;
    Ok(Act::Replaced {
        what: place,
        items,
        with: None,
    })
}

/// A thing that is bought: an item where it reads as one, else its words.
fn goods(said: &Sentence<'_, '_>) -> Result<Item, LineFault> {
    let counted =
        said.first.first().is_some_and(|word| begins_item(*word)) || names_item(said.first);
    if counted {
        return item(said.words, said.walk());
    }
    let name = name(said, &mut said.walk(), &[])?;
    Ok(Item::plain(1, crate::Sort::Thing, name))
}

pub(super) fn ordered(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut order = Order {
        what: goods(said)?,
        from: None,
        price: None,
        due: None,
    };
    for clause in later_clauses(said.words) {
        let mut walk = Walk::over(&clause, said.after_verb);
        let key = walk.next();
        let value = said.words.text(walk.rest()).to_owned();
        let slot = match key {
            Some(word) if word.is(&["from", "at"]) => &mut order.from,
            Some(word) if word.is(&["price", "for", "costs"]) => &mut order.price,
            Some(word) if word.is(&["due", "by"]) => &mut order.due,
            Some(word) => {
                return Err(said.fault(word.start, "`from WHOM`, `price AMOUNT` or `due WHEN`"));
            }
            None => continue,
        };
        if value.is_empty() {
            return Err(said.fault(walk.place(), "a word after it"));
        }
        *slot = Some(value);
    }
    Ok(Act::Ordered(Box::new(order)))
}

pub(super) fn arrived(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    Ok(Act::Arrived {
        what: goods(said)?,
        note: rest(said),
    })
}

/// What must stand first behind the colon of a comparison.
const ALIKE: [&str; 5] = ["same", "alike", "equal", "fits", "ok"];
const UNLIKE: [&str; 5] = ["differs", "different", "other", "wrong", "not"];

pub(super) fn compare(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let what = name(said, &mut walk, &[&ALIKE[..], &UNLIKE[..]].concat())?;
    let behind = said.words.text(walk.rest());
    let seen = match (behind, rest(said)) {
        ("", None) => None,
        ("", Some(text)) => Some(text),
        (word, None) => Some(word.to_owned()),
        (word, Some(text)) => Some(format!("{word}, {text}")),
    };
    let first = seen
        .as_deref()
        .and_then(|text| text.split(|sign: char| !sign.is_alphanumeric()).next())
        .unwrap_or_default()
        .to_lowercase();
    let alike = ALIKE.contains(&first.as_str());
    if !alike && !UNLIKE.contains(&first.as_str()) {
        let at = said.words.colon.unwrap_or(said.words.line.len());
        return Err(said.fault(at, "`same` or `differs` first, then what was seen"));
    }
    Ok(Act::Compared { what, alike, seen })
}

pub(super) fn sent(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let mut errand = Errand {
        part: name(said, &mut walk, &["to", "for", "due"])?,
        to: None,
        work: None,
        due: None,
    };
    let clauses = later_clauses(said.words);
    let walks = clauses
        .iter()
        .map(|clause| Walk::over(clause, said.after_verb));
    for mut walk in std::iter::once(walk).chain(walks) {
        while let Some(key) = walk.next() {
            let slot = match () {
                () if key.is(&["to"]) => &mut errand.to,
                () if key.is(&["for"]) => &mut errand.work,
                () if key.is(&["due", "by"]) => &mut errand.due,
                () => return Err(said.fault(key.start, "`to WHOM`, `for WORK` or `due WHEN`")),
            };
            let value = said.words.text(walk.until(&["for", "due"]));
            if value.is_empty() {
                return Err(said.fault(walk.place(), format!("a word after `{}`", key.text)));
            }
            *slot = Some(value.to_owned());
        }
    }
    Ok(Act::SentOut(errand))
}

pub(super) fn back(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let what = name(said, &mut said.walk(), &[])?;
    Ok(Act::Back {
        what,
        result: rest(said),
    })
}

pub(super) fn paid(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    let mut walk = said.walk();
    let at = walk.place();
    let amount = said.words.text(walk.until(&["to", "for"]));
    if !amount.contains(|sign: char| sign.is_ascii_digit())
        || !amount.contains(|sign: char| !sign.is_ascii_digit() && !" .".contains(sign))
    {
        return Err(said.fault(at, "an amount with its currency: `140 EUR`"));
    }
    let mut value = |key: &str| -> Result<Option<String>, LineFault> {
        if walk.take(&[key]).is_none() {
            return Ok(None);
        }
        name(said, &mut walk, &["to", "for"]).map(Some)
    };
    let to = value("to")?;
    let what = value("for")?;
    let to = if to.is_none() { value("to")? } else { to };
    super::apart::done(said, &walk, "`to WHOM` or `for WHAT`")?;
    Ok(Act::Paid {
        amount: amount.to_owned(),
        to,
        what: what.or_else(|| rest(said)),
    })
}

pub(super) fn put_in(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    if let Some(first) = said.first.first()
        && words_count(first.text)
        && said.words.colon.is_none()
    {
        // `put in 3 rags in the inlet ports`
        let (items, place) = things_and_place(said)?;
        let place = place.ok_or_else(|| {
            said.fault(
                said.words.line.len(),
                "where: `in bulkhead inlet ports: 3 rags`",
            )
        })?;
        return Ok(Act::PutIn { place, items });
    }
    let (place, items) = place_and_things(said)?;
    if items.is_empty() {
        return Err(said.fault(
            said.words.line.len(),
            "a colon and what was put in, counted: `: 3 rags`",
        ));
    }
    Ok(Act::PutIn { place, items })
}

fn words_count(word: &str) -> bool {
    word.starts_with(|first: char| first.is_ascii_digit())
}

fn place_and_things(said: &Sentence<'_, '_>) -> Result<(String, Vec<Item>), LineFault> {
    let mut walk = said.walk();
    walk.take(&["of", "from"]);
    let place = name(said, &mut walk, &[])?;
    Ok((place, items(said.words, &later_clauses(said.words))?))
}

pub(super) fn taken_out(said: &Sentence<'_, '_>) -> Result<Act, LineFault> {
    if said
        .first
        .first()
        .is_some_and(|word| words_count(word.text))
        && said.words.colon.is_none()
    {
        let at = said.first.iter().position(|word| word.is(&["from", "of"]));
        if let Some(at) = at {
            let things = item(said.words, Walk::over(&said.first[..at], said.after_verb))?;
            let mut walk = Walk::over(&said.first[at + 1..], said.words.line.len());
            let place = name(said, &mut walk, &[])?;
            return Ok(Act::TakenOut {
                place,
                items: vec![things],
            });
        }
    }
    let (place, items) = place_and_things(said)?;
    Ok(Act::TakenOut { place, items })
}
