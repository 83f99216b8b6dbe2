//! The parts of a clock computed from what was written.
