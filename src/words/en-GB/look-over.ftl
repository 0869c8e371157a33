# What to look for on a piece at the seller's: a list for the workshop.

deed-ask = Ask
deed-look = Look
deed-open = Open
deed-turn-over = Turn over
deed-smell = Smell
deed-press = Press
deed-shake = Shake
deed-weigh = Lift
deed-measure = Measure

look-over-heard = the list is for: { $kinds }
look-over-heard-with = the list is for: { $kinds }, with: { $with }
look-over-near = no kind of piece is known by these words, perhaps you mean: { $kind }; the list is for what most pieces have, so name what else it has
look-over-unknown = no kind of piece is known by these words, so the list is for what most pieces have: name what else it has
look-over-found = { $what }: { $on } of { $pieces }
look-over-lesson = { $lesson } ({ $number })

look-over-title = At the seller’s: { $kind }
look-over-dangers = Danger signs first
look-over-dangers-means = A yes here may mean: walk away
look-over-means = A yes means
look-over-notes = Seen
look-over-before = Found before on such pieces
look-over-lessons = Learnt before
look-over-no-test = It says what to look for, and no more: nothing is tested by looking. What is unsafe is for local rules and licensed trades to decide.
look-over-price = What to pay at most: witnessmark consult quote KIND, with --task for each fault found, --earn for an hour and --sell for what it should bring.
look-over-left-out =
    { $count ->
        [one] One more line has no room here; the terminal shows it.
       *[other] { $count } more lines have no room here; the terminal shows them.
    }
look-over-day = Day, seller
look-over-asked = Asked
look-over-size = Width, depth, height
look-over-age = Age, as told
look-over-answer = Bought, left, or offered
