//! An answer as it is printed: for reading, as one JSON document, or as one table in CSV.

use chrono::NaiveDate;
use console::{Alignment, measure_text_width, pad_str};
use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::{Map, Value, json};

use crate::archive::{Hit, PieceName};
use crate::cli::voice::Voice;
use crate::cli::words::count;
use crate::unit::legible::{escaped_json, one_line};
use crate::unit::wrapped;

/// An answer.
pub(super) struct Sheet {
    /// What was asked, in words.
    pub(super) asked: String,
    /// What is answered, a sentence each.
    pub(super) said: Vec<String>,
    /// The rows behind it.
    pub(super) tables: Vec<Table>,
    /// The pieces that it rests on.
    pub(super) pieces: Vec<PieceName>,
    /// Whether there is an answer at all.
    pub(super) answered: bool,
}

/// Rows of one kind.
pub(super) struct Table {
    /// What they are, in a word for other programs.
    pub(super) name: &'static str,
    /// What stands above them for reading; may be empty.
    pub(super) heading: String,
    /// The names of their columns; a piece stands for three.
    pub(super) columns: &'static [&'static str],
    /// The rows.
    pub(super) rows: Vec<Row>,
    /// The columns that are printed for reading, with their heads, where the rows are printed as a table; none where each
    /// row tells itself in lines.
    pub(super) shown: &'static [(usize, &'static str)],
}

/// One row.
pub(super) struct Row {
    /// A cell for each column.
    pub(super) cells: Vec<Cell>,
    /// The row in lines for reading, below its piece; what stands between tabs is led in.
    pub(super) told: Vec<String>,
}

/// What a cell holds.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell {
    /// Nothing is known.
    Nothing,
    /// Words.
    Text(String),
    /// A number with so many decimals for reading.
    Number(Decimal, u32),
    /// A measure with so many decimals.
    Measure(f64, usize),
    /// How many.
    Count(usize),
    /// A day.
    Day(NaiveDate),
    /// Yes or no.
    Is(bool),
    /// A piece.
    Piece(PieceName),
}

impl Cell {
    /// A cell of what may not be known.
    pub(super) fn maybe<T>(value: Option<T>, cell: impl Fn(T) -> Cell) -> Cell {
        value.map_or(Cell::Nothing, cell)
    }

    /// An amount of money.
    pub(super) fn money(amount: Decimal) -> Cell {
        Cell::Number(amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero), 2)
    }

    /// Hours, as they were recorded or to a hundredth.
    pub(super) fn hours(hours: Decimal) -> Cell {
        Cell::Number(hours.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero).normalize(), 0)
    }

    /// As it is read within a sentence.
    pub(super) fn shown(&self) -> String {
        self.text()
    }

    fn json(&self) -> Value {
        match self {
            Cell::Nothing => Value::Null,
            Cell::Text(text) => json!(text),
            Cell::Number(number, _) => json!(number.to_f64()),
            Cell::Measure(number, decimals) => {
                let power = 10_f64.powi(i32::try_from(*decimals).unwrap_or(0) + 3);
                json!((number * power).round() / power)
            }
            Cell::Count(count) => json!(count),
            Cell::Day(day) => json!(day.to_string()),
            Cell::Is(so) => json!(so),
            Cell::Piece(piece) => named(piece),
        }
    }

    /// As it stands in a table; thousands are not set apart, so that it can be copied.
    fn text(&self) -> String {
        match self {
            Cell::Nothing => String::new(),
            Cell::Text(text) => one_line(text),
            Cell::Number(number, 0) => number.normalize().to_string(),
            Cell::Number(number, decimals) => format!("{number:.*}", *decimals as usize),
            Cell::Measure(number, decimals) => format!("{number:.decimals$}"),
            Cell::Count(count) => count.to_string(),
            Cell::Day(day) => day.to_string(),
            Cell::Is(so) => if *so { "yes" } else { "no" }.to_owned(),
            Cell::Piece(piece) => one_line(&piece.number),
        }
    }

    fn is_number(&self) -> bool {
        matches!(self, Cell::Number(..) | Cell::Measure(..) | Cell::Count(_))
    }
}

fn named(piece: &PieceName) -> Value {
    json!({ "number": piece.number, "title": piece.title, "folder": piece.folder })
}

