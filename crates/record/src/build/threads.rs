//! Threads on parts, and the holes that follow from them.

use super::Build;
use crate::facts::{Size, ThreadUse};
use crate::lookup;
use crate::read::node::Node;
use reckon::source::HOUSE;
use reckon::{Diameter, Length, Source, Val, work};
use tables::head::Form;
use tables::thread::{Thread, nut_limits};

static BORE: Source = Source::derived("limits of the bore before tapping, less its basic size");

impl Build<'_> {
    /// The thread under a key, with its class.
    pub(super) fn thread(&mut self, node: &Node, key: &str, nut: bool) -> Option<ThreadUse> {
        let thread = node.thread(key)?;
        let at = node.place(key);
        let class = match node.text("class") {
            Some(class) => {
                if let Some(mut t) = lookup::wrong_class(&thread, &class, nut) {
                    t.at = vec![node.place("class")];
                    t.says = format!("'class' of {}: {}", node.subject, t.says);
                    self.tell(t);
                }
                class
            }
            None => {
                let class = lookup::usual_class(&thread, nut).to_owned();
                if !class.is_empty() && !node.has("class") {
                    let why = format!("the usual class of {}", thread.name);
                    self.follows(node, "class", class.clone(), &why);
                }
                class
            }
        };
        Some(ThreadUse { thread, class, at })
    }
    /// Diameter of a hole that is written, or that follows from its thread.
    pub(super) fn bore(&mut self, node: &Node, thread: Option<&ThreadUse>) -> Option<Size<Diameter>> {
        if node.has("diameter") {
            return node.diameter_size("diameter");
        }
        let Some(used) = thread else {
            if !node.has("thread") {
                self.lacks(node, "diameter", "a hole without a thread needs its size");
            }
            return None;
        };
        Some(self.tapping(node, &used.thread, &used.class))
    }
    fn tapping(&mut self, node: &Node, thread: &Thread, class: &str) -> Size<Diameter> {
        let name = node.name("diameter");
        let nominal = self.book.tabled(
            &name,
            thread.minor(),
            format!("{}, basic minor diameter of the nut", thread.name),
            thread.source,
        );
        let prefix = format!("{name}.bore");
        match nut_limits(self.book, &prefix, thread, class) {
            Ok(limits) => {
                let (largest, smallest) = (limits.minor_max, limits.minor_min);
                let upper =
                    work!(self.book, format!("{name}.upper"), |largest, nominal| largest - nominal, &BORE);
                let lower =
                    work!(self.book, format!("{name}.lower"), |smallest, nominal| smallest - nominal, &BORE);
                Size { nominal, upper, lower }
            }
            Err(_) => {
                let upper =
                    self.book.assumed(format!("{name}.upper"), thread.pitch * 0.1, "a tenth of the pitch");
                let lower =
                    self.book.assumed(format!("{name}.lower"), Length::ZERO, "not below the basic size");
                Size { nominal, upper, lower }
            }
        }
    }
    /// Width and depth of the usual slot of a head.
    pub(super) fn usual_slot_of(
        &mut self,
        node: &Node,
        form: Form,
        across: Val<Diameter>,
        high: Val<Length>,
    ) -> (Val<Length>, Val<Length>) {
        let what = format!("the usual slot of a {form} head");
        self.follows(node, "slot", what, "no slot was written");
        let usual = tables::head::slot(self.book, &node.name("slot.usual"), form, across, high);
        let (width, depth) = (usual.width, usual.depth);
        let width = work!(self.book, node.name("slot.width"), |width| width, &HOUSE);
        let depth = work!(self.book, node.name("slot.depth"), |depth| depth, &HOUSE);
        (width, depth)
    }
    /// What a grub screw's slot is cut across and into: its thread, and no more of its length than that is thick.
    pub(super) fn grub(
        &mut self,
        node: &Node,
        used: &ThreadUse,
        length: Val<Length>,
    ) -> (Val<Diameter>, Val<Length>) {
        let thread = &used.thread;
        let across =
            self.book.tabled(node.name("slot.across"), thread.major, thread.name.clone(), thread.source);
        let high =
            work!(self.book, node.name("slot.into"), |length, across| length.min(across.across()), &HOUSE);
        (across, high)
    }
}
