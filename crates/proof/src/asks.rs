//! Questions about programs: how a text is read, what an arc is, what is removed, which speeds a control may run.

use crate::control::{Control, Machine, Plane};
use crate::milling::{self, Cutter};
use crate::moves::Does;
use crate::sweep::{self, Convex};
use crate::{Reading, arc, limits, read};
use kurbo::Point;
use reckon::ask::{self, Done, ask, need, one_of, or};
use reckon::{Angle, Area, Ask, Book, Count, Given, Id, Length, Source, Time, Trouble, Val, Volume};
use shape::region::{Corner, Region};

/// How words are read.
static WORDS: Source = Source::read(
    "NISTIR 6556 (2000), sections 3.3 to 3.6: words, arcs, modes; X of a lathe as a diameter is common practice",
);
/// What is removed.
static SWEPT: Source =
    Source::derived("a disc moved along the way of its middle, taken off the stock in plan");
/// What a round cutter reaches.
static REACHED: Source = Source::derived(
    "the outline shrunk by the cutter's radius and grown again: where its middle may be, and what it then covers",
);
/// A polygon for a disc.
static CHORDS: Source =
    Source::derived("regular polygon with its corners on the circle").with_formula("A = N/2 R² sin(2π/N)");
/// Speeds.
static LAWS: Source =
    Source::derived("speed by lead, by surface, by feed a turn").with_formula("n = v/(π d), n = v/P");
/// Tapping.
static TAP: Source = Source::read("NISTIR 6556 (2000), 3.5.16.5: speed is feed by threads in a millimetre");
/// Rounding.
static ROUNDED: Source = Source::derived(
    "start, end and centre are each off by half a unit along both axes, the centre counts for both ends",
)
.with_formula("4 · √2 · half a unit");

const TEXT: reckon::Param = need("text", "the program, its lines parted by semicolons");
const MACHINE: reckon::Param = or("machine", "mill", "mill or lathe");

static ASKS: &[Ask] = &[
    ask(
        "program.read",
        "how a control reads a program: moves, where it ends, faults",
        &[TEXT, MACHINE],
        &["moves", "end_x", "end_y", "end_z", "way", "time", "faults"],
        r#"text="G21 G90 G17 G94; G0 X0 Y0 Z1; G1 Z0 F100; G1 X10" machine="mill""#,
        reads,
    ),
    ask(
        "program.arc",
        "the last arc of a program: centre, radius and how far round, in its plane",
        &[TEXT, MACHINE],
        &["first", "second", "radius", "sweep", "faults"],
        r#"text="G21 G90 G17 G94; G0 X7 Y7 Z0; G2 X10 Y16 I3 J4 F100""#,
        last_arc,
    ),
    ask(
        "program.misfit",
        "by how much the ends of an arc differ in radius, and whether that is taken",
        &[
            need("start", "x and y, between commas"),
            need("end", "x and y, between commas"),
            need("centre", "x and y, between commas"),
            or("slack", "0.002 mm", "what a control stands"),
        ],
        &["misfit", "taken"],
        r#"start="0 mm, 0 mm" end="10.004 mm, 0 mm" centre="5 mm, 0 mm""#,
        misfit,
    ),
    ask(
        "program.rounding",
        "largest misfit of an arc whose words are rounded",
        &[need("decimals", "of a millimetre")],
        &["misfit"],
        r#"decimals="4""#,
        rounding,
    ),
    ask(
        "program.removal",
        "what an end mill takes off a rectangle of sheet",
        &[
            TEXT,
            need("cutter", "diameter"),
            need("stock", "lower left and upper right corner: x, y, x, y"),
            need("thick", "thickness of the sheet; its upper face is at zero"),
        ],
        &["cut", "volume", "left", "faults"],
        r#"text="G21 G90 G17 G94; S3000 M3; G0 X0 Y0 Z1; G1 Z-1 F100; X10; Y8; G0 Z1; M5; M30" cutter="3 mm" stock="-5 mm, -5 mm, 25 mm, 17 mm" thick="2 mm""#,
        removal,
    ),
    ask(
        "program.reach",
        "what a round cutter cannot reach of a rectangular pocket",
        &[need("long", "its length"), need("wide", "its width"), need("cutter", "diameter")],
        &["unreached", "each_corner"],
        r#"long="20 mm" wide="12 mm" cutter="3 mm""#,
        reach,
    ),
    ask(
        "program.chords",
        "a disc as the proof sweeps it: its area in chords, and what it lacks",
        &[need("radius", "of the disc"), need("chords", "how many")],
        &["area", "lacks"],
        r#"radius="1.5 mm" chords="64""#,
        chords,
    ),
    ask(
        "program.speeds",
        "surface speed held to a highest speed; where that begins",
        &[
            need("surface_speed", "m/min"),
            need("most", "highest speed of the spindle"),
            need("diameter", "that is cut"),
        ],
        &["rpm", "held_below"],
        r#"surface_speed="60 m/min" most="3000 rpm" diameter="24 mm""#,
        speeds,
    ),
    ask(
        "program.thread",
        "highest speed at which the slide follows a thread",
        &[need("lead", "of the thread"), need("slide", "its fastest feed")],
        &["rpm"],
        r#"lead="1.25 mm" slide="600 mm/min""#,
        thread,
    ),
    ask(
        "program.feed",
        "feed a minute of a feed a turn",
        &[need("per_turn", "feed a turn"), need("rpm", "speed")],
        &["feed"],
        r#"per_turn="0.04 mm" rpm="1500 rpm""#,
        feed,
    ),
    ask(
        "program.tap",
        "speed of a tap that follows a feed",
        &[need("pitch", "of the tap"), need("feed", "a minute")],
        &["rpm"],
        r#"pitch="0.5 mm" feed="150 mm/min""#,
        tap,
    ),
];

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    ASKS.iter().collect()
}

