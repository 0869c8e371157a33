//! What a piece's views are made from, and the style of the house that they are printed in.

use std::sync::Arc;

use chrono::NaiveDate;

use super::names::Names;
use super::page::WorkshopView;
use crate::claim::{Message, says};
use crate::derive::{Claims, Contact, Facts, Offer, PhotoFacts, ShowroomAddress, Workpiece, offer};
use crate::fields::{Said, Text};
use crate::record::{Folder, Paper, Piece, Record, Seal, Stock, StockItem, Tin, Workshop};
use crate::trade::Trade;
use crate::unit::Area;
use crate::words::{Language, Words};

/// Widths that photographs are developed to, where the workshop says nothing.
pub const WIDTHS: [u32; 4] = [1600, 960, 720, 480];

/// The workshop's habits, for the papers.
#[derive(Debug)]
pub struct HouseStyle {
    pub(super) name: String,
    words: Words,
    pub(super) widths: Vec<u32>,
    papers_address: Option<String>,
    /// Where the showroom stands on the web.
    showroom: Option<ShowroomAddress>,
    /// The number of the piece that the showroom begins with.
    lead: Option<String>,
    contact: Contact,
    /// How a piece is bought: what each line is about, and what it says.
    how_to_buy: Vec<(Message, String)>,
    currency: Option<String>,
    /// Its own terms of sale, line by line.
    terms: Vec<String>,
    /// The day that papers are written on.
    today: NaiveDate,
    view: WorkshopView,
}

impl HouseStyle {
    /// Reads them off `workshop.toml`, for papers of this day in a language.
    pub fn of(workshop: &Workshop, language: &Arc<Language>, today: NaiveDate) -> HouseStyle {
        let words = Words::of(language.clone(), workshop);
        let text = |said: &Option<Said<Text>>| said.as_ref().map_or(String::new(), |said| said.to_string());
        let paper = workshop.paper.as_ref().map(|paper| paper.value).unwrap_or_else(|| usual_paper(&words));
        HouseStyle {
            name: workshop.name.to_string(),
            words,
            widths: widths(workshop),
            today,
            showroom: workshop.address.as_ref().and_then(|address| ShowroomAddress::read(address).ok()),
            lead: workshop.lead.as_ref().map(|lead| lead.to_string()),
            contact: Contact::read(&text(&workshop.contact)),
            how_to_buy: how_to_buy(workshop),
            terms: lines(&text(&workshop.terms)),
            currency: workshop
                .currency
                .as_ref()
                .map(|currency| currency.to_string())
                .filter(|code| is_currency(code)),
            papers_address: workshop.papers_address.as_ref().map(|address| address.to_string()),
            view: WorkshopView {
                name: workshop.name.to_string(),
                place: text(&workshop.place),
                contact: text(&workshop.contact),
                about: text(&workshop.about),
                notice: text(&workshop.notice),
                signing_key: text(&workshop.signing_key),
                paper: paper.word().to_owned(),
            },
        }
    }

    /// The words of its papers.
    pub fn words(&self) -> &Words {
        &self.words
    }

    /// How large an outlined area is, as the papers say it.
    pub fn area(&self, area: Area) -> String {
        self.words.area(area)
    }

    /// Where a piece's papers stand on the web, from the name of their folder; `None` where they stand nowhere.
    pub fn papers_address(&self, folder: &str) -> Option<String> {
        let address = self.papers_address.as_ref()?;
        Some(format!("{}/{folder}/", address.trim_end_matches('/')))
    }

    /// Where the showroom stands on the web; `None` where nothing says so that a browser could follow.
    pub fn showroom(&self) -> Option<&ShowroomAddress> {
        self.showroom.as_ref()
    }

    /// The number of the piece that the showroom begins with, where the workshop chose one.
    pub(super) fn lead(&self) -> Option<&str> {
        self.lead.as_deref()
    }

    /// How the workshop is reached.
    pub(super) fn contact(&self) -> &Contact {
        &self.contact
    }

    /// How a piece is bought: what each line is about, and what it says.
    pub(super) fn how_to_buy(&self) -> &[(Message, String)] {
        &self.how_to_buy
    }

    /// Its own terms of sale, line by line.
    pub(super) fn terms(&self) -> &[String] {
        &self.terms
    }

    /// The code of its currency by ISO 4217; `None` where it is no such code.
    pub(super) fn currency(&self) -> Option<&str> {
        self.currency.as_deref()
    }

    /// The workshop as every page shows it.
    pub fn view(&self) -> &WorkshopView {
        &self.view
    }
}

/// The lines of a text that say something.
fn lines(text: &str) -> Vec<String> {
    text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
}

/// Whether a text may be the code of a currency.
fn is_currency(code: &str) -> bool {
    code.len() == 3 && code.bytes().all(|letter| letter.is_ascii_uppercase())
}

