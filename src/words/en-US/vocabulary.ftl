# What the words of a record mean, in plain English. The part before the first hyphen is the key, the rest its word. Only what American English says otherwise.

done-stabilise = Stabilized
