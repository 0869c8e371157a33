//! Records as people type them: in a hurry, with the wrong things in the wrong places.

use witnessmark::diag::{Rank, line_and_column};
use witnessmark::journey::{self, Quiet};
use witnessmark::record;
use witnessmark::source::Tree;

use crate::fixture::{Workshop, today};
use crate::leaks;

const PATH: &str = "pieces/one/record.toml";

/// A record as one speaks.
const SPOKEN: &str = r#"
title = Oak side table
number: ST-4
kind = "table/side"
made = 1920–35
level = done up
publish = yes
asking = £240.50
dimensions = 91 x 45 x 73 cm
weighs = 12 kg
summary = “A plain table, mended and waxed.”
stance = "As little as it needs.

[part]
id = Table Top
name = "Top"
standing = as made
how known = same board as the rail
wood = european oak
build = solid wood
size = 900 x 40 cm x 18 mm
grain = lengthwise
held = on buttons

[[part]
id = "leg"
name = "Leg"
standing = "replaced by us"
timber = "european-oak"
size = { length = 70 cm, width = 45mm, thick = 1,8 cm }
count = two

id = "drawer"
name = "Drawer"
standing = original
how-known = "same nails"
opens = drawer

[[finding]]
id = "split"
part = table top
seen = split
extent = "12" from the end"
severity = bad
cause = { guess = a hot room confidence = maybe }

[[work]]
date = 20 October 2026
part = table top & leg
did = "glued the split
with hide glue"
hours = 1h30
mends = split
undoable = reversible
turned-out = "worked";

[[surface]]
parts = table-top, leg
found = paste-wax
steps = [
  { on = 20-10-2026, test = lead swab, result = negative }
  { on = 2026-10-21, abrade = 120, 180, 240 }
  { on = "22 Oct 2026", apply = "shellac", coats = two coats, every-hours = 2 to 4 hours },

[[undone]]
what = gate stop is missing
why = can't get one

[use]
cautions = "Keep it out of the sun."

[[open]]
what: wax it
"#;

/// The same as the format has it.
const TIDY: &str = r#"
title = "Oak side table"
number = "ST-4"
kind = "table/side"
made = "1920/1935"
level = "refurbish"
publish = true
asking = 240.50
size = { width = 910, depth = 450, height = 730 }
weighs = 12
summary = "A plain table, mended and waxed."
stance = "As little as it needs."

[[part]]
id = "table-top"
name = "Top"
standing = "original"
how-known = "same board as the rail"
timber = "european oak"
build = "solid"
size = { length = 900, width = 400, thick = 18 }
grain = "length"
held = "free"

[[part]]
id = "leg"
name = "Leg"
standing = "new"
timber = "european-oak"
size = { length = 700, width = 45, thick = 18 }
count = 2

[[part]]
id = "drawer"
name = "Drawer"
standing = "original"
how-known = "same nails"
opens = { as = "drawer" }

[[finding]]
id = "split"
part = "table-top"
seen = "split"
extent = '12" from the end'
severity = "major"
cause = { guess = "a hot room", confidence = "low" }

[[work]]
on = 2026-10-20
part = ["table-top", "leg"]
did = "glued the split\nwith hide glue"
hours = 1.5
mends = "split"
undoable = "yes"
turned-out = "well"

[[surface]]
parts = ["table-top", "leg"]
found = "paste-wax"
steps = [
  { on = 2026-10-20, test = "lead swab", result = "negative" },
  { on = 2026-10-21, abrade = ["120", "180", "240"] },
  { on = 2026-10-22, apply = "shellac", coats = 2, every-hours = [2, 4] },
]

[[undone]]
what = "gate stop is missing"
why = "no-part"

[use]
cautions = ["Keep it out of the sun."]

[[open]]
what = "wax it"
"#;

fn workshop(record: &str) -> Workshop {
    Workshop::new("currency = \"GBP\"\n").write(PATH, record)
}

/// What is said of a record, with its codes and lines.
fn told(record: &str) -> Vec<(Rank, String)> {
    let survey = workshop(record).survey();
    let told = survey.diagnostics.iter().filter(|told| told.place.path == PATH);
    told.map(|told| {
        let line = told.place.span.map_or(0, |(start, _)| line_and_column(record, start).0);
        (told.rank(), format!("{line} {}: {}; {}", told.code.name, told.message, told.help))
    })
    .collect()
}

#[test]
fn a_record_as_one_speaks_makes_the_same_papers() {
    let mistakes = told(SPOKEN).into_iter().filter(|(rank, _)| *rank == Rank::Mistake);
    assert_eq!(mistakes.map(|(_, told)| told).collect::<Vec<_>>(), Vec::<String>::new());
    let loose = told(SPOKEN).into_iter().filter(|(_, told)| told.contains(" loose-")).count();
    assert!(loose > 20, "what was read otherwise than it stands is told: {loose}");
    let [spoken, tidy] = [SPOKEN, TIDY].map(|record| workshop(record).writeup().files);
    // The archive lists what is told of each piece.
    let papers = |files: &std::collections::BTreeMap<String, Vec<u8>>| -> Vec<(String, String)> {
        let read = files.iter().filter(|(path, _)| path.ends_with(".html") && !path.starts_with("archive/"));
        read.map(|(path, bytes)| (path.clone(), String::from_utf8_lossy(bytes).into_owned())).collect()
    };
    let [spoken, tidy] = [spoken, tidy].map(|files| papers(&files));
    assert!(tidy.len() > 4, "{}", tidy.len());
    for ((path, said), (tidy_path, meant)) in spoken.iter().zip(&tidy) {
        assert_eq!((path, said), (tidy_path, meant));
    }
    assert_eq!(spoken.len(), tidy.len());
}

#[test]
fn what_the_doubts_tell_to_write_is_the_tidy_record() {
    // Each line that is to be written stands in the tidy record, or is a part of one of its lines.
    let tidy: String = TIDY.replace(' ', "");
    let mut looked_at = 0;
    for (_, told) in told(SPOKEN).into_iter().filter(|(_, told)| told.contains(" loose-value: ")) {
        let Some((_, written)) = told.rsplit_once("write `") else { continue };
        let written = written.trim_end_matches('`').replace(' ', "");
        if let Some((_, value)) = written.split_once('=') {
            assert!(tidy.contains(value), "{told}");
            looked_at += 1;
        }
    }
    assert!(looked_at > 12, "{looked_at}");
}

#[test]
fn a_record_that_is_not_to_be_shown_is_not_shown() {
    let record = "title = \"T\"\nnumber = \"T-1\"\nkind = \"table/side\"\n";
    for said in ["publish = no", "publish: No", "publish = \"false\"", "Publish = false", "publish false"] {
        let files = workshop(&format!("{record}{said}\n")).writeup().files;
        let shown = files.keys().find(|path| path.starts_with("showroom/pieces/"));
        assert_eq!(shown, None, "{said}");
        assert!(files.contains_key("archive/pieces/t-1/index.html"), "{said}");
    }
}

/// What nobody should type, and some do; as TOML or not.
fn worst() -> Vec<String> {
    let mut worst: Vec<String> = [
        "",
        "=",
        "£85",
        "\"£85\"",
        "1,5",
        "20-10-2026",
        "\"20 October 2026\"",
        "2026-13-45",
        "“oak”",
        "\"oak",
        "oak\"",
        "'",
        "\"\"\"oak",
        "\"C:\\photos\"",
        "\"\\u202E\"",
        "\"\"",
        "true",
        "yes",
        "0xFF",
        "nan",
        "-1",
        "1e400",
        "99999999999999999999999",
        "1979-05-27T07:32:00Z",
        "07:32:00",
        "[]",
        "[[]]",
        "{}",
        "[1, \"two\", { three = 3 }]",
        "{ a = { b = { c = [[[[1]]]] } } }",
        "{ id = \"x\"",
        "[1, 2",
        "60 x 45 x 68 cm",
        "[60, 45, 68]",
        "\"60 x 45 x 68\"",
        "كرسي",
        "\"木の椅子\"",
        "🪑",
        "\"🪑\"",
        "a, b & c",
        "one two three # four",
        "\u{0}",
        "\"\u{7}\"",
        "]",
        "}",
        "x = y = z",
    ]
    .map(str::to_owned)
    .into();
    worst.push(format!("\"{}\"", "word ".repeat(2_000)));
    worst.push("x".repeat(10_000));
    worst.push(format!("\"{}\"", "木".repeat(10_000)));
    worst.push("[".repeat(2_000));
    worst
}

#[test]
fn the_worst_values_in_every_field_are_told_and_cost_nothing_else() {
    let (filled, _) = leaks::workshop(|record| record);
    let filled = filled.tree().read_text(PATH).unwrap();
    let lines: Vec<&str> = filled.lines().collect();
    let fields: Vec<usize> = (0..lines.len()).filter(|at| lines[*at].contains(" = ")).collect();
    assert!(fields.len() > 150, "{}", fields.len());
    let sound = "title = \"T\"\nnumber = \"T-1\"\nkind = \"table/side\"\n";
    let mut surveyed = 0;
    for (number, value) in worst().iter().enumerate() {
        for (place, at) in fields.iter().enumerate() {
            let (key, _) = lines[*at].split_once(" = ").unwrap();
            let line = format!("{key} = {value}");
            let mut typed = lines.clone();
            typed[*at] = &line;
            let text = typed.join("\n");
            let tree = Tree::of([
                ("workshop.toml", "name = \"W\"\ncurrency = \"GBP\"\n"),
                (PATH, text.as_str()),
                ("pieces/two/record.toml", sound),
            ]);
            let (folder, problems) = record::read(&tree);
            let case = format!("{key} = {:.40}", value);
            assert!(folder.pieces[1].record.is_some(), "{case}");
            for problem in &problems {
                assert_eq!(problem.place.path, PATH, "{case}");
                let (start, end) = problem.place.span.unwrap_or_else(|| panic!("{case}: {problem:?}"));
                assert!(start <= end && end <= text.len(), "{case}: {problem:?}");
                assert!(!problem.help.is_empty(), "{case}: {problem:?}");
                assert!(problem.message.chars().count() < 1_300, "{case}: {problem:?}");
            }
            // All of the way is longer, so that some of them go it.
            if (number * 7 + place) % 41 == 0 {
                let survey = journey::survey(&tree, today(), &Quiet);
                assert!(survey.piece("two").is_some(), "{case}");
                surveyed += 1;
            }
        }
    }
    assert!(surveyed > 100, "{surveyed}");
}