/// How a piece is bought, in the order in which it happens.
fn how_to_buy(workshop: &Workshop) -> Vec<(Message, String)> {
    let Some(how) = &workshop.how_to_buy else { return Vec::new() };
    let ways = [
        (says!("buy-viewing"), &how.viewing),
        (says!("buy-payment"), &how.payment),
        (says!("buy-collection"), &how.collection),
        (says!("buy-delivery"), &how.delivery),
        (says!("buy-returns"), &how.returns),
    ];
    ways.into_iter().filter_map(|(about, said)| Some((about, said.as_ref()?.to_string()))).collect()
}

/// The paper that a language is usually printed on.
fn usual_paper(words: &Words) -> Paper {
    let usual = words.say(&says!("default-paper"));
    Paper::ALL.iter().copied().find(|paper| paper.word() == usual).unwrap_or(Paper::A4)
}

/// Widths that a workshop's photographs are developed to, widest first.
pub fn widths(workshop: &Workshop) -> Vec<u32> {
    let mut widths: Vec<u32> = workshop.photo_widths.iter().map(|width| width.0).collect();
    if widths.is_empty() {
        widths = WIDTHS.to_vec();
    }
    widths.sort_unstable_by(|a, b| b.cmp(a));
    widths.dedup();
    widths
}

/// Everything that a view of one piece is made from.
pub struct PieceContext<'a> {
    pub(super) piece: &'a Piece,
    pub(super) record: &'a Record,
    pub(super) facts: &'a Facts,
    pub(super) photographs: &'a PhotoFacts,
    pub(super) claims: &'a Claims,
    pub(super) trade: &'a Trade,
    pub(super) tins: &'a [Said<Tin>],
    pub(super) stock: &'a Stock,
    pub(super) house: &'a HouseStyle,
    pub(super) names: Names<'a>,
}

impl<'a> PieceContext<'a> {
    /// Gathers what a piece's views are made from.
    pub fn of(
        folder: &'a Folder,
        workpiece: &'a Workpiece,
        trade: &'a Trade,
        house: &'a HouseStyle,
    ) -> PieceContext<'a> {
        let Workpiece { piece, record, facts, photographs, claims } = workpiece;
        PieceContext {
            piece,
            record,
            facts,
            photographs,
            claims,
            trade,
            tins: folder.workshop.as_ref().map_or(&[], |workshop| &workshop.tins),
            stock: &folder.stock,
            house,
            names: Names::of(record, trade, house.words()),
        }
    }

    /// The style of the house.
    pub fn house(&self) -> &'a HouseStyle {
        self.house
    }

    /// The piece's folder name.
    pub fn folder(&self) -> &str {
        &self.piece.folder
    }

    /// What it is, with its number: for messages.
    pub fn title(&self) -> String {
        format!("{} ({})", self.record.title.value, self.record.number.value)
    }

    /// What it is.
    pub fn bare_title(&self) -> &str {
        &self.record.title
    }

    /// The workshop's number for it.
    pub fn number(&self) -> &str {
        &self.record.number
    }

    /// The name of its pack, and its last seal; `None` where it was never sealed.
    pub fn pack_and_seal(&self) -> Option<(String, &Seal)> {
        let seal = self.piece.seals.last()?;
        Some((format!("{}-{}", self.slug(), seal.name()), seal))
    }

    /// The name of its folder in every written tree, from its number.
    pub fn slug(&self) -> String {
        slug(&self.record.number)
    }

    /// Whether it can be had on the day of writing.
    pub(super) fn offer(&self) -> Offer {
        offer(self.piece, self.record, self.house.today)
    }

    /// The day of handover, or else the last day that the record names; none where it names none.
    pub fn last_day(&self) -> Option<NaiveDate> {
        let works = self.record.works.iter().filter_map(|work| work.on.as_ref());
        let steps = self.record.surfaces.iter().flat_map(|surface| &surface.steps);
        let tests = self.record.tests.iter().filter_map(|test| test.on.as_ref());
        let days = works.chain(steps.filter_map(|step| step.on.as_ref())).chain(tests).map(|on| on.value);
        let jotted = self.facts.day_book.works.iter().filter_map(|jotting| jotting.on);
        self.piece.handed_over().or_else(|| days.chain(jotted).max())
    }

    /// Whether the public may see it.
    pub fn published(&self) -> bool {
        self.record.publish.as_ref().is_none_or(|publish| publish.value)
    }

    /// A row of the stock, by id.
    pub(super) fn stock(&self, id: &str) -> Option<&StockItem> {
        self.stock.items.iter().map(|item| &item.value).find(|item| item.id.0 == id)
    }
}

/// The name of a piece's folder in the written trees, from its number.
///
/// Numbers without any Latin letter or digit are spelt out as hexadecimal code points.
pub fn slug(number: &str) -> String {
    match slug::slugify(number) {
        slug if slug.is_empty() => number
            .chars()
            .map(|character| format!("{:x}", u32::from(character)))
            .collect::<Vec<_>>()
            .join("-"),
        slug => slug,
    }
}
