//! A set-up as plain text, beside a program from elsewhere.
//!
//! All numbers are millimetres, degrees, mm/min and turns a minute, in the program's own coordinates.

use super::page::{Page, Table, numbers};
use super::{SetUp, Trial};
use kurbo::{Point, Vec2};
use proof::Control;
use proof::control::{
    Across, Centre, Distance, DwellIn, FeedMode, Machine, Percent, Plane, RapidPath, ToolWord, Travel,
    WithoutPoint,
};
use proof::milling::{self, Cutter, Cylinder, Slab};
use proof::sweep::{Convex, NotConvex};
use proof::turning::{self, Insert, Tool, Way};
use reckon::Trouble;
use shape::region::{Region, Step, Turn};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A set-up for a mill and one for a lathe to begin with: what each word says stands beside it.
pub const FORM: (&str, &str) =
    (include_str!("../../../docs/programs/plate.toml"), include_str!("../../../docs/programs/pin.toml"));

/// How closely outlines of this text follow their arcs.
const FINE: f64 = 5.0e-4;

const TOP: &[&str] =
    &["machine", "tolerance", "control", "stock", "wanted", "judged", "clamp", "jaws", "tool"];
const CONTROL: &[&str] = &[
    "words",
    "decimals",
    "without_point",
    "arcs",
    "radius_arcs",
    "percent",
    "comments",
    "longest_line",
    "dwell",
    "dwell_letter",
    "tool_word",
    "across",
    "synchronised",
    "acceleration",
    "run_in",
    "plane",
    "distance",
    "feed",
    "speeds",
    "stepless",
    "chuck_most",
    "fastest_feed",
    "rapid",
    "rapids",
    "travel",
    "start",
];
const SHAPE: &[&str] = &["from", "to", "outline", "rectangle", "disc", "without"];
const TOOL: &[&str] = &[
    "number",
    "kind",
    "diameter",
    "flutes",
    "projects",
    "point",
    "thickness",
    "arbor",
    "nose",
    "front",
    "back",
    "length",
    "controlled",
    "width",
    "angle",
    "flat",
    "depth",
    "holder",
    "most_feed",
    "way",
    "most_bite",
    "most_speed",
    "near_axis",
];

/// Every word that a set-up may hold, by what it stands in.
pub const WORDS: &[(&str, &[&str])] =
    &[("set-up", TOP), ("control", CONTROL), ("shape", SHAPE), ("tool", TOOL)];

