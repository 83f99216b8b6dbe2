//! A flat part whose outside is round: sawn square, bored, turned on its bore or on wax, toothed, crossed out.

use super::bench::found;
use super::drills::drill_for;
use super::flat::{holes, sheet};
use super::hole::seen;
use super::sheet::Share;
use super::{
    Caution, Check, Figure, Held, Operation, PartPlan, SetUp, ShopTool, Spread, teeth, time, turned,
};
use crate::kernel::speed::{self, Kind};
use movement::part::{FlatBody, Part};
use reckon::source::GEOMETRY;
use reckon::{Alternative, Book, Diameter, Length, Source, Trouble, Val, judge, work};
use record::facts::{HoldKind, Lathe, Shop, Size};

/// How thin discs are held.
pub static HELD: Source = Source::practice(
    "a disc up to some ten times its bore turns on a mandrel between washers; a larger one is stuck to a flat wax chuck",
);
/// Clamped between flange and washer.
pub static CLAMPED: Source =
    Source::derived("dished flange and washer bear near their rim, at 0.9 of its radius: friction on both faces, brass on steel 0.15")
        .with_formula("M = 2 μ N r");
/// Bores of outside up to which a mandrel serves.
const BORES: f64 = 10.0;

/// Where and with what the planner works.
struct Round<'a> {
    body: &'a FlatBody,
    shop: &'a Shop,
    slug: String,
    metal: super::bench::MetalFacts,
    size: Size<Diameter>,
}

