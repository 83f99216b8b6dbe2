//! The dial, the hands and other indications.

mod face;
mod numerals;

use crate::packet::{Contents, figures, operations, templates};
use crate::table::{Column, Row};
use crate::{Block, Cell, Fit, Picture, Ruling, Sheet, Table, Text, Typecase};
use ::movement::design::{DialDesign, HandsDesign, IndicationDesign, MotionDesign, Movement};
use drafting::sketch::{Anchor, Label, Mark, Pen, Sketch, Tone};
use kurbo::{Affine, BezPath, Point, Shape};
use reckon::{Id, Origin};

/// Accuracy of curves on paper, millimetres.
const FINE: f64 = 0.002;

fn words(text: &str) -> Cell {
    Cell::from(Text::from(text))
}
fn shown(of: &Contents<'_>, id: Id) -> Cell {
    words(&figures::shown(of.book, id, of.style()))
}
/// Its sheets and drawings; `number` gives each sheet its number.
pub(super) fn sheets(
    of: &Contents<'_>,
    m: &Movement,
    number: &mut dyn FnMut() -> String,
    case: &Typecase,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let mut all = Vec::new();
    let sheet =
        |number: String, blocks| Sheet { title: "dial".to_owned(), part: String::new(), number, blocks };
    let mut blocks = Vec::new();
    if let Some(d) = &m.motion {
        blocks.extend(motion(of, d));
    }
    if let Some(hands) = &m.hands {
        blocks.extend(pictured(of, hands, drawings));
    }
    if !blocks.is_empty() {
        all.push(sheet(number(), blocks));
    }
    if let Some(d) = &m.dial {
        all.push(sheet(number(), graduation(of, d)));
        let view = face::face(d, case);
        drawings.push(("dial-face".to_owned(), view.clone()));
        let note = "Measure the bars first. Glue it on the dial blank with its centre on the blank's, prick the crosses through, and set out or engrave along the lines; broken circles are feet behind.";
        all.extend(templates::full_size(of, &view, "dial", note, &number(), case));
    }
    if !m.indications.is_empty() {
        let mut blocks = vec![Block::Heading(1, "Indications".into())];
        for i in &m.indications {
            blocks.extend(indication(of, i));
        }
        all.push(sheet(number(), blocks));
    }
    all
}
fn table(of: &Contents<'_>, id: Id) -> Option<Block> {
    match &of.book.line(id)?.origin {
        Origin::Table { columns, rows, .. } => {
            let mut table = operations::table(columns, rows, of.style());
            table.size = 8.5;
            Some(Block::Table(table))
        }
        _ => None,
    }
}
fn ruled(columns: Vec<Column>, rows: Vec<Row>) -> Block {
    Block::Table(Table { columns, rows, ruling: Ruling::Rules, size: 8.5 })
}
/// Motion work in numbers.
fn motion(of: &Contents<'_>, d: &MotionDesign) -> Vec<Block> {
    let mut rows = Vec::new();
    for (name, s, pinion) in [
        ("cannon", &d.first, true),
        ("minute wheel", &d.first, false),
        ("minute pinion", &d.second, true),
        ("hour wheel", &d.second, false),
    ] {
        let t = if pinion { &s.pinion } else { &s.wheel };
        rows.push(Row::new([
            words(name),
            words(&t.count.shown()),
            shown(of, s.module.id()),
            shown(of, t.outside.id()),
            shown(of, t.root.id()),
            shown(of, t.depth.id()),
        ]));
    }
    let mut blocks = vec![
        Block::Heading(1, "Motion work and hands".into()),
        ruled(
            vec![
                Column::share("", 1.0),
                Column::auto("count").right(),
                Column::auto("module").right(),
                Column::auto("over tips").right(),
                Column::auto("at roots").right(),
                Column::auto("depth of cut").right(),
            ],
            rows,
        ),
    ];
    let text = |id: Id| Text::from(figures::shown(of.book, id, of.style()).as_str());
    let mut facts = vec![("minute arbor to stud".into(), text(d.centres.id()))];
    if let Some(s) = &d.stud {
        facts.push(("stud to the right".into(), text(s.x.id())));
        facts.push(("stud upwards".into(), text(s.y.id())));
    }
    let h = &d.heights;
    for (name, id) in [
        ("cannon's back", h.cannon.id()),
        ("minute wheel's back", h.minute_wheel.id()),
        ("hour wheel's back", h.hour_wheel.id()),
        ("dial's back", h.dial.id()),
        ("hour hand's back", h.hour.id()),
        ("minute hand's back", h.minute.id()),
        ("cannon's end", h.cannon_end.id()),
    ] {
        facts.push((name.into(), text(id)));
    }
    let half = facts.len().div_ceil(2);
    let rest = facts.split_off(half);
    blocks.push(Block::Columns(vec![(1.0, vec![Block::Facts(facts)]), (1.0, vec![Block::Facts(rest)])]));
    blocks.push(Block::Remark(
        "Heights from the outside of the front plate; the stud from the dial's centre of measuring, seen from the dial.".into(),
    ));
    if let Some(b) = &d.bow {
        blocks.push(Block::Para(
            format!(
                "The hands need {} at the minute arbor. Bow the washer {} high: then the minute hand slips at {}, which is a pull of {} at its tip. Less than twice the need and it falls back; more than four times and setting the hands strains the train.",
                b.needed.shown(),
                figures::shown(of.book, b.rise.id(), of.style()),
                b.slip.shown(),
                b.pull.shown()
            )
            .into(),
        ));
    }
    blocks
}
/// The hands at true size, side by side.
fn pictured(of: &Contents<'_>, hands: &HandsDesign, drawings: &mut Vec<(String, Sketch)>) -> Vec<Block> {
    let (mut x, mut low, mut high) = (4.0, 0.0_f64, 0.0_f64);
    for h in hands.all() {
        let b = h.outline.bounds();
        (low, high) = (low.min(b.y0), high.max(b.y1));
    }
    let size = drafting::size::NINE_POINT;
    let (mut marks, mut labels) = (Vec::new(), Vec::new());
    let base = 4.0 - low;
    for h in hands.all() {
        let b = h.outline.bounds();
        let half = (b.x1 - b.x0) / 2.0;
        let at = Point::new(x + half + 3.0, base);
        let place = Affine::translate(at.to_vec2());
        let mut put = |path: BezPath, pen| {
            marks.push(Mark { path: place * path, pen: Some(pen), fill: Tone::None, hatch: false });
        };
        put(h.outline.to_path(FINE), Pen::Visible);
        let r = h.hole.bare().in_mm() / 2.0;
        match h.seat {
            ::movement::design::hands::Seat::Square => {
                put(kurbo::Rect::new(-r, -r, r, r).to_path(FINE), Pen::Visible);
            }
            ::movement::design::hands::Seat::Round => {
                put(kurbo::Circle::new((0.0, 0.0), r).to_path(FINE), Pen::Visible);
            }
        }
        for (dx, dy) in [(r + 2.5, 0.0), (0.0, r + 2.5)] {
            let mut line = BezPath::new();
            line.move_to((-dx, -dy));
            line.line_to((dx, dy));
            put(line, Pen::Centre);
        }
        let lines = [h.name.to_owned(), figures::shown(of.book, h.length.id(), of.style())];
        for (i, text) in lines.into_iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "two lines")]
            let y = at.y + 12.0 - 4.6 * i as f64;
            labels.push(Label {
                at: Point::new(at.x + half.max(r) + 3.0, y),
                anchor: Anchor::Start,
                turn: 0.0,
                size,
                text,
                bold: i == 0,
            });
        }
        x += 2.0 * half + 34.0;
    }
    let sketch = Sketch {
        width: x,
        height: high - low + 8.0,
        marks,
        labels,
        scale: (1, 1),
        title: "hands: true size".to_owned(),
    };
    drawings.push(("hands-all".to_owned(), sketch.clone()));
    let rows = hands.all().map(|h| {
        Row::new([
            words(h.name),
            shown(of, h.length.id()),
            h.tail.map_or_else(|| words("–"), |t| shown(of, t.id())),
            h.poise.map_or_else(|| words("–"), |p| shown(of, p.id())),
            shown(of, h.mass.id()),
            shown(of, h.imbalance.id()),
        ])
    });
    let rows = rows.collect();
    vec![
        Block::Heading(2, "Hands".into()),
        Block::Picture(Picture { sketch, fit: Fit::Within(178.0, 150.0), caption: "Seen from the front, at true size where the paper has room.".into() }),
        ruled(
            vec![
                Column::share("hand", 1.0),
                Column::auto("to the tip").right(),
                Column::auto("to the counterpoise").right(),
                Column::auto("counterpoise").right(),
                Column::auto("weighs").right(),
                Column::auto("falls with").right(),
            ],
            rows,
        ),
        Block::Remark("A hand is poised when, on a polished pin held level, it stays where it is put. Take metal from the counterpoise last.".into()),
    ]
}
/// Angles, chords, places.
fn graduation(of: &Contents<'_>, d: &DialDesign) -> Vec<Block> {
    let text = |id: Id| Text::from(figures::shown(of.book, id, of.style()).as_str());
    let mut facts = vec![
        ("dial over all".into(), text(d.outside.id())),
        ("minute circle".into(), text(d.minute_circle.id())),
        ("width of the track".into(), text(d.track.id())),
        ("chord of a minute".into(), text(d.chords.0.id())),
        ("chord of five minutes".into(), text(d.chords.1.id())),
    ];
    if let Some((_, circle)) = &d.seconds {
        facts.push(("seconds circle".into(), text(circle.id())));
    }
    let mut rows = Vec::new();
    for h in &d.holes {
        rows.push(Row::new([
            words(&format!("hole for the {}", h.what)),
            shown(of, h.at.x.id()),
            shown(of, h.at.y.id()),
            shown(of, h.diameter.id()),
        ]));
    }
    for (i, f) in d.feet.iter().enumerate() {
        rows.push(Row::new([
            words(&format!("foot {}, behind", i + 1)),
            shown(of, f.x.id()),
            shown(of, f.y.id()),
            shown(of, d.foot.id()),
        ]));
    }
    let angles = (0..12_i32).map(|hour| {
        let name =
            if hour == 0 { "XII, 60".to_owned() } else { format!("{}, {}", numerals::roman(hour), hour * 5) };
        let mut row = vec![words(&name)];
        row.extend((0..5).map(|k| words(&format!("{}°", (hour * 5 + k) * 6))));
        Row::new(row)
    });
    let angles = angles.collect();
    vec![
        Block::Heading(1, "The dial".into()),
        Block::Facts(facts),
        Block::Heading(2, "Places".into()),
        ruled(
            vec![
                Column::share("what", 1.0),
                Column::auto("to the right").right(),
                Column::auto("upwards").right(),
                Column::auto("diameter").right(),
            ],
            rows,
        ),
        Block::Remark("From the dial's centre, seen from the front; behind the dial left and right change places.".into()),
        Block::Heading(2, "Angles of the divisions".into()),
        ruled(
            vec![
                Column::share("hour, minute", 1.0),
                Column::auto("the mark").right(),
                Column::auto("+ 1 min").right(),
                Column::auto("+ 2 min").right(),
                Column::auto("+ 3 min").right(),
                Column::auto("+ 4 min").right(),
            ],
            angles,
        ),
        Block::Remark("Clockwise from XII, each counted from the start and never from the mark before. Seconds: the same sixty angles about the seconds arbor. The chords check the dividing with dividers.".into()),
    ]
}
fn indication(of: &Contents<'_>, i: &IndicationDesign) -> Vec<Block> {
    let pairs: Vec<String> =
        i.facts.pairs.iter().map(|(a, b)| format!("{}/{}", b.shown(), a.shown())).collect();
    let text = |id: Id| Text::from(figures::shown(of.book, id, of.style()).as_str());
    let mut facts: Vec<(Text, Text)> = vec![
        ("pairs, driven over driver".into(), pairs.join(" × ").as_str().into()),
        ("one turn in".into(), text(i.turn.id())),
        ("shows a period of".into(), text(i.period.id())),
        ("the sky has".into(), text(i.truly.id())),
        ("too long by".into(), text(i.error.id())),
        ("turns".into(), if i.same_sense { "as what drives it" } else { "against what drives it" }.into()),
    ];
    if let Some(years) = i.years {
        facts.push(("out by a day after".into(), format!("{} years", years.shown()).as_str().into()));
    }
    let mut blocks = vec![Block::Heading(2, i.facts.name.as_str().into()), Block::Facts(facts)];
    blocks.extend(table(of, i.table));
    if let Some(c) = &i.cam {
        blocks.push(Block::Heading(3, "Equation of time".into()));
        blocks.extend(table(of, c.table));
        blocks.push(Block::Remark(
            "Plus: the sundial is ahead of the clock, and the follower is lifted. At noon of mean time."
                .into(),
        ));
    }
    blocks
}
