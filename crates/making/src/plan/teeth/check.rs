//! What is measured of teeth: over pins from the drawer, the cutter's middle, the spacing.

use super::super::{Check, Figure, hole::seen};
use super::Job;
use movement::part::Toothing;
use reckon::{Alternative, Angle, Book, Diameter, Length, Ratio, Source, Val, judge, work};
use teeth::pins::{OVER_PINS, Pinned, Rest, over};

/// How far the depth may be off.
pub static DEPTH_LIMIT: Source = Source::derived(
    "centres 0.03 to 0.05 of a module off are felt in mesh; a space cut so much too deep or shallow counts alike",
);
/// How far neighbouring teeth may be off.
pub static SPACING: Source = Source::practice("neighbouring teeth alike within 0.02 of a module");
/// A cutter off the middle.
pub static LEAN: Source =
    Source::derived("a cutter beside the middle by c leans every tooth: its tip is aside of its foot")
        .with_formula("aside = h c/R");

/// Checks and figures of a toothing.
#[derive(Default)]
pub(super) struct Checked {
    pub middle: Middle,
    pub lines: Vec<String>,
    pub figures: Vec<Figure>,
    pub checks: Vec<Check>,
}
/// A small angle as a head is spoken of.
pub(super) fn arcminutes(a: Angle) -> String {
    format!("{} arcmin", reckon::print::fixed(a.in_deg() * 60.0, 1))
}
/// How the middle of the cutter is tried.
#[derive(Default)]
pub(super) struct Middle {
    pub lines: Vec<String>,
    pub figures: Vec<Figure>,
}
/// A pin of the drawer in this toothing.
struct Pick {
    name: String,
    size: Val<Diameter>,
    at: Pinned,
}
/// Everything that is measured while and after teeth are cut.
pub(super) fn checks(job: &Job<'_>, t: &Toothing, book: &mut Book) -> Checked {
    let mut out = Checked::default();
    let Some(module) = t.module else { return out };
    let slug = &t.slug;
    out.middle = middle(t, module, book);
    let may = work!(book, format!("{slug}.spacing.may_differ"), |module| module * 0.02, &SPACING);
    let (count, outside) = (t.count, t.outside);
    let head_out = work!(
        book,
        format!("{slug}.spacing.head_may_be_out"),
        |may, outside| Angle::si(may.value() / (outside.value() / 2.0)),
        &train::dividing::ARC
    );
    out.checks.push(Check {
        what: format!("neighbouring {}", t.what),
        limits: None,
        seen: Some(format!(
            "a pin laid in each space, an indicator over it: no two neighbours differ by more than {}; from one to the next the head may be out by {}",
            may.shown(),
            arcminutes(head_out.bare())
        )),
        id: Some(may.id()),
    });
    if let Some(true_to) = job.shop.dividing.as_ref().and_then(|h| h.true_to) {
        let v = judge!(
            book,
            format!("{slug}.spacing.head_is_true"),
            "the dividing head is true enough for neighbouring teeth of this size",
            |true_to, head_out| true_to <= head_out,
            &SPACING
        );
        book.cure(v.id(), "a plate straight on the spindle, or the worm bedded in and tried again");
        book.cure(v.id(), "a larger module, or a smaller wheel, where the layout allows it");
    }
    let n = u32::try_from(count.bare().0).unwrap_or(0);
    let Some(pick) = pin(job, t, n, book) else { return out };
    over_pins(job, t, module, n, &pick, book, &mut out);
    out
}
/// The test that the cutter stands on the middle, and how far it may be off.
fn middle(t: &Toothing, module: Val<Length>, book: &mut Book) -> Middle {
    let (root, depth) = (t.root, t.depth);
    let off = work!(
        book,
        format!("{}.setting.off_middle", t.slug),
        |module, root, depth| root.across() / 2.0 * ((module * 0.01) / depth).value(),
        &LEAN
    );
    Middle {
        figures: vec![Figure::of("cutter off the middle, at most", &off)],
        lines: vec![
            "Is it on the middle? In a waste disc cut one space half a millimetre deep and measure its width. Turn the disc over on its mandrel, bring the space back to the cutter with the crank until one side just touches, and cut again: the space is now wider by twice what the cutter stands off.".to_owned(),
            "Move the cutter by half of that, towards the side that was cut the second time; again, until nothing more is taken.".to_owned(),
        ],
    }
}
/// The pin of the drawer that tells most: it touches the flanks steepest, well below the tips, and stands out.
fn pin(job: &Job<'_>, t: &Toothing, n: u32, book: &mut Book) -> Option<Pick> {
    let m = t.module?.bare().in_mm();
    let depth = t.depth.bare().in_mm();
    let tip = t.outside.bare().in_mm() / 2.0;
    let mut all: Vec<Pick> = Vec::new();
    for (name, size) in &job.shop.drills.sizes {
        let d = size.bare().in_mm();
        if d < 1.3 * m || d > 4.0 * m {
            continue;
        }
        if let Some(at) = over(job.outline, n, d) {
            all.push(Pick { name: name.clone(), size: *size, at });
        }
    }
    let serves = |p: &Pick| {
        p.at.rest == Rest::Flanks
            && p.at.proud > 0.02
            && p.at.contact < tip - 0.12 * depth
            && p.at.wedge > 0.1
    };
    let best = all
        .iter()
        .enumerate()
        .filter(|(_, p)| serves(p))
        .max_by(|a, b| a.1.at.wedge.total_cmp(&b.1.at.wedge))
        .map(|(i, _)| i);
    let among: Vec<Alternative> = all
        .iter()
        .enumerate()
        .map(|(i, p)| Alternative {
            what: p.name.clone(),
            taken: Some(i) == best,
            why: match p.at.rest {
                Rest::Tips => "rests on the tips".to_owned(),
                Rest::Bottom => "falls to the bottom".to_owned(),
                Rest::Flanks if p.at.proud <= 0.02 => "does not stand out over the tips".to_owned(),
                Rest::Flanks if p.at.contact >= tip - 0.12 * depth => "touches too near the tips".to_owned(),
                Rest::Flanks => format!(
                    "touches the flanks; a size off by a hundredth is read as {} hundredths",
                    reckon::print::fixed(p.at.for_pin(n), 1)
                ),
            },
        })
        .collect();
    let best = best?;
    let inputs = vec![t.count.id(), t.outside.id(), t.root.id(), all[best].size.id()];
    book.chosen(
        format!("{}.pins.pin", t.slug),
        all[best].name.clone(),
        "of those that rest on the flanks and stand out over the tips, where the flank is steepest",
        among,
        inputs,
        &OVER_PINS,
    );
    Some(all.swap_remove(best))
}
fn over_pins(
    job: &Job<'_>,
    t: &Toothing,
    module: Val<Length>,
    n: u32,
    pick: &Pick,
    book: &mut Book,
    out: &mut Checked,
) {
    let slug = &t.slug;
    let inputs = vec![t.count.id(), t.outside.id(), t.root.id(), module.id(), pick.size.id()];
    let size = book.solved(
        format!("{slug}.pins.over"),
        Length::mm(pick.at.over),
        ("over two pins laid into the outline as drawn", 60, 0.0),
        inputs.clone(),
        &OVER_PINS,
    );
    let for_pin = book.solved(
        format!("{slug}.pins.for_pin"),
        Ratio::si(pick.at.for_pin(n)),
        ("more over pins for each unit that a pin is larger", 1, 0.0),
        inputs.clone(),
        &OVER_PINS,
    );
    let for_depth = book.solved(
        format!("{slug}.pins.for_depth"),
        Ratio::si(Pinned::for_depth(n)),
        ("less over pins for each unit of depth", 1, 0.0),
        inputs,
        &OVER_PINS,
    );
    let depth_limit = work!(book, format!("{slug}.depth.limit"), |module| module * 0.03, &DEPTH_LIMIT);
    let limit = work!(
        book,
        format!("{slug}.pins.limit"),
        |depth_limit, for_depth| depth_limit * for_depth,
        &OVER_PINS
    );
    out.figures.push(Figure::of("over two pins", &size));
    out.figures.push(Figure::of("pins", &pick.size));
    let measure = job
        .shop
        .measures
        .iter()
        .filter(|m| m.range.0.bare() <= size.bare() && size.bare() <= m.range.1.bare())
        .min_by(|a, b| a.give_or_take.bare().value().total_cmp(&b.give_or_take.bare().value()));
    let pin_known = book.assumed(
        format!("{slug}.pins.known_to"),
        Length::mm(0.003),
        "house default: two shanks measured and found alike within this",
    );
    let mut with = "calliper".to_owned();
    if let Some(m) = measure {
        with.clone_from(&m.name);
        let give = m.give_or_take;
        let doubt = work!(
            book,
            format!("{slug}.pins.doubt"),
            |give, pin_known, for_pin| give + pin_known * for_pin,
            &OVER_PINS
        );
        let tells = doubt.bare() <= limit.bare();
        let among = |what: &str, taken: bool, why: String| Alternative { what: what.to_owned(), taken, why };
        book.chosen(
            format!("{slug}.pins.depth_judged_by"),
            if tells { "the size over pins" } else { "the witness line on the tips, then over pins as a second opinion" }.to_owned(),
            "over pins where the reading is finer than the limit on the depth, else the tips and the depthing tool",
            vec![
                among("the size over pins", tells, format!("read with the {} it is known to {}; the limit is {}", m.name, doubt.shown(), limit.shown())),
                among("the witness line on the tips, then over pins as a second opinion", !tells, "shows a hundredth of depth as a line on every tip".to_owned()),
            ],
            vec![doubt.id(), limit.id()],
            &OVER_PINS,
        );
        if !tells {
            out.lines.push(format!("With the {} the size over pins is known only to {}, coarser than the limit: go by the line on the tips and the depthing tool, and take this reading as a second opinion. A micrometer that spans it would tell.", m.name, doubt.shown()));
        }
    }
    out.checks.push(Check {
        what: format!("over two pins {}, with the {with}", pick.name),
        limits: Some((size.bare() + limit.bare(), size.bare() - limit.bare())),
        seen: Some(if n.is_multiple_of(2) {
            "in opposite spaces; too large is too shallow: half of the difference is still to come off"
                .to_owned()
        } else {
            "in the two spaces that are nearest to opposite; too large is too shallow: half of the difference is still to come off".to_owned()
        }),
        id: Some(size.id()),
    });
    out.lines.push(format!("Measure the shanks first: for each hundredth that they are larger or smaller than {}, the wanted size changes by {} hundredths.", pick.size.shown(), reckon::print::fixed(for_pin.bare().value(), 1)));
    out.checks.push(seen(
        "form",
        "each flank bright from foot to tip under the glass, no step, no shadow of the pass before",
    ));
}
