//! Figures as they are printed.

use super::*;
use proptest::prelude::*;

#[test]
fn places_after_the_point() {
    for (x, decimals, want) in [
        (0.0, 2, "0.00"),
        (-0.0, 2, "0.00"),
        (-0.004, 2, "0.00"),
        (-0.006, 2, "-0.01"),
        (-0.4, 0, "0"),
        (0.125, 2, "0.12"),
        (0.375, 2, "0.38"),
        (2.5, 0, "2"),
        (1234.5678, 3, "1234.568"),
        (-10.0, 1, "-10.0"),
    ] {
        assert_eq!(fixed(x, decimals), want, "{x}");
    }
}
#[test]
fn figures_that_count() {
    for (x, digits, want) in [
        (0.0, 5, "0"),
        (-0.0, 5, "0"),
        (1.0, 5, "1"),
        (10.0, 3, "10"),
        (100.0, 3, "100"),
        (1000.0, 3, "1000"),
        (0.1, 3, "0.1"),
        (0.001, 3, "0.001"),
        (9.9996, 4, "10"),
        (0.099_996, 4, "0.1"),
        (123_456.0, 3, "123456"),
        (-0.001_234_56, 3, "-0.00123"),
        (1.5e-10, 3, "0.00000000015"),
        (1.5e-20, 5, "1.5e-20"),
        (-1e-30, 5, "-1e-30"),
        (1.234_567e-18, 4, "1.235e-18"),
        (f64::NAN, 3, "NaN"),
        (f64::INFINITY, 3, "inf"),
    ] {
        assert_eq!(significant(x, digits), want, "{x}");
    }
    // A power of ten has the figures of its own decade, not of the one below.
    let mut power = 1.0;
    for n in 0..15 {
        assert_eq!(significant(power, 2), format!("1{}", "0".repeat(n)));
        power *= 10.0;
    }
}
#[test]
fn zeros_that_say_nothing() {
    for (text, want) in
        [("1.500", "1.5"), ("1.000", "1"), ("100", "100"), ("0.0", "0"), ("1.5e-10", "1.5e-10"), ("", "")]
    {
        assert_eq!(trimmed(text), want);
    }
}
#[test]
fn fractions_of_an_inch() {
    for (inches, want) in [
        (0.0, "0 in"),
        (-0.000_01, "0 in"),
        (0.375, "3/8 in"),
        (1.375, "1 3/8 in"),
        (-1.375, "-1 3/8 in"),
        (2.0, "2 in"),
        (0.390_625, "25/64 in"),
        (0.015_625, "1/64 in"),
        (0.376_2, "3/8 in +0.0012 in"),
        (0.373_8, "3/8 in -0.0012 in"),
        (-0.376_2, "-3/8 in -0.0012 in"),
        (0.004, "0 in +0.0040 in"),
        (0.999, "1 in -0.0010 in"),
    ] {
        assert_eq!(sixty_fourths(Length::inch(inches)), want, "{inches}");
    }
}
#[test]
fn lengths_in_each_style() {
    let l = Length::inch(0.5);
    for (style, text, number, unit) in [
        (LengthStyle::Mm, "12.700 mm", "12.70", "mm"),
        (LengthStyle::Inch, "0.5000 in", "0.5000", "in"),
        (LengthStyle::Thou, "500.0 thou", "500.0", "thou"),
        (LengthStyle::Fraction, "1/2 in", "0.5000", "in"),
    ] {
        assert_eq!((style.text(l).as_str(), style.number(l).as_str(), style.unit()), (text, number, unit));
    }
    assert_eq!(LengthStyle::Mm.text(Length::mm(-0.000_1)), "0.000 mm");
    assert_eq!(LengthStyle::Thou.number(Length::mm(-0.000_1)), "0.0");
}

const METRIC: Dial =
    Dial { division: Length::si(0.000_02), one_turn: Length::si(0.002), shows: DialSense::Diameter };
