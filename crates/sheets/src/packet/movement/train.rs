//! The train in numbers: counts, turns, teeth, depths.

use crate::packet::{Contents, figures};
use crate::table::{Column, Row};
use crate::{Block, Cell, Ruling, Sheet, Table, Text, Typecase};
use ::movement::design::{Mesh, Movement};
use drafting::sketch::Sketch;
use reckon::Id;

fn words(text: &str) -> Cell {
    Cell::from(Text::from(text))
}
fn table(columns: Vec<Column>, rows: Vec<Row>) -> Block {
    Block::Table(Table { columns, rows, ruling: Ruling::Rules, size: 8.5 })
}
/// Its sheets and drawings; `number` gives each sheet its number.
pub(super) fn sheets(
    of: &Contents<'_>,
    m: &Movement,
    number: &mut dyn FnMut() -> String,
    case: &Typecase,
    drawings: &mut Vec<(String, Sketch)>,
) -> Vec<Sheet> {
    let _ = (case, drawings);
    if m.train.arbors.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Heading(1, "The train".into())];
    blocks.extend(arbors(of, m));
    blocks.extend(pairs(of, m));
    blocks.extend(depths(of, m));
    blocks.push(Block::Remark(
        "Any number here tells how it was had: brasswright why NAME.turn, NAME.wheel.outside, NAME.wheel.contact.start".into(),
    ));
    vec![Sheet { title: "train".to_owned(), part: String::new(), number: number(), blocks }]
}
fn shown(of: &Contents<'_>, id: Option<Id>) -> Cell {
    words(&id.map_or_else(String::new, |id| figures::shown(of.book, id, of.style())))
}
fn arbors(of: &Contents<'_>, m: &Movement) -> Vec<Block> {
    let t = &m.train;
    let rows = t.arbors.iter().enumerate().map(|(i, a)| {
        let wheel = a.facts.wheel.as_ref().map_or_else(String::new, |w| w.teeth.bare().0.to_string());
        let leaves = a.facts.pinion.as_ref().map_or_else(String::new, |p| p.leaves.bare().0.to_string());
        let sense = match a.clockwise {
            Some(true) if a.turn.is_some() => "clockwise",
            Some(false) if a.turn.is_some() => "anticlockwise",
            _ => "",
        };
        let stand = m.layout.stands[i];
        Row::new([
            words(&a.facts.name),
            words(&leaves),
            words(&wheel),
            words(&a.turn.map_or_else(String::new, |t| t.shown())),
            words(sense),
            shown(of, stand.map(|s| s.x.id())),
            shown(of, stand.map(|s| s.y.id())),
        ])
    });
    let mut blocks = Vec::new();
    if let Some(beats) = t.beats {
        let beat = t.beat.map_or_else(String::new, |b| b.shown());
        blocks.push(Block::Para(
            format!("{} beats an hour, one every {beat}. Seen from the dial; x to the right and y upwards from the dial's centre.", beats.shown()).into(),
        ));
    }
    blocks.push(table(
        vec![
            Column::auto("arbor"),
            Column::auto("leaves").right(),
            Column::auto("teeth").right(),
            Column::auto("turns in").right(),
            Column::auto("sense"),
            Column::auto("x").right(),
            Column::auto("y").right(),
        ],
        rows.collect(),
    ));
    blocks
}
fn name(m: &Movement, mesh: &Mesh) -> String {
    let driver = &m.train.arbors[mesh.driver].facts.name;
    match mesh.driven {
        Some(d) => format!("{driver} → {}", m.train.arbors[d].facts.name),
        None => format!("{driver} → its pinion"),
    }
}
fn pairs(of: &Contents<'_>, m: &Movement) -> Vec<Block> {
    let rows: Vec<Row> = m
        .train
        .meshes
        .iter()
        .filter_map(|mesh| {
            let s = mesh.sizes.as_ref()?;
            Some(Row::new([
                words(&name(m, mesh)),
                words(&format!("{} : {}", mesh.teeth.bare().0, mesh.leaves.bare().0)),
                shown(of, Some(s.module.id())),
                shown(of, Some(s.wheel.outside.id())),
                shown(of, Some(s.wheel.root.id())),
                shown(of, Some(s.wheel.depth.id())),
                shown(of, Some(s.pinion.outside.id())),
                shown(of, Some(s.pinion.root.id())),
            ]))
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    vec![
        Block::Heading(2, "Teeth".into()),
        table(
            vec![
                Column::share("pair", 1.0),
                Column::auto("counts"),
                Column::auto("module").right(),
                Column::auto("wheel over tips").right(),
                Column::auto("at roots").right(),
                Column::auto("depth of cut").right(),
                Column::auto("pinion over tips").right(),
                Column::auto("at roots").right(),
            ],
            rows,
        ),
        Block::Remark("The depth of cut holds for a blank of exactly the outside given; of another blank, cut to the root.".into()),
    ]
}
fn depths(of: &Contents<'_>, m: &Movement) -> Vec<Block> {
    let rows: Vec<Row> = m
        .train
        .meshes
        .iter()
        .filter_map(|mesh| {
            let s = mesh.sizes.as_ref()?;
            let c = s.contact?;
            Some(Row::new([
                words(&name(m, mesh)),
                shown(of, Some(mesh.laid.unwrap_or(s.centres).id())),
                shown(of, Some(c.set.id())),
                shown(of, Some(c.runs.0.id())),
                shown(of, Some(c.runs.1.id())),
                words(&c.start.shown()),
                words(&c.error.shown()),
                words(&c.efficiency.shown()),
                words(c.says),
            ]))
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    vec![
        Block::Heading(2, "Depths".into()),
        table(
            vec![
                Column::share("pair", 1.0),
                Column::auto("drawn at").right(),
                Column::auto("runs best at").right(),
                Column::auto("nearest").right(),
                Column::auto("farthest").right(),
                Column::auto("takes over").right(),
                Column::auto("uneven by").right(),
                Column::auto("passes on").right(),
                Column::share("at the bench", 1.4),
            ],
            rows,
        ),
        Block::Remark("Takes over: turn of the wheel from the line of centres, negative before it. Uneven by: the pinion's error of place over a pitch. A depthing tool finds the best distance of the pair as cut; plant by it.".into()),
    ]
}
