//! Sizes that no clock or shop has, and examples of those they have.

use crate::spec::Of;
use reckon::Trouble;

/// What is larger or smaller than anything in a clock or its shop.
pub(super) fn absurd(of: Of, text: &str, si: f64) -> Option<Trouble> {
    let size = si.abs();
    let too = |word: &str, than: &str| Trouble::text(format!("{text} is {word} than {than}"));
    match of {
        Of::Length | Of::Diameter if size > 10.0 => {
            let t = too("longer", "any part of a clock or its shop");
            Some(match text.strip_suffix(" m").or_else(|| text.strip_suffix('m')).map(str::trim) {
                Some(n) if !n.ends_with(|c: char| c.is_alphabetic()) => {
                    t.cure(format!("did you mean {n} mm?"))
                }
                _ => t.cure("check the number and its unit"),
            })
        }
        Of::Length | Of::Diameter if size > 0.0 && size < 1e-9 => {
            let t = too("smaller", "anything that can be made or measured");
            Some(match text.strip_suffix(" nm") {
                Some(n) => t.cure(format!("did you mean {n} um?")),
                None => t.cure("check the number and its unit"),
            })
        }
        Of::Turning if size > 20_000.0 => {
            Some(too("faster", "any spindle turns").cure("check the number and its unit"))
        }
        Of::Angle if size > 6.3 => Some(too("more", "a whole turn").cure("check the number and its unit")),
        Of::Temperature if si < 173.15 => {
            Some(too("colder", "any shop").cure("check the number and its unit"))
        }
        Of::Temperature if si > 2073.15 => {
            Some(too("hotter", "any hearth gets").cure("check the number, and whether it is degC or degF"))
        }
        Of::Difference if size > 1000.0 => {
            Some(too("more", "any thermometer is off").cure("check the number and its unit"))
        }
        Of::Power if size > 100_000.0 => {
            Some(too("more", "any bench machine has").cure("check the number and its unit"))
        }
        Of::Force if size > 1e7 => {
            Some(too("more", "any chuck grips with").cure("check the number and its unit"))
        }
        Of::Speed if size > 100.0 => {
            Some(too("faster", "any slide moves").cure("check the number and its unit"))
        }
        Of::Time if size > 4e7 => {
            Some(too("longer", "any clock runs on one winding").cure("check the number and its unit"))
        }
        Of::Mass if size > 500.0 => {
            Some(too("heavier", "any part of a clock").cure("check the number and its unit"))
        }
        Of::Torque if size > 1000.0 => {
            Some(too("more", "any mainspring gives").cure("check the number and its unit"))
        }
        Of::Pressure if size > 2e12 => {
            Some(too("more", "any metal bears").cure("check the number and its unit"))
        }
        Of::Density if size > 23_000.0 => {
            Some(too("denser", "any metal").cure("check the number and its unit"))
        }
        _ => None,
    }
}
pub(super) fn example(of: Of) -> String {
    let text = match of {
        Of::Length | Of::Diameter => "42 mm, 1.65 in, 5 thou or 1 3/8 in",
        Of::Angle => "8 deg or 5°30'",
        Of::Turning => "300 rpm",
        Of::Speed => "360 mm/min",
        Of::Force => "4000 N",
        Of::Power => "350 W",
        Of::Temperature => "18 degC",
        Of::Difference => "5 K",
        Of::Ratio => "0.75 or 75 %",
        Of::Time => "8 d, 1 h or 26 s",
        Of::Mass => "3.5 kg or 12 lb",
        Of::Torque => "700 N mm",
        Of::Pressure => "205 GPa",
        Of::Density => "6.9 g/cm3",
    };
    format!("for example {text}")
}
