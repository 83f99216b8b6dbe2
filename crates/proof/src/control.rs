//! The habits of a control: what words it knows and how it reads them.

use std::collections::BTreeSet;

/// Which kind of machine the control drives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Machine {
    /// Work turns, the tool moves in X and Z.
    Lathe,
    /// The cutter turns and moves in X, Y and Z.
    Mill,
}

/// Whether X words (and U) of a lathe are diameters or radii.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Across {
    /// X is a diameter.
    Diameter,
    /// X is a radius.
    Radius,
}

/// How a length without a decimal point is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WithoutPoint {
    /// As whole millimetres or inches.
    Whole,
    /// As steps of 0.001 mm or 0.0001 in.
    Steps,
    /// Not at all: the point is required.
    Refused,
}

/// How the centre of an arc is given by I, J and K.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Centre {
    /// From the start of the arc.
    FromStart,
    /// From the zero of the work.
    FromZero,
    /// Not at all.
    Never,
}

/// Whether a program stands between percent signs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Percent {
    /// It must.
    Required,
    /// It may.
    Allowed,
    /// It must not.
    Refused,
}

/// In what G04 counts its time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DwellIn {
    /// Seconds.
    Seconds,
    /// Thousandths of a second.
    Milliseconds,
}

/// How a rapid to a place off both axes is travelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RapidPath {
    /// Straight to the place.
    Straight,
    /// Each axis as fast as it can, so that the path bends: all of the box between is checked.
    Bent,
}

/// What a T word says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToolWord {
    /// The tool's number; the change comes with M06.
    Number,
    /// The tool's number and, in the last two digits, its offset; the change comes at once.
    NumberAndOffset,
}

/// Absolute or incremental coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Distance {
    /// From the zero of the work (G90).
    Absolute,
    /// From where the tool is (G91).
    Incremental,
}

/// The plane of arcs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Plane {
    /// G17.
    Xy,
    /// G18: Z to the right, X upwards.
    Zx,
    /// G19.
    Yz,
}

/// Feed a minute or a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FeedMode {
    /// G94.
    PerMinute,
    /// G95.
    PerTurn,
}

/// Plain words for the habits, as a text may name them.
macro_rules! named {
    ($($kind:ident { $($word:literal => $variant:ident),+ $(,)? })+) => {$(
        impl $kind {
            /// Each habit with the plain words for it.
            pub const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$variant)),+];

            /// The habit of these words.
            #[must_use]
            pub fn named(words: &str) -> Option<Self> {
                Self::WORDS.iter().find(|(own, _)| *own == words).map(|&(_, habit)| habit)
            }

            /// The plain words for it.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self {
                    $(Self::$variant => $word),+
                }
            }
        }
    )+};
}

named! {
    Machine { "lathe" => Lathe, "mill" => Mill }
    Across { "diameter" => Diameter, "radius" => Radius }
    WithoutPoint { "whole units" => Whole, "smallest steps" => Steps, "refused" => Refused }
    Centre { "from the start" => FromStart, "from the zero" => FromZero, "never" => Never }
    Percent { "required" => Required, "allowed" => Allowed, "refused" => Refused }
    DwellIn { "seconds" => Seconds, "milliseconds" => Milliseconds }
    RapidPath { "straight" => Straight, "bent" => Bent }
    ToolWord { "number" => Number, "number and offset" => NumberAndOffset }
    Distance { "absolute" => Absolute, "incremental" => Incremental }
    Plane { "XY" => Xy, "ZX" => Zx, "YZ" => Yz }
    FeedMode { "a minute" => PerMinute, "a turn" => PerTurn }
}

/// Lowest and highest place of each axis in millimetres; none where it is not limited.
///
/// X of a lathe is a radius here, whatever its words are.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Travel {
    /// Along X.
    pub x: Option<(f64, f64)>,
    /// Along Y.
    pub y: Option<(f64, f64)>,
    /// Along Z.
    pub z: Option<(f64, f64)>,
    /// Kept free at each end for taking up backlash and running up, in millimetres.
    pub kept_free: f64,
}

