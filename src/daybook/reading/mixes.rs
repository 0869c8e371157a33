//! What was mixed with what, and in which ratio.

use rust_decimal::prelude::ToPrimitive;

use super::{Coats, LineReader};
use crate::daybook::hits::{Hit, Table};
use crate::daybook::line::Mood;
use crate::daybook::words::lists;
use crate::trade::TreatmentGroup;

impl LineReader<'_, '_> {
    /// What was mixed with what, and in which ratio: `BLO + turps 50/50`, `shellac thinned with meths 2:1`.
    pub(super) fn mix(&self, laid: &[(Hit, Option<Coats>)]) -> (Vec<(usize, String)>, Vec<u32>) {
        let none = (Vec::new(), Vec::new());
        let ratio = self.all().find_map(|at| {
            let one = self.line.tokens[at].number?.to_u32()?;
            let sign = self.line.tokens.get(at + 1)?;
            let two = self.line.tokens.get(at + 2)?.number?.to_u32()?;
            let glued = sign.is_any(&["/", ":"]) && sign.glued && self.line.tokens[at + 2].glued;
            let said = sign.is("to") && one <= 10 && two <= 10;
            let timed = self.durations.iter().any(|other| other.at.contains(&at));
            let sound = (1..=100).contains(&one) && (1..=100).contains(&two) && !timed;
            ((glued || said) && sound && self.told(at)).then_some((at, one, two))
        });
        let fraction = || {
            // `50/50` is one number where a fraction could be read, `1/1` never.
            self.all()
                .find(|at| {
                    self.line.has(
                        &(*at..(*at + 3).min(self.line.tokens.len())),
                        &["half and half", "fifty fifty", "equal parts"],
                    )
                })
                .map(|at| (at, 1, 1))
        };
        // `2 parts of one to 1 part of the other`
        let part = |at: &usize| {
            let said = ["part", "parts"].contains(&self.line.word(at + 1)) && self.told(*at);
            let number = self.line.tokens[*at].value().filter(|_| said)?.to_u32();
            number.filter(|number| (1..=100).contains(number)).map(|number| (*at, number))
        };
        let parts = || {
            let mut told = self.all().filter_map(|at| part(&at));
            Some((told.next()?, told.next()?)).map(|((at, one), (_, two))| (at, one, two))
        };
        let Some((at, one, two)) = ratio.or_else(parts).or_else(fraction).or_else(|| self.thinned()) else {
            return none;
        };
        let clause = self.line.sentence(at);
        let mut things: Vec<(usize, String)> = self
            .hits
            .iter()
            .filter(|hit| clause.contains(&hit.at.start) && hit.mood == Mood::Told)
            .filter(|hit| {
                let solvent = hit.table == Table::Treatment
                    && self.group(&hit.id).is_some_and(|group| {
                        matches!(group, TreatmentGroup::Solvent | TreatmentGroup::Cleaning)
                    });
                hit.table == Table::Finish || solvent
            })
            .map(|hit| (hit.at.start, hit.id.clone()))
            .collect();
        things.dedup_by_key(|(at, _)| *at);
        let water = self
            .line
            .find(&clause, &["water"])
            .filter(|at| !things.iter().any(|(start, _)| at.abs_diff(*start) < 2));
        things.extend(water.map(|at| (at, "water".to_owned())));
        things.sort_by_key(|(at, _)| *at);
        let first_laid =
            things.first().is_some_and(|(at, _)| laid.iter().any(|(hit, _)| hit.at.start == *at));
        if things.len() < 2 || !first_laid {
            return none;
        }
        things.truncate(2);
        let common = gcd(one, two);
        (things, vec![one / common, two / common])
    }
}

impl LineReader<'_, '_> {
    /// How far something was thinned in per cent: `thinned 10 %` is nine parts and one.
    fn thinned(&self) -> Option<(usize, u32, u32)> {
        self.all().find_map(|at| {
            let share = self.line.tokens[at].number?.to_u32().filter(|share| (1..=75).contains(share))?;
            let clause = self.line.clause(at);
            let thins = self.line.has(&clause, &lists().clean.thins);
            let more = self.line.has(&clause, &["than", "more", "less", "gone", "rh", "humidity"]);
            (self.line.word(at + 1) == "%" && thins && !more && self.told(at)).then_some((
                at,
                100 - share,
                share,
            ))
        })
    }
}

fn gcd(one: u32, other: u32) -> u32 {
    if other == 0 { one.max(1) } else { gcd(other, one % other) }
}
