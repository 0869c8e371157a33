//! How many of the words and phrases that people say are taken rightly: each set of test data with its counts.
//!
//! A set measures the tables and the way they are read, so that a count which goes down is a loss, and one which goes
//! up is to be written down. Hardly any may be taken for a wrong row.

use super::Trade;
use super::lookup::{Taken, Words};
use super::spoken::WordTable;
use super::table::TradeRow;

/// What a word or phrase is taken for.
enum Measured {
    /// A row: it and, where it is general, all that it stands for.
    Row(Vec<String>),
    /// Something is asked or said about it.
    Asked,
    Unknown,
}

fn measured(trade: &Trade, table: &str, said: &str) -> Measured {
    let table = WordTable::ALL.iter().find(|one| one.word() == table);
    match table.unwrap_or_else(|| panic!("no table for {said}")) {
        WordTable::Board => of(&trade.board_words(), said),
        WordTable::Covering => of(&trade.covering_words(), said),
        WordTable::Edging => of(&trade.edging_words(), said),
        WordTable::Finish => of(&trade.finish_words(), said),
        WordTable::Fixing => of(&trade.fixing_words(), said),
        WordTable::Material => of(&trade.material_words(), said),
        WordTable::Repair => of(&trade.repair_words(), said),
        WordTable::Term => of(&trade.term_words(), said),
        WordTable::Timber => of(&trade.timber_words(), said),
        WordTable::Treatment => of(&trade.treatment_words(), said),
    }
}

fn of<R: TradeRow>(words: &Words<'_, R>, said: &str) -> Measured {
    match words.taken(said) {
        Taken::Row(row) => {
            let mut ids = vec![row.key().into_owned()];
            let mut at = 0;
            while at < ids.len() {
                let row = words.rows.iter().find(|row| row.value.key() == ids[at].as_str());
                let more = row.map_or(&[][..], |row| row.value.stands_for());
                let more: Vec<String> =
                    more.iter().map(|id| id.value.0.clone()).filter(|id| !ids.contains(id)).collect();
                ids.extend(more);
                at += 1;
            }
            Measured::Row(ids)
        }
        Taken::Asked(_) | Taken::Between(_) | Taken::Elsewhere(_) => Measured::Asked,
        Taken::Unknown => Measured::Unknown,
    }
}

/// How many are taken, asked about and unknown, of what was said for rows of tables; and each taken wrongly.
#[derive(Debug, Default, PartialEq)]
struct Counts {
    taken: usize,
    asked: usize,
    unknown: usize,
    wrong: Vec<String>,
}

impl Counts {
    fn add(&mut self, table: &str, said: &str, right: &[&str]) {
        match measured(Trade::built_in(), table, said) {
            Measured::Row(ids) if ids.iter().any(|id| right.contains(&id.as_str())) => self.taken += 1,
            Measured::Row(ids) => self.wrong.push(format!("{table}: {said} is taken for {}", ids[0])),
            Measured::Asked => self.asked += 1,
            Measured::Unknown => self.unknown += 1,
        }
    }
}

fn strings(value: &toml::Value) -> Vec<&str> {
    value.as_array().into_iter().flatten().filter_map(toml::Value::as_str).collect()
}

/// `tests/data/spoken.toml`: what people say for the rows, of trade usage.
#[test]
fn what_people_say_is_taken_for_its_row_or_for_one_that_stands_for_it() {
    let file: toml::Table = include_str!("../../tests/data/spoken.toml").parse().expect("it is TOML");
    let mut counts = Counts::default();
    for form in file["form"].as_array().unwrap() {
        let (table, id) = form["for"].as_str().unwrap().split_once('/').unwrap();
        strings(&form["said"]).into_iter().for_each(|said| counts.add(table, said, &[id]));
    }
    // A word of several kinds does not yet list every kind that is called by it: a torsion hinge is a hinge.
    let told = [counts.taken, counts.asked, counts.unknown, counts.wrong.len()];
    assert_eq!(told, [7349, 73, 233, 35], "{:#?}", counts.wrong);
}

