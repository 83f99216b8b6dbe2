//! Bodies of a pendulum from one text.
//!
//! `rod diameter 8 mm, length 1050 mm, top 0 mm, density 7850 kg/m3; cylinder diameter 90 mm, height 120 mm, mass 6 kg, at 990 mm, moves`

use crate::compound::{Body, Form, Pendulum};
use crate::warmth::{Hung, Reach};
use reckon::{Density, Dimension, Given, Length, Mass, PerKelvin, Readable, Trouble, text};
use std::collections::BTreeMap;

/// What to say of the text in a question's card.
pub(super) const SAYS: &str = "bodies between semicolons: rod, tube, cylinder, disc, lens, sphere, bar, nut, tray, crutch or \
     point, then sizes between commas: diameter, bore, length or height, thickness, width, rim; metal, density or mass; \
     top or at (depth of its centre); 'moves' if it goes with the bob, 'less' before a hole";

const KINDS: [&str; 11] =
    ["rod", "tube", "cylinder", "disc", "lens", "sphere", "bar", "nut", "tray", "crutch", "point"];
const SIZES: [&str; 10] =
    ["diameter", "bore", "length", "height", "thickness", "width", "rim", "top", "at", "offset"];

/// A body as it was written.
#[derive(Clone, Debug)]
pub(super) struct Said {
    /// The body.
    pub(super) body: Body,
    /// Whether it goes with the bob.
    pub(super) moves: bool,
    /// Its growth for each kelvin.
    pub(super) expansion: Option<f64>,
    /// How far its arbor is off the axis that the pendulum turns about; a crutch's only.
    pub(super) offset: f64,
}
/// All bodies.
pub(super) fn read(g: &Given<'_>, name: &str) -> Result<Vec<Said>, Trouble> {
    let whole = g.word(name)?;
    let said: Vec<Said> = whole
        .split(';')
        .map(str::trim)
        .filter(|b| !b.is_empty())
        .map(|b| body(b).map_err(|says| g.trouble(name, format!("{says}, in '{b}'"))))
        .collect::<Result<_, _>>()?;
    if said.is_empty() {
        return Err(g
            .trouble(name, "a pendulum needs a body")
            .cure("for example: sphere diameter 60 mm, metal brass, at 994 mm"));
    }
    Ok(said)
}
/// The bodies as a pendulum whose bob can be moved.
pub(super) fn pendulum(said: &[Said]) -> Pendulum {
    let of = |moves: bool| said.iter().filter(|s| s.moves == moves).map(|s| s.body.clone()).collect();
    Pendulum { fixed: of(false), moving: of(true) }
}
/// The bodies as they are warmed: each hung by a way of the rod's growth and grown by its own.
pub(super) fn hung(said: &[Said], rod: f64) -> Vec<Hung> {
    let one = |s: &Said| {
        let way = vec![Reach { length: s.body.at, expansion: rod }];
        Hung::new(s.body.clone(), s.expansion.unwrap_or(rod), way)
    };
    said.iter().map(one).collect()
}
fn body(written: &str) -> Result<Said, String> {
    let mut moves = false;
    let (rest, sign) = match written.strip_prefix("less ") {
        Some(r) => (r.trim(), -1.0),
        None => (written, 1.0),
    };
    let (kind, rest) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    if !KINDS.contains(&kind) {
        return Err(format!("'{kind}' is no body known here; one of {}", KINDS.join(", ")));
    }
    let (mut sizes, mut mass, mut density, mut expansion) = (BTreeMap::new(), None, None, None);
    for part in rest.split(',').map(str::trim).filter(|p| !p.is_empty()) {
        let (key, value) = part.split_once(char::is_whitespace).unwrap_or((part, ""));
        let number = |of: Dimension| text::read(value, of).map_err(|f| format!("'{part}': {}", f.says));
        match key {
            "moves" if value.is_empty() => moves = true,
            "mass" => mass = Some(number(Mass::OF)?),
            "density" => density = Some(number(Density::OF)?),
            "expansion" => expansion = Some(number(PerKelvin::OF)?),
            "metal" => {
                let m = tables::material::find(value).map_err(|t| t.says)?;
                density = Some(m.density.value.value());
                expansion = expansion.or(Some(m.expansion.value.value()));
            }
            size if SIZES.contains(&size) => {
                let v = number(Length::OF)?;
                if v < 0.0 && !["top", "at", "offset"].contains(&size) {
                    return Err(format!("'{size}' must not be less than nothing"));
                }
                if sizes.insert(key.to_owned(), v).is_some() {
                    return Err(format!("'{key}' stands twice"));
                }
            }
            other => return Err(format!("'{other}' says nothing of a body")),
        }
    }
    let form = form(kind, &mut sizes)?;
    let at = match (sizes.remove("at"), sizes.remove("top")) {
        (Some(at), None) => at,
        (None, Some(top)) => top + along(&form) / 2.0,
        (Some(_), Some(_)) => return Err("give 'at' or 'top', not both".to_owned()),
        (None, None) if matches!(kind, "rod" | "tube" | "crutch") => along(&form) / 2.0,
        (None, None) => return Err("'at' is missing: depth of its centre below the axis".to_owned()),
    };
    let offset = sizes.remove("offset").unwrap_or(0.0).abs();
    if let Some(left) = sizes.keys().next() {
        return Err(format!("a {kind} has no '{left}'"));
    }
    let mass = match (mass, density) {
        (Some(m), _) => m,
        (None, Some(d)) if form.volume() > 0.0 => d * form.volume(),
        (None, Some(_)) => return Err("its sizes leave no room for a density".to_owned()),
        (None, None) => return Err("'mass', 'density' or 'metal' is missing".to_owned()),
    };
    if !(mass > 0.0 && mass.is_finite()) {
        return Err("its mass must be more than nothing".to_owned());
    }
    // A nut and a tray go with the bob or stay with the rod as written; a hole takes mass away.
    Ok(Said { body: Body { name: kind.to_owned(), form, mass: sign * mass, at }, moves, expansion, offset })
}
/// Length along the pendulum.
fn along(form: &Form) -> f64 {
    match *form {
        Form::Upright { height, .. } | Form::Bar { height, .. } => height,
        Form::Across { outer, .. } | Form::Lens { outer, .. } | Form::Sphere { outer } => outer,
        Form::Known { .. } => 0.0,
    }
}
fn form(kind: &str, sizes: &mut BTreeMap<String, f64>) -> Result<Form, String> {
    let mut get = |key: &str| sizes.remove(key).ok_or_else(|| format!("'{key}' is missing"));
    let form = match kind {
        "rod" => Form::Upright { outer: get("diameter")?, bore: 0.0, height: get("length")? },
        "tube" => Form::Upright { outer: get("diameter")?, bore: get("bore")?, height: get("length")? },
        "cylinder" | "nut" | "tray" => Form::Upright {
            outer: get("diameter")?,
            bore: get("bore").unwrap_or(0.0),
            height: get("height")
                .or_else(|_| get("thickness"))
                .map_err(|_| "'height' is missing".to_owned())?,
        },
        "disc" => Form::Across {
            outer: get("diameter")?,
            bore: get("bore").unwrap_or(0.0),
            thick: get("thickness")?,
        },
        "lens" => {
            Form::Lens { outer: get("diameter")?, thick: get("thickness")?, rim: get("rim").unwrap_or(0.0) }
        }
        "sphere" => Form::Sphere { outer: get("diameter")? },
        "bar" | "crutch" => Form::Bar {
            height: get("length").or_else(|_| get("height")).map_err(|_| "'length' is missing".to_owned())?,
            width: get("width").unwrap_or(0.0),
            thick: get("thickness").unwrap_or(0.0),
        },
        _ => Form::Known { spread: 0.0 },
    };
    match form {
        Form::Upright { outer, bore, .. } | Form::Across { outer, bore, .. }
            if bore >= outer && outer > 0.0 =>
        {
            Err("its bore is as wide as itself".to_owned())
        }
        Form::Lens { outer, thick, rim } if rim > thick || thick > outer => {
            Err("a lens is thickest in the middle, and no thicker than wide".to_owned())
        }
        _ => Ok(form),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bodies_are_read() {
        let rod = body("rod diameter 8 mm, length 1050 mm, density 7850 kg/m3").unwrap();
        assert!((rod.body.at - 0.525).abs() < 1e-15 && !rod.moves);
        let bob =
            body("cylinder diameter 80 mm, height 143 mm, bore 8 mm, metal brass CZ121, at 990 mm, moves")
                .unwrap();
        assert!(bob.moves && (bob.body.mass - 6.027).abs() < 0.01, "{}", bob.body.mass);
        let hole = body("less rod diameter 8 mm, length 23 mm, metal brass, at 248 mm").unwrap();
        assert!(hole.body.mass < 0.0);
        let lens = body("lens diameter 56 mm, thickness 23 mm, metal brass CZ121, at 248 mm").unwrap();
        assert!((lens.body.mass - 0.253).abs() < 0.001);
    }
    #[test]
    fn wrong_bodies_are_refused_with_reason() {
        for (text, says) in [
            ("brick mass 1 kg, at 1 m", "no body"),
            ("sphere diameter 60 mm, at 1 m", "missing"),
            ("sphere diameter 60 mm, mass 1 kg", "'at' is missing"),
            ("sphere diameter 60 mm, mass 1 kg, at 1 m, rim 3 mm", "no 'rim'"),
            ("sphere diameter 60 mm, mass 0 kg, at 1 m", "more than nothing"),
            ("cylinder diameter 8 mm, bore 8 mm, height 3 mm, mass 1 kg, at 1 m", "bore"),
            ("lens diameter 8 mm, thickness 9 mm, mass 1 kg, at 1 m", "thickest"),
            ("point mass 1 kg, at 1 m, top 2 m", "not both"),
            ("point mass 1 kg, at 1 m, at 2 m", "twice"),
            ("point mass 1 mm, at 1 m", "mass 1 mm"),
            ("point mass 1 kg, at 1 m, colour red", "says nothing"),
        ] {
            let t = body(text).unwrap_err();
            assert!(t.contains(says), "{text}: {t}");
        }
    }
}
