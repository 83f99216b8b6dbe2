//! How far a bar gives way under a cut, how far it may stand out, when it whips.

use super::speed::Metal;
use reckon::{AngularSpeed, Density, Diameter, Force, Length, Pressure, Ratio, Source, Stiffness, maths};

/// Round bar in bending.
pub static BEAM: Source =
    Source::derived("straight elastic bar of round section").with_formula("y = F L³/(3 E I), I = π d⁴/64");
/// Held at one end, resting on a centre at the other.
pub static PROPPED: Source = Source::derived("straight elastic bar, one end held, one end on a centre")
    .with_formula("y = F a³ b² (3 L + b)/(12 E I L³)");
/// Between centres.
pub static CENTRES: Source =
    Source::derived("straight elastic bar between centres").with_formula("y = F a² b²/(3 E I L)");
/// Bar with steps.
pub static STEPS: Source =
    Source::derived("work of deformation, exact over each step").with_formula("y = ∫ M m/(E I) dx");
/// Spring passes.
pub static SPRING: Source = Source::derived("tool and bar as two springs in a row")
    .with_formula("left after n further passes = a (c/(k + c))^(n+1)");
/// First natural speed of a bar that stands out.
pub static WHIP: Source = Source::derived("first bending vibration of a bar held at one end")
    .with_formula("f = 0.5596/L² (d/4) √(E/ρ)");
/// How far to keep from it.
pub static WHIP_SHARE: Source = Source::practice("half of the speed at which a free tail whips");
/// Diameters of free length.
pub static FREE_LENGTH: Source =
    Source::practice("unsupported length: three diameters good, four for light cuts, more wants a tailstock");

/// Elastic modulus from memory of handbooks, by metal.
pub static MODULUS: Source =
    Source::memory("handbook: modulus of steel 206, stainless steel 200, brass 97, aluminium 70 GPa");
/// Modulus of a metal.
#[must_use]
pub fn modulus(metal: Metal) -> Pressure {
    Pressure::si(match metal {
        Metal::Brass => 97e9,
        Metal::Aluminium => 70e9,
        Metal::MildSteel | Metal::ToolSteel => 206e9,
        Metal::Stainless => 200e9,
    })
}

fn inertia(d: Diameter) -> f64 {
    let r2 = d.value() * d.value();
    maths::PI * r2 * r2 / 64.0
}

/// Deflection at the load at the free end of a bar held in a chuck.
#[must_use]
pub fn chuck_only(load: Force, out: Length, d: Diameter, e: Pressure) -> Length {
    let l = out.value();
    Length::si(load.value() * l * l * l / (3.0 * e.value() * inertia(d)))
}
/// Deflection at the load, `at` from the chuck, with a centre at `out`.
#[must_use]
pub fn with_tailstock(load: Force, at: Length, out: Length, d: Diameter, e: Pressure) -> Length {
    let (a, l) = (at.value(), out.value());
    let b = l - a;
    Length::si(load.value() * a * a * a * b * b * (3.0 * l + b) / (12.0 * e.value() * inertia(d) * l * l * l))
}
/// Place of the load that bends a bar with tailstock most: (2 − √2) of its length from the chuck.
#[must_use]
pub fn worst_place(out: Length) -> Length {
    out * (2.0 - maths::sqrt(2.0))
}
/// Deflection at the load, `at` from one centre, between centres `out` apart.
#[must_use]
pub fn between_centres(load: Force, at: Length, out: Length, d: Diameter, e: Pressure) -> Length {
    let (a, l) = (at.value(), out.value());
    let b = l - a;
    Length::si(load.value() * a * a * b * b / (3.0 * e.value() * inertia(d) * l))
}
/// Error of diameter that a deflection leaves: twice it.
#[must_use]
pub fn diameter_error(deflection: Length) -> Length {
    deflection * 2.0
}
/// How far a bar may stand out of the chuck so that its end is no more than `taper` large on diameter.
#[must_use]
pub fn overhang(load: Force, d: Diameter, e: Pressure, taper: Length) -> Length {
    let y = taper.value() / 2.0;
    Length::si(maths::cbrt(3.0 * e.value() * inertia(d) * y / load.value()))
}
/// Greatest stress of a bar held in a chuck, at the jaws.
#[must_use]
pub fn root_stress(load: Force, out: Length, d: Diameter) -> Pressure {
    let v = d.value();
    Pressure::si(32.0 * load.value() * out.value() / (maths::PI * v * v * v))
}
/// Largest load on the free end with stress at the jaws no more than `allowed`.
#[must_use]
pub fn load_for_stress(allowed: Pressure, out: Length, d: Diameter) -> Force {
    let v = d.value();
    Force::si(allowed.value() * maths::PI * v * v * v / (32.0 * out.value()))
}

