//! How deep: from touching the blank as it measures, and from the axis of the head; passes; dial readings.

use super::super::{Figure, PassTable};
use super::Job;
use super::cutter::Taken;
use movement::part::Toothing;
use reckon::{Book, Cell, Diameter, Length, Source, Val, work};
use record::facts::{DialFacts, Mill};
use teeth::form::{INFEED, infeed};

/// Deepest bite of a formed cutter in one go.
pub static BITE: Source = Source::practice(
    "brass wheels up to module 1 are cut in one pass; steel leaves in three, the last a shaving",
);
/// Depth from the axis.
pub static AXIS: Source =
    Source::derived("at full depth the edge stands on the root circle").with_formula("A = (D_c + d_f)/2");
/// Touching through paper.
pub static PAPER: Source = Source::derived("paper that just drags stands between edge and blank")
    .with_formula("t = (D − d_f)/2 + p");

/// Figures, lines and tables of the depth.
#[derive(Default)]
pub(super) struct Depth {
    pub lines: Vec<String>,
    pub figures: Vec<Figure>,
    pub tables: Vec<PassTable>,
}
/// A figure with its reading on the dial, where there is one.
fn read(label: &str, v: &Val<Length>, dial: Option<&DialFacts>, out: &mut Vec<Figure>) {
    out.push(Figure::of(label, v));
    if let Some(d) = dial {
        out.push(Figure::as_text("on the dial", v, d.dial().text(v.bare())));
    }
}
/// How the depth is set for one toothing.
pub(super) fn depth(
    job: &Job<'_>,
    t: &Toothing,
    taken: &Taken,
    mill: Option<&Mill>,
    book: &mut Book,
) -> Depth {
    let slug = &t.slug;
    let dial = mill.and_then(|m| m.dial.as_ref());
    let (outside, root) = (t.outside, t.root);
    let paper = book.assumed(
        format!("{slug}.setting.paper"),
        Length::mm(0.03),
        "house default: thin cigarette paper; measure yours and put the difference on",
    );
    let touch = work!(
        book,
        format!("{slug}.setting.from_paper"),
        |outside, root, paper| (outside - root) / 2.0 + paper,
        &PAPER
    );
    let mut out = Depth::default();
    out.figures.push(Figure::of("full depth from a true outside", &t.depth));
    read("in from where the paper drags", &touch, dial, &mut out.figures);
    out.lines.push(format!("Set by the blank: cutter turning by hand, a slip of paper of {} between edge and blank; where it drags, set the dial to nothing. Blank inked instead and the edge just bright in it: leave the paper out.", paper.shown()));
    axis(job, t, taken, mill, paper, book, &mut out);
    if let Some(d) = dial {
        let back = d.backlash;
        out.lines.push(format!(
            "Always come inward to a reading: back out by more than the backlash of {} first, then in. Lock the slide before the cutter starts.",
            back.shown()
        ));
    }
    out.tables.push(passes(job, t, touch, dial, book));
    if let Some(m) = t.module {
        out.tables.push(by_blank(t, m, paper, dial, book));
    }
    out
}
/// From the axis of the head: with a rod in the head and the bare arbor in the spindle.
fn axis(
    job: &Job<'_>,
    t: &Toothing,
    taken: &Taken,
    mill: Option<&Mill>,
    paper: Val<Length>,
    book: &mut Book,
    out: &mut Depth,
) {
    let Some(head) = &job.shop.dividing else { return };
    let slug = &t.slug;
    let dial = mill.and_then(|m| m.dial.as_ref());
    let (swing, root, height) = (taken.diameter, t.root, head.centre_height);
    let apart = work!(
        book,
        format!("{slug}.setting.axes_apart"),
        |swing, root| (swing.across() + root.across()) / 2.0,
        &AXIS
    );
    let over =
        work!(book, format!("{slug}.setting.over_table"), |height, root| height + root.across() / 2.0, &AXIS);
    let rod = book.assumed(
        format!("{slug}.setting.rod"),
        Diameter::mm(10.0),
        "house default: a true rod in the head; measure yours",
    );
    let arbor = match mill.and_then(|m| m.cutter_bore) {
        Some(bore) => bore,
        None => book.assumed(
            format!("{slug}.setting.arbor"),
            Diameter::mm(10.0),
            "house default: bare arbor in the spindle; measure yours",
        ),
    };
    let meet = work!(
        book,
        format!("{slug}.setting.rod_meets_arbor"),
        |rod, arbor, paper| (rod.across() + arbor.across()) / 2.0 + paper,
        &AXIS
    );
    let out_by = work!(book, format!("{slug}.setting.out_from_rod"), |apart, meet| apart - meet, &AXIS);
    out.figures.push(Figure::of("head's axis to spindle's axis at full depth", &apart));
    read("rod and arbor touching through paper, then out by", &out_by, dial, &mut out.figures);
    out.figures.push(Figure::of("cutter over the wheel: its edge over the table", &over));
    out.lines.push(format!("Or from the axis, whatever the blank: before the blank is on, a rod of {} in the head and the bare arbor of {} in the spindle, paper between; then out past the figure by the backlash and in to it. It holds for a cutter that swings {}: measure that first, half of any difference goes on the figure. The two ways must agree within 0.02 mm, or the blank does not run true.", rod.shown(), arbor.shown(), swing.shown()));
}
/// Passes by material.
fn passes(
    job: &Job<'_>,
    t: &Toothing,
    touch: Val<Length>,
    dial: Option<&DialFacts>,
    book: &mut Book,
) -> PassTable {
    let full = touch.bare();
    let depth = t.depth.bare();
    let coarse = t.module.is_none_or(|m| m.bare() > Length::mm(1.0));
    let short = Length::mm(0.1).min(depth * 0.1);
    let mut plan: Vec<(Length, &str)> = Vec::new();
    if job.leaves || job.hard() {
        plan.push((full - depth * 0.35, "all round: most of it, oil on the edge"));
        plan.push((full - Length::mm(0.05), "all round: nearly all; measure over pins here"));
        plan.push((full, "all round: the shaving that gives the form, fresh edge, slow feed"));
    } else if t.module.is_none() {
        plan.push((full - depth * 0.4, "all round: most of it"));
        plan.push((full - Length::mm(0.05), "all round: nearly all; look at the land of the first two tips"));
        plan.push((full, "all round: to the drawn depth, light feed, fresh edge"));
    } else {
        plan.push((full - short, "two neighbouring spaces only: see the tip between them"));
        if coarse {
            plan.push((full - depth * 0.4, "all round: first half"));
            plan.push((full - Length::mm(0.05), "all round: nearly all; measure over pins here"));
        }
        plan.push((full, "all round, each space in one pass, there and back"));
    }
    let rows = plan
        .iter()
        .enumerate()
        .map(|(i, (at, what))| {
            vec![
                Cell::of(&reckon::Count(i64::try_from(i + 1).unwrap_or(0))),
                Cell::of(at),
                Cell::word(dial.map_or_else(|| "—".to_owned(), |d| d.dial().text(*at))),
                Cell::word(*what),
            ]
        })
        .collect();
    let id = book.table(
        format_args!("{}.passes", t.slug),
        &["pass", "in from paper", "dial", "what"],
        rows,
        "brass in one pass up to module 1, more in two; steel in three, the last a shaving of 0.05 mm",
        vec![touch.id(), t.depth.id()],
        &BITE,
    );
    PassTable { title: "passes".to_owned(), id }
}
/// What to feed against the blank as it measures.
fn by_blank(
    t: &Toothing,
    module: Val<Length>,
    paper: Val<Length>,
    dial: Option<&DialFacts>,
    book: &mut Book,
) -> PassTable {
    let (m, outside, root) = (module.bare().in_mm(), t.outside.bare().in_mm(), t.root.bare().in_mm());
    let rows = [-0.1_f64, -0.04, -0.02, 0.0, 0.02, 0.04]
        .iter()
        .filter(|off| off.abs() <= 0.1 * m + 1e-9)
        .map(|off| {
            let measured = outside + off;
            let f = infeed(measured, outside, root, m);
            let through = Length::mm(f.infeed) + paper.bare();
            vec![
                Cell::of(&Diameter::mm(measured)),
                Cell::of(&Length::mm(f.infeed)),
                Cell::of(&through),
                Cell::word(dial.map_or_else(|| "—".to_owned(), |d| d.dial().text(through))),
                Cell::word(f.tips.says()),
            ]
        })
        .collect();
    let id = book.table(
        format_args!("{}.infeed", t.slug),
        &["blank measures", "in from touching", "from paper", "dial", "what to expect"],
        rows,
        "half of the measured outside less the root, and the paper",
        vec![t.outside.id(), t.root.id(), module.id(), paper.id()],
        &INFEED,
    );
    PassTable { title: "the depth by the blank as it measures".to_owned(), id }
}
