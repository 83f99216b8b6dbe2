//! An answer as the terminal shows it, and as other programs read it.

use super::typed::{Answer, Weight};
use crate::look::{Paint, clean, counted, painted};
use serde_json::{Value, json};

/// Lines of what moved that are shown where all are not asked for.
const SHOWN: usize = 24;

/// For a reader.
#[must_use]
pub fn text(a: &Answer, all: bool, paint: Paint) -> String {
    let mut out = String::new();
    if let Some(r) = &a.reading {
        let mut line = format!("{} = {}", clean(&r.name), paint.strong(&r.value));
        if let Some(u) = &r.give_or_take {
            line += &format!(" ± {u}");
        }
        if let Some(w) = &r.warmth {
            line += &format!(" (at 20 °C: {w})");
        }
        line += &format!("; wanted {}", r.wanted);
        if let Some((least, most)) = &r.limits {
            line += &format!(", from {least} to {most}");
        }
        line += &match r.within {
            Some(true) => ": within".to_owned(),
            Some(false) => format!(": outside, {} off", r.off),
            None => format!(", {} off", r.off),
        };
        out += &line;
        out.push('\n');
    }
    for t in &a.told {
        out += &format!("{}\n", clean(t));
    }
    match &a.kept {
        Some(e) if a.again => {
            out += &format!("entry {}: it was there already, nothing was added\n", e.number);
        }
        Some(e) => out += &format!("entry {}: kept\n", e.number),
        None => {
            for q in &a.asks {
                out += &format!("{}\n", clean(&q.says));
            }
            out += if a.asks.iter().any(|q| q.refuses) {
                "Nothing was entered.\n"
            } else {
                "Nothing was entered. If it is so, say it again with --sure.\n"
            };
            return out;
        }
    }
    if let Some(s) = &a.sheet {
        out += &format!("sheet {}: {}\n", clean(&s.number), clean(&s.says));
        let rows: Vec<Vec<String>> = s
            .changed
            .iter()
            .take(if s.holds { 0 } else { 10 })
            .map(|(n, a, b)| vec![clean(n), clean(a), "→".to_owned(), clean(b)])
            .collect();
        out += &painted(&rows, 2, |_, cell| cell.to_owned());
    }
    if let Some(t) = &a.thread {
        out += &format!("thread: {}\n", paint.strong(&t.stands));
        if let Some(advance) = &t.advance {
            let n = t.passes.len();
            let each = t.passes.first().map_or(String::new(), |p| {
                format!("{} of {p}", counted(n, "pass").replace("passs", "passes"))
            });
            out += &format!("  {} to go ± {}: {each}", paint.strong(advance), t.doubt);
            out += if n > 1 { "; measure again before the last\n" } else { "\n" };
        }
        for (i, c) in t.over_cut.iter().enumerate() {
            out += &format!("  {}. {}\n", i + 1, clean(c));
        }
    }
    if let Some(r) = &a.rated {
        if let Some(rate) = &r.rate {
            let error = r.error.as_ref().map_or(String::new(), |e| format!(" ± {e}"));
            let scatter = r.scatter.as_ref().map_or(String::new(), |s| format!(", scatter {s}"));
            out += &format!(
                "rate {}{error} from {} over {} days{scatter}\n",
                paint.strong(rate),
                counted(r.readings, "reading"),
                r.days
            );
        }
        if let Some(heard) = &r.heard {
            out += &format!("heard {heard}\n");
        }
        for w in r.per_kelvin.iter().chain(&r.per_hectopascal) {
            out += &format!("  of it {w}\n");
        }
        out += &format!("{}\n", r.advice);
        return out;
    }
    for m in &a.meetings {
        let word = if m.holds { paint.good("agrees") } else { paint.strong("no longer agrees") };
        let word = if m.holds == m.held && !m.holds { paint.strong("does not agree") } else { word };
        let figures: Vec<String> = m.figures.iter().map(|(n, v)| format!("{n} = {v}")).collect();
        out += &format!("\n{word}: {} ({})\n", clean(&m.says), clean(&figures.join(", ")));
        if !m.holds {
            for (i, c) in m.ladder.iter().enumerate() {
                out += &format!("  {}. {}\n", i + 1, clean(c));
            }
        }
    }
    out += &moved(a, all, paint);
    out
}
fn moved(a: &Answer, all: bool, paint: Paint) -> String {
    let mut out = String::new();
    if a.moved.is_empty() {
        return "Nothing else moves.\n".to_owned();
    }
    let tell = |m: &&super::typed::Moved| {
        all || matches!(m.weight, Weight::ToMake | Weight::Setting | Weight::Running)
    };
    let mut left = if all { usize::MAX } else { SHOWN + 1 };
    let rows: Vec<Vec<String>> = a
        .moved
        .iter()
        .filter(tell)
        .filter(|m| {
            // What it comes to is never crowded out by what is set.
            let running = m.weight == Weight::Running;
            left = left.saturating_sub(usize::from(!running));
            running || left > 0
        })
        .map(|m| {
            let new =
                m.give_or_take.as_ref().map_or_else(|| clean(&m.new), |u| format!("{} ± {u}", clean(&m.new)));
            let because = if m.because.is_empty() {
                String::new()
            } else {
                format!("because of {}", clean(&m.because))
            };
            vec![clean(&m.name), clean(&m.old), "→".to_owned(), new, because]
        })
        .collect();
    if !rows.is_empty() {
        out += "\nWhat moves:\n";
        out += &painted(&rows, 2, |i, cell| if i == 3 { paint.strong(cell) } else { cell.to_owned() });
    }
    let rest = a.moved.len() - rows.len();
    if rest > 0 {
        out += &format!("{} that only follow: --all shows them\n", counted(rest, "number"));
    }
    out
}
/// For another program.
#[must_use]
pub fn as_json(a: &Answer) -> Value {
    let asks: Value = a
        .asks
        .iter()
        .map(|q| json!({ "says": q.says, "would_be": q.would_be, "refuses": q.refuses }))
        .collect();
    let moved: Value = a
        .moved
        .iter()
        .map(|m| {
            json!({
                "name": m.name, "what": m.what, "old": m.old, "new": m.new, "give_or_take": m.give_or_take,
                "because": m.because, "weight": weight(m.weight),
            })
        })
        .collect();
    let meetings: Value = a
        .meetings
        .iter()
        .map(|m| {
            json!({
                "name": m.name, "says": m.says, "holds": m.holds, "held": m.held,
                "figures": m.figures, "would_do": m.ladder,
            })
        })
        .collect();
    let reading = a.reading.as_ref().map(|r| {
        json!({
            "name": r.name, "value": r.value, "si": r.si, "give_or_take": r.give_or_take, "warmth": r.warmth,
            "wanted": r.wanted, "limits": r.limits, "within": r.within, "off": r.off,
        })
    });
    let sheet = a
        .sheet
        .as_ref()
        .map(|s| json!({ "number": s.number, "holds": s.holds, "says": s.says, "changed": s.changed }));
    let thread = a.thread.as_ref().map(|t| {
        json!({
            "stands": t.stands, "advance": t.advance, "give_or_take": t.doubt, "passes": t.passes,
            "spare": t.spare, "over_cut": t.over_cut,
        })
    });
    let rated = a.rated.as_ref().map(|r| {
        json!({
            "readings": r.readings, "days": r.days, "rate": r.rate, "error": r.error, "scatter": r.scatter,
            "heard": r.heard,
            "per_kelvin": r.per_kelvin, "per_hectopascal": r.per_hectopascal, "do": r.advice,
        })
    });
    json!({
        "thread": thread, "rated": rated,
        "entry": a.kept.as_ref().map(|e| e.number), "again": a.again, "asks": asks, "reading": reading,
        "told": a.told, "moved": moved, "meetings": meetings, "sheet": sheet,
    })
}
const fn weight(w: Weight) -> &'static str {
    match w {
        Weight::Judgement => "judgement",
        Weight::ToMake => "to make",
        Weight::Setting => "setting",
        Weight::Running => "running",
        Weight::Follows => "follows",
    }
}
