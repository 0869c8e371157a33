//! What holds of the claims of any record: each rests on lines that are there, and none goes beyond them.

use std::ops::Range;
use std::sync::Arc;

use proptest::prelude::*;

use super::Claims;
use crate::claim::{Basis, Claim, Message, Value};
use crate::derive::Workpiece;
use crate::record::{self, Piece, Rest, Standing};
use crate::source::Tree;
use crate::trade::Trade;

/// Ids of the parts that rows may name; a record has some of them.
const PARTS: [&str; 4] = ["top", "leg", "shelf", "knob"];

const STANDINGS: [&str; 8] =
    ["original", "old-repair", "later", "salvaged", "new", "removed", "missing", "unknown"];

/// A record row by row: the head with the file's own keys, then each row of a list as a block of its own.
#[derive(Debug, Clone)]
struct Rows(Vec<String>);

impl Rows {
    fn text(&self) -> String {
        self.0.concat()
    }

    /// Where the row of this place stands in the text.
    fn range(&self, place: usize) -> Range<usize> {
        let start = self.0[..place].iter().map(String::len).sum();
        start..start + self.0[place].len()
    }

    /// The same without one row.
    fn without(&self, place: usize) -> Rows {
        let mut rows = self.0.clone();
        rows.remove(place);
        Rows(rows)
    }

    fn workpiece(&self) -> Workpiece {
        let tree = Tree::of([
            ("workshop.toml", "name = \"Bench\"\ncurrency = \"GBP\"\n".to_owned()),
            ("pieces/one/record.toml", self.text()),
        ]);
        let (folder, problems) = record::read(&tree);
        assert_eq!(problems, [], "the record can be read:\n{}", self.text());
        let piece: &Arc<Piece> = &folder.pieces[0];
        Workpiece::unopened(&folder, piece, Trade::built_in()).expect("it was read")
    }
}

/// A message without the numbers of findings that it names.
fn unnumbered(message: &Message) -> Message {
    let mut message = message.clone();
    message.values.retain(|(key, _)| *key != "numbers");
    for (_, value) in &mut message.values {
        if let Value::Sentences(said) = value {
            said.iter_mut().for_each(|one| *one = unnumbered(one));
        }
    }
    message
}

/// Every claim with the name of its list. Those that count rows are told apart, since every row changes them.
fn told(claims: &Claims) -> Vec<(&'static str, &Claim)> {
    let lists: [(&'static str, &[Claim]); 9] = [
        ("identity", &claims.identity),
        ("level", &claims.level),
        ("parts", &claims.parts),
        ("patches", &claims.patches),
        ("fixings", &claims.fixings),
        ("tests made", &claims.tests_made),
        ("tests not made", &claims.tests_not_made),
        ("undone", &claims.undone),
        ("standing faults", &claims.standing_faults),
    ];
    let found = claims.found.iter().flat_map(|found| [("seen", &found.seen), ("became", &found.became)]);
    let cuts =
        claims.cuts.iter().flat_map(|cut| cut.layers.iter().chain(&cut.lost)).map(|claim| ("cuts", claim));
    let log = claims.log.iter().map(|entry| ("log", &entry.claim));
    let undo = [("undo", &claims.undo.ways), ("lost", &claims.undo.lost), ("beware", &claims.undo.beware)];
    let dated = claims.dated.iter().map(|claim| ("dated", claim));
    let undo = undo.into_iter().flat_map(|(name, list)| list.iter().map(move |claim| (name, claim)));
    let others = found.chain(cuts).chain(log).chain(undo).chain(dated);
    let lists = lists.into_iter().flat_map(|(name, list)| list.iter().map(move |claim| (name, claim)));
    lists.chain(others).collect()
}

fn spans(claim: &Claim) -> impl Iterator<Item = (usize, usize)> + '_ {
    claim.basis().iter().filter_map(|basis| match basis {
        Basis::Said { place, .. } if place.path.ends_with("record.toml") => place.span,
        _ => None,
    })
}

fn part() -> impl Strategy<Value = String> {
    let keys = prop::sample::subsequence(
        vec![
            "timber = \"european-oak\"",
            "timber = \"unknown\"",
            "how-known = \"tool marks\"",
            "instead-of = \"a lost one\"",
            "count = 16",
            "size = { length = 600, width = 300, thick = 18 }",
            "note = \"worn\"",
        ],
        0..5,
    );
    (prop::sample::select(&STANDINGS[..]), keys).prop_map(|(standing, keys)| {
        // A key stands once.
        let keys: Vec<&str> = match keys.iter().filter(|key| key.starts_with("timber")).count() {
            2 => keys.into_iter().filter(|key| !key.contains("unknown")).collect(),
            _ => keys,
        };
        format!("standing = \"{standing}\"\n{}\n", keys.join("\n"))
    })
}

