//! What was seen, what could explain it, and what each test can and cannot see.
//!
//! All of it is *common practice, no source*, kept as plain tables so that it can be read and
//! argued with.

/// Something seen, measured or heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Seen {
    /// One cylinder low.
    OneLow,
    /// Neighbours low.
    NeighboursLow,
    /// All low and even.
    AllLowEven,
    /// All even.
    EvenCompression,
    /// Oil closed the gap.
    WetGain,
    /// Oil left the gap open.
    NoWetGain,
    /// Leak-down air at the intake.
    HissIntake,
    /// Leak-down air at the exhaust.
    HissExhaust,
    /// Leak-down air at the oil filler.
    HissOil,
    /// Leak-down air in the coolant.
    Bubbles,
    /// Leak-down found little.
    NoLeak,
    /// Coolant goes without a puddle.
    CoolantLoss,
    /// Misfires for the first minute.
    MisfireCold,
    /// White sweet smoke that stays.
    WhiteSmoke,
    /// Milky oil.
    MilkyOil,
    /// Gas test turned.
    GasFound,
    /// Gas test stayed, repeated.
    NoGas,
    /// It overheated.
    Overheated,
}

/// What could explain it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// Rings or bore.
    Rings,
    /// An intake valve.
    IntakeValve,
    /// An exhaust valve.
    ExhaustValve,
    /// The gasket between two cylinders.
    GasketBetween,
    /// The gasket into the water.
    GasketWater,
    /// A crack into the water.
    Crack,
    /// Cam timing.
    CamTiming,
    /// Filling: cam lobe, follower, blocked way.
    Filling,
}

/// A test that can be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Test {
    /// Timing marks over two hand turns.
    Marks,
    /// Wet cranking test.
    Wet,
    /// Leak-down with the place of the hiss.
    Leakdown,
    /// Combustion gas in the coolant.
    Gas,
    /// Cold pressure overnight.
    ColdPressure,
    /// Valve lift compared.
    Lift,
    /// Light and camera down the plug hole.
    Borescope,
}

impl Seen {
    /// Every observation.
    pub const ALL: [Self; 18] = [
        Self::OneLow,
        Self::NeighboursLow,
        Self::AllLowEven,
        Self::EvenCompression,
        Self::WetGain,
        Self::NoWetGain,
        Self::HissIntake,
        Self::HissExhaust,
        Self::HissOil,
        Self::Bubbles,
        Self::NoLeak,
        Self::CoolantLoss,
        Self::MisfireCold,
        Self::WhiteSmoke,
        Self::MilkyOil,
        Self::GasFound,
        Self::NoGas,
        Self::Overheated,
    ];

