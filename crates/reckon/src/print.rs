//! Quantities as a maker reads them.

use crate::maths;
use crate::quantity::{
    Acceleration, Angle, AngularSpeed, Area, Count, Density, Diameter, Energy, Force, Length, Mass,
    PerKelvin, Power, Pressure, Radius, Ratio, Speed, Stiffness, Temperature, TemperatureDifference, Time,
    Torque, Volume,
};

/// A number with `decimals` places, ties to even as the shortest text allows, and never "-0.00".
#[must_use]
pub fn fixed(x: f64, decimals: usize) -> String {
    let text = format!("{x:.decimals$}");
    if text.starts_with('-') && text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.')) {
        text[1..].to_owned()
    } else {
        text
    }
}
/// A number with `decimals` places and its sign; nothing has none.
#[must_use]
pub fn signed(x: f64, decimals: usize) -> String {
    let text = fixed(x.abs(), decimals);
    if text.bytes().all(|b| matches!(b, b'0' | b'.')) {
        text
    } else if x < 0.0 {
        format!("−{text}")
    } else {
        format!("+{text}")
    }
}
/// A number with `digits` significant figures and no trailing zeros; figures before the point are all kept,
/// and what is smaller than 1e-12 or so is written with a power of ten.
#[must_use]
pub fn significant(x: f64, digits: u32) -> String {
    if x == 0.0 || !x.is_finite() {
        return fixed(x, 0);
    }
    let magnitude = maths::log10(x.abs()).floor();
    #[expect(clippy::cast_possible_truncation, reason = "the logarithm of an f64 lies within ±324")]
    let decimals = i64::from(digits) - 1 - magnitude as i64;
    if decimals > 15 {
        let text = format!("{x:.*e}", (digits as usize).saturating_sub(1));
        let (number, power) = text.split_once('e').unwrap_or((&text, "0"));
        return format!("{}e{power}", trimmed(number));
    }
    let text = fixed(x, usize::try_from(decimals.max(0)).unwrap_or(0));
    trimmed(&text)
}
/// Without zeros that say nothing after the point.
#[must_use]
pub fn trimmed(text: &str) -> String {
    if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text.to_owned()
    }
}

/// How lengths are printed: the choice of a project or a machine.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub enum LengthStyle {
    /// Millimetres.
    #[default]
    Mm,
    /// Decimal inches.
    Inch,
    /// Thousandths of an inch.
    Thou,
    /// The nearest 1/64 in, with what it is off by.
    Fraction,
}
impl LengthStyle {
    /// A length in this style with a sensible number of places, unit included.
    #[must_use]
    pub fn text(self, l: Length) -> String {
        match self {
            LengthStyle::Mm => format!("{} mm", fixed(l.in_mm(), 3)),
            LengthStyle::Inch => format!("{} in", fixed(l.in_inch(), 4)),
            LengthStyle::Thou => format!("{} thou", fixed(l.in_inch() * 1000.0, 1)),
            LengthStyle::Fraction => sixty_fourths(l),
        }
    }
    /// The number alone, for a drawing whose title says the unit.
    #[must_use]
    pub fn number(self, l: Length) -> String {
        match self {
            LengthStyle::Mm => fixed(l.in_mm(), 2),
            LengthStyle::Inch | LengthStyle::Fraction => fixed(l.in_inch(), 4),
            LengthStyle::Thou => fixed(l.in_inch() * 1000.0, 1),
        }
    }
    /// The unit alone.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            LengthStyle::Mm => "mm",
            LengthStyle::Inch | LengthStyle::Fraction => "in",
            LengthStyle::Thou => "thou",
        }
    }
}

/// `25/64 in` or `1 3/8 in`; where it is not exact, what must be added: `3/8 in +0.0012 in`.
#[must_use]
pub fn sixty_fourths(l: Length) -> String {
    let parts = l.in_inch() * 64.0;
    let nearest = parts.round();
    #[expect(clippy::cast_possible_truncation, reason = "lengths of parts are far below 2^63 sixty-fourths")]
    let n = nearest as i64;
    let (sign, n) = if n < 0 { ("-", -n) } else { ("", n) };
    let (whole, part) = (n / 64, n % 64);
    let mut text = sign.to_owned();
    if part == 0 {
        text += &whole.to_string();
    } else {
        let mut den = 64;
        let mut num = part;
        while num % 2 == 0 {
            (num, den) = (num / 2, den / 2);
        }
        if whole > 0 {
            text += &format!("{whole} ");
        }
        text += &format!("{num}/{den}");
    }
    text += " in";
    let off = (parts - nearest) / 64.0;
    if off.abs() >= 0.000_05 {
        text += &format!(" {}{} in", if off > 0.0 { "+" } else { "-" }, fixed(off.abs(), 4));
    }
    text
}

