//! What every planner of a turned part has at hand: the shop, the lathe, the metal, the book.

use crate::kernel::speed::{self, Kind, Metal};
use movement::part::{Part, TurnedBody};
use reckon::source::GEOMETRY;
use reckon::{
    AngularSpeed, Book, Count, Diameter, Id, Length, Pressure, Ratio, Source, Speed, Trouble, Val, Volume,
    work,
};
use record::facts::{Lathe, Shop};

/// Feeds that suit clock work.
pub static FEEDS: Source = Source::practice("feed a turn: roughing up to 0.10 mm, finishing up to 0.05 mm");

/// The metal of a part, as the cut feels it.
#[derive(Copy, Clone, Debug)]
pub struct MetalFacts {
    /// How it cuts.
    pub metal: Metal,
    /// Specific force of a chip 1 mm thick.
    pub kc11: Val<Pressure>,
    /// How steeply it falls with thickness.
    pub mc: Val<Ratio>,
    /// Modulus of elasticity.
    pub e: Val<Pressure>,
    /// Thinnest cut of a thread that does not rub.
    pub pass_least: Val<Length>,
    /// Deepest cut of a thread.
    pub pass_most: Val<Length>,
    /// Specific force of the thin chips of a thread.
    pub pass_force: Val<Pressure>,
    /// Word by which friction in the jaws is looked up.
    pub friction_word: &'static str,
    /// Whether its dust holds lead.
    pub leaded: bool,
}

/// The bench of one part.
pub struct Bench<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// The lathe it is turned on.
    pub lathe: &'a Lathe,
    /// The part.
    pub part: &'a Part,
    /// Its body.
    pub body: &'a TurnedBody,
    /// Its slug.
    pub slug: String,
    /// The metal.
    pub metal: MetalFacts,
    /// Feed for roughing.
    pub rough_feed: Val<Length>,
    /// Feed for finishing.
    pub fine_feed: Val<Length>,
    /// Jigs asked for so far.
    pub jigs: &'a mut super::jig::Jigs,
    /// What finish it is to have, and what is left for it.
    pub wanted: super::finish::Wanted,
    /// What the spindle is kept under while a long bar stands behind it.
    pub keep_under: Option<Val<AngularSpeed>>,
    /// The book.
    pub book: &'a mut Book,
}

/// Puts a metal's figures into the book.
///
/// # Errors
/// A trouble at the part when the tables have no cutting figures for its material.
pub fn metal(part: &Part, book: &mut Book) -> Result<MetalFacts, Box<Trouble>> {
    let m = part.common.material;
    let slug = part.slug();
    let cutting =
        tables::material::cutting(m).map_err(|t| Box::new(t.at(part.common.material_at.clone())))?;
    let row = m.row("cutting");
    let metal = kind_of(m.kind);
    Ok(MetalFacts {
        metal,
        kc11: cutting.force.tabled(book, format_args!("{slug}.metal.kc11"), row.clone()),
        mc: cutting.exponent.tabled(book, format_args!("{slug}.metal.mc"), row.clone()),
        e: m.youngs.tabled(book, format_args!("{slug}.metal.e"), m.row("modulus")),
        pass_least: cutting.pass_least.tabled(book, format_args!("{slug}.metal.pass_least"), row.clone()),
        pass_most: cutting.pass_most.tabled(book, format_args!("{slug}.metal.pass_most"), row.clone()),
        pass_force: cutting.pass_force.tabled(book, format_args!("{slug}.metal.pass_force"), row),
        friction_word: match metal {
            Metal::Brass => "brass",
            Metal::Aluminium => "aluminium",
            _ if m.kind == tables::material::Kind::CastIron => "cast iron",
            _ => "steel",
        },
        leaded: m.leaded,
    })
}
/// Writes volume and mass of a part; `mm3` is the volume of its solid and `how` says how it was had.
pub fn weigh(part: &Part, book: &mut Book, mm3: f64, how: &str, inputs: Vec<Id>) {
    let slug = part.slug();
    let volume =
        book.solved(format!("{slug}.volume"), Volume::si(mm3 * 1e-9), (how, 1, 0.0), inputs, &GEOMETRY);
    let m = part.common.material;
    let density = m.density.tabled(book, format!("{slug}.density"), m.row("density"));
    work!(book, format!("{slug}.mass"), |density, volume| density * volume, &GEOMETRY);
}
/// How a material cuts, where speeds are looked up.
pub(crate) fn kind_of(kind: tables::material::Kind) -> Metal {
    use tables::material::Kind as K;
    match kind {
        K::Brass | K::Copper | K::Zinc | K::Lead => Metal::Brass,
        K::Aluminium => Metal::Aluminium,
        K::Bronze | K::NickelSilver | K::Steel | K::CastIron => Metal::MildSteel,
        K::ToolSteel | K::SpringSteel => Metal::ToolSteel,
        K::StainlessSteel | K::NickelIron => Metal::Stainless,
    }
}

