//! Units that are mistaken for one another, and what is asked when they are.
//!
//! Each refusal here stands for a mistake with a size: a foot for an inch is twelve times,
//! a centimetre for a metre a hundred, an `m` for an `M` a thousand million.

use std::ops::Range;

use super::fault::ReadFault;
use super::hint::offer;
use super::scan::Scan;
use crate::kind::Kind;
use crate::unit::{self, Match, Unit};

/// A spelling that is refused for one kind although it looks like a unit of it. `#` is the number.
struct Trap {
    kind: Kind,
    spellings: &'static [&'static str],
    reason: &'static str,
    hint: &'static str,
}

const TRAPS: &[Trap] = &[
    Trap {
        kind: Kind::Torque,
        spellings: &[
            "lb", "lbs", "LB", "LBS", "Lb", "Lbs", "pound", "pounds", "Pounds", "lbf", "#",
        ],
        reason: "pounds alone are a weight: foot or inch is missing, and they differ by twelve",
        hint: "write `# lbf·ft` or `# lbf·in`",
    },
    Trap {
        kind: Kind::Torque,
        spellings: &[
            "kg",
            "Kg",
            "KG",
            "kgs",
            "kgf",
            "kp",
            "kilo",
            "kilos",
            "kilogram",
            "kilograms",
        ],
        reason: "kilograms alone are a weight: metre or centimetre is missing, and they differ by a hundred",
        hint: "write `# kgf·m` or `# kgf·cm`",
    },
    Trap {
        kind: Kind::Torque,
        spellings: &["oz", "ozf", "ounce", "ounces"],
        reason: "ounces alone are a weight: foot or inch is missing, and they differ by twelve",
        hint: "write `# ozf·in` or `# ozf·ft`",
    },
    Trap {
        kind: Kind::Torque,
        spellings: &["kg/cm", "kgf/cm", "kp/cm", "kg/cm2", "kgf/cm2", "kp/cm2"],
        reason: "kilograms over centimetres read as a pressure, not as a torque",
        hint: "write `# kgf·cm` if it is a torque, or `# kgf/cm²` where a pressure is asked for",
    },
    Trap {
        kind: Kind::Torque,
        spellings: &["mN", "MN"],
        reason: "this is a force, a thousandth or a million of a newton: the metre is missing or the letters are swapped",
        hint: "write `# N·m` or `# mN·m`, whichever the original says",
    },
    Trap {
        kind: Kind::Torque,
        spellings: &["N", "n", "kN", "daN", "newton", "newtons"],
        reason: "newtons alone are a force: the metre is missing",
        hint: "write `# N·m`, or `# N·cm` if the original says so",
    },
    Trap {
        kind: Kind::Torque,
        spellings: &["MN·m"],
        reason: "a meganewton metre is a million newton metres, which no wrench of this trade gives",
        hint: "write `# mN·m` or `# N·m`, whichever the original says",
    },
    Trap {
        kind: Kind::Torque,
        spellings: &["KN·m", "MN·M", "mN·M", "mn·m", "KN·M", "kN·M", "kn·m"],
        reason: "upper and lower case carry a meaning here: m is a thousandth, M a million, k a thousand",
        hint: "write `# N·m`, `# mN·m` or `# kN·m`, letter for letter",
    },
    Trap {
        kind: Kind::GaugePressure,
        spellings: &["mPa", "mpa"],
        reason: "a small m is a thousandth and a capital M a million: they are a thousand million apart",
        hint: "write `# MPa`",
    },
    Trap {
        kind: Kind::Stress,
        spellings: &["mPa", "mpa"],
        reason: "a small m is a thousandth and a capital M a million: they are a thousand million apart",
        hint: "write `# MPa`",
    },
    Trap {
        kind: Kind::Force,
        spellings: &["mN", "MN"],
        reason: "a small m is a thousandth and a capital M a million: they are a thousand million apart",
        hint: "write `# N` or `# kN`",
    },
    Trap {
        kind: Kind::Force,
        spellings: &["lb", "lbs", "LB", "LBS", "pound", "pounds"],
        reason: "pounds are a mass here, and a force is asked for",
        hint: "write `# lbf` for pounds of force",
    },
    Trap {
        kind: Kind::Force,
        spellings: &["kg", "Kg", "KG", "kgs", "kilo", "kilos"],
        reason: "kilograms are a mass, and a force is asked for",
        hint: "write `# kgf` for kilograms of force",
    },
    Trap {
        kind: Kind::Volume,
        spellings: &["oz", "ounce", "ounces"],
        reason: "ounces are a weight unless they say they are fluid ounces",
        hint: "write `# US fl oz`",
    },
];

