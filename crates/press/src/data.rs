//! A paper as the data its template reads: one JSON text, and pictures beside it.

mod blocks;

use serde_json::{Value, json};
use sheet::paper::{Body, Labels, Paper, Reading, Size};

use crate::PressFault;
use crate::letters::Letters;
use crate::{square, tiles};

/// What a template reads.
#[derive(Debug)]
pub(crate) struct Data {
    /// `data.json`.
    pub(crate) json: String,
    /// Pictures, by the name the JSON has for them.
    pub(crate) files: Vec<(String, Vec<u8>)>,
}

/// The data while it is written: pictures so far, letters no face has.
#[derive(Debug, Default)]
struct Writer {
    files: Vec<(String, Vec<u8>)>,
    letters: Letters,
}

impl Writer {
    fn text(&mut self, text: &str) -> Value {
        Value::from(self.letters.written(text))
    }

    fn maybe(&mut self, text: Option<&str>) -> Value {
        text.map_or(Value::Null, |text| self.text(text))
    }

    fn texts(&mut self, texts: &[String]) -> Value {
        texts.iter().map(|text| self.text(text)).collect()
    }

    /// Keeps a picture and gives the name it has.
    fn file(&mut self, ending: &str, bytes: Vec<u8>) -> Value {
        let name = format!("picture-{}.{ending}", self.files.len() + 1);
        self.files.push((name.clone(), bytes));
        Value::from(name)
    }
}

/// Writes a paper down for its template.
pub(crate) fn of(paper: &Paper, size: Size) -> Result<Data, PressFault> {
    let mut writer = Writer::default();
    let (wide, tall) = match &paper.body {
        Body::Labels(labels) => labels.stock.page.mm(),
        Body::Pages(..) | Body::Card(_) => size.mm(),
    };
    let mut body = match &paper.body {
        Body::Pages(reading, list) => json!({
            "is": "pages",
            "reading": match reading { Reading::Fender => "fender", Reading::Desk => "desk" },
            "blocks": blocks::of(&mut writer, list)?,
        }),
        Body::Labels(sheets) => labels(&mut writer, sheets)?,
        Body::Card(card) => tiles::of(card, size, &mut |text| writer.letters.written(text))?,
    };
    let title = writer.text(&paper.title);
    let job = writer.text(&paper.job);
    let warning = writer.maybe(paper.warning.as_deref());
    body["missing"] = writer.letters.said().map_or(Value::Null, Value::from);
    let data = json!({
        "title": title,
        "job": job,
        "day": {
            "year": paper.day.year, "month": paper.day.month, "day": paper.day.day,
            "text": paper.day.to_string(),
        },
        "warning": warning,
        "size": { "wide": wide, "tall": tall },
        "body": body,
    });
    Ok(Data {
        json: data.to_string(),
        files: writer.files,
    })
}

/// Labels, sheet by sheet, each with its place.
fn labels(writer: &mut Writer, labels: &Labels) -> Result<Value, PressFault> {
    let stock = &labels.stock;
    let mut sheets: Vec<Vec<Value>> = Vec::new();
    for (at, label) in labels.labels.iter().enumerate() {
        let place = labels.skip + at;
        let (sheet, place) = (place / stock.count(), place % stock.count());
        let (left, top) = stock.corner(place);
        let file = match &label.address {
            Some(address) => writer.file("svg", square::svg(address)?.into_bytes()),
            None => Value::Null,
        };
        let told = label
            .address
            .as_ref()
            .map(|address| format!("{}: square of dots with {address}", label.mark));
        let written = json!({
            "left": left, "top": top,
            "mark": writer.text(&label.mark),
            "on": writer.text(&label.on),
            "second": writer.text(&label.second),
            "file": file,
            "told": writer.maybe(told.as_deref()),
        });
        if sheet >= sheets.len() {
            sheets.resize_with(sheet + 1, Vec::new);
        }
        sheets[sheet].push(written);
    }
    // A sheet with nothing left free on it is not printed.
    sheets.retain(|sheet| !sheet.is_empty());
    Ok(json!({
        "is": "labels",
        "wide": stock.wide, "tall": stock.tall, "cut": stock.cut,
        "sheets": sheets,
    }))
}
