//! Where the words of a hole stand on a card: below it, or on another side that is free.

use sheet::paper::CardHole;

/// Height of a line, and width of a letter, at the size the template sets them: 8 pt.
const LINE: f64 = 3.7;
const LETTER: f64 = 1.75;

/// A rectangle, top above bottom, y downward.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Rect {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Rect {
    pub(super) fn around(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    pub(super) fn wider(self, by: f64) -> Self {
        Self {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    pub(super) fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// A hole with its place on the drawing and that of its words.
#[derive(Clone, Debug)]
pub(super) struct Placed {
    pub(super) x: f64,
    pub(super) y: f64,
    /// Radius of the ring; none where the thread is not known.
    pub(super) ring: f64,
    /// Half the length of the cross.
    pub(super) arm: f64,
    pub(super) name: String,
    pub(super) lines: Vec<String>,
    pub(super) words: Rect,
    /// Which way the words lean: `center`, `left` or `right`.
    pub(super) side: &'static str,
}

impl Placed {
    /// The words below the hole.
    pub(super) fn below(hole: &CardHole, x: f64, y: f64, scale: f64) -> Self {
        let ring = hole.thread_mm.map_or(0.0, |thread| thread * scale / 2.0);
        let arm = ring.max(2.0) + 3.0;
        let name = match hole.number {
            Some(number) => format!("{} · turn {number}", hole.name),
            None => hole.name.clone(),
        };
        let letters = std::iter::once(&name)
            .chain(&hole.lines)
            .map(|line| line.chars().count())
            .max()
            .unwrap_or(0);
        let float = |count: usize| u32::try_from(count).map_or(0.0, f64::from);
        let wide = (float(letters) * LETTER + 2.0).max(8.0);
        let tall = float(hole.lines.len() + 1) * LINE;
        Self {
            x,
            y,
            ring,
            arm,
            name,
            lines: hole.lines.clone(),
            words: Rect {
                left: x - wide / 2.0,
                top: y + arm + 0.8,
                right: x + wide / 2.0,
                bottom: y + arm + 0.8 + tall,
            },
            side: "center",
        }
    }

    fn cross(&self) -> Rect {
        Rect {
            left: self.x,
            top: self.y,
            right: self.x,
            bottom: self.y,
        }
        .wider(self.arm)
    }

    pub(super) fn bounds(&self) -> Rect {
        self.cross().around(self.words)
    }

    /// The sides the words may stand on, the best first.
    fn sides(&self) -> [(Rect, &'static str); 4] {
        let (wide, tall) = (
            self.words.right - self.words.left,
            self.words.bottom - self.words.top,
        );
        let at = |left: f64, top: f64| Rect {
            left,
            top,
            right: left + wide,
            bottom: top + tall,
        };
        let away = self.arm + 0.8;
        [
            (self.words, "center"),
            (at(self.words.left, self.y - away - tall), "center"),
            (at(self.x + away, self.y - tall / 2.0), "left"),
            (at(self.x - away - wide, self.y - tall / 2.0), "right"),
        ]
    }
}

/// Places holes by their measures. Words that would lie on another cross, or on words placed
/// before, go to the next side; where none is free they stay below.
pub(super) fn place(holes: &[CardHole], scale: f64) -> Vec<Placed> {
    let top = holes
        .iter()
        .map(|hole| hole.y_mm)
        .fold(f64::NEG_INFINITY, f64::max);
    let left = holes
        .iter()
        .map(|hole| hole.x_mm)
        .fold(f64::INFINITY, f64::min);
    let mut placed: Vec<Placed> = holes
        .iter()
        .map(|hole| {
            // The part is drawn y upward, paper is counted downward.
            let (x, y) = ((hole.x_mm - left) * scale, (top - hole.y_mm) * scale);
            Placed::below(hole, x, y, scale)
        })
        .collect();
    for at in 0..placed.len() {
        let free = |rect: &Rect| {
            placed.iter().enumerate().all(|(other, it)| {
                (other == at || !it.cross().meets(rect)) && (other >= at || !it.words.meets(rect))
            })
        };
        let side = placed[at].sides().into_iter().find(|(rect, _)| free(rect));
        if let Some((rect, side)) = side {
            placed[at].words = rect;
            placed[at].side = side;
        }
    }
    placed
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hole(name: &str, x_mm: f64, y_mm: f64) -> CardHole {
        CardHole {
            name: name.to_owned(),
            x_mm,
            y_mm,
            thread_mm: Some(8.0),
            number: None,
            lines: vec!["M8 × 40".to_owned(), "washer".to_owned()],
        }
    }

    #[test]
    fn words_never_lie_on_a_cross_or_on_each_other() {
        let holes = [
            hole("A", 0.0, 0.0),
            hole("B", 0.0, 18.0),
            hole("C", 40.0, 0.0),
            hole("D", 40.0, 18.0),
            hole("E", 62.0, 9.0),
        ];
        let placed = place(&holes, 1.0);
        for (at, one) in placed.iter().enumerate() {
            for (other, two) in placed.iter().enumerate() {
                if at != other {
                    assert!(!one.words.meets(&two.words), "{} {}", one.name, two.name);
                    assert!(!one.words.meets(&two.cross()), "{} {}", one.name, two.name);
                }
            }
        }
    }
}
