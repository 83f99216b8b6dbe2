//! The journals of a project as they lie on the disk, and what they say of its sizes.

use crate::folder::{Folder, Text};
use journal::{Entry, Keeps, Lost, Standing, What};
use reckon::{Book, Kind, Trouble};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use store::{Of, Store};

/// Name of a clock's journal, beside clock.toml.
pub const JOURNAL: &str = "journal.sqlite";
/// Name of a shop's journal, beside the shop's text.
pub const SHOP_JOURNAL: &str = "shop-journal.sqlite";

/// A journal as it was read.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Kept {
    /// Where it lies.
    pub path: PathBuf,
    /// Clock or shop, and its name; nothing where it could not be read.
    pub of: Option<(String, String)>,
    /// Entries that are whole.
    pub entries: Vec<Entry>,
    /// What is not whole.
    pub broken: Vec<String>,
    /// Why nothing could be read.
    pub lost: Option<Lost>,
}
impl Kept {
    /// Reads a journal where there is one.
    #[must_use]
    pub fn read(path: &Path) -> Option<Kept> {
        let mut kept = Kept { path: path.to_owned(), ..Kept::default() };
        match Store::read(path, None) {
            Err(Lost::Absent) => return None,
            Err(lost) => kept.lost = Some(lost),
            Ok(store) => match store.about().and_then(|of| Ok((of, store.entries()?))) {
                Ok((of, (entries, broken))) => {
                    (kept.of, kept.entries, kept.broken) = (Some(of), entries, broken);
                }
                Err(lost) => kept.lost = Some(lost),
            },
        }
        Some(kept)
    }
}
/// Former names and what they are called now, as they stand in dotted names.
pub type Renamed = BTreeMap<String, String>;
/// What the journals say.
#[derive(Clone, Debug, Default)]
pub struct Known {
    /// How the clock stands.
    pub standing: Standing,
    /// What the shop has learnt.
    pub shop: Standing,
    /// Sizes that take the place of what is computed.
    pub actuals: BTreeMap<String, reckon::Actual>,
    /// What is wrong with a journal.
    pub troubles: Vec<Trouble>,
    /// Whose journals these are.
    pub clock: Option<Of>,
    /// Of which shop.
    pub workshop: Option<Of>,
}
impl Known {
    /// What the journals of a folder say after an entry of the clock's; after all where none is named.
    #[must_use]
    pub fn of(folder: &Folder, until: Option<u64>) -> Known {
        if folder.journal.is_none() && folder.shop_journal.is_none() {
            return Known::default();
        }
        let (clock, workshop, renamed) = whose(folder);
        let mut known = Known { clock, workshop, ..Known::default() };
        let owner = known.clock.clone();
        if let Some(kept) = &folder.journal
            && fits(kept, owner.as_ref(), "clock.toml", &mut known.troubles)
        {
            known.standing = Standing::after(&called(&kept.entries, &renamed), until);
        }
        let owner = known.workshop.clone();
        if let Some(kept) = &folder.shop_journal
            && fits(kept, owner.as_ref(), "shop.toml", &mut known.troubles)
        {
            known.shop = Standing::after(&kept.entries, None);
        }
        known.actuals = actuals(&known.shop);
        known.actuals.extend(actuals(&known.standing));
        known.actuals.extend(derived(&known.standing));
        known
    }
}
/// Entries under the names that things have now.
fn called(entries: &[Entry], renamed: &Renamed) -> Vec<Entry> {
    let mut all = entries.to_vec();
    if renamed.is_empty() {
        return all;
    }
    for e in &mut all {
        match &mut e.what {
            What::Measured(r) => r.name = now(&r.name, renamed),
            What::Concession { name, .. } => *name = now(name, renamed),
            What::Done(s) => s.part = now(&s.part, renamed),
            What::Stood { part, sizes, .. } => {
                *part = now(part, renamed);
                for (name, _) in sizes {
                    *name = now(name, renamed);
                }
            }
            What::Remark { about, .. } => *about = now(about, renamed),
            What::Struck { .. } | What::Rated(_) | What::Learnt(_) => {}
        }
    }
    all
}
/// A dotted name with each of its parts that was renamed.
#[must_use]
pub fn now(name: &str, renamed: &Renamed) -> String {
    let parts = name.split('.').map(|p| renamed.get(p).map_or(p, String::as_str));
    parts.collect::<Vec<_>>().join(".")
}
/// Sizes as they really are: what was measured, and what finished parts were made to.
fn actuals(standing: &Standing) -> BTreeMap<String, reckon::Actual> {
    let made = standing.made_to.iter().map(|(name, (value, entry))| {
        let actual = reckon::Actual {
            value: *value,
            entry: *entry,
            tool: String::new(),
            give_or_take: None,
            measured: false,
        };
        (name.clone(), actual)
    });
    // What is rough still changes: it bounds what can be made, and is not what it is.
    let measured = standing.actuals().into_iter().filter(|(_, a)| !a.rough).map(|(name, a)| {
        let actual = reckon::Actual {
            value: a.value,
            entry: a.entry,
            tool: a.tool,
            give_or_take: a.give_or_take,
            measured: true,
        };
        (name, actual)
    });
    made.chain(measured).collect()
}
/// What is measured of one thing and holds for another under its own name.
fn derived(standing: &Standing) -> Vec<(String, reckon::Actual)> {
    let mut all = teeth_sit(standing);
    // The plates stand as far apart as the pillars between them are long.
    let pillars = standing.actual(PILLARS, None).filter(|a| !a.rough);
    if let (Some(a), None) = (pillars, standing.actual(GAP, None)) {
        all.push((GAP.to_owned(), actual(&a, a.value, "all pillars".to_owned())));
    }
    all
}
/// Length of the pillars between their shoulders, and the gap of the plates.
const PILLARS: &str = "plates.pillar.alike.between";
const GAP: &str = "plates.gap";

