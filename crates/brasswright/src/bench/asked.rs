//! What a page is asked, and what it answers: plain data, so that everything above the wire is a function.

use std::net::IpAddr;

/// What came over the wire, taken apart.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Whether it would change something.
    pub post: bool,
    /// Parts of the path, each decoded; none holds a slash.
    pub path: Vec<String>,
    /// What stands after the question mark.
    pub query: Form,
    /// The form that was sent.
    pub form: Form,
    /// Pictures that were sent with it.
    pub files: Vec<File>,
    /// `Host`.
    pub host: String,
    /// `Origin`.
    pub origin: Option<String>,
    /// `Sec-Fetch-Site`.
    pub site: Option<String>,
    /// `Cookie`, each name with its value.
    pub cookies: Form,
    /// Whether a script of the page asks, not a person who turned to another page.
    pub script: bool,
    /// Address that the other side reached us at.
    pub here: Option<IpAddr>,
}
/// A picture.
#[derive(Clone, Debug, Default)]
pub struct File {
    /// Name of the field.
    pub field: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}
/// Names and values in their order.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Form(pub Vec<(String, String)>);
impl Form {
    /// From `a=1&b=2`, as forms and addresses have it.
    #[must_use]
    pub fn read(text: &[u8]) -> Form {
        Form(form_urlencoded::parse(text).into_owned().collect())
    }
    /// From the text of a `Cookie` head.
    #[must_use]
    pub fn cookies(text: &str) -> Form {
        let pairs = text.split(';').filter_map(|p| p.trim().split_once('='));
        Form(pairs.map(|(a, b)| (a.to_owned(), b.to_owned())).collect())
    }
    /// The value of a name, spaces around it taken off; nothing where it is empty.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&str> {
        let found = self.0.iter().find(|(n, _)| n == name).map(|(_, v)| v.trim());
        found.filter(|v| !v.is_empty())
    }
    /// A value as a whole number.
    #[must_use]
    pub fn whole(&self, name: &str) -> Option<u32> {
        self.get(name)?.parse().ok()
    }
}
/// What goes back.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Status of HTTP.
    pub status: u16,
    /// What kind of text or picture.
    pub kind: &'static str,
    /// Further heads.
    pub heads: Vec<(&'static str, String)>,
    /// Itself.
    pub body: Vec<u8>,
}
impl Answer {
    /// A page.
    #[must_use]
    pub fn page(markup: maud::Markup) -> Answer {
        Answer::of("text/html; charset=utf-8", markup.into_string().into_bytes())
    }
    /// Anything.
    #[must_use]
    pub fn of(kind: &'static str, body: impl Into<Vec<u8>>) -> Answer {
        Answer { status: 200, kind, heads: Vec::new(), body: body.into() }
    }
    /// Something that stays as it is while this program runs.
    #[must_use]
    pub fn lasting(kind: &'static str, body: impl Into<Vec<u8>>) -> Answer {
        Answer::of(kind, body).head("Cache-Control", "private, max-age=3600")
    }
    /// Words for a program that asks.
    #[must_use]
    pub fn data(value: &serde_json::Value) -> Answer {
        Answer::of("application/json", value.to_string())
    }
    /// To another page: what was sent is not sent again when that one is loaded anew.
    #[must_use]
    pub fn turn_to(place: &str) -> Answer {
        Answer { status: 303, ..Answer::of("text/plain; charset=utf-8", "") }.head("Location", place)
    }
    /// With a status.
    #[must_use]
    pub fn status(mut self, status: u16) -> Answer {
        self.status = status;
        self
    }
    /// With a further head.
    #[must_use]
    pub fn head(mut self, name: &'static str, value: impl Into<String>) -> Answer {
        self.heads.push((name, value.into()));
        self
    }
}
/// The parts of a path, decoded; nothing where one of them would lead elsewhere.
#[must_use]
pub fn path(text: &str) -> Option<Vec<String>> {
    let mut out = Vec::new();
    for part in text.trim_matches('/').split('/').filter(|p| !p.is_empty()) {
        let part = decoded(part)?;
        let leads_away = part == "." || part == ".." || part.contains(['/', '\\', '\0']);
        if leads_away {
            return None;
        }
        out.push(part);
    }
    Some(out)
}
/// `%41` as `A`; nothing where it is no text then.
fn decoded(text: &str) -> Option<String> {
    let mut out = Vec::new();
    let mut bytes = text.bytes();
    while let Some(b) = bytes.next() {
        if b == b'%' {
            let two = [bytes.next()?, bytes.next()?];
            out.push(u8::from_str_radix(std::str::from_utf8(&two).ok()?, 16).ok()?);
        } else {
            out.push(b);
        }
    }
    String::from_utf8(out).ok()
}
/// Text as part of an address.
#[must_use]
pub fn encoded(text: &str) -> String {
    text.bytes().fold(String::new(), |mut out, b| {
        if b.is_ascii_alphanumeric() || b"-._~".contains(&b) {
            out.push(char::from(b));
        } else {
            out.push_str(&format!("%{b:02X}"));
        }
        out
    })
}
/// A form of several parts, with pictures: RFC 7578. What has no name is left out.
#[must_use]
pub fn parts(kind: &str, body: &[u8]) -> Option<(Form, Vec<File>)> {
    let boundary = kind.split(';').find_map(|p| p.trim().strip_prefix("boundary="))?.trim_matches('"');
    if boundary.is_empty() || boundary.len() > 200 {
        return None;
    }
    let mark = format!("--{boundary}").into_bytes();
    let (mut form, mut files) = (Form::default(), Vec::new());
    let mut rest = &body[find(body, &mark)? + mark.len()..];
    while !rest.starts_with(b"--") {
        let Some(end) = find(rest, &mark) else { break };
        let part = rest[..end].strip_prefix(b"\r\n").unwrap_or(&rest[..end]);
        let part = part.strip_suffix(b"\r\n").unwrap_or(part);
        rest = &rest[end + mark.len()..];
        let Some(at) = find(part, b"\r\n\r\n") else { continue };
        let (head, value) = (String::from_utf8_lossy(&part[..at]).into_owned(), &part[at + 4..]);
        let about = head.lines().find(|l| l.to_ascii_lowercase().starts_with("content-disposition:"));
        let Some(about) = about else { continue };
        let told = |name: &str| {
            let found = about.split(';').find_map(|p| p.trim().strip_prefix(name)?.strip_prefix('='));
            found.map(|v| v.trim_matches('"').to_owned())
        };
        let Some(name) = told("name") else { continue };
        if told("filename").is_some() {
            files.push(File { field: name, bytes: value.to_vec() });
        } else {
            form.0.push((name, String::from_utf8_lossy(value).into_owned()));
        }
    }
    Some((form, files))
}
fn find(of: &[u8], what: &[u8]) -> Option<usize> {
    of.windows(what.len()).position(|w| w == what)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_that_lead_away_are_none() {
        assert_eq!(path("/why/a.b"), Some(vec!["why".to_owned(), "a.b".to_owned()]));
        assert_eq!(path("//parts//"), Some(vec!["parts".to_owned()]));
        for bad in ["/a/../b", "/a/%2e%2e/b", "/a%2Fb", "/%00", "/%zz", "/%ff", "/a/%2e%2e%5cb"] {
            assert_eq!(path(bad), None, "{bad}");
        }
        assert_eq!(path(&format!("/x/{}", encoded("5 ° / %"))), None);
        assert_eq!(path(&format!("/x/{}", encoded("5 °"))).map(|p| p[1].clone()), Some("5 °".to_owned()));
    }
    #[test]
    fn a_form_of_parts() {
        let body = b"--X\r\nContent-Disposition: form-data; name=\"text\"\r\n\r\nburr left\r\n--X\r\n\
            Content-Disposition: form-data; name=\"picture\"; filename=\"../../a.jpg\"\r\n\
            Content-Type: image/jpeg\r\n\r\n\xff\xd8\r\n\r\n\xff\r\n--X--\r\n";
        let (form, files) = parts("multipart/form-data; boundary=X", body).expect("it has a boundary");
        assert_eq!(form.get("text"), Some("burr left"));
        assert_eq!((files.len(), files[0].bytes.as_slice()), (1, &b"\xff\xd8\r\n\r\n\xff"[..]));
        assert!(parts("multipart/form-data", body).is_none());
        assert!(parts("multipart/form-data; boundary=Y", body).is_none());
    }
    #[test]
    fn forms_and_cookies() {
        let form = Form::read(b"a=1&b=+x%20&c=&a=2");
        assert_eq!((form.get("a"), form.get("b"), form.get("c")), (Some("1"), Some("x"), None));
        assert_eq!(form.whole("a"), Some(1));
        assert_eq!(Form::cookies("x=1; bench=ab").get("bench"), Some("ab"));
    }
}
