# The date check. `lead` is what a line begins with.

heading-dating = the date check
heading-dated = what was dated
dating-nothing = Nothing old that is recorded of it can be dated by its material or kind
dating-no-years = No years of making are recorded, so nothing could be held against them
dating-checked = Of { $dated ->
    [one] 1 thing
   *[other] { $dated } things
 } that can be dated, { $later ->
    [0] { $early ->
        [0] none speaks against the years that are claimed
       *[other] { $early } would be unusually early for the years that are claimed
    }
   *[other] { $later } cannot be as old as the years that are claimed{ $early ->
        [0] { "" }
       *[other] , and { $early } would be unusually early
    }
 }
dating = { $years }. { $follows }
    .lead = { $what }
dated = { $what }
dated-part = { $part }: { $what }
dated-fixing = { $what } ({ $parts })
dated-found = { $what }, found on { $on }
dated-from = known from { $year }
dated-first = first known in { $year }, common from { $common }
year = { $year }
year-before = { $year } BC
dated-finished-anew = It is later than the piece, which was then finished anew: { $said }
dated-perhaps-anew = It would be an early example, so the piece may have been finished anew: { $said }
dated-later-than-said = This part, or the date, is later than said: { $said }
dated-early-example = This would be an early example; either that, or the part or the date is later than said: { $said }
dated-as-such = As such, it is from { $year } or later
dated-no-date = There is no date to hold it against
dated-narrows = It fits the years that are claimed; if it is original, nothing before { $year } is
dated-fits = It fits the years that are claimed
said-made = the piece is said to be from { $years }
said-since = it is said to be there since { $years }
said-nothing = nothing is said of its date
