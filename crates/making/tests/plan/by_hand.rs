//! The ten screws and five washers of the shipped example, reckoned again from published formulas, without the
//! planner's code. Millimetres, newtons, degrees.

use crate::shed::{Work, example, work};
use reckon::maths;

/// Within a share of what is wanted.
#[track_caller]
fn near(got: f64, wanted: f64, share: f64) {
    assert!((got - wanted).abs() <= share * wanted.abs().max(1e-9), "got {got}, by hand {wanted}");
}
const EXACT: f64 = 1e-9;
fn tan(degrees: f64) -> f64 {
    maths::tan(degrees.to_radians())
}
/// Specific cutting force at a feed of 0.09 mm: kc = kc1.1 h^-mc (VDI 3323 groups: brass 700 and 0.27, carbon tool
/// steel annealed 1700 and 0.24).
fn kc(at_one: f64, falls: f64) -> f64 {
    at_one * maths::pow(0.09, -falls)
}

#[test]
fn bar_for_the_screws() {
    let w = Work::example("ten-screws");
    // Ten and one spare for every ten begun.
    near(w.si("bridge_screw.batch"), 11.0, EXACT);
    // Head of 8 mm, and 0.2 mm to clean up: the next bar of the shop is 10 mm.
    near(w.mm("bridge_screw.stock.size"), 10.0, EXACT);
    // 11 + 3.2 long, 0.3 for the far face, 0.2 for the front that the blade leaves rough, 1.2 of parting cut.
    let pitch = 11.0 + 3.2 + 0.3 + 0.2 + 1.2;
    near(w.mm("bridge_screw.stock.pitch"), pitch, EXACT);
    // Collet grips 22, 2 clear of it, 1 for the first face.
    near(w.mm("bridge_screw.stock.need"), 22.0 + 2.0 + 1.0 + 11.0 * pitch, EXACT);
}
#[test]
fn deepest_cut_on_the_screw_and_its_rough_cuts() {
    let w = Work::example("ten-screws");
    // Friction of smooth jaws on drawn steel 0.10, safety 2.4 (chuck maker's table after VDI 3106); the feed pushes with
    // 0.4 of the main force: 2.4 √(1 + 0.4²) F = 0.10 · 3500.
    let force = 0.10 * 3500.0 / (2.4 * (1.0_f64 + 0.16).sqrt());
    // It does not tip: √(1 + 0.3²) F (17.9 + 22/2) stays below K 3500 · 22/3 with K = 1/π all round.
    let leverage = (1.0_f64 + 0.09).sqrt() * force * (17.9 + 11.0);
    assert!(leverage < 3500.0 * 22.0 / 3.0 / maths::PI);
    let deepest = force / (kc(1700.0, 0.24) * 0.09);
    near(w.mm("bridge_screw.setup1.deepest.by_grip"), deepest, 1e-6);
    // Stiffness: ∫ z² dz / (E I) from the free end over thread (11 mm, at its thinnest 3.838), head (to 14.2) and bar
    // (to 17.9); 0.3 of the main force pushes outward. Finishing a quarter of 0.1 mm is allowed, roughing 0.05 mm; both
    // allow a deeper cut than the grip.
    let i = |d: f64| maths::PI * d * d * d * d / 64.0;
    let cube = |z: f64| z * z * z / 3.0;
    let give =
        (cube(11.0) / i(3.838) + (cube(14.2) - cube(11.0)) / i(8.0) + (cube(17.9) - cube(14.2)) / i(10.0))
            / 206e3;
    let stiff = 0.025 / (0.3 * give) / (kc(1700.0, 0.24) * 0.09);
    assert!(stiff > deepest && w.mm("bridge_screw.setup1.deepest.finishing") > stiff);
    assert!(w.mm("bridge_screw.setup1.deepest.by_stiffness") > 2.0 * stiff);
    near(w.mm("bridge_screw.setup1.deepest"), deepest, 1e-6);
    // 10 to 8.3 and 8 to 4.208 (0.3 left on the diameter): the least number of cuts none deeper than that.
    near(w.si("bridge_screw.setup1.step2.rough_cuts"), ((10.0 - 8.3) / 2.0 / deepest).ceil(), EXACT);
    near(w.si("bridge_screw.setup1.step1.rough_cuts"), ((8.0 - 4.208) / 2.0 / deepest).ceil(), EXACT);
}
#[test]
fn thread_of_the_screw() {
    let w = Work::example("ten-screws");
    let at = |tail: &str| w.mm(&format!("bridge_screw.setup1.step1.thread.{tail}"));
    // ISO 965-1, M4 × 0.7 6g: es 22 µm, major tolerance 140 µm, pitch-diameter tolerance 90 µm; blank in the middle.
    let (major, blank) = (4.0 - 0.022, 4.0 - 0.022 - 0.070);
    near(at("blank"), blank, 1e-6);
    // The tool has a flat of some width: at depth x it leaves d2 = blank - 2x + (P/2 - flat) cot 30°.
    let (x, flat) = (at("depth"), w.threading_tip());
    let left = blank - 2.0 * x + (0.35 - flat) / tan(30.0);
    let most = major - 0.649_519 * 0.7;
    assert!(left < most && left > most - 0.090, "the thread comes to {left}");
    near(at("pitch_diameter"), left, 1e-6);
    let rows = w.rows("bridge_screw.setup1.step1.thread.passes");
    let sum: f64 = rows.iter().map(|r| r[3].si.expect("a cut") * 1e3).sum();
    near(sum, x, 1e-9);
    // 0.7 on a leadscrew of 1.5: 7/15 = 35/75.
    assert_eq!(w.book.find("bridge_screw.setup1.step1.thread.wheels").expect("wheels").1.shown, "35/75");
    // Best wire P / (2 cos 30°), and over three of them M = d2 + 3 w - (√3/2) P, but for the helix.
    let wire = 0.7 / (2.0 * maths::cos(30_f64.to_radians()));
    near(at("wire"), wire, 1e-9);
    near(at("over_wires.largest"), most + 3.0 * wire - 0.866_025 * 0.7, 5e-4);
    // 4.5 m/min at 3.908 mm asks 366 turns a minute, and the lathe allows 190 when threading: 133 of 360 mm/min.
    near(w.si("bridge_screw.setup1.step1.thread.speed") * 60.0 / (2.0 * maths::PI), 190.0, EXACT);
}
#[test]
fn washers_from_the_bar() {
    let w = Work::example("ten-screws");
    near(w.si("seatboard_washer.batch"), 6.0, EXACT);
    let pitch = 3.0 + 0.3 + 0.2 + 1.2;
    near(w.mm("seatboard_washer.stock.pitch"), pitch, EXACT);
    // Jaws of 18, 2 clear, 1 of first face.
    near(w.mm("seatboard_washer.stock.need"), 18.0 + 2.0 + 1.0 + 6.0 * pitch, EXACT);
    // One hole for six: first face, six pitches, half a millimetre, and the cone of a 5.5 drill of 118°.
    let full = 1.0 + 6.0 * pitch + 0.5;
    near(w.mm("seatboard_washer.setup1.hole.full_depth"), full, EXACT);
    near(w.mm("seatboard_washer.setup1.hole.depth_to_tip"), full + 2.75 / tan(59.0), 1e-9);
}
/// A finished washer held over half its thickness: friction of smooth jaws on finished steel 0.07, 0.9 of it on brass,
/// safety 2.4 (chuck maker's table after VDI 3106), 900 N so as not to mark it.
#[test]
fn grip_of_the_reversed_washer() {
    let w = Work::example("ten-screws");
    let (force, friction) = (900.0, 0.07 * 0.9);
    let slips = friction * force / (2.4 * (1.0_f64 + 0.16).sqrt());
    // Three jaws tip at K F l/3, K = √3/6.
    let tips = 3_f64.sqrt() / 6.0 * force * 1.5 / 3.0 / ((1.0_f64 + 0.09).sqrt() * (1.5 + 0.75));
    assert!(slips < tips);
    near(w.si("seatboard_washer.setup2.grip.greatest_force"), slips, 1e-6);
    let deepest = slips / (kc(700.0, 0.27) * 0.09);
    near(w.mm("seatboard_washer.setup2.deepest"), deepest, 1e-6);
    near(w.si("seatboard_washer.setup2.cuts"), (0.3 / deepest).ceil(), EXACT);
}
/// A tool that stands 0.05 mm off the middle leaves a pip of twice that.
#[test]
fn pip_of_a_low_tool() {
    let shop = example("ten-screws", "shop.toml").replacen(
        "tailstock_travel",
        "tool_height = \"-0.05 mm\"\ntailstock_travel",
        1,
    );
    let w = work(&example("ten-screws", "clock.toml"), &shop);
    near(w.mm("bridge_screw.setup1.part_off.pip"), 0.10, 1e-9);
}
/// Round nose: every height of the tool under its edge stays inside the groove when
/// tan(clearance) ≥ the greatest of depth at x over √(R² - x²), x the distance from the axis.
#[test]
fn round_form_tool_clears() {
    let w = Work::example("ten-screws");
    let tool = w.making.tools[0].drawing.groove().expect("a groove's");
    // Arc through both lips and the floor: ρ = (a² + g²) / 2g, a = 0.75, g = 0.5.
    let nose = (0.75 * 0.75 + 0.25) / 1.0;
    near(tool.nose.expect("round"), nose, 1e-9);
    let (middle, lip): (f64, f64) = (7.5, 8.25);
    let worst = (0..1000)
        .map(|i| {
            let x = middle + 0.75 * f64::from(i) / 1000.0;
            let off = x - middle;
            let deep = 0.5 - (nose - (nose * nose - off * off).sqrt());
            deep / (lip * lip - x * x).sqrt()
        })
        .fold(0.0, f64::max);
    // What a side relief of its own adds is left out: the clearance alone is enough.
    assert!(tool.outer_relief > 0.0 || tan(tool.end_clearance) >= worst, "{} of {worst}", tool.end_clearance);
}
/// Square edge: what stands in the groove is no higher than H = g / tan(clearance), nor than the blank; the side
/// towards the outer wall needs at least ½ asin(H / R).
#[test]
fn square_form_tool_clears() {
    let clock = example("ten-screws", "clock.toml").replacen("form = \"round\"", "form = \"square\"", 1);
    let w = work(&clock, &example("ten-screws", "shop.toml"));
    let tool = w.making.tools[0].drawing.groove().expect("a groove's");
    let inside = w.mm(&format!("{}.inside", w.making.tools[0].slug));
    let side = tan(tool.outer_relief);
    assert!(side > 0.0 && inside <= tool.height + 1e-9);
    let wanted = 0.5 * maths::asin(inside / 8.25).to_degrees();
    assert!(tool.outer_relief >= wanted - 1e-9, "{} of {wanted}", tool.outer_relief);
    // The end, as high as it stands in the groove, has drawn back to the face.
    assert!(
        inside >= 0.5 / tan(tool.end_clearance) - 1e-9 || inside >= tool.height - 1e-9,
        "{inside} inside"
    );
}
