//! The tasks of a developer.
fn main() {}