/// Refuses a trap of `kind` that starts here and reaches at least as far as any real unit.
pub(super) fn refuse(
    scan: &Scan<'_>,
    kind: Kind,
    typed: &str,
    unit_length: usize,
) -> Result<(), ReadFault> {
    let Some((trap, length)) = trap_at(scan.rest(), |trap| trap.kind == kind) else {
        return Ok(());
    };
    if length < unit_length {
        return Ok(());
    }
    Err(trap.fault(scan, typed, length))
}

/// Refuses a trap of any kind that starts here, where no unit does.
pub(super) fn refuse_of_any_kind(scan: &Scan<'_>, typed: &str) -> Result<(), ReadFault> {
    trap_at(scan.rest(), |_| true).map_or(Ok(()), |(trap, length)| {
        Err(trap.fault(scan, typed, length))
    })
}

/// Asks about a weight that may be a torque, a force or a mass, where the kind is not known.
pub(super) fn refuse_two_trades(
    scan: &Scan<'_>,
    typed: &str,
    found: &Match,
) -> Result<(), ReadFault> {
    let choices = if found.unit == &unit::POUND_MASS {
        "a mass, a force, or a torque with foot or inch left out"
    } else if found.unit == &unit::OUNCE_MASS {
        "a mass, a fluid ounce, or a torque with the inch left out"
    } else {
        return Ok(());
    };
    let at = scan.at()..scan.at() + found.length;
    let word = &scan.text()[at.clone()];
    let hint = if found.unit == &unit::POUND_MASS {
        format!(
            "write `{typed} lbf·ft`, `{typed} lbf·in` or `{typed} lbf`, or say that a mass is meant"
        )
    } else {
        format!("write `{typed} ozf·in` or `{typed} US fl oz`, or say that a mass is meant")
    };
    Err(ReadFault::new(
        scan.text(),
        at,
        format!("`{word}` could be {choices}"),
        hint,
    ))
}

fn trap_at(text: &str, wanted: impl Fn(&Trap) -> bool) -> Option<(&'static Trap, usize)> {
    TRAPS
        .iter()
        .filter(|trap| wanted(trap))
        .flat_map(|trap| {
            trap.spellings.iter().filter_map(move |spelling| {
                unit::exact_length(spelling, text).map(|length| (trap, length))
            })
        })
        .max_by_key(|(_, length)| *length)
}

impl Trap {
    fn fault(&self, scan: &Scan<'_>, typed: &str, length: usize) -> ReadFault {
        let at = scan.at()..scan.at() + length;
        ReadFault::new(scan.text(), at, self.reason, with_number(self.hint, typed))
    }
}

/// Puts the typed number into a hint; without one the unit stands alone.
fn with_number(hint: &str, typed: &str) -> String {
    if typed.is_empty() {
        hint.replace("# ", "")
    } else {
        hint.replace('#', typed)
    }
}

/// The fault for a unit of another kind, with the reason the two are kept apart.
pub(super) fn other_kind(
    text: &str,
    at: Range<usize>,
    asked: Kind,
    found: &Unit,
    typed: &str,
) -> ReadFault {
    let word = &text[at.clone()];
    let reason = format!(
        "`{word}` is a unit of {}, and {} is asked for",
        found.kind.name(),
        asked.with_article()
    );
    let (why, hint) = match (asked, found.kind) {
        (Kind::Torque, Kind::Energy) => (
            "; they share a dimension but are kept apart",
            with_number("write `# N·m` if it is a torque", typed),
        ),
        (Kind::Energy, Kind::Torque) => (
            "; they share a dimension but are kept apart",
            with_number("write `# J` if it is an energy", typed),
        ),
        (Kind::AbsolutePressure, Kind::GaugePressure) => (
            "; a bare pressure counts from the air around, not from nothing",
            with_number(
                "write `# kPa abs`, `# bar abs` or `# psia` if it counts from nothing",
                typed,
            ),
        ),
        (Kind::GaugePressure, Kind::AbsolutePressure) => (
            "; the two differ by the pressure of the air",
            "take the air pressure of the day off and write it without `abs`".to_owned(),
        ),
        _ => ("", offer(asked)),
    };
    ReadFault::new(text, at, reason + why, hint)
}
