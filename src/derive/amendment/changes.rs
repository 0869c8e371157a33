//! Amendments: what a sealed record says today that it did not say when it was sealed, field by field.
//!
//! Lists are compared row by row. A row is known again by its id or its file's name, then by saying the same, then
//! by its main words, and at last by saying half of the same; what is left over went or came.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::places::{self as places, is_place};
use super::words::{
    LONGEST_QUOTE, RowNames, called, content, label, main_words, names, rewritten, said, several, table,
    within,
};
use crate::claim::{Message, Value, says};
use crate::diag::Place;
use crate::record::{CanonicalValue, Form, Piece, SchemaNode, schema_of_seals};

/// The SHA-256 of photographs, as hexadecimal text, by their files.
pub type Digests = BTreeMap<String, String>;

/// One change to a sealed record.
#[derive(Debug, Clone, PartialEq)]
pub struct Amendment {
    /// What was and what is.
    pub message: Message,
    /// Where the change stands today.
    pub place: Place,
}

/// Lists that are compared by similarity only up to this many pairs of rows, so that no record takes for ever.
const MOST_PAIRS: usize = 100_000;

/// What changed in a piece's record since its last seal; empty where it was never sealed.
///
/// `digests` are those of its public photographs, where they were asked for.
pub fn amendments(piece: &Piece, digests: Option<&Digests>) -> Vec<Amendment> {
    let (Some(seal), Some(today)) = (piece.seals.last(), &piece.for_buyer) else { return Vec::new() };
    let sealed = seal.sealed.without_unseen();
    let (was, is) = (table(&sealed), table(today));
    let names = names([was, is]);
    let mut diff =
        RecordDiff { path: piece.record_path(), folder: &piece.folder, names, amendments: Vec::new() };
    let keys: BTreeSet<&String> = was.keys().chain(is.keys()).collect();
    for key in keys.into_iter().filter(|key| !["seal", "amendment"].contains(&key.as_str())) {
        let (before, after) = (was.get(key), is.get(key));
        match key.as_str() {
            // They are compared with the files, below.
            "photographs" => {}
            "story" => diff.story(before, after),
            "handover" => {
                // The seal carries the day where the record does not.
                let mut after = after.map(table).cloned().unwrap_or_default();
                after
                    .entry("on".to_owned())
                    .or_insert_with(|| Form::Day(seal.handed_over.to_string()).into());
                let span = today.get(key).map_or(0..0, |handover| handover.span.clone());
                let after = CanonicalValue { form: Form::Table(after), span };
                diff.top(key, before, Some(&after));
            }
            _ => diff.top(key, before, after),
        }
    }
    if let Some(digests) = digests {
        diff.photographs(was.get("photographs"), digests);
    }
    diff.amendments
}

/// Writes amendments down.
struct RecordDiff<'a> {
    path: String,
    folder: &'a str,
    names: RowNames,
    amendments: Vec<Amendment>,
}

/// Where a comparison has come to.
#[derive(Clone)]
struct At<'a> {
    /// Whose field it is, such as `part “Left leaf”`; nothing at the top of the record.
    subject: Option<Value>,
    /// What the field may say, where a schema tells.
    guide: Option<SchemaNode<'a>>,
    /// Where the nearest thing stands that is in the record today.
    span: Range<usize>,
    /// The file that it stands in.
    path: &'a str,
}

