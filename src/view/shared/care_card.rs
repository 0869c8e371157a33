//! How to look after a piece, on one side of one page: warnings, days, a table of its surfaces, and what else its owner
//! does. Letters are counted here, so that it is known without setting the page what had no room; that stands whole in
//! the build record.

use std::borrow::Cow;
use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use super::front_page::{KnowLine, know_line};
use super::section::{Arranged, Form, Said};
use super::summing::{Item, Lines, Room, Shared, Wanted, fitted, share_out, wide};
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::{CareRow, DayKept, FaceCare, UpkeepTask};
use crate::view::context::PieceContext;
use crate::words::{self, Words, capital, shortened};

/// Letters of the title, of what it is for, and of a note on the days.
const TITLE: usize = 60;
const PURPOSE: usize = 120;
const NOTE: usize = 110;

/// Letters of a surface's name and of what lies on it, at the head of a column.
const SURFACE: usize = 44;
const ON: usize = 95;

/// Letters of a cell; of renewing, with how often; and of what is never used.
const CELL: usize = 75;
const RENEW: usize = 100;
const NEVER: usize = 170;

/// Up to so many letters a text stands as it is, though it has a shorter form.
const SHORT: usize = 60;

/// Letters of a line, and of what it begins with.
const LINE: usize = 150;
const LEAD: usize = 90;

/// The most surfaces that have a column.
const COLUMNS: usize = 2;

/// The height of a half, in tenths of a millimetre at the tightest setting, less what always stands there.
const FRONT: usize = 1590;
const BACK: usize = 1760;

/// Letters of a line of a half, of a warning, and of a cell beside another and alone.
const HALF: usize = 66;
const WARNING: usize = 60;
const BESIDE: usize = 28;
const ALONE: usize = 60;

/// Years that have a box to tick.
const YEARS: i32 = 5;

/// A day from which something may be done.
#[derive(Debug, Clone, Serialize)]
pub struct FromLine {
    /// The day.
    pub day: String,
    /// What may be done.
    pub text: String,
}

/// A surface at the head of its column.
#[derive(Debug, Clone, Serialize)]
pub struct SurfaceHead {
    /// What it is called.
    pub name: String,
    /// What lies on it.
    pub on: String,
}

/// A row of the table of surfaces.
#[derive(Debug, Clone, Serialize)]
pub struct SurfaceRow {
    /// What is asked.
    pub label: String,
    /// The answer for each surface; one, where all have the same.
    pub cells: Vec<String>,
    /// Whether it says what is never used.
    pub never: bool,
}

/// A day to keep, with a box for each year in which it comes.
#[derive(Debug, Clone, Serialize)]
pub struct CareDay {
    /// The day of the year.
    pub day: String,
    /// What for.
    pub what: String,
    /// For each year, whether it comes.
    pub boxes: Vec<bool>,
    /// The years in which it comes, in words.
    pub years: String,
}

/// The days to keep.
#[derive(Debug, Clone, Serialize)]
pub struct CareDays {
    /// Its heading.
    pub heading: String,
    /// The years, each with boxes.
    pub years: Vec<String>,
    /// The days.
    pub rows: Vec<CareDay>,
    /// How many more the calendar has; may be empty.
    pub more: String,
}

/// The card.
#[derive(Debug, Clone, Serialize)]
pub struct CareCard {
    /// What it is called, cut where it is very long.
    pub title: String,
    /// What it is for; may be empty.
    pub purpose: String,
    /// What to know in use, the worst first.
    pub warnings: Vec<KnowLine>,
    /// From when it may be used.
    pub from: Vec<FromLine>,
    /// That all of it is over, or what the days wait for, in sentences.
    pub from_notes: Vec<String>,
    /// The surfaces that have a column.
    pub surfaces: Vec<SurfaceHead>,
    /// What to do with them.
    pub rows: Vec<SurfaceRow>,
    /// Other surfaces, seats, metal and glass, a line each.
    pub others: Lines,
    /// Everything else, list by list.
    pub lists: Vec<Lines>,
    /// The days to keep.
    pub days: Option<CareDays>,
    /// Whom to ask.
    pub ask: String,
}

