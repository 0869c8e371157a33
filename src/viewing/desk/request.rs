//! What a form of the record's page sends.

use super::given::Given;
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
    },
}

/// A request that may change the record.
#[derive(Debug, Default)]
pub(super) struct Request {
    pub(super) token: String,
    pub(super) piece: String,
    pub(super) opened: Option<Opened>,
    pub(super) deed: Deed,
    pub(super) given: Given,
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
        let writes = matches!(what.as_str(), "write" | "write-remove");
        request.deed = match what.as_str() {
            "remove" | "write-remove" => Deed::Remove,
            "undo" => Deed::Undo,
            _ if !line.is_empty() => Deed::Take { line, row, surface },
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
            Deed::Take { .. } => "taken",
            Deed::Remove => "removed",
            _ => "entry",
        }
    }
}
