//! The sorts of things that can be outstanding: their words, codes and what to do.

/// What sort of thing is outstanding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Lost and not found.
    Lost,
    /// Broken off, its stump in the hole.
    Broken,
    /// Put in for a while and not taken out.
    PutIn,
    /// A part or joint off or open.
    Off,
    /// An end of a hose or lead off.
    EndOff,
    /// Moved aside.
    Aside,
    /// Loosened and not tightened again.
    Loosened,
    /// Came out and did not go back, though the part is on.
    LeftOver,
    /// Went in and is more than came out, or found without being lost.
    TooMany,
    /// In a hole that wants another length.
    WrongLength,
    /// In a hole that wants another strength.
    WrongStrength,
    /// In a hole with another thread.
    WrongThread,
    /// A fastener is in and the washer that belongs with it is not.
    WasherMissing,
    /// A seal that must be new and was not put in new.
    SealMissing,
    /// A one-use fastener or part that was not renewed.
    NotRenewed,
    /// Closed, but not through its last stage.
    NotTightened,
    /// A circuit that is not full.
    NotFull,
    /// Sent out and not back.
    Outside,
    /// A new part was found to differ from the old one.
    Unlike,
    /// A new part came and was not laid beside the old one.
    NotCompared,
    /// Ordered and not arrived.
    OnOrder,
}

impl Kind {
    /// The word a reader sees as the state of a row.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Lost => "lost",
            Self::Broken => "broken off",
            Self::PutIn => "put in",
            Self::Off | Self::EndOff => "off",
            Self::Aside => "moved aside",
            Self::Loosened => "loosened",
            Self::LeftOver => "left over",
            Self::TooMany => "too many",
            Self::WrongLength => "wrong length",
            Self::WrongStrength => "wrong strength",
            Self::WrongThread => "wrong thread",
            Self::WasherMissing => "washer missing",
            Self::SealMissing => "seal missing",
            Self::NotRenewed => "not renewed",
            Self::NotTightened => "not tightened",
            Self::NotFull => "not full",
            Self::Outside => "sent out",
            Self::Unlike => "unlike the old one",
            Self::NotCompared => "not compared",
            Self::OnOrder => "on order",
        }
    }

    /// The stable name of the finding.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Lost => "lost",
            Self::Broken => "broken-off",
            Self::PutIn => "put-in-not-out",
            Self::Off => "still-off",
            Self::EndOff => "end-off",
            Self::Aside => "moved-aside",
            Self::Loosened => "loosened",
            Self::LeftOver => "left-over",
            Self::TooMany => "too-many",
            Self::WrongLength => "wrong-length",
            Self::WrongStrength => "wrong-strength",
            Self::WrongThread => "wrong-thread",
            Self::WasherMissing => "washer-missing",
            Self::SealMissing => "seal-missing",
            Self::NotRenewed => "not-renewed",
            Self::NotTightened => "not-tightened",
            Self::NotFull => "not-full",
            Self::Outside => "sent-out",
            Self::Unlike => "unlike-the-old",
            Self::NotCompared => "not-compared",
            Self::OnOrder => "on-order",
        }
    }
}

impl Kind {
    /// What to do about it.
    #[must_use]
    pub const fn next(self) -> &'static str {
        match self {
            Self::Lost => "find it before anything turns; then write `found …`",
            Self::Broken => {
                "no drilling by hand; `matchmark broken` has the ways in order, then `cleared NAME hole C`"
            }
            Self::PutIn => "take it out and write `out PLACE: …`",
            Self::Off | Self::EndOff | Self::Aside => "put it back and write `on NAME`",
            Self::Loosened | Self::NotTightened => "tighten it and write `tight NAME stage …`",
            Self::LeftOver => "find the empty hole, or write what became of it",
            Self::TooMany => "find where it came from",
            Self::WrongLength => "take it out before it bottoms or strips; put the right one in",
            Self::WrongStrength => {
                "a softer one stretches at the old figure: put one of the old strength in"
            }
            Self::WrongThread => "take it out before it spoils the hole; put the right one in",
            Self::WasherMissing => {
                "put it under the head, or write `on NAME: 2 washers` if it is there"
            }
            Self::SealMissing => {
                "open the joint and put new seals in, or write `replaced …` if they are in"
            }
            Self::NotRenewed => "renew it, or write `replaced …` if it is new",
            Self::NotFull => "fill it and write `fill CIRCUIT AMOUNT`",
            Self::Outside => "fetch it and write `back NAME`",
            Self::Unlike => {
                "send it back, or find out why it may differ; then `compare NAME: same, …`"
            }
            Self::NotCompared => "lay new and old side by side and write `compare NAME: same`",
            Self::OnOrder => "write `arrived …` when it comes",
        }
    }
}
