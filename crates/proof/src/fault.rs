//! What is wrong with a program, where, why, and what would do.

use std::fmt;
use std::sync::Arc;

use reckon::trouble::{Kind, Place, Trouble};

/// A place in the text of a program.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Spot {
    /// Line, counted from 1.
    pub line: u32,
    /// Column in characters, counted from 1.
    pub column: u32,
    /// First byte in the text.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// What kind of fault it is; [`Wrong::word`] is its stable name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Wrong {
    /// A sign that no word-address text has.
    Sign,
    /// A minus that is not the ASCII sign.
    ForeignMinus,
    /// A comma where a decimal point is due.
    DecimalComma,
    /// Letters that are not a number.
    Number,
    /// More digits than can be kept exactly.
    Digits,
    /// More decimals than the control reads.
    Decimals,
    /// A length without its decimal point.
    NoPoint,
    /// A number beyond anything a machine could do.
    Absurd,
    /// A number without a letter before it.
    NoLetter,
    /// A letter that the control does not know.
    UnknownLetter,
    /// A word that the control does not know.
    UnknownWord,
    /// A word that the control knows and this proof cannot follow.
    NotFollowed,
    /// A letter twice in one line.
    Twice,
    /// Two words of one modal group in one line.
    Clash,
    /// More miscellaneous words in one line than the control takes.
    TooManyM,
    /// A word that nothing in its line uses.
    Unused,
    /// A line longer than the control reads.
    LongLine,
    /// A line number that is no whole number, or too large.
    LineNumber,
    /// A comment that its line does not close, or that stands in another.
    Comment,
    /// Line ends of two kinds, or a lone carriage return.
    LineEnds,
    /// A percent sign missing, unclosed or out of place.
    Percent,
    /// A skipped line sign that the control does not know.
    Skip,
    /// Metal-moving words before a unit was stated.
    NoUnit,
    /// A second, different unit.
    MixedUnits,
    /// Motion before a plane was stated.
    NoPlane,
    /// Motion before absolute or incremental was stated.
    NoDistance,
    /// Feed motion before feed a minute or a turn was stated.
    NoFeedMode,
    /// Coordinates with no motion in force.
    NoMotion,
    /// A motion word that moves nothing.
    NoTarget,
    /// Feed motion before a feed.
    NoFeed,
    /// A feed that is not above zero.
    FeedSign,
    /// A feed faster than the machine's fastest.
    FeedTooFast,
    /// Feed a turn, or a cut, with the spindle stopped.
    SpindleStopped,
    /// A spindle started without a speed.
    NoSpeed,
    /// A speed that is not one of the machine's.
    Speed,
    /// Constant surface speed without a highest speed.
    NoClamp,
    /// A highest speed above what the chuck or machine stands.
    ClampTooHigh,
    /// A feed from a place that is not known.
    UnknownStart,
    /// An arc with neither centre nor radius.
    NoCentre,
    /// An arc with both, or a form that the control does not read.
    ArcForm,
    /// Ends of an arc at different distances from its centre.
    ArcMismatch,
    /// A radius too small to reach from start to end.
    RadiusTooSmall,
    /// An arc by radius that ends where it begins.
    RadiusFullCircle,
    /// An arc that leaves its plane.
    ArcLeavesPlane,
    /// A position out of the machine's travel.
    Travel,
    /// An incremental stretch that ends a little beside the absolute place after it.
    Drift,
    /// A dwell that is negative, or has no time.
    Dwell,
    /// A thread without a lead.
    NoLead,
    /// A thread cut on a machine whose spindle does not lead the slide.
    NoThreading,
    /// A thread faster than the slide can follow.
    ThreadTooFast,
    /// Passes of one thread at different speeds.
    ThreadSpeed,
    /// Passes of one thread with different leads.
    ThreadLead,
    /// A thread that has met metal before the slide is up to speed.
    RunIn,
    /// No tool was chosen before the first cut.
    NoTool,
    /// A tool that the set-up does not have.
    UnknownTool,
    /// A tool changed with a cycle in force or the spindle turning.
    ToolChange,
    /// The end word is missing.
    NoEnd,
    /// Text after the end word.
    AfterEnd,
    /// A rapid through stock.
    RapidInStock,
    /// A rapid whose axis-by-axis path goes through stock.
    RapidBesideLine,
    /// A holder or shank touches the work.
    Holder,
    /// Tool or holder touches jaws, clamps or vice.
    Jaws,
    /// A feed deeper or wider than the tool stands.
    ToolFeed,
    /// A tool fed in metal a way that it does not cut: a blade sideways, a drill off the axis.
    ToolWay,
    /// A deeper bite than the tool stands.
    Bite,
    /// An edge that runs faster through metal than it stands.
    EdgeSpeed,
    /// A tool that cuts where a piece has come off already.
    Loose,
    /// More metal gone than the wanted shape allows.
    Gouge,
    /// Metal left on the wanted shape.
    Remainder,
    /// The stock does not hold the wanted shape.
    StockTooSmall,
    /// Too little or too much height between spindle nose and table.
    Daylight,
    /// A move that this kind of removal cannot follow.
    Motion,
    /// The blank is turned while the cutter stands in it.
    IndexInCut,
    /// The blank was not turned through all its teeth.
    Teeth,
}

