//! What a theme may see, per audience, ready to print.
//!
//! These are the only types that are serialised for pages. A theme cannot name a private
//! field in the showroom, because the showroom's types do not have it. Texts are plain text
//! unless their name ends in `_html`; empty text means that there is nothing to print.

mod amendments;
pub mod archive;
mod basis;
mod build_record;
pub mod buyer;
mod calendar;
mod care;
mod completeness;
mod coverage;
mod cure;
mod dating;
mod disclosure;
mod hazards;
mod label;
mod layers_svg;
mod ledger;
mod lifting;
mod mark;
mod movement;
mod names;
mod originality;
mod pair;
mod part;
mod picture;
mod shelf;
mod shown;
pub mod showroom;
mod stability;
mod story;
mod surface;
mod swatch;
#[cfg(test)]
mod testing;
mod undo;
mod words;

use chrono::NaiveDate;
use serde::Serialize;

pub use amendments::SealView;
pub use basis::Basis;
pub use build_record::{
    BuildRecord, ChoiceRow, DecisionRow, Fact, FindingRow, FixingRow, Link, Settled, TrialRow, UndoneRow,
    WorkRow,
};
pub use calendar::{Calendar, Event};
pub use care::{Care, NoCare, SurfaceCare};
pub use completeness::{AdditionRow, CompletenessView, HeadingRow};
pub use coverage::{CoverageRow, CoverageView};
pub use cure::{CureView, SurfaceCure};
pub use dating::{DatingRow, DatingView, EraRow};
pub use disclosure::{Disclosure, Finished};
pub use hazards::{BenchSheet, Caution, Cleared, FinishHazards, HazardSheet, LawRow};
pub use label::Label;
pub use ledger::{LedgerLine, LedgerSheet, TaskShare};
pub use lifting::LiftingView;
pub use mark::MarkView;
pub use movement::{MovementRow, MovementView, NoFigure};
pub use originality::{OriginalityView, ShareRow};
pub use pair::{End, PairView, pair_picture_name};
pub use part::{PartRow, StandingRow};
pub use picture::{PhotoView, PictureFile, StageView, picture_name};
pub use shelf::{LoadsView, ShelfRow};
pub use stability::StabilityView;
pub use story::{Block, Inline};
pub use surface::{LayerRow, StepRow, SurfaceView};
pub use swatch::{ColourView, PatchView, SwatchView};
pub use undo::{Recipe, UndoFixing, UndoLayer, UndoPart, UndoSheet, UndoSurface, UndoWork};

use crate::derive::Facts;
use crate::fields::Said;
use crate::inspect::Looks;
use crate::record::{Folder, Paper, Piece, Record, Seal, Stock, StockItem, Tin, Workshop};
use crate::trade::Trade;
use crate::unit::{Area, Edtf, edtf};
use names::Names;
use shown::Sees;
use words::House;

/// Widths that photographs are developed to, where the workshop says nothing.
pub const WIDTHS: [u32; 3] = [1600, 960, 480];

/// The workshop as every page shows it.
#[derive(Debug, Clone, Serialize)]
pub struct WorkshopView {
    /// Its name.
    pub name: String,
    /// Town or region; may be empty.
    pub place: String,
    /// How it is reached; may be empty.
    pub contact: String,
    /// A sentence or two; may be empty.
    pub about: String,
    /// A notice for every page; may be empty.
    pub notice: String,
    /// The public key that its packs are signed with; may be empty.
    pub signing_key: String,
    /// The language tag of the pages.
    pub language: String,
    /// `A4` or `letter`.
    pub paper: String,
}

/// A page: what every page has, and what only this one has.
#[derive(Debug, Clone, Serialize)]
pub struct Page<'a, T> {
    /// The way from the page to the root of its tree: empty, or `../../`.
    pub root: &'a str,
    /// The page's title.
    pub title: String,
    /// The page in a sentence, for the document's head; may be empty.
    pub description: String,
    /// Whether search engines are asked to leave it out.
    pub unlisted: bool,
    /// The workshop.
    pub workshop: &'a WorkshopView,
    /// What only this page has.
    pub page: &'a T,
}

/// The workshop's habits, for the papers.
#[derive(Debug)]
pub struct Household {
    name: String,
    contact: Option<String>,
    quantities: House,
    widths: Vec<u32>,
    papers_address: Option<String>,
    view: WorkshopView,
}

