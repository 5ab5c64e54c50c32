//! Made-up jobs of the size of an engine. Drawn from a seed, the same every time.

use planning::order;

/// Orders.
pub fn orders() -> Vec<(String, order::Problem, Option<u64>)> {
    Vec::new()
}
