//! The work itself, from texts to parts and sheets: the one door to the crates below.

use crate::args::SchemaOf;
use crate::enter::kept::Known;
use crate::folder::{Folder, Text};
use crate::told;
use going::Model;
use going::forecast::Forecast;
use making::plan::Making;
use movement::design::Movement;
use movement::part::{Body, Part};
use reckon::workings::readable;
use reckon::{Ask, Book, Kind, LengthStyle, Line, Origin, Place, Trouble};
use record::Project;
use serde_json::Value;
use sheets::Typecase;
use sheets::packet::Contents;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A part as a list shows it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// As written.
    pub name: String,
    /// As it stands in dotted names.
    pub slug: String,
    /// One or two words.
    pub kind: &'static str,
    /// How many.
    pub count: String,
    /// Over all.
    pub size: String,
    /// What it is made of.
    pub material: String,
    /// Heat and finish, in order.
    pub finish: Vec<&'static str>,
    /// Where it is written.
    pub at: Place,
}
/// What came of a project.
#[derive(Debug)]
pub struct Work {
    /// Every number.
    pub book: Book,
    /// What was written; none while a trouble of the texts stands.
    pub project: Option<Project>,
    /// Every part that could be computed.
    pub parts: Vec<Part>,
    /// The movement as decided; none where nothing is written of one.
    pub movement: Option<Movement>,
    /// How they are made; none without a design and a shop.
    pub making: Option<Making>,
    /// The movement in simulation, once it was let go.
    pub going: Option<(Model, Forecast)>,
    /// What is wrong, in order.
    pub troubles: Vec<Trouble>,
    /// Short mark of the texts and of this program's version: the same texts, the same mark.
    pub state: String,
    /// What the journals say of it.
    pub known: Known,
    /// Verdicts that were in the book before it was known how the parts are made: what fails here is the design.
    designed: BTreeSet<String>,
}

/// Every question of the handbook.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    let mut all = tables::asks();
    for more in [
        teeth::asks(),
        train::asks(),
        escapement::asks(),
        pendulum::asks(),
        power::asks(),
        going::asks(),
        heat::asks(),
        proof::asks(),
        listen::asks(),
        making::asks(),
    ] {
        all.extend(more);
    }
    all
}
/// The schema of a text.
#[must_use]
pub fn schema(of: SchemaOf) -> Value {
    record::schema(match of {
        SchemaOf::Clock => record::Which::Clock,
        SchemaOf::Shop => record::Which::Shop,
    })
}

/// Beats in an hour and the wheels of a project with the times of their turns, for whoever hears them.
#[must_use]
pub fn turns(work: &Work) -> (Option<f64>, Vec<listen::Wheel>) {
    let Some(m) = &work.movement else { return (None, Vec::new()) };
    let beats = m.train.exact_beats.map(reckon::exact::Fraction::to_f64).filter(|b| *b > 0.0);
    let wheels = m.train.arbors.iter().filter_map(|a| {
        let period = a.exact?.to_f64().abs();
        (period > 0.0).then(|| listen::Wheel { name: a.facts.name.clone(), period })
    });
    (beats, wheels.collect())
}

/// What the texts say that a search for counts leans on.
#[derive(Debug, Default)]
pub struct Facts {
    /// Beats in an hour.
    pub beats: Option<u32>,
    /// Teeth of the escape wheel.
    pub escape_teeth: Option<u32>,
    /// Fewest leaves.
    pub least_leaves: Option<u32>,
    /// Dividing head.
    pub head: Option<train::dividing::Head>,
}
impl Facts {
    /// Reads them; a text with troubles gives what can be had all the same.
    #[must_use]
    pub fn of(folder: &Folder) -> Facts {
        let mut book = Book::off();
        let clock = folder.clock.as_ref().map(as_text);
        let shop = folder.shop.as_ref().map(as_text);
        let Some(project) = record::read(clock.as_ref(), shop.as_ref(), &mut book).facts else {
            return Facts::default();
        };
        let movement = project.clock.and_then(|c| c.movement);
        let wanted = movement.as_ref().and_then(|m| m.wanted.as_ref());
        let escapement = movement.as_ref().and_then(|m| m.escapement.as_ref());
        let head = project.shop.as_ref().and_then(head);
        Facts {
            beats: wanted.and_then(|w| w.beats).and_then(small),
            escape_teeth: escapement.and_then(|e| small(e.teeth)),
            least_leaves: wanted.and_then(|w| small(w.least_leaves)),
            head,
        }
    }
}

