//! The drawing of a form tool: its edge enlarged with sizes and angles, and its silhouette at true size.

use crate::board::{ARROW, Board, Candidate, Kind};
use crate::compose::{GAP, MARGIN, Row, compose};
use crate::linear::{Leader, Linear, Sign};
use crate::scale;
use crate::size::{Paper, Text, Unplaced};
use crate::sketch::{Mark, Pen, Ruler, Sketch, Tone};
use crate::text::Block;
use crate::turned::{Job, heading, place_all};
use kurbo::{Affine, Point, Vec2};
use reckon::maths::{PI, cos, sin};
use shape::profile::{Profile, on_circle};

/// A size on an enlarged profile; places are millimetres of the profile.
#[derive(Clone, Debug, PartialEq)]
pub enum FormSize {
    /// A distance measured along x, or along y when upright.
    Between {
        /// One point.
        from: Point,
        /// The other.
        to: Point,
        /// Measured along y.
        upright: bool,
        /// What it says.
        text: Text,
    },
    /// An angle about a corner, counter-clockwise from one direction to the other (radians from +x).
    Angle {
        /// The corner.
        at: Point,
        /// Direction of the first side.
        from: f64,
        /// Direction of the second side.
        to: f64,
        /// What it says.
        text: Text,
    },
    /// A leader to a point: a radius, a remark; `out` is the direction away from the metal.
    Note {
        /// Where the arrow points.
        at: Point,
        /// Away from the metal.
        out: Vec2,
        /// What it says.
        text: Text,
    },
}

/// Draws a closed profile enlarged, and beside it solid at true size.
///
/// # Errors
/// [`Unplaced::NoRoom`] when at no scale everything fits without overlap.
pub fn draw(
    profile: &Profile,
    sizes: &[FormSize],
    paper: &Paper,
    ruler: &dyn Ruler,
) -> Result<Sketch, Unplaced> {
    let b = profile.bounds();
    let longest = b.width().max(b.height());
    let least = sizes.iter().filter_map(|s| match s {
        FormSize::Between { from, to, upright, .. } => {
            Some(if *upright { (to.y - from.y).abs() } else { (to.x - from.x).abs() })
        }
        _ => None,
    });
    let least = least.filter(|l| *l > 1e-9).fold(longest, f64::min);
    scale::first_that_fits(paper, longest, least, |paper, ratio| {
        at_scale(profile, sizes, paper, ratio, ruler)
    })
}

fn at_scale(
    profile: &Profile,
    sizes: &[FormSize],
    paper: &Paper,
    ratio: (u32, u32),
    ruler: &dyn Ruler,
) -> Result<Sketch, Unplaced> {
    let factor = f64::from(ratio.0) / f64::from(ratio.1);
    let no_room = |text: &str| Unplaced::NoRoom { text: text.to_owned(), scale: ratio };
    let block = |text: &Text| Block::new(text, paper.figures, false, ruler);
    let p = |q: Point| Point::new(q.x * factor, q.y * factor);

    let limit = (paper.width - 2.0 * MARGIN, paper.height - 2.0 * MARGIN);
    let mut true_size = Board::new(profile.bounds(), limit);
    true_size.marks.push(Mark { path: profile.to_path(0.001), pen: None, fill: Tone::Ink, hatch: false });
    heading(&mut true_size, "1:1", paper.figures, ruler);

    let large = profile.mapped(p);
    let mut board = Board::new(large.bounds(), limit);
    board.limit.0 -= true_size.bounds.width() + GAP;
    if !board.fits() {
        return Err(no_room(""));
    }
    board.face(large.to_path(0.01), Tone::Light, false);
    board.chain(&large, Pen::Visible);
    let mut jobs = Vec::new();
    for s in sizes {
        match s {
            FormSize::Between { from, to, upright, text } => {
                let (a, b) = (p(*from), p(*to));
                jobs.push(Job {
                    linear: Some(Linear {
                        upright: *upright,
                        high: Some((a, b, 0.0)),
                        low: Some((a, b, 0.3)),
                        block: block(text),
                    }),
                    leader: None,
                    ring: None,
                    text: text.nominal.clone(),
                });
            }
            FormSize::Note { at, out, text } => jobs.push(Job {
                linear: None,
                leader: Some(Leader {
                    tips: vec![(p(*at), *out)],
                    block: block(text),
                    sign: Sign::Plain,
                    cost: 0.0,
                }),
                ring: None,
                text: text.nominal.clone(),
            }),
            FormSize::Angle { at, from, to, text } => {
                if !board.place(angles(p(*at), *from, *to, &block(text))) {
                    return Err(no_room(&text.nominal));
                }
            }
        }
    }
    jobs.sort_by(|a, b| {
        let key = |j: &Job| j.linear.as_ref().map_or(f64::INFINITY, Linear::span);
        key(a).total_cmp(&key(b))
    });
    let board = place_all(&board, jobs, 7.5).map_err(|text| no_room(&text))?;
    // The silhouette stands level with the middle of the enlarged profile.
    let by = Vec2::new(0.0, board.body.center().y - true_size.body.center().y);
    for m in &mut true_size.marks {
        m.path = Affine::translate(by) * m.path.clone();
    }
    for l in &mut true_size.labels {
        l.at += by;
    }
    true_size.bounds = true_size.bounds + by;
    compose(&[Row { boards: vec![board, true_size] }], Vec::new(), paper, ratio).ok_or_else(|| no_room(""))
}

