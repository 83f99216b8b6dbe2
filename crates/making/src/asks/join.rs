//! Joints: pressed, bonded, soldered, riveted; which heat undoes what.

use super::{Done, ask, more, need, one_of, or, some};
use crate::kernel::join::{self, Way};
use reckon::{
    Ask, Book, Diameter, Force, Given, Length, Param, Pressure, Ratio, Temperature, Trouble, Val, judge, work,
};

const ACROSS: Param = need("diameter", "of the seat");
const LENGTH: Param = need("length", "of the seat");
const WAY: Param = need("by", "rivet, press, adhesive, soft solder, silver solder or shellac");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "join.press",
        "a ring pressed on a solid round: pressure, force to press, torque that slips, stress at its bore",
        &[
            need("interference", "on the diameter"),
            ACROSS,
            LENGTH,
            need("outside", "of the ring"),
            or("friction", "0.12", "steel in brass"),
            or("rough", "0 mm", "height of roughness of each"),
            or("ring_modulus", "100 GPa", "of the ring"),
            or("ring_poisson", "0.34", "of the ring"),
            or("round_modulus", "205 GPa", "of what is pressed in"),
            or("round_poisson", "0.29", "of what is pressed in"),
            or("proof", "250 N/mm2", "proof stress of the ring"),
        ],
        &["left", "pressure", "force", "holds", "stress", "bears"],
        r#"interference="0.01 mm" diameter="4 mm" length="5 mm" outside="10 mm""#,
        press,
    ),
    ask(
        "join.bond",
        "what a bonded or soldered seat holds for good, from and to",
        &[WAY, ACROSS, LENGTH, or("play", "0.03 mm", "on the diameter")],
        &["least_shear", "most_shear", "holds_least", "holds_most", "pulls_least", "fits"],
        r#"by="adhesive" diameter="6 mm" length="5 mm""#,
        bond,
    ),
    ask(
        "join.rivet",
        "a seat riveted over: chamfer that fills, torque by friction and by two nicks",
        &[
            need("over", "metal standing over"),
            ACROSS,
            or("bore", "0 mm", "through the seat"),
            or("nick", "0.5 mm", "width of each of two nicks"),
            or("proof", "250 N/mm2", "proof stress of what is spread"),
        ],
        &["filled", "clamp", "nicks", "holds"],
        r#"over="0.3 mm" diameter="8 mm" bore="6 mm""#,
        rivet,
    ),
    ask(
        "join.heat",
        "whether a way of joining undoes a temper",
        &[WAY, need("tempered", "what gets hot was tempered, or blued, at")],
        &["heat", "limit", "spares"],
        r#"by="soft solder" tempered="270 C""#,
        heat,
    ),
];
fn way(g: &Given<'_>) -> Result<Way, Trouble> {
    one_of(g, "by", &join::WAYS.map(|w| (w.word(), w)))
}
fn press(g: &Given<'_>, book: &mut Book) -> Done {
    let interference: Val<Length> = more(g, book, "interference")?;
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let long: Val<Length> = more(g, book, "length")?;
    let around: Val<Diameter> = more(g, book, "outside")?;
    if around.bare() <= d.bare() {
        return Err(g.trouble("outside", "the ring is larger than its bore"));
    }
    let rubs: Val<Ratio> = some(g, book, "friction")?;
    let rough: Val<Length> = some(g, book, "rough")?;
    let hub: Val<Pressure> = more(g, book, "ring_modulus")?;
    let hub_nu: Val<Ratio> = some(g, book, "ring_poisson")?;
    let round: Val<Pressure> = more(g, book, "round_modulus")?;
    let round_nu: Val<Ratio> = some(g, book, "round_poisson")?;
    let yields: Val<Pressure> = more(g, book, "proof")?;
    let left = work!(
        book,
        "left",
        |interference, rough| join::smoothed(interference, rough, rough).max(Length::ZERO),
        &join::SMOOTHED
    );
    let p = work!(
        book,
        "pressure",
        |left, d, around, hub, hub_nu, round, round_nu| join::press(
            left,
            d,
            around,
            (hub, hub_nu),
            (round, round_nu)
        ),
        &join::PRESS
    );
    let force: Val<Force> =
        work!(book, "force", |p, d, long, rubs| join::on_cylinder(p, d, long) * rubs.value(), &join::PRESS);
    work!(book, "holds", |force, d| join::turning(force, d), &join::PRESS);
    let stress = work!(book, "stress", |p, d, around| p * join::ring_factor(d, around).value(), &join::HOOP);
    let v = judge!(
        book,
        "bears",
        "the ring stays elastic, with a fifth to spare",
        |stress, yields| stress <= yields * 0.8,
        &join::HOOP
    );
    book.cure(v.id(), "less interference, or adhesive in a sliding fit");
    Ok(())
}
fn bond(g: &Given<'_>, book: &mut Book) -> Done {
    let way = way(g)?;
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let long: Val<Length> = more(g, book, "length")?;
    let play: Val<Length> = some(g, book, "play")?;
    let Some((low, high)) = way.shear() else {
        return Err(g.trouble("by", "that holds by friction, not by a bond: ask join.press or join.rivet"));
    };
    let low = book.tabled("least_shear", low, way.word(), &join::HOLDS);
    let high = book.tabled("most_shear", high, way.word(), &join::HOLDS);
    work!(
        book,
        "holds_least",
        |low, d, long| join::turning(join::on_cylinder(low, d, long), d),
        &join::SHEAR
    );
    work!(
        book,
        "holds_most",
        |high, d, long| join::turning(join::on_cylinder(high, d, long), d),
        &join::SHEAR
    );
    work!(book, "pulls_least", |low, d, long| join::on_cylinder(low, d, long), &join::SHEAR);
    let (a, b) = way.gap();
    let least = book.tabled("play_least", a, way.word(), &join::GAPS);
    let most = book.tabled("play_most", b, way.word(), &join::GAPS);
    let v = judge!(
        book,
        "fits",
        "it fills this play",
        |play, least, most| play >= least && play <= most,
        &join::GAPS
    );
    book.cure(v.id(), "another fit, or another way of joining");
    Ok(())
}
fn rivet(g: &Given<'_>, book: &mut Book) -> Done {
    let over: Val<Length> = more(g, book, "over")?;
    let d: Val<Diameter> = more(g, book, "diameter")?;
    let bore: Val<Diameter> = some(g, book, "bore")?;
    if bore.bare() >= d.bare() {
        return Err(g.trouble("bore", "the bore is smaller than the seat"));
    }
    let wide: Val<Length> = more(g, book, "nick")?;
    let stress: Val<Pressure> = more(g, book, "proof")?;
    work!(book, "filled", |over, d, bore| join::filled(over, d, bore), &join::RIVET);
    let clamp = work!(book, "clamp", |stress, d, bore| join::clamp(stress, d, bore), &join::RIVET);
    let nicks =
        work!(book, "nicks", |stress, wide, over, d| join::nicks(stress, wide, over, d), &join::RIVET);
    work!(book, "holds", |clamp, nicks| clamp + nicks, &join::RIVET);
    Ok(())
}
fn heat(g: &Given<'_>, book: &mut Book) -> Done {
    let way = way(g)?;
    let tempered: Val<Temperature> = more(g, book, "tempered")?;
    let room = Temperature::si(293.15);
    let heat = book.tabled("heat", way.heat().unwrap_or(room), way.word(), &join::HEATS);
    let limit = work!(
        book,
        "limit",
        |tempered| Temperature::si(tempered.value() - 20.0),
        &crate::plan::joining::UNDONE
    );
    let v = judge!(
        book,
        "spares",
        "what was tempered keeps its hardness",
        |heat, limit| heat <= limit,
        &crate::plan::joining::UNDONE
    );
    book.cure(v.id(), "adhesive, or a rivet");
    Ok(())
}
