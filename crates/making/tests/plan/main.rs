//! Plans of hardware from text: laws that hold for any, relations between two, and some worked by hand.

mod by_hand;
mod finish;
mod fire;
mod fits;
mod jigs;
mod joining;
mod laws;
mod order;
mod plates;
mod relations;
mod shed;
mod tapping;
mod teeth;
