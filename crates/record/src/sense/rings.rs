//! Washers, pillars, feet, bushes, collets.

use super::grooves::Ground;
use super::{HAIR, Sense, called, dia, mm};
use crate::facts::{Bush, Collet, Face, Foot, Pillar, PillarEnd, Size, Washer};
use reckon::{Diameter, Length, Place, Trouble, Val};

impl Sense<'_> {
    /// A hole that leaves no wall.
    fn walled(
        &mut self,
        hole: &Size<Diameter>,
        outside: &Size<Diameter>,
        what: (&str, &str),
        who: &str,
        at: &Place,
    ) -> bool {
        let (h, o) = (hole.nominal.bare(), outside.nominal.bare());
        if o - h > HAIR {
            return true;
        }
        let t = Trouble::design(format!(
            "{who}: its {} of {} is no smaller than its {} of {}",
            what.0,
            dia(h),
            what.1,
            dia(o)
        ))
        .why("no metal is left between them")
        .cure("check which of the two is meant");
        self.against(&hole.nominal, &outside.nominal, at, t);
        false
    }
    pub(super) fn washer(&mut self, x: &Washer) {
        let who = called(&x.common, "washer");
        let at = &x.common.at;
        if !self.walled(&x.hole, &x.outside, ("hole", "outside"), &who, at) {
            return;
        }
        let (outside, hole, thick) =
            (x.outside.nominal.bare(), x.hole.nominal.bare(), x.thickness.nominal.bare());
        let mut rim = outside;
        if let Some(c) = &x.chamfer {
            if c.bare() * 2.0 >= thick || outside - hole <= c.bare() * 2.0 {
                let t = Trouble::design(format!(
                    "{who}: chamfers of {} leave no edge on {}",
                    mm(c.bare()),
                    mm(thick)
                ))
                .cure("a tenth of the thickness is usual");
                self.against(c, &x.thickness.nominal, at, t);
            } else {
                rim = outside - c.bare() * 2.0;
            }
        }
        for face in [Face::Front, Face::Back] {
            let ground = Ground { who: &who, face, outside: rim, hole, thick };
            self.grooves(&ground, &x.face_grooves, x.relief.as_ref());
        }
        self.opposite(&who, thick, &x.face_grooves);
        if let Some(r) = &x.relief {
            self.relief(r, &who, rim, hole, thick);
        }
    }
    /// What an end leaves of the body it stands on; the depth of its hole.
    fn end(
        &mut self,
        end: &PillarEnd,
        body: &Val<Diameter>,
        what: &str,
        who: &str,
        at: &Place,
    ) -> Option<Val<Length>> {
        let d = body.bare();
        match end {
            PillarEnd::Spigot { diameter, .. } => {
                if d - diameter.nominal.bare() <= HAIR {
                    let t = Trouble::design(format!(
                        "{who}: a spigot of {} leaves no shoulder on {}",
                        dia(diameter.nominal.bare()),
                        dia(d)
                    ))
                    .why(format!("the shoulder of {what} bears on the plate"))
                    .cure("make the spigot thinner");
                    self.against(&diameter.nominal, body, at, t);
                }
                None
            }
            PillarEnd::Threaded { thread, .. } => {
                if d - thread.thread.major <= HAIR {
                    let t = Trouble::design(format!(
                        "{who}: the thread {} leaves no shoulder on {}",
                        thread.thread.name,
                        dia(d)
                    ))
                    .why(format!("the shoulder of {what} bears on the plate"))
                    .cure("choose a smaller thread");
                    self.tell(t.at(thread.at.clone()).at(self.written(body)));
                }
                None
            }
            PillarEnd::Tapped { thread, depth } => {
                let major = thread.thread.major;
                if d - major <= HAIR {
                    let t = Trouble::design(format!(
                        "{who}: the thread {} leaves no wall in {}",
                        thread.thread.name,
                        dia(d)
                    ))
                    .cure("choose a smaller thread");
                    self.tell(t.at(thread.at.clone()).at(self.written(body)));
                } else if d - major < thread.thread.pitch * 2.0 {
                    let t = Trouble::design(format!(
                        "{who}: the thread {} leaves a wall of {} in {}",
                        thread.thread.name,
                        mm((d - major) / 2.0),
                        dia(d)
                    ))
                    .why("a wall thinner than the pitch bursts")
                    .cure("choose a smaller thread");
                    self.tell(t.as_warning().at(thread.at.clone()));
                }
                Some(*depth)
            }
        }
    }
    pub(super) fn pillar(&mut self, x: &Pillar) {
        let who = called(&x.common, "pillar");
        let at = &x.common.at;
        let length = x.length.nominal.bare();
        let depths: Vec<Val<Length>> =
            x.ends.iter().filter_map(|e| self.end(e, &x.diameter.nominal, "a pillar", &who, at)).collect();
        // Both ends are told of alike where one table stands for both.
        self.troubles.dedup();
        let total: Length = depths.iter().map(Val::bare).sum();
        if total >= length - HAIR {
            let t = Trouble::design(format!("{who}: its tapped holes take {} of {}", mm(total), mm(length)))
                .why("they run into each other or out at the other end")
                .cure("make them shallower");
            if let Some(first) = depths.first() {
                self.against(first, &x.length.nominal, at, t);
            }
        }
        if let Some((d, l)) = &x.waist {
            if d.bare() - x.diameter.nominal.bare() > -HAIR {
                let t = Trouble::design(format!(
                    "{who}: its waist of {} is no thinner than its body of {}",
                    dia(d.bare()),
                    dia(x.diameter.nominal.bare())
                ))
                .cure("make the waist thinner, or leave it out");
                self.against(d, &x.diameter.nominal, at, t);
            }
            if l.bare() > length + HAIR {
                let t = Trouble::design(format!(
                    "{who}: its waist of {} is longer than the pillar, {}",
                    mm(l.bare()),
                    mm(length)
                ))
                .cure("make the waist shorter");
                self.against(l, &x.length.nominal, at, t);
            }
        }
    }
    pub(super) fn foot(&mut self, x: &Foot) {
        let who = called(&x.common, "foot");
        let at = &x.common.at;
        let body = x.top.unwrap_or(x.diameter.nominal);
        if let Some(top) = &x.top
            && top.bare() - x.diameter.nominal.bare() > HAIR
        {
            let t = Trouble::design(format!(
                "{who}: its top of {} is larger than its bottom of {}",
                dia(top.bare()),
                dia(x.diameter.nominal.bare())
            ))
            .why("`diameter` is the largest, at the bottom")
            .cure("exchange the two");
            self.against(top, &x.diameter.nominal, at, t);
        }
        if let Some(depth) = self.end(&x.fixing, &body, "a foot", &who, at)
            && depth.bare() >= x.height.nominal.bare() - HAIR
        {
            let t = Trouble::design(format!(
                "{who}: its tapped hole is {} deep in a height of {}",
                mm(depth.bare()),
                mm(x.height.nominal.bare())
            ))
            .why("it would come out below")
            .cure("make it shallower");
            self.against(&depth, &x.height.nominal, at, t);
        }
    }
    pub(super) fn bush(&mut self, x: &Bush) {
        let who = called(&x.common, "bush");
        let at = &x.common.at;
        let length = x.length.nominal.bare();
        self.walled(&x.bore, &x.outside, ("bore", "outside"), &who, at);
        if let Some((d, thick)) = &x.flange {
            if d.bare() - x.outside.nominal.bare() <= HAIR {
                let t = Trouble::design(format!(
                    "{who}: its flange of {} is no larger than its outside of {}",
                    dia(d.bare()),
                    dia(x.outside.nominal.bare())
                ))
                .cure("make the flange larger, or leave it out");
                self.against(d, &x.outside.nominal, at, t);
            }
            if thick.bare() >= length - HAIR {
                let t = Trouble::design(format!(
                    "{who}: its flange is {} thick, and the bush {} long",
                    mm(thick.bare()),
                    mm(length)
                ))
                .why("the length of a bush is over all")
                .cure("make the bush longer or the flange thinner");
                self.against(thick, &x.length.nominal, at, t);
            }
        }
        if let Some((d, depth)) = &x.oil_sink {
            let widest = x
                .flange
                .as_ref()
                .map_or(x.outside.nominal.bare(), |(f, _)| f.bare().max(x.outside.nominal.bare()));
            if d.bare() - x.bore.nominal.bare() <= HAIR || d.bare() - widest > -HAIR {
                let t = Trouble::design(format!(
                    "{who}: an oil sink of {} does not lie between its bore of {} and {}",
                    dia(d.bare()),
                    dia(x.bore.nominal.bare()),
                    dia(widest)
                ))
                .cure("twice the bore is usual");
                self.tell(t.at(self.place(d, at)));
            }
            if depth.bare() >= length * 0.5 {
                let t = Trouble::design(format!(
                    "{who}: its oil sink takes {} of a length of {}",
                    mm(depth.bare()),
                    mm(length)
                ))
                .why("too little is left to carry the pivot")
                .cure("make it shallower");
                let t = if depth.bare() >= length - HAIR { t } else { t.as_warning() };
                self.against(depth, &x.length.nominal, at, t);
            }
        }
    }
    pub(super) fn collet(&mut self, x: &Collet) {
        let who = called(&x.common, "collet");
        let at = &x.common.at;
        let (seat, seat_length) = &x.seat;
        self.walled(&x.bore, seat, ("bore", "seat"), &who, at);
        if x.diameter.nominal.bare() - seat.nominal.bare() <= HAIR {
            let t = Trouble::design(format!(
                "{who}: its seat of {} is no smaller than its body of {}",
                dia(seat.nominal.bare()),
                dia(x.diameter.nominal.bare())
            ))
            .why("the wheel bears against the body's shoulder")
            .cure("make the seat smaller or the body larger");
            self.against(&seat.nominal, &x.diameter.nominal, at, t);
        }
        if seat_length.bare() >= x.length.nominal.bare() - HAIR {
            let t = Trouble::design(format!(
                "{who}: its seat is {} long, and the collet {}",
                mm(seat_length.bare()),
                mm(x.length.nominal.bare())
            ))
            .why("no body is left behind the seat")
            .cure("make the collet longer or the seat shorter");
            self.against(seat_length, &x.length.nominal, at, t);
        }
    }
}
