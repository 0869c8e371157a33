//! `consult`: asks the archive.

mod care;
mod colour;
mod due;
mod faults;
mod lessons;
mod money;
mod quote;
mod stock;
mod time;
mod words;

use std::path::{Path, PathBuf};

use chrono::{Duration, NaiveDate};
use clap::{Args, Subcommand, ValueEnum};
use rust_decimal::Decimal;

use super::bar::Bar;
use super::sheet::{Cell, Sheet};
use super::voice::Voice;
use super::{Outcome, Trouble, today};
use crate::archive::{ArchiveFault, Asking};
use crate::journey::{self, OpenedArchive, Progress, Quiet};
use crate::unit::{Money, wrapped};
use crate::words::Words;

#[derive(Debug, Args)]
pub(super) struct Consult {
    #[command(subcommand)]
    question: Option<Question>,
    /// Words to search for in everything, as `words` does
    text: Vec<String>,
    /// The workshop's folder
    #[arg(long, value_name = "PATH", default_value = ".", global = true)]
    workshop: PathBuf,
    /// Where its papers were written, if not to `written` in it
    #[arg(long, value_name = "DIR", global = true)]
    written: Option<PathBuf>,
    /// The form of the answer
    #[arg(long = "as", value_name = "FORM", default_value = "text", global = true)]
    form: Form,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    /// For reading
    Text,
    /// One JSON document, for other programs
    Json,
    /// One table, for spreadsheets
    Csv,
}

impl Form {
    /// Prints an answer.
    pub(super) fn print(self, sheet: &Sheet) -> Result<(), Trouble> {
        let voice = Voice::out();
        match self {
            Form::Text => voice.say(sheet.text(&voice)),
            Form::Json => voice.say(sheet.json()),
            Form::Csv => voice.print(&sheet.csv()),
        }
    }
}

#[derive(Debug, Subcommand)]
enum Question {
    /// Every line that has some words, however they are said
    Words {
        /// The words
        #[arg(required = true)]
        text: Vec<String>,
        /// All lines, not only the likeliest
        #[arg(long)]
        all: bool,
    },
    /// Measured colours with their recipes, the nearest first
    Colour {
        #[command(flatten)]
        colour: colour::Colour,
        /// All colours, not only the nearest
        #[arg(long)]
        all: bool,
    },
    /// How long work like this took
    Time {
        /// A task, or words of what was done
        #[arg(required = true)]
        words: Vec<String>,
        /// All works, not only the newest
        #[arg(long)]
        all: bool,
    },
    /// What a new piece is likely to take: hours and materials
    Quote {
        /// Its kind, such as table/gateleg
        kind: String,
        /// A task that is asked for; the whole piece if none is
        #[arg(long, value_name = "WORDS")]
        task: Vec<String>,
        #[command(flatten)]
        price: quote::Price,
    },
    /// What was found like it, what was done, and how it turned out
    Faults {
        /// A fault, or words of it
        #[arg(required = true)]
        words: Vec<String>,
        /// All faults, not only the likeliest
        #[arg(long)]
        all: bool,
    },
    /// What is left of stock and tins, and where the rest went
    Stock {
        /// An item's id, or a word of it
        id: Option<String>,
    },
    /// What was taken, spent and earned
    Money {
        /// The year; all years if not said
        #[arg(long, allow_hyphen_values = true)]
        year: Option<i32>,
        /// All pieces, not only the first
        #[arg(long)]
        all: bool,
    },
    /// What was to be remembered
    Lessons {
        /// A kind of piece or work, or other words
        words: Vec<String>,
    },
    /// What waits: open jobs, call-backs, renewals, reserved, unsold
    Due {
        /// The last day that is looked at; in 30 days if not said
        #[arg(long, value_name = "DATE")]
        until: Option<NaiveDate>,
    },
    /// What is on a piece, and what it bears
    Care {
        /// The piece, by number or folder
        piece: String,
        /// What it met, such as vinegar or a hot pan
        text: Vec<String>,
    },
}

/// What answers are made from.
struct Context<'a> {
    asking: Asking<'a>,
    words: Words,
}

impl Context<'_> {
    /// An amount of money as the workshop writes it.
    fn money(&self, amount: Decimal) -> String {
        self.words.money(Money(amount))
    }
}

