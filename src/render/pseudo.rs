//! A language made for the test: every message and every text of the tables is longer by a third, accented and in
//! brackets, so that whatever a reader sees and no message says can be told apart.

use std::collections::BTreeMap;

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement, Resource};
use fluent_syntax::{parser, serializer};

use super::{
    BuyersFolder, Shown, Theme, ThemeChoice, archive_pages, buyer_pages, buyer_papers, piece_pages,
    showroom_pages,
};
use crate::archive::{Archive, Asking};
use crate::derive::Workpiece;
use crate::record;
use crate::source::Tree;
use crate::trade::Trade;
use crate::view::showroom::{self, Order};
use crate::view::{HouseStyle, PieceContext, archive};
use crate::words::Languages;

/// Messages that programs read.
const DATA: [&str; 6] =
    ["default-paper", "default-units", "language-also", "language-name", "names-kept", "names-within"];

/// A piece that has something of everything; whatever its record says in words of its own is in Greek letters.
const RECORD: &str = r#"
title = "Τραπέζι"
number = "1"
kind = "έπιπλο/τραπέζι"
made = "1920~/1935~"
basis = "μεντεσέδες"
maker = "unknown"
told-by = "σημάδι"
level = "repair"
summary = "Περίληψη."
stance = "Στάση."
asking = 240
rest = "not-looked-at"
weighs = 24
size = { width = 900, depth = 400, height = 1700 }
part = [
  { id = "top", name = "Καπάκι", standing = "original", build = "solid", timber = "white-oak", how-known = "ίχνη", held = "fixed-across", grain = "length", sawn = "flat-sawn", size = { length = 900, width = 400, thick = 20 } },
  { id = "leaf", name = "Φύλλο", standing = "old-repair", build = "veneered", veneer = "black-walnut", ground = "κόντρα", since = "1950", instead-of = "παλιό", undo = "ξεβίδωμα", note = "σημείωση" },
  { id = "leg", name = "Πόδι", count = 4, standing = "later", build = "turned", timber = "scots-pine", size = { length = 700, diameter = 50 } },
  { id = "shelf", name = "Ράφι", standing = "new", build = "panel", ground = "νοβοπάν", size = { length = 800, width = 300, thick = 18 } },
  { id = "rail", name = "Τραβέρσα", standing = "missing" },
  { id = "knob", name = "Πόμολο", standing = "removed" },
  { id = "back", name = "Πλάτη", standing = "unknown" },
  { id = "drawer", name = "Συρτάρι", standing = "salvaged", build = "solid", timber = "european-beech" },
]
patch = [{ id = "fill", part = "top", what = "στόκος", standing = "new" }]
finding = [
  { id = "split", part = "top", seen = "ρωγμή", severity = "major", extent = "μακριά", cause = { guess = "ξηρασία", confidence = "fair" } },
  { id = "ring", part = "leaf", seen = "δαχτυλίδι", severity = "minor" },
  { id = "worm", part = "leg", seen = "flight-holes" },
]
decision = [{ ask = "Τι;", options = [{ plan = "κάτι", for = "υπέρ", against = "κατά" }], chose = "κάτι", because = "έτσι" }]
work = [
  { id = "glue", on = 2026-03-02, did = "κόλλημα", part = "top", why = "λόγος", by = "κόλλα", mends = "split", undoable = "partly", undo = "ατμός", turned-out = "failed" },
  { id = "again", on = 2026-03-03, did = "ξανά", part = "top", redoes = "glue", mends = "split", turned-out = "partly" },
  { did = "άλλο", undoable = "no" },
]
fixing = [
  { kind = "screw-crosshead", count = 6, standing = "new", part = "top", instead-of = "καρφιά", why = "λόγος" },
  { kind = "hide-glue", standing = "original", part = "leaf" },
  { kind = "cut-nail", count = 4, standing = "later", part = "leg" },
]
test = [
  { of = "μόλυβδος", part = "top", on = 2026-03-01, by = "κιτ", result = "όχι" },
  { of = "άλλο", result = "not-tested" },
]
undone = [{ what = "δαχτυλίδι", why = "not-worth", effect = "φαίνεται", leaves = "ring" }]
open = [{ what = "ερώτηση" }]
lesson = [{ text = "μάθημα" }]
swatch = [{ photo = "δεν.jpg", part = "top", target = [0.1, 0.1, 0.2, 0.2], result = [0.5, 0.1, 0.2, 0.2] }]

[[surface]]
parts = ["top", "leaf"]
found = ["old-finish", "paste-wax"]
steps = [
  { on = 2026-03-05, clean = "νερό", by = "πανί", why = "λόγος" },
  { on = 2026-03-05, test = "μόλυβδος", result = "όχι" },
  { on = 2026-03-06, remove = "paste-wax", only = ["leaf"] },
  { on = 2026-03-06, abrade = ["P120", "P180"] },
  { on = 2026-03-07, apply = "oil-pigment-stain", mix = [{ of = "καφέ", parts = 2 }, { of = "μαύρο", parts = 1 }] },
  { on = 2026-03-08, apply = "oil-polyurethane", coats = 3, every-hours = 24, abrade-between = "P240" },
]

