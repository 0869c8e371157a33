//! Seals: what a record said on the day the piece left, kept beside it as `sealed/001.toml`, `sealed/002.toml` …
//!
//! Sealed is what the buyer may read of the record, in canonical form, with the story, the fingerprints of the
//! public photographs, and the tins and stock that the record names: everything that the papers are made from.
//! That text is the `record.toml` of the buyer's pack, and its SHA-256 is the seal, which `sha256sum` can check.
//! Each seal names the one before it, so that none can be taken away or put in between.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use chrono::NaiveDate;
use serde_json::Value as Json;
use toml::de::DeTable;

use super::canon::{CanonicalValue, Form, SchemaNode, redacted};
use super::day_book::{Jotting, Kind};
use super::{OfSet, Piece, planned, record_schema, stock_schema, workshop_schema};
use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::fields::shape::table;
use crate::fields::{Said, Text, with_document};
use crate::pack;
use crate::source::Tree;
use crate::unit::fingerprint;

/// A seal that does not fit what it was taken of.
pub static SEAL_BROKEN: Code = Code {
    name: "seal-broken",
    rank: Rank::Mistake,
    why: "A seal is worth something only where it fits; what was changed in it cannot be told from what was sealed.",
    fix: "Put the file back from the buyer's pack or from a copy; the record itself is the place for changes.",
};

table! {
    /// Why the record was changed after it was sealed.
    pub struct Amended ("[[amendment]]") {
        /// The day.
        "on" => on: Said<NaiveDate>,
        /// Why.
        "because" => because: Said<Text>,
    }
}

/// One seal.
#[derive(Debug, Clone, PartialEq)]
pub struct Seal {
    /// Its number, counted from 1.
    pub number: u32,
    /// The day it was made.
    pub on: NaiveDate,
    /// The day the piece left.
    pub handed_over: NaiveDate,
    /// The SHA-256 of [`Seal::record`], in hexadecimal.
    pub digest: String,
    /// What was sealed.
    pub sealed: CanonicalValue,
}

impl Seal {
    /// Seals what the buyer may read of a record, with the fingerprints of its public photographs, after the seals
    /// that it has.
    pub fn of(
        record: CanonicalValue,
        digests: &BTreeMap<String, String>,
        before: &[Seal],
        on: NaiveDate,
        handed_over: NaiveDate,
    ) -> Seal {
        let mut sealed = record;
        let photographs: BTreeMap<String, CanonicalValue> =
            digests.iter().map(|(file, digest)| (file.clone(), CanonicalValue::text(digest))).collect();
        sealed.set(PHOTOGRAPHS, (!photographs.is_empty()).then(|| Form::Table(photographs).into()));
        let last = before.last();
        let number = last.map_or(1, |last| last.number + 1);
        let day = |day: NaiveDate| CanonicalValue::from(Form::Day(day.to_string()));
        let mut head = BTreeMap::from([
            ("number".to_owned(), Form::Number(number.to_string()).into()),
            ("on".to_owned(), day(on)),
        ]);
        if let Some(last) = last {
            head.insert("follows".to_owned(), CanonicalValue::text(&last.digest));
        }
        sealed.set("seal", Some(Form::Table(head).into()));
        let mut handover = sealed.get("handover").cloned().unwrap_or(Form::Table(BTreeMap::new()).into());
        handover.set("on", Some(day(handed_over)));
        sealed.set("handover", Some(handover));
        let digest = fingerprint(sealed.toml("").as_bytes());
        Seal { number, on, handed_over, digest, sealed }
    }

    /// The sealed record: the exact text that the fingerprint is of.
    pub fn record(&self) -> String {
        self.sealed.toml("")
    }

    /// The first 16 digits of the fingerprint in groups of four, as papers print it.
    pub fn short(&self) -> String {
        pack::short_seal(&self.digest)
    }

    /// The name of its file without its ending: `001`.
    pub fn name(&self) -> String {
        format!("{:03}", self.number)
    }

    /// The text of its file.
    pub fn file(&self) -> String {
        format!(
            "# What the record said when the piece was handed over. Leave it as it is: `witnessmark inspect` sees\n\
             # a change by the fingerprint. The record itself is the place for changes, and they are told.\n\
             sha256 = \"{}\"\n\n{}",
            self.digest,
            self.sealed.toml("record")
        )
    }

