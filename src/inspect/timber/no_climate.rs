//! Solid parts, and nothing said about the rooms they go to.

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Check, Rule, Shop};
use crate::record::{Construction, Record};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "no-climate",
    rank: Rank::Hint,
    why: "How far the wood moves follows from the buyer's air, and without a word a heated home of 35 to 65 % is assumed.",
    fix: "Add `[climate]` to `workshop.toml` with the humidity of your buyers' driest and dampest season.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let said = shop.folder.workshop.as_ref().is_none_or(|workshop| workshop.climate.is_some())
        || shop.folder.climate_unread;
    if said
        || !shop.folder.pieces.iter().filter_map(|piece| piece.record.as_ref()).any(|record| solid(record))
    {
        return;
    }
    let message = "nothing says how dry and how damp your buyers' rooms become";
    let help = "add `climate = { humidity-low = 35, humidity-high = 65 }`";
    seen.push(Diagnostic::new(&CODE, Place::file("workshop.toml"), message).help(help));
}

fn solid(record: &Record) -> bool {
    let is_solid = |build: Option<Construction>| build == Some(Construction::Solid);
    record.parts.iter().any(|part| is_solid(part.build.as_ref().map(|build| build.value)))
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn rooms(build: &str, climate: &str) -> String {
        let part =
            format!("part = [{{ id = \"a\", name = \"A\", standing = \"new\", build = \"{build}\" }}]");
        sees(&RULE, &format!("{part}\n#- workshop.toml\nname = \"Bench\"\n{climate}"))
    }

    #[test]
    fn solid_wood_asks_for_the_room() {
        assert_eq!(
            rooms("solid", ""),
            "workshop.toml: nothing says how dry and how damp your buyers' rooms become \
             [add `climate = { humidity-low = 35, humidity-high = 65 }`]"
        );
    }

    #[test]
    fn other_parts_and_a_said_room_do_not() {
        assert_eq!(rooms("panel", ""), "");
        assert_eq!(rooms("solid", "climate = { humidity-low = 30, humidity-high = 60 }"), "");
    }
}
