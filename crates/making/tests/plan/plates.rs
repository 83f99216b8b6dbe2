//! Plates: pairs by equal centres, one position for both, drills under what follows them.

use crate::shed::{Work, example, same, work_movement};
use making::plan::plate::pair::{Pair, pairs};
use movement::part::{Body, FlatBody};

fn movement(name: &str) -> Work {
    work_movement(&example(name, "clock.toml"), &example(name, "shop.toml"))
}
fn flat(w: &Work, i: usize) -> &FlatBody {
    let Body::Flat(f) = &w.parts[i].body else { panic!("flat") };
    f
}
fn pair(w: &Work) -> Pair {
    let mut all = pairs(&w.parts);
    assert_eq!(all.len(), 1, "one pair of plates");
    all.remove(0)
}
#[test]
fn holes_of_a_pair_coincide_and_are_drilled_once() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = movement(name);
        let p = pair(&w);
        let (a, b) = (flat(&w, p.parts.0), flat(&w, p.parts.1));
        for s in &p.shared {
            let (h, k) = (&a.holes[s.of.0], &b.holes[s.of.1]);
            assert!(same(h.centre.0.bare().in_mm(), k.centre.0.bare().in_mm()), "{name} {}", h.label);
            assert!(same(h.centre.1.bare().in_mm(), k.centre.1.bare().in_mm()), "{name} {}", h.label);
        }
        // Each hole of each plate stands in one list of the pages: the pair's, or that plate's own.
        let rows = |t: &str| if w.book.find(t).is_some() { w.rows(t).len() } else { 0 };
        let slug = |i: usize| w.parts[i].slug().to_owned();
        let (one, two) = (slug(p.parts.0), slug(p.parts.1));
        let together = rows(&format!("{one}.holes.register")) + rows(&format!("{one}.holes"));
        assert_eq!(together, p.shared.len());
        assert_eq!(together + rows(&format!("{one}.holes.own")), a.holes.len(), "{name}");
        assert_eq!(together + rows(&format!("{two}.holes.own")), b.holes.len(), "{name}");
    }
}
#[test]
fn the_first_two_are_the_farthest_that_take_a_pin_and_the_rest_go_from_large_to_small() {
    let w = movement("regulator");
    let p = pair(&w);
    assert_eq!(p.register, 2);
    assert!(p.shared[..2].iter().all(|s| s.labels.0.starts_with("pillar")));
    let rest: Vec<f64> = p.shared[2..].iter().map(|s| s.smaller().value()).collect();
    assert!(rest.windows(2).all(|v| v[0] >= v[1]), "{rest:?}");
    // Two pins 84 by 194 mm apart: sqrt(84² + 194²).
    assert!((w.mm("plates.back_plate.register.apart") - 211.405).abs() < 1e-3);
    assert!(w.mm("plates.back_plate.register.shift") <= 0.01);
    assert!((w.mm("plates.back_plate.register.over_plugs") - 217.405).abs() < 1e-3);
}
#[test]
fn a_drill_is_under_what_follows_it_and_under_the_hole() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = movement(name);
        let mut seen = 0;
        for part in &w.parts {
            let Body::Flat(f) = &part.body else { continue };
            for h in &f.holes {
                let at = format!("{}.hole.{}", part.slug(), reckon::slug(&h.label));
                let Some((_, line)) = w.book.find(&format!("{at}.drilled")) else { continue };
                let drilled = line.si.expect("a number");
                let size = h.diameter.nominal.bare().value();
                assert!(drilled <= size - 0.0299e-3, "{name} {at}: {drilled} {size}");
                // A drill cuts up to 0.03 over its size in sheet held flat: still not over the limit.
                assert!(drilled + 0.03e-3 <= size + h.diameter.upper.bare().value() + 1e-9, "{name} {at}");
                seen += 1;
            }
        }
        assert!(seen > 5, "{name}");
    }
}
#[test]
fn oil_sinks_leave_a_bearing() {
    let w = movement("regulator");
    let deep = w.mm("plates.back_plate.hole.great.sink.depth");
    // 90°: as deep as it is wider on each side.
    let f = flat(&w, pair(&w).parts.0);
    let h = f.holes.iter().find(|h| h.label == "great").expect("a hole");
    let (_, mouth) = h.countersink.expect("a sink");
    assert!(same(deep, (mouth.bare() - h.diameter.nominal.bare()).in_mm() / 2.0));
    assert!(same(w.mm("plates.back_plate.hole.great.sink.bears") + deep, f.thickness.nominal.bare().in_mm()));
}
#[test]
fn stress_leaves_before_form_and_burrs_after_holes() {
    let w = movement("table-clock");
    let p = pair(&w);
    for i in [p.parts.0, p.parts.1] {
        let plan = w.making.parts.iter().find(|q| q.part == i).expect("a plan");
        let works: Vec<&str> =
            plan.setups.iter().flat_map(|s| &s.operations).flat_map(|o| o.does.iter().copied()).collect();
        let first = |word: &str| works.iter().position(|w| *w == word);
        assert!(first("rough turn") < first("stress relieve"), "{works:?}");
        assert!(first("stress relieve") < first("form"), "{works:?}");
        assert!(first("form") < first("drill"), "{works:?}");
        assert!(first("drill") < works.iter().rposition(|w| *w == "deburr"), "{works:?}");
    }
}
