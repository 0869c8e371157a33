//! Which sheets there are, and the data that each is set from.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use serde_json::{Value, json};

use crate::claim::says;
use crate::render::label;
use crate::render::site::{ALL_SHEETS, LABEL, RECEIPTS_PRINTED};
use crate::view::buyer::Papers;
use crate::view::{HouseStyle, LookOver, PieceContext, SHEETS, WorkshopView, archive};
use crate::words::Words;

/// A date for papers of records without any: a file must carry one to be archival, and must not carry today's.
const NO_DAY: (i32, u32, u32) = (2000, 1, 1);

/// The width in pixels that suffices for half a page, at 300 dots to the inch.
const HALF_PAGE: u64 = 900;

/// The width in pixels that suffices for the small picture at the head of a sheet.
const HEAD: u64 = 480;

/// One sheet to set: a template and its data.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// Its file name, beside the pages.
    pub file: String,
    /// The tag of the language that it is written in.
    pub(super) language: String,
    /// The template of its own, `NAME.typ`; a theme that has none sets it with [`SHEET`](super::SHEET).
    pub(super) template: String,
    /// What it is set from.
    pub(super) data: Value,
    /// Its pictures: the name in the data, by the address in the piece's folder.
    pub(super) pictures: BTreeMap<String, String>,
    /// Drawings made for it, by the name in the data.
    pub(super) drawings: BTreeMap<String, String>,
    /// The piece, with its number.
    pub(super) piece: String,
    /// What tells it from every other sheet.
    pub(super) identity: String,
}

impl Sheet {
    /// For messages: `care.pdf of Oak gateleg table (TL-007)`.
    pub(super) fn words(&self) -> String {
        format!("{} of {}", self.file, self.piece)
    }
}

/// What is printed as one file: its name and template, its title, and the parts of the papers that it is made from.
struct Plan {
    name: &'static str,
    title: String,
    parts: Vec<&'static str>,
}

/// Everything that is printed for one piece.
fn plans(words: &Words) -> Vec<Plan> {
    let each = SHEETS.iter();
    let each =
        each.map(|sheet| Plan { name: sheet.name, title: sheet.title(words), parts: sheet.parts.to_vec() });
    let all = SHEETS.iter().flat_map(|sheet| sheet.parts).copied().collect();
    let together = Plan { name: ALL_SHEETS, title: words.word("sheet", ALL_SHEETS), parts: all };
    let label = Plan { name: LABEL, title: words.word("sheet", LABEL), parts: vec!["label"] };
    each.chain([together, label]).collect()
}

/// The sheets of one piece. `day` is the last one that its record names.
pub fn sheets(house: &HouseStyle, papers: &Papers, day: Option<NaiveDate>) -> Vec<Sheet> {
    let all = json!(papers);
    plans(house.words()).iter().map(|plan| sheet(plan, house, papers, &all, day)).collect()
}

fn sheet(plan: &Plan, house: &HouseStyle, papers: &Papers, all: &Value, day: Option<NaiveDate>) -> Sheet {
    let record = &papers.sheets.record;
    let (year, month, dayth) = day.map_or(NO_DAY, |day| (day.year(), day.month(), day.day()));
    let mut data = json!({
        "file": format!("{}.pdf", plan.name),
        "name": plan.name,
        "sheet": plan.title,
        "bookmarks": true,
        "title": house.words().say(&says!(
            "paper-of-piece", sheet = plan.title.as_str(), piece = record.title.as_str(), number = record.number.as_str()
        )),
        "date": [year, month, dayth],
        "workshop": house.view(),
        "seal_line": papers.seal.line,
        "seal_words": seal_words(house.words(), papers),
        "sheets": SHEETS.iter().map(|sheet| sheet.name).collect::<Vec<_>>(),
        "piece": {
            "title": record.title, "short": papers.label.what, "number": record.number, "kind": record.kind,
            "made": record.made,
            "summary": record.summary, "lacking": record.lacking, "cover": record.cover, "standings": record.standings,
            "level": record.level, "level_meaning": record.level_meaning,
        },
    });
    for part in &plan.parts {
        data[*part] = all[*part].clone();
    }
    let mut pictures = BTreeMap::new();
    let lead = match () {
        () if plan.parts.contains(&"record") => u64::MAX,
        () if plan.parts.contains(&"disclosure") => HALF_PAGE,
        () => HEAD,
    };
    name(&mut data["piece"]["cover"], lead, &mut pictures);
    name(&mut data["record"]["cover"], u64::MAX, &mut pictures);
    name(&mut data, HALF_PAGE, &mut pictures);
    let mut drawings = BTreeMap::new();
    for (index, surface) in data["record"]["surfaces"].as_array_mut().into_iter().flatten().enumerate() {
        if let Some(svg) = surface["layers_svg_html"].as_str().filter(|svg| !svg.is_empty()) {
            let drawing = format!("layers-{}.svg", index + 1);
            drawings.insert(drawing.clone(), svg.to_owned());
            surface["drawing"] = json!(drawing);
        }
    }
    if plan.parts.contains(&"label") && !papers.label.address.is_empty() {
        drawings.insert("code.svg".to_owned(), label::code_svg(&papers.label.address));
    }
    forget(&mut data);
    Sheet {
        file: format!("{}.pdf", plan.name),
        template: format!("{}.typ", plan.name),
        language: house.words().language().tag().to_owned(),
        data,
        pictures,
        drawings,
        piece: format!("{} ({})", papers.label.what, record.number),
        identity: format!("{}.pdf\n{} ({})\n{}", plan.name, record.title, record.number, house.view().name),
    }
}

