//! What a camera writes beside the picture: when, and whether where.

use std::io::Cursor;

use exif::{Exif, In, Tag, Value};
use jiff::civil::DateTime;
use jiff::tz::Offset;

/// When a photo was taken, by the camera's clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taken {
    /// Day and time where the camera was set.
    pub local: DateTime,
    /// How far that clock is from universal time, if the camera says so.
    pub offset: Option<Offset>,
}

impl Taken {
    /// Day and time as a reader wants them: `2026-03-02 18:40`.
    #[must_use]
    pub fn shown(&self) -> String {
        self.local.strftime("%F %H:%M").to_string()
    }
}

/// When it was taken, and whether it says where. A picture without these words, or with
/// damaged ones, is a picture all the same.
pub(super) fn read(bytes: &[u8]) -> (Option<Taken>, bool) {
    let Ok(words) = exif::Reader::new().read_from_container(&mut Cursor::new(bytes)) else {
        return (None, false);
    };
    let located = words
        .fields()
        .any(|field| field.tag.context() == exif::Context::Gps);
    let local = text(&words, Tag::DateTimeOriginal)
        .or_else(|| text(&words, Tag::DateTime))
        .and_then(|typed| DateTime::strptime("%Y:%m:%d %H:%M:%S", typed).ok());
    let offset = text(&words, Tag::OffsetTimeOriginal).and_then(|typed| offset(&typed));
    (local.map(|local| Taken { local, offset }), located)
}

fn text(words: &Exif, tag: Tag) -> Option<String> {
    let Value::Ascii(lines) = &words.get_field(tag, In::PRIMARY)?.value else {
        return None;
    };
    let line = String::from_utf8(lines.first()?.clone()).ok()?;
    Some(line.trim_matches(['\0', ' ']).to_owned())
}

/// `+01:00`, `-03:30`.
fn offset(typed: &str) -> Option<Offset> {
    let (sign, rest) = match typed.split_at_checked(1)? {
        ("+", rest) => (1, rest),
        ("-", rest) => (-1, rest),
        _ => return None,
    };
    let (hours, minutes) = rest.split_once(':')?;
    let (hours, minutes): (i32, i32) = (hours.parse().ok()?, minutes.parse().ok()?);
    let sane = (0..=14).contains(&hours) && (0..60).contains(&minutes);
    let seconds = sane.then_some(sign * (hours * 3600 + minutes * 60))?;
    Offset::from_seconds(seconds).ok()
}
