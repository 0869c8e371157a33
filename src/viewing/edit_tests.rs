//! A change goes where it belongs, and nothing else moves.

use proptest::prelude::*;

use super::*;

fn change(sent: &str) -> Change {
    Change::of(serde_json::from_str(sent).unwrap()).unwrap()
}

fn landmarks(points: &str) -> Change {
    change(&format!(r#"{{"kind": "landmarks", "before": "b.jpg", "after": "a.jpg", "landmarks": {points}}}"#))
}

fn mark() -> Change {
    change(
        r#"{"kind": "marks", "photo": "b.jpg",
            "marks": [{"shape": "point", "points": [[0.5, 0.25]], "finding": "f1"}]}"#,
    )
}

fn measured() -> Change {
    change(
        r#"{"kind": "marks", "photo": "b.jpg", "marks": [{"shape": "area", "points": [[0, 0], [1, 0], [1, 1]],
            "scale": {"points": [[0.1, 0.5], [0.6, 0.5]], "mm": 337.5}, "part": "back"}]}"#,
    )
}

fn swatch() -> Change {
    change(
        r#"{"kind": "swatch", "photo": "b.jpg", "target": [0.1, 0.1, 0.2, 0.2], "result": [0.5, 0.1, 0.2, 0.2]}"#,
    )
}

const TWO: &str = "[[0.1, 0.2, 0.3, 0.4], [0.5, 0.6, 0.7, 0.8]]";

#[track_caller]
fn case(text: &str, change: &Change, expected: &str) {
    let new = added(text, change).unwrap();
    assert_eq!(new, expected);
    assert!(new.parse::<toml_edit::DocumentMut>().is_ok(), "{new}");
}

#[test]
fn landmarks_take_the_place_of_those_that_the_pair_had() {
    case(
        "# head\n[[pair]] # one\nbefore = \"b.jpg\"\nafter  = 'a.jpg'   # quoted so\nlandmarks = [\n    \
         [0.9, 0.9, 0.9, 0.9], # the hinge\n    [0.8,0.8,0.8,0.8],\n    [0.7, 0.7, 0.7, 0.7], # gone with it\n]  # end\n\n[[cost]]\n",
        &landmarks(TWO),
        "# head\n[[pair]] # one\nbefore = \"b.jpg\"\nafter  = 'a.jpg'   # quoted so\nlandmarks = [\n    \
         [0.1000, 0.2000, 0.3000, 0.4000], # the hinge\n    [0.5000, 0.6000, 0.7000, 0.8000], # gone with it\n]  # end\n\n[[cost]]\n",
    );
    case(
        "[[pair]]\nafter = \"a.jpg\"\nbefore = \"b.jpg\"\nlandmarks = []\nmatch-tone = false\n",
        &landmarks(TWO),
        "[[pair]]\nafter = \"a.jpg\"\nbefore = \"b.jpg\"\nlandmarks = [\n  [0.1000, 0.2000, 0.3000, 0.4000],\n  \
         [0.5000, 0.6000, 0.7000, 0.8000],\n]\nmatch-tone = false\n",
    );
    case(
        "[[pair]]\nbefore = \"b.jpg\"\nafter = \"a.jpg\"\nlandmarks = [[0.9, 0.9, 0.9, 0.9]]",
        &landmarks(TWO),
        "[[pair]]\nbefore = \"b.jpg\"\nafter = \"a.jpg\"\nlandmarks = [[0.1000, 0.2000, 0.3000, 0.4000], \
         [0.5000, 0.6000, 0.7000, 0.8000]]",
    );
}

#[test]
fn a_pair_without_landmarks_gets_them_after_its_last_key() {
    case(
        "[[pair]]\n  before = \"b.jpg\"\n  after = \"a.jpg\" # the second try\n\n# costs\n[[cost]]\nwhat = \"glue\"\n",
        &landmarks("[[0.1, 0.2, 0.3, 0.4]]"),
        "[[pair]]\n  before = \"b.jpg\"\n  after = \"a.jpg\" # the second try\n  landmarks = [[0.1000, 0.2000, 0.3000, 0.4000]]\n\n\
         # costs\n[[cost]]\nwhat = \"glue\"\n",
    );
}

