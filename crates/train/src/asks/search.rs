//! Which counts of wheels and pinions give what is wanted.

use crate::dividing::Head;
use crate::search::{
    ArborTurn, Limits, MOST_TEETH, Obstacle, Progress, SEARCH, Scored, Slack, StageLimit, Target, Told,
    Train, Wanted, Wish, arbors, best, counts_from, going_wishes, search, stages_from, why_not,
};
use reckon::ask::{need, or};
use reckon::exact::Fraction;
use reckon::{Ask, Book, Cell, Count, Given, Id, Param, Ratio, Trouble, print};
use std::collections::BTreeSet;

const STAGES: Param = or("stages", "2", "meshes, 1 to 4");
const ORDERS: Param = or("orders", "no", "yes: the same counts in another order count anew");
const RATIO: Param = or("most_ratio", "", "greatest ratio of one stage");
const HEAD: Param = or("head", "", "turns of the worm for one turn of the dividing head");
const CIRCLES: Param = or("circles", "", "holes in the circles of its plates");
const LEAVES: Param =
    or("leaves", "8", "pinions of fewer leaves come later: 8 for going trains, 10 to 12 for fine work");
const FEW: Param = or("show", "5", "how many to show");
const OWN: Param = or("train", "", "your own, to be compared: 96/12 90/12");
const GIVES: &[&str] = &["found", "first", "last", "best", "error", "reason", "covered", "own", "trains"];

pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "counts.train",
        says: "going trains for the beats wanted, best first, from the arbor of the minute hand to the escape wheel",
        takes: &[
            need("beats", "in one turn of the first arbor: an hour for a centre arbor"),
            need("escape", "teeth of the escape wheel; several between commas"),
            STAGES,
            or("wheels", "60 to 120", "counts that a wheel may have: 60 to 95, 100"),
            or("pinions", "8 to 16", "counts that a pinion may have"),
            or("seconds_a_day", "0", "seconds a day that the train may be off"),
            ORDERS,
            RATIO,
            HEAD,
            CIRCLES,
            LEAVES,
            FEW,
            OWN,
        ],
        gives: GIVES,
        example: r#"beats=3600 escape=30 pinions=12 wheels="60 to 150" head=40 circles="15 to 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49" train="96/12 90/12""#,
        run: train,
    },
    Ask {
        name: "counts.ratio",
        says: "wheels and pinions for any ratio, exact or within an error, best first",
        takes: &[
            need("ratio", "product of wheels over product of pinions: a number or a fraction"),
            STAGES,
            or("wheels", "30 to 120", "counts that a wheel may have: 30 to 95, 100"),
            or("pinions", "6 to 20", "counts that a pinion may have"),
            or("within", "", "how far off in the ratio itself"),
            or("seconds_a_day", "", "or how far off in seconds a day of running"),
            or("seconds_a_turn", "", "or how far off in seconds in each turn of the last arbor, with 'turn'"),
            or("turn", "", "seconds in one turn of the first arbor"),
            ORDERS,
            RATIO,
            HEAD,
            CIRCLES,
            LEAVES,
            FEW,
            OWN,
        ],
        gives: GIVES,
        example: r#"ratio=118.122352 stages=2 wheels="20 to 150" seconds_a_turn=60 turn=43200"#,
        run: ratio,
    },
];

/// A question waits for its answer: a search of more steps or trains than this stops, and says so.
const MOST_STEPS: u32 = 500_000;
const MOST_FOUND: u64 = 2_000_000;
/// The ends of a longer list are not looked for.
const MOST_LISTED: u64 = 100_000;

type Done = Result<(), Trouble>;

