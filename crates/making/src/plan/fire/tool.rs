//! Heat of a tool that the shop makes for itself: its edge end hardened, then drawn back to the colour of its work.

use super::fired;
use crate::plan::jig::{Drawing, Flat};
use crate::plan::{Figure, Operation, sentence};
use reckon::{Book, Length, Place, Val};
use record::facts::Shop;
use tables::material::Material;

/// What is hardened of a tool.
pub struct Tool<'a> {
    /// As it stands in dotted names.
    pub slug: &'a str,
    /// Its steel.
    pub material: &'static Material,
    /// Width and height of its blank.
    pub blank: (Val<Length>, Val<Length>),
    /// Where the part that needs it is written.
    pub at: Place,
}
/// Hardening and tempering of a tool's edge end, as on the sheets of parts, all on the tool's own page.
pub fn hardened(tool: &Tool<'_>, shop: &Shop, book: &mut Book) -> Vec<Operation> {
    let slug = format!("{}.edge_end", tool.slug);
    let mut board = Drawing::new(slug, shop, tool.at.clone(), book);
    let long =
        board.assumed("long", Length::mm(20.0), "house default: the end of a tool that goes to the fire");
    let high = board.limited("high", tool.blank.1, (0.0, 0.0));
    let note = "The end of the blank that carries the edge.";
    let flat = Flat::rectangle(&mut board, "form tool", (tool.material, note), (long, tool.blank.0, high));
    let (part, _) = flat.part();
    let Some(fired) = fired(&["harden", "temper"], &part, shop, board.book) else { return Vec::new() };
    fired.heats.into_iter().map(|(_, op)| on_its_page(op, board.book)).collect()
}
/// A heat whose card is told in full where the heat stands.
fn on_its_page(mut op: Operation, book: &Book) -> Operation {
    let Some(card) = op.heat.take() else { return op };
    let known: Vec<String> = op.figures.iter().map(|f| f.label.clone()).collect();
    // A figure stands for one number; what goes from one to another is told in words.
    let one = |f: &Figure| f.id.and_then(|id| book.line(id)).is_some_and(|l| l.shown == f.text);
    let card_figures = card.large.into_iter().chain(card.own).filter(|f| !known.contains(&f.label));
    let (numbers, ranges): (Vec<Figure>, Vec<Figure>) = card_figures.partition(one);
    op.figures.extend(numbers);
    op.lines = ranges.into_iter().map(|f| format!("{}: {}.", sentence(&f.label), f.text)).collect();
    op.lines.extend(card.lines.into_iter().chain(card.also));
    let came: Vec<String> = card.strip.iter().map(|p| format!("{} at {}", p.name, p.at)).collect();
    let all_alike = card.strip.windows(2).all(|two| two[0].name == two[1].name);
    if let (true, Some(only)) = (all_alike, card.strip.first()) {
        op.lines.push(format!(
            "A bright face is {} all through this heat: no colour tells it, the thermometer does.",
            only.name
        ));
    } else if !came.is_empty() {
        let aim = card.strip.iter().find(|p| p.aim).map_or("", |p| p.name.as_str());
        op.lines.push(format!("Colours of a bright face: {}. Wanted: {aim}.", came.join(", ")));
    }
    match card.word {
        "harden" => op.lines.push("Only the tongue and a centimetre behind it are brought to the heat; quenched tongue first, straight down.".to_owned()),
        _ => op.lines.push("Without oven: top and one side bright, the shank warmed a centimetre behind the tongue; when the wanted colour reaches the edge, into the bath.".to_owned()),
    }
    op
}
