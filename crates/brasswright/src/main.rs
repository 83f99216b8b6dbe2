//! The program: files, printing, exit codes.
fn main() {}
