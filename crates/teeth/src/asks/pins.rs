//! Sizes over pins.

use super::{Done, FORM, MODULE, PINION, PROFILE, WHEEL, ask, fit, form_of, more, need, profile_of, teeth};
use crate::curve::{Leaf, Wheel, practical_addendum};
use crate::outline::{self, Root};
use crate::pins::{OVER_PINS, Pinned, Rest, over};
use reckon::ask::Param;
use reckon::{Ask, Book, Diameter, Given, Id, Length, Ratio, Val};
use shape::profile::Profile;

const PIN: Param = need("pin", "diameter of the pins");
const GIVES: &[&str] = &["over", "centre", "contact", "for_depth", "for_pin", "proud"];

pub(super) static ASKS: &[Ask] = &[
    ask(
        "teeth.over_pins",
        "size of a wheel over two pins in opposite spaces, and what it tells of the depth",
        &[MODULE, WHEEL, PINION, FORM, PIN],
        GIVES,
        r#"module="0.8 mm" wheel="64" pinion="8" pin="1.5 mm""#,
        wheel,
    ),
    ask(
        "teeth.leaves_over_pins",
        "size of a pinion over two pins in opposite spaces, and what it tells of the depth",
        &[MODULE, WHEEL, PINION, PROFILE, PIN],
        GIVES,
        r#"module="0.6 mm" wheel="96" pinion="12" profile="A" pin="1.2 mm""#,
        leaves,
    ),
];

fn wheel(g: &Given<'_>, book: &mut Book) -> Done {
    let (zw, z) = teeth(g, book, "wheel", 6)?;
    let (zp, leaves) = teeth(g, book, "pinion", 4)?;
    let m: Val<Length> = more(g, book, "module")?;
    let w = fit(g, "wheel", Wheel::new(z, leaves, form_of(g)?))?;
    let ring = outline::wheel(&w, m.bare().in_mm(), outline::TOLERANCE).profile;
    told(g, book, &ring, z, vec![m.id(), zw.id(), zp.id()])
}
fn leaves(g: &Given<'_>, book: &mut Book) -> Done {
    let (zw, z) = teeth(g, book, "wheel", 6)?;
    let (zp, n) = teeth(g, book, "pinion", 4)?;
    let m: Val<Length> = more(g, book, "module")?;
    let addendum = fit(g, "wheel", practical_addendum(z, n))?;
    let leaf = fit(g, "pinion", Leaf::new(n, profile_of(g, n)?, addendum))?;
    let ring = outline::pinion(&leaf, m.bare().in_mm(), Root::Round).profile;
    told(g, book, &ring, n, vec![m.id(), zw.id(), zp.id()])
}
fn told(g: &Given<'_>, book: &mut Book, ring: &Profile, count: u32, mut inputs: Vec<Id>) -> Done {
    let pin: Val<Diameter> = more(g, book, "pin")?;
    inputs.push(pin.id());
    let p = match over(ring, count, pin.bare().in_mm()) {
        Some(p) if p.rest == Rest::Flanks => p,
        Some(p) if p.rest == Rest::Tips => {
            return Err(g.trouble("pin", "so large a pin rests on the tips: it tells nothing of the depth"));
        }
        _ => return Err(g.trouble("pin", "so small a pin falls to the bottom of the space")),
    };
    let mut put = |name: &str, mm: f64, what: &str| {
        book.solved(name, Length::mm(mm), (what, 60, 0.0), inputs.clone(), &OVER_PINS);
    };
    put("over", p.over, "over both pins");
    put("centre", p.centre, "from the axis to the middle of a pin");
    put("contact", p.contact, "from the axis to where it touches");
    put("proud", p.proud, "of the pin beyond the tips");
    for (name, x, what) in [
        ("for_depth", Pinned::for_depth(count), "less over pins for each unit of depth"),
        ("for_pin", p.for_pin(count), "more over pins for each unit of pin"),
    ] {
        book.solved(name, Ratio::si(x), (what, 1, 0.0), inputs.clone(), &OVER_PINS);
    }
    Ok(())
}
