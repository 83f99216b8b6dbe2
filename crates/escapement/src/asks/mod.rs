//! Questions that this crate answers, a file for each subject.

use reckon::Ask;

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    let all: [&'static [Ask]; 0] = [];
    all.into_iter().flatten().collect()
}
