//! The pages at the bench and at the desk: served to this machine, or to the workshop's network where the maker asks.

mod asked;
mod at_bench;
mod clock;
mod count;
mod desk;
mod entry;
mod floor;
mod frame;
mod going;
mod guard;
mod keep;
mod line;
mod measure;
mod measured;
mod moved;
mod parts;
mod picture;
mod plan;
mod rating;
mod route;
mod serve;
mod setting_up;
mod shop;
pub mod steps;
mod tonight;
mod why;

use crate::outcome::{Outcome, Stopped};
use floor::Floor;
use guard::Guard;
pub use line::{Bench, EXAMPLES};
use std::io::Write as _;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener, UdpSocket};
use std::sync::Arc;

/// Serves the pages until it is stopped from the keyboard.
///
/// # Errors
/// When there is no project, or the port is taken.
pub fn run(args: &Bench) -> Result<Outcome, Stopped> {
    let floor = Floor::new(&args.dir, args.shop.shop.clone());
    floor.now().map_err(|s| *s)?;
    let ip = if args.workshop_network { Ipv4Addr::UNSPECIFIED } else { Ipv4Addr::LOCALHOST };
    let listener = TcpListener::bind(SocketAddr::new(IpAddr::V4(ip), args.port)).map_err(|e| {
        Stopped::files(format!("the pages cannot be served at port {}", args.port))
            .why(crate::files::reason(&e))
            .cure("another port: --port 7118; or --port 0 for one that is free")
    })?;
    let no_network = |e: &dyn std::fmt::Display| {
        Stopped::files("the pages cannot be served").why(e.to_string()).cure("try again, or another port")
    };
    let port = listener.local_addr().map_err(|e| no_network(&e))?.port();
    let guard = if args.workshop_network {
        let kept = args.dir.join(PAIRED);
        let (guard, code) = Guard::network(port, args.name.clone(), kept).map_err(|e| no_network(&e))?;
        let at = address().map_or_else(|| "ADDRESS-OF-THIS-MACHINE".to_owned(), |ip| ip.to_string());
        let mut places = vec![format!("http://{at}:{port}/")];
        places.extend(args.name.iter().map(|n| format!("http://{n}:{port}/")));
        say(&format!(
            "At the bench: {}\nPairing code: {code}\nWhoever has the code can read and enter; it serves for one phone, then another one is told here.\nStop with Ctrl-C.",
            places.join("   ")
        ));
        guard
    } else {
        say(&format!(
            "At the bench: http://localhost:{port}/\nOnly this machine can open it; --workshop-network lets a phone in. Stop with Ctrl-C."
        ));
        Guard::alone(port)
    };
    let answers = move |asked: asked::Asked| match guard.look(&asked) {
        guard::Verdict::Pass => route::answer(&floor, &asked),
        guard::Verdict::Stop(answer) => *answer,
        guard::Verdict::Paired(answer, code) => {
            say(&format!("A phone was paired. Code for the next one: {code}"));
            *answer
        }
    };
    serve::serve(listener, Arc::new(answers)).map_err(|e| no_network(&e))?;
    Ok(Outcome::default())
}
/// File in the project's folder that knows which phones were paired.
const PAIRED: &str = ".bench-paired";

/// Tells something at once; where nobody listens there is nobody to tell.
fn say(text: &str) {
    let mut out = std::io::stdout().lock();
    let _ = writeln!(out, "{text}").and_then(|()| out.flush());
}
/// Address of this machine on its network: the one that it would send from. Nothing is sent.
fn address() -> Option<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    // An address that is kept for documentation (RFC 5737).
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    Some(socket.local_addr().ok()?.ip())
}
