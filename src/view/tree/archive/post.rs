//! What a post about a piece is made from: pictures in the usual shapes, and texts that leave out nothing that must be
//! known.

use serde::Serialize;

use crate::claim::says;
use crate::view::context::PieceContext;
use crate::view::shared::fact::Fact;
use crate::view::shared::photograph::{Gallery, Sees};
use crate::view::tree::showroom::{LinkView, ShowroomPiece};
use crate::words::{sentence, shortened};

/// Letters of the shortest text.
const SHORT: usize = 280;

/// Letters of a title and of a sentence that says what it is, in a text that has to be short.
const BRIEF: (usize, usize) = (90, 120);

/// Where the pictures lie beside the piece's page.
pub(crate) const FOLDER: &str = "post";

/// Everything for a post.
#[derive(Debug, Clone, Serialize)]
pub struct PostKit {
    /// What it is.
    pub title: String,
    /// The workshop's number for it.
    pub number: String,
    /// What is missing because the record could not be read in full; mostly empty.
    pub lacking: String,
    /// The pictures.
    pub pictures: Vec<PostPicture>,
    /// Texts, the shortest first.
    pub texts: Vec<PostText>,
    /// Films and threads that the record names.
    pub links: Vec<LinkView>,
    /// The whole address of its page; empty where the showroom has none.
    pub address: String,
}

/// A picture for a post.
#[derive(Debug, Clone, Serialize)]
pub struct PostPicture {
    /// Its address beside the page.
    pub src: String,
    /// The file's name.
    pub name: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// What it shows, to be given along with it.
    pub alt: String,
}

/// A text for a post.
#[derive(Debug, Clone, Serialize)]
pub struct PostText {
    /// What it is called.
    pub name: String,
    /// The text, with its lines.
    pub text: String,
    /// How many letters it has.
    pub letters: usize,
}

/// What a post is made from, from the page that the public sees.
pub fn post_kit(context: &PieceContext<'_>, page: &ShowroomPiece) -> PostKit {
    let words = context.house().words();
    let gallery = Gallery::of(context, Sees::Public);
    let pictures = gallery.posts().into_iter().map(|cut| PostPicture {
        src: format!("{FOLDER}/{}", cut.name),
        width: cut.frame.width,
        height: cut.frame.height,
        name: cut.name,
        alt: cut.alt,
    });
    let texts = [
        (says!("post-short"), short(context, page)),
        (says!("post-middle"), middle(context, page)),
        (says!("post-long"), long(context, page)),
    ];
    PostKit {
        title: page.title.clone(),
        number: page.number.clone(),
        lacking: page.lacking.clone(),
        pictures: pictures.collect(),
        texts: texts
            .into_iter()
            .map(|(name, text)| PostText { name: words.heading(&name), letters: text.chars().count(), text })
            .collect(),
        links: page.links.clone(),
        address: page.head.canonical.clone(),
    }
}

impl PostKit {
    /// The texts as a file: each under its name, a line between them.
    pub fn plain(&self) -> String {
        let texts: Vec<String> = self
            .texts
            .iter()
            .map(|text| format!("{}\n\n{}\n", text.name.to_uppercase(), text.text))
            .collect();
        texts.join("\n\n")
    }
}

/// What it is called and costs, or that it is gone.
fn first(page: &ShowroomPiece, title: &str) -> String {
    let offer = &page.offer;
    match offer.price.is_empty() {
        true => format!("{title}. {}.", offer.words),
        false => format!("{title}. {}, {}.", offer.words, offer.price),
    }
}

/// Where more is told: the address of its page, or how the workshop is reached.
fn last(page: &ShowroomPiece) -> String {
    match page.head.canonical.as_str() {
        "" => page.ask.contact.clone(),
        address => address.to_owned(),
    }
}

/// In one breath. What must be known goes before what is pleasant, and what has no room is counted.
fn short(context: &PieceContext<'_>, page: &ShowroomPiece) -> String {
    let words = context.house().words();
    let (first, last) = (first(page, &shortened(&page.title, BRIEF.0)), last(page));
    let leads: Vec<&str> = page.know.iter().map(|line| line.lead.as_str()).collect();
    let told = |count: usize| {
        let mut said = vec![first.clone()];
        if !leads.is_empty() {
            said.push(format!("{}:", words.heading(&says!("heading-know"))));
        }
        said.extend(leads.iter().take(count).map(|lead| (*lead).to_owned()));
        if count < leads.len() {
            said.push(sentence(&words.say(&says!("post-more", count = leads.len() - count))));
        }
        said.push(last.clone());
        said.retain(|text| !text.is_empty());
        said.join(" ")
    };
    let letters = |text: &String| text.chars().count();
    let fits = (0..=leads.len()).rev().map(told).find(|text| letters(text) <= SHORT);
    let text = fits.unwrap_or_else(|| told(0));
    let summary = shortened(&page.summary, BRIEF.1);
    let longer = text.replacen(&first, &format!("{first} {summary}"), 1);
    if !summary.is_empty() && letters(&longer) <= SHORT { longer } else { text }
}

