//! Facts as values: the words they were read from, or the value spelt anew where the words no
//! longer say it.

use quantity::{
    Kind, Length, Quantity, Range, Said, Spec, Unit, read, read_any, read_range, show, show_range,
    spec, unit,
};

use crate::amount::Amount;
use crate::effort::Estimate;
use crate::fact::Fact;
use crate::hole::{Head, HeadShape, Position};
use crate::money::Price;
use crate::thread::Thread;
use crate::word::Choice;
use crate::write::page::Entry;

impl Entry {
    /// `x=… y=…`, where it was measured.
    pub(super) fn position(&mut self, position: Option<Position>) -> &mut Self {
        if let Some(position) = position {
            // To the hundredth: a drawing at full scale must not move for having been written.
            let mm =
                |length: Length| format!("{} mm", (length.in_mm() * 100.0).round() / 100.0 + 0.0);
            self.say("x", &mm(position.x)).say("y", &mm(position.y));
        }
        self
    }

    /// `name=value`, `name="?"`, `name=none`, or nothing.
    pub(super) fn fact<T>(
        &mut self,
        name: &str,
        fact: &Fact<T>,
        spell: impl FnOnce(&Said<T>) -> String,
    ) -> &mut Self {
        match fact {
            Fact::NeverAsked => self,
            Fact::Unknown => self.say(name, "?"),
            Fact::DoesNotApply => self.say(name, "none"),
            Fact::Known(said) => self.say(name, &spell(said)),
        }
    }

    pub(super) fn quantity<Q: Quantity>(&mut self, name: &str, fact: &Fact<Q>) -> &mut Self {
        self.fact(name, fact, quantity)
    }

    pub(super) fn range<Q: Quantity>(&mut self, name: &str, fact: &Fact<Range<Q>>) -> &mut Self {
        self.fact(name, fact, range)
    }

    pub(super) fn amount(&mut self, name: &str, fact: &Fact<Amount>) -> &mut Self {
        self.fact(name, fact, amount)
    }

    pub(super) fn estimate(&mut self, name: &str, fact: &Fact<Estimate>) -> &mut Self {
        self.fact(name, fact, estimate)
    }

    /// A price; `usual` is the currency of the book.
    pub(super) fn price(&mut self, name: &str, fact: &Fact<Price>, usual: &str) -> &mut Self {
        self.fact(name, fact, |said| {
            if Price::read(&said.typed, usual).as_ref() == Some(&said.value) {
                said.typed.clone()
            } else {
                said.value.to_string()
            }
        })
    }

    pub(super) fn choice<T: Choice>(&mut self, name: &str, fact: &Fact<T>) -> &mut Self {
        self.fact(name, fact, |said| said.value.spelt().to_owned())
    }

    pub(super) fn words(&mut self, name: &str, fact: &Fact<String>) -> &mut Self {
        self.fact(name, fact, |said| said.value.clone())
    }

    pub(super) fn count(&mut self, name: &str, fact: &Fact<u32>) -> &mut Self {
        self.fact(name, fact, |said| said.value.to_string())
    }

    pub(super) fn yes_or_no(&mut self, name: &str, fact: &Fact<bool>) -> &mut Self {
        match fact {
            Fact::Known(said) => self.yes_no(name, said.value),
            Fact::NeverAsked | Fact::Unknown | Fact::DoesNotApply => {
                self.fact(name, fact, |_| String::new())
            }
        }
    }
}

/// Whether a text says exactly this value.
fn says<Q: Quantity>(text: &str, value: Q) -> bool {
    read::<Q>(text).is_ok_and(|again| again.value == value)
}

pub(super) fn quantity<Q: Quantity>(said: &Said<Q>) -> String {
    if says(&said.typed, said.value) {
        said.typed.clone()
    } else {
        show(said.value, usual(Q::KIND))
    }
}