/// How a bar is held.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Held {
    /// In a chuck or collet at one end, free at the other.
    Chuck,
    /// In a chuck or collet at one end, on a centre at the other.
    ChuckAndCentre,
    /// Between centres.
    Centres,
}
/// A length of one diameter, perhaps bored.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Piece {
    /// Along the axis.
    pub length: Length,
    /// Outside.
    pub outside: Diameter,
    /// Bore; nothing when solid.
    pub bore: Diameter,
}
impl Piece {
    /// A solid length.
    #[must_use]
    pub const fn solid(length: Length, outside: Diameter) -> Piece {
        Piece { length, outside, bore: Diameter::ZERO }
    }
}
/// Deflection at the load, `at` from the chuck, of a bar with steps from the chuck outward.
///
/// The bending moment is straight over each piece of the bar, so the integral is exact there.
/// `give` is the stiffness of chuck and spindle, in a row with the bar's own; `None` takes them as rigid.
/// Returns `None` when there is no bar, a piece has no metal, or the load lies off the bar.
#[must_use]
pub fn stepped(
    pieces: &[Piece],
    held: Held,
    e: Pressure,
    load: Force,
    at: Length,
    give: Option<Stiffness>,
) -> Option<Length> {
    let total: f64 = pieces.iter().map(|p| p.length.value()).sum();
    let a = at.value();
    let sound = pieces.iter().all(|p| p.length.value() > 0.0 && p.outside.value() > p.bore.value());
    if !(sound && total > 0.0 && a >= 0.0 && a <= total * (1.0 + 1e-12)) {
        return None;
    }
    // Moments of a unit load at the place `at`, and of a unit push of the centre, over the distance x from the chuck.
    let cantilever = |from: f64| move |x: f64| (from - x).max(0.0);
    let at_load = cantilever(a);
    let at_end = cantilever(total);
    let simple = |x: f64| {
        let b = total - a;
        if x <= a { b * x / total } else { a * (total - x) / total }
    };
    let integral = |m: &dyn Fn(f64) -> f64, n: &dyn Fn(f64) -> f64| {
        let mut sum = 0.0;
        let mut x0 = 0.0;
        for p in pieces {
            let ei = e.value() * (inertia(p.outside) - inertia(p.bore));
            let end = x0 + p.length.value();
            // The moment has a kink under the load; either side of it is straight.
            let cuts: &[f64] = if a > x0 && a < end { &[x0, a, end] } else { &[x0, end] };
            for pair in cuts.windows(2) {
                let (l, r) = (pair[0], pair[1]);
                let middle = f64::midpoint(l, r);
                // Simpson's rule is exact for the product of two straight lines.
                sum += (r - l) / 6.0 * (m(l) * n(l) + 4.0 * m(middle) * n(middle) + m(r) * n(r)) / ei;
            }
            x0 = end;
        }
        sum
    };
    let bent = match held {
        Held::Chuck => integral(&at_load, &at_load),
        Held::ChuckAndCentre => {
            let cross = integral(&at_load, &at_end);
            integral(&at_load, &at_load) - cross * cross / integral(&at_end, &at_end)
        }
        Held::Centres => integral(&simple, &simple),
    };
    let given = give.map_or(0.0, |k| 1.0 / k.value());
    Some(Length::si(load.value() * (bent + given)))
}
/// Stiffness from a load and what it bends.
#[must_use]
pub fn stiffness(load: Force, deflection: Length) -> Stiffness {
    load / deflection
}

