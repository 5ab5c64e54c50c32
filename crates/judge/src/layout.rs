//! Where the cylinders of an engine stand: banks, and who is whose neighbour.
//!
//! Neighbours are next to each other on the same bank, with a gasket between them. The
//! firing order says nothing about that and is not kept here.

use thiserror::Error;

/// The most cylinders a layout may have.
const MOST: u8 = 16;

/// How the banks stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// One upright or leaning row.
    Inline,
    /// Two rows in a V.
    Vee,
    /// Two rows lying flat.
    Flat,
}

/// The cylinders of an engine by their place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    arrangement: Arrangement,
    banks: Vec<Vec<u8>>,
    assumed: bool,
}

/// A layout that could not be understood.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{reason}")]
pub struct LayoutFault {
    /// What is wrong.
    pub reason: String,
    /// What to write instead.
    pub way_out: String,
}

impl LayoutFault {
    fn new(reason: impl Into<String>) -> Self {
        Self {
            reason: reason.into(),
            way_out: "write I4, V6, F4, or name the banks: V6:1 3 5/2 4 6".to_owned(),
        }
    }
}

impl Layout {
    /// Reads `I4`, `V6`, `F4`, or a layout with its banks: `V6:1 2 3/4 5 6`.
    ///
    /// Without banks, V and flat engines are taken as odd numbers on one bank and even ones
    /// on the other, and the layout says that it assumed so.
    ///
    /// # Errors
    /// [`LayoutFault`] with the reason and what to write.
    pub fn read(text: &str) -> Result<Self, LayoutFault> {
        let (head, banks) = match text.trim().split_once(':') {
            Some((head, banks)) => (head.trim(), Some(banks)),
            None => (text.trim(), None),
        };
        let (arrangement, count) = read_head(head)?;
        let layout = match banks {
            Some(banks) => Self {
                arrangement,
                banks: read_banks(banks)?,
                assumed: false,
            },
            None => Self::numbered_across(arrangement, count)?,
        };
        layout.check(count)?;
        Ok(layout)
    }

    /// The layout of a book's engine, banks and cylinders as they stand.
    ///
    /// # Errors
    /// [`LayoutFault`] where the book's layout is none of those kept here.
    pub fn of_engine(engine: &book::Engine) -> Result<Self, LayoutFault> {
        let banks: Vec<String> = engine
            .banks
            .iter()
            .map(|bank| {
                let cylinders: Vec<String> = bank.cylinders.iter().map(u32::to_string).collect();
                cylinders.join(" ")
            })
            .collect();
        if banks.is_empty() {
            return Self::read(&engine.layout);
        }
        Self::read(&format!("{}:{}", engine.layout, banks.join("/")))
    }

    /// The layout as it is typed: `V6:1 3 5/2 4 6`.
    #[must_use]
    pub fn typed(&self) -> String {
        let letter = match self.arrangement {
            Arrangement::Inline => 'I',
            Arrangement::Vee => 'V',
            Arrangement::Flat => 'F',
        };
        let banks: Vec<String> = self
            .banks
            .iter()
            .map(|bank| bank.iter().map(u8::to_string).collect::<Vec<_>>().join(" "))
            .collect();
        format!("{letter}{}:{}", self.count(), banks.join("/"))
    }

    fn numbered_across(arrangement: Arrangement, count: u8) -> Result<Self, LayoutFault> {
        let odd = || (1..=count).step_by(2).collect();
        let even = || (2..=count).step_by(2).collect();
        let banks = match arrangement {
            Arrangement::Inline => vec![(1..=count).collect()],
            Arrangement::Vee | Arrangement::Flat => vec![odd(), even()],
        };
        if banks.len() == 2 && count % 2 == 1 {
            return Err(LayoutFault::new(format!(
                "{count} cylinders do not fill two banks alike"
            )));
        }
        let assumed = banks.len() == 2;
        Ok(Self {
            arrangement,
            banks,
            assumed,
        })
    }

    fn check(&self, count: u8) -> Result<(), LayoutFault> {
        let mut named: Vec<u8> = self.banks.iter().flatten().copied().collect();
        named.sort_unstable();
        if named != (1..=count).collect::<Vec<_>>() {
            return Err(LayoutFault::new(format!(
                "the banks must name every cylinder from 1 to {count} once"
            )));
        }
        let wanted = usize::from(self.arrangement != Arrangement::Inline) + 1;
        if self.banks.len() != wanted {
            return Err(LayoutFault::new(format!(
                "{} banks are named where {wanted} belong",
                self.banks.len()
            )));
        }
        Ok(())
    }

