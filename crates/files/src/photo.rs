//! Bytes of a photo: what kind it is, how large, which way up, when it was taken; and a
//! smaller JPEG of it, upright and with nothing in it but the picture.
//!
//! Bytes in, bytes out. Where a photo lies and which entry it belongs to is `app`'s work.

mod taken;
#[cfg(test)]
mod tests;

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits, RgbImage, Rgba};

pub use taken::Taken;

/// The most bytes of one photo that are read. A phone's largest are near 30 MB.
pub const MOST_BYTES: usize = 64 * 1024 * 1024;

/// The longest side in pixels that is read: above any phone's, below what a forged heading
/// asks memory for.
pub const LONGEST_SIDE: u32 = 24_000;

/// The most memory one photo may take while it is drawn smaller.
const MOST_MEMORY: u64 = 1024 * 1024 * 1024;

/// How well a derived picture is kept, of 100. At 85 a thread's flanks are still sharp.
const QUALITY: u8 = 85;

/// The kinds of picture that are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A camera's usual kind.
    Jpeg,
    /// A screen's usual kind.
    Png,
}

impl Kind {
    /// Every kind that is kept.
    pub const ALL: [Self; 2] = [Self::Jpeg, Self::Png];

    /// The ending of a file of this kind, without the dot.
    #[must_use]
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
        }
    }

    /// What a page calls it: the media type.
    #[must_use]
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
        }
    }

    const fn format(self) -> ImageFormat {
        match self {
            Self::Jpeg => ImageFormat::Jpeg,
            Self::Png => ImageFormat::Png,
        }
    }
}

/// What a photo says of itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// Its kind.
    pub kind: Kind,
    /// Its width in pixels, held upright.
    pub width: u32,
    /// Its height in pixels, held upright.
    pub height: u32,
    /// When the camera says it was taken.
    pub taken: Option<Taken>,
    /// Whether it says where it was taken. What is derived from it never does.
    pub located: bool,
}

/// Why bytes are no photo that can be kept.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PhotoFault {
    /// Nothing was sent.
    #[error("the file is empty")]
    Empty,
    /// More than [`MOST_BYTES`].
    #[error("the file has {} MB, and at most {} MB are kept", bytes.div_ceil(1024 * 1024), MOST_BYTES / 1024 / 1024)]
    TooManyBytes {
        /// How many came.
        bytes: usize,
    },
    /// A kind of picture or film that is known and not kept.
    #[error("it is {kind}, and only JPEG and PNG pictures are kept")]
    OtherKind {
        /// The kind, as a reader calls it: `a HEIC picture`.
        kind: &'static str,
    },
    /// No picture at all.
    #[error("it is no picture that is known here; only JPEG and PNG are kept")]
    NoPicture,
    /// A side longer than [`LONGEST_SIDE`].
    #[error("it says {width} × {height} pixels, and {LONGEST_SIDE} a side are read at most")]
    TooLarge {
        /// Its width as it stands in the file.
        width: u32,
        /// Its height as it stands in the file.
        height: u32,
    },
    /// It begins like a picture and cannot be drawn.
    #[error("the picture is damaged: {why}")]
    Damaged {
        /// What the decoder said.
        why: String,
    },
    /// A derived picture was asked for with no pixels.
    #[error("a picture of 0 pixels was asked for")]
    NoPixels,
}

impl PhotoFault {
    /// What to do about it.
    #[must_use]
    pub const fn way_out(&self) -> &'static str {
        match self {
            Self::OtherKind { .. } => {
                "set the camera to take JPEG, or save a copy of the picture as JPEG"
            }
            Self::TooManyBytes { .. } | Self::TooLarge { .. } => {
                "save a smaller copy and send that one"
            }
            Self::Empty | Self::NoPicture | Self::Damaged { .. } => {
                "look whether the picture opens elsewhere; copy it from the camera again"
            }
            Self::NoPixels => "ask for at least 1 pixel",
        }
    }
}

/// Reads what a photo says of itself. Its heading is read, not all of its pixels.
///
/// # Errors
/// [`PhotoFault`] for what is no JPEG or PNG picture, is too large, or has a damaged heading.
pub fn look(bytes: &[u8]) -> Result<Photo, PhotoFault> {
    let kind = kind_of(bytes)?;
    let mut decoder = decoder(bytes, kind)?;
    let (width, height) = decoder.dimensions();
    let lies = turn(&mut decoder);
    let (width, height) = if lies_on_its_side(lies) {
        (height, width)
    } else {
        (width, height)
    };
    let (taken, located) = taken::read(bytes);
    Ok(Photo {
        kind,
        width,
        height,
        taken,
        located,
    })
}

