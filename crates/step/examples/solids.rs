//! Writes a dozen solids, one of every kind of face at least, for another program to read back.
//!
//!     solids FOLDER
//!
//! Prints for each: its file, its volume as crate `shape` reckons it, its box, its numbers of faces and holes.

use kurbo::Point;
use reckon::maths::{PI, cos, sin};
use shape::flat::{Countersink, Flat};
use shape::profile::{Profile, Sense};
use shape::turned::{Bore, Edge, End, FaceGroove, Feature, Form, Outer, Turned};
use step::{Body, Layer, Placement};

struct Made {
    name: &'static str,
    body: Body,
    volume: f64,
    low: [f64; 3],
    high: [f64; 3],
}

fn turned(name: &'static str, part: &Turned) -> Made {
    let body = step::turned(part).unwrap_or_else(|e| panic!("{name}: {e}"));
    // What the solid leaves out is left out of the reckoning too.
    let mut shown = part.clone();
    let mut at = 0;
    shown.features.retain(|f| {
        let keep = matches!(f, Feature::Thread(_) | Feature::Knurl { .. })
            || !body.left_out.iter().any(|l| l.feature == at);
        at += 1;
        keep
    });
    let r = part.largest_diameter() / 2.0;
    Made { name, body, volume: shown.volume(), low: [-r, -r, part.first()], high: [r, r, part.last()] }
}

fn flat(name: &'static str, part: &Flat) -> Made {
    let b = part.outline.bounds();
    Made {
        name,
        body: step::flat(part).unwrap_or_else(|e| panic!("{name}: {e}")),
        volume: part.volume(),
        low: [b.x0, b.y0, 0.0],
        high: [b.x1, b.y1, part.thickness],
    }
}

fn stacked(name: &'static str, layers: &[Layer]) -> Made {
    let mut volume = 0.0;
    let mut all = layers[0].outline.bounds();
    for l in layers {
        let holes: f64 = l.holes.iter().map(|h| h.area().abs()).sum();
        volume += (l.outline.area().abs() - holes) * (l.z1 - l.z0);
        all = all.union(l.outline.bounds());
    }
    Made {
        name,
        body: step::stack(layers).unwrap_or_else(|e| panic!("{name}: {e}")),
        volume,
        low: [all.x0, all.y0, layers[0].z0],
        high: [all.x1, all.y1, layers[layers.len() - 1].z1],
    }
}

/// Teeth with straight flanks and pointed tips of two arcs, like those of a clock's wheel.
fn toothed(teeth: u32, root: f64, pitch: f64, tip: f64) -> Profile {
    let step = 2.0 * PI / f64::from(teeth);
    let at = |r: f64, a: f64| Point::new(r * cos(a), r * sin(a));
    let start = at(root, -step / 4.0);
    let mut p = Profile::start(start.x, start.y);
    for k in 0..teeth {
        let a = step * f64::from(k);
        let (low, high) = (at(pitch, a - step / 4.0), at(pitch, a + step / 4.0));
        let (point, foot) = (at(tip, a), at(root, a + step / 4.0));
        let next = if k + 1 == teeth { start } else { at(root, a + step * 0.75) };
        let bulge = (tip - pitch) * 2.0;
        p = p.line(low.x, low.y);
        p = p.round_to(point.x, point.y, bulge, Sense::Left).expect("the tip is nearer than its arc is wide");
        p = p.round_to(high.x, high.y, bulge, Sense::Left).expect("the tip is nearer than its arc is wide");
        p = p.line(foot.x, foot.y).arc_to(next, Point::ORIGIN, Sense::Left);
    }
    p
}

fn disc(radius: f64) -> Profile {
    Profile::circle(Point::ORIGIN, radius)
}

