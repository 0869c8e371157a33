//! The bench page: what a phone in the home network may do, which is to bring something in.
//!
//! Whoever has its address opens a new piece, adds photographs and jots lines, by the same ways as the commands. To be
//! read there are the titles and numbers of the pieces in work, and the lines of today. It hears on addresses and with a
//! key of its own, and knows nothing of the viewing's pages, so that no mistake there opens one of them here.
//!
//! The page is a plain form; its script keeps on the phone what could not be sent, and sends it later, each entry with a
//! mark by which it comes in once.

mod allowance;
mod multipart;
mod network;
mod taking;
mod today;

use std::io;
use std::net::{Ipv4Addr, SocketAddrV4, TcpListener};
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock, Mutex, PoisonError};
use std::time::Instant;

use chrono::NaiveDate;
use http_body_util::BodyExt;
use hyper::body::{Body, Incoming};
use hyper::header::{ACCEPT, CONTENT_TYPE, HeaderMap, HeaderName, HeaderValue, REFERRER_POLICY};
use hyper::{Method, Request, Response};
use serde::Serialize;
use tera::{Context, Tera};
use tokio::sync::Semaphore;
use tokio::task::spawn_blocking;

pub use self::network::{home_addresses, is_at_home};

use self::allowance::Allowance;
use self::multipart::Form;
use self::taking::{LONGEST_PHOTOGRAPH, Refused, Taken};
use self::today::{Shelf, Today};
use super::address::{Address, encoded, media_type};
use super::answer::{Answer, Content};
use super::door::{self, Host, Stage, Visit};
use super::guard::Guard;
use super::server::unguessable;
use crate::record::PhotoStage;
use crate::render;
use crate::source::TreeError;
use crate::unit::legible::without_unseen;

/// The most that is sent at once, in bytes: a photograph of the largest kind, or several usual ones.
const LONGEST_FORM: usize = 60_000_000;

/// How many forms are taken in at the same time, each of them in memory; and how many pages are made.
const FORMS: usize = 2;
const PAGES: usize = 4;

/// Whoever sends on and on has this many bytes taken before the time of a sending begins anew: less would be no sending.
const STRIDE: usize = 250_000;

/// How many ports are tried.
const TRIED: u16 = 10;

/// What a page may load and do. Pictures that were not sent yet are the phone's own.
const POLICY: &str = "default-src 'none'; img-src 'self' blob:; style-src 'self'; font-src 'self'; script-src 'self'; \
                      connect-src 'self'; form-action 'self'; base-uri 'none'";

/// The server of the bench page.
pub struct Bench {
    /// Where it is heard, until it is served from there.
    listeners: Mutex<Vec<TcpListener>>,
    guard: Guard,
    port: u16,
    /// The addresses that it hears on.
    homes: Mutex<Vec<Ipv4Addr>>,
    root: PathBuf,
    today: fn() -> NaiveDate,
    /// What came in of late. Held while something comes in, so that one thing does at a time.
    desk: Mutex<Allowance>,
    /// What is known of the pieces since they were last looked at.
    shelf: Mutex<Shelf>,
    forms: Arc<Semaphore>,
    pages: Arc<Semaphore>,
}

impl Bench {
    /// Opens a server at addresses of the home network, at this port or one after it; `today` says which day it is.
    ///
    /// # Errors
    /// The system's, such as [`io::ErrorKind::AddrNotAvailable`] for an address that is none of this computer.
    pub fn open(
        root: &Path,
        homes: &[Ipv4Addr],
        port: u16,
        today: fn() -> NaiveDate,
    ) -> io::Result<Arc<Bench>> {
        let (mut listeners, mut addresses) = (Vec::new(), Vec::new());
        for home in homes {
            let (listener, address) = free(*home, port)?;
            listeners.push(listener);
            addresses.push(address);
        }
        Ok(Arc::new(Bench {
            listeners: Mutex::new(listeners),
            port,
            homes: Mutex::new(homes.to_vec()),
            guard: Guard::at(&addresses, unguessable()?),
            root: root.to_owned(),
            today,
            desk: Mutex::new(Allowance::from(Instant::now())),
            shelf: Mutex::default(),
            forms: Arc::new(Semaphore::new(FORMS)),
            pages: Arc::new(Semaphore::new(PAGES)),
        }))
    }

