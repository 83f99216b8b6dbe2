//! Polishing.

use super::{Done, ask, joined, need, not_among, number, one_of, or, put, says, within};
use crate::polish::{self, BARRIER, Hold, Step};
use reckon::{Ask, Book, Cell, Given, Id, Length, Ratio, Source, Trouble};

static GRADES: Source =
    Source::derived("grades of all lists side by side, by the middle size of their grains");
pub(super) static ASKS: &[Ask] = &[
    ask(
        "finish.grit",
        "size of a grade of abrasive, and the grades of other lists that are like it",
        &[need("grade", "such as P400, F600, CAMI 400 or 3 µm diamond")],
        &["size", "list", "like_p", "like_f", "like_cami", "like_diamond"],
        r#"grade="P400""#,
        grit,
    ),
    ask(
        "finish.steps",
        "fewest steps from one grain to another at one ratio",
        &[
            need("from", "coarse grain or grade"),
            need("to", "fine grain or grade"),
            or("ratio", "2.0", "of each step"),
        ],
        &["steps"],
        r#"from="P240" to="3 um" ratio="2.0""#,
        steps,
    ),
    ask(
        "finish.ladder",
        "ladder of grains through what the shop has, what each step takes off, its lap, and what stands between",
        &[
            need("grits", "of the shop: grades or sizes, between commas"),
            need("from", "grain or grade that the face comes from"),
            need("to", "grain or grade to end on"),
            or("on", "steel", "steel or brass"),
        ],
        &["steps", "ladder", "removed", "on_diameter", "roughness", "warn", "between", "caution"],
        r#"grits="18 um, 9 um, 6 um, 3 um, 1 um" from="18 um" to="1 um""#,
        ladder,
    ),
    ask(
        "finish.allowance",
        "size before polishing that leaves a wanted size after the whole ladder",
        &[
            need("size", "wanted after polishing"),
            need("grains", "the ladder, coarse to fine, the grain it comes from first"),
            or("hold", "paper", "soft, paper or hard"),
            or("faces", "2", "1 for one face, 2 for a diameter or both faces"),
        ],
        &["removed", "before", "roughness"],
        r#"size="3 mm" grains="P800, 9 um, 3 um, 1 um" hold="hard""#,
        allowance,
    ),
];

