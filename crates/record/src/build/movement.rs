//! The facts of a movement.

use super::Build;
use crate::facts::*;
use crate::read::node::{Node, Value, a_count, a_length, a_ratio, a_torque, pair};
use reckon::{Ratio, Trouble, Val};

fn spot(n: &Node, key: &str) -> Option<Spot> {
    n.pair(key, a_length)
}
fn share(n: &Node, key: &str) -> Option<Share> {
    match n.list(key) {
        [a, b, c] => {
            Some(Share { low: a_ratio(&a.value)?, likely: a_ratio(&b.value)?, high: a_ratio(&c.value)? })
        }
        _ => None,
    }
}
fn named(n: &Node, key: &str) -> Option<Named> {
    Some(Named { name: n.text(key)?, at: n.place(key) })
}

impl Build<'_> {
    pub(super) fn movement(&mut self, n: &Node) -> Option<MovementFacts> {
        const OF_A_MOVEMENT: [&str; 10] = [
            "wanted",
            "arbor",
            "motion_work",
            "escapement",
            "pendulum",
            "drive",
            "plates",
            "dial",
            "case",
            "indication",
        ];
        if !OF_A_MOVEMENT.iter().any(|key| n.has(key)) {
            return None;
        }
        let losses = self.losses(n.table("losses")?);
        Some(MovementFacts {
            wanted: n.table("wanted").and_then(wanted),
            arbors: n.tables("arbor").filter_map(arbor).collect(),
            motion_work: n.table("motion_work").and_then(motion_work),
            escapement: n.table("escapement").and_then(|e| self.escapement(e)),
            pendulum: n.table("pendulum").and_then(|p| self.pendulum(p)),
            drive: n.table("drive").and_then(|d| self.drive(d)),
            losses,
            plates: n.table("plates").and_then(plates),
            dial: n.table("dial").and_then(dial),
            hands: n.table("hands").and_then(hands),
            case: n.table("case").map(case),
            indications: n.tables("indication").filter_map(indication).collect(),
        })
    }
    fn ordered(&mut self, n: &Node, key: &str, got: Option<Share>) -> Option<Share> {
        let s = got?;
        if s.low.bare() <= s.likely.bare() && s.likely.bare() <= s.high.bare() {
            return Some(s);
        }
        let mut three = [s.low, s.likely, s.high];
        three.sort_by(|a, b| a.bare().value().total_cmp(&b.bare().value()));
        let sorted = three.map(|v| v.shown());
        self.tell(
            Trouble::text(format!("'{key}' of {} is not a range", n.subject))
                .at(n.place(key))
                .why("low, likely and high must not fall")
                .cure(format!("write the lowest first: {key} = [{}]", sorted.join(", "))),
        );
        None
    }
    fn supposed(&mut self, n: &Node, key: &str, three: [f64; 3], why: &str) -> Share {
        let mut one = |word: &str, v: f64| -> Val<Ratio> {
            self.book.assumed(format!("{}.{word}", n.name(key)), Ratio::si(v), why)
        };
        Share { low: one("low", three[0]), likely: one("likely", three[1]), high: one("high", three[2]) }
    }
    fn losses(&mut self, n: &Node) -> Losses {
        let train = self.ordered(n, "train", share(n, "train"));
        let escapement = self.ordered(n, "escapement", share(n, "escapement"));
        let friction = match self.ordered(n, "friction", share(n, "friction")) {
            Some(f) => f,
            None => self.supposed(
                n,
                "friction",
                [0.10, 0.15, 0.25],
                "steel on oiled brass, fresh to stale: common practice",
            ),
        };
        Losses { train, escapement, friction }
    }
    fn escapement(&mut self, n: &Node) -> Option<Escapement> {
        let kind = match n.word("kind")? {
            "dead-beat" => EscapementKind::DeadBeat,
            "recoil anchor" => EscapementKind::Recoil,
            "pin-wheel" => EscapementKind::PinWheel,
            _ => EscapementKind::Grasshopper,
        };
        let needs: &[&str] = match kind {
            EscapementKind::DeadBeat => &["span", "lift", "lock"],
            EscapementKind::Recoil => &["span", "let_off"],
            EscapementKind::PinWheel => &["lift", "lock", "pin"],
            EscapementKind::Grasshopper => &["span", "escaping_arc", "arms"],
        };
        let mut whole = true;
        for key in needs {
            if !n.has(key) {
                self.lacks(n, key, &format!("a {} is set out from it", kind.word()));
                whole = false;
            }
        }
        let all = ["span", "lift", "lock", "let_off", "pin", "escaping_arc", "arms", "pivots"];
        for key in all.iter().filter(|k| !needs.contains(k)) {
            if *key == "pivots" && kind == EscapementKind::Grasshopper {
                continue;
            }
            self.idle(n, key, &format!("a {} has no such size", kind.word()));
        }
        if !whole {
            return None;
        }
        Some(Escapement {
            kind,
            teeth: n.count("teeth")?,
            teeth_at: n.place("teeth"),
            wheel_diameter: n.diameter("wheel_diameter")?,
            arbor: named(n, "arbor")?,
            pallets: named(n, "pallets")?,
            span: n.ratio("span"),
            lift: n.angle("lift"),
            lock: n.angle("lock"),
            drop: n.angle("drop")?,
            tip_width: n.angle("tip_width")?,
            let_off: n.angle("let_off"),
            running_arc: n.angle("running_arc")?,
            running_arc_at: n.place("running_arc"),
            escaping_arc: n.angle("escaping_arc"),
            arms: n.length("arms"),
            single_pivot: n.word("pivots") == Some("single"),
            pin: n.diameter("pin"),
            thickness: n.length("thickness")?,
            pallet_thickness: n.length("pallet_thickness")?,
            material: n.material("material")?.0,
            pallet_material: n.material("pallet_material")?.0,
            place: spot(n, "place"),
            at: n.at.clone(),
        })
    }
    fn pendulum(&mut self, n: &Node) -> Option<Pendulum> {
        let rod = n.table("rod")?;
        let b = n.table("bob")?;
        let form = match b.word("form")? {
            "lens" => BobForm::Lens,
            "disc" => BobForm::Disc,
            _ => BobForm::Cylinder,
        };
        let (key, other) = match form {
            BobForm::Cylinder => ("height", "thickness"),
            _ => ("thickness", "height"),
        };
        if !b.has(key) {
            self.lacks(b, key, "its mass and its middle follow from it");
        }
        self.idle(b, other, &format!("this bob is measured by its {key}"));
        let bob = Bob {
            form,
            diameter: b.diameter("diameter")?,
            height: b.length(key)?,
            material: b.material("material")?.0,
            mass: b.mass("mass"),
            on_base: b.word("held_at") == Some("base"),
            at: b.at.clone(),
        };
        let nut = match n.table("nut") {
            Some(t) => Some(RatingNut {
                thread: t.thread("thread")?,
                thread_at: t.place("thread"),
                divisions: t.count("divisions"),
                diameter: t.diameter("diameter")?,
                thickness: t.length("thickness")?,
            }),
            None => None,
        };
        let suspension = match n.table("suspension") {
            Some(s) => Some(Suspension {
                thickness: s.length("thickness")?,
                width: s.length("width")?,
                length: s.length("length")?,
                material: s.material("material")?.0,
                at: s.at.clone(),
            }),
            None => None,
        };
        Some(Pendulum {
            rod_material: rod.material("material")?.0,
            rod_diameter: rod.diameter("diameter")?,
            rod_length: rod.length("length"),
            bob,
            nut,
            suspension,
            tray: n.length("tray"),
            quality: n.ratio("quality")?,
            at: n.at.clone(),
        })
    }
    fn drive(&mut self, n: &Node) -> Option<Drive> {
        if let (Some(w), Some(s)) = (n.table("weight"), n.table("spring")) {
            self.tell(
                Trouble::text("a clock is driven by a weight or by a spring, and both are written")
                    .at(w.at.clone())
                    .at(s.at.clone())
                    .cure("leave one of them out"),
            );
        }
        if let (Some(f), None) = (n.table("fusee"), n.table("spring")) {
            self.tell(
                Trouble::text("a fusee evens the pull of a spring, and no spring is written")
                    .at(f.at.clone())
                    .cure("write [drive.spring], or leave the fusee out"),
            );
        }
        let spring = match n.table("spring") {
            Some(s) => self.spring(s),
            None => None,
        };
        Some(Drive {
            weight: n.table("weight").and_then(weight),
            spring,
            fusee: n.table("fusee").and_then(fusee),
            maintaining: n.table("maintaining").and_then(|m| {
                Some(Maintaining {
                    teeth: m.count("ratchet_teeth")?,
                    time: m.time("time")?,
                    share: m.ratio("share")?,
                    at: m.at.clone(),
                })
            }),
            clicks: n.count("clicks")?,
            square: n.length("square")?,
            at: n.at.clone(),
        })
    }
    fn spring(&mut self, n: &Node) -> Option<Spring> {
        let b = n.table("barrel")?;
        let coils = match self.ordered(n, "coils", share(n, "coils")) {
            Some(s) => s,
            None => self.supposed(n, "coils", [0.85, 0.9, 0.95], "friction of the coils: common practice"),
        };
        Some(Spring {
            arbor: named(n, "arbor")?,
            thickness: n.length("thickness")?,
            height: n.length("height")?,
            length: n.length("length")?,
            elasticity: n.pressure("elasticity")?,
            yields: n.pressure("yield")?,
            inside: b.diameter("inside")?,
            outside: b.diameter("outside")?,
            room: b.length("height")?,
            core: b.diameter("arbor")?,
            cover: b.length("cover")?,
            bottom: b.length("bottom")?,
            material: b.material("material")?.0,
            place: spot(b, "place"),
            spot: spot(b, "at"),
            stop_turns: n.ratio("stop_turns"),
            left_at_top: n.ratio("left_at_top")?,
            coils,
            measured: n
                .tables("measured")
                .filter_map(|m| Some((m.ratio("turns")?, m.torque("torque")?)))
                .collect(),
            at: n.at.clone(),
        })
    }
}
fn wanted(n: &Node) -> Option<Wanted> {
    Some(Wanted {
        beats: n.count("beats_per_hour"),
        run: n.time("run"),
        reserve: n.ratio("reserve_turns")?,
        seconds_hand: named(n, "seconds_hand"),
        least_leaves: n.count("least_leaves")?,
        at: n.at.clone(),
    })
}
fn pinion(n: &Node) -> Option<PinionFacts> {
    Some(PinionFacts {
        leaves: n.count("leaves")?,
        lantern: n.word("kind") == Some("lantern"),
        top: n.word("profile").map(|w| match w {
            "third" => LeafTop::Third,
            "two-thirds" => LeafTop::TwoThirds,
            _ => LeafTop::Round,
        }),
        module: n.length("module"),
        place: spot(n, "place"),
        pin: n.diameter("pin"),
        length: n.length("length"),
        at: n.at.clone(),
        slug: n.prefix.clone(),
    })
}
fn joined(n: &Node) -> Option<(Joined, reckon::Place)> {
    let way = match n.word("joined")? {
        "rivet" => Joined::Rivet,
        "press" => Joined::Press,
        "adhesive" => Joined::Adhesive,
        "soft solder" => Joined::SoftSolder,
        "silver solder" => Joined::SilverSolder,
        _ => Joined::Shellac,
    };
    Some((way, n.place("joined")))
}
fn wheel(n: &Node) -> Option<WheelFacts> {
    Some(WheelFacts {
        teeth: n.count("teeth")?,
        module: n.length("module"),
        module_at: n.place("module"),
        form: match n.word("form")? {
            "close ogive" => ToothForm::CloseOgive,
            "epicycloid" => ToothForm::Epicycloid,
            "involute" => ToothForm::Involute,
            _ => ToothForm::Ogive,
        },
        thickness: n.length_size("thickness"),
        material: n.material("material")?.0,
        material_at: n.place("material"),
        arms: n.count("arms"),
        bore: n.diameter("bore"),
        rim: n.length("rim"),
        arm_width: n.length("arm_width"),
        place: spot(n, "place"),
        mate: n.count("mate"),
        centres: n.length("centres"),
        old_outside: n.diameter("old_outside"),
        joined: joined(n),
        at: n.at.clone(),
        teeth_at: n.place("teeth"),
        slug: n.prefix.clone(),
    })
}
fn arbor(n: &Node) -> Option<Arbor> {
    Some(Arbor {
        name: n.text("name")?,
        slug: n.prefix.clone(),
        at: n.place("name"),
        was: n.text("was"),
        driven_by: named(n, "driven_by"),
        turns_once_in: n.time("turns_once_in"),
        pinion: n.table("pinion").and_then(pinion),
        wheel: n.table("wheel").and_then(wheel),
        spot: spot(n, "at"),
        bearing: n.angle("bearing"),
        spot_at: if n.has("at") { n.place("at") } else { n.place("bearing") },
        carries: n.word("carries").map(|w| if w == "seconds hand" { Hand::Seconds } else { Hand::Minute }),
        diameter: n.diameter("diameter"),
        pivot: n.diameter("pivot"),
        endshake: n.length("endshake"),
        joined: joined(n),
        material: n.material("material")?.0,
        material_at: n.place("material"),
        runs: match n.word("runs")? {
            "in front" => Runs::Front,
            "behind" => Runs::Behind,
            _ => Runs::Between,
        },
    })
}
fn motion_work(n: &Node) -> Option<MotionWork> {
    let counts = match n.list("counts") {
        [a, b, c, d] => [a_count(&a.value)?, a_count(&b.value)?, a_count(&c.value)?, a_count(&d.value)?],
        _ => return None,
    };
    Some(MotionWork {
        counts,
        module: n.length("module")?,
        second_module: n.length("second_module"),
        thickness: n.length("thickness")?,
        material: n.material("material")?.0,
        bearing: n.angle("bearing"),
        at: n.at.clone(),
        counts_at: n.place("counts"),
    })
}
fn weight(n: &Node) -> Option<Weight> {
    let body = match n.table("body") {
        Some(b) => Some(WeightBody {
            outside: b.diameter("outside")?,
            inside: b.diameter("inside")?,
            height: b.length("height")?,
            cap: b.length("cap")?,
            filling: b.material("filling")?.0,
            packing: b.density("packing")?,
            at: b.at.clone(),
        }),
        None => None,
    };
    Some(Weight {
        mass: n.mass("mass")?,
        arbor: named(n, "arbor")?,
        drum: n.diameter("drum")?,
        line: n.diameter("line")?,
        falls: n.count("falls")?,
        room: n.length("room"),
        pulley: n.length("pulley")?,
        spare: n.length("spare")?,
        body,
        at: n.at.clone(),
        mass_at: n.place("mass"),
        room_at: n.place("room"),
    })
}
fn fusee(n: &Node) -> Option<Fusee> {
    Some(Fusee {
        arbor: named(n, "arbor")?,
        turns: n.ratio("turns")?,
        barrel_turns: n.ratio("barrel_turns")?,
        set_up: n.ratio("set_up")?,
        chain: n.length("chain")?,
        gap: n.length("gap")?,
        line: n.pair("line", a_torque),
        at: n.at.clone(),
    })
}
fn plates(n: &Node) -> Option<Plates> {
    let pillars = n.list("pillars").iter().filter_map(|g| match &g.value {
        Value::List(two) => pair(two, a_length),
        _ => None,
    });
    Some(Plates {
        material: n.material("material")?.0,
        material_at: n.place("material"),
        size: spot(n, "size")?,
        thickness: n.length("thickness")?,
        gap: n.length("gap")?,
        corner: spot(n, "corner"),
        pillars: pillars.collect(),
        pillar_diameter: n.diameter("pillar_diameter")?,
        pillar_spigot: n.diameter("pillar_spigot")?,
        at: n.at.clone(),
        size_at: n.place("size"),
    })
}
fn dial(n: &Node) -> Option<DialWanted> {
    Some(DialWanted {
        minute_circle: n.diameter("minute_circle")?,
        seconds_circle: n.diameter("seconds_circle"),
        outside: n.diameter("outside"),
        thickness: n.length("thickness")?,
        material: n.material("material")?.0,
        at: n.at.clone(),
    })
}
fn hands(n: &Node) -> Option<Hands> {
    Some(Hands {
        minute: n.length("minute"),
        hour: n.length("hour"),
        seconds: n.length("seconds"),
        thickness: n.length("thickness")?,
        material: n.material("material")?.0,
        at: n.at.clone(),
    })
}
fn case(n: &Node) -> Case {
    Case {
        width: n.length("width"),
        height: n.length("height"),
        depth: n.length("depth"),
        weight_aside: n.length("weight_aside"),
        weight_in_front: n.length("weight_in_front"),
        at: n.at.clone(),
        height_at: n.place("height"),
    }
}
fn indication(n: &Node) -> Option<Indication> {
    let pairs = n.list("pairs").iter().filter_map(|g| match &g.value {
        Value::List(two) => pair(two, a_count),
        _ => None,
    });
    Some(Indication {
        name: n.text("name")?,
        slug: n.prefix.clone(),
        at: n.place("name"),
        of: match n.word("of")? {
            "two moons" => Shows::TwoMoons,
            "sidereal" => Shows::Sidereal,
            "lunar day" => Shows::LunarDay,
            "year" => Shows::Year,
            "week" => Shows::Week,
            "equation of time" => Shows::EquationOfTime,
            _ => Shows::Moon,
        },
        from_period: n.time("from_period")?,
        pairs: pairs.collect(),
        base: n.length("base"),
    })
}
