//! What a workshop's folder says: typed values, each with its place.
//!
//! Reading never stops at the first mistake, never looks at the clock, and never
//! judges: whether the record makes sense is for `inspect`.

mod after;
mod answer;
mod buyer;
mod canon;
pub mod day_book;
mod finish_name;
mod id;
mod part;
mod photo;
mod piece;
mod planned;
mod receipt;
mod seal;
mod set;
mod story;
mod surface;
mod treatment;
mod workshop;

pub use after::{After, Aftermath};
pub use answer::{Answer, TestResult};
pub use buyer::OfBuyer;
pub use canon::{CanonicalValue, Form, SchemaNode};
pub use day_book::{Calendar, DAY_BOOK, DAY_BOOK_TOO_LONG, DAY_NOT_UNDERSTOOD, Jotting, LINE_OF_NO_PIECE};
pub use finish_name::{FinishName, Removal};
pub use id::{FindingId, PartId, PatchId, StockId, TinId, WorkId};
pub use part::{
    Construction, Ends, Fixing, Grain, Held, Lipping, Opening, Opens, Part, PartSize, Patch, PatchSize, Rest,
    Sawn, Standing,
};
pub use photo::{Mark, Pair, PhotoEntry, PhotoStage, Scale, Shape, Swatch, looks_like_photograph};
pub use piece::{FoldedSize, Found, Handover, Level, Passage, Record, Reserved, Shelf, Size, Use, WebLink};
pub use planned::{Planned, rows_of};
pub use receipt::{Payment, Receipt};
pub use seal::{Amended, SEAL_BROKEN, Seal, schema_of_seals, today_for_buyer};
pub use set::{
    OF_ONE_PIECE_ALONE, OfSet, SET_INCOMPLETE, SET_OVERFULL, UNKNOWN_PIECE_OF_SET, UNKNOWN_SET, names_a_set,
    open_with_sets, settle, typed_schema,
};
pub use story::{Story, may_link};
pub use surface::{Act, Ingredient, Step, Surface};
pub use treatment::{
    CallBack, Cause, Choice, Confidence, Cost, Decision, Finding, FindingSeverity, Lesson, Open, Outcome,
    Test, Undoable, Undone, Why, Work,
};
pub use workshop::{Climate, Drying, HowToBuy, Paper, Region, Stock, StockItem, Tin, Units, Week, Workshop};

use std::cell::LazyCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use toml::de::DeTable;

use crate::diag::{Code, Diagnostic, Place, Rank};
pub use crate::fields::HEAD;
use crate::fields::{Fields, Laid, Reader, Reading, code, read_text_laid, with_document};
use crate::source::Tree;
use seal::NamedElsewhere;
use set::{Set, Sets, Shares};

/// A folder in `pieces/` that is no piece yet.
pub static NO_RECORD: Code = Code {
    name: "no-record",
    rank: Rank::Mistake,
    why: "A folder in `pieces/` without a `record.toml` is no piece yet, and nothing is written for it.",
    fix: "Make the record with `witnessmark intake`, or move the folder out of `pieces/`.",
};

/// A sealed record that is written otherwise than the format has it.
pub static LOOSE_AFTER_SEAL: Code = Code {
    name: "loose-after-seal",
    rank: Rank::Mistake,
    why: "A sealed record is compared with its seal letter by letter, so nothing in it is guessed.",
    fix: "Write the lines of the record as the doubts about them say.",
};

/// The word that says a test was not made.
pub const NOT_TESTED: &str = "not-tested";

/// The word that says something is not known.
pub const UNKNOWN: &str = "unknown";

/// Everything that a workshop's folder says.
#[derive(Debug)]
pub struct Folder {
    /// `workshop.toml`; `None` where it could not be read.
    pub workshop: Option<Workshop>,
    /// Whether its `[climate]` has a mistake, so that the buyers' air is said but not known.
    pub climate_unread: bool,
    /// `stock.toml`; empty where there is none.
    pub stock: Stock,
    /// The pieces, by folder name.
    pub pieces: Vec<Arc<Piece>>,
    /// The records of sets whose pieces are sold apart, by folder name: none of them is a piece.
    pub sets: Vec<Arc<Piece>>,
}

