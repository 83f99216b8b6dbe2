//! The shop's own test pieces move the tables: the tempering curve by so many HRC, the growth of the film by its
//! constants. Without them the tables stand.

use heat::colour::{self, CHART_TIME, CHARTS, Growth};
use heat::steel::Steel;
use heat::temper;
use reckon::{Book, Cell, Id, Ratio, Source, judge};
use record::facts::{Coupon, Shop};

/// How test pieces move the tables.
pub static MOVED: Source = Source::derived(
    "mean of what was found less what the table gives; for the film least squares of its logarithm",
);
/// How far pieces of one shop may scatter.
pub static SCATTER: Source =
    Source::practice("test pieces of one shop agree within 1.5 HRC, and within 8 % of the film's thickness");
/// Least spread of temperature, K, from which the steepness of growth is taken from the pieces themselves.
const SPREAD: f64 = 25.0;

/// What is used for a steel in this shop.
#[derive(Clone, Debug)]
pub struct Model {
    /// HRC to be added to the tempering curve.
    pub offset: f64,
    /// Growth of the film.
    pub growth: Growth,
    /// Where it stands in the book, where the shop has pieces of this steel.
    pub ids: Vec<Id>,
    /// What to tell, where the shop's pieces moved something.
    pub told: Vec<String>,
}
/// HRC by table and pieces, less the table: the mean, and the greatest distance from it.
#[must_use]
pub fn offset(steel: &Steel, pieces: &[(f64, f64, f64)]) -> Option<(f64, f64)> {
    let c = temper::constant(steel.carbon);
    let all: Vec<f64> = pieces
        .iter()
        .filter_map(|&(celsius, hours, hrc)| Some(hrc - temper::after_each(steel, &[(celsius, hours)], c)?))
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "test pieces are few")]
    let n = all.len() as f64;
    let mean = all.iter().sum::<f64>() / n;
    (!all.is_empty()).then(|| (mean, all.iter().map(|o| (o - mean).abs()).fold(0.0, f64::max)))
}
/// Growth through pieces, each °C, s, nm: whole where there are three that differ in temperature, else the charts'
/// law moved to them; and the greatest distance of ln film.
#[must_use]
pub fn growth(pieces: &[colour::Coupon]) -> Option<(Growth, f64)> {
    if pieces.is_empty() {
        return None;
    }
    let (low, high) =
        pieces.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |a, p| (a.0.min(p.0), a.1.max(p.0)));
    let whole =
        (pieces.len() >= 3 && high - low >= SPREAD).then(|| colour::refit(pieces, CHARTS.m)).flatten();
    let law = whole.map_or_else(
        || {
            #[expect(clippy::cast_precision_loss, reason = "test pieces are few")]
            let n = pieces.len() as f64;
            let by = |p: &colour::Coupon| reckon::maths::ln(p.2 / CHARTS.film(p.0, p.1));
            Growth { ln_a: CHARTS.ln_a + pieces.iter().map(by).sum::<f64>() / n, ..CHARTS }
        },
        |(g, _)| g,
    );
    let off = |p: &colour::Coupon| reckon::maths::ln(p.2 / law.film(p.0, p.1)).abs();
    Some((law, pieces.iter().map(off).fold(0.0, f64::max)))
}
/// The film of a word.
fn film_of(word: &str) -> Option<f64> {
    let at = colour::all().iter().find(|c| c.name == word)?.at;
    Some(CHARTS.film(at, CHART_TIME))
}
/// The model of a steel in this shop; written in the book the first time it is asked for.
pub fn model(steel: &Steel, shop: &Shop, book: &mut Book) -> Model {
    let mut m = Model { offset: 0.0, growth: CHARTS, ids: Vec::new(), told: Vec::new() };
    let mine = |c: &&Coupon| c.steel == steel.material;
    let pieces: Vec<&Coupon> = shop.fire.coupons.iter().filter(mine).collect();
    let at = format!("fire.{}", reckon::slug(&steel.material));
    hardness(&mut m, steel, &pieces, &at, book);
    film(&mut m, &pieces, &at, book);
    m
}
fn inputs(pieces: &[&Coupon]) -> Vec<Id> {
    pieces.iter().flat_map(|c| [c.temperature.id(), c.time.id()]).collect()
}
fn hardness(m: &mut Model, steel: &Steel, pieces: &[&Coupon], at: &str, book: &mut Book) {
    let read = |c: &&&Coupon| c.hardness.is_some();
    let hard: Vec<&Coupon> = pieces.iter().filter(read).copied().collect();
    let three = |c: &&Coupon| {
        let hrc = c.hardness.map_or(0.0, |r| r.bare().value());
        (c.temperature.bare().in_celsius(), c.time.bare().value() / 3600.0, hrc)
    };
    let plain: Vec<(f64, f64, f64)> = hard.iter().map(three).collect();
    let Some((by, worst)) = offset(steel, &plain) else { return };
    m.offset = by;
    let (old, new) = ("0", reckon::print::significant(by, 3));
    m.told.push(format!(
        "Tempering of {}: the table moved by {} HRC (was {old}) after {} of the shop's own pieces, which scatter by {} HRC.",
        steel.material,
        new,
        hard.len(),
        reckon::print::significant(worst, 2)
    ));
    let name = format!("{at}.hrc_offset");
    if let Some((id, _)) = book.find(&name) {
        m.ids.push(id);
        return;
    }
    let how = "mean of hardness found less hardness of the table, at the temperature and time of each piece";
    let offset = book.solved(name, Ratio::si(by), (how, 1, 0.0), inputs(&hard), &MOVED);
    m.ids.push(offset.id());
    let how = "greatest distance of a piece from that mean";
    let worst =
        book.solved(format!("{at}.hrc_scatter"), Ratio::si(worst), (how, 1, 0.0), inputs(&hard), &MOVED);
    let agree = judge!(
        book,
        format!("{at}.hrc_pieces_agree"),
        format!("test pieces of {} agree on its tempering", steel.material),
        |worst| worst <= Ratio::si(1.5),
        &SCATTER
    );
    book.cure(
        agree.id(),
        "look for a piece that was soft before it was tempered, or was ground hot, and leave it out",
    );
    let near = judge!(
        book,
        format!("{at}.hrc_near_table"),
        format!("test pieces of {} come out within 4 HRC of the published curve", steel.material),
        |offset| offset <= Ratio::si(4.0) && offset >= Ratio::si(-4.0),
        &SCATTER
    );
    book.cure(
        near.id(),
        "so far off, the quench, the skin that lost carbon or the thermometer is more likely than the curve",
    );
}
fn film(m: &mut Model, pieces: &[&Coupon], at: &str, book: &mut Book) {
    let seen: Vec<&Coupon> = pieces.iter().filter(|c| c.colour.is_some()).copied().collect();
    let three = |c: &&Coupon| {
        Some((c.temperature.bare().in_celsius(), c.time.bare().value(), film_of(c.colour.as_deref()?)?))
    };
    let plain: Vec<colour::Coupon> = seen.iter().filter_map(three).collect();
    let Some((law, worst)) = growth(&plain) else { return };
    m.growth = law;
    let n3 = |x: f64| reckon::print::significant(x, 4);
    m.told.push(format!(
        "Film: at 290 °C in three minutes {} nm where the charts give {} nm, after {} of the shop's own pieces.",
        reckon::print::significant(law.film(290.0, CHART_TIME), 3),
        reckon::print::significant(CHARTS.film(290.0, CHART_TIME), 3),
        plain.len()
    ));
    let name = format!("{at}.film_law");
    if let Some((id, _)) = book.find(&name) {
        m.ids.push(id);
        return;
    }
    let row =
        |what: &str, old: f64, new: f64| vec![Cell::word(what), Cell::word(n3(old)), Cell::word(n3(new))];
    let rows = vec![
        row("ln A (A in nm)", CHARTS.ln_a, law.ln_a),
        row("q, J/mol", CHARTS.q, law.q),
        row("m", CHARTS.m, law.m),
    ];
    let rule = "three pieces or more that differ by 25 K give the whole law, fewer only move the charts' law";
    m.ids.push(book.table(name, &["constant", "charts", "this shop"], rows, rule, inputs(&seen), &MOVED));
    let how = "greatest distance of a piece from the law, in ln film";
    let worst =
        book.solved(format!("{at}.film_scatter"), Ratio::si(worst), (how, 1, 0.0), inputs(&seen), &MOVED);
    let agree = judge!(
        book,
        format!("{at}.film_pieces_agree"),
        "test pieces agree on how fast the colour comes",
        |worst| worst <= Ratio::si(0.08),
        &SCATTER
    );
    book.cure(
        agree.id(),
        "polish and degrease all pieces alike, look in daylight, and leave out the one that is off",
    );
}