/// A count as the kernels take it.
fn small(n: reckon::Val<reckon::Count>) -> Option<u32> {
    u32::try_from(n.bare().0).ok()
}
/// The dividing head of a shop, as the kernel takes it.
fn head(shop: &record::Shop) -> Option<train::dividing::Head> {
    let d = shop.dividing.as_ref()?;
    let circles = d.plates.iter().flatten().filter_map(|n| small(*n)).collect();
    Some(train::dividing::Head { ratio: small(d.ratio)?, circles, direct: Vec::new() })
}
/// Counts that the shop cannot divide, where other troubles keep the planner from telling; with the train
/// nearest to what was written that it can.
fn undividable(clock: &record::Clock, shop: &record::Shop) -> Vec<Trouble> {
    let (Some(head), Some(m)) = (head(shop), &clock.movement) else { return Vec::new() };
    let wheels = m.arbors.iter().filter_map(|a| Some((a, a.wheel.as_ref()?)));
    let mut all = Vec::new();
    for (a, w) in wheels {
        let Some(n) = small(w.teeth).filter(|n| !head.divides(*n)) else { continue };
        let mut t = Trouble::error(
            Kind::Unmakeable,
            format!(
                "{n} teeth for the wheel of '{}' cannot be divided on the dividing head of this shop",
                a.name
            ),
        )
        .at(w.teeth_at.clone())
        .why(format!("no circle of its plates gives {} turns over {n} in whole holes", head.ratio));
        if let Some(train) = other_train(m, &head) {
            t = t.cure(format!("{train} gives the same beats, and can be divided"));
        }
        all.push(t.cure("all trains that it can divide: brasswright counts"));
    }
    all
}
/// The best train of the written leaves that gives the wanted beats and can be divided.
fn other_train(m: &record::facts::MovementFacts, head: &train::dividing::Head) -> Option<String> {
    use train::search::{Target, Wanted, best, going_wishes};
    let beats = m.wanted.as_ref()?.beats?.bare().0;
    let escape = m.escapement.as_ref().and_then(|e| small(e.teeth))?;
    let leaves: BTreeSet<u32> = m.arbors.iter().filter_map(|a| small(a.pinion.as_ref()?.leaves)).collect();
    let can: BTreeSet<u32> = (6..=150).filter(|n| head.divides(*n)).collect();
    let wanted = Wanted {
        escape: vec![escape],
        only: Some(can.clone()),
        ..Wanted::new(Target::exact(beats), 2, 40..=150, leaves)
    };
    let found = best(&wanted, &going_wishes(Some(can), 8), 1, &mut |_| true).ok()?;
    Some(found.best.first()?.train.to_string())
}

