//! Reads our own files back, line by line, without the code that wrote them.

use std::collections::BTreeMap;

use kurbo::Point;
use reckon::maths::PI;
use shape::flat::Flat;
use shape::profile::{Profile, Sense};
use shape::turned::{Bore, Edge, End, FaceGroove, Feature, Form, Outer, Side, Thread, Turned};
use step::{Body, Fault, Layer, Placement};

/// Entities by number: what stands right of the equals sign.
fn entities(text: &str) -> BTreeMap<usize, String> {
    assert!(text.starts_with("ISO-10303-21;\nHEADER;\n") && text.ends_with("ENDSEC;\nEND-ISO-10303-21;\n"));
    assert!(text.contains("FILE_SCHEMA(('AUTOMOTIVE_DESIGN"));
    let mut all = BTreeMap::new();
    for line in text.lines().filter(|l| l.starts_with('#')) {
        let (number, what) = line[1..].split_once('=').expect("an entity has an equals sign");
        let what = what.strip_suffix(';').expect("an entity ends in a semicolon");
        assert_eq!(what.matches('(').count(), what.matches(')').count());
        assert!(all.insert(number.parse().unwrap(), what.to_owned()).is_none(), "number {number} twice");
    }
    all
}

fn refers(what: &str) -> Vec<usize> {
    let mut out = Vec::new();
    for part in what.split('#').skip(1) {
        let digits: String = part.chars().take_while(char::is_ascii_digit).collect();
        out.push(digits.parse().unwrap());
    }
    out
}

/// Numbers between the innermost brackets.
fn numbers(what: &str) -> Vec<f64> {
    let inside = what.rsplit('(').next().unwrap().split(')').next().unwrap();
    inside.split(',').map(|x| x.trim().parse().unwrap()).collect()
}

/// Checks a file: references, both uses of every edge, loops that join, edges that lie on their curves; gives
/// vertices, edges, faces, loops of all its solids.
fn check(text: &str) -> [usize; 4] {
    let all = entities(text);
    for (n, what) in &all {
        for r in refers(what) {
            assert!(all.contains_key(&r), "#{n} speaks of #{r}");
        }
    }
    let kind = |k: &str| {
        let k = format!("{k}(");
        all.iter().filter(|(_, w)| w.starts_with(&k)).map(|(n, w)| (*n, w.clone())).collect::<Vec<_>>()
    };
    let edges: BTreeMap<usize, (usize, usize, usize)> = kind("EDGE_CURVE")
        .into_iter()
        .map(|(n, w)| {
            let r = refers(&w);
            (n, (r[0], r[1], r[2]))
        })
        .collect();
    let point = |n: usize| numbers(&all[&n]);
    let place = |vertex: usize| point(refers(&all[&vertex])[0]);
    // Every edge's ends lie on its curve.
    for &(from, to, curve) in edges.values() {
        let what = &all[&curve];
        if what.starts_with("CIRCLE") {
            let radius: f64 = what.trim_end_matches(')').rsplit(',').next().unwrap().parse().unwrap();
            let axes = refers(&all[&refers(what)[0]]);
            let (centre, axis) = (point(axes[0]), point(axes[1]));
            for v in [from, to] {
                let d: Vec<f64> = place(v).iter().zip(&centre).map(|(a, b)| a - b).collect();
                let along: f64 = d.iter().zip(&axis).map(|(a, b)| a * b).sum();
                let far = d.iter().map(|x| x * x).sum::<f64>().sqrt();
                assert!(
                    along.abs() < 1e-9 && (far - radius).abs() < 1e-9,
                    "#{curve}: {along} {far} {radius}"
                );
            }
        } else {
            assert!(what.starts_with("LINE"));
        }
    }
    // Each edge is used once either way.
    let mut uses: BTreeMap<(usize, bool), u32> = BTreeMap::new();
    let oriented: BTreeMap<usize, (usize, bool)> =
        kind("ORIENTED_EDGE").into_iter().map(|(n, w)| (n, (refers(&w)[0], w.ends_with(".T.)")))).collect();
    let loops = kind("EDGE_LOOP");
    for (n, w) in &loops {
        let ring: Vec<(usize, bool)> = refers(w).iter().map(|r| oriented[r]).collect();
        for (i, &(e, way)) in ring.iter().enumerate() {
            *uses.entry((e, way)).or_default() += 1;
            let (next, forward) = ring[(i + 1) % ring.len()];
            let end = if way { edges[&e].1 } else { edges[&e].0 };
            let begin = if forward { edges[&next].0 } else { edges[&next].1 };
            assert_eq!(end, begin, "loop #{n}");
        }
    }
    for &e in edges.keys() {
        assert_eq!((uses.get(&(e, true)), uses.get(&(e, false))), (Some(&1), Some(&1)), "edge #{e}");
    }
    [kind("VERTEX_POINT").len(), edges.len(), kind("ADVANCED_FACE").len(), loops.len()]
}

