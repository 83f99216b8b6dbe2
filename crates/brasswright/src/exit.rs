//! Exit codes. Public interface: scripts lean on them, so a change is a breaking change.

use reckon::Kind;

/// All went well; warnings may have been told.
pub const WELL: u8 = 0;
/// A text (clock, or a value on the command line) cannot be read as written.
pub const TEXT: u8 = 2;
/// The shop's own text is at fault or lacks something.
pub const SHOP: u8 = 3;
/// The design contradicts itself or what is possible.
pub const DESIGN: u8 = 4;
/// This shop cannot make it as asked.
pub const UNMAKEABLE: u8 = 5;
/// The command line itself is wrong: an unknown command, flag, question or name.
pub const USE: u8 = 64;
/// A fault of this program.
pub const OURS: u8 = 70;
/// A file or folder could not be read or written.
pub const FILES: u8 = 74;

/// Every code with the words that the help and the manual give it.
pub const ALL: [(u8, &str); 8] = [
    (WELL, "all is well; there may have been warnings"),
    (TEXT, "a text cannot be read as written"),
    (SHOP, "the shop's text is at fault or lacks something"),
    (DESIGN, "the design contradicts itself or what is possible"),
    (UNMAKEABLE, "this shop cannot make it as asked"),
    (USE, "the command line is wrong: no such command, flag, question or name"),
    (OURS, "a fault of this program; please report it"),
    (FILES, "a file or folder could not be read or written"),
];

/// The code of a kind of trouble.
#[must_use]
pub const fn of(kind: Kind) -> u8 {
    match kind {
        Kind::Text => TEXT,
        Kind::Shop => SHOP,
        Kind::Design => DESIGN,
        Kind::Unmakeable => UNMAKEABLE,
        Kind::Ours => OURS,
    }
}
/// The code of the worst of several troubles that stop the work; [`WELL`] when none does.
pub fn worst<'a>(troubles: impl IntoIterator<Item = &'a reckon::Trouble>) -> u8 {
    troubles.into_iter().filter(|t| t.stops()).map(|t| of(t.kind)).max().unwrap_or(WELL)
}
/// The table of codes as the help prints it.
#[must_use]
pub fn table() -> String {
    let mut out = String::from("Exit codes:\n");
    for (code, says) in ALL {
        out += &format!("  {code:>2}  {says}\n");
    }
    out.pop();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use reckon::Trouble;
    #[test]
    fn codes_differ_and_are_told() {
        let mut seen: Vec<u8> = ALL.iter().map(|(c, _)| *c).collect();
        seen.sort_unstable();
        seen.dedup();
        assert_eq!(seen.len(), ALL.len());
        for kind in [Kind::Text, Kind::Shop, Kind::Design, Kind::Unmakeable, Kind::Ours] {
            assert!(ALL.iter().any(|(c, _)| *c == of(kind)));
        }
    }
    #[test]
    fn warnings_do_not_stop_and_the_worst_counts() {
        let warned = [Trouble::unmakeable("far").as_warning()];
        assert_eq!(worst(&warned), WELL);
        let both = [Trouble::text("a"), Trouble::design("b"), Trouble::shop("c")];
        assert_eq!(worst(&both), DESIGN);
    }
}
