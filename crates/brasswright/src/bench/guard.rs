//! Who may ask: the names this server answers to, where forms may come from, and phones that were paired.

use super::asked::{Answer, Asked, Form};
use std::collections::BTreeSet;
use std::net::IpAddr;
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Name of the cookie.
pub const COOKIE: &str = "brasswright";
/// Letters of a pairing code: none is mistaken for another at the bench.
const SIGNS: &[u8; 28] = b"ABCDEFGHJKLMNPRTUVWXY2346789";
/// How long a code is.
const CODE: usize = 6;
/// Wrong codes before one has to wait.
const TRIES: u32 = 5;
/// How long then.
const PAUSE: Duration = Duration::from_secs(60);

/// What may come in.
#[derive(Debug)]
pub struct Guard {
    port: u16,
    /// Names that it answers to besides its addresses.
    names: Vec<String>,
    /// Only where it can be reached from elsewhere.
    pairing: Option<Mutex<Pairing>>,
}
#[derive(Debug)]
struct Pairing {
    code: String,
    paired: BTreeSet<String>,
    wrong: u32,
    until: Option<Instant>,
    /// Where paired phones are kept.
    kept: PathBuf,
}
/// What is to become of a question.
#[derive(Debug)]
pub enum Verdict {
    /// It is answered.
    Pass,
    /// This is its answer.
    Stop(Box<Answer>),
    /// It was paired just now: a new code is to be told.
    Paired(Box<Answer>, String),
}
/// Text that nobody can guess.
///
/// # Errors
/// When the system gives no chance.
pub fn chance(letters: usize) -> Result<String, String> {
    let mut bytes = vec![0; letters * 2];
    getrandom::fill(&mut bytes).map_err(|e| e.to_string())?;
    // Two bytes a letter: what is uneven in the remainder is then less than one in two thousand.
    let letter = |b: &[u8]| char::from(SIGNS[usize::from(u16::from_be_bytes([b[0], b[1]])) % SIGNS.len()]);
    Ok(bytes.chunks(2).map(letter).collect())
}
impl Guard {
    /// For this machine alone.
    #[must_use]
    pub const fn alone(port: u16) -> Guard {
        Guard { port, names: Vec::new(), pairing: None }
    }
    /// For a network, with its first code.
    ///
    /// # Errors
    /// When the system gives no chance.
    pub fn network(port: u16, names: Vec<String>, kept: PathBuf) -> Result<(Guard, String), String> {
        let code = chance(CODE)?;
        let told = std::fs::read_to_string(&kept).unwrap_or_default();
        let paired = told.lines().filter(|l| l.len() == 32).map(str::to_owned).collect();
        let pairing = Pairing { code: code.clone(), paired, wrong: 0, until: None, kept };
        Ok((Guard { port, names, pairing: Some(Mutex::new(pairing)) }, code))
    }
    /// Looks at a question before anything else does.
    pub fn look(&self, asked: &Asked) -> Verdict {
        if !self.knows(asked) {
            let says = "This server does not go by that name. Open it by the address that it printed when it was started.";
            return Verdict::Stop(Box::new(plain(421, says)));
        }
        if asked.post && !from_here(asked) {
            return Verdict::Stop(Box::new(plain(403, "This form was not sent from a page of this server.")));
        }
        let Some(pairing) = &self.pairing else { return Verdict::Pass };
        let mut p = pairing.lock().unwrap_or_else(PoisonError::into_inner);
        if asked.cookies.get(COOKIE).is_some_and(|c| p.paired.contains(&digest(c))) {
            return Verdict::Pass;
        }
        p.meet(asked)
    }
    /// Whether the name it was called by is one of ours: else a page from elsewhere could have had its own name
    /// lead here.
    fn knows(&self, asked: &Asked) -> bool {
        let (name, port) = split(&asked.host);
        if port.unwrap_or(80) != self.port {
            return false;
        }
        let literal = name.trim_start_matches('[').trim_end_matches(']').parse::<IpAddr>().ok();
        match literal {
            // The address it was reached at, whichever of the machine's that is.
            Some(ip) => {
                ip.is_loopback() && asked.here.is_some_and(|h| h.is_loopback())
                    || self.pairing.is_some() && asked.here.map(plain_ip) == Some(plain_ip(ip))
            }
            None => {
                let near = name == "localhost" && asked.here.is_some_and(|h| h.is_loopback());
                near || self.names.iter().any(|n| n.eq_ignore_ascii_case(name))
            }
        }
    }
}
/// An IPv4 address written as IPv6 is the same address.
fn plain_ip(ip: IpAddr) -> IpAddr {
    match ip {
        IpAddr::V6(v6) => v6.to_ipv4_mapped().map_or(ip, IpAddr::V4),
        IpAddr::V4(_) => ip,
    }
}
fn split(host: &str) -> (&str, Option<u16>) {
    match host.rsplit_once(':') {
        Some((name, port)) if !port.contains(']') => (name, port.parse().ok()),
        _ => (host, None),
    }
}
/// Whether a form comes from one of our own pages.
fn from_here(asked: &Asked) -> bool {
    match &asked.origin {
        Some(origin) => origin.strip_prefix("http://").is_some_and(|o| o.eq_ignore_ascii_case(&asked.host)),
        None => asked.site.as_deref() == Some("same-origin"),
    }
}
fn plain(status: u16, says: &str) -> Answer {
    Answer::of("text/plain; charset=utf-8", says).status(status)
}
/// What is kept of a phone's secret: a copy of the file opens nothing.
fn digest(secret: &str) -> String {
    use sha2::Digest as _;
    let sum = sha2::Sha256::digest(secret.as_bytes());
    sum.iter().take(16).map(|b| format!("{b:02x}")).collect()
}
impl Pairing {
    fn meet(&mut self, asked: &Asked) -> Verdict {
        let to_pair = asked.path.first().is_some_and(|p| p == "pair");
        let style = asked.path.first().is_some_and(|p| p == "style.css" || p == "bench.js");
        if style {
            return Verdict::Pass;
        }
        if !(to_pair && asked.post) {
            return Verdict::Stop(Box::new(Answer::page(super::frame::pair(None)).status(401)));
        }
        let now = Instant::now();
        if self.until.is_some_and(|u| now < u) {
            let says =
                "Too many wrong codes. Wait a minute, then type the code that stands in the terminal now.";
            return Verdict::Stop(Box::new(Answer::page(super::frame::pair(Some(says))).status(429)));
        }
        let typed: String = read_code(&asked.form);
        if !same(typed.as_bytes(), self.code.as_bytes()) {
            self.wrong += 1;
            if self.wrong >= TRIES {
                self.wrong = 0;
                self.until = Some(now + PAUSE);
            }
            let says = "That is not the code. It stands in the terminal where brasswright was started.";
            return Verdict::Stop(Box::new(Answer::page(super::frame::pair(Some(says))).status(403)));
        }
        let (Ok(secret), Ok(code)) = (chance(32), chance(CODE)) else {
            return Verdict::Stop(Box::new(plain(500, "The system gives no chance to make a secret of.")));
        };
        self.wrong = 0;
        self.paired.insert(digest(&secret));
        self.code.clone_from(&code);
        self.keep();
        let cookie =
            format!("{COOKIE}={secret}; HttpOnly; SameSite=Strict; Path=/; Max-Age={}", 400 * 24 * 3600);
        Verdict::Paired(Box::new(Answer::turn_to("/").head("Set-Cookie", cookie)), code)
    }
    /// Paired phones stay paired; where the folder cannot be written they are paired until the program ends.
    fn keep(&self) {
        let text: String = self.paired.iter().map(|p| format!("{p}\n")).collect();
        let aside = self.kept.with_extension("part");
        let written = std::fs::write(&aside, text).and_then(|()| std::fs::rename(&aside, &self.kept));
        if written.is_err() {
            let _ = std::fs::remove_file(&aside);
        }
    }
}
fn read_code(form: &Form) -> String {
    let typed = form.get("code").unwrap_or_default().to_uppercase();
    typed.chars().filter(char::is_ascii_alphanumeric).collect()
}
/// Compares without telling by its time where two texts differ.
fn same(a: &[u8], b: &[u8]) -> bool {
    a.len() == b.len() && a.iter().zip(b).fold(0, |d, (x, y)| d | (x ^ y)) == 0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(host: &str, here: &str) -> Asked {
        Asked { host: host.into(), here: here.parse().ok(), ..Asked::default() }
    }
    #[test]
    fn names_that_are_not_ours_are_refused() {
        let g = Guard::alone(7117);
        for (host, ok) in [
            ("127.0.0.1:7117", true),
            ("localhost:7117", true),
            ("[::1]:7117", true),
            ("127.0.0.1:7118", false),
            ("localhost", false),
            ("evil.example:7117", false),
            ("127.0.0.1.evil.example:7117", false),
            ("192.168.1.4:7117", false),
            ("", false),
        ] {
            let passes = matches!(g.look(&asked(host, "127.0.0.1")), Verdict::Pass);
            assert_eq!(passes, ok, "{host}");
        }
    }
    #[test]
    fn a_form_from_elsewhere_is_refused() {
        let g = Guard::alone(80);
        let post = |origin: Option<&str>, site: Option<&str>| {
            let a = Asked {
                post: true,
                origin: origin.map(str::to_owned),
                site: site.map(str::to_owned),
                ..asked("localhost", "127.0.0.1")
            };
            matches!(g.look(&a), Verdict::Pass)
        };
        assert!(post(Some("http://localhost"), None) && post(None, Some("same-origin")));
        assert!(!post(Some("http://evil.example"), None) && !post(Some("null"), None));
        assert!(!post(None, None) && !post(None, Some("cross-site")));
        assert!(!post(Some("http://evil.example"), Some("same-origin")));
    }
    #[test]
    fn a_phone_is_paired_once() {
        let kept = std::env::temp_dir().join(format!("paired-{}", std::process::id()));
        let (g, code) =
            Guard::network(7117, vec!["shed.test".into()], kept.clone()).expect("there is chance");
        let base =
            || Asked { origin: Some("http://shed.test:7117".into()), ..asked("shed.test:7117", "10.0.0.5") };
        assert!(matches!(g.look(&base()), Verdict::Stop(a) if a.status == 401));
        let pair = |code: &str| Asked {
            post: true,
            path: vec!["pair".into()],
            form: Form(vec![("code".into(), code.into())]),
            ..base()
        };
        assert!(matches!(g.look(&pair("AAAAAA")), Verdict::Stop(a) if a.status == 403));
        let Verdict::Paired(answer, next) = g.look(&pair(&code.to_lowercase())) else {
            panic!("the right code pairs");
        };
        let cookie = &answer.heads.iter().find(|h| h.0 == "Set-Cookie").expect("a cookie is set").1;
        assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
        let cookies = Form::cookies(cookie.split(';').next().expect("it has a value"));
        let with = |cookies: &Form| Asked { cookies: cookies.clone(), ..base() };
        assert!(matches!(g.look(&with(&cookies)), Verdict::Pass));
        assert_ne!(code, next);
        assert!(matches!(g.look(&pair(&code)), Verdict::Stop(a) if a.status == 403));
        // Started again, it still knows the phone.
        let (again, _) = Guard::network(7117, vec!["shed.test".into()], kept.clone()).expect("as before");
        assert!(matches!(again.look(&with(&cookies)), Verdict::Pass));
        let held = std::fs::read_to_string(&kept).expect("it was kept");
        assert!(!held.contains(&cookies.0[0].1), "the secret itself is not written");
        for _ in 0..TRIES {
            let _ = again.look(&pair("WRONG"));
        }
        assert!(matches!(again.look(&pair("WRONG")), Verdict::Stop(a) if a.status == 429));
        let _ = std::fs::remove_file(kept);
    }
    #[test]
    fn addresses_of_the_network_are_those_it_was_reached_at() {
        let (g, _) = Guard::network(80, vec![], std::env::temp_dir().join("none-such")).expect("chance");
        assert!(g.knows(&asked("10.0.0.5", "10.0.0.5")) && g.knows(&asked("10.0.0.5", "::ffff:10.0.0.5")));
        assert!(!g.knows(&asked("10.0.0.6", "10.0.0.5")) && !g.knows(&asked("shed.test", "10.0.0.5")));
    }
}
