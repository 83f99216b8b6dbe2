//! From text to lines and words.

use reckon::exact::Fraction;

use crate::control::{Control, Percent};
use crate::fault::{Fault, Spot, Wrong};

/// A word: its letter and its number.
#[derive(Debug, Clone, PartialEq)]
pub struct Word {
    /// The letter, in capitals.
    pub letter: char,
    /// The number as it stands, blanks left out.
    pub raw: String,
    /// The number.
    pub value: Fraction,
    /// Where.
    pub spot: Spot,
}

impl Word {
    /// The number in tenths, when it is a whole count of them.
    #[must_use]
    pub fn tenths(&self) -> Option<i64> {
        let (num, den) = self.value.terms();
        (10 % den == 0).then_some(())?;
        i64::try_from(num.checked_mul(10 / den)?).ok()
    }

    /// The number, when it is whole and not negative.
    #[must_use]
    pub fn whole(&self) -> Option<u32> {
        let (num, den) = self.value.terms();
        if den == 1 { u32::try_from(num).ok() } else { None }
    }

    /// Whether it has a decimal point.
    #[must_use]
    pub fn dotted(&self) -> bool {
        self.raw.contains('.')
    }

    /// How many decimals stand behind the point.
    #[must_use]
    pub fn decimals(&self) -> usize {
        self.raw.split_once('.').map_or(0, |(_, part)| part.len())
    }

    /// The word as it stands.
    #[must_use]
    pub fn text(&self) -> String {
        format!("{}{}", self.letter, self.raw)
    }
}

/// One line of a program.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// The whole line.
    pub spot: Spot,
    /// Its words without the line number.
    pub words: Vec<Word>,
    /// What its comments say.
    pub comment: String,
    /// Whether it is a percent sign.
    pub percent: bool,
}

impl Block {
    /// Whether nothing but comments stands in it.
    #[must_use]
    pub fn is_idle(&self) -> bool {
        self.words.is_empty() && !self.percent
    }
}

/// The lines of a program. What cannot be read is told and left out.
#[must_use]
pub fn blocks(text: &str, control: &Control, faults: &mut Vec<Fault>) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut start = 0;
    let mut number = 0;
    let mut returns: Option<bool> = None;
    let mut told = false;
    while start < text.len() {
        let end = text[start..].find('\n').map_or(text.len(), |at| start + at);
        let mut line = &text[start..end];
        number += 1;
        if end < text.len() {
            let with = line.ends_with('\r');
            if with {
                line = &line[..line.len() - 1];
            }
            if returns.is_some_and(|returns| returns != with) && !told {
                told = true;
                let spot = Spot { line: number, column: 1, start, end };
                faults.push(
                    Fault::new(Wrong::LineEnds, spot, "this line ends in another way than those before it")
                        .why("some lines end with a carriage return and some do not; a control may join them")
                        .cure("write all lines with the same end"),
                );
            }
            returns = returns.or(Some(with));
        }
        let mut scan = Scan { line, number, start, control, faults };
        blocks.push(scan.block());
        start = end + 1;
    }
    percents(&blocks, control, faults);
    blocks
}

/// Percent signs: first and last line, or nowhere.
fn percents(blocks: &[Block], control: &Control, faults: &mut Vec<Fault>) {
    let signs: Vec<&Block> = blocks.iter().filter(|block| block.percent).collect();
    let first = blocks.iter().find(|block| block.percent || !block.is_idle());
    let mut tell = |spot, says: &str, cure: &str| {
        faults.push(Fault::new(Wrong::Percent, spot, says).cure(cure));
    };
    match (control.percent, signs.as_slice()) {
        (Percent::Required, []) => {
            tell(
                Spot { line: 1, column: 1, start: 0, end: 0 },
                "the program does not begin with a percent sign",
                "put % on a line of its own at the beginning and at the end",
            );
        }
        (Percent::Refused, [sign, ..]) => {
            tell(sign.spot, "this control takes no percent sign", "leave the line out");
        }
        (_, []) => {}
        (_, [sign, rest @ ..]) => {
            if first.is_some_and(|first| !first.percent) {
                tell(
                    sign.spot,
                    "a percent sign stands behind the first words",
                    "put % before everything else",
                );
            }
            if rest.is_empty() {
                tell(
                    sign.spot,
                    "the percent sign at the beginning is not closed",
                    "put % on a line of its own at the end",
                );
            }
            if let [_, third, ..] = rest {
                tell(third.spot, "a third percent sign", "leave it out");
            }
        }
    }
}

