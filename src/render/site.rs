//! The three trees: which page goes where.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::published::for_machines;
use super::{RenderError, Theme, calendar, label_svg};
use crate::claim::{Message, says};
use crate::pack::File;
use crate::unit::legible::{escaped_json, without_unseen};
use crate::view::buyer::{Papers, Printed};
use crate::view::showroom::Card;
use crate::view::{BuildRecord, HouseStyle, Page, PieceContext, SHEETS, archive, buyer, showroom};
use crate::words::Words;

/// The owner's calendar, beside the papers.
const CALENDAR: &str = "calendar.ics";

/// All sheets in one file, beside the papers.
pub(super) const ALL_SHEETS: &str = "papers";

/// The label, beside the papers.
pub(super) const LABEL: &str = "label";

/// The receipts of a sale as a paper to print, beside their page in the archive.
pub(super) const RECEIPTS_PRINTED: &str = "receipts.pdf";

/// Linked data, in the archive and in each of its pieces' folders.
pub const LINKED: &str = "linked.json";

/// The way from a piece's page to the root of its tree.
const FROM_PIECE: &str = "../../";

/// The tree that everybody may see.
pub const SHOWROOM: &str = "showroom";

/// The tree that only the workshop sees.
pub const ARCHIVE: &str = "archive";

/// Makes pages with a theme.
struct PagePrinter<'a> {
    theme: &'a Theme,
    house: &'a HouseStyle,
}

/// What one page has of its own.
struct PageContent<'a, T> {
    root: &'a str,
    title: String,
    description: String,
    unlisted: bool,
    content: &'a T,
}

impl PagePrinter<'_> {
    fn print<T: Serialize>(
        &self,
        path: String,
        template: &str,
        page: PageContent<'_, T>,
    ) -> Result<File, RenderError> {
        let page = Page {
            root: page.root,
            title: page.title,
            description: page.description,
            unlisted: page.unlisted,
            language: self.house.words().language().tag(),
            workshop: self.house.view(),
            page: page.content,
        };
        Ok(File { path, bytes: self.theme.page(template, &page)? })
    }
}

/// Where a buyer's papers are found.
pub struct BuyersFolder {
    /// The folder that they are written into, in the tree that it belongs to.
    pub folder: String,
    /// Their address on the web, where the workshop has one.
    pub address: Option<String>,
}

/// A buyer's papers: the label leads to their address, and papers to print are named as far as this program can make
/// them.
pub fn buyer_papers(context: &PieceContext<'_>, address: Option<&str>) -> Papers {
    let mut papers = buyer::papers(context);
    papers.label.lead_to(address, &papers.seal);
    let can_print = cfg!(feature = "papers");
    let words = context.house().words();
    let printed = |href: String, name: Message| Printed { href, name: words.say(&name) };
    let pdf = |name: &str| {
        printed(format!("{name}.pdf"), says!("printed-sheet", sheet = Message::word("sheet", name)))
    };
    if can_print {
        papers.printed.push(printed(format!("{ALL_SHEETS}.pdf"), says!("printed-all")));
        papers.printed.extend(SHEETS.iter().map(|sheet| pdf(sheet.name)));
        papers.printed.push(pdf(LABEL));
    }
    papers.printed.push(printed(format!("{LABEL}.svg"), says!("printed-label-drawing")));
    papers
}

/// One buyer's pages, complete but for assets, pictures and the papers that are printed.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn buyer_pages(
    theme: &Theme,
    house: &HouseStyle,
    papers: &Papers,
    folder: &str,
) -> Result<Vec<File>, RenderError> {
    let printer = PagePrinter { theme, house };
    let BuildRecord { title, summary, .. } = &papers.sheets.record;
    let words = house.words();
    let page = |file: &str, template: &str, sheet: &str| {
        let content = PageContent {
            root: "",
            title: words.say(&says!(
                "page-of-piece",
                sheet = Message::word("sheet", sheet),
                piece = title.as_str()
            )),
            description: summary.clone(),
            unlisted: true,
            content: papers,
        };
        printer.print(format!("{folder}/{file}.html"), &format!("buyer-{template}.html"), content)
    };
    let mut files = vec![page("index", "front", ALL_SHEETS)?];
    for sheet in SHEETS {
        files.push(page(sheet.name, sheet.name, sheet.name)?);
    }
    if let Some(days) = &papers.calendar {
        files.push(File { path: format!("{folder}/{CALENDAR}"), bytes: calendar(days) });
    }
    let label = label_svg(&papers.label, house.view(), house.words(), theme.label()).into_bytes();
    files.push(File { path: format!("{folder}/{LABEL}.svg"), bytes: label });
    Ok(files)
}

