//! Regions against closed forms and against what must hold for any region.

use kurbo::Point;
use proptest::prelude::*;
use reckon::maths::{self, PI};
use shape::region::{Corner, Fault, GRID, Lies, REACH, Region, Step, Turn};

const FINE: f64 = 1.0e-4;

fn at(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Region {
    Region::rectangle(at(x, y), at(x + width, y + height)).expect("a plain rectangle")
}

fn disc(x: f64, y: f64, radius: f64) -> Region {
    Region::disc(at(x, y), radius, FINE).expect("a plain disc")
}

#[track_caller]
fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "got {got}, want {want} within {within}");
}

#[test]
fn a_disc_lacks_what_its_chords_cut_off() {
    let rim = disc(3.0, -2.0, 10.0);
    let corners = u32::try_from(rim.corners()).expect("few corners");
    // A regular polygon in a circle: n/2 r² sin(2π/n).
    let polygon = f64::from(corners) / 2.0 * 100.0 * maths::sin(2.0 * PI / f64::from(corners));
    near(rim.area(), polygon, 1.0e-7);
    let sagitta = 10.0 * (1.0 - maths::cos(PI / f64::from(corners)));
    assert!(sagitta <= FINE && sagitta > 0.9 * FINE, "sagitta {sagitta}: neither coarse nor wasteful");
}

#[test]
fn an_outline_of_lines_and_arcs_encloses_its_closed_form() {
    // A slot: two half circles of radius 2 with a straight of 6 between their centres.
    let steps = [
        Step::Line { to: at(6.0, -2.0) },
        Step::Arc { to: at(6.0, 2.0), centre: at(6.0, 0.0), turn: Turn::Left },
        Step::Line { to: at(0.0, 2.0) },
        Step::Arc { to: at(0.0, -2.0), centre: at(0.0, 0.0), turn: Turn::Left },
    ];
    let slot = Region::outline(at(0.0, -2.0), &steps, 1.0e-7).expect("a slot");
    near(slot.area(), 24.0 + 4.0 * PI, 2.0e-6);
    near(slot.perimeter(), 12.0 + 4.0 * PI, 2.0e-6);
    let bounds = slot.bounds().expect("not empty");
    near(bounds.width(), 10.0, 2.0e-7);
    near(bounds.height(), 4.0, 1.0e-9);

    // The same with its ends hollowed: the arcs turn the other way.
    let hollow = steps.map(|step| match step {
        Step::Arc { to, centre, .. } => Step::Arc { to, centre, turn: Turn::Right },
        line @ Step::Line { .. } => line,
    });
    let hollow = Region::outline(at(0.0, -2.0), &hollow, 1.0e-7).expect("a hollow slot");
    near(hollow.area(), 24.0 - 4.0 * PI, 2.0e-6);
}

#[test]
fn an_arc_that_ends_where_it_begins_is_a_whole_circle() {
    let step = Step::Arc { to: at(5.0, 0.0), centre: at(0.0, 0.0), turn: Turn::Right };
    let circle = Region::outline(at(5.0, 0.0), &[step], 1.0e-7).expect("a circle");
    near(circle.area(), 25.0 * PI, 5.0e-6);
}

#[test]
fn a_hole_is_air() {
    let ring = disc(0.0, 0.0, 10.0).difference(&disc(0.0, 0.0, 4.0));
    assert_eq!(ring.pieces(), 1);
    assert_eq!(ring.polygons()[0].len(), 2);
    near(ring.area(), 84.0 * PI, 5.0e-3);
    assert_eq!(ring.lies(at(0.0, 0.0)), Ok(Lies::Outside));
    assert_eq!(ring.lies(at(7.0, 0.0)), Ok(Lies::Inside));
    assert_eq!(ring.lies(at(10.0, 0.0)), Ok(Lies::OnEdge));
    assert_eq!(ring.contains(at(4.0, 0.0)), Ok(true));
    assert_eq!(ring.contains(at(11.0, 0.0)), Ok(false));
    let drilled = Region::with_holes(
        &[at(0.0, 0.0), at(8.0, 0.0), at(8.0, 8.0), at(0.0, 8.0)],
        &[[at(1.0, 1.0), at(3.0, 1.0), at(3.0, 3.0)], [at(5.0, 5.0), at(7.0, 5.0), at(7.0, 7.0)]],
    );
    near(drilled.expect("two holes").area(), 60.0, 1.0e-9);
}

