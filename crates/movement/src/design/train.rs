//! The train: who drives whom, how fast each arbor turns and which way, and whether that is what was wanted.
//!
//! Turns are exact fractions; the book keeps them as times and counts.

use super::model::{Mesh, Train, TrainArbor};
use reckon::exact::Fraction;
use reckon::source::Source;
use reckon::{Book, Count, Place, Ratio, Time, Trouble, Val, judge, work};
use record::facts::{Arbor, Escapement, Hand, MovementFacts, Named};
use std::collections::BTreeSet;

/// Counts of a pair set the turns of its arbors.
pub static PAIR: Source = Source::derived(
    "a wheel and a pinion in mesh pass the same number of teeth: turns are inverse to counts",
);
/// Few leaves take over late and with much friction.
pub static LEAVES: Source = Source::practice(
    "eight leaves or more in a going train; with fewer, a tooth engages before the line of centres",
);
/// Two beats for each tooth of the escape wheel.
pub static BEATS: Source =
    Source::derived("each tooth of the escape wheel gives two beats in one turn of the wheel");

/// The train as written, and what is wrong with it.
pub(super) fn train(facts: &MovementFacts, book: &mut Book, troubles: &mut Vec<Trouble>) -> Train {
    let mut t = connect(facts, troubles);
    if t.arbors.is_empty() {
        return t;
    }
    if let Some(e) = &facts.escapement {
        t.escape = points_to(&t, &e.arbor, "the escape wheel", troubles);
        t.pallets = points_to(&t, &e.pallets, "the pallets", troubles);
    }
    t.minute = t.arbors.iter().position(|a| a.facts.carries == Some(Hand::Minute));
    t.first = first(&t, facts, troubles);
    turns(&mut t, facts, book, troubles);
    senses(&mut t);
    if !troubles.iter().any(Trouble::stops) {
        demands(&mut t, facts, book, troubles);
    }
    t
}
fn points_to(t: &Train, to: &Named, what: &str, troubles: &mut Vec<Trouble>) -> Option<usize> {
    let found = t.named(&to.name);
    if found.is_none() {
        troubles.push(unknown(t.arbors.iter().map(|a| &a.facts), to, what));
    }
    found
}
fn unknown<'a>(arbors: impl Iterator<Item = &'a Arbor>, to: &Named, what: &str) -> Trouble {
    let names: Vec<&str> = arbors.map(|a| a.name.as_str()).collect();
    let t = Trouble::design(format!("there is no arbor '{}' for {what}", to.name)).at(to.at.clone());
    match reckon::trouble::nearest(&to.name, names.iter().copied()).first() {
        Some(near) => t.cure(format!("did you mean '{near}'?")),
        None if names.is_empty() => t.cure(format!("write [[arbor]] with name = \"{}\"", to.name)),
        None => t.cure(format!("arbors written: {}", names.join(", "))),
    }
}
/// The arbor that the weight or spring turns.
fn first(t: &Train, facts: &MovementFacts, troubles: &mut Vec<Trouble>) -> Option<usize> {
    let drive = facts.drive.as_ref()?;
    let to = match (&drive.weight, &drive.fusee, &drive.spring) {
        (Some(w), _, _) => &w.arbor,
        (_, Some(f), _) => &f.arbor,
        (_, _, Some(s)) => &s.arbor,
        _ => return None,
    };
    let found = points_to(t, to, "the drive", troubles)?;
    if let Some(m) = t.arbors[found].driven {
        let (driven, by) = (&t.arbors[found].facts, &t.arbors[t.meshes[m].driver].facts);
        troubles.push(
            Trouble::design(format!("the drive turns '{}', and '{}' drives that too", driven.name, by.name))
                .at(to.at.clone())
                .at(driven.driven_by.as_ref().map(|n| n.at.clone()))
                .why("a train begins at the arbor that the weight or spring turns")
                .cure(format!("arbor = \"{}\" for the drive", t.arbors[root(t, found)].facts.name)),
        );
    }
    Some(found)
}
/// The arbor at the head of those that drive one.
fn root(t: &Train, mut at: usize) -> usize {
    while let Some(m) = t.arbors[at].driven {
        at = t.meshes[m].driver;
    }
    at
}

