//! What a sheet says of a piece, sentence by sentence, with the lines that each rests on.

use chrono::NaiveDate;

use crate::claim::Basis;
use crate::derive::Workpiece;
use crate::diag::line_and_column;
use crate::record::{self, Folder};
use crate::source::Tree;
use crate::view::{self, ClaimSheet, HouseStyle, PieceContext};
use crate::words::Languages;

/// One sentence of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// The heading that it stands under.
    pub heading: String,
    /// The sentence, or two that belong together.
    pub sentence: String,
    /// The name of its message.
    pub message: String,
    /// How much it matters, in a word.
    pub weight: &'static str,
    /// Whether the sheet only counts it, and the build record has it whole.
    pub is_elsewhere: bool,
    /// What it rests on; never empty.
    pub basis: Vec<RestsOn>,
}

/// What a sentence rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RestsOn {
    /// A line of a file.
    Line {
        /// The file, from the workshop's root.
        file: String,
        /// The line, counted from 1; `None` where it is that the file says nothing under the key.
        line: Option<usize>,
        /// The key.
        key: String,
    },
    /// A row of a table of the trade.
    Row {
        /// The table, by the name of its file without the ending.
        table: &'static str,
        /// The row's id; empty where the table as a whole is meant.
        row: String,
    },
}

/// What a sheet says of the piece in a folder; `None` where there is no such piece, or its record or `workshop.toml`
/// cannot be read.
pub fn told(tree: &Tree, folder: &str, sheet: ClaimSheet, today: NaiveDate) -> Option<Vec<Told>> {
    let (read, _) = record::read(tree);
    let languages = Languages::of(tree, &read).0;
    let trade = languages.workshop().trade(tree).0;
    let piece = read.pieces.iter().find(|piece| piece.folder == folder)?;
    let workpiece = Workpiece::unopened(&read, piece, &trade)?;
    let house = HouseStyle::of(read.workshop.as_ref()?, languages.workshop(), today);
    let context = PieceContext::of(&read, &workpiece, &trade, &house);
    let words = house.words();
    let mut all: Vec<Told> = Vec::new();
    for said in view::said(&context, sheet) {
        let basis = said.claim.basis().iter().map(|basis| rests_on(basis, (&read, tree)));
        let heading = words.heading(&said.heading);
        // What is told in one line rests on all that it tells.
        match all.last_mut().filter(|last| (&last.heading, &last.sentence) == (&heading, &said.sentence)) {
            Some(last) => last.basis.extend(basis),
            None => all.push(Told {
                heading,
                sentence: said.sentence,
                message: said.claim.message.name.clone(),
                weight: said.claim.weight.word(),
                is_elsewhere: said.is_elsewhere,
                basis: basis.collect(),
            }),
        }
    }
    Some(all)
}

fn rests_on(basis: &Basis, (read, tree): (&Folder, &Tree)) -> RestsOn {
    match basis {
        Basis::Said { place, key } => {
            let place = read.settled(place.clone());
            let text = tree.text(&place.path).and_then(Result::ok);
            let line = place.span.zip(text).map(|((start, _), text)| line_and_column(text, start).0);
            RestsOn::Line { file: place.path, line, key: key.clone() }
        }
        Basis::Unsaid { file, key } => RestsOn::Line { file: file.clone(), line: None, key: key.clone() },
        Basis::Table { table, row } => RestsOn::Row { table, row: row.clone() },
    }
}
