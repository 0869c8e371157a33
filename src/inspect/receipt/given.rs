//! The receipts of all pieces, in the order of their numbers.

use chrono::NaiveDate;

use crate::diag::{Code, Diagnostic, Place};
use crate::fields::Said;
use crate::inspect::Shop;
use crate::record::Receipt;

/// A receipt, with the record that it stands in.
pub(super) struct Given<'a> {
    record: String,
    receipt: &'a Said<Receipt>,
}

impl Given<'_> {
    pub(super) fn number(&self) -> u32 {
        self.receipt.number.value.0
    }

    pub(super) fn on(&self) -> NaiveDate {
        self.receipt.on.value
    }

    pub(super) fn path(&self) -> &str {
        &self.record
    }

    pub(super) fn told(&self, code: &'static Code, message: String) -> Diagnostic {
        Diagnostic::new(code, Place::at(&self.record, &self.receipt.number.span), message)
    }
}

/// The receipts of all pieces by their numbers; of one number the one that was given first.
pub(super) fn every_receipt<'a>(shop: &Shop<'a>) -> Vec<Given<'a>> {
    let read =
        shop.folder.pieces.iter().filter_map(|piece| Some((piece.record_path(), piece.record.as_ref()?)));
    let given = read.flat_map(|(path, record)| {
        record.receipts.for_archive().iter().map(move |receipt| Given { record: path.clone(), receipt })
    });
    let mut all: Vec<Given<'a>> = given.collect();
    all.sort_by(|one, other| {
        (one.number(), one.on(), &one.record).cmp(&(other.number(), other.on(), &other.record))
    });
    all
}

#[cfg(test)]
pub(super) mod testing {
    use crate::inspect::Rule;
    use crate::inspect::testing::sees;

    /// What a rule sees of two pieces, `table` and `chair`, with receipts of these numbers and days.
    pub(in crate::inspect::receipt) fn receipts(
        rule: &Rule,
        table: &[(u32, &str)],
        chair: &[(u32, &str)],
    ) -> String {
        let rows = |rows: &[(u32, &str)]| {
            let row = |(number, on): &(u32, &str)| {
                format!("{{ number = {number}, on = {on}, what = \"deposit\", amount = 5 }}")
            };
            format!("receipt = [{}]\n", rows.iter().map(row).collect::<Vec<_>>().join(", "))
        };
        let chair = rows(chair);
        let head = "title = \"Chair\"\nnumber = \"C-1\"\nkind = \"chair/side\"\n";
        sees(rule, &format!("{}#- pieces/chair/record.toml\n{head}{chair}", rows(table)))
    }
}