impl Sheet {
    /// For reading.
    pub(super) fn text(&self, voice: &Voice) -> String {
        let width = voice.text_width();
        let mut lines = vec![voice.strong(wrapped(&one_line(&self.asked), width, ""))];
        lines.extend(self.said.iter().map(|said| wrapped(&one_line(said), width, "")));
        // Rows that tell nothing by themselves are told with those of another table.
        let tells =
            |table: &&Table| !table.shown.is_empty() || table.rows.iter().any(|row| !row.told.is_empty());
        for table in self.tables.iter().filter(|table| !table.rows.is_empty()).filter(tells) {
            lines.push(String::new());
            if !table.heading.is_empty() {
                lines.push(voice.strong(&table.heading));
            }
            match table.shown.is_empty() {
                true => lines.extend(table.told(voice)),
                false => lines.extend(table.grid(voice)),
            }
        }
        if self.answered {
            lines.push(String::new());
            lines.push(voice.faint(wrapped(&self.rests_on(), width, "  ")));
        }
        lines.join("\n")
    }

    /// The pieces that it rests on and how many, in a sentence; of many the first few.
    fn rests_on(&self) -> String {
        const NAMED: usize = 12;
        let mut pieces = self.pieces.clone();
        pieces.sort();
        pieces.dedup();
        let numbers: Vec<String> = pieces.iter().take(NAMED).map(|piece| one_line(&piece.number)).collect();
        let more = match pieces.len() {
            many if many > NAMED => format!(" and {} more", many - NAMED),
            _ => String::new(),
        };
        match pieces.len() {
            0 => "Rests on no piece.".to_owned(),
            many => format!("Rests on {}: {}{more}.", count(many, "piece", "pieces"), numbers.join(", ")),
        }
    }

    /// As one JSON document.
    pub(super) fn json(&self) -> String {
        let mut document = Map::new();
        document.insert("asked".to_owned(), json!(self.asked));
        document.insert("answered".to_owned(), json!(self.answered));
        document.insert("said".to_owned(), json!(self.said));
        for table in &self.tables {
            let row = |row: &Row| {
                let cells = table.columns.iter().zip(&row.cells);
                Value::Object(cells.map(|(column, cell)| ((*column).to_owned(), cell.json())).collect())
            };
            document.insert(table.name.to_owned(), Value::Array(table.rows.iter().map(row).collect()));
        }
        let mut pieces = self.pieces.clone();
        pieces.sort();
        pieces.dedup();
        document.insert("rests-on".to_owned(), Value::Array(pieces.iter().map(named).collect()));
        escaped_json(&format!("{:#}", Value::Object(document))).into_owned()
    }

    /// As one table in CSV: the rows of all tables below one another, each with the name of its own.
    pub(super) fn csv(&self) -> String {
        let mut columns: Vec<&str> = Vec::new();
        for column in self.tables.iter().flat_map(|table| table.columns.iter()) {
            if !columns.contains(column) {
                columns.push(column);
            }
        }
        let heads = columns.iter().flat_map(|column| match *column {
            "piece" => vec!["number", "title", "folder"],
            other => vec![other],
        });
        let mut lines = vec![std::iter::once("table").chain(heads).map(field).collect::<Vec<_>>().join(",")];
        for table in &self.tables {
            for row in &table.rows {
                let mut fields = vec![field(table.name)];
                for column in &columns {
                    let at = table.columns.iter().position(|own| own == column);
                    match (at.map(|at| &row.cells[at]), *column) {
                        (Some(Cell::Piece(piece)), _) => {
                            fields
                                .extend([&piece.number, &piece.title, &piece.folder].map(|name| field(name)));
                        }
                        (_, "piece") => fields.extend([String::new(), String::new(), String::new()]),
                        (Some(Cell::Text(text)), _) => fields.push(field(text)),
                        (Some(Cell::Measure(number, decimals)), _) => {
                            fields.push(format!("{number:.0$}", decimals + 3))
                        }
                        (Some(cell), _) => fields.push(field(&cell.text())),
                        (None, _) => fields.push(String::new()),
                    }
                }
                lines.push(fields.join(","));
            }
        }
        lines.iter().map(|line| format!("{line}\n")).collect()
    }
}

