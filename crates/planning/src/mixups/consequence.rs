//! What happens when ends of two media, or two alike things, are exchanged: an open table.
//!
//! A book's own `crossing` always has the word. Otherwise the row for the sort of plug counts,
//! then the row for the two media, then a row for what they are (two gases, two wires). Every
//! row says what happens, which is the reason for its grade. All rows are common practice.

use book::{Book, CrossingGrade, Medium};

/// When a mix-up gives itself away.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shows {
    /// While it is being fitted, filled or switched on.
    AtOnce,
    /// In the first minutes, before anything is hurt.
    FirstStart,
    /// By the damage itself.
    ByDamage,
}

impl Shows {
    /// The words a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::AtOnce => "at once",
            Self::FirstStart => "at the first start",
            Self::ByDamage => "only by the damage",
        }
    }
}

/// What a mix-up does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Consequence {
    /// How bad it is.
    pub grade: CrossingGrade,
    /// What happens, one sentence without its full stop.
    pub says: String,
    /// Whether it shows before damage.
    pub shows: Shows,
}

impl Consequence {
    pub(super) fn new(grade: CrossingGrade, shows: Shows, says: impl Into<String>) -> Self {
        Self {
            grade,
            says: says.into(),
            shows,
        }
    }
}

use CrossingGrade::{Damage, Danger, Nuisance, Ruin};
use Shows::{AtOnce, ByDamage, FirstStart};

