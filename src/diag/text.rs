//! Drawing a diagnostic for reading: the place, the rank with one sentence, the line with the spot underlined, and what
//! to write instead. Characters that nobody sees are shown.
//!
//! ```text
//! pieces/stool/record.toml, line 4
//!   Mistake: the file has no key `levl`.  (why unknown-key)
//!       levl = "repair"
//!       ‾‾‾‾
//!   To mend: write `level`
//! ```

use std::ops::Range;

use console::measure_text_width;

use super::{Diagnostic, Rank, floor_boundary};
use crate::unit::legible::one_line;
use crate::unit::{beginning, capital, ending, legible, wrapped};

/// What leads in everything below the place.
const INDENT: &str = "  ";

/// What leads in lines that stand in a file, or are to be written into one.
const QUOTED: &str = "      ";

/// Bytes to both sides of a spot that a line is looked at; no terminal shows as much.
const NEAR: usize = 1_000;

/// How diagnostics are drawn: with or without colour, and how wide.
pub struct Drawing {
    width: usize,
    /// How a colour begins; `None` for plain text.
    style: Option<String>,
}

impl Drawing {
    /// Draws with terminal colours, each of which begins with `style` instead of `ESC [`.
    pub fn coloured(width: usize, style: &str) -> Self {
        Drawing { width, style: Some(style.to_owned()) }
    }

    /// Draws plain text.
    pub fn plain(width: usize) -> Self {
        Drawing { width, style: None }
    }

    /// The diagnostic as lines of text without a final newline.
    ///
    /// `source` is the text of the file it is about, where that file is text.
    pub fn draw(&self, diagnostic: &Diagnostic, source: Option<&str>) -> String {
        let path = one_line(&diagnostic.place.path);
        let spot = diagnostic.place.span.zip(source).map(|(span, text)| Spot::of(text, span));
        let place = match &spot {
            Some(spot) => format!("{path}, line {}", spot.line),
            None => path,
        };
        let mut lines = vec![self.styled("1", &place), self.sentence(diagnostic)];
        if let Some(spot) = spot {
            let [before, marked, after] = spot.fitted(self.width.saturating_sub(QUOTED.len()).max(20));
            let blank = " ".repeat(measure_text_width(&before));
            let line = "‾".repeat(measure_text_width(&marked).max(1));
            lines.push(format!("{QUOTED}{before}{marked}{after}").trim_end().to_owned());
            lines.push(format!("{QUOTED}{blank}{}", self.styled(colour(diagnostic.rank()), &line)));
        }
        lines.extend(self.cure(&diagnostic.help));
        lines.join("\n")
    }

    /// The rank, what is wrong, and by which name more can be asked about it.
    fn sentence(&self, diagnostic: &Diagnostic) -> String {
        let rank = format!("{}:", capital(diagnostic.rank().word()));
        let message = legible(diagnostic.message.trim_end());
        let stop = if message.ends_with(['.', '?', '!', '…']) { "" } else { "." };
        let text = wrapped(&format!("{rank} {message}{stop}"), self.room(), INDENT);
        let why = format!("(why {})", diagnostic.code.name);
        let last = measure_text_width(text.lines().last().unwrap_or_default().trim_start());
        let gap = if last + 2 + why.len() > self.room() { format!("\n{INDENT}") } else { "  ".to_owned() };
        let text = text.replacen(&rank, &self.styled(colour(diagnostic.rank()), &rank), 1);
        format!("{INDENT}{text}{gap}{}", self.styled("2", &why))
    }

    /// What to write instead: a sentence, and under it lines to be written as they stand.
    fn cure(&self, help: &str) -> Vec<String> {
        const LABEL: &str = "To mend:";
        let help = legible(help);
        let mut lines = help.lines();
        let Some(first) = lines.next() else { return Vec::new() };
        let text = wrapped(&format!("{LABEL} {first}"), self.room(), INDENT);
        let text = text.replacen(LABEL, &self.styled("1", LABEL), 1);
        let quoted = lines.map(|line| format!("{QUOTED}{line}"));
        [format!("{INDENT}{text}")].into_iter().chain(quoted).collect()
    }

