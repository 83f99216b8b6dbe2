//! Texts read to the last bit, and what is told of those that cannot be read.

use super::*;
use crate::maths::PI;
use crate::quantity::Length;
use std::sync::Arc;

/// The inch is 25.4 mm exactly (NIST SP 811, appendix B.8, from memory); decimals on the right are read by
/// the standard library, which rounds them correctly.
#[test]
fn lengths_to_the_last_bit() {
    for (text, metres) in [
        ("12.5 mm", 0.0125),
        ("42mm", 0.042),
        ("42.mm", 0.042),
        (".5mm", 0.000_5),
        ("-25 um", -0.000_025),
        ("−25 µm", -0.000_025),
        ("25 μm", 0.000_025),
        ("0.005 in", 0.000_127),
        ("5 thou", 0.000_127),
        ("12 thou", 0.000_304_8),
        ("0.3 mm", 0.000_3),
        ("3/8 in", 0.009_525),
        ("25.4/32 mm", 0.000_793_75),
        ("25.4 mm / 32", 0.000_793_75),
        ("3/8\"", 0.009_525),
        ("1 3/8 in", 0.034_925),
        ("1\u{a0}3/8\u{a0}in", 0.034_925),
        ("1-3/8 in", 0.034_925),
        ("1-1/4\"", 0.031_75),
        ("1-1/4″", 0.031_75),
        ("1 3/8 inches", 0.034_925),
        ("-1 3/8 in", -0.034_925),
        ("25/64 in", 0.009_921_875),
        ("3/8 µm", 0.000_000_375),
        ("1 in", 0.025_4),
        ("3 ft", 0.914_4),
        ("1.2 cm", 0.012),
        ("2 m", 2.0),
        ("10 nm", 1e-8),
        ("  7 mm  ", 0.007),
        ("+7 mm", 0.007),
        ("000.70 mm", 0.000_7),
        ("0.1 mm + 0.2 mm", 0.000_3),
        ("3 mm - 1 mm - 1 mm", 0.001),
        ("3 mm -1 mm", 0.002),
        ("3 mm-1/4 in", -0.003_35),
        ("2 * 3 mm", 0.006),
        ("3 mm × 2", 0.006),
        ("10 mm / 3 * 3", 0.01),
        ("10 mm/4", 0.002_5),
        ("2 * (3 mm + 1 mm)", 0.008),
        ("-(3 mm - 5 mm)", 0.002),
        ("--3 mm", 0.003),
        ("- - 3 mm", 0.003),
        ("3 mm * -2", -0.006),
        ("(((3 mm)))", 0.003),
        ("6 mm2 / 2 mm", 0.003),
        ("60 mm/min * 3 s", 0.003),
        ("2 * 3/8 in", 0.019_05),
        ("75 % * 4 mm", 0.003),
    ] {
        let got = read(text, Dimension::Length);
        assert_eq!(got.clone().map(f64::to_bits), Ok(f64::to_bits(metres)), "{text}: {got:?}");
    }
}
#[test]
fn other_quantities_to_the_last_bit() {
    use Dimension as D;
    let deg = |d: f64| d * PI / 180.0;
    for (text, of, si) in [
        ("8 deg", D::Angle, deg(8.0)),
        ("5°30'", D::Angle, deg(5.5)),
        ("5° 30′", D::Angle, deg(5.5)),
        ("-5°30'", D::Angle, deg(-5.5)),
        ("5°30'15\"", D::Angle, deg(19_815.0 / 3600.0)),
        ("5°30'15.75″", D::Angle, deg(5.504_375)),
        ("30'", D::Angle, deg(0.5)),
        ("36\"", D::Angle, deg(0.01)),
        ("1/2 deg", D::Angle, deg(0.5)),
        ("7 1/2°", D::Angle, deg(7.5)),
        ("1 turn", D::Angle, deg(360.0)),
        ("52.2 deg", D::Angle, deg(52.2)),
        ("1 h 30 min", D::Time, 5400.0),
        ("1h30min15s", D::Time, 5415.0),
        ("1 d 1 h", D::Time, 90_000.0),
        ("1 1/2 h", D::Time, 5400.0),
        ("1/2 h", D::Time, 1800.0),
        ("8 d", D::Time, 691_200.0),
        ("26 s", D::Time, 26.0),
        ("1 h - 30 min", D::Time, 1800.0),
        ("300 rpm", D::AngularSpeed, deg(1800.0)),
        ("300 1/min", D::AngularSpeed, deg(1800.0)),
        ("60 turns/min", D::AngularSpeed, deg(360.0)),
        ("360 deg * 1/2 s", D::AngularSpeed, deg(180.0)),
        ("75 m/min", D::Speed, 1.25),
        ("3.2 kg", D::Mass, 3.2),
        ("1/2 lb", D::Mass, 0.226_796_185),
        ("18 degC", D::Temperature, 291.15),
        ("-5 degC", D::Temperature, 268.15),
        ("-40 degF", D::Temperature, 233.15),
        ("68°F", D::Temperature, 293.15),
        ("18 degC + 5 K", D::Temperature, 296.15),
        ("18 degC - 5 K", D::Temperature, 286.15),
        ("5 K + 18 degC", D::Temperature, 296.15),
        ("(18 degC)", D::Temperature, 291.15),
        ("5 degC", D::TemperatureDifference, 5.0),
        ("30 degC - 20 degC", D::TemperatureDifference, 10.0),
        ("9 degF", D::TemperatureDifference, 5.0),
        ("11.5 ppm/K", D::PerKelvin, 11.5e-6),
        ("75 %", D::Ratio, 0.75),
        ("3/4", D::Ratio, 0.75),
        ("1 3/4", D::Ratio, 1.75),
        ("9-3/8", D::Ratio, 8.625),
        ("6 mm / 3 mm", D::Ratio, 2.0),
        ("4000 N", D::Force, 4000.0),
        ("1 lbf", D::Force, 4.448_221_615_260_5),
        ("200 N/mm2", D::Pressure, 2e8),
        ("1 N m", D::Torque, 1.0),
        ("1 N·mm", D::Torque, 0.001),
        ("8.5 g/cm³", D::Density, 8500.0),
        ("2 mm * 3 mm", D::Area, 6e-6),
    ] {
        let got = read(text, of);
        assert_eq!(got.clone().map(f64::to_bits), Ok(f64::to_bits(si)), "{text}: {got:?}, wanted {si}");
    }
}
#[test]
fn names_in_arithmetic() {
    let mut asked = Vec::new();
    let mut lookup = |name: &str| {
        asked.push(name.to_owned());
        exact_with("2 mm", Dimension::Length, &mut |_| unreachable!("no name in it"))
    };
    let mut get = |text: &str| read_with(text, Dimension::Length, &mut lookup);
    assert_eq!(get("plates.gap + 2 * plates.thickness - 0.2 mm"), Ok(0.005_8));
    assert_eq!(get("inside.x"), Ok(0.002));
    assert_eq!(get("-inside.x"), Ok(-0.002));
    assert_eq!(get("3 * in"), Ok(0.006));
    assert_eq!(get("m3 + wheel.3.t_1"), Ok(0.004));
    assert_eq!(get("2 * größe"), Ok(0.004));
    assert_eq!(get("a-1/4 in"), Ok(-0.004_35));
    assert_eq!(
        asked,
        ["plates.gap", "plates.thickness", "inside.x", "inside.x", "in", "m3", "wheel.3.t_1", "größe", "a"]
    );
    let fault = read_with("2 mm + plates.gop", Dimension::Length, &mut |_| {
        Err(TextFault { at: 0..0, says: "no such name".into(), why: None, cures: Vec::new() })
    });
    assert_eq!(fault.map_err(|f| (f.at, f.says)), Err((7..17, "no such name".to_owned())));
    // An answer that says nothing has been told elsewhere and stays silent, even for a name like a unit.
    let silent = read_with("mm", Dimension::Length, &mut |_| {
        Err(TextFault { at: 0..0, says: String::new(), why: None, cures: Vec::new() })
    });
    assert_eq!(silent.unwrap_err().says, "");
}

