//! What would improve a piece's papers most: the answer to "what should I write next?"
//!
//! The checklist follows the categories of Object ID (type of object, materials and techniques,
//! measurements, inscriptions and markings, distinguishing features, title, subject, date or period,
//! maker), of which title and type are asked of every record and a subject hardly applies to
//! furniture, and adds what the papers of a restored piece live by: condition, decisions,
//! treatment, what was left, tests and care.
//!
//! Source of the categories: Thornes, Dorrell and Lie, *Introduction to Object ID*, Getty
//! Information Institute (1999), from memory.
//!
//! The weights are our own choice, not a standard's. They rank by what a buyer would miss
//! first: pictures, then what is honest about the work, then what identifies the piece, then
//! reasons, then extras. `unknown` is an answer everywhere.

use std::fmt;

use super::Case;
use crate::record::{Act, Stage};

/// Something that would improve a piece's papers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Addition {
    /// What to do, in lower case and without a full stop, such as "say when it was made".
    pub say: &'static str,
    /// What to write, as TOML to paste, or the path of a file to add.
    pub write: String,
    /// The heading of the checklist that it belongs to.
    pub heading: &'static str,
    /// How much it would improve the papers, from 1 to 100 by our own reckoning.
    pub weight: u32,
}

impl fmt::Display for Addition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let break_ = if self.write.contains('\n') { '\n' } else { ' ' };
        write!(f, "{}:{break_}{}", self.say, self.write)
    }
}

