//! Questions of turns, beats, duration and counts that are off.

use super::words::{exact, n, number, pairs, product, put, seconds, some};
use crate::gear::{
    BEATS, CORD, DURATION, Demand, Gearing, HUNTING, Mesh, OFF_BY_ONE, PAIR, cord_turns, gain, hunting,
    off_by_one, plain,
};
use reckon::ask::{Done, more, need, or};
use reckon::exact::Fraction;
use reckon::maths::PI;
use reckon::{
    Acceleration, Ask, Book, Cell, Count, Diameter, Given, Length, Param, Ratio, Source, Time, Trouble, Val,
    slug, work,
};

const TRAIN: Param = need("train", "wheel over pinion, first to last: 96/12 90/12");
/// A mass on a thread, small arc.
static PENDULUM: Source =
    Source::derived("simple pendulum, small arc, two beats to a swing").with_formula("L = g (T/2 pi)^2");

pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "train.beats",
        says: "beats an hour of a train, exactly, and what pendulum they want",
        takes: &[
            TRAIN,
            need("escape", "teeth of the escape wheel"),
            or("per_hour", "1", "turns an hour of the first arbor"),
            or("g", "9.80665 m/s2", "gravity where the clock stands"),
        ],
        gives: &["beats", "exact", "escape_turn", "seconds_hand", "pendulum"],
        example: r#"train="96/12 90/12" escape=30"#,
        run: beats,
    },
    Ask {
        name: "train.turns",
        says: "turns, senses and hands of every arbor, from meshes and one arbor whose pace is known",
        takes: &[
            need(
                "meshes",
                "driver and its teeth > driven and its teeth, between commas; 'inside' behind a mesh with inside teeth",
            ),
            need("arbor", "the arbor whose pace is known"),
            or("per_hour", "1", "its turns an hour, clockwise from the dial; negative the other way"),
            or("beats", "", "in place of that: beats an hour of the escape wheel on it, with 'escape'"),
            or("turn", "", "or the time of one turn"),
            or("escape", "", "arbor and teeth of the escape wheel: escape 30"),
        ],
        gives: &["turns", "turn", "sense", "hand", "meshes", "beats", "arbors"],
        example: r#"meshes="great 144 > centre 12, centre 108 > third 12, third 80 > escape 12" arbor=centre escape="escape 30""#,
        run: turns,
    },
    Ask {
        name: "train.duration",
        says: "how long a clock goes on the turns of its barrel or drum",
        takes: &[
            need("train", "wheel over pinion, from barrel or drum to the arbor whose turn is known"),
            or("last", "1 h", "time of one turn of the last arbor"),
            or("turns", "", "turns of barrel or drum; or the fall of a weight"),
            or("fall", "", "how far the weight falls"),
            or("parts", "1", "parts of line that carry it: 2 on a moving pulley"),
            or("drum", "", "diameter at the bottom of the groove"),
            or("line", "0 mm", "diameter of the line"),
            or("wanted", "", "a time for which turns are wanted"),
        ],
        gives: &["turn", "turns", "time", "needs"],
        example: r#"train="144/12" turns=14.5 wanted="8 d""#,
        run: duration,
    },
    Ask {
        name: "train.off_by_one",
        says: "what the hands do when a wheel has one tooth too many or too few, the pendulum left as it is",
        takes: &[
            need("train", "as meant: wheel over pinion, from minute arbor to escape arbor"),
            need("escape", "teeth of the escape wheel, as meant"),
            or("built", "", "the train as it was built"),
            or("built_escape", "", "teeth of the escape wheel as built; as meant when left out"),
        ],
        gives: &["beats", "wants", "gain", "counts", "least", "most"],
        example: r#"train="108/12 80/12" escape=30 built="108/12 79/12""#,
        run: off,
    },
    Ask {
        name: "train.hunting",
        says: "how often the same teeth of a pair meet",
        takes: &[need("wheel", "teeth"), need("pinion", "leaves")],
        gives: &["common", "wheel_turns", "pinion_turns", "hunts"],
        example: "wheel=96 pinion=12",
        run: meet,
    },
];

