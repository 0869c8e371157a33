# The page of plain text in a buyer's pack.

pack-description = The papers of { $piece }, sealed when it was handed over.
pack-sealed = Sealed on { $day }, seal { $number }: { $seal }
pack-contents = WHAT IS IN HERE
pack-index = where to begin: open it in any browser, by a double-click
pack-page-disclosure = what is original and what is not, what was done, what was left, what is not known
pack-page-care = how to clean and use it, and what to beware of
pack-page-undo = how each repair can be undone, for the next restorer
pack-page-build-record = the whole story with its photographs
pack-all = all papers in one file, to print
pack-print-disclosure = “What you are buying”, to print and sign
pack-print-care = “How to look after it”, to print
pack-print-undo = “How to undo it”, to print
pack-print-build-record = the build record, to print
pack-calendar = when to look after it, for a calendar
pack-label = a label that stays with the piece
pack-label-drawing = the same label as a drawing
pack-record = the record that all papers are made from, as it was sealed
pack-record-json = the same record, for programs
pack-pictures = the photographs that the papers show
pack-check = HOW TO CHECK IT
pack-check-how =
    The folder above this one holds a list with a fingerprint (SHA-256) of each file, in the form of a
    BagIt bag (RFC 8493), which libraries and archives use. Whether every file is as it was sealed:
pack-check-seal = The seal on the papers is the beginning of the fingerprint of record.toml. In this folder,
pack-check-prints = prints
pack-signed =
    The list of lists is signed with the workshop's key in the form of minisign. `witnessmark verify` checks
    it against the public key, which the workshop gives you by another way than this pack.
pack-keep = KEEP IT
pack-keep-how =
    Keep the whole folder, or the zip, with the papers of the house. Where the workshop corrects the record
    later, its papers say what was changed since the seal; this pack stays what it is.
pack-address = The papers as they are today stand at
