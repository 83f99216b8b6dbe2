//! Along the arbors: where wheels and pinions lie between the plates, as written or found by a search.

use super::arbors::Stem;
use super::layout::{BodyKind, Layout, Solid, Span, between, needs};
use super::model::Train;
use reckon::source::{HOUSE, Source};
use reckon::{Book, Length, Trouble, Val};
use record::facts::{MovementFacts, WheelFacts};

/// Heights are found by trying.
pub static STACK: Source = Source::derived(
    "each level is tried from the back plate on, a half millimetre at a time, until nothing touches",
);

/// Heights of wheels and pinions.
pub(super) fn stack(
    t: &Train,
    l: &mut Layout,
    stems: &[Stem],
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) {
    for (i, a) in t.arbors.iter().enumerate() {
        let span = |p: Option<(Val<Length>, Val<Length>)>| p.map(|(from, to)| Span { from, to });
        l.wheels[i] = span(a.facts.wheel.as_ref().and_then(|w| w.place));
        l.pinions[i] = span(a.facts.pinion.as_ref().and_then(|p| p.place));
    }
    if let Some(e) = &facts.escapement {
        l.escape = e.place.map(|(from, to)| Span { from, to });
    }
    written(t, l, troubles);
    let Some(p) = &facts.plates else { return };
    let gap = p.gap.bare().in_mm();
    search(t, l, stems, facts, gap, book, troubles);
    if let (Some(e), Some(esc)) = (l.escape, &facts.escapement) {
        let (from, to, thick) = (e.from, e.to, esc.pallet_thickness);
        let one = reckon::work!(
            book,
            "escapement.pallets.from",
            |from, to, thick| (from + to) / 2.0 - thick / 2.0,
            &HOUSE
        );
        let two = reckon::work!(book, "escapement.pallets.to", |one, thick| one + thick, &HOUSE);
        l.pallets = Some(Span { from: one, to: two });
    }
}
/// A wheel lies within the pinion that it drives.
fn written(t: &Train, l: &Layout, troubles: &mut Vec<Trouble>) {
    let mm = |v: f64| reckon::print::trimmed(&reckon::print::fixed(v, 3));
    for m in &t.meshes {
        let Some(d) = m.driven else { continue };
        if let (Some(w), Some(p)) = (l.wheels[m.driver], l.pinions[d]) {
            let over = (w.to.bare().in_mm().min(p.to.bare().in_mm()))
                - (w.from.bare().in_mm().max(p.from.bare().in_mm()));
            let thick = w.to.bare().in_mm() - w.from.bare().in_mm();
            if over < thick - 1e-6 {
                let (a, b) = (&t.arbors[m.driver].facts, &t.arbors[d].facts);
                let mut trouble = Trouble::design(format!(
                    "the wheel of '{}' does not lie within the pinion of '{}'",
                    a.name, b.name
                ));
                for at in [a.wheel.as_ref().map(|w| w.at.clone()), b.pinion.as_ref().map(|p| p.at.clone())] {
                    trouble = trouble.at(at);
                }
                troubles.push(
                    trouble
                        .why(format!(
                            "the wheel lies from {} to {}, the pinion from {} to {}",
                            w.from.shown(),
                            w.to.shown(),
                            p.from.shown(),
                            p.to.shown()
                        ))
                        .cure(format!(
                            "a pinion that reaches over its wheel by a millimetre on both sides: place = [\"{} mm\", \"{} mm\"] for that of '{}'",
                            mm(w.from.bare().in_mm() - 1.0),
                            mm(w.to.bare().in_mm() + 1.0),
                            b.name
                        )),
                );
            }
        }
    }
}
/// Thickness of a wheel where none is written: by its module.
pub(super) fn usual_thickness(w: &WheelFacts, module: Length) -> f64 {
    w.thickness.map_or_else(|| ((module.in_mm() * 3.0) * 10.0).round() / 10.0, |s| s.nominal.bare().in_mm())
}
struct Open {
    mesh: usize,
    wheel: Option<f64>,
    pinion: bool,
}
/// Finds heights for all that has none, so that nothing touches.
fn search(
    t: &Train,
    l: &mut Layout,
    stems: &[Stem],
    facts: &MovementFacts,
    gap: f64,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) {
    let mut open: Vec<Open> = Vec::new();
    for (n, m) in t.meshes.iter().enumerate() {
        let (Some(d), Some(s)) = (m.driven, &m.sizes) else { continue };
        let Some(w) = &t.arbors[m.driver].facts.wheel else { continue };
        let wheel = l.wheels[m.driver].is_none().then(|| usual_thickness(w, s.module.bare()));
        let pinion = l.pinions[d].is_none();
        if wheel.is_some() || pinion {
            open.push(Open { mesh: n, wheel, pinion });
        }
    }
    let escape = facts.escapement.as_ref().filter(|_| l.escape.is_none()).zip(t.escape);
    if open.is_empty() && escape.is_none() {
        return;
    }
    let off = &mut Book::off();
    let mut fixed = fixed(t, l, stems, facts, gap, off);
    let mut placed: Vec<(f64, f64, f64, f64)> = Vec::new();
    let mut tried = 0_u32;
    if !level(t, l, &open, 0, gap, &mut fixed, &mut placed, off, &mut tried) {
        troubles.push(
            Trouble::design("no heights were found at which the wheels clear each other")
                .at(facts.plates.as_ref().map(|p| p.at.clone()))
                .why(format!(
                    "{tried} arrangements were tried between plates {} mm apart",
                    reckon::print::trimmed(&reckon::print::fixed(gap, 3))
                ))
                .cure("plates further apart, arbors moved, or `place` written for each wheel"),
        );
        return;
    }
    let enter = |name: String, mm: f64, book: &mut Book| {
        book.solved(
            name,
            Length::mm(mm),
            ("levels tried from the back plate on until nothing touches", tried, 0.0),
            Vec::new(),
            &STACK,
        )
    };
    for (o, (wf, wt, pf, pt)) in open.iter().zip(&placed) {
        let m = &t.meshes[o.mesh];
        if o.wheel.is_some() {
            let slug = format!("{}.wheel.place", t.arbors[m.driver].facts.slug);
            let from = enter(format!("{slug}.from"), *wf, book);
            let to = enter(format!("{slug}.to"), *wt, book);
            l.wheels[m.driver] = Some(Span { from, to });
        }
        if let (true, Some(d)) = (o.pinion, m.driven) {
            let slug = format!("{}.pinion.place", t.arbors[d].facts.slug);
            let from = enter(format!("{slug}.from"), *pf, book);
            let to = enter(format!("{slug}.to"), *pt, book);
            l.pinions[d] = Some(Span { from, to });
        }
    }
    if let Some((e, arbor)) = escape {
        let thick = e.thickness.bare().in_mm();
        let stand = l.stands[arbor];
        let pinion = l.pinions[arbor].map(|p| (p.from.bare().in_mm(), p.to.bare().in_mm()));
        let mut at = 2.0;
        while at + thick + 2.0 <= gap {
            let clear_of_own = pinion.is_none_or(|(f, to)| at > to + 1.0 || at + thick < f - 1.0);
            if let (true, Some(stand)) = (clear_of_own, stand) {
                let body = Solid {
                    name: String::new(),
                    slug: String::new(),
                    kind: BodyKind::EscapeWheel,
                    arbor: Some(arbor),
                    stand,
                    diameter: e.wheel_diameter,
                    span: Span {
                        from: off.assumed("f", Length::mm(at), ""),
                        to: off.assumed("t", Length::mm(at + thick), ""),
                    },
                };
                if fixed.iter().all(|o| clears(t, &body, o)) {
                    let from = enter("escapement.place.from".to_owned(), at, book);
                    let to = enter("escapement.place.to".to_owned(), at + thick, book);
                    l.escape = Some(Span { from, to });
                    return;
                }
            }
            at += 0.5;
        }
        troubles.push(
            Trouble::design("no height was found at which the escape wheel clears the rest")
                .at(e.at.clone())
                .cure("write `place` for it; in front of the front plate it stands free under a bridge"),
        );
    }
}
fn clears(t: &Train, a: &Solid, b: &Solid) -> bool {
    needs(t, a, b).is_none_or(|least| {
        let (plan, height) = between(a, b);
        plan.max(height) >= least - 1e-9
    })
}
/// Bodies whose height is known.
fn fixed(
    t: &Train,
    l: &Layout,
    stems: &[Stem],
    facts: &MovementFacts,
    gap: f64,
    off: &mut Book,
) -> Vec<Solid> {
    let mut all = Vec::new();
    let (zero, top) = (off.assumed("0", Length::ZERO, ""), off.assumed("g", Length::mm(gap), ""));
    for (i, a) in t.arbors.iter().enumerate() {
        let Some(stand) = l.stands[i] else { continue };
        let mut add = |kind, diameter, span| {
            all.push(Solid {
                name: a.facts.name.clone(),
                slug: String::new(),
                kind,
                arbor: Some(i),
                stand,
                diameter,
                span,
            });
        };
        if let (Some(span), Some(s)) =
            (l.wheels[i], a.drives.first().and_then(|m| t.meshes[*m].sizes.as_ref()))
        {
            add(BodyKind::Wheel, s.wheel.outside, span);
        }
        if let (Some(span), Some(s)) = (l.pinions[i], a.driven.and_then(|m| t.meshes[m].sizes.as_ref())) {
            add(BodyKind::Pinion, s.pinion.outside, span);
        }
        if let (Some(span), true, Some(e)) = (l.escape, t.escape == Some(i), &facts.escapement) {
            add(BodyKind::EscapeWheel, e.wheel_diameter, span);
        }
        if a.facts.runs == record::facts::Runs::Between {
            add(BodyKind::Arbor, stems[i].diameter, Span { from: zero, to: top });
        }
    }
    if let Some(s) = facts.drive.as_ref().and_then(|d| d.spring.as_ref())
        && let Some((from, to)) = s.place
        && let Some(stand) =
            s.spot.map(|(x, y)| super::layout::Stand { x, y }).or_else(|| t.first.and_then(|f| l.stands[f]))
    {
        let arbor = t.first.filter(|_| s.spot.is_none());
        all.push(Solid {
            name: "barrel".to_owned(),
            slug: String::new(),
            kind: BodyKind::Barrel,
            arbor,
            stand,
            diameter: s.outside,
            span: Span { from, to },
        });
    }
    if let Some(p) = &facts.plates {
        for stand in &l.pillars {
            all.push(Solid {
                name: "pillar".to_owned(),
                slug: String::new(),
                kind: BodyKind::Pillar,
                arbor: None,
                stand: *stand,
                diameter: p.pillar_diameter,
                span: Span { from: zero, to: top },
            });
        }
    }
    all
}
/// Most arrangements looked at: a train of six levels has far fewer that make sense.
const MOST: u32 = 200_000;
#[expect(clippy::too_many_arguments, reason = "one step of a search over levels")]
fn level(
    t: &Train,
    l: &Layout,
    open: &[Open],
    n: usize,
    gap: f64,
    fixed: &mut Vec<Solid>,
    placed: &mut Vec<(f64, f64, f64, f64)>,
    off: &mut Book,
    tried: &mut u32,
) -> bool {
    let Some(o) = open.get(n) else { return true };
    let m = &t.meshes[o.mesh];
    let (Some(s), Some(d)) = (&m.sizes, m.driven) else {
        return level(t, l, open, n + 1, gap, fixed, placed, off, tried);
    };
    let thick =
        o.wheel.or_else(|| l.wheels[m.driver].map(|w| (w.to.bare() - w.from.bare()).in_mm())).unwrap_or(2.0);
    let known = l.wheels[m.driver].map(|w| w.from.bare().in_mm());
    let reach = 1.25;
    let least = 1.0 + reach;
    let steps = if known.is_some() { 1 } else { ((gap - 2.0 * least - thick) / 0.5).max(0.0) as usize + 1 };
    // Levels alternate between the plates: the wheels of the slow end lie at the back.
    for k in 0..steps {
        *tried += 1;
        if *tried > MOST {
            return false;
        }
        #[expect(clippy::cast_precision_loss, reason = "a few dozen steps")]
        let from = known.unwrap_or(least + 0.5 * k as f64);
        let to = from + thick;
        let pinion =
            l.pinions[d].map_or((from - reach, to + reach), |p| (p.from.bare().in_mm(), p.to.bare().in_mm()));
        let mut added = Vec::new();
        let mut span = |f: f64, t: f64| Span {
            from: off.assumed("f", Length::mm(f), ""),
            to: off.assumed("t", Length::mm(t), ""),
        };
        if let (Some(_), Some(stand)) = (o.wheel, l.stands[m.driver]) {
            added.push(Solid {
                name: String::new(),
                slug: String::new(),
                kind: BodyKind::Wheel,
                arbor: Some(m.driver),
                stand,
                diameter: s.wheel.outside,
                span: span(from, to),
            });
        }
        if let (true, Some(stand)) = (o.pinion, l.stands[d]) {
            added.push(Solid {
                name: String::new(),
                slug: String::new(),
                kind: BodyKind::Pinion,
                arbor: Some(d),
                stand,
                diameter: s.pinion.outside,
                span: span(pinion.0, pinion.1),
            });
        }
        let own = |a: &Solid, b: &Solid| {
            a.arbor.is_some() && a.arbor == b.arbor && b.kind != BodyKind::Arbor && between(a, b).1 < 1.0
        };
        let sound = added.iter().all(|a| fixed.iter().all(|b| clears(t, a, b) && !own(a, b)));
        if !sound {
            continue;
        }
        let before = fixed.len();
        fixed.extend(added);
        placed.push((from, to, pinion.0, pinion.1));
        if level(t, l, open, n + 1, gap, fixed, placed, off, tried) {
            return true;
        }
        placed.pop();
        fixed.truncate(before);
    }
    false
}