#[test]
fn a_pair_of_other_photographs_is_left_alone_and_the_new_one_stands_after_it() {
    case(
        "[[pair]]\nbefore = \"b.jpg\"\nafter = \"other.jpg\"\n# match-tone = false\n\n# costs\n[[cost]]\n",
        &landmarks("[[0.1, 0.2, 0.3, 0.4]]"),
        "[[pair]]\nbefore = \"b.jpg\"\nafter = \"other.jpg\"\n# match-tone = false\n\n[[pair]]\nbefore = \"b.jpg\"\n\
         after = \"a.jpg\"\nlandmarks = [[0.1000, 0.2000, 0.3000, 0.4000]]\n\n# costs\n[[cost]]\n",
    );
}

#[test]
fn without_any_pair_the_new_one_stands_at_the_end_after_every_remark() {
    let pair =
        "[[pair]]\nbefore = \"b.jpg\"\nafter = \"a.jpg\"\nlandmarks = [[0.1000, 0.2000, 0.3000, 0.4000]]\n";
    for (text, gap) in
        [("", ""), ("title = \"T\"", "\n\n"), ("title = \"T\"\n#made = \"1900\"\n", "\n"), ("a = 1\n\n", "")]
    {
        case(text, &landmarks("[[0.1, 0.2, 0.3, 0.4]]"), &format!("{text}{gap}{pair}"));
    }
}

