//! Names that look like what was written: what "did you mean" is answered from.

/// Takes a name down to what people tell apart: case, spaces, hyphens and underscores do not count.
pub(crate) fn folded(name: &str) -> String {
    name.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '_'))
        .flat_map(char::to_lowercase)
        .collect()
}

/// The candidates most like `name`, nearest first, three at most.
pub(crate) fn near<'c>(name: &str, candidates: impl IntoIterator<Item = &'c str>) -> Vec<String> {
    let wanted: Vec<char> = folded(name).chars().collect();
    let mut found: Vec<(usize, &str)> = candidates
        .into_iter()
        .filter_map(|candidate| {
            let other: Vec<char> = folded(candidate).chars().collect();
            let room = 1 + wanted.len().max(other.len()) / 4;
            let contained = wanted.len() >= 4
                && other.len() >= 4
                && (contains(&other, &wanted) || contains(&wanted, &other));
            match distance(&wanted, &other) {
                steps if steps <= room && steps < wanted.len() => Some((steps, candidate)),
                _ if contained => Some((room + 1, candidate)),
                _ => None,
            }
        })
        .collect();
    found.sort_unstable();
    found.dedup();
    found
        .into_iter()
        .take(3)
        .map(|(_, name)| name.to_owned())
        .collect()
}

/// The question to ask about names from [`near`]; nothing when there is none.
pub(crate) fn did_you_mean(near: &[String]) -> Option<String> {
    let quoted: Vec<String> = near.iter().map(|name| format!("`{name}`")).collect();
    match quoted.as_slice() {
        [] => None,
        [only] => Some(format!("did you mean {only}?")),
        [first @ .., last] => Some(format!("did you mean {} or {last}?", first.join(", "))),
    }
}

fn contains(long: &[char], short: &[char]) -> bool {
    long.windows(short.len()).any(|window| window == short)
}

/// Letters to add, drop, change or swap with their neighbour (restricted Damerau–Levenshtein).
fn distance(a: &[char], b: &[char]) -> usize {
    let width = b.len() + 1;
    let mut rows = vec![vec![0; width]; a.len() + 1];
    rows[0] = (0..width).collect();
    for i in 1..=a.len() {
        rows[i][0] = i;
        for j in 1..=b.len() {
            let change = usize::from(a[i - 1] != b[j - 1]);
            let mut best = (rows[i - 1][j] + 1)
                .min(rows[i][j - 1] + 1)
                .min(rows[i - 1][j - 1] + change);
            let swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if swapped {
                best = best.min(rows[i - 2][j - 2] + 1);
            }
            rows[i][j] = best;
        }
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::{did_you_mean, near};

    #[test]
    fn slips_of_the_finger_are_found_and_strangers_are_not() {
        let names = ["bulkhead-head", "radiator-head", "runners", "air-duct"];
        assert_eq!(near("bulkhed-head", names), ["bulkhead-head"]);
        assert_eq!(near("Air Duct", names), ["air-duct"]);
        assert_eq!(near("runenrs", names), ["runners"]);
        assert!(near("gearbox", names).is_empty());
        assert!(near("x", names).is_empty());
    }

    #[test]
    fn the_question_lists_what_is_near() {
        assert_eq!(did_you_mean(&[]), None);
        let names = ["a".to_owned(), "b".to_owned(), "c".to_owned()];
        assert_eq!(
            did_you_mean(&names).unwrap(),
            "did you mean `a`, `b` or `c`?"
        );
    }
}
