//! A signing key that is no public key.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};
use crate::pack::PublicKey;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "unsound-signing-key",
    rank: Rank::Doubt,
    why: "Buyers check the signature of a pack with the key that the papers print, and with this one every pack would seem forged.",
    fix: "Write the public key that `witnessmark keys --show` prints: 56 characters that begin with RW.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let key = shop.folder.workshop.as_ref().and_then(|workshop| workshop.signing_key.as_ref());
    if let Some(key) = key.filter(|key| PublicKey::read(key).is_err()) {
        let told = shop.at(&CODE, &key.span, "this is no public key of minisign");
        seen.push(told.help("write the line of witnessmark.pub that begins with RW"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;
    use crate::pack;

    fn key(key: &str) -> String {
        sees(&RULE, &format!("#- workshop.toml\nname = \"Bench\"\nsigning-key = \"{key}\""))
    }

    #[test]
    fn the_public_key_and_nothing_else() {
        let (_, public) = pack::new_keys(None).unwrap();
        assert_eq!(key(&public.to_string()), "");
        let short = public.to_string().split_off(1);
        assert_eq!(
            key(&short),
            "workshop.toml 2: this is no public key of minisign [write the line of witnessmark.pub that begins with RW]"
        );
    }
}
