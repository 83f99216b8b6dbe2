//! The book of workings: every number that a sheet may print, and how it was had.
//!
//! Design code is plain functions over typed quantities. A number enters the
//! book by one of a few doors (written, assumed, tabled, measured, worked,
//! solved, chosen) and leaves as a [`Val`]: the value and where to look it up.
//! The formula that is shown is the expression that ran, by [`work!`](crate::work).

mod book;
mod explain;
mod macros;
mod names;
mod origin;
#[cfg(test)]
mod tests;

pub use book::Book;
pub use explain::{DEEPEST, Explained, how, readable};
pub use names::slug;
pub use origin::{Actual, Alternative, Cell, Line, Origin};

use crate::print::Shown;

/// Where a value stands in the book: page and line. Never shifted.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Id {
    page: u32,
    line: u32,
}
const NOWHERE: Id = Id { page: u32::MAX, line: u32::MAX };

/// A value and where it came from. It has no arithmetic of its own: use [`work!`](crate::work).
#[derive(Copy, Clone, Debug)]
pub struct Val<T> {
    v: T,
    id: Id,
}
impl<T: Clone> Val<T> {
    /// Where it stands in the book.
    pub fn id(&self) -> Id {
        self.id
    }
    /// The value out of the book: for comparing, drawing and searching only.
    /// Put in again it would have lost its past, so a test counts who calls this.
    pub fn bare(&self) -> T {
        self.v.clone()
    }
}
impl<T: Shown> Val<T> {
    /// As a reader sees it.
    pub fn shown(&self) -> String {
        self.v.shown()
    }
}
impl<T: PartialEq> PartialEq for Val<T> {
    fn eq(&self, o: &Val<T>) -> bool {
        self.v == o.v
    }
}
impl<T: PartialOrd> PartialOrd for Val<T> {
    fn partial_cmp(&self, o: &Val<T>) -> Option<std::cmp::Ordering> {
        self.v.partial_cmp(&o.v)
    }
}
impl<T: PartialEq> PartialEq<T> for Val<T> {
    fn eq(&self, o: &T) -> bool {
        self.v == *o
    }
}
impl<T: PartialOrd> PartialOrd<T> for Val<T> {
    fn partial_cmp(&self, o: &T) -> Option<std::cmp::Ordering> {
        self.v.partial_cmp(o)
    }
}

/// Tuples of [`Val`]s that a formula takes.
pub trait Inputs: Copy {
    /// The values alone.
    type Raw;
    /// Takes them out for the formula.
    fn raw(self) -> Self::Raw;
    /// Where they stand.
    fn ids(self) -> Vec<Id>;
}
macro_rules! tuples { ($($($t:ident $n:tt),+;)+) => { $(
    impl<$($t: Copy),+> Inputs for ($(Val<$t>,)+) {
        type Raw = ($($t,)+);
        fn raw(self) -> Self::Raw { ($(self.$n.v,)+) }
        fn ids(self) -> Vec<Id> { vec![$(self.$n.id),+] }
    } )+ } }
tuples! {
    A 0;
    A 0, B 1;
    A 0, B 1, C 2;
    A 0, B 1, C 2, D 3;
    A 0, B 1, C 2, D 3, E 4;
    A 0, B 1, C 2, D 3, E 4, F 5;
    A 0, B 1, C 2, D 3, E 4, F 5, G 6;
    A 0, B 1, C 2, D 3, E 4, F 5, G 6, H 7;
}

/// The text of a formula with its letters; made by the macros.
#[derive(Copy, Clone, Debug)]
pub struct Formula {
    /// The expression.
    pub text: &'static str,
    /// The letters, in the order of the inputs.
    pub letters: &'static [&'static str],
}
