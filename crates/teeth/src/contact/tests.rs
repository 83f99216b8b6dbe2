use super::*;
use crate::curve::{Form, Lantern, Leaf, LeafProfile, Wheel};
use crate::involute::Involute;

fn cut(teeth: u32, leaves: u32, form: Form, profile: LeafProfile) -> Pair {
    let wheel = Wheel::new(teeth, leaves, form).expect("a form");
    let leaf = Leaf::new(leaves, profile, wheel.addendum()).expect("a leaf");
    Pair::new(&Driver::Wheel(wheel), Driven::Leaf(leaf))
}
fn told(c: &Contact) -> [f64; 8] {
    let (deg, min) = (c.start.to_degrees(), c.transmission_error.to_degrees() * 60.0);
    let share = |v: f64| (v - 1.0) * 100.0;
    [deg, min, share(c.speed_ratio.0), share(c.speed_ratio.1), c.efficiency, c.torque.0, c.torque.1, c.reach]
}

#[test]
fn print_all() {
    let rows: [(u32, u32, Form, LeafProfile, f64); 22] = [
        (96, 12, Form::Epicycloid, LeafProfile::A, 0.0),
        (64, 8, Form::Ogive, LeafProfile::A, 0.0),
        (60, 10, Form::Ogive, LeafProfile::A, 0.0),
        (96, 12, Form::Ogive, LeafProfile::A, 0.0),
        (84, 7, Form::Ogive, LeafProfile::B, 0.0),
        (64, 8, Form::Ogive, LeafProfile::A, 0.05),
        (64, 8, Form::Ogive, LeafProfile::A, 0.10),
        (96, 12, Form::Epicycloid, LeafProfile::A, 0.10),
        (60, 10, Form::Ogive, LeafProfile::A, -0.1),
        (60, 10, Form::Ogive, LeafProfile::A, 0.05),
        (60, 10, Form::Ogive, LeafProfile::A, 0.2),
        (60, 10, Form::Epicycloid, LeafProfile::A, -0.1),
        (60, 10, Form::Epicycloid, LeafProfile::A, 0.0),
        (60, 10, Form::Epicycloid, LeafProfile::A, 0.05),
        (60, 10, Form::Epicycloid, LeafProfile::A, 0.2),
        (64, 8, Form::Ogive, LeafProfile::A, -0.1),
        (64, 8, Form::Ogive, LeafProfile::A, 0.2),
        (64, 8, Form::Epicycloid, LeafProfile::A, -0.1),
        (64, 8, Form::Epicycloid, LeafProfile::A, -0.05),
        (64, 8, Form::Epicycloid, LeafProfile::A, 0.0),
        (64, 8, Form::Epicycloid, LeafProfile::A, 0.05),
        (64, 8, Form::Epicycloid, LeafProfile::A, 0.2),
    ];
    for (zw, zp, form, prof, da) in rows {
        let pair = cut(zw, zp, form, prof);
        let c = run(&pair, da, 0.15).expect("drives");
        println!(
            "{zw} {zp} {form:?} {da}: {:.3?} app {:.3} j {:.4} shared {} tips {:.2} {:.2} ho {:.3?}",
            told(&c),
            c.approach_pitches(),
            c.backlash,
            c.shared,
            c.on_driver_tip,
            c.on_driven_tip,
            c.hand_over
        );
    }
    let w = Wheel::new(64, 8, Form::Lantern { pin_radius: 0.525, backlash: 0.1 }).expect("form");
    let pair = Pair::new(&Driver::Wheel(w), Driven::Lantern(Lantern::new(8, 0.525).expect("pins")));
    println!("lantern {:.4?}", told(&run(&pair, 0.0, 0.15).expect("drives")));
    for i in -60..=60 {
        let m = Mesh::new(&pair, 0.0);
        let th = f64::from(i) * 0.05f64.to_radians() - 0.525/32.0;
        let t = m.touch(th);
        let u = m.touch(th + m.pitch);
        println!("{:.3} {:.5?} {:.5?}", f64::from(i) * 0.05, t.map(|t| (t.error.to_degrees() * 60.0, t.piece, t.place)), u.map(|t| (t.error.to_degrees() * 60.0, t.piece, t.place)));
    }
    let pair1 = cut(64, 8, Form::Ogive, LeafProfile::A);
    for (pair, da, want) in [
        (pair1.clone(), 0.05, 2.953),
        (pair1.clone(), 0.1, 5.736),
        (pair1.clone(), 0.1, 5.88),
        (pair1.clone(), 0.2, 10.548),
        (cut(64, 8, Form::Epicycloid, LeafProfile::A), 0.2, 14.654),
        (cut(60, 10, Form::Epicycloid, LeafProfile::A), 0.2, 10.15),
        (cut(96, 12, Form::Epicycloid, LeafProfile::A), 0.1, 5.02),
    ] {
        let c = run(&pair, da, 0.15).unwrap();
        let m = Mesh::new(&pair, da);
        for n in [48.0, 60.0, 80.0, 100.0, 120.0, 200.0, 240.0, 400.0] {
            let h = m.pitch / n;
            print!("{n}: {:.3} ", (m.error(c.start + h) - m.error(c.start)) / h / m.ratio * 100.0);
        }
        println!("{da} want {want}");
    }
    let p = Involute::new(12, 0.3, 20f64.to_radians());
    let w = Involute::new(96, -0.3, 20f64.to_radians());
    for da in [0.0, 0.05, 0.1] {
        let pair = Pair::new(&Driver::Involute(w), Driven::Involute(p));
        let c = run(&pair, da, 0.15).expect("drives");
        println!("inv {:.5?} {:.4}", told(&c), c.backlash);
        let pair = Pair::new(&Driver::Involute(p), Driven::Involute(w));
        let c = run(&pair, da, 0.15).expect("drives");
        println!("inv rev {:.5?} {:.4}", told(&c), c.backlash);
    }
    let pair = cut(64, 8, Form::Ogive, LeafProfile::A);
    let t = std::time::Instant::now();
    for _ in 0..20 {
        run(&pair, 0.01, 0.15).expect("drives");
    }
    println!("run {:?}", t.elapsed() / 20);
    let t = std::time::Instant::now();
    let d = depth(&pair, &House::default());
    println!("depth {:?} {d:#?}", t.elapsed());
}