/// The dial of a slide.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Dial {
    /// What one division stands for, in the sense the dial shows.
    pub division: Length,
    /// What one whole turn stands for.
    pub one_turn: Length,
    /// Whether the dial counts the diameter or the travel itself.
    pub shows: DialSense,
}
/// What a dial counts.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum DialSense {
    /// The change of diameter: twice the travel of the slide.
    Diameter,
    /// The travel of the slide, which for a cross slide is the change of radius.
    Travel,
}
impl Dial {
    /// Whole turns and divisions (to a tenth) for a slide that travels `travel`; both negative on the way back.
    #[must_use]
    pub fn reading(&self, travel: Length) -> (i64, f64) {
        let shown = match self.shows {
            DialSense::Diameter => travel.value() * 2.0,
            DialSense::Travel => travel.value(),
        };
        let tenths = (shown / self.division.value() * 10.0).round();
        let per_turn = (self.one_turn.value() / self.division.value() * 10.0).round().max(1.0);
        let turns = (tenths / per_turn).trunc();
        #[expect(clippy::cast_possible_truncation, reason = "turns of a hand wheel")]
        (turns as i64, (tenths - turns * per_turn) / 10.0)
    }
    /// `3 turns + 12.5 div` or `12.5 div`; on the way back `back 3 turns + 12.5 div`.
    #[must_use]
    pub fn text(&self, travel: Length) -> String {
        let (turns, divisions) = self.reading(travel);
        let back = if turns < 0 || divisions < 0.0 { "back " } else { "" };
        let div = format!("{} div", trimmed(&fixed(divisions.abs(), 1)));
        match turns.unsigned_abs() {
            0 => format!("{back}{div}"),
            1 => format!("{back}1 turn + {div}"),
            turns => format!("{back}{turns} turns + {div}"),
        }
    }
}

/// A value that a sheet can show: as text, and as a bare SI number with its unit.
pub trait Shown: Clone {
    /// As a reader sees it.
    fn shown(&self) -> String;
    /// SI value, where it is a number.
    fn si(&self) -> Option<f64>;
    /// SI unit; empty for a plain number or a word.
    fn unit(&self) -> &'static str;
    /// The same kind of thing with another SI value; none for what is no number.
    fn with_si(&self, _si: f64) -> Option<Self> {
        None
    }
    /// Whether it may reach a sheet: a number that is neither NaN nor infinite.
    fn sound(&self) -> bool {
        self.si().is_none_or(f64::is_finite)
    }
}
macro_rules! shown {
    ($($t:ident $v:ident => $text:expr;)+) => { $(
        impl Shown for $t {
            fn shown(&self) -> String { let $v = *self; $text }
            fn si(&self) -> Option<f64> { Some(self.value()) }
            fn unit(&self) -> &'static str { $t::UNIT }
            fn with_si(&self, si: f64) -> Option<$t> { Some($t::si(si)) }
        }
    )+ };
}
shown! {
    Length v => length(v.in_mm());
    Diameter v => format!("⌀{}", length(v.in_mm()));
    Radius v => format!("R{}", length(v.in_mm()));
    Angle v => format!("{}°", significant(v.in_deg(), 6));
    Time v => time(v.value());
    Speed v => if v.value().abs() < 0.02 { format!("{} mm/min", significant(v.in_mm_per_min(), 5)) } else { format!("{} m/min", significant(v.in_m_per_min(), 5)) };
    AngularSpeed v => format!("{} rpm", significant(v.in_rpm(), 6));
    Mass v => if v.value().abs() < 1.0 { format!("{} g", significant(v.value() * 1e3, 5)) } else { format!("{} kg", significant(v.value(), 5)) };
    Force v => format!("{} N", significant(v.value(), 5));
    Torque v => format!("{} N mm", significant(v.value() * 1e3, 5));
    Pressure v => if v.value().abs() >= 1e10 { format!("{} GPa", significant(v.value() / 1e9, 5)) } else { format!("{} N/mm²", significant(v.in_n_per_mm2(), 5)) };
    Energy v => format!("{} J", significant(v.value(), 5));
    Power v => if v.value().abs() < 0.01 { format!("{} µW", significant(v.value() * 1e6, 5)) } else { format!("{} W", significant(v.value(), 5)) };
    Temperature v => format!("{} °C", significant(v.in_celsius(), 5));
    TemperatureDifference v => format!("{} K", significant(v.value(), 5));
    Area v => format!("{} mm²", significant(v.value() * 1e6, 6));
    Volume v => format!("{} mm³", significant(v.value() * 1e9, 6));
    Density v => format!("{} g/cm³", significant(v.value() / 1e3, 5));
    Acceleration v => format!("{} m/s²", significant(v.value(), 8));
    Stiffness v => format!("{} N/mm", significant(v.value() / 1e3, 5));
    PerKelvin v => format!("{} µm/m/K", significant(v.value() * 1e6, 5));
    Ratio v => significant(v.value(), 6);
}
impl Shown for Count {
    fn shown(&self) -> String {
        self.0.to_string()
    }
    fn si(&self) -> Option<f64> {
        Some(self.n())
    }
    fn unit(&self) -> &'static str {
        ""
    }
}
impl Shown for String {
    fn shown(&self) -> String {
        self.clone()
    }
    fn si(&self) -> Option<f64> {
        None
    }
    fn unit(&self) -> &'static str {
        ""
    }
}
impl Shown for bool {
    fn shown(&self) -> String {
        if *self { "yes" } else { "no" }.to_owned()
    }
    fn si(&self) -> Option<f64> {
        None
    }
    fn unit(&self) -> &'static str {
        ""
    }
}
/// Three decimals of a millimetre; micrometres for what is smaller than a hundredth.
fn length(mm: f64) -> String {
    if mm != 0.0 && mm.abs() < 0.01 {
        return format!("{} µm", significant(mm * 1e3, 4));
    }
    format!("{} mm", fixed(mm, 3))
}
fn time(s: f64) -> String {
    if s.abs() < 120.0 {
        format!("{} s", significant(s, 5))
    } else if s.abs() < 7200.0 {
        format!("{} min", significant(s / 60.0, 4))
    } else if s.abs() < 172_800.0 {
        format!("{} h", significant(s / 3600.0, 4))
    } else {
        format!("{} d", significant(s / 86_400.0, 4))
    }
}

#[cfg(test)]
mod tests;
