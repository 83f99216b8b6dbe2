//! The first days: what to look at when, how to rate it, and what a stop says by the time at which it comes again.

use super::{Figure, Item, Of, Page, figure, words};
use reckon::exact::Fraction;
use reckon::{Book, Cell, Source, Time};

/// What comes again after how long.
pub static COMES_AGAIN: Source =
    Source::derived("an arbor's turn; and the time after which one tooth meets one leaf again")
        .with_formula("t turn; t leaves/gcd(teeth, leaves)");

/// What to look at in the first days.
pub(super) fn first_run(of: &Of<'_>, book: &mut Book) -> Page {
    let mut items = vec![Item::Head("The first run".to_owned())];
    let mut figures = Vec::new();
    if let Some(p) = &of.m.pendulum {
        figures.push(Figure::of("swing to keep", &p.arc));
        if let Some(n) = &p.arc_needed {
            figures.push(Figure::of("stops below", n));
        }
        if let Some(n) = &p.nut {
            let day = |r: f64| format!("{} s/day", reckon::print::fixed(r, 2));
            figures.push(Figure::as_text("one turn of the nut", &n.turn, day(n.turn.bare().value())));
            figures.push(Figure::as_text("one division", &n.division, day(n.division.bare().value())));
        }
    }
    items.push(Item::Figures(figures));
    let (hour, day, week) = (
        "After an hour: the swing against the figure above; the beat again; nothing warm, no click, no hand that catches.",
        "After a day: rate, for the first turn of the nut; swing again, and write both.",
        "After eight days: through a whole winding. Swing at the top and at the end; stop work and last turn seen.",
    );
    items.push(Item::Steps(words(&[hour, day, week])));
    items.push(Item::Boxes(
        words(&["when", "swing, °", "temperature", "off by, s", "remarks"]),
        ["set going", "1 h", "1 day", "2 days", "4 days", "8 days"].iter().map(|w| words(&[w])).collect(),
    ));
    items.push(Item::Head("Rate".to_owned()));
    let mut dots = words(&[
        "A change of the nut shows after the spring has settled: wait a day; for the last second wait two.",
        "Bob up gains, bob down loses. The pendulum is held still while the nut is turned, or the strip is wrung.",
        "Change nothing for less than three times the scatter of the days before.",
    ]);
    if of.m.pendulum.as_ref().is_some_and(|p| p.nut.is_none()) {
        dots.remove(1);
    }
    items.push(Item::Dots(dots));
    items.extend(figure(book, "keeps up", "drive.run.arc.likely").map(|f| Item::Figures(vec![f])));
    Page { title: "first run".to_owned(), items }
}
/// A time as a maker tells it.
fn told(seconds: f64) -> String {
    let cut = |x: f64, unit: &str| format!("{} {unit}", reckon::print::significant(x, 4));
    if seconds < 120.0 {
        cut(seconds, "s")
    } else if seconds < 7200.0 {
        cut(seconds / 60.0, "min")
    } else if seconds < 172_800.0 {
        cut(seconds / 3600.0, "h")
    } else {
        cut(seconds / 86_400.0, "d")
    }
}
/// By the time at which a stop comes again: what to look at.
pub(super) fn stops(of: &Of<'_>, book: &mut Book) -> Page {
    let train = &of.m.train;
    let mut all: Vec<(f64, String, &str)> = Vec::new();
    let mut inputs = Vec::new();
    for a in &train.arbors {
        let (Some(turn), Some(exact)) = (a.turn, a.exact) else { continue };
        inputs.push(turn.id());
        let look = if a.facts.carries.is_some() {
            "its hands first: do they touch each other, the dial or the glass there? Then its wheel and pivots"
        } else {
            "a bent pivot, a tooth with a burr or dirt, a wheel out of round: mark the tooth that is in mesh as it stops"
        };
        all.push((exact.to_f64(), format!("once a turn of '{}'", a.facts.name), look));
    }
    for mesh in &train.meshes {
        let (Some(driver), Some(driven)) =
            (train.arbors.get(mesh.driver), mesh.driven.and_then(|d| train.arbors.get(d)))
        else {
            continue;
        };
        let Some(turn) = driver.exact else { continue };
        // Turns after which one tooth meets one leaf again: teeth over leaves in lowest terms.
        let ratio = Fraction::new(mesh.teeth.bare().0.into(), mesh.leaves.bare().0.into());
        let turns = ratio.and_then(|r| Fraction::new(r.terms().1, 1));
        let Some(again) = turns.and_then(|n| turn.times(n)) else { continue };
        // The same as one turn where the leaves divide the teeth.
        if again != turn {
            let what =
                format!("one tooth of '{}' on one leaf of '{}' again", driver.facts.name, driven.facts.name);
            all.push((
                again.to_f64(),
                what,
                "that tooth and that leaf together: both were marked when it stopped the last time",
            ));
        }
    }
    if of.m.motion.is_some() {
        all.push((
            12.0 * 3600.0,
            "hour wheel, and the hour hand under the minute hand".to_owned(),
            "hands that touch as they pass; hour pipe tight on the cannon",
        ));
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let rows = all
        .iter()
        .map(|(t, what, look)| {
            vec![Cell::as_text(&Time::si(*t), told(*t)), Cell::word(what.clone()), Cell::word(*look)]
        })
        .collect();
    let table = book.table(
        "assembly.stops",
        &["comes again after", "what turns so", "look at"],
        rows,
        "turns of the train exactly, and meetings of one tooth with one leaf",
        inputs,
        &COMES_AGAIN,
    );
    Page {
        title: "when it stops".to_owned(),
        items: vec![
            Item::Head("When it stops".to_owned()),
            Item::Say("Write the time on the dial and the day; leave it as it stands. Push no hand: feel first whether the escape wheel still has force. Three stops tell the time between them: the nearest line of the table, or one that goes into it a whole number of times, is the suspect.".to_owned()),
            Item::Table(table),
            Item::Dots(words(&[
                "No force at the escape wheel: between the drive and there. Ease each wheel in turn, from the drive on, until the force comes through: what was held was before it.",
                "Force is there, the pendulum dies: beat, crutch too tight or too loose, suspension, a case that gives, swing below what it needs.",
                "At the end of the winding only: the drive; at the top only: too much swing, something touches.",
                "When it is cold: oil too thick or old. At night of a storm: pressure and draught; the case's door.",
                "At no fixed time: dirt that wanders, or endshake gone at one arbor in one position.",
            ])),
            Item::Boxes(words(&["day", "time on the dial", "force at escape?", "in mesh there (marked)"]), vec![Vec::new(); 4]),
        ],
    }
}
