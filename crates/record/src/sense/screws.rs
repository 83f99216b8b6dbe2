//! Screws and studs.

use super::{HAIR, Sense, about, called, dia, mm};
use crate::facts::{Head, HeadForm, Screw, Slot, Stud};
use reckon::{Length, Trouble};

impl Sense<'_> {
    pub(super) fn screw(&mut self, x: &Screw) {
        let who = called(&x.common, "screw");
        let at = &x.common.at;
        let thread = &x.thread.thread;
        let length = x.length.nominal.bare();
        if let Some(head) = &x.head {
            self.head(x, head, &who);
        }
        if let Some(slot) = &x.slot {
            match &x.head {
                Some(h) => {
                    let (d, height) = (h.diameter.nominal.bare().across(), h.height.nominal.bare());
                    self.slot(slot, d, height, "its head", &who);
                }
                None => self.slot(slot, thread.major.across(), length, "the screw", &who),
            }
        }
        let sunk = x.head.as_ref().is_some_and(|h| h.form == HeadForm::Countersunk);
        let room = match &x.head {
            Some(h) if sunk => length - h.height.nominal.bare(),
            _ => length,
        };
        if sunk && room <= HAIR {
            let t = Trouble::design(format!(
                "{who}: its countersunk head takes the whole length of {}",
                mm(length)
            ))
            .why("the length of a countersunk screw is over all")
            .cure("make it longer, or the head lower");
            self.tell(t.at(self.place(&x.length.nominal, at)));
        }
        if let Some(tl) = &x.thread_length
            && tl.bare() > room + HAIR
        {
            let t = Trouble::design(format!(
                "{who}: {} of thread on a shank of {}",
                mm(tl.bare()),
                mm(room.max(Length::ZERO))
            ))
            .why("the thread cannot be longer than what carries it")
            .cure("shorten thread_length, or leave it out for thread up to the head");
            self.against(tl, &x.length.nominal, at, t);
        }
        if let Some(u) = &x.undercut {
            if u.diameter.bare() - thread.root() > HAIR {
                let t = Trouble::design(format!(
                    "{who}: its undercut of {} is thicker than the core of {}",
                    dia(u.diameter.bare()),
                    thread.name
                ))
                .why(format!(
                    "the core is {}, and the thread could not run out into the groove",
                    dia(thread.root())
                ))
                .cure(format!(
                    "make it {} or a little less",
                    about(thread.root().across() - Length::mm(0.1))
                ));
                self.tell(t.at(self.place(&u.diameter, &u.at)));
            } else if u.diameter.bare() - thread.root() * 0.6 < Length::ZERO {
                let t = Trouble::design(format!(
                    "{who}: its undercut of {} leaves a weak neck",
                    dia(u.diameter.bare())
                ))
                .why(format!("the core of {} is {}", thread.name, dia(thread.root())))
                .cure("leave it a little under the core");
                self.tell(t.as_warning().at(self.place(&u.diameter, &u.at)));
            }
            if u.width.bare() >= room {
                let t = Trouble::design(format!("{who}: its undercut is as wide as the shank is long"))
                    .cure("a pitch and a half is enough");
                self.against(&u.width, &x.length.nominal, &u.at, t);
            }
        }
        if let Some(shank) = &x.shank {
            let d = shank.nominal.bare();
            if x.thread_length.is_none() {
                let t = Trouble::design(format!(
                    "{who} has a plain shank of {} and thread over all of it",
                    dia(d)
                ))
                .why("without a thread_length the thread runs up to the head")
                .cure("write thread_length, or leave the shank out");
                self.tell(t.at(self.place(&shank.nominal, at)));
            }
            if let Some(h) = &x.head
                && d - h.diameter.nominal.bare() > -HAIR
            {
                let t =
                    Trouble::design(format!("{who}: its shank of {} is no thinner than its head", dia(d)))
                        .why("the head would have no seat")
                        .cure("make the head larger or the shank thinner");
                self.against(&shank.nominal, &h.diameter.nominal, at, t);
            }
            if d - thread.root() < Length::ZERO {
                let t = Trouble::design(format!(
                    "{who}: its shank of {} is thinner than the core of {}",
                    dia(d),
                    thread.name
                ))
                .why(format!("the core is {}, so the shank breaks first", dia(thread.root())))
                .cure("make the shank at least as thick as the core");
                self.tell(t.as_warning().at(self.place(&shank.nominal, at)));
            }
        }
        if length < thread.pitch * 2.0 {
            let t = Trouble::design(format!(
                "{who} is {} long, less than two turns of {}",
                mm(length),
                thread.name
            ))
            .why("so short a thread holds nothing")
            .cure("check the length and its unit");
            self.tell(t.as_warning().at(self.place(&x.length.nominal, at)));
        }
    }
    fn head(&mut self, x: &Screw, h: &Head, who: &str) {
        let at = &x.common.at;
        let thread = &x.thread.thread;
        let (d, height) = (h.diameter.nominal.bare(), h.height.nominal.bare());
        if d - thread.major <= HAIR {
            let t = Trouble::design(format!(
                "{who}: its head of {} is no larger than its thread {} ({})",
                dia(d),
                thread.name,
                dia(thread.major)
            ))
            .why("the head would pass through the hole")
            .cure("make the head larger, or write head = \"none\" for a grub screw");
            let t = t.at(self.place(&h.diameter.nominal, at)).at(x.thread.at.clone());
            self.tell(t);
            return;
        }
        if let (HeadForm::Countersunk, Some(angle)) = (h.form, &h.angle) {
            let full = angle.bare().in_deg();
            if !(20.0..=170.0).contains(&full) {
                let t = Trouble::design(format!("{who}: a countersunk head of {full:.0}° cannot sit"))
                    .cure("90 deg is usual");
                self.tell(t.at(self.place(angle, &h.at)));
            } else {
                let cone = (d - thread.major) / 2.0 / (angle.bare() / 2.0).tan();
                if cone > height + Length::mm(0.01) {
                    let t = Trouble::design(format!(
                        "{who}: its countersunk head is {} high, and its cone alone takes {}",
                        mm(height),
                        mm(cone)
                    ))
                    .why(format!("from {} down to {} at {full:.0}°", dia(d), dia(thread.major)))
                    .cure(format!("make the head {} high, or smaller", mm(cone)));
                    self.against(&h.height.nominal, &h.diameter.nominal, at, t);
                }
            }
        }
        if let (HeadForm::Domed, Some(dome)) = (h.form, &h.dome) {
            let (r, half) = (dome.bare().in_mm(), d.in_mm() / 2.0);
            if r < half {
                let t = Trouble::design(format!(
                    "{who}: a dome of radius {} does not reach over a head of {}",
                    mm(dome.bare()),
                    dia(d)
                ))
                .why("its radius is at least half the head's diameter")
                .cure(format!("make it {} or more", mm(Length::mm(half))));
                self.against(dome, &h.diameter.nominal, &h.at, t);
            } else {
                let rise = Length::mm(r - (r * r - half * half).sqrt());
                if rise >= height {
                    let t = Trouble::design(format!(
                        "{who}: its dome rises {}, and the head is {} high",
                        mm(rise),
                        mm(height)
                    ))
                    .why("the height of a domed head is over the dome")
                    .cure("make the head higher or the dome flatter");
                    self.against(dome, &h.height.nominal, &h.at, t);
                }
            }
        }
        if let Some(c) = &h.chamfer
            && (c.bare() >= height || c.bare() >= d.across() / 2.0)
        {
            let t = Trouble::design(format!(
                "{who}: a chamfer of {} is larger than its head allows",
                mm(c.bare())
            ))
            .cure("a tenth of the height is usual");
            self.against(c, &h.height.nominal, &h.at, t);
        }
    }
    /// A slot across something round: deeper or wider than it is impossible, nearly so is doubtful.
    pub(super) fn slot(&mut self, slot: &Slot, across: Length, high: Length, what: &str, who: &str) {
        let (w, d) = (slot.width.bare(), slot.depth.bare());
        if d >= high - HAIR {
            let t = Trouble::design(format!(
                "{who}: its slot is {} deep, and {what} is {} high",
                mm(d),
                mm(high)
            ))
            .why("the slot would part it in two")
            .cure(format!("make the slot about {} deep", about(high * 0.4)));
            self.tell(t.at(self.place(&slot.depth, &slot.at)));
        } else if d > high * 0.7 {
            let t = Trouble::design(format!(
                "{who}: its slot of {} leaves only {} of {what}",
                mm(d),
                mm(high - d)
            ))
            .why("a head slotted so deep splits under the driver")
            .cure(format!("about {} is usual", about(high * 0.4)));
            self.tell(t.as_warning().at(self.place(&slot.depth, &slot.at)));
        }
        if w >= across - HAIR {
            let t = Trouble::design(format!(
                "{who}: its slot is {} wide, and {what} is {} across",
                mm(w),
                mm(across)
            ))
            .cure(format!("about {} is usual", about(across / 7.0)));
            self.tell(t.at(self.place(&slot.width, &slot.at)));
        } else if w > across / 3.0 {
            let t =
                Trouble::design(format!("{who}: its slot of {} takes more than a third of {what}", mm(w)))
                    .cure(format!("about {} is usual", about(across / 7.0)));
            self.tell(t.as_warning().at(self.place(&slot.width, &slot.at)));
        }
    }
    pub(super) fn stud(&mut self, x: &Stud) {
        let who = called(&x.common, "stud");
        let at = &x.common.at;
        let length = x.length.nominal.bare();
        let threads = x.first.1.bare() + x.other.1.bare();
        if threads > length + HAIR {
            let t = Trouble::design(format!(
                "{who}: threads of {} and {} on a length of {}",
                mm(x.first.1.bare()),
                mm(x.other.1.bare()),
                mm(length)
            ))
            .why("together they are longer than the stud")
            .cure("shorten a thread or lengthen the stud");
            let t = t
                .at(self.place(&x.length.nominal, at))
                .at(self.written(&x.first.1))
                .at(self.written(&x.other.1));
            self.tell(t);
        }
        if let Some(plain) = &x.plain {
            let d = plain.nominal.bare();
            if (length - threads) <= HAIR {
                let t = Trouble::design(format!(
                    "{who} has a plain part of {} and no length left for it",
                    dia(d)
                ))
                .cure("shorten a thread, or leave the plain part out");
                self.against(&plain.nominal, &x.length.nominal, at, t);
            }
            let root = x.first.0.thread.root().min(x.other.0.thread.root());
            if d - root < Length::ZERO {
                let t = Trouble::design(format!(
                    "{who}: its plain part of {} is thinner than a core of {}",
                    dia(d),
                    dia(root)
                ))
                .why("the stud breaks there first")
                .cure("make it at least as thick as the core");
                self.tell(t.as_warning().at(self.place(&plain.nominal, at)));
            }
        }
    }
}