fn parts() -> impl Strategy<Value = Vec<String>> {
    (prop::sample::subsequence(&PARTS[..], 0..=4), prop::collection::vec(part(), 4)).prop_map(
        |(ids, keys)| {
            let row =
                |(id, keys): (&str, String)| format!("[[part]]\nid = \"{id}\"\nname = \"The {id}\"\n{keys}");
            ids.into_iter().zip(keys).map(row).collect()
        },
    )
}

fn rows() -> impl Strategy<Value = Rows> {
    let id = || prop::sample::select(&PARTS[..]);
    let standing = || prop::sample::select(&STANDINGS[..]);
    let patch = (id(), standing(), prop::sample::select(vec!["", "area = 20\n", "area = 5000\n"])).prop_map(
        |(part, standing, size)| {
            format!("[[patch]]\npart = \"{part}\"\nwhat = \"filled hole\"\nstanding = \"{standing}\"\n{size}")
        },
    );
    let fixing = (
        id(),
        id(),
        standing(),
        prop::sample::select(vec!["screw-slotted", "screw-crosshead", "hide-glue"]),
    )
        .prop_map(|(one, other, standing, kind)| {
            format!(
                "[[fixing]]\nkind = \"{kind}\"\npart = [\"{one}\", \"{other}\"]\nstanding = \"{standing}\"\n"
            )
        });
    let finding = (id(), 0..3_u32).prop_map(|(part, number)| {
        format!(
            "[[finding]]\nid = \"f{number}\"\npart = \"{part}\"\nseen = \"split\"\nseverity = \"minor\"\n"
        )
    });
    let work = (id(), 0..3_u32, prop::sample::select(vec!["", "turned-out = \"failed\"\n"])).prop_map(
        |(part, finding, outcome)| {
            format!("[[work]]\npart = \"{part}\"\ndid = \"closed it\"\nmends = \"f{finding}\"\n{outcome}")
        },
    );
    let undone = (0..3_u32).prop_map(|finding| {
        format!("[[undone]]\nwhat = \"a gap\"\nleaves = \"f{finding}\"\nwhy = \"no-part\"\n")
    });
    let test = (id(), prop::sample::select(vec!["negative", "positive", "not-tested"])).prop_map(
        |(part, result)| format!("[[test]]\nof = \"lead\"\npart = \"{part}\"\nresult = \"{result}\"\n"),
    );
    let step = prop::sample::select(vec![
        "{ remove = \"all\" }",
        "{ remove = \"shellac\" }",
        "{ apply = \"shellac\", coats = 2 }",
        "{ apply = \"paste-wax\", only = \"top\" }",
        "{ test = \"drop of spirit\", result = \"softened\" }",
    ]);
    let surface = (
        id(),
        prop::sample::select(vec!["", "found = \"old-finish\"\n", "found = \"shellac\"\n"]),
        prop::collection::vec(step, 0..4),
    )
        .prop_map(|(part, found, steps)| {
            format!("[[surface]]\nparts = \"{part}\"\n{found}steps = [{}]\n", steps.join(", "))
        });
    let head = prop::sample::select(vec![
        "",
        "rest = \"original\"\n",
        "rest = \"not-looked-at\"\n",
        "weighs = 0.5\nmade = \"1920/1930\"\n",
    ])
    .prop_map(|keys| format!("title = \"Table\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n{keys}"));
    let others = prop::collection::vec(
        prop_oneof![
            patch.boxed(),
            fixing.boxed(),
            finding.boxed(),
            work.boxed(),
            undone.boxed(),
            test.boxed(),
            surface.boxed()
        ],
        0..7,
    );
    (head, parts(), others).prop_map(|(head, parts, others)| {
        let mut rows = vec![head];
        rows.extend(parts);
        rows.extend(others);
        Rows(rows)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn every_claim_rests_on_a_line_that_says_it(rows in rows()) {
        let text = rows.text();
        let piece = rows.workpiece();
        let claims = &piece.claims;
        let of_the_whole = [
            &claims.verdict, &claims.unknown, &claims.shares, &claims.stability, &claims.dating, &claims.movement,
            &claims.shelves, &claims.lifting, &claims.done, &claims.know,
        ];
        let of_the_whole = of_the_whole.into_iter().flatten().map(|claim| ("", claim));
        let all = told(claims).into_iter().chain(of_the_whole);
        for (list, claim) in all {
            prop_assert!(!claim.basis().is_empty());
            for basis in claim.basis() {
                match basis {
                    Basis::Said { place, key } if place.path.ends_with("record.toml") => {
                        let (start, end) = place.span.expect("a record has places");
                        prop_assert!(start < end && end <= text.len(), "{list}: {basis:?}");
                        let line = text[..start].rfind('\n').map_or(0, |line| line + 1);
                        let last = key.rsplit('.').next().unwrap_or_default();
                        prop_assert!(text[line..end].contains(last), "{list}: {basis:?} at {:?}", &text[line..end]);
                    }
                    Basis::Unsaid { key, .. } => {
                        let says = |line: &str| line.starts_with(&format!("{key} =")) || line == format!("[[{key}]]");
                        let head = rows.0[0].lines();
                        let lists = text.lines().filter(|line| line.starts_with('['));
                        prop_assert!(!head.chain(lists).any(says), "{list}: {basis:?}\n{text}");
                    }
                    _ => {}
                }
            }
        }
    }

    #[test]
    fn what_is_gone_is_no_fault_of_today(rows in rows()) {
        let piece = rows.workpiece();
        let standing = |id: &str| {
            let part = piece.record.parts.iter().find(|part| part.id.0 == id);
            part.map(|part| part.standing.value)
        };
        let findings = || piece.record.findings.iter();
        for claim in &piece.claims.standing_faults {
            let of = |(start, end): (usize, usize)| findings().find(|finding| finding.span == (start..end));
            let finding = spans(claim).find_map(of).expect("it rests on its finding");
            prop_assert!(finding.part.iter().any(|id| standing(&id.0) != Some(Standing::Removed)));
        }
        let present = |id: &str| !matches!(standing(id), None | Some(Standing::Removed | Standing::Missing));
        let patches = piece.record.patches.iter().filter(|patch| present(&patch.part.0)).count();
        prop_assert_eq!(piece.claims.patches.len(), patches);
    }

    #[test]
    fn no_share_of_the_whole_without_the_whole(rows in rows()) {
        let piece = rows.workpiece();
        let found = &piece.facts.originality;
        let rest = piece.record.rest.as_ref().map(|rest| rest.value);
        for share in &found.shares {
            prop_assert!(share.count_percent.is_none() || rest == Some(Rest::Original));
            prop_assert!(share.mass_percent.is_none() || found.is_weighed());
            prop_assert!(share.count_percent != Some(100) || share.count == found.parts);
        }
        let says_share = |claim: &Claim| format!("{:?}", claim.message).contains("share-at");
        prop_assert!(rest == Some(Rest::Original) || !piece.claims.shares.iter().any(says_share));
        let weighs = |claim: &Claim| claim.message.name.starts_with("weight-") && claim.message.name != "weight-not-given";
        prop_assert_eq!(piece.claims.lifting.iter().any(weighs), piece.facts.lifting.is_ok());
        prop_assert!(found.covered.is_none() || rest == Some(Rest::Original) || piece.record.weighs.is_some());
        for facts in &piece.photographs.patches {
            prop_assert!(facts.share.is_none_or(|share| (0.0..=1.0).contains(&share)));
        }
    }

    /// A row that a claim does not rest on may go, and the claim stays as it is; but findings are counted anew.
    #[test]
    fn a_claim_changes_only_with_what_it_rests_on(rows in rows(), place in any::<prop::sample::Index>()) {
        prop_assume!(rows.0.len() > 1);
        let place = 1 + place.index(rows.0.len() - 1);
        let gone = rows.range(place);
        let (before, after) = (rows.workpiece(), rows.without(place).workpiece());
        let after = told(&after.claims);
        for (list, claim) in told(&before.claims) {
            let rests = spans(claim).any(|(start, end)| start < gone.end && gone.start < end);
            let stays = || after.iter().any(|(name, other)| *name == list && unnumbered(&other.message) == unnumbered(&claim.message));
            prop_assert!(rests || stays(), "without\n{}\nthis changes: {list}: {claim:#?}", rows.0[place]);
        }
    }
}
