//! What goes into the buyer's pack: the papers, the sealed record, and a page of plain text that says what they are.

use super::site::{ALL_SHEETS, LABEL};
use super::{RenderError, Theme, TreeKind, buyer_pages};
use crate::claim::{Message, says};
use crate::pack::File;
use crate::unit::legible::{escaped_json, one_line, without_unseen};
use crate::view::buyer::Papers;
use crate::view::{PieceContext, SHEETS, SheetKind};

/// The page that is to be read first.
const READ_ME: &str = "read-me-first.txt";

/// The pack's content, but for the pictures that the papers show. It says the same as the buyer's pages, and every page
/// opens from the folder. `printed` are the papers to print.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn pack(
    theme: &Theme,
    context: &PieceContext<'_>,
    papers: &Papers,
    printed: Vec<File>,
    signed: bool,
) -> Result<Vec<File>, RenderError> {
    const WITHIN: &str = "pack";
    let house = context.house();
    let asset = |(path, bytes): (&str, &[u8])| File { path: path.to_owned(), bytes: bytes.to_vec() };
    let mut files: Vec<File> = theme.assets(TreeKind::Buyer).map(asset).collect();
    for page in buyer_pages(theme, house, papers, WITHIN)? {
        let path = page.path.trim_start_matches(WITHIN).trim_start_matches('/').to_owned();
        files.push(File { path, bytes: page.bytes });
    }
    files.extend(printed);
    if let Some((pack, seal)) = context.pack_and_seal() {
        let json = serde_json::to_string_pretty(&seal.sealed.json()).expect("a record is always JSON") + "\n";
        let json = escaped_json(&json).into_owned();
        files.push(File { path: "record.toml".to_owned(), bytes: seal.record().into_bytes() });
        files.push(File { path: "record.json".to_owned(), bytes: json.into_bytes() });
        let text = read_me(&pack, context, papers, &files, signed);
        files.push(File { path: READ_ME.to_owned(), bytes: text.into_bytes() });
    }
    Ok(files)
}

/// What each file is, for those that a reader may wonder about; a folder ends with a slash.
fn contents() -> Vec<(String, Message)> {
    let file = |name: &str, says| (name.to_owned(), says);
    let mut all = vec![file("index.html", says!("pack-index"))];
    let page = |sheet: &SheetKind| (format!("{}.html", sheet.name), Message::word("pack-page", sheet.name));
    all.extend(SHEETS.iter().map(page));
    all.push((format!("{ALL_SHEETS}.pdf"), says!("pack-all")));
    let print = |sheet: &SheetKind| (format!("{}.pdf", sheet.name), Message::word("pack-print", sheet.name));
    all.extend(SHEETS.iter().map(print));
    all.extend([
        file("calendar.ics", says!("pack-calendar")),
        (format!("{LABEL}.pdf"), says!("pack-label")),
        (format!("{LABEL}.svg"), says!("pack-label-drawing")),
        file("record.toml", says!("pack-record")),
        file("record.json", says!("pack-record-json")),
        file("pictures/", says!("pack-pictures")),
    ]);
    all
}

fn read_me(pack: &str, context: &PieceContext<'_>, papers: &Papers, files: &[File], signed: bool) -> String {
    let (workshop, words, seal) = (context.house().view(), context.house().words(), &papers.seal);
    let say = |message: Message| words.say(&message);
    let mut lines = vec![line(&context.title()), line(&workshop.name)];
    let where_it_is = [&workshop.place, &workshop.contact].into_iter().filter(|text| !text.is_empty());
    lines.extend(where_it_is.map(|text| line(text)));
    let (number, short) = (seal.number, seal.short.as_str());
    lines.push(String::new());
    lines.push(say(says!("pack-sealed", day = seal.day.as_str(), number = number, seal = short)));
    lines.extend([String::new(), say(says!("pack-contents")), String::new()]);
    let there = |name: &str| files.iter().any(|file| file.path == name);
    let listed = contents().into_iter().filter(|(name, _)| name.ends_with('/') || there(name));
    lines.extend(listed.map(|(name, what)| format!("  {name:<18} {}", say(what))));
    let paragraphs =
        |messages: [Message; 2]| messages.map(say).into_iter().flat_map(|text| [String::new(), text]);
    lines.extend(paragraphs([says!("pack-check"), says!("pack-check-how")]));
    lines.push(String::new());
    lines.push(format!("  witnessmark verify {pack}"));
    lines.push(format!("  cd {pack} && sha256sum -c manifest-sha256.txt        (Linux)"));
    lines.push(format!("  cd {pack} && shasum -a 256 -c manifest-sha256.txt    (macOS)"));
    lines.extend([String::new(), say(says!("pack-check-seal")), String::new()]);
    lines.extend(["  sha256sum record.toml".to_owned(), String::new()]);
    lines.extend([say(says!("pack-check-prints")), String::new(), format!("  {}", seal.fingerprint)]);
    if signed {
        lines.extend([String::new(), say(says!("pack-signed"))]);
    }
    lines.extend(paragraphs([says!("pack-keep"), says!("pack-keep-how")]));
    lines.push(String::new());
    let address = &papers.label.address;
    if !address.is_empty() {
        lines.extend([say(says!("pack-address")), String::new()]);
        lines.extend([format!("  {}", line(address)), String::new()]);
    }
    lines.join("\n")
}

/// A text of the record as one line of the page of plain text.
fn line(text: &str) -> String {
    one_line(&without_unseen(text))
}
