//! Plates and layout: gaps between what turns, holes, and what a wrong text is told.

use movement::design::layout::BodyKind;
use movement::design::{Movement, movement};
use reckon::{Book, Trouble};
use std::sync::Arc;

const REGULATOR: &str = include_str!("../../../examples/regulator/clock.toml");
const TABLE_CLOCK: &str = include_str!("../../../examples/table-clock/clock.toml");

fn worked(text: &str) -> (Movement, Book, Vec<Trouble>) {
    let mut book = Book::new();
    let text = record::Text { name: Arc::from("clock.toml"), bytes: text.as_bytes() };
    let read = record::read(Some(&text), None, &mut book);
    let clock = read.facts.and_then(|f| f.clock).unwrap_or_else(|| panic!("{:?}", read.troubles));
    let (found, troubles) = movement(&clock, &mut book);
    assert!(book.faults().is_empty(), "{:?}", book.faults());
    (found.expect("a movement is written"), book, troubles)
}
/// A text with some of it replaced; each must be there.
fn with(text: &str, changes: &[(&str, &str)]) -> String {
    let mut text = text.to_owned();
    for (old, new) in changes {
        assert!(text.contains(old), "no {old}");
        text = text.replacen(old, new, 1);
    }
    text
}
/// The text with an arbor's diameter replaced or added.
fn thick(text: &str, name: &str, mm: &str) -> String {
    let begin = text.find(&format!("[[arbor]]\nname = \"{name}\"")).expect("the arbor is written");
    let end = text[begin + 9..].find("\n[").map_or(text.len(), |n| begin + 9 + n);
    let kept: Vec<&str> = text[begin..end].lines().filter(|l| !l.starts_with("diameter")).collect();
    format!("{}{}\ndiameter = \"{mm} mm\"\n{}", &text[..begin], kept.join("\n"), &text[end..])
}
/// Gap in plan and in height of two bodies, each by its kind and its arbor's name.
fn gap(m: &Movement, a: (BodyKind, &str), b: (BodyKind, &str)) -> (f64, f64) {
    let all = |(kind, name): (BodyKind, &str)| {
        let arbor = m.train.named(name);
        let found: Vec<_> = m
            .layout
            .solids
            .iter()
            .filter(|s| s.kind == kind && (s.arbor.is_none() || s.arbor == arbor) && !s.slug.contains("post"))
            .cloned()
            .collect();
        assert!(!found.is_empty(), "no {kind:?} of {name}");
        found
    };
    let (one, other) = (all(a), all(b));
    let gaps = one.iter().flat_map(|x| other.iter().map(|y| x.clear_of(y)));
    gaps.min_by(|x, y| x.0.total_cmp(&y.0)).expect("both are there")
}
/// Gaps in plan of two movements, derived by hand from places, tip circles and arbors, to 0.01 mm.
#[test]
fn gaps_in_plan() {
    use BodyKind::{Arbor, Barrel, EscapeWheel, Pillar, Wheel};
    let mut text = REGULATOR.to_owned();
    for (name, mm) in [("great", "7"), ("centre", "5"), ("third", "4"), ("escape", "3.4")] {
        text = thick(&text, name, mm);
    }
    let (m, _, troubles) = worked(&text);
    assert!(troubles.is_empty(), "{troubles:#?}");
    let near = |m: &Movement, a, b, want: f64| {
        let got = gap(m, a, b).0;
        assert!((got - want).abs() < 0.006, "{a:?} {b:?}: {got} and not {want}");
    };
    near(&m, (Wheel, "great"), (Arbor, "centre"), 0.48);
    near(&m, (Wheel, "centre"), (Arbor, "third"), 0.56);
    near(&m, (Wheel, "third"), (Arbor, "escape"), 0.45);
    near(&m, (EscapeWheel, "escape"), (Arbor, "third"), 1.00);
    let got = gap(&m, (Wheel, "great"), (Pillar, "")).0;
    assert!((got - 11.3).abs() < 0.05, "{got}");

    let mut text = TABLE_CLOCK.to_owned();
    for (name, mm) in [
        ("barrel", "8"),
        ("intermediate", "4.4"),
        ("centre", "4.4"),
        ("third", "2.8"),
        ("escape", "1.6"),
        ("pallets", "3"),
    ] {
        text = thick(&text, name, mm);
    }
    let (m, _, troubles) = worked(&text);
    assert!(troubles.is_empty(), "{troubles:#?}");
    near(&m, (Wheel, "barrel"), (Arbor, "intermediate"), 0.51);
    near(&m, (Wheel, "centre"), (Arbor, "intermediate"), 2.49);
    near(&m, (Wheel, "centre"), (Arbor, "third"), 0.29);
    near(&m, (Wheel, "third"), (Arbor, "escape"), 0.21);
    near(&m, (EscapeWheel, "escape"), (Arbor, "third"), 1.20);
    near(&m, (EscapeWheel, "escape"), (Arbor, "pallets"), 1.54);
    near(&m, (Wheel, "barrel"), (Pillar, ""), 6.55);
    let (plan, height) = gap(&m, (Wheel, "intermediate"), (Barrel, "barrel"));
    assert!((plan + 8.19).abs() < 0.006 && (height - 3.2).abs() < 1e-6, "{plan} {height}");
}
/// Where the holes are: by hand from the places written.
#[test]
fn holes_from_the_corner_and_from_the_centre() {
    let (m, book, _) = worked(REGULATOR);
    let mm =
        |name: &str| book.find(name).and_then(|(_, l)| l.si).unwrap_or_else(|| panic!("no {name}")) * 1000.0;
    // The plate stands evenly round its pillars: its lower left corner at (-52, -118).
    for (name, want) in [
        ("plates.hole.great.x", 52.0),
        ("plates.hole.great.y", 63.4),
        ("plates.hole.great.lying.x", 63.4),
        ("plates.hole.great.lying.y", 52.0),
        ("plates.hole.third.x", 38.505),
        ("plates.hole.third.y", 151.375),
        ("plates.hole.third.lying.y", 65.495),
        ("plates.hole.third.radius", 36.0),
        ("plates.hole.pillar_1.x", 94.0),
        ("plates.hole.pillar_4.y", 10.0),
        ("plates.distance.great.centre", 54.6),
        // Over plugs of 4.03 and 3.03 mm.
        ("plates.distance.great.centre.over_plugs", 54.6 + 2.015 + 1.515),
        ("plates.distance.pillar_1.pillar_2", 84.0),
        ("plates.distance.pillar_1.pillar_3", 194.0),
    ] {
        assert!((mm(name) - want).abs() < 1e-3, "{name}: {} and not {want}", mm(name));
    }
    // 180 degrees less the angle whose tangent is 33.375 / 13.495.
    let (_, line) = book.find("plates.hole.third.direction").expect("it is told");
    let degrees = line.si.expect("an angle").to_degrees();
    assert!((degrees - 112.016).abs() < 1e-3, "{degrees}");
    let d = m.plates.expect("plates are written");
    let of = |label: &str| d.holes.iter().find(|h| h.label == label).unwrap_or_else(|| panic!("no {label}"));
    assert_eq!(of("great").plates(), "both");
    assert_eq!(of("pillar 1").plates(), "both");
    // The pallets' arbor passes through the back plate to the cock.
    assert_eq!(of("pallets").plates(), "front");
    assert_eq!(of("pallets (through)").plates(), "back");
}
/// Posts of cocks and bridges clear everything by the rule, and stand on the plates.
#[test]
fn posts_stand_clear() {
    let (m, _, _) = worked(TABLE_CLOCK);
    assert_eq!(m.layout.bridges.len(), 1);
    let b = &m.layout.bridges[0];
    assert!(b.carries_pendulum && !b.front);
    let posts = m.layout.solids.iter().filter(|s| s.slug.contains("post"));
    for post in posts {
        for other in m.layout.solids.iter().filter(|s| s.slug != post.slug && !s.slug.contains("post")) {
            let (plan, height) = post.clear_of(other);
            assert!(plan.max(height) >= 0.0, "{} and {}: {plan} {height}", post.name, other.name);
        }
    }
}
/// What a wrong text is told: the first words, where it points, and that something would cure it.
fn told(text: &str, says: &str, line: &str) {
    let (_, _, troubles) = worked(text);
    let found = troubles.iter().find(|t| t.says.contains(says));
    let t = found.unwrap_or_else(|| panic!("'{says}' is not told: {troubles:#?}"));
    assert!(!t.cures.is_empty(), "{t:#?}");
    let told = t.at.iter().map(|p| p.line as usize).collect::<Vec<_>>();
    let want = text.lines().position(|l| l.contains(line)).expect("the line is there") + 1;
    assert!(told.contains(&want), "'{says}' points to {told:?}, not to {want}");
}
#[test]
fn two_arbors_in_one_place() {
    let text = with(REGULATOR, &[("[\"0 mm\", \"80.284 mm\"]", "[\"0 mm\", \"52 mm\"]")]);
    told(&text, "stand in one place", "at = [\"0 mm\", \"52 mm\"]");
}
#[test]
fn an_arbor_through_a_wheel() {
    // The pallets' arbor within the centre wheel.
    let text = with(REGULATOR, &[("[\"0 mm\", \"80.284 mm\"]", "[\"20 mm\", \"5 mm\"]")]);
    told(&text, "would pass through", "at = [\"20 mm\", \"5 mm\"]");
}
#[test]
fn plates_too_small() {
    let text = with(REGULATOR, &[("[\"104 mm\", \"214 mm\"]", "[\"90 mm\", \"214 mm\"]")]);
    told(&text, "the plates are too small", "size = [\"90 mm\"");
}
#[test]
fn a_wheel_into_a_pillar() {
    let text = with(REGULATOR, &[("[\"-42 mm\", \"-108 mm\"]", "[\"-42 mm\", \"-80 mm\"]")]);
    told(&text, "run into each other", "[plates]");
}
#[test]
fn heights_that_overlap() {
    let text = with(REGULATOR, &[("place = [\"22 mm\", \"23.5 mm\"]", "place = [\"30 mm\", \"31.5 mm\"]")]);
    told(&text, "run into each other", "at = [\"0 mm\", \"0 mm\"]");
}
