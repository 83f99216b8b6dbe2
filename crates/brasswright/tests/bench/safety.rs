//! What the server refuses, and whom it lets in.

use super::browser::{Browser, Driver, Kind, PHONE, http};
use super::served::{Served, begun};
use std::io::Write as _;
use std::net::TcpStream;

#[test]
fn nobody_else_is_answered() {
    let served = Served::of(begun("ten-screws", "safety"), &[]);
    let port = served.port;
    let get = |path: &str, host: &str| http(port, "GET", path, &[("Host", host)], None).map(|a| a.0);
    let here = format!("127.0.0.1:{port}");
    assert_eq!(get("/clock", &here), Some(200));
    assert_eq!(get("/clock", &format!("localhost:{port}")), Some(200));
    for other in [
        "elsewhere.example",
        &format!("elsewhere.example:{port}"),
        "127.0.0.1:1",
        &format!("192.168.7.7:{port}"),
    ] {
        assert_eq!(get("/clock", other), Some(421), "{other}");
    }
    for path in [
        "/../clock.toml",
        "/picture/../clock.toml",
        "/picture/%2e%2e%2fclock.toml",
        "/picture/clock.toml",
        "/%00",
        "/bench/nothing",
        "/bench/bridge_screw/99.1",
        "/bench/bridge_screw/1.x",
        "/why/x",
        "/clock.toml",
        "/journal.sqlite",
        "/.bench-paired",
    ] {
        assert_eq!(get(path, &here), Some(404), "{path}");
    }
    let post = |origin: &str, path: &str, body: &str| {
        let heads = [("Origin", origin), ("Content-Type", "application/x-www-form-urlencoded")];
        http(port, "POST", path, &heads, Some(body)).map(|a| a.0)
    };
    let (own, step) = (format!("http://{here}"), "/bench/bridge_screw/1.0/done");
    for bad in ["http://elsewhere.example", "null", &format!("https://{here}")] {
        assert_eq!(post(bad, step, "key=a"), Some(403), "{bad}");
    }
    let bare = http(port, "POST", step, &[], Some("key=a")).map(|a| a.0);
    assert_eq!(bare, Some(403), "a form that does not say where it comes from");
    assert!(served.journal().is_empty(), "nothing of it was entered");
    assert_eq!(post(&own, step, &"x=1&".repeat(40_000)), Some(413));
    assert_eq!(http(port, "PUT", "/clock", &[], None).map(|a| a.0), Some(405));
    // The same form sent twice is entered once.
    assert_eq!((post(&own, step, "key=one"), post(&own, step, "key=one")), (Some(303), Some(303)));
    assert_eq!(served.journal().len(), 1);
    for (path, body) in [
        ("/bench/bridge_screw/1.2/count", "count=many"),
        ("/bench/bridge_screw/stood", "state=gone"),
        ("/bench/bridge_screw/1.5/measure", "check=0&reading=four&unit=mm"),
        ("/bench/bridge_screw/1.5/remark", "text="),
        ("/bench/bridge_screw/1.5/measure", "check=99&reading=4"),
        ("/journal/strike", "entry=99&why=x"),
    ] {
        assert_eq!(post(&own, path, body), Some(422), "{path} {body}");
    }
    assert_eq!(served.journal().len(), 1);
}
#[test]
fn slow_clients_hold_up_nobody() {
    let served = Served::of(begun("ten-screws", "slow"), &[]);
    let half = || {
        let mut stream = TcpStream::connect(("127.0.0.1", served.port)).expect("it answers");
        stream.write_all(b"GET /clock HTTP/1.1\r\nHost: 127").expect("it listens");
        stream
    };
    let slow: Vec<TcpStream> = (0..12).map(|_| half()).collect();
    assert_eq!(http(served.port, "GET", "/style.css", &[], None).map(|a| a.0), Some(200));
    assert_eq!(slow.len(), 12);
}
#[test]
fn a_phone_is_paired_and_what_it_enters_is_sent_once() {
    const NAME: &str = "shed.test";
    let driver = Driver::start();
    let mut dir = begun("one-wheel", "paired");
    let port = {
        let mut served = Served::of(dir, &["--workshop-network", "--name", NAME]);
        let phone = Browser::open(&driver, Kind { named: Some(NAME), ..PHONE });
        let at = |path: &str| format!("http://{NAME}:{}{path}", served.port);
        phone.go(&at("/clock"));
        assert_eq!(
            phone.run("return window.isSecureContext"),
            false,
            "plain http under a name is no secure context"
        );
        assert!(phone.text("h1").contains("Pair"), "{}", phone.text("body"));
        phone.keep("pair-phone");
        phone.type_into("#code", "WRONGS");
        phone.click("form button");
        phone.until("a wrong code is refused", |b| b.has(".notice.bad"));
        phone.type_into("#code", &served.code.to_lowercase());
        phone.click("form button");
        phone.until("the clock comes after the code", |b| b.text("h1").contains("Lost third wheel"));
        assert_eq!(phone.run("return document.cookie"), "", "no script reads the cookie");
        // Count with the network there, cut, and there again.
        phone.go(&at("/bench/third.wheel/3.3"));
        let cut = |b: &Browser| b.attribute("[data-counter]", "data-cut");
        phone.click(".count button.first");
        phone.until("one is counted and sent", |b| {
            cut(b) == "1" && b.run("return localStorage.getItem('brasswright.outbox')") == "[]"
        });
        phone.network(false);
        for n in 2..=4 {
            phone.click("[data-by='1'] button");
            phone.until("it counts without a network", |b| cut(b) == n.to_string());
        }
        phone.until("it tells what waits", |b| b.text("#waiting").contains('3'));
        phone.keep("counter-without-network-phone");
        assert_eq!(served.journal().len(), 1);
        let waiting = phone.run("return localStorage.getItem('brasswright.outbox')");
        phone.network(true);
        phone.run("dispatchEvent(new Event('online'))");
        phone.until("nothing waits any more", |b| {
            b.run("return localStorage.getItem('brasswright.outbox')") == "[]"
        });
        assert_eq!(served.journal().len(), 4);
        // What was sent already, put back into the phone, is sent again and entered no more.
        let again = waiting.as_str().unwrap_or_default().replace('\\', "\\\\").replace('\'', "\\'");
        phone.run(&format!(
            "localStorage.setItem('brasswright.outbox', '{again}'); dispatchEvent(new Event('online'))"
        ));
        phone.until("it was sent again", |b| {
            b.run("return localStorage.getItem('brasswright.outbox')") == "[]"
        });
        assert_eq!(served.journal().len(), 4, "an entry of a key that is there is the same entry");
        phone.reload();
        phone.until("the count survives a reload", |b| cut(b) == "4");
        let port = served.port;
        dir = served.stopped();
        // The plug is pulled; what is entered meanwhile waits, and is sent when the bench is there again.
        phone.click("[data-by='1'] button");
        phone.until("it waits", |b| b.text("#waiting").contains('1'));
        served = Served::at_port(dir.clone(), port, &["--workshop-network", "--name", NAME]);
        phone.run("dispatchEvent(new Event('online'))");
        phone.until("it is sent to the one that was started anew", |b| {
            b.run("return localStorage.getItem('brasswright.outbox')") == "[]"
        });
        let counts: Vec<Option<u32>> = served
            .journal()
            .iter()
            .map(|e| match &e.what {
                journal::What::Done(s) => s.count,
                other => panic!("{other:?}"),
            })
            .collect();
        assert_eq!(counts, [1, 2, 3, 4, 5].map(Some));
        phone.reload();
        phone.until("the phone is still paired, and the count is five", |b| cut(b) == "5");
        port
    };
    assert!(port > 0);
}
