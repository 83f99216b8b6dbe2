//! One test for each published check, one for each file of them, one for the example of each question.

use checks::runner::{self, Check};
use libtest_mimic::{Arguments, Failed, Trial};
use std::path::PathBuf;
use std::sync::{Arc, Mutex};

type Results = Arc<Mutex<Vec<(String, String, bool)>>>;

fn main() -> std::process::ExitCode {
    let arguments = Arguments::from_args();
    let folder = folder();
    let results: Results = Arc::default();
    let mut trials = Vec::new();
    match runner::read_folder(&folder) {
        Err(e) => trials.push(Trial::test("folder", move || Err(Failed::from(e)))),
        Ok(files) => {
            let twice: Vec<String> = runner::repeated(&files).into_iter().map(str::to_owned).collect();
            trials.push(Trial::test("no id stands twice", move || {
                if twice.is_empty() { Ok(()) } else { Err(format!("twice: {}", twice.join(", ")).into()) }
            }));
            for file in files {
                let faults = file.faults.join("\n");
                trials.push(Trial::test(format!("file {}", file.name), move || {
                    if faults.is_empty() { Ok(()) } else { Err(faults.into()) }
                }));
                for check in file.checks {
                    trials.push(trial(check, file.name.clone(), Arc::clone(&results)));
                }
            }
        }
    }
    let asks = checks::asks();
    let mut names: Vec<&str> = asks.iter().map(|a| a.name).collect();
    names.sort_unstable();
    let twice: Vec<&str> = names.windows(2).filter(|w| w[0] == w[1]).map(|w| w[0]).collect();
    trials.push(Trial::test("no question stands twice", move || {
        if twice.is_empty() { Ok(()) } else { Err(format!("twice: {}", twice.join(", ")).into()) }
    }));
    for ask in asks {
        trials.push(Trial::test(format!("example {}", ask.name), || {
            runner::example(ask).map_err(Failed::from)
        }));
    }
    let conclusion = libtest_mimic::run(&arguments, trials);
    let results = results.lock().expect("no test panics while it holds the list");
    if !results.is_empty() {
        let by = |f: fn(&(String, String, bool)) -> &String| {
            results.iter().map(|r| (f(r).clone(), r.2)).collect::<Vec<_>>()
        };
        println!("{}", runner::tally("source", &by(|r| &r.0)));
        println!("{}", runner::tally("file", &by(|r| &r.1)));
    }
    conclusion.exit_code()
}
/// The folder that CHECKS_DIR names, counted from the root of the workspace, or the project's own.
fn folder() -> PathBuf {
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    match std::env::var_os("CHECKS_DIR") {
        None => here.join("published"),
        Some(named) => here.join("..").join(named),
    }
}
fn trial(check: Check, file: String, results: Results) -> Trial {
    Trial::test(check.id.clone(), move || {
        let ran = check.run(&checks::asks());
        let mut list = results.lock().expect("no test panics while it holds the list");
        list.push((check.mark.to_owned(), file, ran.is_ok()));
        ran.map_err(Failed::from)
    })
}
