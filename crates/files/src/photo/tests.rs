//! Photographs made in memory, read back and derived.
use super::*;

/// A picture 40 wide and 20 high, white but for a black left half, as the format writes it.
fn picture(format: ImageFormat) -> Vec<u8> {
    let drawn = RgbImage::from_fn(40, 20, |x, _| {
        image::Rgb(if x < 20 { [0; 3] } else { [255; 3] })
    });
    let mut bytes = Vec::new();
    DynamicImage::ImageRgb8(drawn)
        .write_to(&mut Cursor::new(&mut bytes), format)
        .unwrap();
    bytes
}

/// One entry of a directory of tags: tag, type, count, and the value or where it stands.
fn tag(tag: u16, kind: u16, count: u32, value: u32) -> Vec<u8> {
    let mut entry = Vec::new();
    entry.extend(tag.to_le_bytes());
    entry.extend(kind.to_le_bytes());
    entry.extend(count.to_le_bytes());
    entry.extend(value.to_le_bytes());
    entry
}

fn directory(entries: &[Vec<u8>]) -> Vec<u8> {
    let count = u16::try_from(entries.len()).unwrap();
    let mut bytes = count.to_le_bytes().to_vec();
    bytes.extend(entries.concat());
    bytes.extend([0; 4]);
    bytes
}

/// What a camera writes into a JPEG, byte by byte after Exif 2.32 (CIPA DC-008-2019), 4.6:
/// orientation 6, taken 2026-03-02 18:40:12 at +01:00, and a position.
fn camera_words() -> Vec<u8> {
    const SHORT: u16 = 3;
    const LONG: u16 = 4;
    const ASCII: u16 = 2;
    // 8 bytes of heading, then directories of 2 + 12 a tag + 4 bytes, then the long values.
    let (main, camera, place, texts) = (8, 50, 80, 98);
    let mut bytes = b"II*\0".to_vec();
    bytes.extend(8_u32.to_le_bytes());
    bytes.extend(directory(&[
        tag(0x0112, SHORT, 1, 6),
        tag(0x8769, LONG, 1, camera),
        tag(0x8825, LONG, 1, place),
    ]));
    assert_eq!(bytes.len(), main + 42);
    bytes.extend(directory(&[
        tag(0x9003, ASCII, 20, texts),
        tag(0x9011, ASCII, 7, texts + 20),
    ]));
    bytes.extend(directory(&[tag(
        0x0001,
        ASCII,
        2,
        u32::from_le_bytes(*b"N\0\0\0"),
    )]));
    bytes.extend(b"2026:03:02 18:40:12\0+01:00\0");
    bytes
}

/// A JPEG with the camera's words in it.
fn from_camera() -> Vec<u8> {
    let plain = picture(ImageFormat::Jpeg);
    let words = [b"Exif\0\0".to_vec(), camera_words()].concat();
    let length = u16::try_from(words.len() + 2).unwrap().to_be_bytes();
    [&plain[..2], &[0xFF, 0xE1], &length, &words, &plain[2..]].concat()
}

#[test]
fn a_camera_says_which_way_up_when_and_where() {
    let photo = look(&from_camera()).unwrap();
    assert_eq!(photo.kind, Kind::Jpeg);
    assert_eq!((photo.width, photo.height), (20, 40), "held upright");
    let taken = photo.taken.unwrap();
    assert_eq!(taken.shown(), "2026-03-02 18:40");
    assert_eq!(taken.offset.unwrap().seconds(), 3600);
    assert!(photo.located);
}

#[test]
fn a_plain_picture_says_none_of_it() {
    for (format, kind) in [
        (ImageFormat::Jpeg, Kind::Jpeg),
        (ImageFormat::Png, Kind::Png),
    ] {
        let photo = look(&picture(format)).unwrap();
        assert_eq!(photo.kind, kind);
        assert_eq!((photo.width, photo.height), (40, 20));
        assert_eq!((photo.taken, photo.located), (None, false));
    }
}

