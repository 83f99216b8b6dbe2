//! How the rate behaves: against the arc, and through the wind.

use super::table;
use crate::packet::Contents;
use crate::packet::chart::{Axis, Panel, chart, step};
use crate::{Block, Fit, Picture};
use ::going::forecast::arcs::{Arcs, AtArc};
use ::going::forecast::{Forecast, InWind};
use ::going::{End, Model};
use drafting::sketch::{Pen, Sketch};

/// Blocks of its sheet, and the picture of rate against arc.
pub(super) fn rate(of: &Contents<'_>, m: &Model, f: &Forecast, a: &Arcs) -> (Vec<Block>, Sketch) {
    let drawn = against_arc(a);
    let mut blocks = vec![
        Block::Heading(1, "How the rate behaves".into()),
        super::super::power::facts(of, &a.told),
        Block::Heading(2, "Against the arc".into()),
        Block::Picture(Picture {
            sketch: drawn.clone(),
            fit: Fit::True,
            caption: "Against a free swing of no arc, all through the middle of the run as it is likely, the torque changed. The ring: where it settles.".into(),
        }),
    ];
    blocks.extend(table(of, Some(a.table)));
    blocks.push(Block::Remark("The nut takes the whole up; only its changes show. By the drive: a weight or spring that pulls more, a train that frees itself. By less loss: less air, a better hung strip.".into()));
    if let Some(sketch) = through_the_wind(m, f) {
        blocks.push(Block::Heading(2, "Through the wind".into()));
        blocks.push(Block::Picture(Picture { sketch, fit: Fit::True, caption: WIND.into() }));
    }
    (blocks, drawn)
}
/// What stands under the picture of the wind.
pub(super) const WIND: &str = "As the torque falls. Line: as it is likely; grey: between stale oil on a cold day and everything at its best. Rates against one setting of the nut, that of the middle as it is likely.";

/// Arc and rate from winding to the end of the run; none where the torque is even.
pub(super) fn through_the_wind(m: &Model, f: &Forecast) -> Option<Sketch> {
    let likely = &f.curves[End::Likely.index()];
    if m.supply.even() || likely.len() < 3 {
        return None;
    }
    let days = m.run.bare().value() / 86_400.0;
    let panel = |says: &str, get: fn(&InWind) -> f64| {
        let over = |end: End| f.curves[end.index()].iter().map(|p| (p.over * days, get(p)));
        let values = End::ALL.into_iter().flat_map(|e| over(e).map(|p| p.1));
        let axis = Axis::around(says, values.collect::<Vec<_>>(), 4.0);
        // A band as far as both ends of the losses go.
        let band: Vec<(f64, f64, f64)> = over(End::Low)
            .zip(over(End::High))
            .take_while(|(a, b)| (a.0 - b.0).abs() < 1e-9)
            .map(|(a, b)| (a.0, a.1, b.1))
            .collect();
        let bands = if band.len() > 1 { vec![band] } else { Vec::new() };
        Panel { bands, ..Panel::new(axis, 34.0, over(End::Likely).collect()) }
    };
    let panels =
        [panel("arc, degrees", |p| p.arc.to_degrees()), panel("rate once regulated, s/day", |p| p.rate)];
    let across = Axis::from_to("days since winding", (0.0, days), step((days / 8.0).max(0.5)));
    Some(chart("arc and rate through the wind", &across, &panels))
}
/// Circular error, escapement error and both against the arc.
pub(super) fn against_arc(a: &Arcs) -> Sketch {
    let over = |get: fn(&AtArc) -> f64| -> Vec<(f64, f64)> {
        a.curve.iter().map(|p| (p.arc.to_degrees(), get(p))).collect()
    };
    let lines = [
        (Pen::Hidden, over(|p| p.circular), "circular"),
        (Pen::Centre, over(|p| p.escapement), "escapement"),
        (Pen::Visible, over(AtArc::together), "both"),
    ];
    let values = lines.iter().flat_map(|l| l.1.iter().map(|p| p.1)).chain([0.0]);
    let mut panel = Panel {
        axis: Axis::around("rate, s/day", values.collect::<Vec<_>>(), 5.0),
        height: 62.0,
        bands: Vec::new(),
        lines: Vec::new(),
        rings: Vec::new(),
    };
    panel.lines.extend(lines.map(|(pen, points, says)| (pen, points, says.to_owned())));
    let here = (a.here.arc.to_degrees(), a.here.together());
    let says = format!("{} s/day at {}°", reckon::print::signed(here.1, 2), reckon::print::fixed(here.0, 2));
    panel.rings.push((here.0, here.1, says));
    let arcs: Vec<f64> = a.curve.iter().map(|p| p.arc.to_degrees()).collect();
    let across = Axis::around("arc from the middle to one side, degrees", arcs, 6.0);
    chart("rate against the arc", &across, &[panel])
}
