//! What holds for the archive as a whole.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rusqlite::types::Value;
use rust_decimal::Decimal;

use super::database::LINES;
use super::*;
use crate::derive::Workpiece;
use crate::record::{self, Folder};
use crate::source::{Tree, open_database};
use crate::trade::Trade;

const WORKSHOP: &str = "name = \"W\"\ncurrency = \"GBP\"\nhourly-rate = 20\n\
    [[tin]]\nid = \"wax\"\nis = \"paste-wax\"\nprice = 10\nlitres = 1\n";

const STOCK: &str = "[[stock]]\nid = \"plank\"\nwhat = \"an oak plank\"\npaid = 9\ncount = 4\n";

const CHEST: &str = r#"
title = "Chest"
number = "CH-1"
kind = "chest/blanket"
found = { on = 2025-03-01, paid = 20.00 }
hours = 3
part = [{ id = "lid", name = "Lid", standing = "original", timber = "oak", from-stock = "plank" }]
finding = [{ id = "f1", part = "lid", seen = "split" }, { id = "f2", part = "lid", seen = "worn runner" }]
work = [
  { id = "w1", on = 2025-04-02, part = "lid", did = "closed the split with white glue", mends = "f1", task = "gluing", hours = 1.5, turned-out = "failed" },
  { id = "w2", on = 2025-04-09, part = "lid", did = "glued it again", redoes = "w1", task = "gluing", hours = 0.25 },
]
undone = [{ what = "the runner", leaves = "f2", why = "not-needed", effect = "It slides." }]
lesson = [{ text = "Warm the glue.", for = ["chest", "glue"] }]
cost = [{ what = "wax", tin = "wax", share = 0.5, on = 2025-04-10 }, { what = "glue", amount = 1.10 }]
handover = { on = 2025-05-01, price = 100 }
"#;

const STOOL: &str = r#"
title = "Stool"
number = "ST-1"
kind = "seating/stool"
asking = 30
part = [{ id = "seat", name = "Seat", standing = "original", timber = "beech", from-stock = "plank" }]
work = [{ on = 2025-06-01, part = "seat", did = "oiled the seat", task = "finishing", hours = 1 }]
open = [{ what = "felt below the feet", due = 2025-07-01 }]
"#;

impl Archive {
    /// The archive of some pieces, for tests of what is made from its answers.
    pub(crate) fn of_pieces(folder: &Folder, pieces: &[Workpiece], trade: &Trade) -> Archive {
        let folders: Vec<String> = folder.pieces.iter().map(|piece| piece.folder.clone()).collect();
        let rows = || pieces.iter().map(|piece| Entries::of(folder, piece, trade, Beside::default()));
        Archive::brought(None, &Shared::of(folder, String::new(), []), &folders, rows)
            .expect("memory suffices")
            .0
    }
}

struct Made {
    folder: Folder,
    entries: Vec<Entries>,
}

fn made(pieces: &[(&str, &str)]) -> Made {
    let files =
        [("workshop.toml".to_owned(), WORKSHOP.to_owned()), ("stock.toml".to_owned(), STOCK.to_owned())];
    let records =
        pieces.iter().map(|(folder, record)| (format!("pieces/{folder}/record.toml"), (*record).to_owned()));
    let (folder, _) = record::read(&Tree::of(files.into_iter().chain(records)));
    let trade = Trade::built_in();
    let entries = folder
        .pieces
        .iter()
        .filter_map(|piece| Workpiece::unopened(&folder, piece, trade))
        .map(|workpiece| Entries::of(&folder, &workpiece, trade, Beside::default()))
        .collect();
    Made { folder, entries }
}

impl Made {
    fn bring(&self, archive: &mut Archive) -> Brought {
        let folders: Vec<String> = self.folder.pieces.iter().map(|piece| piece.folder.clone()).collect();
        let shared = Shared::of(&self.folder, String::new(), []);
        archive.bring(&shared, &folders, self.entries.iter().cloned()).unwrap()
    }

