# What was reckoned of the piece: how its wood moves, what its shelves carry, what it weighs, whether it tips. Only what American English says otherwise.

missing-timber = its wood is not known
missing-other-timber = its wood, { $name }, is not in our table
missing-room-temperature = the room lies below 30 °F, where moisture in wood can no longer be reckoned
shelf-own-judgement = { $load } by the workshop's own judgment. No load was reckoned: { $why }
    .lead = { $part }
    .cell = { $load } by our own judgment, not reckoned
no-load-across-grain = its grain runs across the span, where wood is weak and splits
