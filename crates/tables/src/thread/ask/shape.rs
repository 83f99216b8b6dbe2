//! What most questions share: a thread by name, or a form with sizes of one's own.

use super::super::{Basics, Form, Thread, basics, find, form, near};
use crate::thread::cut::Nose;
use reckon::ask::or;
use reckon::trouble::nearest;
use reckon::{Angle, Book, Diameter, Given, Length, Param, Source, Trouble, Val, work};

static FORMS: Source = Source::read("ISO 68-1, ASME B1.1, BS 93 and BS 84, angle between the flanks");
static DROP: Source = Source::read("ISO 68-1, BS 93 and BS 84, multiples of the pitch");

/// The thread a question names.
pub(super) fn thread(given: &Given<'_>) -> Result<Thread, Trouble> {
    let word = given.word("thread")?;
    find(&word).ok_or_else(|| {
        let t = given.trouble("thread", format!("no thread is called '{word}'"));
        match near(&word) {
            names if names.is_empty() => t.cure("for example M3, M4x0.5, 2-56 UNC, 4 BA, 1/8x40 ME"),
            names => t.cure(format!("near: {}", names.join(", "))),
        }
    })
}
pub(super) const THREAD: Param = or("thread", "", "a thread by name; or give form and sizes");
pub(super) const FORM: Param = or("form", "ISO metric", "form of the groove, where no thread is named");
pub(super) const PITCH: Param = or("pitch", "", "pitch, where no thread is named");

/// Form and pitch with what is known of the sizes.
pub(super) struct Shape {
    pub form: &'static Form,
    pub half_angle: Val<Angle>,
    pub pitch: Option<Val<Length>>,
    pub basics: Option<Basics>,
}
impl Shape {
    /// From the parameters `thread`, `form` and, where the question takes it, `pitch`.
    pub fn take(given: &Given<'_>, book: &mut Book, with_pitch: bool) -> Result<Shape, Trouble> {
        let own = if with_pitch { given.take_if::<Length>(book, "pitch")? } else { None };
        if let Some(p) = own.filter(|p| p.bare() <= Length::ZERO) {
            return Err(given.trouble("pitch", format!("a pitch of {} cuts no thread", p.shown())));
        }
        if given.has("thread") {
            let t = thread(given)?;
            let b = basics(book, "thread", &t);
            let half_angle = angle(book, t.form);
            let pitch = own.or(Some(b.pitch));
            return Ok(Shape { form: t.form, half_angle, pitch, basics: Some(b) });
        }
        let word = given.word("form")?;
        let named = form::FORMS.iter().find(|f| f.name.eq_ignore_ascii_case(word.trim()));
        let Some(form) = named else {
            let names = form::FORMS.map(|f| f.name);
            let near = nearest(&word, names);
            let listed = if near.is_empty() { names.join(", ") } else { near.join(", ") };
            return Err(given
                .trouble("form", format!("no form is called '{word}'"))
                .cure(format!("one of: {listed}")));
        };
        Ok(Shape { form, half_angle: angle(book, form), pitch: own, basics: None })
    }
    pub fn pitch(&self, given: &Given<'_>) -> Result<Val<Length>, Trouble> {
        self.pitch.ok_or_else(|| given.trouble("pitch", "name a thread or give a pitch"))
    }
    /// Outside diameter: the parameter `name`, else the thread's major diameter.
    pub fn outside(&self, given: &Given<'_>, book: &mut Book, name: &str) -> Result<Val<Diameter>, Trouble> {
        let own = diameter(given, book, name)?;
        own.or(self.basics.map(|b| b.major))
            .ok_or_else(|| given.trouble(name, format!("name a thread or give '{name}'")))
    }
    /// Pitch diameter: the parameter `name`, else the thread's, else from the outside diameter and the form.
    pub fn pitch_diameter(
        &self,
        given: &Given<'_>,
        book: &mut Book,
        name: &str,
        outside: Option<Val<Diameter>>,
    ) -> Result<Val<Diameter>, Trouble> {
        if let Some(own) = diameter(given, book, name)?.or(self.basics.map(|b| b.pitch_diameter)) {
            return Ok(own);
        }
        let (Some(outside), Some(pitch)) = (outside, self.pitch) else {
            return Err(given.trouble(name, format!("name a thread or give '{name}'")));
        };
        let k = book.tabled("form.pitch_drop", self.form.pitch_drop, self.form.name, &DROP);
        Ok(work!(book, "form.pitch_diameter", |outside, pitch, k| outside - pitch * k, &DROP))
    }
}
/// A diameter that may be left out, but not be nothing.
fn diameter(given: &Given<'_>, book: &mut Book, name: &str) -> Result<Option<Val<Diameter>>, Trouble> {
    let own = given.take_if::<Diameter>(book, name)?;
    match own.filter(|d| d.bare() <= Diameter::ZERO) {
        Some(_) => Err(given.trouble(name, format!("'{name}' must be more than nothing"))),
        None => Ok(own),
    }
}
fn angle(book: &mut Book, form: &Form) -> Val<Angle> {
    book.tabled("form.half_angle", form.half_angle, form.name, &FORMS)
}
pub(super) const FLAT: Param = or("flat", "", "width of a tool ground flat; nothing for a sharp one");
pub(super) const RADIUS: Param = or("radius", "", "radius of a rounded tool");
/// The end of the tool from `flat` or `radius`: the nose, and what it takes from the groove as a working.
pub(super) fn nose(given: &Given<'_>, book: &mut Book) -> Result<(Nose, Val<Length>), Trouble> {
    let flat = given.take_if::<Length>(book, "flat")?;
    let radius = given.take_if::<Length>(book, "radius")?;
    for (name, size) in [("flat", flat), ("radius", radius)] {
        if size.is_some_and(|s| s.bare() < Length::ZERO) {
            return Err(given.trouble(name, format!("'{name}' cannot be less than nothing")));
        }
    }
    match (flat, radius) {
        (Some(_), Some(_)) => Err(given.trouble("radius", "a tool ends in a flat or in a radius, not both")),
        (None, Some(r)) => Ok((Nose::Round(r.bare()), r)),
        (Some(f), None) => Ok((Nose::Flat(f.bare()), f)),
        (None, None) => {
            let sharp = book.assumed("sharp_point", Length::ZERO, "neither a flat nor a radius is given");
            Ok((Nose::Flat(Length::ZERO), sharp))
        }
    }
}
/// A length that must be more than nothing.
pub(super) fn positive(given: &Given<'_>, book: &mut Book, name: &str) -> Result<Val<Length>, Trouble> {
    let v = given.take::<Length>(book, name)?;
    if v.bare() > Length::ZERO {
        Ok(v)
    } else {
        Err(given.trouble(name, format!("'{name}' must be more than nothing")))
    }
}