/// Text, what is wanted, the part that is at fault, what is said and what would do.
#[test]
fn what_is_told() {
    use Dimension as D;
    let length = "for example 42 mm, 1.65 in, 5 thou or 1 3/8 in";
    let between = "write + - * or / between them";
    for (text, of, at, says, cure) in [
        ("", D::Length, "", "a length is missing here", length),
        ("   ", D::Angle, "   ", "an angle is missing here", "for example 8 deg or 5°30'"),
        ("10", D::Length, "10", "a length needs a unit", "write \"10 mm\" if you meant millimetres"),
        ("1 3/8", D::Length, "1 3/8", "a length needs a unit", "write \"1 3/8 in\" if you meant inches"),
        (
            "300",
            D::AngularSpeed,
            "300",
            "a speed of turning needs a unit",
            "write \"300 rpm\" if you meant turns a minute",
        ),
        ("0,5 mm", D::Length, ",", "a comma is not read as a decimal point", "use a dot: \"0.5 mm\""),
        (
            "2 * (1,5 mm)",
            D::Length,
            ",",
            "a comma is not read as a decimal point",
            "use a dot: \"2 * (1.5 mm)\"",
        ),
        (
            "1,234 mm",
            D::Length,
            ",",
            "a comma is not read as a decimal point",
            "use a dot: \"1.234 mm\"; or leave the comma out: \"1234 mm\"",
        ),
        ("1.234,5 mm", D::Length, ",", "a number is written without commas", "write \"1234.5 mm\""),
        ("1,234.5 mm", D::Length, ",", "a number is written without commas", "write \"1234.5 mm\""),
        ("1,234,567 um", D::Length, ",", "a number is written without commas", "write \"1234567 um\""),
        ("5 mm, 6 mm", D::Length, ",", "a comma cannot be read here", length),
        (
            "4 furlongs",
            D::Length,
            "furlongs",
            "'furlongs' is not a unit",
            "units of a length: mm, in, thou, cm, m, um, nm, km, ft",
        ),
        ("11 mn", D::Length, "mn", "'mn' is not a unit", "did you mean 'mm'?"),
        ("11 MM", D::Length, "MM", "'MM' is not a unit", "did you mean 'mm'?"),
        ("11 tou", D::Length, "tou", "'tou' is not a unit", "did you mean 'thou'?"),
        ("32 DP", D::Length, "DP", "'DP' is not a unit", "write \"25.4/32 mm\""),
        ("32DP", D::Length, "DP", "'DP' is not a unit", "write \"25.4/32 mm\""),
        ("300 rmp", D::AngularSpeed, "rmp", "'rmp' is not a unit", "did you mean 'rpm'?"),
        (
            "3 inside",
            D::Length,
            "inside",
            "'inside' is not a unit",
            "units of a length: mm, in, thou, cm, m, um, nm, km, ft",
        ),
        ("3 in.", D::Length, "in.", "a unit is written without a point", "write 'in'"),
        (
            "3 q",
            D::Length,
            "q",
            "'q' is not a unit",
            "units of a length: mm, in, thou, cm, m, um, nm, km, ft",
        ),
        (
            "1.2.3 mm",
            D::Length,
            "1.2.3",
            "'1.2.3' has two decimal points",
            "leave one of them, and no points between thousands",
        ),
        (". mm", D::Length, ".", "a point alone is not a number", length),
        (
            "1e5 mm",
            D::Length,
            "1e5",
            "a power of ten is not read here",
            "write the number in full with a unit that suits it",
        ),
        (
            "2.5E-3 m",
            D::Length,
            "2.5E-3",
            "a power of ten is not read here",
            "write the number in full with a unit that suits it",
        ),
        ("NaN mm", D::Length, "NaN", "'NaN' is not a length", length),
        ("inf", D::Length, "inf", "'inf' is not a length", length),
        ("-inf mm", D::Length, "inf", "'inf' is not a length", length),
        ("M3", D::Length, "M3", "'M3' is not a length", length),
        ("mm", D::Length, "mm", "the number before 'mm' is missing", length),
        ("3 mm + in", D::Length, "in", "the number before 'in' is missing", length),
        (
            "1 234 mm",
            D::Length,
            "234",
            "a number follows a number here",
            "write + - * or / between them; or leave out the space inside a long number",
        ),
        ("3 mm 5 mm", D::Length, "5", "a number follows a number here", between),
        (
            "5°30",
            D::Angle,
            "30",
            "a number follows a number here",
            "write + - * or / between them; or write the unit of 30: deg, arcmin, arcsec, turn",
        ),
        ("1 h 30 m", D::Time, "m", "'m' is not a unit of a time", "did you mean 'ms'?"),
        (
            "30 min 1 h",
            D::Time,
            "1 h",
            "the smaller unit comes after the larger",
            "write the larger first, or + between them",
        ),
        ("3 mm + 5 mn", D::Length, "mn", "'mn' is not a unit", "did you mean 'mm'?"),
        ("3 mm * 5 mn + 1 mm", D::Length, "mn", "'mn' is not a unit", "did you mean 'mm'?"),
        ("3 mm thick", D::Length, "thick", "nothing stands between 'thick' and what is before it", between),
        ("(3 mm", D::Length, "(3 mm", "a bracket is opened and not closed", "write ) where it ends"),
        (
            "2 * (3 mm + (1 mm)",
            D::Length,
            "(3 mm + (1 mm)",
            "a bracket is opened and not closed",
            "write ) where it ends",
        ),
        ("(3 mn + 1 mm)", D::Length, "mn", "'mn' is not a unit", "did you mean 'mm'?"),
        (
            "3 mm)",
            D::Length,
            ")",
            "a bracket is closed that was not opened",
            "write ( where it begins, or leave ) out",
        ),
        ("()", D::Length, ")", "a value is missing before ')'", length),
        ("* 3 mm", D::Length, "*", "a value is missing before '*'", length),
        ("3 mm +", D::Length, "", "a length is missing here", length),
        (
            "3 mm / 0",
            D::Length,
            "3 mm / 0",
            "this divides by nothing",
            "write a number other than 0 after the stroke",
        ),
        (
            "3/0 in",
            D::Length,
            "3/0",
            "this fraction divides by nothing",
            "write a number other than 0 after the stroke",
        ),
        (
            "1 3/0 in",
            D::Length,
            "1 3/0",
            "this fraction divides by nothing",
            "write a number other than 0 after the stroke",
        ),
        ("8 deg", D::Length, "8 deg", "a length is wanted here, and this is an angle", length),
        ("2 mm * 2 mm", D::Length, "2 mm * 2 mm", "a length is wanted here, and this is an area", length),
        (
            "1 / 2 mm",
            D::Length,
            "1 / 2 mm",
            "a length is wanted here, and this is a product of other units",
            length,
        ),
        (
            "2 mm",
            D::Ratio,
            "2 mm",
            "a plain number is wanted here, and this is a length",
            "for example 0.75 or 75 %",
        ),
        (
            "3 mm + 5 deg",
            D::Length,
            "3 mm + 5 deg",
            "a length and an angle cannot be added",
            "give both sides the same kind of unit",
        ),
        (
            "3 mm - 5",
            D::Length,
            "3 mm - 5",
            "a length and a plain number cannot be subtracted",
            "give both sides the same kind of unit",
        ),
        (
            "1234567890123456789 mm",
            D::Length,
            "1234567890123456789",
            "this has more digits than any maker could measure",
            "write at most 18 digits",
        ),
        (
            "18 degC + 5 degC",
            D::Temperature,
            "18 degC + 5 degC",
            "temperatures on a scale cannot be reckoned with like this",
            "add a difference, written in K: 18 degC + 5 K",
        ),
        (
            "18 degC - 5 degC",
            D::Temperature,
            "18 degC - 5 degC",
            "temperatures on a scale cannot be reckoned with like this",
            "add a difference, written in K: 18 degC + 5 K",
        ),
        (
            "2 * 18 degC",
            D::Temperature,
            "2 * 18 degC",
            "temperatures on a scale cannot be reckoned with like this",
            "add a difference, written in K: 18 degC + 5 K",
        ),
        (
            "-(18 degC)",
            D::Temperature,
            "-(18 degC)",
            "temperatures on a scale cannot be reckoned with like this",
            "add a difference, written in K: 18 degC + 5 K",
        ),
        ("6 ±0.02 mm", D::Length, "6 ±0.02 mm", "limits cannot be read here", "write the size alone"),
        (
            "6.00 +0.00/-0.02 mm",
            D::Length,
            "6.00 +0.00/-0.02 mm",
            "limits cannot be read here",
            "write the size alone",
        ),
        ("3 ± x", D::Length, "±", "limits cannot be read here", "write the size alone"),
        ("–5 mm", D::Length, "–", "'–' is a dash and not a minus", "write -"),
        ("6 mm ÷ 2", D::Length, "÷", "'÷' cannot be read here", "write /"),
        ("1½ in", D::Length, "½", "'½' cannot be read here", "write a fraction with a stroke: 1 1/2 in"),
        ("5 mm €", D::Length, "€", "'€' cannot be read here", length),
    ] {
        let f = read(text, of).expect_err(text);
        assert_eq!(f.says, says, "{text}");
        assert_eq!(&text[f.at.clone()], at, "{text}: {:?}", f.at);
        assert_eq!(f.cures.join("; "), cure, "{text}");
    }
}
#[test]
fn depth_and_powers_have_an_end() {
    for text in ["(".repeat(1_000_000), "-".repeat(1_000_000), "(-".repeat(500_000), "+(".repeat(100_000)] {
        let f = read(&text, Dimension::Length).unwrap_err();
        assert_eq!(f.says, "brackets and signs stand more than 40 deep here");
        assert_eq!(f.at.len(), 1);
    }
    let deep = |n: usize| format!("{}3 mm{}", "(".repeat(n), ")".repeat(n));
    assert_eq!(read(&deep(39), Dimension::Length), Ok(0.003));
    assert!(read(&deep(40), Dimension::Length).is_err());
    let volumes = vec!["1 m3"; 60].join(" * ");
    assert!(read(&volumes, Dimension::Length).unwrap_err().says.starts_with("units are multiplied"));
    let shrinking = format!("1{}", " / 1 m3".repeat(60));
    assert!(read(&shrinking, Dimension::Length).unwrap_err().says.starts_with("units are multiplied"));
    let long = vec!["0.000000000000001 mm"; 20].join(" * ");
    assert!(read(&long, Dimension::Length).unwrap_err().says.contains("more digits"));
}
#[test]
fn long_texts_are_told_of_shortly() {
    for text in [
        "5 ".to_owned() + &"x".repeat(100_000),
        "ü".repeat(100_000),
        "1,5".to_owned() + &" mm".repeat(50_000),
        "1.".repeat(50_000),
        "7".repeat(100_000) + " mm",
        "7 + ".repeat(5_000) + "7",
        "3 mm ".to_owned() + &"é".repeat(90_000),
    ] {
        let f = read(&text, Dimension::Length).unwrap_err();
        let told = f.says.len() + f.cures.iter().map(String::len).sum::<usize>();
        assert!(told < 400, "{} … is told of in {told} bytes", clip(&text));
    }
}