fn reading(g: &Given<'_>) -> Result<(Reading, Control), Trouble> {
    let machine = one_of(g, "machine", Machine::WORDS)?;
    reading_of(g, if machine == Machine::Lathe { Control::lathe() } else { Control::mill() })
}
fn reading_of(g: &Given<'_>, mut control: Control) -> Result<(Reading, Control), Trouble> {
    // A question is a piece of a program.
    control.needs_tool = false;
    control.needs_end = false;
    let text: String = g.word("text")?.split(';').map(|line| format!("{}\n", line.trim())).collect();
    Ok((read(&text, &control), control))
}
fn told(book: &mut Book, faults: &[crate::Fault], source: &'static Source) {
    let all: Vec<String> =
        faults.iter().map(|f| format!("{} in line {}: {}", f.wrong.word(), f.spot.line, f.says)).collect();
    let text = if all.is_empty() { "none".to_owned() } else { all.join("; ") };
    book.chosen("faults", text, "in the order of the text", Vec::new(), Vec::new(), source);
}
fn put<T: reckon::Shown>(book: &mut Book, name: &str, v: T, how: &str, source: &'static Source) {
    book.solved(name, v, (how, 1, 0.0), Vec::<Id>::new(), source);
}
fn square(mm2: f64) -> Area {
    Area::si(mm2 * 1e-6)
}
fn reads(g: &Given<'_>, book: &mut Book) -> Done {
    let (reading, control) = reading(g)?;
    let steps = &reading.program.steps;
    let n = i64::try_from(reading.program.motions().count()).unwrap_or(i64::MAX);
    put(book, "moves", Count(n), "moves whose start and end are known", &WORDS);
    let mut at = [0.0; 3];
    for step in steps {
        match (&step.does, step.ends()) {
            (Does::Approach { to }, _) => (0..3).for_each(|i| at[i] = to[i].unwrap_or(at[i])),
            (_, Some((_, to))) => at = to,
            _ => {}
        }
    }
    for (name, v) in [("end_x", at[0]), ("end_y", at[1]), ("end_z", at[2])] {
        put(book, name, Length::mm(v), "where the last move ends; X of a lathe as a radius", &WORDS);
    }
    let way: f64 = steps.iter().map(crate::Step::length).sum();
    put(book, "way", Length::mm(way), "length of all moves", &WORDS);
    let minutes = reading.program.minutes(control.rapid);
    put(book, "time", Time::si(60.0 * minutes), "each move at its feed, rapids at 1500 mm/min", &WORDS);
    told(book, &reading.faults, &WORDS);
    Ok(())
}
fn last_arc(g: &Given<'_>, book: &mut Book) -> Done {
    let (reading, _) = reading(g)?;
    let arcs = reading.program.steps.iter().rev();
    let last = arcs.filter_map(|s| if let Does::Arc { arc, .. } = s.does { Some(arc) } else { None }).next();
    let Some(arc) = last else {
        let mut trouble = g.trouble("text", "no arc of it can be followed");
        if let Some(fault) = reading.faults.first() {
            trouble = trouble.why(format!("{}: {}", fault.wrong.word(), fault.says));
        }
        return Err(trouble);
    };
    let axes = match arc.plane {
        Plane::Xy => "x and y",
        Plane::Zx => "z and the radius",
        Plane::Yz => "y and z",
    };
    let how = format!("centre as {axes}");
    put(book, "first", Length::mm(arc.centre.x), &how, &WORDS);
    put(book, "second", Length::mm(arc.centre.y), &how, &WORDS);
    put(book, "radius", Length::mm(arc.radius), "from the centre to the start", &WORDS);
    put(book, "sweep", Angle::si(arc.sweep), "anticlockwise positive", &WORDS);
    told(book, &reading.faults, &WORDS);
    Ok(())
}
fn place(g: &Given<'_>, book: &mut Book, name: &str) -> Result<Point, Trouble> {
    let both: Vec<Val<Length>> = g.take_list(book, name)?;
    match both.as_slice() {
        [x, y] => Ok(Point::new(x.bare().in_mm(), y.bare().in_mm())),
        _ => Err(g.trouble(name, format!("'{name}' wants two lengths between commas"))),
    }
}
fn misfit(g: &Given<'_>, book: &mut Book) -> Done {
    let (start, end, centre) = (place(g, book, "start")?, place(g, book, "end")?, place(g, book, "centre")?);
    let slack: Val<Length> = ask::within(g, book, "slack", Length::mm(0.0), Length::mm(1.0))?;
    let off = ((start - centre).hypot2().sqrt() - (end - centre).hypot2().sqrt()).abs();
    put(book, "misfit", Length::mm(off), "difference of the two radii", &WORDS);
    let taken = match arc::about(Plane::Xy, start, end, centre, true, slack.bare().in_mm()) {
        Ok(_) => "yes",
        Err(_) => "no",
    };
    book.chosen("taken", taken.to_owned(), "no more than the slack", Vec::new(), vec![slack.id()], &WORDS);
    Ok(())
}
fn rounding(g: &Given<'_>, book: &mut Book) -> Done {
    let decimals = g.count(book, "decimals")?;
    let n = decimals.bare().0;
    if !(0..=9).contains(&n) {
        return Err(g.trouble("decimals", "between none and nine"));
    }
    let unit = (0..n).fold(1.0, |unit, _| unit / 10.0);
    let worst = 4.0 * 2.0_f64.sqrt() * 0.5 * unit;
    book.solved(
        "misfit",
        Length::mm(worst),
        ("four shares of half a unit along both axes", 1, 0.0),
        vec![decimals.id()],
        &ROUNDED,
    );
    Ok(())
}
fn removal(g: &Given<'_>, book: &mut Book) -> Done {
    let (reading, control) = reading_of(g, Control::mill())?;
    let cutter: Val<Length> = ask::within(g, book, "cutter", Length::mm(0.05), Length::mm(100.0))?;
    let thick: Val<Length> = ask::within(g, book, "thick", Length::mm(0.05), Length::mm(500.0))?;
    let stock: Vec<Val<Length>> = g.take_list(book, "stock")?;
    let corners: Vec<f64> = stock.iter().map(|v| v.bare().in_mm()).collect();
    let [x0, y0, x1, y1] = corners.as_slice() else {
        return Err(g.trouble("stock", "'stock' wants four lengths between commas"));
    };
    let plan = Region::rectangle(Point::new(*x0, *y0), Point::new(*x1, *y1))
        .map_err(|fault| g.trouble("stock", fault.to_string()))?;
    let (d, t) = (cutter.bare().in_mm(), thick.bare().in_mm());
    let mut set_up = milling::SetUp::plate(-t, 0.0, plan, Cutter::end_mill(d, t + 20.0, t + 40.0));
    set_up.within = 1.0e-5;
    let milled = milling::prove(&reading.program, &control, &set_up);
    let (before, after) = (milling::volume(&milled.before), milling::volume(&milled.after));
    let top = |slabs: &[milling::Slab]| slabs.last().map_or(0.0, |slab| slab.region.area());
    let cut = top(&milled.before) - top(&milled.after);
    put(book, "cut", square(cut), "taken off the upper face", &SWEPT);
    put(book, "volume", Volume::si((before - after) * 1e-9), "taken off in all", &SWEPT);
    put(book, "left", Volume::si(after * 1e-9), "left", &SWEPT);
    let all: Vec<crate::Fault> = reading.faults.into_iter().chain(milled.faults).collect();
    told(book, &all, &SWEPT);
    Ok(())
}
fn reach(g: &Given<'_>, book: &mut Book) -> Done {
    let most = Length::mm(1.0e4);
    let long: Val<Length> = ask::within(g, book, "long", Length::mm(0.01), most)?;
    let wide: Val<Length> = ask::within(g, book, "wide", Length::mm(0.01), most)?;
    let cutter: Val<Length> = ask::within(g, book, "cutter", Length::mm(0.01), most)?;
    let r = cutter.bare().in_mm() / 2.0;
    let wrong = |fault: shape::region::Fault| g.trouble("cutter", fault.to_string());
    let pocket = Region::rectangle(Point::ZERO, Point::new(long.bare().in_mm(), wide.bare().in_mm()))
        .map_err(|fault| g.trouble("long", fault.to_string()))?;
    let within = 1.0e-6 * r.max(1.0);
    let middle = pocket.offset(-r, Corner::Round, within).map_err(wrong)?;
    let covered = middle.offset(r, Corner::Round, within).map_err(wrong)?;
    let left = pocket.difference(&covered);
    let ids = vec![long.id(), wide.id(), cutter.id()];
    let how = ("pocket less what the cutter covers", 1, 0.0);
    book.solved("unreached", square(left.area()), how, ids.clone(), &REACHED);
    let largest = left.polygons().iter().map(|rings| sweep::area(&rings[0])).fold(0.0, f64::max);
    book.solved("each_corner", square(largest), ("largest piece of it", 1, 0.0), ids, &REACHED);
    Ok(())
}
fn chords(g: &Given<'_>, book: &mut Book) -> Done {
    let radius: Val<Length> = ask::within(g, book, "radius", Length::mm(0.001), Length::mm(1.0e4))?;
    let n = g.count(book, "chords")?;
    let count = u32::try_from(n.bare().0).ok().filter(|n| (3..=1_000_000).contains(n));
    let Some(count) = count else {
        return Err(g.trouble("chords", "between three and a million"));
    };
    let r = radius.bare().in_mm();
    let disc = Convex::disc(r, count).map_err(|_| g.trouble("radius", "it has no area"))?;
    let area = sweep::area(disc.corners());
    let ids = vec![radius.id(), n.id()];
    book.solved("area", square(area), ("polygon as it is swept", 1, 0.0), ids.clone(), &CHORDS);
    let lacks = reckon::maths::PI * r * r - area;
    book.solved("lacks", square(lacks), ("circle less polygon", 1, 0.0), ids, &CHORDS);
    Ok(())
}
fn rpm(book: &mut Book, name: &str, n: f64, ids: Vec<Id>, source: &'static Source) {
    book.solved(name, reckon::AngularSpeed::rpm(n), ("the law of the source", 1, 0.0), ids, source);
}
fn speeds(g: &Given<'_>, book: &mut Book) -> Done {
    let v: Val<reckon::Speed> = ask::more(g, book, "surface_speed")?;
    let most: Val<reckon::AngularSpeed> = ask::more(g, book, "most")?;
    let d: Val<Length> = ask::some(g, book, "diameter")?;
    let ids = vec![v.id(), most.id(), d.id()];
    let (speed, n) = (v.bare().value() * 60.0, most.bare().in_rpm());
    rpm(book, "rpm", limits::surface_rpm(speed, n, d.bare().in_mm()), ids.clone(), &LAWS);
    let held = Length::mm(limits::clamp_diameter(speed, n));
    book.solved("held_below", held, ("diameter at which it would be exceeded", 1, 0.0), ids, &LAWS);
    Ok(())
}
fn thread(g: &Given<'_>, book: &mut Book) -> Done {
    let lead: Val<Length> = ask::more(g, book, "lead")?;
    let slide: Val<reckon::Speed> = ask::more(g, book, "slide")?;
    let n = limits::thread_rpm(lead.bare().in_mm(), slide.bare().value() * 6.0e4);
    rpm(book, "rpm", n, vec![lead.id(), slide.id()], &LAWS);
    Ok(())
}
fn feed(g: &Given<'_>, book: &mut Book) -> Done {
    let turn: Val<Length> = ask::more(g, book, "per_turn")?;
    let n: Val<reckon::AngularSpeed> = ask::more(g, book, "rpm")?;
    let feed = limits::feed_a_minute(turn.bare().in_mm(), n.bare().in_rpm());
    let ids = vec![turn.id(), n.id()];
    book.solved(
        "feed",
        reckon::Speed::mm_per_min(feed),
        ("feed a turn by turns a minute", 1, 0.0),
        ids,
        &LAWS,
    );
    Ok(())
}
fn tap(g: &Given<'_>, book: &mut Book) -> Done {
    let pitch: Val<Length> = ask::more(g, book, "pitch")?;
    let feed: Val<reckon::Speed> = ask::more(g, book, "feed")?;
    let n = limits::tapping_rpm(feed.bare().value() * 6.0e4, pitch.bare().in_mm());
    rpm(book, "rpm", n, vec![pitch.id(), feed.id()], &TAP);
    Ok(())
}
