//! Speaking on one of the two streams: colour where it is wanted, and no fuss about a closed pipe.
//!
//! Everything that is said goes through [`Voice::print`], which shows control characters instead of sending them: a
//! name of a file or a text of a record must not move the cursor. Our own colours pass because each begins with a
//! number that was drawn when the program started, which no text can hold.

use std::fmt::Display;
use std::hash::{BuildHasher, RandomState};
use std::io::{self, IsTerminal, Write};
use std::sync::LazyLock;

use console::Term;

use super::Trouble;
use crate::diag::Drawing;
use crate::unit::legible;

/// How wide text is where the terminal does not say.
const WIDTH: usize = 80;

/// How our own colours begin until they are sent: as those of a terminal do, so that nothing that measures text counts
/// them, with numbers of three digits that were drawn.
static STYLE: LazyLock<String> = LazyLock::new(|| {
    let mut drawn = RandomState::new().hash_one(());
    let mut style = "\x1b[".to_owned();
    for _ in 0..6 {
        style.push_str(&format!("{:03};", drawn % 1000));
        drawn /= 1000;
    }
    style
});

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
        if self.colour { Drawing::coloured(width, &STYLE) } else { Drawing::plain(width) }
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

    /// What must be dark on light, whatever the terminal's colours are.
    pub(super) fn printed(&self, text: impl Display) -> String {
        self.styled("38;5;16;48;5;231", text)
    }

    fn styled(&self, code: &str, text: impl Display) -> String {
        if self.colour { format!("{0}{code}m{text}{0}0m", *STYLE) } else { text.to_string() }
    }

    /// Says some lines.
    ///
    /// A closed pipe is no error: whoever reads has read enough.
    ///
    /// # Errors
    /// [`Trouble::Output`] for any other refusal, such as a full disk.
    pub(super) fn say(&self, lines: impl Display) -> Result<(), Trouble> {
        self.print(&format!("{lines}\n"))
    }

    /// The same for text that ends its last line itself.
    ///
    /// # Errors
    /// [`Trouble::Output`].
    pub(super) fn print(&self, text: &str) -> Result<(), Trouble> {
        let text = sendable(text);
        let bytes = text.as_bytes();
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

/// Text as it may be sent: our own colours as a terminal takes them, and every other control character shown.
fn sendable(text: &str) -> String {
    text.split(STYLE.as_str()).map(legible).collect::<Vec<_>>().join("\x1b[")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn coloured() -> Voice {
        Voice { stream: Stream::Out, terminal: true, colour: true, width: WIDTH }
    }

    #[test]
    fn our_own_colours_are_sent_and_those_of_a_text_are_shown() {
        let said = coloured().strong("oak \x1b[31mred\u{9b}2J\u{202e}");
        assert_eq!(sendable(&said), "\x1b[1moak ‹U+001B›[31mred‹U+009B›2J‹U+202E›\x1b[0m");
        assert_eq!(console::measure_text_width(&coloured().alarming("oak")), 3);
    }

    #[test]
    fn a_drawing_is_coloured_and_shows_what_a_record_holds() {
        use crate::diag::{Code, Diagnostic, Place, Rank};
        static CODE: Code = Code { name: "a-code", rank: Rank::Mistake, why: "", fix: "" };
        let source = "x\u{7} = \"\u{9b}äö\u{200f}\"\r\n";
        let place = Place::at("pieces/\u{1b}]0;a/record.toml", &(6..15));
        let told = Diagnostic::new(&CODE, place, "no \u{1b}[2J").help("write \u{202e}");
        let drawn = sendable(&coloured().drawing().draw(&told, Some(source)));
        assert!(drawn.contains("\x1b[0m"), "{drawn:?}");
        for (shown, times) in
            [("‹U+001B›", 2), ("‹U+0007›", 1), ("‹U+009B›", 1), ("‹U+200F›", 1), ("‹U+202E›", 1)]
        {
            assert_eq!(drawn.matches(shown).count(), times, "{shown}: {drawn:?}");
        }
        assert!(
            !drawn.contains(['\u{7}', '\u{9b}', '\u{202e}', '\r']) && !drawn.contains("\x1b]"),
            "{drawn:?}"
        );
        let plain = Drawing::plain(80).draw(&told, Some(source));
        assert_eq!(sendable(&plain), plain, "a drawing is fit for a page by itself");
        assert!(
            plain.contains(&format!(" {}\n", "‾".repeat("‹U+009B›äö‹U+200F›".chars().count()))),
            "{plain}"
        );
    }
}