/// One row: two media in either order, grade, when it shows, what happens.
type Row = (Medium, Medium, CrossingGrade, Shows, &'static str);

/// The built-in rows for pairs of media.
const MEDIA: &[Row] = &[
    (
        Medium::Coolant,
        Medium::Crankcase,
        Ruin,
        ByDamage,
        "coolant runs into the intake or the oil; a cylinder that fills stops the crank dead (hydraulic lock) and bends a rod",
    ),
    (
        Medium::Coolant,
        Medium::Vacuum,
        Ruin,
        ByDamage,
        "the engine draws coolant into the intake; a cylinder that fills stops the crank dead (hydraulic lock)",
    ),
    (
        Medium::Coolant,
        Medium::Purge,
        Ruin,
        ByDamage,
        "coolant is drawn through the purge valve into the intake: hydraulic lock, and a drowned canister",
    ),
    (
        Medium::Coolant,
        Medium::Air,
        Ruin,
        ByDamage,
        "coolant runs into the intake; a cylinder that fills stops the crank dead (hydraulic lock)",
    ),
    (
        Medium::Coolant,
        Medium::Oil,
        Ruin,
        ByDamage,
        "coolant and oil mix; bearings run without a film",
    ),
    (
        Medium::Coolant,
        Medium::Fuel,
        Danger,
        AtOnce,
        "fuel is pumped into the cooling system and out at the bottle: fire",
    ),
    (
        Medium::Coolant,
        Medium::Hydraulic,
        Danger,
        ByDamage,
        "water in brake, clutch or steering fluid, and that fluid in the coolant: seals swell, the pedal or the wheel fails",
    ),
    (
        Medium::Coolant,
        Medium::GearOil,
        Ruin,
        ByDamage,
        "coolant in the gearbox takes its clutches and bearings",
    ),
    (
        Medium::Coolant,
        Medium::Exhaust,
        Ruin,
        ByDamage,
        "coolant is blown out or drawn into a cylinder",
    ),
    (
        Medium::Coolant,
        Medium::Coolant,
        Nuisance,
        FirstStart,
        "coolant goes the wrong way round: cold heater, trapped air, hot spots",
    ),
    (
        Medium::Fuel,
        Medium::Fuel,
        Damage,
        FirstStart,
        "feed and return crossed: no pressure or far too much, a leak under pressure",
    ),
    (
        Medium::Fuel,
        Medium::Vacuum,
        Danger,
        ByDamage,
        "the engine draws liquid fuel, or the pump pushes it out of an open hose: fire, fuel in the oil, hydraulic lock",
    ),
    (
        Medium::Fuel,
        Medium::Crankcase,
        Danger,
        ByDamage,
        "liquid fuel runs into the intake or the oil: fire, hydraulic lock",
    ),
    (
        Medium::Fuel,
        Medium::Purge,
        Danger,
        ByDamage,
        "liquid fuel is pumped into the canister or the intake: fire",
    ),
    (
        Medium::Fuel,
        Medium::Air,
        Danger,
        ByDamage,
        "liquid fuel runs into the intake: fire, hydraulic lock",
    ),
    (
        Medium::Fuel,
        Medium::Oil,
        Danger,
        ByDamage,
        "fuel thins the oil and may catch fire",
    ),
    (
        Medium::Fuel,
        Medium::Hydraulic,
        Danger,
        ByDamage,
        "fuel in brake, clutch or steering fluid: seals swell; fire",
    ),
    (
        Medium::Fuel,
        Medium::GearOil,
        Danger,
        ByDamage,
        "fuel in the gearbox, gear oil in the rail: fire",
    ),
    (
        Medium::Fuel,
        Medium::Exhaust,
        Danger,
        ByDamage,
        "fuel on the exhaust: fire",
    ),
    (
        Medium::Oil,
        Medium::Vacuum,
        Ruin,
        ByDamage,
        "the engine draws its own oil: it may run away or lock on liquid",
    ),
    (
        Medium::Oil,
        Medium::Crankcase,
        Damage,
        FirstStart,
        "oil is blown into the intake; smoke, fouled plugs, falling level",
    ),
    (
        Medium::Oil,
        Medium::Air,
        Ruin,
        ByDamage,
        "oil runs into the intake: it may run away or lock on liquid",
    ),
    (
        Medium::Oil,
        Medium::Purge,
        Damage,
        FirstStart,
        "oil is drawn through the purge valve: smoke, a drowned valve",
    ),
    (
        Medium::Oil,
        Medium::Oil,
        Ruin,
        ByDamage,
        "feed and return crossed: a bearing runs dry",
    ),
    (
        Medium::Oil,
        Medium::Hydraulic,
        Danger,
        ByDamage,
        "mineral oil in brake or clutch fluid swells every seal; steering pump starved",
    ),
    (
        Medium::Oil,
        Medium::GearOil,
        Damage,
        ByDamage,
        "the wrong oil in both",
    ),
    (
        Medium::Hydraulic,
        Medium::Hydraulic,
        Danger,
        FirstStart,
        "pressure on the return side: a hose bursts, help in steering or brakes fails",
    ),
    (
        Medium::Hydraulic,
        Medium::Crankcase,
        Ruin,
        ByDamage,
        "the engine draws hydraulic fluid: smoke, liquid in a cylinder; steering or brakes without fluid",
    ),
    (
        Medium::Hydraulic,
        Medium::Vacuum,
        Danger,
        ByDamage,
        "the engine draws hydraulic fluid; steering or brakes are left without",
    ),
    (
        Medium::GearOil,
        Medium::GearOil,
        Damage,
        FirstStart,
        "cooler flow the wrong way round; the gearbox may run hot",
    ),
    (
        Medium::Vacuum,
        Medium::Vacuum,
        Nuisance,
        FirstStart,
        "vacuum at the wrong moment or strength: rough idle, wrong fuel pressure, a flap that stays open",
    ),
    (
        Medium::Vacuum,
        Medium::Purge,
        Nuisance,
        FirstStart,
        "fuel vapour goes where vacuum was wanted: rich idle, weak servo or flap",
    ),
    (
        Medium::Vacuum,
        Medium::Crankcase,
        Nuisance,
        FirstStart,
        "oily gas into a vacuum unit, crankcase under the wrong pressure: oil leaks, rough idle",
    ),
    (
        Medium::Vacuum,
        Medium::Air,
        Nuisance,
        FirstStart,
        "an open way round the throttle: fast, lean idle",
    ),
    (
        Medium::Purge,
        Medium::Purge,
        Nuisance,
        FirstStart,
        "the purge valve stands the wrong way round: smell of fuel, rich or lean idle",
    ),
    (
        Medium::Purge,
        Medium::Crankcase,
        Nuisance,
        FirstStart,
        "oily gas into the canister, vapour into the crankcase",
    ),
    (
        Medium::Crankcase,
        Medium::Crankcase,
        Nuisance,
        FirstStart,
        "breathing the wrong way round: oil mist in the filter, oil leaks",
    ),
    (
        Medium::Crankcase,
        Medium::Air,
        Nuisance,
        FirstStart,
        "unfiltered air or oil mist where it does not belong: lean idle",
    ),
    (
        Medium::Air,
        Medium::Air,
        Nuisance,
        FirstStart,
        "air past the meter: lean idle",
    ),
    (
        Medium::Power,
        Medium::Ground,
        Danger,
        AtOnce,
        "a dead short as soon as the battery is connected: fire, a battery that bursts",
    ),
    (
        Medium::Power,
        Medium::Signal,
        Damage,
        AtOnce,
        "full supply on a thin wire: a control unit or loom burns",
    ),
    (
        Medium::Power,
        Medium::Power,
        Damage,
        AtOnce,
        "a consumer without its fuse, or no charging",
    ),
    (
        Medium::Ground,
        Medium::Ground,
        Nuisance,
        FirstStart,
        "heavy current through the thin strap: slow starter, warm wire",
    ),
    (
        Medium::Ground,
        Medium::Signal,
        Nuisance,
        FirstStart,
        "a sensor held at ground: no start or a stored fault",
    ),
    (
        Medium::Signal,
        Medium::Signal,
        Nuisance,
        FirstStart,
        "wire to wire: each unit answers for the other, a stored fault or no start",
    ),
    (
        Medium::Ignition,
        Medium::Ignition,
        Damage,
        FirstStart,
        "lead to the wrong cylinder: it fires on the wrong stroke, kicks back, raw fuel in the exhaust",
    ),
    (
        Medium::Pull,
        Medium::Pull,
        Danger,
        AtOnce,
        "the wrong cable moves: throttle or clutch does what nobody asked",
    ),
    (
        Medium::Refrigerant,
        Medium::Refrigerant,
        Danger,
        AtOnce,
        "refrigerant lines crossed; only a licensed trade opens them",
    ),
];

/// Sorts of plugs that say more than *signal* does. The word is looked for in both names.
const PLUGS: &[(&str, CrossingGrade, Shows, &str)] = &[
    (
        "injector",
        Nuisance,
        FirstStart,
        "each injector sprays at the other cylinder's time; the evidence of a misfire moves with it",
    ),
    (
        "lambda",
        Damage,
        ByDamage,
        "each bank is corrected by the other's reading: one is driven full rich, the other full lean",
    ),
    (
        "oxygen",
        Damage,
        ByDamage,
        "each bank is corrected by the other's reading: one is driven full rich, the other full lean",
    ),
    (
        "knock",
        Damage,
        ByDamage,
        "timing is taken back on the wrong bank; the one that knocks goes on knocking",
    ),
    (
        "cam",
        Nuisance,
        FirstStart,
        "cam signals of two banks crossed: no start, or timing of the banks judged the wrong way round",
    ),
    (
        "coil",
        Damage,
        FirstStart,
        "coil plugs crossed: it fires on the wrong stroke, kicks back, raw fuel in the exhaust",
    ),
];

/// What joining two media does, with the names of the two ends where a sort of plug decides.
#[must_use]
pub fn crossing(book: &Book, names: [&str; 2], media: [&Medium; 2]) -> Consequence {
    let either = |a: &Medium, b: &Medium| {
        (a == media[0] && b == media[1]) || (a == media[1] && b == media[0])
    };
    if let Some(own) = book.crossings.iter().find(|own| either(&own.a, &own.b)) {
        // A book says what and how bad; when it shows follows from whether it is harmless.
        let shows = if own.grade <= Nuisance {
            FirstStart
        } else {
            ByDamage
        };
        return Consequence::new(own.grade, shows, own.says.trim_end_matches('.'));
    }
    if media.iter().all(|medium| **medium == Medium::Signal) {
        let both = |word: &str| names.iter().all(|name| name.to_lowercase().contains(word));
        if let Some((_, grade, shows, says)) = PLUGS.iter().find(|(word, ..)| both(word)) {
            return Consequence::new(*grade, *shows, *says);
        }
    }
    if let Some((_, _, grade, shows, says)) = MEDIA.iter().find(|(a, b, ..)| either(a, b)) {
        return Consequence::new(*grade, *shows, *says);
    }
    let [a, b] = media;
    match (
        a.is_liquid() || b.is_liquid(),
        a.is_electric() || b.is_electric(),
    ) {
        (true, _) => Consequence::new(
            Damage,
            ByDamage,
            format!("{a} where {b} belongs, and the other way round"),
        ),
        (false, true) => Consequence::new(Damage, AtOnce, format!("{a} wired to {b}")),
        (false, false) => Consequence::new(
            Nuisance,
            FirstStart,
            format!("{a} where {b} belongs, and the other way round"),
        ),
    }
}

/// What an end left off its port does.
#[must_use]
pub fn left_off(medium: Option<&Medium>) -> Consequence {
    let (grade, shows, says) = match medium {
        Some(Medium::Coolant) => (
            Damage,
            AtOnce,
            "it runs out as it is filled, or boils dry later",
        ),
        Some(Medium::Fuel) => (
            Danger,
            AtOnce,
            "fuel sprays into the bay as soon as the pump runs: fire",
        ),
        Some(Medium::Oil) => (
            Ruin,
            FirstStart,
            "the oil is pumped out in less than a minute",
        ),
        Some(Medium::Hydraulic) => (Danger, AtOnce, "steering, clutch or brakes without fluid"),
        Some(Medium::Ground) => (
            Damage,
            FirstStart,
            "starter current looks for a thinner way home: a cable or a bearing burns",
        ),
        Some(Medium::Power) => (
            Danger,
            AtOnce,
            "a live end lies loose in the bay: short, fire",
        ),
        Some(Medium::Ignition) => (
            Damage,
            FirstStart,
            "a cylinder does not fire; the coil seeks another way, raw fuel in the exhaust",
        ),
        Some(Medium::Vacuum) => (
            Nuisance,
            FirstStart,
            "false air: lean, fast idle; the servo may be without help, so try the pedal before moving",
        ),
        Some(Medium::Refrigerant) => (
            Danger,
            AtOnce,
            "refrigerant escapes; only a licensed trade opens it",
        ),
        Some(Medium::GearOil) => (Damage, FirstStart, "the gearbox runs dry"),
        Some(Medium::Pull) => (Danger, AtOnce, "the pedal or lever moves nothing"),
        Some(Medium::Exhaust) => (Danger, AtOnce, "exhaust gas in the bay or the cabin"),
        Some(Medium::Crankcase | Medium::Purge | Medium::Air) => (
            Nuisance,
            FirstStart,
            "false air or oil mist: lean idle, smell",
        ),
        Some(Medium::Signal) => (
            Nuisance,
            FirstStart,
            "a unit is missing: a stored fault or no start",
        ),
        Some(Medium::Other(_)) | None => (Nuisance, FirstStart, "something does not work"),
    };
    Consequence::new(grade, shows, says)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn graded(book: &Book, a: &Medium, b: &Medium) -> CrossingGrade {
        crossing(book, ["x", "y"], [a, b]).grade
    }

    #[test]
    fn a_pair_reads_the_same_from_both_sides() {
        let book = Book::default();
        for a in &Medium::NAMED {
            for b in &Medium::NAMED {
                assert_eq!(
                    crossing(&book, ["x", "y"], [a, b]).grade,
                    crossing(&book, ["y", "x"], [b, a]).grade,
                    "{a} {b}"
                );
            }
        }
    }

    #[test]
    fn no_pair_stands_twice_in_the_table() {
        for (at, (a, b, ..)) in MEDIA.iter().enumerate() {
            let again = MEDIA[at + 1..]
                .iter()
                .any(|(c, d, ..)| (a, b) == (c, d) || (a, b) == (d, c));
            assert!(!again, "{a} {b}");
        }
    }

    #[test]
    fn the_books_own_word_stands_over_the_table() {
        let own = book::Crossing {
            a: Medium::Coolant,
            b: Medium::Crankcase,
            says: "seen once.".to_owned(),
            grade: Nuisance,
            span: book::Span::default(),
        };
        let book = Book {
            crossings: vec![own],
            ..Book::default()
        };
        let found = crossing(&book, ["a", "b"], [&Medium::Crankcase, &Medium::Coolant]);
        assert_eq!((found.grade, found.says.as_str()), (Nuisance, "seen once"));
        assert_eq!(
            graded(&Book::default(), &Medium::Crankcase, &Medium::Coolant),
            Ruin
        );
    }

    #[test]
    fn sensors_of_two_banks_are_worse_than_two_wires() {
        let of = |a: &str, b: &str| {
            crossing(&Book::default(), [a, b], [&Medium::Signal, &Medium::Signal]).grade
        };
        assert_eq!(of("bulkhead-lambda", "radiator-lambda"), Damage);
        assert_eq!(of("fan", "radiator-lambda"), Nuisance);
    }
}
