//! How hard a part is wanted: what the maker wrote, else what its kind is usually given.

use heat::steel::{self, Wanted};
use movement::part::{Part, PartKind};
use reckon::{Book, Ratio, Source, Val};

/// Usual hardness by kind.
pub static USUAL: Source = Source::practice("usual hardness of clock parts by their use");

/// What is wanted.
#[derive(Clone, Debug)]
pub struct Hardness {
    /// Least HRC.
    pub low: Val<Ratio>,
    /// Most HRC.
    pub high: Val<Ratio>,
    /// What kind of part the table was asked for; none where the maker wrote the hardness.
    pub like: Option<&'static Wanted>,
}
/// The row of usual hardness for a part: by its name first, then by its kind.
#[must_use]
pub fn like(part: &Part) -> Option<&'static Wanted> {
    let name = part.common.name.to_lowercase();
    let kind = part.kind.word();
    let has = |w: &str| name.contains(w);
    let key = match kind {
        "pallets" | "stop" => "pallet",
        "arbor" => "arbor",
        "pinion" | "cannon" => "pinion",
        "click" | "ratchet" | "stop work" => "click",
        "spring" => "spring",
        "screw" | "stud" => "screw",
        "pin" if has("escape") => "pallet",
        _ if has("pallet") => "pallet",
        _ if has("spring") => "spring",
        _ if has("click") || has("ratchet") || has("pawl") => "click",
        _ if has("pinion") => "pinion",
        _ if has("arbor") || has("staff") || has("pivot") => "arbor",
        _ if has("screw") => "screw",
        _ if has("cutter") || has("graver") || has("form tool") => "graver",
        _ if has("tap") || has("reamer") || has("d-bit") || has("broach") => "tap",
        _ if has("punch") || has("stake") => "punch",
        _ => match part.kind {
            PartKind::Screw | PartKind::Stud => "screw",
            PartKind::Turned => "arbor",
            _ => "click",
        },
    };
    steel::tables().wanted.iter().find(|w| w.part == key)
}
/// Least and most HRC without writing anything: for deciding.
#[must_use]
pub fn bare(part: &Part) -> Option<(f64, f64)> {
    match &part.common.hardness {
        Some(n) => Some((n.bare().value() - 1.0, n.bare().value() + 1.0)),
        None => like(part).map(|w| (w.low, w.high)),
    }
}
impl Hardness {
    /// Of a part, written under a prefix.
    pub fn of(part: &Part, book: &mut Book, at: &str) -> Option<Hardness> {
        if let Some(n) = part.common.hardness {
            let low = reckon::work!(book, format!("{at}.hrc_low"), |n| n - Ratio::si(1.0), &USUAL);
            let high = reckon::work!(book, format!("{at}.hrc_high"), |n| n + Ratio::si(1.0), &USUAL);
            return Some(Hardness { low, high, like: None });
        }
        let w = like(part)?;
        let why = format!(
            "house default: HRC of a {} ({}); hardness = … on the part asks for another",
            w.part, w.how
        );
        let mut hrc = |tail: &str, v: f64| book.assumed(format!("{at}.{tail}"), Ratio::si(v), why.clone());
        let (low, high) = (hrc("hrc_low", w.low), hrc("hrc_high", w.high));
        Some(Hardness { low, high, like: Some(w) })
    }
    /// In words.
    #[must_use]
    pub fn text(&self) -> String {
        format!("{} to {} HRC", self.low.shown(), self.high.shown())
    }
    /// What it is like, in words.
    #[must_use]
    pub fn from(&self) -> &str {
        self.like.map_or("as written", |w| w.how.as_str())
    }
}
