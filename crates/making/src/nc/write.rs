//! Acts put into the words of a control.

use super::act::{Act, To};
use super::habits::{Habits, Machine};
use kurbo::Point;
use reckon::maths::{PI, acos, atan2, cos, sin};
use record::facts::{ArcCentre, PercentSigns, ToolSays};

/// What stands in the way of writing a program for a control.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cannot {
    /// The word that it lacks.
    pub word: String,
    /// What needs it.
    pub needs: String,
    /// What would do.
    pub would_do: String,
}

/// Ends of an arc may differ by so much from its radius, in millimetres: a good part less than the 0.002 that
/// controls stand.
const ARC_SLACK: f64 = 0.0015;

/// Puts acts into words.
///
/// # Errors
/// Each word that is needed and not known, once.
pub fn write(acts: &[Act], habits: &Habits) -> Result<String, Vec<Cannot>> {
    let mut w = Writer {
        habits,
        lines: Vec::new(),
        cannot: Vec::new(),
        at: [None; 3],
        shown: [const { None }; 3],
        feed: None,
        rpm: 0.0,
        turns: false,
        tool: None,
        begun: false,
    };
    for act in acts {
        w.act(act);
    }
    w.done()
}

struct Writer<'a> {
    habits: &'a Habits,
    lines: Vec<String>,
    cannot: Vec<Cannot>,
    /// Where the tool stands as written, in millimetres; X of a lathe a radius.
    at: [Option<f64>; 3],
    /// The same as last written.
    shown: [Option<String>; 3],
    feed: Option<String>,
    rpm: f64,
    turns: bool,
    tool: Option<u32>,
    begun: bool,
}

/// A number of at most so many decimals, with a point and no idle noughts.
fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0') } else { &text };
    let text = if text.contains('.') { text.to_owned() } else { format!("{text}.") };
    if text == "-0." { "0.".to_owned() } else { text }
}
/// Letters that stand for those that controls do not know.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '(' => out.push('<'),
            ')' => out.push('>'),
            ' '..='~' => out.push(c.to_ascii_uppercase()),
            '⌀' => out.push_str("DIA "),
            '×' => out.push('X'),
            '°' => out.push_str(" DEG"),
            'ä' | 'Ä' | 'æ' | 'Æ' => out.push_str("AE"),
            'ö' | 'Ö' | 'ø' | 'Ø' | 'œ' | 'Œ' => out.push_str("OE"),
            'ü' | 'Ü' => out.push_str("UE"),
            'ß' => out.push_str("SS"),
            'à'..='å' | 'À'..='Å' => out.push('A'),
            'è'..='ë' | 'È'..='Ë' => out.push('E'),
            'ì'..='ï' | 'Ì'..='Ï' => out.push('I'),
            'ò'..='õ' | 'Ò'..='Õ' => out.push('O'),
            'ù'..='û' | 'Ù'..='Û' => out.push('U'),
            'ç' | 'Ç' => out.push('C'),
            'ñ' | 'Ñ' => out.push('N'),
            '–' | '−' | '—' => out.push('-'),
            _ => out.push('_'),
        }
    }
    out
}

