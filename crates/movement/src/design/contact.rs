//! What happens where wheels and pinions meet: where teeth take over, how evenly they drive, what friction
//! takes, and how deep to plant them.

use super::model::{Contact, MeshSizes, Train};
use super::teeth::{form, n, profile, rack};
use ::teeth::contact::{self, Driven, Driver, House, Pair};
use ::teeth::curve::{Lantern, Leaf, Wheel};
use reckon::source::Source;
use reckon::{Angle, Book, Length, Ratio, Trouble, judge};
use record::facts::{MovementFacts, ToothForm};

/// Contact is followed tooth by tooth.
pub static CONTACT: Source = Source::derived(
    "flanks followed through the mesh: the tooth that demands most of the pinion drives; force at the angle of friction",
);
/// Limits of depth.
pub static DEPTH: Source = Source::practice(
    "a pair runs while it keeps play 0.05 m, room 0.1 m under its tips, four fifths of its torque, and a tooth at work",
);

/// Modules by which a layout may be off before it is told as wrong there, and not here.
pub(super) const MISPLANTED: f64 = 0.2;
/// The same for a wheel that is made and measured.
const MISMADE: f64 = 0.6;

/// The pair as the kernel takes it.
pub(super) fn pair(s: &MeshSizes) -> Option<Pair> {
    let (teeth, leaves) = (n(s.wheel.count.bare()), n(s.pinion.count.bare()));
    if s.form == ToothForm::Involute {
        let (wheel, pinion) = rack(teeth, leaves);
        return Some(Pair::new(&Driver::Involute(wheel), Driven::Involute(pinion)));
    }
    let wheel = Wheel::new(teeth, leaves, form(s)).ok()?;
    let driven = match s.pin {
        Some(pin) => {
            Driven::Lantern(Lantern::new(leaves, (pin.bare().across() / s.module.bare()).value() / 2.0).ok()?)
        }
        None => Driven::Leaf(Leaf::new(leaves, profile(s.top), wheel.addendum()).ok()?),
    };
    Some(Pair::new(&Driver::Wheel(wheel), driven))
}
/// Contact in every pair, at the distance that it is planted at.
pub(super) fn contact(t: &mut Train, facts: &MovementFacts, book: &mut Book, troubles: &mut Vec<Trouble>) {
    let friction = facts.losses.friction;
    let mu = [friction.low, friction.likely, friction.high];
    let jobs: Vec<Option<Pair>> = t.meshes.iter().map(|m| m.sizes.as_ref().and_then(pair)).collect();
    let planted = |m: &super::Mesh| {
        let s = m.sizes.as_ref()?;
        let off = m.laid.map_or(Length::ZERO, |l| l.bare() - s.centres.bare());
        let off = (off / s.module.bare()).value();
        // A pair that is planted wrong is told of in the layout; teeth that hardly meet tell nothing more.
        // Teeth that were measured are followed as far as they may still reach each other.
        let most = if s.sits.is_some() { MISMADE } else { MISPLANTED };
        (off.abs() <= most).then_some(off)
    };
    let worked: Vec<_> = std::thread::scope(|scope| {
        let running: Vec<_> = t
            .meshes
            .iter()
            .zip(&jobs)
            .map(|(m, pair)| {
                let off = planted(m);
                scope.spawn(move || {
                    let (pair, off) = (pair.as_ref()?, off?);
                    let house = House { mu: mu[1].bare().value(), ..House::default() };
                    let depth = contact::depth_within(pair, &house, -0.3, 0.4);
                    let runs = mu.map(|mu| contact::run(pair, off, mu.bare().value()));
                    Some((depth, runs))
                })
            })
            .collect();
        running.into_iter().map(|r| r.join().ok().flatten()).collect()
    });
    for (i, found) in worked.into_iter().enumerate() {
        let Some((depth, [low, likely, high])) = found else { continue };
        let m = &t.meshes[i];
        let (Some(s), slug) = (&m.sizes, m.slug.clone()) else { continue };
        let name = t.arbors[m.driver].facts.name.clone();
        let place = t.arbors[m.driver].facts.wheel.as_ref().map(|w| w.at.clone());
        let (Ok(low), Ok(likely), Ok(high)) = (low, likely, high) else {
            if s.sits.is_some() {
                continue;
            }
            troubles.push(
                Trouble::design(format!(
                    "the teeth of '{name}' let go of the pinion before the next take over"
                ))
                .at(place)
                .why("at the distance at which they stand, no tooth drives for a part of each pitch")
                .cure("a smaller distance of centres, or more leaves"),
            );
            continue;
        };
        let depth = match depth {
            Ok(d) => d,
            Err(why) => {
                troubles.push(
                    Trouble::design(format!("the wheel of '{name}' drives its pinion well at no distance"))
                        .at(place)
                        .why(why.to_string())
                        .cure("more leaves, or another form of tooth"),
                );
                continue;
            }
        };
        let mut inputs = vec![s.module.id(), s.wheel.outside.id(), s.pinion.outside.id(), s.centres.id()];
        inputs.extend(m.laid.map(|l| l.id()));
        inputs.extend(mu.map(|m| m.id()));
        let mut enter = Enter { book, slug: format!("{slug}.contact"), inputs };
        let ratio = |v: f64| Ratio::si(v);
        let module = s.module.bare();
        let at = |off: f64| s.centres.bare() + module * off;
        let start = enter.put("start", Angle::si(likely.start));
        let error = enter.put("error", Angle::si(likely.transmission_error));
        let efficiency = enter.put("efficiency", ratio(likely.efficiency));
        let worst = enter.put("efficiency_at_highest_friction", ratio(high.efficiency));
        let best = enter.put("efficiency_at_lowest_friction", ratio(low.efficiency));
        let least_torque = enter.put("least_torque", ratio(likely.torque.0));
        enter.put("backlash", module * likely.backlash);
        let set = enter.put("centres_to_plant", at(depth.set.offset));
        let felt = enter.put("centres_felt_smoothest", at(depth.felt.offset));
        let deepest = enter.put("centres_nearest", at(depth.deepest.0));
        let shallowest = enter.put("centres_farthest", at(depth.shallowest.0));
        let says = contact::behaviour(&likely).says();
        enter.put("behaviour", says.to_owned());
        let planted = m.laid.unwrap_or(s.centres);
        let verdict = judge!(
            book,
            format_args!("{slug}.contact.runs"),
            format!("the teeth of '{name}' run at their distance of centres"),
            |planted, deepest, shallowest| planted >= deepest && planted <= shallowest,
            &DEPTH
        );
        if !verdict.bare() {
            let why = if planted.bare() < deepest.bare() { depth.deepest.1 } else { depth.shallowest.1 };
            book.cure(verdict.id(), format!("plant them {} apart ({why})", set.shown()));
        }
        let contact = Contact {
            start,
            error,
            efficiency,
            efficiency_range: (worst, best),
            least_torque,
            set,
            felt,
            runs: (deepest, shallowest),
            says,
        };
        if let Some(s) = &mut t.meshes[i].sizes {
            s.contact = Some(contact);
        }
    }
}
/// Enters what the kernel found.
struct Enter<'a> {
    book: &'a mut Book,
    slug: String,
    inputs: Vec<reckon::Id>,
}
impl Enter<'_> {
    fn put<T: reckon::Shown>(&mut self, name: &str, v: T) -> reckon::Val<T> {
        let how = ("flanks followed over one pitch, 48 places", 48, 0.0);
        self.book.solved(format_args!("{}.{name}", self.slug), v, how, self.inputs.clone(), &CONTACT)
    }
}
