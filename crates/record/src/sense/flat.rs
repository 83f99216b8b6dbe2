//! Free flat parts: the outline drawn, the holes in it.

use super::{HAIR, Sense, called, dia, mm};
use crate::facts::{FlatFacts, Hole};
use kurbo::Point;
use reckon::{Length, Trouble, Val};
use shape::profile::{Fault, Profile, Sense as Way, distance};

fn point(p: &(Val<Length>, Val<Length>)) -> Point {
    Point::new(p.0.bare().in_mm(), p.1.bare().in_mm())
}
/// Two points nearer than this are one (millimetres).
const SAME: f64 = 1e-4;

impl Sense<'_> {
    pub(super) fn flat(&mut self, x: &FlatFacts) {
        let who = called(&x.common, "flat part");
        let outline = self.outline(x, &who);
        for (i, h) in x.holes.iter().enumerate() {
            self.hole(x, h, outline.as_ref(), &who);
            for other in &x.holes[..i] {
                self.apart(h, other, &who);
            }
        }
    }
    /// The outline as a closed chain, where it can be drawn and does not cross itself.
    fn outline(&mut self, x: &FlatFacts, who: &str) -> Option<Profile> {
        if x.outline.len() < 2 || (x.outline.len() < 3 && x.outline.iter().all(|s| s.arc.is_none())) {
            let t = Trouble::design(format!("{who}: its outline encloses nothing"))
                .cure("write at least three straight stretches, or two with an arc");
            let at = x.outline.first().map_or_else(|| x.common.at.clone(), |s| s.at.clone());
            self.tell(t.at(at));
            return None;
        }
        let begin = point(&x.start);
        let mut profile = Profile::start(begin.x, begin.y);
        let mut whole = true;
        for (i, s) in x.outline.iter().enumerate() {
            let to = point(&s.to);
            let from = profile.end();
            if distance(from, to) < SAME {
                let t = Trouble::design(format!("{who}: stretch {} of the outline has no length", i + 1))
                    .why("it ends where it begins")
                    .cure("leave it out");
                self.tell(t.at(s.at.clone()));
                whole = false;
                continue;
            }
            let Some((radius, left)) = &s.arc else {
                profile = profile.line(to.x, to.y);
                continue;
            };
            let way = if *left { Way::Left } else { Way::Right };
            match profile.clone().round_to(to.x, to.y, radius.bare().in_mm(), way) {
                Ok(longer) => profile = longer,
                Err(fault) => {
                    let apart = match fault {
                        Fault::RadiusTooSmall { apart, .. } => apart,
                        _ => distance(from, to),
                    };
                    let apart = Length::mm(apart);
                    let t = Trouble::design(format!(
                        "{who}: an arc of radius {} cannot span stretch {}",
                        mm(radius.bare()),
                        i + 1
                    ))
                    .why(format!(
                        "its ends are {} apart, so the radius is at least {}",
                        mm(apart),
                        mm(apart / 2.0)
                    ))
                    .cure("make the radius larger");
                    self.tell(t.at(self.place(radius, &s.at)));
                    whole = false;
                    profile = profile.line(to.x, to.y);
                }
            }
        }
        if !whole {
            return None;
        }
        if let Some(c) = profile.crosses_itself() {
            let named = |i: usize| x.outline.get(i).map(|s| s.at.clone());
            let t = Trouble::design(format!(
                "{who}: stretches {} and {} of its outline cross at {}, {} mm",
                c.first + 1,
                c.second + 1,
                reckon::print::fixed(c.at.x, 2),
                reckon::print::fixed(c.at.y, 2)
            ))
            .why("an outline goes once round the part")
            .cure("check the points, and which way the arcs turn");
            self.tell(t.at(named(c.second)).at(named(c.first)));
            return None;
        }
        if profile.area().abs() < 1e-3 {
            let t = Trouble::design(format!("{who}: its outline encloses nothing")).cure("check its points");
            self.tell(t.at(x.common.at.clone()));
            return None;
        }
        Some(profile)
    }
    fn hole(&mut self, x: &FlatFacts, h: &Hole, outline: Option<&Profile>, who: &str) {
        let d = h.diameter.nominal.bare();
        let wide = h.thread.as_ref().map_or(d, |t| d.max(t.thread.major));
        let place = |s: &Sense<'_>| s.written(&h.diameter.nominal).unwrap_or_else(|| h.at.clone());
        if let Some(outline) = outline {
            let centre = point(&h.centre);
            let edge = Length::mm(outline.distance_to(centre)) - wide.across() / 2.0;
            if !outline.contains(centre) || edge < -HAIR {
                let says = if outline.contains(centre) {
                    format!("{who}: hole {} of {} runs over the edge", h.label, dia(wide))
                } else {
                    format!("{who}: hole {} lies outside the outline", h.label)
                };
                let t = Trouble::design(says)
                    .why(format!("its centre is at {}, {}", mm(h.centre.0.bare()), mm(h.centre.1.bare())))
                    .cure("move it, or make it smaller");
                self.tell(t.at(h.at.clone()));
            } else {
                let least = h.thread.as_ref().map_or(wide.across() * 0.5, |_| wide.across());
                if edge < least {
                    let what = if h.thread.is_some() { "tapped hole" } else { "hole" };
                    let t =
                        Trouble::design(format!("{who}: {what} {} leaves {} to the edge", h.label, mm(edge)))
                            .why("so thin a wall bulges or breaks out")
                            .cure(format!("leave {} or more", mm(least)));
                    self.tell(t.as_warning().at(h.at.clone()));
                }
            }
        }
        if let (Some(used), true) = (&h.thread, self.written(&h.diameter.nominal).is_some()) {
            let (minor, major) = (used.thread.minor(), used.thread.major);
            if d - major > -HAIR || minor - d > used.thread.pitch * 0.25 {
                let t = Trouble::design(format!(
                    "{who}: hole {} of {} cannot be tapped {}",
                    h.label,
                    dia(d),
                    used.thread.name
                ))
                .why(format!("its bore lies between {} and {}", dia(minor), dia(major)))
                .cure("leave the diameter out, and the tapping size follows");
                self.tell(t.at(place(self)).at(used.at.clone()));
            }
        }
        if let Some((angle, mouth)) = &h.countersink {
            let full = angle.bare().in_deg();
            if !(20.0..=170.0).contains(&full) {
                let t = Trouble::design(format!(
                    "{who}: hole {}: a countersink of {full:.0}° cannot be cut",
                    h.label
                ))
                .cure("90 deg is usual");
                self.tell(t.at(self.place(angle, &h.at)));
            } else if mouth.bare() - d <= HAIR {
                let t = Trouble::design(format!(
                    "{who}: hole {}: a countersink of {} is no wider than the hole of {}",
                    h.label,
                    dia(mouth.bare()),
                    dia(d)
                ))
                .cure("make it wider, or leave it out");
                self.tell(t.at(self.place(mouth, &h.at)));
            } else {
                let deep = (mouth.bare() - d) / 2.0 / (angle.bare() / 2.0).tan();
                let thick = x.thickness.nominal.bare();
                if deep > thick + HAIR {
                    let t = Trouble::design(format!(
                        "{who}: hole {}: its countersink is {} deep in metal of {}",
                        h.label,
                        mm(deep),
                        mm(thick)
                    ))
                    .cure("make its diameter smaller");
                    self.against(mouth, &x.thickness.nominal, &h.at, t);
                }
            }
        }
    }
    fn apart(&mut self, h: &Hole, other: &Hole, who: &str) {
        if h.label == other.label {
            let t = Trouble::design(format!("{who}: two holes are labelled {}", h.label))
                .why("the hole table tells them apart by their labels")
                .cure("give one of them another label");
            self.tell(t.at(h.at.clone()).at(other.at.clone()));
        }
        let apart = Length::mm(distance(point(&h.centre), point(&other.centre)));
        let radii = (h.diameter.nominal.bare().across() + other.diameter.nominal.bare().across()) / 2.0;
        if apart < radii - HAIR {
            let t =
                Trouble::design(format!("{who}: holes {} and {} run into each other", other.label, h.label))
                    .why(format!(
                        "their centres are {} apart, and their radii together {}",
                        mm(apart),
                        mm(radii)
                    ))
                    .cure("move one of them");
            self.tell(t.at(h.at.clone()).at(other.at.clone()));
        }
    }
}
