//! The sheet of a form tool that has to be made first: its edge enlarged, and at true size.

mod overlay;

use super::{Contents, operations};
use crate::{Block, Fit, Picture, Sheet, Text, Typecase};
use drafting::form::FormSize;
use drafting::size::{Paper, Unplaced};
use drafting::sketch::Sketch;
use kurbo::{Point, Vec2};
use making::plan::teeth::End;
use making::plan::{Edge, ShopTool, ToolDrawing, ToothEdge};
use reckon::print::{fixed, trimmed};
use record::facts::GrooveForm;
use shape::profile::{Profile, Segment, Sense};

/// Length of shank that is drawn behind the tongue, millimetres.
const SHANK: f64 = 2.0;

/// The edge seen from above: x across, towards the outer wall; y towards the work, the tip at 0.
fn edge(t: &ToolDrawing) -> Profile {
    let (half, reach) = (t.width / 2.0, t.reach);
    let body = half + 1.5;
    let start = Profile::start(-body, -reach - SHANK)
        .line(body, -reach - SHANK)
        .line(body, -reach)
        .line(half, -reach);
    let tip = match (t.form, t.nose) {
        (GrooveForm::Vee, _) => {
            // The flanks run on past the face, as wide as they come.
            let wide = half * reach / t.depth;
            return Profile::start(-body - wide, -reach - SHANK)
                .line(body + wide, -reach - SHANK)
                .line(body + wide, -reach)
                .line(wide, -reach)
                .line(0.0, 0.0)
                .line(-wide, -reach)
                .line(-body - wide, -reach)
                .close();
        }
        (_, Some(nose)) => {
            let sag = nose - (nose * nose - half * half).max(0.0).sqrt();
            let shoulder = start.line(half, -sag);
            let bare = shoulder.clone().line(-half, -sag);
            shoulder.round_to(-half, -sag, nose, Sense::Left).unwrap_or(bare)
        }
        _ => start.line(half, 0.0).line(-half, 0.0),
    };
    tip.line(-half, -reach).line(-body, -reach).close()
}
fn sizes(of: &Contents<'_>, t: &ToolDrawing) -> Vec<FormSize> {
    let style = of.style();
    let mm = |x: f64| style.number(reckon::Length::mm(x));
    let degrees = |x: f64| format!("{}°", trimmed(&fixed(x, 1)));
    let half = t.width / 2.0;
    // A vee has its width where the face is; the others all along.
    let across = if t.form == GrooveForm::Vee { t.depth } else { t.reach * 0.7 };
    let side = if t.form == GrooveForm::Vee { half * (t.reach * 0.5) / t.depth } else { half };
    let mut sizes = vec![
        FormSize::Between {
            from: Point::new(-half, -across),
            to: Point::new(half, -across),
            upright: false,
            text: mm(t.width).into(),
        },
        FormSize::Between {
            from: Point::new(-half, -t.reach),
            to: Point::new(-half, 0.0),
            upright: true,
            text: mm(t.reach).into(),
        },
        FormSize::Note {
            at: Point::new(side, -t.reach * 0.5),
            out: Vec2::new(1.0, 0.3),
            text: format!("outer side relief {}", degrees(t.outer_relief)).into(),
        },
        FormSize::Note {
            at: Point::new(0.0, 0.0),
            out: Vec2::new(0.3, 1.0),
            text: format!("end clearance {}", degrees(t.end_clearance)).into(),
        },
    ];
    if let Some(nose) = t.nose {
        sizes.push(FormSize::Note {
            at: Point::new(-half * 0.5, -(nose - (nose * nose - half * half * 0.25).max(0.0).sqrt())),
            out: Vec2::new(-0.6, 1.0),
            text: format!("R{}", mm(nose)).into(),
        });
    }
    sizes
}

