//! Checked against values derived apart from this code, and against what must hold for any grasshopper.

use super::*;
use proptest::prelude::*;
use reckon::maths::PI;

const DEG: f64 = PI / 180.0;

fn twin(teeth: u32, span: u32, radius: f64, half: f64, entry: f64, exit: f64, exit_action: Action) -> Design {
    let joints = Joints::Twin { entry, entry_action: Action::Push, exit, exit_action };
    Design { teeth, span, tip_radius: radius, half_arc: half * DEG, joints }
}
fn single(teeth: u32, span: u32, radius: f64, half: f64) -> Design {
    Design { teeth, span, tip_radius: radius, half_arc: half * DEG, joints: Joints::Single }
}
fn near(a: f64, b: f64, by: f64) {
    assert!((a - b).abs() <= by, "{a} is not {b} to {by}");
}
fn ends(l: &Linkage, half: f64) -> [f64; 4] {
    let at = |side, t: f64| l.pose(side, t * DEG).unwrap().ratio().abs();
    [at(Side::Entry, half), at(Side::Entry, -half), at(Side::Exit, -half), at(Side::Exit, half)]
}

#[test]
fn a_single_joint_of_120_teeth() {
    let s = solve(&single(120, 17, 75.0, 5.0)).unwrap();
    assert!(s.residual < 1e-10 && !s.bracketed);
    let l = s.linkage;
    near(l.distance, 87.4026, 2e-4);
    near(l.entry.joint.hypot(), 25.4219, 2e-4);
    near(l.entry.joint.atan2() / DEG + 360.0, 196.8432, 2e-4);
    near(l.entry.length, 37.0522, 2e-4);
    near(l.exit.length, 37.0522, 2e-4);
    near((l.entry.joint - l.exit.joint).hypot(), 0.0, 1e-9);
    for (got, want) in ends(&l, 5.0).into_iter().zip([0.10625, 0.19182, 0.14021, 0.16066]) {
        near(got, want, 5e-6);
    }
}

#[test]
fn twin_joints_of_120_teeth_both_pressed() {
    let l = solve(&twin(120, 17, 75.0, 5.0, 40.0, 40.0, Action::Push)).unwrap().linkage;
    near(l.distance, 87.3608, 1e-4);
    near(l.entry.joint.hypot(), 22.7587, 1e-4);
    near(l.entry.joint.atan2() / DEG + 360.0, 193.4494, 1e-4);
    near(l.exit.joint.hypot(), 55.3564, 1e-4);
    near(l.exit.joint.atan2() / DEG + 360.0, 338.9675, 1e-4);
    for (got, want) in ends(&l, 5.0).into_iter().zip([0.11481, 0.18349, 0.12868, 0.17418]) {
        near(got, want, 5e-6);
    }
}

#[test]
fn twin_joints_of_60_teeth_exit_drawn() {
    let l = solve(&twin(60, 13, 48.0, 3.5, 50.0, 50.0, Action::Pull)).unwrap().linkage;
    near(l.distance, 70.603, 1e-3);
    near(l.entry.joint.x, -24.822, 1e-3);
    near(l.entry.joint.y, -5.889, 1e-3);
    near(l.exit.joint.x, -37.041, 1e-3);
    near(l.exit.joint.y, -12.020, 1e-3);
    for (got, want) in ends(&l, 3.5).into_iter().zip([0.4029, 0.4528, 0.4154, 0.4439]) {
        near(got, want, 6e-5);
    }
}

#[test]
fn the_ratio_by_moments_is_the_slope_of_the_wheel() {
    let l = solve(&twin(60, 13, 48.0, 3.5, 50.0, 50.0, Action::Pull)).unwrap().linkage;
    for side in Side::BOTH {
        for k in -8..=8 {
            let (t, h) = (f64::from(k) * 0.5 * DEG, 1e-5);
            let slope = (l.pose(side, t + h).unwrap().wheel - l.pose(side, t - h).unwrap().wheel) / (2.0 * h);
            near(l.pose(side, t).unwrap().ratio(), slope, 1e-9);
        }
    }
}

