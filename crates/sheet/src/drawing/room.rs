//! Room on a drawing: words give way to what stands there already.
//!
//! A word that would lie on another is not drawn over it. Whoever places words tries the sides
//! in turn and leaves out what finds no room; the title of the thing still says it.

/// An upright patch of a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Patch {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Patch {
    /// A patch round a middle, so far to each side and so far up and down.
    pub(super) fn around((x, y): (f64, f64), aside: f64, upright: f64) -> Self {
        Self {
            left: x - aside,
            top: y - upright,
            right: x + aside,
            bottom: y + upright,
        }
    }

    /// Whether two patches lie on each other; edges may touch.
    pub(super) fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether it lies wholly in another.
    fn lies_in(&self, other: &Self) -> bool {
        self.left >= other.left
            && self.right <= other.right
            && self.top >= other.top
            && self.bottom <= other.bottom
    }
}

/// What is taken on a drawing, and how far it goes.
#[derive(Clone, Debug)]
pub(super) struct Room {
    within: Patch,
    taken: Vec<Patch>,
}

impl Room {
    /// An empty drawing.
    pub(super) const fn new(within: Patch) -> Self {
        Self {
            within,
            taken: Vec::new(),
        }
    }

    /// Takes a patch, whatever lies there.
    pub(super) fn take(&mut self, patch: Patch) {
        self.taken.push(patch);
    }

    /// Takes a patch if it is free and lies on the drawing.
    pub(super) fn try_take(&mut self, patch: Patch) -> bool {
        let free =
            patch.lies_in(&self.within) && !self.taken.iter().any(|other| other.meets(&patch));
        if free {
            self.taken.push(patch);
        }
        free
    }
}
