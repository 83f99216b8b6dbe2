//! The habits of one control, as far as writing for it needs them.

use record::facts::{ArcCentre, BareLength, ControlFacts, Lathe, Mill, PercentSigns, ToolSays};

/// Kind of machine.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Machine {
    /// Work turns.
    Lathe,
    /// The cutter turns.
    Mill,
}

/// What a control knows and how it takes it; millimetres, minutes.
#[derive(Clone, Debug, PartialEq)]
pub struct Habits {
    /// Kind of machine.
    pub machine: Machine,
    /// Words that it knows, as letter and number in tenths.
    pub words: Vec<(char, u32)>,
    /// Decimals that it reads.
    pub decimals: usize,
    /// Lengths without a point.
    pub without_point: BareLength,
    /// Centres of arcs.
    pub arcs: ArcCentre,
    /// How closely short lines follow an arc.
    pub arc_tolerance: f64,
    /// Percent signs.
    pub percent: PercentSigns,
    /// Comments.
    pub comments: bool,
    /// Numbered lines.
    pub line_numbers: bool,
    /// Longest line.
    pub longest_line: usize,
    /// Whether a dwell counts thousandths of a second.
    pub milliseconds: bool,
    /// What T says.
    pub tool_word: ToolSays,
    /// Fastest feed, mm/min.
    pub fastest_feed: f64,
    /// Rapids, mm/min.
    pub rapid: f64,
    /// Whether rapids of two axes may bend.
    pub bent: bool,
    /// Whether X of a lathe is a radius.
    pub radius: bool,
    /// Whether the slide follows the spindle.
    pub synchronised: bool,
    /// Fastest slide in a thread, mm/min.
    pub fastest_thread: f64,
    /// Distance that the slide needs to gather speed for a thread.
    pub run_in: f64,
    /// Where the tool stands at the start: x (as a radius), y, z.
    pub start: Option<[f64; 3]>,
    /// Speeds of the spindle, low to high.
    pub speeds: Vec<f64>,
    /// Whether every speed between can be set.
    pub stepless: bool,
    /// Travel along x, y and z.
    pub travel: [f64; 3],
}

/// Letter and number in tenths of a word such as `G01` or `M30`.
fn code(word: &str) -> Option<(char, u32)> {
    let mut signs = word.chars();
    let letter = signs.next()?.to_ascii_uppercase();
    let (whole, tenth) = signs.as_str().split_once('.').unwrap_or((signs.as_str(), "0"));
    Some((letter, whole.parse::<u32>().ok()?.checked_mul(10)? + tenth.parse::<u32>().ok()?))
}
fn count(value: &reckon::Val<reckon::Count>) -> usize {
    usize::try_from(value.bare().0).unwrap_or(4)
}
/// A speed in mm/min.
fn a_minute(value: &reckon::Val<reckon::Speed>) -> f64 {
    value.bare().value() * 6.0e4
}

