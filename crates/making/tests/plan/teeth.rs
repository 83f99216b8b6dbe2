//! Wheels and pinions: dividing, cutters, blanks that share sheets, and their operations.

use crate::shed::{Work, example, work_movement};
use making::plan::teeth::{End, section};
use making::plan::{Edge, ShopTool};
use reckon::Origin;
use reckon::maths::{cos, sin};
use record::facts::StockForm;
use teeth::curve::{Form, Leaf, LeafProfile, Wheel};
use teeth::outline::{self, Root};

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within}");
}
fn movement(name: &str) -> Work {
    work_movement(&example(name, "clock.toml"), &example(name, "shop.toml"))
}
fn wheel_tools(w: &Work) -> Vec<(&ShopTool, f64)> {
    w.making
        .tools
        .iter()
        .filter_map(|t| match &t.drawing {
            Edge::Tooth(e) if !e.leaves => Some((t, e.module?)),
            _ => None,
        })
        .collect()
}
/// The space of a wheel: width at the pitch line, end and cheek as the sizes of the form give them
/// (BS 978-2: cheek 1.40 f m; space half the pitch).
#[test]
fn the_space_of_a_wheel_is_its_cutter() {
    let (z, mate, m) = (64, 8, 0.7);
    let wheel = Wheel::new(z, mate, Form::Ogive).expect("a wheel");
    let ring = outline::wheel(&wheel, m, outline::TOLERANCE);
    let s = section(&ring.profile, Some(m * f64::from(z) / 2.0)).expect("a space");
    let sizes = teeth::form::wheel_space(&wheel, m);
    let (height, width) = s.pitch.expect("a pitch line");
    near(width, sizes.width, 1e-6);
    near(height, sizes.straight, 1e-6);
    near(s.depth, sizes.depth, 1e-6);
    near(s.mouth, sizes.mouth, 1e-6);
    near(s.cheek.expect("an arc"), sizes.cheek.expect("an arc").radius, 1e-9);
    let End::Flat(end) = s.end else { panic!("a flat end") };
    near(end, sizes.root_width, 1e-6);
    // 1.4935 m for 64 teeth: gap between radial flanks at the root, 2 (R - h_f) sin(psi/2).
    near(end, 1.4935 * m, 1e-3);
    let own = outline::wheel_cutter(&wheel, m, outline::TOLERANCE).profile;
    near(s.profile.area().abs(), own.area().abs(), 1e-6);
}
/// Leaves: the same area as the cutter drawn from their form.
#[test]
fn the_space_of_a_pinion_is_its_cutter() {
    let wheel = Wheel::new(96, 12, Form::Ogive).expect("a wheel");
    let leaf = Leaf::new(12, LeafProfile::usual(12), wheel.addendum()).expect("leaves");
    let ring = outline::pinion(&leaf, 0.5, Root::Round);
    let s = section(&ring.profile, Some(3.0)).expect("a space");
    let own = outline::pinion_cutter(&leaf, 0.5, Root::Round).profile;
    near(s.profile.bounds().width(), own.bounds().width(), 1e-6);
    assert!(matches!(s.end, End::Round(r) if r > 0.0));
}
/// A cutter for 64 teeth used on 96: the flanks lean by π/2 (1/64 - 1/96), over the dedendum 0.013 m at the root
/// (derived); the cheeks, of another addendum, are out by more. Equal counts do not differ.
#[test]
fn a_borrowed_cutter_is_out_by_the_lean_of_its_flanks() {
    let of = |z| {
        let wheel = Wheel::new(z, 8, Form::Ogive).expect("a wheel");
        let ring = outline::wheel(&wheel, 1.0, outline::TOLERANCE).profile;
        section(&ring, Some(f64::from(z) / 2.0)).expect("a space")
    };
    let (few, many) = (of(64), of(96));
    let (End::Flat(a), End::Flat(b)) = (few.end, many.end) else { panic!("flat ends") };
    let ((_, p), (_, q)) = (few.pitch.expect("a line"), many.pitch.expect("a line"));
    near((b - a - (q - p)) / 2.0, teeth::form::borrowed_cutter(64, 96), 5e-4);
    near((b - a - (q - p)) / 2.0, 0.013, 5e-4);
    let off = few.differs(&many).expect("a pitch line");
    assert!(off > 0.012 && off < 0.1, "{off}");
    assert!(few.differs(&of(64)).expect("a pitch line") < 1e-9);
}
/// Every way of every toothing comes round: N (w c + h) = R c.
#[test]
fn ways_close() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = movement(name);
        let mut seen = 0;
        for t in w.toothings() {
            let n = t.count.bare().0;
            for row in w.rows(&format!("{}.dividing.ways", t.slug)) {
                let at = |k: usize| row[k].si.expect("a count").round();
                #[expect(clippy::cast_precision_loss, reason = "a count")]
                let steps = n as f64 * (at(1) * at(0) + at(2));
                near(steps, 40.0 * at(0), 1e-9);
                seen += 1;
            }
        }
        assert!(seen > 5, "{name}: {seen} ways");
    }
}
/// 96 on 40:1 with circles of 15 to 49: none; a circle that holds 12 would do.
#[test]
fn ninety_six_cannot_be_divided_and_is_told_what_would_do() {
    let clock = example("regulator", "clock.toml").replacen("teeth = 108", "teeth = 96", 1);
    let w = work_movement(&clock, &example("regulator", "shop.toml"));
    let (_, line) = w.book.find("centre.wheel.dividing.possible").expect("a verdict");
    let Origin::Verdict { holds, cures, .. } = &line.origin else { panic!("a verdict") };
    assert!(!holds);
    let told = cures.join("; ");
    assert!(told.contains("circle of 12, 24, 36, 48 or 60 holes"), "{told}");
    assert!(told.contains("brasswright counts"), "{told}");
}
/// Cutters that the shop has are used; for .5, .8 and .4 one is made before the wheels.
#[test]
fn missing_cutters_are_made_first() {
    let w = movement("regulator");
    let modules: Vec<f64> = wheel_tools(&w).iter().map(|t| t.1).collect();
    assert!(modules.iter().all(|m| (m - 0.7).abs() > 1e-9 && (m - 0.6).abs() > 1e-9), "{modules:?}");
    assert!(modules.iter().any(|m| (m - 0.5).abs() < 1e-9));
    let w = movement("table-clock");
    for wanted in [0.4, 0.5, 0.8] {
        assert!(wheel_tools(&w).iter().any(|(_, m)| (m - wanted).abs() < 1e-9), "{wanted}");
    }
    for p in &w.making.parts {
        for slug in &p.waits_for {
            let tool = w.making.tools.iter().any(|t| &t.slug == slug);
            assert!(tool || w.making.jigs.iter().any(|j| j.part.slug() == slug), "{slug}");
        }
    }
}
/// The great wheel of 103.24 does not come out of a sheet 100 wide, nor out of what two plates leave.
#[test]
fn no_two_parts_take_the_same_piece() {
    let w = movement("regulator");
    let great = w.making.parts.iter().find(|p| w.parts[p.part].slug() == "great.wheel").expect("planned");
    assert_eq!(great.stock.index, None);
    let told = great.stock.lines.join(" ");
    assert!(told.contains("too narrow by 3.24 mm, and by 7.24 mm with the saw allowance"), "{told}");
    assert!(told.contains("what other parts leave of it is too small"), "{told}");
    let share = making::plan::sheet::Share::out(w.shop(), &w.parts);
    for (stock, laid) in share.laid() {
        let StockForm::Sheet { length, width, .. } = &w.shop().stock[*stock].form else { panic!("sheet") };
        for (i, a) in laid.iter().enumerate() {
            assert!(
                a.x + a.width <= length.bare().in_mm() + 1e-6
                    && a.y + a.height <= width.bare().in_mm() + 1e-6
            );
            for b in laid.iter().skip(i + 1).filter(|b| b.piece == a.piece) {
                let apart = a.x + a.width <= b.x
                    || b.x + b.width <= a.x
                    || a.y + a.height <= b.y
                    || b.y + b.height <= a.y;
                assert!(apart, "{a:?} and {b:?}");
            }
        }
    }
}
/// Full depth from a true outside is half of outside less root, and every set-up that cuts teeth warns.
#[test]
fn depth_and_caution_stand_at_the_operation() {
    let w = movement("regulator");
    let mut seen = 0;
    for t in w.toothings() {
        near(t.depth.bare().in_mm(), (t.outside.bare().in_mm() - t.root.bare().in_mm()) / 2.0, 1e-9);
        seen += 1;
    }
    let cutting: Vec<_> =
        w.operations().filter(|(.., o)| o.cautions.contains(&making::plan::Caution::Indexing)).collect();
    assert_eq!(cutting.len(), seen);
}
/// Sizes over pins against a disc that a reference library moved into polygons built from the factors of
/// BS 978-2 alone (crosscheck/pins.py).
#[test]
fn over_pins_as_a_disc_in_polygons() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../crosscheck/data/pins.toml");
    let text = std::fs::read_to_string(path).expect("data of the crosscheck");
    let mut cases = 0;
    for case in text.split("[[case]]").skip(1) {
        let get = |key: &str| {
            let line = case.lines().find(|l| l.starts_with(&format!("{key} = "))).expect("a key");
            line[key.len() + 3..].trim_matches('"').to_owned()
        };
        let number = |key: &str| get(key).parse::<f64>().expect("a number");
        let count = |key: &str| get(key).parse::<u32>().expect("a count");
        let (z, n, m) = (count("teeth"), count("leaves"), number("module"));
        let wheel = Wheel::new(z, n, Form::Ogive).expect("a wheel");
        let (ring, of) = if get("of") == "wheel" {
            (outline::wheel(&wheel, m, outline::TOLERANCE).profile, z)
        } else {
            let profile = match get("profile").as_str() {
                "A" => LeafProfile::A,
                "B" => LeafProfile::B,
                _ => LeafProfile::C,
            };
            let leaf = Leaf::new(n, profile, wheel.addendum()).expect("leaves");
            (outline::pinion(&leaf, m, Root::Square).profile, n)
        };
        let p = teeth::pins::over(&ring, of, number("pin")).expect("a pin");
        near(p.over, number("over"), 2e-4);
        cases += 1;
    }
    assert_eq!(cases, 7);
}
/// A space cut deeper by d lowers the size over pins by twice that (even) or twice its cosine (odd): the ring is
/// built with its spaces moved inward, and pins are laid in anew.
#[test]
fn a_deeper_space_reads_less_over_pins() {
    use shape::profile::Profile;
    use std::f64::consts::PI;
    use teeth::pins::{Pinned, over};
    for z in [64_u32, 75] {
        let step = 2.0 * PI / f64::from(z);
        let lean = step * 0.27;
        let ring = |d: f64| {
            let mut p = Profile::start(20.0, 0.0);
            for k in 0..z {
                let a = step * f64::from(k);
                let mut to = |r: f64, side: f64| {
                    let (x, y) = (r * cos(lean) - d, side * r * sin(lean));
                    let (c, s) = (cos(a + step / 2.0), sin(a + step / 2.0));
                    p = p.clone().line(x * c - y * s, x * s + y * c);
                };
                to(20.0, -1.0);
                to(17.0, -1.0);
                to(17.0, 1.0);
                to(20.0, 1.0);
                p = p.line(20.0 * cos(a + step), 20.0 * sin(a + step));
            }
            p
        };
        let pin = 2.0 * 18.8 * sin(lean);
        let (before, after) =
            (over(&ring(0.0), z, pin).expect("a pin"), over(&ring(0.05), z, pin).expect("a pin"));
        near(before.centre, 18.8, 1e-6);
        near(after.over, before.over - 0.05 * Pinned::for_depth(z), 1e-7);
    }
}
/// Depth by touching the blank and depth by the axis of the head are one: what the table gives from the axis at
/// touch, less the infeed, is what it gives at full depth; and the edge stands on the root circle over the table.
#[test]
fn depth_by_the_axis_agrees_with_depth_by_touching() {
    let w = movement("regulator");
    let mut seen = 0;
    for t in w.toothings() {
        let si = |tail: &str| w.si(&format!("{}.setting.{tail}", t.slug)) * 1e3;
        let (paper, outside) = (si("paper"), t.outside.bare().in_mm());
        let swing = 2.0 * si("axes_apart") - t.root.bare().in_mm();
        let at_touch = (swing + outside) / 2.0 + paper;
        near(at_touch - si("from_paper"), si("axes_apart"), 1e-9);
        let edge_at_touch = 70.0 + outside / 2.0 + paper;
        near(edge_at_touch - si("from_paper"), si("over_table"), 1e-9);
        near(si("out_from_rod"), si("axes_apart") - (10.0 + 10.0) / 2.0 - paper, 1e-9);
        seen += 1;
    }
    assert!(seen > 8);
}
/// The list to tick ends in hole 0 after all turns of the worm, and each row's place is its steps from the start.
#[test]
fn the_list_to_tick_comes_back_to_the_first_hole() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = movement(name);
        let mut seen = 0;
        for t in w.toothings() {
            let Some((_, _)) = w.book.find(&format!("{}.ticks", t.slug)) else { continue };
            let rows = w.rows(&format!("{}.ticks", t.slug));
            let n = usize::try_from(t.count.bare().0).expect("a count");
            let all: Vec<String> = rows
                .iter()
                .flat_map(|r| r[..10].iter().map(|c| c.shown.clone()))
                .filter(|s| !s.is_empty())
                .collect();
            assert_eq!(all.len(), n);
            assert!(all.iter().enumerate().all(|(i, s)| *s == (i + 1).to_string()));
            let last = rows.last().expect("rows");
            assert_eq!((last[10].shown.as_str(), last[11].shown.as_str()), ("40", "0"), "{}", t.slug);
            seen += 1;
        }
        assert!(seen > 5, "{name}");
    }
}
proptest::proptest! {
    /// Every way of every head closes, for every count, and the pin's place after k steps is k h modulo the circle.
    #[test]
    fn all_ways_close(ratio in 1_u32..200, count in 2_u32..400, circle in 2_u32..120) {
        let head = train::dividing::Head { ratio, circles: vec![circle], direct: Vec::new() };
        for w in head.ways(count) {
            proptest::prop_assert!(w.closes(count, ratio));
        }
        let can = (u64::from(ratio) * u64::from(circle)).is_multiple_of(u64::from(count));
        proptest::prop_assert_eq!(head.divides(count), can);
    }
}
/// Faces of a ratchet drawn by hand: the face passes the axis at r sin(undercut), the wheel turns by the angle
/// between the faces, and each line, laid level at its height, holds its own tip and foot.
#[test]
fn two_faces_by_two_settings() {
    use kurbo::Point;
    use shape::profile::{Profile, Sense, on_circle};
    use std::f64::consts::PI;
    let (n, r, depth, under) = (20_u32, 15.0, 1.6, 10.0_f64.to_radians());
    let step = 2.0 * PI / f64::from(n);
    let mut p = Profile::start(r, 0.0);
    let mut kept = None;
    for k in 0..n {
        let a = step * f64::from(k);
        // The face leaves the tip inward, leaning by the undercut; the back comes to the next tip's land.
        let top = on_circle(Point::ORIGIN, r, a);
        let along = Point::new(top.x - depth * cos(a + under), top.y - depth * sin(a + under));
        let land = on_circle(Point::ORIGIN, r, a + step - 0.02);
        p = p.line(along.x, along.y).line(land.x, land.y).arc_to(
            on_circle(Point::ORIGIN, r, a + step),
            Point::ORIGIN,
            Sense::Left,
        );
        kept.get_or_insert((top, along, land));
    }
    let both = making::plan::teeth::faces(&p).expect("two faces");
    near(both.first.bulge, 0.0, 1e-9);
    near(both.second.bulge, 0.0, 1e-9);
    near(both.first.over.abs(), r * sin(under), 1e-9);
    near(both.land, 2.0 * r * sin(0.01), 1e-9);
    let (top, foot, land) = kept.expect("a tooth");
    // Turned so that the face points right, tip and foot are both at its height.
    let level = |q: Point, f: &making::plan::teeth::Face| q.y * cos(f.out) - q.x * sin(f.out);
    near(level(top, &both.first), both.first.over, 1e-9);
    near(level(foot, &both.first), both.first.over, 1e-9);
    near(level(land, &both.second), both.second.over, 1e-9);
    near(level(foot, &both.second), both.second.over, 1e-9);
}
/// Escape wheels get both settings and the width of their land; the turn between the faces ends on a hole.
#[test]
fn escape_wheels_are_set_for_both_faces() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let w = movement(name);
        let Some(_) = w.book.find("escapement.wheel.settings") else { continue };
        assert_eq!(w.rows("escapement.wheel.settings").len(), 2, "{name}");
        let turn = w.si("escapement.wheel.between_faces") / (2.0 * std::f64::consts::PI) * 40.0 * 49.0;
        near(turn, turn.round(), 1e-6);
        assert!(w.si("escapement.wheel.land") > 0.05e-3, "{name}");
    }
}
/// An arbor with leaves goes to the fire with thick pivots: every close step is turned thicker first, and to its
/// drawn limits in the last set-up; leaves are cut before that.
#[test]
fn pivots_of_a_hardened_arbor_are_turned_last() {
    let w = movement("regulator");
    let mut seen = 0;
    for p in &w.making.parts {
        let part = &w.parts[p.part];
        let movement::part::Body::Turned(body) = &part.body else { continue };
        let Some(after) = p.setups.iter().position(|s| s.title.starts_with("after the fire")) else {
            continue;
        };
        assert!(!body.leaves.is_empty());
        let cut = p.setups.iter().position(|s| s.operations.iter().any(|o| o.does.contains(&"cut teeth")));
        assert!(cut.expect("leaves are cut") < after, "{}", part.slug());
        let left = w.si(&format!("{}.fire.left", part.slug()));
        assert!(left > 0.1e-3 && left < 0.4e-3);
        for (i, s) in body.steps.iter().enumerate() {
            let Some((_, line)) = w.book.find(&format!("{}.fire.step{}", part.slug(), i + 1)) else {
                continue;
            };
            let thick = line.si.expect("a size");
            near(thick, s.size.nominal.bare().value() + left, 1e-12);
            let told = p.setups[after].operations.iter().flat_map(|o| &o.checks).any(|c| {
                c.limits.is_some_and(|(most, _)| {
                    (most - s.size.nominal.bare().across() - s.size.upper.bare()).abs()
                        < reckon::Length::mm(1e-9)
                })
            });
            assert!(told, "{} step {i}", part.slug());
            seen += 1;
        }
    }
    assert!(seen >= 6, "{seen}");
}
/// A wheel that is turned on a mandrel is cut on the same one, and says so; its flange and nut hold it.
#[test]
fn a_wheel_is_cut_on_the_mandrel_it_was_turned_on() {
    let w = movement("regulator");
    for name in ["great.wheel", "centre.wheel", "third.wheel", "escapement.wheel"] {
        let plan = w.making.parts.iter().find(|p| w.parts[p.part].slug() == name).expect("planned");
        let by: Vec<&str> = plan.setups.iter().map(|s| s.held.by.as_str()).collect();
        assert!(by.iter().any(|b| b.starts_with("still on the mandrel")), "{name}: {by:?}");
        assert!(w.si(&format!("{name}.mandrel.holds")) >= 2.0 * w.si(&format!("{name}.mandrel.torque")));
    }
}
