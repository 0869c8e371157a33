//! `look-over`: what to look for on a piece at the seller's, before anything is paid.
//!
//! It is called by what people say of it; a viewing, as auction rooms have it, is a command already.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};

use super::consult::Form;
use super::sheet::{Cell, Row, Sheet, Table};
use super::voice::Voice;
use super::{Outcome, Trouble, today};
use crate::archive::{Asking, BeforeAnswer};
use crate::journey;
use crate::record::Paper;
use crate::source::{Tree, TreeError};
use crate::view::{LookOver as List, LookRow, slug};
use crate::write;

#[derive(Debug, Args)]
pub(super) struct LookOver {
    /// What it is, as you would say it, with what it has
    #[arg(required = true)]
    kind: Vec<String>,
    /// Write one page to print, to FILE or a file called after the kind
    #[arg(long, value_name = "FILE", num_args = 0..=1, require_equals = true, conflicts_with = "form")]
    print: Option<Option<PathBuf>>,
    /// The paper of that page; the workshop's if not said
    #[arg(long, value_name = "SIZE", requires = "print")]
    paper: Option<PaperSize>,
    /// The form of the list
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    form: Form,
    /// The workshop's folder, where there is one
    #[arg(long, value_name = "PATH")]
    workshop: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum PaperSize {
    /// 210 by 297 mm
    #[value(name = "A4", alias = "a4")]
    A4,
    /// 8.5 by 11 inches
    Letter,
}

impl LookOver {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let kind = self.kind.join(" ");
        let root = self.workshop.as_deref().unwrap_or(Path::new("."));
        let tree = match (Tree::open(root), &self.workshop) {
            // At the seller's there may be no workshop yet.
            (Err(TreeError::NoWorkshop(_)), None) => Tree::default(),
            (opened, _) => opened?,
        };
        let before = tree.root().and_then(|root| before(root, &kind));
        let Some(file) = self.print else {
            let list = journey::look_over(&tree, &kind, before.as_ref());
            self.form.print(&sheet(&list, before))?;
            return Ok(Outcome::Clean);
        };
        let file = file.unwrap_or_else(|| PathBuf::from(file_name(&kind)));
        // Seen before the page is set. Adding looks again and never overwrites.
        if file.symlink_metadata().is_ok() {
            return Err(Trouble::FileThere(file));
        }
        let paper = self.paper.map(|paper| match paper {
            PaperSize::A4 => Paper::A4,
            PaperSize::Letter => Paper::Letter,
        });
        let page = journey::look_over_printed(&tree, &kind, before.as_ref(), (paper, today()))?;
        if !write::add(&file, &page.ok_or(Trouble::NoTypesetter)?)? {
            return Err(Trouble::FileThere(file));
        }
        let voice = Voice::out();
        voice.say(format!("{} {}", voice.strong("To print"), file.display()))?;
        Ok(Outcome::Clean)
    }
}

/// What the page of a kind is called where nobody says it.
fn file_name(kind: &str) -> String {
    let name: String = slug(kind).chars().take(60).collect();
    match name.trim_end_matches('-') {
        "" => "look-over.pdf".to_owned(),
        name => format!("look-over-{name}.pdf"),
    }
}

/// What the archive has of pieces of the kind; the list stands without it.
fn before(root: &Path, kind: &str) -> Option<BeforeAnswer> {
    let opened = journey::archive_at_hand(root, &root.join("written"))?;
    Asking { archive: &opened.archive, trade: &opened.trade, today: today() }.before(kind).ok()
}

fn sheet(list: &List, before: Option<BeforeAnswer>) -> Sheet {
    let pieces = before.map_or_else(Vec::new, |before| before.pieces);
    let price = "What it may cost follows from past pieces: `witnessmark consult quote KIND`, with `--task` for each fault \
                 that you find, `--earn` for an hour and `--sell` for what it should bring.";
    let remembered = |what: &str, line: &String| {
        let told = vec![line.clone()];
        Row { cells: vec![Cell::Text(what.to_owned()), Cell::Text(line.clone())], told }
    };
    let mut looks = Vec::new();
    for part in &list.parts {
        let rows = part.rows.iter().enumerate();
        looks.extend(rows.map(|(at, row)| {
            let mut told = told(row);
            if at == 0 {
                told.insert(0, part.name.clone());
            }
            Row { cells: cells(&part.name, row), told }
        }));
    }
    let found = list.found.iter().map(|line| remembered("found", line));
    let lessons = list.lessons.iter().map(|line| remembered("lesson", line));
    Sheet {
        asked: format!("To look for: {}", list.kind),
        said: vec![list.heard.clone(), price.to_owned()],
        tables: vec![
            Table {
                name: "danger",
                heading: "Danger signs: a yes may mean to walk away".to_owned(),
                columns: &["part", "do", "look", "means"],
                rows: list.dangers.iter().map(|row| Row { cells: cells("", row), told: told(row) }).collect(),
                shown: &[],
            },
            Table {
                name: "look",
                heading: "All else, and what a yes means".to_owned(),
                columns: &["part", "do", "look", "means"],
                rows: looks,
                shown: &[],
            },
            Table {
                name: "before",
                heading: "Such pieces before".to_owned(),
                columns: &["as", "what"],
                rows: found.chain(lessons).collect(),
                shown: &[],
            },
        ],
        answered: !pieces.is_empty(),
        pieces,
    }
}

fn cells(part: &str, row: &LookRow) -> Vec<Cell> {
    [part, &row.deed, &row.look, &row.means].map(|text| Cell::Text(text.to_owned())).to_vec()
}

fn told(row: &LookRow) -> Vec<String> {
    vec![format!("{}\t{}", row.deed, row.look), format!("\t→ {}", row.means)]
}
