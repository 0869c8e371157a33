# What the public reads of a piece.

offer-for-sale = For sale
offer-reserved = Reserved
offer-reserved-until = Reserved until { $day }
offer-to-be-collected = Sold, to be collected
offer-sold = Sold
offer-in-the-workshop = In the workshop

# The rooms of the showroom
room-more = more for sale
room-in-the-workshop = in the workshop
room-sold = sold
room-count = { $count ->
    [one] 1 piece
   *[other] { $count } pieces
}
room-page = page { $number }
room-year-part = { $year }, page { $number }
room-undated = without a day
sold-in = sold in { $month }

# How a buyer asks
ask-by-mail = write to us about it
ask-by-mail-at-all = write to us
ask-by-telephone = ring us about it
ask-by-telephone-at-all = ring us
ask-by-form = ask us about it
ask-by-form-at-all = ask us

# How a piece is bought
buy-viewing = see it first
buy-payment = payment
buy-collection = collection
buy-delivery = delivery
buy-returns = returns

# What a buyer asks first
opening-made = made
opening-size = size
opening-size-open = open
opening-size-folded = folded
opening-weight = weight
opening-weight-said = { $mass }
opening-weight-at-least = at least { $mass }
opening-material = made of
opening-work = work

# What was done
done-undated = day not recorded
done-taken-off = taken off again

# Lost addresses
page-missing = This page is not here

# For posts
post-of = To post: { $title }
post-short = short
post-middle = a few lines
post-long = everything
post-more = and { $count ->
    [one] one more thing
   *[other] { $count } more things
} to know
post-about = Pictures in the usual shapes, and texts that leave out nothing that must be known.
post-texts = Texts
post-letters = { $count } letters
post-file = The texts as a file
post-links = Links
post-pictures = Pictures

# What stands on the showroom's pages
show-showroom = Showroom
show-furniture-of = { $workshop }: furniture for sale
show-feed-of = { $workshop }: new for sale
show-nav-for-sale = For sale
show-to-front = All pieces
show-how-to-buy = How to buy
buy-ask = Ask
show-nothing-for-sale = Nothing is for sale at present.
show-nothing-yet = No piece is shown yet.
show-be-told = Ask to be told of the next piece
show-pages-of = Pages: { $room }
show-no-photograph-yet = No photograph yet
show-page-missing-why = Its piece may have another number now, or was taken out of the showroom.
show-marked-on = Marked on the photograph:
show-mends-finding = Finding { $number }: { $seen }

# A piece's page
show-on-this-page = On this page
show-before-and-after = Before and after
show-before = Before
show-after = After
show-know-before = Know before you buy
show-know-owner = What its owner should know
show-the-story = The story
show-story-goes-on = The story goes on
show-what-was-done = What was done
show-done-more = And then
show-original-or-not = Original or not
show-not-on-photograph = not on this photograph
show-all-details = All details
show-all-details-count = Closed until you open them
show-findings = What was found
show-what-it-is = What it is
show-part-by-part = Part by part
show-fixings-and-glues = Fixings and glues
show-finishes-by-layer = Finishes, layer by layer
show-colours-matched = Colours that were matched
show-tests-made-or-not = Tests, made and not made
show-left-and-why = Left as it is, and why
show-decisions-and-reasons = Decisions, and their reasons
show-figures-reckoned = Weights, shares and other figures
show-what-is-not-known = What is not known
show-more-photographs = More photographs
show-elsewhere = Shown elsewhere
show-seal-of-record = The seal of its record
show-buy-it = Buy it
show-previous-piece = Previous:
show-next-piece = Next:
show-all-pieces = All pieces
show-open-fold = { $count ->
    [one] 1 entry
   *[other] { $count } entries
}
show-told-for = For
show-told-against = Against
show-told-because = Because
show-told-cause = Cause
show-way-taken = Chosen
show-to-undo = To undo
show-layers-today = Today, from the top down
show-steps-taken = Step by step
show-taken-off-before = Found, and taken off
show-taken-off-again = Laid, and taken off again
show-no-layer-today = No layer is recorded on it today.
show-day-unrecorded = Day not recorded
post-heading = To post
post-link = Pictures and texts for a post