    /// How many cylinders there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.banks.iter().map(Vec::len).sum()
    }

    /// The banks, each in the order its cylinders stand.
    #[must_use]
    pub fn banks(&self) -> &[Vec<u8>] {
        &self.banks
    }

    /// How the banks stand.
    #[must_use]
    pub const fn arrangement(&self) -> Arrangement {
        self.arrangement
    }

    /// Whether the numbering of the banks was assumed and not told.
    #[must_use]
    pub const fn assumed(&self) -> bool {
        self.assumed
    }

    /// The other common numbering, along one bank and then along the other, where the
    /// numbering was assumed.
    #[must_use]
    pub fn other_numbering(&self) -> Option<Self> {
        let count = u8::try_from(self.count()).ok()?;
        let half = count / 2;
        self.assumed.then(|| Self {
            arrangement: self.arrangement,
            banks: vec![(1..=half).collect(), (half + 1..=count).collect()],
            assumed: true,
        })
    }

    /// Runs of cylinders out of `among` that stand side by side on a bank, in bank order.
    /// A cylinder without such a neighbour is a run of one.
    #[must_use]
    pub fn runs(&self, among: &[u8]) -> Vec<Vec<u8>> {
        let mut runs = Vec::new();
        for bank in &self.banks {
            let parted = bank
                .split(|cylinder| !among.contains(cylinder))
                .filter(|run| !run.is_empty());
            runs.extend(parted.map(<[u8]>::to_vec));
        }
        runs
    }

    /// The cylinders beside one cylinder.
    #[must_use]
    pub fn neighbours(&self, cylinder: u8) -> Vec<u8> {
        self.banks
            .iter()
            .flat_map(|bank| bank.windows(2))
            .filter_map(|pair| match *pair {
                [a, b] if a == cylinder => Some(b),
                [a, b] if b == cylinder => Some(a),
                _ => None,
            })
            .collect()
    }

    /// The layout in words: `inline, 1-2-3-4`.
    #[must_use]
    pub fn words(&self) -> String {
        let banks: Vec<String> = self
            .banks
            .iter()
            .map(|bank| bank.iter().map(u8::to_string).collect::<Vec<_>>().join("-"))
            .collect();
        let stand = match self.arrangement {
            Arrangement::Inline => "inline",
            Arrangement::Vee => "V, banks",
            Arrangement::Flat => "flat, banks",
        };
        format!("{stand} {}", banks.join(" and "))
    }
}

fn read_head(head: &str) -> Result<(Arrangement, u8), LayoutFault> {
    let mut letters = head.chars();
    let arrangement = match letters.next().map(|letter| letter.to_ascii_uppercase()) {
        Some('I' | 'L') => Arrangement::Inline,
        Some('V') => Arrangement::Vee,
        Some('F') => Arrangement::Flat,
        _ => {
            return Err(LayoutFault::new(format!(
                "{head:?} does not begin with I (inline), V or F (flat)"
            )));
        }
    };
    let count = letters.as_str().trim();
    match count.parse() {
        Ok(count) if (1..=MOST).contains(&count) => Ok((arrangement, count)),
        _ => Err(LayoutFault::new(format!(
            "{count:?} is no number of cylinders from 1 to {MOST}"
        ))),
    }
}

fn read_banks(text: &str) -> Result<Vec<Vec<u8>>, LayoutFault> {
    text.split('/')
        .map(|bank| {
            bank.split([' ', ',', '-'])
                .filter(|word| !word.is_empty())
                .map(|word| {
                    word.parse()
                        .map_err(|_| LayoutFault::new(format!("{word:?} is no cylinder number")))
                })
                .collect()
        })
        .collect()
}

/// Cylinders in words: `cylinder 2`, `cylinders 2 and 3`, `cylinders 1, 3 and 5`.
#[must_use]
pub fn named(cylinders: &[u8]) -> String {
    let word = if cylinders.len() == 1 {
        "cylinder"
    } else {
        "cylinders"
    };
    format!("{word} {}", numbers(cylinders))
}

/// Cylinder numbers in words: `2`, `2 and 3`, `1, 3 and 5`.
#[must_use]
pub fn numbers(cylinders: &[u8]) -> String {
    let words: Vec<String> = cylinders.iter().map(u8::to_string).collect();
    match words.split_last() {
        None => "none".to_owned(),
        Some((only, [])) => only.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn layout(text: &str) -> Layout {
        Layout::read(text).unwrap()
    }

    #[test]
    fn neighbours_stand_on_one_bank() {
        assert_eq!(layout("I4").neighbours(2), [1, 3]);
        assert_eq!(layout("V6").neighbours(1), [3]);
        assert_eq!(layout("V6:1 2 3/4 5 6").neighbours(1), [2]);
        assert_eq!(layout("F4").runs(&[1, 2]), [vec![1], vec![2]]);
        assert_eq!(layout("v6").runs(&[1, 2, 3]), [vec![1, 3], vec![2]]);
        assert!(layout("I1").neighbours(1).is_empty());
    }

    #[test]
    fn numbering_is_told_or_said_to_be_assumed() {
        assert!(layout("V6").assumed());
        assert!(!layout("V6: 1 3 5 / 2 4 6").assumed());
        assert!(!layout("I12").assumed());
        let other = layout("V6").other_numbering().unwrap();
        assert_eq!(other.banks(), [vec![1, 2, 3], vec![4, 5, 6]]);
        assert_eq!(layout("V6").words(), "V, banks 1-3-5 and 2-4-6");
    }

    #[test]
    fn what_is_no_layout_is_refused_with_a_way_out() {
        for text in [
            "",
            "X4",
            "I0",
            "I99",
            "V5",
            "V4:1 2/3 3",
            "V4:1 2 3 4",
            "V4:1 a/2 3",
            "I",
        ] {
            let fault = Layout::read(text).unwrap_err();
            assert!(fault.way_out.contains("V6:1 3 5/2 4 6"), "{text}");
        }
    }

    #[test]
    fn a_books_engine_gives_its_banks() {
        let (book, _) = book::read("engine V4 {\n    bank rear 1 3\n    bank front 2 4\n}\n");
        let layout = Layout::of_engine(book.engine.as_ref().unwrap()).unwrap();
        assert_eq!(layout.banks(), [vec![1, 3], vec![2, 4]]);
        assert!(!layout.assumed());
        assert_eq!(layout.typed(), "V4:1 3/2 4");
    }

    #[test]
    fn cylinders_in_words() {
        assert_eq!(named(&[2]), "cylinder 2");
        assert_eq!(named(&[2, 3]), "cylinders 2 and 3");
        assert_eq!(named(&[1, 3, 5]), "cylinders 1, 3 and 5");
    }
}