/// One line of the checklist.
struct Item {
    /// From 1 to 100, none twice; the heaviest that is missing comes first.
    weight: u32,
    heading: &'static str,
    say: &'static str,
    /// What to write; `None` where the record says it, or has no need to.
    missing: fn(&Case<'_>) -> Option<String>,
}

/// How many additions are proposed at once.
const AT_ONCE: usize = 3;

/// The three additions that would improve the piece's papers most, the best first; empty where nothing is missing.
pub fn additions(case: &Case<'_>) -> Vec<Addition> {
    let missing = CHECKLIST.iter().filter_map(|item| Some((item, (item.missing)(case)?)));
    let additions = missing.map(|(item, write)| Addition {
        say: item.say,
        write,
        heading: item.heading,
        weight: item.weight,
    });
    additions.take(AT_ONCE).collect()
}

/// The checklist, heaviest first.
static CHECKLIST: &[Item] = &[
    Item {
        weight: 100,
        heading: "photographs",
        say: "show the piece as it was found",
        missing: |case| photograph(case, true, &[Stage::Before], "before-front.jpg"),
    },
    Item {
        weight: 95,
        heading: "photographs",
        say: "show the piece after the work, from the same spot as before",
        missing: |case| {
            photograph(case, case.has_work(), &[Stage::After, Stage::Handover], "after-front.jpg")
        },
    },
    Item {
        weight: 90,
        heading: "treatment",
        say: "say what was done",
        missing: |case| absent(case.has_work(), "[[work]]\non = 2026-03-11\ndid = \"…\"\nundo = \"…\""),
    },
    Item {
        weight: 85,
        heading: "undone",
        say: "say what was left unmended, and what that means for the buyer",
        missing: |case| {
            let told = !case.has_work() || !case.record.undone.is_empty();
            absent(told, "[[undone]]\nwhat = \"…\"\nwhy = \"not-needed\"\neffect = \"…\"")
        },
    },
    Item {
        weight: 80,
        heading: "materials",
        say: "say of which parts it is made, and which of them are original",
        missing: |case| {
            let part = "[[part]]\nid = \"top\"\nname = \"Top\"\nstanding = \"unknown\"\ntimber = \"unknown\"";
            absent(!case.record.parts.is_empty(), part)
        },
    },
    Item {
        weight: 75,
        heading: "measurements",
        say: "say how large it is",
        missing: |case| {
            absent(case.record.size.is_some(), "size = { width = 910, depth = 1200, height = 735 }")
        },
    },
    Item {
        weight: 70,
        heading: "date or period",
        say: "say when it was made",
        missing: |case| {
            absent(case.record.made.is_some() || case.record.basis.is_some(), "made = \"1920/1935~\"")
        },
    },
    Item {
        weight: 68,
        heading: "condition",
        say: "say what was found wrong with it",
        missing: |case| {
            let finding = "[[finding]]\nid = \"f1\"\nseen = \"split\"\nextent = \"…\"\nseverity = \"minor\"";
            absent(!case.record.findings.is_empty(), finding)
        },
    },
    Item {
        weight: 65,
        heading: "care",
        say: "say what lies on its surfaces, since care follows from it",
        missing: |case| {
            let part = case.record.parts.first().map_or("…", |part| &part.id.0);
            let surface = format!("[[surface]]\nparts = [\"{part}\"]\nfound = \"unknown\"\nsteps = []");
            absent(!case.record.surfaces.is_empty(), &surface)
        },
    },
    Item {
        weight: 60,
        heading: "photographs",
        say: "describe a photograph for those who cannot see it",
        missing: |case| {
            let bare =
                case.facts.photographs.all.iter().find(|photo| photo.alt.is_none() && !photo.private)?;
            Some(format!("[[photo]]\nfile = \"{}\"\nalt = \"…\"", bare.file))
        },
    },
    Item {
        weight: 58,
        heading: "materials",
        say: "say of which timber it is",
        missing: |case| {
            let parts = &case.record.parts;
            let told =
                parts.is_empty() || parts.iter().any(|part| part.timber.is_some() || part.veneer.is_some());
            absent(told, "timber = \"unknown\"")
        },
    },
    Item {
        weight: 55,
        heading: "title",
        say: "say in a sentence what it is and is good for",
        missing: |case| absent(case.record.summary.is_some(), "summary = \"A table for six, made sound.\""),
    },
    Item {
        weight: 52,
        heading: "decisions",
        say: "say how far the work went, and why",
        missing: |case| absent(!case.has_work() || case.record.stance.is_some(), "stance = \"…\""),
    },
    Item {
        weight: 50,
        heading: "decisions",
        say: "say what you weighed up, doing nothing included",
        missing: |case| {
            let decision = "[[decision]]\nask = \"…\"\noptions = [{ plan = \"leave it\" }, { plan = \"…\" }]\n\
                            chose = \"…\"\nbecause = \"…\"";
            absent(!case.has_work() || !case.record.decisions.is_empty(), decision)
        },
    },
    Item {
        weight: 45,
        heading: "tests",
        say: "say whether it was tested for lead",
        missing: |case| {
            let steps = case.record.surfaces.iter().flat_map(|surface| &surface.steps);
            let mut acts = steps.flat_map(|step| step.acts());
            let told = !case.record.trials.is_empty() || acts.any(|act| matches!(act, Act::Test(_)));
            absent(told, "[[test]]\nof = \"lead\"\nresult = \"not-tested\"")
        },
    },
    Item {
        weight: 42,
        heading: "date or period",
        say: "say what the years of making rest on",
        missing: |case| {
            let told = case.record.made.is_none() || case.record.basis.is_some();
            absent(told, "basis = \"…\"")
        },
    },
    Item {
        weight: 40,
        heading: "treatment",
        say: "say in a word how far the work went",
        missing: |case| absent(!case.has_work() || case.record.level.is_some(), "level = \"repair\""),
    },
    Item {
        weight: 36,
        heading: "distinguishing features",
        say: "say by what it can be told from others of its kind",
        missing: |case| absent(case.record.told_by.is_some(), "told-by = \"…\""),
    },
    Item {
        weight: 34,
        heading: "inscriptions and markings",
        say: "say which labels, stamps and pencil marks it has",
        missing: |case| absent(case.record.inscriptions.is_some(), "inscriptions = \"none found\""),
    },
    Item {
        weight: 32,
        heading: "maker",
        say: "say who made it",
        missing: |case| absent(case.record.maker.is_some(), "maker = \"unknown\""),
    },
    Item {
        weight: 30,
        heading: "treatment",
        say: "tell its story in a few paragraphs",
        missing: |case| {
            let path = format!("pieces/{}/story.md", case.piece.folder);
            absent(!case.piece.story.trim().is_empty(), &path)
        },
    },
    Item {
        weight: 20,
        heading: "care",
        say: "say what the buyer may do with it and should beware of",
        missing: |case| absent(case.record.r#use.is_some(), "[use]\nfor = \"…\"\ncautions = [\"…\"]"),
    },
];

/// What to write, unless the record says it already.
fn absent(told: bool, write: &str) -> Option<String> {
    (!told).then(|| write.to_owned())
}

/// Where to put a photograph, if one of these stages is wanted and no public one shows it.
fn photograph(case: &Case<'_>, wanted: bool, stages: &[Stage], name: &str) -> Option<String> {
    let shows = |stage: Option<Stage>| stage.is_some_and(|stage| stages.contains(&stage));
    let shown = case.facts.photographs.all.iter().any(|photo| shows(photo.stage) && !photo.private);
    absent(!wanted || shown, &case.piece.photo_path(name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inspect::testing::bench;

    /// The additions proposed for the piece `table`, a line each.
    fn proposed(text: &str) -> String {
        let bench = bench(text);
        let lines: Vec<String> =
            bench.additions().iter().map(|addition| addition.to_string().replace('\n', " / ")).collect();
        lines.join("\n")
    }

    #[test]
    fn the_heaviest_comes_first_and_no_weight_stands_twice() {
        assert!(CHECKLIST.windows(2).all(|pair| pair[0].weight > pair[1].weight));
        assert!(CHECKLIST.iter().all(|item| (1..=100).contains(&item.weight)));
    }

    #[test]
    fn a_bare_record_is_asked_for_the_heaviest_three() {
        assert_eq!(
            proposed(""),
            "show the piece as it was found: pieces/table/photos/before-front.jpg\n\
             say what was done: / [[work]] / on = 2026-03-11 / did = \"…\" / undo = \"…\"\n\
             say of which parts it is made, and which of them are original: \
             / [[part]] / id = \"top\" / name = \"Top\" / standing = \"unknown\" / timber = \"unknown\""
        );
    }

    const WELL_TOLD: &str = r#"
made = "1920/1935~"
basis = "unknown"
maker = "unknown"
inscriptions = "none found"
told-by = "an ink stain inside the drawer"
level = "repair"
summary = "A table for six."
stance = "No more than needed."
size = { width = 910, depth = 1200, height = 735 }
part = [{ id = "top", name = "Top", standing = "unknown", timber = "unknown" }]
finding = [{ id = "f1", seen = "split" }]
decision = [{ ask = "The split?", chose = "close it" }]
work = [{ did = "closed it", mends = "f1" }]
surface = [{ parts = "top", found = "shellac" }]
test = [{ of = "lead", result = "not-tested" }]
undone = [{ what = "a burn", why = "not-needed" }]
photo = [{ file = "before.jpg", alt = "The front." }, { file = "after.jpg", alt = "The front." }]
use = { for = "meals" }
#- photos/before.jpg
#- photos/after.jpg
#- story.md
It came with a split.
"#;

    #[test]
    fn nothing_is_proposed_where_nothing_is_missing() {
        assert_eq!(proposed(WELL_TOLD), "");
    }

    #[test]
    fn each_line_of_a_record_is_missed_when_it_is_gone() {
        let lines: Vec<&str> = WELL_TOLD.trim().lines().collect();
        // Years are not asked for where their basis says that nothing tells.
        for gone in lines.iter().filter(|line| !line.starts_with("made")) {
            let rest: Vec<&str> = lines.iter().copied().filter(|line| line != gone).collect();
            assert_ne!(proposed(&rest.join("\n")), "", "{gone}");
        }
        let undated = WELL_TOLD.replace("made = \"1920/1935~\"\nbasis = \"unknown\"\n", "");
        assert_eq!(proposed(&undated), "say when it was made: made = \"1920/1935~\"");
    }
}