/// A field of CSV. One that a spreadsheet would reckon with is kept from that by an apostrophe.
fn field(text: &str) -> String {
    let text = crate::unit::legible(text);
    let reckoned = text.starts_with(['=', '+', '-', '@']) && text.parse::<f64>().is_err();
    let text = if reckoned { format!("'{text}") } else { text.to_string() };
    match text.contains([',', '"', '\n', '\r']) {
        true => format!("\"{}\"", text.replace('"', "\"\"")),
        false => text,
    }
}

impl Table {
    /// The rows in lines, those of one piece below its name.
    fn told(&self, voice: &Voice) -> Vec<String> {
        let width = voice.text_width();
        let mut lines = Vec::new();
        let mut last: Option<&PieceName> = None;
        for row in &self.rows {
            let piece = row
                .cells
                .iter()
                .find_map(|cell| if let Cell::Piece(piece) = cell { Some(piece) } else { None });
            if let Some(piece) = piece.filter(|piece| last != Some(*piece)) {
                if last.is_some() {
                    lines.push(String::new());
                }
                let name = wrapped(
                    &one_line(&piece.title),
                    width.saturating_sub(measure_text_width(&piece.number) + 2),
                    "",
                );
                lines.push(format!("{}  {}", voice.strong(name), one_line(&piece.number)));
                last = Some(piece);
            }
            lines.extend(row.told.iter().map(|line| laid_out(line, width, voice)));
        }
        lines
    }

    /// The rows as a table; the widest column of words gives way to the width.
    fn grid(&self, voice: &Voice) -> Vec<String> {
        let cell = |row: &Row, at: usize| row.cells.get(at).cloned().unwrap_or(Cell::Nothing);
        let texts: Vec<Vec<String>> = self
            .rows
            .iter()
            .map(|row| self.shown.iter().map(|(at, _)| cell(row, *at).text()).collect())
            .collect();
        let mut widths: Vec<usize> = self
            .shown
            .iter()
            .enumerate()
            .map(|(place, (_, head))| {
                let cells = texts.iter().map(|row| measure_text_width(&row[place])).max().unwrap_or(0);
                cells.max(measure_text_width(head))
            })
            .collect();
        let right: Vec<bool> =
            self.shown.iter().map(|(at, _)| self.rows.iter().any(|row| cell(row, *at).is_number())).collect();
        let room = voice.text_width().saturating_sub(2 * self.shown.len());
        while widths.iter().sum::<usize>() > room {
            let widest = (0..widths.len()).filter(|place| !right[*place]).max_by_key(|place| widths[*place]);
            match widest {
                Some(widest) if widths[widest] > 8 => widths[widest] -= 1,
                _ => break,
            }
        }
        let line = |texts: &[String]| {
            let cells = texts.iter().enumerate().map(|(place, text)| {
                let side = if right[place] { Alignment::Right } else { Alignment::Left };
                pad_str(text, widths[place], side, Some("…")).into_owned()
            });
            format!("  {}", cells.collect::<Vec<_>>().join("  ")).trim_end().to_owned()
        };
        let heads: Vec<String> = self.shown.iter().map(|(_, head)| (*head).to_owned()).collect();
        let mut lines = vec![voice.faint(line(&heads))];
        lines.extend(texts.iter().map(|texts| line(texts)));
        lines
    }
}

/// Where a line's second part begins, behind a label.
const LABEL: usize = 13;

/// A line below its piece: what stands before a tab is a label, and what was searched for is set off.
fn laid_out(line: &str, width: usize, voice: &Voice) -> String {
    if line.is_empty() {
        return String::new();
    }
    let (label, text) = line.split_once('\t').map_or(("", line), |(label, text)| (label, text));
    let label = one_line(label);
    let (start, indent) = match label.is_empty() && !line.contains('\t') {
        true => ("  ".to_owned(), 4),
        false => {
            (format!("  {}", voice.faint(pad_str(&label, LABEL - 2, Alignment::Left, Some("…")))), LABEL)
        }
    };
    let text = wrapped(&one_line(text), width.saturating_sub(indent), &" ".repeat(indent));
    let mut shown = String::new();
    for (at, part) in text.split(Hit::OPEN).enumerate() {
        match part.split_once(Hit::CLOSE) {
            Some((found, rest)) if at > 0 => {
                shown.push_str(&voice.strong(found));
                shown.push_str(rest);
            }
            _ => shown.push_str(&part.replace(Hit::CLOSE, "")),
        }
    }
    start + &shown
}
