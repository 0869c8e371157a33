# What a piece is, part by part. `lead` is what a line begins with and is found by. Only what American English says otherwise.

timber-not-known = wood not known
fact-told-by = { $said }
    .lead = Recognize it by
