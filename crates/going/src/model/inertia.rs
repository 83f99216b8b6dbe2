//! How sluggish the escape wheel is with the train behind it.

use movement::design::Movement;
use movement::made::Moving;
use reckon::source::Source;
use reckon::{Book, Id, Ratio, Torque, Val};
use shape::profile::Profile;

/// Inertia of wheels as felt at the escape arbor.
pub static INERTIA: Source = Source::derived(
    "outlines less their windows, integrated; each wheel of the train counts by the square of its speed against the escape wheel's; arbors, pinions and hands left out",
)
.with_formula("J = Σ ρ s ∫r² dA (ω/ω_escape)²");

/// The crutch about the pallets' arbor.
pub static CRUTCH: Source = Source::derived(
    "outline of the crutch as it is made, what is beyond its bend standing there; it swings with the pendulum",
)
.with_formula("J = Σ ρ s ∫r² dA, S = Σ ρ s ∫z dA");

/// How finely outlines are taken (mm).
const FINE: f64 = 0.002;

/// Area, its first moment downwards, and ∫r² dA, of an outline of which what lies below `bend` stands square to it.
fn sums(p: &Profile, bend: Option<f64>) -> [f64; 3] {
    let all = p.sampled(FINE);
    let n = all.len();
    let over = |at: &dyn Fn(kurbo::Point) -> kurbo::Vec2| {
        let mut sum = [0.0; 3];
        for i in 0..n {
            let (a, b) = (at(all[i]), at(all[(i + 1) % n]));
            let cross = a.cross(b);
            sum[0] += cross / 2.0;
            sum[1] -= cross * (a.y + b.y) / 6.0;
            sum[2] += cross * (a.dot(a) + a.dot(b) + b.dot(b)) / 12.0;
        }
        let sign = if sum[0] < 0.0 { -1.0 } else { 1.0 };
        sum.map(|x| x * sign)
    };
    let whole = over(&kurbo::Point::to_vec2);
    let Some(bend) = bend else { return whole };
    // Cut off along the bend; what is beyond it stands there as thin as the sheet.
    let above = over(&|p| kurbo::Vec2::new(p.x, p.y.max(-bend)));
    let below = whole[0] - above[0];
    [whole[0], above[1] + below * bend, above[2] + below * bend * bend]
}
/// Mass (kg), mass times depth of its middle (kg m) and moment of inertia (kg m²) about its arbor.
fn moments(of: &Moving) -> [f64; 3] {
    let s = &of.solid;
    let mut sum = sums(&s.outline, of.bent);
    for w in &s.windows {
        let less = sums(w, None);
        sum = [0, 1, 2].map(|i| sum[i] - less[i]);
    }
    for h in &s.holes {
        let r = h.diameter / 2.0;
        let area = reckon::maths::PI * r * r;
        let far = h.at.x * h.at.x + h.at.y * h.at.y;
        sum[0] -= area;
        sum[1] += area * h.at.y;
        sum[2] -= area * (far + r * r / 2.0);
    }
    let k = of.density * s.thickness * 1e-9;
    [sum[0] * k, sum[1] * k * 1e-3, sum[2] * k * 1e-6]
}
/// The crutch as it swings with the pendulum: moment of inertia and mass times depth about the pallets' arbor.
pub(super) fn crutch(of: &Moving, g: f64, inputs: Vec<Id>, book: &mut Book) -> [f64; 2] {
    let [_, moment, inertia] = moments(of);
    let how = || ("outline and thickness, bent square below the arbor", 1, 0.0);
    book.solved("going.crutch.gravity_moment", Torque::si(moment * g), how(), inputs.clone(), &CRUTCH);
    book.solved("going.crutch.inertia_kg_m2", Ratio::si(inertia), how(), inputs, &CRUTCH);
    [inertia, moment]
}
/// In kg m², as a number of the book.
pub(super) fn at_escape(m: &Movement, wheel: Option<&Moving>, book: &mut Book) -> Val<Ratio> {
    let mut sum = 0.0;
    let mut ids = Vec::new();
    let turn = |i: usize| m.train.arbors[i].turn.map(|t| t.bare().value());
    let own = m.train.escape.and_then(turn);
    let thick = |i: usize| m.thicknesses.get(&i).map_or(1.5, |s| s.nominal.bare().in_mm());
    for (i, a) in m.train.arbors.iter().enumerate() {
        let (Some(t), Some(t0)) = (turn(i), own) else { continue };
        let own = if m.train.escape == Some(i) {
            let (Some(e), Some(wheel)) = (&m.escapement, wheel) else { continue };
            ids.push(e.root.id());
            moments(wheel)[2]
        } else {
            let Some(s) = a.drives.first().and_then(|n| m.train.meshes[*n].sizes.as_ref()) else { continue };
            ids.push(s.wheel.outside.id());
            let windows = m.crossing(i, &mut Book::off(), &mut Vec::new());
            let mm4 = sums(&s.wheel.outline, None)[2]
                - windows.iter().flat_map(|c| &c.windows).map(|w| sums(w, None)[2]).sum::<f64>();
            let density = a.facts.wheel.as_ref().map_or(8470.0, |w| w.material.density.value.value());
            density * thick(i) * mm4 * 1e-15
        };
        sum += own * (t0 / t) * (t0 / t);
    }
    let how = ("outlines, thickness and density of every wheel", 1, 0.0);
    book.solved("going.inertia_at_escape_kg_m2", Ratio::si(sum), how, ids, &INERTIA)
}

