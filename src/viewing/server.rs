//! The server: written files, the viewing's own pages, and the one way to change a record.

use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};
use std::thread;

use serde::{Deserialize, Serialize};
use tiny_http::{Method, Request, Server, StatusCode};

use super::address::{Address, encoded, media_type};
use super::change::{Change, Sent};
use super::enlarger::Enlarger;
use super::events::Events;
use super::guard::Guard;
use super::page;
use super::proposal::Proposal;
use super::shown::{PieceShown, Shown};
use crate::source::Sheets;
use crate::unit::legible::escaped_json;
use crate::write::replace;

/// How many requests are answered at the same time.
const HANDS: usize = 6;

/// The longest change that is read, in bytes: some ten thousand points.
const LONGEST_CHANGE: u64 = 1_000_000;

/// A server on this computer, for this computer.
pub struct Viewing {
    server: Server,
    port: u16,
    guard: Guard,
    root: PathBuf,
    sheets: Sheets,
    shown: RwLock<Arc<Shown>>,
    events: Events,
    enlarger: Enlarger,
}

impl Viewing {
    /// Opens a server at a port of the loopback address, 0 for any that is free.
    ///
    /// `root` is the workshop's folder, `written` the folder that its papers are written to.
    ///
    /// # Errors
    /// The system's, such as [`io::ErrorKind::AddrInUse`] where the port is taken.
    pub fn open(root: &Path, written: &Path, port: u16) -> io::Result<Arc<Viewing>> {
        // Nothing outside this computer can reach this address.
        let listener = std::net::TcpListener::bind((std::net::Ipv4Addr::LOCALHOST, port))?;
        let port = listener.local_addr()?.port();
        let server = Server::from_listener(listener, None).map_err(io::Error::other)?;
        let mut random = [0_u8; 16];
        getrandom::fill(&mut random).map_err(io::Error::other)?;
        let token = random.iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Arc::new(Viewing {
            server,
            port,
            guard: Guard::new(port, token),
            root: root.to_owned(),
            sheets: Sheets::of(written),
            shown: RwLock::default(),
            events: Events::default(),
            enlarger: Enlarger::default(),
        }))
    }

    /// The address of the front page.
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// Whether a file was written, by its path in the written folder.
    pub fn has(&self, path: &str) -> bool {
        self.sheets.file(path).is_some()
    }

    /// Shows what there is to see now, and tells every open page.
    pub fn show(&self, shown: Shown) {
        #[derive(Serialize)]
        struct News<'a> {
            turn: u64,
            written: u64,
            grave: bool,
            words: &'a str,
            closing: &'a str,
        }
        let Shown { turn, written, grave, words, closing, .. } = &shown;
        let news = News { turn: *turn, written: *written, grave: *grave, words, closing };
        let (turn, data) = (*turn, json(&news));
        *self.shown.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(shown);
        self.events.tell(turn, data);
    }

    /// Answers requests from now on, on threads of its own.
    pub fn serve(self: &Arc<Viewing>) {
        for _ in 0..HANDS {
            let viewing = Arc::clone(self);
            thread::spawn(move || {
                while let Ok(request) = viewing.server.recv() {
                    viewing.answer(request);
                }
            });
        }
    }

    fn shown(&self) -> Arc<Shown> {
        Arc::clone(&self.shown.read().unwrap_or_else(PoisonError::into_inner))
    }

    fn answer(self: &Arc<Viewing>, mut request: Request) {
        let address = Address::of(request.url());
        let path = address.as_ref().map_or("", |address| address.path.as_str());
        let changes = path == CHANGE;
        if let Err(refusal) = self.guard.check(request.method(), request.headers(), changes) {
            // Whether the page is still there to hear it is nothing to this server, here and below.
            let _ = Answer::words(refusal.status(), refusal.words()).send(request);
            return;
        }
        let get = matches!(request.method(), Method::Get | Method::Head);
        if get && path == EVENTS {
            let viewing = Arc::clone(self);
            // It listens for as long as the page is open.
            thread::spawn(move || viewing.events.send(request.into_writer()));
            return;
        }
        let answer = match address {
            Some(address) if get => self.page(&address),
            Some(_) => self.change(&mut request),
            None => Answer::words(404, "There is nothing at this address."),
        };
        let _ = answer.send(request);
    }

    fn page(&self, address: &Address) -> Answer {
        let shown = self.shown();
        let asked = |name: &str| address.asked(name).unwrap_or_default();
        let path = address.path.as_str();
        match path {
            "index.html" => return Answer::html(page::front(&shown)),
            "viewing/picker" => {
                return match shown.sight.pieces.iter().find(|piece| piece.folder == asked("piece")) {
                    Some(piece) => Answer::html(page::picker(&shown, piece, self.guard.token())),
                    None => Answer { status: 404, ..Answer::html(page::missing(&shown, path)) },
                };
            }
            "viewing/piece" => {
                return match shown.sight.pieces.iter().find(|piece| piece.folder == asked("piece")) {
                    Some(piece) => {
                        Answer { status: 200, kind: "application/json", bytes: json(piece).into(), to: None }
                    }
                    None => Answer::words(404, "There is no such piece."),
                };
            }
            "viewing/photograph" => return self.photograph(&shown, asked("piece"), asked("photo")),
            _ => {}
        }
        if let Some(name) = path.strip_prefix("viewing/") {
            return match page::asset(name) {
                Some(bytes) => {
                    Answer { status: 200, kind: media_type(name), bytes: bytes.to_vec(), to: None }
                }
                None => Answer::words(404, "There is nothing at this address."),
            };
        }
        match self.sheets.file(path) {
            Some(bytes) if path.ends_with(".html") => {
                Answer::html(page::refreshed(bytes, shown.turn, shown.written))
            }
            Some(bytes) => Answer { status: 200, kind: media_type(path), bytes, to: None },
            None if self.has(&format!("{path}/index.html")) => {
                let to: Vec<String> = path.split('/').map(encoded).collect();
                Answer {
                    to: Some(format!("/{}/", to.join("/"))),
                    ..Answer::words(308, "A folder ends in a slash.")
                }
            }
            None => Answer { status: 404, ..Answer::html(page::missing(&shown, path)) },
        }
    }

    /// The large picture of a photograph.
    fn photograph(&self, shown: &Shown, piece: &str, file: &str) -> Answer {
        let known = shown.sight.pieces.iter().find(|known| known.folder == piece);
        if !known.is_some_and(|piece| piece.photographs.iter().any(|known| known.file == file)) {
            return Answer::words(404, "There is no such photograph.");
        }
        let Ok(bytes) = shown.sight.tree.bytes(&format!("pieces/{piece}/photos/{file}")) else {
            return Answer::words(404, "The photograph is gone.");
        };
        match self.enlarger.picture(&bytes, shown.sight.max_pixels) {
            Ok(picture) => Answer { status: 200, kind: "image/jpeg", bytes: picture.to_vec(), to: None },
            Err(fault) => Answer::words(422, &fault.to_string()),
        }
    }

    /// Shows what a change would make of a record, or writes it.
    fn change(&self, request: &mut Request) -> Answer {
        let mut body = Vec::new();
        let read = request.as_reader().take(LONGEST_CHANGE + 1).read_to_end(&mut body);
        if read.is_err() || body.len() as u64 > LONGEST_CHANGE {
            return Answer::of(
                413,
                &Told { why: Some("this is too much for one change".to_owned()), ..Told::default() },
            );
        }
        let wanted: Wanted = match serde_json::from_slice(&body) {
            Ok(wanted) => wanted,
            Err(error) => return Answer::of(400, &Told { why: Some(error.to_string()), ..Told::default() }),
        };
        let shown = self.shown();
        let Some(piece) = shown.sight.pieces.iter().find(|piece| piece.folder == wanted.piece) else {
            let why = format!("there is no piece `{}` any more", wanted.piece);
            return Answer::of(404, &Told { why: Some(why), ..Told::default() });
        };
        let mut told = Told::default();
        let writes = wanted.seen.is_some();
        told.why = self.changed(&shown, piece, wanted, &mut told).err();
        // What is only to be shown may be unfinished: that is no failure.
        Answer::of(if writes && !told.written { 409 } else { 200 }, &told)
    }

    fn changed(
        &self,
        shown: &Shown,
        piece: &PieceShown,
        wanted: Wanted,
        told: &mut Told,
    ) -> Result<(), String> {
        let change = Change::of(wanted.change).map_err(|why| why.to_string())?;
        told.toml = Some(change.toml());
        told.sizes = shown.sight.sizes(piece, &change);
        // As it is now: an editor may have saved it since it was last read.
        let text =
            shown.sight.tree.read_text(&piece.record).map_err(|why| format!("`{}` {why}", piece.record))?;
        let proposal = Proposal::of(&text, &change).map_err(|why| why.to_string())?;
        if let Some(seen) = wanted.seen {
            if seen.was != proposal.was || seen.becomes != proposal.becomes {
                return Err(format!("`{}` was changed meanwhile; look at it again", piece.record));
            }
            replace(&self.root.join(&piece.record), proposal.text.as_bytes(), &proposal.was)
                .map_err(|error| reasons(&error))?;
            told.written = true;
        }
        told.proposal = Some(proposal);
        Ok(())
    }
}

