//! Oil, and the force that drives it: wound, let down, hung.

use super::{Caution, Figure, Item, Of, Page, SETTING_UP, figure, words};
use reckon::{Book, Cell, Force, Mass, Source, work};
use record::facts::EscapementKind;

/// What a wall has to carry.
pub static FIXING: Source =
    Source::practice("fixings for four times all that hangs on them, in masonry or timber that carries");

/// Where oil goes, and where it does not.
pub(super) fn oil(of: &Of<'_>, book: &mut Book) -> Page {
    let m = of.m;
    let mut rows = Vec::new();
    let mut put = |place: String, oil: &str, how: &str| {
        rows.push(vec![Cell::word(place), Cell::word(oil), Cell::word(how), Cell::word("☐")]);
    };
    let last = m.train.escape;
    for (i, a) in m.train.arbors.iter().enumerate() {
        let heavy = m.train.first == Some(i);
        let fine = last == Some(i) || m.train.pallets == Some(i);
        let (oil, how) = if heavy {
            ("clock oil, the thicker", "sink half full, both plates")
        } else if fine {
            ("clock oil, thin", "a third of the sink; a trace on the pallets' arbor")
        } else {
            ("clock oil", "sink half full, both plates")
        };
        put(format!("pivots of '{}'", a.facts.name), oil, how);
    }
    if of.spring() {
        put(
            "mainspring".to_owned(),
            "barrel grease or thick oil",
            "a film on the spring before it is wound in; barrel arbor's bearings a drop",
        );
    }
    if of.fusee() {
        put("fusee chain or line".to_owned(), "thick oil, wiped", "chain only; a line stays dry");
    }
    if of.weight() {
        put("pulley's pin".to_owned(), "clock oil, the thicker", "one drop");
    }
    put("clicks and their springs".to_owned(), "thick oil", "a trace where they rub");
    match m.escapement.as_ref().map(|e| e.kind) {
        Some(EscapementKind::Grasshopper) => {
            put("escape wheel and arms".to_owned(), "none", "joints of the arms a trace, nothing else");
        }
        Some(_) => put(
            "pallet faces".to_owned(),
            "clock oil, thin",
            "a trace on each face, carried round by the teeth; every fifth tooth, no more",
        ),
        None => {}
    }
    if m.motion.is_some() {
        put("motion work".to_owned(), "none on teeth", "a trace on the stud and the friction spring");
    }
    put("teeth and leaves".to_owned(), "NONE", "oil holds dust, and dust is a lap");
    put("pendulum's strip and crutch".to_owned(), "none; a trace in the fork", "");
    let table = book.table(
        "assembly.oil",
        &["where", "what", "how much", "done"],
        rows,
        "as is common for clocks of this kind",
        Vec::new(),
        &SETTING_UP,
    );
    Page {
        title: "oil".to_owned(),
        items: vec![
            Item::Head("Oil, when all runs free without it".to_owned()),
            Item::Say("Oil makes a free clock last; it does not make a tight one go. From a clean oiler, never from the bottle; what runs over is wiped off, or it draws the rest after it.".to_owned()),
            Item::Table(table),
        ],
    }
}
/// Winding, letting down, hanging.
pub(super) fn power(of: &Of<'_>, book: &mut Book) -> Option<Page> {
    of.m.drive.as_ref()?;
    let mut items = vec![Item::Head("The drive".to_owned())];
    if of.spring() {
        items.push(Item::Cautions(vec![Caution::Mainspring]));
        let mut figures: Vec<Figure> =
            figure(book, "wound, it holds", "drive.spring.energy").into_iter().collect();
        figures.extend(figure(book, "turns to wind", "drive.turns"));
        figures.extend(figure(book, "torque at the top", "drive.spring.torque_at_top"));
        items.push(Item::Figures(figures));
        let mut steps = words(&[
            "Hands and pallets on; click seen to hold before the key is let go.",
            "A turn at a time, the key's grip never open; count the turns, and stop at the count, not at the feel.",
            "LETTING DOWN, always before the plates come apart: the let-down grip on the square, take the load, lift the click, let it turn through the hand a little at a time, click in again to change the grip. Down when the barrel can be turned back by hand; tried twice.",
            "A spring out of its barrel is held by a winder or a ring, never by the hand alone.",
        ]);
        if of.fusee() {
            steps.push("Fusee: set up the barrel by its ratchet first, as many turns as the sheet of the drive says, chain or line on and straight, then wind; let down the run first, then the set-up.".to_owned());
        }
        items.push(Item::Steps(steps));
    }
    if of.weight() {
        items.push(Item::Cautions(vec![Caution::HangingWeight]));
        let mut figures: Vec<Figure> = figure(book, "weight", "drive.weight.mass").into_iter().collect();
        figures.extend(figure(book, "falls", "drive.weight.fall"));
        figures.extend(figure(book, "line must hold", "drive.weight.line_strength"));
        items.push(Item::Figures(figures));
        items.push(Item::Steps(words(&[
            "Line on the drum in its grooves from the hole, no turn crossed; knots drawn tight and sealed.",
            "First the hook with a small weight: half of it. All runs to the last turn? Then the whole.",
            "Before anything is taken apart the weight comes off; a line is never cut under load.",
        ])));
    }
    let total = book.find("drive.weight.mass").and_then(|(id, l)| l.si.map(|x| (id, x)));
    let bob = of.m.pendulum.as_ref().map(|p| p.hung.bob);
    if let Some(bob) = bob {
        let own = book.assumed(
            "assembly.own_mass",
            Mass::si(5.0),
            "house default: movement, case and seat board together",
        );
        let weight = match total {
            Some((id, x)) => book.solved(
                "assembly.weight",
                Mass::si(x),
                ("the weight of the drive", 1, 0.0),
                vec![id],
                &FIXING,
            ),
            None => book.assumed("assembly.weight", Mass::si(0.0), "no weight drives it"),
        };
        let hangs = work!(book, "assembly.hangs", |own, weight, bob| own + weight + bob, &FIXING);
        let fixing = work!(book, "assembly.fixing", |hangs| Force::si(hangs.value() * 9.81 * 4.0), &FIXING);
        if of.weight() || bob.bare().value() > 2.0 {
            items.push(Item::Head("On the wall".to_owned()));
            items.push(Item::Cautions(vec![Caution::WallFixing]));
            items.push(Item::Figures(vec![
                Figure::of("hangs on it", &hangs),
                Figure::of("fixings hold at least", &fixing),
            ]));
            items.push(Item::Steps(words(&[
                "Into masonry, or through the board into a stud; two screws above and one below, so that nothing rocks: a case that gives by a hair takes the pendulum's swing.",
                "Upright by a plumb line across and from the side; then the beat, not before.",
                "A mat under the weight while it is first wound.",
            ])));
        } else {
            items.push(Item::Head("On its shelf".to_owned()));
            items.push(Item::Steps(words(&[
                "A shelf that does not rock: push its corners; a leg with a wedge under it is not firm.",
                "Level by the plate, then the beat.",
            ])));
        }
    }
    Some(Page { title: "power".to_owned(), items })
}
