//! From a plan to values: texts read, names looked up, defaults taken, all entered in the book.

use super::limits::{self, Tail};
use super::node::{Got, Node, Value};
use super::page::Page;
use super::sizes::{absurd, example};
use super::walk::{Item, Leaf, Plan, Said, kind_of};
use crate::facts::Size;
use crate::lookup;
use crate::spec::{General, Kind, Of, Range as Bounds};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::text::{Exact, TextFault, exact_with, read};
use reckon::trouble::nearest;
use reckon::{
    Angle, AngularSpeed, Book, Count, Density, Diameter, Dimension, Force, Length, Mass, Place, Power,
    Pressure, Ratio, Shown, Speed, Temperature, TemperatureDifference, Time, Torque, Trouble, Val, work,
};
use std::collections::BTreeMap;
use std::ops::Range;

/// Longest text of a size, and longest chain of names, that are followed.
const LONGEST: usize = 200;
const DEEPEST: usize = 64;

#[derive(Clone, Debug)]
enum State {
    Fresh,
    Busy,
    Done(Exact),
    Bad,
}
/// Values the leaves of one page.
pub(crate) struct Settle<'a> {
    page: &'a Page<'a>,
    book: &'a mut Book,
    leaves: Vec<Leaf>,
    states: Vec<State>,
    names: BTreeMap<String, usize>,
    root: &'static str,
    pub(crate) troubles: Vec<Trouble>,
    stack: Vec<usize>,
    house: BTreeMap<General, (Val<Length>, Val<Length>)>,
    /// Names that may still be compared in search of a near one.
    comparisons: usize,
}
impl<'a> Settle<'a> {
    pub(crate) fn new(
        page: &'a Page<'a>,
        book: &'a mut Book,
        root: &'static str,
        leaves: Vec<Leaf>,
    ) -> Settle<'a> {
        let named =
            |l: &Leaf| matches!(l.kind, Kind::Quantity(..) | Kind::Size(_) | Kind::Tool | Kind::Count(..));
        let names =
            leaves.iter().enumerate().filter(|(_, l)| named(l)).map(|(i, l)| (l.name.clone(), i)).collect();
        let states = vec![State::Fresh; leaves.len()];
        Settle {
            page,
            book,
            leaves,
            states,
            names,
            root,
            troubles: Vec::new(),
            stack: Vec::new(),
            house: BTreeMap::new(),
            comparisons: 500_000,
        }
    }
    /// A table and all under it.
    pub(crate) fn table(&mut self, plan: &Plan) -> Node {
        let mut values = Vec::new();
        for (key, at, item) in &plan.items {
            let written = match item {
                Item::Leaf(i) => matches!(self.leaves[*i].said, Said::Written),
                Item::List(all) => all.iter().all(|i| match i {
                    Item::Leaf(i) => matches!(self.leaves[*i].said, Said::Written),
                    _ => true,
                }),
                _ => true,
            };
            let value = self.item(item, key.name, at);
            if let Value::Band(upper, lower) = &value {
                let general = [General::Length, General::Diameter, General::Hole].into_iter();
                if let Some(g) = general.into_iter().find(|g| g.key() == key.name) {
                    self.house.insert(g, (*upper, *lower));
                }
            }
            values.push(Got::of(key, at.clone(), value, written));
        }
        Node {
            section: plan.section,
            at: plan.at.clone(),
            prefix: plan.prefix.clone(),
            subject: plan.subject.clone(),
            values,
        }
    }
    fn item(&mut self, item: &Item, key: &'static str, at: &Place) -> Value {
        match item {
            Item::Leaf(i) => self.leaf(*i).unwrap_or(Value::Bad),
            Item::List(all) => Value::List(
                all.iter()
                    .map(|one| {
                        let at = match one {
                            Item::Leaf(i) => self.leaves[*i].at.clone(),
                            Item::Table(p) => p.at.clone(),
                            _ => at.clone(),
                        };
                        Got { key, value: self.item(one, key, &at), at, written: true }
                    })
                    .collect(),
            ),
            Item::Table(plan) => Value::Table(self.table(plan)),
            Item::None => Value::None,
            Item::Bad => Value::Bad,
        }
    }
    /// Tells a trouble of a leaf; `at` is bytes of its text.
    fn tell(&mut self, i: usize, at: Option<Range<usize>>, t: Trouble) {
        let leaf = &self.leaves[i];
        let place = match (at, leaf.inner) {
            (Some(r), Some(inner)) if r.start < r.end => {
                let start = leaf.at.start + inner;
                self.page.place(start + r.start..start + r.end)
            }
            _ => leaf.at.clone(),
        };
        let mut t = t;
        t.says = format!("{}: {}", leaf.label, t.says);
        t.at.insert(0, place);
        self.troubles.push(t);
    }
    fn enter<T: Shown>(&mut self, i: usize, v: T) -> Val<T> {
        let leaf = &self.leaves[i];
        match leaf.said {
            Said::Written => self.book.written(&leaf.name, v, leaf.at.clone()),
            Said::Default(why) => self.book.assumed(&leaf.name, v, why),
        }
    }
    fn leaf(&mut self, i: usize) -> Option<Value> {
        let (kind, text) = (self.leaves[i].kind, self.leaves[i].text.clone());
        Some(match kind {
            Kind::Quantity(of, bounds) => {
                let si = self.exact(i)?.si(of.dimension());
                self.sensible(i, of, bounds, si)?;
                self.quantity(i, of, si)
            }
            Kind::Size(general) => self.size(i, general)?,
            Kind::Tool => {
                let si = self.exact(i)?.si(Dimension::Length);
                self.sensible(i, Of::Diameter, Bounds::Positive, si)?;
                let size = Diameter::si(si);
                Value::Tool(self.named_or_written(i, size), text.trim().to_owned())
            }
            Kind::Band => {
                let (upper, lower) = self.band(i, &text)?;
                let name = self.leaves[i].name.clone();
                let (u, l) = (format!("{name}.upper"), format!("{name}.lower"));
                Value::Band(self.enter_as(i, &u, upper), self.enter_as(i, &l, lower))
            }
            Kind::Count(least, most) => {
                let n = text.replace('_', "").parse::<i64>().ok().filter(|n| (least..=most).contains(n));
                let Some(n) = n else {
                    let negative = text.starts_with('-');
                    let says = if negative && least >= 0 {
                        format!("{text} is less than nothing")
                    } else {
                        format!("{text} is not between {least} and {most}")
                    };
                    self.tell(
                        i,
                        None,
                        Trouble::text(says).cure(format!("write a whole number from {least} to {most}")),
                    );
                    return None;
                };
                Value::Count(self.enter(i, Count(n)))
            }
            Kind::Word(words) => {
                let found = words.iter().find(|(w, _)| w.eq_ignore_ascii_case(text.trim()));
                let Some((word, _)) = found else {
                    let known: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
                    let t = Trouble::text(format!("'{text}' is not known"));
                    let near = nearest(&text, known.iter().copied());
                    let t = match near.first() {
                        Some(n) => t.cure(format!("did you mean \"{n}\"?")),
                        None => t.cure(format!("known here: {}", known.join(", "))),
                    };
                    self.tell(i, Some(0..text.len()), t);
                    return None;
                };
                self.enter(i, (*word).to_owned());
                Value::Word(word)
            }
            Kind::Text => {
                if text.chars().any(char::is_control) {
                    self.tell(
                        i,
                        None,
                        Trouble::text("a line break or control sign stands in it")
                            .cure("write it on one line"),
                    );
                    return None;
                }
                self.enter(i, text.trim().to_owned());
                Value::Text(text.trim().to_owned())
            }
            Kind::Flag => {
                let yes = text == "true";
                self.enter(i, yes);
                Value::Flag(yes)
            }
            Kind::Thread => match lookup::thread(&text) {
                Ok(thread) => {
                    self.enter(i, thread.name.clone());
                    Value::Thread(thread)
                }
                Err(near) => {
                    let t = Trouble::text(format!("'{}' is no thread known here", text.trim()));
                    let t = if near.is_empty() {
                        t.cure("threads are written M4, 2-56 UNC, 4 BA or 1/4x40 ME")
                    } else {
                        t.cure(format!("near to it: {}", near.join(", ")))
                    };
                    self.tell(i, Some(0..text.len()), t);
                    return None;
                }
            },
            Kind::Material => match tables::material::find(&text) {
                Ok(material) => {
                    self.enter(i, material.name.clone());
                    Value::Material(material, text.trim().to_owned())
                }
                Err(mut t) => {
                    // The likeliest is enough.
                    t.cures.truncate(1);
                    self.tell(i, Some(0..text.len()), t);
                    return None;
                }
            },
            // Lists and tables are never leaves.
            _ => return None,
        })
    }
    fn quantity(&mut self, i: usize, of: Of, si: f64) -> Value {
        match of {
            Of::Length => Value::Length(self.enter(i, Length::si(si))),
            Of::Diameter => Value::Diameter(self.named_or_written(i, Diameter::si(si))),
            Of::Angle => Value::Angle(self.enter(i, Angle::si(si))),
            Of::Turning => Value::Turning(self.enter(i, AngularSpeed::si(si))),
            Of::Speed => Value::Speed(self.enter(i, Speed::si(si))),
            Of::Force => Value::Force(self.enter(i, Force::si(si))),
            Of::Power => Value::Power(self.enter(i, Power::si(si))),
            Of::Temperature => Value::Temperature(self.enter(i, Temperature::si(si))),
            Of::Difference => Value::Difference(self.enter(i, TemperatureDifference::si(si))),
            Of::Ratio => Value::Ratio(self.enter(i, Ratio::si(si))),
            Of::Time => Value::Time(self.enter(i, Time::si(si))),
            Of::Mass => Value::Mass(self.enter(i, Mass::si(si))),
            Of::Torque => Value::Torque(self.enter(i, Torque::si(si))),
            Of::Pressure => Value::Pressure(self.enter(i, Pressure::si(si))),
            Of::Density => Value::Density(self.enter(i, Density::si(si))),
        }
    }
    /// A size that the trade has a name for is a row of a table; others stand as written.
    fn named_or_written(&mut self, i: usize, size: Diameter) -> Val<Diameter> {
        let leaf = &self.leaves[i];
        if lookup::drill(&leaf.text).is_some()
            && let Ok(drill) = tables::drill::find(&leaf.text)
        {
            let row = format!("drill {}, {}", drill.name, leaf.at);
            return self.book.tabled(&leaf.name, size, row, drill.source);
        }
        self.enter(i, size)
    }
    fn enter_as<T: Shown>(&mut self, i: usize, name: &str, v: T) -> Val<T> {
        let leaf = &self.leaves[i];
        match leaf.said {
            Said::Written => self.book.written(name, v, leaf.at.clone()),
            Said::Default(why) => self.book.assumed(name, v, why),
        }
    }
    fn band(&mut self, i: usize, text: &str) -> Option<(Length, Length)> {
        let Some((upper, lower)) = limits::band(text) else {
            let t = Trouble::text(format!("'{text}' is not a pair of limits"))
                .cure("for example ±0.1 mm or +0.1/0 mm");
            self.tell(i, Some(0..text.len()), t);
            return None;
        };
        self.deviations(i, &upper, &lower)
    }
    fn deviations(&mut self, i: usize, upper: &str, lower: &str) -> Option<(Length, Length)> {
        let all = 0..self.leaves[i].text.len();
        let mut one = |text: &str| match read(text, Dimension::Length) {
            Ok(si) => Some(Length::si(si)),
            Err(f) => {
                let mut t = Trouble::text(format!("the limits: {}", f.says));
                t.cures = f.cures;
                self.tell(i, Some(all.clone()), t);
                None
            }
        };
        let (upper, lower) = (one(upper)?, one(lower)?);
        if upper < lower {
            let t = Trouble::text("the upper limit is below the lower one")
                .cure("write the larger deviation first: 6.00 +0.00/-0.02 mm");
            self.tell(i, Some(all), t);
            return None;
        }
        Some((upper, lower))
    }
    fn size(&mut self, i: usize, general: General) -> Option<Value> {
        let si = self.exact(i)?.si(Dimension::Length);
        self.sensible(i, general.of(), Bounds::Positive, si)?;
        let (_, _, tail) = limits::split(&self.leaves[i].text);
        let given = match &tail {
            Tail::Band(u, l) => {
                let (upper, lower) = self.deviations(i, u, l)?;
                if si + lower.value() <= 0.0 {
                    let t = Trouble::text("the lower limit takes the whole size away")
                        .cure("check the limits' decimal point");
                    self.tell(i, None, t);
                    return None;
                }
                Some((upper, lower))
            }
            _ => None,
        };
        let name = self.leaves[i].name.clone();
        Some(match general {
            General::Length => {
                let nominal = self.enter(i, Length::si(si));
                let (upper, lower) = self.limits(i, general, &name, |_, _| nominal, given, &tail)?;
                Value::LengthSize(Size { nominal, upper, lower })
            }
            _ => {
                let nominal = self.named_or_written(i, Diameter::si(si));
                let across = |book: &mut Book, name: &str| {
                    work!(book, format!("{name}.basic"), |nominal| nominal.across(), &GEOMETRY)
                };
                let (upper, lower) = self.limits(i, general, &name, across, given, &tail)?;
                Value::DiameterSize(Size { nominal, upper, lower })
            }
        })
    }
    /// Deviations of a size: as written, by a fit, or by the house's general limits.
    fn limits(
        &mut self,
        i: usize,
        general: General,
        name: &str,
        basic: impl FnOnce(&mut Book, &str) -> Val<Length>,
        given: Option<(Length, Length)>,
        tail: &Tail,
    ) -> Option<(Val<Length>, Val<Length>)> {
        let (u, l) = (format!("{name}.upper"), format!("{name}.lower"));
        if let Some((upper, lower)) = given {
            return Some((self.enter_as(i, &u, upper), self.enter_as(i, &l, lower)));
        }
        if let Tail::Fit(code) = tail {
            let hole = code.starts_with(|c: char| c.is_ascii_uppercase());
            if hole != (general == General::Hole) {
                let (here, other) =
                    if hole { ("a shaft", code.to_lowercase()) } else { ("a hole", code.to_uppercase()) };
                let t = Trouble::text(format!("'{code}' is not a fit of {here}"))
                    .why("capital letters are holes, small letters are shafts")
                    .cure(format!("write {other}"));
                self.tell(i, None, t);
                return None;
            }
            let basic = basic(self.book, name);
            return match lookup::fit(self.book, name, basic, code) {
                Ok(found) => Some(found),
                Err(t) => {
                    self.tell(i, None, t);
                    None
                }
            };
        }
        let (upper, lower) = match self.house.get(&general) {
            Some(house) => *house,
            // The house's own limits are at fault, and that is told.
            None => return None,
        };
        let upper = work!(self.book, u, |upper| upper, &HOUSE);
        let lower = work!(self.book, l, |lower| lower, &HOUSE);
        Some((upper, lower))
    }
    /// The exact value of a leaf that holds a number; tells its trouble once.
    fn exact(&mut self, i: usize) -> Option<Exact> {
        match &self.states[i] {
            State::Done(e) => return Some(*e),
            State::Bad => return None,
            State::Busy => {
                self.ring(i);
                return None;
            }
            State::Fresh => {}
        }
        self.states[i] = State::Busy;
        self.stack.push(i);
        let found = self.evaluate(i);
        self.stack.pop();
        // A ring that was told while this was busy has marked it.
        let bad = matches!(self.states[i], State::Bad);
        self.states[i] = match found {
            Some(e) if !bad => State::Done(e),
            _ => State::Bad,
        };
        found.filter(|_| !bad)
    }
    fn evaluate(&mut self, i: usize) -> Option<Exact> {
        let leaf = &self.leaves[i];
        let (text, own, kind) = (leaf.text.clone(), leaf.own.clone(), leaf.kind);
        let of = kind_of(&kind);
        if text.len() > LONGEST {
            let t = Trouble::text(format!("this is {} signs long, which is no size", text.chars().count()))
                .cure("write a number with its unit");
            self.tell(i, None, t);
            return None;
        }
        if self.stack.len() > DEEPEST {
            let t = Trouble::text(format!("names lead on through more than {DEEPEST} sizes"))
                .cure("name the first of them directly");
            self.tell(i, None, t);
            return None;
        }
        let (nominal, at) = match kind {
            Kind::Size(_) => {
                let (nominal, at, _) = limits::split(&text);
                (nominal, at)
            }
            _ => (text.clone(), 0..text.len()),
        };
        let mut nominal = nominal;
        if of == Of::Diameter {
            match lookup::drill(&nominal) {
                // Tables give four decimals of a millimetre at most; so written, the value stays exact.
                Some(Ok((size, _))) => nominal = format!("{} mm", reckon::print::fixed(size.in_mm(), 6)),
                Some(Err(t)) => {
                    self.tell(i, Some(0..text.len()), t);
                    return None;
                }
                None => {}
            }
        }
        let found = exact_with(&nominal, of.dimension(), &mut |name| self.refer(name, &own, of));
        match found {
            Ok(e) => Some(e),
            // Told where the named size stands.
            Err(f) if f.says.is_empty() => None,
            Err(f) => {
                let placed = f.at.end <= at.len() && nominal.len() >= at.len();
                let range = if placed { at.start + f.at.start..at.start + f.at.end } else { 0..text.len() };
                let mut t = Trouble::text(f.says);
                t.why = f.why;
                t.cures = f.cures;
                // A mistyped unit most likely was one of what is wanted here.
                if let Some(word) = t.says.strip_suffix("' is not a unit").and_then(|w| w.strip_prefix('\''))
                    && t.why.is_none()
                {
                    let units = of.dimension().units();
                    t.cures = vec![match nearest(word, units.iter().copied()).first() {
                        Some(near) => format!("did you mean '{near}'?"),
                        None => format!("units of {}: {}", of.dimension().noun(), units.join(", ")),
                    }];
                }
                self.tell(i, Some(range), t);
                None
            }
        }
    }
    /// The value of a name that stands in a text.
    fn refer(&mut self, name: &str, own: &str, of: Of) -> Result<Exact, TextFault> {
        let fault = |says: String, cures: Vec<String>| TextFault { at: 0..0, says, why: None, cures };
        let candidates = [name.to_owned(), format!("{own}.{name}"), format!("{}.{name}", self.root)];
        let Some(i) = candidates.iter().find_map(|n| self.names.get(n)).copied() else {
            let dotted = name.contains(['.', '_']);
            let near = self.near(name, own);
            let says = if dotted {
                format!("'{name}' names no size written here")
            } else {
                format!("'{name}' is not {}", of.noun())
            };
            let mut cures = Vec::new();
            if !near.is_empty() {
                cures.push(format!("did you mean {near}?"));
            }
            if near.is_empty() || !dotted {
                cures.push(example(of));
            }
            return Err(fault(says, cures));
        };
        if matches!(self.leaves[i].said, Said::Default(_)) {
            return Err(fault(
                format!("'{name}' is not written but assumed, and only written sizes can be named"),
                vec![format!(
                    "write it: {} = \"{}\"",
                    name.rsplit('.').next().unwrap_or(name),
                    self.leaves[i].text
                )],
            ));
        }
        self.exact(i).ok_or_else(|| fault(String::new(), Vec::new()))
    }
    /// Known names near to a mistyped one, as long as looking for them takes no noticeable time.
    fn near(&mut self, name: &str, own: &str) -> String {
        let Some(left) = self.comparisons.checked_sub(self.names.len()) else { return String::new() };
        self.comparisons = left;
        let within = format!("{own}.");
        let short = self.names.keys().filter_map(|n| n.strip_prefix(&within));
        nearest(name, self.names.keys().map(String::as_str).chain(short)).join(" or ")
    }
    /// Tells of a ring of names, once, with all its places.
    fn ring(&mut self, i: usize) {
        let from = self.stack.iter().position(|s| *s == i).unwrap_or(0);
        let ring: Vec<usize> = self.stack[from..].to_vec();
        // It is shown from its first line on, wherever the reading happened to enter it.
        let first = (0..ring.len()).min_by_key(|k| self.leaves[ring[*k]].at.start).unwrap_or(0);
        let turned: Vec<usize> = ring[first..].iter().chain(&ring[..first]).copied().collect();
        let mut names: Vec<&str> = turned.iter().map(|r| self.leaves[*r].name.as_str()).collect();
        names.extend(names.first().copied());
        let says = if turned.len() == 1 {
            format!("{} is written by means of itself", names[0])
        } else {
            format!("these sizes are written by means of each other: {}", names.join(" -> "))
        };
        let mut t = Trouble::text(says).cure(if turned.len() == 1 {
            "write it as a number"
        } else {
            "write one of them as a number"
        });
        for r in &turned {
            t = t.at(self.leaves[*r].at.clone());
            self.states[*r] = State::Bad;
        }
        self.troubles.push(t);
    }
    /// Refuses what no clock or shop has.
    fn sensible(&mut self, i: usize, of: Of, bounds: Bounds, si: f64) -> Option<()> {
        let text = self.leaves[i].text.trim().to_owned();
        let t = match bounds {
            Bounds::Positive if si <= 0.0 => {
                let what = if si < 0.0 { "less than nothing" } else { "nothing" };
                Some(Trouble::text(format!("{text} is {what}")).cure(format!("write {} above 0", of.noun())))
            }
            Bounds::Far => None,
            Bounds::Room if of == Of::Temperature && !(233.15..=333.15).contains(&si) => Some(
                Trouble::text(format!("{text} is no temperature of a room that a clock stands in"))
                    .cure("write -40 degC to 60 degC; check whether it is degC or degF"),
            ),
            Bounds::NotNegative | Bounds::Room if si < 0.0 => {
                Some(Trouble::text(format!("{text} is less than nothing")).cure("write 0 or more"))
            }
            Bounds::Room if of == Of::Difference && si > 40.0 => Some(
                Trouble::text(format!("{text} is more than a room's warmth goes up and down"))
                    .cure("write 0 K to 40 K"),
            ),
            _ => absurd(of, &text, si),
        };
        match t {
            None => Some(()),
            Some(t) => {
                self.tell(i, Some(0..self.leaves[i].text.len()), t);
                None
            }
        }
    }
}