/// The name of the list of what to look for, and of its template.
const LOOK_OVER: &str = "look-over";

/// The list of what to look for on a piece at the seller's.
pub fn look_over(workshop: &WorkshopView, words: &Words, list: &LookOver, day: NaiveDate) -> Sheet {
    let title = words.heading(&says!("look-over-title", kind = list.kind.as_str()));
    Sheet {
        file: format!("{LOOK_OVER}.pdf"),
        template: format!("{LOOK_OVER}.typ"),
        language: words.language().tag().to_owned(),
        data: json!({
            "name": LOOK_OVER,
            "sheet": title,
            "bookmarks": true,
            "title": title,
            "date": [day.year(), day.month(), day.day()],
            "workshop": workshop,
            "piece": { "summary": list.heard },
            "list": list,
        }),
        pictures: BTreeMap::new(),
        drawings: BTreeMap::new(),
        piece: list.kind.clone(),
        identity: format!("{LOOK_OVER}.pdf\n{}\n{}", list.kind, workshop.name),
    }
}

/// The receipts of a piece's sale, for the workshop and whoever paid; `None` where none was given.
pub fn receipts(context: &PieceContext<'_>) -> Option<Sheet> {
    let (house, page) = (context.house(), archive::receipts_page(context)?);
    let title = house.words().say(&says!("receipts-of", piece = page.piece.as_str()));
    let name = RECEIPTS_PRINTED.trim_end_matches(".pdf");
    let (year, month, day) = context.last_day().map_or(NO_DAY, |day| (day.year(), day.month(), day.day()));
    let mut data = json!({
        "name": name,
        "sheet": title,
        "bookmarks": true,
        "title": title,
        "date": [year, month, day],
        "workshop": house.view(),
        "piece": { "summary": "" },
        "slips": page,
    });
    forget(&mut data);
    Some(Sheet {
        file: RECEIPTS_PRINTED.to_owned(),
        template: format!("{name}.typ"),
        language: house.words().language().tag().to_owned(),
        data,
        pictures: BTreeMap::new(),
        drawings: BTreeMap::new(),
        piece: context.title(),
        identity: format!("{RECEIPTS_PRINTED}\n{}\n{}", context.title(), house.view().name),
    })
}

/// The seal in a few sentences, beside the signatures: what it is, how to check it, and what changed since and why, which
/// the words announce.
fn seal_words(words: &Words, papers: &Papers) -> Vec<String> {
    let seal = &papers.seal;
    let print = match seal.short.as_str() {
        "" => String::new(),
        short => words.say(&says!("seal-number", number = seal.number, seal = short)),
    };
    let said = [&print, &seal.check, &seal.words].into_iter().chain(&seal.amendments).chain(&seal.reasons);
    said.filter(|words| !words.is_empty()).cloned().collect()
}

/// Gives every photograph in the data a name that the template can read it by: the narrowest size that suffices.
fn name(value: &mut Value, suffices: u64, pictures: &mut BTreeMap<String, String>) {
    match value {
        Value::Array(all) => all.iter_mut().for_each(|value| name(value, suffices, pictures)),
        Value::Object(map) => {
            if map.contains_key("srcset") && !map.contains_key("picture") {
                let files = map["files"].as_array().cloned().unwrap_or_default();
                let wide = |file: &&Value| file["width"].as_u64().is_some_and(|width| width >= suffices);
                let chosen = files.iter().rev().find(wide).or_else(|| files.first());
                let chosen = chosen.and_then(|file| file["src"].as_str()).unwrap_or_default().to_owned();
                let named = match chosen.as_str() {
                    "" => String::new(),
                    _ => {
                        let next = format!("picture-{}.jpg", pictures.len() + 1);
                        pictures.entry(chosen).or_insert(next).clone()
                    }
                };
                map.insert("picture".to_owned(), json!(named));
            }
            map.values_mut().for_each(|value| name(value, suffices, pictures));
        }
        _ => {}
    }
}

/// Marks photographs whose bytes are lacking, so that the template prints why instead.
pub(super) fn without(value: &mut Value, lacking: &[String], said: &str) {
    match value {
        Value::Array(all) => all.iter_mut().for_each(|value| without(value, lacking, said)),
        Value::Object(map) => {
            let lacks = map
                .get("picture")
                .and_then(Value::as_str)
                .is_some_and(|picture| lacking.iter().any(|name| name == picture));
            if lacks {
                map.insert("fault".to_owned(), json!(said));
            }
            map.values_mut().for_each(|value| without(value, lacking, said));
        }
        _ => {}
    }
}

/// Leaves out what only pages need.
fn forget(value: &mut Value) {
    match value {
        Value::Array(all) => all.iter_mut().for_each(forget),
        Value::Object(map) => {
            map.retain(|key, _| !key.ends_with("_html") && key != "srcset" && key != "files" && key != "src");
            map.values_mut().for_each(forget);
        }
        _ => {}
    }
}
