//! The facts of a clock.

use super::Build;
use crate::facts::*;
use crate::read::node::{Node, Value, a_length};
use reckon::{Angle, Book, Diameter, Length, LengthStyle, Trouble, Val};
use tables::head::Form;

/// The facts of `clock.toml`, as far as they can be had, and what is wrong.
pub(crate) fn clock(node: &Node, book: &mut Book) -> (Clock, Vec<Trouble>) {
    let mut b = Build::new(book);
    let project = node.table("clock");
    let facts = Clock {
        name: project.and_then(|p| p.text("name")).unwrap_or_default(),
        was: project.and_then(|p| p.text("was")),
        site: project.and_then(|p| p.table("site")).map(site).unwrap_or_default(),
        print: project.and_then(|p| p.word("print")).map(style).unwrap_or_default(),
        paper: match project.and_then(|p| p.word("paper")) {
            Some("Letter") => Paper::Letter,
            _ => Paper::A4,
        },
        evening: project.and_then(|p| p.time("evening")),
        evenings_a_week: project.and_then(|p| p.count("evenings_a_week")),
        first: node.tables("order").filter_map(first).collect(),
        screws: node.tables("screw").filter_map(|n| b.screw(n)).collect(),
        studs: node.tables("stud").filter_map(|n| b.stud(n)).collect(),
        washers: node.tables("washer").filter_map(|n| b.washer(n)).collect(),
        pillars: node.tables("pillar").filter_map(|n| b.pillar(n)).collect(),
        feet: node.tables("foot").filter_map(|n| b.foot(n)).collect(),
        bushes: node.tables("bush").filter_map(|n| b.bush(n)).collect(),
        collets: node.tables("collet").filter_map(|n| b.collet(n)).collect(),
        turned: node.tables("turned").filter_map(|n| b.turned(n)).collect(),
        flats: node.tables("flat").filter_map(|n| b.flat(n)).collect(),
        movement: b.movement(node),
    };
    (facts, b.troubles)
}
pub(super) fn site(n: &Node) -> Site {
    Site {
        latitude: n.angle("latitude"),
        altitude: n.length("altitude"),
        temperature: n.temperature("temperature"),
        warmer_by_day: n.difference("warmer_by_day"),
        warmer_by_year: n.difference("warmer_by_year"),
    }
}
pub(super) fn style(word: &str) -> LengthStyle {
    match word {
        "inch" => LengthStyle::Inch,
        "thou" => LengthStyle::Thou,
        "fraction" => LengthStyle::Fraction,
        _ => LengthStyle::Mm,
    }
}
fn point(n: &Node) -> Option<Point> {
    Some(match n.word("point")? {
        "flat" => Point::Flat,
        "domed" => Point::Domed,
        _ => Point::Chamfered,
    })
}
fn face(n: &Node) -> Option<Face> {
    Some(if n.word("face")? == "back" { Face::Back } else { Face::Front })
}
fn slot(n: &Node) -> Option<Slot> {
    Some(Slot { width: n.length("width")?, depth: n.length("depth")?, at: n.at.clone() })
}
fn otherwise(n: &Node) -> Option<Otherwise> {
    Some(Otherwise {
        first: Finish::of(n.word("first")?)?,
        then: Finish::of(n.word("then")?)?,
        reason: n.text("reason")?,
        at: n.at.clone(),
    })
}
fn first(n: &Node) -> Option<First> {
    let named = |key: &str| Some((n.text(key)?, n.place(key)));
    Some(First { first: named("first")?, then: named("then")?, reason: n.text("reason")?, at: n.at.clone() })
}
fn grooves(n: &Node) -> Vec<FaceGroove> {
    let one = |g: &Node| {
        Some(FaceGroove {
            diameter: g.diameter("diameter")?,
            width: g.length("width")?,
            depth: g.length("depth")?,
            form: match g.word("form")? {
                "round" => GrooveForm::Round,
                "vee" => GrooveForm::Vee,
                _ => GrooveForm::Square,
            },
            face: face(g)?,
            at: g.at.clone(),
        })
    };
    n.tables("face_grooves").filter_map(one).collect()
}
/// A table of a diameter and a length.
fn round(n: Option<&Node>, length: &str) -> Option<(Val<Diameter>, Val<Length>)> {
    let n = n?;
    Some((n.diameter("diameter")?, n.length(length)?))
}
fn point_of(n: &Node, key: &str) -> Option<(Val<Length>, Val<Length>)> {
    n.pair(key, a_length)
}

