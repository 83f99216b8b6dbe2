//! The program from outside: words in, two streams and an exit code out.

mod bad_entries;
mod commands;
mod common;
mod counts;
mod enter;
mod fits;
mod going;
mod help;
mod listen;
mod meetings;
mod prove;
mod streams;
mod tonight;
mod wrong;
