//! What a wheel is on its arbor: seat, thickness, arms.

use super::Movement;
use crate::made::common;
use crate::part::{Figure, FlatNote};
use ::teeth::crossing;
use reckon::source::{HOUSE, Source};
use reckon::{Book, Count, Diameter, Length, Trouble, Val, work};
use record::facts::{MovementFacts, Size};
use shape::profile::Profile;
use std::collections::BTreeMap;

/// Arms of wheels.
pub static ARMS: Source =
    Source::practice("rim twice the depth of a tooth, arms about four modules wide, five or six of them");

/// The windows of a wheel that is crossed out.
#[derive(Clone, Debug)]
pub struct Crossing {
    /// Outlines of the windows, millimetres.
    pub windows: Vec<Profile>,
    /// What the drawing tells of them.
    pub notes: Vec<((f64, f64), FlatNote)>,
}

/// Thickness of every wheel: as written, or three modules.
pub(super) fn thicknesses(
    t: &super::Train,
    facts: &MovementFacts,
    book: &mut Book,
) -> BTreeMap<usize, Size<Length>> {
    let mut all = BTreeMap::new();
    for (i, a) in t.arbors.iter().enumerate() {
        if t.escape == Some(i)
            && let Some(e) = &facts.escapement
        {
            all.insert(i, common::long(e.thickness, "escapement.thickness", 0.0, -0.05, book));
            continue;
        }
        let Some(w) = &a.facts.wheel else { continue };
        let found = w.thickness.or_else(|| {
            let module = t.meshes[*a.drives.first()?].sizes.as_ref()?.module;
            let name = format!("{}.thickness", w.slug);
            let v = work!(book, name.clone(), |module| thick(module), &HOUSE);
            Some(common::long(v, &name, 0.0, -0.05, book))
        });
        if let Some(size) = found {
            all.insert(i, size);
        }
    }
    all
}
/// The next size that reamers are commonly sold in.
fn reamed(least: Diameter) -> Diameter {
    let common = [3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0];
    let found = common.into_iter().find(|mm| *mm >= least.in_mm() - 1e-9);
    found.map_or(least, Diameter::mm)
}
/// Three modules, to a tenth of a millimetre.
fn thick(module: Length) -> Length {
    Length::mm((module.in_mm() * 30.0).round() / 10.0)
}
/// Seats of all wheels, by arbor: the bore of the wheel and the seat of its collet.
pub(super) fn seats(
    t: &super::Train,
    stems: &[super::arbors::Stem],
    facts: &MovementFacts,
    book: &mut Book,
) -> BTreeMap<usize, Val<Diameter>> {
    let mut all = BTreeMap::new();
    for (i, a) in t.arbors.iter().enumerate() {
        let escape = t.escape == Some(i) && facts.escapement.is_some();
        if a.facts.wheel.is_none() && !escape {
            continue;
        }
        if let Some(bore) = a.facts.wheel.as_ref().and_then(|w| w.bore) {
            all.insert(i, bore);
            continue;
        }
        // The wheel of a going barrel is a ring on the barrel itself.
        let barrel = facts.drive.as_ref().filter(|d| d.fusee.is_none()).and_then(|d| d.spring.as_ref());
        if let (Some(s), true) = (barrel, t.first == Some(i)) {
            all.insert(i, s.outside);
            continue;
        }
        let stem = stems[i].diameter;
        let slug = &a.facts.slug;
        let seat = work!(book, format_args!("{slug}.seat"), |stem| reamed(stem + Length::mm(1.8)), &HOUSE);
        all.insert(i, seat);
    }
    all
}
impl Movement {
    /// The windows of an arbor's wheel; none where it is left solid.
    pub fn crossing(&self, i: usize, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<Crossing> {
        let a = &self.train.arbors[i];
        let w = a.facts.wheel.as_ref()?;
        let s = self.train.meshes[*a.drives.first()?].sizes.as_ref()?;
        let (slug, module, root, depth) = (&w.slug, s.module, s.wheel.root, s.wheel.depth);
        let seat = *self.seats.get(&i)?;
        let arms = w.arms.unwrap_or_else(|| {
            work!(
                book,
                format_args!("{slug}.arms"),
                |root| Count(if root.in_mm() < 20.0 {
                    0
                } else if root.in_mm() < 75.0 {
                    5
                } else {
                    6
                }),
                &ARMS
            )
        });
        let n = crate::made::wheels::arms(arms.bare());
        if n == 0 {
            return None;
        }
        let rim =
            w.rim.unwrap_or_else(|| work!(book, format_args!("{slug}.rim"), |depth| depth * 2.0, &ARMS));
        let width = w
            .arm_width
            .unwrap_or_else(|| work!(book, format_args!("{slug}.arm_width"), |module| module * 4.0, &ARMS));
        let outer = work!(book, format_args!("{slug}.rim_inside"), |root, rim| root - rim * 2.0, &ARMS);
        let wall = book.assumed(
            format_args!("{slug}.hub_wall"),
            Length::mm(2.5),
            "house default: metal round the seat, under the collet's flange",
        );
        let hub = work!(book, format_args!("{slug}.hub"), |seat, wall| seat + wall * 2.0, &ARMS);
        let corner = book.assumed(
            format_args!("{slug}.corner"),
            Length::mm(0.8),
            "house default: what a fine file reaches into",
        );
        let plan = crossing::Crossing {
            arms: n,
            rim: outer.bare().in_mm() / 2.0,
            hub: hub.bare().in_mm() / 2.0,
            at_hub: width.bare().in_mm(),
            at_rim: width.bare().in_mm(),
            fillet: corner.bare().in_mm(),
        };
        let windows = match plan.windows() {
            Ok(windows) => windows,
            Err(cannot) => {
                let trouble =
                    Trouble::design(format!("the wheel of '{}' cannot be crossed out so", a.facts.name));
                troubles.push(
                    trouble
                        .at(w.at.clone())
                        .why(cannot.to_string())
                        .cure("fewer or narrower arms, or arms = 0"),
                );
                return None;
            }
        };
        let r = outer.bare().in_mm() / 2.0;
        let notes = vec![(
            (r * reckon::maths::cos(0.6), -r * reckon::maths::sin(0.6)),
            FlatNote::Figure(Figure::across(&outer)),
        )];
        Some(Crossing { windows, notes })
    }
}
