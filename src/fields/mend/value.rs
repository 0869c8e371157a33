//! A value read forgivingly: what would have to be put in, taken out or written otherwise to make TOML of it.

use std::ops::Range;

use toml::de::DeValue;

/// Bytes to be replaced, and by what.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Edit {
    pub(super) at: Range<usize>,
    pub(super) with: String,
}

/// Where a value stands.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Within {
    Line,
    List,
    Table,
}

/// No value of a record has more levels.
const DEEPEST: usize = 12;

/// What is wrong with a statement, and how it is made right.
#[derive(Debug, Default)]
pub(super) struct Mends {
    /// The changes, in the order of their places.
    pub(super) edits: Vec<Edit>,
    /// What the first of them is for, and the bytes that it is about.
    pub(super) first: Option<(&'static str, Range<usize>)>,
    /// Elements of lists that nobody can read.
    pub(super) left_out: Vec<Range<usize>>,
}

impl Mends {
    /// Replaces bytes, for a reason.
    pub(super) fn replace(&mut self, at: Range<usize>, with: impl Into<String>, why: &'static str) {
        self.first.get_or_insert_with(|| (why, at.clone()));
        self.edits.push(Edit { at, with: with.into() });
    }

    /// Puts a text into quotes.
    fn quote(&mut self, at: Range<usize>, text: &str, why: &'static str) {
        self.first.get_or_insert_with(|| (why, at.clone()));
        if text[at.clone()].contains(['"', '\\', '\n', '\t']) {
            let with = toml::Value::from(&text[at.clone()]).to_string();
            self.edits.push(Edit { at, with });
        } else {
            // Each letter keeps its place, so that what is told of the value lies where it was typed.
            self.edits.push(Edit { at: at.start..at.start, with: "\"".to_owned() });
            self.edits.push(Edit { at: at.end..at.end, with: "\"".to_owned() });
        }
    }
}

/// Reads a value of a text from an offset up to another, and notes what has to change; `None` where nobody can tell.
pub(super) fn mend(text: &str, value: Range<usize>, mends: &mut Mends) -> Option<()> {
    let mut reading = Reading { text, end: value.end, mends };
    let start = reading.skip(value.start, false);
    let after = reading.value(start, Within::Line, 0)?;
    let rest = reading.skip(after, false);
    let left = &text[rest..value.end];
    match left.chars().next() {
        None | Some('#') => Some(()),
        Some(',' | ';' | '.') if left[1..].trim().is_empty() || left[1..].trim_start().starts_with('#') => {
            reading.mends.replace(rest..rest + 1, "", "a sign stands after a value");
            Some(())
        }
        _ => None,
    }
}

struct Reading<'a> {
    text: &'a str,
    end: usize,
    mends: &'a mut Mends,
}