struct Scan<'a> {
    line: &'a str,
    number: u32,
    start: usize,
    control: &'a Control,
    faults: &'a mut Vec<Fault>,
}

impl Scan<'_> {
    fn spot(&self, from: usize, to: usize) -> Spot {
        let column = u32::try_from(self.line[..from].chars().count() + 1).unwrap_or(u32::MAX);
        Spot { line: self.number, column, start: self.start + from, end: self.start + to }
    }

    fn tell(&mut self, wrong: Wrong, from: usize, to: usize, says: impl Into<String>, cure: &str) {
        let spot = self.spot(from, to);
        self.faults.push(Fault::new(wrong, spot, says).cure(cure));
    }

    fn block(&mut self) -> Block {
        let length = self.line.chars().count();
        if length > self.control.longest_line {
            let most = self.control.longest_line;
            let from = self.line.char_indices().nth(most).map_or(0, |(at, _)| at);
            let says = format!("the line has {length} signs; the control reads {most}");
            self.tell(Wrong::LongLine, from, self.line.len(), says, "break it in two");
        }
        let mut words = Vec::new();
        let mut comment = String::new();
        let mut percent = false;
        let mut at = 0;
        let mut begun = false;
        let mut skipped = false;
        while let Some(sign) = self.line[at..].chars().next() {
            let next = at + sign.len_utf8();
            match sign {
                ' ' | '\t' => {}
                '/' if !begun && !skipped => {
                    skipped = true;
                    if !self.control.skip_sign {
                        self.tell(
                            Wrong::Skip,
                            at,
                            next,
                            "the control knows no sign for lines to be skipped",
                            "leave the / out",
                        );
                    }
                }
                '(' => {
                    at = self.comment(at, &mut comment);
                    continue;
                }
                ')' => self.tell(
                    Wrong::Comment,
                    at,
                    next,
                    "a comment is closed that was not opened",
                    "leave the ) out",
                ),
                '%' => {
                    if begun || !self.line[next..].trim().is_empty() {
                        self.tell(
                            Wrong::Percent,
                            at,
                            next,
                            "a percent sign stands among words",
                            "put it on a line of its own",
                        );
                    }
                    percent = true;
                }
                letter if letter.is_ascii_alphabetic() => {
                    at = self.word(at, letter.to_ascii_uppercase(), begun, &mut words);
                    begun = true;
                    continue;
                }
                '0'..='9' | '.' | '+' | '-' => {
                    let end = self.after_number(at);
                    self.tell(
                        Wrong::NoLetter,
                        at,
                        end,
                        format!("`{}` has no letter before it", self.line[at..end].trim()),
                        "put the letter of its word before it",
                    );
                    at = end;
                    continue;
                }
                other => self.odd(other, at, next),
            }
            at = next;
        }
        Block { spot: self.spot(0, self.line.len()), words, comment, percent }
    }

    /// A sign that cannot stand where it does.
    fn odd(&mut self, sign: char, from: usize, to: usize) {
        match sign {
            '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{ff0d}' => {
                self.tell(
                    Wrong::ForeignMinus,
                    from,
                    to,
                    format!("`{sign}` looks like a minus and is none"),
                    "write the plain sign -",
                );
            }
            ',' => self.tell(
                Wrong::DecimalComma,
                from,
                to,
                "a comma stands where a decimal point is due",
                "write a point",
            ),
            '\r' => self.tell(
                Wrong::LineEnds,
                from,
                to,
                "a carriage return stands inside a line",
                "end the line there, or leave it out",
            ),
            sign => self.tell(
                Wrong::Sign,
                from,
                to,
                format!("`{}` is no sign of a program", sign.escape_default()),
                "leave it out",
            ),
        }
    }

    /// Reads a comment that opens at `from`; gives where the line goes on.
    fn comment(&mut self, from: usize, comment: &mut String) -> usize {
        let inside = &self.line[from + 1..];
        let close = inside.find(')');
        let end = close.map_or(self.line.len(), |at| from + 1 + at);
        if !self.control.comments {
            self.tell(Wrong::Comment, from, end, "the control takes no comments", "leave it out");
        }
        if let Some(nested) = self.line[from + 1..end].find('(') {
            let at = from + 1 + nested;
            self.tell(
                Wrong::Comment,
                at,
                at + 1,
                "a comment is opened inside another",
                "use no parentheses in a comment",
            );
        }
        if close.is_none() {
            self.tell(Wrong::Comment, from, end, "the comment is not closed on its line", "put ) at its end");
        }
        if !comment.is_empty() {
            comment.push(' ');
        }
        comment.push_str(self.line[from + 1..end].trim());
        (end + 1).min(self.line.len())
    }

    /// The end of the signs that a number could be made of, trailing blanks left out.
    fn after_number(&self, from: usize) -> usize {
        let signs = |sign: char| sign.is_ascii_digit() || matches!(sign, '.' | '+' | '-' | ' ' | '\t');
        let end = self.line[from..].find(|sign| !signs(sign)).map_or(self.line.len(), |at| from + at);
        from + self.line[from..end].trim_end().len()
    }

    fn word(&mut self, from: usize, letter: char, begun: bool, words: &mut Vec<Word>) -> usize {
        let mut end = self.after_number(from + 1);
        let raw: String =
            self.line[from + 1..end].chars().filter(|sign| !matches!(sign, ' ' | '\t')).collect();
        let rest = &self.line[end..];
        let mut signs = rest.chars();
        match (signs.next(), signs.next()) {
            // 1,5 and 1e3: told once, as what they are.
            (Some(','), Some(digit)) if digit.is_ascii_digit() => {
                let stop = self.after_number(end + 1);
                self.tell(
                    Wrong::DecimalComma,
                    end,
                    end + 1,
                    "a comma stands where a decimal point is due",
                    "write a point",
                );
                return stop;
            }
            (Some('e' | 'E'), Some(digit))
                if !raw.is_empty()
                    && !self.control.letters.contains('E')
                    && (digit.is_ascii_digit() || matches!(digit, '+' | '-')) =>
            {
                let stop = self.after_number(end + 1);
                let says = format!("`{}` is written with a power of ten", &self.line[from..stop]);
                self.tell(Wrong::Number, from, stop, says, "write all digits");
                return stop;
            }
            (Some(minus), _) if raw.is_empty() && !minus.is_ascii() => {
                let next = end + minus.len_utf8();
                self.odd(minus, end, next);
                return self.after_number(next);
            }
            _ => {}
        }
        end = end.max(from + 1);
        let digits = raw.chars().filter(char::is_ascii_digit).count();
        let signless = raw.strip_prefix(['+', '-']).unwrap_or(&raw);
        let plain = digits > 0
            && signless.chars().all(|sign| sign.is_ascii_digit() || sign == '.')
            && signless.matches('.').count() <= 1;
        if !plain {
            let says = if raw.is_empty() {
                format!("`{letter}` has no number")
            } else {
                format!("`{raw}` is no number")
            };
            self.tell(Wrong::Number, from, end, says, "write digits with at most one sign and one point");
            return end;
        }
        let Some(value) = Fraction::decimal(&raw) else {
            self.tell(
                Wrong::Digits,
                from,
                end,
                format!("`{raw}` has {digits} digits; more than 18 are not read"),
                "round it",
            );
            return end;
        };
        let word = Word { letter, raw, value, spot: self.spot(from, end) };
        if letter == 'N' {
            self.line_number(&word, begun);
        } else if !matches!(letter, 'G' | 'M') && !self.control.letters.contains(letter) {
            self.tell(
                Wrong::UnknownLetter,
                from,
                end,
                format!("the control knows no letter {letter}"),
                "leave the word out",
            );
        } else {
            words.push(word);
        }
        end
    }

    fn line_number(&mut self, word: &Word, begun: bool) {
        let most = self.control.highest_line;
        let says = if begun {
            "the line number stands behind other words".to_owned()
        } else if word.dotted() || word.whole().is_none_or(|number| number > most) {
            format!("{} is no line number; they are whole, 0 to {most}", word.text())
        } else {
            return;
        };
        self.faults.push(
            Fault::new(Wrong::LineNumber, word.spot, says)
                .cure("number lines at their beginning, or not at all"),
        );
    }
}
