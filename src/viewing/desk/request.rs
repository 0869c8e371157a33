//! What a form of the record's page sends.

use std::collections::BTreeMap;

use super::given::Given;
use super::pictures::Marking;
use super::proposals::row_name;
use super::sheet::Opened;
use crate::viewing::address::pairs;
use crate::viewing::guard::alike;

/// What is to be done.
#[derive(Debug, Default, PartialEq)]
pub(super) enum Deed {
    /// What the open form says is to be put into the record.
    #[default]
    Enter,
    /// The open row is to be taken out.
    Remove,
    /// The last change is to be undone.
    Undo,
    /// A row that the day book proposes is to be put into the record.
    Take {
        /// The line.
        line: String,
        /// The row as TOML.
        row: String,
        /// The surface that somebody named, counted from 0.
        surface: Option<usize>,
        /// Whether its values were changed first, in a form of its own.
        edited: bool,
    },
    /// All rows that the day book proposes and that leave nothing open are to be put into the record.
    TakeSure,
    /// Photographs are to be of the stages that were chosen.
    Stages,
    /// Photographs of no stage are to be of those that their days speak for.
    Guesses,
}

/// A request that may change the record.
#[derive(Debug, Default)]
pub(super) struct Request {
    pub(super) token: String,
    pub(super) piece: String,
    pub(super) opened: Option<Opened>,
    pub(super) deed: Deed,
    pub(super) given: Given,
    /// The mark that was set on a photograph for the open entry.
    pub(super) mark: Marking,
    /// The stages of photographs, by file: what the form was made with, and what it holds.
    pub(super) stages: BTreeMap<String, (String, String)>,
    /// The proposal that is open as a form, as addresses have it.
    pub(super) taken: String,
    /// The fingerprint of the record that the form was made from.
    pub(super) was: String,
    /// The fingerprint of the entry that the form shows.
    pub(super) row: String,
    /// The change that was shown and is now to be written: the fingerprints of the record before and after.
    pub(super) seen: Option<(String, String)>,
}

impl Request {
    /// Reads what a form sends; `None` where it is none of this page.
    pub(super) fn of(body: &[u8]) -> Option<Request> {
        let mut request = Request::default();
        let (mut line, mut row, mut surface) = (String::new(), String::new(), None);
        let (mut seen_was, mut seen_becomes) = (String::new(), String::new());
        let mut what = String::new();
        for (name, value) in pairs(std::str::from_utf8(body).ok()?)? {
            let value = value.replace("\r\n", "\n");
            if let Some(name) = name.strip_prefix("v:") {
                let value = value.trim();
                let all = request.given.values.entry(name.to_owned()).or_default();
                if !all.is_empty() && !value.is_empty() {
                    all.push('\n');
                }
                all.push_str(value);
                continue;
            }
            if let Some(name) = name.strip_prefix("o:") {
                request.given.was.insert(name.to_owned(), value.trim().to_owned());
                continue;
            }
            if let Some(file) = name.strip_prefix("so:") {
                request.stages.entry(file.to_owned()).or_default().0 = value;
                continue;
            }
            if let Some(file) = name.strip_prefix("s:") {
                request.stages.entry(file.to_owned()).or_default().1 = value;
                continue;
            }
            if let Some(name) = name.strip_prefix("m:") {
                request.mark.note_field(name, value)?;
                continue;
            }
            match name.as_str() {
                "token" => request.token = value,
                "piece" => request.piece = value,
                "at" => request.opened = Some(Opened::of(&value)?),
                "was" => request.was = value,
                "row" => request.row = value,
                "do" => what = value,
                "seen-was" => seen_was = value,
                "seen-becomes" => seen_becomes = value,
                "line" => line = value,
                "toml" => row = value,
                "surface" => surface = value.parse().ok(),
                _ => return None,
            }
        }
        // A field with nothing in it was sent, too.
        for name in request.given.was.keys() {
            request.given.values.entry(name.clone()).or_default();
        }
        let writes = what.starts_with("write");
        request.deed = match what.as_str() {
            "remove" | "write-remove" => Deed::Remove,
            "undo" => Deed::Undo,
            "sure" | "write-sure" => Deed::TakeSure,
            "guesses" | "write-guesses" => Deed::Guesses,
            "show" | "write" if !line.is_empty() => {
                let edited = !request.given.was.is_empty();
                if edited {
                    request.taken = row_name(&line, &row);
                }
                Deed::Take { line, row, surface, edited }
            }
            "show" | "write" if request.opened.is_none() && !request.stages.is_empty() => Deed::Stages,
            "show" | "write" => Deed::Enter,
            _ => return None,
        };
        request.seen = writes.then_some((seen_was, seen_becomes));
        Some(request)
    }

    /// Whether it comes from the record's own page.
    pub(super) fn has_token(&self, token: &str) -> bool {
        alike(&self.token, token)
    }

    /// The form of the page that it came from.
    pub(super) fn form(&self) -> &'static str {
        match self.deed {
            Deed::Take { edited: false, .. } => "taken",
            Deed::TakeSure => "sure",
            Deed::Guesses => "guesses",
            Deed::Stages => "stages",
            Deed::Remove => "removed",
            _ => "entry",
        }
    }
}
