use super::*;
use proptest::prelude::*;

fn whole(n: i64) -> Fraction {
    Fraction::whole(n)
}
fn part(n: i128, d: i128) -> Fraction {
    Fraction::new(n, d).unwrap()
}
/// An eight-day regulator with motion work.
fn regulator() -> Gearing {
    Gearing::new(vec![
        Mesh::outside("great", 144, "centre", 12),
        Mesh::outside("centre", 108, "third", 12),
        Mesh::outside("third", 80, "escape", 12),
        Mesh::outside("centre", 15, "minute wheel", 45),
        Mesh::outside("minute wheel", 12, "hour", 48),
    ])
}
#[test]
fn regulator_turns() {
    let s = regulator().solve(&Demand::minute("centre")).unwrap();
    let of = |n| s.of(n).unwrap();
    assert_eq!(of("escape").per_hour, whole(60));
    assert_eq!(of("great").per_hour, part(-1, 12));
    assert_eq!(of("great").turn(), Some(whole(43_200)));
    assert_eq!(of("third").per_hour, whole(-9));
    assert_eq!(of("hour").per_hour, part(1, 12));
    assert_eq!(of("hour").hand(), "hour hand, dial of 12");
    assert_eq!(of("escape").path, "centre 108 : 12 third 80 : 12 escape");
    assert_eq!(s.seconds().map(|a| a.arbor.as_str()).collect::<Vec<_>>(), ["escape"]);
    // From the escape wheel back it is the same.
    let back = regulator().solve(&Demand::beats("escape", 30, whole(3600)).unwrap()).unwrap();
    for a in &s.arbors {
        assert_eq!(back.of(&a.arbor).unwrap().per_hour, a.per_hour, "{}", a.arbor);
    }
    assert_eq!(
        regulator().solve(&Demand::turn("escape", whole(60)).unwrap()).unwrap().of("centre").unwrap().hand(),
        "minute hand"
    );
}
#[test]
fn odd_counts_stay_whole() {
    let w = Gearing::new(vec![Mesh::outside("c", 78, "t", 7), Mesh::outside("t", 72, "e", 7)]);
    let e = w.solve(&Demand::minute("c")).unwrap();
    assert_eq!(e.of("e").unwrap().beats(11), Some(part(78 * 72 * 22, 49)));
}
#[test]
fn an_idler_too_few_runs_a_seconds_hand_backwards() {
    let w = Gearing::new(vec![Mesh::outside("centre", 600, "escape", 10)]);
    let s = w.solve(&Demand::minute("centre")).unwrap();
    assert_eq!(s.of("escape").unwrap().hand(), "none: a seconds hand would run backwards");
    let inside = Gearing::new(vec![Mesh::inside("centre", 600, "escape", 10)]);
    let s = inside.solve(&Demand::minute("centre")).unwrap();
    assert_eq!(s.of("escape").unwrap().hand(), "seconds hand");
}
#[test]
fn faults_are_told_with_both_ways() {
    let mut w = regulator();
    w.meshes.push(Mesh::outside("great", 96, "third", 12));
    let faults = w.solve(&Demand::minute("centre")).unwrap_err();
    assert_eq!(faults.len(), 1);
    assert_eq!(
        faults[0].to_string(),
        "'third' would turn at two paces: 9 turns an hour anticlockwise by centre 108 : 12 third, \
         but 2/3 turns an hour clockwise by centre 12 : 144 great 96 : 12 third"
    );
    let mut w = regulator();
    w.meshes.push(Mesh::outside("escape", 12, "centre", 720));
    w.meshes.push(Mesh::outside("moon", 12, "disc", 72));
    let told: Vec<String> =
        w.solve(&Demand::minute("centre")).unwrap_err().iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "these drive each other round in a ring: third > escape > centre",
            "'escape' would turn at two paces: 60 turns an hour anticlockwise by centre 720 : 12 escape, \
             but 60 turns an hour clockwise by centre 108 : 12 third 80 : 12 escape",
            "no mesh joins moon, disc to 'centre'"
        ][..],
    );
    let nought = Gearing::new(vec![Mesh::outside("a", 0, "b", 8), Mesh::outside("b", 8, "b", 8)]);
    assert_eq!(nought.solve(&Demand::minute("c")).unwrap_err().len(), 3);
}
#[test]
fn counts_off_by_one() {
    let all = off_by_one(&[(108, 12), (80, 12)]);
    assert_eq!(all.len(), 8);
    let third = all.iter().find(|o| o.wheel && o.cut == 79).unwrap();
    assert!((third.gain.to_f64() - 1093.671).abs() < 1e-3);
    let wheel = |n| off_by_one(&[(n, 10)])[0].gain.to_f64();
    assert!((wheel(75) - 1167.57).abs() < 0.005, "a wheel of 74 for 75 gains");
    // A pinion of one leaf too few: the escape wheel runs fast for the hands, so they lose.
    let leaf = all.iter().find(|o| !o.wheel && o.cut == 11).unwrap();
    assert_eq!(leaf.gain, whole(-7200));
}
#[test]
fn the_same_teeth_meet() {
    let h = |w, p| hunting(w, p).map(|h| (h.common, h.wheel_turns, h.pinion_turns));
    assert_eq!(h(96, 12), Some((12, 1, 8)));
    assert_eq!(h(79, 12), Some((1, 12, 79)));
    assert_eq!(h(90, 12), Some((6, 2, 15)));
    assert_eq!((h(0, 12), h(12, 0)), (None, None));
}

proptest! {
    #[test]
    fn sense_turns_round_at_each_mesh(pairs in proptest::collection::vec((1_u32..200, 1_u32..40), 1..6)) {
        let names: Vec<String> = (0..=pairs.len()).map(|i| i.to_string()).collect();
        let s = Gearing::row(&names, &pairs).solve(&Demand::minute("0")).unwrap();
        for a in &s.arbors {
            prop_assert_eq!(a.clockwise(), a.meshes % 2 == 0);
        }
        let want = pairs.iter().try_fold(whole(1), |r, (w, p)| r.times(part(i128::from(*w), i128::from(*p))));
        prop_assert_eq!(Some(s.of(&pairs.len().to_string()).unwrap().pace()), want);
    }
    #[test]
    fn scaling_both_counts_changes_nothing(w in 1_u32..200, p in 1_u32..40, k in 1_u32..9) {
        let one = Gearing::new(vec![Mesh::outside("a", w, "b", p)]).solve(&Demand::minute("a")).unwrap();
        let many = Gearing::new(vec![Mesh::outside("a", w * k, "b", p * k)]).solve(&Demand::minute("a")).unwrap();
        prop_assert_eq!(&one.of("b").unwrap().per_hour, &many.of("b").unwrap().per_hour);
    }
    #[test]
    fn the_same_teeth_meet_no_sooner(w in 1_u32..120, p in 1_u32..40) {
        let h = hunting(w, p).unwrap();
        // Rolls on tooth by tooth until the first pair meets again.
        let mut rolled = 1_u32;
        while !(rolled.is_multiple_of(w) && rolled.is_multiple_of(p)) {
            rolled += 1;
        }
        prop_assert_eq!((rolled / w, rolled / p), (h.wheel_turns, h.pinion_turns));
    }
}