/// Reads a set-up.
///
/// # Errors
/// Everything that is wrong with it, each at its place.
pub fn read(file: &str, text: &str) -> Result<Trial, Vec<Trouble>> {
    let page = Page { file: Arc::from(file), text, troubles: RefCell::new(Vec::new()) };
    let (top, faults) = DeTable::parse_recoverable(text);
    for fault in &faults {
        let span = fault.span().unwrap_or(0..0);
        page.tell(span, format!("this is not TOML: {}", fault.message()), "mend it first");
    }
    if !faults.is_empty() {
        return Err(page.troubles.into_inner());
    }
    let trial = {
        let top = Table::new(&page, "this set-up", 0..0, top.get_ref(), TOP);
        trial(&top)
    };
    let troubles = page.troubles.into_inner();
    match trial {
        Some(trial) if troubles.is_empty() => Ok(trial),
        _ if troubles.is_empty() => Err(vec![Trouble::text("this set-up cannot be read")]),
        _ => Err(troubles),
    }
}
fn trial(top: &Table<'_, '_>) -> Option<Trial> {
    if top.get("machine").is_none() {
        top.lacks("machine", "\"mill\"");
    }
    let machine = top.word("machine", Machine::WORDS)?;
    let tolerance = top.must("tolerance", "0.02");
    let control = control(top, machine);
    let set_up = match machine {
        Machine::Mill => {
            for key in ["jaws", "judged"] {
                idle(top, key, "a mill");
            }
            SetUp::Mill(mill(top, tolerance))
        }
        Machine::Lathe => {
            idle(top, "clamp", "a lathe");
            SetUp::Lathe(lathe(top, tolerance))
        }
    };
    Some(Trial { control, set_up })
}
fn idle(t: &Table<'_, '_>, key: &str, of: &str) {
    if let Some(v) = t.get(key) {
        t.page.tell(v.span(), format!("'{key}' says nothing about {of}"), "leave it out");
    }
}
fn control(top: &Table<'_, '_>, machine: Machine) -> Control {
    let mut c = if machine == Machine::Lathe { Control::lathe() } else { Control::mill() };
    let Some(t) = top.table("control", "control", CONTROL) else { return c };
    if let Some(words) = t.texts("words") {
        c.words = words.into_iter().map(|(word, _)| word).collect();
    }
    if let Some(n) = t.count("decimals") {
        c.most_decimals = Some(n as usize);
    }
    let take = |own: &mut _, new: Option<_>| {
        if let Some(new) = new {
            *own = new;
        }
    };
    if let Some(w) = t.word("without_point", WithoutPoint::WORDS) {
        c.without_point = w;
    }
    if let Some(w) = t.word("arcs", Centre::WORDS) {
        c.centre = w;
    }
    if let Some(w) = t.word("percent", Percent::WORDS) {
        c.percent = w;
    }
    if let Some(w) = t.word("dwell", DwellIn::WORDS) {
        c.dwell.1 = w;
    }
    if let Some(w) = t.word("dwell_letter", &[("P", 'P'), ("X", 'X'), ("U", 'U'), ("S", 'S')]) {
        c.dwell.0 = w;
    }
    c.needs_tool = t.get("tool_word").is_none() && c.needs_tool;
    if let Some(w) = t.word(
        "tool_word",
        &[
            ("number", Some(ToolWord::Number)),
            ("number and offset", Some(ToolWord::NumberAndOffset)),
            ("none", None),
        ],
    ) {
        c.needs_tool = w.is_some();
        c.tool_word = w.unwrap_or(ToolWord::Number);
    }
    if let Some(w) = t.word("across", Across::WORDS) {
        c.across = w;
    }
    if let Some(w) = t.word("rapids", RapidPath::WORDS) {
        c.rapid_path = w;
    }
    c.plane = t.word("plane", Plane::WORDS).or(c.plane);
    c.distance = t.word("distance", Distance::WORDS).or(c.distance);
    c.feed_mode = t.word("feed", FeedMode::WORDS).or(c.feed_mode);
    take(&mut c.radius_arcs, t.flag("radius_arcs"));
    take(&mut c.comments, t.flag("comments"));
    take(&mut c.threads, t.flag("synchronised"));
    if let Some(n) = t.count("longest_line") {
        c.longest_line = n as usize;
    }
    c.acceleration = t.size("acceleration").or(c.acceleration);
    c.run_in = t.size("run_in").or(c.run_in);
    c.chuck_most = t.size("chuck_most").or(c.chuck_most);
    if let Some(f) = t.size("fastest_feed") {
        c.fastest_feed = f;
        c.fastest_thread = f;
        c.rapid = f;
    }
    c.rapid = t.size("rapid").unwrap_or(c.rapid);
    if let Some(all) = t.get("speeds") {
        match numbers(all) {
            Some(speeds) if !speeds.is_empty() && speeds.windows(2).all(|w| w[0] < w[1]) => {
                c.spindle = (speeds[0], speeds[speeds.len() - 1]);
                c.spindle_steps = if t.flag("stepless") == Some(true) { Vec::new() } else { speeds };
            }
            _ => t.page.tell(
                all.span(),
                "'speeds' of control is not a list of rising numbers".to_owned(),
                "write the spindle's speeds, low to high",
            ),
        }
    }
    let axes: &[&str] = if machine == Machine::Lathe { &["x", "z"] } else { &["x", "y", "z"] };
    if let Some(travel) = t.table("travel", "travel", axes) {
        c.travel = Travel {
            x: travel.range("x"),
            y: if machine == Machine::Mill { travel.range("y") } else { None },
            z: travel.range("z"),
            kept_free: 0.0,
        };
    }
    c.start = match machine {
        Machine::Mill => t.numbers::<3>("start"),
        Machine::Lathe => t.numbers::<2>("start").map(|[x, z]| {
            let half = if c.across == Across::Diameter { 0.5 } else { 1.0 };
            [x * half, 0.0, z]
        }),
    };
    c
}