fn too_long(g: &Given<'_>, name: &str) -> Trouble {
    g.trouble(name, "these counts are too long a fraction to be kept whole")
}
fn beats(g: &Given<'_>, book: &mut Book) -> Done {
    let train = pairs(g, "train")?;
    let escape = some(g, book, "escape")?;
    let per_hour = exact(g, "per_hour")?;
    if per_hour <= Fraction::ZERO {
        return Err(g.trouble("per_hour", "the first arbor must turn"));
    }
    let pace = product(g, "train", &train)?.times(per_hour).ok_or_else(|| too_long(g, "train"))?;
    let beats = pace.times(Fraction::whole(2 * i64::from(n(escape)))).ok_or_else(|| too_long(g, "train"))?;
    let counts = train.iter().map(|(w, p)| format!("{w}/{p}")).collect::<Vec<_>>().join(" × ");
    let formula = format!("2 × {} × {counts} × {}", n(escape), plain(per_hour));
    let b = put(book, "beats", number(beats), formula, &[escape.id()], &BEATS);
    put(book, "exact", plain(beats), "beats in lowest terms", &[b.id()], &BEATS);
    let turn = Fraction::whole(3600).over(pace).ok_or_else(|| too_long(g, "train"))?;
    put(book, "escape_turn", Time::si(turn.to_f64()), format!("3600 s / {}", plain(pace)), &[b.id()], &PAIR);
    let hand = match (turn == Fraction::whole(60), train.len() % 2 == 0) {
        (true, true) => "on the escape arbor",
        (true, false) => "none: it would run backwards on the escape arbor",
        (false, _) => "none on the escape arbor",
    };
    put(
        book,
        "seconds_hand",
        hand.to_owned(),
        "a turn in exactly 60 s, clockwise with the first arbor",
        &[b.id()],
        &PAIR,
    );
    let gravity: Val<Acceleration> = more(g, book, "g")?;
    work!(
        book,
        "pendulum",
        |gravity, b| Length::si(
            gravity.value() * (7200.0 / b.value() / (2.0 * PI)) * (7200.0 / b.value() / (2.0 * PI))
        ),
        &PENDULUM
    );
    Ok(())
}
/// `great 144` as name and count.
fn named(g: &Given<'_>, param: &str, text: &str) -> Result<(String, u32), Trouble> {
    let text = text.trim();
    let split = text.rsplit_once(char::is_whitespace);
    let found = split.and_then(|(name, teeth)| Some((name.trim().to_owned(), teeth.parse::<u32>().ok()?)));
    found
        .filter(|(name, teeth)| !name.is_empty() && *teeth > 0)
        .ok_or_else(|| g.trouble(param, format!("'{text}' is not an arbor and its teeth such as: great 144")))
}
fn meshes(g: &Given<'_>) -> Result<Vec<Mesh>, Trouble> {
    let text = g.word("meshes")?;
    let mesh = |part: &str| {
        let part = part.trim();
        let (part, inside) = match part.strip_suffix("inside") {
            Some(rest) => (rest.trim(), true),
            None => (part, false),
        };
        let (driver, driven) = part.split_once('>').ok_or_else(|| {
            g.trouble("meshes", format!("'{part}' is not a mesh such as: great 144 > centre 12"))
        })?;
        let ((driver, w), (driven, p)) = (named(g, "meshes", driver)?, named(g, "meshes", driven)?);
        Ok(Mesh { inside, ..Mesh::outside(&driver, w, &driven, p) })
    };
    text.split(',').map(mesh).collect()
}
fn turns(g: &Given<'_>, book: &mut Book) -> Done {
    let works = Gearing::new(meshes(g)?);
    let arbor = g.word("arbor")?.trim().to_owned();
    let escape = match g.word_if("escape") {
        Some(t) => Some(named(g, "escape", &t)?),
        None => None,
    };
    let demand = if g.has("beats") {
        let (_, teeth) = escape
            .clone()
            .filter(|(name, _)| *name == arbor)
            .ok_or_else(|| g.trouble("beats", "beats want 'escape' on the arbor whose pace they set"))?;
        Demand::beats(&arbor, teeth, exact(g, "beats")?)
    } else if g.has("turn") {
        let (turn, _) = seconds(g, book, "turn")?;
        Demand::turn(&arbor, turn)
    } else {
        Some(Demand::turns(&arbor, exact(g, "per_hour")?))
    };
    let demand =
        demand.ok_or_else(|| g.trouble("arbor", "its pace is too long a fraction to be kept whole"))?;
    let solved = works.solve(&demand).map_err(|faults| {
        let all: Vec<String> = faults.iter().map(ToString::to_string).collect();
        g.trouble("meshes", all.join("; "))
    })?;
    let mut rows = Vec::new();
    for a in &solved.arbors {
        let key = slug(&a.arbor);
        let t = put(book, &format!("turns.{key}"), number(a.per_hour), a.path.clone(), &[], &PAIR);
        let turn = Time::si(a.turn().map_or(f64::INFINITY, Fraction::to_f64));
        put(book, &format!("turn.{key}"), turn, "1 h / turns", &[t.id()], &PAIR);
        let sense = if a.clockwise() { "clockwise" } else { "anticlockwise" };
        let way = format!("{} meshes from '{}', each turns it round", a.meshes, demand.arbor);
        put(book, &format!("sense.{key}"), sense.to_owned(), way, &[t.id()], &PAIR);
        put(book, &format!("hand.{key}"), a.hand().to_owned(), "turn and sense, exactly", &[t.id()], &PAIR);
        put(book, &format!("meshes.{key}"), Count(i64::from(a.meshes)), a.path.clone(), &[], &PAIR);
        rows.push(vec![
            Cell::word(&a.arbor),
            Cell::as_text(&number(a.per_hour), plain(a.pace())),
            Cell::of(&turn),
            Cell::word(sense),
            Cell::word(a.hand()),
        ]);
    }
    if let Some((name, teeth)) = &escape {
        let a = solved.of(name).ok_or_else(|| g.trouble("escape", format!("no arbor is called '{name}'")))?;
        let b = a.beats(*teeth).ok_or_else(|| too_long(g, "escape"))?;
        put(book, "beats", number(b), format!("2 × {teeth} × {}", plain(a.pace())), &[], &BEATS);
    }
    let heads = ["arbor", "turns an hour", "turn", "sense from the dial", "hand"];
    book.table("arbors", &heads, rows, "each from the one before, by its mesh", Vec::new(), &PAIR);
    Ok(())
}
fn duration(g: &Given<'_>, book: &mut Book) -> Done {
    let train = pairs(g, "train")?;
    let (last, id) = seconds(g, book, "last")?;
    let each = product(g, "train", &train)?.times(last).ok_or_else(|| too_long(g, "train"))?;
    let counts = train.iter().map(|(w, p)| format!("{w}/{p}")).collect::<Vec<_>>().join(" × ");
    let turn = put(book, "turn", Time::si(each.to_f64()), format!("last × {counts}"), &[id], &DURATION);
    let turns: Option<Val<Ratio>> = match (g.has("turns"), g.has("fall")) {
        (true, true) => return Err(g.trouble("fall", "give turns or a fall, not both")),
        (true, false) => Some(more(g, book, "turns")?),
        (false, true) => {
            let (fall, drum): (Val<Length>, Val<Diameter>) = (more(g, book, "fall")?, more(g, book, "drum")?);
            let line: Val<Diameter> = g.take(book, "line")?;
            if line.bare() < Diameter::ZERO {
                return Err(g.trouble("line", "a line has no negative diameter"));
            }
            let parts = some(g, book, "parts")?;
            Some(work!(book, "turns", |fall, parts, drum, line| cord_turns(fall, parts, drum, line), &CORD))
        }
        (false, false) => None,
    };
    if let Some(turns) = turns {
        work!(book, "time", |turn, turns| turn * turns.value(), &DURATION);
    } else if !g.has("wanted") {
        return Err(g.trouble("turns", "give turns, a fall or a wanted time"));
    }
    if g.has("wanted") {
        let wanted: Val<Time> = more(g, book, "wanted")?;
        work!(book, "needs", |wanted, turn| wanted / turn, &DURATION);
    }
    Ok(())
}
fn off(g: &Given<'_>, book: &mut Book) -> Done {
    let train = pairs(g, "train")?;
    let escape = some(g, book, "escape")?;
    let beats_of = |pairs: &[(u32, u32)], name: &str, escape: u32| {
        product(g, name, pairs)?
            .times(Fraction::whole(2 * i64::from(escape)))
            .ok_or_else(|| too_long(g, name))
    };
    let meant = beats_of(&train, "train", n(escape))?;
    let b = put(book, "beats", number(meant), "2 E × wheels / pinions, as meant", &[escape.id()], &BEATS);
    if g.has("built") || g.has("built_escape") {
        let built = if g.has("built") { pairs(g, "built")? } else { train.clone() };
        let teeth = if g.has("built_escape") { some(g, book, "built_escape")? } else { escape };
        let wants = beats_of(&built, "built", n(teeth))?;
        let w = put(book, "wants", number(wants), "2 E × wheels / pinions, as built", &[teeth.id()], &BEATS);
        let gained = gain(meant, wants).ok_or_else(|| too_long(g, "built"))?;
        let gained = Time::si(gained.to_f64());
        put(book, "gain", gained, "86400 s (beats / wants - 1) a day", &[b.id(), w.id()], &OFF_BY_ONE);
    }
    let all = off_by_one(&train);
    let row = |o: &crate::gear::OffByOne| {
        let what = if o.wheel { "wheel" } else { "pinion" };
        let gained = Time::si(o.gain.to_f64());
        vec![
            Cell::word(format!("stage {}, {what}", o.stage + 1)),
            Cell::of(&Count(i64::from(o.meant))),
            Cell::of(&Count(i64::from(o.cut))),
            Cell::as_text(&gained, format!("{} s", reckon::print::fixed(gained.value(), 2))),
        ]
    };
    let heads = ["which", "meant", "cut", "hands gain in a day"];
    let rows: Vec<_> = all.iter().map(row).collect();
    book.table("counts", &heads, rows, "each count one more and one less", vec![b.id()], &OFF_BY_ONE);
    let sizes = || all.iter().map(|o| crate::gear::size(o.gain));
    for (name, found) in [("least", sizes().min()), ("most", sizes().max())] {
        if let Some(found) = found {
            let says = "of the table, whatever its sign";
            put(book, name, Time::si(found.to_f64()), says, &[b.id()], &OFF_BY_ONE);
        }
    }
    Ok(())
}
fn meet(g: &Given<'_>, book: &mut Book) -> Done {
    let (wheel, pinion) = (some(g, book, "wheel")?, some(g, book, "pinion")?);
    let found = hunting(n(wheel), n(pinion)).ok_or_else(|| g.trouble("wheel", "both must have teeth"))?;
    let ids = [wheel.id(), pinion.id()];
    for (name, value, formula) in [
        ("common", found.common, "greatest common factor"),
        ("wheel_turns", found.wheel_turns, "leaves / common factor"),
        ("pinion_turns", found.pinion_turns, "teeth / common factor"),
    ] {
        put(book, name, Count(i64::from(value)), formula, &ids, &HUNTING);
    }
    put(book, "hunts", found.common == 1, "no common factor: every tooth meets every leaf", &ids, &HUNTING);
    Ok(())
}