    /// The name to give it by.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::OneLow => "one-low",
            Self::NeighboursLow => "neighbours-low",
            Self::AllLowEven => "all-low-even",
            Self::EvenCompression => "even-compression",
            Self::WetGain => "wet-gain",
            Self::NoWetGain => "no-wet-gain",
            Self::HissIntake => "hiss-intake",
            Self::HissExhaust => "hiss-exhaust",
            Self::HissOil => "hiss-oil",
            Self::Bubbles => "bubbles",
            Self::NoLeak => "no-leak",
            Self::CoolantLoss => "coolant-loss",
            Self::MisfireCold => "misfire-cold",
            Self::WhiteSmoke => "white-smoke",
            Self::MilkyOil => "milky-oil",
            Self::GasFound => "gas-found",
            Self::NoGas => "no-gas",
            Self::Overheated => "overheated",
        }
    }

    /// Finds an observation by its name.
    #[must_use]
    pub fn find(key: &str) -> Option<Self> {
        let folded = key.trim().to_lowercase().replace(' ', "-");
        Self::ALL.into_iter().find(|seen| seen.key() == folded)
    }

    /// The causes it speaks for and against.
    const fn evidence(self) -> (&'static [Cause], &'static [Cause]) {
        use Cause::{
            CamTiming, Crack, ExhaustValve, Filling, GasketBetween, GasketWater, IntakeValve, Rings,
        };
        match self {
            Self::OneLow => (
                &[
                    Rings,
                    IntakeValve,
                    ExhaustValve,
                    GasketWater,
                    Crack,
                    Filling,
                ],
                &[GasketBetween, CamTiming],
            ),
            Self::NeighboursLow => (
                &[GasketBetween, Rings, IntakeValve, ExhaustValve],
                &[CamTiming],
            ),
            Self::AllLowEven => (&[CamTiming, Rings], &[GasketBetween, GasketWater, Crack]),
            // Even readings speak against uneven causes only; gasket and crack into the water
            // leak too little for a moving piston to show.
            Self::EvenCompression => (&[], &[GasketBetween]),
            Self::WetGain => (&[Rings], &[IntakeValve, ExhaustValve, GasketBetween]),
            Self::NoWetGain => (
                &[IntakeValve, ExhaustValve, GasketBetween, GasketWater, Crack],
                &[Rings],
            ),
            Self::HissIntake => (&[IntakeValve], &[]),
            Self::HissExhaust => (&[ExhaustValve], &[]),
            Self::HissOil => (&[Rings], &[]),
            Self::Bubbles | Self::GasFound => (&[GasketWater, Crack], &[]),
            Self::NoLeak => (
                &[Filling, CamTiming],
                &[Rings, IntakeValve, ExhaustValve, GasketBetween],
            ),
            Self::CoolantLoss
            | Self::MisfireCold
            | Self::WhiteSmoke
            | Self::MilkyOil
            | Self::Overheated => (&[GasketWater, Crack], &[]),
            Self::NoGas => (&[], &[GasketWater, Crack]),
        }
    }

    /// Whether it speaks for a cause.
    #[must_use]
    pub fn speaks_for(self, cause: Cause) -> bool {
        self.evidence().0.contains(&cause)
    }

    /// Whether it speaks against a cause.
    #[must_use]
    pub fn speaks_against(self, cause: Cause) -> bool {
        self.evidence().1.contains(&cause)
    }

    /// The test that gave it, which need not be named again.
    #[must_use]
    pub const fn made(self) -> Option<Test> {
        match self {
            Self::WetGain | Self::NoWetGain => Some(Test::Wet),
            Self::HissIntake | Self::HissExhaust | Self::HissOil | Self::Bubbles | Self::NoLeak => {
                Some(Test::Leakdown)
            }
            Self::GasFound | Self::NoGas => Some(Test::Gas),
            Self::OneLow
            | Self::NeighboursLow
            | Self::AllLowEven
            | Self::EvenCompression
            | Self::CoolantLoss
            | Self::MisfireCold
            | Self::WhiteSmoke
            | Self::MilkyOil
            | Self::Overheated => None,
        }
    }
}

impl Cause {
    /// Every cause.
    pub const ALL: [Self; 8] = [
        Self::Rings,
        Self::IntakeValve,
        Self::ExhaustValve,
        Self::GasketBetween,
        Self::GasketWater,
        Self::Crack,
        Self::CamTiming,
        Self::Filling,
    ];

    /// The cause in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Rings => "rings or bore",
            Self::IntakeValve => "an intake valve",
            Self::ExhaustValve => "an exhaust valve",
            Self::GasketBetween => "gasket between two cylinders",
            Self::GasketWater => "gasket into the water",
            Self::Crack => "crack into the water",
            Self::CamTiming => "cam timing",
            Self::Filling => "filling: lobe, follower, blocked way",
        }
    }

    /// Whether it can only be in an engine with valves.
    #[must_use]
    pub const fn needs_valves(self) -> bool {
        matches!(
            self,
            Self::IntakeValve | Self::ExhaustValve | Self::CamTiming | Self::Filling
        )
    }
}

impl Test {
    /// Every test, cheapest first.
    pub const ALL: [Self; 7] = [
        Self::Marks,
        Self::Wet,
        Self::ColdPressure,
        Self::Gas,
        Self::Leakdown,
        Self::Borescope,
        Self::Lift,
    ];

    pub(super) fn order(self) -> usize {
        Self::ALL
            .iter()
            .position(|test| *test == self)
            .unwrap_or(Self::ALL.len())
    }

