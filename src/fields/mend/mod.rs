//! TOML that was written in a hurry: a mistake of grammar costs no more than the statement that it is in.
//!
//! The text is cut into statements, and each that is no TOML is read forgivingly. Where what is meant can be read, it
//! is read so and told; otherwise the statement is left out and told. Places in the mended text lead back to those in
//! the text as it was written.

mod statement;
mod value;

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::MOST_PROBLEMS;
use statement::{Kind, Statement, split};
use value::{Edit, Mends};

/// The most that is mended between statements, such as keys said twice; whoever has more has another cause.
const MOST_ROUNDS: usize = 200;

/// The most bytes that are read again for that.
const MOST_BYTES: usize = 40_000_000;

/// Something that is no TOML.
#[derive(Debug)]
pub(super) struct Fault {
    /// Where, in the text as it was written.
    pub(super) span: Range<usize>,
    /// What is wrong.
    pub(super) what: String,
    /// What came of it.
    pub(super) outcome: Outcome,
}

/// What came of something that is no TOML.
#[derive(Debug, PartialEq)]
pub(super) enum Outcome {
    /// It was read as this line.
    Read(String),
    /// Several sections of this name have single brackets, and were read as a list.
    Listed(String),
    /// It was not read; what to write.
    LeftOut(String),
    /// Nor is it known what it was: it may have been a header, so that what follows belongs elsewhere.
    Unknown(String),
    /// Nor was anything that stands below it.
    Section(String),
}

/// A key whose statement was left out.
#[derive(Debug)]
pub(super) struct Lost {
    /// Where its section begins; 0 before the first one.
    pub(super) section: usize,
    /// The key.
    pub(super) key: String,
}

/// A text with its mistakes of grammar mended, as far as that can be done.
#[derive(Debug)]
pub(super) struct Mended {
    text: String,
    moves: Vec<Move>,
    /// What was mended and what was left out.
    pub(super) faults: Vec<Fault>,
    /// The keys that were left out.
    pub(super) lost: Vec<Lost>,
    /// Whether anything of it can be read.
    pub(super) readable: bool,
}

impl Mended {
    /// Mends a text that is no TOML.
    pub(super) fn of(text: &str) -> Mended {
        let mut mending = Mending::of(text);
        let readable = mending.statements() && mending.between();
        if !readable {
            mending.faults.push(Fault {
                span: 0..0,
                what: "there is too much that is no TOML".to_owned(),
                outcome: Outcome::Section(
                    "mend what is told below; the next run tells what is left".to_owned(),
                ),
            });
        }
        let Mending { mut edits, mut faults, lost, .. } = mending;
        edits.sort_by_key(|edit| (edit.at.start, edit.at.end));
        faults.sort_by_key(|fault| fault.span.start);
        Mended { text: applied(text, &edits), moves: moves(&edits), faults, lost, readable }
    }

    /// What the text says, with the places where it says it in the text as it was written.
    pub(super) fn document(&self) -> DeTable<'_> {
        let (document, _) = DeTable::parse_recoverable(&self.text);
        let document = document.into_inner();
        if self.moves.is_empty() { document } else { placed_table(document, &|span| self.back(span)) }
    }

    /// Where bytes of the mended text stood.
    fn back(&self, span: Range<usize>) -> Range<usize> {
        let [start, end] = [span.start, span.end].map(|place| back(&self.moves, place));
        start..end.max(start)
    }
}

/// Where a change lies in the mended text, and what it stands for in the text as it was written.
#[derive(Debug)]
struct Move {
    new: Range<usize>,
    old: Range<usize>,
}

fn moves(edits: &[Edit]) -> Vec<Move> {
    let (mut put_in, mut taken_out) = (0, 0);
    let mut moved = |edit: &Edit| {
        let start = edit.at.start + put_in - taken_out;
        put_in += edit.with.len();
        taken_out += edit.at.len();
        Move { new: start..start + edit.with.len(), old: edit.at.clone() }
    };
    edits.iter().map(&mut moved).collect()
}

