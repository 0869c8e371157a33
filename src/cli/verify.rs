//! `verify`: whether a pack is whole, which seal it carries and which key signed it, on one screen.

use std::path::PathBuf;

use clap::Args;
use console::{measure_text_width, truncate_str};

use super::voice::Voice;
use super::words::{bytes, count, grouped};
use super::{Outcome, Trouble, keys};
use crate::pack::{self, Seal, Signature, Verdict};
use crate::source;
use crate::unit::legible::one_line;
use crate::unit::wrapped;

/// How many lines tell what differs before the rest is only counted, so that all fits on one screen.
const LINES: usize = 12;

/// The margin of what is said about a subject.
const MARGIN: usize = 11;

#[derive(Debug, Args)]
pub(super) struct Verify {
    /// The pack, as a folder or a zip; nothing is unpacked
    pack: PathBuf,
    /// The workshop's public key, or the file that holds it
    #[arg(long)]
    key: Option<String>,
}

impl Verify {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let trusted = self.key.as_deref().map(keys::public_key).transpose()?;
        let contents =
            source::pack(&self.pack).map_err(|source| Trouble::Read { path: self.pack.clone(), source })?;
        let verdict = pack::verify(&contents, trusted.as_ref());
        let voice = Voice::out();
        voice.say(told(&verdict, &voice))?;
        Ok(if verdict.sound() { Outcome::Clean } else { Outcome::Mistakes })
    }
}

fn told(verdict: &Verdict, voice: &Voice) -> String {
    let mut lines = vec![heading(verdict, voice)];
    lines.extend(about(verdict, voice));
    if !verdict.whole() {
        lines.push(String::new());
        lines.extend(problems(verdict, voice));
    }
    // Of what could not be opened, nothing more can be said.
    if verdict.seal == Seal::NotSaid(None) && verdict.signature == Signature::None {
        return lines.join("\n");
    }
    lines.push(String::new());
    lines.extend(subject("Seal", &seal(&verdict.seal), voice));
    lines.extend(subject("Signature", &signature(&verdict.signature), voice));
    lines.join("\n")
}

fn heading(verdict: &Verdict, voice: &Voice) -> String {
    let gone = verdict.signature == Signature::Gone;
    match (verdict.whole(), verdict.sound()) {
        (true, true) => {
            format!("{} Every file is there, and none was changed or added.", voice.strong("Whole."))
        }
        (true, false) => format!(
            "{} Every file is there, and none was changed or added; see the signature.",
            voice.alarming(match gone {
                true => "Whole, but its signature is gone.",
                false => "Whole, but not signed as it should be.",
            })
        ),
        (false, _) if gone => voice.alarming("Not whole, and its signature is gone."),
        (false, _) => voice.alarming("Not whole."),
    }
}

/// What the pack is about, in its own words, which are cut where they are too long.
fn about(verdict: &Verdict, voice: &Voice) -> Vec<String> {
    let about = &verdict.about;
    let width = voice.text_width() - 2;
    let join = |texts: [&str; 2], between: &str| {
        let said: Vec<String> =
            texts.iter().map(|text| one_line(text)).filter(|text| !text.is_empty()).collect();
        said.join(between)
    };
    let size = format!("{}, {}", count(verdict.files, "file", "files"), bytes(verdict.bytes));
    let made = join([&about.organisation, &about.on], ", ");
    [join([&about.number, &about.title], "  "), made, size]
        .into_iter()
        .filter(|line| !line.is_empty())
        .map(|line| format!("  {}", truncate_str(&line, width, "…")))
        .collect()
}

/// What differs, as far as it fits on a screen.
fn problems(verdict: &Verdict, voice: &Voice) -> Vec<String> {
    let width = voice.text_width();
    let mut lines = Vec::new();
    for (place, problem) in verdict.problems.iter().enumerate() {
        let text = one_line(&problem.to_string());
        let text: Vec<String> = text.split(' ').map(|word| shortened(word, width - 4)).collect();
        let text = truncate_str(&text.join(" "), 2 * (width - 8), "…").into_owned();
        let told = wrapped(&text, width - 4, "    ");
        if lines.len() + told.lines().count() > LINES {
            lines.push(format!("  and {} more", grouped(verdict.problems.len() - place)));
            break;
        }
        lines.extend(format!("  {told}").lines().map(str::to_owned));
    }
    lines
}

/// A word that is wider than a line, such as a long path, without its middle; its end says most.
fn shortened(word: &str, width: usize) -> String {
    if measure_text_width(word) <= width {
        return word.to_owned();
    }
    // Letters of some scripts are two columns wide.
    let kept = if word.is_ascii() { width - 1 } else { width / 2 - 1 };
    let letters: Vec<char> = word.chars().collect();
    let (head, tail) =
        (letters.iter().take(kept / 3), letters.iter().skip(letters.len().saturating_sub(kept - kept / 3)));
    head.chain(['…'].iter()).chain(tail).collect()
}

/// A word and what is to be said of it, in lines that hang from it.
fn subject(name: &str, said: &[String], voice: &Voice) -> Vec<String> {
    let indent = " ".repeat(MARGIN);
    let texts = said.iter().map(|text| wrapped(text, voice.text_width() - MARGIN, &indent));
    let texts = texts.collect::<Vec<_>>().join(&format!("\n{indent}"));
    let name = voice.strong(name) + &" ".repeat(MARGIN - name.len());
    format!("{name}{texts}").lines().map(str::to_owned).collect()
}

fn seal(seal: &Seal) -> Vec<String> {
    match seal {
        Seal::Kept(digest) => {
            vec![
                pack::short_seal(digest),
                "Compare it with the seal that is printed on the papers.".to_owned(),
            ]
        }
        Seal::Broken { said, found: Some(found) } => vec![
            format!("broken: the pack says {}", pack::short_seal(said)),
            format!("and the record in it has {}", pack::short_seal(found)),
        ],
        Seal::Broken { said, found: None } => {
            vec![format!("the pack says {}, and holds no record", pack::short_seal(said))]
        }
        Seal::NotSaid(Some(found)) => {
            vec![format!("the pack says none; the record in it would have {}", pack::short_seal(found))]
        }
        Seal::NotSaid(None) => vec!["none, and no record".to_owned()],
    }
}

fn signature(signature: &Signature) -> Vec<String> {
    let with_comment = |mut lines: Vec<String>, comment: &str| {
        if !comment.is_empty() {
            lines.push(format!("\"{}\"", truncate_str(&one_line(comment), 130, "…")));
        }
        lines
    };
    match signature {
        Signature::None => {
            vec!["none. The pack is whole or not all the same, but anybody could have made it.".to_owned()]
        }
        Signature::Gone => vec!["none, though there should be one: it was taken away, or never made.".to_owned()],
        Signature::Trusted { key, comment } => {
            with_comment(vec![format!("good, by key {}, the one that you gave", key.id())], comment)
        }
        Signature::BySaidKey { key, comment } => with_comment(
            vec![
                format!("good, by key {}, which the pack itself names:", key.id()),
                key.to_string(),
                "Anybody can name a key. Compare it with the one that the workshop publishes, or give that one \
                 with --key."
                    .to_owned(),
            ],
            comment,
        ),
        Signature::NoKey { id } => {
            vec![format!("by key {id}, as it says; not checked, since no key is at hand. Give one with --key.")]
        }
        Signature::OtherKey { id, wanted } => {
            vec![format!("by another key: {id} made it, and {wanted} was to have made it")]
        }
        Signature::Bad(fault) => vec![format!("not good: {fault}")],
    }
}
