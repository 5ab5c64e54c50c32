//! The reasons for which a plan is refused, each with its stable name.

/// Why a step, or the plan as a whole, is refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reason {
    /// The book has no such thing.
    UnknownId,
    /// The book has it, but not for the variants this vehicle has.
    NotOnThisVehicle,
    /// The act is not done to such a thing.
    WrongTarget,
    /// A step that was done already.
    DoneTwice,
    /// Taking off in the way back, or putting on in the way off.
    WrongLeg,
    /// A part that never comes off in this book.
    FixedPart,
    /// Taken off while it is off.
    AlreadyOff,
    /// Put on while it is on.
    NotOff,
    /// Something that must be off is still on.
    BlockedPart,
    /// Of several ways to a part, none is wholly open.
    NoWayOpen,
    /// Fasteners that hold it are still in.
    FastenersIn,
    /// A part fastened onto it is still on.
    MountedPart,
    /// An end on it is still on.
    EndOn,
    /// A circuit would run out.
    WetCircuit,
    /// What the plan says leaves in one piece does not.
    ComesWith,
    /// What it sits on is off.
    SeatOff,
    /// It closes the way of something that still has to go in.
    WayClosed,
    /// A joint undone while it is undone.
    AlreadyUndone,
    /// A joint done up while it is done up.
    AlreadyDoneUp,
    /// A joint done up while one of its parts is off.
    JointWithoutPart,
    /// An end put on a part that is off.
    EndWithoutPart,
    /// A joint done up before the end that its bolt holds is there.
    EndNotHeld,
    /// A circuit drained while it is drained.
    AlreadyDrained,
    /// A circuit filled while it is full.
    NotDrained,
    /// A circuit filled while it is open somewhere.
    CircuitOpen,
    /// An order the book asks for is not kept.
    RuleBroken,
    /// A gate passed while one of its conditions does not hold.
    GateEarly,
    /// An act done before the gate that guards it.
    GateMissed,
    /// Gates passed in the wrong order.
    GateOrder,
    /// A check that cannot be done: something hides it.
    CheckHidden,
    /// A check that was due is not done.
    CheckLate,
    /// Fasteners that serve once are spent before a check that could undo the work.
    OneUseSpent,
    /// A temporary item put in while it is in.
    AlreadyIn,
    /// A temporary item taken out while it is out.
    NotIn,
    /// A temporary item is still in.
    TemporaryLeftIn,
    /// A temporary item should be in by now.
    TemporaryMissing,
    /// The engine would be turned while something forbids it.
    MustNotTurn,
    /// Other hands than the book says.
    WrongHands,
    /// The hoist is wanted where the book says no, or the other way round.
    WrongHoist,
    /// A time below nothing.
    NegativeTime,
    /// The likely time is not between the low and the high one.
    TimesOutOfOrder,
    /// A total below the bound it is said to have.
    BoundOverValue,
    /// A step waits for one that is not in the plan.
    ReasonWithoutStep,
    /// A step stands before one it waits for.
    OutOfOrder,
    /// The way the plan says it takes was not open.
    WayNotTaken,
    /// A part is still off at the end of the way back.
    LeftOff,
    /// A joint is still open at the end of the way back.
    JointLeftOpen,
    /// An end is still off at the end of the way back.
    EndLeftOff,
    /// A circuit is still drained at the end of the way back.
    NotFilled,
    /// The walking and tool changing it says is not what its order takes.
    WalkingWrong,
    /// A step that no day of the calendar holds.
    NotDated,
    /// A step at a time when its person is not there.
    OutsideHours,
    /// One person at two steps at the same moment.
    TwoPlaces,
    /// Less time than the step takes these people.
    TooShort,
    /// More steps at one moment than there are tools of a kind.
    ToolInTwoHands,
    /// Fluid or pressure before the sealant has cured.
    NotCured,
    /// A step that needs what is not here yet.
    NotHere,
    /// A part away at a shop before it came off.
    AwayWhileOn,
    /// Finished before the last step is done and cured.
    FinishEarly,
}

macro_rules! names {
    ($($reason:ident $name:literal,)*) => {
        impl Reason {
            /// Every reason, in the order of this file.
            pub const ALL: &'static [Self] = &[$(Self::$reason,)*];

            /// Its stable name: words joined by hyphens.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self {
                    $(Self::$reason => $name,)*
                }
            }
        }
    };
}

names! {
    UnknownId "unknown-id",
    NotOnThisVehicle "not-on-this-vehicle",
    WrongTarget "wrong-target",
    DoneTwice "done-twice",
    WrongLeg "wrong-leg",
    FixedPart "fixed-part",
    AlreadyOff "already-off",
    NotOff "not-off",
    BlockedPart "blocked-part",
    NoWayOpen "no-way-open",
    FastenersIn "fasteners-in",
    MountedPart "mounted-part",
    EndOn "end-on",
    WetCircuit "wet-circuit",
    ComesWith "comes-with",
    SeatOff "seat-off",
    WayClosed "way-closed",
    AlreadyUndone "already-undone",
    AlreadyDoneUp "already-done-up",
    JointWithoutPart "joint-without-part",
    EndWithoutPart "end-without-part",
    EndNotHeld "end-not-held",
    AlreadyDrained "already-drained",
    NotDrained "not-drained",
    CircuitOpen "circuit-open",
    RuleBroken "rule-broken",
    GateEarly "gate-early",
    GateMissed "gate-missed",
    GateOrder "gate-order",
    CheckHidden "check-hidden",
    CheckLate "check-late",
    OneUseSpent "one-use-spent",
    AlreadyIn "already-in",
    NotIn "not-in",
    TemporaryLeftIn "temporary-left-in",
    TemporaryMissing "temporary-missing",
    MustNotTurn "must-not-turn",
    WrongHands "wrong-hands",
    WrongHoist "wrong-hoist",
    NegativeTime "negative-time",
    TimesOutOfOrder "times-out-of-order",
    BoundOverValue "bound-over-value",
    ReasonWithoutStep "reason-without-step",
    OutOfOrder "out-of-order",
    WayNotTaken "way-not-taken",
    LeftOff "left-off",
    JointLeftOpen "joint-left-open",
    EndLeftOff "end-left-off",
    NotFilled "not-filled",
    WalkingWrong "walking-wrong",
    NotDated "not-dated",
    OutsideHours "outside-hours",
    TwoPlaces "two-places",
    TooShort "too-short",
    ToolInTwoHands "tool-in-two-hands",
    NotCured "not-cured",
    NotHere "not-here",
    AwayWhileOn "away-while-on",
    FinishEarly "finish-early",
}
