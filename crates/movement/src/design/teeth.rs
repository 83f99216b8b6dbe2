//! Sizes of wheels and pinions in mesh: module, diameters, depth, and the distance of their centres.

use super::model::{MeshSizes, Toothed, Train};
use ::teeth::curve::{self, Form, LeafProfile, Unfit};
use ::teeth::involute::Involute;
use ::teeth::outline::{self, Root};
use reckon::source::{GEOMETRY, Source};
use reckon::{Book, Count, Diameter, Length, Place, Ratio, Trouble, Val, judge, work};
use record::facts::{LeafTop, PinionFacts, ToothForm, WheelFacts};
use shape::profile::Profile;

/// Pitch circles roll on each other.
pub static PITCH: Source = Source::derived("pitch diameter = module x teeth; pitch circles touch");
/// The addendum that the standard's tables give.
pub static ADDENDUM: Source =
    Source::derived("0.95 of the height where the two epicycloids meet; gives the rows of BS 978-2");
/// Depth below the pitch circle.
pub static DEDENDUM: Source = Source::read("BS 978-2, dedendum of wheels, as quoted");
/// Leaf tops and their room.
pub static LEAF: Source =
    Source::memory("BS 978-2, profiles of pinion leaves, as quoted in trade literature");

/// The basic rack.
pub static RACK: Source = Source::memory("ISO 53, basic rack A: 20 degrees, addendum 1, dedendum 1.25");

const RACK_ANGLE: f64 = 20.0 * reckon::maths::PI / 180.0;
/// Shift of the rack that keeps a pinion from being undercut.
fn shift(leaves: Count) -> Ratio {
    Ratio::si(::teeth::involute::least_shift(n(leaves), RACK_ANGLE).max(0.0))
}
/// A pair of involute wheels, the pinion shifted out so that it is not undercut.
pub(super) fn rack(teeth: u32, leaves: u32) -> (Involute, Involute) {
    let x = shift(Count(i64::from(leaves))).value();
    (Involute::new(teeth, -x, RACK_ANGLE), Involute::new(leaves, x, RACK_ANGLE))
}
/// A count as the kernels take it.
pub(super) fn n(c: Count) -> u32 {
    u32::try_from(c.0).unwrap_or(0)
}
fn addendum(teeth: Count, leaves: Count) -> Ratio {
    Ratio::si(curve::practical_addendum(n(teeth), n(leaves)).unwrap_or(0.0))
}
fn lantern_addendum(teeth: Count, pins: Count, pin: Diameter, module: Length) -> Ratio {
    let form = Form::Lantern { pin_radius: pin.value() / module.value() / 2.0, backlash: 0.1 };
    Ratio::si(curve::Wheel::new(n(teeth), n(pins), form).map_or(0.0, |w| w.addendum()))
}
/// The profile of the kernels.
pub(super) const fn profile(top: LeafTop) -> LeafProfile {
    match top {
        LeafTop::Round => LeafProfile::A,
        LeafTop::Third => LeafProfile::B,
        LeafTop::TwoThirds => LeafProfile::C,
    }
}
/// The form of the kernels; a lantern's wheel is parallel to its own curve.
pub(super) fn form(s: &MeshSizes) -> Form {
    match (&s.pin, s.form) {
        (Some(pin), _) => {
            Form::Lantern { pin_radius: pin.bare().value() / s.module.bare().value() / 2.0, backlash: 0.1 }
        }
        (None, ToothForm::CloseOgive) => Form::CloserOgive,
        (None, ToothForm::Epicycloid) => Form::Epicycloid,
        (None, _) => Form::Ogive,
    }
}

