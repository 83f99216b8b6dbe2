//! Finish in a part's route: the words asked for become operations, each at its place in the order of all
//! that is done to the part, with the reasons of that order.

pub mod batch;
pub mod ladder;
mod place;
mod steps;
pub mod wanted;

pub use batch::Together;
pub use ladder::Ladder;
pub use wanted::Wanted;

use super::{Operation, SetUp};
use heat::order::{Arrow, No, Order, Wish};
use movement::part::Part;
use reckon::{Book, Cell, Id, Trouble};
use record::facts::{Finish, Shop};

/// Operations of the hearth: an order that is written otherwise puts them all on one side.
const FIRE: [&str; 5] = ["coat", "harden", "clean", "temper", "straighten"];

/// The finish of a part as planned.
#[derive(Clone, Debug)]
pub struct Finished {
    /// Words, as written or assumed.
    pub words: Vec<Finish>,
    /// Operations of finish in their order.
    pub works: Vec<String>,
    /// Arrows that hold with at least one of them, hard and soft.
    pub kept: Vec<Arrow>,
    /// Rules put aside, with the maker's reason.
    pub aside: Vec<(Arrow, String)>,
    /// Advice that gave way to the order written.
    pub gave_way: Vec<Arrow>,
    /// The ladder of grains.
    pub ladder: Option<Ladder>,
    /// What the fire does to it.
    pub fired: Option<super::fire::Fired>,
    /// The order with its reasons, in the book.
    pub table: Option<Id>,
}
/// What is done to a part in all, cutting first, each once.
fn all_works(cutting: &[SetUp], wanted: &Wanted) -> Vec<&'static str> {
    let mut all: Vec<&'static str> = Vec::new();
    let done = cutting.iter().flat_map(|s| &s.operations).flat_map(|o| o.does.iter().copied());
    for w in done.chain(wanted.works.iter().map(|w| w.does)) {
        if !all.contains(&w) {
            all.push(w);
        }
    }
    all
}
/// The order that the maker wrote, where a rule speaks of it, and what he wants otherwise.
fn wishes(part: &Part, works: &[&str]) -> Vec<Wish> {
    let rules = heat::order::arrows(works);
    let rule = |first: &str, then: &str| rules.iter().any(|a| a.first == first && a.then == then);
    let mut out: Vec<Wish> = Vec::new();
    let mut wish = |first: &str, then: &str, reason: Option<&str>| {
        if !out.iter().any(|w| w.first == first && w.then == then) {
            let (first, then) = (first.to_owned(), then.to_owned());
            out.push(Wish { first, then, reason: reason.map(str::to_owned) });
        }
    };
    for o in &part.common.otherwise {
        let (first, then) = (wanted::main_work(o.first), wanted::main_work(o.then));
        if !works.contains(&first) || !works.contains(&then) || first == then {
            continue;
        }
        wish(first, then, Some(&o.reason));
        if FIRE.contains(&then) {
            for w in FIRE.iter().filter(|w| works.contains(*w) && rule(w, first)) {
                wish(first, w, Some(&o.reason));
            }
        }
        // Clean metal is wanted by what comes first now.
        if rule(then, "degrease") && rule("degrease", first) {
            wish("degrease", then, Some(&o.reason));
        }
    }
    if part.common.finish_written {
        let words = &part.common.finish;
        // Rules between the words themselves, through whatever the house puts between them.
        let mut mains: Vec<&str> = words.iter().map(|(f, _)| wanted::main_work(*f)).collect();
        mains.sort_unstable();
        mains.dedup();
        let rules = heat::order::arrows(&mains);
        let rule = |first: &str, then: &str| rules.iter().any(|a| a.first == first && a.then == then);
        for (i, (early, _)) in words.iter().enumerate() {
            for (late, _) in &words[i + 1..] {
                let (a, b) = (wanted::main_work(*early), wanted::main_work(*late));
                if a != b && rule(b, a) {
                    wish(a, b, None);
                }
            }
        }
    }
    out
}
/// The order of all that is done to a part.
///
/// # Errors
/// A trouble that shows the ring, where what the maker wrote spoils itself.
pub fn order(part: &Part, works: &[&str]) -> Result<Order, Box<Trouble>> {
    heat::order::order(works, &wishes(part, works)).map_err(|no| Box::new(spoilt(part, works, &no)))
}
/// The trouble of an order that cannot be.
fn spoilt(part: &Part, works: &[&str], no: &No) -> Trouble {
    let who = format!("{} '{}'", part.kind.word(), part.common.name);
    let No::Ring(ring) = no else {
        return Trouble::ours(format!("{who}: {}", no.text()));
    };
    let words = &part.common.finish;
    let word = |work: &str| words.iter().find(|(f, _)| wanted::main_work(*f) == work);
    if ring.iter().all(|a| a.asked) {
        let asked: Vec<String> = ring.iter().map(|a| format!("{} before {}", a.first, a.then)).collect();
        return Trouble::design(format!("{who}: what is asked of its finish contradicts itself"))
            .at(part.common.otherwise.first().map_or(part.at(), |o| &o.at).clone())
            .why(format!("{}: each is asked for, and together they run in a ring", asked.join(", ")))
            .cure(
                "leave one of them out of 'order'; what stands in 'finish' is asked for too, in its order",
            );
    }
    let asked = ring.iter().find(|a| a.asked);
    let (first, then) = match asked.map(|a| (word(&a.first), word(&a.then))) {
        Some((Some(a), Some(b))) => (a, b),
        _ => {
            return Trouble::design(format!("{who}: {}", no.text()))
                .at(part.at().clone())
                .cure("leave one of its orders out, or write the reason of the other too");
        }
    };
    let against: Vec<String> = ring
        .iter()
        .filter(|a| !a.asked)
        .map(|a| format!("{} goes before {}: {}", a.first, a.then, a.why))
        .collect();
    let mains: Vec<&str> = works.iter().copied().filter(|w| word(w).is_some()).collect();
    let sorted = heat::order::order(&mains, &[]).map(|o| o.works).unwrap_or_default();
    let list: Vec<String> =
        sorted.iter().filter_map(|w| word(w)).map(|(f, _)| format!("\"{}\"", f.word())).collect();
    Trouble::design(format!(
        "{who}: \"{}\" stands before \"{}\" in its finish, and the order runs in a ring",
        first.0.word(),
        then.0.word()
    ))
    .at(first.1.clone())
    .at(then.1.clone())
    .why(against.join("; "))
    .cure(format!("write finish = [{}]", list.join(", ")))
    .cure(format!(
        "or take it on yourself: order = [{{ first = \"{}\", then = \"{}\", reason = \"…\" }}]",
        first.0.word(),
        then.0.word()
    ))
}
impl Finished {
    /// What the maker wants otherwise than the rules, a sentence each.
    #[must_use]
    pub fn otherwise(&self) -> Vec<String> {
        // One wish turns several rules round: they are told together.
        let mut wishes: Vec<(&str, &str, Vec<&Arrow>)> = Vec::new();
        for (rule, reason) in &self.aside {
            let same = |w: &&mut (&str, &str, Vec<&Arrow>)| w.0 == rule.then && w.1 == reason;
            match wishes.iter_mut().find(same) {
                Some(w) => w.2.push(rule),
                None => wishes.push((&rule.then, reason, vec![rule])),
            }
        }
        let taken = wishes.into_iter().map(|(first, reason, rules)| {
            let after: Vec<&str> = rules.iter().map(|r| r.first.as_str()).collect();
            let why: Vec<&str> = rules.iter().map(|r| r.why.as_str()).collect();
            format!(
                "{first} before {}, against the usual order ({}). The maker's reason: {reason}.",
                after.join(", "),
                why.join("; ")
            )
        });
        let gave = self.gave_way.iter().map(|a| {
            format!(
                "{} before {} as written; {} first would go better ({}).",
                a.then, a.first, a.first, a.why
            )
        });
        taken.chain(gave).collect()
    }
}
impl Wanted {
    /// Appends the set-ups of finish to those of cutting, each at its place in the order.
    ///
    /// # Errors
    /// A trouble that shows the ring, where what the maker wrote spoils itself.
    pub fn append(
        self,
        part: &Part,
        shop: &Shop,
        book: &mut Book,
        setups: &mut Vec<SetUp>,
    ) -> Result<Finished, Box<Trouble>> {
        let works = all_works(setups, &self);
        let order = order(part, &works)?;
        let mine: Vec<String> = order.works.iter().filter(|w| self.has(w)).cloned().collect();
        let of = |w: &str| mine.iter().any(|m| m == w);
        let kept: Vec<Arrow> = order.kept.iter().filter(|a| of(&a.first) || of(&a.then)).cloned().collect();
        let table = (!mine.is_empty()).then(|| reasons(part, &mine, &kept, &order, book));
        let does: Vec<&'static str> = self.works.iter().map(|w| w.does).collect();
        let fired = super::fire::fired(&does, part, shop, book);
        let operations: Vec<(&'static str, Operation)> = mine
            .iter()
            .filter_map(|w| self.works.iter().find(|a| a.does == w))
            .map(|a| (a.does, steps::operation(a, &self, part, fired.as_ref(), shop, book)))
            .collect();
        place::place(setups, operations, &order.kept, shop);
        Ok(Finished {
            words: self.words,
            works: mine,
            kept,
            aside: order.aside,
            gave_way: order.gave_way,
            ladder: self.ladder,
            fired,
            table,
        })
    }
}
/// Writes the order with its reasons: after what each step comes, and why.
fn reasons(part: &Part, mine: &[String], kept: &[Arrow], order: &Order, book: &mut Book) -> Id {
    let at = |w: &str| order.works.iter().position(|x| x == w);
    let rows = mine
        .iter()
        .map(|w| {
            // The nearest rule in front of it says most; one that speaks of both needs no way round.
            let direct = |a: &Arrow| heat::order::rules().any(|r| r.first == a.first && r.then == a.then);
            let mut into: Vec<&Arrow> = kept.iter().filter(|a| a.then == *w && a.hard).collect();
            into.sort_by_key(|a| (!a.asked, !direct(a), std::cmp::Reverse(at(&a.first))));
            if into.first().is_some_and(|a| a.asked || direct(a)) {
                into.retain(|a| a.asked || direct(a));
            }
            let soft = kept.iter().filter(|a| a.then == *w && !a.hard && direct(a));
            let mut says: Vec<String> =
                into.iter().take(2).map(|a| format!("after {}: {}", a.first, a.why)).collect();
            says.extend(soft.take(1).map(|a| format!("better after {}: {}", a.first, a.why)));
            if says.is_empty() {
                let out = kept.iter().find(|a| a.first == *w && a.hard);
                says.extend(out.map(|a| format!("before {}: {}", a.then, a.why)));
            }
            vec![Cell::word(w.clone()), Cell::word(says.join("; "))]
        })
        .collect();
    book.table(
        format!("{}.finish.order", part.slug()),
        &["step", "why it stands here"],
        rows,
        "all rules between what is done to this part; those of the maker where he gave a reason",
        Vec::new(),
        &heat::order::RULES_BY,
    )
}
