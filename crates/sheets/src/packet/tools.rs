//! The sheet of a form tool that has to be made first: its edge enlarged, and at true size.

use super::{Contents, operations};
use crate::{Block, Fit, Picture, Sheet, Text, Typecase};
use drafting::form::FormSize;
use drafting::size::{Paper, Unplaced};
use drafting::sketch::Sketch;
use kurbo::{Point, Vec2};
use making::plan::{ShopTool, ToolDrawing};
use reckon::print::{fixed, trimmed};
use record::facts::GrooveForm;
use shape::profile::{Profile, Sense};

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

/// The sheet and the drawing of a shop-made tool.
pub(super) fn sheet(
    of: &Contents<'_>,
    tool: &ShopTool,
    number: &str,
    case: &Typecase,
) -> Result<(Sheet, Sketch), Unplaced> {
    let paper = Paper::new(&tool.name, 150.0, 74.0);
    let sketch = drafting::form::draw(&edge(&tool.drawing), &sizes(of, &tool.drawing), &paper, case)?;
    let inner = if tool.drawing.nose.is_some() {
        if tool.drawing.outer_relief == 0.0 { "straight down" } else { "the same all round the nose" }
            .to_owned()
    } else {
        format!("{}° is enough", trimmed(&fixed(tool.drawing.inner_relief, 1)))
    };
    let facts: Vec<(Text, Text)> = vec![
        ("made for".into(), tool.for_parts.join(", ").into()),
        ("from".into(), super::figures::sentence(&tool.blank, of.style()).into()),
        ("ground on".into(), "grinder, in the angle jig or against a hand rest".into()),
        ("top".into(), "flat, no rake".into()),
        ("inner side".into(), inner.into()),
        (
            "stand in the groove".into(),
            format!("no more than {} mm below the edge", trimmed(&fixed(tool.drawing.height, 2))).into(),
        ),
        ("why".into(), Text::from(format!("{}.*", tool.slug).as_str())),
    ];
    let mut blocks = vec![
        Block::Heading(1, tool.name.as_str().into()),
        Block::Picture(Picture {
            sketch: sketch.clone(),
            fit: Fit::True,
            caption: "the cutting edge from above; beside it in black at true size, to lay the tool on"
                .into(),
        }),
        Block::Facts(facts),
    ];
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