impl Reading<'_> {
    fn rest(&self, at: usize) -> &str {
        &self.text[at..self.end]
    }

    fn next(&self, at: usize) -> Option<char> {
        self.rest(at).chars().next()
    }

    /// Passes over white space and, where a value may go on in the next line, newlines and comments.
    fn skip(&self, mut at: usize, newlines: bool) -> usize {
        loop {
            let rest = self.rest(at);
            at += rest.len()
                - rest.trim_start_matches(|c: char| c.is_whitespace() && (newlines || c != '\n')).len();
            if !newlines || !self.rest(at).starts_with('#') {
                return at;
            }
            at += self.rest(at).find('\n').unwrap_or(self.end - at);
        }
    }

    /// Behind the value at an offset.
    fn value(&mut self, at: usize, within: Within, depth: usize) -> Option<usize> {
        if depth > DEEPEST {
            return None;
        }
        match self.next(at)? {
            '[' => self.list(at + 1, depth),
            '{' => self.table(at + 1, depth),
            '"' | '\'' | '“' | '”' | '„' | '‟' | '‘' | '’' | '‚' | '«' | '″' => {
                self.quoted(at, within)
            }
            _ => self.bare(at, within),
        }
    }

    fn list(&mut self, mut at: usize, depth: usize) -> Option<usize> {
        loop {
            at = self.skip(at, true);
            match self.next(at) {
                None => return self.close(']'),
                Some(']') => return Some(at + 1),
                Some(',') => {
                    self.mends.replace(at..at + 1, "", "a comma is too many");
                    at += 1;
                    continue;
                }
                Some('}') => return None,
                Some(_) => {}
            }
            at = match self.tried(at, depth) {
                Some(next) => next,
                None => self.leave_out(at)?,
            };
        }
    }

    /// Behind an element and what parts it from the next one; nothing is changed where it cannot be read.
    fn tried(&mut self, at: usize, depth: usize) -> Option<usize> {
        let (edits, first) = (self.mends.edits.len(), self.mends.first.clone());
        let next = self.separated(at, Within::List, depth, ']');
        if next.is_none() {
            self.mends.edits.truncate(edits);
            self.mends.first = first;
        }
        next
    }

    /// Leaves out an element that nobody can read, up to the line where the next one begins.
    fn leave_out(&mut self, at: usize) -> Option<usize> {
        let begins = |line: &str| line.trim_start().starts_with(['{', '[', '"', '\'', ']']);
        let mut newlines = self.rest(at).match_indices('\n').map(|(newline, _)| at + newline + 1);
        let next = newlines.find(|next| begins(self.rest(*next)))?;
        let element = super::statement::trimmed(self.text, at..next);
        self.mends.edits.push(Edit { at: element.clone(), with: String::new() });
        self.mends.left_out.push(element);
        Some(next)
    }

    fn table(&mut self, mut at: usize, depth: usize) -> Option<usize> {
        loop {
            at = self.skip(at, true);
            match self.next(at) {
                None => return self.close('}'),
                Some('}') => return Some(at + 1),
                Some(']') => {
                    self.mends.replace(at..at, " }", "the closing brace of a table is missing");
                    return Some(at);
                }
                Some(',') => {
                    self.mends.replace(at..at + 1, "", "a comma is too many");
                    at += 1;
                    continue;
                }
                Some(_) => {}
            }
            let sign = at + self.rest(at).find(['=', ':', '\n', ',', '}'])?;
            if !matches!(self.next(sign), Some('=' | ':')) {
                return None;
            }
            self.key(super::statement::trimmed(self.text, at..sign))?;
            let length = self.rest(sign).chars().take_while(|c| "=:>".contains(*c)).count();
            if &self.text[sign..sign + length] != "=" {
                self.mends.replace(sign..sign + length, " =", "another sign stands where `=` belongs");
            }
            at = self.skip(sign + length, false);
            at = self.separated(at, Within::Table, depth, '}')?;
        }
    }

    /// Behind a value and what parts it from the next one.
    fn separated(&mut self, at: usize, within: Within, depth: usize, close: char) -> Option<usize> {
        let end = self.value(at, within, depth + 1)?;
        let next = self.skip(end, true);
        match self.next(next) {
            Some(',') => Some(next + 1),
            Some(';') => {
                self.mends.replace(next..next + 1, ",", "a semicolon stands where a comma belongs");
                Some(next + 1)
            }
            Some(c) if c == close => Some(next),
            None | Some(']' | '}') => Some(next),
            Some(_) => {
                self.mends.replace(end..end, ",", "a comma is missing between two values");
                Some(next)
            }
        }
    }

    /// Closes what is open at the end of the value.
    fn close(&mut self, bracket: char) -> Option<usize> {
        let end = self.text[..self.end].trim_end().len();
        // A comment in the last line would swallow the bracket.
        let why = if bracket == ']' {
            "the closing bracket of a list is missing"
        } else {
            "the closing brace of a table is missing"
        };
        let line = self.text[..end].rfind('\n').map_or(0, |newline| newline + 1);
        if self.text[line..end].contains('#') {
            return None;
        }
        self.mends.replace(end..end, format!(" {bracket}"), why);
        Some(self.end)
    }

    /// Puts a key into quotes where it needs them.
    fn key(&mut self, key: Range<usize>) -> Option<()> {
        key_in_quotes(self.text, key, self.mends)
    }

    /// Behind a text in quotes of any kind.
    fn quoted(&mut self, at: usize, within: Within) -> Option<usize> {
        let open = self.next(at)?;
        let three: String = std::iter::repeat_n(open, 3).collect();
        if matches!(open, '"' | '\'') && self.rest(at).starts_with(&three) {
            return self.of_several_lines(at, &three);
        }
        let after = at + open.len_utf8();
        let closers: &[char] = match open {
            '\'' => &['\'', '’', '‘'],
            '‘' | '’' | '‚' => &['’', '‘', '\''],
            '«' => &['»'],
            _ => &['"', '”', '“', '‟', '″'],
        };
        let limit = match within {
            Within::Line => self.end,
            _ => after + self.rest(after).find('\n').unwrap_or(self.end - after),
        };
        let close = self.text[after..limit].char_indices().find_map(|(offset, c)| {
            let place = after + offset;
            let escaped =
                self.text[after..place].bytes().rev().take_while(|byte| *byte == b'\\').count() % 2 == 1;
            let ends = closers.contains(&c) && !(escaped && open == '"');
            (ends && self.ends_here(place + c.len_utf8(), within)).then_some((place, c))
        });
        let Some((close, quote)) = close else {
            let inner = self.text[after..self.end].trim_end();
            if within != Within::Line || inner.is_empty() || inner.contains(" #") {
                return None;
            }
            let with = toml::Value::from(inner).to_string();
            self.mends.replace(at..after + inner.len(), with, "the closing quote of a text is missing");
            return Some(self.end);
        };
        let end = close + quote.len_utf8();
        let whole = &self.text[at..end];
        if DeValue::parse(whole).is_ok() {
            return Some(end);
        }
        let inner = &self.text[after..close];
        let why = match () {
            () if !matches!(open, '"' | '\'') || !matches!(quote, '"' | '\'') => {
                "a text stands in curly quotes"
            }
            () if inner.contains('\n') => "a text goes on in the next line",
            () if inner.contains(open) => "a quote stands within a text",
            () => "a text holds a backslash or another character that is written otherwise",
        };
        let escaped = format!("\"{}\"", inner.replace('"', "\\\""));
        let with = match DeValue::parse(&escaped) {
            Ok(_) => escaped,
            Err(_) => toml::Value::from(inner).to_string(),
        };
        self.mends.replace(at..end, with, why);
        Some(end)
    }

    fn of_several_lines(&mut self, at: usize, quotes: &str) -> Option<usize> {
        let after = at + quotes.len();
        if let Some(close) = self.rest(after).find(quotes) {
            let end = after + close + quotes.len();
            return DeValue::parse(&self.text[at..end]).is_ok().then_some(end);
        }
        let inner = self.text[after..self.end].trim_end().trim_end_matches(&quotes[..1]);
        let with = toml::Value::from(inner.trim_start_matches('\n')).to_string();
        self.mends.replace(at..self.end, with, "the closing quotes of a text are missing");
        Some(self.end)
    }

    /// Whether a value that stands here may end at an offset.
    fn ends_here(&self, at: usize, within: Within) -> bool {
        let rest = self.rest(at).trim_start_matches([' ', '\t', '\r']);
        match rest.chars().next() {
            None | Some('#' | ',' | ';' | '\n') => true,
            Some(']' | '}') => within != Within::Line,
            Some(_) => {
                within == Within::Table && begins_with_key(rest)
                    || within == Within::List && rest.starts_with(['"', '{'])
            }
        }
    }

    /// Behind a value without quotes.
    fn bare(&mut self, at: usize, within: Within) -> Option<usize> {
        let rest = self.rest(at);
        let length = match within {
            Within::Line => {
                let line = rest.find('\n').unwrap_or(rest.len());
                [" #", "\t#"].iter().filter_map(|comment| rest[..line].find(comment)).min().unwrap_or(line)
            }
            Within::List => rest.find([',', ']', '}', '\n', ';']).unwrap_or(rest.len()),
            Within::Table => in_table(rest),
        };
        let mut token = rest[..length].trim_end();
        if within == Within::Table
            && let Some(cut) = key_within(token)
        {
            token = token[..cut].trim_end();
        }
        let plain = if within == Within::Line { token.trim_end_matches([',', ';', ' ']) } else { token };
        let end = at + plain.len();
        if !plain.contains(char::is_alphanumeric) || plain.starts_with(['=', ':']) {
            return None;
        }
        if DeValue::parse(plain).is_ok() {
            return Some(end);
        }
        let items: Vec<&str> = plain.split(", ").map(str::trim).collect();
        let graded = |item: &&str| {
            let digits = item.trim_start_matches(['p', 'P']);
            !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit())
        };
        if within != Within::List && items.len() > 1 && items.iter().all(graded) {
            let quoted: Vec<String> = items.iter().map(|item| format!("\"{item}\"")).collect();
            let (list, token) = (format!("[{}]", quoted.join(", ")), at..end);
            self.mends.replace(token, list, "a list stands without brackets");
            return Some(end);
        }
        let text = self.text;
        self.mends.quote(at..end, text, "a text stands without quotes");
        Some(end)
    }
}

