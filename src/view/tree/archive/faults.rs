//! Faults and cures: what was found, what was done about it, and how that turned out.

use serde::Serialize;

use super::across::{Across, PieceLink};
use crate::archive::{ArchiveFault, Fault, FaultKind, Remedy};
use crate::claim::says;
use crate::derive::seen;
use crate::fields::Text;
use crate::words::{capital, sentence};

/// Up to how many faults all of them lie open.
const OPEN: usize = 24;

/// What was found, and what was done about it.
#[derive(Debug, Clone, Serialize)]
pub struct FaultsPage {
    /// How many kinds, and how many times, in words.
    pub count: String,
    /// Kind by kind, in the order of their words.
    pub kinds: Vec<FaultsOfKind>,
    /// Whether all of them lie open.
    pub open: bool,
}

/// All faults of one kind.
#[derive(Debug, Clone, Serialize)]
pub struct FaultsOfKind {
    /// What it is called.
    pub name: String,
    /// What became of them, with how many each, in words.
    pub became: String,
    /// How long mending one took; empty where that is not known.
    pub hours: String,
    /// How many there were.
    pub count: usize,
    /// Each of them, the one last worked on first.
    pub faults: Vec<FaultRow>,
}

/// One fault.
#[derive(Debug, Clone, Serialize)]
pub struct FaultRow {
    /// The piece.
    pub piece: PieceLink,
    /// Where it was, and how far it went.
    pub place: String,
    /// The words in which it was written, where they are others than its kind's; may be empty.
    pub seen: String,
    /// What was done about it, in the order of the days.
    pub remedies: Vec<RemedyRow>,
}

/// One thing that was done about a fault, or why nothing was.
#[derive(Debug, Clone, Serialize)]
pub struct RemedyRow {
    /// What was done.
    pub did: String,
    /// By what means; may be empty.
    pub means: String,
    /// How it turned out.
    pub ended: String,
    /// The same as a word: `held`, `partly`, `failed`, `left`; empty where it is not said.
    pub ended_word: String,
    /// How long it took; may be empty.
    pub hours: String,
}

pub(super) fn faults_page(across: &Across<'_>) -> Result<FaultsPage, ArchiveFault> {
    let kinds = across.asking.all_faults()?;
    let times: usize = kinds.iter().map(|kind| kind.faults.len()).sum();
    Ok(FaultsPage {
        count: across.say(says!("faults-count", kinds = kinds.len(), times = times)),
        kinds: kinds.iter().map(|kind| of_kind(across, kind)).collect(),
        open: times <= OPEN,
    })
}

fn of_kind(across: &Across<'_>, kind: &FaultKind) -> FaultsOfKind {
    let of = |is: &dyn Fn(&&Fault) -> bool| kind.faults.iter().filter(|fault| is(fault)).count();
    let ended = |word: &'static str| move |fault: &&Fault| fault.outcome.as_deref() == Some(word);
    let counts = [
        ("held", of(&ended("held"))),
        ("partly", of(&ended("partly"))),
        ("failed", of(&ended("failed"))),
        ("left", of(&|fault| fault.outcome.is_none() && !fault.left.is_empty())),
        ("unsaid", of(&|fault| fault.outcome.is_none() && fault.left.is_empty())),
    ];
    let became = counts.iter().filter(|(_, count)| *count > 0);
    let became = became.map(|(word, count)| {
        let word = across.words.word("upshot", word);
        across.say(says!("upshot-count", word = word, count = *count))
    });
    FaultsOfKind {
        name: capital(&worded(across, &kind.name)),
        became: across.words.series(&became.collect::<Vec<_>>()),
        hours: kind.hours.map_or(String::new(), |hours| {
            let (low, high) = hours.likely();
            let middle = across.hours(hours.median);
            match hours.count {
                1 => middle,
                _ => across.say(says!("spread-middle", middle = middle, range = across.span(low, high))),
            }
        }),
        count: kind.faults.len(),
        faults: kind.faults.iter().map(|fault| fault_row(across, fault, &kind.name)).collect(),
    }
}

/// What was seen, in the words of the table where the record has its id, and else as it was written.
fn worded(across: &Across<'_>, what: &str) -> String {
    seen(&Text(what.to_owned()), across.asking.trade)
}

fn fault_row(across: &Across<'_>, fault: &Fault, name: &str) -> FaultRow {
    let mut remedies: Vec<RemedyRow> =
        fault.remedies.iter().map(|remedy| remedy_row(across, remedy)).collect();
    remedies.extend(fault.left.iter().map(|left| RemedyRow {
        did: sentence(&across.words.word("why", &left.why)),
        means: left.effect.as_ref().map_or(String::new(), |effect| sentence(&across.said(effect))),
        ended: across.words.word("upshot", "left"),
        ended_word: "left".to_owned(),
        hours: String::new(),
    }));
    let place = [Some(fault.parts.as_str()), fault.extent.as_deref()].into_iter().flatten();
    let place: Vec<String> = place.filter(|text| !text.is_empty()).map(|text| across.said(text)).collect();
    FaultRow {
        piece: across.link(&fault.piece, &format!("finding-{}", fault.no)),
        place: capital(&across.words.series(&place)),
        seen: match worded(across, &fault.seen).eq_ignore_ascii_case(&worded(across, name)) {
            true => String::new(),
            false => worded(across, &fault.seen),
        },
        remedies,
    }
}

fn remedy_row(across: &Across<'_>, remedy: &Remedy) -> RemedyRow {
    let word = remedy.turned_out.clone().unwrap_or_default();
    let ended = if word.is_empty() { "unsaid" } else { word.as_str() };
    let hours = remedy.hours.map_or(String::new(), |hours| across.hours(hours));
    RemedyRow {
        did: sentence(&across.said(&remedy.did)),
        means: remedy.means.as_ref().map_or(String::new(), |means| sentence(&across.said(means))),
        ended: across.words.word("ended", ended),
        ended_word: word,
        hours: match remedy.shared && !hours.is_empty() {
            true => across.say(says!("hours-shared", hours = hours)),
            false => hours,
        },
    }
}
