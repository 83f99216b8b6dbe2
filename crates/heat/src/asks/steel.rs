//! Hardening a steel.

use super::{Done, ask, mm, need, not_among, or, put, put_celsius, says, steel_of};
use crate::caution;
use crate::steel::{self, Medium};
use reckon::{Ask, Book, Given, Length, Ratio, Source, Time};

static PRACTICE: Source = Source {
    cite: "usual at the bench; the maker's data sheet comes first",
    mark: reckon::Mark::CommonPractice,
    formula: None,
};
pub(super) static ASKS: &[Ask] = &[
    ask(
        "heat.steel",
        "how a steel is hardened: heat, medium, soak, hardness, the section that hardens through, annealing",
        &[
            need("steel", "a name of the trade or a grade"),
            or("section", "3 mm", "thickness or diameter"),
            or("medium", "", "oil, water or brine; chosen by the section when left out"),
        ],
        &[
            "medium",
            "from",
            "to",
            "start_at",
            "bath",
            "soak",
            "flame",
            "hard_low",
            "hard_high",
            "through",
            "through_to",
            "measured_edge",
            "measured_inside",
            "measured_depth",
            "anneal_low",
            "anneal_high",
            "anneal",
            "proof",
            "caution",
        ],
        r#"steel="silver steel" section="5 mm""#,
        harden,
    ),
    ask(
        "heat.wanted",
        "hardness that is wanted of a part, and how it is usually had",
        &[need("part", "pivot, arbor, pinion, pallet, screw, click, spring, graver, tap or punch")],
        &["low", "high", "how"],
        r#"part="pinion""#,
        wanted,
    ),
];

fn harden(g: &Given<'_>, book: &mut Book) -> Done {
    let s = steel_of(g)?;
    let mut ids = Vec::new();
    let section = mm(g, book, &mut ids, "section", (0.05, 300.0))?;
    let heat = match g.word_if("medium") {
        None => s.medium_for(section).ok_or_else(|| {
            g.trouble(
                "section",
                format!("no medium is known to harden {section} mm of {} through", s.material),
            )
            .cure("give 'medium' for a hard shell over a soft core, or take oil-hardening tool steel")
        })?,
        Some(word) => {
            let medium = Medium::ALL.iter().find(|(w, _)| *w == word.trim());
            let words: Vec<&str> = s.heats.iter().map(|h| h.medium.text()).collect();
            let medium = medium.ok_or_else(|| not_among(g, "medium", &word, &words))?.1;
            s.heat(medium).ok_or_else(|| {
                g.trouble("medium", format!("{} is not hardened in {}", s.material, medium.text()))
                    .cure(format!("one of: {}", words.join(", ")))
            })?
        }
    };
    says(
        book,
        "medium",
        heat.medium.text(),
        "given, or the mildest that hardens the section through",
        &ids,
        heat.source,
    );
    put_celsius(book, "from", heat.low, "heat to quench from, lower end", &[], heat.source);
    put_celsius(book, "to", heat.high, "heat to quench from, upper end", &[], heat.source);
    let start = if section < 6.0 { heat.low } else { f64::midpoint(heat.low, heat.high) };
    put_celsius(book, "start_at", start, "light sections from the low end", &ids, &PRACTICE);
    says(book, "bath", heat.bath.clone(), "of this medium", &[], heat.source);
    put::<Time>(
        book,
        "soak",
        s.soak_s(section),
        "minutes for each mm, at least five, once hot through",
        &ids,
        s.source,
    );
    let flame = "in a flame: until the colour is even, and one to two minutes more; past the point where a magnet lets go by 30 to 40 K, no further";
    says(book, "flame", flame, "without a furnace", &[], &PRACTICE);
    put::<Ratio>(book, "hard_low", s.hard.0, "HRC as quenched", &[], s.source);
    put::<Ratio>(book, "hard_high", s.hard.1, "HRC as quenched", &[], s.source);
    let failed = s.failed.iter().find(|f| f.medium == heat.medium && section >= f.section * 0.95);
    let through = match (heat.sure, heat.most, failed) {
        (_, _, Some(_)) => "no: a piece like it was measured soft",
        (Some(sure), _, _) if section <= sure => "yes",
        (_, Some(most), _) if section <= most => "perhaps: by the heat and the batch of steel",
        (None, ..) => "not known: try a coupon of the same section",
        _ => "no: a hard shell over a soft core",
    };
    says(
        book,
        "through",
        through,
        "section against the largest that is known to harden through",
        &ids,
        heat.source,
    );
    if let Some(sure) = heat.sure {
        put::<Length>(
            book,
            "through_to",
            sure / 1e3,
            "largest section that surely hardens through",
            &[],
            heat.source,
        );
    } else {
        says(book, "through_to", "not known", "no figure in the sheets", &[], heat.source);
    }
    let names = ["measured_edge", "measured_inside", "measured_depth"];
    if let Some(f) = failed {
        put::<Ratio>(book, names[0], f.edge, "HV at the edge of a piece that was measured", &[], f.source);
        put::<Ratio>(book, names[1], f.inside, "HV inside it", &[], f.source);
        put::<Length>(book, names[2], f.depth / 1e3, "depth of that", &[], f.source);
    } else {
        for name in names {
            says(book, name, "none known", "pieces that were seen to fail", &ids, s.source);
        }
    }
    put_celsius(book, "anneal_low", s.anneal.0, "annealing", &[], s.source);
    put_celsius(book, "anneal_high", s.anneal.1, "annealing", &[], s.source);
    says(book, "anneal", s.anneal_how.clone(), "how", &[], s.source);
    let proof = "a fine file skates on a coupon quenched with it; a polished part is not filed";
    says(book, "proof", proof, "another proof of hardness than a file on the part", &[], &PRACTICE);
    says(book, "caution", caution::quench(heat.medium).join(" "), "stands at the work", &[], &PRACTICE);
    Ok(())
}
fn wanted(g: &Given<'_>, book: &mut Book) -> Done {
    let word = g.word("part")?;
    let all = &steel::tables().wanted;
    let names: Vec<&str> = all.iter().map(|w| w.part.as_str()).collect();
    let w = all.iter().find(|w| w.part == word.trim()).ok_or_else(|| not_among(g, "part", &word, &names))?;
    put::<Ratio>(book, "low", w.low, "HRC", &[], w.source);
    put::<Ratio>(book, "high", w.high, "HRC", &[], w.source);
    says(book, "how", w.how.clone(), "usual way", &[], w.source);
    Ok(())
}
