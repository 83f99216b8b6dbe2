//! What is in force from line to line.

use std::collections::BTreeSet;

use reckon::exact::Fraction;

use super::header::{followed, group};
use super::words::{Block, Word};
use crate::control::{Across, Control, Distance, DwellIn, FeedMode, Machine, Plane, WithoutPoint, code};
use crate::fault::{Fault, Spot, Wrong, figure};
use crate::moves::{Does, Program, Step, Turning};

/// What moves when a line has coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Motion {
    Rapid,
    Line,
    Arc { left: bool },
    Thread,
    Cycle(i64),
}

/// Largest coordinate or feed that is taken for one, in millimetres.
const LARGEST: f64 = 10_000.0;
/// An incremental stretch that misses the next absolute place by less than this has drifted.
const DRIFT: f64 = 0.01;

pub(super) struct State<'a> {
    pub(super) control: &'a Control,
    codes: BTreeSet<(char, i64)>,
    pub(super) steps: Vec<Step>,
    faults: Vec<Fault>,
    pub(super) inch: Option<bool>,
    pub(super) plane: Option<Plane>,
    pub(super) distance: Option<Distance>,
    pub(super) feed_mode: Option<FeedMode>,
    pub(super) motion: Option<Motion>,
    /// X of a lathe as a radius.
    pub(super) at: [Option<Fraction>; 3],
    incremental: [bool; 3],
    pub(super) feed: Option<Fraction>,
    pub(super) feed_judged: bool,
    pub(super) runs: bool,
    pub(super) surface: bool,
    pub(super) speed: Option<f64>,
    pub(super) clamp: Option<f64>,
    pub(super) tool: Option<u32>,
    pub(super) offset: bool,
    pub(super) next_tool: Option<u32>,
    pub(super) return_high: bool,
    pub(super) cycle: Option<super::cycle::Cycle>,
    pub(super) last_thread: Option<(f64, f64)>,
    missing: Vec<Wrong>,
    said: String,
    ended: bool,
    told_after: bool,
}

impl<'a> State<'a> {
    pub(super) fn new(control: &'a Control) -> Self {
        let mut at = control.start.map_or([None; 3], |start| start.map(from_f64));
        if control.machine == Machine::Lathe {
            at[1] = Some(Fraction::ZERO);
        }
        Self {
            control,
            codes: control.codes(),
            steps: Vec::new(),
            faults: Vec::new(),
            inch: None,
            plane: control.plane,
            distance: control.distance,
            feed_mode: control.feed_mode,
            motion: None,
            at,
            incremental: [false; 3],
            feed: None,
            feed_judged: false,
            runs: false,
            surface: false,
            speed: None,
            clamp: None,
            tool: None,
            offset: false,
            next_tool: None,
            return_high: true,
            cycle: None,
            last_thread: None,
            missing: Vec::new(),
            said: String::new(),
            ended: false,
            told_after: false,
        }
    }

    pub(super) fn finish(mut self, blocks: &[Block]) -> (Program, Vec<Fault>) {
        if self.control.needs_end && !self.ended {
            let spot = blocks.iter().rev().find(|block| !block.words.is_empty()).map(|block| block.spot);
            let spot = spot.unwrap_or(Spot { line: 1, column: 1, ..Spot::default() });
            self.tell(
                Fault::new(Wrong::NoEnd, spot, "the program has no end")
                    .why("a control may run on into what it read before")
                    .cure("write M30 on the last line"),
            );
        }
        (Program { steps: self.steps }, self.faults)
    }