#[test]
fn limits() {
    // The nearest number to the decimal in metres, by the standard library.
    let exact = |x: f64| Length::si(format!("{x}e-3").parse().unwrap());
    let mm = |nominal: f64, upper: f64, lower: f64| {
        Some(Ok(Band { nominal: exact(nominal), upper: exact(upper), lower: exact(lower) }))
    };
    for text in [
        "6.00 +0.00/-0.02 mm",
        "6 0/-0.02 mm",
        "6 mm +0/-0.02",
        "6 mm +0 mm/-0.02 mm",
        "6+0/-0.02 mm",
        "6 +0.00 / -0.02 mm",
        "6 +0.00/−0.02 mm",
        "  6\u{a0}0.0/−0.02\u{a0}mm ",
    ] {
        assert_eq!(read_limits(text), mm(6.0, 0.0, -0.02), "{text}");
    }
    for text in [
        "6 ±0.02 mm",
        "6 mm ±0.02",
        "6 mm ±0.02 mm",
        "6±0.02mm",
        "6 +/-0.02 mm",
        "6 +/- 0.02 mm",
        "6 +/−0.02 mm",
    ] {
        assert_eq!(read_limits(text), mm(6.0, 0.02, -0.02), "{text}");
    }
    assert_eq!(read_limits("6 +0.03/+0.01 mm"), mm(6.0, 0.03, 0.01));
    assert_eq!(read_limits("6 -0.01/-0.03 mm"), mm(6.0, -0.01, -0.03));
    assert_eq!(read_limits("6 +0.02/0 mm"), mm(6.0, 0.02, 0.0));
    let inch = |nominal: &str, upper: &str, lower: &str| {
        let get = |t: &str| read(t, Dimension::Length).map(Length::si).unwrap();
        Some(Ok(Band { nominal: get(nominal), upper: get(upper), lower: get(lower) }))
    };
    assert_eq!(read_limits("1 1/4 ±1/64 in"), inch("31.75 mm", "0.396875 mm", "-0.396875 mm"));
    assert_eq!(read_limits("1-1/4 in +5/-2 thou"), inch("31.75 mm", "5 thou", "-2 thou"));
    assert_eq!(read_limits("1/2\" +1/64/-1/64 in"), inch("12.7 mm", "1/64 in", "-1/64 in"));
    let band = read_limits("6 +0.03/+0.01 mm").unwrap().unwrap();
    assert_eq!(band.width(), exact(0.03) - exact(0.01));
    assert!(band.smallest() < band.middle() && band.middle() < band.largest());
    assert_eq!(band.diameters().0, band.largest().as_diameter());
}
#[test]
fn what_has_no_limits() {
    for text in [
        "8 H7/g6",
        "8 mm",
        "1-1/4 in",
        "1 3/8 in",
        "3/0 in",
        "1 0/4 in",
        "2-56 UNC",
        "1/4-20 UNC",
        "M3",
        "",
        "/",
        "75 m/min",
        "6 mm/2",
        "+0.02/-0.01 mm",
        "5 - 3 mm/2",
        "ü/ü",
        "1 0/0 in",
    ] {
        assert_eq!(read_limits(text), None, "{text}");
    }
}
#[test]
fn limits_that_cannot_be() {
    for (text, at, says) in [
        ("6 -0.02/+0.02 mm", "-0.02/+0.02 mm", "the upper limit is below the lower one"),
        ("6 ±-0.02 mm", "-0.02 mm", "the upper limit is below the lower one"),
        ("6 ±0,02 mm", ",", "a comma is not read as a decimal point"),
        ("6,5 ±0.02 mm", ",", "a comma is not read as a decimal point"),
        ("6 ±0.02", "6", "a length needs a unit"),
        ("6 ±0.02 mn", "6", "'mn' is not a unit"),
        ("6 ± mm", "mm", "the number before 'mm' is missing"),
        ("±0.02 mm", "", "the number before 'mm' is missing"),
        ("8 deg ±1 mm", "8 deg", "a length is wanted here, and this is an angle"),
        ("6 +0.02/-0.0.1 mm", "-0.0.1", "'0.0.1' has two decimal points"),
    ] {
        let f = read_limits(text).expect(text).expect_err(text);
        assert_eq!(f.says, says, "{text}");
        // The place is within what it speaks of; the unit that all share may stand elsewhere.
        let told = &text[f.at.clone()];
        assert!(at.contains(told.trim()) || told.contains(at), "{text}: {told}");
    }
}

