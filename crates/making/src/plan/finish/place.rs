//! Where the set-ups of finish go among those of cutting.

use crate::plan::{Held, Operation, SetUp, Spread};
use heat::order::Arrow;
use record::facts::Shop;

/// A place of work where several operations follow each other.
#[derive(Copy, Clone, PartialEq, Eq)]
enum Station {
    Paper,
    Hearth,
    Lathe,
    Laps,
    Blueing,
    Clean,
    Out,
}
fn station(does: &str, blued: bool) -> Station {
    match does {
        "pre-finish" => Station::Paper,
        "finish turn" | "burnish" => Station::Lathe,
        "polish" | "grain" | "snail" | "frost" => Station::Laps,
        "degrease" | "blue" | "oil" if blued => Station::Blueing,
        "gild" | "plate" => Station::Out,
        "degrease" | "oil" | "lacquer" | "wax" | "silver" => Station::Clean,
        _ => Station::Hearth,
    }
}
/// Puts operations, which are in their order, among set-ups.
///
/// Each goes as late as the rules let it: before the first set-up that has to come after it, or at the end.
pub(super) fn place(
    setups: &mut Vec<SetUp>,
    operations: Vec<(&'static str, Operation)>,
    kept: &[Arrow],
    shop: &Shop,
) {
    let comes_after = |setup: &SetUp, w: &str| {
        setup
            .operations
            .iter()
            .flat_map(|o| &o.does)
            .any(|d| kept.iter().any(|a| a.hard && a.first == w && a.then == *d))
    };
    let mut bound = setups.len();
    let mut at = Vec::new();
    for (w, _) in operations.iter().rev() {
        bound = setups.iter().take(bound).position(|s| comes_after(s, w)).unwrap_or(bound);
        at.push(bound);
    }
    at.reverse();
    let blued = operations.iter().any(|(w, _)| *w == "blue");
    let old = std::mem::take(setups);
    let mut new = operations.into_iter().zip(at).peekable();
    let mut stands: Option<Station> = None;
    for (i, s) in old.into_iter().map(Some).chain([None]).enumerate() {
        while let Some(((does, op), _)) = new.next_if(|(_, at)| *at == i) {
            let here = station(does, blued);
            match setups.last_mut().filter(|_| stands == Some(here)) {
                Some(last) => {
                    if here == Station::Laps {
                        last.title = format!("{}, {}", last.title, op.title.to_lowercase());
                    }
                    last.operations.push(op);
                }
                None => {
                    let title = (here == Station::Laps).then(|| op.title.to_lowercase());
                    let empty = empty(here, shop);
                    let title = title.unwrap_or_else(|| empty.title.clone());
                    setups.push(SetUp { operations: vec![op], title, ..empty });
                }
            }
            stands = Some(here);
        }
        if let Some(s) = s {
            setups.push(s);
            stands = None;
        }
    }
}
fn empty(station: Station, shop: &Shop) -> SetUp {
    let lathe = || shop.lathes.first().map_or("lathe".to_owned(), |l| l.name.clone());
    let bench = || "bench".to_owned();
    let (title, machine, by, minutes) = match station {
        Station::Paper => {
            ("papered before the heat", bench(), "on a flat stick or in a pin chuck, paper on glass", 3.0)
        }
        Station::Hearth => ("heat", "hearth".to_owned(), "iron wire or a perforated tray; tongs", 15.0),
        Station::Lathe => {
            ("fits and pivots", lathe(), "between centres or in a true collet, gripped on the body", 10.0)
        }
        Station::Laps => (
            "polished and grained",
            "finishing bench".to_owned(),
            "flat on a cork or brass block, or on a stick",
            8.0,
        ),
        Station::Blueing => (
            "clean and blue",
            "clean bench and hot tray".to_owned(),
            "by clean tweezers, never by the fingers",
            10.0,
        ),
        Station::Clean => ("clean finish", "clean bench".to_owned(), "by its edges, in clean gloves", 8.0),
        Station::Out => ("sent out", "another shop".to_owned(), "wrapped singly in acid-free tissue", 10.0),
    };
    SetUp {
        title: title.to_owned(),
        machine,
        held: Held { by: by.to_owned(), lines: Vec::new(), deepest: None, overhang: None },
        operations: Vec::new(),
        time: Spread::around(minutes),
    }
}
