//! Jigs that are made before what they are for: guide blocks.

use crate::shed::{Work, example, work, work_movement};
use movement::part::Body;

/// A thick flat part with three holes, for a mill with this much room under its spindle.
fn tall(daylight: &str, count: u32) -> Work {
    let clock = format!(
        "[clock]\nname = \"x\"\n[[flat]]\nname = \"bracket\"\ncount = {count}\nspares = 0\nmaterial = \"brass CZ120\"\nthickness = \"10 mm\"\nstart = [\"0 mm\", \"0 mm\"]\noutline = [{{ to = [\"60 mm\", \"0 mm\"] }}, {{ to = [\"60 mm\", \"40 mm\"] }}, {{ to = [\"0 mm\", \"40 mm\"] }}]\nholes = [\n{{ label = \"near\", at = [\"8 mm\", \"20 mm\"], diameter = \"3 mm\" }},\n{{ label = \"far\", at = [\"52 mm\", \"20 mm\"], diameter = \"3 mm\" }},\n{{ label = \"screw\", at = [\"20 mm\", \"10 mm\"], thread = \"M4\" }},\n]\n"
    );
    let shop = example("regulator", "shop.toml");
    let shop = shop.replacen("daylight = \"250 mm\"", &format!("daylight = \"{daylight}\""), 1);
    work(&clock, &shop)
}
fn fails(w: &Work, name: &str) -> bool {
    w.book.failing().any(|l| l.name == name)
}
/// Under a spindle with room there is no block; with too little the block, its bushes and the way of using it.
#[test]
fn what_goes_under_no_spindle_is_drilled_through_a_block() {
    let roomy = tall("250 mm", 1);
    assert!(
        roomy.making.jigs.is_empty(),
        "{:?}",
        roomy.making.jigs.iter().map(|j| j.part.slug()).collect::<Vec<_>>()
    );
    let tight = tall("96 mm", 1);
    assert!(tight.troubles.is_empty(), "{:?}", tight.troubles);
    assert!(fails(&tight, "bracket.drilling.daylight"));
    let slugs: Vec<&str> = tight.making.jigs.iter().map(|j| j.part.slug()).collect();
    // M4 is drilled 3.3; 3 mm holes by their own drill.
    assert!(slugs.iter().any(|s| s.starts_with("jig.guide_block.")), "{slugs:?}");
    assert!(slugs.iter().any(|s| s.starts_with("jig.guide_bush.") && s.contains("x3_00x")), "{slugs:?}");
    let setup = &tight.making.parts[0].setups[0];
    assert_eq!(setup.machine, "bench");
    assert!(setup.held.by.contains("guide block"), "{}", setup.held.by);
    // The block itself goes under no spindle of this shop either if there is only so much room.
    let none = tall("95 mm", 1);
    let block =
        none.making.jigs.iter().find(|j| j.part.slug().starts_with("jig.guide_block.")).expect("a block");
    assert_eq!(block.plan.setups[1].machine, none.shop().lathes[0].name);
}
/// Where the block stands and how far off the drill comes out, by the sums of a drawing and of a leaning drill.
#[test]
fn the_block_stands_where_the_hole_less_its_own_edge_is() {
    let w = tall("96 mm", 1);
    let block =
        w.making.jigs.iter().find(|j| j.part.slug().starts_with("jig.guide_block.")).expect("a block");
    let edge = w.mm(&format!("{}.edge", block.part.slug()));
    let Body::Flat(body) = &block.part.body else { panic!("flat") };
    assert!((body.holes[0].centre.0.bare().in_mm() - edge).abs() < 1e-12);
    let rows = w.rows("bracket.guide.places");
    let row = |label: &str| rows.iter().find(|r| r[0].shown == label).unwrap_or_else(|| panic!("no {label}"));
    let mm = |c: &reckon::Cell| c.si.expect("a length") * 1e3;
    assert!((mm(&row("near")[1]) - (8.0 - edge)).abs() < 1e-9);
    assert!(row("near")[1].shown.ends_with(if edge > 8.0 { " out" } else { " in" }));
    // Turned over, edge A is beyond the hole: 52 and the block's own edge.
    assert!((mm(&row("far")[1]) - (52.0 + edge)).abs() < 1e-9 && row("far")[3].shown == "left");
    assert!((mm(&row("screw")[2]) - (10.0 - edge)).abs() < 1e-9);
    // A drill with 0.05 mm of play in a bush of length L leans c (1/2 + z/L) at z below it; half the slip besides.
    let at = "bracket.guide.3_00";
    let (l, z) = (w.mm(&format!("{at}.guides")), w.mm(&format!("{at}.beyond")));
    let off = 0.05 * (0.5 + z / l) + 0.027 / 2.0;
    assert!((w.mm(&format!("{at}.off")) - off).abs() < 1e-9 && off <= 0.1);
    // Practice: a guide is at least twice as long as the hole is wide, its wall at least half of that.
    assert!(l >= 6.0 && w.mm("bracket.guide.bush_outside") >= 2.0 * 3.3);
}
/// Practice: brass or mild steel for a few holes, hardened silver steel beyond some twenty.
#[test]
fn many_holes_want_a_hard_bush() {
    let metal = |count| {
        let w = tall("96 mm", count);
        let bush = w.making.jigs.iter().find(|j| j.part.slug().contains("x3_00x")).expect("a bush");
        (bush.part.common.material.name.clone(), bush.plan.setups.iter().any(|s| s.does("harden")))
    };
    let (soft, hard) = (metal(1), metal(12));
    assert!(soft.0 != "silver steel" && !soft.1, "{soft:?}");
    assert_eq!(hard, ("silver steel".to_owned(), true));
}
/// Block and bushes come before the holes, in the order of work.
#[test]
fn blocks_come_before_their_holes() {
    use making::plan::order::Of;
    let w = tall("96 mm", 1);
    let order = &w.making.order;
    let drilled = order.jobs.iter().position(|j| j.kind == Of::Part(0, 0)).expect("a job");
    for i in 0..w.making.jigs.len() {
        let made = order.jobs.iter().position(|j| j.kind == Of::Jig(i)).expect("a job");
        assert!(made < drilled, "{}", w.making.jigs[i].part.slug());
    }
}
/// The jig of a slug that begins so.
fn jig<'a>(w: &'a Work, slug: &str) -> &'a making::plan::jig::Jig {
    let all: Vec<&str> = w.making.jigs.iter().map(|j| j.part.slug()).collect();
    w.making
        .jigs
        .iter()
        .find(|j| j.part.slug().starts_with(slug))
        .unwrap_or_else(|| panic!("no {slug}: {all:?}"))
}
fn shed() -> String {
    example("regulator", "shop.toml")
}
/// A hole across a spigot is led by a collar whose face stands on the shoulder; a single part gets none.
#[test]
fn holes_across_are_led_by_a_collar() {
    let pin = |count: u32| {
        format!(
            "[clock]\nname = \"x\"\n[[turned]]\nname = \"post\"\ncount = {count}\nspares = 0\nmaterial = \"brass CZ121\"\nsections = [{{ length = \"6 mm\", diameter = \"4 mm\" }}, {{ length = \"20 mm\", diameter = \"8 mm\" }}]\ncross_holes = [{{ at = \"3 mm\", diameter = \"1.2 mm\" }}]\n"
        )
    };
    let one = work(&pin(1), &shed());
    assert!(one.making.jigs.iter().all(|j| !j.part.slug().starts_with("jig.collar.")));
    let four = work(&pin(4), &shed());
    assert!(four.troubles.is_empty(), "{:?}", four.troubles);
    let collar = jig(&four, "jig.collar.");
    // The shoulder is 6 mm from the first end, the hole 3 mm: it stands 3 mm from the collar's face.
    let Body::Turned(body) = &collar.part.body else { panic!("turned") };
    assert!((body.cross_holes[0].0.bare().in_mm() - 3.0).abs() < 1e-9);
    // Practice: guided over two diameters and 3 mm at least; e = c (1/2 + z/L) at the far side of 4 mm.
    let off = 0.05 * (0.5 + 4.0 / 3.0);
    assert!((four.mm("post.cross_hole.1.off") - off).abs() < 1e-9, "{}", four.mm("post.cross_hole.1.off"));
    let told = four
        .operations()
        .any(|(_, _, o)| o.title == "Drill across" && o.lines[0].contains(&collar.part.common.name));
    assert!(told);
}
/// Screws of a batch stand in a row in a strip that is tapped to them and sawn apart; the pitch leaves room for heads.
#[test]
fn slots_of_a_batch_are_cut_in_a_strip() {
    let w = Work::example("ten-screws");
    let strip = jig(&w, "jig.slotting_strip.");
    let Body::Flat(body) = &strip.part.body else { panic!("flat") };
    let step = body.holes[1].centre.0.bare().in_mm() - body.holes[0].centre.0.bare().in_mm();
    let head = w.mm("bridge_screw.head.diameter");
    assert!(step >= head + 1.5 - 1e-9 && step < head + 2.5 + 1e-9, "{step} for heads of {head}");
    assert!(body.holes.len() >= 2 && body.holes.len() <= 10);
    assert!(strip.plan.setups.iter().any(|s| s.title == "sawn apart"));
    assert_eq!(strip.for_parts, ["bridge screw"]);
}
/// A lever with two ends rounded about their holes: a hard pair of discs of just that radius.
#[test]
fn rounded_ends_get_hard_buttons() {
    let clock = "[clock]\nname = \"x\"\n[[flat]]\nname = \"lever\"\nmaterial = \"brass CZ120\"\nthickness = \"2 mm\"\nstart = [\"0 mm\", \"0 mm\"]\noutline = [{ to = [\"30 mm\", \"0 mm\"] }, { to = [\"30 mm\", \"10 mm\"], arc = \"5 mm\" }, { to = [\"0 mm\", \"10 mm\"] }, { to = [\"0 mm\", \"0 mm\"], arc = \"5 mm\" }]\nholes = [{ label = \"a\", at = [\"0 mm\", \"5 mm\"], diameter = \"3 mm\" }, { label = \"b\", at = [\"30 mm\", \"5 mm\"], diameter = \"3 mm\" }]\n";
    let w = work(clock, &shed());
    let buttons = jig(&w, "jig.filing_buttons.");
    let Body::Turned(body) = &buttons.part.body else { panic!("turned") };
    assert!((body.largest.bare().in_mm() - 10.0).abs() < 1e-9);
    assert_eq!(buttons.part.common.count.bare(), reckon::Count(2));
    assert!(
        buttons.plan.setups.iter().any(|s| s.does("harden"))
            && buttons.plan.setups.iter().any(|s| s.does("temper"))
    );
}
/// A bar of copper in the shop is a lap for stock removal on steel (practice): made where no lap of the shop takes the grain.
#[test]
fn a_lap_that_is_lacking_is_turned() {
    let clock = "[clock]\nname = \"x\"\n[[turned]]\nname = \"stud\"\nmaterial = \"silver steel\"\nfinish = [\"polish\"]\nsections = [{ length = \"10 mm\", diameter = \"8 mm\" }]\n";
    let shop = shed();
    let without = work(clock, &shop);
    assert!(without.making.jigs.iter().all(|j| !j.part.slug().starts_with("jig.lap.")));
    let zinc = format!(
        "{}\n[[stock]]\nmaterial = \"zinc\"\nround = \"30 mm\"\nlength = \"100 mm\"\n",
        shop.replacen("laps = [\"boxwood\", \"tin\", \"felt\"]", "laps = [\"felt\"]", 1)
    );
    let copper =
        format!("{zinc}\n[[stock]]\nmaterial = \"mild steel\"\nround = \"30 mm\"\nlength = \"100 mm\"\n");
    let w = work(clock, &copper);
    let laps: Vec<&str> = w
        .making
        .jigs
        .iter()
        .filter(|j| j.part.slug().starts_with("jig.lap."))
        .map(|j| j.part.slug())
        .collect();
    assert!(laps.iter().any(|s| s.starts_with("jig.lap.mild_steel_")), "{laps:?}");
    let lap = jig(&w, "jig.lap.");
    assert!(lap.plan.setups.iter().any(|s| s.title == "flat and charged"));
}
/// Tools made in the shop go to the fire by the data of their steel: O1 from 790 to 820 °C in oil (data sheets).
#[test]
fn tools_made_here_are_hardened_by_their_steel() {
    let w = Work::example("hardware");
    let tool = w
        .making
        .tools
        .iter()
        .find(|t| t.operations.iter().any(|o| o.does.contains(&"harden")))
        .expect("a tool of O1");
    let op = |does: &str| tool.operations.iter().find(|o| o.does.contains(&does)).expect("a heat");
    let celsius = w.si(&format!("{}.edge_end.heat.harden.from", tool.slug)) - 273.15;
    assert!((780.0..=830.0).contains(&celsius), "{celsius}");
    assert!(op("harden").lines.iter().any(|l| l.contains("magnet")));
    assert!(op("temper").figures.len() >= 2);
}
/// The wheel of an old clock with so many arms, in a shop whose mill follows no programs.
fn crossed(arms: u32) -> Work {
    let clock = example("one-wheel", "clock.toml").replacen("arms = 5", &format!("arms = {arms}"), 1);
    let words = "words = [\"G0\", \"G1\", \"G2\", \"G3\", \"G17\", \"G21\", \"G90\", \"G94\", \"M3\", \"M5\", \"M30\"]\n";
    let shop = shed();
    assert!(shop.contains(words));
    work_movement(&clock, &shop.replacen(words, "", 1))
}
/// Eight windows alike pay a hard template (practice); it is one window of the wheel and its bore, in the places that
/// they have in the wheel, with five millimetres of plate round them.
#[test]
fn many_windows_alike_are_filed_to_a_hard_template() {
    let few = crossed(5);
    assert!(few.making.jigs.iter().all(|j| !j.part.slug().starts_with("jig.filing_template")));
    let w = crossed(8);
    assert!(w.troubles.is_empty(), "{:?}", w.troubles);
    let template = jig(&w, "jig.filing_template");
    let wheel = w.parts.iter().find(|p| p.slug() == "third.wheel").expect("a wheel");
    let (Body::Flat(own), Body::Flat(body)) = (&wheel.body, &template.part.body) else { panic!("flat") };
    let [window] = body.solid.windows.as_slice() else { panic!("{} windows", body.solid.windows.len()) };
    let drawn = &own.solid.windows[0];
    assert!((window.area().abs() - drawn.area().abs()).abs() < 1e-9);
    assert!((window.length() - drawn.length()).abs() < 1e-9);
    // Every corner is as far from the template's bore as from the wheel's middle.
    let bore = &body.holes[0];
    let (x, y) = (bore.centre.0.bare().in_mm(), bore.centre.1.bare().in_mm());
    assert!((bore.diameter.nominal.bare().in_mm() - 6.0).abs() < 1e-9);
    for (a, b) in window.segments().iter().zip(drawn.segments()) {
        let (a, b) = (a.from(), b.from());
        assert!((a.x - x - b.x).abs() < 1e-9 && (a.y - y - b.y).abs() < 1e-9, "{a:?} {b:?}");
    }
    let (plate, cut) = (body.solid.outline.bounds(), window.bounds());
    let round = [cut.x0 - plate.x0, cut.y0 - plate.y0, plate.x1 - cut.x1, plate.y1 - cut.y1];
    assert!(round.iter().all(|wall| *wall >= 5.0 - 1e-9), "{round:?}");
    // Hard, made before the wheel is crossed out, and the wheel's own sheet says how it is used.
    assert!(template.plan.setups.iter().any(|s| s.does("harden")));
    assert_eq!(template.for_parts, ["third wheel"]);
    let told = w.operations().any(|(p, _, o)| {
        p.slug() == "third.wheel" && o.lines.iter().any(|l| l.contains(&template.part.common.name))
    });
    assert!(told);
    let plan = w.making.parts.iter().find(|p| w.parts[p.part].slug() == "third.wheel").expect("its plan");
    assert!(plan.waits_for.iter().any(|s| s == template.part.slug()), "{:?}", plan.waits_for);
}
/// Plates that go under no spindle are drilled as a pair through a block: its bushes lead through both at once, and only
/// the page that the pair is drilled on has it.
#[test]
fn a_pair_of_plates_is_drilled_through_one_block() {
    let low = shed().replacen("daylight = \"250 mm\"", "daylight = \"100 mm\"", 1);
    let w = work_movement(&example("regulator", "clock.toml"), &low);
    assert!(
        fails(&w, "plates.back_plate.drilling.daylight") || fails(&w, "plates.front_plate.drilling.daylight")
    );
    let (leads, other) = if w.book.find("plates.back_plate.guide.thick").is_some() {
        ("plates.back_plate", "plates.front_plate")
    } else {
        ("plates.front_plate", "plates.back_plate")
    };
    // Two plates of 4 mm.
    assert!((w.mm(&format!("{leads}.guide.thick")) - 8.0).abs() < 1e-9);
    assert!(w.book.find(&format!("{other}.guide.thick")).is_none());
    let (_, by) = w.book.find(&format!("{leads}.guide.by")).expect("decided");
    assert_eq!(by.shown, "by hand through a guide block");
    let block = jig(&w, "jig.guide_block.");
    assert!(block.for_parts.iter().any(|p| p.contains("plate")), "{:?}", block.for_parts);
    // Each drill that is led has its bush, and comes out on the far side of both plates within a tenth: e = c (1/2 + z/L).
    let allowed = w.mm(&format!("{leads}.guide.allowed"));
    assert!((allowed - 0.1).abs() < 1e-9);
    let offs: Vec<&str> = w
        .book
        .lines()
        .map(|l| l.name.as_str())
        .filter(|n| n.starts_with(&format!("{leads}.guide.")) && n.ends_with(".off"))
        .collect();
    assert!(offs.len() >= 2, "{offs:?}");
    for off in offs {
        let at = off.trim_end_matches(".off");
        let (l, z) = (w.mm(&format!("{at}.guides")), w.mm(&format!("{at}.beyond")));
        assert!(z >= 8.0, "{at}: {z} of two plates");
        let lean = 0.05 * (0.5 + z / l) + 0.027 / 2.0;
        assert!((w.mm(off) - lean).abs() < 1e-9, "{at}: {} and {lean}", w.mm(off));
    }
    // Places are told, two pillars first and then the rest: 106 mm from the left edge less the block's own 12 is 94, where
    // the pillar is drawn, 42 mm right of the middle of a plate 104 wide.
    let (first, rest) =
        (w.rows(&format!("{leads}.guide.places")), w.rows(&format!("{leads}.guide.places.2")));
    assert!(first.len() == 2 && rest.len() >= 5, "{} and {}", first.len(), rest.len());
    let mm = |c: &reckon::Cell| c.si.expect("a length") * 1e3;
    let edge = w.mm(&format!("{}.edge", block.part.slug()));
    assert!((mm(&first[0][1]) - edge - 94.0).abs() < 1e-9, "{}", mm(&first[0][1]));
    let plan = w.making.parts.iter().find(|p| w.parts[p.part].slug() == leads).expect("its plan");
    let by_hand = plan.setups.iter().find(|s| s.held.by.contains("guide block")).expect("a set-up by hand");
    assert_eq!(by_hand.machine, "bench");
    assert!(by_hand.operations.iter().flat_map(|o| &o.lines).all(|l| !l.contains("backlash")));
}
