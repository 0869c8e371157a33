//! What a stranger sees in the showroom of pieces that are hard to show.

use std::sync::LazyLock;

use crate::fixture::{Workshop, Writing, noisy, plain};

const SHOP: &str = "currency = \"GBP\"\ncontact = \"ask@bench.example\"\n";

/// Each of them asks something else of the pages.
static WRITTEN: LazyLock<Writing> = LazyLock::new(|| {
    let record = |more: &str| format!("kind = \"table/side\"\n{more}");
    let part = |standing: &str| {
        format!(
            "[[part]]\nid = \"{standing}\"\nname = \"Part\"\nstanding = \"{standing}\"\ntimber = \"oak\"\n"
        )
    };
    let standings = ["original", "new", "salvaged", "later", "old-repair", "unknown"];
    let parts: String = standings.iter().map(|standing| part(standing)).collect();
    Workshop::new(SHOP)
        .piece("hyphen", "Walnut drop-leaf table", "T-1", &record("asking = 240\nreserved = {}\n"))
        .piece("long", &"A title that goes on ".repeat(9), "T-2", &record("asking = 1200\n"))
        .piece("bare", "Bare table", "T-3", &record(&format!("asking = 80\n{parts}")))
        .write("pieces/hyphen/photos/after-front.jpg", plain(140))
        .write("pieces/long/photos/after-front.jpg", noisy(1, 480))
        .writeup()
});

/// The page of a piece.
fn piece(number: &str) -> String {
    WRITTEN.page(&format!("showroom/pieces/{number}/index.html"))
}

/// What stands between two texts of a page, the first time.
#[track_caller]
fn between<'a>(page: &'a str, from: &str, to: &str) -> &'a str {
    let rest = page.split_once(from).unwrap_or_else(|| panic!("no {from}")).1;
    rest.split_once(to).unwrap_or_else(|| panic!("no {to} after {from}")).0
}

#[test]
fn a_word_with_a_hyphen_stays_whole_in_a_title_wherever_it_stands() {
    let title = "<bdi>Walnut <span class=\"whole\">drop-leaf</span> table</bdi>";
    assert_eq!(between(&piece("t-1"), "<h1>", "</h1>"), title);
    assert!(WRITTEN.page("showroom/index.html").contains(title), "on the front");
    assert!(piece("t-2").contains(title), "in the way to the next");
    assert!(between(&piece("t-1"), "<title>", "</title>").starts_with("Walnut drop-leaf table"));
}

#[test]
fn what_is_reserved_is_so_wherever_its_price_stands() {
    let page = piece("t-1");
    assert!(between(&page, "<div class=\"bar\">", "</div>").contains(">Reserved, £240<"));
    assert!(between(&page, "<div class=\"buy\">", "</div>").contains(">Reserved, £240<"));
    assert!(between(&piece("t-3"), "<div class=\"bar\">", "</div>").contains(">£80<"));
}

#[test]
fn patterns_of_standings_are_there_where_no_photograph_is_outlined() {
    let page = piece("t-3");
    assert!(!page.contains("class=\"drawing\""));
    let sheet = String::from_utf8(WRITTEN.files["showroom/assets/showroom.css"].clone()).unwrap();
    let mut filled = 0;
    for standing in ["salvaged", "later", "old-repair", "unknown"] {
        assert!(page.contains(&format!("outline-{standing}\"")), "{standing}");
        let name = between(&sheet, &format!(".drawing .outline-{standing} {{ fill: url(#"), ")");
        filled += page.matches(&format!("id=\"{name}\"")).count();
    }
    assert_eq!(filled, 4, "each pattern once");
}

#[test]
fn a_photograph_of_few_dots_is_not_blown_up_and_a_long_title_is_set_smaller() {
    let (small, large) = (piece("t-1"), piece("t-2"));
    assert!(small.contains("<div class=\"picture little\">") && small.contains("<h1>"));
    let opening = between(&large, "<div class=\"opening", "<nav");
    assert!(opening.contains("<div class=\"picture\">") && opening.contains("<h1 class=\"long\">"));
    let front = WRITTEN.page("showroom/index.html");
    assert_eq!(front.matches("class=\"picture little\"").count(), 1);
}