    /// The addresses of the page, each of which holds the key.
    pub fn addresses(&self) -> Vec<String> {
        self.guard.addresses()
    }

    /// Answers requests from now on, on threads of its own.
    ///
    /// # Errors
    /// The system's, where it gives no thread.
    pub fn serve(self: &Arc<Bench>) -> io::Result<()> {
        let listeners = std::mem::take(&mut *self.listeners.lock().unwrap_or_else(PoisonError::into_inner));
        listeners.into_iter().try_for_each(|listener| door::open(listener, Arc::clone(self)))
    }

    /// Hears on those of these addresses too that are new to it, as where the network has changed, and gives the address
    /// of the page at each. One that cannot be heard on is tried again the next time.
    pub fn follow(self: &Arc<Bench>, now: &[Ipv4Addr]) -> Vec<String> {
        let mut homes = self.homes.lock().unwrap_or_else(PoisonError::into_inner);
        let fresh: Vec<Ipv4Addr> = now.iter().filter(|home| !homes.contains(home)).copied().collect();
        let hear = |home: Ipv4Addr| {
            let (listener, address) = free(home, self.port).ok()?;
            door::open(listener, Arc::clone(self)).ok()?;
            homes.push(home);
            Some(self.guard.also_at(address))
        };
        fresh.into_iter().filter_map(hear).collect()
    }

    async fn answer(self: &Arc<Bench>, request: Request<Incoming>, visit: &Visit) -> Answer {
        let (asked, body) = request.into_parts();
        let Some(address) = self.guard.opened(&asked.uri).and_then(Address::of) else {
            return Answer::nothing();
        };
        let sent = matches!(address.path.as_str(), ENTRY | PIECE);
        if let Err(refusal) = self.guard.check_form(&asked.method, &asked.headers, sent) {
            return Answer::words(refusal.status(), STRANGER);
        }
        if asked.method != Method::POST {
            return self.worked_out(&self.pages, visit, move |bench| bench.page(&address)).await;
        }
        visit.comes_to(Stage::Sending);
        // Held until the form is taken in: only so many are in memory.
        let Ok(place) = Arc::clone(&self.forms).acquire_owned().await else { return Answer::nothing() };
        visit.comes_to(Stage::Sending);
        let wants = Wants::of(&asked.headers);
        let form = match whole(body, visit).await {
            Ok(bytes) => Form::of(header(&asked.headers, &CONTENT_TYPE), &bytes).ok_or(CUT_SHORT),
            Err(why) => Err(why),
        };
        let answer = self.worked_out(&self.pages, visit, move |bench| match form {
            Ok(form) if address.path == PIECE => bench.piece(&form, wants),
            Ok(form) => bench.entry(&form, wants),
            Err((status, why)) => bench.told(status, State::refusal(why), "", wants),
        });
        let answer = answer.await;
        drop(place);
        answer
    }

    /// Works an answer out on a thread of its own, once there is a place for it.
    async fn worked_out(
        self: &Arc<Bench>,
        places: &Arc<Semaphore>,
        visit: &Visit,
        work: impl FnOnce(&Bench) -> Answer + Send + 'static,
    ) -> Answer {
        visit.comes_to(Stage::Waiting);
        let place = Arc::clone(places).acquire_owned().await;
        let bench = Arc::clone(self);
        let worked = spawn_blocking(move || {
            let _place = place;
            work(&bench)
        });
        worked
            .await
            .unwrap_or_else(|_| Answer::words(500, "This cannot be done; the terminal says what went wrong."))
    }

    /// What is to be read.
    fn page(&self, address: &Address) -> Answer {
        match address.path.as_str() {
            "index.html" => {
                let chosen = address.asked("piece").unwrap_or_default();
                let asked = |name| address.asked(name).is_some();
                let state = State { opened: asked("opened"), there: asked("there"), ..State::default() };
                self.told(200, state, chosen, Wants::Page)
            }
            "today" => match self.seen() {
                Ok(today) => Answer::json(200, &Told { state: State::default(), today }),
                Err(_) => Answer::words(503, UNREAD),
            },
            path => match asset(path) {
                Some(bytes) => {
                    Answer { status: 200, kind: media_type(path), bytes: bytes.to_vec(), to: None }
                }
                None => Answer::nothing(),
            },
        }
    }

