//! Invariants of the kernels.
