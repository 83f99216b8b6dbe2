//! Finish in routes: the order keeps every rule or says why not, allowances add up, ladders end where the shop does.

use crate::shed::{Work, example, mm, work};
use heat::order::{arrows, broken};
use making::plan::PartPlan;
use making::plan::finish::ladder::{Short, climb};
use proptest::prelude::*;
use record::facts::Finish;

/// A shop of the examples.
fn shop() -> String {
    example("hardware", "shop.toml")
}
/// A steel screw with something written under it.
fn screw(finish: &str) -> String {
    format!(
        "[clock]\nname = \"t\"\n\n[[screw]]\nname = \"test screw\"\nthread = \"M4\"\nlength = \"11 mm\"\nhead = {{ diameter = \"8 mm\", height = \"3.2 mm\" }}\nmaterial = \"silver steel\"\n{finish}\n"
    )
}
/// A brass washer likewise.
fn washer(finish: &str) -> String {
    format!(
        "[clock]\nname = \"t\"\n\n[[washer]]\nname = \"ring\"\nhole = \"5.5 mm\"\noutside = \"14 mm\"\nthickness = \"2 mm\"\nmaterial = \"brass CZ120\"\n{finish}\n"
    )
}
fn works(w: &Work) -> Vec<String> {
    w.making.parts[0].finish.works.clone()
}
/// All that is done to a part, set-up by set-up.
fn done(plan: &PartPlan) -> Vec<&'static str> {
    plan.setups.iter().flat_map(|s| &s.operations).flat_map(|o| o.does.iter().copied()).collect()
}
/// Hard rules that a route breaks around a step of its finish, but for those put aside.
fn spoilt(plan: &PartPlan) -> Vec<String> {
    let done = done(plan);
    let mut each: Vec<&str> = done.clone();
    each.sort_unstable();
    each.dedup();
    let mine = |w: &str| plan.finish.works.iter().any(|m| m == w);
    let aside =
        |first: &str, then: &str| plan.finish.aside.iter().any(|(a, _)| a.first == first && a.then == then);
    arrows(&each)
        .into_iter()
        .filter(|a| a.hard && (mine(&a.first) || mine(&a.then)) && !aside(&a.first, &a.then))
        .filter(|a| {
            let last = done.iter().rposition(|d| *d == a.first);
            // Leaves are polished by their own operation; the ladder of the body is the later one.
            let first = if mine(&a.then) {
                done.iter().rposition(|d| *d == a.then)
            } else {
                done.iter().position(|d| *d == a.then)
            };
            last > first
        })
        .map(|a| format!("{} before {} ({})", a.then, a.first, a.why))
        .collect()
}

