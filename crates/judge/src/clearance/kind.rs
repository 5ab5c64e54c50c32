//! The clearances the trade has rules for. All rules: *common practice, no source*; the
//! maker's figure always wins.

use calc::clearance::{bearing, ring_gap};
use quantity::{Length, Range, Ratio, Unit, unit};

use super::Unanswerable;
use crate::limit::{Limit, Whose};

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Stem in guide, inlet.
    GuideInlet,
    /// Stem in guide, exhaust.
    GuideExhaust,
    /// Margin of a valve head.
    ValveMargin,
    /// Room before spring coils touch at full lift.
    CoilBind,
    /// Oil clearance of a plain bearing.
    Bearing,
    /// End float of a crankshaft.
    EndFloat,
    /// Side clearance of a rod.
    RodSide,
    /// Gap of a top ring.
    TopRingGap,
    /// Gap of a second ring.
    SecondRingGap,
    /// Cast piston in its bore.
    PistonCast,
    /// Forged piston in its bore.
    PistonForged,
    /// How far a wet liner stands proud of the deck.
    Liner,
    /// Piston to head.
    PistonToHead,
}

/// Kind, name to ask for it by, noun, title.
const NAMES: [(Kind, &str, &str, &str); 13] = [
    (
        Kind::GuideInlet,
        "guide-inlet",
        "stem in guide",
        "Inlet valve stem in its guide",
    ),
    (
        Kind::GuideExhaust,
        "guide-exhaust",
        "stem in guide",
        "Exhaust valve stem in its guide",
    ),
    (
        Kind::ValveMargin,
        "valve-margin",
        "margin",
        "Margin of a valve head",
    ),
    (
        Kind::CoilBind,
        "coil-bind",
        "room before the coils touch",
        "Spring at full lift",
    ),
    (
        Kind::Bearing,
        "bearing",
        "oil clearance",
        "Oil clearance of a bearing",
    ),
    (
        Kind::EndFloat,
        "end-float",
        "end float",
        "End float of the crankshaft",
    ),
    (
        Kind::RodSide,
        "rod-side",
        "side clearance",
        "Side clearance of a rod",
    ),
    (Kind::TopRingGap, "top-ring", "gap", "Gap of a top ring"),
    (
        Kind::SecondRingGap,
        "second-ring",
        "gap",
        "Gap of a second ring",
    ),
    (
        Kind::PistonCast,
        "piston-cast",
        "piston to wall",
        "Cast piston in its bore",
    ),
    (
        Kind::PistonForged,
        "piston-forged",
        "piston to wall",
        "Forged piston in its bore",
    ),
    (Kind::Liner, "liner", "stand-proud", "Liners over the deck"),
    (
        Kind::PistonToHead,
        "piston-to-head",
        "piston to head",
        "Piston to head",
    ),
];

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 13] = [
        Self::GuideInlet,
        Self::GuideExhaust,
        Self::ValveMargin,
        Self::CoilBind,
        Self::Bearing,
        Self::EndFloat,
        Self::RodSide,
        Self::TopRingGap,
        Self::SecondRingGap,
        Self::PistonCast,
        Self::PistonForged,
        Self::Liner,
        Self::PistonToHead,
    ];

    fn row(self) -> (&'static str, &'static str, &'static str) {
        NAMES.iter().find(|(kind, ..)| *kind == self).map_or(
            ("clearance", "clearance", "Clearance"),
            |&(_, key, noun, title)| (key, noun, title),
        )
    }

    /// The name to ask for it by.
    #[must_use]
    pub fn key(self) -> &'static str {
        self.row().0
    }

    /// The noun of its sentence.
    #[must_use]
    pub fn noun(self) -> &'static str {
        self.row().1
    }

    /// The title of its answer.
    #[must_use]
    pub fn title(self) -> &'static str {
        self.row().2
    }

    /// Finds a kind by its name.
    #[must_use]
    pub fn find(key: &str) -> Option<Self> {
        NAMES
            .iter()
            .find(|(_, name, ..)| name.eq_ignore_ascii_case(key.trim()))
            .map(|&(kind, ..)| kind)
    }

    /// The size its rule goes by, as asked for.
    pub(super) const fn needs(self) -> &'static str {
        match self {
            Self::Bearing => "diameter of the journal",
            Self::TopRingGap | Self::SecondRingGap => "diameter of the bore",
            _ => "the maker's limit",
        }
    }

    /// How it is measured without fooling oneself.
    pub(super) const fn how(self) -> Option<&'static str> {
        match self {
            Self::GuideInlet | Self::GuideExhaust => Some(
                "a dial's rock reading is made larger by leverage: compare sizes of stem and guide, or the maker's rock figure at its height",
            ),
            Self::Bearing => Some(
                "plastic thread: dry parts, the maker's full torque, the shaft never turned, the widest place read; u about 0.004 mm",
            ),
            Self::TopRingGap | Self::SecondRingGap => Some(
                "push the ring square with a piston and measure at the bottom of a worn bore, where it is tightest",
            ),
            Self::PistonCast | Self::PistonForged => Some(
                "measure the skirt at the maker's height, across the pin, and the bore in the same direction",
            ),
            _ => None,
        }
    }

    /// The trade's limit; none where it goes by a size that was not given.
    pub(super) fn usual(self, of: Option<Length>) -> Result<Option<Limit<Length>>, Unanswerable> {
        let mm = |low: f64, high: f64| -> Result<Option<Limit<Length>>, Unanswerable> {
            Ok(Some(Limit::between(Range {
                low: Length::mm(low)?,
                high: Length::mm(high)?,
            })))
        };
        let limit = match self {
            Self::GuideInlet => mm(0.025, 0.075)?,
            Self::GuideExhaust => mm(0.035, 0.100)?,
            Self::ValveMargin => Some(Limit::least(Length::mm(0.8)?)),
            Self::CoilBind => Some(Limit::least(Length::mm(1.0)?)),
            Self::EndFloat => mm(0.05, 0.30)?,
            Self::RodSide => mm(0.10, 0.40)?,
            Self::PistonCast => mm(0.025, 0.065)?,
            Self::PistonForged => mm(0.065, 0.115)?,
            Self::Liner => Some(Limit::least(Length::inches(0.002)?)),
            Self::PistonToHead => Some(Limit::least(Length::inches(0.040)?)),
            Self::Bearing => match of {
                Some(journal) => Some(Limit::between(bearing(journal)?.1)),
                None => None,
            },
            Self::TopRingGap => least_gap(of, 0.0040)?,
            Self::SecondRingGap => least_gap(of, 0.0050)?,
        };
        Ok(limit.map(|limit| {
            let limit = limit.by_default(Whose::CommonPractice, self.rule());
            match self.written_in() {
                Some(unit) => limit.stated_in(unit),
                None => limit,
            }
        }))
    }

    /// How far places may differ, where the trade says so.
    pub(super) fn usual_spread(self) -> Result<Option<Limit<Length>>, Unanswerable> {
        if self != Self::Liner {
            return Ok(None);
        }
        let limit = Limit::most(Length::inches(0.001)?);
        Ok(Some(
            limit
                .by_default(Whose::CommonPractice, "liners beside each other")
                .stated_in(unit::INCH_UNIT),
        ))
    }

    /// The unit the trade writes the rule in; none where it is a share of a size.
    const fn written_in(self) -> Option<Unit> {
        match self {
            Self::Liner | Self::PistonToHead => Some(unit::INCH_UNIT),
            Self::Bearing | Self::TopRingGap | Self::SecondRingGap => None,
            Self::GuideInlet
            | Self::GuideExhaust
            | Self::ValveMargin
            | Self::CoilBind
            | Self::EndFloat
            | Self::RodSide
            | Self::PistonCast
            | Self::PistonForged => Some(unit::MILLIMETRE),
        }
    }

    const fn rule(self) -> &'static str {
        match self {
            Self::GuideInlet | Self::GuideExhaust => "stem in guide, cars",
            Self::ValveMargin => "edge of a valve; many want 1.0 mm",
            Self::CoilBind => "before the coils touch; many want 1.5 mm",
            Self::Bearing => "a thousandth of the journal, half a thou either way",
            Self::EndFloat => "end float of a shaft",
            Self::RodSide => "side play of a rod",
            Self::TopRingGap => "top ring 0.004 in per inch of bore, street",
            Self::SecondRingGap => "second ring 0.005 in per inch of bore",
            Self::PistonCast => "cast pistons of about 100 mm",
            Self::PistonForged => "forged pistons of about 100 mm",
            Self::Liner => "liners over the deck",
            Self::PistonToHead => "steel rods",
        }
    }
}

fn least_gap(bore: Option<Length>, factor: f64) -> Result<Option<Limit<Length>>, Unanswerable> {
    let Some(bore) = bore else { return Ok(None) };
    Ok(Some(Limit::least(ring_gap(
        bore,
        Ratio::fraction(factor)?,
    )?)))
}
