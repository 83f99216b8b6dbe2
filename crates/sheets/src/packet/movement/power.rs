//! The drive and the pendulum: what is given, what is lost, what disturbs the rate.

mod picture;
pub(super) mod room;

use crate::packet::{Contents, figures, operations};
use crate::{Block, Caution, Figure, Fit, Picture, Sheet, Text};
use ::movement::design::{DriveDesign, Movement, PendulumDesign};
use drafting::sketch::Sketch;
use reckon::{Id, Origin};

/// Its sheets and drawings; `number` gives each sheet its number.
pub(super) fn sheets(
    of: &Contents<'_>,
    m: &Movement,
    number: &mut dyn FnMut() -> String,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let mut all = Vec::new();
    if let Some(d) = &m.drive {
        let mut blocks = vec![Block::Heading(1, "The drive".into())];
        if !d.cautions.is_empty() {
            let lines = d.cautions.iter().map(|c| Text::from(c.as_str())).collect();
            blocks.push(Block::Caution(Caution { title: "Caution".to_owned(), lines }));
        }
        blocks.extend(large(d).map(Block::Figures));
        if let Some(view) = picture::run(d, m.pendulum.as_ref()) {
            drawings.push(("power-run".to_owned(), view.clone()));
            let caption = "Torque of the first arbor, and the arc from the middle to one side, through one winding. Grey: where the arc may lie; dashed: what the escapement needs.";
            blocks.push(Block::Picture(Picture { sketch: view, fit: Fit::True, caption: caption.into() }));
        }
        if let Some(margin) = &d.margin {
            blocks.push(Block::Heading(2, "From the drive to the pendulum".into()));
            blocks.extend(table(of, margin.table));
            blocks.push(Block::Remark("Every loss is a range, and so is the answer. Low: old oil, cold; high: everything at its best. Over need: against what the running arc takes.".into()));
        }
        let mut told = d.told.clone();
        told.extend(d.sway.iter().flat_map(|s| s.told.iter().copied()));
        blocks.push(Block::Heading(2, "The drive in numbers".into()));
        blocks.push(facts(of, &told));
        if d.sway.as_ref().is_some_and(|s| !s.told.is_empty()) {
            blocks.push(Block::Remark("In step: the weight on its line is then as long as the pendulum and may be stirred by it; watch the arc in those days.".into()));
        }
        if let Some(loads) = d.loads.and_then(|id| table(of, id)) {
            blocks.push(Block::Heading(2, "What the teeth bear".into()));
            blocks.push(loads);
        }
        if let Some(pivots) = of.book.find("drive.pivots").and_then(|(id, _)| table(of, id)) {
            blocks.push(Block::Heading(2, "What the pivots bear".into()));
            blocks.push(pivots);
        }
        if let Some(f) = &d.fusee {
            blocks.push(Block::Heading(2, "Profile of the fusee".into()));
            blocks.extend(table(of, f.profile));
            blocks.push(Block::Remark("From the large end. Turn the blank to the line of pull less half the chain where the groove shall be deepest; prove the torque with an adjusting rod: within 3 % over all turns, set-up first, profile after.".into()));
        }
        all.push(Sheet { title: "drive".to_owned(), part: String::new(), number: number(), blocks });
    }
    if let Some(p) = &m.pendulum {
        all.push(Sheet {
            title: "pendulum".to_owned(),
            part: String::new(),
            number: number(),
            blocks: pendulum(of, p),
        });
        let (blocks, pictures) = room::room(of, &p.weather);
        all.push(Sheet { title: "pendulum".to_owned(), part: String::new(), number: number(), blocks });
        drawings.extend(pictures);
    }
    all
}
fn pendulum(of: &Contents<'_>, p: &PendulumDesign) -> Vec<Block> {
    let mut blocks = vec![Block::Heading(1, "The pendulum".into())];
    let show = |id: Id| figures::shown(of.book, id, of.style());
    let mut figures = vec![
        Figure::new("bob's middle", show(p.hung.middle.id())).note("below the upper chop"),
        Figure::new("rod over all", show(p.hung.rod_length.id())),
    ];
    if let Some(n) = &p.nut {
        let turn = reckon::print::fixed(n.turn.bare().value(), 1);
        figures.push(Figure::new("a turn of the nut", format!("{turn} s/day")).note("bob up: gains"));
    }
    if let Some(s) = &p.suspension {
        figures.push(Figure::new("crutch's axis", show(s.pivot.id())).note("below the upper chop"));
    }
    blocks.push(Block::Figures(figures));
    blocks.push(facts(of, &p.told));
    blocks.push(Block::Heading(2, "What disturbs its rate".into()));
    blocks.extend(table(of, p.errors));
    blocks.push(Block::Remark("Seconds a day, + gains; worst first. The last lines are what one acts by. In a house: how much each changes, as is common.".into()));
    blocks.push(Block::Remark("Gravity is that of a model and departs from the ground's by some seconds a day: the nut takes that up. Moved to another place: brasswright ask pendulum.moved tells the change.".into()));
    blocks
}
pub(super) fn facts(of: &Contents<'_>, told: &[(&'static str, Id)]) -> Block {
    Block::Facts(
        told.iter()
            .map(|(what, id)| {
                // Plain numbers, such as rates, are known to few figures.
                let plain = of.book.line(*id).filter(|l| l.unit.is_empty()).and_then(|l| l.si);
                let shown = plain.map_or_else(
                    || figures::shown(of.book, *id, of.style()),
                    |x| reckon::print::significant(x, 4),
                );
                (Text::from(*what), Text::from(shown))
            })
            .collect(),
    )
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
fn large(d: &DriveDesign) -> Option<Vec<Figure>> {
    let last = d.margin.as_ref()?.moments.last()?;
    let arc = |a: reckon::Angle| reckon::print::fixed(a.in_deg(), 2);
    let times = |r: reckon::Ratio| reckon::print::fixed(r.value(), 2);
    Some(vec![
        Figure::new("arc that is kept up", format!("{}°", arc(last.arc.likely.bare()))).note(format!(
            "{}: {}° to {}°",
            last.what,
            arc(last.arc.low.bare()),
            arc(last.arc.high.bare())
        )),
        Figure::new("power, over its running arc's need", format!("× {}", times(last.margin.likely.bare())))
            .note(format!("{} to {}", times(last.margin.low.bare()), times(last.margin.high.bare()))),
        Figure::new("turns in the run", reckon::print::significant(d.turns.bare().value(), 4)).note(format!(
            "{} with what is in hand",
            reckon::print::significant(d.with_reserve.bare().value(), 4)
        )),
    ])
}
