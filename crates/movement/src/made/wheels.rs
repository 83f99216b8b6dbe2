//! Wheels: teeth, bore, and the windows between their arms.

use super::common::{About, LIMITS, round_extent, sized};
use crate::design::Movement;
use crate::part::{Figure, FlatBody, FlatNote, Part, Toothing};
use reckon::{Book, Count, Length, Trouble, Val, work};
use record::facts::{Hole, Size, ToothForm};
use shape::flat::Flat;

/// All wheels of the train, but the one that is part of a barrel.
pub(super) fn parts(m: &Movement, book: &mut Book, troubles: &mut Vec<Trouble>) -> Vec<Part> {
    (0..m.train.arbors.len()).filter_map(|i| wheel(m, i, book, troubles)).collect()
}
fn form_words(form: ToothForm, leaves: i64) -> String {
    match form {
        ToothForm::Ogive => format!("arcs of BS 978-2, for {leaves} leaves"),
        ToothForm::CloseOgive => format!("one arc nearest the epicycloid, for {leaves} leaves"),
        ToothForm::Epicycloid => format!("true epicycloid for {leaves} leaves"),
        ToothForm::Involute => "involute, 20 degrees".to_owned(),
    }
}
fn wheel(m: &Movement, i: usize, book: &mut Book, troubles: &mut Vec<Trouble>) -> Option<Part> {
    let a = &m.train.arbors[i];
    let w = a.facts.wheel.as_ref()?;
    let mesh = &m.train.meshes[*a.drives.first()?];
    let s = mesh.sizes.as_ref()?;
    let slug = w.slug.clone();
    let module = s.module;
    let thickness = *m.thicknesses.get(&i)?;
    let outside = sized(s.wheel.outside, &format!("{slug}.outside"), 0.0, -0.02, book);
    let bore = sized(*m.seats.get(&i)?, &format!("{slug}.bore_for"), 0.012, 0.0, book);
    let crossing = m.crossing(i, book, troubles);
    let mut flat = Flat::new(s.wheel.outline.clone(), thickness.nominal.bare().in_mm());
    flat = flat.hole(0.0, 0.0, bore.nominal.bare().in_mm(), "A");
    flat.windows = crossing.as_ref().map(|c| c.windows.clone()).unwrap_or_default();
    let (extent, datum) = round_extent(s.wheel.outside, &slug, book);
    let zero = work!(book, format_args!("{slug}.middle"), |module| module * 0.0, &LIMITS);
    let r = s.wheel.outside.bare().in_mm() / 2.0;
    let mut notes = vec![
        ((r * 0.8, r * 0.6), FlatNote::Figure(Figure::diameter(&outside))),
        ((-r, 0.0), FlatNote::Words(format!("{} teeth, module {}", w.teeth.bare().0, module.shown()))),
    ];
    notes.extend(crossing.iter().flat_map(|c| c.notes.clone()));
    let body = FlatBody {
        thickness,
        holes: vec![hole("A", bore, zero, &w.at)],
        extent,
        datum,
        round: Some(outside),
        teeth: Some(Toothing {
            what: "teeth".to_owned(),
            slug: slug.clone(),
            count: w.teeth,
            module: Some(module),
            outside: s.wheel.outside,
            root: s.wheel.root,
            depth: s.wheel.depth,
            form: form_words(s.form, mesh.leaves.bare().0),
            along: None,
        }),
        notes,
        solid: flat,
    };
    let about = About {
        name: format!("{} wheel", a.facts.name),
        slug,
        at: &w.at,
        material: w.material,
        finish: &[],
        count: 1,
        note: None,
    };
    Some(about.flat("wheel", body, book))
}
/// A hole in the middle of a round flat part.
pub(crate) fn hole(label: &str, size: Size<reckon::Diameter>, zero: Val<Length>, at: &reckon::Place) -> Hole {
    Hole {
        label: label.to_owned(),
        centre: (zero, zero),
        diameter: size,
        thread: None,
        countersink: None,
        at: at.clone(),
    }
}
/// A count of arms as the kernels take it.
pub(crate) fn arms(n: Count) -> u32 {
    u32::try_from(n.0).unwrap_or(0)
}
