//! Grooves and reliefs in a face.

use super::{HAIR, Sense, dia, mm};
use crate::facts::{Face, FaceGroove, GrooveForm, Relief};
use reckon::{Diameter, Length, Trouble};

/// A face: what bounds it, and how thick the metal is behind it.
pub(super) struct Ground<'a> {
    pub(super) who: &'a str,
    pub(super) face: Face,
    pub(super) outside: Diameter,
    pub(super) hole: Diameter,
    pub(super) thick: Length,
}
/// Inner and outer diameter of a groove.
fn edges(g: &FaceGroove) -> (Diameter, Diameter) {
    (g.diameter.bare() - g.width.bare(), g.diameter.bare() + g.width.bare())
}
fn overlap(a: &FaceGroove, b: &FaceGroove) -> bool {
    let ((a0, a1), (b0, b1)) = (edges(a), edges(b));
    a1 - b0 > HAIR && b1 - a0 > HAIR
}

impl Sense<'_> {
    /// Grooves of one face, and its relief.
    pub(super) fn grooves(&mut self, ground: &Ground<'_>, all: &[FaceGroove], relief: Option<&Relief>) {
        let who = ground.who;
        let here: Vec<(usize, &FaceGroove)> =
            all.iter().enumerate().filter(|(_, g)| g.face == ground.face).collect();
        for (k, (i, g)) in here.iter().enumerate() {
            let n = i + 1;
            let (inner, outer) = edges(g);
            if outer - ground.outside > -HAIR {
                let t = Trouble::design(format!("{who}: face groove {n} leaves the face"))
                    .why(format!(
                        "it reaches out to {}, and the face ends at {}",
                        dia(outer),
                        dia(ground.outside)
                    ))
                    .cure("make it narrower or its diameter smaller");
                self.against(&g.diameter, &g.width, &g.at, t);
            }
            if ground.hole - inner > -HAIR {
                let t = if ground.hole > Diameter::ZERO {
                    Trouble::design(format!("{who}: face groove {n} cuts into the hole")).why(format!(
                        "it reaches in to {}, and the hole is {}",
                        dia(inner.max(Diameter::ZERO)),
                        dia(ground.hole)
                    ))
                } else {
                    Trouble::design(format!("{who}: face groove {n} is wider than its own diameter"))
                        .why("it would cross the axis")
                };
                self.against(&g.diameter, &g.width, &g.at, t.cure("make it narrower or its diameter larger"));
            }
            if g.depth.bare() >= ground.thick - HAIR {
                let t = Trouble::design(format!(
                    "{who}: face groove {n} is {} deep in metal of {}",
                    mm(g.depth.bare()),
                    mm(ground.thick)
                ))
                .cure("make it shallower");
                self.tell(t.at(self.place(&g.depth, &g.at)));
            } else {
                self.form(g, n, who);
            }
            for (j, other) in here.iter().skip(k + 1) {
                if overlap(g, other) {
                    let t =
                        Trouble::design(format!("{who}: face grooves {n} and {} run into each other", j + 1))
                            .at(other.at.clone())
                            .at(g.at.clone())
                            .cure("set them further apart, or make them narrower");
                    self.tell(t);
                }
            }
            if let Some(r) = relief.filter(|r| r.face == ground.face)
                && r.diameter.bare() - inner > HAIR
            {
                let t = Trouble::design(format!("{who}: face groove {n} cuts into the relief"))
                    .why(format!(
                        "it reaches in to {}, and the relief is {}",
                        dia(inner.max(Diameter::ZERO)),
                        dia(r.diameter.bare())
                    ))
                    .cure("make the relief smaller or the groove's diameter larger");
                self.against(&g.diameter, &r.diameter, &g.at, t);
            }
        }
    }
    fn form(&mut self, g: &FaceGroove, n: usize, who: &str) {
        let (w, d) = (g.width.bare(), g.depth.bare());
        match g.form {
            GrooveForm::Round if d > w / 2.0 + HAIR => {
                let t = Trouble::design(format!(
                    "{who}: face groove {n} is narrower than its round form: {} wide and {} deep",
                    mm(w),
                    mm(d)
                ))
                .why("an arc as wide as the groove is at most half as deep as it is wide")
                .cure(format!(
                    "make it {} deep or less, or {} wide",
                    mm(w / 2.0),
                    mm(d * 2.0)
                ));
                self.against(&g.depth, &g.width, &g.at, t);
            }
            GrooveForm::Vee if d > w * 1.5 => {
                let t = Trouble::design(format!(
                    "{who}: face groove {n} is a very steep vee: {} wide and {} deep",
                    mm(w),
                    mm(d)
                ))
                .why("so slender a tool breaks")
                .cure(format!("make it {} deep or less", mm(w)));
                self.tell(t.as_warning().at(self.place(&g.depth, &g.at)));
            }
            GrooveForm::Square if d > w * 3.0 => {
                let t =
                    Trouble::design(format!("{who}: face groove {n} is {} wide and {} deep", mm(w), mm(d)))
                        .why("so slender a tool breaks")
                        .cure("make it wider or shallower");
                self.tell(t.as_warning().at(self.place(&g.depth, &g.at)));
            }
            _ => {}
        }
    }
    /// Grooves of opposite faces that leave no metal between them.
    pub(super) fn opposite(&mut self, who: &str, thick: Length, all: &[FaceGroove]) {
        for (i, a) in all.iter().enumerate().filter(|(_, g)| g.face == Face::Front) {
            for (j, b) in all.iter().enumerate().filter(|(_, g)| g.face == Face::Back) {
                let (da, db) = (a.depth.bare(), b.depth.bare());
                let each_fits = da < thick && db < thick;
                if each_fits && overlap(a, b) && da + db >= thick - HAIR {
                    let t = Trouble::design(format!(
                        "{who}: face grooves {} and {} meet through the metal",
                        i + 1,
                        j + 1
                    ))
                    .why(format!("{} and {} deep from both faces of {}", mm(da), mm(db), mm(thick)))
                    .cure("make them shallower, or set them apart")
                    .at(a.at.clone())
                    .at(b.at.clone());
                    self.tell(t);
                }
            }
        }
    }
    pub(super) fn relief(&mut self, r: &Relief, who: &str, outside: Diameter, hole: Diameter, thick: Length) {
        let d = r.diameter.bare();
        if d - outside > -HAIR {
            let t =
                Trouble::design(format!("{who}: its relief of {} leaves no rim on {}", dia(d), dia(outside)))
                    .why("only the rim is to bear")
                    .cure("make the relief smaller");
            self.tell(t.at(self.place(&r.diameter, &r.at)));
        } else if d - hole <= HAIR {
            let t = Trouble::design(format!(
                "{who}: its relief of {} lies inside the hole of {}",
                dia(d),
                dia(hole)
            ))
            .cure("make the relief larger, or leave it out");
            self.tell(t.at(self.place(&r.diameter, &r.at)));
        }
        if r.depth.bare() >= thick - HAIR {
            let t = Trouble::design(format!(
                "{who}: its relief is {} deep in metal of {}",
                mm(r.depth.bare()),
                mm(thick)
            ))
            .cure("make it shallower");
            self.tell(t.at(self.place(&r.depth, &r.at)));
        }
    }
}
