//! Thread geometry against printed tables, each with its source.

use super::*;

fn thread(text: &str) -> Thread {
    Thread::parse(text).unwrap()
}

fn stress_area_mm2(text: &str) -> f64 {
    thread(text).stress_area().in_square_mm()
}

fn stress_area_in2(text: &str) -> f64 {
    thread(text).stress_area().in_square_metres() / (quantity::INCH * quantity::INCH)
}

/// Source: EN ISO 898-1, proof-load table. *Published.* Printed to 0.1 mm².
#[test]
fn t8_m8_stress_area() {
    assert!((stress_area_mm2("M8x1.25") - 36.6).abs() < 0.05);
}

/// Source: ISO 898-1. *From memory.* Printed to 0.1 mm².
#[test]
fn t9_m10_fine_stress_area() {
    assert!((stress_area_mm2("M10x1.25") - 61.2).abs() < 0.05);
}

/// Source: ISO 898-1. *From memory.* Printed to 0.1 mm².
#[test]
fn t10_m12_fine_stress_area() {
    assert!((stress_area_mm2("M12x1.25") - 92.1).abs() < 0.05);
}

/// Source: Shigley, Mechanical Engineering Design, p. 413, table 8-2. *Published.*
#[test]
fn t11_quarter_twenty_stress_area() {
    assert!((stress_area_in2("1/4-20") - 0.0318).abs() < 5e-5);
}

/// Source: Shigley, Mechanical Engineering Design, p. 413, table 8-2. *Published.*
#[test]
fn t12_half_inch_fine_stress_area() {
    assert!((stress_area_in2("1/2-20 UNF") - 0.1599).abs() < 6e-5);
}

/// Source: EN ISO 898-1, proof-load table. *Published.* Tolerance half a unit of the last
/// printed digit.
#[test]
fn coarse_stress_areas_match_the_printed_table() {
    for (text, printed, half_digit) in [
        ("M5", 14.2, 0.05),
        ("M6", 20.1, 0.05),
        ("M7", 28.9, 0.05),
        ("M8", 36.6, 0.05),
        ("M10", 58.0, 0.05),
        ("M12", 84.3, 0.05),
        ("M14", 115.0, 0.5),
        ("M16", 157.0, 0.5),
    ] {
        assert!(
            (stress_area_mm2(text) - printed).abs() <= half_digit,
            "{text}"
        );
    }
}

/// Source: Shigley, Mechanical Engineering Design, p. 413, table 8-2. *Published.*
#[test]
fn unified_stress_areas_match_the_printed_table() {
    for (text, printed) in [
        ("1/4-28", 0.0364),
        ("5/16-18", 0.0524),
        ("5/16-24", 0.0580),
        ("3/8-16", 0.0775),
        ("3/8-24", 0.0878),
        ("7/16-14", 0.1063),
        ("7/16-20", 0.1187),
        ("1/2-13", 0.1419),
    ] {
        assert!((stress_area_in2(text) - printed).abs() < 1.1e-4, "{text}");
    }
}

/// Source: geometry of ISO 724 evaluated in double precision. *Computed by a general library
/// (Python 3.11 floats).*
#[test]
fn m8_fine_geometry() {
    let m8 = thread("M8x1");
    assert!((m8.pitch_diameter().in_mm() - 7.350).abs() < 6e-4);
    assert!((m8.minor_diameter().in_mm() - 6.917).abs() < 6e-4);
    assert!((m8.root_diameter().in_mm() - 6.773).abs() < 6e-4);
    assert!((m8.root_area().in_square_mm() - 36.03).abs() < 6e-3);
    assert!((m8.lead_angle().in_degrees() - 2.480).abs() < 6e-4);
}

#[test]
fn a_designation_reads_back_as_written() {
    for text in [
        "M8x1.25", "M10x1.25", "M5x0.8", "1/4-20", "7/16-14", "3/4-16", "#10-24", "1-8", "1-1/8-7",
    ] {
        assert_eq!(thread(text).to_string(), text);
    }
}

#[test]
fn a_bare_metric_size_means_the_coarse_pitch() {
    assert_eq!(thread("M8"), thread("M8x1.25"));
    assert_eq!(thread(" m 10 "), thread("M10 × 1,5"));
    assert_eq!(thread("M6x1-6g"), thread("M6"));
}

#[test]
fn unified_series_words_give_the_threads_per_inch() {
    assert_eq!(thread("3/8 UNC"), thread("3/8-16"));
    assert_eq!(thread("3/8 UNF"), thread("3/8-24"));
    assert_eq!(thread("0.375-16"), thread("3/8-16"));
}

#[test]
fn a_length_behind_the_size_is_not_taken_for_a_pitch() {
    let fault = Thread::parse("M8x40").unwrap_err();
    assert!(matches!(fault, ThreadFault::PitchLooksLikeLength { .. }));
    assert!(fault.to_string().contains("M8x1.25x40"), "{fault}");
}

#[test]
fn nonsense_is_refused_with_the_way_out() {
    for text in [
        "",
        "M",
        "8",
        "M8x",
        "M8x0",
        "M-8",
        "Mx1",
        "3/0-16",
        "3/8-",
        "3/8 UNC-24",
        "M8x1.25-6e",
        "M11.5",
    ] {
        let fault = Thread::parse(text).unwrap_err().to_string();
        assert!(
            fault.contains("write") || fault.contains("between"),
            "{text}: {fault}"
        );
    }
    assert!(Thread::parse("3/8 UNC-16").is_ok());
}

#[test]
fn a_contradicting_series_word_is_refused() {
    assert!(matches!(
        Thread::parse("3/8-24 UNC"),
        Err(ThreadFault::SeriesContradicts { .. })
    ));
}
