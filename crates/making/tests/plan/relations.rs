//! Two projects that differ in one way, and what may differ in their books.

use crate::shed::{Work, clock, example, shop, work};
use proptest::prelude::*;
use reckon::Book;
use std::collections::{BTreeMap, BTreeSet};

fn by_name(book: &Book) -> BTreeMap<&str, (&str, Option<f64>)> {
    book.lines().map(|l| (l.name.as_str(), (l.shown.as_str(), l.si))).collect()
}
/// Names that are in one book only, or tell something else.
fn moved<'b>(one: &'b Work, other: &'b Work) -> BTreeSet<&'b str> {
    let (a, b) = (by_name(&one.book), by_name(&other.book));
    let names: BTreeSet<&str> = a.keys().chain(b.keys()).copied().collect();
    names.into_iter().filter(|n| a.get(n) != b.get(n)).collect()
}
proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]
    /// The order in which parts are written changes nothing, not even the order of the book.
    #[test]
    fn sections_in_another_order(clock in clock(), shop in shop()) {
        let mut parts: Vec<&str> = clock.split("\n\n").filter(|p| !p.trim().is_empty()).collect();
        let there = work(&clock, &shop);
        parts.reverse();
        let back = parts.join("\n\n");
        let back = work(&back, &shop);
        let lines = |w: &Work| w.book.lines().map(|l| (l.name.clone(), l.shown.clone(), l.si)).collect::<Vec<_>>();
        prop_assert_eq!(lines(&there), lines(&back));
        let jobs = |w: &Work| w.making.order.jobs.iter().map(|j| j.name.clone()).collect::<Vec<_>>();
        prop_assert_eq!(jobs(&there), jobs(&back));
    }
    /// The same sizes written in inches: an eighth of a millimetre is 1/203.2 in; here multiples of 0.127 mm = 0.005 in.
    #[test]
    fn the_same_in_inches(
        (screw, head, high) in (40..200i32, 45..80i32, 12..30i32),
        (outside, hole, thick) in (100..250i32, 20..60i32, 10..40i32),
        shop in shop(),
    ) {
        let text = |unit: f64, name: &str| {
            let l = |n: i32| {
                let size = reckon::print::trimmed(&reckon::print::fixed(f64::from(n) * unit, 3));
                format!("\"{size} {name}\"")
            };
            format!(
                "[clock]\nname = \"x\"\n[[screw]]\nname = \"a\"\ncount = 3\nthread = \"M4\"\nlength = {}\nhead = {{ diameter = {}, height = {} }}\nmaterial = \"mild steel\"\n[[washer]]\nname = \"b\"\ncount = 4\noutside = {}\nhole = {}\nthickness = {}\nmaterial = \"brass CZ120\"\n",
                l(screw), l(head), l(high), l(outside), l(hole), l(thick)
            )
        };
        let (metric, inches) = (work(&text(0.127, "mm"), &shop), work(&text(0.005, "in"), &shop));
        let (a, b) = (by_name(&metric.book), by_name(&inches.book));
        prop_assert_eq!(a.keys().collect::<Vec<_>>(), b.keys().collect::<Vec<_>>());
        for (name, (shown, si)) in &a {
            let (other_shown, other) = b[name];
            match (si, other) {
                (Some(x), Some(y)) => prop_assert!((x - y).abs() <= 1e-12 * x.abs().max(y.abs()).max(1e-3), "{} is {} or {}", name, x, y),
                (None, None) => prop_assert_eq!(*shown, other_shown, "{}", name),
                _ => prop_assert!(false, "{} is a number in one only", name),
            }
        }
    }
}
/// Twice as many of one part: its sizes, grip, cuts, speeds and tools stay; bar, times and order follow.
#[test]
fn twice_as_many() {
    let (clock, shop) = (example("ten-screws", "clock.toml"), example("ten-screws", "shop.toml"));
    let more = clock.replacen("count = 10", "count = 20", 1);
    let (ten, twenty) = (work(&clock, &shop), work(&more, &shop));
    let of_the_batch = [
        "bridge_screw.count",
        "bridge_screw.spares",
        "bridge_screw.batch",
        "bridge_screw.stock.need",
        "bridge_screw.stock.parts_a_stick",
        "bridge_screw.times",
        "bridge_screw.time",
        "bridge_screw.time.deviation",
        "bridge_screw.heat.blue.at_once",
        "shine.steel_polish_hard.pieces",
        "cut_list.1",
        "order",
    ];
    for name in moved(&ten, &twenty) {
        // Hours and evenings of the whole go with it.
        let of_the_order = name.starts_with("order.");
        assert!(of_the_order || of_the_batch.contains(&name), "'{name}' moved with the count");
    }
    assert_eq!(twenty.making.parts[0].batch.total.bare(), reckon::Count(22));
    assert_eq!(ten.making.parts[0].setups.len(), twenty.making.parts[0].setups.len());
}
#[test]
fn the_same_twice() {
    for name in ["ten-screws", "hardware"] {
        assert!(moved(&Work::example(name), &Work::example(name)).is_empty(), "{name}");
    }
}
