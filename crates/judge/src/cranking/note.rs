//! The sentence that came with the readings: does it name the same cylinders as low?
//!
//! Only a plain claim is read ("low ones are 3 and 4"). Everything else is kept as it
//! stands and set apart from the readings.

const LOW_WORDS: [&str; 8] = [
    "low", "lower", "lowest", "weak", "bad", "dead", "down", "poor",
];
const DENIALS: [&str; 5] = ["not", "no", "never", "except", "isn't"];

/// The cylinders a note calls low, in rising order; empty where it makes no such claim.
#[must_use]
pub fn called_low(note: &str, count: usize) -> Vec<u8> {
    let mut named: Vec<u8> = note
        .split(['.', ';'])
        .filter(|sentence| claims_low(sentence))
        .flat_map(|sentence| cylinders_in(sentence, count))
        .collect();
    named.sort_unstable();
    named.dedup();
    named
}

fn claims_low(sentence: &str) -> bool {
    let words: Vec<String> = words(sentence).map(str::to_lowercase).collect();
    words.iter().any(|word| LOW_WORDS.contains(&word.as_str()))
        && !words.iter().any(|word| DENIALS.contains(&word.as_str()))
}

fn cylinders_in(sentence: &str, count: usize) -> Vec<u8> {
    words(sentence)
        .filter_map(|word| word.trim_start_matches('#').parse::<u8>().ok())
        .filter(|&cylinder| cylinder >= 1 && usize::from(cylinder) <= count)
        .collect()
}

fn words(sentence: &str) -> impl Iterator<Item = &str> {
    sentence
        .split(|sign: char| {
            sign.is_whitespace() || matches!(sign, ',' | '/' | '&' | ':' | '(' | ')' | '+')
        })
        .filter(|word| !word.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_claim_names_its_cylinders() {
        assert_eq!(called_low("low ones are 3 and 4", 4), [3, 4]);
        assert_eq!(called_low("#4, #3 are low", 4), [3, 4]);
        assert_eq!(called_low("Weak: 2/3. Plug 1 was oily", 4), [2, 3]);
    }

    #[test]
    fn anything_else_is_no_claim() {
        assert!(called_low("crusty stain at the head joint near 2", 3).is_empty());
        assert!(called_low("3 is not low", 4).is_empty());
        assert!(called_low("low at 80 psi", 4).is_empty());
    }
}
