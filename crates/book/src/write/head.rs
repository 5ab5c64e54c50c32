//! Book, engine, variants, zones, shafts.

use crate::book::{Book, Units};
use crate::engine::Engine;
use crate::shaft::Shaft;
use crate::variant::When;
use crate::write::page::{Entry, Page};

pub(super) fn write(page: &mut Page, book: &Book) {
    let plain = book.title.is_none()
        && book.units == Units::Metric
        && book.currency.is_none()
        && !book.invented;
    if !plain {
        let mut entry = Entry::new("book");
        entry
            .label(book.title.as_deref())
            .say("units", book.units.word())
            .maybe("currency", book.currency.as_deref())
            .flag("invented", book.invented);
        page.put(&entry);
    }
    if let Some(engine) = &book.engine {
        page.gap();
        write_engine(page, engine);
    }
    page.gap();
    for variant in &book.variants {
        let mut entry = Entry::new("variant");
        entry.arg(variant.id.as_str());
        for value in &variant.values {
            entry.arg(value);
        }
        entry.maybe("label", variant.label.as_deref());
        page.put(&entry);
    }
    for zone in &book.zones {
        let mut entry = Entry::new("zone");
        entry.arg(zone.id.as_str()).label(zone.label.as_deref());
        page.put(&entry);
    }
    page.gap();
    for shaft in &book.shafts {
        write_shaft(page, shaft);
    }
}

fn write_engine(page: &mut Page, engine: &Engine) {
    let mut entry = Entry::new("engine");
    entry
        .arg(&engine.layout)
        .quantity("angle", &engine.angle)
        .quantity("offset-crankpins", &engine.offset_crankpins)
        .yes_or_no("across", &engine.across)
        .quantity("bore", &engine.bore)
        .quantity("stroke", &engine.stroke)
        .quantity("rod", &engine.rod)
        .quantity("ratio", &engine.ratio)
        .quantity("displacement", &engine.displacement)
        .count("strokes", &engine.strokes)
        .count("valves", &engine.valves)
        .choice("lights", &engine.lights)
        .choice("rotation", &engine.rotation);
    page.put_block(&entry, |page| {
        for bank in &engine.banks {
            let mut entry = Entry::new("bank");
            entry.arg(&bank.name);
            for cylinder in &bank.cylinders {
                entry.arg(&cylinder.to_string());
            }
            page.put(&entry);
        }
        page.list("firing-order", &engine.firing_order);
        if let Some(closes) = &engine.inlet_closes {
            let mut entry = Entry::new("inlet-closes");
            match &closes.after_bottom {
                crate::fact::Fact::Known(said) => entry.arg(&super::values::quantity(said)),
                crate::fact::Fact::Unknown => entry.arg("?"),
                crate::fact::Fact::DoesNotApply => entry.arg("none"),
                crate::fact::Fact::NeverAsked => &mut entry,
            };
            entry
                .say("after", "bdc")
                .quantity("at-lift", &closes.at_lift);
            page.put(&entry);
        }
    });
}

fn write_shaft(page: &mut Page, shaft: &Shaft) {
    let mut entry = Entry::new("shaft");
    entry
        .arg(shaft.id.as_str())
        .label(shaft.label.as_deref())
        .say("kind", shaft.kind.word())
        .choice("sense", &shaft.sense)
        .mention("driven-by", shaft.driven_by.as_ref())
        .choice("drive", &shaft.drive)
        .mention("drive-part", shaft.drive_part.as_ref())
        .count("teeth", &shaft.teeth)
        .mention("pin", shaft.pin.as_ref())
        .mention("sits-in", shaft.sits_in.as_ref())
        .yes_or_no("interference", &shaft.interference)
        .quantity("parked", &shaft.parked)
        .when(&shaft.when);
    page.put(&entry);
}

impl Entry {
    /// `name=id`, when something is mentioned.
    pub(super) fn mention<I: ToString>(
        &mut self,
        name: &str,
        mention: Option<&crate::span::Mention<I>>,
    ) -> &mut Self {
        match mention {
            Some(mention) => self.say(name, &mention.id.to_string()),
            None => self,
        }
    }

    /// Several mentions as one value.
    pub(super) fn mentions<I: ToString>(
        &mut self,
        name: &str,
        mentions: &[crate::span::Mention<I>],
    ) -> &mut Self {
        let ids: Vec<String> = mentions
            .iter()
            .map(|mention| mention.id.to_string())
            .collect();
        self.names(name, &ids)
    }

    /// The condition under which the node exists.
    pub(super) fn when(&mut self, when: &When) -> &mut Self {
        let pairs: Vec<String> = when
            .all
            .iter()
            .map(|(variant, value)| format!("{variant}={value}"))
            .collect();
        self.names("when", &pairs)
    }
}
