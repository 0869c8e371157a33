//! One TOML text read into a table's type, with what breaks its grammar mended or left out.

use std::collections::BTreeMap;
use std::ops::Range;

use toml::de::DeTable;

use super::mend::{Fault, Mended, Outcome};
use super::{Fields, HEAD, Key, Reader, code, shortened};
use crate::diag::{Diagnostic, Place, line_and_column};

/// What reading one file gave.
pub(crate) struct Reading<T> {
    /// The file's table; `None` where it could not be read.
    pub(crate) table: Option<T>,
    /// What is wrong with it.
    pub(crate) problems: Vec<Diagnostic>,
    /// Whether every table within it was read; where not, names in it may be missed elsewhere.
    pub(crate) whole: bool,
    /// What the table therefore lacks: how many of its own tables have a mistake, by their names in messages; the
    /// file's own keys count as one under [`HEAD`].
    pub(crate) lacks: BTreeMap<&'static str, usize>,
}

impl<T> Reading<T> {
    /// Nothing was read, for one reason or for none.
    pub(crate) fn nothing(problem: Option<Diagnostic>) -> Reading<T> {
        let whole = problem.is_none();
        Reading { table: None, problems: Vec::from_iter(problem), whole, lacks: BTreeMap::new() }
    }
}

/// Hands over what a TOML text says, with what breaks its grammar mended or left out; `None` where that is too much.
pub(crate) fn with_document<R>(text: &str, hand_over: impl FnOnce(&DeTable<'_>) -> R) -> Option<R> {
    match DeTable::parse(text) {
        Ok(document) => Some(hand_over(document.get_ref())),
        Err(_) => {
            let mended = Mended::of(text);
            mended.readable.then(|| hand_over(&mended.document()))
        }
    }
}

/// Where the places of a text begin that lies under another one: beyond every place of a file.
pub(crate) const BELOW: usize = 1 << 30;

/// What is read in place of a document: what it comes to together with another.
pub(crate) struct Laid<'l> {
    /// The other one.
    pub(crate) below: &'l DeTable<'l>,
    /// What the two come to.
    pub(crate) lay: &'l dyn for<'d> Fn(&DeTable<'d>, &DeTable<'d>) -> DeTable<'d>,
}

/// Reads one TOML text into a table's type, and says what could not be read.
pub(crate) fn read_text<T>(
    path: &str,
    text: &str,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
) -> Reading<T> {
    read_text_in(path, text, None, read)
}

/// The same for a workshop whose currency is known.
pub(crate) fn read_text_in<T>(
    path: &str,
    text: &str,
    currency: Option<&str>,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
) -> Reading<T> {
    read_text_laid(path, text, currency, None, read)
}

