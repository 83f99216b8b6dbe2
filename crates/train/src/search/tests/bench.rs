//! Whole solution sets against their published count and SHA-256, and against plain loops.

use crate::search::*;
use reckon::exact::Fraction;
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

fn frac(n: i128, d: i128) -> Fraction {
    Fraction::new(n, d).unwrap()
}
fn decimal(text: &str) -> Fraction {
    Fraction::decimal(text).unwrap()
}
fn hash(lines: &[String]) -> String {
    let text = lines.join("\n") + "\n";
    let mut out = String::new();
    for byte in Sha256::digest(text.as_bytes()) {
        write!(out, "{byte:02x}").unwrap();
    }
    out
}
fn all(wanted: &Wanted) -> Vec<Train> {
    let found = search(wanted, &mut |_| true).unwrap();
    assert!(found.cover.complete());
    found.trains
}
fn words(counts: &[u32]) -> String {
    counts.iter().map(u32::to_string).collect::<Vec<_>>().join(" ")
}
/// `a b c p q r`, sorted as text.
fn wheels_then_pinions(trains: &[Train]) -> Vec<String> {
    let mut lines: Vec<String> =
        trains.iter().map(|t| format!("{} {}", words(&t.wheels()), words(&t.pinions()))).collect();
    lines.sort();
    lines
}
pub(super) fn b1() -> Wanted {
    Wanted { told: Told::Orders, ..Wanted::new(Target::exact(60), 2, 48..=120, 7..=16) }
}
pub(super) fn b3() -> Wanted {
    let target = Target {
        value: decimal("366.2422").over(decimal("365.2422")).unwrap(),
        slack: Slack::SecondsADay(decimal("0.1")),
    };
    Wanted::new(target, 2, 30..=120, 30..=120)
}
pub(super) fn b4() -> Wanted {
    let lunation = decimal("29.530588").times(Fraction::whole(86_400)).unwrap();
    let share = Fraction::whole(30).over(lunation).unwrap();
    let target = Target { value: decimal("118.122352"), slack: Slack::Share(share) };
    Wanted::new(target, 2, 20..=150, 6..=20)
}
pub(super) fn b5(seconds: i64) -> Wanted {
    let slack = Slack::SecondsATurn { seconds: Fraction::whole(seconds), turn: Fraction::whole(86_400) };
    Wanted::new(Target { value: decimal("365.24219"), slack }, 3, 30..=150, 6..=20)
}
/// A disc with two moons: its turn, 118.122352 half days, is two lunations.
pub(super) fn b8(seconds_a_lunation: i64) -> Wanted {
    let seconds = Fraction::whole(2 * seconds_a_lunation);
    let slack = Slack::SecondsATurn { seconds, turn: Fraction::whole(43_200) };
    Wanted::new(Target { value: decimal("118.122352"), slack }, 3, 20..=120, 6..=16)
}

#[test]
fn two_stage_regulator_trains() {
    let trains = all(&b1());
    let lines: Vec<String> = trains
        .iter()
        .map(|t| words(&t.stages.iter().flat_map(|s| [s.wheel, s.pinion]).collect::<Vec<_>>()))
        .collect();
    assert_eq!(lines.len(), 560);
    assert_eq!((lines[0].as_str(), lines[559].as_str()), ("48 7 70 8", "120 16 120 15"));
    assert_eq!(hash(&lines), "53aa02567576d2dd9e406dc8169c12b2a98c37b2016d6b0e87b8ea5370e94edb");
}
#[test]
fn sidereal_trains() {
    let lines = wheels_then_pinions(&all(&b3()));
    // Here the published line is "a c b d" with a <= c, b <= d: wheels, then pinions.
    assert_eq!(lines.len(), 15);
    assert_eq!(hash(&lines), "1d20b0a3f8d2c48188ef832a0855ed494be2c736ef1ac8dc0477cab16b1d1075");
}
#[test]
fn moon_in_two_stages() {
    let lines = wheels_then_pinions(&all(&b4()));
    assert_eq!(lines, ["92 104 9 9"]);
    assert_eq!(hash(&lines), "bec70daf415abe555ade64f956ac8b302d6aaa7dfcc679514b9328aa2961aa98");
}
#[test]
fn the_year_in_three_stages() {
    let trains = all(&b5(30));
    let lines = wheels_then_pinions(&trains);
    assert_eq!(lines.len(), 73);
    assert_eq!(hash(&lines), "da5946446836c9eb6fc419d9941c59c26c7d0530f9c028826df888263fec309a");
    assert!(lines.contains(&"33 89 97 6 10 13".to_owned()));
    assert_eq!(all(&b5(5)), []);
}
#[test]
fn moon_in_three_stages() {
    let lines = wheels_then_pinions(&all(&b8(10)));
    assert_eq!(lines.len(), 69);
    assert_eq!(hash(&lines), "c0fd5a7cb5abaca16861cda4dc5d3e81c1bd7cfeaed954c03e4527eed17942af");
    assert_eq!(wheels_then_pinions(&all(&b8(2))), ["45 73 79 13 13 13"]);
}