#[test]
fn bracketing_finds_what_newton_finds() {
    for design in [
        twin(60, 13, 48.0, 3.5, 50.0, 50.0, Action::Pull),
        twin(120, 17, 75.0, 5.0, 40.0, 40.0, Action::Push),
        single(120, 17, 75.0, 5.0),
    ] {
        let x = design.bracket().unwrap_or_else(|| panic!("{design:?}"));
        let straight = solve(&design).unwrap().linkage;
        near(x[2] * design.tip_radius, straight.distance, 1e-6);
    }
}

#[test]
fn both_beats_hand_over_without_lock() {
    for (design, swing) in [
        (twin(60, 13, 48.0, 3.5, 50.0, 50.0, Action::Pull), 4.0),
        (twin(120, 17, 75.0, 5.0, 40.0, 40.0, Action::Push), 6.0),
        (single(120, 17, 75.0, 5.0), 6.0),
    ] {
        let l = solve(&design).unwrap().linkage;
        let c = cycle(&l, swing * DEG).unwrap();
        near(c.captures.entry, design.half_arc, 1e-9);
        near(c.captures.exit, -design.half_arc, 1e-9);
        assert!(c.handover < 1e-7 && c.opens > 0.0 && c.gains.abs() < 1e-10);
        assert!(c.entry.recoil > 0.0 && c.entry.recoil < l.pitch() / 2.0);
        // The wheel goes on without a step, in as many steps as there are moments.
        for w in c.moments.windows(2) {
            assert!((w[1].wheel - w[0].wheel).abs() < l.pitch() / 20.0);
        }
        let last = c.moments.last().unwrap();
        near(last.wheel, l.pitch(), 1e-10);
        // A free nib comes no lower than the tip circle before its own catch.
        assert!(
            c.moments.iter().all(|m| m.over > -1e-7),
            "{:?}",
            c.moments.iter().map(|m| m.over).fold(9.0, f64::min)
        );
        assert!(c.entry.clears > 0.3 && c.exit.clears > 0.3);
    }
}

#[test]
fn lengths_are_found_for_three_to_two() {
    let begin = twin(120, 17, 75.0, 5.0, 40.0, 40.0, Action::Push);
    let (tuned, solved) = lengths_for(&begin, Quotients { entry: 1.5, exit: 1.5 }).unwrap();
    let r = ends(&solved.linkage, 5.0);
    near(r[1] / r[0], 1.5, 1e-8);
    near(r[3] / r[2], 1.5, 1e-8);
    // And back: the lengths found, set out again, are the same linkage.
    near(solve(&tuned).unwrap().linkage.distance, solved.linkage.distance, 1e-9);
}

#[test]
fn what_cannot_be_is_told_with_what_would_do() {
    let e = solve(&twin(60, 40, 48.0, 3.5, 50.0, 50.0, Action::Pull)).unwrap_err();
    assert!(e.why.contains("half a turn") && e.cure.is_some());
    let e = solve(&twin(30, 1, 48.0, 20.0, 50.0, 50.0, Action::Push)).unwrap_err();
    assert!(e.cure.is_some(), "{e}");
    let begin = twin(120, 17, 75.0, 5.0, 40.0, 40.0, Action::Push);
    let e = lengths_for(&begin, Quotients { entry: 9.0, exit: 0.2 }).unwrap_err();
    assert!(e.cure.unwrap().contains("like length"));
    let l = solve(&begin).unwrap().linkage;
    assert!(matches!(cycle(&l, 4.9 * DEG), Err(Fault::Misses { .. } | Fault::Short { .. })));
}

#[test]
fn a_longer_arm_catches_as_the_table_says() {
    let l = solve(&twin(60, 13, 48.0, 3.5, 50.0, 50.0, Action::Pull)).unwrap().linkage;
    let table = sensitivities(&l, 4.0 * DEG).unwrap();
    let entry = table.iter().find(|s| s.length == "entry arm").unwrap();
    let mut longer = l;
    longer.entry.length += 0.02;
    let (was, is) = (l.captures(4.0 * DEG).unwrap(), longer.captures(4.0 * DEG).unwrap());
    near((is.entry - was.entry) / 0.02, entry.entry_catch, entry.entry_catch.abs() * 0.02 + 1e-6);
    near((is.exit - was.exit) / 0.02, entry.exit_catch, entry.exit_catch.abs() * 0.02 + 1e-6);
}