/// One piece's folder.
#[derive(Debug, Clone)]
pub struct Piece {
    /// The folder's name below `pieces/`.
    pub folder: String,
    /// The set that it is of, where its record names one.
    pub set: Option<OfSet>,
    /// `record.toml`, without what it only plans; `None` where it could not be read at all.
    pub record: Option<Arc<Record>>,
    /// The same with what it plans, as though that were done; `None` where it plans nothing.
    pub intended: Option<Arc<Record>>,
    /// Whether some table of the record had to be left out because it could not be read.
    pub partial: bool,
    /// What the record lacks because of mistakes: how many of its tables have one, by the table's name, such as
    /// `[[part]]`; the file's own keys count as one under [`HEAD`].
    pub lacks: BTreeMap<&'static str, usize>,
    /// `story.md`, empty where there is none.
    pub story: Story,
    /// What was jotted of it, in its own day book and then in the workshop's.
    pub jottings: Vec<Jotting>,
    /// Names of the files in `photos/`, sorted.
    pub photos: Vec<String>,
    /// Its seals, the first one first.
    pub seals: Vec<Seal>,
    /// What the buyer may read of it today, in canonical form; `None` where it was never sealed or cannot be read.
    pub for_buyer: Option<CanonicalValue>,
}

impl Piece {
    /// The path of the piece's record from the workshop's root.
    pub fn record_path(&self) -> String {
        format!("pieces/{}/record.toml", self.folder)
    }

    /// The photographs in `photos/` that are not for the archive alone, sorted.
    pub fn public_photographs(&self) -> Vec<String> {
        let entries = self.record.iter().flat_map(|record| &record.photos);
        let private: Vec<&str> = entries
            .filter(|entry| entry.private.as_ref().is_some_and(|private| private.value))
            .map(|entry| &**entry.file)
            .collect();
        let public = |file: &&String| {
            looks_like_photograph(file) && !file.contains('/') && !private.contains(&file.as_str())
        };
        self.photos.iter().filter(public).cloned().collect()
    }

    /// Whether all mistakes of reading its record are in rows of lists, each of which costs its own row alone.
    ///
    /// A mistake elsewhere may hide what nobody is to see: a photograph that is private, a piece that is not published.
    pub fn lacks_rows_alone(&self) -> bool {
        self.lacks.keys().all(|table| table.starts_with("[[") && *table != "[[photo]]")
    }

    /// The path of one of its photographs from the workshop's root.
    pub fn photo_path(&self, file: &str) -> String {
        format!("pieces/{}/photos/{file}", self.home_of(file))
    }
}

/// Reads everything, and says what could not be read.
pub fn read(tree: &Tree) -> (Folder, Vec<Diagnostic>) {
    let mut problems: Vec<Diagnostic> =
        tree.faults().iter().map(|(path, why)| unreadable(path, &format!("this {why}"))).collect();
    let workshop = read_file(tree, "workshop.toml", None, None, Workshop::read_table, &mut problems);
    let currency = workshop.table.as_ref().and_then(|workshop| workshop.currency.as_ref());
    let currency = currency.map(|currency| currency.0.as_str());
    let stock = read_file(tree, "stock.toml", currency, None, Stock::read_table, &mut problems);
    // A tin or stock that could not be read must not make every piece that uses it look wrong.
    let whole = workshop.whole && stock.whole;
    let elsewhere = LazyCell::new(|| NamedElsewhere::of(tree));
    let folders = folders(tree);
    let sets = Sets::of(tree, &folders, &mut problems);
    let shop = (workshop.table.as_ref(), currency);
    let (mut pieces, mut read_sets) = (Vec::new(), Vec::new());
    for folder in folders {
        match sets.iter().find(|set| set.folder == folder) {
            Some(_) => read_sets.push(read_piece(tree, folder, shop, &Kin::Set, &mut problems)),
            None if sets.has(&folder) => {}
            None => pieces.push(read_piece(tree, folder, shop, &Kin::None, &mut problems)),
        }
    }
    for (set, read) in sets.iter().zip(&read_sets) {
        pieces.extend(read_pieces_of(tree, set, read, shop, &mut problems));
    }
    pieces.sort_by(|one, other| one.folder.cmp(&other.folder));
    day_book::share_out(tree, &mut pieces, &mut read_sets, workshop.table.as_ref(), &mut problems);
    for (set, read) in sets.iter().zip(&mut read_sets) {
        set.share_lines(&mut read.jottings, &mut pieces);
    }
    let finish = |mut piece: Piece| {
        piece.partial |= !whole;
        if !piece.seals.is_empty() {
            piece.for_buyer = seal::for_buyer(tree, &piece, &elsewhere);
        }
        Arc::new(piece)
    };
    let stock = stock.table.unwrap_or(Stock { items: Vec::new() });
    let climate_unread = workshop.lacks.contains_key("[climate]");
    let pieces = pieces.into_iter().map(&finish).collect();
    let sets = read_sets.into_iter().map(&finish).collect();
    (Folder { workshop: workshop.table, climate_unread, stock, pieces, sets }, problems)
}

