//! What the reader accepts and what it refuses.

use super::*;
use crate::kinds::{Angle, Duration, GaugePressure, Length, Ratio, Torque, Volume};

fn newton_metres(text: &str) -> f64 {
    read::<Torque>(text)
        .unwrap_or_else(|fault| panic!("{fault}"))
        .value
        .in_newton_metres()
}

fn close(got: f64, want: f64, tolerance: f64) {
    assert!(
        (got - want).abs() <= tolerance,
        "got {got}, want {want} ± {tolerance}"
    );
}

#[test]
fn smoke() {
    for text in ["35 Nm", "156 in-lbs", "1.8 kgf m", "13 foot pounds"] {
        newton_metres(text);
    }
    for text in [
        "35 lbs",
        "10 + 3 N·m",
        "5 kg",
        "3 mN",
        "35",
        "24 J",
        "10 + 3",
        "35#",
        "-18 N·m",
        "18-22 N·m",
    ] {
        println!("{}", read::<Torque>(text).unwrap_err());
        println!("  {}", read_as(Kind::Torque, text).unwrap_err());
        if let Err(f) = read_any(text) {
            println!("  any {f}");
        }
    }
    for text in [
        "2-7/16 in",
        "1/16 in",
        "30 µin",
        "0.8 µm",
        "3 thou",
        "5 ft 3 in",
        "½ in",
    ] {
        println!("{text} -> {:?}", read::<Length>(text).unwrap());
    }
    println!("{:?}", read::<Volume>("8 qt").unwrap());
    println!("{:?}", read_bound::<Length>("< 0.04 mm").unwrap());
    println!("{:?}", read_bound::<Length>("0.05..0.06 mm").unwrap());
    println!(
        "{:?}",
        read_list::<GaugePressure>("107 60 80 105 psi").unwrap()
    );
    println!(
        "{:?}",
        read_bound_list::<Length>("0.05 <0.04 0.05..0.06 - mm").unwrap_err()
    );
    println!(
        "{:?}",
        read_bound_list::<Length>("0.05 - <0.04 0.05..0.06 mm").unwrap()
    );
    println!("{:?}", read::<Ratio>("10.5").unwrap());
    println!("{:?}", read::<Duration>("1 h 30 min").unwrap());
    println!("{:?}", read::<Angle>("1/4 turn").unwrap());
    for text in [
        "30 N·m + 90° + 90°",
        "20 → 40 N·m",
        "166 ft-lb (255 N·m)",
        "12 N·m, 21 N·m",
        "20 N·m / 2.0 kgf·m / 15.0 lbf·ft dry",
    ] {
        let s = crate::spec::read(text).unwrap();
        println!(
            "{text} -> {} {:?}",
            s.value.shown(&unit::NEWTON_METRE),
            s.notes
        );
    }
    println!("{}", crate::spec::read("10 + 3 N·m").unwrap_err());
    close(1.0, 1.0, 0.0);
}
