//! What goes with the clock: the card in its case, and a page for the one who winds it.

use super::{Caution, Figure, Item, Of, Page, figure, words};
use reckon::Book;

/// The card in the case.
pub(super) fn service(of: &Of<'_>, book: &Book) -> Page {
    let mut figures = Vec::new();
    if let Some(p) = &of.m.pendulum {
        figures.push(Figure::of("pendulum", &p.length));
        figures.push(Figure::of("swing, middle to side", &p.arc));
        if let Some(n) = &p.nut {
            let text = format!("{} s/day", reckon::print::fixed(n.division.bare().value(), 2));
            figures.push(Figure::as_text("one division of the nut", &n.division, text));
        }
    }
    figures.extend(figure(book, "weight", "drive.weight.mass"));
    figures.extend(figure(book, "line", "drive.weight.line"));
    figures.extend(figure(book, "spring, thick", "drive.spring.thickness"));
    figures.extend(figure(book, "spring, high", "drive.spring.height"));
    figures.extend(figure(book, "spring, long", "drive.spring.length"));
    Page {
        title: "card for the case".to_owned(),
        items: vec![
            Item::Head(format!("{}: card for the case", of.clock.name)),
            Item::Figures(figures),
            Item::Say("Oil: thin at escape wheel and pallets, thicker at the drive, none on teeth. Look at it after three years, clean it after five at the latest, or when the swing has fallen by a tenth.".to_owned()),
            Item::Boxes(
                words(&["day", "done", "swing, °", "rate, s/day", "oil", "pivots worn?"]),
                vec![Vec::new(); 8],
            ),
        ],
    }
}
/// For the owner.
pub(super) fn owner(of: &Of<'_>) -> Page {
    let m = of.m;
    let mut items = vec![Item::Head(format!("{}: for the one who winds it", of.clock.name))];
    let mut figures = Vec::new();
    if let Some(d) = &m.drive {
        figures.push(Figure::of("goes for", &d.run));
        figures.push(Figure::of("turns of the key, once run down so far", &d.turns));
    }
    items.push(Item::Figures(figures));
    let mut steps = Vec::new();
    if of.weight() {
        items.push(Item::Cautions(vec![Caution::HangingWeight]));
        steps.push("Wind once a week, the same day, slowly; watch the weight rise and stop before its pulley meets the seat board.".to_owned());
        steps.push("If the line looks frayed, do not wind: have it renewed.".to_owned());
    }
    if of.spring() {
        items.push(Item::Cautions(vec![Caution::Mainspring]));
        steps.push("Wind once a week, the same day, slowly and to its stop; never force the key, never let it spin back.".to_owned());
    }
    if m.hands.is_some() {
        steps.push("Set the time by the minute hand alone, forwards; the hour hand follows. Stop the pendulum to let it wait; never turn the seconds hand.".to_owned());
    }
    if m.pendulum.is_some() {
        steps.push("Set it going: lead the pendulum gently to one side until it has ticked, and let go. Tick and tock must sound even: if it limps, the clock hangs crooked; move its foot a little towards evenness.".to_owned());
        if m.pendulum.as_ref().is_some_and(|p| p.nut.is_some()) {
            steps.push("It gains: bob down, nut to the left as seen from below. It loses: bob up. One division, then wait two days.".to_owned());
        }
        steps.push("Moving it: run it down or stop it, take the weight off, unhook the pendulum and carry it flat; never move the clock with the pendulum on. In another place it beats another time: the ground there pulls otherwise.".to_owned());
    }
    items.push(Item::Steps(steps));
    items.push(Item::Dots(words(&[
        "No sun, no radiator, no damp wall. The case's door shut.",
        "Brass is lacquered: dust with a soft brush, no polish. Fingers leave marks for ever on blued steel.",
        "Oil only by one who takes it apart. When it stops: write the time on the dial, the day, and leave it as it is.",
        "The doors of case and movement are no toy for children: weights fall, springs hold force.",
    ])));
    Page { title: "for the owner".to_owned(), items }
}
