//! The trace: how late each beat came, over time, tick and tock apart. SVG of our own, no font needed but
//! what the viewer has.

use crate::heard::Heard;
use crate::verdict::Trust;
use reckon::print::{fixed, significant};
use std::fmt::Write as _;

/// Size of the picture, and of its frame: left, top, right, bottom.
const SIZE: (f64, f64) = (1_000.0, 460.0);
const FRAME: (f64, f64, f64, f64) = (84.0, 92.0, 976.0, 400.0);
/// Points that are drawn one by one; more are drawn thinner.
const MANY: usize = 4_000;

const STYLE: &str = "\
svg{background:#fffdf7;color:#16181a}text{font:15px sans-serif;fill:#16181a}.s{fill:#57544c;font-size:13px}\
.h{font-size:20px;font-weight:bold}.l{stroke:#c9c2b2;fill:none}.z{stroke:#57544c;fill:none}.a{fill:#33566f}\
.b{fill:none;stroke:#8d6a18;stroke-width:1.5}.x{fill:#99211a;opacity:.16}.m{stroke:#99211a;stroke-width:1.5}\
@media (prefers-color-scheme:dark){svg{background:#181b1d}text{fill:#f4f0e6}.s{fill:#b4afa3}.l{stroke:#43464a}\
.z{stroke:#b4afa3}.a{fill:#9cc4df}.b{stroke:#e6c26d}.x{fill:#ffa093}.m{stroke:#ffa093}}";

