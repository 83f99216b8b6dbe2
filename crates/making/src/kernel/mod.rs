//! Bare functions of the bench: quantities in, quantities out, nothing written down.
//!
//! The questions in [`mod@crate::asks`] and the planning of a part call these and
//! write what they gave into the book of workings. Each file is one subject of
//! the bench and carries the source cards of its own formulas.

pub mod bend;
pub mod cut_list;
pub mod drill_length;
pub mod force;
pub mod form;
pub mod hold;
pub mod join;
pub mod parting;
pub mod relief;
pub mod setting;
pub mod speed;
pub mod stock;
pub mod tap;
pub mod warmth;

/// The most there is of something that can be too much: halves the bracket `low … high` until it
/// is narrower than `within`, keeping `low` on the side where `fits` holds. Returns the low side
/// and the number of rounds. `fits(low)` must hold, and must fail from some point upward.
pub(crate) fn greatest(
    mut low: f64,
    mut high: f64,
    within: f64,
    mut fits: impl FnMut(f64) -> bool,
) -> (f64, u32) {
    if fits(high) {
        return (high, 0);
    }
    let mut rounds = 0;
    while high - low > within && rounds < 200 {
        let middle = f64::midpoint(low, high);
        if fits(middle) {
            low = middle;
        } else {
            high = middle;
        }
        rounds += 1;
    }
    (low, rounds)
}
