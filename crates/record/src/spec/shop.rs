//! What `shop.toml` may say.

use super::{
    DIAMETER, FORMAT_KEY, Key, Kind, LENGTH, Of, PRINT, Range, Section, follows, may, must, or, quantity,
    table,
};

/// All of `shop.toml`.
pub static SHOP: Section = Section {
    name: "shop.toml",
    help: "Machines, tools, materials, measuring kit. What is not written does not exist.",
    groups: &[&[
        FORMAT_KEY,
        table("shop", Kind::Table(&PLACE), "The shop.", "{ name = \"garden shed\" }"),
        may("lathe", Kind::Machines(&LATHE), "Lathes, the one for ordinary work first.", "[]"),
        may(
            "mill",
            Kind::Machines(&MILL),
            "Mills and drilling machines, the one for ordinary work first.",
            "[]",
        ),
        may(
            "dividing",
            Kind::Table(&DIVIDING),
            "Dividing head.",
            "{ ratio = 40, centre_height = \"70 mm\", greatest = \"110 mm\" }",
        ),
        table(
            "drills",
            Kind::Table(&DRILLS),
            "Drills, reamers, broaches.",
            "{ sizes = { mm = [1, 1.5, 2] } }",
        ),
        table("threads", Kind::Table(&THREADS), "Taps and dies.", "{ taps = [\"M4\"], dies = [\"M4\"] }"),
        may("cutter", Kind::Tables(&CUTTER), "Cutters.", "[]"),
        may("stock", Kind::Tables(&STOCK), "Stock in the drawer.", "[]"),
        may(
            "grinder",
            Kind::Table(&GRINDER),
            "Grinder with its angle jigs.",
            "{ jigs = { deg = [30, 55] } }",
        ),
        table("fire", Kind::Table(&FIRE), "Fire.", "{ quench = [\"water\"] }"),
        table("polish", Kind::Table(&POLISH), "Polishing.", "{ grits = { um = [9, 3, 1] } }"),
        may("measure", Kind::Tables(&MEASURE), "Measuring tools.", "[]"),
    ]],
};
static PLACE: Section = Section {
    name: "shop",
    help: "The shop: its name, where it stands, how it is printed.",
    groups: &[
        &[
            or("name", Kind::Text, ("shop", "the shop has no name yet"), "Name.", "\"garden shed\""),
            may("was", Kind::Text, "Earlier name that its journal may still carry.", "\"cellar\""),
            may(
                "print",
                Kind::Word(PRINT),
                "How lengths are printed for this shop; as the clock says where not written.",
                "\"mm\"",
            ),
        ],
        super::clock::SITE_KEYS,
    ],
};
const fn from_to(of: Of) -> [(&'static str, Kind); 2] {
    [("least", quantity(of)), ("greatest", quantity(of))]
}
const DIAMETERS: Kind = Kind::Fixed(&const { from_to(Of::Diameter) });
const LENGTHS: Kind = Kind::Fixed(&const { from_to(Of::Length) });
const ZERO_LENGTH: Kind = Kind::Quantity(Of::Length, Range::NotNegative);
const SPEEDS: Kind = Kind::List(&quantity(Of::Turning));
const SPEEDS_EXAMPLE: &str = "{ rpm = [60, 110, 190, 320] }";
const STEPLESS: Key = or(
    "stepless",
    Kind::Flag,
    ("false", "the listed speeds are the only ones"),
    "Whether every speed between the lowest and the highest can be set.",
    "true",
);
static DIAL: Section = Section {
    name: "dial",
    help: "The dial of a slide.",
    groups: &[&[
        must("division", LENGTH, "One division, in the sense that the dial shows.", "\"0.02 mm\""),
        must("one_turn", LENGTH, "One turn.", "\"2 mm\""),
        or(
            "shows",
            Kind::Word(&[
                ("travel", "the travel of the slide: the change of radius for a cross slide"),
                ("diameter", "the change of diameter: twice the travel"),
            ]),
            ("travel", "a dial shows its slide's own travel unless it says otherwise"),
            "What it counts.",
            "\"diameter\"",
        ),
        or(
            "backlash",
            ZERO_LENGTH,
            ("0 mm", "none was measured; always wind on in one direction"),
            "Lost motion when turning back.",
            "\"0.1 mm\"",
        ),
    ]],
};
const DIAL_EXAMPLE: &str = "{ division = \"0.02 mm\", one_turn = \"2 mm\", shows = \"diameter\" }";
static LATHE: Section = Section {
    name: "lathe",
    help: "A lathe.",
    groups: &[&[
        must("name", Kind::Text, "Name, as it stands on the sheets.", "\"bench lathe\""),
        must("swing", DIAMETER, "Largest diameter over the bed.", "\"180 mm\""),
        must("swing_over_slide", DIAMETER, "Largest diameter over the cross slide.", "\"108 mm\""),
        must("between_centres", LENGTH, "Longest work between centres.", "\"320 mm\""),
        must("spindle_bore", DIAMETER, "Hole through the spindle.", "\"20 mm\""),
        or(
            "headstock",
            LENGTH,
            ("250 mm", "the headstock's length was not written"),
            "Length of the headstock that a bar passes through.",
            "\"250 mm\"",
        ),
        must("motor", quantity(Of::Power), "Power of its motor.", "\"350 W\""),
        or(
            "drive",
            quantity(Of::Ratio),
            ("0.75", "belts and bearings take about a quarter"),
            "Part of the motor's power that reaches the tool.",
            "\"75 %\"",
        ),
        must("speeds", SPEEDS, "Spindle speeds, low to high.", SPEEDS_EXAMPLE),
        STEPLESS,
        may(
            "feeds",
            Kind::List(&LENGTH),
            "Power feeds a turn, low to high; none when fed by hand.",
            "{ mm = [0.04, 0.06, 0.09] }",
        ),
        may("cross_slide", Kind::Table(&DIAL), "Dial of the cross slide.", DIAL_EXAMPLE),
        may(
            "long_slide",
            Kind::Table(&DIAL),
            "Dial of the slide along the bed.",
            "{ division = \"0.02 mm\", one_turn = \"1.5 mm\" }",
        ),
        must("cross_travel", LENGTH, "Travel of the cross slide.", "\"105 mm\""),
        must("top_travel", LENGTH, "Travel of the top slide.", "\"55 mm\""),
        must("tailstock_travel", LENGTH, "Travel of the tailstock's barrel.", "\"45 mm\""),
        must(
            "tailstock_chuck",
            DIAMETERS,
            "Least and greatest drill that the tailstock's chuck grips.",
            "[\"0.5 mm\", \"10 mm\"]",
        ),
        or(
            "tool_height",
            Kind::Quantity(Of::Length, Range::Any),
            ("0 mm", "tools are taken to stand at centre height"),
            "How far tools sit above centre, as measured; negative is below.",
            "\"-0.05 mm\"",
        ),
        or(
            "holds",
            LENGTH,
            ("0.02 mm", "what a careful turner holds on a sound small lathe"),
            "How near to the wanted diameter this lathe and its maker turn.",
            "\"0.02 mm\"",
        ),
        may(
            "screwcutting",
            Kind::Table(&SCREWCUTTING),
            "Screwcutting with a single point.",
            "{ pitches = [\"0.2 mm\", \"3 mm\"], fastest = \"190 rpm\", carriage = \"360 mm/min\", electronic = true }",
        ),
        may(
            "control",
            Kind::Table(&super::control::LATHE_CONTROL),
            "Its control, where it follows programs.",
            "{ words = [\"G0\", \"G1\", \"M3\", \"M5\", \"M30\"], fastest_feed = \"300 mm/min\" }",
        ),
        may(
            "hold",
            Kind::Tables(&HOLD),
            "What holds the work.",
            "[{ kind = \"chuck\", grips = [\"2 mm\", \"65 mm\"], jaw_length = \"18 mm\", total_grip = \"4000 N\" }]",
        ),
    ]],
};
static SCREWCUTTING: Section = Section {
    name: "screwcutting",
    help: "How a lathe cuts threads with a single point.",
    groups: &[&[
        may("leadscrew", LENGTH, "Lead of the leadscrew, where change wheels drive it.", "\"1.5 mm\""),
        may(
            "wheels",
            Kind::List(&Kind::Count(5, 1000)),
            "Change wheels on the shelf; a number written twice is two wheels.",
            "[20, 25, 30, 30, 35]",
        ),
        must("pitches", LENGTHS, "Least and greatest pitch.", "[\"0.2 mm\", \"3 mm\"]"),
        must("fastest", quantity(Of::Turning), "Fastest spindle when threading.", "\"190 rpm\""),
        must("carriage", quantity(Of::Speed), "Fastest that the carriage can follow.", "\"360 mm/min\""),
        or(
            "electronic",
            Kind::Flag,
            ("false", "change wheels drive the leadscrew"),
            "Whether the carriage is synchronised by electronics, without wheels.",
            "true",
        ),
        may("run_in", LENGTH, "Distance that a synchronised carriage needs to gather speed.", "\"3 mm\""),
    ]],
};
static HOLD: Section = Section {
    name: "hold",
    help: "Something that holds work on a lathe.",
    groups: &[&[
        must(
            "kind",
            Kind::Word(&[
                ("chuck", "a chuck with jaws; needs `grips`, `jaw_length`, `total_grip`"),
                ("collet", "collets of listed `sizes`; needs `grip_length`, `total_grip`"),
                ("wax", "a flat face that work is stuck to; needs `greatest`"),
                ("faceplate", "a faceplate with clamps; needs `greatest`"),
                ("centres", "between centres with a carrier"),
                ("steady", "a fixed steady; needs `grips`"),
                ("mandrel", "a mandrel turned for the part"),
            ]),
            "What it is.",
            "\"chuck\"",
        ),
        follows("name", Kind::Text, "its kind", "Name for the sheets.", "\"three jaw chuck\""),
        follows("jaws", Kind::Count(2, 8), "3 for a chuck", "Jaws of a chuck.", "4"),
        may("grips", DIAMETERS, "Least and greatest diameter of a chuck or steady.", "[\"2 mm\", \"65 mm\"]"),
        may("jaw_length", LENGTH, "Length of the jaws' faces.", "\"18 mm\""),
        follows(
            "soft",
            Kind::Flag,
            "false for a chuck",
            "Whether its jaws are soft and bored to the work.",
            "true",
        ),
        may("sizes", Kind::List(&DIAMETER), "Sizes of the collets.", "{ mm = [2, 3, 4, 5, 6] }"),
        follows(
            "range",
            ZERO_LENGTH,
            "0.1 mm for collets",
            "How far under its size a collet still grips.",
            "\"0.1 mm\"",
        ),
        may("grip_length", LENGTH, "Length that a collet grips.", "\"22 mm\""),
        may(
            "total_grip",
            quantity(Of::Force),
            "Sum of the jaws' forces when done up as usual.",
            "\"4000 N\"",
        ),
        may("greatest", DIAMETER, "Greatest diameter of a wax chuck or faceplate.", "\"110 mm\""),
    ]],
};
static VICE: Section = Section {
    name: "vice",
    help: "The vice on a mill.",
    groups: &[&[
        must("opening", LENGTH, "Opening.", "\"60 mm\""),
        must("bed_height", LENGTH, "Height of its bed over the table.", "\"45 mm\""),
        must("jaw_height", LENGTH, "Height of its jaws.", "\"22 mm\""),
    ]],
};
static MILL: Section = Section {
    name: "mill",
    help: "A mill or drilling machine.",
    groups: &[&[
        must("name", Kind::Text, "Name, as it stands on the sheets.", "\"bench mill\""),
        must(
            "travel",
            Kind::Fixed(&[("x", LENGTH), ("y", LENGTH), ("z", LENGTH)]),
            "Travel along x, y and z.",
            "[\"220 mm\", \"100 mm\", \"180 mm\"]",
        ),
        follows(
            "daylight",
            LENGTH,
            "its travel along z",
            "Greatest distance from spindle nose to table.",
            "\"250 mm\"",
        ),
        may("quill", LENGTH, "Travel of the quill.", "\"30 mm\""),
        must("speeds", SPEEDS, "Speeds, low to high.", SPEEDS_EXAMPLE),
        STEPLESS,
        may("chuck_length", LENGTH, "Length of the drill chuck below the nose.", "\"55 mm\""),
        may("collet_length", LENGTH, "Length of a collet below the nose.", "\"28 mm\""),
        may("cutter_bore", DIAMETER, "Bore of the cutters that its spindle or arbor takes.", "\"10 mm\""),
        may(
            "vice",
            Kind::Table(&VICE),
            "Vice.",
            "{ opening = \"60 mm\", bed_height = \"45 mm\", jaw_height = \"22 mm\" }",
        ),
        may(
            "dial",
            Kind::Table(&DIAL),
            "Dial of the table.",
            "{ division = \"0.02 mm\", one_turn = \"2 mm\", backlash = \"0.14 mm\" }",
        ),
        may(
            "words",
            Kind::List(&Kind::Text),
            "Words that its control knows, where it follows programs.",
            "[\"G0\", \"G1\", \"M3\", \"M5\"]",
        ),
        may(
            "fastest_feed",
            quantity(Of::Speed),
            "Fastest feed, where it follows programs.",
            "\"600 mm/min\"",
        ),
        may(
            "control",
            Kind::Table(&super::control::MILL_CONTROL),
            "Habits of its control, where it follows programs.",
            "{ arcs = \"never\", tool_word = \"none\" }",
        ),
    ]],
};
static DIVIDING: Section = Section {
    name: "dividing",
    help: "A dividing head.",
    groups: &[&[
        must("ratio", Kind::Count(1, 1000), "Turns of the crank for one turn of the spindle.", "40"),
        may(
            "plates",
            Kind::List(&Kind::List(&Kind::Count(2, 1000))),
            "Circles of holes on each plate.",
            "[[15, 16, 17], [21, 23, 27]]",
        ),
        must("centre_height", LENGTH, "Height of its centre over the table.", "\"70 mm\""),
        must("greatest", DIAMETER, "Greatest diameter that its nose takes.", "\"110 mm\""),
        may(
            "true_to",
            quantity(Of::Angle),
            "How far its spindle may stand from where it is set, as tested from step to step.",
            "\"1.5 arcmin\"",
        ),
    ]],
};
static LONG_DRILL: Section = Section {
    name: "long drill",
    help: "A long drill.",
    groups: &[&[
        must("size", Kind::Tool, "Size.", "\"8 mm\""),
        must("reach", LENGTH, "Reach.", "\"160 mm\""),
    ]],
};
static DRILLS: Section = Section {
    name: "drills",
    help: "Drills, reamers, broaches.",
    groups: &[&[
        may("sizes", Kind::List(&Kind::Tool), "Twist drills.", "[\"3.3 mm\", \"#43\", \"F\"]"),
        may(
            "flute",
            quantity(Of::Ratio),
            "Flute length of an ordinary drill as a multiple of its size.",
            "8",
        ),
        may("long", Kind::Tables(&LONG_DRILL), "Long drills.", "[{ size = \"8 mm\", reach = \"160 mm\" }]"),
        may("spotting", Kind::List(&Kind::Tool), "Carbide spotting drills.", "{ mm = [3, 6] }"),
        may("reamers", Kind::List(&Kind::Tool), "Reamers.", "{ mm = [1, 1.5, 2] }"),
        may("broaches", Kind::List(&DIAMETERS), "Broaches: from, to.", "[[\"0.4 mm\", \"1.2 mm\"]]"),
    ]],
};
static THREADS: Section = Section {
    name: "threads",
    help: "Taps and dies.",
    groups: &[&[
        may("taps", Kind::List(&Kind::Thread), "Taps.", "[\"M3\", \"M4\"]"),
        may("dies", Kind::List(&Kind::Thread), "Dies.", "[\"M3\", \"M4\"]"),
    ]],
};
static CUTTER: Section = Section {
    name: "cutter",
    help: "A cutter.",
    groups: &[&[
        must(
            "for",
            Kind::Word(&[
                ("turning", "turning and facing"),
                ("parting", "parting off; `size` is its width"),
                ("threading", "cutting a thread; `size` is its tip"),
                ("face groove", "grooves in a face; `size` is its width"),
                ("boring", "boring; `size` is the smallest hole it enters"),
                ("knurl", "knurling; `size` is the pitch"),
                ("wheel teeth", "teeth of wheels; `size` is the module"),
                ("slot", "slotting saw; `size` is its width"),
                ("countersink", "countersink; `angle` is its full angle"),
                ("end mill", "end mill; `size` is its diameter"),
            ]),
            "What it is for.",
            "\"parting\"",
        ),
        follows(
            "name",
            Kind::Text,
            "what it is for and its size",
            "Name for the sheets.",
            "\"thin parting tool\"",
        ),
        may("size", LENGTH, "Its size; which one depends on what it is for.", "\"1.2 mm\""),
        may(
            "tip",
            Kind::Word(&[("flat", "a flat as wide as `size`"), ("radius", "a radius of `size`")]),
            "Form of a threading tool's tip.",
            "\"flat\"",
        ),
        may("angle", quantity(Of::Angle), "Full angle of a threading tool or countersink.", "\"60 deg\""),
        may(
            "reach",
            LENGTH,
            "How deep a parting tool reaches from the surface, or how far a boring tool reaches.",
            "\"14 mm\"",
        ),
        may("diameter", DIAMETER, "Outside diameter of a cutter on an arbor.", "\"28 mm\""),
        may("bore", DIAMETER, "Bore of a cutter on an arbor.", "\"10 mm\""),
        or(
            "made",
            Kind::Flag,
            ("true", "what stands in the shop's list is there"),
            "Whether it exists; otherwise it is to be made.",
            "false",
        ),
        or(
            "carbide",
            Kind::Flag,
            ("false", "high-speed steel unless written"),
            "Whether it is carbide rather than high-speed steel.",
            "true",
        ),
    ]],
};
static STOCK: Section = Section {
    name: "stock",
    help: "Pieces of stock: write one of `round`, `hexagon`, `sheet` or `blank`, and the other sizes.",
    groups: &[&[
        must("material", Kind::Material, "Material.", "\"silver steel\""),
        may("round", DIAMETER, "Round bar: its diameter; give `length`.", "\"8 mm\""),
        may("hexagon", LENGTH, "Hexagonal bar: its size across flats; give `length`.", "\"10 mm\""),
        may("sheet", LENGTH, "Sheet or strip: its thickness; give `length` and `width`.", "\"2 mm\""),
        may(
            "blank",
            Kind::Fixed(&[("width", LENGTH), ("height", LENGTH)]),
            "Tool blank: width and height; give `length`.",
            "[\"6 mm\", \"6 mm\"]",
        ),
        may("width", LENGTH, "Shorter side of a sheet.", "\"100 mm\""),
        must("length", LENGTH, "Length.", "\"333 mm\""),
        or(
            "pieces",
            Kind::Count(0, 100_000),
            ("1", "one piece where no number is written"),
            "How many.",
            "2",
        ),
    ]],
};
static GRINDER: Section = Section {
    name: "grinder",
    help: "A grinder with its angle jigs.",
    groups: &[&[
        may(
            "jigs",
            Kind::List(&quantity(Of::Angle)),
            "Angles that its jigs set.",
            "{ deg = [30, 47.5, 55, 60] }",
        ),
        may("wheel", DIAMETER, "Diameter of the wheel.", "\"125 mm\""),
    ]],
};
static OVEN: Section = Section {
    name: "oven",
    help: "An oven.",
    groups: &[&[
        must(
            "greatest",
            Kind::Quantity(Of::Temperature, Range::Any),
            "Hottest that it goes.",
            "\"320 degC\"",
        ),
        must("steady_to", quantity(Of::Difference), "How steady it holds.", "\"5 K\""),
    ]],
};
/// Words of the temper colours.
const COLOURS: &[(&str, &str)] = &[
    ("pale straw", "about 218 °C"),
    ("straw", "about 230 °C"),
    ("dark straw", "about 242 °C"),
    ("brown", "about 254 °C"),
    ("brown-purple", "about 265 °C"),
    ("purple", "about 277 °C"),
    ("violet", "about 282 °C"),
    ("dark blue", "about 293 °C"),
    ("full blue", "about 300 °C"),
    ("light blue", "about 310 °C"),
    ("grey-blue", "about 325 °C"),
];
static COUPON: Section = Section {
    name: "coupon",
    help: "A piece of steel that the shop heated to see what comes of it; the laws of tempering and colour are moved by it.",
    groups: &[&[
        must("steel", Kind::Text, "Steel, as its material is written.", "\"silver steel\""),
        must(
            "temperature",
            quantity(Of::Temperature),
            "Heat, by the shop's own thermometer.",
            "\"290 degC\"",
        ),
        must("time", quantity(Of::Time), "How long it was held.", "\"3 min\""),
        may("hardness", quantity(Of::Ratio), "Hardness that was measured, HRC.", "56"),
        may("colour", Kind::Word(COLOURS), "Colour that was seen.", "\"dark blue\""),
    ]],
};
static FIRE: Section = Section {
    name: "fire",
    help: "Fire.",
    groups: &[&[
        may("heat_with", Kind::Text, "What heats.", "\"propane torch and firebrick hearth\""),
        may("quench", Kind::List(&Kind::Text), "Quenching baths.", "[\"water\", \"oil\"]"),
        may("oven", Kind::Table(&OVEN), "Oven.", "{ greatest = \"320 degC\", steady_to = \"5 K\" }"),
        may("thermometer", quantity(Of::Difference), "How far the thermometer may be off.", "\"4 K\""),
        may(
            "coupon",
            Kind::Tables(&COUPON),
            "Pieces heated to learn what this shop's fire does.",
            "[{ steel = \"silver steel\", temperature = \"290 degC\", time = \"3 min\", colour = \"dark blue\" }]",
        ),
    ]],
};
static POLISH: Section = Section {
    name: "polish",
    help: "Polishing.",
    groups: &[&[
        may("grits", Kind::List(&LENGTH), "Grain sizes, coarse to fine.", "{ um = [18, 9, 6, 3, 1] }"),
        may("laps", Kind::List(&Kind::Text), "Laps.", "[\"boxwood\", \"tin\", \"felt\"]"),
        may("wash", Kind::List(&Kind::Text), "Washing baths.", "[\"hot detergent\", \"isopropanol\"]"),
    ]],
};
static MEASURE: Section = Section {
    name: "measure",
    help: "A measuring tool.",
    groups: &[&[
        must("name", Kind::Text, "Name.", "\"micrometer 0-25\""),
        must(
            "range",
            Kind::Fixed(&[("least", ZERO_LENGTH), ("greatest", LENGTH)]),
            "Least and greatest that it measures.",
            "[\"0 mm\", \"25 mm\"]",
        ),
        must("give_or_take", LENGTH, "Uncertainty of a reading.", "\"0.004 mm\""),
    ]],
};