    /// Reads a seal's file, or says what is wrong with it.
    fn parse(number: u32, text: &str) -> Result<Seal, String> {
        let document = DeTable::parse(text).map_err(|error| error.message().replace('\n', ", "))?;
        let document = document.get_ref();
        let digest = document.get("sha256").and_then(|digest| digest.get_ref().as_str());
        let digest = digest.ok_or("it has no `sha256`")?.to_owned();
        let sealed = document.get("record").map(CanonicalValue::of).ok_or("it has no `[record]`")?;
        if fingerprint(sealed.toml("").as_bytes()) != digest {
            return Err("it was changed after sealing: its fingerprint does not fit".to_owned());
        }
        let day = |table: &str, key: &str| match &sealed.get(table)?.get(key)?.form {
            Form::Day(day) => day.parse().ok(),
            _ => None,
        };
        let on = day("seal", "on").ok_or("it does not say on which day it was made")?;
        let handed_over = day("handover", "on").ok_or("it does not say on which day the piece left")?;
        let said = sealed.get("seal").and_then(|seal| seal.get("number"));
        if said != Some(&Form::Number(number.to_string()).into()) {
            return Err("it carries the number of another seal".to_owned());
        }
        Ok(Seal { number, on, handed_over, digest, sealed })
    }

    /// The fingerprint of the seal before it, as it says itself.
    fn follows(&self) -> Option<&str> {
        self.sealed.get("seal")?.get("follows")?.as_text()
    }
}

/// The number that a file of `sealed/` is the seal of; `None` where it is no seal.
fn number(file: &str) -> Option<u32> {
    let digits = file.strip_suffix(".toml")?;
    let sound = digits.len() >= 3 && digits.bytes().all(|digit| digit.is_ascii_digit());
    digits.parse().ok().filter(|number| sound && format!("{number:03}") == digits)
}

/// Reads a piece's seals, and says which do not fit.
pub(super) fn read(tree: &Tree, folder: &str, problems: &mut Vec<Diagnostic>) -> Vec<Seal> {
    let within = format!("pieces/{folder}/sealed");
    let mut seals: Vec<Seal> = Vec::new();
    let mut files: Vec<(u32, &str)> = tree
        .below(&within)
        .filter_map(|path| Some((number(path.strip_prefix(&within)?.strip_prefix('/')?)?, path)))
        .collect();
    files.sort_unstable();
    let mut expected = 1;
    for (number, path) in files {
        let read = match tree.text(path) {
            Some(Ok(text)) => Seal::parse(number, text),
            Some(Err(fault)) => Err(format!("it {fault}")),
            None => Err("it cannot be read".to_owned()),
        };
        let last = seals.last();
        let sound = read.and_then(|seal| match last {
            _ if number != expected => Err(format!("seal {expected:03} before it is missing")),
            Some(last) if seal.follows() != Some(&last.digest) => {
                Err(format!("it was not made after the seal {:03} that lies here", last.number))
            }
            None if seal.follows().is_some() => Err("the seal before it is missing".to_owned()),
            _ => Ok(seal),
        });
        match sound {
            Ok(seal) => seals.push(seal),
            Err(why) => problems.push(
                Diagnostic::new(
                    &SEAL_BROKEN,
                    Place::file(path),
                    format!("this seal cannot be trusted: {why}"),
                )
                .help("put the file back as it was; the buyer's pack and your copies hold it"),
            ),
        }
        expected = number + 1;
    }
    seals
}

static RECORD: LazyLock<Json> = LazyLock::new(|| record_schema().to_value());
static WORKSHOP: LazyLock<Json> = LazyLock::new(|| workshop_schema().to_value());
static STOCK: LazyLock<Json> = LazyLock::new(|| stock_schema().to_value());

/// What a sealed record may hold under a top-level key, where a schema says.
pub fn schema_of_seals(key: &str) -> Option<SchemaNode<'static>> {
    match key {
        "tin" => SchemaNode::of(&WORKSHOP).key(key),
        "stock" => SchemaNode::of(&STOCK).key(key),
        _ => SchemaNode::of(&RECORD).key(key),
    }
}

