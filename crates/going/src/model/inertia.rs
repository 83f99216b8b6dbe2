//! How sluggish the escape wheel is with the train behind it.

use movement::design::Movement;
use reckon::source::Source;
use reckon::{Book, Ratio, Val};
use record::facts::MovementFacts;
use shape::profile::Profile;

/// Inertia of wheels as felt at the escape arbor.
pub static INERTIA: Source = Source::derived(
    "outlines less their windows, integrated; each wheel of the train counts by the square of its speed against the escape wheel's; arbors, pinions and hands left out",
)
.with_formula("J = Σ ρ s ∫r² dA (ω/ω_escape)²");

/// How finely outlines are taken (mm).
const FINE: f64 = 0.02;

/// ∫r² dA of an outline about the origin, mm⁴.
fn polar(p: &Profile) -> f64 {
    let points = p.sampled(FINE);
    let n = points.len();
    let sum: f64 = (0..n)
        .map(|i| {
            let (a, b) = (points[i].to_vec2(), points[(i + 1) % n].to_vec2());
            a.cross(b) * (a.dot(a) + a.dot(b) + b.dot(b)) / 12.0
        })
        .sum();
    sum.abs()
}
/// Rim, arms and hub of an escape wheel crossed out by the rule of the house, less what a solid one would have.
fn crossed(root: f64, hub: f64) -> f64 {
    let rim = root - (root * 0.07).max(1.2);
    if rim <= hub + 2.0 {
        return 0.0;
    }
    let four = |r: f64| reckon::maths::PI / 2.0 * r * r * r * r;
    let arm = (root * 0.06).max(1.0);
    let cube = |r: f64| r * r * r;
    let arms = 5.0 * arm * (cube(rim) - cube(hub)) / 3.0;
    -(four(rim) - four(hub) - arms).max(0.0)
}
/// In kg m², as a number of the book.
pub(super) fn at_escape(m: &Movement, facts: &MovementFacts, book: &mut Book) -> Val<Ratio> {
    let mut sum = 0.0;
    let mut ids = Vec::new();
    let turn = |i: usize| m.train.arbors[i].turn.map(|t| t.bare().value());
    let own = m.train.escape.and_then(turn);
    let thick = |i: usize| m.thicknesses.get(&i).map_or(1.5, |s| s.nominal.bare().in_mm());
    for (i, a) in m.train.arbors.iter().enumerate() {
        let (Some(t), Some(t0)) = (turn(i), own) else { continue };
        let mm4 = if m.train.escape == Some(i) {
            let Some(e) = &m.escapement else { continue };
            ids.push(e.root.id());
            let hub = m.seats.get(&i).map_or(3.0, |d| d.bare().in_mm()) / 2.0 + 2.0;
            polar(&e.wheel) + crossed(e.root.bare().in_mm(), hub)
        } else {
            let Some(s) = a.drives.first().and_then(|n| m.train.meshes[*n].sizes.as_ref()) else { continue };
            ids.push(s.wheel.outside.id());
            let windows = m.crossing(i, &mut Book::off(), &mut Vec::new());
            polar(&s.wheel.outline) - windows.iter().flat_map(|c| &c.windows).map(polar).sum::<f64>()
        };
        let material = if m.train.escape == Some(i) {
            facts.escapement.as_ref().map(|e| e.material)
        } else {
            a.facts.wheel.as_ref().map(|w| w.material)
        };
        let density = material.map_or(8470.0, |m| m.density.value.value());
        sum += density * thick(i) * mm4 * 1e-15 * (t0 / t) * (t0 / t);
    }
    let how = ("outlines, thickness and density of every wheel", 1, 0.0);
    book.solved("going.inertia_at_escape_kg_m2", Ratio::si(sum), how, ids, &INERTIA)
}