/// The JSON Schema of `record.toml`.
pub fn record_schema() -> schemars::Schema {
    schemars::schema_for!(Record)
}

/// The JSON Schema of `workshop.toml`.
pub fn workshop_schema() -> schemars::Schema {
    schemars::schema_for!(Workshop)
}

/// The JSON Schema of `stock.toml`.
pub fn stock_schema() -> schemars::Schema {
    schemars::schema_for!(Stock)
}

/// The names of the folders in `pieces/`, sorted.
fn folders(tree: &Tree) -> Vec<String> {
    let mut names: Vec<String> = tree
        .below("pieces")
        .filter_map(|path| path.strip_prefix("pieces/")?.split_once('/'))
        .map(|(folder, _)| folder.to_owned())
        .collect();
    names.dedup();
    names.sort();
    names.dedup();
    names
}

/// The workshop and its currency, as far as they could be read.
type Shop<'a> = (Option<&'a Workshop>, Option<&'a str>);

/// What a record is read with.
enum Kin<'a> {
    /// Itself alone.
    None,
    /// It is the record of a set.
    Set,
    /// It is of the piece at this place of a set, whose record is this and says that.
    Piece(&'a Arc<Set>, usize, &'a Piece, &'a DeTable<'a>),
}

/// Reads the pieces of a set. Where the set's record cannot be read at all, theirs cannot either.
fn read_pieces_of(
    tree: &Tree,
    set: &Arc<Set>,
    read: &Piece,
    shop: Shop<'_>,
    problems: &mut Vec<Diagnostic>,
) -> Vec<Piece> {
    let mut pieces = |shared: &DeTable<'_>| -> Vec<Piece> {
        let piece = |(place, member): (usize, &set::Member)| {
            read_piece(tree, member.folder.clone(), shop, &Kin::Piece(set, place, read, shared), problems)
        };
        set.pieces.iter().enumerate().map(piece).collect()
    };
    let text = tree.text(&read.record_path()).and_then(Result::ok).unwrap_or_default();
    if let Some(pieces) = with_document(text, &mut pieces).filter(|_| read.record.is_some()) {
        return pieces;
    }
    let alone = |member: &set::Member| {
        let piece = read_piece(tree, member.folder.clone(), shop, &Kin::None, &mut Vec::new());
        Piece { record: None, intended: None, partial: true, ..piece }
    };
    set.pieces.iter().map(alone).collect()
}

