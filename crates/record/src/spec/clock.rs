//! What `clock.toml` may say.

use super::finish::{FINISH, OTHERWISE};
use super::{
    AT, DIAMETER, FORMAT_KEY, General, Key, Kind, LENGTH, Of, PRINT, Range, Section, follows, may, must, or,
    quantity, table,
};
use super::{going, movement};

/// All of `clock.toml`.
pub static CLOCK: Section = Section {
    name: "clock.toml",
    help: "The design: what is wanted, as little as needed.",
    groups: &[&[
        FORMAT_KEY,
        table("clock", Kind::Table(&PROJECT), "The project.", "{ name = \"Hall regulator\" }"),
        table("limits", Kind::Table(&LIMITS), "General limits of the house.", "{ length = \"±0.1 mm\" }"),
        may(
            "wanted",
            Kind::Table(&movement::WANTED),
            "What is wanted of the movement.",
            "{ beats_per_hour = 3600 }",
        ),
        may("arbor", Kind::Parts(&movement::ARBOR), "Arbors of the movement.", "[]"),
        may(
            "motion_work",
            Kind::Table(&movement::MOTION_WORK),
            "Motion work.",
            "{ counts = [15, 45, 12, 48], module = \"0.6 mm\" }",
        ),
        may(
            "escapement",
            Kind::Table(&going::ESCAPEMENT),
            "Escapement.",
            "{ kind = \"dead-beat\", teeth = 30, wheel_diameter = \"40 mm\", running_arc = \"1.7 deg\" }",
        ),
        may(
            "pendulum",
            Kind::Table(&going::PENDULUM),
            "Pendulum.",
            "{ rod = { material = \"invar\", diameter = \"8 mm\" }, bob = { diameter = \"80 mm\", height = \"143 mm\", material = \"brass CZ121\" } }",
        ),
        may(
            "drive",
            Kind::Table(&going::DRIVE),
            "Drive.",
            "{ weight = { mass = \"3.5 kg\", drum = \"38 mm\", line = \"1.2 mm\" } }",
        ),
        table("losses", Kind::Table(&going::LOSSES), "Losses.", "{ friction = [0.1, 0.15, 0.25] }"),
        may(
            "plates",
            Kind::Table(&movement::PLATES),
            "Plates.",
            "{ size = [\"104 mm\", \"214 mm\"], thickness = \"4 mm\", gap = \"42 mm\" }",
        ),
        may("dial", Kind::Table(&movement::DIAL), "Dial.", "{ minute_circle = \"150 mm\" }"),
        may("hands", Kind::Table(&movement::HANDS), "Hands.", "{ minute = \"73 mm\" }"),
        may("case", Kind::Table(&movement::CASE), "Case.", "{ height = \"1250 mm\" }"),
        may("indication", Kind::Parts(&movement::INDICATION), "Indications besides the time.", "[]"),
        may(
            "order",
            Kind::Tables(&FIRST),
            "Orders of work wanted otherwise than the program has them.",
            "[{ first = \"great wheel\", then = \"centre wheel\", reason = \"the cutter is lent until Friday\" }]",
        ),
        may("screw", Kind::Parts(&SCREW), "Screws, each kind once.", "[]"),
        may("stud", Kind::Parts(&STUD), "Studs: a thread at both ends.", "[]"),
        may("washer", Kind::Parts(&WASHER), "Washers.", "[]"),
        may("pillar", Kind::Parts(&PILLAR), "Pillars between plates.", "[]"),
        may("foot", Kind::Parts(&FOOT), "Feet that the clock stands on.", "[]"),
        may("bush", Kind::Parts(&BUSH), "Bushes.", "[]"),
        may("collet", Kind::Parts(&COLLET), "Collets that carry wheels on arbors.", "[]"),
        may("turned", Kind::Parts(&TURNED), "Free turned parts.", "[]"),
        may("flat", Kind::Parts(&FLAT), "Free parts cut from plate.", "[]"),
    ]],
};
static PROJECT: Section = Section {
    name: "clock",
    help: "The project: its name, where it stands, how it is printed.",
    groups: &[&[
        or(
            "name",
            Kind::Text,
            ("clock", "the project has no name yet"),
            "Name of the project.",
            "\"Hall regulator\"",
        ),
        may("was", Kind::Text, "Earlier name that its journal may still carry.", "\"Kitchen regulator\""),
        may("site", Kind::Table(&SITE), "Where the clock stands.", "{ temperature = \"19 degC\" }"),
        or(
            "evening",
            quantity(Of::Time),
            ("2.5 h", "an evening in the shop, until written"),
            "How long an evening in the shop is.",
            "\"2 h\"",
        ),
        or(
            "evenings_a_week",
            Kind::Count(1, 7),
            ("3", "evenings a week, until written"),
            "On how many evenings of a week there is work on it.",
            "4",
        ),
        or(
            "print",
            Kind::Word(PRINT),
            ("mm", "the usual unit on a drawing"),
            "How lengths are printed.",
            "\"mm\"",
        ),
        or(
            "paper",
            Kind::Word(&[("A4", "210 × 297 mm"), ("Letter", "8.5 × 11 in")]),
            ("A4", "the usual sheet"),
            "Paper that sheets are printed on.",
            "\"Letter\"",
        ),
    ]],
};
static FIRST: Section = Section {
    name: "order",
    help: "One job of the whole clock before another, by their names on the sheet of the order of work, or by the name of a part for all that is done to it; the reason is printed there.",
    groups: &[&[
        must("first", Kind::Text, "What is done first.", "\"great wheel\""),
        must("then", Kind::Text, "What is done after it.", "\"centre wheel: teeth cut\""),
        must("reason", Kind::Text, "Why it is right here.", "\"the cutter is lent until Friday\""),
    ]],
};
static SITE: Section = Section { name: "site", help: "Where the clock stands.", groups: &[SITE_KEYS] };
pub(super) const SITE_KEYS: &[Key] = &[
    may(
        "latitude",
        Kind::Quantity(Of::Angle, Range::Any),
        "Geographic latitude, north positive.",
        "\"52.2 deg\"",
    ),
    may("altitude", Kind::Quantity(Of::Length, Range::Far), "Height above the sea.", "\"60 m\""),
    may("temperature", Kind::Quantity(Of::Temperature, Range::Room), "Usual temperature.", "\"18 degC\""),
    may(
        "warmer_by_day",
        Kind::Quantity(Of::Difference, Range::Room),
        "How much warmer than a day's mean the room gets in the afternoon.",
        "\"1.5 K\"",
    ),
    may(
        "warmer_by_year",
        Kind::Quantity(Of::Difference, Range::Room),
        "How much warmer than a year's mean the room gets in summer.",
        "\"4 K\"",
    ),
];
static LIMITS: Section = Section {
    name: "limits",
    help: "General limits: what a size takes that has none of its own.",
    groups: &[&[
        or("length", Kind::Band, ("±0.1 mm", "house default"), "For lengths and thicknesses.", "\"±0.1 mm\""),
        or(
            "diameter",
            Kind::Band,
            ("±0.05 mm", "house default"),
            "For outside diameters.",
            "\"+0/-0.05 mm\"",
        ),
        or("hole", Kind::Band, ("+0.1/0 mm", "house default"), "For holes.", "\"+0.1/0 mm\""),
    ]],
};