#[test]
fn marks_stand_after_those_that_the_photograph_has() {
    case(
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [\n  { at = [0.5154, 0.3868], finding = \"f-split\" }, # left\n  # none on the right\n]\nalt = \"x\"\n",
        &mark(),
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [\n  { at = [0.5154, 0.3868], finding = \"f-split\" }, # left\n  # none on the right\n  \
         { at = [0.5000, 0.2500], finding = \"f1\" },\n]\nalt = \"x\"\n",
    );
    case(
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [{ at = [0.1, 0.2] }]\n[[photo]]\nfile = \"c.jpg\"\n",
        &mark(),
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [{ at = [0.1, 0.2] }, { at = [0.5000, 0.2500], finding = \"f1\" }]\n\
         [[photo]]\nfile = \"c.jpg\"\n",
    );
    case(
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [ { at = [0.1, 0.2] } ]\n",
        &mark(),
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [ { at = [0.1, 0.2] }, { at = [0.5000, 0.2500], finding = \"f1\" } ]\n",
    );
    case(
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [\n  { at = [0.1, 0.2] }, { at = [0.3, 0.4] } # no comma\n]\n",
        &mark(),
        "[[photo]]\nfile = \"b.jpg\"\nmarks = [\n  { at = [0.1, 0.2] }, { at = [0.3, 0.4] }, # no comma\n  \
         { at = [0.5000, 0.2500], finding = \"f1\" },\n]\n",
    );
}

#[test]
fn a_photograph_without_an_entry_gets_one_and_an_entry_without_marks_gets_those() {
    case(
        "[[photo]]\nfile = \"c.jpg\"\n\n[[cost]]\nwhat = \"glue\"\n",
        &mark(),
        "[[photo]]\nfile = \"c.jpg\"\n\n[[photo]]\nfile = \"b.jpg\"\nmarks = [{ at = [0.5000, 0.2500], finding = \"f1\" }]\n\n\
         [[cost]]\nwhat = \"glue\"\n",
    );
    case(
        "[[photo]]\nfile = \"b.jpg\"\nalt = \"\"\"\nTwo\nlines\"\"\"\n[[cost]]\n",
        &mark(),
        "[[photo]]\nfile = \"b.jpg\"\nalt = \"\"\"\nTwo\nlines\"\"\"\nmarks = [{ at = [0.5000, 0.2500], finding = \"f1\" }]\n[[cost]]\n",
    );
}

#[test]
fn other_ways_of_writing_the_same_tables_are_kept() {
    case(
        "[[photo]]\nfile = \"b.jpg\"\n[[photo.marks]]\nat = [0.1, 0.2]\n[[cost]]\n",
        &mark(),
        "[[photo]]\nfile = \"b.jpg\"\n[[photo.marks]]\nat = [0.1, 0.2]\n\n[[photo.marks]]\nat = [0.5000, 0.2500]\n\
         finding = \"f1\"\n\n[[cost]]\n",
    );
    case(
        "photo = [{ file = \"b.jpg\" }, { file = \"c.jpg\" }]\n",
        &mark(),
        "photo = [{ file = \"b.jpg\", marks = [{ at = [0.5000, 0.2500], finding = \"f1\" }] }, { file = \"c.jpg\" }]\n",
    );
    case(
        "pair = [\n  { before = \"b.jpg\", after = \"x.jpg\" },\n]\n",
        &landmarks(TWO),
        "pair = [\n  { before = \"b.jpg\", after = \"x.jpg\" },\n  { before = \"b.jpg\", after = \"a.jpg\", landmarks = \
         [[0.1000, 0.2000, 0.3000, 0.4000], [0.5000, 0.6000, 0.7000, 0.8000]] },\n]\n",
    );
}

#[test]
fn a_known_length_stands_on_its_area_however_marks_are_written() {
    let area = "area = [[0.0000, 0.0000], [1.0000, 0.0000], [1.0000, 1.0000]]";
    let scale = "scale = { from = [0.1000, 0.5000], to = [0.6000, 0.5000], mm = 337.5 }";
    let mark = format!("{{ {area}, {scale}, part = \"back\" }}");
    let old = "{ at = [0.1, 0.2] }, # left";
    case(
        &format!("[[photo]]\nfile = \"b.jpg\"\nmarks = [\n  {old}\n]\n"),
        &measured(),
        &format!("[[photo]]\nfile = \"b.jpg\"\nmarks = [\n  {old}\n  {mark},\n]\n"),
    );
    case(
        "photo = [{ file = \"b.jpg\" }]\n",
        &measured(),
        &format!("photo = [{{ file = \"b.jpg\", marks = [{mark}] }}]\n"),
    );
    case(
        "[[photo]]\nfile = \"b.jpg\"\n[[photo.marks]]\nat = [0.1, 0.2]\n",
        &measured(),
        &format!(
            "[[photo]]\nfile = \"b.jpg\"\n[[photo.marks]]\nat = [0.1, 0.2]\n\n[[photo.marks]]\n{area}\n{scale}\n\
             part = \"back\"\n"
        ),
    );
}

#[test]
fn a_swatch_is_an_entry_of_its_own() {
    let swatch_text = "[[swatch]]\nphoto = \"b.jpg\"\ntarget = [0.1000, 0.1000, 0.2000, 0.2000]\n\
                       result = [0.5000, 0.1000, 0.2000, 0.2000]\n";
    let old = "[[swatch]]\nphoto = \"b.jpg\"\ntarget = [0, 0, 1, 1]\nresult = [0, 0, 1, 1]\n";
    case(old, &swatch(), &format!("{old}\n{swatch_text}"));
}

#[test]
fn line_ends_of_windows_stay() {
    case(
        "title = \"T\"\r\n\r\n[[pair]]\r\nbefore = \"b.jpg\"\r\nafter = \"a.jpg\"\r\nlandmarks = [\r\n  [0.9, 0.9, 0.9, 0.9], # one\r\n]\r\n",
        &landmarks(TWO),
        "title = \"T\"\r\n\r\n[[pair]]\r\nbefore = \"b.jpg\"\r\nafter = \"a.jpg\"\r\nlandmarks = [\r\n  \
         [0.1000, 0.2000, 0.3000, 0.4000], # one\r\n  [0.5000, 0.6000, 0.7000, 0.8000],\r\n]\r\n",
    );
}

#[test]
fn what_cannot_be_changed_is_refused_with_the_reason() {
    let refused = |text: &str| added(text, &landmarks(TWO)).unwrap_err().to_string();
    assert_eq!(
        refused("title = \"T\"\nnumber = \n"),
        "the record breaks the grammar of TOML in line 2, and has to be mended by hand first"
    );
    assert_eq!(
        refused("pair = 3\n"),
        "`pair` holds something else in this record, and has to be mended by hand first"
    );
    assert_eq!(
        refused("[[pair]]\nbefore = \"b.jpg\"\nafter = \"a.jpg\"\nlandmarks = 1\n"),
        "`landmarks` holds something else in this record, and has to be mended by hand first"
    );
}

/// Lines of records, in any order and number: not all of it reads as TOML, and what does must come through.
fn record() -> impl Strategy<Value = String> {
    let line = prop::sample::select(vec![
        "title = \"A chair\"  # a remark",
        "# a remark with [[pair]] in it",
        "",
        "   ",
        "[[photo]]",
        "file = \"b.jpg\"",
        "  file   =   'c.jpg'",
        "marks = [{ at = [0.1, 0.2] }] # one",
        "marks = [\n  { at = [0.1, 0.2] }, # one\n  # two\n  { at = [0.3, 0.4] } # three\n  ]",
        "marks = []",
        "marks = [\n]",
        "[[photo.marks]]",
        "at = [0.5, 0.5]",
        "[[pair]] # pairs",
        "before = \"b.jpg\"",
        "after = \"a.jpg\"\t",
        "after = \"x.jpg\"",
        "landmarks = [[0.9,0.9,0.9,0.9],[0.8,0.8,0.8,0.8],[0.7,0.7,0.7,0.7]]",
        "landmarks = [ # first\n\t[0.9, 0.9, 0.9, 0.9],\n\n\t[0.8, 0.8, 0.8, 0.8], # last\n\t# end\n]",
        "[[swatch]]",
        "[[cost]]",
        "what = '''\n[[pair]]\n# no remark'''",
        "[handover]",
        "\u{e4} = \"no bare key\"",
    ]);
    let ends = prop::sample::select(vec!["\n", "\r\n"]);
    // A byte order mark, as some editors of Windows leave, shifts every place.
    let mark = prop::sample::select(vec!["", "", "\u{feff}"]);
    (mark, prop::collection::vec(line, 0..14), ends, any::<bool>()).prop_map(|(mark, lines, end, closed)| {
        let text = mark.to_owned() + &lines.join("\n") + if closed { "\n" } else { "" };
        text.replace('\n', end)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, ..ProptestConfig::default() })]

    /// Outside the value or entry that is meant, a text keeps its bytes: the parts before and after the one place
    /// of the change add up to the old text, and what reads as TOML does so afterwards and holds the change.
    #[test]
    fn only_the_place_meant_changes(text in record(), which in 0..4) {
        let change = [landmarks(TWO), mark(), swatch(), measured()][which as usize].clone();
        let Ok(new) = added(&text, &change) else { return Ok(()) };
        let old = text.parse::<toml_edit::DocumentMut>();
        prop_assert!(old.is_ok());
        let document = new.parse::<toml_edit::DocumentMut>();
        prop_assert!(document.is_ok(), "{new}\n{:?}", document.err());
        let document = document.unwrap();

        // Every remark and every line that is not of the list that changes is still there, in its order.
        let kept: Vec<&str> = text.split('\n').filter(|line| !line.contains("0.") && !line.contains("[]")).collect();
        let mut lines = new.split('\n');
        for line in kept {
            // The last line may have been without its end, and a list without its comma.
            let bare = |line: &str| line.trim_end().to_owned();
            prop_assert!(lines.any(|other| bare(other) == bare(line)), "lost: {line:?}\n--- old\n{text}\n--- new\n{new}");
        }
        for remark in ["# one", "# two", "# three", "# first", "# last", "# end", "# pairs", "# a remark"] {
            let rows_fewer = which == 0 && (remark == "# last");
            prop_assert!(rows_fewer || new.matches(remark).count() == text.matches(remark).count(), "{remark} in\n{new}");
        }

        // It holds what was to be added.
        let entries = document.get(change.table()).expect("the table is there");
        let found = entries.to_string();
        let wanted = match which {
            0 => vec!["[0.1000, 0.2000, 0.3000, 0.4000]", "[0.5000, 0.6000, 0.7000, 0.8000]"],
            1 => vec!["[0.5000, 0.2500]"],
            3 => vec!["scale = { from = [0.1000, 0.5000], to = [0.6000, 0.5000], mm = 337.5 }"],
            _ => vec!["[0.5000, 0.1000, 0.2000, 0.2000]"],
        };
        for value in wanted {
            prop_assert!(new.contains(value) && (found.contains(value) || found.is_empty()), "{value} in\n{new}");
        }
        // All line ends are alike where they were.
        if text.contains('\n') && !text.replace("\r\n", "").contains('\n') {
            prop_assert!(!new.replace("\r\n", "").contains('\n'), "{new:?}");
        }
    }
}