#[test]
fn a_square_offset_is_the_closed_form() {
    let square = rectangle(0.0, 0.0, 10.0, 10.0);
    let mitre = Corner::Mitre { limit: 2.0 };
    near(square.offset(1.0, mitre, FINE).expect("grown").area(), 144.0, 1.0e-6);
    near(square.offset(-1.0, mitre, FINE).expect("shrunk").area(), 64.0, 1.0e-6);
    near(square.offset(-1.0, Corner::Round, FINE).expect("shrunk").area(), 64.0, 1.0e-6);
    let within = 1.0e-5;
    let rounded = square.offset(1.0, Corner::Round, within).expect("grown").area();
    let exact = 140.0 + PI;
    assert!(rounded <= exact, "a rounded corner never reaches too far");
    near(rounded, exact, within * 2.0 * PI);
    // A limit below √2 cuts the corners of a square: edges end 1.2 from the old corner, which is
    // √(1.2² − 1) past it, and each corner loses a triangle.
    let cut = square.offset(1.0, Corner::Mitre { limit: 1.2 }, FINE).expect("grown").area();
    let lost = 1.0 - (1.2_f64 * 1.2 - 1.0).sqrt();
    near(cut, 144.0 - 4.0 * 0.5 * lost * lost, 1.0e-6);
}

#[test]
fn a_hole_shrinks_when_its_plate_grows() {
    let plate = rectangle(-10.0, -10.0, 20.0, 20.0).difference(&rectangle(-3.0, -3.0, 6.0, 6.0));
    let mitre = Corner::Mitre { limit: 2.0 };
    near(plate.offset(1.0, mitre, FINE).expect("grown").area(), 22.0 * 22.0 - 16.0, 1.0e-6);
    let shrunk = plate.offset(-1.0, Corner::Round, 1.0e-5).expect("shrunk").area();
    near(shrunk, 18.0 * 18.0 - (36.0 + 24.0 + PI), 1.0e-4);
    assert_eq!(plate.offset(3.0, mitre, FINE).expect("closed").polygons()[0].len(), 1);
}

#[test]
fn nothing_is_left_past_the_middle() {
    let bar = rectangle(0.0, 0.0, 30.0, 4.0);
    for by in [-2.0, -2.1, -2.5, -3.0, -10.0, -40.0] {
        assert!(bar.offset(by, Corner::Round, 1.0e-3).expect("shrunk").is_empty(), "by {by}");
        assert!(bar.offset(by, Corner::Mitre { limit: 2.0 }, FINE).expect("shrunk").is_empty(), "by {by}");
    }
}

#[test]
fn the_stoutest_place_is_the_inscribed_circle() {
    let within = 2.0e-5;
    near(rectangle(0.0, 0.0, 30.0, 4.0).inscribed_radius(within).expect("a bar"), 2.0, within);
    near(disc(1.0, 1.0, 6.0).inscribed_radius(1.0e-3).expect("a disc"), 6.0, 1.0e-3 + FINE);
    // Right triangle 3-4-5: r = (3 + 4 − 5) / 2.
    let triangle = Region::polygon(&[at(0.0, 0.0), at(3.0, 0.0), at(0.0, 4.0)]).expect("a triangle");
    near(triangle.inscribed_radius(within).expect("a triangle"), 1.0, within);
    // A ring of radii 10 and 4 holds a circle of radius 3.
    let ring = disc(0.0, 0.0, 10.0).difference(&disc(0.0, 0.0, 4.0));
    near(ring.inscribed_radius(1.0e-3).expect("a ring"), 3.0, 1.0e-3 + FINE);
    // Inner corner of an angle 10 × 10, arms 4: r = 4/(1 + 1/√2) touches both outer edges and the corner.
    let angle = rectangle(0.0, 0.0, 10.0, 4.0).union(&rectangle(0.0, 0.0, 4.0, 10.0));
    let half_root = 0.5_f64.sqrt();
    near(
        angle.inscribed_radius(1.0e-4).expect("an angle"),
        4.0 * 2.0 * half_root / (1.0 + 2.0 * half_root),
        1.0e-4,
    );
    near(Region::empty().inscribed_radius(within).expect("nothing"), 0.0, 0.0);
}

