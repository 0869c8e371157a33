//! `why`: what a diagnostic means.

use clap::Args;
use console::{measure_text_width, pad_str, truncate_str};

use super::voice::Voice;
use super::{Outcome, Trouble};
use crate::diag::{Code, Rank, nearest};
use crate::inspect::codes;
use crate::unit::{capital, wrapped};

#[derive(Debug, Args)]
pub(super) struct Why {
    /// The name beside a mistake, doubt or hint; none lists all
    code: Option<String>,
}

impl Why {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let voice = Voice::out();
        let mut codes = codes();
        codes.sort_by_key(|code| (code.rank, code.name));
        let text = match self.code {
            None => list(&codes, &voice),
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
    lines.push("`witnessmark why CODE` says what to do about one.".to_owned());
    lines.join("\n")
}
