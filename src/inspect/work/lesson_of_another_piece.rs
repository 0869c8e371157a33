//! Work of the kind that taught a lesson on another piece.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::derive::coating;
use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::fields::{Said, Text};
use crate::inspect::case::at_the_bench;
use crate::inspect::{Check, Rule, Shop};
use crate::record::{Act, Lesson, PartId, Piece, Record};
use crate::trade::{Trade, stems};
use crate::unit::fold::folded;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "lesson-of-another-piece",
    rank: Rank::Hint,
    why: "It was written down to be remembered when something like this is done again, and that is now.",
    fix: "Read it before the work goes on. Where it was heeded, name the piece that taught it by its number in a `why`, a `note` or a decision, and no more is said of it.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let lessons = taught(shop);
    if lessons.is_empty() {
        return;
    }
    for piece in &shop.folder.pieces {
        let Some(record) = piece.record.as_ref().filter(|record| at_the_bench(piece, record)) else {
            continue;
        };
        let kind: BTreeSet<String> = record.kind.split('/').map(folded).collect();
        let deeds = deeds(shop, record);
        let said = said(record);
        for lesson in lessons.iter().filter(|lesson| is_another(lesson.of, piece)) {
            if said.contains(&lesson.number) || !lesson.is_for(&kind) {
                continue;
            }
            let Some((deed, word)) = deeds.iter().find_map(|deed| Some((deed, lesson.warns_of(deed)?)))
            else {
                continue;
            };
            let number = lesson.of.record.as_ref().map_or("", |record| &**record.number);
            let message =
                format!("{number} taught of {word}: \"{}\"", lesson.text.trim().trim_end_matches('.'));
            let place = Place::at(&piece.record_path(), &deed.span);
            let help = format!("where this was heeded, name `{number}` in a `why` or a `note`");
            seen.push(Diagnostic::new(&CODE, place, message).help(help));
        }
    }
}

/// Whether a lesson of one piece is of another work than what is done to the other.
fn is_another(one: &Piece, other: &Piece) -> bool {
    one.folder != other.folder && !one.is_set_with(other)
}

/// A lesson, with its words by what they tell.
struct Taught<'a> {
    of: &'a Piece,
    /// The piece's number, as a text is searched for it.
    number: String,
    text: &'a str,
    /// The kinds of piece that it is for; none where it is for all.
    kinds: Vec<String>,
    /// The timbers that it is for, by their ids; none where it is for all.
    timbers: BTreeSet<String>,
    /// What is done, as it was written and in the forms that a text is searched for.
    acts: Vec<(&'a str, Vec<String>)>,
}

/// Something that a record says was done.
struct Deed {
    span: Range<usize>,
    told: String,
    timbers: BTreeSet<String>,
}

impl Taught<'_> {
    fn is_for(&self, kind: &BTreeSet<String>) -> bool {
        self.kinds.is_empty() || self.kinds.iter().any(|own| kind.contains(own))
    }

    /// The word of the lesson that a deed is about.
    fn warns_of(&self, deed: &Deed) -> Option<&str> {
        if !self.timbers.is_empty() && self.timbers.is_disjoint(&deed.timbers) {
            return None;
        }
        let about = |(_, forms): &&(&str, Vec<String>)| forms.iter().any(|form| deed.told.contains(form));
        self.acts.iter().find(about).map(|(word, _)| *word)
    }
}

/// Every lesson that is about something done, each once.
fn taught<'a>(shop: &'a Shop<'_>) -> Vec<Taught<'a>> {
    let records = || shop.folder.pieces.iter().filter_map(|piece| Some((&**piece, piece.record.as_deref()?)));
    let kinds: BTreeSet<String> =
        records().flat_map(|(_, record)| record.kind.split('/')).map(folded).collect();
    let mut known: BTreeSet<(&str, Vec<&str>)> = BTreeSet::new();
    let mut taught = Vec::new();
    for (piece, record) in records() {
        for lesson in record.lessons.for_archive() {
            let words: Vec<&str> = lesson.r#for.iter().map(|word| word.0.as_str()).collect();
            if known.insert((&lesson.text.0, words)) {
                taught.extend(one(shop.trade, &kinds, (piece, record), lesson));
            }
        }
    }
    taught
}

