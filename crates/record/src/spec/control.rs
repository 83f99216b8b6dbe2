//! What a machine that follows programs may say of its control.

use super::{Key, Kind, LENGTH, Of, Range, Section, Word, follows, may, must, or, quantity};

const PLACES: Kind = Kind::Quantity(Of::Length, Range::Any);
const WORDS: Key = must(
    "words",
    Kind::List(&Kind::Text),
    "Words that it knows, G and M with their numbers.",
    "[\"G0\", \"G1\", \"G2\", \"G3\", \"G18\", \"G21\", \"G90\", \"G95\", \"G97\", \"M3\", \"M5\", \"M30\"]",
);
const FASTEST: Key = or(
    "fastest_feed",
    quantity(Of::Speed),
    ("200 mm/min", "a feed that any small lathe's slide follows"),
    "Fastest feed of its slides.",
    "\"300 mm/min\"",
);
const COMMON: &[Key] = &[
    or(
        "decimals",
        Kind::Count(2, 6),
        ("4", "with four decimals the ends of an arc agree well enough for any control"),
        "Most decimals that it reads in millimetres.",
        "3",
    ),
    or(
        "without_point",
        Kind::Word(WITHOUT_POINT),
        ("whole units", "what a control does unless its book says otherwise"),
        "How it reads a length without a decimal point; programs are written with one.",
        "\"smallest steps\"",
    ),
    or(
        "arcs",
        Kind::Word(ARCS),
        ("from the start", "the way of the standard"),
        "How the centre of an arc is given; where never, arcs become short lines.",
        "\"never\"",
    ),
    or(
        "arc_tolerance",
        LENGTH,
        ("0.005 mm", "finer than a small machine places its tool"),
        "How closely short lines follow an arc.",
        "\"0.01 mm\"",
    ),
    or(
        "percent",
        Kind::Word(PERCENT),
        ("allowed", "most controls skip the sign"),
        "Whether a program stands between percent signs.",
        "\"required\"",
    ),
    or(
        "comments",
        Kind::Flag,
        ("true", "nearly every control skips what stands in parentheses"),
        "Whether comments in parentheses may stand.",
        "false",
    ),
    or(
        "line_numbers",
        Kind::Flag,
        ("false", "no control needs them that has a screen"),
        "Whether each line is numbered.",
        "true",
    ),
    or(
        "longest_line",
        Kind::Count(20, 256),
        ("80", "what fits on any screen"),
        "Longest line that it reads, in signs.",
        "60",
    ),
    or(
        "dwell",
        Kind::Word(DWELL),
        ("seconds", "the way of the standard"),
        "What P counts in a dwell.",
        "\"milliseconds\"",
    ),
    follows(
        "tool_word",
        Kind::Word(TOOL_WORD),
        "'number' where it knows M6, otherwise 'none'",
        "What T says.",
        "\"number and offset\"",
    ),
    follows("rapid", quantity(Of::Speed), "its fastest feed", "Speed of its rapids.", "\"1500 mm/min\""),
    or(
        "rapids",
        Kind::Word(RAPIDS),
        ("bent", "unless known to go straight each axis is taken to run as fast as it can"),
        "How a rapid travels that moves two axes.",
        "\"straight\"",
    ),
];
const WITHOUT_POINT: &[Word] = &[
    ("whole units", "as whole millimetres"),
    ("smallest steps", "as steps of 0.001 mm"),
    ("refused", "not at all"),
];
const ARCS: &[Word] = &[
    ("from the start", "I, J and K are counted from where the arc starts"),
    ("from the zero", "I, J and K are places, counted from the zero of the work"),
    ("never", "it knows no arcs, or none is to be used"),
];
const PERCENT: &[Word] =
    &[("required", "it must"), ("allowed", "it may; none is written"), ("refused", "it must not")];
const DWELL: &[Word] = &[("seconds", "seconds"), ("milliseconds", "thousandths of a second")];
const TOOL_WORD: &[Word] = &[
    ("number", "the tool's number; M6 brings it in"),
    ("number and offset", "the tool's number and, in two more digits, its offset; the change comes at once"),
    ("none", "nothing: tools are changed by hand, each with a program of its own"),
];
const RAPIDS: &[Word] =
    &[("straight", "straight to the place"), ("bent", "each axis as fast as it can, so that the path bends")];

/// Of a lathe.
pub static LATHE_CONTROL: Section = Section {
    name: "lathe control",
    help: "The control of a lathe that follows programs.",
    groups: &[
        &[
            WORDS,
            FASTEST,
            or(
                "across",
                Kind::Word(&[("diameter", "X is a diameter"), ("radius", "X is a radius")]),
                ("diameter", "the way of nearly every lathe's control"),
                "What X says.",
                "\"radius\"",
            ),
            or(
                "synchronised",
                Kind::Flag,
                ("false", "a slide that follows the spindle needs an encoder, which would be known"),
                "Whether the slide follows the spindle for a thread (G33).",
                "true",
            ),
            may(
                "start",
                Kind::Fixed(&[("x", PLACES), ("z", PLACES)]),
                "Where the tool stands before the first line, X as the control shows it, if that is certain.",
                "[\"40 mm\", \"20 mm\"]",
            ),
        ],
        COMMON,
    ],
};
/// Of a mill; its words stand beside its travel.
pub static MILL_CONTROL: Section = Section {
    name: "mill control",
    help: "The control of a mill that follows programs; its `words` and `fastest_feed` stand with the mill.",
    groups: &[
        &[may(
            "start",
            Kind::Fixed(&[("x", PLACES), ("y", PLACES), ("z", PLACES)]),
            "Where the cutter stands before the first line, from the zero of the work, if that is certain.",
            "[\"0 mm\", \"0 mm\", \"20 mm\"]",
        )],
        COMMON,
    ],
};