// ---- shapes -------------------------------------------------------------------------------------

/// A point of an outline, or an arc to one.
fn step(t: &Table<'_, '_>, v: &Spanned<DeValue<'_>>) -> Option<Step> {
    let point = |all: Vec<f64>| <[f64; 2]>::try_from(all).ok().map(|[x, y]| Point::new(x, y));
    let made = match v.get_ref() {
        DeValue::Array(_) => numbers(v).and_then(point).map(|to| Step::Line { to }),
        DeValue::Table(inner) => (|| {
            let to = point(numbers(inner.get("to")?)?)?;
            let centre = point(numbers(inner.get("centre")?)?)?;
            let turn = match inner.get("turn")?.get_ref() {
                DeValue::String(s) if &**s == "left" => Turn::Left,
                DeValue::String(s) if &**s == "right" => Turn::Right,
                _ => return None,
            };
            Some(Step::Arc { to, centre, turn })
        })(),
        _ => None,
    };
    if made.is_none() {
        t.page.tell(
            v.span(),
            format!("this is no point of an outline of {}", t.name),
            "write [x, y], or { to = [x, y], centre = [x, y], turn = \"left\" }",
        );
    }
    made
}
/// A region by one of its words.
fn region(t: &Table<'_, '_>) -> Option<Region> {
    let given: Vec<&str> =
        ["outline", "rectangle", "disc"].into_iter().filter(|k| t.get(k).is_some()).collect();
    let [key] = *given.as_slice() else {
        let span = t.span.clone();
        let says = if given.is_empty() {
            format!("{} has no shape", t.name)
        } else {
            format!("{} has two shapes", t.name)
        };
        t.page.tell(
            span,
            says,
            "write one of outline, rectangle = [x0, y0, x1, y1], disc = [x, y, diameter]",
        );
        return None;
    };
    let made = match key {
        "rectangle" => {
            let [x0, y0, x1, y1] = t.numbers::<4>("rectangle")?;
            Region::rectangle(Point::new(x0, y0), Point::new(x1, y1))
        }
        "disc" => {
            let [x, y, d] = t.numbers::<3>("disc")?;
            Region::disc(Point::new(x, y), 0.5 * d, FINE)
        }
        _ => {
            let steps: Vec<Step> = t.list("outline")?.iter().filter_map(|v| step(t, v)).collect();
            match steps.split_first() {
                Some((Step::Line { to }, rest)) if rest.len() > 1 || matches!(rest, [Step::Arc { .. }]) => {
                    Region::outline(*to, rest, FINE)
                }
                _ => {
                    let span = t.get(key)?.span();
                    let says = format!("the outline of {} bounds nothing", t.name);
                    t.page.tell(span, says, "begin with a point [x, y], and write at least three");
                    return None;
                }
            }
        }
    };
    let whole = match made {
        Ok(whole) if !whole.is_empty() => whole,
        Ok(_) => {
            let says = format!("the {key} of {} bounds nothing", t.name);
            t.page.tell(t.get(key)?.span(), says, "check its numbers");
            return None;
        }
        Err(fault) => {
            let says = format!("the {key} of {} cannot be: {fault}", t.name);
            t.page.tell(t.get(key)?.span(), says, "check its numbers");
            return None;
        }
    };
    let holes = t.tables("without", "a hole", &["outline", "rectangle", "disc", "without"]);
    Some(holes.iter().filter_map(region).fold(whole, |rest, hole| rest.difference(&hole)))
}
fn slabs(top: &Table<'_, '_>, key: &str, name: &'static str) -> Vec<Slab> {
    let mut all = Vec::new();
    for t in top.tables(key, name, SHAPE) {
        let plan = region(&t);
        let (from, to) = (t.number("from"), t.number("to"));
        for (key, value) in [("from", from), ("to", to)] {
            if value.is_none() && t.get(key).is_none() {
                t.lacks(key, "-2");
            }
        }
        if let (Some(from), Some(to)) = (from, to)
            && from >= to
        {
            let says = format!("{} goes from {from} up to {to}", t.name);
            t.page.tell(t.span.clone(), says, "'from' is the lower face, 'to' the upper");
        }
        if let (Some(plan), Some(low), Some(high)) = (plan, from, to) {
            all.push(Slab::new(low, high, plan));
        }
    }
    all
}
fn regions(top: &Table<'_, '_>, key: &str, name: &'static str) -> Region {
    let tables = top.tables(key, name, &["outline", "rectangle", "disc", "without"]);
    let all: Vec<Region> = tables.iter().filter_map(region).collect();
    Region::union_of(&all)
}
fn needs(top: &Table<'_, '_>, key: &str, example: &str) {
    if top.get(key).is_none() {
        top.lacks(key, example);
    }
}

