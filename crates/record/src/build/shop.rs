//! The facts of a shop.

use super::Build;
use super::control::{control, strange};
use super::parts::style;
use crate::facts::*;
use crate::read::node::{
    Node, Value, a_count, a_diameter, a_length, a_text, a_thread, a_tool, a_turning, an_angle, pair,
};
use reckon::print::DialSense;
use reckon::{AngularSpeed, Book, Count, Length, Trouble, Val, slug};

/// The facts of `shop.toml`, as far as they can be had, and what is wrong.
pub(crate) fn shop(node: &Node, book: &mut Book) -> (Shop, Vec<Trouble>) {
    let mut b = Build::new(book);
    let place = node.table("shop");
    let facts = Shop {
        name: place.and_then(|p| p.text("name")).unwrap_or_default(),
        was: place.and_then(|p| p.text("was")),
        print: place.and_then(|p| p.word("print")).map(style),
        latitude: place.and_then(|p| p.angle("latitude")),
        altitude: place.and_then(|p| p.length("altitude")),
        temperature: place.and_then(|p| p.temperature("temperature")),
        lathes: node.tables("lathe").filter_map(|n| b.lathe(n)).collect(),
        mills: node.tables("mill").filter_map(|n| b.mill(n)).collect(),
        dividing: node.table("dividing").and_then(dividing),
        drills: node.table("drills").map(drills).unwrap_or_default(),
        taps: node.table("threads").map(|t| t.all("taps", a_thread)).unwrap_or_default(),
        dies: node.table("threads").map(|t| t.all("dies", a_thread)).unwrap_or_default(),
        cutters: node.tables("cutter").filter_map(|n| b.cutter(n)).collect(),
        stock: node.tables("stock").filter_map(|n| b.stock(n)).collect(),
        grinder: node.table("grinder").map(|g| Grinder {
            jigs: g.all("jigs", an_angle),
            wheel: g.diameter("wheel"),
            at: g.at.clone(),
        }),
        fire: node.table("fire").map(fire).unwrap_or_default(),
        polish: node
            .table("polish")
            .map(|p| Polish {
                grits: p.all("grits", a_length),
                laps: p.all("laps", a_text),
                wash: p.all("wash", a_text),
            })
            .unwrap_or_default(),
        measures: node.tables("measure").filter_map(measure).collect(),
    };
    (facts, b.troubles)
}
fn dividing(n: &Node) -> Option<DividingHead> {
    let plates = n.list("plates").iter().map(|p| match &p.value {
        Value::List(circles) => circles.iter().filter_map(|c| a_count(&c.value)).collect(),
        _ => Vec::new(),
    });
    Some(DividingHead {
        ratio: n.count("ratio")?,
        plates: plates.collect(),
        centre_height: n.length("centre_height")?,
        greatest: n.diameter("greatest")?,
        true_to: n.angle("true_to"),
        at: n.at.clone(),
    })
}
fn drills(n: &Node) -> Drills {
    let named = |v: &Value| match v {
        Value::Tool(size, name) => Some((name.clone(), *size)),
        _ => None,
    };
    let broach = |v: &Value| match v {
        Value::List(two) => pair(two, a_diameter),
        _ => None,
    };
    Drills {
        sizes: n.all("sizes", named),
        flute: n.ratio("flute"),
        long: n.tables("long").filter_map(|l| Some((l.tool("size")?.0, l.length("reach")?))).collect(),
        spotting: n.all("spotting", a_tool),
        reamers: n.all("reamers", a_tool),
        broaches: n.all("broaches", broach),
    }
}
fn fire(n: &Node) -> Fire {
    Fire {
        heat_with: n.text("heat_with"),
        quench: n.all("quench", a_text),
        oven: n.table("oven").and_then(|o| Some((o.temperature("greatest")?, o.difference("steady_to")?))),
        thermometer: n.difference("thermometer"),
        coupons: n.tables("coupon").filter_map(coupon).collect(),
    }
}
fn coupon(n: &Node) -> Option<Coupon> {
    let written = n.text("steel")?;
    Some(Coupon {
        steel: tables::material::find(&written).map_or(written.clone(), |m| m.name.clone()),
        temperature: n.temperature("temperature")?,
        time: n.time("time")?,
        hardness: n.ratio("hardness"),
        colour: n.word("colour").map(str::to_owned),
        at: n.at.clone(),
    })
}
fn measure(n: &Node) -> Option<Measure> {
    Some(Measure {
        name: n.text("name")?,
        range: n.pair("range", a_length)?,
        give_or_take: n.length("give_or_take")?,
    })
}
fn dial(n: Option<&Node>) -> Option<DialFacts> {
    let n = n?;
    Some(DialFacts {
        division: n.length("division")?,
        one_turn: n.length("one_turn")?,
        shows: if n.word("shows")? == "diameter" { DialSense::Diameter } else { DialSense::Travel },
        backlash: n.length("backlash")?,
    })
}
impl Build<'_> {
    /// Speeds low to high; tells where there is none or the order is another.
    fn speeds(&mut self, n: &Node) -> Vec<Val<AngularSpeed>> {
        let speeds = n.all("speeds", a_turning);
        if n.wrote("speeds") && n.list("speeds").is_empty() {
            self.tell(
                Trouble::shop(format!("{} has no speeds", n.subject))
                    .at(n.place("speeds"))
                    .cure("list them low to high: speeds = { rpm = [60, 110, 190] }"),
            );
        }
        self.rising(n, "speeds", &speeds.iter().map(|s| s.bare().value()).collect::<Vec<_>>());
        speeds
    }
    fn rising(&mut self, n: &Node, key: &str, all: &[f64]) {
        if all.windows(2).any(|w| w[0] >= w[1]) {
            self.tell(
                Trouble::shop(format!("'{key}' of {} do not rise", n.subject))
                    .at(n.place(key))
                    .why("machines are stepped through low to high")
                    .cure("list them low to high, each once"),
            );
        }
    }
    fn lathe(&mut self, n: &Node) -> Option<Lathe> {
        let speeds = self.speeds(n);
        let feeds = n.all("feeds", a_length);
        self.rising(n, "feeds", &feeds.iter().map(|f| f.bare().value()).collect::<Vec<_>>());
        let screwcutting = n.table("screwcutting").and_then(|s| self.screwcutting(s));
        if let Some(c) = n.table("control") {
            let words = c.all("words", a_text);
            for t in strange(c, &words, &n.subject) {
                self.tell(t);
            }
        }
        let holdings = n.tables("hold").filter_map(|h| self.holding(h)).collect();
        Some(Lathe {
            name: n.text("name")?,
            slug: bare_slug(n),
            swing: n.diameter("swing")?,
            swing_over_slide: n.diameter("swing_over_slide")?,
            between_centres: n.length("between_centres")?,
            spindle_bore: n.diameter("spindle_bore")?,
            headstock: n.length("headstock")?,
            motor: n.power("motor")?,
            drive: n.ratio("drive")?,
            speeds,
            stepless: n.flag("stepless")?,
            feeds,
            cross_slide: dial(n.table("cross_slide")),
            long_slide: dial(n.table("long_slide")),
            cross_travel: n.length("cross_travel")?,
            top_travel: n.length("top_travel")?,
            tailstock_travel: n.length("tailstock_travel")?,
            tailstock_chuck: n.pair("tailstock_chuck", a_diameter)?,
            tool_height: n.length("tool_height")?,
            holds: n.length("holds")?,
            screwcutting,
            control: control(n.table("control")),
            holdings,
            at: n.at.clone(),
        })
    }
    fn screwcutting(&mut self, n: &Node) -> Option<Screwcutting> {
        let electronic = n.flag("electronic")?;
        if !electronic {
            if !n.has("leadscrew") {
                self.lacks(n, "leadscrew", "change wheels drive a leadscrew; or say electronic = true");
            }
            if !n.has("wheels") {
                self.lacks(n, "wheels", "a thread is had by choosing wheels; or say electronic = true");
            }
        }
        Some(Screwcutting {
            leadscrew: n.length("leadscrew"),
            wheels: n.all("wheels", a_count),
            pitches: n.pair("pitches", a_length)?,
            fastest: n.turning("fastest")?,
            carriage: n.speed("carriage")?,
            electronic,
            run_in: n.length("run_in"),
            at: n.at.clone(),
        })
    }
    fn holding(&mut self, n: &Node) -> Option<Holding> {
        let kind = n.word("kind")?;
        let (used, called): (&[&str], &str) = match kind {
            "chuck" => (&["jaws", "grips", "jaw_length", "soft", "total_grip"], "a chuck"),
            "collet" => (&["sizes", "range", "grip_length", "total_grip"], "collets"),
            "wax" => (&["greatest"], "a wax chuck"),
            "faceplate" => (&["greatest"], "a faceplate"),
            "steady" => (&["grips"], "a fixed steady"),
            "centres" => (&[], "work between centres"),
            _ => (&[], "a mandrel"),
        };
        for key in n.section.keys().map(|k| k.name) {
            if !used.contains(&key) && key != "kind" && key != "name" {
                self.idle(n, key, &format!("it says nothing about {called}"));
            }
        }
        let optional = ["jaws", "soft", "range"];
        let mut whole = true;
        for key in used.iter().filter(|k| !optional.contains(k)) {
            if !n.has(key) {
                self.lacks(n, key, &format!("nothing can be planned on {called} without it"));
                whole = false;
            }
        }
        if !whole {
            return None;
        }
        let mut jaws_called = None;
        let held = match kind {
            "chuck" => {
                let jaws = match n.count("jaws") {
                    Some(jaws) => jaws,
                    None => {
                        self.follows(n, "jaws", Count(3), "a chuck has three jaws unless it says otherwise")
                    }
                };
                jaws_called = Some(jaws.bare().0);
                HoldKind::Chuck {
                    jaws,
                    grips: n.pair("grips", a_diameter)?,
                    jaw_length: n.length("jaw_length")?,
                    total_grip: n.force("total_grip")?,
                    soft: n.flag("soft").unwrap_or(false),
                }
            }
            "collet" => HoldKind::Collet {
                sizes: n.all("sizes", a_diameter),
                range: match n.length("range") {
                    Some(range) => range,
                    None => self.follows(
                        n,
                        "range",
                        Length::mm(0.1),
                        "a spring collet grips a tenth under its size",
                    ),
                },
                grip_length: n.length("grip_length")?,
                total_grip: n.force("total_grip")?,
            },
            "wax" => HoldKind::Wax { greatest: n.diameter("greatest")? },
            "faceplate" => HoldKind::Faceplate { greatest: n.diameter("greatest")? },
            "steady" => HoldKind::Steady { grips: n.pair("grips", a_diameter)? },
            "centres" => HoldKind::Centres,
            _ => HoldKind::Mandrel,
        };
        let usual = match jaws_called {
            Some(2) => "two jaw chuck".to_owned(),
            Some(3) => "three jaw chuck".to_owned(),
            Some(4) => "four jaw chuck".to_owned(),
            Some(n) => format!("{n} jaw chuck"),
            None => match kind {
                "wax" => "wax chuck".to_owned(),
                "steady" => "fixed steady".to_owned(),
                "centres" => "between centres".to_owned(),
                other => other.to_owned(),
            },
        };
        Some(Holding { kind: held, name: n.text("name").unwrap_or(usual), at: n.at.clone() })
    }
    fn mill(&mut self, n: &Node) -> Option<Mill> {
        let speeds = self.speeds(n);
        let travel = n.all("travel", a_length);
        let [x, y, z] = *travel.as_slice() else { return None };
        let daylight = match n.length("daylight") {
            Some(d) => d,
            None if n.has("daylight") => return None,
            None => self.follows(n, "daylight", z.bare(), "no more than its travel along z was written"),
        };
        let vice = n
            .table("vice")
            .and_then(|v| Some([v.length("opening")?, v.length("bed_height")?, v.length("jaw_height")?]));
        let words = n.all("words", a_text);
        for t in strange(n, &words, &n.subject) {
            self.tell(t);
        }
        if n.wrote("control") && !n.has("words") {
            self.lacks(n, "words", "a control is known by the words that it knows");
        }
        Some(Mill {
            name: n.text("name")?,
            slug: bare_slug(n),
            travel: [x, y, z],
            daylight,
            quill: n.length("quill"),
            speeds,
            stepless: n.flag("stepless")?,
            chuck_length: n.length("chuck_length"),
            collet_length: n.length("collet_length"),
            cutter_bore: n.diameter("cutter_bore"),
            vice,
            dial: dial(n.table("dial")),
            words,
            fastest_feed: n.speed("fastest_feed"),
            control: control(n.table("control")),
            at: n.at.clone(),
        })
    }
    fn cutter(&mut self, n: &Node) -> Option<Cutter> {
        let written = n.word("for")?;
        let of = match written {
            "turning" => CutterUse::Turning,
            "parting" => CutterUse::Parting,
            "threading" => CutterUse::Threading,
            "face groove" => CutterUse::FaceGroove,
            "boring" => CutterUse::Boring,
            "knurl" => CutterUse::Knurl,
            "wheel teeth" => CutterUse::WheelTeeth,
            "slot" => CutterUse::SlotSaw,
            "countersink" => CutterUse::Countersink,
            _ => CutterUse::EndMill,
        };
        let sized = !matches!(of, CutterUse::Turning | CutterUse::Countersink | CutterUse::Threading);
        if sized && !n.has("size") {
            self.lacks(n, "size", &format!("a cutter for {written} is chosen by its size"));
            return None;
        }
        if matches!(of, CutterUse::Countersink | CutterUse::Threading) && !n.has("angle") {
            self.lacks(n, "angle", &format!("a cutter for {written} is chosen by its angle"));
            return None;
        }
        let tip = n.word("tip").map(|t| if t == "radius" { Tip::Radius } else { Tip::Flat });
        let size = n.length("size");
        let name = n.text("name").unwrap_or_else(|| match size {
            Some(s) => format!(
                "{written} cutter {} mm",
                reckon::print::trimmed(&reckon::print::fixed(s.bare().in_mm(), 4))
            ),
            None => format!("{written} tool"),
        });
        Some(Cutter {
            name,
            of,
            size,
            tip,
            angle: n.angle("angle"),
            reach: n.length("reach"),
            diameter: n.diameter("diameter"),
            bore: n.diameter("bore"),
            made: n.flag("made")?,
            carbide: n.flag("carbide")?,
            at: n.at.clone(),
        })
    }
    fn stock(&mut self, n: &Node) -> Option<Stock> {
        let forms: Vec<&str> =
            ["round", "hexagon", "sheet", "blank"].into_iter().filter(|k| n.has(k)).collect();
        let [form] = forms.as_slice() else {
            let t = Trouble::text(if forms.is_empty() {
                format!("{} does not say its form", n.subject)
            } else {
                format!("{} is said to be {}", n.subject, forms.join(" and "))
            });
            self.tell(t.at(n.at.clone()).cure("write one of round = \"8 mm\", hexagon, sheet or blank"));
            return None;
        };
        if *form != "sheet" {
            self.idle(n, "width", "only a sheet has a width of its own");
        }
        let length = n.length("length");
        let form = match *form {
            "round" => StockForm::Round { diameter: n.diameter("round")?, length: length? },
            "hexagon" => StockForm::Hexagon { across: n.length("hexagon")?, length: length? },
            "blank" => {
                let (width, height) = n.pair("blank", a_length)?;
                StockForm::Blank { width, height, length: length? }
            }
            _ => {
                if !n.has("width") {
                    self.lacks(n, "width", "a sheet has two sides");
                }
                StockForm::Sheet { length: length?, width: n.length("width")?, thickness: n.length("sheet")? }
            }
        };
        let (material, name) = n.material("material")?;
        Some(Stock { material, name, form, pieces: n.count("pieces")?, at: n.at.clone() })
    }
}
/// The machine's own part of its dotted name.
fn bare_slug(n: &Node) -> String {
    n.text("name").map_or_else(|| n.prefix.clone(), |name| slug(&name))
}
