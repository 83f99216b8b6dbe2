//! What finish a part is to have: the maker's words or the house's choice, as operations.

use super::ladder::{self, Ladder};
use movement::part::{Body, Part, Step};
use reckon::{Book, Id, Length, Source, Val, work};
use record::facts::{Finish, Shop};
use tables::material::Kind;

/// Allowances of hardened parts.
pub static GROWS: Source = Source::practice(
    "left on hardened arbors for bending, growth and lost carbon: 0.15 to 0.25 mm on the diameter; on pivots 0.02 to 0.03 mm for the burnisher",
);
/// A size held closer than this is a fit: nothing but a cut or a burnisher brings it there.
const FIT: f64 = 0.03;

/// An operation of finish.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Asked {
    /// As in [`heat::order::WORKS`].
    pub does: &'static str,
    /// The word that asked for it, if one did.
    pub by: Option<Finish>,
}
/// What a part is to have.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// Words, as written or assumed.
    pub words: Vec<Finish>,
    /// Operations, not yet in order.
    pub works: Vec<Asked>,
    /// `steel`, or `brass` for all that is not.
    pub on: &'static str,
    /// The ladder, where a surface is polished or grained.
    pub ladder: Option<Ladder>,
    /// Left on diameters that are polished.
    pub polished: Option<Val<Length>>,
    /// Left on fits that are turned or ground after hardening.
    pub fits: Option<Val<Length>>,
    /// Left on pivots for the burnisher.
    pub pivots: Option<Val<Length>>,
    /// Steps that are polished, by where they begin.
    shining: Vec<Id>,
    /// Steps that are fits, by where they begin, and whether they are pivots.
    close: Vec<(Id, bool)>,
}
impl Wanted {
    /// Whether it has an operation.
    #[must_use]
    pub fn has(&self, does: &str) -> bool {
        self.works.iter().any(|w| w.does == does)
    }
    /// What is left on the diameter of a step when it is turned.
    #[must_use]
    pub fn left(&self, step: &Step) -> Option<Val<Length>> {
        let at = step.from.id();
        if let Some((_, pivot)) = self.close.iter().find(|(id, _)| *id == at) {
            return self.fits.or(self.pivots.filter(|_| *pivot));
        }
        self.polished.filter(|_| self.shining.contains(&at))
    }
}
/// Whether a step is a pivot.
#[must_use]
pub fn is_pivot(step: &Step) -> bool {
    step.what.contains("pivot")
}
/// Whether a step is held so closely that it is not polished.
#[must_use]
pub fn is_fit(step: &Step) -> bool {
    is_pivot(step) || step.size.upper.bare() - step.size.lower.bare() < Length::mm(FIT)
}
/// What a word is among the operations.
#[must_use]
pub const fn main_work(f: Finish) -> &'static str {
    match f {
        Finish::Harden => "harden",
        Finish::Temper => "temper",
        Finish::Polish | Finish::Satin | Finish::Black | Finish::Mirror => "polish",
        Finish::Blue => "blue",
        Finish::Grain => "grain",
        Finish::Lacquer => "lacquer",
        Finish::Plate => "plate",
        Finish::Anneal => "anneal",
        Finish::Relieve => "stress relieve",
        Finish::Burnish => "burnish",
        Finish::Snail | Finish::Spot => "snail",
        Finish::Frost => "frost",
        Finish::Silver => "silver",
        Finish::Gild => "gild",
        Finish::Wax => "wax",
    }
}
/// `steel`, or `brass` for all that is not iron.
fn metal_of(part: &Part) -> &'static str {
    match part.common.material.kind {
        Kind::Steel
        | Kind::ToolSteel
        | Kind::SpringSteel
        | Kind::StainlessSteel
        | Kind::NickelIron
        | Kind::CastIron => "steel",
        _ => "brass",
    }
}
/// What the house gives a part for which nothing is written: modest, and seen.
fn house(part: &Part) -> Vec<Finish> {
    let yellow =
        matches!(part.common.material.kind, Kind::Brass | Kind::Bronze | Kind::NickelSilver | Kind::Copper);
    match part.kind.word() {
        "dial" if yellow => vec![Finish::Grain, Finish::Silver, Finish::Lacquer],
        "plate" | "cock" | "wheel" | "escape wheel" | "cover" | "barrel" | "drum" | "pillar" | "foot"
        | "washer" | "flat part" | "bob"
            if yellow =>
        {
            vec![Finish::Grain]
        }
        _ => Vec::new(),
    }
}
/// Words as one text.
#[must_use]
pub fn said(words: &[Finish]) -> String {
    if words.is_empty() {
        return "from the tool".to_owned();
    }
    words.iter().map(|f| f.word()).collect::<Vec<_>>().join(", ")
}
/// Finds what a part is to have, and what has to be left on it for that.
///
/// `own` says that the route itself straightens the part after the fire and turns its fits last.
pub fn wanted(part: &Part, shop: &Shop, own: bool, book: &mut Book) -> Wanted {
    let slug = part.slug();
    let mut words: Vec<Finish> = part.common.finish.iter().map(|(f, _)| *f).collect();
    if !part.common.finish_written {
        if words.is_empty() {
            words = house(part);
        }
        book.assumed(
            format!("{slug}.finish"),
            said(&words),
            "house default: the usual finish of such a part; finish = [\"…\"] asks for another, [] for none",
        );
    }
    let on = metal_of(part);
    let steps: &[Step] = match &part.body {
        Body::Turned(b) => &b.steps,
        Body::Flat(_) => &[],
    };
    let mut works = works(part, &words, on, steps);
    if own {
        works.retain(|w| !matches!(w.does, "straighten" | "finish turn" | "burnish"));
    }
    let plain = |s: &&Step| s.thread.is_none() && !s.undercut && s.knurl.is_none();
    let shining = steps.iter().filter(|s| plain(s) && !is_fit(s)).map(|s| s.from.id()).collect();
    let close = steps.iter().filter(|s| plain(s) && is_fit(s)).map(|s| (s.from.id(), is_pivot(s))).collect();
    let hardened = works.iter().any(|w| w.does == "harden");
    let level = words.iter().copied().find(|f| f.polishes());
    let level = level.or_else(|| words.contains(&Finish::Grain).then_some(Finish::Grain));
    let ladder = level.map(|level| ladder::ladder(book, slug, shop, on, level, hardened));
    let turned = matches!(part.body, Body::Turned(_));
    let polished = ladder.as_ref().filter(|l| turned && !l.rungs.is_empty()).map(|l| {
        let off = l.off;
        work!(book, format!("{slug}.finish.left"), |off| off * 2.0, &heat::polish::DAMAGE)
    });
    let fits = works.iter().any(|w| w.does == "finish turn").then(|| {
        book.assumed(
            format!("{slug}.finish.left_on_fits"),
            Length::mm(0.2),
            "house default: left on the diameter of fits for bending and growth in the heat, turned off after",
        )
    });
    let pivots = works.iter().any(|w| w.does == "burnish").then(|| {
        book.assumed(
            format!("{slug}.finish.left_on_pivots"),
            Length::mm(0.025),
            "house default: left on the diameter of pivots for fine paper, oilstone and burnisher",
        )
    });
    Wanted { words, works, on, ladder, polished, fits, pivots, shining, close }
}
fn works(part: &Part, words: &[Finish], on: &str, steps: &[Step]) -> Vec<Asked> {
    let has = |f: Finish| words.contains(&f);
    let mut out: Vec<Asked> = Vec::new();
    let mut push = |does: &'static str, by: Option<Finish>| {
        if !out.iter().any(|w: &Asked| w.does == does) {
            out.push(Asked { does, by });
        }
    };
    for f in [Finish::Relieve, Finish::Anneal] {
        if has(f) {
            push(main_work(f), Some(f));
        }
    }
    let polished = words.iter().copied().find(|f| f.polishes());
    let pivots = on == "steel" && steps.iter().any(is_pivot);
    if has(Finish::Harden) {
        if polished.is_some() || has(Finish::Blue) {
            push("pre-finish", polished.or(Some(Finish::Blue)));
        }
        push("coat", None);
        push("harden", Some(Finish::Harden));
        push("clean", None);
        // The heat of the blue draws it back too, where no temper is written and the blue alone does enough.
        if has(Finish::Temper) || !has(Finish::Blue) || crate::plan::fire::needs_temper(part) {
            push("temper", has(Finish::Temper).then_some(Finish::Temper));
        }
        let slender = part.turned().is_some_and(|b| b.length.bare() > b.largest.bare().across() * 8.0);
        if slender {
            push("straighten", None);
        }
        if steps.iter().any(|s| is_fit(s) && s.thread.is_none() && !s.undercut) {
            push("finish turn", None);
        }
    } else if has(Finish::Temper) {
        push("temper", Some(Finish::Temper));
    }
    if pivots || has(Finish::Burnish) {
        push("burnish", has(Finish::Burnish).then_some(Finish::Burnish));
    }
    for &f in words {
        match f {
            Finish::Blue | Finish::Silver | Finish::Gild | Finish::Plate | Finish::Lacquer => {
                push("degrease", Some(f));
                push(main_work(f), Some(f));
            }
            _ => push(main_work(f), Some(f)),
        }
    }
    if has(Finish::Blue) {
        push("oil", None);
    }
    out
}