/// Puts a key into quotes where it has letters that no bare key has.
pub(super) fn key_in_quotes(text: &str, key: Range<usize>, mends: &mut Mends) -> Option<()> {
    let written = &text[key.clone()];
    if written.is_empty() || written.contains('\n') {
        return None;
    }
    if toml::de::DeTable::parse(&format!("{written} = 1")).is_err() {
        let plain = written.trim_matches(['"', '\'']);
        mends.replace(
            key,
            toml::Value::from(plain).to_string(),
            "a key has letters that stand in quotes alone",
        );
    }
    Some(())
}

/// Whether a text begins with a key and `=`.
fn begins_with_key(text: &str) -> bool {
    let key = text.trim_start_matches(|c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_');
    key.len() < text.len() && key.trim_start().starts_with('=')
}

/// Where the next key begins within what should be one value, since the comma before it is missing.
fn key_within(token: &str) -> Option<usize> {
    let spaces = token.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, _)| at + 1);
    spaces.filter(|at| token.is_char_boundary(*at)).find(|at| begins_with_key(&token[*at..]))
}

/// The end of a value within a table: a comma that no key follows belongs to it, as in `1,5` and `120, 180, 240`.
fn in_table(rest: &str) -> usize {
    let mut end = 0;
    loop {
        let stop = end + rest[end..].find([',', ']', '}', '\n', ';']).unwrap_or(rest.len() - end);
        let goes_on = rest[stop..].strip_prefix(',').is_some_and(|after| {
            let next = &after[..after.find([',', '}', '\n']).unwrap_or(after.len())];
            !next.trim().is_empty() && !next.contains(['=', ':', '"', '{', '['])
        });
        if !goes_on {
            return stop;
        }
        end = stop + 1;
    }
}
