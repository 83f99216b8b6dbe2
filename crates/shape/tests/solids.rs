//! Profiles, turned parts and plates against sums and samplings written out here, and handbook formulas.

use kurbo::Point;
use proptest::prelude::*;
use shape::flat::{Amiss, Countersink, Flat};
use shape::profile::{Fault, Profile, Segment, Sense, distance};
use shape::sound::Unsound;
use shape::turned::{Bore, BoreStep, Edge, End, FaceGroove, Feature, Form, Outer, Side, Thread, Turned};
use shape::volume::groove_area;
use std::f64::consts::PI;

fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "got {got}, want {want} within {within}");
}

/// Area of a polygon by the shoelace rule.
fn shoelace(points: &[Point]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a.x * b.y - b.x * a.y).sum::<f64>() / 2.0
}

#[test]
fn circle_and_slot_by_the_usual_formulas() {
    let circle = Profile::circle(Point::new(3.0, -2.0), 1.5);
    near(circle.area(), PI * 2.25, 1e-12);
    near(circle.length(), 3.0 * PI, 1e-12);
    assert!(circle.is_closed() && circle.crosses_itself().is_none());
    let b = circle.bounds();
    near(b.width(), 3.0, 1e-12);
    near(b.y0, -3.5, 1e-12);
    let slot = Profile::slot(Point::new(0.0, 0.0), Point::new(3.0, 4.0), 2.0);
    near(slot.area(), PI + 10.0, 1e-12);
    near(slot.length(), 2.0 * PI + 10.0, 1e-12);
    assert!(slot.crosses_itself().is_none());
}

#[test]
fn offsets_of_a_square_grow_by_the_steiner_formula() {
    // Steiner: a convex region grown by d has area A + L d + π d² and length L + 2 π d.
    let square = Profile::rectangle(0.0, 0.0, 10.0, 6.0);
    let grown = square.offset(-1.0).expect("outwards never fails");
    near(grown.area(), 60.0 + 32.0 + PI, 1e-12);
    near(grown.length(), 32.0 + 2.0 * PI, 1e-12);
    let shrunk = square.offset(1.0).expect("there is room");
    near(shrunk.area(), 8.0 * 4.0, 1e-12);
    let slot = Profile::slot(Point::ORIGIN, Point::new(5.0, 0.0), 4.0);
    near(slot.offset(1.0).expect("there is room").area(), PI + 10.0, 1e-12);
    assert_eq!(slot.offset(3.0), Err(Fault::Swallowed { segment: 1 }));
}

#[test]
fn a_rounded_square_loses_its_corners() {
    let mut square = Profile::rectangle(0.0, 0.0, 10.0, 10.0);
    for corner in [3, 2, 1] {
        square = square.rounded(corner, 2.0).expect("there is room");
    }
    // Each rounding takes r² (1 − π/4).
    near(square.area(), 100.0 - 3.0 * 4.0 * (1.0 - PI / 4.0), 1e-12);
    assert!(square.crosses_itself().is_none());
    assert_eq!(square.rounded(1, 20.0), Err(Fault::NoRoom { corner: 1 }));
}

#[test]
fn crossings_name_the_two_segments() {
    let bow = Profile::start(0.0, 0.0).line(4.0, 4.0).line(4.0, 0.0).line(0.0, 4.0).close();
    let c = bow.crosses_itself().expect("a bow tie crosses");
    assert_eq!((c.first, c.second), (0, 2));
    near(distance(c.at, Point::new(2.0, 2.0)), 0.0, 1e-12);
    // A half circle bulging into the opposite side of a rectangle.
    let dented = Profile::start(0.0, 0.0)
        .line(10.0, 0.0)
        .line(10.0, 3.0)
        .arc_to(Point::new(0.0, 3.0), Point::new(5.0, 3.0), Sense::Left)
        .close();
    assert!(dented.crosses_itself().is_none());
    let into = Profile::start(0.0, 0.0)
        .line(10.0, 0.0)
        .line(10.0, 3.0)
        .arc_to(Point::new(0.0, 3.0), Point::new(5.0, 3.0), Sense::Right)
        .close();
    let c = into.crosses_itself().expect("the bulge goes through the floor");
    assert_eq!((c.first, c.second), (0, 2));
    near(c.at.y, 0.0, 1e-12);
    near((c.at.x - 5.0).abs(), 4.0, 1e-12);
    // Two arcs.
    let arcs = Profile::start(-2.0, 0.0)
        .arc_to(Point::new(2.0, 0.0), Point::ORIGIN, Sense::Right)
        .line(4.0, 1.0)
        .line(0.0, 3.5)
        .arc_to(Point::new(0.0, 0.5), Point::new(0.0, 2.0), Sense::Left);
    let c = arcs.crosses_itself().expect("the small circle cuts the large");
    assert_eq!((c.first, c.second), (0, 3));
    near(distance(c.at, Point::ORIGIN), 2.0, 1e-9);
    near(distance(c.at, Point::new(0.0, 2.0)), 1.5, 1e-9);
}

