//! The wire: HTTP/1.1 by `hyper`, with a bound on everything that a client can take: how many at once, how large,
//! how long.

use super::asked::{self, Answer, Asked, Form};
use http_body_util::{BodyExt as _, Full, Limited};
use hyper::body::{Bytes, Incoming};
use hyper::header::{self, HeaderMap, HeaderValue};
use hyper::service::service_fn;
use hyper::{Method, Request, Response};
use hyper_util::rt::{TokioIo, TokioTimer};
use std::collections::BTreeMap;
use std::convert::Infallible;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::Semaphore;
use tokio::time::timeout;

/// Connections at once, and of one address.
const AT_ONCE: usize = 96;
const OF_ONE: usize = 24;
/// Time for a head (also between two questions), for a body, and for a connection as a whole.
const HEAD: Duration = Duration::from_secs(15);
const BODY: Duration = Duration::from_secs(30);
const WHOLE: Duration = Duration::from_secs(180);
/// Largest form, and largest with a picture.
const FORM: usize = 64 * 1024;
const PICTURE: usize = 12 * 1024 * 1024;
/// Largest head.
const HEADS: usize = 32 * 1024;

/// Answers questions.
pub type Answers = dyn Fn(Asked) -> Answer + Send + Sync;

/// Serves until the program ends.
///
/// # Errors
/// When the system gives no means to.
pub fn serve(listener: std::net::TcpListener, answers: Arc<Answers>) -> std::io::Result<()> {
    listener.set_nonblocking(true)?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(8)
        .enable_io()
        .enable_time()
        .build()?;
    runtime.block_on(async {
        let listener = TcpListener::from_std(listener)?;
        accept(listener, answers).await;
        Ok(())
    })
}
/// How many each address has open.
type Held = Arc<Mutex<BTreeMap<IpAddr, usize>>>;
/// A place that is given back when it is dropped.
struct Place(Held, IpAddr);
impl Place {
    fn take(held: &Held, ip: IpAddr) -> Option<Place> {
        let mut all = held.lock().unwrap_or_else(PoisonError::into_inner);
        let n = all.entry(ip).or_default();
        (*n < OF_ONE).then(|| {
            *n += 1;
            Place(Arc::clone(held), ip)
        })
    }
}
impl Drop for Place {
    fn drop(&mut self) {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(n) = all.get_mut(&self.1) {
            *n -= 1;
            if *n == 0 {
                all.remove(&self.1);
            }
        }
    }
}
async fn accept(listener: TcpListener, answers: Arc<Answers>) {
    let room = Arc::new(Semaphore::new(AT_ONCE));
    let held = Held::default();
    loop {
        let Ok(seat) = Arc::clone(&room).acquire_owned().await else { return };
        let Ok((stream, from)) = listener.accept().await else {
            // Out of file handles, most likely: others will end.
            tokio::time::sleep(Duration::from_millis(100)).await;
            continue;
        };
        let Some(place) = Place::take(&held, from.ip()) else { continue };
        let answers = Arc::clone(&answers);
        tokio::spawn(async move {
            let _ = timeout(WHOLE, connection(stream, answers)).await;
            drop((seat, place));
        });
    }
}
async fn connection(stream: TcpStream, answers: Arc<Answers>) {
    let here = stream.local_addr().ok().map(|a| a.ip());
    let _ = stream.set_nodelay(true);
    let service = service_fn(move |request| {
        let answers = Arc::clone(&answers);
        async move { Ok::<_, Infallible>(answered(request, here, answers).await) }
    });
    // An error here is a client that went away or spoke no HTTP: there is nobody to tell.
    let _ = hyper::server::conn::http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD)
        .max_buf_size(HEADS)
        .serve_connection(TokioIo::new(stream), service)
        .await;
}
async fn answered(
    request: Request<Incoming>,
    here: Option<IpAddr>,
    answers: Arc<Answers>,
) -> Response<Full<Bytes>> {
    let head_only = request.method() == Method::HEAD;
    let answer = match read(request, here).await {
        Ok(asked) => tokio::task::spawn_blocking(move || answers(asked)).await.unwrap_or_else(|_| {
            plain(
                500,
                "Something broke in this program while it made the page. What was entered before is safe.",
            )
        }),
        Err(answer) => *answer,
    };
    written(answer, head_only)
}
fn plain(status: u16, says: &str) -> Answer {
    Answer::of("text/plain; charset=utf-8", says).status(status)
}
async fn read(request: Request<Incoming>, here: Option<IpAddr>) -> Result<Asked, Box<Answer>> {
    let stop = |status, says| Box::new(plain(status, says));
    let (head, body) = request.into_parts();
    let post = match head.method {
        Method::GET | Method::HEAD => false,
        Method::POST => true,
        _ => return Err(stop(405, "Only GET, HEAD and POST are understood.")),
    };
    let text = |name: &header::HeaderName| one(&head.headers, name);
    let mut asked = Asked {
        post,
        path: asked::path(head.uri.path()).ok_or_else(|| stop(404, "There is no page of that name."))?,
        query: Form::read(head.uri.query().unwrap_or_default().as_bytes()),
        host: text(&header::HOST).ok_or_else(|| stop(400, "The name of the host is missing."))?,
        origin: text(&header::ORIGIN),
        site: text(&header::HeaderName::from_static("sec-fetch-site")),
        cookies: Form::cookies(&text(&header::COOKIE).unwrap_or_default()),
        script: text(&header::ACCEPT).is_some_and(|a| a.starts_with("application/json")),
        here,
        ..Asked::default()
    };
    if post {
        let kind = text(&header::CONTENT_TYPE).unwrap_or_default();
        let several = kind.starts_with("multipart/form-data");
        let most = if several { PICTURE } else { FORM };
        let collected = timeout(BODY, Limited::new(body, most).collect())
            .await
            .map_err(|_| stop(408, "The form took too long to come."))?;
        let bytes = collected
            .map_err(|_| stop(413, "That is too large: 64 kB for a form, 12 MB with a picture."))?
            .to_bytes();
        if several {
            (asked.form, asked.files) =
                asked::parts(&kind, &bytes).ok_or_else(|| stop(400, "The form cannot be read."))?;
        } else {
            asked.form = Form::read(&bytes);
        }
    }
    Ok(asked)
}
/// A head that stands once; where it stands twice it is none, since the two might mean different things.
fn one(heads: &HeaderMap, name: &header::HeaderName) -> Option<String> {
    let mut all = heads.get_all(name).iter();
    let first = all.next()?.to_str().ok()?.to_owned();
    all.next().is_none().then_some(first)
}
/// What every answer says: nothing from elsewhere, nowhere else framed, nothing guessed.
const ALWAYS: [(&str, &str); 5] = [
    (
        "Content-Security-Policy",
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data: blob:; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    ),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "same-origin"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
    ("X-Frame-Options", "DENY"),
];
fn written(answer: Answer, head_only: bool) -> Response<Full<Bytes>> {
    let length = answer.body.len();
    let body = if head_only { Vec::new() } else { answer.body };
    let mut out = Response::new(Full::new(Bytes::from(body)));
    if let Ok(status) = hyper::StatusCode::from_u16(answer.status) {
        *out.status_mut() = status;
    }
    let heads = out.headers_mut();
    for (name, value) in ALWAYS {
        heads.insert(name, HeaderValue::from_static(value));
    }
    heads.insert(header::CONTENT_TYPE, HeaderValue::from_static(answer.kind));
    heads.insert(header::CONTENT_LENGTH, HeaderValue::from(length));
    if !answer.heads.iter().any(|(n, _)| *n == "Cache-Control") {
        heads.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    }
    for (name, value) in &answer.heads {
        // Text that no head can hold is left out rather than splitting the answer.
        if let Ok(value) = HeaderValue::from_str(value) {
            heads.append(*name, value);
        }
    }
    out
}