/// Orientation 6 means that the camera lay on its left: the left of the file is the top.
#[test]
fn what_is_derived_is_upright_and_says_nothing() {
    let small = smaller(&from_camera(), 1600).unwrap();
    let drawn = image::load_from_memory(&small).unwrap().into_rgb8();
    assert_eq!(drawn.dimensions(), (20, 40), "upright, not enlarged");
    assert!(drawn.get_pixel(10, 5)[0] < 60, "the black half is on top");
    assert!(drawn.get_pixel(10, 35)[0] > 200);
    let has = |words: &[u8]| small.windows(words.len()).any(|part| part == words);
    assert!(!has(b"Exif") && !has(b"2026:03:02"));
    let photo = look(&small).unwrap();
    assert_eq!((photo.taken, photo.located), (None, false));
}

#[test]
fn the_longer_side_is_kept_to() {
    let small = look(&smaller(&picture(ImageFormat::Png), 10).unwrap()).unwrap();
    assert_eq!((small.width, small.height), (10, 5));
    assert_eq!(
        smaller(&picture(ImageFormat::Png), 0),
        Err(PhotoFault::NoPixels)
    );
}

#[test]
fn what_shows_through_lies_on_white() {
    let glass = image::RgbaImage::from_pixel(4, 4, Rgba([0, 0, 0, 0]));
    let mut bytes = Vec::new();
    DynamicImage::ImageRgba8(glass)
        .write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png)
        .unwrap();
    let drawn = image::load_from_memory(&smaller(&bytes, 4).unwrap()).unwrap();
    assert!(drawn.into_rgb8().get_pixel(1, 1)[0] > 250);
}

#[test]
fn other_kinds_are_named_and_a_way_out_is_given() {
    let heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic";
    let fault = look(heic).unwrap_err();
    assert!(fault.to_string().contains("HEIC"), "{fault}");
    assert!(fault.way_out().contains("JPEG"));
    for (bytes, kind) in [
        (&b"\0\0\0\x18ftypisom"[..], "a film"),
        (b"RIFF\0\0\0\0WEBPVP8 ", "a WebP picture"),
        (b"GIF89a", "a GIF picture"),
        (b"%PDF-1.7", "a PDF"),
    ] {
        assert_eq!(look(bytes), Err(PhotoFault::OtherKind { kind }));
    }
}

#[test]
fn junk_is_refused() {
    assert_eq!(look(b""), Err(PhotoFault::Empty));
    assert_eq!(look(b"oil on the sensor"), Err(PhotoFault::NoPicture));
    let whole = picture(ImageFormat::Png);
    let half = &whole[..whole.len() / 2];
    assert!(matches!(
        smaller(half, 480),
        Err(PhotoFault::Damaged { .. })
    ));
    assert!(matches!(
        look(&[0xFF, 0xD8, 0xFF, 0xE0, 0, 0]),
        Err(PhotoFault::Damaged { .. })
    ));
}

/// A heading may claim any size; no memory is asked for to believe it.
#[test]
fn a_heading_that_claims_too_much_is_refused() {
    let mut bytes = picture(ImageFormat::Png);
    bytes[16..24].copy_from_slice(&[0, 1, 0, 0, 0, 1, 0, 0]);
    let sum = crc(&bytes[12..29]);
    bytes[29..33].copy_from_slice(&sum.to_be_bytes());
    assert_eq!(
        look(&bytes),
        Err(PhotoFault::TooLarge {
            width: 65536,
            height: 65536
        })
    );
}

/// The check sum of a PNG chunk, after the PNG specification (third edition), annex D.
fn crc(bytes: &[u8]) -> u32 {
    let mut sum = u32::MAX;
    for byte in bytes {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 {
                0xEDB8_8320 ^ (sum >> 1)
            } else {
                sum >> 1
            };
        }
    }
    !sum
}
