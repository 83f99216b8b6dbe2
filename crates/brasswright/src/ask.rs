//! `ask`: the handbook answers, with its working.

use crate::args;
use crate::look::{Look, Paint, clean, columns, painted};
use crate::outcome::{Outcome, Stopped};
use crate::told::{self, Texts};
use crate::{exit, tree, work};
use reckon::trouble::nearest;
use reckon::{Ask, Book, Given, Place, Trouble};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The name under which places point into the command line.
const TYPED: &str = "command line";

/// Answers, or lists what may be asked.
///
/// # Errors
/// When the question is not known or is not given what it needs.
pub fn run(args: &args::Ask, look: Look) -> Result<Outcome, Stopped> {
    let asks = work::asks();
    let Some(name) = &args.name else { return Ok(list(&asks, args.json, look)) };
    if let Some(ask) = asks.iter().find(|a| a.name == name) {
        return answer(ask, args, look);
    }
    let under: Vec<&'static Ask> = asks.iter().copied().filter(|a| subject(a) == name).collect();
    if !under.is_empty() && args.given.is_empty() {
        return Ok(list(&under, args.json, look));
    }
    Err(unknown(name, &asks))
}
fn subject(ask: &Ask) -> &'static str {
    ask.name.split('.').next().unwrap_or(ask.name)
}
fn unknown(name: &str, asks: &[&'static Ask]) -> Stopped {
    if name.contains('=') {
        return Stopped::wrong_use(format!("'{name}' stands where the name of a question is due"))
            .cure("the question comes first, then what it is given: brasswright ask QUESTION key=value");
    }
    let mut stopped = Stopped::wrong_use(format!("there is no question '{name}'"));
    let names = || asks.iter().map(|a| a.name);
    let mut near: Vec<&str> = names().filter(|n| n.starts_with(name)).take(3).collect();
    if near.is_empty() {
        near = nearest(name, names());
    }
    if near.is_empty() {
        let last = name.rsplit('.').next().unwrap_or(name);
        near = names().filter(|n| n.rsplit('.').next() == Some(last)).take(3).collect();
    }
    for n in near {
        stopped = stopped.cure(format!("brasswright ask {n}"));
    }
    stopped.cure("brasswright ask, without a name, lists all questions")
}

fn list(asks: &[&'static Ask], json: bool, look: Look) -> Outcome {
    if json {
        let all: Value = asks.iter().map(|a| about_as_json(a)).collect();
        return Outcome::well(format!("{all:#}\n"));
    }
    let mut subjects: BTreeMap<&str, Vec<Vec<String>>> = BTreeMap::new();
    for a in asks {
        subjects.entry(subject(a)).or_default().push(vec![a.name.to_owned(), sentence(a.says)]);
    }
    let wide = asks.iter().map(|a| a.name.len()).max().unwrap_or(0);
    let paint = Paint(look.out);
    let mut out = String::new();
    for (subject, mut rows) in subjects {
        rows.sort();
        for row in &mut rows {
            row[0] = format!("{:wide$}", row[0]);
        }
        out += &format!("{}\n{}\n", paint.strong(subject), columns(&rows, 2));
    }
    out += "What a question takes: brasswright ask QUESTION\n";
    Outcome::well(out)
}
/// Crates differ in whether a line begins with a capital and ends with a stop; a list does not.
fn sentence(says: &str) -> String {
    let mut letters = says.trim_end_matches('.').chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
fn about_as_json(ask: &Ask) -> Value {
    let takes = ask.takes.iter().map(|p| {
        json!({ "name": p.name, "says": p.says, "needed": p.default.is_none(), "default": p.default.filter(|d| !d.is_empty()) })
    });
    json!({
        "name": ask.name,
        "says": ask.says,
        "takes": takes.collect::<Value>(),
        "gives": ask.gives,
        "example": format!("{} {}", ask.name, ask.example),
    })
}
/// What a question is about, what it takes, and an example.
fn about(ask: &Ask, paint: Paint) -> String {
    let rows: Vec<Vec<String>> = ask
        .takes
        .iter()
        .map(|p| {
            let need = match p.default {
                None => "needed".to_owned(),
                Some("") => "may be left out".to_owned(),
                Some(d) => format!("{d} unless given"),
            };
            vec![p.name.to_owned(), p.says.to_owned(), need]
        })
        .collect();
    format!(
        "{}: {}\n\nIt takes:\n{}\nIt gives: {}\n\nFor example:\n  brasswright ask {} {}\n",
        paint.strong(ask.name),
        sentence(ask.says),
        columns(&rows, 2),
        ask.gives.join(", "),
        ask.name,
        ask.example
    )
}

fn answer(ask: &'static Ask, args: &args::Ask, look: Look) -> Result<Outcome, Stopped> {
    let (typed, pairs) = pairs(ask, &args.given)?;
    let mut texts = Texts::default();
    texts.add(TYPED, TYPED, typed.as_bytes());
    let given = match Given::new(ask, &pairs) {
        Ok(g) => g,
        Err(troubles) => return Ok(refused(ask, &troubles, &texts, exit::USE, args.json, look)),
    };
    let mut book = Book::new();
    let ran = (ask.run)(&given, &mut book);
    let troubles: Vec<Trouble> = ran.err().into_iter().chain(book.faults().iter().cloned()).collect();
    if !troubles.is_empty() {
        return Ok(refused(ask, &troubles, &texts, exit::worst(&troubles), args.json, look));
    }
    let answers: Vec<&str> = ask.gives.iter().copied().filter(|n| book.find(n).is_some()).collect();
    if args.json {
        let lines = tree::as_json(&book, &answers, true, &texts);
        let all = json!({ "asked": ask.name, "answers": answers, "lines": lines });
        return Ok(Outcome::well(format!("{all:#}\n")));
    }
    let paint = Paint(look.out);
    let rows: Vec<Vec<String>> = answers
        .iter()
        .filter_map(|n| book.find(n))
        .map(|(_, l)| vec![l.name.clone(), clean(&l.shown)])
        .collect();
    let mut out = painted(&rows, 0, |i, cell| if i == 1 { paint.strong(cell) } else { cell.to_owned() });
    if !args.short {
        out += &format!("\n{}", tree::text(&book, answers.iter().copied(), Paint(false)));
    }
    Ok(Outcome::well(out))
}
fn refused(ask: &Ask, troubles: &[Trouble], texts: &Texts, exit: u8, json: bool, look: Look) -> Outcome {
    if json {
        let all = json!({ "asked": ask.name, "exit": exit, "troubles": told::as_json(troubles, texts) });
        return Outcome { out: format!("{all:#}\n"), exit, ..Outcome::default() };
    }
    let err = if exit == exit::USE {
        told::wrong_uses(troubles, texts, look.err) + &format!("\n{}", about(ask, Paint(look.err)))
    } else {
        told::all(troubles, texts, look.err)
    };
    Outcome { err, exit, ..Outcome::default() }
}
/// A name and a text, with the place of the text.
type Pair = (String, String, Place);
/// The command line as one text, and the pairs in it with their places.
fn pairs(ask: &Ask, given: &[String]) -> Result<(String, Vec<Pair>), Stopped> {
    let file: Arc<str> = Arc::from(TYPED);
    let mut typed = format!("brasswright ask {}", ask.name);
    let mut pairs = Vec::new();
    for word in given {
        let Some((key, text)) = word.split_once('=') else {
            return Err(Stopped::wrong_use(format!("'{word}' is not of the form key=value"))
                .cure(format!("for example: brasswright ask {} {}", ask.name, ask.example))
                .cure("a value with blanks goes between quotes: key=\"two words\""));
        };
        typed += &format!(" {key}=");
        let quote = if text.contains([' ', '#', '"', '\'', '*', '°']) { "\"" } else { "" };
        typed += quote;
        let start = typed.len();
        typed += text;
        let at = Place::in_text(&file, &typed, start, start + text.len());
        // Line 0: a command line has no lines to count.
        pairs.push((key.trim().to_owned(), text.to_owned(), Place { line: 0, ..at }));
        typed += quote;
    }
    Ok((typed, pairs))
}