/// What the front pages tell of one piece; it can be kept for a day on which its papers cannot be made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct PieceEntries {
    /// Its card in the showroom, where it is published.
    pub card: Option<Card>,
    /// What the archive's pages tell of it.
    pub entry: archive::ArchiveEntry,
}

impl PieceEntries {
    /// The same for a piece whose papers are from before a day.
    pub fn from_before(self, words: &Words, day: NaiveDate) -> PieceEntries {
        PieceEntries { card: self.card, entry: self.entry.from_before(words, day) }
    }
}

/// A piece that the showroom shows, and its place among the others.
#[derive(Clone, Copy)]
pub struct Shown<'a> {
    /// Its card.
    pub card: &'a Card,
    /// The pieces before and after it.
    pub neighbours: showroom::Neighbours<'a>,
}

/// Everything that is written as pages for one piece in showroom and archive, and what the front pages tell of it.
///
/// `shown` is its place in the showroom, where it is published; `wanted` is whether its own pages are made, and not only
/// its entries on the front pages.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn piece_pages(
    theme: &Theme,
    context: &PieceContext<'_>,
    papers: &Papers,
    buyers: &BuyersFolder,
    shown: Option<Shown<'_>>,
    wanted: bool,
) -> Result<(Vec<File>, PieceEntries), RenderError> {
    let (house, slug) = (context.house(), context.slug());
    let printer = PagePrinter { theme, house };
    let leaf =
        |unlisted| (papers.sheets.record.title.clone(), papers.sheets.record.summary.clone(), unlisted);
    let page = |tree: &str| format!("{tree}/pieces/{slug}/index.html");
    let mut files = Vec::new();
    if let Some(Shown { card, neighbours }) = shown.filter(|_| wanted) {
        let content = showroom::piece_page(context, card, neighbours);
        let (title, description, unlisted) = leaf(false);
        let leaf = PageContent { root: FROM_PIECE, title, description, unlisted, content: &content };
        files.push(printer.print(page(SHOWROOM), "showroom-piece.html", leaf)?);
        files.extend(post_pages(&printer, context, &content)?);
    }
    let kept = archive::piece_page(context, papers, &buyers.folder);
    let entry = archive::entry(context, &kept);
    if wanted {
        let (title, description, unlisted) = leaf(true);
        let leaf = PageContent { root: FROM_PIECE, title, description, unlisted, content: &kept };
        files.push(printer.print(page(ARCHIVE), "archive-piece.html", leaf)?);
        files.push(linked_file(format!("{ARCHIVE}/pieces/{slug}/{LINKED}"), &archive::linked(context, "")));
        if let Some(mut receipts) = archive::receipts_page(context) {
            receipts.printed = if papers.receipts_printed { RECEIPTS_PRINTED } else { "" };
            let title = house.words().say(&says!("receipts-of", piece = receipts.piece.as_str()));
            let description = String::new();
            let leaf =
                PageContent { root: FROM_PIECE, title, description, unlisted: true, content: &receipts };
            let path = format!("{ARCHIVE}/pieces/{slug}/{}", kept.receipts);
            files.push(printer.print(path, "archive-receipts.html", leaf)?);
        }
    }
    Ok((files, PieceEntries { card: shown.map(|shown| shown.card.clone()), entry }))
}

/// What a post about a piece is made from: a page in the archive, and its texts as a file.
fn post_pages(
    printer: &PagePrinter<'_>,
    context: &PieceContext<'_>,
    shown: &showroom::ShowroomPiece,
) -> Result<Vec<File>, RenderError> {
    let kit = archive::post_kit(context, shown);
    let folder = format!("{ARCHIVE}/pieces/{}", context.slug());
    let title = context.house().words().say(&says!("post-of", title = kit.title.as_str()));
    let page =
        PageContent { root: FROM_PIECE, title, description: String::new(), unlisted: true, content: &kit };
    let text = without_unseen(&kit.plain()).into_owned().into_bytes();
    Ok(vec![
        printer.print(format!("{folder}/post.html"), "archive-post.html", page)?,
        File { path: format!("{folder}/post.txt"), bytes: text },
    ])
}

