//! calc (being built).
