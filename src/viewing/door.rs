//! The door: which connections are open, and how long each may take.
//!
//! Every user of this computer can knock here, and nothing is known of one who does until the head of a request is
//! there. So all is bounded from the first byte on: how many are in, how long a head is, and how long each stage of a
//! visit takes. A connection carries one request, so that nothing that is sent behind it is ever read as another.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;
use std::{io, net, thread};

use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Request, Response};
use hyper_util::rt::TokioIo;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::runtime;
use tokio::sync::watch;
use tokio::task::{AbortHandle, yield_now};
use tokio::time::{sleep, timeout};

use super::answer::Content;

/// Who answers at a door.
pub(super) trait Host: Send + Sync + 'static {
    /// Answers one request: first of all, by whether it may be made.
    fn answered(
        self: Arc<Self>,
        request: Request<Incoming>,
        visit: Arc<Visit>,
    ) -> impl Future<Output = Response<Content>> + Send;
}

/// How many connections are open at the most; one that waits for its own side makes way for the next.
const OPEN: usize = 64;

/// The longest head of a request in bytes, and the most headers in it. Browsers send some 15 in less than 2 kB.
const LONGEST_HEAD: usize = 16 * 1024;
const MOST_HEADERS: usize = 64;

/// How long, and up to how many bytes, what is still sent after an answer is thrown away. A connection that is closed on
/// unread bytes is reset, and the answer could be lost with it.
const LINGERING: Duration = Duration::from_secs(2);
const LINGERING_BYTES: u64 = 8_000_000;

/// How long no connection is taken after one could not be, as when too many files are open.
const PAUSE: Duration = Duration::from_millis(100);

/// How far a visit has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stage {
    /// It has not shown the key.
    Knocking,
    /// It sends what is to be changed.
    Sending,
    /// It waits for this server.
    Waiting,
    /// It takes its answer.
    Taking,
    /// It listens for news.
    Listening,
}

impl Stage {
    /// How long a visit may stay in it.
    fn time(self) -> Duration {
        Duration::from_secs(match self {
            Stage::Knocking => 10,
            Stage::Sending => 20,
            // Its turn comes, and then the largest photograph takes its time.
            Stage::Waiting => 600,
            Stage::Taking => 60,
            // Three signs of life that were not taken.
            Stage::Listening => 60,
        })
    }

    /// In which order visits make way; `None` for one that does not.
    fn makes_way(self) -> Option<u8> {
        match self {
            Stage::Knocking => Some(0),
            Stage::Sending | Stage::Taking => Some(1),
            Stage::Waiting | Stage::Listening => None,
        }
    }
}

/// One connection, by the stage that it has come to.
#[derive(Debug)]
pub(super) struct Visit(watch::Sender<Stage>);

impl Visit {
    pub(super) fn new() -> Arc<Visit> {
        Arc::new(Visit(watch::Sender::new(Stage::Knocking)))
    }

    /// Notes that it comes to a stage, whose time begins now, even where it was in it.
    pub(super) fn comes_to(&self, stage: Stage) {
        self.0.send_replace(stage);
    }

    /// Waits until it was in one stage for too long.
    async fn overstayed(&self) {
        let mut stage = self.0.subscribe();
        loop {
            let time = stage.borrow_and_update().time();
            if timeout(time, stage.changed()).await.is_err() {
                return;
            }
        }
    }
}

/// Lets requests in from now on, on a thread of its own.
///
/// # Errors
/// The system's, where it gives no thread or no notice of what arrives.
pub(super) fn open<H: Host>(listener: net::TcpListener, host: Arc<H>) -> io::Result<()> {
    listener.set_nonblocking(true)?;
    let runtime = runtime::Builder::new_current_thread().enable_io().enable_time().build()?;
    let entered = runtime.enter();
    let listener = TcpListener::from_std(listener)?;
    drop(entered);
    thread::Builder::new()
        .name("viewing".to_owned())
        .spawn(move || runtime.block_on(receive(&listener, &host)))?;
    Ok(())
}

async fn receive<H: Host>(listener: &TcpListener, host: &Arc<H>) {
    let mut visits: Vec<(Arc<Visit>, AbortHandle)> = Vec::with_capacity(OPEN);
    loop {
        let Ok((stream, _)) = listener.accept().await else {
            sleep(PAUSE).await;
            continue;
        };
        visits.retain(|(_, task)| !task.is_finished());
        if visits.len() >= OPEN {
            let stages = visits.iter().map(|(visit, _)| *visit.0.borrow());
            let Some(oldest) = makes_way(stages) else { continue };
            visits.remove(oldest).1.abort();
        }
        let visit = Visit::new();
        let task = tokio::spawn(attend(stream, Arc::clone(host), Arc::clone(&visit)));
        visits.push((visit, task.abort_handle()));
        // What it has sent already is heard before the next one comes in, which it might have to make way for.
        yield_now().await;
    }
}

/// Which of these visits, the oldest first, makes way for another.
fn makes_way(stages: impl Iterator<Item = Stage>) -> Option<usize> {
    let ranked = stages.enumerate().filter_map(|(place, stage)| Some((stage.makes_way()?, place)));
    ranked.min().map(|(_, place)| place)
}

async fn attend<H: Host>(stream: TcpStream, host: Arc<H>, visit: Arc<Visit>) {
    let answer = service_fn(|request| {
        let (host, visit) = (Arc::clone(&host), Arc::clone(&visit));
        async move { Ok::<_, Infallible>(host.answered(request, visit).await) }
    });
    let connection = http1::Builder::new()
        .keep_alive(false)
        .max_headers(MOST_HEADERS)
        .max_buf_size(LONGEST_HEAD)
        .serve_connection(TokioIo::new(stream), answer)
        .without_shutdown();
    let answered = tokio::select! {
        answered = connection => answered,
        () = visit.overstayed() => return,
    };
    // Whether the page was still there to hear it is nothing to this server.
    if let Ok(parts) = answered {
        let _ = timeout(LINGERING, linger(parts.io.into_inner())).await;
    }
}

/// Ends the own side of a connection, and waits for the other to end its own.
async fn linger(mut stream: TcpStream) -> io::Result<()> {
    stream.shutdown().await?;
    tokio::io::copy(&mut stream.take(LINGERING_BYTES), &mut tokio::io::sink()).await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_oldest_that_has_shown_no_key_makes_way_first() {
        use Stage::{Knocking, Listening, Sending, Taking, Waiting};
        let case =
            |stages: &[Stage], place| assert_eq!(makes_way(stages.iter().copied()), place, "{stages:?}");
        case(&[Sending, Knocking, Knocking], Some(1));
        case(&[Listening, Waiting, Taking, Sending], Some(2));
        case(&[Listening, Waiting], None);
    }
}