impl Habits {
    /// A control of which nothing is known but its words.
    #[must_use]
    pub fn plain(machine: Machine, words: &[&str]) -> Habits {
        Habits {
            machine,
            words: words.iter().filter_map(|word| code(word)).collect(),
            decimals: 4,
            without_point: BareLength::Whole,
            arcs: ArcCentre::FromStart,
            arc_tolerance: 0.005,
            percent: PercentSigns::Allowed,
            comments: true,
            line_numbers: false,
            longest_line: 80,
            milliseconds: false,
            tool_word: ToolSays::Nothing,
            fastest_feed: 200.0,
            rapid: 200.0,
            bent: true,
            radius: false,
            synchronised: false,
            fastest_thread: 200.0,
            run_in: 3.0,
            start: None,
            speeds: vec![100.0, 3000.0],
            stepless: true,
            travel: [100.0; 3],
        }
    }
    fn written(mut self, control: Option<&ControlFacts>) -> Habits {
        let knows_change = self.knows("M6");
        if self.machine == Machine::Mill && knows_change {
            self.tool_word = ToolSays::Number;
        }
        self.rapid = self.fastest_feed;
        let Some(c) = control else { return self };
        self.decimals = count(&c.decimals);
        self.without_point = c.without_point;
        self.arcs = c.arcs;
        self.arc_tolerance = c.arc_tolerance.bare().in_mm();
        self.percent = c.percent;
        self.comments = c.comments;
        self.line_numbers = c.line_numbers;
        self.longest_line = count(&c.longest_line);
        self.milliseconds = c.milliseconds;
        self.tool_word = match c.tool_word {
            Some(word) => word,
            None if knows_change => ToolSays::Number,
            None => ToolSays::Nothing,
        };
        if let Some(rapid) = &c.rapid {
            self.rapid = a_minute(rapid);
        }
        self.bent = c.bent;
        self.radius = c.radius;
        self.synchronised = c.synchronised && self.knows("G33");
        let start: Vec<f64> = c.start.iter().map(|v| v.bare().in_mm()).collect();
        self.start = match *start.as_slice() {
            [x, y, z] => Some([x, y, z]),
            [x, z] => Some([if c.radius { x } else { x / 2.0 }, 0.0, z]),
            _ => None,
        };
        self
    }
    /// The control of a mill, where it follows programs.
    #[must_use]
    pub fn of_mill(mill: &Mill) -> Option<Habits> {
        if mill.words.is_empty() {
            return None;
        }
        let words: Vec<&str> = mill.words.iter().map(String::as_str).collect();
        let mut own = Habits::plain(Machine::Mill, &words);
        own.fastest_feed = mill.fastest_feed.as_ref().map_or(own.fastest_feed, a_minute);
        own.speeds = mill.speeds.iter().map(|s| s.bare().in_rpm()).collect();
        own.stepless = mill.stepless;
        own.travel = [0, 1, 2].map(|i| mill.travel[i].bare().in_mm());
        Some(own.written(mill.control.as_ref()))
    }
    /// The control of a lathe, where it follows programs.
    #[must_use]
    pub fn of_lathe(lathe: &Lathe) -> Option<Habits> {
        let control = lathe.control.as_ref()?;
        let words: Vec<&str> = control.words.iter().map(String::as_str).collect();
        let mut own = Habits::plain(Machine::Lathe, &words);
        own.fastest_feed = control.fastest_feed.as_ref().map_or(own.fastest_feed, a_minute);
        own.speeds = lathe.speeds.iter().map(|s| s.bare().in_rpm()).collect();
        own.stepless = lathe.stepless;
        own.travel = [lathe.cross_travel.bare().in_mm(), 0.0, lathe.between_centres.bare().in_mm()];
        if let Some(s) = &lathe.screwcutting {
            own.fastest_thread = a_minute(&s.carriage).min(own.fastest_feed);
            own.run_in = s.run_in.as_ref().map_or(own.run_in, |r| r.bare().in_mm());
        }
        Some(own.written(Some(control)))
    }
    /// Whether it knows all that a program of straight cuts needs, in lines of use.
    #[must_use]
    pub fn is_enough(&self) -> bool {
        let all = |words: &[&str]| words.iter().all(|word| self.knows(word));
        all(&["G0", "G1", "G21", "G90", "M3", "M5"])
            && (self.knows("M30") || self.knows("M2"))
            && self.longest_line >= 64
    }
    /// Whether it knows a word such as `G1`.
    #[must_use]
    pub fn knows(&self, word: &str) -> bool {
        code(word).is_some_and(|own| self.words.contains(&own))
    }
    /// The fastest speed of the spindle that is not above one, or its slowest.
    #[must_use]
    pub fn speed(&self, wanted: f64) -> f64 {
        let slowest = self.speeds.first().copied().unwrap_or(wanted);
        let fastest = self.speeds.last().copied().unwrap_or(wanted);
        if self.stepless {
            return (wanted / 10.0).floor().mul_add(10.0, 0.0).clamp(slowest, fastest);
        }
        self.speeds.iter().copied().filter(|s| *s <= wanted * (1.0 + 1e-9)).fold(slowest, f64::max)
    }
    /// Its words as one would write them.
    #[must_use]
    pub fn listed(&self) -> Vec<String> {
        let word = |&(letter, tenths): &(char, u32)| match tenths % 10 {
            0 => format!("{letter}{}", tenths / 10),
            tenth => format!("{letter}{}.{tenth}", tenths / 10),
        };
        self.words.iter().map(word).collect()
    }
}
