//! A TOML text cut into statements, so that a break in one costs no other: a section's header, a key with its value, or
//! lines that are neither.

use std::ops::Range;

/// One statement of a text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Statement {
    /// Its bytes, without white space around it and without a newline at its end.
    pub(super) span: Range<usize>,
    /// Where the header begins that it stands under, or that it is.
    pub(super) section: Option<usize>,
    pub(super) kind: Kind,
}

/// What a statement is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Kind {
    /// The header of a section: its name within the text, and whether it has two brackets on either side.
    Header { name: Range<usize>, list: bool },
    /// A key, and the sign between it and its value: of no length where there is none.
    Entry { key: Range<usize>, sign: Range<usize> },
    /// A comment, or lines that are neither.
    Stray,
}

/// Cuts a text into its statements. Blank lines belong to none.
pub(super) fn split(text: &str) -> Vec<Statement> {
    let mut statements: Vec<Statement> = Vec::new();
    let (mut at, mut section) = (0, None);
    while at < text.len() {
        let line = line(text, at);
        let next = (line.end + 1).min(text.len());
        let Some(kind) = kind(text, &line) else {
            at = next.max(at + 1);
            continue;
        };
        let end = match &kind {
            Kind::Entry { sign, .. } => end_of_entry(text, sign.end, line.end),
            Kind::Header { .. } | Kind::Stray => line.end,
        };
        let span = trimmed(text, line.start..end);
        match statements.last_mut() {
            // Stray lines one after the other are one mistake.
            Some(last)
                if kind == Kind::Stray
                    && last.kind == Kind::Stray
                    && !is_comment(&text[span.clone()])
                    && !is_comment(&text[last.span.clone()])
                    && text[last.span.end..span.start].matches('\n').count() == 1 =>
            {
                last.span.end = span.end;
            }
            _ => {
                if matches!(kind, Kind::Header { .. }) {
                    section = Some(span.start);
                }
                statements.push(Statement { span, section, kind });
            }
        }
        at = (end + 1).max(at + 1);
    }
    statements
}

/// Whether a statement is a comment.
pub(super) fn is_comment(statement: &str) -> bool {
    statement.starts_with('#')
}

/// The line at an offset, without its newline.
fn line(text: &str, at: usize) -> Range<usize> {
    at..memchr::memchr(b'\n', &text.as_bytes()[at..]).map_or(text.len(), |newline| at + newline)
}

/// The same range without the white space at its ends.
pub(super) fn trimmed(text: &str, span: Range<usize>) -> Range<usize> {
    let part = &text[span.clone()];
    let start = span.start + part.len() - part.trim_start().len();
    start..start + part.trim().len()
}

/// What kind of statement begins in a line; `None` where it is blank.
fn kind(text: &str, line: &Range<usize>) -> Option<Kind> {
    // A mark of the byte order may lead the first line in.
    let lead = if line.start == 0 && text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let span = trimmed(text, line.start + lead..line.end);
    let shown = &text[span.clone()];
    if shown.is_empty() {
        return None;
    }
    // What begins with a bracket was to be a header, whatever else it is.
    let broken = || shown.starts_with('[').then(|| Kind::Header { name: span.clone(), list: false });
    Some(header(text, &span).or_else(|| entry(text, &span)).or_else(broken).unwrap_or(Kind::Stray))
}

/// A section's header, even if a bracket of it is missing.
fn header(text: &str, span: &Range<usize>) -> Option<Kind> {
    let shown = &text[span.clone()];
    if !shown.starts_with('[') {
        return None;
    }
    let shown = shown.split(" #").next().unwrap_or(shown).trim_end().trim_end_matches([':', ',', ';']);
    let bracket = |c: char| c == '[' || c == ']' || c.is_whitespace();
    let inner = shown.trim_start_matches(bracket);
    let start = span.start + shown.len() - inner.len();
    let inner = inner.trim_end_matches(bracket);
    let list = shown.starts_with("[[") || shown.ends_with("]]");
    is_name(inner).then(|| Kind::Header { name: start..start + inner.len(), list })
}

