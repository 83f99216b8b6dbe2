//! From tables of text to a plan of what is to be valued: keys known, kinds right, names given.

use super::page::Page;
use crate::spec::{FORMAT, Key, Kind, Need, Of, Section};
use reckon::trouble::nearest;
use reckon::{Place, Trouble, slug};
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// How a value came to stand here.
#[derive(Copy, Clone, Debug)]
pub(crate) enum Said {
    /// The maker wrote it.
    Written,
    /// It is a default, for this reason.
    Default(&'static str),
}
/// One value as text, not yet valued.
#[derive(Clone, Debug)]
pub(crate) struct Leaf {
    pub(crate) kind: Kind,
    /// Its dotted name.
    pub(crate) name: String,
    /// Dotted name of the part it belongs to.
    pub(crate) own: String,
    /// As it is called in a message: `'length' of screw 'bridge screw'`.
    pub(crate) label: String,
    pub(crate) text: String,
    pub(crate) at: Place,
    /// Bytes from the beginning of the place to the text, where the text stands there as it is.
    pub(crate) inner: Option<usize>,
    pub(crate) said: Said,
}
/// What a key holds.
#[derive(Clone, Debug)]
pub(crate) enum Item {
    Leaf(usize),
    List(Vec<Item>),
    Table(Plan),
    /// The word `none`.
    None,
    /// It stands there, and its trouble is told.
    Bad,
}
/// A table with what its keys hold, in the order of its section.
#[derive(Clone, Debug)]
pub(crate) struct Plan {
    pub(crate) section: &'static Section,
    pub(crate) at: Place,
    pub(crate) prefix: String,
    /// As it is called in a message: `head of screw 'bridge screw'`.
    pub(crate) subject: String,
    pub(crate) items: Vec<(&'static Key, Place, Item)>,
}

/// Where a table stands among the others.
#[derive(Clone, Debug)]
struct Spot {
    prefix: String,
    own: String,
    subject: String,
}
impl Spot {
    fn label(&self, key: &str) -> String {
        if self.subject.is_empty() { format!("'{key}'") } else { format!("'{key}' of {}", self.subject) }
    }
    fn name(&self, key: &str) -> String {
        if self.prefix.is_empty() { key.to_owned() } else { format!("{}.{key}", self.prefix) }
    }
}
/// One of a list is named by the singular and its number.
fn singular(key: &str) -> &str {
    key.strip_suffix("ches").map_or(key.strip_suffix('s').unwrap_or(key), |_| &key[..key.len() - 2])
}

/// Reads one page by its section.
pub(crate) struct Walk<'p> {
    pub(crate) page: &'p Page<'p>,
    /// Bytes at which the syntax is at fault.
    faults: Vec<usize>,
    /// What begins every dotted name of this page; empty for the clock.
    root: &'static str,
    pub(crate) leaves: Vec<Leaf>,
    pub(crate) troubles: Vec<Trouble>,
    /// Parts by the name they have in the book.
    named: BTreeMap<String, (String, Place)>,
}
impl<'p> Walk<'p> {
    pub(crate) fn new(page: &'p Page<'p>, root: &'static str, faults: Vec<usize>) -> Walk<'p> {
        Walk { page, faults, root, leaves: Vec::new(), troubles: Vec::new(), named: BTreeMap::new() }
    }
    /// The whole page; nothing when it is written for a later program.
    pub(crate) fn top(&mut self, section: &'static Section, tables: &DeTable<'_>) -> Option<Plan> {
        if let Some((key, value)) = tables.get_key_value("format")
            && let Some(n) = value.get_ref().as_integer().and_then(|i| i.as_str().parse::<i64>().ok())
            && n > FORMAT
        {
            let at = self.page.place(key.span().start..value.span().end);
            self.troubles.push(
                Trouble::text(format!(
                    "this text is written in format {n}, and this program reads up to {FORMAT}"
                ))
                .at(at)
                .why("a later program may have given its words another meaning")
                .cure("use the program that wrote it, or a later one"),
            );
            return None;
        }
        let spot = Spot { prefix: self.root.to_owned(), own: self.root.to_owned(), subject: String::new() };
        Some(self.table(section, tables, self.page.place(0..0), &spot))
    }
    fn tainted(&self, from: usize, to: usize) -> bool {
        let end = self.page.line_end(self.page.line_of(to.saturating_sub(1).max(from)));
        self.faults.iter().any(|f| *f >= from && *f <= end)
    }
    /// Whether a table or list is written by heads or dotted keys, so that its span does not hold it.
    fn by_heads(&self, key: &Range<usize>, value: &Spanned<DeValue<'_>>) -> bool {
        let span = value.span();
        match value.get_ref() {
            DeValue::Table(_) => !self.page.text()[span.start.min(self.page.text().len())..].starts_with('{'),
            DeValue::Array(_) => span.start < key.start,
            _ => false,
        }
    }
    fn table(&mut self, section: &'static Section, t: &DeTable<'_>, at: Place, spot: &Spot) -> Plan {
        let meant = self.unknown(section, t, spot);
        let mut items = Vec::new();
        let mut lacking: Vec<&'static Key> = Vec::new();
        for key in section.keys() {
            match t.get_key_value(key.name) {
                Some((k, v)) => {
                    let by_heads = self.by_heads(&k.span(), v);
                    let place = self.page.place(k.span());
                    let item = if !by_heads && self.tainted(k.span().start, v.span().end) {
                        Item::Bad
                    } else {
                        self.item(key, &k.span(), v, spot)
                    };
                    items.push((key, place, item));
                }
                None if matches!(key.need, Need::Required) => {
                    // After a fault of syntax, or where it is mistyped, it is not missing.
                    if self.faults.is_empty() && !meant.contains(&key.name) {
                        lacking.push(key);
                    }
                    items.push((key, at.clone(), Item::Bad));
                }
                None => self.missing(key, &at, spot, &mut items),
            }
        }
        self.lacks(&lacking, &at, spot);
        Plan { section, at, prefix: spot.prefix.clone(), subject: spot.subject.clone(), items }
    }
    /// Tells of words that are not known; the known ones that were most likely meant.
    fn unknown(&mut self, section: &'static Section, t: &DeTable<'_>, spot: &Spot) -> Vec<&'static str> {
        let top = spot.subject.is_empty();
        let mut meant = Vec::new();
        for (key, value) in t {
            let name: &str = key.get_ref();
            // Under a head that could not be read, keys fall to the top.
            let fallen =
                top && !self.faults.is_empty() && !value.get_ref().is_table() && !value.get_ref().is_array();
            let told = self.tainted(key.span().start, key.span().end) || name.is_empty();
            if section.key(name).is_some() || fallen || told {
                continue;
            }
            let known: Vec<&'static str> = section.keys().map(|k| k.name).collect();
            let whose = if top { section.name } else { &spot.subject };
            let trouble =
                Trouble::text(format!("unknown word '{name}' in {whose}")).at(self.page.place(key.span()));
            let near =
                if self.troubles.len() < 200 { nearest(name, known.iter().copied()) } else { Vec::new() };
            meant.extend(known.iter().filter(|k| near.first() == Some(*k)));
            self.troubles.push(match near.first() {
                Some(n) => trouble.cure(format!("did you mean '{n}'?")),
                None => trouble.cure(format!("known here: {}", known.join(", "))),
            });
        }
        meant
    }
    /// One trouble for all that a table lacks: it is mended in one go.
    fn lacks(&mut self, lacking: &[&'static Key], at: &Place, spot: &Spot) {
        let whose = if spot.subject.is_empty() { "this text" } else { &spot.subject };
        let example = |k: &Key| format!("{} = {}", k.name, k.example);
        let t = match lacking {
            [] => return,
            [one] => Trouble::text(format!("{whose} has no '{}'", one.name))
                .why(lower_first(one.help.trim_end_matches('.')))
                .cure(format!("for example {}", example(one))),
            [most @ .., last] => {
                let names: Vec<String> = most.iter().map(|k| format!("'{}'", k.name)).collect();
                let lines: Vec<String> = lacking.iter().map(|k| example(k)).collect();
                Trouble::text(format!("{whose} has no {} and no '{}'", names.join(", no "), last.name))
                    .cure(format!("for example {}", lines.join(", ")))
            }
        };
        self.troubles.push(t.at(at.clone()));
    }
    fn missing(
        &mut self,
        key: &'static Key,
        at: &Place,
        spot: &Spot,
        items: &mut Vec<(&'static Key, Place, Item)>,
    ) {
        match key.need {
            Need::Default { text, why } => {
                let leaf = |w: &mut Walk<'_>, kind: &Kind, name: String| {
                    w.leaf(Leaf {
                        kind: *kind,
                        name,
                        own: spot.own.clone(),
                        label: spot.label(key.name),
                        text: text.to_owned(),
                        at: at.clone(),
                        inner: None,
                        said: Said::Default(why),
                    })
                };
                let item = match key.kind {
                    Kind::Fixed(parts) => Item::List(
                        parts
                            .iter()
                            .map(|(n, k)| leaf(self, k, format!("{}.{n}", spot.name(key.name))))
                            .collect(),
                    ),
                    kind => leaf(self, &kind, spot.name(key.name)),
                };
                items.push((key, at.clone(), item));
            }
            Need::Implied => {
                if let Some(section) = key.kind.section() {
                    let inner = self.inside(spot, key, section);
                    let plan = self.table(section, &DeTable::new(), at.clone(), &inner);
                    items.push((key, at.clone(), Item::Table(plan)));
                }
            }
            Need::Required | Need::Optional | Need::Follows(_) => {}
        }
    }
    /// The spot of a table that stands under a key.
    fn inside(&self, spot: &Spot, key: &Key, section: &Section) -> Spot {
        let top = spot.subject.is_empty();
        let prefix = if top && key.name == self.root { self.root.to_owned() } else { spot.name(key.name) };
        Spot {
            own: if top { prefix.clone() } else { spot.own.clone() },
            prefix,
            subject: if top {
                format!("[{}]", key.name)
            } else {
                format!("{} of {}", section.name, spot.subject)
            },
        }
    }
    fn leaf(&mut self, leaf: Leaf) -> Item {
        self.leaves.push(leaf);
        Item::Leaf(self.leaves.len() - 1)
    }
    fn item(
        &mut self,
        key: &'static Key,
        key_at: &Range<usize>,
        v: &Spanned<DeValue<'_>>,
        spot: &Spot,
    ) -> Item {
        let label = spot.label(key.name);
        match key.kind {
            Kind::Table(section) | Kind::TableOrNone(section) => match v.get_ref() {
                DeValue::Table(t) => {
                    let inner = self.inside(spot, key, section);
                    // A table made of dotted keys is found by its key.
                    let at = self.page.place(if v.span().is_empty() { key_at.clone() } else { v.span() });
                    Item::Table(self.table(section, t, at, &inner))
                }
                DeValue::String(s) if s == "none" && matches!(key.kind, Kind::TableOrNone(_)) => Item::None,
                _ => self.wrong(&label, key.kind, v, &format!("{} = {}", key.name, key.example)),
            },
            Kind::Tables(section) | Kind::Parts(section) | Kind::Machines(section) => {
                self.tables(key, section, v, spot, &label)
            }
            kind => self.value(&kind, v, &spot.name(key.name), &spot.own, &label, key.example),
        }
    }
    fn tables(
        &mut self,
        key: &'static Key,
        section: &'static Section,
        v: &Spanned<DeValue<'_>>,
        spot: &Spot,
        label: &str,
    ) -> Item {
        let example = if spot.subject.is_empty() {
            format!("[[{}]] and its keys below", key.name)
        } else {
            format!("{} = {}", key.name, key.example)
        };
        let single;
        let all: &[Spanned<DeValue<'_>>] = match v.get_ref() {
            DeValue::Array(a) => a,
            DeValue::Table(_) => {
                single = [v.clone()];
                &single
            }
            _ => return self.wrong(label, key.kind, v, &example),
        };
        let mut items: Vec<Item> = Vec::new();
        for (i, one) in all.iter().enumerate() {
            let DeValue::Table(t) = one.get_ref() else {
                items.push(self.wrong(label, key.kind, one, &example));
                continue;
            };
            let number = i + 1;
            let inner = if matches!(key.kind, Kind::Tables(_)) {
                let name = format!("{}.{number}", spot.name(singular(key.name)));
                let whose =
                    if spot.subject.is_empty() { String::new() } else { format!(" of {}", spot.subject) };
                let own = if spot.subject.is_empty() { name.clone() } else { spot.own.clone() };
                Spot { own, prefix: name, subject: format!("{} {number}{whose}", section.name) }
            } else {
                self.named(key, section, t, number, one.span())
            };
            let at = self.page.place(one.span());
            items.push(Item::Table(self.table(section, t, at, &inner)));
        }
        if matches!(key.kind, Kind::Parts(_)) {
            // The order of parts in the text says nothing, so it must not change what is made of it.
            items.sort_by(|a, b| match (a, b) {
                (Item::Table(a), Item::Table(b)) => a.prefix.cmp(&b.prefix),
                _ => std::cmp::Ordering::Equal,
            });
        }
        Item::List(items)
    }
    /// The spot of a part that is known by its name; tells of a name that is taken.
    fn named(
        &mut self,
        key: &Key,
        section: &Section,
        t: &DeTable<'_>,
        number: usize,
        head: Range<usize>,
    ) -> Spot {
        let written = t.get_key_value("name").and_then(|(_, v)| Some((v.get_ref().as_str()?, v.span())));
        let (name, at) = match &written {
            Some((name, span)) => ((*name).trim().to_owned(), self.page.place(span.clone())),
            None => (String::new(), self.page.place(head)),
        };
        let mut prefix = slug(&name);
        let subject = if name.is_empty() {
            format!("{} {number}", section.name)
        } else {
            format!("{} '{name}'", section.name)
        };
        if prefix.is_empty() {
            if !name.is_empty() {
                self.troubles.push(
                    Trouble::text(format!("the name '{name}' has no letter and no digit"))
                        .at(at.clone())
                        .cure("call it by a word, so that its sizes can be named"),
                );
            }
            prefix = format!("{}_{number}", key.name);
        }
        let reserved: Vec<&str> = if self.root.is_empty() {
            let clock = crate::spec::clock::CLOCK.keys().filter(|k| !k.kind.many()).map(|k| k.name);
            clock.chain(["shop", "train", "motion"]).collect()
        } else {
            let place = crate::spec::shop::SHOP.key("shop").and_then(|k| k.kind.section());
            crate::spec::shop::SHOP
                .keys()
                .chain(place.into_iter().flat_map(Section::keys))
                .map(|k| k.name)
                .collect()
        };
        if reserved.contains(&prefix.as_str()) {
            self.troubles.push(
                Trouble::text(format!(
                    "'{name}' is a word of the text itself and cannot be the name of {} {}",
                    if section.name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" },
                    section.name
                ))
                .at(at.clone())
                .cure(format!("call it more exactly, such as 'small {name}'")),
            );
            prefix.push_str("_2");
        }
        while let Some((first, first_at)) = self.named.get(&prefix) {
            if !prefix.ends_with("_again") {
                let says = if *first == name {
                    let what = if section.name == "arbor" { "arbors" } else { "parts" };
                    format!("there are two {what} called '{name}' (line {} and {})", first_at.line, at.line)
                } else {
                    format!(
                        "'{name}' and '{first}' (line {}) differ too little to be told apart",
                        first_at.line
                    )
                };
                self.troubles.push(
                    Trouble::text(says)
                        .at(at.clone())
                        .at(first_at.clone())
                        .why("measurements are kept by the part's name")
                        .cure("give one of them another name"),
                );
            }
            prefix.push_str("_again");
        }
        self.named.insert(prefix.clone(), (name, at));
        let prefix = if self.root.is_empty() { prefix } else { format!("{}.{prefix}", self.root) };
        Spot { own: prefix.clone(), prefix, subject }
    }
    /// Several sizes as bare numbers: told once, with the whole list as it is to be written.
    fn bare_pair(
        &mut self,
        parts: &[(&str, Kind)],
        all: &[Spanned<DeValue<'_>>],
        label: &str,
        key: &str,
    ) -> bool {
        let of = match parts.first() {
            Some((_, Kind::Quantity(of, _))) if *of != Of::Ratio => *of,
            _ => return false,
        };
        let mut written = Vec::new();
        for x in all {
            let text = self.page.text().get(x.span()).unwrap_or_default().trim();
            let plain = text.bytes().all(|b| b.is_ascii_digit() || b"+-.".contains(&b));
            if !plain || !matches!(x.get_ref(), DeValue::Integer(_) | DeValue::Float(_)) {
                return false;
            }
            written.push(format!("\"{text} {}\"", of.unit()));
        }
        let (Some(first), Some(last)) = (all.first(), all.last()) else { return false };
        self.troubles.push(
            Trouble::text(format!("{label}: {} needs a unit", of.noun()))
                .at(self.page.place(first.span().start..last.span().end))
                .cure(format!("write {key} = [{}]", written.join(", "))),
        );
        true
    }
    /// A value or a list of values.
    fn value(
        &mut self,
        kind: &Kind,
        v: &Spanned<DeValue<'_>>,
        name: &str,
        own: &str,
        label: &str,
        example: &str,
    ) -> Item {
        let key = label.split('\'').nth(1).unwrap_or_default();
        match (kind, v.get_ref()) {
            (Kind::List(of), DeValue::Array(all)) => {
                let items = all.iter().enumerate();
                let stem = stem(name);
                Item::List(
                    items
                        .map(|(i, x)| self.value(of, x, &format!("{stem}.{}", i + 1), own, label, example))
                        .collect(),
                )
            }
            (Kind::List(of @ (Kind::Quantity(..) | Kind::Tool)), DeValue::Table(t)) => {
                self.unit_list(of, t, name, own, label)
            }
            (Kind::Fixed(parts), DeValue::Array(all)) => {
                if all.len() != parts.len() {
                    let names: Vec<&str> = parts.iter().map(|(n, _)| *n).collect();
                    self.troubles.push(
                        Trouble::text(format!(
                            "{label} takes {} values ({}), and {} stand here",
                            parts.len(),
                            names.join(", "),
                            if all.is_empty() { "none".to_owned() } else { all.len().to_string() }
                        ))
                        .at(self.page.place(v.span()))
                        .cure(format!("for example {key} = {example}")),
                    );
                    return Item::Bad;
                }
                if self.bare_pair(parts, all, label, key) {
                    return Item::Bad;
                }
                let each = parts.iter().zip(all.iter());
                Item::List(
                    each.map(|((n, k), x)| self.value(k, x, &format!("{name}.{n}"), own, label, example))
                        .collect(),
                )
            }
            (Kind::List(_) | Kind::Fixed(_), DeValue::String(s)) if matches!(kind, Kind::List(_)) => {
                let t = Trouble::text(format!("{label} is a list")).at(self.page.place(v.span()));
                self.troubles.push(t.cure(format!("write {key} = [\"{s}\"]")));
                Item::Bad
            }
            (Kind::List(_) | Kind::Fixed(_), _) => self.wrong(label, *kind, v, &format!("{key} = {example}")),
            _ => match self.text_of(kind, v, label, key, example) {
                Some((text, inner)) => self.leaf(Leaf {
                    kind: *kind,
                    name: name.to_owned(),
                    own: own.to_owned(),
                    label: label.to_owned(),
                    text,
                    at: self.page.place(v.span()),
                    inner,
                    said: Said::Written,
                }),
                None => Item::Bad,
            },
        }
    }
    /// `{ mm = [1, 2, 3] }`: numbers that share a unit.
    fn unit_list(&mut self, of: &Kind, t: &DeTable<'_>, name: &str, own: &str, label: &str) -> Item {
        let dimension = kind_of(of).dimension();
        let mut groups: Vec<_> = t.iter().collect();
        groups.sort_by_key(|(k, _)| k.span().start);
        let mut items = Vec::new();
        for (unit, values) in groups {
            let unit_text: &str = unit.get_ref();
            if !dimension.units().contains(&unit_text) {
                self.troubles.push(
                    Trouble::text(format!("{label}: '{unit_text}' is not a unit of {}", dimension.noun()))
                        .at(self.page.place(unit.span()))
                        .cure(format!("units here: {}", dimension.units().join(", "))),
                );
                continue;
            }
            let DeValue::Array(all) = values.get_ref() else {
                let says = format!("{label}: a list of numbers belongs after '{unit_text} ='");
                let t = Trouble::text(says).at(self.page.place(values.span()));
                self.troubles.push(t.cure(format!("write {unit_text} = [1, 2]")));
                continue;
            };
            for x in all {
                let digits = match x.get_ref() {
                    DeValue::Integer(i) => i.as_str().to_owned(),
                    DeValue::Float(f) => f.as_str().to_owned(),
                    _ => {
                        let says =
                            format!("{label}: a bare number belongs here, its unit stands before the list");
                        self.troubles.push(Trouble::text(says).at(self.page.place(x.span())));
                        continue;
                    }
                };
                if !digits.bytes().any(|b| b.is_ascii_digit()) {
                    self.not_a(label, &digits, kind_of(of).noun(), x.span());
                    continue;
                }
                let name = format!("{}.{}", stem(name), items.len() + 1);
                let leaf = Leaf {
                    kind: *of,
                    name,
                    own: own.to_owned(),
                    label: label.to_owned(),
                    text: format!("{digits} {unit_text}"),
                    at: self.page.place(x.span()),
                    inner: None,
                    said: Said::Written,
                };
                items.push(self.leaf(leaf));
            }
        }
        Item::List(items)
    }
}
/// `drills.sizes` becomes `drills.size`; `plate.1` keeps its number.
fn stem(name: &str) -> String {
    match name.rsplit_once('.') {
        Some((head, last)) => format!("{head}.{}", singular(last)),
        None => singular(name).to_owned(),
    }
}
/// The quantity that a kind holds; a plain number for the rest.
pub(crate) fn kind_of(kind: &Kind) -> Of {
    match kind {
        Kind::Quantity(of, _) => *of,
        Kind::Size(g) => g.of(),
        Kind::Tool => Of::Diameter,
        Kind::Band => Of::Length,
        _ => Of::Ratio,
    }
}
fn lower_first(text: &str) -> String {
    let mut c = text.chars();
    c.next().map_or(String::new(), |f| f.to_lowercase().chain(c).collect())
}