impl Consult {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let question = self.question.unwrap_or(Question::Words { text: self.text, all: false });
        let written = self.written.unwrap_or_else(|| {
            // A path that begins with `./` is longer and says no more.
            if self.workshop == Path::new(".") { "written".into() } else { self.workshop.join("written") }
        });
        let bar = Bar::new("Looking at");
        let progress: &dyn Progress = if Voice::err().terminal() { &bar } else { &Quiet };
        let opened = journey::open_archive(&self.workshop, &written, today(), progress)?;
        tell(&opened, &self.workshop)?;
        let sheet = match answer(&question, &opened, &self.workshop) {
            // A page of the database may be damaged of which nothing was seen so far.
            Err(Trouble::Archive(fault)) if opened.remade.is_none() => {
                let why = format!("the database that was written is of no use: {fault}");
                let remade = journey::remade(&self.workshop, why, today(), progress)?;
                tell(&remade, &self.workshop)?;
                answer(&question, &remade, &self.workshop)?
            }
            answered => answered?,
        };
        self.form.print(&sheet)?;
        Ok(if sheet.answered { Outcome::Clean } else { Outcome::Mistakes })
    }
}

/// Says where the archive was not taken as it was written.
fn tell(opened: &OpenedArchive, workshop: &Path) -> Result<(), Trouble> {
    let Some(why) = &opened.remade else { return Ok(()) };
    let voice = Voice::err();
    let place = if workshop == Path::new(".") { String::new() } else { format!(" {}", workshop.display()) };
    let text =
        format!("Asked of the records themselves: {why}. `witnessmark writeup{place}` writes it anew.");
    voice.say(format!("{}\n", wrapped(&text, voice.text_width(), "")))
}

fn answer(question: &Question, opened: &OpenedArchive, workshop: &Path) -> Result<Sheet, Trouble> {
    let today = today();
    let asking = Asking { archive: &opened.archive, trade: &opened.trade, today };
    let currency = opened.archive.about("currency").map_err(journey::OpenError::from)?;
    let context = Context { asking, words: Words::with_currency(&currency.unwrap_or_default()) };
    let joined = |words: &[String]| words.join(" ");
    let some = |words: &[String]| (!words.is_empty()).then(|| words.join(" "));
    let sheet: Result<Sheet, ArchiveFault> = match question {
        Question::Words { text, all } => words::words(&context, &joined(text), *all),
        Question::Colour { colour, all } => {
            let question = colour.question(&context.asking, workshop)?;
            colour::colour(&context, question, *all)
        }
        Question::Time { words, all } => time::time(&context, &joined(words), *all),
        Question::Quote { kind, task, price } => quote::quote(&context, kind, task, price),
        Question::Faults { words, all } => faults::faults(&context, &joined(words), *all),
        Question::Stock { id } => stock::stock(&context, id.as_deref()),
        Question::Money { year, all } => money::money(&context, *year, *all),
        Question::Lessons { words } => lessons::lessons(&context, some(words).as_deref()),
        Question::Due { until } => due::due(&context, until.unwrap_or(today + Duration::days(DUE_WITHIN))),
        Question::Care { piece, text } => {
            let told =
                care::care(&context, piece, some(text).as_deref()).map_err(journey::OpenError::from)?;
            return told.map_err(|near| no_piece(piece, &near));
        }
    };
    Ok(sheet.map_err(journey::OpenError::from)?)
}

/// How many days ahead `due` looks, where no day is said.
const DUE_WITHIN: i64 = 30;

/// That there is no piece of a name.
fn no_piece(named: &str, near: &[String]) -> Trouble {
    let near = if near.is_empty() { String::new() } else { format!(" (perhaps {})", near.join(", or ")) };
    Trouble::Question(format!("the archive has no piece `{named}`{near}"))
}

/// Hours, in words.
fn hours(hours: Decimal) -> String {
    let shown = Cell::hours(hours).shown();
    if shown == "1" { "1 hour".to_owned() } else { format!("{shown} hours") }
}

/// The first level of a kind; empty stands for all kinds.
fn all_kinds(sort: &str) -> String {
    if sort.is_empty() { "all kinds".to_owned() } else { sort.to_owned() }
}
