//! What teeth and pivots bear: torque from arbor to arbor, force at every mesh, pressure in every hole.

use super::{From, Shares, WeightDesign};
use power::load::{self as kernel, Place, ToothMetal};
use reckon::source::Source;
use reckon::{Book, Cell, Force, Id, Length, Pressure, Ratio, Torque, Val, judge, work};
use tables::material::Kind;

/// How a tooth is loaded.
pub static TOOTH: Source = Source::practice(
    "root 1.57 modules wide, load 1.3 modules above it: teeth of a clock take over near the line of centres",
);
/// Load of a pivot.
pub static NEARER: Source =
    Source::practice("the nearer pivot takes at most two thirds of both forces on its arbor, added up");

/// The tables of loads; none where the first arbor drives nothing of known size.
pub(super) fn loads(
    from: &From<'_>,
    arbor: usize,
    torque: Val<Torque>,
    weight: Option<&WeightDesign>,
    shares: &Shares,
    book: &mut Book,
) -> Option<Id> {
    let t = from.train;
    let mut torques: Vec<Option<Val<Torque>>> = vec![None; t.arbors.len()];
    let mut forces: Vec<Vec<Val<Force>>> = vec![Vec::new(); t.arbors.len()];
    torques[arbor] = Some(torque);
    if let Some(w) = weight {
        forces[arbor].push(w.pull);
    }
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    // Arbors stand so that a driver comes before what it drives.
    for (n, m) in ordered(t) {
        let (Some(at), Some(s), Some(driven)) = (torques[m.driver], m.sizes.as_ref(), m.driven) else {
            continue;
        };
        let slug = &m.slug;
        let (module, teeth, leaves) = (s.module, m.teeth, m.leaves);
        let force = work!(
            book,
            format_args!("{slug}.tooth_force"),
            |at, module, teeth| at * 2.0 / (module * teeth),
            &kernel::FORCE
        );
        let passes = book.solved(
            format_args!("{slug}.passes_at_best"),
            Ratio::si(shares.meshes[n].high.min(1.0)),
            ("the teeth at their lowest friction: what comes after bears no more", 1, 0.0),
            Vec::new(),
            &kernel::FORCE,
        );
        let next = work!(
            book,
            format_args!("{}.torque", t.arbors[driven].facts.slug),
            |at, teeth, leaves, passes| at * passes * (leaves / teeth),
            &kernel::FORCE
        );
        torques[driven] = Some(next);
        forces[m.driver].push(force);
        forces[driven].push(force);
        let Some(thick) = from.thicknesses.get(&m.driver).map(|s| s.nominal) else { continue };
        let stress = work!(
            book,
            format_args!("{slug}.tooth_stress"),
            |force, thick, module| Pressure::si(kernel::lewis(
                force.value(),
                thick.value(),
                module.value(),
                kernel::cantilever_form(1.57, 1.3)
            )),
            &kernel::LEWIS
        );
        let material = t.arbors[m.driver].facts.wheel.as_ref().map(|w| w.material);
        let metal = match material.map(|m| m.kind) {
            Some(Kind::Bronze) => ToothMetal::Bronze,
            Some(Kind::Steel | Kind::StainlessSteel) => ToothMetal::MildSteel,
            Some(Kind::ToolSteel | Kind::SpringSteel) => ToothMetal::TemperedSteel,
            _ => ToothMetal::Brass,
        };
        let allowed = book.tabled(
            format_args!("{slug}.tooth_allowed"),
            Pressure::n_per_mm2(metal.allowed_bending()),
            "for good, by metal",
            &kernel::ALLOWED,
        );
        let bears = judge!(
            book,
            format_args!("{slug}.teeth_bear"),
            format!("the teeth of '{}' bear their load for good", t.arbors[m.driver].facts.name),
            |stress, allowed| stress <= allowed,
            &TOOTH
        );
        if !bears.bare() {
            let least = thick.bare() * (stress.bare().value() / allowed.bare().value());
            book.cure(
                bears.id(),
                format!("a wheel {} thick, or a larger module", reckon::Shown::shown(&least)),
            );
        }
        let pressure = line_pressure(slug, force, thick, module, material, from, driven, book);
        let wears = if pressure.bare().in_n_per_mm2() > kernel::BRASS_LINE_PRESSURE {
            "wears in time"
        } else {
            "lasts"
        };
        let name = |i: usize| t.arbors[i].facts.name.clone();
        rows.push(vec![
            Cell::word(format!("{} → {}", name(m.driver), name(driven))),
            Cell::of(&at.bare()),
            Cell::of(&force.bare()),
            Cell::as_text(&stress.bare(), reckon::print::fixed(stress.bare().in_n_per_mm2(), 1)),
            Cell::as_text(&allowed.bare(), reckon::print::fixed(allowed.bare().in_n_per_mm2(), 0)),
            Cell::as_text(&pressure.bare(), reckon::print::fixed(pressure.bare().in_n_per_mm2(), 0)),
            Cell::word(if bears.bare() { wears } else { "too weak" }),
        ]);
        ids.extend([force.id(), stress.id(), pressure.id()]);
    }
    pivots(from, arbor, &forces, book);
    if rows.is_empty() {
        return None;
    }
    let columns = [
        "pair",
        "torque of the wheel",
        "at its pitch circle",
        "bends, N/mm²",
        "bears",
        "presses, N/mm²",
        "so it",
    ];
    Some(book.table(
        "drive.loads",
        &columns,
        rows,
        "greatest torque of the run, nothing lost before",
        ids,
        &kernel::FORCE,
    ))
}
/// Meshes so that a driver's own comes before what it drives.
fn ordered(t: &super::Train) -> Vec<(usize, &crate::design::Mesh)> {
    let mut all = Vec::new();
    for a in &t.arbors {
        all.extend(a.drives.iter().map(|n| (*n, &t.meshes[*n])));
    }
    all
}
#[expect(clippy::too_many_arguments, reason = "sizes and metals of both sides of one contact")]
fn line_pressure(
    slug: &str,
    force: Val<Force>,
    thick: Val<Length>,
    module: Val<Length>,
    wheel: Option<&'static tables::material::Material>,
    from: &From<'_>,
    driven: usize,
    book: &mut Book,
) -> Val<Pressure> {
    let steel = from.train.arbors[driven].facts.material;
    let (e1, nu1) = wheel.map_or((100e9, 0.34), |m| (m.youngs.value.value(), m.poisson.value.value()));
    let (e2, nu2) = (steel.youngs.value.value(), steel.poisson.value.value());
    let together = book.solved(
        format_args!("{slug}.together"),
        Pressure::si(kernel::together(e1, nu1, e2, nu2)),
        ("moduli of wheel and pinion", 1, 0.0),
        Vec::new(),
        &kernel::HERTZ,
    );
    // A straight radial flank against the arc of the wheel's addendum, about 1.9 modules.
    work!(
        book,
        format_args!("{slug}.line_pressure"),
        |force, together, thick, module| Pressure::si(kernel::line_pressure(
            force.value(),
            together.value(),
            thick.value(),
            1.9 * module.value()
        )),
        &kernel::HERTZ
    )
}
fn pivots(from: &From<'_>, first: usize, forces: &[Vec<Val<Force>>], book: &mut Book) {
    let Some(plates) = &from.facts.plates else { return };
    let t = from.train;
    let thick = plates.thickness;
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    for (i, a) in t.arbors.iter().enumerate() {
        let here = &forces[i];
        if here.is_empty() {
            continue;
        }
        let slug = &a.facts.slug;
        let sum: f64 = here.iter().map(|f| f.bare().value()).sum();
        let load = book.solved(
            format_args!("{slug}.pivot_load"),
            Force::si(sum * 2.0 / 3.0),
            ("two thirds of all forces on the arbor, added up", 1, 0.0),
            here.iter().map(Val::id).collect(),
            &NEARER,
        );
        let pivot = from.stems[i].pivot;
        let pressure = work!(
            book,
            format_args!("{slug}.pivot_pressure"),
            |load, pivot, thick| Pressure::si(kernel::pivot_pressure(
                load.value(),
                pivot.value(),
                thick.value()
            )),
            &kernel::PRESSURE
        );
        let bends = work!(
            book,
            format_args!("{slug}.pivot_bending"),
            |load, pivot, thick| Pressure::si(kernel::pivot_bending(
                load.value(),
                pivot.value(),
                thick.value()
            )),
            &kernel::PIVOT
        );
        let place = if i == first {
            Place::Great
        } else if t.escape == Some(i) {
            Place::Escape
        } else {
            Place::Train
        };
        let allowed = book.tabled(
            format_args!("{slug}.pivot_allowed"),
            Pressure::n_per_mm2(place.allowed()),
            "oiled brass hole, by place in the train",
            &kernel::PRESSURE,
        );
        let bears = judge!(
            book,
            format_args!("{slug}.pivots_bear"),
            format!("the pivots of '{}' bear their load", a.facts.name),
            |pressure, allowed, bends| pressure <= allowed
                && bends <= Pressure::n_per_mm2(kernel::PIVOT_BENDING),
            &kernel::PRESSURE
        );
        if !bears.bare() {
            book.cure(bears.id(), "thicker pivots, or thicker plates or bushes that stand out of them");
        }
        rows.push(vec![
            Cell::word(a.facts.name.clone()),
            Cell::of(&load.bare()),
            Cell::of(&pivot.bare()),
            Cell::as_text(&pressure.bare(), reckon::print::fixed(pressure.bare().in_n_per_mm2(), 2)),
            Cell::as_text(&allowed.bare(), reckon::print::fixed(allowed.bare().in_n_per_mm2(), 1)),
            Cell::as_text(&bends.bare(), reckon::print::fixed(bends.bare().in_n_per_mm2(), 1)),
        ]);
        ids.extend([pressure.id(), bends.id()]);
    }
    let columns = ["arbor", "load of a pivot", "pivot", "presses, N/mm²", "bears", "bends, N/mm²"];
    book.table("drive.pivots", &columns, rows, "the heavier loaded pivot of each arbor", ids, &NEARER);
}