/// Whether a section can have this name.
pub(super) fn is_name(name: &str) -> bool {
    let plain = |c: char| !"[]{}=,\"'#".contains(c) && !c.is_control();
    let sound = name.chars().any(char::is_alphabetic) && (name.chars().all(plain) || is_quoted(name));
    sound && name.len() <= 100
}

/// Whether a key is in quotes, with none within.
fn is_quoted(key: &str) -> bool {
    ['"', '\''].iter().any(|quote| {
        key.strip_prefix(*quote)
            .and_then(|rest| rest.strip_suffix(*quote))
            .is_some_and(|inner| !inner.contains(*quote))
    })
}

/// A key with the sign after it.
fn entry(text: &str, span: &Range<usize>) -> Option<Kind> {
    let shown = &text[span.clone()];
    let part = |from: usize, to: usize| span.start + from..span.start + to;
    // A key in quotes may hold any sign.
    let skipped = match shown.chars().next()? {
        quote @ ('"' | '\'') => shown[1..].find(quote)? + 2,
        _ => 0,
    };
    let sign = skipped + shown[skipped..].find(['=', ':']).unwrap_or(shown.len() - skipped);
    let key = trimmed(text, part(0, sign));
    let written = &text[key.clone()];
    let bare = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let worded = |c: char| bare(c) || " .\"'?/".contains(c);
    let sound = !written.is_empty() && written.len() <= 100 && written.chars().all(worded);
    match shown[sign..].chars().next() {
        Some('=') if sound => {
            // `==`, `=>` and `:=` are written for it, too.
            let length = shown[sign..].chars().take_while(|c| "=>:".contains(*c)).count();
            Some(Kind::Entry { key, sign: part(sign, sign + length) })
        }
        // Prose has a colon after several words.
        Some(':') if sound && written.chars().all(bare) => {
            let length = shown[sign..].chars().take_while(|c| ":=".contains(*c)).count();
            Some(Kind::Entry { key, sign: part(sign, sign + length) })
        }
        _ => {
            let word = shown.find(char::is_whitespace)?;
            let value = shown[word..].trim_start();
            let begins = value.starts_with(|c: char| c.is_ascii_digit() || "\"'“‘[{£$€".contains(c))
                || ["true", "false", "yes", "no"].contains(&value);
            let key = part(0, word);
            let is_key = text[key.clone()].chars().all(|c| c.is_ascii_lowercase() || c == '-' || c == '_');
            (begins && is_key).then_some(Kind::Entry { sign: key.end..key.end, key })
        }
    }
}

/// Where an entry ends whose value begins at an offset of a line that ends at another.
fn end_of_entry(text: &str, value: usize, line_end: usize) -> usize {
    let Extent { end, whole, open_text } = extent(text, value);
    if !whole {
        // What is never closed reaches no farther than to the next statement.
        return next_statement(text, line_end).unwrap_or(end);
    }
    match open_text {
        true => end_of_broken_text(text, end),
        false => end,
    }
}

/// How far a value reaches.
struct Extent {
    end: usize,
    /// Whether all brackets and texts of several lines in it are closed before the next header.
    whole: bool,
    /// Whether a text of one line in it is not.
    open_text: bool,
}

fn extent(text: &str, value: usize) -> Extent {
    let bytes = text.as_bytes();
    let (mut at, mut depth, mut open_text) = (value, 0_usize, false);
    while at < bytes.len() {
        match bytes[at] {
            b'\n' if depth == 0 => return Extent { end: at, whole: true, open_text },
            b'\n' => {
                let next = line(text, at + 1);
                let span = trimmed(text, next);
                // Within a list, a text in brackets is an element.
                let quoted = text[span.clone()].contains(['"', '\'']);
                if !quoted && header(text, &span).is_some() {
                    return Extent { end: at, whole: false, open_text };
                }
                at += 1;
            }
            b'[' | b'{' => {
                depth += 1;
                at += 1;
            }
            b']' | b'}' => {
                depth = depth.saturating_sub(1);
                at += 1;
            }
            b'#' => at = line(text, at).end,
            quote @ (b'"' | b'\'') => {
                let three = [quote; 3];
                if bytes[at..].starts_with(&three) {
                    match closing(bytes, at + 3, quote, true) {
                        Some(end) => at = end,
                        None => return Extent { end: bytes.len(), whole: false, open_text },
                    }
                } else {
                    match closing(&bytes[..line(text, at).end], at + 1, quote, false) {
                        Some(end) => at = end,
                        None => {
                            open_text = true;
                            at = line(text, at).end;
                        }
                    }
                }
            }
            _ => at += 1,
        }
    }
    Extent { end: bytes.len(), whole: depth == 0, open_text }
}

