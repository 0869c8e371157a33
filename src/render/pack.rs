//! What goes into the buyer's pack: the papers, the sealed record, and a page of plain text that says what they are.

use super::site::{ALL_SHEETS, LABEL};
use super::{RenderError, Theme, buyer_pages};
use crate::pack::File;
use crate::unit::legible::{escaped_json, one_line, without_unseen};
use crate::view::buyer::Papers;
use crate::view::{PieceContext, SHEETS};

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
    let mut files: Vec<File> =
        theme.assets().map(|(path, bytes)| File { path: path.to_owned(), bytes: bytes.to_vec() }).collect();
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
fn contents() -> Vec<(String, &'static str)> {
    let file = |name: &str, says| (name.to_owned(), says);
    let mut all = vec![file("index.html", "where to begin: open it in any browser, by a double-click")];
    all.extend(SHEETS.iter().map(|sheet| (format!("{}.html", sheet.name), sheet.page_says)));
    all.push((format!("{ALL_SHEETS}.pdf"), "all papers in one file, to print"));
    all.extend(SHEETS.iter().map(|sheet| (format!("{}.pdf", sheet.name), sheet.print_is_for)));
    all.extend([
        file("calendar.ics", "when to look after it, for a calendar"),
        (format!("{LABEL}.pdf"), "a label that stays with the piece"),
        (format!("{LABEL}.svg"), "the same label as a drawing"),
        file("record.toml", "the record that all papers are made from, as it was sealed"),
        file("record.json", "the same record, for programs"),
        file("pictures/", "the photographs that the papers show"),
    ]);
    all
}

fn read_me(pack: &str, context: &PieceContext<'_>, papers: &Papers, files: &[File], signed: bool) -> String {
    let (workshop, seal) = (context.house().view(), &papers.seal);
    let mut lines = vec![line(&context.title()), line(&workshop.name)];
    lines.extend(
        [&workshop.place, &workshop.contact]
            .into_iter()
            .filter(|text| !text.is_empty())
            .map(|text| line(text)),
    );
    lines.push(String::new());
    lines.push(format!("Sealed on {}, seal {}: {}", seal.day, seal.number, seal.short));
    lines.extend(["", "WHAT IS IN HERE", ""].map(str::to_owned));
    let there = |name: &str| files.iter().any(|file| file.path == name);
    let listed = contents().into_iter().filter(|(name, _)| name.ends_with('/') || there(name));
    lines.extend(listed.map(|(name, what)| format!("  {name:<18} {what}")));
    lines.extend(
        [
            "",
            "HOW TO CHECK IT",
            "",
            "The folder above this one holds a list with a fingerprint (SHA-256) of each file, in the form of a",
            "BagIt bag (RFC 8493), which libraries and archives use. Whether every file is as it was sealed:",
            "",
        ]
        .map(str::to_owned),
    );
    lines.push(format!("  witnessmark verify {pack}"));
    lines.push(format!("  cd {pack} && sha256sum -c manifest-sha256.txt        (Linux)"));
    lines.push(format!("  cd {pack} && shasum -a 256 -c manifest-sha256.txt    (macOS)"));
    lines.extend(
        [
            "",
            "The seal on the papers is the beginning of the fingerprint of record.toml. In this folder,",
            "",
            "  sha256sum record.toml",
            "",
            "prints",
            "",
        ]
        .map(str::to_owned),
    );
    lines.push(format!("  {}", seal.fingerprint));
    if signed {
        lines.extend(
            [
                "",
                "The list of lists is signed with the workshop's key in the form of minisign. `witnessmark verify` checks",
                "it against the public key, which the workshop gives you by another way than this pack.",
            ]
            .map(str::to_owned),
        );
    }
    lines.extend(
        [
            "",
            "KEEP IT",
            "",
            "Keep the whole folder, or the zip, with the papers of the house. Where the workshop corrects the record",
            "later, its papers say what was changed since the seal; this pack stays what it is.",
            "",
        ]
        .map(str::to_owned),
    );
    let address = &papers.label.address;
    if !address.is_empty() {
        lines.extend(["The papers as they are today stand at".to_owned(), String::new()]);
        lines.extend([format!("  {}", line(address)), String::new()]);
    }
    lines.join("\n")
}

/// A text of the record as one line of the page of plain text.
fn line(text: &str) -> String {
    one_line(&without_unseen(text))
}
