//! The order over whole clocks, what the maker wants otherwise, and what fits an evening.

use crate::shed::{Work, example, work_movement};
use making::plan::order::tonight::{Evening, SURE, Tonight, done, meant, tonight};
use making::plan::order::{Job, Of, Order, Whole};
use proptest::prelude::*;
use reckon::Trouble;
use std::collections::BTreeSet;
use std::sync::LazyLock;

fn clock(name: &str, more: &str) -> Work {
    work_movement(&format!("{}\n{more}", example(name, "clock.toml")), &example(name, "shop.toml"))
}
static REGULATOR: LazyLock<Order> = LazyLock::new(|| clock("regulator", "").making.order);

fn place(o: &Order, name: &str) -> usize {
    o.jobs.iter().position(|j| j.name == name).unwrap_or_else(|| {
        panic!("no '{name}' in {:?}", o.jobs.iter().map(|j| j.name.as_str()).collect::<Vec<_>>())
    })
}
fn before(o: &Order, a: &str, b: &str) -> bool {
    place(o, a) < place(o, b)
}
#[test]
fn whole_clocks_go_together_in_the_right_order() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = clock(name, "");
        let ring = w.troubles.iter().find(|t| t.to_string().contains("ring"));
        assert!(ring.is_none(), "{name}: {ring:?}");
        let o = &w.making.order;
        for a in &o.kept {
            assert!(a.first < a.then, "{name}: '{}' before '{}'", o.jobs[a.first].name, o.jobs[a.then].name);
        }
        let names: BTreeSet<&str> = o.jobs.iter().map(|j| j.name.as_str()).collect();
        assert_eq!(names.len(), o.jobs.len(), "{name}: each name once");
        let at = |w: Whole| place(o, w.name());
        assert!(at(Whole::Dry) < at(Whole::Together) && at(Whole::Together) < at(Whole::Beat));
        assert_eq!(at(Whole::Run), o.jobs.len() - 1, "{name}");
        // Nothing is lacquered or silvered before it was tried.
        for (i, j) in o.jobs.iter().enumerate() {
            let Of::Part(p, k) = j.kind else { continue };
            let s = &w.making.parts[p].setups[k];
            let hangs = ["weight", "pendulum", "rating"].iter().any(|h| j.of.starts_with(h));
            if s.operations.iter().any(|o| o.does.contains(&"lacquer")) && !hangs {
                assert!(i > at(Whole::Dry), "{name}: {}", j.name);
            }
            if s.title.starts_with("joined: ") && !s.operations.iter().any(|o| o.does.contains(&"blue")) {
                assert!(i < at(Whole::Together), "{name}: {}", j.name);
            }
        }
        assert!(o.hours.chain_work.bare() < o.hours.total.bare());
        let (likely, least, most) = o.hours.evenings;
        assert!(least.bare() < likely.bare() && likely.bare() < most.bare());
    }
}
#[test]
fn cutters_before_wheels_pinions_before_wheels_and_the_pair_of_plates() {
    let o = &*REGULATOR;
    assert!(before(o, "cutter for 80 teeth, module 0.500 mm", "third wheel: teeth cut"));
    assert!(before(o, "escape arbor: leaves cut", "third wheel: teeth cut"));
    assert!(before(o, "front plate: blank", "back plate: back plate and front plate as one"));
    assert!(before(o, "back plate: back plate and front plate as one", "front plate: with the back plate"));
    assert!(before(o, "buy: stock", "great wheel: blank and bore"));
    assert!(before(o, "third arbor: after the fire", "back plate: holes to size"));
    assert!(before(o, "third wheel: on its seat", "third wheel: join the third wheel on the third collet"));
    // One heat for all arbors of one steel and one temper; one setting for the blanks.
    let line = |name: &str| o.jobs[place(o, name)].line;
    assert_eq!(line("third arbor: heat"), line("escape arbor: heat"));
    assert_eq!(line("third wheel: outside"), line("escape wheel: outside"));
    let again = &o.jobs[place(o, "escape wheel: outside")];
    assert!(again.setting.0 == 0.0 && again.anew.0 > 0.0, "set up once");
}
/// The eighth of a kind takes 36.847 min where the first took 60: each doubling takes 85 hundredths.
#[test]
fn the_eighth_of_a_kind() {
    assert!((60.0 * heat::times::learnt(8.0, heat::times::SHARE) - 36.847).abs() < 5e-4);
    let w = clock("regulator", "");
    let (o, plans) = (&w.making.order, &w.making.parts);
    let arbors = o.jobs.iter().filter(|j| j.of.ends_with(" arbor") && j.title == "leaves cut");
    for (n, j) in (1u32..).zip(arbors) {
        let Of::Part(p, k) = j.kind else { panic!("a part") };
        let first: f64 = plans[p].setups[k].operations.iter().map(|o| o.time.mean()).sum();
        let share = heat::times::learnt(f64::from(n), 0.85);
        assert!((j.work.0 - first * share).abs() < 1e-9, "{}: {} min", j.name, j.work.0);
    }
}
fn told(w: &Work) -> String {
    w.troubles.iter().map(Trouble::to_string).collect::<Vec<_>>().join("\n")
}
fn wish(first: &str, then: &str) -> String {
    format!("[[order]]\nfirst = \"{first}\"\nthen = \"{then}\"\nreason = \"the cutter is lent\"\n")
}
#[test]
fn the_maker_has_it_otherwise_with_a_reason() {
    let plain = &*REGULATOR;
    assert!(before(plain, "escape arbor: leaves cut", "third wheel: teeth cut"));
    let w = clock("regulator", &wish("third wheel: teeth cut", "escape arbor: leaves cut"));
    let o = &w.making.order;
    assert!(before(o, "third wheel: teeth cut", "escape arbor: leaves cut"));
    let (aside, reason) = o.aside.first().expect("what was put aside is told");
    assert_eq!(reason, "the cutter is lent");
    assert_eq!(o.jobs[aside.first].name, "escape arbor: leaves cut");
    let job = &o.jobs[place(o, "escape arbor: leaves cut")];
    assert!(job.why.contains("as you wish: the cutter is lent"), "{}", job.why);
}
#[test]
fn a_ring_is_shown_and_an_unknown_job_gets_what_is_near() {
    let w = clock("regulator", &wish("third arbor: heat", "third arbor: leaves cut"));
    let text = told(&w);
    assert!(text.contains("the order would run in a ring"), "{text}");
    assert!(text.contains(
        "'third arbor: heat' before 'third arbor: leaves cut' (your [[order]]: the cutter is lent)"
    ));
    assert!(
        text.contains("'third arbor: leaves cut' before 'third arbor: papered before the heat'"),
        "{text}"
    );
    assert_eq!(w.making.order.jobs.len(), REGULATOR.jobs.len());
    let w = clock("regulator", &wish("third weel", "great wheel"));
    let text = told(&w);
    assert!(text.contains("no job 'third weel'") && text.contains("third wheel"), "{text}");
}
fn ask(minutes: f64, done: BTreeSet<usize>, set_up: Option<&str>) -> Evening {
    Evening { minutes, set_up: set_up.map(str::to_owned), done }
}
fn spread(o: &Order, t: &Tonight) -> f64 {
    let one = |j: &Job, sets: bool| if sets { j.anew.1 * j.anew.1 } else { 0.0 } + j.work.1 * j.work.1;
    t.picks.iter().filter(|p| !p.part).map(|p| one(&o.jobs[p.job], p.sets_up)).sum::<f64>().sqrt()
}
#[test]
fn what_is_set_up_is_used_and_what_stands_far_off_is_bought_first() {
    let o = &*REGULATOR;
    let t = tonight(o, &ask(150.0, BTreeSet::new(), None));
    assert_eq!(o.jobs[t.picks[0].job].name, "buy: stock");
    let bought = done(o, &["buy: stock".to_owned()]).expect("a job");
    assert!(meant(o, "lathe: 10 mm collet").is_ok());
    let t = tonight(o, &ask(150.0, bought, Some("lathe: 10 mm collet")));
    let first = t.picks.iter().find(|p| o.jobs[p.job].kind != Of::Buy).expect("something");
    assert!(o.jobs[first.job].held.contains("collet 10 mm") && !first.sets_up);
    assert!(meant(o, "lathe: collet 33 mm").is_err());
    assert!(done(o, &["grat wheel".to_owned()]).is_err());
}
proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]
    /// Whatever is done and however long the evening: nothing is offered that waits, nothing twice, nothing done
    /// before; and four times of five it fits.
    #[test]
    fn tonight_never_offers_what_waits(picked in prop::collection::vec(any::<prop::sample::Index>(), 0..60), minutes in 10.0..600.0f64) {
        let o = &*REGULATOR;
        let names: Vec<String> = picked.iter().map(|i| o.jobs[i.index(o.jobs.len())].name.clone()).collect();
        let before = done(o, &names).expect("names of jobs");
        // What is done had all it waited for.
        for i in &before {
            prop_assert!(o.jobs[*i].after.iter().all(|a| before.contains(a)));
        }
        let t = tonight(o, &ask(minutes, before.clone(), None));
        let mut have = before.clone();
        let mut at = 0.0;
        for p in &t.picks {
            let j = &o.jobs[p.job];
            prop_assert!(j.after.iter().all(|a| have.contains(a)), "'{}' waits", j.name);
            // What dries or is on its way tonight is not there tonight.
            prop_assert!(j.after.iter().all(|a| before.contains(a) || o.jobs[*a].wait.0 == 0.0), "'{}'", j.name);
            prop_assert!(!have.contains(&p.job));
            prop_assert!((p.from - at).abs() < 1e-9 && p.to >= p.from);
            at = p.to;
            if !p.part {
                have.insert(p.job);
            }
        }
        prop_assert!(t.sure <= minutes + 1e-6, "{} of {minutes}", t.sure);
        prop_assert!((t.sure - at - SURE * spread(o, &t)).abs() < 1e-6);
        for i in &t.others {
            prop_assert!(o.jobs[*i].after.iter().all(|a| have.contains(a)) && !have.contains(i));
        }
    }
    /// More time never gives nothing where less gave something.
    #[test]
    fn a_longer_evening_is_never_empty(a in 20.0..300.0f64, more in 0.0..300.0f64) {
        let o = &*REGULATOR;
        let n = |m: f64| tonight(o, &ask(m, BTreeSet::new(), None)).picks.len();
        prop_assert!(n(a) == 0 || n(a + more) > 0);
    }
}
