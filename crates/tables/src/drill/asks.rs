//! Questions on drills.

use super::length::{self, Build};
use super::{Drill, Rule, Series, all, find, near, nearest_in};
use reckon::ask::{need, or};
use reckon::{Alternative, Ask, Book, Cell, Diameter, Given, Length, Trouble, Val, work};

/// Questions on drills.
pub static ASKS: &[Ask] = &[
    Ask {
        name: "drill.named",
        says: "Size of a drill that is sold by name.",
        takes: &[need("drill", "its name: #43, F, 7/64 in or 2.05 mm")],
        gives: &["size", "name"],
        example: "drill=\"#43\"",
        run: named,
    },
    Ask {
        name: "drill.near",
        says: "Drills nearest to a size, and the one that a rule takes.",
        takes: &[
            need("size", "the size wanted"),
            or("series", "any", "any, number, letter, fraction or metric"),
            or("rule", "nearest", "nearest, not over or not under"),
        ],
        gives: &["drill", "drill_size", "off", "near"],
        example: "size=\"2.3 mm\" rule=\"not over\"",
        run: nearby,
    },
    Ask {
        name: "drill.length",
        says: "How long a twist drill is over all and in its flutes.",
        takes: &[need("size", "the drill's size"), or("build", "ordinary", "stub, ordinary or long")],
        gives: &["whole", "flutes"],
        example: "size=\"6.5 mm\" build=\"stub\"",
        run: long,
    },
];

fn named(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let written = given.word("drill")?;
    let drill = find(&written).map_err(|mut t| {
        t.at = given.trouble("drill", "").at;
        t
    })?;
    drill.tabled(book, "size");
    book.tabled("name", drill.name.clone(), format!("drill {}", drill.name), drill.source);
    Ok(())
}
fn long(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let size: Val<Diameter> = given.take(book, "size")?;
    let word = given.word("build")?;
    let build = Build::ALL.into_iter().find(|b| b.text() == word.trim());
    let build = build.ok_or_else(|| {
        given
            .trouble("build", format!("there is no build of drill '{}'", word.trim()))
            .cure("one of stub, ordinary, long")
    })?;
    let lengths = length::of(size.bare(), build).ok_or_else(|| {
        given
            .trouble("size", format!("no {} drill of {} stands in the table", build.text(), size.shown()))
            .cure("ordinary ones go from 0.2 mm to 14 mm; stub from 0.5 mm, long from 1 mm")
    })?;
    lengths.whole(book, "whole", build);
    lengths.flutes(book, "flutes", build);
    Ok(())
}
fn nearby(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let size: Val<Diameter> = given.take(book, "size")?;
    let wanted = size.bare();
    if wanted <= Diameter::ZERO {
        return Err(given.trouble("size", "a hole is larger than nothing"));
    }
    let series = match given.word("series")?.trim() {
        "any" => None,
        "number" => Some(Series::Number),
        "letter" => Some(Series::Letter),
        "fraction" => Some(Series::Fraction),
        "metric" => Some(Series::Metric),
        other => {
            return Err(given
                .trouble("series", format!("there is no series '{other}'"))
                .cure("one of any, number, letter, fraction, metric"));
        }
    };
    let rule = match given.word("rule")?.trim() {
        "nearest" => Rule::Nearest,
        "not over" => Rule::NotOver,
        "not under" => Rule::NotUnder,
        other => {
            return Err(given
                .trouble("rule", format!("there is no rule '{other}'"))
                .cure("one of nearest, not over, not under"));
        }
    };
    let list = || all().iter().filter(|d| series.is_none_or(|s| d.series == s));
    let drill = nearest_in(list(), wanted, rule).ok_or_else(|| {
        let ends = [list().next(), list().next_back()].map(|d| d.map_or(String::new(), |d| d.name.clone()));
        given
            .trouble("size", format!("no drill of this series is {}", rule.text()))
            .cure(format!("the series goes from {} to {}", ends[0], ends[1]))
    })?;
    let among = |d: &Drill| Alternative {
        what: format!("{} ({:.3} mm)", d.name, d.size.in_mm()),
        taken: d.name == drill.name,
        why: format!("{:+.3} mm", (d.size - wanted).in_mm()),
    };
    let close: Vec<&Drill> = near(wanted, 6);
    let mut weighed: Vec<Alternative> = close.iter().map(|d| among(d)).collect();
    if !weighed.iter().any(|a| a.taken) {
        weighed.push(among(drill));
    }
    let drill_size = drill.tabled(book, "drill_size");
    let inputs = vec![size.id(), drill_size.id()];
    book.chosen("drill", drill.name.clone(), rule.text(), weighed, inputs.clone(), drill.source);
    work!(book, "off", |drill_size, size| drill_size - size, &reckon::source::GEOMETRY);
    let rows = close.iter().map(|d| {
        let off: Length = d.size - wanted;
        vec![Cell::word(d.name.clone()), Cell::of(&d.size), Cell::of(&off)]
    });
    let rows = rows.collect();
    book.table("near", &["drill", "size", "off by"], rows, "the nearest of all series", inputs, drill.source);
    Ok(())
}