#[test]
fn dome_ball_and_torus() {
    // Ball: V = 4/3 π r³.
    let ball = Profile::start(0.0, 0.0).arc_to(Point::new(6.0, 0.0), Point::new(3.0, 0.0), Sense::Right);
    let part = Turned::new(ball);
    near(part.volume(), 4.0 / 3.0 * PI * 27.0, 1e-11);
    near(part.balance(), 3.0, 1e-12);
    // Half ball: centre of mass 3/8 r from its flat (Bartsch, Taschenbuch mathematischer Formeln, memory).
    let half = Profile::start(0.0, 0.0)
        .arc_to(Point::new(3.0, 3.0), Point::new(3.0, 0.0), Sense::Right)
        .line(3.0, 0.0);
    near(Turned::new(half).balance(), 3.0 - 9.0 / 8.0, 1e-12);
    // A groove of half-round section all round a cylinder: Pappus, half a torus' tube about its centroid.
    let r = 0.5;
    let grooved = Profile::start(0.0, 4.0)
        .line(2.0, 4.0)
        .arc_to(Point::new(3.0, 4.0), Point::new(2.5, 4.0), Sense::Left)
        .line(5.0, 4.0);
    let centroid = 4.0 - 4.0 * r / (3.0 * PI);
    let tube = PI * r * r / 2.0 * 2.0 * PI * centroid;
    near(Turned::new(grooved).volume(), PI * 16.0 * 5.0 - tube, 1e-11);
}

#[test]
fn slots_flats_and_cross_holes() {
    let bar = Turned::stepped(&[(8.0, 10.0)]);
    let (r, h) = (4.0f64, 0.6f64);
    let strip = 2.0 * (h * (r * r - h * h).sqrt() + r * r * libm_asin(h / r));
    let slotted = bar.clone().with(Feature::Slot { end: End::Datum, width: 1.2, depth: 1.5 });
    near(slotted.volume(), PI * 160.0 - 1.5 * strip, 1e-11);
    near(slotted.balance(), (PI * 160.0 * 5.0 - 1.5 * strip * 0.75) / (PI * 160.0 - 1.5 * strip), 1e-11);
    // Hexagon inside the bar: section (3/2)√3 r² for the one inscribed, A = √3/2 s² across flats s.
    let s = 6.0;
    let hex = bar.clone().with(Feature::Flats { from: 0.0, to: 10.0, across: s, count: 6 });
    near(hex.volume(), 3f64.sqrt() / 2.0 * s * s * 10.0, 1e-10);
    let two = bar.clone().with(Feature::Flats { from: 2.0, to: 5.0, across: 7.0, count: 2 });
    let theta = 2.0 * libm_acos(3.5 / 4.0);
    let segment = 16.0 * (theta - libm_sin(theta)) / 2.0;
    near(two.volume(), PI * 160.0 - 2.0 * 3.0 * segment, 1e-10);
    // Two equal cylinders crossing share 16/3 r³ (Archimedes); here the hole as wide as the bar is refused,
    // but its volume is still that.
    let steinmetz = bar.clone().with(Feature::CrossHole { z: 5.0, diameter: 8.0 });
    near(steinmetz.volume(), PI * 160.0 - 16.0 / 3.0 * 64.0, 1e-9);
    assert_eq!(steinmetz.unsound(), vec![Unsound::Wide { feature: 0, room: 8.0 }]);
}

fn libm_asin(x: f64) -> f64 {
    reckon::maths::asin(x)
}
fn libm_acos(x: f64) -> f64 {
    reckon::maths::acos(x)
}
fn libm_sin(x: f64) -> f64 {
    reckon::maths::sin(x)
}