impl RecordDiff<'_> {
    fn note(&mut self, at: &At<'_>, message: Message) {
        let place = match at.span.is_empty() {
            true => Place::file(at.path),
            false => Place::at(at.path, &at.span),
        };
        self.amendments.push(Amendment { message, place });
    }

    /// A top-level key of the record.
    fn top(&mut self, key: &str, was: Option<&CanonicalValue>, is: Option<&CanonicalValue>) {
        let path = match key {
            "tin" => "workshop.toml".to_owned(),
            "stock" => "stock.toml".to_owned(),
            "day-book" => format!("pieces/{}/daybook.txt", self.folder),
            _ => self.path.clone(),
        };
        let span = is.map_or(0..0, |is| is.span.clone());
        let at = At { subject: None, guide: schema_of_seals(key), span, path: &path };
        let is_table = |value: Option<&CanonicalValue>| value.is_none_or(|value| value.table().is_some());
        match (is_table(was) && is_table(is), was.or(is).map(|value| &value.form)) {
            (true, _) => {
                let none = BTreeMap::new();
                let subject = Some(label(key));
                self.fields(&At { subject, ..at }, was.map_or(&none, table), is.map_or(&none, table));
            }
            (_, Some(Form::List(_))) => {
                let rows =
                    |value: Option<&CanonicalValue>| value.map_or(Vec::new(), |value| value.list().to_vec());
                self.rows(key, &at, &rows(was), &rows(is));
            }
            _ => self.value(key, &at, was, is),
        }
    }

    /// The fields of one table.
    fn fields(
        &mut self,
        at: &At<'_>,
        was: &BTreeMap<String, CanonicalValue>,
        is: &BTreeMap<String, CanonicalValue>,
    ) {
        for (what, span) in places::told(was, is) {
            let span = span.unwrap_or_else(|| at.span.clone());
            let subject = at.subject.clone().unwrap_or(Value::Series(Vec::new()));
            self.note(&At { span, ..at.clone() }, says!("amended-place", subject = subject, what = what));
        }
        for key in was.keys().chain(is.keys()).collect::<BTreeSet<_>>() {
            let other = |fields: &'_ BTreeMap<String, CanonicalValue>| {
                fields.get(key).is_some_and(|value| !is_place(key, value))
            };
            if !other(was) && !other(is) {
                continue;
            }
            let (before, after) = (was.get(key), is.get(key));
            let guide = at.guide.and_then(|guide| guide.key(key));
            let span = after.map_or_else(|| at.span.clone(), |after| after.span.clone());
            self.value(key, &At { guide, span, ..at.clone() }, before, after);
        }
    }

    /// One field.
    fn value(&mut self, key: &str, at: &At<'_>, was: Option<&CanonicalValue>, is: Option<&CanonicalValue>) {
        // What a later program closes may still stand in an old seal: older ones hold the buyer's name.
        if was == is || at.guide.is_some_and(SchemaNode::is_closed) {
            return;
        }
        let what = within(at.subject.as_ref(), label(key));
        let message = match (was, is) {
            (
                Some(CanonicalValue { form: Form::Table(was), .. }),
                Some(CanonicalValue { form: Form::Table(is), .. }),
            ) => {
                let at = At { subject: Some(what), ..at.clone() };
                return self.fields(&at, was, is);
            }
            (
                Some(CanonicalValue { form: Form::List(was), .. }),
                Some(CanonicalValue { form: Form::List(is), .. }),
            ) if has_rows(was) || has_rows(is) => {
                return self.rows(key, at, was, is);
            }
            (None, Some(CanonicalValue { form: Form::List(is), .. })) if has_rows(is) => {
                return self.rows(key, at, &[], is);
            }
            (Some(CanonicalValue { form: Form::List(was), .. }), None) if has_rows(was) => {
                return self.rows(key, at, was, &[]);
            }
            (
                Some(CanonicalValue { form: Form::Text(was), .. }),
                Some(CanonicalValue { form: Form::Text(is), .. }),
            ) if was.chars().count().max(is.chars().count()) > LONGEST_QUOTE => {
                says!("amended-text", what = what, how = rewritten(was, is))
            }
            (Some(was), Some(is)) => {
                says!("amended-changed", what = what, was = said(was, at.guide), is = said(is, at.guide))
            }
            (None, Some(is)) => says!("amended-said", what = what, is = said(is, at.guide)),
            (Some(was), None) => says!("amended-unsaid", what = what, was = said(was, at.guide)),
            (None, None) => return,
        };
        self.note(at, message);
    }

    /// A list, row by row.
    fn rows(&mut self, key: &str, at: &At<'_>, was: &[CanonicalValue], is: &[CanonicalValue]) {
        let guide = at.guide.and_then(SchemaNode::element);
        let matched = matched(was, is, key);
        let names = self.names.clone();
        let call =
            |row: &CanonicalValue, place: usize| within(at.subject.as_ref(), called(key, row, place, &names));
        for &(before, after) in &matched {
            match (before.map(|one| (one, &was[one])), after.map(|one| (one, &is[one]))) {
                (Some((place, old)), Some((_, new))) if old != new => {
                    let what = call(old, place);
                    let at = At { subject: Some(what.clone()), guide, span: new.span.clone(), path: at.path };
                    match (&old.form, &new.form) {
                        (Form::Table(old), Form::Table(new)) => self.fields(&at, old, new),
                        _ => self.note(
                            &at,
                            says!(
                                "amended-changed",
                                what = what,
                                was = said(old, guide),
                                is = said(new, guide)
                            ),
                        ),
                    }
                }
                (Some((place, old)), None) => {
                    let what = call(old, place);
                    let message = match content(key, old, guide) {
                        None => says!("amended-out", what = what),
                        Some(fields) => says!("amended-out-with", what = what, fields = fields),
                    };
                    self.note(&At { guide, ..at.clone() }, message);
                }
                (None, Some((place, new))) => {
                    let at = At { guide, span: new.span.clone(), ..at.clone() };
                    let what = call(new, place);
                    let message = match content(key, new, guide) {
                        None => says!("amended-added", what = what),
                        Some(fields) => says!("amended-added-with", what = what, fields = fields),
                    };
                    self.note(&at, message);
                }
                _ => {}
            }
        }
        let kept: Vec<(usize, usize)> =
            matched.iter().filter_map(|(old, new)| Some(((*old)?, (*new)?))).collect();
        if !kept.is_sorted_by_key(|(_, new)| *new) {
            let what = within(at.subject.as_ref(), several(key));
            self.note(at, says!("amended-order", what = what));
        }
    }

    /// The public photographs, by their digests.
    fn photographs(&mut self, was: Option<&CanonicalValue>, is: &Digests) {
        let none = BTreeMap::new();
        let was = was.map_or(&none, table);
        for file in was.keys().chain(is.keys()).collect::<BTreeSet<_>>() {
            let message = match (was.get(file), is.get(file)) {
                (Some(was), Some(is)) if was.as_text() == Some(is) => continue,
                (Some(_), Some(_)) => says!("photograph-replaced", file = file.as_str()),
                (None, _) => says!("photograph-added", file = file.as_str()),
                (_, None) => says!("photograph-out", file = file.as_str()),
            };
            let path = match is.contains_key(file) {
                true => format!("pieces/{}/photos/{file}", self.folder),
                false => self.path.clone(),
            };
            let at = At { subject: None, guide: None, span: 0..0, path: &path };
            self.note(&at, message);
        }
    }

    fn story(&mut self, was: Option<&CanonicalValue>, is: Option<&CanonicalValue>) {
        let text = |story: Option<&CanonicalValue>| {
            story.and_then(CanonicalValue::as_text).unwrap_or_default().to_owned()
        };
        let (was, is) = (text(was), text(is));
        let message = match (was.as_str(), is.as_str()) {
            (was, is) if was == is => return,
            ("", _) => says!("story-added"),
            (_, "") => says!("story-out"),
            (was, is) => says!("story-changed", how = rewritten(was, is)),
        };
        let path = format!("pieces/{}/story.md", self.folder);
        self.note(&At { subject: None, guide: None, span: 0..0, path: &path }, message);
    }
}