    /// The workshop as it is now.
    fn seen(&self) -> Result<Today, TreeError> {
        let mut shelf = self.shelf.lock().unwrap_or_else(PoisonError::into_inner);
        shelf.today(&self.root, (self.today)())
    }

    /// Takes an entry in.
    fn entry(&self, form: &Form, wants: Wants) -> Answer {
        let bytes = form.files.iter().map(|file| file.bytes.len() as u64).sum();
        let result = {
            let mut desk = self.desk.lock().unwrap_or_else(PoisonError::into_inner);
            match desk.entry(Instant::now(), bytes) {
                true => taking::entry(&self.root, form, (self.today)()),
                false => return self.told(TOO_MUCH.0, State::refusal(TOO_MUCH.1), form.said("piece"), wants),
            }
        };
        let (status, mut state) = match result {
            Ok(taken) => (200, State { saved: true, taken, ..State::default() }),
            Err(Refused::Unusable(why)) => (422, State::refusal(&why)),
            Err(Refused::NotNow(why)) => (503, State::refusal(&why)),
        };
        // The form of a page without script keeps what was in it.
        if !state.saved {
            (state.did, state.spent) = (form.said("did").to_owned(), form.said("spent").to_owned());
        }
        state.stage = form.said("stage").to_owned();
        self.told(status, state, form.said("piece"), wants)
    }

    /// Opens a piece.
    fn piece(&self, form: &Form, wants: Wants) -> Answer {
        let result = {
            let mut desk = self.desk.lock().unwrap_or_else(PoisonError::into_inner);
            match desk.piece(Instant::now()) {
                true => taking::piece(&self.root, form, (self.today)()),
                false => return self.told(TOO_MUCH.0, State::refusal(TOO_MUCH.1), "", wants),
            }
        };
        match (result, wants) {
            (Ok(opened), Wants::Page) => {
                // Loading the page again opens nothing again.
                let said = if opened.number.is_some() { "opened" } else { "there" };
                let to = format!("{}?piece={}&{said}", self.guard.home(), encoded(&opened.folder));
                Answer { to: Some(to), ..Answer::words(303, "The piece is open.") }
            }
            (Ok(opened), Wants::Data) => {
                let new = opened.number.is_some();
                let state = State { opened: new, there: !new, ..State::default() };
                self.told(200, state, &opened.folder, wants)
            }
            (Err(Refused::Unusable(why)), _) => self.told(422, State::refusal(&why), "", wants),
            (Err(Refused::NotNow(why)), _) => self.told(503, State::refusal(&why), "", wants),
        }
    }

    /// The page, or its data, with what became of something.
    fn told(&self, status: u16, mut state: State, chosen: &str, wants: Wants) -> Answer {
        let today = match (self.seen(), unguessable()) {
            (Ok(today), Ok(mark)) => {
                state.mark = mark;
                today
            }
            // What was saved is saved all the same.
            _ if state.saved => Today::default(),
            _ => return Answer::words(503, UNREAD),
        };
        state.chosen = chosen.to_owned();
        match wants {
            Wants::Data => Answer::json(status, &Told { state, today }),
            Wants::Page => {
                if state.chosen.is_empty() {
                    state.chosen =
                        today.pieces.first().map_or_else(String::new, |piece| piece.folder.clone());
                }
                if state.stage.is_empty() {
                    state.stage = PhotoStage::During.word().to_owned();
                }
                let stages = PhotoStage::ALL.iter().map(|stage| stage.word()).collect();
                let home = self.guard.home();
                let most = LONGEST_PHOTOGRAPH;
                let page =
                    Page { home, policy: POLICY, stages, most, reads: READS, told: Told { state, today } };
                Answer { status, ..Answer::html(page.html()) }
            }
        }
    }
}