#[test]
fn readings_of_a_dial() {
    let travel = Dial { shows: DialSense::Travel, ..METRIC };
    // 1.23 mm off the radius is 2.46 mm of diameter: 1 turn of 2 mm and 23 divisions of 0.02 mm.
    assert_eq!(METRIC.reading(Length::mm(1.23)), (1, 23.0));
    assert_eq!(METRIC.text(Length::mm(1.23)), "1 turn + 23 div");
    assert_eq!(travel.text(Length::mm(1.23)), "61.5 div");
    assert_eq!(travel.text(Length::mm(6.23)), "3 turns + 11.5 div");
    assert_eq!(travel.text(Length::mm(2.0)), "1 turn + 0 div");
    assert_eq!(travel.text(Length::mm(0.0)), "0 div");
    // A reading that rounds up to the whole turn carries over.
    assert_eq!(travel.text(Length::mm(1.999_5)), "1 turn + 0 div");
    assert_eq!(travel.text(Length::mm(3.999_9)), "2 turns + 0 div");
    assert_eq!(travel.reading(Length::mm(-6.23)), (-3, -11.5));
    assert_eq!(travel.text(Length::mm(-6.23)), "back 3 turns + 11.5 div");
    assert_eq!(travel.text(Length::mm(-2.5)), "back 1 turn + 25 div");
    assert_eq!(travel.text(Length::mm(-0.25)), "back 12.5 div");
    assert_eq!(travel.text(Length::mm(-0.000_1)), "0 div");
    let inch = Dial { division: Length::inch(0.001), one_turn: Length::inch(0.1), shows: DialSense::Travel };
    assert_eq!(inch.text(Length::inch(0.2345)), "2 turns + 34.5 div");
    // A dial with no divisions is refused where the shop is read; here it must only not fall over.
    let blind = Dial { division: Length::ZERO, one_turn: Length::ZERO, shows: DialSense::Travel };
    assert!(blind.text(Length::mm(1.0)).ends_with("div"));
}
proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn a_dial_reads_back(um in -100_000i64..100_000, sense: bool) {
        let dial = Dial { shows: if sense { DialSense::Diameter } else { DialSense::Travel }, ..METRIC };
        let travel = Length::mm(0.001) * crate::Count(um).n();
        let (turns, divisions) = dial.reading(travel);
        let shown = dial.one_turn * crate::Count(turns).n() + dial.division * divisions;
        let back = if sense { shown / 2.0 } else { shown };
        // To half a tenth of a division, and never a whole turn in divisions.
        prop_assert!((back - travel).abs() <= dial.division * 0.050_001);
        prop_assert!(divisions.abs() < 100.0);
        prop_assert!(turns == 0 || divisions == 0.0 || (turns > 0) == (divisions > 0.0));
    }
    #[test]
    fn no_minus_before_nothing(x in -1.0f64..1.0, decimals in 0usize..6) {
        let text = fixed(x, decimals);
        prop_assert!(!text.starts_with('-') || text.bytes().any(|b| (b'1'..=b'9').contains(&b)), "{}", text);
    }
    #[test]
    fn figures_read_back(x in prop::num::f64::NORMAL, digits in 1u32..16) {
        prop_assume!(x.abs() > 1e-200 && x.abs() < 1e200);
        let back: f64 = significant(x, digits).parse().unwrap();
        let step = maths::pow(10.0, 1.0 - f64::from(digits));
        prop_assert!((back - x).abs() <= x.abs() * step * 0.500_001, "{} {}", x, back);
    }
}
#[test]
fn each_quantity_as_shown() {
    let shown: Vec<String> = vec![
        Length::mm(12.5).shown(),
        Length::mm(-0.0).shown(),
        Length::mm(0.005).shown(),
        Length::mm(-0.0012).shown(),
        Length::mm(0.01).shown(),
        Diameter::mm(6.0).shown(),
        Radius::mm(3.0).shown(),
        Angle::deg(5.5).shown(),
        Time::si(1.5).shown(),
        Time::si(1800.0).shown(),
        Time::si(43_200.0).shown(),
        Time::si(691_200.0).shown(),
        Speed::m_per_min(75.0).shown(),
        Speed::mm_per_min(60.0).shown(),
        AngularSpeed::rpm(300.0).shown(),
        Mass::si(0.0123).shown(),
        Mass::si(3.2).shown(),
        Force::si(4000.0).shown(),
        Torque::si(0.25).shown(),
        Pressure::n_per_mm2(350.0).shown(),
        Pressure::si(2.06e11).shown(),
        Energy::si(1.25).shown(),
        Power::si(350.0).shown(),
        Power::si(12e-6).shown(),
        Temperature::celsius(18.0).shown(),
        TemperatureDifference::si(5.0).shown(),
        Area::si(6e-6).shown(),
        Volume::si(24e-9).shown(),
        Density::si(8500.0).shown(),
        Acceleration::si(9.81).shown(),
        Stiffness::si(1500.0).shown(),
        PerKelvin::si(11.5e-6).shown(),
        Ratio::si(0.75).shown(),
        Count(-3).shown(),
        "words".to_owned().shown(),
        true.shown(),
        false.shown(),
    ];
    assert_eq!(
        shown,
        [
            "12.500 mm",
            "0.000 mm",
            "5 µm",
            "-1.2 µm",
            "0.010 mm",
            "⌀6.000 mm",
            "R3.000 mm",
            "5.5°",
            "1.5 s",
            "30 min",
            "12 h",
            "8 d",
            "75 m/min",
            "60 mm/min",
            "300 rpm",
            "12.3 g",
            "3.2 kg",
            "4000 N",
            "250 N mm",
            "350 N/mm²",
            "206 GPa",
            "1.25 J",
            "350 W",
            "12 µW",
            "18 °C",
            "5 K",
            "6 mm²",
            "24 mm³",
            "8.5 g/cm³",
            "9.81 m/s²",
            "1.5 N/mm",
            "11.5 µm/m/K",
            "0.75",
            "-3",
            "words",
            "yes",
            "no",
        ]
    );
    assert!(!Length::si(f64::NAN).sound() && !Ratio::si(f64::INFINITY).sound() && true.sound());
    assert_eq!((Count(3).si(), true.si(), "x".to_owned().unit()), (Some(3.0), None, ""));
}
