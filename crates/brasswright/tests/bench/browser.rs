//! A browser driven over WebDriver (W3C Recommendation): just as much of it as these tests need.

use serde_json::{Value, json};
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// What the protocol calls an element.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// The driver: one process for as many browsers as are wanted.
pub struct Driver {
    process: Child,
    port: u16,
}
/// A port that is free now.
pub fn free_port() -> u16 {
    let listener = TcpListener::bind(("127.0.0.1", 0)).expect("a port is free");
    listener.local_addr().expect("it has an address").port()
}
impl Driver {
    pub fn start() -> Driver {
        let port = free_port();
        let process = Command::new("chromedriver")
            .args([&format!("--port={port}"), "--log-level=OFF"])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver is there: Debian's chromium-driver");
        let driver = Driver { process, port };
        let until = Instant::now() + Duration::from_secs(20);
        while ask(port, "GET", "/status", None).is_none() {
            assert!(Instant::now() < until, "the driver does not answer");
            std::thread::sleep(Duration::from_millis(50));
        }
        driver
    }
}
impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
/// How a browser is to be.
#[derive(Clone, Copy)]
pub struct Kind {
    pub width: u32,
    pub height: u32,
    /// A phone: touch, and a page as wide as its screen.
    pub phone: bool,
    /// A name that leads to this machine, and is no secure context.
    pub named: Option<&'static str>,
    pub scripts: bool,
    pub dark: bool,
}
pub const PHONE: Kind =
    Kind { width: 390, height: 844, phone: true, named: None, scripts: true, dark: false };
pub const DESK: Kind = Kind { width: 1440, height: 900, phone: false, ..PHONE };

