//! How a joint is made, step by step.

use super::Seat;
use super::weigh::Weighed;
use crate::kernel::join::Way;
use crate::plan::hole::seen;
use crate::plan::{Caution, Check, Figure, Operation, Spread};
use movement::joint::JointUse;
use reckon::{Book, Length, Time};

/// Where it is done.
pub(super) const fn held(way: Way, of: JointUse) -> &'static str {
    match (way, of) {
        (Way::Rivet, JointUse::InPlate) => {
            "plate flat on a hard block, the shoulder's face on a stake with a hole"
        }
        (Way::Rivet, _) => "staking block, flange on a flat stake with a hole for what is behind it",
        (Way::Press, _) => "vice with soft flat jaws, or the drill press with its spindle still",
        (Way::SoftSolder | Way::SilverSolder, _) => {
            "hearth of firebrick, parts wired so that they cannot move"
        }
        (Way::Adhesive | Way::Shellac, _) => "bench, clean paper",
    }
}
/// The operations of a joint.
pub(super) fn operations(s: &Seat<'_>, w: &Weighed, book: &mut Book) -> Vec<Operation> {
    let mut ops = vec![dry(s)];
    ops.push(match w.way {
        Way::Rivet => rivet(s, w),
        Way::Press => press(s, w),
        Way::Adhesive => adhesive(s, w, book),
        Way::SoftSolder | Way::SilverSolder => solder(s, w),
        Way::Shellac => shellac(s, w),
    });
    ops
}
/// Tried dry first, and where it stands.
fn dry(s: &Seat<'_>) -> Operation {
    let j = s.joint;
    let how = match j.of {
        JointUse::WheelOnSeat => {
            "On its seat, against the flange all round. Spun on a true mandrel or between centres: it has to run true before it is fixed; nothing trues it after."
        }
        JointUse::OnArbor => {
            "Slid to its place, measured from the arbor's shoulder on the drawing of the stack, and the place scribed lightly. Between centres it has to run true there."
        }
        JointUse::InPlate => {
            "Each pushed in by hand with its shoulder flat on the plate: no light under it, no shake. Mark which goes where."
        }
        JointUse::Cap => {
            "Each slides in by hand and lies square. Both drawn together by the hook bar, dry, once."
        }
        JointUse::Foot => {
            "Dial face down on felt, all feet in their holes: shoulders down all round, tails through the holes of the front plate laid over them. A foot that binds there now pulls the dial askew for good."
        }
    };
    Operation {
        title: format!("Try dry: {}", j.what),
        lines: vec![how.to_owned()],
        tool: Some("centres or mandrel, indicator, square".to_owned()),
        figures: vec![Figure::of("play between them", &s.middle)],
        checks: match j.of {
            JointUse::WheelOnSeat | JointUse::OnArbor => {
                vec![seen("run", "edge of what it carries within 0.03 mm, face within 0.05 mm")]
            }
            JointUse::InPlate | JointUse::Foot => {
                vec![seen("square", "against a small square from two sides")]
            }
            JointUse::Cap => vec![seen("ends", "flush or alike deep all round")],
        },
        time: Spread::minutes(4.0, 8.0, 15.0),
        ..Operation::default()
    }
}
fn bears(s: &Seat<'_>, w: &Weighed) -> Vec<Figure> {
    let mut all = vec![Figure::of("has to hold", &s.need)];
    all.extend(w.holds.map(|h| Figure::of("holds at least", &h)));
    all
}
fn rivet(s: &Seat<'_>, w: &Weighed) -> Operation {
    let j = s.joint;
    let mut figures = Vec::new();
    figures.extend(j.over.map(|o| Figure::of("stands over", &o)));
    figures.extend(w.chamfer.map(|c| Figure::of("chamfer, at 45°", &c)));
    figures.extend(bears(s, w));
    let count = if j.count.0 > 1 { format!(", {} of them", j.count.0) } else { String::new() };
    Operation {
        title: format!("Rivet: {}{count}", j.what),
        lines: vec![
            "Hole's edge on the side to be riveted: a chamfer as wide as the figure, and two small nicks in it with a three-square file, opposite each other. That is what keeps it from turning.".to_owned(),
            if j.bore.is_some() {
                "Round punch with a hole, larger than the bore, set on the rim that stands over: light blows all the way round, a quarter turn between, so that the rim opens evenly. Then a flat hollow punch, until the chamfer and both nicks are full.".to_owned()
            } else {
                "Round-faced punch or the ball of a light hammer: many light blows from the middle outward, the work turned between, until the chamfer and both nicks are full; then a flat punch.".to_owned()
            },
            "Look at it often: no more spread than fills the chamfer. Brass that is beaten long cracks, at once or in a year.".to_owned(),
            "File or turn what still stands over flush, without touching the face round it.".to_owned(),
        ],
        tool: Some("countersink, fine three-square file, hollow round and flat punches, light hammer of 100 g".to_owned()),
        figures,
        checks: vec![
            seen("fast", "does not turn or click between the fingers, flange held in soft jaws"),
            seen("true", "runs as it did dry; no crack under the glass"),
        ],
        cautions: vec![Caution::Riveting],
        does: vec!["rivet"],
        time: {
            let each = if j.count.0 > 4 { 5.0 } else { f64::from(i32::try_from(j.count.0).unwrap_or(1)) };
            Spread::minutes(6.0 * each, 10.0 * each, 20.0 * each)
        },
        ..Operation::default()
    }
}
fn press(s: &Seat<'_>, w: &Weighed) -> Operation {
    let mut figures = Vec::new();
    if let Some((interference, force)) = &w.force {
        figures.push(Figure::of("larger by, at the most", interference));
        figures.push(Figure::of("force, at the most", force));
    }
    figures.extend(bears(s, w));
    Operation {
        title: format!("Press: {}", s.joint.what),
        lines: vec![
            "Entering end of the round: a chamfer of 10 to 15 degrees, half a millimetre long, polished. A drop of thin oil.".to_owned(),
            "Straight over a hole in a flat block, started by hand; look from two sides that it stands square, then in one go, without a blow.".to_owned(),
        ],
        tool: Some("vice or drill press, block with a clear hole".to_owned()),
        figures,
        checks: vec![seen("home", "shoulder down all round; it took force from the first millimetre on")],
        cautions: vec![Caution::Pressing],
        does: vec!["press"],
        time: Spread::minutes(5.0, 10.0, 20.0),
        ..Operation::default()
    }
}
fn adhesive(s: &Seat<'_>, w: &Weighed, book: &mut Book) -> Operation {
    let cure = book.assumed(
        s.name("adhesive.cure"),
        Time::si(24.0 * 3600.0),
        "house default: a day at 20 °C to full strength; the maker's sheet comes first",
    );
    let mut figures = vec![Figure::of("left alone for", &cure)];
    figures.extend(bears(s, w));
    Operation {
        title: format!("Bond: {}", s.joint.what),
        lines: vec![
            "Retaining adhesive for cylindrical parts (the kind that sets without air, strong, for this clearance). Both seats wiped with a clean solvent until the wipe stays white; not touched after.".to_owned(),
            "A thin ring of it round the leading edge of the round; pushed on with a turn, so that it wets all of the seat. To the mark; what is pushed out wiped off at once with a dry stick. None may come near a pivot or a leaf.".to_owned(),
            "Set aside hanging or standing so that nothing slides. Wrong, or to come off one day: warmed to 250 °C it lets go - that heat is near what softens a pivot: warm the outer part only, with a soldering iron.".to_owned(),
        ],
        tool: Some("retaining adhesive, solvent, lint-free wipes, wooden sticks".to_owned()),
        figures,
        checks: vec![
            Check {
                what: "play before bonding".to_owned(),
                limits: Some((s.most.bare(), s.least.bare().max(Length::ZERO))),
                seen: None,
                id: Some(s.middle.id()),
            },
            seen("true", "spun after an hour: runs as it did dry"),
        ],
        cautions: vec![Caution::Adhesive],
        does: vec!["glue"],
        time: Spread::minutes(8.0, 12.0, 20.0),
        ..Operation::default()
    }
}
fn solder(s: &Seat<'_>, w: &Weighed) -> Operation {
    let soft = w.way == Way::SoftSolder;
    let mut figures: Vec<Figure> = w.heat.iter().map(|h| Figure::of("no hotter than", h)).collect();
    figures.extend(bears(s, w));
    let mut lines = vec![
        "Both seats bright and degreased, flux on both. A ring of fine solder wire laid round the joint, no more than fills it.".to_owned(),
        "Heat the larger part from below and let it heat the other; when the ring runs it is done: heat away, nothing moved until it is dull.".to_owned(),
    ];
    if soft {
        lines.push("Wet rag or a heat sink between the joint and every pivot. Flux left behind eats steel in a week: hot water and a brush, then clean spirit, dried warm, oiled.".to_owned());
    } else {
        lines.push("All of it gets red: brass is soft after, steel scales. Hence before teeth, before hardening, and the seat made true after.".to_owned());
    }
    Operation {
        title: format!("{}: {}", if soft { "Soft solder" } else { "Silver solder" }, s.joint.what),
        lines,
        tool: Some("small flame or iron, flux, fine solder".to_owned()),
        figures,
        checks: vec![seen("joint", "a bright line all round, no gap; pivots their old colour")],
        cautions: vec![Caution::Soldering, Caution::Hot],
        does: vec!["solder"],
        time: Spread::minutes(10.0, 20.0, 40.0),
        ..Operation::default()
    }
}
fn shellac(s: &Seat<'_>, w: &Weighed) -> Operation {
    let mut figures: Vec<Figure> = w.heat.iter().map(|h| Figure::of("warmed to", h)).collect();
    figures.extend(bears(s, w));
    Operation {
        title: format!("Shellac: {}", s.joint.what),
        lines: vec![
            "Warmed on a brass plate until a flake of shellac melts on it; a thread of shellac drawn round the joint; moved to the mark while it is soft; left to cool.".to_owned(),
            "It can be warmed and moved again as often as wanted: that is why it is used here.".to_owned(),
        ],
        tool: Some("shellac, warming plate, spirit lamp".to_owned()),
        figures,
        checks: vec![seen("joint", "a clear fillet all round, no bubble")],
        cautions: vec![Caution::Hot],
        does: vec!["glue"],
        time: Spread::minutes(5.0, 10.0, 20.0),
        ..Operation::default()
    }
}
