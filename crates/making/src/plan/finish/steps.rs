//! What is done at each step of finish.

use super::wanted::{Asked, Wanted, is_pivot};
use crate::plan::fire::Fired;
use crate::plan::hole::seen;
use crate::plan::{Caution, Check, Figure, Operation, PassTable, Spread};
use heat::polish::{BARRIER, LOOK};
use movement::part::{Body, Part};
use reckon::source::GEOMETRY;
use reckon::{Book, Diameter, Length, Val, judge, work};
use record::facts::{Finish, Shop};

/// The operation of a step.
pub(super) fn operation(
    asked: &Asked,
    wanted: &Wanted,
    part: &Part,
    fired: Option<&Fired>,
    shop: &Shop,
    book: &mut Book,
) -> Operation {
    let mut op = match asked.does {
        "pre-finish" => pre_finish(wanted),
        "finish turn" => finish_turn(wanted, part, book),
        "burnish" => burnish(wanted, part, book),
        "polish" => polish(wanted, part, shop, book),
        "grain" => grain(wanted, part, shop),
        "snail" => snail(asked.by == Some(Finish::Snail)),
        "frost" => frost(),
        "degrease" => degrease(shop),
        "oil" => oil(),
        "silver" => silver(),
        "lacquer" => lacquer(part),
        "wax" => wax(),
        "gild" | "plate" => sent_out(asked.does),
        does => crate::plan::fire::operation(does, fired, shop),
    };
    op.does = vec![asked.does];
    if part.common.material.leaded && matches!(asked.does, "polish" | "grain") {
        op.cautions.push(Caution::Lead);
    }
    op
}
fn lines(all: &[&str]) -> Vec<String> {
    all.iter().map(|l| (*l).to_owned()).collect()
}
fn pre_finish(wanted: &Wanted) -> Operation {
    let first = wanted.ladder.as_ref().and_then(|l| l.rungs.first());
    let paper = first.map(|r| {
        heat::polish::nearest("P", r.grain.bare().in_mm() * 1e3).map_or("P1000", |g| g.name.as_str())
    });
    let paper = paper.unwrap_or("P1000");
    Operation {
        title: "Paper before the heat".to_owned(),
        lines: vec![
            format!(
                "Every face that will shine down to {paper} paper, on glass or on a flat stick; pits left now are cut out of hard metal later."
            ),
            "No polish yet: the heat would eat it.".to_owned(),
        ],
        tool: Some(format!("{paper} paper on glass")),
        figures: first.map(|r| Figure::as_text("grain", &r.grain, r.called())).into_iter().collect(),
        checks: vec![seen("faces", "no mark of the tool left, at three times; edges still sharp")],
        cautions: vec![Caution::Filing],
        time: Spread::minutes(1.0, 2.0, 5.0),
        ..Operation::default()
    }
}
/// Steps with close limits, brought to size after the heat.
fn finish_turn(wanted: &Wanted, part: &Part, book: &mut Book) -> Operation {
    let slug = part.slug();
    let mut figures = Vec::new();
    let mut checks = Vec::new();
    let steps = part.turned().map_or(&[][..], |b| &b.steps);
    for (i, s) in steps.iter().enumerate() {
        let fit = super::wanted::is_fit(s) && s.thread.is_none() && !s.undercut && s.knurl.is_none();
        if !fit {
            continue;
        }
        let (nominal, upper, lower) = (s.size.nominal, s.size.upper, s.size.lower);
        let aim = work!(
            book,
            format!("{slug}.finish.step{}.aim", i + 1),
            |nominal, upper, lower| nominal + (upper + lower) / 2.0,
            &GEOMETRY
        );
        let burnished = wanted.pivots.filter(|_| is_pivot(s));
        let to = match burnished {
            Some(left) => {
                work!(
                    book,
                    format!("{slug}.finish.step{}.turn_to", i + 1),
                    |aim, left| aim + left,
                    &super::wanted::GROWS
                )
            }
            None => aim,
        };
        figures.push(Figure::of(&s.what, &to));
        let spare = burnished.map_or(Length::ZERO, |l| l.bare());
        checks.push(Check {
            what: s.what.clone(),
            limits: Some((
                nominal.bare().across() + upper.bare() + spare,
                nominal.bare().across() + lower.bare() + spare,
            )),
            seen: None,
            id: Some(to.id()),
        });
    }
    let mut lines = lines(&[
        "Straight first: turned between its own centres, it shows less than 0.02 mm at the middle.",
        "A sharp carbide or a stone on the slide, light cuts: hard steel pushes a dull tool off. Shoulders last, just cleaned.",
    ]);
    if let Some(left) = wanted.pivots {
        lines.push(format!("Pivots keep {} for the burnisher.", left.shown()));
    }
    Operation {
        title: "Turn the fits to size".to_owned(),
        lines,
        tool: Some("carbide tool or slip stone".to_owned()),
        figures,
        checks,
        cautions: vec![Caution::Turning, Caution::Filing],
        time: Spread::minutes(10.0, 20.0, 45.0),
        ..Operation::default()
    }
}
fn burnish(wanted: &Wanted, part: &Part, book: &mut Book) -> Operation {
    let slug = part.slug();
    let mut figures = Vec::new();
    let mut checks = Vec::new();
    let steps = part.turned().map_or(&[][..], |b| &b.steps);
    let mut count = 0;
    for (i, s) in steps.iter().enumerate().filter(|(_, s)| is_pivot(s)) {
        count += 1;
        let (nominal, upper, lower) = (s.size.nominal, s.size.upper, s.size.lower);
        let to: Val<Diameter> = work!(
            book,
            format!("{slug}.finish.pivot{}.to", i + 1),
            |nominal, upper, lower| nominal + (upper + lower) / 2.0,
            &GEOMETRY
        );
        figures.push(Figure::of(&s.what, &to));
        checks.push(crate::plan::cuts::check(&s.what, &s.size));
    }
    if let Some(left) = &wanted.pivots {
        figures.push(Figure::of("takes off", left));
    }
    checks.push(seen(
        "pivots",
        "at ten times bright along and round, no ring, end slightly rounded, corner not raised",
    ));
    Operation {
        title: "Polish and burnish the pivots".to_owned(),
        lines: lines(&[
            "P1200 or oilstone first, until the rings of the tool are gone; then 6 µm on a flat slip of iron; then the burnisher with a drop of oil, moved against the turning.",
            "Pivot resting in a groove of the pivot bed, its end held by nothing; the burnisher square to the shoulder, its edge just rounded.",
            "Burnish last of all that is done to it; it closes the face, and paper would open it again.",
        ]),
        tool: Some("pivot bed, oilstone, flat burnisher".to_owned()),
        figures,
        checks,
        cautions: vec![Caution::Turning],
        time: {
            let n = f64::from(count.max(1));
            Spread::minutes(5.0 * n, 10.0 * n, 25.0 * n)
        },
        ..Operation::default()
    }
}
fn polish(wanted: &Wanted, part: &Part, shop: &Shop, book: &mut Book) -> Operation {
    let Some(l) = &wanted.ladder else { return Operation::default() };
    let mut says = Vec::new();
    let threads =
        part.turned().is_some_and(|b| b.slot.is_some() || b.steps.iter().any(|s| s.thread.is_some()));
    if threads {
        says.push("Edges of the slot and the rims first, with pegwood; then the faces, which show every slip. Threads are left alone.".to_owned());
    } else {
        says.push("Edges first, then faces, which show every slip.".to_owned());
    }
    if part.turned().is_some_and(|b| b.steps.iter().any(is_pivot)) {
        says.push("Pivots stand in a brass sleeve, or wrapped in paper: no lap comes near them.".to_owned());
    }
    says.push(format!("Between two grains: {BARRIER}."));
    says.push(format!("After each grain: {LOOK}."));
    if l.hardened {
        says.push("The first grain only goes through the skin that the heat has left; the paper before the heat took the marks of the tool.".to_owned());
    }
    says.extend(l.remarks());
    match l.level {
        Finish::Black => says.push("Black polish: the face flat on a tin or zinc lap, finest paste nearly dry, short strokes without pressure, until it turns black against the light.".to_owned()),
        Finish::Mirror => says.push("A mirror: the last grain in two directions, then without pressure; wash before looking.".to_owned()),
        _ => {}
    }
    if wanted.has("blue") {
        says.push(
            "The blue shows every scratch that is left: the same last grain for the whole batch.".to_owned(),
        );
    }
    let mut figures = vec![Figure::of("off each face", &l.off)];
    if let Some(left) = &wanted.polished {
        figures.push(Figure::of("on the diameter", left));
    }
    let mut checks = vec![seen("faces", "at ten times, light from the side: no scratch of the grain before")];
    checks.extend(after(wanted, part));
    thickness(wanted, part, book);
    let wash = if shop.polish.wash.is_empty() {
        String::new()
    } else {
        format!("; {}", shop.polish.wash.join(", "))
    };
    #[expect(clippy::cast_precision_loss, reason = "a number of steps")]
    let n = l.rungs.len().max(1) as f64;
    Operation {
        title: match l.level {
            Finish::Satin => "Bring to satin".to_owned(),
            Finish::Black => "Polish black".to_owned(),
            Finish::Mirror => "Polish to a mirror".to_owned(),
            _ => "Polish".to_owned(),
        },
        lines: says,
        tool: Some(format!("laps and boxes as listed{wash}")),
        figures,
        tables: vec![PassTable { title: "the ladder, coarse to fine".to_owned(), id: l.table }],
        checks,
        cautions: vec![Caution::Polishing],
        time: Spread::minutes(1.5 * n, 3.0 * n, 7.0 * n),
        ..Operation::default()
    }
}
/// Sizes that polishing brings inside their limits.
fn after(wanted: &Wanted, part: &Part) -> Vec<Check> {
    let Some(b) = part.turned().filter(|_| wanted.polished.is_some()) else { return Vec::new() };
    let steps = b.steps.iter().filter(|s| wanted.left(s).is_some() && !super::wanted::is_fit(s));
    steps.filter(|s| s.end.is_none()).take(3).map(|s| crate::plan::cuts::check(&s.what, &s.size)).collect()
}
/// Sheet cannot be had thicker by the ladder: its limits have to take it.
fn thickness(wanted: &Wanted, part: &Part, book: &mut Book) {
    let (Body::Flat(b), Some(l)) = (&part.body, &wanted.ladder) else { return };
    let (off, lower) = (l.off, b.thickness.lower);
    let verdict = judge!(
        book,
        format!("{}.finish.thickness_holds", part.slug()),
        "the thickness stays within its limits when both faces are finished",
        |off, lower| off * 2.0 <= -lower,
        &heat::polish::DAMAGE
    );
    book.cure(verdict.id(), "from sheet a tenth thicker, thinned on both faces");
    book.cure(verdict.id(), "write a lower limit that leaves room for the finish");
}
fn grain(wanted: &Wanted, part: &Part, shop: &Shop) -> Operation {
    let coarse = shop.polish.grits.iter().find(|g| g.bare().in_mm() <= 0.0401);
    let paper = coarse
        .and_then(|g| heat::polish::nearest("P", g.bare().in_mm() * 1e3))
        .map_or("P800", |g| g.name.as_str());
    let flat = matches!(part.body, Body::Flat(_));
    let mut says = lines(if flat {
        &[
            "Straight strokes, all one way, along the longer side; the stick or the block runs off both ends and never turns back on the work.",
            "Both faces, then the edges along their length; corners broken with one stroke.",
        ]
    } else {
        &[
            "Round parts turning slowly, paper on a flat stick held still, so that the grain runs round; end faces straight, one way.",
            "Fits, pivots, threads and bores are covered or left alone.",
        ]
    });
    says.push("One fresh piece of paper for the last strokes of all; wiped, not rubbed.".to_owned());
    let mut figures = Vec::new();
    if let Some(l) = wanted.ladder.as_ref().filter(|l| l.level == Finish::Grain) {
        figures.extend(l.rungs.last().map(|r| Figure::as_text("grain", &r.grain, r.called())));
        figures.push(Figure::of("off each face", &l.off));
    } else {
        figures.extend(coarse.map(|g| Figure::as_text("grain", g, super::ladder::called(g.bare(), "paper"))));
    }
    Operation {
        title: "Straight grain".to_owned(),
        lines: says,
        tool: Some(format!("{paper} paper on a flat stick")),
        figures,
        checks: vec![seen("grain", "even and one way in light from the side, no scratch across, no finger")],
        cautions: vec![Caution::Filing],
        time: Spread::minutes(3.0, 8.0, 20.0),
        ..Operation::default()
    }
}
fn snail(spiral: bool) -> Operation {
    let how = if spiral {
        "The wheel turns slowly on its bore and the small turning lap crosses its face from rim to hub: each stroke leaves a curve."
    } else {
        "A peg of boxwood with 9 to 18 µm paste in a drilling machine at low speed, touched down in rows; each spot covers half of the one before, each row half of the row before."
    };
    Operation {
        title: if spiral { "Snail the face" } else { "Spot the face" }.to_owned(),
        lines: vec![
            how.to_owned(),
            "Try the spacing on scrap of the same metal first; begin again from grain if one is missed."
                .to_owned(),
        ],
        tool: Some("small lap or peg in the drilling machine, stop set".to_owned()),
        checks: vec![seen("curves", "one depth and one spacing all over")],
        cautions: vec![Caution::Polishing],
        time: Spread::minutes(15.0, 30.0, 60.0),
        ..Operation::default()
    }
}
fn frost() -> Operation {
    Operation {
        title: "Frost".to_owned(),
        lines: lines(&[
            "A brass brush of fine wire running slowly, or pumice and water under a stiff brush, tapped upright: no stroke, only points.",
            "Bores and fits stopped with wax first; rinse long, dry warm, no finger on it after.",
        ]),
        tool: Some("scratch brush, fine pumice".to_owned()),
        checks: vec![seen("frost", "even, no shining spot, in light from the side")],
        cautions: vec![Caution::Polishing],
        time: Spread::minutes(10.0, 20.0, 40.0),
        ..Operation::default()
    }
}
fn degrease(shop: &Shop) -> Operation {
    let wash = if shop.polish.wash.is_empty() {
        "hot water with detergent, then spirit".to_owned()
    } else {
        shop.polish.wash.join(", then ")
    };
    Operation {
        title: "Degrease".to_owned(),
        lines: vec![
            format!(
                "{}, rinse in clean water until it runs off as one film, dry in warm air.",
                super::super::sentence(&wash)
            ),
            "From here on clean gloves or tweezers: one finger is seen for ever.".to_owned(),
        ],
        tool: Some("soft brush, clean dishes with lids".to_owned()),
        checks: vec![seen("water", "stands as one film, no drop")],
        cautions: vec![Caution::Spirit],
        time: Spread::minutes(1.0, 2.0, 5.0),
        ..Operation::default()
    }
}
fn oil() -> Operation {
    Operation {
        title: "Oil the colour".to_owned(),
        lines: lines(&[
            "When it is cold: a trace of thin clean oil on a lint-free cloth, wiped off again; it deepens the colour and keeps rust away.",
        ]),
        tool: Some("clock oil, lint-free cloth".to_owned()),
        time: Spread::minutes(0.5, 1.0, 2.0),
        ..Operation::default()
    }
}
fn silver() -> Operation {
    Operation {
        title: "Silver".to_owned(),
        lines: lines(&[
            "Engraving filled and levelled first; the ground freshly grained, wet and free of grease.",
            "Rub the bought silvering paste on with a wet cloth in small circles until it is even and white; rinse; then the finishing powder; rinse, and dry at once without rubbing.",
            "Lacquer the same day: bare silver yellows.",
        ]),
        tool: Some("silvering paste and finishing powder, bought; clean cloths".to_owned()),
        checks: vec![seen("ground", "even, no yellow showing through")],
        cautions: vec![Caution::Silvering],
        time: Spread::minutes(20.0, 40.0, 90.0),
        ..Operation::default()
    }
}
fn lacquer(part: &Part) -> Operation {
    let mut says = lines(&[
        "After the dry assembly of the clock, when nothing has to be fitted any more; bores, pivot holes and seats stopped with pegs.",
        "Part warm to the hand, thin lacquer with a wide soft brush in one pass, or dipped and drained; a second coat when the first is hard, or none.",
        "Under a box against dust for a day.",
    ]);
    if part.turned().is_some() {
        says.push("Round parts turn slowly by hand in the lathe while the brush is held still.".to_owned());
    }
    Operation {
        title: "Lacquer".to_owned(),
        lines: says,
        tool: Some("clear metal lacquer, soft brush".to_owned()),
        checks: vec![seen("lacquer", "no run, no bare edge, no rainbow of a coat too thin")],
        cautions: vec![Caution::Lacquer],
        time: Spread::minutes(5.0, 10.0, 25.0),
        ..Operation::default()
    }
}
fn wax() -> Operation {
    Operation {
        title: "Wax".to_owned(),
        lines: lines(&[
            "Hard microcrystalline wax, a trace on a soft cloth, left to dry and buffed by hand.",
        ]),
        tool: Some("wax, soft cloth".to_owned()),
        time: Spread::minutes(1.0, 3.0, 6.0),
        ..Operation::default()
    }
}
fn sent_out(does: &str) -> Operation {
    let gilt = does == "gild";
    Operation {
        title: if gilt { "Have it gilded" } else { "Have it plated" }.to_owned(),
        lines: lines(&[
            "A bought service: write on the order which faces, how thick, and that bores, threads and fits are stopped off.",
            "All hammering, riveting and soldering is done before; nothing is polished after: the layer is thin.",
            "Electrolytic only; a firm that offers fire gilding with mercury is not asked.",
        ]),
        tool: Some("order, drawing with the faces marked, each piece in tissue".to_owned()),
        checks: vec![seen("when it comes back", "fits still go together; no bare spot")],
        cautions: vec![Caution::Plating],
        time: Spread::minutes(10.0, 20.0, 40.0),
        ..Operation::default()
    }
}