impl Host for Bench {
    async fn answered(self: Arc<Self>, request: Request<Incoming>, visit: Arc<Visit>) -> Response<Content> {
        let answer = self.answer(request, &visit).await;
        visit.comes_to(Stage::Taking);
        let mut response = answer.response();
        let headers = response.headers_mut();
        headers.insert(HeaderName::from_static("content-security-policy"), HeaderValue::from_static(POLICY));
        // A form says whose page sends it only where that page may be told to its own server.
        headers.insert(REFERRER_POLICY, HeaderValue::from_static("same-origin"));
        response
    }
}

/// Where entries and new pieces are sent.
const ENTRY: &str = "entry";
const PIECE: &str = "piece";

/// What the page is told of the forms of photographs that are read here.
const READS: &str = if cfg!(feature = "heic") { "heic" } else { "" };

const STRANGER: &str = "This server answers only pages of its own.";
const UNREAD: &str = "The workshop cannot be read at the moment.";
const CUT_SHORT: (u16, &str) = (400, "Only part of it arrived. Send it once more.");
const TOO_LARGE: (u16, &str) =
    (413, "That is too much at once: at most 60 MB, and 40 MB for a photograph. Bring it in at the desk.");
const TOO_MUCH: (u16, &str) = (429, "Very much came in within ten minutes. Wait a while, and send it then.");

/// Whether a page is wanted, or its data.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Wants {
    Page,
    Data,
}

impl Wants {
    fn of(headers: &HeaderMap) -> Wants {
        if header(headers, &ACCEPT) == "application/json" { Wants::Data } else { Wants::Page }
    }
}

/// What became of what was sent.
#[derive(Debug, Default, Serialize)]
struct State {
    saved: bool,
    /// That a new piece was opened.
    opened: bool,
    /// That it was there already.
    there: bool,
    /// Why something was not taken; empty where nothing was left.
    why: String,
    taken: Taken,
    /// The folder of the piece that is chosen.
    chosen: String,
    stage: String,
    did: String,
    spent: String,
    /// The mark of the next entry, where the page has no script to make one.
    mark: String,
}

impl State {
    fn refusal(why: &str) -> State {
        State { why: why.to_owned(), ..State::default() }
    }
}

#[derive(Debug, Serialize)]
struct Told {
    #[serde(flatten)]
    state: State,
    #[serde(flatten)]
    today: Today,
}

#[derive(Serialize)]
struct Page<'a> {
    home: &'a str,
    policy: &'a str,
    stages: Vec<&'a str>,
    /// The longest photograph in bytes.
    most: usize,
    /// The forms that this program reads and that not every one does.
    reads: &'a str,
    told: Told,
}

impl Page<'_> {
    fn html(&self) -> Vec<u8> {
        let context = Context::from_serialize(self).expect("a page is plain data");
        let page = TEMPLATE.render("bench.html", &context).expect("the page's own template is tested");
        without_unseen(&page).into_owned().into_bytes()
    }
}

static TEMPLATE: LazyLock<Tera> = LazyLock::new(|| {
    let mut tera = Tera::default();
    tera.add_raw_templates([("bench.html", include_str!("bench.html"))])
        .expect("the page's own template is tested");
    tera
});

/// A file that belongs to the page.
fn asset(path: &str) -> Option<&'static [u8]> {
    match path {
        "bench.css" => Some(include_bytes!("bench.css")),
        "bench.js" => Some(include_bytes!("bench.js")),
        // The letters and colours of the built-in theme, and nothing that a workshop lays over it.
        path => {
            let theme = path.strip_prefix("theme/")?;
            let plain = theme.starts_with("assets/fonts/")
                || ["assets/style.css", "assets/favicon.svg", "assets/touch-icon.png"].contains(&theme);
            render::built_in(theme).filter(|_| plain)
        }
    }
}

/// Listens at an address, at this port or the first of a few after it that is free.
fn free(home: Ipv4Addr, port: u16) -> io::Result<(TcpListener, SocketAddrV4)> {
    let mut taken = io::Error::from(io::ErrorKind::AddrInUse);
    for port in (0..TRIED).map(|more| port.saturating_add(more)).chain([0]) {
        match TcpListener::bind((home, port)) {
            Err(error) if error.kind() == io::ErrorKind::AddrInUse => taken = error,
            opened => {
                let listener = opened?;
                let address = SocketAddrV4::new(home, listener.local_addr()?.port());
                return Ok((listener, address));
            }
        }
    }
    Err(taken)
}

