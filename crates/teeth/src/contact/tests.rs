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
#[test]
fn timing() {
    for _ in 0..3 {
    let pair = cut(64, 8, Form::Ogive, LeafProfile::A);
    let t = std::time::Instant::now();
    for _ in 0..20 { run(&pair, 0.01, 0.15).expect("drives"); }
    println!("run {:?}", t.elapsed() / 20);
    let t = std::time::Instant::now();
    for _ in 0..20 { run_at(&pair, 0.01, 0.15, 16).expect("drives"); }
    println!("rough {:?}", t.elapsed() / 20);
    let t = std::time::Instant::now();
    let _ = depth(&pair, &House::default());
    println!("depth {:?}", t.elapsed());
    let m = Mesh::new(&pair, 0.01);
    let t = std::time::Instant::now();
    for i in 0..1000 { m.touch(f64::from(i) * 1e-4 - 0.05); }
    println!("touch {:?}", t.elapsed() / 1000);
    }
}
