//! A flat part: sheet, template, drill, saw, file.

use super::batch::batch;
use super::hole::seen;
use super::stock::{StockChoice, said};
use super::{Caution, Check, Figure, Held, Operation, PartPlan, SetUp, Spread, later, time};
use crate::kernel::speed::{self, Kind};
use movement::part::{FlatBody, Part};
use reckon::source::GEOMETRY;
use reckon::{Alternative, Book, Cell, Diameter, Length, Source, Trouble, Val, judge, work};
use record::facts::{Shop, StockForm};

/// Allowance round a blank.
pub static BLANK: Source =
    Source::practice("a blank is sawn 2 mm larger all round and the outline filed to the line");

/// Plans a flat part.
///
/// # Errors
/// A trouble when the tables lack its metal.
pub fn plan(
    index: usize,
    part: &Part,
    body: &FlatBody,
    shop: &Shop,
    book: &mut Book,
) -> Result<PartPlan, Box<Trouble>> {
    let metal = super::bench::metal(part, book)?;
    let slug = part.slug().to_owned();
    let batch = batch(part, book);
    let inputs = vec![body.thickness.nominal.id(), body.extent.0.id(), body.extent.1.id()];
    let how = "area of the outline less its holes, times the thickness";
    super::bench::weigh(part, book, body.solid.volume(), how, inputs);
    let stock = sheet(part, body, shop, book, &slug, &batch);
    let machine =
        shop.mills.first().map_or("drilling by hand or in the lathe".to_owned(), |m| m.name.clone());
    let mut drilling = vec![Operation {
        title: "Mark out".to_owned(),
        lines: vec![
            "Measure the bar on the template first, then stick it on; prick the hole centres through it with a fine punch.".to_owned(),
        ],
        tool: Some("template, fine punch, glass".to_owned()),
        figures: vec![Figure::of("width", &body.extent.0), Figure::of("height", &body.extent.1)],
        time: Spread::around(10.0),
        ..Operation::default()
    }];
    drilling.extend(holes(body, shop, book, &slug, metal));
    let outline = Operation {
        title: "Saw and file the outline".to_owned(),
        lines: vec![
            "Pierce outside the line, file to it; curves with half-round files, edges square to the face."
                .to_owned(),
            "Several alike: screw them together through their holes and file as one.".to_owned(),
        ],
        tool: Some("piercing saw, files".to_owned()),
        checks: vec![
            Check {
                what: "thickness".to_owned(),
                limits: Some((
                    body.thickness.nominal.bare() + body.thickness.upper.bare(),
                    body.thickness.nominal.bare() + body.thickness.lower.bare(),
                )),
                seen: None,
                id: Some(body.thickness.nominal.id()),
            },
            seen("outline", "the line just gone all round"),
        ],
        cautions: if metal.leaded { vec![Caution::Sawing, Caution::Lead] } else { vec![Caution::Sawing] },
        time: Spread::around(20.0),
        ..Operation::default()
    };
    let setups = vec![
        SetUp {
            title: "holes, while the blank is still square".to_owned(),
            machine,
            held: Held {
                by: "clamped on a flat board or parallels".to_owned(),
                lines: Vec::new(),
                deepest: None,
                overhang: None,
            },
            operations: drilling,
            time: Spread::around(10.0),
        },
        super::turned::at_bench("outline", "bench pin and vice with soft jaws", vec![outline], 5.0),
    ];
    let total = time::of_setups(book, &slug, &setups, batch.total.bare());
    Ok(PartPlan { part: index, batch, stock, setups, later: later(part), waits_for: Vec::new(), time: total })
}
/// A sheet of the thickness that the blank fits on, either way round.
fn sheet(
    part: &Part,
    body: &FlatBody,
    shop: &Shop,
    book: &mut Book,
    slug: &str,
    batch: &super::batch::Batch,
) -> StockChoice {
    let (w, h) = body.extent;
    let margin = book.assumed(
        format!("{slug}.blank.margin"),
        Length::mm(2.0),
        "house default: saw and file allowance all round",
    );
    let long = work!(book, format!("{slug}.blank.length"), |w, h, margin| w.max(h) + margin * 2.0, &BLANK);
    let short = work!(book, format!("{slug}.blank.width"), |w, h, margin| w.min(h) + margin * 2.0, &BLANK);
    let n = batch.total;
    let need = work!(book, format!("{slug}.stock.need"), |short, n| short * n, &BLANK);
    let thick = body.thickness.nominal.bare();
    let (most, least) = (thick + body.thickness.upper.bare(), thick + body.thickness.lower.bare());
    let mut among = Vec::new();
    let mut pick = None;
    for (i, s) in shop.stock.iter().enumerate() {
        let StockForm::Sheet { length, width, thickness } = &s.form else { continue };
        if s.material.name != part.common.material.name {
            continue;
        }
        let t = thickness.bare();
        let what = format!("{} {} × {} × {}", s.name, said(length.bare()), said(width.bare()), said(t));
        let across = fits(length.bare(), width.bare(), long.bare(), short.bare());
        let enough = across * s.pieces.bare().0 >= n.bare().0;
        let why = if t < least {
            "too thin".to_owned()
        } else if across == 0 {
            "the blank does not fit on it".to_owned()
        } else if !enough {
            format!("gives {} of {}", across * s.pieces.bare().0, n.bare().0)
        } else if t > most {
            "has to be thinned".to_owned()
        } else {
            "right thickness".to_owned()
        };
        let rank = if t < least || !enough { None } else { Some((t > most, t)) };
        if let Some(r) = rank
            && pick.as_ref().is_none_or(|(_, best): &(usize, (bool, Length))| {
                (r.0, r.1.value()) < (best.0, best.1.value())
            })
        {
            pick = Some((i, r));
        }
        among.push((i, what, why));
    }
    let chosen = pick.map(|(i, _)| i);
    let what = match chosen {
        Some(i) => among.iter().find(|a| a.0 == i).map(|a| a.1.clone()).unwrap_or_default(),
        None => format!(
            "{} sheet {} thick, {} × {} for each (to buy)",
            part.common.material.name,
            said(thick),
            said(long.bare()),
            said(short.bare())
        ),
    };
    let alternatives =
        among.into_iter().map(|(i, what, why)| Alternative { what, taken: chosen == Some(i), why }).collect();
    book.chosen(
        format!("{slug}.stock.sheet"),
        what.clone(),
        "the sheet of its material that is thick enough, thinnest first, on which all blanks fit",
        alternatives,
        vec![long.id(), short.id(), body.thickness.nominal.id(), n.id()],
        &BLANK,
    );
    let mut lines = Vec::new();
    if let Some((_, (true, _))) = pick {
        lines.push("Thicker than drawn: thin it on both faces alike, or it bows.".to_owned());
    }
    lines.push(format!("Blank {} × {} for each.", said(long.bare()), said(short.bare())));
    StockChoice { what, index: chosen, need, sticks: vec![(n.bare().0, need.bare())], lines, bar: None }
}
/// Rows times columns of blanks on a sheet, the better way round, a saw cut between them.
fn fits(l: Length, w: Length, long: Length, short: Length) -> i64 {
    let kerf = Length::mm(1.0);
    let along = |room: Length, each: Length| {
        #[expect(clippy::cast_possible_truncation, reason = "blanks on a sheet")]
        {
            ((room + kerf).value() / (each + kerf).value() + 1e-9).floor().max(0.0) as i64
        }
    };
    (along(l, long) * along(w, short)).max(along(l, short) * along(w, long))
}
fn holes(
    body: &FlatBody,
    shop: &Shop,
    book: &mut Book,
    slug: &str,
    metal: super::bench::MetalFacts,
) -> Vec<Operation> {
    if body.holes.is_empty() {
        return Vec::new();
    }
    let mut rows = Vec::new();
    let mut inputs = Vec::new();
    let mut tapped = false;
    for h in &body.holes {
        let (x0, y0) = body.datum;
        let at = format!("{slug}.hole.{}", reckon::slug(&h.label));
        let (x, y) = h.centre;
        let dx = work!(book, format!("{at}.dx"), |x, x0| x - x0, &GEOMETRY);
        let dy = work!(book, format!("{at}.dy"), |y, y0| y - y0, &GEOMETRY);
        let (drill, then) = drill_for(h, shop, book, &at);
        tapped |= h.thread.is_some();
        let dial = shop.mills.first().and_then(|m| m.dial.as_ref());
        let reading = |v: &Val<Length>| dial.map_or_else(|| v.shown(), |d| d.dial().text(v.bare()));
        rows.push(vec![
            Cell::word(h.label.clone()),
            Cell::of(&dx.bare()),
            Cell::of(&dy.bare()),
            Cell::as_text(&dx.bare(), reading(&dx)),
            Cell::as_text(&dy.bare(), reading(&dy)),
            Cell::word(drill),
            Cell::word(then),
        ]);
        inputs.extend([dx.id(), dy.id()]);
    }
    let table = book.table(
        format!("{slug}.holes"),
        &["hole", "x", "y", "x dial", "y dial", "drill", "then"],
        rows,
        "measured from the left and lower edges of the drawing; approach each from the same side, so that backlash is out",
        inputs,
        &GEOMETRY,
    );
    let smallest = body.holes.iter().map(|h| h.diameter.nominal).reduce(|a, c| if c < a { c } else { a });
    let speed = smallest.and_then(|d| {
        let v = book.tabled(
            format!("{slug}.drilling.surface_speed"),
            speed::start(metal.metal, Kind::Drilling, false),
            format!("{}, drilling", metal.metal.word()),
            &speed::START_SPEEDS,
        );
        let wanted =
            work!(book, format!("{slug}.drilling.wanted"), |v, d| speed::turns(v, d), &speed::SURFACE);
        let mill = shop.mills.first()?;
        Some(super::bench::chosen_speed(
            book,
            format!("{slug}.drilling.speed"),
            wanted,
            &mill.speeds,
            mill.stepless,
        ))
    });
    let mut cautions = vec![Caution::DrillingSheet];
    if metal.leaded {
        cautions.push(Caution::Lead);
    }
    if tapped {
        cautions.push(Caution::HandThreading);
    }
    let daylight = daylight(body, shop, book, slug);
    let mut lines = vec![
        "Spot each with a short drill, then drill; ream and tap before the next is moved to.".to_owned(),
        "Come to every hole from the same side by at least the backlash.".to_owned(),
    ];
    lines.extend(daylight);
    vec![Operation {
        title: "Drill the holes".to_owned(),
        lines,
        tool: Some("spotting drill, drills as listed".to_owned()),
        speed,
        figures: Vec::new(),
        tables: vec![super::PassTable { title: "holes from the lower left corner".to_owned(), id: table }],
        checks: vec![seen("holes", "pins enter, first two distances measured over pins")],
        cautions,
        time: Spread::around(
            4.0 * {
                #[expect(clippy::cast_precision_loss, reason = "a number of holes")]
                let n = body.holes.len() as f64;
                n
            },
        ),
        ..Operation::default()
    }]
}
fn drill_for(h: &record::facts::Hole, shop: &Shop, book: &mut Book, at: &str) -> (String, String) {
    let mut then = Vec::new();
    let wanted = match &h.thread {
        Some(t) => {
            then.push(format!("tap {}", t.thread.name));
            let size = t.thread.minor();
            book.tabled(format!("{at}.minor"), size, t.thread.name.clone(), t.thread.source)
        }
        None => h.diameter.nominal,
    };
    let upper = wanted.bare() + h.diameter.upper.bare().max(Length::mm(0.1));
    let list = &shop.drills.sizes;
    let reamer = h.thread.is_none()
        && shop.drills.reamers.iter().any(|r| (r.bare() - wanted.bare()).abs() < Length::mm(0.005));
    let target = if reamer { wanted.bare() - Length::mm(0.1) } else { wanted.bare() };
    let top = if reamer { target } else { upper };
    let over = Length::mm(0.04);
    let least = wanted.bare() + h.diameter.lower.bare();
    let gives_size = |d: Diameter| d + over >= least && d + over <= upper;
    let plain = h.thread.is_none() && !reamer;
    let exact = plain && list.iter().any(|(_, d)| gives_size(d.bare()));
    let ok = |d: Diameter| if exact { gives_size(d) } else { d <= top && d + Length::mm(0.5) >= target };
    let best = list
        .iter()
        .filter(|(_, d)| ok(d.bare()))
        .min_by(|a, c| (a.1.bare() - target).abs().value().total_cmp(&(c.1.bare() - target).abs().value()));
    if plain && !exact && best.is_some() {
        then.push(format!("open by broach or round file to {}", wanted.shown()));
    }
    if reamer {
        then.push(format!("ream {}", wanted.shown()));
    }
    if let Some((angle, d)) = &h.countersink {
        then.push(format!("countersink {} to {}", angle.shown(), d.shown()));
    }
    let name = best.map_or(format!("{} (to buy)", wanted.shown()), |(n, _)| n.clone());
    let verdict = super::bench::found(
        book,
        (format!("{at}.drill_found"), "the shop has a drill for this hole"),
        usize::from(best.is_some()),
        "drills of the shop near this size",
    );
    book.cure(verdict.id(), format!("buy a drill of {}", reckon::Shown::shown(&target)));
    (name, if then.is_empty() { "deburr".to_owned() } else { then.join(", ") })
}
/// Whether sheet, board, drill and chuck fit under the spindle.
fn daylight(body: &FlatBody, shop: &Shop, book: &mut Book, slug: &str) -> Vec<String> {
    let Some(mill) = shop.mills.first() else { return Vec::new() };
    let Some(chuck) = mill.chuck_length else { return Vec::new() };
    let thick = body.thickness.nominal;
    let room = mill.daylight;
    let board = book.assumed(
        format!("{slug}.drilling.board"),
        Length::mm(10.0),
        "house default: board or parallels under the sheet",
    );
    let drill = book.assumed(
        format!("{slug}.drilling.drill_out"),
        Length::mm(45.0),
        "house default: an ordinary drill out of the chuck",
    );
    let spare =
        book.assumed(format!("{slug}.drilling.lift"), Length::mm(10.0), "house default: lift over the work");
    let need = work!(
        book,
        format!("{slug}.drilling.stack"),
        |board, thick, drill, chuck, spare| board + thick + drill + chuck + spare,
        &crate::kernel::setting::DAYLIGHT
    );
    let verdict = judge!(
        book,
        format!("{slug}.drilling.daylight"),
        format!("sheet, drill and chuck fit under the {}", mill.name),
        |need, room| need <= room,
        &crate::kernel::setting::DAYLIGHT
    );
    book.cure(verdict.id(), "a collet in place of the chuck");
    book.cure(verdict.id(), "a stub drill");
    book.cure(verdict.id(), "by hand through a drilled guide block with two trued edges");
    Vec::new()
}
