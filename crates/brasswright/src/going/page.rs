//! The movement on a page: its true outlines, moved by the simulation, with touch and force.

use going::film::{Film, Frame, film, phase_word};
use going::forecast::Forecast;
use going::{End, Model, Side};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use movement::design::{Acting, Movement};
use reckon::print::fixed;
use serde_json::{Value, json};
use shape::profile::Profile;

/// What moves it.
pub const SCRIPT: &str = include_str!("page.js");
/// How it looks.
pub const STYLE: &str = include_str!("page.css");
/// Moments of a cycle, or more.
const MOMENTS: u32 = 160;

/// A film, what it is called, and whether it is the one to begin with.
struct Reel {
    what: String,
    film: Film,
}
/// Every place of the run at every end of the losses, where it goes.
fn reels(m: &Model) -> Vec<Reel> {
    let mut all = Vec::new();
    for end in [End::Likely, End::Low, End::High] {
        for p in &m.supply.places {
            if let Ok(film) = film(m, end, p.over, MOMENTS) {
                all.push(Reel { what: format!("{}, {}", p.what, end.word()), film });
            }
        }
    }
    all
}
/// Path of an outline, y upwards, to a hundredth of a millimetre.
fn path(p: &Profile) -> String {
    p.to_path(0.005).to_svg()
}
fn number(x: f64, places: usize) -> Value {
    fixed(x, places).parse::<f64>().map_or(Value::Null, Value::from)
}
fn frame(f: &Frame, phases: &mut Vec<&'static str>) -> Value {
    let word = phase_word(f.phase);
    let phase = phases.iter().position(|p| *p == word).unwrap_or_else(|| {
        phases.push(word);
        phases.len() - 1
    });
    let mut row = vec![
        number(f.time, 7),
        number(f.pallets, 8),
        number(f.wheel, 7),
        json!(phase),
        json!(u8::from(f.side == Side::Exit)),
    ];
    match f.touch {
        Some((at, force)) => {
            row.extend([number(at.x, 4), number(at.y, 4), number(force.x, 6), number(force.y, 6)]);
        }
        None => row.extend([Value::Null, Value::Null, Value::Null, Value::Null]),
    }
    if f.arms.iter().any(|a| a.abs() > 0.0) {
        row.extend(f.arms.map(|a| number(a, 7)));
    }
    Value::Array(row)
}
fn data(m: &Model, reels: &[Reel]) -> Value {
    let mut phases = Vec::new();
    let reels: Vec<Value> = reels
        .iter()
        .map(|r| {
            let frames: Vec<Value> = r.film.frames.iter().map(|f| frame(f, &mut phases)).collect();
            let events: Vec<Value> = r
                .film
                .events
                .iter()
                .map(|e| json!({ "what": format!("{}, {} pallet", e.what, e.side.word()), "time": e.frame.time, "pallets": e.frame.pallets }))
                .collect();
            json!({ "what": r.what, "cycle": r.film.cycle, "arc": r.film.arc, "frames": frames, "events": events })
        })
        .collect();
    let joints: Vec<[f64; 2]> = match &m.acting {
        Acting::Arms(l) => [Side::Entry, Side::Exit]
            .map(|s| l.joint(going::model::arms::arm(s), 0.0))
            .map(|p| [p.x, p.y])
            .to_vec(),
        Acting::Faces { .. } => Vec::new(),
    };
    json!({
        "arbor": [m.drawn.arbor.x, m.drawn.arbor.y], "radius": m.drawn.radius, "joints": joints, "phases": phases, "reels": reels,
    })
}
/// The picture with its switches, for a page that has [`STYLE`] and [`SCRIPT`]; none where nothing goes.
#[must_use]
pub fn picture(m: &Model) -> Option<Markup> {
    let reels = reels(m);
    let first = reels.first()?;
    let r = m.drawn.radius;
    let top = m.drawn.arbor.y + 0.3 * r;
    let view = format!("{:.2} {:.2} {:.2} {:.2}", -1.3 * r, -top, 2.6 * r, top + 1.15 * r);
    // `<` inside the data could end it early.
    let json = data(m, &reels).to_string().replace('<', "\\u003c");
    Some(html! {
        div.moving data-whole=(view) {
            div.switches {
                button type="button" data-does="play" { "Go" }
                button type="button" data-does="before" { "Event before" }
                button type="button" data-does="next" { "Next event" }
                label { "Slowed down "
                    input type="range" min="0" max="7" step="1" value="3" data-does="slow";
                    output data-shows="slow" { "10 ×" }
                }
                label { "When "
                    select data-does="reel" {
                        @for (i, r) in reels.iter().enumerate() { option value=(i) { (r.what) } }
                    }
                }
                span.views role="group" aria-label="What is seen" {
                    button type="button" data-view="whole" aria-pressed="true" { "Whole" }
                    button type="button" data-view="entry" aria-pressed="false" { "Entry" }
                    button type="button" data-view="exit" aria-pressed="false" { "Exit" }
                }
            }
            svg.works viewBox=(view) role="img" aria-label="The escapement, moving" {
                g transform="scale(1,-1)" {
                    line.rod data-moves="rod" x1=(m.drawn.arbor.x) y1=(m.drawn.arbor.y) x2=(m.drawn.arbor.x) y2=(-1.6 * r) {}
                    g data-moves="wheel" {
                        @for p in &m.drawn.wheel { path.wheel d=(path(p)) {} }
                        circle.dot r=(fixed(0.02 * r, 3)) cx="0" cy=(fixed(0.8 * r, 3)) {}
                    }
                    circle.arbor r=(fixed(0.035 * r, 3)) {}
                    g data-moves="pallets" {
                        @for p in &m.drawn.pallets { path.pallets d=(path(p)) {} }
                        @for (i, p) in m.drawn.arms.iter().enumerate() {
                            g data-moves=(if i == 0 { "entry-arm" } else { "exit-arm" }) { path.pallets d=(path(p)) {} }
                        }
                    }
                    circle.arbor r=(fixed(0.035 * r, 3)) cx=(m.drawn.arbor.x) cy=(m.drawn.arbor.y) {}
                    g.force data-moves="force" hidden {
                        line x1="0" y1="0" x2="1" y2="0" {}
                        path d="M1 0L.82.07L.82-.07Z" {}
                    }
                    circle.touch data-moves="touch" r=(fixed(0.018 * r, 3)) hidden {}
                }
            }
            svg.swing viewBox="-110 -16 220 42" role="img" aria-label="Where the pendulum is" {
                line.axis x1="-100" x2="100" y1="0" y2="0" {}
                line.axis x1="0" x2="0" y1="-5" y2="5" {}
                g data-moves="marks" {}
                circle.bob data-moves="bob" r="4" {}
                text x="-100" y="20" data-shows="left" { "−" (fixed(first.film.arc.to_degrees(), 2)) "°" }
                text x="100" y="20" text-anchor="end" data-shows="right" { (fixed(first.film.arc.to_degrees(), 2)) "°" }
            }
            p.now aria-live="off" {
                b data-shows="phase" { "" } " "
                span data-shows="numbers" { "" }
            }
            p.event data-shows="event" role="status" { "" }
            script type="application/json" data-holds="films" { (PreEscaped(json)) }
        }
    })
}
/// Drawings of what the simulation shows, for a page that has [`STYLE`].
#[must_use]
pub fn drawings(movement: &Movement, m: &Model, found: &Forecast) -> Markup {
    let case = sheets::Typecase::new();
    let drawn: Vec<(&str, &str, String)> = sheets::packet::going_pictures(movement, m, found)
        .into_iter()
        .enumerate()
        .filter_map(|(i, (name, says, sketch))| {
            let page = sheets::drawing(&case, &sketch).ok()?;
            Some((name, says, sheets::svg(&page, sheets::Letters::Outlines, &format!("g{i}-"))))
        })
        .collect();
    html! {
        @for (name, says, svg) in &drawn {
            section.drawings {
                h2 { (name) }
                figure.drawn tabindex="0" aria-label=(name) { (PreEscaped(svg)) figcaption { (says) } }
            }
        }
    }
}
/// A whole page that needs nothing else; none where nothing goes.
#[must_use]
pub fn going_page(name: &str, movement: &Movement, m: &Model, found: &Forecast) -> Option<String> {
    let picture = picture(m)?;
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (name) ", going" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    h1 { (name) }
                    p.soft {
                        "The " (m.kind.word()) " escapement as drawn; its way is that of the simulation, at the arc that settles. "
                        "The arrow is the force of the tooth on the pallet."
                    }
                    (picture)
                    (drawings(movement, m, found))
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    Some(page.into_string())
}