/// Where a place of the mended text was before.
fn back(moves: &[Move], place: usize) -> usize {
    match moves[..moves.partition_point(|each| each.new.start <= place)].last() {
        None => place,
        Some(Move { new, old }) if place < new.end => (old.start + place - new.start).min(old.end),
        Some(Move { new, old }) => old.end + place - new.end,
    }
}

/// A text with changes made, which are in order and do not overlap.
fn applied(text: &str, edits: &[Edit]) -> String {
    let mut mended = String::with_capacity(text.len() + 2 * edits.len());
    let mut at = 0;
    for edit in edits {
        mended.push_str(&text[at..edit.at.start]);
        mended.push_str(&edit.with);
        at = edit.at.end;
    }
    mended + &text[at..]
}

/// A text being mended.
struct Mending<'a> {
    text: &'a str,
    statements: Vec<Statement>,
    /// Which statements were left out.
    dropped: Vec<bool>,
    edits: Vec<Edit>,
    faults: Vec<Fault>,
    lost: Vec<Lost>,
}

impl<'a> Mending<'a> {
    fn of(text: &'a str) -> Mending<'a> {
        let statements = split(text);
        let dropped = vec![false; statements.len()];
        Mending { text, statements, dropped, edits: Vec::new(), faults: Vec::new(), lost: Vec::new() }
    }

    /// Mends each statement that is no TOML by itself, or leaves it out; whether there are not too many of them.
    fn statements(&mut self) -> bool {
        for at in 0..self.statements.len() {
            if self.dropped[at] {
                continue;
            }
            if self.faults.len() > MOST_PROBLEMS {
                return false;
            }
            let Statement { span, .. } = &self.statements[at];
            let Err(error) = DeTable::parse(&self.text[span.clone()]) else { continue };
            let message = error.message().replace('\n', ", ");
            let spot = error.span().map(|spot| spot.start + span.start..spot.end + span.start);
            match self.mended(at) {
                Some(mends) => self.mend(at, mends),
                None => self.leave_out(at, spot, &message),
            }
        }
        true
    }

    /// The changes that make TOML of a statement.
    fn mended(&self, at: usize) -> Option<Mends> {
        let Statement { span, kind, .. } = &self.statements[at];
        let mut mends = Mends::default();
        match kind {
            Kind::Header { name, .. } if !statement::is_name(&self.text[name.clone()]) => return None,
            Kind::Header { name, list } => {
                let (open, close) = if *list { ("[[", "]]") } else { ("[", "]") };
                value::key_in_quotes(self.text, name.clone(), &mut mends)?;
                let name = match mends.edits.pop() {
                    Some(quoted) => quoted.with,
                    None => self.text[name.clone()].to_owned(),
                };
                let end = self.text[span.clone()].find(" #").map_or(span.end, |comment| span.start + comment);
                mends.replace(
                    span.start..end,
                    format!("{open}{name}{close}"),
                    "the header of a section lacks a bracket",
                );
            }
            Kind::Entry { key, sign } => {
                value::key_in_quotes(self.text, key.clone(), &mut mends)?;
                match &self.text[sign.clone()] {
                    "=" => {}
                    "" => mends.replace(sign.clone(), " =", "`=` is missing between a key and its value"),
                    _ => mends.replace(sign.clone(), " =", "another sign stands where `=` belongs"),
                }
                value::mend(self.text, sign.end..span.end, &mut mends)?;
            }
            Kind::Stray => return None,
        }
        let inner: Vec<Edit> = mends
            .edits
            .iter()
            .map(|edit| Edit {
                at: edit.at.start - span.start..edit.at.end - span.start,
                with: edit.with.clone(),
            })
            .collect();
        let ordered = inner.windows(2).all(|pair| pair[0].at.end <= pair[1].at.start);
        (ordered && DeTable::parse(&applied(&self.text[span.clone()], &inner)).is_ok()).then_some(mends)
    }

    fn mend(&mut self, at: usize, mends: Mends) {
        let Mends { edits, first, left_out } = mends;
        for element in left_out {
            self.faults.push(Fault {
                span: element,
                what: "this row of the list is no TOML".to_owned(),
                outcome: Outcome::LeftOut(
                    "write it as the other rows, with its keys in braces and texts in quotes, such as\n\
                     { key = \"text\", other = 12.5 },"
                        .to_owned(),
                ),
            });
        }
        let Some((why, spot)) = first else { return self.edits.extend(edits) };
        let Statement { span, .. } = &self.statements[at];
        // The line that changes first, as it should be.
        let line = self.text[..spot.start].rfind('\n').map_or(0, |newline| newline + 1).max(span.start);
        let tail = self.text[spot.end..]
            .find('\n')
            .map_or(self.text.len(), |newline| spot.end + newline)
            .min(span.end);
        let within: Vec<Edit> = edits
            .iter()
            .filter(|edit| edit.at.start >= line && edit.at.end <= tail)
            .map(|edit| Edit { at: edit.at.start - line..edit.at.end - line, with: edit.with.clone() })
            .collect();
        let shown = applied(&self.text[line..tail], &within);
        self.faults.push(Fault {
            span: if spot.is_empty() { statement::trimmed(self.text, line..tail) } else { spot },
            what: why.to_owned(),
            outcome: Outcome::Read(shown.trim().to_owned()),
        });
        self.edits.extend(edits);
    }

    /// Leaves a statement out, with all that stands below it where it is a header.
    fn leave_out(&mut self, at: usize, spot: Option<Range<usize>>, why: &str) {
        let Statement { span, kind, .. } = self.statements[at].clone();
        let shown = &self.text[span.clone()];
        let empty = |value: &str| value.split('#').next().is_some_and(|value| value.trim().is_empty());
        let (what, help) = match &kind {
            Kind::Entry { key, sign } if empty(&self.text[sign.end..span.end]) => {
                let key = &self.text[key.clone()];
                (
                    format!("`{key}` has no value"),
                    format!("write one after the `=`, or put `#` before `{key}`"),
                )
            }
            Kind::Entry { key, sign } => {
                let key = &self.text[key.clone()];
                let value = self.text[sign.end..span.end].trim();
                let help = match value.len() < 60 && !value.contains(['\n', '"', '#']) {
                    true => format!("write it in quotes, such as\n{key} = {}", toml::Value::from(value)),
                    false => format!(
                        "write texts in quotes, and numbers and dates without, such as\n\
                         {key} = \"text\"\n{key} = 12.5\n{key} = 2026-03-14"
                    ),
                };
                (format!("this is no TOML ({why})"), help)
            }
            Kind::Header { .. } => (
                format!("this is no TOML ({why})"),
                "write the section's name in brackets, such as `[[part]]` or `[found]`".to_owned(),
            ),
            Kind::Stray if statement::is_comment(shown) => {
                (format!("this comment is no TOML ({why})"), "type it anew, or take it out".to_owned())
            }
            Kind::Stray => {
                let lines = shown.lines().count();
                let what =
                    if lines == 1 { "this line is".to_owned() } else { format!("these {lines} lines are") };
                (
                    format!("{what} neither a key with its value nor the header of a section"),
                    "write `key = \"text\"`, or put `#` before what is not to be read".to_owned(),
                )
            }
        };
        self.fault_at(at, spot.unwrap_or(span), what, help);
        self.drop(at);
    }

    fn fault_at(&mut self, at: usize, spot: Range<usize>, what: String, help: String) {
        let Statement { span, kind, .. } = &self.statements[at];
        // What the parser misses at the end of a line is shown at what the line has.
        let span = if spot.is_empty() || spot.start >= span.end { span.clone() } else { spot };
        let outcome = match kind {
            Kind::Header { .. } => Outcome::Section(help),
            // `photo:` is a section to some.
            Kind::Entry { sign, .. }
                if sign.end == self.end_of(at) && self.text[sign.clone()].contains(':') =>
            {
                Outcome::Unknown(help)
            }
            Kind::Stray if !statement::is_comment(&self.text[self.statements[at].span.clone()]) => {
                Outcome::Unknown(help)
            }
            Kind::Entry { .. } | Kind::Stray => Outcome::LeftOut(help),
        };
        self.faults.push(Fault { span, what, outcome });
    }

    fn end_of(&self, at: usize) -> usize {
        self.statements[at].span.end
    }

    /// Takes a statement out of the text.
    fn drop(&mut self, at: usize) {
        let header = matches!(self.statements[at].kind, Kind::Header { .. });
        let below = self.statements[at + 1..]
            .iter()
            .position(|below| matches!(below.kind, Kind::Header { .. }))
            .map_or(self.statements.len(), |next| at + 1 + next);
        let section = self.statements[at].section.unwrap_or(0);
        for each in at..if header { below } else { at + 1 } {
            if std::mem::replace(&mut self.dropped[each], true) {
                continue;
            }
            let Statement { span, kind, .. } = &self.statements[each];
            self.edits.push(Edit { at: span.clone(), with: String::new() });
            if let (Kind::Entry { key, .. }, false) = (kind, header) {
                let key = self.text[key.clone()].trim_matches(['"', '\'']).to_owned();
                self.lost.push(Lost { section, key });
            }
        }
    }

    /// The header that a statement stands under, or that it is.
    fn header(&self, at: usize) -> Option<usize> {
        let section = self.statements[at].section?;
        self.statements[..=at].iter().rposition(|each| each.span.start == section)
    }

    /// Takes back what was changed in a statement.
    fn undo(&mut self, at: usize) {
        let span = &self.statements[at].span;
        self.edits.retain(|edit| edit.at.end < span.start || edit.at.start > span.end);
        self.faults.retain(|fault| fault.span.end < span.start || fault.span.start > span.end);
    }

    /// Mends what is wrong between statements that are sound by themselves, such as what is said twice; whether all of
    /// it could be.
    fn between(&mut self) -> bool {
        let rounds = (MOST_BYTES / self.text.len().max(1)).clamp(2, MOST_ROUNDS);
        for _ in 0..rounds {
            self.edits.sort_by_key(|edit| (edit.at.start, edit.at.end));
            let mended = applied(self.text, &self.edits);
            let (_, errors) = DeTable::parse_recoverable(&mended);
            let Some(error) = errors.iter().min_by_key(|error| error.span().map_or(0, |span| span.start))
            else {
                return true;
            };
            let moves = moves(&self.edits);
            let spot = error.span().unwrap_or(0..0);
            let spot = back(&moves, spot.start)..back(&moves, spot.end);
            let message = error.message().replace('\n', ", ");
            let found = self.statements.iter().rposition(|each| each.span.start <= spot.start);
            match found.filter(|at| !self.dropped[*at]) {
                Some(at) if message.starts_with("duplicate key") => self.said_twice(at, spot),
                Some(at) => self.left_out_after_all(at, spot, &message),
                None => return false,
            }
        }
        false
    }

    fn left_out_after_all(&mut self, at: usize, spot: Range<usize>, why: &str) {
        self.undo(at);
        self.leave_out(at, Some(spot), why);
    }

    /// A section or key that is there already.
    fn said_twice(&mut self, at: usize, spot: Range<usize>) {
        let Statement { span, kind, .. } = self.statements[at].clone();
        match kind {
            Kind::Header { name, .. } => {
                let name = self.text[name].to_owned();
                // Several of a kind stand in two brackets; those that have one are given the other.
                let single: Vec<usize> = (0..self.statements.len())
                    .filter(|each| !self.dropped[*each])
                    .filter(|each| match &self.statements[*each].kind {
                        Kind::Header { name: other, list: false } => self.text[other.clone()] == name,
                        _ => false,
                    })
                    .collect();
                if single.is_empty() || name.contains('.') {
                    self.undo(at);
                    let what = format!("`{name}` has a value already, and can have no section as well");
                    let help = format!("take out what is said of `{name}` above, and say it here");
                    self.fault_at(at, span, what, help);
                    return self.drop(at);
                }
                for each in single {
                    self.undo(each);
                    let span = self.statements[each].span.clone();
                    self.edits.push(Edit { at: span.clone(), with: format!("[[{name}]]") });
                    if let Kind::Header { list, .. } = &mut self.statements[each].kind {
                        *list = true;
                    }
                    self.faults.push(Fault {
                        span,
                        what: format!(
                            "there are several sections `{name}`, of which this one has single brackets"
                        ),
                        outcome: Outcome::Listed(name.clone()),
                    });
                }
            }
            Kind::Entry { key, .. } => {
                let key = self.text[key].to_owned();
                let header = self.header(at);
                let is_entry = |each: &usize| matches!(self.statements[*each].kind, Kind::Entry { .. });
                let first = header.and_then(|header| (header + 1..at).find(is_entry)).filter(|first| {
                    match &self.statements[*first].kind {
                        Kind::Entry { key: first, .. } => self.text[first.clone()] == key,
                        _ => false,
                    }
                });
                let list = header.and_then(|header| match &self.statements[header].kind {
                    Kind::Header { name, list: true } => Some(self.text[name.clone()].to_owned()),
                    _ => None,
                });
                match (header, first, list) {
                    (Some(header), Some(_), Some(name)) => self.next_row(at, header, &key, &name),
                    _ => {
                        let what = format!("`{key}` stands here a second time");
                        let help =
                            format!("leave one of the two out, or name this one otherwise than `{key}`");
                        self.undo(at);
                        self.fault_at(at, span, what, help);
                        self.drop(at);
                    }
                }
            }
            Kind::Stray => self.left_out_after_all(at, spot, "it is said twice"),
        }
    }

    /// The first key of a row once more: another row begins here, and its header is missing.
    fn next_row(&mut self, at: usize, header: usize, key: &str, name: &str) {
        let span = self.statements[at].span.clone();
        let place = span.start;
        self.edits.push(Edit { at: place..place, with: format!("[[{name}]]\n") });
        self.faults.push(Fault {
            span: span.clone(),
            what: format!("`{key}` stands in one `[[{name}]]` a second time"),
            outcome: Outcome::Read(format!("[[{name}]]\n{}", &self.text[span])),
        });
        // From here on it is a section of its own.
        let section = self.statements[at].section;
        let rest = self.statements[at..].iter_mut().take_while(|each| each.section == section);
        rest.for_each(|each| each.section = Some(place));
        let header = self.statements[header].kind.clone();
        self.statements.insert(at, Statement { span: place..place, section: Some(place), kind: header });
        self.dropped.insert(at, false);
    }
}

/// The same table with its places changed.
pub(crate) fn placed_table<'a>(
    table: DeTable<'a>,
    place: &dyn Fn(Range<usize>) -> Range<usize>,
) -> DeTable<'a> {
    let entry = |(key, value): (Spanned<_>, Spanned<DeValue<'a>>)| {
        let at = place(key.span());
        (Spanned::new(at, key.into_inner()), placed(value, place))
    };
    table.into_iter().map(entry).collect()
}

