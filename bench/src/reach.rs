//! tbd
use anyhow::Result;
use crate::Run;
/// tbd
pub fn bench(_run: &Run) -> Result<()> { Ok(()) }
