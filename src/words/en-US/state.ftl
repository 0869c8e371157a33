# What was found, tested, left, and is not known. Only what American English says otherwise.

unknown-timber = The wood of these parts is not known: { $parts }
    .short = the wood of { $parts }
