//! The movement let go in simulation: arcs and margins over the wind, where the energy goes, and stills.

mod flow;
mod rate;
mod sizes;

use super::escapement::draw::{View, fitted};
use crate::packet::{Contents, operations};
use crate::{Block, Figure, Fit, Picture, Sheet, Text, Typecase};
use ::going::film::{Event, standing};
use ::going::forecast::{Forecast, words};
use ::going::{End, Model};
use ::movement::design::Movement;
use ::movement::design::escapement::Drawing;
use drafting::sketch::Sketch;
use kurbo::Rect;
use reckon::{Id, Origin};
use record::facts::Paper;

/// Its sheets and drawings; none where it was not let go.
pub(super) fn sheets(
    of: &Contents<'_>,
    m: &Movement,
    number: &mut dyn FnMut() -> String,
    case: &Typecase,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let (Some((model, found)), Some(_)) = (of.going, &m.escapement) else { return Vec::new() };
    let sheet =
        |number: String, blocks| Sheet { title: "going".to_owned(), part: String::new(), number, blocks };
    let stream = streams(m, model, found).and_then(|s| flow::stream(&s));
    drawings.extend(stream.clone().map(|s| ("going-power".to_owned(), s)));
    let mut all = vec![sheet(number(), numbers(of, model, found, stream))];
    if let Some(arcs) = &found.arcs {
        let (blocks, drawing) = rate::rate(of, model, found, arcs);
        drawings.push(("going-rate".to_owned(), drawing));
        all.push(sheet(number(), blocks));
    }
    if let Some(sketch) = found.by_size.as_ref().and_then(sizes::sizes) {
        drawings.push(("going-sizes".to_owned(), sketch.clone()));
        let picture = Picture { sketch, fit: Fit::True, caption: sizes::SAYS.into() };
        let blocks = vec![
            Block::Heading(1, "What each size does".into()),
            Block::Picture(picture),
            Block::Remark("The nut takes up for good what is made a little otherwise. What changes while it goes is what spoils its time: drive, friction, crutch, warmth.".into()),
        ];
        all.push(sheet(number(), blocks));
    }
    let Some(film) = &found.film else { return all };
    let wide = if of.clock.paper == Paper::A4 { 176.0 } else { 181.0 };
    let high = if of.clock.paper == Paper::A4 { 62.0 } else { 56.0 };
    let shown: Vec<&Event> =
        film.events.iter().filter(|e| matches!(e.what, "impulse" | "let off" | "landed")).collect();
    for (i, three) in shown.chunks(3).enumerate() {
        let head = if i == 0 { "Two beats, moment by moment" } else { "The other beat" };
        let mut blocks = vec![Block::Heading(1, head.into())];
        for (k, e) in three.iter().enumerate() {
            let sketch = still(model, e, (wide, high), case);
            let force = e.frame.touch.map_or_else(String::new, |_| {
                " The line is the force of the tooth on the pallet, as long as it is strong.".to_owned()
            });
            let caption = format!("{}, pallets at {}.{force}", sketch.title, words::degrees(e.frame.pallets));
            drawings.push((format!("going-{}", i * 3 + k + 1), sketch.clone()));
            blocks.push(Block::Picture(Picture { sketch, fit: Fit::True, caption: caption.as_str().into() }));
        }
        all.push(sheet(number(), blocks));
    }
    all
}
/// What the simulation shows beside the moving picture: name, what it says, and the drawing.
pub fn pictures(movement: &Movement, m: &Model, f: &Forecast) -> Vec<(&'static str, &'static str, Sketch)> {
    let mut all = Vec::new();
    if let Some(s) = streams(movement, m, f).and_then(|s| flow::stream(&s)) {
        all.push(("Where the power goes", "In the middle of the run, as it is likely; each stream as wide as it is strong, in parts of what the drive gives.", s));
    }
    if let Some(a) = &f.arcs {
        all.push(("The rate against the arc", "Against a free swing of no arc, the torque changed. The ring: where it settles in the middle of the run.", rate::against_arc(a)));
    }
    if let Some(s) = rate::through_the_wind(m, f) {
        all.push(("Through the wind", rate::WIND, s));
    }
    if let Some(s) = f.by_size.as_ref().and_then(sizes::sizes) {
        all.push(("What each size does", sizes::SAYS, s));
    }
    if let Some(p) = &movement.pendulum {
        let [day, year] = super::power::room::drawn(&p.weather);
        all.push((
            "Through a day of its room",
            "Rate at each hour, and how far the hands get off by it. Dashed: by the air alone.",
            day,
        ));
        all.push((
            "Through a year of its room",
            "Grey: twice the scatter by the barometer's weather, to each side.",
            year,
        ));
    }
    all
}
/// The pallets and the teeth near them at a moment.
fn still(m: &Model, e: &Event, room: (f64, f64), case: &Typecase) -> Sketch {
    let (r, c) = (m.drawn.radius, m.drawn.arbor.y);
    let outlines = standing(m, &e.frame);
    let mut drawing = Drawing { points: vec![(m.drawn.arbor, String::new())], ..Drawing::default() };
    if let Some((at, force)) = e.frame.touch {
        // The strongest is about a third of the radius long.
        let most = m.supply.torque(End::Likely, 0.5) * 1e3 / (0.5 * r);
        let arrow = force * (0.35 * r / most);
        let tip = at + arrow;
        let side = kurbo::Vec2::new(-arrow.y, arrow.x) * 0.08;
        drawing.lines = vec![(at, tip), (tip, tip - arrow * 0.2 + side), (tip, tip - arrow * 0.2 - side)];
        drawing.points.push((at, String::new()));
    }
    let window = Rect::new(-1.08 * r, 0.5 * r, 1.08 * r, c + 0.2 * r);
    let view = View { outlines: &outlines, drawing: &drawing, names: false };
    let name = match e.what {
        "let off" => format!("The {} pallet lets off", e.side.word()),
        "landed" => format!("A tooth lands on the {} pallet", e.side.word()),
        _ => format!("Impulse on the {} pallet", e.side.word()),
    };
    fitted(&view, window, room, case, &name)
}
fn table(of: &Contents<'_>, id: Option<Id>) -> Option<Block> {
    match &of.book.line(id?)?.origin {
        Origin::Table { columns, rows, .. } => {
            let mut table = operations::table(columns, rows, of.style());
            table.size = 8.0;
            Some(Block::Table(table))
        }
        _ => None,
    }
}
/// Power from the drive to the last loss in the middle of the run, as it is likely.
fn streams(movement: &Movement, m: &Model, f: &Forecast) -> Option<flow::Stream> {
    let middle = m.supply.places.len() / 2;
    let drive = movement.drive.as_ref()?.margin.as_ref()?.moments.get(middle)?.power.likely.bare().value();
    let d = f.stand(middle, End::Likely)?.found.as_ref().ok()?;
    let wheel = d.power.bare().value();
    let loss = |(what, part): ::going::forecast::Part| flow::Loss {
        what,
        power: wheel * part(&d.flow) / d.flow.given,
        then: None,
    };
    // Air and suspension stand first among the parts, and last in the stream: what the swing lives on.
    let (air, rest) = ::going::forecast::PARTS.split_first()?;
    let train = flow::Loss {
        what: "train, from the drive on",
        power: drive - wheel,
        then: Some("at the escape wheel"),
    };
    let mut losses = vec![train];
    losses.extend(rest.iter().rev().map(|p| loss(*p)));
    losses.push(loss(*air));
    Some(flow::Stream { from: "from the drive", given: drive, losses })
}
fn numbers(of: &Contents<'_>, m: &Model, f: &Forecast, stream: Option<Sketch>) -> Vec<Block> {
    let mut blocks = vec![
        Block::Heading(1, "It goes, before it is cut".into()),
        Block::Para("Followed in simulation: the pendulum on its strip, the pallets by their outlines with friction, wheel and train with their inertia, the drive through the wind. Low: stale oil, cold; high: everything at its best.".into()),
    ];
    let last = m.supply.places.len().saturating_sub(1);
    if let Some(Ok(d)) = f.stand(last, End::Likely).map(|s| &s.found) {
        let arc = Figure::new("swing that settles", words::degrees(d.arc.bare().value()));
        let least = Figure::new("keeps on from", words::degrees(d.least.bare().value()));
        let mut figures = vec![arc.note(m.supply.places[last].what), least.note("a smaller swing dies away")];
        if let Some(k) = f.stand(last, End::Likely).and_then(|s| s.in_hand) {
            let times = format!("{} ×", reckon::print::fixed(k.bare().value(), 2));
            figures.push(Figure::new("torque over the least", times).note(m.supply.places[last].what));
        }
        blocks.push(Block::Figures(figures));
    }
    blocks.extend(table(of, f.table));
    blocks.push(Block::Remark("Arc: from the middle to one side. Rate: + gains, the nut set right for the middle of the run. Hold at landing: what a tooth has until it would be let go at once.".into()));
    let stories: Vec<Text> = f
        .stops
        .iter()
        .filter_map(|(place, end, s)| {
            let halt = s.halt?;
            let what = m.supply.places[*place].what;
            Some(Text::from(format!("{what}, {}: {}. {}.", end.word(), halt.word(), halt.says()).as_str()))
        })
        .collect();
    if !stories.is_empty() {
        blocks.push(Block::Dots(stories));
    }
    blocks.push(Block::Heading(2, "Where the energy goes".into()));
    if let Some(sketch) = stream {
        let what = m.supply.places[m.supply.places.len() / 2].what;
        let caption = format!(
            "Power {what}, as it is likely; each stream as wide as it is strong, in parts of what the drive gives."
        );
        blocks.push(Block::Picture(Picture { sketch, fit: Fit::True, caption: caption.as_str().into() }));
    }
    blocks.extend(table(of, f.flows));
    blocks.push(Block::Heading(2, "What happens in two beats".into()));
    blocks.extend(table(of, f.events));
    blocks.push(Block::Remark("When it goes, measure its arc and rate and put them beside this: brasswright going --arc \"…\" --rate \"…\" tells what would explain the difference.".into()));
    blocks
}
