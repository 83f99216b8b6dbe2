//! A fusee: the even torque, its radii, chain, height and profile.

use super::{Run, SpringDesign};
use power::fusee::{self as kernel, Fusee};
use reckon::source::HOUSE;
use reckon::{Book, Cell, Force, Id, Length, Ratio, Torque, Trouble, Val, judge, maths, work};
use record::facts;

/// A turn, in radians.
const TURN: f64 = 2.0 * maths::PI;
/// Rows of the profile for each turn.
const ROWS: u32 = 2;

/// The fusee as decided.
#[derive(Clone, Debug)]
pub struct FuseeDesign {
    /// The cone as the kernels take it: millimetres, newton millimetres.
    pub cone: Fusee,
    /// The even torque.
    pub torque: Val<Torque>,
    /// Radius of the line of pull at the large end.
    pub large: Val<Length>,
    /// The same at the small end.
    pub small: Val<Length>,
    /// Radius to the bottom of the groove at the large end.
    pub groove_large: Val<Length>,
    /// The same at the small end.
    pub groove_small: Val<Length>,
    /// Pitch of the groove.
    pub pitch: Val<Length>,
    /// Turns of the groove.
    pub turns: Val<Ratio>,
    /// Height of the grooved part.
    pub height: Val<Length>,
    /// Chain between barrel and cone.
    pub chain: Val<Length>,
    /// Greatest pull of the chain.
    pub pull: Val<Force>,
    /// Thickness of the chain.
    pub thick: Val<Length>,
    /// Table of the profile.
    pub profile: Id,
}

