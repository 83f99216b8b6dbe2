//! Which page answers what.

use super::asked::{Answer, Asked};
use super::floor::{Floor, State};
use super::{
    at_bench, clock, desk, entry, frame, going, measure, measured, moved, parts, picture, rating, setting_up,
    shop, steps, tonight, why,
};

/// The look of all pages, and what a script does on them.
const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("bench.js");
const ICON: &str = include_str!("icon.svg");
/// Longest line of figures that has a size of its own.
const LONGEST: usize = 26;

/// Answers.
pub fn answer(floor: &Floor, asked: &Asked) -> Answer {
    let path: Vec<&str> = asked.path.iter().map(String::as_str).collect();
    match path.as_slice() {
        ["style.css"] => return Answer::lasting("text/css; charset=utf-8", style()),
        ["bench.js"] => return Answer::lasting("text/javascript; charset=utf-8", SCRIPT),
        ["going.css"] => return Answer::lasting("text/css; charset=utf-8", crate::going::page::STYLE),
        ["going.js"] => {
            return Answer::lasting("text/javascript; charset=utf-8", crate::going::page::SCRIPT);
        }
        ["icon.svg"] => return Answer::lasting("image/svg+xml", ICON),
        _ => {}
    }
    let state = match floor.now() {
        Ok(state) => state,
        Err(stopped) => {
            let says = format!("{}\n{}\n", stopped.trouble.says, stopped.trouble.cures.join("\n"));
            return Answer::of("text/plain; charset=utf-8", says).status(503);
        }
    };
    let state: &State = &state;
    if asked.post {
        return entry::sent(floor, asked, state).unwrap_or_else(|| nothing(asked, state));
    }
    let page = |found: Option<maud::Markup>| found.map_or_else(|| nothing(asked, state), Answer::page);
    match path.as_slice() {
        [] | ["clock"] => Answer::page(clock::page(asked, state)),
        ["parts"] => Answer::page(parts::page(asked, state)),
        ["parts", slug] => page(parts::one(asked, state, slug)),
        ["bench", slug] => at_bench::resume(asked, state, slug).unwrap_or_else(|| nothing(asked, state)),
        ["bench", slug, step] => page(at_bench::page(asked, state, slug, step)),
        ["bench", slug, step, "measure"] => page(pad(asked, state, slug, step)),
        ["drawing-of", slug] => page(at_bench::drawing(asked, state, slug)),
        ["picture", name] => picture::of(&floor.dir, name).unwrap_or_else(|| nothing(asked, state)),
        ["drawing", slug] => parts::drawing(state, slug).unwrap_or_else(|| nothing(asked, state)),
        ["journal"] => Answer::page(moved::journal(asked, state)),
        ["moved"] => Answer::page(moved::page(asked, state)),
        ["moved", number] => page(moved::one(floor, asked, state, number)),
        ["train"] => Answer::page(desk::train(asked, state)),
        ["plates"] => Answer::page(desk::plates(asked, state)),
        ["escapement"] => Answer::page(desk::escapement(asked, state)),
        ["power"] => Answer::page(desk::power(asked, state)),
        ["measured"] => Answer::page(measured::page(asked, state)),
        ["rating"] => Answer::page(rating::page(asked, state)),
        ["shop"] => Answer::page(shop::page(asked, state)),
        ["tonight"] => Answer::page(tonight::page(asked, state)),
        ["going"] => Answer::page(going::page(asked, state, &floor.going(state))),
        ["setting-up"] => Answer::page(setting_up::page(asked, state)),
        ["setting-up", sheet] => page(setting_up::one(asked, state, sheet)),
        // What the simulation found stands in its own book.
        ["why"] if asked.query.get("name").is_some_and(|n| n == "going" || n.starts_with("going.")) => {
            match floor.going(state) {
                Ok(gone) => why::page(asked, &gone),
                Err(_) => why::page(asked, state),
            }
        }
        ["why"] => why::page(asked, state),
        ["light", to] => light(to),
        _ => nothing(asked, state),
    }
}
/// The number pad of a step.
fn pad(asked: &Asked, state: &State, slug: &str, step: &str) -> Option<maud::Markup> {
    let way = steps::way(state, slug)?;
    let at = at_bench::named(asked, &way, step)?;
    let pad = measure::Pad::of(asked, state, &way, at)?;
    Some(measure::page(asked, state, &pad, None))
}
fn nothing(asked: &Asked, state: &State) -> Answer {
    let says = "There is no page of that name; perhaps the part was renamed.";
    Answer::page(frame::sorry(asked, state, "Nothing here", says, "/")).status(404)
}
/// Dark, light, or as the device has it.
fn light(to: &str) -> Answer {
    let (value, age) = match to {
        "dark" | "light" => (to, 400 * 24 * 3600),
        _ => ("", 0),
    };
    let cookie = format!("light={value}; SameSite=Strict; HttpOnly; Path=/; Max-Age={age}");
    Answer::turn_to("/clock").head("Set-Cookie", cookie)
}
/// What tells one version of look and script from another, so that neither is kept past its time.
#[must_use]
pub fn mark() -> String {
    let of = [STYLE, SCRIPT, crate::going::page::STYLE, crate::going::page::SCRIPT]
        .into_iter()
        .flat_map(str::bytes);
    format!("{:08x}", of.fold(0x811c_9dc5_u32, |h, b| (h ^ u32::from(b)).wrapping_mul(0x0100_0193)))
}
/// The style, with a size for a number of so many figures: as large as fits across.
fn style() -> String {
    let sizes = (1..=LONGEST).map(|n| {
        // A heavy figure is seven tenths as wide as it is high.
        let across = 91.0 / (0.7 * n as f64);
        let wide = 52.0 / (0.7 * n as f64);
        let (across, wide) = (reckon::print::fixed(across, 2), reckon::print::fixed(wide, 2));
        format!(
            ".n{n}{{font-size:min({across}vw,19vh,9.5rem)}}@media(min-width:62rem){{.n{n}{{font-size:min({wide}vw,24vh,12rem)}}}}"
        )
    });
    format!("{STYLE}\n{}", sizes.collect::<String>())
}
/// The class of a size for a text.
#[must_use]
pub fn size_of(text: &str) -> String {
    format!("n{}", text.chars().count().clamp(1, LONGEST))
}