#[test]
fn outlines_close_and_keep_clear() {
    for design in [
        twin(60, 13, 48.0, 3.5, 50.0, 50.0, Action::Pull),
        twin(120, 17, 75.0, 5.0, 40.0, 40.0, Action::Push),
        single(120, 17, 75.0, 5.0),
    ] {
        let l = solve(&design).unwrap().linkage;
        let swing = design.half_arc + 0.7 * DEG;
        let c = cycle(&l, swing).unwrap();
        let shape = ArmShape::usual(&l);
        let p = parts(&l, &c, &shape, &WheelShape::usual(&l)).unwrap();
        for part in [&p.entry_arm, &p.exit_arm, &p.entry_composer, &p.exit_composer, &p.frame, &p.wheel] {
            assert!(part.outline.is_closed(), "{}", part.name);
            assert!(part.outline.area() > 0.0, "{}", part.name);
            assert_eq!(part.outline.crosses_itself(), None, "{}", part.name);
            for hole in &part.holes {
                assert!(hole.crosses(&part.outline).is_none(), "{}", part.name);
                assert!(part.outline.contains(hole.segments()[0].from()), "{}", part.name);
            }
        }
        for side in Side::BOTH {
            let gap = least_gap(&l, &c, side, swing, &shape).unwrap();
            assert!(gap > 0.3, "{design:?} {side:?} {gap}");
        }
        let marks = set_out(&l, &c).unwrap();
        assert!(marks.points.len() >= 12 && marks.lines.len() >= 9 && marks.circles.len() >= 9);
        // A torque arm is the distance of its line from the frame arbor.
        let line = marks.lines.iter().find(|m| m.label == "line of action as the exit arm catches").unwrap();
        let arm = marks.circles.iter().find(|m| m.label == "torque arm as the exit arm catches").unwrap();
        let u = (line.to - line.from) / (line.to - line.from).hypot();
        near((l.arbor() - line.from).cross(u).abs(), arm.radius, 1e-9);
    }
}

#[test]
fn a_belt_round_discs_has_the_length_of_a_belt() {
    use kurbo::Point;
    let r = 2.0;
    let p = outline::belt(&[(Point::new(0.0, 0.0), r), (Point::new(6.0, 0.0), r), (Point::new(0.0, 8.0), r)])
        .unwrap();
    // Round a triangle of sides 6, 8, 10 with equal discs: its sides and one circle.
    near(p.length(), 24.0 + 2.0 * PI * r, 1e-9);
    assert!(p.is_closed());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn any_that_solves_keeps_the_mean_and_scales(
        teeth in 40u32..160, share in 0.1f64..0.25, half in 2.0f64..6.0, length in 0.4f64..1.2, drawn in any::<bool>()
    ) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small positive number")]
        let span = (f64::from(teeth) * share) as u32;
        let action = if drawn { Action::Pull } else { Action::Push };
        let d = twin(teeth, span, 50.0, half, 50.0 * length, 50.0 * length, action);
        if let Ok(s) = solve(&d) {
            let l = s.linkage;
            let e = half * DEG;
            let mean = PI / f64::from(teeth) / (2.0 * e);
            prop_assert!((l.mean_ratio(Side::Entry, e, -e).unwrap() + mean).abs() < 1e-7);
            prop_assert!((l.mean_ratio(Side::Exit, -e, e).unwrap() - mean).abs() < 1e-7);
            let c = l.captures(e * 1.2);
            prop_assert!(c.is_ok_and(|c| (c.entry - e).abs() < 1e-7 && (c.exit + e).abs() < 1e-7));
            let big = solve(&twin(teeth, span, 100.0, half, 100.0 * length, 100.0 * length, action)).unwrap();
            prop_assert!((big.linkage.distance - 2.0 * l.distance).abs() < 1e-6);
        }
    }
}