    pub(super) fn tell(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// Tells something once, however often it is met.
    pub(super) fn tell_once(&mut self, fault: Fault) {
        if !self.missing.contains(&fault.wrong) {
            self.missing.push(fault.wrong);
            self.faults.push(fault);
        }
    }

    pub(super) fn push(&mut self, spot: Spot, does: Does) {
        self.steps.push(Step { spot, does, turning: self.turning(), tool: self.tool });
    }

    pub(super) fn turning(&self) -> Turning {
        match (self.runs, self.speed) {
            (true, Some(speed)) if self.surface => {
                Turning::Surface { speed, most: self.clamp.unwrap_or(self.control.spindle.1) }
            }
            (true, Some(rpm)) => Turning::Steady { rpm },
            _ => Turning::Stopped,
        }
    }

    pub(super) fn has_tool(&self) -> bool {
        self.tool.is_some()
    }

    pub(super) fn block(&mut self, block: &Block) {
        if block.words.is_empty() {
            if !block.comment.is_empty() {
                self.said.clone_from(&block.comment);
            }
            return;
        }
        if self.ended {
            if !self.told_after {
                self.told_after = true;
                self.tell(
                    Fault::new(Wrong::AfterEnd, block.spot, "words stand behind the end of the program")
                        .cure("leave them out, or move the end behind them"),
                );
            }
            return;
        }
        let mut line = Line { block, used: vec![false; block.words.len()] };
        self.sound(&mut line);
        self.settings(&mut line);
        self.tools(&mut line);
        self.speeds(&mut line);
        self.one_line_words(&mut line);
        self.index(&mut line);
        self.motions(&mut line);
        self.stops(&mut line);
        for (word, _) in block.words.iter().zip(&line.used).filter(|(_, used)| !**used) {
            self.tell(
                Fault::new(Wrong::Unused, word.spot, format!("nothing in this line uses {}", word.text()))
                    .cure("leave it out, or write the word that it belongs to"),
            );
        }
        self.said.clear();
    }

    /// What no line may have: unknown words, words twice, words that exclude each other.
    fn sound(&mut self, line: &mut Line<'_>) {
        let words = &line.block.words;
        let mut groups: Vec<(&str, &Word)> = Vec::new();
        let mut seen: Vec<char> = Vec::new();
        let clamp = self.clamp_code();
        for (i, word) in words.iter().enumerate() {
            if !matches!(word.letter, 'G' | 'M') {
                if seen.contains(&word.letter) {
                    line.used[i] = true;
                    self.tell(
                        Fault::new(
                            Wrong::Twice,
                            word.spot,
                            format!("{} stands twice in this line", word.letter),
                        )
                        .why("a control takes the first or the last, each its own")
                        .cure("leave one out"),
                    );
                }
                seen.push(word.letter);
                continue;
            }
            let known = word.tenths().filter(|&tenths| self.codes.contains(&(word.letter, tenths)));
            let Some(tenths) = known else {
                line.used[i] = true;
                self.tell(
                    Fault::new(
                        Wrong::UnknownWord,
                        word.spot,
                        format!("the control does not know {}", word.text()),
                    )
                    .cure("write what it does in words that the control knows"),
                );
                continue;
            };
            if !followed(word.letter, tenths) && clamp != Some((word.letter, tenths)) {
                line.used[i] = true;
                self.tell(
                    Fault::new(
                        Wrong::NotFollowed,
                        word.spot,
                        format!("{} is not followed by this proof", word.text()),
                    )
                    .why("it moves or shifts what comes after in a way that is not in the text")
                    .cure("write the places themselves"),
                );
                continue;
            }
            if let Some(group) = group(word.letter, tenths) {
                if let Some((_, other)) = groups.iter().find(|(listed, _)| *listed == group) {
                    line.used[i] = true;
                    let says = format!("{} and {} exclude each other: {group}", other.text(), word.text());
                    self.tell(
                        Fault::new(Wrong::Clash, word.spot, says)
                            .cure("put them into two lines, or leave one out"),
                    );
                    continue;
                }
                groups.push((group, word));
            }
        }
        let count = words.iter().filter(|word| word.letter == 'M').count();
        if count > self.control.most_m {
            let most = self.control.most_m;
            let spot = words
                .iter()
                .filter(|word| word.letter == 'M')
                .nth(most)
                .map_or(line.block.spot, |word| word.spot);
            self.tell(
                Fault::new(
                    Wrong::TooManyM,
                    spot,
                    format!("{count} M words in one line; the control takes {most}"),
                )
                .cure("put some into the next line"),
            );
        }
        let (motion, home) = (line.has('G', &[0, 10, 20, 30, 330]), line.peek('G', &[280]));
        if let (true, Some(home)) = (motion, home) {
            let says = format!("{} and a motion claim the same coordinates", home.text());
            let spot = home.spot;
            self.tell(Fault::new(Wrong::Clash, spot, says).cure("put them into two lines"));
        }
    }

    pub(super) fn clamp_code(&self) -> Option<(char, i64)> {
        self.control.clamp_word.as_deref().and_then(code)
    }

    fn one_line_words(&mut self, line: &mut Line<'_>) {
        if let Some(word) = line.take('G', &[40]) {
            let (letter, counted) = self.control.dwell;
            let time = line.letter(letter);
            let seconds = time.as_ref().map(|time| match counted {
                DwellIn::Seconds => time.value.to_f64(),
                DwellIn::Milliseconds => time.value.to_f64() / 1000.0,
            });
            match (seconds, time) {
                (Some(seconds), Some(time)) if !(0.0..=3600.0).contains(&seconds) => self.tell(
                    Fault::new(
                        Wrong::Dwell,
                        time.spot,
                        format!("a wait of {} s cannot be meant", figure(seconds, 3)),
                    )
                    .cure("write a time from nothing to an hour"),
                ),
                (Some(seconds), _) => self.push(line.block.spot, Does::Dwell { seconds }),
                _ => self.tell(
                    Fault::new(Wrong::Dwell, word.spot, "a wait without a time")
                        .cure(format!("write {letter} with it")),
                ),
            }
        }
    }

    fn index(&mut self, line: &mut Line<'_>) {
        if let Some(word) = line.letter('A') {
            self.push(word.spot, Does::Index { to: word.value.to_f64() });
        }
    }

    fn stops(&mut self, line: &mut Line<'_>) {
        for (tenths, optional) in [(0, false), (10, true)] {
            if line.take('M', &[tenths]).is_some() {
                let here = &line.block.comment;
                let says = if here.is_empty() { self.said.clone() } else { here.clone() };
                self.push(line.block.spot, Does::Stop { optional, says });
            }
        }
        for tenths in [20, 300] {
            if line.take('M', &[tenths]).is_some() {
                self.ended = true;
                self.push(line.block.spot, Does::End);
            }
        }
    }

    /// A length or feed word in millimetres.
    pub(super) fn length(&mut self, word: &Word, place: bool) -> Option<Fraction> {
        if let Some(most) = self.control.most_decimals.filter(|&most| word.decimals() > most) {
            self.tell(
                Fault::new(
                    Wrong::Decimals,
                    word.spot,
                    format!("{} has {} decimals; the control reads {most}", word.text(), word.decimals()),
                )
                .cure("round it"),
            );
        }
        // Told once; what follows is read in millimetres, so that one missing word is one fault.
        if self.inch.is_none() {
            self.tell_once(
                Fault::new(
                    Wrong::NoUnit,
                    word.spot,
                    format!("{} comes before a unit was stated", word.text()),
                )
                .why("millimetre or inch is then whatever the control was left in; the rest is judged in millimetres")
                .cure("write G21 or G20, as the control has it, before it"),
            );
        }
        let inch = self.inch.unwrap_or(false);
        let mut value = word.value;
        if place && !word.dotted() {
            match self.control.without_point {
                WithoutPoint::Whole => {}
                WithoutPoint::Steps => {
                    value = value.over(Fraction::whole(if inch { 10_000 } else { 1000 }))?;
                }
                WithoutPoint::Refused => self.tell(
                    Fault::new(Wrong::NoPoint, word.spot, format!("{} has no decimal point", word.text()))
                        .why("the control counts such a number in its smallest steps, or not at all")
                        .cure(format!("write {}.", word.text())),
                ),
            }
        }
        if inch {
            value = value.times(Fraction::new(127, 5)?)?;
        }
        let size = value.to_f64();
        if size.abs() > LARGEST {
            self.tell(
                Fault::new(
                    Wrong::Absurd,
                    word.spot,
                    format!("{} is {} mm; no machine reaches so far", word.text(), figure(size, 0)),
                )
                .cure("check point and unit"),
            );
            return None;
        }
        Some(value)
    }

    /// Where each axis goes by the coordinates of a line; none if there are no coordinates.
    pub(super) fn target(&mut self, line: &mut Line<'_>) -> Option<[Option<Fraction>; 3]> {
        let mut to = self.at;
        let mut any = false;
        for (letter, axis, always) in [
            ('X', 0, false),
            ('Y', 1, false),
            ('Z', 2, false),
            ('U', 0, true),
            ('V', 1, true),
            ('W', 2, true),
        ] {
            let Some(word) = line.letter(letter) else { continue };
            any = true;
            let Some(mut value) = self.length(&word, true) else { continue };
            if axis == 0 && self.control.machine == Machine::Lathe && self.control.across == Across::Diameter
            {
                value = value.over(Fraction::whole(2)).unwrap_or(value);
            }
            let incremental = always || self.distance == Some(Distance::Incremental);
            if !incremental {
                if let Some(at) = self.at[axis].filter(|_| self.incremental[axis]) {
                    let off = (value.to_f64() - at.to_f64()).abs();
                    if off > 0.0 && off < DRIFT {
                        self.tell(
                            Fault::new(
                                Wrong::Drift,
                                word.spot,
                                format!(
                                    "the incremental stretch before it ends {} mm beside {}",
                                    figure(off, 4),
                                    word.text()
                                ),
                            )
                            .by(off)
                            .cure("make its steps add up"),
                        );
                    }
                }
                self.incremental[axis] = false;
                to[axis] = Some(value);
                continue;
            }
            self.incremental[axis] = true;
            let Some(at) = self.at[axis] else {
                self.tell(
                    Fault::new(
                        Wrong::UnknownStart,
                        word.spot,
                        format!("{} counts from a place that is not known", word.text()),
                    )
                    .cure("go to an absolute place first"),
                );
                continue;
            };
            to[axis] = at.plus(value);
        }
        any.then_some(to)
    }
}

/// The nearest fraction with six decimals.
fn from_f64(value: f64) -> Option<Fraction> {
    Fraction::decimal(&format!("{value:.6}"))
}

/// A line and which of its words were used.
pub(super) struct Line<'b> {
    pub(super) block: &'b Block,
    used: Vec<bool>,
}

impl Line<'_> {
    fn find(&self, letter: char, tenths: &[i64]) -> Option<usize> {
        self.block.words.iter().zip(&self.used).position(|(word, used)| {
            !used && word.letter == letter && word.tenths().is_some_and(|own| tenths.contains(&own))
        })
    }

    pub(super) fn peek(&self, letter: char, tenths: &[i64]) -> Option<&Word> {
        self.find(letter, tenths).map(|i| &self.block.words[i])
    }

    pub(super) fn has(&self, letter: char, tenths: &[i64]) -> bool {
        self.find(letter, tenths).is_some()
    }

    /// Uses up the first of these words.
    pub(super) fn take(&mut self, letter: char, tenths: &[i64]) -> Option<Word> {
        let i = self.find(letter, tenths)?;
        self.used[i] = true;
        Some(self.block.words[i].clone())
    }

    /// Uses up the word of a letter.
    pub(super) fn letter(&mut self, letter: char) -> Option<Word> {
        let i = self
            .block
            .words
            .iter()
            .zip(&self.used)
            .position(|(word, used)| !used && word.letter == letter)?;
        self.used[i] = true;
        Some(self.block.words[i].clone())
    }
}