pub(super) const NAME: Key =
    must("name", Kind::Text, "Name, as it is called on the bench.", "\"bridge screw\"");
/// What every part has.
const COMMON: &[Key] = &[
    NAME,
    may("was", Kind::Text, "Earlier name that measurements may still carry.", "\"cock screw\""),
    or(
        "count",
        Kind::Count(1, 10_000),
        ("1", "one is made where no number is written"),
        "How many the clock needs.",
        "10",
    ),
    may(
        "spares",
        Kind::Count(0, 10_000),
        "Spares to make besides; by the rule of the trade where not written.",
        "1",
    ),
    must("material", Kind::Material, "What it is made of.", "\"silver steel\""),
    may(
        "finish",
        Kind::List(&Kind::Word(FINISH)),
        "Heat and finish, in order.",
        "[\"harden\", \"polish\", \"blue\"]",
    ),
    may(
        "hardness",
        quantity(Of::Ratio),
        "Hardness that it is tempered to, HRC; what is usual for such a part where it is not written.",
        "56",
    ),
    may(
        "order",
        Kind::Tables(&OTHERWISE),
        "Orders of finish wanted though a rule stands against them.",
        "[{ first = \"polish\", then = \"harden\", reason = \"wrapped in foil, argon flows\" }]",
    ),
    may("note", Kind::Text, "A remark to print on its sheet.", "\"fits the old cock\""),
];
const CLASS: Key = follows(
    "class",
    Kind::Text,
    "the normal class of that thread's standard",
    "Class of the thread's limits, as its standard names it.",
    "\"6g\"",
);
const THREAD_EXAMPLE: &str = "\"M4\"";