/// Every set by plain loops over positions, each compared as an exact fraction.
fn plainly(wanted: &Wanted) -> Vec<(Vec<u32>, Vec<u32>)> {
    fn sets(from: &[u32], k: usize) -> Vec<Vec<u32>> {
        if k == 0 {
            return vec![Vec::new()];
        }
        let mut out = Vec::new();
        for (i, first) in from.iter().enumerate() {
            for mut rest in sets(&from[i..], k - 1) {
                rest.insert(0, *first);
                out.push(rest);
            }
        }
        out
    }
    let (low, high) = wanted.target.window().unwrap();
    let product = |set: &[u32]| set.iter().map(|n| i128::from(*n)).product::<i128>();
    let mut out = Vec::new();
    for wheels in sets(&wanted.wheels, wanted.stages) {
        for pinions in sets(&wanted.pinions, wanted.stages) {
            let ratio = frac(product(&wheels), product(&pinions));
            if ratio >= low && ratio <= high {
                out.push((wheels.clone(), pinions.clone()));
            }
        }
    }
    out.sort();
    out
}
fn same_as_plainly(wanted: &Wanted) -> usize {
    let mut ours: Vec<_> = all(wanted).iter().map(|t| (t.wheels(), t.pinions())).collect();
    ours.sort();
    assert_eq!(ours, plainly(wanted));
    ours.len()
}
#[test]
fn same_as_plain_loops() {
    let share = |n| Slack::Share(frac(1, n));
    let mut found = 0;
    for slack in [Slack::None, share(100_000), share(1_000), share(30)] {
        for (stages, wheels, pinions) in
            [(1, 40..=130, 6..=14), (2, 40..=90, 6..=14), (3, 30..=52, 6..=9), (4, 21..=32, 6..=8)]
        {
            for value in [frac(60, 1), frac(365, 12), frac(7, 1), frac(15, 2), frac(1001, 10)] {
                let target = Target { value, slack };
                found += same_as_plainly(&Wanted::new(target, stages, wheels.clone(), pinions.clone()));
            }
        }
    }
    assert!(found > 8_000, "{found}");
}
proptest::proptest! {
    #[test]
    fn same_as_plain_loops_whatever_is_wanted(
        wheels in proptest::collection::btree_set(2_u32..70, 1..9),
        pinions in proptest::collection::btree_set(2_u32..20, 1..6),
        stages in 1_usize..=4,
        (n, d) in (1_i128..4000, 1_i128..60),
        share in 1_i128..400,
    ) {
        let target = Target { value: frac(n, d), slack: Slack::Share(frac(1, share)) };
        same_as_plainly(&Wanted::new(target, stages, wheels, pinions));
    }
    #[test]
    fn a_train_that_exists_is_found(
        wheels in proptest::collection::vec(30_u32..150, 4),
        pinions in proptest::collection::vec(6_u32..20, 4),
        stages in 1_usize..=4,
    ) {
        let (mut w, mut p) = (wheels[..stages].to_vec(), pinions[..stages].to_vec());
        let product = |set: &[u32]| set.iter().map(|n| i128::from(*n)).product::<i128>();
        let target = Target { value: frac(product(&w), product(&p)), slack: Slack::None };
        // Counts round about, so that the list is not trivial.
        let near = |set: &[u32]| set.iter().flat_map(|n| [n - 1, *n, n + 1]).collect::<Vec<u32>>();
        let trains = all(&Wanted::new(target, stages, near(&w), near(&p)));
        w.sort_unstable();
        p.sort_unstable();
        proptest::prop_assert_eq!(trains.iter().filter(|t| t.wheels() == w && t.pinions() == p).count(), 1);
    }
}