/// The same of what a document comes to together with another, what is wrong with which is told where that is read.
pub(crate) fn read_text_laid<T>(
    path: &str,
    text: &str,
    currency: Option<&str>,
    laid: Option<&Laid<'_>>,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
) -> Reading<T> {
    let mut reader = Reader { currency: currency.map(str::to_owned), ..Reader::of(path) };
    // The document's own span is the whole file; a missing key is shown at its first line.
    let read = |document: &DeTable<'_>, reader: &mut Reader<'_>| match laid {
        Some(Laid { below, lay }) => read(&Fields::new(&lay(document, below), 0..0, HEAD), reader),
        None => read(&Fields::new(document, 0..0, HEAD), reader),
    };
    let (table, faults) = match DeTable::parse(text) {
        Ok(document) => (read(document.get_ref(), &mut reader), Vec::new()),
        Err(_) => {
            let mut mended = Mended::of(text);
            reader.lost = std::mem::take(&mut mended.lost);
            let table = if mended.readable { read(&mended.document(), &mut reader) } else { None };
            (table, mended.faults)
        }
    };
    let owner = |fault: &Fault| match fault.outcome {
        Outcome::Section(_) | Outcome::Unknown(_) => None,
        _ => {
            let header = |start: usize| text.get(start..).is_some_and(|text| text.starts_with('['));
            let sections = reader.tables.iter().filter(|(start, _)| header(*start));
            sections.filter(|(start, _)| *start <= fault.span.start).max_by_key(|(start, _)| *start).copied()
        }
    };
    let left_out = |fault: &&Fault| {
        matches!(fault.outcome, Outcome::LeftOut(_) | Outcome::Section(_) | Outcome::Unknown(_))
    };
    let without: Vec<(usize, &'static str)> =
        faults.iter().filter(left_out).map(|fault| owner(fault).unwrap_or((0, HEAD))).collect();
    let whole = !reader.dropped && without.is_empty();
    reader.lacking.retain(|(start, _)| *start < BELOW);
    reader.problems.retain(|problem| problem.place.span.is_none_or(|(start, _)| start < BELOW));
    reader.lacking.extend(without);
    let (lacks, head) = (reader.lacks(), reader.head);
    let told = reader.told();
    let mut problems = told_of_grammar(path, text, faults, head, &told);
    problems.extend(told);
    Reading { table, problems, whole, lacks }
}

/// Lines that are no TOML for one reason.
struct Alike {
    what: String,
    /// The first place.
    span: Range<usize>,
    /// The number of each line, and the line as it should be.
    lines: Vec<(usize, String)>,
}

/// What is told of the mistakes of grammar, with what was `told` of the values already. Those that were read are told
/// once for all of a kind, with every line as it should be.
fn told_of_grammar(
    path: &str,
    text: &str,
    faults: Vec<Fault>,
    head: &[Key],
    told: &[Diagnostic],
) -> Vec<Diagnostic> {
    let mut problems: Vec<Diagnostic> = Vec::new();
    let mut alike: Vec<Alike> = Vec::new();
    for Fault { span, what, outcome } in faults {
        let at = Place::at(path, &span);
        match outcome {
            Outcome::LeftOut(help) | Outcome::Unknown(help) => {
                let message = shortened(format!("{what}: left out"));
                problems.push(Diagnostic::new(&code::BROKEN_TOML, at, message).help(shortened(help)));
            }
            Outcome::Section(help) => {
                let message = shortened(format!("{what}: left out with what stands below it"));
                problems.push(Diagnostic::new(&code::BROKEN_TOML, at, message).help(shortened(help)));
            }
            Outcome::Listed(name) => {
                // Of a section that stands once its own reader tells.
                if head.iter().any(|key| key.name == name && key.many) {
                    let help = format!("write `[[{name}]]`, with two brackets");
                    problems.push(Diagnostic::new(&code::LOOSE_TOML, at, what).help(help));
                }
            }
            Outcome::Read(line) => {
                // What is told of the value or key itself says how to write it, too.
                if told.iter().any(|told| told.place == at) {
                    continue;
                }
                let line = (line_and_column(text, span.start).0, line);
                match alike.iter_mut().find(|alike| alike.what == what) {
                    Some(alike) => alike.lines.push(line),
                    None => alike.push(Alike { what, span, lines: vec![line] }),
                }
            }
        }
    }
    for Alike { what, span, lines } in alike {
        let here = match lines.len() {
            1 => String::new(),
            2 => ", here and in another line".to_owned(),
            all => format!(", here and in {} other lines", all - 1),
        };
        let message = format!("{what}{here}: that is no TOML, and is read as what it seems to mean");
        // A single line is shown above, with its number.
        let help = match &lines[..] {
            [(_, line)] => format!("write\n{line}"),
            _ => {
                let lines: Vec<String> =
                    lines.iter().map(|(at, line)| format!("line {at}: {line}")).collect();
                format!("write\n{}", lines.join("\n"))
            }
        };
        problems.push(Diagnostic::new(&code::LOOSE_TOML, Place::at(path, &span), message).help(help));
    }
    problems
}