impl Bench<'_> {
    /// What a jig is asked for with.
    pub fn asking(&mut self) -> super::jig::Asking<'_> {
        super::jig::Asking { jigs: self.jigs, shop: self.shop, part: self.part, book: self.book }
    }
    /// A dotted name under the part.
    pub fn name(&self, tail: &str) -> String {
        format!("{}.{tail}", self.slug)
    }
    /// Surface speed to start from for a kind of cut.
    pub fn surface_speed(&mut self, at: &str, kind: Kind, carbide: bool) -> Val<Speed> {
        let row = format!(
            "{}, {}{}",
            self.metal.metal.word(),
            kind.word(),
            if carbide { ", carbide" } else { ", high-speed steel" }
        );
        let v = speed::start(self.metal.metal, kind, carbide);
        self.book.tabled(format!("{}.{at}.surface_speed", self.slug), v, row, &speed::START_SPEEDS)
    }
    /// The spindle speed of this lathe for a cut at a diameter.
    pub fn spindle(&mut self, at: &str, kind: Kind, carbide: bool, d: Val<Diameter>) -> Val<AngularSpeed> {
        let v = self.surface_speed(at, kind, carbide);
        let wanted = work!(
            self.book,
            self.name(&format!("{at}.wanted_speed")),
            |v, d| speed::turns(v, d),
            &speed::SURFACE
        );
        self.set(at, wanted)
    }
    /// The step of the lathe for a wanted speed.
    pub fn set(&mut self, at: &str, wanted: Val<AngularSpeed>) -> Val<AngularSpeed> {
        let name = self.name(&format!("{at}.speed"));
        let wanted = match self.keep_under {
            Some(limit) if limit.bare() < wanted.bare() => work!(
                self.book,
                self.name(&format!("{at}.kept_under")),
                |wanted, limit| wanted.min(limit),
                &super::fits::long::WHIP_SHARE
            ),
            _ => wanted,
        };
        let set = chosen_speed(self.book, name, wanted, &self.lathe.speeds, self.lathe.stepless);
        let at = self.name(at);
        super::fits::machine::too_fast(self.shop, (&at, &self.lathe.name), wanted, set, self.book);
        set
    }
    /// Specific cutting force at a feed, straight edge.
    pub fn kc(&mut self, at: &str, feed: Val<Length>) -> Val<Pressure> {
        let (kc11, mc) = (self.metal.kc11, self.metal.mc);
        work!(
            self.book,
            self.name(&format!("{at}.kc")),
            |kc11, mc, feed| crate::kernel::force::specific(kc11, mc, feed),
            &crate::kernel::force::LAW
        )
    }
    /// A house default of this part.
    pub fn assumed<T: reckon::Shown>(&mut self, tail: &str, v: T, why: &str) -> Val<T> {
        let name = self.name(tail);
        self.book.assumed(name, v, why)
    }
}

/// What a count rests on.
pub static COUNTED: Source = Source::derived("counted in what is written, nothing supposed");
/// A number that was counted in what the shop or the part lists.
pub fn counted(book: &mut Book, name: String, n: usize, what: &str) -> Val<Count> {
    let n = Count(i64::try_from(n).unwrap_or(i64::MAX));
    book.solved(name, n, (format!("counted: {what}"), 1, 0.0), Vec::new(), &COUNTED)
}
/// Whether at least one of something was found: the count, and the verdict on it.
pub fn found(book: &mut Book, (name, says): (String, &str), n: usize, what: &str) -> Val<bool> {
    let found = counted(book, format!("{name}.of"), n, what);
    reckon::judge!(book, name, says, |found| found >= Count(1), &COUNTED)
}

/// The fastest step of a machine not above the wanted speed, with what was weighed.
pub fn chosen_speed(
    book: &mut Book,
    name: String,
    wanted: Val<AngularSpeed>,
    steps: &[Val<AngularSpeed>],
    stepless: bool,
) -> Val<AngularSpeed> {
    let bare: Vec<AngularSpeed> = steps.iter().map(Val::bare).collect();
    let limits = (bare.first().copied(), bare.last().copied());
    let found = match limits {
        (Some(low), Some(high)) if stepless => Some(speed::stepless(wanted.bare(), low, high)),
        _ => speed::step(wanted.bare(), &bare),
    };
    let Some(found) = found else {
        return book.assumed(name, wanted.bare(), "the machine lists no speeds");
    };
    let why = match found.fit {
        speed::StepFit::Below => "fastest step not above the wanted speed",
        speed::StepFit::Fastest => "the machine has nothing as fast: its fastest, feed a turn kept",
        speed::StepFit::TooFast => "the machine has nothing as slow: its slowest, take care",
    };
    let among = bare
        .iter()
        .map(|s| reckon::Alternative {
            what: reckon::Shown::shown(s),
            taken: *s == found.speed,
            why: if *s > wanted.bare() { "above the wanted speed" } else { "not above the wanted speed" }
                .to_owned(),
        })
        .collect();
    let mut inputs = vec![wanted.id()];
    inputs.extend(steps.iter().map(Val::id));
    book.chosen(name, found.speed, why, among, inputs, &speed::SURFACE)
}
/// The coarsest feed of the lathe up to a limit, or the finest it has; by hand where it has none.
pub fn feed(book: &mut Book, name: String, lathe: &Lathe, most: f64) -> Val<Length> {
    let limit = Length::mm(most);
    let best = lathe
        .feeds
        .iter()
        .filter(|f| f.bare() <= limit)
        .max_by(|a, b| a.bare().value().total_cmp(&b.bare().value()));
    if let Some(finest) = lathe.feeds.first().filter(|_| most <= 0.05) {
        super::fits::machine::too_coarse(lathe, limit, *finest, book);
    }
    match best.or(lathe.feeds.first()) {
        Some(f) => {
            let among = lathe
                .feeds
                .iter()
                .map(|g| reckon::Alternative {
                    what: g.shown(),
                    taken: g.id() == f.id(),
                    why: if g.bare() > limit { "too coarse" } else { "not above the limit" }.to_owned(),
                })
                .collect();
            book.chosen(
                name,
                f.bare(),
                format!("coarsest feed of the lathe up to {most} mm"),
                among,
                lathe.feeds.iter().map(Val::id).collect(),
                &FEEDS,
            )
        }
        None => book.assumed(name, limit * 0.5, "the lathe has no power feed: by hand, about this"),
    }
}
