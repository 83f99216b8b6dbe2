//! What holds for the plan of any hardware in any shop.

use crate::shed::{self, Work, clock, mm, same, shop, turns_and_divisions, work};
use making::plan::stock::StockChoice;
use making::plan::{Figure, SetUp};
use movement::part::{Body, Part};
use proptest::prelude::*;
use reckon::print::DialSense;
use reckon::{Book, Origin, Trouble};
use record::facts::{DialFacts, StockForm};
use std::collections::{BTreeMap, BTreeSet};

/// A hacksaw cut with its set: common practice, no source.
const SAW: f64 = 1.5;

fn any_case() -> ProptestConfig {
    ProptestConfig { cases: 192, failure_persistence: None, ..ProptestConfig::default() }
}
proptest! {
    #![proptest_config(any_case())]
    #[test]
    fn any_hardware_in_any_shop(clock in clock(), shop in shop()) {
        all(&work(&clock, &shop));
    }
}
#[test]
fn the_shipped_examples() {
    for name in ["ten-screws", "hardware"] {
        let work = Work::example(name);
        assert!(!work.troubles.iter().any(Trouble::stops), "{name}: {:?}", work.troubles);
        assert_eq!(work.making.parts.len(), work.parts.len(), "{name}");
        all(&work);
    }
}
/// Every law.
fn all(work: &Work) {
    the_book_is_whole(&work.book);
    for plan in &work.making.parts {
        let part = &work.parts[plan.part];
        if let Body::Turned(_) = &part.body {
            bar_is_enough(work, part, &plan.stock);
        }
        times_add_up(plan);
    }
    cut_list_is_exact(work);
    cuts_are_bearable(work);
    threads_are_bearable(work);
    threads_have_their_blanks(work);
    speeds_are_the_machines(work);
    what_is_aimed_at_is_within_limits(work);
    holes_go_deep_enough(work);
    sheets_show_the_book(work);
    order_is_complete(work);
}