impl Wrong {
    /// The stable name of this kind of fault: plain words joined by hyphens.
    #[must_use]
    pub fn word(self) -> String {
        let mut name = String::new();
        for letter in format!("{self:?}").chars() {
            if letter.is_ascii_uppercase() && !name.is_empty() {
                name.push('-');
            }
            name.push(letter.to_ascii_lowercase());
        }
        name
    }
}

/// One thing that is wrong with a program.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Which kind of fault it is.
    pub wrong: Wrong,
    /// Where.
    pub spot: Spot,
    /// What is wrong, in one sentence.
    pub says: String,
    /// Why it cannot be; empty when the sentence says it.
    pub why: String,
    /// What would do.
    pub cure: String,
    /// By how much, where it is a matter of more or less: mm, mm², mm³ or 1/min as the sentence says.
    pub by: Option<f64>,
}

impl Fault {
    /// A fault at a place; reason and cure are added by [`Fault::why`] and [`Fault::cure`].
    pub fn new(wrong: Wrong, spot: Spot, says: impl Into<String>) -> Self {
        Self { wrong, spot, says: says.into(), why: String::new(), cure: String::new(), by: None }
    }

    /// The same with a reason.
    #[must_use]
    pub fn why(mut self, why: impl Into<String>) -> Self {
        self.why = why.into();
        self
    }

    /// The same with a cure.
    #[must_use]
    pub fn cure(mut self, cure: impl Into<String>) -> Self {
        self.cure = cure.into();
        self
    }

    /// The same with the amount.
    #[must_use]
    pub fn by(mut self, by: f64) -> Self {
        self.by = Some(by);
        self
    }

    /// The fault as a trouble of the text it stands in.
    #[must_use]
    pub fn trouble(&self, file: &Arc<str>, text: &str) -> Trouble {
        let place = Place::in_text(file, text, self.spot.start, self.spot.end);
        let mut trouble = Trouble::error(Kind::Text, self.says.clone()).at(place);
        if !self.why.is_empty() {
            trouble = trouble.why(self.why.clone());
        }
        if !self.cure.is_empty() {
            trouble = trouble.cure(self.cure.clone());
        }
        trouble
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "line {}, column {}: {}", self.spot.line, self.spot.column, self.says)
    }
}

/// A length as a fault prints it: millimetres with no more digits than tell something.
pub(crate) fn mm(value: f64) -> String {
    figure(value, 4)
}

/// A number with at most `places` decimals, more where it is smaller than they show.
pub(crate) fn figure(value: f64, places: usize) -> String {
    let mut places = places;
    let mut scaled = value.abs();
    for _ in 0..places {
        scaled *= 10.0;
    }
    while scaled > 0.0 && scaled < 1.0 && places < 12 {
        scaled *= 10.0;
        places += 1;
    }
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
