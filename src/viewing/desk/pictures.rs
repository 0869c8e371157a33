//! The photographs of a piece beside its forms: what is marked on them, of which stage and day they are, and what somebody
//! marks or says of them there.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;
use toml_edit::{Item, Table, Value};

use super::Open;
use super::given::{Faults, Giver};
use super::place::{Place, Step, rows};
use super::splice::Op;
use crate::derive::stage_and_view;
use crate::fields::Key;
use crate::intake::WorkDays;
use crate::record::{Mark, PhotoStage, Record, Shape};
use crate::viewing::change::{Change, Mark as NewMark};
use crate::viewing::shown::{PhotographShown, PieceShown, points};

/// The name under which it is told what is wrong with a mark.
const MARK: &str = ".mark";

/// How many places without a script can be typed, where fewer are typed already: the corners of a rectangle.
const ROWS: usize = 4;

/// The most points of a mark that is set here.
const MOST_POINTS: usize = 400;

/// What photographs are of, by the lists that a mark may point at.
const POINTED_AT: [&str; 4] = ["finding", "part", "patch", "work"];

/// A photograph as the page shows it.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Pictured {
    file: String,
    address: String,
    picker: String,
    alt: String,
    width: u32,
    height: u32,
    /// Its stage as the record has it now; empty where neither the record nor its name says.
    stage: &'static str,
    /// What is chosen of the stages: the same, unless somebody has chosen another.
    chosen: String,
    /// Whether the file's name says the stage, and not the record.
    by_name: bool,
    /// The stage that its day speaks for, where that is another; a guess.
    guess: &'static str,
    drawn: Vec<Drawn>,
    /// What is marked, in words.
    told: Vec<String>,
}

/// A mark that the record has, as it is drawn on a picture.
#[derive(Debug, Clone, Serialize)]
struct Drawn {
    shape: &'static str,
    /// Its points in pixels.
    points: String,
    /// The same as fractions.
    fractions: String,
    /// Where its disc lies.
    x: f64,
    y: f64,
    radius: f64,
    /// The number of the finding; empty for what else is marked.
    number: String,
    /// Whether it points at what is open.
    mine: bool,
}

/// The photographs of a day with what was jotted on it.
#[derive(Debug, Serialize)]
pub(super) struct Day {
    /// In words; empty for photographs that tell no day.
    day: String,
    lines: Vec<String>,
    photographs: Vec<Pictured>,
}

/// What an open form shows of photographs, and the mark that is set there.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Pictures {
    photographs: Vec<Pictured>,
    /// Whether a mark may point at what is open.
    marks: bool,
    file: String,
    shape: String,
    points: Vec<[String; 2]>,
    note: String,
    fault: String,
}

/// The fields of a mark that is set in a form, as they were typed.
#[derive(Debug, Clone, Default)]
pub(super) struct Marking {
    file: String,
    shape: String,
    /// How far across and down each point is, in percent.
    points: Vec<[String; 2]>,
    note: String,
}

/// A photograph's stage by the record as it is now, and whether the name of the file says it.
fn stage_of(record: Option<&Record>, file: &str) -> (Option<PhotoStage>, bool) {
    let entry = record.and_then(|record| record.photos.iter().find(|entry| **entry.file == *file));
    match entry.and_then(|entry| entry.stage.as_ref()) {
        Some(stage) => (Some(stage.value), false),
        None => {
            let (stage, _) = stage_and_view(file);
            (stage, stage.is_some())
        }
    }
}

/// What photographs are drawn for: the row of a list that is open, by its id.
#[derive(Debug, Clone, Copy)]
struct Opened<'a> {
    list: &'a str,
    ids: &'a [String],
}

impl Pictured {
    fn of(open: &Open, photograph: &PhotographShown, days: Option<WorkDays>, opened: Opened<'_>) -> Pictured {
        let record = open.piece.record.as_deref();
        let (stage, by_name) = stage_of(record, &photograph.file);
        let against = days.zip(photograph.taken);
        // What the record says was said by somebody who knows.
        let guess = against.filter(|_| by_name || stage.is_none());
        let guess = guess.and_then(|(days, taken)| days.against(stage, taken));
        let entry =
            record.and_then(|record| record.photos.iter().find(|entry| **entry.file == *photograph.file));
        let marks = entry.map_or(&[][..], |entry| &entry.marks);
        let mut told: Vec<String> = marks.iter().filter_map(|mark| told(record?, mark)).collect();
        told.dedup();
        let word = stage.map_or("", PhotoStage::word);
        Pictured {
            file: photograph.file.clone(),
            address: photograph.address.clone(),
            picker: photograph.picker.clone(),
            alt: photograph.alt.clone(),
            width: photograph.width,
            height: photograph.height,
            stage: word,
            chosen: word.to_owned(),
            by_name,
            guess: guess.map_or("", PhotoStage::word),
            drawn: marks.iter().filter_map(|mark| Drawn::of(record?, mark, photograph, opened)).collect(),
            told,
        }
    }
}

