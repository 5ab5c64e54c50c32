//! The shop file: wrenches, gauges, shims and people of this workshop.

use quantity::{Angle, Duration, Length, Range, Ratio, Torque};

use crate::amount::Amount;
use crate::date::Date;
use crate::fact::Fact;
use crate::hole::Head;
use crate::id::{PersonId, PlaceId, ToolId, ZoneId};
use crate::money::Money;
use crate::span::{Mention, Span};
use crate::word::words;

/// What is in this workshop.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shop {
    /// Its name.
    pub title: Option<String>,
    /// The currency of its prices.
    pub currency: Option<String>,
    /// Torque wrenches and angle gauges.
    pub wrenches: Vec<Wrench>,
    /// Crowfoots and other adapters that lengthen or turn the lever of a wrench.
    pub adapters: Vec<Adapter>,
    /// Instruments that give a reading.
    pub gauges: Vec<Gauge>,
    /// Valve shims in stock, thinnest first.
    pub shims: Vec<ShimStock>,
    /// Who works here.
    pub people: Vec<Person>,
    /// Hoists, presses and other tools of which there is one.
    pub singles: Vec<SingleTool>,
    /// What an hour of work costs; nothing: hours and money are not added.
    pub price_per_hour: Fact<Money>,
    /// Time to walk from zone to zone.
    pub walks: Vec<Walk>,
    /// Time to change tools between two steps.
    pub tool_change: Fact<Duration>,
    /// Bags, trays, boxes and shelves.
    pub places: Vec<Place>,
}

/// A torque wrench.
#[derive(Clone, Debug, PartialEq)]
pub struct Wrench {
    /// Its name in the shop.
    pub id: ToolId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// How it shows the torque.
    pub kind: WrenchKind,
    /// What its scale covers.
    pub range: Fact<Range<Torque>>,
    /// The unit its scale is in, as the unit table writes it.
    pub unit: Option<String>,
    /// Largest error, as a share of what `accuracy_of` says.
    pub accuracy: Fact<Ratio>,
    /// What the accuracy is a share of; of the setting where nobody said.
    pub accuracy_of: Fact<AccuracyOf>,
    /// Which way it measures.
    pub direction: Fact<WrenchDirection>,
    /// When it was last compared with a standard.
    pub checked: Fact<Date>,
    /// One step of its scale.
    pub graduation: Fact<Torque>,
    /// Centre of the drive to centre of the grip.
    pub handle: Fact<Length>,
    /// Where the node stands.
    pub span: Span,
}

/// How a wrench shows the torque.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WrenchKind {
    /// It clicks.
    Click,
    /// A beam and a scale.
    Beam,
    /// A dial.
    Dial,
    /// A display.
    Display,
    /// Set to one figure.
    Preset,
    /// It measures turning angle, not torque.
    AngleGauge,
}

words! {
    WrenchKind {
        Click "click",
        Beam "beam",
        Dial "dial",
        Display "display",
        Preset "preset",
        AngleGauge "angle-gauge",
    }
}

/// Which way a wrench measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WrenchDirection {
    /// Only tightening a right-hand thread.
    Clockwise,
    /// Only the other way.
    Anticlockwise,
    /// Both ways.
    Both,
}

words! {
    WrenchDirection {
        Clockwise "clockwise",
        Anticlockwise "anticlockwise",
        Both "both",
    }
}

/// What an accuracy is a share of. Two per cent of full scale are ten at a fifth of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum AccuracyOf {
    /// Of the setting.
    Reading,
    /// Of the highest mark, wherever the setting lies.
    FullScale,
}

words! {
    AccuracyOf {
        Reading "reading",
        FullScale "full-scale",
    }
}

/// What sits between a wrench and a fastener and changes the lever.
#[derive(Clone, Debug, PartialEq)]
pub struct Adapter {
    /// Its name in the shop.
    pub id: ToolId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// What it is, in plain words: `crowfoot`, `extension-spanner`.
    pub kind: String,
    /// What it grips.
    pub head: Fact<Head>,
    /// Centre of the drive to centre of the fastener.
    pub length: Fact<Length>,
    /// How it is held to the handle: 0° straight out, 90° across, 180° folded back.
    pub angle: Fact<Angle>,
    /// Where the node stands.
    pub span: Span,
}

/// An instrument that gives a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Gauge {
    /// Its name in the shop.
    pub id: ToolId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// What it is, in plain words: `feeler`, `micrometer`, `compression`.
    pub kind: String,
    /// What its scale covers.
    pub range: Fact<Range<Amount>>,
    /// One step of its scale.
    pub resolution: Fact<Amount>,
    /// How far repeated readings lie apart (standard deviation).
    pub repeatability: Fact<Amount>,
    /// Expanded uncertainty (k = 2) of one reading.
    pub uncertainty: Fact<Amount>,
    /// When it was last compared with a standard.
    pub checked: Fact<Date>,
    /// Where the node stands.
    pub span: Span,
}

/// Shims of one thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShimStock {
    /// Thickness.
    pub thickness: Length,
    /// How many.
    pub count: u32,
}

/// Somebody who works here.
#[derive(Clone, Debug, PartialEq)]
pub struct Person {
    /// Short name.
    pub id: PersonId,
    /// Full name.
    pub label: Option<String>,
    /// Hours on Monday to Sunday; 0 where nothing is written.
    pub hours: [Duration; 7],
    /// How much longer the first time takes, as a plain factor (1.5).
    pub first_time: Fact<Ratio>,
    /// Days away, first and last included.
    pub away: Vec<(Date, Date)>,
    /// Works safely alone with fuel, air conditioning and the like: licences in plain words.
    pub licences: Vec<String>,
    /// Where the node stands.
    pub span: Span,
}

/// A tool of which there is one, so that two people cannot both use it.
#[derive(Clone, Debug, PartialEq)]
pub struct SingleTool {
    /// Its name in the shop.
    pub id: ToolId,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// It is a hoist or crane.
    pub hoist: bool,
    /// How many there are.
    pub count: u32,
    /// Where the node stands.
    pub span: Span,
}

/// How long it takes to walk from one zone to another, either way.
#[derive(Clone, Debug, PartialEq)]
pub struct Walk {
    /// One zone.
    pub from: Mention<ZoneId>,
    /// The other.
    pub to: Mention<ZoneId>,
    /// The time.
    pub takes: Duration,
}

/// Where things are kept: a bag, a tray, a box, a shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Its name.
    pub id: PlaceId,
    /// What it is: `bag`, `tray`, `box`, `shelf`.
    pub kind: String,
    /// What a reader sees instead of the id.
    pub label: Option<String>,
    /// Where the node stands.
    pub span: Span,
}