    fn archive(&self, before: Option<&[u8]>) -> (Archive, Brought) {
        let folders: Vec<String> = self.folder.pieces.iter().map(|piece| piece.folder.clone()).collect();
        let shared = Shared::of(&self.folder, String::new(), []);
        Archive::brought(before, &shared, &folders, || self.entries.iter().cloned()).unwrap()
    }
}

/// Every row of every table, but for the inner tables of the index, which is asked whether it fits its lines.
fn content(archive: &Archive) -> BTreeMap<String, Vec<Vec<Value>>> {
    let connection = &archive.connection;
    let query = "SELECT name, sql FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'words%'";
    let mut tables = connection.prepare(query).unwrap();
    let tables: Vec<String> = tables.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
    connection
        .execute("INSERT INTO words (words, rank) VALUES ('integrity-check', 1)", [])
        .expect("the index fits");
    let sound: String = connection.pragma_query_value(None, "integrity_check", |row| row.get(0)).unwrap();
    assert_eq!(sound, "ok");
    let rows = |table: &String| {
        let mut rows = connection.prepare(&format!("SELECT * FROM \"{table}\"")).unwrap();
        let columns = rows.column_count();
        let rows = rows.query_map([], |row| (0..columns).map(|at| row.get(at)).collect()).unwrap();
        rows.map(Result::unwrap).collect()
    };
    tables.iter().map(|table| (table.clone(), rows(table))).collect()
}