impl Work {
    /// Works a project out as far as its texts allow.
    #[must_use]
    pub fn out(folder: &Folder) -> Work {
        Work::after(folder, None)
    }
    /// The same as things stood after an entry of the journal.
    #[must_use]
    pub fn after(folder: &Folder, entry: Option<u64>) -> Work {
        Work::with(folder, Known::of(folder, entry))
    }
    /// The same with what is known of its sizes.
    #[must_use]
    pub fn with(folder: &Folder, known: Known) -> Work {
        let mut book = Book::knowing(known.actuals.clone());
        let clock = folder.clock.as_ref().map(as_text);
        let shop = folder.shop.as_ref().map(as_text);
        let read = record::read(clock.as_ref(), shop.as_ref(), &mut book);
        let mut troubles = read.troubles;
        troubles.extend(known.troubles.iter().cloned());
        let mut parts = Vec::new();
        let mut movement = None;
        if let Some(clock) = read.facts.as_ref().and_then(|p| p.clock.as_ref()) {
            let (found, more) = movement::hardware::parts(clock, &mut book);
            parts = found;
            troubles.extend(more);
            let (decided, more) = movement::design::movement(clock, &mut book);
            troubles.extend(more);
            if let Some(m) = &decided
                && !troubles.iter().any(Trouble::stops)
            {
                let (found, more) = movement::made::parts(m, clock, &mut book);
                parts.extend(found);
                troubles.extend(more);
            }
            movement = decided;
        }
        let designed = book.verdicts().map(|l| l.name.clone()).collect();
        let both = read.facts.as_ref().and_then(|p| Some((p.clock.as_ref()?, p.shop.as_ref()?)));
        if let (Some((clock, shop)), true) = (both, troubles.iter().any(Trouble::stops)) {
            troubles.extend(undividable(clock, shop));
        }
        let making = both.map(|(clock, shop)| {
            let joints =
                movement.as_ref().map(|m| movement::joint::joints(m, &parts, &mut book)).unwrap_or_default();
            // A movement also needs what nobody makes.
            let bought =
                clock.movement.as_ref().map(|m| movement::made::bought(m, &book)).unwrap_or_default();
            let bought: Vec<making::plan::stock::Buy> = bought
                .into_iter()
                .map(|b| making::plan::stock::Buy { what: b.what, amount: b.amount, parts: vec![b.of] })
                .collect();
            let around = making::plan::order::Around {
                joints: &joints,
                movement: movement.as_ref(),
                clock: Some(clock),
                bought: &bought,
            };
            let (making, more) = making::plan::plan_whole(shop, &parts, &around, &mut book);
            troubles.extend(more);
            making
        });
        troubles.extend(book.faults().iter().cloned());
        if !known.actuals.is_empty() && !troubles.iter().any(Trouble::stops) {
            let entries = folder.journal.as_ref().map_or(&[][..], |j| &j.entries);
            troubles.extend(crate::enter::orphans::orphans(&known, entries, &book));
        }
        Work {
            book,
            project: read.facts,
            parts,
            movement,
            making,
            going: None,
            troubles: told::in_order(troubles),
            state: state(folder, (known.standing.after > 0).then_some(known.standing.after)),
            known,
            designed,
        }
    }
    /// Writes the programs of what is made by program: only who shows or proves them needs their texts.
    pub fn write_programs(&mut self) {
        let shop = self.project.as_ref().and_then(|p| p.shop.as_ref());
        if let (Some(making), Some(shop)) = (&mut self.making, shop) {
            self.troubles.extend(making.write_programs(shop, &self.parts));
        }
    }
    /// Works out the design alone, without how it is made: enough to let it go in simulation.
    #[must_use]
    pub fn designed(folder: &Folder) -> Work {
        Work::out(&Folder { shop: None, ..folder.clone() })
    }
    /// Lets the movement go in simulation; its numbers come into the book under `going`.
    ///
    /// # Errors
    /// What is missing, or why it cannot go at all.
    pub fn forecast(&mut self) -> Result<&(Model, Forecast), Vec<Trouble>> {
        let clock = self.project.as_ref().and_then(|p| p.clock.as_ref());
        let (Some(clock), Some(movement)) = (clock, self.movement.as_ref()) else {
            return Err(vec![
                Trouble::design("there is no movement to go")
                    .cure("write [[arbor]], [escapement], [pendulum] and a drive in clock.toml"),
            ]);
        };
        let model = Model::of(clock, movement, &mut self.book)?;
        let found = going::forecast::forecast(&model, &mut self.book);
        let own = self.book.verdicts().filter(|l| l.name.starts_with("going.")).map(|l| l.name.clone());
        self.designed.extend(own);
        Ok(self.going.insert((model, found)))
    }
    /// A verdict that does not hold, as a trouble at the place it is about.
    #[must_use]
    pub fn failing(&self, name: &str) -> Option<Trouble> {
        self.book.failing().find(|l| l.name == name).and_then(|l| self.verdict(l))
    }
    /// The parts as a list shows them.
    #[must_use]
    pub fn rows(&self) -> Vec<Row> {
        let clock = self.project.as_ref().and_then(|p| p.clock.as_ref());
        let style = clock.map(|c| c.print).unwrap_or_default();
        self.parts.iter().map(|p| row(p, style)).collect()
    }
    /// Everything to tell: troubles, and each verdict that does not hold at the part it is about.
    #[must_use]
    pub fn found(&self) -> Vec<Trouble> {
        let failing = self.book.failing().filter_map(|line| self.verdict(line));
        told::in_order(self.troubles.iter().cloned().chain(failing).collect())
    }
    fn verdict(&self, line: &Line) -> Option<Trouble> {
        let Origin::Verdict { says, formula, letters, inputs, cures, source, .. } = &line.origin else {
            return None;
        };
        let kind = if self.designed.contains(&line.name) { Kind::Design } else { Kind::Unmakeable };
        let under = |p: &&Part| line.name.strip_prefix(p.slug()).is_some_and(|rest| rest.starts_with('.'));
        // Slugs may be dotted: the longest that fits is the part.
        let about = self.parts.iter().filter(under).max_by_key(|p| p.slug().len());
        let whose = about.map_or_else(String::new, |p| format!("{} '{}': ", p.kind.word(), p.common.name));
        let values: Vec<String> = letters
            .iter()
            .zip(inputs)
            .filter_map(|(letter, id)| Some(format!("{letter} = {}", self.book.line(*id)?.shown)))
            .collect();
        // What is about no part stands at the first of its values that is written.
        let written = inputs.iter().find_map(|id| match &self.book.line(*id)?.origin {
            Origin::Written { at } => Some(at.clone()),
            _ => None,
        });
        let mut trouble = Trouble::error(kind, format!("{whose}this does not hold: {says}"))
            .at(about.map(|p| p.at().clone()).or(written))
            .why(format!("{} with {} ({})", readable(formula), values.join(", "), source.cite));
        trouble.cures.clone_from(cures);
        Some(trouble.cure(format!("see how it was had: brasswright why {}", line.name)))
    }
}
/// Four signs that stand for the texts and what was entered until an entry: letters and digits that are not mistaken for each other at the bench.
pub fn state(folder: &Folder, until: Option<u64>) -> String {
    let until = until.unwrap_or(0);
    states(folder).into_iter().take_while(|(n, _)| *n <= until).last().map_or(String::new(), |(_, s)| s)
}
/// The same after every entry that changes a figure, and before the first: number of the entry, and the signs.
pub fn states(folder: &Folder) -> Vec<(u64, String)> {
    let texts = [folder.clock.as_ref(), folder.shop.as_ref()];
    let bytes = texts.into_iter().flatten().flat_map(|t| t.bytes.iter().copied().chain([0]));
    // FNV-1a, 64 bit: small, the same everywhere, and good enough to tell two states of one project apart.
    let fold = |h: u64, b: u8| (h ^ u64::from(b)).wrapping_mul(0x0000_0100_0000_01b3);
    let mut hash = bytes.fold(0xcbf2_9ce4_8422_2325_u64, fold);
    let signs = |h: u64| signed(env!("CARGO_PKG_VERSION").bytes().fold(h, fold));
    let mut all = vec![(0, signs(hash))];
    for e in folder.journal.iter().flat_map(|j| &j.entries) {
        // A remark or a rating changes no figure of a sheet.
        if matches!(e.what.word(), "measured" | "done" | "stood" | "struck") {
            hash = e.key.bytes().chain([0]).fold(hash, fold);
            all.push((e.number, signs(hash)));
        }
    }
    all
}
/// A number as four signs.
fn signed(mut rest: u64) -> String {
    const SIGNS: &[u8; 28] = b"ABCDEFGHJKLMNPRTUVWXY2346789";
    let mut out = String::new();
    for _ in 0..4 {
        out.push(char::from(SIGNS[usize::try_from(rest % 28).unwrap_or(0)]));
        rest /= 28;
    }
    out
}
fn as_text(t: &Text) -> record::Text<'_> {
    record::Text { name: Arc::from(t.name.as_str()), bytes: &t.bytes }
}
fn row(part: &Part, style: LengthStyle) -> Row {
    let size = match &part.body {
        Body::Turned(t) => {
            format!("⌀{} × {}", style.text(t.largest.bare().across()), style.text(t.length.bare()))
        }
        Body::Flat(f) => {
            let sides = [f.extent.0.bare(), f.extent.1.bare(), f.thickness.nominal.bare()];
            sides.map(|l| style.text(l)).join(" × ")
        }
    };
    Row {
        name: part.common.name.clone(),
        slug: part.slug().to_owned(),
        kind: part.kind.word(),
        count: part.common.count.shown(),
        size,
        material: part.common.material.name.clone(),
        finish: part.common.finish.iter().map(|(f, _)| f.word()).collect(),
        at: part.at().clone(),
    }
}

