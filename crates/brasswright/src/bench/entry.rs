//! What is sent from a page: a step done, a count, a size, a remark, a piece that stands otherwise, a strike. Each
//! goes through one door into the journal; the answer says what came of it, as a page or for a script.

use super::asked::{Answer, Asked, encoded};
use super::at_bench::{self, named, place};
use super::floor::{Floor, State};
use super::frame;
use super::keep;
use super::steps::{self, At, Way};
use super::{rating, shop};
use crate::enter::typed::{Size, Step};
use crate::enter::{Input, Typed};
use crate::outcome::Stopped;
use journal::State as Stands;
use serde_json::json;

/// Answers what was sent; none where there is no such place to send to.
pub fn sent(floor: &Floor, asked: &Asked, state: &State) -> Option<Answer> {
    let path: Vec<&str> = asked.path.iter().map(String::as_str).collect();
    match path.as_slice() {
        ["bench", slug, "stood"] => {
            let w = steps::way(state, slug)?;
            Some(stood(floor, asked, &w))
        }
        ["bench", slug, step, what] => {
            let w = steps::way(state, slug)?;
            let at = named(asked, &w, step)?;
            match *what {
                "done" => Some(done(floor, asked, &w, at)),
                "count" => Some(counted(floor, asked, &w, at)),
                "remark" => Some(remark(floor, asked, &w, at)),
                "measure" => Some(size(floor, asked, state, &w, at)),
                _ => None,
            }
        }
        ["rating"] => Some(match rating::typed(asked) {
            Ok(r) => plain(floor, asked, Typed::Rating(r), "/rating"),
            Err(says) => refused(floor, asked, 422, &says, "/rating"),
        }),
        ["shop"] => Some(match shop::typed(asked) {
            Some(what) => plain(floor, asked, what, "/shop"),
            None => {
                refused(floor, asked, 422, "what was learnt, of what, or its value was not told", "/shop")
            }
        }),
        ["setting-up", sheet, what] => super::setting_up::sent(floor, asked, state, sheet, what),
        ["setting-up", "job"] => Some(super::setting_up::job(floor, asked)),
        ["journal", "strike"] => {
            let what = Typed::Strike {
                entry: asked.form.get("entry")?.parse().ok()?,
                why: asked.form.get("why").unwrap_or_default().to_owned(),
                shop: false,
            };
            Some(plain(floor, asked, what, "/journal"))
        }
        _ => None,
    }
}
/// What was sent, with its key and time.
fn input(asked: &Asked, what: Typed) -> Input {
    let key = asked
        .form
        .get("key")
        .filter(|k| k.len() <= 80 && k.chars().all(|c| c.is_ascii_alphanumeric() || c == '-'));
    Input {
        what,
        key: key.map(str::to_owned),
        at: asked.form.get("at").and_then(stamp),
        sure: asked.form.get("sure").is_some(),
    }
}
/// A time as a phone writes it, to the second, where it is one.
pub fn stamp(text: &str) -> Option<String> {
    let text = text.split('.').next()?.trim_end_matches('Z');
    let bytes = text.as_bytes();
    let form = b"0000-00-00T00:00:00";
    let fits = bytes.len() == form.len()
        && bytes.iter().zip(form).all(|(b, f)| if *f == b'0' { b.is_ascii_digit() } else { b == f });
    fits.then(|| format!("{text}Z"))
}
/// Enters something that raises no question of its own, and turns to a page.
pub fn plain(floor: &Floor, asked: &Asked, what: Typed, to: &str) -> Answer {
    match keep::take(floor, &input(asked, what)) {
        Ok(answer) => match &answer.kept {
            Some(entry) if asked.script => Answer::data(
                &json!({ "kept": true, "entry": entry.number, "again": answer.again, "next": to }),
            ),
            Some(_) => Answer::turn_to(to),
            None => refused(
                floor,
                asked,
                409,
                &answer.asks.iter().map(|a| a.says.clone()).collect::<Vec<_>>().join(" "),
                to,
            ),
        },
        Err(stopped) => {
            let t = &stopped.trouble;
            let says = [&[t.says.clone()][..], &t.cures].concat().join("; ");
            refused(floor, asked, of(&stopped), &says, to)
        }
    }
}
/// What tells a disk that is full, or may not be written, from something wrong in what was sent (RFC 4918): the same
/// may be sent again later.
const fn of(stopped: &Stopped) -> u16 {
    if stopped.exit == crate::exit::FILES { 507 } else { 422 }
}
/// What could not be entered, said at once; a script keeps it and tells.
pub fn refused(floor: &Floor, asked: &Asked, status: u16, says: &str, back: &str) -> Answer {
    if asked.script {
        return Answer::data(&json!({ "kept": false, "says": says, "next": back })).status(status);
    }
    match floor.now() {
        Ok(state) => Answer::page(frame::sorry(asked, &state, "Not entered", says, back)).status(status),
        Err(_) => Answer::of("text/plain; charset=utf-8", says).status(status),
    }
}
fn took(asked: &Asked) -> Option<String> {
    let seconds = asked.form.whole("took").filter(|t| (5..=6 * 3600).contains(t))?;
    Some(format!("{seconds} s"))
}
fn done(floor: &Floor, asked: &Asked, w: &Way<'_>, at: At) -> Answer {
    let all = asked.form.get("all").is_some();
    let piece = if all { None } else { at.piece };
    let what = Typed::Done(Step {
        job: w.slug.to_owned(),
        step: Some(at.stage.id()),
        piece,
        count: None,
        took: took(asked),
    });
    plain(floor, asked, what, &format!("/bench/{}", encoded(w.slug)))
}
fn counted(floor: &Floor, asked: &Asked, w: &Way<'_>, at: At) -> Answer {
    let Some(count) = asked.form.whole("count") else {
        return refused(floor, asked, 422, "a count is a whole number", &place(w, at));
    };
    let what = Typed::Done(Step {
        job: w.slug.to_owned(),
        step: Some(at.stage.id()),
        piece: at.piece,
        count: Some(count),
        took: None,
    });
    plain(floor, asked, what, &place(w, at))
}
fn stood(floor: &Floor, asked: &Asked, w: &Way<'_>) -> Answer {
    let here = format!("/bench/{}", encoded(w.slug));
    let Some(state) = asked.form.get("state").and_then(Stands::of) else {
        return refused(floor, asked, 422, "a part stands as wanted, roughed, made or scrapped", &here);
    };
    let piece = asked.form.whole("piece").filter(|p| (1..=w.pieces).contains(p));
    let what = Typed::Stood {
        part: w.slug.to_owned(),
        pieces: piece.into_iter().collect(),
        state,
        why: asked.form.get("why").unwrap_or_default().to_owned(),
    };
    plain(floor, asked, what, &here)
}
/// A remark, with a picture where there is one: the picture lies on the disk before the entry names it.
fn remark(floor: &Floor, asked: &Asked, w: &Way<'_>, at: At) -> Answer {
    said(floor, asked, format!("{}#{}", w.slug, at.stage.id()), &place(w, at))
}
/// The same about anything that has a page, `here`.
pub fn said(floor: &Floor, asked: &Asked, about: String, here: &str) -> Answer {
    let text = asked.form.get("text").unwrap_or_default().to_owned();
    let picture = asked.files.iter().find(|f| f.field == "picture" && !f.bytes.is_empty());
    let kept = match picture.map(|f| super::picture::keep(&floor.dir, &f.bytes)).transpose() {
        Ok(name) => name,
        Err(says) => return refused(floor, asked, 422, &says, here),
    };
    if text.is_empty() && kept.is_none() {
        return refused(floor, asked, 422, "neither words nor a picture were sent", here);
    }
    let what = Typed::Remark { about, text, picture: kept };
    plain(floor, asked, what, here)
}
/// A size that was read.
fn size(floor: &Floor, asked: &Asked, state: &State, w: &Way<'_>, at: At) -> Answer {
    let pad = super::measure::Pad::of(asked, state, w, at);
    let Some(pad) = pad else {
        return refused(floor, asked, 422, "there is no such size to measure at this step", &place(w, at));
    };
    let value = match pad.typed(asked) {
        Ok(value) => value,
        Err(says) if asked.script => {
            return refused(floor, asked, 422, &says, &at_bench::pad(w, at, pad.check));
        }
        Err(says) => return Answer::page(super::measure::page(asked, state, &pad, Some(&says))).status(422),
    };
    let what = Typed::Size(Size {
        name: pad.name.clone(),
        value,
        piece: pad.piece,
        tool: asked.form.get("tool").map(str::to_owned),
        give_or_take: None,
        temperature: asked.form.get("temperature").map(|t| {
            if t.ends_with(|c: char| c.is_ascii_digit()) { format!("{t} degC") } else { t.to_owned() }
        }),
        sheet: asked.form.get("sheet").map(str::to_owned),
        rough: asked.form.get("rough").is_some(),
    });
    match keep::take(floor, &input(asked, what)) {
        Err(stopped) => {
            let t = &stopped.trouble;
            let says = [&[t.says.clone()][..], &t.cures].concat().join("; ");
            if asked.script {
                return refused(floor, asked, of(&stopped), &says, &at_bench::pad(w, at, pad.check));
            }
            Answer::page(super::measure::page(asked, state, &pad, Some(&says))).status(of(&stopped))
        }
        Ok(answer) => match &answer.kept {
            Some(entry) => {
                let to = format!("/moved/{}?back={}", entry.number, encoded(&place(w, at)));
                if asked.script {
                    Answer::data(
                        &json!({ "kept": true, "entry": entry.number, "again": answer.again, "next": to }),
                    )
                } else {
                    Answer::turn_to(&to)
                }
            }
            None if asked.script => {
                let says: Vec<&str> = answer.asks.iter().map(|a| a.says.as_str()).collect();
                let to = format!(
                    "{}&reading={}",
                    at_bench::pad(w, at, pad.check),
                    encoded(asked.form.get("reading").unwrap_or_default())
                );
                Answer::data(&json!({ "kept": false, "says": says.join(" "), "next": to, "asks": true }))
                    .status(409)
            }
            None => Answer::page(super::measure::doubted(asked, state, &pad, &answer)).status(409),
        },
    }
}
#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_of_a_phone() {
        assert_eq!(stamp("2026-03-01T18:30:00.123Z"), Some("2026-03-01T18:30:00Z".to_owned()));
        assert_eq!(stamp("2026-03-01T18:30:00Z"), Some("2026-03-01T18:30:00Z".to_owned()));
        for bad in ["", "yesterday", "2026-03-01 18:30:00", "2026-03-01T18:30:00+01:00", "2026-03-01T18:30"] {
            assert_eq!(stamp(bad), None, "{bad}");
        }
    }
}
