//! Reads laid-out pages back: words, boxes, crosses with their names, squares of dots.

use std::collections::BTreeMap;

use sheet::paper::Stock;
use typst::layout::{Frame, FrameItem, Point, Transform};
use typst::visualize::{Geometry, Shape};
use typst_layout::PagedDocument;

/// What walking a page meets.
enum Met<'a> {
    Words(&'a str),
    Shape(&'a Shape),
}

fn walk(frame: &Frame, by: Transform, meet: &mut dyn FnMut(&Met<'_>, Transform)) {
    for (at, item) in frame.items() {
        let by = by.pre_concat(Transform::translate(at.x, at.y));
        match item {
            FrameItem::Group(group) => {
                walk(&group.frame, by.pre_concat(group.transform), meet);
            }
            FrameItem::Text(text) => meet(&Met::Words(&text.text), by),
            FrameItem::Shape(shape, _) => meet(&Met::Shape(shape), by),
            _ => {}
        }
    }
}

/// How many pages.
pub(super) fn pages_of(document: &PagedDocument) -> usize {
    document.pages().len()
}

/// All words in the order they are laid, page after page.
pub(super) fn words(document: &PagedDocument) -> String {
    crate::words::of(document).join(" ")
}

/// Boxes of a side in millimetres.
pub(super) fn boxes(document: &PagedDocument, side: f64) -> usize {
    let mut count = 0;
    for page in document.pages() {
        walk(&page.frame, Transform::identity(), &mut |met, _| {
            if let Met::Shape(shape) = met {
                let size = shape.geometry.bbox(None).size();
                let like = |length: f64| (length - side).abs() < 0.01;
                count += usize::from(
                    !matches!(shape.geometry, Geometry::Line(_))
                        && like(size.x.to_mm())
                        && like(size.y.to_mm()),
                );
            }
        });
    }
    count
}

/// The crosses of a card, page by page: the name that stands nearest after each, and its
/// centre in millimetres, taken from the two lines alone.
pub(super) fn crosses(document: &PagedDocument) -> Vec<BTreeMap<String, (f64, f64)>> {
    let mut pages = Vec::new();
    for page in document.pages() {
        let mut found = BTreeMap::new();
        let mut along = None;
        let mut centre = None;
        walk(
            &page.frame,
            Transform::identity(),
            &mut |met, by| match met {
                Met::Shape(shape) => {
                    let Some(middle) = line_of_cross(shape, by) else {
                        return;
                    };
                    match along.take() {
                        None => along = Some(middle),
                        Some(first) => {
                            let first: (f64, f64) = first;
                            assert!(libm::hypot(first.0 - middle.0, first.1 - middle.1) < 0.01);
                            centre = Some(middle);
                        }
                    }
                }
                Met::Words(text) => {
                    if let Some(centre) = centre.take() {
                        let name = text.split(" · ").next().unwrap_or_default();
                        found.insert(name.to_owned(), centre);
                    }
                }
            },
        );
        pages.push(found);
    }
    pages
}

/// The middle of a line drawn as those of a cross are: 0.7 pt of ink.
fn line_of_cross(shape: &Shape, by: Transform) -> Option<(f64, f64)> {
    let Geometry::Line(to) = shape.geometry else {
        return None;
    };
    let thickness = shape.stroke.as_ref()?.thickness.to_pt();
    if (thickness - 0.7).abs() > 1e-6 {
        return None;
    }
    let at = |point: Point| {
        let point = point.transform(by);
        (point.x.to_mm(), point.y.to_mm())
    };
    let (from, to) = (at(Point::zero()), at(to));
    Some((f64::midpoint(from.0, to.0), f64::midpoint(from.1, to.1)))
}

/// The square of dots on every label, read one label at a time as a phone does, from 300 dots
/// an inch, sorted. Nothing for a label without one.
pub(super) fn squares(document: &PagedDocument, stock: &Stock) -> Vec<String> {
    const DOTS_PER_MM: f64 = 300.0 / 25.4;
    let mut found = Vec::new();
    for page in document.pages() {
        let options = typst_render::RenderOptions {
            pixel_per_pt: (300.0 / 72.0).into(),
            ..typst_render::RenderOptions::default()
        };
        let pixels = typst_render::render(page, &options);
        let across = pixels.width() as usize;
        let dots = |mm: f64| (mm * DOTS_PER_MM) as usize;
        let (wide, tall) = (dots(stock.wide), dots(stock.tall));
        for place in 0..stock.count() {
            let (left, top) = stock.corner(place);
            let (left, top) = (dots(left), dots(top));
            let grey = |x: usize, y: usize| pixels.pixels()[(top + y) * across + left + x].green();
            let mut label = rqrr::PreparedImage::prepare_from_greyscale(wide, tall, grey);
            let read = label
                .detect_grids()
                .into_iter()
                .find_map(|grid| grid.decode().ok());
            found.extend(read.map(|(_, content)| content));
        }
    }
    found.sort();
    found
}
