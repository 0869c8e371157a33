//! Money.

use rust_decimal::Decimal;

use super::{LineReader, decimal};
use crate::daybook::amounts::{Purpose, amounts};
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;

impl LineReader<'_, '_> {
    pub(super) fn money(&mut self) {
        let amounts = amounts(&self.line, &self.durations);
        let litre = amounts.iter().find(|one| one.purpose == Purpose::Each).map(|one| one.amount);
        let sum = self.line.clone_words();
        for one in &amounts {
            if one.mood >= Mood::Planned && one.purpose != Purpose::Asking {
                continue;
            }
            let said = self.words_of(self.line.clause(one.at.start));
            let amount = decimal(one.amount);
            let what = if one.what.is_empty() { sum.clone() } else { one.what.clone() };
            match one.purpose {
                Purpose::Cost => {
                    let mut proposal =
                        Proposal::new("cost", &said).with("what", what.as_str()).with("amount", amount);
                    if one.what.is_empty() {
                        proposal = proposal.asking("what for?");
                    }
                    self.out.push(proposal);
                }
                Purpose::Paid => self.out.push(Proposal::new("found", &said).with("paid", amount)),
                Purpose::Asking => self.out.push(Proposal::new("", &said).with("asking", amount)),
                Purpose::Price => {
                    let mut proposal = Proposal::new("handover", &said).with("price", amount);
                    proposal = proposal.asking("on which day did it go?");
                    self.out.push(proposal);
                }
                Purpose::Each | Purpose::Total | Purpose::Income => {}
            }
        }
        // So much of a tin whose price by the litre is told.
        let share = self.all().find_map(|at| {
            let number = self.line.tokens[at].number?;
            match self.line.word(at + 1) {
                "ml" => Some(number / Decimal::from(1000)),
                "l" | "litre" | "litres" if self.line.word(at.saturating_sub(1)) != "a" => Some(number),
                _ => None,
            }
        });
        if let (Some(price), Some(share)) = (litre, share) {
            let what = self.words_of(0..1.min(self.line.tokens.len()));
            let amount = decimal((price * share).round_dp(2).normalize());
            let text = self.line.text.clone();
            let proposal = Proposal::new("cost", &text).with("what", what).with("amount", amount);
            self.out.push(proposal.asking("how much of the tin was it?"));
        }
    }
}
