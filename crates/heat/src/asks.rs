//! Questions that this crate answers.

use reckon::Ask;

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    Vec::new()
}