impl Household {
    /// Reads them off `workshop.toml`.
    pub fn of(workshop: &Workshop) -> Household {
        let text = |said: &Option<Said<crate::fields::Text>>| {
            said.as_ref().map_or(String::new(), |said| said.to_string())
        };
        let paper = workshop.paper.as_ref().map_or(Paper::A4, |paper| paper.value);
        Household {
            name: workshop.name.to_string(),
            contact: workshop.contact.as_ref().map(|contact| contact.to_string()),
            quantities: House::of(workshop),
            widths: widths(workshop),
            papers_address: workshop.papers_address.as_ref().map(|address| address.to_string()),
            view: WorkshopView {
                name: workshop.name.to_string(),
                place: text(&workshop.place),
                contact: text(&workshop.contact),
                about: text(&workshop.about),
                notice: text(&workshop.notice),
                signing_key: text(&workshop.signing_key),
                language: "en-GB".to_owned(),
                paper: paper.word().to_owned(),
            },
        }
    }

    /// How large an outlined area is, as the papers say it.
    pub fn area(&self, area: Area) -> String {
        self.quantities.about_cm2(area)
    }

    /// Where a piece's papers stand on the web, from the name of their folder; `None` where they stand nowhere.
    pub fn papers_address(&self, folder: &str) -> Option<String> {
        let address = self.papers_address.as_ref()?;
        Some(format!("{}/{folder}/", address.trim_end_matches('/')))
    }

    /// The workshop as every page shows it.
    pub fn view(&self) -> &WorkshopView {
        &self.view
    }
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
pub struct Source<'a> {
    piece: &'a Piece,
    record: &'a Record,
    facts: &'a Facts,
    looks: &'a Looks,
    trade: &'a Trade,
    tins: &'a [Said<Tin>],
    stock: &'a Stock,
    house: &'a Household,
    names: Names<'a>,
}

