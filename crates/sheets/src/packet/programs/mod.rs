//! Sheets of programs: set-up, tools, what the proof found, picture, and the dry run before the first cut.

mod picture;

pub use picture::{Ring, Shown, picture};

use super::Contents;
use crate::table::{Column, Row, Ruling, Table};
use crate::{Block, Caution, Cell, Figure, Fit, Picture, Sheet, Text};
use drafting::sketch::Sketch;
use making::nc::Machine;
use making::nc::hand_over::Program;
use making::plan::Caution as Hurts;

/// A program that was proved sound, with what its sheet shows of the proof.
#[derive(Clone, Debug, PartialEq)]
pub struct Proven<'a> {
    /// The program.
    pub program: &'a Program,
    /// What the proof tells: name and value.
    pub facts: Vec<(&'static str, String)>,
    /// Pictures.
    pub shown: Vec<Shown>,
    /// Minutes of running.
    pub minutes: f64,
}

/// A sheet for each program.
pub(super) fn sheets(of: &Contents<'_>, next: &mut dyn FnMut() -> String) -> Vec<Sheet> {
    of.programs.iter().map(|p| sheet(of, p, next())).collect()
}
fn sheet(of: &Contents<'_>, p: &Proven<'_>, number: String) -> Sheet {
    let program = p.program;
    let part = &of.parts[program.part].common.name;
    let title = format!("Program on the {}: {}", program.machine, program.title);
    let mut blocks = vec![Block::Heading(1, title.as_str().into())];
    blocks.push(Block::Figures(vec![
        Figure::new("file", format!("{}.nc", program.name)).note("in the packet's folder, under programs"),
        Figure::new("runs", format!("{} min", reckon::print::significant(p.minutes, 2)))
            .note("stops not counted"),
        Figure::new("lines", program.text.lines().count().to_string()),
    ]));
    let hurts: Text = match program.habits.machine {
        Machine::Lathe => Hurts::Turning.text().into(),
        Machine::Mill => "Guard down, eyes covered, sleeves and hair tied back; nobody reaches in while the cutter turns, chips go by brush. The rules for machines where you live come first.".into(),
    };
    let lines = vec![hurts, "One hand at the emergency stop while a program runs for the first time.".into()];
    blocks.push(Block::Caution(Caution { title: "Caution".to_owned(), lines }));
    blocks.push(Block::Heading(2, "Set up".into()));
    blocks.push(Block::Steps(program.holding.iter().map(|l| l.as_str().into()).collect()));
    blocks.push(tools(program));
    blocks.push(Block::Heading(2, "Dry run first".into()));
    blocks.push(Block::Steps(vec![
        "Set the zero of Z 20 mm above the work, no metal under the tool, and run the whole program: every move stays over the work, nothing meets clamps, jaws or pin.".into(),
        "Set the zero of Z back on the work. Rapids at their slowest, line by line down to the first cut; stop and look: is the height over the work what the screen says?".into(),
        "Then let it run, spindle first up to speed, chips brushed or blown from outside the guard.".into(),
    ]));
    if !program.after.is_empty() {
        blocks.push(Block::Heading(2, "Afterwards".into()));
        blocks.push(Block::Dots(program.after.iter().map(|l| l.as_str().into()).collect()));
    }
    blocks.push(Block::Heading(2, "What the proof found".into()));
    let says = "The written text was read again, as the control reads it, and each move took off what it sweeps. What is left was held against the part: it is sound. After any change of the text, before metal: brasswright prove, and the name of the file.";
    blocks.push(Block::Para(says.into()));
    let facts = p.facts.iter().map(|(name, value)| (Text::from(*name), Text::from(value.as_str())));
    blocks.push(Block::Facts(facts.collect()));
    let pictured = |shown: &Shown, sketch: Sketch, within: (f64, f64)| {
        let caption = format!("{}, scale {}:{}", shown.title, sketch.scale.0, sketch.scale.1);
        let fit = Fit::Within(within.0, within.1);
        Block::Picture(Picture { sketch, fit, caption: caption.as_str().into() })
    };
    if let [only] = p.shown.as_slice() {
        blocks.push(pictured(only, picture(only, 170.0, 60.0), (170.0, 60.0)));
    } else {
        // Several stand two by two under one legend.
        let legend = Picture { sketch: picture::legend(), fit: Fit::True, caption: "".into() };
        let mut together = vec![Block::Picture(legend)];
        for two in p.shown.chunks(2) {
            let side = |s: &Shown| (1.0, vec![pictured(s, picture::bare(s, 80.0, 37.0), (80.0, 37.0))]);
            let mut beside: Vec<(f64, Vec<Block>)> = two.iter().map(side).collect();
            beside.resize(2, (1.0, Vec::new()));
            together.push(Block::Columns(beside));
        }
        blocks.push(Block::Together(together));
    }
    Sheet { title: "program".to_owned(), part: part.clone(), number, blocks }
}
fn tools(program: &Program) -> Block {
    let rows = program
        .tools
        .iter()
        .map(|(n, what, how)| {
            Row::new([n.to_string(), what.clone(), how.clone()].map(|t| Cell::from(Text::from(t.as_str()))))
        })
        .collect();
    Block::Table(Table {
        columns: ["tool", "which", "what matters"].iter().map(|c| Column::auto(*c)).collect(),
        rows,
        ruling: Ruling::Rules,
        size: 9.0,
    })
}
