//! Names that things had before, which measurements may still carry.

use super::Clock;
use reckon::slug;

impl Clock {
    /// What was renamed: the former name and the present one, both as they stand in dotted names.
    #[must_use]
    pub fn renamed(&self) -> Vec<(String, String)> {
        let mut all = Vec::new();
        let mut tell = |was: Option<&String>, now: &str| {
            all.extend(was.map(|w| (slug(w), now.to_owned())));
        };
        let commons = self
            .screws
            .iter()
            .map(|p| &p.common)
            .chain(self.studs.iter().map(|p| &p.common))
            .chain(self.washers.iter().map(|p| &p.common))
            .chain(self.pillars.iter().map(|p| &p.common))
            .chain(self.feet.iter().map(|p| &p.common))
            .chain(self.bushes.iter().map(|p| &p.common))
            .chain(self.collets.iter().map(|p| &p.common))
            .chain(self.turned.iter().map(|p| &p.common))
            .chain(self.flats.iter().map(|p| &p.common));
        for c in commons {
            tell(c.was.as_ref(), &c.slug);
        }
        for a in self.movement.iter().flat_map(|m| &m.arbors) {
            tell(a.was.as_ref(), &a.slug);
        }
        all
    }
}