/// A JPEG of a photo whose longer side has at most `longest` pixels: upright, never enlarged,
/// and without place, time, camera or any other word the original carried.
///
/// Colours keep their meaning: a colour profile is taken along.
///
/// # Errors
/// [`PhotoFault`] for what cannot be drawn, and for no pixels at all.
pub fn smaller(bytes: &[u8], longest: u32) -> Result<Vec<u8>, PhotoFault> {
    if longest == 0 {
        return Err(PhotoFault::NoPixels);
    }
    let damaged = |why: image::ImageError| PhotoFault::Damaged {
        why: why.to_string(),
    };
    let kind = kind_of(bytes)?;
    let mut decoder = decoder(bytes, kind)?;
    let lies = turn(&mut decoder);
    let profile = decoder.icc_profile().ok().flatten();
    let mut picture = DynamicImage::from_decoder(decoder).map_err(damaged)?;
    if picture.width().max(picture.height()) > longest {
        picture = picture.thumbnail(longest, longest);
    }
    picture.apply_orientation(lies);
    let picture = on_white(picture);
    let mut small = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut small, QUALITY);
    // A colour profile the encoder cannot take along is no reason to refuse the picture.
    if let Some(profile) = profile {
        let _without = image::ImageEncoder::set_icc_profile(&mut encoder, profile);
    }
    encoder.encode_image(&picture).map_err(damaged)?;
    Ok(small)
}

/// The kind by the first bytes; a file's name says nothing.
fn kind_of(bytes: &[u8]) -> Result<Kind, PhotoFault> {
    if bytes.is_empty() {
        return Err(PhotoFault::Empty);
    }
    if bytes.len() > MOST_BYTES {
        return Err(PhotoFault::TooManyBytes { bytes: bytes.len() });
    }
    if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
        return Ok(Kind::Jpeg);
    }
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        return Ok(Kind::Png);
    }
    other_kind(bytes).map_or(Err(PhotoFault::NoPicture), |kind| {
        Err(PhotoFault::OtherKind { kind })
    })
}

/// Kinds that phones and desks send and that are not kept, by their first bytes.
fn other_kind(bytes: &[u8]) -> Option<&'static str> {
    if bytes.get(4..8) == Some(b"ftyp") {
        return Some(match bytes.get(8..12)? {
            b"heic" | b"heix" | b"heim" | b"heis" | b"hevc" | b"hevx" | b"mif1" | b"msf1" => {
                "a HEIC picture"
            }
            b"avif" | b"avis" => "an AVIF picture",
            _ => "a film",
        });
    }
    if bytes.starts_with(b"RIFF") {
        return (bytes.get(8..12) == Some(b"WEBP")).then_some("a WebP picture");
    }
    let known: [(&[u8], &str); 5] = [
        (b"GIF8", "a GIF picture"),
        (b"II*\0", "a TIFF or raw camera picture"),
        (b"MM\0*", "a TIFF or raw camera picture"),
        (b"%PDF", "a PDF"),
        (b"BM", "a bitmap"),
    ];
    let kind = known.iter().find(|(begin, _)| bytes.starts_with(begin))?;
    Some(kind.1)
}

/// A decoder that has read the heading and may not take more than its share of memory.
fn decoder(bytes: &[u8], kind: Kind) -> Result<impl ImageDecoder + '_, PhotoFault> {
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_MEMORY);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), kind.format());
    reader.limits(limits);
    let decoder = reader.into_decoder().map_err(|why| PhotoFault::Damaged {
        why: why.to_string(),
    })?;
    let (width, height) = decoder.dimensions();
    if width.max(height) > LONGEST_SIDE {
        return Err(PhotoFault::TooLarge { width, height });
    }
    Ok(decoder)
}

/// How the picture lies in the file. A camera that does not say holds it upright.
fn turn(decoder: &mut impl ImageDecoder) -> Orientation {
    decoder.orientation().unwrap_or(Orientation::NoTransforms)
}

const fn lies_on_its_side(lies: Orientation) -> bool {
    matches!(
        lies,
        Orientation::Rotate90
            | Orientation::Rotate270
            | Orientation::Rotate90FlipH
            | Orientation::Rotate270FlipH
    )
}

/// JPEG knows no glass: what shows through is laid on white, as on a sheet.
fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let mut sheet = image::RgbaImage::from_pixel(
        picture.width(),
        picture.height(),
        Rgba([255, 255, 255, 255]),
    );
    image::imageops::overlay(&mut sheet, &picture.into_rgba8(), 0, 0);
    DynamicImage::ImageRgba8(sheet).into_rgb8()
}
