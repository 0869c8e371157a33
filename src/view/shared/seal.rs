//! The seal as papers print it, and what changed since, in words.

use serde::Serialize;

use crate::claim::{Message, says};
use crate::view::context::PieceContext;
use crate::words::{capital, sentence};

/// The seal of a piece's papers.
#[derive(Debug, Clone, Serialize)]
pub struct SealView {
    /// Whether the record was ever sealed; papers of one that was not are drafts.
    pub sealed: bool,
    /// The last seal's number, counted from 1; 0 where there is none.
    pub number: u32,
    /// The day of the last seal; may be empty.
    pub day: String,
    /// The first 16 digits of its fingerprint, in groups of four; empty for the public and where there is none.
    pub short: String,
    /// The whole fingerprint, as `sha256sum` prints it; empty where `short` is.
    pub fingerprint: String,
    /// Whether the papers are sealed, when, and whether anything changed since, in a sentence or two.
    pub words: String,
    /// How to check it; empty where `short` is.
    pub check: String,
    /// The seal in a few letters, or that there is none, for the foot of a page.
    pub line: String,
    /// What changed since, a sentence each.
    pub amendments: Vec<String>,
    /// Why, a sentence with its day each.
    pub reasons: Vec<String>,
}

/// Who reads of a seal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SealFor {
    /// Everybody: no fingerprint, since the buyer's name, which older seals hold, could be guessed at with it.
    Public,
    /// The buyer and the archive.
    Buyer,
}

/// The seal of one piece.
pub fn seal_view(context: &PieceContext<'_>, reader: SealFor) -> SealView {
    let words = context.house.words();
    let amendments: Vec<String> =
        context.facts.amendments.iter().map(|amendment| sentence(&words.say(&amendment.message))).collect();
    let reasons = context.record.amendments.iter();
    let reasons: Vec<String> = reasons
        .map(|amended| {
            let because = words.said(&amended.because);
            sentence(&words.say(&says!("seal-reason", day = amended.on.value, because = capital(&because))))
        })
        .collect();
    let Some(seal) = context.piece.seals.last() else {
        return SealView {
            sealed: false,
            number: 0,
            day: String::new(),
            short: String::new(),
            fingerprint: String::new(),
            words: sentence(&words.say(&says!("seal-draft"))),
            check: String::new(),
            line: words.say(&says!("seal-line-draft")),
            amendments,
            reasons,
        };
    };
    let sealed = match context.piece.seals.as_slice() {
        [first, .., _] => says!("seal-on-again", day = seal.on, time = nth(seal.number), first = first.on),
        _ => says!("seal-on", day = seal.on),
    };
    let since = match amendments.len() {
        0 => sentence(&words.say(&says!("seal-unchanged"))),
        1 => words.say(&says!("seal-one-change")),
        changes => words.say(&says!("seal-changes", changes = changes)),
    };
    let short = seal.short();
    let line = words.say(&says!("seal-line", seal = short.as_str()));
    let (short, fingerprint, check) = match reader {
        SealFor::Public => Default::default(),
        SealFor::Buyer => (short, seal.digest.clone(), sentence(&words.say(&says!("seal-check")))),
    };
    SealView {
        sealed: true,
        number: seal.number,
        day: words.day(seal.on),
        short,
        fingerprint,
        words: format!("{} {since}", sentence(&words.say(&sealed))),
        check,
        line,
        amendments,
        reasons,
    }
}

/// Which time it is, in words.
fn nth(number: u32) -> Message {
    says!("nth", number = number, rest = number % 100, end = number % 10)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::derive::Workpiece;
    use crate::record::{self, Seal};
    use crate::source::Tree;
    use crate::trade::Trade;
    use crate::view::context::HouseStyle;

    const HEAD: &str = "title = \"Table\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n";

    /// The seal as two readers see it, of a record that was sealed some times and then changed.
    fn seen(was: &str, is: &str, times: u32) -> [SealView; 2] {
        let mut files = vec![
            ("workshop.toml".to_owned(), "name = \"W\"".to_owned()),
            ("pieces/table/record.toml".to_owned(), format!("{HEAD}{was}")),
        ];
        let tree = Tree::of(files.clone());
        let canon = record::today_for_buyer(&tree, &record::read(&tree).0.pieces[0]).unwrap();
        let mut seals: Vec<Seal> = Vec::new();
        for day in 1..=times {
            let on = chrono::NaiveDate::from_ymd_opt(2026, 5, day).unwrap();
            seals.push(Seal::of(canon.clone(), &BTreeMap::new(), &seals, on, on));
        }
        files[1].1 = format!("{HEAD}{is}");
        let sealed =
            seals.iter().map(|seal| (format!("pieces/table/sealed/{}.toml", seal.name()), seal.file()));
        files.extend(sealed);
        let (folder, problems) = record::read(&Tree::of(files));
        assert_eq!(problems, []);
        let trade = Trade::built_in();
        let workpiece = Workpiece::unopened(&folder, &folder.pieces[0], trade).unwrap();
        let house = HouseStyle::of(
            folder.workshop.as_ref().unwrap(),
            &crate::words::Language::british(),
            chrono::NaiveDate::default(),
        );
        let context = PieceContext::of(&folder, &workpiece, trade, &house);
        [SealFor::Buyer, SealFor::Public].map(|reader| seal_view(&context, reader))
    }

    #[test]
    fn a_draft_says_that_it_is_one() {
        let [buyer, _] = seen("", "", 0);
        assert!(!buyer.sealed && buyer.short.is_empty());
        assert_eq!(buyer.words, "A draft: this record has not been sealed, and may still change.");
    }

    #[test]
    fn a_seal_says_when_and_whether_anything_changed() {
        let [buyer, public] = seen("", "", 1);
        assert_eq!(buyer.words, "Sealed on 1 May 2026. The record has not been changed since.");
        assert_eq!((buyer.number, buyer.short.len(), buyer.fingerprint.len()), (1, 19, 64));
        assert!(public.sealed && public.short.is_empty() && public.fingerprint.is_empty());
        let [buyer, _] =
            seen("", "maker = \"unknown\"\namendment = [{ on = 2026-06-01, because = \"it was found\" }]", 2);
        assert_eq!(
            buyer.words,
            "Sealed on 2 May 2026, for the second time; the first seal is of 1 May 2026. \
             One thing in the record was changed since:"
        );
        assert_eq!(buyer.amendments, ["Maker: now said, “not known”."]);
        assert_eq!(buyer.reasons, ["1 June 2026: It was found."]);
    }

    #[test]
    fn times_are_counted_in_words() {
        let times = [2, 3, 4, 11, 12, 13, 21, 22, 23, 112]
            .map(|number| crate::words::Words::with_currency("GBP").say(&nth(number)));
        assert_eq!(
            times,
            ["second", "third", "4th", "11th", "12th", "13th", "21st", "22nd", "23rd", "112th"]
        );
    }
}