/// Whether a list holds tables, or texts worth a line each; ids and numbers are told together.
fn has_rows(list: &[CanonicalValue]) -> bool {
    list.iter().any(|each| match &each.form {
        Form::Table(_) => true,
        Form::Text(text) => text.contains(' '),
        _ => false,
    })
}

/// By what a row is known again; nothing where it has no such name.
type Name<'a> = &'a dyn Fn(&CanonicalValue) -> Option<String>;

/// Pairs of rows that are one row before and after, in the order of the rows before; then the rows that came.
fn matched(was: &[CanonicalValue], is: &[CanonicalValue], key: &str) -> Vec<(Option<usize>, Option<usize>)> {
    let mut partner: Vec<Option<usize>> = vec![None; was.len()];
    let mut taken = vec![false; is.len()];
    let main = main_words(key);
    let passes: [Name<'_>; 4] = [
        &|row| Some(row.get("id")?.as_text()?.to_owned()),
        &|row| Some(row.get("file")?.as_text()?.to_owned()),
        &|row| Some(line_of(row)),
        &|row| main.iter().find_map(|key| Some(line_of(row.get(key)?))),
    ];
    for name in passes {
        // Of several rows of one name the first takes the first, the second the second.
        let mut free: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (place, row) in is.iter().enumerate().rev().filter(|(place, _)| !taken[*place]) {
            if let Some(name) = name(row) {
                free.entry(name).or_default().push(place);
            }
        }
        for (place, row) in was.iter().enumerate() {
            if partner[place].is_some() {
                continue;
            }
            let found = name(row).and_then(|name| free.get_mut(&name)?.pop());
            if let Some(found) = found {
                (partner[place], taken[found]) = (Some(found), true);
            }
        }
    }
    let left: Vec<usize> = (0..was.len()).filter(|place| partner[*place].is_none()).collect();
    let open = taken.iter().filter(|taken| !**taken).count();
    if left.len().saturating_mul(open) <= MOST_PAIRS {
        for place in left {
            let rows = is.iter().enumerate().filter(|(place, _)| !taken[*place]);
            let best = rows
                .map(|(other, row)| (alike(&was[place], row), other))
                .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
            if let Some((_, other)) = best.filter(|(alike, _)| *alike >= 0.5) {
                (partner[place], taken[other]) = (Some(other), true);
            }
        }
    }
    let kept = partner.into_iter().enumerate().map(|(place, partner)| (Some(place), partner));
    let came = (0..is.len()).filter(|place| !taken[*place]).map(|place| (None, Some(place)));
    kept.chain(came).collect()
}

