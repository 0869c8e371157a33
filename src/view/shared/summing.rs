//! What a page of a fixed size has room for: of every list first the lines that it must have, then one after the other,
//! until the room is used; what is left over is counted.

use std::borrow::Cow;

use serde::Serialize;

use super::section::Form;
use crate::claim::{Claim, Message, says};
use crate::words::{self, Words, shortened};

/// What a line, the gap below it, and a list's heading with what may be left over take, in tenths of a millimetre and at
/// the tightest setting.
const LINE: usize = 40;
const GAP: usize = 12;
const HEADING: usize = 125;

/// A line that may be told.
pub(crate) struct Item<'a> {
    /// What it tells.
    pub(crate) claims: Vec<&'a Claim>,
    /// What it begins with; may be empty.
    pub(crate) lead: String,
    /// What it says.
    pub(crate) text: String,
    /// Whether it tells all of that.
    pub(crate) whole: bool,
}

impl Item<'_> {
    fn letters(&self) -> usize {
        wide(&self.lead) + wide(&self.text) + 1
    }

    /// The line as it is read.
    pub(crate) fn sentence(&self) -> String {
        let parts = [self.lead.as_str(), self.text.as_str()];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
    }
}

/// A list that wants room; lists stand in the order in which they matter.
pub(crate) struct Wanted<'a> {
    /// What it is called in templates.
    pub(crate) name: &'static str,
    /// Its heading.
    pub(crate) heading: Message,
    /// Whether it stands on its own under that, and does not go on below what comes before it.
    pub(crate) headed: bool,
    /// How its lines are set.
    pub(crate) form: Form,
    /// Its lines, the most important first.
    pub(crate) items: Vec<Item<'a>>,
    /// What belongs to it and is only counted.
    pub(crate) elsewhere: Vec<&'a Claim>,
    /// How many lines it is given before the next list is given any, and the most that it is given.
    pub(crate) most: (usize, usize),
}

/// What is given: how high, in tenths of a millimetre, and how many letters a line has.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Room {
    pub(crate) high: usize,
    pub(crate) letters: usize,
}

/// A list as far as it had room.
pub(crate) struct Shared<'a> {
    /// What was wanted.
    pub(crate) wanted: Wanted<'a>,
    /// How many of its lines are told.
    pub(crate) told: usize,
}

/// A line in words.
#[derive(Debug, Clone, Serialize)]
pub struct Line {
    /// What it begins with; may be empty.
    pub lead: String,
    /// What it says; may be empty.
    pub text: String,
}

/// A list in words.
#[derive(Debug, Clone, Serialize)]
pub struct Lines {
    /// What it is called in templates.
    pub name: Cow<'static, str>,
    /// Its heading; empty where it goes on below what comes before it.
    pub heading: String,
    /// How its lines are set.
    pub form: Form,
    /// Its lines.
    pub lines: Vec<Line>,
    /// How much more there is, and where; may be empty.
    pub more: String,
}