fn sound(body: &Body, genus: i64) {
    let [v, e, f, l] = check(&body.text("part", None));
    let t = body.tally();
    assert_eq!([v, e, f, l], [t.vertices, t.edges, t.faces, t.loops]);
    assert_eq!(t.genus, genus);
}

fn disc(r: f64) -> Profile {
    Profile::circle(Point::ORIGIN, r)
}
fn layer(z0: f64, z1: f64, outline: Profile, holes: &[Profile]) -> Layer {
    Layer { z0, z1, outline, holes: holes.to_vec() }
}

#[test]
fn a_cylinder_is_two_halves_and_two_ends() {
    let body = step::turned(&Turned::stepped(&[(4.0, 10.0)])).unwrap();
    assert_eq!(check(&body.text("pin", None)), [4, 6, 4, 4]);
    sound(&body, 0);
    sound(&step::turned(&Turned::stepped(&[(4.0, 10.0)]).bored(Bore::through(1.0))).unwrap(), 1);
}

#[test]
fn the_same_part_gives_the_same_bytes() {
    let make = || step::turned(&Turned::stepped(&[(4.0, 10.0), (2.0, 3.0)])).unwrap().text("pin", None);
    assert_eq!(make(), make());
    let dated =
        step::turned(&Turned::stepped(&[(4.0, 10.0)])).unwrap().text("pin", Some("2026-01-31T12:00:00"));
    assert!(dated.contains("'2026-01-31T12:00:00'"));
    assert!(make().contains("PRODUCT('pin','pin',''"));
    assert!(make().contains("SI_UNIT(.MILLI.,.METRE.)"));
}

#[test]
fn every_kind_of_surface_is_written() {
    let ball = Profile::start(-3.0, 0.0).arc_to(Point::new(3.0, 0.0), Point::ORIGIN, Sense::Right);
    let grooved = Turned::stepped(&[(30.0, 6.0)])
        .bored(Bore::countersink(End::Datum, 6.0, 0.0, PI / 2.0))
        .with(Feature::FaceGroove(FaceGroove {
            end: End::Far,
            diameter: 12.0,
            width: 2.0,
            depth: 1.0,
            form: Form::Round,
        }));
    let ball = step::turned(&Turned::new(ball)).unwrap();
    let grooved = step::turned(&grooved).unwrap();
    sound(&ball, 0);
    sound(&grooved, 0);
    let all = ball.text("ball", None) + &grooved.text("grooved", None);
    for kind in ["PLANE", "CYLINDRICAL_SURFACE", "CONICAL_SURFACE", "TOROIDAL_SURFACE", "SPHERICAL_SURFACE"] {
        assert!(all.contains(&format!("={kind}(")), "{kind}");
    }
}

