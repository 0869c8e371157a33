//! One hostile piece beside a sound one: whatever its folder says, the other has its papers, and the program says in
//! which file and line the trouble is.

use crate::fixture::{Bench, plain};

/// What every record begins with.
const HEAD: &str = "title = \"Odd one\"\nnumber = \"OD-1\"\nkind = \"chair/ladder-back\"\n";

/// How many sheets are printed of a piece.
const SHEETS: usize = if cfg!(feature = "papers") { 5 } else { 0 };

/// A sound piece and an odd one, with the odd one's record and story.
fn beside(record: &str, story: &str) -> Bench {
    Bench::sound().write("pieces/odd/record.toml", record).write("pieces/odd/story.md", story)
}

/// Writes up, and holds the sound piece to all of its papers; gives what was said on the standard error.
#[track_caller]
fn written(bench: &Bench) -> String {
    let output = bench.command().arg("writeup").output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    let head: String = said.chars().take(2_000).collect();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{:?}\n{head}", output.status);
    assert!(said.len() < 400_000, "{} bytes are said", said.len());
    assert_eq!(printed(bench, "ch-001-"), SHEETS, "the sound piece lacks papers\n{head}");
    for page in ["archive/pieces/ch-001/index.html", "showroom/pieces/ch-001/index.html"] {
        assert!(bench.path("written").join(page).exists(), "{page}\n{head}");
    }
    said
}

/// How many papers to print are in the buyer's folder whose name begins with this.
fn printed(bench: &Bench, beginning: &str) -> usize {
    let names = bench.names("written/buyers");
    names.iter().filter(|name| name.starts_with(beginning) && name.ends_with(".pdf")).count()
}

/// Asserts that an odd piece is left out with a mistake of this kind at this place.
#[track_caller]
fn left_out(record: &str, story: &str, code: &str, place: &str) {
    let bench = beside(record, story);
    let said = written(&bench);
    let head: String = said.chars().take(2_000).collect();
    let at = said.find(&format!("(why {code})")).unwrap_or_else(|| panic!("no {code}:\n{head}"));
    let told = said[..at].rsplit("\n\n").next().unwrap_or_default();
    assert!(told.contains(place) && told.contains("\n  Mistake: "), "{told}\n{head}");
    assert_eq!(printed(&bench, "od-1-"), 0);
}

/// Asserts that an odd piece has all of its papers, too.
#[track_caller]
fn has_papers(record: &str, story: &str) {
    let bench = beside(record, story);
    let said = written(&bench);
    assert!(!said.contains("Mistake: "), "{said}");
    assert_eq!(printed(&bench, "od-1-"), SHEETS, "{said}");
}

/// A list with so many levels.
fn nested(levels: usize) -> String {
    (0..levels).map(|level| format!("{}- a\n", "  ".repeat(level))).collect()
}

#[test]
fn a_story_of_many_levels() {
    has_papers(HEAD, &format!("{}\n\n{}", nested(10), ">".repeat(10) + " deep"));
    left_out(HEAD, &nested(19), "too-deep", "pieces/odd/story.md, line 11\n");
    left_out(HEAD, &(">".repeat(28) + " deep"), "too-deep", "pieces/odd/story.md, line 1\n");
    left_out(HEAD, &format!("a\n\n{} deep", ">".repeat(20_000)), "too-deep", "pieces/odd/story.md, line 3\n");
    left_out(
        HEAD,
        &("*a **b ".repeat(15) + "c" + &"** a*".repeat(15)),
        "too-deep",
        "pieces/odd/story.md, line 1\n",
    );
}

#[test]
fn texts_of_any_length() {
    let text = |key: &str, length: usize| format!("{HEAD}{key} = \"{}\"\n", "𝒳".repeat(length));
    has_papers(&text("summary", 6_000), &format!("# {}\n", "𝒳".repeat(300)));
    left_out(&text("summary", 32_000), "", "too-long", "pieces/odd/record.toml, line 4\n");
    left_out(HEAD, &format!("a\n\n# {}", "a".repeat(33_000)), "too-long", "pieces/odd/story.md, line 3\n");
    left_out(HEAD, &"word ".repeat(1_500_000), "unreadable-text", "pieces/odd/story.md");
    left_out(HEAD, &"word ".repeat(5_000), "too-long", "pieces/odd/story.md, line 1\n");
    left_out(
        HEAD,
        &format!("|a|b|\n|-|-|\n{}", "|1|2|\n".repeat(3_000)),
        "too-long",
        "pieces/odd/story.md, line ",
    );
    left_out(HEAD, &"a  \n".repeat(6_000), "too-long", "pieces/odd/story.md, line ");
    has_papers(HEAD, &"A paragraph of a few words.\n\n".repeat(500));
    let long = |title: usize, number: usize| {
        format!(
            "title = \"{}\"\nnumber = \"OD-1{}\"\nkind = \"stool\"\n",
            "x".repeat(title),
            "1".repeat(number)
        )
    };
    left_out(&long(300, 0), "", "too-long", "pieces/odd/record.toml, line 1\n");
    left_out(&long(1, 5_000), "", "too-long", "pieces/odd/record.toml, line 2\n");
}