impl Build<'_> {
    fn common(&mut self, n: &Node) -> Option<Common> {
        let steps = n.list("finish").iter();
        let finish = steps.filter_map(|g| match g.value {
            Value::Word(w) => Some((Finish::of(w)?, g.at.clone())),
            _ => None,
        });
        Some(Common {
            name: n.text("name")?,
            slug: n.prefix.clone(),
            at: n.place("name"),
            was: n.text("was"),
            count: n.count("count")?,
            spares: n.count("spares"),
            material: n.material("material")?.0,
            material_at: n.place("material"),
            finish: finish.collect(),
            finish_written: n.has("finish"),
            hardness: n.ratio("hardness"),
            otherwise: n.tables("order").filter_map(otherwise).collect(),
            note: n.text("note"),
        })
    }
    fn screw(&mut self, n: &Node) -> Option<Screw> {
        let common = self.common(n);
        let thread = self.thread(n, "thread", false);
        let length = n.length_size("length");
        let head = match n.table("head") {
            Some(h) => Some(self.head(h)?),
            None if n.is_none("head") => None,
            None => return None,
        };
        let thread = thread?;
        let length = length?;
        let slot = match n.table("slot") {
            Some(s) => slot(s),
            None if n.has("slot") => None,
            None => self.usual_slot(n, head.as_ref(), &thread, &length),
        };
        let undercut = n.table("undercut").and_then(|u| {
            Some(Undercut { diameter: u.diameter("diameter")?, width: u.length("width")?, at: u.at.clone() })
        });
        Some(Screw {
            common: common?,
            thread,
            length,
            thread_length: n.length("thread_length"),
            head,
            slot,
            undercut,
            shank: n.diameter_size("shank"),
            point: point(n)?,
        })
    }
    fn usual_slot(
        &mut self,
        n: &Node,
        head: Option<&Head>,
        thread: &ThreadUse,
        length: &Size<Length>,
    ) -> Option<Slot> {
        let (form, across, high, at) = match head {
            Some(h) => {
                let form = match h.form {
                    HeadForm::Hexagon => return None,
                    HeadForm::Cheese => Form::Cheese,
                    HeadForm::Domed => Form::Dome,
                    HeadForm::Countersunk => Form::Countersunk,
                };
                (form, h.diameter.nominal, h.height.nominal, h.at.clone())
            }
            None => {
                let (across, high) = self.grub(n, thread, length.nominal);
                (Form::Cheese, across, high, n.at.clone())
            }
        };
        let (width, depth) = self.usual_slot_of(n, form, across, high);
        Some(Slot { width, depth, at })
    }
    fn head(&mut self, n: &Node) -> Option<Head> {
        let form = match n.word("form")? {
            "countersunk" => HeadForm::Countersunk,
            "domed" => HeadForm::Domed,
            "hexagon" => HeadForm::Hexagon,
            _ => HeadForm::Cheese,
        };
        let diameter = n.diameter_size("diameter");
        let angle = if form == HeadForm::Countersunk {
            match n.angle("angle") {
                None if !n.has("angle") => {
                    Some(self.follows(n, "angle", Angle::deg(90.0), "the usual angle of a countersunk head"))
                }
                written => written,
            }
        } else {
            self.idle(n, "angle", "only a countersunk head has a cone");
            None
        };
        let dome = if form == HeadForm::Domed {
            match (n.length("dome"), diameter.as_ref()) {
                (None, Some(d)) if !n.has("dome") => {
                    let why = "a dome with a radius of the head's diameter";
                    Some(self.follows(n, "dome", d.nominal.bare().across(), why))
                }
                (written, _) => written,
            }
        } else {
            self.idle(n, "dome", "only a domed head has a dome");
            None
        };
        Some(Head {
            form,
            diameter: diameter?,
            height: n.length_size("height")?,
            angle,
            dome,
            chamfer: n.length("chamfer"),
            at: n.at.clone(),
        })
    }
    fn stud(&mut self, n: &Node) -> Option<Stud> {
        let common = self.common(n);
        let first = n.table("first").and_then(|e| self.stud_end(e));
        let other = match n.table("other") {
            Some(e) => self.stud_end(e),
            None if n.has("other") => None,
            None => first.clone().inspect(|_| {
                let same = "the same as the first end".to_owned();
                self.follows(n, "other", same, "one end was written");
            }),
        };
        Some(Stud {
            common: common?,
            length: n.length_size("length")?,
            first: first?,
            other: other?,
            plain: n.diameter_size("plain"),
            point: point(n)?,
        })
    }
    fn stud_end(&mut self, n: &Node) -> Option<(ThreadUse, Val<Length>)> {
        let thread = self.thread(n, "thread", false);
        Some((thread?, n.length("length")?))
    }
    fn washer(&mut self, n: &Node) -> Option<Washer> {
        let relief = n.table("relief").and_then(|r| {
            Some(Relief {
                diameter: r.diameter("diameter")?,
                depth: r.length("depth")?,
                face: face(r)?,
                at: r.at.clone(),
            })
        });
        Some(Washer {
            common: self.common(n)?,
            outside: n.diameter_size("outside")?,
            hole: n.diameter_size("hole")?,
            thickness: n.length_size("thickness")?,
            face_grooves: grooves(n),
            relief,
            chamfer: n.length("chamfer"),
        })
    }
    /// An end of a pillar or the fixing of a foot: one of three.
    fn end(&mut self, n: &Node) -> Option<PillarEnd> {
        let written: Vec<&str> = ["spigot", "thread", "tapped"].into_iter().filter(|k| n.has(k)).collect();
        match written.as_slice() {
            ["spigot"] => {
                self.idle(n, "depth", "a spigot has a length");
                self.idle(n, "class", "a plain spigot has no thread");
                self.need(n, "length", "a spigot stands out by its length")?;
                Some(PillarEnd::Spigot { diameter: n.diameter_size("spigot")?, length: n.length("length")? })
            }
            ["thread"] => {
                self.idle(n, "depth", "a threaded spigot has a length");
                let thread = self.thread(n, "thread", false);
                self.need(n, "length", "a threaded spigot stands out by its length")?;
                Some(PillarEnd::Threaded { thread: thread?, length: n.length("length")? })
            }
            ["tapped"] => {
                self.idle(n, "length", "a tapped hole has a depth");
                let thread = self.thread(n, "tapped", true);
                self.need(n, "depth", "a tapped hole has a depth of full thread")?;
                Some(PillarEnd::Tapped { thread: thread?, depth: n.length("depth")? })
            }
            [] => {
                self.tell(
                    Trouble::text(format!("{} does not say what it is", n.subject))
                        .at(n.at.clone())
                        .cure("write one of spigot = \"6 mm\", thread = \"M4\" or tapped = \"M4\""),
                );
                None
            }
            several => {
                let mut t = Trouble::text(format!("{} is said to be {}", n.subject, several.join(" and ")));
                for k in several {
                    t = t.at(n.place(k));
                }
                self.tell(t.why("it is one of them").cure("leave the others out"));
                None
            }
        }
    }
    /// Whether a key stands there; tells where it does not.
    fn need(&mut self, n: &Node, key: &str, because: &str) -> Option<()> {
        if !n.has(key) {
            self.lacks(n, key, because);
            return None;
        }
        Some(())
    }
    fn pillar(&mut self, n: &Node) -> Option<Pillar> {
        let common = self.common(n);
        let written = n.tables("ends").count();
        let ends: Vec<PillarEnd> = n.tables("ends").filter_map(|e| self.end(e)).collect();
        if written > 2 || (written == 0 && n.wrote("ends")) {
            self.tell(
                Trouble::text(format!("{} has {written} ends", n.subject))
                    .at(n.place("ends"))
                    .why("a pillar has two; one table stands for both")
                    .cure("write one or two of them"),
            );
            return None;
        }
        if ends.len() != written {
            return None;
        }
        let (first, other) = match ends.as_slice() {
            [both] => (both.clone(), both.clone()),
            [first, other] => (first.clone(), other.clone()),
            _ => return None,
        };
        Some(Pillar {
            common: common?,
            length: n.length_size("length")?,
            diameter: n.diameter_size("diameter")?,
            waist: round(n.table("waist"), "length"),
            ends: [first, other],
        })
    }
    fn foot(&mut self, n: &Node) -> Option<Foot> {
        let common = self.common(n);
        let fixing = n.table("fixing").and_then(|e| self.end(e));
        Some(Foot {
            common: common?,
            diameter: n.diameter_size("diameter")?,
            height: n.length_size("height")?,
            top: n.diameter("top"),
            fixing: fixing?,
        })
    }
    fn bush(&mut self, n: &Node) -> Option<Bush> {
        Some(Bush {
            common: self.common(n)?,
            outside: n.diameter_size("outside")?,
            bore: n.diameter_size("bore")?,
            length: n.length_size("length")?,
            flange: round(n.table("flange"), "thickness"),
            oil_sink: round(n.table("oil_sink"), "depth"),
        })
    }
    fn collet(&mut self, n: &Node) -> Option<Collet> {
        let seat = n.table("seat").and_then(|s| Some((s.diameter_size("diameter")?, s.length("length")?)));
        Some(Collet {
            common: self.common(n)?,
            diameter: n.diameter_size("diameter")?,
            length: n.length_size("length")?,
            bore: n.diameter_size("bore")?,
            seat: seat?,
        })
    }
    fn turned(&mut self, n: &Node) -> Option<TurnedFacts> {
        let common = self.common(n);
        let written = n.tables("sections").count();
        let sections: Vec<Section> = n.tables("sections").filter_map(|s| self.section(s)).collect();
        if written == 0 && n.wrote("sections") {
            self.tell(
                Trouble::text(format!("{} has no sections", n.subject))
                    .at(n.place("sections"))
                    .cure("write at least one: { length = \"12 mm\", diameter = \"8 mm\" }"),
            );
            return None;
        }
        let bores = n.tables("bores").filter_map(|x| self.bored(x)).collect();
        let cross = n.tables("cross_holes");
        let cross_holes =
            cross.filter_map(|c| Some((c.length("at")?, c.diameter("diameter")?, c.at.clone())));
        if sections.len() != written {
            return None;
        }
        Some(TurnedFacts {
            common: common?,
            sections,
            bores,
            slot: n.table("slot").and_then(slot),
            face_grooves: grooves(n),
            cross_holes: cross_holes.collect(),
        })
    }
    fn section(&mut self, n: &Node) -> Option<Section> {
        let thread = self.thread(n, "thread", false);
        let arc = match n.length("arc") {
            None => {
                if !n.has("arc") {
                    self.idle(n, "bend", "without an arc nothing bends");
                }
                None
            }
            Some(radius) => {
                let bend = match n.word("bend") {
                    Some("hollow") => Bend::Hollow,
                    Some(_) => Bend::Round,
                    None => {
                        if !n.has("bend") {
                            self.follows(
                                n,
                                "bend",
                                "round".to_owned(),
                                "an arc bulges outward unless it says otherwise",
                            );
                        }
                        Bend::Round
                    }
                };
                Some((radius, bend))
            }
        };
        Some(Section {
            length: n.length("length")?,
            diameter: n.diameter_size("diameter")?,
            to: n.diameter("to"),
            arc,
            thread,
            knurl: n.length("knurl"),
            chamfer: n.length("chamfer"),
            at: n.at.clone(),
        })
    }
    fn bored(&mut self, n: &Node) -> Option<Bore> {
        let thread = self.thread(n, "thread", true);
        let diameter = self.bore(n, thread.as_ref())?;
        Some(Bore {
            from: if n.word("from")? == "other" { End::Other } else { End::First },
            diameter,
            depth: n.length("depth"),
            thread,
            at: n.at.clone(),
        })
    }
    fn flat(&mut self, n: &Node) -> Option<FlatFacts> {
        let common = self.common(n);
        let written = n.tables("outline").count();
        let mut outline: Vec<Stretch> = n.tables("outline").filter_map(|s| self.stretch(s)).collect();
        let lettered = n.tables("holes").enumerate();
        let holes: Vec<Option<Hole>> = lettered.map(|(i, h)| self.hole(h, i)).collect();
        if outline.len() != written {
            return None;
        }
        let start = point_of(n, "start")?;
        if let Some(last) = outline.last()
            && last.to != start
        {
            outline.push(Stretch { to: start, arc: None, at: n.place("outline") });
        }
        Some(FlatFacts {
            common: common?,
            thickness: n.length_size("thickness")?,
            start,
            outline,
            holes: holes.into_iter().flatten().collect(),
        })
    }
    fn stretch(&mut self, n: &Node) -> Option<Stretch> {
        let arc = match n.length("arc") {
            None => {
                if !n.has("arc") {
                    self.idle(n, "turn", "without an arc nothing turns");
                }
                None
            }
            Some(radius) => {
                let left = match n.word("turn") {
                    Some(word) => word == "left",
                    None => {
                        if !n.has("turn") {
                            self.follows(
                                n,
                                "turn",
                                "left".to_owned(),
                                "an arc goes anticlockwise unless it says otherwise",
                            );
                        }
                        true
                    }
                };
                Some((radius, left))
            }
        };
        Some(Stretch { to: point_of(n, "to")?, arc, at: n.at.clone() })
    }
    fn hole(&mut self, n: &Node, number: usize) -> Option<Hole> {
        let thread = self.thread(n, "thread", true);
        let diameter = self.bore(n, thread.as_ref());
        let label = n.text("label").unwrap_or_else(|| letter(number));
        let countersink =
            n.table("countersink").and_then(|c| Some((c.angle("angle")?, c.diameter("diameter")?)));
        Some(Hole {
            label,
            centre: point_of(n, "at")?,
            diameter: diameter?,
            thread,
            countersink,
            at: n.at.clone(),
        })
    }
}
/// A, B, … Z, AA, AB, …
fn letter(number: usize) -> String {
    let mut text = String::new();
    let mut n = number + 1;
    while n > 0 {
        n -= 1;
        let at = u8::try_from(n % 26).unwrap_or(0);
        text.insert(0, char::from(b'A' + at));
        n /= 26;
    }
    text
}

#[cfg(test)]
mod tests {
    #[test]
    fn holes_are_lettered_as_columns_are() {
        assert_eq!([0, 25, 26, 701, 702].map(super::letter), ["A", "Z", "AA", "ZZ", "AAA"]);
    }
}