/// The key of a seal under which the photographs' fingerprints stand.
const PHOTOGRAPHS: &str = "photographs";

/// Keys that steer what is published and say nothing about the piece.
const SETTINGS: [&str; 4] = ["publish", "asking", "for-sale-since", "link"];

/// What the buyer may read of a piece today, in canonical form; `None` where its record is no TOML.
///
/// The photographs' fingerprints are not in it: their bytes are not read here.
pub fn today_for_buyer(tree: &Tree, piece: &Piece) -> Option<CanonicalValue> {
    for_buyer(tree, piece, &NamedElsewhere::of(tree))
}

/// What records name by ids in the workshop's other files, as a buyer may read it.
pub(super) struct NamedElsewhere {
    workshop: Option<CanonicalValue>,
    stock: Option<CanonicalValue>,
}

impl NamedElsewhere {
    pub(super) fn of(tree: &Tree) -> NamedElsewhere {
        NamedElsewhere {
            workshop: read_redacted(tree, "workshop.toml", &WORKSHOP),
            stock: read_redacted(tree, "stock.toml", &STOCK),
        }
    }
}

/// The same as [`today_for_buyer`], with what was read once for all pieces.
pub(super) fn for_buyer(tree: &Tree, piece: &Piece, elsewhere: &NamedElsewhere) -> Option<CanonicalValue> {
    let mut record = match &piece.set {
        Some(set) => read_together(tree, piece, set)?,
        None => read_redacted(tree, &piece.record_path(), &RECORD)?,
    };
    for setting in SETTINGS {
        record.set(setting, None);
    }
    planned::leave_out(&mut record);
    hide_private_photographs(&mut record);
    let story = CanonicalValue::text(piece.story.said()).without_unseen();
    if story.as_text().is_some_and(|said| !said.trim().is_empty()) {
        record.set("story", Some(story));
    }
    record.set("day-book", day_book(piece));
    let mut texts = BTreeSet::new();
    record.get("surface").into_iter().for_each(|surfaces| gather(surfaces, &mut texts));
    let tins = texts.iter().filter_map(|text| text.strip_prefix("tin:").map(str::to_owned)).collect();
    add_named(&mut record, "tin", elsewhere.workshop.as_ref(), &tins);
    let parts = record.get("part").map_or(&[][..], CanonicalValue::list);
    let stock = parts.iter().filter_map(|part| Some(part.get("from-stock")?.as_text()?.to_owned())).collect();
    add_named(&mut record, "stock", elsewhere.stock.as_ref(), &stock);
    Some(record)
}

/// The lines of the day book that others may read and that no row of the record tells; `None` where there are none.
fn day_book(piece: &Piece) -> Option<CanonicalValue> {
    let record = piece.record.as_ref()?;
    let line = |jotting: &Jotting| {
        let said = CanonicalValue::text(jotting.said.as_ref().ok()?).without_unseen();
        let day = jotting.on.map(|on| ("on".to_owned(), Form::Day(on.to_string()).into()));
        let row = BTreeMap::from_iter(day.into_iter().chain([("said".to_owned(), said)]));
        // A line of the set's stands in another file.
        let span = if jotting.of_set { 0..0 } else { jotting.span.clone() };
        Some(CanonicalValue { form: Form::Table(row), span })
    };
    let printed = piece.jotted(record).into_iter().filter(|(_, kind)| *kind != Kind::Question);
    let mut lines: Vec<&Jotting> = printed.map(|(jotting, _)| jotting).collect();
    lines.sort_by_key(|jotting| (jotting.on.is_none(), jotting.on));
    let lines: Vec<CanonicalValue> = lines.into_iter().filter_map(line).collect();
    (!lines.is_empty()).then(|| Form::List(lines).into())
}

fn read_redacted(tree: &Tree, path: &str, schema: &Json) -> Option<CanonicalValue> {
    let said = |table: &DeTable<'_>| Form::Table(redacted(table, SchemaNode::of(schema))).into();
    with_document(tree.text(path)?.ok()?, said)
}

