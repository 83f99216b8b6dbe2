use super::*;
use proptest::prelude::*;
use reckon::maths::{PI, atan2, hypot};
use shape::segment::{Segment, Sense};

fn part(n: i128, d: i128) -> Fraction {
    Fraction::new(n, d).unwrap()
}
#[test]
fn moon_discs() {
    let month = Period::Month.seconds().unwrap();
    let half = against(part(59 * 43_200, 1), month).unwrap();
    assert!((half.error.to_f64() / 60.0 + 44.047).abs() < 1e-3);
    assert!((half.one_day.unwrap().to_f64() / (86_400.0 * 365.242_19) - 2.643).abs() < 1e-3);
    // Two lunations of a disc behind 92/9 and 104/9 from the hour pipe.
    let disc = part(92 * 104 * 43_200, 81 * 2);
    let a = against(disc, month).unwrap();
    assert!((a.period.to_f64() / 86_400.0 - 29.530_864_2).abs() < 1e-7);
    assert!((a.error.to_f64() - 23.863).abs() < 0.01);
    assert_eq!(against(Fraction::ZERO, month), None);
    assert_eq!(against(month, month).unwrap().one_day, None);
}
#[test]
fn stars_and_tides() {
    let star = Period::StarDay.seconds().unwrap();
    let ratio = part(51 * 79, 41 * 98);
    let a = against(part(86_400, 1).over(ratio).unwrap(), star).unwrap();
    assert!((a.gain.to_f64() + 0.019_72).abs() < 1e-4);
    let moon = Period::MoonDay.seconds().unwrap().to_f64();
    assert!((moon - (24.0 * 3600.0 + 50.0 * 60.0 + 28.328_652_6)).abs() < 0.001, "{moon}");
    for (_, p) in Period::ALL {
        assert!(p.days().is_some_and(|d| d > Fraction::ZERO));
    }
}
/// Extremes and noughts that every almanac prints: +16.4 min early in November, -14.2 in February,
/// +3.7 in May, -6.5 late in July; nought about 15 April, 13 June, 1 September, 25 December.
#[test]
fn the_year_of_the_sundial() {
    for year in 1950..=2050 {
        let e = extremes(year);
        let want = [(41.0, -14.25), (133.0, 3.67), (206.0, -6.52), (306.0, 16.43)];
        assert_eq!((e.turns.len(), e.noughts.len()), (4, 4), "{year}");
        for ((day, minutes), (d, s)) in want.iter().zip(&e.turns) {
            assert!((day - d).abs() < 3.0, "{year}: {d}");
            // The apsides move on: in fifty years an extreme changes by some six seconds.
            assert!((minutes - s / 60.0).abs() < 0.12, "{year}: {}", s / 60.0);
        }
        for (day, d) in [104.0, 163.0, 243.5, 358.5].iter().zip(&e.noughts) {
            assert!((day - d).abs() < 1.6, "{year}: {d}");
        }
    }
}
/// The same angle by another road: Kepler's equation solved, the place turned into the equator as a vector.
#[test]
fn kepler_and_a_turned_vector_agree() {
    use reckon::maths::{cos, sin, sqrt};
    let rad = |d: f64| (d % 360.0) * PI / 180.0;
    for i in 0..3_000 {
        let jd = 2_433_283.0 + f64::from(i) * 12.3;
        let t = (jd - 2_451_545.0) / 36_525.0;
        let e = 0.016_708_634 - 0.000_042_037 * t;
        let m = rad(357.529_11 + 35_999.050_29 * t);
        let mut x = m;
        for _ in 0..20 {
            x = m + e * sin(x);
        }
        let truly = atan2(sqrt(1.0 - e * e) * sin(x), cos(x) - e);
        let perigee = rad(280.466_46 - 357.529_11 + (36_000.769_83 - 35_999.050_29) * t);
        let at = truly + perigee - rad(0.005_69);
        let tilt = rad(23.439_291 - 0.013_004 * t);
        let v = (cos(at), sin(at) * cos(tilt));
        let mean = rad(280.466_46 + 36_000.769_83 * t - 0.005_718_3);
        // Turned back by the mean longitude, what is left is the equation itself.
        let left = atan2(v.0 * sin(mean) - v.1 * cos(mean), v.0 * cos(mean) + v.1 * sin(mean));
        let seconds = left * 43_200.0 / PI;
        assert!((seconds - sun::equation(jd)).abs() < 1.0, "{jd}: {seconds} {}", sun::equation(jd));
    }
}
#[test]
fn the_table_has_every_day() {
    assert_eq!(year_table(2024).len(), 366);
    assert_eq!(year_table(2100).len(), 365);
    let day = year_table(2026)[306];
    assert_eq!((day.month, day.day), (11, 3));
    assert!((day.equation.value() / 60.0 - 16.43).abs() < 0.05);
    // Noon of the first of January 2000 is the epoch.
    assert!((sun::new_year(2000) - 2_451_545.0).abs() < 1e-9);
    assert_eq!((days_in(1900, 2), days_in(2000, 2), days_in(2026, 13)), (28, 29, 0));
}
fn closed_and_smooth(c: &Cam) {
    let end = |s: &Segment, last: bool| match *s {
        Segment::Line { from, to } => (if last { to } else { from }, atan2(to.y - from.y, to.x - from.x)),
        Segment::Arc { from, to, centre, sense, .. } => {
            let p = if last { to } else { from };
            let way = if sense == Sense::Left { 1.0 } else { -1.0 };
            (p, atan2(way * (p.x - centre.x), -way * (p.y - centre.y)))
        }
    };
    for i in 0..c.arcs.len() {
        let (p, a) = end(&c.arcs[i], true);
        let (q, b) = end(&c.arcs[(i + 1) % c.arcs.len()], false);
        assert!(hypot(p.x - q.x, p.y - q.y) < 1e-9);
        let kink = (a - b) - 2.0 * PI * ((a - b) / (2.0 * PI)).round();
        assert!(kink.abs() < 1e-5, "{kink} after arc {i}");
    }
}
#[test]
fn cams_close_and_lift_as_said() {
    let edge = cam(2026, 20.0, 0.5, Follower::Edge, 0.002).unwrap();
    assert!(edge.off <= 0.002);
    closed_and_smooth(&edge);
    assert!((edge.lift.1 - (20.0 + 0.5 * 16.43)).abs() < 0.05);
    assert!((edge.lift.0 - (20.0 - 0.5 * 14.24)).abs() < 0.05);
    let roller = cam(2026, 20.0, 0.5, Follower::Roller(2.0), 0.002).unwrap();
    closed_and_smooth(&roller);
    // The centre of the roller touches: no point of the cam is nearer to it than its radius.
    for p in roller.points.iter().step_by(5) {
        let a = 2.0 * PI * p.day / 365.2422;
        let centre = (p.lift * reckon::maths::cos(a), p.lift * reckon::maths::sin(a));
        let nearest = roller.points.iter().map(|q| hypot(q.at.x - centre.0, q.at.y - centre.1));
        let nearest = nearest.fold(f64::MAX, f64::min);
        assert!((nearest - 2.0).abs() < 1e-6, "{nearest}");
    }
}
#[test]
fn cams_that_cannot_be() {
    assert!(matches!(cam(2026, 5.0, 0.5, Follower::Edge, 0.01), Err(CamFault::NoMetal { .. })));
    assert!(matches!(cam(2026, 12.0, 0.7, Follower::Roller(20.0), 0.01), Err(CamFault::NoMetal { .. })));
    assert!(matches!(
        cam(2026, 100.0, 1.0, Follower::Roller(85.0), 0.01),
        Err(CamFault::RollerTooLarge { .. })
    ));
    assert_eq!(cam(2026, 0.0, 0.5, Follower::Edge, 0.01), Err(CamFault::NotASize));
    assert_eq!(cam(2026, 20.0, 0.5, Follower::Edge, 1e-16), Err(CamFault::TooFine));
}
proptest! {
    #[test]
    fn a_gain_is_the_error_spread_over_the_period(p in 1_i128..10_000_000, q in 1_i128..10_000_000) {
        let a = against(part(p, 7), part(q, 7)).unwrap();
        // gain × period = -error × day.
        let left = a.gain.times(a.period).unwrap();
        prop_assert_eq!(left, Fraction::ZERO.minus(a.error).unwrap().times(Fraction::whole(DAY)).unwrap());
    }
}
