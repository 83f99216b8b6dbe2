//! Threads by hand: which tap goes how far, and what turns it.

use crate::shed::{Work, example, work};

fn with(thickness: &str, material: &str, thread: &str) -> Work {
    let clock = format!(
        "[clock]\nname = \"x\"\n[[flat]]\nname = \"bracket\"\nspares = 0\nmaterial = \"{material}\"\nthickness = \"{thickness}\"\nstart = [\"0 mm\", \"0 mm\"]\noutline = [{{ to = [\"60 mm\", \"0 mm\"] }}, {{ to = [\"60 mm\", \"40 mm\"] }}, {{ to = [\"0 mm\", \"40 mm\"] }}]\nholes = [\n{{ label = \"one\", at = [\"8 mm\", \"20 mm\"], thread = \"{thread}\" }},\n{{ label = \"two\", at = [\"52 mm\", \"20 mm\"], thread = \"{thread}\" }},\n]\n"
    );
    work(&clock, &example("regulator", "shop.toml"))
}
/// Handbook: a taper tap has some eight threads of lead, so that through 4 mm at 0.7 mm it turns 4/0.7 + 8 times.
#[test]
fn a_taper_tap_goes_through_by_its_lead() {
    let w = with("4 mm", "brass CZ120", "M4");
    let rows = w.rows("bracket.hole.one.tap.steps");
    assert_eq!(rows.len(), 1, "the taper tap alone in brass");
    assert!((rows[0][3].si.expect("turns") - (4.0 / 0.7 + 8.0)).abs() < 1e-9);
    assert!((rows[0][4].si.expect("a length") - 4e-3).abs() < 1e-9);
    let steel = with("4 mm", "mild steel", "M4");
    assert_eq!(steel.rows("bracket.hole.one.tap.steps").len(), 2, "the second tap too in steel");
    // One operation for both holes, after their list.
    let ops = &w.making.parts[0].setups[0].operations;
    let taps: Vec<usize> = (0..ops.len()).filter(|i| ops[*i].does.contains(&"tap")).collect();
    let list = ops.iter().position(|o| !o.tables.is_empty() && o.does.contains(&"drill")).expect("a list");
    assert_eq!(taps, [list + 1]);
    assert!(ops[taps[0]].title.contains("one, two"), "{}", ops[taps[0]].title);
}
/// Catalogues of taps: T = D P² kc/8000 N m for three quarters of a thread. A smaller hole takes more.
#[test]
fn the_torque_is_near_the_catalogues_rule() {
    let w = with("4 mm", "mild steel", "M4");
    let at = |tail: &str| w.si(&format!("bracket.hole.one.tap.{tail}"));
    let (d, p, kc) = (4.0, 0.7, at("force") / 1e6);
    let rule = d * p * p * kc / 8000.0;
    let cut = at("torque");
    // The rule is for a hole of 3.3 mm; this one is of 3.2 mm, an eighth more thread and a quarter more section.
    assert!(cut > 0.95 * rule && cut < 1.35 * rule, "{cut} against {rule} for three quarters");
    assert!(at("breaks") > cut);
    // The pull at two arms of 40 mm gives the torque back.
    assert!((at("pull") * 2.0 * 0.04 - cut).abs() < 1e-12);
}
/// Through turned work and blind: each tap of the set, the full thread ending two pitches over the floor.
#[test]
fn a_blind_hole_takes_the_whole_set() {
    let clock = "[clock]\nname = \"x\"\n[[turned]]\nname = \"nut\"\nmaterial = \"brass CZ121\"\nsections = [{ length = \"12 mm\", diameter = \"10 mm\" }]\nbores = [{ from = \"first\", thread = \"M4\", depth = \"8 mm\" }]\n";
    let w = work(clock, &example("regulator", "shop.toml"));
    let name =
        w.book.matching("nut.**.tap.steps").first().map(|n| (*n).to_owned()).expect("steps of the taps");
    let rows = w.rows(&name);
    assert_eq!(
        rows.iter().map(|r| r[0].shown.as_str()).collect::<Vec<_>>(),
        ["taper", "second", "bottoming"]
    );
    let full = |i: usize| rows[i][4].si.expect("a length") * 1e3;
    assert!((full(2) - (8.0 - 2.0 * 0.7)).abs() < 1e-9, "{}", full(2));
    assert!(full(0) < full(1) && full(1) < full(2));
}