/// A browser.
pub struct Browser {
    port: u16,
    session: String,
    profile: PathBuf,
}
impl Browser {
    pub fn open(driver: &Driver, kind: Kind) -> Browser {
        let profile =
            std::env::temp_dir().join(format!("brasswright-browser-{}-{}", std::process::id(), free_port()));
        let mut args = vec![
            "--headless".to_owned(),
            "--no-sandbox".to_owned(),
            "--disable-gpu".to_owned(),
            "--disable-dev-shm-usage".to_owned(),
            "--no-first-run".to_owned(),
            "--disable-background-networking".to_owned(),
            "--disable-component-update".to_owned(),
            "--disable-sync".to_owned(),
            "--hide-scrollbars".to_owned(),
            format!("--window-size={},{}", kind.width.max(500), kind.height),
            format!("--user-data-dir={}", profile.display()),
        ];
        if let Some(name) = kind.named {
            args.push(format!("--host-resolver-rules=MAP {name} 127.0.0.1"));
        }
        let mut options = json!({ "args": args });
        if kind.phone {
            options["mobileEmulation"] = json!({ "deviceMetrics": { "width": kind.width, "height": kind.height, "pixelRatio": 1, "touch": true } });
        }
        let wanted = json!({ "capabilities": { "alwaysMatch": { "browserName": "chrome", "goog:chromeOptions": options } } });
        let made = ask(driver.port, "POST", "/session", Some(&wanted)).expect("a browser opens");
        let session = made["sessionId"].as_str().unwrap_or_else(|| panic!("no browser: {made}")).to_owned();
        let browser = Browser { port: driver.port, session, profile };
        let scheme = if kind.dark { "dark" } else { "light" };
        browser.tell(
            "Emulation.setEmulatedMedia",
            &json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] }),
        );
        if !kind.scripts {
            // All that our pages run is one file; without it they are as in a browser that runs none.
            browser.tell("Network.enable", &json!({}));
            browser.tell("Network.setBlockedURLs", &json!({ "urls": ["*bench.js*"] }));
        }
        if !kind.phone {
            let size = json!({ "width": kind.width, "height": kind.height, "deviceScaleFactor": 1, "mobile": false });
            browser.tell("Emulation.setDeviceMetricsOverride", &size);
        }
        browser
    }
    fn call(&self, method: &str, path: &str, body: Option<&Value>) -> Value {
        let path = format!("/session/{}{path}", self.session);
        ask(self.port, method, &path, body).unwrap_or_else(|| panic!("{method} {path}: no answer"))
    }
    /// A command of the browser's own protocol.
    pub fn tell(&self, command: &str, params: &Value) -> Value {
        self.call("POST", "/goog/cdp/execute", Some(&json!({ "cmd": command, "params": params })))
    }
    pub fn go(&self, to: &str) {
        self.call("POST", "/url", Some(&json!({ "url": to })));
    }
    pub fn reload(&self) {
        self.call("POST", "/refresh", Some(&json!({})));
    }
    pub fn place(&self) -> String {
        self.call("GET", "/url", None).as_str().unwrap_or_default().to_owned()
    }
    /// Elements that a selector finds.
    pub fn all(&self, selector: &str) -> Vec<String> {
        let found =
            self.call("POST", "/elements", Some(&json!({ "using": "css selector", "value": selector })));
        let ids = found.as_array().into_iter().flatten();
        ids.filter_map(|e| Some(e[ELEMENT].as_str()?.to_owned())).collect()
    }
    pub fn has(&self, selector: &str) -> bool {
        !self.all(selector).is_empty()
    }
    /// The element of a selector, waited for.
    pub fn one(&self, selector: &str) -> String {
        let until = Instant::now() + Duration::from_secs(10);
        loop {
            if let Some(e) = self.all(selector).into_iter().next() {
                return e;
            }
            assert!(Instant::now() < until, "{selector} is not on {}\n{}", self.place(), self.text("body"));
            std::thread::sleep(Duration::from_millis(30));
        }
    }
    pub fn click(&self, selector: &str) {
        let e = self.one(selector);
        let said = self.call("POST", &format!("/element/{e}/click"), Some(&json!({})));
        assert!(said["error"].is_null(), "{selector} on {}: {said}", self.place());
    }
    pub fn type_into(&self, selector: &str, text: &str) {
        let e = self.one(selector);
        self.call("POST", &format!("/element/{e}/clear"), Some(&json!({})));
        let said = self.call("POST", &format!("/element/{e}/value"), Some(&json!({ "text": text })));
        assert!(said["error"].is_null(), "{selector}: {said}");
    }
    /// Chooses a file in a field for files.
    pub fn choose(&self, selector: &str, file: &Path) {
        let e = self.one(selector);
        let text = json!({ "text": file.display().to_string() });
        let said = self.call("POST", &format!("/element/{e}/value"), Some(&text));
        assert!(said["error"].is_null(), "{selector}: {said}");
    }
    /// Presses the key that leads from one thing on the page to the next.
    pub fn tab(&self) {
        let key = |kind: &str| json!({ "type": kind, "value": "\u{e004}" });
        let all = json!({ "actions": [{ "type": "key", "id": "keys", "actions": [key("keyDown"), key("keyUp")] }] });
        self.call("POST", "/actions", Some(&all));
    }
    pub fn text(&self, selector: &str) -> String {
        let Some(e) = self.all(selector).into_iter().next() else { return String::new() };
        self.call("GET", &format!("/element/{e}/text"), None).as_str().unwrap_or_default().to_owned()
    }
    pub fn attribute(&self, selector: &str, name: &str) -> String {
        let e = self.one(selector);
        self.call("GET", &format!("/element/{e}/attribute/{name}"), None)
            .as_str()
            .unwrap_or_default()
            .to_owned()
    }
    pub fn run(&self, script: &str) -> Value {
        self.call("POST", "/execute/sync", Some(&json!({ "script": script, "args": [] })))
    }
    /// Waits until something holds.
    pub fn until(&self, what: &str, holds: impl Fn(&Browser) -> bool) {
        let until = Instant::now() + Duration::from_secs(15);
        while !holds(self) {
            assert!(Instant::now() < until, "{what}: not so on {}\n{}", self.place(), self.text("body"));
            std::thread::sleep(Duration::from_millis(40));
        }
    }
    /// Cuts the network, or restores it.
    pub fn network(&self, there: bool) {
        let how = json!({ "network_conditions": { "offline": !there, "latency": 0, "throughput": -1, "download_throughput": -1, "upload_throughput": -1 } });
        self.call("POST", "/chromium/network_conditions", Some(&how));
    }
    /// What is on the screen, kept for whoever reviews.
    pub fn keep(&self, name: &str) {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("bench-pages");
        std::fs::create_dir_all(&folder).expect("a folder for pictures");
        let shot = self.call("GET", "/screenshot", None);
        let bytes = from_base64(shot.as_str().unwrap_or_default());
        assert!(bytes.starts_with(b"\x89PNG"), "a picture comes");
        std::fs::write(folder.join(format!("{name}.png")), bytes).expect("the picture is kept");
    }
}
impl Drop for Browser {
    fn drop(&mut self) {
        let _ = ask(self.port, "DELETE", &format!("/session/{}", self.session), None);
        let _ = std::fs::remove_dir_all(&self.profile);
    }
}
/// The `value` of an answer; none where there is no answer yet.
fn ask(port: u16, method: &str, path: &str, body: Option<&Value>) -> Option<Value> {
    let (_, text) = http(
        port,
        method,
        path,
        &[("Content-Type", "application/json")],
        body.map(Value::to_string).as_deref(),
    )?;
    let mut answer: Value = serde_json::from_str(&text).ok()?;
    Some(answer["value"].take())
}
/// One question over HTTP/1.1: status and body, heads left in front of it where there is no length.
pub fn http(
    port: u16,
    method: &str,
    path: &str,
    heads: &[(&str, &str)],
    body: Option<&str>,
) -> Option<(u16, String)> {
    let mut stream = TcpStream::connect(("127.0.0.1", port)).ok()?;
    stream.set_read_timeout(Some(Duration::from_secs(60))).ok()?;
    let own = heads.iter().any(|h| h.0.eq_ignore_ascii_case("host"));
    let mut head = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\n");
    if !own {
        head += &format!("Host: 127.0.0.1:{port}\r\n");
    }
    for (name, value) in heads {
        head += &format!("{name}: {value}\r\n");
    }
    let body = body.unwrap_or_default();
    head += &format!("Content-Length: {}\r\n\r\n{body}", body.len());
    stream.write_all(head.as_bytes()).ok()?;
    let mut all = Vec::new();
    // The driver keeps the line open in spite of what it is asked: the length says where the answer ends.
    let mut some = [0; 16384];
    loop {
        if let Some((status, at, length)) = measured(&all)
            && all.len() >= at + length
        {
            return Some((status, String::from_utf8_lossy(&all[at..at + length]).into_owned()));
        }
        match stream.read(&mut some) {
            Ok(0) | Err(_) => break,
            Ok(n) => all.extend_from_slice(&some[..n]),
        }
    }
    let (status, at, _) = measured(&all)?;
    Some((status, String::from_utf8_lossy(&all[at..]).into_owned()))
}
/// Status, where the body begins, and how long it is.
fn measured(all: &[u8]) -> Option<(u16, usize, usize)> {
    let at = all.windows(4).position(|w| w == b"\r\n\r\n")? + 4;
    let head = String::from_utf8_lossy(&all[..at]).to_lowercase();
    let status = head.split(' ').nth(1)?.parse().ok()?;
    let length = head.lines().find_map(|l| l.strip_prefix("content-length:")?.trim().parse().ok());
    Some((status, at, length.unwrap_or(usize::MAX / 2)))
}
/// RFC 4648.
fn from_base64(text: &str) -> Vec<u8> {
    let letters = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = Vec::new();
    let (mut held, mut bits) = (0_u32, 0);
    for b in text.bytes() {
        let Some(v) = letters.iter().position(|l| *l == b) else { continue };
        held = held << 6 | u32::try_from(v).unwrap_or(0);
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            out.push(u8::try_from(held >> bits & 0xff).unwrap_or(0));
        }
    }
    out
}
