//! The escapement set out at true size and enlarged, with what to measure and what an error does.

pub(super) mod draw;

use crate::packet::{Contents, figures, operations, templates};
use crate::{Block, Fit, Picture, Sheet, Text, Typecase};
use ::movement::design::{EscapementDesign, Movement};
use drafting::sketch::Sketch;
use kurbo::Rect;
use reckon::{Id, Origin};
use record::facts::{EscapementKind, Paper};

/// Its sheets and drawings; `number` gives each sheet its number.
pub(super) fn sheets(
    of: &Contents<'_>,
    m: &Movement,
    number: &mut dyn FnMut() -> String,
    case: &Typecase,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let Some(e) = &m.escapement else { return Vec::new() };
    let sheet = |number: String, blocks| Sheet {
        title: "escapement".to_owned(),
        part: String::new(),
        number,
        blocks,
    };
    let room = match of.clock.paper {
        Paper::A4 => (176.0, 200.0),
        Paper::Letter => (181.0, 182.0),
    };
    let mut all = vec![sheet(number(), numbers(of, m, e))];
    let mut picture = |name: String, sketch: Sketch, caption: &str| {
        drawings.push((name, sketch.clone()));
        let caption = format!("{}. {caption}", sketch.title);
        Block::Picture(Picture { sketch, fit: Fit::True, caption: caption.as_str().into() })
    };
    let d = &e.drawing;
    let whole = draw::frame_of(e);
    let view = draw::View { outlines: &d.outlines, drawing: d, names: true };
    let big = draw::fitted(&view, whole, room, case, "the setting out");
    all.push(sheet(
        number(),
        vec![
            Block::Heading(1, "The escapement set out".into()),
            picture(
                "escapement".to_owned(),
                big,
                "The wheel turns clockwise; pallets in the middle of their swing. Thin lines: construction; chain lines: tip circle, circles about the pallets' arbor.",
            ),
        ],
    ));
    let mut close = Vec::new();
    for (i, (centre, half, name)) in d.windows.iter().enumerate() {
        let rect = Rect::from_center_size(*centre, (2.0 * half, 2.0 * half));
        let sketch = draw::fitted(&view, rect, (room.0, room.1 / 2.0 - 14.0), case, name);
        close.push(picture(format!("escapement-near-{}", i + 1), sketch, ""));
    }
    for (i, (name, outlines)) in d.states.iter().enumerate() {
        let bare = ::movement::design::escapement::Drawing {
            circles: d.circles.iter().take(1).copied().collect(),
            ..Default::default()
        };
        let state = draw::View { outlines, drawing: &bare, names: false };
        let sketch = draw::fitted(&state, whole, (room.0, room.1 / 2.0 - 14.0), case, name);
        close.push(picture(format!("escapement-state-{}", i + 1), sketch, ""));
    }
    if !close.is_empty() {
        let head = if d.states.is_empty() { "The nibs enlarged" } else { "At both releases" };
        close.insert(0, Block::Heading(1, head.into()));
        all.push(sheet(number(), close));
    }
    all.push(sheet(number(), bench(of, e)));
    let true_size = draw::scaled(&view, whole, (1, 1), case, "escapement at true size");
    let note = "Measure the bar first. Prick both arbors through the paper, and hold wheel and pallets to the lines.";
    all.extend(templates::full_size(of, &true_size, "escapement", note, &number(), case));
    all
}
fn table(of: &Contents<'_>, id: Id) -> Option<Block> {
    match &of.book.line(id)?.origin {
        Origin::Table { columns, rows, .. } => {
            let mut table = operations::table(columns, rows, of.style());
            table.size = 8.5;
            Some(Block::Table(table))
        }
        _ => None,
    }
}
/// From which side the drawing is seen.
fn seen(m: &Movement) -> &'static str {
    match m.train.escape.and_then(|i| m.train.arbors[i].clockwise) {
        Some(false) => {
            "The escape wheel turns anticlockwise seen from the dial: the drawings show wheel and pallets from the back."
        }
        _ => "Drawn as seen from the dial, line of centres upright.",
    }
}
fn numbers(of: &Contents<'_>, m: &Movement, e: &EscapementDesign) -> Vec<Block> {
    let facts = e.told.iter().map(|(what, id)| {
        (Text::from(what.as_str()), Text::from(figures::shown(of.book, *id, of.style()).as_str()))
    });
    let mut blocks = vec![
        Block::Heading(1, "The escapement".into()),
        Block::Para(format!("{}. {}", named(e.kind), seen(m)).as_str().into()),
        Block::Facts(facts.collect()),
        Block::Heading(2, corners_of(e.kind).into()),
    ];
    blocks.extend(table(of, e.corners));
    blocks.push(Block::Remark(
        match e.kind {
            EscapementKind::Grasshopper => "From the frame's arbor, frame in the middle of its swing; y away from the wheel along the line of centres, x to the right.",
            _ => "From the bore of the pallets, pallets in the middle of their swing; y away from the wheel along the line of centres, x to the right.",
        }
        .into(),
    ));
    blocks.push(Block::Heading(2, "A whole swing".into()));
    blocks.extend(table(of, e.cycled));
    blocks.push(Block::Remark(
        "Cycled: the outlines as drawn, swung through the running arc with the wheel always pushed on; every landing and let-off found from the faces alone.".into(),
    ));
    blocks
}
const fn named(kind: EscapementKind) -> &'static str {
    match kind {
        EscapementKind::DeadBeat => {
            "Dead-beat: the wheel rests on a face about the pallets' arbor, and is not pushed back"
        }
        EscapementKind::Recoil => "Recoil anchor: both faces push with one ratio over their whole length",
        EscapementKind::PinWheel => "Pin-wheel: both pallets on one side, one longer than the other",
        EscapementKind::Grasshopper => {
            "Grasshopper: jointed arms that hold and let go their teeth without sliding"
        }
    }
}
const fn corners_of(kind: EscapementKind) -> &'static str {
    match kind {
        EscapementKind::Grasshopper => "Joints, arms and stops",
        EscapementKind::Recoil => "Points of the faces",
        _ => "Corners of the pallets",
    }
}
/// What an error does, what to measure, what to do.
fn bench(of: &Contents<'_>, e: &EscapementDesign) -> Vec<Block> {
    let mut blocks = vec![Block::Heading(1, "The escapement at the bench".into())];
    if let Some(id) = e.sensitivity {
        blocks.push(Block::Heading(2, "What a hundredth of a millimetre does".into()));
        blocks.extend(table(of, id));
        blocks.push(Block::Remark(
            "One size larger by 0.01 mm, all others kept; degrees. Smaller: the same with the other sign."
                .into(),
        ));
    }
    blocks.push(Block::Heading(2, "To measure when it is made".into()));
    let near = reckon::print::trimmed(&reckon::print::fixed(e.tolerance.min(0.1), 3));
    let centres = figures::shown(of.book, e.centres.id(), of.style());
    let mut measure = vec![format!(
        "The distance of the arbors, over pins that fit the pivot holes: {centres}. {near} mm off already takes a tenth of a degree."
    )];
    measure.extend(
        match e.kind {
            EscapementKind::DeadBeat => &[
                "The radius of each corner from the bore: pallets on a pin in a dividing head or on a mandrel between centres, a dial gauge on the corner.",
                "Over the outer and inside the inner dead face: both nibs come from one ring, so turn the ring first and measure it whole.",
                "The wheel over its tips, tooth by tooth against a stop: no tooth long or short by more than 0.01 mm.",
            ][..],
            EscapementKind::Recoil => &[
                "The radius of E1, E2, X1 and X2 from the bore, with a pin in the bore and a dial gauge on the corner.",
                "Each face against an arc of the radius given, on paper or card at ten times its size.",
                "The wheel over its tips, tooth by tooth against a stop: no tooth long or short by more than 0.01 mm.",
            ],
            EscapementKind::PinWheel => &[
                "Locking and let-off radius of both pallets, with a pin in the bore.",
                "The gap between the pallets with a feeler: the pin and its clearance.",
                "Every pin over its neighbour: pitch of the pins even to 0.01 mm.",
            ],
            EscapementKind::Grasshopper => &[
                "Both joints from the frame's arbor, over plugs, before they are reamed to size.",
                "Each arm from its joint to the working face of its nib.",
                "The direction of each arm at its stop, with the frame clamped in the middle of its swing.",
            ],
        }
        .iter()
        .map(|s| (*s).to_owned()),
    );
    blocks.push(Block::Dots(measure.iter().map(|s| Text::from(s.as_str())).collect()));
    blocks.push(Block::Heading(2, "When it does not do as drawn".into()));
    let advice: &[&str] = match e.kind {
        EscapementKind::DeadBeat => &[
            "Count first: turn the wheel by hand, swing the pallets slowly, and read both drops at the tips and both locks at the arbor. Change nothing before all four are written down.",
            "Both locks deep, one drop large and the other small: the arbors stand too near. Both locks shallow: too far. Move the pallets' arbor, not the faces.",
            "Drops unequal and both locks right: a nib is too thick. Drop off the entry pallet small: stone the let-off side of the entry nib (E2) or the dead face of the exit (X1). Drop off the exit pallet small: the dead face of the entry (E1) or the let-off side of the exit nib (X2).",
            "Both locks deep or both shallow and the drops right: the nibs stand too near or too wide. Open or close the arms a little, or stone both impulse faces where the locks are deep.",
            "One lock shallow, the other right: that nib is short, or its impulse face was stoned too far. A long nib is stoned on its impulse face, square to the bore.",
            "All drops small: tips too thick, or a wheel that is too large. Thin the backs of the teeth, never the fronts.",
        ],
        EscapementKind::Recoil => &[
            "Read both drops at the tips before anything is changed.",
            "One drop large and the other small: the arbors stand at the wrong distance. The table tells which way each drop moves; move the anchor's arbor, not the faces.",
            "Both drops large: nibs or tips are thin. Both small: tips or nibs are thick; thin the backs of the teeth or the sides of the nibs that the tooth leaves.",
            "Where a tooth catches at the end of a swing the anchor is too deep, or the swing larger than it is meant to be.",
        ],
        EscapementKind::PinWheel => &[
            "Read the fall of a pin onto each pallet, and both locks, before anything is changed.",
            "The pin jams behind the inner nib: the gap is too narrow. Stone the back of the inner nib, or open the arms.",
            "Locks unlike each other: one nib is longer. Stone the impulse face of the longer.",
        ],
        EscapementKind::Grasshopper => &[
            "Set the frame in the middle of its swing and both composers on their stops: each free nib must stand clear of the tips.",
            "An arm that catches late, or a nib that strikes the top of a tooth: turn its stop a little and look again.",
            "An arm that is not let go: it sticks on its joint, or its nose is too heavy for the composer. The recoil alone must free it.",
            "Never let the wheel run with the arms out: a free wheel breaks the nibs. Block it whenever the frame is off.",
        ],
    };
    blocks.push(Block::Dots(advice.iter().map(|s| Text::from(*s)).collect()));
    blocks
}
