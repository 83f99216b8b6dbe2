//! What stands out of the chuck of a drill, and how deep it drills.

use reckon::{Length, Source};

/// What stands out.
pub static STANDS_OUT: Source =
    Source::derived("the shank goes in as far as the chuck is deep, never the flutes")
        .with_formula("out = whole − min(whole − flutes, depth of the chuck)");
/// Chucks and collets.
pub static SWALLOWS: Source = Source::practice("a drill chuck takes in 25 mm of a shank, a collet 20 mm");

/// What stands out of a chuck that is `deep`.
#[must_use]
pub fn stands_out(whole: Length, flutes: Length, deep: Length) -> Length {
    whole - (whole - flutes).max(Length::ZERO).min(deep)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_flutes_stay_out() {
        let out = |w, f, d| stands_out(Length::mm(w), Length::mm(f), Length::mm(d)).in_mm();
        assert!((out(117.0, 75.0, 25.0) - 92.0).abs() < 1e-9);
        assert!((out(34.0, 12.0, 25.0) - 12.0).abs() < 1e-9, "all of a short shank goes in");
        assert!((out(10.0, 12.0, 25.0) - 10.0).abs() < 1e-9, "all flutes: nothing to hold by");
    }
}
