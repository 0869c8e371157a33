//! Files are saved, and pages follow.

use super::*;

#[test]
fn a_saved_record_is_written_again_and_open_pages_hear_of_it() {
    let running = Running::start(workshop());
    let mut ear = Ear::at(&running);
    ear.news(|news| news["written"] == 1 && news["words"] == "");
    // As many editors save: beside the file, then over it.
    std::fs::write(
        running.bench.path("pieces/chair/new~"),
        RECORD.replace("Ladder-back chair", "Chair with five rungs"),
    )
    .unwrap();
    std::fs::rename(running.bench.path("pieces/chair/new~"), running.bench.path("pieces/chair/record.toml"))
        .unwrap();
    ear.news(|news| news["written"].as_u64() > Some(1));
    assert!(running.get("/showroom/pieces/ch-001/").text().contains("Chair with five rungs"));
    running.line("pieces/chair/record.toml: 1 piece, ");
}

/// The pages come first, since setting papers takes its time; but they come.
#[cfg(feature = "papers")]
#[test]
fn the_papers_to_print_follow_the_pages() {
    let running = Running::start(workshop());
    let paper = || {
        let papers = running.bench.names("written/buyers");
        let care = papers.iter().find(|path| path.ends_with("/care.pdf"))?;
        Some(std::fs::read(running.bench.path("written/buyers").join(care)).unwrap())
    };
    let other_than = |before: &[u8]| {
        let looks = (0..600).filter_map(|_| {
            std::thread::sleep(Duration::from_millis(100));
            paper()
        });
        looks.into_iter().find(|now| now != before).expect("the paper is printed")
    };
    let first = other_than(&[]);
    let mut ear = Ear::at(&running);
    running.save(&RECORD.replace("Ladder-back chair", "Chair with five rungs"));
    let pages = ear.news(|news| news["written"].as_u64() > Some(1));
    other_than(&first);
    // Whoever waits for a paper is told; pages that stand are not loaded again.
    let later = ear.news(|news| news["turn"].as_u64() > pages["turn"].as_u64());
    assert_eq!(later["written"], pages["written"]);
}

#[test]
fn a_mistake_is_told_in_the_same_words_on_the_page_and_in_the_terminal() {
    let running = Running::start(workshop());
    let mut ear = Ear::at(&running);
    running.save(&RECORD.replace("kind = ", "kidn = "));
    let news = ear.news(|news| news["words"] != "");
    let words = news["words"].as_str().unwrap();
    assert!(words.contains("(why unknown-key)") && words.ends_with("1 mistake."), "{words}");
    assert_eq!((&news["grave"], &news["closing"]), (&true.into(), &"1 mistake.".into()));
    let end = Instant::now() + PATIENCE;
    while !running.err.lock().unwrap().contains(words) {
        assert!(Instant::now() < end, "not in the terminal:\n{words}\n---\n{}", running.err.lock().unwrap());
        std::thread::sleep(Duration::from_millis(20));
    }
    // Its page stands as it was, and the front page says so and why.
    assert_eq!(running.get("/archive/pieces/ch-001/").status, 200);
    let front = running.get("/").text();
    assert!(front.contains("(why unknown-key)"), "{front}");
    assert!(front.contains("Its record has mistakes: papers from before"), "{front}");
    running.save(RECORD);
    ear.news(|news| news["words"] == "");
    assert_eq!(running.get("/archive/pieces/ch-001/").status, 200);
}

#[test]
fn what_keeps_everything_from_being_written_is_told_and_waited_for() {
    let running = Running::start(workshop());
    let mut ear = Ear::at(&running);
    std::fs::write(running.bench.path("written/mine.txt"), "mine").unwrap();
    running.save(&RECORD.replace("chair\"  #", "stool\"  #"));
    let news = ear.news(|news| news["words"] != "");
    let words = news["words"].as_str().unwrap();
    assert!(words.contains("holds files that witnessmark did not write: `mine.txt`"), "{words}");
    assert!(words.ends_with("Nothing was written."), "{words}");
    assert_eq!(running.bench.read("written/mine.txt"), b"mine");
    std::fs::write(running.bench.path("workshop.toml"), "name = true\n").unwrap();
    std::fs::remove_file(running.bench.path("written/mine.txt")).unwrap();
    let news = ear.news(|news| news["words"].as_str().unwrap().contains("wrong-kind"));
    assert!(news["words"].as_str().unwrap().ends_with("workshop.toml has to be mended first."), "{news}");
    std::fs::write(running.bench.path("workshop.toml"), "name = \"Bench\"\n").unwrap();
    ear.news(|news| news["words"] == "");
}