/// A number or a fraction of two, exactly as written.
fn exact(g: &Given<'_>, name: &str) -> Result<Option<Fraction>, Trouble> {
    let Some(text) = g.word_if(name) else { return Ok(None) };
    let value = match text.split_once('/') {
        None => Fraction::decimal(text.trim()),
        Some((n, d)) => {
            Fraction::decimal(n.trim()).zip(Fraction::decimal(d.trim())).and_then(|(n, d)| n.over(d))
        }
    };
    match value {
        Some(v) if v >= Fraction::ZERO => Ok(Some(v)),
        _ => Err(g
            .trouble(name, format!("'{text}' is not a number that can be kept whole"))
            .cure("write up to 18 digits, or a fraction such as 3662422/3652422")),
    }
}
fn counts(g: &Given<'_>, name: &str) -> Result<Vec<u32>, Trouble> {
    g.word_if(name).map_or(Ok(Vec::new()), |text| {
        counts_from(&text).map_err(|e| g.trouble(name, e).cure("write them as 60 to 95, 100"))
    })
}
fn whole(g: &Given<'_>, book: &mut Book, name: &str, (low, high): (i64, i64)) -> Result<(u32, Id), Trouble> {
    let v = g.count(book, name)?;
    match u32::try_from(v.bare().0) {
        Ok(n) if (low..=high).contains(&i64::from(n)) => Ok((n, v.id())),
        _ => Err(g.trouble(name, format!("'{name}' must lie between {low} and {high}"))),
    }
}
/// The counts that the head divides, if there is a head.
fn divided(g: &Given<'_>) -> Result<Option<BTreeSet<u32>>, Trouble> {
    let (head, circles) = (counts(g, "head")?, counts(g, "circles")?);
    match (&head[..], &circles[..]) {
        ([], []) => Ok(None),
        (_, []) => Err(g.trouble("head", "the circles of the plates are needed too")),
        ([ratio], _) => {
            let head = Head { ratio: *ratio, circles, direct: Vec::new() };
            Ok(Some((1..=MOST_TEETH).filter(|n| head.divides(*n)).collect()))
        }
        _ => Err(g.trouble("circles", "the head's turns of the worm are needed too, one number")),
    }
}
fn train(g: &Given<'_>, book: &mut Book) -> Done {
    let beats = exact(g, "beats")?.ok_or_else(|| g.trouble("beats", "'beats' is not given"))?;
    let id = g.take::<Ratio>(book, "beats")?.id();
    let escape = counts(g, "escape")?;
    let slack = exact(g, "seconds_a_day")?.map_or(Slack::None, Slack::SecondsADay);
    answer(g, book, Target { value: beats, slack }, escape, id)
}
fn ratio(g: &Given<'_>, book: &mut Book) -> Done {
    let value = exact(g, "ratio")?.ok_or_else(|| g.trouble("ratio", "'ratio' is not given"))?;
    let id = g.take::<Ratio>(book, "ratio")?.id();
    let given = (exact(g, "within")?, exact(g, "seconds_a_day")?, exact(g, "seconds_a_turn")?);
    let slack = match (given, exact(g, "turn")?) {
        ((None, None, None), None) => Slack::None,
        ((Some(by), None, None), None) => Slack::Absolute(by),
        ((None, Some(s), None), None) => Slack::SecondsADay(s),
        ((None, None, Some(seconds)), Some(turn)) if turn > Fraction::ZERO => {
            Slack::SecondsATurn { seconds, turn }
        }
        ((None, None, Some(_)), _) => {
            return Err(g.trouble(
                "seconds_a_turn",
                "'turn', the seconds of one turn of the first arbor, is needed too",
            ));
        }
        ((None, None, None), Some(_)) => {
            return Err(g.trouble("turn", "'turn' is of use with 'seconds_a_turn' alone"));
        }
        _ => return Err(g.trouble("ratio", "give one kind of room: within, seconds_a_day or seconds_a_turn")),
    };
    answer(g, book, Target { value, slack }, Vec::new(), id)
}
fn answer(g: &Given<'_>, book: &mut Book, target: Target, escape: Vec<u32>, id: Id) -> Done {
    let (stages, stages_id) = whole(g, book, "stages", (1, 4))?;
    let (leaves, leaves_id) = whole(g, book, "leaves", (1, 100))?;
    let (few, _) = whole(g, book, "show", (1, 100))?;
    let told = match g.word("orders")?.trim() {
        "yes" => Told::Orders,
        "no" => Told::Sets,
        other => return Err(g.trouble("orders", format!("'{other}' is neither yes nor no"))),
    };
    let only = divided(g)?;
    let every = StageLimit { greatest_ratio: exact(g, "most_ratio")?, ..StageLimit::default() };
    let wanted = Wanted {
        escape,
        only: only.clone(),
        limits: Limits { every, ..Limits::default() },
        told,
        ..Wanted::new(target, stages as usize, counts(g, "wheels")?, counts(g, "pinions")?)
    };
    let mut wishes = going_wishes(None, leaves);
    if wanted.escape.is_empty() {
        // Indications turn slowly and lightly: what counts is the error, then the size.
        wishes = vec![Wish::SmallError, Wish::LeavesAtLeast(leaves), Wish::FewestCutters, Wish::Small];
    }
    let mut steps = 0_u32;
    let mut go = |p: Progress| {
        steps += 1;
        steps <= MOST_STEPS && p.found <= MOST_FOUND
    };
    let ranked = best(&wanted, &wishes, few as usize, &mut go)?;
    let Some(top) = ranked.best.first() else {
        return Err(why_not(&wanted, &mut |_| true)?
            .map_or_else(|| Trouble::ours("a search found nothing and something"), Obstacle::trouble));
    };
    let inputs = vec![id, stages_id, leaves_id];
    let mut put = |name: &str, words: String| {
        book.solved(name, words, ("complete search", 1, 0.0), inputs.clone(), &SEARCH);
    };
    if ranked.cover.complete() && ranked.found <= MOST_LISTED {
        let all = search(&wanted, &mut |_| true)?.trains;
        let (Some(first), Some(last)) = (all.first(), all.last()) else {
            return Err(Trouble::ours("a search found something and nothing"));
        };
        put("first", first.to_string());
        put("last", last.to_string());
    }
    put("best", top.train.to_string());
    put("reason", top.reason.clone());
    put("covered", ranked.cover.words());
    if let Some(text) = g.word_if("train") {
        put("own", own(g, &text, &wanted, &wishes, top)?);
    }
    let found = Count(i64::try_from(ranked.found).unwrap_or(i64::MAX));
    book.solved("found", found, ("complete search", 1, 0.0), inputs.clone(), &SEARCH);
    let error = Ratio::si(top.error.to_f64());
    book.solved("error", error, ("ratio over what is wanted, less one", 1, 0.0), inputs.clone(), &SEARCH);
    let rows = ranked.best.iter().map(row).collect();
    let rule = "best first by the wishes in their order; each row says why it stands before the next";
    book.table(
        "trains",
        &["train", "off, s a day", "seconds hand", "before the next"],
        rows,
        rule,
        inputs,
        &SEARCH,
    );
    Ok(())
}
fn row(s: &Scored) -> Vec<Cell> {
    let off = Ratio::si(s.error.to_f64() * 86_400.0);
    // The first arbor turns once an hour, clockwise, where the search was for beats.
    let turns = s.train.escape.and_then(|_| arbors(&s.train.stages, Fraction::whole(3600), true));
    let hand = turns.and_then(|t| t.iter().position(ArborTurn::seconds_hand));
    let hand = hand.map_or_else(|| "no".to_owned(), |i| format!("arbor {}", i + 1));
    let shown = print::trimmed(&print::significant(off.value(), 4));
    vec![
        Cell::word(s.train.to_string()),
        Cell::as_text(&off, shown),
        Cell::word(hand),
        Cell::word(s.reason.clone()),
    ]
}
/// How the maker's own train fares.
fn own(g: &Given<'_>, text: &str, wanted: &Wanted, wishes: &[Wish], top: &Scored) -> Result<String, Trouble> {
    let stages = stages_from(text).map_err(|e| g.trouble("train", e))?;
    // Of several escape wheels the one with which it is in the list, else the first.
    let with = |escape| Train { stages: stages.clone(), escape };
    let fits = wanted.escape.iter().map(|e| with(Some(*e))).find(|t| wanted.refuses(t).is_empty());
    let mine = fits.unwrap_or_else(|| with(wanted.escape.first().copied()));
    let refused = wanted.refuses(&mine);
    if !refused.is_empty() {
        return Ok(format!("not in the list: {}", refused.join("; ")));
    }
    if (mine.wheels(), mine.pinions(), mine.escape)
        == (top.train.wheels(), top.train.pinions(), top.train.escape)
    {
        return Ok("in the list, and the best".to_owned());
    }
    let figures = wishes.iter().map(|w| w.figure(&mine.stages, mine.escape, wanted));
    let figures: Vec<Fraction> =
        figures.collect::<Option<_>>().ok_or_else(|| g.trouble("train", "its error has too many digits"))?;
    let parts = wishes.iter().zip(top.figures.iter().zip(&figures)).find(|(_, (a, b))| a != b);
    Ok(match parts {
        Some((wish, (a, b))) => format!("in the list, behind {}: {}", top.train, wish.reason(*a, *b)),
        None => format!("in the list, equal to {} in all that is wished", top.train),
    })
}