/// A file of a packet: its name inside the folder, and what is in it.
pub type Sheet = (String, Vec<u8>);
/// Steps that [`packet`] tells of.
pub const STEPS: usize = 4;
/// The packet, whole in memory. `step` is told what is being worked on.
///
/// # Errors
/// Everything that stops it.
pub fn packet(
    work: &Work,
    proved: &[crate::prove::Proved],
    today: crate::day::Day,
    step: &mut dyn FnMut(&str),
) -> Result<Vec<Sheet>, Vec<Trouble>> {
    let both = work.project.as_ref().and_then(|p| Some((p.clock.as_ref()?, p.shop.as_ref()?)));
    let (Some((clock, shop)), Some(making)) = (both, work.making.as_ref()) else {
        return Err(vec![
            Trouble::shop("a packet needs a design and a shop")
                .cure("put clock.toml and shop.toml into one folder, or name the shop with --shop"),
        ]);
    };
    step("drawing");
    let case = Typecase::new();
    let proven: Vec<sheets::packet::programs::Proven<'_>> =
        proved.iter().filter_map(|p| crate::prove::proven(p, &making.programs)).collect();
    let contents = Contents {
        programs: &proven,
        clock,
        shop,
        parts: &work.parts,
        movement: work.movement.as_ref(),
        going: work.going.as_ref(),
        making,
        book: &work.book,
        state: &work.state,
        day: today,
    };
    let papers = sheets::packet::papers(&contents, &case)?;
    step("laying out");
    let unprintable = |all: Vec<sheets::Unprintable>| cannot_print(&all, work, clock);
    // Two cores: what lies on pages, and what is of one part alone.
    let (pages, alone) = std::thread::scope(|scope| {
        let alone = scope.spawn(|| alone(work, &contents, &papers.drawings));
        (
            sheets::lay_out(&case, &papers.packet),
            alone.join().unwrap_or_else(|fault| std::panic::resume_unwind(fault)),
        )
    });
    let pages = pages.map_err(unprintable)?;
    let alone = alone.map_err(unprintable)?;
    step("writing");
    let (pdf, single) = std::thread::scope(|scope| {
        let archive = scope.spawn(|| sheets::pdf(&pages));
        let single: Vec<Sheet> =
            pages.pages.iter().enumerate().map(|(i, page)| page_alone(page, i)).collect();
        (archive.join().unwrap_or_else(|fault| std::panic::resume_unwind(fault)), single)
    });
    let pdf = pdf.map_err(|u| unprintable(vec![u]))?;
    let mut out =
        vec![("packet.pdf".to_owned(), pdf), ("cut-list.txt".to_owned(), papers.cut_list.into_bytes())];
    for p in &proven {
        let text = p.program.text.clone().into_bytes();
        out.push((format!("programs/{}.nc", p.program.name), text));
    }
    out.extend(single);
    out.extend(alone);
    Ok(out)
}
fn page_alone(page: &sheets::Page, i: usize) -> Sheet {
    let svg = sheets::svg(page, sheets::Letters::Outlines, &format!("p{}-", i + 1));
    (format!("pages/page-{:03}.svg", i + 1), svg.into_bytes())
}
/// Files of one part each: its drawing, and its solid where it has exact faces.
fn alone(
    work: &Work,
    contents: &Contents<'_>,
    drawings: &[(String, drafting::sketch::Sketch)],
) -> Result<Vec<Sheet>, Vec<sheets::Unprintable>> {
    let case = Typecase::new();
    let mut out = Vec::new();
    for (name, sketch) in drawings {
        let page = sheets::drawing(&case, sketch)?;
        let svg = sheets::svg(&page, sheets::Letters::Outlines, "d-");
        out.push((format!("drawings/{name}.svg"), svg.into_bytes()));
    }
    for part in &work.parts {
        if let Some(text) = sheets::packet::solids::solid(contents, part) {
            out.push((format!("solids/{}.step", part.slug().replace(['_', '.'], "-")), text.into_bytes()));
        }
    }
    Ok(out)
}
/// What stands in the way of printing. Signs that no face has come from a name or a remark: that is told once, where
/// they are written. Everything else is a fault of this program.
fn cannot_print(all: &[sheets::Unprintable], work: &Work, clock: &record::Clock) -> Vec<Trouble> {
    let mut signs = BTreeSet::new();
    let mut troubles = Vec::new();
    for unprintable in all {
        match unprintable {
            sheets::Unprintable::NoGlyph { sign, .. } => {
                signs.insert(*sign);
            }
            other => troubles.push(Trouble::ours("the packet cannot be printed").why(other.to_string())),
        }
    }
    let mut untold = signs.clone();
    let mut tell = |text: &str, whose: String, at: Option<Place>| {
        let here: String =
            signs.iter().filter(|s| text.to_lowercase().contains(**s) || text.contains(**s)).collect();
        if here.is_empty() {
            return;
        }
        untold.retain(|s| !here.contains(*s));
        let says = format!("{whose} has signs that the sheets have no letters for: {here}");
        let cure = "write it in Latin, Greek or Cyrillic letters";
        troubles.push(Trouble::text(says).at(at).cure(cure));
    };
    tell(&clock.name, "the name of the clock".to_owned(), None);
    for p in &work.parts {
        let whose = format!("{} '{}'", p.kind.word(), p.common.name);
        let text = format!("{} {}", p.common.name, p.common.note.as_deref().unwrap_or_default());
        tell(&text, whose, Some(p.at().clone()));
    }
    let untold: String = untold.into_iter().collect();
    if !untold.is_empty() {
        let says = format!(
            "a name in the shop or the project has signs that the sheets have no letters for: {untold}"
        );
        troubles.push(Trouble::text(says).cure("write it in Latin, Greek or Cyrillic letters"));
    }
    told::in_order(troubles)
}
