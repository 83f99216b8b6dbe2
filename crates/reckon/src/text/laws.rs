//! What holds for any text: nothing panics, every fault has a place and a cure, what is printed reads back.

use super::*;
use crate::print::LengthStyle;
use crate::quantity::Length;
use proptest::prelude::*;

/// What a maker may write, and much that nobody would.
fn scraps() -> impl Strategy<Value = String> {
    let scrap = prop::sample::select(vec![
        "1",
        "23",
        "0",
        ".",
        "5.5",
        ",",
        " ",
        "  ",
        "\t",
        "\u{a0}",
        "/",
        "*",
        "+",
        "-",
        "−",
        "×",
        "(",
        ")",
        "mm",
        "in",
        "\"",
        "″",
        "thou",
        "µm",
        "deg",
        "°",
        "'",
        "′",
        "min",
        "h",
        "s",
        "degC",
        "K",
        "%",
        "±",
        "+/-",
        "e5",
        "in.x",
        "inside.x",
        "½",
        "é",
        "🙂",
        "\u{301}",
        "\n",
        "H7",
        "g6",
        "999999999999999999",
        "N m",
        "m/min",
        "_",
        "#",
    ]);
    prop::collection::vec(scrap, 0..12).prop_map(|v| v.concat())
}
const WANTS: [Dimension; 7] = [
    Dimension::Length,
    Dimension::Angle,
    Dimension::Time,
    Dimension::Temperature,
    Dimension::Ratio,
    Dimension::AngularSpeed,
    Dimension::Mass,
];
fn sound(text: &str) {
    for want in WANTS {
        match read_with(text, want, &mut |n| {
            exact_with("3 mm", Dimension::Length, &mut |_| unreachable!("{n}"))
        }) {
            Ok(si) => assert!(si.is_finite(), "{text}"),
            Err(f) => told_soundly(text, &f),
        }
    }
    match read_limits(text) {
        Some(Ok(band)) => assert!(band.upper >= band.lower && band.nominal.is_finite(), "{text}"),
        Some(Err(f)) => told_soundly(text, &f),
        None => {}
    }
}
fn told_soundly(text: &str, f: &TextFault) {
    assert!(text.get(f.at.clone()).is_some(), "{text:?}: {f:?} stands between characters");
    assert!(!f.says.is_empty() && !f.cures.is_empty(), "{text:?}: {f:?}");
}
proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn scraps_never_panic(text in scraps()) {
        sound(&text);
    }
    #[test]
    fn any_text_never_panics(text in any::<String>()) {
        sound(&text);
    }
    #[test]
    fn decimals_are_rounded_once(whole in 0u64..100_000_000, part in "[0-9]{0,10}", negative: bool) {
        let number = format!("{}{whole}.{part}", if negative { "-" } else { "" });
        let truth: f64 = number.parse().unwrap();
        prop_assert_eq!(read(&number, Dimension::Ratio).map(f64::to_bits), Ok((truth + 0.0).to_bits()));
        let metres: f64 = format!("{number}e-3").parse().unwrap();
        prop_assert_eq!(read(&format!("{number} mm"), Dimension::Length).map(f64::to_bits), Ok((metres + 0.0).to_bits()));
    }
    #[test]
    fn millimetres_print_and_read_back(um in -10_000_000i64..10_000_000) {
        let l = Length::si(read(&format!("{um} um"), Dimension::Length).unwrap());
        let text = LengthStyle::Mm.text(l);
        prop_assert_eq!(read(&text, Dimension::Length), Ok(l.value()), "{}", text);
    }
    #[test]
    fn inches_and_thou_print_and_read_back(tenths in -5_000_000i64..5_000_000) {
        let l = Length::si(read(&format!("{tenths}/10000 in"), Dimension::Length).unwrap());
        for style in [LengthStyle::Inch, LengthStyle::Thou] {
            let text = style.text(l);
            prop_assert_eq!(read(&text, Dimension::Length), Ok(l.value()), "{}", text);
        }
    }
    #[test]
    fn sixty_fourths_print_and_read_back(n in -10_000i64..10_000, off in -78i64..78) {
        let l = Length::si(read(&format!("{n}/64 in"), Dimension::Length).unwrap());
        prop_assert_eq!(read(&LengthStyle::Fraction.text(l), Dimension::Length), Ok(l.value()));
        // What is not a sixty-fourth says what is to be added, to a ten-thousandth.
        let l = l + Length::inch(0.000_1) * crate::Count(off).n();
        let text = LengthStyle::Fraction.text(l);
        let back = Length::si(read(&text, Dimension::Length).unwrap());
        prop_assert!((back - l).in_inch().abs() < 0.000_050_1, "{}", text);
    }
    #[test]
    fn inch_text_and_mm_text_are_the_same_length(n in 1i64..64, whole in 0i64..40) {
        // 25.4 / 64 = 0.396875 mm exactly.
        let um = i128::from(whole * 64 + n) * 396_875;
        let mm = format!("{}.{:06} mm", um / 1_000_000, um % 1_000_000);
        let inch = read(&format!("{whole} {n}/64 in"), Dimension::Length);
        prop_assert_eq!(read(&mm, Dimension::Length), inch);
    }
    #[test]
    fn limits_read_back(nominal in 1i64..100_000, a in -500i64..500, width in 0i64..500) {
        let um = |n: i64| Length::si(read(&format!("{n} um"), Dimension::Length).unwrap());
        let signed = |n: i64| format!("{}{}", if n < 0 { '-' } else { '+' }, crate::print::fixed(um(n.abs()).in_mm(), 3));
        let text = format!("{} {}/{} mm", crate::print::fixed(um(nominal).in_mm(), 3), signed(a + width), signed(a));
        let band = read_limits(&text).unwrap().unwrap();
        prop_assert_eq!((band.nominal, band.upper, band.lower), (um(nominal), um(a + width), um(a)));
    }
}
