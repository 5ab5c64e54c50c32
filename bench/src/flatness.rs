//! Minimum zone of a scanned face, against a plain least-squares plane of the same points and
//! against a general linear programme on as many points as that can bear.

use calc::flatness::{Point, flatness};
use calc::uncertainty::Draws;
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use quantity::Length;

use crate::clock::Watch;

/// Points the general programme is given.
const PEER_POINTS: usize = 2_000;

/// A result with the seconds it took.
fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let watch = Watch::start();
    let result = work();
    (result, watch.seconds())
}

/// Times a made-up face: bowed, twisted and rough.
pub fn bench(count: usize, seed: u64) -> anyhow::Result<()> {
    let points = face(count, seed)?;
    let (seen, zone_seconds) = timed(|| flatness(&points));
    let seen = seen?;
    let (squares, squares_seconds) = timed(|| least_squares_um(&points));
    println!(
        "{count} points: minimum zone {:.4} µm in {zone_seconds:.3} s",
        seen.minimum_zone.in_micrometres()
    );
    println!("  least-squares plane of the same points: {squares:.4} µm in {squares_seconds:.3} s");
    let few = face(PEER_POINTS, seed)?;
    let (ours, ours_seconds) = timed(|| flatness(&few));
    let (peer, peer_seconds) = timed(|| by_programme_um(&few));
    let (ours, peer) = (ours?.vertical.in_micrometres(), peer?);
    println!(
        "{PEER_POINTS} points: {ours:.6} µm in {ours_seconds:.6} s; general programme {peer:.6} µm in {peer_seconds:.3} s"
    );
    anyhow::ensure!(
        (ours - peer).abs() < 1e-3,
        "the two methods differ: {ours} and {peer}"
    );
    println!(
        "flatness: {zone_seconds:.3} s for {count} points, {:.1} times a least-squares plane; {:.0} times faster than the general programme",
        zone_seconds / squares_seconds,
        peer_seconds / ours_seconds
    );
    Ok(())
}

fn face(count: usize, seed: u64) -> anyhow::Result<Vec<Point>> {
    let mut draws = Draws::from_seed(seed);
    (0..count)
        .map(|_| {
            let (u, v) = (draws.between(-1.0, 1.0), draws.between(-1.0, 1.0));
            let z = 0.03 * u * u + 0.02 * u * v + 0.002 * draws.normal() + 0.1 * u;
            Ok(Point {
                x: Length::mm(210.0 * u)?,
                y: Length::mm(75.0 * v)?,
                z: Length::mm(z)?,
            })
        })
        .collect()
}

/// Peak to valley about the least-squares plane, the plain way.
fn least_squares_um(points: &[Point]) -> f64 {
    let rows = || {
        points.iter().map(|point| {
            [
                point.x.in_mm() / 210.0,
                point.y.in_mm() / 75.0,
                point.z.in_micrometres(),
            ]
        })
    };
    let mut sums = [0.0; 8];
    let mut count = 0.0;
    for [u, v, z] in rows() {
        count += 1.0;
        for (sum, value) in sums
            .iter_mut()
            .zip([u, v, z, u * u, u * v, v * v, u * z, v * z])
        {
            *sum += value;
        }
    }
    let [mu, mv, mz] = [sums[0] / count, sums[1] / count, sums[2] / count];
    let [uu, uv, vv] = [
        sums[3] - count * mu * mu,
        sums[4] - count * mu * mv,
        sums[5] - count * mv * mv,
    ];
    let [uz, vz] = [sums[6] - count * mu * mz, sums[7] - count * mv * mz];
    let spread = uu * vv - uv * uv;
    let (a, b) = ((uz * vv - vz * uv) / spread, (vz * uu - uz * uv) / spread);
    let (low, high) = rows()
        .map(|[u, v, z]| z - a * u - b * v)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), off| {
            (low.min(off), high.max(off))
        });
    high - low
}

/// The zone straight up, by a general linear programme with two rows a point.
fn by_programme_um(points: &[Point]) -> anyhow::Result<f64> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let free = (f64::NEG_INFINITY, f64::INFINITY);
    let form = [
        problem.add_var(0.0, free),
        problem.add_var(0.0, free),
        problem.add_var(0.0, free),
    ];
    let half = problem.add_var(1.0, (0.0, f64::INFINITY));
    for point in points {
        let columns = [point.x.in_mm() / 210.0, point.y.in_mm() / 75.0, 1.0];
        for sign in [1.0, -1.0] {
            let mut terms: Vec<_> = form
                .iter()
                .zip(columns)
                .map(|(&number, column)| (number, sign * column))
                .collect();
            terms.push((half, 1.0));
            problem.add_constraint(terms, ComparisonOp::Ge, sign * point.z.in_micrometres());
        }
    }
    match problem.solve()? {
        SolveOutcome::Solution(found) => Ok(2.0 * found.objective()),
        SolveOutcome::Interrupted(_) => anyhow::bail!("the general programme was interrupted"),
    }
}