/// Draws what was heard.
#[must_use]
pub fn picture(heard: &Heard, title: &str) -> String {
    let (w, h) = SIZE;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" role=\"img\"><title>{}</title>\
         <style>{STYLE}</style>",
        escaped(title)
    );
    text(&mut out, (FRAME.0, 32.0), "h", "start", title);
    text(&mut out, (FRAME.0, 56.0), "", "start", &said(heard));
    match &heard.beat {
        Some(beat) if !beat.trace.is_empty() => trace(&mut out, heard, beat),
        _ => text(&mut out, (w / 2.0, h / 2.0), "", "middle", "there is no beat to draw"),
    }
    out.push_str("</svg>\n");
    out
}
fn said(heard: &Heard) -> String {
    let Some(b) = heard.beat.as_ref().filter(|_| heard.verdict.trust == Trust::Sure) else {
        return heard.verdict.says.clone();
    };
    let rate = b.rate.map_or_else(String::new, |r| {
        let sign = if r.value > 0.0 { "+" } else { "" };
        format!("{sign}{} s/day ± {}", significant(r.value, 4), significant(r.within(), 2))
    });
    let error = b
        .beat_error
        .map_or_else(String::new, |(e, _)| format!(", beat error {} ms", fixed(e.abs() * 1e3, 2)));
    format!(
        "{rate}{error}, scatter {} ms, {} of {} beats",
        significant(b.line.scatter * 1e3, 2),
        b.heard,
        b.due
    )
}
fn trace(out: &mut String, heard: &Heard, beat: &crate::heard::Beat) {
    let (left, top, right, bottom) = FRAME;
    let mut late: Vec<f64> = beat.trace.iter().map(|p| p.1 * 1e3).collect();
    late.sort_by(f64::total_cmp);
    // The outermost two in a hundred may lie beyond: they are drawn at the edge.
    let at = |part: f64| late[((late.len() - 1) as f64 * part).round() as usize];
    let (low, high) = (at(0.01), at(0.99));
    let margin = (0.15 * (high - low)).max(0.02);
    let (low, high) = ((low - margin).min(-margin), (high + margin).max(margin));
    let x = |t: f64| left + (right - left) * (t / heard.seconds.max(1e-9)).clamp(0.0, 1.0);
    let y = |ms: f64| bottom - (bottom - top) * ((ms - low) / (high - low)).clamp(0.0, 1.0);
    for v in steps(low, high, 6) {
        line(out, "l", (left, y(v)), (right, y(v)));
        text(out, (left - 8.0, y(v) + 5.0), "s", "end", &significant(v, 4));
    }
    let unit = if heard.seconds > 600.0 { (60.0, "min") } else { (1.0, "s") };
    for v in steps(0.0, heard.seconds / unit.0, 9) {
        line(out, "l", (x(v * unit.0), bottom), (x(v * unit.0), bottom + 6.0));
        text(out, (x(v * unit.0), bottom + 24.0), "s", "middle", &significant(v, 5));
    }
    line(out, "z", (left, y(0.0)), (right, y(0.0)));
    for (from, to) in &beat.others.silent {
        let _ = write!(
            out,
            "<rect class=\"x\" x=\"{}\" y=\"{top}\" width=\"{}\" height=\"{}\"><title>no beat</title></rect>",
            fixed(x(*from), 1),
            fixed(x(*to) - x(*from), 1),
            bottom - top
        );
    }
    for (t, _) in beat.others.missing.iter().take(crate::others::TOLD) {
        line(out, "m", (x(*t), bottom - 8.0), (x(*t), bottom));
    }
    let size = if beat.trace.len() > MANY { 0.8 } else { 2.0 };
    // Ticks as discs in one path, tocks as rings in another, so that an hour stays small.
    for (tick, class) in [(true, "a"), (false, "b")] {
        let _ = write!(out, "<path class=\"{class}\" d=\"");
        for (t, r, own) in &beat.trace {
            if *own == tick {
                let (cx, cy) = (fixed(x(*t) - size, 1), fixed(y(r * 1e3), 1));
                let d = 2.0 * size;
                let _ = write!(out, "M{cx} {cy}a{size} {size} 0 1 0 {d} 0a{size} {size} 0 1 0 -{d} 0");
            }
        }
        out.push_str("\"/>");
    }
    text(out, (left, 80.0), "s", "start", "late, ms");
    let _ = write!(out, "<circle class=\"a\" cx=\"{}\" cy=\"75\" r=\"4\"/>", right - 150.0);
    text(out, (right - 140.0, 80.0), "s", "start", "tick");
    let _ = write!(out, "<circle class=\"b\" cx=\"{}\" cy=\"75\" r=\"4\"/>", right - 90.0);
    text(out, (right - 80.0, 80.0), "s", "start", "tock");
    text(out, (right, bottom + 46.0), "s", "end", if unit.0 > 1.0 { "minutes" } else { "seconds" });
}
/// Round numbers between two, some `n` of them.
fn steps(low: f64, high: f64, n: usize) -> Vec<f64> {
    let rough = (high - low).max(1e-9) / n as f64;
    let mut step = 1e-9;
    while step * 10.0 <= rough {
        step *= 10.0;
    }
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|f| f * step).find(|s| *s >= rough).unwrap_or(rough);
    let first = (low / step).ceil() as i64;
    (first..).map(|i| i as f64 * step).take_while(|v| *v <= high + 1e-9).take(4 * n).collect()
}
fn line(out: &mut String, class: &str, a: (f64, f64), b: (f64, f64)) {
    let (x1, y1, x2, y2) = (fixed(a.0, 1), fixed(a.1, 1), fixed(b.0, 1), fixed(b.1, 1));
    let _ = write!(out, "<path class=\"{class}\" d=\"M{x1} {y1}L{x2} {y2}\"/>");
}
fn text(out: &mut String, at: (f64, f64), class: &str, anchor: &str, says: &str) {
    let _ = write!(
        out,
        "<text class=\"{class}\" x=\"{}\" y=\"{}\" text-anchor=\"{anchor}\">{}</text>",
        fixed(at.0, 1),
        fixed(at.1, 1),
        escaped(says)
    );
}
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn round_numbers() {
        assert_eq!(steps(0.0, 60.0, 9), [0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0]);
        assert_eq!(steps(-0.5, 0.5, 5), [-0.4, -0.2, 0.0, 0.2, 0.4]);
    }
}