/// In a few lines.
fn middle(context: &PieceContext<'_>, page: &ShowroomPiece) -> String {
    let words = context.house().words();
    let mut lines =
        vec![first(page, &shortened(&page.title, BRIEF.0)), page.summary.clone(), joined(&page.opening)];
    if !page.know.is_empty() {
        lines.push(format!("{}:", words.heading(&says!("heading-know"))));
        lines.extend(page.know.iter().map(|line| format!("– {}", line.lead)));
    }
    lines.push(last(page));
    lines.retain(|line| !line.is_empty());
    lines.join("\n")
}

/// With everything that a buyer asks first.
fn long(context: &PieceContext<'_>, page: &ShowroomPiece) -> String {
    let words = context.house().words();
    let mut blocks = vec![first(page, &page.title), page.summary.clone()];
    let facts: Vec<String> =
        page.opening.iter().map(|fact| format!("{}: {}", fact.label, fact.text)).collect();
    blocks.push(facts.join("\n"));
    if !page.know.is_empty() {
        let line = |line: &crate::view::shared::front_page::KnowLine| {
            format!("– {} {}", line.lead, line.text).trim_end().to_owned()
        };
        let lines: Vec<String> = page.know.iter().map(line).collect();
        blocks.push(format!("{}:\n{}", words.heading(&says!("heading-know")), lines.join("\n")));
    }
    blocks.push(page.verdict.clone());
    blocks.push(page.stance.clone());
    let how: Vec<String> = page.how.iter().map(|way| format!("{}: {}", way.label, way.text)).collect();
    blocks.push(how.join("\n"));
    let links: Vec<String> = page.links.iter().map(|link| format!("{}: {}", link.what, link.href)).collect();
    blocks.push(links.join("\n"));
    blocks.push(page.ask.contact.clone());
    blocks.push(page.head.canonical.clone());
    blocks.retain(|block| !block.is_empty());
    blocks.join("\n\n")
}

/// Facts in a line.
fn joined(facts: &[Fact]) -> String {
    let facts: Vec<String> = facts.iter().map(|fact| format!("{}: {}", fact.label, fact.text)).collect();
    facts.join(". ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;
    use crate::view::tree::showroom::{Neighbours, card, piece_page};

    fn kit(record: &str, workshop: &str) -> PostKit {
        shown(record, workshop, |context| {
            post_kit(context, &piece_page(context, &card(context), Neighbours::default()))
        })
    }

    const FAULTS: &str = "asking = 240\nsummary = \"for six\"\n\
        undone = [{ what = \"one gate stop is missing\", why = \"no-part\", effect = \"hold the leaf\" }, \
        { what = \"the drawer sticks\", why = \"not-needed\", effect = \"pull it straight\" }]";

    #[test]
    fn what_must_be_known_is_in_every_text() {
        let kit = kit(FAULTS, "contact = \"ask@bench.example\"");
        for text in &kit.texts {
            assert!(text.text.starts_with("Table. For sale, £240"), "{}", text.text);
            assert!(text.text.contains("gate stop is missing"), "{}", text.text);
            assert!(text.text.contains("ask@bench.example"), "{}", text.text);
        }
        assert!(kit.texts.windows(2).all(|pair| pair[0].letters <= pair[1].letters));
        assert!(kit.texts[0].letters <= SHORT);
    }

    #[test]
    fn what_has_no_room_is_counted() {
        let long = "one gate stop is missing ".repeat(12);
        let fault = format!("{{ what = \"{long}\", why = \"no-part\", effect = \"x\" }}");
        let kit =
            kit(&format!("undone = [{fault}, {fault}, {fault}]"), "address = \"https://bench.example\"");
        let short = &kit.texts[0].text;
        assert!(
            short.chars().count() <= SHORT && short.contains("https://bench.example/pieces/t-1/"),
            "{short}"
        );
    }
}