/// The size that is the same as another, where that is measured.
#[must_use]
pub fn follows(name: &str) -> Option<&'static str> {
    (name == PILLARS).then_some(GAP)
}
fn actual(of: &journal::standing::Actual, value: f64, tool: String) -> reckon::Actual {
    reckon::Actual { value, entry: of.entry, tool, give_or_take: of.give_or_take, measured: true }
}
/// Wheels and pinions of which a size over pins was measured, or whose rim was measured after their teeth were cut:
/// teeth cut deeper than drawn, or to full depth from a rim under size, sit nearer to the axis. A rim that was
/// measured before goes into the depth, and the teeth sit where they are drawn.
fn teeth_sit(standing: &Standing) -> Vec<(String, reckon::Actual)> {
    let mut all = Vec::new();
    for ((name, piece), readings) in &standing.readings {
        let pins = name.strip_suffix(".pins.over");
        let Some(wheel) = pins.or_else(|| name.strip_suffix(".outside")) else { continue };
        let Some((entry, r)) = readings.first() else { continue };
        let (Some(wanted), Some(is)) = (r.wanted, standing.actual(name, *piece)) else { continue };
        let cut = pins.is_some() || standing.cut.get(wheel).is_some_and(|at| at < entry);
        let slack = is.give_or_take.unwrap_or(0.0).min(5e-6);
        if r.rough || !cut || (is.value >= wanted.least - slack && is.value <= wanted.most + slack) {
            continue;
        }
        // Pins lie where the teeth themselves are, which the rim only tells of.
        let over_pins = (format!("{wheel}.pins.over"), *piece);
        if pins.is_none() && standing.readings.contains_key(&over_pins) {
            continue;
        }
        let tool = format!("half of what {name} is under size");
        let mut sits = actual(&is, (wanted.nominal - is.value) / 2.0, tool);
        sits.give_or_take = is.give_or_take.map(|u| u / 2.0);
        all.push((format!("{wheel}.teeth_sit"), sits));
    }
    all
}
/// Whether a journal can be used for what lies beside it; what is wrong is told.
fn fits(kept: &Kept, owner: Option<&Of>, file: &str, troubles: &mut Vec<Trouble>) -> bool {
    let path = kept.path.display();
    if let Some(lost) = &kept.lost {
        let says = lost.says();
        let says = if says.contains(&path.to_string()) { says } else { format!("{path}: {says}") };
        troubles.push(Trouble::error(Kind::Text, says).cure(lost.cure()));
        return false;
    }
    if !kept.broken.is_empty() {
        let whole = kept.entries.len();
        let mut t = Trouble::text(format!(
            "{path}: part of the journal is not whole; the {whole} entries that are, are used"
        ))
        .as_warning();
        t.why = Some(kept.broken.join("; "));
        troubles.push(t.cure(
            "copy the file away; write what is whole with 'enter --lines-out', and take it in to a new journal",
        ));
    }
    let (Some(of), Some((kind, name))) = (owner, &kept.of) else { return kept.of.is_some() };
    if kind == of.kind && (*name == of.name || of.was.contains(name)) {
        return true;
    }
    let lost = Lost::Another(name.clone());
    troubles.push(
        Trouble::error(Kind::Text, format!("{path}: {}, and {file} is of '{}'", lost.says(), of.name))
            .why("sizes of another clock would take the place of this one's")
            .cure(lost.cure()),
    );
    false
}
/// Whose the texts are, and what was renamed in them.
#[must_use]
pub fn whose(folder: &Folder) -> (Option<Of>, Option<Of>, Renamed) {
    let mut book = Book::off();
    let text = |t: &Text| (Arc::<str>::from(t.name.as_str()), t.bytes.clone());
    let (clock, shop) = (folder.clock.as_ref().map(text), folder.shop.as_ref().map(text));
    fn as_text(t: &(Arc<str>, Vec<u8>)) -> record::Text<'_> {
        record::Text { name: Arc::clone(&t.0), bytes: &t.1 }
    }
    let read =
        record::read(clock.as_ref().map(as_text).as_ref(), shop.as_ref().map(as_text).as_ref(), &mut book);
    let Some(project) = read.facts else { return (None, None, Renamed::new()) };
    let clock = project.clock.as_ref();
    let renamed = clock.map(|c| c.renamed().into_iter().collect());
    (
        clock.map(|c| Of { kind: "clock", name: c.name.clone(), was: c.was.iter().cloned().collect() }),
        project.shop.as_ref().map(|s| Of {
            kind: "shop",
            name: s.name.clone(),
            was: s.was.iter().cloned().collect(),
        }),
        renamed.unwrap_or_default(),
    )
}
