//! Wrong arrangements of things over places, from nothing but what fits where.
//!
//! Thing `i` belongs on place `i`; places beyond the last thing are unused. Every wrong
//! arrangement that leaves no place empty is a product of cycles without a common member, so
//! swaps and rotations of three, with what may sit on an unused place or push another from its
//! own, name each way it can begin. Nothing here knows a hose or a port.

/// The most things whose arrangements are counted: 2 to this power sums are kept.
const COUNTED: usize = 16;

/// Which thing goes onto which place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fits {
    things: usize,
    /// A row a thing, a column a place.
    rows: Vec<Vec<bool>>,
}

impl Fits {
    /// The table for so many things and places, asked cell by cell. A thing always fits its own
    /// place. There are at least as many places as things.
    #[must_use]
    pub fn ask(things: usize, places: usize, fits: impl Fn(usize, usize) -> bool) -> Self {
        let row = |thing: usize| {
            (0..places.max(things))
                .map(|place| place == thing || fits(thing, place))
                .collect()
        };
        Self {
            things,
            rows: (0..things).map(row).collect(),
        }
    }

    /// Whether a thing goes onto a place.
    #[must_use]
    pub fn fits(&self, thing: usize, place: usize) -> bool {
        self.rows
            .get(thing)
            .and_then(|row| row.get(place))
            .copied()
            .unwrap_or(false)
    }

    /// Pairs that can change places, the lower number first.
    #[must_use]
    pub fn swaps(&self) -> Vec<[usize; 2]> {
        let mut found = Vec::new();
        for one in 0..self.things {
            let others = (one + 1..self.things)
                .filter(|&other| self.fits(one, other) && self.fits(other, one));
            found.extend(others.map(|other| [one, other]));
        }
        found
    }

    /// Rotations of three: each goes onto the place of the next, the last onto that of the first.
    /// The lowest number stands first; both senses are visited where both can be.
    pub fn each_rotation(&self, mut visit: impl FnMut([usize; 3])) {
        let onto = |thing: usize| {
            (0..self.things).filter(move |&place| place != thing && self.fits(thing, place))
        };
        let onto: Vec<Vec<usize>> = (0..self.things)
            .map(|thing| onto(thing).collect())
            .collect();
        for first in 0..self.things {
            for &second in onto[first].iter().filter(|&&second| second > first) {
                for &third in &onto[second] {
                    if third > first && self.fits(third, first) {
                        visit([first, second, third]);
                    }
                }
            }
        }
    }

    /// Whether every step of a rotation can be an exchange of its two as well.
    #[must_use]
    pub fn swaps_hint_at(&self, [a, b, c]: [usize; 3]) -> bool {
        let both = |one: usize, other: usize| self.fits(one, other) && self.fits(other, one);
        both(a, b) && both(b, c) && both(c, a)
    }

    /// A thing and the place of another that it can take, where the other cannot take its place
    /// in turn.
    #[must_use]
    pub fn takes(&self) -> Vec<[usize; 2]> {
        let pairs =
            (0..self.things).flat_map(|thing| (0..self.things).map(move |place| [thing, place]));
        pairs
            .filter(|&[thing, place]| {
                thing != place && self.fits(thing, place) && !self.fits(place, thing)
            })
            .collect()
    }

    /// A thing and an unused place it can sit on.
    #[must_use]
    pub fn unused(&self) -> Vec<[usize; 2]> {
        let mut found = Vec::new();
        for (thing, row) in self.rows.iter().enumerate() {
            let spare = (self.things..row.len()).filter(|&place| row[place]);
            found.extend(spare.map(|place| [thing, place]));
        }
        found
    }

    /// In how many ways all things can sit on their places, the right one counted; `None` where
    /// there are too many things to count.
    #[must_use]
    pub fn arrangements(&self) -> Option<u64> {
        self.count(|_, _| true)
    }

    /// In how many ways nothing sits where it belongs.
    #[must_use]
    pub fn derangements(&self) -> Option<u64> {
        self.count(|thing, place| thing != place)
    }

