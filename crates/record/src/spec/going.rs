//! What `clock.toml` may say of what makes the movement go: escapement, pendulum, drive, losses.

use super::movement::{BETWEEN, BRASS, STEEL, TIME};
use super::{AT, DIAMETER, Kind, LENGTH, Of, Range, Section, follows, may, must, or, quantity};

const RATIO: Kind = quantity(Of::Ratio);
const ANGLE: Kind = quantity(Of::Angle);
const MASS: Kind = quantity(Of::Mass);
const LINE: Kind = Kind::Fixed(&[("set_up", quantity(Of::Torque)), ("per_turn", quantity(Of::Torque))]);
const SHARE: Kind = Kind::Fixed(&[
    ("low", Kind::Quantity(Of::Ratio, Range::Positive)),
    ("likely", Kind::Quantity(Of::Ratio, Range::Positive)),
    ("high", Kind::Quantity(Of::Ratio, Range::Positive)),
]);
const BRASS_BAR: (&str, &str) = ("brass CZ121", "the usual turning brass, in bar");

/// The escapement.
pub(super) static ESCAPEMENT: Section = Section {
    name: "escapement",
    help: "What lets one tooth pass at each beat.",
    groups: &[&[
        must(
            "kind",
            Kind::Word(&[
                ("dead-beat", "the tooth rests on a circular face"),
                ("recoil anchor", "the wheel is pushed back a little"),
                ("pin-wheel", "pins on the wheel, both pallets on one side"),
                ("grasshopper", "jointed pallets without sliding"),
            ]),
            "Which escapement.",
            "\"dead-beat\"",
        ),
        must("teeth", Kind::Count(5, 400), "Teeth or pins of the escape wheel.", "30"),
        must(
            "wheel_diameter",
            DIAMETER,
            "Diameter over the tips of the teeth; of the circle of pins.",
            "\"40 mm\"",
        ),
        or(
            "arbor",
            Kind::Text,
            ("escape", "the usual name of that arbor"),
            "Arbor of the escape wheel.",
            "\"escape\"",
        ),
        or(
            "pallets",
            Kind::Text,
            ("pallets", "the usual name of that arbor"),
            "Arbor of the pallets.",
            "\"pallets\"",
        ),
        may("span", RATIO, "Tooth spaces that the pallets span: a whole number and a half.", "7.5"),
        may("lift", ANGLE, "Turn of the pallets during the push, of a dead-beat or pin-wheel.", "\"2 deg\""),
        may("lock", ANGLE, "Turn of the pallets from the fall of a tooth to the edge.", "\"0.7 deg\""),
        or(
            "drop",
            ANGLE,
            ("1 deg", "common practice: 0.8 to 1.5 degrees"),
            "Free turn of the wheel from one pallet to the other.",
            "\"1 deg\"",
        ),
        or(
            "tip_width",
            ANGLE,
            ("0.3 deg", "common practice: 0.2 to 0.4 degrees"),
            "Width of a tooth's tip, seen from the wheel's centre.",
            "\"0.3 deg\"",
        ),
        may(
            "let_off",
            ANGLE,
            "Turn past the middle at which the tooth leaves, of a recoil anchor.",
            "\"2 deg\"",
        ),
        must(
            "running_arc",
            ANGLE,
            "Swing of the pendulum from the middle to one side, as it is to run.",
            "\"1.7 deg\"",
        ),
        may(
            "escaping_arc",
            ANGLE,
            "Whole turn of the pallet frame from one release to the other, of a grasshopper.",
            "\"7 deg\"",
        ),
        may("arms", LENGTH, "Length of a grasshopper's pallet arms from joint to tip.", "\"50 mm\""),
        may(
            "pivots",
            Kind::Word(&[("twin", "each arm on a joint of its own"), ("single", "both arms on one joint")]),
            "Joints of a grasshopper.",
            "\"twin\"",
        ),
        may("pin", DIAMETER, "Diameter of the pins of a pin-wheel.", "\"1 mm\""),
        or("thickness", LENGTH, ("1.5 mm", "house default"), "Thickness of the escape wheel.", "\"1.5 mm\""),
        or(
            "pallet_thickness",
            LENGTH,
            ("4 mm", "house default: wider than the wheel by its endshake twice"),
            "Thickness of the pallets.",
            "\"4 mm\"",
        ),
        or("material", Kind::Material, BRASS, "What the escape wheel is made of.", "\"brass CZ120\""),
        or("pallet_material", Kind::Material, STEEL, "What the pallets are made of.", "\"silver steel\""),
        may(
            "place",
            BETWEEN,
            "Where the escape wheel begins and ends, from the inside of the back plate.",
            "[\"18 mm\", \"19.5 mm\"]",
        ),
    ]],
};
static ROD: Section = Section {
    name: "rod",
    help: "Rod of the pendulum.",
    groups: &[&[
        must("material", Kind::Material, "What it is made of.", "\"invar\""),
        must("diameter", DIAMETER, "Diameter.", "\"8 mm\""),
        may("length", LENGTH, "Length over all; to below the bob where not written.", "\"1050 mm\""),
    ]],
};
static BOB: Section = Section {
    name: "bob",
    help: "Bob of the pendulum.",
    groups: &[&[
        or(
            "form",
            Kind::Word(&[
                ("cylinder", "axis upright"),
                ("lens", "two caps of a sphere"),
                ("disc", "axis along the arbor"),
            ]),
            ("cylinder", "the simplest to turn"),
            "Form.",
            "\"lens\"",
        ),
        must("diameter", DIAMETER, "Diameter.", "\"80 mm\""),
        may("height", LENGTH, "Height of a cylinder.", "\"143 mm\""),
        may("thickness", LENGTH, "Thickness of a lens or disc in its middle.", "\"23 mm\""),
        must("material", Kind::Material, "What it is made of.", "\"brass CZ121\""),
        may("mass", MASS, "Mass, where it is given; computed from its size where not.", "\"6 kg\""),
        or(
            "held_at",
            Kind::Word(&[("base", "rests on the nut"), ("middle", "held at its middle")]),
            ("base", "the usual: it stands on the rating nut"),
            "Where the rod holds it.",
            "\"middle\"",
        ),
    ]],
};
static STRIP: Section = Section {
    name: "suspension",
    help: "The spring that the pendulum hangs by.",
    groups: &[&[
        must("thickness", LENGTH, "Thickness of one leaf.", "\"0.1 mm\""),
        must("width", LENGTH, "Width, of all leaves together.", "\"12 mm\""),
        must("length", LENGTH, "Free length between the chops.", "\"14 mm\""),
        or(
            "material",
            Kind::Material,
            ("blue spring steel", "the usual strip"),
            "What it is made of.",
            "\"blue spring steel\"",
        ),
    ]],
};
static NUT: Section = Section {
    name: "rating nut",
    help: "The nut that raises and lowers the bob.",
    groups: &[&[
        must("thread", Kind::Thread, "Thread.", "\"M5x0.8\""),
        may(
            "divisions",
            Kind::Count(1, 500),
            "Divisions on its edge; those of about a second a day where not written.",
            "35",
        ),
        or("diameter", DIAMETER, ("20 mm", "house default"), "Diameter over its edge.", "\"20 mm\""),
        or("thickness", LENGTH, ("6 mm", "house default"), "Thickness.", "\"6 mm\""),
    ]],
};
/// The pendulum.
pub(super) static PENDULUM: Section = Section {
    name: "pendulum",
    help: "The pendulum.",
    groups: &[&[
        must("rod", Kind::Table(&ROD), "Rod.", "{ material = \"invar\", diameter = \"8 mm\" }"),
        must(
            "bob",
            Kind::Table(&BOB),
            "Bob.",
            "{ diameter = \"80 mm\", height = \"143 mm\", material = \"brass CZ121\" }",
        ),
        may("nut", Kind::Table(&NUT), "Rating nut.", "{ thread = \"M5x0.8\", divisions = 35 }"),
        may(
            "suspension",
            Kind::Table(&STRIP),
            "Suspension spring.",
            "{ thickness = \"0.1 mm\", width = \"12 mm\", length = \"14 mm\" }",
        ),
        may("tray", LENGTH, "How far below the axis a tray for small weights sits.", "\"497 mm\""),
        or(
            "quality",
            RATIO,
            ("2000", "common practice for a bob of moderate weight; measure it by letting it swing down"),
            "Swings it makes while its energy falls to 1/535: the quality factor Q.",
            "8000",
        ),
    ]],
};
static WEIGHT_BODY: Section = Section {
    name: "weight body",
    help: "A shell filled to its mass.",
    groups: &[&[
        must("outside", DIAMETER, "Outside diameter of the shell.", "\"64 mm\""),
        must("inside", DIAMETER, "Inside diameter of the shell.", "\"60 mm\""),
        must("height", LENGTH, "Height over all.", "\"170 mm\""),
        must("cap", LENGTH, "Thickness of each cap.", "\"6 mm\""),
        or(
            "filling",
            Kind::Material,
            ("lead", "lead shot, the usual filling"),
            "What it is filled with.",
            "\"lead\"",
        ),
        or(
            "packing",
            quantity(Of::Density),
            ("6.9 g/cm3", "lead shot as poured; from memory"),
            "Density of the filling as poured.",
            "\"6.9 g/cm3\"",
        ),
    ]],
};
static WEIGHT: Section = Section {
    name: "weight",
    help: "A hanging weight.",
    groups: &[&[
        must("mass", MASS, "Mass that hangs, with its pulley.", "\"3.5 kg\""),
        or("arbor", Kind::Text, ("great", "the usual name of that arbor"), "Arbor of the drum.", "\"great\""),
        must("drum", DIAMETER, "Diameter of the drum at the bottom of its groove.", "\"38 mm\""),
        must("line", DIAMETER, "Diameter of the line.", "\"1.2 mm\""),
        or(
            "falls",
            Kind::Count(1, 4),
            ("1", "it hangs straight on its line"),
            "Lengths of line that carry it: 2 with one pulley.",
            "2",
        ),
        may("room", LENGTH, "From the drum's centre down to the case's floor.", "\"1320 mm\""),
        or(
            "pulley",
            LENGTH,
            ("40 mm", "house default"),
            "Height of the pulley over the weight.",
            "\"40 mm\"",
        ),
        or("spare", LENGTH, ("60 mm", "house default"), "Room to keep below and above.", "\"60 mm\""),
        may(
            "body",
            Kind::Table(&WEIGHT_BODY),
            "Its body.",
            "{ outside = \"64 mm\", inside = \"60 mm\", height = \"170 mm\", cap = \"6 mm\" }",
        ),
    ]],
};
static MEASURED_TURN: Section = Section {
    name: "measured point",
    help: "A torque of the spring, as measured.",
    groups: &[&[
        must("turns", Kind::Quantity(Of::Ratio, Range::NotNegative), "Turns wound from run down.", "3"),
        must("torque", quantity(Of::Torque), "Torque at the barrel there.", "\"1200 N mm\""),
    ]],
};
static BARREL: Section = Section {
    name: "barrel",
    help: "The barrel.",
    groups: &[&[
        must("inside", DIAMETER, "Inside diameter.", "\"45 mm\""),
        must("outside", DIAMETER, "Outside diameter.", "\"49 mm\""),
        must("height", LENGTH, "Inside height.", "\"25.3 mm\""),
        must("arbor", DIAMETER, "Diameter of its arbor where the spring hooks.", "\"15 mm\""),
        may(
            "place",
            BETWEEN,
            "Where its body begins and ends, from the inside of the back plate.",
            "[\"1 mm\", \"30.3 mm\"]",
        ),
        or("cover", LENGTH, ("2 mm", "house default"), "Thickness of its cover.", "\"2 mm\""),
        or("bottom", LENGTH, ("2 mm", "house default"), "Thickness of its bottom.", "\"2 mm\""),
        or("material", Kind::Material, BRASS_BAR, "What it is made of.", "\"brass CZ121\""),
        may(
            "at",
            AT,
            "Where a barrel that drives a fusee stands on the plates: x, y.",
            "[\"-60 mm\", \"-40 mm\"]",
        ),
    ]],
};
static SPRING: Section = Section {
    name: "spring",
    help: "A mainspring in a barrel.",
    groups: &[&[
        or(
            "arbor",
            Kind::Text,
            ("barrel", "the usual name of that arbor"),
            "Arbor of the barrel; of the fusee where there is one.",
            "\"barrel\"",
        ),
        must("thickness", LENGTH, "Thickness of the strip.", "\"0.45 mm\""),
        must("height", LENGTH, "Height of the strip.", "\"25 mm\""),
        must("length", LENGTH, "Length of the strip.", "\"1571 mm\""),
        or(
            "elasticity",
            quantity(Of::Pressure),
            ("205 GPa", "carbon spring steel; from memory"),
            "Modulus of elasticity.",
            "\"205 GPa\"",
        ),
        or(
            "yield",
            quantity(Of::Pressure),
            ("1700 MPa", "blue tempered carbon steel 1600 to 1800; from memory"),
            "Stress at which it takes a set.",
            "\"1700 MPa\"",
        ),
        must(
            "barrel",
            Kind::Table(&BARREL),
            "The barrel.",
            "{ inside = \"45 mm\", outside = \"49 mm\", height = \"25.3 mm\", arbor = \"15 mm\" }",
        ),
        may("stop_turns", RATIO, "Turns that the stop work allows.", "6"),
        or(
            "left_at_top",
            Kind::Quantity(Of::Ratio, Range::NotNegative),
            ("0.9", "house default: not wound quite full"),
            "Turns left unwound at the top.",
            "0.9",
        ),
        follows(
            "coils",
            SHARE,
            "0.85, 0.9, 0.95: friction of the coils, common practice",
            "Part of its torque that the coils deliver: low, likely, high.",
            "[0.85, 0.9, 0.95]",
        ),
        may(
            "measured",
            Kind::Tables(&MEASURED_TURN),
            "Torques as measured, which take the place of the model.",
            "[{ turns = 1, torque = \"900 N mm\" }]",
        ),
    ]],
};
static FUSEE: Section = Section {
    name: "fusee",
    help: "A fusee that evens the pull of the spring.",
    groups: &[&[
        must("arbor", Kind::Text, "Arbor of the fusee and great wheel.", "\"great\""),
        must("turns", RATIO, "Turns of its groove.", "16"),
        must("barrel_turns", RATIO, "Turns that the barrel makes meanwhile.", "5"),
        or(
            "set_up",
            Kind::Quantity(Of::Ratio, Range::NotNegative),
            ("0.75", "common practice: half a turn to one turn"),
            "Turns that the spring is set up.",
            "0.75",
        ),
        must("chain", LENGTH, "Thickness of the chain or line along the groove.", "\"1 mm\""),
        or(
            "gap",
            LENGTH,
            ("0.15 mm", "common practice: 0.1 to 0.15 mm"),
            "Land between two turns of the groove.",
            "\"0.15 mm\"",
        ),
        may(
            "line",
            LINE,
            "Torque of the spring when set up, and what it gains a turn, where they are known.",
            "[\"700 N mm\", \"130 N mm\"]",
        ),
    ]],
};
static MAINTAINING: Section = Section {
    name: "maintaining power",
    help: "What drives the clock while it is wound.",
    groups: &[&[
        or(
            "ratchet_teeth",
            Kind::Count(12, 300),
            ("80", "common practice: 60 to 120"),
            "Teeth of the ratchet.",
            "80",
        ),
        or("time", TIME, ("4 min", "house default"), "How long it drives.", "\"4 min\""),
        or(
            "share",
            RATIO,
            ("0.85", "common practice: 80 to 95 % of the working torque"),
            "Part of the working torque that it gives.",
            "0.85",
        ),
    ]],
};
/// What drives the clock.
pub(super) static DRIVE: Section = Section {
    name: "drive",
    help: "What drives the clock: a weight, or a spring with or without a fusee.",
    groups: &[&[
        may(
            "weight",
            Kind::Table(&WEIGHT),
            "A weight.",
            "{ mass = \"3.5 kg\", drum = \"38 mm\", line = \"1.2 mm\" }",
        ),
        may(
            "spring",
            Kind::Table(&SPRING),
            "A spring.",
            "{ thickness = \"0.45 mm\", height = \"25 mm\", length = \"1571 mm\", barrel = { inside = \"45 mm\", outside = \"49 mm\", height = \"25.3 mm\", arbor = \"15 mm\" } }",
        ),
        may(
            "fusee",
            Kind::Table(&FUSEE),
            "A fusee between spring and train.",
            "{ arbor = \"great\", turns = 16, barrel_turns = 5, chain = \"1 mm\" }",
        ),
        may(
            "maintaining",
            Kind::Table(&MAINTAINING),
            "Maintaining power.",
            "{ ratchet_teeth = 80, time = \"4 min\" }",
        ),
        or("clicks", Kind::Count(12, 300), ("40", "house default"), "Teeth of the winding ratchet.", "40"),
        or(
            "square",
            LENGTH,
            ("5 mm", "a size that keys are sold in; common practice"),
            "Winding square across its flats.",
            "\"5 mm\"",
        ),
    ]],
};
/// What is lost on the way.
pub(super) static LOSSES: Section = Section {
    name: "losses",
    help: "What is lost on the way, as a range: low, likely, high. Never one number.",
    groups: &[&[
        follows(
            "train",
            SHARE,
            "computed from teeth and pivots",
            "Part of the power that reaches the escape arbor.",
            "[0.55, 0.65, 0.75]",
        ),
        follows(
            "escapement",
            SHARE,
            "common practice for the kind",
            "Part of that which reaches the pendulum.",
            "[0.3, 0.35, 0.4]",
        ),
        follows(
            "friction",
            SHARE,
            "0.1, 0.15, 0.25: steel on oiled brass, fresh to stale, common practice",
            "Coefficient of friction of teeth and pivots.",
            "[0.1, 0.15, 0.25]",
        ),
    ]],
};