/// Arbors sorted so that a driver stands before what it drives, with their pairs.
fn connect(facts: &MovementFacts, troubles: &mut Vec<Trouble>) -> Train {
    let all = &facts.arbors;
    let find = |n: &Named| {
        let slug = reckon::slug(&n.name);
        all.iter().position(|a| a.name == n.name || a.slug == slug)
    };
    let mut by: Vec<Option<usize>> = Vec::new();
    for a in all {
        let driver = a.driven_by.as_ref().and_then(|n| {
            let found = find(n);
            if found.is_none() {
                troubles.push(unknown(all.iter(), n, &format!("driving '{}'", a.name)));
            }
            found
        });
        if let (Some(n), Some(d)) = (&a.driven_by, driver) {
            if all[d].wheel.is_none() {
                troubles.push(
                    Trouble::design(format!("'{}' is to drive '{}' and has no wheel", all[d].name, a.name))
                        .at(n.at.clone())
                        .at(all[d].at.clone())
                        .cure("write wheel = { teeth = 80, module = \"0.5 mm\" } for it"),
                );
            }
            if a.pinion.is_none() {
                troubles.push(
                    Trouble::design(format!("'{}' is driven by '{}' and has no pinion", a.name, n.name))
                        .at(n.at.clone())
                        .cure("write pinion = { leaves = 12 } for it"),
                );
            }
        }
        if let (Some(p), None) = (&a.pinion, &a.driven_by) {
            troubles.push(
                Trouble::design(format!("nothing drives the pinion of '{}'", a.name))
                    .at(p.at.clone())
                    .cure("write driven_by = with the name of the arbor whose wheel drives it"),
            );
        }
        by.push(driver);
    }
    while let Some(ring) = ring(&by) {
        let names: Vec<&str> = ring.iter().map(|i| all[*i].name.as_str()).collect();
        let says = match names[..] {
            [one] => format!("'{one}' drives itself"),
            [one, other] => format!("'{one}' and '{other}' drive each other"),
            _ => format!(
                "{} drive each other in a ring",
                names.iter().map(|n| format!("'{n}'")).collect::<Vec<_>>().join(", ")
            ),
        };
        let mut t = Trouble::design(says);
        for i in &ring {
            t = t.at(all[*i].driven_by.as_ref().map(|n| n.at.clone()));
        }
        troubles.push(
            t.why("a train begins at the barrel or great wheel, which no wheel drives")
                .cure("leave out driven_by of the arbor that the weight or spring turns"),
        );
        // One arrow less, so that the rest can be looked at.
        by[ring[0]] = None;
    }
    let mut order: Vec<usize> = Vec::new();
    let depth = |i: usize| {
        let mut n = 0;
        let mut at = i;
        while let Some(d) = by[at] {
            n += 1;
            at = d;
        }
        n
    };
    for i in 0..all.len() {
        order.push(i);
    }
    order.sort_by_key(|i| depth(*i));
    let place = |i: usize| order.iter().position(|o| *o == i).unwrap_or(0);
    let mut t = Train {
        arbors: order
            .iter()
            .map(|i| TrainArbor {
                facts: all[*i].clone(),
                driven: None,
                drives: Vec::new(),
                turn: None,
                exact: None,
                clockwise: None,
            })
            .collect(),
        meshes: Vec::new(),
        minute: None,
        escape: None,
        pallets: None,
        first: None,
        beats: None,
        exact_beats: None,
        doubted: BTreeSet::new(),
        beat: None,
    };
    for i in &order {
        let (driven, Some(d)) = (place(*i), by[*i]) else { continue };
        let driver = place(d);
        let (Some(wheel), Some(pinion)) = (&all[d].wheel, &all[*i].pinion) else { continue };
        t.arbors[driven].driven = Some(t.meshes.len());
        t.arbors[driver].drives.push(t.meshes.len());
        // A wheel may drive several pinions; the first is what its teeth are made for.
        let slug = match t.arbors[driver].drives.len() {
            1 => wheel.slug.clone(),
            _ => format!("{}.to_{}", wheel.slug, all[*i].slug),
        };
        t.meshes.push(Mesh {
            slug,
            driver,
            driven: Some(driven),
            teeth: wheel.teeth,
            leaves: pinion.leaves,
            sizes: None,
            laid: None,
        });
    }
    for driver in 0..t.arbors.len() {
        let Some(w) = t.arbors[driver].facts.wheel.clone() else { continue };
        let Some(leaves) = w.mate else { continue };
        t.arbors[driver].drives.push(t.meshes.len());
        t.meshes.push(Mesh {
            slug: w.slug.clone(),
            driver,
            driven: None,
            teeth: w.teeth,
            leaves,
            sizes: None,
            laid: None,
        });
    }
    t
}
/// A ring of drivers, if there is one.
fn ring(by: &[Option<usize>]) -> Option<Vec<usize>> {
    for start in 0..by.len() {
        let mut path = vec![start];
        let mut at = start;
        while let Some(next) = by[at] {
            if let Some(from) = path.iter().position(|p| *p == next) {
                return Some(path[from..].to_vec());
            }
            path.push(next);
            at = next;
        }
    }
    None
}
fn fraction(n: &Val<Count>) -> Fraction {
    Fraction::whole(n.bare().0)
}