    /// Columns for running text.
    fn room(&self) -> usize {
        self.width.saturating_sub(INDENT.len()).max(30)
    }

    fn styled(&self, code: &str, text: &str) -> String {
        match &self.style {
            Some(style) => format!("{style}{code}m{text}{style}0m"),
            None => text.to_owned(),
        }
    }
}

/// The colour of a rank, as terminals number it.
fn colour(rank: Rank) -> &'static str {
    match rank {
        Rank::Mistake => "1;31",
        Rank::Doubt => "1;33",
        Rank::Hint => "1;36",
    }
}

/// A place in a text: its line, and what stands in that line before it, in it and after it, made legible.
struct Spot {
    line: usize,
    before: String,
    marked: String,
    after: String,
}

impl Spot {
    /// The first line of a byte range; a whole table would be too much to show.
    fn of(text: &str, (start, end): (usize, usize)) -> Spot {
        let start = floor_boundary(text, start);
        let head = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
        let tail = text[start..].find('\n').map_or(text.len(), |newline| start + newline);
        let tail = head + text[head..tail].strip_suffix('\r').map_or(tail - head, str::len);
        let start = start.min(tail);
        let end = floor_boundary(text, end).clamp(start, tail);
        let shown = near(text, head..tail, start..end);
        // What leads a line in says nothing here.
        let lead = text[shown.start..start].len() - text[shown.start..start].trim_start().len();
        let cut = |cut: bool| if cut { "…" } else { "" };
        let flat = |text: &str| legible(text).replace('\t', "    ");
        Spot {
            line: memchr::memchr_iter(b'\n', &text.as_bytes()[..head]).count() + 1,
            before: format!("{}{}", cut(shown.start > head), flat(&text[shown.start + lead..start])),
            marked: flat(&text[start..end.min(shown.end)]),
            after: format!("{}{}", flat(&text[end.min(shown.end)..shown.end]), cut(shown.end < tail)),
        }
    }

    /// What stands before, in and after it, in so many columns: what is farthest from it gives way.
    fn fitted(self, width: usize) -> [String; 3] {
        let Spot { before, marked, after, .. } = self;
        let [left, right] = [&before, &after].map(|text| measure_text_width(text));
        // At least a little is left for what is around it.
        let marked = begun(&marked, width.saturating_sub(left.min(8) + right.min(8)));
        let rest = width - measure_text_width(&marked).max(1);
        let left = left.min(rest.saturating_sub(right).max(rest / 2));
        let before = match measure_text_width(&before) > left {
            true => format!("…{}", ending(&before, left.saturating_sub(1))),
            false => before,
        };
        let after = begun(&after, rest - measure_text_width(&before));
        [before, marked, after]
    }
}

/// A text, or as much of its beginning as so many columns hold with a sign that more follows.
fn begun(text: &str, width: usize) -> String {
    match measure_text_width(text) > width {
        true if width > 0 => format!("{}…", beginning(text, width - 1)),
        true => String::new(),
        false => text.to_owned(),
    }
}

