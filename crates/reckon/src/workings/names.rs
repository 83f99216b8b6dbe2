//! Dotted names: how they are made and how a pattern finds them.

/// A name as it stands in the book: lower case, spaces to underscores, dots kept out.
#[must_use]
pub fn slug(name: &str) -> String {
    let mut out = String::new();
    for c in name.trim().chars() {
        if c.is_alphanumeric() {
            out.extend(c.to_lowercase());
        } else if !out.ends_with('_') {
            out.push('_');
        }
    }
    out.trim_matches('_').to_owned()
}

/// Whether a dotted name fits a pattern: `*` within a part stands for any signs, alone for one whole part,
/// and `**` for any number of parts.
pub(super) fn fits(pattern: &str, name: &str) -> bool {
    let pattern: Vec<&str> = pattern.split('.').collect();
    let name: Vec<&str> = name.split('.').collect();
    run(&pattern, &name, |p| *p == "**", |p, n| part_fits(p, n))
}
fn part_fits(pattern: &str, part: &str) -> bool {
    if !pattern.contains('*') {
        return pattern == part;
    }
    let pattern: Vec<char> = pattern.chars().collect();
    let part: Vec<char> = part.chars().collect();
    run(&pattern, &part, |p| *p == '*', |p, c| p == c)
}
/// A row of items against a row of patterns, some of which stand for any run of items.
///
/// Only the last such pattern is ever tried longer, for what an earlier one could take more of, the last
/// could take as well: so the time grows with the product of the lengths, whatever the pattern.
fn run<P, I>(pattern: &[P], items: &[I], any: impl Fn(&P) -> bool, same: impl Fn(&P, &I) -> bool) -> bool {
    let (mut p, mut i) = (0, 0);
    let mut last_any: Option<(usize, usize)> = None;
    while i < items.len() {
        if p < pattern.len() && any(&pattern[p]) {
            last_any = Some((p, i));
            p += 1;
        } else if p < pattern.len() && same(&pattern[p], &items[i]) {
            (p, i) = (p + 1, i + 1);
        } else if let Some((at, taken)) = last_any {
            last_any = Some((at, taken + 1));
            (p, i) = (at + 1, taken + 1);
        } else {
            return false;
        }
    }
    pattern[p..].iter().all(any)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patterns() {
        for (pattern, name, want) in [
            ("third.wheel.outside", "third.wheel.outside", true),
            ("third.wheel", "third.wheel.outside", false),
            ("third.wheel.outside.x", "third.wheel.outside", false),
            ("third.*.outside", "third.wheel.outside", true),
            ("third.*.outside", "third.wheel.rim.outside", false),
            ("third.*.outside", "third.outside", false),
            ("third.**.outside", "third.outside", true),
            ("third.**.outside", "third.wheel.rim.outside", true),
            ("third.**.outside", "third.outside.wheel", false),
            ("**", "a.b.c", true),
            ("**", "a", true),
            ("*", "a", true),
            ("*", "a.b", false),
            ("**.teeth", "teeth", true),
            ("**.teeth", "great.wheel.teeth", true),
            ("**.*.teeth", "teeth", false),
            ("**.wheel.**.outside", "a.wheel.b.wheel.c.outside", true),
            ("w*.teeth", "wheel.teeth", true),
            ("w*.teeth", "pinion.teeth", false),
            ("w*l.t*h", "wheel.teeth", true),
            ("*e*e*", "wheel", true),
            ("*e*e*e*", "wheel", false),
            ("w***l", "wheel", true),
            ("*ü*", "grüße", true),
            ("", "", true),
            ("", "a", false),
        ] {
            assert_eq!(fits(pattern, name), want, "{pattern} on {name}");
        }
    }
    #[test]
    fn a_long_pattern_does_not_take_for_ever() {
        let pattern = vec!["**"; 200].join(".") + ".x";
        let name = vec!["a"; 200].join(".");
        assert!(!fits(&pattern, &name));
        assert!(!fits(&("a*".repeat(500) + "b"), &"a".repeat(1000)));
    }
    #[test]
    fn names_as_they_stand_in_the_book() {
        assert_eq!(slug("Bridge screw"), "bridge_screw");
        assert_eq!(slug("  M3 x 0.5 / left "), "m3_x_0_5_left");
        assert_eq!(slug("Große Öse"), "große_öse");
        assert_eq!(slug("--"), "");
    }
}
