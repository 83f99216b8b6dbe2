//! Invariants of the kernels, and figures worked out by a second way.

use crate::budget::{self, Band};
use crate::fusee::{Fusee, Measured};
use crate::hands;
use crate::keep::{self, Bow, Click, Hold};
use crate::load;
use crate::spring::{self, Barrel, Strip, TorqueLine};
use crate::stopwork::{self, Wanted};
use crate::weight;
use proptest::prelude::*;
use reckon::maths;
use shape::profile::Profile;

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
}

const CLOCK: Barrel = Barrel { inside: 40.0, arbor: 40.0 / 3.0 };
fn strip(length: f64) -> Strip {
    Strip { thickness: 0.4, height: 20.0, length, modulus: 205_000.0, yields: 1700.0 }
}

#[test]
fn a_strip_s_stiffness_in_bending() {
    near(strip(1.0).stiffness(), 21_866.667, 0.001);
}
#[test]
fn the_moment_of_a_set_strip_is_the_sum_over_its_fibres() {
    // Elastic core, yielded skins: summed fibre by fibre at the radius of the wound spring.
    let s = strip(1396.3);
    let rho = 14.9071;
    let n = 20_000;
    let dy = s.thickness / f64::from(n);
    let sum: f64 = (0..n)
        .map(|i| {
            let y = -s.thickness / 2.0 + (f64::from(i) + 0.5) * dy;
            (s.modulus * y / rho).clamp(-s.yields, s.yields) * y * s.height * dy
        })
        .sum();
    near(s.moment_at(rho), sum, 0.01);
}
#[test]
fn the_moment_is_continuous_where_the_set_begins() {
    let s = strip(1396.3);
    let r = s.no_set_radius();
    near(s.moment_at(r * (1.0 - 1e-9)), s.first_yield_moment(), 1e-3);
    near(s.moment_at(r * (1.0 + 1e-9)), s.first_yield_moment(), 1e-3);
}
#[test]
fn the_height_that_a_torque_wants_gives_it() {
    let s = strip(CLOCK.half_filled_length(0.4));
    let h = s.height_for(CLOCK, 2.0, 900.0).unwrap();
    near(Strip { height: h, ..s }.line_in(CLOCK).unwrap().after(2.0), 900.0, 1e-9);
}
#[test]
fn lengths_are_judged_against_the_half_filled_one() {
    use crate::spring::Length as L;
    let half = CLOCK.half_filled_length(0.4);
    let judged = |k: f64| CLOCK.suits(0.4, half * k);
    assert_eq!(
        [judged(0.7), judged(1.0), judged(1.3), judged(2.1)],
        [L::TooShort, L::Good, L::TooLong, L::DoesNotFit]
    );
}
#[test]
fn a_bow_s_stiffness_by_its_bending_energy() {
    // Pulled across its ends: half a circle bends by F R sin, a quarter is held at one end with the load
    // along the tangent at the other; energy summed along the bow gives the deflection.
    let (e, b, t, r) = (205_000.0, 3.0, 0.8, 20.0);
    let ei = e * b * t * t * t / 12.0;
    for (bow, whole) in [(Bow::Semicircle, maths::PI), (Bow::Quarter, maths::PI / 2.0)] {
        let n = 10_000;
        let d = whole / f64::from(n);
        let lever = |a: f64| r * maths::sin(a);
        let sum: f64 =
            (0..n).map(|i| (f64::from(i) + 0.5) * d).map(|a| lever(a) * lever(a) * r * d / ei).sum();
        near(bow.stiffness(e, b, t, r) * sum, 1.0, 1e-6);
        near(bow.thickness(e, b, r, bow.stiffness(e, b, t, r)), t, 1e-12);
    }
}
#[test]
fn a_click_along_the_tangent_has_the_tooth_s_undercut_as_its_draw() {
    let pivot = keep::tangent_pivot(15.0, 12.0);
    let c = |undercut: f64| Click { contact: 15.0, length: 12.0, pivot, undercut };
    near(c(0.1).draw().unwrap(), 0.1, 1e-12);
    assert_eq!(c(0.2).holds(0.15), Some(Hold::DrawnIn));
    assert_eq!(c(0.0).holds(0.15), Some(Hold::ByFriction));
    assert_eq!(c(-0.2).holds(0.15), Some(Hold::ThrownOut));
}
#[test]
fn a_click_s_draw_is_the_angle_between_force_and_pivot() {
    // Moment of the unit force about the pivot, worked with co-ordinates, is the length times the sine of the draw.
    let c = Click { contact: 15.0, length: 12.0, pivot: 21.0, undercut: 0.12 };
    let e = c.elevation().unwrap();
    let p = (15.0 + 12.0 * maths::sin(e), 12.0 * maths::cos(e));
    near(maths::hypot(p.0, p.1), 21.0, 1e-9);
    let arm = (15.0 - p.0, -p.1);
    let f = (-maths::sin(0.12), maths::cos(0.12));
    near(arm.0 * f.1 - arm.1 * f.0, -12.0 * maths::sin(c.draw().unwrap()), 1e-9);
}
#[test]
fn a_ratchet_wheel_is_whole() {
    let depth = keep::ratchet_depth(15.0, 40.0, 55.0 * maths::PI / 180.0, 0.14);
    let wheel = keep::ratchet(15.0, 40, depth, 0.14).unwrap();
    assert!(wheel.is_closed() && wheel.crosses_itself().is_none());
    let area = wheel.area();
    let ring = |r: f64| maths::PI * r * r;
    assert!(ring(15.0 - depth) * 0.99 < area && area < ring(15.0), "{area}");
    assert_eq!(wheel.segments().len(), 80);
}
#[test]
fn a_bar_hand_is_balanced_like_a_bar() {
    let bar = Profile::rectangle(-10.0, -1.0, 50.0, 1.0);
    let h = hands::weigh(&bar, 0.5, 0.008, 9.81);
    near(h.mass, 60.0 * 2.0 * 0.5 * 0.008, 1e-9);
    near(h.reach, 20.0, 1e-9);
    near(hands::counterpoise(h, 10.0), 2.0 * h.mass, 1e-9);
}
#[test]
fn the_measured_cone_by_two_ways() {
    let turn = 2.0 * maths::PI;
    let points = [(0.0, 500.0), (turn, 640.0), (2.5 * turn, 760.0), (5.0 * turn, 1020.0)];
    let m = Measured::new(&points).unwrap();
    let cone = m.cone(20.0, 8.0 * turn, 1.15, 1.0, 64);
    near(m.torque_by_halving(8.0 * turn, 64), cone.torque, 1e-6 * cone.torque);
    assert!(cone.left_over.abs() < 1e-7, "{}", cone.left_over);
    near(cone.rows[0].radius, cone.torque * 20.0 / 500.0, 1e-9);
}
#[test]
fn stop_work_passes_without_touching() {
    for turns in 2..=8 {
        let w = Wanted { turns, centres: 20.0, hub: 4.0, pin: 1.2, play: 0.2 };
        let s = stopwork::design(w).unwrap_or_else(|f| panic!("{turns}: {}", f.text()));
        assert!(s.turns > f64::from(turns) && s.turns < f64::from(turns) + 1.0, "{turns}: {}", s.turns);
        let (f, star) = (s.disc_outline(), s.star_outline());
        assert!(f.is_closed() && f.crosses_itself().is_none(), "disc of {turns}");
        assert!(star.is_closed() && star.crosses_itself().is_none(), "star of {turns}");
        // One half of a step, the full lobe moving off (with the pin past the middle it would come on): nothing may touch.
        for i in 0..=20 {
            let at = -s.gap * f64::from(i) / 20.0;
            let (disc, pin, star) = s.placed(at);
            for part in [disc, pin] {
                let met = part.crosses(&star);
                assert!(met.is_none(), "{turns}: touches at {at}: {met:?} {s:?}");
            }
        }
    }
}
#[test]
fn the_full_lobe_stops_the_finger_where_the_turns_say() {
    let w = Wanted { turns: 6, centres: 20.0, hub: 4.0, pin: 1.2, play: 0.2 };
    let s = stopwork::design(w).unwrap();
    let over = (s.turns - 6.0) * maths::PI;
    let touches = |at: f64| {
        let (disc, _, star) = s.placed(at);
        disc.crosses(&star).is_some()
    };
    assert!(!touches(over - 0.02), "the full lobe stops it too early");
    assert!(touches(over + 0.05), "the full lobe does not stop it");
}
#[test]
fn the_pin_of_a_lantern_loose_bears_half() {
    near(load::pin_bending(8.0, 6.0, 1.2, false), 2.0 * load::pin_bending(8.0, 6.0, 1.2, true), 1e-9);
}