/// Words that a plain lathe control knows.
pub const LATHE_WORDS: &[&str] = &[
    "G00", "G01", "G02", "G03", "G04", "G18", "G20", "G21", "G28", "G33", "G40", "G80", "G90", "G91", "G92",
    "G94", "G95", "G96", "G97", "M00", "M01", "M02", "M03", "M04", "M05", "M08", "M09", "M30",
];

/// Words that a plain mill control knows.
pub const MILL_WORDS: &[&str] = &[
    "G00", "G01", "G02", "G03", "G04", "G17", "G18", "G19", "G20", "G21", "G28", "G40", "G49", "G54", "G80",
    "G81", "G82", "G83", "G90", "G91", "G94", "G98", "G99", "M00", "M01", "M02", "M03", "M04", "M05", "M06",
    "M08", "M09", "M30",
];

/// The habits and limits of one control with its machine.
#[derive(Debug, Clone, PartialEq)]
pub struct Control {
    /// Lathe or mill.
    pub machine: Machine,
    /// G and M words that it knows, such as `G01` or `M30`; leading zeros do not matter.
    pub words: Vec<String>,
    /// Letters that it knows beside G, M and N.
    pub letters: String,
    /// How lengths without a point are read.
    pub without_point: WithoutPoint,
    /// Most decimals that it reads; none for any number.
    pub most_decimals: Option<usize>,
    /// How arcs give their centre.
    pub centre: Centre,
    /// Whether arcs may give their radius by R.
    pub radius_arcs: bool,
    /// Whether an arc may advance out of its plane.
    pub helix: bool,
    /// By how much the ends of an arc may differ in radius, in millimetres.
    pub arc_slack: f64,
    /// Whether X words are diameters.
    pub across: Across,
    /// Whether the program stands between percent signs.
    pub percent: Percent,
    /// Whether `/` may begin a line; such lines are read.
    pub skip_sign: bool,
    /// Whether comments in parentheses may stand.
    pub comments: bool,
    /// Longest line in characters, its end not counted.
    pub longest_line: usize,
    /// Highest line number.
    pub highest_line: u32,
    /// Most M words in a line.
    pub most_m: usize,
    /// What G04 counts in, and by which letter.
    pub dwell: (char, DwellIn),
    /// What T says.
    pub tool_word: ToolWord,
    /// Whether a tool must be chosen before the first cut.
    pub needs_tool: bool,
    /// Whether the program must end with M02 or M30.
    pub needs_end: bool,
    /// Whether the slide follows the spindle for a thread.
    pub threads: bool,
    /// Acceleration of the slide in mm/s², for the run-in of threads; none when not known.
    pub acceleration: Option<f64>,
    /// Way that the slide needs before a thread meets metal, in millimetres, where it is known as such.
    pub run_in: Option<f64>,
    /// Plane in force at the start, if a program need not state it.
    pub plane: Option<Plane>,
    /// Absolute or incremental at the start, if a program need not state it.
    pub distance: Option<Distance>,
    /// Feed a minute or a turn at the start, if a program need not state it.
    pub feed_mode: Option<FeedMode>,
    /// Slowest and fastest turn of the spindle, in 1/min.
    pub spindle: (f64, f64),
    /// Steps of the spindle, if it has no others; within a hundredth counts as the step.
    pub spindle_steps: Vec<f64>,
    /// Fastest that the chuck or the arbor may turn, in 1/min; none when not limited.
    pub chuck_most: Option<f64>,
    /// The word that sets the highest speed for G96 together with S.
    pub clamp_word: Option<String>,
    /// Fastest feed in mm/min.
    pub fastest_feed: f64,
    /// Fastest slide in a thread in mm/min.
    pub fastest_thread: f64,
    /// Rapid in mm/min.
    pub rapid: f64,
    /// How rapids travel.
    pub rapid_path: RapidPath,
    /// Travel of the axes.
    pub travel: Travel,
    /// Where the tool stands before the first line, if that is certain: x (a radius), y, z.
    pub start: Option<[f64; 3]>,
    /// Where G28 goes, if the machine has such a place.
    pub home: Option<[f64; 3]>,
    /// How far above the last depth a pecking cycle ends its rapid, in millimetres.
    pub peck_clear: f64,
}

