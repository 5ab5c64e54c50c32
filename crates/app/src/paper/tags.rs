//! Tags in pairs and bag labels, on a sheet of labels or on plain paper to be cut.

use report::{Finding, Report};
use sheet::paper::{Body, Label, Labels, Paper, Stock};

use super::{What, Wish, nothing, text};

/// Two labels for every end worth a tag, then one for every bag.
pub(super) fn of(wish: &Wish<'_>) -> Result<Paper, Box<Finding>> {
    let report = crate::ends::tags(wish.folder);
    let labels = labels(&report, wish.address.as_deref());
    if labels.is_empty() {
        return Err(nothing(
            What::Tags,
            "no end could be mistaken and no joint comes off",
            "write ends and joints into the book, or log what comes off",
        ));
    }
    let body = Body::Labels(Labels {
        stock: wish.stock.unwrap_or_else(|| Stock::plain(wish.size)),
        skip: wish.skip,
        labels,
    });
    Ok(wish.paper(What::Tags.word(), "Tags and bags", body))
}

fn labels(report: &Report, address: Option<&str>) -> Vec<Label> {
    let mut labels = Vec::new();
    for row in &report.rows.rows {
        let text = |key: &str| text(report, row, key);
        let (mark, on, and) = (text("number"), text("on"), text("and"));
        let address = address.map(|base| page(base, &mark));
        let label = |on: &str, second: String| Label {
            mark: mark.clone(),
            on: on.to_owned(),
            second,
            address: address.clone(),
        };
        // A bag goes with nothing else, so it has no grade.
        if text("grade").is_empty() {
            labels.push(label(&on, and));
        } else {
            labels.push(label(&on, format!("onto {and}")));
            labels.push(label(&and, format!("takes {on}")));
        }
    }
    labels
}

/// The page that says where a tag or bag belongs.
fn page(base: &str, mark: &str) -> String {
    let mark: String = form_urlencoded::byte_serialize(mark.as_bytes()).collect();
    format!("{}/where?of={mark}", base.trim_end_matches('/'))
}

#[cfg(test)]
mod tests {
    use super::page;

    #[test]
    fn a_bag_with_a_space_makes_an_address() {
        assert_eq!(
            page("http://bench:8080/", "bag 14"),
            "http://bench:8080/where?of=bag+14"
        );
    }
}