impl<'a> Source<'a> {
    /// Gathers what a piece's views are made from; `None` where its record could not be read.
    pub fn of(
        folder: &'a Folder,
        piece: &'a Piece,
        facts: Option<&'a Facts>,
        looks: &'a Looks,
        trade: &'a Trade,
        house: &'a Household,
    ) -> Option<Source<'a>> {
        let record = piece.record.as_ref()?;
        Some(Source {
            piece,
            record,
            facts: facts?,
            looks,
            trade,
            tins: folder.workshop.as_ref().map_or(&[], |workshop| &workshop.tins),
            stock: &folder.stock,
            house,
            names: Names::of(record, trade),
        })
    }

    fn stock(&self, id: &str) -> Option<&StockItem> {
        self.stock.items.iter().map(|item| &item.value).find(|item| item.id.0 == id)
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

    /// The day of handover, or else the last day that the record names; none where it names none.
    pub fn last_day(&self) -> Option<NaiveDate> {
        let works = self.record.works.iter().filter_map(|work| work.on.as_ref());
        let steps = self.record.surfaces.iter().flat_map(|surface| &surface.steps);
        let trials = self.record.trials.iter().filter_map(|trial| trial.on.as_ref());
        let days = works.chain(steps.filter_map(|step| step.on.as_ref())).chain(trials);
        self.piece.handed_over().or_else(|| days.map(|on| on.value).max())
    }

    /// Whether the public may see it.
    pub fn published(&self) -> bool {
        self.record.publish.as_ref().is_none_or(|publish| publish.value)
    }

    /// The names of all its developed pictures, as they stand in its `pictures/` folders.
    pub fn all_pictures(&self) -> Vec<String> {
        self.pictures(Sees::Everything)
    }

    /// The names of those that are not for the archive alone.
    pub fn public_pictures(&self) -> Vec<String> {
        self.pictures(Sees::Public)
    }

    fn pictures(&self, sees: Sees) -> Vec<String> {
        let all = &self.facts.photographs.all;
        let seen = |place: usize| sees.photograph(&all[place]);
        let pairs = self.facts.photographs.pairs.iter().enumerate();
        let laid = pairs
            .filter(|(_, pair)| seen(pair.before) && seen(pair.after))
            .flat_map(|(place, pair)| pair::pair_pictures(place, pair, &self.house.widths));
        let photographs = all.iter().enumerate().filter(|(_, one)| sees.photograph(one));
        photographs
            .flat_map(|(place, photograph)| {
                let look = self.looks.get(&photograph.file).and_then(|look| look.as_ref().ok());
                let sizes = look.map_or(Vec::new(), |look| {
                    crate::photo::sizes(look.header.width, look.header.height, &self.house.widths)
                });
                sizes.into_iter().map(move |(width, _)| picture_name(photograph, place, width))
            })
            .chain(laid)
            .collect()
    }

    /// Its page in the showroom.
    pub fn showroom_page(&self) -> showroom::PiecePage {
        showroom::piece_page(self)
    }

    /// Its papers for the buyer.
    pub fn papers(&self) -> buyer::Papers {
        buyer::papers(self)
    }

    /// Its seal, as its buyer's papers tell of it.
    pub fn seal(&self) -> SealView {
        amendments::seal_view(self, amendments::SealFor::Buyer)
    }

    /// Its page in the archive.
    pub fn archive_page(&self, buyers_folder: &str) -> archive::PiecePage {
        archive::piece_page(self, buyers_folder)
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

/// The earliest year of making, where there is one.
fn earliest_year(made: &Edtf) -> Option<i32> {
    match made.years().earliest {
        edtf::Bound::Year(year) => Some(year),
        _ => None,
    }
}

/// The showroom's front page, from its pages and their slugs.
pub fn showroom_front(pages: &[(String, showroom::PiecePage)]) -> showroom::Front {
    let mut cards: Vec<showroom::Card> =
        pages.iter().map(|(slug, page)| showroom::card(page, slug)).collect();
    cards.reverse();
    showroom::Front { cards }
}

/// The archive's front page, from its sources and pages in the same order.
pub fn archive_front(
    sources: &[Source<'_>],
    pages: &[archive::PiecePage],
    stock: &Stock,
    house: &Household,
) -> archive::Front {
    let href = |source: &Source<'_>| format!("pieces/{}/index.html", source.slug());
    let lessons = sources
        .iter()
        .zip(pages)
        .flat_map(|(source, page)| archive::lessons(source, &page.record.title, &href(source)))
        .collect();
    let rows =
        sources.iter().zip(pages).map(|(source, page)| archive::row(source, page, href(source))).collect();
    let colours =
        sources.iter().zip(pages).flat_map(|(source, page)| archive::colours(page, &href(source))).collect();
    let stock = stock_rows(sources, stock, house);
    archive::Front { rows, totals: totals(sources, house), lessons, colours, stock }
}

fn totals(sources: &[Source<'_>], house: &Household) -> Vec<Fact> {
    let ledgers: Vec<_> = sources.iter().map(|source| source.facts.ledger.for_archive()).collect();
    let hours: crate::unit::Hours = ledgers.iter().filter_map(|ledger| ledger.hours).sum();
    let spent: crate::unit::Money = ledgers.iter().map(|ledger| ledger.spent()).sum();
    let count = u32::try_from(sources.len()).unwrap_or(u32::MAX);
    vec![
        Fact { label: "Pieces".to_owned(), text: count.to_string() },
        Fact { label: "Hours".to_owned(), text: words::hours(hours) },
        Fact { label: "Spent".to_owned(), text: house.quantities.money(spent) },
    ]
}

fn stock_rows(sources: &[Source<'_>], stock: &Stock, house: &Household) -> Vec<archive::StockRow> {
    stock
        .items
        .iter()
        .map(|item| archive::StockRow {
            id: item.id.0.clone(),
            what: words::capital(&item.what),
            origin: item.origin.as_ref().map_or(String::new(), |origin| origin.to_string()),
            paid: item
                .paid
                .for_archive()
                .as_ref()
                .map_or(String::new(), |paid| house.quantities.money(paid.value)),
            note: item.note.for_archive().as_ref().map_or(String::new(), |note| note.to_string()),
            used_in: sources.iter().filter_map(|source| used_in(source, &item.id)).collect(),
        })
        .collect()
}

fn used_in(source: &Source<'_>, id: &crate::fields::Id) -> Option<archive::UsedIn> {
    let uses = source
        .record
        .parts
        .iter()
        .filter(|part| part.from_stock.as_ref().is_some_and(|from| from.value == *id));
    let parts: Vec<String> = uses.map(|part| part.name.to_string()).collect();
    (!parts.is_empty()).then(|| archive::UsedIn {
        title: source.title(),
        href: format!("pieces/{}/index.html", source.slug()),
        parts: words::list(&parts),
    })
}
