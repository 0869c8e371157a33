//! Receipts of one piece, and the note that goes with it: a page to print, for the workshop and whoever paid.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::claim::{Message, says};
use crate::fields::Said;
use crate::record::{Payment, Receipt};
use crate::unit::Money;
use crate::view::context::PieceContext;
use crate::view::shared::fact::Fact;
use crate::words::capital;

/// The receipts of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct ReceiptsPage {
    /// The piece.
    pub piece: String,
    /// The workshop's number for it.
    pub number: String,
    /// Each receipt, in the order of their numbers.
    pub receipts: Vec<ReceiptSheet>,
    /// What goes with the piece when it is fetched; none before a handover is recorded.
    pub delivery: Option<DeliveryNote>,
    /// The workshop's own terms, line by line.
    pub terms: Vec<String>,
    /// The same as a paper to print, beside the page; empty where there is none.
    pub printed: &'static str,
}

/// One receipt.
#[derive(Debug, Clone, Serialize)]
pub struct ReceiptSheet {
    /// That it is a receipt, with its number.
    pub title: String,
    /// Day, from whom, for what, how much, and what is left to pay as far as the record tells the price.
    pub facts: Vec<Fact>,
}

/// A note to sign when the piece is fetched or brought.
#[derive(Debug, Clone, Serialize)]
pub struct DeliveryNote {
    /// The piece, the day, and to whom.
    pub facts: Vec<Fact>,
    /// What goes with it.
    pub given: Vec<String>,
}

/// The receipts of a piece; `None` where none was given.
pub fn receipts_page(context: &PieceContext<'_>) -> Option<ReceiptsPage> {
    let mut receipts: Vec<&Said<Receipt>> = context.record.receipts.for_archive().iter().collect();
    if receipts.is_empty() {
        return None;
    }
    receipts.sort_by_key(|receipt| receipt.number.value);
    Some(ReceiptsPage {
        piece: context.bare_title().to_owned(),
        number: context.number().to_owned(),
        receipts: receipts.iter().map(|receipt| sheet(context, receipt, &receipts)).collect(),
        delivery: delivery(context),
        terms: context.house.terms().to_vec(),
        printed: "",
    })
}

fn sheet(context: &PieceContext<'_>, receipt: &Receipt, all: &[&Said<Receipt>]) -> ReceiptSheet {
    let words = context.house.words();
    let fact = |label: Message, text: String| Fact { label: words.say(&label), text };
    let mut facts = vec![fact(says!("receipt-day"), words.day(receipt.on.value))];
    // What was paid for a sale that fell away is no part of this one, and was paid by somebody else.
    let since = context.piece.last_return();
    let of_this_sale = |one: &Receipt| since.is_none_or(|since| one.on.value > since);
    let holds = of_this_sale(receipt);
    if holds {
        facts.extend(buyer(context).map(|to| fact(says!("receipt-from"), to)));
    }
    let piece = says!("receipt-piece-of", piece = context.bare_title(), number = context.number());
    facts.push(fact(says!("receipt-piece"), words.say(&piece)));
    let what = Message::word("payment", receipt.what.value.word());
    facts.push(fact(says!("receipt-what"), capital(&words.say(&what))));
    let amount = words.money(receipt.amount.value);
    let amount = match &receipt.by {
        Some(by) => words.say(&says!("receipt-amount-by", amount = amount, by = words.said(by))),
        None => amount,
    };
    facts.push(fact(says!("receipt-amount"), amount));
    if let Some(price) = price(context).filter(|_| holds) {
        let until = all.iter().filter(|one| of_this_sale(one) && one.number.value <= receipt.number.value);
        let paid: Decimal = until.map(|one| signed(one)).sum();
        facts.push(fact(says!("receipt-price"), words.money(price)));
        facts.push(fact(says!("receipt-paid"), words.money(Money(paid))));
        let left = price.0 - paid;
        facts.push(match left.is_sign_negative() && !left.is_zero() {
            true => fact(says!("receipt-above"), words.money(Money(-left))),
            false => fact(says!("receipt-left"), words.money(Money(left))),
        });
    }
    let title = says!("receipt-title", number = receipt.number.value.0.to_string());
    ReceiptSheet { title: words.say(&title), facts }
}

/// What a receipt adds to what was paid.
fn signed(receipt: &Receipt) -> Decimal {
    match receipt.what.value {
        Payment::Refund => -receipt.amount.value.0,
        Payment::Deposit | Payment::Balance | Payment::Full => receipt.amount.value.0,
    }
}

/// Who bought it, or has it kept.
fn buyer(context: &PieceContext<'_>) -> Option<String> {
    let sold = context.piece.handover().and_then(|handover| handover.to.for_buyer().as_ref());
    let kept = context.record.reserved.as_ref().and_then(|kept| kept.to.for_archive().as_ref());
    sold.or(kept).map(|to| context.house.words().said(to))
}

