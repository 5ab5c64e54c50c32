//! A report with photos through the press, beside the decoding of its photos alone.

use std::io::Cursor;

use anyhow::Context;
use book::Date;
use image::{ImageFormat, RgbImage};
use report::{Align, Cell, Table, Verdict};
use sheet::paper::{Block, Body, Mark, Paper, Photo, Reading, Size};

use crate::clock::Watch;

/// Pixels of a photo as it is kept for paper.
const WIDE: u32 = 1600;
const TALL: u32 = 1200;

/// Times a report of so many pages, so many of them with a photo.
pub fn bench(pages: usize, photos: usize) -> anyhow::Result<()> {
    anyhow::ensure!(
        photos <= pages,
        "{photos} photos do not go on {pages} pages"
    );
    let pictures = (0..photos)
        .map(picture)
        .collect::<anyhow::Result<Vec<_>>>()?;
    let watch = Watch::start();
    for bytes in &pictures {
        image::load_from_memory_with_format(bytes, ImageFormat::Jpeg)?;
    }
    let decoding = watch.seconds();
    let paper = report(pages, pictures)?;
    let watch = Watch::start();
    let pressed = press::pdf(&paper, Size::A4)?;
    let pressing = watch.seconds();
    anyhow::ensure!(
        pressed.pages == pages,
        "laid on {} pages instead of {pages}",
        pressed.pages
    );
    println!("  decoding the photos alone: {decoding:.3} s");
    println!(
        "{pages} pages with {photos} photos, {:.1} MB, in {pressing:.3} s, {:.1} times the decoding of their photos",
        // A PDF is far below the size at which a float loses bytes.
        pressed.pdf.len() as f64 / 1e6,
        pressing / decoding
    );
    Ok(())
}

/// A page with a photo and rows for each photo, then pages with rows alone.
fn report(pages: usize, photos: Vec<Vec<u8>>) -> anyhow::Result<Paper> {
    let mut blocks = Vec::new();
    let mut photos = photos.into_iter();
    for page in 1..=pages {
        // The first one stands under the title.
        if page > 1 {
            blocks.push(Block::NewPage);
        }
        blocks.push(Block::Heading(1, format!("Layer {page}")));
        blocks.push(Block::Words(
            "What lay under it, what was met on the way, and which way was taken.".to_owned(),
        ));
        let photo = photos.next();
        let rows = if photo.is_some() { 8 } else { 20 };
        blocks.extend(photo.map(|bytes| {
            Block::Photo(Photo {
                bytes,
                width: WIDE,
                height: TALL,
                told: format!("Layer {page} from above"),
                caption: "Two plugs hide under the loom.".to_owned(),
                marks: vec![Mark {
                    sign: job::Sign::Arrow,
                    across: 0.3,
                    down: 0.4,
                    wide: None,
                    says: "knock sensor plug".to_owned(),
                }],
            })
        }));
        blocks.push(Block::Rows(table(rows)));
    }
    Ok(Paper {
        name: "bench".to_owned(),
        title: "The whole job".to_owned(),
        job: "Made up for a benchmark".to_owned(),
        day: Date::read("2026-04-07").context("no day")?,
        warning: None,
        body: Body::Pages(Reading::Desk, blocks),
    })
}

fn table(rows: usize) -> Table {
    let mut table = Table::new(&[
        ("test", "test", Align::Left),
        ("before", "before", Align::Right),
        ("after", "after", Align::Right),
        ("verdict", "verdict", Align::Left),
    ]);
    for row in 0..rows {
        table.push(vec![
            Cell::from(format!("cylinder {}", row + 1)),
            Cell::from("92 psi"),
            Cell::from("212 psi"),
            Cell::from(Verdict::Within),
        ]);
    }
    table
}

/// A picture with as much in it as a photo of an engine bay: slow shades and fine grain.
fn picture(number: usize) -> anyhow::Result<Vec<u8>> {
    let mut seed = u32::try_from(number)?
        .wrapping_mul(747_796_405)
        .wrapping_add(1);
    let picture = RgbImage::from_fn(WIDE, TALL, |x, y| {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let grain = (seed >> 27) as u8;
        let shade = ((x / 8 + y / 6) % 200) as u8;
        image::Rgb([shade + grain, shade, 200 - shade + grain])
    });
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, ImageFormat::Jpeg)?;
    Ok(bytes.into_inner())
}
