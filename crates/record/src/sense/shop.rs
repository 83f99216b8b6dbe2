//! Whether a shop's figures can be.

use super::{HAIR, Sense, dia, mm};
use crate::facts::{Coupon, DialFacts, HoldKind, Lathe, Shop};
use reckon::{Book, Length, Place, Shown, Trouble, Val};

/// Everything that is wrong or doubtful with a shop.
pub(crate) fn shop(shop: &Shop, book: &Book) -> Vec<Trouble> {
    let mut s = Sense { book, troubles: Vec::new() };
    for l in &shop.lathes {
        s.lathe(l);
    }
    for m in &shop.mills {
        if let Some(d) = &m.dial {
            s.dial(d, &format!("mill '{}'", m.name), &m.at);
        }
    }
    for b in &shop.drills.broaches {
        s.rises(&b.0, &b.1, "a broach");
    }
    for m in &shop.measures {
        s.rises(&m.range.0, &m.range.1, &format!("measuring tool '{}'", m.name));
    }
    for c in &shop.fire.coupons {
        s.coupon(c);
    }
    for w in shop.polish.grits.windows(2) {
        if w[1].bare() >= w[0].bare() {
            let t = Trouble::shop(format!("grains of {} stand after {}", mm(w[1].bare()), mm(w[0].bare())))
                .why("polishing goes from coarse to fine, each step taking out the scratches of the last")
                .cure("list them coarse to fine, each once");
            s.tell(t.at(s.written(&w[1])));
            break;
        }
    }
    s.troubles
}
impl Sense<'_> {
    /// A test piece tells something of a steel that hardens.
    fn coupon(&mut self, c: &Coupon) {
        if c.hardness.is_none() && c.colour.is_none() {
            let t = Trouble::shop("a coupon tells neither a hardness nor a colour".to_owned())
                .why("what came of it is what the tables are moved by")
                .cure("write hardness = 58 or colour = \"straw\" as it was found, or leave the coupon out");
            self.tell(t.at(c.at.clone()));
        }
        if let Some(h) = c.hardness.filter(|h| !(20.0..=68.0).contains(&h.bare().value())) {
            let t = Trouble::shop(format!("a coupon is told to have come out at {} HRC", h.shown()))
                .why("Rockwell C runs from 20 to 68")
                .cure("write the reading of the C scale, such as hardness = 58");
            self.tell(t.at(self.written(&h)));
        }
        match tables::material::find(&c.steel) {
            Ok(m) if m.hardens.by_quench() => {}
            Ok(m) => {
                let t = Trouble::shop(format!("a coupon is of {}, which no quench hardens", m.name))
                    .why("coupons move the tempering curve and the colours of a steel that hardens")
                    .cure("write a steel that hardens, such as silver steel, or leave the coupon out");
                self.tell(t.at(c.at.clone()));
            }
            Err(t) => self.tell(t.at(c.at.clone())),
        }
    }
    fn rises<T: Shown + PartialOrd>(&mut self, least: &Val<T>, greatest: &Val<T>, whose: &str) {
        if *least >= *greatest {
            let text = |v: &Val<T>| mm(Length::si(v.bare().si().unwrap_or_default()));
            let t = Trouble::shop(format!("{whose} goes from {} to {}", text(least), text(greatest)))
                .why("the least stands first")
                .cure("exchange the two");
            self.tell(t.at(self.written(least)).at(self.written(greatest)));
        }
    }
    fn lathe(&mut self, l: &Lathe) {
        let who = format!("lathe '{}'", l.name);
        if l.swing_over_slide.bare() - l.swing.bare() > HAIR {
            let t = Trouble::shop(format!(
                "{who} swings {} over its cross slide and {} over its bed",
                dia(l.swing_over_slide.bare()),
                dia(l.swing.bare())
            ))
            .why("the cross slide stands on the bed")
            .cure("exchange the two");
            self.against(&l.swing_over_slide, &l.swing, &l.at, t);
        }
        if l.spindle_bore.bare() - l.swing.bare() > -HAIR {
            let t = Trouble::shop(format!(
                "{who} has a spindle bore of {} and swings {}",
                dia(l.spindle_bore.bare()),
                dia(l.swing.bare())
            ))
            .cure("check the bore's unit");
            self.against(&l.spindle_bore, &l.swing, &l.at, t);
        }
        if l.drive.bare().value() > 1.0 {
            let t = Trouble::shop(format!("{who} gives its tool {} of its motor's power", l.drive.shown()))
                .why("no drive gives more than it takes")
                .cure("write a part below 1, such as 0.75 or 75 %");
            self.tell(t.at(self.place(&l.drive, &l.at)));
        }
        self.rises(&l.tailstock_chuck.0, &l.tailstock_chuck.1, &format!("the tailstock chuck of {who}"));
        for d in [&l.cross_slide, &l.long_slide].into_iter().flatten() {
            self.dial(d, &who, &l.at);
        }
        if let Some(s) = &l.screwcutting {
            self.rises(&s.pitches.0, &s.pitches.1, &format!("the pitch that {who} cuts"));
        }
        for h in &l.holdings {
            match &h.kind {
                HoldKind::Chuck { grips, .. } | HoldKind::Steady { grips } => {
                    self.rises(&grips.0, &grips.1, &format!("the {} of {who}", h.name));
                }
                HoldKind::Wax { greatest } | HoldKind::Faceplate { greatest }
                    if greatest.bare() - l.swing.bare() > HAIR =>
                {
                    let t = Trouble::shop(format!(
                        "the {} of {who} is to hold {}, and the lathe swings {}",
                        h.name,
                        dia(greatest.bare()),
                        dia(l.swing.bare())
                    ))
                    .cure("write no more than the swing");
                    self.against(greatest, &l.swing, &h.at, t);
                }
                HoldKind::Collet { sizes, .. } => {
                    let bad = sizes.iter().find(|s| s.bare() - l.swing.bare() > HAIR);
                    if let Some(s) = bad {
                        let t = Trouble::shop(format!(
                            "a collet of {} in {who}, which swings {}",
                            dia(s.bare()),
                            dia(l.swing.bare())
                        ))
                        .cure("check its unit");
                        self.tell(t.at(self.place(s, &h.at)));
                    }
                }
                _ => {}
            }
        }
    }
    /// A dial's turn is a whole number of its divisions.
    fn dial(&mut self, d: &DialFacts, who: &str, or: &Place) {
        let (one, turn) = (d.division.bare(), d.one_turn.bare());
        let n = turn.value() / one.value();
        if (n - n.round()).abs() > 0.01 || n < 1.5 {
            let t = Trouble::shop(format!(
                "a dial of {who} has divisions of {} and turns of {}",
                mm(one),
                mm(turn)
            ))
            .why(format!("that is {} divisions a turn, not a whole number", reckon::print::significant(n, 4)))
            .cure("count its divisions: one_turn = division times that");
            self.against(&d.division, &d.one_turn, or, t);
        }
        if d.backlash.bare() >= turn {
            let t = Trouble::shop(format!(
                "a dial of {who} has a backlash of {}, more than a turn",
                mm(d.backlash.bare())
            ))
            .cure("check its unit");
            self.tell(t.at(self.place(&d.backlash, or)));
        }
    }
}
