//! Order of the list, its reasons, and its freedom from chance.

use super::bench::{b1, b3, b5, b8};
use crate::search::*;
use proptest::prelude::*;
use reckon::exact::Fraction;

fn texts(ranked: &Ranked) -> Vec<String> {
    ranked.best.iter().map(|s| s.train.to_string()).collect()
}

#[test]
fn the_smallest_errors_of_published_searches() {
    let first = |w: &Wanted| best(w, &[Wish::SmallError], 3, &mut |_| true).unwrap();
    let year = first(&b5(30));
    assert_eq!(year.found, 73);
    let train = &year.best[0].train;
    let product = |l: Vec<u32>| l.into_iter().map(u64::from).product::<u64>();
    // 33 × 89 × 97 / (6 × 10 × 13) and equals: 10.17 s in a year.
    assert_eq!(product(train.wheels()) * 6 * 10 * 13, product(train.pinions()) * 33 * 89 * 97);
    let seconds = (train.ratio().unwrap().to_f64() - 365.242_19) * 86_400.0;
    assert!((seconds.abs() - 10.17).abs() < 0.005, "{seconds}");
    let moon = first(&b8(10));
    assert_eq!((moon.best[0].train.wheels(), moon.best[0].train.pinions()), (vec![45, 73, 79], vec![13; 3]));
    let sidereal = first(&b3());
    let mut three: Vec<_> = sidereal.best.iter().map(|s| (s.train.wheels(), s.train.pinions())).collect();
    three.sort();
    assert_eq!(
        three,
        [(vec![51, 79], vec![41, 98]), (vec![51, 79], vec![49, 82]), (vec![79, 102], vec![82, 98])]
    );
    // All three are the same ratio: nothing but their counts parts them.
    assert!(sidereal.best[..2].iter().all(|s| s.reason.starts_with("equal in all that is wished")));
    assert!((sidereal.best[0].error.to_f64() * 86_400.0 + 0.0197).abs() < 1e-4);
}
#[test]
fn the_reason_is_the_first_wish_that_parts_two() {
    let wishes = [Wish::LeavesAtLeast(10), Wish::FewestCutters, Wish::EvenRatios, Wish::Small];
    let ranked = best(&b1(), &wishes, 4, &mut |_| true).unwrap();
    assert_eq!(ranked.found, 560);
    assert_eq!(texts(&ranked)[0], "80/10 × 75/10");
    assert_eq!(ranked.best[0].reason, "equal in all that is wished; 80/10 × 75/10 comes first by its counts");
    let sets = Wanted { told: Told::Sets, ..b1() };
    let ranked = best(&sets, &wishes, 4, &mut |_| true).unwrap();
    assert_eq!(texts(&ranked)[..2], ["80/10 × 75/10", "96/12 × 90/12"]);
    assert_eq!(ranked.best[0].reason, "fewer teeth in all: 175, against 210");
}
#[test]
fn a_set_stands_in_its_best_order() {
    // Evenness pairs 80 with 12 and 72 with 8 (9 and 6.67, not 10 and 6); the greater ratio leads.
    let limits = Limits::default();
    let order = |w: &[u32], p: &[u32]| going_order(w, p, &limits).unwrap();
    let told = |s: Vec<Stage>| Train { stages: s, escape: None }.to_string();
    assert_eq!(told(order(&[72, 80], &[8, 12])), "72/8 × 80/12");
    assert_eq!(told(order(&[60, 64], &[8, 8])), "64/8 × 60/8");
    // With equal ratios the greater pinion leads.
    assert_eq!(told(order(&[64, 96], &[8, 12])), "96/12 × 64/8");
}
#[test]
fn hunting_and_the_seconds_hand() {
    let wishes = [Wish::Hunting, Wish::EvenRatios];
    let ranked = best(&b1(), &wishes, 1, &mut |_| true).unwrap();
    assert!(ranked.best[0].train.stages.iter().all(|s| s.hunts()), "{:?}", texts(&ranked));
    let beats = Wanted { escape: vec![30, 40], ..Wanted::new(Target::exact(4800), 2, 60..=120, 8..=12) };
    let ranked = best(&beats, &[Wish::SecondsHand(Fraction::whole(3600))], 1, &mut |_| true).unwrap();
    assert_eq!(ranked.best[0].train.escape, Some(40));
}

fn a_wish() -> impl Strategy<Value = Wish> {
    prop_oneof![
        Just(Wish::SmallError),
        Just(Wish::FewestCutters),
        (6_u32..13).prop_map(Wish::LeavesAtLeast),
        proptest::collection::btree_set(6_u32..100, 5..60).prop_map(Wish::Divides),
        proptest::collection::btree_set(6_u32..14, 0..4).prop_map(Wish::CuttersOwned),
        Just(Wish::EvenRatios),
        Just(Wish::PowerFirst),
        Just(Wish::Small),
        Just(Wish::SmallWheel),
        Just(Wish::Hunting),
        Just(Wish::WholeRatios),
        (400_i64..900).prop_map(|turn| Wish::SecondsHand(Fraction::whole(turn))),
    ]
}
proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn the_best_few_are_the_head_of_the_whole_list(
        wishes in proptest::collection::vec(a_wish(), 0..5),
        keep in 1_usize..12,
        orders in any::<bool>(),
        share in 20_i128..2000,
        greatest_ratio in proptest::option::of(6_i64..10),
        greatest_sum in proptest::option::of(50_u32..70),
    ) {
        let limit = StageLimit { greatest_ratio: greatest_ratio.map(Fraction::whole), ..StageLimit::default() };
        let first = StageLimit { greatest_sum, ..StageLimit::default() };
        let limits = Limits { every: limit, each: vec![first], most_leaf_counts: None };
        let slack = Slack::Share(Fraction::new(1, share).unwrap());
        let target = Target { value: Fraction::whole(45), slack };
        let wanted = Wanted {
            told: if orders { Told::Orders } else { Told::Sets },
            limits,
            ..Wanted::new(target, 2, 40..=60, 6..=12)
        };
        // All of them, one by one, whatever order within the limits each set may stand in.
        let every = search(&Wanted { told: Told::Orders, ..wanted.clone() }, &mut |_| true).unwrap().trains;
        let mut rows: Vec<(Vec<Figure>, Train)> = every
            .into_iter()
            .map(|t| (wishes.iter().map(|w| w.figure(&t.stages, None, &wanted).unwrap()).collect(), t))
            .collect();
        rows.sort();
        let ranked = best(&wanted, &wishes, keep, &mut |_| true).unwrap();
        let mut heads: Vec<Vec<Figure>> = Vec::new();
        let mut seen = std::collections::BTreeSet::new();
        for (figures, t) in &rows {
            if orders || seen.insert((t.wheels(), t.pinions())) {
                heads.push(figures.clone());
            }
        }
        prop_assert_eq!(ranked.found, heads.len() as u64);
        heads.truncate(keep);
        let got: Vec<Vec<Figure>> = ranked.best.iter().map(|s| s.figures.clone()).collect();
        prop_assert_eq!(got, heads);
        // Each reason speaks of what parts two neighbours.
        for pair in ranked.best.windows(2) {
            let equal = pair[0].figures == pair[1].figures;
            prop_assert_eq!(pair[0].reason.starts_with("equal in all"), equal);
        }
    }
}