/// A grade or a size, in µm.
fn grain(g: &Given<'_>, name: &str, word: &str) -> Result<f64, Trouble> {
    if let Some(found) = polish::grade(word) {
        return Ok(found.size);
    }
    match reckon::text::read(word, reckon::Dimension::Length) {
        Ok(m) if (1e-9..=5e-3).contains(&m) => Ok(m * 1e6),
        Ok(_) => Err(g.trouble(name, format!("'{word}': grains lie between 1 nm and 5 mm"))),
        Err(_) => {
            let all: Vec<&str> = polish::grades().iter().map(|g| g.name.as_str()).collect();
            Err(not_among(g, name, word, &all))
        }
    }
}
fn grains(g: &Given<'_>, name: &str) -> Result<Vec<f64>, Trouble> {
    g.word(name)?.split(',').map(|w| grain(g, name, w.trim())).collect()
}
/// A grain that was given, entered in the book.
fn entered(g: &Given<'_>, book: &mut Book, ids: &mut Vec<Id>, name: &str) -> Result<f64, Trouble> {
    let um = grain(g, name, g.word(name)?.trim())?;
    ids.push(
        book.tabled(format!("{name}_size"), Length::si(um / 1e6), format!("grain of '{name}'"), &GRADES).id(),
    );
    Ok(um)
}
fn grit(g: &Given<'_>, book: &mut Book) -> Done {
    let word = g.word("grade")?;
    let all: Vec<&str> = polish::grades().iter().map(|g| g.name.as_str()).collect();
    let found = polish::grade(&word).ok_or_else(|| not_among(g, "grade", &word, &all))?;
    book.tabled("size", Length::si(found.size / 1e6), format!("{}, middle size", found.name), found.source);
    says(book, "list", found.list.clone(), "list of the grade", &[], found.source);
    for (name, list) in [("like_p", "P"), ("like_f", "F"), ("like_cami", "CAMI"), ("like_diamond", "diamond")]
    {
        let near = polish::nearest(list, found.size).map_or("none", |g| g.name.as_str());
        says(book, name, near, "nearest by ratio of sizes", &[], &GRADES);
    }
    Ok(())
}
fn steps(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let (from, to) = (entered(g, book, &mut ids, "from")?, entered(g, book, &mut ids, "to")?);
    let ratio = number(g, book, &mut ids, "ratio", (1.1, 10.0))?;
    book.solved(
        "steps",
        reckon::Count(i64::from(polish::steps(from, to, ratio))),
        ("each finer by the ratio", 1, 0.0),
        ids,
        &polish::RATIOS,
    );
    Ok(())
}
fn ladder(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let shop = grains(g, "grits")?;
    let (from, to) = (entered(g, book, &mut ids, "from")?, entered(g, book, &mut ids, "to")?);
    let on = one_of(g, "on", &[("steel", "steel"), ("brass", "brass")])?;
    let way = polish::ladder(&shop, from, to).map_err(|gap| {
        let like = polish::nearest("P", gap.buy).map_or("", |g| g.name.as_str());
        g.trouble(
            "grits",
            format!(
                "no grit of the shop leads from {:.3} µm to {:.3} µm: at most 2.5 to 1, 3 to 1 on a hard lap",
                gap.from, gap.to
            ),
        )
        .cure(format!(
            "buy about {:.2} µm{}",
            gap.buy,
            if gap.buy > 8.0 { format!(" ({like})") } else { String::new() }
        ))
    })?;
    let mut before = (from, Hold::Paper);
    let mut rows = Vec::new();
    let mut sum = 0.0;
    let mut warn: Vec<String> = Vec::new();
    for (i, s) in way.iter().enumerate() {
        let lap = polish::lap(on, s.size, s.hard).or_else(|| polish::lap(on, s.size, false));
        let hold = lap.map_or(Hold::Hard, |l| l.hold);
        let off = polish::removal(before.0, before.1);
        sum += off;
        warn.extend(warning(before.0, *s));
        rows.push(vec![
            Cell::word((i + 1).to_string()),
            Cell::of(&Length::si(s.size / 1e6)),
            Cell::of(&Ratio::si(s.ratio)),
            Cell::word(lap.map_or_else(
                || "a hard lap of its own".to_owned(),
                |l| format!("{}: {}", l.name, l.use_for),
            )),
            Cell::of(&Length::si(off / 1e6)),
            Cell::of(&Length::si(hold.share() * s.size / 1e6)),
        ]);
        before = (s.size, hold);
    }
    #[expect(clippy::cast_possible_wrap, reason = "ladders have few steps")]
    let n = reckon::Count(way.len() as i64);
    book.solved("steps", n, ("fewest wide steps, then fewest", 1, 0.0), ids.clone(), &polish::RATIOS);
    book.table(
        "ladder",
        &["step", "grain", "ratio", "lap", "takes off a face", "damage left"],
        rows,
        "each step takes 1.5 times the damage before it",
        ids.clone(),
        &polish::DAMAGE,
    );
    put::<Length>(book, "removed", sum / 1e6, "from each face, sum of the steps", &ids, &polish::DAMAGE);
    put::<Length>(book, "on_diameter", 2.0 * sum / 1e6, "twice that", &ids, &polish::DAMAGE);
    put::<Length>(
        book,
        "roughness",
        polish::roughness(before.0, before.1) / 1e6,
        "Ra: a sixth of the damage left",
        &ids,
        &polish::DAMAGE,
    );
    let warn: Vec<&str> = warn.iter().map(String::as_str).collect();
    says(book, "warn", joined(&warn), "ratios", &ids, &polish::RATIOS);
    says(
        book,
        "between",
        format!("{BARRIER}; {}; {}", polish::LOOK, polish::LAPS),
        "stands between all grains",
        &[],
        &polish::DAMAGE,
    );
    says(book, "caution", crate::caution::CAUTION_WHEEL, "stands at the work", &[], &polish::DAMAGE);
    Ok(())
}
fn warning(before: f64, s: Step) -> Option<String> {
    let (a, b) = (reckon::print::significant(before, 3), reckon::print::significant(s.size, 3));
    if s.hard {
        Some(format!("{a} → {b} µm is {} to 1: on a hard lap only", reckon::print::significant(s.ratio, 3)))
    } else if s.close {
        Some(format!("{a} → {b} µm is closer than is worth a step"))
    } else {
        None
    }
}
fn allowance(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let size = within(g, book, &mut ids, "size", (Length::mm(0.01), Length::mm(2000.0)))?;
    let all = grains(g, "grains")?;
    for (i, um) in all.iter().enumerate() {
        ids.push(book.tabled(format!("grain.{}", i + 1), Length::si(um / 1e6), "middle size", &GRADES).id());
    }
    if all.len() < 2 || all.windows(2).any(|w| w[1] >= w[0]) {
        return Err(g.trouble("grains", "two grains at least, each finer than the one before"));
    }
    if let Some(w) = all.windows(2).find(|w| polish::judged(w[0], w[1]).is_none()) {
        return Err(g
            .trouble(
                "grains",
                format!("{:.3} µm to {:.3} µm is wider than 3 to 1, which no lap clears", w[0], w[1]),
            )
            .cure(format!("put about {:.2} µm between", (w[0] * w[1]).sqrt())));
    }
    let hold = one_of(g, "hold", &Hold::ALL)?;
    let faces = one_of(g, "faces", &[("1", 1.0), ("2", 2.0)])?;
    let off: f64 = all[..all.len() - 1].iter().map(|&d| polish::removal(d, hold)).sum::<f64>() * faces;
    put::<Length>(
        book,
        "removed",
        off / 1e6,
        "sum of 1.5 times the damage before each step, from all faces",
        &ids,
        &polish::DAMAGE,
    );
    put::<Length>(
        book,
        "before",
        size.value() + off / 1e6,
        "size and what is removed",
        &ids,
        &polish::DAMAGE,
    );
    let last = all[all.len() - 1];
    put::<Length>(
        book,
        "roughness",
        polish::roughness(last, hold) / 1e6,
        "Ra: a sixth of the damage left",
        &ids,
        &polish::DAMAGE,
    );
    Ok(())
}