// ---- machines -----------------------------------------------------------------------------------

fn mill(top: &Table<'_, '_>, tolerance: Option<f64>) -> milling::SetUp {
    needs(top, "stock", "[{ from = -2, to = 0, rectangle = [0, 0, 30, 20] }]");
    let wanted = slabs(top, "wanted", "wanted");
    let wanted = (!wanted.is_empty()).then(|| milling::Wanted::exactly(wanted, tolerance.unwrap_or(0.02)));
    let cutters = tools(top, cutter);
    milling::SetUp {
        stock: slabs(top, "stock", "stock"),
        clamps: slabs(top, "clamp", "clamp"),
        wanted,
        cutters,
        daylight: None,
        within: FINE,
        layer: 0.1,
        touch: 1.0e-6,
    }
}
fn lathe(top: &Table<'_, '_>, tolerance: Option<f64>) -> turning::SetUp {
    needs(top, "stock", "[{ rectangle = [-40, 0, 0, 4] }]");
    let room = tolerance.unwrap_or(0.02);
    let wanted = regions(top, "wanted", "wanted");
    let judged = regions(top, "judged", "judged");
    let wanted = (!wanted.is_empty()).then(|| turning::Wanted {
        judged: (!judged.is_empty()).then_some(judged),
        ..turning::Wanted::exactly(wanted, room)
    });
    turning::SetUp {
        stock: regions(top, "stock", "stock"),
        jaws: regions(top, "jaws", "jaws"),
        wanted,
        tools: tools(top, tool),
        within: FINE,
        touch: 1.0e-6,
    }
}
fn tools<T>(top: &Table<'_, '_>, one: fn(&Table<'_, '_>) -> Option<T>) -> BTreeMap<u32, T> {
    needs(top, "tool", "[{ number = 1, … }]");
    let mut all = BTreeMap::new();
    for t in top.tables("tool", "tool", TOOL) {
        let number = t.count("number").unwrap_or(0);
        if let Some(made) = one(&t)
            && all.insert(number, made).is_some()
        {
            let says = format!("tool {number} stands twice");
            t.page.tell(t.span.clone(), says, "give each tool a number of its own");
        }
    }
    all
}
fn cutter(t: &Table<'_, '_>) -> Option<Cutter> {
    needs(t, "kind", "\"end mill\"");
    let kind = t.word("kind", &[("end mill", 0), ("drill", 1), ("disc", 2)])?;
    let diameter = t.must("diameter", "3");
    let projects = t.must("projects", "25");
    let mut made = if kind == 2 {
        let (thickness, arbor) = (t.must("thickness", "1"), t.must("arbor", "10"));
        Cutter::disc(diameter?, thickness?, arbor?, projects?)
    } else {
        let flutes = t.must("flutes", "8");
        match kind {
            0 => Cutter::end_mill(diameter?, flutes?, projects?),
            _ => Cutter::drill(diameter?, t.size("point").unwrap_or(118.0), flutes?, projects?),
        }
    };
    made.most_feed = t.size("most_feed");
    for key in ["way", "most_bite", "most_speed", "near_axis"] {
        idle(t, key, "a cutter of a mill");
    }
    if let Some(all) = t.list("holder") {
        for v in all {
            match numbers(v).as_deref() {
                Some([low, high, diameter]) if low < high && *diameter > 0.0 => {
                    made.shank.push(Cylinder { low: *low, high: *high, radius: 0.5 * diameter });
                }
                _ => t.page.tell(
                    v.span(),
                    "this is no piece of a holder".to_owned(),
                    "write [from, to, diameter], heights from the tip",
                ),
            }
        }
    }
    Some(made)
}
fn tool(t: &Table<'_, '_>) -> Option<Tool> {
    needs(t, "kind", "\"turning\"");
    let kind = t.word("kind", &[("turning", 0), ("blade", 1), ("thread", 2), ("drill", 3)])?;
    let made: Result<Tool, NotConvex> = match kind {
        0 => {
            let (nose, front, back) = (t.must("nose", "0.2"), t.must("front", "95"), t.must("back", "35"));
            let length = t.must("length", "6");
            let (nose, front, back, length) = (nose?, front?, back?, length?);
            let tip = t.word("controlled", &[("nose centre", false), ("tip", true)])?;
            // The imaginary sharp tip: as far left and as far down as the nose reaches.
            let controlled = if tip { Vec2::new(-nose, -nose) } else { Vec2::ZERO };
            let insert = Insert { nose, front, back, length, chords: 48, controlled };
            insert.outline().map(|o| Tool { cutting: vec![o], ..Tool::default() })
        }
        1 => {
            let (width, length) = (t.must("width", "1.2"), t.must("length", "8"));
            Tool::blade(width?, length?)
        }
        2 => {
            let (angle, depth) = (t.must("angle", "60"), t.must("depth", "1"));
            Tool::thread_point(angle?, t.size("flat").unwrap_or(0.0), depth?)
        }
        _ => {
            let (diameter, flutes) = (t.must("diameter", "3"), t.must("flutes", "30"));
            Tool::drill(diameter?, t.size("point").unwrap_or(118.0), flutes?)
        }
    };
    let mut made = made
        .map_err(|_| {
            let says = "this tool is no convex shape".to_owned();
            t.page.tell(t.span.clone(), says, "check its angles: front less back is the angle of its point");
        })
        .ok()?;
    made.most_bite = t.size("most_bite");
    made.most_speed = t.size("most_speed");
    if let Some([radius, feed]) = t.numbers::<2>("near_axis") {
        made.near_axis = Some((radius, feed));
    }
    if let Some(way) = t.word("way", Way::WORDS) {
        made.way = way;
    }
    made.most_feed = t.size("most_feed");
    if let Some(all) = t.list("holder") {
        let points: Option<Vec<Point>> = all
            .iter()
            .map(|v| match numbers(v).as_deref() {
                Some([z, r]) => Some(Point::new(*z, *r)),
                _ => {
                    t.page.tell(v.span(), "this is no point [z, radius]".to_owned(), "write two numbers");
                    None
                }
            })
            .collect();
        match points.map(|p| Convex::around(&p)) {
            Some(Ok(holder)) => made.holder.push(holder),
            Some(Err(_)) => {
                let says = "the holder bounds nothing".to_owned();
                t.page.tell(t.span.clone(), says, "write at least three points [z, radius]");
            }
            None => {}
        }
    }
    Some(made)
}

#[cfg(test)]
mod tests {
    use super::{FORM, read};

    #[test]
    fn the_forms_can_be_read() {
        for text in [FORM.0, FORM.1] {
            assert!(read("form.toml", text).is_ok(), "{:?}", read("form.toml", text));
        }
    }
    #[test]
    fn bad_texts_are_told_at_their_place() {
        let told = |text: &str| {
            let troubles = read("x.toml", text).expect_err("it is bad");
            troubles.iter().map(|t| (t.says.clone(), t.at[0].line)).collect::<Vec<_>>()
        };
        assert_eq!(
            told("machine = \"press\""),
            [("'machine' of this set-up is one of \"lathe\", \"mill\"".into(), 1)]
        );
        let bad = FORM.0.replace("disc = ", "disk = ");
        assert!(told(&bad).iter().any(|(says, _)| says.contains("unknown word 'disk'")), "{:?}", told(&bad));
        assert!(told("machine = ").iter().any(|(says, _)| says.starts_with("this is not TOML")));
        let bad = FORM.1.replace("nose = 0.2", "nose = -0.2");
        assert_eq!(told(&bad).len(), 1, "{:?}", told(&bad));
    }
}
