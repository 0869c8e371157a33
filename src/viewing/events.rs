//! Telling open pages that something changed, by server-sent events.

use std::convert::Infallible;
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll, ready};
use std::time::Duration;

use hyper::body::{Body, Bytes, Frame};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};
use tokio::time::timeout;

use super::door::{Stage, Visit};

/// How long a page that hears nothing is left alone; then an empty line shows whether it is still there.
const SILENCE: Duration = Duration::from_secs(20);

/// How many pages may listen at a time: fewer than may be connected, so that there is room left for asking.
const LISTENERS: usize = 32;

/// The latest that there is to tell, and room for those who wait for it.
#[derive(Debug)]
pub(super) struct Events {
    latest: watch::Sender<String>,
    room: Arc<Semaphore>,
}

impl Default for Events {
    fn default() -> Events {
        Events { latest: watch::Sender::default(), room: Arc::new(Semaphore::new(LISTENERS)) }
    }
}

impl Events {
    /// Tells every listener; `news` is one line.
    pub(super) fn tell(&self, news: String) {
        self.latest.send_replace(news);
    }

    /// The latest and everything after it, for as long as the page is there; `None` where too many listen.
    pub(super) fn listen(&self, visit: Arc<Visit>) -> Option<Listening> {
        let room = Arc::clone(&self.room).try_acquire_owned().ok()?;
        let mut news = self.latest.subscribe();
        news.mark_changed();
        // How long a page waits, in ms, before it connects again after it lost the server.
        Some(Listening { next: Box::pin(next(news, "retry: 500\n\n")), visit, _room: room })
    }
}

/// What a listening page is sent: all news, each once, and signs of life.
pub(super) struct Listening {
    next: Pin<Box<dyn Future<Output = Option<Sent>> + Send>>,
    visit: Arc<Visit>,
    /// Held for its place, which another page takes once this one is gone.
    _room: OwnedSemaphorePermit,
}

/// Lines for a page, and who waits for those that follow.
type Sent = (String, watch::Receiver<String>);

/// The next lines, after some that come first; `None` where nobody is left to tell any.
///
/// # Source
/// HTML Living Standard, "Server-sent events": a field `data`, then an empty line; a line that begins with a colon
/// is a comment.
async fn next(mut news: watch::Receiver<String>, first: &'static str) -> Option<Sent> {
    let lines = match timeout(SILENCE, news.changed()).await {
        Ok(changed) => {
            changed.ok()?;
            format!("{first}data: {}\n\n", *news.borrow_and_update())
        }
        Err(_) => ":\n\n".to_owned(),
    };
    Some((lines, news))
}

impl Body for Listening {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        let Some((lines, news)) = ready!(self.next.as_mut().poll(context)) else {
            return Poll::Ready(None);
        };
        self.next = Box::pin(next(news, ""));
        self.visit.comes_to(Stage::Listening);
        Poll::Ready(Some(Ok(Frame::data(lines.into()))))
    }
}
