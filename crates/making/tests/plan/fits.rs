//! What does not fit a machine, and what would do: sums that a maker does on the back of an envelope.

use crate::shed::{Work, example, work};
use reckon::Origin;

/// A flat part 10 mm thick with 4 mm holes, for a mill with this much room under its spindle.
fn under(daylight: &str) -> Work {
    let clock = "[clock]\nname = \"x\"\n[[flat]]\nname = \"bracket\"\nspares = 0\nmaterial = \"brass CZ120\"\nthickness = \"10 mm\"\nstart = [\"0 mm\", \"0 mm\"]\noutline = [{ to = [\"60 mm\", \"0 mm\"] }, { to = [\"60 mm\", \"40 mm\"] }, { to = [\"0 mm\", \"40 mm\"] }]\nholes = [\n{ label = \"near\", at = [\"8 mm\", \"20 mm\"], diameter = \"4 mm\" },\n{ label = \"far\", at = [\"52 mm\", \"20 mm\"], diameter = \"4 mm\" },\n]\n";
    let shop = example("regulator", "shop.toml");
    work(clock, &shop.replacen("daylight = \"250 mm\"", &format!("daylight = \"{daylight}\""), 1))
}
/// What was taken, and what was said of each of the others.
fn weighed(w: &Work, name: &str) -> (String, Vec<(String, String)>) {
    let (_, line) = w.book.find(name).unwrap_or_else(|| panic!("nothing is called {name}"));
    let Origin::Chosen { among, .. } = &line.origin else { panic!("{name} is not chosen") };
    (line.shown.clone(), among.iter().map(|a| (a.what.clone(), a.why.clone())).collect())
}
/// An ordinary drill of 4 mm is 75 mm long with flutes of 43 (DIN 338), a stub one 55 and 22 (DIN 1897): 25 mm of the
/// shank go into the chuck, so 50 and 30 stand out. Board 10, work 10, chuck 55 or collet 28, quill 30.
#[test]
fn the_least_alteration_that_makes_room_is_taken() {
    let sum = under("250 mm");
    assert!((sum.mm("bracket.drilling.drill_out") - 50.0).abs() < 1e-9);
    assert!((sum.mm("bracket.drilling.stack") - 155.0).abs() < 1e-9);
    assert!((sum.mm("bracket.drilling.drill_room") - 145.0).abs() < 1e-9);
    assert!((sum.mm("bracket.drilling.drill_room_in_vice") - 100.0).abs() < 1e-9);
    assert!(
        sum.holds("bracket.drilling.daylight") && sum.book.find("bracket.drilling.daylight.way").is_none()
    );
    for (daylight, way) in [
        ("155 mm", None),
        ("154 mm", Some("a stub drill")),
        ("134 mm", Some("a collet in place of the chuck")),
        ("127 mm", Some("a stub drill in a collet")),
        ("107 mm", Some("by hand through a guide block")),
    ] {
        let w = under(daylight);
        assert_eq!(w.holds("bracket.drilling.daylight"), way.is_none(), "{daylight}");
        let taken = w.book.find("bracket.drilling.daylight.way").map(|(_, l)| l.shown.clone());
        assert_eq!(taken.as_deref(), way, "{daylight}");
    }
}
#[test]
fn every_alternative_says_by_how_much() {
    let (_, among) = weighed(&under("130 mm"), "bracket.drilling.daylight.way");
    let said = |what: &str| among.iter().find(|(w, _)| w.starts_with(what)).map(|(_, why)| why.as_str());
    assert_eq!(said("a stub drill"), Some("needs 135.000 mm of 130.000 mm: short by 5.000 mm"));
    assert_eq!(said("a collet"), Some("needs 128.000 mm of 130.000 mm: 2.000 mm to spare"));
    assert_eq!(said("clamped on the table"), Some("needs 145.000 mm of 130.000 mm: short by 15.000 mm"));
    assert_eq!(
        said("by hand through a guide block"),
        Some("drilled off the machine, so it needs no room under a spindle")
    );
}
