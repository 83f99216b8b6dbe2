//! Whether what is written of a movement can be at all: names that point past each other, heights and sizes that
//! contradict themselves. What follows from counts and sizes together is found where the movement is worked out.

use super::{HAIR, Sense, dia, mm};
use crate::facts::{
    Arbor, DialWanted, Drive, EscapementKind, Hand, MovementFacts, PinionFacts, Plates, Runs, Share, Spot,
    Spring, Weight, WheelFacts,
};
use reckon::{Length, Place, Trouble, Val};

/// A list of names in a sentence.
fn listed(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("'{n}'")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => quoted.concat(),
    }
}
fn is(a: &Arbor, name: &str) -> bool {
    a.name == name || a.slug == reckon::slug(name)
}
/// Whether the drivers of an arbor lead to one that nothing drives.
fn leads_to_a_head(a: &Arbor, m: &MovementFacts) -> bool {
    let mut at = a;
    for _ in 0..=m.arbors.len() {
        let Some(n) = &at.driven_by else { return true };
        let Some(by) = m.arbors.iter().find(|o| is(o, &n.name)) else { return false };
        at = by;
    }
    false
}
/// A body that lies between two heights.
struct Lies<'a> {
    /// As a message calls it: "the wheel of 'third'".
    who: String,
    place: &'a Spot,
    /// Its thickness or length, and which of the two a message calls it.
    thick: Option<(&'a Val<Length>, &'static str)>,
    /// Where it is written.
    at: &'a Place,
}