pub(super) fn fusee(
    f: &facts::Fusee,
    s: &SpringDesign,
    run: Run,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
    told: &mut Vec<(&'static str, Id)>,
) -> Option<FuseeDesign> {
    let (turns, wound, set_up, chain, gap) = (f.turns, f.barrel_turns, f.set_up, f.chain, f.gap);
    let needed = run.with_reserve;
    if turns.bare().value() < needed.bare().value() - 1e-6 {
        troubles.push(
            Trouble::design("the fusee has too few turns for the run")
                .at(f.at.clone())
                .why(format!(
                    "the run and the turns in hand take {}, and its groove has {}",
                    needed.shown(),
                    turns.shown()
                ))
                .cure(format!("turns = {}", reckon::print::significant(needed.bare().value().ceil(), 4)))
                .cure("a slower great wheel, or a shorter run"),
        );
        return None;
    }
    let available = s.available;
    let used = work!(book, "drive.fusee.barrel_turns_used", |wound, set_up| wound + set_up, &HOUSE);
    if used.bare() > available.bare() {
        troubles.push(
            Trouble::design("the barrel cannot turn often enough for the fusee")
                .at(f.at.clone())
                .why(format!(
                    "{} turns with the set-up, and the spring gives {}",
                    used.shown(),
                    available.shown()
                ))
                .cure("fewer turns of the barrel, less set-up, or a thinner and longer spring"),
        );
        return None;
    }
    let (full, per_turn) = (s.full, s.per_turn);
    let model = work!(
        book,
        "drive.fusee.spring_at_set_up",
        |full, per_turn, available, set_up| full - per_turn * (available - set_up),
        &power::spring::PER_TURN
    );
    let (start, gains) = f.line.unwrap_or((model, per_turn));
    if f.line.is_some() {
        let end_model = work!(
            book,
            "drive.fusee.spring_wound",
            |model, per_turn, wound| model + per_turn * wound,
            &power::spring::PER_TURN
        );
        let end = work!(
            book,
            "drive.fusee.line_wound",
            |start, gains, wound| start + gains * wound,
            &power::spring::PER_TURN
        );
        let agrees = judge!(
            book,
            "drive.fusee.line_agrees",
            "the barrel's torque is that of the line which the cone was reckoned from, within a tenth",
            |start, model, end, end_model| (start - model).abs() <= model * 0.1
                && (end - end_model).abs() <= end_model * 0.1,
            &kernel::MEASURED
        );
        if !agrees.bare() {
            let cure = format!(
                "measure the spring in its barrel and write the line anew; its sizes give {} when set up and {} a turn",
                model.shown(),
                per_turn.shown()
            );
            book.cure(agrees.id(), cure);
        }
    }
    let barrel = s_outside(f, s, book);
    let cone = Fusee {
        at_set_up: start.bare().value() * 1000.0,
        per_radian: gains.bare().value() * 1000.0 / TURN,
        wound: wound.bare().value() * TURN,
        barrel: barrel.bare().in_mm(),
        theta: turns.bare().value() * TURN,
    };
    let ids = || vec![start.id(), gains.id(), wound.id(), turns.id(), barrel.id()];
    let put = |name: &str, x: f64, book: &mut Book| {
        let how = ("chain force times radius held even, in closed form", 1, 0.0);
        book.solved(format_args!("drive.fusee.{name}"), Length::mm(x), how, ids(), &kernel::CONE)
    };
    let large = put("radius_large", cone.radius(0.0), book);
    let small = put("radius_small", cone.radius(cone.theta), book);
    let length = put("chain_length", cone.chain(), book);
    let groove_large =
        work!(book, "drive.fusee.groove_large", |large, chain| large - chain / 2.0, &kernel::CONE);
    let groove_small =
        work!(book, "drive.fusee.groove_small", |small, chain| small - chain / 2.0, &kernel::CONE);
    let how = || ("work of the spring over the turns of the cone", 1, 0.0);
    let torque =
        book.solved("drive.fusee.torque", Torque::si(cone.torque() / 1000.0), how(), ids(), &kernel::CONE);
    let pull = book.solved("drive.fusee.pull", Force::si(cone.pull(cone.theta)), how(), ids(), &kernel::CONE);
    let pitch = work!(book, "drive.fusee.pitch", |chain, gap| chain + gap, &kernel::GROOVE);
    let height = work!(book, "drive.fusee.height", |pitch, turns| pitch * turns, &kernel::GROOVE);
    let whole = turns.bare().value().ceil().clamp(1.0, 60.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 60")]
    let steps = whole as u32 * ROWS;
    let rows = cone
        .profile(pitch.bare().in_mm(), chain.bare().in_mm(), steps)
        .into_iter()
        .map(|r| {
            let turn = r.theta / TURN;
            vec![
                Cell::as_text(&Ratio::si(turn), reckon::print::significant(turn, 4)),
                Cell::of(&Length::mm(r.along)),
                Cell::of(&Length::mm(r.radius)),
                Cell::of(&Length::mm(r.groove)),
            ]
        })
        .collect();
    let columns = ["turn", "along the axis", "line of pull, radius", "bottom of the groove, radius"];
    let mut all = ids();
    all.extend([pitch.id(), chain.id()]);
    let rule = "from the large end, chain unwound, to the small end, fully wound";
    let profile = book.table("drive.fusee.profile", &columns, rows, rule, all, &kernel::CONE);
    told.extend([
        ("spring when set up", start.id()),
        ("what it gains each turn", gains.id()),
        ("even torque of the fusee", torque.id()),
        ("radius of pull, large end", large.id()),
        ("radius of pull, small end", small.id()),
        ("pitch of the groove", pitch.id()),
        ("height of the groove", height.id()),
        ("chain between barrel and cone, hooks not counted", length.id()),
        ("greatest pull of the chain", pull.id()),
    ]);
    Some(FuseeDesign {
        cone,
        torque,
        large,
        small,
        groove_large,
        groove_small,
        pitch,
        turns,
        height,
        chain: length,
        pull,
        thick: chain,
        profile,
    })
}
/// Radius at which the chain leaves the barrel.
fn s_outside(f: &facts::Fusee, s: &SpringDesign, book: &mut Book) -> Val<Length> {
    let (outside, chain) = (s.outside, f.chain);
    work!(book, "drive.fusee.barrel_radius", |outside, chain| (outside.across() + chain) / 2.0, &kernel::CONE)
}
