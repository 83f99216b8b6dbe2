//! Jigs, mandrels, laps and templates: what the shop makes for itself in order to make a part. Each is a
//! part too, with a drawing, a route, hours, and a place in the order before its use.
//!
//! A planner asks for one by a function of this module; what is asked for twice is one jig with two users.

pub mod blank;
pub mod bush;
pub mod buttons;
pub mod collar;
pub mod guide;
pub mod lap;
pub mod mandrel;
pub mod strip;
pub mod through;
pub mod window;

pub use blank::{Flat, Turning};
pub use bush::split_bush;
pub use mandrel::{stub_mandrel, taper_mandrel};

use super::sheet::Share;
use super::{PartPlan, SetUp, ShopTool, flat, turned};
use movement::part::{Body, Part};
use reckon::{Book, Trouble};
use record::facts::Shop;
use std::collections::BTreeMap;

/// A part that is made so that others can be.
#[derive(Clone, Debug)]
pub struct Jig {
    /// What it is.
    pub part: Part,
    /// How it is made.
    pub plan: PartPlan,
    /// Names of the parts that wait for it.
    pub for_parts: Vec<String>,
    /// Why it is needed, in a sentence with the number that decides.
    pub why: String,
}
/// All jigs that have been asked for, in the order of asking.
#[derive(Debug, Default)]
pub struct Jigs {
    asked: Vec<Asked>,
    troubles: Vec<Trouble>,
    /// Routes of their own of those that are not made as other parts are.
    routes: BTreeMap<String, Vec<SetUp>>,
    /// What is done with a jig after it is made as other parts are.
    after: BTreeMap<String, Vec<SetUp>>,
    /// Sizes of guide blocks and bushes, for all that use them.
    guides: guide::Guides,
}
#[derive(Debug)]
struct Asked {
    part: Part,
    for_parts: Vec<String>,
    why: String,
}
/// What a jig is asked for with.
pub struct Asking<'a> {
    /// Those asked for so far.
    pub jigs: &'a mut Jigs,
    /// The shop that makes it.
    pub shop: &'a Shop,
    /// The part that needs it.
    pub part: &'a Part,
    /// The book.
    pub book: &'a mut Book,
}
/// A jig that a planner may name in its sentences.
#[derive(Clone, Debug)]
pub struct Named {
    /// As it stands in dotted names.
    pub slug: String,
    /// What it is called on its sheet.
    pub name: String,
}
/// Before every jig's slug.
pub const PREFIX: &str = "jig.";

impl Asking<'_> {
    /// Asks for the jig of this slug (without its prefix); `make` draws it where none of the name was asked for
    /// before. A jig gets no jig of its own: then there is none, and what asks says how to do without.
    pub fn ask(
        &mut self,
        slug: &str,
        why: impl Into<String>,
        make: impl FnOnce(&mut Drawing<'_>) -> (Part, Vec<Trouble>),
    ) -> Option<Named> {
        if self.part.slug().starts_with(PREFIX) {
            return None;
        }
        let slug = format!("{PREFIX}{slug}");
        let user = &self.part.common.name;
        if let Some(a) = self.jigs.asked.iter_mut().find(|a| a.part.slug() == slug) {
            if !a.for_parts.contains(user) {
                a.for_parts.push(user.clone());
            }
            return Some(Named { slug, name: a.part.common.name.clone() });
        }
        let mut drawing = Drawing::new(slug.clone(), self.shop, self.part.at().clone(), self.book);
        let (part, found) = make(&mut drawing);
        let (own, after) = (std::mem::take(&mut drawing.own), std::mem::take(&mut drawing.after));
        if !own.is_empty() {
            self.jigs.routes.insert(slug.clone(), own);
        }
        if !after.is_empty() {
            self.jigs.after.insert(slug.clone(), after);
        }
        self.jigs.troubles.extend(
            found.into_iter().map(|t| Trouble::ours(format!("the jig '{slug}' cannot be: {}", t.says))),
        );
        let name = part.common.name.clone();
        self.jigs.asked.push(Asked { part, for_parts: vec![user.clone()], why: why.into() });
        Some(Named { slug, name })
    }
}
/// A jig on the drawing board.
pub struct Drawing<'a> {
    /// Its slug, prefix and all.
    pub slug: String,
    /// The shop that makes it.
    pub shop: &'a Shop,
    /// Where the part that needs it is written.
    pub at: reckon::Place,
    /// All its set-ups, where it is from sheet and not made as any other part.
    pub own: Vec<SetUp>,
    /// Set-ups after those of any other part.
    pub after: Vec<SetUp>,
    /// How many are made.
    pub pieces: i64,
    /// The book.
    pub book: &'a mut Book,
}
impl<'a> Drawing<'a> {
    /// A board with nothing on it.
    #[must_use]
    pub fn new(slug: String, shop: &'a Shop, at: reckon::Place, book: &'a mut Book) -> Drawing<'a> {
        Drawing { slug, shop, at, own: Vec::new(), after: Vec::new(), pieces: 1, book }
    }
    /// A dotted name under the jig.
    #[must_use]
    pub fn name(&self, tail: &str) -> String {
        format!("{}.{tail}", self.slug)
    }
}
impl Jigs {
    /// Whether nothing was asked for.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.asked.is_empty()
    }
    /// What follows when the jig of this slug is made as any other part.
    pub fn after(&mut self, slug: &str) -> Vec<SetUp> {
        self.after.remove(slug).unwrap_or_default()
    }
    /// The set-ups that were laid down for the jig of this slug when it was drawn.
    pub fn own(&mut self, slug: &str) -> Vec<SetUp> {
        self.routes.remove(slug).unwrap_or_default()
    }
    /// Plans every jig as any other part; the first has the index `from`. Their sheets come from what the clock's
    /// own parts leave.
    pub fn planned(
        mut self,
        shop: &Shop,
        from: usize,
        share: &mut Share,
        tools: &mut Vec<ShopTool>,
        book: &mut Book,
    ) -> (Vec<Jig>, Vec<Trouble>) {
        let asked = std::mem::take(&mut self.asked);
        share.lay_out(shop, from, &asked.iter().map(|a| &a.part).collect::<Vec<_>>());
        let mut out = Vec::new();
        for (k, a) in asked.into_iter().enumerate() {
            let index = from + k;
            let made = match &a.part.body {
                Body::Turned(body) => turned::plan(index, &a.part, body, shop, book, tools, &mut self),
                Body::Flat(body) => flat::plan(index, &a.part, body, shop, book, tools, &mut self, share),
            };
            match made {
                Ok(plan) => out.push(Jig { part: a.part, plan, for_parts: a.for_parts, why: a.why }),
                Err(t) => self.troubles.push(*t),
            }
        }
        // A jig whose plan was refused leaves no gap in the numbering.
        for (k, jig) in out.iter_mut().enumerate() {
            jig.plan.part = from + k;
        }
        (out, self.troubles)
    }
}