/// An arbor whose turn is known without the others, and where that is written.
struct Anchor {
    arbor: usize,
    seconds: Fraction,
    at: Place,
    what: String,
    value: Val<Time>,
}
fn anchors(t: &Train, facts: &MovementFacts, book: &mut Book) -> Vec<Anchor> {
    let mut all = Vec::new();
    if let Some(m) = t.minute {
        let a = &t.arbors[m].facts;
        let value = book.assumed(
            format_args!("{}.turn_wanted", a.slug),
            Time::si(3600.0),
            "a minute hand turns once an hour",
        );
        all.push(Anchor {
            arbor: m,
            seconds: Fraction::whole(3600),
            at: a.at.clone(),
            what: format!("'{}' carries the minute hand and turns once an hour", a.name),
            value,
        });
    }
    for (i, a) in t.arbors.iter().enumerate() {
        if let Some(w) = &a.facts.turns_once_in
            && let Some(seconds) = exact_seconds(w.bare())
        {
            let at = match book.line(w.id()).map(|l| &l.origin) {
                Some(reckon::Origin::Written { at }) => at.clone(),
                _ => a.facts.at.clone(),
            };
            let what = format!("'{}' is to turn once in {}", a.facts.name, w.shown());
            all.push(Anchor { arbor: i, seconds, at, what, value: *w });
        }
    }
    if let (Some(e), Some(esc), Some(wanted)) = (t.escape, &facts.escapement, &facts.wanted)
        && let Some(beats) = &wanted.beats
        && all.is_empty()
        && let Some(seconds) =
            Fraction::whole(7200).times(fraction(&esc.teeth)).and_then(|x| x.over(fraction(beats)))
    {
        let (teeth, beats_v) = (esc.teeth, *beats);
        let value = work!(
            book,
            format_args!("{}.turn_wanted", t.arbors[e].facts.slug),
            |teeth, beats_v| Time::si(7200.0 * teeth.n() / beats_v.n()),
            &BEATS
        );
        all.push(Anchor {
            arbor: e,
            seconds,
            at: wanted.at.clone(),
            what: format!("{} beats an hour are wanted", beats.bare().0),
            value,
        });
    }
    all
}
/// A written time as an exact number of seconds, to the microsecond.
fn exact_seconds(t: Time) -> Option<Fraction> {
    let us = t.value() * 1e6;
    if !(1.0..=1e15).contains(&us) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, reason = "bounded just above")]
    Fraction::new(us.round() as i128, 1_000_000)
}
/// The turns of all arbors from those that are known; contradictions are told with both ways.
fn turns(t: &mut Train, facts: &MovementFacts, book: &mut Book, troubles: &mut Vec<Trouble>) {
    let anchors = anchors(t, facts, book);
    for a in &anchors {
        match t.arbors[a.arbor].exact {
            None => {
                let value = a.value;
                let name = format!("{}.turn", t.arbors[a.arbor].facts.slug);
                let turn = work!(book, name, |value| value, &PAIR);
                t.arbors[a.arbor].exact = Some(a.seconds);
                t.arbors[a.arbor].turn = Some(turn);
                spread(t, a.arbor, book);
            }
            Some(found) if found != a.seconds && anchors[0].arbor == a.arbor => {
                let first = &anchors[0];
                troubles.push(
                    Trouble::design(format!("{}, and {}", a.what, first.what))
                        .at(a.at.clone())
                        .at(first.at.clone())
                        .cure("leave one of the two out"),
                );
            }
            Some(found) if found != a.seconds => {
                let first = &anchors[0];
                let way = meshes_between(t, first.arbor, a.arbor);
                t.doubted.extend(way);
                let arbor = &t.arbors[a.arbor];
                troubles.push(
                    Trouble::design(format!(
                        "{}, and the counts from '{}' make it turn once in {}",
                        a.what,
                        t.arbors[first.arbor].facts.name,
                        seconds(found),
                    ))
                    .at(a.at.clone())
                    .at(first.at.clone())
                    .why(format!("{}; {}", first.what, path(t, first.arbor, a.arbor)))
                    .cure(
                        counts_cure(t, first.arbor, a.arbor, found, a.seconds).unwrap_or_else(|| {
                            format!(
                                "change a count between '{}' and '{}', or the demand",
                                t.arbors[first.arbor].facts.name, arbor.facts.name
                            )
                        }),
                    ),
                );
            }
            Some(_) => {}
        }
    }
}
/// A time for a message.
pub(super) fn seconds(x: Fraction) -> String {
    let s = x.to_f64();
    if s >= 7200.0 {
        format!("{} h", reckon::print::trimmed(&reckon::print::fixed(s / 3600.0, 4)))
    } else if s >= 300.0 {
        format!("{} min", reckon::print::trimmed(&reckon::print::fixed(s / 60.0, 4)))
    } else {
        format!("{} s", reckon::print::trimmed(&reckon::print::fixed(s, 4)))
    }
}
/// From a known arbor to all that hang together with it.
fn spread(t: &mut Train, from: usize, book: &mut Book) {
    let mut todo = vec![from];
    while let Some(i) = todo.pop() {
        let (Some(exact), Some(turn)) = (t.arbors[i].exact, t.arbors[i].turn) else { continue };
        for m in t.arbors[i].drives.clone() {
            let mesh = &t.meshes[m];
            let Some(to) = mesh.driven else { continue };
            if t.arbors[to].exact.is_some() {
                continue;
            }
            let (teeth, leaves) = (mesh.teeth, mesh.leaves);
            let name = format!("{}.turn", t.arbors[to].facts.slug);
            let found = exact.times(fraction(&leaves)).and_then(|x| x.over(fraction(&teeth)));
            t.arbors[to].exact = found;
            t.arbors[to].turn = Some(work!(book, name, |turn, leaves, teeth| turn * leaves / teeth, &PAIR));
            todo.push(to);
        }
        if let Some(m) = t.arbors[i].driven {
            let mesh = &t.meshes[m];
            let to = mesh.driver;
            if t.arbors[to].exact.is_none() {
                let (teeth, leaves) = (mesh.teeth, mesh.leaves);
                let name = format!("{}.turn", t.arbors[to].facts.slug);
                let found = exact.times(fraction(&teeth)).and_then(|x| x.over(fraction(&leaves)));
                t.arbors[to].exact = found;
                t.arbors[to].turn =
                    Some(work!(book, name, |turn, teeth, leaves| turn * teeth / leaves, &PAIR));
                todo.push(to);
            }
        }
    }
}
/// The counts on the way between two arbors, for a message.
fn path(t: &Train, from: usize, to: usize) -> String {
    let up = |mut at: usize| {
        let mut all = vec![at];
        while let Some(m) = t.arbors[at].driven {
            at = t.meshes[m].driver;
            all.push(at);
        }
        all
    };
    let meshes = |of: &[usize], other: &[usize]| -> Vec<String> {
        let own = of.iter().take_while(|i| !other.contains(i));
        own.filter_map(|i| t.arbors[*i].driven)
            .map(|m| format!("{}/{}", t.meshes[m].teeth.bare().0, t.meshes[m].leaves.bare().0))
            .collect()
    };
    let (a, b) = (up(from), up(to));
    let mut all = meshes(&a, &b);
    all.extend(meshes(&b, &a).into_iter().rev());
    format!("between them {}", all.join(" x "))
}
/// The pairs on the way between two arbors.
fn meshes_between(t: &Train, from: usize, to: usize) -> Vec<usize> {
    let above = |mut at: usize| {
        let mut all = Vec::new();
        while let Some(m) = t.arbors[at].driven {
            all.push(m);
            at = t.meshes[m].driver;
        }
        all
    };
    let (a, b) = (above(from), above(to));
    let only = |of: &[usize], other: &[usize]| -> Vec<usize> {
        of.iter().copied().filter(|m| !other.contains(m)).collect()
    };
    let mut all = only(&a, &b);
    all.extend(only(&b, &a));
    all
}
/// Which single count would set it right.
fn counts_cure(t: &Train, from: usize, to: usize, found: Fraction, wanted: Fraction) -> Option<String> {
    // Only counts on the way matter: those below one of the two and not below both.
    let above = |mut at: usize| {
        let mut all = Vec::new();
        while let Some(m) = t.arbors[at].driven {
            all.push(m);
            at = t.meshes[m].driver;
        }
        all
    };
    let (a, b) = (above(from), above(to));
    let fault = found.over(wanted)?;
    let mut cures = Vec::new();
    for (meshes, other, down) in [(&b, &a, true), (&a, &b, false)] {
        for m in meshes.iter().filter(|m| !other.contains(m)) {
            let mesh = &t.meshes[*m];
            // Downwards a wheel's count divides the turn; upwards it multiplies it.
            let factor = if down { fault } else { Fraction::whole(1).over(fault)? };
            let teeth = fraction(&mesh.teeth).times(factor)?;
            let leaves = fraction(&mesh.leaves).over(factor)?;
            let wheel = &t.arbors[mesh.driver].facts.name;
            if let (n, 1) = teeth.terms()
                && (6..=400).contains(&n)
            {
                cures.push((
                    (n - i128::from(mesh.teeth.bare().0)).abs(),
                    format!("{n} teeth for the {} of '{wheel}'", mesh.teeth.bare().0),
                ));
            }
            if let (n, 1) = leaves.terms()
                && (6..=30).contains(&n)
                && let Some(d) = mesh.driven
            {
                cures.push((
                    (n - i128::from(mesh.leaves.bare().0)).abs(),
                    format!("{n} leaves for the {} of '{}'", mesh.leaves.bare().0, t.arbors[d].facts.name),
                ));
            }
        }
    }
    cures.sort();
    cures.into_iter().next().map(|(_, says)| says)
}
/// Which way each arbor turns: the minute hand clockwise, else the escape wheel.
fn senses(t: &mut Train) {
    let Some(from) = t.minute.or(t.escape).or(t.first) else { return };
    t.arbors[from].clockwise = Some(true);
    let mut todo = vec![from];
    while let Some(i) = todo.pop() {
        let sense = t.arbors[i].clockwise.unwrap_or(true);
        let mut next: Vec<usize> = t.arbors[i].drives.iter().filter_map(|m| t.meshes[*m].driven).collect();
        next.extend(t.arbors[i].driven.map(|m| t.meshes[m].driver));
        for n in next {
            if t.arbors[n].clockwise.is_none() {
                t.arbors[n].clockwise = Some(!sense);
                todo.push(n);
            }
        }
    }
}
/// What was wanted, each held against what the counts give.
fn demands(t: &mut Train, facts: &MovementFacts, book: &mut Book, troubles: &mut Vec<Trouble>) {
    for a in &t.arbors {
        if let Some(clockwise) = a.clockwise
            && a.driven.is_some() | !a.drives.is_empty()
        {
            let word = if clockwise { "clockwise" } else { "anticlockwise" };
            let turn: Vec<reckon::Id> = a.turn.iter().map(Val::id).collect();
            book.solved(
                format_args!("{}.sense", a.facts.slug),
                word.to_owned(),
                (
                    "each pair turns the sense about; the minute hand goes clockwise, seen from the dial",
                    1,
                    0.0,
                ),
                turn,
                &PAIR,
            );
        }
    }
    if let (Some(e), Some(esc)) = (t.escape, &facts.escapement) {
        beats(t, e, esc, facts, book, troubles);
    }
    seconds_hand(t, facts, book, troubles);
    leaves(t, facts, book);
}
fn beats(
    t: &mut Train,
    e: usize,
    esc: &Escapement,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) {
    let (Some(turn), Some(exact)) = (t.arbors[e].turn, t.arbors[e].exact) else {
        troubles.push(
            Trouble::design(format!("how fast '{}' turns is not known", t.arbors[e].facts.name))
                .at(t.arbors[e].facts.at.clone())
                .why("no arbor that hangs together with it has a known turn")
                .cure("write carries = \"minute hand\" for the arbor that turns once an hour")
                .cure("write beats_per_hour in [wanted]"),
        );
        return;
    };
    let teeth = esc.teeth;
    let found = Fraction::whole(7200).times(fraction(&teeth)).and_then(|x| x.over(exact));
    let beats = work!(
        book,
        "train.beats_per_hour",
        |teeth, turn| Ratio::si(2.0 * teeth.n() * 3600.0 / turn.value()),
        &BEATS
    );
    t.beats = Some(beats);
    t.exact_beats = found;
    t.beat = Some(work!(book, "train.beat", |beats| Time::si(3600.0 / beats.value()), &BEATS));
    let (Some(wanted), Some(found)) = (facts.wanted.as_ref().and_then(|w| w.beats), found) else { return };
    if found == fraction(&wanted) {
        judge!(
            book,
            "train.gives_the_beat",
            "the counts give the beats that are wanted",
            |beats, wanted| (beats.value() - wanted.n()).abs() < 1e-6,
            &BEATS
        );
        return;
    }
    let gains = 86400.0 * (fraction(&wanted).to_f64() / found.to_f64() - 1.0);
    let reference = t.minute.unwrap_or(e);
    let way = meshes_between(t, reference, e);
    t.doubted.extend(way);
    let wanted_turn = Fraction::whole(7200).times(fraction(&teeth)).and_then(|x| x.over(fraction(&wanted)));
    let cure = wanted_turn.and_then(|w| counts_cure(t, reference, e, exact, w));
    let at = facts.wanted.as_ref().map(|w| w.at.clone());
    let mut trouble = Trouble::design(format!(
        "the counts give {} beats an hour, and {} are wanted",
        reckon::print::trimmed(&reckon::print::fixed(found.to_f64(), 4)),
        wanted.bare().0,
    ))
    .at(written(book, &wanted).or(at))
    .at(Some(esc.teeth_at.clone()))
    .why(format!(
        "with a pendulum for {} beats the hands would {} {} s a day; {}",
        wanted.bare().0,
        if gains > 0.0 { "gain" } else { "lose" },
        reckon::print::fixed(gains.abs(), 2),
        path(t, reference, e),
    ));
    if let Some(c) = cure {
        trouble = trouble.cure(c);
    }
    troubles.push(trouble.cure("ask for all trains that this shop can cut: brasswright counts"));
}
fn written<T: reckon::Shown>(book: &Book, v: &Val<T>) -> Option<Place> {
    match &book.line(v.id())?.origin {
        reckon::Origin::Written { at } => Some(at.clone()),
        _ => None,
    }
}
fn seconds_hand(t: &Train, facts: &MovementFacts, book: &mut Book, troubles: &mut Vec<Trouble>) {
    let wanted = facts.wanted.as_ref().and_then(|w| w.seconds_hand.as_ref());
    let mut hands: Vec<(usize, Place)> = t
        .arbors
        .iter()
        .enumerate()
        .filter(|(_, a)| a.facts.carries == Some(Hand::Seconds))
        .map(|(i, a)| (i, a.facts.at.clone()))
        .collect();
    if let Some(n) = wanted
        && let Some(i) = points_to(t, n, "the seconds hand", troubles)
        && !hands.iter().any(|(h, _)| *h == i)
    {
        hands.push((i, n.at.clone()));
    }
    for (i, at) in hands {
        let a = &t.arbors[i];
        let Some(turn) = a.turn else { continue };
        if a.exact != Some(Fraction::whole(60)) {
            // Counts that are told already to be wrong may be all that is wrong here.
            if !t.doubted.is_empty() {
                continue;
            }
            troubles.push(
                Trouble::design(format!(
                    "a seconds hand on '{}' would go round in {}",
                    a.facts.name,
                    a.exact.map_or_else(String::new, seconds)
                ))
                .at(at.clone())
                .why("a seconds hand goes round in 60 s")
                .cure("an escape wheel of beats an hour / 120 teeth, on the escape arbor")
                .cure("leave the seconds hand out"),
            );
        } else if a.clockwise == Some(false) {
            troubles.push(
                Trouble::design(format!("a seconds hand on '{}' would go backwards", a.facts.name))
                    .at(at.clone())
                    .why("an odd number of pairs lies between it and the minute hand, and each turns the sense about")
                    .cure("one pair more or less between them, or an idle wheel"),
            );
        } else {
            judge!(
                book,
                format_args!("{}.seconds_hand", a.facts.slug),
                "its arbor turns once a minute",
                |turn| (turn.value() - 60.0).abs() < 1e-9,
                &PAIR
            );
        }
    }
}
/// Leaves that are fewer than the maker wants.
fn leaves(t: &Train, facts: &MovementFacts, book: &mut Book) {
    let Some(least) = facts.wanted.as_ref().map(|w| w.least_leaves) else { return };
    for (n, m) in t.meshes.iter().enumerate() {
        let Some(d) = m.driven else { continue };
        if t.doubted.contains(&n) {
            continue;
        }
        let leaves = m.leaves;
        let verdict = judge!(
            book,
            format_args!("{}.pinion.leaves_enough", t.arbors[d].facts.slug),
            "leaves enough for a going train",
            |leaves, least| leaves >= least,
            &LEAVES
        );
        if !verdict.bare() {
            let (n, z) = (m.leaves.bare().0, m.teeth.bare().0);
            // The fewest leaves that are enough and leave a whole number of teeth.
            let enough = (least.bare().0..).find(|more| z * more % n == 0).unwrap_or(n * 2);
            book.cure(verdict.id(), format!("{enough} leaves with {} teeth keep the ratio", z * enough / n));
        }
    }
}