/// The part of a very long line that is near to what is marked in it.
fn near(text: &str, line: Range<usize>, marked: Range<usize>) -> Range<usize> {
    let start = floor_boundary(text, marked.start.saturating_sub(NEAR)).max(line.start);
    let end = floor_boundary(text, (marked.start + NEAR).max(marked.end.min(marked.start + 2 * NEAR)));
    start..end.clamp(marked.start, line.end)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::diag::{Code, Place};

    static CODE: Code = Code { name: "a-code", rank: Rank::Doubt, why: "", fix: "" };

    /// The drawing of a diagnostic about a part of a text.
    fn drawn(text: &str, spot: &str, width: usize) -> String {
        let start = text.find(spot).unwrap();
        let place = Place::at("record.toml", &(start..start + spot.len()));
        Drawing::plain(width).draw(&Diagnostic::new(&CODE, place, "it is odd"), Some(text))
    }

    /// The two lines of the source and of what underlines it.
    fn quoted(text: &str, spot: &str, width: usize) -> String {
        drawn(text, spot, width).lines().skip(2).map(|line| format!("{line}\n")).collect()
    }

    #[test]
    fn the_place_comes_first_and_the_cure_last() {
        let text = "a = 1\n  b = \"x\"\r\nc = 2\n";
        let told = Diagnostic::new(&CODE, Place::at("p/record.toml", &(8..9)), "there is no key `b`");
        let told = told.help("add\n[[photo]]\n  file = \"x\"");
        assert_eq!(
            Drawing::plain(80).draw(&told, Some(text)),
            "\
p/record.toml, line 2
  Doubt: there is no key `b`.  (why a-code)
      b = \"x\"
      ‾
  To mend: add
      [[photo]]
        file = \"x\""
        );
        let coloured = Drawing::coloured(80, "\x1b[").draw(&told, Some(text));
        assert_eq!(console::strip_ansi_codes(&coloured), Drawing::plain(80).draw(&told, Some(text)));
    }

    #[test]
    fn a_file_as_a_whole_has_no_line() {
        let told = Diagnostic::new(&CODE, Place::file("photos/a.jpg"), "is this it?");
        let plain = Drawing::plain(80).draw(&told, None);
        assert_eq!(plain, "photos/a.jpg\n  Doubt: is this it?  (why a-code)");
    }

    #[test]
    fn a_long_sentence_is_broken_and_the_name_stays_whole() {
        let told = Diagnostic::new(&CODE, Place::file("a"), "one word after another ".repeat(3));
        assert_eq!(
            Drawing::plain(40).draw(&told, None),
            "a\n  Doubt: one word after another one word\n  after another one word after another.\n  (why a-code)"
        );
    }

    #[test]
    fn tabs_wide_and_combined_characters_are_underlined_in_their_place() {
        assert_eq!(quoted("\ta\t= b", "b", 80), "      a    = b\n             ‾\n");
        assert_eq!(quoted("木 = \"の\" # の家", "\"の\"", 80), "      木 = \"の\" # の家\n           ‾‾‾‾\n");
        assert_eq!(quoted("e\u{301}e\u{301} = x", "x", 80), "      e\u{301}e\u{301} = x\n           ‾\n");
        assert_eq!(quoted("a\u{7} = x", "x", 80), "      a‹U+0007› = x\n                  ‾\n");
        assert_eq!(quoted("a = x\r\n", "\r\n", 80), "      a = x\n           ‾\n", "an end of a line");
    }

    #[test]
    fn of_a_long_line_only_what_is_near_is_shown() {
        let long = "x ".repeat(40);
        assert_eq!(
            quoted(&format!("{long}spot {long}"), "spot", 40),
            "      …x x x x x x x spot x x x x x x x…\n                     ‾‾‾‾\n"
        );
        assert_eq!(
            quoted(&format!("spot {long}"), "spot", 40),
            "      spot x x x x x x x x x x x x x x …\n      ‾‾‾‾\n"
        );
        let whole = "y".repeat(100_000);
        let shown = quoted(&format!("a = {whole} b"), &whole, 40);
        assert!(shown.starts_with("      a = yyyy") && shown.len() < 200, "{shown}");
    }

    proptest! {
        #[test]
        fn any_spot_of_any_text_is_drawn_within_its_width(
            text in "[a-z \\t\\n\\r\u{301}木\u{202e}👩🔧\u{200d}é=\"]{0,300}",
            start in 0_usize..400,
            length in 0_usize..400,
            width in 40_usize..120,
        ) {
            let place = Place::at("record.toml", &(start..start + length));
            let drawn = Drawing::plain(width).draw(&Diagnostic::new(&CODE, place, "it is odd"), Some(&text));
            let lines: Vec<&str> = drawn.lines().collect();
            prop_assert_eq!(lines.len(), 4);
            for line in lines {
                prop_assert!(measure_text_width(line) <= width, "{}", drawn);
            }
        }
    }
}
