//! Where the power goes, as a stream: as wide as it is strong, each loss turning off downwards.

use crate::packet::drawn::{Drawn, WIDE};
use drafting::sketch::{Anchor, Mark, Pen, Sketch, Tone};
use kurbo::BezPath;

/// A loss.
pub(in crate::packet) struct Loss {
    /// What takes it.
    pub what: &'static str,
    /// How much, in watts.
    pub power: f64,
    /// Where the rest has come to behind it, if that has a name.
    pub then: Option<&'static str>,
}
/// Power that flows, with what is lost of it from first to last; the last takes all that is left.
pub(in crate::packet) struct Stream {
    /// Where it comes from.
    pub from: &'static str,
    /// Power at the source, in watts.
    pub given: f64,
    /// Losses.
    pub losses: Vec<Loss>,
}

/// Height of the stream at its source.
const HIGH: f64 = 40.0;
/// Part of the source below which a loss is not drawn.
const LEAST: f64 = 5e-4;
/// Inner radius of a bend.
const BEND: f64 = 4.0;
/// From one loss to the next, at least.
const APART: f64 = 27.0;
/// Where the first turns off.
const FIRST: f64 = 12.0;
/// How far losses fall below the stream.
const FALL: f64 = 14.0;
/// Height of the words under them.
const WORDS: f64 = 13.0;
/// Height of the words over the stream.
const HEAD: f64 = 10.0;
/// Part of a quarter turn's radius at which its curve is held.
const ROUND: f64 = 0.552_284_75;

/// The picture; none where nothing flows.
pub(in crate::packet) fn stream(s: &Stream) -> Option<Sketch> {
    let (last, losses) = s.losses.split_last()?;
    if s.given <= 0.0 {
        return None;
    }
    let k = HIGH / s.given;
    let top = WORDS + FALL + BEND + HIGH;
    let mut out = Drawn::default();
    let told = |l: &Loss| {
        format!("{} µW, {} %", figure(l.power * 1e6), reckon::print::fixed(l.power / s.given * 100.0, 1))
    };
    // One outline round trunk and branches.
    let mut path = BezPath::new();
    let mut bottom = top - HIGH;
    let foot = WORDS;
    path.move_to((0.0, top));
    path.line_to((0.0, bottom));
    let mut x = FIRST;
    let mut milestones: Vec<(f64, &str)> = vec![(1.0, s.from)];
    let shown = |l: &&Loss| l.power >= LEAST * s.given;
    for loss in losses.iter().filter(shown) {
        let w = loss.power.max(0.0) * k;
        path.line_to((x, bottom));
        turn_down(&mut path, (x, bottom), (x + BEND, bottom - BEND));
        path.line_to((x + BEND, foot));
        path.line_to((x + BEND + w, foot));
        path.line_to((x + BEND + w, bottom - BEND));
        let up = (x, bottom + w);
        turn_back(&mut path, (x + BEND + w, bottom - BEND), up);
        let middle = x + BEND + w / 2.0;
        for (i, line) in split(loss.what).into_iter().enumerate() {
            out.say((middle, foot - 3.4 - 2.9 * i as f64), Anchor::Middle, line);
        }
        out.stress((middle, 1.2), Anchor::Middle, told(loss));
        bottom += w;
        x += (BEND + w + 9.0).max(APART);
        if let Some(then) = loss.then {
            milestones.push((x - 8.0, then));
        }
    }
    // What is left goes on to the right, to an arrow's head.
    let right = (x + 8.0).min(WIDE - 8.0);
    let half = (top - bottom) / 2.0;
    path.line_to((right, bottom));
    path.line_to((right + 5.0, top - half));
    path.line_to((right, top));
    path.close_path();
    out.marks.push(Mark { path, pen: Some(Pen::Visible), fill: Tone::Light, hatch: false });
    for (x, text) in milestones {
        out.stress((x, top + 2.6), Anchor::Start, text);
    }
    out.say((right + 5.0, top + 5.8), Anchor::End, last.what);
    out.stress((right + 5.0, top + 2.6), Anchor::End, told(last));
    Some(out.done((WIDE, top + HEAD), "where the power goes"))
}
/// A quarter turn from going right to going down.
fn turn_down(path: &mut BezPath, from: (f64, f64), to: (f64, f64)) {
    let (dx, dy) = ((to.0 - from.0) * ROUND, (from.1 - to.1) * ROUND);
    path.curve_to((from.0 + dx, from.1), (to.0, to.1 + dy), to);
}
/// A quarter turn from going up to going left.
fn turn_back(path: &mut BezPath, from: (f64, f64), to: (f64, f64)) {
    let (dx, dy) = ((from.0 - to.0) * ROUND, (to.1 - from.1) * ROUND);
    path.curve_to((from.0, from.1 + dy), (to.0 + dx, to.1), to);
}
/// Words in lines of some twenty letters, at most three.
fn split(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split(' ') {
        let last = lines.len() - 1;
        if lines[last].is_empty() {
            lines[last] += word;
        } else if lines[last].chars().count() + 1 + word.chars().count() <= 18 || lines.len() == 3 {
            lines[last] += " ";
            lines[last] += word;
        } else {
            lines.push(word.to_owned());
        }
    }
    lines
}
fn figure(x: f64) -> String {
    reckon::print::significant(x, 3)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    fn loss(what: &'static str, power: f64) -> Loss {
        Loss { what, power, then: None }
    }

    #[test]
    fn area_of_each_branch_is_its_power() {
        // The straight part of a branch is as wide as its power; all widths together are the source's height.
        let s = Stream {
            from: "drive",
            given: 50e-6,
            losses: vec![
                loss("train", 18e-6),
                loss("free fall, landing and catching up", 7e-6),
                loss("air", 25e-6),
            ],
        };
        let sketch = stream(&s).expect("flows");
        let path = &sketch.marks[0].path;
        let at = |y: f64| -> f64 {
            // Width of metal at a height, by the crossings of the outline.
            let line = kurbo::Line::new((-10.0, y), (500.0, y));
            let mut xs: Vec<f64> = path
                .segments()
                .flat_map(|seg| seg.intersect_line(line))
                .map(|i| -10.0 + i.line_t * 510.0)
                .collect();
            xs.sort_by(f64::total_cmp);
            xs.chunks(2).map(|c| c[1] - c[0]).sum()
        };
        let below = at(WORDS + 2.0);
        assert!((below - HIGH * 25.0 / 50.0).abs() < 1e-6, "{below}");
        assert!(path.bounding_box().x1 <= WIDE && sketch.labels.iter().all(|l| l.at.x <= WIDE));
        assert!(sketch.labels.iter().any(|l| l.text == "18 µW, 36.0 %"));
    }
    #[test]
    fn nothing_flows_from_nothing() {
        assert!(stream(&Stream { from: "drive", given: 0.0, losses: vec![loss("air", 0.0)] }).is_none());
        assert!(stream(&Stream { from: "drive", given: 1.0, losses: Vec::new() }).is_none());
    }
    #[test]
    fn words_stand_in_short_lines() {
        assert_eq!(split("free fall, landing and catching up"), ["free fall, landing", "and catching up"]);
        assert_eq!(split("air"), ["air"]);
    }
}
