//! Published checks as data, and whole-program tests.
