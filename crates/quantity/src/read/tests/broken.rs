//! Broken text: it never panics, is never read as something, and always gives a place.

use proptest::prelude::*;

use crate::kind::Kind;
use crate::kinds::{GaugePressure, Length, Torque};
use crate::read::{
    ReadFault, read_any, read_as, read_bound, read_bound_list, read_list, read_range,
};
use crate::spec;

const GOOD: &[&str] = &[
    "35 N·m",
    "18–22 lbf·ft",
    "2-7/16 in",
    "20 ± 2 N·m",
    "20 +2/-1 N·m",
    "< 0.04 mm",
    "0.05..0.06 mm",
    "107 60 80 105 psi",
    "30 N·m + 90° + 90°",
    "166 ft-lb (255 N·m)",
    "1 h 30 min",
    "−37.1 °C",
    "1,500.25 rpm",
    "hand tight, 20 N·m, repeat 2, wait 10 min",
];

const SIGNS: &[&str] = &[
    "", "-", "–", "+", "±", "/", "..", ",", ".", "(", ")", "\u{FFFD}", "٣", "½", "e", "%", "°",
    "µ", "·", "\"", "*", "\u{A0}", "🔧",
];

fn check(text: &str, fault: &ReadFault) {
    assert!(
        text.get(fault.at.clone()).is_some(),
        "{text}: {:?}",
        fault.at
    );
    assert!(!fault.reason.is_empty() && !fault.hint.is_empty(), "{text}");
    assert_eq!(fault.text, text);
}

/// Kinds whose readers differ most: signs, parts, fractions, traps.
const FEW: &[Kind] = &[Kind::Torque, Kind::Length, Kind::Duration, Kind::Ratio];

/// Reads a text in every way there is; says how many of them refused it.
fn read_every_way(text: &str, kinds: &[Kind]) -> usize {
    let mut faults: Vec<ReadFault> = kinds
        .iter()
        .filter_map(|kind| read_as(*kind, text).err())
        .collect();
    faults.extend(read_any(text).err());
    faults.extend(read_range::<Torque>(text).err());
    faults.extend(read_bound::<Length>(text).err());
    faults.extend(read_list::<GaugePressure>(text).err());
    faults.extend(read_bound_list::<Length>(text).err());
    faults.extend(spec::read(text).err());
    for fault in &faults {
        check(text, fault);
    }
    faults.len()
}

/// Every good text with every sign put in at every border, with every sign taken out, and cut short everywhere.
#[test]
fn thousands_of_slips_of_the_finger() {
    let mut tried = 0;
    for good in GOOD {
        let borders: Vec<usize> = good
            .char_indices()
            .map(|(place, _)| place)
            .chain([good.len()])
            .collect();
        for &place in &borders {
            for sign in SIGNS {
                tried += 1;
                read_every_way(&format!("{}{sign}{}", &good[..place], &good[place..]), FEW);
            }
            read_every_way(&good[..place], FEW);
        }
        for pair in borders.windows(2) {
            read_every_way(&format!("{}{}", &good[..pair[0]], &good[pair[1]..]), FEW);
        }
    }
    assert!(tried > 500);
}

/// Texts that mean nothing are refused by every reader there is.
#[test]
fn nonsense_is_refused_every_way() {
    let ways = Kind::ALL.len() + 6;
    let mut tried = 0;
    for word in [
        "x",
        "?",
        "--",
        "..",
        "N·m",
        "lbs lbs",
        "()",
        "°°",
        "1..",
        "..1",
        "1 2 3 x",
        "1/",
        "/2",
        "1//2",
        "±",
        "<>",
        "5 5 ,",
        "\u{FFFD}",
        "e5",
        "5 \u{1F527}",
    ] {
        for tail in [
            "", " ", "!", " @", "\n?", "\t|", "_", " {", "}", "~~", "=", "\\", "&", " <<", ">>",
            "''", "[", "]", " ^", "`", "\u{0}", "$", "€", "|", "@@", " !",
        ] {
            let text = format!("{word}{tail}");
            let refused = read_every_way(&text, Kind::ALL);
            assert_eq!(
                refused,
                ways,
                "{text:?} was read by {} ways",
                ways - refused
            );
            tried += 1;
        }
    }
    assert!(tried > 500);
}

proptest! {
    #[test]
    fn arbitrary_text_never_panics(text in ".{0,60}") {
        read_every_way(&text, FEW);
    }

    #[test]
    fn almost_good_text_never_panics(text in "[0-9]{1,4}[ .,/+±~<>-]{0,3}[0-9]{0,4} ?(N·m|lbs|mm|in|°|psi|ft-lb|kg|%|\u{FFFD})?[ ,;+()-]{0,3}[0-9]{0,3} ?(N·m|°|mm|dry)?") {
        read_every_way(&text, FEW);
    }
}
