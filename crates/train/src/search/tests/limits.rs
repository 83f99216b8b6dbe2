//! Limits, orders, interruption, and what is said when nothing is found.

use super::bench::{b1, b5};
use crate::search::*;
use reckon::exact::Fraction;
use std::collections::BTreeSet;

fn all(wanted: &Wanted) -> Vec<Train> {
    search(wanted, &mut |_| true).unwrap().trains
}
fn texts(trains: &[Train]) -> Vec<String> {
    trains.iter().map(ToString::to_string).collect()
}
/// The counts that a 40:1 head divides with three common plates.
fn three_plates() -> BTreeSet<u32> {
    let circles = [15, 16, 17, 18, 19, 20, 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49];
    (2..=150).filter(|n| circles.iter().any(|c| (40 * c) % n == 0)).collect()
}

#[test]
fn common_sets_of_the_trade_are_all_found() {
    let sets = [
        "64/8 × 60/8",
        "80/10 × 75/10",
        "96/12 × 90/12",
        "112/14 × 105/14",
        "128/16 × 120/16",
        "80/12 × 72/8",
    ];
    let wanted = Wanted {
        escape: vec![30],
        told: Told::Orders,
        ..Wanted::new(Target::exact(3600), 2, 60..=150, 6..=16)
    };
    let found = texts(&all(&wanted));
    for set in sets {
        let want = format!("{set}, escape wheel 30");
        assert_eq!(found.iter().filter(|t| **t == want).count(), 1, "{want}");
    }
    // 8100 beats an hour, not 3600.
    assert!(!found.iter().any(|t| t.starts_with("96/8 × 90/8")));
}
#[test]
fn every_order_of_a_set_within_the_limits() {
    let limits = Limits {
        every: StageLimit { greatest_ratio: Some(Fraction::whole(8)), ..StageLimit::default() },
        each: vec![StageLimit { most_teeth: Some(100), greatest_sum: Some(112), ..StageLimit::default() }],
        most_leaf_counts: Some(1),
    };
    let kept: Vec<Train> = all(&b1())
        .into_iter()
        .filter(|t| {
            let eight = |s: &Stage| s.wheel <= 8 * s.pinion;
            let first = t.stages[0];
            t.stages.iter().all(eight)
                && first.wheel <= 100
                && first.wheel + first.pinion <= 112
                && t.stages[0].pinion == t.stages[1].pinion
        })
        .collect();
    assert!(kept.len() > 4);
    assert_eq!(all(&Wanted { limits: limits.clone(), ..b1() }), kept);
    // As sets: those with at least one order among these.
    let sets: BTreeSet<_> = kept.iter().map(|t| (t.wheels(), t.pinions())).collect();
    let found = all(&Wanted { limits, told: Told::Sets, ..b1() });
    assert_eq!(found.len(), sets.len());
    assert!(found.iter().all(|t| kept.contains(t)));
}
#[test]
fn lists_of_a_stage_bind_that_stage_alone() {
    let each = vec![
        StageLimit { wheels: Some(vec![96]), pinions: Some(vec![12]), ..StageLimit::default() },
        StageLimit::default(),
    ];
    let found = all(&Wanted { limits: Limits { each, ..Limits::default() }, ..b1() });
    let want: Vec<Train> =
        all(&b1()).into_iter().filter(|t| t.stages[0] == Stage { wheel: 96, pinion: 12 }).collect();
    assert_eq!(found, want);
    assert!(texts(&found).contains(&"96/12 × 90/12".to_owned()));
}
#[test]
fn several_escape_wheels_at_once() {
    let wanted = Wanted { escape: vec![40, 30, 30], ..Wanted::new(Target::exact(3600), 2, 60..=100, [12]) };
    let found = all(&wanted);
    let one = |e| all(&Wanted { escape: vec![e], ..wanted.clone() });
    let mut both: Vec<Train> = one(30).into_iter().chain(one(40)).collect();
    both.sort();
    assert_eq!(found, both);
    assert!(found.iter().all(|t| t.value() == Some(Fraction::whole(3600))));
}
#[test]
fn a_stopped_search_says_how_far_it_came() {
    let mut calls = 0;
    let found = search(&b5(30), &mut |p| {
        calls += 1;
        assert!(p.covered <= p.size);
        p.covered * 2 < p.size
    })
    .unwrap();
    let whole = search(&b5(30), &mut |_| true).unwrap();
    assert!(calls > 10);
    assert!(!found.cover.complete() && found.cover.covered * 2 >= found.cover.size);
    assert!(found.trains.len() < 73 && found.trains.iter().all(|t| whole.trains.contains(t)));
    assert!(found.cover.words().contains("not complete"), "{}", found.cover.words());
    // 121 wheels and 15 pinions, three of each with repetition.
    assert_eq!(whole.cover.words(), "all 205,782,280 combinations covered");
    let none = search(&b5(30), &mut |_| false).unwrap();
    assert_eq!((none.trains.len(), none.cover.covered), (0, 0));
}
#[test]
fn a_great_many_pinion_sets_are_taken_in_chunks() {
    // Four stages of 70 pinions make 1,088,430 sets: more than are held at once.
    let wanted = Wanted::new(Target::exact(1), 4, [6, 35, 75], 6..=75);
    let found = search(&wanted, &mut |_| true).unwrap();
    assert!(found.cover.complete());
    assert_eq!(found.cover.size, 1_088_430 * 15);
    let distinct: BTreeSet<_> = found.trains.iter().map(|t| (t.wheels(), t.pinions())).collect();
    assert_eq!(distinct.len(), found.trains.len());
    let mut plain = 0;
    let products: Vec<u32> = found_products(&[6, 35, 75]);
    for a in 6_u32..=75 {
        for b in a..=75 {
            for c in b..=75 {
                for d in c..=75 {
                    plain += products.iter().filter(|n| **n == a * b * c * d).count();
                }
            }
        }
    }
    assert_eq!(found.trains.len(), plain);
}
fn found_products(list: &[u32]) -> Vec<u32> {
    let mut out = Vec::new();
    for (i, a) in list.iter().enumerate() {
        for (j, b) in list.iter().enumerate().skip(i) {
            for (k, c) in list.iter().enumerate().skip(j) {
                out.extend(list.iter().skip(k).map(|d| a * b * c * d));
            }
        }
    }
    out
}
#[test]
fn a_count_that_the_head_lacks_is_named_and_another_offered() {
    let can = three_plates();
    assert!(!can.contains(&96) && can.contains(&108) && can.contains(&80));
    let wanted = Wanted {
        escape: vec![30],
        only: Some(can.clone()),
        ..Wanted::new(Target::exact(3600), 2, 60..=150, [12])
    };
    assert!(all(&Wanted { wheels: vec![96, 90], ..wanted.clone() }).is_empty());
    let told = why_not(&Wanted { wheels: vec![96, 90], ..wanted.clone() }, &mut |_| true).unwrap().unwrap();
    assert!(
        told.cures
            .contains(&"96/12 × 90/12, escape wheel 30 would do, if 96 could be divided here".to_owned()),
        "{told:?}"
    );
    let ranked = best(&wanted, &going_wishes(Some(can), 8), 5, &mut |_| true).unwrap();
    assert_eq!(ranked.best[0].train.to_string(), "108/12 × 80/12, escape wheel 30");
    assert_eq!(why_not(&wanted, &mut |_| true).unwrap(), None);
}
#[test]
fn a_prime_that_no_wheel_holds_is_named() {
    let wanted = Wanted::new(Target::exact(59), 2, 60..=110, 6..=12);
    let told = why_not(&wanted, &mut |_| true).unwrap().unwrap();
    assert_eq!(
        told.says,
        "the ratio is 59: a wheel must have 59 teeth or a multiple of 59, and none among 60 to 110 is one"
    );
    let nearest = told.nearest.unwrap();
    // By hand: no product of two wheels over two pinions comes nearer than this one.
    let miss = |n: i128, d: i128| Fraction::new((n - 59 * d).abs(), 59 * d).unwrap();
    let mut least = miss(60 * 60, 36);
    for w in 60..=110_i128 {
        for v in 60..=110 {
            for p in 6..=12 {
                for q in 6..=12 {
                    least = least.min(miss(w * v, p * q));
                }
            }
        }
    }
    let error = nearest.error;
    let way = if error < Fraction::ZERO { "small" } else { "great" };
    assert!(told.cures.last().unwrap().contains(&format!("its ratio is too {way} by ")), "{:?}", told.cures);
    assert!(error == least || error == Fraction::ZERO.minus(least).unwrap());
    let divided: BTreeSet<u32> = (60..=110).collect();
    let wanted =
        Wanted { wheels: (50..=118).collect(), only: Some((6..=12).chain(divided).collect()), ..wanted };
    let told = why_not(&wanted, &mut |_| true).unwrap().unwrap();
    assert!(told.says.ends_with("and 59 and 118 cannot be divided here"), "{}", told.says);
    assert!(told.cures[0].ends_with("if 59 could be divided here"), "{:?}", told.cures);
    let seventh = Wanted::new(
        Target { value: Fraction::new(61_776, 7).unwrap(), slack: Slack::None },
        4,
        60..=100,
        [8, 10],
    );
    let told = why_not(&seventh, &mut |_| true).unwrap().unwrap();
    assert!(told.says.contains("a pinion must have 7 leaves"), "{}", told.says);
}
#[test]
fn too_few_stages_are_named() {
    let wanted = Wanted::new(Target::exact(500), 2, 60..=120, 8..=12);
    let told = why_not(&wanted, &mut |_| true).unwrap().unwrap();
    assert!(told.says.starts_with("a ratio of 500 is out of reach of 2 stages"), "{}", told.says);
    assert!(told.says.ends_with("gives 15 a stage, 225 in all"), "{}", told.says);
    assert!(told.cures[0].starts_with("one stage more: "), "{:?}", told.cures);
    let little = Wanted::new(Target::exact(2), 2, 60..=120, 8..=12);
    let told = why_not(&little, &mut |_| true).unwrap().unwrap();
    assert!(told.says.starts_with("a ratio of 2 is too little for 2 stages"), "{}", told.says);
    let none = Wanted::new(Target::exact(2), 2, [], 8..=12);
    assert!(why_not(&none, &mut |_| true).unwrap().unwrap().says.contains("no count is allowed for a wheel"));
}
#[test]
fn what_cannot_be_searched_is_refused() {
    let ok = Wanted::new(Target::exact(60), 2, 48..=120, 7..=16);
    let bad = [
        Wanted { stages: 0, ..ok.clone() },
        Wanted { stages: 5, ..ok.clone() },
        Wanted { target: Target::exact(0), ..ok.clone() },
        Wanted { target: Target::exact(-3), ..ok.clone() },
        Wanted { wheels: vec![0], ..ok.clone() },
        Wanted { pinions: vec![10_001], ..ok.clone() },
        Wanted {
            target: Target { value: Fraction::whole(60), slack: Slack::Absolute(Fraction::whole(-1)) },
            ..ok.clone()
        },
        Wanted {
            stages: 4,
            wheels: vec![10_000],
            target: Target { value: Fraction::new(i128::MAX, 3).unwrap(), slack: Slack::None },
            ..ok
        },
    ];
    for wanted in bad {
        assert!(search(&wanted, &mut |_| true).is_err(), "{wanted:?}");
    }
}
#[test]
fn sizes_and_turns() {
    // OD 108, module 0.8, addendum 1.7: 0.8 (z + 3.4) <= 108, z <= 131.6.
    let f = |t: &str| Fraction::decimal(t).unwrap();
    assert_eq!(most_teeth(f("108"), f("0.8"), f("1.7")), Some(131));
    assert_eq!(most_teeth(f("2"), f("0.8"), f("1.7")), None);
    let train = [Stage { wheel: 96, pinion: 12 }, Stage { wheel: 90, pinion: 12 }];
    let turns = arbors(&train, Fraction::whole(3600), true).unwrap();
    let told: Vec<_> = turns.iter().map(|a| (a.turn.terms(), a.clockwise, a.seconds_hand())).collect();
    assert_eq!(told, [((3600, 1), true, false), ((450, 1), false, false), ((60, 1), true, true)]);
    // One mesh alone: the arbor turns in a minute, but backwards.
    let single = arbors(&[Stage { wheel: 480, pinion: 8 }], Fraction::whole(3600), true).unwrap();
    assert!(single[1].turn == Fraction::whole(60) && !single[1].seconds_hand());
}
