//! Ids: the first word of a node. A joint cannot be looked up with the id of a part.

use std::fmt;

macro_rules! ids {
    ($( $(#[$doc:meta])* $name:ident; )*) => { $(
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(String);

        impl $name {
            /// The id with this text.
            #[must_use]
            pub fn new(text: impl Into<String>) -> Self {
                Self(text.into())
            }

            /// The text of the id.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                Self(text.to_owned())
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.0)
            }
        }
    )* };
}

ids! {
    /// Names a part, everywhere in the book.
    PartId;
    /// Names a joint, everywhere in the book.
    JointId;
    /// Names a hole of one joint.
    HoleName;
    /// Names a port or terminal of one part.
    PortName;
    /// Names a hose, pipe, lead, cable, connector or ground.
    LineId;
    /// Names a circuit.
    CircuitId;
    /// Names a limit, and the reading that is judged by it.
    LimitId;
    /// Names a check.
    CheckId;
    /// Names something put in for a while.
    TemporaryId;
    /// Names a rule.
    RuleId;
    /// Names a gate.
    GateId;
    /// Names a variant, such as `throttle`.
    VariantId;
    /// Names a zone, such as `above`.
    ZoneId;
    /// Names a shaft that turns: the crank, a cam.
    ShaftId;
    /// Names a person of the shop.
    PersonId;
    /// Names a wrench, gauge, hoist or other single tool of the shop.
    ToolId;
    /// Names a bag, tray, box or shelf of the shop.
    PlaceId;
}

/// A port of a part, written `part.port`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PortRef {
    /// The part it sits on.
    pub part: PartId,
    /// Its name there.
    pub port: PortName,
}

impl fmt::Display for PortRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.part, self.port)
    }
}

/// A hole of a joint, written `joint.hole`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HoleRef {
    /// The joint it belongs to.
    pub joint: JointId,
    /// Its name there.
    pub hole: HoleName,
}

impl fmt::Display for HoleRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.joint, self.hole)
    }
}

/// Anything a book names, of whatever noun.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ref {
    /// A part.
    Part(PartId),
    /// A joint.
    Joint(JointId),
    /// One hole of a joint.
    Hole(HoleRef),
    /// A hose, pipe, lead, cable, connector or ground.
    Line(LineId),
    /// A port of a part; as a target of work it is the end that sits on it.
    Port(PortRef),
    /// A circuit.
    Circuit(CircuitId),
    /// A limit.
    Limit(LimitId),
    /// A check.
    Check(CheckId),
    /// Something put in for a while.
    Temporary(TemporaryId),
    /// A gate.
    Gate(GateId),
    /// A shaft.
    Shaft(ShaftId),
}

impl Ref {
    /// The noun, as a sentence reads it: "a part".
    #[must_use]
    pub const fn noun(&self) -> &'static str {
        match self {
            Self::Part(_) => "a part",
            Self::Joint(_) => "a joint",
            Self::Hole(_) => "a hole",
            Self::Line(_) => "a hose or lead",
            Self::Port(_) => "a port",
            Self::Circuit(_) => "a circuit",
            Self::Limit(_) => "a limit",
            Self::Check(_) => "a check",
            Self::Temporary(_) => "a temporary item",
            Self::Gate(_) => "a gate",
            Self::Shaft(_) => "a shaft",
        }
    }
}

impl fmt::Display for Ref {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Part(id) => id.fmt(f),
            Self::Joint(id) => id.fmt(f),
            Self::Hole(id) => id.fmt(f),
            Self::Line(id) => id.fmt(f),
            Self::Port(id) => id.fmt(f),
            Self::Circuit(id) => id.fmt(f),
            Self::Limit(id) => id.fmt(f),
            Self::Check(id) => id.fmt(f),
            Self::Temporary(id) => id.fmt(f),
            Self::Gate(id) => id.fmt(f),
            Self::Shaft(id) => id.fmt(f),
        }
    }
}