fn the_book_is_whole(book: &Book) {
    assert!(book.faults().is_empty(), "{:?}", book.faults());
    let mut seen = BTreeSet::new();
    for line in book.lines() {
        assert!(seen.insert(line.name.as_str()), "'{}' stands twice", line.name);
        let fine = |c: char| c == '_' || c.is_numeric() || (c.is_alphabetic() && !c.is_uppercase());
        let parts: Vec<&str> = line.name.split('.').collect();
        assert!(parts.iter().all(|p| !p.is_empty() && p.chars().all(fine)), "'{}'", line.name);
        assert!(line.si.is_none_or(f64::is_finite), "'{}' is {}", line.name, line.shown);
    }
}
/// n (length + facing + kerf) + grip + clearance + first face, reckoned in millimetres.
fn bar_is_enough(work: &Work, part: &Part, stock: &StockChoice) {
    let slug = part.slug();
    let at = |tail: &str| work.mm(&format!("{slug}.{tail}"));
    let body = part.turned().expect("turned");
    let bar = stock.bar.as_ref().expect("turned from a bar");
    let each = mm(body.length.bare()) + at("stock.facing") + at("stock.kerf");
    let once = at("stock.grip") + at("stock.clear") + at("stock.first_face");
    let n = work.si(&format!("{slug}.batch"));
    // Bars are counted in whole micrometres.
    let rounding = n * 1e-3 + 2e-3;
    assert!(mm(stock.need.bare()) >= n * each + once - rounding, "{slug}: {:?}", stock.need.bare());
    assert!(bar.kerf.bare().value() > 0.0 && bar.facing.bare().value() > 0.0, "{slug}");
    #[expect(clippy::cast_precision_loss, reason = "parts of a batch")]
    let (total, long_enough) = (
        stock.sticks.iter().map(|(n, _)| *n).sum::<i64>() as f64,
        stock.sticks.iter().all(|(n, l)| mm(*l) >= *n as f64 * each + once - rounding),
    );
    assert!(same(total, n) && long_enough, "{slug}: {:?}", stock.sticks);
    if let Some(index) = stock.index {
        let StockForm::Round { diameter, length } = &work.shop().stock[index].form else {
            panic!("{slug} is turned from something that is not round")
        };
        assert_eq!(work.shop().stock[index].material.name, part.common.material.name);
        let fits = |l: f64| l <= mm(length.bare()) + 1e-6;
        // Where not even one part comes off a bar, the verdict says so.
        let told = !work.holds(&format!("{slug}.stock.long_enough"));
        assert!(told || stock.sticks.iter().all(|(_, l)| fits(mm(*l))), "{slug}: {:?}", stock.sticks);
        let most = body.largest.bare().value()
            + body.steps.iter().map(|s| s.size.lower.bare().value()).fold(0.0, f64::min);
        assert!(diameter.bare().value() >= most - 1e-9, "{slug}: bar of {}", diameter.shown());
    }
}
/// Each piece is sawn once or bought, and what is sawn from one bar is there.
fn cut_list_is_exact(work: &Work) {
    let mut wanted: BTreeMap<(String, i64), i64> = BTreeMap::new();
    let mut wanted_parts: BTreeMap<&str, i64> = BTreeMap::new();
    let key = |what: &str, l: reckon::Length| {
        #[expect(clippy::cast_possible_truncation, reason = "micrometres of a bar")]
        (what.to_owned(), (l.value() * 1e6).round() as i64)
    };
    for plan in work.making.parts.iter().filter(|p| p.stock.index.is_some() && p.stock.bar.is_some()) {
        let name = work.parts[plan.part].common.name.as_str();
        for (n, length) in &plan.stock.sticks {
            *wanted.entry(key(&format!("{name} × {n}"), *length)).or_default() += 1;
            *wanted_parts.entry(name).or_default() += n;
        }
    }
    // What is made for the shop's own use is sawn from the same bars.
    for jig in work.making.jigs.iter().filter(|j| j.plan.stock.index.is_some() && j.plan.stock.bar.is_some())
    {
        let name = jig.part.common.name.as_str();
        for (n, length) in &jig.plan.stock.sticks {
            *wanted.entry(key(&format!("{name} × {n}"), *length)).or_default() += 1;
            *wanted_parts.entry(name).or_default() += n;
        }
    }
    let mut bars: BTreeMap<String, i64> = BTreeMap::new();
    for bar in &work.making.cut_list.bars {
        let (stock, _) = bar.bar.rsplit_once(", bar ").expect("numbered");
        *bars.entry(stock.to_owned()).or_default() += 1;
        let (_, whole) = stock.rsplit_once(" × ").expect("with its length");
        let whole: f64 = whole.strip_suffix(" mm").expect("in mm").parse().expect("a number");
        let sawn: f64 = bar.pieces.iter().map(|(_, l)| mm(*l)).sum();
        #[expect(clippy::cast_precision_loss, reason = "pieces of a bar")]
        let between = (bar.pieces.len() as f64 - 1.0).max(0.0) * SAW;
        assert!(
            bar.left.value() >= 0.0 && sawn + between + mm(bar.left) <= whole + 2e-3,
            "{}: {:?}",
            bar.bar,
            bar.pieces
        );
        assert!(sawn + between + mm(bar.left) + SAW >= whole - 2e-3, "metal is lost: {bar:?}");
        for (what, length) in &bar.pieces {
            let left =
                wanted.get_mut(&key(what, *length)).unwrap_or_else(|| panic!("'{what}' was not asked for"));
            *left -= 1;
            assert!(*left >= 0, "'{what}' is sawn too often");
            let (name, n) = what.rsplit_once(" × ").expect("with its number");
            *wanted_parts.get_mut(name).expect("asked for") -= n.parse::<i64>().expect("a number");
        }
    }
    for (stock, n) in &bars {
        let on_hand: i64 = work
            .shop()
            .stock
            .iter()
            .filter(|s| stock.starts_with(s.name.as_str()))
            .map(|s| s.pieces.bare().0)
            .sum();
        assert!(*n <= on_hand, "{n} of {stock}, and there are {on_hand}");
    }
    for (name, n) in wanted_parts.iter().filter(|(_, n)| **n > 0) {
        let bought = work.making.buy.iter().any(|b| b.parts.contains(&format!("{name} × {n}")));
        assert!(bought, "{n} of '{name}' are neither sawn nor bought: {:?}", work.making.buy);
    }
    for plan in work.making.parts.iter().filter(|p| p.stock.index.is_none()) {
        let name = &work.parts[plan.part].common.name;
        assert!(work.making.buy.iter().any(|b| b.parts.contains(name)), "'{name}' has no stock to buy");
    }
}
/// Names of all worked tables that end in some word.
fn tables<'w>(work: &'w Work, tail: &'w str) -> impl Iterator<Item = &'w str> {
    work.book
        .lines()
        .filter(move |l| l.name.ends_with(tail) && matches!(l.origin, Origin::Table { .. }))
        .map(|l| l.name.as_str())
}
/// Travel of a slide from what its dial shows, millimetres.
fn travel(dial: &DialFacts, text: &str) -> f64 {
    let (turns, divisions) = turns_and_divisions(text).unwrap_or_else(|| panic!("no dial reading: '{text}'"));
    let shown = turns * mm(dial.one_turn.bare()) + divisions * mm(dial.division.bare());
    if dial.shows == DialSense::Diameter { shown / 2.0 } else { shown }
}
/// Half of a tenth of a division of travel.
fn near(dial: &DialFacts) -> f64 {
    let division = mm(dial.division.bare()) / if dial.shows == DialSense::Diameter { 2.0 } else { 1.0 };
    division * 0.0501
}
fn setup_of(name: &str) -> (&str, &str) {
    // The slug of a jig has a dot of its own.
    let at = name.find(".setup").expect("a table of a set-up");
    let rest = &name[at + 1..];
    (&name[..at], rest.split('.').next().unwrap_or_default())
}
fn cuts_are_bearable(work: &Work) {
    let dial = work.shop().lathes[0].cross_slide.as_ref().expect("a dial");
    for name in tables(work, ".cuts") {
        let (slug, setup) = setup_of(name);
        let deepest = work.mm(&format!("{slug}.{setup}.deepest"));
        let rows = work.rows(name);
        let step = name.strip_suffix(".cuts").expect("filtered");
        let turn_to = format!("{step}.turn_to");
        // What is finished afterwards is turned larger by what the finish takes.
        let target = if work.book.find(&turn_to).is_some() {
            work.mm(&turn_to)
        } else {
            work.mm(&format!("{step}.aim"))
        };
        let from = target + 2.0 * work.mm(&format!("{step}.infeed"));
        let mut stands = from;
        for (i, row) in rows.iter().enumerate() {
            let (d, gone) = (row[1].si.expect("a diameter") * 1e3, row[2].si.expect("a travel") * 1e3);
            assert!(d <= stands + 1e-9, "{name}: the work grows");
            let rough = i + 1 < rows.len();
            assert!(
                !rough || (stands - d) / 2.0 <= deepest + 1e-9,
                "{name}: cut {i} of {}",
                (stands - d) / 2.0
            );
            assert!(same(gone, (from - d) / 2.0), "{name}: {gone} is not the way to {d}");
            assert!(
                (travel(dial, &row[2].shown) - gone).abs() <= near(dial),
                "{name}: {} for {gone}",
                row[2].shown
            );
            stands = d;
        }
        assert!(same(stands, target), "{name}: ends at {stands}, wanted {target}");
    }
}
fn threads_are_bearable(work: &Work) {
    let lathe = &work.shop().lathes[0];
    let dial = lathe.cross_slide.as_ref().expect("a dial");
    let division = mm(dial.division.bare()) / if dial.shows == DialSense::Diameter { 2.0 } else { 1.0 };
    for name in tables(work, ".thread.passes") {
        let (slug, _) = setup_of(name);
        let at = name.strip_suffix(".passes").expect("filtered");
        let depth = work.mm(&format!("{at}.depth"));
        let (least, most) =
            (work.mm(&format!("{slug}.metal.pass_least")), work.mm(&format!("{slug}.metal.pass_most")));
        let area = work.si(&format!("{at}.area_limit")) * 1e6;
        let slope = reckon::maths::tan(work.si(&format!("{at}.half_angle")));
        let rows = work.rows(name);
        let mut last = 0.0;
        for (i, row) in rows.iter().enumerate() {
            let (x, takes) = (row[1].si.expect("a depth") * 1e3, row[3].si.expect("a cut") * 1e3);
            assert!(same(x - last, takes) && takes > 0.0, "{name}: pass {}", i + 1);
            // A pass as thin as the tool still cuts, or as one division of the dial, cannot be made thinner.
            let thinnest = least.max(division);
            assert!(
                takes <= most.max(thinnest) + 2.0 * division,
                "{name}: pass {} takes {takes} of {most}",
                i + 1
            );
            // Area between two depths of a groove with sloping sides and a flat tip.
            // Setting a pass to a whole division may leave the next up to one division more.
            let from = last + division;
            let chip = (x - from) * work.threading_tip() + slope * (x * x - from * from);
            assert!(
                chip <= area * 1.001 || takes <= thinnest + 2.0 * division,
                "{name}: pass {} takes {chip} of {area} mm²",
                i + 1
            );
            if i + 1 < rows.len() {
                let whole = (x / division).round() * division;
                assert!(same(x, whole), "{name}: {x} is between divisions of {division}");
            }
            assert!(
                (travel(dial, &row[2].shown) - x).abs() <= near(dial),
                "{name}: {} for {x}",
                row[2].shown
            );
            last = x;
        }
        assert!(same(last, depth), "{name}: passes end at {last} of {depth}");
        let sc = lathe.screwcutting.as_ref().expect("it cuts threads");
        let (speed, pitch) = (work.si(&format!("{at}.speed")), work.si(&format!("{at}.pitch")));
        // Radians a second times the pitch a turn.
        let runs = speed / (2.0 * reckon::maths::PI) * pitch;
        if work.holds(&format!("{at}.carriage_follows")) {
            assert!(runs <= sc.carriage.bare().value() * (1.0 + 1e-12), "{name}: the carriage is outrun");
        }
        let slowest = lathe.speeds[0].bare().value();
        assert!(
            speed <= sc.fastest.bare().value().max(slowest) * (1.0 + 1e-12),
            "{name}: faster than threads are cut"
        );
    }
}
/// No thread is cut on a step that was not turned to its blank first, unless the bar itself is the blank.
fn threads_have_their_blanks(work: &Work) {
    for plan in &work.making.parts {
        let operations: Vec<&str> =
            plan.setups.iter().flat_map(|s| &s.operations).map(|o| o.title.as_str()).collect();
        for (i, title) in operations.iter().enumerate() {
            let Some(thread) = title.strip_prefix("Cut the thread ") else { continue };
            let thread = thread.trim_end_matches(" with the die");
            let turned = operations[..i].contains(&format!("Turn the blank for {thread}").as_str());
            let as_bar = plan.stock.bar.as_ref().is_some_and(|b| b.as_bar);
            assert!(turned || as_bar, "{}: {title} on {:?}", work.parts[plan.part].slug(), &operations[..i]);
        }
    }
}
fn speeds_are_the_machines(work: &Work) {
    for (part, setup, op) in work.operations() {
        let by_hand = op.lines.iter().any(|l| l.contains("by hand"));
        assert!(
            !by_hand || op.speed.is_none(),
            "{}: {} by hand, and the spindle runs",
            part.slug(),
            op.title
        );
        let Some(speed) = &op.speed else { continue };
        let lathe =
            work.shop().lathes.iter().find(|l| l.name == setup.machine).map(|l| (&l.speeds, l.stepless));
        let mill =
            work.shop().mills.iter().find(|m| m.name == setup.machine).map(|m| (&m.speeds, m.stepless));
        let (steps, stepless) =
            lathe.or(mill).unwrap_or_else(|| panic!("{} on '{}'", op.title, setup.machine));
        let v = speed.bare().value();
        let (low, high) = (steps[0].bare().value(), steps[steps.len() - 1].bare().value());
        let listed = steps.iter().any(|s| s.bare() == speed.bare());
        assert!(
            listed || (stepless && v >= low && v <= high),
            "{}: {} at {}",
            part.slug(),
            op.title,
            speed.shown()
        );
    }
}
fn what_is_aimed_at_is_within_limits(work: &Work) {
    for (part, _, op) in work.operations() {
        for figure in op.figures.iter().filter(|f| f.label == "turn to" || f.label == "bore to") {
            let aim = value(work, figure);
            for check in &op.checks {
                let Some((most, least)) = check.limits else { continue };
                assert!(most > least, "{}: {} has no room between its limits", part.slug(), op.title);
                let inside = aim <= most.value() + 1e-12 && aim >= least.value() - 1e-12;
                assert!(
                    inside,
                    "{}: {} aims at {aim}, between {least:?} and {most:?}",
                    part.slug(),
                    op.title
                );
            }
        }
    }
}
fn value(work: &Work, figure: &Figure) -> f64 {
    let line = figure
        .id
        .and_then(|id| work.book.line(id))
        .unwrap_or_else(|| panic!("'{}' has no place in the book", figure.label));
    line.si.unwrap_or_else(|| panic!("'{}' is no number", line.name))
}
/// Depth to the tip: as many parts as one hole serves, and the cone of a drill of 118°.
fn holes_go_deep_enough(work: &Work) {
    let cone = 0.5 / reckon::maths::tan(59.0 * reckon::maths::PI / 180.0);
    for (part, _, op) in work.operations() {
        let Some(tip) = op.figures.iter().find(|f| f.label == "depth to the tip") else { continue };
        let drill = op.figures.iter().find(|f| f.label == "drill").expect("a drill");
        let tip = value(work, tip);
        let cone = value(work, drill) * cone;
        let served = op
            .lines
            .iter()
            .find_map(|l| l.strip_prefix("One hole for ")?.split(' ').next()?.parse::<f64>().ok());
        let body = part.turned().expect("drilled in the lathe");
        let through = body.holes.iter().any(|h| h.depth.is_none() && op.title.ends_with(&h.what));
        if through {
            let length = body.length.bare().value();
            assert!(tip >= served.unwrap_or(1.0) * length + cone - 1e-9, "{}: {}", part.slug(), op.title);
        } else {
            let deep = body
                .holes
                .iter()
                .filter(|h| op.title.ends_with(&h.what))
                .filter_map(|h| h.depth)
                .map(|d| d.bare().value());
            let deep = deep.reduce(f64::min).expect("a depth");
            assert!(tip >= deep + cone - 1e-9, "{}: {}", part.slug(), op.title);
        }
    }
}
/// Whatever a sheet prints with a name under it stands so in the book.
fn sheets_show_the_book(work: &Work) {
    let shown = |setup: Option<&SetUp>, figure: &Figure| {
        let Some(id) = figure.id else { return };
        let line = work.book.line(id).unwrap_or_else(|| panic!("'{}' is not in the book", figure.label));
        if line.shown == figure.text {
            return;
        }
        // A dial reading, or a drill by its own name.
        if let Some((turns, divisions)) = turns_and_divisions(&figure.text) {
            let machine = setup.map(|s| s.machine.as_str());
            let lathe = work.shop().lathes.iter().find(|l| Some(l.name.as_str()) == machine);
            let mill = work
                .shop()
                .mills
                .iter()
                .find(|m| Some(m.name.as_str()) == machine)
                .and_then(|m| m.dial.as_ref());
            let dials = lathe
                .into_iter()
                .flat_map(|l| [&l.cross_slide, &l.long_slide])
                .filter_map(Option::as_ref)
                .chain(mill);
            let si = line.si.expect("a travel") * 1e3;
            let mut dials = dials.map(|d| (travel(d, &figure.text), near(d)));
            assert!(
                dials.any(|(t, off)| (t - si).abs() <= off),
                "{}: {turns} + {divisions} for {si}",
                line.name
            );
        } else {
            let size = figure.text.split(' ').next().and_then(|n| n.parse::<f64>().ok());
            // A grain is told in µm wherever it stands.
            let unit = if figure.text.contains(" µm") { 1e-3 } else { 1.0 };
            let told = size.is_none_or(|s| same(s * unit, line.si.unwrap_or_default() * 1e3))
                || figure.text.contains("to buy")
                || figure.text.ends_with(" s")
                    && size.is_some_and(|s| (s - line.si.unwrap_or_default()).abs() < 0.51)
                || figure.text.split(' ').next() == line.shown.split(' ').next();
            assert!(told, "{} is {}, and the sheet says {}", line.name, line.shown, figure.text);
        }
    };
    for (_, setup, op) in work.operations() {
        op.figures.iter().for_each(|f| shown(Some(setup), f));
        let ids = op
            .checks
            .iter()
            .filter_map(|c| c.id)
            .chain(op.speed.iter().map(reckon::Val::id))
            .chain(op.feed.iter().map(reckon::Val::id));
        assert!(ids.into_iter().all(|id| work.book.line(id).is_some()), "{}", op.title);
        for table in &op.tables {
            let origin = work.book.line(table.id).map(|l| &l.origin);
            assert!(
                matches!(origin, Some(Origin::Table { rows, .. }) if !rows.is_empty()),
                "{}: {}",
                op.title,
                table.title
            );
        }
        if let Some(deepest) = &setup.held.deepest {
            let line = work.book.line(deepest.id()).expect("in the book");
            assert_eq!(line.si, Some(deepest.bare().value()));
        }
    }
    for tool in &work.making.tools {
        tool.operations.iter().flat_map(|o| &o.figures).for_each(|f| shown(None, f));
    }
}
/// Minutes of each set-up once and of each operation for every piece.
fn times_add_up(plan: &making::plan::PartPlan) {
    let mean = |t: making::plan::Spread| (t.least + 4.0 * t.likely + t.most) / 6.0;
    #[expect(clippy::cast_precision_loss, reason = "parts of a batch")]
    let n = plan.batch.total.bare().0 as f64;
    let sum: f64 = plan
        .setups
        .iter()
        .map(|s| mean(s.time) + n * s.operations.iter().map(|o| mean(o.time)).sum::<f64>())
        .sum();
    assert!(
        plan.setups
            .iter()
            .flat_map(|s| &s.operations)
            .all(|o| o.time.least > 0.0 && o.time.most >= o.time.likely)
    );
    let told = plan.time.mean.bare().value() / 60.0;
    assert!((told - sum).abs() < 1e-6 * sum.max(1.0), "{told} min, and the operations take {sum}");
}
/// Each set-up once, tools and jigs before their use, every arrow kept, and the hours add up.
fn order_is_complete(work: &Work) {
    use making::plan::order::Of;
    let order = &work.making.order;
    let at = |of: Of| order.jobs.iter().position(|j| j.kind == of).expect("in the order");
    let mut told = 0;
    for (i, plan) in work.making.parts.iter().enumerate() {
        let places: Vec<usize> = (0..plan.setups.len()).map(|k| at(Of::Part(i, k))).collect();
        assert!(places.windows(2).all(|w| w[0] < w[1]), "a page from top to bottom");
        told += places.len();
        for slug in &plan.waits_for {
            let tool = work.making.tools.iter().position(|t| t.slug == *slug).map(Of::Tool);
            let jig = work.making.jigs.iter().position(|j| j.part.slug() == slug).map(Of::Jig);
            let first = at(tool.or(jig).unwrap_or_else(|| panic!("no tool or jig '{slug}'")));
            assert!(first < *places.last().expect("set-ups"), "{slug} comes after what needs it");
        }
    }
    let bought = order.jobs.iter().filter(|j| j.kind == Of::Buy).count();
    assert_eq!(order.jobs.len(), told + work.making.tools.len() + work.making.jigs.len() + bought);
    for a in &order.kept {
        assert!(a.first < a.then, "'{}' before '{}'", order.jobs[a.first].name, order.jobs[a.then].name);
    }
    let sum: f64 = order.jobs.iter().map(|j| j.time.value()).sum();
    let hours = order.hours.total.bare().value();
    assert!((sum - hours).abs() < 1e-6 * sum.max(1.0), "{sum} s, and {hours} s told");
    let chain: f64 = order.chain.iter().map(|i| order.jobs[*i].time.value()).sum();
    assert!((chain - order.hours.chain_work.bare().value()).abs() < 1e-6 * sum.max(1.0));
    for w in order.chain.windows(2) {
        assert!(order.jobs[w[1]].after.contains(&w[0]), "a chain along what waits for what");
    }
}
#[test]
fn a_dial_is_read_back() {
    assert_eq!(shed::turns_and_divisions("1 turn + 42.5 div"), Some((1.0, 42.5)));
    assert_eq!(shed::turns_and_divisions("12 turns + 0 div"), Some((12.0, 0.0)));
    assert_eq!(shed::turns_and_divisions("42.5 div"), Some((0.0, 42.5)));
    assert_eq!(shed::turns_and_divisions("3.2 mm"), None);
}
