//! Free turned parts.

use super::grooves::Ground;
use super::{HAIR, Sense, called, dia, mm};
use crate::facts::{Bend, Bore, End, Face, Section, TurnedFacts};
use reckon::{Diameter, Length, Trouble};

/// Largest and smallest diameter of a section between its ends, arcs left at their ends.
fn spans(s: &Section) -> (Diameter, Diameter) {
    let (a, b) = (s.diameter.nominal.bare(), ends_at(s));
    (a.max(b), a.min(b))
}
fn ends_at(s: &Section) -> Diameter {
    s.to.map_or(s.diameter.nominal.bare(), |t| t.bare())
}

impl Sense<'_> {
    pub(super) fn turned(&mut self, x: &TurnedFacts) {
        let who = called(&x.common, "turned part");
        let total: Length = x.sections.iter().map(|s| s.length.bare()).sum();
        for (i, s) in x.sections.iter().enumerate() {
            self.section(s, i + 1, &who);
        }
        for (i, b) in x.bores.iter().enumerate() {
            self.bore(x, b, i + 1, total, &who);
        }
        self.bores_meet(x, total, &who);
        if let (Some(slot), Some(last)) = (&x.slot, x.sections.last()) {
            self.slot(
                slot,
                ends_at(last).across(),
                last.length.bare().max(Length::ZERO),
                "its last section",
                &who,
            );
        }
        let hole = |end: End| {
            let open = x.bores.iter().filter(|b| b.from == end || b.depth.is_none());
            open.fold(Diameter::ZERO, |d, b| d.max(b.diameter.nominal.bare()))
        };
        if let (Some(first), Some(last)) = (x.sections.first(), x.sections.last()) {
            let front =
                first.diameter.nominal.bare() - first.chamfer.map_or(Length::ZERO, |c| c.bare() * 2.0);
            let faces =
                [(Face::Front, front, hole(End::First)), (Face::Back, ends_at(last), hole(End::Other))];
            for (face, outside, hole) in faces {
                let ground = Ground { who: &who, face, outside, hole, thick: total };
                self.grooves(&ground, &x.face_grooves, None);
            }
            self.opposite(&who, total, &x.face_grooves);
        }
        for (at, d, place) in &x.cross_holes {
            let mut from = Length::ZERO;
            let under = x.sections.iter().find(|s| {
                from = from + s.length.bare();
                at.bare() <= from
            });
            match under {
                None => {
                    let t = Trouble::design(format!(
                        "{who}: a cross hole at {} lies beyond its length of {}",
                        mm(at.bare()),
                        mm(total)
                    ))
                    .why("it is measured from the first end")
                    .cure("set it nearer to the first end");
                    self.tell(t.at(self.place(at, place)));
                }
                Some(s) if d.bare() - spans(s).1 > -HAIR => {
                    let t = Trouble::design(format!(
                        "{who}: a cross hole of {} cuts through {}",
                        dia(d.bare()),
                        dia(spans(s).1)
                    ))
                    .cure("make it smaller, or set it in a thicker section");
                    self.tell(t.at(self.place(d, place)));
                }
                Some(_) => {}
            }
        }
    }
    fn section(&mut self, s: &Section, n: usize, who: &str) {
        let (a, b, l) = (s.diameter.nominal.bare(), ends_at(s), s.length.bare());
        if let Some((radius, bend)) = &s.arc {
            let rise = (a - b) / 2.0;
            let chord = Length::mm((l.in_mm() * l.in_mm() + rise.in_mm() * rise.in_mm()).sqrt());
            if radius.bare() * 2.0 < chord - HAIR {
                let t = Trouble::design(format!(
                    "{who}: an arc of radius {} cannot span section {n}",
                    mm(radius.bare())
                ))
                .why(format!(
                    "its ends are {} apart, so the radius is at least {}",
                    mm(chord),
                    mm(chord / 2.0)
                ))
                .cure("make the radius larger or the section shorter");
                self.against(radius, &s.length, &s.at, t);
            } else if *bend == Bend::Hollow {
                let (r, half) = (radius.bare().in_mm(), chord.in_mm() / 2.0);
                let sag = Length::mm(r - (r * r - half * half).max(0.0).sqrt());
                if sag >= a.min(b).across() / 2.0 {
                    let t = Trouble::design(format!("{who}: the hollow of section {n} reaches the axis"))
                        .why(format!("it is {} deep", mm(sag)))
                        .cure("make the radius larger");
                    self.against(radius, &s.length, &s.at, t);
                }
            }
        }
        if let Some(used) = &s.thread {
            let thread = &used.thread;
            if s.arc.is_some() || (a - b).abs() > HAIR {
                let t = Trouble::design(format!(
                    "{who}: section {n} is not straight and has the thread {}",
                    thread.name
                ))
                .why("these threads are straight")
                .cure("give the thread a straight section of its own");
                self.tell(t.at(used.at.clone()).at(s.at.clone()));
            } else if (a - thread.major).abs() > thread.pitch * 0.5 {
                let t = Trouble::design(format!(
                    "{who}: section {n} is {} and carries {} of {}",
                    dia(a),
                    thread.name,
                    dia(thread.major)
                ))
                .why("a thread is cut on its own diameter")
                .cure(format!("write diameter = \"{}\"", dia(thread.major)));
                let t = t.at(self.place(&s.diameter.nominal, &s.at)).at(used.at.clone());
                self.tell(t);
            }
            if l < thread.pitch {
                let t = Trouble::design(format!(
                    "{who}: section {n} is shorter than one turn of {}",
                    thread.name
                ))
                .cure("make it longer");
                self.tell(t.at(self.place(&s.length, &s.at)));
            }
        }
        if let Some(pitch) = &s.knurl {
            if s.thread.is_some() {
                let t = Trouble::design(format!("{who}: section {n} has a knurl and a thread"))
                    .why("one would crush the other")
                    .cure("give each a section of its own");
                self.tell(t.at(self.place(pitch, &s.at)));
            }
            if s.arc.is_some() || (a - b).abs() > HAIR {
                let t = Trouble::design(format!("{who}: section {n} is not straight and has a knurl"))
                    .why("a knurling wheel bears along a straight section")
                    .cure("give the knurl a straight section of its own");
                self.tell(t.at(self.place(pitch, &s.at)));
            }
            if pitch.bare() * 3.0 > a.across() {
                let t = Trouble::design(format!(
                    "{who}: a knurl of pitch {} is too coarse for {}",
                    mm(pitch.bare()),
                    dia(a)
                ))
                .cure("check the pitch and its unit");
                self.tell(t.at(self.place(pitch, &s.at)));
            }
        }
        if let Some(c) = &s.chamfer
            && (c.bare() >= l || c.bare() >= a.across() / 2.0)
        {
            let t = Trouble::design(format!(
                "{who}: a chamfer of {} is larger than section {n} allows",
                mm(c.bare())
            ))
            .cure("make it smaller");
            self.against(c, &s.length, &s.at, t);
        }
    }
    fn bore(&mut self, x: &TurnedFacts, b: &Bore, n: usize, total: Length, who: &str) {
        let d = b.diameter.nominal.bare();
        if let Some(depth) = &b.depth
            && depth.bare() > total + HAIR
        {
            let t = Trouble::design(format!(
                "{who}: bore {n} is {} deep in a length of {}",
                mm(depth.bare()),
                mm(total)
            ))
            .cure("leave depth out for a bore right through");
            self.tell(t.at(self.place(depth, &b.at)));
            return;
        }
        let deep = b.depth.map_or(total, |d| d.bare());
        let wide = b.thread.as_ref().map_or(d, |t| d.max(t.thread.major));
        let mut from = Length::ZERO;
        let sections: Vec<&Section> = match b.from {
            End::First => x.sections.iter().collect(),
            End::Other => x.sections.iter().rev().collect(),
        };
        for s in sections {
            if from >= deep - HAIR {
                break;
            }
            from = from + s.length.bare();
            let thin = spans(s).1;
            if thin - wide <= HAIR {
                let t = Trouble::design(format!(
                    "{who}: bore {n} of {} leaves no wall in {}",
                    dia(wide),
                    dia(thin)
                ))
                .cure("make it smaller, or less deep");
                let at = self.written(&b.diameter.nominal).unwrap_or_else(|| b.at.clone());
                self.tell(t.at(at).at(s.at.clone()));
                break;
            }
        }
    }
    /// Two bores that overlap along the axis from the same end must have different sizes.
    fn bores_meet(&mut self, x: &TurnedFacts, total: Length, who: &str) {
        for (i, a) in x.bores.iter().enumerate() {
            for (j, b) in x.bores.iter().enumerate().skip(i + 1) {
                let deep = |b: &Bore| b.depth.map_or(total, |d| d.bare());
                let same = a.from == b.from || a.depth.is_none() || b.depth.is_none();
                let swallowed = same && (a.diameter.nominal.bare() - b.diameter.nominal.bare()).abs() <= HAIR
                    || same
                        && ((a.diameter.nominal.bare() > b.diameter.nominal.bare() && deep(a) >= deep(b))
                            || (b.diameter.nominal.bare() > a.diameter.nominal.bare() && deep(b) >= deep(a)));
                if swallowed {
                    let t = Trouble::design(format!(
                        "{who}: one of bores {} and {} is lost in the other",
                        i + 1,
                        j + 1
                    ))
                    .why("of two bores in a line the wider is the shallower")
                    .cure("leave the lost one out, or make it deeper");
                    self.tell(t.at(b.at.clone()).at(a.at.clone()));
                }
            }
        }
    }
}
