//! `why`: what a diagnostic means, or what each sentence of a piece's papers rests on.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use console::{measure_text_width, pad_str, truncate_str};
use serde_json::{Value, json};

use super::voice::Voice;
use super::{Outcome, Trouble, piece_folder, today};
use crate::diag::{Code, Rank, nearest};
use crate::inspect::codes;
use crate::journey::{self, RestsOn, Told};
use crate::record;
use crate::source::Tree;
use crate::unit::legible::escaped_json;
use crate::unit::{capital, wrapped};
use crate::view::ClaimSheet;

#[derive(Debug, Args)]
pub(super) struct Why {
    /// The name beside a mistake, doubt or hint, or a piece; none lists names
    #[arg(value_name = "CODE|PIECE")]
    what: Option<String>,
    /// The paper to be told; disclosure and care if not said
    #[arg(long, value_name = "SHEET")]
    sheet: Option<Sheet>,
    /// The form of the answer about a piece
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    form: Form,
    /// The workshop's folder
    #[arg(long, value_name = "PATH", default_value = ".")]
    workshop: PathBuf,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Sheet {
    /// The disclosure sheet
    Disclosure,
    /// The care sheet, with the days of its calendar
    Care,
    /// The label
    Label,
    /// The build record
    BuildRecord,
}

impl Sheet {
    fn claims(self) -> ClaimSheet {
        match self {
            Sheet::Disclosure => ClaimSheet::Disclosure,
            Sheet::Care => ClaimSheet::Care,
            Sheet::Label => ClaimSheet::Label,
            Sheet::BuildRecord => ClaimSheet::BuildRecord,
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// For reading
    Text,
    /// One JSON document, for other programs
    Json,
}

impl Why {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let voice = Voice::out();
        let mut codes = codes();
        codes.sort_by_key(|code| (code.rank, code.name));
        // A name of a diagnostic is taken for that, unless something is asked that only a piece has.
        let named = |name: &str| codes.iter().any(|code| code.name == name);
        let of_piece = self.sheet.is_some() || self.form == Form::Json || self.workshop.as_os_str() != ".";
        let text = match self.what {
            None => list(&codes, &voice),
            Some(piece)
                if of_piece
                    || !named(&piece)
                        && !piece.contains("why ")
                        && self.workshop.join("workshop.toml").is_file() =>
            {
                let tree = Tree::open(&self.workshop)?;
                let (read, _) = record::read(&tree);
                let folder = piece_folder(&read, &piece)?;
                let sheets = self.sheet.map_or(vec![Sheet::Disclosure, Sheet::Care], |sheet| vec![sheet]);
                let mut all = Vec::new();
                for sheet in sheets {
                    let told = journey::told(&tree, &folder, sheet.claims(), today());
                    all.push((sheet, told.ok_or(Trouble::UnreadRecord)?));
                }
                match self.form {
                    Form::Text => told_text(&all, &voice),
                    Form::Json => told_json(&all),
                }
            }
            Some(name) => {
                // The name may be copied with what is around it.
                let bare = name.trim().trim_matches(['(', ')']);
                let bare = bare.strip_prefix("why ").unwrap_or(bare).trim();
                let found = codes.iter().find(|code| code.name == bare);
                let unknown = || Trouble::UnknownCode {
                    code: name.clone(),
                    nearest: nearest(bare, codes.iter().map(|code| code.name)),
                };
                sheet(found.ok_or_else(unknown)?, &voice)
            }
        };
        voice.say(text)?;
        Ok(Outcome::Clean)
    }
}

/// What a rank means for the papers.
fn meaning(rank: Rank) -> &'static str {
    match rank {
        Rank::Mistake => "what it touches is not in the papers until it is mended",
        Rank::Doubt => "the papers are written, but something in them is missing or doubtful",
        Rank::Hint => "the record is sound; this would make its papers better",
    }
}

/// The sentences of papers with what they rest on, for reading.
fn told_text(sheets: &[(Sheet, Vec<Told>)], voice: &Voice) -> String {
    let mut lines = Vec::new();
    for (sheet, told) in sheets {
        let name = sheet.to_possible_value().map_or(String::new(), |value| capital(value.get_name()));
        lines.push(voice.strong(name));
        let mut heading = "";
        for sentence in told {
            if heading != sentence.heading {
                heading = &sentence.heading;
                lines.push(String::new());
                lines.push(voice.strong(format!("  {heading}")));
            }
            let counted =
                if sentence.is_elsewhere { " (counted here, whole in the build record)" } else { "" };
            let said = format!("{}{counted}", sentence.sentence);
            lines.push(format!("  {}", wrapped(&said, voice.text_width() - 2, "  ")));
            lines
                .extend(sentence.basis.iter().map(|basis| voice.faint(format!("      {}", rests_on(basis)))));
        }
    }
    lines.join("\n")
}

/// What a sentence rests on, in a line.
fn rests_on(basis: &RestsOn) -> String {
    match basis {
        RestsOn::Line { file, line: Some(line), key } => format!("{file}:{line} {key}"),
        RestsOn::Line { file, line: None, key } => format!("{file}: nothing under {key}"),
        RestsOn::Row { table, row } if row.is_empty() => format!("table {table}"),
        RestsOn::Row { table, row } => format!("table {table}, {row}"),
    }
}

/// The same as one JSON document: a list of sentences, each with its sheet.
fn told_json(sheets: &[(Sheet, Vec<Told>)]) -> String {
    let basis = |basis: &RestsOn| match basis {
        RestsOn::Line { file, line, key } => json!({ "file": file, "line": line, "key": key }),
        RestsOn::Row { table, row } => json!({ "table": table, "row": row }),
    };
    let mut all: Vec<Value> = Vec::new();
    for (sheet, told) in sheets {
        let name = sheet.to_possible_value().map_or(String::new(), |value| value.get_name().to_owned());
        all.extend(told.iter().map(|told| {
            json!({
                "sheet": name,
                "heading": told.heading,
                "sentence": told.sentence,
                "message": told.message,
                "rank": told.weight,
                "counted": told.is_elsewhere,
                "basis": told.basis.iter().map(basis).collect::<Vec<_>>(),
            })
        }));
    }
    escaped_json(&format!("{:#}", Value::Array(all))).into_owned()
}

/// One code in full, in the form of a diagnostic.
fn sheet(code: &Code, voice: &Voice) -> String {
    let line = |label: &str, text: &str| {
        let text = wrapped(&format!("{label} {text}"), voice.text_width() - 2, "  ");
        format!("  {}", text.replacen(label, &voice.strong(label), 1))
    };
    let rank = format!("{}:", capital(code.rank.word()));
    [
        voice.strong(code.name),
        line(&rank, &format!("{}.", meaning(code.rank))),
        line("Why:", code.why),
        line("To mend:", code.fix),
    ]
    .join("\n")
}

/// Every code in a line, the most serious first.
fn list(codes: &[&Code], voice: &Voice) -> String {
    let longest = codes.iter().map(|code| measure_text_width(code.name)).max().unwrap_or(0);
    let mut lines = Vec::new();
    for rank in [Rank::Mistake, Rank::Doubt, Rank::Hint] {
        let mut of_rank = codes.iter().filter(|code| code.rank == rank).peekable();
        if of_rank.peek().is_none() {
            continue;
        }
        if !lines.is_empty() {
            lines.push(String::new());
        }
        lines.push(format!("{} {}", voice.strong(format!("{}:", capital(rank.word()))), meaning(rank)));
        for code in of_rank {
            let name = pad_str(code.name, longest, console::Alignment::Left, None);
            let why = truncate_str(code.why, voice.width().saturating_sub(longest + 4), "…");
            lines.push(format!("  {name}  {}", voice.faint(why)));
        }
    }
    lines.push(String::new());
    lines.push(
        "`witnessmark why CODE` says what to do about one; `witnessmark why PIECE` what its papers rest on."
            .to_owned(),
    );
    lines.join("\n")
}
