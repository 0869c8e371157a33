//! Whether a piece may be handed over, and what is to be done, in words.

use crate::cli::words::count;
use crate::inspect::{Hindrance, Outlook, Todo, Verdict};
use crate::unit::legible::one_line;

/// What is said at the end of a piece: a sentence, and one list of what keeps it and of what would help.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::cli) struct Told {
    /// Whether it may be handed over.
    pub(in crate::cli) head: String,
    /// What keeps it, each with what to write.
    pub(in crate::cli) keeps: Vec<Said>,
    /// What stands before what would help; empty where nothing would, or where the head says so.
    pub(in crate::cli) besides: String,
    /// What would help its papers most.
    pub(in crate::cli) helps: Vec<Said>,
}

/// One thing to be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::cli) struct Said {
    /// What, without a full stop.
    pub(in crate::cli) say: String,
    /// What to write; empty where nothing is to be.
    pub(in crate::cli) write: String,
}

impl Told {
    /// What is said of a piece; `None` where its record could not be read.
    pub(in crate::cli) fn of(outlook: Option<&Outlook>) -> Told {
        let todo = outlook.map_or(&[][..], |outlook| &outlook.todo);
        let (keeps, helps): (Vec<&Todo>, Vec<&Todo>) = todo.iter().partition(|todo| todo.keeps.is_some());
        let verdict = outlook.map(|outlook| &outlook.verdict);
        Told {
            head: head(verdict),
            besides: match verdict {
                Some(Verdict::Fit { .. }) => String::new(),
                _ => besides(keeps.len(), helps.len()).to_owned(),
            },
            keeps: keeps.into_iter().map(said).collect(),
            helps: helps.into_iter().map(said).collect(),
        }
    }
}

fn said(todo: &Todo) -> Said {
    let reason = todo.keeps.as_ref().map(reason);
    let say = todo.addition.as_ref().map(|addition| addition.say.clone());
    Said {
        say: reason.into_iter().chain(say).collect::<Vec<_>>().join("; "),
        write: todo.addition.as_ref().map_or_else(String::new, |addition| addition.write.clone()),
    }
}

/// The word for it by which other programs ask.
pub(super) fn word(verdict: Option<&Verdict>) -> &'static str {
    match verdict {
        Some(Verdict::Gone(_)) => "gone",
        Some(Verdict::Fit { gaps: 0 }) => "fit",
        Some(Verdict::Fit { .. }) => "fit-with-gaps",
        Some(Verdict::NotYet(_)) | None => "not-yet",
    }
}

/// What keeps the piece, a clause each.
pub(super) fn reasons(verdict: Option<&Verdict>) -> Vec<String> {
    match verdict {
        Some(Verdict::NotYet(hindrances)) => hindrances.iter().map(reason).collect(),
        None => vec![UNREAD.to_owned()],
        Some(_) => Vec::new(),
    }
}

const UNREAD: &str = "its record cannot be read";

fn reason(hindrance: &Hindrance) -> String {
    match hindrance {
        Hindrance::Mistakes(number) => {
            format!("{} to be mended first", count(*number, "mistake is", "mistakes are"))
        }
        Hindrance::NoWork => "nothing tells what was done to it".to_owned(),
        Hindrance::NoStandings => "nothing tells which of its parts are original".to_owned(),
        Hindrance::NoSurfaces => "nothing tells what is on its surfaces".to_owned(),
        Hindrance::Open(number) => format!("{} still open", count(*number, "thing is", "things are")),
        Hindrance::Soft { surface, from } => {
            format!("{} bears no use before {from}", one_line(surface))
        }
    }
}

fn head(verdict: Option<&Verdict>) -> String {
    match verdict {
        Some(Verdict::Fit { gaps }) => match gaps {
            0 => "Fit to hand over.".to_owned(),
            1 => "Fit to hand over, with this gap:".to_owned(),
            2 => "Fit to hand over, with these two gaps:".to_owned(),
            3 => "Fit to hand over, with these three gaps:".to_owned(),
            _ => "Fit to hand over, with these gaps:".to_owned(),
        },
        Some(Verdict::Gone(on)) => format!("It left on {on}."),
        Some(Verdict::NotYet(_)) => "Not yet to be handed over, because:".to_owned(),
        None => format!("Not yet to be handed over: {UNREAD}."),
    }
}

/// What stands before so many additions that would help, after so many things that keep the piece.
fn besides(keeps: usize, helps: usize) -> &'static str {
    match (helps, keeps) {
        (0, _) => "",
        (1, 0) => "One addition that would help most:",
        (2, 0) => "Two additions that would help most:",
        (_, 0) => "Three additions that would help most:",
        (1, _) => "Besides, this would help its papers most:",
        (2, _) => "Besides, these two would help its papers most:",
        _ => "Besides, these three would help its papers most:",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inspect::Addition;

    fn addition(say: &str) -> Addition {
        Addition {
            say: say.to_owned(),
            write: "made = \"1920\"".to_owned(),
            heading: String::new(),
            weight: 1,
            counts: Vec::new(),
        }
    }

    fn told(verdict: Verdict, todo: Vec<Todo>) -> (String, Vec<String>, String, usize) {
        let told = Told::of(Some(&Outlook { verdict, todo }));
        (told.head, told.keeps.into_iter().map(|said| said.say).collect(), told.besides, told.helps.len())
    }

    #[test]
    fn it_says_whether_and_why_not() {
        let helps = Todo { keeps: None, addition: Some(addition("say when it was made")) };
        let none = Vec::<String>::new();
        assert_eq!(
            told(Verdict::Fit { gaps: 0 }, Vec::new()),
            ("Fit to hand over.".to_owned(), none.clone(), String::new(), 0)
        );
        let three = vec![helps.clone(), helps.clone(), helps.clone()];
        let head = "Fit to hand over, with these three gaps:".to_owned();
        assert_eq!(told(Verdict::Fit { gaps: 3 }, three), (head, none, String::new(), 3));
        let keeps = |hindrance: &Hindrance, addition| Todo { keeps: Some(hindrance.clone()), addition };
        let hindrances = [Hindrance::Mistakes(1), Hindrance::NoWork];
        let todo = vec![
            keeps(&hindrances[0], None),
            keeps(&hindrances[1], Some(addition("say what was done"))),
            helps,
        ];
        let not_yet = Verdict::NotYet(hindrances.to_vec());
        assert_eq!((word(Some(&not_yet)), word(None)), ("not-yet", "not-yet"));
        assert_eq!(
            told(not_yet, todo),
            (
                "Not yet to be handed over, because:".to_owned(),
                vec![
                    "1 mistake is to be mended first".to_owned(),
                    "nothing tells what was done to it; say what was done".to_owned()
                ],
                "Besides, this would help its papers most:".to_owned(),
                1
            )
        );
        assert_eq!(Told::of(None).head, "Not yet to be handed over: its record cannot be read.");
    }
}