/// A cutter for teeth seen on its top face, as [`edge`] has it: the tip at 0, the work above.
fn tooth_edge(t: &ToothEdge) -> Profile {
    let s = &t.section;
    let shank = s.depth * 0.4 + 0.3;
    // The chain begins and ends at the two tips of the teeth; the tool goes on straight behind them.
    let over = |p: Point| Point::new(-p.x, -p.y);
    let points = s.profile.mapped(over);
    let chain = points.segments();
    let begin = points.begin();
    let mut p = Profile::start(begin.x, begin.y);
    for g in chain.iter().take(chain.len().saturating_sub(1)) {
        p = match *g {
            Segment::Line { to, .. } => p.line(to.x, to.y),
            Segment::Arc { to, centre, sense, .. } => p.arc_to(to, centre, sense),
        };
    }
    let last = p.end();
    p.line(last.x, last.y - shank).line(begin.x, begin.y - shank).close()
}
fn tooth_sizes(of: &Contents<'_>, t: &ToothEdge) -> Vec<FormSize> {
    let style = of.style();
    let mm = |x: f64| style.number(reckon::Length::mm(x));
    let s = &t.section;
    let half = s.mouth / 2.0;
    let mut sizes = vec![FormSize::Between {
        from: Point::new(-half, -s.depth),
        to: Point::new(0.0, 0.0),
        upright: true,
        text: mm(s.depth).into(),
    }];
    if let Some((height, width)) = s.pitch {
        sizes.push(FormSize::Between {
            from: Point::new(-width / 2.0, -height),
            to: Point::new(width / 2.0, -height),
            upright: false,
            text: mm(width).into(),
        });
        sizes.push(FormSize::Between {
            from: Point::new(width / 2.0, -height),
            to: Point::new(0.0, 0.0),
            upright: true,
            text: mm(height).into(),
        });
    }
    match s.end {
        End::Flat(width) if width > 1e-3 => sizes.push(FormSize::Between {
            from: Point::new(-width / 2.0, 0.0),
            to: Point::new(width / 2.0, 0.0),
            upright: false,
            text: mm(width).into(),
        }),
        End::Flat(_) => {}
        End::Round(r) => sizes.push(FormSize::Note {
            at: Point::new(0.0, 0.0),
            out: Vec2::new(-0.3, 1.0),
            text: format!("R{}", mm(r)).into(),
        }),
    }
    if let (Some(r), Some((height, _))) = (s.cheek, s.pitch) {
        let y = -f64::midpoint(height, s.depth);
        let side = tooth_edge(t)
            .sampled(0.001)
            .iter()
            .filter(|p| p.x > 0.0)
            .min_by(|a, b| (a.y - y).abs().total_cmp(&(b.y - y).abs()))
            .map_or(Point::new(half, y), |p| *p);
        sizes.push(FormSize::Note { at: side, out: Vec2::new(1.0, 0.2), text: format!("R{}", mm(r)).into() });
    }
    sizes
}
/// The sheet and the drawing of a shop-made tool.
pub(super) fn sheet(
    of: &Contents<'_>,
    tool: &ShopTool,
    number: &str,
    case: &Typecase,
) -> Result<(Sheet, Sketch), Unplaced> {
    let paper = Paper::new(&tool.name, 150.0, 74.0);
    let (profile, told, caption) = match &tool.drawing {
        Edge::Groove(d) => (
            edge(d),
            sizes(of, d),
            "the cutting edge from above; beside it in black at true size, to lay the tool on",
        ),
        Edge::Tooth(d) => (
            tooth_edge(d),
            tooth_sizes(of, d),
            "the cutting edge on its flat top; beside it in black at true size",
        ),
    };
    let sketch = drafting::form::draw(&profile, &told, &paper, case)?;
    let mut facts: Vec<(Text, Text)> = vec![
        ("made for".into(), tool.for_parts.join(", ").into()),
        ("from".into(), super::figures::sentence(&tool.blank, of.style()).into()),
    ];
    match &tool.drawing {
        Edge::Groove(d) => {
            let inner = if d.nose.is_some() {
                if d.outer_relief == 0.0 { "straight down" } else { "the same all round the nose" }.to_owned()
            } else {
                format!("{}° is enough", trimmed(&fixed(d.inner_relief, 1)))
            };
            facts.extend([
                ("ground on".into(), "grinder, in the angle jig or against a hand rest".into()),
                ("top".into(), "flat, no rake".into()),
                ("inner side".into(), inner.into()),
                (
                    "stand in the groove".into(),
                    format!("no more than {} mm below the edge", trimmed(&fixed(d.height, 2))).into(),
                ),
            ]);
        }
        Edge::Tooth(d) => facts.extend([
            ("form".into(), super::figures::sentence(&d.form, of.style()).into()),
            ("top".into(), "flat, no rake".into()),
            (
                "relief".into(),
                format!(
                    "sides {}° each, end {}°, tongue {} mm high under the edge",
                    trimmed(&fixed(d.side, 1)),
                    trimmed(&fixed(d.relief, 1)),
                    fixed(d.height, 2)
                )
                .into(),
            ),
        ]),
    }
    facts.push(("why".into(), Text::from(format!("{}.*", tool.slug).as_str())));
    let mut blocks = vec![
        Block::Heading(1, tool.name.as_str().into()),
        Block::Picture(Picture { sketch: sketch.clone(), fit: Fit::True, caption: caption.into() }),
        Block::Facts(facts),
    ];
    if let Edge::Tooth(d) = &tool.drawing {
        let (sketch, times) = overlay::overlay(&profile, &d.section, case);
        blocks.push(Block::Picture(Picture {
            sketch,
            fit: Fit::True,
            caption: format!(
                "the true outline, {times} times enlarged, to lay the cutter's shadow or picture on; measure the bar first"
            )
            .as_str()
            .into(),
        }));
    }
    let mut warned = std::collections::BTreeSet::new();
    for (i, op) in tool.operations.iter().enumerate() {
        blocks.push(operations::block(of, op, &tool.slug, i + 1, &mut warned));
    }
    let sheet = Sheet {
        title: "tool to make first".to_owned(),
        part: tool.name.clone(),
        number: number.to_owned(),
        blocks,
    };
    Ok((sheet, sketch))
}