/// Plans a round flat part.
///
/// # Errors
/// A trouble when the tables lack its metal.
#[expect(clippy::too_many_arguments, reason = "as the plan of any flat part, and its outside")]
pub fn plan(
    index: usize,
    part: &Part,
    body: &FlatBody,
    size: Size<Diameter>,
    shop: &Shop,
    book: &mut Book,
    tools: &mut Vec<ShopTool>,
    jigs: &mut super::jig::Jigs,
    share: &Share,
) -> Result<PartPlan, Box<Trouble>> {
    let metal = super::bench::metal(part, book)?;
    let r = Round { body, shop, slug: part.slug().to_owned(), metal, size };
    let batch = super::batch::batch(part, book);
    let inputs = vec![body.thickness.nominal.id(), body.extent.0.id()];
    super::bench::weigh(
        part,
        book,
        body.solid.volume(),
        "area of the outline less its holes, times the thickness",
        inputs,
    );
    let stock = sheet(index, part, body, shop, book, &batch, share);
    let thin = share.of(index).is_some_and(|(_, thin)| thin);
    let mut waits_for = Vec::new();
    let mut setups = vec![r.blank(book)];
    let turned_on = r.turn(book, thin);
    let kept = turned_on.as_ref().is_some_and(|(_, wax)| !wax);
    setups.extend(turned_on.map(|(s, _)| s));
    if let Some(t) = &body.teeth {
        let job = teeth::Job { part, shop, metal, leaves: false, outline: &body.solid.outline };
        let cut = teeth::cut(&job, t, book, tools, &mut waits_for);
        setups.push(SetUp {
            title: format!("{} cut", t.what),
            machine: teeth::machine(shop),
            held: Held {
                by: carried(kept).0.to_owned(),
                lines: vec![carried(kept).1.to_owned()],
                deepest: None,
                overhang: None,
            },
            operations: cut,
            time: Spread::minutes(10.0, 20.0, 40.0),
        });
    }
    let (mut cleaned, mounted) = r.finish(book);
    if let Some(op) = cleaned.iter_mut().find(|o| o.title == "Cross out") {
        let mut asking = super::jig::Asking { jigs, shop, part, book };
        let at = format!("{}.crossing_out.template", r.slug);
        if let Some(named) = super::jig::window::template(&mut asking, body, &at) {
            op.lines.splice(..0, super::jig::window::lines(&named));
        }
    }
    setups.push(turned::at_bench("crossed out, deburred", "bench pin, soft jaws", cleaned, 5.0));
    if let Some(mounted) = mounted {
        setups.push(turned::at_bench("on its seat", "staking block, truing calipers", vec![mounted], 5.0));
    }
    let finish =
        super::finish::wanted::wanted(part, shop, false, book).append(part, shop, book, &mut setups)?;
    let total = time::of_setups(book, &r.slug, &setups, batch.total.bare());
    Ok(PartPlan { part: index, batch, stock, setups, finish, waits_for, time: total })
}
impl Round<'_> {
    /// The hole on its axis.
    fn bore(&self) -> Option<&record::facts::Hole> {
        let middle = |v: Val<Length>, d: Val<Length>, e: Val<Length>| {
            (v.bare() - d.bare() - e.bare() / 2.0).abs() < Length::mm(1e-4)
        };
        let (w, h) = self.body.extent;
        let (x, y) = self.body.datum;
        self.body
            .holes
            .iter()
            .find(|k| k.thread.is_none() && middle(k.centre.0, x, w) && middle(k.centre.1, y, h))
    }
    /// A bore for which there is no drill or reamer near is drilled smaller and bored in the lathe.
    fn bored(&self, one: &record::facts::Hole) -> Option<String> {
        let size = one.diameter.nominal.bare();
        let drills = &self.shop.drills;
        let reamed = drills.reamers.iter().any(|r| (r.bare() - size).abs() < Length::mm(0.005));
        let top = if reamed { size - Length::mm(0.1) } else { size + Length::mm(0.05) };
        let near = |d: &Val<Diameter>| d.bare() <= top && d.bare() + Length::mm(0.5) >= top;
        if drills.sizes.iter().any(|(_, d)| near(d)) || self.shop.lathes.is_empty() {
            return None;
        }
        let entered = |c: &record::facts::Cutter| {
            c.of == record::facts::CutterUse::Boring
                && c.made
                && c.size.is_some_and(|s| s.bare().as_diameter() <= size)
        };
        let tool = self.shop.cutters.iter().find(|c| entered(c))?;
        let under = drills
            .sizes
            .iter()
            .filter(|(_, d)| d.bare() < top)
            .max_by(|a, b| a.1.bare().value().total_cmp(&b.1.bare().value()))?;
        let last = if reamed { "to 0.1 to 0.2 mm under, then reamed" } else { "to size" };
        Some(format!(
            "Drill {}; then bored {last} in the lathe with the {}, stuck flat on wax or clamped to a flat plate.",
            under.0, tool.name
        ))
    }
    fn blank(&self, book: &mut Book) -> SetUp {
        let d = self.size.nominal;
        let mut operations = vec![Operation {
            title: "Saw the blank".to_owned(),
            lines: vec![
                "Square first, its middle pricked where the diagonals cross and a circle scribed.".to_owned(),
                "Saw the corners off and round to a millimetre outside the circle, so that it swings."
                    .to_owned(),
            ],
            tool: Some("piercing saw or band saw, dividers".to_owned()),
            figures: vec![Figure::of("circle to be turned", &d)],
            cautions: if self.metal.leaded {
                vec![Caution::Sawing, Caution::Lead]
            } else {
                vec![Caution::Sawing]
            },
            time: Spread::minutes(8.0, 15.0, 30.0),
            does: vec!["rough turn"],
            ..Operation::default()
        }];
        match (self.body.holes.as_slice(), self.bore()) {
            ([one], Some(_)) => {
                let at = format!("{}.hole.{}", self.slug, reckon::slug(&one.label));
                let way = match self.bored(one) {
                    Some(way) => way,
                    None => {
                        let way = drill_for(one, (self.shop, self.metal.metal), book, &at);
                        format!("Drill {}, then {}.", way.drills(), way.then)
                    }
                };
                operations.push(Operation {
                    title: "Drill the bore".to_owned(),
                    lines: vec![
                        "Clamped flat on waste, spotted on the prick, drilled square to the face at one setting.".to_owned(),
                        way,
                    ],
                    tool: Some("spotting drill, drill, reamer or broach".to_owned()),
                    figures: vec![Figure::of("bore", &one.diameter.nominal)],
                    checks: vec![Check {
                        what: "bore".to_owned(),
                        limits: Some((
                            one.diameter.nominal.bare().across() + one.diameter.upper.bare(),
                            one.diameter.nominal.bare().across() + one.diameter.lower.bare(),
                        )),
                        seen: None,
                        id: Some(one.diameter.nominal.id()),
                    }],
                    cautions: vec![Caution::DrillingSheet],
                    time: Spread::minutes(4.0, 8.0, 15.0),
                    does: vec!["drill"],
        ..Operation::default()
                });
            }
            _ => operations.extend(holes(self.body, self.shop, book, &self.slug, self.metal)),
        }
        SetUp {
            title: "blank and bore".to_owned(),
            machine: self.shop.mills.first().map_or("bench, drill".to_owned(), |m| m.name.clone()),
            held: Held {
                by: "clamped on a flat board".to_owned(),
                lines: Vec::new(),
                deepest: None,
                overhang: None,
            },
            operations,
            time: Spread::around(8.0),
        }
    }
    /// The first lathe over whose slide the sawn blank swings, and verdicts.
    fn lathe(&self, book: &mut Book) -> Option<&Lathe> {
        let d = self.size.nominal;
        let over = book.assumed(
            format!("{}.turning.left", self.slug),
            Length::mm(1.0),
            "house default: left by the saw all round",
        );
        let rough = work!(book, format!("{}.turning.rough", self.slug), |d, over| d + over * 2.0, &GEOMETRY);
        let lathes = &self.shop.lathes;
        let lathe = lathes.iter().find(|l| rough.bare() <= l.swing_over_slide.bare()).or(lathes.first());
        let Some(lathe) = lathe else {
            let v = found(
                book,
                (format!("{}.turning.lathe", self.slug), "the shop has a lathe to turn its outside"),
                0,
                "lathes of the shop",
            );
            book.cure(v.id(), "file it round on a mandrel turned by hand, or have the blank turned");
            return None;
        };
        let swing = lathe.swing_over_slide;
        let swings = judge!(
            book,
            format!("{}.turning.swings", self.slug),
            format!("the sawn blank swings over the cross slide of the {}", lathe.name),
            |rough, swing| rough <= swing,
            &GEOMETRY
        );
        let short = rough.bare() - swing.bare();
        book.cure(
            swings.id(),
            format!("saw and file closer: it is too large by {}", reckon::Shown::shown(&short)),
        );
        let name = format!("{}.turning.swings", self.slug);
        super::fits::machine::swing(self.shop, lathe, &name, &swings, rough, book);
        Some(lathe)
    }
    /// How it is held on the lathe: in words, whether on wax.
    fn hold(&self, lathe: &Lathe, book: &mut Book) -> (String, bool) {
        let d = self.size.nominal;
        let bore = self.bore().map(|h| h.diameter.nominal);
        let mut among: Vec<(String, Option<bool>, String)> = Vec::new();
        let mandrel = lathe.holdings.iter().find(|h| matches!(h.kind, HoldKind::Mandrel | HoldKind::Centres));
        let flanged =
            mandrel.zip(bore).zip(self.body.teeth.as_ref()).map(|((_, b), t)| self.flange(b, t, book));
        if let Some(m) = mandrel {
            let (fits, why) = match bore {
                Some(_) if flanged == Some(true) => (
                    true,
                    "turned for it with a flange nearly to the roots, and kept for the teeth: outside and teeth run true to one bore",
                ),
                Some(b) if d.bare().value() <= BORES * b.bare().value() => {
                    (true, "the outside runs true to the bore")
                }
                Some(_) => (false, "its bore is too small for so large a disc: it would chatter and slip"),
                None => (false, "it has no bore in its middle"),
            };
            among.push((m.name.clone(), fits.then_some(false), why.to_owned()));
        }
        for h in &lathe.holdings {
            match &h.kind {
                HoldKind::Wax { greatest } => {
                    let fits = d.bare() <= greatest.bare();
                    let why = format!("takes up to {}", greatest.shown());
                    among.push((h.name.clone(), fits.then_some(true), why));
                }
                HoldKind::Chuck { grips, .. } => {
                    let why = if d.bare() > grips.1.bare() {
                        format!(
                            "its jaws go to {} only, and would stand where the tool goes",
                            grips.1.shown()
                        )
                    } else {
                        "its jaws would stand where the tool goes".to_owned()
                    };
                    among.push((h.name.clone(), None, why));
                }
                _ => {}
            }
        }
        let pick = among.iter().position(|a| a.1.is_some());
        let verdict = found(
            book,
            (
                format!("{}.turning.held", self.slug),
                &format!("the {} holds a disc of this size by what leaves its edge free", lathe.name),
            ),
            usize::from(pick.is_some()),
            "ways of this lathe that leave the edge free",
        );
        book.cure(
            verdict.id(),
            "turn a flat chuck of waste brass as large as the roots and stick it on with shellac",
        );
        book.cure(
            verdict.id(),
            "make the bore larger, or turn a stepped mandrel with a broad shoulder and a nut",
        );
        let what = pick.map_or("a flat chuck to be made".to_owned(), |k| among[k].0.clone());
        let wax = pick.is_none_or(|k| among[k].1 == Some(true));
        let alternatives = among
            .into_iter()
            .enumerate()
            .map(|(k, (what, _, why))| Alternative { what, taken: pick == Some(k), why })
            .collect();
        let mut inputs = vec![d.id()];
        inputs.extend(bore.map(|b| b.id()));
        book.chosen(
            format!("{}.turning.on", self.slug),
            what.clone(),
            "a mandrel in the bore where it is stiff enough, else what holds by the face",
            alternatives,
            inputs,
            &HELD,
        );
        (what, wax)
    }
    /// Whether a mandrel with a broad flange and a nut drives a toothed disc against its cutter.
    fn flange(&self, bore: Val<Diameter>, t: &movement::part::Toothing, book: &mut Book) -> bool {
        let name = |tail: &str| format!("{}.mandrel.{tail}", self.slug);
        let (root, outside, depth) = (t.root, t.outside, t.depth);
        let flange = work!(
            book,
            name("flange"),
            |root, bore| (root - Length::mm(1.5)).min((root * 0.7).max(bore + Length::mm(6.0))),
            &HELD
        );
        let (kc11, mc) = (self.metal.kc11, self.metal.mc);
        let chip = book.assumed(
            name("chip"),
            Length::mm(0.006),
            "house default: thickest chip of a formed cutter fed by hand, 0.02 mm a tooth",
        );
        let push = work!(
            book,
            name("push"),
            |kc11, mc, chip, depth| crate::kernel::force::main(
                crate::kernel::force::specific(kc11, mc, chip),
                depth * 2.5,
                chip
            ),
            &teeth::FORMED
        );
        let nut = book.assumed(
            name("nut"),
            reckon::Force::si(1500.0),
            "house default: a nut of 5 mm done up with a short spanner",
        );
        let turn = work!(book, name("torque"), |push, outside| push * (outside.across() / 2.0), &CLAMPED);
        let holds =
            work!(book, name("holds"), |nut, flange| nut * (flange.across() * 0.45) * 0.15 * 2.0, &CLAMPED);
        turn.bare() * 2.0 <= holds.bare()
    }
    fn turn(&self, book: &mut Book, thin: bool) -> Option<(SetUp, bool)> {
        let lathe = self.lathe(book)?;
        let (by, wax) = self.hold(lathe, book);
        let d = self.size.nominal;
        let v = book.tabled(
            format!("{}.turning.surface_speed", self.slug),
            speed::start(self.metal.metal, Kind::Turning, false),
            format!("{}, turning", self.metal.metal.word()),
            &speed::START_SPEEDS,
        );
        let wanted =
            work!(book, format!("{}.turning.wanted", self.slug), |v, d| speed::turns(v, d), &speed::SURFACE);
        let speed = super::bench::chosen_speed(
            book,
            format!("{}.turning.speed", self.slug),
            wanted,
            &lathe.speeds,
            lathe.stepless,
        );
        let at = format!("{}.turning", self.slug);
        super::fits::machine::too_fast(self.shop, (&at, &lathe.name), wanted, speed, book);
        let feed = super::bench::feed(book, format!("{}.turning.feed", self.slug), lathe, 0.05);
        let mut cautions = vec![Caution::Turning];
        if wax {
            cautions.push(Caution::Wax);
        }
        let limits = |size: Length, upper: Length, lower: Length| Some((size + upper, size + lower));
        let t = &self.body.thickness;
        let mut operations = Vec::new();
        if thin {
            operations.push(Operation {
                title: "Thin to the thickness".to_owned(),
                lines: vec!["Stuck by one face, half of the surplus off; turned over, the other half: taken from one side only it bows.".to_owned()],
                tool: Some("sharp facing tool".to_owned()),
                speed: Some(speed),
                feed: Some(feed),
                figures: vec![Figure::of("thickness", &t.nominal)],
                checks: vec![Check {
                    what: "thickness".to_owned(),
                    limits: limits(t.nominal.bare(), t.upper.bare(), t.lower.bare()),
                    seen: None,
                    id: Some(t.nominal.id()),
                }],
                cautions: vec![Caution::Turning, Caution::Wax],
                time: Spread::minutes(15.0, 30.0, 60.0),
                does: vec!["form"],
        ..Operation::default()
            });
        }
        let toothed = self.body.teeth.is_some();
        operations.push(Operation {
            title: "Turn the outside".to_owned(),
            lines: vec![
                "Light cuts with a keen tool, inward from both faces, so that no burr lifts the edge."
                    .to_owned(),
                if toothed {
                    "Measure it where it will be cut and write it down: the depth of the teeth goes by it."
                        .to_owned()
                } else {
                    "Take the sharpness off both edges before it comes off.".to_owned()
                },
            ],
            tool: Some("knife tool".to_owned()),
            speed: Some(speed),
            feed: Some(feed),
            figures: vec![Figure::of("outside", &d)],
            checks: vec![Check {
                what: "outside".to_owned(),
                limits: limits(d.bare().across(), self.size.upper.bare(), self.size.lower.bare()),
                seen: None,
                id: Some(d.id()),
            }],
            cautions,
            time: Spread::minutes(8.0, 15.0, 30.0),
            does: vec!["form"],
            ..Operation::default()
        });
        let lines = if wax {
            vec![
                "Centred by a pin in the bore while the wax is soft; run true by the bore before turning."
                    .to_owned(),
            ]
        } else {
            self.mandrel_lines(book)
        };
        let setup = SetUp {
            title: "outside".to_owned(),
            machine: lathe.name.clone(),
            held: Held { by, lines, deepest: None, overhang: None },
            operations,
            time: Spread::minutes(10.0, 20.0, 40.0),
        };
        Some((setup, wax))
    }
    /// How the mandrel is made, with its flange.
    fn mandrel_lines(&self, book: &Book) -> Vec<String> {
        let flange = book
            .find(&format!("{}.mandrel.flange", self.slug))
            .map_or_else(String::new, |(_, l)| format!(", a flange of about {}", l.shown));
        vec![
            format!("Mandrel turned at this setting{flange}, its seat to a push fit in the bore and shorter than the blank is thick, face and washer dished by a hair so that they bear at the rim; nut. Where no bar is so large, the flange is a disc of sheet screwed to a shoulder and faced in place."),
            "Thin blanks of one kind are stacked on it, turned and cut as one. It stays with the blank to the teeth; if it has to leave the lathe, its shank was turned at the same setting as its seat. Should it ever slip under the cutter: paper on both faces, or a pin through flange and blank where a window will be.".to_owned(),
        ]
    }
    /// What is done when it is round and toothed.
    fn finish(&self, book: &mut Book) -> (Vec<Operation>, Option<Operation>) {
        let deburr = Operation {
            title: "Deburr".to_owned(),
            lines: vec!["Face down on fine paper on glass, turned a little each stroke; then a brass brush through what was cut.".to_owned()],
            tool: Some("fine paper on glass, brush".to_owned()),
            checks: vec![seen("faces", "flat, no wire edge under the nail")],
            does: vec!["deburr"],
            time: Spread::minutes(3.0, 6.0, 12.0),
            ..Operation::default()
        };
        let mut out: Vec<Operation> =
            teeth::crossing::cross_out(self.body, self.shop, &self.slug, self.metal.leaded, book)
                .into_iter()
                .collect();
        if self.body.holes.iter().any(|h| h.label == "P1") {
            out.push(pins());
        }
        out.push(deburr);
        let mounted = (self.body.teeth.is_some() && self.body.holes.len() == 1).then(|| Operation {
                title: "Mount and true".to_owned(),
                lines: vec!["On its seat, pressed home square; spun between centres, face and edge trued by light taps before it is made fast.".to_owned()],
                tool: Some("truing calipers or centres, indicator".to_owned()),
                checks: vec![seen("run", "edge within 0.03 mm, face within 0.05 mm")],
                does: vec!["dry assembly"],
                time: Spread::minutes(6.0, 12.0, 25.0),
                ..Operation::default()
            });
        (out, mounted)
    }
}
/// Pins of a pin wheel.
fn pins() -> Operation {
    Operation {
        title: "Pins".to_owned(),
        lines: vec![
            "All pins polished and of one length first. Each hole opened with a broach from the back until a pin goes half through by hand.".to_owned(),
            "Wheel face down on a block with a hole under each pin in turn, drilled to the length that stands out: tap the pin home on it, so that all stand out alike; two light blows of a round punch spread its back.".to_owned(),
            "Stone the backs flush; never turn or file the working side.".to_owned(),
        ],
        tool: Some("drilled block, light hammer, round punch".to_owned()),
        checks: vec![
            seen("pins", "square to the wheel, against a small square from two sides; none turns under the tweezers"),
            seen("spacing", "from pin to pin alike under the glass against a strip with two marks"),
        ],
        does: vec!["rivet"],
        time: Spread::minutes(20.0, 40.0, 80.0),
        ..Operation::default()
    }
}
/// On what it goes to the dividing head: the mandrel that it was turned on, or one into which it is trued.
const fn carried(kept: bool) -> (&'static str, &'static str) {
    if kept {
        (
            "still on the mandrel that its outside was turned on, that one's shank in the head's collet",
            "Never taken off in between: outside, roots and bore are then true to one axis. A disc of waste brass behind it against the burr, nut tight; shank and rim tried with an indicator, within 0.01 mm, before the first cut.",
        )
    } else {
        (
            "on a mandrel in its bore in the dividing head, a disc of waste brass behind it",
            "It was not turned on this mandrel: true it by an indicator on the outside, within 0.01 mm, before the nut is tight and after. Washers nearly as large as the roots.",
        )
    }
}