/// The share of their fields in which two tables agree.
fn alike(one: &CanonicalValue, other: &CanonicalValue) -> f64 {
    let (Some(one), Some(other)) = (one.table(), other.table()) else { return 0.0 };
    let same = one.iter().filter(|(key, value)| other.get(*key) == Some(*value)).count();
    same as f64 / one.len().max(other.len()).max(1) as f64
}

/// A row's content as text, to compare rows by.
fn line_of(row: &CanonicalValue) -> String {
    row.json().to_string()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use chrono::NaiveDate;

    use super::*;
    use crate::record::{self, Seal};
    use crate::source::Tree;

    const NEEDED: &str = "title = \"Table\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n";

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// A workshop from the piece's record and other files; lines after `#- path` are another file's.
    fn files(text: &str) -> Vec<(String, String)> {
        let mut files = vec![("pieces/table/record.toml".to_owned(), NEEDED.to_owned())];
        for line in text.split_inclusive('\n') {
            match line.trim().strip_prefix("#- ") {
                Some(path) => files.push((path.to_owned(), String::new())),
                None => files.last_mut().unwrap().1.push_str(line),
            }
        }
        if !files.iter().any(|(path, _)| path == "workshop.toml") {
            files.push(("workshop.toml".to_owned(), "name = \"Bench\"\n".to_owned()));
        }
        files
    }

    /// The seal of a record as it reads today.
    fn sealed(text: &str) -> Seal {
        let tree = Tree::of(files(text));
        let piece = &record::read(&tree).0.pieces[0];
        let today = record::today_for_buyer(&tree, piece).unwrap();
        Seal::of(today, &digests(&tree, piece), &[], day("2026-05-16"), day("2026-05-16"))
    }

    fn digests(tree: &Tree, piece: &Piece) -> Digests {
        let digest = |file: String| {
            let bytes = tree.bytes(&piece.photo_path(&file)).unwrap();
            (file, crate::unit::fingerprint(&bytes))
        };
        piece.public_photographs().into_iter().map(digest).collect()
    }

    /// What changed from one record to the other.
    fn changes(was: &str, is: &str) -> Vec<Amendment> {
        let mut all = files(is);
        all.push(("pieces/table/sealed/001.toml".to_owned(), sealed(was).file()));
        let tree = Tree::of(all);
        let (folder, problems) = record::read(&tree);
        assert!(problems.iter().all(|problem| problem.code.name != "seal-broken"), "{problems:?}");
        amendments(&folder.pieces[0], Some(&digests(&tree, &folder.pieces[0])))
    }

    fn told(was: &str, is: &str) -> Vec<String> {
        changes(was, is).iter().map(in_words).collect()
    }

    /// An amendment as papers say it.
    fn in_words(amendment: &Amendment) -> String {
        crate::unit::capital(&crate::words::Words::for_diagnostics().say(&amendment.message))
    }

    const PART: &str = "[[part]]\nid = \"leaf-left\"\nname = \"Left leaf\"\nstanding = \"original\"\n";
    const FINDING: &str =
        "[[finding]]\nid = \"f3\"\npart = \"leaf-left\"\nseen = \"flight holes\"\nseverity = \"minor\"\n";

    #[test]
    fn what_nobody_sees_is_no_change_though_an_older_seal_holds_it() {
        let seal = sealed(PART);
        let older = |text: String| text.replace("Left leaf", "Left\u{ad} leaf\u{202e}");
        let digest = crate::unit::fingerprint(older(seal.record()).as_bytes());
        let file = older(seal.file()).replace(&seal.digest, &digest);
        let mut all = files(PART);
        all.push(("pieces/table/sealed/001.toml".to_owned(), file));
        let (folder, problems) = record::read(&Tree::of(all));
        assert_eq!(problems, [], "the seal holds");
        assert_eq!(amendments(&folder.pieces[0], None), []);
    }

    #[test]
    fn a_field_says_what_it_was_and_what_it_is() {
        assert_eq!(
            told(PART, &PART.replace("\"original\"", "\"old-repair\"")),
            ["Part “Left leaf”, standing: “original” before, “old repair” now"]
        );
        assert_eq!(
            told(
                "size = { width = 900, depth = 400, height = 735 }\nweighs = 20\nmade = 1925",
                "size = { width = 910.5, depth = 400.0, height = 735 }\nmade = \"192X\""
            ),
            [
                "Years of making: “1925” before, “192X” now",
                "Size, width: 900 mm before, 910.5 mm now",
                "Weight: 20 kg before, no longer said",
            ]
        );
        assert_eq!(told("", "maker = \"unknown\""), ["Maker: now said, “not known”"]);
    }

    #[test]
    fn rows_come_and_go_with_what_they_say() {
        assert_eq!(
            told(PART, &format!("{PART}{FINDING}")),
            ["Added: finding “flight holes” (parts “leaf-left”, severity “minor”)"]
        );
        assert_eq!(
            told(&format!("{PART}{FINDING}"), PART),
            ["Taken out: finding “flight holes” (parts “leaf-left”, severity “minor”)"]
        );
    }

    #[test]
    fn a_renamed_part_is_known_by_its_id_and_work_without_one_by_most_of_what_it_says() {
        assert_eq!(
            told(PART, &PART.replace("Left leaf", "Near leaf")),
            ["Part “Left leaf”, name: “Left leaf” before, “Near leaf” now"]
        );
        let work = "[[work]]\non = 2026-03-11\ndid = \"glued it\"\nby = \"hide glue\"\nundoable = \"yes\"\n";
        assert_eq!(
            told(work, &work.replace("glued it", "glued the split")),
            ["Work “glued it”, what was done: “glued it” before, “glued the split” now"]
        );
        assert_eq!(
            told(work, "[[work]]\ndid = \"waxed it\"\n"),
            [
                "Taken out: work “glued it” (the means “hide glue”, the day 11 March 2026, whether it can be undone “yes”)",
                "Added: work “waxed it”",
            ]
        );
    }

    #[test]
    fn steps_are_told_by_their_place_and_their_order_counts() {
        let surface = |steps: &str| format!("[[surface]]\nname = \"Top\"\nsteps = [{steps}]\n");
        let (one, two) = ("{ clean = \"water\" }", "{ apply = \"shellac\", coats = 2 }");
        assert_eq!(
            told(&surface(&format!("{one}, {two}")), &surface(&format!("{one}, {}", two.replace('2', "3")))),
            ["Surface “Top”, step 2, coats: 2 before, 3 now"]
        );
        assert_eq!(
            told(&surface(&format!("{one}, {two}")), &surface(&format!("{two}, {one}"))),
            ["Surface “Top”, steps: the order was changed"]
        );
    }

    #[test]
    fn the_story_and_long_texts_quote_what_changed_within_them() {
        let story =
            |words: &str| format!("#- pieces/table/story.md\nIt came {words} in the spring of the year.\n");
        assert_eq!(
            told(&story("with a split"), &story("with two splits")),
            ["The story: “a split” is now “two splits”"]
        );
        assert_eq!(told(&story("x"), &story("x\n")), ["The story: broken into other lines"]);
        assert_eq!(told("", &story("x")), ["The story was added"]);
        let long = |word: &str| {
            format!("stance = \"{} {word} {}\"", "so ".repeat(40).trim(), "on ".repeat(40).trim())
        };
        assert_eq!(told(&long("it"), &long("we")), ["Stance: “it” is now “we”"]);
    }

    #[test]
    fn photographs_are_known_by_their_bytes() {
        assert_eq!(
            told(
                "#- pieces/table/photos/after.jpg\na\n#- pieces/table/photos/before.jpg\nb\n#- pieces/table/photos/receipt.pdf\np",
                "#- pieces/table/photos/after.jpg\nc\n#- pieces/table/photos/during.jpg\nd"
            ),
            [
                "Photograph “after.jpg” was replaced",
                "Photograph “before.jpg” was taken out",
                "Photograph “during.jpg” was added",
            ]
        );
    }

    /// A photograph with a mark on the split.
    fn marked(mark: &str) -> String {
        format!(
            "[[finding]]\nid = \"f1\"\nseen = \"split\"\n[[photo]]\nfile = \"a.jpg\"\n\
             marks = [{{ {mark}finding = \"f1\" }}]\n"
        )
    }

    #[test]
    fn a_mark_is_told_in_one_sentence_without_numbers() {
        let (point, moved) = (marked("at = [0.5, 0.25], "), marked("at = [0.5, 0.3], "));
        let line = marked("line = [[0.1, 0.2], [0.3, 0.4]], ");
        let mark = "Words to photograph “a.jpg”, mark “split”";
        let told = |was: &str, is: &str, words: &str| assert_eq!(super::tests::told(was, is), [words]);
        told(&point, &moved, &format!("{mark}: moved on the picture"));
        told(&point, &line, &format!("{mark}: now a line instead of a point"));
        told(&point, &marked(""), &format!("{mark}: no longer shown on the picture"));
        told(&marked(""), &point, &format!("{mark}: now shown on the picture, as a point"));
        told(
            &marked("").replace("{ finding = \"f1\" }", ""),
            &line,
            &format!("Added: {}", mark.replace("Words", "words")),
        );
        let area = |from: &str, mm: u32| {
            marked(&format!(
                "area = [[0, 0], [1, 0], [1, 1], [0, 1]], scale = {{ from = [{from}, 0], to = [1, 0], mm = {mm} }}, "
            ))
        };
        told(
            &area("0", 300),
            &area("0.1", 300),
            &format!("{mark}, known length: its ends on the picture were moved"),
        );
        told(
            &area("0", 300),
            &area("0", 310),
            &format!("{mark}, known length, length: 300 mm before, 310 mm now"),
        );
        let bare = area("0", 300).replace("scale = { from = [0, 0], to = [1, 0], mm = 300 }, ", "");
        told(&bare, &area("0", 300), &format!("{mark}, known length: now said, length 300 mm"));
    }

    #[test]
    fn points_of_a_pair_and_patches_of_a_match_are_told_without_numbers() {
        let pair = |points: &str| format!("[[pair]]\nbefore = \"a.jpg\"\nafter = \"b.jpg\"\n{points}");
        let (none, one) = (pair(""), pair("landmarks = [[0.1, 0.2, 0.3, 0.4]]"));
        let told = |was: &str, is: &str, words: &str| assert_eq!(super::tests::told(was, is), [words]);
        let told_of = |was: &str, is: &str, verb: &str| {
            let words =
                format!("Pair of photographs “b.jpg”: the points that lay before onto after were {verb}");
            told(was, is, &words);
        };
        told_of(&none, &one, "added");
        told_of(&one, &none, "taken out");
        told_of(&one, &one.replace("0.4", "0.5"), "moved");
        told_of(&one, &one.replace("0.4]]", "0.4], [0.5, 0.5, 0.5, 0.5]]"), "changed");
        told("", &one, "Added: pair of photographs “b.jpg” (before “a.jpg”)");
        let swatch = |more: &str, end: &str| {
            format!(
                "[[swatch]]\nphoto = \"a.jpg\"\ntarget = [0, 0, 1, {end}]\nresult = [0, 0, {end}, 1]\n{more}"
            )
        };
        let patches = "Swatch “a.jpg”: the patches of the colour match were";
        told(&swatch("", "0.5"), &swatch("", "0.6"), &format!("{patches} moved"));
        told(&swatch("", "0.5"), &swatch("grey = [0, 0, 0.1, 0.1]", "0.5"), &format!("{patches} changed"));
        told("", &swatch("", "0.5"), "Added: swatch “a.jpg”");
    }

    #[test]
    fn a_moved_mark_stands_where_it_lies_now() {
        let (was, is) = (marked("at = [0.5, 0.25], "), marked("at = [0.5, 0.3], "));
        let (start, end) = changes(&was, &is)[0].place.span.unwrap();
        assert_eq!(&format!("{NEEDED}{is}")[start..end], "[0.5, 0.3]");
    }

    #[test]
    fn what_is_private_makes_no_amendment() {
        let private = "hours = 3\nnotes = \"n\"\nasking = 3\npublish = false\nfound = { paid = 4 }\n\
             cost = [{ what = \"x\", amount = 3 }]\nhandover = { price = 240 }\n\
             photo = [{ file = \"x.jpg\", private = true, caption = \"c\" }]\ncover = \"x.jpg\"\n\
             pair = [{ before = \"x.jpg\", after = \"y.jpg\" }]\n#- pieces/table/photos/x.jpg\nbytes";
        assert_eq!(told("", private), Vec::<String>::new());
        assert_eq!(told(private, ""), Vec::<String>::new());
        assert!(!sealed(private).file().contains("x.jpg"));
    }

    #[test]
    fn the_buyers_name_is_in_no_seal_and_makes_no_amendment() {
        let to = |name: &str| format!("handover = {{ to = \"{name}\", given = [\"a key\"] }}");
        assert!(!sealed(&to("Ada")).file().contains("Ada"));
        assert_eq!(told(&to("Ada"), &to("Bea")), Vec::<String>::new());
    }

    #[test]
    fn a_name_in_a_seal_of_an_older_program_is_no_amendment_when_it_leaves_the_record() {
        let record = format!("{NEEDED}handover = {{ on = 2026-05-16 }}\n");
        let tree =
            Tree::of([("workshop.toml", "name = \"W\""), ("pieces/table/record.toml", record.as_str())]);
        let read = &record::read(&tree).0.pieces[0];
        let mut older = record::today_for_buyer(&tree, read).unwrap();
        if let Form::Table(record) = &mut older.form
            && let Some(Form::Table(handover)) = record.get_mut("handover").map(|said| &mut said.form)
        {
            handover.insert("to".to_owned(), CanonicalValue::text("Ada"));
        }
        let seal = Seal::of(older, &Digests::new(), &[], day("2026-05-16"), day("2026-05-16"));
        assert!(seal.file().contains("to = \"Ada\""));
        let files = [
            ("workshop.toml", "name = \"W\"".to_owned()),
            ("pieces/table/record.toml", record),
            ("pieces/table/sealed/001.toml", seal.file()),
        ];
        let (folder, problems) = record::read(&Tree::of(files));
        assert_eq!(problems, [], "the old seal still fits");
        assert_eq!(amendments(&folder.pieces[0], None), []);
    }

    #[test]
    fn the_day_of_the_seal_is_not_missed_in_the_record_and_may_be_written_there() {
        assert_eq!(told("", "handover = { on = 2026-05-16 }"), Vec::<String>::new());
        assert_eq!(
            told("", "handover = { on = 2026-05-17 }"),
            ["Handover, the day: 16 May 2026 before, 17 May 2026 now"]
        );
    }

    #[test]
    fn a_tin_that_the_record_names_is_part_of_what_it_says() {
        let with = |days: &str| {
            format!(
                "surface = [{{ name = \"Top\", steps = [{{ apply = \"tin:satin\" }}] }}]\n#- workshop.toml\nname = \"W\"\n\
                 [[tin]]\nid = \"satin\"\nis = \"oil-varnish\"\nname = \"Satin\"\nprice = 9\nfull-cure-days = [{days}, 30]\n\
                 [[tin]]\nid = \"other\"\nis = \"wax\"\n"
            )
        };
        assert_eq!(
            told(&with("7"), &with("14").replace("price = 9", "price = 8").replace("wax", "shellac")),
            ["Tin “Satin”, full cure days: 7, 30 before, 14, 30 now"]
        );
    }

    #[test]
    fn an_amendment_stands_where_the_change_is() {
        let record = format!("{NEEDED}{PART}");
        let amendments = changes(&PART.replace("original", "new"), PART);
        let (start, end) = amendments[0].place.span.unwrap();
        assert_eq!(&record[start..end], "\"original\"");
    }

    #[test]
    fn a_list_of_many_unlike_rows_takes_no_time() {
        let many = |word: &str| {
            (0..3000)
                .map(|n| format!("[[undone]]\nwhat = \"{word} {n}\"\nwhy = \"not-needed\"\n"))
                .collect::<String>()
        };
        let begun = std::time::Instant::now();
        assert_eq!(told(&many("a"), &many("b")).len(), 6000);
        assert!(begun.elapsed().as_secs() < 20);
    }

    const LINES: &[&str] = &[
        "maker = \"unknown\"",
        "made = 1925",
        "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"",
        "[[part]]\nid = \"b\"\nname = \"A\"\nstanding = \"new\"",
        "[[work]]\ndid = \"x\"\npart = [\"a\", \"b\"]",
        "[[work]]\ndid = \"x\"",
        "[[surface]]\nsteps = [{ clean = \"x\" }, { clean = \"x\" }, { clean = \"y\" }]",
        "[[surface]]\nsteps = [{ clean = \"y\" }, {}]",
        "[use]\ncautions = [\"one thing\", \"another thing\"]",
        "[[swatch]]\nphoto = \"a.jpg\"\ntarget = [0, 0, 1, 1]\nresult = [0, 0, 0.5, 1]",
        "[[swatch]]\nphoto = \"a.jpg\"\ngrey = [0, 0, 1, 1]\ntarget = [0, 0, 1, 1]\nresult = [0, 0, 0.5, 1]",
        "[[photo]]\nfile = \"a.jpg\"\nmarks = [{ at = [0, 0], note = \"x\" }, { at = [1, 0], note = \"x\" }]",
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [{ line = [[0, 0], [1, 0]], note = \"x\" }]",
    ];

    proptest! {
        /// A record is told as changed exactly where its canonical form is another.
        #[test]
        fn every_change_is_told_and_nothing_else(
            was in prop::sample::subsequence(LINES, 0..LINES.len()),
            is in prop::sample::subsequence(LINES, 0..LINES.len()),
        ) {
            let (was, is) = (was.join("\n"), is.join("\n"));
            let same = sealed(&was).record() == sealed(&is).record();
            prop_assert_eq!(told(&was, &is).is_empty(), same);
            prop_assert_eq!(told(&is, &is), Vec::<String>::new());
        }
    }
}