impl Writer<'_> {
    fn needs(&mut self, word: &str, needs: &str, would_do: &str) -> bool {
        if self.habits.knows(word) {
            return true;
        }
        self.lacks(word, needs, would_do);
        false
    }
    fn lacks(&mut self, word: &str, needs: &str, would_do: &str) {
        if !self.cannot.iter().any(|c| c.word == word) {
            self.cannot.push(Cannot { word: word.into(), needs: needs.into(), would_do: would_do.into() });
        }
    }
    fn line(&mut self, words: &str) {
        let numbered = if self.habits.line_numbers {
            let n = self.lines.iter().filter(|l| l.starts_with('N')).count();
            format!("N{} {words}", (n + 1) * 10)
        } else {
            words.to_owned()
        };
        if numbered.len() > self.habits.longest_line {
            self.lacks(
                "long lines",
                "a motion needs all its words in one line",
                "a longer line, or fewer decimals",
            );
        }
        self.lines.push(numbered);
    }
    fn remark(&mut self, says: &str) {
        if !self.habits.comments {
            return;
        }
        let room = self.habits.longest_line.saturating_sub(2).max(1);
        let mut line = String::new();
        for word in plain(says).split_whitespace() {
            let mut word = word;
            if !line.is_empty() && line.len() + 1 + word.len() > room {
                self.lines.push(format!("({line})"));
                line.clear();
            }
            while word.len() > room {
                let (head, rest) = word.split_at(room);
                self.lines.push(format!("({head})"));
                word = rest;
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        if !line.is_empty() {
            self.lines.push(format!("({line})"));
        }
    }
    /// Unit, plane, absolute, feed: everything that a program must not take over from what ran before.
    fn begin(&mut self) {
        if self.begun {
            return;
        }
        self.begun = true;
        let lathe = self.habits.machine == Machine::Lathe;
        let mut safe = Vec::new();
        for (word, needs) in
            [("G21", "sizes are in millimetres"), ("G90", "places are counted from one zero")]
        {
            if self.needs(word, needs, "a control that states it") {
                safe.push(word);
            }
        }
        let known = if lathe {
            ["G18", "G40", "G80", "G95", "G97"].as_slice()
        } else {
            ["G17", "G40", "G49", "G80", "G94"].as_slice()
        };
        safe.extend(known.iter().filter(|word| self.habits.knows(word)));
        if lathe && !self.habits.knows("G95") && self.habits.knows("G94") {
            safe.push("G94");
        }
        let safe = safe.join(" ");
        self.line(&safe);
    }
    fn act(&mut self, act: &Act) {
        if !matches!(act, Act::Remark(_)) {
            self.begin();
        }
        match act {
            Act::Remark(says) => self.remark(says),
            Act::Tool { number, says } => self.bring(*number, says),
            Act::Spindle { rpm } => {
                self.rpm = *rpm;
                if self.needs(
                    "M3",
                    "the spindle must turn",
                    "a control that starts it, or a switch and a stop",
                ) {
                    self.line(&format!("S{rpm:.0} M3"));
                    self.turns = true;
                }
            }
            Act::SpindleOff => self.spindle_off(),
            Act::Rapid(to) => {
                if self.needs("G0", "the tool goes through air", "a control that knows rapids") {
                    self.rapid(*to);
                }
            }
            Act::Line { to, feed } => {
                if self.needs("G1", "the tool cuts straight", "a control that knows straight feeds") {
                    self.straight(*to, *feed);
                }
            }
            Act::Arc { to, centre, clockwise, feed } => self.arc(*to, *centre, *clockwise, *feed),
            Act::Thread { z, lead } => self.thread(*z, *lead),
            Act::Wait { seconds } => {
                if self.habits.knows("G4") {
                    let count = if self.habits.milliseconds {
                        format!("{:.0}", seconds * 1000.0)
                    } else {
                        number(*seconds, 1)
                    };
                    self.line(&format!("G4 P{count}"));
                }
            }
            Act::Stop { says } => {
                if self.needs("M0", "the maker has to do something meanwhile", "two programs instead of one")
                {
                    // On the stop's own line, where the screen shows it, if it finds room there.
                    let says = plain(says);
                    let room = self.habits.longest_line.saturating_sub(12);
                    if self.habits.comments && says.len() <= room {
                        self.line(&format!("M0 ({says})"));
                    } else {
                        self.remark(&says);
                        self.line("M0");
                    }
                }
            }
            Act::End => self.end(),
        }
    }
    fn spindle_off(&mut self) {
        if self.turns && self.needs("M5", "the spindle must stand", "a control that stops it") {
            self.line("M5");
            self.turns = false;
        }
    }
    fn end(&mut self) {
        self.spindle_off();
        match ["M30", "M2"].into_iter().find(|word| self.habits.knows(word)) {
            Some(word) => self.line(word),
            None => self.lacks("M30", "a program must end", "a control that knows M30 or M2"),
        }
    }
    fn bring(&mut self, number: u32, says: &str) {
        self.spindle_off();
        self.remark(&format!("tool {number}: {says}"));
        match self.habits.tool_word {
            ToolSays::Number => {
                if self.needs("M6", "tools are changed", "a program of its own for each tool") {
                    self.line(&format!("T{number} M6"));
                }
            }
            ToolSays::NumberAndOffset => self.line(&format!("T{number:02}{number:02}")),
            ToolSays::Nothing => {
                if self.tool.is_some_and(|before| before != number) {
                    self.lacks("T", "a second tool is brought in", "a program of its own for each tool");
                }
            }
        }
        self.tool = Some(number);
    }
    /// A place as this control reads it back.
    fn rounded(&self, axis: usize, value: f64) -> (f64, String) {
        let across = axis == 0 && self.habits.machine == Machine::Lathe && !self.habits.radius;
        let scale = if across { 2.0 } else { 1.0 };
        let text = number(value * scale, self.habits.decimals);
        (text.parse::<f64>().unwrap_or(value * scale) / scale, text)
    }
    /// The words of the axes that change.
    fn places(&mut self, to: To) -> String {
        let mut out = String::new();
        for (axis, (letter, value)) in [('X', to.x), ('Y', to.y), ('Z', to.z)].into_iter().enumerate() {
            let Some(value) = value else { continue };
            let (value, text) = self.rounded(axis, value);
            if self.shown[axis].as_ref() != Some(&text) {
                out += &format!(" {letter}{text}");
            }
            self.shown[axis] = Some(text);
            self.at[axis] = Some(value);
        }
        out
    }
    fn rapid(&mut self, to: To) {
        let places = self.places(to);
        if !places.is_empty() {
            self.line(&format!("G0{places}"));
        }
    }
    /// The word of a feed where it changes.
    fn fed(&mut self, feed: f64) -> String {
        let lathe = self.habits.machine == Machine::Lathe;
        let fastest = self.habits.fastest_feed;
        let text = if lathe && self.habits.knows("G95") {
            // The slide is no faster a turn than a minute allows.
            let most = if self.rpm > 0.0 { fastest / self.rpm } else { feed };
            number((feed.min(most) * 1e4).floor() / 1e4, 4)
        } else {
            let a_minute = if lathe { feed * self.rpm } else { feed };
            number((a_minute.min(fastest) * 10.0).floor() / 10.0, 1)
        };
        if self.feed.as_ref() == Some(&text) {
            return String::new();
        }
        self.feed = Some(text.clone());
        format!(" F{text}")
    }
    fn straight(&mut self, to: To, feed: f64) {
        let places = self.places(to);
        if !places.is_empty() {
            let fed = self.fed(feed);
            self.line(&format!("G1{places}{fed}"));
        }
    }
    /// The two axes of arcs.
    fn plane(&self) -> [usize; 2] {
        match self.habits.machine {
            Machine::Mill => [0, 1],
            Machine::Lathe => [2, 0],
        }
    }
    fn arc(&mut self, to: Point, centre: Point, clockwise: bool, feed: f64) {
        let [a, b] = self.plane();
        let (Some(x), Some(y)) = (self.at[a], self.at[b]) else { return };
        let from = Point::new(x, y);
        // On a lathe a place is (radius, z) to the maker and (z, radius) in the plane.
        let (to, centre) = match self.habits.machine {
            Machine::Mill => (to, centre),
            Machine::Lathe => (Point::new(to.y, to.x), Point::new(centre.y, centre.x)),
        };
        let begin = atan2(from.y - centre.y, from.x - centre.x);
        let mut turn = atan2(to.y - centre.y, to.x - centre.x) - begin;
        if clockwise && turn >= -1e-9 {
            turn -= 2.0 * PI;
        }
        if !clockwise && turn <= 1e-9 {
            turn += 2.0 * PI;
        }
        let radius = from.distance(centre);
        let word = if clockwise { "G2" } else { "G3" };
        let whole = self.habits.arcs != ArcCentre::Never && self.habits.knows(word);
        // A full circle in two halves: no control takes its end for its start.
        let pieces: u32 = if whole {
            if turn.abs() > 1.5 * PI { 2 } else { 1 }
        } else {
            let step = 2.0 * acos((1.0 - self.habits.arc_tolerance / radius.max(1e-6)).clamp(-1.0, 1.0));
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "clamped to 1 … 10 000"
            )]
            let n = (turn.abs() / step.max(1e-3)).ceil().clamp(1.0, 10_000.0) as u32;
            n
        };
        for i in 1..=pieces {
            let share = f64::from(i) / f64::from(pieces);
            let angle = begin + turn * share;
            let place = if i == pieces {
                to
            } else {
                Point::new(centre.x + radius * cos(angle), centre.y + radius * sin(angle))
            };
            self.piece(place, whole.then_some((word, centre)), feed);
        }
    }
    /// A piece of an arc of less than a turn; a line where the control knows no arcs, or rounding would spoil it.
    fn piece(&mut self, to: Point, arc: Option<(&str, Point)>, feed: f64) {
        let [a, b] = self.plane();
        let mut goal = To::default();
        for (axis, value) in [(a, to.x), (b, to.y)] {
            match axis {
                0 => goal.x = Some(value),
                1 => goal.y = Some(value),
                _ => goal.z = Some(value),
            }
        }
        let from = [a, b].map(|axis| self.at[axis].unwrap_or(0.0));
        let end = [self.rounded(a, to.x).0, self.rounded(b, to.y).0];
        let Some((word, centre)) = arc else { return self.straight(goal, feed) };
        let decimals = self.habits.decimals;
        let from_zero = self.habits.arcs == ArcCentre::FromZero;
        let scale = |axis: usize| {
            let across = axis == 0 && self.habits.machine == Machine::Lathe && !self.habits.radius;
            if from_zero && across { 2.0 } else { 1.0 }
        };
        let offsets = [(a, centre.x, from[0]), (b, centre.y, from[1])].map(|(axis, c, start)| {
            let text = number(if from_zero { c * scale(axis) } else { c - start }, decimals);
            let read = text.parse::<f64>().unwrap_or(0.0) / scale(axis);
            (axis, text, if from_zero { read } else { start + read })
        });
        let read = Point::new(offsets[0].2, offsets[1].2);
        let off = |p: [f64; 2]| Point::new(p[0], p[1]).distance(read);
        let same = (from[0] - end[0]).abs() < 1e-9 && (from[1] - end[1]).abs() < 1e-9;
        if same || (off(from) - off(end)).abs() > ARC_SLACK {
            return self.straight(goal, feed);
        }
        // Both axes stand in the line of an arc: some controls take none over.
        for axis in [a, b] {
            self.shown[axis] = None;
        }
        let places = self.places(goal);
        let fed = self.fed(feed);
        let mut letters: Vec<(char, &str)> =
            offsets.iter().map(|(axis, text, _)| (['I', 'J', 'K'][*axis], text.as_str())).collect();
        letters.sort_unstable();
        let about: String = letters.iter().map(|(letter, text)| format!(" {letter}{text}")).collect();
        self.line(&format!("{word}{places}{about}{fed}"));
    }
    fn thread(&mut self, z: f64, lead: f64) {
        if !self.habits.synchronised {
            self.lacks(
                "G33",
                "the slide must follow the spindle for a thread",
                "a die, or change wheels by hand",
            );
            return;
        }
        let places = self.places(To::z(z));
        self.line(&format!("G33{places} K{}", number(lead, self.habits.decimals)));
        self.feed = None;
    }
    fn done(self) -> Result<String, Vec<Cannot>> {
        if !self.cannot.is_empty() {
            return Err(self.cannot);
        }
        let mut text = self.lines.join("\n") + "\n";
        if self.habits.percent == PercentSigns::Required {
            text = format!("%\n{text}%\n");
        }
        Ok(text)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Act, Habits, Machine, To};
    use super::{number, write};
    use kurbo::Point;
    use record::facts::ArcCentre;

    const WORDS: &[&str] = &["G0", "G1", "G2", "G3", "G17", "G21", "G90", "G94", "M3", "M5", "M30"];

    fn slot() -> Vec<Act> {
        vec![
            Act::Remark("Slot, ⌀ 2 (mm)".into()),
            Act::Tool { number: 1, says: "end mill".into() },
            Act::Spindle { rpm: 4000.0 },
            Act::Wait { seconds: 2.0 },
            Act::Rapid(To::z(5.0)),
            Act::Rapid(To::xy(Point::new(1.0, 0.0))),
            Act::Line { to: To::z(-0.3), feed: 30.0 },
            Act::Arc { to: Point::new(1.0, 0.0), centre: Point::ZERO, clockwise: false, feed: 60.0 },
            Act::Rapid(To::z(5.0)),
            Act::End,
        ]
    }
    #[test]
    fn numbers_have_a_point() {
        assert_eq!(
            (number(1.0, 4), number(-0.000_01, 4), number(0.125, 2)),
            ("1.".into(), "0.".into(), "0.12".into())
        );
    }
    #[test]
    fn a_full_circle_is_two_halves() {
        let text = write(&slot(), &Habits::plain(Machine::Mill, WORDS)).expect("all words are known");
        assert_eq!(
            text,
            "(SLOT, DIA 2 <MM>)\nG21 G90 G17 G94\n(TOOL 1: END MILL)\nS4000 M3\nG0 Z5.\nG0 X1. Y0.\nG1 Z-0.3 F30.\n\
             G3 X-1. Y0. I-1. J0. F60.\nG3 X1. Y0. I1. J0.\nG0 Z5.\nM5\nM30\n"
        );
    }
    #[test]
    fn a_missing_word_is_named() {
        let less = Habits::plain(Machine::Mill, &["G0", "G1", "G90", "M5"]);
        let missing: Vec<String> =
            write(&slot(), &less).expect_err("it lacks some").into_iter().map(|c| c.word).collect();
        assert_eq!(missing, ["G21", "M3", "M30"]);
        // No arcs: short lines, and the program is whole.
        let lines = Habits {
            arcs: ArcCentre::Never,
            line_numbers: true,
            comments: false,
            ..Habits::plain(Machine::Mill, WORDS)
        };
        let text = write(&slot(), &lines).expect("short lines stand for arcs");
        assert!(text.starts_with("N10 G21") && text.matches("G1 X").count() > 20 && !text.contains('('));
    }
}