fn asked<T>(archive: &Archive, ask: impl FnOnce(&Asking<'_>) -> T) -> T {
    let today = NaiveDate::from_ymd_opt(2026, 1, 15).unwrap();
    ask(&Asking { archive, trade: Trade::built_in(), today })
}

#[test]
fn the_same_workshop_is_the_same_archive_however_it_came_about() {
    let other = CHEST.replace("closed the split", "shut the gap").replace("hours = 1.5", "hours = 2");
    let steps: [&[(&str, &str)]; 6] = [
        &[],
        &[("b", CHEST)],
        &[("a", STOOL), ("b", CHEST), ("c", STOOL)],
        &[("a", STOOL), ("b", &other)],
        &[("b", &other), ("d", STOOL)],
        &[("a", STOOL), ("b", CHEST)],
    ];
    let mut bytes: Option<Vec<u8>> = None;
    for step in steps {
        let made = made(step);
        let (mut anew, _) = made.archive(None);
        let grown = match &bytes {
            None => anew.bytes().unwrap(),
            Some(bytes) => {
                // Piece by piece, as a large archive is changed.
                let mut grown = Archive::of(bytes).unwrap();
                assert!(made.bring(&mut grown).anything());
                assert_eq!(content(&grown), content(&anew));
                assert!(!made.bring(&mut grown).anything());
                // A small one is the same to the byte.
                assert_eq!(made.archive(Some(bytes)).0.bytes().unwrap(), anew.bytes().unwrap());
                grown.bytes().unwrap()
            }
        };
        let (mut again, brought) = made.archive(Some(&grown));
        assert!(!brought.anything(), "{brought:?}");
        assert_eq!(again.bytes().unwrap(), grown, "what did not change is not touched");
        assert_eq!(made.archive(None).0.bytes().unwrap(), anew.bytes().unwrap(), "from nothing, to the byte");
        bytes = Some(grown);
    }
}

#[test]
fn what_cannot_be_read_keeps_its_rows_and_what_is_gone_has_none() {
    let (mut before, _) = made(&[("a", STOOL), ("b", CHEST)]).archive(None);
    let whole = content(&before);
    let broken = made(&[("a", STOOL), ("b", "title = [")]);
    let (mut after, brought) = broken.archive(Some(&before.bytes().unwrap()));
    assert_eq!(
        (brought.replaced, brought.removed, brought.beside),
        (1, 0, true),
        "the stool bears all of the plank now"
    );
    let unread: i64 = after
        .connection
        .query_row("SELECT unread FROM piece WHERE folder = 'b'", [], |row| row.get(0))
        .unwrap();
    assert_eq!(unread, 1);
    assert_eq!(asked(&after, |ask| ask.words("split", 9, 9)).unwrap().pieces, 1);
    let (mended, _) = made(&[("a", STOOL), ("b", CHEST)]).archive(Some(&after.bytes().unwrap()));
    assert_eq!(content(&mended), whole);
    let (gone, _) = made(&[("a", STOOL)]).archive(Some(&before.bytes().unwrap()));
    assert_eq!(asked(&gone, |ask| ask.words("split", 9, 9)).unwrap().found, Found::Nothing);
}

#[test]
fn a_damaged_older_or_newer_database_is_made_anew() {
    let made = made(&[("a", STOOL), ("b", CHEST)]);
    let (mut sound, _) = made.archive(None);
    let whole = content(&sound);
    let bytes = sound.bytes().unwrap();
    let with_version = |version: i32| {
        let mut bytes = bytes.clone();
        bytes[60..64].copy_from_slice(&version.to_be_bytes());
        bytes
    };
    assert!(matches!(Archive::of(&with_version(VERSION + 1)), Err(ArchiveFault::Newer(_))));
    assert!(matches!(Archive::of(&with_version(0)), Err(ArchiveFault::Another)));
    assert!(matches!(
        Archive::of(&bytes[..bytes.len() - 4096]),
        Err(ArchiveFault::CutShort | ArchiveFault::Sqlite(_))
    ));
    let mut odd = vec![
        Vec::new(),
        b"SQLite format 3\0".to_vec(),
        vec![0xff; 9000],
        bytes[..1000].to_vec(),
        bytes[..bytes.len() - 4096].to_vec(),
        with_version(VERSION + 1),
        with_version(0),
    ];
    // A page that was overwritten, each in turn.
    for page in 1..bytes.len() / 4096 {
        let mut spoilt = bytes.clone();
        spoilt[page * 4096..(page + 1) * 4096].fill(0x5a);
        odd.push(spoilt);
    }
    let changed = made_with(CHEST.replace("white glue", "hide glue"));
    for bytes in odd {
        let (archive, _) = changed.archive(Some(&bytes));
        drop(archive);
        if bytes.len() < 9000 || Archive::of(&bytes).is_err() {
            let (archive, brought) = made.archive(Some(&bytes));
            assert!(brought.anything());
            assert_eq!(content(&archive), whole);
        }
    }
}

fn made_with(chest: String) -> Made {
    made(&[("a", STOOL), ("b", &chest)])
}

#[test]
fn every_table_and_column_is_documented() {
    let (archive, _) = made(&[]).archive(None);
    let query = "SELECT count(*) FROM sqlite_schema JOIN pragma_table_info(sqlite_schema.name) AS info
        LEFT JOIN documentation ON of_table = sqlite_schema.name AND of_column = info.name AND documentation.says <> ''
        WHERE sqlite_schema.type = 'table' AND sqlite_schema.name NOT LIKE 'words%' AND says IS NULL
          AND info.name NOT IN ('piece', 'no', 'id', 'key', 'value', 'of_table', 'of_column', 'says')";
    assert_eq!(archive.connection.query_row::<i64, _, _>(query, [], |row| row.get(0)).unwrap(), 0);
}

#[test]
fn words_are_found_however_they_are_said_and_command_nothing() {
    let (archive, _) = made(&[("a", STOOL), ("b", CHEST)]).archive(None);
    let ask = |text: &str| asked(&archive, |ask| ask.words(text, 20, 20)).unwrap();
    let pva = ask("PVA");
    assert_eq!((pva.found, pva.pieces, pva.hits[0].direct), (Found::AllWords, 1, false));
    assert!(pva.hits.iter().any(|hit| hit.plain().contains("white glue")));
    let runners = ask("runners");
    assert!(runners.hits[0].direct && runners.hits[0].sentence.contains('\u{e000}'), "{:?}", runners.hits);
    assert_eq!(ask("runn").found, Found::Beginnings);
    assert_eq!(ask("split zebra").found, Found::SomeWords);
    let near = ask("glueing splitt");
    assert!(near.found != Found::Nothing || near.near.contains(&"split".to_owned()), "{near:?}");
    assert_eq!(ask("spplit").near, ["split"]);
    for odd in [
        "\"",
        "a\" OR \"b",
        "NEAR(",
        "text:split",
        "* ^ - +",
        "🪑",
        "כיסא",
        "'; DROP TABLE line; --",
        "NOT",
        "AND OR",
        "",
    ] {
        ask(odd);
    }
    assert_eq!(ask("NOT split").found, Found::SomeWords);
}

#[test]
fn words_of_very_many_lines_are_counted_up_to_a_bound_and_tell_nothing_beside_others() {
    let (archive, _) = made(&[("a", STOOL), ("b", CHEST)]).archive(None);
    let lines = format!(
        "WITH RECURSIVE many (at) AS (SELECT 1 UNION ALL SELECT at + 1 FROM many WHERE at < 60000)
         INSERT INTO line SELECT piece * {LINES} + 1000 + at, piece, 'story', 0,
           'the plank' || iif(at = 30000, ' of a quaternion', '')
         FROM many, (SELECT min(id) AS piece FROM piece);
         INSERT INTO words (rowid, text) SELECT id, text FROM line WHERE id % {LINES} > 1000;"
    );
    archive.connection.execute_batch(&lines).unwrap();
    let ask = |text: &str, most: usize| asked(&archive, |ask| ask.words(text, most, most)).unwrap();
    let the = ask("the", 40);
    assert_eq!((the.found, the.lines, the.more, the.hits.len()), (Found::AllWords, 20_000, true, 40));
    assert!(!the.wording.tells_something() && the.hits[0].sentence.contains('\u{e000}'));
    let all = ask("the", 100_000);
    assert!(!all.more && all.lines >= 60_000 && all.hits.len() == all.lines, "{}", all.lines);
    let counted: i64 =
        archive.connection.query_row("SELECT count(*) FROM line", [], |row| row.get(0)).unwrap();
    assert_eq!(i64::try_from(the.searched.rows), Ok(counted));
    let both = ask("the quaternion", 40);
    assert_eq!((both.found, both.lines, both.more), (Found::AllWords, 1, false));
    assert_eq!(both.wording.common().collect::<Vec<_>>(), ["the"]);
    let some = ask("the quaternion xylophone", 40);
    assert_eq!((some.found, some.lines), (Found::SomeWords, 1));
    assert_eq!(ask("the quater", 40).found, Found::Beginnings);
    assert_eq!(ask("qauternion", 40).near, ["quaternion"]);
}

#[test]
#[allow(clippy::print_stdout)]
#[ignore = "times questions to an archive: ARCHIVE=FILE cargo test --release --lib -- --ignored --nocapture questions_to_an_archive"]
fn questions_to_an_archive_of_one_s_own_are_timed() {
    let path = std::env::var("ARCHIVE").expect("ARCHIVE names a file");
    let opened = open_database(path.as_ref()).expect("it opens");
    let archive = Archive::reading(opened.connection, opened.length).expect("it reads");
    for words in [
        "runner",
        "white glue",
        "loose joint",
        "oak",
        "glue",
        "the",
        "of the",
        "the runner",
        "the and of a runner",
        "dra",
        "wor",
        "sto",
        "the dra",
        "runer",
        "spplit",
        "quaternion",
        "🪑",
    ] {
        let timed = |_| {
            let begun = std::time::Instant::now();
            let answer = asked(&archive, |ask| ask.words(words, 40, 5)).unwrap();
            (begun.elapsed(), answer.lines, answer.more)
        };
        let mut times: Vec<_> = (0..7).map(timed).collect();
        times.sort();
        println!(
            "{words:20} {:?} in the middle, {:?} at the longest: {:?}",
            times[3].0, times[6].0, times[6].1
        );
    }
}

#[test]
fn an_archive_of_nothing_answers_that_there_is_nothing() {
    let (archive, _) = made(&[]).archive(None);
    asked(&archive, |ask| {
        assert_eq!(ask.words("oak", 9, 9).unwrap().found, Found::Nothing);
        assert!(ask.time("gluing").unwrap().works.is_empty());
        assert_eq!(ask.quote("chest", &[]).unwrap().expected(), None);
        assert!(ask.faults("split").unwrap().faults.is_empty());
        assert_eq!(ask.money(Some(2025)).unwrap().whole, MoneyRow::default());
        assert!(ask.lessons(None).unwrap().lessons.is_empty());
        assert!(ask.due(ask.today).unwrap().due.is_empty());
        assert_eq!(ask.care("CH-1", None).unwrap(), Err(Vec::new()));
        assert!(ask.colour(ColourQuestion::default()).unwrap().measured.is_empty());
    });
}

#[test]
fn a_year_worked_by_hand() {
    let (archive, _) = made(&[("a", STOOL), ("b", CHEST)]).archive(None);
    let money = asked(&archive, |ask| ask.money(Some(2025))).unwrap();
    let pounds = |text: &str| text.parse::<Decimal>().unwrap();
    // Chest: 20.00 paid, half a tin at 10.00, glue 1.10, half of a plank at 9.00. Stool: the other half.
    assert_eq!(money.whole.spent, pounds("35.10"));
    assert_eq!((money.whole.taken, money.whole.sold), (pounds("100"), 1));
    assert_eq!(money.whole.hours, pounds("2.75"));
    // 100 less 30.60, over 1.75 hours.
    assert_eq!(money.whole.earned.per_hour().unwrap().round_dp(4), pounds("39.6571"));
    assert_eq!(money.by_time.keys().copied().collect::<Vec<_>>(), [3, 4, 5, 6]);
    // The glue and the shares of the plank have no day.
    assert_eq!(money.by_time[&4].spent, pounds("10.60"));
    assert_eq!(money.undated, 3);
    assert_eq!(money.without_amount, 1, "what was paid for the stool is not recorded");
    assert_eq!((money.unsold.len(), money.unsold[0].spent), (1, pounds("4.5")));
    assert_eq!(asked(&archive, |ask| ask.money(Some(2024))).unwrap().whole, MoneyRow::default());
}

#[test]
fn times_faults_stock_and_what_is_due() {
    let (archive, _) = made(&[("a", STOOL), ("b", CHEST)]).archive(None);
    asked(&archive, |ask| {
        let time = ask.time("Gluing").unwrap();
        assert_eq!((time.works.len(), time.rows[0].hours.median.to_string().as_str()), (2, "1.75"));
        let faults = ask.faults("splits").unwrap();
        let [fault] = &faults.faults[..] else { panic!("{faults:?}") };
        assert!(fault.redone() && fault.remedies.len() == 2, "{fault:?}");
        assert_eq!(fault.hours().unwrap().to_string(), "1.75");
        assert_eq!(ask.faults("runner").unwrap().faults[0].left.len(), 1);
        let stock = ask.stock(Some("plank")).unwrap();
        let [plank] = &stock.stock[..] else { panic!("{stock:?}") };
        assert_eq!((plank.used(), plank.left()), ((Decimal::from(2), true), Some(Decimal::from(2))));
        assert_eq!(plank.uses.iter().filter_map(|used| used.bears).sum::<Decimal>(), Decimal::from(9));
        assert_eq!(ask.stock(Some("plonk")).unwrap().near, ["plank"]);
        let tins = ask.stock(Some("wax")).unwrap().tins;
        assert_eq!(tins[0].used().1.to_string(), "0.5");
        let due = ask.due(ask.today).unwrap();
        let kinds: Vec<DueKind> = due.due.iter().map(|due| due.kind).collect();
        assert_eq!(kinds, [DueKind::Open, DueKind::Unsold]);
        assert_eq!(ask.lessons(Some("glue")).unwrap().lessons.len(), 1);
        assert_eq!(ask.lessons_for("chest/blanket", "Pine chest").unwrap().len(), 1);
        assert_eq!(ask.care("CH-2", None).unwrap(), Err(vec!["CH-1 (Chest)".to_owned()]));
        let quote = ask.quote("chest", &["gluing".to_owned()]).unwrap();
        assert_eq!(quote.expected().unwrap().1.to_string(), "1.75");
    });
}
