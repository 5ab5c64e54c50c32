//! being built
