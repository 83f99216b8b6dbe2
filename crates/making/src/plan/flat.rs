//! A flat part: sheet, template, drill, saw, file.

use super::batch::batch;
use super::drills::{Listed, drill_for};
use super::fits::room;
use super::hole::seen;
use super::jig::Jigs;
use super::sheet::Share;
use super::stock::{StockChoice, said};
use super::{Caution, Check, Figure, Held, Operation, PartPlan, SetUp, ShopTool, Spread, time};
use crate::kernel::speed::{self, Kind};
use movement::part::{FlatBody, Part};
use reckon::source::GEOMETRY;
use reckon::{Alternative, Book, Cell, Diameter, Length, Source, Trouble, Val, judge, work};
use record::facts::{Shop, StockForm};

/// Where a hole is from the datum: along and across.
type Move = (Val<Length>, Val<Length>);

/// Allowance round a blank.
pub static BLANK: Source =
    Source::practice("a blank is sawn 2 mm larger all round and the outline filed to the line");

/// Plans a flat part.
///
/// # Errors
/// A trouble when the tables lack its metal.
#[expect(clippy::too_many_arguments, reason = "the shop, the book, and what all parts share")]
pub fn plan(
    index: usize,
    part: &Part,
    body: &FlatBody,
    shop: &Shop,
    book: &mut Book,
    tools: &mut Vec<ShopTool>,
    jigs: &mut Jigs,
    share: &Share,
) -> Result<PartPlan, Box<Trouble>> {
    if let Some(size) = body.round {
        return super::round::plan(index, part, body, size, shop, book, tools, jigs, share);
    }
    let metal = super::bench::metal(part, book)?;
    let slug = part.slug().to_owned();
    let batch = batch(part, book);
    let inputs = vec![body.thickness.nominal.id(), body.extent.0.id(), body.extent.1.id()];
    let how = "area of the outline less its holes, times the thickness";
    super::bench::weigh(part, book, body.solid.volume(), how, inputs);
    let stock = sheet(index, part, body, shop, book, &batch, share);
    let mut setups = match share.pair(index) {
        Some(pair) => {
            let p = super::plate::Plate {
                part,
                body,
                shop,
                metal,
                thicker: thicker(share, index, shop),
                pair: Some((pair, pair.parts.0 == index)),
            };
            super::plate::setups(&p, book)
        }
        None => match jigs.own(&slug) {
            own if own.is_empty() => plain(part, body, shop, book, metal),
            own => own,
        },
    };
    setups.extend(jigs.after(&slug));
    super::jig::buttons::round_ends(part, body, &mut setups, shop, jigs, book);
    super::tapping::of_flat(part, body, share.pair(index), &mut setups, (shop, metal), book);
    super::jig::through::instead(part, body, share.pair(index), &mut setups, shop, jigs, book);
    let finish =
        super::finish::wanted::wanted(part, shop, false, book).append(part, shop, book, &mut setups)?;
    let total = time::of_setups(book, &slug, &setups, batch.total.bare());
    Ok(PartPlan { part: index, batch, stock, setups, finish, waits_for: Vec::new(), time: total })
}
/// The set-ups of a flat part that stands alone: holes first, then the outline.
fn plain(
    part: &Part,
    body: &FlatBody,
    shop: &Shop,
    book: &mut Book,
    metal: super::bench::MetalFacts,
) -> Vec<SetUp> {
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
    drilling.extend(holes(body, shop, book, part.slug(), metal));
    let outline = Operation {
        title: crate::nc::mill::OUTLINED.to_owned(),
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
        does: vec!["form", "deburr"],
        ..Operation::default()
    };
    vec![
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
    ]
}
/// Thickness of its sheet, where that is to be thinned.
fn thicker(share: &Share, index: usize, shop: &Shop) -> Option<Val<Length>> {
    let (stock, thin) = share.of(index)?;
    match &shop.stock[stock].form {
        StockForm::Sheet { thickness, .. } if thin => Some(*thickness),
        _ => None,
    }
}
/// The sheet that a part's blanks are sawn from, as all flat parts together share what there is.
pub(super) fn sheet(
    index: usize,
    part: &Part,
    body: &FlatBody,
    shop: &Shop,
    book: &mut Book,
    batch: &super::batch::Batch,
    share: &Share,
) -> StockChoice {
    let slug = part.slug();
    let (w, h) = body.extent;
    let margin = book.assumed(
        format!("{slug}.blank.margin"),
        Length::mm(super::sheet::MARGIN),
        "house default: saw and file allowance all round",
    );
    let long = work!(book, format!("{slug}.blank.length"), |w, h, margin| w.max(h) + margin * 2.0, &BLANK);
    let short = work!(book, format!("{slug}.blank.width"), |w, h, margin| w.min(h) + margin * 2.0, &BLANK);
    let n = batch.total;
    let need = work!(book, format!("{slug}.stock.need"), |short, n| short * n, &BLANK);
    let thick = body.thickness.nominal.bare();
    let taken = share.of(index);
    let mut what = None;
    let mut alternatives = Vec::new();
    for (i, s) in shop.stock.iter().enumerate() {
        let StockForm::Sheet { length, width, thickness } = &s.form else { continue };
        if s.material.name != part.common.material.name {
            continue;
        }
        let t = thickness.bare();
        let one = format!("{} {} × {} × {}", s.name, said(length.bare()), said(width.bare()), said(t));
        let is = taken.is_some_and(|(k, _)| k == i);
        if is {
            what = Some(one.clone());
        }
        alternatives.push(Alternative { what: one, taken: is, why: share.why(index, i).to_owned() });
    }
    let mut lines = Vec::new();
    let whole = |l: Length| Length::mm(l.in_mm().ceil());
    let what = what.unwrap_or_else(|| {
        for a in alternatives.iter().filter(|a| a.why != "too thin") {
            lines.push(format!("Not from {}: {}.", a.what, a.why));
        }
        format!(
            "{} sheet {} thick, {} × {} for each (to buy)",
            part.common.material.name,
            said(thick),
            said(whole(long.bare())),
            said(whole(short.bare()))
        )
    });
    book.chosen(
        format!("{slug}.stock.sheet"),
        what.clone(),
        "a sheet of its material and thickness on which all its blanks still find room, else a thicker one to be thinned; what other parts take is gone",
        alternatives,
        vec![long.id(), short.id(), body.thickness.nominal.id(), n.id()],
        &super::sheet::LAID,
    );
    if taken.is_some_and(|(_, thin)| thin) {
        lines.push("Thicker than drawn: thin it on both faces alike, or it bows.".to_owned());
    }
    lines.push(format!("Blank {} × {} for each.", said(long.bare()), said(short.bare())));
    StockChoice {
        what,
        index: taken.map(|(i, _)| i),
        need,
        sticks: vec![(n.bare().0, need.bare())],
        lines,
        bar: None,
    }
}
pub(super) fn holes(
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
    let mut moves = Vec::new();
    let mut tapped = false;
    let (mut drilled, mut listed) = (Vec::new(), Vec::new());
    for h in &body.holes {
        let (x0, y0) = body.datum;
        let at = format!("{slug}.hole.{}", reckon::slug(&h.label));
        let (x, y) = h.centre;
        let dx = work!(book, format!("{at}.dx"), |x, x0| x - x0, &GEOMETRY);
        let dy = work!(book, format!("{at}.dy"), |y, y0| y - y0, &GEOMETRY);
        let way = drill_for(h, (shop, metal.metal), book, &at);
        drilled.push(way.last.unwrap_or(h.diameter.nominal));
        let (drill, then) = (way.drills(), way.then);
        listed.push(Listed { label: h.label.clone(), drills: way.names, then: then.clone() });
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
        moves.push((dx, dy));
    }
    let table = book.table(
        format!("{slug}.holes"),
        &["hole", "x", "y", "x dial", "y dial", "drill", "then"],
        rows,
        "measured from the left and lower edges of the drawing; approach each from the same side, so that backlash is out",
        inputs,
        &GEOMETRY,
    );
    let smallest = drilled.into_iter().reduce(|a, c| if c < a { c } else { a });
    let pace = smallest.and_then(|d| drilling_speed(shop, metal, d, &format!("{slug}.drilling"), book));
    let (speed, slow) = pace.map_or((None, None), |(speed, told)| (Some(speed), told));
    let mut cautions = vec![Caution::DrillingSheet];
    if metal.leaded {
        cautions.push(Caution::Lead);
    }
    if tapped {
        cautions.push(Caution::HandThreading);
    }
    let room =
        room::flat(&room::Flat { shop, slug, thick: body.thickness.nominal, largest: largest(body) }, book);
    let mut lines = vec![
        "Spot each with a short drill, then drill; ream and tap before the next is moved to.".to_owned(),
        match shop.mills.first().and_then(|m| m.dial.as_ref()) {
            Some(dial) => format!(
                "Both dials upwards: come to every hole from the left and from the near side; turn back past it by more than the backlash of {} first.",
                said(dial.backlash.bare())
            ),
            None => "Come to every hole from the same side by at least the backlash.".to_owned(),
        },
    ];
    lines.extend(travel(body, shop, book, slug, &moves));
    lines.extend(room.lines);
    lines.extend(slow);
    vec![Operation {
        title: crate::nc::mill::DRILLED.to_owned(),
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
        does: vec!["drill"],
        holes: listed,
        no_spindle: room.none,
        ..Operation::default()
    }]
}
/// The mill's speed for a drill of this size.
pub(super) fn drilling_speed(
    shop: &Shop,
    metal: super::bench::MetalFacts,
    d: Val<Diameter>,
    at: &str,
    book: &mut Book,
) -> Option<(Val<reckon::AngularSpeed>, Option<String>)> {
    let mill = shop.mills.first()?;
    let v = book.tabled(
        format!("{at}.surface_speed"),
        speed::start(metal.metal, Kind::Drilling, false),
        format!("{}, drilling", metal.metal.word()),
        &speed::START_SPEEDS,
    );
    let wanted = work!(book, format!("{at}.wanted"), |v, d| speed::turns(v, d), &speed::SURFACE);
    let speed = super::bench::chosen_speed(book, format!("{at}.speed"), wanted, &mill.speeds, mill.stepless);
    super::fits::machine::too_fast(shop, (at, &mill.name), wanted, speed, book);
    let told = super::fits::pace::slow(shop, book, at, d, wanted, speed);
    Some((speed, told))
}
/// Whether the table reaches all holes in one setting, with either side of the sheet along x.
pub(super) fn travel(
    body: &FlatBody,
    shop: &Shop,
    book: &mut Book,
    slug: &str,
    moves: &[Move],
) -> Vec<String> {
    let Some(mill) = shop.mills.first().filter(|_| moves.len() > 1) else { return Vec::new() };
    let mut over = |name: &str, pick: fn(&Move) -> Val<Length>| {
        let (least, most) = moves.iter().map(pick).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
            (a.min(v.bare().value()), b.max(v.bare().value()))
        });
        book.solved(
            format!("{slug}.drilling.field.{name}"),
            Length::si(most - least),
            ("from the first hole to the last along it", 1, 0.0),
            moves.iter().map(|m| pick(m).id()).collect(),
            &GEOMETRY,
        )
    };
    let (wide, high) = (over("width", |m| m.0), over("height", |m| m.1));
    let (along, across) = (mill.travel[0], mill.travel[1]);
    let verdict = judge!(
        book,
        format!("{slug}.drilling.in_reach"),
        format!("the {} reaches all holes in one setting", mill.name),
        |wide, high, along, across| wide <= along && high <= across || high <= along && wide <= across,
        &GEOMETRY
    );
    let name = format!("{slug}.drilling.in_reach");
    super::fits::machine::travel(shop, &name, &verdict, (wide, high), book);
    let (w, h, x, y) = (wide.bare(), high.bare(), along.bare(), across.bare());
    let (upright, lying) = (w <= x && h <= y, h <= x && w <= y);
    let field =
        format!("The holes take up {} × {}; the table travels {} × {}.", said(w), said(h), said(x), said(y));
    match (upright, lying) {
        (true, true) => Vec::new(),
        (true, false) => vec![format!(
            "{field} Lay the sheet with its x along the table's x: the other way it is out of reach."
        )],
        (false, true) => vec![format!(
            "{field} Turn the sheet on its right side, so that its y runs along the table's x: y of the list is then the table's x, and the table's y is {} less x of the list.",
            said(body.extent.0.bare())
        )],
        (false, false) => vec![format!("{field} They are not all in reach in one setting.")],
    }
}
/// Its largest hole.
pub(super) fn largest(body: &FlatBody) -> Option<Val<Diameter>> {
    body.holes.iter().map(|h| h.diameter.nominal).reduce(|a, c| if c > a { c } else { a })
}