fn read_piece(
    tree: &Tree,
    folder: String,
    (workshop, currency): Shop<'_>,
    kin: &Kin<'_>,
    problems: &mut Vec<Diagnostic>,
) -> Piece {
    let path = format!("pieces/{folder}/record.toml");
    let from = problems.len();
    let photos = photos(tree, &folder);
    let (shares, own, nothing) = (Shares::default(), photos.iter().cloned().collect(), DeTable::new());
    let mut reading = match kin {
        Kin::None => read_file(tree, &path, currency, None, Record::read_table, problems),
        Kin::Set => {
            let laid = Laid { below: &nothing, lay: &|document, _| Set::by_itself(document) };
            let reading = read_file(tree, &path, currency, Some(&laid), Record::read_table, problems);
            problems[from..].iter_mut().for_each(set::tell_of_piece);
            reading
        }
        Kin::Piece(set, place, _, shared) => {
            let laid = Laid {
                below: shared,
                lay: &|document, shared| set.together(*place, document, shared, &own, &shares),
            };
            read_file(tree, &path, currency, Some(&laid), Record::read_table, problems)
        }
    };
    if let (Kin::Piece(set, ..), Some(record)) = (kin, &mut reading.table) {
        set.divide(record, &shares);
    }
    let loose = problems[from..].iter().filter(|problem| code::is_loose(problem.code)).count();
    if !tree.has(&path) {
        let place = Place::file(&format!("pieces/{folder}"));
        problems.push(
            Diagnostic::new(&NO_RECORD, place, "this folder has no record.toml")
                .help(format!("`witnessmark intake` makes one; or move `{folder}` out of pieces/")),
        );
    }
    let story = read_story(tree, &format!("pieces/{folder}/story.md"), problems);
    let calendar = Calendar::of(workshop, reading.table.as_ref());
    let jottings = day_book::of_piece(tree, &format!("pieces/{folder}/{DAY_BOOK}"), calendar, problems);
    let seals = seal::read(tree, &folder, problems);
    if !seals.is_empty() && loose > 0 {
        let message = format!("this record is sealed, and {loose} of its lines can only be read by guessing");
        problems.push(
            Diagnostic::new(&LOOSE_AFTER_SEAL, Place::file(&path), message)
                .help("write those lines as the doubts about them say"),
        );
    }
    let (record, intended) = match reading.table {
        Some(whole) => match whole.done() {
            Some(done) => (Some(done), Some(whole)),
            None => (Some(whole), None),
        },
        None => (None, None),
    };
    let mut piece = Piece {
        folder,
        set: None,
        record: record.map(Arc::new),
        intended: intended.map(Arc::new),
        partial: !reading.whole,
        lacks: reading.lacks,
        story,
        jottings,
        photos,
        seals,
        for_buyer: None,
    };
    if let Kin::Piece(set, place, read, _) = kin {
        set.lend(*place, read, &mut piece, &shares);
    }
    piece
}

/// The names of the files in a folder's `photos/`, sorted.
fn photos(tree: &Tree, folder: &str) -> Vec<String> {
    let within = format!("pieces/{folder}/photos");
    let files = tree.below(&within).filter_map(|path| path.strip_prefix(&within)?.strip_prefix('/'));
    files.filter(|file| !file.starts_with('.') && !file.contains("/.")).map(str::to_owned).collect()
}

/// Reads a story; one that cannot be printed is told and says nothing.
fn read_story(tree: &Tree, path: &str, problems: &mut Vec<Diagnostic>) -> Story {
    let text = match tree.text(path) {
        None => return Story::default(),
        Some(Ok(text)) => text,
        Some(Err(fault)) => {
            problems.push(unreadable(path, &format!("the story {fault}")).help(fault.remedy()));
            return Story::default();
        }
    };
    let story = Story::read(text.to_owned());
    let Some(fault) = story.fault() else { return story };
    problems.push(Diagnostic::new(fault.code, Place::at(path, &fault.span), fault.message).help(fault.help));
    Story::default()
}

fn unreadable(path: &str, why: &str) -> Diagnostic {
    Diagnostic::new(&code::UNREADABLE_TEXT, Place::file(path), why)
}

