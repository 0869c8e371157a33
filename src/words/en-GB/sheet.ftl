# What stands on the papers and their pages besides what is said of the piece: headings, columns, labels.

# Every paper
page-of = Page { $page } of { $pages }

# The papers' names: in a list of them, and what each is good for
sheet-disclosure = What you are buying
sheet-care = How to look after it
sheet-undo = How to undo it
sheet-build-record = Build record
sheet-papers = Papers
sheet-label = Label
label-title = Label: { $number }, { $piece }
label-code =
    { $number }
    { $piece }
    { $done }
    { $workshop }
    { $seal }
label-seal = Seal: { $seal }
label-not-sealed = Seal: not sealed
about-disclosure = What you would rather know before than after: what is original and what is not, what was done, what was left, what is not known.
about-care = What to do with the finish that is really on each surface, and what to beware of.
about-undo = For whoever restores it next: how everything that was added comes off again, and what does not.
about-build-record = The whole story with its photographs: found, decided, done, redone and left.
printed-all = All papers in one file (PDF)
printed-sheet = { $sheet } (PDF)
printed-label-drawing = Label as a drawing (SVG)
page-of-piece = { $sheet }: { $piece }
paper-of-piece = { $sheet }: { $piece } ({ $number })