impl Drawn {
    fn of(record: &Record, mark: &Mark, photograph: &PhotographShown, opened: Opened<'_>) -> Option<Drawn> {
        let (width, height) = (f64::from(photograph.width), f64::from(photograph.height));
        let all = points(mark);
        let joined =
            |scaled: &dyn Fn(&[f64; 2]) -> String| all.iter().map(scaled).collect::<Vec<_>>().join(" ");
        // The disc lies on a point, at the end of a line, and in the middle of an outline's corners.
        let (shape, [x, y]) = match mark.shape()? {
            Shape::Point(_) => ("point", *all.first()?),
            Shape::Line(_) => ("line", *all.last()?),
            Shape::Area(_) => {
                let middle =
                    |axis: usize| all.iter().map(|point| point[axis]).sum::<f64>() / all.len() as f64;
                ("area", [middle(0), middle(1)])
            }
        };
        let id = |list: &str| match list {
            "finding" => mark.finding.as_ref().map(|id| id.value.0.as_str()),
            "part" => mark.part.as_ref().map(|id| id.value.0.as_str()),
            "patch" => mark.patch.as_ref().map(|id| id.value.0.as_str()),
            "work" => mark.work.as_ref().map(|id| id.value.0.as_str()),
            _ => None,
        };
        let number = id("finding")
            .and_then(|id| record.findings.iter().position(|finding| finding.id.0 == *id))
            .map_or_else(String::new, |place| (place + 1).to_string());
        let list = if opened.list == "surface" { "part" } else { opened.list };
        Some(Drawn {
            shape,
            points: joined(&|[x, y]| format!("{:.0},{:.0}", x * width, y * height)),
            fractions: joined(&|[x, y]| format!("{x:.4},{y:.4}")),
            x: (x * width).round(),
            y: (y * height).round(),
            radius: (width.max(height) / 32.0).round(),
            number,
            mine: id(list).is_some_and(|id| opened.ids.iter().any(|open| open == id)),
        })
    }
}

/// What a mark points at, in words.
fn told(record: &Record, mark: &Mark) -> Option<String> {
    if let Some(id) = &mark.finding {
        let place = record.findings.iter().position(|finding| finding.id.0 == id.value.0)?;
        return Some(format!("{} {}", place + 1, *record.findings[place].seen));
    }
    let part = mark.part.as_ref();
    part.and_then(|id| record.parts.iter().find(|part| part.id.0 == id.value.0))
        .map(|part| part.name.to_string())
}

/// All photographs by the day on which they were taken, the earliest first, with what was jotted on it; those that tell no
/// day last.
pub(super) fn days(open: &Open, piece: &PieceShown, chosen: &BTreeMap<String, (String, String)>) -> Vec<Day> {
    let work_days = WorkDays::of(&open.piece);
    let mut by_day: BTreeMap<(bool, Option<NaiveDate>), Vec<Pictured>> = BTreeMap::new();
    for photograph in &piece.photographs {
        let mut pictured = Pictured::of(open, photograph, work_days, Opened { list: "", ids: &[] });
        if let Some((_, stage)) = chosen.get(&photograph.file) {
            pictured.chosen.clone_from(stage);
        }
        by_day.entry((photograph.taken.is_none(), photograph.taken)).or_default().push(pictured);
    }
    let day = |((_, on), photographs): ((bool, Option<NaiveDate>), Vec<Pictured>)| Day {
        day: on.map_or_else(String::new, |on| on.format("%-d %B %Y").to_string()),
        lines: lines_of(open, on),
        photographs,
    };
    by_day.into_iter().map(day).collect()
}

fn lines_of(open: &Open, on: Option<NaiveDate>) -> Vec<String> {
    let of_day = open.piece.jottings.iter().filter(|jotting| on.is_some() && jotting.on == on);
    of_day.map(crate::record::Jotting::name_of_line).collect()
}