/// The card with what it says of each claim, and what had no room.
pub(crate) struct Card<'a> {
    pub(crate) view: CareCard,
    /// What is told, in the order in which it is read.
    pub(crate) said: Vec<Said<'a>>,
    /// What is not told, or not wholly, list by list.
    pub(crate) rest: Vec<Arranged<'a>>,
    /// How many texts of its maker's each list has no room for.
    pub(crate) summed_up: Vec<(Message, usize)>,
}

/// Makes the card.
pub(crate) fn card<'a>(context: &PieceContext<'a>) -> Card<'a> {
    Making {
        context,
        words: context.house.words(),
        said: Vec::new(),
        rest: Vec::new(),
        summed_up: Vec::new(),
    }
    .card()
}

/// What a card is made from, and what has been told so far.
struct Making<'a, 'c> {
    context: &'c PieceContext<'a>,
    words: &'c Words,
    said: Vec<Said<'a>>,
    rest: Vec<Arranged<'a>>,
    summed_up: Vec<(Message, usize)>,
}

/// Faces that say the same in so few words.
struct Column<'a> {
    names: Vec<String>,
    on: String,
    cells: BTreeMap<CareRow, (String, bool)>,
    faces: Vec<&'a FaceCare>,
}

impl<'a> Making<'a, '_> {
    fn card(mut self) -> Card<'a> {
        let claims = self.context.claims;
        let mut left = FRONT;
        let purpose = self.one(says!("heading-card"), &claims.care.purpose, PURPOSE);
        left = left.saturating_sub(if purpose.is_empty() { 0 } else { 90 });
        let warnings = self.warnings(&mut left);
        let (from, from_notes) = self.from(&mut left);
        let (surfaces, rows, others) = self.table(&mut left);
        let others = share_out(vec![others], Room { high: left, letters: HALF }).remove(0);
        let others = self.tell(&others);
        let mut wanted = self.lists();
        let keeps: Vec<DayRow<'a>> = self.day_rows();
        // Of what its owner keeps for years the days come before any list has more than its share.
        wanted.insert(0, self.days_wanted(&keeps));
        let mut shared = share_out(wanted, Room { high: BACK, letters: HALF });
        let told_days = shared.remove(0);
        let lists: Vec<Lines> = shared.iter().map(|list| self.tell(list)).collect();
        let lists =
            lists.into_iter().filter(|list| !(list.lines.is_empty() && list.more.is_empty())).collect();
        let days = self.care_days(keeps, &told_days);
        let ask = self.one(says!("heading-ask"), &claims.care.ask, LINE);
        for section in &mut self.rest {
            let found = |claim: &&Claim| !self.words.sentence(claim).lead.is_empty();
            section.form = if section.claims.iter().all(found) { Form::Columns } else { Form::Lines };
        }
        Card {
            view: CareCard {
                title: shortened(self.context.bare_title(), TITLE),
                purpose,
                warnings,
                from,
                from_notes,
                surfaces,
                rows,
                others,
                lists,
                days,
                ask,
            },
            said: self.said,
            rest: self.rest,
            summed_up: self.summed_up,
        }
    }

    fn say(&mut self, heading: &Message, claim: &'a Claim, sentence: String) {
        self.said.push(Said { heading: heading.clone(), claim, sentence, is_elsewhere: false });
    }

    /// Notes what has no room, or is cut.
    fn leave(&mut self, name: &'static str, heading: &Message, claims: Vec<&'a Claim>) {
        if claims.is_empty() {
            return;
        }
        // What the program says itself its maker cannot shorten.
        let is_own = |claim: &&&Claim| {
            let said = matches!(claim.basis(), [Basis::Said { .. }, ..]);
            said && ["own-words", "in-use"].contains(&claim.message.name.as_str())
        };
        let own = claims.iter().filter(is_own).count();
        if own > 0 {
            self.summed_up.push((heading.clone(), own));
        }
        match self.rest.iter_mut().find(|section| section.heading == *heading) {
            Some(section) => section.claims.extend(claims),
            None => self.rest.push(Arranged {
                name: Cow::Borrowed(name),
                heading: heading.clone(),
                form: Form::Columns,
                claims,
            }),
        }
    }

    /// The only claim of a list, in a sentence; nothing where it has none.
    fn one(&mut self, heading: Message, claims: &'a [Claim], room: usize) -> String {
        let Some(claim) = claims.first() else { return String::new() };
        let (text, whole) = fitted(&self.words.sentence(claim).whole(), room);
        self.say(&heading, claim, text.clone());
        if !whole {
            self.leave("purpose", &heading, vec![claim]);
        }
        text
    }

    /// What to know, as far as it warns whoever uses the piece.
    fn warnings(&mut self, left: &mut usize) -> Vec<KnowLine> {
        let heading = says!("heading-cautions");
        let mut lines = Vec::new();
        for claim in self.context.claims.know.iter().filter(|claim| claim.weight.warns()) {
            let line = know_line(self.context, claim);
            let said = self.words.sentence(claim);
            let whole = [line.lead.as_str(), line.text.as_str()].concat()
                == [said.parted().0, said.parted().1].concat();
            if !whole {
                self.leave("cautions", &heading, vec![claim]);
            }
            self.say(&heading, claim, [line.lead.as_str(), line.text.as_str()].join(" ").trim().to_owned());
            *left = left.saturating_sub(wide(&line.lead).div_ceil(WARNING) * 41 + 24);
            lines.push(line);
        }
        lines
    }

    /// From when it may be used, and what that waits for.
    fn from(&mut self, left: &mut usize) -> (Vec<FromLine>, Vec<String>) {
        let care = &self.context.claims.care;
        let heading = says!("heading-use-from");
        let mut days = Vec::new();
        for day in &care.from {
            let (on, text) = (self.words.day(day.on), self.words.cell(&day.claim.message));
            self.say(&heading, &day.claim, format!("{on} {text}"));
            days.push(FromLine { day: on, text });
        }
        let item = |claim: &'a Claim| {
            let (text, whole) = self.brief(claim, NOTE);
            Item { claims: vec![claim], lead: String::new(), text, whole }
        };
        let notes = Wanted {
            name: "use-from",
            heading: heading.clone(),
            headed: false,
            form: Form::Lines,
            items: care.hard.iter().chain(&care.from_notes).map(item).collect(),
            elsewhere: Vec::new(),
            most: (1, 3),
        };
        *left = left.saturating_sub(if days.is_empty() { 40 } else { 150 });
        let shared = share_out(vec![notes], Room { high: 260, letters: HALF }).remove(0);
        let mut told: Vec<String> = Vec::new();
        for item in shared.told() {
            for claim in &item.claims {
                self.say(&heading, claim, item.text.clone());
            }
            *left = left.saturating_sub(wide(&item.text).div_ceil(HALF) * 41);
            told.push(item.text.clone());
        }
        self.leave("use-from", &heading, shared.rest());
        told.extend(Some(shared.worded(self.words).more).filter(|more| !more.is_empty()));
        (days, told)
    }

    /// A claim in few words: whole where that is short, else its form for a cell, cut where it has no room.
    fn brief(&self, claim: &Claim, room: usize) -> (String, bool) {
        let whole = words::sentence(&self.words.say(&claim.message));
        if wide(&whole) <= SHORT.min(room) {
            return (whole, true);
        }
        fitted(&words::sentence(&self.words.cell(&claim.message)), room)
    }

    fn column(&self, face: &'a FaceCare) -> Column<'a> {
        let mut cells: BTreeMap<CareRow, (String, bool)> = BTreeMap::new();
        let of = |row: CareRow| face.claims.iter().filter(move |(of, _)| *of == row).map(|(_, claim)| claim);
        let on = of(CareRow::On).map(|claim| fitted(&capital(&self.words.cell(&claim.message)), ON));
        let (on, whole) = on.reduce(|one, _| one).unwrap_or_default();
        cells.insert(CareRow::On, (on.clone(), whole));
        for (row, room) in ROOMS {
            let said = match (row, face.is_bare) {
                // What is never used is listed; a material has whole sentences.
                (CareRow::Never, false) => {
                    let things: Vec<String> = of(row).map(|claim| self.words.cell(&claim.message)).collect();
                    fitted(&words::sentence(&things.join(", ")), room)
                }
                _ => {
                    let said: Vec<(String, bool)> = of(row).map(|claim| self.brief(claim, room)).collect();
                    let whole = said.iter().all(|(_, whole)| *whole);
                    let texts: Vec<String> =
                        said.into_iter().map(|(text, _)| text).filter(|text| !text.is_empty()).collect();
                    let (text, fits) = fitted(&texts.join(" "), room);
                    (text, whole && fits)
                }
            };
            cells.insert(row, said);
        }
        let name = self.words.heading(&face.heading);
        Column { names: vec![name], on, cells, faces: vec![face] }
    }

    /// The surfaces: those that carry a finish in columns, the others in a line.
    fn table(&mut self, left: &mut usize) -> (Vec<SurfaceHead>, Vec<SurfaceRow>, Wanted<'a>) {
        let care = &self.context.claims.care;
        let mut columns: Vec<Column<'a>> = Vec::new();
        for face in &care.faces {
            let column = self.column(face);
            match columns.iter_mut().find(|other| other.cells == column.cells) {
                Some(other) => {
                    other.names.extend(column.names);
                    other.faces.extend(column.faces);
                }
                None => columns.push(column),
            }
        }
        let is_bare = |column: &Column<'_>| column.faces.iter().all(|face| face.is_bare);
        let any_coated = columns.iter().any(|column| !is_bare(column));
        let (mut shown, mut others) = (Vec::new(), Vec::new());
        for column in columns {
            match shown.len() < COLUMNS && (!any_coated || !is_bare(&column)) {
                true => shown.push(column),
                false => others.push(column),
            }
        }
        let heads = shown.iter().map(|column| SurfaceHead {
            name: shortened(&self.words.list(&column.names), SURFACE),
            on: column.on.clone(),
        });
        let heads: Vec<SurfaceHead> = heads.collect();
        for column in &shown {
            self.tell_column(column);
        }
        let rows: Vec<SurfaceRow> = ROOMS.iter().filter_map(|(row, _)| self.row(*row, &shown)).collect();
        let letters = if shown.len() > 1 { BESIDE } else { ALONE };
        if !rows.is_empty() {
            let lines = |row: &SurfaceRow| {
                let letters = if row.cells.len() > 1 { BESIDE } else { ALONE };
                row.cells.iter().map(|cell| wide(cell).div_ceil(letters)).max().unwrap_or(1) * 41 + 20
            };
            let head = heads
                .iter()
                .map(|head| wide(&head.name).div_ceil(letters) + wide(&head.on).div_ceil(letters));
            *left = left
                .saturating_sub(rows.iter().map(lines).sum::<usize>() + head.max().unwrap_or(0) * 41 + 20);
        }
        let mut items: Vec<Item<'a>> = care.cloths.iter().map(|claim| self.line(claim)).collect();
        items.extend(others.iter().map(|column| self.other(column)));
        items.extend(care.materials.iter().map(|claim| self.line(claim)));
        let others = Wanted {
            name: "others",
            heading: says!("heading-others"),
            headed: false,
            form: Form::Lines,
            items,
            elsewhere: Vec::new(),
            most: (1, 6),
        };
        (heads, rows, others)
    }

    /// Notes what a column says, and what of it is cut.
    fn tell_column(&mut self, column: &Column<'a>) {
        for face in &column.faces {
            let mut cut = Vec::new();
            for (row, claim) in &face.claims {
                let (text, whole) = &column.cells[row];
                self.say(&face.heading, claim, text.clone());
                if !whole {
                    cut.push(claim);
                }
            }
            self.leave("faces", &says!("heading-care-of", faces = face.heading.clone()), cut);
        }
    }

    fn row(&self, row: CareRow, columns: &[Column<'_>]) -> Option<SurfaceRow> {
        let mut cells: Vec<String> = columns.iter().map(|column| column.cells[&row].0.clone()).collect();
        if cells.iter().all(String::is_empty) {
            return None;
        }
        if cells.iter().all(|cell| *cell == cells[0]) {
            cells.truncate(1);
        }
        let label = match row {
            CareRow::On => return None,
            CareRow::Dust => says!("row-dust"),
            CareRow::Clean => says!("row-clean"),
            CareRow::Spill => says!("row-spill"),
            CareRow::Heat => says!("row-heat"),
            CareRow::Renew => says!("row-renew"),
            CareRow::Never => says!("row-never"),
        };
        Some(SurfaceRow { label: self.words.say(&label), cells, never: row == CareRow::Never })
    }

    /// A surface that has no column: what lies on it, and how it is cleaned. Its other rows stand in the build record.
    fn other(&self, column: &Column<'a>) -> Item<'a> {
        let said = |row: CareRow| column.cells[&row].0.clone();
        let text = format!("{} {}", words::sentence(&said(CareRow::On)), said(CareRow::Clean));
        let (text, _) = fitted(text.trim(), LINE);
        let claims = column.faces.iter().flat_map(|face| &face.claims).map(|(_, claim)| claim).collect();
        let lead = words::sentence(&shortened(&self.words.list(&column.names), LEAD));
        Item { claims, lead, text, whole: false }
    }

    /// A claim in a line: what it begins with, and its few words.
    fn line(&self, claim: &'a Claim) -> Item<'a> {
        let lead = self.words.cell_lead(&claim.message);
        let (text, whole) = self.brief(claim, LINE);
        Item { claims: vec![claim], lead: words::sentence(&shortened(&lead, LEAD)), text, whole }
    }

    /// Claims in lines; those that say the same of several things stand in one.
    fn lines(&self, claims: impl IntoIterator<Item = &'a Claim>) -> Vec<Item<'a>> {
        let mut items: Vec<Item<'a>> = Vec::new();
        for claim in claims {
            let item = self.line(claim);
            let named = |item: &Item<'_>| !item.lead.is_empty();
            let alike = |other: &&mut Item<'a>| named(&item) && named(other) && other.text == item.text;
            match items.iter_mut().find(alike) {
                Some(other) => {
                    other.claims.push(claim);
                    let (before, more) = (other.lead.trim_end_matches('.'), item.lead.as_str());
                    let lead = if before == more.trim_end_matches('.') {
                        before.to_owned()
                    } else {
                        format!("{before}, {more}")
                    };
                    other.lead = words::sentence(&shortened(lead.trim_end_matches('.'), LEAD));
                }
                None => items.push(item),
            }
        }
        items.retain(|item| !(item.lead.is_empty() && item.text.is_empty()));
        items
    }

    /// Weights, each with how many people it asks for.
    fn weights(&self, claims: impl Iterator<Item = &'a Claim>) -> Vec<Item<'a>> {
        let item = |claim: &'a Claim| {
            let (lead, text) = (self.words.cell_lead(&claim.message), self.words.cell(&claim.message));
            let (text, whole) = fitted(&if lead.is_empty() { words::sentence(&text) } else { text }, LINE);
            Item { claims: vec![claim], lead, text, whole }
        };
        claims.map(item).collect()
    }

    /// The lists of the back, in the order in which they matter.
    fn lists(&self) -> Vec<Wanted<'a>> {
        let claims = self.context.claims;
        let care = &claims.care;
        let known = |claim: &&'a Claim| claim.weight.warns() && claims.know.contains(claim);
        let heading = match (care.assembly.is_empty(), care.moving.is_empty()) {
            (false, false) => says!("heading-putting-up-and-moving"),
            (false, true) => says!("heading-putting-up"),
            _ => says!("heading-moving"),
        };
        let usual = claims.lifting.iter().filter(|claim| is_usual(claim));
        let weights = claims.lifting.iter().filter(|claim| !is_usual(claim));
        // What its maker says of moving it goes before what holds of any piece.
        let usual = usual.filter(|claim| {
            care.moving.is_empty() || !claim.message.name.starts_with("lift-by-what-is-sound")
        });
        let steps = self.lines(care.assembly.iter().chain(&care.moving).chain(usual));
        let untold = claims.warnings.iter().filter(|claim| !known(claim));
        let in_use = care
            .cautions
            .iter()
            .filter(|claim| !known(claim))
            .chain(untold)
            .chain(&care.in_use)
            .chain(&care.standing);
        let list = |name, heading: Message, items, most| Wanted {
            name,
            heading,
            headed: true,
            form: Form::Lines,
            items,
            elsewhere: Vec::new(),
            most,
        };
        let moves = claims.movement.iter().filter(|claim| !known(claim));
        // A shelf of which the warnings tell is not told again.
        let shelves = claims.shelves.iter().filter(|claim| !known(claim));
        vec![
            Wanted { form: Form::Steps, ..list("moving", heading, steps, (4, 6)) },
            Wanted {
                headed: false,
                ..list("weight", says!("heading-weight"), self.weights(weights), (1, 2))
            },
            list("shelves", says!("heading-shelves"), self.lines(shelves), (2, 6)),
            Wanted {
                // What was tested and not found, and what a caution of its maker's own speaks of, warns nobody.
                elsewhere: claims
                    .substances
                    .iter()
                    .filter(|claim| !claims.warnings.contains(claim))
                    .collect(),
                ..list("in-use", says!("heading-in-use"), self.lines(in_use), (4, 6))
            },
            list(
                "room",
                says!("heading-room"),
                self.lines(care.room.iter().chain(moves).chain(&care.room_of_figures)),
                (2, 6),
            ),
        ]
    }

    /// Notes what a list tells and what not, and puts it into words.
    fn tell(&mut self, list: &Shared<'a>) -> Lines {
        let heading = list.wanted.heading.clone();
        for item in list.told() {
            for claim in &item.claims {
                self.say(&heading, claim, item.sentence());
            }
        }
        // What is said of a surface stands under its name.
        let mut rest = list.rest();
        for face in &self.context.claims.care.faces {
            let of_face = |claim: &&'a Claim| face.claims.iter().any(|(_, of)| std::ptr::eq(of, *claim));
            let (of_it, others) = rest.into_iter().partition(of_face);
            self.leave("faces", &says!("heading-care-of", faces = face.heading.clone()), of_it);
            rest = others;
        }
        self.leave(list.wanted.name, &heading, rest);
        list.worded(self.words)
    }

    /// The days to keep, those alike together, in the order in which they matter.
    fn day_rows(&self) -> Vec<DayRow<'a>> {
        let mut rows: Vec<DayRow<'a>> = Vec::new();
        // From when all of it may be used gently stands above.
        let days = self.context.claims.care.days.iter();
        let days = days.filter(|kept| !matches!(kept.due.task, UpkeepTask::LightUse(_)));
        for DayKept { due, claim } in days {
            let rank = match due.task {
                UpkeepTask::Fixings => 0,
                UpkeepTask::Renewing(_) => 1,
                UpkeepTask::FullCure(_) | UpkeepTask::LightUse(_) => 2,
            };
            let alike =
                |row: &&mut DayRow<'_>| (row.rank, row.on, row.every) == (rank, due.on, due.every_months);
            match rows.iter_mut().find(alike) {
                Some(row) => row.claims.push(claim),
                None => rows.push(DayRow { rank, on: due.on, every: due.every_months, claims: vec![claim] }),
            }
        }
        rows.sort_by_key(|row| (row.rank, row.on));
        rows
    }

    fn days_wanted(&self, rows: &[DayRow<'a>]) -> Wanted<'a> {
        let item = |row: &DayRow<'a>| Item {
            claims: row.claims.clone(),
            lead: String::new(),
            text: self.what_for(row),
            whole: true,
        };
        Wanted {
            name: "days",
            heading: says!("heading-days"),
            headed: true,
            form: Form::Columns,
            items: rows.iter().map(item).collect(),
            elsewhere: Vec::new(),
            most: (2, 5),
        }
    }

    /// What a day is kept for, for all surfaces that it is kept for.
    fn what_for(&self, row: &DayRow<'a>) -> String {
        let names = row.claims.iter().filter_map(|claim| {
            claim.message.values.iter().find(|(name, _)| *name == "surface").map(|(_, value)| value.clone())
        });
        let names: Vec<Value> = names.collect();
        let message = &row.claims[0].message;
        let with = |(name, value): &(&'static str, Value)| match *name {
            "surface" => (*name, Value::All(names.clone())),
            _ => (*name, value.clone()),
        };
        let message =
            Message { name: message.name.clone(), values: message.values.iter().map(with).collect() };
        shortened(&self.words.cell_lead(&message), 2 * DAY)
    }

    fn care_days(&mut self, rows: Vec<DayRow<'a>>, shared: &Shared<'a>) -> Option<CareDays> {
        let heading = says!("heading-days");
        for item in shared.told() {
            for claim in &item.claims {
                self.say(&heading, claim, item.sentence());
            }
        }
        let days = &self.context.claims.care.days;
        let told = |claim: &Claim| shared.told().iter().any(|item| item.claims.contains(&claim));
        let elsewhere: Vec<&'a Claim> =
            days.iter().map(|kept| &kept.claim).filter(|claim| !told(claim)).collect();
        let left = elsewhere.len();
        for claim in elsewhere {
            let sentence = self.words.sentence(claim).whole();
            self.said.push(Said { heading: heading.clone(), claim, sentence, is_elsewhere: true });
        }
        let mut told: Vec<(&DayRow<'a>, &Item<'a>)> = rows.iter().zip(shared.told()).collect();
        told.sort_by_key(|(row, _)| row.on);
        let first = told.first()?.0.on.year();
        let years: Vec<i32> = (first..first + YEARS).collect();
        let rows = told.iter().map(|(row, item)| CareDay {
            day: self.words.day_of_year(row.on),
            what: match row.every {
                None | Some(12) => item.text.clone(),
                Some(months) => {
                    let every = Value::Months(crate::fields::Range {
                        low: f64::from(months),
                        high: f64::from(months),
                    });
                    self.words.say(&says!("day-every", what = item.text.clone(), months = every))
                }
            },
            boxes: years.iter().map(|year| row.comes_in(*year)).collect(),
            years: self.words.list(
                &years.iter().filter(|year| row.comes_in(**year)).map(i32::to_string).collect::<Vec<_>>(),
            ),
        });
        let more = match left {
            0 => String::new(),
            count => words::sentence(&self.words.say(&says!("card-days-more", count = count))),
        };
        Some(CareDays {
            heading: self.words.heading(&heading),
            rows: rows.collect(),
            years: years.iter().map(i32::to_string).collect(),
            more,
        })
    }
}

/// Letters of what a day is kept for that stand beside its boxes in one line.
const DAY: usize = 36;

/// How many letters each row of the table has room for.
const ROOMS: [(CareRow, usize); 6] = [
    (CareRow::Dust, CELL),
    (CareRow::Clean, CELL),
    (CareRow::Spill, CELL),
    (CareRow::Heat, CELL),
    (CareRow::Renew, RENEW),
    (CareRow::Never, NEVER),
];

/// Whether a claim holds of lifting anything.
fn is_usual(claim: &Claim) -> bool {
    claim.message.name.starts_with("lift-")
}

/// Days of one kind that fall together.
struct DayRow<'a> {
    rank: u8,
    on: NaiveDate,
    every: Option<u32>,
    claims: Vec<&'a Claim>,
}

impl DayRow<'_> {
    /// Whether it comes in a year.
    fn comes_in(&self, year: i32) -> bool {
        let first = i64::from(self.on.year()) * 12 + i64::from(self.on.month0());
        match self.every.map(i64::from).filter(|months| *months > 0) {
            None => year == self.on.year(),
            Some(months) => {
                let (start, end) = (i64::from(year) * 12, i64::from(year) * 12 + 12);
                let past = (start - first).max(0);
                let next = first + (past + months - 1) / months * months;
                (start..end).contains(&next)
            }
        }
    }
}
