//! What `clock.toml` may say of the movement's body: what is wanted, train, motion work, plates, dial, case.

use super::{AT, DIAMETER, General, Kind, LENGTH, Of, Range, Section, follows, may, must, or, quantity};

pub(super) const TIME: Kind = quantity(Of::Time);
const LEAVES: Kind = Kind::Count(3, 200);
const TEETH: Kind = Kind::Count(3, 2_000);
pub(super) const BETWEEN: Kind = Kind::Fixed(&[
    ("from", Kind::Quantity(Of::Length, Range::Any)),
    ("to", Kind::Quantity(Of::Length, Range::Any)),
]);
const SIZE: Kind = Kind::Fixed(&[("width", LENGTH), ("height", LENGTH)]);
pub(super) const BRASS: (&str, &str) = ("brass CZ120", "the usual clock brass, in sheet");
pub(super) const STEEL: (&str, &str) =
    ("silver steel", "the usual steel of arbors and pinions, in ground bar");

/// What is wanted of the movement; each is checked, none is assumed.
pub(super) static WANTED: Section = Section {
    name: "wanted",
    help: "What is wanted of the movement. Each demand is checked against what was written.",
    groups: &[&[
        may("beats_per_hour", Kind::Count(60, 36_000), "Beats of the pendulum in an hour.", "3600"),
        may("run", TIME, "How long it goes on one winding.", "\"8 d\""),
        or(
            "reserve_turns",
            Kind::Quantity(Of::Ratio, Range::NotNegative),
            ("0.5", "half a turn of the barrel or drum in hand"),
            "Turns of the barrel or drum in hand at the end of the run.",
            "0.5",
        ),
        may("seconds_hand", Kind::Text, "Arbor that carries a seconds hand.", "\"escape\""),
        or(
            "least_leaves",
            Kind::Count(3, 30),
            ("8", "common practice for a going train"),
            "Fewest leaves of a pinion in the train.",
            "8",
        ),
    ]],
};
static PINION: Section = Section {
    name: "pinion",
    help: "The pinion of an arbor, which the wheel of another drives.",
    groups: &[&[
        must("leaves", LEAVES, "Number of leaves or pins.", "12"),
        or(
            "kind",
            Kind::Word(&[("cut", "leaves cut in the solid"), ("lantern", "pins between two discs")]),
            ("cut", "the usual pinion"),
            "How it is made.",
            "\"lantern\"",
        ),
        follows(
            "profile",
            Kind::Word(&[
                ("round", "half circle on the leaf"),
                ("third", "one-third ogive"),
                ("two-thirds", "two-thirds ogive"),
            ]),
            "two-thirds to 7 leaves, third to 9, round above",
            "Top of the leaves.",
            "\"round\"",
        ),
        may("module", LENGTH, "Module; that of the wheel which drives it where not written.", "\"0.6 mm\""),
        may(
            "place",
            BETWEEN,
            "Where it begins and ends, from the inside of the back plate.",
            "[\"26.5 mm\", \"32 mm\"]",
        ),
        may("pin", DIAMETER, "Diameter of a lantern pinion's pins.", "\"0.84 mm\""),
        may(
            "length",
            LENGTH,
            "Length of its leaves; from its place, or a rule, where not written.",
            "\"5 mm\"",
        ),
    ]],
};
static WHEEL: Section = Section {
    name: "wheel",
    help: "The wheel of an arbor, which drives the pinion of the next.",
    groups: &[&[
        must("teeth", TEETH, "Number of teeth.", "80"),
        may("module", LENGTH, "Module; from `centres` or `old_outside` where not written.", "\"0.5 mm\""),
        or(
            "form",
            Kind::Word(&[
                ("ogive", "circular arcs of BS 978-2"),
                ("close ogive", "one arc nearest to the true curve"),
                ("epicycloid", "the true curve"),
                ("involute", "straight-flanked rack"),
            ]),
            ("ogive", "the form of BS 978-2 that cutters are made to"),
            "Form of its teeth.",
            "\"epicycloid\"",
        ),
        follows(
            "thickness",
            Kind::Size(General::Length),
            "2.5 to 3.5 modules by the load",
            "Thickness.",
            "\"1.5 mm\"",
        ),
        or("material", Kind::Material, BRASS, "What it is made of.", "\"brass CZ120\""),
        follows(
            "arms",
            Kind::Count(0, 12),
            "by its size",
            "Arms left when it is crossed out; 0 leaves it solid.",
            "5",
        ),
        may("bore", DIAMETER, "Hole that its collet's seat or its arbor takes.", "\"8 mm\""),
        may(
            "rim",
            LENGTH,
            "Rim left under the teeth; twice the tooth's depth where not written.",
            "\"3 mm\"",
        ),
        may("arm_width", LENGTH, "Width of an arm; four modules where not written.", "\"2.5 mm\""),
        may(
            "place",
            BETWEEN,
            "Where it begins and ends, from the inside of the back plate.",
            "[\"33.5 mm\", \"35.5 mm\"]",
        ),
        may("mate", LEAVES, "Leaves of the pinion it drives, where that is no part of this project.", "8"),
        may(
            "centres",
            LENGTH,
            "Distance of centres from that pinion, as measured in the old plates.",
            "\"17.6 mm\"",
        ),
        may("old_outside", DIAMETER, "Diameter over the teeth of the old wheel, as measured.", "\"39.2 mm\""),
        may(
            "joined",
            JOINED,
            "How it is fixed on its collet or seat; the first way that holds its load where not written.",
            "\"rivet\"",
        ),
    ]],
};
/// Ways of joining.
const JOINED: Kind = Kind::Word(&[
    ("rivet", "a rim spread over"),
    ("press", "forced in, larger than its hole"),
    ("adhesive", "retaining adhesive, cold"),
    ("soft solder", "tin solder, some 220 °C"),
    ("silver solder", "red heat"),
    ("shellac", "can be moved again while warm"),
]);
/// Name of an arbor.
const ARBOR_NAME: super::Key = must("name", Kind::Text, "Name, as it is called on the bench.", "\"third\"");
/// An arbor and what it carries.
pub(super) static ARBOR: Section = Section {
    name: "arbor",
    help: "An arbor of the movement: its pinion, its wheel, where it stands.",
    groups: &[&[
        ARBOR_NAME,
        may("was", Kind::Text, "Earlier name that measurements may still carry.", "\"second\""),
        may(
            "joined",
            JOINED,
            "How its collet, or what else sits on it, is fixed; the first way that holds and spares its temper where not written.",
            "\"adhesive\"",
        ),
        may("driven_by", Kind::Text, "The arbor whose wheel drives this one's pinion.", "\"great\""),
        may("turns_once_in", TIME, "Time of one turn: a demand that is checked.", "\"1 h\""),
        may("pinion", Kind::Table(&PINION), "Its pinion.", "{ leaves = 12 }"),
        may("wheel", Kind::Table(&WHEEL), "Its wheel.", "{ teeth = 80, module = \"0.5 mm\" }"),
        may(
            "at",
            AT,
            "Where it stands on the plates: x, y from the dial's centre, y upwards, seen from the dial.",
            "[\"0 mm\", \"-54.6 mm\"]",
        ),
        may(
            "bearing",
            Kind::Quantity(Of::Angle, Range::Any),
            "Direction from the arbor that drives it, anticlockwise from the right; its distance follows from the teeth.",
            "\"112 deg\"",
        ),
        may(
            "carries",
            Kind::Word(&[("minute hand", "turns once an hour"), ("seconds hand", "turns once a minute")]),
            "The hand it carries.",
            "\"minute hand\"",
        ),
        follows(
            "diameter",
            DIAMETER,
            "by its place in the train",
            "Diameter of the arbor between its pivots.",
            "\"4 mm\"",
        ),
        follows("pivot", DIAMETER, "by its place in the train", "Diameter of its pivots.", "\"1 mm\""),
        follows(
            "endshake",
            LENGTH,
            "by its place in the train",
            "Play along its axis between the plates.",
            "\"0.2 mm\"",
        ),
        or("material", Kind::Material, STEEL, "What the arbor is made of.", "\"silver steel\""),
        or(
            "runs",
            Kind::Word(&[
                ("between the plates", "a pivot in each plate"),
                ("in front", "between the front plate and a bridge in front of it"),
                ("behind", "between the back plate and a cock behind it"),
            ]),
            ("between the plates", "the usual place"),
            "Between what it runs.",
            "\"in front\"",
        ),
    ]],
};
pub(super) static MOTION_WORK: Section = Section {
    name: "motion work",
    help: "The wheels behind the dial that turn the hour hand.",
    groups: &[&[
        must(
            "counts",
            Kind::Fixed(&[
                ("cannon", Kind::Count(3, 300)),
                ("minute_wheel", Kind::Count(3, 300)),
                ("minute_pinion", Kind::Count(3, 300)),
                ("hour_wheel", Kind::Count(3, 300)),
            ]),
            "Cannon, minute wheel, minute pinion, hour wheel.",
            "[15, 45, 12, 48]",
        ),
        must("module", LENGTH, "Module of the cannon's pair.", "\"0.6 mm\""),
        may("second_module", LENGTH, "Module of the hour wheel's pair, where it differs.", "\"0.6 mm\""),
        or("thickness", LENGTH, ("1.5 mm", "house default"), "Thickness of its wheels.", "\"1.5 mm\""),
        or("material", Kind::Material, BRASS, "What its wheels are made of.", "\"brass CZ120\""),
        may(
            "bearing",
            Kind::Quantity(Of::Angle, Range::Any),
            "Direction of the minute wheel from the centre, anticlockwise from the right.",
            "\"0 deg\"",
        ),
    ]],
};
/// The plates.
pub(super) static PLATES: Section = Section {
    name: "plates",
    help: "The plates and what holds them apart.",
    groups: &[&[
        or("material", Kind::Material, BRASS, "What they are made of.", "\"brass CZ120\""),
        must("size", SIZE, "Width and height.", "[\"104 mm\", \"214 mm\"]"),
        must("thickness", LENGTH, "Thickness.", "\"4 mm\""),
        must("gap", LENGTH, "Between the plates.", "\"42 mm\""),
        may(
            "corner",
            AT,
            "Lower left corner, seen from the dial: x, y; the plate stands evenly round its pillars where not written.",
            "[\"-52 mm\", \"-118 mm\"]",
        ),
        may(
            "pillars",
            Kind::List(&AT),
            "Where the pillars stand: x, y.",
            "[[\"42 mm\", \"86 mm\"], [\"-42 mm\", \"86 mm\"]]",
        ),
        or("pillar_diameter", DIAMETER, ("10 mm", "house default"), "Diameter of the pillars.", "\"10 mm\""),
        or("pillar_spigot", DIAMETER, ("6 mm", "house default"), "Diameter of their spigots.", "\"6 mm\""),
    ]],
};
/// The hands.
pub(super) static HANDS: Section = Section {
    name: "hands",
    help: "The hands.",
    groups: &[&[
        follows(
            "minute",
            LENGTH,
            "to the minute circle",
            "Length of the minute hand from its centre.",
            "\"73 mm\"",
        ),
        follows(
            "hour",
            LENGTH,
            "two thirds of the minute hand",
            "Length of the hour hand from its centre.",
            "\"48 mm\"",
        ),
        follows(
            "seconds",
            LENGTH,
            "to the seconds circle",
            "Length of the seconds hand from its centre.",
            "\"23 mm\"",
        ),
        or("thickness", LENGTH, ("0.6 mm", "house default"), "Thickness.", "\"0.6 mm\""),
        or(
            "material",
            Kind::Material,
            ("blue spring steel", "the usual steel of hands"),
            "What they are made of.",
            "\"blue spring steel\"",
        ),
    ]],
};
/// The dial.
pub(super) static DIAL: Section = Section {
    name: "dial",
    help: "The dial.",
    groups: &[&[
        must("minute_circle", DIAMETER, "Diameter of the minute circle.", "\"150 mm\""),
        may("seconds_circle", DIAMETER, "Diameter of the seconds circle.", "\"50 mm\""),
        follows(
            "outside",
            DIAMETER,
            "the minute circle and a rim round it",
            "Diameter of the dial.",
            "\"165 mm\"",
        ),
        or("thickness", LENGTH, ("1.5 mm", "house default"), "Thickness.", "\"1.5 mm\""),
        or("material", Kind::Material, BRASS, "What it is made of.", "\"brass CZ120\""),
    ]],
};
/// The case.
pub(super) static CASE: Section = Section {
    name: "case",
    help: "The case or dome that the clock has to fit.",
    groups: &[&[
        may("width", LENGTH, "Inside width, or inside diameter of a dome.", "\"260 mm\""),
        may("height", LENGTH, "Inside height below the pendulum's axis.", "\"1250 mm\""),
        may("depth", LENGTH, "Inside depth.", "\"140 mm\""),
        may(
            "weight_aside",
            Kind::Quantity(Of::Length, Range::Any),
            "How far the weight hangs beside the middle of the pendulum.",
            "\"0 mm\"",
        ),
        may(
            "weight_in_front",
            Kind::Quantity(Of::Length, Range::Any),
            "How far the weight hangs in front of the bob's middle.",
            "\"60 mm\"",
        ),
    ]],
};
static PAIR: Kind = Kind::Fixed(&[("driver", Kind::Count(1, 2_000)), ("driven", Kind::Count(3, 2_000))]);
/// An indication besides the time.
pub(super) static INDICATION: Section = Section {
    name: "indication",
    help: "An indication besides the time of day.",
    groups: &[&[
        must("name", Kind::Text, "Name, as it is called on the bench.", "\"moon\""),
        must(
            "of",
            Kind::Word(&[
                ("moon", "the moon's age: a synodic month"),
                ("two moons", "a disc with two moons: two synodic months"),
                ("sidereal", "the day of the stars"),
                ("lunar day", "the day of the tides"),
                ("year", "the tropical year"),
                ("week", "seven days"),
                ("equation of time", "a cam that turns once a year"),
            ]),
            "What it shows.",
            "\"moon\"",
        ),
        must("from_period", TIME, "Time of one turn of what drives it.", "\"12 h\""),
        must("pairs", Kind::List(&PAIR), "Its pairs of wheels: driver, driven.", "[[9, 92], [9, 104]]"),
        may(
            "base",
            Kind::Quantity(Of::Length, Range::Positive),
            "Smallest radius of an equation cam.",
            "\"10 mm\"",
        ),
    ]],
};
