//! Quenching: how fast it cools, whether it misses the nose, whether it may crack, bend, grow or lose carbon.

use crate::steel::Medium;
use crate::warm;
use reckon::Source;
use reckon::maths::exp;

/// Severity as a film of heat.
pub static SEVERITY: Source = Source {
    cite: "Grossmann's severity of quench: h = 2 k H",
    mark: reckon::Mark::Memory,
    formula: Some("h = 2 k H, H in 1/m"),
};
/// The nose of the cooling diagram.
pub static NOSE: Source = Source {
    cite: "class values of cooling diagrams: carbon tool steel under 1 s, silver steel 1 to 2 s, O1 6 to 10 s",
    mark: reckon::Mark::Memory,
    formula: None,
};
/// The score of cracking.
pub static SCORE: Source = Source {
    cite: "score of reasons for cracking: 4 or more asks for oil or another form, 6 or more is refused",
    mark: reckon::Mark::CommonPractice,
    formula: None,
};
/// Spread of carbon.
pub static SPREAD: Source = Source {
    cite: "carbon in austenite: 2.3e-5 m²/s and 148 kJ/mol, as in textbooks of materials",
    mark: reckon::Mark::Memory,
    formula: Some("D = 2.3e-5 exp(-148000/(R T)); depth √(D t)"),
};
/// Gas constant, J/(mol K), exact in the SI since 2019.
pub const GAS: f64 = 8.314_462_618;
/// Heat of steel on the way from 780 to 540 °C, J/(kg K).
pub const HOT_HEAT: f64 = 620.0;
/// Heat passed on by steel on that way, W/(m K).
pub const HOT_CONDUCTS: f64 = 30.0;
/// Margin at the nose below which a faster medium or a leaner section is asked for.
pub const MARGIN: f64 = 1.3;

/// Grossmann's severity, 1/in: medium, how it is stirred, low and high.
pub static SEVERITIES: [(Medium, &str, [f64; 2]); 7] = [
    (Medium::Oil, "still", [0.25, 0.30]),
    (Medium::Oil, "moderate", [0.35, 0.40]),
    (Medium::Oil, "good", [0.40, 0.50]),
    (Medium::Water, "still", [0.9, 1.0]),
    (Medium::Water, "moderate", [1.2, 1.3]),
    (Medium::Brine, "still", [2.0, 2.0]),
    (Medium::Brine, "violent", [5.0, 5.0]),
];
/// Film of heat, W/(m² K), of a severity in 1/in on steel that passes `k` W/(m K).
#[must_use]
pub fn film(severity: f64, k: f64) -> f64 {
    2.0 * k * severity / 0.0254
}
/// Seconds from 780 to 540 °C in a bath, by the lump (m); none where the bath is hotter.
#[must_use]
pub fn through_nose(lump: f64, density: f64, h: f64, bath: f64) -> Option<f64> {
    warm::time(warm::tau(density, HOT_HEAT, lump, h), bath, 780.0, 540.0)
}

/// What the form and the work say about cracking.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Risk {
    /// Medium.
    pub medium: Medium,
    /// Largest section over least.
    pub sections: f64,
    /// Metal between a hole and the nearest edge over the hole's diameter; none without holes.
    pub edge: Option<f64>,
    /// Least radius of an inner corner, mm; none without one.
    pub corner: Option<f64>,
    /// A slot, keyway or thread ends at a root.
    pub slotted: bool,
    /// Carbon, per cent.
    pub carbon: f64,
    /// Kelvins above the upper end of the heat.
    pub over: f64,
    /// Minutes until it is tempered.
    pub wait: f64,
}
/// Points, each with its reason.
#[must_use]
pub fn reasons(r: Risk) -> Vec<(u32, &'static str)> {
    let mut all = Vec::new();
    match r.medium {
        Medium::Oil => {}
        Medium::Water => all.push((2, "quenched in water")),
        Medium::Brine => all.push((3, "quenched in brine")),
    }
    if r.sections > 4.0 {
        all.push((2, "sections differ more than 4 to 1"));
    } else if r.sections > 2.0 {
        all.push((1, "sections differ more than 2 to 1"));
    }
    if r.edge.is_some_and(|e| e < 1.0) {
        all.push((1, "a hole lies nearer to an edge than its own diameter: plug it with clay or wire"));
    }
    if r.corner.is_some_and(|c| c < 0.2) {
        all.push((2, "a sharp inner corner: give it a radius of 0.3 mm or more"));
    }
    if r.slotted {
        all.push((1, "a slot, keyway or thread runs to a root"));
    }
    if r.carbon >= 1.1 {
        all.push((1, "1.1 % of carbon or more"));
    }
    if r.over > 40.0 {
        all.push((2, "more than 40 K hotter than its range"));
    }
    if r.wait > 15.0 {
        all.push((2, "not tempered within a quarter of an hour"));
    }
    all
}
/// What a score asks for.
#[must_use]
pub const fn verdict(score: u32) -> &'static str {
    match score {
        0..=3 => "go on",
        4..=5 => "take an oil-hardening steel, or change the form",
        _ => "refused: it is likely to crack",
    }
}
/// How a piece is put in and what is left on it: slender ratio of length to diameter.
#[must_use]
pub fn advice(slender: f64, medium: Medium) -> Vec<&'static str> {
    let mut all = vec!["keep it moving in the bath"];
    if slender > 8.0 {
        all.push("plunge it upright, end first; leave 0.15 to 0.25 mm on the diameter and finish pivots after hardening");
        all.push("straighten it at blue heat, or by peening the hollow side");
    }
    if medium != Medium::Oil {
        all.push("water at 25 °C, or two to three seconds in water and then oil, cracks fewer");
    }
    all
}
/// Spread of carbon in austenite, m²/s, at °C.
#[must_use]
pub fn spread(celsius: f64) -> f64 {
    2.3e-5 * exp(-148_000.0 / (GAS * (celsius + 273.15)))
}
/// Depth that loses carbon, m: √(D t).
#[must_use]
pub fn depth(celsius: f64, seconds: f64) -> f64 {
    (spread(celsius) * seconds).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain() -> Risk {
        Risk {
            medium: Medium::Oil,
            sections: 1.0,
            edge: None,
            corner: None,
            slotted: false,
            carbon: 0.95,
            over: 0.0,
            wait: 5.0,
        }
    }
    #[test]
    fn every_reason_adds_to_the_score() {
        let score = |r| reasons(r).iter().map(|(n, _)| n).sum::<u32>();
        assert_eq!(score(plain()), 0);
        let bad = Risk {
            medium: Medium::Brine,
            sections: 5.0,
            edge: Some(0.5),
            corner: Some(0.0),
            slotted: true,
            carbon: 1.15,
            over: 50.0,
            wait: 60.0,
        };
        assert_eq!(score(bad), 14);
        assert_eq!(score(Risk { sections: 3.0, ..plain() }), 1);
        assert!(verdict(6).starts_with("refused") && verdict(3) == "go on");
    }
    #[test]
    fn oil_misses_the_nose_of_a_thin_silver_steel_rod_by_little_and_water_by_much() {
        let t = |h| through_nose(0.0005, 7840.0, film(h, HOT_CONDUCTS), 20.0).unwrap();
        assert!(t(0.3) > 1.0 && t(0.3) < 2.0);
        assert!((t(0.3) / t(0.9) - 3.0).abs() < 1e-9);
        assert_eq!(through_nose(0.0005, 7840.0, 1000.0, 600.0), None);
    }
}
