//! A rod longer than goes between the centres: passed through the spindle, each end worked close to the jaws, and the
//! tail behind the headstock kept from whipping.

use crate::kernel::bend;
use crate::plan::bench::Bench;
use crate::plan::{Caution, Operation, SetUp, Spread};
use reckon::source::GEOMETRY;
use reckon::{Alternative, AngularSpeed, Diameter, Length, Shown, Source, Val, judge, work};

/// Whether a rod that is long can be worked at its ends only.
pub static THROUGH: Source = Source::practice(
    "a rod that keeps its bar's own diameter passes through the spindle and is worked at each end close to the jaws",
);
/// Shares of the whipping speed that are kept to.
pub static WHIP_SHARE: Source = Source::practice(
    "a free tail: half of the speed at which it whips; with its end in a tube or block that has play, four fifths, as it stays free until it has bent that far",
);
/// Tails shorter than this are left alone.
const SHORT_TAIL: f64 = 20.0;

/// Whether the part is longer than goes between centres and is passed through the spindle instead, with the verdict.
pub fn through(b: &mut Bench<'_>, bar: Val<Diameter>, as_bar: bool) -> bool {
    let (length, between, bore, largest) =
        (b.body.length, b.lathe.between_centres, b.lathe.spindle_bore, b.body.largest);
    let slack = b.assumed(
        "through.slack",
        Length::mm(0.05),
        "house default: a bar this much over the size is still left as it is",
    );
    let reaches = judge!(
        b.book,
        b.name("reaches"),
        format!(
            "it goes between the centres of the {}, or keeps its bar's size and passes through its spindle",
            b.lathe.name
        ),
        |length, between, bar, bore, largest, slack| length <= between
            || bar <= bore && bar <= largest + slack,
        &THROUGH
    );
    let longer = length.bare() - between.bare();
    b.book.cure(reaches.id(), format!("shorter by {}", longer.shown()));
    if bar.bare() > bore.bare() {
        let thicker = (bar.bare().across() - bore.bare().across()).shown();
        b.book.cure(
            reaches.id(),
            format!(
                "through the spindle it would have to be thinner by {thicker}: its hole is {}",
                bore.shown()
            ),
        );
    } else {
        b.book.cure(
            reaches.id(),
            format!(
                "from bar of its own size, {}: then it passes through the spindle and only its ends are turned",
                largest.shown()
            ),
        );
    }
    b.book.cure(reaches.id(), "in two pieces, joined by a screwed or pinned spigot");
    if longer <= Length::ZERO || bar.bare() > bore.bare() || !as_bar {
        return false;
    }
    let name = b.name("worked");
    b.book.chosen(
        name,
        "through the spindle".to_owned(),
        "the ends are worked one after the other, close to the jaws",
        vec![
            Alternative {
                what: "between centres".to_owned(),
                taken: false,
                why: format!("{} of {}: too long by {}", length.shown(), between.shown(), longer.shown()),
            },
            Alternative {
                what: "through the spindle".to_owned(),
                taken: true,
                why: format!("{} in a hole of {}", bar.shown(), bore.shown()),
            },
        ],
        vec![length.id(), between.id(), bar.id(), bore.id()],
        &THROUGH,
    );
    true
}
/// How far it stands out while an end is worked, of which `beyond` is to be reached with the tool.
pub fn overhang(b: &mut Bench<'_>, setup: &str, beyond: Val<Length>, clear: Val<Length>) -> Val<Length> {
    work!(b.book, b.name(&format!("{setup}.overhang")), |beyond, clear| beyond + clear, &GEOMETRY)
}
/// Sawing it to length before it goes to the lathe.
pub fn sawn(b: &mut Bench<'_>, pitch: Val<Length>, kerf: Val<Length>) -> SetUp {
    let sawn = work!(b.book, b.name("through.sawn"), |pitch, kerf| pitch - kerf, &GEOMETRY);
    let operation = Operation {
        title: "Saw to length".to_owned(),
        lines: vec![
            "Bar on two blocks, clamped beside the cut; measured along the bench with a rule, not with the end of a tape.".to_owned(),
            "Both ends deburred, or the bar sticks in the collet and scratches.".to_owned(),
        ],
        tool: Some("hacksaw, file".to_owned()),
        figures: vec![crate::plan::Figure::of("length, sawn", &sawn)],
        cautions: vec![Caution::Sawing],
        time: Spread::minutes(4.0, 8.0, 15.0),
        does: vec!["rough turn"],
        ..Operation::default()
    };
    crate::plan::turned::at_bench("sawn to length", "vice with soft jaws", vec![operation], 3.0)
}
/// The tail behind the headstock: at what speed it whips, and what is kept under while it stands there. Nothing
/// where it is short or the lathe has no speed that matters.
pub fn tail(
    b: &mut Bench<'_>,
    setup: &str,
    whole: Val<Length>,
    out: Val<Length>,
    size: Val<Diameter>,
) -> Option<Tail> {
    let headstock = b.lathe.headstock;
    let tail = work!(
        b.book,
        b.name(&format!("{setup}.tail")),
        |whole, headstock, out| (whole - headstock - out).max(Length::ZERO),
        &GEOMETRY
    );
    if tail.bare() < Length::mm(SHORT_TAIL) {
        return None;
    }
    let m = b.part.common.material;
    let density = m.density.tabled(b.book, b.name(&format!("{setup}.tail.density")), m.row("density"));
    let e = b.metal.e;
    let whips = work!(
        b.book,
        b.name(&format!("{setup}.whips_at")),
        |tail, size, e, density| bend::whip(tail, size, e, density),
        &bend::WHIP
    );
    let bare = work!(b.book, b.name(&format!("{setup}.tail.free_under")), |whips| whips * 0.5, &WHIP_SHARE);
    let limit = work!(b.book, b.name(&format!("{setup}.tail.held_under")), |whips| whips * 0.8, &WHIP_SHARE);
    let top = b.lathe.speeds.last().map(Val::bare)?;
    if top <= bare.bare() {
        return None;
    }
    let step = |under: AngularSpeed| {
        let steps = b.lathe.speeds.iter().map(Val::bare).filter(|s| *s <= under);
        let most = steps.reduce(|a, c| if c > a { c } else { a });
        match most {
            Some(s) if b.lathe.stepless => s.max(under.min(top)).shown(),
            Some(s) => s.shown(),
            None => format!("no step of this lathe is under {}", under.shown()),
        }
    };
    let (free, held) = (step(bare.bare()), step(limit.bare()));
    let slowest = *b.lathe.speeds.first()?;
    let calm = judge!(
        b.book,
        b.name(&format!("{setup}.tail_is_calm")),
        "the lathe has a speed at which the bar's tail behind the spindle stays calm, its end in a support",
        |slowest, limit| slowest <= limit,
        &WHIP_SHARE
    );
    b.book.cure(calm.id(), "saw the bar shorter first");
    b.book.cure(
        calm.id(),
        "a second support half-way along the tail: then each half whips at four times the speed",
    );
    // A support that wins no speed is not worth setting up.
    let supported = held != free;
    let limit = if supported { limit } else { bare };
    let (as_it_is, in_support) =
        (format!("free, no faster than {free}"), format!("its end in a support, no faster than {held}"));
    let name = b.name(&format!("{setup}.tail.kept"));
    b.book.chosen(
        name,
        if supported { in_support.clone() } else { as_it_is.clone() },
        "a support where it lets the spindle run faster",
        vec![
            Alternative {
                what: as_it_is,
                taken: !supported,
                why: "half of the speed at which it whips".to_owned(),
            },
            Alternative {
                what: in_support,
                taken: supported,
                why: "four fifths of that speed, as the support has play".to_owned(),
            },
        ],
        vec![whips.id(), limit.id(), bare.id()],
        &WHIP_SHARE,
    );
    let how = if supported {
        format!(
            "Its end goes into a support (a block with a hole a little larger, or a tube on a stand): then no faster than {held}. Without a support no faster than {free}"
        )
    } else {
        format!("No faster than {free}")
    };
    let line = format!(
        "{} of the bar stand free behind the headstock and whip near {}. {how}; nobody stands beside the tail, and it is fenced off.",
        tail.shown(),
        whips.shown()
    );
    Some(Tail { limit, line })
}
/// A tail that has to be kept from whipping.
pub struct Tail {
    /// What the spindle is kept under.
    pub limit: Val<AngularSpeed>,
    /// What is told at the set-up.
    pub line: String,
}
impl Tail {
    /// Tells of it at the set-up.
    pub fn tell(self, setup: &mut SetUp) {
        setup.held.lines.push(self.line);
        if let Some(op) = setup.operations.first_mut()
            && !op.cautions.contains(&Caution::Bar)
        {
            op.cautions.push(Caution::Bar);
        }
    }
}