/// Reads one TOML file into a table's type; a file that is not there says nothing and lacks nothing.
fn read_file<T>(
    tree: &Tree,
    path: &str,
    currency: Option<&str>,
    laid: Option<&Laid<'_>>,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
    problems: &mut Vec<Diagnostic>,
) -> Reading<T> {
    let mut reading = match tree.text(path) {
        None => return Reading::nothing(None),
        Some(Ok(text)) => read_text_laid(path, text, currency, laid, read),
        Some(Err(fault)) => {
            Reading::nothing(Some(unreadable(path, &format!("this file {fault}")).help(fault.remedy())))
        }
    };
    problems.append(&mut reading.problems);
    reading
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;

    fn problems(record: &str) -> Vec<String> {
        let tree = Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", record)]);
        let (_, problems) = read(&tree);
        problems
            .iter()
            .map(|problem| {
                let (start, _) = problem.place.span.unwrap_or_default();
                let (line, column) = crate::diag::line_and_column(record, start);
                format!("{line}:{column} {}: {} [{}]", problem.code.name, problem.message, problem.help)
            })
            .collect()
    }

    const HEAD: &str = "title = \"Chair\"\nnumber = \"A-1\"\nkind = \"seating\"\n";

    #[test]
    fn several_mistakes_are_told_in_one_go() {
        let record = format!(
            "{HEAD}hours = \"long\"\nsumary = \"x\"\n[[part]]\nid = \"Leaf Left\"\nname = \"\"\nstanding = \"orignal\"\n"
        );
        assert_eq!(
            problems(&record),
            [
                "5:1 unknown-key: the file has no key `sumary` [write `summary`]",
                "4:9 wrong-kind: this is text, and hours of work, from 0 to 10 000 is wanted [write it as 1.5, without quotes]",
                "7:6 loose-value: `Leaf Left` is read as `leaf-left`: an id has small letters a to z, digits and hyphens alone \
                 [write \"leaf-left\"]",
                "8:8 empty-text: this says nothing [write something, or leave the key out]",
                "9:12 unknown-word: `orignal` is none of the words that `standing` takes [write \"original\" (as first made; \
                 say how that is known), or else one of `old-repair`, `later`, `salvaged`, `new`, `removed`, `missing`, \
                 `unknown`]",
            ]
        );
    }

    #[test]
    fn a_mistyped_required_key_is_told_once() {
        assert_eq!(
            problems("titel = \"Chair\"\nnumber = \"A-1\"\nkind = \"seating\"\n"),
            ["1:1 unknown-key: the file has no key `titel` [write `title`]"]
        );
    }

    #[test]
    fn a_single_table_for_a_list_is_read_and_shown_its_brackets() {
        let brackets = "loose-value: this is read as a list of one [write `[[open]]`, with two brackets]";
        assert_eq!(problems(&format!("{HEAD}[open]\nwhat = \"a\"\n")), [format!("4:1 {brackets}")]);
        // What else is wrong is told with it.
        let told = problems(&format!("{HEAD}[open]\n"));
        let missing = "4:1 missing-key: [[open]] has no `what` [add `what`\nwhat = \"…\"]";
        assert_eq!(told, [missing.to_owned(), format!("4:1 {brackets}")]);
    }

    #[test]
    fn a_list_for_a_single_table_is_read_where_it_says_nothing_twice() {
        let once = "[handover]\nto = \"A\"\n";
        let read = |record: &str| {
            let record = format!("{HEAD}{record}");
            let tree = Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", &record)]);
            let (folder, _) = read(&tree);
            let record = folder.pieces[0].record.clone().unwrap();
            let handover = record.handover.as_ref();
            handover.map(|handover| (handover.to.for_buyer().is_some(), handover.on.is_some()))
        };
        let told = problems(&format!("{HEAD}{}", once.replace("[handover]", "[[handover]]")));
        assert!(told[0].starts_with("4:1 loose-value: `handover` is no list"), "{told:?}");
        for two in ["[handover]\non = 2026-03-04\n", "[[handover]]\non = 2026-03-04\n"] {
            let record = format!("{once}{two}");
            assert_eq!(read(&record), Some((true, true)), "{record}");
            let told = problems(&format!("{HEAD}{record}"));
            assert_eq!(told.len(), 1, "{told:?}");
            assert!(
                told[0].starts_with("4:1 loose-value: `handover` stands 2 times, and all of it"),
                "{told:?}"
            );
        }
        let twice = format!("{once}{once}");
        assert_eq!(read(&twice), None);
        assert_eq!(
            problems(&format!("{HEAD}{twice}")),
            ["4:1 wrong-kind: this is a list of 2, and one value is wanted \
              [put all of its keys below one `[handover]`, each of them once]"]
        );
    }

    #[test]
    fn what_stands_for_a_table_says_which_keys_to_write() {
        let told = |record: &str| problems(&format!("{HEAD}{record}\n"));
        assert_eq!(
            told("finding = [\"split in the leg\"]"),
            ["4:12 wrong-kind: this is text, and a table is wanted \
              [write its keys `id` and `seen`, and what is known of `part`, `extent`, `severity`, `cause`, \
             `from-daybook`, such as\n\
              [[finding]]\nid = \"f-split\"\nseen = \"split in the leg\"]"]
        );
        assert_eq!(
            told("found = 3"),
            ["4:9 wrong-kind: this is a whole number, and a table is wanted \
              [write what is known of `on`, `from`, `paid`, `note`, such as\n[found]\nfrom = \"…\"]"]
        );
        // A table that needs one key alone is read from its value.
        assert_eq!(
            told("open = \"glue it\""),
            ["4:8 loose-value: this is read as its `what` [write\n[[open]]\nwhat = \"glue it\"]"]
        );
        assert_eq!(
            told("[[surface]]\nsteps = [\"waxed\"]"),
            [
                "5:10 wrong-kind: this is text, and a table is wanted [write what is known of `on`, `clean`, `test`, \
              `result`, `remove`, `by`, `abrade`, `apply`, `mix`, `coats`, `every-hours`, `abrade-between`, `only`, \
              `why`, `note`, `planned`, `option`, `from-daybook`, such as\n{ on = 2026-03-14, apply = \"shellac\", coats = 2 }]"
            ]
        );
    }

    #[test]
    fn sizes_are_read_in_the_order_of_their_keys() {
        let size = |written: &str| problems(&format!("{HEAD}size = {written}\n"));
        let read = "4:8 loose-value: this is read as width 600, depth 450, height 680 mm \
                    [write `size = { width = 600, depth = 450, height = 680 }`]";
        for written in ["\"60 x 45 x 68 cm\"", "60 x 45 x 68 cm", "[600, 450, 680]", "\"W 600 D 450 H 680\""]
        {
            assert_eq!(size(written), [read], "{written}");
        }
        assert_eq!(
            size("\"60 x 45 cm\""),
            ["4:8 wrong-kind: this is text, and says nothing of its height \
              [write `size = { width = 600, depth = 450, height = … }`]"]
        );
        assert_eq!(
            size("\"60 x 45 x 68\""),
            ["4:8 wrong-kind: this says no unit [write it in millimetres; where these are centimetres, \
              write `size = { width = 600, depth = 450, height = 680 }`]"]
        );
    }

    #[test]
    fn a_key_says_where_it_belongs() {
        let told = |record: &str| problems(&format!("{HEAD}{record}\n"));
        assert_eq!(
            told("height = 900"),
            ["4:1 unknown-key: the file has no key `height` \
              [write `height` within `size`, such as\nsize = { width = 900, depth = 900, height = 900 }]"]
        );
        assert_eq!(
            told("[[open]]\nwhat = \"a\"\nasking = 5"),
            ["6:1 unknown-key: [[open]] has no key `asking` \
              [`asking` is of the whole file: write it at its top, above the first section]"]
        );
        // Another word for a key is read where it can mean nothing else, and otherwise looked through for its mistakes.
        assert_eq!(told("dimensions = [600, 450, 680]").len(), 2);
        assert_eq!(
            told("price = \"much\""),
            [
                "4:1 unknown-key: the file has no key `price` [write `asking`]",
                "4:9 wrong-kind: this is text, and an amount of money, from 0 to 10 000 000 is wanted \
                 [write it as 35.00, without quotes]"
            ]
        );
    }

    /// The words that a closed list takes besides its own are of one meaning each.
    #[test]
    fn what_people_say_for_a_word_is_said_for_no_other() {
        use crate::unit::fold::folded;
        for (list, words) in [
            ("build", Construction::WORDS),
            ("confidence", Confidence::WORDS),
            ("edges", part::LippedEdges::WORDS),
            ("ends", Ends::WORDS),
            ("grain", Grain::WORDS),
            ("held", Held::WORDS),
            ("level", Level::WORDS),
            ("opening", Opening::WORDS),
            ("outcome", Outcome::WORDS),
            ("paper", Paper::WORDS),
            ("region", Region::WORDS),
            ("rest", Rest::WORDS),
            ("sawn", Sawn::WORDS),
            ("severity", FindingSeverity::WORDS),
            ("stage", PhotoStage::WORDS),
            ("standing", Standing::WORDS),
            ("undoable", Undoable::WORDS),
            ("units", Units::WORDS),
            ("why", Why::WORDS),
        ] {
            let mut forms = BTreeMap::new();
            for word in words {
                assert!(!word.means.is_empty() || word.word == UNKNOWN, "{list}: {}", word.word);
                for said in std::iter::once(&word.word).chain(word.said) {
                    let form = folded(said);
                    assert!(!form.is_empty(), "{list}: {said}");
                    let other = forms.insert(form, word.word);
                    assert_eq!(other, None, "{list}: {said}");
                }
            }
        }
    }

    #[test]
    fn money_is_decimal_and_never_negative() {
        assert_eq!(problems(&format!("{HEAD}asking = 0.10\n")), Vec::<String>::new());
        assert_eq!(
            problems(&format!("{HEAD}asking = -1\n")),
            [
                "4:10 out-of-range: this cannot be an amount of money, from 0 to 10 000 000 [write it as 35.00]"
            ]
        );
    }

    #[test]
    fn a_part_left_out_leaves_the_record_partial() {
        let record = format!("{HEAD}[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"orignal\"\n");
        let (folder, _) =
            read(&Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", &record)]));
        assert!(folder.pieces[0].partial);
        assert!(folder.pieces[0].record.is_some());
    }

    #[test]
    fn broken_toml_costs_what_it_touches_and_no_other_piece() {
        let tree = Tree::of([
            ("workshop.toml", "name = \"W\""),
            ("pieces/a/record.toml", "title = \"Ch\nnumber = "),
            ("pieces/b/record.toml", HEAD),
        ]);
        let (folder, problems) = read(&tree);
        assert!(folder.pieces[0].record.is_none());
        assert!(folder.pieces[1].record.is_some());
        assert!(problems.iter().all(|problem| problem.place.path == "pieces/a/record.toml"));
        let told: Vec<&str> = problems.iter().map(|problem| problem.code.name).collect();
        assert_eq!(told, ["broken-toml", "loose-toml", "missing-key"]);
    }

    /// What the record lacks.
    fn lacks(record: &str) -> Vec<(&'static str, usize)> {
        let record = format!("{HEAD}{record}");
        let tree = Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", &record)]);
        read(&tree).0.pieces[0].lacks.iter().map(|(name, count)| (*name, *count)).collect()
    }

    #[test]
    fn a_line_left_out_is_lacking_where_it_stood() {
        let broken = "= = =";
        assert_eq!(lacks(&format!("level {broken}\n")), [(super::HEAD, 1)]);
        let open = "[[open]]\nwhat = \"a\"\n";
        assert_eq!(lacks(&format!("{open}before {broken}\n{open}")), [("[[open]]", 1)]);
        let photo = "[[photo]]\nfile = \"a.jpg\"\n";
        assert_eq!(lacks(&format!("{open}{photo}private {broken}\n")), [("[[photo]]", 1)]);
        // Where a header is or may be lost, nobody knows what stood below it.
        for header in ["[photo.marks = 3", "photo:", "photo", "* photo *"] {
            let lacking = lacks(&format!("{open}{header}\nfile = \"a.jpg\"\nprivate = true\n"));
            assert!(lacking.contains(&(super::HEAD, 1)), "{header}: {lacking:?}");
        }
        assert_eq!(lacks(&format!("photo = 3\n{photo}private = true\n")), [(super::HEAD, 1)]);
        let astray = format!("{open}private = true\n");
        assert_eq!(lacks(&astray), [("[[open]]", 1), (super::HEAD, 1)]);
    }

    #[test]
    fn a_sealed_record_is_not_guessed_at() {
        let record = format!("{HEAD}publish = yes\n");
        let tree = |seal: &str| {
            let mut files =
                vec![("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", record.as_str())];
            if !seal.is_empty() {
                files.push(("pieces/a/sealed/001.toml", seal));
            }
            Tree::of(files)
        };
        let codes = |tree: &Tree| -> Vec<&str> { read(tree).1.iter().map(|told| told.code.name).collect() };
        assert_eq!(codes(&tree("")), ["loose-value"]);
        let plain = Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", HEAD)]);
        let today = today_for_buyer(&plain, &read(&plain).0.pieces[0]).unwrap();
        let day = NaiveDate::from_ymd_opt(2026, 3, 4).unwrap();
        let seal = Seal::of(today, &BTreeMap::new(), &[], day, day).file();
        assert_eq!(codes(&tree(&seal)), ["loose-value", "loose-after-seal"]);
    }

    #[test]
    fn deep_nesting_is_a_diagnostic() {
        let deep = format!("a = {}{}", "[".repeat(5000), "]".repeat(5000));
        let told = problems(&deep);
        assert!(told[0].contains("broken-toml"), "{told:?}");
    }
}