#[test]
fn a_slot_over_a_face_groove_takes_the_common_part_once() {
    let groove = FaceGroove { end: End::Datum, diameter: 10.0, width: 2.0, depth: 0.5, form: Form::Square };
    let part = |slot: f64| {
        Turned::stepped(&[(16.0, 5.0)]).with(Feature::FaceGroove(groove)).with(Feature::Slot {
            end: End::Datum,
            width: slot,
            depth: 0.5,
        })
    };
    // A slot as deep as the groove: what is left of the top layer, by fine rings.
    let layer = |slot: f64| {
        let n = 400_000u32;
        let step = 8.0 / f64::from(n);
        let mut area = 0.0;
        for k in 0..n {
            let rho = (f64::from(k) + 0.5) * step;
            if (4.0..6.0).contains(&rho) {
                continue;
            }
            let half = (slot / 2.0 / rho).min(1.0);
            area += (2.0 * PI - 4.0 * libm_asin(half)) * rho * step;
        }
        area * 0.5
    };
    for slot in [0.8, 3.0] {
        near(part(slot).volume(), PI * 64.0 * 4.5 + layer(slot), 1e-5);
    }
}

#[test]
fn a_stepped_bore_with_countersink_and_relief() {
    let part = Turned::stepped(&[(20.0, 10.0)])
        .bored(Bore::through(4.0))
        .bored(Bore::countersink(End::Far, 8.0, 4.0, 90f64.to_radians()))
        .with(Feature::Relief { end: End::Datum, diameter: 12.0, depth: 0.2 });
    let sink = PI * 2.0 * (16.0 + 8.0 + 4.0) / 3.0;
    let want = PI * 1000.0 - PI * 36.0 * 0.2 - PI * 4.0 * 7.8 - sink;
    near(part.volume(), want, 1e-9);
    assert_eq!(part.unsound(), vec![]);
    near(part.least_wall().expect("hollow"), 4.0, 1e-9);
    near(part.mass(8500.0), want * 8.5e-3, 1e-9);
    let blind =
        Turned::stepped(&[(8.0, 12.0)]).bored(Bore::blind(End::Far, 2.5, 9.0).pointed(118f64.to_radians()));
    // A 118° point is d / 2 / tan 59° high: 0.300 d (Machinery's Handbook, memory).
    near(blind.bores[0].cone(), 2.5 * 0.3004, 1e-3);
    near(blind.least_wall().expect("hollow"), 12.0 - 9.0 - blind.bores[0].cone(), 1e-9);
}

#[test]
fn what_is_wrong_is_named() {
    let bar = Turned::stepped(&[(8.0, 3.0), (4.0, 10.0)]);
    let slot = |depth: f64| bar.clone().with(Feature::Slot { end: End::Datum, width: 1.0, depth });
    assert_eq!(slot(1.5).unsound(), vec![]);
    assert_eq!(slot(3.5).unsound(), vec![Unsound::Deep { feature: 0, room: 3.0 }]);
    let wide = bar.clone().bored(Bore::through(4.2));
    assert!(matches!(wide.unsound()[..], [Unsound::BoreWide { bore: 0, .. }]), "{:?}", wide.unsound());
    let deep = bar.clone().bored(Bore::blind(End::Far, 2.0, 14.0));
    assert_eq!(deep.unsound(), vec![Unsound::BoreDeep { bore: 0 }]);
    let meet = bar.clone().bored(Bore::blind(End::Far, 2.0, 8.0)).bored(Bore::blind(End::Datum, 2.0, 6.0));
    assert_eq!(meet.unsound(), vec![Unsound::BoresMeet { first: 0, second: 1 }]);
    let back = Turned::new(Profile::start(0.0, 4.0).line(5.0, 4.0).line(4.0, 3.0).line(8.0, 3.0));
    assert_eq!(back.unsound(), vec![Unsound::StepsBack { segment: 1 }]);
    let below = Turned::new(Profile::start(0.0, 4.0).line(5.0, -1.0));
    assert_eq!(below.unsound(), vec![Unsound::BelowAxis { segment: 0 }]);
    let groove = |diameter: f64, width: f64| {
        Feature::FaceGroove(FaceGroove { end: End::Datum, diameter, width, depth: 0.5, form: Form::Round })
    };
    let washer = Turned::stepped(&[(21.0, 3.0)]).bored(Bore::through(5.5));
    let two = washer.clone().with(groove(15.0, 1.5)).with(groove(17.0, 1.5));
    assert_eq!(two.unsound(), vec![Unsound::GroovesOverlap { first: 0, second: 1 }]);
    let out = washer.clone().with(groove(20.0, 1.5));
    assert_eq!(out.unsound(), vec![Unsound::GrooveOutside { feature: 0 }]);
    let thread = |major: f64| {
        Feature::Thread(Thread {
            side: Side::Outside,
            from: 5.0,
            to: 13.0,
            major,
            minor: major - 0.86,
            pitch: 0.7,
            run_out: 1.4,
            label: String::new(),
        })
    };
    assert_eq!(bar.clone().with(thread(4.0)).unsound(), vec![]);
    assert_eq!(bar.clone().with(thread(6.0)).unsound(), vec![Unsound::ThreadSize { feature: 0, found: 4.0 }]);
    let flats = bar.with(Feature::Flats { from: 0.0, to: 3.0, across: 8.5, count: 2 });
    assert_eq!(flats.unsound(), vec![Unsound::Flats { feature: 0 }]);
}