#[test]
fn every_route_of_the_examples_keeps_the_rules() {
    for name in ["hardware", "ten-screws"] {
        let w = Work::example(name);
        assert!(w.troubles.is_empty(), "{name}");
        for p in &w.making.parts {
            assert_eq!(spoilt(p), Vec::<String>::new(), "{name}: {}", w.parts[p.part].common.name);
            for f in &p.finish.words {
                let main = making::plan::finish::wanted::main_work(*f);
                assert!(done(p).contains(&main), "{} of {}", f.word(), w.parts[p.part].common.name);
            }
        }
    }
    for name in ["regulator", "table-clock"] {
        let w = crate::shed::work_movement(&example(name, "clock.toml"), &example(name, "shop.toml"));
        for p in &w.making.parts {
            assert_eq!(spoilt(p), Vec::<String>::new(), "{name}: {}", w.parts[p.part].common.name);
        }
    }
}
#[test]
fn a_screw_is_papered_hardened_polished_and_blued() {
    let w = work(&screw("finish = [\"harden\", \"polish\", \"blue\"]"), &shop());
    assert_eq!(
        works(&w),
        ["pre-finish", "coat", "harden", "clean", "temper", "polish", "degrease", "blue", "oil"]
    );
    // As quenched it is brittle: it is tempered though nothing is written.
    let w = work(&screw("finish = [\"harden\", \"polish\"]"), &shop());
    assert!(works(&w).contains(&"temper".to_owned()));
}
#[test]
fn a_spoiling_order_shows_its_ring_and_both_ways_out() {
    let w = work(&screw("finish = [\"polish\", \"harden\", \"blue\"]"), &shop());
    assert_eq!(w.making.parts.len(), 0);
    let told = w.troubles[0].to_string();
    for part in [
        "\"polish\" stands before \"harden\"",
        "ring",
        "harden goes before polish: scale and lost carbon would eat the finish",
        "finish = [\"harden\", \"polish\", \"blue\"]",
        "order = [{ first = \"polish\", then = \"harden\", reason = ",
    ] {
        assert!(told.contains(part), "{part}\n{told}");
    }
    assert_eq!(w.troubles[0].at.len(), 2);
    let w = work(&screw("finish = [\"harden\", \"blue\", \"polish\"]"), &shop());
    assert!(w.troubles[0].to_string().contains("polish goes before blue"), "{}", w.troubles[0]);
}
#[test]
fn a_written_reason_turns_the_order_and_is_kept() {
    let text = screw(
        "finish = [\"polish\", \"harden\", \"temper\"]\norder = [{ first = \"polish\", then = \"harden\", reason = \"foil and argon\" }]",
    );
    let w = work(&text, &shop());
    assert!(w.troubles.is_empty(), "{}", w.troubles[0]);
    let f = &w.making.parts[0].finish;
    let at = |x: &str| f.works.iter().position(|w| w == x);
    assert!(at("polish") < at("harden") && at("harden") < at("temper"), "{:?}", f.works);
    let said = f.otherwise();
    assert!(
        said.iter().any(|s| s.contains("polish before harden") && s.contains("foil and argon")),
        "{said:?}"
    );
    assert_eq!(spoilt(&w.making.parts[0]), Vec::<String>::new());
}
#[test]
fn advice_gives_way_to_what_is_written_and_says_so() {
    let w = work(&washer("finish = [\"snail\", \"grain\", \"lacquer\"]"), &shop());
    assert_eq!(works(&w), ["snail", "grain", "degrease", "lacquer"]);
    assert_eq!(w.making.parts[0].finish.gave_way.len(), 1);
    let w = work(&washer("finish = [\"grain\", \"snail\", \"lacquer\"]"), &shop());
    assert_eq!(works(&w), ["grain", "snail", "degrease", "lacquer"]);
}
#[test]
fn what_is_turned_keeps_what_the_ladder_takes() {
    let w = work(&screw("finish = [\"harden\", \"polish\"]"), &shop());
    let l = w.making.parts[0].finish.ladder.as_ref().unwrap();
    let sum: f64 = l.rungs.iter().map(|r| mm(r.off.bare())).sum();
    assert!((sum - mm(l.off.bare())).abs() < 1e-9);
    // By hand: 1.5 × 0.15 × 30 µm and 10 µm of skin, then 1.5 × 0.15 × 18, 1.5 × 0.15 × 9, 1.5 × 0.10 × 6 and × 3.
    assert!((sum - (6.75 + 10.0 + 4.05 + 2.025 + 0.9 + 0.45) / 1e3).abs() < 1e-9, "{sum}");
    assert!((w.mm("test_screw.finish.left") - 2.0 * sum).abs() < 1e-9);
    let mut seen = 0;
    for line in w.book.lines() {
        if let Some(at) = line.name.strip_suffix(".turn_to") {
            let (to, aim, left) =
                (line.si.unwrap() * 1e3, w.mm(&format!("{at}.aim")), w.mm(&format!("{at}.left")));
            assert!((to - aim - left).abs() < 1e-9, "{}", line.name);
            assert!(left <= 2.0 * sum + 1e-9);
            seen += 1;
        }
    }
    assert!(seen > 0);
    // A thread is cut to its own size.
    let bare = work(&screw("finish = []"), &shop());
    assert!(bare.book.lines().all(|l| !l.name.ends_with(".turn_to")));
}
#[test]
fn three_to_one_goes_on_a_hard_lap_only() {
    // Grains 18, 9, 6, 3, 1 with laps of boxwood, tin and felt: the last step is 3 to 1.
    let w = work(&screw("finish = [\"harden\", \"polish\"]"), &shop());
    let l = w.making.parts[0].finish.ladder.as_ref().unwrap();
    let last = l.rungs.last().unwrap();
    assert!(last.hard && last.lap == "tin or zinc");
    assert!(l.remarks()[0].contains("3 to 1") && l.remarks()[0].contains("hard lap only"));
    assert!(w.holds("shine.steel_polish_hard.reaches"));
    assert!(w.holds("shine.steel_polish_hard.step5.on_a_hard_lap"));
    let soft = shop().replace("laps = [\"boxwood\", \"tin\", \"felt\"]", "laps = [\"boxwood\", \"felt\"]");
    let w = work(&screw("finish = [\"harden\", \"polish\"]"), &soft);
    assert!(!w.holds("shine.steel_polish_hard.reaches"));
    let short = w.making.parts[0].finish.ladder.as_ref().unwrap().short.clone();
    let Some(Short::NoHardLap { from, to, buy }) = short else { panic!("{short:?}") };
    assert!((from - 3.0).abs() < 1e-6 && (to - 1.0).abs() < 1e-6 && (buy - 3f64.sqrt()).abs() < 1e-6);
}
#[test]
fn a_finish_that_the_grains_do_not_reach_is_a_verdict_with_a_cure() {
    for (grits, reaches) in
        [("[18, 9]", false), ("[18, 9, 3]", false), ("[18, 9, 6, 3, 1]", true), ("[]", false)]
    {
        let text = shop().replace("um = [18, 9, 6, 3, 1]", &format!("um = {grits}"));
        let w = work(&screw("finish = [\"harden\", \"polish\", \"blue\"]"), &text);
        assert_eq!(w.holds("shine.steel_polish_hard.reaches"), reaches, "{grits}");
        let cures = w.book.failing().filter(|l| l.name == "shine.steel_polish_hard.reaches").count();
        assert_eq!(cures, usize::from(!reaches));
        // The route goes on, so that all that is wrong is found in one go.
        assert!(works(&w).contains(&"blue".to_owned()));
    }
}
#[test]
fn a_house_default_is_listed_and_none_is_none() {
    let w = work(&washer(""), &shop());
    assert_eq!(works(&w), ["grain"]);
    let line = w.book.find("ring.finish").unwrap().1;
    assert_eq!(line.shown, "grain");
    assert!(w.book.assumptions().any(|l| l.name == "ring.finish"));
    let w = work(&washer("finish = []"), &shop());
    assert!(works(&w).is_empty() && w.book.find("ring.finish").is_none());
}
#[test]
fn annealing_goes_in_front_of_the_cutting_and_gilding_out_of_the_house() {
    let w = work(&washer("finish = [\"stress relieve\", \"polish\", \"gild\"]"), &shop());
    assert_eq!(done(&w.making.parts[0])[0], "stress relieve");
    let op = w.operations().map(|(_, _, o)| o).find(|o| o.does == ["gild"]).unwrap();
    assert!(op.cautions.iter().any(|c| c.text().contains("mercury")));
    assert!(op.lines[0].contains("bought service"));
}
fn words() -> impl Strategy<Value = Vec<Finish>> {
    let brass = [
        Finish::Anneal,
        Finish::Relieve,
        Finish::Polish,
        Finish::Grain,
        Finish::Snail,
        Finish::Frost,
        Finish::Silver,
        Finish::Gild,
        Finish::Lacquer,
        Finish::Wax,
    ];
    let steel = [
        Finish::Anneal,
        Finish::Harden,
        Finish::Temper,
        Finish::Black,
        Finish::Grain,
        Finish::Blue,
        Finish::Wax,
    ];
    any::<bool>().prop_flat_map(move |of_steel| {
        let all: Vec<Finish> = if of_steel { steel.to_vec() } else { brass.to_vec() };
        let n = all.len();
        (proptest::sample::subsequence(all, 1..n), Just(of_steel))
            .prop_flat_map(|(set, _)| Just(set).prop_shuffle())
    })
}
fn written(words: &[Finish]) -> String {
    let list: Vec<String> = words.iter().map(|f| format!("\"{}\"", f.word())).collect();
    format!("finish = [{}]", list.join(", "))
}
fn of_steel(words: &[Finish]) -> bool {
    words.iter().any(|f| matches!(f, Finish::Harden | Finish::Temper | Finish::Black | Finish::Blue))
}
proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn whatever_is_written_is_kept_to_the_rules_or_refused_with_its_ring(words in words()) {
        let soft = words.contains(&Finish::Temper) && !words.contains(&Finish::Harden);
        prop_assume!(!soft);
        let text = if of_steel(&words) { screw(&written(&words)) } else { washer(&written(&words)) };
        let w = work(&text, &shop());
        let mains: Vec<&str> = words.iter().map(|f| making::plan::finish::wanted::main_work(*f)).collect();
        let spoils = broken(&mains).unwrap().iter().any(|a| a.hard);
        match w.making.parts.first() {
            Some(p) => {
                prop_assert!(!spoils);
                prop_assert_eq!(spoilt(p), Vec::<String>::new());
            }
            None => {
                prop_assert!(spoils, "{}", w.troubles[0]);
                prop_assert!(w.troubles[0].to_string().contains("ring"));
            }
        }
    }
    #[test]
    fn the_order_of_writing_free_works_moves_nothing(words in words()) {
        let soft = words.contains(&Finish::Temper) && !words.contains(&Finish::Harden);
        prop_assume!(!soft);
        let mains: Vec<&str> = words.iter().map(|f| making::plan::finish::wanted::main_work(*f)).collect();
        prop_assume!(broken(&mains).unwrap().is_empty());
        let mut sorted = words.clone();
        sorted.sort_by_key(|f| heat::order::WORKS.iter().position(|w| *w == making::plan::finish::wanted::main_work(*f)));
        let text = |all: &[Finish]| if of_steel(all) { screw(&written(all)) } else { washer(&written(all)) };
        let (a, b) = (work(&text(&words), &shop()), work(&text(&sorted), &shop()));
        prop_assert_eq!(works(&a), works(&b));
        let titles = |w: &Work| w.operations().map(|(_, s, o)| (s.title.clone(), o.title.clone())).collect::<Vec<_>>();
        prop_assert_eq!(titles(&a), titles(&b));
    }
    #[test]
    fn no_ladder_takes_a_step_that_its_lap_does_not_stand(
        grits in proptest::collection::vec(0.3..40.0f64, 0..9), to in 0.5..10.0f64, steel in any::<bool>(), laps in 0usize..4
    ) {
        let mut grits = grits;
        grits.sort_by(|a, b| b.total_cmp(a));
        let own: Vec<String> = ["boxwood", "tin", "felt"].iter().take(laps).map(|l| (*l).to_owned()).collect();
        let (rungs, short) = climb(&grits, &own, if steel { "steel" } else { "brass" }, 30.0, to);
        let mut before = 30.0;
        for r in &rungs {
            prop_assert!(r.grain < before && before / r.grain <= 3.0 + 1e-6);
            prop_assert!(before / r.grain <= 2.5 + 1e-6 || r.lap.hold == heat::polish::Hold::Hard);
            prop_assert!(r.grain >= r.lap.finest - 1e-6 && r.grain <= r.lap.coarsest + 1e-6);
            before = r.grain;
        }
        // It ends where it should, or says why not.
        prop_assert_eq!(short.is_none(), before <= to + 1e-6, "{:?} {:?}", rungs, short);
    }
}