/// The same of a piece of a set, whose record has more of it.
fn read_together(tree: &Tree, piece: &Piece, set: &OfSet) -> Option<CanonicalValue> {
    let text = |path: &str| tree.text(path)?.ok();
    let shared = text(&format!("pieces/{}/record.toml", set.folder()))?;
    let said = |own: &DeTable<'_>| {
        with_document(shared, |shared| {
            let whole = set.together(piece, own, shared);
            CanonicalValue::from(Form::Table(redacted(&whole, SchemaNode::of(&RECORD))))
        })
    };
    with_document(text(&piece.record_path())?, said)?
}

/// Takes out whatever names a private photograph.
fn hide_private_photographs(record: &mut CanonicalValue) {
    let named = |row: &CanonicalValue, keys: &[&str], among: &BTreeSet<String>| {
        keys.iter().any(|key| {
            row.get(key).and_then(CanonicalValue::as_text).is_some_and(|file| among.contains(file))
        })
    };
    let entries = record.get("photo").map_or(&[][..], CanonicalValue::list);
    let private = entries.iter().filter(|entry| entry.get("private") == Some(&Form::Truth(true).into()));
    let private: BTreeSet<String> =
        private.filter_map(|entry| Some(entry.get("file")?.as_text()?.to_owned())).collect();
    for (list, keys) in [("photo", &["file"][..]), ("pair", &["before", "after"]), ("swatch", &["photo"])] {
        let rows = record.get(list).map_or(&[][..], CanonicalValue::list);
        let kept: Vec<CanonicalValue> =
            rows.iter().filter(|row| !named(row, keys, &private)).cloned().collect();
        record.set(list, (!kept.is_empty()).then(|| Form::List(kept).into()));
    }
    if named(record, &["cover"], &private) {
        record.set("cover", None);
    }
}

/// Adds the rows of another file that the record names by their ids, so that it says the same without that file.
fn add_named(
    record: &mut CanonicalValue,
    list: &str,
    file: Option<&CanonicalValue>,
    named: &BTreeSet<String>,
) {
    let rows = file.and_then(|file| file.get(list)).map_or(&[][..], CanonicalValue::list);
    let is_named = |row: &&CanonicalValue| {
        row.get("id").and_then(CanonicalValue::as_text).is_some_and(|id| named.contains(id))
    };
    let kept: Vec<CanonicalValue> = rows.iter().filter(is_named).cloned().collect();
    record.set(list, (!kept.is_empty()).then(|| Form::List(kept).into()));
}