/// The value of a header; empty where it is not there or no plain text.
fn header<'a>(headers: &'a HeaderMap, name: &HeaderName) -> &'a str {
    headers.get(name).and_then(|value| value.to_str().ok()).unwrap_or_default()
}

/// What was sent, once it is all there; or why it is not read. Whoever sends steadily has time for it.
async fn whole(mut body: Incoming, visit: &Visit) -> Result<Vec<u8>, (u16, &'static str)> {
    if body.size_hint().lower() > LONGEST_FORM as u64 {
        return Err(TOO_LARGE);
    }
    let (mut bytes, mut stride) = (Vec::new(), STRIDE);
    while let Some(frame) = body.frame().await {
        let Ok(frame) = frame else { return Err(CUT_SHORT) };
        let data = frame.into_data().unwrap_or_default();
        if bytes.len() + data.len() > LONGEST_FORM {
            return Err(TOO_LARGE);
        }
        bytes.extend_from_slice(&data);
        if bytes.len() >= stride {
            stride = bytes.len() + STRIDE;
            visit.comes_to(Stage::Sending);
        }
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_escapes_what_records_say_and_needs_no_script() {
        let state = State {
            why: "<i>why</i>".to_owned(),
            did: "<b>did</b>".to_owned(),
            stage: "during".to_owned(),
            ..State::default()
        };
        let pieces = ["<u>a</u>", "b"].map(|title| today::Choice {
            folder: title.to_owned(),
            title: title.to_owned(),
            number: "T-1".to_owned(),
        });
        let entries = vec![today::Jotted {
            piece: "b".to_owned(),
            words: "<s>words</s>".to_owned(),
            spent: "1 h".to_owned(),
        }];
        let today = Today { pieces: pieces.into(), entries, ..Today::default() };
        let stages = PhotoStage::ALL.iter().map(|stage| stage.word()).collect();
        let page = Page {
            home: "/key/",
            policy: POLICY,
            stages,
            most: 1,
            reads: READS,
            told: Told { state, today },
        };
        let html = String::from_utf8(page.html()).unwrap();
        for tag in ["<i>", "<b>", "<u>", "<s>"] {
            assert!(!html.contains(tag), "{tag} in {html}");
        }
        for words in ["&lt;s&gt;words", "enctype=\"multipart/form-data\"", "value=\"handover\"", "1 h"] {
            assert!(html.contains(words), "{words} not in {html}");
        }
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn an_address_that_comes_later_is_heard_on_too() {
        use std::io::{Read, Write};
        let home = tempfile::tempdir().unwrap();
        std::fs::write(home.path().join("workshop.toml"), "name = \"W\"\n").unwrap();
        let [first, later] = ["127.0.0.1", "127.0.0.2"].map(|address| address.parse().unwrap());
        let bench = Bench::open(home.path(), &[first], 0, NaiveDate::default).unwrap();
        bench.serve().unwrap();
        let status = |address: &str| {
            let (host, path) = address.strip_prefix("http://").unwrap().split_once('/').unwrap();
            let mut stream = std::net::TcpStream::connect(host).unwrap();
            write!(stream, "GET /{path} HTTP/1.1\r\nHost: {host}\r\n\r\n").unwrap();
            let mut answer = String::new();
            stream.read_to_string(&mut answer).unwrap();
            answer.split(' ').nth(1).unwrap().to_owned()
        };
        let fresh = bench.follow(&[later, first]);
        assert_eq!((fresh.len(), bench.addresses().len()), (1, 2));
        assert!(bench.follow(&[later]).is_empty(), "it is heard on already");
        for address in bench.addresses() {
            assert_eq!(status(&address), "200", "{address}");
        }
    }

    #[test]
    fn only_what_the_page_needs_is_handed_out() {
        for path in ["bench.css", "bench.js", "theme/assets/style.css", "theme/assets/favicon.svg"] {
            assert!(asset(path).is_some(), "{path}");
        }
        for path in [
            "picker.js",
            "refresh.js",
            "theme/theme.toml",
            "theme/pages/archive-front.html",
            "theme/assets/archive/search.js",
        ] {
            assert!(asset(path).is_none(), "{path}");
        }
    }
}