    /// The test in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Marks => "timing marks over two hand turns",
            Self::Wet => "wet cranking test",
            Self::Leakdown => "leak-down, with the place of the hiss",
            Self::Gas => "combustion gas in the coolant",
            Self::ColdPressure => "cold pressure overnight",
            Self::Lift => "valve lift compared",
            Self::Borescope => "light or camera down the plug hole",
        }
    }

    /// How it is made.
    #[must_use]
    pub const fn how(self) -> &'static str {
        match self {
            Self::Marks => {
                "plugs out, turn two crank turns by hand in running direction, compare all marks"
            }
            Self::Wet => "3 to 5 cm³ of oil in the low cylinder and in a sound one, crank both",
            Self::Leakdown => "each piston at compression top, crank held, listen at five places",
            Self::Gas => "warm, about 2000 rpm, fresh fluid, no coolant in the tube, twice",
            Self::ColdPressure => {
                "to the cap's rating and no more, overnight; plugs out, look into each bore, turn by hand"
            }
            Self::Lift => "dial gauge on each follower or valve, cylinder against cylinder",
            Self::Borescope => "look for washed-clean crowns, scored bores, wet edges",
        }
    }

    /// What it cannot see.
    #[must_use]
    pub const fn blind_to(self, two_stroke: bool) -> &'static str {
        match (self, two_stroke) {
            (Self::Marks, _) => "it does not see rings, seats, gasket or cracks",
            (Self::Wet, false) => {
                "it does not part valve, gasket and crack; in tilted banks oil misses part of the ring"
            }
            (Self::Wet, true) => {
                "it does not part gasket and crack; in tilted banks oil misses part of the ring"
            }
            (Self::Leakdown, false) => {
                "it does not see lift or timing; dirt on a seat looks like a bad valve, so repeat"
            }
            (Self::Leakdown, true) => {
                "a piston that is not above its ports looks like bad rings, so repeat"
            }
            (Self::Gas, _) => "it misses a leak that opens only cold or only under load",
            (Self::ColdPressure, _) => "it misses a leak that opens only hot",
            (Self::Lift, _) => "it does not see anything that leaks",
            (Self::Borescope, _) => "it sees surfaces, not whether they seal",
        }
    }

    /// What it would show if this cause were the one; `None` where it shows nothing. Causes
    /// with unlike outcomes are parted by it.
    #[must_use]
    pub const fn outcome(self, cause: Cause) -> Option<&'static str> {
        match (self, cause) {
            (Self::Marks, Cause::CamTiming) => Some("the marks do not agree"),
            (Self::Wet, Cause::Rings) => Some("oil closes the gap"),
            (Self::Leakdown, Cause::Rings) => Some("air at the oil filler"),
            (Self::Leakdown, Cause::IntakeValve) => Some("air at the throttle"),
            (Self::Leakdown, Cause::ExhaustValve) => Some("air at the tailpipe"),
            (Self::Leakdown, Cause::GasketBetween) => Some("air at the neighbour's plug hole"),
            (Self::Leakdown, Cause::GasketWater | Cause::Crack) => Some("bubbles in the coolant"),
            (Self::Gas, Cause::GasketWater | Cause::Crack) => Some("the fluid turns"),
            (Self::ColdPressure, Cause::GasketWater | Cause::Crack) => {
                Some("the pressure falls, or a bore is wet")
            }
            (Self::Lift, Cause::Filling) => Some("one lift is short"),
            (Self::Borescope, Cause::Rings) => Some("a scored bore"),
            (Self::Borescope, Cause::ExhaustValve) => Some("a burnt edge"),
            (Self::Borescope, Cause::GasketWater | Cause::Crack) => {
                Some("a crown washed clean, a wet edge")
            }
            _ => None,
        }
    }

    /// Whether it can find a cause.
    #[must_use]
    pub const fn sees(self, cause: Cause) -> bool {
        self.outcome(cause).is_some()
    }

    /// Whether it is of use only in an engine with valves.
    #[must_use]
    pub const fn needs_valves(self) -> bool {
        matches!(self, Self::Marks | Self::Lift)
    }
}
