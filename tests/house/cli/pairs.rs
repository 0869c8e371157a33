//! Before onto after, in the written papers.

use crate::fixture::Bench;

const SPREAD: &str =
    "[[0.1, 0.1, 0.1, 0.1], [0.9, 0.1, 0.9, 0.1], [0.9, 0.9, 0.9, 0.9], [0.1, 0.9, 0.1, 0.9]]";
const IN_LINE: &str =
    "[[0.1, 0.1, 0.1, 0.1], [0.4, 0.4, 0.4, 0.4], [0.6, 0.6, 0.6, 0.6], [0.9, 0.9, 0.9, 0.9]]";

/// The papers of a chair with photographs from before and after whose landmarks are these; `code` is 1 where there is
/// a doubt.
fn chair(landmarks: &str, of_before: &str, code: i32) -> Bench {
    let record = format!(
        "title = \"Ladder-back chair\"\nnumber = \"CH-001\"\nkind = \"chair/ladder-back\"\n\
         [[photo]]\nfile = \"before-front.jpg\"\nalt = \"The chair, two rungs loose.\"\n{of_before}\n\
         [[photo]]\nfile = \"after-front.jpg\"\nalt = \"The chair, all rungs in place.\"\n\
         [[pair]]\nbefore = \"before-front.jpg\"\nafter = \"after-front.jpg\"\nlandmarks = {landmarks}\n"
    );
    Bench::workshop()
        .write("pieces/chair/record.toml", record)
        .photographed("chair")
        .args(["writeup"])
        .status(code)
}

/// The names of a tree's pictures of pairs, and whether its page lays them onto each other.
fn shown(bench: &Bench, tree: &str) -> (Vec<String>, bool) {
    let folder = format!("written/{tree}/pieces/ch-001");
    let pictures = bench.files(&format!("{folder}/pictures")).into_iter().map(|(path, _)| path);
    let page = String::from_utf8(bench.read(&format!("{folder}/index.html"))).unwrap();
    (pictures.filter(|path| path.starts_with("pair-")).collect(), page.contains("data-compare="))
}

#[test]
fn a_pair_with_landmarks_is_laid_onto_each_other() {
    let bench = chair(SPREAD, "", 0);
    for tree in ["showroom", "archive"] {
        let pair = ["pair-01-after-8.jpg", "pair-01-before-8.jpg"].map(str::to_owned).to_vec();
        assert_eq!(shown(&bench, tree), (pair, true), "{tree}");
    }
    // The whole photographs stand among the plates.
    let page = String::from_utf8(bench.read("written/showroom/pieces/ch-001/index.html")).unwrap();
    assert!(page.contains("pictures/before-01-8.jpg") && page.contains("pictures/after-02-8.jpg"));
    // The second time the pictures come from the darkroom, and the page says the same.
    let again = bench.args(["writeup", "--to", "again"]).status(0);
    assert!(again.files("written") == again.files("again"));
}

#[test]
fn a_pair_with_a_private_photograph_stays_in_the_archive() {
    let bench = chair(SPREAD, "private = true", 1);
    assert_eq!(shown(&bench, "showroom"), (Vec::new(), false));
    assert_eq!(shown(&bench, "archive").0.len(), 2);
    let page = String::from_utf8(bench.read("written/showroom/pieces/ch-001/index.html")).unwrap();
    assert!(page.contains("pictures/after-02-8.jpg"), "the other one is still shown");
}

#[test]
fn landmarks_that_are_refused_leave_the_two_side_by_side() {
    let bench = chair(IN_LINE, "", 1);
    assert_eq!(shown(&bench, "showroom"), (Vec::new(), false));
    bench.args(["inspect"]).stderr_has("  Doubt: all points lie nearly in one line").status(1);
}