#[cfg(test)]
mod tests {
    use super::*;
    use shape::flat::Flat;

    fn rod(half: f64, long: f64, bent: Option<f64>) -> Moving {
        let outline = Profile::start(-half, 0.0).line(-half, -long).line(half, -long).line(half, 0.0).close();
        Moving { solid: Flat::new(outline, 2.0), density: 8000.0, bent }
    }
    #[test]
    fn a_strip_swings_as_a_thin_rod() {
        let [mass, moment, inertia] = moments(&rod(1e-3, 100.0, None));
        // m = ρ s b l, S = m l/2, J = m l²/3.
        let m = 8000.0 * 2e-3 * 2e-6 * 0.1;
        assert!((mass / m - 1.0).abs() < 1e-12 && (moment / (m * 0.05) - 1.0).abs() < 1e-12);
        assert!((inertia / (m * 0.01 / 3.0) - 1.0).abs() < 1e-9);
    }
    #[test]
    fn what_is_bent_stands_at_its_bend() {
        let [mass, moment, inertia] = moments(&rod(1e-3, 100.0, Some(80.0)));
        let m = 8000.0 * 2e-3 * 2e-6 * 0.1;
        let (a, b) = (0.8 * m, 0.2 * m);
        assert!((mass / m - 1.0).abs() < 1e-12);
        assert!((moment / (a * 0.04 + b * 0.08) - 1.0).abs() < 1e-12);
        assert!((inertia / (a * 0.0064 / 3.0 + b * 0.0064) - 1.0).abs() < 1e-9);
    }
    #[test]
    fn a_hole_off_its_middle_takes_its_own() {
        let disc = |hole: bool| {
            let outline = Profile::start(10.0, 0.0)
                .arc_to(kurbo::Point::new(-10.0, 0.0), kurbo::Point::ORIGIN, shape::profile::Sense::Left)
                .arc_to(kurbo::Point::new(10.0, 0.0), kurbo::Point::ORIGIN, shape::profile::Sense::Left);
            let solid = Flat::new(outline, 1.0);
            let solid = if hole { solid.hole(0.0, -6.0, 2.0, "A") } else { solid };
            moments(&Moving { solid, density: 1e9, bent: None })
        };
        let (whole, less) = (disc(false), disc(true));
        let pi = reckon::maths::PI;
        // Half the mass times the square of the radius; a disc of 1 mm at 6 mm: π (36 + ½).
        assert!((whole[2] / (pi / 2.0 * 1e4 * 1e-6) - 1.0).abs() < 1e-3, "{whole:?}");
        assert!((whole[2] - less[2] - pi * 36.5 * 1e-6).abs() < 1e-12);
        assert!((whole[1] - less[1] - pi * 6.0 * 1e-3).abs() < 1e-12);
    }
}
