//! Torque and arc through one winding.

use crate::packet::chart::{Axis, Panel, chart, step};
use ::movement::design::{DriveDesign, PendulumDesign};
use drafting::sketch::{Pen, Sketch};

const PANEL: f64 = 34.0;

/// The picture; none where no arc is known.
pub(super) fn run(d: &DriveDesign, p: Option<&PendulumDesign>) -> Option<Sketch> {
    let margin = d.margin.as_ref()?;
    let days = d.run.bare().value() / 86_400.0;
    let n = margin.moments.len();
    // A weight and a fusee pull evenly; a barrel's places are start, middle and end.
    let shares: Vec<f64> = if n == 1 { vec![0.0, 1.0] } else { vec![0.0, 0.5, 1.0] };
    let arc = |i: usize| &margin.moments[i.min(n - 1)].arc;
    let torques: Vec<f64> = match &d.spring {
        Some(s) if d.fusee.is_none() => s.moments.iter().map(|(_, t)| t.bare().value() * 1e3).collect(),
        _ => vec![d.torque.bare().value() * 1e3; 2],
    };
    let needed = p.and_then(|p| p.arc_needed).map(|a| a.bare().in_deg());
    let over = |f: &dyn Fn(usize) -> f64| -> Vec<(f64, f64)> {
        shares.iter().enumerate().map(|(i, s)| (s * days, f(i))).collect()
    };
    let torque = over(&|i| torques[i.min(torques.len() - 1)]);
    let likely = over(&|i| arc(i).likely.bare().in_deg());
    let band = shares
        .iter()
        .enumerate()
        .map(|(i, s)| (s * days, arc(i).low.bare().in_deg(), arc(i).high.bare().in_deg()))
        .collect::<Vec<_>>();
    let from_nothing = |says: &str, most: &[f64]| Axis::around(says, most.iter().copied().chain([0.0]), 4.0);
    let upper = Panel::new(
        from_nothing("torque, N mm", &torque.iter().map(|t| t.1).collect::<Vec<_>>()),
        PANEL,
        torque,
    );
    let highest: Vec<f64> = band.iter().map(|b| b.2).chain(needed).collect();
    let mut lower = Panel::new(from_nothing("arc, degrees", &highest), PANEL, likely);
    lower.bands.push(band);
    lower.lines.extend(needed.map(|n| (Pen::Hidden, vec![(0.0, n), (days, n)], String::new())));
    let whole = days.floor().clamp(1.0, 60.0);
    let across = Axis::from_to("days since winding", (0.0, days), step((whole / 8.0).max(1.0)));
    Some(chart("torque and arc through one winding", &across, &[upper, lower]))
}