#[test]
fn plates_say_what_is_amiss() {
    let plate = Flat::new(Profile::rectangle(0.0, 0.0, 30.0, 20.0), 2.0);
    let mut good = plate.clone().hole(5.0, 5.0, 4.0, "a").hole(12.0, 5.0, 3.0, "b").window(Profile::slot(
        Point::new(20.0, 10.0),
        Point::new(25.0, 10.0),
        3.0,
    ));
    good.countersinks.push(Countersink { hole: 1, diameter: 6.0, angle: 90f64.to_radians(), front: true });
    assert_eq!(good.amiss(), vec![]);
    let holes = PI * (4.0 + 2.25);
    let slot = PI * 2.25 + 15.0;
    near(good.area(), 600.0 - holes - slot, 1e-11);
    let sink = PI * 1.5 * (9.0 + 4.5 + 2.25) / 3.0 - PI * 2.25 * 1.5;
    near(good.volume(), (600.0 - holes - slot) * 2.0 - sink, 1e-10);
    let out = plate.clone().hole(29.0, 5.0, 4.0, "");
    assert_eq!(out.amiss(), vec![Amiss::HoleOutside { hole: 0 }]);
    let far = plate.clone().hole(40.0, 5.0, 4.0, "");
    assert_eq!(far.amiss(), vec![Amiss::HoleOutside { hole: 0 }]);
    let overlap = plate.clone().hole(5.0, 5.0, 4.0, "").hole(8.0, 5.0, 4.0, "");
    assert_eq!(overlap.amiss(), vec![Amiss::HolesOverlap { first: 0, second: 1 }]);
    let into = good.clone().hole(22.0, 10.0, 0.5, "");
    assert_eq!(into.amiss(), vec![Amiss::HoleInWindow { hole: 2, window: 0 }]);
    let open = Flat::new(Profile::start(0.0, 0.0).line(5.0, 0.0).line(5.0, 5.0), 1.0);
    assert_eq!(open.amiss(), vec![Amiss::Open]);
    let mut thin = good;
    thin.countersinks[0].diameter = 9.0;
    assert_eq!(thin.amiss(), vec![Amiss::Sink { sink: 0 }]);
}

#[test]
fn groove_sections() {
    let g = |depth: f64, form: Form| FaceGroove { end: End::Datum, diameter: 10.0, width: 1.5, depth, form };
    near(groove_area(&g(0.5, Form::Square)), 0.75, 1e-14);
    near(groove_area(&g(0.5, Form::Vee)), 0.375, 1e-14);
    near(groove_area(&g(0.75, Form::Round)), PI * 0.75 * 0.75 / 2.0, 1e-14);
    near(groove_area(&g(1.0, Form::Round)), PI * 0.75 * 0.75 / 2.0 + 1.5 * 0.25, 1e-14);
    for form in [Form::Square, Form::Vee, Form::Round] {
        for depth in [0.2, 0.5, 0.75, 1.1] {
            let groove = g(depth, form);
            let n = 200_000u32;
            let step = 1.5 / f64::from(n);
            let sum: f64 = (0..n).map(|k| groove.depth_at(-0.75 + (f64::from(k) + 0.5) * step) * step).sum();
            near(groove_area(&groove), sum, 1e-6);
        }
    }
}

