//! Telling open pages that something changed, by server-sent events.

use std::io::{self, Write};
use std::sync::{Condvar, Mutex, PoisonError};
use std::time::Duration;

/// How long a page that hears nothing is left alone; then an empty line shows whether it is still there.
const SILENCE: Duration = Duration::from_secs(20);

/// How many pages may listen at a time. Each takes a thread that sleeps.
const LISTENERS: usize = 64;

/// The latest that there is to tell, and who waits for it.
#[derive(Debug, Default)]
pub(super) struct Events {
    state: Mutex<State>,
    news: Condvar,
}

#[derive(Debug, Default)]
struct State {
    turn: u64,
    data: String,
    listeners: usize,
}

impl Events {
    /// Tells every listener; `data` is one line.
    pub(super) fn tell(&self, turn: u64, data: String) {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        (state.turn, state.data) = (turn, data);
        self.news.notify_all();
    }

    /// Sends the latest and everything after it, until the page is gone.
    ///
    /// # Source
    /// HTML Living Standard, "Server-sent events": a field `data`, then an empty line; a line that begins with a colon
    /// is a comment.
    pub(super) fn send(&self, mut page: Box<dyn Write + Send>) -> io::Result<()> {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        if state.listeners >= LISTENERS {
            return page.write_all(
                b"HTTP/1.1 503 Service Unavailable\r\nContent-Length: 0\r\nConnection: close\r\n\r\n",
            );
        }
        state.listeners += 1;
        drop(state);
        let sent = self.tell_one(&mut page);
        self.state.lock().unwrap_or_else(PoisonError::into_inner).listeners -= 1;
        sent
    }

    fn tell_one(&self, page: &mut dyn Write) -> io::Result<()> {
        page.write_all(
            b"HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\nCache-Control: no-store\r\n\
              X-Content-Type-Options: nosniff\r\nConnection: close\r\n\r\nretry: 500\n\n",
        )?;
        let mut told = None;
        loop {
            let state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
            let new = |state: &mut State| told == Some(state.turn);
            let (state, _) =
                self.news.wait_timeout_while(state, SILENCE, new).unwrap_or_else(PoisonError::into_inner);
            let line = if told == Some(state.turn) {
                ":\n\n".to_owned()
            } else {
                format!("data: {}\n\n", state.data)
            };
            told = Some(state.turn);
            // A page that is slow to listen must not keep the others waiting.
            drop(state);
            page.write_all(line.as_bytes())?;
            page.flush()?;
        }
    }
}