#[test]
fn slots_and_flats_are_cut_or_named() {
    let head = Turned::stepped(&[(3.0, 12.0), (5.5, 2.0)]);
    let slot = Feature::Slot { end: End::Far, width: 0.8, depth: 1.0 };
    let cut = step::turned(&head.clone().with(slot.clone())).unwrap();
    assert!(cut.left_out.is_empty());
    sound(&cut, 0);
    // Across a chamfer the slot's edge is neither line nor circle, so it is named and left out.
    let chamfered =
        Outer::new().step(3.0, 12.0).step(5.5, 2.0).trailing(Edge::Chamfer { along: 0.3, deep: 0.3 });
    let left = step::turned(&Turned::new(chamfered.profile()).with(slot)).unwrap();
    assert_eq!(left.left_out.len(), 1);
    assert!(left.left_out[0].why.contains("rounding"));
    sound(&left, 0);
    let thread = Feature::Thread(Thread {
        side: Side::Outside,
        from: 0.0,
        to: 8.0,
        major: 3.0,
        minor: 2.4,
        pitch: 0.5,
        run_out: 1.0,
        label: "M3".into(),
    });
    let screw = step::turned(&head.with(thread).with(Feature::CrossHole { z: 10.0, diameter: 1.0 })).unwrap();
    assert_eq!(screw.left_out.iter().map(|l| l.feature).collect::<Vec<_>>(), [0, 1]);
    assert!(screw.left_out[0].why.contains("M3"));
    for count in [1, 2, 3, 4, 6] {
        let flats = Feature::Flats { from: 2.0, to: 6.0, across: 9.0, count };
        let body =
            step::turned(&Turned::stepped(&[(10.0, 8.0)]).bored(Bore::through(2.0)).with(flats)).unwrap();
        assert!(body.left_out.is_empty(), "{count}");
        sound(&body, 1);
    }
}

#[test]
fn a_slot_across_a_dome_is_cut_at_either_end() {
    let ball = Profile::start(-3.0, 0.0).arc_to(Point::new(3.0, 0.0), Point::ORIGIN, Sense::Right);
    for (end, depth) in [(End::Far, 1.0), (End::Datum, 1.0), (End::Far, 3.5)] {
        let body =
            step::turned(&Turned::new(ball.clone()).with(Feature::Slot { end, width: 1.0, depth })).unwrap();
        assert!(body.left_out.is_empty());
        sound(&body, 0);
        // The floor and the two walls are the only planes.
        assert_eq!(body.text("ball", None).matches("=PLANE(").count(), 3);
    }
}

#[test]
fn a_wide_bore_makes_a_slot_into_four_walls() {
    let part = Turned::stepped(&[(10.0, 8.0)]).bored(Bore::through(4.0)).with(Feature::Slot {
        end: End::Datum,
        width: 1.0,
        depth: 2.0,
    });
    let body = step::turned(&part).unwrap();
    assert!(body.left_out.is_empty());
    // One hole through, and the slot divides the rim: the ring at the bottom keeps the only hole.
    sound(&body, 1);
}

#[test]
fn plates_have_as_many_holes_as_were_cut() {
    let plate = Flat::new(Profile::rectangle(0.0, 0.0, 40.0, 20.0), 2.0)
        .hole(5.0, 5.0, 3.0, "a")
        .hole(30.0, 10.0, 4.0, "b")
        .window(Profile::slot(Point::new(12.0, 10.0), Point::new(20.0, 12.0), 4.0));
    sound(&step::flat(&plate).unwrap(), 3);
    let beyond = plate.hole(39.5, 10.0, 3.0, "c");
    assert!(matches!(step::flat(&beyond), Err(Fault::Unsound(_))));
}

#[test]
fn layers_share_the_face_between_them() {
    let square = Profile::rectangle(-3.0, -3.0, 3.0, 3.0);
    let body = step::stack(&[
        layer(0.0, 2.0, disc(1.0), &[]),
        layer(2.0, 5.0, square.clone(), &[]),
        layer(5.0, 6.0, disc(2.0), &[]),
    ])
    .unwrap();
    sound(&body, 0);
    // A square of four walls, two rims with a hole, two ends, two pairs of half cylinders.
    assert_eq!(body.tally().faces, 4 + 2 + 2 + 4);
    // The same hole runs through both layers as one wall.
    let bored = [layer(0.0, 2.0, disc(4.0), &[disc(1.0)]), layer(2.0, 5.0, square.clone(), &[disc(1.0)])];
    assert!(matches!(step::stack(&bored), Err(Fault::Crossing { layer: 0 })));
    let bored = [layer(0.0, 2.0, disc(5.0), &[disc(1.0)]), layer(2.0, 5.0, square.clone(), &[disc(1.0)])];
    let body = step::stack(&bored).unwrap();
    sound(&body, 1);
    assert_eq!(body.tally().faces, 2 + 4 + 2 + 3);
    let gap = [layer(0.0, 2.0, disc(5.0), &[]), layer(2.5, 5.0, square, &[])];
    assert!(matches!(step::stack(&gap), Err(Fault::Unsound(_))));
    assert!(matches!(step::stack(&[]), Err(Fault::Empty)));
}

