# What was reckoned of the piece: how its wood moves, what its shelves carry, what it weighs, whether it tips. Only what American English says otherwise.

missing-timber = its wood is not known
shelf-own-judgement = { $load } by the workshop's own judgment. No load was reckoned: { $why }
    .lead = { $part }
no-load-across-grain = its grain runs across the span, where wood is weak and splits