/// Sizes of every pair.
pub(super) fn sizes(t: &mut Train, book: &mut Book, troubles: &mut Vec<Trouble>) {
    for i in 0..t.meshes.len() {
        let mesh = &t.meshes[i];
        let Some(wheel) = t.arbors[mesh.driver].facts.wheel.clone() else { continue };
        let driver = t.arbors[mesh.driver].facts.name.clone();
        let pinion = mesh.driven.and_then(|d| t.arbors[d].facts.pinion.clone());
        let pair = Pair { wheel: &wheel, pinion: pinion.as_ref(), driver: &driver, leaves: mesh.leaves };
        let slug = mesh.slug.clone();
        let found = pair.sizes(&slug, book, troubles);
        t.meshes[i].sizes = found;
    }
}
/// Sizes of one pair outside the going train, under the names of its wheel and pinion.
pub(super) fn pair(
    wheel: &WheelFacts,
    pinion: &PinionFacts,
    name: &str,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<MeshSizes> {
    let pair = Pair { wheel, pinion: Some(pinion), driver: name, leaves: pinion.leaves };
    pair.sizes(&wheel.slug, book, troubles)
}
struct Pair<'a> {
    wheel: &'a WheelFacts,
    pinion: Option<&'a PinionFacts>,
    driver: &'a str,
    leaves: Val<Count>,
}
impl Pair<'_> {
    fn place(&self) -> Place {
        self.wheel.teeth_at.clone()
    }
    fn sizes(&self, slug: &str, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<MeshSizes> {
        let (teeth, leaves) = (self.wheel.teeth, self.leaves);
        let lantern = self.pinion.is_some_and(|p| p.lantern);
        if let Err(unfit) = curve::theoretical_addendum(n(teeth.bare()), n(leaves.bare())) {
            troubles.push(self.unfit(unfit));
            return None;
        }
        let module = self.module(slug, book, troubles)?;
        if let Some(t) = self.no_module(module) {
            troubles.push(t);
            return None;
        }
        let pin = lantern.then(|| self.pin(module, book));
        let top = self.top(leaves);
        let pinion_slug = self.pinion.map_or_else(|| format!("{slug}.mate"), |p| p.slug.clone());
        let involute = self.wheel.form == ToothForm::Involute;
        let shift = involute
            .then(|| work!(book, format_args!("{slug}.profile_shift"), |leaves| shift(leaves), &RACK));
        let factor = match (pin, shift) {
            (_, Some(shift)) => {
                work!(book, format_args!("{slug}.addendum_factor"), |shift| Ratio::si(1.0) - shift, &RACK)
            }
            (Some(pin), None) => work!(
                book,
                format_args!("{slug}.addendum_factor"),
                |teeth, leaves, pin, module| lantern_addendum(teeth, leaves, pin, module),
                &ADDENDUM
            ),
            (None, None) => work!(
                book,
                format_args!("{slug}.addendum_factor"),
                |teeth, leaves| addendum(teeth, leaves),
                &ADDENDUM
            ),
        };
        if factor.bare().value() <= 0.0 {
            troubles.push(
                Trouble::design(format!(
                    "no tooth of '{}' stands between the pins that it drives",
                    self.driver
                ))
                .at(self.pinion.map(|p| p.at.clone()))
                .at(self.place())
                .why(format!(
                    "pins of {} stand {} mm apart from middle to middle",
                    pin.map_or_else(String::new, |p| p.shown()),
                    reckon::print::trimmed(&reckon::print::fixed(
                        module.bare().in_mm() * reckon::maths::PI,
                        3
                    ))
                ))
                .cure(format!(
                    "thinner pins: pin = \"{} mm\" is usual for this module",
                    reckon::print::trimmed(&reckon::print::fixed(module.bare().in_mm() * 1.05, 3))
                )),
            );
            return None;
        }
        let centres = work!(
            book,
            format_args!("{slug}.centres_by_teeth"),
            |module, teeth, leaves| module * (teeth + leaves) / 2.0,
            &PITCH
        );
        let wheel = self.wheel_sizes(slug, module, teeth, factor, lantern, shift, book);
        let pinion = self.pinion_sizes(&pinion_slug, module, leaves, factor, top, pin, shift, book);
        let sits = super::as_made::sits(slug, &pinion_slug, &wheel, book);
        let centres = super::as_made::centres(slug, centres, sits, book);
        let mut sizes = MeshSizes {
            module,
            form: self.wheel.form,
            top,
            lantern,
            pin,
            centres,
            sits,
            wheel,
            pinion,
            contact: None,
        };
        self.outlines(&mut sizes);
        Some(sizes)
    }
    /// The true outlines of both.
    fn outlines(&self, s: &mut MeshSizes) {
        let module = s.module.bare().in_mm();
        let (teeth, leaves) = (n(s.wheel.count.bare()), n(s.pinion.count.bare()));
        if s.form == ToothForm::Involute {
            let (wheel, pinion) = rack(teeth, leaves);
            s.wheel.outline = outline::involute(&wheel, module, outline::TOLERANCE).profile;
            s.pinion.outline = outline::involute(&pinion, module, outline::TOLERANCE).profile;
            return;
        }
        if let Ok(wheel) = curve::Wheel::new(teeth, leaves, form(s)) {
            s.wheel.outline = outline::wheel(&wheel, module, outline::TOLERANCE).profile;
            if s.lantern {
                let r = s.pinion.outside.bare().in_mm() / 2.0;
                s.pinion.outline = Profile::circle(kurbo::Point::ORIGIN, r);
            } else if let Ok(leaf) = curve::Leaf::new(leaves, profile(s.top), wheel.addendum()) {
                s.pinion.outline = outline::pinion(&leaf, module, Root::Round).profile;
            }
        }
    }
    /// Teeth far larger or smaller than any of a clock: a unit is wrong, or a count.
    fn no_module(&self, module: Val<Length>) -> Option<Trouble> {
        let mm = module.bare().in_mm();
        let how = match mm {
            ..0.02 => "smaller",
            50.0.. => "larger",
            _ => return None,
        };
        let at =
            if self.wheel.module.is_some() { self.wheel.module_at.clone() } else { self.wheel.at.clone() };
        Some(
            Trouble::design(format!(
                "the teeth of '{}' have module {}, {how} than any of a clock",
                self.driver,
                module.shown()
            ))
            .at(at)
            .why("a module is the pitch diameter over the teeth: 0.2 to 1 mm in clocks, a few more in towers")
            .cure("check the number and its unit"),
        )
    }
    fn unfit(&self, unfit: Unfit) -> Trouble {
        let places = [Some(self.place()), self.pinion.map(|p| p.at.clone())];
        let mut t =
            Trouble::design(format!("no teeth can be drawn for '{}'", self.driver)).why(unfit.to_string());
        for p in places {
            t = t.at(p);
        }
        t.cure("write larger counts; the pinion has no more leaves than the wheel has teeth")
    }
    fn top(&self, leaves: Val<Count>) -> LeafTop {
        self.pinion.and_then(|p| p.top).unwrap_or(match leaves.bare().0 {
            ..=7 => LeafTop::TwoThirds,
            8..=9 => LeafTop::Third,
            _ => LeafTop::Round,
        })
    }
    fn pin(&self, module: Val<Length>, book: &mut Book) -> Val<Diameter> {
        let p = self.pinion;
        p.and_then(|p| p.pin).unwrap_or_else(|| {
            let slug = p.map_or("", |p| p.slug.as_str());
            work!(book, format_args!("{slug}.pin"), |module| (module * 1.05).as_diameter(), &PINS)
        })
    }
    /// The module: as written, or from what can still be measured of an old pair.
    fn module(&self, slug: &str, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<Val<Length>> {
        let (teeth, leaves) = (self.wheel.teeth, self.leaves);
        let written = self.wheel.module;
        let pinion = self.pinion.and_then(|p| p.module);
        if let (Some(w), Some(p)) = (written, pinion)
            && (w.bare() - p.bare()).abs() > Length::mm(1e-6)
        {
            let off = (w.bare() / p.bare()).value() - 1.0;
            troubles.push(
                Trouble::design(format!(
                    "the wheel of '{}' and the pinion that it drives must share a module: {} and {} are written",
                    self.driver,
                    w.shown(),
                    p.shown()
                ))
                .at(self.wheel.module_at.clone())
                .at(self.pinion.map(|p| p.at.clone()))
                .why(format!("their teeth differ by {} % in pitch", reckon::print::fixed(off.abs() * 100.0, 1)))
                .cure("leave the pinion's module out: it takes the wheel's"),
            );
            return None;
        }
        let from_centres = self.wheel.centres.map(|a| {
            work!(
                book,
                format_args!("{slug}.module_by_centres"),
                |a, teeth, leaves| a * 2.0 / (teeth + leaves),
                &PITCH
            )
        });
        let from_outside = self.wheel.old_outside.map(|outside| {
            work!(
                book,
                format_args!("{slug}.module_by_outside"),
                |outside, teeth, leaves| outside.across()
                    / (teeth.n() + 2.0 * addendum(teeth, leaves).value()),
                &ADDENDUM
            )
        });
        let Some(module) = written.or(pinion).or(from_centres).or(from_outside) else {
            troubles.push(
                Trouble::design(format!("how large the teeth of '{}' are is not known", self.driver))
                    .at(self.wheel.at.clone())
                    .cure("write module = \"0.5 mm\" for the wheel")
                    .cure("write centres = with the measured distance of centres, or old_outside = with the old wheel's diameter"),
            );
            return None;
        };
        for (what, other) in [("distance of centres", from_centres), ("old wheel", from_outside)] {
            let Some(other) = other else { continue };
            if other.id() == module.id() {
                continue;
            }
            let name = what.replace(' ', "_");
            let verdict = judge!(
                book,
                format_args!("{slug}.module_agrees_with_{name}"),
                format!("the module agrees with the measured {what} to 1 %"),
                |module, other| ((module - other).abs() / module).value() <= 0.01,
                &PITCH
            );
            book.cure(verdict.id(), format!("measure the {what} again; count the teeth again"));
        }
        Some(module)
    }
    #[expect(clippy::too_many_arguments, reason = "a wheel follows from all of these")]
    fn wheel_sizes(
        &self,
        slug: &str,
        module: Val<Length>,
        teeth: Val<Count>,
        factor: Val<Ratio>,
        lantern: bool,
        shift: Option<Val<Ratio>>,
        book: &mut Book,
    ) -> Toothed {
        let pitch =
            work!(book, format_args!("{slug}.pitch"), |module, teeth| (module * teeth).as_diameter(), &PITCH);
        let outside = work!(
            book,
            format_args!("{slug}.outside"),
            |pitch, module, factor| pitch + module * factor * 2.0,
            &ADDENDUM
        );
        let dedendum = if let Some(shift) = shift {
            work!(book, format_args!("{slug}.dedendum_factor"), |shift| shift + 1.25, &RACK)
        } else if lantern {
            book.assumed(
                format_args!("{slug}.dedendum_factor"),
                Ratio::si(0.525 + curve::LANTERN_CLEARANCE),
                "half a pin and room under it: house default",
            )
        } else {
            book.tabled(
                format_args!("{slug}.dedendum_factor"),
                Ratio::si(curve::WHEEL_DEDENDUM),
                "wheels: half the pitch, 1.57 modules",
                &DEDENDUM,
            )
        };
        let root = work!(
            book,
            format_args!("{slug}.root"),
            |pitch, module, dedendum| pitch - module * dedendum * 2.0,
            &DEDENDUM
        );
        let depth =
            work!(book, format_args!("{slug}.depth"), |outside, root| (outside - root) / 2.0, &GEOMETRY);
        Toothed { count: teeth, pitch, outside, root, depth, outline: Profile::start(0.0, 0.0) }
    }
    #[expect(clippy::too_many_arguments, reason = "a pinion follows from all of these")]
    fn pinion_sizes(
        &self,
        slug: &str,
        module: Val<Length>,
        leaves: Val<Count>,
        factor: Val<Ratio>,
        top: LeafTop,
        pin: Option<Val<Diameter>>,
        shift: Option<Val<Ratio>>,
        book: &mut Book,
    ) -> Toothed {
        let pitch = work!(
            book,
            format_args!("{slug}.pitch"),
            |module, leaves| (module * leaves).as_diameter(),
            &PITCH
        );
        let (outside, root) = if let Some(shift) = shift {
            let outside = work!(
                book,
                format_args!("{slug}.outside"),
                |pitch, module, shift| pitch + module * (shift + 1.0) * 2.0,
                &RACK
            );
            let root = work!(
                book,
                format_args!("{slug}.root"),
                |pitch, module, shift| pitch - module * (Ratio::si(1.25) - shift) * 2.0,
                &RACK
            );
            (outside, root)
        } else if let Some(pin) = pin {
            let outside =
                work!(book, format_args!("{slug}.outside"), |pitch, pin| pitch + pin.across(), &PITCH);
            let root = work!(book, format_args!("{slug}.root"), |pitch, pin| pitch - pin.across(), &PITCH);
            (outside, root)
        } else {
            let leaf = profile(top).sizes(n(leaves.bare()));
            let addendum = book.tabled(
                format_args!("{slug}.addendum_factor"),
                Ratio::si(leaf.addendum),
                format!("{} leaves, {}", leaves.bare().0, top_word(top)),
                &LEAF,
            );
            let outside = work!(
                book,
                format_args!("{slug}.outside"),
                |pitch, module, addendum| pitch + module * addendum * 2.0,
                &LEAF
            );
            let root = work!(
                book,
                format_args!("{slug}.root"),
                |pitch, module, factor| pitch - module * (factor + curve::PINION_CLEARANCE) * 2.0,
                &LEAF
            );
            (outside, root)
        };
        let depth =
            work!(book, format_args!("{slug}.depth"), |outside, root| (outside - root) / 2.0, &GEOMETRY);
        Toothed { count: leaves, pitch, outside, root, depth, outline: Profile::start(0.0, 0.0) }
    }
}
/// Pins are a third of the pitch.
pub static PINS: Source =
    Source::practice("pins of a lantern pinion: about a third of the pitch, 1.05 modules");
/// How a sheet calls a leaf's top.
#[must_use]
pub const fn top_word(top: LeafTop) -> &'static str {
    match top {
        LeafTop::Round => "round tops",
        LeafTop::Third => "one-third ogive",
        LeafTop::TwoThirds => "two-thirds ogive",
    }
}