/// Behind the quotes that close a text.
fn closing(bytes: &[u8], from: usize, quote: u8, three: bool) -> Option<usize> {
    let mut at = from;
    while at < bytes.len() {
        match bytes[at] {
            b'\\' if quote == b'"' => at += 2,
            byte if byte == quote && !three => return Some(at + 1),
            byte if byte == quote && bytes[at..].starts_with(&[quote; 3]) => return Some(at + 3),
            _ => at += 1,
        }
    }
    None
}

/// Where the next statement begins after a line, and the newline before it.
fn next_statement(text: &str, line_end: usize) -> Option<usize> {
    let mut at = line_end + 1;
    while at < text.len() {
        let next = line(text, at);
        let span = trimmed(text, next.clone());
        if span.is_empty() || header(text, &span).or_else(|| entry(text, &span)).is_some() {
            return Some(at - 1);
        }
        at = next.end + 1;
    }
    None
}

/// A text that was broken over several lines ends with the line that closes it, where only prose lies between.
fn end_of_broken_text(text: &str, line_end: usize) -> usize {
    /// No text of a record that is broken by hand has more lines.
    const MOST: usize = 40;
    let limit = next_statement(text, line_end).unwrap_or(text.len());
    let mut at = line_end + 1;
    for _ in 0..MOST {
        if at >= limit {
            break;
        }
        let next = line(text, at);
        if text[next.clone()].trim_end().ends_with(['"', '”']) {
            return next.end;
        }
        at = next.end + 1;
    }
    line_end
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &str) -> Vec<String> {
        let letter = |kind: &Kind| match kind {
            Kind::Header { list: true, .. } => 'L',
            Kind::Header { .. } => 'H',
            Kind::Entry { .. } => 'E',
            Kind::Stray => 'S',
        };
        split(text)
            .iter()
            .map(|each| format!("{} {}", letter(&each.kind), &text[each.span.clone()]))
            .collect()
    }

    #[test]
    fn each_statement_stands_by_itself() {
        assert_eq!(
            cut(
                "a = 1 # one\n\n# two\nb: [1,\n  2]\n[[part]\n id = \"x\"\nsome words\nmore words\nc \"d\"\n[found\n"
            ),
            [
                "E a = 1 # one",
                "S # two",
                "E b: [1,\n  2]",
                "L [[part]",
                "E id = \"x\"",
                "S some words\nmore words",
                "E c \"d\"",
                "H [found"
            ]
        );
    }

    #[test]
    fn what_is_never_closed_ends_before_the_next_statement() {
        assert_eq!(cut("a = [1,\n  2\nb = 1\n"), ["E a = [1,\n  2", "E b = 1"]);
        assert_eq!(cut("a = [\n  { b = 1 },\n[[part]]\n"), ["E a = [\n  { b = 1 },", "L [[part]]"]);
        assert_eq!(cut("a = {\n  b = 1,\n  c = 2\n}\nd = 3"), ["E a = {\n  b = 1,\n  c = 2\n}", "E d = 3"]);
        assert_eq!(cut("a = \"\"\"x\ny\n\nb = 1\n"), ["E a = \"\"\"x\ny", "E b = 1"]);
        assert_eq!(cut("a = \"x\nof y\"\nb = 1\n"), ["E a = \"x\nof y\"", "E b = 1"]);
        assert_eq!(cut("a = \"x\nb = \"y\"\n"), ["E a = \"x", "E b = \"y\""]);
    }

    #[test]
    fn lists_of_lists_are_no_headers() {
        assert_eq!(cut("a = [\n  [0.1, 0.2],\n  [\"b\"],\n]\n"), ["E a = [\n  [0.1, 0.2],\n  [\"b\"],\n]"]);
    }
}