proptest! {
    #[test]
    fn stepped_parts_are_a_sum_of_frusta(steps in prop::collection::vec((0.5f64..20.0, 0.5f64..20.0, 0.1f64..30.0), 1..9)) {
        let mut outer = Outer::new();
        let (mut volume, mut moment, mut z) = (0.0, 0.0, 0.0);
        for &(a, b, l) in &steps {
            outer = outer.taper(a, b, l);
            // Rings of a thousandth, mid-ring radius: the frustum to a part in a million.
            let n = 1000u32;
            for k in 0..n {
                let t = (f64::from(k) + 0.5) / f64::from(n);
                let r = (a + (b - a) * t) / 2.0;
                let v = PI * r * r * l / f64::from(n);
                volume += v;
                moment += v * (z + t * l);
            }
            z += l;
        }
        let part = Turned::new(outer.profile());
        prop_assert!((part.volume() - volume).abs() < 1e-6 * volume);
        prop_assert!((part.balance() - moment / volume).abs() < 1e-6 * z);
        prop_assert_eq!(part.unsound(), vec![]);
        prop_assert!((part.length() - z).abs() < 1e-9);
    }

    #[test]
    fn arcs_agree_with_dense_sampling(cx in -5.0f64..5.0, cy in -5.0f64..5.0, r in 0.1f64..10.0, start in -3.0f64..3.0, sweep in -6.2f64..6.2) {
        prop_assume!(sweep.abs() > 0.01);
        let c = Point::new(cx, cy);
        let p = shape::profile::on_circle(c, r, start);
        let arc = Profile::start(p.x, p.y).arc_about(c, sweep);
        let sagitta = 1e-7;
        let points = arc.sampled(sagitta);
        let length: f64 = points.windows(2).map(|w| distance(w[0], w[1])).sum();
        prop_assert!((arc.length() - length).abs() < 1e-4 * arc.length());
        prop_assert!((arc.area() - shoelace(&points)).abs() < sagitta * arc.length() + 1e-9);
        for w in points.windows(2) {
            let m = w[0].midpoint(w[1]);
            prop_assert!((distance(m, c) - r).abs() < sagitta * 1.001 + 1e-12);
        }
        let b = arc.bounds();
        for q in &points {
            prop_assert!(b.inflate(1e-9, 1e-9).contains(*q));
        }
        let tight = points.iter().map(|q| q.x).fold(f64::MIN, f64::max);
        prop_assert!((tight - b.x1).abs() < 1e-6 + 1e-4 * r);
        let path = arc.to_path(1e-3);
        let length = kurbo::Shape::perimeter(&path, 1e-6);
        prop_assert!((length - arc.length()).abs() < 1e-3 * r);
        // Backwards it is as long and encloses the opposite.
        prop_assert!((arc.reversed().area() + arc.area()).abs() < 1e-9);
    }

    #[test]
    fn area_is_additive_over_a_cut(a in 1.0f64..10.0, b in 1.0f64..10.0, r in 0.1f64..0.9, at in 0.1f64..0.9) {
        // A rectangle with a round end, cut across at a share of its length.
        let cut = a * at;
        let radius = b / 2.0 * (1.0 + r);
        let whole = Profile::start(0.0, 0.0).line(a, 0.0).round_to(a, b, radius, Sense::Left).expect("it spans").line(0.0, b).close();
        let left = Profile::rectangle(0.0, 0.0, cut, b);
        let right = Profile::start(cut, 0.0).line(a, 0.0).round_to(a, b, radius, Sense::Left).expect("it spans").line(cut, b).close();
        prop_assert!((whole.area() - left.area() - right.area()).abs() < 1e-10);
        prop_assert!(whole.crosses_itself().is_none());
    }

    #[test]
    fn inside_and_outside_agree_with_the_sampled_polygon(x in -3.0f64..9.0, y in -3.0f64..9.0) {
        let shape = Profile::start(0.0, 0.0).line(6.0, 0.0)
            .arc_to(Point::new(6.0, 6.0), Point::new(6.0, 3.0), Sense::Right)
            .line(0.0, 6.0)
            .arc_to(Point::new(0.0, 0.0), Point::new(0.0, 3.0), Sense::Left);
        let p = Point::new(x, y);
        prop_assume!(shape.distance_to(p) > 1e-3);
        let points = shape.sampled(1e-5);
        // Even-odd rule along a ray to the right.
        let mut inside = false;
        let next = points.iter().cycle().skip(1);
        for (a, b) in points.iter().zip(next) {
            if (a.y > y) != (b.y > y) && x < a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x) {
                inside = !inside;
            }
        }
        prop_assert_eq!(shape.contains(p), inside);
        let least = points.windows(2).map(|w| {
            let d = w[1] - w[0];
            let t = ((p - w[0]).dot(d) / d.hypot2()).clamp(0.0, 1.0);
            distance(p, w[0] + d * t)
        }).fold(f64::INFINITY, f64::min);
        prop_assert!((shape.distance_to(p) - least).abs() < 2e-5);
    }

    #[test]
    fn bores_take_off_what_they_hold(d in 1.0f64..5.0, depth in 1.0f64..8.0, wide in 5.1f64..9.0, shallow in 0.1f64..0.9) {
        // Counterbore, hole and drill's cone from one end against a count of rings of the widest.
        let bore = Bore { end: End::Far, steps: vec![
            BoreStep { first: wide, last: wide, length: shallow },
            BoreStep { first: d, last: d, length: depth },
        ], through: false, point: Some(2.0) };
        let part = Turned::stepped(&[(12.0, 20.0)]).bored(bore.clone());
        let n = 20_000u32;
        let step = bore.depth() / f64::from(n);
        let slope = reckon::maths::tan(1.0);
        let taken: f64 = (0..n).map(|k| {
            let t = (f64::from(k) + 0.5) * step;
            let r = if t < shallow { wide / 2.0 } else if t < shallow + depth { d / 2.0 } else { (bore.depth() - t) * slope };
            PI * r * r * step
        }).sum();
        // A ring that straddles a shoulder is counted with the wrong radius: at most one ring's worth.
        let within = step * PI * wide * wide / 4.0;
        prop_assert!((PI * 36.0 * 20.0 - part.volume() - taken).abs() < within);
    }

    #[test]
    fn broken_edges_leave_a_sound_part(d in 2.0f64..20.0, l in 2.0f64..30.0, edge in 0.05f64..0.4) {
        for e in [Edge::Round(edge), Edge::Chamfer { along: edge, deep: edge * 0.7 }] {
            let sharp = Turned::stepped(&[(d, l), (d * 0.6, l)]);
            let broken = Turned::new(Outer::new().step(d, l).leading(e).trailing(e).step(d * 0.6, l).trailing(e).profile());
            prop_assert_eq!(broken.unsound(), vec![]);
            prop_assert!(broken.volume() < sharp.volume());
            let lost = match e { Edge::Round(r) => r * r * (1.0 - PI / 4.0), Edge::Chamfer { along, deep } => along * deep / 2.0 };
            prop_assert!(sharp.volume() - broken.volume() < 3.0 * lost * PI * d);
            prop_assert!(broken.outer.segments().iter().all(|s| Segment::length(s) > 0.0));
        }
    }
}
/// The middle of a rounded end lies on the chord of its arc: inside all the same, whichever way round the outline goes.
#[test]
fn the_middle_of_a_rounded_end_is_inside() {
    let lever = |sense| {
        let ends = if sense == Sense::Left { (30.0, 0.0) } else { (0.0, 30.0) };
        Profile::start(ends.1, 0.0)
            .line(ends.0, 0.0)
            .arc_to(Point::new(ends.0, 10.0), Point::new(ends.0, 5.0), sense)
            .line(ends.1, 10.0)
            .arc_to(Point::new(ends.1, 0.0), Point::new(ends.1, 5.0), sense)
            .close()
    };
    for outline in [lever(Sense::Left), lever(Sense::Right)] {
        for x in [-4.0, 0.0, 15.0, 30.0, 34.0] {
            assert!(outline.contains(Point::new(x, 5.0)), "{x}");
        }
        for x in [-6.0, 36.0] {
            assert!(!outline.contains(Point::new(x, 5.0)), "{x}");
        }
    }
}