/// The same value with its places changed.
fn placed<'a>(
    value: Spanned<DeValue<'a>>,
    place: &dyn Fn(Range<usize>) -> Range<usize>,
) -> Spanned<DeValue<'a>> {
    let at = place(value.span());
    let inner = match value.into_inner() {
        DeValue::Array(array) => {
            let mut moved = DeArray::new();
            array.into_iter().for_each(|each| moved.push(placed(each, place)));
            DeValue::Array(moved)
        }
        DeValue::Table(table) => DeValue::Table(placed_table(table, place)),
        single => single,
    };
    Spanned::new(at, inner)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// What a text is read as, as TOML again, and what is told of it: the place, and `read` or `left out`.
    fn mended(text: &str) -> (String, Vec<String>) {
        let mended = Mended::of(text);
        let told = mended.faults.iter().map(|fault| {
            let came = match &fault.outcome {
                Outcome::Read(_) => "read",
                Outcome::Listed(_) => "listed",
                Outcome::LeftOut(_) => "left out",
                Outcome::Unknown(_) => "unknown",
                Outcome::Section(_) => "section",
            };
            format!("{came}: {}: {}", &text[fault.span.clone()], fault.what)
        });
        (mended.text.clone(), told.collect())
    }

    #[track_caller]
    fn read_as(text: &str, meant: &str) {
        let (read, told) = mended(text);
        let table = |text: &str| text.parse::<toml::Table>();
        assert_eq!(table(&read), table(meant), "{text} is read as {read}: {told:?}");
        assert!(!told.is_empty() && told.iter().all(|told| told.starts_with("read: ")), "{text}: {told:?}");
    }

    #[test]
    fn what_can_be_read_is_read() {
        for (text, meant) in [
            ("a = oak", "a = \"oak\""),
            ("a = £85", "a = \"£85\""),
            ("a = £85 # asked", "a = \"£85\""),
            ("a = 1,5", "a = \"1,5\""),
            ("a = 20-10-2026", "a = \"20-10-2026\""),
            ("a = 20 October 2026", "a = \"20 October 2026\""),
            ("a = 1920–35", "a = \"1920–35\""),
            ("a = 24\" x 18\"", "a = '24\" x 18\"'"),
            ("a = \"24\" long\"", "a = '24\" long'"),
            ("a = “oak”", "a = \"oak\""),
            ("a = “oak\"", "a = \"oak\""),
            ("a = ‘maker's’", "a = \"maker's\""),
            ("a = 'maker's mark'", "a = \"maker's mark\""),
            ("a = \"C:\\photos\"", "a = 'C:\\photos'"),
            ("a = \"oak", "a = \"oak\""),
            ("a = \"oak\nof \nold\"\nb = 1", "a = \"oak\\nof \\nold\"\nb = 1"),
            ("a = \"oak\",", "a = \"oak\""),
            ("a = 5;", "a = 5"),
            ("a: oak", "a = \"oak\""),
            ("a := 5", "a = 5"),
            ("a \"oak\"", "a = \"oak\""),
            ("how known = \"oak\"", "\"how known\" = \"oak\""),
            ("maß = 3", "\"maß\" = 3"),
            ("a = [\"b\" \"c\"]", "a = [\"b\", \"c\"]"),
            ("a = [\"b\"; \"c\"", "a = [\"b\", \"c\"]"),
            ("a = [top, legs]", "a = [\"top\", \"legs\"]"),
            ("a = 120, 180, 240", "a = [\"120\", \"180\", \"240\"]"),
            ("a = top, legs", "a = \"top, legs\""),
            ("a = { b = 60 cm, c = 4,5 }", "a = { b = \"60 cm\", c = \"4,5\" }"),
            ("a = { b: 1 c = oak", "a = { b = 1, c = \"oak\" }"),
            ("a = [\n  { b = 1 }\n  { b = P120, P180 }\n]", "a = [{ b = 1 }, { b = [\"P120\", \"P180\"] }]"),
            ("a = [\n  { b = 1 },\n[c]\nd = 1", "a = [{ b = 1 }]\nc = { d = 1 }"),
            ("[[a]\nb = 1", "[[a]]\nb = 1"),
            ("[a]]\nb = 1", "[[a]]\nb = 1"),
            ("[a\nb = 1", "[a]\nb = 1"),
            ("[a]:\nb = 1", "[a]\nb = 1"),
            ("[[a]]\nb = 1\nc = 2\n\nb = 3\nc = 4", "a = [{ b = 1, c = 2 }, { b = 3, c = 4 }]"),
        ] {
            read_as(text, meant);
        }
    }

    #[test]
    fn what_cannot_be_read_is_left_out_alone() {
        for (text, left, told) in [
            ("a = 1\nb =\nc = 2", "a = 1\nc = 2", "left out: b =: `b` has no value"),
            ("a = 1\nb = = 3\nc = 2", "a = 1\nc = 2", "left out: "),
            (
                "a = 1\nsome words here\nand more\nb = 2",
                "a = 1\nb = 2",
                "unknown: some words here\nand more: these 2 lines are neither",
            ),
            ("a = 1\nb:\nc = 2", "a = 1\nc = 2", "unknown: b:: `b` has no value"),
            ("a = 1\n[b = 3\nc = 2\n[d]\ne = 1", "a = 1\nd = { e = 1 }", "section: [b = 3: "),
            ("a = 1\na = 2\nb = 3", "a = 1\nb = 3", "left out: a = 2: `a` stands here a second time"),
            (
                "a = [\n  { b = 1 },\n  { = },\n  { b = 3 },\n]",
                "a = [{ b = 1 }, { b = 3 }]",
                "left out: { = },",
            ),
            (
                "a = 1\n[a]\nb = 2\n[c]\nd = 1",
                "a = 1\nc = { d = 1 }",
                "section: [a]: `a` has a value already",
            ),
        ] {
            let (read, faults) = mended(text);
            assert_eq!(read.parse::<toml::Table>(), left.parse(), "{text}: {faults:?}");
            assert!(faults.len() == 1 && faults[0].starts_with(told), "{text}: {faults:?}");
        }
    }

    #[test]
    fn sections_of_one_name_are_a_list() {
        let (read, told) = mended("[a]\nb = 1\n[[a]]\nb = 2\n[a]\nb = 3");
        assert_eq!(read, "[[a]]\nb = 1\n[[a]]\nb = 2\n[[a]]\nb = 3");
        assert!(told.len() == 2 && told.iter().all(|told| told.starts_with("listed: [a]: ")), "{told:?}");
    }

    #[test]
    fn places_are_those_of_the_text_as_it_was_written() {
        let text = "a: oak\nhow known = “ash”\nb = 7\nc = { d = 60 cm, e = 5 }\n";
        let mended = Mended::of(text);
        let document = mended.document();
        let at = |key: &str| &text[document.get(key).unwrap().span()];
        assert_eq!([at("a"), at("how known"), at("b")], ["oak", "“ash”", "7"]);
        let inner = document.get("c").unwrap().get_ref().as_table().unwrap();
        assert_eq!(["d", "e"].map(|key| &text[inner.get(key).unwrap().span()]), ["60 cm", "5"]);
    }

    #[test]
    fn too_much_is_told_and_not_read() {
        let text: String = (0..1_000).map(|at| format!("a{at} = = 1\n")).collect();
        let mended = Mended::of(&text);
        assert!(!mended.readable && mended.faults.len() < 600);
    }

    proptest! {
        /// Whatever is typed, what is read of it is TOML, and every place lies in the text.
        #[test]
        fn anything_is_mended_or_left_out(
            lines in proptest::collection::vec("[ab\\[\\]{}=:,;\"'“”#£é0-9 .\t\\\\木\u{301}-]{0,24}", 0..12),
        ) {
            let text = lines.join("\n");
            let mended = Mended::of(&text);
            if mended.readable {
                prop_assert!(DeTable::parse(&mended.text).is_ok(), "{}", mended.text);
                for (key, value) in mended.document().iter() {
                    prop_assert!(text.get(key.span()).is_some() || key.span().end <= text.len());
                    prop_assert!(value.span().end <= text.len());
                }
            }
            for fault in &mended.faults {
                prop_assert!(text.get(fault.span.clone()).is_some(), "{:?} of {:?}", fault, text);
            }
        }
    }
}
