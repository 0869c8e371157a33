# What stands on the papers and their pages besides what is said of the piece: headings, columns, labels. Only what American English says otherwise.

heading-colour = Color
days-in-calendar = The same days as a calendar, for a phone or computer
care-calendar = Care calendar, for a phone or computer: from when it may be used, and when to look after it
recipe-not-said = No step of the record says what made the color.