[[surface]]
parts = ["leg"]
found = "alkyd-eggshell"
steps = [{ remove = "all", by = "ξύστρα" }, { apply = "shellac" }]

[use]
shelves = [{ part = "shelf" }]
cautions = ["Προσοχή."]
assembly = ["Βήμα."]
moving = ["Βήμα."]

[handover]
on = 2026-04-20
to = "Κάποιος"
given = ["κλειδί"]
"#;

/// The letters that stand for ours, none of them in ASCII.
const PLAIN: &str = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
const ACCENTED: &str = "áßçðéſğħïĵķłµñöþŋřšťüųŵźÿžÁÞÇĐÉĦĞĤÏĴĶŁŇÑÖÞŊŘŠŤÜŲŴŹŸŽ";

fn letters(text: &str) -> String {
    let other = |letter: char| {
        PLAIN.chars().position(|plain| plain == letter).and_then(|at| ACCENTED.chars().nth(at))
    };
    text.chars().map(|letter| other(letter).unwrap_or(letter)).collect()
}

/// A whole text, longer by a third and in brackets.
fn text(text: &str) -> String {
    format!("«{}{}»", letters(text), "ö".repeat(text.chars().count().div_ceil(3)))
}

fn pattern(of: &mut Pattern<String>, outer: bool) {
    let mut length = 0;
    for element in &mut of.elements {
        match element {
            PatternElement::TextElement { value } => {
                length += value.trim().chars().count();
                *value = letters(value);
            }
            PatternElement::Placeable { expression: Expression::Select { variants, .. } } => {
                variants.iter_mut().for_each(|variant| pattern(&mut variant.value, false));
            }
            PatternElement::Placeable {
                expression: Expression::Inline(InlineExpression::StringLiteral { value }),
            } if !value.contains('{') => {
                *value = letters(value);
            }
            PatternElement::Placeable { .. } => {}
        }
    }
    if outer && length > 1 {
        let longer = format!("{}»", "ö".repeat(length.div_ceil(3)));
        of.elements.insert(0, PatternElement::TextElement { value: "«".to_owned() });
        of.elements.push(PatternElement::TextElement { value: longer });
    }
}

/// The language as a workshop brings it.
fn words() -> String {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/words/en-GB");
    let mut body = Vec::new();
    for file in std::fs::read_dir(folder).unwrap() {
        let read = std::fs::read_to_string(file.unwrap().path()).unwrap();
        for entry in parser::parse(read).unwrap().body {
            let Entry::Message(mut message) = entry else { continue };
            message.comment = None;
            if !DATA.contains(&message.id.name.as_str()) {
                message.value.iter_mut().for_each(|value| pattern(value, true));
                message.attributes.iter_mut().for_each(|attribute| pattern(&mut attribute.value, true));
            }
            body.push(Entry::Message(message));
        }
    }
    let mut rows: BTreeMap<String, (String, String)> = BTreeMap::new();
    for (name, said) in Trade::printed_texts() {
        match name.split_once('.') {
            None => rows.entry(name).or_default().0 = format!(" {}", text(&said)),
            Some((row, column)) => {
                let parts = &mut rows.entry(row.to_owned()).or_default().1;
                parts.push_str(&format!("\n    .{column} = {}", text(&said)));
            }
        }
    }
    let rows = rows.into_iter().map(|(name, (value, parts))| format!("{name} ={value}{parts}\n"));
    format!("{}\n{}", serializer::serialize(&Resource { body }), rows.collect::<String>())
}

/// What a page shows: its text, and what its pictures and buttons are called.
fn shown(page: &str) -> String {
    let mut shown = String::new();
    let mut rest = page;
    while let Some((text, tag)) = rest.split_once('<') {
        shown.push_str(text);
        let (tag, mut after) = tag.split_once('>').unwrap_or((tag, ""));
        // Data for search engines are in the words of schema.org.
        if tag.starts_with("script") {
            after = after.split_once("</script").map_or("", |(_, after)| after);
        }
        for name in [" alt=\"", " aria-label=\"", " data-shown=\"", " data-spoken=\"", " data-compare=\""] {
            if let Some((_, value)) = tag.split_once(name) {
                shown.push(' ');
                shown.push_str(value.split('"').next().unwrap_or_default());
            }
        }
        shown.push(' ');
        rest = after;
    }
    shown.push_str(rest);
    shown
}

