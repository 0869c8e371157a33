//! The command line of Witnessmark.

use std::path::Path;

struct Quiet;
impl witnessmark::Progress for Quiet {
    fn begin(&self, _: usize) {}
    fn tick(&self) {}
    fn end(&self) {}
}

fn main() {
    let mut args = std::env::args().skip(2);
    let root = args.next().expect("workshop");
    let root = Path::new(&root);
    let to = args.nth(1).map_or(root.join("written"), Into::into);
    let tree = witnessmark::source::Tree::open(root).expect("tree");
    let stage = witnessmark::write::Stage::open(&to).expect("stage");
    let secret = witnessmark::write::Secret::of(root).expect("secret");
    let today = chrono::Local::now().date_naive();
    match witnessmark::writeup(&tree, today, stage, &secret, None, &Quiet) {
        Ok((survey, written)) => {
            for found in &survey.diagnostics {
                let text = tree.text(&found.place.path).and_then(Result::ok);
                eprintln!("{}\n", witnessmark::diag::Drawing::plain(90).draw(found, text));
            }
            println!("{written:?}");
        }
        Err(error) => {
            println!("{error:?}");
            std::process::exit(2);
        }
    }
}
