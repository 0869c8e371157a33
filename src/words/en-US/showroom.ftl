# What the public reads of a piece. Only what American English says otherwise.

show-colours-matched = Colors that were matched