/// Ways of drawing an angle: its arc at several radii, the figures on the bisector beyond the arc.
fn angles(at: Point, from: f64, to: f64, block: &Block) -> Vec<Candidate> {
    let sweep = to - from;
    let middle = from + sweep / 2.0;
    let mut all = Vec::new();
    for step in 0..14 {
        let radius = 8.0 + 3.0 * f64::from(step);
        for (lean, beyond) in [(0.0, 1.0), (0.0, -1.0), (0.35, 1.0), (-0.35, 1.0), (0.7, 1.0), (-0.7, 1.0)] {
            let mut c =
                Candidate { cost: f64::from(step) * 2.0 + f64::abs(lean) * 8.0, ..Candidate::default() };
            let arc_length = sweep.abs() * radius;
            // Narrow angles have their arrows outside, pointing at each other.
            let outside = arc_length < 2.0 * ARROW + 2.0;
            let extra = if outside { (ARROW + 2.5) / radius } else { 0.0 };
            let start = on_circle(at, radius, from - extra);
            let arc = Profile::start(start.x, start.y).arc_about(at, sweep + 2.0 * extra);
            c.marks.push(Mark {
                path: arc.to_path(0.01),
                pen: Some(Pen::Thin),
                fill: Tone::None,
                hatch: false,
            });
            let points = arc.sampled(0.05);
            for w in points.windows(2) {
                c.strokes.push(crate::board::Stroke { a: w[0], b: w[1], kind: Kind::Size });
            }
            for (angle, side) in [(from, 1.0), (to, -1.0)] {
                let dir = Vec2::new(cos(angle), sin(angle));
                c.line(at + dir * 0.8, at + dir * (radius + 1.5), Kind::Extension);
                let along = Vec2::new(sin(angle), -cos(angle)) * side * if outside { -1.0 } else { 1.0 };
                // The chord of an arrowhead leaves the arc by half its angle.
                let tilt = ARROW / radius / 2.0 * side * if outside { -1.0 } else { 1.0 };
                let (s, k) = (sin(tilt), cos(tilt));
                let along = Vec2::new(along.x * k - along.y * s, along.x * s + along.y * k);
                c.arrow(on_circle(at, radius, angle), along);
            }
            let a = middle + lean * sweep;
            let dir = Vec2::new(cos(a), sin(a));
            let (w, h) = (block.width / 2.0, (block.up + block.ink_down) / 2.0);
            let clear = w * dir.x.abs() + h * dir.y.abs() + 0.9;
            let centre = at + dir * (radius + beyond * clear);
            let base = Point::new(centre.x - w, centre.y - (block.up - block.ink_down) / 2.0);
            c.text(block, base, false);
            all.push(c);
        }
    }
    debug_assert!(sweep.abs() <= 2.0 * PI, "an angle is at most a turn");
    all
}