#[test]
fn layers_side_by_side_are_refused() {
    let left = Profile::rectangle(0.0, 0.0, 4.0, 4.0);
    let right = Profile::rectangle(10.0, 0.0, 14.0, 4.0);
    assert!(matches!(
        step::stack(&[layer(0.0, 1.0, left.clone(), &[]), layer(1.0, 2.0, right, &[])]),
        Err(Fault::Unsound(_))
    ));
    let across = Profile::rectangle(-1.0, 1.0, 5.0, 3.0);
    assert!(matches!(
        step::stack(&[layer(0.0, 1.0, left, &[]), layer(1.0, 2.0, across, &[])]),
        Err(Fault::Crossing { layer: 0 })
    ));
}

#[test]
fn an_arc_that_misses_its_circle_is_refused() {
    let askew = Profile::start(0.0, 0.0).line(0.0, 4.0).arc_to(
        Point::new(6.0, 0.0),
        Point::new(-0.3, -2.3),
        Sense::Right,
    );
    assert!(matches!(step::turned(&Turned::new(askew)), Err(Fault::Unsound(_))));
}

#[test]
fn an_assembly_describes_a_part_once() {
    let pin = step::turned(&Turned::stepped(&[(4.0, 10.0)])).unwrap();
    let plate = step::flat(&Flat::new(disc(10.0), 1.0)).unwrap();
    let at = |x: f64| Placement { x, ..Placement::default() };
    let text = step::assembly(
        "frame",
        &[("pin", &pin, at(0.0)), ("pin", &pin, at(5.0)), ("plate", &plate, at(0.0))],
        None,
    )
    .unwrap();
    check(&text);
    assert_eq!(text.matches("MANIFOLD_SOLID_BREP").count(), 2);
    assert_eq!(text.matches("NEXT_ASSEMBLY_USAGE_OCCURRENCE").count(), 3);
    assert!(matches!(step::assembly("none", &[], None), Err(Fault::Empty)));
}

#[test]
fn a_shoulder_thinner_than_a_hair_is_a_shoulder() {
    let part = Turned::stepped(&[(3.0, 1.0), (6.93, 1.0), (4.258, 1.0), (4.257, 1.0)])
        .bored(Bore::through(0.3))
        .with(Feature::Slot { end: End::Far, width: 1.634, depth: 0.5 })
        .with(Feature::Flats { from: 0.2, to: 0.4, across: 2.6, count: 1 });
    sound(&step::turned(&part).unwrap(), 1);
}

mod any {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn stepped_parts_close(
            steps in prop::collection::vec((3.0f64..12.0, 1.0f64..9.0), 1..6),
            bore in 0.3f64..2.5,
            width in 0.3f64..2.0,
            across in 2.6f64..11.0,
            count in 1u32..8,
            place in 0usize..6,
        ) {
            let z: f64 = steps.iter().take(place % steps.len()).map(|s| s.1).sum();
            let long = steps[place % steps.len()].1;
            let part = Turned::stepped(&steps)
                .bored(Bore::through(bore))
                .with(Feature::Slot { end: End::Far, width, depth: 0.5 })
                .with(Feature::Flats { from: z + long * 0.2, to: z + long * 0.4, across, count });
            if let Ok(body) = step::turned(&part) {
                let [v, e, f, l] = check(&body.text("any", None));
                let t = body.tally();
                prop_assert_eq!([v, e, f, l], [t.vertices, t.edges, t.faces, t.loops]);
                prop_assert_eq!(t.genus, 1);
            }
        }
    }
}