static SCREW: Section = Section {
    name: "screw",
    help: "A screw.",
    groups: &[
        COMMON,
        &[
            must("thread", Kind::Thread, "Thread.", THREAD_EXAMPLE),
            CLASS,
            must(
                "length",
                Kind::Size(General::Length),
                "Length under the head; over all for a countersunk head or a headless screw.",
                "\"11 mm\"",
            ),
            may(
                "thread_length",
                LENGTH,
                "Length of full thread from the point; all of the shank where not written.",
                "\"8 mm\"",
            ),
            must(
                "head",
                Kind::TableOrNone(&HEAD),
                "Head; \"none\" for a grub screw.",
                "{ diameter = \"8 mm\", height = \"3.2 mm\" }",
            ),
            Key {
                name: "slot",
                kind: Kind::TableOrNone(&SLOT),
                need: super::Need::Follows("the usual slot for that head"),
                help: "Slot for a screwdriver; \"none\" where there is none.",
                example: "{ width = \"1 mm\", depth = \"1.3 mm\" }",
            },
            may(
                "undercut",
                Kind::Table(&UNDERCUT),
                "Groove below the head, so that the seat is met.",
                "{ diameter = \"3 mm\", width = \"1 mm\" }",
            ),
            may(
                "shank",
                Kind::Size(General::Diameter),
                "Plain shank between head and thread, where it differs from the thread's own diameter.",
                "\"4 h9\"",
            ),
            POINT,
        ],
    ],
};
const POINT: Key = or(
    "point",
    Kind::Word(&[
        ("chamfered", "45° to below the root of the thread"),
        ("flat", "left square"),
        ("domed", "rounded"),
    ]),
    ("chamfered", "a chamfered point starts in its hole without harm"),
    "The free end.",
    "\"domed\"",
);
static HEAD: Section = Section {
    name: "head",
    help: "Head of a screw.",
    groups: &[&[
        or(
            "form",
            Kind::Word(&[
                ("cheese", "straight cylinder"),
                ("countersunk", "cone that sinks flush"),
                ("domed", "cylinder with a domed top"),
                ("hexagon", "hexagon; its diameter is the size across flats"),
            ]),
            ("cheese", "the usual head of a clock screw"),
            "Form.",
            "\"domed\"",
        ),
        must("diameter", Kind::Size(General::Diameter), "Diameter; across flats for a hexagon.", "\"8 mm\""),
        must(
            "height",
            Kind::Size(General::Length),
            "Height from the seat to the top, dome included.",
            "\"3.2 mm\"",
        ),
        follows(
            "angle",
            quantity(Of::Angle),
            "90° for a countersunk head",
            "Full angle of a countersunk head.",
            "\"90 deg\"",
        ),
        follows(
            "dome",
            LENGTH,
            "a radius of the head's diameter for a domed head",
            "Radius of the dome.",
            "\"10 mm\"",
        ),
        may("chamfer", LENGTH, "Chamfer on the upper edge.", "\"0.2 mm\""),
    ]],
};
static SLOT: Section = Section {
    name: "slot",
    help: "Slot for a screwdriver.",
    groups: &[&[must("width", LENGTH, "Width.", "\"1 mm\""), must("depth", LENGTH, "Depth.", "\"1.3 mm\"")]],
};
static UNDERCUT: Section = Section {
    name: "undercut",
    help: "A narrow groove beside a shoulder.",
    groups: &[&[
        must("diameter", DIAMETER, "Diameter at the bottom.", "\"3 mm\""),
        must("width", LENGTH, "Width along the axis.", "\"1 mm\""),
    ]],
};
static STUD_END: Section = Section {
    name: "end of a stud",
    help: "One end of a stud.",
    groups: &[&[
        must("thread", Kind::Thread, "Thread.", THREAD_EXAMPLE),
        CLASS,
        must("length", LENGTH, "Length of the thread.", "\"6 mm\""),
    ]],
};
static STUD: Section = Section {
    name: "stud",
    help: "A stud: threads at both ends.",
    groups: &[
        COMMON,
        &[
            must("length", Kind::Size(General::Length), "Length over all.", "\"30 mm\""),
            must("first", Kind::Table(&STUD_END), "The first end.", "{ thread = \"M4\", length = \"6 mm\" }"),
            Key {
                name: "other",
                kind: Kind::Table(&STUD_END),
                need: super::Need::Follows("the same as the first end"),
                help: "The other end.",
                example: "{ thread = \"M3\", length = \"8 mm\" }",
            },
            may(
                "plain",
                Kind::Size(General::Diameter),
                "Plain part between, where it differs from the larger thread.",
                "\"5 mm\"",
            ),
            POINT,
        ],
    ],
};
const FACE: Key = or(
    "face",
    Kind::Word(&[("front", "the one that is seen; the first end of a turned part"), ("back", "the other")]),
    ("front", "the face that is seen"),
    "In which face.",
    "\"back\"",
);
static FACE_GROOVE: Section = Section {
    name: "face groove",
    help: "A ring-shaped groove in a face.",
    groups: &[&[
        must("diameter", DIAMETER, "Diameter of the groove's middle.", "\"15 mm\""),
        must("width", LENGTH, "Width at the face.", "\"1.5 mm\""),
        must("depth", LENGTH, "Depth.", "\"0.5 mm\""),
        or(
            "form",
            Kind::Word(&[
                ("square", "flat bottom, straight walls"),
                ("round", "a circle's arc as wide as the groove"),
                ("vee", "two sloping walls that meet"),
            ]),
            ("square", "the form that a square-nosed tool leaves"),
            "Form.",
            "\"round\"",
        ),
        FACE,
    ]],
};
const FACE_GROOVES: Key = may(
    "face_grooves",
    Kind::Tables(&FACE_GROOVE),
    "Grooves in its faces.",
    "[{ diameter = \"15 mm\", width = \"1.5 mm\", depth = \"0.5 mm\", form = \"round\" }]",
);
static RELIEF: Section = Section {
    name: "relief",
    help: "A shallow recess in the middle of a face, so that only the rim bears.",
    groups: &[&[
        must("diameter", DIAMETER, "Diameter.", "\"12 mm\""),
        must("depth", LENGTH, "Depth.", "\"0.15 mm\""),
        FACE,
    ]],
};
static WASHER: Section = Section {
    name: "washer",
    help: "A washer.",
    groups: &[
        COMMON,
        &[
            must("outside", Kind::Size(General::Diameter), "Outside diameter.", "\"21 mm\""),
            must("hole", Kind::Size(General::Hole), "Hole.", "\"5.5 mm\""),
            must("thickness", Kind::Size(General::Length), "Thickness.", "\"3 mm\""),
            FACE_GROOVES,
            may("relief", Kind::Table(&RELIEF), "Recess.", "{ diameter = \"12 mm\", depth = \"0.15 mm\" }"),
            may("chamfer", LENGTH, "Chamfer on the outer edges.", "\"0.3 mm\""),
        ],
    ],
};
static PART_END: Section = Section {
    name: "end",
    help: "One end of a pillar, or the fixing of a foot: write one of `spigot`, `thread` or `tapped`.",
    groups: &[&[
        may(
            "spigot",
            Kind::Size(General::Diameter),
            "A plain spigot of this diameter; give its `length`.",
            "\"6 mm\"",
        ),
        may("thread", Kind::Thread, "A threaded spigot; give its `length`.", THREAD_EXAMPLE),
        may("tapped", Kind::Thread, "A tapped hole; give its `depth` of full thread.", THREAD_EXAMPLE),
        CLASS,
        may("length", LENGTH, "Length of a spigot.", "\"4 mm\""),
        may("depth", LENGTH, "Depth of full thread in a tapped hole.", "\"10 mm\""),
    ]],
};
const END_EXAMPLE: &str = "{ tapped = \"M4\", depth = \"10 mm\" }";
static WAIST: Section = Section {
    name: "waist",
    help: "A smaller diameter over the middle.",
    groups: &[&[
        must("diameter", DIAMETER, "Diameter.", "\"8 mm\""),
        must("length", LENGTH, "Length.", "\"20 mm\""),
    ]],
};
static PILLAR: Section = Section {
    name: "pillar",
    help: "A pillar between plates.",
    groups: &[
        COMMON,
        &[
            must("length", Kind::Size(General::Length), "Between the shoulders.", "\"42 mm\""),
            must("diameter", Kind::Size(General::Diameter), "Diameter.", "\"10 mm\""),
            may(
                "waist",
                Kind::Table(&WAIST),
                "A smaller diameter over the middle.",
                "{ diameter = \"8 mm\", length = \"20 mm\" }",
            ),
            must("ends", Kind::Tables(&PART_END), "Its two ends; one table stands for both.", END_EXAMPLE),
        ],
    ],
};
static FOOT: Section = Section {
    name: "foot",
    help: "A foot that a clock stands on.",
    groups: &[
        COMMON,
        &[
            must("diameter", Kind::Size(General::Diameter), "Largest diameter, at the bottom.", "\"18 mm\""),
            must(
                "height",
                Kind::Size(General::Length),
                "Height, without what goes into the base.",
                "\"12 mm\"",
            ),
            may("top", DIAMETER, "Diameter at the top, where it tapers.", "\"12 mm\""),
            must("fixing", Kind::Table(&PART_END), "How it is held.", END_EXAMPLE),
        ],
    ],
};
static FLANGE: Section = Section {
    name: "flange",
    help: "Flange of a bush.",
    groups: &[&[
        must("diameter", DIAMETER, "Diameter.", "\"8 mm\""),
        must("thickness", LENGTH, "Thickness.", "\"1 mm\""),
    ]],
};
static OIL_SINK: Section = Section {
    name: "oil sink",
    help: "Hollow that holds the oil.",
    groups: &[&[
        must("diameter", DIAMETER, "Diameter at the face.", "\"2.4 mm\""),
        must("depth", LENGTH, "Depth.", "\"0.6 mm\""),
    ]],
};
static BUSH: Section = Section {
    name: "bush",
    help: "A bush for a pivot or a worn hole.",
    groups: &[
        COMMON,
        &[
            must("outside", Kind::Size(General::Diameter), "Outside diameter.", "\"5 p6\""),
            must("bore", Kind::Size(General::Hole), "Bore.", "\"1.2 mm\""),
            must("length", Kind::Size(General::Length), "Length over all.", "\"4 mm\""),
            may("flange", Kind::Table(&FLANGE), "Flange.", "{ diameter = \"8 mm\", thickness = \"1 mm\" }"),
            may(
                "oil_sink",
                Kind::Table(&OIL_SINK),
                "Oil sink.",
                "{ diameter = \"2.4 mm\", depth = \"0.6 mm\" }",
            ),
        ],
    ],
};
static SEAT: Section = Section {
    name: "seat",
    help: "Seat of a wheel on a collet.",
    groups: &[&[
        must("diameter", Kind::Size(General::Diameter), "Diameter.", "\"6 h6\""),
        must("length", LENGTH, "Length.", "\"2 mm\""),
    ]],
};
static COLLET: Section = Section {
    name: "collet",
    help: "A collet that carries a wheel on an arbor.",
    groups: &[
        COMMON,
        &[
            must("diameter", Kind::Size(General::Diameter), "Body diameter.", "\"9 mm\""),
            must("length", Kind::Size(General::Length), "Length over all.", "\"7 mm\""),
            must("bore", Kind::Size(General::Hole), "Bore for the arbor.", "\"4 H7\""),
            must(
                "seat",
                Kind::Table(&SEAT),
                "Seat for the wheel, at the first end.",
                "{ diameter = \"6 h6\", length = \"2 mm\" }",
            ),
        ],
    ],
};
static SECTION: Section = Section {
    name: "section",
    help: "One length of a turned part, from its first end along the axis.",
    groups: &[&[
        must("length", LENGTH, "Length along the axis.", "\"12 mm\""),
        must("diameter", Kind::Size(General::Diameter), "Diameter where it begins.", "\"8 mm\""),
        may("to", DIAMETER, "Diameter where it ends, for a taper or an arc.", "\"6 mm\""),
        may("arc", LENGTH, "Radius of an arc from beginning to end.", "\"10 mm\""),
        follows(
            "bend",
            Kind::Word(&[("round", "bulges outward"), ("hollow", "bends inward")]),
            "round where there is an arc",
            "Which way the arc bulges.",
            "\"hollow\"",
        ),
        may("thread", Kind::Thread, "Thread over this section.", THREAD_EXAMPLE),
        CLASS,
        may("knurl", LENGTH, "Pitch of a straight knurl over this section.", "\"0.8 mm\""),
        may("chamfer", LENGTH, "Chamfer where it begins.", "\"0.3 mm\""),
    ]],
};
const HOLE_DIAMETER: Key = follows(
    "diameter",
    Kind::Size(General::Hole),
    "the tapping size, where it has a thread",
    "Diameter.",
    "\"3 mm\"",
);
static BORE: Section = Section {
    name: "bore",
    help: "A hole along the axis.",
    groups: &[&[
        or(
            "from",
            Kind::Word(&[("first", "where the sections begin"), ("other", "where they end")]),
            ("first", "the end where the sections begin"),
            "From which end.",
            "\"other\"",
        ),
        may("thread", Kind::Thread, "Thread cut in it.", THREAD_EXAMPLE),
        CLASS,
        HOLE_DIAMETER,
        may("depth", LENGTH, "Full depth; through where not written.", "\"10 mm\""),
    ]],
};
static CROSS_HOLE: Section = Section {
    name: "cross hole",
    help: "A hole across the axis.",
    groups: &[&[
        must("at", LENGTH, "Distance from the first end.", "\"5 mm\""),
        must("diameter", DIAMETER, "Diameter.", "\"1 mm\""),
    ]],
};
static TURNED: Section = Section {
    name: "turned part",
    help: "A free turned part.",
    groups: &[
        COMMON,
        &[
            must(
                "sections",
                Kind::Tables(&SECTION),
                "Its sections, from the first end along the axis.",
                "[{ length = \"12 mm\", diameter = \"8 mm\" }]",
            ),
            may(
                "bores",
                Kind::Tables(&BORE),
                "Holes along the axis.",
                "[{ diameter = \"3 mm\", depth = \"10 mm\" }]",
            ),
            may(
                "slot",
                Kind::Table(&SLOT),
                "Slot across the other end.",
                "{ width = \"1 mm\", depth = \"1 mm\" }",
            ),
            FACE_GROOVES,
            may(
                "cross_holes",
                Kind::Tables(&CROSS_HOLE),
                "Holes across the axis.",
                "[{ at = \"5 mm\", diameter = \"1 mm\" }]",
            ),
        ],
    ],
};
static STRETCH: Section = Section {
    name: "stretch",
    help: "A stretch of an outline.",
    groups: &[&[
        must("to", AT, "Where it ends: x, y.", "[\"40 mm\", \"0 mm\"]"),
        may(
            "arc",
            LENGTH,
            "Radius of the arc that leads there (the shorter one); straight where not written.",
            "\"10 mm\"",
        ),
        follows(
            "turn",
            Kind::Word(&[("left", "anticlockwise"), ("right", "clockwise")]),
            "left where there is an arc",
            "Which way the arc turns.",
            "\"right\"",
        ),
    ]],
};
static COUNTERSINK: Section = Section {
    name: "countersink",
    help: "Countersink of a hole.",
    groups: &[&[
        or("angle", quantity(Of::Angle), ("90 deg", "the usual countersink"), "Full angle.", "\"90 deg\""),
        must("diameter", DIAMETER, "Diameter at the face.", "\"8 mm\""),
    ]],
};
static HOLE: Section = Section {
    name: "hole",
    help: "A hole in a flat part.",
    groups: &[&[
        follows("label", Kind::Text, "a letter in the order of writing", "Name for the hole table.", "\"A\""),
        must("at", AT, "Its centre: x, y.", "[\"5 mm\", \"5 mm\"]"),
        may("thread", Kind::Thread, "Thread.", THREAD_EXAMPLE),
        CLASS,
        HOLE_DIAMETER,
        may("countersink", Kind::Table(&COUNTERSINK), "Countersink.", "{ diameter = \"8 mm\" }"),
    ]],
};
static FLAT: Section = Section {
    name: "flat part",
    help: "A free part cut from plate.",
    groups: &[
        COMMON,
        &[
            must("thickness", Kind::Size(General::Length), "Thickness.", "\"3 mm\""),
            or(
                "start",
                AT,
                ("0 mm", "the outline begins at the datum"),
                "Where the outline begins: x, y.",
                "[\"0 mm\", \"0 mm\"]",
            ),
            must(
                "outline",
                Kind::Tables(&STRETCH),
                "The outline; a straight line leads back to the start where it does not end there.",
                "[{ to = [\"40 mm\", \"0 mm\"] }, { to = [\"40 mm\", \"12 mm\"] }, { to = [\"0 mm\", \"12 mm\"] }]",
            ),
            may(
                "holes",
                Kind::Tables(&HOLE),
                "Holes.",
                "[{ at = [\"5 mm\", \"6 mm\"], diameter = \"3 mm\" }]",
            ),
        ],
    ],
};
