//! `[[after]]`: what happened after a piece had left, and a piece that came back and leaves again.

use crate::fixture::{Bench, noisy};

const RECORD: &str = "title = \"Ash stool\"\nnumber = \"ST-01\"\nkind = \"seating/stool\"\n\
     found = { paid = 10 }\nhours = 3\n\
     part = [{ id = \"seat\", name = \"Seat\", standing = \"original\" }]\n\
     finding = [{ id = \"f1\", part = \"seat\", seen = \"split\" }]\n\
     work = [{ on = 2026-05-11, part = \"seat\", did = \"closed the split\", mends = \"f1\" }]\n";

const SOLD: &str = "handover = { on = 2026-05-12, to = \"Ada Brown\", price = 90 }\n";

const CALL: &str = "[[after]]\non = 2026-05-20\nwhat = \"complaint\"\nsaid = \"the zebrawood seat squeaks\"\n\
     part = \"seat\"\nfinding = \"f1\"\nhours = 0.5\ncost = 4.50\n";

const BACK: &str = "[[after]]\non = 2026-05-25\nwhat = \"returned\"\nrefunded = 90\n";

fn stool(record: &str) -> Bench {
    Bench::workshop()
        .write("workshop.toml", "name = \"Bench\"\ncurrency = \"GBP\"\n")
        .write("pieces/stool/record.toml", record)
        .write("pieces/stool/photos/before-front.jpg", noisy(1, 64))
        .write("pieces/stool/photos/after-front.jpg", noisy(2, 64))
}

fn page(bench: &Bench, path: &str) -> String {
    String::from_utf8(bench.read(path)).expect("a page is text")
}

fn holds(bench: &Bench, folder: &str, text: &str) -> bool {
    bench.files(folder).iter().any(|(_, bytes)| bytes.windows(text.len()).any(|part| part == text.as_bytes()))
}

#[test]
fn what_came_after_is_in_the_archive_and_its_database_alone() {
    let bench = stool(&format!("{RECORD}{SOLD}{CALL}")).runs(["writeup"]);
    let archive = page(&bench, "written/archive/pieces/st-01/index.html");
    for told in ["After it had left", "Complaint", "The zebrawood seat squeaks.", "£4.50", "Seat; finding 1"]
    {
        assert!(archive.contains(told), "{told}");
    }
    for tree in ["written/showroom", "written/buyers"] {
        assert!(!holds(&bench, tree, "squeaks"), "{tree}");
    }
    let bench = bench.args(["consult", "words", "squeaks"]).stdout_has("zebrawood").status(0);
    let (_, money) = bench.args(["consult", "money", "--as", "json"]).output(0);
    assert!(money.contains("14.5"), "{money}");
    // It is not sealed, so that nothing is amended by it.
    let bench = stool(&format!("{RECORD}{SOLD}")).args(["handover", "stool"]).status(0);
    let bench = bench.write("pieces/stool/record.toml", format!("{RECORD}{SOLD}{CALL}")).runs(["writeup"]);
    let archive = page(&bench, "written/archive/pieces/st-01/index.html");
    assert!(archive.contains("The record has not been changed since."), "{archive}");
}

#[test]
fn a_mistyped_row_is_told_with_what_to_write() {
    let wrong = "[[after]]\non = 2026-05-20\nwhat = \"cal\"\nsayd = \"x\"\n";
    stool(&format!("{RECORD}{SOLD}{wrong}"))
        .args(["inspect"])
        .stderr_has("`cal` is none of the words that `what` takes")
        .stderr_has("[[after]] has no key `sayd`")
        .status(1);
}

#[test]
fn a_piece_that_came_back_is_offered_again_and_leaves_under_a_new_seal() {
    let bench = stool(&format!("{RECORD}{SOLD}")).args(["handover", "stool"]).status(0);
    let first = bench.read("pieces/stool/sealed/001.toml");
    let back = format!("asking = 80\n{RECORD}{SOLD}{CALL}{BACK}");
    let bench = bench.write("pieces/stool/record.toml", &back).runs(["writeup"]);
    let shown = page(&bench, "written/showroom/pieces/st-01/index.html");
    assert!(shown.contains("For sale") && shown.contains("£80"), "it is offered again");
    assert!(!holds(&bench, "written/buyers", "Ada Brown"), "whoever had it is not named to the next");
    let archive = page(&bench, "written/archive/pieces/st-01/index.html");
    assert!(archive.contains("Came back on"), "{archive}");
    // The handover of before is not sealed once more.
    let bench = bench
        .args(["handover", "stool"])
        .stderr_has("Refused: stool was not handed over: it came back on 2026-05-25")
        .status(1);
    assert!(!bench.path("pieces/stool/sealed/002.toml").exists());
    let again = back
        .replace("asking = 80\n", "")
        .replace(SOLD, "handover = { on = 2026-05-28, to = \"Bo Lee\", price = 80 }\n");
    let bench = bench
        .write("pieces/stool/record.toml", &again)
        .args(["handover", "stool"])
        .stdout_has("seal 2")
        .stdout_has("left     2026-05-28")
        .status(0);
    assert_eq!(bench.read("pieces/stool/sealed/001.toml"), first, "the old seal stands");
    let bench = bench.args(["verify", "pieces/stool/sealed/st-01-001"]).status(0);
    let bench = bench.args(["verify", "pieces/stool/sealed/st-01-002"]).status(0);
    let archive = page(&bench.runs(["writeup"]), "written/archive/pieces/st-01/index.html");
    assert!(archive.contains("for the second time") && !archive.contains("Came back on"), "{archive}");
}

#[test]
fn receipts_are_sheets_of_the_archive_alone_and_a_number_left_out_is_told() {
    let receipt = |number: u32, what: &str, amount: u32| {
        format!(
            "[[receipt]]\nnumber = {number}\non = 2026-05-12\nwhat = \"{what}\"\namount = {amount}\nby = \"zebra notes\"\n"
        )
    };
    let two =
        |number| format!("{RECORD}{SOLD}{}{}", receipt(41, "deposit", 20), receipt(number, "balance", 70));
    let terms = "name = \"Bench\"\ncurrency = \"GBP\"\nterms = \"Yours once it is paid.\"\n";
    let bench = stool(&two(42)).write("workshop.toml", terms).runs(["writeup"]);
    let sheets = page(&bench, "written/archive/pieces/st-01/receipts.html");
    for told in [
        "Receipt 41",
        "Receipt 42",
        "Ada Brown",
        "£20.00, zebra notes",
        "Yours once it is paid.",
        "Delivery note",
    ] {
        assert!(sheets.contains(told), "{told}");
    }
    assert!(page(&bench, "written/archive/pieces/st-01/index.html").contains("href=\"receipts.html\""));
    for tree in ["written/showroom", "written/buyers"] {
        assert!(!holds(&bench, tree, "zebra") && !holds(&bench, tree, "Yours once"), "{tree}");
    }
    let bench = bench.args(["inspect"]);
    let told = bench.command().output().unwrap();
    assert!(!String::from_utf8_lossy(&told.stderr).contains("receipt-number"), "{told:?}");
    let bench = bench.write("pieces/stool/record.toml", two(43));
    bench.args(["inspect"]).stderr_has("receipt 42 is in no record, and 43 is").status(1);
}