/// Where pages listen for news.
const EVENTS: &str = "viewing/events";

/// Where changes are sent.
const CHANGE: &str = "viewing/change";

/// What the picker's page wants.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wanted {
    /// The piece's folder.
    piece: String,
    change: Sent,
    /// What was shown and is now to be written; nothing where the change is only to be shown.
    seen: Option<Seen>,
}

/// The record before and after, as the page has seen them.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Seen {
    was: String,
    becomes: String,
}

/// What the picker's page is told.
#[derive(Debug, Default, Serialize)]
struct Told {
    /// The change as TOML of its own.
    toml: Option<String>,
    /// How large each mark is; nothing for one that is no area with a known length.
    sizes: Vec<Option<String>>,
    /// What it makes of the record.
    proposal: Option<Proposal>,
    /// Whether the record was written.
    written: bool,
    /// Why something was not done.
    why: Option<String>,
}

/// An answer that is ready to be sent.
struct Answer {
    status: u16,
    kind: &'static str,
    bytes: Vec<u8>,
    to: Option<String>,
}

impl Answer {
    fn html(page: Vec<u8>) -> Answer {
        Answer { status: 200, kind: "text/html; charset=utf-8", bytes: page, to: None }
    }

    fn words(status: u16, words: &str) -> Answer {
        Answer { status, kind: "text/plain; charset=utf-8", bytes: format!("{words}\n").into(), to: None }
    }