/// The archive's pages across all pieces.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn archive_pages(
    theme: &Theme,
    house: &HouseStyle,
    pages: &archive::ArchivePages,
) -> Result<Vec<File>, RenderError> {
    let printer = AcrossPrinter { printer: PagePrinter { theme, house } };
    let words = house.words();
    let name = words.say(&says!("archive-of", workshop = house.view().name.as_str()));
    let mut files = vec![
        printer.print("index.html", "front", name, &pages.front)?,
        printer.print("recipes.html", "recipes", words.say(&says!("nav-recipes")), &pages.recipes)?,
        printer.print("times.html", "times", words.say(&says!("nav-times")), &pages.times)?,
        printer.print("faults.html", "faults", words.say(&says!("nav-faults")), &pages.faults)?,
        printer.print("stock.html", "stock", words.say(&says!("nav-stock")), &pages.stock)?,
    ];
    for (file, page) in &pages.years {
        files.push(printer.print(file, "year", page.title.clone(), page)?);
    }
    files.push(linked_file(format!("{ARCHIVE}/{LINKED}"), &pages.linked));
    Ok(files)
}

/// Linked data as a file, without characters that nobody sees.
fn linked_file(path: String, data: &serde_json::Value) -> File {
    File { path, bytes: format!("{}\n", escaped_json(&data.to_string())).into_bytes() }
}

/// Makes the archive's pages across all pieces.
struct AcrossPrinter<'a> {
    printer: PagePrinter<'a>,
}

impl AcrossPrinter<'_> {
    fn print<T: Serialize>(
        &self,
        file: &str,
        template: &str,
        title: String,
        content: &T,
    ) -> Result<File, RenderError> {
        let page = PageContent { root: "", title, description: String::new(), unlisted: true, content };
        self.printer.print(format!("{ARCHIVE}/{file}"), &format!("archive-{template}.html"), page)
    }
}