impl Control {
    /// A lathe's control with the words of [`LATHE_WORDS`]: X a diameter, centre of arcs from their
    /// start, unit, plane and mode to be stated by the program.
    #[must_use]
    pub fn lathe() -> Self {
        Self {
            machine: Machine::Lathe,
            words: listed(LATHE_WORDS),
            letters: "FIKPRSTXZ".to_owned(),
            without_point: WithoutPoint::Whole,
            most_decimals: None,
            centre: Centre::FromStart,
            radius_arcs: true,
            helix: false,
            arc_slack: 0.002,
            across: Across::Diameter,
            percent: Percent::Allowed,
            skip_sign: true,
            comments: true,
            longest_line: 256,
            highest_line: 99_999,
            most_m: 4,
            dwell: ('P', DwellIn::Seconds),
            tool_word: ToolWord::NumberAndOffset,
            needs_tool: true,
            needs_end: true,
            threads: true,
            acceleration: None,
            run_in: None,
            plane: None,
            distance: None,
            feed_mode: None,
            spindle: (10.0, 4000.0),
            spindle_steps: Vec::new(),
            chuck_most: None,
            clamp_word: Some("G92".to_owned()),
            fastest_feed: 600.0,
            fastest_thread: 600.0,
            rapid: 1500.0,
            rapid_path: RapidPath::Straight,
            travel: Travel::default(),
            start: None,
            home: None,
            peck_clear: 0.2,
        }
    }

    /// A mill's control with the words of [`MILL_WORDS`].
    #[must_use]
    pub fn mill() -> Self {
        Self {
            machine: Machine::Mill,
            words: listed(MILL_WORDS),
            letters: "AFIJKPQRSTXYZ".to_owned(),
            helix: true,
            across: Across::Radius,
            tool_word: ToolWord::Number,
            threads: false,
            ..Self::lathe()
        }
    }

    /// The same with a list of G and M words in place of its own.
    #[must_use]
    pub fn knowing(mut self, words: &[&str]) -> Self {
        self.words = listed(words);
        self
    }

    /// The words that it knows: letter and number in tenths.
    #[must_use]
    pub fn codes(&self) -> BTreeSet<(char, i64)> {
        self.words.iter().filter_map(|word| code(word)).collect()
    }
}

fn listed(words: &[&str]) -> Vec<String> {
    words.iter().map(|&word| word.to_owned()).collect()
}

/// The letter of a word and its number in tenths: `G01` is G and 10.
pub(crate) fn code(word: &str) -> Option<(char, i64)> {
    let mut signs = word.trim().chars();
    let letter = signs.next()?.to_ascii_uppercase();
    let number = signs.as_str();
    let (whole, tenth) = number.split_once('.').unwrap_or((number, "0"));
    let whole: i64 = whole.parse().ok()?;
    let tenth: i64 = tenth.parse().ok().filter(|tenth| (0..10).contains(tenth))?;
    (letter.is_ascii_alphabetic() && (0..1000).contains(&whole)).then_some((letter, whole * 10 + tenth))
}

#[cfg(test)]
mod tests {
    use super::{Centre, Control, Plane, code};

    #[test]
    fn habits_have_words() {
        for &(words, habit) in Centre::WORDS {
            assert_eq!((Centre::named(words), habit.words()), (Some(habit), words));
        }
        assert_eq!(Plane::named("ZX"), Some(Plane::Zx));
        assert_eq!(Plane::named("XZ"), None);
    }

    #[test]
    fn words_are_known_by_their_number() {
        assert_eq!(
            (code("G01"), code("g1.0"), code("M30")),
            (Some(('G', 10)), Some(('G', 10)), Some(('M', 300)))
        );
        assert_eq!(
            (code("G59.1"), code("G"), code("1"), code("G1.55")),
            (Some(('G', 591)), None, None, None)
        );
        let own = Control::mill().knowing(&["G1", "M03"]);
        assert_eq!(own.codes().into_iter().collect::<Vec<_>>(), [('G', 10), ('M', 30)]);
    }
}
