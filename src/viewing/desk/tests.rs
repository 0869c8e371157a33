//! Forms over every field of the schema, and changes that leave every other byte.

use proptest::prelude::*;
use toml_edit::{Document, Value};

use super::edited::Editing;
use super::form::{Field, Maker, Typed, needs_a_place};
use super::given::{Faults, Given, Giver};
use super::pictures::{Marking, staged};
use super::place::Place;
use super::sheet::{Drawer, Opened};
use super::splice::{Op, changed};
use crate::daybook::{Bench, waiting};
use crate::fields::{Key, Sort};
use crate::record::{self, Folder};
use crate::source::Tree;
use crate::trade::Trade;
use crate::viewing::entry::entered;
use crate::viewing::proposal::Proposal;

const HEAD: &str = "title = \"T\"\nnumber = \"T-1\"\nkind = \"chair/ladder-back\"\n";

fn folder(record: &str) -> Folder {
    let tree =
        Tree::of([("workshop.toml", "name = \"W\"\ncurrency = \"GBP\""), ("pieces/a/record.toml", record)]);
    record::read(&tree).0
}

/// What a form of a place holds when it is opened.
fn opened(text: &str, place: &Place, keys: &[&'static Key]) -> Given {
    let document = Document::parse(text).unwrap();
    let folder = folder(text);
    let maker = Maker { root: document.as_table(), folder: &folder, trade: Trade::built_in() };
    let mut given = Given::default();
    for mut field in maker.fields(place, keys, place.find(document.as_table()), None) {
        field.each(&mut |field: &mut Field| {
            if !["group", "fixed"].contains(&field.kind) {
                given.was.insert(field.name.clone(), field.was.clone());
                given.values.insert(field.name.clone(), field.value.clone());
            }
        });
    }
    given
}

/// The text after a form was filled in and sent, and what is wrong with its fields.
fn filled(text: &str, at: &str, typed: &[(&str, &str)]) -> Result<String, Faults> {
    let opened_at = Opened::of(at).unwrap();
    let (place, keys) = opened_at.form();
    let mut given = opened(text, &place, &keys);
    for (name, value) in typed {
        assert!(
            given.values.insert((*name).to_owned(), (*value).to_owned()).is_some(),
            "no field {name} in {at}"
        );
    }
    sent(text, &place, &keys, &given)
}

fn sent(text: &str, place: &Place, keys: &[&'static Key], given: &Given) -> Result<String, Faults> {
    let document = Document::parse(text).unwrap();
    let mut giver =
        Giver { given, currency: Some("GBP"), taken: vec!["top".to_owned()], faults: Faults::new() };
    let ops = giver.ops(place, keys, place.find(document.as_table()));
    if !giver.faults.is_empty() {
        return Err(giver.faults);
    }
    let new = ops.iter().fold(text.to_owned(), |text, op| {
        changed(&text, op).unwrap_or_else(|why| panic!("{why}: {op:?}\n{text}"))
    });
    Ok(Proposal::between(text, new).unwrap_or_else(|why| panic!("{why}")).text)
}

/// Something that can be typed into the field of a key.
fn sample(key: &Key) -> String {
    if let Some(word) = key.about.words.last() {
        return word.word.to_owned();
    }
    match key.about.sort {
        Sort::Day => "2026-03-11",
        Sort::Years => "1920/1935~",
        Sort::Truth => "true",
        Sort::Money => "35.00",
        Sort::Number(_) => "1",
        Sort::Row(_) => "a-name",
        Sort::Plain | Sort::Place => "some words: \"so\" # and so",
    }
    .to_owned()
}

fn samples(keys: &[&'static Key], before: &str, typed: &mut Typed) {
    for key in keys {
        let name = format!("{before}{}", key.name);
        // What names another record, or makes a set of this one, is none of one record by itself.
        if ["set", "set-of"].contains(&name.as_str()) {
            continue;
        }
        if key.about.keys.is_empty() {
            if key.about.sort != Sort::Place {
                typed.insert(name, sample(key));
            }
        } else if !key.many && !needs_a_place(key.about.keys) {
            samples(&key.about.keys.iter().collect::<Vec<_>>(), &format!("{name}."), typed);
        }
    }
}

/// Everything of a table, put in by its form, reads without a mistake, is shown by the form again as it was typed, and is
/// left alone where nothing is changed; each key by itself can be taken out and put in again.
fn round(text: &str, place: &Place, keys: &'static [Key]) -> String {
    let all: Vec<&'static Key> = keys.iter().collect();
    let mut typed = Typed::new();
    samples(&all, "", &mut typed);
    let mut given = opened(text, place, &all);
    for (name, value) in &typed {
        assert!(given.was.contains_key(name), "the form of {} does not ask for {name}", place.text());
        given.values.insert(name.clone(), value.clone());
    }
    let new = sent(text, place, &all, &given).unwrap_or_else(|faults| panic!("{}: {faults:?}", place.text()));
    if place.steps.len() < 2 {
        assert!(new.starts_with(text.trim_end()), "{new}");
    }
    let there = Place { new: false, ..place.clone() };
    let there = if place.new {
        Place { steps: [there.steps, vec![super::place::Step::Row(0)]].concat(), ..there }
    } else {
        there
    };
    let again = opened(&new, &there, &all);
    for (name, value) in &typed {
        if name != "id" {
            assert_eq!(again.values.get(name), Some(value), "{} {name}", there.text());
        }
    }
    assert_eq!(sent(&new, &there, &all, &again).as_deref(), Ok(new.as_str()));
    for key in keys
        .iter()
        .filter(|key| !key.required && key.about.keys.is_empty() && again.was.contains_key(key.name))
    {
        let mut without = opened(&new, &there, &all);
        without.values.insert(key.name.to_owned(), String::new());
        let less = sent(&new, &there, &all, &without).unwrap();
        let mut with = opened(&less, &there, &all);
        assert_eq!(with.was[key.name], "", "{}", key.name);
        with.values.insert(key.name.to_owned(), typed[key.name].clone());
        let more = sent(&less, &there, &all, &with).unwrap();
        let says = |text: &str| toml::from_str::<toml::Table>(text).unwrap();
        assert_eq!(says(&more), says(&new), "{} {}", there.text(), key.name);
    }
    new
}

#[test]
fn every_field_of_the_schema_is_asked_for_and_read_back_as_it_was_typed() {
    fn walk(text: &str, place: &Place) -> usize {
        let mut rounds = 0;
        for key in place.keys.iter().filter(|key| !key.about.keys.is_empty()) {
            if !key.many {
                // Dimensions stand in the form of what has them.
                if place.steps.is_empty() && key.about.order.is_empty() {
                    let inner = place.within(key, None);
                    let new = round(text, &inner, key.about.keys);
                    rounds += 1 + walk(&new, &inner);
                }
                continue;
            }
            if needs_a_place(key.about.keys) {
                continue;
            }
            let new = round(text, &place.new_within(key), key.about.keys);
            rounds += 1 + walk(&new, &place.within(key, Some(0)));
        }
        rounds
    }
    assert!(walk(HEAD, &Place::record()) >= 25);
    for group in 0..super::order::GROUPS.len() {
        let (place, keys) = Opened::Keys(group).form();
        let mut given = opened(HEAD, &place, &keys);
        let mut typed = Typed::new();
        samples(&keys, "", &mut typed);
        given.values.extend(typed.clone());
        let new = sent(HEAD, &place, &keys, &given).unwrap();
        let again = opened(&new, &place, &keys);
        for (name, value) in &typed {
            assert_eq!(again.values.get(name), Some(value), "{name}");
        }
        assert_eq!(sent(&new, &place, &keys, &again).as_deref(), Ok(new.as_str()));
    }
}

#[test]
fn only_what_was_changed_is_touched() {
    let text = "# Ours.\r\ntitle = \"T\"   # so\r\nnumber = 'T-1'\r\nkind = \"chair/ladder-back\"\r\nsumary = 3\r\n\r\n\
                [[finding]] # one\r\nid = \"f\"\r\npart = [ \"a\", \"b\" ] # both\r\nseen   = 'split'   # clear\r\n\r\n# the end\r\n";
    let new = filled(text, "finding.0", &[("seen", "dent"), ("severity", "minor")]).unwrap();
    assert_eq!(
        new,
        text.replace("'split'", "\"dent\"").replace("# clear\r\n", "# clear\r\nseverity = \"minor\"\r\n")
    );
    let new = filled(text, "finding.0", &[("part", "a\nc")]).unwrap();
    assert_eq!(new, text.replace("\"b\" ]", "\"c\" ]"));
    // Boxes are sent in the order of the page, and that changes nothing.
    assert_eq!(filled(text, "finding.0", &[("part", "b\na")]).as_deref(), Ok(text));
    let new = filled(text, "finding.0", &[("part", "c\nb\na")]).unwrap();
    assert_eq!(new, text.replace("\"b\" ]", "\"b\", \"c\" ]"));
    let new = filled(text, "keys.0", &[("title", "A chair")]).unwrap();
    assert_eq!(new, text.replace("\"T\"   # so", "\"A chair\"   # so"));
    assert_eq!(filled(text, "finding.0", &[]).as_deref(), Ok(text));
}

#[test]
fn a_row_gets_an_id_of_its_words_that_is_free() {
    let new = filled(HEAD, "part.new", &[("name", "Top"), ("standing", "original")]).unwrap();
    assert_eq!(new, format!("{HEAD}\n[[part]]\nid = \"top-2\"\nname = \"Top\"\nstanding = \"original\"\n"));
    let faults = filled(HEAD, "part.new", &[("name", "Top")]).unwrap_err();
    assert_eq!(faults.keys().collect::<Vec<_>>(), ["standing"]);
    assert!(filled(HEAD, "part.new", &[]).is_err());
}

#[test]
fn a_value_that_cannot_be_is_told_at_its_field() {
    let faults = filled(HEAD, "cost.new", &[("what", "glue"), ("amount", "much")]).unwrap_err();
    assert!(faults["amount"].contains("an amount of money"), "{faults:?}");
    let spoken = filled(HEAD, "part.new", &[("name", "Rail"), ("standing", "new"), ("size.length", "60 cm")]);
    assert!(spoken.unwrap().ends_with("size = { length = 600 }\n"));
}

#[test]
fn tables_within_an_entry_come_and_go() {
    let with = filled(
        &format!("{HEAD}\n[[finding]]\nid = \"f\"\npart = \"a\"\nseen = \"split\"\n"),
        "finding.0",
        &[("cause.guess", "it dried"), ("cause.confidence", "low")],
    )
    .unwrap();
    assert!(
        with.ends_with("seen = \"split\"\ncause = { guess = \"it dried\", confidence = \"low\" }\n"),
        "{with}"
    );
    let changed = filled(&with, "finding.0", &[("cause.confidence", "high")]).unwrap();
    assert!(changed.ends_with("cause = { guess = \"it dried\", confidence = \"high\" }\n"), "{changed}");
    let without = filled(&with, "finding.0", &[("cause.guess", ""), ("cause.confidence", "")]).unwrap();
    assert!(without.ends_with("seen = \"split\"\n"), "{without}");
    assert!(filled(&with, "finding.0", &[("cause.guess", "")]).is_err());
}

#[test]
fn steps_go_where_their_surface_has_them() {
    let text = format!("{HEAD}\n[[surface]]\nparts = \"a\"\n");
    let one = filled(&text, "surface.0.steps.new", &[("clean", "soap")]).unwrap();
    assert_eq!(one, format!("{text}steps = [\n  {{ clean = \"soap\" }},\n]\n"));
    let two = filled(&one, "surface.0.steps.new", &[("apply", "shellac"), ("coats", "2")]).unwrap();
    assert!(two.ends_with("  { clean = \"soap\" },\n  { apply = \"shellac\", coats = 2 },\n]\n"), "{two}");
    let less = filled(&two, "surface.0.steps.1", &[("coats", "")]).unwrap();
    assert!(less.ends_with("  { apply = \"shellac\" },\n]\n"), "{less}");
    let mixed = filled(&two, "surface.0.steps.1.mix.new", &[("of", "shellac"), ("parts", "2 to 3")]).unwrap();
    assert!(mixed.ends_with("coats = 2, mix = [{ of = \"shellac\", parts = [2, 3] }] },\n]\n"), "{mixed}");
}

#[test]
fn a_row_is_taken_out_with_its_lines_alone() {
    let text = "a = 1 # x\n\n# First.\n[[work]]\ndid = \"one\"\n\n# Second.\n[[work]]\ndid = \"two\" # so\n\n[[work]]\ndid = \"three\"\n";
    let drop = |text: &str, at: &str| changed(text, &Op::Drop(Place::of(at).unwrap().steps));
    assert_eq!(drop(text, "work.1").unwrap(), text.replace("[[work]]\ndid = \"two\" # so\n", ""));
    assert_eq!(
        drop("[[work]]\ndid = \"one\"\n\n[[work]]\ndid = \"two\"\n", "work.0").unwrap(),
        "[[work]]\ndid = \"two\"\n"
    );
    assert!(drop(text, "work.3").is_err());
    // What stands between a row and a table of it would go with it.
    let apart = "[[surface]]\nname = \"a\"\n[[work]]\ndid = \"x\"\n[[surface.steps]]\nclean = \"soap\"\n";
    assert!(drop(apart, "surface.0").is_err());
    assert_eq!(
        drop("work = [{ did = \"a\" }, { did = \"b\" }]\n", "work.0").unwrap().matches("did").count(),
        1
    );
}

#[test]
fn broken_lines_are_left_alone_and_the_rest_can_be_changed() {
    let text = format!(
        "{HEAD}asking = 3 pounds\n\n[[part]]\nid = \"a\nname = A\n\n[[work]]\ndid = \"x\" # so\n\n[[cost]\nwhat = \"y\n"
    );
    let steps = Place::of("work.0").unwrap();
    let did = steps.keys.iter().find(|key| key.name == "did").unwrap();
    let new = changed(&text, &Op::Set(steps.steps, did, Value::from("z"))).unwrap();
    assert_eq!(new, text.replace("\"x\"", "\"z\""));
}

#[test]
fn the_page_shows_every_section_and_says_what_is_wrong_where_it_is() {
    let text = format!(
        "{HEAD}\n[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"nwe\"\n\n[[finding]]\nid = \"f\"\npart = \"a\"\nseen = \"split\"\n"
    );
    let document = Document::parse(text.as_str()).unwrap();
    let folder = folder(&text);
    let faults = Faults::new();
    let opened = Opened::of("part.0");
    let mut drawer = Drawer::new(
        Maker { root: document.as_table(), folder: &folder, trade: Trade::built_in() },
        &text,
        &faults,
    );
    drawer.opened = opened.as_ref();
    let doubt = super::form::Doubt { rank: "mistake", words: "x".to_owned(), help: String::new() };
    drawer.doubts = vec![(text.find("\"nwe\""), doubt.clone()), (None, doubt)];
    let (groups, left) = drawer.groups();
    assert_eq!(left.len(), 1);
    let sections: Vec<_> = groups.iter().flat_map(|group| &group.sections).collect();
    let parts = sections.iter().find(|section| section.id == "s-part").unwrap();
    assert_eq!((parts.heading.as_str(), parts.wrong), ("Its parts", 1));
    let form = parts.entries[0].form.as_ref().unwrap();
    let standing = form.fields.iter().find(|field| field.name == "standing").unwrap();
    assert_eq!(standing.doubts.len(), 1);
    let finding = sections.iter().find(|section| section.id == "s-finding").unwrap();
    assert_eq!(
        (finding.entries[0].words.as_str(), finding.entries[0].small.join("; ")),
        ("split", "A".to_owned())
    );
}

/// The record after a proposal of its day book was changed in its form and entered.
fn edited(record: &str, lines: &str, table: &str, typed: &[(&str, &str)]) -> Result<String, Faults> {
    let tree = Tree::of([
        ("workshop.toml", "name = \"W\"\nregion = \"united-kingdom\"\ncurrency = \"GBP\""),
        ("pieces/a/record.toml", record),
        ("pieces/a/daybook.txt", lines),
    ]);
    let folder = record::read(&tree).0;
    let piece = &folder.pieces[0];
    let read = piece.record.as_ref().unwrap();
    let bench = Bench::of(Trade::built_in(), Some(read));
    let line = waiting(piece, read, &bench).remove(0);
    let proposal = line.proposals.iter().find(|proposal| proposal.table == table);
    let proposal = proposal.unwrap_or_else(|| panic!("{:?}", line.proposals));
    let document = Document::parse(record).unwrap();
    let maker = Maker { root: document.as_table(), folder: &folder, trade: Trade::built_in() };
    let editing = Editing::of(maker.root, read, &line.jotting, proposal).unwrap();
    let mut given = Given::default();
    for mut field in editing.fields(&maker, None, &Faults::new()) {
        field.each(&mut |field: &mut Field| {
            if !["group", "fixed"].contains(&field.kind) {
                given.was.insert(field.name.clone(), field.was.clone());
                given.values.insert(field.name.clone(), field.was.clone());
            }
        });
    }
    for (name, value) in typed {
        let before = given.values.insert((*name).to_owned(), (*value).to_owned());
        assert!(before.is_some(), "no field {name}: {:?}", given.was.keys());
    }
    let mut giver = Giver { given: &given, currency: Some("GBP"), taken: Vec::new(), faults: Faults::new() };
    let Some(entry) = editing.entry(&mut giver) else { return Err(giver.faults) };
    let text = entered(record, &entry).unwrap();
    Ok(Proposal::between(record, text).unwrap_or_else(|why| panic!("{why}")).text)
}

const TOP: &str = "\n[[part]]\nid = \"top\"\nname = \"Top\"\nstanding = \"original\"\n";

#[test]
fn what_a_line_proposes_is_entered_as_it_was_changed_with_the_line_that_it_came_from() {
    let bare = format!("{HEAD}{TOP}");
    let surface = format!("{bare}\n[[surface]]\nname = \"Top\"\nparts = \"top\"\n");
    let line = "2026-03-11 2 coats garnet shellac on top, 1.5h\n";
    let from = "from-daybook = \"2026-03-11 2 coats garnet shellac on top, 1.5h\"";
    let as_proposed = edited(&surface, line, "surface.steps", &[]).unwrap();
    assert_eq!(
        as_proposed,
        format!("{surface}steps = [\n  {{ on = 2026-03-11, apply = \"shellac\", coats = 2, {from} }},\n]\n")
    );
    let changed = [("coats", "3"), ("on", "10 March 2026"), ("note", "thin")];
    assert_eq!(
        edited(&surface, line, "surface.steps", &changed).unwrap(),
        as_proposed
            .replace("coats = 2", "coats = 3, note = \"thin\"")
            .replace("on = 2026-03-11, apply", "on = 2026-03-10, apply")
    );
    // A record without surfaces gets one of the parts that are named.
    let new = edited(&bare, "2026-03-11 white spirit wipe down\n", "surface.steps", &[(".parts", "top")]);
    assert!(new.unwrap().contains("[[surface]]\nparts = [\"top\"]\nsteps = [{ "));
    let none = edited(&bare, "2026-03-11 white spirit wipe down\n", "surface.steps", &[]).unwrap_err();
    assert_eq!(none.keys().collect::<Vec<_>>(), [".parts"]);
    let work = edited(&bare, line, "work", &[("hours", "45 min"), ("part", ""), ("id", "waxing")]).unwrap();
    assert!(
        work.contains("[[work]]\nid = \"waxing\"\non = 2026-03-11\n") && work.contains("hours = 0.75\n"),
        "{work}"
    );
    assert!(work.ends_with(&format!("{from}\n")) && !work.contains("\npart = "), "{work}");
    let wrong = edited(&bare, line, "work", &[("hours", "long"), ("did", "")]).unwrap_err();
    assert_eq!(wrong.keys().collect::<Vec<_>>(), ["did", "hours"]);
}

/// The text after a mark was set in the form of a place.
fn marked(text: &str, at: &str, marking: &[(&str, &str)], typed: &[(&str, &str)]) -> Result<String, Faults> {
    let (place, keys) = Opened::of(at).unwrap().form();
    let mut given = opened(text, &place, &keys);
    given.values.extend(typed.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())));
    let document = Document::parse(text).unwrap();
    let root = document.as_table();
    let mut giver = Giver { given: &given, currency: None, taken: Vec::new(), faults: Faults::new() };
    let mut ops = giver.ops(&place, &keys, place.find(root));
    let mut mark = Marking::default();
    for (name, value) in marking {
        mark.note_field(name, (*value).to_owned()).unwrap();
    }
    let change = mark.change(&mut giver, &mut ops, (&place, &keys, root), &["a.jpg".to_owned()]);
    if !giver.faults.is_empty() {
        return Err(giver.faults);
    }
    let mut new = ops.iter().fold(text.to_owned(), |text, op| changed(&text, op).unwrap());
    if let Some(change) = &change {
        new = crate::viewing::added(&new, change).unwrap();
    }
    Ok(Proposal::between(text, new).unwrap_or_else(|why| panic!("{why}")).text)
}

#[test]
fn a_mark_is_written_for_the_row_that_is_open_and_nothing_else_changes() {
    let text = format!(
        "{HEAD}{TOP}\n[[finding]]\nid = \"f\"\npart = \"top\"\nseen = \"dent\"\n\n[[work]]\ndid = \"filled it\"\n"
    );
    let point = [("file", "a.jpg"), ("shape", "point"), ("x", "30,5"), ("y", "40 %"), ("x", ""), ("y", "")];
    let photo = "\n[[photo]]\nfile = \"a.jpg\"\nmarks = [{ at = [0.3050, 0.4000], ";
    assert_eq!(
        marked(&text, "finding.0", &point, &[]).unwrap(),
        format!("{text}{photo}finding = \"f\" }}]\n")
    );
    // A row that is new, or has no id, gets one.
    let new = marked(&text, "finding.new", &point, &[("seen", "white ring"), ("part", "top")]).unwrap();
    assert!(new.contains("id = \"white-ring\"") && new.contains("finding = \"white-ring\" }]"), "{new}");
    let work = marked(&text, "work.0", &point, &[]).unwrap();
    assert!(
        work.contains("did = \"filled it\"\nid = \"filled\"\n") && work.contains("work = \"filled\""),
        "{work}"
    );
    let area = [
        ("file", "a.jpg"),
        ("shape", "area"),
        ("x", "0"),
        ("y", "0"),
        ("x", "100"),
        ("y", "0"),
        ("x", "100"),
        ("y", "50"),
    ];
    let part = marked(&text, "part.0", &area, &[]).unwrap();
    assert!(
        part.ends_with("area = [[0.0000, 0.0000], [1.0000, 0.0000], [1.0000, 0.5000]], part = \"top\" }]\n"),
        "{part}"
    );
    // What is looked at only, or half said.
    assert_eq!(
        marked(&text, "finding.0", &[("file", "a.jpg"), ("shape", "area")], &[]).as_deref(),
        Ok(text.as_str())
    );
    for wrong in [
        &area[..6],
        &[("file", "a.jpg"), ("x", "130"), ("y", "1")],
        &[("file", "gone.jpg"), ("x", "1"), ("y", "1")],
    ] {
        assert_eq!(
            marked(&text, "part.0", wrong, &[]).unwrap_err().keys().collect::<Vec<_>>(),
            [".mark"],
            "{wrong:?}"
        );
    }
}

#[test]
fn photographs_are_put_into_other_stages() {
    let text = format!("{HEAD}\n[[photo]] # ours\nfile = \"b.jpg\"\nstage = \"during\" # so\n");
    let files = ["before-a.jpg", "b.jpg", "c.jpg"].map(str::to_owned);
    let staged = |wanted: &[(&str, &str)]| {
        let document = Document::parse(text.as_str()).unwrap();
        let folder = folder(&text);
        let wanted = wanted.iter().map(|(file, stage)| ((*file).to_owned(), (*stage).to_owned()));
        let ops = staged(document.as_table(), folder.pieces[0].record.as_deref(), &files, wanted)?;
        Ok::<String, String>(ops.iter().fold(text.clone(), |text, op| changed(&text, op).unwrap()))
    };
    assert_eq!(staged(&[("b.jpg", "after")]).unwrap(), text.replace("\"during\" # so", "\"after\" # so"));
    assert_eq!(staged(&[("b.jpg", "")]).unwrap(), text.replace("stage = \"during\" # so\n", ""));
    assert_eq!(
        staged(&[("c.jpg", "hidden"), ("before-a.jpg", "during")]).unwrap(),
        format!(
            "{text}\n[[photo]]\nfile = \"c.jpg\"\nstage = \"hidden\"\n\n[[photo]]\nfile = \"before-a.jpg\"\nstage = \"during\"\n"
        )
    );
    for same in [("before-a.jpg", "before"), ("b.jpg", "during"), ("c.jpg", "")] {
        assert_eq!(staged(&[same]).unwrap(), text, "{same:?}");
    }
    for wrong in [("before-a.jpg", ""), ("d.jpg", "after"), ("c.jpg", "soon")] {
        assert!(staged(&[wrong]).is_err(), "{wrong:?}");
    }
}

proptest! {
    /// Whatever the layout, what was not changed stands there still.
    #[test]
    fn every_other_byte_stays(
        gap in "[ \t]{0,3}", remark in "(# [a-z]{0,5})?", end in "(\n|\r\n)", value in "[a-z\"\\\\ é]{1,8}", rows in 1_usize..4, at in 0_usize..4
    ) {
        let at = at % rows;
        let row = |number: usize| format!("{remark}{end}[[work]]{gap}{end}{gap}did{gap}={gap}\"x{number}\"{gap}{remark}{end}why = 'w'{end}");
        let text = format!("title = \"T\"{end}{}[use]{end}", (0..rows).map(row).collect::<String>());
        let place = Place::of(&format!("work.{at}")).unwrap();
        let did = place.keys.iter().find(|key| key.name == "did").unwrap();
        if let Ok(written) = (did.literal)("did", &value, None) {
            let new = changed(&text, &Op::Set(place.steps.clone(), did, written.parse().unwrap())).unwrap();
            prop_assert_eq!(&new, &text.replace(&format!("\"x{at}\""), &written));
        }
        let why = place.keys.iter().find(|key| key.name == "why").unwrap();
        let new = changed(&text, &Op::Unset(place.steps, why)).unwrap();
        prop_assert_eq!(new.len() + format!("why = 'w'{end}").len(), text.len());
    }
}