/// The showroom's own pages, from the cards of its pieces: its front, the pages of its rooms, the one for lost addresses,
/// and the files for machines.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn showroom_pages(theme: &Theme, house: &HouseStyle, cards: Vec<Card>) -> Result<Vec<File>, RenderError> {
    let printer = PagePrinter { theme, house };
    let (front, rooms) = showroom::front(cards.clone(), house);
    let description = || house.view().about.clone();
    let content = PageContent {
        root: "",
        title: house.view().name.clone(),
        description: description(),
        unlisted: false,
        content: &front,
    };
    let mut files = vec![printer.print(format!("{SHOWROOM}/index.html"), "showroom-front.html", content)?];
    let mut paths = vec!["index.html".to_owned()];
    for room in &rooms {
        let content = PageContent {
            root: "",
            title: room.title.clone(),
            description: description(),
            unlisted: false,
            content: &room.page,
        };
        files.push(printer.print(format!("{SHOWROOM}/{}", room.path), "showroom-room.html", content)?);
        paths.push(room.path.clone());
    }
    let (missing, root) = showroom::missing_page(house);
    let content = PageContent {
        root: &root,
        title: house.words().say(&says!("page-missing")),
        description: String::new(),
        unlisted: true,
        content: &missing,
    };
    files.push(printer.print(format!("{SHOWROOM}/404.html"), "showroom-missing.html", content)?);
    files.extend(for_machines(house, SHOWROOM, &cards, &paths));
    Ok(files)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::archive::{Archive, Asking};
    use crate::derive::Workpiece;
    use crate::record::{self, Folder};
    use crate::source::Tree;
    use crate::trade::Trade;
    use crate::view::showroom::Order;

    /// A piece for sale, one that was handed over, and one that the public must not see.
    const PIECES: [(&str, &str); 3] = [
        ("T-1", "title = \"Oak table\"\nsummary = \"For six.\"\nasking = 240.00\n"),
        (
            "T-2",
            "title = \"Elm chair\"\npart = [{ id = \"seat\", name = \"Seat\", standing = \"original\" }]\n\
             surface = [{ parts = \"seat\", found = \"paste-wax\" }]\nhandover = { on = 2026-04-20, to = \"A buyer\" }\n",
        ),
        ("T 3/b", "title = \"Hidden stool\"\npublish = false\n"),
    ];

    /// A workshop of those pieces.
    struct Workshop {
        folder: Folder,
        pieces: Vec<Workpiece>,
        house: HouseStyle,
        theme: Theme,
    }

    impl Workshop {
        fn open() -> Workshop {
            let piece = |(number, record): &(&str, &str)| {
                let path = format!("pieces/{}/record.toml", number.to_lowercase().replace(['/', ' '], "-"));
                (path, format!("number = \"{number}\"\nkind = \"table/gateleg\"\n{record}"))
            };
            let workshop = "name = \"Bench\"\nabout = \"We mend.\"\ncurrency = \"GBP\"\n".to_owned();
            let files = PIECES.iter().map(piece).chain([("workshop.toml".to_owned(), workshop)]);
            let tree = Tree::of(files);
            let (folder, problems) = record::read(&tree);
            assert_eq!(problems, [], "the fixture cannot be read");
            let pieces = folder.pieces.iter().map(|piece| {
                Workpiece::unopened(&folder, piece, Trade::built_in()).expect("its record was read")
            });
            Workshop {
                pieces: pieces.collect(),
                house: HouseStyle::of(
                    folder.workshop.as_ref().expect("it was read"),
                    &crate::words::Language::british(),
                    chrono::NaiveDate::default(),
                ),
                theme: Theme::built_in(&tree).expect("the built-in theme reads"),
                folder,
            }
        }

        /// The piece at this place.
        fn piece(&self, place: usize) -> PieceContext<'_> {
            PieceContext::of(&self.folder, &self.pieces[place], Trade::built_in(), &self.house)
        }

        /// The archive's pages across all pieces.
        fn across(&self, kept: &BTreeMap<String, archive::ArchiveEntry>) -> archive::ArchivePages {
            let trade = Trade::built_in();
            let archive = Archive::of_pieces(&self.folder, &self.pieces, trade);
            let asking = Asking { archive: &archive, trade, today: chrono::NaiveDate::default() };
            archive::pages(kept, &asking, &self.house).expect("the archive answers")
        }

        /// All trees, with the pages of those pieces only that are wanted.
        fn rendered(&self, wanted: impl Fn(&str) -> bool) -> Rendered {
            let (mut files, mut entries) = (Vec::new(), BTreeMap::new());
            let published = (0..self.pieces.len()).map(|place| self.piece(place));
            let published = published.filter(PieceContext::published);
            let order = Order::of(published.map(|context| showroom::card(&context)).collect(), &self.house);
            for context in (0..self.pieces.len()).map(|place| self.piece(place)) {
                let slug = context.slug();
                let buyers = BuyersFolder { folder: format!("buyers/{slug}-token"), address: None };
                let papers = buyer_papers(&context, None);
                let shown = order.piece(&showroom::address(&context)).filter(|_| context.published());
                let shown = shown.map(|(card, neighbours)| Shown { card, neighbours });
                let pages = piece_pages(&self.theme, &context, &papers, &buyers, shown, wanted(&slug));
                let (own, entry) = pages.expect("the theme fits");
                files.extend(own);
                if wanted(&slug) {
                    let pages = buyer_pages(&self.theme, &self.house, &papers, &buyers.folder);
                    files.extend(pages.expect("the theme fits"));
                }
                entries.insert(context.folder().to_owned(), entry);
            }
            let cards = entries.values().filter_map(|entry: &PieceEntries| entry.card.clone()).collect();
            let fronts = showroom_pages(&self.theme, &self.house, cards).expect("the theme fits");
            let kept = entries.into_iter().map(|(folder, entries)| (folder, entries.entry)).collect();
            let across =
                archive_pages(&self.theme, &self.house, &self.across(&kept)).expect("the theme fits");
            Rendered::of(files.into_iter().chain(fronts).chain(across))
        }
    }

    /// Rendered files by their paths.
    struct Rendered(BTreeMap<String, Vec<u8>>);

    impl Rendered {
        fn of(files: impl Iterator<Item = File>) -> Rendered {
            let mut rendered = BTreeMap::new();
            for file in files {
                let before = rendered.insert(file.path.clone(), file.bytes);
                assert_eq!(before, None, "{} is rendered twice", file.path);
            }
            Rendered(rendered)
        }

        /// The paths of a tree, from there.
        fn paths(&self, tree: &str) -> Vec<&str> {
            let own = self.0.keys().filter_map(|path| path.strip_prefix(tree)?.strip_prefix('/'));
            own.collect()
        }

        #[track_caller]
        fn text(&self, path: &str) -> &str {
            let bytes = self.0.get(path).unwrap_or_else(|| panic!("{path} is not in {:?}", self.0.keys()));
            std::str::from_utf8(bytes).expect("it is text")
        }

        /// The files of a tree in whose path or text these words are.
        fn with(&self, tree: &str, words: &str) -> Vec<&str> {
            let found = self
                .paths(tree)
                .into_iter()
                .filter(|path| path.contains(words) || self.text(&format!("{tree}/{path}")).contains(words));
            found.collect()
        }

        fn pages(&self) -> impl Iterator<Item = (&str, &str)> {
            self.0.keys().filter(|path| path.ends_with(".html")).map(|path| (path.as_str(), self.text(path)))
        }
    }

    #[test]
    fn the_showroom_has_a_front_and_a_page_of_each_published_piece() {
        let rendered = Workshop::open().rendered(|_| true);
        let pages = ["pieces/t-1/index.html", "pieces/t-2/index.html"];
        let all = [&["404.html", "index.html"][..], &pages, &["robots.txt"]].concat();
        assert_eq!(rendered.paths(SHOWROOM), all);
        for page in pages {
            assert!(rendered.text("showroom/index.html").contains(page), "{page}");
        }
        assert!(rendered.text("showroom/pieces/t-1/index.html").contains("Oak table"));
    }

    #[test]
    fn nothing_of_an_unpublished_piece_nor_of_a_buyer_is_in_the_showroom() {
        let rendered = Workshop::open().rendered(|_| true);
        for words in ["Hidden stool", "t-3-b", "T 3/b", "A buyer", "buyers/", "-token"] {
            assert_eq!(rendered.with(SHOWROOM, words), [""; 0], "{words}");
            assert_ne!(rendered.with(ARCHIVE, words), [""; 0], "the search for {words} finds what is there");
        }
    }

    #[test]
    fn the_archive_has_every_piece_and_leads_to_its_buyers_papers() {
        let rendered = Workshop::open().rendered(|_| true);
        let slugs = ["t-1", "t-2", "t-3-b"];
        let pages = slugs.map(|slug| format!("pieces/{slug}/index.html"));
        let across =
            ["faults", "index", "recipes", "stock", "times", "year"].map(|page| format!("{page}.html"));
        let linked = slugs.map(|slug| format!("pieces/{slug}/{LINKED}"));
        let mut all = [&across[..], &pages, &linked, &[LINKED.to_owned()]].concat();
        // What a post is made from is there for pieces that the public sees.
        for slug in ["t-1", "t-2"] {
            all.extend(["post.html", "post.txt"].map(|file| format!("pieces/{slug}/{file}")));
        }
        all.sort();
        assert_eq!(rendered.paths(ARCHIVE), all);
        for (slug, page) in slugs.iter().zip(&pages) {
            assert!(rendered.text("archive/index.html").contains(page), "{page}");
            let leads = format!("buyers/{slug}-token");
            assert!(rendered.text(&format!("archive/{page}")).contains(&leads), "{page}");
        }
        assert!(rendered.text("archive/index.html").contains("Archive of Bench"));
    }

    #[test]
    fn nothing_that_serves_the_archive_alone_is_led_to_from_elsewhere() {
        let rendered = Workshop::open().rendered(|_| true);
        assert!(rendered.text("archive/index.html").contains("assets/archive/"));
        for (path, page) in rendered.pages().filter(|(path, _)| !path.starts_with(ARCHIVE)) {
            assert!(!page.contains("assets/archive/"), "{path}");
        }
    }

    #[test]
    fn a_buyers_folder_is_complete_in_itself() {
        let rendered = Workshop::open().rendered(|_| true);
        let mut files = rendered.paths("buyers/t-2-token");
        files.retain(|path| *path != CALENDAR);
        assert_eq!(files, ["build-record.html", "care.html", "disclosure.html", "index.html", "label.svg"]);
        for (file, heading) in [
            ("index", "Papers"),
            ("disclosure", "What you are buying"),
            ("care", "How to look after it"),
            ("build-record", "Build record"),
        ] {
            let page = rendered.text(&format!("buyers/t-2-token/{file}.html"));
            assert!(page.contains(&format!("<title>{heading}: Elm chair")), "{file}");
            assert!(!page.contains("Oak table") && !page.contains("Hidden stool"), "{file}");
        }
        assert!(rendered.text("buyers/t-2-token/label.svg").starts_with("<svg"));
    }

    #[test]
    fn a_calendar_lies_beside_the_papers_where_there_are_days_to_keep() {
        let workshop = Workshop::open();
        let rendered = workshop.rendered(|_| true);
        let lies = |slug: &str| rendered.paths(&format!("buyers/{slug}-token")).contains(&CALENDAR);
        let keeps = |place: usize| buyer_papers(&workshop.piece(place), None).calendar.is_some();
        assert_eq!((lies("t-1"), lies("t-2")), (keeps(0), keeps(1)));
        assert!(lies("t-2") && !lies("t-1"), "one of each kind is looked at");
    }

    #[test]
    fn a_piece_that_is_not_asked_for_is_told_on_the_front_pages_alone() {
        let workshop = Workshop::open();
        let (all, one) = (workshop.rendered(|_| true), workshop.rendered(|slug| slug == "t-2"));
        let own = |path: &&String| !path.contains("t-1") && !path.contains("t-3-b");
        assert_eq!(one.0.keys().collect::<Vec<_>>(), all.0.keys().filter(own).collect::<Vec<_>>());
        assert!(one.0.iter().all(|(path, bytes)| all.0[path] == *bytes));
    }

    #[test]
    fn only_the_showroom_asks_to_be_found() {
        for (path, page) in Workshop::open().rendered(|_| true).pages() {
            // Nobody looks for the page that is shown for lost addresses.
            let found = path.starts_with(SHOWROOM) && path != "showroom/404.html";
            assert_eq!(page.contains("noindex"), !found, "{path}");
        }
    }

    #[test]
    fn every_page_finds_the_themes_assets_at_the_root_of_its_tree() {
        let rendered = Workshop::open().rendered(|_| true);
        assert!(rendered.pages().count() > 15);
        for (path, page) in rendered.pages() {
            // The tree of a buyer is one folder further down.
            let root = if path.starts_with("buyers/") { 2 } else { 1 };
            let up = "../".repeat(path.matches('/').count() - root);
            // It may be shown at any depth, so that its paths are whole.
            let up = if path == "showroom/404.html" { "/" } else { &up };
            let style = if path.starts_with(SHOWROOM) { "showroom" } else { "style" };
            assert!(page.contains(&format!("\"{up}assets/{style}.css\"")), "{path}");
        }
    }

    #[test]
    fn papers_to_print_are_named_as_far_as_they_can_be_made() {
        let workshop = Workshop::open();
        let papers = buyer_papers(&workshop.piece(0), None);
        let named: Vec<&str> = papers.printed.iter().map(|paper| paper.href.as_str()).collect();
        let pdfs = [ALL_SHEETS].into_iter().chain(SHEETS.iter().map(|sheet| sheet.name)).chain([LABEL]);
        let all: Vec<String> =
            pdfs.map(|name| format!("{name}.pdf")).chain(["label.svg".to_owned()]).collect();
        match cfg!(feature = "papers") {
            true => assert_eq!(named, all),
            false => assert_eq!(named, ["label.svg"]),
        }
        let rendered = workshop.rendered(|_| true);
        for file in named {
            let link = format!("href=\"{file}\"");
            assert!(rendered.text("buyers/t-1-token/index.html").contains(&link), "{file}");
        }
    }

    #[test]
    fn the_label_leads_to_the_papers_where_they_have_an_address() {
        let workshop = Workshop::open();
        let address = "https://papers.example/buyers/t-1-token/";
        let papers = |address| buyer_papers(&workshop.piece(0), address);
        assert_eq!(papers(Some(address)).label.address, address);
        assert_eq!(papers(None).label.address, "");
        let label = |address| {
            let pages = buyer_pages(&workshop.theme, &workshop.house, &papers(address), "t-1");
            Rendered::of(pages.expect("the theme fits").into_iter()).text("t-1/label.svg").to_owned()
        };
        assert_ne!(label(Some(address)), label(None));
    }
}
