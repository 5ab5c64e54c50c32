//! Reports as JSON, written by hand, for the command line, pages and papers.
//!
//! The names are part of the outside promise: change them only with a changelog line.

use report::{Cell, Figure, Finding, Report, Table};
use serde_json::{Map, Value, json};

/// One report as one JSON object on several lines, ending in a line feed.
#[must_use]
pub fn json(report: &Report) -> String {
    // A value built here has only string keys and finite numbers, so it always prints.
    format!("{:#}\n", value(report))
}

/// One entry of the record on one line, for pages that listen.
#[must_use]
pub fn entry(number: u64, who: &str, line: &str) -> String {
    json!({"number": number, "who": who, "line": line}).to_string()
}

/// Who has what in hand, on one line, for pages that listen.
#[must_use]
pub fn hands<'a>(held: impl Iterator<Item = (&'a str, &'a str)>) -> String {
    held.map(|(who, what)| json!({"who": who, "what": what}))
        .collect::<Value>()
        .to_string()
}

/// One report as a JSON value.
#[must_use]
pub fn value(report: &Report) -> Value {
    let figures: Map<String, Value> = report
        .figures
        .iter()
        .map(|figure| (figure.name.to_owned(), figure_value(figure)))
        .collect();
    json!({
        "command": report.command,
        "title": report.title,
        "verdict": report.verdict.map(report::Verdict::word),
        "headline": report.headline,
        "figures": figures,
        "findings": report.findings.iter().map(finding_value).collect::<Vec<_>>(),
        "rows": rows_value(&report.rows),
        "because": report.because,
        "asks": report.asks.iter()
            .map(|ask| json!({"what": ask.what, "why": ask.why, "how": ask.how})).collect::<Vec<_>>(),
        "cautions": report.cautions.iter()
            .map(|caution| json!({"act": caution.act, "says": caution.says})).collect::<Vec<_>>(),
        "sources": report.sources.iter()
            .map(|source| json!({"title": source.title, "kind": source.kind.word()})).collect::<Vec<_>>(),
        "text": report.text,
        "refused": report.refused,
    })
}

fn figure_value(figure: &Figure) -> Value {
    let mut fields = Map::new();
    fields.insert("value".into(), json!(figure.value));
    fields.insert("unit".into(), json!(figure.unit));
    fields.insert("shown".into(), json!(figure.shown));
    let optional = [
        ("low", figure.low.map(Value::from)),
        ("high", figure.high.map(Value::from)),
        ("note", figure.note.clone().map(Value::from)),
    ];
    for (key, field) in optional {
        if let Some(field) = field {
            fields.insert(key.into(), field);
        }
    }
    Value::Object(fields)
}

fn finding_value(finding: &Finding) -> Value {
    let mut fields = Map::new();
    fields.insert("code".into(), json!(finding.code));
    fields.insert("concerns".into(), json!(finding.concerns));
    fields.insert("says".into(), json!(finding.says));
    fields.insert("points_to".into(), json!(finding.points_to));
    fields.insert("next".into(), json!(finding.next));
    fields.insert(
        "weight".into(),
        json!(match finding.weight {
            report::Weight::Note => "note",
            report::Weight::Look => "look",
            report::Weight::Stop => "stop",
        }),
    );
    if let Some(place) = &finding.place {
        fields.insert("file".into(), json!(place.file));
        fields.insert("line".into(), json!(place.line));
        fields.insert("column".into(), json!(place.column));
    }
    if !finding.detail.is_empty() {
        fields.insert("detail".into(), json!(finding.detail));
    }
    Value::Object(fields)
}

fn rows_value(table: &Table) -> Value {
    let rows = table.rows.iter().map(|row| {
        let fields: Map<String, Value> = table
            .columns
            .iter()
            .zip(row)
            .map(|(column, cell)| (column.key.to_owned(), cell_value(cell)))
            .collect();
        Value::Object(fields)
    });
    Value::Array(rows.collect())
}

fn cell_value(cell: &Cell) -> Value {
    match cell {
        Cell::None => Value::Null,
        Cell::Text(text) => json!(text),
        Cell::Figure(figure) => figure_value(figure),
        Cell::Number(number, _) => json!(number),
        Cell::Verdict(verdict) => json!(verdict.word()),
        Cell::List(words) => json!(words),
        Cell::Flag(flag) => json!(flag),
    }
}