#[test]
fn the_gap_is_found_with_its_ends() {
    let left = rectangle(0.0, 0.0, 10.0, 10.0);
    let gap = left.gap(&rectangle(13.0, 14.0, 5.0, 5.0)).expect("two squares");
    near(gap.apart, 5.0, 1.0e-12);
    assert_eq!((gap.here, gap.there), (at(10.0, 10.0), at(13.0, 14.0)));
    near(disc(0.0, 0.0, 5.0).distance(&disc(13.0, 0.0, 5.0)).expect("two discs"), 3.0, 2.0 * FINE);
    // A pin in its hole: the clearance is inside.
    let ring = disc(0.0, 0.0, 10.0).difference(&disc(0.0, 0.0, 4.0));
    near(ring.distance(&disc(0.5, 0.0, 3.0)).expect("pin in hole"), 0.5, 2.0 * FINE);
    assert_eq!(left.distance(&rectangle(10.0, 3.0, 1.0, 1.0)), Some(0.0), "touching");
    assert_eq!(left.distance(&rectangle(4.0, 4.0, 1.0, 1.0)), Some(0.0), "one within the other");
    assert_eq!(rectangle(4.0, -1.0, 1.0, 12.0).distance(&left), Some(0.0), "crossing, no corner inside");
    assert_eq!(left.distance(&Region::empty()), None);
}

#[test]
fn thousands_of_overlapping_positions_make_one_slot() {
    let positions: Vec<Region> = (0..2000).map(|i| rectangle(f64::from(i) * 0.01, 0.0, 1.0, 2.0)).collect();
    let slot = Region::union_of(&positions);
    assert_eq!((slot.pieces(), slot.corners()), (1, 4));
    near(slot.area(), (19.99 + 1.0) * 2.0, 1.0e-7);
    assert!(Region::union_of(&[]).is_empty());
}

#[test]
fn what_has_no_place_on_the_grid_is_refused() {
    let bad = [at(0.0, 0.0), at(1.0, 0.0), at(f64::NAN, 1.0)];
    assert_eq!(Region::polygon(&bad), Err(Fault::NotFinite));
    let far = [at(0.0, 0.0), at(2.0 * REACH, 0.0), at(1.0, 1.0)];
    assert_eq!(Region::polygon(&far), Err(Fault::TooFar(2.0 * REACH)));
    assert_eq!(Region::disc(at(0.0, 0.0), 0.0, FINE), Err(Fault::NoRadius(0.0)));
    assert_eq!(Region::disc(at(0.0, 0.0), 1.0, 0.0), Err(Fault::NoAccuracy(0.0)));
    let square = rectangle(0.0, 0.0, 1.0, 1.0);
    assert_eq!(square.offset(f64::INFINITY, Corner::Round, FINE), Err(Fault::NotFinite));
    assert_eq!(square.offset(1.0, Corner::Mitre { limit: 0.5 }, FINE), Err(Fault::MitreTooShort(0.5)));
    let Err(Fault::TooFine { finest, .. }) = square.offset(1.0, Corner::Round, 1.0e-9) else {
        panic!("a rounded corner this fine is refused");
    };
    assert!(square.offset(1.0, Corner::Round, finest * 1.001).is_ok(), "what is offered is held");
    let Err(Fault::TooFine { finest, .. }) = Region::disc(at(0.0, 0.0), 1000.0, 1.0e-12) else {
        panic!("a disc this fine is refused");
    };
    assert!(finest > 1.0e-12 && finest < 1.0e-8);
    let step = Step::Arc { to: at(0.0, 6.0), centre: at(0.0, 0.0), turn: Turn::Left };
    assert_eq!(Region::outline(at(5.0, 0.0), &[step], FINE), Err(Fault::NotAnArc { start: 5.0, end: 6.0 }));
    assert!(Region::polygon(&[at(0.0, 0.0), at(1.0, 1.0)]).expect("a line").is_empty());
}

/// Polygons that wind once round a centre: star-shaped, often with deep bays.
fn star() -> impl Strategy<Value = Region> {
    (-6.0..6.0, -6.0..6.0, prop::collection::vec(1.0..9.0_f64, 3..14)).prop_map(|(x, y, radii)| {
        let count = f64::from(u32::try_from(radii.len()).expect("few corners"));
        let corner = |(i, radius): (u32, f64)| {
            let angle = 2.0 * PI * f64::from(i) / count;
            at(x + radius * maths::cos(angle), y + radius * maths::sin(angle))
        };
        let corners: Vec<Point> = (0..).zip(radii).map(corner).collect();
        Region::polygon(&corners).expect("finite corners")
    })
}

/// Discs of many corners with a few of them pressed in: all edges of the rim look to one centre.
fn dented() -> impl Strategy<Value = Region> {
    let dents = prop::collection::vec((0.0..1.0_f64, 1.0..7.5_f64), 0..4);
    (40_u32..160, dents).prop_map(|(count, dents)| {
        let mut radii = vec![8.0; usize::try_from(count).expect("few corners")];
        for (place, radius) in dents {
            let nearest = (0..count).min_by(|&a, &b| {
                let away = |i: u32| (f64::from(i) / f64::from(count) - place).abs();
                away(a).total_cmp(&away(b))
            });
            radii[usize::try_from(nearest.expect("some corner")).expect("few corners")] = radius;
        }
        let corner = |(i, radius): (u32, f64)| {
            let angle = 2.0 * PI * f64::from(i) / f64::from(count);
            at(radius * maths::cos(angle), radius * maths::sin(angle))
        };
        Region::polygon(&(0..).zip(radii).map(corner).collect::<Vec<_>>()).expect("finite corners")
    })
}

