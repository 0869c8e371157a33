//! Speaking on one of the two streams: colour where it is wanted, and no fuss about a closed pipe.

use std::fmt::Display;
use std::io::{self, IsTerminal, Write};

use console::Term;

use super::Trouble;
use crate::diag::Drawing;

/// How wide text is where the terminal does not say.
const WIDTH: usize = 80;

/// One of the two streams, and what may be sent there.
pub(super) struct Voice {
    stream: Stream,
    terminal: bool,
    colour: bool,
    width: usize,
}

#[derive(Clone, Copy)]
enum Stream {
    Out,
    Err,
}

impl Voice {
    /// The standard output, for what was asked for.
    pub(super) fn out() -> Voice {
        Voice::of(Stream::Out, io::stdout().is_terminal(), &Term::stdout())
    }

    /// The standard error, for everything else.
    pub(super) fn err() -> Voice {
        Voice::of(Stream::Err, io::stderr().is_terminal(), &Term::stderr())
    }

    fn of(stream: Stream, terminal: bool, term: &Term) -> Voice {
        let set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
        let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
        let width = term.size_checked().filter(|_| terminal).map_or(WIDTH, |(_, columns)| columns.into());
        // Narrower than this, nothing could be laid out at all.
        Voice { stream, terminal, colour: terminal && !dumb && !set("NO_COLOR"), width: width.max(40) }
    }

    /// Whether what is said appears on a terminal.
    pub(super) fn terminal(&self) -> bool {
        self.terminal
    }

    /// Columns of the terminal; 80 where there is none.
    pub(super) fn width(&self) -> usize {
        self.width
    }

    /// Columns for running text, which is hard to read where lines are long.
    pub(super) fn text_width(&self) -> usize {
        self.width.min(WIDTH)
    }

    /// Whether colours may be sent.
    pub(super) fn colour(&self) -> bool {
        self.colour
    }

    /// How diagnostics are drawn here.
    pub(super) fn drawing(&self) -> Drawing {
        self.drawing_within(self.width)
    }

    /// The same, for so many columns.
    pub(super) fn drawing_within(&self, width: usize) -> Drawing {
        if self.colour { Drawing::coloured(width) } else { Drawing::plain(width) }
    }

    /// A heading.
    pub(super) fn strong(&self, text: impl Display) -> String {
        self.styled("1", text)
    }

    /// What may be passed over.
    pub(super) fn faint(&self, text: impl Display) -> String {
        self.styled("2", text)
    }

    /// What must not be passed over.
    pub(super) fn alarming(&self, text: impl Display) -> String {
        self.styled("1;31", text)
    }

    fn styled(&self, code: &str, text: impl Display) -> String {
        if self.colour { format!("\x1b[{code}m{text}\x1b[0m") } else { text.to_string() }
    }

    /// Says some lines.
    ///
    /// A closed pipe is no error: whoever reads has read enough.
    ///
    /// # Errors
    /// [`Trouble::Output`] for any other refusal, such as a full disk.
    pub(super) fn say(&self, lines: impl Display) -> Result<(), Trouble> {
        self.send(format!("{lines}\n").as_bytes())
    }

    /// Sends bytes as they are; see [`Voice::say`].
    ///
    /// # Errors
    /// [`Trouble::Output`].
    pub(super) fn send(&self, bytes: &[u8]) -> Result<(), Trouble> {
        let sent = match self.stream {
            Stream::Out => {
                let mut out = io::stdout().lock();
                out.write_all(bytes).and_then(|()| out.flush())
            }
            Stream::Err => io::stderr().lock().write_all(bytes),
        };
        match sent {
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
            sent => sent.map_err(Trouble::Output),
        }
    }
}
