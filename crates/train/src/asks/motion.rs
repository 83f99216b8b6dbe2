//! Questions of motion work.

use super::words::{exact, n, number, put, some};
use crate::gear::plain;
use crate::motion::{CENTRES, MOST, MOTION, MotionWish, MotionWork, PIPES, SENSE, pipes, root, sets};
use crate::search::counts_from;
use reckon::ask::{Done, more, need, one_of, or};
use reckon::exact::Fraction;
use reckon::{Ask, Book, Cell, Count, Diameter, Given, Length, Ratio, Val, work};

pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "train.motion",
        says: "what motion work of given counts does, and how its pipes sit",
        takes: &[
            need("counts", "cannon pinion, minute wheel, minute pinion, hour wheel, between commas"),
            or("module", "", "of the first pair, for sizes"),
            or("dedendum", "1.9", "depth of the leaves below the pitch circle, in modules"),
            or("bore", "", "of the cannon, for the metal below its leaves; with 'module'"),
            or(
                "pipe",
                "",
                "outside diameter of the cannon's pipe; as large as the roots allow when left out",
            ),
            or("hour_bore", "", "bore of the hour pipe; the pipe and 'shake' when left out"),
            or("shake", "0.03 mm", "room of the hour pipe on the cannon's, on diameter"),
        ],
        gives: &[
            "ratio",
            "exact",
            "one_module",
            "module_ratio",
            "sense",
            "module2",
            "centres",
            "root",
            "pipe",
            "hour_bore",
            "under_leaves",
            "room",
            "root_over_pipe",
        ],
        example: r#"counts="15, 45, 12, 48" module="0.6 mm" bore="3.5 mm""#,
        run: motion,
    },
    Ask {
        name: "train.motion_sets",
        says: "every set of counts for motion work within limits",
        takes: &[
            or("ratio", "12", "turns of the minute hand to one of the hour hand"),
            or("pinions", "8 to 20", "counts that a pinion may have"),
            or("wheels", "24 to 72", "counts that a wheel may have"),
            or("sum", "", "teeth of each pair together, where centres and module are fixed"),
            or("two_modules", "no", "yes: the pairs may have different modules"),
        ],
        gives: &["found", "first", "sets"],
        example: r#"pinions="8 to 16" wheels="30 to 60""#,
        run: all_sets,
    },
];
fn motion(g: &Given<'_>, book: &mut Book) -> Done {
    let text = g.word("counts")?;
    let counts: Vec<u32> =
        text.split(',').filter_map(|t| t.trim().parse().ok()).filter(|z| *z > 0 && *z < 100_000).collect();
    let [cannon, minute_wheel, minute_pinion, hour_wheel] = counts[..] else {
        return Err(g.trouble("counts", format!("'{text}' is not four counts such as: 15, 45, 12, 48")));
    };
    let m = MotionWork { cannon, minute_wheel, minute_pinion, hour_wheel };
    let (Some(ratio), Some(modules)) = (m.ratio(), m.module_ratio()) else {
        return Err(g.trouble("counts", "every one must have teeth"));
    };
    let formula = format!("{minute_wheel}/{cannon} × {hour_wheel}/{minute_pinion}");
    let r = put(book, "ratio", number(ratio), formula.clone(), &[], &MOTION);
    put(book, "exact", plain(ratio), formula, &[r.id()], &MOTION);
    let (first, second) = m.sums();
    put(book, "one_module", m.one_module(), format!("{first} = {second}"), &[], &CENTRES);
    let k = put(book, "module_ratio", number(modules), format!("{second}/{first}"), &[], &CENTRES);
    put(book, "sense", "hour hand as minute hand".to_owned(), "two pairs, teeth outside", &[], &SENSE);
    if !g.has("module") {
        return Ok(());
    }
    let module: Val<Length> = more(g, book, "module")?;
    work!(book, "module2", |module, k| module / k.value(), &CENTRES);
    let teeth =
        put(book, "teeth", Count(i64::try_from(first).unwrap_or(i64::MAX)), "first pair", &[], &CENTRES);
    work!(book, "centres", |module, teeth| module * teeth.n() / 2.0, &CENTRES);
    let depth: Val<Ratio> = more(g, book, "dedendum")?;
    let leaves = put(book, "leaves", Count(i64::from(cannon)), "of the cannon pinion", &[], &CENTRES);
    let roots = work!(book, "root", |module, leaves, depth| root(module, leaves.n(), depth), &PIPES);
    if !g.has("bore") {
        return Ok(());
    }
    let bore: Val<Diameter> = more(g, book, "bore")?;
    let pipe: Val<Diameter> =
        if g.has("pipe") { more(g, book, "pipe")? } else { work!(book, "pipe", |roots| roots, &PIPES) };
    let shake: Val<Length> = more(g, book, "shake")?;
    let hour: Val<Diameter> = if g.has("hour_bore") {
        more(g, book, "hour_bore")?
    } else {
        work!(book, "hour_bore", |pipe, shake| pipe + shake, &PIPES)
    };
    work!(
        book,
        "under_leaves",
        |roots, bore, pipe, hour| pipes(roots, bore, pipe, hour).under_leaves,
        &PIPES
    );
    work!(book, "room", |roots, bore, pipe, hour| pipes(roots, bore, pipe, hour).room, &PIPES);
    work!(
        book,
        "root_over_pipe",
        |roots, bore, pipe, hour| pipes(roots, bore, pipe, hour).root_over_pipe,
        &PIPES
    );
    Ok(())
}
fn all_sets(g: &Given<'_>, book: &mut Book) -> Done {
    let ratio = exact(g, "ratio")?;
    if ratio <= Fraction::ZERO {
        return Err(g.trouble("ratio", "a ratio is more than nothing"));
    }
    let list = |name: &str| counts_from(&g.word(name)?).map_err(|e| g.trouble(name, e));
    let (pinions, wheels) = (list("pinions")?, list("wheels")?);
    if pinions.len() > 200 || wheels.len() > 1000 {
        return Err(g.trouble("wheels", "at most 200 counts of pinions and 1000 of wheels"));
    }
    let sum = if g.has("sum") { Some(n(some(g, book, "sum")?)) } else { None };
    let two_modules = one_of(g, "two_modules", &[("yes", true), ("no", false)])?;
    let found = sets(&MotionWish { ratio, pinions, wheels, sum, two_modules });
    let many = Count(i64::try_from(found.len()).unwrap_or(i64::MAX));
    let how = format!("every set within the limits, at most {MOST}");
    put(book, "found", many, how.clone(), &[], &MOTION);
    let words =
        |s: &MotionWork| format!("{}, {}, {}, {}", s.cannon, s.minute_wheel, s.minute_pinion, s.hour_wheel);
    let first = found.first().map_or_else(|| "none".to_owned(), words);
    put(book, "first", first, "least teeth in all", &[], &MOTION);
    let row = |s: &MotionWork| {
        let counts = [s.cannon, s.minute_wheel, s.minute_pinion, s.hour_wheel];
        let mut cells: Vec<Cell> = counts.iter().map(|c| Cell::of(&Count(i64::from(*c)))).collect();
        cells.push(Cell::of(&number(s.module_ratio().unwrap_or(Fraction::ZERO))));
        cells
    };
    let heads = ["cannon", "minute wheel", "minute pinion", "hour wheel", "module 1 / module 2"];
    book.table("sets", &heads, found.iter().map(row).collect(), how, Vec::new(), &CENTRES);
    Ok(())
}