/// Words in plain letters; what stands in braces is for scripts.
fn plain_words(text: &str, cited: &[String]) -> Vec<String> {
    let signs =
        [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#x27;", "'"), ("&#39;", "'"), ("&#x2F;", "/")];
    let text = signs.iter().fold(text.to_owned(), |text, (written, sign)| text.replace(written, sign));
    let text = text.replace("&amp;", "&");
    let text = cited.iter().fold(text, |text, source| text.replace(source, " "));
    let text = ["{before}", "{after}", "{count}", "{all}", "buyers/x"]
        .iter()
        .fold(text, |text, part| text.replace(part, " "));
    let words = text.split(|letter: char| !letter.is_ascii_alphabetic());
    // Parts and grits have a letter each.
    words.filter(|word| word.len() > 1).map(str::to_owned).collect()
}

/// What pages cite in its own words, in whatever language they are: books, standards and their tables; the longest first.
fn cited() -> Vec<String> {
    let mut cited = Trade::built_in().sources();
    let by_rules = [
        "Wood Handbook, FPL-GTR-190 (2010), equations 13-2 and 13-3 (the latter from memory)",
        "Wood Handbook, FPL-GTR-190 (2010), equation 13-2",
    ];
    cited.extend(by_rules.map(str::to_owned));
    cited.sort_by_key(|source| std::cmp::Reverse(source.len()));
    cited
}

/// Runs something on the piece in that language.
fn in_pseudo<T>(with: impl FnOnce(&Tree, &PieceContext<'_>, &Languages, &Asking<'_>) -> T) -> T {
    let workshop = "name = \"Πάγκος\"\nplace = \"Τόπος\"\ncontact = \"Επαφή\"\nabout = \"Λόγια.\"\nnotice = \"Σημείωση.\"\n\
                    language = \"qps-Ploc\"\ncurrency = \"GBP\"\nregion = \"united-kingdom\"\n";
    let tree = Tree::of([
        ("workshop.toml", workshop.to_owned()),
        ("words/qps-Ploc.ftl", words()),
        ("pieces/a/record.toml", RECORD.to_owned()),
        ("pieces/a/story.md", "Ιστορία.\n".to_owned()),
    ]);
    let (folder, problems) = record::read(&tree);
    assert_eq!(problems, []);
    let (languages, problems) = Languages::of(&tree, &folder);
    assert_eq!(problems, []);
    let (trade, problems) = languages.workshop().trade(&tree);
    assert_eq!(problems, []);
    let workpiece = Workpiece::unopened(&folder, &folder.pieces[0], &trade).expect("its record was read");
    let today = chrono::NaiveDate::from_ymd_opt(2026, 5, 1).expect("it is a day");
    let house = HouseStyle::of(folder.workshop.as_ref().expect("it was read"), languages.workshop(), today);
    let context = PieceContext::of(&folder, &workpiece, &trade, &house);
    let archive = Archive::of_pieces(&folder, std::slice::from_ref(&workpiece), &trade);
    with(&tree, &context, &languages, &Asking { archive: &archive, trade: &trade, today })
}

#[test]
fn whatever_a_reader_sees_is_said_by_a_message() {
    let files = in_pseudo(|tree, context, languages, asking| {
        let theme = Theme::load(tree, &ThemeChoice::of(tree, None).0, languages).expect("the theme reads");
        let papers = buyer_papers(context, None);
        let buyers = BuyersFolder { folder: "buyers/x".to_owned(), address: None };
        let order = Order::of(vec![showroom::card(context)], context.house());
        let shown = order.piece(&showroom::address(context));
        let shown = shown.map(|(card, neighbours)| Shown { card, neighbours });
        let (mut files, entries) =
            piece_pages(&theme, context, &papers, &buyers, shown, true).expect("the theme fits");
        files.extend(buyer_pages(&theme, context.house(), &papers, "buyers/x").expect("the theme fits"));
        let cards = entries.card.into_iter().collect();
        files.extend(showroom_pages(&theme, context.house(), cards).expect("the theme fits"));
        let kept = BTreeMap::from([(context.folder().to_owned(), entries.entry)]);
        let across = archive::pages(&kept, asking, context.house()).expect("the archive answers");
        files.extend(archive_pages(&theme, context.house(), &across).expect("the theme fits"));
        files
    });
    let (mut seen, cited) = (0, cited());
    let mut plain: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for file in &files {
        let text = std::str::from_utf8(&file.bytes).expect("it is text");
        let text = match file.path.rsplit_once('.') {
            Some((_, "html" | "svg")) => shown(text),
            _ => {
                let said = text
                    .lines()
                    .filter(|line| line.starts_with("SUMMARY") || line.starts_with("DESCRIPTION"));
                said.filter_map(|line| line.split_once(':'))
                    .map(|(_, said)| said.replace("\\n", " "))
                    .collect()
            }
        };
        let words = plain_words(&text, &cited);
        if !words.is_empty() {
            plain.insert(&file.path, words);
        }
        seen += 1;
    }
    assert_eq!(plain, BTreeMap::new());
    assert!(seen > 9, "{seen}");
}

#[test]
#[cfg(feature = "papers")]
fn the_page_to_sign_stays_one_page_in_longer_words() {
    use super::paper::{Press, sheets};
    in_pseudo(|tree, context, languages, _| {
        let theme = Theme::load(tree, &ThemeChoice::of(tree, None).0, languages).expect("the theme reads");
        let press = Press::of(&theme).expect("there is a thread");
        let papers = buyer_papers(context, None);
        for sheet in sheets(context.house(), &papers, None) {
            let pages = press.pages(&sheet).unwrap_or_else(|fault| panic!("{}: {fault}", sheet.file));
            let one = ["disclosure.pdf", "label.pdf"].contains(&sheet.file.as_str());
            assert!(pages == 1 || !one, "{} has {pages} pages", sheet.file);
        }
    });
}
