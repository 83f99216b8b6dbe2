//! What each size does to rate and arc, told.

use crate::look::{Paint, columns};
use going::forecast::by_size::BySize;
use serde_json::{Value, json};

/// A line for each size.
pub(super) fn said(sizes: Option<&BySize>, paint: Paint) -> String {
    let Some(sizes) = sizes else { return String::new() };
    let mut rows = vec![["", "by", "rate, s/day", "arc"].map(str::to_owned).to_vec()];
    for l in &sizes.leans {
        rows.push(vec![format!("  {}", l.what), l.by.clone(), l.rate(), l.arc()]);
    }
    let mut out =
        String::from("\nWhat each size does, larger alone, as it is likely in the middle of the run\n");
    for (i, line) in columns(&rows, 0).lines().enumerate() {
        out += &if i == 0 { paint.faint(line) } else { line.to_owned() };
        out.push('\n');
    }
    out
}
/// The same as JSON.
pub(super) fn as_json(sizes: Option<&BySize>, book: &reckon::Book) -> Value {
    let all: Vec<Value> = sizes
        .iter()
        .flat_map(|s| &s.leans)
        .map(|l| {
            let step = book.line(l.step);
            json!({
                "larger": l.what, "by": l.by, "by_si": step.and_then(|s| s.si), "unit": step.map(|s| s.unit),
                "rate_s_per_day": l.does.map(|d| d.0.bare().value()), "arc_degrees": l.does.map(|d| d.1.bare().in_deg()),
            })
        })
        .collect();
    Value::Array(all)
}