/// One lesson; `None` where its words name kinds and timbers alone, which say nothing of what is done.
fn one<'a>(
    trade: &Trade,
    kinds: &BTreeSet<String>,
    (of, record): (&'a Piece, &'a Record),
    lesson: &'a Lesson,
) -> Option<Taught<'a>> {
    let mut taught = Taught {
        of,
        number: stems(&record.number),
        text: &lesson.text.0,
        kinds: Vec::new(),
        timbers: BTreeSet::new(),
        acts: Vec::new(),
    };
    for word in lesson.r#for.iter().map(|word| word.0.as_str()).filter(|word| !folded(word).is_empty()) {
        let timbers = timbers(word, trade);
        if kinds.contains(&folded(word)) {
            taught.kinds.push(folded(word));
        } else if !timbers.is_empty() {
            taught.timbers.extend(timbers);
        } else {
            taught.acts.push((word, forms(word, trade)));
        }
    }
    (!taught.acts.is_empty()).then_some(taught)
}

/// The timbers that a word may mean, by their ids.
fn timbers(word: &str, trade: &Trade) -> Vec<String> {
    let of = |timber| trade.timbers_of(timber).into_iter().map(|timber| timber.id.0.clone()).collect();
    trade.timber(word).map_or_else(Vec::new, of)
}

/// A word of a lesson as it was written, and as the tables of the trade call what it names.
fn forms(word: &str, trade: &Trade) -> Vec<String> {
    let named = trade.named(word).into_iter();
    let names =
        named.flat_map(|entry| [entry.id, entry.name.split(':').next().unwrap_or_default().to_owned()]);
    std::iter::once(word.to_owned()).chain(names).map(|name| stems(&name)).collect()
}

/// What a record says was done, in its order.
fn deeds(shop: &Shop<'_>, record: &Record) -> Vec<Deed> {
    let tins = shop.folder.workshop.as_ref().map_or(&[][..], |workshop| &workshop.tins);
    let part = |id: &Said<PartId>| record.parts.iter().find(|part| part.id.value == id.value);
    let on = |ids: &[Said<PartId>]| -> BTreeSet<String> {
        let said =
            ids.iter().filter_map(part).filter_map(|part| part.veneer.as_ref().or(part.timber.as_ref()));
        said.filter_map(|answer| answer.known()).flat_map(|word| timbers(word, shop.trade)).collect()
    };
    let named = |ids: &[Said<PartId>]| -> Vec<String> {
        ids.iter().filter_map(part).map(|part| part.name.to_string()).collect()
    };
    let mut deeds = Vec::new();
    for work in &record.works {
        let found =
            record.findings.iter().filter(|finding| work.mends.iter().any(|id| id.value == finding.id.value));
        let seen = found.map(|finding| finding.seen.to_string());
        let told = [Some(&work.did), work.by.as_ref(), work.task.as_ref()];
        let told =
            told.into_iter().flatten().map(|text| text.to_string()).chain(seen).chain(named(&work.part));
        deeds.push(Deed { span: work.did.span.clone(), told: together(told), timbers: on(&work.part) });
    }
    for surface in &record.surfaces {
        for step in &surface.steps {
            let Some(act) = step.act() else { continue };
            let (said, span) = match act {
                Act::Clean(what) => (what.to_string(), &what.span),
                Act::Test(what) => (what.to_string(), &what.span),
                Act::Remove(what) => (what.to_string(), &what.span),
                Act::Abrade(grits) => ("abraded".to_owned(), &grits[0].span),
                Act::Apply(what) => (what.to_string(), &what.span),
            };
            let coat = match act {
                Act::Apply(what) => coating(what, tins, shop.trade),
                _ => None,
            };
            let coat = coat.map(|coat| [coat.finish.id.0.clone(), coat.finish.name.to_string()]);
            let parts = if step.only.is_empty() { &surface.parts } else { &step.only };
            let mixed = step.mix.iter().map(|one| one.of.to_string());
            let told = std::iter::once(said).chain(coat.into_iter().flatten()).chain(mixed);
            let told = told.chain(step.by.as_ref().map(|by| by.to_string())).chain(named(parts));
            deeds.push(Deed { span: span.clone(), told: together(told), timbers: on(parts) });
        }
    }
    deeds
}

/// Texts as they are searched, each by itself.
fn together(texts: impl Iterator<Item = String>) -> String {
    texts.map(|text| stems(&text)).collect::<Vec<_>>().join("/")
}