/// Distance from a point to the nearest edge, by plain search.
fn to_edge(region: &Region, p: Point) -> f64 {
    let mut least = f64::INFINITY;
    for ring in region.polygons().iter().flatten() {
        for (i, &from) in ring.iter().enumerate() {
            let to = ring[(i + 1) % ring.len()];
            let along = to - from;
            let share = ((p - from).dot(along) / along.hypot2()).clamp(0.0, 1.0);
            least = least.min((p - from.lerp(to, share)).hypot2().sqrt());
        }
    }
    least
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn areas_add_up(a in star(), b in star()) {
        let both = a.intersection(&b).area();
        let within = 1000.0 * GRID;
        prop_assert!((a.union(&b).area() - (a.area() + b.area() - both)).abs() < within);
        prop_assert!((a.difference(&b).area() - (a.area() - both)).abs() < within);
        prop_assert!((b.difference(&a).area() - (b.area() - both)).abs() < within);
    }

    #[test]
    fn a_union_of_many_is_the_union_one_by_one(regions in prop::collection::vec(star(), 1..12)) {
        let one_by_one = regions.iter().fold(Region::empty(), |all, region| all.union(region));
        prop_assert!((Region::union_of(&regions).area() - one_by_one.area()).abs() < 10_000.0 * GRID);
    }

    #[test]
    fn what_was_cut_is_gone(a in star(), b in star(), x in -15.0..15.0, y in -15.0..15.0) {
        let p = at(x, y);
        let rest = a.difference(&b);
        let clear = to_edge(&a, p).min(to_edge(&b, p)) > 1.0e-6;
        if clear {
            let wanted = a.contains(p).unwrap() && !b.contains(p).unwrap();
            prop_assert_eq!(rest.contains(p).unwrap(), wanted);
        }
    }

    #[test]
    fn an_offset_is_all_points_within_its_distance(
        region in star(), by in -3.0..3.0_f64, x in -15.0..15.0, y in -15.0..15.0,
    ) {
        let (p, within) = (at(x, y), 1.0e-4);
        let distance = to_edge(&region, p);
        let signed = if region.contains(p).unwrap() { -distance } else { distance };
        let moved = region.offset(by, Corner::Round, within).unwrap();
        // Too near to the new edge to tell.
        if (signed - by).abs() > within + 1.0e-6 {
            prop_assert_eq!(moved.contains(p).unwrap(), signed < by, "point at {} from the edge", signed);
        }
    }

    #[test]
    fn a_round_outline_shrinks_right_to_its_centre(
        region in dented(), by in 0.0..8.5_f64, x in -8.0..8.0, y in -8.0..8.0,
    ) {
        let (p, within) = (at(x, y), 1.0e-3);
        let distance = to_edge(&region, p);
        let depth = if region.contains(p).unwrap() { distance } else { -distance };
        let shrunk = region.offset(-by, Corner::Round, within).unwrap();
        if (depth - by).abs() > within + 1.0e-6 {
            prop_assert_eq!(shrunk.contains(p).unwrap(), depth > by, "point {} deep", depth);
        }
    }

    #[test]
    fn a_distance_is_where_growing_first_touches(a in star(), b in star(), away in 0.0..30.0) {
        let moved = b.polygons().iter().flatten().map(|ring| {
            let corners: Vec<Point> = ring.iter().map(|p| at(p.x + 20.0 + away, p.y)).collect();
            Region::polygon(&corners).unwrap()
        }).fold(Region::empty(), |all, ring| all.union(&ring));
        let gap = a.gap(&moved).unwrap();
        if gap.apart > 0.01 {
            prop_assert!((to_edge(&a, gap.here) + to_edge(&moved, gap.there)) < 1.0e-9);
            prop_assert!(((gap.here - gap.there).hypot2().sqrt() - gap.apart).abs() < 1.0e-9);
            let within = 1.0e-3;
            let short = a.offset(gap.apart - within, Corner::Round, within).unwrap();
            let long = a.offset(gap.apart + 2.0 * within, Corner::Round, within).unwrap();
            prop_assert!(short.intersection(&moved).is_empty());
            prop_assert!(!long.intersection(&moved).is_empty());
        }
    }
}