    /// Sums over sets of taken places, thing by thing.
    fn count(&self, may: impl Fn(usize, usize) -> bool) -> Option<u64> {
        if self.things > COUNTED {
            return None;
        }
        let mut ways = vec![0_u64; 1 << self.things];
        ways[0] = 1;
        for taken in 0..ways.len() {
            let thing = taken.count_ones() as usize;
            if ways[taken] == 0 || thing == self.things {
                continue;
            }
            for place in (0..self.things).filter(|&place| taken & (1 << place) == 0) {
                if self.fits(thing, place) && may(thing, place) {
                    ways[taken | 1 << place] += ways[taken];
                }
            }
        }
        ways.last().copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Every arrangement of the things over their own places, by trying all of them.
    fn brute(fits: &Fits) -> Vec<Vec<usize>> {
        fn go(fits: &Fits, chosen: &mut Vec<usize>, all: &mut Vec<Vec<usize>>) {
            if chosen.len() == fits.things {
                all.push(chosen.clone());
                return;
            }
            for place in 0..fits.things {
                if !chosen.contains(&place) && fits.fits(chosen.len(), place) {
                    chosen.push(place);
                    go(fits, chosen, all);
                    chosen.pop();
                }
            }
        }
        let mut all = Vec::new();
        go(fits, &mut Vec::new(), &mut all);
        all
    }

    fn rotations(fits: &Fits) -> Vec<[usize; 3]> {
        let mut found = Vec::new();
        fits.each_rotation(|three| found.push(three));
        found
    }

    fn moved(arrangement: &[usize]) -> Vec<usize> {
        (0..arrangement.len())
            .filter(|&thing| arrangement[thing] != thing)
            .collect()
    }

    /// Source: On-Line Encyclopedia of Integer Sequences, A000166 (subfactorial): 1, 2, 9, 44
    /// ways for 2, 3, 4, 5 things. *Public data*.
    #[test]
    fn alike_things_have_as_many_ways_all_wrong_as_counted_elsewhere() {
        for (things, wrong) in [(2, 1), (3, 2), (4, 9), (5, 44)] {
            let alike = Fits::ask(things, things, |_, _| true);
            assert_eq!(alike.derangements(), Some(wrong));
            let all = brute(&alike);
            assert_eq!(
                all.iter().filter(|one| moved(one).len() == things).count() as u64,
                wrong
            );
        }
    }

    #[test]
    fn one_that_goes_where_the_other_cannot_takes_its_place() {
        let fits = Fits::ask(2, 3, |thing, place| thing == 0 && place > 0);
        assert!(fits.swaps().is_empty());
        assert_eq!(fits.takes(), [[0, 1]]);
        assert_eq!(fits.unused(), [[0, 2]]);
    }

    #[test]
    fn a_rotation_without_a_swap_is_seen() {
        let fits = Fits::ask(3, 3, |thing, place| place == (thing + 1) % 3);
        assert_eq!(rotations(&fits), [[0, 1, 2]]);
        assert!(!fits.swaps_hint_at([0, 1, 2]));
        assert!(fits.swaps().is_empty());
    }

    proptest! {
        #[test]
        fn nothing_is_listed_that_cannot_be_and_nothing_is_missed(
            things in 1_usize..6,
            cells in proptest::collection::vec(any::<bool>(), 36),
        ) {
            let fits = Fits::ask(things, things, |thing, place| cells[thing * 6 + place]);
            let all = brute(&fits);
            prop_assert_eq!(fits.arrangements(), Some(all.len() as u64));
            let wrong = all.iter().filter(|one| moved(one).len() == things).count();
            prop_assert_eq!(fits.derangements(), Some(wrong as u64));
            let mut swaps: Vec<Vec<usize>> = all.iter().map(|one| moved(one)).filter(|moved| moved.len() == 2).collect();
            swaps.sort();
            prop_assert_eq!(fits.swaps().into_iter().map(|pair| pair.to_vec()).collect::<Vec<_>>(), swaps);
            let rotations = all.iter().filter(|one| moved(one).len() == 3).count();
            prop_assert_eq!(self::rotations(&fits).len(), rotations);
        }
    }
}