fn solids() -> Vec<Made> {
    let cheese = Outer::new().step(3.0, 12.0).step(5.5, 2.0);
    let round_head = Profile::start(0.0, 0.0).line(0.0, 1.5).line(8.0, 1.5).line(8.0, 2.9).arc_to(
        Point::new(10.0, 0.0),
        Point::new(10.0 - (2.9 * 2.9 + 4.0) / 4.0, 0.0),
        Sense::Right,
    );
    let ball = Profile::start(-3.0, 0.0).arc_to(Point::new(3.0, 0.0), Point::ORIGIN, Sense::Right);
    let waist = Profile::start(0.0, 0.0)
        .line(0.0, 5.0)
        .line(2.0, 5.0)
        .arc_to(Point::new(8.0, 5.0), Point::new(5.0, 7.0), Sense::Left)
        .line(10.0, 5.0)
        .line(10.0, 0.0);
    // Its arc has its centre beyond the axis, so that the surface is no torus.
    let acorn = Profile::start(0.0, 0.0).line(0.0, 4.0).arc_to(
        Point::new(6.0, 0.0),
        Point::new(0.0, -2.5),
        Sense::Right,
    );
    let apple = Profile::start(0.0, 0.0).line(0.0, 4.0).arc_to(
        Point::new(8.0, 4.0),
        Point::new(4.0, 1.0),
        Sense::Right,
    );
    let apple = apple.line(8.0, 0.0);
    let rounded = Outer::new()
        .step(10.0, 6.0)
        .leading(Edge::Round(1.0))
        .step(6.0, 8.0)
        .trailing(Edge::Chamfer { along: 0.7, deep: 0.4 });
    let groove = |end, diameter, width, depth, form| {
        Feature::FaceGroove(FaceGroove { end, diameter, width, depth, form })
    };
    let plate = Profile::rectangle(0.0, 0.0, 80.0, 50.0);
    let plate = plate.rounded(1, 6.0).and_then(|p| p.rounded(3, 6.0)).expect("there is room at the corners");
    let plate = Flat::new(plate, 3.0)
        .hole(12.0, 12.0, 4.0, "a")
        .hole(60.0, 30.0, 3.0, "b")
        .hole(68.0, 12.0, 5.0, "c")
        .window(Profile::slot(Point::new(25.0, 18.0), Point::new(45.0, 30.0), 8.0))
        .window(Profile::rectangle(10.0, 30.0, 20.0, 42.0));
    let mut sunk = plate.clone();
    sunk.countersinks = vec![
        Countersink { hole: 0, diameter: 8.0, angle: PI / 2.0, front: true },
        Countersink { hole: 1, diameter: 5.0, angle: PI / 3.0, front: true },
        Countersink { hole: 1, diameter: 4.0, angle: PI / 2.0, front: false },
        Countersink { hole: 2, diameter: 11.0, angle: PI / 2.0, front: false },
    ];
    let leaves = toothed(12, 1.9, 3.0, 3.4);
    let layer = |z0, z1, outline: &Profile, holes: &[Profile]| Layer {
        z0,
        z1,
        outline: outline.clone(),
        holes: holes.to_vec(),
    };
    vec![
        turned("stepped", &Turned::stepped(&[(2.0, 4.0), (6.0, 10.0), (3.5, 20.0), (1.0, 2.0)])),
        turned("ball", &Turned::new(ball.clone())),
        turned(
            "ball-slotted",
            &Turned::new(ball.clone())
                .with(Feature::Slot { end: End::Datum, width: 1.0, depth: 1.0 })
                .with(Feature::Slot { end: End::Far, width: 0.6, depth: 3.5 }),
        ),
        turned("waist", &Turned::new(waist).bored(Bore::through(3.0))),
        turned("acorn", &Turned::new(acorn).bored(Bore::blind(End::Datum, 2.0, 2.5))),
        turned("apple", &Turned::new(apple)),
        turned(
            "bush",
            &Turned::new(rounded.profile())
                .bored(Bore::through(2.5).then(4.0, 0.0))
                .bored(Bore::countersink(End::Far, 5.0, 4.0, PI / 2.0)),
        ),
        turned(
            "blind",
            &Turned::stepped(&[(12.0, 15.0)])
                .bored(Bore::blind(End::Datum, 8.0, 4.0).then(5.0, 3.0).pointed(118.0 / 180.0 * PI))
                .bored(Bore::countersink(End::Far, 6.0, 0.0, PI / 2.0)),
        ),
        turned(
            "grooves",
            &Turned::stepped(&[(30.0, 6.0)])
                .bored(Bore::through(4.0))
                .with(groove(End::Datum, 10.0, 2.0, 1.0, Form::Square))
                .with(groove(End::Datum, 16.0, 2.0, 1.0, Form::Vee))
                .with(groove(End::Datum, 24.0, 2.0, 0.4, Form::Round))
                .with(groove(End::Far, 12.0, 2.0, 1.5, Form::Round))
                .with(groove(End::Far, 22.0, 3.0, 1.5, Form::Round))
                .with(Feature::Relief { end: End::Far, diameter: 7.0, depth: 0.5 }),
        ),
        turned(
            "cheese-head",
            &Turned::new(cheese.profile())
                .with(Feature::Slot { end: End::Far, width: 0.8, depth: 1.0 })
                .with(Feature::Thread(shape::turned::Thread {
                    side: shape::turned::Side::Outside,
                    from: 0.0,
                    to: 8.0,
                    major: 3.0,
                    minor: 2.4,
                    pitch: 0.5,
                    run_out: 1.0,
                    label: "M3".into(),
                })),
        ),
        turned(
            "round-head",
            &Turned::new(round_head).with(Feature::Slot { end: End::Far, width: 0.8, depth: 1.2 }),
        ),
        turned(
            "hollow-slotted",
            &Turned::stepped(&[(10.0, 5.0), (8.0, 2.0), (6.0, 2.0)])
                .bored(Bore::through(1.0))
                .bored(Bore::blind(End::Far, 3.0, 1.0))
                .with(Feature::Slot { end: End::Far, width: 1.5, depth: 3.0 }),
        ),
        turned(
            "flats",
            &Turned::stepped(&[(16.0, 3.0), (10.0, 6.0), (6.0, 10.0)])
                .bored(Bore::through(2.0))
                .with(Feature::Flats { from: 4.0, to: 8.0, across: 8.5, count: 2 })
                .with(Feature::Flats { from: 12.0, to: 19.0, across: 5.0, count: 1 }),
        ),
        turned(
            "hexagon",
            &Turned::stepped(&[(11.547_005_383_792_516, 5.0), (6.0, 10.0)]).with(Feature::Flats {
                from: 0.0,
                to: 5.0,
                across: 10.0,
                count: 6,
            }),
        ),
        turned(
            "square",
            &Turned::stepped(&[(5.0, 10.0), (5.0, 6.0)]).with(Feature::Flats {
                from: 10.0,
                to: 16.0,
                across: 4.0,
                count: 4,
            }),
        ),
        flat("plate", &plate),
        flat("countersunk", &sunk),
        stacked("wheel", &[layer(0.0, 2.0, &toothed(80, 23.0, 24.0, 24.9), &[disc(4.0)])]),
        stacked(
            "wheel-on-collet",
            &[
                layer(0.0, 2.0, &disc(5.0), &[disc(2.0)]),
                layer(
                    2.0,
                    4.0,
                    &toothed(80, 23.0, 24.0, 24.9),
                    &[
                        disc(2.0),
                        Profile::circle(Point::new(12.0, 0.0), 4.0),
                        Profile::circle(Point::new(-12.0, 0.0), 4.0),
                    ],
                ),
                layer(4.0, 5.0, &disc(3.0), &[disc(2.0)]),
            ],
        ),
        stacked(
            "pinion",
            &[
                layer(-3.0, 0.0, &disc(0.5), &[]),
                layer(0.0, 10.0, &disc(1.5), &[]),
                layer(10.0, 18.0, &leaves, &[]),
                layer(18.0, 30.0, &disc(1.5), &[]),
                layer(30.0, 33.0, &disc(0.5), &[]),
            ],
        ),
    ]
}

