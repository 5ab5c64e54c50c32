//! What stands on the pages of a set paper, in words.

use typst::layout::{Frame, FrameItem, Transform};
use typst_layout::PagedDocument;

/// The words of each page in the order they are laid; runs on one line are joined as they lie.
pub(crate) fn of(document: &PagedDocument) -> Vec<String> {
    document
        .pages()
        .iter()
        .map(|page| {
            let mut page_words = Page::default();
            page_words.read(&page.frame, Transform::identity());
            let said = page_words.said;
            said.split_whitespace().collect::<Vec<_>>().join(" ")
        })
        .collect()
}

#[derive(Default)]
struct Page {
    said: String,
    /// How far down the last run stood, in millimetres.
    last: f64,
}

impl Page {
    fn read(&mut self, frame: &Frame, by: Transform) {
        for (at, item) in frame.items() {
            let by = by.pre_concat(Transform::translate(at.x, at.y));
            match item {
                FrameItem::Group(group) => {
                    self.read(&group.frame, by.pre_concat(group.transform));
                }
                FrameItem::Text(text) => {
                    let down = by.ty.to_mm();
                    if (down - self.last).abs() > 0.01 && !self.said.is_empty() {
                        self.said.push(' ');
                    }
                    self.last = down;
                    self.said.push_str(&text.text);
                }
                _ => {}
            }
        }
    }
}