/// The photographs of the day of a line, each as its file and its address.
pub(super) fn of_day(piece: &PieceShown, on: Option<NaiveDate>) -> Vec<(String, String, String)> {
    let mine = piece
        .photographs
        .iter()
        .filter(|photograph| on.is_some() && photograph.taken == on && photograph.width > 0);
    mine.map(|photograph| (photograph.file.clone(), photograph.address.clone(), photograph.picker.clone()))
        .collect()
}

impl Pictures {
    /// What the form of a place shows of photographs; none where nothing of it lies on any.
    pub(super) fn of(
        open: &Open,
        piece: &PieceShown,
        (place, root): (&Place, &Table),
        (marking, faults): (&Marking, &Faults),
    ) -> Option<Pictures> {
        let list = place.key().map_or("", |key| key.name);
        let marks = POINTED_AT.contains(&list);
        if place.steps.len() > 2 || !marks && list != "surface" {
            return None;
        }
        let table = place.find(root);
        let texts = |key: &str| match table.and_then(|table| table.get(key)).and_then(Item::as_value) {
            Some(Value::Array(array)) => {
                array.iter().filter_map(Value::as_str).map(str::to_owned).collect::<Vec<_>>()
            }
            Some(value) => value.as_str().map(str::to_owned).into_iter().collect(),
            None => Vec::new(),
        };
        let ids = texts(if marks { "id" } else { "parts" });
        let opened = Opened { list, ids: &ids };
        let shown = piece.photographs.iter().filter(|photograph| photograph.width > 0);
        let photographs: Vec<Pictured> =
            shown.map(|photograph| Pictured::of(open, photograph, None, opened)).collect();
        if photographs.is_empty() {
            return None;
        }
        let mut points: Vec<[String; 2]> = marking.set().cloned().collect();
        points.resize(points.len().max(ROWS - 1) + 1, Default::default());
        Some(Pictures {
            photographs,
            marks,
            file: marking.file.clone(),
            shape: if marking.shape.is_empty() { "point".to_owned() } else { marking.shape.clone() },
            points,
            note: marking.note.clone(),
            fault: faults.get(MARK).cloned().unwrap_or_default(),
        })
    }

    /// Whether something is wrong with the mark that was set.
    pub(super) fn is_wrong(&self) -> bool {
        !self.fault.is_empty()
    }
}

/// The files of a piece's photographs.
pub(super) fn files(piece: &PieceShown) -> Vec<String> {
    piece.photographs.iter().map(|photograph| photograph.file.clone()).collect()
}

impl Marking {
    /// Takes a field of the form; `None` where it has no such field.
    pub(super) fn note_field(&mut self, name: &str, value: String) -> Option<()> {
        let value = value.trim().to_owned();
        match name {
            "file" => self.file = value,
            "shape" => self.shape = value,
            "note" => self.note = value,
            // Across and down are sent by turns.
            "x" if self.points.len() < MOST_POINTS => self.points.push([value, String::new()]),
            "y" => self.points.last_mut()?[1] = value,
            _ => return None,
        }
        Some(())
    }

    /// The points of which something was typed.
    fn set(&self) -> impl Iterator<Item = &[String; 2]> {
        self.points.iter().filter(|point| point.iter().any(|typed| !typed.is_empty()))
    }