    fn of(status: u16, told: &Told) -> Answer {
        Answer { status, kind: "application/json", bytes: json(told).into(), to: None }
    }

    /// Sends the answer, and lets the page make a new connection for its next request.
    ///
    /// A connection that is kept takes a thread of `tiny_http` 0.12 for as long, and requests that arrive together may
    /// then wait for a thread that never comes free.
    fn send(self, request: Request) -> io::Result<()> {
        let with_body = *request.method() != Method::Head;
        let Answer { status, kind, bytes, to } = self;
        let reason = StatusCode(status).default_reason_phrase();
        let to = to.map_or_else(String::new, |to| format!("Location: {to}\r\n"));
        let length = bytes.len();
        let head = format!(
            "HTTP/1.1 {status} {reason}\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\n{to}{HEADERS}\r\n"
        );
        let mut page = request.into_writer();
        page.write_all(head.as_bytes())?;
        if with_body {
            page.write_all(&bytes)?;
        }
        page.flush()
    }
}

/// What every answer says. What is written next must be seen, and the archive must not stay in the browser.
const HEADERS: &str = "Cache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\nX-Frame-Options: DENY\r\n\
                       Cross-Origin-Resource-Policy: same-origin\r\nCross-Origin-Opener-Policy: same-origin\r\n\
                       Referrer-Policy: no-referrer\r\nConnection: close\r\n";

fn json<T: Serialize>(value: &T) -> String {
    escaped_json(&serde_json::to_string(value).expect("texts and numbers are JSON")).into_owned()
}

/// An error with its causes, on one line.
fn reasons(error: &dyn std::error::Error) -> String {
    let mut words = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        words.push_str(&format!(", because: {error}"));
        cause = error.source();
    }
    words
}