#[test]
fn columns_count_characters() {
    let file = "größe = \"3 µm + 5 µn\"\nnext = \"\"\"\n1 mm +\n2 µm + x\"\"\"\n";
    let name: Arc<str> = Arc::from("clock.toml");
    let start = file.find('3').unwrap();
    let text = "3 µm + 5 µn";
    let place = Place::in_text(&name, file, start, start + text.len());
    assert_eq!((place.line, place.column), (1, 10));
    let t = read(text, Dimension::Length).unwrap_err().placed_in(&place, text);
    let at = &t.at[0];
    assert_eq!(&file[at.start..at.end], "µn");
    assert_eq!((at.line, at.column), (1, 19));
    assert_eq!(*at, Place::in_text(&name, file, at.start, at.end));
    // A text over several lines says the line that is at fault.
    let start = file.find("1 mm").unwrap();
    let text = "1 mm +\n2 µm + x";
    let place = Place::in_text(&name, file, start, start + text.len());
    let t = read(text, Dimension::Length).unwrap_err().placed_in(&place, text);
    assert_eq!(t.at[0], Place::in_text(&name, file, t.at[0].start, t.at[0].end));
    assert_eq!((t.at[0].line, t.at[0].column), (4, 8));
    // Offsets past the end, and inside a character, stay within.
    let odd = place.part_in("µm", 1, 99);
    assert!(odd.start == place.start && odd.end <= place.end);
    let far = place.part(usize::MAX, usize::MAX);
    assert!(far.start == place.end && far.end == place.end);
}