/// How much of each list there is room for.
pub(crate) fn share_out(wanted: Vec<Wanted<'_>>, room: Room) -> Vec<Shared<'_>> {
    let mut left = room.high;
    let mut shared: Vec<(Shared<'_>, bool)> =
        wanted.into_iter().map(|wanted| (Shared { wanted, told: 0 }, true)).collect();
    for (list, open) in &mut shared {
        while list.told < list.wanted.most.0 && list.give(open, &mut left, room) {}
    }
    loop {
        let mut given = false;
        for (list, open) in &mut shared {
            given |= list.give(open, &mut left, room);
        }
        if !given {
            return shared.into_iter().map(|(list, _)| list).collect();
        }
    }
}

impl<'a> Shared<'a> {
    /// Gives a list one more line, if it wants one and there is room; where there is none, it gets no more.
    fn give(&mut self, open: &mut bool, left: &mut usize, room: Room) -> bool {
        let wants = *open && self.told < self.wanted.most.1;
        let Some(item) = self.wanted.items.get(self.told).filter(|_| wants) else { return false };
        let heading = if self.told == 0 && self.wanted.headed { HEADING } else { 0 };
        let takes = heading + item.letters().div_ceil(room.letters.max(1)) * LINE + GAP;
        *open = takes <= *left;
        if *open {
            *left -= takes;
            self.told += 1;
        }
        *open
    }

    /// The lines that are told.
    pub(crate) fn told(&self) -> &[Item<'a>] {
        &self.wanted.items[..self.told]
    }

    /// What is not told, or not wholly.
    pub(crate) fn rest(&self) -> Vec<&'a Claim> {
        let cut = self.told().iter().filter(|item| !item.whole);
        let left = &self.wanted.items[self.told..];
        let items = cut.chain(left).flat_map(|item| item.claims.iter().copied());
        items.chain(self.wanted.elsewhere.iter().copied()).collect()
    }

    /// How many lines are left out, and how many of those told are cut.
    pub(crate) fn summed_up(&self) -> (usize, usize) {
        let left = self.wanted.items.len() - self.told + self.wanted.elsewhere.len();
        (left, self.told().iter().filter(|item| !item.whole).count())
    }

    /// The list in words.
    pub(crate) fn worded(&self, words: &Words) -> Lines {
        let line = |item: &Item<'_>| Line { lead: item.lead.clone(), text: item.text.clone() };
        let heading = if self.wanted.headed { words.heading(&self.wanted.heading) } else { String::new() };
        Lines {
            name: Cow::Borrowed(self.wanted.name),
            heading,
            form: self.wanted.form,
            lines: self.told().iter().map(line).collect(),
            more: more(words, self.summed_up()),
        }
    }
}

/// How much more there is in the build record.
fn more(words: &Words, summed_up: (usize, usize)) -> String {
    let message = match summed_up {
        (0, 0) => return String::new(),
        (left, 0) => says!("card-more", count = left),
        (0, cut) => says!("card-more-on", count = cut),
        (left, cut) => says!("card-more-both", count = left, cut = cut),
    };
    words::sentence(&words.say(&message))
}

/// So many whole sentences of a text as have room, else its beginning; and whether that is all of it.
pub(crate) fn fitted(text: &str, room: usize) -> (String, bool) {
    if wide(text) <= room {
        return (text.to_owned(), true);
    }
    let mut end = 0;
    for (at, _) in text.match_indices(". ") {
        if wide(&text[..=at]) <= room {
            end = at + 1;
        }
    }
    let letters = room * text.chars().count() / wide(text).max(1);
    (if end > 0 { text[..end].to_owned() } else { shortened(text, letters.max(2)) }, false)
}

/// How many letters of ordinary breadth a text takes: those of scripts that are drawn in squares take two, and so do
/// capitals beyond the one that a word begins with.
pub(crate) fn wide(text: &str) -> usize {
    let square = |letter: &char| {
        let asian =
            matches!(letter, '\u{1100}'..='\u{11ff}' | '\u{2e80}'..='\u{a4cf}' | '\u{ac00}'..='\u{d7ff}');
        let forms =
            matches!(letter, '\u{f900}'..='\u{faff}' | '\u{fe30}'..='\u{fe6f}' | '\u{ff00}'..='\u{ffef}');
        asian || forms || *letter >= '\u{1f000}'
    };
    let capitals = text.chars().filter(|letter| letter.is_uppercase()).count();
    let of_words = text.split_whitespace().count();
    text.chars().count() + text.chars().filter(square).count() + capitals.saturating_sub(of_words)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::claim::Basis;

    fn list<'a>(claims: &'a [Claim], most: (usize, usize)) -> Wanted<'a> {
        let item = |claim: &'a Claim| Item {
            claims: vec![claim],
            lead: String::new(),
            text: "x".repeat(50),
            whole: true,
        };
        Wanted {
            name: "list",
            heading: says!("heading-room"),
            headed: false,
            form: Form::Lines,
            items: claims.iter().map(item).collect(),
            elsewhere: Vec::new(),
            most,
        }
    }

    #[test]
    fn every_list_gets_what_it_must_have_before_any_gets_more() {
        let claims: Vec<Claim> =
            (0..9).map(|_| Claim::new(says!("room-sun"), Basis::table("climate", ""))).collect();
        let told = |lines: usize, most: (usize, usize)| -> Vec<usize> {
            let room = Room { high: lines * (LINE + GAP), letters: 60 };
            let lists = vec![list(&claims, most), list(&claims[..2], most), list(&[], most)];
            share_out(lists, room).iter().map(|list| list.told).collect()
        };
        assert_eq!(told(0, (1, 9)), [0, 0, 0]);
        assert_eq!(told(2, (1, 9)), [1, 1, 0]);
        assert_eq!(told(5, (1, 9)), [3, 2, 0]);
        assert_eq!(told(5, (4, 9)), [4, 1, 0]);
        assert_eq!(told(99, (1, 4)), [4, 2, 0]);
    }

    #[test]
    fn a_text_is_cut_at_a_sentence_where_one_fits() {
        assert_eq!(fitted("One. Two.", 9), ("One. Two.".to_owned(), true));
        assert_eq!(fitted("One. Two three.", 9), ("One.".to_owned(), false));
        assert_eq!(fitted("one two three four", 12), ("one two…".to_owned(), false));
        assert_eq!(wide("椅子の脚"), 8);
        assert_eq!(wide("The Top"), 7);
        assert_eq!(wide("WWWW"), 7);
    }
}