/// Every text within a value.
fn gather(value: &CanonicalValue, texts: &mut BTreeSet<String>) {
    match &value.form {
        Form::Text(text) => _ = texts.insert(text.clone()),
        Form::List(list) => list.iter().for_each(|each| gather(each, texts)),
        Form::Table(table) => table.values().for_each(|each| gather(each, texts)),
        Form::Number(_) | Form::Truth(_) | Form::Day(_) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const RECORD: &str = "title = \"Table “of” \\\\ oak\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n";

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn sealed(before: &[Seal]) -> Seal {
        let tree = Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", RECORD)]);
        let (folder, _) = super::super::read(&tree);
        let today = today_for_buyer(&tree, &folder.pieces[0]).unwrap();
        Seal::of(today, &BTreeMap::new(), before, day("2026-05-16"), day("2026-05-15"))
    }

    /// The seals that are read from these files, and the messages about those that cannot be trusted.
    fn seals(files: &[(&str, String)]) -> (Vec<Seal>, Vec<String>) {
        let mut all = vec![
            ("workshop.toml".to_owned(), "name = \"W\"".to_owned()),
            ("pieces/a/record.toml".to_owned(), RECORD.to_owned()),
        ];
        all.extend(files.iter().map(|(name, text)| (format!("pieces/a/sealed/{name}"), text.clone())));
        let (folder, problems) = super::super::read(&Tree::of(all));
        let told = problems.into_iter().map(|problem| {
            assert_eq!(problem.code.name, "seal-broken");
            problem.message.replace("this seal cannot be trusted: ", "")
        });
        (folder.pieces[0].seals.clone(), told.collect())
    }

    #[test]
    fn the_fingerprint_is_that_of_the_record_that_the_buyer_holds() {
        let seal = sealed(&[]);
        assert_eq!(
            seal.record(),
            "kind = \"table/gateleg\"\nnumber = \"T-1\"\ntitle = \"Table “of” \\\\ oak\"\n\
             \n[handover]\non = 2026-05-15\n\n[seal]\nnumber = 1\non = 2026-05-16\n"
        );
        assert_eq!(fingerprint(seal.record().as_bytes()), seal.digest);
        assert_eq!(seal.short().replace(' ', ""), seal.digest[..16]);
        assert_eq!(seal.short().len(), 19);
    }

    #[test]
    fn seals_are_read_as_they_were_made_whatever_their_layout() {
        let (first, second) = (sealed(&[]), sealed(&[sealed(&[])]));
        assert_ne!(first.digest, second.digest);
        let spread = first.file().replace(" = ", "   =   ").replace('\n', "\n# told\n");
        let read =
            seals(&[("001.toml", spread), ("002.toml", second.file()), ("notes.toml", "x = 1".to_owned())]);
        assert_eq!(read, (vec![first, second], vec![]));
    }

    #[test]
    fn a_changed_damaged_missing_or_exchanged_seal_is_told() {
        let (first, second) = (sealed(&[]), sealed(&[sealed(&[])]));
        let changed = first.file().replace("gateleg", "pembroke");
        assert_eq!(
            seals(&[("001.toml", changed)]).1,
            ["it was changed after sealing: its fingerprint does not fit"]
        );
        assert_eq!(seals(&[("002.toml", second.file())]).1, ["seal 001 before it is missing"]);
        assert_eq!(seals(&[("001.toml", second.file())]).1, ["it carries the number of another seal"]);
        assert_eq!(seals(&[("001.toml", "title = \"".to_owned())]).1.len(), 1);
        assert_eq!(seals(&[("001.toml", "x = 1".to_owned())]).1, ["it has no `sha256`"]);
        let other =
            Seal::of(first.sealed.clone(), &BTreeMap::new(), &[], day("2026-05-17"), day("2026-05-15"));
        assert_eq!(
            seals(&[("001.toml", other.file()), ("002.toml", second.file())]).1,
            ["it was not made after the seal 001 that lies here"]
        );
    }

    #[test]
    fn what_others_may_read_of_the_day_book_is_sealed_as_far_as_no_row_tells_it() {
        let lines = "2026-03-11 glued the leaf, 1.5h\n2026-03-12 waxed it\n2026-03-12 wax was 4 quid\n2026-03-13 private: too dark\n\
                     2026-03-14 is it oak?\n2026-03-15 must order glides\n";
        let sealed = |record: &str| {
            let record = format!("{RECORD}{record}");
            let tree = Tree::of([
                ("workshop.toml", "name = \"W\""),
                ("pieces/a/record.toml", record.as_str()),
                ("pieces/a/daybook.txt", lines),
            ]);
            let piece = super::super::read(&tree).0.pieces.remove(0);
            let today = today_for_buyer(&tree, &piece).unwrap();
            Seal::of(today, &BTreeMap::new(), &[], day("2026-05-16"), day("2026-05-15")).record()
        };
        let text = sealed("");
        for said in ["glued the leaf", "waxed it", "must order glides", "2026-03-12"] {
            assert!(text.contains(said), "{said}\n{text}");
        }
        for hidden in ["1.5", "quid", "dark", "oak?"] {
            assert!(!text.contains(hidden), "{hidden}\n{text}");
        }
        let entered =
            sealed("[[work]]\ndid = \"put glue in\"\nfrom-daybook = \"2026-03-11 glued the leaf, 1.5h\"\n");
        assert!(!entered.contains("glued the leaf") && entered.contains("put glue in"), "{entered}");
    }

    #[test]
    fn only_three_digits_and_more_name_a_seal() {
        let named = ["001.toml", "1000.toml", "1.toml", "0001.toml", "abc.toml", "001.zip", "０01.toml"];
        assert_eq!(named.map(number), [Some(1), Some(1000), None, None, None, None, None]);
    }

    #[test]
    fn any_file_is_read_or_told_without_a_panic() {
        for text in
            ["record = 3\nsha256 = \"x\"", "sha256 = 3", "[record]", "\u{0}", "sha256 = \"é\"\nrecord = {}"]
        {
            assert_eq!(seals(&[("001.toml", text.to_owned())]).1.len(), 1, "{text}");
        }
    }
}