/// What a record gives as reasons and notes, as it is searched for the number of a piece.
fn said(record: &Record) -> String {
    let works = record.works.iter().flat_map(|work| [Some(&work.did), work.why.as_ref(), work.by.as_ref()]);
    let steps = record.surfaces.iter().flat_map(|surface| &surface.steps);
    let steps = steps.flat_map(|step| [step.why.as_ref(), step.note.as_ref()]);
    let decisions = record.decisions.iter();
    let decisions = decisions
        .flat_map(|decision| [Some(&decision.ask), Some(&decision.chose), decision.because.as_ref()]);
    let notes = [record.notes.for_archive().as_ref()];
    let texts = works.chain(steps).chain(decisions).chain(notes).flatten();
    together(texts.map(|text: &Said<Text>| text.to_string()))
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    const CHAIR: &str =
        "#- pieces/chair/record.toml\ntitle = \"Chair\"\nnumber = \"CH-7\"\nkind = \"chair/side\"\n";

    fn table(record: &str, lesson: &str) -> String {
        sees(&RULE, &format!("{record}\n{CHAIR}lesson = [{lesson}]"))
    }

    const COLD: &str = "{ text = \"Warm the glue.\", for = [\"gluing\", \"joints\"] }";

    #[test]
    fn what_is_done_again_brings_its_lesson() {
        let told = "1: CH-7 taught of gluing: \"Warm the glue\" [where this was heeded, name `CH-7` in a `why` or a `note`]";
        assert_eq!(table("work = [{ did = \"glued the leg\" }, { did = \"glued it again\" }]", COLD), told);
        assert_eq!(table("work = [{ did = \"set the leg\", task = \"Gluing\" }]", COLD), told);
        assert_eq!(table("work = [{ did = \"planed the top\" }]", COLD), "");
        let mends = "finding = [{ id = \"f\", seen = \"loose joint\" }]\nwork = [{ did = \"set it\", mends = \"f\" }]";
        assert!(table(mends, COLD).starts_with("2: CH-7 taught of joints"));
        assert_eq!(
            table("finding = [{ id = \"f\", seen = \"loose joint\" }]", COLD),
            "",
            "nothing was done yet"
        );
    }

    #[test]
    fn a_lesson_that_was_heeded_or_comes_too_late_is_silent() {
        let work = "work = [{ did = \"glued the leg\"";
        assert_eq!(table(&format!("{work}, why = \"warmed, as CH-7 had it\" }}]"), COLD), "");
        assert_ne!(table(&format!("{work}, why = \"as CH-70 had it\" }}]"), COLD), "");
        assert_eq!(table(&format!("{work} }}]\nhandover = {{ on = 2026-05-01 }}"), COLD), "");
        assert_eq!(table(&format!("{work} }}]\nasking = 90"), COLD), "");
        assert_ne!(table(&format!("{work} }}]\nasking = 90\nopen = [{{ what = \"wax\" }}]"), COLD), "");
    }

    #[test]
    fn a_kind_and_a_timber_narrow_it() {
        let lesson = |words: &str| format!("{{ text = \"Try it first.\", for = [{words}] }}");
        let oxalic = |timber: &str| {
            let part = format!(
                "part = [{{ id = \"top\", name = \"Top\", standing = \"original\", timber = \"{timber}\" }}]"
            );
            format!("{part}\nwork = [{{ did = \"drew out an ink stain\", part = \"top\" }}]")
        };
        assert_ne!(table(&oxalic("black walnut"), &lesson("\"ink\", \"walnut\"")), "");
        assert_eq!(table(&oxalic("beech"), &lesson("\"ink\", \"walnut\"")), "");
        assert_eq!(table(&oxalic("beech"), &lesson("\"ink\", \"chair\"")), "", "a table is no chair");
        assert_ne!(table(&oxalic("beech"), &lesson("\"ink\", \"table\"")), "");
        assert_eq!(
            table(&oxalic("beech"), &lesson("\"table\", \"beech\"")),
            "",
            "nothing is said of what is done"
        );
    }

    #[test]
    fn a_coat_is_known_by_every_name_of_it() {
        let lesson = "{ text = \"Dust comes through.\", for = \"white polish\" }";
        let steps = |steps: &str| table(&format!("surface = [{{ steps = [{steps}] }}]"), lesson);
        assert_ne!(steps("{ apply = \"shellac\", by = \"white polish\" }"), "");
        assert_eq!(steps("{ apply = \"beeswax\" }"), "");
        let tin = "workshop.toml\nname = \"W\"\ntin = [{ id = \"milk\", is = \"milk-paint\" }]\n";
        let paint = "{ text = \"Seal first.\", for = \"milk paint\" }";
        let record = format!(
            "surface = [{{ steps = [{{ apply = \"tin:milk\" }}] }}]\n#- {tin}{CHAIR}lesson = [{paint}]"
        );
        assert!(sees(&RULE, &record).starts_with("1: CH-7 taught of milk paint"));
    }
}
