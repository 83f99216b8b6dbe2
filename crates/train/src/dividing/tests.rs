use super::*;
use proptest::prelude::*;
use reckon::{Angle, Count, Length};

fn three_plates(ratio: u32) -> Head {
    let circles = (15..=21).chain([23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49]).collect();
    Head { ratio, circles, direct: vec![24, 60] }
}
fn two_sided(ratio: u32) -> Head {
    let circles =
        vec![24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43, 46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66];
    Head { ratio, circles, direct: Vec::new() }
}
fn words(ways: &[Way]) -> String {
    ways.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

#[test]
fn ways_of_clock_counts() {
    for (head, n, want) in [
        (three_plates(40), 64, "10 of 640 direct"),
        (three_plates(40), 78, "0+20/39"),
        (three_plates(60), 96, "0+10/16"),
        (two_sided(40), 96, "0+10/24"),
        (three_plates(40), 144, "0+5/18"),
        (three_plates(40), 7, "5+35/49, 5+15/21"),
        (
            three_plates(40),
            12,
            "2 of 24 direct, 5 of 60 direct, 3+13/39, 3+11/33, 3+9/27, 3+7/21, 3+6/18, 3+5/15",
        ),
        (three_plates(40), 96, ""),
        (two_sided(40), 127, ""),
    ] {
        let head = if n == 64 { Head { direct: vec![640], circles: vec![], ..head } } else { head };
        assert_eq!(words(&head.ways(n)), want, "{n}");
    }
}
#[test]
fn counts_that_cannot_be_divided() {
    // An old maker's statement of its three plates: all counts to 50 and all even ones to 100 but 96.
    let bare = |ratio| Head { direct: Vec::new(), ..three_plates(ratio) };
    let none = bare(40).impossible(2, 100);
    assert_eq!(none[0], 51);
    assert_eq!(none.iter().filter(|n| n.is_multiple_of(2)).collect::<Vec<_>>(), [&96]);
    assert_eq!(149 - two_sided(40).impossible(2, 150).len(), 106);
    assert_eq!(149 - two_sided(60).impossible(2, 150).len(), 118);
    assert_eq!(bare(90).impossible(2, 150)[..5], [28, 44, 52, 53, 56]);
}
#[test]
fn nearest_step_and_uneven_steps() {
    let n = nearest(&two_sided(40), 127).unwrap();
    assert_eq!((n.turns, n.holes, n.circle, n.over), (0, 17, 54, -1));
    assert!((n.closing.in_deg() * 60.0 + 10.0).abs() < 1e-9);
    let on = uneven_on(40, 54, 127).unwrap();
    assert!(on.tooth.in_deg() * 60.0 <= 5.0 && on.tooth.in_deg() * 60.0 > 4.9);
    assert_eq!(on.steps.iter().sum::<u64>(), 2160);
    // A head with no worm divides by its plate alone.
    let plain = Head { ratio: 0, ..two_sided(40) };
    assert_eq!((nearest(&plain, 127), uneven(&plain, 127)), (None, None));
    assert!(plain.ways(24).is_empty());
}
#[test]
fn what_would_do() {
    let w = would_do(&Head { direct: Vec::new(), ..three_plates(40) }, 96);
    assert_eq!(w.circles, [12, 24, 36, 48, 60]);
    assert_eq!((w.below, w.above), (Some(95), Some(98)));
    assert_eq!(w.direct, [96, 192]);
    let plate = w.plate.unwrap();
    assert_eq!(plate.steps.len(), 96);
    let through = w.through_worm.unwrap().value();
    assert!((through * 40.0 - plate.tooth.value()).abs() < 1e-15);
    assert_eq!(angles(3, 100), [0, 33, 67]);
}
#[test]
fn errors_at_the_rim() {
    let arcmin = Angle::deg(1.0 / 60.0);
    assert!((at_radius(arcmin, Length::mm(48.0)).in_mm() - 0.013_96).abs() < 1e-5);
    let a = hole_error(Length::mm(0.05), Length::mm(50.0), Count(60));
    assert!((a.in_deg() * 3600.0 - 3.438).abs() < 1e-3);
    let m = miscount(Count(1), Count(18), Count(40), Count(72));
    assert!((m.of_pitch.value() - 0.1).abs() < 1e-12);
    assert!((at_radius(m.angle, Length::mm(21.6)).in_mm() - 0.188_5).abs() < 1e-4);
}

proptest! {
    #[test]
    fn every_way_closes_and_none_is_missed(ratio in 1_u32..200, count in 1_u32..300,
        circles in proptest::collection::vec(1_u32..70, 0..12)) {
        let head = Head { ratio, circles: circles.clone(), direct: Vec::new() };
        let ways = head.ways(count);
        for w in &ways {
            prop_assert!(w.closes(count, ratio));
        }
        // Brute force: every number of holes on every circle.
        let mut want: Vec<(u32, u32)> = Vec::new();
        for c in circles {
            for step in 1..=ratio * c {
                if step * count == ratio * c {
                    want.push((c, step));
                }
            }
        }
        want.sort_unstable_by(|a, b| b.cmp(a));
        want.dedup();
        let got: Vec<(u32, u32)> = ways
            .iter()
            .filter_map(|w| match *w {
                Way::Worm { turns, holes, circle } => Some((circle, turns * circle + holes)),
                Way::Direct { .. } => None,
            })
            .collect();
        prop_assert_eq!(got, want);
    }
    #[test]
    fn uneven_steps_close_within_half_a_hole(ratio in 1_u32..120, circle in 1_u32..70, count in 1_u32..300) {
        let on = uneven_on(ratio, circle, count).unwrap();
        prop_assert_eq!(on.steps.iter().sum::<u64>(), u64::from(ratio) * u64::from(circle));
        prop_assert!(2 * on.worst <= u64::from(count));
        let (least, most) = (on.steps.iter().min().unwrap(), on.steps.iter().max().unwrap());
        prop_assert!(most - least <= 1);
    }
    #[test]
    fn angles_never_add_up(count in 1_u32..500, per_turn in 1_u64..2_000_000) {
        for (k, a) in angles(count, per_turn).iter().enumerate() {
            let off = (u128::from(*a) * u128::from(count)).abs_diff(k as u128 * u128::from(per_turn));
            prop_assert!(2 * off <= u128::from(count));
        }
    }
}