fn main() {
    let folder = std::env::args().nth(1).expect("a folder to write into");
    let mut all = solids();
    let hexagon = all.iter_mut().find(|m| m.name == "hexagon").expect("it is among them");
    (hexagon.low[0], hexagon.high[0]) = (-5.0, 5.0);
    // A slot takes the top of a dome: what is left reaches as far as the walls of the slot.
    let head = all.iter_mut().find(|m| m.name == "round-head").expect("it is among them");
    let (middle, radius) = (10.0 - 12.41 / 4.0, 12.41_f64 / 4.0);
    head.high[2] = middle + (radius * radius - 0.16).sqrt();
    let ball = all.iter_mut().find(|m| m.name == "ball-slotted").expect("it is among them");
    (ball.low[2], ball.high[2]) = (-(9.0_f64 - 0.25).sqrt(), (9.0_f64 - 0.09).sqrt());
    // The deeper one passes the middle, where the ball is widest.
    (ball.low[0], ball.high[0]) = (-(9.0_f64 - 0.09).sqrt(), (9.0_f64 - 0.09).sqrt());
    let apple = all.iter_mut().find(|m| m.name == "apple").expect("it is among them");
    for k in 0..2 {
        (apple.low[k], apple.high[k]) = (-6.0, 6.0);
    }
    let numbers = |v: &[f64]| v.iter().map(|x| format!("{x:?}")).collect::<Vec<_>>().join(" ");
    for m in &all {
        std::fs::write(format!("{folder}/{}.step", m.name), m.body.text(m.name, None))
            .expect("the folder can be written");
        let t = m.body.tally();
        println!(
            "{} {:?} {} {} {} {}",
            m.name,
            m.volume,
            numbers(&m.low),
            numbers(&m.high),
            t.faces,
            t.genus
        );
    }
    // An assembly: three of them, one twice, one laid over.
    let of = |name: &str| all.iter().find(|m| m.name == name).expect("it was made above");
    let (wheel, pinion, bush) = (of("wheel-on-collet"), of("pinion"), of("bush"));
    let places = [
        ("wheel", wheel, Placement { x: 0.0, y: 0.0, z: 0.0, turn: 0.3, over: false }),
        ("pinion", pinion, Placement { x: 40.0, y: 0.0, z: 0.0, turn: 0.1, over: true }),
        ("bush", bush, Placement { x: 0.0, y: 40.0, z: 2.0, turn: 0.0, over: false }),
        ("bush", bush, Placement { x: 0.0, y: -40.0, z: 2.0, turn: 1.0, over: true }),
    ];
    let parts: Vec<_> = places.iter().map(|(n, m, p)| (*n, &m.body, *p)).collect();
    let text = step::assembly("a train & its \"bushes\"", &parts, None).expect("there are parts");
    std::fs::write(format!("{folder}/assembly.step"), text).expect("the folder can be written");
    let volume: f64 = places.iter().map(|(_, m, _)| m.volume).sum();
    println!("assembly {volume:?} - - - - - - 0 0");
}