    /// The change of the photograph's entry that a mark for a row makes, which is given an id where it has none; none
    /// where no mark was set. What is wrong is told among the faults.
    pub(super) fn change(
        &self,
        giver: &mut Giver<'_>,
        ops: &mut Vec<Op>,
        (place, keys, root): (&Place, &[&'static Key], &Table),
        files: &[String],
    ) -> Option<Change> {
        let set: Vec<&[String; 2]> = self.set().collect();
        if self.file.is_empty() || set.is_empty() {
            return None;
        }
        let list = place.key().map_or("", |key| key.name);
        if !files.contains(&self.file) || !POINTED_AT.contains(&list) {
            giver.faults.insert(MARK.to_owned(), "this photograph is not there any more".to_owned());
            return None;
        }
        let percent = |typed: &str| {
            let number: Option<f64> = typed.trim_end_matches(['%', ' ']).replace(',', ".").parse().ok();
            number.filter(|number| (0.0..=100.0).contains(number)).map(|number| number / 100.0)
        };
        let mut points = Vec::new();
        for [x, y] in set {
            let (Some(x), Some(y)) = (percent(x), percent(y)) else {
                let why =
                    "a place is two numbers from 0 to 100: how far from the left, and how far from the top";
                giver.faults.insert(MARK.to_owned(), why.to_owned());
                return None;
            };
            points.push([x, y]);
        }
        let mut mark = match NewMark::shaped(&self.shape, points) {
            Ok(mark) => mark,
            Err(why) => {
                giver.faults.insert(MARK.to_owned(), why.to_string());
                return None;
            }
        };
        let id = id_of(giver, ops, (place, keys, root))?;
        mark.note = Some(self.note.clone()).filter(|note| !note.is_empty());
        let pointed = match list {
            "finding" => &mut mark.finding,
            "part" => &mut mark.part,
            "patch" => &mut mark.patch,
            _ => &mut mark.work,
        };
        *pointed = Some(id);
        Some(Change::Marks { photo: self.file.clone(), marks: vec![mark] })
    }
}

/// The id of the row that is open; one that has none gets one.
fn id_of(
    giver: &mut Giver<'_>,
    ops: &mut Vec<Op>,
    (place, keys, root): (&Place, &[&'static Key], &Table),
) -> Option<String> {
    let key = keys.iter().copied().find(|key| key.name == "id")?;
    if let Some(Op::Push(_, _, row)) = ops.first_mut() {
        if let Some((_, id)) = row.iter().find(|(name, _)| *name == "id") {
            return id.as_str().map(str::to_owned);
        }
        let id = giver.made_id(keys)?;
        row.insert(0, ("id", Value::from(id.as_str())));
        return Some(id);
    }
    if let Some(id) = place.find(root).and_then(|table| table.get("id")).and_then(Item::as_str) {
        return Some(id.to_owned());
    }
    let id = giver.made_id(keys)?;
    ops.push(Op::Set(place.steps.clone(), key, Value::from(id.as_str())));
    Some(id)
}

/// The changes of the record by which photographs are of other stages.
///
/// # Errors
/// What is none of the stages, or of the photographs, in words.
pub(super) fn staged(
    root: &Table,
    record: Option<&Record>,
    files: &[String],
    stages: impl IntoIterator<Item = (String, String)>,
) -> Result<Vec<Op>, String> {
    let photo = Place::of("photo.new").expect("a record has photographs");
    let list = photo.key().expect("it is of a list");
    let stage_key = photo.keys.iter().find(|key| key.name == "stage").expect("a photograph has a stage");
    let mut ops = Vec::new();
    for (file, stage) in stages {
        if !files.contains(&file) {
            return Err(format!("There is no photograph “{file}” any more; look at the page again."));
        }
        if !stage.is_empty() && !PhotoStage::ALL.iter().any(|known| known.word() == stage) {
            return Err(format!("“{stage}” is none of the stages."));
        }
        let all = root.get(list.name).map(rows).unwrap_or_default();
        let row = all.into_iter().position(|row| {
            row.and_then(|row| row.get("file")).and_then(Item::as_str) == Some(file.as_str())
        });
        let (now, by_name) = stage_of(record, &file);
        let said = now.map_or("", PhotoStage::word);
        match (row, stage.as_str()) {
            (_, stage) if stage == said => {}
            // What a name says is not taken back by saying nothing.
            (_, "") if by_name => {
                return Err(format!("“{file}” says its stage by its name; choose another one for it."));
            }
            (Some(row), "") => ops.push(Op::Unset(vec![Step::Key(list), Step::Row(row)], stage_key)),
            (None, "") => {}
            (Some(row), stage) => {
                ops.push(Op::Set(vec![Step::Key(list), Step::Row(row)], stage_key, Value::from(stage)));
            }
            (None, stage) => {
                ops.push(Op::Push(
                    Vec::new(),
                    list,
                    vec![("file", Value::from(file)), ("stage", Value::from(stage))],
                ));
            }
        }
    }
    Ok(ops)
}

/// The stages that the days of photographs speak for, for those that neither the record nor their name says one of.
pub(super) fn guesses(open: &Open, piece: &PieceShown) -> Vec<(String, String)> {
    let days = WorkDays::of(&open.piece);
    let all = piece
        .photographs
        .iter()
        .map(|photograph| Pictured::of(open, photograph, days, Opened { list: "", ids: &[] }));
    let guessed = all.filter(|pictured| pictured.stage.is_empty() && !pictured.guess.is_empty());
    guessed.map(|pictured| (pictured.file, pictured.guess.to_owned())).collect()
}
