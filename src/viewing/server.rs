//! The server: written files, the viewing's own pages, and the one way to change a record.

use std::io;
use std::net::{Ipv4Addr, TcpListener};
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};

use http_body_util::BodyExt;
use hyper::body::{Body, Incoming};
use hyper::{Method, Request, Response};
use serde::{Deserialize, Serialize};
use tokio::sync::Semaphore;
use tokio::task::spawn_blocking;

use super::address::{Address, encoded, media_type};
use super::answer::{self, Answer, Content, json};
use super::asked::Written;
use super::change::{Change, Sent};
use super::desk::{DESK, Room};
use super::door::{self, Host, Stage, Visit};
use super::enlarger::Enlarger;
use super::events::Events;
use super::guard::{Changes, Guard};
use super::page;
use super::proposal::Proposal;
use super::shown::{PieceShown, Shown};
use crate::source::Sheets;
use crate::write::replace;

/// How many answers are worked out at the same time.
const HANDS: usize = 6;

/// The longest change that is read, in bytes: some ten thousand points.
const LONGEST_CHANGE: usize = 1_000_000;

/// A server on this computer, for whoever on it has its address.
pub struct Viewing {
    listener: TcpListener,
    guard: Guard,
    root: PathBuf,
    archive: Written,
    shown: RwLock<Arc<Shown>>,
    events: Events,
    enlarger: Enlarger,
    hands: Arc<Semaphore>,
    /// What was written from records' pages.
    written: super::desk::Written,
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
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))?;
        let port = listener.local_addr()?.port();
        Ok(Arc::new(Viewing {
            listener,
            guard: Guard::new(port, unguessable()?, unguessable()?),
            root: root.to_owned(),
            archive: Written::below(written),
            shown: RwLock::default(),
            events: Events::default(),
            enlarger: Enlarger::default(),
            hands: Arc::new(Semaphore::new(HANDS)),
            written: super::desk::Written::default(),
        }))
    }

    /// The address of the front page, which holds the key to all others.
    pub fn address(&self) -> String {
        self.guard.address()
    }

    /// The port that it hears on.
    pub fn port(&self) -> u16 {
        self.listener.local_addr().map_or(0, |address| address.port())
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
        let news = json(&News { turn: *turn, written: *written, grave: *grave, words, closing });
        *self.shown.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(shown);
        self.events.tell(news);
    }

    /// Hands out the written files from here on as they stand, which no page is told of.
    pub fn stand(&self, sheets: Sheets) {
        let mut shown = self.shown.write().unwrap_or_else(PoisonError::into_inner);
        let now = Shown { sheets, ..Shown::clone(&shown) };
        *shown = Arc::new(now);
    }

    /// Answers requests from now on, on threads of its own.
    ///
    /// # Errors
    /// The system's, where it gives no thread.
    pub fn serve(self: &Arc<Viewing>) -> io::Result<()> {
        door::open(self.listener.try_clone()?, Arc::clone(self))
    }

    fn shown(&self) -> Arc<Shown> {
        Arc::clone(&self.shown.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// Answers one request: first of all, by whether it may be made.
    async fn answer(self: Arc<Viewing>, request: Request<Incoming>, visit: Arc<Visit>) -> Response<Content> {
        let (asked, body) = request.into_parts();
        let Some(target) = self.guard.opened(&asked.uri) else {
            return Answer::nothing().response();
        };
        let address = Address::of(target);
        let path = address.as_ref().map_or("", |address| address.path.as_str());
        let changes = match path {
            CHANGE => Changes::ByScript,
            DESK => Changes::ByForm,
            _ => Changes::Nothing,
        };
        if let Err(refusal) = self.guard.check(&asked.method, &asked.headers, changes) {
            return Answer::words(refusal.status(), refusal.words()).response();
        }
        let looks = matches!(asked.method, Method::GET | Method::HEAD);
        if looks && path == EVENTS {
            return match self.events.listen(visit) {
                Some(listening) => answer::news(listening),
                None => Answer::words(503, "Too many pages listen already: close some.").response(),
            };
        }
        let answer = match address {
            Some(address) if looks => self.worked_out(&visit, move |viewing| viewing.page(&address)).await,
            Some(address) => {
                visit.comes_to(Stage::Sending);
                match whole(body).await {
                    Ok(body) if address.path == DESK => {
                        self.worked_out(&visit, move |viewing| viewing.desk(&viewing.shown()).posted(&body))
                            .await
                    }
                    Ok(body) => self.worked_out(&visit, move |viewing| viewing.change(&body)).await,
                    Err(refused) => refused,
                }
            }
            None => Answer::nothing(),
        };
        visit.comes_to(Stage::Taking);
        answer.response()
    }

    /// Works an answer out on a thread of its own, once one of the few is free. A page that cannot be made takes none of
    /// the others with it.
    async fn worked_out(
        self: &Arc<Viewing>,
        visit: &Visit,
        work: impl FnOnce(&Viewing) -> Answer + Send + 'static,
    ) -> Answer {
        visit.comes_to(Stage::Waiting);
        let hand = Arc::clone(&self.hands).acquire_owned().await;
        let viewing = Arc::clone(self);
        let worked = spawn_blocking(move || {
            // Held until the work is done, even where nobody waits for it any more.
            let _hand = hand;
            work(&viewing)
        });
        worked.await.unwrap_or_else(|_| {
            Answer::words(500, "This cannot be shown; the terminal says what went wrong.")
        })
    }

    fn page(&self, address: &Address) -> Answer {
        let shown = self.shown();
        let asked = |name: &str| address.asked(name).unwrap_or_default();
        let (path, home) = (address.path.as_str(), self.guard.home());
        match path {
            "index.html" => return Answer::html(page::front(home, &shown)),
            "viewing/picker" => {
                return match shown.sight.pieces.iter().find(|piece| piece.folder == asked("piece")) {
                    Some(piece) => Answer::html(page::picker(home, &shown, piece, self.guard.token())),
                    None => Answer { status: 404, ..Answer::html(page::missing(home, &shown, path)) },
                };
            }
            "viewing/piece" => {
                return match shown.sight.pieces.iter().find(|piece| piece.folder == asked("piece")) {
                    Some(piece) => Answer::json(200, piece),
                    None => Answer::words(404, "There is no such piece."),
                };
            }
            "viewing/words" => {
                return match self.archive.words(&shown, asked("words")) {
                    Some(found) => Answer::json(200, &found),
                    None => Answer::words(404, "The archive was not written yet."),
                };
            }
            "viewing/recipes" => {
                return match self.archive.recipes(&shown, address) {
                    Ok(near) => Answer::json(200, &near),
                    Err(why) => Answer::words(422, why),
                };
            }
            DESK => return self.desk(&shown).page(&|name| address.asked(name).map(str::to_owned)),
            "viewing/photograph" => return self.photograph(&shown, address),
            _ => {}
        }
        if let Some(name) = path.strip_prefix("viewing/") {
            return match page::asset(name) {
                Some(bytes) => {
                    Answer { status: 200, kind: media_type(name), bytes: bytes.to_vec(), to: None }
                }
                None => Answer::nothing(),
            };
        }
        match shown.sheets.file(path) {
            Some(bytes) if path.ends_with(".html") => Answer::html(page::refreshed(home, bytes, &shown)),
            Some(bytes) => Answer { status: 200, kind: media_type(path), bytes, to: None },
            None if shown.sheets.has(&format!("{path}/index.html")) => {
                let to: Vec<String> = path.split('/').map(encoded).collect();
                Answer {
                    to: Some(format!("{home}{}/", to.join("/"))),
                    ..Answer::words(308, "A folder ends in a slash.")
                }
            }
            None => Answer { status: 404, ..Answer::html(page::missing(home, &shown, path)) },
        }
    }

    /// The pages of records.
    fn desk<'a>(&'a self, shown: &'a Shown) -> Room<'a> {
        Room {
            root: &self.root,
            home: self.guard.home(),
            token: self.guard.token(),
            shown,
            written: &self.written,
        }
    }

    /// The large picture of a photograph, or a small one.
    fn photograph(&self, shown: &Shown, address: &Address) -> Answer {
        let asked = |name: &str| address.asked(name).unwrap_or_default();
        let (piece, file) = (asked("piece"), asked("photo"));
        let known = shown.sight.pieces.iter().find(|known| known.folder == piece);
        let known = known.and_then(|piece| piece.photographs.iter().find(|known| known.file == file));
        let Some(known) = known else { return Answer::words(404, "There is no such photograph.") };
        let jpeg = |bytes: Vec<u8>| Answer { status: 200, kind: "image/jpeg", bytes, to: None };
        let small = address.asked("small").is_some();
        // Developed already, as long as the papers are those of what is shown.
        if let Some(picture) = small.then(|| shown.sheets.file(&known.small)).flatten() {
            return jpeg(picture);
        }
        let Ok(bytes) = shown.sight.tree.bytes(&known.path) else {
            return Answer::words(404, "The photograph is gone.");
        };
        let most = shown.sight.max_pixels;
        let picture = match small {
            true => self.enlarger.small(&bytes, most),
            false => self.enlarger.picture(&bytes, most),
        };
        match picture {
            Ok(picture) => jpeg(picture.to_vec()),
            Err(fault) => Answer::words(422, &fault.to_string()),
        }
    }

    /// Shows what a change would make of a record, or writes it.
    fn change(&self, body: &[u8]) -> Answer {
        let wanted: Wanted = match serde_json::from_slice(body) {
            Ok(wanted) => wanted,
            Err(error) => return Told::refusal(400, error.to_string()),
        };
        let shown = self.shown();
        let Some(piece) = shown.sight.pieces.iter().find(|piece| piece.folder == wanted.piece) else {
            return Told::refusal(404, format!("there is no piece `{}` any more", wanted.piece));
        };
        let mut told = Told::default();
        let writes = wanted.seen.is_some();
        told.why = self.changed(&shown, piece, wanted, &mut told).err();
        // What is only to be shown may be unfinished: that is no failure.
        Answer::json(if writes && !told.written { 409 } else { 200 }, &told)
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

impl Host for Viewing {
    fn answered(
        self: Arc<Self>,
        request: Request<Incoming>,
        visit: Arc<Visit>,
    ) -> impl Future<Output = Response<Content>> + Send {
        self.answer(request, visit)
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

impl Told {
    fn refusal(status: u16, why: String) -> Answer {
        Answer::json(status, &Told { why: Some(why), ..Told::default() })
    }
}

/// What is sent after the head of a request, once it is all there; or why it is not read.
async fn whole(mut body: Incoming) -> Result<Vec<u8>, Answer> {
    let too_much = || Told::refusal(413, "this is too much for one change".to_owned());
    // A length that is said beforehand is believed where it is too long, and never where room is made for it.
    if body.size_hint().lower() > LONGEST_CHANGE as u64 {
        return Err(too_much());
    }
    let mut bytes = Vec::new();
    while let Some(frame) = body.frame().await {
        let Ok(frame) = frame else {
            return Err(Told::refusal(400, "the change was cut short; send it again".to_owned()));
        };
        let data = frame.into_data().unwrap_or_default();
        if bytes.len() + data.len() > LONGEST_CHANGE {
            return Err(too_much());
        }
        bytes.extend_from_slice(&data);
    }
    Ok(bytes)
}

/// Text that nobody guesses: 128 random bits as 32 letters.
pub(super) fn unguessable() -> io::Result<String> {
    let mut random = [0_u8; 16];
    getrandom::fill(&mut random).map_err(io::Error::other)?;
    let letter = |half: u8| char::from(b'a' + half);
    Ok(random.iter().flat_map(|byte| [letter(byte >> 4), letter(byte & 15)]).collect())
}

/// An error with its causes, on one line.
pub(super) fn reasons(error: &dyn std::error::Error) -> String {
    let mut words = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        words.push_str(&format!(", because: {error}"));
        cause = error.source();
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_that_cannot_be_made_takes_no_other_with_it() {
        let home = tempfile::tempdir().unwrap();
        let viewing = Viewing::open(home.path(), home.path(), 0).unwrap();
        let visit = Visit::new();
        tokio::runtime::Builder::new_current_thread().build().unwrap().block_on(async {
            for _ in 0..2 * HANDS {
                // A panic that says nothing, since the test is no trouble.
                let broken = viewing.worked_out(&visit, |_| std::panic::resume_unwind(Box::new(())));
                assert_eq!(broken.await.status, 500);
            }
            assert_eq!(viewing.worked_out(&visit, |_| Answer::words(200, "whole")).await.status, 200);
        });
    }

    #[test]
    fn what_nobody_guesses_is_made_of_letters_and_never_the_same() {
        let (one, other) = (unguessable().unwrap(), unguessable().unwrap());
        assert!(one.len() == 32 && one.bytes().all(|letter| (b'a'..=b'p').contains(&letter)), "{one}");
        assert_ne!(one, other);
    }
}