impl Sense<'_> {
    pub(super) fn movement(&mut self, m: &MovementFacts, whole: bool) {
        if whole {
            self.who_drives(m);
            self.carried(m);
            self.driven(m);
        }
        for a in &m.arbors {
            self.arbor(a, m);
        }
        if let Some(e) = &m.escapement
            && let Some(place) = &e.place
        {
            let who = "the escape wheel".to_owned();
            let thick = (e.kind != EscapementKind::PinWheel).then_some((&e.thickness, "thick"));
            self.lies(&Lies { who, place, thick, at: &e.at }, m.plates.as_ref());
        }
        if let Some(d) = &m.drive {
            self.drive(d, m);
        }
        for (share, whose) in
            [(&m.losses.train, "the train passes on"), (&m.losses.escapement, "the escapement passes on")]
        {
            if let Some(s) = share {
                self.part(s, whose);
            }
        }
        self.friction(&m.losses.friction);
        if let Some(p) = &m.plates {
            self.plates(p);
        }
        if let Some(d) = &m.dial {
            self.dial_circles(d);
        }
    }
    /// Wheels that drive nothing, and a pinion that is written twice.
    fn who_drives(&mut self, m: &MovementFacts) {
        // A driver that is misspelt, or a ring, is told where the train is worked out; what seems to drive nothing then
        // comes of that.
        let led = m.arbors.iter().all(|a| leads_to_a_head(a, m));
        for a in &m.arbors {
            let Some(w) = &a.wheel else { continue };
            let driven: Vec<&Arbor> =
                m.arbors.iter().filter(|o| o.driven_by.as_ref().is_some_and(|n| is(a, &n.name))).collect();
            match (&w.mate, driven.first()) {
                (Some(mate), Some(d)) => {
                    let t = Trouble::design(format!(
                        "the wheel of '{}' drives '{}', and a mate of {} leaves is written too",
                        a.name,
                        d.name,
                        mate.shown()
                    ))
                    .at(self.place(mate, &w.at))
                    .at(d.driven_by.as_ref().map(|n| n.at.clone()))
                    .why("a mate is a pinion that is no part of this project")
                    .cure("leave mate out");
                    self.tell(t);
                }
                (None, None) if led => {
                    let t = Trouble::design(format!("the wheel of '{}' drives nothing", a.name))
                        .at(w.at.clone())
                        .why("the height of its teeth follows from the pinion that they drive")
                        .cure(format!("write driven_by = \"{}\" for the arbor that it drives", a.name))
                        .cure("write mate = 8 where a pinion of 8 leaves is no part of this project");
                    self.tell(t);
                }
                _ => {}
            }
        }
    }
    /// Hands, and arbors that are there for nothing.
    fn carried(&mut self, m: &MovementFacts) {
        for (hand, called) in [(Hand::Minute, "minute hand"), (Hand::Seconds, "seconds hand")] {
            let all: Vec<&Arbor> = m.arbors.iter().filter(|a| a.carries == Some(hand)).collect();
            if all.len() > 1 {
                let names: Vec<&str> = all.iter().map(|a| a.name.as_str()).collect();
                let mut t = Trouble::design(format!("{} all carry the {called}", listed(&names)));
                if all.len() == 2 {
                    t = Trouble::design(format!("{} both carry the {called}", listed(&names)));
                }
                for a in &all {
                    t = t.at(a.at.clone());
                }
                self.tell(t.cure("leave `carries` to one of them"));
            }
        }
        if let Some(w) = &m.motion_work
            && !m.arbors.is_empty()
            && !m.arbors.iter().any(|a| a.carries == Some(Hand::Minute))
        {
            let t = Trouble::design("no arbor carries the minute hand that the motion work begins at")
                .at(w.at.clone())
                .cure("write carries = \"minute hand\" for the arbor that turns once an hour");
            self.tell(t);
        }
        let pointed = |a: &Arbor| {
            let by_escapement =
                m.escapement.as_ref().is_some_and(|e| is(a, &e.arbor.name) || is(a, &e.pallets.name));
            let by_drive = m.drive.as_ref().is_some_and(|d| {
                let arbors = [
                    d.weight.as_ref().map(|w| &w.arbor),
                    d.spring.as_ref().map(|s| &s.arbor),
                    d.fusee.as_ref().map(|f| &f.arbor),
                ];
                arbors.into_iter().flatten().any(|n| is(a, &n.name))
            });
            by_escapement || by_drive
        };
        for a in &m.arbors {
            if a.wheel.is_none() && a.pinion.is_none() && a.carries.is_none() && !pointed(a) {
                let t = Trouble::design(format!("'{}' carries nothing", a.name))
                    .as_warning()
                    .at(a.at.clone())
                    .why("neither pinion nor wheel nor hand is written for it, and neither escapement nor drive names it")
                    .cure("leave it out, or write what it carries");
                self.tell(t);
            }
        }
    }
    fn arbor(&mut self, a: &Arbor, m: &MovementFacts) {
        let plates = m.plates.as_ref().filter(|_| a.runs == Runs::Between);
        if let Some(w) = &a.wheel {
            self.wheel(a, w, plates);
        }
        if let Some(p) = &a.pinion {
            self.pinion(a, p, plates);
        }
        if let Some(b) = &a.bearing {
            if let Some((x, _)) = &a.spot {
                let t =
                    Trouble::design(format!("'{}' stands where `at` says, and where a bearing says", a.name))
                        .at(self.place(b, &a.spot_at))
                        .at(self.written(x))
                        .cure("leave one of the two out");
                self.tell(t);
            } else if a.driven_by.is_none() && !m.escapement.as_ref().is_some_and(|e| is(a, &e.pallets.name))
            {
                let t = Trouble::design(format!("the bearing of '{}' says nothing", a.name))
                    .at(self.place(b, &a.spot_at))
                    .why("a bearing is taken from the arbor that drives it, and none does")
                    .cure("write at = [\"0 mm\", \"0 mm\"], or leave the bearing out");
                self.tell(t);
            }
        }
    }
    fn wheel(&mut self, a: &Arbor, w: &WheelFacts, plates: Option<&Plates>) {
        if let Some(place) = &w.place {
            let thick = w.thickness.as_ref().map(|s| (&s.nominal, "thick"));
            let who = format!("the wheel of '{}'", a.name);
            self.lies(&Lies { who, place, thick, at: &w.at }, plates);
        }
    }
    fn pinion(&mut self, a: &Arbor, p: &PinionFacts, plates: Option<&Plates>) {
        if let Some(place) = &p.place {
            let who = format!("the pinion of '{}'", a.name);
            let thick = p.length.as_ref().map(|l| (l, "long"));
            self.lies(&Lies { who, place, thick, at: &p.at }, plates);
        }
        let idle = match (p.lantern, &p.pin, p.top) {
            (false, Some(pin), _) => {
                Some((self.place(pin, &p.at), "pin", "its leaves are cut in the solid", "kind = \"lantern\""))
            }
            (true, _, Some(_)) => {
                Some((p.at.clone(), "profile", "the pins of a lantern have no tops", "kind = \"cut\""))
            }
            _ => None,
        };
        if let Some((at, key, why, cure)) = idle {
            let t = Trouble::text(format!("'{key}' of the pinion of '{}' means nothing here", a.name))
                .at(at)
                .why(why)
                .cure("leave it out")
                .cure(format!("write {cure} if that is meant"));
            self.tell(t);
        }
    }
    /// From and to rise, leave room for the thickness, and lie in no plate.
    fn lies(&mut self, l: &Lies<'_>, plates: Option<&Plates>) {
        let (from, to) = l.place;
        let (low, high) = (from.bare(), to.bare());
        if low >= high {
            let t = Trouble::design(format!("{} lies from {} to {}", l.who, mm(low), mm(high)))
                .why("heights are counted from the inside of the back plate, and the lower one stands first")
                .cure(format!("place = [\"{}\", \"{}\"]", mm(high), mm(low)));
            self.against(from, to, l.at, t);
            return;
        }
        if let Some((thick, word)) = l.thick
            && (thick.bare() - (high - low)).abs() > HAIR
        {
            let t = Trouble::design(format!(
                "{} is {} {word}, and its place leaves {}",
                l.who,
                mm(thick.bare()),
                mm(high - low)
            ))
            .cure(format!("place = [\"{}\", \"{}\"]", mm(low), mm(low + thick.bare())))
            .cure(format!("let it be {} {word}", mm(high - low)));
            self.against(to, thick, l.at, t);
        }
        let Some(p) = plates else { return };
        let gap = p.gap.bare();
        if low < Length::ZERO - HAIR && high > Length::ZERO - p.thickness.bare() + HAIR {
            let t = Trouble::design(format!("{} would stand in the back plate", l.who))
                .why(format!(
                    "it lies from {}, and 0 mm is the inside of the back plate, which is {} thick",
                    mm(low),
                    mm(p.thickness.bare())
                ))
                .cure("begin at 0 mm or above");
            self.against(from, &p.thickness, l.at, t);
        } else if high > gap + HAIR && low < gap + p.thickness.bare() - HAIR {
            let t = Trouble::design(format!("{} would stand in the front plate", l.who))
                .why(format!("it reaches to {}, and the plates stand {} apart", mm(high), mm(gap)))
                .cure(format!("end below {}", mm(gap)))
                .cure("plates further apart");
            self.against(to, &p.gap, l.at, t);
        }
    }
    /// A drive without a force, and an indication without wheels.
    fn driven(&mut self, m: &MovementFacts) {
        if let Some(d) = &m.drive
            && d.weight.is_none()
            && d.spring.is_none()
        {
            let t = Trouble::text("[drive] says neither weight nor spring")
                .at(d.at.clone())
                .cure("write [drive.weight] or [drive.spring]");
            self.tell(t);
        }
        for i in m.indications.iter().filter(|i| i.pairs.is_empty()) {
            let t = Trouble::text(format!("indication '{}' has no pairs of wheels", i.name))
                .at(i.at.clone())
                .cure("for example pairs = [[9, 92], [9, 104]]");
            self.tell(t);
        }
    }
    fn drive(&mut self, d: &Drive, m: &MovementFacts) {
        if let Some(w) = &d.weight {
            self.weight(w);
        }
        if let Some(s) = &d.spring {
            self.spring(s, m);
        }
    }
    fn weight(&mut self, w: &Weight) {
        let Some(b) = &w.body else { return };
        if b.inside.bare() >= b.outside.bare() {
            let t = Trouble::design(format!(
                "the shell of the weight is {} inside and {} outside",
                dia(b.inside.bare()),
                dia(b.outside.bare())
            ))
            .why("no metal is left between them")
            .cure("exchange the two, or check their units");
            self.against(&b.inside, &b.outside, &b.at, t);
        }
        if b.cap.bare() * 2.0 >= b.height.bare() {
            let t = Trouble::design(format!(
                "the weight is {} high, and its caps are {} thick each",
                mm(b.height.bare()),
                mm(b.cap.bare())
            ))
            .why("nothing is left between the caps to fill")
            .cure("thinner caps, or a higher shell");
            self.against(&b.cap, &b.height, &b.at, t);
        }
    }
    fn spring(&mut self, s: &Spring, m: &MovementFacts) {
        self.part(&s.coils, "the coils of the spring deliver");
        let mut told = false;
        for (small, large, words) in
            [(&s.inside, &s.outside, ["inside", "outside"]), (&s.core, &s.inside, ["arbor", "inside"])]
        {
            if small.bare() >= large.bare() {
                let t = Trouble::design(format!(
                    "the barrel's {} of {} is no smaller than its {} of {}",
                    words[0],
                    dia(small.bare()),
                    words[1],
                    dia(large.bare())
                ))
                .cure("exchange the two, or check their units");
                self.against(small, large, &s.at, t);
                told = true;
            }
        }
        if s.height.bare() >= s.room.bare() {
            let t = Trouble::design(format!(
                "a spring {} high does not go into a barrel {} high inside",
                mm(s.height.bare()),
                mm(s.room.bare())
            ))
            .why("a spring that rubs at the bottom or the cover holds back its power")
            .cure(format!("a barrel {} high inside or more", mm(s.height.bare() + Length::mm(0.3))));
            self.against(&s.height, &s.room, &s.at, t);
            told = true;
        }
        let (Some(place), false) = (&s.place, told) else { return };
        let body = s.room.bare() + s.cover.bare() + s.bottom.bare();
        if place.0.bare() < place.1.bare() && place.1.bare() - place.0.bare() < body - HAIR {
            let t = Trouble::design(format!(
                "the barrel is {} high over all, and its place leaves {}",
                mm(body),
                mm(place.1.bare() - place.0.bare())
            ))
            .why(format!(
                "{} inside, a bottom of {} and a cover of {}",
                mm(s.room.bare()),
                mm(s.bottom.bare()),
                mm(s.cover.bare())
            ))
            .cure(format!(
                "place = [\"{}\", \"{}\"]",
                mm(place.0.bare()),
                mm(place.0.bare() + body)
            ));
            self.against(&place.1, &s.room, &s.at, t);
            return;
        }
        self.lies(&Lies { who: "the barrel".to_owned(), place, thick: None, at: &s.at }, m.plates.as_ref());
    }
    /// A part of what goes in never exceeds it.
    fn part(&mut self, s: &Share, whose: &str) {
        let high = s.high.bare().value();
        if high > 1.0 {
            let t = Trouble::text(format!("{whose} {} of what it is given", s.high.shown()))
                .at(self.written(&s.high))
                .why("nothing passes on more than it takes");
            self.tell(if (2.0..=100.0).contains(&high) {
                let three = [&s.low, &s.likely, &s.high].map(|v| format!("\"{} %\"", v.shown()));
                t.cure(format!("write [{}] if you meant parts of a hundred", three.join(", ")))
            } else {
                t.cure("write parts of 1, such as [0.55, 0.65, 0.75]")
            });
        }
    }
    fn friction(&mut self, s: &Share) {
        if s.high.bare().value() > 1.0 {
            let t = Trouble::text(format!("a coefficient of friction of {}", s.high.shown()))
                .at(self.written(&s.high))
                .why("steel on brass rubs with 0.1 to 0.3, dry or oiled")
                .cure("write it as a part of the load, such as [0.1, 0.15, 0.25]");
            self.tell(t);
        }
    }
    fn plates(&mut self, p: &Plates) {
        if p.pillar_spigot.bare() >= p.pillar_diameter.bare() {
            let t = Trouble::design(format!(
                "the pillars are {} thick, and their spigots {}",
                dia(p.pillar_diameter.bare()),
                dia(p.pillar_spigot.bare())
            ))
            .why("a pillar bears against the plate with the shoulder between the two")
            .cure("thinner spigots, or thicker pillars");
            self.against(&p.pillar_spigot, &p.pillar_diameter, &p.at, t);
        }
        for (i, a) in p.pillars.iter().enumerate() {
            let Some(k) = p.pillars[..i].iter().position(|b| {
                (a.0.bare() - b.0.bare()).abs() < HAIR && (a.1.bare() - b.1.bare()).abs() < HAIR
            }) else {
                continue;
            };
            let t = Trouble::design(format!("pillars {} and {} stand in one place", k + 1, i + 1))
                .cure("leave one out, or check the signs of x and y");
            self.against(&a.0, &p.pillars[k].0, &p.at, t);
        }
    }
    fn dial_circles(&mut self, d: &DialWanted) {
        if let Some(s) = &d.seconds_circle
            && s.bare() >= d.minute_circle.bare()
        {
            let t = Trouble::design(format!(
                "the seconds circle of {} is no smaller than the minute circle of {}",
                dia(s.bare()),
                dia(d.minute_circle.bare())
            ))
            .why("it lies within the minute circle")
            .cure("exchange the two, or check their units");
            self.against(s, &d.minute_circle, &d.at, t);
        }
        if let Some(o) = &d.outside
            && o.bare() <= d.minute_circle.bare()
        {
            let t = Trouble::design(format!(
                "a dial of {} has no room for a minute circle of {}",
                dia(o.bare()),
                dia(d.minute_circle.bare())
            ))
            .cure("a larger dial, or leave `outside` out: it then follows from the circle");
            self.against(o, &d.minute_circle, &d.at, t);
        }
    }
}