fn range<Q: Quantity>(said: &Said<Range<Q>>) -> String {
    let same = match read_range::<Q>(&said.typed) {
        Ok(again) => again.value == said.value,
        Err(_) => read::<Q>(&said.typed)
            .is_ok_and(|one| one.value == said.value.low && one.value == said.value.high),
    };
    match same {
        true => said.typed.clone(),
        false if said.value.low == said.value.high => show(said.value.low, usual(Q::KIND)),
        false => show_range(said.value, usual(Q::KIND)),
    }
}

fn amount(said: &Said<Amount>) -> String {
    let value = said.value;
    let same = read_any(&said.typed)
        .is_ok_and(|again| again.value.kind == value.kind() && again.value.si == value.si());
    if same {
        said.typed.clone()
    } else {
        quantity::show_si(value.si(), usual(value.kind()))
    }
}

fn estimate(said: &Said<Estimate>) -> String {
    let Estimate { likely, range } = said.value;
    let typed_says_it = match said.typed.split_once(',') {
        None => range.is_none() && says(&said.typed, likely),
        Some((first, rest)) => {
            says(first, likely) && read_range(rest).is_ok_and(|again| Some(again.value) == range)
        }
    };
    // A range alone stands for its middle.
    let only_range = read_range(&said.typed).is_ok_and(|again| Some(again.value) == range);
    if typed_says_it || only_range {
        return said.typed.clone();
    }
    let unit = &unit::MINUTE;
    match range {
        None => show(likely, unit),
        Some(range) => format!("{}, {}", show(likely, unit), show_range(range, unit)),
    }
}

pub(super) fn stage(said: &Said<Spec>) -> String {
    match spec::read(&said.typed) {
        Ok(again) if again.value == said.value => said.typed.clone(),
        _ => said.value.shown(&unit::NEWTON_METRE),
    }
}

pub(super) fn thread(said: &Said<Thread>) -> String {
    match Thread::read(&said.typed) {
        Ok(again) if again == said.value => said.typed.clone(),
        _ => said.value.to_string(),
    }
}

pub(super) fn head(said: &Said<Head>) -> String {
    let head = &said.value;
    let across = || {
        head.across
            .map_or_else(String::new, |size| show(size, &unit::MILLIMETRE))
    };
    let number = || {
        head.number
            .map_or_else(String::new, |number| number.to_string())
    };
    let spelt = match head.shape {
        HeadShape::Hexagon => across(),
        HeadShape::InnerHexagon => format!("hex {}", across()),
        HeadShape::InnerStar => format!("T{}", number()),
        HeadShape::OuterStar => format!("E{}", number()),
        HeadShape::TwelvePoint => format!("12-point {}", across()),
        HeadShape::Square => format!("square {}", across()),
        HeadShape::Cross => format!("cross {}", number()),
        HeadShape::Slot => "slot".to_owned(),
    };
    let size_said = head.across.is_none_or(|size| {
        let typed = said.typed.trim();
        let text = typed
            .split_once(' ')
            .filter(|_| head.shape != HeadShape::Hexagon);
        says(text.map_or(typed, |(_, size)| size), size)
    });
    if size_said && head.across.is_some() {
        said.typed.clone()
    } else {
        spelt.trim().to_owned()
    }
}

/// The unit a workshop writes a kind in.
fn usual(kind: Kind) -> &'static Unit {
    match kind {
        Kind::Length => &unit::MILLIMETRE,
        Kind::Volume => &unit::LITRE,
        Kind::Torque => &unit::NEWTON_METRE,
        Kind::GaugePressure => &unit::BAR,
        Kind::Angle => &unit::DEGREE,
        Kind::Duration => &unit::MINUTE,
        Kind::Ratio => &unit::PERCENT,
        Kind::Temperature => &unit::DEGREE_CELSIUS,
        other => unit::UNITS
            .iter()
            .find(|unit| unit.kind == other)
            .unwrap_or(&unit::FRACTION),
    }
}
