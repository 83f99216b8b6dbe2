//! The number pad: a reading in the unit of the instrument, asked about where it gives pause.

use super::asked::{Asked, encoded};
use super::at_bench::{self, key, name_of, place};
use super::floor::State;
use super::frame::{Frame, why_of};
use super::steps::{At, Way};
use making::plan::Check;
use maud::{Markup, html};
use reckon::{Length, LengthStyle};
use sheets::packet::figures;

/// Units of a length, as the instrument shows them.
const LENGTHS: [&str; 3] = ["mm", "in", "thou"];

/// What is measured.
pub struct Pad<'a> {
    /// Of what.
    pub way: Way<'a>,
    /// At which step.
    pub at: At,
    /// Which check of the operation.
    pub check: usize,
    /// The check.
    of: &'a Check,
    /// Name in the book.
    pub name: String,
    /// SI unit.
    unit: &'static str,
    /// Which piece.
    pub piece: Option<u32>,
}
impl<'a> Pad<'a> {
    /// The check that is asked for.
    #[must_use]
    pub fn of(asked: &Asked, state: &'a State, way: &Way<'a>, at: At) -> Option<Pad<'a>> {
        let check = asked.query.whole("check").or_else(|| asked.form.whole("check"))? as usize;
        let of = way.op(at.stage)?.checks.get(check)?;
        let name = name_of(state, of)?;
        let unit = state.work.book.find(&name)?.1.unit;
        Some(Pad { way: *way, at, check, of, name, unit, piece: at.piece.filter(|_| way.pieces > 1) })
    }
    /// Units it may be read in; the first is the usual one.
    fn units(&self, state: &State) -> Vec<&'static str> {
        match self.unit {
            "m" => {
                let own = match state.style() {
                    LengthStyle::Mm => "mm",
                    LengthStyle::Thou => "thou",
                    LengthStyle::Inch | LengthStyle::Fraction => "in",
                };
                let mut all = vec![own];
                all.extend(LENGTHS.into_iter().filter(|u| *u != own));
                all
            }
            "rad" => vec!["deg"],
            "kg" => vec!["g", "kg"],
            "s" => vec!["s", "min"],
            _ => vec![""],
        }
    }
    /// The reading with its unit, as typed.
    ///
    /// # Errors
    /// What is wrong with it, and what would do.
    pub fn typed(&self, asked: &Asked) -> Result<String, String> {
        let reading =
            asked.form.get("reading").ok_or("nothing was typed: read the instrument, type its number")?;
        if reading.len() > 60 {
            return Err("that is too long for a reading".to_owned());
        }
        // A unit that was typed stands; else that of the instrument.
        let has_unit = reading.chars().any(char::is_alphabetic) || reading.contains(['"', '°', 'µ']);
        let unit = asked.form.get("unit").unwrap_or_default();
        Ok(if has_unit || unit.is_empty() { reading.to_owned() } else { format!("{reading} {unit}") })
    }
    fn back(&self) -> String {
        place(&self.way, self.at)
    }
}
/// The page with the pad.
#[must_use]
pub fn page(asked: &Asked, state: &State, pad: &Pad<'_>, wrong: Option<&str>) -> Markup {
    let what = state.sentence(&pad.of.what);
    let reading = asked.form.get("reading").or_else(|| asked.query.get("reading")).unwrap_or_default();
    let units = pad.units(state);
    let unit = asked.form.get("unit").filter(|u| units.contains(u)).unwrap_or(units[0]);
    let before = state.standing().readings.get(&(pad.name.clone(), pad.piece));
    let to = format!("/bench/{}/{}/measure", encoded(pad.way.slug), pad.at.stage.id());
    let inside = html! {
        div.where { a href=(pad.back()) { "← " (pad.way.name) } span { @if let Some(p) = pad.piece { "piece " strong { (p) } " of " (pad.way.pieces) } } }
        h1 { (what) }
        @if let Some((most, least)) = at_bench::limits(state, pad.of, pad.piece) {
            @let text = figures::limits(most, least, state.style());
            p.now { a class={ "big " (super::route::size_of(&text)) } href=(why_of(&pad.name)) title=(pad.name) { (text) } }
        }
        @if let Some(says) = wrong { div.notice.bad role="alert" { p { (says) } } }
        form method="post" action=(to) data-send="size" {
            (key())
            input type="hidden" name="check" value=(pad.check);
            input type="hidden" name="piece" value=(pad.at.piece.map(|p| p.to_string()).unwrap_or_default());
            label for="reading" { "Reading" }
            input #reading.reading type="text" name="reading" value=(reading) inputmode="decimal" autocomplete="off" maxlength="60" required autofocus;
            @if units.len() > 1 {
                fieldset { legend { "as the instrument shows it" }
                    div.choices { @for u in &units { label { input type="radio" name="unit" value=(u) checked[*u == unit]; (u) } } }
                }
            } @else { input type="hidden" name="unit" value=(unit); }
            div.pad role="group" aria-label="Number pad" {
                @for k in ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0"] { button type="button" data-key=(k) { (k) } }
                button type="button" data-key="back" aria-label="take the last figure off" { "⌫" }
            }
            p { button.first.whole type="submit" { "Enter" } }
            details {
                summary { "With what, how warm, still rough" }
                (tools(state, pad))
                label for="temperature" { "Temperature of the work, °C" }
                input #temperature type="text" name="temperature" inputmode="decimal" autocomplete="off";
                label for="sheet" { "Number of the sheet it was worked from" }
                input #sheet type="text" name="sheet" autocomplete="off";
                div.choices { label { input type="checkbox" name="rough" value="1"; "metal will still come off" } }
            }
        }
        @if let Some(all) = before {
            h2 { "Read before" }
            table { tbody { @for (n, r) in all { tr { td { a href={ "/journal#e" (n) } { "entry " (n) } } td.n { (r.written) } td.soft { (r.tool.as_deref().unwrap_or("")) } } } } }
        }
    };
    let head = format!("Measure {what}");
    Frame { bench: true, ..Frame::of(asked, state, &head, "parts") }.around(&inside)
}
/// Measuring tools that reach this size, the finest first.
fn tools(state: &State, pad: &Pad<'_>) -> Markup {
    let Some(shop) = state.shop() else { return html! {} };
    let size = pad.of.limits.map_or(0.0, |(most, _)| most.value());
    let mut fit: Vec<_> = shop
        .measures
        .iter()
        .filter(|m| m.range.0.bare().value() <= size && size <= m.range.1.bare().value())
        .collect();
    fit.sort_by(|a, b| a.give_or_take.bare().value().total_cmp(&b.give_or_take.bare().value()));
    html! {
        label for="tool" { "With" }
        select #tool name="tool" {
            @for m in fit { option value=(m.name) { (m.name) ", ± " (figures::length(Length::si(m.give_or_take.bare().value()), state.style())) } }
            option value="" { "something else" }
        }
    }
}
/// The page that asks whether it is so.
#[must_use]
pub fn doubted(asked: &Asked, state: &State, pad: &Pad<'_>, answer: &crate::enter::Answer) -> Markup {
    let to = format!("/bench/{}/{}/measure", encoded(pad.way.slug), pad.at.stage.id());
    let typed = pad.typed(asked).unwrap_or_default();
    let refuses = answer.asks.iter().any(|a| a.refuses);
    let form = |reading: &str, word: Markup, first: bool, sure: bool| {
        html! {
            form method="post" action=(to) data-send="size" {
                @for name in ["check", "piece", "tool", "temperature", "sheet", "rough"] { @if let Some(v) = asked.form.get(name) { input type="hidden" name=(name) value=(v); } }
                (key())
                input type="hidden" name="reading" value=(reading);
                @if sure { input type="hidden" name="sure" value="1"; }
                button.first[first] type="submit" { (word) }
            }
        }
    };
    let inside = html! {
        div.where { a href=(pad.back()) { "← " (pad.way.name) } }
        h1 { "Is it so?" }
        p.left-over { (typed) }
        @for a in &answer.asks { div.notice.brass role="alert" { p { (a.says) } } }
        p { "Nothing is entered yet." }
        div.presses {
            a.press.first href=(at_bench::pad(&pad.way, pad.at, pad.check)) { "Read again" }
            @for would in answer.asks.iter().filter_map(|a| a.would_be.as_ref()) { (form(would, html! { "It is " (would) }, false, true)) }
            @if !refuses { (form(&typed, html! { "It is " (typed) ", as typed" }, false, true)) }
        }
    };
    Frame { bench: true, ..Frame::of(asked, state, "Is it so?", "parts") }.around(&inside)
}
