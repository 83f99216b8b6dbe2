//! What about a reading gives pause. Nothing is put right by guess: the maker is asked.

/// What is known of a size before it is read (SI).
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Expected {
    /// What it should be.
    pub nominal: f64,
    /// Between which limits.
    pub limits: Option<(f64, f64)>,
    /// Between which it can be at all, such as no larger than the bar.
    pub can_be: Option<(f64, f64)>,
    /// What was read before of the same thing.
    pub before: Vec<f64>,
    /// By how much the tool may be off.
    pub give_or_take: Option<f64>,
    /// Whether work on it has begun.
    pub begun: bool,
    /// Whether it was scrapped.
    pub scrapped: bool,
    /// Whether it is finished.
    pub made: bool,
    /// Whether it is a length, which may be read in the wrong unit.
    pub length: bool,
    /// Whether it says where something is, so that it may lie on the other side of nothing.
    pub place: bool,
    /// Whether metal will still come off: it may be larger by as much.
    pub rough: bool,
}
/// Why a reading is doubted.
#[derive(Clone, PartialEq, Debug)]
pub enum Doubt {
    /// It would be right if it were divided by this.
    Factor {
        /// 25.4, 10, 2 or one over these.
        by: f64,
        /// What it looks like, in words.
        like: &'static str,
        /// What it would be then.
        would_be: f64,
    },
    /// It is off by more than a third, and nothing that eye or thumb do explains it.
    Far,
    /// It cannot be so small or so large.
    CannotBe {
        /// Least and greatest.
        between: (f64, f64),
    },
    /// It is far from what was read before.
    Wild {
        /// Middle of the earlier readings.
        middle: f64,
        /// How far they differ among each other.
        spread: f64,
    },
    /// The very same was read before: perhaps entered twice.
    Same {
        /// How often.
        times: usize,
    },
    /// Nothing of it is made yet.
    NotBegun,
    /// It was scrapped.
    Scrapped,
    /// It is finished: what is read now says that it changed.
    Made,
    /// It is no size at all.
    NoSize,
}
impl Doubt {
    /// Whether the maker must say that it is so before it is taken.
    #[must_use]
    pub fn asks(&self) -> bool {
        !matches!(self, Doubt::NotBegun | Doubt::Made)
    }
    /// Whether it cannot be taken at all.
    #[must_use]
    pub fn refuses(&self) -> bool {
        matches!(self, Doubt::NoSize | Doubt::Scrapped)
    }
}
/// Factors that slips of the eye or the thumb make, and what they look like.
const SLIPS: [(f64, &str); 9] = [
    (25.4, "read in inches, typed as millimetres, or the other way round"),
    (1.0 / 25.4, "read in inches, typed as millimetres, or the other way round"),
    (10.0, "a digit too many, or the point one place off"),
    (0.1, "a digit missed, or the point one place off"),
    (2.0, "a diameter for a radius"),
    (0.5, "a radius for a diameter"),
    (1000.0, "the point three places off"),
    (0.001, "the point three places off"),
    (-1.0, "the sign left off, or one too many"),
];
/// What gives pause about a reading.
#[must_use]
pub fn doubts(value: f64, of: &Expected) -> Vec<Doubt> {
    let mut all = Vec::new();
    if !value.is_finite() || (of.length && !of.place && value <= 0.0) {
        return vec![Doubt::NoSize];
    }
    if of.scrapped {
        all.push(Doubt::Scrapped);
    }
    if of.made {
        all.push(Doubt::Made);
    } else if !of.begun {
        all.push(Doubt::NotBegun);
    }
    let width = of.limits.map_or(0.0, |(a, b)| b - a);
    // What a maker may be off by and still mean it: a tenth, or ten times the limits.
    let near = |x: f64| (x - of.nominal).abs() <= (0.03 * of.nominal.abs()).max(3.0 * width);
    let far = (value - of.nominal).abs() > (0.15 * of.nominal.abs()).max(5.0 * width);
    let impossible = of.can_be.filter(|(a, b)| value < *a || value > *b);
    if of.nominal != 0.0 && (far || impossible.is_some()) {
        for (by, like) in SLIPS.into_iter().filter(|(by, _)| of.length || !(*by > 20.0 && *by < 30.0)) {
            if near(value / by) {
                all.push(Doubt::Factor { by, like, would_be: value / by });
                break;
            }
        }
    }
    if let Some(between) = impossible {
        all.push(Doubt::CannotBe { between });
    }
    // Where it was read so before, it is no slip of this time.
    let third = (value - of.nominal).abs() > 0.35 * of.nominal.abs();
    let to_come_off = of.rough && value > of.nominal;
    if third && far && !of.place && !to_come_off && of.nominal != 0.0 && of.before.is_empty() {
        let told = |d: &Doubt| matches!(d, Doubt::Factor { .. } | Doubt::CannotBe { .. });
        if !all.iter().any(told) {
            all.push(Doubt::Far);
        }
    }
    let same = of.before.iter().filter(|b| (**b - value).abs() <= 1e-12 * value.abs().max(1e-9)).count();
    if let Some((middle, spread)) = middle(&of.before) {
        let resolves = of.give_or_take.unwrap_or(0.0).max(1e-3 * width).max(1e-6 * middle.abs());
        if (value - middle).abs() > 5.0 * spread.max(resolves) && of.before.len() >= 2 {
            all.push(Doubt::Wild { middle, spread });
        }
    }
    if same > 0 && same == of.before.len() && same >= 3 {
        all.push(Doubt::Same { times: same });
    }
    all
}
/// Median, and median distance from it made comparable to a standard deviation.
fn middle(of: &[f64]) -> Option<(f64, f64)> {
    let median = |mut v: Vec<f64>| {
        v.sort_by(f64::total_cmp);
        let n = v.len();
        (n > 0).then(|| f64::midpoint(v[(n - 1) / 2], v[n / 2]))
    };
    let m = median(of.to_vec())?;
    let off = median(of.iter().map(|x| (x - m).abs()).collect())?;
    Some((m, 1.4826 * off))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wheel() -> Expected {
        Expected {
            nominal: 0.041_708,
            limits: Some((0.041_688, 0.041_708)),
            can_be: Some((0.0, 0.05)),
            begun: true,
            length: true,
            ..Expected::default()
        }
    }
    fn factor(value: f64) -> Option<f64> {
        doubts(value, &wheel()).iter().find_map(|d| match d {
            Doubt::Factor { by, .. } => Some(*by),
            _ => None,
        })
    }
    #[test]
    fn slips_of_thumb_are_asked_about() {
        assert_eq!(factor(0.041_658 * 25.4), Some(25.4));
        assert_eq!(factor(0.041_7 / 25.4), Some(1.0 / 25.4));
        assert_eq!(factor(0.004_17), Some(0.1));
        assert_eq!(factor(0.417), Some(10.0));
        assert_eq!(factor(0.020_85), Some(0.5));
        assert_eq!(factor(0.0834), Some(2.0));
        assert_eq!(factor(0.041_658), None);
        assert_eq!(factor(0.0383), None);
    }
    #[test]
    fn what_nothing_explains_is_asked_about_too() {
        assert_eq!(doubts(0.025, &wheel()), [Doubt::Far]);
        assert!(doubts(0.0383, &wheel()).is_empty());
        let blank =
            Expected { nominal: 0.005, rough: true, begun: true, length: true, ..Expected::default() };
        assert!(doubts(0.008, &blank).is_empty(), "metal will come off");
        assert_eq!(doubts(0.003, &blank), [Doubt::Far]);
    }
    #[test]
    fn a_place_may_lie_on_either_side() {
        let corner =
            Expected { nominal: -0.0148, begun: true, length: true, place: true, ..Expected::default() };
        assert!(doubts(-0.0147, &corner).is_empty());
        assert!(matches!(doubts(0.0147, &corner)[..], [Doubt::Factor { by: -1.0, .. }]));
        assert!(doubts(-1e-5, &Expected { nominal: 0.0, ..corner }).is_empty());
    }
    #[test]
    fn what_cannot_be_and_what_is_wild() {
        assert!(doubts(0.06, &wheel()).iter().any(|d| matches!(d, Doubt::CannotBe { .. })));
        assert_eq!(doubts(f64::NAN, &wheel()), [Doubt::NoSize]);
        assert_eq!(doubts(-1.0, &wheel()), [Doubt::NoSize]);
        let e =
            Expected { before: vec![0.041_66, 0.041_661, 0.041_659], give_or_take: Some(4e-6), ..wheel() };
        assert!(doubts(0.041_56, &e).iter().any(|d| matches!(d, Doubt::Wild { .. })));
        assert!(doubts(0.041_662, &e).is_empty());
        let e = Expected { before: vec![0.041_66; 3], ..wheel() };
        assert_eq!(doubts(0.041_66, &e), [Doubt::Same { times: 3 }]);
    }
    #[test]
    fn a_part_not_begun_or_scrapped() {
        let e = Expected { begun: false, ..wheel() };
        assert_eq!(doubts(0.0417, &e), [Doubt::NotBegun]);
        let e = Expected { scrapped: true, ..wheel() };
        assert!(doubts(0.0417, &e)[0].refuses());
    }
}