fn band() -> impl Strategy<Value = Band> {
    (0.05..0.5f64, 0.0..0.2f64, 0.0..0.2f64).prop_map(|(a, b, c)| Band::new(a, a + b, a + b + c).unwrap())
}
/// The same band widened on both sides.
fn wider(b: Band, k: f64) -> Band {
    Band { low: b.low * (1.0 - k), likely: b.likely, high: b.high * (1.0 + k) }
}
proptest! {
    #[test]
    fn energy_by_steps_is_the_formula(full in 100.0..3000.0f64, k in 1.0..100.0f64, n in 1.0..9.0f64) {
        let line = TorqueLine { full, per_turn: k };
        let steps = 1000;
        let d = n / f64::from(steps);
        let sum: f64 = (0..steps).map(|i| line.after((f64::from(i) + 0.5) * d) * 2.0 * maths::PI * d).sum();
        prop_assert!((line.energy(0.0, n) - sum).abs() < 1e-7 * sum.abs().max(full));
    }
    #[test]
    fn the_half_filled_length_gives_the_most_turns(d in 10.0..90.0f64, share in 0.2..0.6f64, k in 0.5..1.5f64) {
        let (b, t) = (Barrel { inside: d, arbor: d * share }, d / 100.0);
        let half = b.half_filled_length(t);
        let most = b.turns(t, half).unwrap();
        prop_assert!((most - b.most_turns(t)).abs() < 1e-9);
        prop_assert!(b.turns(t, half * k).unwrap() <= most + 1e-9);
        prop_assert!((b.thickness_for(most) - t).abs() < 1e-9);
    }
    #[test]
    fn turns_do_not_change_with_scale(k in 0.01..10.0f64) {
        let a = CLOCK.turns(0.4, 1200.0).unwrap();
        let b = Barrel { inside: 40.0 * k, arbor: 40.0 / 3.0 * k }.turns(0.4 * k, 1200.0 * k).unwrap();
        prop_assert!((a - b).abs() < 1e-9);
    }
    #[test]
    fn a_fusee_s_torque_is_even(m0 in 100.0..900.0f64, k in 1.0..60.0f64, n in 2.0..8.0f64, z in 4.0..18.0f64, s in 0.0..1.0f64) {
        let turn = 2.0 * maths::PI;
        let f = Fusee { at_set_up: m0, per_radian: k, wound: n * turn, barrel: 20.0, theta: z * turn };
        let at = f.theta * s;
        let evened = f.pull(at) * f.radius(at);
        prop_assert!((evened - f.torque()).abs() < 1e-9 * f.torque());
        prop_assert!((f.wound_at(f.theta) - f.wound).abs() < 1e-6);
        // Chain on the cone is the chain off the barrel.
        let steps = 4000;
        let d = f.theta / f64::from(steps);
        let chain: f64 = (0..steps).map(|i| f.radius((f64::from(i) + 0.5) * d) * d).sum();
        prop_assert!((chain - f.chain()).abs() < 1e-3 * f.chain());
    }
    #[test]
    fn a_measured_straight_line_gives_the_closed_form(m0 in 300.0..900.0f64, k in 10.0..60.0f64) {
        let turn = 2.0 * maths::PI;
        let f = Fusee { at_set_up: m0, per_radian: k, wound: 5.0 * turn, barrel: 20.0, theta: 8.0 * turn };
        let m = Measured::new(&[(0.0, m0), (f.wound, m0 + k * f.wound)]).unwrap();
        let cone = m.cone(20.0, f.theta, 1.0, 0.0, 32);
        prop_assert!((cone.torque - f.torque()).abs() < 1e-9 * f.torque());
        for r in &cone.rows {
            prop_assert!((r.radius - f.radius(r.theta)).abs() < 1e-6 * r.radius);
        }
    }
    #[test]
    fn a_line_is_found_again_from_its_points(full in 500.0..2000.0f64, k in 10.0..100.0f64, turns in prop::collection::vec(0.0..9.0f64, 3..8)) {
        let line = TorqueLine { full, per_turn: k };
        let points: Vec<(f64, f64)> = turns.iter().map(|n| (*n, line.after(*n))).collect();
        let apart = turns.iter().fold(0.0, |m: f64, n| m.max((n - turns[0]).abs()));
        prop_assume!(apart > 0.1);
        let found = spring::fit(&points).unwrap();
        prop_assert!((found.line.full - full).abs() < 1e-6 * full && (found.line.per_turn - k).abs() < 1e-6 * full);
        prop_assert!(found.scatter < 1e-6 * full);
        // The order in which the points were measured does not matter.
        let back: Vec<(f64, f64)> = points.iter().rev().copied().collect();
        let again = spring::fit(&back).unwrap();
        prop_assert!((again.line.full - found.line.full).abs() < 1e-8 * full);
    }
    #[test]
    fn bands_hold_what_is_likely_and_widen_with_what_goes_in(a in band(), b in band(), k in 0.0..0.5f64) {
        let made = [a.plus(b), a.minus(b), a.times(b), a.over(b), a.falling(|x| 1.0 / x), a.scaled(3.0)];
        let wide = [
            wider(a, k).plus(wider(b, k)),
            wider(a, k).minus(wider(b, k)),
            wider(a, k).times(wider(b, k)),
            wider(a, k).over(wider(b, k)),
            wider(a, k).falling(|x| 1.0 / x),
            wider(a, k).scaled(3.0),
        ];
        for (m, w) in made.iter().zip(&wide) {
            prop_assert!(m.holds(m.likely) && m.low <= m.high);
            prop_assert!(m.inside(*w) && w.width() >= m.width());
        }
    }
    #[test]
    fn a_value_inside_the_bands_has_its_result_inside(a in band(), b in band(), s in 0.0..=1.0f64, t in 0.0..=1.0f64) {
        let (x, y) = (a.low + (a.high - a.low) * s, b.low + (b.high - b.low) * t);
        let room = |m: Band| Band { low: m.low - 1e-12, likely: m.likely, high: m.high + 1e-12 };
        prop_assert!(room(a.plus(b)).holds(x + y) && room(a.minus(b)).holds(x - y));
        prop_assert!(room(a.times(b)).holds(x * y) && room(a.over(b)).holds(x / y));
    }
    #[test]
    fn the_arc_kept_up_needs_the_power_given(p in 1e-6..1e-4f64, g in 0.1..80.0f64, q in 200.0..20000.0f64, t in 0.5..2.0f64) {
        let arc = budget::arc(p, g, q, t);
        prop_assert!((budget::need(g, arc, q, t) - p).abs() < 1e-9 * p);
    }
    #[test]
    fn fall_and_turns_undo_each_other(fall in 0.1..2.0f64, falls in 1.0..4.0f64, d in 0.01..0.1f64) {
        let n = weight::turns(fall, falls, d, 0.001);
        prop_assert!((weight::fall(n, falls, d, 0.001) - fall).abs() < 1e-12);
    }
    #[test]
    fn form_factors_rise_with_teeth(z in 12.0..400.0f64) {
        let (a, b) = (load::involute_form(z).unwrap(), load::involute_form(z + 1.0).unwrap());
        prop_assert!(a < b && b < 0.485);
    }
}
