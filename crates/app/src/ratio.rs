//! Compression ratio: option text into a question for the judge.

use calc::ratio::Cylinder;
use judge::ratio::{Asked as Question, Mouth, judge};
use quantity::{Area, Length, Ratio, Volume, plausible};
use report::Report;

use crate::option::Options;

const COMMAND: &str = "ratio";
const TITLE: &str = "Compression ratio";

/// The options as they were typed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Bore.
    pub bore: String,
    /// Stroke.
    pub stroke: String,
    /// Chamber in the head; several pourings with the unit once at the end.
    pub chamber: String,
    /// Bore of the gasket.
    pub gasket_bore: String,
    /// Tightened thickness of the gasket.
    pub gasket: String,
    /// Piston below the deck; below zero when proud.
    pub deck: Option<String>,
    /// Hollow in the piston.
    pub dish: Option<String>,
    /// Rise of the piston.
    pub dome: Option<String>,
    /// Valve pockets.
    pub relief: Option<String>,
    /// Gap round the piston above the top ring.
    pub crevice: Option<String>,
    /// Metal off the head.
    pub cut: Option<String>,
    /// Mouth of the chamber.
    pub chamber_area: Option<String>,
    /// The chamber poured with the plate on a ring.
    pub raised: Option<String>,
    /// Height of that ring.
    pub ring: Option<String>,
    /// Edge of the mouth, all the way round.
    pub perimeter: Option<String>,
    /// A ratio to reach.
    pub target: Option<String>,
}

/// Works out the ratio.
#[must_use]
pub fn ratio(asked: &Asked) -> Report {
    let mut options = Options::of(COMMAND);
    match question(asked, &mut options) {
        Some(question) if options.clean() => judge(&question),
        _ => options.refusal(TITLE),
    }
}

fn question(asked: &Asked, options: &mut Options) -> Option<Question> {
    let bore = options.likely::<Length>("--bore", &asked.bore, &plausible::BORE);
    let stroke = options.likely::<Length>("--stroke", &asked.stroke, &plausible::STROKE);
    let chamber = options.list::<Volume>("--chamber", &asked.chamber);
    let gasket_bore =
        options.likely::<Length>("--gasket-bore", &asked.gasket_bore, &plausible::BORE);
    let gasket = options.likely::<Length>("--gasket", &asked.gasket, &plausible::GASKET_THICKNESS);
    let deck = options.maybe::<Length>("--deck", asked.deck.as_deref());
    let mut volume = |name, text: &Option<String>| {
        options
            .maybe::<Volume>(name, text.as_deref())
            .map(|said| said.value)
    };
    let dish = volume("--dish", &asked.dish);
    let dome = volume("--dome", &asked.dome);
    let relief = volume("--relief", &asked.relief);
    let crevice = volume("--crevice", &asked.crevice);
    let cut = options.maybe::<Length>("--cut", asked.cut.as_deref());
    let mouth = mouth(asked, options);
    let target = options.maybe_likely::<Ratio>(
        "--target",
        asked.target.as_deref(),
        &plausible::COMPRESSION_RATIO,
    );
    let none = Volume::cc(0.0).ok()?;
    let mut pourings = chamber?.value.into_iter().flatten();
    let Some(first) = pourings.next() else {
        options.fault(
            "--chamber",
            "no pouring was read",
            "give what went in, as in --chamber \"45 cc\" or --chamber \"44.8 45.1 cc\"",
        );
        return None;
    };
    Some(Question {
        cylinder: Cylinder {
            bore: bore?.value,
            stroke: stroke?.value,
            chamber: first,
            gasket_bore: gasket_bore?.value,
            gasket: gasket?.value,
            deck: deck.map_or_else(|| Length::mm(0.0).ok(), |said| Some(said.value))?,
            dish: dish.unwrap_or(none),
            dome: dome.unwrap_or(none),
            relief: relief.unwrap_or(none),
            crevice: crevice.unwrap_or(none),
        },
        poured_again: pourings.collect(),
        crevice_given: asked.crevice.is_some(),
        cut: cut.map(|said| said.value),
        mouth,
        target: target.map(|said| said.value),
    })
}

/// The mouth by one of three ways.
fn mouth(asked: &Asked, options: &mut Options) -> Option<Mouth> {
    let area = options.maybe::<Area>("--chamber-area", asked.chamber_area.as_deref());
    let raised = options.maybe::<Volume>("--raised", asked.raised.as_deref());
    let ring = options.maybe::<Length>("--ring", asked.ring.as_deref());
    let round = options.maybe::<Length>("--perimeter", asked.perimeter.as_deref());
    if asked.raised.is_some() != asked.ring.is_some() {
        options.fault(
            "--raised",
            "a second pouring needs the height of its ring, and a ring the pouring",
            "give both, as in --raised \"54.8 cc\" --ring \"2 mm\"",
        );
    }
    let ways = [&asked.chamber_area, &asked.raised, &asked.perimeter];
    if ways.iter().filter(|way| way.is_some()).count() > 1 {
        options.fault(
            "--chamber-area",
            "the mouth is given in more than one way",
            "give the best of them: traced, then poured, then its edge",
        );
    }
    let raised = raised.zip(ring).map(|(volume, ring)| Mouth::Raised {
        volume: volume.value,
        ring: ring.value,
    });
    area.map(|said| Mouth::Traced(said.value))
        .or(raised)
        .or(round.map(|said| Mouth::Perimeter(said.value)))
}