#[test]
fn texts_that_show_nothing_are_none() {
    for unseen in ["\u{200b}", "\u{ad}", "\u{feff}", "\u{2060}\u{3164}", " \u{a0} "] {
        let record = format!("{HEAD}[[photo]]\nfile = \"after.jpg\"\nalt = \"{unseen}\"\n");
        let bench = beside(&record, &format!("![{unseen}](after.jpg)\n\n# {unseen}\n"));
        let bench = bench.write("pieces/odd/photos/after.jpg", plain(90));
        let said = written(&bench);
        assert!(said.contains("(why empty-text)"), "{said}");
        assert!(said.contains("pieces/odd/record.toml, line 6\n"), "{said}");
        assert!(!said.contains("paper-not-made"), "{said}");
    }
    has_papers(
        &format!("{HEAD}[[surface]]\nfound = \"shellac\"\n"),
        "# \u{200b}\n\n#\n\n[](https://example.org)\n",
    );
}

#[test]
fn lists_and_counts_of_any_length() {
    let part = |id: usize| format!("[[part]]\nid = \"p{id}\"\nname = \"Part\"\nstanding = \"orignal\"\n");
    let parts: String = (0..4_000).map(part).collect();
    let bench = beside(&format!("{HEAD}{parts}"), "");
    let said = written(&bench);
    assert!(said.contains("Mistake: this list has 4000 elements, and 2000 are read"), "{said}");
    assert!(said.contains("more of this kind, from this one on"), "all mistakes are drawn");
    has_papers(
        &format!(
            "{HEAD}[[part]]\nid = \"a\"\nname = \"Slat\"\nstanding = \"original\"\ncount = 100000\n\
             [[fixing]]\nkind = \"tack\"\nstanding = \"new\"\ncount = 100000\n"
        ),
        "",
    );
    let keys: String = (0..100_000).map(|key| format!("k{key} = 1\n")).collect();
    left_out(&format!("{HEAD}{keys}"), "", "unknown-key", "pieces/odd/record.toml, line 4\n");
}

#[test]
fn many_names_in_one_heading_and_an_endless_address() {
    let part = |id: usize| {
        format!("[[part]]\nid = \"p{id}\"\nname = \"{} {id}\"\nstanding = \"original\"\n", "name ".repeat(38))
    };
    let parts: String = (0..200).map(part).collect();
    let ids: Vec<String> = (0..200).map(|id| format!("\"p{id}\"")).collect();
    let surface = format!("[[surface]]\nparts = [{}]\nfound = \"shellac\"\n", ids.join(", "));
    has_papers(
        &format!("{HEAD}{parts}{surface}"),
        &format!("[a](https://example.org/{})\n", "x".repeat(20_000)),
    );
}

#[test]
fn stories_that_ask_for_the_square_of_their_length() {
    let references: String = (0..6_000).map(|number| format!("[a{number}]: /x\n\n[a{number}]\n\n")).collect();
    for story in [
        &references,
        &"*a ".repeat(30_000),
        &"[".repeat(60_000),
        &"**_a".repeat(15_000),
        &"[a](".repeat(15_000),
    ] {
        let bench = beside(HEAD, story);
        let output = bench.command().arg("inspect").output().unwrap();
        assert!(matches!(output.status.code(), Some(0 | 1)), "{:?}", output.status);
        assert!(output.stderr.len() < 400_000);
    }
}

#[test]
fn words_of_every_kind_are_printed_as_they_were_typed() {
    let record = "title = \"#panic() $x$ *a* _b_ `c` @d <e> {{ f }} {% g %} \\\\ ]]> --\"\nnumber = \"OD-1\"\nkind = \"stool\"\n";
    has_papers(record, "#panic() $x$ @d \\ {{ f }} {% g %} e\u{301}\u{301}\u{301} 🪑 漢字 שלום\n");
}

#[test]
fn a_row_that_cannot_be_read_costs_that_row_and_the_papers_say_so() {
    let record = format!(
        "{HEAD}[[finding]]\nid = \"split\"\nseen = true\n[[finding]]\nid = \"gap\"\nseen = \"a gap in the seat\"\n"
    );
    let bench = beside(&record, "");
    let said = written(&bench);
    assert!(said.contains("pieces/odd/record.toml, line 6\n"), "{said}");
    assert_eq!(printed(&bench, "od-1-"), SHEETS);
    let lacking = "Incomplete: part of the record could not be read. Left out, wholly or in part: 1 finding.";
    let pages = bench.files("written");
    let of_odd = pages.iter().filter(|(path, _)| path.ends_with(".html") && path.contains("od-1"));
    let mut seen = 0;
    for (path, bytes) in of_odd {
        seen += 1;
        let page = String::from_utf8_lossy(bytes);
        assert!(page.contains(lacking), "{path}");
    }
    assert!(seen >= 7, "{seen}");
    let pages = pages.iter().filter(|(path, _)| path.contains("od-1") && path.ends_with("disclosure.html"));
    assert!(pages.into_iter().all(|(_, bytes)| String::from_utf8_lossy(bytes).contains("A gap in the seat")));
}

#[test]
fn a_mistake_that_may_hide_what_is_private_costs_the_piece() {
    left_out(&format!("{HEAD}publsh = false\n"), "", "unknown-key", "record.toml, line 4\n");
    left_out(&format!("{HEAD}publish = \"later\"\n"), "", "wrong-kind", "record.toml, line 4\n");
    left_out(&format!("{HEAD}publish =\n"), "", "broken-toml", "record.toml, line 4\n");
    let photo = "[[photo]]\nfile = \"after.jpg\"\nprivate = ";
    left_out(&format!("{HEAD}{photo}\"perhaps\"\n"), "", "wrong-kind", "record.toml, line 6\n");
    left_out(&format!("{HEAD}{photo}\n"), "", "broken-toml", "record.toml, line 6\n");
    left_out(&format!("{HEAD}{photo}true\n[[photo.marks = 3\n"), "", "broken-toml", "record.toml, line 7\n");
}
