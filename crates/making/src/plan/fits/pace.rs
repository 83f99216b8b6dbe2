//! Small drills that want more turns than a machine has: which machine of the shop comes nearest, and what is kept.

use reckon::{Alternative, AngularSpeed, Book, Diameter, Shown, Source, Val};
use record::facts::Shop;

/// Slower than wanted.
pub static SLOW: Source = Source::practice(
    "a small drill run slower than wanted cuts as well if the feed a turn is kept: it only takes longer",
);

/// Where the machine has not half of the speed that the smallest drill wants: the machines weighed, and what is told.
pub fn slow(
    shop: &Shop,
    book: &mut Book,
    at: &str,
    d: Val<Diameter>,
    wanted: Val<AngularSpeed>,
    speed: Val<AngularSpeed>,
) -> Option<String> {
    if speed.bare() * 2.0 >= wanted.bare() {
        return None;
    }
    let here = shop.mills.first()?;
    let mut among = Vec::new();
    let mut inputs = vec![wanted.id(), speed.id()];
    let mut faster: Option<(&str, AngularSpeed)> = None;
    let mills = shop.mills.iter().map(|m| (m.name.as_str(), m.speeds.last()));
    let lathes = shop.lathes.iter().map(|l| (l.name.as_str(), l.speeds.last()));
    for (name, top) in mills.chain(lathes) {
        let Some(top) = top else { continue };
        let taken = name == here.name;
        if !taken && top.bare() > speed.bare() && faster.is_none_or(|(_, f)| top.bare() > f) {
            faster = Some((name, top.bare()));
        }
        inputs.push(top.id());
        let why = if taken {
            "its table finds the holes; feed a turn kept, so it takes longer"
        } else if top.bare() > speed.bare() {
            "faster: for holes that are spotted here and found again there"
        } else {
            "no faster"
        };
        among.push(Alternative {
            what: format!("{name}, {} at most", top.shown()),
            taken,
            why: why.to_owned(),
        });
    }
    let what = format!("{}, {}", here.name, speed.shown());
    book.chosen(format!("{at}.machine"), what, "none has the speed wanted", among, inputs, &SLOW);
    let other = faster.map_or_else(String::new, |(name, top)| {
        format!(" The {name} has {}: a hole that is spotted here may be drilled there.", top.shown())
    });
    Some(format!(
        "The drill of {} wants {} and has {} here: keep the feed a turn, a light hand and often out; never press to make up for it.{other}",
        d.shown(),
        wanted.shown(),
        speed.shown()
    ))
}