/// Depth really cut by the first pass of a tool set to `depth`: `cut` is how fast the radial force grows with depth.
#[must_use]
pub fn really_cut(depth: Length, bar: Stiffness, cut: Stiffness) -> Length {
    depth * (bar / (bar + cut))
}
/// What is left uncut after `further` more passes at the same setting.
#[must_use]
pub fn left_after(depth: Length, bar: Stiffness, cut: Stiffness, further: u32) -> Length {
    let share = (cut / (bar + cut)).value();
    depth * maths::pow(share, f64::from(further) + 1.0)
}
/// Further passes at the same setting until no more than `left` remains, at most `most`; `None` when that is not enough.
#[must_use]
pub fn spring_passes(depth: Length, bar: Stiffness, cut: Stiffness, left: Length, most: u32) -> Option<u32> {
    (0..=most).find(|n| left_after(depth, bar, cut, *n) <= left)
}

/// First root of cos x cosh x = −1, squared, over 2π: turns a second of a bar held at one end.
const FIRST: f64 = 1.875_104_068_711_961 * 1.875_104_068_711_961 / (2.0 * maths::PI);
/// Speed at which a free tail of solid bar whips.
#[must_use]
pub fn whip(out: Length, d: Diameter, e: Pressure, density: Density) -> AngularSpeed {
    let l = out.value();
    let per_second = FIRST / (l * l) * (d.value() / 4.0) * maths::sqrt(e.value() / density.value());
    AngularSpeed::si(per_second * 2.0 * maths::PI)
}
/// Free length over diameter.
#[must_use]
pub fn slenderness(out: Length, d: Diameter) -> Ratio {
    out / d.across()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar() -> (Force, Diameter, Pressure) {
        (Force::si(10.0), Diameter::mm(3.0), Pressure::si(206e9))
    }
    /// The bending equation y'' = M/EI integrated step by step from the chuck, without any energy theorem.
    /// The reaction of a centre is found from two runs, which is exact as the equation is linear.
    fn shooting(pieces: &[Piece], held: Held, e: f64, load: f64, a: f64) -> f64 {
        let total: f64 = pieces.iter().map(|p| p.length.value()).sum();
        let ei = |x: f64| {
            let mut end = 0.0;
            for p in pieces {
                end += p.length.value();
                if x < end {
                    return e * (inertia(p.outside) - inertia(p.bore));
                }
            }
            let last = pieces[pieces.len() - 1];
            e * (inertia(last.outside) - inertia(last.bore))
        };
        let n = 60_000;
        let h = total / f64::from(n);
        // Returns deflection at the load and at the end for a start slope and a push at the end.
        let run = |slope: f64, start_moment: f64, push: f64, load: f64| {
            let (mut y, mut dy, mut at_load) = (0.0, slope, 0.0);
            for i in 0..n {
                let x = (f64::from(i) + 0.5) * h;
                let m = load * (a - x).max(0.0) - push * (total - x) + start_moment;
                let curve = m / ei(x);
                y += dy * h + curve * h * h / 2.0;
                dy += curve * h;
                if f64::from(i + 1) * h <= a + h / 2.0 {
                    at_load = y;
                }
            }
            (at_load, y)
        };
        match held {
            Held::Chuck => run(0.0, 0.0, 0.0, load).0,
            Held::ChuckAndCentre => {
                let (free, unit) = (run(0.0, 0.0, 0.0, load), run(0.0, 0.0, 1.0, 0.0));
                let push = -free.1 / unit.1;
                free.0 + push * unit.0
            }
            Held::Centres => {
                let push = load * a / total;
                // Moment about the left centre vanishes there: load (a − x)+ − push (total − x) is 0 at x = 0.
                let (free, unit) = (run(0.0, 0.0, push, load), run(1.0, 0.0, 0.0, 0.0));
                let slope = -free.1 / unit.1;
                free.0 + slope * unit.0
            }
        }
    }
    #[test]
    fn stepped_bar_agrees_with_the_bending_equation() {
        let pieces = [
            Piece { length: Length::mm(12.0), outside: Diameter::mm(8.0), bore: Diameter::mm(3.0) },
            Piece::solid(Length::mm(20.0), Diameter::mm(5.0)),
            Piece::solid(Length::mm(8.0), Diameter::mm(2.0)),
        ];
        for held in [Held::Chuck, Held::ChuckAndCentre, Held::Centres] {
            for a in [10.0, 16.0, 32.0] {
                let got = stepped(&pieces, held, Pressure::si(206e9), Force::si(10.0), Length::mm(a), None)
                    .unwrap();
                let want = shooting(&pieces, held, 206e9, 10.0, a / 1000.0).abs();
                assert!((got.value() - want).abs() < 3e-4 * want, "{held:?} {a}: {got:?} {want}");
            }
        }
    }
    #[test]
    fn a_plain_bar_is_a_bar_with_one_step() {
        let (f, d, e) = bar();
        let l = Length::mm(30.0);
        let halves = [Piece::solid(Length::mm(11.0), d), Piece::solid(Length::mm(19.0), d)];
        for a in [3.0, 11.0, 15.0, 29.0] {
            let at = Length::mm(a);
            let pairs = [
                (with_tailstock(f, at, l, d, e), Held::ChuckAndCentre),
                (between_centres(f, at, l, d, e), Held::Centres),
                (chuck_only(f, at, d, e), Held::Chuck),
            ];
            for (closed, held) in pairs {
                let summed = stepped(&halves, held, e, f, at, None).unwrap();
                assert!((closed.value() - summed.value()).abs() < 1e-11 * closed.value().max(1e-9));
            }
        }
    }
    #[test]
    fn the_worst_place_is_the_worst() {
        let (f, d, e) = bar();
        let l = Length::mm(30.0);
        let worst = with_tailstock(f, worst_place(l), l, d, e);
        for i in 1..3000 {
            assert!(
                with_tailstock(f, l * (f64::from(i) / 3000.0), l, d, e).value()
                    <= worst.value() * (1.0 + 1e-12)
            );
        }
    }
    #[test]
    fn spring_passes_by_playing_them() {
        let (depth, bar, cut) = (Length::mm(0.1), Stiffness::si(2e5), Stiffness::si(1e5));
        // Each pass: the tool stands `left` into the work, and so much of it is cut.
        let mut left = depth;
        for n in 0..6 {
            left = left - really_cut(left, bar, cut);
            assert!((left.value() - left_after(depth, bar, cut, n).value()).abs() < 1e-15);
        }
        assert_eq!(spring_passes(depth, bar, cut, Length::mm(0.002), 10), Some(3));
        assert_eq!(spring_passes(depth, bar, cut, Length::ZERO, 10), None);
    }
    #[test]
    fn give_of_the_chuck_adds() {
        let (f, d, e) = bar();
        let piece = [Piece::solid(Length::mm(30.0), d)];
        let y = |give| stepped(&piece, Held::Chuck, e, f, Length::mm(30.0), give).unwrap().in_mm();
        assert!((y(Some(Stiffness::si(10e6))) - y(None) - 0.001).abs() < 1e-9);
        assert_eq!(stepped(&[], Held::Chuck, e, f, Length::ZERO, None), None);
        assert_eq!(stepped(&piece, Held::Chuck, e, f, Length::mm(31.0), None), None);
    }
}
