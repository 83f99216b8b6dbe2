//! The plates in plan and in height, with the table of holes and what would touch.

mod height;
mod plan;

use crate::packet::{Contents, operations, templates};
use crate::{Block, Fit, Picture, Sheet, Typecase};
use ::movement::design::Movement;
use drafting::sketch::{Label, Mark, Pen, Ruler, Sketch, Tone};
use kurbo::{BezPath, Point, Rect, Shape};
use reckon::{Id, Origin};

/// Its sheets and drawings; `number` gives each sheet its number.
pub(super) fn sheets(
    of: &Contents<'_>,
    m: &Movement,
    number: &mut dyn FnMut() -> String,
    case: &Typecase,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let Some(d) = &m.plates else { return Vec::new() };
    let sheet =
        |number: String, blocks| Sheet { title: "plates".to_owned(), part: String::new(), number, blocks };
    let mut all = Vec::new();
    let picture = |sketch: Sketch, caption: &str| {
        Block::Picture(Picture { sketch, fit: Fit::True, caption: caption.into() })
    };
    let room = match of.clock.paper {
        record::facts::Paper::A4 => (176.0, 223.0),
        record::facts::Paper::Letter => (181.0, 200.0),
    };
    if let Some(view) = plan::plan(of, m, room, case) {
        drawings.push(("plates-plan".to_owned(), view.clone()));
        let caption = format!(
            "{}, seen from the dial. Chain lines: pitch circles and the pendulum's axis; thin lines: over the tips.",
            view.title
        );
        all.push(sheet(
            number(),
            vec![Block::Heading(1, "The plates in plan".into()), picture(view, &caption)],
        ));
    }
    let mut blocks = vec![Block::Heading(1, "The movement in height".into())];
    if let Some(view) = height::height(of, m, room.0, case) {
        drawings.push(("plates-height".to_owned(), view.clone()));
        let caption = format!(
            "{}; the arbors stand side by side in the order of the train, their widths drawn smaller alike. Heights from the inside of the back plate.",
            view.title
        );
        blocks.push(picture(view, &caption));
    }
    if let Some(gaps) = m.layout.gaps {
        blocks.push(Block::Heading(2, "What passes near".into()));
        blocks.extend(table(of, gaps));
        blocks.push(Block::Remark(
            "Pairs nearer than 3 mm to each other. They are clear of each other where either figure is as much as is wanted; a negative figure overlaps in that view.".into(),
        ));
    }
    all.push(sheet(number(), blocks));
    let mut blocks = vec![Block::Heading(1, "Holes of the plates".into())];
    blocks.extend(table(of, d.table));
    blocks.push(Block::Remark(
        "x and y: from the lower left corner, the plate upright and seen from the dial. Lying: the plate turned on its right side, so that its long edge lies along the table; the corner that was right below is now left below.".into(),
    ));
    blocks.push(Block::Heading(2, "From the dial's centre".into()));
    blocks.extend(table(of, d.polar));
    blocks.push(Block::Remark("Directions anticlockwise from the right, seen from the dial.".into()));
    blocks.push(Block::Heading(2, "Distances to measure".into()));
    blocks.extend(table(of, d.distances));
    blocks.push(Block::Remark(
        "Measure over two plugs that just enter; it is the distance of the centres and half of both plugs. Measure the first pair before the third hole is drilled.".into(),
    ));
    all.push(sheet(number(), blocks));
    if let Some(view) = plan::template(of, m, case) {
        let note = "Measure the bar first. Stick it on card, prick the centres and lay card wheels of these circles on pins: all must turn freely before brass is cut.";
        all.extend(templates::full_size(of, &view, "layout of the wheels", note, &number(), case));
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

/// A drawing being made, and the places that its words take.
struct Board<'a> {
    case: &'a Typecase,
    marks: Vec<Mark>,
    labels: Vec<Label>,
    taken: Vec<Rect>,
    size: f64,
}
impl<'a> Board<'a> {
    fn new(case: &'a Typecase) -> Board<'a> {
        Board {
            case,
            marks: Vec::new(),
            labels: Vec::new(),
            taken: Vec::new(),
            size: drafting::size::SEVEN_POINT,
        }
    }
    fn mark(&mut self, path: BezPath, pen: Pen, fill: Tone, hatch: bool) {
        self.marks.push(Mark { path, pen: Some(pen), fill, hatch });
    }
    fn circle(&mut self, at: Point, diameter: f64, pen: Pen) {
        if diameter > 0.0 {
            let path = kurbo::Circle::new(at, diameter / 2.0).to_path(0.002);
            self.mark(path, pen, Tone::None, false);
        }
    }
    fn line(&mut self, a: Point, b: Point, pen: Pen) {
        let mut path = BezPath::new();
        path.move_to(a);
        path.line_to(b);
        self.mark(path, pen, Tone::None, false);
    }
    fn rect(&mut self, r: Rect, pen: Pen, fill: Tone, hatch: bool) {
        self.mark(r.to_path(0.01), pen, fill, hatch);
    }
    fn wide(&self, text: &str, bold: bool) -> f64 {
        self.case.width(text, self.size, bold)
    }
    /// Words whose base line begins at a point, on white paper.
    fn say(&mut self, at: Point, text: &str, bold: bool) {
        let wide = self.wide(text, bold);
        let ground =
            Rect::new(at.x - 0.4, at.y - self.size * 0.26, at.x + wide + 0.4, at.y + self.size * 0.78);
        self.marks.push(Mark { path: ground.to_path(0.01), pen: None, fill: Tone::White, hatch: false });
        self.taken.push(ground);
        self.labels.push(Label {
            at,
            anchor: drafting::sketch::Anchor::Start,
            turn: 0.0,
            size: self.size,
            text: text.to_owned(),
            bold,
        });
    }
    /// Names something at a point, beside its circle, where nothing else is written.
    fn name(&mut self, at: Point, radius: f64, text: &str, within: Rect) {
        let (wide, high) = (self.wide(text, false) + 0.8, self.size * 1.04);
        let turns = [0.0, 0.7, -0.7, 1.6, -1.6, 2.4, -2.4, 3.1];
        for out in [0.6, 2.0, 4.0, 6.5, 9.5, 13.0, 17.0, 22.0, 28.0] {
            for turn in turns {
                let r = radius + out;
                let p = Point::new(at.x + r * reckon::maths::cos(turn), at.y + r * reckon::maths::sin(turn));
                let x = p.x - wide * f64::midpoint(1.0, -reckon::maths::cos(turn));
                let y = p.y - high * f64::midpoint(1.0, -reckon::maths::sin(turn));
                let ground = Rect::new(x, y, x + wide, y + high);
                let inside = ground.x0 >= within.x0
                    && ground.x1 <= within.x1
                    && ground.y0 >= within.y0
                    && ground.y1 <= within.y1;
                if inside && self.taken.iter().all(|t| t.intersect(ground).area() <= 0.0) {
                    if out > 3.0 {
                        let near =
                            Point::new(p.x.clamp(ground.x0, ground.x1), p.y.clamp(ground.y0, ground.y1));
                        self.line(at, near, Pen::Thin);
                    }
                    self.say(Point::new(x + 0.4, y + self.size * 0.26), text, false);
                    return;
                }
            }
        }
    }
    fn done(self, width: f64, height: f64, scale: (u32, u32), title: String) -> Sketch {
        Sketch { width, height, marks: self.marks, labels: self.labels, scale, title }
    }
}