/// What it goes for, or is asked for while it is kept.
fn price(context: &PieceContext<'_>) -> Option<Money> {
    let sold = context.piece.handover().and_then(|handover| handover.price.for_archive().as_ref());
    sold.or(context.record.asking.as_ref()).map(|price| price.value)
}

fn delivery(context: &PieceContext<'_>) -> Option<DeliveryNote> {
    let handover = context.piece.handover()?;
    let words = context.house.words();
    let fact = |label: Message, text: String| Fact { label: words.say(&label), text };
    let piece = says!("receipt-piece-of", piece = context.bare_title(), number = context.number());
    let mut facts = vec![fact(says!("receipt-piece"), words.say(&piece))];
    facts.extend(buyer(context).map(|to| fact(says!("delivery-to"), to)));
    facts.extend(context.piece.handed_over().map(|on| fact(says!("receipt-day"), words.day(on))));
    Some(DeliveryNote {
        facts,
        given: handover.given.iter().map(|given| capital(&words.said(given))).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    const SOLD: &str = "handover = { on = 2026-05-20, to = \"Ada\", price = 240, given = [\"a key\"] }\n\
        receipt = [\n\
          { number = 8, on = 2026-05-20, what = \"balance\", amount = 190, by = \"cash\" },\n\
          { number = 7, on = 2026-05-02, what = \"deposit\", amount = 50 },\n\
        ]\n";

    fn told(record: &str) -> Vec<String> {
        let page =
            shown(record, "terms = \"Yours when it is paid.\\n\\nFetched within 14 days.\"\n", receipts_page);
        let sheets = page.into_iter().flat_map(|page| page.receipts);
        sheets
            .map(|sheet| {
                let facts = sheet.facts.iter().map(|fact| format!("{}: {}", fact.label, fact.text));
                format!("{} | {}", sheet.title, facts.collect::<Vec<_>>().join(" | "))
            })
            .collect()
    }

    /// By hand: 50 of 240 leave 190, and 190 more leave nothing.
    #[test]
    fn deposit_and_balance_by_hand() {
        assert_eq!(
            told(SOLD),
            [
                "Receipt 7 | Day: 2 May 2026 | From: Ada | For: Table (T-1) | Payment: Deposit | Amount: £50.00 | \
                 Price: £240.00 | Paid so far: £50.00 | Left to pay: £190.00",
                "Receipt 8 | Day: 20 May 2026 | From: Ada | For: Table (T-1) | Payment: Balance | Amount: £190.00, cash | \
                 Price: £240.00 | Paid so far: £240.00 | Left to pay: £0.00",
            ]
        );
    }

    #[test]
    fn a_price_that_nobody_told_is_not_reckoned_with_and_too_much_is_said() {
        let unpriced = SOLD.replace(", price = 240", "");
        assert!(told(&unpriced).iter().all(|line| !line.contains("Left to pay") && !line.contains("Price")));
        let above = told(&SOLD.replace("190", "200"));
        assert!(above[1].ends_with("Paid so far: £250.00 | Paid above the price: £10.00"), "{above:?}");
        let refunded = told(&SOLD.replace("\"balance\"", "\"refund\"").replace("190", "50"));
        assert!(refunded[1].ends_with("Paid so far: £0.00 | Left to pay: £240.00"), "{refunded:?}");
    }

    #[test]
    fn what_was_paid_before_it_came_back_is_no_part_of_the_next_sale() {
        let back = format!("{SOLD}after = [{{ on = 2026-06-01, what = \"return\" }}]\n");
        let again = back.replace("on = 2026-05-20, to = \"Ada\"", "on = 2026-07-01, to = \"Bea\"").replace(
            "receipt = [",
            "receipt = [{ number = 9, on = 2026-07-01, what = \"full\", amount = 240 },",
        );
        let told = told(&again);
        assert!(!told[0].contains("Bea") && !told[0].contains("Left"), "{told:?}");
        assert!(told[2].contains("From: Bea") && told[2].ends_with("Left to pay: £0.00"), "{told:?}");
    }

    #[test]
    fn the_note_names_what_goes_with_it_and_terms_are_the_workshops_own() {
        let terms = "terms = \"Yours when it is paid.\\n\\nFetched within 14 days.\"\n";
        let page = shown(SOLD, terms, receipts_page).expect("there are receipts");
        assert_eq!(page.terms, ["Yours when it is paid.", "Fetched within 14 days."]);
        assert_eq!(page.delivery.expect("it was handed over").given, ["A key"]);
        assert!(shown("", "", receipts_page).is_none());
    }
}