/// `tests/data/conservation.toml`: published vocabularies of conditions and of conservation.
#[test]
fn terms_of_published_vocabularies_have_their_row() {
    let file: toml::Table = include_str!("../../tests/data/conservation.toml").parse().expect("it is TOML");
    let vocabularies = file["vocabulary"].as_array().unwrap();
    assert!(vocabularies.iter().all(|one| !one["source"].as_str().unwrap().is_empty()));
    let mut counts = Counts::default();
    for (said, row) in vocabularies.iter().flat_map(|one| one["terms"].as_table().unwrap()) {
        let (table, id) = row.as_str().unwrap().split_once('/').unwrap();
        counts.add(table, said, &[id]);
    }
    assert!(counts.taken > 150);
    assert_eq!(counts, Counts { taken: counts.taken, ..Counts::default() });
}

/// `tests/data/phrases.toml`: phrases as a bench writes them, most of which stand in no table.
#[test]
fn phrases_are_taken_for_their_row_or_asked_about() {
    let file: toml::Table = include_str!("../../tests/data/phrases.toml").parse().expect("it is TOML");
    // Where a row is right, where asking is, and where neither is.
    let [mut rows, mut asking, mut nothing] = <[Counts; 3]>::default();
    for phrase in file["phrase"].as_array().unwrap() {
        let [table, said] = ["in", "said"].map(|key| phrase[key].as_str().unwrap());
        let right = strings(&phrase["right"]);
        let right: Vec<&str> = right.into_iter().map(|row| row.split_once('/').unwrap().1).collect();
        let counts = match (right.as_slice(), phrase.get("ask").is_some()) {
            (_, true) => &mut asking,
            ([], false) => &mut nothing,
            _ => &mut rows,
        };
        counts.add(table, said, &right);
    }
    for counts in [&rows, &asking, &nothing] {
        assert!(counts.wrong.is_empty(), "{:#?}", counts.wrong);
    }
    let counted = [&rows, &asking, &nothing].map(|counts| [counts.taken, counts.asked, counts.unknown]);
    assert_eq!(counted, [[251, 2, 0], [0, 46, 0], [0, 0, 47]]);
}

/// Prints how phrases of another file are taken, which `PHRASES` names: `table`, `says`, the ids that are `right`, and
/// `ask` or `none` where asking or nothing is. With `WRONG` it prints those taken wrongly too.
#[test]
#[allow(clippy::print_stdout)]
#[ignore = "measures a file of one's own: PHRASES=FILE cargo test --lib -- --ignored --nocapture phrases_of"]
fn phrases_of_a_file_of_one_s_own_are_counted() {
    let path = std::env::var("PHRASES").expect("PHRASES names a file");
    let file: toml::Table = std::fs::read_to_string(path).expect("it is there").parse().expect("it is TOML");
    let [mut rows, mut asking, mut nothing] = <[Counts; 3]>::default();
    for phrase in file["phrase"].as_array().expect("it has [[phrase]]") {
        let [table, says] = ["table", "says"].map(|key| phrase[key].as_str().expect("a text"));
        let counts = match (phrase.get("ask").is_some(), phrase.get("none").is_some()) {
            (true, _) => &mut asking,
            (false, true) => &mut nothing,
            (false, false) => &mut rows,
        };
        counts.add(table, says, &phrase.get("right").map(strings).unwrap_or_default());
    }
    for (what, Counts { taken, asked, unknown, wrong }) in
        [("a row is right", &rows), ("asking is", &asking), ("nothing is", &nothing)]
    {
        println!("where {what}: {taken} taken, {asked} asked, {unknown} unknown, {} wrong", wrong.len());
        if std::env::var("WRONG").is_ok() {
            println!("{wrong:#?}");
        }
    }
}
